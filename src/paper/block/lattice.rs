//! The lattice: a cell for each pair of digits, halved by a diagonal; answers along the left and
//! the lower edge.

use crate::exercise::Given;
use crate::method::Lattice;
use crate::number::digits;
use crate::paper::font::Face;
use crate::paper::look::{HAIR, LARGE, PUPIL, SMALL, SUM};
use crate::paper::sheet::Drawing;

/// The side of a cell.
const CELL: f32 = 12.0;
/// The room on every side for the factors and the answer.
const EDGE: f32 = 8.0;
/// How far a diagonal reaches out of the lattice: less at the left, where a digit stands above it.
const OUT: f32 = 4.5;
const OUT_LEFT: f32 = 1.6;

/// A lattice, its size, and as much of it done as is given.
pub fn lattice(lattice: &Lattice, given: Given) -> (Drawing, (f32, f32)) {
    let (across, down) = (digits(lattice.a).len(), digits(lattice.b).len());
    let mut drawing = frame(across, down);
    let done = match given {
        Given::Nothing => 0,
        Given::All | Given::Missing { .. } | Given::Rows => down + 1,
        // A lattice is added at the end, whatever was wrong.
        Given::But { .. } => down,
        Given::AllButLast(left) => (down + 1).saturating_sub(usize::from(left)),
    };
    if given != Given::Nothing {
        factors(&mut drawing, lattice);
    }
    for (row, cells) in lattice.cells.iter().enumerate().take(done) {
        for (column, product) in cells.iter().enumerate() {
            cell(&mut drawing, *product, column, row);
        }
    }
    if done > down {
        answer(&mut drawing, lattice, across, down);
    }
    let size = |n: usize| 2.0 * EDGE + CELL * n as f32;
    (drawing, (size(across), size(down)))
}

fn edge(n: usize) -> f32 {
    EDGE + CELL * n as f32
}

fn frame(across: usize, down: usize) -> Drawing {
    let mut drawing = Drawing::new();
    for row in 0..=down {
        let thick = if row == 0 || row == down { SUM } else { HAIR };
        drawing.level(EDGE, edge(across), edge(row), thick);
    }
    for column in 0..=across {
        let thick = if column == 0 || column == across { SUM } else { HAIR };
        drawing.upright(edge(column), EDGE, edge(down), thick);
    }
    for row in 0..down {
        for column in 0..across {
            let out = match (column, row + 1 == down) {
                (_, true) => OUT,
                (0, false) => OUT_LEFT,
                _ => 0.0,
            };
            let (x, y) = (edge(column), edge(row + 1));
            drawing.line((x + CELL, y - CELL), (x - out, y + out), HAIR);
        }
    }
    drawing
}

/// The multiplicand along the top, the multiplier down the right side.
fn factors(drawing: &mut Drawing, lattice: &Lattice) {
    let (top, side) = (digits(lattice.a), digits(lattice.b));
    for (column, digit) in top.iter().rev().enumerate() {
        let middle = edge(column) + CELL / 2.0;
        drawing.centre(middle, EDGE - 2.0, LARGE, Face::Regular, digit.to_string());
    }
    for (row, digit) in side.iter().rev().enumerate() {
        let x = edge(top.len()) + EDGE / 2.0;
        drawing.centre(x, edge(row) + 8.05, LARGE, Face::Regular, digit.to_string());
    }
}

/// Tens over the diagonal, ones under it.
fn cell(drawing: &mut Drawing, product: u8, column: usize, row: usize) {
    let (x, y) = (edge(column), edge(row));
    drawing.centre(x + 3.4, y + 5.2, PUPIL, Face::Regular, (product / 10).to_string());
    drawing.centre(x + 8.6, y + 10.2, PUPIL, Face::Regular, (product % 10).to_string());
}

/// The product's digits, highest at the upper left; what was carried stands small before the
/// digit it was added to.
fn answer(drawing: &mut Drawing, lattice: &Lattice, across: usize, down: usize) {
    let places = across + down;
    let length = digits(lattice.value).len();
    for place in 0..length.min(places) {
        let from_top = places - 1 - place;
        let (x, y) = if from_top < down {
            (EDGE - 4.4, edge(from_top) + 7.2)
        } else {
            (edge(from_top - down) + 4.0, edge(down) + 6.6)
        };
        let digit = lattice.diagonals.get(place).map_or(0, |sum| sum % 10);
        drawing.centre(x, y, LARGE, Face::Regular, digit.to_string());
        let carried = place.checked_sub(1).and_then(|p| lattice.carries.get(p)).copied();
        if let Some(carry) = carried.filter(|c| *c > 0) {
            drawing.right(x - 2.0, y - 2.2, SMALL, Face::Regular, carry.to_string());
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::method;
    use crate::paper::sheet::Mark;

    #[test]
    fn the_answer_reads_down_the_left_and_along_the_foot() {
        let (drawing, size) = lattice(&method::lattice(6283, 347), Given::All);
        assert_eq!(size, (64.0, 52.0));
        let digit = |m: &Mark| match m {
            Mark::Text { size: LARGE, x, y, text, .. } => Some((*x, *y, text.clone())),
            _ => None,
        };
        let large: Vec<_> = drawing.marks.iter().filter_map(digit).collect();
        let mut left: Vec<_> = large.iter().filter(|d| d.0 < EDGE - 1.0).collect();
        left.sort_by(|a, b| a.1.total_cmp(&b.1));
        let mut foot: Vec<_> = large.iter().filter(|d| d.1 > edge(3)).collect();
        foot.sort_by(|a, b| a.0.total_cmp(&b.0));
        let read: String = left.iter().chain(&foot).map(|d| d.2.as_str()).collect();
        assert_eq!(read, "2180201");
    }
}
