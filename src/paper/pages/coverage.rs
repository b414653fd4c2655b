//! The coverage page: every outcome of the class's frameworks, and the lessons that serve it.

use super::for_class::ForClass;
use super::listing::{Column, Group, Listing};
use crate::paper::font::Face;
use crate::paper::sheet::Sheet;
use crate::plan::PaperSize;

/// Whose coverage it is, and when.
#[derive(Debug, Clone, Copy)]
pub struct CoveragePage<'a> {
    /// The class's name.
    pub class: &'a str,
    /// The school's name; may be empty.
    pub school: &'a str,
    /// The paper.
    pub paper: PaperSize,
    /// "25 November 2026".
    pub today: &'a str,
    /// The frameworks.
    pub frameworks: &'a [Covered],
}

/// A framework and how far the unit meets it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Covered {
    /// Its title.
    pub title: String,
    /// The outcomes that lessons serve.
    pub outcomes: Vec<Row>,
    /// The codes of the others.
    pub not_in_this_unit: Vec<String>,
}

/// An outcome and the lessons that serve it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Row {
    /// Its code.
    pub code: String,
    /// What it asks.
    pub asks: String,
    /// Numbers of the lessons taught.
    pub taught: Vec<u32>,
    /// Numbers of the lessons to come.
    pub to_come: Vec<u32>,
}

const COLUMNS: [Column; 4] = [
    (0.0, 24.0, "Outcome"),
    (26.0, 76.0, "What it asks"),
    (104.0, 31.0, "Taught in lesson"),
    (137.0, 31.0, "To come in lesson"),
];

/// The pages.
pub fn sheet(page: &CoveragePage) -> Sheet {
    let belongs = ForClass {
        class: page.class,
        school: page.school,
        paper: page.paper,
        when: page.today,
        kind: ("COVERAGE", "Coverage"),
    };
    let says = "Which lessons serve which outcome. The published curriculum and the school’s own \
                scheme are the authority.";
    Listing::sheet_of(belongs, ("What the unit meets", says), |listing| fill(listing, page))
}

fn fill(listing: &mut Listing, page: &CoveragePage) {
    for framework in page.frameworks {
        let rows: Vec<Group> = framework.outcomes.iter().map(|row| vec![cells(row)]).collect();
        let others = framework.not_in_this_unit.join(", ");
        let note = if others.is_empty() { others } else { format!("Not in this unit: {others}.") };
        listing.heading(&framework.title, &COLUMNS, &rows);
        listing.table_with(&COLUMNS, &rows, &note);
    }
}

fn cells(row: &Row) -> Vec<(String, Face)> {
    let list = |numbers: &[u32]| {
        let numbers: Vec<String> = numbers.iter().map(ToString::to_string).collect();
        if numbers.is_empty() { "–".to_owned() } else { numbers.join(", ") }
    };
    vec![
        (row.code.clone(), Face::Bold),
        (row.asks.clone(), Face::Regular),
        (list(&row.taught), Face::Regular),
        (list(&row.to_come), Face::Regular),
    ]
}
