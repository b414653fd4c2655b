//! The weeks: a row each, a column for each school day.

use super::{Overview, Pages};
use crate::calendar::Closing;
use crate::paper::font::{Face, glue, shorten, width, wrap};
use crate::paper::look::{FRAME, HAIR, SMALL, SUM, TEXT};
use crate::paper::sheet::Page;
use crate::plan::LessonKind;
use crate::schedule::Lesson;
use crate::words;
use chrono::{Datelike, NaiveDate};

/// The column of the weeks.
const WEEK: f32 = 18.0;
/// The height of a week: with lessons, where room is short, and without any.
const HIGH: f32 = 15.0;
const LOW: f32 = 13.5;
const EMPTY: f32 = 7.5;
/// Inside a cell, from its left edge.
const INSET: f32 = 1.6;
/// Baselines in a cell: number, first and second line of the skill.
const LINES: [f32; 3] = [4.3, 8.5, 12.6];

/// A week of the term.
struct Week {
    /// The days shown, in the order of the columns.
    days: Vec<NaiveDate>,
    /// Counted over weeks with lessons.
    number: Option<usize>,
    /// Where each day's column begins after the week's, and how wide it is.
    columns: Vec<(f32, f32)>,
}

/// How much wider a column is where days of it hold several lessons.
const SEVERAL: f32 = 1.5;

/// The columns of these weekdays: wider where some day of the term holds several lessons.
fn columns(overview: &Overview, weekdays: &[u32]) -> Vec<(f32, f32)> {
    let share = |weekday: &u32| {
        let here = |l: &&Lesson| l.date.weekday().num_days_from_monday() == *weekday;
        let mut days: Vec<NaiveDate> =
            overview.lessons.iter().filter(here).map(|l| l.date).collect();
        let all = days.len();
        days.dedup();
        if days.len() < all { SEVERAL } else { 1.0 }
    };
    let shares: Vec<f32> = weekdays.iter().map(share).collect();
    let one = (TEXT - WEEK) / shares.iter().sum::<f32>().max(1.0);
    let mut x = WEEK;
    let column = |share: f32| {
        let at = (x, one * share);
        x += one * share;
        at
    };
    shares.into_iter().map(column).collect()
}

pub fn draw(pages: &mut Pages, overview: &Overview) {
    let weeks = weeks(overview);
    let held = weeks.iter().filter(|w| w.number.is_some()).count();
    // Lower rows where all weeks, or these and the outcomes, fit the page only so.
    let free = weeks.len() - held;
    let below = |high: f32| pages.y + high * held as f32 + EMPTY * free as f32;
    let with_outcomes = |high: f32| below(high) + super::coverage::least(overview);
    let fits = |y: f32| y <= pages.format.body_foot;
    let low = held > 12 || !fits(with_outcomes(HIGH)) && fits(with_outcomes(LOW));
    let high = if low { LOW } else { HIGH };
    let mut first = true;
    for week in &weeks {
        let high = if week.number.is_some() { high } else { EMPTY };
        if !first && pages.y + high > pages.format.body_foot {
            pages.turn();
            first = true;
        }
        if first {
            headings(pages, week);
            first = false;
        }
        let at = (pages.format.left, pages.y);
        match week.number {
            Some(number) => row(&mut pages.page, overview, week, number, at, high),
            None => empty(&mut pages.page, overview, week, at, high),
        }
        pages.y += high;
    }
}

fn weeks(overview: &Overview) -> Vec<Week> {
    let term = &overview.plan.term;
    let held = |day: &NaiveDate| overview.lessons.iter().any(|l| l.date == *day);
    let shown: Vec<u32> = (0..7)
        .filter(|&weekday| {
            let mut days = term.days().filter(|d| d.weekday().num_days_from_monday() == weekday);
            days.any(|d| term.is_school_weekday(d) || held(&d))
        })
        .collect();
    let columns = columns(overview, &shown);
    let mut weeks: Vec<Week> = Vec::new();
    let mut number = 0;
    for day in term.days() {
        let week = term.week_of(day);
        let days: Vec<NaiveDate> = week
            .into_iter()
            .filter(|d| shown.contains(&d.weekday().num_days_from_monday()))
            .collect();
        if weeks.last().is_some_and(|last| last.days == days) {
            continue;
        }
        let lessons = days.iter().any(&held);
        number += usize::from(lessons);
        weeks.push(Week { days, number: lessons.then_some(number), columns: columns.clone() });
    }
    weeks
}

fn headings(pages: &mut Pages, week: &Week) {
    let (left, y) = (pages.format.left, pages.y);
    for (day, (x, wide)) in week.days.iter().zip(&week.columns) {
        let x = left + x + INSET;
        let long = day.format("%A").to_string();
        let name = if width(&long, Face::Bold, SMALL) <= wide - 2.0 * INSET {
            long
        } else {
            day.format("%a").to_string()
        };
        pages.page.left(x, y - 1.8, SMALL, Face::Bold, name);
    }
    pages.page.level(left, left + TEXT, y, SUM);
}

