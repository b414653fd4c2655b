//! The one next sum: where the two likeliest patterns give different answers.

use super::question::Question;
use crate::exercise::Item;
use crate::exercise::patterns::{Pattern, Task, pattern};
use crate::lesson::{Pack, Section, SectionName, sameness};
use crate::number::digit_count;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// A sum on which two patterns part.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Next {
    /// The item of the pack that asks it; null where the pack holds none and the sum is written on
    /// the board.
    pub item: Option<String>,
    /// The sum: `a*b`, or the question where it is no product or asks for an estimate.
    pub sum: String,
    /// What each of the two patterns answers; null for the right answer.
    pub answers: Vec<NextAnswer>,
}

/// What one pattern answers there.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct NextAnswer {
    /// The pattern; empty for a pupil without one, where there is only one pattern to suspect.
    pub pattern: String,
    /// Its answer, digits without grouping; null for the right one.
    pub answer: Option<String>,
}

/// Sums with zeros, carries and large digits in many places, from one digit by one to four by
/// three, for where a pack holds nothing that decides (chosen by hand).
const BOARD: &[(u64, u64)] = &[
    (7, 8),
    (6, 9),
    (4, 8),
    (7, 1),
    (9, 0),
    (97, 8),
    (86, 7),
    (60, 7),
    (34, 2),
    (478, 6),
    (981, 7),
    (306, 7),
    (417, 8),
    (500, 4),
    (3047, 6),
    (9507, 8),
    (89, 97),
    (68, 47),
    (50, 40),
    (47, 30),
    (36, 98),
    (16, 25),
    (423, 26),
    (994, 17),
    (308, 46),
    (5476, 38),
    (9507, 74),
    (312, 48),
    (478, 62),
    (265, 34),
    (423, 206),
    (524, 367),
    (300, 120),
    (8365, 574),
    (7092, 209),
    (1044, 249),
    (3081, 407),
    (6204, 107),
];

/// What a next sum is taken from.
pub(super) struct Source<'a> {
    /// Questions of the pack that pupils have not been told the answers to.
    pub open: Vec<Question<'a>>,
    /// What pupils have seen the answers to: see [`sameness`].
    seen: BTreeSet<String>,
}

impl<'a> Source<'a> {
    /// The questions of a pack like those that are marked and with nothing begun, but for what the lesson shows and goes
    /// over: warm-up, worked examples, guided practice.
    pub fn of(pack: &'a Pack, marked: &[&Item]) -> Source<'a> {
        let told = [SectionName::WarmUp, SectionName::Examples, SectionName::Guided];
        let (told, others): (Vec<&Section>, Vec<&Section>) =
            pack.sections.iter().partition(|section| told.contains(&section.name));
        let seen = told.into_iter().flat_map(|s| &s.items).chain(marked.iter().copied());
        let seen: BTreeSet<String> = seen.map(sameness).collect();
        let open = others.into_iter().flat_map(|s| &s.items).filter(|item| !item.is_begun());
        let open = open.filter(|item| marked.iter().any(|marked| marked.kind == item.kind));
        let open = open.filter(|item| !seen.contains(&sameness(item))).map(Question::of).collect();
        Source { open, seen }
    }
}

/// The sum that decides between two patterns: the first of the pack's open questions on which they
/// part, both showing if there is one; else a sum for the board as near as can be to what was
/// asked. An empty name is a pupil without a pattern.
pub(super) fn next(source: &Source, asked: &[&Question], names: [&str; 2]) -> Option<Next> {
    let answers = |q: &Question| names.map(|n| q.predicted.get(n).map(|a| a[0].0.clone()));
    let parts = |a: &[Option<String>; 2]| a[0] != a[1];
    let both = |a: &[Option<String>; 2]| a.iter().all(Option::is_some);
    let of_pack = source.open.iter().map(|q| (q, answers(q))).filter(|(_, a)| parts(a));
    // `max_by_key` takes the last of equals.
    if let Some((q, answers)) = of_pack.rev().max_by_key(|(_, a)| both(a)) {
        let sum = q.item.expression.clone().unwrap_or_else(|| q.item.prompt.clone());
        return Some(told(Some(q.item.id.clone()), sum, names, answers));
    }
    let (nature, wanted) = like(asked, names);
    let unseen =
        |(a, b): &&(u64, u64)| !source.seen.contains(&format!("{}*{}", a.min(b), a.max(b)));
    let board = BOARD.iter().filter(unseen).filter(|pair| nature.fits(pair)).map(|&(a, b)| {
        let first = |name: &str| nature.usual(pattern(name)?, (a, b));
        ((a, b), names.map(first))
    });
    let ((a, b), answers) = board
        .filter(|(_, a)| parts(a))
        .min_by_key(|((a, b), answers)| (!both(answers), size(*a, *b).abs_diff(wanted)))?;
    let sum = match nature {
        Nature::Estimate => format!("About how large is {a}*{b}?"),
        _ => format!("{a}*{b}"),
    };
    Some(told(None, sum, names, answers))
}

fn size(a: u64, b: u64) -> u32 {
    digit_count(a) * 4 + digit_count(b)
}

/// What a sum for the board asks for, the least work first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Nature {
    Estimate,
    Mental,
    Written,
}

