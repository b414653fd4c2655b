//! Where everything stands when a product is worked out on squares: pure places, no millimetres.
//!
//! A layout is a list of lines; each line has one cell for each square across. Paper draws what
//! it finds here and decides nothing about arithmetic.

use super::{Carries, HouseStyle, Long, Row, ZeroRow};
use crate::number::{digit_count, digits};

/// The fewest squares across.
const LEAST_COLUMNS: usize = 5;

/// What a line of squares is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum LineKind {
    /// O T H Th …, right to left.
    Heading,
    /// A strip for the digits carried in one row; half as high as the other lines.
    CarryStrip {
        /// The index in [`Long::rows`] of the row it belongs to.
        row: usize,
        /// Whether it is crossed out: used, and another row was begun.
        struck: bool,
    },
    /// The number on top.
    Multiplicand,
    /// The number under it, with its ×.
    Multiplier,
    /// A partial product: the index in [`Long::rows`].
    Partial(usize),
    /// The product. Where there is one row only, it is that row.
    Answer,
}

/// The line drawn under a line of squares.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Under {
    /// None.
    Nothing,
    /// The thinner line: below headings, the multiplier and the last partial product.
    Sum,
    /// The thicker line below the answer.
    Answer,
}

/// What stands in one square.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub struct Cell {
    /// The digit, written large (in a strip: never).
    pub digit: Option<u8>,
    /// The small digit that is added in this square; in a strip, over this column.
    pub carry: Option<u8>,
    /// A heading, "×" or "+".
    pub mark: Option<&'static str>,
    /// Whether the digit is a 0 that only shifts the row.
    pub placeholder: bool,
    /// Whether a small digit could ever stand here, whatever the digits of the two numbers are.
    pub may_carry: bool,
}

/// One line of squares, left to right.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LineOfCells {
    /// What it is.
    pub kind: LineKind,
    /// What the multiplicand is multiplied by in this line, for the label "× 40" at its left.
    pub label: Option<u64>,
    /// One cell for each column.
    pub cells: Vec<Cell>,
    /// The line below it.
    pub under: Under,
}

/// A whole working on squares.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct LongLayout {
    /// Squares across.
    pub columns: usize,
    /// The lines, top to bottom.
    pub rows: Vec<LineOfCells>,
}

impl LongLayout {
    /// Lines a whole square high, strips left out.
    pub fn full_rows(&self) -> usize {
        self.rows.len() - self.strips()
    }
    /// Carry strips, each half a square high.
    pub fn strips(&self) -> usize {
        self.rows.iter().filter(|l| matches!(l.kind, LineKind::CarryStrip { .. })).count()
    }
    /// The index of the column of a place (0 for the ones).
    pub fn column_of(&self, place: usize) -> usize {
        self.columns - 1 - place
    }
}

/// Lays out a working on squares, with place headings or without.
pub fn layout(long: &Long, style: &HouseStyle, headings: bool) -> LongLayout {
    let columns = columns(long);
    let drawing = Drawing { long, style, columns };
    let mut rows = Vec::new();
    if headings {
        rows.push(drawing.headings());
    }
    if style.carries == Carries::Above {
        rows.extend(drawing.strips());
    }
    rows.push(drawing.multiplicand());
    rows.push(drawing.multiplier());
    if long.rows.len() > 1 {
        rows.extend((0..long.rows.len()).map(|index| drawing.partial(index)));
    }
    rows.push(drawing.answer());
    LongLayout { columns, rows }
}

/// The squares a working takes, across and down (carry strips not counted).
pub fn squares(long: &Long, headings: bool) -> (usize, usize) {
    let partial = if long.rows.len() > 1 { long.rows.len() } else { 0 };
    (columns(long), 3 + partial + usize::from(headings))
}

/// A square for each digit of the product and one for "+"; room for "×" left of the longer
/// factor; never fewer than five.
fn columns(long: &Long) -> usize {
    let width = |n| digit_count(n) as usize;
    (width(long.value) + 1).max(width(long.a) + 1).max(LEAST_COLUMNS)
}

struct Drawing<'a> {
    long: &'a Long,
    style: &'a HouseStyle,
    columns: usize,
}

