//! Short answers: a box after the sum, three across where the sums are short.

use super::{Block, Span};
use crate::exercise::Item;
use crate::paper::font::{Face, NBSP, glue, width, wrap};
use crate::paper::look::{COLUMN, FINE, NUMBER, PITCH, PUPIL, TEXT};
use crate::paper::sheet::Drawing;

/// An answer box.
pub const BOX: (f32, f32) = (20.0, 8.5);
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
        let half = questions.iter().all(|q| fits_column(q));
        numbered.map(|(index, q)| boxed(q, first + index, half, BOX.0)).collect()
    }
}

/// Whether a question stands in a column of two, on two lines at most and with no sum broken.
pub fn fits_column(question: &str) -> bool {
    let room = words_room(COLUMN, BOX.0);
    let fits = |text: &str, room: f32| width(text, Face::Regular, PUPIL) <= room;
    match chain(question) {
        Some((begun, _)) if !fits(question, room) => fits(begun, COLUMN - BEGUN),
        _ => {
            question.split(' ').all(|word| fits(word, room))
                && wrap(question, Face::Regular, PUPIL, room).len() <= 2
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

fn third(question: &str, number: usize) -> Block {
    let mut drawing = Drawing::new();
    drawing.left(0.0, BASELINE, PUPIL, Face::Bold, number.to_string());
    drawing.right(THIRD - BOX.0 - TO_BOX, BASELINE, PUPIL, Face::Regular, question);
    drawing.rectangle(THIRD - BOX.0, 0.0, BOX.0, BOX.1, FINE);
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
