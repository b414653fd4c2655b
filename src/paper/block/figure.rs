//! What is drawn with a question: dots in rows, rectangles in parts, a sum somebody worked.

use super::answer::{box_width, question};
use super::item::{Setting, asked};
use super::squares::blank;
use super::{Block, Span};
use crate::exercise::{Figure, Item, WorkedRow};
use crate::method::HouseStyle;
use crate::number::digits;
use crate::paper::font::{Face, PT, width};
use crate::paper::look::{ANSWER, FINE, LARGE, NUMBER, PUPIL, SMALL, SQUARE, SUM};
use crate::paper::sheet::{Drawing, Point};

/// From one dot to the next, and a dot's side.
const DOT_STEP: f32 = 3.4;
const DOT: f32 = 1.2;
/// A rectangle's parts: the least and the most of a side, and how far one may be stretched.
const PART: (f32, f32) = (15.0, 34.0);
const PART_HIGH: (f32, f32) = (11.0, 17.0);
/// From a question to its drawing, and from a drawing to the box beside or below it.
const ABOVE: f32 = 4.6;
const TO_BOX: f32 = 4.0;
/// The box for the answer.
const BOX: (f32, f32) = (24.0, 8.5);

/// A question with its drawing and a box for the answer.
pub fn block(item: &Item, figure: &Figure, number: usize, setting: Setting) -> Block {
    let (part, size) = drawn(figure, setting.style);
    let half = NUMBER + size.0 <= setting.column + 0.01;
    let (span, column) =
        if half { (Span::Half, setting.column) } else { (Span::Full, setting.full) };
    let (mut drawing, last) = asked(&question(item), number, setting, column);
    let top = last + ABOVE;
    drawing.place(part, (NUMBER, top));
    let foot = top + size.1;
    if has_its_own_box(figure) {
        return Block { span, height: foot + 0.5, tight: false, drawing };
    }
    let wide = box_width(item, BOX.0);
    let beside = NUMBER + size.0 + TO_BOX + wide <= column;
    let x = column - wide;
    let y = if beside { foot - BOX.1 } else { foot + TO_BOX };
    drawing.rectangle(x, y, wide, BOX.1, FINE);
    Block { span, height: foot.max(y + BOX.1), tight: false, drawing }
}

/// Whether the answer is written into the drawing: the one empty part of a rectangle.
fn has_its_own_box(figure: &Figure) -> bool {
    let Figure::Area { cells, .. } = figure else { return false };
    cells.iter().flatten().filter(|cell| cell.is_none()).count() == 1
}

fn drawn(figure: &Figure, style: &HouseStyle) -> (Drawing, Point) {
    match figure {
        Figure::Array { rows, columns, cut } => array(*rows, *columns, *cut),
        Figure::Area { across, down, cells } => area(across, down, cells, style),
        Figure::Worked { a, b, rows, value } => worked((*a, *b), rows, *value, style),
    }
}

/// Dots are small squares, drawn as thick short lines: the pages know no filled shapes.
fn array(rows: u8, columns: u8, cut: Option<u8>) -> (Drawing, Point) {
    let mut drawing = Drawing::new();
    let thick = DOT / PT;
    let gap = |column: u8| if cut.is_some_and(|cut| column >= cut) { DOT_STEP * 0.8 } else { 0.0 };
    for row in 0..rows {
        let y = DOT_STEP * f32::from(row) + DOT / 2.0;
        for column in 0..columns {
            let x = DOT_STEP * f32::from(column) + gap(column);
            drawing.level(x, x + DOT, y, thick);
        }
    }
    let high = DOT_STEP * f32::from(rows.saturating_sub(1)) + DOT;
    if let Some(cut) = cut {
        let x = DOT_STEP * (f32::from(cut) + 0.4) - (DOT_STEP - DOT) / 2.0;
        drawing.upright(x, -1.5, high + 1.5, SUM);
    }
    let wide = DOT_STEP * f32::from(columns.saturating_sub(1)) + DOT + gap(columns);
    (drawing, (wide, high + 1.5))
}

