//! `reschedule`: shows what a changed day or plan does, and carries it through with `--accept`.

use super::args::{Format, Reschedule as Request};
use super::changes::Changes;
use super::class::{Class, calendar, made_from, solved};
use super::one_more::lessons_of;
use super::output::{Failure, data, json, note, say, short_date, weekday_and_date};
use super::print;
use crate::calendar::{Calendar, Clock, Period};
use crate::folder::{self, Access, Change, Event, ScheduleFile};
use crate::lesson::SkillFinding;
use crate::plan::{Plan, edit};
use crate::report::{Message, Report};
use crate::schedule::{self, Lesson, Outcome, Schedule, WayOut};
use chrono::NaiveDate;
use serde_json::json;

/// Runs the command.
pub fn run(request: &Request, format: Format, today: NaiveDate) -> Result<(), Failure> {
    let access = if request.accept { Access::Change } else { Access::Look };
    let mut class = Class::open(&request.dir, access, today)?;
    class.schedule()?;
    let events = lose(&mut class, &request.lost)?;
    let edited = edit_plan(&class, request)?;
    let (plan, text) = match &edited {
        Some((plan, text)) => (plan, Some(text)),
        None => (&class.plan, None),
    };
    let plan_text = text.unwrap_or(&class.plan_text);
    let calendar = calendar(plan, &class.state);
    notice_empty_wishes(&class, request, &calendar, today);
    let standing = class.state.standing();
    match solved(schedule::solve_again(plan, &calendar, &standing))? {
        Outcome::Clash { clash, options } => {
            match format {
                Format::Json => json(&json!({
                    "class": plan.class.name, "proof": "infeasible", "clash": clash, "options": options,
                }))?,
                Format::Text => data(&print::clash(&clash, &options, plan_text)),
            }
            Err(Failure::Said)
        }
        Outcome::Fits(new) => {
            refuse_without_more(&class, &request.more, &new)?;
            let comparison = schedule::compare(&standing.old, &new.lessons);
            let options = solved(schedule::alternatives(plan, &calendar, Some(&standing), &new))?;
            let risk = schedule::risk(plan, &standing, &new.lessons);
            let changes =
                Changes { class: &class, plan, new: &new, comparison: &comparison, risk: &risk };
            show(&changes, &options, plan_text, format)?;
            if request.accept {
                let added = added_lessons(request, &comparison.added, &new.lessons);
                let shown = shown_by_marks(&class, &added, &new.lessons)?;
                let add = |&lesson: &u32| Event::AddedToTeachAgain { lesson };
                let events = events.into_iter().chain(added.iter().map(add)).collect();
                accept(&class, plan, text, *new, events)?;
                note("carried through; `rungwise undo` takes it back");
                let dir = request.dir.display();
                for lesson in added {
                    let prints = format!("`rungwise pack {dir} --lesson {lesson}` prints it");
                    let what = if shown.contains(&lesson) {
                        "teaches again what marks show"
                    } else {
                        "is one part more: no marks show what to teach again"
                    };
                    note(&format!("lesson {lesson} {what}: {prints}"));
                }
            } else if format == Format::Text {
                note("nothing was changed; `--accept` carries it through");
            }
            Ok(())
        }
    }
}

/// A schedule without the lesson that is asked for is none that anybody wants.
fn refuse_without_more(class: &Class, more: &[String], new: &Schedule) -> Result<(), Failure> {
    let old = class.state.lessons();
    let missing = |skill: &&String| lessons_of(&new.lessons, skill) <= lessons_of(&old, skill);
    let Some(skill) = more.iter().find(missing) else { return Ok(()) };
    let text = format!("no lesson more of `{skill}` can be had");
    let hint = "a skill's lessons stand together, and others are begun since, or the term is full; a \
                catch-up takes up what marks show";
    Err(Message::mistake(text).hint(hint).into())
}

/// Of the new lessons those that `--more` asked for.
fn added_lessons(request: &Request, new: &[u32], lessons: &[Lesson]) -> Vec<u32> {
    let wished = |l: &&Lesson| l.skill.as_ref().is_some_and(|skill| request.more.contains(skill));
    let added = lessons.iter().filter(|l| new.contains(&l.number)).filter(wished);
    added.map(|l| l.number).collect()
}

/// Of these lessons those that have something to teach again.
fn shown_by_marks(class: &Class, added: &[u32], all: &[Lesson]) -> Result<Vec<u32>, Failure> {
    let found = super::mark::findings(class)?;
    let shows = |l: &&Lesson| {
        let skill = l.skill.as_ref().and_then(|skill| found.skills.get(skill));
        skill.is_some_and(SkillFinding::can_be_taught_again)
    };
    let added = all.iter().filter(|l| added.contains(&l.number));
    Ok(added.filter(shows).map(|l| l.number).collect())
}

/// Records lost lessons in the state at hand; the journal gets them when the change is accepted.
fn lose(class: &mut Class, lost: &[(NaiveDate, Option<Clock>)]) -> Result<Vec<Event>, Failure> {
    let mut events = Vec::new();
    let mut report = Report::new();
    for (date, starts) in lost {
        let lessons = class.state.lessons();
        let there = |l: &&Lesson| l.date == *date && starts.is_none_or(|s| s == l.starts);
        let gone: Vec<&Lesson> = lessons.iter().filter(there).collect();
        if gone.is_empty() {
            let at = starts.map(|s| format!(" at {s}")).unwrap_or_default();
            let text = format!("there is no lesson on {}{at}", short_date(*date));
            report.say(
                Message::mistake(text)
                    .hint("`rungwise plan DIR` shows the lessons and their times"),
            );
        }
        for lesson in gone {
            if class.state.marked(lesson.number) {
                let text = format!("lesson {} has marks, so it was held", lesson.number);
                report.say(
                    Message::mistake(text).hint("take its marks back first, with `rungwise undo`"),
                );
            }
            events.push(Event::Lost { lesson: lesson.number, date: *date, starts: lesson.starts });
        }
    }
    if report.has_mistakes() {
        return Err(report.into());
    }
    class.state.suppose(&events);
    Ok(events)
}

