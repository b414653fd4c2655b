//! The grid: each part of one number times each part of the other.

use super::long::ordered;
use crate::number::{digits, ten_to};
use serde::{Deserialize, Serialize};

/// One row of a grid: all parts of the multiplicand times one part of the multiplier.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct GridRow {
    /// The digit of the multiplier.
    pub digit: u8,
    /// Its place: 1, 10, 100, …
    pub place: u64,
    /// One cell for each part in [`Grid::parts`].
    pub cells: Vec<u64>,
    /// The sum of the cells.
    pub value: u64,
}

/// The whole grid of a × b, highest parts first.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Grid {
    /// The multiplicand.
    pub a: u64,
    /// The multiplier.
    pub b: u64,
    /// The parts of the multiplicand, highest first, zero parts left out.
    pub parts: Vec<u64>,
    /// A row for each part of the multiplier that is not zero, highest first.
    pub rows: Vec<GridRow>,
    /// The product.
    pub value: u64,
}

/// Lays out a × b as a grid.
pub fn grid(a: u64, b: u64) -> Grid {
    let (a, b) = ordered(a, b);
    let high_first = |n| digits(n).into_iter().enumerate().rev().filter(|&(_, d)| d != 0);
    let parts: Vec<u64> = high_first(a).map(|(i, d)| u64::from(d) * ten_to(i)).collect();
    let rows: Vec<GridRow> = high_first(b)
        .map(|(i, digit)| {
            let place = ten_to(i);
            let cells: Vec<u64> = parts.iter().map(|p| p * u64::from(digit) * place).collect();
            GridRow { digit, place, value: cells.iter().sum(), cells }
        })
        .collect();
    Grid { a, b, parts, value: rows.iter().map(|r| r.value).sum(), rows }
}
