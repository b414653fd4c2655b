//! Sums for a group most of whom make two mistakes at once: as many as can be on which both would
//! show; of the others about half for the one and half for the other.

use super::{Dealt, ForGroup, LIKELY, Making, tell_first};
use crate::exercise::makers;
use crate::exercise::patterns::{Pattern, Task, both_show, stand_together};
use crate::exercise::{Item, Kind, Likely};
use crate::lesson::Fault;
use crate::lesson::bench::sameness;
use crate::lesson::mending;
use crate::lesson::mixing::interleave;
use crate::method::Written;
use std::collections::BTreeSet;

/// So many wrong answers of each of the two stand in the key.
const OF_EACH: usize = 2;
/// What the key says of an answer that both together give.
const BOTH: &str = "both at once";
/// From so many sums on which both show none is made for one of them only.
const ENOUGH: usize = 5;

/// The worked example and the practice of a skill, for one mistake or for two.
pub fn items(wish: &ForGroup, skill: &str) -> Result<Dealt, Fault> {
    let own = Making::of(wish, skill);
    let Some(also) = wish.also else { return own.items() };
    let (mut examples, mut practice) = Making::of(wish, skill).for_both()?;
    if practice.iter().filter(|item| item.kind == Kind::Written).count() >= ENOUGH {
        return Ok((examples, practice));
    }
    let turned = ForGroup { pattern: Some(also), also: wish.pattern, ..*wish };
    let other = Making::of(&turned, skill);
    let apart = [own.of_this(own.items()?), other.of_this(other.items()?)];
    if examples.is_empty() {
        let worked = || apart.iter().flat_map(|(examples, _)| examples);
        let both = |item: &&Item| own.meets(item) && other.meets(item);
        examples.extend(worked().find(both).or(worked().next()).cloned());
    }
    let mut have: BTreeSet<String> = examples.iter().chain(&practice).map(sameness).collect();
    let [one, two] = apart.map(|(_, practice)| practice);
    let rest = rest_of([one, two], |item| own.meets(item) && other.meets(item));
    practice.extend(rest.into_iter().filter(|item| have.insert(sameness(item))));
    Ok((examples, practice))
}

/// The sums of both lists in turn, those on which both show first.
fn rest_of(lists: [Vec<Item>; 2], both: impl Fn(&Item) -> bool) -> Vec<Item> {
    let sorted = lists.map(|mut list| {
        list.sort_by_key(|item| (item.kind == Kind::Row, !item.is_begun(), !both(item)));
        list
    });
    interleave(sorted.into())
}

impl Making<'_> {
    /// Written sums on which both would show; none where there are too few.
    fn for_both(mut self) -> Result<Dealt, Fault> {
        self.both = true;
        let dealt = if makers::known(&self.maker) { self.written_sums()? } else { None };
        let (mut examples, mut practice) = dealt.unwrap_or_default();
        examples.iter_mut().chain(&mut practice).for_each(|item| self.tell(item));
        Ok((examples, practice))
    }

    /// Of what was dealt that on which this one shows.
    fn of_this(&self, (mut examples, mut practice): Dealt) -> Dealt {
        examples.retain(|item| self.meets(item));
        practice.retain(|item| self.meets(item));
        (examples, practice)
    }

    /// The two mistakes, where both are known.
    fn two(&self) -> Option<(&'static Pattern, &'static Pattern)> {
        self.pattern.zip(self.also)
    }

    /// Whether both would show on this sum: in one answer of its own where they can stand together,
    /// else each by itself.
    pub(super) fn both_show_on(&self, (a, b): (u64, u64)) -> bool {
        let Some((one, other)) = self.two() else { return false };
        let method = makers::method_of(&self.maker).unwrap_or(Written::Long);
        let here = |p: &Pattern| {
            mending::shows(p, a, b) && !self.written_wrong(p, (a, b), method).is_empty()
        };
        let apart = !stand_together(one, other);
        let task = Task::Written(a, b);
        (apart || !both_show(task, method, one, other).is_empty()) && here(one) && here(other)
    }

    /// Whether both would show on this item.
    pub(super) fn meets_both(&self, item: &Item) -> bool {
        let Some((one, other)) = self.two() else { return false };
        let each = [one, other].iter().all(|p| !self.wrong(item, p).is_empty());
        each && (!stand_together(one, other) || !self.both_wrong(item).is_empty())
    }

    /// What both together give to the item in one answer.
    fn both_wrong(&self, item: &Item) -> Vec<u64> {
        let (Some((one, other)), Some(task)) = (self.two(), Task::of(item)) else {
            return Vec::new();
        };
        if [one, other].iter().any(|p| self.wrong(item, p).is_empty()) {
            return Vec::new();
        }
        both_show(task, super::method_of(item), one, other)
    }

    /// Puts what the one gives, what the other gives and what both together give first among the
    /// wrong answers that the key names.
    pub(super) fn tell_two(&self, item: &mut Item) {
        let Some((one, other)) = self.two() else { return };
        // What others give would make the key longer than a page.
        let here = |likely: &Likely| {
            likely.patterns.iter().any(|name| *name == one.name || *name == other.name)
        };
        item.likely.retain(here);
        if let Some(answer) = self.both_wrong(item).first() {
            let answer = answer.to_string();
            let patterns = [one, other].map(|p| p.name.to_owned()).to_vec();
            item.likely.insert(0, Likely { answer, patterns, shows: BOTH.to_owned() });
        }
        for pattern in [other, one] {
            for answer in self.wrong(item, pattern).into_iter().take(OF_EACH).rev() {
                tell_first(item, pattern, answer);
            }
        }
        item.likely.truncate(LIKELY);
    }
}
