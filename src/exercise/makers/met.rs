//! What a class's pupils have met in the term so far, so that no written product comes twice and
//! no sum for the head again and again.

use super::Spot;
use crate::exercise::patterns::Task;
use crate::exercise::{Item, Kind, Working};
use std::collections::{BTreeMap, BTreeSet};

/// A product, the larger factor first.
type Product = (u64, u64);

/// A sum for the head that came so often gives way to others, where there are others.
const OFTEN: u32 = 3;

/// Products met so far, for the pupils of each level.
#[derive(Debug, Clone, Default)]
pub struct Met {
    written: [BTreeSet<Product>; 3],
    asked: [BTreeMap<Product, u32>; 3],
    /// How often each scene was told, and at which place among the stories last.
    scenes: [BTreeMap<String, (u32, u32)>; 3],
    stories: [u32; 3],
    /// What the exit checks of each skill have asked.
    checked: BTreeMap<String, Vec<Task>>,
}

/// A scene that was told so often in a term is told again only where there is no other.
const OFTEN_TOLD: u32 = 3;
/// A scene rests for so many stories.
const REST: u32 = 10;

/// What pupils have been told of a scene.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Told {
    /// Whether it was told so often that others should come.
    pub often: bool,
    /// Whether it was among the last stories.
    pub lately: bool,
    /// How many times.
    pub times: u32,
}

/// The levels whose pupils get what stands in a spot: support, core, stretch.
fn levels(spot: Spot) -> std::ops::Range<usize> {
    match spot {
        Spot::Support => 0..1,
        Spot::Core => 1..2,
        Spot::Stretch => 2..3,
        _ => 0..3,
    }
}

fn product(a: u64, b: u64) -> Product {
    (a.max(b), a.min(b))
}

impl Met {
    /// Notes that the pupils of a spot have an item.
    pub fn note(&mut self, item: &Item, spot: Spot) {
        if let (Spot::ExitCheck, Some(task)) = (spot, Task::of(item)) {
            self.checked.entry(item.skill.clone()).or_default().push(task);
        }
        if let Working::Story { story, .. } = &item.working
            && !story.scene.is_empty()
        {
            for level in levels(spot) {
                self.stories[level] += 1;
                let told = self.scenes[level].entry(story.scene.clone()).or_default();
                *told = (told.0 + 1, self.stories[level]);
            }
        }
        let Some((a, b)) = item.factors() else { return };
        for level in levels(spot) {
            match item.kind {
                Kind::Written => drop(self.written[level].insert(product(a, b))),
                Kind::Mental => *self.asked[level].entry(product(a, b)).or_default() += 1,
                _ => {}
            }
        }
    }

    /// Whether a pupil of the spot has worked this product out on paper, either way round.
    pub fn on_paper(&self, a: u64, b: u64, spot: Spot) -> bool {
        levels(spot).any(|level| self.written[level].contains(&product(a, b)))
    }

    /// What any pupil of the spot has been told of a scene.
    pub(super) fn told(&self, scene: &str, spot: Spot) -> Told {
        let all = levels(spot).filter_map(|level| {
            let (times, last) = self.scenes[level].get(scene)?;
            Some((*times, self.stories[level] - last < REST))
        });
        let none = Told { often: false, lately: false, times: 0 };
        all.fold(none, |told, (times, lately)| Told {
            often: told.often || times >= OFTEN_TOLD,
            lately: told.lately || lately,
            times: told.times.max(times),
        })
    }

    /// What the exit checks of a skill have asked before.
    pub fn checked(&self, skill: &str) -> &[Task] {
        self.checked.get(skill).map_or(&[], Vec::as_slice)
    }

    /// Whether a pupil of the spot has had this sum in the head often.
    pub(super) fn often(&self, a: u64, b: u64, spot: Spot) -> bool {
        let times = |level: usize| self.asked[level].get(&product(a, b)).copied().unwrap_or(0);
        levels(spot).any(|level| times(level) >= OFTEN)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::samples;

    #[test]
    fn what_one_level_has_met_the_others_have_not() {
        let item = samples::written(47, 36);
        let mut met = Met::default();
        met.note(&item, Spot::Support);
        assert!(met.on_paper(36, 47, Spot::Support) && met.on_paper(47, 36, Spot::ExitCheck));
        assert!(!met.on_paper(47, 36, Spot::Core) && !met.on_paper(47, 63, Spot::Support));
        met.note(&item, Spot::Homework);
        assert!(met.on_paper(47, 36, Spot::Core));
    }

    #[test]
    fn a_sum_for_the_head_is_often_met_after_three_times() {
        let item = samples::mental(48, 25);
        let mut met = Met::default();
        for times in 0..3 {
            assert!(!met.often(25, 48, Spot::WarmUp), "after {times}");
            met.note(&item, Spot::WarmUp);
        }
        assert!(met.often(25, 48, Spot::Core) && !met.on_paper(48, 25, Spot::Core));
    }
}
