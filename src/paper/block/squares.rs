//! A written sum on squares, as far worked as the item says.

use crate::exercise::Given;
use crate::method::{Cell, HouseStyle, LineKind, LineOfCells, Long, LongLayout, Under, layout};
use crate::number::digits;
use crate::paper::font::{Face, width};
use crate::paper::look::{ANSWER, BESIDE, HAIR, LARGE, NUMBER, PUPIL, SMALL, SQUARE, SUM};
use crate::paper::sheet::{Drawing, Point};

/// The side of a carry corner.
const CORNER: f32 = 2.8;
/// The height of a strip for carries.
const STRIP: f32 = 4.0;
/// The baseline of a digit below its square's top: (8 mm + 0.725 em of 16 pt) / 2.
const DIGIT: f32 = 6.05;
/// The same for 12 pt, of labels.
const LABEL: f32 = 5.53;
/// The same for 9 pt, of headings.
const HEADING: f32 = 5.15;

/// A sum on squares; the drawing's origin is the squares' top left corner.
#[derive(Debug, Clone)]
pub struct Squares {
    /// What is drawn, labels at the left included (at negative x).
    pub drawing: Drawing,
    /// The squares' width.
    pub width: f32,
    /// The squares' height.
    pub height: f32,
    /// The tops of the lines that are no strips, with what they are.
    pub tops: Vec<(LineKind, f32)>,
}

/// Blank squares.
pub fn blank(columns: usize, rows: usize) -> Squares {
    let (width, height) = (SQUARE * columns as f32, SQUARE * rows as f32);
    let mut drawing = Drawing::new();
    for row in 0..=rows {
        drawing.level(0.0, width, SQUARE * row as f32, HAIR);
    }
    for column in 0..=columns {
        drawing.upright(SQUARE * column as f32, 0.0, height, HAIR);
    }
    Squares { drawing, width, height, tops: Vec::new() }
}

/// A place-value chart of so many places: their names, the number that is multiplied, and squares
/// for the product.
pub fn chart(number: u64, places: usize, style: &HouseStyle) -> Squares {
    let mut squares = blank(places, 3);
    let column = |place: usize| SQUARE * (places.saturating_sub(place + 1) as f32 + 0.5);
    for place in 0..places {
        let heading = style.grouping.place_heading(place, style.ones);
        squares.drawing.centre(column(place), HEADING, BESIDE, Face::Bold, heading);
    }
    for (place, digit) in digits(number).iter().enumerate() {
        let y = SQUARE + DIGIT;
        squares.drawing.centre(column(place), y, LARGE, Face::Regular, digit.to_string());
    }
    squares
}

/// Blank squares of exactly the size that a working takes, its carry strips included.
pub fn blank_for(long: &Long, style: &HouseStyle) -> Squares {
    let layout = layout(long, style, false);
    let mut squares = blank(layout.columns, layout.full_rows());
    let strips = layout.strips();
    if strips > 0 {
        let head = STRIP * strips as f32;
        let mut drawing = Drawing::new();
        for strip in 0..strips {
            drawing.level(0.0, squares.width, STRIP * strip as f32, HAIR);
        }
        for column in 0..=layout.columns {
            drawing.upright(SQUARE * column as f32, 0.0, head, HAIR);
        }
        drawing.place(squares.drawing, (0.0, head));
        squares.drawing = drawing;
        squares.height += head;
    }
    squares
}

/// A working with headings, and as much of it done as is given.
pub fn worked(long: &Long, style: &HouseStyle, given: Given) -> Squares {
    let layout = layout(long, style, true);
    let fading = Fading::new(long, given);
    let mut drawing = Drawing::new();
    let wide = SQUARE * layout.columns as f32;
    let mut tops = Vec::new();
    let mut lines = vec![(0.0, HAIR)];
    let mut y = 0.0;
    for line in &layout.rows {
        let line = &without_missing(line, given, long);
        let strip = matches!(line.kind, LineKind::CarryStrip { .. });
        let height = if strip { STRIP } else { SQUARE };
        let done = fading.done(line.kind);
        if strip {
            draw_strip(&mut drawing, line, y, done);
        } else {
            tops.push((line.kind, y));
            draw_line(&mut drawing, line, y, done);
        }
        y += height;
        lines.push((y, thickness(line.under)));
    }
    for (at, thick) in lines {
        drawing.level(0.0, wide, at, thick);
    }
    uprights(&mut drawing, &layout, y);
    if let Given::Missing { line, place } = given {
        let top =
            tops.iter().find(|(kind, _)| line_number(*kind, long) == Some(number_of(line, long)));
        let x = SQUARE * layout.column_of(usize::from(place)) as f32;
        if let Some((_, top)) = top {
            drawing.rectangle(x, *top, SQUARE, SQUARE, ANSWER);
        }
    }
    Squares { drawing, width: wide, height: y, tops }
}

