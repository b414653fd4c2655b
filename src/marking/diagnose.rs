//! From one pupil's answers to the error patterns that may lie behind them.
//!
//! A naive Bayes model over "no pattern", each pattern of the catalogue, each single fact, and the
//! likeliest patterns two at a time: a pupil with a pattern gives its answer most of the time where
//! the pattern shows, the right answer otherwise, and slips like everybody. What buys certainty is
//! the specific wrong answer (Lee and Corter 2011 on subtraction); that pupils use a faulty way only
//! part of the time is Hatano, Amaiwa and Inagaki 1996. The numbers are defaults, not findings: see
//! [`Model`].
//!
//! The result is a hint for teaching. Most wrong answers of real pupils fit no known pattern, and
//! then no pattern is named.

use super::model::Model;
use super::pairs::{Both, together};
use super::question::Question;
use super::shown::{Shown, shown};
use crate::exercise::Kind;
use crate::exercise::patterns::{Family, Pattern, catalogue, pattern};
use indexmap::{IndexMap, IndexSet};
use serde::{Deserialize, Serialize};

/// A pattern that may lie behind a pupil's answers.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Suspect {
    /// The pattern's name.
    pub name: String,
    /// How probable the model holds it, alone or beside another, to four decimals.
    pub probability: f64,
    /// The items whose answers it explains.
    pub items: Vec<String>,
    /// The items that were answered rightly though it gives another answer there, the numbers taken
    /// the usual way round.
    pub against: Vec<String>,
    /// The pattern that most probably stands beside it, where the two together are more probable
    /// than not.
    #[serde(default)]
    pub beside: Option<String>,
    /// What the pupil would have on the page for one of these items, where the pattern can show it.
    #[serde(default)]
    pub working: Option<Shown>,
}

/// One answer of a pupil to one item.
pub(super) struct Observation<'a> {
    pub question: &'a Question<'a>,
    /// As meant: see [`Question::meant`].
    pub given: String,
    /// Whether it is of the newest check, which decides what is held against the pupil.
    pub newest: bool,
}

/// What one pattern makes of one answer: the share of the pattern's answers that this one is, and
/// how much they all add up to; `None` where the pattern does not show.
type Share = Option<(f64, f64)>;

impl Observation<'_> {
    pub(super) fn right(&self) -> bool {
        self.question.is_right(&self.given)
    }
    fn share(&self, pattern: &str) -> Share {
        let answers = self.question.predicted.get(pattern)?;
        let share = answers.iter().find(|(a, _)| *a == self.given).map_or(0.0, |(_, share)| *share);
        Some((share, answers.iter().map(|(_, share)| share).sum()))
    }
}

/// From how much on a pattern's answers add up where it shows the usual way round; where it shows
/// only with the numbers turned they come to a quarter at most.
const SHOWS: f64 = 0.5;

/// A pattern being weighed.
pub(super) struct Candidate<'a> {
    pub name: &'a str,
    /// What it weighs beside others.
    pub weight: f64,
    shares: Vec<Share>,
    /// How much likelier the answers are with it than without.
    pub ratio: f64,
}

impl Candidate<'_> {
    fn explains(&self, at: usize) -> bool {
        self.shares[at].is_some_and(|(share, _)| share > 0.0)
    }
    fn explained(&self) -> usize {
        (0..self.shares.len()).filter(|&at| self.explains(at)).count()
    }
}

/// What one pattern makes of each of these answers. What an earlier check showed of it counts until
/// the pupil has met it again and not made it: where the newest check has right answers on which it
/// would have shown, and none that it gives, the earlier answers are left out for this pattern.
fn shares_of(name: &str, seen: &[Observation]) -> Vec<Share> {
    let mut shares: Vec<Share> = seen.iter().map(|s| s.share(name)).collect();
    let newest = seen.iter().zip(&shares).filter(|(s, _)| s.newest);
    if done_rightly(newest.map(|(s, share)| (s, *share))) {
        for (share, _) in shares.iter_mut().zip(seen).filter(|(_, s)| !s.newest) {
            *share = None;
        }
    }
    shares
}

