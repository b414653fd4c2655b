//! Error patterns: wrong procedures that compute definite wrong answers.
//!
//! A pattern is a procedure, not a label: given two numbers it writes the very working a pupil with
//! that habit would write, and so its answer. Pupils change the order of the numbers, so every
//! pattern is run both ways round; and it says something about a sum only where its answer is not
//! the product ("active"). Patterns that could never be told apart by answers are one pattern here;
//! those that meet only on some sums are told apart by choosing sums ([`tells_apart`], [`choose`]).
//!
//! What a pattern shows is a hint for teaching. How common each is among pupils is not known; the
//! weights only keep two derived patterns behind those that have been seen in classrooms.

mod apart;
mod both;
mod column;
mod estimates;
mod explain;
mod facts;
mod house;
mod likely;
mod long;
mod mental;
mod named;
mod page;
mod rows;
mod steps;
mod task;
#[cfg(test)]
mod tests;
mod working;
mod zeros;

pub use apart::{Apart, choose, choose_after, tells_apart, worth};
pub use both::{all_that_stand_together, both_answers, both_show, show_both, stand_together};
pub use column::{Column, Done};
pub use explain::{Cause, Explanation, explain, show, show_row};
pub use likely::{
    likely_written, likely_wrong, likely_wrong_adding, likely_wrong_estimate, likely_wrong_mental,
    likely_wrong_row, shows_in,
};
pub use mental::is_near_round;
pub use page::{beside, right_heading, right_page};
pub use task::{Prediction, Task};
pub use working::{WrongLong, WrongRow, WrongWorking};

use crate::method::{estimate, ordered};
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};
use std::sync::LazyLock;
use working::Detail;

/// A wrong answer and the names of the patterns that give it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct WrongAnswer {
    /// The answer, digits without grouping.
    pub answer: String,
    /// The patterns' names, in the order of the catalogue.
    pub patterns: Vec<String>,
}

/// What a pattern is about.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Family {
    /// One fact of the tables, asked by itself.
    Fact,
    /// A number times one digit, also as a row of a longer sum.
    Row,
    /// A multiplier of several digits: rows, places, adding, grid.
    Long,
    /// Zeros at the ends of numbers.
    Zeros,
    /// Mental routes.
    Mental,
    /// Estimates.
    Estimate,
    /// One fact that is wrong wherever it is needed, with everything else right.
    SingleFact,
}

/// How a pattern's wrong working is made.
#[derive(Debug, Clone, Copy)]
enum Procedure {
    Fact(fn(u64, u64) -> Vec<WrongWorking>),
    Row(rows::WorkRow),
    Written(long::WorkLong),
    Zeros(long::WorkLong),
    Mental(fn(u64, u64) -> Vec<WrongWorking>),
    Estimate(fn(u64, u64) -> Vec<WrongWorking>),
    SingleFact(u8, u8),
}

/// A pattern as the catalogue holds it.
#[derive(Debug, Clone, Copy)]
pub struct Pattern {
    /// Its name: what the pupil did.
    pub name: &'static str,
    /// What it shows, in at most 24 letters, for the key.
    pub short: &'static str,
    /// What it shows, for the teacher's page.
    pub shows: &'static str,
    /// How to teach it, a sentence or two.
    pub teach: &'static str,
    /// What it is about.
    pub family: Family,
    /// How much it weighs beside others before anything is known of a class: 3 for patterns seen
    /// in classrooms, 1 for derived ones and single facts (a default without a source).
    pub weight: u32,
    procedure: Procedure,
}

/// One way a pattern may come out on a sum.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Attempt {
    /// Whether the numbers were taken the other way round than they are usually written (the longer
    /// one on top, the first if they are equally long).
    pub turned: bool,
    /// The working, with its answer.
    pub working: WrongWorking,
}

static CATALOGUE: LazyLock<Vec<Pattern>> = LazyLock::new(|| {
    let groups: [&[Pattern]; 8] = [
        facts::FACTS,
        &[facts::ADDED],
        rows::ROWS,
        long::LONG,
        zeros::ZEROS,
        mental::MENTAL,
        estimates::ESTIMATES,
        facts::SINGLE_FACTS,
    ];
    groups.concat()
});

/// All patterns, in the order of the catalogue.
pub fn catalogue() -> &'static [Pattern] {
    &CATALOGUE
}

/// The pattern of this name: of the catalogue, or one that has a name and words only.
pub fn pattern(name: &str) -> Option<&'static Pattern> {
    catalogue().iter().chain(named::NAMED).find(|p| p.name == name)
}

/// The largest number the patterns are run on: six digits.
const LARGEST: u64 = 999_999;

