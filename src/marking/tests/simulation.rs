//! How well marking does on made-up pupils, and whether its probabilities are true.
//!
//! The noise levels and the shares to come near to were worked out by program beforehand with
//! another implementation, for eight designed sums of four by three digits: at consistency 0.90 and
//! slips 0.05 all patterns are named rightly, at 0.75 and 0.10 97 %, at 0.60 and 0.15 87 %, with
//! next to no false alarms; for ten of three digits by one 100, 97 and 90 %. All of it assumes that
//! the pupil's pattern is in the catalogue; most wrong answers of real pupils are not.

use super::{pack_of, product, section};
use crate::exercise::Kind;
use crate::exercise::patterns::{Family, Pattern, catalogue};
use crate::lesson::{Pack, SectionName};
use crate::marking::{Answers, Model, mark_by};
use crate::seed::{Seed, Stream};

const FOUR_BY_THREE: &[(u64, u64)] = &[
    (7092, 209),
    (8305, 308),
    (8705, 408),
    (3081, 407),
    (6204, 107),
    (1019, 216),
    (1044, 249),
    (1010, 600),
];

const THREE_BY_ONE: &[(u64, u64)] = &[
    (206, 7),
    (207, 9),
    (307, 7),
    (306, 6),
    (307, 8),
    (122, 7),
    (125, 3),
    (130, 6),
    (101, 6),
    (103, 3),
];

fn check(sums: &[(u64, u64)]) -> Pack {
    let items = sums.iter().enumerate();
    let items = items.map(|(n, &(a, b))| product(&format!("L07-X{}", n + 1), Kind::Written, a, b));
    pack_of(vec![section(SectionName::ExitCheck, items.collect())])
}

/// What a pattern answers the usual way round; nothing where it does not show.
fn usual(pattern: &Pattern, a: u64, b: u64) -> Option<u64> {
    pattern.attempts(a, b).into_iter().find(|t| !t.turned).map(|t| t.working.value())
}

/// Half of all slips look like some pattern, half are one or two off in one digit.
fn slip(stream: &mut Stream, known: &[&Pattern], (a, b): (u64, u64)) -> u64 {
    let other = stream.one_of(known).and_then(|p| usual(p, a, b));
    match other {
        Some(answer) if stream.chance(1, 2) => answer,
        _ => {
            let places = u64::from(crate::number::digit_count(a * b)) - 1;
            let place = 10_u64.pow(u32::try_from(stream.number(0..=places)).expect("small"));
            let step = stream.number(1..=2) * place;
            if stream.chance(1, 2) { a * b + step } else { (a * b).abs_diff(step) }
        }
    }
}

fn answer(
    stream: &mut Stream,
    known: &[&Pattern],
    own: Option<&Pattern>,
    (consistency, slips): (u32, u32),
    (a, b): (u64, u64),
) -> u64 {
    if stream.chance(slips, 100) {
        return slip(stream, known, (a, b));
    }
    let meant = own.and_then(|p| usual(p, a, b)).filter(|_| stream.chance(consistency, 100));
    meant.unwrap_or(a * b)
}

/// What came of it, of 1,000 each, and how true the probabilities are.
#[derive(Debug, Default)]
struct Outcome {
    /// Patterns named rightly, and named wrongly.
    rightly: usize,
    wrongly: usize,
    /// Pupils without a pattern who were given one.
    alarms: usize,
    /// Where marking said 5 to 50, 50 to 80, 80 to 95 and more than 95 %: how often, how sure it was
    /// on the whole, and how often it was so.
    said: [(usize, f64, usize); 4],
}

fn made_up(sums: &[(u64, u64)], noise: (u32, u32), pupils: usize) -> Outcome {
    let shows = |p: &&Pattern| {
        let times = sums.iter().filter(|&&(a, b)| usual(p, a, b).is_some()).count();
        matches!(p.family, Family::Row | Family::Long) && times >= 5
    };
    let known: Vec<&Pattern> = catalogue().iter().filter(shows).collect();
    let name = if sums.len() == 8 { format!("{noise:?}") } else { format!("short {noise:?}") };
    let mut stream = Seed::of("made-up pupils").child(&name).stream();
    let mut answers = Answers::default();
    let mut own: Vec<Option<&Pattern>> = Vec::new();
    for n in 0..pupils {
        let pattern = if n % 5 < 3 { None } else { stream.one_of(&known).copied() };
        let given = sums.iter().enumerate().map(|(i, &sum)| {
            let written = answer(&mut stream, &known, pattern, noise, sum);
            (format!("L07-X{}", i + 1), Some(written.to_string()))
        });
        answers.pupils.insert(n.to_string(), given.collect());
        own.push(pattern);
    }
    let marking = mark_by(&check(sums), &answers, &Model::default());
    let mut outcome = Outcome::default();
    let mut of = [0; 2];
    for (pupil, own) in marking.pupils.iter().zip(&own) {
        of[usize::from(own.is_none())] += 1;
        match (&pupil.named, own) {
            (Some(name), Some(own)) if name == own.name => outcome.rightly += 1,
            (Some(_), Some(_)) => outcome.wrongly += 1,
            (Some(_), None) => outcome.alarms += 1,
            (None, _) => {}
        }
        for suspect in &pupil.patterns {
            let bin = [0.5, 0.8, 0.95].iter().filter(|&&edge| suspect.probability >= edge).count();
            let true_one = own.is_some_and(|p| p.name == suspect.name);
            let said = &mut outcome.said[bin];
            *said = (said.0 + 1, said.1 + suspect.probability, said.2 + usize::from(true_one));
        }
    }
    outcome.rightly = outcome.rightly * 1000 / of[0];
    outcome.wrongly = outcome.wrongly * 1000 / of[0];
    outcome.alarms = outcome.alarms * 1000 / of[1];
    outcome
}

/// Measured here are the shares in `DEVELOPERS.md`; the bounds leave room for other made-up pupils.
#[test]
fn made_up_pupils_are_named_about_as_often_as_they_should_be() {
    for (sums, noise, least) in [
        (FOUR_BY_THREE, (90, 5), 990),
        (FOUR_BY_THREE, (75, 10), 940),
        (FOUR_BY_THREE, (60, 15), 830),
        (THREE_BY_ONE, (90, 5), 980),
        (THREE_BY_ONE, (75, 10), 930),
        (THREE_BY_ONE, (60, 15), 800),
    ] {
        let outcome = made_up(sums, noise, 500);
        println!("{} sums, {noise:?}: {outcome:?}", sums.len());
        assert!(outcome.rightly >= least, "{noise:?}: {outcome:?}");
        assert!(outcome.wrongly <= 12 && outcome.alarms <= 5, "{noise:?}: {outcome:?}");
    }
}

/// Where marking is 80 % sure and more, it is right at least so often, at every noise level: its
/// probabilities promise too little and not too much.
#[test]
fn what_is_said_to_be_probable_is_so_at_least_as_often() {
    for noise in [(90, 5), (75, 10), (60, 15)] {
        let outcome = made_up(FOUR_BY_THREE, noise, 1000);
        for (count, sure, so) in &outcome.said[2..] {
            let count = f64::from(u32::try_from(*count).expect("few"));
            let so = f64::from(u32::try_from(*so).expect("few"));
            // Three standard deviations of chance.
            let slack = 3.0 * (count * 0.2 * 0.8).sqrt();
            assert!(so + slack >= *sure, "{noise:?}: {outcome:?}");
        }
    }
}