/// Whether a pattern would have shown on a right answer and was never made.
fn done_rightly<'s>(seen: impl Iterator<Item = (&'s Observation<'s>, Share)>) -> bool {
    let mut right = false;
    for (seen, share) in seen {
        if share.is_some_and(|(share, _)| share > 0.0) {
            return false;
        }
        right |= seen.right() && shows(share);
    }
    right
}

/// Whether these answers show the opposite of a pattern: see [`done_rightly`].
pub(super) fn mended(pattern: &str, seen: &[Observation]) -> bool {
    done_rightly(seen.iter().map(|s| (s, s.share(pattern))))
}

/// Whether a pattern shows the usual way round.
fn shows(share: Share) -> bool {
    share.is_some_and(|(_, all)| all >= SHOWS)
}

/// Two patterns at once.
pub(super) struct Pair {
    first: usize,
    second: usize,
    /// The observations that both together explain, in one sum.
    joint: Vec<usize>,
    /// Which share of all pairs it is, times how much likelier the answers are with it than without.
    pub odds: f64,
}

/// What all patterns weigh that pupils could show on such items, whether these show them or not.
#[derive(Debug, Clone, Copy)]
pub(super) struct Weights {
    /// All of them, and the single facts among them.
    pub all: f64,
    pub facts: f64,
    /// The squares of all.
    squares: f64,
}

/// A pupil's answers, weighed: how much likelier they are with each pattern than without.
pub(super) struct Weighing<'s> {
    weighed: Weighed<'s>,
    pub candidates: Vec<Candidate<'s>>,
    pub pairs: Vec<Pair>,
    pub weights: Weights,
}

/// Whether a pattern is a single wrong fact.
pub(super) fn is_fact(name: &str) -> bool {
    pattern(name).is_some_and(|p| p.family == Family::SingleFact)
}

/// From so many answers that two patterns give in one sum those two are weighed together.
const TOGETHER: usize = 2;

/// What is held of one pupil.
struct Weighed<'s> {
    seen: &'s [Observation<'s>],
    rights: Vec<bool>,
    without: Vec<f64>,
}

impl Model {
    /// The suspects behind these answers, most probable first; only patterns that explain at least
    /// one wrong answer of the newest check. At most so many patterns are paired.
    pub(super) fn weigh(&self, seen: &[Observation], paired: usize) -> Vec<Suspect> {
        self.suspects(&self.weighing(seen, paired))
    }

