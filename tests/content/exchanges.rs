//! Other items in the place of those the teacher did not want, and version B, over the demo's term.

#[path = "../pages/kingfisher.rs"]
#[allow(dead_code)] // the pages and benches use more of it
mod kingfisher;

use kingfisher::Term;
use rungwise::exercise::Item;
use rungwise::lesson::{Pack, SectionName};
use std::collections::BTreeSet;

/// The questions of a section, with what they come to: a sum either way round is the same.
fn asked(pack: &Pack, name: SectionName) -> BTreeSet<String> {
    let key = |item: &Item| match &item.expression {
        Some(expression) => {
            let mut factors: Vec<&str> = expression.split('*').collect();
            factors.sort_unstable();
            factors.join("*")
        }
        None => item.prompt.clone(),
    };
    pack.named(name).flat_map(|s| &s.items).map(key).collect()
}

#[test]
fn every_third_item_of_many_lessons_can_be_exchanged() {
    let term = Term::planned();
    let mut exchanged = 0;
    for number in [5, 9, 13, 16, 22, 27, 36] {
        let before = term.pack(number);
        let items = before.named(SectionName::Practice).flat_map(|s| &s.items);
        for item in items.step_by(3) {
            // A fault of ours would panic here.
            let after = term.pack_with(number, "A", &[&item.id]);
            let other = after.sections.iter().flat_map(|s| &s.items).find(|i| i.id == item.id);
            let other = other.unwrap_or_else(|| panic!("{} is gone", item.id));
            let said = after.missing.iter().any(|m| m.contains(&item.id));
            assert!(other.prompt != item.prompt || other.answer != item.answer || said);
            exchanged += 1;
        }
    }
    assert!(exchanged > 100, "{exchanged}");
}

#[test]
fn version_b_asks_nothing_that_version_a_has_asked_in_its_check_or_test() {
    let term = Term::planned();
    let (mut checks, mut all) = (0, (0, 0));
    for lesson in &term.schedule.lessons {
        let (a, b) =
            (term.pack_with(lesson.number, "A", &[]), term.pack_with(lesson.number, "B", &[]));
        for name in [SectionName::ExitCheck, SectionName::Test] {
            let (first, second) = (asked(&a, name), asked(&b, name));
            let both: Vec<&String> = first.intersection(&second).collect();
            assert!(both.is_empty(), "lesson {}: {both:?}", lesson.number);
            // A short list of numbers leaves less for a second check, but never nothing.
            assert!(second.len() >= first.len().min(2), "lesson {}", lesson.number);
            checks += usize::from(!first.is_empty());
            all = (all.0 + first.len(), all.1 + second.len());
        }
    }
    assert!(checks > 40, "{checks}");
    assert!(all.1 * 10 >= all.0 * 9, "{all:?}");
}
