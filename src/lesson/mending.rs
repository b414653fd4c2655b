//! Written sums on which a mistake would show, so that each is a chance to do it rightly.

use super::Fault;
use super::bench::{Bench, Made, Want, seconds};
use super::practice::Source;
use crate::exercise::makers::{self, Spot};
use crate::exercise::patterns::{Pattern, Task, pattern};
use crate::exercise::{Item, Kind};
use crate::method::ordered;
use crate::number::{digit_count, digits, ten_to};
use crate::seed::Stream;
use std::collections::BTreeSet;

/// So many pairs are drawn to choose from.
pub const DRAWN: usize = 4000;
/// From so many pairs that fit the easiest are taken.
const CHOSEN_FROM: usize = 4;

/// So many pairs of this size, longer number first, that are sums for paper; no round numbers.
pub fn drawn(stream: &mut Stream, size: (u32, u32)) -> Vec<(u64, u64)> {
    let mut all = any_drawn(stream, size);
    all.retain(|&(a, b)| makers::on_paper(a, b));
    all
}

/// The same with those that are as quickly done in the head: × 5 is for the head, but what goes
/// wrong in 5 × 5 on paper shows nowhere else.
pub fn any_drawn(stream: &mut Stream, (top, side): (u32, u32)) -> Vec<(u64, u64)> {
    let all = (0..DRAWN).map(|_| (draw(stream, top), draw(stream, side)));
    let plain = |&(a, b): &(u64, u64)| !a.is_multiple_of(10) && (b < 10 || !b.is_multiple_of(10));
    all.filter(plain).collect()
}

/// The same with multipliers that end in a zero: what goes wrong in a row of noughts shows in no
/// shorter sum.
pub fn tens_drawn(stream: &mut Stream, (top, side): (u32, u32)) -> Vec<(u64, u64)> {
    let all = (0..DRAWN).map(|_| (draw(stream, top), draw(stream, side) / 10 * 10));
    all.filter(|&(a, b)| !a.is_multiple_of(10) && b > 10).collect()
}

/// A number of so many digits, a multiplier of one digit at least 3.
fn draw(stream: &mut Stream, digits: u32) -> u64 {
    let low = if digits == 1 { 3 } else { ten_to(digits as usize - 1) };
    stream.number(low..=ten_to(digits as usize) - 1)
}

/// Patterns that are about the zeros of the rows, which begun sums have printed.
const OF_ZEROS: &[&str] = &[
    "placeholder-left-out",
    "hundreds-row-shifted-once",
    "later-rows-extra-zero",
    "row-after-zero-closed-up",
    "zero-row-copied",
    "zero-written-over-digit",
];

/// Whether a sum that is begun, its zeros printed, has done already what goes wrong here.
pub fn in_printed_zeros(pattern: &str) -> bool {
    OF_ZEROS.contains(&pattern)
}

/// How many products of two digits carry.
pub fn carries(a: u64, b: u64) -> usize {
    let side = digits(b);
    let pairs = digits(a).into_iter().flat_map(|x| side.iter().map(move |y| (x, *y)));
    pairs.filter(|(x, y)| x * y >= 10).count()
}

/// Whether a pattern would show on this sum, the numbers taken the usual way round.
pub fn shows(pattern: &Pattern, a: u64, b: u64) -> bool {
    Task::Written(a, b).answers(pattern).iter().any(|&(_, turned)| !turned)
}

/// Whether a mistake would show on the item.
pub fn brings_back(item: &Item, name: &str) -> bool {
    let listed = || item.likely.iter().any(|l| l.patterns.iter().any(|p| p == name));
    match (Task::of(item), pattern(name)) {
        (Some(task), Some(pattern)) => task.answers(pattern).iter().any(|&(_, turned)| !turned),
        _ => listed(),
    }
}

/// How an item brings back what may be one of several mistakes.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Back {
    /// Not all of them, nor does it tell them apart.
    No,
    /// All show, though not by answers of their own.
    Alike,
    /// The answer tells which it is; one of them may answer rightly.
    Apart,
    /// All show, each by an answer of its own.
    Shown,
}

/// How an item brings back a mistake that is one of these; of a single one whether it shows.
pub fn back(item: &Item, names: &[&str]) -> Back {
    if let [name] = names {
        return if brings_back(item, name) { Back::Shown } else { Back::No };
    }
    let answers: Vec<Option<String>> = names.iter().map(|name| usual(item, name)).collect();
    let different: BTreeSet<&Option<String>> = answers.iter().collect();
    let shown = answers.iter().flatten().count();
    match (different.len() == names.len(), shown == names.len()) {
        (true, true) => Back::Shown,
        (true, false) => Back::Apart,
        (false, true) => Back::Alike,
        (false, false) => Back::No,
    }
}

/// What a mistake answers to the item, the numbers taken the usual way round; `None` where it does
/// not show.
pub fn usual(item: &Item, name: &str) -> Option<String> {
    let listed = || {
        let own = |l: &&crate::exercise::Likely| l.patterns.iter().any(|p| p == name);
        item.likely.iter().find(own).map(|l| l.answer.clone())
    };
    match (Task::of(item), pattern(name)) {
        (Some(task), Some(pattern)) => task.usual_answers(pattern).first().map(u64::to_string),
        _ => listed(),
    }
}

/// Whether a whole written sum is short enough to be done without its rows: two digits times one.
pub fn is_short(item: &Item) -> bool {
    matches!(Task::of(item), Some(Task::Written(a, b)) if a.max(b) < 100 && a.min(b) < 10)
}

