//! Which outcomes the lessons serve: a row an outcome, a stroke a lesson.

use super::{Overview, Pages};
use crate::curriculum::Framework;
use crate::paper::font::{Face, shorten, width};
use crate::paper::look::{HAIR, SMALL, SUM, TEACHER, TEXT};

/// Where the strokes begin and end, from the text's left edge.
const AXIS: (f32, f32) = (51.0, 165.0);
/// From one row to the next, at best and at least; and at best on a page of their own.
const PITCH: (f32, f32) = (5.5, 4.4);
const APART: f32 = 9.0;
/// The height of a stroke.
const STROKE: f32 = 3.4;
/// A lesson taught, a lesson to come.
const THICK: (f32, f32) = (2.0, 0.6);
/// The head's height, and the legend's.
const HEAD: f32 = 14.0;

/// From the weeks to the title.
const BEFORE: f32 = 8.8;

/// The least room that all rows need below the weeks.
pub fn least(overview: &Overview) -> f32 {
    BEFORE + HEAD + PITCH.1 * rows(overview).len() as f32
}

/// An outcome and the places of the lessons that serve it.
struct Row {
    label: String,
    lessons: Vec<usize>,
}

pub fn draw(pages: &mut Pages, overview: &Overview) {
    let rows = rows(overview);
    if rows.is_empty() {
        return;
    }
    pages.y += BEFORE;
    let fits =
        |from: f32, pitch: f32| from + HEAD + pitch * rows.len() as f32 <= pages.format.body_foot;
    // The weeks alone on the first page rather than rows on both.
    let alone = !fits(pages.y, PITCH.1);
    if alone {
        pages.turn();
        pages.y += 3.0;
    }
    let even = (pages.format.body_foot - pages.y - HEAD) / rows.len() as f32;
    let pitch = even.clamp(PITCH.1, if alone { APART } else { PITCH.0 });
    let mut left: &[Row] = &rows;
    loop {
        let room = pages.format.body_foot - pages.y - HEAD;
        let fit = (1..=left.len()).take_while(|n| pitch * *n as f32 <= room + 0.01).last();
        let (here, later) = left.split_at(fit.unwrap_or(1));
        table(pages, overview, here, pitch);
        left = later;
        if left.is_empty() {
            return;
        }
        pages.turn();
        pages.y += 3.0;
    }
}

/// The outcomes served by any lesson, in the frameworks' order.
fn rows(overview: &Overview) -> Vec<Row> {
    let plan = overview.plan;
    let mut rows = Vec::new();
    let serves = |framework: &Framework, skill: &str, code: &str| {
        let outcomes = plan.ladder.skills.get(skill).map_or(&[][..], |s| &s.outcomes);
        outcomes.iter().any(|o| framework.meant_by(o).is_some_and(|m| m.code == code))
    };
    for framework in &plan.frameworks {
        for outcome in framework.outcomes.values() {
            let mut lessons = Vec::new();
            for (index, lesson) in overview.lessons.iter().enumerate() {
                let skill = lesson.skill.as_deref();
                if skill.is_some_and(|skill| serves(framework, skill, &outcome.code)) {
                    lessons.push(index);
                }
            }
            if !lessons.is_empty() {
                rows.push(Row {
                    label: format!(
                        "{}\u{A0} {}",
                        outcome.code,
                        plan.style.in_figures(&outcome.short)
                    ),
                    lessons,
                });
            }
        }
    }
    rows
}

fn table(pages: &mut Pages, overview: &Overview, rows: &[Row], pitch: f32) {
    let (left, top) = (pages.format.left, pages.y);
    let count = overview.lessons.len();
    let step = (AXIS.1 - AXIS.0) / count.saturating_sub(1).max(1) as f32;
    let at = |index: usize| left + AXIS.0 + step * index as f32;
    let page = &mut pages.page;
    let title = "What the unit must meet, lesson by lesson";
    page.left(left, top, TEACHER, Face::Bold, title);
    let past = overview.lessons.iter().filter(|l| l.date < overview.today).count();
    let today = at(past) - step / 2.0;
    let under_way = past > 0 && past < count;
    let first = top + HEAD;
    let mut y = first;
    for row in rows {
        let label = shorten(&row.label, Face::Regular, SMALL, AXIS.0 - 2.0);
        page.left(left, y - 0.7, SMALL, Face::Regular, label);
        page.level(left + AXIS.0 - 1.0, left + TEXT, y, HAIR);
        for &index in &row.lessons {
            let taught = overview.is_taught(&overview.lessons[index]);
            let thick = if taught { THICK.0 } else { THICK.1 };
            page.upright(at(index), y - STROKE, y, thick);
        }
        y += pitch;
    }
    let last = y - pitch;
    let axis = top + 6.6;
    if under_way {
        page.centre(today, axis, SMALL, Face::Bold, "today");
        page.upright(today, axis + 1.0, last + 1.5, SUM);
    }
    let word = width("today", Face::Bold, SMALL) / 2.0 + 3.0;
    for index in (0..count).filter(|i| *i == 0 || i % 10 == 9 || i + 1 == count) {
        let near_end = index + 1 != count && index + 4 > count;
        let near_today = under_way && (at(index) - today).abs() < word;
        if !near_end && !near_today {
            let number = overview.lessons[index].number.to_string();
            page.centre(at(index), axis, SMALL, Face::Regular, number);
        }
    }
    let legend = "One stroke is one lesson that serves the outcome. Thick: taught. Thin: to come.";
    page.left(left, last + 4.6, SMALL, Face::Regular, legend);
    pages.y = last + pitch;
}
