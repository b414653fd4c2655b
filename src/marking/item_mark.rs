//! What a class answered to one item: how many got it right, what the others wrote and how often.

use super::answers::Answers;
use super::marks::{ItemMark, OtherUnit, WrongPile};
use super::question::Question;
use super::units::other_unit;
use indexmap::IndexMap;

/// From so many answers on an item can look suspicious; from so many different wrong ones (defaults
/// without a source).
const MANY: u32 = 5;
const MANY_WAYS: usize = 4;

/// Counts the answers to one item.
pub(super) fn item_mark(question: &Question, answers: &Answers) -> ItemMark {
    let id = &question.item.id;
    let single = answers.pupils.iter();
    let single = single.filter_map(|(pupil, given)| Some((given.get(id)?.as_deref()?, 1, pupil)));
    let piles = answers.piles.iter().filter(|p| p.item == *id);
    let nobody = String::new();
    let given = single.chain(piles.map(|p| (p.answer.as_str(), p.count, &nobody)));
    let mut right: u32 = 0;
    let mut wrong: IndexMap<String, u32> = IndexMap::new();
    let mut other_units: Vec<OtherUnit> = Vec::new();
    for (answer, count, pupil) in given {
        let meant = question.meant(answer);
        if question.is_right(&meant) {
            right = right.saturating_add(count);
            if let Some(units) = other_unit(question.item, answer) {
                note_unit(&mut other_units, units, count, pupil);
            }
        } else {
            let sum = wrong.entry(meant).or_insert(0);
            *sum = sum.saturating_add(count);
        }
    }
    let mut wrong: Vec<WrongPile> = wrong
        .into_iter()
        .map(|(answer, count)| {
            let patterns = question.patterns_of(&answer);
            let otherwise = if patterns.is_empty() { question.otherwise(&answer) } else { None };
            let turned = question.turned(&answer);
            WrongPile { answer, count, patterns, turned, otherwise, together: None }
        })
        .collect();
    wrong.sort_by_key(|pile| std::cmp::Reverse(pile.count));
    let missed = wrong.iter().fold(0_u32, |n, w| n.saturating_add(w.count));
    let commonest = wrong.first().map_or(0, |w| w.count);
    // Many wrong, in many ways, and no way that a third of them share.
    let suspicious = missed >= right
        && missed.saturating_add(right) >= MANY
        && wrong.len() >= MANY_WAYS
        && commonest.saturating_mul(3) <= missed;
    ItemMark { id: id.clone(), right, wrong, suspicious, other_units }
}

fn note_unit(
    all: &mut Vec<OtherUnit>,
    (unit, instead_of): (String, String),
    count: u32,
    pupil: &str,
) {
    let at = all.iter().position(|o| o.unit == unit).unwrap_or_else(|| {
        all.push(OtherUnit { unit, instead_of, count: 0, pupils: Vec::new() });
        all.len() - 1
    });
    all[at].count = all[at].count.saturating_add(count);
    all[at].pupils.extend((!pupil.is_empty()).then(|| pupil.to_owned()));
}
