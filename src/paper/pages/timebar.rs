//! The time bar: the period from left to right, a tick a minute.

use crate::lesson::{Pack, Stretch};
use crate::paper::font::{Face, NBSP, shorten, width};
use crate::paper::look::{HAIR, SMALL, SUM, TEACHER, TEXT};
use crate::paper::sheet::Page;

/// The bar's height.
const HIGH: f32 = 13.0;
/// How far the lines between stretches rise over the bar, beside the times.
const RISE: f32 = 4.5;
/// From a line to the text after it.
const INSET: f32 = 1.5;

/// Draws the bar with its top at y.
pub fn draw(page: &mut Page, pack: &Pack, left: f32, y: f32) {
    let stretches = &pack.teacher.stretches;
    let total: u16 = stretches.iter().map(|s| s.minutes).sum();
    if total == 0 {
        return;
    }
    let at = |minute: u16| left + TEXT * f32::from(minute) / f32::from(total);
    page.rectangle(left, y, TEXT, HIGH, SUM);
    let mut begins = 0;
    for (index, stretch) in stretches.iter().enumerate() {
        let (from, to) = (at(begins), at(begins + stretch.minutes));
        if index > 0 {
            page.upright(from, y - RISE, y + HIGH, SUM);
        }
        let last = index + 1 == stretches.len();
        time(page, stretch, (from, to), y, (index == 0, last));
        label(page, stretch, (from, to), y);
        begins += stretch.minutes;
    }
    ticks(page, at, total, y + HIGH);
}

/// A tick for every minute, a longer one for every fifth.
fn ticks(page: &mut Page, at: impl Fn(u16) -> f32, total: u16, foot: f32) {
    // Ticks closer than this run together in copies; then only the fifths are drawn.
    let close = at(1) - at(0) < 1.2;
    for minute in 1..total {
        let fifth = minute % 5 == 0;
        if fifth || !close {
            let high = if fifth { 2.6 } else { 1.4 };
            page.upright(at(minute), foot - high, foot, HAIR);
        }
    }
}

/// The clock times above: where a stretch begins, and where the period ends.
fn time(page: &mut Page, stretch: &Stretch, span: (f32, f32), y: f32, (first, last): (bool, bool)) {
    let begins = stretch.starts.to_string();
    let x = if first { span.0 } else { span.0 + INSET };
    let wide = width(&begins, Face::Regular, SMALL);
    let ends = stretch.starts.plus(stretch.minutes).to_string();
    let room = span.1 - x - if last { width(&ends, Face::Regular, SMALL) + 2.0 } else { 1.0 };
    if wide <= room {
        page.left(x, y - 1.7, SMALL, Face::Regular, begins);
    }
    if last {
        page.right(span.1, y - 1.7, SMALL, Face::Regular, ends);
    }
}

/// The name inside, in its short form where it is too long, and the minutes.
fn label(page: &mut Page, stretch: &Stretch, span: (f32, f32), y: f32) {
    let x = span.0 + INSET;
    let room = span.1 - x - 1.0;
    let fits = |text: &str| width(text, Face::Bold, TEACHER) <= room;
    let small = width(&stretch.short, Face::Bold, SMALL) <= room;
    let (name, size) = match (fits(&stretch.name), fits(&stretch.short)) {
        (true, _) => (stretch.name.clone(), TEACHER),
        (_, true) => (stretch.short.clone(), TEACHER),
        _ if small => (stretch.short.clone(), SMALL),
        _ => (shorten(&stretch.short, Face::Bold, SMALL, room), SMALL),
    };
    page.left(x, y + 5.1, size, Face::Bold, name);
    let word = if stretch.minutes == 1 { "minute" } else { "minutes" };
    let long = format!("{}{NBSP}{word}", stretch.minutes);
    let short = format!("{}{NBSP}min", stretch.minutes);
    let bare = stretch.minutes.to_string();
    let text = [long, short, bare].into_iter().find(|t| width(t, Face::Regular, SMALL) <= room);
    page.left(x, y + 8.9, SMALL, Face::Regular, text.unwrap_or_default());
}
