//! A pupil's sheet: the warm-up, then practice at one level. All levels look alike.

use super::Frame;
use super::arrange::{in_a_box, rows};
use super::instruction::{Letters, answers_only, instruction};
use crate::exercise::Item;
use crate::lesson::{Pack, Section, SectionName};
use crate::method::HouseStyle;
use crate::paper::block::answer;
use crate::paper::flow::{self, MOST_EXTRA, Room, Row};
use crate::paper::font::{Face, width, wrap};
use crate::paper::look::{BODY_TOP, PITCH, PUPIL, TEXT};
use crate::paper::sheet::{Page, Sheet};

/// Where the words after a heading begin.
const AFTER_HEADING: f32 = 24.0;
/// From a heading's baseline to the blocks below it.
const BELOW_HEADING: f32 = 6.5;

/// The sheet of practice of this letter, which alone tells its level.
pub fn sheet(pack: &Pack, practice: &Section, letter: char) -> Sheet {
    let letter = letter.to_string();
    let frame = Frame::new(pack, &letter, "Practice");
    let style = &pack.heading.style;
    let left = frame.format.left;
    let mut top = Page::new();
    let down = frame.title(&mut top, &pack.heading.title);
    frame.name_and_date(&mut top, 40.0 + down);
    let mut y = 50.5 + down;
    let warm_up = pack.sections.iter().find(|s| s.name == SectionName::WarmUp);
    if let Some(section) = warm_up.filter(|s| !s.items.is_empty()) {
        heading(&mut top, left, y, "Warm-up", &answers_only(&section.items));
        y += 4.5;
        for row in warm_up_rows(section, style) {
            let height = row.height + 3.5;
            top.place(row.drawing, (left, y));
            y += height;
        }
        y += 7.5;
    }
    y +=
        heading(&mut top, left, y, "Practice", &instruction(&practice.items, style, Letters::Here));
    let room = Room {
        left,
        first: y + BELOW_HEADING,
        later: BODY_TOP,
        foot: frame.format.body_foot,
        extra: MOST_EXTRA,
    };
    let pages = super::on_top(top, flow::pages(rows(&practice.items, style), room));
    frame.sheet(&pack.heading.title, pages)
}

fn warm_up_rows(section: &Section, style: &HouseStyle) -> Vec<Row> {
    if section.items.iter().all(in_a_box) {
        let items: Vec<&Item> = section.items.iter().collect();
        flow::rows(answer::boxes_of(&items, 1, answer::IN_WARM_UP))
    } else {
        rows(&section.items, style)
    }
}

/// A bold heading with an instruction after it; returns how far further lines reach down.
pub fn heading(page: &mut Page, left: f32, y: f32, name: &str, instruction: &str) -> f32 {
    page.left(left, y, PUPIL, Face::Bold, name);
    let words = AFTER_HEADING.max(width(name, Face::Bold, PUPIL) + 4.0);
    let lines = wrap(instruction, Face::Regular, PUPIL, TEXT - words);
    page.lines((left + words, y), PITCH, PUPIL, Face::Regular, &lines);
    PITCH * lines.len().saturating_sub(1) as f32
}
