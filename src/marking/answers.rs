//! What pupils have written, as far as it was handed in.

use crate::exercise::Item;
use crate::lesson::{Pack, SectionName};
use indexmap::IndexMap;
use std::collections::BTreeSet;

/// Answers by pupil, or piles of slips with the same answer.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Answers {
    /// Pupil, then item id, then the answer; `None` where the pupil gave none.
    pub pupils: IndexMap<String, IndexMap<String, Option<String>>>,
    /// Slips counted by answer.
    pub piles: Vec<Pile>,
    /// Of whom it was said that they were not there; their rows hold no answer.
    pub absent: BTreeSet<String>,
}

/// So many slips with the same answer.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Pile {
    /// The item's id.
    pub item: String,
    /// The answer.
    pub answer: String,
    /// How many.
    pub count: u32,
}

/// How a right answer that was only ticked is kept.
pub const TICK: &str = "✓";

/// How it is kept that a pupil was not there: in the place of the first answer.
const ABSENT: &str = "absent";

/// How a wrong answer that was only crossed is kept: it counts as wrong and points at nothing.
pub const CROSS: &str = "✗";

/// What a pupil's label is known by: 03 is 3.
pub(super) fn pupil_key(label: &str) -> &str {
    let label = label.trim();
    let digits = !label.is_empty() && label.bytes().all(|b| b.is_ascii_digit());
    if digits { label.trim_start_matches('0') } else { label }
}

/// Whether two labels are one pupil's: 03 is 3.
pub fn same_pupil(one: &str, other: &str) -> bool {
    pupil_key(one) == pupil_key(other)
}

/// The items of a pack that are marked: those of the exit check, else those of the test.
pub fn marked_items(pack: &Pack) -> Vec<&Item> {
    let of = |name: SectionName| -> Vec<&Item> {
        pack.sections.iter().filter(|s| s.name == name).flat_map(|s| &s.items).collect()
    };
    let check = of(SectionName::ExitCheck);
    if check.is_empty() { of(SectionName::Test) } else { check }
}

/// Whether what is marked is the unit test and not an exit check.
pub fn is_test(pack: &Pack) -> bool {
    let has = |name| pack.sections.iter().any(|s| s.name == name && !s.items.is_empty());
    has(SectionName::Test) && !has(SectionName::ExitCheck)
}

/// An empty file to fill in: a column for each item that is marked, a row for each pupil.
pub fn blank(pack: &Pack, pupils: &[String]) -> String {
    let ids: Vec<&str> = marked_items(pack).iter().map(|item| item.id.as_str()).collect();
    let rows = pupils.iter().map(|pupil| {
        let mut row = vec![pupil.as_str()];
        row.resize(ids.len() + 1, "");
        row
    });
    let mut header = vec!["pupil"];
    header.extend(&ids);
    csv_text(std::iter::once(header).chain(rows))
}

impl Answers {
    /// Whether it was said of a pupil that they were not there, and nothing of theirs is here.
    pub fn was_absent(&self, pupil: &str) -> bool {
        let nothing = |row: &IndexMap<String, Option<String>>| row.values().all(Option::is_none);
        self.absent.contains(pupil) && self.pupils.get(pupil).is_none_or(nothing)
    }

    /// The answers as a file that [`super::read_answers`] reads back the same.
    pub fn to_csv(&self, pack: &Pack) -> String {
        if self.pupils.is_empty() && !self.piles.is_empty() {
            let counts: Vec<String> = self.piles.iter().map(|p| p.count.to_string()).collect();
            let rows = self.piles.iter().zip(&counts);
            let rows = rows.map(|(p, count)| vec![p.item.as_str(), p.answer.as_str(), count]);
            return csv_text(std::iter::once(vec!["item", "answer", "count"]).chain(rows));
        }
        let ids: Vec<&str> = marked_items(pack).iter().map(|item| item.id.as_str()).collect();
        let rows = self.pupils.iter().map(|(pupil, given)| {
            let answer = |id: &&str| given.get(*id).and_then(Option::as_deref).unwrap_or("");
            let mut row: Vec<&str> =
                std::iter::once(pupil.as_str()).chain(ids.iter().map(answer)).collect();
            if self.was_absent(pupil) && row.len() > 1 {
                row[1] = ABSENT;
            }
            row
        });
        let header = std::iter::once("pupil").chain(ids.iter().copied()).collect();
        csv_text(std::iter::once(header).chain(rows))
    }
}

fn csv_text<'a>(rows: impl Iterator<Item = Vec<&'a str>>) -> String {
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in rows {
        writer.write_record(&row).expect("rows of equal length go to memory");
    }
    let bytes = writer.into_inner().expect("memory does not fail");
    String::from_utf8(bytes).expect("what was text stays text")
}
