//! From one pupil's answers to the error patterns that may lie behind them.
//!
//! A naive Bayes model over "no pattern" and each pattern of the catalogue: a pupil with a pattern
//! gives its answer most of the time where the pattern shows, the right answer otherwise, and slips
//! like everybody. What buys certainty is the specific wrong answer (Lee and Corter 2011 on
//! subtraction); that pupils use a faulty way only part of the time is Hatano, Amaiwa and Inagaki
//! 1996. The numbers are defaults, not findings: see [`Model`].
//!
//! The result is a hint for teaching. Most wrong answers of real pupils fit no known pattern, and
//! then no pattern is named.

use super::question::Question;
use crate::exercise::patterns::{catalogue, pattern};
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

/// What the model takes for granted. No source gives these numbers for multiplication.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Model {
    /// How likely a pupil has no pattern, before anything is known.
    pub none: f64,
    /// How much of the rest a pattern gets that is not in the catalogue (a story's wrong turn);
    /// catalogue patterns bring their own weight, 3 or 1.
    pub other_weight: u32,
    /// How often a pupil with a pattern uses it where it shows.
    pub consistency: f64,
    /// How often any pupil slips.
    pub slip: f64,
    /// From which probability on a pattern is named.
    pub name_from: f64,
    /// Below which probability a pattern is not listed.
    pub list_from: f64,
    /// At most so many patterns are listed.
    pub list_most: usize,
}

impl Default for Model {
    fn default() -> Self {
        Model {
            none: 0.80,
            other_weight: 3,
            consistency: 0.75,
            slip: 0.10,
            name_from: 0.80,
            list_from: 0.05,
            list_most: 3,
        }
    }
}

/// A pattern that may lie behind a pupil's answers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Suspect {
    /// The pattern's name.
    pub name: String,
    /// How probable the model holds it, to four decimals.
    pub probability: f64,
    /// The items whose answers it explains.
    pub items: Vec<String>,
    /// The items on which it would have shown and did not.
    pub against: Vec<String>,
}

/// One answer of a pupil to one item.
pub(super) struct Observation<'a> {
    pub question: &'a Question<'a>,
    /// As meant: see [`Question::meant`].
    pub given: String,
}

impl Observation<'_> {
    fn right(&self) -> bool {
        self.question.is_right(&self.given)
    }
    /// The share of the pattern's answers that this one is, and how much they all add up to; `None`
    /// where it does not show.
    fn share(&self, pattern: &str) -> Option<(f64, f64)> {
        let answers = self.question.predicted.get(pattern)?;
        let share = answers.iter().find(|(a, _)| *a == self.given).map_or(0.0, |(_, share)| *share);
        Some((share, answers.iter().map(|(_, share)| share).sum()))
    }
}

impl Model {
    /// How likely an answer is from a pupil without a pattern.
    fn without(&self, seen: &Observation) -> f64 {
        let right = if seen.right() { 1.0 } else { 0.0 };
        (1.0 - self.slip) * right + self.slip / seen.question.spread
    }
    /// How much likelier an answer is from a pupil with this pattern than from one without.
    fn ratio(&self, seen: &Observation, pattern: &str) -> f64 {
        let Some((share, all)) = seen.share(pattern) else { return 1.0 };
        let right = if seen.right() { 1.0 } else { 0.0 };
        let meant = self.consistency * share + (1.0 - self.consistency * all) * right;
        ((1.0 - self.slip) * meant + self.slip / seen.question.spread) / self.without(seen)
    }
    fn weight(&self, name: &str) -> u32 {
        pattern(name).map_or(self.other_weight, |p| p.weight)
    }

    /// The suspects behind these answers, most probable first; only patterns that explain at least
    /// one wrong answer.
    pub(super) fn suspects(&self, seen: &[Observation]) -> Vec<Suspect> {
        let mut odds: IndexMap<&str, f64> = IndexMap::new();
        let names = seen.iter().flat_map(|s| s.question.predicted.keys());
        for name in names {
            odds.entry(name.as_str()).or_insert(0.0);
        }
        // The whole catalogue shares what is not "no pattern", whatever these items can show: a
        // short check must not be surer than a long one.
        let others = odds.keys().filter(|name| pattern(name).is_none()).count();
        let others = f64::from(u32::try_from(others).unwrap_or(u32::MAX));
        let listed: f64 = catalogue().iter().map(|p| f64::from(p.weight)).sum();
        let all_weights = listed + others * f64::from(self.other_weight);
        let mut shown = 0.0;
        for (name, odds) in &mut odds {
            let prior = (1.0 - self.none) * f64::from(self.weight(name)) / all_weights;
            shown += prior;
            *odds = prior * seen.iter().map(|s| self.ratio(s, name)).product::<f64>();
        }
        // Patterns that cannot show here stay as probable as before.
        let hidden = (1.0 - self.none - shown).max(0.0);
        let total: f64 = self.none + hidden + odds.values().sum::<f64>();
        let mut suspects: Vec<Suspect> = odds
            .into_iter()
            .map(|(name, odds)| self.suspect(name, odds / total, seen))
            .filter(|s| !s.items.is_empty() && s.probability >= self.list_from)
            .collect();
        suspects.sort_by(|p, q| q.probability.total_cmp(&p.probability));
        suspects.truncate(self.list_most);
        suspects
    }

    fn suspect(&self, name: &str, probability: f64, seen: &[Observation]) -> Suspect {
        let shown = seen.iter().filter_map(|s| Some((s, s.share(name)?.0)));
        let (explained, against): (Vec<_>, Vec<_>) = shown.partition(|&(_, share)| share > 0.0);
        let ids = |list: Vec<(&Observation, f64)>| {
            list.into_iter().map(|(s, _)| s.question.item.id.clone()).collect()
        };
        Suspect {
            name: name.to_owned(),
            probability: (probability * 10_000.0).round() / 10_000.0,
            items: ids(explained),
            against: ids(against),
        }
    }

    /// The suspect sure enough to be named.
    pub(super) fn named<'s>(&self, suspects: &'s [Suspect]) -> Option<&'s str> {
        let first = suspects.first().filter(|s| s.probability >= self.name_from)?;
        Some(&first.name)
    }
}

/// The rule a teacher can check by hand: at least three wrong answers fit a pattern, those are at
/// least 60 % of the wrong ones, and no other pattern fits as many (a default without a source;
/// three of five is Cox's criterion for a systematic error, from memory).
pub(super) fn by_hand(seen: &[Observation]) -> Option<String> {
    let wrong: Vec<&Observation> = seen.iter().filter(|s| !s.right()).collect();
    let mut fits: IndexMap<String, usize> = IndexMap::new();
    for name in wrong.iter().flat_map(|s| s.question.patterns_of(&s.given)) {
        *fits.entry(name).or_insert(0) += 1;
    }
    let most = fits.values().copied().max().filter(|&n| n >= 3 && 5 * n >= 3 * wrong.len())?;
    let mut best = fits.into_iter().filter(|&(_, n)| n == most);
    let (name, _) = best.next()?;
    best.next().is_none().then_some(name)
}

/// Of these questions, the first on which two patterns give different answers: what to ask next.
pub(super) fn decider(questions: &[Question], first: &str, second: &str) -> Option<String> {
    let answers = |q: &Question, name: &str| {
        q.predicted
            .get(name)
            .map(|a| a.iter().map(|(answer, _)| answer.clone()).collect::<Vec<_>>())
    };
    let tells = |q: &&Question| answers(q, first) != answers(q, second);
    questions.iter().find(tells).map(|q| q.item.id.clone())
}