/// The digits of the largest whole written product among these; `None` where there is none.
pub fn size(made: &[Made]) -> Option<(u32, u32)> {
    let written = made.iter().filter(|m| m.item.kind == Kind::Written);
    let sizes = written.filter_map(|m| match Task::of(&m.item)? {
        Task::Written(a, b) => Some(ordered(a, b)),
        _ => None,
    });
    sizes.map(|(a, b)| (digit_count(a), digit_count(b))).max()
}

/// So many pairs on which all of these patterns show, easier ones first, no number on top twice;
/// where there are too few, pairs on which any of them shows. `fits` leaves out what pupils have
/// met.
pub fn pairs(
    stream: &mut Stream,
    size: (u32, u32),
    patterns: &[&Pattern],
    count: usize,
    fits: impl Fn(u64, u64) -> bool,
) -> Vec<(u64, u64)> {
    let pool = drawn(stream, size);
    // Zeros and ones inside hide mistakes; a number times itself hides which was taken for which.
    let plain = |&&(a, b): &&(u64, u64)| {
        a != b && fits(a, b) && [a, b].iter().all(|&n| digits(n).iter().all(|&digit| digit > 1))
    };
    let every = |&&(a, b): &&(u64, u64)| patterns.iter().all(|p| shows(p, a, b));
    let any = |&&(a, b): &&(u64, u64)| patterns.iter().any(|p| shows(p, a, b));
    let mut found: Vec<(u64, u64)> = Vec::new();
    let wanted = count * CHOSEN_FROM;
    let both = pool.iter().filter(plain).filter(every);
    let one = pool.iter().filter(plain).filter(any);
    for &(a, b) in both.chain(one) {
        if found.len() == wanted {
            break;
        }
        if found.iter().all(|&(x, _)| x != a) {
            found.push((a, b));
        }
    }
    found.sort_by_key(|&(a, b)| (!patterns.iter().all(|p| shows(p, a, b)), carries(a, b)));
    found.truncate(count);
    found
}

/// What a lesson that teaches again puts on its sheets for those who need it.
#[derive(Debug, Clone)]
pub struct Mend {
    /// The support sheet takes first the items on which one of these patterns would show.
    pub patterns: Vec<String>,
    /// By source: pairs for written sums in which the commonest mistakes would show.
    pub pairs: Vec<Vec<(u64, u64)>>,
    /// Whether the support sheet gets all of the pairs, sharing them with no core sheet.
    pub alone: bool,
    /// By source: so many of the sums on the support sheet are begun.
    pub begun: Vec<usize>,
    /// By source: how many pupils need it, and so its share of a sheet for all; empty where the shares
    /// are equal.
    pub weights: Vec<u32>,
}

/// A group's own support sheet: what it draws on, its skill first, and what it mends.
#[derive(Debug, Clone)]
pub struct ForSheet {
    /// The skills.
    pub sources: Vec<Source>,
    /// What stands on it first.
    pub mend: Mend,
}

/// Whether the key names this mistake beside the item.
pub fn in_key(made: &Made, pattern: &str) -> bool {
    made.item.likely.iter().any(|l| l.patterns.iter().any(|p| p == pattern))
}

impl Mend {
    /// The part of so much that this source gets, of those up to `surely` that still wait.
    pub fn part(&self, whole: u32, index: usize, surely: usize) -> Option<u32> {
        let waiting = self.weights.get(index..surely).filter(|waiting| !waiting.is_empty())?;
        let all: u64 = waiting.iter().map(|&weight| u64::from(weight)).sum();
        let part = u64::from(whole) * u64::from(waiting[0]) / all.max(1);
        u32::try_from(part).ok()
    }

    /// Whether the support sheet takes the item before others.
    pub fn prefers(&self, made: &Made) -> bool {
        self.patterns.iter().any(|pattern| in_key(made, pattern))
    }

    /// A source's sums for a sheet, as many as fill the seconds wanted; on the support sheet the
    /// first are begun.
    pub fn sums(&self, bench: &mut Bench, index: usize, want: &Want) -> Result<Vec<Made>, Fault> {
        let pairs = self.pairs(index, want.spot);
        let begun = self.begun.get(index).filter(|_| want.spot == Spot::Support);
        let begun = begun.map_or(0, |&begun| begun.min(pairs.len()));
        let (begun, alone) = pairs.split_at(begun);
        let mut made = bench.make_of(want, begun)?;
        let left = want.seconds.saturating_sub(seconds(&made));
        let want = Want { spot: Spot::Core, seconds: left, ..want.clone() };
        made.extend(bench.make_of(&want, alone)?);
        Ok(made)
    }
    /// The pairs of a source for a sheet: the support sheet gets every other one from the first on,
    /// the core sheet the others.
    fn pairs(&self, index: usize, spot: Spot) -> Vec<(u64, u64)> {
        let first = match spot {
            Spot::Support => 0,
            Spot::Core => 1,
            _ => return Vec::new(),
        };
        let all = self.pairs.get(index).map_or(&[][..], Vec::as_slice);
        if self.alone {
            return if spot == Spot::Support { all.to_vec() } else { Vec::new() };
        }
        all.iter().copied().skip(first).step_by(2).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::seed::Seed;

    #[test]
    fn both_patterns_show_on_every_pair_and_easier_ones_come_first() {
        let patterns = ["placeholder-left-out", "carry-not-added"]
            .map(|name| pattern(name).expect("a pattern"));
        let mut stream = Seed::of("mending").stream();
        let pairs = pairs(&mut stream, (2, 2), &patterns, 12, |a, _| a != 47);
        assert_eq!(pairs.len(), 12);
        for &(a, b) in &pairs {
            assert!(patterns.iter().all(|p| !p.answers(a, b).is_empty()), "{a} × {b}");
            assert!(a != 47 && digit_count(a) == 2 && digit_count(b) == 2);
        }
        assert!(pairs.is_sorted_by_key(|&(a, b)| carries(a, b)), "{pairs:?}");
    }
}
