//! `why`: why a lesson is where it is, and what became of the plan's wishes.

use super::args::{Format, Why as Request};
use super::class::{Class, solved};
use super::output::{Failure, data, json};
use crate::folder::Access;
use crate::report::Message;
use crate::schedule::{self, Standing, Told, Why};
use chrono::NaiveDate;
use serde_json::json;

/// Runs the command.
pub fn run(request: &Request, format: Format, today: NaiveDate) -> Result<(), Failure> {
    let class = Class::open(&request.dir, Access::Look, today)?;
    class.notice_a_changed_plan();
    class.schedule()?;
    let standing = class.state.standing();
    // A term that has not begun is free to be solved afresh.
    let begun = !(standing.taught.is_empty() && standing.printed.is_empty());
    let standing = begun.then_some(&standing);
    match (request.lesson, &request.skill) {
        (Some(number), _) => {
            let number = class.lesson(number)?.number;
            match (format, why(&class, standing, number)?) {
                (Format::Json, why) => json(&why),
                (Format::Text, why) => {
                    data(&why.map(|why| why.text).unwrap_or_default());
                    Ok(())
                }
            }
        }
        (None, Some(skill)) => of_skill(&class, standing, skill, format),
        (None, None) => {
            let wishes = wishes(&class, standing)?;
            match format {
                Format::Json => json(&json!({ "class": class.plan.class.name, "wishes": wishes })),
                Format::Text => {
                    data(&lines(&wishes));
                    Ok(())
                }
            }
        }
    }
}

fn why(class: &Class, standing: Option<&Standing>, number: u32) -> Result<Option<Why>, Failure> {
    let made = class.schedule()?;
    solved(schedule::why(&class.plan, &class.calendar, standing, made, number))
}

fn wishes(class: &Class, standing: Option<&Standing>) -> Result<Vec<Told>, Failure> {
    let made = class.schedule()?;
    solved(schedule::wishes(&class.plan, &class.calendar, standing, made))
}

fn lines(wishes: &[Told]) -> String {
    wishes.iter().map(|told| format!("{}: {}\n", told.key, told.text)).collect()
}

/// Why a skill's first lesson is where it is, or why it has none; and the wishes about it.
fn of_skill(
    class: &Class,
    standing: Option<&Standing>,
    skill: &str,
    format: Format,
) -> Result<(), Failure> {
    let ladder = &class.plan.ladder;
    if !ladder.skills.contains_key(skill) {
        let message = Message::mistake(format!("the ladder has no skill `{skill}`"));
        return Err(message.meant(skill, ladder.skills.keys().map(String::as_str)).into());
    }
    let taught = |l: &&schedule::Lesson| l.skill.as_deref() == Some(skill);
    let first = class.schedule()?.lessons.iter().find(taught).map(|l| l.number);
    let why = match first {
        Some(number) => why(class, standing, number)?,
        None => None,
    };
    let mut told = wishes(class, standing)?;
    told.retain(|t| t.skill.as_deref() == Some(skill));
    let mut text = why.as_ref().map_or(String::new(), |why| format!("{}\n", why.text));
    if first.is_none() && told.is_empty() {
        text = format!("{}\n", outside(class, skill));
    }
    for told in &told {
        text.push_str(&format!("{}\n", told.text));
    }
    match format {
        Format::Json => json(&json!({ "skill": skill, "why": why, "wishes": told, "text": text })),
        Format::Text => {
            data(&text);
            Ok(())
        }
    }
}

/// Why a skill of the ladder is not among those of the unit.
fn outside(class: &Class, skill: &str) -> String {
    let ladder = &class.plan.ladder;
    let known = |s: &&String| *s == skill || ladder.all_needs(s).contains(&skill);
    match class.plan.unit.secure.iter().find(known) {
        Some(secure) if secure == skill => {
            format!("“{}” is not taught: `unit.secure` says it is known.", class.title(skill))
        }
        Some(secure) => format!(
            "“{}” is not taught: `unit.secure` says “{}” is known, which needs it.",
            class.title(skill),
            class.title(secure)
        ),
        None => format!(
            "“{}” is not in this unit: it is not in `unit.teach`, and nothing there needs it.",
            class.title(skill)
        ),
    }
}