impl Nature {
    /// Whether it may be asked with this pair.
    fn fits(self, &(a, b): &(u64, u64)) -> bool {
        let estimated = a.min(b) >= 10 && a.max(b) < 1000 && a % 10 > 0 && b % 10 > 0;
        self != Nature::Estimate || estimated
    }

    /// What a pattern answers first, the numbers taken the usual way round if it shows so; an estimate
    /// within three tenths of the product is right.
    fn usual(self, pattern: &Pattern, (a, b): (u64, u64)) -> Option<String> {
        let task = match self {
            Nature::Estimate => Task::Estimate(a, b),
            Nature::Mental => Task::Mental(a, b),
            Nature::Written => Task::Written(a, b),
        };
        let all = task.answers(pattern);
        let (answer, _) = all.iter().find(|(_, turned)| !turned).or(all.first())?;
        let right = self == Nature::Estimate && answer.abs_diff(a * b) * 10 <= a * b * 3;
        (!right).then(|| answer.to_string())
    }
}

/// The nature and the size of the sum to ask: the least work of what was asked on which one of these
/// shows, for a test asks all sorts of things.
fn like(asked: &[&Question], names: [&str; 2]) -> (Nature, u32) {
    let of = |q: &&&Question| {
        let found = match Task::of(q.item)? {
            Task::Written(a, b) | Task::Adding(a, b) => (Nature::Written, size(a, b)),
            Task::Row { a, digit, .. } => (Nature::Written, size(a, u64::from(digit))),
            Task::Mental(a, b) => (Nature::Mental, size(a, b)),
            Task::Estimate(a, b) => (Nature::Estimate, size(a, b)),
        };
        Some(found)
    };
    let shows = |q: &&&Question| names.iter().any(|name| q.predicted.contains_key(*name));
    let of_these = asked.iter().filter(shows).filter_map(|q| of(&q)).min();
    let any = || asked.iter().filter_map(|q| of(&q)).min();
    of_these.or_else(any).unwrap_or((Nature::Written, 0))
}

fn told(item: Option<String>, sum: String, names: [&str; 2], answers: [Option<String>; 2]) -> Next {
    let answer =
        |(name, answer): (&str, Option<String>)| NextAnswer { pattern: name.to_owned(), answer };
    Next { item, sum, answers: names.into_iter().zip(answers).map(answer).collect() }
}

#[cfg(test)]
mod tests {
    use super::super::tests::item;
    use super::*;
    use crate::exercise::Kind;
    use crate::exercise::patterns::{Family, catalogue};

    /// What is asked after a test of a large product, an estimate and a sum for the head.
    fn after_a_test(names: [&str; 2]) -> Next {
        let product = |kind, a: u64, b: u64| {
            let mut item = item("L58-T1", kind, Some(&format!("{a}*{b}")), &(a * b).to_string());
            item.prompt = format!("{a} × {b}");
            item
        };
        let items = [
            product(Kind::Written, 8365, 574),
            product(Kind::Estimate, 382, 56),
            product(Kind::Mental, 47, 6),
            product(Kind::Row, 4709, 600),
        ];
        let asked: Vec<Question> = items.iter().map(Question::of).collect();
        let source = Source { open: Vec::new(), seen: BTreeSet::new() };
        next(&source, &asked.iter().collect::<Vec<_>>(), names).expect("a sum")
    }

    #[test]
    fn an_estimate_decides_of_estimates_and_the_least_work_of_others() {
        let estimates = catalogue().iter().filter(|p| p.family == Family::Estimate);
        let mut told = 0;
        for known in estimates {
            // What is near enough to be accepted can never tell.
            if Nature::Estimate.usual(known, (382, 56)).is_none() {
                continue;
            }
            let next = after_a_test([known.name, ""]);
            assert!(next.sum.starts_with("About how large is "), "{}: {}", known.name, next.sum);
            assert!(next.answers[0].answer.is_some() && next.answers[1].answer.is_none());
            told += 1;
        }
        assert!(told >= 2, "{told}");
        let head = after_a_test(["tens-lost-their-zero", "one-zero-short"]).sum;
        let (a, b) = head.split_once('*').expect("a product");
        assert!(a.len() + b.len() <= 4, "{head}");
        let row = after_a_test(["carry-not-added", ""]).sum;
        assert!(row.ends_with("*8") || row.len() <= 6, "{row}");
    }
}
