//! What became of each wish of the plan: met, not met and at what price, or without any effect.

use super::clash::{date_words, fixed_words, title};
use super::problem::{Dropped, scope};
use super::why::{Asked, Elsewhere};
use super::{Error, Schedule, Standing};
use crate::calendar::Calendar;
use crate::curriculum::Lessons;
use crate::plan::{LessonKind, Plan, TestWish};
use crate::words::count;
use indexmap::IndexMap;
use serde::Serialize;
use std::collections::BTreeMap;

/// What became of a wish.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Fate {
    /// It holds, and the schedule would be another without it.
    Met,
    /// It holds, and the schedule is no better without it.
    NoEffect,
    /// It does not hold.
    NotMet,
}

/// One wish of the plan and what became of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Told {
    /// The dotted key of plan.toml it stands under.
    pub key: String,
    /// The skill it is about, if it is about one.
    pub skill: Option<String>,
    /// What became of it.
    pub fate: Fate,
    /// How much dearer the best schedule is when it is given up (met), or when it is insisted on
    /// (not met); none where that is not possible.
    pub more: Option<i64>,
    /// The terms that differ then, by how much.
    pub terms: IndexMap<String, i64>,
    /// All of it in a sentence or two.
    pub text: String,
}

/// What became of every wish of the plan, in the order of its keys.
///
/// # Errors
/// The plan cannot be put into numbers.
pub fn wishes(
    plan: &Plan,
    calendar: &Calendar,
    standing: Option<&Standing>,
    schedule: &Schedule,
) -> Result<Vec<Told>, Error> {
    let asked = Asked::of(plan, calendar, standing, schedule);
    let mut told = Vec::new();
    for id in &plan.unit.teach {
        told.extend(known_already(plan, id));
    }
    for left in &schedule.left_out {
        told.push(asked.left_out(&left.skill, &left.because)?);
    }
    told.extend(plan.unit.secure.iter().filter_map(|id| needless_secure(plan, id)));
    for id in &plan.unit.leave_out {
        told.extend(needless_leave_out(plan, id));
    }
    told.push(asked.catch_ups()?);
    told.push(asked.revisions()?);
    told.extend(asked.test()?);
    for at in 0..plan.unit.fixed.len() {
        told.push(asked.fixed(at)?);
    }
    for id in plan.ladder.skills.keys() {
        told.extend(asked.lessons(id)?);
    }
    Ok(told)
}

fn plain(key: &str, skill: Option<&str>, fate: Fate, text: String) -> Told {
    let (key, skill) = (key.to_owned(), skill.map(str::to_owned));
    Told { key, skill, fate, more: None, terms: IndexMap::new(), text }
}

/// A skill wished to be taught that is known, or that a known one needs.
fn known_already(plan: &Plan, id: &str) -> Option<Told> {
    let known = |s: &&String| *s == id || plan.ladder.all_needs(s).contains(&id);
    let because = plan.unit.secure.iter().find(known)?;
    let by = if because == id { String::new() } else { format!(" with {}", title(plan, because)) };
    let text = format!("{} is not taught: `unit.secure` says it is known{by}.", title(plan, id));
    Some(plain("unit.teach", Some(id), Fate::NotMet, text))
}

/// The skills of the unit under a plan.
fn unit(plan: &Plan) -> (Vec<String>, Vec<String>) {
    let scope = scope(plan, &BTreeMap::new(), &Dropped::default());
    (scope.taught, scope.left_out)
}

fn needless_secure(plan: &Plan, id: &str) -> Option<Told> {
    let mut without = plan.clone();
    without.unit.secure.retain(|s| s != id);
    (unit(&without) == unit(plan)).then(|| {
        let text = format!(
            "That {} is known changes nothing: nothing that is taught needs it, or another known \
             skill covers it.",
            title(plan, id)
        );
        plain("unit.secure", Some(id), Fate::NoEffect, text)
    })
}

fn needless_leave_out(plan: &Plan, id: &str) -> Option<Told> {
    let (taught, left_out) = unit(plan);
    let inside = taught.iter().chain(&left_out).any(|s| s == id);
    (!inside).then(|| {
        let text = format!(
            "That {} is left out changes nothing: it is not among the skills of this unit.",
            title(plan, id)
        );
        plain("unit.leave-out", Some(id), Fate::NoEffect, text)
    })
}

/// "Without it the best schedule would cost 5 less (…)."
fn without(other: &Elsewhere) -> (Fate, String) {
    match other.more {
        None => (Fate::Met, "Without it nothing else fits.".to_owned()),
        Some(more) if more < 0 => {
            let text = format!("Without that wish the best would cost {}.", other.price());
            (Fate::Met, text)
        }
        Some(_) => (Fate::NoEffect, "Without that wish the best costs the same.".to_owned()),
    }
}

