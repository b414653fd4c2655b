//! What a working asks a pupil to do, counted.

use crate::method::{Grid, Lattice, Long, Row};
use crate::number::{carries_of_adding, digit_count, digits};

/// Counts of what a working asks for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Work {
    /// Facts of the tables.
    pub facts: u32,
    /// The same weighted by how hard each is, in hundredths: half with a 0 or a 1, 80 with a 2, a
    /// 5 or a tie, else 100 and what the size of the product adds.
    pub weighted_facts: u32,
    /// Carries added inside rows.
    pub carries: u32,
    /// Those of 2 or more.
    pub large_carries: u32,
    /// Columns added.
    pub columns: u32,
    /// Carries when adding columns.
    pub adding_carries: u32,
    /// Digits written.
    pub digits: u32,
}

impl Work {
    /// The work of a long multiplication: its rows with their noughts, and their sum.
    pub fn of_long(long: &Long) -> Work {
        let mut work = Work::default();
        for row in &long.rows {
            work.row(long.a, row);
        }
        let adding = Work::of_adding(long);
        work.columns = adding.columns;
        work.adding_carries = adding.adding_carries;
        work.digits += adding.digits;
        if long.rows.is_empty() {
            work.digits = 1;
        }
        work
    }
    /// The work of adding the rows of a long multiplication; none where there is one row.
    pub fn of_adding(long: &Long) -> Work {
        if long.rows.len() < 2 {
            return Work::default();
        }
        Work {
            // The ones are copied; every other column is added.
            columns: digit_count(long.value) - 1,
            adding_carries: count(&long.adding_carries, 1),
            digits: digit_count(long.value),
            ..Work::default()
        }
    }
    /// The work of a grid: a fact in each cell, then each row across, then the rows.
    pub fn of_grid(grid: &Grid) -> Work {
        let mut work = Work::default();
        for row in &grid.rows {
            for (cell, part) in row.cells.iter().zip(&grid.parts) {
                work.fact(first_digit(*part), row.digit);
                work.digits += digit_count(*cell);
            }
            work.sum(&row.cells);
        }
        work.sum(&grid.rows.iter().map(|r| r.value).collect::<Vec<_>>());
        work
    }
    /// The work of a lattice: a fact of two digits in each cell, then the diagonals.
    pub fn of_lattice(lattice: &Lattice) -> Work {
        let mut work = Work::default();
        for side in digits(lattice.b) {
            for top in digits(lattice.a) {
                work.fact(top, side);
                work.digits += 2;
            }
        }
        work.columns = u32::try_from(lattice.diagonals.len()).unwrap_or(0).saturating_sub(1);
        work.adding_carries = count(&lattice.carries, 1);
        work.digits += digit_count(lattice.value);
        work
    }
    /// One row of a long multiplication.
    fn row(&mut self, a: u64, row: &Row) {
        if row.digit == 0 {
            // A row of noughts is written without a thought.
            self.digits += digit_count(a) + row.place.ilog10();
            return;
        }
        digits(a).into_iter().for_each(|top| self.fact(top, row.digit));
        // The last carry is the leading digit: written, not added.
        let added = row.carries.split_last().map_or(&[][..], |(_, rest)| rest);
        self.carries += count(added, 1);
        self.large_carries += count(added, 2);
        self.digits += digit_count(row.value);
    }
    fn fact(&mut self, x: u8, y: u8) {
        let product = u32::from(x) * u32::from(y);
        self.facts += 1;
        self.weighted_facts += if x < 2 || y < 2 {
            50
        } else if [2, 5].contains(&x) || [2, 5].contains(&y) || x == y {
            80
        } else {
            (100 + (product * 100).saturating_sub(1200) / 60).max(100)
        };
    }
    /// Numbers added in columns.
    fn sum(&mut self, numbers: &[u64]) {
        if numbers.len() < 2 {
            return;
        }
        let total: u64 = numbers.iter().sum();
        let columns: Vec<_> = numbers.iter().map(|&n| digits(n)).collect();
        let carries = carries_of_adding(numbers);
        self.adding_carries += count(&carries, 1);
        for place in 0..carries.len() {
            let filled = columns.iter().filter(|c| c.get(place).is_some_and(|d| *d != 0)).count();
            let carried = place > 0 && carries[place - 1] > 0;
            self.columns += u32::from(filled > 1 || (filled == 1 && carried));
        }
        self.digits += digit_count(total);
    }
}

fn count(carries: &[u8], least: u8) -> u32 {
    u32::try_from(carries.iter().filter(|c| **c >= least).count()).unwrap_or(u32::MAX)
}

fn first_digit(n: u64) -> u8 {
    digits(n).last().copied().unwrap_or(0)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::method::{HouseStyle, grid, lattice, long};

    #[test]
    fn the_work_of_one_sum_is_counted_by_hand() {
        let work = Work::of_long(&long(6283, 347, &HouseStyle::default()));
        // Carries added: 2, 5, 1 of the row x 7; 1, 3, 1 of x 40; 2 of x 300.
        assert_eq!((work.facts, work.carries, work.large_carries), (12, 7, 4));
        assert_eq!((work.columns, work.adding_carries, work.digits), (6, 5, 5 + 6 + 7 + 7));
        let work = Work::of_long(&long(47, 6, &HouseStyle::default()));
        // 6 x 7 weighs 150, 6 x 4 weighs 120.
        assert_eq!((work.facts, work.weighted_facts, work.digits), (2, 270, 3));
        assert_eq!((work.columns, work.adding_carries, work.carries), (0, 0, 1));
    }

    #[test]
    fn grid_and_lattice_have_a_fact_for_each_cell() {
        let work = Work::of_grid(&grid(47, 36));
        // 1200 + 210, 240 + 42, 1410 + 282.
        assert_eq!((work.facts, work.columns, work.adding_carries), (4, 1 + 1 + 2, 0));
        assert_eq!(work.digits, 4 + 3 + 3 + 2 + 4 + 3 + 4);
        let work = Work::of_lattice(&lattice(47, 36));
        assert_eq!((work.facts, work.columns, work.digits), (4, 3, 8 + 4));
    }
}
