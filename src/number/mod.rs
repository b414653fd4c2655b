//! Whole numbers as people write and say them: digits, places, grouping, names, rounding.
//!
//! Everything here is exact and works on `u64`; products of the tool have at most twelve digits.

mod names;
mod round;

pub use names::in_words;
pub use round::{bracket, leading_digit, round_half_up, round_to_leading};

use arrayvec::ArrayVec;
use serde::{Deserialize, Serialize};

/// How a class groups the digits of large numbers, and with it how it names their places.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Grouping {
    /// 1,234,567: ones, thousands, millions.
    #[default]
    Thousands,
    /// 12,34,567: ones, thousands, lakh, crore (CLDR `en_IN`, `#,##,##0`).
    Indian,
    /// 1 234 567 with U+202F, from four digits on (ISO/IEC Directives Part 2).
    Spaced,
}

/// The word for the last place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum OnesWord {
    /// "ones"
    #[default]
    Ones,
    /// "units"
    Units,
}

impl Grouping {
    /// The number as the class writes it.
    pub fn write(self, n: u64) -> String {
        let digits = n.to_string();
        let separator = if self == Grouping::Spaced { '\u{202F}' } else { ',' };
        let len = digits.len();
        let mut out = String::new();
        for (index, digit) in digits.chars().enumerate() {
            if index > 0 && self.breaks_before(len - index) {
                out.push(separator);
            }
            out.push(digit);
        }
        out
    }
    /// Whether a separator stands before the last `left` digits.
    fn breaks_before(self, left: usize) -> bool {
        match self {
            Grouping::Indian => left >= 3 && (left - 3).is_multiple_of(2),
            Grouping::Thousands | Grouping::Spaced => left.is_multiple_of(3),
        }
    }
    /// The short heading of a place, 0 for the last: O T H Th TTh then L TL C or HTh M TM.
    pub fn place_heading(self, place: usize, ones: OnesWord) -> &'static str {
        const LAKH: [&str; 7] = ["L", "TL", "C", "TC", "HC", "ThC", "TThC"];
        const MILLION: [&str; 7] = ["HTh", "M", "TM", "HM", "B", "TB", "HB"];
        match (place, self) {
            (0, _) => match ones {
                OnesWord::Ones => "O",
                OnesWord::Units => "U",
            },
            (1..=4, _) => ["T", "H", "Th", "TTh"][place - 1],
            (_, Grouping::Indian) => LAKH.get(place - 5).copied().unwrap_or(""),
            _ => MILLION.get(place - 5).copied().unwrap_or(""),
        }
    }
    /// The name of a place in the plural, 0 for the last: "ones", "tens", "hundreds", …
    pub fn place_name(self, place: usize, ones: OnesWord) -> &'static str {
        const LAKH: [&str; 7] = [
            "lakhs",
            "ten lakhs",
            "crores",
            "ten crores",
            "hundred crores",
            "thousand crores",
            "ten thousand crores",
        ];
        const MILLION: [&str; 7] = [
            "hundred thousands",
            "millions",
            "ten millions",
            "hundred millions",
            "billions",
            "ten billions",
            "hundred billions",
        ];
        match (place, self) {
            (0, _) => match ones {
                OnesWord::Ones => "ones",
                OnesWord::Units => "units",
            },
            (1..=4, _) => ["tens", "hundreds", "thousands", "ten thousands"][place - 1],
            (_, Grouping::Indian) => LAKH.get(place - 5).copied().unwrap_or(""),
            _ => MILLION.get(place - 5).copied().unwrap_or(""),
        }
    }
}

/// The digits of a number; a 64-bit number has at most 20. They are asked for so often that they
/// must not cost an allocation.
pub type Digits = ArrayVec<u8, 20>;

/// The carry out of each column when numbers are added on paper, from the ones upward, 0 where
/// none: as many as their sum has digits, the last always 0. For at most 25 numbers, whose columns
/// with their carry stay below 256.
pub fn carries_of_adding(numbers: &[u64]) -> Vec<u8> {
    let columns: Vec<Digits> = numbers.iter().map(|&n| digits(n)).collect();
    let mut carry = 0;
    let out = |place| {
        carry = (columns.iter().filter_map(|c| c.get(place)).sum::<u8>() + carry) / 10;
        carry
    };
    (0..digits(numbers.iter().sum()).len()).map(out).collect()
}

