//! Slips counted in piles: which pattern gives the answers on them, and what they are sorted by.
//!
//! Nobody knows whose answers belong together, so that of each version as many pupils as the
//! largest pile holds have a pattern at most.

use super::groups::MOST_SKILLS;
use super::marks::WrongPile;
use crate::method::Written;
use indexmap::{IndexMap, IndexSet};

/// From so many slips on one item a pattern makes a group of slips; from fewer where it shows on
/// more items than one (defaults without a source).
pub(super) const SLIPS: u32 = 3;

/// Slips with the same wrong answer, which a known pattern gives.
#[derive(Debug, Clone, Copy)]
pub(super) struct Counted<'a> {
    /// Of which version: its place among the parts.
    pub version: usize,
    pub id: &'a str,
    pub skill: &'a str,
    pub pile: &'a WrongPile,
}

/// All slips that go to one pattern.
#[derive(Debug, Clone, Default)]
pub(super) struct Slips<'a>(pub Vec<Counted<'a>>);

impl<'a> Slips<'a> {
    /// How many pupils they come from at most: of each version as many as its largest pile holds.
    pub fn count(&self) -> u32 {
        let mut largest: IndexMap<usize, u32> = IndexMap::new();
        for slips in &self.0 {
            let most = largest.entry(slips.version).or_insert(0);
            *most = slips.pile.count.max(*most);
        }
        largest.into_values().fold(0, u32::saturating_add)
    }

    /// Whether they are many enough to be a group by themselves.
    pub fn make_a_group(&self) -> bool {
        let largest = self.0.iter().map(|slips| slips.pile.count).max().unwrap_or(0);
        let items: IndexSet<&str> = self.0.iter().map(|slips| slips.id).collect();
        self.count() >= SLIPS || (items.len() > 1 && largest > 1)
    }

    /// The skills of their items, those of the largest piles first.
    pub fn skills(&self) -> Vec<String> {
        let mut by_size = self.0.clone();
        by_size.sort_by_key(|slips| std::cmp::Reverse(slips.pile.count));
        let skills: IndexSet<&str> = by_size.iter().map(|slips| slips.skill).collect();
        skills.into_iter().take(MOST_SKILLS).map(str::to_owned).collect()
    }

    /// The answers on them, by item.
    pub fn sort_by(&self) -> Vec<(String, Vec<String>)> {
        let mut sort_by: IndexMap<&str, Vec<String>> = IndexMap::new();
        for slips in &self.0 {
            sort_by.entry(slips.id).or_default().push(slips.pile.answer.clone());
        }
        sort_by.into_iter().map(|(id, all)| (id.to_owned(), all)).collect()
    }

    /// The method each pile comes from, where that is not the item's own.
    pub fn methods(&self) -> impl Iterator<Item = Option<Written>> {
        self.0.iter().map(|slips| slips.pile.given_by().1)
    }
}

/// Patterns that pupils are grouped for, one or several that cannot be told apart, and how many
/// pupils they are.
pub(super) type Grouped<'a> = (Vec<&'a str>, usize);

/// Slips shared out over patterns.
#[derive(Debug, Default)]
pub(super) struct Shared<'a> {
    /// By group of pupils: the slips that its pattern gives.
    pub with_pupils: Vec<Slips<'a>>,
    /// By pattern that no group of pupils has.
    pub alone: Vec<(&'a str, Slips<'a>)>,
}

/// Every pile goes to the pattern that most pupils and slips of all items fit; of two as many to the
/// one that more slips fit, then to the catalogue's first.
pub(super) fn shared<'a>(mut piles: Vec<Counted<'a>>, grouped: &[Grouped]) -> Shared<'a> {
    let none = || Slips(Vec::new());
    let with_pupils = grouped.iter().map(|_| none()).collect();
    let mut shared = Shared { with_pupils, alone: Vec::new() };
    while !piles.is_empty() {
        let best_group = (0..grouped.len()).rev().map(|at| {
            let (names, pupils) = &grouped[at];
            let slips = piles.iter().filter(|p| own_way(p, names));
            let slips = slips.fold(0, |n: u32, p| n.saturating_add(p.pile.count));
            let all = slips.saturating_add(u32::try_from(*pupils).unwrap_or(u32::MAX));
            (if slips > 0 { all } else { 0 }, at)
        });
        // `max_by_key` takes the last of equals.
        let best_group = best_group.max_by_key(|(size, _)| *size).filter(|(size, _)| *size > 0);
        let best_alone = largest(&piles);
        let taken = match (best_group, best_alone) {
            (Some((size, at)), alone) if alone.is_none_or(|(_, slips)| slips < size) => {
                let (own, rest) = piles.into_iter().partition(|p| own_way(p, &grouped[at].0));
                shared.with_pupils[at].0.extend::<Vec<Counted>>(own);
                rest
            }
            (_, Some((name, _))) => {
                let gives = |p: &Counted| p.pile.given_by().0.iter().any(|own| own == name);
                let (own, rest) = piles.into_iter().partition(gives);
                shared.alone.push((name, Slips(own)));
                rest
            }
            _ => Vec::new(),
        };
        piles = taken;
    }
    shared
}

/// Whether one of these patterns gives the answer by the item's own method.
fn own_way(counted: &Counted, names: &[&str]) -> bool {
    counted.pile.patterns.iter().any(|own| names.contains(&own.as_str()))
}

/// The pattern that most of these slips fit, and how many those are.
fn largest<'a>(piles: &[Counted<'a>]) -> Option<(&'a str, u32)> {
    let mut fit: IndexMap<&str, u32> = IndexMap::new();
    for counted in piles {
        for name in counted.pile.given_by().0 {
            let slips = fit.entry(name).or_insert(0);
            *slips = slips.saturating_add(counted.pile.count);
        }
    }
    // `max_by_key` takes the last of equals: the catalogue's first comes first.
    fit.into_iter().rev().max_by_key(|&(_, slips)| slips)
}
