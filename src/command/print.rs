//! Schedules, lessons and clashes as a teacher reads them in a terminal.

use super::output::{day_and_month, short_date};
use crate::plan::LessonKind;
use crate::schedule::{Lesson, Proof, Schedule, WayOut, Wish};
use crate::words::count;
use chrono::{Datelike, Days};
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
pub fn clash(wishes: &[Wish], options: &[WayOut]) -> String {
    let mut out = "It cannot all fit. These wishes clash:\n".to_owned();
    for wish in wishes {
        writeln!(out, "  - {}", wish.what).ok();
    }
    out.push_str("\nWays out, the one that gives up least first:\n");
    out + &ways(options)
}

/// Ways out, numbered, each with the lines of the plan that would do it.
pub fn ways(options: &[WayOut]) -> String {
    let mut out = String::new();
    for (index, option) in options.iter().enumerate() {
        let cost = match option.cost {
            Some(cost) if option.fits => format!("it then fits, at a cost of {cost}"),
            _ => "it still does not fit".to_owned(),
        };
        writeln!(out, "  {}. {}: {cost}", index + 1, option.what).ok();
        for change in &option.change {
            let line = if change.value.is_null() {
                format!("take away `{}`", change.key)
            } else {
                format!("{} = {}", change.key, change.value)
            };
            writeln!(out, "       {line}").ok();
        }
    }
    out
}
