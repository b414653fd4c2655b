//! What the rest costs at least: lessons that do not fit, and the shape of the rest of the term.

use super::sets::{Sets, bits};
use crate::schedule::problem::{Hold, Problem};

/// No schedule.
pub const NEVER: i64 = i64::MAX / 4;

/// What finishing a skill costs with each number of lessons: short, extra, and moved lessons that
/// are dropped.
pub struct Finish {
    cost: Vec<Vec<i64>>,
    /// For each skill what it costs that its old lessons after the `n`th are no more.
    dropped: Vec<Vec<i64>>,
}

impl Finish {
    pub fn of(problem: &Problem, longest: usize) -> Finish {
        let skills = 0..problem.skills.len();
        let top = |s: usize| problem.skills[s].most.max(longest);
        let names = |s: usize| problem.old.as_ref().map_or(&[][..], |old| &old.teach[s]);
        let gone = |s: usize, n: usize| names(s).iter().skip(n).map(|name| name.price).sum();
        let dropped: Vec<Vec<i64>> =
            skills.clone().map(|s| (0..=top(s)).map(|n| gone(s, n)).collect()).collect();
        let cost = skills.map(|s| {
            (0..=top(s))
                .map(|n| lesson_count(problem, s, n).saturating_add(dropped[s][n]))
                .collect()
        });
        let cost = cost.collect();
        Finish { cost, dropped }
    }

    /// With `n` lessons that were held, though they be too few.
    pub fn anyhow(&self, problem: &Problem, skill: usize, n: usize) -> i64 {
        uneven(problem, skill, n) + self.dropped[skill].get(n).copied().unwrap_or(0)
    }

    /// With `n` lessons; `NEVER` where they are too few.
    pub fn with(&self, skill: usize, n: usize) -> i64 {
        self.cost[skill].get(n).copied().unwrap_or(NEVER)
    }
}

/// The short and extra cost of a skill with `n` lessons; `NEVER` where they are too few.
fn lesson_count(problem: &Problem, skill: usize, n: usize) -> i64 {
    if n < problem.skills[skill].least {
        return NEVER;
    }
    uneven(problem, skill, n)
}

/// The short and extra cost of a skill with `n` lessons, be they too few or not.
fn uneven(problem: &Problem, skill: usize, n: usize) -> i64 {
    let (task, costs) = (&problem.skills[skill], &problem.costs);
    let count = |n: usize| i64::try_from(n).unwrap_or(0);
    let (missing, more) = (task.preferred.saturating_sub(n), n.saturating_sub(task.preferred));
    costs.short * task.weight * count(missing * (missing + 1) / 2) + costs.extra * count(more)
}

#[derive(Clone, Copy)]
struct Span {
    from: usize,
    len: usize,
    /// The number of lessons the first entry stands for.
    least: usize,
    /// The entry that costs least.
    best: usize,
}

/// For each set the least short, extra and left-out cost of the skills outside it, by the exact
/// number of lessons they get: a knapsack, each set's from that with one skill more.
pub struct Rest {
    spans: Vec<Option<Span>>,
    costs: Vec<i64>,
    may_leave_out: bool,
}

/// One set's row.
pub struct Row<'a> {
    pub least: usize,
    pub best: usize,
    pub cost: &'a [i64],
}

impl Rest {
    pub fn new(may_leave_out: bool) -> Rest {
        Rest { spans: Vec::new(), costs: Vec::new(), may_leave_out }
    }

    pub fn row(&mut self, problem: &Problem, sets: &mut Sets, number: usize) -> Row<'_> {
        let span = self.span(problem, sets, number);
        Row {
            least: span.least,
            best: span.best,
            cost: &self.costs[span.from..span.from + span.len],
        }
    }

    fn span(&mut self, problem: &Problem, sets: &mut Sets, number: usize) -> Span {
        if let Some(Some(span)) = self.spans.get(number) {
            return *span;
        }
        let (least, row) = match bits(sets.open(number)).next() {
            None => (0, vec![0]),
            Some(skill) => {
                let with = sets.with(number, skill);
                let next = self.span(problem, sets, with);
                self.grow(problem, skill, next)
            }
        };
        let best = (0..row.len()).min_by_key(|at| row[*at]).unwrap_or(0);
        let span = Span { from: self.costs.len(), len: row.len(), least, best };
        self.costs.extend(row);
        if self.spans.len() <= number {
            self.spans.resize(sets.len().max(number + 1), None);
        }
        self.spans[number] = Some(span);
        span
    }

    /// The row with one skill more to teach.
    fn grow(&self, problem: &Problem, skill: usize, next: Span) -> (usize, Vec<i64>) {
        let task = &problem.skills[skill];
        let leaves = self.may_leave_out && task.optional;
        let first = if leaves { 0 } else { task.least };
        let old = &self.costs[next.from..next.from + next.len];
        let mut row = vec![NEVER; old.len() + task.most - first];
        let mut add = |n: usize, price: i64| {
            for (at, cost) in old.iter().enumerate() {
                let place = &mut row[at + n - first];
                *place = (*place).min(cost + price);
            }
        };
        if leaves {
            add(0, problem.costs.left_out * task.weight);
        }
        for n in task.least..=task.most {
            add(n, lesson_count(problem, skill, n));
        }
        (next.least + first, row)
    }
}

/// The shape of the rest of the term, skills left aside: after `p` periods, with a row of `u` teach
/// periods behind and `t` to come, the least cost of long runs, bunched catch-ups and breaks; and
/// exactly, how the revisions end it.
pub struct Shape {
    horizon: usize,
    longest_row: usize,
    most_lessons: usize,
    revisions: usize,
    teach: Vec<i64>,
    tail: Vec<i64>,
}