/// The rows of a working without its carries, and squares for their sum.
pub fn rows_to_add(long: &Long, style: &HouseStyle) -> Squares {
    let mut layout = layout(long, style, true);
    layout.rows.retain(|line| matches!(line.kind, LineKind::Partial(_) | LineKind::Answer));
    let mut drawing = Drawing::new();
    let wide = SQUARE * layout.columns as f32;
    let mut y = 0.0;
    drawing.level(0.0, wide, y, HAIR);
    for line in &mut layout.rows {
        for cell in &mut line.cells {
            (cell.carry, cell.may_carry) = (None, false);
        }
        draw_line(&mut drawing, line, y, line.kind != LineKind::Answer);
        y += SQUARE;
        drawing.level(0.0, wide, y, thickness(line.under));
    }
    uprights(&mut drawing, &layout, y);
    Squares { drawing, width: wide, height: y, tops: Vec::new() }
}

/// The rows that are written apart from the answer: a sum of one row has none.
fn partial_rows(long: &Long) -> usize {
    if long.rows.len() > 1 { long.rows.len() } else { 0 }
}

/// How a missing digit's line is counted: the factors, the rows, the answer.
fn line_number(kind: LineKind, long: &Long) -> Option<usize> {
    match kind {
        LineKind::Heading | LineKind::CarryStrip { .. } => None,
        LineKind::Multiplicand => Some(0),
        LineKind::Multiplier => Some(1),
        LineKind::Partial(index) => Some(2 + index),
        LineKind::Answer => Some(2 + partial_rows(long)),
    }
}

/// The same for an item's count, in which a sum of one row has that row and an answer.
fn number_of(line: u8, long: &Long) -> usize {
    usize::from(line).min(2 + partial_rows(long))
}

/// A line without its missing digit. Carries would tell what is missing, so none is printed.
fn without_missing(line: &LineOfCells, given: Given, long: &Long) -> LineOfCells {
    let mut line = line.clone();
    if let Given::Missing { line: number, place } = given {
        let here = line_number(line.kind, long) == Some(number_of(number, long));
        let column = line.cells.len().checked_sub(usize::from(place) + 1);
        for (index, cell) in line.cells.iter_mut().enumerate() {
            cell.carry = None;
            if here && Some(index) == column {
                cell.digit = None;
            }
        }
    }
    line
}

fn thickness(under: Under) -> f32 {
    match under {
        Under::Nothing => HAIR,
        Under::Sum => SUM,
        Under::Answer => ANSWER,
    }
}

fn uprights(drawing: &mut Drawing, layout: &LongLayout, height: f32) {
    for column in 0..=layout.columns {
        drawing.upright(SQUARE * column as f32, 0.0, height, HAIR);
    }
}

/// Which lines of a working are done already: all but the last so many of the partial products
/// and the answer.
struct Fading {
    done: usize,
    partial: usize,
    but: Option<usize>,
}

impl Fading {
    fn new(long: &Long, given: Given) -> Fading {
        let partial = partial_rows(long);
        let steps = partial + 1;
        let done = match given {
            Given::All | Given::Missing { .. } => steps,
            Given::Nothing => 0,
            Given::AllButLast(left) => steps.saturating_sub(usize::from(left)),
            Given::But { .. } => steps,
            Given::Rows => partial,
        };
        let but = if let Given::But { line } = given { Some(usize::from(line)) } else { None };
        Fading { done, partial, but }
    }
    fn step(&self, index: usize) -> bool {
        index < self.done && self.but != Some(index)
    }
    fn done(&self, kind: LineKind) -> bool {
        match kind {
            LineKind::Heading | LineKind::Multiplicand | LineKind::Multiplier => true,
            LineKind::Partial(index) => self.step(index),
            LineKind::CarryStrip { row, .. } => self.step(row),
            LineKind::Answer => self.step(self.partial),
        }
    }
}