fn date(page: &mut Page, week: &Week, x: f32, y: f32) {
    if let Some(first) = week.days.first() {
        page.left(x, y, SMALL, Face::Bold, first.format("%-d\u{A0}%b").to_string());
    }
}

fn row(
    page: &mut Page,
    overview: &Overview,
    week: &Week,
    number: usize,
    at: (f32, f32),
    high: f32,
) {
    let (left, y) = at;
    date(page, week, left, y + LINES[0]);
    page.left(left, y + LINES[1], SMALL, Face::Regular, format!("week\u{A0}{number}"));
    for (day, &(x, wide)) in week.days.iter().zip(&week.columns) {
        let x = left + x;
        page.upright(x, y, y + high, HAIR);
        cell(page, overview, *day, (x, y), (wide, high));
    }
    page.level(left, left + TEXT, y + high, HAIR);
}

/// A week without lessons: why, in one line.
fn empty(page: &mut Page, overview: &Overview, week: &Week, at: (f32, f32), high: f32) {
    let (left, y) = at;
    date(page, week, left, y + 4.3);
    let mut reasons: Vec<(&str, NaiveDate, NaiveDate)> = Vec::new();
    for day in &week.days {
        let Some((_, why)) = overview.calendar.closed.iter().find(|(d, _)| d == day) else {
            continue;
        };
        match reasons.last_mut() {
            Some(last) if last.0 == why => last.2 = *day,
            _ => reasons.push((why, *day, *day)),
        }
    }
    let said = reasons.iter().map(|(why, from, to)| {
        let to_words = to.format("%-d\u{A0}%B");
        let days = match (from == to, from.month() == to.month()) {
            (true, _) => to_words.to_string(),
            (false, true) => format!("{} to {to_words}", from.format("%-d")),
            (false, false) => format!("{} to {to_words}", from.format("%-d\u{A0}%B")),
        };
        if why.is_empty() { days } else { format!("{why}: {days}") }
    });
    let mut said: Vec<String> = said.collect();
    said.push("no lessons".to_owned());
    let text = shorten(&said.join(", "), Face::Italic, SMALL, TEXT - WEEK - INSET);
    page.left(left + WEEK + INSET, y + 4.3, SMALL, Face::Italic, text);
    page.level(left, left + TEXT, y + high, HAIR);
}

fn cell(page: &mut Page, overview: &Overview, day: NaiveDate, at: (f32, f32), size: (f32, f32)) {
    let (x, y) = at;
    let (wide, high) = size;
    let lessons: Vec<&Lesson> = overview.lessons.iter().filter(|l| l.date == day).collect();
    let closed = overview.calendar.closed.iter().find(|(d, _)| *d == day);
    let closed = closed.map(|(_, why)| why.as_str()).or_else(|| in_the_lesson(overview, day));
    match (lessons.as_slice(), closed) {
        ([], Some(why)) => {
            let lines = wrap(why, Face::Italic, SMALL, wide - 2.0 * INSET);
            page.lines(
                (x + INSET, y + LINES[0]),
                4.1,
                SMALL,
                Face::Italic,
                &lines[..lines.len().min(2)],
            );
            // The stroke stands below what is said.
            let rise = if lines.len() > 1 { 3.6 } else { 6.0 };
            let from = y + high - 1.6;
            page.line((x + INSET, from), (x + wide - INSET, from - rise), HAIR);
        }
        ([], None) => {}
        ([lesson], _) => one(page, overview, lesson, at, wide),
        (several, _) => several_a_day(page, overview, several, at, size),
    }
    let test = lessons.iter().any(|l| l.kind == LessonKind::UnitTest);
    let today = day == overview.today;
    if test || today {
        page.rectangle(x, y, wide, high, FRAME);
    }
    match lessons.as_slice() {
        // Beside the number, so that the name keeps both of its lines.
        [lesson] if today => {
            let after = width(&number(overview, lesson), Face::Bold, SMALL) + 2.0;
            page.left(x + INSET + after, y + LINES[0], SMALL, Face::Bold, "today");
        }
        [] | [_, _] if today => {
            page.right(x + wide - INSET, y + LINES[2] - 0.4, SMALL, Face::Bold, "today");
        }
        _ => {}
    }
}

/// Why there is no period on a day of which only a part is closed: an assembly in the lesson's time.
fn in_the_lesson<'a>(overview: &Overview<'a>, day: NaiveDate) -> Option<&'a str> {
    if overview.calendar.periods.iter().any(|p| p.date == day) {
        return None;
    }
    let here = |c: &&Closing| c.from <= day && day <= c.to && !c.because.is_empty();
    overview.plan.closings.iter().find(here).map(|c| c.because.as_str())
}

