//! Other items in the place of those the teacher did not want, and version B, over the demo's term.

#[path = "../pages/kingfisher.rs"]
#[allow(dead_code)] // the pages and benches use more of it
mod kingfisher;

use kingfisher::Term;
use rungwise::exercise::{Item, Kind, Working};
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

/// What an exchange keeps: the kind, what is answered on and what its numbers show, or how it is
/// worked out in the head.
fn serves(item: &Item) -> String {
    let name = |text: String| text.split([' ', '{']).next().unwrap_or_default().to_owned();
    let shows = match (item.kind, &item.working) {
        // Whether the adding carries too is by the way.
        (Kind::Written | Kind::Row, _) => item
            .purpose
            .replace("a carry or two", "few carries")
            .replace(" in the rows, some in the adding", "")
            .replace(" and in the adding", ""),
        (Kind::Mental, Working::Route(route)) => format!("{:?}", route.name),
        _ => String::new(),
    };
    format!("{:?} on {}: {shows}", item.kind, name(format!("{:?}", item.space)))
}

#[test]
fn every_third_item_of_many_lessons_can_be_exchanged() {
    let term = Term::planned();
    let (mut exchanged, mut refused) = (0, 0);
    for number in [5, 9, 13, 15, 22, 25, 29, 36, 48] {
        let before = term.pack(number);
        let items = before.named(SectionName::Practice).flat_map(|s| &s.items);
        for item in items.step_by(3) {
            // A fault of ours would panic here.
            let after = term.pack_with(number, "A", &[&item.id]);
            let other = after.sections.iter().flat_map(|s| &s.items).find(|i| i.id == item.id);
            let other = other.unwrap_or_else(|| panic!("{} is gone", item.id));
            let said = after.missing.iter().any(|m| m.contains(&item.id));
            if said {
                assert_eq!(other, item, "{} stays as it was", item.id);
                refused += 1;
                continue;
            }
            assert_ne!(other, item, "{}", item.id);
            assert_eq!(serves(other), serves(item), "{}: {}", item.id, other.prompt);
            exchanged += 1;
        }
    }
    assert!(exchanged > 100 && refused * 5 <= exchanged, "{exchanged}, {refused} refused");
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
