//! The one next sum: where the two likeliest patterns give different answers.

use super::question::Question;
use crate::exercise::Item;
use crate::exercise::patterns::{Task, pattern};
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
    /// The sum: `a*b`, or the item's question where it is no product.
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
    let size = |a: u64, b: u64| digit_count(a) * 4 + digit_count(b);
    let tasks = asked.iter().filter_map(|q| Task::of(q.item));
    let (mental, wanted) = tasks.fold((false, 0), |(mental, wanted), task| match task {
        Task::Written(a, b) | Task::Adding(a, b) => (mental, wanted.max(size(a, b))),
        Task::Row { a, digit, place } => (mental, wanted.max(size(a, u64::from(digit) * place))),
        Task::Mental(a, b) | Task::Estimate(a, b) => (true, wanted.max(size(a, b))),
    });
    let unseen =
        |(a, b): &&(u64, u64)| !source.seen.contains(&format!("{}*{}", a.min(b), a.max(b)));
    let board = BOARD.iter().filter(unseen).map(|&(a, b)| {
        let task = if mental { Task::Mental(a, b) } else { Task::Written(a, b) };
        let first = |name: &str| {
            let all = task.answers(pattern(name)?);
            let usual = all.iter().find(|(_, turned)| !turned).or(all.first())?;
            Some(usual.0.to_string())
        };
        ((a, b), names.map(first))
    });
    let ((a, b), answers) = board
        .filter(|(_, a)| parts(a))
        .min_by_key(|((a, b), answers)| (!both(answers), size(*a, *b).abs_diff(wanted)))?;
    Some(told(None, format!("{a}*{b}"), names, answers))
}

fn told(item: Option<String>, sum: String, names: [&str; 2], answers: [Option<String>; 2]) -> Next {
    let answer =
        |(name, answer): (&str, Option<String>)| NextAnswer { pattern: name.to_owned(), answer };
    Next { item, sum, answers: names.into_iter().zip(answers).map(answer).collect() }
}
