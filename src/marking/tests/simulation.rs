//! How well marking does on made-up pupils, and whether its probabilities are true.
//!
//! For eight designed sums of four by three digits and ten of three by one the shares to come near
//! to were worked out by program beforehand with another implementation: at consistency 0.90 and
//! slips 0.05 all patterns are named rightly, at 0.75 and 0.10 97 %, at 0.60 and 0.15 87 and 90 %,
//! with next to no false alarms. All of it assumes that the pupil's pattern is in the catalogue;
//! most wrong answers of real pupils are not.

use super::made_up::{
    Check, Habit, NOISES, Noise, answers, as_the_model_believes, estimates, every_pair,
    four_by_three, mental, named_by_the_plain_model, named_by_who_knows, own_checks, pack, pairs,
    single_facts, small_sets, stories, three_by_one, three_by_one_chosen, zeros,
};
use crate::lesson::class_tests::{KINGFISHER, term};
use crate::marking::marks::verdict;
use crate::marking::{Answers, Model, PupilMark};
use crate::seed::{Seed, Stream};
use indexmap::IndexMap;

/// Where marking said 5 to 20, 20 to 50, 50 to 80, 80 to 95 and more than 95 %: how often, how sure
/// it was on the whole, and how often it was so.
type Said = [(f64, f64, f64); 5];

/// What came of it, in thousandths of the pupils with a habit, and of those without.
#[derive(Debug, Default)]
struct Outcome {
    /// Named rightly: every pattern there is. One of two named, the other not.
    rightly: usize,
    partly: usize,
    /// A pattern named that is not the pupil's.
    wrongly: usize,
    /// Pupils without a habit who were given one.
    alarms: usize,
    /// How many pupils have a habit.
    with: u32,
    /// What an observer names rightly who knows how the pupils were made.
    who_knows: usize,
    /// What the plain model names rightly with its published defaults.
    plain: usize,
    said: Said,
}

fn thousandths(part: usize, of: usize) -> usize {
    (part * 1000 + of / 2) / of.max(1)
}

/// Each so-manieth pupil of a hundred has a habit, each habit as often as its weight.
fn drawn<'c>(check: &'c Check, percent: u32, even: bool, stream: &mut Stream) -> Option<&'c Habit> {
    let weight = |habit: &Habit| if even { 1 } else { u64::from(habit.weight) };
    let all: u64 = check.habits.iter().map(weight).sum();
    let mut left = stream.number(0..=all - 1);
    let habit = check.habits.iter().find(|habit| {
        let found = left < weight(habit);
        left = left.saturating_sub(weight(habit));
        found
    });
    habit.filter(|_| stream.chance(percent, 100))
}

/// Pupils drawn and marked in classes, each of which teaches marking how many have a pattern.
fn run(check: &Check, noise: Noise, count: usize, (percent, even): (u32, bool)) -> Outcome {
    let name = format!("{} {noise:?}", check.name);
    let mut stream = Seed::of("made-up pupils").child(&name).stream();
    let mut rows: Vec<(String, Row)> = Vec::new();
    let mut own: Vec<Option<&Habit>> = Vec::new();
    let mut outcome = Outcome::default();
    for n in 0..count {
        let habit = drawn(check, percent, even, &mut stream);
        let row = answers(check, habit, noise, &mut stream);
        if habit.is_some_and(|h| h.names.len() == 1) {
            let named = named_by_who_knows(check, &row, noise).map(|at| &check.habits[at].names);
            outcome.who_knows += usize::from(named == habit.map(|h| &h.names));
            let named = named_by_the_plain_model(check, &row).map(|at| &check.habits[at].names);
            outcome.plain += usize::from(named == habit.map(|h| &h.names));
        }
        let ids = check.items.iter().map(|item| item.id.clone());
        rows.push((n.to_string(), ids.zip(row.into_iter().map(Some)).collect()));
        own.push(habit);
    }
    let pack = pack(check);
    let marked = |class: &[(String, Row)]| {
        let pupils = class.iter().cloned().collect();
        let answers = Answers { pupils, ..Answers::default() };
        verdict(&[(&pack, &answers)], &[], &Model::default().learning()).pupils
    };
    let marked: Vec<PupilMark> = rows.chunks(CLASS).flat_map(marked).collect();
    judge(&mut outcome, &marked, &own);
    outcome
}

/// So many pupils are drawn and marked together.
const CLASS: usize = 30;

/// One pupil's answers, by item.
type Row = IndexMap<String, Option<String>>;

