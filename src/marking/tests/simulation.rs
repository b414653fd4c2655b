//! How well marking does on made-up pupils: on eight designed sums of four by three digits.
//!
//! The noise levels and the shares to come near to were worked out by program beforehand with
//! another implementation: at consistency 0.90 and slips 0.05 all patterns are named rightly, at
//! 0.75 and 0.10 97 %, at 0.60 and 0.15 87 %, with next to no false alarms. All of it assumes that
//! the pupil's pattern is in the catalogue; most wrong answers of real pupils are not.

use super::{pack_of, product, section};
use crate::exercise::Kind;
use crate::exercise::patterns::{Family, Pattern, catalogue};
use crate::lesson::{Pack, SectionName};
use crate::marking::{Answers, mark};
use crate::seed::{Seed, Stream};

const SUMS: [(u64, u64); 8] = [
    (7092, 209),
    (8305, 308),
    (8705, 408),
    (3081, 407),
    (6204, 107),
    (1019, 216),
    (1044, 249),
    (1010, 600),
];

fn check() -> Pack {
    let items = SUMS.iter().enumerate();
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
            let place = 10_u64.pow(u32::try_from(stream.number(0..=5)).expect("small"));
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

/// Of 1,000: patterns named rightly, named wrongly, and pupils without a pattern given one.
fn outcome(noise: (u32, u32)) -> [usize; 3] {
    let shows = |p: &&Pattern| {
        let times = SUMS.iter().filter(|&&(a, b)| usual(p, a, b).is_some()).count();
        matches!(p.family, Family::Row | Family::Long) && times >= 5
    };
    let known: Vec<&Pattern> = catalogue().iter().filter(shows).collect();
    assert!(known.len() > 25, "{}", known.len());
    let mut stream = Seed::of("made-up pupils").child(&format!("{noise:?}")).stream();
    let mut answers = Answers::default();
    let mut own: Vec<Option<&Pattern>> = Vec::new();
    for n in 0..500 {
        let pattern = if n % 5 < 3 { None } else { stream.one_of(&known).copied() };
        let given = SUMS.iter().enumerate().map(|(i, &sum)| {
            let written = answer(&mut stream, &known, pattern, noise, sum);
            (format!("L07-X{}", i + 1), Some(written.to_string()))
        });
        answers.pupils.insert(n.to_string(), given.collect());
        own.push(pattern);
    }
    let marking = mark(&check(), &answers);
    let mut found = [0; 3];
    let mut of = [0; 2];
    for (pupil, own) in marking.pupils.iter().zip(&own) {
        of[usize::from(own.is_none())] += 1;
        match (&pupil.named, own) {
            (Some(name), Some(own)) if name == own.name => found[0] += 1,
            (Some(_), Some(_)) => found[1] += 1,
            (Some(_), None) => found[2] += 1,
            (None, _) => {}
        }
    }
    [found[0] * 1000 / of[0], found[1] * 1000 / of[0], found[2] * 1000 / of[1]]
}

/// Measured here, of 1,000 each: named rightly 1,000, 935 to 945 and 805 to 840, named wrongly 5 at
/// most, false alarms none. Somewhat fewer are named than in the other implementation: here all of
/// the catalogue shares what is not "no pattern", single facts and the other way round with it.
#[test]
fn made_up_pupils_are_named_about_as_often_as_they_should_be() {
    for (noise, least) in [((90, 5), 985), ((75, 10), 920), ((60, 15), 780)] {
        let [rightly, wrongly, alarms] = outcome(noise);
        assert!(rightly >= least, "{noise:?}: {rightly} of 1000 named rightly");
        assert!(wrongly <= 12 && alarms <= 5, "{noise:?}: {wrongly} wrongly, {alarms} alarms");
    }
}