impl Pattern {
    /// What the pattern gives for a × b, usual way round first; only where it is not the product,
    /// each answer once. Nothing for numbers of more than six digits.
    pub fn attempts(&self, a: u64, b: u64) -> Vec<Attempt> {
        let mut found: Vec<Attempt> = Vec::new();
        for attempt in self.tries(a, b, Detail::Page) {
            if found.iter().all(|f| f.working.value() != attempt.working.value()) {
                found.push(attempt);
            }
        }
        found
    }
    /// The wrong answers of [`Pattern::attempts`].
    pub fn answers(&self, a: u64, b: u64) -> Vec<u64> {
        self.turned_answers(a, b).into_iter().map(|(answer, _)| answer).collect()
    }
    /// The same, each with whether the numbers were taken the other way round.
    fn turned_answers(&self, a: u64, b: u64) -> Vec<(u64, bool)> {
        let mut found: Vec<(u64, bool)> = Vec::new();
        self.each_answer(a, b, |answer, turned| {
            if found.iter().all(|&(known, _)| known != answer) {
                found.push((answer, turned));
            }
        });
        found
    }
    /// Hands on every wrong answer that [`Pattern::tries`] comes to, without its page.
    fn each_answer(&self, a: u64, b: u64, mut found: impl FnMut(u64, bool)) {
        let Procedure::Row(work) = self.procedure else {
            for attempt in self.tries(a, b, Detail::Answer) {
                found(attempt.working.value(), attempt.turned);
            }
            return;
        };
        if a.max(b) > LARGEST {
            return;
        }
        let (a, b) = ordered(a, b);
        for (turned, top, side) in [(false, a, b), (true, b, a)] {
            if !turned || a != b {
                let answers = long::answers_with_rows(work, top, side).into_iter();
                answers.filter(|&answer| answer != a * b).for_each(|answer| found(answer, turned));
            }
        }
    }
    /// Every way the pattern comes out wrong on a × b, under every layout: the same answer may
    /// come twice, from pages of different kinds.
    fn tries(&self, a: u64, b: u64, how: Detail) -> Vec<Attempt> {
        self.tries_of(&[false, true], a, b, how)
    }
    /// The same, the usual way round, the other one, or both.
    fn tries_of(&self, turns: &[bool], a: u64, b: u64, how: Detail) -> Vec<Attempt> {
        if a.max(b) > LARGEST {
            return Vec::new();
        }
        let (a, b) = ordered(a, b);
        // To an estimate the right one is no wrong answer either.
        let about = (self.family == Family::Estimate).then(|| estimate(a, b).value);
        let mut found: Vec<Attempt> = Vec::new();
        for &turned in turns {
            let (top, side) = if turned { (b, a) } else { (a, b) };
            if turned && (a == b || self.is_mirrored()) {
                continue;
            }
            let mut wrong = self.worked(top, side, how);
            wrong.retain(|w| w.value() != a * b && Some(w.value()) != about);
            found.extend(wrong.into_iter().map(|working| Attempt { turned, working }));
        }
        found
    }
    /// Whether another pattern of the catalogue is this one the other way round.
    fn is_mirrored(&self) -> bool {
        matches!(self.name, "ones-by-leading-left-out" | "leading-by-ones-left-out")
    }
    /// What the pattern writes for these numbers, the first on top.
    fn worked(&self, top: u64, side: u64, how: Detail) -> Vec<WrongWorking> {
        match self.procedure {
            Procedure::Fact(procedure) => facts::apply(procedure, top, side),
            Procedure::Row(procedure) => long::with_rows(procedure, top, side, how),
            Procedure::Written(procedure) => long::apply(procedure, top, side, how),
            Procedure::Zeros(procedure) => procedure(top, side, how),
            Procedure::Mental(procedure) => procedure(top, side),
            Procedure::Estimate(procedure) => estimates::apply(procedure, top, side),
            Procedure::SingleFact(x, y) => facts::one_fact_wrong(x, y, top, side, how),
        }
    }
}

/// Whether any pattern gives one of these numbers for a × b: as [`all_wrong`], which lists them.
pub fn gives_any(a: u64, b: u64, numbers: &[u64]) -> bool {
    if numbers.is_empty() {
        return false;
    }
    catalogue().iter().any(|pattern| {
        let mut gives = false;
        pattern.each_answer(a, b, |answer, _| gives |= numbers.contains(&answer));
        gives
    })
}

/// Every wrong answer any pattern gives for a × b, both ways round, under every layout and method.
///
/// Answers come in the order of the catalogue by their first pattern, and within one pattern the
/// usual way round first. Nothing for numbers of more than six digits.
pub fn all_wrong(a: u64, b: u64) -> Vec<WrongAnswer> {
    let mut found: IndexMap<u64, Vec<String>> = IndexMap::new();
    for pattern in catalogue() {
        for answer in pattern.answers(a, b) {
            found.entry(answer).or_default().push(pattern.name.to_owned());
        }
    }
    let wrong = |(answer, patterns): (u64, _)| WrongAnswer { answer: answer.to_string(), patterns };
    found.into_iter().map(wrong).collect()
}
