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
    /// Whether it is not a digit's row but each column times the digit under it.
    pub columnwise: bool,
    /// How each column was worked, from the ones upward (not in the order worked).
    pub columns: Vec<Column>,
}

impl WrongRow {
    /// What the row is times, 30 in "× 30"; none where it is not the row of one digit.
    pub fn times(&self) -> Option<u64> {
        (!self.columnwise).then(|| u64::from(self.digit) * self.place)
    }
    /// What stands in the squares of the row, from the ones upward: its noughts, then what each
    /// column wrote, a nought in front included. A nought too many takes a digit's square.
    pub fn squares(&self) -> Vec<u8> {
        let written = self.columns.iter().flat_map(|column| digits(column.write));
        let covered = self.zeros.saturating_sub(self.shift);
        vec![0; self.zeros].into_iter().chain(written.skip(covered)).collect()
    }
    /// What is carried, over the digit of the number above whose product it joins, or would have
    /// joined: the ones first. What a top column carries is its own front.
    pub fn carried_above(&self) -> Vec<u64> {
        let count = self.columns.len();
        let mut above = vec![0; count];
        for (index, column) in self.columns.iter().enumerate() {
            let into = if self.from_left { index.checked_sub(1) } else { Some(index + 1) };
            if let Some(place) = into.filter(|place| *place < count) {
                above[place] = column.carry;
            }
        }
        above
    }
    /// The small digit that stands above each square of the row, from the ones upward, 0 where
    /// none: over the ones of the column where it is added, or would have been. What a top column
    /// carries is its own front.
    pub fn small_digits(&self) -> Vec<u64> {
        let mut small = vec![0; self.shift];
        let mut from = Vec::with_capacity(self.columns.len());
        for column in &self.columns {
            from.push(small.len());
            small.resize(small.len() + digits(column.write).len(), 0);
        }
        for (place, carry) in from.into_iter().zip(self.carried_above()) {
            small[place] = carry;
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

impl WrongLong {
    /// Whether the row of the highest digit was written first.
    pub fn highest_first(&self) -> bool {
        let places: Vec<u64> = self.rows.iter().map(|row| row.place).collect();
        places.first() > places.last()
    }
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
                if self.ends_rounded() {
                    steps.push(value.to_string());
                }
                steps
            }
            _ => Vec::new(),
        }
    }
    /// Whether the answer is what the line comes to, rounded.
    pub fn ends_rounded(&self) -> bool {
        match self {
            WrongWorking::Line { expression, value }
            | WrongWorking::Estimate { expression, value, .. } => {
                super::steps::of(expression).last() != Some(&value.to_string())
            }
            _ => false,
        }
    }
    pub(super) fn line(expression: String, value: u64) -> WrongWorking {
        WrongWorking::Line { expression, value }
    }
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
