//! One column of a row, as a pupil works it: what is multiplied, added, written and carried.

use serde::{Deserialize, Serialize};

/// What a pupil does with the digit on top.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Done {
    /// It is multiplied.
    Times,
    /// The other digit is added to it.
    Added,
    /// It is copied.
    Copied,
    /// It is passed over: a nought is written without a look at the carry.
    Passed,
}

/// One column of a row.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Column {
    /// The digit on top.
    pub top: u64,
    /// What it is multiplied by: mostly the multiplier's digit.
    pub by: u64,
    /// What is done with it.
    pub done: Done,
    /// What is added to the digit on top before anything else; 0 for nothing.
    pub before: u64,
    /// What the pupil takes that to be: the product, right or wrong.
    pub taken: u64,
    /// What is added then: the carry, and an old one; 0 for nothing.
    pub added: [u64; 2],
    /// What is written in the column: one digit, or in the top column all of it.
    pub write: u64,
    /// What is carried; of a top column written in full, its front.
    pub carry: u64,
}

impl Column {
    /// Ones written and tens carried of `taken` and what is added to it.
    pub(super) fn of(top: u64, by: u64, done: Done, taken: u64, carry: u64) -> Column {
        let column =
            Column { top, by, done, before: 0, taken, added: [carry, 0], write: 0, carry: 0 };
        column.split()
    }
    /// Ones written and tens carried, as it should be.
    pub(super) fn split(self) -> Column {
        Column { write: self.whole() % 10, carry: self.whole() / 10, ..self }
    }
    /// What the column comes to.
    pub fn whole(&self) -> u64 {
        self.taken + self.added.iter().sum::<u64>()
    }
    /// What the pupil says here, in ASCII: `4*6 = 24, + 4 = 28: write 8, carry 2`.
    pub fn said(&self) -> String {
        let Column { top, by, before, taken, .. } = *self;
        let first = match (self.done, before) {
            (Done::Times, 0) => format!("{top}*{by} = {taken}"),
            (Done::Times, _) => format!("({top} + {before})*{by} = {taken}"),
            (Done::Added, _) => format!("{top} + {by} = {taken}"),
            (Done::Copied, _) => format!("{top} is copied"),
            (Done::Passed, _) => format!("{top} is passed over"),
        };
        let more: String =
            self.added.iter().filter(|n| **n > 0).map(|n| format!(" + {n}")).collect();
        let sum =
            if more.is_empty() { String::new() } else { format!(",{more} = {}", self.whole()) };
        let carries = self.carry > 0 && self.write < 10;
        let carry = if carries { format!(", carry {}", self.carry) } else { String::new() };
        format!("{first}{sum}: write {}{carry}", self.write)
    }
}

/// What writes a row: it adds up what the columns show, from the ones upward, and keeps the
/// columns themselves where a page is wanted.
#[derive(Debug)]
pub(super) struct Pen {
    keep: bool,
    /// What stands in the row so far.
    pub value: u64,
    scale: u64,
    /// Whether the row was worked from the left.
    pub from_left: bool,
    /// The columns, from the ones upward; none where only the answer is wanted.
    pub columns: Vec<Column>,
}

impl Pen {
    pub fn new(keep: bool) -> Pen {
        Pen { keep, value: 0, scale: 1, from_left: false, columns: Vec::new() }
    }
    /// Writes the next column to the left.
    pub fn write(&mut self, column: Column) {
        self.value += column.write * self.scale;
        self.scale *= if column.write < 10 { 10 } else { beyond(column.write) };
        if self.keep {
            self.columns.push(column);
        }
    }
    /// The carry out of each column.
    pub fn carries(&self) -> Vec<u8> {
        self.columns.iter().map(|c| u8::try_from(c.carry).unwrap_or(u8::MAX)).collect()
    }
}

/// The power of ten just above a number.
fn beyond(n: u64) -> u64 {
    let mut power = 10;
    while power <= n {
        power *= 10;
    }
    power
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_column_is_said_aloud() {
        let right = Column::of(4, 6, Done::Times, 24, 4);
        assert_eq!(right.said(), "4*6 = 24, + 4 = 28: write 8, carry 2");
        let early = Column { before: 4, ..Column::of(4, 6, Done::Times, 48, 0) };
        assert_eq!(early.said(), "(4 + 4)*6 = 48: write 8, carry 4");
        let old = Column { added: [2, 4], ..Column::of(4, 3, Done::Times, 12, 0) }.split();
        assert_eq!(old.said(), "4*3 = 12, + 2 + 4 = 18: write 8, carry 1");
        assert_eq!(Column::of(7, 6, Done::Copied, 7, 0).said(), "7 is copied: write 7");
    }

    #[test]
    fn a_pen_sets_down_what_is_written_in_full() {
        let mut pen = Pen::new(true);
        for write in [42, 0, 18] {
            pen.write(Column { write, ..Column::of(0, 6, Done::Times, 0, 0) });
        }
        assert_eq!((pen.value, pen.columns.len()), (18_042, 3));
    }
}