    /// How much likelier these answers are with each pattern than without; where all are right none
    /// are paired.
    pub(super) fn weighing<'s>(&self, seen: &'s [Observation], paired: usize) -> Weighing<'s> {
        let rights: Vec<bool> = seen.iter().map(Observation::right).collect();
        let all_right = rights.iter().all(|&right| right);
        let without = |(s, &right): (&Observation, &bool)| {
            (if right { 1.0 - self.slip } else { 0.0 }) + self.slip * s.question.slip(&s.given)
        };
        let without = seen.iter().zip(&rights).map(without).collect();
        let weighed = Weighed { seen, rights, without };
        let (candidates, weights) = self.candidates(&weighed);
        let pairs = match all_right {
            true => Vec::new(),
            false => self.pairs(&weighed, &candidates, weights, paired),
        };
        Weighing { weighed, candidates, pairs, weights }
    }

    /// The suspects behind answers that were weighed.
    pub(super) fn suspects(&self, weighing: &Weighing) -> Vec<Suspect> {
        let Weighing { weighed, candidates, pairs, weights } = weighing;
        if weighed.rights.iter().all(|&right| right) {
            return Vec::new();
        }
        let tilt = |name: &str| if is_fact(name) { self.facts } else { 1.0 };
        let all = weights.all + weights.facts * (self.facts - 1.0);
        let share = 1.0 - self.none - self.two;
        let prior = |c: &Candidate| share * c.weight * tilt(c.name) / all;
        let priors: Vec<f64> = candidates.iter().map(prior).collect();
        let singles: f64 = priors.iter().zip(candidates).map(|(prior, c)| prior * c.ratio).sum();
        // Patterns that cannot show here stay as probable as before.
        let hidden = (share - priors.iter().sum::<f64>()).max(0.0);
        let both = self.two * pairs.iter().map(|p| p.odds).sum::<f64>();
        let total = self.none + hidden + singles + both;
        let odds = Odds { priors, two: self.two, total };
        let mut suspects: Vec<Suspect> =
            (0..candidates.len()).filter_map(|at| suspect(at, weighing, &odds)).collect();
        suspects.sort_by(|p, q| q.probability.total_cmp(&p.probability));
        self.listed(suspects, weighed.seen)
    }

    /// The likeliest suspects, as many as are listed, and of the others whoever is the first to
    /// explain an item; each with its working.
    fn listed(&self, suspects: Vec<Suspect>, seen: &[Observation]) -> Vec<Suspect> {
        let mut explained: IndexSet<String> = IndexSet::new();
        let mut listed = Vec::new();
        for mut suspect in suspects {
            let explains = suspect.items.iter().any(|id| !explained.contains(id));
            if listed.len() < self.list_most || explains {
                explained.extend(suspect.items.iter().cloned());
                // Of the newest check, whose slips lie on the table, if it can be shown there.
                let (newest, earlier): (Vec<_>, Vec<_>) = seen.iter().partition(|s| s.newest);
                let all = newest.into_iter().chain(earlier);
                suspect.working = all
                    .filter(|s| suspect.items.contains(&s.question.item.id))
                    .find_map(|s| shown(s.question.item, &suspect.name, &s.given));
                listed.push(suspect);
            }
        }
        listed
    }

    /// The patterns that show on these items, and what all weigh.
    fn candidates<'q>(&self, weighed: &Weighed<'q>) -> (Vec<Candidate<'q>>, Weights) {
        let seen = weighed.seen;
        let mut names: IndexMap<&str, ()> = IndexMap::new();
        for name in seen.iter().flat_map(|s| s.question.predicted.keys()) {
            names.insert(name.as_str(), ());
        }
        // All that pupils could do on such items shares what is not "no pattern", whatever these
        // items can show: a short check must not be surer than a long one.
        let possible = catalogue().iter().filter(|p| seen.iter().any(|s| can_show(p, s.question)));
        let mut weights: IndexMap<&str, f64> =
            possible.map(|p| (p.name, self.weight(p.name, p.weight))).collect();
        for &name in names.keys() {
            let own = pattern(name).map_or(self.other_weight, |p| p.weight);
            weights.insert(name, self.weight(name, own));
        }
        let facts = weights.iter().filter(|(name, _)| is_fact(name)).map(|(_, weight)| weight);
        let facts = facts.sum();
        let all = weights.values().sum();
        let squares = weights.values().map(|w| w * w).sum();
        let candidate = |&name: &&'q str| {
            let shares = shares_of(name, seen);
            let ratio = self.over_consistencies(|c| {
                let each = (0..seen.len()).map(|at| self.ratio(weighed, at, shares[at], c));
                each.product()
            });
            Candidate { name, weight: weights[name], shares, ratio }
        };
        let candidates = names.keys().map(candidate).collect();
        (candidates, Weights { all, facts, squares })
    }

    /// The mean over how consistent a pupil may be.
    fn over_consistencies(&self, of: impl Fn(f64) -> f64) -> f64 {
        let count = f64::from(u32::try_from(self.consistency.len()).unwrap_or(1));
        self.consistency.iter().map(|&c| of(c)).sum::<f64>() / count
    }

    /// How much likelier an answer is from a pupil with a pattern than from one without.
    fn ratio(&self, weighed: &Weighed, at: usize, share: Share, consistency: f64) -> f64 {
        let Some((share, all)) = share else { return 1.0 };
        let right = if weighed.rights[at] { 1.0 } else { 0.0 };
        let meant = consistency * share + (1.0 - consistency * all) * right;
        let seen = &weighed.seen[at];
        let slip = self.slip * seen.question.slip(&seen.given);
        ((1.0 - self.slip) * meant + slip) / weighed.without[at]
    }

    /// The likeliest patterns two at a time, where two explain more than either does.
    fn pairs(
        &self,
        weighed: &Weighed,
        candidates: &[Candidate],
        Weights { all, squares, .. }: Weights,
        paired: usize,
    ) -> Vec<Pair> {
        let ways = ((all * all - squares) / 2.0).max(f64::MIN_POSITIVE);
        let mut pairs = Vec::new();
        for (first, second) in worth_pairing(weighed, candidates, paired) {
            let (p, q) = (&candidates[first], &candidates[second]);
            let (joint, ratio) = self.pair(weighed, p, q);
            let explained = (0..weighed.seen.len())
                .filter(|at| p.explains(*at) || q.explains(*at) || joint.contains(at))
                .count();
            if explained > p.explained().max(q.explained()) {
                let odds = p.weight * q.weight / ways * ratio;
                pairs.push(Pair { first, second, joint, odds });
            }
        }
        pairs
    }

    /// What two patterns explain in one sum, and how much likelier all answers are with both.
    ///
    /// Where both show, a pupil does both in one sum half of the time they are used at all, else
    /// the one or the other; where the catalogue cannot put them together, the one or the other.
    fn pair(&self, weighed: &Weighed, p: &Candidate, q: &Candidate) -> (Vec<usize>, f64) {
        let mut joint = Vec::new();
        let mut shares = Vec::new();
        for (at, seen) in weighed.seen.iter().enumerate() {
            shares.push(match (p.shares[at], q.shares[at]) {
                (Some((one, all_one)), Some((other, all_other))) => {
                    let both = together(seen.question.item, p.name, q.name);
                    let apart = ((one + other) / 2.0, (all_one + all_other) / 2.0);
                    if both.is_empty() {
                        Some(apart)
                    } else {
                        let fits = both.iter().any(|answer| answer.to_string() == seen.given);
                        if fits && !weighed.rights[at] {
                            joint.push(at);
                        }
                        let each = 1.0 / f64::from(u32::try_from(both.len()).unwrap_or(1));
                        let hit = if fits { each } else { 0.0 };
                        Some(((hit + apart.0) / 2.0, f64::midpoint(1.0, apart.1)))
                    }
                }
                (one, other) => one.or(other),
            });
        }
        let ratio = self.over_consistencies(|c| {
            (0..shares.len()).map(|at| self.ratio(weighed, at, shares[at], c)).product()
        });
        (joint, ratio)
    }

    /// The suspects sure enough to be named: one, or two that stand beside each other.
    pub(super) fn named<'s>(&self, suspects: &'s [Suspect]) -> (Option<&'s str>, Option<&'s str>) {
        let sure = |s: &&Suspect| s.probability >= self.name_from;
        let first = suspects.first().filter(sure);
        let beside = first.and_then(|first| {
            let other = suspects.get(1).filter(sure)?;
            (first.beside.as_ref() == Some(&other.name)).then_some(other.name.as_str())
        });
        (first.map(|s| s.name.as_str()), beside)
    }
}

