//! `plan`: makes the schedule where there is none, shows it where there is one.

use super::args::{Format, Plan as Request};
use super::class::{Class, made_from, solved};
use super::output::{Failure, data, json, note, say};
use super::pack::refused;
use super::print;
use crate::folder::{Access, Change, Event, Life, ScheduleFile, save};
use crate::paper::{self, Overview};
use crate::plan::Plan;
use crate::report::{Message, Report};
use crate::schedule::{self, Lesson, Outcome, Schedule};
use chrono::NaiveDate;
use serde_json::{Value, json};

/// Runs the command.
pub fn run(request: &Request, format: Format, today: NaiveDate) -> Result<(), Failure> {
    let class = Class::open(&request.dir, Access::Change, today);
    // A folder that can only be read still shows its schedule.
    let class = match class {
        Err(_) if !request.afresh => Class::open(&request.dir, Access::Look, today)?,
        other => other?,
    };
    if request.afresh {
        refuse_to_start_over(&class, request.even_so)?;
    }
    if class.state.schedule.is_none() || request.afresh {
        let made = make(&class, format)?;
        show(&class, &made, format)?;
        on_a_page(&class, &made, request)
    } else {
        class.notice_a_changed_plan();
        let made = class.schedule()?;
        warn_of_an_edited_schedule(&class, made);
        show(&class, made, format)?;
        on_a_page(&class, made, request)
    }
}

/// The term as a page, where it is asked for.
fn on_a_page(class: &Class, made: &Schedule, request: &Request) -> Result<(), Failure> {
    let Some(file) = &request.pdf else { return Ok(()) };
    let taught = made.lessons.iter().filter(|l| class.state.taught(l)).map(|l| l.number);
    let overview = Overview {
        plan: &class.plan,
        calendar: &class.calendar,
        lessons: &made.lessons,
        taught: &taught.collect::<Vec<_>>(),
        today: class.state.today,
    };
    save(file, &paper::term(&overview).map_err(|refusal| refused(&refusal))?)?;
    note(&format!("written to {}", file.display()));
    Ok(())
}

/// A first schedule can be judged again at any time: where its plan is as it was and it no longer
/// passes, someone has edited it. (What a change moved cannot be told afterwards.)
fn warn_of_an_edited_schedule(class: &Class, made: &Schedule) {
    let first = !made.cost.terms.contains_key("moved") && class.state.lost_periods().is_empty();
    if !first || class.plan_has_changed() {
        return warn_of_unknown_skills(class, made);
    }
    let faults = schedule::faults(&class.plan, &class.calendar, None, made);
    if let Some(fault) = faults.first() {
        let text = format!("schedule.toml was edited and no longer holds together: {fault}");
        let hint = "`rungwise reschedule DIR --accept` mends it";
        say(&Report::of(Message::warning(text).hint(hint)));
    }
}

/// A lesson to come of a skill that the ladder does not hold.
fn warn_of_unknown_skills(class: &Class, made: &Schedule) {
    let unknown = |l: &&Lesson| {
        let known = |skill: &String| class.plan.ladder.skills.contains_key(skill);
        l.date >= class.state.today && !l.skill.as_ref().is_none_or(known)
    };
    if let Some(lesson) = made.lessons.iter().find(unknown) {
        let skill = lesson.skill.as_deref().unwrap_or_default();
        let text = format!("lesson {} teaches `{skill}`, which the ladder lacks", lesson.number);
        let hint = "`rungwise reschedule DIR --accept` makes a schedule that fits the ladder";
        say(&Report::of(Message::warning(text).hint(hint)));
    }
}

fn refuse_to_start_over(class: &Class, even_so: bool) -> Result<(), Failure> {
    let begun = class.state.lessons().into_iter().find(|l| class.state.life(l) != Life::Planned);
    match begun {
        Some(lesson) if !even_so => {
            let text = format!("lesson {} is already printed or past", lesson.number);
            let hint = "`reschedule` keeps what has happened; `--even-so` starts over all the same";
            Err(Message::mistake(text).hint(hint).into())
        }
        _ => Ok(()),
    }
}

/// Makes and writes the schedule; gives it back.
pub fn make(class: &Class, format: Format) -> Result<Schedule, Failure> {
    match solved(schedule::solve(&class.plan, &class.calendar))? {
        Outcome::Fits(mut made) => {
            let next = number_from(class, &mut made);
            let file = ScheduleFile {
                made_from: made_from(&class.plan),
                next_number: next,
                schedule: (*made).clone(),
            };
            let mut change = Change::by("plan");
            change.file("schedule.toml", file.to_text());
            change.events.push(Event::Planned);
            change.make(&class.folder, &class.state.journal, class.state.today)?;
            Ok(*made)
        }
        Outcome::Clash { clash, options } => {
            match format {
                Format::Json => json(&json!({
                    "class": class.plan.class.name, "proof": "infeasible", "clash": clash, "options": options,
                }))?,
                Format::Text => data(&print::clash(&clash, &options, &class.plan_text)),
            }
            Err(Failure::Said)
        }
    }
}

/// Numbers start at 1; after `--afresh` at the next free one, for a number is a name for life.
fn number_from(class: &Class, made: &mut Schedule) -> u32 {
    let first = class.state.schedule.as_ref().map_or(1, |file| file.next_number);
    for (lesson, number) in made.lessons.iter_mut().zip(first..) {
        lesson.number = number;
    }
    first + u32::try_from(made.lessons.len()).unwrap_or(0)
}

fn show(class: &Class, made: &Schedule, format: Format) -> Result<(), Failure> {
    match format {
        Format::Json => json(&to_json(class, &class.plan, made)),
        Format::Text => {
            let mark = |lesson: &Lesson| match class.state.life(lesson) {
                Life::Planned => "",
                Life::Printed => "  (printed)",
                Life::Past => "  (past)",
                Life::Marked => "  (marked)",
            };
            let title = |skill: &str| class.title(skill).to_owned();
            data(&print::schedule(&class.plan.class.name, made, title, mark));
            if made.spare_periods > 0 {
                let spare = crate::words::count(made.spare_periods as usize, "catch-up");
                note(&format!("{spare} more than asked for"));
            }
            Ok(())
        }
    }
}

/// The schedule in the shape other programs rely on.
pub fn to_json(class: &Class, plan: &Plan, made: &Schedule) -> Value {
    let whys = schedule::reasons(plan, made);
    let lessons: Vec<Value> = made
        .lessons
        .iter()
        .zip(whys)
        .map(|(lesson, why)| {
            let mut value = json!(lesson);
            let skill = lesson.skill.as_ref().and_then(|s| plan.ladder.skills.get(s));
            value["outcomes"] = json!(skill.map(|s| s.outcomes.clone()).unwrap_or_default());
            value["why"] = json!(why);
            value["life"] = json!(class.state.life(lesson));
            value
        })
        .collect();
    json!({
        "class": plan.class.name,
        "periods": made.periods,
        "lessons": lessons,
        "left_out": made.left_out,
        "cost": made.cost,
        "proof": made.proof,
        "bound": made.bound,
        "spare_periods": made.spare_periods,
    })
}
