//! Mental routes that go wrong: adjusting, doubling and halving, halves and quarters, splitting.
//!
//! Sources: the families of routes are those of the guidance on mental calculation of QCA 1999 and
//! DCSF 2010 (headings read, content from memory); the compensations are listed in the general
//! literature on errors (from memory). Splitting with the ones only copied is "last digit only
//! copied" among the rows, and splitting both numbers without the cross products is "only like
//! places" among the long patterns: the same procedures, so they stand there alone.

use super::working::{Detail, WrongWorking};
use super::{Family, Pattern, Procedure};

/// The round number that b is adjusted from, and how far it is from it: (m, o, whether b is below).
/// The nearest ten, at most four away; numbers of one digit only when within two of ten.
fn round_number(b: u64) -> Option<(u64, u64, bool)> {
    let (m, below) = if b % 10 >= 5 { (b - b % 10 + 10, true) } else { (b - b % 10, false) };
    let offset = m.abs_diff(b);
    let near = if b < 10 { 2 } else { 4 };
    ((1..=near).contains(&offset) && m > 0).then_some((m, offset, below))
}

/// Whether one of the numbers is so near to a round one that it can be adjusted.
pub fn is_near_round(a: u64, b: u64) -> bool {
    [a, b].into_iter().any(|n| round_number(n).is_some())
}

/// What an adjusting pattern gives when the number nearer to a round one is adjusted.
pub(super) fn adjusting(pattern: &Pattern, a: u64, b: u64) -> Vec<u64> {
    let offset = |n| round_number(n).map_or(u64::MAX, |(_, offset, _)| offset);
    let (kept, moved) = if (offset(a), b) < (offset(b), a) { (b, a) } else { (a, b) };
    let worked = pattern.worked(kept, moved, Detail::Answer);
    worked.iter().map(WrongWorking::value).filter(|&answer| answer != a * b).collect()
}

/// Adjusting by `by` in the right direction, or in the wrong one.
fn adjusted(
    a: u64,
    b: u64,
    wrong_way: bool,
    by: impl Fn(u64) -> (String, u64),
) -> Vec<WrongWorking> {
    let Some((m, offset, below)) = round_number(b) else { return Vec::new() };
    let (said, by) = by(offset);
    let worked = if below == wrong_way {
        Some((format!("{a}*{m}+{said}"), a * m + by))
    } else {
        (a * m).checked_sub(by).map(|value| (format!("{a}*{m}-{said}"), value))
    };
    worked.map(|(expression, value)| WrongWorking::line(expression, value)).into_iter().collect()
}

fn adjusted_wrong_way(a: u64, b: u64) -> Vec<WrongWorking> {
    adjusted(a, b, true, |o| (format!("{a}*{o}"), a * o))
}

fn adjusted_by_difference(a: u64, b: u64) -> Vec<WrongWorking> {
    adjusted(a, b, false, |o| (o.to_string(), o))
}

fn adjusting_forgotten(a: u64, b: u64) -> Vec<WrongWorking> {
    let round = round_number(b).map(|(m, ..)| WrongWorking::line(format!("{a}*{m}"), a * m));
    round.into_iter().collect()
}

fn difference_wrong_way(a: u64, b: u64) -> Vec<WrongWorking> {
    adjusted(a, b, true, |o| (o.to_string(), o))
}

fn adjusted_once(a: u64, b: u64) -> Vec<WrongWorking> {
    match round_number(b) {
        Some((_, 2.., _)) => adjusted(a, b, false, |_| (a.to_string(), a)),
        _ => Vec::new(),
    }
}

fn adjusted_as_in_adding(a: u64, b: u64) -> Vec<WrongWorking> {
    let Some((m, offset, below)) = round_number(b) else { return Vec::new() };
    let other = if below { a.checked_sub(offset) } else { Some(a + offset) };
    let sign = if below { '-' } else { '+' };
    let line = |n| WrongWorking::line(format!("({a}{sign}{offset})*{m}"), n * m);
    other.map(line).into_iter().collect()
}

