//! How often one sheet asks alike.

use crate::kinds::sort;
use crate::sheets::sheets;
use crate::terms::{none_of, terms};
use rungwise::exercise::Item;
use std::collections::BTreeMap;

/// What asks for work and not for an answer to a question.
const WORK: [&str; 6] = [
    "sum in the head",
    "sum on a place-value chart",
    "written product",
    "estimate",
    "story sum",
    "think: one row only",
];

/// The skills whose own lessons ask one form of question as often as it takes.
const ABOUT_A_QUESTION: [&str; 6] = [
    "words-of-the-trade",
    "reading-large-numbers",
    "which-is-nearer",
    "digits-of-a-product",
    "checking-a-product",
    "choosing-a-method",
];

/// Where it cannot hold: the check of a catch-up that goes over three skills asks each of them as
/// often as it has room for, and one of the three is told by one form of question only.
const CHECKS_OF_THREE_SKILLS: [(usize, &str); 2] = [(0, "L57-X"), (1, "L17-X")];

/// No form of question but the lesson's own stands on a sheet more than four times, nor is more
/// than a quarter of it (the warm-up stands on the sheets of practice); one of a form may always stand there.
#[test]
fn no_sheet_asks_alike_again_and_again() {
    let (mut found, mut seen) = (Vec::new(), 0);
    for (number, term) in terms().iter().enumerate() {
        for pack in &term.packs {
            let own = pack.skill.as_deref().filter(|skill| ABOUT_A_QUESTION.contains(skill));
            for (sheet, items) in sheets(pack).into_iter().filter(|s| !s.1.is_empty()) {
                seen += 1;
                let mut counts: BTreeMap<&str, usize> = BTreeMap::new();
                let counted = |i: &&&Item| own != Some(i.skill.as_str());
                for item in items.iter().filter(counted) {
                    *counts.entry(sort(item)).or_default() += 1;
                }
                let most = (items.len() / 4).clamp(1, 4);
                let checks_three = CHECKS_OF_THREE_SKILLS.contains(&(number, sheet.as_str()));
                for (form, count) in counts {
                    let most = if checks_three { 3 } else { most };
                    if !WORK.contains(&form) && count > most {
                        let of = items.len();
                        let skill = pack.skill.as_deref().unwrap_or("no skill of its own");
                        found.push(format!("{number} {sheet} ({skill}): {form}, {count} of {of}"));
                    }
                }
            }
        }
    }
    none_of(&found);
    assert!(seen > 500, "{seen}");
}
