//! Short answers: a box after the sum, three across where the sums are short.

use super::{Block, Span};
use crate::exercise::Item;
use crate::paper::font::{Face, NBSP, glue, width, wrap};
use crate::paper::look::{COLUMN, FINE, PITCH, PUPIL, TEXT};
use crate::paper::sheet::Drawing;

/// An answer box.
pub const BOX: (f32, f32) = (20.0, 8.5);
/// Where a box ends in a column of three.
const THIRD: f32 = 52.0;
/// Where the words begin after the number.
const WORDS: f32 = 8.0;
/// A bare sum stands at its box; the box of a short one comes nearer to the number.
const SUM_ROOM: f32 = 34.0;
/// The least white between a number and its question.
const NEXT: f32 = 1.2;
/// From a question to its box.
const TO_BOX: f32 = 2.0;
/// The baseline in a box's row.
const BASELINE: f32 = 6.0;

/// The question with the sign that follows it.
pub fn question(item: &Item) -> String {
    match item.sign() {
        "" => glue(item.prompt.trim()),
        sign => glue(&format!("{} {sign}", item.prompt.trim())),
    }
}

/// Items with a box each, numbered from `first`: all in the narrowest columns that hold them all.
pub fn boxes(items: &[&Item], first: usize) -> Vec<Block> {
    let questions: Vec<String> = items.iter().map(|i| question(i)).collect();
    let numbered = questions.iter().enumerate();
    let short = numbered.clone().all(|(index, q)| {
        let number = width(&(first + index).to_string(), Face::Bold, PUPIL);
        number + NEXT + width(q, Face::Regular, PUPIL) <= THIRD - BOX.0 - TO_BOX
    });
    if short {
        numbered.map(|(index, q)| third(q, first + index)).collect()
    } else {
        let span = |q: &String| wrap(q, Face::Regular, PUPIL, words_room(COLUMN, BOX.0)).len() <= 2;
        let half = questions.iter().all(span);
        numbered.map(|(index, q)| boxed(q, first + index, half, BOX.0)).collect()
    }
}

fn words_room(column: f32, box_width: f32) -> f32 {
    column - WORDS - box_width - 2.0
}

fn third(question: &str, number: usize) -> Block {
    let mut drawing = Drawing::new();
    drawing.left(0.0, BASELINE, PUPIL, Face::Bold, number.to_string());
    drawing.right(THIRD - BOX.0 - TO_BOX, BASELINE, PUPIL, Face::Regular, question);
    drawing.rectangle(THIRD - BOX.0, 0.0, BOX.0, BOX.1, FINE);
    Block { span: Span::Third, height: BOX.1, tight: true, drawing }
}

/// A question of one line or more with a box at the column's right edge, level with its last line.
pub fn boxed(question: &str, number: usize, half: bool, box_width: f32) -> Block {
    let column = if half { COLUMN } else { TEXT };
    let lines = wrap(question, Face::Regular, PUPIL, words_room(column, box_width));
    let more = PITCH * lines.len().saturating_sub(1) as f32;
    let mut drawing = Drawing::new();
    drawing.left(0.0, BASELINE, PUPIL, Face::Bold, number.to_string());
    let mut at = column - box_width;
    match lines.as_slice() {
        [sum] if sum.ends_with(['=', '≈']) => {
            if width(sum, Face::Regular, PUPIL) <= SUM_ROOM {
                at = at.min(WORDS + SUM_ROOM + TO_BOX);
            }
            drawing.right(at - TO_BOX, BASELINE, PUPIL, Face::Regular, sum.as_str());
        }
        _ => drawing.lines((WORDS, BASELINE), PITCH, PUPIL, Face::Regular, &lines),
    }
    drawing.rectangle(at, more, box_width, BOX.1, FINE);
    let span = if half { Span::Half } else { Span::Full };
    Block { span, height: more + BOX.1, tight: true, drawing }
}

/// The question without its equals sign, for sums worked below it.
pub fn bare(item: &Item) -> String {
    let prompt = glue(item.prompt.trim());
    prompt.trim_end_matches(['=', '≈', NBSP, ' ']).to_owned()
}
