//! What is said and asked stands on what was said and taught before it.

use crate::terms::{Term, all_items, items, none_of, terms};
use rungwise::exercise::{Item, Kind, Working};
use rungwise::method::{HouseStyle, Long, long_words};
use rungwise::number::digit_count;
use std::collections::BTreeSet;

/// The digits of the longer and of the shorter factor.
type Size = (u32, u32);

fn size(a: u64, b: u64) -> Size {
    (digit_count(a.max(b)), digit_count(a.min(b)))
}

/// The size of the products that a written skill teaches; none for other skills.
fn taught_by(skill: &str) -> Option<Size> {
    Some(match skill {
        "short-two-by-one" => (2, 1),
        "short-three-by-one" => (3, 1),
        "zeros-in-multiplicand" | "short-four-by-one" => (4, 1),
        "grid-two-by-two" | "long-two-by-two" => (2, 2),
        "lattice" | "long-three-by-two" => (3, 2),
        "long-four-by-two" => (4, 2),
        "long-three-by-three" | "zeros-in-multiplier" => (3, 3),
        "long-four-by-three" => (4, 3),
        _ => return None,
    })
}

/// The numbers of a text that stand about a "×", in pairs.
fn products(text: &str) -> Vec<(u64, u64)> {
    let parts: Vec<&str> = text.split('×').collect();
    let plain = |s: &str| s.replace([',', '\u{a0}', '\u{202f}'], "");
    let last = |s: &str| {
        let s = plain(s.trim_end());
        let from = s.rfind(|c: char| !c.is_ascii_digit()).map_or(0, |at| at + 1);
        let from = s.char_indices().map(|(i, _)| i).find(|&i| i >= from).unwrap_or(s.len());
        s[from..].parse().ok()
    };
    let first = |s: &str| {
        let s = plain(s.trim_start());
        s.split(|c: char| !c.is_ascii_digit()).next().and_then(|n| n.parse().ok())
    };
    parts.windows(2).filter_map(|w| Some((last(w[0])?, first(w[1])?))).collect()
}

fn long_of(item: &Item) -> Option<&Long> {
    match &item.working {
        Working::Long(long) | Working::Story { long: Some(long), .. } => Some(long),
        _ => None,
    }
}

/// The products that an item has worked out, or speaks of where its skill is a written one.
fn asked(item: &Item) -> Vec<(u64, u64)> {
    let mut found: Vec<(u64, u64)> = match &item.working {
        Working::Grid(grid) => vec![(grid.a, grid.b)],
        Working::Lattice(lattice) => vec![(lattice.a, lattice.b)],
        _ => long_of(item).map(|long| (long.a, long.b)).into_iter().collect(),
    };
    // What is had from a known product by doubling is not worked out.
    let known = item.prompt.contains(['=', '?']) && item.prompt.matches('×').count() > 1;
    if taught_by(&item.skill).is_some() && item.kind != Kind::Mental && !known {
        found.extend(products(&item.prompt));
        found.extend(item.choices.iter().flat_map(|c| products(&c.text)));
    }
    // A round number is multiplied in the head.
    found.retain(|&(a, b)| a % 10 != 0 && b % 10 != 0 || a.min(b) > 100);
    found
}

#[test]
fn no_sheet_asks_for_longer_numbers_than_were_taught() {
    let (mut found, mut seen) = (Vec::new(), 0);
    for Term { packs, .. } in terms() {
        let mut taught: BTreeSet<Size> = BTreeSet::new();
        for pack in packs {
            taught.extend(pack.skill.as_deref().and_then(taught_by));
            for item in items(pack) {
                for (a, b) in asked(item) {
                    let (long, short) = size(a, b);
                    seen += 1;
                    if short > 1 && !taught.iter().any(|t| t.0 >= long && t.1 >= short) {
                        found
                            .push(format!("{} {}: {a} × {b} {}", item.id, item.skill, item.prompt));
                    }
                }
            }
        }
    }
    none_of(&found);
    assert!(seen > 1500, "{seen}");
}

/// The carries that a row says it makes or adds, in order: "carry 2", "and 2 is".
#[test]
fn a_carry_that_is_added_in_a_worked_example_was_said_before() {
    let style = HouseStyle::default();
    let (mut found, mut seen) = (Vec::new(), 0);
    for item in all_items() {
        let Some(long) = long_of(item) else { continue };
        for entry in long_words(long, &style).iter().skip(2) {
            let text = entry.join(" ");
            let mut said = None;
            for step in
                text.split_inclusive(['.', ':', ',']).map(|s| s.trim_matches([' ', '.', ':', ',']))
            {
                let words: Vec<&str> = step.split(' ').collect();
                match words.as_slice() {
                    ["and", added, "is", _] => {
                        seen += 1;
                        if said != Some(*added) {
                            found.push(format!("{} {}: {text}", item.id, item.prompt));
                        }
                        said = None;
                    }
                    [.., "carry", carried] => said = Some(*carried),
                    ["carry", carried, ..] => said = Some(*carried),
                    _ => {}
                }
            }
        }
    }
    none_of(&found);
    assert!(seen > 200, "{seen}");
}
