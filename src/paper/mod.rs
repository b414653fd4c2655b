//! Paper: from a pack to PDF files.
//!
//! A pack's items become [`block`]s, blocks flow onto [`pages`], pages are [`sheet`]s: texts and
//! lines in millimetres. Only then is a sheet drawn and finished as a PDF.

pub mod block;
mod draw;
mod finish;
pub mod flow;
pub mod font;
pub mod look;
pub mod pages;
pub mod sheet;
mod term;
pub mod week;

pub use font::glyphs_missing;
pub use pages::coverage::{CoveragePage, Covered, Row};
pub use pages::progress::ProgressPage;
pub use pages::scheme::{Outcomes, Scheme, Taught, Week};
pub use pages::teacher::true_copies;
pub use term::{Overview, term, term_sheet};

use crate::lesson::{GroupSheet, Pack};
use indexmap::IndexMap;
use sheet::Sheet;
use std::fmt;

/// Why a pack cannot be printed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Refusal {
    /// Texts with characters that the font lacks: the teacher can write them otherwise.
    Glyphs(Vec<Missing>),
    /// A fault of ours.
    Fault(String),
}

/// A text with characters that the font lacks.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Missing {
    /// Where it stands: "the class's name".
    pub place: String,
    /// The text.
    pub text: String,
    /// The characters.
    pub characters: Vec<char>,
}

impl fmt::Display for Refusal {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Refusal::Fault(what) => write!(f, "the sheets could not be printed: {what}"),
            Refusal::Glyphs(all) => {
                for (index, missing) in all.iter().enumerate() {
                    let names: Vec<String> = missing
                        .characters
                        .iter()
                        .map(|&c| format!("`{c}` (U+{:04X})", u32::from(c)))
                        .collect();
                    let names = crate::words::join(&names, "and");
                    let Missing { place, text, .. } = missing;
                    let end = if index + 1 < all.len() { "\n" } else { "" };
                    write!(f, "the font has no {names}, in {place} `{text}`{end}")?;
                }
                Ok(())
            }
        }
    }
}

/// Prints a pack: every file's name and bytes, the teacher's first.
///
/// # Errors
/// The font lacks characters, named with the texts they stand in; or a fault of ours.
pub fn print(pack: &Pack) -> Result<IndexMap<String, Vec<u8>>, Refusal> {
    let missing = missing_in(pack);
    if !missing.is_empty() {
        return Err(Refusal::Glyphs(missing));
    }
    let sheets = sheets(pack);
    let missing: Vec<Missing> = sheets.iter().flat_map(|(name, s)| missing_on(name, s)).collect();
    if !missing.is_empty() {
        return Err(Refusal::Glyphs(missing));
    }
    let mut files = IndexMap::new();
    for (name, sheet) in sheets {
        files.insert(name, pdf(&sheet).map_err(Refusal::Fault)?);
    }
    Ok(files)
}

/// What stands wherever paper names a pattern.
pub const HINT: &str =
    "A pattern is a hint for teaching, never a diagnosis of a child. Ask to see the working first.";

/// A group's sheets before they are PDFs: the pupils' page and the teacher's key.
pub fn group_sheets(group: &GroupSheet) -> [Sheet; 2] {
    [pages::group::sheet(group), pages::group::key(group)]
}

/// The group's sheet with as many sums as go on one page.
pub fn on_one_page(group: &GroupSheet) -> GroupSheet {
    let least = pages::group::Least::of(group);
    group.fitted(|group| !least.too_many(group) && pages::group::sheet(group).pages.len() == 1)
}

/// Prints a group's sheet and its key.
///
/// # Errors
/// The font lacks characters, named with the texts they stand in; or a fault of ours.
pub fn group(group: &GroupSheet) -> Result<[Vec<u8>; 2], Refusal> {
    let [sheet, key] = group_sheets(group);
    Ok([checked(&sheet, "the group's sheet")?, checked(&key, "the group's key")?])
}

/// The progress page before it is a PDF.
pub fn progress_sheet(page: &ProgressPage) -> Sheet {
    pages::progress::sheet(page)
}

/// Prints the progress page.
///
/// # Errors
/// The font lacks characters, named with the texts they stand in; or a fault of ours.
pub fn progress(page: &ProgressPage) -> Result<Vec<u8>, Refusal> {
    checked(&progress_sheet(page), "the progress page")
}

