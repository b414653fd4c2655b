//! What a pupil with an error pattern would have on the page.
//!
//! A wrong working has the form of the right one: rows with their noughts and carries and the
//! carries of adding them, the cells of a grid or lattice, the lines of a mental route, rounded
//! numbers. It is made by the same procedure that makes the answer, so that page and answer cannot
//! part: a row's value is what stands in its columns, the answer is what its rows come to.

use super::column::Column;
use crate::method::{Grid, Lattice};
use crate::number::{digits, ten_to};
use serde::{Deserialize, Serialize};

/// How much of a working is kept: only what it comes to, or everything on the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Detail {
    Answer,
    Page,
}

/// One row as a pupil wrote it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct WrongRow {
    /// The digit of the multiplier, 0 to 9; of a sum done column by column the last one.
    pub digit: u8,
    /// Its place, whatever the pupil made of it: 1, 10, 100, …
    pub place: u64,
    /// What is written in the row, noughts at its end included.
    pub value: u64,
    /// The carry out of each column, from the ones upward, 0 where none.
    pub carries: Vec<u8>,
    /// How many placeholder noughts the pupil wrote.
    pub zeros: usize,
    /// How many columns to the left the digits stand; fewer than `zeros` where noughts were
    /// written over digits.
    pub shift: usize,
    /// Whether it was worked from the left, so that each carry goes to the right.
    pub from_left: bool,
    /// How each column was worked, from the ones upward (not in the order worked).
    pub columns: Vec<Column>,
}

impl WrongRow {
    /// What the row is times, where every column was multiplied by its digit: 30 in "× 30".
    pub fn times(&self) -> Option<u64> {
        let all = self.columns.iter().all(|c| c.by == u64::from(self.digit));
        all.then(|| u64::from(self.digit) * self.place)
    }
    /// The small digit that stands above each column of the page, from the ones upward, 0 where
    /// none: where it is added, or would have been. What a top column carries is its own front.
    pub fn small_digits(&self) -> Vec<u64> {
        let mut small = vec![0; self.shift + self.columns.len()];
        for (index, column) in self.columns.iter().enumerate() {
            let above = if self.from_left { index.checked_sub(1) } else { Some(index + 1) };
            if let Some(place) = above.and_then(|i| small.get_mut(i + self.shift)) {
                *place = column.carry;
            }
        }
        small
    }
}

/// Rows and their sum, as a pupil wrote them.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct WrongLong {
    /// The number on top.
    pub a: u64,
    /// The number under it.
    pub b: u64,
    /// The rows in the order written.
    pub rows: Vec<WrongRow>,
    /// The carry out of each column when the rows are added, from the ones upward, 0 where none or
    /// where it was lost. Empty where there is one row only.
    pub adding_carries: Vec<u8>,
    /// The pupil's answer.
    pub value: u64,
}

/// A wrong working, in the same form as the right one so that both can stand side by side. Rows,
/// cells and carries are as the pupil writes them, not what they ought to be.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "method", rename_all = "kebab-case")]
pub enum WrongWorking {
    /// Rows, each with its carries, and their sum.
    Long(WrongLong),
    /// A grid; a cell of 0 was left out.
    Grid(Grid),
    /// A lattice; a carry of 0 beside a diagonal of ten and more was lost.
    Lattice(Lattice),
    /// An estimate from two numbers that the pupil rounded so.
    Estimate {
        /// The rounded numbers, in the order of the sum.
        factors: [u64; 2],
        /// What is worked out: integers with `+ - * //`.
        expression: String,
        /// The answer.
        value: u64,
    },
    /// One line: integers with `+ - * //` and brackets, and what the pupil takes it to be.
    Line {
        /// What is worked out.
        expression: String,
        /// The answer.
        value: u64,
    },
}

impl WrongWorking {
    /// The answer it ends with.
    pub fn value(&self) -> u64 {
        match self {
            WrongWorking::Long(long) => long.value,
            WrongWorking::Grid(grid) => grid.value,
            WrongWorking::Lattice(lattice) => lattice.value,
            WrongWorking::Line { value, .. } | WrongWorking::Estimate { value, .. } => *value,
        }
    }
    /// What a line or an estimate comes to step by step, the answer last, in ASCII: `47*30 + 47`,
    /// `1410 + 47`, `1457`. Empty for rows, grids and lattices, which show their own steps.
    pub fn steps(&self) -> Vec<String> {
        match self {
            WrongWorking::Line { expression, value }
            | WrongWorking::Estimate { expression, value, .. } => {
                let mut steps = super::steps::of(expression);
                if steps.last() != Some(&value.to_string()) {
                    steps.push(value.to_string());
                }
                steps
            }
            _ => Vec::new(),
        }
    }
    pub(super) fn line(expression: String, value: u64) -> WrongWorking {
        WrongWorking::Line { expression, value }
    }
}

/// The carry out of each column when these numbers are added, from the ones upward.
pub(super) fn column_carries(numbers: &[u64]) -> Vec<u8> {
    let columns: Vec<_> = numbers.iter().map(|&n| digits(n)).collect();
    let mut carry = 0;
    (0..digits(numbers.iter().sum()).len())
        .map(|i| {
            carry = (columns.iter().filter_map(|c| c.get(i)).sum::<u8>() + carry) / 10;
            carry
        })
        .collect()
}

/// The sum of numbers when every column's tens are lost.
pub(super) fn without_carries(numbers: &[u64]) -> u64 {
    let (mut rest, mut value, mut place) = (numbers.to_vec(), 0, 0);
    while rest.iter().any(|&n| n > 0) {
        value += rest.iter().map(|n| n % 10).sum::<u64>() % 10 * ten_to(place);
        rest.iter_mut().for_each(|n| *n /= 10);
        place += 1;
    }
    value
}
