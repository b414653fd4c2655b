//! The laid-out sheet before it is a PDF: texts and lines in millimetres, page by page.
//!
//! Everything that is printed is in here, so tests look at sheets, not at PDF files.

use super::font::{Face, PT, width};
use std::fmt::Write as _;

/// A place on the page: x from the left edge, y down from the top, millimetres.
pub type Point = (f32, f32);

/// One thing that is drawn.
#[derive(Debug, Clone, PartialEq)]
pub enum Mark {
    /// A text on one line.
    Text {
        /// Where the pen begins.
        x: f32,
        /// The baseline.
        y: f32,
        /// Points.
        size: u8,
        /// The face.
        face: Face,
        /// What it says.
        text: String,
    },
    /// A stroked line through these points.
    Line {
        /// Two points or more.
        points: Vec<Point>,
        /// Its thickness in points.
        thick: f32,
    },
}

impl Mark {
    /// The smallest box round it: left, top, right, bottom. For texts from figure height to a
    /// descender's foot.
    pub fn bounds(&self) -> (f32, f32, f32, f32) {
        match self {
            Mark::Text { x, y, size, face, text } => {
                let em = f32::from(*size) * PT;
                (*x, y - 0.725 * em, x + width(text, *face, *size), y + 0.22 * em)
            }
            Mark::Line { points, .. } => {
                points.iter().fold((f32::MAX, f32::MAX, f32::MIN, f32::MIN), |(l, t, r, b), p| {
                    (l.min(p.0), t.min(p.1), r.max(p.0), b.max(p.1))
                })
            }
        }
    }

    fn moved(mut self, dx: f32, dy: f32) -> Mark {
        match &mut self {
            Mark::Text { x, y, .. } => {
                *x += dx;
                *y += dy;
            }
            Mark::Line { points, .. } => {
                for point in points {
                    *point = (point.0 + dx, point.1 + dy);
                }
            }
        }
        self
    }
}

/// The text with curly quotation marks and apostrophes for straight ones.
fn curly(text: String) -> String {
    if !text.contains(['\'', '"']) {
        return text;
    }
    let mut before = ' ';
    let each = text.chars().map(|letter| {
        let opens = before.is_whitespace() || "([“‘–".contains(before);
        before = match (letter, opens) {
            ('\'', true) => '‘',
            ('\'', false) => '’',
            ('"', true) => '“',
            ('"', false) => '”',
            _ => letter,
        };
        before
    });
    each.collect()
}

/// Marks that belong together, to be placed as one.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Drawing {
    /// What is drawn, in reading order.
    pub marks: Vec<Mark>,
}

impl Drawing {
    /// Nothing yet.
    pub fn new() -> Drawing {
        Drawing::default()
    }

    /// A text that begins at x; whoever wrote it, its quotation marks are printed curly.
    pub fn left(&mut self, x: f32, y: f32, size: u8, face: Face, text: impl Into<String>) {
        let text = curly(text.into());
        if !text.is_empty() {
            self.marks.push(Mark::Text { x, y, size, face, text });
        }
    }
    /// A text that ends at x.
    pub fn right(&mut self, x: f32, y: f32, size: u8, face: Face, text: impl Into<String>) {
        let text = curly(text.into());
        self.left(x - width(&text, face, size), y, size, face, text);
    }
    /// A text with x as its middle.
    pub fn centre(&mut self, x: f32, y: f32, size: u8, face: Face, text: impl Into<String>) {
        let text = curly(text.into());
        self.left(x - width(&text, face, size) / 2.0, y, size, face, text);
    }
    /// Lines of text, `pitch` apart.
    pub fn lines(&mut self, at: Point, pitch: f32, size: u8, face: Face, lines: &[String]) {
        for (index, line) in lines.iter().enumerate() {
            self.left(at.0, at.1 + pitch * index as f32, size, face, line.as_str());
        }
    }
    /// A straight line.
    pub fn line(&mut self, from: Point, to: Point, thick: f32) {
        self.marks.push(Mark::Line { points: vec![from, to], thick });
    }
    /// A level line.
    pub fn level(&mut self, from: f32, to: f32, y: f32, thick: f32) {
        self.line((from, y), (to, y), thick);
    }
    /// An upright line.
    pub fn upright(&mut self, x: f32, from: f32, to: f32, thick: f32) {
        self.line((x, from), (x, to), thick);
    }
    /// A rectangle. The line goes on to the second corner again, so that every corner is mitred.
    pub fn rectangle(&mut self, x: f32, y: f32, wide: f32, high: f32, thick: f32) {
        let (right, foot) = (x + wide, y + high);
        let points = vec![(x, y), (right, y), (right, foot), (x, foot), (x, y), (right, y)];
        self.marks.push(Mark::Line { points, thick });
    }
    /// A broken line, level or upright: 3 on, 3 off.
    pub fn dashes(&mut self, from: Point, to: Point, thick: f32) {
        const DASH: f32 = 3.0;
        let length = (to.0 - from.0) + (to.1 - from.1);
        let along = |d: f32| {
            if to.0 > from.0 { (from.0 + d, from.1) } else { (from.0, from.1 + d) }
        };
        let mut at = 0.0;
        while at < length {
            self.line(along(at), along((at + DASH).min(length)), thick);
            at += 2.0 * DASH;
        }
    }
    /// Everything of another drawing, moved.
    pub fn place(&mut self, other: Drawing, at: Point) {
        self.marks.extend(other.marks.into_iter().map(|m| m.moved(at.0, at.1)));
    }
}

