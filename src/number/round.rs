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
/// digits, and both one leading digit higher. A number that is round itself, as one of one digit
/// is, stays as it is: 27 × 7 lies between 140 and 210.
pub fn bracket(a: u64, b: u64) -> (u64, u64) {
    let ends = |n| {
        let unit = leading_unit(n);
        let low = n / unit * unit;
        (low, if low == n { n } else { low + unit })
    };
    let ((low_a, high_a), (low_b, high_b)) = (ends(a), ends(b));
    (low_a * low_b, high_a * high_b)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_half_goes_up_and_one_digit_stays() {
        let rounded = [5, 14, 15, 149, 150, 649, 950, 6283].map(round_to_leading);
        assert_eq!(rounded, [5, 10, 20, 100, 200, 600, 1000, 6000]);
        assert_eq!([round_half_up(6283, 10), round_half_up(6283, 100)], [6280, 6300]);
        assert_eq!(round_to_leading(0), 0);
    }

    #[test]
    fn a_rounded_number_is_the_nearest_multiple() {
        for n in 0..20_000_u64 {
            for unit in [10, 100, 1000] {
                let near = round_half_up(n, unit);
                assert!(near.is_multiple_of(unit) && near.abs_diff(n) * 2 <= unit, "{n} to {unit}");
            }
        }
    }

    #[test]
    fn every_product_of_two_digits_by_two_lies_in_its_bracket() {
        for (a, b) in (0..100).flat_map(|a| (0..100).map(move |b| (a, b))) {
            let (least, most) = bracket(a, b);
            assert!(least <= a * b && a * b <= most, "{a} x {b}");
            // The product itself only where both numbers are round.
            let round = |n: u64| n < 10 || n.is_multiple_of(10);
            let both = (round(a) && round(b)) || a * b == 0;
            assert_eq!(least == most, both, "{a} x {b}");
        }
        assert_eq!(bracket(6283, 347), (1_800_000, 2_800_000));
    }

    #[test]
    fn one_digit_and_round_numbers_are_not_rounded_for_the_bracket() {
        assert_eq!(bracket(27, 7), (140, 210));
        assert_eq!(bracket(470, 4), (1600, 2000));
        assert_eq!(bracket(403, 3), (1200, 1500));
        assert_eq!(bracket(560, 5), (2500, 3000));
        assert_eq!(bracket(470, 40), (16_000, 20_000));
        assert_eq!(bracket(40, 30), (1200, 1200));
    }
}
