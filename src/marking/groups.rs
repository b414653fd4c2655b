//! Pupils who may be helped together: as many groups as one teacher can take. Who wrote a version
//! whose slips were counted in piles is known by the answers on them.

use super::marks::PupilMark;
use super::piles::{Counted, Grouped, SLIPS, Slips, shared};
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
    /// The second pattern, where more than half of the group are named both; none where slips that
    /// nobody is known of may be more.
    #[serde(default)]
    pub also: Option<String>,
    /// The skill whose items show it.
    #[serde(default)]
    pub skill: String,
    /// The skills whose items show it, that one first: of a test or a check of several there may be
    /// more than one.
    #[serde(default)]
    pub skills: Vec<String>,
    /// The pupils' labels, in the order of the file; nobody is known of slips counted in piles.
    pub pupils: Vec<String>,
    /// Those of them who have too little to name it: only perhaps it is theirs.
    #[serde(default)]
    pub unsure: Vec<String>,
    /// The method it shows in, where the items ask for another one.
    #[serde(default)]
    pub method: Option<Written>,
    /// How many slips show it, where slips were counted in piles: so many pupils at most, beside
    /// those who are known.
    #[serde(default)]
    pub slips: u32,
    /// The answers that show it, by item, where slips were counted in piles: what to sort them by.
    #[serde(default)]
    pub sort_by: Vec<(String, Vec<String>)>,
}

impl Group {
    /// Whether it is only a suspicion: the pattern is named for none of the pupils, nor is it known
    /// to be one of several, and no slips make it a group.
    pub fn is_perhaps(&self) -> bool {
        let of_slips = self.slips >= SLIPS || (self.slips > 1 && self.sort_by.len() > 1);
        !self.pupils.is_empty() && self.unsure.len() == self.pupils.len() && !of_slips
    }
    /// How many pupils are in it, as far as is known: those known, and as many as the slips come
    /// from at most.
    pub fn size(&self) -> usize {
        let slips = usize::try_from(self.slips).unwrap_or(usize::MAX);
        self.pupils.len().saturating_add(slips)
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

/// A group while it is put together.
#[derive(Debug)]
struct Forming<'a> {
    names: Vec<&'a str>,
    members: Vec<&'a PupilMark>,
    slips: Slips<'a>,
    /// The method it shows in, where the items ask for another one.
    method: Option<Written>,
}

impl Forming<'_> {
    fn size(&self) -> usize {
        let slips = usize::try_from(self.slips.count()).unwrap_or(usize::MAX);
        self.members.len().saturating_add(slips)
    }

    /// The group, its pupils in the order of the file.
    fn done(self, number: u32, pupils: &[PupilMark], items: &[&Item]) -> Group {
        let size = self.size();
        let Forming { names, mut members, slips, method } = self;
        let pattern = names[0];
        let one_of = if names.len() > 1 { &names[..] } else { &[] };
        members.sort_by_key(|member| pupils.iter().position(|p| p.pupil == member.pupil));
        let labels = |all: &mut dyn Iterator<Item = &&PupilMark>| -> Vec<String> {
            all.map(|p| p.pupil.clone()).collect()
        };
        let unsure = |p: &&&PupilMark| p.named.is_none() && one_of.is_empty();
        let also = if one_of.is_empty() { also(pattern, &members, size) } else { None };
        let mut skills: IndexSet<String> =
            skills_of(pattern, &members, items).into_iter().chain(slips.skills()).collect();
        skills.extend(also.into_iter().flat_map(|name| skills_of(name, &members, items)));
        if skills.is_empty() {
            skills.extend(items.first().map(|item| item.skill.clone()));
        }
        Group {
            number,
            pattern: pattern.to_owned(),
            one_of: one_of.iter().map(|&name| name.to_owned()).collect(),
            also: also.map(str::to_owned),
            skill: skills.first().cloned().unwrap_or_default(),
            skills: skills.into_iter().take(MOST_SKILLS).collect(),
            pupils: labels(&mut members.iter()),
            unsure: labels(&mut members.iter().filter(unsure)),
            method,
            slips: slips.count(),
            sort_by: slips.sort_by(),
        }
    }
}