fn judge(outcome: &mut Outcome, marked: &[PupilMark], own: &[Option<&Habit>]) {
    let with = own.iter().flatten().count();
    for (pupil, own) in marked.iter().zip(own) {
        let is_own = |name: &str| own.is_some_and(|habit| habit.names.contains(&name));
        let named: Vec<&str> =
            [&pupil.named, &pupil.named_also].into_iter().flatten().map(String::as_str).collect();
        match own {
            _ if named.is_empty() => {}
            None => outcome.alarms += 1,
            Some(_) if !named.iter().all(|name| is_own(name)) => outcome.wrongly += 1,
            Some(habit) if named.len() == habit.names.len() => outcome.rightly += 1,
            Some(_) => outcome.partly += 1,
        }
        for suspect in pupil.patterns.iter().filter(|s| s.probability >= 0.05) {
            let edges = [0.2, 0.5, 0.8, 0.95];
            let bin = edges.iter().filter(|&&edge| suspect.probability >= edge).count();
            let said = &mut outcome.said[bin];
            said.0 += 1.0;
            said.1 += suspect.probability;
            said.2 += if is_own(&suspect.name) { 1.0 } else { 0.0 };
        }
    }
    outcome.with = u32::try_from(with).unwrap_or(u32::MAX);
    outcome.rightly = thousandths(outcome.rightly, with);
    outcome.partly = thousandths(outcome.partly, with);
    outcome.wrongly = thousandths(outcome.wrongly, with);
    outcome.who_knows = thousandths(outcome.who_knows, with);
    outcome.plain = thousandths(outcome.plain, with);
    outcome.alarms = thousandths(outcome.alarms, own.len() - with);
}

fn told(check: &Check, noise: Noise, outcome: &Outcome) {
    let Outcome { rightly, partly, wrongly, alarms, who_knows, plain, said, .. } = outcome;
    println!(
        "{} ({} habits), {noise:?}: rightly {rightly}, partly {partly}, wrongly {wrongly}, \
         alarms {alarms}; who knows {who_knows}, plain {plain}; said {said:.1?}",
        check.name,
        check.habits.len()
    );
}

/// Measured at length are the figures of `DEVELOPERS.md`; the bounds leave room for chance, with
/// 250 pupils a line. At the second level of noise the table worked out elsewhere has 97 % for the
/// first two, with at most 1 % named without a pattern.
#[test]
fn made_up_pupils_are_named_about_as_often_as_they_should_be() {
    for (check, least) in [
        (four_by_three(), [980, 930, 800]),
        (three_by_one(), [960, 910, 760]),
        (single_facts(), [880, 670, 380]),
        (mental(), [970, 930, 770]),
        (zeros(), [940, 830, 650]),
        (estimates(), [940, 840, 650]),
        (stories(), [960, 910, 770]),
        (pairs(), [960, 890, 700]),
    ] {
        for (noise, least) in NOISES.into_iter().zip(least) {
            let outcome = run(&check, noise, 250, (40, true));
            told(&check, noise, &outcome);
            assert!(outcome.rightly >= least, "{}, {noise:?}: {outcome:?}", check.name);
            // Three of 150 and five of 100, where at most 1 % is measured at length.
            assert!(outcome.alarms <= 20, "{}, {noise:?}: {outcome:?}", check.name);
            assert!(outcome.wrongly <= 50, "{}, {noise:?}: {outcome:?}", check.name);
        }
    }
}

/// What is claimed for the designed sums, with a thousand pupils: at the second level of noise eight
/// sums of four by three digits name 97 % of the patterns, three standard errors of chance allowed,
/// and neither these nor ten of three by one name a pattern of more than 1 % of those without one.
#[test]
fn eight_designed_sums_name_97_of_100_and_hardly_anybody_wrongly() {
    let noise = NOISES[1];
    for (check, claimed) in [(four_by_three(), Some(0.97)), (three_by_one(), None)] {
        let outcome = run(&check, noise, 1000, (40, true));
        told(&check, noise, &outcome);
        assert!(outcome.alarms <= 10, "{}: {outcome:?}", check.name);
        let Some(claimed) = claimed else { continue };
        let error = (claimed * (1.0 - claimed) / f64::from(outcome.with)).sqrt();
        let least = (claimed - 3.0 * error) * 1000.0;
        let rightly = f64::from(u32::try_from(outcome.rightly).unwrap_or(0));
        assert!(rightly >= least, "{}: {outcome:?}, at least {least}", check.name);
    }
}

/// An observer who knows how the pupils were made names a habit from the same probability on. To
/// come near to that is as good as can be; more would be paid for with wrong names.
#[test]
fn nobody_who_knows_how_pupils_were_made_does_much_better() {
    for check in [four_by_three(), three_by_one(), mental(), zeros(), stories()] {
        for noise in &NOISES[1..] {
            let outcome = run(&check, *noise, 250, (40, true));
            let behind = outcome.who_knows.saturating_sub(outcome.rightly);
            assert!(behind <= 110, "{}, {noise:?}: {outcome:?}", check.name);
            assert!(outcome.who_knows > 0, "{}: the observer is at work", check.name);
        }
    }
}

/// Where marking is 80 % sure and more, it is right at least so often: its probabilities promise
/// too little and not too much. Three standard deviations of chance are allowed.
#[test]
fn what_is_said_to_be_probable_is_so_at_least_as_often() {
    for check in [four_by_three(), three_by_one(), single_facts(), mental(), estimates(), pairs()] {
        for noise in NOISES {
            let outcome = run(&check, noise, 250, (40, true));
            for (count, sure, so) in &outcome.said[3..] {
                let slack = 3.0 * (count * 0.2 * 0.8).sqrt();
                assert!(so + slack >= *sure, "{}, {noise:?}: {outcome:?}", check.name);
            }
        }
    }
}

