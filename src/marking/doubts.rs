//! What is odd about a file of answers as a whole: more pupils or slips than the class has, or noughts
//! and ones where answers should be.

use super::Answers;
use crate::lesson::Pack;
use crate::report::Message;
use crate::words::count;
use std::collections::BTreeMap;

/// So many noughts and ones are no chance.
const NOUGHTS_AND_ONES: usize = 6;

/// Warnings; everything is counted all the same.
pub(super) fn doubts(answers: &Answers, pack: &Pack) -> Vec<Message> {
    [more_than_the_class(answers, pack), noughts_and_ones(answers)].into_iter().flatten().collect()
}

fn more_than_the_class(answers: &Answers, pack: &Pack) -> Option<Message> {
    let class = usize::try_from(pack.heading.pupils).ok().filter(|pupils| *pupils > 0)?;
    let mut slips: BTreeMap<&str, usize> = BTreeMap::new();
    for pile in &answers.piles {
        let all = slips.entry(&pile.item).or_default();
        *all = all.saturating_add(usize::try_from(pile.count).unwrap_or(usize::MAX));
    }
    let most = slips.into_iter().max_by_key(|(_, all)| *all);
    let here = answers.pupils.len();
    let found = match most {
        _ if here > class => count(here, "pupil"),
        Some((item, all)) if all > class => format!("{} for `{item}`", count(all, "slip")),
        _ => return None,
    };
    let text = format!("the file has {found}, and the class has {}", count(class, "pupil"));
    let hint = "if it is another class's, `rungwise undo` takes the marking back; if the class has \
                grown, change `class.pupils` in plan.toml";
    Some(Message::warning(text).hint(hint))
}

/// Right and wrong are often written 1 and 0: nobody answers a whole check so.
fn noughts_and_ones(answers: &Answers) -> Option<Message> {
    let given = answers.pupils.values().flat_map(|items| items.values().flatten());
    let all: Vec<&str> = given.map(String::as_str).collect();
    let only = all.iter().all(|answer| matches!(*answer, "0" | "1"));
    if all.len() < NOUGHTS_AND_ONES || !only {
        return None;
    }
    let text = "every answer is 0 or 1, and all of them are counted as wrong".to_owned();
    let hint = "if 1 means right, write `.` or ✓ for it and x for wrong, or what was answered, and \
                mark again";
    Some(Message::warning(text).hint(hint))
}
