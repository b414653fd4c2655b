//! What is odd about a file of answers as a whole: more pupils or slips than the class has, noughts
//! and ones where answers should be, or another lesson's right answers.

use super::answers::{Answers, CROSS, TICK, marked_items};
use super::question::Question;
use super::read::Read;
use super::written::without_money;
use crate::lesson::Pack;
use crate::report::{Message, Place};
use crate::words::count;
use std::collections::BTreeMap;

/// So many noughts and ones are no chance.
const NOUGHTS_AND_ONES: usize = 6;

/// Warnings; everything is counted all the same.
pub(super) fn doubts(answers: &Answers, pack: &Pack) -> Vec<Message> {
    [more_than_the_class(answers, pack), noughts_and_ones(answers)].into_iter().flatten().collect()
}

/// Another lesson's check whose right answers a file holds.
#[derive(Debug)]
pub struct Fits<'a> {
    /// The pack.
    pub pack: &'a Pack,
    /// One of its items, and its right answer, which stands in the file under another item.
    pub item: String,
    /// See [`Fits::item`].
    pub answer: String,
    /// Whose answer it is, as far as the file says.
    pub place: Option<Place>,
}

/// So many answers at least are a sign.
const SIGN: usize = 3;

/// How often each of a file's answers was given.
pub fn answer_counts(read: &Read) -> BTreeMap<&str, u32> {
    let mut counts: BTreeMap<&str, u32> = BTreeMap::new();
    for (_, answer, times, _) in given(read) {
        let count = counts.entry(without_money(answer).1).or_default();
        *count = count.saturating_add(times);
    }
    counts
}

/// Whether more of a file's answers are wrong than right.
pub fn mostly_wrong(read: &Read, pack: &Pack) -> bool {
    let all: u32 = given(read).map(|(_, _, times, _)| times).fold(0, u32::saturating_add);
    right_for(pack, read).0.saturating_mul(2) < all
}

/// The check for which most of a file's answers are right where they are wrong for the pack that
/// they were given for: items go by their short names, so that X1 is any lesson's.
pub fn fits_another<'a>(read: &Read, pack: &Pack, others: &'a [Pack]) -> Option<Fits<'a>> {
    let all: u32 = given(read).map(|(_, _, times, _)| times).fold(0, u32::saturating_add);
    let here = right_for(pack, read).0;
    let found = others.iter().map(|other| (other, right_for(other, read)));
    let (other, (count, first)) = found.max_by_key(|(_, (count, _))| *count)?;
    let many = usize::try_from(count).unwrap_or(0) >= SIGN && count > all / 2 && count / 2 > here;
    let (item, answer, place) = first.filter(|_| many && mostly_wrong(read, pack))?;
    Some(Fits { pack: other, item, answer, place })
}

/// An item's name without its lesson: X1.
fn short(id: &str) -> &str {
    id.rsplit('-').next().unwrap_or(id)
}

/// A right answer: the item's full name, the answer, and where it stands.
type Right = (String, String, Option<Place>);

/// How many of a file's answers are right for a pack, choices left out, and the first of them.
fn right_for(pack: &Pack, read: &Read) -> (u32, Option<Right>) {
    let items = marked_items(pack);
    let sums = items.iter().filter(|item| item.choices.is_empty());
    let asked: BTreeMap<&str, Question> =
        sums.map(|item| (short(&item.id), Question::of(item))).collect();
    let mut first = None;
    let mut count: u32 = 0;
    for (item, answer, times, place) in given(read) {
        let Some(question) = asked.get(short(item)) else { continue };
        if question.is_right(&question.meant(answer)) {
            count = count.saturating_add(times);
            let told = || (question.item.id.clone(), answer.to_owned(), place.cloned());
            first.get_or_insert_with(told);
        }
    }
    (count, first)
}

/// The answers of a file that are no mere tick or cross, how often each, and where.
fn given(read: &Read) -> impl Iterator<Item = (&str, &str, u32, Option<&Place>)> {
    let single = read.answers.pupils.iter().flat_map(|(pupil, row)| {
        let place = read.place_of(pupil);
        row.iter()
            .filter_map(move |(item, given)| Some((item.as_str(), given.as_deref()?, 1, place)))
    });
    let piles = read.answers.piles.iter().map(|p| {
        (p.item.as_str(), p.answer.as_str(), p.count, read.place_of_pile(&p.item, &p.answer))
    });
    single.chain(piles).filter(|(_, answer, ..)| !matches!(*answer, TICK | CROSS))
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