/// What a lesson is called here, and its face.
fn called(overview: &Overview, lesson: &Lesson) -> (String, Face) {
    match lesson.kind {
        LessonKind::Teach => {
            let id = lesson.skill.as_deref().unwrap_or_default();
            let skill = overview.plan.ladder.skills.get(id);
            let short = skill.map_or(id.to_owned(), |s| overview.plan.style.in_figures(&s.short));
            (glue(&short), Face::Regular)
        }
        LessonKind::CatchUp => ("Catch-up".to_owned(), Face::Italic),
        LessonKind::Revision => ("Mixed revision".to_owned(), Face::Italic),
        LessonKind::UnitTest => ("Unit test".to_owned(), Face::Bold),
    }
}

/// "35", with ✓ if it was taught.
fn number(overview: &Overview, lesson: &Lesson) -> String {
    let tick = if overview.is_taught(lesson) { "\u{A0}✓" } else { "" };
    format!("{}{tick}", lesson.number)
}

fn one(page: &mut Page, overview: &Overview, lesson: &Lesson, at: (f32, f32), wide: f32) {
    let (x, y) = at;
    page.left(x + INSET, y + LINES[0], SMALL, Face::Bold, number(overview, lesson));
    if let (Some(part), Some(2..), LessonKind::Teach) = (lesson.part, lesson.of, lesson.kind) {
        let text = format!("part\u{A0}{part}");
        page.right(x + wide - INSET, y + LINES[0], SMALL, Face::Regular, text);
    }
    let (name, face) = called(overview, lesson);
    let room = wide - 2.0 * INSET;
    let mut lines = wrap(&name, face, SMALL, room);
    if lines.len() > 2 {
        let rest = lines.split_off(1).join(" ");
        lines.push(shorten(&format!("{rest} …"), face, SMALL, room));
    }
    for (line, dy) in lines.iter().zip(&LINES[1..]) {
        let line = shorten(line, face, SMALL, room);
        page.left(x + INSET, y + dy, SMALL, face, line);
    }
}

/// Several lessons on a day: a line each, or two where there is room for what does not fit one.
fn several_a_day(
    page: &mut Page,
    overview: &Overview,
    lessons: &[&Lesson],
    at: (f32, f32),
    (wide, high): (f32, f32),
) {
    /// The least from one line to the next.
    const CLOSE: f32 = 3.2;
    let (x, y) = at;
    let shown = if lessons.len() > LINES.len() { LINES.len() - 1 } else { lessons.len() };
    let all: Vec<Named> =
        lessons.iter().take(shown).map(|l| Named::of(overview, l, wide)).collect();
    let left = lessons.len() - shown;
    let wanted: usize = all.iter().map(|named| named.lines.len()).sum();
    // The last line is kept for the word "today".
    let today = lessons.iter().any(|l| l.date == overview.today) && lessons.len() == 2;
    let whole = left == 0 && !today && CLOSE * wanted as f32 <= high;
    let (first, pitch) = if whole && wanted > LINES.len() {
        (CLOSE, (high - 1.0) / wanted as f32)
    } else {
        (LINES[0], LINES[1] - LINES[0])
    };
    let mut line = 0;
    for named in all {
        let down = |line: usize| y + first + pitch * line as f32;
        page.left(x + INSET, down(line), SMALL, Face::Bold, named.number.as_str());
        let lines = if whole { named.lines } else { vec![named.short] };
        for text in lines {
            page.left(x + named.begins, down(line), SMALL, named.face, text);
            line += 1;
        }
    }
    if left > 0 {
        let more = format!("and {} more", words::count(left, "lesson"));
        page.left(x + INSET, y + LINES[2], SMALL, Face::Regular, more);
    }
}

/// A lesson among several of a day.
struct Named {
    number: String,
    /// Where its name begins in the cell.
    begins: f32,
    face: Face,
    /// The name and the part.
    lines: Vec<String>,
    /// The same cut to one line.
    short: String,
}

impl Named {
    fn of(overview: &Overview, lesson: &Lesson, wide: f32) -> Named {
        let number = number(overview, lesson);
        let begins = INSET + width(&number, Face::Bold, SMALL) + 1.2;
        let (name, face) = called(overview, lesson);
        let part = match (lesson.part, lesson.of, lesson.kind) {
            (Some(part), Some(2..), LessonKind::Teach) => format!("\u{A0}· part\u{A0}{part}"),
            _ => String::new(),
        };
        let room = wide - begins - INSET;
        let lines = wrap(&format!("{name}{part}"), face, SMALL, room);
        let cut = shorten(&name, face, SMALL, room - width(&part, Face::Regular, SMALL));
        Named { number, begins, face, lines, short: format!("{cut}{part}") }
    }
}
