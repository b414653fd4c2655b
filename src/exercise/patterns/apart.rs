//! Choosing sums on which different patterns give different answers.
//!
//! The weights of the choice (three for a pattern still seen too seldom, one for a pair still told
//! apart too seldom) are defaults without a source; the idea that a program should judge the
//! diagnostic worth of a test is Brown and Burton's (1978).
//!
//! What a set of sums is worth counts each pattern and each pair up to a limit, so that a sum adds
//! to a larger set at most what it adds to a smaller one: of such measures the greedy choice
//! reaches at least 1 − 1/e, 63 %, of the best there can be (Nemhauser, Wolsey and Fisher 1978).

use super::{Pattern, Task, pattern};
use std::collections::BTreeSet;

/// On how many sums each pattern should show.
const SHOWN: usize = 3;
/// On how many sums two patterns should differ.
const APART: usize = 2;

/// What a set of sums cannot tell.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Apart {
    /// Pairs of patterns that answer alike on every sum on which either shows.
    pub alike: Vec<(&'static str, &'static str)>,
    /// Patterns that give the right answer on every sum.
    pub hidden: Vec<&'static str>,
}

/// The answers of each pattern to one task; the usual way round where there is one.
fn answers(task: &Task, patterns: &[&'static Pattern]) -> Vec<BTreeSet<u64>> {
    let usual = |pattern: &&'static Pattern| {
        let all = task.answers(pattern);
        let turned = all.iter().all(|&(_, turned)| turned);
        all.into_iter().filter(|&(_, t)| t == turned).map(|(answer, _)| answer).collect()
    };
    patterns.iter().map(usual).collect()
}

fn pairs(n: usize) -> impl Iterator<Item = (usize, usize)> {
    (0..n).flat_map(move |i| (i + 1..n).map(move |j| (i, j)))
}

fn named(names: &[&str]) -> Vec<&'static Pattern> {
    names.iter().filter_map(|name| pattern(name)).collect()
}

/// What these sums cannot tell about these patterns (names that are not in the catalogue are left
/// out).
pub fn tells_apart(tasks: &[Task], patterns: &[&str]) -> Apart {
    let patterns = named(patterns);
    let table: Vec<_> = tasks.iter().map(|task| answers(task, &patterns)).collect();
    let hidden: Vec<usize> =
        (0..patterns.len()).filter(|&p| table.iter().all(|row| row[p].is_empty())).collect();
    let alike = pairs(patterns.len())
        .filter(|(i, j)| !hidden.contains(i) && !hidden.contains(j))
        .filter(|&(i, j)| table.iter().all(|row| row[i] == row[j]));
    Apart {
        alike: alike.map(|(i, j)| (patterns[i].name, patterns[j].name)).collect(),
        hidden: hidden.iter().map(|&p| patterns[p].name).collect(),
    }
}

/// Chooses at most `how_many` of the pool, by index and in the order chosen, so that each of these
/// patterns shows and each pair of them answers differently as often as can be. Greedy; of equals
/// the sum on which more patterns stand alone, then the earlier one.
pub fn choose(pool: &[Task], patterns: &[&str], how_many: usize) -> Vec<usize> {
    choose_after(&[], pool, patterns, how_many)
}

/// The same after sums that the pupils have been asked already: together they should tell most.
pub fn choose_after(
    asked: &[Task],
    pool: &[Task],
    patterns: &[&str],
    how_many: usize,
) -> Vec<usize> {
    let patterns = named(patterns);
    let table: Vec<_> = pool.iter().map(|task| answers(task, &patterns)).collect();
    let mut told = Told::nothing(patterns.len());
    asked.iter().for_each(|task| told.add(&answers(task, &patterns)));
    let mut chosen: Vec<usize> = Vec::new();
    while chosen.len() < how_many.min(pool.len()) {
        let best = (0..pool.len())
            .filter(|i| !chosen.contains(i))
            .max_by_key(|&i| (told.gain(&table[i]), standing_alone(&table[i]), pool.len() - i));
        let Some(best) = best else { break };
        told.add(&table[best]);
        chosen.push(best);
    }
    chosen
}

/// What these sums together are worth for telling these patterns apart.
pub fn worth(tasks: &[Task], patterns: &[&str]) -> usize {
    let patterns = named(patterns);
    let mut told = Told::nothing(patterns.len());
    let gains = tasks.iter().map(|task| {
        let row = answers(task, &patterns);
        let gain = told.gain(&row);
        told.add(&row);
        gain
    });
    gains.sum()
}

/// On how many sums each pattern shows and each pair of patterns differs.
struct Told {
    shown: Vec<usize>,
    apart: Vec<usize>,
}

impl Told {
    fn nothing(patterns: usize) -> Told {
        Told { shown: vec![0; patterns], apart: vec![0; pairs(patterns).count()] }
    }

    fn add(&mut self, row: &[BTreeSet<u64>]) {
        for (count, answers) in self.shown.iter_mut().zip(row) {
            *count += usize::from(!answers.is_empty());
        }
        for (count, (i, j)) in self.apart.iter_mut().zip(pairs(row.len())) {
            *count += usize::from(row[i] != row[j]);
        }
    }

    /// What one more sum would add.
    fn gain(&self, row: &[BTreeSet<u64>]) -> usize {
        let shown = row.iter().zip(&self.shown);
        let newly = shown.filter(|(a, count)| !a.is_empty() && **count < SHOWN).count();
        let apart = pairs(row.len()).zip(&self.apart);
        let told = apart.filter(|((i, j), count)| **count < APART && row[*i] != row[*j]);
        3 * newly + told.count()
    }
}

/// How many patterns have an answer that no other gives.
fn standing_alone(row: &[BTreeSet<u64>]) -> usize {
    let alone = |i: usize| {
        !row[i].is_empty() && (0..row.len()).all(|j| j == i || row[i].is_disjoint(&row[j]))
    };
    (0..row.len()).filter(|&i| alone(i)).count()
}
