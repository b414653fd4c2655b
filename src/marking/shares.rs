//! How many pupils of a class have no pattern, a single wrong fact, another pattern or two at once,
//! learnt from the answers of the class that is marked.
//!
//! Expectation and maximisation over those four shares (Dempster, Laird and Rubin 1977), begun from
//! what the model takes for granted, which counts like [`LIKE`] pupils more. What a pupil's own
//! answers say is left out for that pupil, so that nothing counts twice and a pupil alone is judged
//! as without a class. However many they are, the odds that a pupil has any pattern grow no more than
//! [`MOST_ANY`]-fold and never shrink, and those between sorts of patterns change no more than
//! [`MOST_TIMES`]-fold.

use super::diagnose::{Weighing, is_fact};
use super::model::{MOST_TIMES, Model};

/// What the model takes for granted counts like so many pupils (a default without a source).
const LIKE: f64 = 10.0;

/// The most that a class can multiply the odds by that a pupil has any pattern: with more, one pupil in
/// a hundred without a pattern and more would be given one (`DEVELOPERS.md` has the figures).
const MOST_ANY: f64 = 2.0;

/// So many rounds: the shares then change by less than a thousandth.
const ROUNDS: usize = 30;

/// No pattern, one that is no single fact, a single fact, two at once: shares, or how much likelier a
/// pupil's answers are so than without a pattern.
type Four = [f64; 4];

/// The model for each of these pupils, after the answers of all the others.
pub(super) fn learnt(model: &Model, pupils: &[Weighing]) -> Vec<Model> {
    let default: Vec<Four> = pupils.iter().map(|pupil| shares(model, pupil)).collect();
    let ratios: Vec<Four> = pupils.iter().map(ratios).collect();
    let mut now: Four = mean(&default);
    let begun = now;
    let mut each: Vec<Four> = Vec::new();
    for _ in 0..ROUNDS {
        each = ratios.iter().map(|ratios| owned(&now, ratios)).collect();
        now = after(&begun, &each);
    }
    let all: Four = each.iter().fold([0.0; 4], |sum, own| add(&sum, own, 1.0));
    let count = count(each.len());
    let without = |own: &Four| -> Four {
        let others = add(&add(&all, own, -1.0), &begun, LIKE);
        others.map(|share| share / (count - 1.0 + LIKE))
    };
    each.iter().map(|own| bounded(model, &begun, &without(own))).collect()
}

/// What the model takes for granted of such a check.
fn shares(model: &Model, pupil: &Weighing) -> Four {
    let one = 1.0 - model.none - model.two;
    let facts = pupil.weights.facts / pupil.weights.all;
    [model.none, one * (1.0 - facts), one * facts, model.two]
}

/// How much likelier the answers are so than without a pattern: over all patterns of a sort, those that
/// cannot show here with them.
fn ratios(pupil: &Weighing) -> Four {
    let weights = pupil.weights;
    let of = |facts: bool, all: f64| -> f64 {
        let own = pupil.candidates.iter().filter(|c| is_fact(c.name) == facts);
        let (shown, ratio) = own
            .fold((0.0, 0.0), |(shown, ratio), c| (shown + c.weight, ratio + c.weight * c.ratio));
        if all > 0.0 { (ratio + (all - shown).max(0.0)) / all } else { 0.0 }
    };
    let two = pupil.pairs.iter().map(|pair| pair.odds).sum();
    [1.0, of(false, weights.all - weights.facts), of(true, weights.facts), two]
}

/// How probable each of the four is of a pupil.
fn owned(shares: &Four, ratios: &Four) -> Four {
    let mut own = *shares;
    own.iter_mut().zip(ratios).for_each(|(share, ratio)| *share *= ratio);
    let all: f64 = own.iter().sum();
    own.map(|share| share / all)
}

/// The shares after what is held of each pupil.
fn after(begun: &Four, each: &[Four]) -> Four {
    let start = begun.map(|share| share * LIKE);
    let sum = each.iter().fold(start, |sum, own| add(&sum, own, 1.0));
    sum.map(|share| share / (count(each.len()) + LIKE))
}

fn add(one: &Four, other: &Four, times: f64) -> Four {
    let mut sum = *one;
    sum.iter_mut().zip(other).for_each(|(sum, other)| *sum += times * other);
    sum
}

fn mean(all: &[Four]) -> Four {
    let sum = all.iter().fold([0.0; 4], |sum, own| add(&sum, own, 1.0));
    sum.map(|share| share / count(all.len()).max(1.0))
}

fn count(all: usize) -> f64 {
    f64::from(u32::try_from(all).unwrap_or(u32::MAX))
}

/// The model with these shares, as far as its bounds let them count.
fn bounded(model: &Model, begun: &Four, learnt: &Four) -> Model {
    let within = |times: f64| times.clamp(1.0 / MOST_TIMES, MOST_TIMES);
    let [none, pattern, fact, two] = *learnt;
    // The odds of any pattern against none.
    let odds = |none: f64| (1.0 - none) / none;
    let odds = odds(model.none) * (odds(none) / odds(model.none)).clamp(1.0, MOST_ANY);
    let facts = match begun {
        [_, patterns, facts, _] if *patterns > 0.0 && *facts > 0.0 => {
            within((fact / pattern) / (facts / patterns))
        }
        _ => 1.0,
    };
    let some = odds / (1.0 + odds);
    // Of who has any pattern, who has two.
    let pairs = model.two / (1.0 - model.none);
    let pairs = pairs * within((two / (1.0 - none)) / pairs);
    Model { none: 1.0 - some, two: some * pairs, facts: model.facts * facts, ..model.clone() }
}
