//! One more lesson of a skill: when it would be, what it moves and gives up, and what that costs.

use super::class::{Class, solved};
use super::output::{Failure, short_date};
use crate::calendar::Clock;
use crate::lesson::Pack;
use crate::plan::LessonKind;
use crate::schedule::{self, Lesson, Outcome};
use crate::words::{count, join};
use chrono::NaiveDate;
use indexmap::IndexMap;
use serde::Serialize;

/// One more lesson of the skill, and what it does to the term.
#[derive(Debug, Serialize)]
pub struct OneMore {
    skill: String,
    /// Its title, where the check was over several skills and this one went worst.
    title: Option<String>,
    /// When the new lesson would be; null where it does not fit.
    date: Option<NaiveDate>,
    starts: Option<Clock>,
    /// The lessons that would be given up for it.
    dropped: Vec<u32>,
    /// What these are: "a catch-up on Mon 22 Feb".
    given_up: Vec<String>,
    /// What stands in plan.toml then: `unit.lessons.SKILL`.
    least: u32,
    /// Whether the term has room for it.
    pub fits: bool,
    /// The schedule's cost as it is, and with one more lesson of the skill.
    cost_now: i64,
    cost: Option<i64>,
    /// By term of the cost: how much dearer it is then; those that stay the same are left out.
    cost_by: IndexMap<String, i64>,
    moves: usize,
}

/// The term with one more lesson of a skill; `None` where it cannot have more.
pub fn one_more(class: &Class, skill: &str, pack: &Pack) -> Result<Option<OneMore>, Failure> {
    let mut plan = class.plan.clone();
    let Some(lengths) = plan.unit.lessons.get_mut(skill) else { return Ok(None) };
    let now = lessons_of(&class.state.lessons(), skill);
    let Ok(wanted) = u8::try_from(now + 1) else { return Ok(None) };
    lengths.least = wanted;
    lengths.preferred = lengths.preferred.max(wanted);
    lengths.most = lengths.most.max(wanted);
    let now_is = &class.schedule()?.cost;
    let cost_now = now_is.total;
    let standing = class.state.standing();
    let outcome = solved(schedule::solve_again(&plan, &class.calendar, &standing))?;
    let least = u32::from(wanted);
    let named = class.plan.ladder.skills.get(skill).filter(|_| pack.skill.is_none());
    let mut more = OneMore {
        skill: skill.to_owned(),
        title: named.map(|skill| skill.title.clone()),
        date: None,
        starts: None,
        dropped: Vec::new(),
        given_up: Vec::new(),
        least,
        fits: false,
        cost_now,
        cost: None,
        cost_by: IndexMap::new(),
        moves: 0,
    };
    // What comes out with no lesson more only pays for the one that is missing.
    let more_of = |lessons: &[Lesson]| lessons_of(lessons, skill) > now;
    if let Outcome::Fits(new) = outcome
        && more_of(&new.lessons)
    {
        let change = schedule::compare(&standing.old, &new.lessons);
        let own = |l: &&Lesson| l.skill.as_deref() == Some(skill);
        let added = new.lessons.iter().filter(own).find(|l| change.added.contains(&l.number));
        more.date = added.map(|l| l.date);
        more.starts = added.map(|l| l.starts);
        more.moves = change.moves.len();
        let lost = |number: &u32| class.state.lessons().into_iter().find(|l| l.number == *number);
        more.given_up = change.dropped.iter().filter_map(lost).map(|l| what(class, &l)).collect();
        more.dropped = change.dropped;
        more.fits = true;
        more.cost = Some(new.cost.total);
        let by = new.cost.terms.iter().map(|(term, cost)| {
            (term.clone(), cost - now_is.terms.get(term).copied().unwrap_or(0))
        });
        more.cost_by = by.filter(|(_, by)| *by != 0).collect();
    }
    Ok(Some(more))
}

/// How many of these lessons teach a skill.
pub fn lessons_of(lessons: &[Lesson], skill: &str) -> usize {
    lessons.iter().filter(|l| l.skill.as_deref() == Some(skill)).count()
}

/// "a catch-up on Mon 22 Feb".
fn what(class: &Class, lesson: &Lesson) -> String {
    let what = match (lesson.kind, &lesson.skill) {
        (LessonKind::Teach, Some(skill)) => format!("“{}”", class.title(skill)),
        (LessonKind::Revision, _) => "a revision".to_owned(),
        (LessonKind::UnitTest, _) => "the unit test".to_owned(),
        _ => "a catch-up".to_owned(),
    };
    format!("{what} on {}", short_date(lesson.date))
}

impl OneMore {
    /// What it does to the term, and how to have it.
    pub fn to_text(&self, dir: &str) -> String {
        let OneMore { skill, least, cost_now, moves, .. } = self;
        let of = match &self.title {
            Some(title) => format!("“{title}”, which went worst,"),
            None => "this skill".to_owned(),
        };
        let Some(cost) = self.cost else {
            return format!(
                "  One more lesson of {of} cannot be had: a skill's lessons stand together, and others are \
                 begun since, or the term is full.\n"
            );
        };
        let mut moved = format!("moves {}", count(*moves, "lesson"));
        if !self.given_up.is_empty() {
            let all = self.dropped.iter().zip(&self.given_up);
            let all: Vec<String> = all.map(|(n, what)| format!("lesson {n}, {what}")).collect();
            moved = format!("{moved} and gives up {}", join(&all, "and"));
        }
        let when = match (self.date, self.starts) {
            (Some(date), Some(starts)) => format!(", on {} at {starts},", short_date(date)),
            _ => String::new(),
        };
        let price = schedule::price_in_words(cost - cost_now, &self.cost_by);
        format!(
            "  One more lesson of {of}{when} {moved}. The schedule then costs {price}:\n    \
             `rungwise reschedule {dir} --more {skill} --accept` makes {least} lessons of it.\n"
        )
    }
}
