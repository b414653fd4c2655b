//! The lattice: a cell for each pair of digits, halved by a diagonal, added along the diagonals.

use super::long::ordered;
use crate::number::{digits, from_digits};
use serde::{Deserialize, Serialize};

/// The whole lattice of a × b.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Lattice {
    /// The multiplicand, along the top.
    pub a: u64,
    /// The multiplier, down the right side.
    pub b: u64,
    /// Cell products 0 to 81: a row for each digit of the multiplier, highest first, and in it a
    /// cell for each digit of the multiplicand, highest first.
    pub cells: Vec<Vec<u8>>,
    /// The sums along the diagonals from the ones upward, the carry that came in included.
    pub diagonals: Vec<u8>,
    /// The carry out of each diagonal, from the ones upward.
    pub carries: Vec<u8>,
    /// The product.
    pub value: u64,
}

/// Works out a × b on a lattice.
pub fn lattice(a: u64, b: u64) -> Lattice {
    let (a, b) = ordered(a, b);
    let (top, side) = (digits(a), digits(b));
    let cells = side.iter().rev().map(|s| top.iter().rev().map(|t| t * s).collect()).collect();
    let mut sums = vec![0_u8; top.len() + side.len()];
    for (j, s) in side.iter().enumerate() {
        for (i, t) in top.iter().enumerate() {
            sums[i + j] += t * s % 10;
            sums[i + j + 1] += t * s / 10;
        }
    }
    let mut carry = 0;
    let mut carries = Vec::new();
    for sum in &mut sums {
        *sum += carry;
        carry = *sum / 10;
        carries.push(carry);
    }
    let value = from_digits(&sums.iter().map(|s| s % 10).collect::<Vec<_>>());
    Lattice { a, b, cells, diagonals: sums, carries, value }
}