/// A page's marks.
pub type Page = Drawing;

/// A file to be printed.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    /// Page width and height in millimetres.
    pub size: Point,
    /// The title in the document's properties.
    pub title: String,
    /// The author there.
    pub author: String,
    /// The pages.
    pub pages: Vec<Page>,
    /// Entries of the outline: a name and the page it begins on, from 0.
    pub outline: Vec<(String, usize)>,
}

impl Sheet {
    /// Puts another sheet's pages after this one's, in the same file.
    pub fn append(&mut self, other: Sheet) {
        let before = self.pages.len();
        self.outline.extend(other.outline.into_iter().map(|(name, page)| (name, before + page)));
        self.pages.extend(other.pages);
    }
    /// The sheet as text, a mark a line, for tests to compare.
    pub fn dump(&self) -> String {
        let mut out = String::new();
        for (index, page) in self.pages.iter().enumerate() {
            let _ = writeln!(out, "page {} of {}", index + 1, self.pages.len());
            for mark in &page.marks {
                let _ = writeln!(out, "{}", line_of(mark));
            }
        }
        out
    }
}

fn line_of(mark: &Mark) -> String {
    match mark {
        Mark::Text { x, y, size, face, text } => {
            let face = match face {
                Face::Regular => "",
                Face::Bold => " bold",
                Face::Italic => " italic",
                Face::Figures => " figures",
            };
            let text = text.replace('\u{A0}', "~").replace('\u{202F}', "^");
            format!("{x:7.2} {y:7.2}  {size}{face} {text}")
        }
        Mark::Line { points, thick } => {
            let points: Vec<String> =
                points.iter().map(|(x, y)| format!("{x:.2},{y:.2}")).collect();
            format!("         line {thick} {}", points.join(" "))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn quotation_marks_are_printed_curly() {
        for (written, printed) in [
            ("the fact's zero", "the fact’s zero"),
            ("the ones' row", "the ones’ row"),
            ("say \"no\" (\"never\")", "say “no” (“never”)"),
            ("'47' stays", "‘47’ stays"),
            ("plain", "plain"),
        ] {
            assert_eq!(curly(written.to_owned()), printed);
        }
    }

    #[test]
    fn a_number_set_right_ends_at_its_place() {
        let mut drawing = Drawing::new();
        drawing.right(100.0, 20.0, 10, Face::Regular, "12,34,567");
        let (_, top, right, _) = drawing.marks[0].bounds();
        assert!((right - 100.0).abs() < 0.001 && top < 20.0);
    }

    #[test]
    fn dashes_end_where_the_line_ends() {
        let mut drawing = Drawing::new();
        drawing.dashes((6.0, 10.0), (26.5, 10.0), 0.65);
        let ends: Vec<f32> = drawing.marks.iter().map(|m| m.bounds().2).collect();
        assert_eq!(ends, [9.0, 15.0, 21.0, 26.5]);
    }

    #[test]
    fn a_sheet_reads_as_text() {
        let mut page = Drawing::new();
        page.left(21.0, 29.0, 16, Face::Bold, "6\u{202F}283\u{A0}×\u{A0}7");
        page.level(21.0, 189.0, 17.5, 0.9);
        let sheet = Sheet {
            size: (210.0, 297.0),
            title: String::new(),
            author: String::new(),
            pages: vec![page],
            outline: Vec::new(),
        };
        let expected = "page 1 of 1\n  21.00   29.00  16 bold 6^283~×~7\n         \
                        line 0.9 21.00,17.50 189.00,17.50\n";
        assert_eq!(sheet.dump(), expected);
    }
}
