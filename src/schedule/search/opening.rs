//! Where the search begins: nothing taught yet, or the frozen part replayed and paid for.

use super::bound::{Finish, long_run, revision_price};
use crate::schedule::problem::{Hold, Problem};

/// How things stand after the frozen part.
#[derive(Debug, Clone, Default)]
pub struct Opening {
    pub cost: i64,
    pub set: u64,
    /// The skill that was started last.
    pub last: Option<usize>,
    /// Its lessons so far, if more of it may follow; else 0, and it is paid for.
    pub lessons: usize,
    /// Whether a break has come since its last lesson.
    pub break_since: bool,
    /// Whether a skill has started on the date of the last frozen period.
    pub started_today: bool,
    /// Teach periods in a row.
    pub row: usize,
    pub catch_ups: usize,
    /// Revisions held; with any, nothing more can be taught.
    pub revisions: usize,
    /// Whether the period before was a catch-up.
    pub after_catch_up: bool,
}

/// Replays the frozen part.
pub fn replay(problem: &Problem, finish: &Finish) -> Opening {
    let mut now = Opening::default();
    let mut had = vec![0usize; problem.skills.len()];
    let mut latest = vec![0usize; problem.skills.len()];
    // Whether only the last skill's lessons and catch-ups have come since it started.
    let mut growing = false;
    for at in 0..problem.frozen.min(problem.horizon) {
        let slot = &problem.slots[at];
        if at == 0 || problem.slots[at - 1].date != slot.date {
            now.started_today = false;
        }
        match problem.held[at] {
            Some(Hold::Teach(Some(skill))) => {
                now.cost += slot.not_catch_up;
                now.row += 1;
                now.cost += long_run(problem, now.row);
                now.after_catch_up = false;
                if had[skill] == 0 {
                    now.cost += start(problem, &now, skill, at);
                    now.set |= 1 << skill;
                    now.last = Some(skill);
                    now.started_today = true;
                    growing = true;
                } else {
                    let break_between =
                        (latest[skill] + 1..=at).any(|q| problem.slots[q].break_before);
                    if break_between {
                        now.cost += problem.costs.split_by_break;
                    }
                    growing &= now.last == Some(skill);
                }
                now.cost += lesson_price(problem, skill, had[skill], at);
                had[skill] += 1;
                latest[skill] = at;
                now.break_since = false;
            }
            Some(Hold::Revision) => {
                now.cost += slot.not_catch_up + revision_price(problem, now.revisions, at);
                now.revisions += 1;
                now.row = 0;
                now.after_catch_up = false;
                growing = false;
            }
            _ => {
                if now.after_catch_up {
                    now.cost += problem.costs.bunched;
                }
                now.catch_ups += 1;
                now.row = 0;
                now.after_catch_up = true;
                now.break_since |= slot.break_before;
            }
        }
    }
    for (skill, lessons) in had.iter().enumerate().filter(|(_, n)| **n > 0) {
        if growing && now.last == Some(skill) {
            now.lessons = *lessons;
        } else {
            now.cost += finish.anyhow(problem, skill, *lessons);
        }
    }
    now
}

/// What starting a skill on a period costs.
fn start(problem: &Problem, now: &Opening, skill: usize, at: usize) -> i64 {
    let mut cost = start_price(problem, at);
    if now.started_today {
        cost += problem.costs.two_starts;
    }
    if let Some(last) = now.last
        && problem.skills[skill].needs >> last & 1 == 0
    {
        cost += problem.costs.thread_cut;
    }
    if let Some(old) = &problem.old {
        let before = |other: usize| matches!((old.first[skill], old.first[other]), (Some(a), Some(b)) if a < b);
        let others = (0..problem.skills.len()).filter(|o| now.set >> o & 1 == 1 && before(*o));
        cost += problem.costs.order * i64::try_from(others.count()).unwrap_or(0);
    }
    cost
}

/// What starting on a period costs for the period's own sake.
pub fn start_price(problem: &Problem, at: usize) -> i64 {
    let (slot, costs) = (&problem.slots[at], &problem.costs);
    let mut cost = 0;
    if slot.short {
        cost += costs.short_start;
    }
    if slot.break_before {
        cost += costs.cold_return;
    }
    if problem.slots.get(at + 1).is_some_and(|next| next.break_before) {
        cost += costs.starts_before_break;
    }
    cost
}

/// What it costs that the lesson of a skill after `had` others is on this period.
pub fn lesson_price(problem: &Problem, skill: usize, had: usize, at: usize) -> i64 {
    let named = problem.old.as_ref().and_then(|old| old.teach[skill].get(had));
    named.map_or(0, |named| if named.at == Some(at) { 0 } else { named.price })
}
