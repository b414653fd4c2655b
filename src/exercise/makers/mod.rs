//! Makers: one for each skill of our ladder, and what its numbers must show.

mod build;
mod checking;
mod choosing;
mod classes;
mod deal;
mod digit_counts;
mod drawn;
mod equal_groups;
mod fading;
mod head;
mod known;
mod lists;
mod looks;
mod met;
mod missing;
mod mixed_in;
mod order;
mod own;
mod ranks;
mod rows;
mod size;
pub mod story;
mod stretch;
#[cfg(test)]
mod tests;
mod words;
mod workings;
mod written;

pub use known::WHAT_WENT_WRONG;
pub use lists::for_head;
pub use looks::on_paper;

pub use met::Met;
pub use own::unlike_own;
pub use written::method_of;

use super::time::{Profile, item_seconds};
use super::{Item, verify};
use crate::method::HouseStyle;
use crate::seed::Seed;
use std::collections::BTreeMap;
use std::sync::Arc;
use story::Scene;

/// What a class's items must suit.
#[derive(Debug, Clone)]
pub struct Setting {
    /// The class's seed: all pools and streams hang on it.
    pub seed: Seed,
    /// How the school writes.
    pub style: HouseStyle,
    /// Hundredths: 120 takes a fifth longer than typical.
    pub pace: u32,
    /// The teacher's own scenes for story sums, beside ours.
    pub scenes: Arc<Vec<Scene>>,
    /// By skill the error pattern that the class shows most, where marking has found one: the step
    /// at which it begins is the one that is faded first.
    pub shown: BTreeMap<String, String>,
}

impl Setting {
    /// A class with our scenes only, of which nothing has been marked.
    pub fn new(seed: Seed, style: HouseStyle, pace: u32) -> Setting {
        Setting { seed, style, pace, scenes: Arc::default(), shown: BTreeMap::new() }
    }
}

/// Where in a lesson an item stands.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Spot {
    /// Warm-up: in the head, in a few seconds.
    WarmUp,
    /// A worked example.
    Example,
    /// Guided practice, partly worked.
    Guided,
    /// Practice, support.
    Support,
    /// Practice, core.
    Core,
    /// Practice, stretch.
    Stretch,
    /// The exit check.
    ExitCheck,
    /// Homework.
    Homework,
    /// The unit test.
    Test,
}

/// One set of items of one skill.
#[derive(Debug, Clone)]
pub struct Request<'a> {
    /// The skill the items are for (their `skill`).
    pub skill: &'a str,
    /// Which part of the skill, from 1; for warm-ups the n-th return of the skill.
    pub part: u32,
    /// Where they stand.
    pub spot: Spot,
    /// Names the set where a lesson asks twice: version "A" or "B", a catch-up's number, …
    pub name: &'a str,
    /// How practised the pupils are.
    pub profile: Profile,
    /// At most so many seconds in all, and at least `least` items all the same.
    pub seconds: u32,
    /// At least so many items.
    pub least: usize,
    /// At most so many items.
    pub most: usize,
    /// The teacher's own sums: they come first, are checked like ours and take the place of ours.
    pub own: &'a [(u64, u64)],
}

/// A set being made: whose it is, what is asked, for whom.
pub(super) struct Bench<'a> {
    /// The maker's name.
    maker: &'a str,
    request: &'a Request<'a>,
    setting: &'a Setting,
    met: &'a Met,
}

impl Bench<'_> {
    /// Times the items and keeps as many as fit the seconds: at least `least`, at most `most`.
    fn fit(&self, items: impl IntoIterator<Item = Item>) -> Vec<Item> {
        let request = self.request;
        let mut kept = Vec::new();
        let mut spent = 0;
        for item in items {
            if kept.len() >= request.most {
                break;
            }
            let item = self.timed(item);
            if kept.len() >= request.least && spent + item.seconds > request.seconds {
                break;
            }
            spent += item.seconds;
            kept.push(item);
        }
        kept
    }

    fn timed(&self, mut item: Item) -> Item {
        item.seconds = item_seconds(&item, self.request.profile, self.setting.pace);
        item
    }
}

