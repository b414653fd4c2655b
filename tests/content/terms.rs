//! What both demonstration terms print, read as a teacher reads it.

use rungwise::calendar::{Calendar, lay_out};
use rungwise::exercise::Item;
use rungwise::folder::{Access, Folder, load};
use rungwise::lesson::{Findings, Met, Occasion, Pack, compose_after, note_met};
use rungwise::plan::Plan;
use rungwise::schedule::{Lesson, Outcome, solve};
use std::path::Path;
use std::sync::OnceLock;

const CLASSES: [&str; 2] = ["kingfisher", "marigold"];

/// A class's packs, in order.
pub struct Term {
    pub packs: Vec<Pack>,
}

/// Both terms, composed once for all tests here.
pub fn terms() -> &'static [Term] {
    static TERMS: OnceLock<Vec<Term>> = OnceLock::new();
    TERMS.get_or_init(|| CLASSES.into_iter().map(term).collect())
}

/// A class's plan with its periods and lessons.
pub struct Planned {
    pub plan: Plan,
    calendar: Calendar,
    lessons: Vec<Lesson>,
}

impl Planned {
    /// That of the term with this number, of [`terms`].
    pub fn nth(index: usize) -> Planned {
        Planned::of(CLASSES[index])
    }

    fn of(name: &str) -> Planned {
        let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("plans").join(name);
        let folder = Folder::open(&dir, Access::Look).expect("the folder is there");
        let plan = load(&folder).unwrap_or_else(|r| panic!("{name}: {}", r.to_text())).plan;
        let calendar = lay_out(&plan.term, &plan.timetable, &plan.closings, &plan.openings, &[]);
        let lessons = match solve(&plan, &calendar) {
            Ok(Outcome::Fits(made)) => made.lessons,
            other => panic!("{name} does not fit: {other:?}"),
        };
        Planned { plan, calendar, lessons }
    }

    fn pack(&self, number: u32, version: &str, met: &Met) -> Pack {
        let occasion = Occasion {
            plan: &self.plan,
            lessons: &self.lessons,
            calendar: &self.calendar,
            number,
            version,
            draft: true,
            findings: &Findings::default(),
            swaps: &indexmap::IndexMap::new(),
        };
        compose_after(&occasion, met).unwrap_or_else(|fault| panic!("{fault}"))
    }
}

fn term(name: &str) -> Term {
    let planned = Planned::of(name);
    let mut met = Met::default();
    let pack = |lesson: &Lesson| {
        let pack = planned.pack(lesson.number, "A", &met);
        note_met(&mut met, &pack);
        pack
    };
    Term { packs: planned.lessons.iter().map(pack).collect() }
}

/// Every other lesson of both terms with its second version.
pub fn second_versions() -> impl Iterator<Item = (&'static Pack, &'static Pack)> {
    static SECOND: OnceLock<Vec<Vec<Option<Pack>>>> = OnceLock::new();
    let all =
        SECOND.get_or_init(|| CLASSES.iter().zip(terms()).map(|(n, t)| seconds(n, t)).collect());
    let pairs = terms().iter().zip(all).flat_map(|(term, second)| term.packs.iter().zip(second));
    pairs.filter_map(|(first, second)| Some((first, second.as_ref()?)))
}

fn seconds(name: &str, term: &Term) -> Vec<Option<Pack>> {
    let planned = Planned::of(name);
    let mut met = Met::default();
    let pack = |(index, first): (usize, &Pack)| {
        let second = (index % 2 == 0).then(|| planned.pack(first.lesson, "B", &met));
        note_met(&mut met, first);
        second
    };
    term.packs.iter().enumerate().map(pack).collect()
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
    let shown = found.iter().take(20).cloned().collect::<Vec<_>>().join("\n");
    assert!(found.is_empty(), "{} faults:\n{shown}", found.len());
}
