//! Long multiplication, with every carry.

use super::{FirstRow, HouseStyle, ZeroRow};
use crate::number::{carries_of_adding, digits, ten_to};
use serde::{Deserialize, Serialize};

/// One partial product: the multiplicand × digit × place.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Row {
    /// The digit of the multiplier, 0 to 9.
    pub digit: u8,
    /// Its place: 1, 10, 100, …
    pub place: u64,
    /// Multiplicand × digit × place.
    pub value: u64,
    /// The carry out of each multiplicand digit, from the ones upward, 0 where none; the last
    /// one is written large, as the row's leading digit.
    pub carries: Vec<u8>,
}

/// The whole working of a × b. The multiplicand is the number with more digits (the first if equal).
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Long {
    /// The multiplicand, written on top.
    pub a: u64,
    /// The multiplier.
    pub b: u64,
    /// The rows, in the order the house style writes them; a skipped zero row is not listed.
    pub rows: Vec<Row>,
    /// The carry out of each column when the rows are added, from the ones upward, one for each
    /// column of the product, 0 where none. Empty where there is one row only.
    pub adding_carries: Vec<u8>,
    /// The product.
    pub value: u64,
}

/// Multiplicand first: the number with more digits, the first if equal.
pub fn ordered(a: u64, b: u64) -> (u64, u64) {
    if crate::number::digit_count(b) > crate::number::digit_count(a) { (b, a) } else { (a, b) }
}

/// Works out a × b row by row.
pub fn long(a: u64, b: u64, style: &HouseStyle) -> Long {
    let (a, b) = ordered(a, b);
    let mut rows: Vec<Row> = digits(b)
        .into_iter()
        .enumerate()
        .filter(|&(_, digit)| digit != 0 || style.zero_row == ZeroRow::Write)
        .map(|(place, digit)| row(a, digit, ten_to(place)))
        .collect();
    let adding_carries = if rows.len() > 1 {
        carries_of_adding(&rows.iter().map(|r| r.value).collect::<Vec<_>>())
    } else {
        Vec::new()
    };
    if style.first_row == FirstRow::Highest {
        rows.reverse();
    }
    Long { a, b, value: rows.iter().map(|r| r.value).sum(), rows, adding_carries }
}

fn row(a: u64, digit: u8, place: u64) -> Row {
    let mut carry = 0;
    let mut carries = Vec::new();
    let mut value = 0;
    for (index, top) in digits(a).into_iter().enumerate() {
        let step = top * digit + carry;
        value += u64::from(step % 10) * ten_to(index);
        carry = step / 10;
        carries.push(carry);
    }
    value += u64::from(carry) * ten_to(carries.len());
    Row { digit, place, value: value * place, carries }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn worked(a: u64, b: u64) -> Long {
        long(a, b, &HouseStyle::default())
    }

    #[test]
    fn carries_stand_from_the_ones_upward_and_the_last_is_the_leading_digit() {
        let long = worked(6283, 347);
        let carries: Vec<&[u8]> = long.rows.iter().map(|r| r.carries.as_slice()).collect();
        assert_eq!(carries, [[2, 5, 1, 4], [1, 3, 1, 2], [0, 2, 0, 1]]);
        assert_eq!(
            long.rows.iter().map(|r| r.value).collect::<Vec<_>>(),
            [43_981, 251_320, 1_884_900]
        );
        assert_eq!((long.adding_carries, long.value), (vec![0, 1, 2, 1, 1, 1, 0], 2_180_201));
    }

    #[test]
    fn the_longer_number_stands_on_top_and_the_first_of_two_as_long() {
        assert_eq!((worked(347, 6283).a, worked(347, 6283).b), (6283, 347));
        assert_eq!((worked(36, 47).a, worked(36, 47).b), (36, 47));
    }

    #[test]
    fn one_digit_and_nothing_have_their_workings_too() {
        let short = worked(417, 8);
        assert_eq!((short.rows.len(), short.rows[0].carries.as_slice()), (1, &[5, 1, 3][..]));
        assert!(short.adding_carries.is_empty());
        let nothing = worked(347, 0);
        assert_eq!((nothing.rows.len(), nothing.value), (0, 0));
        let style = HouseStyle { zero_row: ZeroRow::Write, ..Default::default() };
        let noughts = long(347, 0, &style);
        assert_eq!((noughts.rows.len(), noughts.rows[0].carries.as_slice()), (1, &[0, 0, 0][..]));
        assert_eq!(worked(0, 7).rows[0].carries, [0]);
    }

    #[test]
    fn six_rows_are_added_with_carries_above_one() {
        let long = worked(999_999, 999_999);
        assert_eq!(long.value, 999_998_000_001);
        assert!(long.adding_carries.iter().any(|carry| *carry > 3));
    }
}
