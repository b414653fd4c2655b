//! Short answers: a box after the sum, three across where the sums are short.

use super::{Block, Span};
use crate::exercise::Item;
use crate::paper::font::{Face, NBSP, glue, width, wrap};
use crate::paper::look::{COLUMN, FINE, NUMBER, PITCH, PUPIL, TEXT};
use crate::paper::sheet::Drawing;

/// An answer box, and how wide one is for long answers of so many digits and more.
pub const BOX: (f32, f32) = (20.0, 8.5);
const LONG_BOX: f32 = 35.0;
const LONG: usize = 6;
/// From a line to work on to the box at its end.
const TO_LINE: f32 = 3.0;
/// Where a box ends in a column of three.
pub const THIRD: f32 = 52.0;
/// Where the words begin after the number.
const WORDS: f32 = 8.0;
/// Where a sum that is begun begins at the least, so that no number runs into it: "10" and "715 × 3".
const BEGUN: f32 = 10.5;
/// The least white between a number and its question.
const NEXT: f32 = 4.0;
/// From a question to its box.
const TO_BOX: f32 = 2.0;
/// The most lines of a question beside its box.
const MOST_LINES: usize = 2;
/// The same in a warm-up, where one long question would put all below each other.
pub const IN_WARM_UP: usize = 3;
/// The baseline in a box's row.
const BASELINE: f32 = 6.0;

/// The question with the sign that follows it.
pub fn question(item: &Item) -> String {
    match item.sign() {
        "" => glue(item.prompt.trim()),
        sign => glue(&format!("{} {sign}", item.prompt.trim())),
    }
}

/// How wide an item's box is, where a box is usually this wide.
pub fn box_width(item: &Item, usual: f32) -> f32 {
    let long = item.answer.len() >= LONG && item.answer.bytes().all(|b| b.is_ascii_digit());
    if long { usual.max(LONG_BOX) } else { usual }
}

/// Whether something has to be worked out before the answer is written: a line stands for it.
fn has_to_work(item: &Item) -> bool {
    item.prompt.contains(USE)
}

/// How a question begins its task that leads from a known product to another.
const USE: &str = "Use it to find";

/// Items with a box each, numbered from `first`: all in the narrowest columns that hold them all.
pub fn boxes(items: &[&Item], first: usize) -> Vec<Block> {
    boxes_of(items, first, MOST_LINES)
}

/// The same with questions of so many lines.
pub fn boxes_of(items: &[&Item], first: usize, lines: usize) -> Vec<Block> {
    let questions: Vec<String> = items.iter().map(|i| question(i)).collect();
    let numbered = questions.iter().enumerate();
    let wide: Vec<f32> = items.iter().map(|i| box_width(i, BOX.0)).collect();
    let short = numbered.clone().all(|(index, q)| {
        let number = width(&(first + index).to_string(), Face::Bold, PUPIL);
        !has_to_work(items[index])
            && number + NEXT + width(q, Face::Regular, PUPIL) <= THIRD - wide[index] - TO_BOX
    });
    if short {
        numbered.map(|(index, q)| third(q, first + index, wide[index])).collect()
    } else {
        let half = questions.iter().zip(&wide).all(|(q, wide)| fits_in(q, *wide, lines));
        let one = |index: usize| item_boxed(items[index], first + index, half, wide[index]);
        (0..items.len()).map(one).collect()
    }
}

/// An item with its box, and a line to work on where it asks for that.
pub fn item_boxed(item: &Item, number: usize, half: bool, box_width: f32) -> Block {
    if has_to_work(item) {
        with_line(&question(item), number, half, box_width)
    } else {
        boxed(&question(item), number, half, box_width)
    }
}

/// Whether a question stands in a column of two beside a box so wide, on few lines and with no sum
/// broken.
pub fn fits_column(question: &str, box_width: f32) -> bool {
    fits_in(question, box_width, MOST_LINES)
}

fn fits_in(question: &str, box_width: f32, lines: usize) -> bool {
    let room = words_room(COLUMN, box_width);
    let fits = |text: &str, room: f32| width(text, Face::Regular, PUPIL) <= room;
    match chain(question) {
        Some((begun, _)) if !fits(question, room) => fits(begun, COLUMN - BEGUN),
        _ => {
            question.split(' ').all(|word| fits(word, room))
                && wrap(question, Face::Regular, PUPIL, room).len() <= lines
        }
    }
}

