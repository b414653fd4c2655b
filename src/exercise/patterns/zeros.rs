//! Zeros at the ends of numbers: α · 10^p times β · 10^q with one zero too few or too many.
//!
//! Sources: one zero short and one too many, Downton, Russo and Hopkins 2019 ("disappearing and
//! reappearing zeros", 25 pupils of Years 5 and 6); the others from memory. Giving the ones' row a
//! placeholder too makes every answer ten times too large and can never be told from one zero too
//! many, so the two are one pattern here.

use super::long::{self, WorkLong};
use super::working::{Detail, WrongWorking};
use super::{Family, Pattern, Procedure};
use crate::number::ten_to;

/// A number without the zeros at its end, and how many there are.
fn stripped(n: u64) -> (u64, usize) {
    let (mut front, mut zeros) = (n, 0);
    while front > 0 && front.is_multiple_of(10) {
        front /= 10;
        zeros += 1;
    }
    (front, zeros)
}

/// α × β with `zeros` zeros written behind it.
fn with_zeros(alpha: u64, beta: u64, zeros: usize) -> WrongWorking {
    WrongWorking::line(expression(alpha, beta, zeros), alpha * beta * ten_to(zeros))
}

/// What is worked out then: "3*7*10", "3*7" where no zero is written.
pub(super) fn expression(alpha: u64, beta: u64, zeros: usize) -> String {
    let place = if zeros == 0 { String::new() } else { format!("*{}", ten_to(zeros)) };
    format!("{alpha}*{beta}{place}")
}

fn one_short(a: u64, b: u64, _: Detail) -> Vec<WrongWorking> {
    let ((alpha, p), (beta, q)) = (stripped(a), stripped(b));
    match (p + q).checked_sub(1) {
        Some(zeros) if a * b > 0 => vec![with_zeros(alpha, beta, zeros)],
        _ => Vec::new(),
    }
}

/// A zero too many behind round numbers, or a placeholder in every row. Where the rows are those of
/// a grid or lattice, one line says it.
fn one_too_many(a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    let ((alpha, p), (beta, q)) = (stripped(a), stripped(b));
    let mut found = Vec::new();
    if a * b == 0 {
        return found;
    }
    if b >= 10 && p + q == 0 {
        found.push(long::every_row_extra_zero(a, b, how));
    }
    if b >= 10 || p + q > 0 {
        found.push(with_zeros(alpha, beta, p + q + 1));
    }
    found
}

fn of_one_number(a: u64, b: u64, _: Detail) -> Vec<WrongWorking> {
    let ((alpha, p), (beta, q)) = (stripped(a), stripped(b));
    if p.min(q) > 0 { vec![with_zeros(alpha, beta, p.max(q))] } else { Vec::new() }
}

fn own_zero_counted(a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    let ((alpha, _), (beta, _)) = (stripped(a), stripped(b));
    if (alpha * beta).is_multiple_of(10) { one_short(a, b, how) } else { Vec::new() }
}

const fn zeros(
    name: &'static str,
    procedure: WorkLong,
    short: &'static str,
    shows: &'static str,
    teach: &'static str,
) -> Pattern {
    let procedure = Procedure::Zeros(procedure);
    Pattern { name, short, shows, teach, family: Family::Zeros, weight: 3, procedure }
}

pub(super) const ZEROS: &[Pattern] = &[
    zeros(
        "one-zero-short",
        one_short,
        "one zero short",
        "the answer is one zero short",
        "Say it in units: 30 × 70 is 3 tens times 7 tens, 21 hundreds. Check the size before \
         counting zeros.",
    ),
    zeros(
        "one-zero-too-many",
        one_too_many,
        "one zero too many",
        "the answer is ten times too large: it has a zero too many",
        "Say it in units (3 tens times 7 tens is 21 hundreds), or label each row with what it is \
         times: the row × 6 begins without a zero. Estimate before and compare after.",
    ),
    zeros(
        "zeros-of-one-number-only",
        of_one_number,
        "zeros of one number only",
        "only the zeros of one of the numbers are written",
        "Strike out the zeros one by one as they are written behind the product. Work 3 × 70 and \
         then 30 × 70 and say what changed.",
    ),
    zeros(
        "zero-of-the-fact-counted",
        own_zero_counted,
        "the fact's zero counted",
        "the zero that the fact itself ends with is taken for one of the zeros to be written",
        "Write the fact first and underline it (5 × 4 = 20), then write the zeros behind the line. \
         Put 50 × 40 beside 50 × 30.",
    ),
];
