//! What a pattern gives in one class: only the pages its pupils could write, as they write them.
//!
//! The catalogue is run under every layout; a class has one. What it does with a zero in the
//! multiplier, which row it writes first and whether it writes rows, a grid or a lattice decides
//! which wrong answers can come about there, and how the page looks.

use super::column::{Column, Done};
use super::working::{Detail, WrongLong, WrongRow, WrongWorking};
use super::{Attempt, Pattern, pattern, shows_in};
use crate::method::{
    FirstRow, Grid, GridRow, HouseStyle, Lattice, Written, ZeroRow, grid, lattice,
};
use crate::number::{carries_of_adding, digits, ten_to};

impl Pattern {
    /// What the pattern gives for a × b in a class that writes by this method and style, usual way
    /// round first, each answer once, with the page as it would look there. Nothing for numbers of
    /// more than six digits.
    pub fn attempts_in(
        &self,
        (a, b): (u64, u64),
        method: Written,
        style: &HouseStyle,
    ) -> Vec<Attempt> {
        let mut found: Vec<Attempt> = Vec::new();
        if !shows_in(self, method) {
            return found;
        }
        for Attempt { turned, working } in self.tries(a, b, Detail::Page) {
            let known = found.iter().any(|f| f.working.value() == working.value());
            if !known && fits(self, &working, method, style) {
                found.push(Attempt { turned, working: as_written(working, method, style) });
            }
        }
        found
    }
}

impl WrongWorking {
    /// Rows as a class of this style has them on the page, in its order and with rows of noughts where
    /// it writes them; as it is, if pupils with these patterns could not have it there.
    pub fn in_house(&self, patterns: &[&str], style: &HouseStyle) -> WrongWorking {
        let could = |name: &&str| {
            pattern(name).is_some_and(|known| fits(known, self, Written::Long, style))
        };
        match self {
            WrongWorking::Long(long) if patterns.iter().all(could) => {
                WrongWorking::Long(in_rows(long.clone(), style))
            }
            other => other.clone(),
        }
    }
}

/// Whether a pupil who writes by this method and style could have this working on the page.
pub(super) fn fits(
    pattern: &Pattern,
    working: &WrongWorking,
    method: Written,
    style: &HouseStyle,
) -> bool {
    match (pattern.name, working) {
        ("adding-carries-lost", WrongWorking::Grid(_)) => method != Written::Long,
        ("adding-carries-lost", _) => method == Written::Long,
        ("zero-row-copied", _) | ("one-zero-too-many", WrongWorking::Long(_)) => {
            method == Written::Long
        }
        ("row-after-zero-closed-up", _) => style.zero_row == ZeroRow::Skip,
        ("old-carries-added-again" | "old-carry-used-instead", WrongWorking::Long(long)) => {
            let zero_row = long.rows.iter().any(|row| row.digit == 0);
            let written = method == Written::Long && style.zero_row == ZeroRow::Write;
            long.highest_first() == (style.first_row == FirstRow::Highest) && (!zero_row || written)
        }
        (_, WrongWorking::Long(long)) if has_zero(long.b) => {
            let written = long.rows.iter().any(|row| row.digit == 0);
            !written || (method == Written::Long && style.zero_row == ZeroRow::Write)
        }
        _ => true,
    }
}

fn has_zero(n: u64) -> bool {
    digits(n).contains(&0)
}

/// The same working as this class would have it on the page.
fn as_written(working: WrongWorking, method: Written, style: &HouseStyle) -> WrongWorking {
    match (working, method) {
        (WrongWorking::Long(long), Written::Long) => WrongWorking::Long(in_rows(long, style)),
        (WrongWorking::Long(long), Written::Grid) => {
            let square = in_grid(&long);
            square.map_or(WrongWorking::Long(long), WrongWorking::Grid)
        }
        (WrongWorking::Long(long), Written::Lattice) => {
            let cells = in_lattice(&long);
            cells.map_or(WrongWorking::Long(long), WrongWorking::Lattice)
        }
        (WrongWorking::Grid(square), Written::Lattice) => {
            let right = lattice(square.a, square.b);
            let lost = diagonals(&right.cells);
            let carries = vec![0; lost.len()];
            WrongWorking::Lattice(Lattice {
                diagonals: lost,
                carries,
                value: square.value,
                ..right
            })
        }
        (other, _) => other,
    }
}

