//! Blocks of words: a choice, a story sum, lines to write on.

use super::answer::question;
use super::item::{Setting, asked};
use super::squares::blank;
use super::{Block, Span};
use crate::exercise::{Choice, Item, Kind, Space};
use crate::paper::font::{Face, width, wrap};
use crate::paper::look::{COLUMN, FINE, PITCH, PUPIL, TEXT};
use crate::paper::sheet::Drawing;

/// From one writing line to the next.
pub const WRITING: f32 = 9.5;
/// From one option to the next.
const OPTION: f32 = 6.5;
/// What a letter and its gap take.
const LETTER: f32 = 8.0;
/// The same where options stand side by side.
const CLOSE: f32 = 6.0;

/// Letters to ring, and lines for a reason beside them or below.
pub fn options(item: &Item, number: usize, because: bool, setting: Setting) -> Block {
    let narrow = setting.full <= COLUMN || (!because && item.choices.len() <= 6 && short(item));
    let (span, column) =
        if narrow { (Span::Half, setting.column) } else { (Span::Full, setting.full) };
    let (mut drawing, last) = asked(&question(item), number, setting, column);
    let first = last + 8.3;
    let widest = item.choices.iter().map(text_width).fold(0.0, f32::max);
    let mut y = first;
    if short(item) {
        let right = setting.words + LETTER + widest;
        // Numbers stand with their ones below each other, words beside their letters.
        let numbers = item.choices.iter().all(|c| c.text.starts_with(|s: char| s.is_ascii_digit()));
        for (choice, letter) in item.choices.iter().zip('A'..) {
            drawing.left(setting.words, y, PUPIL, Face::Bold, letter.to_string());
            if numbers {
                drawing.right(right, y, PUPIL, Face::Regular, choice.text.as_str());
            } else {
                drawing.left(setting.words + LETTER, y, PUPIL, Face::Regular, &choice.text);
            }
            y += OPTION;
        }
        y -= OPTION;
        if because {
            let beside = right.max(setting.words + 32.0) + 12.0;
            let (left, begin) = if column - beside >= 70.0 {
                (beside, first)
            } else {
                (setting.words, y + WRITING)
            };
            y = y.max(reason(&mut drawing, left, column, begin, 3));
        }
    } else {
        for (choice, letter) in item.choices.iter().zip('A'..) {
            let words = setting.words + LETTER;
            let lines = wrap(&choice.text, Face::Regular, PUPIL, column - words);
            drawing.left(setting.words, y, PUPIL, Face::Bold, letter.to_string());
            drawing.lines((words, y), PITCH, PUPIL, Face::Regular, &lines);
            y += OPTION + PITCH * lines.len().saturating_sub(1) as f32;
        }
        y -= OPTION;
        if because {
            y = reason(&mut drawing, setting.words, column, y + WRITING, 3);
        }
    }
    Block { span, height: y + 1.0, tight: false, drawing }
}

/// The line for a short answer above its reason, mm.
const ANSWER: f32 = 36.0;

/// The letters to ring beside each other across the page, for a choice that stands alone; nothing
/// where the options are too long for that or want a reason.
pub fn across(item: &Item, number: usize, setting: Setting) -> Option<Block> {
    let stands_in_column = matches!(item.space, Space::Options { because: false });
    if !stands_in_column || item.choices.is_empty() {
        return None;
    }
    let widest = item.choices.iter().map(text_width).fold(0.0, f32::max);
    let step = |columns: usize| (setting.full - setting.words) / columns as f32;
    // In one row, or in two rows of two.
    let count = item.choices.len();
    let columns = [count.max(4), count, 2];
    let columns = columns.into_iter().find(|&n| CLOSE + widest + 4.0 <= step(n))?;
    let (mut drawing, last) = asked(&question(item), number, setting, setting.full);
    let mut y = last + 8.3;
    for (index, (choice, letter)) in item.choices.iter().zip('A'..).enumerate() {
        y = last + 8.3 + OPTION * (index / columns) as f32;
        let x = setting.words + step(columns) * (index % columns) as f32;
        drawing.left(x, y, PUPIL, Face::Bold, letter.to_string());
        drawing.left(x + CLOSE, y, PUPIL, Face::Regular, choice.text.as_str());
    }
    Some(Block { span: Span::Full, height: y + 1.0, tight: false, drawing })
}

fn text_width(choice: &Choice) -> f32 {
    width(&choice.text, Face::Regular, PUPIL)
}

/// Whether all options are numbers or as short as numbers.
fn short(item: &Item) -> bool {
    item.choices.iter().all(|c| text_width(c) <= 40.0)
}

