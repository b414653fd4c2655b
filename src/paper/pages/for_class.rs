//! Sheets about the whole class and not one lesson: what stands at their head and foot, and a last
//! page that is no remnant.

use super::frame::{foot, head};
use crate::paper::look::{BODY_TOP, Format};
use crate::paper::sheet::{Page, Sheet};
use crate::plan::PaperSize;

/// What a sheet about a class bears on every page.
#[derive(Debug, Clone, Copy)]
pub struct ForClass<'a> {
    /// The class's name.
    pub class: &'a str,
    /// The school's name; may be empty.
    pub school: &'a str,
    /// The paper.
    pub paper: PaperSize,
    /// At the right of the head.
    pub when: &'a str,
    /// The code without the class, and the kind: `COVERAGE`, "Coverage".
    pub kind: (&'a str, &'a str),
}

impl ForClass<'_> {
    /// The sheet's format.
    pub fn format(&self) -> Format {
        Format::of(self.paper)
    }

    /// Pages with their heads and feet, the code at the foot.
    pub fn framed(&self, code: &str, bodies: Vec<Page>) -> Vec<Page> {
        let (format, count) = (self.format(), bodies.len());
        let framed = |(index, body): (usize, Page)| {
            let mut page = Page::new();
            head(&mut page, format, (self.class, self.school), self.when);
            page.place(body, (0.0, 0.0));
            foot(&mut page, format, (code, self.kind.1), (index + 1, count));
            page
        };
        bodies.into_iter().enumerate().map(framed).collect()
    }

    /// The same as a sheet, with the class's own code.
    pub fn sheet(&self, bodies: Vec<Page>) -> Sheet {
        let ForClass { class, school, kind: (kind, name), .. } = *self;
        Sheet {
            size: self.format().size,
            title: format!("{name} {class}"),
            author: if school.is_empty() { class.to_owned() } else { format!("{class}, {school}") },
            pages: self.framed(&code(kind, class), bodies),
            outline: vec![(name.to_owned(), 0)],
        }
    }
}

/// `TERM-5K` for Class 5 Kingfisher: numbers and initials of what follows the word for a class.
fn code(kind: &str, class: &str) -> String {
    let said = class.split_whitespace().filter(|w| !["Class", "Year", "Grade"].contains(w));
    let short = |word: &str| -> String {
        let digits: String = word.chars().take_while(char::is_ascii_digit).collect();
        if digits.is_empty() { word.chars().take(1).collect() } else { digits }
    };
    let initials: String = said.take(3).map(short).collect::<String>().to_uppercase();
    if initials.is_empty() { kind.to_owned() } else { format!("{kind}-{initials}") }
}

/// How much less a page holds at a time where the last one would be a remnant.
const STEP: f32 = 6.0;
/// Of a page's height, what a last page has at least; a little more than a third, as what is drawn
/// ends above its foot.
const LEAST: f32 = 0.36;

/// What `made` makes of where a page is full. Where the last of several pages would hold less than
/// a third, the others are full earlier and leave it more, if that costs no page. `ends` says how
/// many pages there are and where the last one ends.
pub fn without_remnant<T>(
    format: Format,
    made: impl Fn(f32) -> T,
    ends: impl Fn(&T) -> (usize, f32),
) -> T {
    let foot = format.body_foot;
    let whole = foot - BODY_TOP;
    let first = made(foot);
    let (pages, _) = ends(&first);
    let short = |made: &T| ends(made).1 - BODY_TOP < whole * LEAST;
    if pages < 2 || !short(&first) {
        return first;
    }
    let lower =
        (1..).map(|n| foot - STEP * n as f32).take_while(|lower| *lower > foot - whole / 2.0);
    lower.map(made).find(|other| ends(other).0 == pages && !short(other)).unwrap_or(first)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_class_has_a_short_code() {
        assert_eq!(code("TERM", "Class 5 Kingfisher"), "TERM-5K");
        assert_eq!(code("TERM", "5b"), "TERM-5");
        assert_eq!(code("TERM", "Class"), "TERM");
        assert_eq!(code("COVERAGE", "Otters"), "COVERAGE-O");
    }

    #[test]
    fn the_last_page_is_filled_from_those_before() {
        let format = Format::of(PaperSize::A4);
        let body = format.body_foot - BODY_TOP;
        // So many rows of 10 mm.
        let rows = |rows: u16| {
            let made = |foot: f32| {
                let fits = |n: &u16| BODY_TOP + 10.0 * f32::from(*n) <= foot;
                let a_page = (1..=rows).take_while(fits).last().unwrap_or(1);
                let pages = rows.div_ceil(a_page);
                (usize::from(pages), BODY_TOP + 10.0 * f32::from(rows - a_page * (pages - 1)))
            };
            without_remnant(format, made, |made| *made)
        };
        assert_eq!(rows(25), (1, BODY_TOP + 250.0));
        let (pages, end) = rows(26);
        assert!(pages == 2 && end - BODY_TOP >= body * LEAST, "{pages} {end}");
        assert_eq!(rows(49), (2, BODY_TOP + 240.0));
    }
}