impl Asked<'_> {
    /// The best schedule of another plan, compared with the one in force.
    fn under(&self, plan: &Plan) -> Result<Elsewhere, Error> {
        let other = self.with_plan(plan);
        other.solved(String::new(), None, other.pose()?.as_ref())
    }

    fn given_up(&self, key: &str, says: &str, plan: &Plan) -> Result<Told, Error> {
        let other = self.under(plan)?;
        let (fate, words) = without(&other);
        let text = format!("{says} {words}");
        Ok(Told { more: other.more, terms: other.terms, ..plain(key, None, fate, text) })
    }

    /// A skill that is not taught, and what it would cost to teach it all the same.
    fn left_out(&self, id: &str, because: &str) -> Result<Told, Error> {
        let mut plan = self.wanted.plan.clone();
        plan.unit.leave_out.retain(|s| s != id);
        let other = self.with_plan(&plan);
        let problem = other.pose()?.and_then(|mut problem| {
            let at = problem.skill(id)?;
            problem.skills[at].optional = false;
            Some(problem)
        });
        let other = other.solved(String::new(), None, problem.as_ref())?;
        let price = match other.more {
            None => "There is no room for it beside the plan's other wishes.".to_owned(),
            Some(_) => format!("With it the best would cost {}.", other.price()),
        };
        let wished = self.wanted.plan.unit.leave_out.iter().any(|s| s == id);
        let (key, fate) =
            if wished { ("unit.leave-out", Fate::Met) } else { ("unit.teach", Fate::NotMet) };
        let text = format!("{} is not taught. {because} {price}", title(&plan, id));
        Ok(Told { more: other.more, terms: other.terms, ..plain(key, Some(id), fate, text) })
    }

    fn held(&self, kind: LessonKind) -> usize {
        let lessons = &self.schedule.lessons;
        let test = lessons.iter().position(|l| l.kind == LessonKind::UnitTest);
        lessons[..test.unwrap_or(lessons.len())].iter().filter(|l| l.kind == kind).count()
    }

    fn catch_ups(&self) -> Result<Told, Error> {
        let mut plan = self.wanted.plan.clone();
        plan.unit.catch_up = Some(0);
        let held = self.held(LessonKind::CatchUp);
        let spare = usize::try_from(self.schedule.spare_periods).unwrap_or(0);
        let asked = held.saturating_sub(spare);
        let says = format!(
            "At least {} asked for before the test, {held} there.",
            count(asked, "catch-up")
        );
        self.given_up("unit.catch-up", &says, &plan)
    }

    fn revisions(&self) -> Result<Told, Error> {
        let mut plan = self.wanted.plan.clone();
        plan.unit.revision = 0;
        let held = self.held(LessonKind::Revision);
        let says = format!("{} asked for, {held} there.", count(held, "revision"));
        self.given_up("unit.revision", &says, &plan)
    }

    fn test(&self) -> Result<Option<Told>, Error> {
        let TestWish::On(date) = self.wanted.plan.unit.test else { return Ok(None) };
        let mut plan = self.wanted.plan.clone();
        plan.unit.test = TestWish::Last;
        let says = format!("The test is on {}, as wished.", date_words(date));
        self.given_up("unit.test", &says, &plan).map(Some)
    }

    fn fixed(&self, at: usize) -> Result<Told, Error> {
        let mut plan = self.wanted.plan.clone();
        let fixed = plan.unit.fixed.remove(at);
        let says = format!("The plan fixes {}.", fixed_words(&plan, &fixed));
        let told = self.given_up("unit.fixed", &says, &plan)?;
        Ok(Told { skill: fixed.skill, ..told })
    }

    /// A skill's numbers of lessons: those of the plan, and the preferred number not reached.
    fn lessons(&self, id: &str) -> Result<Option<Told>, Error> {
        let plan = self.wanted.plan;
        let had = self.schedule.lessons.iter().filter(|l| l.skill.as_deref() == Some(id)).count();
        let (Some(wished), Some(skill)) = (plan.unit.lessons.get(id), plan.ladder.skills.get(id))
        else {
            return Ok(None);
        };
        if had == 0 {
            return Ok(None);
        }
        let key = format!("unit.lessons.{id}");
        if had < usize::from(wished.preferred) {
            return self.preferred_not_reached(&key, id, had, *wished).map(Some);
        }
        if *wished == skill.lessons {
            return Ok(None);
        }
        let mut other = plan.clone();
        other.unit.lessons.insert(id.to_owned(), skill.lessons);
        let says = format!("{} has {}.", title(plan, id), count(had, "lesson"));
        let told = self.given_up(&key, &says, &other)?;
        Ok(Some(Told { skill: Some(id.to_owned()), ..told }))
    }

    fn preferred_not_reached(
        &self,
        key: &str,
        id: &str,
        had: usize,
        wished: Lessons,
    ) -> Result<Told, Error> {
        let mut plan = self.wanted.plan.clone();
        plan.unit.lessons.insert(id.to_owned(), Lessons { least: wished.preferred, ..wished });
        let other = self.under(&plan)?;
        let price = match other.more {
            None => "There is no room for so many beside the plan's other wishes.".to_owned(),
            Some(0) => "With that number the best would cost the same.".to_owned(),
            Some(_) => format!("With that number the best would cost {}.", other.price()),
        };
        let text = format!(
            "{} has {}, {} preferred. {price}",
            title(&plan, id),
            count(had, "lesson"),
            wished.preferred
        );
        let told = plain(key, Some(id), Fate::NotMet, text);
        Ok(Told { more: other.more, terms: other.terms, ..told })
    }
}