/// The groups of these pupils and of the slips of who wrote a version that was counted in piles,
/// largest first. Nobody is in two: of two patterns that are as likely the one with the larger group
/// counts. Who has no named pattern and no group, but may well have a group's pattern too, is taken
/// into it.
pub(super) fn groups<'a>(
    pupils: &'a [PupilMark],
    piles: Vec<Counted<'a>>,
    alike: &[Alike<'a>],
    items: &[&Item],
) -> Groups {
    let mut found = by_pattern(pupils);
    let grouped: Vec<Grouped> = found.iter().map(|(n, p)| (n.clone(), p.len())).collect();
    let shared = shared(piles, &grouped);
    let with = found.drain(..).zip(shared.with_pupils);
    let mut kept: Vec<Forming> = with
        .map(|((names, members), slips)| Forming { names, members, slips, method: None })
        .collect();
    for (name, slips) in shared.alone {
        kept.extend(of_slips(name, slips, alike, &kept));
    }
    kept.sort_by_key(|group| std::cmp::Reverse(group.size()));
    let mut rest = kept.split_off(kept.len().min(MOST_GROUPS));
    for waiting in &mut rest {
        waiting.members.retain(|pupil| {
            let fits =
                |name: &str| pupil.patterns.iter().any(|s| s.name == name && s.probability >= FITS);
            let fits = |names: &[&str]| pupil.named.is_none() && names.iter().all(|n| fits(n));
            let taken = kept.iter_mut().find(|group| fits(&group.names));
            let waits = taken.is_none();
            if let Some(group) = taken {
                group.members.push(pupil);
            }
            waits
        });
    }
    rest.retain(|group| group.size() > 0);
    rest.sort_by_key(|group| std::cmp::Reverse(group.size()));
    let count = kept.len();
    let done = (1..).zip(kept.into_iter().chain(rest));
    let mut now: Vec<Group> = done.map(|(n, group)| group.done(n, pupils, items)).collect();
    let waiting = now.split_off(count);
    Groups { now, waiting }
}

/// The pattern that is named beside this one for more than half of a group of this size.
fn also<'a>(pattern: &str, members: &[&'a PupilMark], size: usize) -> Option<&'a str> {
    let mut counts: IndexMap<&str, usize> = IndexMap::new();
    for pupil in members {
        let both = pupil.named.as_deref().zip(pupil.named_also.as_deref());
        let other = match both {
            Some((one, other)) if one == pattern => other,
            Some((one, other)) if other == pattern => one,
            _ => continue,
        };
        *counts.entry(other).or_insert(0) += 1;
    }
    counts.into_iter().find(|(_, count)| count * 2 > size).map(|(name, _)| name)
}

/// Pupils by the pattern they are grouped for, or by those that cannot be told apart.
fn by_pattern(pupils: &[PupilMark]) -> Vec<(Vec<&str>, Vec<&PupilMark>)> {
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
    found.into_iter().collect()
}

/// The group of these slips with the pupils of no group who gave an answer of the same pattern; none
/// where they are too few together.
fn of_slips<'a>(
    name: &'a str,
    slips: Slips<'a>,
    alike: &[Alike<'a>],
    groups: &[Forming<'a>],
) -> Option<Forming<'a>> {
    let taken = |p: &PupilMark| {
        groups.iter().flat_map(|group| &group.members).any(|member| member.pupil == p.pupil)
    };
    let mut members: Vec<&PupilMark> = Vec::new();
    let mut methods: Vec<Option<Written>> = slips.methods().collect();
    for pile in alike.iter().filter(|pile| pile.patterns.iter().any(|own| own == name)) {
        for pupil in pile.pupils.iter().filter(|p| !taken(p)) {
            methods.push(pile.method);
            if members.iter().all(|member| member.pupil != pupil.pupil) {
                members.push(pupil);
            }
        }
    }
    let method = one_method(methods.into_iter());
    let enough = slips.make_a_group();
    let group = Forming { names: vec![name], members, slips, method };
    let least = usize::try_from(SLIPS).unwrap_or(usize::MAX);
    (enough || group.size() >= least).then_some(group)
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
        also: None,
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
pub(super) const MOST_SKILLS: usize = 3;

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
    counts.into_keys().take(MOST_SKILLS).map(str::to_owned).collect()
}
