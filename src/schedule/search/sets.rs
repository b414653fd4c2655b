//! Down-sets of skills: each set met gets a number, with what may be started from it, and the
//! least cost of the order in which the rest can follow, time left aside.

use crate::schedule::problem::Problem;
use indexmap::IndexSet;
use std::hash::{BuildHasherDefault, Hasher};
use std::rc::Rc;

/// More down-sets than this are too many to number all of them.
pub const MOST_SETS: usize = 200_000;
/// Costs of orders fit in 32 bits: at most 64 thread-cuts and 2,016 pairs of 1,000,000 each.
const NEVER: u32 = u32::MAX;

/// A multiplicative hash: the same on every machine, and never asked for an order.
#[derive(Default)]
pub struct Mix(u64);

impl Hasher for Mix {
    fn finish(&self) -> u64 {
        self.0
    }
    fn write(&mut self, bytes: &[u8]) {
        for byte in bytes {
            self.write_u64(u64::from(*byte));
        }
    }
    fn write_u64(&mut self, word: u64) {
        let mixed = (self.0 ^ word).wrapping_mul(0x9e37_79b9_7f4a_7c15);
        self.0 = mixed ^ (mixed >> 32);
    }
}

/// The bits of a set, lowest first.
pub fn bits(mut set: u64) -> impl Iterator<Item = usize> {
    std::iter::from_fn(move || {
        let low = set.trailing_zeros();
        set &= set.wrapping_sub(1);
        usize::try_from(low).ok().filter(|low| *low < 64)
    })
}

/// Numbered down-sets.
#[derive(Clone)]
pub struct Sets {
    numbers: IndexSet<u64, BuildHasherDefault<Mix>>,
    open: Vec<u64>,
    needs: Vec<u64>,
    /// For each numbered set and skill the number of the set with that skill; only when all
    /// sets are numbered.
    with: Vec<u32>,
}

impl Sets {
    /// Numbers all down-sets from `start` on, or only `start` where they are too many or the
    /// others can wait until they are met.
    pub fn from(start: u64, needs: Vec<u64>, all: bool) -> Sets {
        let mut sets =
            Sets { numbers: IndexSet::default(), open: Vec::new(), needs, with: Vec::new() };
        sets.number(start);
        let mut at = 0;
        while all && at < sets.numbers.len() {
            for skill in bits(sets.open[at]) {
                let next = sets.number(sets.set(at) | 1 << skill);
                let place = at * sets.needs.len() + skill;
                sets.with.resize((at + 1) * sets.needs.len(), 0);
                sets.with[place] = u32::try_from(next).unwrap_or(0);
            }
            sets.with.resize((at + 1) * sets.needs.len(), 0);
            at += 1;
            if sets.numbers.len() > MOST_SETS {
                sets.numbers.truncate(1);
                sets.open.truncate(1);
                sets.with = Vec::new();
                break;
            }
        }
        sets
    }

    /// Whether every down-set has its number.
    pub fn complete(&self) -> bool {
        !self.with.is_empty() || self.needs.is_empty()
    }

    pub fn len(&self) -> usize {
        self.numbers.len()
    }

    /// The set of this number.
    pub fn set(&self, number: usize) -> u64 {
        *self.numbers.get_index(number).expect("a numbered set")
    }

    /// The skills that may be started from it.
    pub fn open(&self, number: usize) -> u64 {
        self.open[number]
    }

    /// The number of the set with one more skill.
    pub fn with(&mut self, number: usize, skill: usize) -> usize {
        match self.with.get(number * self.needs.len() + skill) {
            Some(next) => usize::try_from(*next).unwrap_or(0),
            None => self.number(self.set(number) | 1 << skill),
        }
    }

    fn number(&mut self, set: u64) -> usize {
        let (number, new) = self.numbers.insert_full(set);
        if new {
            let ready = |(s, needs): (usize, &u64)| {
                if set >> s & 1 == 0 && needs & !set == 0 { 1 << s } else { 0 }
            };
            self.open.push(self.needs.iter().enumerate().map(ready).fold(0, |a, b| a | b));
        }
        number
    }
}

/// The sets and orders of the last problem, for the next one over the same skills: problems that
/// differ in a wish or two are solved one after the other.
#[derive(Default)]
pub struct Kept {
    last: Option<(u64, Sets, Rc<Orders>)>,
}

impl Kept {
    /// The sets from `start` on and the least costs of their orders.
    pub fn sets_and_orders(
        &mut self,
        problem: &Problem,
        start: u64,
        all: bool,
    ) -> (Sets, Rc<Orders>) {
        let blank = Orders::blank(problem, false);
        if let Some((from, sets, orders)) = &self.last
            && *from == start
            && all
            && orders.alike(&blank)
        {
            return (sets.clone(), orders.clone());
        }
        let sets = Sets::from(start, blank.waits, all);
        let orders = Rc::new(Orders::of(problem, &sets, false));
        if all && sets.complete() {
            self.last = Some((start, sets.clone(), orders.clone()));
        }
        (sets, orders)
    }
}