/// A sum that is begun, "56 × 4 = 50 × 4 + 6 × 4 =", without its last sign; and what stands before
/// its first.
fn chain(question: &str) -> Option<(&str, &str)> {
    let begun = question.strip_suffix('=')?.trim_end_matches([NBSP, ' ']);
    begun.split_once('=').map(|(sum, _)| (begun, sum))
}

fn words_room(column: f32, box_width: f32) -> f32 {
    column - WORDS - box_width - 2.0
}

fn third(question: &str, number: usize, wide: f32) -> Block {
    let mut drawing = Drawing::new();
    drawing.left(0.0, BASELINE, PUPIL, Face::Bold, number.to_string());
    drawing.right(THIRD - wide - TO_BOX, BASELINE, PUPIL, Face::Regular, question);
    drawing.rectangle(THIRD - wide, 0.0, wide, BOX.1, FINE);
    Block { span: Span::Third, height: BOX.1, tight: true, drawing }
}

/// A question of one line or more with a box at the column's right edge, level with its last line.
/// A sum that is begun and too long for one line has its equals signs under each other.
pub fn boxed(question: &str, number: usize, half: bool, box_width: f32) -> Block {
    let column = if half { COLUMN } else { TEXT };
    let room = words_room(column, box_width);
    let mut drawing = Drawing::new();
    drawing.left(0.0, BASELINE, PUPIL, Face::Bold, number.to_string());
    let mut at = column - box_width;
    let mut wide = box_width;
    let lines = wrap(question, Face::Regular, PUPIL, room);
    let mut more = PITCH * lines.len().saturating_sub(1) as f32;
    match (lines.as_slice(), chain(question)) {
        ([sum], _) if sum.ends_with(['=', '≈', '×']) => {
            drawing.right(at - TO_BOX, BASELINE, PUPIL, Face::Regular, sum.as_str());
        }
        ([_, _, ..], Some((begun, sum)))
            if width(begun, Face::Regular, PUPIL) <= column - BEGUN =>
        {
            // The box clears the line above it.
            more = PITCH + 3.0;
            let left = (column - width(begun, Face::Regular, PUPIL)).clamp(BEGUN, NUMBER);
            let sign = left + width(sum, Face::Regular, PUPIL);
            drawing.left(left, BASELINE, PUPIL, Face::Regular, begun);
            drawing.left(sign, BASELINE + more, PUPIL, Face::Regular, "=");
            at = sign + width("=", Face::Regular, PUPIL) + TO_BOX;
            wide = wide.min(column - at).max(BOX.0);
        }
        _ => drawing.lines((WORDS, BASELINE), PITCH, PUPIL, Face::Regular, &lines),
    }
    drawing.rectangle(at, more, wide, BOX.1, FINE);
    let span = if half { Span::Half } else { Span::Full };
    Block { span, height: more + BOX.1, tight: true, drawing }
}

/// A question over a line to work on, with the box at the line's end.
fn with_line(question: &str, number: usize, half: bool, box_width: f32) -> Block {
    let column = if half { COLUMN } else { TEXT };
    let mut drawing = Drawing::new();
    drawing.left(0.0, BASELINE, PUPIL, Face::Bold, number.to_string());
    let lines = wrap(question, Face::Regular, PUPIL, column - WORDS);
    drawing.lines((WORDS, BASELINE), PITCH, PUPIL, Face::Regular, &lines);
    let top = BASELINE + PITCH * lines.len().saturating_sub(1) as f32 + 3.0;
    let at = column - box_width;
    drawing.level(WORDS, at - TO_LINE, top + BOX.1 - 1.5, FINE);
    drawing.rectangle(at, top, box_width, BOX.1, FINE);
    let span = if half { Span::Half } else { Span::Full };
    Block { span, height: top + BOX.1, tight: false, drawing }
}

/// The question without its equals sign, for sums worked below it.
pub fn bare(item: &Item) -> String {
    let prompt = glue(item.prompt.trim());
    prompt.trim_end_matches(['=', '≈', NBSP, ' ']).to_owned()
}