fn draw_line(drawing: &mut Drawing, line: &LineOfCells, y: f32, done: bool) {
    if let Some(label) = line.label {
        let label = format!("×\u{A0}{label}");
        // In the gutter of an item's number there are 14 mm: longer labels are set small.
        let size = if width(&label, Face::Regular, PUPIL) <= NUMBER - 2.0 { PUPIL } else { SMALL };
        drawing.right(-2.0, y + LABEL, size, Face::Regular, label);
    }
    for (column, cell) in line.cells.iter().enumerate() {
        draw_cell(drawing, cell, (SQUARE * column as f32, y), done);
    }
}

fn draw_cell(drawing: &mut Drawing, cell: &Cell, at: Point, done: bool) {
    let middle = at.0 + SQUARE / 2.0;
    if let Some(mark) = cell.mark {
        if "×+".contains(mark) {
            drawing.centre(middle, at.1 + DIGIT, LARGE, Face::Regular, mark);
        } else {
            drawing.centre(middle, at.1 + HEADING, BESIDE, Face::Bold, mark);
        }
    }
    if done && let Some(carry) = cell.carry {
        drawing.left(at.0 + 0.55, at.1 + 2.75, SMALL, Face::Regular, carry.to_string());
    }
    if !done && cell.may_carry {
        let corner =
            vec![(at.0 + CORNER, at.1), (at.0 + CORNER, at.1 + CORNER), (at.0, at.1 + CORNER)];
        drawing.marks.push(crate::paper::sheet::Mark::Line { points: corner, thick: HAIR });
    }
    if (done || cell.placeholder)
        && let Some(digit) = cell.digit
    {
        drawing.centre(middle, at.1 + DIGIT, LARGE, Face::Regular, digit.to_string());
    }
}