/// How probable things are before and after.
struct Odds {
    priors: Vec<f64>,
    /// How likely two patterns at once are.
    two: f64,
    total: f64,
}

/// A candidate as a suspect, still without its working; `None` where it explains nothing.
fn suspect(at: usize, weighing: &Weighing, odds: &Odds) -> Option<Suspect> {
    let Weighing { weighed, candidates, pairs, .. } = weighing;
    let Odds { priors, two, total } = odds;
    let own = &candidates[at];
    let with = || pairs.iter().filter(|p| p.first == at || p.second == at);
    let odds = priors[at] * own.ratio + two * with().map(|p| p.odds).sum::<f64>();
    let probability = odds / total;
    let beside = with().find(|p| two * p.odds * 2.0 > *total);
    let joint = beside.map_or(&[][..], |p| &p.joint);
    let explains = |n: usize| own.explains(n) || joint.contains(&n);
    let id = |n: usize| weighed.seen[n].question.item.id.clone();
    let (items, others): (Vec<usize>, Vec<usize>) =
        (0..own.shares.len()).partition(|&n| explains(n));
    // Only a right answer where the pattern gives another one speaks against it.
    let against = others.into_iter().filter(|&n| weighed.rights[n] && shows(own.shares[n]));
    let now = items.iter().any(|&n| weighed.seen[n].newest);
    now.then(|| Suspect {
        name: own.name.to_owned(),
        probability: (probability * 10_000.0).round() / 10_000.0,
        items: items.into_iter().map(id).collect(),
        against: against.map(id).collect(),
        beside: beside.map(|p| {
            let other = if p.first == at { p.second } else { p.first };
            candidates[other].name.to_owned()
        }),
        working: None,
    })
}

