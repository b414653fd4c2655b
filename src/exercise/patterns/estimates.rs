//! Estimates that go wrong, where each number is to be rounded to its leading digit.
//!
//! Sources: that rounding both numbers down is the commonest way to estimate, Lemaire and Lecacheur;
//! zeros, Downton, Russo and Hopkins 2019; the others are built from the steps of the task itself
//! (no source). A pupil who works the sum out and rounds the answer is found only where that gives
//! another number.

use super::working::WrongWorking;
use super::{Family, Pattern, Procedure, zeros};
use crate::number::{digit_count, leading_digit, round_half_up, round_to_leading, ten_to};

fn unit(n: u64) -> u64 {
    ten_to(digit_count(n) as usize - 1)
}

fn down(n: u64) -> u64 {
    n - n % unit(n)
}

fn up(n: u64) -> u64 {
    if n.is_multiple_of(unit(n)) { n } else { down(n) + unit(n) }
}

fn farther(n: u64) -> u64 {
    if round_to_leading(n) == down(n) { up(n) } else { down(n) }
}

fn five_down(n: u64) -> u64 {
    if n >= 10 && n / (unit(n) / 10) % 10 == 5 { down(n) } else { round_to_leading(n) }
}

fn tens(n: u64) -> u64 {
    if n < 10 { n } else { round_half_up(n, 10) }
}

fn product(a: u64, b: u64) -> Vec<WrongWorking> {
    vec![rounded([a, b], "*", a * b)]
}

/// What comes of two rounded numbers: they and a sign between them.
fn rounded(factors: [u64; 2], sign: &str, value: u64) -> WrongWorking {
    let expression = format!("{}{sign}{}", factors[0], factors[1]);
    WrongWorking::Estimate { factors, expression, value }
}

/// The estimate as it should be.
fn right(a: u64, b: u64) -> u64 {
    round_to_leading(a) * round_to_leading(b)
}

fn both_down(a: u64, b: u64) -> Vec<WrongWorking> {
    product(down(a), down(b))
}

fn both_up(a: u64, b: u64) -> Vec<WrongWorking> {
    product(up(a), up(b))
}

fn wrong_neighbour(a: u64, b: u64) -> Vec<WrongWorking> {
    product(farther(a), farther(b))
}

fn fives_down(a: u64, b: u64) -> Vec<WrongWorking> {
    product(five_down(a), five_down(b))
}

fn zero_short(a: u64, b: u64) -> Vec<WrongWorking> {
    let (a, b) = (round_to_leading(a), round_to_leading(b));
    if (a * b).is_multiple_of(10) && a.max(b) >= 10 {
        vec![moved([a, b], a * b / 10)]
    } else {
        Vec::new()
    }
}

fn zero_extra(a: u64, b: u64) -> Vec<WrongWorking> {
    let (a, b) = (round_to_leading(a), round_to_leading(b));
    vec![moved([a, b], a * b * 10)]
}

/// The fact inside two round numbers with the zeros that are written behind it; one that the fact
/// itself ends in can be among them.
fn moved(factors: [u64; 2], value: u64) -> WrongWorking {
    let [a, b] = factors.map(leading_digit);
    let place = value.checked_div(a * b).and_then(u64::checked_ilog10).unwrap_or(0);
    let expression = zeros::expression(a, b, place as usize);
    WrongWorking::Estimate { factors, expression, value }
}

fn leading_digits(a: u64, b: u64) -> Vec<WrongWorking> {
    product(leading_digit(round_to_leading(a)), leading_digit(round_to_leading(b)))
}

fn own_zero_counted(a: u64, b: u64) -> Vec<WrongWorking> {
    let fact = leading_digit(round_to_leading(a)) * leading_digit(round_to_leading(b));
    if fact.is_multiple_of(10) { zero_short(a, b) } else { Vec::new() }
}

fn rounded_then_added(a: u64, b: u64) -> Vec<WrongWorking> {
    let (a, b) = (round_to_leading(a), round_to_leading(b));
    vec![rounded([a, b], "+", a + b)]
}

fn to_tens_only(a: u64, b: u64) -> Vec<WrongWorking> {
    product(tens(a), tens(b))
}

