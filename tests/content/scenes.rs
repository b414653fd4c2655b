//! How often one pupil is told the same scene, and what story sets ask for.

use crate::terms::{none_of, terms};
use rungwise::exercise::{Item, Working};
use rungwise::lesson::{Level, Pack};
use std::collections::BTreeMap;

/// A scene comes at most so often in a term, and not again within so many stories.
const MOST: usize = 3;
const APART: usize = 3;

fn scene(item: &Item) -> Option<&str> {
    match &item.working {
        Working::Story { story, .. } => Some(&story.scene),
        _ => None,
    }
}

/// The stories that a pupil of this level has in a term, in order; those a lesson goes through
/// after the test are the test's.
fn of_level(packs: &[Pack], level: Level) -> Vec<&Item> {
    let sections = packs.iter().flat_map(|p| &p.sections);
    let theirs = sections.filter(|s| s.level.is_none_or(|l| l == level));
    let mut seen = Vec::new();
    for item in theirs.flat_map(|s| &s.items).filter(|i| scene(i).is_some()) {
        if seen.iter().all(|other: &&Item| other.prompt != item.prompt) {
            seen.push(item);
        }
    }
    seen
}

#[test]
fn no_scene_is_told_again_and_again() {
    let mut found = Vec::new();
    let mut all = 0;
    for term in terms() {
        for level in [Level::Support, Level::Core, Level::Stretch] {
            let mut told: BTreeMap<&str, Vec<usize>> = BTreeMap::new();
            for (at, item) in of_level(&term.packs, level).into_iter().enumerate() {
                let scene = scene(item).filter(|s| !s.is_empty()).expect("a scene");
                told.entry(scene).or_default().push(at);
                all += 1;
            }
            for (scene, places) in told {
                let near = places.windows(2).any(|pair| pair[1] - pair[0] < APART);
                if places.len() > MOST || near {
                    found.push(format!("{level:?}: {scene} at {places:?}"));
                }
            }
        }
    }
    none_of(&found);
    assert!(all > 200, "{all}");
}

/// Two steps are not two multiplications: of the two-step stories of a term at least half, and of
/// every sheet with several at least a quarter, need another operation.
#[test]
fn two_steps_are_not_always_two_multiplications() {
    let (mut seen, mut other) = (0, 0);
    for pack in terms().iter().flat_map(|t| &t.packs) {
        for section in &pack.sections {
            let needs = |i: &Item| {
                i.expression.as_deref().is_some_and(|e| e.contains(['+', '-']) || e.contains("//"))
            };
            let stories: Vec<&Item> =
                section.items.iter().filter(|i| i.skill == "story-two-step").collect();
            let stories: Vec<&&Item> = stories.iter().filter(|i| scene(i).is_some()).collect();
            let here = stories.iter().filter(|i| needs(i)).count();
            assert!(stories.len() < 3 || here * 4 >= stories.len(), "L{:02}", pack.lesson);
            seen += stories.len();
            other += here;
        }
    }
    assert!(seen > 30 && other * 2 >= seen, "{other} of {seen}");
}
