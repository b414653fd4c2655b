//! Exit slips: the same slip several times to a page, to be cut. A slip bears no level.

use super::Frame;
use super::arrange::{OVER, rows_on_half};
use super::instruction::{Letters, instruction};
use crate::lesson::{Pack, Section, SectionName};
use crate::paper::block::Block;
use crate::paper::block::item::{self, Setting};
use crate::paper::flow::{self, MOST_EXTRA, Room};
use crate::paper::font::{Face, NBSP, width, wrap};
use crate::paper::look::{BODY_TOP, COLUMN, COLUMN_STEP, FINE, PITCH, PUPIL, SMALL};
use crate::paper::pages::frame::labelled_line;
use crate::paper::sheet::{Drawing, Page, Point, Sheet};

/// From a cut line to what stands in a slip.
const MARGIN: f32 = 12.0;
/// From the paper's edge to where a cut line begins.
const EDGE: f32 = 6.0;
/// Baselines of the title and the name, and where the items begin.
const TOPS: (f32, f32, f32) = (16.0, 27.0, 34.0);
/// The same where the name stands on the title's line.
const CLOSE: f32 = 22.0;
/// The white between the title and what stands beside it.
const BESIDE_TITLE: f32 = 5.0;
/// The first line of what is said below the name.
const SAID: f32 = 1.0;
/// The white between items and the room kept free at the foot, from the best to the least.
const WHITES: [(f32, f32); 5] = [(8.0, 12.0), (6.5, 12.0), (6.5, 7.0), (5.5, 6.0), (4.5, 6.0)];

/// So many of them keep a margin's white at the foot.
const WIDE: usize = 2;

/// How slips stand on a page.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Cutting {
    across: u8,
    down: u8,
}

impl Cutting {
    fn slips(self) -> usize {
        usize::from(self.across) * usize::from(self.down)
    }
    /// Columns of items within a slip.
    fn columns(self) -> usize {
        if self.across == 1 { 2 } else { 1 }
    }
    /// The heads and whites to try, the better first: rather the name beside the title than what is
    /// asked near the cut line.
    fn ways(self) -> impl Iterator<Item = (Head, (f32, f32))> {
        let heads = &[Head::TwoLines, Head::OneLine][..self.columns()];
        let (wide, close) = WHITES.split_at(WIDE);
        [wide, close].into_iter().flat_map(move |whites| {
            heads.iter().flat_map(move |head| whites.iter().map(move |white| (*head, *white)))
        })
    }
}

/// The head of a slip: the name below the title, or beside it where the slip is wide and room short.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Head {
    TwoLines,
    OneLine,
}

/// From the smallest slips to a whole page.
const CUTTINGS: [Cutting; 4] = [
    Cutting { across: 2, down: 3 },
    Cutting { across: 2, down: 2 },
    Cutting { across: 1, down: 2 },
    Cutting { across: 1, down: 1 },
];

/// The exit check of a pack.
fn check(pack: &Pack) -> Option<&Section> {
    pack.sections.iter().find(|s| s.name == SectionName::ExitCheck && !s.items.is_empty())
}

/// How many slips stand on a page: the most that hold the whole check.
pub fn to_a_page(pack: &Pack) -> Option<usize> {
    check(pack).map(|section| laid_out(pack, section).0.slips())
}

/// The sheet, where the pack has an exit check.
pub fn sheet(pack: &Pack) -> Option<Sheet> {
    let section = check(pack)?;
    let frame = Frame::new(pack, "X", "Exit check");
    let (cutting, slips) = laid_out(pack, section);
    let mut sheet = frame.sheet("Exit check", Vec::new());
    sheet.pages = slips.iter().map(|slip| page(frame.format.size, cutting, slip)).collect();
    Some(sheet)
}

/// A page of the same slip, and the lines to cut along.
fn page((wide, high): Point, cutting: Cutting, slip: &Drawing) -> Page {
    let (step_x, step_y) = (wide / f32::from(cutting.across), high / f32::from(cutting.down));
    let mut page = Page::new();
    for down in 0..cutting.down {
        for across in 0..cutting.across {
            let at = (step_x * f32::from(across), step_y * f32::from(down));
            page.place(slip.clone(), (at.0 + left(step_x, cutting, across), at.1));
        }
    }
    for across in 1..cutting.across {
        let x = step_x * f32::from(across);
        page.dashes((x, EDGE), (x, high - EDGE), FINE);
    }
    for down in 1..cutting.down {
        let y = step_y * f32::from(down);
        page.dashes((EDGE, y), (wide - EDGE, y), FINE);
    }
    page
}

/// Contents stand 12 mm from the cut line between two slips, and in the middle of a wide one.
fn left(step: f32, cutting: Cutting, across: u8) -> f32 {
    match (cutting.across, across) {
        (1, _) => (step - COLUMN - COLUMN_STEP) / 2.0,
        (_, 0) => step - MARGIN - COLUMN,
        _ => MARGIN,
    }
}