/// Small digits over their columns, struck through once they are used.
fn draw_strip(drawing: &mut Drawing, line: &LineOfCells, y: f32, done: bool) {
    if !done {
        return;
    }
    let mut written = Vec::new();
    for (column, cell) in line.cells.iter().enumerate() {
        if let Some(carry) = cell.carry {
            let middle = SQUARE * (column as f32 + 0.5);
            drawing.centre(middle, y + 3.0, SMALL, Face::Regular, carry.to_string());
            written.push(middle);
        }
    }
    let struck = matches!(line.kind, LineKind::CarryStrip { struck: true, .. });
    if let ([first, ..], true) = (written.as_slice(), struck) {
        let last = written.last().copied().unwrap_or(*first);
        drawing.level(first - 2.5, last + 2.5, y + STRIP / 2.0, HAIR);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::method::{Carries, long};
    use crate::paper::sheet::Mark;

    fn texts(squares: &Squares) -> Vec<String> {
        let text = |m: &Mark| match m {
            Mark::Text { text, size, .. } => Some((text.clone(), *size)),
            Mark::Line { .. } => None,
        };
        squares
            .drawing
            .marks
            .iter()
            .filter_map(text)
            .map(|(t, size)| format!("{t}/{size}"))
            .collect()
    }

    fn digits(squares: &Squares) -> usize {
        texts(squares)
            .iter()
            .filter(|t| t.ends_with("/16") && !"×+".contains(&t[..t.len() - 3]))
            .count()
    }

    #[test]
    fn a_working_fades_from_the_answer_backward() {
        let style = HouseStyle::default();
        let sum = long(2746, 235, &style);
        // factors 7; rows 13730, 82380, 549200; answer 645310
        let all = digits(&worked(&sum, &style, Given::All));
        assert_eq!(all, 7 + 5 + 5 + 6 + 6);
        let shown: Vec<usize> =
            (1..=4).map(|n| digits(&worked(&sum, &style, Given::AllButLast(n)))).collect();
        assert_eq!(shown, [all - 6, all - 6 - 4, all - 6 - 4 - 4, all - 6 - 4 - 4 - 5]);
    }

    #[test]
    fn one_line_alone_can_be_left_out() {
        let style = HouseStyle::default();
        let sum = long(2746, 235, &style);
        let all = digits(&worked(&sum, &style, Given::All));
        let but = |line| all - digits(&worked(&sum, &style, Given::But { line }));
        // The placeholder zeros of rows stay: 13730, 8238, 5492, and the answer 645310.
        assert_eq!([but(0), but(1), but(2), but(3)], [5, 4, 4, 6]);
    }

    #[test]
    fn carries_show_where_they_are_added_or_a_corner_waits_for_them() {
        let style = HouseStyle::default();
        let sum = long(6283, 347, &style);
        let full = worked(&sum, &style, Given::All);
        let carries = texts(&full).iter().filter(|t| t.ends_with("/8")).count();
        assert_eq!(carries, 3 + 3 + 1 + 5);
        let faded = worked(&sum, &style, Given::AllButLast(4));
        assert_eq!(texts(&faded).iter().filter(|t| t.ends_with("/8")).count(), 0);
        let corners = |s: &Squares| {
            let corner = |m: &&Mark| matches!(m, Mark::Line { points, .. } if points.len() == 3);
            s.drawing.marks.iter().filter(corner).count()
        };
        assert_eq!(corners(&full), 0);
        assert_eq!(corners(&faded), 3 * 3 + 5);
    }

    #[test]
    fn rows_to_add_stand_alone_without_a_carry_and_their_sum_is_left() {
        let sum = long(6283, 347, &HouseStyle::default());
        let squares = rows_to_add(&sum, &HouseStyle::default());
        assert_eq!(digits(&squares), 5 + 6 + 7, "43981, 251320 and 1884900");
        let labels = ["×\u{a0}7/12", "×\u{a0}40/12", "×\u{a0}300/12"];
        let shown = texts(&squares);
        assert!(labels.iter().all(|label| shown.contains(&(*label).to_owned())), "{shown:?}");
        assert!(!shown.iter().any(|t| t.ends_with("/8") || t.ends_with("/9")), "{shown:?}");
        assert_eq!(squares.height, 4.0 * SQUARE);
    }

    #[test]
    fn a_missing_digit_leaves_a_bold_box_and_no_carry_tells_it() {
        let style = HouseStyle::default();
        for (sum, lines) in [(long(6283, 347, &style), 6), (long(638, 7, &style), 4)] {
            let all = digits(&worked(&sum, &style, Given::All));
            for line in 0..lines {
                let squares = worked(&sum, &style, Given::Missing { line, place: 0 });
                assert_eq!(digits(&squares), all - 1, "line {line}");
                let bold = |m: &&Mark| matches!(m, Mark::Line { points, .. } if points.len() == 6);
                assert_eq!(squares.drawing.marks.iter().filter(bold).count(), 1);
                assert!(!texts(&squares).iter().any(|t| t.ends_with("/8")));
            }
        }
    }

    #[test]
    fn a_chart_names_the_places_and_leaves_the_product_to_do() {
        use crate::number::Grouping;
        let indian = HouseStyle { grouping: Grouping::Indian, ..HouseStyle::default() };
        let squares = chart(406, 6, &indian);
        let expected = ["O/9", "T/9", "H/9", "Th/9", "TTh/9", "L/9", "6/16", "0/16", "4/16"];
        assert_eq!(texts(&squares), expected, "and nothing of the answer");
        assert_eq!((squares.width, squares.height), (6.0 * SQUARE, 3.0 * SQUARE));
        // A digit stands under the name of its place.
        let middle = |wanted: &str| {
            let found = squares.drawing.marks.iter().find_map(|m| match m {
                Mark::Text { text, size, face, x, .. } if text == wanted => {
                    Some(x + width(text, *face, *size) / 2.0)
                }
                _ => None,
            });
            found.expect("it is drawn")
        };
        assert!((middle("H") - middle("4")).abs() < 0.01);
    }

    #[test]
    fn blank_squares_are_as_large_as_the_working() {
        for carries in [Carries::InRow, Carries::Above] {
            let style = HouseStyle { carries, ..HouseStyle::default() };
            let sum = long(4739, 286, &style);
            let (blank, full) = (blank_for(&sum, &style), worked(&sum, &style, Given::All));
            assert_eq!(blank.width, full.width);
            assert_eq!(blank.height + SQUARE, full.height, "all but the headings");
        }
    }
}
