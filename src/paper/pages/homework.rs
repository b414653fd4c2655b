//! Homework: half a sheet, two to a page with a cut line; a whole page where it needs one.

use super::Frame;
use super::arrange::{OVER, rows, rows_on_half};
use super::instruction::{Letters, instruction};
use crate::lesson::{Pack, Section, SectionName};
use crate::paper::block::answer::BOX;
use crate::paper::flow::{self, MOST_EXTRA, Room, Row};
use crate::paper::font::{Face, NBSP, width, wrap};
use crate::paper::look::{BODY_TOP, FINE, PITCH, PUPIL, SMALL, TEXT, TITLE};
use crate::paper::sheet::{Drawing, Page, Sheet};

/// The height of a half sheet's contents.
const HALF: f32 = 128.0;
/// Where its items begin.
const ITEMS: f32 = 21.5;
/// The white between the title and what is said beside it.
const BESIDE_TITLE: f32 = 5.0;
/// The first line of what is said below the name.
const SAID: f32 = 1.0;
/// From the paper's edge to where the cut line begins.
const EDGE: f32 = 6.0;

fn homework(pack: &Pack) -> Option<&Section> {
    pack.sections.iter().find(|s| s.name == SectionName::Homework && !s.items.is_empty())
}

/// How many pupils one page serves: two, or one where the set needs a whole page.
pub fn to_a_page(pack: &Pack) -> Option<usize> {
    homework(pack).map(|section| if half(pack, section).is_some() { 2 } else { 1 })
}

/// The sheet, where the pack has homework.
pub fn sheet(pack: &Pack) -> Option<Sheet> {
    let section = homework(pack)?;
    let frame = Frame::new(pack, "H", "Homework");
    let Some(half) = half(pack, section) else { return Some(whole(&frame, section)) };
    let (wide, high) = frame.format.size;
    let middle = high / 2.0;
    let mut page = Page::new();
    for top in [0.0, middle] {
        page.place(half.clone(), (frame.format.left, top + (middle - HALF) / 2.0));
    }
    page.dashes((EDGE, middle), (wide - EDGE, middle), FINE);
    let mut sheet = frame.sheet("Homework", Vec::new());
    sheet.pages = vec![page];
    Some(sheet)
}

/// A half sheet, if all items fit on it.
fn half(pack: &Pack, section: &Section) -> Option<Drawing> {
    let frame = Frame::new(pack, "H", "");
    let high = (frame.format.size.1 / 2.0 - 12.0).min(HALF);
    let (mut drawing, first) = top(&frame, section);
    let room = Room { left: 0.0, first, later: first, foot: high, extra: MOST_EXTRA / 2.0 };
    let style = &pack.heading.style;
    let as_on_sheets = rows(&section.items, style);
    let on_half = || rows_on_half(&section.items, style, BOX.0, OVER);
    let body = one_page(as_on_sheets, room).or_else(|| one_page(on_half(), room))?;
    drawing.place(body, (0.0, 0.0));
    let fits = drawing.marks.iter().all(|m| m.bounds().3 <= high + 2.0);
    fits.then_some(drawing)
}

fn one_page(rows: Vec<Row>, room: Room) -> Option<Page> {
    let mut pages = flow::pages(rows, room);
    if pages.len() == 1 { pages.pop() } else { None }
}

/// The title, the name, what to do; and where the items begin.
fn top(frame: &Frame, section: &Section) -> (Drawing, f32) {
    let right = frame.format.right() - frame.format.left;
    let mut drawing = Drawing::new();
    drawing.left(0.0, 4.5, PUPIL, Face::Bold, "Homework");
    let code = frame.full_code();
    let pack = frame.pack;
    let date = format!("{}{NBSP} · {NBSP}", pack.date.format("%A %-d\u{A0}%B"));
    let at = right - width(&code, Face::Bold, SMALL);
    drawing.right(at, 4.5, SMALL, Face::Regular, date.as_str());
    drawing.left(at, 4.5, SMALL, Face::Bold, code);
    super::frame::labelled_line(&mut drawing, "Name", 0.0, right, 14.5);
    let said = instruction(&section.items, &pack.heading.style, Letters::InTheItem);
    let from = width("Homework", Face::Bold, PUPIL) + BESIDE_TITLE;
    let until = at - width(&date, Face::Regular, SMALL) - BESIDE_TITLE;
    if width(&said, Face::Regular, PUPIL) <= until - from {
        drawing.left(from, 4.5, PUPIL, Face::Regular, said);
        return (drawing, ITEMS);
    }
    let lines = wrap(&said, Face::Regular, PUPIL, right);
    drawing.lines((0.0, ITEMS + SAID), PITCH, PUPIL, Face::Regular, &lines);
    (drawing, ITEMS + PITCH * lines.len() as f32)
}

fn whole(frame: &Frame, section: &Section) -> Sheet {
    let mut top = Page::new();
    let down = frame.title(&mut top, "Homework");
    frame.name_and_date(&mut top, TITLE + 11.0 + down);
    let said = instruction(&section.items, &frame.pack.heading.style, Letters::InTheItem);
    let lines = wrap(&said, Face::Regular, PUPIL, TEXT);
    let y = TITLE + 21.0 + down;
    top.lines((frame.format.left, y), PITCH, PUPIL, Face::Regular, &lines);
    let room = Room {
        left: frame.format.left,
        first: TITLE + 19.0 + down + PITCH * lines.len() as f32,
        later: BODY_TOP,
        foot: frame.format.body_foot,
        extra: MOST_EXTRA,
    };
    let rows = rows(&section.items, &frame.pack.heading.style);
    frame.sheet("Homework", super::on_top(top, flow::pages(rows, room)))
}