/// The smallest slip that holds all items; a whole page where none does.
fn laid_out(pack: &Pack, section: &Section) -> (Cutting, Vec<Drawing>) {
    let high = Frame::new(pack, "X", "").format.size.1;
    let setting = Setting::slip(&pack.heading.style);
    let numbered = section.items.iter().enumerate();
    let blocks: Vec<Block> =
        numbered.map(|(index, i)| item::block(i, index + 1, setting)).collect();
    let wide = |b: &Block| b.drawing.marks.iter().any(|m| m.bounds().2 > COLUMN + 0.1);
    if blocks.iter().any(wide) {
        return (CUTTINGS[3], whole(pack, section));
    }
    for cutting in CUTTINGS {
        for (head, (gap, foot)) in cutting.ways() {
            let (mut slip, first) = top(pack, section, cutting, head);
            let room = high / f32::from(cutting.down) - foot - first;
            let body = match cutting.columns() {
                1 => stacked(&blocks, room, gap),
                _ => abreast(pack, section, room, gap),
            };
            if let Some(body) = body {
                slip.place(body, (0.0, first));
                return (cutting, vec![slip]);
            }
        }
    }
    (CUTTINGS[3], whole(pack, section))
}

/// Whole pages, for a check that is larger than any slip.
fn whole(pack: &Pack, section: &Section) -> Vec<Drawing> {
    let foot = Frame::new(pack, "X", "").format.body_foot;
    let (top, first) = top(pack, section, CUTTINGS[3], Head::TwoLines);
    let room = Room { left: 0.0, first, later: BODY_TOP, foot, extra: MOST_EXTRA };
    let mut pages = flow::pages(super::arrange::rows(&section.items, &pack.heading.style), room);
    if let Some(first) = pages.first_mut() {
        first.place(top, (0.0, 0.0));
    }
    pages
}

/// The items of a slip as wide as the text in rows, as on every other sheet; where room is short a
/// stack may be higher than what stands beside it. None where they do not fit.
fn abreast(pack: &Pack, section: &Section, room: f32, gap: f32) -> Option<Drawing> {
    const HIGHER: f32 = 30.0;
    let style = &pack.heading.style;
    let answer = Setting::slip(style).answer;
    [OVER, HIGHER].into_iter().find_map(|over| {
        let mut drawing = Drawing::new();
        let mut y = 0.0;
        for row in rows_on_half(&section.items, style, answer, over) {
            y += if y > 0.0 { row.before.min(gap) } else { 0.0 };
            drawing.place(row.drawing, (0.0, y));
            y += row.height;
        }
        (y <= room + 0.01).then_some(drawing)
    })
}

/// Blocks one below the other; none where they do not fit.
fn stacked(blocks: &[Block], room: f32, gap: f32) -> Option<Drawing> {
    let mut drawing = Drawing::new();
    let mut y = 0.0;
    for block in blocks {
        drawing.place(block.drawing.clone(), (0.0, y));
        y += block.height + gap;
    }
    (y - gap <= room + 0.01).then_some(drawing)
}

/// The title, the name, what to do; and where the items begin.
fn top(pack: &Pack, section: &Section, cutting: Cutting, head: Head) -> (Drawing, f32) {
    const TITLE: &str = "Exit check";
    let wide = COLUMN + COLUMN_STEP * (cutting.columns() - 1) as f32;
    let (title, name, first) = TOPS;
    let mut drawing = Drawing::new();
    drawing.left(0.0, title, PUPIL, Face::Bold, TITLE);
    let code = Frame::new(pack, "X", "").full_code();
    let date = format!("{}{NBSP} · {NBSP}", pack.date.format("%-d\u{A0}%B"));
    let at = wide - width(&code, Face::Bold, SMALL);
    drawing.right(at, title, SMALL, Face::Regular, date.as_str());
    drawing.left(at, title, SMALL, Face::Bold, code);
    let said = instruction(&section.items, &pack.heading.style, Letters::InTheItem);
    let from = width(TITLE, Face::Bold, PUPIL) + BESIDE_TITLE;
    let until = at - width(&date, Face::Regular, SMALL) - BESIDE_TITLE;
    let first = match head {
        Head::OneLine => {
            labelled_line(&mut drawing, "Name", from, until, title);
            CLOSE
        }
        Head::TwoLines => {
            labelled_line(&mut drawing, "Name", 0.0, wide, name);
            if width(&said, Face::Regular, PUPIL) <= until - from {
                drawing.left(from, title, PUPIL, Face::Regular, said);
                return (drawing, first);
            }
            first
        }
    };
    let lines = wrap(&said, Face::Regular, PUPIL, wide);
    drawing.lines((0.0, first + SAID), PITCH, PUPIL, Face::Regular, &lines);
    (drawing, first + PITCH * lines.len() as f32)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_smallest_slip_comes_first() {
        let slips: Vec<usize> = CUTTINGS.iter().map(|c| c.slips()).collect();
        assert_eq!(slips, [6, 4, 2, 1]);
    }
}
