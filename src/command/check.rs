//! `check`: everything that is wrong or odd in a class's files, at once.

use super::args::{ClassDir, Format};
use super::class::Class;
use super::output::{Failure, data, json, say, weekday_and_date};
use crate::calendar::Period;
use crate::curriculum;
use crate::exercise::makers;
use crate::folder::{self, Access, Folder, State};
use crate::paper;
use crate::plan::{LessonKind, Plan, TestWish};
use crate::report::{Message, Report, Severity};
use crate::words::{and, count, join};
use chrono::NaiveDate;
use serde_json::json;

/// Runs the command.
pub fn run(request: &ClassDir, format: Format, today: NaiveDate) -> Result<(), Failure> {
    let folder = Folder::open(&request.dir, Access::Look)?;
    let loaded = match folder::load(&folder) {
        Ok(loaded) => loaded,
        Err(report) if format == Format::Json => {
            json(&messages(&report))?;
            return Err(report.into());
        }
        Err(report) => return Err(report.into()),
    };
    let state = State::read(&folder, today)?;
    let calendar = super::class::calendar(&loaded.plan, &state);
    let mut report = loaded.report;
    let class = Class { folder, plan_text: loaded.text, plan: loaded.plan, calendar, state };
    for message in missing_glyphs(&class) {
        report.say(message);
    }
    let own = super::own_sums::remarks(&class);
    let methods = super::methods::remarks(&class);
    let days = days_without_lessons(&class);
    for message in gaps(&class).into_iter().chain(days).chain(methods).chain(own) {
        report.say(message);
    }
    if format == Format::Json {
        json(&messages(&report))?;
    }
    if report.has_mistakes() {
        return Err(report.into());
    }
    say(&report);
    class.notice_a_changed_plan();
    if format == Format::Text {
        data(&summary(&class));
    }
    Ok(())
}

fn messages(report: &Report) -> serde_json::Value {
    let severity = |s: Severity| match s {
        Severity::Mistake => "mistake",
        Severity::Warning => "warning",
        Severity::Notice => "notice",
    };
    let list: Vec<_> = report
        .messages()
        .iter()
        .map(|m| {
            json!({
                "severity": severity(m.severity),
                "text": m.text,
                "file": m.place.as_ref().map(|p| p.source.name.clone()),
                "line": m.place.as_ref().map(crate::report::Place::line),
                "hint": m.hint,
            })
        })
        .collect();
    json!({ "messages": list })
}

fn summary(class: &Class) -> String {
    let plan = &class.plan;
    format!(
        "{}: the plan is sound. {} in {}, {} of the ladder `{}`.",
        plan.class.name,
        count(class.calendar.periods.len(), "period"),
        count(class.calendar.school_days.len(), "school day"),
        count(plan.ladder.skills.len(), "skill"),
        plan.ladder.name,
    )
}

/// Warnings about a ladder of the teacher's own: skills of the unit without exercises, outcomes of
/// the class's frameworks that no skill serves although the ladder names others of the same.
fn gaps(class: &Class) -> Vec<Message> {
    let Plan { ladder, unit, frameworks, .. } = &class.plan;
    let mut found = Vec::new();
    let without: Vec<&str> = ladder
        .unit(&unit.teach, &unit.secure)
        .into_iter()
        .filter(|id| !ladder.skills.get(*id).is_some_and(|s| makers::known(&s.maker)))
        .collect();
    if !without.is_empty() {
        let text = format!("no exercises can be made for {}", and(&without));
        let hint =
            "they are planned all the same; `maker = \"…\"` in the ladder names exercises of ours";
        found.push(Message::warning(text).hint(hint));
    }
    if curriculum::ours(&ladder.name).is_some() {
        return found;
    }
    for framework in frameworks {
        let unserved: Vec<&str> =
            framework.unserved(ladder).into_iter().map(|o| o.code.as_str()).collect();
        if !unserved.is_empty() && unserved.len() < framework.outcomes.len() {
            let text =
                format!("no skill of the ladder serves {} of {}", and(&unserved), framework.title);
            let hint = "add the code to the `outcomes` of the skill that serves it, if one does";
            found.push(Message::warning(text).hint(hint));
        }
    }
    found
}

/// Warnings about a test or a fixed lesson on a day, or at a time, that has no lesson.
fn days_without_lessons(class: &Class) -> Vec<Message> {
    let unit = &class.plan.unit;
    let test = match unit.test {
        TestWish::On(date) => Some(("`unit.test`", date, None)),
        TestWish::Last | TestWish::None => None,
    };
    let fixed = unit.fixed.iter().map(|f| match f.kind {
        LessonKind::UnitTest => ("the test in `unit.fixed`", f.date, f.starts),
        _ => ("a lesson in `unit.fixed`", f.date, f.starts),
    });
    let periods = &class.calendar.periods;
    let mut found = Vec::new();
    for (what, date, starts) in test.into_iter().chain(fixed) {
        let here = |p: &&Period| p.date == date && starts.is_none_or(|s| s == p.starts);
        if periods.iter().any(|p| here(&p)) {
            continue;
        }
        let that_day: Vec<String> =
            periods.iter().filter(|p| p.date == date).map(|p| p.starts.to_string()).collect();
        let day = weekday_and_date(date);
        let (text, hint) = match starts {
            Some(time) if !that_day.is_empty() => (
                format!("{what}: no period of {day} begins at {time}"),
                format!("that day's begin at {}", join(&that_day, "and")),
            ),
            _ => (
                format!("{what}: there is no lesson on {day}"),
                format!("the nearest days with one: {}", join(&nearest(periods, date), "and")),
            ),
        };
        found.push(Message::warning(text).hint(hint));
    }
    found
}

/// The last day with a lesson before a date and the first after it.
fn nearest(periods: &[Period], date: NaiveDate) -> Vec<String> {
    let before = periods.iter().rev().map(|p| p.date).find(|d| *d < date);
    let after = periods.iter().map(|p| p.date).find(|d| *d > date);
    before.into_iter().chain(after).map(weekday_and_date).collect()
}

/// Mistakes for names with letters that the font lacks.
pub fn missing_glyphs(class: &Class) -> Vec<Message> {
    let plan = &class.plan;
    let mut texts =
        vec![("class.name", plan.class.name.as_str()), ("class.school", &plan.class.school)];
    texts.extend(plan.resources.iter().map(|r| ("resource.text", r.text.as_str())));
    texts
        .into_iter()
        .filter_map(|(key, text)| {
            let missing = paper::glyphs_missing(text);
            if missing.is_empty() {
                return None;
            }
            let letters: Vec<String> =
                missing.iter().map(|c| format!("{c} (U+{:04X})", u32::from(*c))).collect();
            let text = format!("`{key}`, \"{text}\": the font has no {}", letters.join(", "));
            Some(
                Message::mistake(text)
                    .hint("write it with letters the font has; nothing was printed"),
            )
        })
        .collect()
}
