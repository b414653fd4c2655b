//! The commonest patterns by skill, over all marks.

use super::marks::Marking;
use crate::lesson::Pack;
use indexmap::{IndexMap, IndexSet};
use serde::{Deserialize, Serialize};

/// How many pupils a pattern was found with in one skill.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Finding {
    /// The skill.
    pub skill: String,
    /// The pattern's name.
    pub pattern: String,
    /// The pupils' labels, in the order they were found.
    pub pupils: Vec<String>,
}

/// The patterns held more probable than not, by skill in the order met, commonest first.
///
/// A pattern counts for each skill whose items it explains, and a pupil once for each.
pub fn findings(lessons: &[(Pack, Marking)]) -> Vec<Finding> {
    let mut found: IndexMap<&str, IndexMap<&str, IndexSet<&str>>> = IndexMap::new();
    for (pack, marking) in lessons {
        let items = || pack.sections.iter().flat_map(|s| &s.items);
        for pupil in &marking.pupils {
            let Some(first) = pupil.patterns.first().filter(|s| s.probability >= 0.5) else {
                continue;
            };
            for item in items().filter(|item| first.items.contains(&item.id)) {
                let patterns = found.entry(&item.skill).or_default();
                patterns.entry(&first.name).or_default().insert(&pupil.pupil);
            }
        }
    }
    let mut listed = Vec::new();
    for (skill, patterns) in found {
        let mut patterns: Vec<_> = patterns.into_iter().collect();
        patterns.sort_by_key(|(_, pupils)| std::cmp::Reverse(pupils.len()));
        listed.extend(patterns.into_iter().map(|(pattern, pupils)| Finding {
            skill: skill.to_owned(),
            pattern: pattern.to_owned(),
            pupils: pupils.into_iter().map(str::to_owned).collect(),
        }));
    }
    listed
}
