//! Of schedules that cost the same, one whose catch-ups lie evenly over the term.
//!
//! The definition leaves it open which of several best schedules is taken. A teacher wants room to
//! catch up every now and then, not before the first lesson and not all at the end: so catch-ups
//! are moved, one at a time, while that makes the stretches between them more even and costs
//! nothing.

use super::judged;
use super::problem::{Hold, Problem, Wanted};
use super::search::Found;

/// At most so many schedules are tried: effort is counted in steps.
const MOST_TRIES: usize = 600;

/// The same with its catch-ups spread; every step is judged like a finished schedule.
pub fn spread(wanted: Wanted<'_>, problem: &Problem, found: Found) -> Found {
    let mut best = found;
    let mut tries = 0;
    while let Some(better) = step(wanted, problem, &best, &mut tries) {
        best = better;
    }
    best
}

/// The most even schedule that one move reaches at the same cost.
fn step(wanted: Wanted<'_>, problem: &Problem, from: &Found, tries: &mut usize) -> Option<Found> {
    let now = unevenness(&from.holds);
    let mut moves: Vec<(usize, usize, usize)> = Vec::new();
    for at in catch_ups(&from.holds) {
        for to in 0..from.holds.len() {
            let uneven = unevenness(&moved(&from.holds, at, to));
            if uneven < now {
                moves.push((uneven, at, to));
            }
        }
    }
    moves.sort_unstable();
    for (_, at, to) in moves {
        if *tries >= MOST_TRIES {
            return None;
        }
        *tries += 1;
        let tried = Found { holds: moved(&from.holds, at, to), ..from.clone() };
        if judged(wanted, problem, &tried).is_ok() {
            return Some(tried);
        }
    }
    None
}

fn catch_ups(holds: &[Hold]) -> Vec<usize> {
    let is_catch_up = |(at, hold): (usize, &Hold)| matches!(hold, Hold::CatchUp).then_some(at);
    holds.iter().enumerate().filter_map(is_catch_up).collect()
}

fn moved(holds: &[Hold], at: usize, to: usize) -> Vec<Hold> {
    let mut holds = holds.to_vec();
    let hold = holds.remove(at);
    holds.insert(to, hold);
    holds
}

/// The sum of the squares of the stretches between catch-ups, from the term's beginning to its end;
/// nothing is worse than one before there is anything to catch up.
fn unevenness(holds: &[Hold]) -> usize {
    let mut last = 0;
    let too_early = matches!(holds.first(), Some(Hold::CatchUp));
    let mut sum = if too_early { holds.len() * holds.len() } else { 0 };
    for at in catch_ups(holds).into_iter().map(|at| at + 1).chain([holds.len() + 1]) {
        sum += (at - last) * (at - last);
        last = at;
    }
    sum
}
