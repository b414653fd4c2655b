//! What both demonstration terms print, read as a teacher reads it.

use rungwise::calendar::lay_out;
use rungwise::exercise::Item;
use rungwise::folder::{Access, Folder, load};
use rungwise::lesson::{Findings, Met, Occasion, Pack, compose_after, note_met};
use rungwise::schedule::{Outcome, solve};
use std::path::Path;
use std::sync::OnceLock;

/// A class's packs, in order.
pub struct Term {
    pub packs: Vec<Pack>,
}

/// Both terms, composed once for all tests here.
pub fn terms() -> &'static [Term] {
    static TERMS: OnceLock<Vec<Term>> = OnceLock::new();
    TERMS.get_or_init(|| ["kingfisher", "marigold"].into_iter().map(term).collect())
}

fn term(name: &str) -> Term {
    let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("plans").join(name);
    let folder = Folder::open(&dir, Access::Look).expect("the folder is there");
    let plan = load(&folder).unwrap_or_else(|r| panic!("{name}: {}", r.to_text())).plan;
    let calendar = lay_out(&plan.term, &plan.timetable, &plan.closings, &plan.openings, &[]);
    let lessons = match solve(&plan, &calendar) {
        Ok(Outcome::Fits(made)) => made.lessons,
        other => panic!("{name} does not fit: {other:?}"),
    };
    let mut met = Met::default();
    let mut pack = |number: u32| {
        let occasion = Occasion {
            plan: &plan,
            lessons: &lessons,
            calendar: &calendar,
            number,
            version: "A",
            draft: true,
            findings: &Findings::default(),
            swaps: &indexmap::IndexMap::new(),
        };
        let pack = compose_after(&occasion, &met);
        let pack = pack.unwrap_or_else(|fault| panic!("{name}: {fault}"));
        note_met(&mut met, &pack);
        pack
    };
    let packs = lessons.iter().map(|lesson| pack(lesson.number)).collect();
    Term { packs }
}

/// The items of a pack.
pub fn items(pack: &Pack) -> impl Iterator<Item = &Item> {
    pack.sections.iter().flat_map(|s| &s.items)
}

/// The items of both terms.
pub fn all_items() -> impl Iterator<Item = &'static Item> {
    terms().iter().flat_map(|t| &t.packs).flat_map(items)
}

/// Fails with all that was found, at most twenty lines of it.
pub fn none_of(found: &[String]) {
    let shown = found
        .iter()
        .take(if std::env::var("ALL_FAULTS").is_ok() { usize::MAX } else { 20 })
        .cloned()
        .collect::<Vec<_>>()
        .join("\n");
    assert!(found.is_empty(), "{} faults:\n{shown}", found.len());
}