/// The scheme of work before it is a PDF.
pub fn scheme_sheet(scheme: &Scheme) -> Sheet {
    pages::scheme::sheet(scheme)
}

/// Prints the scheme of work.
///
/// # Errors
/// The font lacks characters, named with the texts they stand in; or a fault of ours.
pub fn scheme(scheme: &Scheme) -> Result<Vec<u8>, Refusal> {
    checked(&scheme_sheet(scheme), "the scheme of work")
}

/// The coverage page before it is a PDF.
pub fn coverage_sheet(page: &CoveragePage) -> Sheet {
    pages::coverage::sheet(page)
}

/// Prints the coverage page.
///
/// # Errors
/// The font lacks characters, named with the texts they stand in; or a fault of ours.
pub fn coverage(page: &CoveragePage) -> Result<Vec<u8>, Refusal> {
    checked(&coverage_sheet(page), "the coverage page")
}

/// A sheet as a PDF, if the font has all it says.
fn checked(sheet: &Sheet, what: &str) -> Result<Vec<u8>, Refusal> {
    refuse_missing(what, sheet)?;
    pdf(sheet).map_err(Refusal::Fault)
}

/// Refuses a sheet with texts that the font cannot print.
fn refuse_missing(what: &str, sheet: &Sheet) -> Result<(), Refusal> {
    let missing = missing_on(what, sheet);
    if missing.is_empty() { Ok(()) } else { Err(Refusal::Glyphs(missing)) }
}

/// Texts on a laid-out sheet that the font cannot print, whatever they came from.
fn missing_on(file: &str, sheet: &Sheet) -> Vec<Missing> {
    let mut found: Vec<Missing> = Vec::new();
    for (index, page) in sheet.pages.iter().enumerate() {
        for mark in &page.marks {
            let sheet::Mark::Text { text, .. } = mark else { continue };
            let characters = glyphs_missing(text);
            if !characters.is_empty() && !found.iter().any(|m| m.text == *text) {
                let place = format!("{file}, page {}", index + 1);
                found.push(Missing { place, text: text.clone(), characters });
            }
        }
    }
    found
}

/// A sheet as a PDF.
fn pdf(sheet: &Sheet) -> Result<Vec<u8>, String> {
    finish::finish(&draw::draw(sheet)?, sheet)
}

/// A pack's sheets before they are PDFs, by the names of their files.
pub fn sheets(pack: &Pack) -> IndexMap<String, Sheet> {
    let mut sheets = IndexMap::new();
    let mut teacher = pages::teacher::sheet(pack);
    if let Some(worked) = pages::worked::sheet(pack) {
        teacher.append(worked);
    }
    sheets.insert("teacher.pdf".to_owned(), teacher);
    for (letter, _, section) in pack.practice_sheets().filter(|(.., s)| !s.items.is_empty()) {
        let name = format!("pupil-{letter}.pdf");
        sheets.insert(name, pages::pupil::sheet(pack, section, letter));
    }
    let others = [
        ("slips.pdf", pages::slips::sheet(pack)),
        ("homework.pdf", pages::homework::sheet(pack)),
        ("test.pdf", pages::test::sheet(pack)),
        ("key.pdf", pages::key::sheet(pack)),
    ];
    for (name, sheet) in others {
        sheets.extend(sheet.map(|sheet| (name.to_owned(), sheet)));
    }
    sheets
}

/// The texts of a pack that the font cannot print.
fn missing_in(pack: &Pack) -> Vec<Missing> {
    let mut found: Vec<Missing> = Vec::new();
    let mut look = |place: &str, text: &str| {
        let characters = glyphs_missing(text);
        if !characters.is_empty() && !found.iter().any(|m| m.text == text) {
            found.push(Missing { place: place.to_owned(), text: text.to_owned(), characters });
        }
    };
    look("the class's name", &pack.heading.class);
    look("the school's name", &pack.heading.school);
    look("the lesson's title", &pack.heading.title);
    for resource in &pack.teacher.resources {
        look("a `[[resource]]`", resource);
    }
    for item in pack.sections.iter().flat_map(|s| &s.items) {
        look(&format!("item {}", item.id), &item.prompt);
    }
    found
}