/// How a maker makes a set.
type Make = fn(&Bench) -> Vec<Item>;

/// A maker: the skill of our ladder it is for, and how it makes a set.
struct Maker {
    name: &'static str,
    make: Make,
}

/// Every maker, in the order of our ladder.
const MAKERS: &[Maker] = &[
    Maker { name: "facts-to-ten-by-ten", make: head::make },
    Maker { name: "words-of-the-trade", make: words::of_the_trade },
    Maker { name: "times-ten-hundred-thousand", make: head::make },
    Maker { name: "multiples-of-ten", make: head::make },
    Maker { name: "tens-by-tens", make: head::make },
    Maker { name: "reading-large-numbers", make: words::reading },
    Maker { name: "splitting", make: head::make },
    Maker { name: "doubling-and-halving", make: head::make },
    Maker { name: "fives-and-twenty-fives", make: head::make },
    Maker { name: "splitting-into-factors", make: head::make },
    Maker { name: "rounding-and-adjusting", make: head::make },
    Maker { name: "near-hundreds", make: head::make },
    Maker { name: "which-is-nearer", make: size::which_is_nearer },
    Maker { name: "estimating-by-leading-digits", make: size::estimating },
    Maker { name: "digits-of-a-product", make: size::digits_of_a_product },
    Maker { name: "short-two-by-one", make: written::make },
    Maker { name: "short-three-by-one", make: written::make },
    Maker { name: "short-four-by-one", make: written::make },
    Maker { name: "zeros-in-multiplicand", make: written::make },
    Maker { name: "zeros-at-the-ends", make: written::at_the_ends },
    Maker { name: "story-one-step", make: story::one_step },
    Maker { name: "grid-two-by-two", make: written::make },
    Maker { name: "lattice", make: written::make },
    Maker { name: "long-two-by-two", make: written::make },
    Maker { name: "long-three-by-two", make: written::make },
    Maker { name: "long-four-by-two", make: written::make },
    Maker { name: "long-three-by-three", make: written::make },
    Maker { name: "zeros-in-multiplier", make: written::make },
    Maker { name: "long-four-by-three", make: written::make },
    Maker { name: "checking-a-product", make: checking::make },
    Maker { name: "story-two-step", make: story::two_step },
    Maker { name: "choosing-a-method", make: choosing::make },
];

fn maker(name: &str) -> Option<&'static Maker> {
    MAKERS.iter().find(|m| m.name == name)
}

/// Whether there is a maker of this name.
pub fn known(name: &str) -> bool {
    maker(name).is_some()
}

/// The names of all makers, in the order of our ladder.
pub fn names() -> Vec<&'static str> {
    MAKERS.iter().map(|m| m.name).collect()
}

/// Makes a set of items, in rising difficulty, each checked by [`super::verify()`].
///
/// # Errors
/// The maker is unknown, or an item failed its check (a fault of ours; the text says which).
pub fn make(name: &str, request: &Request, setting: &Setting) -> Result<Vec<Item>, String> {
    let items = make_after(name, request, setting, &Met::default())?;
    for item in &items {
        verify(item).map_err(|fault| format!("{name}: `{}`: {fault}", item.prompt))?;
    }
    Ok(items)
}

/// The same for pupils who have met these products, none of which comes again on paper. The items
/// are not checked yet: whoever puts them into a pack checks them when they have their names.
///
/// # Errors
/// The maker is unknown.
pub fn make_after(
    name: &str,
    request: &Request,
    setting: &Setting,
    met: &Met,
) -> Result<Vec<Item>, String> {
    let maker = maker(name).ok_or_else(|| format!("no maker `{name}`"))?;
    let bench = Bench { maker: maker.name, request, setting, met };
    Ok((maker.make)(&bench))
}
