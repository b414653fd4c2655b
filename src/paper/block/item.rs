//! One item with the space it is answered on.

use super::answer::{BOX, THIRD, bare, box_width, fits_column, item_boxed, question};
use super::squares::{Squares, blank, blank_for, chart, rows_to_add, worked};
use super::words::WRITING;
use super::{Block, Span, checks, figure, grid, lattice, words};
use crate::exercise::{Given, Item, Kind, Space, Working};
use crate::method::{Carries, HouseStyle, Long};
use crate::paper::font::{Face, NBSP, width, wrap};
use crate::paper::look::{COLUMN, FINE, NUMBER, PITCH, PUPIL, TEXT};
use crate::paper::sheet::Drawing;

/// The first baseline below a block's top.
pub const FIRST: f32 = 4.4;

/// Where an item's parts stand.
#[derive(Debug, Clone, Copy)]
pub struct Setting<'a> {
    /// How the school writes.
    pub style: &'a HouseStyle,
    /// Where the question begins after the number.
    pub words: f32,
    /// Where squares and tables begin.
    pub squares: f32,
    /// The width of a narrow column.
    pub column: f32,
    /// The whole width there is.
    pub full: f32,
    /// The width of an answer box.
    pub answer: f32,
    /// From the question's last baseline to squares below it.
    pub below: f32,
}

