//! Schedules, lessons and clashes as a teacher reads them in a terminal.

use super::output::{day_and_month, short_date};
use crate::plan::{LessonKind, edit};
use crate::schedule::{Change, Lesson, Proof, Schedule, WayOut, Wish};
use crate::words::count;
use chrono::{Datelike, Days};
use serde_json::Value;
use std::fmt::Write;

/// What a lesson is, in a few words: "Long multiplication, part 2", "Catch-up".
pub fn lesson_title(lesson: &Lesson, title: impl Fn(&str) -> String) -> String {
    match (lesson.kind, &lesson.skill) {
        (LessonKind::Teach, Some(skill)) => match (lesson.part, lesson.of) {
            (Some(part), Some(of)) if of > 1 => format!("{}, part {part}", title(skill)),
            _ => title(skill),
        },
        (kind, _) => kind_title(kind).to_owned(),
    }
}

/// The name of a kind of lesson.
pub fn kind_title(kind: LessonKind) -> &'static str {
    match kind {
        LessonKind::Teach => "Lesson",
        LessonKind::CatchUp => "Catch-up",
        LessonKind::Revision => "Mixed revision",
        LessonKind::UnitTest => "Unit test",
    }
}

/// The whole schedule, week by week.
pub fn schedule(
    class: &str,
    schedule: &Schedule,
    title: impl Fn(&str) -> String,
    mark: impl Fn(&Lesson) -> &'static str,
) -> String {
    let mut out = String::new();
    writeln!(out, "{}", headline(class, schedule)).ok();
    let mut week = None;
    for lesson in &schedule.lessons {
        let monday = lesson.date - Days::new(lesson.date.weekday().num_days_from_monday().into());
        if week != Some(monday) {
            week = Some(monday);
            writeln!(out, "\nWeek of {}", day_and_month(monday)).ok();
        }
        let what = lesson_title(lesson, &title);
        let date = short_date(lesson.date);
        writeln!(
            out,
            "{:>4}  {date:<10}  {}  {what}{}",
            lesson.number,
            lesson.starts,
            mark(lesson)
        )
        .ok();
    }
    for left in &schedule.left_out {
        writeln!(out, "\nNot taught: {}. {}", title(&left.skill), left.because).ok();
    }
    out
}

/// "Class 5 Kingfisher: 47 lessons from 11 January to 2 April 2027, none better (cost 45)."
pub fn headline(class: &str, schedule: &Schedule) -> String {
    let (Some(first), Some(last)) = (schedule.lessons.first(), schedule.lessons.last()) else {
        return format!("{class}: no lessons");
    };
    let lessons = count(schedule.lessons.len(), "lesson");
    let (from, to) = (day_and_month(first.date), last.date.format("%-d %B %Y"));
    format!("{class}: {lessons} from {from} to {to}; {}.", judgement(schedule))
}

/// How good the schedule is known to be.
pub fn judgement(schedule: &Schedule) -> String {
    let total = schedule.cost.total;
    match schedule.proof {
        Proof::Optimal => format!("no schedule is better (cost {total})"),
        Proof::Bound => {
            let gap = total - schedule.bound;
            format!("at most {gap} dearer than the best there can be (cost {total})")
        }
    }
}

/// Wishes that clash, and ways out.
pub fn clash(wishes: &[Wish], options: &[WayOut], plan_text: &str) -> String {
    let mut out = "It cannot all fit. These wishes clash:\n".to_owned();
    for wish in wishes {
        writeln!(out, "  - {}", wish.what).ok();
    }
    out.push_str("\nWays out, the one that gives up least first:\n");
    out + &ways(options, plan_text)
}

/// Ways out, numbered, each with the lines of plan.toml that would do it.
pub fn ways(options: &[WayOut], plan_text: &str) -> String {
    let mut out = String::new();
    for (index, option) in options.iter().enumerate() {
        let cost = match option.cost {
            Some(cost) if option.fits => format!("it then fits, at a cost of {cost}"),
            _ => "it still does not fit".to_owned(),
        };
        writeln!(out, "  {}. {}: {cost}", index + 1, option.what).ok();
        for change in &option.change {
            writeln!(out, "       {}", to_type(change, plan_text)).ok();
        }
    }
    out
}

/// What to type for one change: the line, and under which heading of plan.toml it belongs.
fn to_type(change: &Change, plan_text: &str) -> String {
    let plain = || match &change.value {
        Value::Null => format!("take away `{}`", change.key),
        value => format!("{} = {value}", change.key),
    };
    let Ok(new) = edit::set(plan_text, &change.key, &change.value) else { return plain() };
    let (old, new): (Vec<&str>, Vec<&str>) = (plan_text.lines().collect(), new.lines().collect());
    let same = old.iter().zip(&new).take_while(|(a, b)| a == b).count();
    let most = old.len().min(new.len()) - same;
    let tail = old.iter().rev().zip(new.iter().rev()).take(most).take_while(|(a, b)| a == b);
    let tail = tail.count();
    let typed: Vec<&str> =
        new[same..new.len() - tail].iter().map(|l| l.trim()).filter(|l| !l.is_empty()).collect();
    let gone: Vec<&str> =
        old[same..old.len() - tail].iter().map(|l| l.trim()).filter(|l| !l.is_empty()).collect();
    let heading = |lines: &[&str]| {
        let header = lines.iter().rfind(|l| l.trim_start().starts_with('['));
        header.map_or(String::new(), |h| format!("under {}: ", h.trim()))
    };
    match (typed.as_slice(), gone.as_slice()) {
        ([], []) => plain(),
        ([], gone) => format!("{}take away {}", heading(&old[..same]), gone.join(" ")),
        ([header, rest @ ..], _) if header.starts_with('[') => {
            format!("under {header}: {}", rest.join(" "))
        }
        (typed, _) => format!("{}{}", heading(&new[..same]), typed.join(" ")),
    }
}
