//! The grid: a cell for each pair of parts, row sums at the right, the total under them.

use crate::exercise::Given;
use crate::method::{Grid, GridRow, HouseStyle};
use crate::paper::font::{Face, width};
use crate::paper::look::{ANSWER, COLUMN, HAIR, NUMBER, SMALL, SQUARE, SUM, TEXT};
use crate::paper::sheet::Drawing;

/// The measures of a grid.
#[derive(Debug, Clone, Copy)]
struct Measures {
    head: f32,
    cell: f32,
    sum: f32,
    size: u8,
}

impl Measures {
    /// Two parts of small numbers stand in a narrow column; a grid as wide as the page has 16 mm
    /// for the parts of the multiplier, 26 for a cell and 32 for a row sum.
    ///
    /// Numbers that do not fit in these are set smaller, never below 8 pt.
    fn of(grid: &Grid, style: &HouseStyle, size: u8) -> Measures {
        let mut measures = Measures::in_size(grid, size);
        while measures.size > SMALL && !measures.hold(grid, style) {
            measures.size -= 1;
        }
        measures
    }
    fn hold(&self, grid: &Grid, style: &HouseStyle) -> bool {
        let fits =
            |n: u64, face: Face, room: f32| width(&style.number(n), face, self.size) <= room - 3.5;
        let part = |r: &GridRow| u64::from(r.digit) * r.place;
        grid.parts.iter().all(|&p| fits(p, Face::Bold, self.cell))
            && grid.rows.iter().all(|r| {
                fits(part(r), Face::Bold, self.head)
                    && fits(r.value, Face::Bold, self.sum)
                    && r.cells.iter().all(|&c| fits(c, Face::Regular, self.cell))
            })
    }
    fn in_size(grid: &Grid, size: u8) -> Measures {
        if narrow(grid) {
            let (head, sum) = (12.0, 18.0);
            let cell = (COLUMN - NUMBER - head - sum) / 2.0;
            return Measures { head, cell, sum, size };
        }
        let (head, sum) = (16.0, 32.0);
        let room = TEXT - NUMBER - head - sum;
        let cell = (room / grid.parts.len().max(1) as f32).min(26.0);
        Measures { head, cell, sum, size }
    }
}

/// Whether a grid fits in a column of two.
pub fn narrow(grid: &Grid) -> bool {
    grid.a < 100 && grid.b < 100 && grid.parts.len() <= 2
}

/// A grid, its size, and as much of it done as is given; the total stands below the last row.
pub fn grid(grid: &Grid, style: &HouseStyle, given: Given, size: u8) -> (Drawing, (f32, f32)) {
    let measures = Measures::of(grid, style, size);
    let size = measures.size;
    let (columns, rows) = (grid.parts.len(), grid.rows.len());
    let done = match given {
        Given::Nothing => 0,
        Given::All | Given::Missing { .. } | Given::Rows => rows + 1,
        Given::AllButLast(left) => (rows + 1).saturating_sub(usize::from(left)),
        Given::But { .. } => rows + 1,
    };
    let right = measures.head + measures.cell * columns as f32;
    let wide = right + measures.sum;
    let mut drawing = frame(measures, columns, rows);
    corners(&mut drawing, columns, measures);
    if given != Given::Nothing {
        headings(&mut drawing, grid, style, measures);
    }
    let but = if let Given::But { line } = given { Some(usize::from(line)) } else { None };
    for (index, row) in grid.rows.iter().enumerate().take(done).filter(|(i, _)| Some(*i) != but) {
        cells(&mut drawing, row, style, measures, index, right);
    }
    if done > rows && rows > 1 && but != Some(rows) {
        let y = SQUARE * rows as f32 + SQUARE + baseline(size);
        drawing.right(wide - 3.0, y, size, Face::Bold, style.number(grid.value));
    }
    let down = if rows == 1 { 2 } else { rows + 2 };
    (drawing, (wide, SQUARE * down as f32))
}

fn baseline(size: u8) -> f32 {
    (SQUARE + 0.725 * f32::from(size) * crate::paper::font::PT) / 2.0
}

/// The rules: no box round the whole.
fn frame(measures: Measures, columns: usize, rows: usize) -> Drawing {
    let mut drawing = Drawing::new();
    let right = measures.head + measures.cell * columns as f32;
    let width = right + measures.sum;
    let foot = SQUARE * (rows + 1) as f32;
    for row in 1..=rows + 1 {
        let thick = if row == 1 || row == rows + 1 { SUM } else { HAIR };
        drawing.level(0.0, width, SQUARE * row as f32, thick);
    }
    for column in 0..=columns {
        let x = measures.head + measures.cell * column as f32;
        let thick = if column == 0 || column == columns { SUM } else { HAIR };
        drawing.upright(x, 0.0, foot, thick);
    }
    // The sum of one row alone is the answer.
    let answer = if rows == 1 { foot } else { foot + SQUARE };
    drawing.level(right, width, answer, ANSWER);
    drawing
}

/// What stands in every grid: × in the corner, "row sum" over the last column.
fn corners(drawing: &mut Drawing, columns: usize, measures: Measures) {
    let y = baseline(measures.size);
    let Measures { head, cell, sum, size } = measures;
    drawing.centre(head / 2.0, y, size, Face::Regular, "×");
    let wide = head + cell * columns as f32 + sum;
    drawing.right(wide - 3.0, y, size.min(9), Face::Regular, "row sum");
}

fn headings(drawing: &mut Drawing, grid: &Grid, style: &HouseStyle, measures: Measures) {
    let y = baseline(measures.size);
    let Measures { head, cell, size, .. } = measures;
    for (column, part) in grid.parts.iter().enumerate() {
        let right = head + cell * (column + 1) as f32 - 3.0;
        drawing.right(right, y, size, Face::Bold, style.number(*part));
    }
    for (index, row) in grid.rows.iter().enumerate() {
        let y = y + SQUARE * (index + 1) as f32;
        let part = style.number(u64::from(row.digit) * row.place);
        drawing.right(head - 3.0, y, size, Face::Bold, part);
    }
}

fn cells(
    drawing: &mut Drawing,
    row: &GridRow,
    style: &HouseStyle,
    measures: Measures,
    index: usize,
    right: f32,
) {
    let y = SQUARE * (index + 1) as f32 + baseline(measures.size);
    for (column, value) in row.cells.iter().enumerate() {
        let x = measures.head + measures.cell * (column + 1) as f32 - 3.0;
        drawing.right(x, y, measures.size, Face::Regular, style.number(*value));
    }
    let x = right + measures.sum - 3.0;
    drawing.right(x, y, measures.size, Face::Bold, style.number(row.value));
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::method;

    #[test]
    fn a_grid_of_two_digits_fits_a_column_and_a_long_one_the_page() {
        let style = HouseStyle::default();
        let (_, (width, height)) = grid(&method::grid(47, 36), &style, Given::All, 12);
        assert_eq!((width, height), (64.0, 32.0));
        let (_, (width, _)) = grid(&method::grid(6283, 347), &style, Given::All, 10);
        assert_eq!(width, 152.0);
        let (_, (width, _)) = grid(&method::grid(462_837, 347), &style, Given::All, 10);
        assert!(width <= 152.01);
    }
}
