//! What each mental step costs.
//!
//! The model is our own: no published measure gives these weights. What they follow is published:
//! facts with a 2, a 5 or a tie are easier and large ones harder, carries and results to hold load
//! memory (reviews of mental arithmetic by Ashcraft, Campbell, Imbo and Vandierendonck; from
//! memory). Costs are kept in sixtieths of a step, in which all weights are whole.

use crate::number::{digits, ten_to};

/// The weights, in sixtieths of a mental step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct CostModel {
    /// A fact with 0, 1 or 10.
    pub trivial_fact: u32,
    /// A fact with 2, 5, or of a number with itself; the least of every other.
    pub easy_fact: u32,
    /// What each 1 by which a product exceeds 12 adds to another fact.
    pub size_effect: u32,
    /// Moving the digits one place.
    pub shift: u32,
    /// Holding a whole result while another is worked out.
    pub hold: u32,
    /// Holding one part of a one-digit product, or a factor's product.
    pub hold_part: u32,
    /// A column in which there is something to add, or a digit to take away.
    pub column: u32,
    /// A carry.
    pub carry: u32,
    /// The least an addition costs.
    pub least_addition: u32,
    /// Any exchanging in a subtraction, once.
    pub exchange: u32,
    /// A digit, not zero, to double or to halve.
    pub twofold: u32,
    /// What a digit of 5 or more adds in doubling, and an odd one above the ones in halving.
    pub twofold_carry: u32,
}

impl Default for CostModel {
    fn default() -> Self {
        CostModel {
            trivial_fact: 30,
            easy_fact: 60,
            size_effect: 1,
            shift: 30,
            hold: 60,
            hold_part: 30,
            column: 60,
            carry: 30,
            least_addition: 30,
            exchange: 45,
            twofold: 45,
            twofold_carry: 30,
        }
    }
}

impl CostModel {
    /// Sixtieths as hundredths, a half going up.
    pub(super) fn hundredths(sixtieths: u32) -> u32 {
        (sixtieths * 10 + 3) / 6
    }
    /// A fact x × y of the tables.
    pub(super) fn fact(&self, x: u64, y: u64) -> u32 {
        if [0, 1, 10].contains(&x) || [0, 1, 10].contains(&y) {
            self.trivial_fact
        } else if [2, 5].contains(&x) || [2, 5].contains(&y) || x == y {
            self.easy_fact
        } else {
            let above = u32::try_from((x * y).saturating_sub(12)).unwrap_or(u32::MAX);
            self.easy_fact + self.size_effect.saturating_mul(above)
        }
    }
    /// Moving the digits `places` places.
    pub(super) fn shifts(&self, places: u32) -> u32 {
        self.shift * places
    }
    /// x + y, column by column.
    pub(super) fn add(&self, x: u64, y: u64) -> u32 {
        let (mut x, mut y) = (x, y);
        let (mut cost, mut carry) = (0, 0);
        while x != 0 || y != 0 {
            let (p, q) = (x % 10, y % 10);
            if (p != 0 && q != 0) || carry != 0 {
                cost += self.column;
            }
            carry = (p + q + carry) / 10;
            cost += if carry != 0 { self.carry } else { 0 };
            (x, y) = (x / 10, y / 10);
        }
        cost.max(self.least_addition)
    }
    /// x − y.
    pub(super) fn subtract(&self, x: u64, y: u64) -> u32 {
        let (mut x, mut y) = (x, y);
        let (mut columns, mut exchanged) = (0, false);
        while y != 0 {
            columns += if y % 10 != 0 { self.column } else { 0 };
            exchanged |= x % 10 < y % 10;
            (x, y) = (x / 10, y / 10);
        }
        columns + u32::from(exchanged) * self.exchange
    }
    /// Twice a number.
    pub(super) fn double(&self, n: u64) -> u32 {
        let cost =
            |d: u8| u32::from(d != 0) * self.twofold + u32::from(d >= 5) * self.twofold_carry;
        digits(n).into_iter().map(cost).sum()
    }
    /// Half of an even number.
    pub(super) fn halve(&self, n: u64) -> u32 {
        let cost = |(place, d): (usize, u8)| {
            let odd = place > 0 && !d.is_multiple_of(2);
            u32::from(d != 0) * self.twofold + u32::from(odd) * self.twofold_carry
        };
        digits(n).into_iter().enumerate().map(cost).sum()
    }
    /// A number times one digit, part by part from the highest: 47 × 6 as 40 × 6 + 7 × 6.
    pub(super) fn by_digit(&self, n: u64, digit: u64) -> u32 {
        if digit == 1 {
            return 0;
        }
        let (mut cost, mut total) = (0, None);
        let digits = digits(n);
        let mut place = ten_to(digits.len() - 1);
        for &top in digits.iter().rev() {
            if top != 0 {
                cost += self.fact(top.into(), digit) + u32::from(place > 1) * self.shift;
                let product = u64::from(top) * place * digit;
                cost += total.map_or(0, |sum| self.hold_part + self.add(sum, product));
                total = Some(total.unwrap_or(0) + product);
            }
            place /= 10;
        }
        cost
    }
    /// A number times a round one, d × 10…0.
    pub(super) fn by_round(&self, n: u64, round: super::Part) -> u32 {
        self.by_digit(n, round.digit) + self.shifts(round.zeros)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn hundredths(cost: impl Fn(&CostModel) -> u32) -> u32 {
        CostModel::hundredths(cost(&CostModel::default()))
    }

    #[test]
    fn each_step_costs_what_the_model_says() {
        assert_eq!(hundredths(|m| m.fact(7, 1)), 50);
        assert_eq!(hundredths(|m| m.fact(8, 8)), 100);
        assert_eq!(hundredths(|m| m.fact(3, 4)), 100);
        assert_eq!(hundredths(|m| m.fact(7, 9)), 185);
        assert_eq!(hundredths(|m| m.add(200, 30)), 50);
        assert_eq!(hundredths(|m| m.add(640, 64)), 250);
        assert_eq!(hundredths(|m| m.add(80, 36)), 150);
        assert_eq!(hundredths(|m| m.subtract(3600, 36)), 275);
        assert_eq!(hundredths(|m| m.subtract(250, 20)), 100);
        assert_eq!(hundredths(|m| m.double(35)), 200);
        assert_eq!(hundredths(|m| m.halve(16_000)), 200);
        assert_eq!(hundredths(|m| m.by_digit(47, 6)), 470);
        assert_eq!(hundredths(|m| m.by_digit(882, 4)), 717);
    }
}
