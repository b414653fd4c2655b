//! What every page bears: head, foot, title, name and date; and the words for dates and codes.

use crate::lesson::Pack;
use crate::paper::font::{Face, NBSP, shorten, width, wrap};
use crate::paper::look::{FINE, Format, HEAD, LARGE, PUPIL, SMALL, SUM, TITLE};
use crate::paper::sheet::{Drawing, Page, Sheet};

/// The frame of one kind of sheet.
#[derive(Debug, Clone, Copy)]
pub struct Frame<'a> {
    /// The pack.
    pub pack: &'a Pack,
    /// The paper.
    pub format: Format,
    /// The last part of the code: "Q".
    pub code: &'a str,
    /// What the foot calls the sheet: "Practice".
    pub kind: &'a str,
}

/// "L35" or, for a second version, "L35B".
pub fn lesson_code(pack: &Pack) -> String {
    let version = if pack.version == "A" { "" } else { pack.version.as_str() };
    format!("L{:02}{version}", pack.lesson)
}

impl<'a> Frame<'a> {
    /// The frame of a sheet of this pack.
    pub fn new(pack: &'a Pack, code: &'a str, kind: &'a str) -> Frame<'a> {
        Frame { pack, format: Format::of(pack.heading.paper), code, kind }
    }

    /// The sheet's code: `L35-Q`.
    pub fn full_code(&self) -> String {
        format!("{}-{}", lesson_code(self.pack), self.code)
    }

    /// Pages with their heads and feet, as a sheet with this title.
    pub fn sheet(&self, title: &str, bodies: Vec<Page>) -> Sheet {
        let count = bodies.len();
        let framed = |(index, body): (usize, Page)| {
            let mut page = Page::new();
            self.head(&mut page);
            page.place(body, (0.0, 0.0));
            self.foot(&mut page, index + 1, count);
            page
        };
        Sheet {
            size: self.format.size,
            title: format!("{} {title}", self.full_code()),
            author: author(self.pack),
            pages: bodies.into_iter().enumerate().map(framed).collect(),
            outline: vec![(title.to_owned(), 0)],
        }
    }

    fn head(&self, page: &mut Page) {
        let date = self.pack.date.format("%A %-d\u{A0}%B\u{A0}%Y");
        let when = format!("{date}{NBSP} · {NBSP}Lesson{NBSP}{}", self.pack.lesson);
        let heading = &self.pack.heading;
        head(page, self.format, (&heading.class, &heading.school), &when);
    }

    fn foot(&self, page: &mut Page, number: usize, count: usize) {
        let draft = if self.pack.draft { ", draft" } else { "" };
        let kind = format!("{}{draft}", self.kind);
        foot(page, self.format, (&self.full_code(), &kind), (number, count));
    }

    /// Sets the title; returns how far a second line pushes the rest down.
    pub fn title(&self, page: &mut Page, title: &str) -> f32 {
        const PITCH: f32 = 7.5;
        let lines = wrap(title, Face::Bold, LARGE, self.format.right() - self.format.left);
        page.lines((self.format.left, TITLE), PITCH, LARGE, Face::Bold, &lines);
        PITCH * lines.len().saturating_sub(1) as f32
    }

    /// The line for name and date.
    pub fn name_and_date(&self, page: &mut Page, y: f32) {
        const DATE: f32 = 48.0;
        let (left, right) = (self.format.left, self.format.right());
        labelled_line(page, "Name", left, right - DATE - 4.0, y);
        labelled_line(page, "Date", right - DATE, right, y);
    }
}

/// A file's author: the class and its school.
pub fn author(pack: &Pack) -> String {
    let heading = &pack.heading;
    if heading.school.is_empty() {
        heading.class.clone()
    } else {
        format!("{}, {}", heading.class, heading.school)
    }
}

/// The head of a page: class and school left, `when` right.
pub fn head(page: &mut Page, format: Format, (class, school): (&str, &str), when: &str) {
    let (y, rule) = HEAD;
    let (left, right) = (format.left, format.right());
    let room = right - left - width(when, Face::Regular, SMALL) - 6.0;
    let class = shorten(class, Face::Bold, SMALL, room);
    let used = width(&class, Face::Bold, SMALL);
    page.left(left, y, SMALL, Face::Bold, class);
    if !school.is_empty() && room - used > 20.0 {
        let dot = format!("{NBSP} · {NBSP}");
        let school = shorten(school, Face::Regular, SMALL, room - used - 8.0);
        page.left(left + used, y, SMALL, Face::Regular, format!("{dot}{school}"));
    }
    page.right(right, y, SMALL, Face::Regular, when);
    page.level(left, right, rule, SUM);
}

/// The foot of a page: the sheet's code and kind left, its page right.
pub fn foot(
    page: &mut Page,
    format: Format,
    (code, kind): (&str, &str),
    (number, count): (usize, usize),
) {
    let Format { left, foot, foot_rule, .. } = format;
    let right = format.right();
    page.level(left, right, foot_rule, FINE);
    page.left(left, foot, SMALL, Face::Bold, code);
    let after = left + width(code, Face::Bold, SMALL) + 3.0;
    page.left(after, foot, SMALL, Face::Regular, kind);
    page.right(right, foot, SMALL, Face::Regular, format!("page {number} of {count}"));
}

/// A word and a line to write on, to `right`.
pub fn labelled_line(page: &mut Drawing, label: &str, left: f32, right: f32, y: f32) {
    page.left(left, y, PUPIL, Face::Regular, label);
    let begins = left + width(label, Face::Regular, PUPIL) + 2.0;
    page.level(begins, right, y + 1.0, FINE);
}
