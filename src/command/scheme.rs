//! `report scheme`: the term for the head, week by week the skills and the outcomes they serve.

use super::args::{Format, Report as Request};
use super::class::Class;
use super::output::{Failure, data, json, note};
use super::pack::refused;
use super::print::kind_title;
use crate::folder::save;
use crate::paper::{self, Outcomes, Scheme, Taught, Week};
use crate::plan::LessonKind;
use crate::schedule::Lesson;
use crate::words::count;
use chrono::{Datelike, NaiveDate};
use std::fmt::Write;

/// Runs the command.
pub fn run(class: &Class, request: &Request, format: Format) -> Result<(), Failure> {
    let scheme = scheme(class);
    if let Some(file) = &request.pdf {
        save(file, &paper::scheme(&scheme).map_err(|refusal| refused(&refusal))?)?;
        note(&format!("written to {}", file.display()));
        return Ok(());
    }
    match format {
        Format::Json => json(&scheme),
        Format::Text => {
            data(&to_text(&scheme));
            Ok(())
        }
    }
}

fn scheme(class: &Class) -> Scheme {
    let plan = &class.plan;
    let lessons = class.state.lessons();
    let (starts, ends) = (plan.term.starts, plan.term.ends);
    let day = |d: NaiveDate| d.format("%-d\u{A0}%B").to_string();
    Scheme {
        class: plan.class.name.clone(),
        school: plan.class.school.clone(),
        paper: plan.paper,
        unit: plan.ladder.name.replace('-', " "),
        term: format!("{} to {}\u{A0}{}", day(starts), day(ends), ends.year()),
        lessons: lessons.len(),
        weeks: weeks(class, &lessons),
        frameworks: outcomes(class, &lessons),
    }
}

fn weeks(class: &Class, lessons: &[Lesson]) -> Vec<Week> {
    let term = &class.plan.term;
    let mut weeks: Vec<Week> = Vec::new();
    let mut shown: Option<NaiveDate> = None;
    let mut number = 0;
    for day in term.days() {
        let days = term.week_of(day);
        let Some(first) = days.iter().copied().find(|d| term.is_school_weekday(*d)) else {
            continue;
        };
        if shown == Some(first) {
            continue;
        }
        shown = Some(first);
        let held: Vec<&Lesson> = lessons.iter().filter(|l| days.contains(&l.date)).collect();
        number += usize::from(!held.is_empty());
        weeks.push(Week {
            begins: first.format("%-d\u{A0}%b").to_string(),
            number: (!held.is_empty()).then_some(number),
            taught: taught(class, &held),
            note: closed(class, &days, held.is_empty()),
        });
    }
    weeks
}

/// The lessons of a week, those on one skill together.
fn taught(class: &Class, held: &[&Lesson]) -> Vec<Taught> {
    let mut all: Vec<Taught> = Vec::new();
    for lesson in held {
        let what = match (&lesson.skill, lesson.kind) {
            (Some(skill), LessonKind::Teach) => class.title(skill).to_owned(),
            (_, kind) => kind_title(kind).to_owned(),
        };
        if let Some(same) = all.iter_mut().find(|t| t.what == what) {
            same.lessons.push(lesson.number);
            continue;
        }
        let skill = lesson.skill.as_deref().filter(|_| lesson.kind == LessonKind::Teach);
        all.push(Taught {
            what,
            skill: skill.is_some(),
            lessons: vec![lesson.number],
            outcomes: skill.map(|skill| served(class, skill)).unwrap_or_default(),
        });
    }
    all
}

/// The codes of the outcomes that a skill serves, in the frameworks' order.
fn served(class: &Class, skill: &str) -> Vec<String> {
    let Some(skill) = class.plan.ladder.skills.get(skill) else { return Vec::new() };
    let of = |f: &'_ crate::curriculum::Framework| -> Vec<String> {
        skill.outcomes.iter().filter_map(|o| f.meant_by(o)).map(|o| o.code.clone()).collect()
    };
    class.plan.frameworks.iter().flat_map(|f| of(f)).collect()
}

/// Why days of a week are closed, each reason once.
fn closed(class: &Class, days: &[NaiveDate], no_lessons: bool) -> String {
    let mut reasons: Vec<&str> = Vec::new();
    for (day, why) in &class.calendar.closed {
        if days.contains(day) && !why.is_empty() && !reasons.contains(&why.as_str()) {
            reasons.push(why);
        }
    }
    let said = reasons.join(", ");
    match (no_lessons, said.is_empty()) {
        (true, true) => "no lessons".to_owned(),
        (true, false) => format!("{said}: no lessons"),
        (false, true) => String::new(),
        (false, false) => format!("closed for {said}"),
    }
}

/// What the outcomes that lessons serve ask.
fn outcomes(class: &Class, lessons: &[Lesson]) -> Vec<Outcomes> {
    let skills: Vec<&str> = lessons.iter().filter_map(|l| l.skill.as_deref()).collect();
    let of = |framework: &crate::curriculum::Framework| {
        let served = |code: &str| {
            framework.served_by(code, &class.plan.ladder).iter().any(|s| skills.contains(s))
        };
        let outcomes = framework.outcomes.values().filter(|o| served(&o.code));
        Outcomes {
            title: framework.title.clone(),
            outcomes: outcomes
                .map(|o| (o.code.clone(), class.plan.style.in_figures(&o.asks)))
                .collect(),
        }
    };
    let all = class.plan.frameworks.iter().map(|f| of(f));
    all.filter(|framework| !framework.outcomes.is_empty()).collect()
}

fn to_text(scheme: &Scheme) -> String {
    let lessons = count(scheme.lessons, "lesson");
    let mut out = format!("{}: scheme of work, {lessons}, {}\n", scheme.class, scheme.term);
    for week in &scheme.weeks {
        let number = week.number.map_or(String::new(), |n| format!("week {n}, "));
        writeln!(out, "\n{number}{}", week.begins).ok();
        for taught in &week.taught {
            let numbers: Vec<String> = taught.lessons.iter().map(ToString::to_string).collect();
            let word = if numbers.len() == 1 { "lesson" } else { "lessons" };
            writeln!(out, "  {}: {word} {}", taught.what, numbers.join(", ")).ok();
            if !taught.outcomes.is_empty() {
                writeln!(out, "      {}", taught.outcomes.join(", ")).ok();
            }
        }
        if !week.note.is_empty() {
            writeln!(out, "  {}", week.note).ok();
        }
    }
    for framework in &scheme.frameworks {
        writeln!(out, "\n{}", framework.title).ok();
        for (code, asks) in &framework.outcomes {
            writeln!(out, "  {code}  {asks}").ok();
        }
    }
    out.push_str("\nThe published curriculum and the school's own scheme are the authority.\n");
    out
}
