//! Pupils who may be helped together: as many groups as one teacher can take.

use super::marks::{ItemMark, PupilMark, WrongPile};
use crate::exercise::Item;
use crate::method::Written;
use indexmap::{IndexMap, IndexSet};
use serde::{Deserialize, Serialize};

pub use crate::lesson::MOST_GROUPS;

/// From which probability on a pupil may well have a group's pattern (a default without a source).
const FITS: f64 = 0.05;

/// Pupils who may be helped together.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Group {
    /// The group's number, from 1: `pack --group 1` makes its sheet.
    #[serde(default)]
    pub number: u32,
    /// The pattern that is their most probable one, at least one half.
    pub pattern: String,
    /// Where the check cannot tell which of several patterns it is: all of them, that one first.
    #[serde(default)]
    pub one_of: Vec<String>,
    /// The skill whose items show it.
    #[serde(default)]
    pub skill: String,
    /// The skills whose items show it, that one first: of a test or a check of several there may be
    /// more than one.
    #[serde(default)]
    pub skills: Vec<String>,
    /// The pupils' labels, in the order of the file; none where slips were counted in piles.
    pub pupils: Vec<String>,
    /// Those of them who have too little to name it: only perhaps it is theirs.
    #[serde(default)]
    pub unsure: Vec<String>,
    /// The method it shows in, where the items ask for another one.
    #[serde(default)]
    pub method: Option<Written>,
    /// How many slips show it, where slips were counted in piles: so many pupils at most.
    #[serde(default)]
    pub slips: u32,
    /// The answers that show it, by item, where slips were counted in piles: what to sort them by.
    #[serde(default)]
    pub sort_by: Vec<(String, Vec<String>)>,
}

impl Group {
    /// Whether it is only a suspicion: the pattern is named for none of the pupils, nor is it known
    /// to be one of several.
    pub fn is_perhaps(&self) -> bool {
        !self.pupils.is_empty() && self.unsure.len() == self.pupils.len()
    }
    /// How many pupils are in it, as far as is known.
    pub fn size(&self) -> usize {
        self.pupils.len().max(usize::try_from(self.slips).unwrap_or(usize::MAX))
    }
}

/// The groups of pupils, by number.
#[derive(Debug, Default)]
pub(super) struct Groups {
    /// As many as a teacher can take, largest first.
    pub now: Vec<Group>,
    /// Those for which there is no time now, numbered on; some of one pupil.
    pub waiting: Vec<Group>,
}

impl Groups {
    /// The pupils who wait alone, in the order of the file.
    pub fn alone(&self, pupils: &[PupilMark]) -> Vec<String> {
        let single = self.waiting.iter().filter(|group| group.size() == 1);
        let labels: Vec<&String> = single.flat_map(|group| &group.pupils).collect();
        let alone = pupils.iter().map(|p| &p.pupil).filter(|label| labels.contains(label));
        alone.cloned().collect()
    }
}

/// What a pupil may be grouped for, each likelier than not: the likeliest pattern, and one that
/// stands beside it as likely; or all of which it is one.
fn grouped_for(pupil: &PupilMark) -> Vec<Vec<&str>> {
    if !pupil.one_of.is_empty() {
        return vec![pupil.one_of.iter().map(String::as_str).collect()];
    }
    let first = pupil.leading();
    let said = |name: &str| {
        let own = pupil.patterns.iter().find(|s| s.name == name);
        own.map(|suspect| (suspect.probability * 100.0).round())
    };
    let beside = pupil.named_also.as_deref().filter(|also| said(also) == first.and_then(said));
    first.into_iter().chain(beside).map(|name| vec![name]).collect()
}