/// The least thread-cut and order cost of all orders the rest can follow in.
pub struct Orders {
    cut: u32,
    order: u32,
    /// For each skill those that directly need it.
    followers: Vec<u64>,
    needs: Vec<u64>,
    /// What each skill waits for: what it needs and more.
    waits: Vec<u64>,
    /// For each skill those that stood after it in the old schedule.
    later: Vec<u64>,
    must: u64,
    /// For each set: the least cost that begins with any skill, the first for free.
    any: Vec<u32>,
    /// For each set and skill: the least cost that begins with it, itself for free.
    first: Vec<u32>,
    /// Whether what is optional may be left out for nothing.
    may_stop: bool,
}

impl Orders {
    pub fn of(problem: &Problem, sets: &Sets, may_stop: bool) -> Orders {
        let mut orders = Orders::blank(problem, may_stop);
        if sets.complete() {
            orders.fill(sets);
        }
        orders
    }

    /// What the costs follow from; none is worked out yet.
    fn blank(problem: &Problem, may_stop: bool) -> Orders {
        let skills = &problem.skills;
        let needs: Vec<u64> = skills.iter().map(|s| s.needs).collect();
        let among = |wanted: &dyn Fn(usize) -> bool| {
            (0..skills.len()).filter(|s| wanted(*s)).fold(0u64, |a, s| a | 1 << s)
        };
        let followers =
            (0..skills.len()).map(|s| among(&|t| needs[t] >> s & 1 == 1)).collect::<Vec<_>>();
        let first = |s: usize| problem.old.as_ref().and_then(|old| old.first[s]);
        let after =
            |s: usize, t: usize| matches!((first(s), first(t)), (Some(a), Some(b)) if a < b);
        let later = (0..skills.len()).map(|s| among(&|t| after(s, t))).collect();
        Orders {
            cut: u32::try_from(problem.costs.thread_cut).unwrap_or(0),
            order: u32::try_from(problem.costs.order).unwrap_or(0),
            followers,
            needs,
            waits: skills.iter().map(|s| s.waits).collect(),
            later,
            must: among(&|s| !skills[s].optional),
            any: Vec::new(),
            first: Vec::new(),
            may_stop,
        }
    }

    /// Whether the costs of two problems over the same sets are the same.
    fn alike(&self, other: &Orders) -> bool {
        let of = |o: &Orders| (o.cut, o.order, o.must, o.may_stop);
        of(self) == of(other)
            && (&self.needs, &self.waits, &self.later) == (&other.needs, &other.waits, &other.later)
    }

    /// From the largest sets to the smallest: a set's number is less than those of its successors.
    fn fill(&mut self, sets: &Sets) {
        let width = self.needs.len();
        self.any = vec![NEVER; sets.len()];
        self.first = vec![NEVER; sets.len() * width];
        for number in (0..sets.len()).rev() {
            let set = sets.set(number);
            let mut least = NEVER;
            for skill in bits(sets.open(number)) {
                let next = usize::try_from(sets.with[number * width + skill]).unwrap_or(0);
                let rest = self.after(sets, next, skill);
                let cost = rest.saturating_add(self.pairs(set, skill));
                self.first[number * width + skill] = cost;
                least = least.min(cost);
            }
            self.any[number] = least;
        }
    }

    /// The order cost of starting a skill after those of a set.
    pub fn pairs(&self, set: u64, skill: usize) -> u32 {
        self.order * (set & self.later[skill]).count_ones()
    }

    fn after(&self, sets: &Sets, number: usize, last: usize) -> u32 {
        let set = sets.set(number);
        let open = sets.open(number);
        if open == 0 || (self.may_stop && self.must & !set == 0) {
            return 0;
        }
        let row = &self.first[number * self.needs.len()..];
        bits(open & self.followers[last])
            .map(|s| row[s])
            .fold(self.any[number].saturating_add(self.cut), u32::min)
    }

    /// The least cost to the end from a set whose last skill this is.
    pub fn least(&self, sets: &Sets, number: usize, last: Option<usize>) -> i64 {
        let set = sets.set(number);
        if self.any.is_empty() {
            return self.sure_cuts(set, last);
        }
        match last {
            Some(last) => self.after(sets, number, last).into(),
            None if sets.open(number) == 0 || (self.may_stop && self.must == 0) => 0,
            None => self.any[number].into(),
        }
    }

    /// Where the sets are too many: skills that need nothing still to come follow none they need.
    fn sure_cuts(&self, set: u64, last: Option<usize>) -> i64 {
        let Some(last) = last else { return 0 };
        let rest = (0..self.needs.len()).filter(|s| set >> s & 1 == 0);
        let rest = rest.filter(|s| !self.may_stop || self.must >> s & 1 == 1);
        let cuts = rest.filter(|s| (self.needs[*s] & !set) == 0 && self.needs[*s] >> last & 1 == 0);
        i64::from(self.cut) * i64::try_from(cuts.count()).unwrap_or(0)
    }

    /// Whether starting a skill cuts the thread.
    pub fn cuts(&self, last: usize, skill: usize) -> bool {
        self.needs[skill] >> last & 1 == 0
    }
}
