//! Pupils who may be helped together: as many groups as one teacher can take.

use super::marks::PupilMark;
use crate::exercise::Item;
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

/// So many groups a teacher can take beside the class (common practice, no source).
pub const MOST_GROUPS: usize = 3;

/// Pupils who may be helped together.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Group {
    /// The group's number, from 1: `pack --group 1` makes its sheet.
    #[serde(default)]
    pub number: u32,
    /// The pattern that is their most probable one, at least one half.
    pub pattern: String,
    /// The skill whose items show it.
    #[serde(default)]
    pub skill: String,
    /// The pupils' labels, in the order of the file.
    pub pupils: Vec<String>,
}

/// The groups of these pupils, largest first, and the pupils with a pattern for whom there is no
/// group: they are seen one by one. Who may well have a group's pattern too is taken into it.
pub(super) fn groups(pupils: &[PupilMark], items: &[&Item]) -> (Vec<Group>, Vec<String>) {
    let mut found: IndexMap<&str, Vec<&PupilMark>> = IndexMap::new();
    for pupil in pupils {
        if let Some(leading) = pupil.leading() {
            found.entry(leading).or_default().push(pupil);
        }
    }
    let mut kept: Vec<(&str, Vec<&PupilMark>)> = found.into_iter().collect();
    kept.sort_by_key(|(_, pupils)| std::cmp::Reverse(pupils.len()));
    let rest = kept.split_off(kept.len().min(MOST_GROUPS));
    let mut alone = Vec::new();
    for pupil in rest.into_iter().flat_map(|(_, pupils)| pupils) {
        let fits = |name: &str| pupil.patterns.iter().any(|s| s.name == name);
        match kept.iter_mut().find(|(name, _)| fits(name)) {
            Some((_, group)) => group.push(pupil),
            None => alone.push(pupil.pupil.clone()),
        }
    }
    let order = |label: &String| pupils.iter().position(|p| p.pupil == *label);
    let group = |(number, (pattern, members)): (u32, (&str, Vec<&PupilMark>))| {
        let mut labels: Vec<String> = members.iter().map(|p| p.pupil.clone()).collect();
        labels.sort_by_key(order);
        Group {
            number,
            pattern: pattern.to_owned(),
            skill: skill_of(pattern, &members, items),
            pupils: labels,
        }
    };
    alone.sort_by_key(order);
    ((1..).zip(kept).map(group).collect(), alone)
}

/// The skill whose items the pattern explains most often.
fn skill_of(pattern: &str, members: &[&PupilMark], items: &[&Item]) -> String {
    let mut counts: IndexMap<&str, usize> = IndexMap::new();
    let suspects = members.iter().flat_map(|p| &p.patterns).filter(|s| s.name == pattern);
    for id in suspects.flat_map(|s| &s.items) {
        if let Some(item) = items.iter().find(|item| item.id == *id) {
            *counts.entry(&item.skill).or_insert(0) += 1;
        }
    }
    let most = counts.into_iter().rev().max_by_key(|&(_, n)| n).map(|(skill, _)| skill);
    most.or(items.first().map(|i| i.skill.as_str())).unwrap_or_default().to_owned()
}
