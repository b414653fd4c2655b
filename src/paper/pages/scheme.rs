//! The scheme of work for the head: week by week the skills taught and the outcomes they serve,
//! then what each outcome asks.

use super::for_class::ForClass;
use super::listing::{Cell, Column, Group, Listing};
use crate::paper::font::Face;
use crate::paper::sheet::Sheet;
use crate::plan::PaperSize;
use serde::Serialize;

/// What the scheme of work says.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Scheme {
    /// The class's name.
    pub class: String,
    /// The school's name; may be empty.
    pub school: String,
    /// The paper.
    #[serde(skip)]
    pub paper: PaperSize,
    /// What the unit is called: "Multiplication".
    pub unit: String,
    /// "11 January to 2 April 2027".
    pub term: String,
    /// How many lessons there are.
    pub lessons: usize,
    /// The weeks of the term in order.
    pub weeks: Vec<Week>,
    /// What the outcomes served ask, framework by framework.
    pub frameworks: Vec<Outcomes>,
}

/// A week of the scheme.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Week {
    /// Its first school day: "11 Jan".
    pub begins: String,
    /// Counted over weeks with lessons; none in a week without.
    pub number: Option<usize>,
    /// What is taught, in order.
    pub taught: Vec<Taught>,
    /// Why there is no lesson, or what else the week holds: "half-term: no lessons".
    pub note: String,
}

/// What some lessons of a week are on.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Taught {
    /// The skill's title, or "Catch-up", "Mixed revision", "Unit test".
    pub what: String,
    /// Whether it is a skill.
    pub skill: bool,
    /// The lessons' numbers.
    pub lessons: Vec<u32>,
    /// The outcomes served, by their codes.
    pub outcomes: Vec<String>,
}

/// A framework's outcomes.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Outcomes {
    /// The framework's title.
    pub title: String,
    /// Codes and what they ask.
    pub outcomes: Vec<(String, String)>,
}

const COLUMNS: [Column; 4] = [
    (0.0, 18.0, "Week"),
    (20.0, 68.0, "Taught"),
    (90.0, 16.0, "Lessons"),
    (108.0, 60.0, "Outcomes"),
];
const ASKS: [Column; 2] = [(0.0, 24.0, "Outcome"), (26.0, 142.0, "What it asks")];

/// The pages of the scheme.
pub fn sheet(scheme: &Scheme) -> Sheet {
    let belongs = ForClass {
        class: &scheme.class,
        school: &scheme.school,
        paper: scheme.paper,
        when: &scheme.term,
        kind: ("SCHEME", "Scheme of work"),
    };
    let held = scheme.weeks.iter().filter(|w| w.number.is_some()).count();
    let says = format!(
        "{} in {}. The published curriculum and the school’s own scheme are the authority.",
        crate::words::count(scheme.lessons, "lesson"),
        crate::words::count(held, "week")
    );
    let title = format!("Scheme of work: {}", scheme.unit);
    Listing::sheet_of(belongs, (&title, &says), |listing| fill(listing, scheme))
}

fn fill(listing: &mut Listing, scheme: &Scheme) {
    let weeks: Vec<Group> = scheme.weeks.iter().map(week).collect();
    listing.table(&COLUMNS, &weeks);
    for framework in &scheme.frameworks {
        let row = |(code, asks): &(String, String)| {
            vec![(code.clone(), Face::Bold), (asks.clone(), Face::Regular)]
        };
        let asks = [framework.outcomes.iter().map(row).collect()];
        listing.heading(&framework.title, &ASKS, &asks);
        listing.table(&ASKS, &asks);
    }
}

fn week(week: &Week) -> Group {
    let number = week.number.map_or(String::new(), |n| format!("{n} · "));
    let label: Cell = (format!("{number}{}", week.begins), Face::Bold);
    let none: Cell = (String::new(), Face::Regular);
    let mut rows: Group = Vec::new();
    for taught in &week.taught {
        let numbers: Vec<String> = taught.lessons.iter().map(ToString::to_string).collect();
        let face = if taught.skill { Face::Regular } else { Face::Italic };
        rows.push(vec![
            none.clone(),
            (taught.what.clone(), face),
            (numbers.join(", "), Face::Regular),
            (taught.outcomes.join(", "), Face::Regular),
        ]);
    }
    if !week.note.is_empty() || rows.is_empty() {
        rows.push(vec![none.clone(), (week.note.clone(), Face::Italic), none.clone(), none]);
    }
    if let Some(first) = rows.first_mut().and_then(|row| row.first_mut()) {
        *first = label;
    }
    rows
}
