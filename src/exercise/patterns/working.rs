//! What a pupil with an error pattern would have on the page.

use crate::method::{Grid, Long};
use crate::number::digits;
use serde::{Deserialize, Serialize};

/// A wrong working, in the same form as the right one so that both can stand side by side. Rows,
/// cells and carries are as the pupil writes them, not what they ought to be.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "method", rename_all = "kebab-case")]
pub enum WrongWorking {
    /// Rows, each with its carries, and their sum. A row's `value` is what is written in it; its
    /// `digit` and `place` are those of the multiplier.
    Long(Long),
    /// A grid; a cell of 0 was left out.
    Grid(Grid),
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
            WrongWorking::Line { value, .. } => *value,
        }
    }
    pub(super) fn line(expression: String, value: u64) -> WrongWorking {
        WrongWorking::Line { expression, value }
    }
}

/// The carry out of each column when these numbers are added, from the ones upward.
pub(super) fn column_carries(numbers: &[u64]) -> Vec<u8> {
    let columns: Vec<Vec<u8>> = numbers.iter().map(|&n| digits(n)).collect();
    let mut carry = 0;
    (0..digits(numbers.iter().sum()).len())
        .map(|i| {
            carry = (columns.iter().filter_map(|c| c.get(i)).sum::<u8>() + carry) / 10;
            carry
        })
        .collect()
}
