//! A group's sheet where the check told stories. What goes wrong in the sum is mended by sums: a
//! story or two, then bare sums of the size that stories need. What goes wrong in reading and
//! choosing is mended by more stories, of which only the sums are written.

use super::fitting::FEWEST;
use super::making::{Dealt, Making};
use crate::exercise::makers::Spot;
use crate::exercise::makers::story::story_pattern;
use crate::exercise::{Item, Kind, Space, Working};
use crate::lesson::Fault;
use crate::lesson::bench::sameness;
use std::collections::BTreeSet;

/// So many stories stand before bare sums at most.
const TOLD: usize = 2;
/// So many stories of which only the sums are written are enough.
const ENOUGH: usize = 8;
/// So many wrong answers of such a story stand in the key.
const LIKELY: usize = 3;
/// Stories are drawn until there are so many to choose the shortest from.
const CHOSEN_FROM: usize = 14;
/// The maker of the bare sums: it writes sums of every size the usual way.
const WRITER: &str = "long-two-by-two";
/// Other draws of the same set.
const DRAWS: [&str; 6] = ["", "/2", "/3", "/4", "/5", "/6"];

impl Making<'_> {
    /// Stories and bare sums, or stories of which only the sums are written.
    pub(super) fn stories(&self) -> Result<Dealt, Fault> {
        let (mut examples, mut told) = (self.told_of(&[Spot::Example])?, Vec::new());
        if self.is_in_the_sum() {
            told = self.told_of(&[Spot::Support, Spot::Core])?;
            told.truncate(TOLD);
            if let Some((example, sums)) = self.with(WRITER).written_sums()? {
                told.extend(sums);
                return Ok((example, told));
            }
        }
        let spots = [Spot::Core, Spot::ExitCheck, Spot::Stretch, Spot::Support, Spot::Test];
        told.extend(self.told_of(&spots)?);
        if examples.is_empty() && told.len() > FEWEST {
            // Any story can be worked; a longer one has more to say.
            examples.extend(told.pop());
        }
        if examples.is_empty() {
            examples = self.met_first(self.ask(Spot::Example, 6, &[])?);
        }
        examples.truncate(1);
        let shown: Vec<String> = examples.iter().map(sameness).collect();
        told.retain(|item| !shown.contains(&sameness(item)));
        if !self.is_in_the_sum() {
            let names: Vec<&str> = self.names().collect();
            told.iter_mut().for_each(|item| sums_only(item, &names));
        }
        told.truncate(ENOUGH);
        Ok((examples, told))
    }

    /// The names of what the sheet is about.
    fn names(&self) -> impl Iterator<Item = &str> {
        let wish = self.wish;
        wish.pattern.into_iter().chain(wish.also).chain(wish.one_of.iter().map(String::as_str))
    }

    /// Whether it is the sum that goes wrong, and not what is made of the story.
    fn is_in_the_sum(&self) -> bool {
        self.all_patterns().next().is_some()
            && self.all_patterns().all(|pattern| story_pattern(pattern.name).is_none())
    }

    /// Stories of these spots on which the mistake shows, the shortest first, each told once; again with
    /// other numbers only where there are too few.
    fn told_of(&self, spots: &[Spot]) -> Result<Vec<Item>, Fault> {
        let (mut scenes, mut sums) = (BTreeSet::new(), BTreeSet::new());
        let (mut found, mut again): (Vec<Item>, Vec<Item>) = (Vec::new(), Vec::new());
        for deal in DRAWS {
            for &spot in spots {
                if found.len() >= CHOSEN_FROM {
                    break;
                }
                let mut more = self.dealt(deal, spot, 12, &[])?;
                more.retain(|item| item.kind == Kind::Story && self.meets(item));
                more.retain(|item| sums.insert(sameness(item)));
                let (new, told) = more.into_iter().partition(|item| scenes.insert(scene(item)));
                found.extend::<Vec<Item>>(new);
                again.extend::<Vec<Item>>(told);
            }
        }
        found.sort_by_key(|item| item.prompt.chars().count());
        let missing = FEWEST.saturating_sub(found.len());
        found.extend(again.into_iter().take(missing));
        Ok(found)
    }
}

/// What a story is about, whatever its numbers are.
fn scene(item: &Item) -> String {
    match &item.working {
        Working::Story { story, .. } if !story.scene.is_empty() => story.scene.clone(),
        _ => sameness(item),
    }
}

/// Leaves the working out: a line for the sum or the sums. The key then names fewer wrong answers, so
/// that it stays on a page.
fn sums_only(item: &mut Item, names: &[&str]) {
    item.space = Space::Line;
    item.likely.sort_by_key(|l| !l.patterns.iter().any(|p| names.contains(&p.as_str())));
    item.likely.truncate(LIKELY);
    if let Working::Story { long, .. } = &mut item.working {
        *long = None;
    }
}