/// The groups of these pupils, largest first. Nobody is in two: of two patterns that are as likely
/// the one with the larger group counts. Who has no named pattern and no group, but may well have a
/// group's pattern too, is taken into it.
pub(super) fn groups(pupils: &[PupilMark], items: &[&Item]) -> Groups {
    let choices: Vec<(&PupilMark, Vec<Vec<&str>>)> =
        pupils.iter().map(|pupil| (pupil, grouped_for(pupil))).collect();
    let mut sizes: IndexMap<&[&str], usize> = IndexMap::new();
    for names in choices.iter().flat_map(|(_, choices)| choices) {
        *sizes.entry(names.as_slice()).or_insert(0) += 1;
    }
    let mut found: IndexMap<Vec<&str>, Vec<&PupilMark>> = IndexMap::new();
    for (pupil, own) in &choices {
        // `max_by_key` takes the last of equals.
        if let Some(names) = own.iter().rev().max_by_key(|names| sizes[names.as_slice()]) {
            found.entry(names.clone()).or_default().push(pupil);
        }
    }
    let mut kept: Vec<(Vec<&str>, Vec<&PupilMark>)> = found.into_iter().collect();
    kept.sort_by_key(|(_, pupils)| std::cmp::Reverse(pupils.len()));
    let mut rest = kept.split_off(kept.len().min(MOST_GROUPS));
    for (_, waiting) in &mut rest {
        waiting.retain(|pupil| {
            let fits =
                |name: &str| pupil.patterns.iter().any(|s| s.name == name && s.probability >= FITS);
            let fits = |names: &[&str]| pupil.named.is_none() && names.iter().all(|n| fits(n));
            let taken = kept.iter_mut().find(|(names, _)| fits(names));
            let waits = taken.is_none();
            if let Some((_, group)) = taken {
                group.push(pupil);
            }
            waits
        });
    }
    rest.retain(|(_, pupils)| !pupils.is_empty());
    rest.sort_by_key(|(_, pupils)| std::cmp::Reverse(pupils.len()));
    let order = |label: &String| pupils.iter().position(|p| p.pupil == *label);
    let group = |(number, (names, members)): (u32, (Vec<&str>, Vec<&PupilMark>))| {
        let pattern = names[0];
        let one_of = if names.len() > 1 { &names[..] } else { &[] };
        let mut labels: Vec<String> = members.iter().map(|p| p.pupil.clone()).collect();
        labels.sort_by_key(order);
        let unsure = |p: &&&PupilMark| p.named.is_none() && one_of.is_empty();
        let mut unsure: Vec<String> =
            members.iter().filter(unsure).map(|p| p.pupil.clone()).collect();
        unsure.sort_by_key(order);
        let skills = skills_of(pattern, &members, items);
        Group {
            number,
            pattern: pattern.to_owned(),
            one_of: one_of.iter().map(|&name| name.to_owned()).collect(),
            skill: skills.first().cloned().unwrap_or_default(),
            skills,
            pupils: labels,
            unsure,
            method: None,
            slips: 0,
            sort_by: Vec::new(),
        }
    };
    let count = kept.len();
    let mut now: Vec<Group> = (1..).zip(kept.into_iter().chain(rest)).map(group).collect();
    let waiting = now.split_off(count);
    Groups { now, waiting }
}

/// From so many slips on one item a pattern makes a group of slips; from fewer where it shows on
/// more items than one (defaults without a source).
const SLIPS: u32 = 3;

/// Groups by answer, where slips were counted in piles and nobody is known: every pile goes to the
/// pattern that most slips of all items fit, and a group is as large as its largest pile.
pub(super) fn by_answer(marks: &[ItemMark], items: &[&Item]) -> Vec<Group> {
    let mut piles: Vec<(usize, &WrongPile)> = marks
        .iter()
        .enumerate()
        .flat_map(|(at, mark)| mark.wrong.iter().map(move |pile| (at, pile)))
        .filter(|(_, pile)| !pile.given_by().0.is_empty())
        .collect();
    let mut groups: Vec<Group> = Vec::new();
    while groups.len() < MOST_GROUPS {
        let mut fit: IndexMap<&str, u32> = IndexMap::new();
        for (_, pile) in &piles {
            for name in pile.given_by().0 {
                let slips = fit.entry(name).or_insert(0);
                *slips = slips.saturating_add(pile.count);
            }
        }
        // `max_by_key` takes the last of equals: the catalogue's first comes first.
        let Some((&name, _)) = fit.iter().rev().max_by_key(|&(_, &slips)| slips) else { break };
        let (own, rest): (Vec<_>, Vec<_>) = piles
            .iter()
            .copied()
            .partition(|(_, pile)| pile.given_by().0.iter().any(|p| p == name));
        let slips = own.iter().map(|(_, pile)| pile.count).max().unwrap_or(0);
        let on_several = own.iter().any(|&(at, _)| at != own[0].0);
        if slips >= SLIPS || (on_several && slips > 1) {
            let mut by_size = own.clone();
            by_size.sort_by_key(|(_, pile)| std::cmp::Reverse(pile.count));
            let skills: IndexSet<&str> =
                by_size.iter().filter_map(|(at, _)| Some(items.get(*at)?.skill.as_str())).collect();
            let mut sort_by: IndexMap<&str, Vec<String>> = IndexMap::new();
            for (at, pile) in &own {
                sort_by.entry(&marks[*at].id).or_default().push(pile.answer.clone());
            }
            groups.push(Group {
                number: 0,
                pattern: name.to_owned(),
                one_of: Vec::new(),
                skill: skills.first().map(|&skill| skill.to_owned()).unwrap_or_default(),
                skills: skills.into_iter().take(MOST_SKILLS).map(str::to_owned).collect(),
                pupils: Vec::new(),
                unsure: Vec::new(),
                method: one_method(own.iter().map(|(_, pile)| pile.given_by().1)),
                slips,
                sort_by: sort_by.into_iter().map(|(id, all)| (id.to_owned(), all)).collect(),
            });
        }
        piles = rest;
        if piles.is_empty() {
            break;
        }
    }
    groups.sort_by_key(|group| std::cmp::Reverse(group.slips));
    for (group, number) in groups.iter_mut().zip(1..) {
        group.number = number;
    }
    groups
}