impl<'a> Setting<'a> {
    /// A pupil's sheet.
    pub fn sheet(style: &'a HouseStyle) -> Setting<'a> {
        let squares = NUMBER;
        Setting {
            style,
            words: NUMBER,
            squares,
            column: COLUMN,
            full: TEXT,
            answer: BOX.0,
            below: 4.6,
        }
    }
    /// A slip: one narrow column.
    pub fn slip(style: &'a HouseStyle) -> Setting<'a> {
        let squares = NUMBER;
        Setting {
            style,
            words: 8.0,
            squares,
            column: COLUMN,
            full: COLUMN,
            answer: 32.0,
            below: 3.6,
        }
    }
    /// A column of three.
    pub fn third(style: &'a HouseStyle) -> Setting<'a> {
        let (words, squares) = (8.0, 4.0);
        Setting { style, words, squares, column: THIRD, full: THIRD, answer: BOX.0, below: 3.6 }
    }
    fn span(&self, wide: f32) -> (Span, f32) {
        let half = self.squares + wide <= self.column + 0.01;
        if half { (Span::Half, self.column) } else { (Span::Full, self.full) }
    }
}

/// An item on squares as narrow as a column of three, without anything beside them; none where it
/// has other space or is wider.
pub fn in_a_third(item: &Item, number: usize, style: &HouseStyle) -> Option<Block> {
    let blank = match item.space {
        Space::Squares { given, estimate, compare, .. } => {
            given == Given::Nothing && !estimate && !compare
        }
        Space::Strip { .. } | Space::Lattice { .. } => true,
        _ => false,
    };
    if !blank || item.figure.is_some() {
        return None;
    }
    // A lattice has room for digits on every side of its own.
    let squares = if matches!(item.space, Space::Lattice { .. }) { 0.0 } else { 4.0 };
    let block = block(item, number, Setting { squares, ..Setting::third(style) });
    (block.span == Span::Half).then_some(Block { span: Span::Third, ..block })
}

/// An item as a block.
pub fn block(item: &Item, number: usize, setting: Setting) -> Block {
    if let Some(figure) = &item.figure {
        return figure::block(item, figure, number, setting);
    }
    match item.space {
        Space::Box => {
            let wide = box_width(item, setting.answer);
            let half = fits_column(&question(item), wide) || setting.full < TEXT;
            item_boxed(item, number, half, wide)
        }
        Space::Squares { columns, rows, given, estimate, compare } => {
            let squares = squares(item, (columns, rows), given, setting.style);
            let block = on_squares(item, number, squares, given, estimate, setting);
            if compare { compared(block, setting) } else { block }
        }
        Space::Strip { columns } => {
            let squares = blank(usize::from(columns), 1);
            below(item, number, squares.drawing, (squares.width, squares.height), setting)
        }
        Space::Chart { columns } => {
            let (top, _) = item.factors().unwrap_or_default();
            let (drawing, size) = sized(chart(top, usize::from(columns), setting.style));
            below(item, number, drawing, size, setting)
        }
        Space::Grid { columns, rows, given } => {
            let (drawing, size) = match &item.working {
                Working::Grid(working) => grid::grid(working, setting.style, given, PUPIL),
                _ => sized(blank(usize::from(columns), usize::from(rows))),
            };
            below(item, number, drawing, size, setting)
        }
        Space::Lattice { columns, rows, given } => {
            let (drawing, size) = match &item.working {
                Working::Lattice(working) => lattice::lattice(working, given),
                _ => sized(blank(usize::from(columns), usize::from(rows))),
            };
            below(item, number, drawing, size, setting)
        }
        Space::Options { because } => words::options(item, number, because, setting),
        Space::Story { columns, rows } => words::story(item, number, (columns, rows), setting),
        Space::Lines { count } => words::lines(item, number, usize::from(count), setting),
        Space::Line => words::line(item, number, setting),
    }
}

fn sized(squares: Squares) -> (Drawing, (f32, f32)) {
    (squares.drawing, (squares.width, squares.height))
}

fn long_of(item: &Item) -> Option<&Long> {
    match &item.working {
        Working::Long(long) | Working::Story { long: Some(long), .. } => Some(long),
        _ => None,
    }
}

fn squares(item: &Item, size: (u8, u8), given: Given, style: &HouseStyle) -> Squares {
    match long_of(item) {
        Some(long) if given == Given::Rows => rows_to_add(long, style),
        Some(long) if given != Given::Nothing => worked(long, style, given),
        _ => blank_squares(item, size, style),
    }
}

/// Squares to work on: as large as the item says, with strips where carries stand above.
pub fn blank_squares(item: &Item, size: (u8, u8), style: &HouseStyle) -> Squares {
    match long_of(item) {
        Some(long) if style.carries == Carries::Above => blank_for(long, style),
        _ => blank(usize::from(size.0), usize::from(size.1)),
    }
}

/// The number and the question in lines; what comes next may begin at the height returned.
pub fn asked(text: &str, number: usize, setting: Setting, column: f32) -> (Drawing, f32) {
    let lines = wrap(text, Face::Regular, PUPIL, column - setting.words);
    let mut drawing = Drawing::new();
    drawing.left(0.0, FIRST, PUPIL, Face::Bold, number.to_string());
    drawing.lines((setting.words, FIRST), PITCH, PUPIL, Face::Regular, &lines);
    (drawing, FIRST + PITCH * lines.len().saturating_sub(1) as f32)
}

/// What stands above the space it is worked in: a sum without its equals sign, for its answer stands
/// in the working.
fn asks(item: &Item) -> String {
    let worked_below = item.kind == Kind::Written || matches!(item.space, Space::Chart { .. });
    if worked_below { bare(item) } else { question(item) }
}

/// A question with a drawing of this size below it.
fn below(item: &Item, number: usize, part: Drawing, size: (f32, f32), setting: Setting) -> Block {
    let (span, column) = setting.span(size.0);
    let (mut drawing, last) = asked(&asks(item), number, setting, column);
    drawing.place(part, (setting.squares, last + setting.below));
    Block { span, height: last + setting.below + size.1, tight: false, drawing }
}

fn on_squares(
    item: &Item,
    number: usize,
    squares: Squares,
    given: Given,
    estimate: bool,
    setting: Setting,
) -> Block {
    let (span, column) = setting.span(squares.width);
    let (mut drawing, top) = match (estimate, given) {
        (false, _) => {
            let (drawing, last) = asked(&asks(item), number, setting, column);
            (drawing, last + setting.below)
        }
        (true, Given::Nothing) => about(item, number, setting, column),
        (true, _) => between(item, number, setting, column),
    };
    drawing.place(squares.drawing, (setting.squares, top));
    Block { span, height: top + squares.height, tight: false, drawing }
}

/// Below a sum: how far its answer is from the estimate, and on which side.
fn compared(mut block: Block, setting: Setting) -> Block {
    const LINE: f32 = 26.0;
    const BEGIN: &str = "My estimate is off by";
    let column = if block.span == Span::Half { setting.column } else { setting.full };
    let y = block.height + WRITING;
    block.drawing.left(setting.words, y, PUPIL, Face::Regular, BEGIN);
    let from = setting.words + width(BEGIN, Face::Regular, PUPIL) + 2.0;
    block.drawing.level(from, (from + LINE).min(column), y + 1.0, FINE);
    let y = y + WRITING - 2.0;
    let words = format!("The answer is more{NBSP}/{NBSP}less.");
    block.drawing.left(setting.words, y, PUPIL, Face::Regular, words);
    block.height = y + 1.5;
    block
}

/// "4,739 × 286 ≈" and a line to write on.
fn about(item: &Item, number: usize, setting: Setting, column: f32) -> (Drawing, f32) {
    const LINE: f32 = 32.0;
    let text = format!("{}{NBSP}≈", bare(item));
    let (mut drawing, last) = asked(&text, number, setting, column);
    let lines = wrap(&text, Face::Regular, PUPIL, column - setting.words);
    let end = lines.last().map_or(0.0, |l| setting.words + width(l, Face::Regular, PUPIL));
    let y = if end + 2.0 + LINE <= column { last } else { last + WRITING };
    drawing.level(column - LINE, column, y + 1.0, FINE);
    (drawing, y + setting.below)
}

/// "3,264 × 213 lies between", then the products of round numbers that show between what:
/// "3,000 × 200 = ____ and" over "4,000 × 300 = ____".
fn between(item: &Item, number: usize, setting: Setting, column: f32) -> (Drawing, f32) {
    const STEP: f32 = 8.5;
    const LINE: f32 = 24.0;
    let text = format!("{} lies between", bare(item));
    let (mut drawing, last) = asked(&text, number, setting, column);
    let round = long_of(item).map(|long| checks::between(long.a, long.b, setting.style));
    let sums: Vec<String> =
        round.into_iter().flatten().map(|sum| format!("{sum}{NBSP}=")).collect();
    let wide = sums.iter().map(|s| width(s, Face::Regular, PUPIL)).fold(0.0, f32::max);
    let signs = setting.squares + wide;
    let after = 2.0 + width("and", Face::Regular, PUPIL);
    let room = if signs + 2.0 + LINE + after <= COLUMN { COLUMN } else { column };
    let mut y = last;
    for (index, sum) in sums.iter().enumerate() {
        y += STEP;
        drawing.right(signs, y, PUPIL, Face::Regular, sum.as_str());
        drawing.level(signs + 2.0, room - after, y + 1.0, FINE);
        if index + 1 < sums.len() {
            drawing.right(room, y, PUPIL, Face::Regular, "and");
        }
    }
    (drawing, y + 5.0)
}