impl Shape {
    /// `most_lessons` are never exceeded.
    pub fn of(problem: &Problem, most_lessons: usize) -> Shape {
        let horizon = problem.horizon;
        let limit = problem.costs.long_run_limit;
        let longest_row = if limit >= horizon { 1 } else { (limit + 8).min(horizon) };
        let mut shape = Shape {
            horizon,
            longest_row,
            most_lessons: most_lessons.min(horizon),
            revisions: problem.revision,
            teach: Vec::new(),
            tail: Vec::new(),
        };
        shape.fill_tail(problem);
        shape.fill_teach(problem);
        shape
    }

    fn tail_at(&self, p: usize, left: usize, after_catch_up: bool) -> usize {
        (p * (self.revisions + 1) + left) * 2 + usize::from(after_catch_up)
    }

    fn teach_at(&self, p: usize, row: usize, lessons: usize) -> usize {
        (p * (self.longest_row + 1) + row.min(self.longest_row)) * (self.most_lessons + 1) + lessons
    }

    /// The cost of the rest when only revisions (`left` of them) and catch-ups come.
    pub fn tail(&self, p: usize, left: usize, after_catch_up: bool) -> i64 {
        self.tail[self.tail_at(p, left, after_catch_up)]
    }

    /// Whether the tail goes on with a catch-up rather than a revision.
    pub fn tail_rests(&self, problem: &Problem, p: usize, left: usize, after: bool) -> bool {
        left == 0
            || (may(problem, p, Hold::CatchUp)
                && self.rest(problem, p, left, after) == self.tail(p, left, after))
    }

    fn rest(&self, problem: &Problem, p: usize, left: usize, after: bool) -> i64 {
        let bunched = if after { problem.costs.bunched } else { 0 };
        self.tail(p + 1, left, true).saturating_add(bunched).min(NEVER)
    }

    fn fill_tail(&mut self, problem: &Problem) {
        self.tail = vec![NEVER; (self.horizon + 1) * (self.revisions + 1) * 2];
        for after in [false, true] {
            let at = self.tail_at(self.horizon, 0, after);
            self.tail[at] = 0;
        }
        for p in (0..self.horizon).rev() {
            for left in 0..=self.revisions {
                for after in [false, true] {
                    let mut least = NEVER;
                    if may(problem, p, Hold::CatchUp) {
                        least = self.rest(problem, p, left, after);
                    }
                    if left > 0 && may(problem, p, Hold::Revision) {
                        let price = problem.slots[p].not_catch_up
                            + revision_price(problem, self.revisions - left, p);
                        least = least.min(self.tail(p + 1, left - 1, false).saturating_add(price));
                    }
                    let at = self.tail_at(p, left, after);
                    self.tail[at] = least.min(NEVER);
                }
            }
        }
    }

    fn fill_teach(&mut self, problem: &Problem) {
        let size = (self.horizon + 1) * (self.longest_row + 1) * (self.most_lessons + 1);
        self.teach = vec![NEVER; size];
        for p in (problem.frozen.min(self.horizon)..=self.horizon).rev() {
            for row in 0..=self.longest_row.min(p) {
                let at = self.teach_at(p, row, 0);
                self.teach[at] = self.tail(p, self.revisions, row == 0 && p > 0);
                for lessons in 1..=self.most_lessons.min(self.horizon - p) {
                    self.teach[at + lessons] = self.step(problem, p, row, lessons);
                }
            }
        }
    }

    fn step(&self, problem: &Problem, p: usize, row: usize, lessons: usize) -> i64 {
        let costs = &problem.costs;
        let mut least = NEVER;
        if may_teach(problem, p) {
            let after_break = if problem.slots[p].break_before {
                costs.cold_return.min(costs.split_by_break)
            } else {
                0
            };
            let price = after_break + problem.slots[p].not_catch_up + long_run(problem, row + 1);
            least = self.teach[self.teach_at(p + 1, row + 1, lessons - 1)].saturating_add(price);
        }
        if may(problem, p, Hold::CatchUp) {
            let bunched = if row == 0 && p > 0 { costs.bunched } else { 0 };
            let rest = self.teach[self.teach_at(p + 1, 0, lessons)];
            least = least.min(rest.saturating_add(bunched));
        }
        least.min(NEVER)
    }

    /// With exactly `lessons` teach lessons still to come.
    pub fn teach(&self, p: usize, row: usize, lessons: usize) -> i64 {
        if lessons > self.most_lessons {
            return NEVER;
        }
        self.teach[self.teach_at(p, row, lessons)]
    }
}

/// What the last of a row of so many teach periods costs.
pub fn long_run(problem: &Problem, row: usize) -> i64 {
    let over = row.saturating_sub(problem.costs.long_run_limit);
    problem.costs.long_run * i64::try_from(over).unwrap_or(0)
}

/// What it costs that revision `nth` (from 0) is on this period.
pub fn revision_price(problem: &Problem, nth: usize, at: usize) -> i64 {
    let named = problem.old.as_ref().and_then(|old| old.revision.get(nth));
    named.map_or(0, |named| if named.at == Some(at) { 0 } else { named.price })
}

/// Whether a period may hold this.
pub fn may(problem: &Problem, at: usize, hold: Hold) -> bool {
    problem.held[at].is_none_or(|held| held == hold)
}

/// Whether a period may hold a lesson of some skill.
fn may_teach(problem: &Problem, at: usize) -> bool {
    problem.held[at].is_none_or(|held| matches!(held, Hold::Teach(_)))
}