/// In a class as the model takes it to be, every pattern and fact in it as often as it weighs, a
/// low probability is no empty promise: what is said to be 5 to 50 % probable is so at least as
/// often. (Where only patterns that show on most items occur, it is less.)
#[test]
fn low_probabilities_are_true_of_a_class_as_the_model_takes_it_to_be() {
    let check = as_the_model_believes();
    for noise in NOISES {
        let outcome = run(&check, noise, 1000, (20, false));
        told(&check, noise, &outcome);
        let low = outcome.said[..2]
            .iter()
            .fold((0.0, 0.0, 0.0), |s, said| (s.0 + said.0, s.1 + said.1, s.2 + said.2));
        assert!(low.2 + 3.0 * (low.0 * 0.15 * 0.85_f64).sqrt() >= low.1, "{noise:?}: {outcome:?}");
    }
}

/// A third pattern suspected beside two: where any two may be a pupil's, what is said to be 5 to 50 %
/// probable is so at least as often. (Where only nine pairs occur, it is less: the third is never
/// there.)
#[test]
fn low_probabilities_are_true_where_any_two_patterns_may_be_a_pupils() {
    let check = every_pair();
    assert!(check.habits.len() > 300, "{} pairs", check.habits.len());
    for noise in NOISES {
        let outcome = run(&check, noise, 400, (40, true));
        told(&check, noise, &outcome);
        let [one, two, ..] = outcome.said;
        let low = (one.0 + two.0, one.1 + two.1, one.2 + two.2);
        assert!(low.0 > 0.0, "something is suspected: {outcome:?}");
        assert!(low.2 + 3.0 * (low.0 * 0.15 * 0.85_f64).sqrt() >= low.1, "{noise:?}: {outcome:?}");
        // Three of 240 without a pattern, five of 160 with two.
        assert!(outcome.alarms <= 13 && outcome.wrongly <= 32, "{noise:?}: {outcome:?}");
    }
}

/// At the third level of noise 90 % was reached elsewhere on ten sums of three digits by one. Here
/// pupils with these habits cannot be told so often on those sums: who knows how they were made
/// names fewer. Marking stays near that; ten sums chosen for these habits tell them apart better.
#[test]
fn beside_an_ideal_observer_marking_loses_little_and_other_sums_tell_more() {
    let noise = NOISES[2];
    let [known, chosen] = [three_by_one(), three_by_one_chosen()].map(|check| {
        let outcome = run(&check, noise, 1000, (40, true));
        told(&check, noise, &outcome);
        outcome
    });
    assert!((860..900).contains(&known.who_knows), "{known:?}");
    assert!(known.plain < 900, "nor does the plain model reach it: {known:?}");
    assert!(known.rightly + 45 >= known.who_knows, "{known:?}");
    assert!(chosen.who_knows >= known.who_knows + 20, "{chosen:?}");
    assert!(chosen.rightly >= known.rightly + 10 && chosen.rightly >= 870, "{chosen:?}");
}

#[test]
#[ignore = "the figures of DEVELOPERS.md, 4,000 pupils a line"]
fn at_length() {
    for check in [
        four_by_three(),
        three_by_one(),
        three_by_one_chosen(),
        single_facts(),
        mental(),
        zeros(),
        estimates(),
        stories(),
        pairs(),
        every_pair(),
    ] {
        for noise in NOISES {
            told(&check, noise, &run(&check, noise, 4000, (40, true)));
        }
    }
    let check = as_the_model_believes();
    for noise in NOISES {
        told(&check, noise, &run(&check, noise, 20000, (20, false)));
    }
}

#[test]
#[ignore = "the figures of DEVELOPERS.md, 2,000 pupils a line"]
fn sets_of_other_sizes_at_length() {
    for check in small_sets() {
        for noise in NOISES {
            told(&check, noise, &run(&check, noise, 2000, (40, true)));
        }
    }
}

/// The written skills whose exit checks are sums and rows.
const WRITTEN: [&str; 9] = [
    "short-two-by-one",
    "short-three-by-one",
    "short-four-by-one",
    "long-two-by-two",
    "long-three-by-two",
    "long-three-by-three",
    "long-four-by-two",
    "long-four-by-three",
    "zeros-in-multiplier",
];

#[test]
#[ignore = "the figures of DEVELOPERS.md, 4,000 pupils a line"]
fn the_terms_own_checks_at_length() {
    let (_, _, packs) = term(KINGFISHER);
    for name in WRITTEN {
        for many in [1, usize::MAX] {
            let Some(check) = own_checks(name, &packs, many, 2) else { continue };
            println!("{name}: {} items", check.items.len());
            for noise in NOISES {
                told(&check, noise, &run(&check, noise, 4000, (40, true)));
            }
        }
    }
}
