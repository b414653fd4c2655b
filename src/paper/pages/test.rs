//! The unit test: one paper for all.

use super::Frame;
use super::arrange::rows;
use crate::lesson::{Pack, SectionName};
use crate::paper::flow::{self, MOST_EXTRA, Room};
use crate::paper::font::{Face, width, wrap};
use crate::paper::look::{BODY_TOP, FINE, PITCH, PUPIL, TEXT};
use crate::paper::sheet::{Page, Sheet};

/// The room for the marks: a line and their total.
const SCORE: f32 = 30.0;
/// What is said where the pack, made by an earlier version, says nothing.
const INSTRUCTION: &str = "Work on your own. Show your working.";

/// The sheet, where the pack has a test.
pub fn sheet(pack: &Pack) -> Option<Sheet> {
    let section =
        pack.sections.iter().find(|s| s.name == SectionName::Test && !s.items.is_empty())?;
    let frame = Frame::new(pack, "T", "Unit test");
    let mut top = Page::new();
    let down = frame.title(&mut top, &pack.heading.title);
    frame.name_and_date(&mut top, 40.0 + down);
    let y = 50.5 + down;
    let total: u32 = pack.marks.iter().map(|m| m.marks).sum();
    let said = if pack.instruction.is_empty() { INSTRUCTION } else { &pack.instruction };
    let lines = wrap(said, Face::Regular, PUPIL, TEXT - SCORE - 6.0);
    if total > 0 {
        let right = frame.format.right();
        let of = format!("of\u{A0}{total}");
        let from = right - width(&of, Face::Regular, PUPIL) - 2.0;
        top.right(right, y, PUPIL, Face::Regular, of);
        top.level(right - SCORE, from, y + 1.0, FINE);
    }
    top.lines((frame.format.left, y), PITCH, PUPIL, Face::Regular, &lines);
    let room = Room {
        left: frame.format.left,
        first: y + PITCH * lines.len().saturating_sub(1) as f32 + 8.0,
        later: BODY_TOP,
        foot: frame.format.body_foot,
        extra: MOST_EXTRA,
    };
    let pages = flow::pages(rows(&section.items, &pack.heading.style), room);
    Some(frame.sheet(&pack.heading.title, super::on_top(top, pages)))
}
