//! Worked examples, and the sums to finish together, for the teacher to show.

use super::Frame;
use super::pupil::heading;
use crate::exercise::Item;
use crate::lesson::{Pack, SectionName};
use crate::paper::block::example::{example, factors};
use crate::paper::block::item;
use crate::paper::flow::{self, Room, Row};
use crate::paper::look::{BODY_TOP, TITLE};
use crate::paper::sheet::{Drawing, Page, Sheet};

/// The sheet, where the pack has examples or sums to finish together.
pub fn sheet(pack: &Pack) -> Option<Sheet> {
    let items =
        |name: SectionName| -> Vec<&Item> { pack.named(name).flat_map(|s| &s.items).collect() };
    let (examples, guided) = (items(SectionName::Examples), items(SectionName::Guided));
    let kind = if examples.is_empty() { "Sums to finish together" } else { "Worked examples" };
    let frame = Frame::new(pack, "WE", kind);
    if examples.is_empty() && guided.is_empty() {
        return None;
    }
    let style = &pack.heading.style;
    let mut rows = Vec::new();
    let mut seen = Vec::new();
    for (index, shown) in examples.iter().enumerate() {
        rows.extend(flow::rows(vec![example(shown, index + 1, &seen, style)]));
        seen.extend(factors(shown));
    }
    if !guided.is_empty() {
        rows.push(together(&guided));
        let blocks = guided.iter().enumerate();
        let setting = item::Setting::sheet(style);
        let blocks = blocks.map(|(i, g)| item::block(g, examples.len() + i + 1, setting));
        rows.extend(flow::rows(blocks.collect()));
    }
    let mut top = Page::new();
    let about = pack.heading.title.split_once(": ").map_or(pack.heading.title.as_str(), |t| t.1);
    let what = if examples.is_empty() { "Together" } else { "Worked examples" };
    let title = format!("{what}: {}", lower_first(about));
    let down = frame.title(&mut top, &title);
    let room = Room {
        left: frame.format.left,
        first: TITLE + 7.0 + down,
        later: BODY_TOP,
        foot: frame.format.body_foot,
        extra: 0.0,
    };
    let pages = super::on_top(top, flow::pages(rows, room));
    Some(frame.sheet(kind, pages))
}

fn together(guided: &[&Item]) -> Row {
    let mut drawing = Drawing::new();
    let says = match (guided.iter().any(|item| item.is_begun()), guided.len()) {
        (true, 1) => "Finish this one with the class.",
        (true, _) => "Finish these with the class.",
        (false, 1) => "Do this one with the class.",
        (false, _) => "Do these with the class.",
    };
    heading(&mut drawing, 0.0, 3.2, "Together", says);
    Row { height: 4.0, before: 10.0, grows: false, keep: true, drawing }
}

/// A title after a colon begins small, unless its first word is written in capitals.
fn lower_first(title: &str) -> String {
    let mut letters = title.chars();
    match (letters.next(), letters.clone().next()) {
        (Some(first), Some(second)) if !second.is_uppercase() => {
            first.to_lowercase().chain(letters).collect()
        }
        _ => title.to_owned(),
    }
}