/// The number in fives and the even one, where doubling the first and halving the other is a natural
/// route.
fn to_double_and_halve(a: u64, b: u64) -> Option<(u64, u64)> {
    let suits = |(five, even): &(u64, u64)| five % 10 == 5 && even.is_multiple_of(2) && *even > 2;
    [(b, a), (a, b)].into_iter().find(suits)
}

fn doubled_not_halved(a: u64, b: u64) -> Vec<WrongWorking> {
    let line = |(five, even)| WrongWorking::line(format!("{five}*2*{even}"), five * 2 * even);
    to_double_and_halve(a, b).map(line).into_iter().collect()
}

fn both_doubled(a: u64, b: u64) -> Vec<WrongWorking> {
    let both = to_double_and_halve(a, b).is_some();
    both.then(|| WrongWorking::line(format!("{a}*2*{b}*2"), a * b * 4)).into_iter().collect()
}

/// The power of ten of which b is a half, a quarter or an eighth.
fn part_of(b: u64) -> Option<u64> {
    match b {
        5 => Some(10),
        25 | 50 => Some(100),
        125 | 250 | 500 => Some(1000),
        _ => None,
    }
}

fn not_halved(a: u64, b: u64) -> Vec<WrongWorking> {
    let whole = part_of(b).map(|m| WrongWorking::line(format!("{a}*{m}"), a * m));
    whole.into_iter().collect()
}

fn quarter_as_half(a: u64, b: u64) -> Vec<WrongWorking> {
    match (b, part_of(b)) {
        (25 | 250, Some(m)) => vec![WrongWorking::line(format!("{a}*{m}//2"), a * m / 2)],
        _ => Vec::new(),
    }
}

fn doubled_for_halved(a: u64, b: u64) -> Vec<WrongWorking> {
    match (b, part_of(b)) {
        (5 | 50, Some(m)) => vec![WrongWorking::line(format!("{a}*{m}*2"), a * m * 2)],
        _ => Vec::new(),
    }
}

fn factors_added(a: u64, b: u64) -> Vec<WrongWorking> {
    let factors = (2..=9).filter(|c| b.is_multiple_of(*c)).map(|c| (c, b / c));
    let lines = factors
        .filter(|&(c, d)| (c..=9).contains(&d))
        .map(|(c, d)| WrongWorking::line(format!("{a}*{c}+{a}*{d}"), a * c + a * d));
    if a < 10 || b < 10 { Vec::new() } else { lines.collect() }
}

/// Tens and ones of a number of two digits, neither zero.
fn tens_and_ones(n: u64) -> Option<(u64, u64)> {
    ((11..=99).contains(&n) && !n.is_multiple_of(10)).then_some((n / 10 * 10, n % 10))
}

fn parts_multiplied(a: u64, b: u64) -> Vec<WrongWorking> {
    let parts = tens_and_ones(b);
    let line = |(c, d)| WrongWorking::line(format!("{a}*{c}*{d}"), a * c * d);
    parts.map(line).into_iter().collect()
}

fn tens_lost_their_zero(a: u64, b: u64) -> Vec<WrongWorking> {
    match tens_and_ones(a) {
        Some((tens, ones)) if (2..=9).contains(&b) => {
            let front = tens / 10;
            vec![WrongWorking::line(format!("{front}*{b}+{ones}*{b}"), front * b + ones * b)]
        }
        _ => Vec::new(),
    }
}

fn odd_half_dropped(a: u64, b: u64) -> Vec<WrongWorking> {
    match part_of(b) {
        Some(m) if m == 2 * b && a > 1 => {
            vec![WrongWorking::line(format!("{a}//2*{m}"), a / 2 * m)]
        }
        _ => Vec::new(),
    }
}

const fn mental(
    name: &'static str,
    procedure: fn(u64, u64) -> Vec<WrongWorking>,
    short: &'static str,
    shows: &'static str,
    teach: &'static str,
) -> Pattern {
    let procedure = Procedure::Mental(procedure);
    Pattern { name, short, shows, teach, family: Family::Mental, weight: 3, procedure }
}

