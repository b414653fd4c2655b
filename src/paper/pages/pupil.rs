//! A pupil's sheet: the warm-up, then practice at one level. All levels look alike.

use super::Frame;
use super::arrange::{in_a_box, rows};
use crate::exercise::{Given, Item, Space};
use crate::lesson::{Pack, Section, SectionName};
use crate::method::{Carries, HouseStyle};
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
    y += heading(&mut top, left, y, "Practice", &instruction(&practice.items, style));
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
        flow::rows(answer::boxes(&items, 1))
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

/// What is said above a warm-up.
fn answers_only(items: &[Item]) -> String {
    let about =
        if items.iter().any(|i| i.sign() == "≈") { format!(" {ABOUT}") } else { String::new() };
    format!("Write only the answer.{about}")
}

/// What the sign of an estimate means, wherever it stands first.
const ABOUT: &str = "≈ means “is about”.";

/// What to do: for each sort of item what its space asks for, in the order in which they come, each
/// called by its name where there are several.
fn instruction(items: &[Item], style: &HouseStyle) -> String {
    let story = |i: &Item| matches!(i.space, Space::Story { .. });
    let letters = |i: &Item| matches!(i.space, Space::Options { .. });
    let sums = |i: &Item| {
        matches!(i.space, Space::Squares { .. } | Space::Grid { .. } | Space::Lattice { .. })
    };
    let charts = |i: &Item| matches!(i.space, Space::Chart { .. });
    let said = [
        (items.iter().position(story), "Stories", STORIES.to_owned()),
        (items.iter().position(sums), "Sums", of_sums(items, style)),
        (items.iter().position(charts), "Charts", CHART.to_owned()),
        (items.iter().position(letters), "Letters", RING.to_owned()),
    ];
    let mut said: Vec<_> =
        said.into_iter().filter(|(at, _, what)| at.is_some() && !what.is_empty()).collect();
    said.sort_by_key(|(at, ..)| *at);
    let several = said.len() > 1;
    let each = said.iter().map(|(_, name, what)| {
        if several { format!("{name}: {}", lower_first(what)) } else { what.clone() }
    });
    let mut each: Vec<String> = each.collect();
    if items.iter().any(|i| i.sign() == "≈") && !each.iter().any(|e| e.contains('≈')) {
        each.push(ABOUT.to_owned());
    }
    each.join(" ")
}

const STORIES: &str =
    "Write what you know and what you need. Work in the squares. Answer in a sentence.";
const CHART: &str = "Write each digit in its new place. Fill the empty places with zeros.";
const RING: &str = "Put a ring round the right letter.";

fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |c| c.to_lowercase().chain(letters).collect())
}

/// What to do with sums, from what there is to write on.
fn of_sums(items: &[Item], style: &HouseStyle) -> String {
    let squares = || {
        items.iter().filter_map(|i| match i.space {
            Space::Squares { given, estimate, .. } => Some((given, estimate)),
            _ => None,
        })
    };
    let begun = |given: Given| matches!(given, Given::AllButLast(_) | Given::But { .. });
    let carries = style.in_words(match style.carries {
        Carries::InRow => "Carry into the corners.",
        Carries::Above => "Carry into the strips above.",
    });
    if squares().any(|(given, estimate)| begun(given) && estimate) {
        format!("First find the size. Then finish the sum. {carries}")
    } else if squares().any(|(given, _)| begun(given)) {
        format!("Finish the sum. {carries}")
    } else if squares().any(|(given, estimate)| given == Given::Nothing && estimate) {
        "Write an estimate after ≈ (“is about”). Then work in the squares.".to_owned()
    } else if squares().any(|(given, _)| given == Given::Nothing) {
        "Work in the squares.".to_owned()
    } else {
        tables(items).to_owned()
    }
}

/// What to do on grids and lattices.
fn tables(items: &[Item]) -> &'static str {
    let begun = |given: Given| matches!(given, Given::AllButLast(_) | Given::But { .. });
    let grids = || {
        items.iter().filter_map(|i| match i.space {
            Space::Grid { given, .. } => Some(given),
            _ => None,
        })
    };
    let lattices = || {
        items.iter().filter_map(|i| match i.space {
            Space::Lattice { given, .. } => Some(given),
            _ => None,
        })
    };
    if grids().any(begun) {
        "Fill in what is missing. Then add the rows."
    } else if grids().any(|given| given == Given::Nothing) {
        "Write the parts of both numbers first. Then fill in and add."
    } else if lattices().any(begun) {
        "Fill in what is missing. Then add along the diagonals, from the right."
    } else if lattices().any(|given| given == Given::Nothing) {
        "Write both numbers at the edges. Fill in, then add along the diagonals."
    } else {
        ""
    }
}