/// The plan with the announced days worked in; `None` where none was announced.
fn edit_plan(class: &Class, request: &Request) -> Result<Option<(Plan, String)>, Failure> {
    if request.close.is_empty() && request.open.is_empty() && request.more.is_empty() {
        return Ok(None);
    }
    let mut text = class.plan_text.clone();
    for &(from, to) in &request.close {
        text = edit::add_closure(&text, from, to, "").map_err(|e| cannot_edit(&e))?;
    }
    for &day in &request.open {
        let opened = edit::open_day(&text, day).map_err(|e| cannot_edit(&e))?;
        text = match opened {
            Some(opened) => opened,
            // Not the plan but a calendar closes the day; an opening beats every calendar.
            None => edit::add_opening(&text, day, day, "").map_err(|e| cannot_edit(&e))?,
        };
    }
    for skill in &request.more {
        text = one_more(class, &text, skill)?;
    }
    let loaded = folder::load_from_text(&class.folder, &text)?;
    Ok(Some((loaded.plan, text)))
}

/// Says which of the announced days change nothing, or may be meant otherwise.
fn notice_empty_wishes(class: &Class, request: &Request, new: &Calendar, today: NaiveDate) {
    let mut report = Report::new();
    for &(from, to) in &request.close {
        let inside = |p: &&Period| from <= p.date && p.date <= to;
        if !class.calendar.periods.iter().any(|p| inside(&p)) {
            let days = if from == to {
                format!("on {}", weekday_and_date(from))
            } else {
                format!("from {} to {}", weekday_and_date(from), weekday_and_date(to))
            };
            report.say(
                Message::warning(format!("there is no lesson {days}: closing changes nothing"))
                    .hint("`rungwise plan DIR` shows the days with lessons"),
            );
        }
    }
    for &day in &request.open {
        if new.periods.iter().all(|p| p.date != day) {
            let text = format!("{} has no lesson even when open", weekday_and_date(day));
            report.say(
                Message::warning(text)
                    .hint("it lies outside the term, or the timetable has none that day"),
            );
        }
    }
    for &(day, _) in request.lost.iter().filter(|(day, _)| *day > today) {
        let text = format!("{} is still to come", weekday_and_date(day));
        report.say(
            Message::warning(text).hint("`--close` is for a day on which no lesson will be held"),
        );
    }
    say(&report);
}

/// The plan with one lesson more of a skill than the schedule in force has.
fn one_more(class: &Class, text: &str, skill: &str) -> Result<String, Failure> {
    let lessons = class.state.lessons();
    let now = lessons_of(&lessons, skill);
    if now == 0 {
        let message = Message::mistake(format!("no lesson teaches `{skill}`"));
        let taught = lessons.iter().filter_map(|l| l.skill.as_deref());
        return Err(message.meant(skill, taught).into());
    }
    let key = format!("unit.lessons.{skill}");
    edit::set(text, &key, &json!({ "least": now + 1 })).map_err(|e| cannot_edit(&e))
}

fn cannot_edit(error: &edit::CannotEdit) -> Failure {
    let text = format!("plan.toml cannot be edited: {error}");
    Message::mistake(text).hint("change it by hand, then `rungwise reschedule DIR --accept`").into()
}

fn accept(
    class: &Class,
    plan: &Plan,
    text: Option<&String>,
    new: Schedule,
    events: Vec<Event>,
) -> Result<(), Failure> {
    let old_next = class.state.schedule.as_ref().map_or(1, |f| f.next_number);
    let highest = new.lessons.iter().map(|l| l.number).max().unwrap_or(0);
    let file = ScheduleFile {
        made_from: made_from(plan),
        next_number: old_next.max(highest + 1),
        schedule: new,
    };
    let mut change = Change::by("reschedule");
    if let Some(text) = text {
        change.file("plan.toml", text.clone());
    }
    change.file("schedule.toml", file.to_text());
    change.events = events;
    change.events.push(Event::Rescheduled);
    Ok(change.make(&class.folder, &class.state.journal, class.state.today)?)
}

fn show(
    changes: &Changes<'_>,
    options: &[WayOut],
    plan_text: &str,
    format: Format,
) -> Result<(), Failure> {
    let Changes { class, plan, new, comparison, risk } = changes;
    if format == Format::Json {
        return json(&json!({
            "class": plan.class.name,
            "moves": comparison.moves,
            "unchanged": comparison.unchanged,
            "dropped": comparison.dropped,
            "added": comparison.added,
            "merged": comparison.merged,
            "at_risk": risk,
            "print_again": risk.print_again,
            "options": options,
            "cost": new.cost,
            "proof": new.proof,
            "bound": new.bound,
            "schedule": super::plan::to_json(class, plan, new),
        }));
    }
    let mut text = changes.to_text();
    if !options.is_empty() {
        text.push_str("\nCheaper, if you give something up:\n");
        text.push_str(&print::ways(options, plan_text));
    }
    data(&text);
    Ok(())
}
