//! Two patterns at once: what they answer in one sum, and what they look like on paper.

use super::answers::Answers;
use super::diagnose::Observation;
use super::marks::{ItemMark, PupilMark};
use super::question::{Question, method_of};
use super::shown::{Shown, shown};
use crate::exercise::Item;
use crate::exercise::patterns::{
    Family, Task, all_that_stand_together, both_answers, both_show, pattern, show_both,
};
use crate::method::Written;
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

/// What a pupil has on the page with whom two patterns are named.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Together {
    /// Both in one sum; null where no marked item can show that.
    pub in_one: Option<Shown>,
    /// Whether the pupil gave that answer; else it is what both would look like there.
    pub given: bool,
    /// Where the pupil did not do both in one sum: each as given in a sum of its own, by pattern in
    /// the order named.
    pub each: IndexMap<String, Shown>,
}

/// By which method both are done in an item.
fn method(item: &Item) -> Written {
    method_of(item).unwrap_or(Written::Long)
}

/// What a pupil writes who does both in this item; empty where they cannot be put together, or
/// where the answer is the right one.
pub(super) fn together(item: &Item, first: &str, second: &str) -> Vec<u64> {
    let (Some(first), Some(second)) = (pattern(first), pattern(second)) else { return Vec::new() };
    let Some(task) = Task::of(item) else { return Vec::new() };
    both_answers(task, method(item), first, second)
}

/// The two patterns behind an answer.
pub(super) type Both = (&'static str, &'static str);

/// By answer: which two patterns in one sum give it, neither being a single fact.
pub(super) fn all_together(item: &Item) -> IndexMap<String, Vec<Both>> {
    let mut found: IndexMap<String, Vec<Both>> = IndexMap::new();
    let Some(task) = Task::of(item) else { return found };
    let two = all_that_stand_together().filter(|(one, _)| one.family != Family::SingleFact);
    for (one, other) in two {
        for answer in both_answers(task, method(item), one, other) {
            found.entry(answer.to_string()).or_default().push((one.name, other.name));
        }
    }
    found
}

/// Both in this item, with this answer or with any; `None` where they do not show together there.
fn shown_together(item: &Item, [one, other]: [&str; 2], given: Option<&str>) -> Option<Shown> {
    let (one, other) = (pattern(one)?, pattern(other)?);
    let (task, method) = (Task::of(item)?, method(item));
    let wanted = |answer: &u64| given.is_none_or(|given| answer.to_string() == given);
    let answer = both_show(task, method, one, other).into_iter().find(wanted)?;
    let working = show_both(task, method, (one, other), answer)?;
    Some(Shown { item: item.id.clone(), sum: item.prompt.clone(), working })
}

/// What two named patterns look like on paper: both in one sum as the pupil gave it, of the newest
/// check if it can be; else each in a sum of its own, and both in an item where they would show.
pub(super) fn on_paper(names: [&str; 2], all: &[Observation]) -> Together {
    let (newest, earlier): (Vec<_>, Vec<_>) = all.iter().partition(|s| s.newest);
    let seen = || newest.iter().chain(&earlier).copied();
    let wrong = || seen().filter(|s| !s.right());
    let given = wrong().find_map(|s| shown_together(s.question.item, names, Some(&s.given)));
    if given.is_some() {
        return Together { in_one: given, given: true, each: IndexMap::new() };
    }
    let own = |name: &str| {
        let working = wrong().find_map(|s| shown(s.question.item, name, &s.given))?;
        Some((name.to_owned(), working))
    };
    Together {
        in_one: seen().find_map(|s| shown_together(s.question.item, names, None)),
        given: false,
        each: names.into_iter().filter_map(own).collect(),
    }
}

/// Says of the answers that no pattern gives which two give them together, where both are named for a
/// pupil who gave one.
pub(super) fn give_both(
    marks: &mut [ItemMark],
    questions: &[Question],
    answers: &Answers,
    pupils: &[PupilMark],
) {
    for pupil in pupils {
        let names = pupil.named.as_deref().zip(pupil.named_also.as_deref());
        let (Some((one, other)), Some(row)) = (names, answers.pupils.get(&pupil.pupil)) else {
            continue;
        };
        for (mark, question) in marks.iter_mut().zip(questions) {
            let Some(Some(given)) = row.get(&mark.id) else { continue };
            let given = question.meant(given);
            let here = mark.wrong.iter_mut().find(|pile| pile.answer == given);
            let Some(pile) = here.filter(|pile| pile.patterns.is_empty()) else { continue };
            let both = together(question.item, one, other);
            if both.iter().any(|answer| answer.to_string() == given) {
                pile.together.get_or_insert_with(|| [one.to_owned(), other.to_owned()]);
            }
        }
    }
}
