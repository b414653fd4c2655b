//! What the head of a key says once, for all that stands below it.

use crate::exercise::{Accept, Item, Kind, Space};
use crate::lesson::Pack;

/// From this number of digits on a product's name in words is given.
pub const NAMED: usize = 7;

/// The notes that this pack's key needs.
pub fn notes(pack: &Pack) -> impl Iterator<Item = &'static str> {
    let some = |fits: &dyn Fn(&Item) -> bool| {
        pack.sections.iter().flat_map(|section| &section.items).any(fits)
    };
    let notes = [
        (
            some(&spelled),
            "Names of numbers: hyphens, commas and the word “and” may be there or not.",
        ),
        (
            some(&is_named),
            "Products of seven digits and more stand in words too, to be read aloud.",
        ),
        (
            some(&compares),
            "Estimates: any from rounding one or both numbers is right; “more” or “less”, and by how \
             much, follow from it.",
        ),
    ];
    notes.into_iter().filter(|(needed, _)| *needed).map(|(_, note)| note)
}

/// Whether a name in words may be written in other ways that the key does not list.
fn spelled(item: &Item) -> bool {
    item.kind == Kind::Words && matches!(&item.accept, Some(Accept::Any(also)) if also.len() > 1)
}

/// Whether the answer is a product so long that the key gives its name.
pub fn is_named(item: &Item) -> bool {
    let number = item.answer.len() >= NAMED && item.answer.bytes().all(|b| b.is_ascii_digit());
    let whole = matches!(item.kind, Kind::Written | Kind::Story);
    number && whole && item.factors().is_some()
}

/// Whether the answer is held against the pupil's own estimate.
fn compares(item: &Item) -> bool {
    matches!(item.space, Space::Squares { compare: true, .. })
}