/// "I know because" and lines; returns where the last one lies.
fn reason(drawing: &mut Drawing, left: f32, right: f32, y: f32, lines: usize) -> f32 {
    let begins = label(drawing, left, y, "I know because");
    drawing.level(begins, right, y + 1.0, FINE);
    let below = |n: usize| y + 1.0 + WRITING * n as f32;
    for line in 1..lines {
        drawing.level(left, right, below(line), FINE);
    }
    below(lines.saturating_sub(1))
}

/// A word in front of a line; returns where the line begins.
fn label(drawing: &mut Drawing, left: f32, y: f32, word: &str) -> f32 {
    drawing.left(left, y, PUPIL, Face::Regular, word);
    left + width(word, Face::Regular, PUPIL) + 2.0
}

/// A question and lines below it, for an answer in words; a reason has a place for the answer
/// above it, which a child in a hurry would leave out.
pub fn lines(item: &Item, number: usize, count: usize, setting: Setting) -> Block {
    let (mut drawing, last) = asked(&question(item), number, setting, setting.full);
    let foot = if item.kind == Kind::Reason {
        let y = last + WRITING;
        let begins = label(&mut drawing, setting.words, y, "Answer");
        drawing.level(begins, begins + ANSWER, y + 1.0, FINE);
        reason(&mut drawing, setting.words, setting.full, y + WRITING, count.saturating_sub(1))
    } else {
        for line in 1..=count {
            let y = last + 1.0 + WRITING * line as f32;
            drawing.level(setting.words, setting.full, y, FINE);
        }
        last + 1.0 + WRITING * count as f32
    };
    let span = if setting.full <= COLUMN { Span::Half } else { Span::Full };
    Block { span, height: foot, tight: false, drawing }
}

/// A question and a line after it: on its last line where 32 mm are left, else below.
pub fn line(item: &Item, number: usize, setting: Setting) -> Block {
    const LEAST: f32 = 32.0;
    let text = question(item);
    let room = |column: f32| column - setting.words;
    let half = setting.full <= COLUMN
        || wrap(&text, Face::Regular, PUPIL, room(setting.column)).len() <= 2;
    let (span, column) =
        if half { (Span::Half, setting.column) } else { (Span::Full, setting.full) };
    let (mut drawing, last) = asked(&text, number, setting, column);
    let lines = wrap(&text, Face::Regular, PUPIL, room(column));
    let end = lines.last().map_or(0.0, |l| setting.words + width(l, Face::Regular, PUPIL)) + 2.0;
    // Below stories all lines are alike.
    let y = if column - end >= LEAST && item.kind != Kind::Story {
        drawing.level(end.max(column - 60.0), column, last + 1.0, FINE);
        last + 1.0
    } else {
        drawing.level(setting.words, column, last + 1.0 + WRITING, FINE);
        last + 1.0 + WRITING
    };
    Block { span, height: y, tight: false, drawing }
}

/// A story sum: I know over I need, squares beside them, the answer in a sentence.
pub fn story(item: &Item, number: usize, size: (u8, u8), setting: Setting) -> Block {
    const KNOW: f32 = 24.0;
    const NEED: f32 = 20.0;
    const GAP: f32 = 4.0;
    let (mut drawing, last) = asked(item.prompt.trim(), number, setting, setting.full);
    let squares = blank(usize::from(size.0), usize::from(size.1));
    let top = last + GAP + 0.6;
    let narrow = setting.full < TEXT;
    let (mut foot, left) = (top + squares.height, setting.words);
    if narrow {
        drawing.place(squares.drawing, (setting.full - squares.width, top));
    } else {
        let wide = setting.full - squares.width - 8.0 - left;
        for (label, y, high) in [("I know", top, KNOW), ("I need", top + KNOW + GAP, NEED)] {
            drawing.rectangle(left, y, wide, high, FINE);
            drawing.left(left + 2.0, y + 4.9, PUPIL, Face::Bold, label);
        }
        drawing.place(squares.drawing, (setting.full - squares.width, top));
        foot = foot.max(top + KNOW + GAP + NEED);
    }
    let y = foot + 9.0;
    drawing.left(left, y, PUPIL, Face::Bold, "Answer sentence");
    let begins = left + width("Answer sentence", Face::Bold, PUPIL) + 2.0;
    drawing.level(begins, setting.full, y + 1.0, FINE);
    let mut height = y + 1.0;
    if narrow {
        drawing.level(left, setting.full, y + 1.0 + WRITING, FINE);
        height += WRITING;
    }
    let span = if narrow { Span::Half } else { Span::Full };
    Block { span, height, tight: false, drawing }
}