/// The exact product, rounded to the place in which the right estimate ends.
fn worked_out_then_rounded(a: u64, b: u64) -> Vec<WrongWorking> {
    let (estimate, mut end) = (right(a, b), 1);
    while estimate.is_multiple_of(end * 10) {
        end *= 10;
    }
    vec![WrongWorking::line(format!("{a}*{b}"), round_half_up(a * b, end))]
}

/// What these procedures give for a sum; nothing where there is nothing to round.
pub(super) fn apply(
    procedure: fn(u64, u64) -> Vec<WrongWorking>,
    a: u64,
    b: u64,
) -> Vec<WrongWorking> {
    if a.max(b) >= 10 && a.min(b) > 0 { procedure(a, b) } else { Vec::new() }
}

const fn estimate(
    name: &'static str,
    procedure: fn(u64, u64) -> Vec<WrongWorking>,
    short: &'static str,
    shows: &'static str,
    teach: &'static str,
) -> Pattern {
    let procedure = Procedure::Estimate(procedure);
    Pattern { name, short, shows, teach, family: Family::Estimate, weight: 3, procedure }
}

pub(super) const ESTIMATES: &[Pattern] = &[
    estimate(
        "both-rounded-down",
        both_down,
        "always rounded down",
        "each number is cut down to its leading digit",
        "Mark each number on a line between its two round neighbours and take the nearer one. Both \
         rounded down give a lower bound, which is useful too.",
    ),
    estimate(
        "both-rounded-up",
        both_up,
        "always rounded up",
        "each number is taken up to the next round number",
        "Mark each number on a line between its two round neighbours and take the nearer one. Both \
         rounded up give an upper bound, which is useful too.",
    ),
    estimate(
        "rounded-to-the-farther",
        wrong_neighbour,
        "rounded the wrong way",
        "each number is rounded to the farther round number",
        "Mark each number on a line between its two round neighbours and measure both ways. Say \
         “312 is nearer to 300” before writing.",
    ),
    estimate(
        "five-rounded-down",
        fives_down,
        "5 rounded down",
        "a number with a 5 after its leading digit is rounded down",
        "By agreement a 5 goes up. Practise only numbers that end in 5 and their neighbours: 34, 35, \
         36.",
    ),
    estimate(
        "estimate-one-zero-short",
        zero_short,
        "estimate: zero short",
        "the rounded numbers are right, the product is one zero short",
        "Say it in units: 3 hundreds times 5 tens is 15 thousands. Count the places of the answer \
         that must come: three and two digits make four or five.",
    ),
    estimate(
        "estimate-one-zero-too-many",
        zero_extra,
        "estimate: zero too many",
        "the rounded numbers are right, the product has one zero too many",
        "Say it in units: 3 hundreds times 5 tens is 15 thousands. Count the places of the answer \
         that must come: three and two digits make four or five.",
    ),
    estimate(
        "only-leading-digits",
        leading_digits,
        "leading digits only",
        "only the leading digits are multiplied",
        "Keep the places: 312 is about 300, not 3. Write the round numbers down before multiplying.",
    ),
    estimate(
        "estimate-zero-of-the-fact-counted",
        own_zero_counted,
        "the fact's zero counted",
        "the zero that the fact itself ends with is taken for one of the zeros to be written",
        "Write the fact first and underline it (4 × 5 = 20), then write the zeros behind the line.",
    ),
    estimate(
        "rounded-then-added",
        rounded_then_added,
        "rounded, then added",
        "the rounded numbers are added",
        "Have the sign read aloud. Ask whether 350 can be 312 groups of 48.",
    ),
    estimate(
        "rounded-to-tens-only",
        to_tens_only,
        "rounded to tens only",
        "each number is rounded to the nearest ten: near, but not the task and harder to work out",
        "Ask which product can be done in the head. Compare 310 × 50 with 300 × 50: both are near \
         enough.",
    ),
    estimate(
        "worked-out-then-rounded",
        worked_out_then_rounded,
        "worked out, then rounded",
        "the sum is worked out and its answer rounded",
        "An estimate comes first and takes seconds. Give less time and no paper, and ask only \
         between which round numbers the answer lies.",
    ),
];