pub(super) const MENTAL: &[Pattern] = &[
    mental(
        "adjusted-the-wrong-way",
        adjusted_wrong_way,
        "adjusted the wrong way",
        "rounded well, then adjusted in the wrong direction",
        "Before adjusting ask: 47 × 30, is that too many or too few for 47 × 29? Draw the last group \
         and cover it or add it.",
    ),
    mental(
        "adjusted-by-the-difference",
        adjusted_by_difference,
        "adjusted by too little",
        "only the difference is taken off or added, not a whole group",
        "29 groups are one group of 47 fewer than 30, not one fewer. Show it with rows of 47 on \
         squared paper.",
    ),
    mental(
        "adjusting-forgotten",
        adjusting_forgotten,
        "adjusting forgotten",
        "the rounded product is left as it is",
        "Write the adjustment down before multiplying: × 29 is × 30 less one. Tick it when it is \
         done.",
    ),
    mental(
        "difference-the-wrong-way",
        difference_wrong_way,
        "small step, wrong way",
        "the difference alone is used, and in the wrong direction",
        "Ask two questions: too many or too few, and by how many groups? Show both with rows on \
         squared paper.",
    ),
    mental(
        "adjusted-once-only",
        adjusted_once,
        "adjusted by one group",
        "one group is taken off or added where several are needed",
        "98 is 2 short of 100, so two groups come off. Write “× 100, less × 2” before working it out.",
    ),
    mental(
        "adjusted-as-in-adding",
        adjusted_as_in_adding,
        "adjusted as in adding",
        "what one number was rounded by is moved to the other, as in adding",
        "Compare 47 + 29 = 46 + 30 with 47 × 29 and 46 × 30 on squared paper: the shapes do not \
         cover each other.",
    ),
    mental(
        "doubled-not-halved",
        doubled_not_halved,
        "doubled, not halved",
        "one number is doubled, the other is left",
        "Cut an array of 16 rows in half and set the halves side by side: twice as long, half as \
         many rows. Write both changes before multiplying.",
    ),
    mental(
        "both-doubled",
        both_doubled,
        "both doubled",
        "both numbers are doubled",
        "Cut an array in half and set the halves side by side: one side doubles because the other \
         is halved. Ask what doubling both does to 2 × 3.",
    ),
    mental(
        "not-halved-or-quartered",
        not_halved,
        "not halved or quartered",
        "times 5, 50 or 25 is worked as times 10 or 100 and left",
        "Write the route first: × 25 is × 100, then a quarter. Ask whether the answer can be as \
         large as × 100.",
    ),
    mental(
        "quarter-taken-as-half",
        quarter_as_half,
        "half instead of quarter",
        "a quarter is taken as a half, as × 25 by half of × 100",
        "How many 25s make 100? Halve and halve again, with coins of 25 if there are any.",
    ),
    mental(
        "doubled-instead-of-halved",
        doubled_for_halved,
        "doubled, should be half",
        "times 5 is worked as times 10 and doubled",
        "5 is half of 10, so 46 × 5 must be less than 46 × 10. Compare before choosing to halve or \
         to double.",
    ),
    mental(
        "factors-added",
        factors_added,
        "factors added",
        "a number is split into factors, but the two products are added",
        "3 × 4 makes 12, 3 + 4 only 7. Multiply by one factor, then multiply that answer by the \
         other; draw 4 blocks of 3 rows.",
    ),
    mental(
        "parts-multiplied",
        parts_multiplied,
        "parts multiplied",
        "a number is split into parts, but the parts are multiplied one after the other",
        "10 + 2 makes 12, 10 × 2 makes 20. Draw the array in two parts, work out each, and put them \
         together again.",
    ),
    mental(
        "tens-lost-their-zero",
        tens_lost_their_zero,
        "tens taken as ones",
        "the tens digit is multiplied as if it were ones",
        "Write the parts in full: 47 is 40 and 7. Estimate first: 40 × 6 alone is 240.",
    ),
    mental(
        "odd-half-dropped",
        odd_half_dropped,
        "half of odd number lost",
        "an odd number is halved first and its half dropped",
        "With an odd number go the other way round: × 10 first, then halve. Or keep the half: half \
         of 47 is 23 and a half, and the half makes 5.",
    ),
];
