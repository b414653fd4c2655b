//! One step of the search: what may fill the next period, what it costs, which labels live.

use super::bound::{NEVER, long_run, may};
use super::opening::{lesson_price, start_price};
use super::sets::{Orders, bits};
use super::{Engine, Label, NONE, may_teach, small, wide};
use crate::schedule::problem::Hold;

impl Engine<'_> {
    /// Fills the next period in every way, and ends the teaching here if that is the best yet.
    pub(super) fn expand(&mut self, at: u32, children: &mut Vec<u32>) {
        let label = self.labels[wide(at)];
        self.try_to_end(&label, at);
        let problem = self.problem;
        let q = usize::from(label.periods);
        if q >= problem.horizon {
            return;
        }
        let base = Label {
            parent: at,
            periods: label.periods + 1,
            started: label.started && !self.new_date(q + 1),
            ..label
        };
        children.extend(self.go_on(&base, q).and_then(|child| self.offer(child)));
        children.extend(self.rest_a_period(&base, q).and_then(|child| self.offer(child)));
        let finished = self.finished(&label);
        if finished >= NEVER {
            return;
        }
        for skill in bits(self.sets.open(wide(label.set))) {
            let child = self.start(&label, &base, q, skill, finished);
            children.extend(child.and_then(|child| self.offer(child)));
        }
    }

    /// Whether a period begins a new date (or there is none).
    pub(super) fn new_date(&self, q: usize) -> bool {
        let slots = &self.problem.slots;
        q == 0 || q >= slots.len() || slots[q].date != slots[q - 1].date
    }

    /// What it costs to finish the last skill as it stands.
    fn finished(&self, label: &Label) -> i64 {
        match label.last() {
            Some(last) if label.lessons > 0 => self.finish.with(last, label.lessons.into()),
            _ => 0,
        }
    }

    fn try_to_end(&mut self, label: &Label, at: u32) {
        let problem = self.problem;
        let set = self.sets.set(wide(label.set));
        let p = usize::from(label.periods);
        let quiet = (problem.horizon - p).checked_sub(problem.revision);
        let catch_ups = quiet.map_or(0, |quiet| usize::from(label.catch_ups) + quiet);
        if self.must & !set != 0 || quiet.is_none() || catch_ups < problem.catch_up {
            return;
        }
        let tail = self.shape.tail(p, problem.revision, label.after_catch_up());
        let end = self.finished(label).saturating_add(tail);
        if end < NEVER {
            let total = label.cost + end + self.left_out(set);
            if total < self.best {
                self.best = total;
                self.best_label = at;
            }
        }
    }

    /// One more lesson of the last skill.
    fn go_on(&self, base: &Label, q: usize) -> Option<Label> {
        let problem = self.problem;
        let last = base.last()?;
        let lessons = usize::from(base.lessons);
        if lessons == 0 || lessons >= problem.skills[last].most || !may_teach(problem, q, last) {
            return None;
        }
        let row = usize::from(base.row) + 1;
        let mut cost = base.cost + long_run(problem, row) + problem.slots[q].not_catch_up;
        if base.break_since || problem.slots[q].break_before {
            cost += problem.costs.split_by_break;
        }
        cost += lesson_price(problem, last, lessons, q);
        let lessons = small(lessons + 1);
        Some(Label { cost, lessons, row: small(row), break_since: false, ..*base })
    }

    fn rest_a_period(&self, base: &Label, q: usize) -> Option<Label> {
        let problem = self.problem;
        if !may(problem, q, Hold::CatchUp) {
            return None;
        }
        let full = base.last().is_none_or(|last| {
            base.lessons == 0 || usize::from(base.lessons) >= problem.skills[last].most
        });
        if full && self.sets.open(wide(base.set)) == 0 {
            return None; // nothing can be taught any more: the end is tried where the teaching ends
        }
        let bunched = if base.row == 0 && q > 0 { problem.costs.bunched } else { 0 };
        Some(Label {
            cost: base.cost + bunched,
            row: 0,
            catch_ups: (base.catch_ups + 1).min(small(problem.catch_up.min(problem.horizon))),
            break_since: !full && (base.break_since || problem.slots[q].break_before),
            ..*base
        })
    }

    fn start(
        &mut self,
        label: &Label,
        base: &Label,
        q: usize,
        skill: usize,
        finished: i64,
    ) -> Option<Label> {
        let problem = self.problem;
        let still_held = label.last().is_some_and(|l| self.held_later[q] >> l & 1 == 1);
        let elsewhere = problem.starts_on.is_some_and(|(s, at)| s == skill && at != q);
        if !may_teach(problem, q, skill) || still_held || elsewhere {
            return None;
        }
        let row = usize::from(base.row) + 1;
        let mut cost = base.cost + finished + long_run(problem, row);
        cost += problem.slots[q].not_catch_up
            + start_price(problem, q)
            + lesson_price(problem, skill, 0, q)
            + i64::from(self.orders.pairs(self.sets.set(wide(label.set)), skill));
        if label.started {
            cost += problem.costs.two_starts;
        }
        if label.last().is_some_and(|last| self.orders.cuts(last, skill)) {
            cost += problem.costs.thread_cut;
        }
        Some(Label {
            cost,
            set: small(self.sets.with(wide(label.set), skill)),
            row: small(row),
            last: small(skill),
            lessons: 1,
            break_since: false,
            started: !self.new_date(q + 1),
            ..*base
        })
    }

    /// Takes a label in, unless it cannot lead to anything better.
    pub(super) fn offer(&mut self, mut label: Label) -> Option<u32> {
        let parent = self.labels.get(wide(label.parent)).map_or(0, |parent| parent.total);
        let rest = self.least_rest(&label);
        if rest >= NEVER {
            return None;
        }
        label.total = (label.cost + rest).max(parent);
        if label.total >= self.best || self.beaten(&label) {
            return None;
        }
        let at = small(self.labels.len());
        label.next = self.heads.insert(place(&label), at).unwrap_or(NONE);
        self.labels.push(label);
        Some(at)
    }

    /// Whether a label that stands at the same place does at least as well; those that do worse
    /// than the new one die.
    fn beaten(&mut self, label: &Label) -> bool {
        let mut at = self.heads.get(&place(label)).copied().unwrap_or(NONE);
        while at != NONE {
            let other = self.labels[wide(at)];
            if !other.dead {
                if self.beats(&other, label) {
                    return true;
                }
                if self.beats(label, &other) {
                    self.labels[wide(at)].dead = true;
                }
            }
            at = other.next;
        }
        false
    }

    /// Whether `a` can copy whatever `b` does next and be no dearer.
    fn beats(&self, a: &Label, b: &Label) -> bool {
        if a.catch_ups < b.catch_ups || a.row > b.row {
            return false;
        }
        let costs = &self.problem.costs;
        let mut cost = a.cost;
        if a.row == 0 && b.row > 0 {
            cost += costs.bunched;
        }
        if a.break_since && !b.break_since {
            cost += costs.split_by_break;
        }
        if a.started && !b.started {
            cost += costs.two_starts;
        }
        cost <= b.cost
    }

    /// A lower bound of all that is still to be paid.
    fn least_rest(&mut self, label: &Label) -> i64 {
        let problem = self.problem;
        let p = usize::from(label.periods);
        let due = problem.catch_up.saturating_sub(label.catch_ups.into());
        let Some(room) = (problem.horizon - p).checked_sub(problem.revision + due) else {
            return NEVER;
        };
        let set = self.sets.set(wide(label.set));
        if !self.fixed.is_empty() && !self.in_time(label, set) {
            return NEVER;
        }
        let sure = self.sure_moves(set, p);
        let all = self.least_shape(label, room, false);
        let ways = self.orders.least(&self.sets, wide(label.set), label.last());
        let taught = all.saturating_add(ways);
        let cheapest = self.cheapest_left_out(set);
        if cheapest >= taught {
            return taught.saturating_add(sure).min(NEVER);
        }
        let some = self.least_shape(label, room, true).max(cheapest);
        if self.partial_orders.is_none() {
            self.partial_orders = Some(Orders::of(problem, &self.sets, true));
        }
        let ways = self
            .partial_orders
            .as_ref()
            .map_or(0, |orders| orders.least(&self.sets, wide(label.set), label.last()));
        taught.min(some.saturating_add(ways)).saturating_add(sure).min(NEVER)
    }

    fn cheapest_left_out(&self, set: u64) -> i64 {
        let skills = &self.problem.skills;
        let rest = bits(!self.must & !set).take_while(|s| *s < skills.len());
        rest.map(|s| self.problem.costs.left_out * skills[s].weight).min().unwrap_or(NEVER)
    }

    /// Old lessons of skills not yet started whose periods have gone by.
    fn sure_moves(&self, set: u64, p: usize) -> i64 {
        let rest = self.passed.iter().enumerate().filter(|(s, _)| set >> s & 1 == 0);
        rest.map(|(_, passed)| passed[p]).sum()
    }

    /// Whether every skill held on a period can have all it needs before.
    fn in_time(&self, label: &Label, set: u64) -> bool {
        let p = usize::from(label.periods);
        let skills = &self.problem.skills;
        self.fixed.iter().filter(|f| f.at >= p && set >> f.skill & 1 == 0).all(|f| {
            let before: usize = bits(f.needs & !set).map(|s| skills[s].least).sum();
            let grown = label.last().filter(|_| label.lessons > 0);
            let own = grown.map_or(0, |l| skills[l].least.saturating_sub(label.lessons.into()));
            p + before + own <= f.at
        })
    }

    /// Short, extra, left-out and the shape of the term, over all numbers of lessons that fit.
    fn least_shape(&mut self, label: &Label, room: usize, leaving: bool) -> i64 {
        let p = usize::from(label.periods);
        let rest = if leaving { &mut self.partial_rest } else { &mut self.rest };
        let row = rest.row(self.problem, &mut self.sets, wide(label.set));
        let shape = |t: usize| self.shape.teach(p, label.row.into(), t);
        let mut least = NEVER;
        let mut add = |more: usize, own: i64| {
            let Some(top) = room.checked_sub(more + row.least) else { return };
            let top = top.min(row.cost.len() - 1);
            let mut look = |at: usize| {
                let cost = own + row.cost[at];
                let open = cost < least;
                if open {
                    least = least.min(cost.saturating_add(shape(more + row.least + at)));
                }
                open || leaving
            };
            // The row falls to its best entry and rises after it: stop where it alone is too dear.
            let best = row.best.min(top);
            let _ = (0..=best).rev().all(&mut look) | (best + 1..=top).all(&mut look);
        };
        match label.last() {
            Some(last) if label.lessons > 0 => {
                let had = usize::from(label.lessons);
                let most = self.problem.skills[last].most.max(had);
                for n in had..=most {
                    let own = self.finish.with(last, n);
                    if own < NEVER {
                        add(n - had, own);
                    }
                }
            }
            _ => add(0, 0),
        }
        least
    }
}

/// Where a label stands: the same set, last skill, its lessons and the number of periods.
fn place(label: &Label) -> u64 {
    let low = u64::from(label.periods) | u64::from(label.lessons) << 16;
    u64::from(label.set) << 32 | u64::from(label.last) << 24 | low
}