impl Drawing<'_> {
    fn blank(&self, kind: LineKind) -> LineOfCells {
        let cells = vec![Cell::default(); self.columns];
        LineOfCells { kind, label: None, cells, under: Under::Nothing }
    }
    fn at<'c>(&self, line: &'c mut LineOfCells, place: usize) -> &'c mut Cell {
        &mut line.cells[self.columns - 1 - place]
    }
    fn write(&self, line: &mut LineOfCells, number: u64) {
        for (place, digit) in digits(number).into_iter().enumerate() {
            self.at(line, place).digit = Some(digit);
        }
    }
    fn headings(&self) -> LineOfCells {
        let mut line = self.blank(LineKind::Heading);
        for place in 0..digits(self.long.value).len() {
            let heading = self.style.grouping.place_heading(place, self.style.ones);
            self.at(&mut line, place).mark = Some(heading);
        }
        line.under = Under::Sum;
        line
    }
    /// One strip for each row that can carry, the ones' strip nearest the multiplicand. The strip
    /// of the row written last stays: no later row can take its digits by mistake.
    fn strips(&self) -> Vec<LineOfCells> {
        let last = self.long.rows.iter().rposition(|r| r.digit != 0);
        let mut order: Vec<usize> =
            (0..self.long.rows.len()).filter(|&i| self.long.rows[i].digit != 0).collect();
        order.sort_by_key(|&index| std::cmp::Reverse(self.long.rows[index].place));
        let strip = |index: usize| {
            let struck = Some(index) != last;
            let mut line = self.blank(LineKind::CarryStrip { row: index, struck });
            self.carry_digits(&mut line, &self.long.rows[index], 0);
            line
        };
        order.into_iter().map(strip).collect()
    }
    fn multiplicand(&self) -> LineOfCells {
        let mut line = self.blank(LineKind::Multiplicand);
        self.write(&mut line, self.long.a);
        line
    }
    fn multiplier(&self) -> LineOfCells {
        let mut line = self.blank(LineKind::Multiplier);
        self.write(&mut line, self.long.b);
        self.at(&mut line, digit_count(self.long.a) as usize).mark = Some("×");
        line.under = Under::Sum;
        line
    }
    fn partial(&self, index: usize) -> LineOfCells {
        let row = &self.long.rows[index];
        let mut line = self.blank(LineKind::Partial(index));
        line.label = Some(u64::from(row.digit) * row.place);
        self.row(&mut line, row);
        if index + 1 == self.long.rows.len() {
            line.cells[0].mark = Some("+");
            line.under = Under::Sum;
        }
        line
    }
    fn answer(&self) -> LineOfCells {
        let mut line = self.blank(LineKind::Answer);
        line.under = Under::Answer;
        match self.long.rows.as_slice() {
            [row] => self.row(&mut line, row),
            [] => self.write(&mut line, self.long.value),
            rows => {
                self.write(&mut line, self.long.value);
                self.adding_carries(&mut line, rows);
            }
        }
        line
    }
    /// A partial product: its shifting noughts, its digits and, in the row, what was carried.
    fn row(&self, line: &mut LineOfCells, row: &Row) {
        let shift = row.place.ilog10() as usize;
        let width = digit_count(self.long.a) as usize + shift;
        if row.digit == 0 && self.style.zero_row == ZeroRow::Write {
            for place in 0..width {
                self.at(line, place).digit = Some(0);
            }
        } else {
            self.write(line, row.value);
        }
        for place in 0..shift.min(digit_count(row.value) as usize) {
            self.at(line, place).placeholder = true;
        }
        if self.style.carries == Carries::InRow && row.digit != 0 {
            self.carry_digits(line, row, shift);
        }
    }
    /// Each carried digit over or in the square where it is added; the last one is the leading
    /// digit, written large, and no zero is carried.
    fn carry_digits(&self, line: &mut LineOfCells, row: &Row, shift: usize) {
        for index in 1..row.carries.len() {
            let carried = row.carries[index - 1];
            let cell = self.at(line, index + shift);
            cell.may_carry = true;
            cell.carry = (carried != 0).then_some(carried);
        }
    }
    /// What is carried when the rows are added stands in the answer; a carry into a column where
    /// no row has a digit is the leading digit itself.
    fn adding_carries(&self, line: &mut LineOfCells, rows: &[Row]) {
        let longest = rows.iter().map(|r| digit_count(r.value) as usize).max().unwrap_or(0);
        let multiplicand = digit_count(self.long.a) as usize;
        let mut may_carry = false;
        for place in 0..longest {
            let cell = self.at(line, place);
            cell.may_carry = may_carry;
            if place > 0 {
                let carried = self.long.adding_carries[place - 1];
                cell.carry = (carried != 0).then_some(carried);
            }
            let has_digit = |r: &&Row| {
                let shift = r.place.ilog10() as usize;
                r.digit != 0 && (shift..=shift + multiplicand).contains(&place)
            };
            let filled = rows.iter().filter(has_digit).count();
            may_carry = filled >= 2 || (filled == 1 && may_carry);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::method::{FirstRow, long};

    fn drawn(a: u64, b: u64, style: &HouseStyle, headings: bool) -> Vec<String> {
        layout(&long(a, b, style), style, headings).rows.iter().map(line).collect()
    }
    fn line(line: &LineOfCells) -> String {
        let cell = |c: &Cell| {
            let carry = c.carry.map_or(" ".to_owned(), |d| d.to_string());
            let large = c.digit.map_or(c.mark.unwrap_or(".").to_owned(), |d| d.to_string());
            format!("{carry}{large}")
        };
        let under = match line.under {
            Under::Nothing => "",
            Under::Sum => " _",
            Under::Answer => " =",
        };
        format!("{}{under}", line.cells.iter().map(cell).collect::<Vec<_>>().join(" "))
    }

    #[test]
    fn four_digits_by_three_stand_on_eight_by_six_squares() {
        let style = HouseStyle { grouping: crate::number::Grouping::Indian, ..Default::default() };
        let drawn = drawn(6283, 347, &style, true);
        assert_eq!(
            drawn,
            [
                " .  TL  L  TTh  Th  H  T  O _",
                " .  .  .  .  6  2  8  3",
                " .  .  .  ×  .  3  4  7 _",
                " .  .  .  4 13 59 28  1",
                " .  .  2 15 31 13  2  0",
                " +  1  8 28  4  9  0  0 _",
                " . 12 11 18 20 12  0  1 =",
            ]
        );
        assert_eq!(squares(&long(6283, 347, &style), false), (8, 6));
    }

    #[test]
    fn a_zero_in_the_multiplier_gets_no_row() {
        let drawn = drawn(7046, 308, &HouseStyle::default(), false);
        assert_eq!(
            drawn[2..],
            [" .  .  .  5  6 33 46  8", " +  2  1 11 13  8  0  0 _", " .  2  1 17 10  1  6  8 =",]
        );
    }

    #[test]
    fn a_zero_row_is_all_noughts_where_the_house_writes_it() {
        let style = HouseStyle { zero_row: ZeroRow::Write, ..Default::default() };
        assert_eq!(drawn(7046, 308, &style, false)[3], " .  .  .  0  0  0  0  0");
    }

    #[test]
    fn the_highest_row_can_come_first() {
        let style = HouseStyle { first_row: FirstRow::Highest, ..Default::default() };
        let drawn = drawn(47, 36, &style, false);
        assert_eq!(drawn[2..4], [" .  1 24  1  0", " +  .  2 48  2 _"]);
    }

    #[test]
    fn a_one_digit_multiplier_has_three_rows() {
        let drawn = drawn(47, 6, &HouseStyle::default(), false);
        assert_eq!(drawn, [" .  .  .  4  7", " .  .  ×  .  6 _", " .  .  2 48  2 ="]);
    }

    #[test]
    fn carries_above_stand_over_the_column_where_they_are_added() {
        let style = HouseStyle { carries: Carries::Above, ..Default::default() };
        let layout = layout(&long(6283, 347, &style), &style, false);
        let drawn: Vec<String> = layout.rows.iter().map(line).collect();
        assert_eq!(
            drawn[..4],
            [
                " .  .  .  .  . 2.  .  .",
                " .  .  .  . 1. 3. 1.  .",
                " .  .  .  . 1. 5. 2.  .",
                " .  .  .  .  6  2  8  3",
            ]
        );
        assert_eq!((layout.strips(), layout.full_rows()), (3, 6));
    }
    proptest::proptest! {
        #[test]
        fn every_square_follows_from_those_above_it(a in 0..1_000_000_u64, b in 0..1_000_000_u64, style: u8) {
            let style = HouseStyle {
                carries: if style & 1 == 0 { Carries::InRow } else { Carries::Above },
                zero_row: if style & 2 == 0 { ZeroRow::Skip } else { ZeroRow::Write },
                first_row: if style & 4 == 0 { FirstRow::Ones } else { FirstRow::Highest },
                ..Default::default()
            };
            let long = long(a, b, &style);
            check_squares(&layout(&long, &style, true), &long);
        }
    }

    /// Works every written square out again from the squares above it.
    fn check_squares(layout: &LongLayout, long: &Long) {
        let digit = |line: &LineOfCells, place: usize| {
            layout.columns.checked_sub(place + 1).and_then(|c| line.cells[c].digit).unwrap_or(0)
        };
        let in_row = !layout.rows.iter().any(|l| matches!(l.kind, LineKind::CarryStrip { .. }));
        let top = digits(long.a);
        for line in &layout.rows {
            let row = match line.kind {
                LineKind::Partial(index) => &long.rows[index],
                LineKind::Answer if long.rows.len() == 1 => &long.rows[0],
                _ => continue,
            };
            let shift = row.place.ilog10() as usize;
            for (index, d) in top.iter().enumerate() {
                if in_row {
                    let carry = line.cells[layout.column_of(index + shift)].carry.unwrap_or(0);
                    assert_eq!((d * row.digit + carry) % 10, digit(line, index + shift));
                }
            }
        }
        if long.rows.len() > 1 {
            let answer = layout.rows.last().expect("an answer");
            for place in 0..layout.columns {
                let cell = answer.cells[layout.column_of(place)];
                let sum: u8 = layout
                    .rows
                    .iter()
                    .filter(|l| matches!(l.kind, LineKind::Partial(_)))
                    .map(|l| digit(l, place))
                    .sum();
                let carried = cell.carry.unwrap_or(0);
                let leading = sum == 0 && carried == 0 && cell.digit.is_some();
                assert!(leading || (sum + carried) % 10 == cell.digit.unwrap_or(0));
                assert!(cell.carry.is_none() || cell.may_carry);
            }
        }
    }
}