/// A wrong answer to one item that a known pattern gives.
pub(super) struct Alike<'a> {
    pub skill: &'a str,
    pub patterns: Vec<String>,
    /// The method they show in, where the item asks for another one.
    pub method: Option<Written>,
    /// Who gave it.
    pub pupils: Vec<&'a PupilMark>,
}

/// Who gave one of a pattern's answers.
#[derive(Default)]
struct Fit<'a> {
    pupils: IndexSet<&'a str>,
    skills: IndexSet<&'a str>,
    methods: Vec<Option<Written>>,
    /// How likely it is theirs, added up.
    likely: f64,
}

impl Fit<'_> {
    fn before(&self, other: &Fit) -> bool {
        let (own, theirs) = (self.pupils.len(), other.pupils.len());
        own > theirs || (own == theirs && self.likely >= other.likely)
    }
}

impl Groups {
    /// Where pupils who stand in no group gave the same wrong answer, so many as make a group of
    /// slips, and a known pattern gives it, they are perhaps a group, though each alone shows too
    /// little.
    pub fn with_perhaps(self, alike: &[Alike], pupils: &[PupilMark]) -> Groups {
        let count = self.now.len() + self.waiting.len();
        let mut all: Vec<Group> = self.now.into_iter().chain(self.waiting).collect();
        while let Some(group) = perhaps(&all, alike, pupils) {
            all.push(group);
        }
        if all.len() > count {
            all.sort_by_key(|group| std::cmp::Reverse(group.size()));
        }
        for (group, number) in all.iter_mut().zip(1..) {
            group.number = number;
        }
        let waiting = all.split_off(all.len().min(MOST_GROUPS));
        Groups { now: all, waiting }
    }
}

/// The largest group of who is in none of these.
fn perhaps(groups: &[Group], alike: &[Alike], pupils: &[PupilMark]) -> Option<Group> {
    let taken: IndexSet<&str> = groups.iter().flat_map(|g| &g.pupils).map(String::as_str).collect();
    let mut found: IndexMap<&str, Fit> = IndexMap::new();
    for pile in alike {
        let free: Vec<&PupilMark> =
            pile.pupils.iter().copied().filter(|p| !taken.contains(p.pupil.as_str())).collect();
        if free.len() < usize::try_from(SLIPS).unwrap_or(usize::MAX) {
            continue;
        }
        for name in &pile.patterns {
            let fit = found.entry(name).or_default();
            fit.skills.insert(pile.skill);
            fit.methods.push(pile.method);
            for pupil in &free {
                fit.pupils.insert(&pupil.pupil);
                let suspect = pupil.patterns.iter().find(|s| s.name == *name);
                fit.likely += suspect.map_or(0.0, |s| s.probability);
            }
        }
    }
    let (name, fit) =
        found.into_iter().reduce(|one, other| if one.1.before(&other.1) { one } else { other })?;
    let label = |p: &PupilMark| fit.pupils.contains(p.pupil.as_str()).then(|| p.pupil.clone());
    let labels: Vec<String> = pupils.iter().filter_map(label).collect();
    let skills: Vec<String> = fit.skills.into_iter().take(MOST_SKILLS).map(str::to_owned).collect();
    Some(Group {
        number: 0,
        pattern: name.to_owned(),
        one_of: Vec::new(),
        skill: skills.first().cloned().unwrap_or_default(),
        skills,
        unsure: labels.clone(),
        pupils: labels,
        method: one_method(fit.methods.into_iter()),
        slips: 0,
        sort_by: Vec::new(),
    })
}

/// The other method, where all answers come from it and none from the items' own.
fn one_method(mut all: impl Iterator<Item = Option<Written>>) -> Option<Written> {
    let first = all.next().flatten()?;
    all.all(|method| method.is_some()).then_some(first)
}

/// So many skills a group's sheet deals from at most.
const MOST_SKILLS: usize = 3;

/// The skills whose items the pattern explains, most often first.
fn skills_of(pattern: &str, members: &[&PupilMark], items: &[&Item]) -> Vec<String> {
    let mut counts: IndexMap<&str, usize> = IndexMap::new();
    let suspects = members.iter().flat_map(|p| &p.patterns).filter(|s| s.name == pattern);
    for id in suspects.flat_map(|s| &s.items) {
        if let Some(item) = items.iter().find(|item| item.id == *id) {
            *counts.entry(&item.skill).or_insert(0) += 1;
        }
    }
    counts.sort_by(|_, one, _, other| other.cmp(one));
    let all = counts.into_keys().take(MOST_SKILLS).map(str::to_owned);
    let all: Vec<String> = all.collect();
    let first = || items.first().map(|item| item.skill.clone());
    if all.is_empty() { first().into_iter().collect() } else { all }
}