/// How long the sides of parts are drawn: in the order of their sizes, not to scale.
fn sides(lengths: &[u64], (least, most): (f32, f32)) -> Vec<f32> {
    let largest = lengths.iter().max().copied().unwrap_or(1) as f32;
    lengths.iter().map(|n| (most * (*n as f32 / largest).sqrt()).max(least)).collect()
}

fn area(
    across: &[u64],
    down: &[u64],
    cells: &[Vec<Option<u64>>],
    style: &HouseStyle,
) -> (Drawing, Point) {
    let (wide, high) = (sides(across, PART), sides(down, PART_HIGH));
    let labels = down.iter().map(|n| width(&style.number(*n), Face::Bold, PUPIL));
    let left = labels.fold(0.0, f32::max) + 2.0;
    let head = 6.0;
    let (all_wide, all_high) = (wide.iter().sum::<f32>(), high.iter().sum::<f32>());
    let mut drawing = Drawing::new();
    let holes = cells.iter().flatten().filter(|cell| cell.is_none()).count();
    drawing.rectangle(left, head, all_wide, all_high, SUM);
    let mut y = head;
    for (row, (length, tall)) in down.iter().zip(&high).enumerate() {
        let middle = y + tall / 2.0 + 1.6;
        drawing.right(left - 2.0, middle, PUPIL, Face::Bold, style.number(*length));
        let mut x = left;
        for (column, (length, broad)) in across.iter().zip(&wide).enumerate() {
            if row == 0 {
                let at = x + broad / 2.0;
                drawing.centre(at, head - 1.8, PUPIL, Face::Bold, style.number(*length));
            }
            match cells.get(row).and_then(|cells| cells.get(column)) {
                Some(Some(n)) => {
                    drawing.centre(x + broad / 2.0, middle, PUPIL, Face::Regular, style.number(*n));
                }
                Some(None) if holes == 1 => {
                    drawing.rectangle(x, y, *broad, *tall, ANSWER);
                }
                _ => {}
            }
            x += broad;
            if row == 0 && column + 1 < across.len() {
                drawing.upright(x, head, head + all_high, SUM);
            }
        }
        y += tall;
        if row + 1 < down.len() {
            drawing.level(left, left + all_wide, y, SUM);
        }
    }
    (drawing, (left + all_wide, head + all_high))
}

/// A finished sum on squares, without carries: whoever looks for the mistake works them out.
fn worked(
    (a, b): (u64, u64),
    rows: &[WorkedRow],
    value: u64,
    style: &HouseStyle,
) -> (Drawing, Point) {
    let longest = rows.iter().map(|row| row.value).chain([a, value]).max().unwrap_or(0);
    let columns = (digits(longest).len() + 1).max(5);
    let squares = blank(columns, rows.len() + 3);
    let mut drawing = squares.drawing;
    let place = |drawing: &mut Drawing, row: usize, column: usize, text: String| {
        let middle = SQUARE * (column as f32 + 0.5);
        drawing.centre(middle, SQUARE * row as f32 + 6.05, LARGE, Face::Regular, text);
    };
    let number = |drawing: &mut Drawing, row: usize, n: u64| {
        for (index, digit) in digits(n).iter().enumerate() {
            place(drawing, row, columns - 1 - index, digit.to_string());
        }
    };
    number(&mut drawing, 0, a);
    number(&mut drawing, 1, b);
    for (index, row) in rows.iter().enumerate() {
        number(&mut drawing, index + 2, row.value);
        let label = format!("×\u{a0}{}", style.number(row.times));
        let fits = width(&label, Face::Regular, PUPIL) <= NUMBER - 2.0;
        let size = if fits { PUPIL } else { SMALL };
        let y = SQUARE * (index + 2) as f32 + 5.53;
        drawing.right(-2.0, y, size, Face::Regular, label);
    }
    number(&mut drawing, rows.len() + 2, value);
    let sign = columns - digits(a.max(b)).len() - 1;
    place(&mut drawing, 1, sign, "×".to_owned());
    for line in [2, rows.len() + 2] {
        drawing.level(0.0, squares.width, SQUARE * line as f32, SUM);
    }
    drawing.level(0.0, squares.width, squares.height, ANSWER);
    (drawing, (squares.width, squares.height))
}