/// Rows in the order of the house, with rows of noughts where it writes them.
fn in_rows(long: WrongLong, style: &HouseStyle) -> WrongLong {
    let WrongLong { a, b, mut rows, adding_carries, value } = long;
    if style.zero_row == ZeroRow::Write && rows.len() > 1 {
        let missing = |place: &u64| rows.iter().all(|row| row.place != *place);
        // Who writes no zeros before a row writes none before noughts.
        let later = || rows.iter().filter(|row| row.place > 1);
        let placed = later().next().is_none() || later().any(|row| row.zeros > 0);
        let noughts: Vec<WrongRow> = (digits(b).iter().enumerate())
            .filter(|(_, digit)| **digit == 0)
            .map(|(power, _)| ten_to(power))
            .filter(missing)
            .map(|place| noughts(a, place, placed))
            .collect();
        rows.extend(noughts);
        rows.sort_by_key(|row| row.place);
    }
    if style.first_row == FirstRow::Highest {
        rows.sort_by_key(|row| std::cmp::Reverse(row.place));
    }
    WrongLong { a, b, rows, adding_carries, value }
}

/// A row for a zero: nothing but noughts.
fn noughts(a: u64, place: u64, placed: bool) -> WrongRow {
    let column = |top: u8| Column::of(u64::from(top), 0, Done::Times, 0, 0);
    let columns: Vec<Column> = digits(a).into_iter().map(column).collect();
    let shift = if placed { digits(place).len() - 1 } else { 0 };
    let carries = vec![0; columns.len()];
    WrongRow {
        digit: 0,
        place,
        value: 0,
        carries,
        zeros: shift,
        shift,
        from_left: false,
        columnwise: false,
        columns,
    }
}

/// The cells that a grid would have: what each digit's product was taken to be, in its place.
pub(super) fn in_grid(long: &WrongLong) -> Option<Grid> {
    let right = grid(long.a, long.b);
    if right.a != long.a || long.b < 10 {
        return None;
    }
    let row = |row: &GridRow| {
        let wrong = long.rows.iter().find(|r| r.place == row.place)?;
        let part = |(power, column): (usize, &Column)| column.taken * ten_to(power) * row.place;
        let cells: Vec<u64> = (wrong.columns.iter().enumerate().rev())
            .filter(|(_, column)| column.top != 0)
            .map(part)
            .collect();
        Some(GridRow { value: cells.iter().sum(), cells, ..row.clone() })
    };
    let rows: Vec<GridRow> = right.rows.iter().map(row).collect::<Option<_>>()?;
    let value: u64 = rows.iter().map(|row| row.value).sum();
    (value == long.value).then_some(Grid { rows, value, ..right })
}

/// The cells that a lattice would have.
pub(super) fn in_lattice(long: &WrongLong) -> Option<Lattice> {
    let right = lattice(long.a, long.b);
    if right.a != long.a {
        return None;
    }
    let row = |(j, digit): (usize, u8)| {
        let wrong = long.rows.iter().find(|r| r.place == ten_to(j));
        let taken = |column: &Column| u8::try_from(column.taken).ok();
        match wrong {
            Some(row) => row.columns.iter().rev().map(taken).collect::<Option<Vec<u8>>>(),
            None => (digit == 0).then(|| vec![0; digits(long.a).len()]),
        }
    };
    let cells: Vec<Vec<u8>> =
        digits(long.b).into_iter().enumerate().rev().map(row).collect::<Option<_>>()?;
    let own = diagonals(&cells);
    let (mut carry, mut carries, mut sums) = (0, Vec::new(), Vec::new());
    for sum in own {
        sums.push(sum + carry);
        carry = (sum + carry) / 10;
        carries.push(carry);
    }
    let value: u64 = sums.iter().enumerate().map(|(i, s)| u64::from(s % 10) * ten_to(i)).sum();
    let found = Lattice { cells, diagonals: sums, carries, value, ..right };
    (value == long.value).then_some(found)
}

/// The sums along the diagonals from the ones upward, nothing carried.
pub(super) fn diagonals(cells: &[Vec<u8>]) -> Vec<u8> {
    let (side, top) = (cells.len(), cells.first().map_or(0, Vec::len));
    let mut sums = vec![0; side + top];
    for (j, row) in cells.iter().rev().enumerate() {
        for (i, cell) in row.iter().rev().enumerate() {
            sums[i + j] += cell % 10;
            sums[i + j + 1] += cell / 10;
        }
    }
    sums
}

/// The page of a × b worked rightly, in the form of a wrong one.
pub(super) fn right_rows(a: u64, b: u64, style: &HouseStyle) -> WrongLong {
    let rows = super::long::right_rows(a, b);
    let values: Vec<u64> = rows.iter().map(|row| row.value).collect();
    let adding_carries = if rows.len() > 1 { carries_of_adding(&values) } else { Vec::new() };
    in_rows(WrongLong { a, b, rows, adding_carries, value: a * b }, style)
}