/// The digits of a number, ones first; `[0]` for zero.
pub fn digits(n: u64) -> Digits {
    let mut digits = Digits::new();
    let mut rest = n;
    loop {
        digits.push(u8::try_from(rest % 10).unwrap_or(0));
        rest /= 10;
        if rest == 0 {
            return digits;
        }
    }
}

/// The number these digits make, ones first.
pub fn from_digits(digits: &[u8]) -> u64 {
    digits.iter().rev().fold(0, |n, &d| n * 10 + u64::from(d))
}

/// How many digits a number has; 1 for zero.
pub fn digit_count(n: u64) -> u32 {
    n.checked_ilog10().unwrap_or(0) + 1
}

/// Ten to a power of at most 19.
pub fn ten_to(power: usize) -> u64 {
    10_u64.pow(u32::try_from(power).unwrap_or(u32::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_grouped_as_the_class_writes_them() {
        // Source: Unicode CLDR, en_IN `#,##,##0.###` and en `#,##0.###`.
        assert_eq!(Grouping::Indian.write(9_989_001), "99,89,001");
        assert_eq!(Grouping::Indian.write(100_000), "1,00,000");
        assert_eq!(Grouping::Indian.write(99_999), "99,999");
        assert_eq!(Grouping::Thousands.write(9_989_001), "9,989,001");
        assert_eq!(Grouping::Spaced.write(2345), "2\u{202F}345");
        assert_eq!([0, 7, 999].map(|n| Grouping::Indian.write(n)), ["0", "7", "999"]);
    }

    #[test]
    fn places_are_named_up_to_twelve_digits_in_both_conventions() {
        let headings = |grouping: Grouping| {
            let heading = |place| grouping.place_heading(place, OnesWord::Ones);
            (0..12).map(heading).collect::<Vec<_>>().join(" ")
        };
        assert_eq!(headings(Grouping::Indian), "O T H Th TTh L TL C TC HC ThC TThC");
        assert_eq!(headings(Grouping::Thousands), "O T H Th TTh HTh M TM HM B TB HB");
        assert_eq!(Grouping::Indian.place_name(5, OnesWord::Ones), "lakhs");
        assert_eq!(Grouping::Spaced.place_name(6, OnesWord::Ones), "millions");
        assert_eq!(Grouping::Spaced.place_name(0, OnesWord::Units), "units");
        assert_eq!(Grouping::Spaced.place_heading(0, OnesWord::Units), "U");
        for grouping in [Grouping::Indian, Grouping::Thousands] {
            assert!((0..12).all(|place| !grouping.place_name(place, OnesWord::Ones).is_empty()));
        }
    }

    #[test]
    fn adding_carries_from_the_ones_upward() {
        assert_eq!(carries_of_adding(&[43_981, 251_320, 1_884_900]), [0, 1, 2, 1, 1, 1, 0]);
        assert_eq!((carries_of_adding(&[95, 5]), carries_of_adding(&[])), (vec![1, 1, 0], vec![0]));
    }

    proptest::proptest! {
        /// A column shows what stands in it and the carry into it, less the tens of its own carry.
        #[test]
        fn columns_with_their_carries_come_to_the_sum(
            numbers in proptest::collection::vec(0..1_000_000_000_000_u64, 1..25),
        ) {
            let carries = carries_of_adding(&numbers);
            let column = |i: usize| -> u64 {
                let own: u64 = numbers.iter().map(|n| n / ten_to(i) % 10).sum();
                let into = i.checked_sub(1).map_or(0, |i| u64::from(carries[i]));
                own + into - 10 * u64::from(carries[i])
            };
            let shown: u64 = (0..carries.len()).map(|i| column(i) * ten_to(i)).sum();
            proptest::prop_assert_eq!(shown, numbers.iter().sum::<u64>());
            proptest::prop_assert!((0..carries.len()).all(|i| column(i) < 10));
        }
        #[test]
        fn grouped_digits_are_the_number_and_nothing_else(n: u64) {
            for grouping in [Grouping::Thousands, Grouping::Indian, Grouping::Spaced] {
                let plain: String = grouping.write(n).chars().filter(char::is_ascii_digit).collect();
                assert_eq!(plain, n.to_string());
            }
        }

        #[test]
        fn digits_make_their_number_again(n: u64) {
            assert_eq!(from_digits(&digits(n)), n);
            assert_eq!(digits(n).len(), digit_count(n) as usize);
        }
    }
}
