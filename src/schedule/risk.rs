//! What a changed schedule puts at risk: skills that lose lessons, room that is used up, paper that
//! no longer says the right day.

use super::compare::{Comparison, compare};
use super::{Lesson, Standing};
use crate::plan::{LessonKind, Plan};
use serde::Serialize;

/// A skill that has fewer lessons than it had.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Thinner {
    /// The skill.
    pub skill: String,
    /// How many lessons it had, those held included.
    pub before: usize,
    /// How many it has now; none where it is not taught any more.
    pub after: usize,
    /// The outcomes it serves, each "framework:code".
    pub outcomes: Vec<String>,
}

/// Room left before the test: lessons still to come that a lost day may use up.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Margin {
    /// Catch-ups from today to the test.
    pub catch_ups: usize,
    /// Periods between the last new lesson and the test, revisions and catch-ups alike.
    pub after_last_new: usize,
}

/// What a changed schedule puts at risk.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Risk {
    /// Skills that lose lessons, in the ladder's order.
    pub thinner: Vec<Thinner>,
    /// Outcomes that lose lessons and have none left, each "framework:code", in order.
    pub outcomes_lost: Vec<String>,
    /// The room before.
    pub margin_before: Margin,
    /// The room now.
    pub margin_after: Margin,
    /// Printed lessons whose paper names another day than the one they are on now.
    pub print_again: Vec<u32>,
    /// Printed lessons that are no more.
    pub paper_unused: Vec<u32>,
}

/// Compares a new schedule with the one in force for what it puts at risk.
pub fn risk(plan: &Plan, standing: &Standing, new: &[Lesson]) -> Risk {
    let Comparison { moves, dropped, .. } = compare(&standing.old, new);
    let printed = |number: &u32| standing.printed.contains(number);
    let thinner = thinner(plan, &standing.old, new);
    let mut outcomes_lost: Vec<String> = thinner
        .iter()
        .flat_map(|t| t.outcomes.iter().cloned())
        .filter(|outcome| !served(plan, outcome, new))
        .collect();
    outcomes_lost.sort();
    outcomes_lost.dedup();
    Risk {
        thinner,
        outcomes_lost,
        margin_before: margin(standing, &standing.old),
        margin_after: margin(standing, new),
        print_again: moves.iter().map(|m| m.lesson).filter(printed).collect(),
        paper_unused: dropped.into_iter().filter(|n| printed(n)).collect(),
    }
}

fn lessons_of(skill: &str, lessons: &[Lesson]) -> usize {
    lessons.iter().filter(|l| l.skill.as_deref() == Some(skill)).count()
}

fn thinner(plan: &Plan, old: &[Lesson], new: &[Lesson]) -> Vec<Thinner> {
    let skills = plan.ladder.skills.values();
    let thinner = skills.map(|skill| Thinner {
        skill: skill.id.clone(),
        before: lessons_of(&skill.id, old),
        after: lessons_of(&skill.id, new),
        outcomes: skill.outcomes.clone(),
    });
    thinner.filter(|t| t.after < t.before).collect()
}

/// Whether any lesson serves an outcome.
fn served(plan: &Plan, outcome: &String, lessons: &[Lesson]) -> bool {
    let skills = lessons.iter().filter_map(|l| plan.ladder.skills.get(l.skill.as_ref()?));
    skills.into_iter().any(|skill| skill.outcomes.contains(outcome))
}

fn margin(standing: &Standing, lessons: &[Lesson]) -> Margin {
    let test = lessons.iter().position(|l| l.kind == LessonKind::UnitTest);
    let before = &lessons[..test.unwrap_or(lessons.len())];
    let to_come = |l: &&Lesson| l.date >= standing.today && !standing.taught.contains(&l.number);
    let last_new = before.iter().rposition(|l| l.kind == LessonKind::Teach);
    let from = last_new.map_or(0, |at| at + 1);
    Margin {
        catch_ups: before.iter().filter(to_come).filter(|l| l.kind == LessonKind::CatchUp).count(),
        after_last_new: before[from..].iter().filter(to_come).count(),
    }
}
