//! Tables over pages: rows of wrapped cells under headings that come again on every page.

use super::for_class::{ForClass, without_remnant};
use crate::paper::font::{Face, wrap, wrap_to_read};
use crate::paper::look::{BODY_TOP, Format, HAIR, LARGE, PUPIL, SMALL, SUM, TEACHER, TEXT, TITLE};
use crate::paper::sheet::{Page, Sheet};

/// From one line of a cell to the next.
const PITCH: f32 = 4.2;
/// From a rule to the first baseline below it, and from the last baseline to the next rule.
const ABOVE: f32 = 4.4;
const BELOW: f32 = 1.8;
/// A group lower than this is short: two lines.
const FEW: f32 = 14.0;
/// What the headings of columns take.
const HEADINGS: f32 = 5.4;

/// A column: where it begins, how wide it is, what it is called.
pub type Column = (f32, f32, &'static str);

/// A cell's text.
pub type Cell = (String, Face);

/// Rows of cells that stay together, with a rule below.
pub type Group = Vec<Vec<Cell>>;

/// Pages being filled from the top.
pub struct Listing<'a> {
    class: ForClass<'a>,
    format: Format,
    done: Vec<Page>,
    page: Page,
    y: f32,
    /// Where a page is full.
    foot: f32,
}

impl<'a> Listing<'a> {
    /// The pages that `fill` writes below a title and lines.
    pub fn sheet_of(
        class: ForClass<'a>,
        (title, says): (&str, &str),
        fill: impl Fn(&mut Listing<'a>),
    ) -> Sheet {
        let made = |foot: f32| {
            let mut listing = Listing::new(class, title, says, foot);
            fill(&mut listing);
            listing
        };
        let ends = |listing: &Listing| (listing.done.len() + 1, listing.y);
        without_remnant(class.format(), made, ends).sheet()
    }

    fn new(class: ForClass<'a>, title: &str, says: &str, foot: f32) -> Listing<'a> {
        let format = class.format();
        let mut page = Page::new();
        let mut y = TITLE;
        let titles = wrap(title, Face::Bold, LARGE, TEXT);
        page.lines((format.left, y), 7.5, LARGE, Face::Bold, &titles);
        y += 7.5 * titles.len().saturating_sub(1) as f32 + 7.5;
        let lines = wrap_to_read(says, Face::Regular, TEACHER, TEXT);
        page.lines((format.left, y), 5.0, TEACHER, Face::Regular, &lines);
        y += 5.0 * lines.len().saturating_sub(1) as f32 + 3.5;
        Listing { class, format, done: Vec::new(), page, y, foot }
    }

    /// A heading over a table, on one page with the table's first rows that stay together.
    pub fn heading(&mut self, text: &str, columns: &[Column], groups: &[Group]) {
        let rows = groups.first().into_iter().flatten();
        let rows: Vec<f32> = rows.map(|row| height(&broken(columns, row))).collect();
        let all = rows.iter().sum::<f32>() + BELOW;
        let first =
            if self.fits_a_page(all) { all } else { rows.first().copied().unwrap_or(0.0) + BELOW };
        if self.y + 9.5 + HEADINGS + first > self.foot {
            self.turn();
        }
        self.y += if self.y > BODY_TOP { 8.0 } else { 4.0 };
        self.page.left(self.format.left, self.y, PUPIL, Face::Bold, text);
        self.y += 1.5;
    }

    /// A table; groups of rows are never broken unless one is higher than a page.
    pub fn table(&mut self, columns: &[Column], groups: &[Group]) {
        self.table_with(columns, groups, "");
    }

    /// The same with a note below it, on the page of its last group.
    pub fn table_with(&mut self, columns: &[Column], groups: &[Group], note: &str) {
        let note = if note.is_empty() {
            Vec::new()
        } else {
            wrap_to_read(note, Face::Italic, SMALL, TEXT)
        };
        let below = PITCH * note.len() as f32;
        if groups.is_empty() && self.y + HEADINGS + ABOVE + below > self.foot {
            self.turn();
        }
        self.headings(columns);
        for (index, group) in groups.iter().enumerate() {
            let rows: Vec<_> = group.iter().map(|row| broken(columns, row)).collect();
            let all = |group: &Group| {
                group.iter().map(|row| height(&broken(columns, row))).sum::<f32>() + BELOW
            };
            // A short last group never stands alone on a page.
            let last = match groups.len() - index {
                1 => below,
                2 if index > 0 && all(&groups[index + 1]) < FEW => all(&groups[index + 1]) + below,
                _ => 0.0,
            };
            let high: f32 = rows.iter().map(|row| height(row)).sum::<f32>() + BELOW + last;
            let room = |listing: &Self| listing.foot - listing.y;
            if high > room(self) && self.fits_a_page(high) {
                self.turn();
                self.headings(columns);
            }
            for row in rows {
                if height(&row) + BELOW > room(self) {
                    self.turn();
                    self.headings(columns);
                }
                for ((x, ..), (lines, face)) in columns.iter().zip(&row) {
                    let at = (self.format.left + x, self.y + ABOVE);
                    self.page.lines(at, PITCH, SMALL, *face, lines);
                }
                self.y += height(&row);
            }
            self.y += BELOW;
            self.page.level(self.format.left, self.format.left + TEXT, self.y, HAIR);
        }
        let at = (self.format.left, self.y + ABOVE);
        self.page.lines(at, PITCH, SMALL, Face::Italic, &note);
        self.y += below;
    }

    /// Whether rows of this height in all stand on a page of their own.
    fn fits_a_page(&self, high: f32) -> bool {
        high <= self.foot - BODY_TOP - 8.0
    }

    fn headings(&mut self, columns: &[Column]) {
        self.y += 4.0;
        for (x, _, name) in columns {
            self.page.left(self.format.left + x, self.y, SMALL, Face::Bold, *name);
        }
        self.y += 1.4;
        self.page.level(self.format.left, self.format.left + TEXT, self.y, SUM);
    }

    fn turn(&mut self) {
        self.done.push(std::mem::take(&mut self.page));
        self.y = BODY_TOP;
    }

    /// The pages with their heads and feet.
    fn sheet(mut self) -> Sheet {
        self.done.push(self.page);
        self.class.sheet(self.done)
    }
}

fn broken(columns: &[Column], row: &[Cell]) -> Vec<(Vec<String>, Face)> {
    let cells = columns.iter().zip(row);
    cells
        .map(|((_, wide, _), (text, face))| (wrap_to_read(text, *face, SMALL, *wide), *face))
        .collect()
}

fn height(row: &[(Vec<String>, Face)]) -> f32 {
    let lines = row.iter().map(|(lines, _)| lines.len()).max().unwrap_or(0).max(1);
    ABOVE + PITCH * (lines - 1) as f32
}