/// The patterns to weigh two at a time: the likeliest with each other, and those that together give
/// answers which neither gives alone.
fn worth_pairing(
    weighed: &Weighed,
    candidates: &[Candidate],
    paired: usize,
) -> IndexSet<(usize, usize)> {
    let mut best: Vec<usize> =
        (0..candidates.len()).filter(|&i| candidates[i].explained() > 0).collect();
    best.sort_by(|&i, &j| {
        let odds = |i: usize| candidates[i].weight * candidates[i].ratio;
        odds(j).total_cmp(&odds(i))
    });
    best.truncate(paired);
    let mut found = IndexSet::new();
    for (place, &first) in best.iter().enumerate() {
        found.extend(best[place + 1..].iter().map(|&second| (first, second)));
    }
    if paired == 0 {
        return found;
    }
    let mut hits: IndexMap<Both, usize> = IndexMap::new();
    for seen in weighed.seen.iter().filter(|seen| !seen.right()) {
        for &both in seen.question.together(&seen.given) {
            *hits.entry(both).or_insert(0) += 1;
        }
    }
    hits.retain(|_, hits| *hits >= TOGETHER);
    hits.sort_by(|_, more, _, less| less.cmp(more));
    let place = |name: &str| candidates.iter().position(|c| c.name == name);
    for ((row, placing), _) in hits.into_iter().take(paired) {
        let (Some(first), Some(second)) = (place(row), place(placing)) else { continue };
        if !found.contains(&(second, first)) {
            found.insert((first, second));
        }
    }
    found
}

/// Whether a pattern is about the sort of work an item asks for.
fn can_show(pattern: &Pattern, question: &Question) -> bool {
    use Family::{Estimate, Fact, Long, Mental, Row, SingleFact, Zeros};
    let family = pattern.family;
    match question.item.kind {
        Kind::Written | Kind::Row => match family {
            Row | Zeros | SingleFact => true,
            Long => question.several_rows,
            Fact => pattern.name == "added-instead",
            Mental | Estimate => false,
        },
        Kind::Mental => matches!(family, Fact | Zeros | Mental | SingleFact),
        Kind::Estimate => family == Estimate,
        _ => false,
    }
}

/// The rule a teacher can check by hand: at least three wrong answers fit a pattern, those are at
/// least 60 % of the wrong ones, and no other pattern fits as many (a default without a source;
/// three of five is Cox's criterion for a systematic error, from memory). One of them is of the
/// newest check.
pub(super) fn by_hand(seen: &[Observation]) -> Option<String> {
    let wrong: Vec<&Observation> = seen.iter().filter(|s| !s.right()).collect();
    let mut fits: IndexMap<String, usize> = IndexMap::new();
    for name in wrong.iter().flat_map(|s| s.question.patterns_of(&s.given)) {
        *fits.entry(name).or_insert(0) += 1;
    }
    let most = fits.values().copied().max().filter(|&n| n >= 3 && 5 * n >= 3 * wrong.len())?;
    let mut best = fits.into_iter().filter(|&(_, n)| n == most);
    let (name, _) = best.next()?;
    let fits = |s: &&Observation| s.question.patterns_of(&s.given).contains(&name);
    let now = wrong.into_iter().filter(fits).any(|s| s.newest);
    (now && best.next().is_none()).then_some(name)
}
