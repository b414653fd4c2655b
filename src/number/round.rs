//! Rounding, and the bracket a product must lie in.

use super::{digit_count, ten_to};

/// The first digit of a number.
pub fn leading_digit(n: u64) -> u64 {
    n / leading_unit(n)
}

fn leading_unit(n: u64) -> u64 {
    ten_to(digit_count(n) as usize - 1)
}

/// The nearest multiple of `unit`; a half goes up.
pub fn round_half_up(n: u64, unit: u64) -> u64 {
    (n + unit / 2) / unit * unit
}

/// The number rounded to its leading digit; a half goes up. One digit stays as it is.
pub fn round_to_leading(n: u64) -> u64 {
    round_half_up(n, leading_unit(n))
}

/// The two round numbers between which a × b lies: both factors cut down to their leading
/// digits, and both one leading digit higher.
pub fn bracket(a: u64, b: u64) -> (u64, u64) {
    let low = |n| leading_digit(n) * leading_unit(n);
    let high = |n| (leading_digit(n) + 1) * leading_unit(n);
    (low(a) * low(b), high(a) * high(b))
}
