//! What marking a check leads to: which lesson takes it up, and what one more lesson would cost.

use super::class::{Class, solved};
use super::output::{Failure, short_date};
use crate::calendar::Clock;
use crate::lesson::Pack;
use crate::marking::{Decision, Marking};
use crate::plan::LessonKind;
use crate::schedule::{self, Lesson, Outcome};
use crate::words::count;
use chrono::NaiveDate;
use serde::Serialize;
use std::fmt::Write;

/// A lesson that can take something up.
#[derive(Debug, Serialize)]
pub struct Takes {
    lesson: u32,
    date: NaiveDate,
    starts: Clock,
    /// Whether it is printed already, so that its paper stays as it is.
    printed: bool,
    /// Whether it teaches the marked skill.
    same_skill: bool,
}

/// One more lesson of the skill, and what it does to the term.
#[derive(Debug, Serialize)]
pub struct OneMore {
    skill: String,
    /// What stands in plan.toml then: `unit.lessons.SKILL`.
    least: u32,
    fits: bool,
    /// The schedule's cost as it is, and with one more lesson of the skill.
    cost_now: i64,
    cost: Option<i64>,
    moves: usize,
}

/// What comes next.
#[derive(Debug, Serialize)]
pub struct NextStep {
    dir: String,
    lesson: u32,
    version: String,
    groups: usize,
    absent: usize,
    /// The next lesson, whose warm-up brings the skill back unless it is printed.
    warm_up: Option<Takes>,
    /// The next catch-up, where the class needs it again.
    catch_up: Option<Takes>,
    /// One more lesson of the skill, where the class needs it again.
    one_more: Option<OneMore>,
}

/// What comes after this marking.
pub fn next_step(class: &Class, pack: &Pack, marking: &Marking) -> Result<NextStep, Failure> {
    let lessons = class.state.lessons();
    let from = pack.date.max(class.state.today);
    let to_come = |l: &&Lesson| {
        l.number != pack.lesson
            && (l.date, l.starts) > (pack.date, pack.heading.starts)
            && l.date >= from
    };
    let takes = |l: &Lesson| Takes {
        lesson: l.number,
        date: l.date,
        starts: l.starts,
        printed: class.state.printed(l.number, "A"),
        same_skill: l.skill.is_some() && l.skill == pack.skill,
    };
    let again = marking.class.decision == Decision::ReTeach;
    let wanted = matches!(marking.class.decision, Decision::ReTeach | Decision::TakeAGroup);
    let next = lessons.iter().find(to_come).filter(|_| wanted);
    let catch_up = lessons.iter().filter(to_come).find(|l| l.kind == LessonKind::CatchUp);
    Ok(NextStep {
        dir: class.folder.dir().display().to_string(),
        lesson: pack.lesson,
        version: pack.version.clone(),
        groups: marking.groups.len(),
        absent: marking.absent.len(),
        warm_up: next.map(takes),
        catch_up: catch_up.filter(|_| again).map(takes),
        one_more: match &pack.skill {
            Some(skill) if again => one_more(class, skill)?,
            _ => None,
        },
    })
}

/// The term with one more lesson of a skill; `None` where it cannot have more.
fn one_more(class: &Class, skill: &str) -> Result<Option<OneMore>, Failure> {
    let mut plan = class.plan.clone();
    let Some(lengths) = plan.unit.lessons.get_mut(skill) else { return Ok(None) };
    let now = class.state.lessons().iter().filter(|l| l.skill.as_deref() == Some(skill)).count();
    let Ok(wanted) = u8::try_from(now + 1) else { return Ok(None) };
    lengths.least = wanted;
    lengths.preferred = lengths.preferred.max(wanted);
    lengths.most = lengths.most.max(wanted);
    let cost_now = class.schedule()?.cost.total;
    let standing = class.state.standing();
    let outcome = solved(schedule::solve_again(&plan, &class.calendar, &standing))?;
    let (fits, cost, moves) = match outcome {
        Outcome::Clash { .. } => (false, None, 0),
        Outcome::Fits(new) => {
            let moves = schedule::compare(&standing.old, &new.lessons).moves.len();
            (true, Some(new.cost.total), moves)
        }
    };
    let least = u32::from(wanted);
    Ok(Some(OneMore { skill: skill.to_owned(), least, fits, cost_now, cost, moves }))
}

fn at(takes: &Takes) -> String {
    format!("lesson {} on {} at {}", takes.lesson, short_date(takes.date), takes.starts)
}

impl NextStep {
    /// What to type next, in plain sentences.
    pub fn to_text(&self) -> String {
        let mut out = "What comes next\n".to_owned();
        let dir = &self.dir;
        if let Some(next) = &self.warm_up {
            let what = if next.printed {
                "is printed already; bring this back there by hand".to_owned()
            } else if next.same_skill {
                "teaches the same skill: its examples show the commonest mistake".to_owned()
            } else {
                "brings it back in its warm-up".to_owned()
            };
            writeln!(out, "  The next lesson, {}, {what}.", at(next)).ok();
        }
        match &self.catch_up {
            Some(takes) if takes.printed => {
                writeln!(out, "  The next catch-up, {}, is printed already.", at(takes)).ok();
            }
            Some(takes) => {
                writeln!(out, "  The next catch-up, {}, takes it up again.", at(takes)).ok();
            }
            None => {}
        }
        if let Some(more) = &self.one_more {
            out.push_str(&more.to_text(dir));
        }
        if self.groups + self.absent > 0 {
            let version = if self.version == "B" { " --version B" } else { "" };
            let groups = count(self.groups, "group");
            let whom = match (self.groups, self.absent) {
                (_, 0) => groups,
                (0, _) => "who was absent".to_owned(),
                _ => format!("{groups} and for who was absent"),
            };
            writeln!(
                out,
                "  `rungwise pack {dir} --lesson {}{version} --group all` makes a sheet for {whom}.",
                self.lesson
            )
            .ok();
        }
        writeln!(out, "  `rungwise report {dir} progress` shows what is secure.").ok();
        out
    }
}

impl OneMore {
    fn to_text(&self, dir: &str) -> String {
        let OneMore { skill, least, cost_now, moves, .. } = self;
        let Some(cost) = self.cost else {
            return "  One more lesson of this skill does not fit into the term.\n".to_owned();
        };
        let moved = count(*moves, "lesson");
        let change = cost - cost_now;
        let price = match change {
            1.. => format!("{change} dearer ({cost_now} to {cost})"),
            0 => format!("no dearer ({cost})"),
            _ => format!("{} cheaper ({cost_now} to {cost})", -change),
        };
        format!(
            "  One more lesson of this skill moves {moved}; the schedule is then {price}:\n    \
             `rungwise reschedule {dir} --more {skill} --accept` makes {least} of it.\n"
        )
    }
}
