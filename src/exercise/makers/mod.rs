//! Makers: one for each skill of our ladder, and what its numbers must show.

use super::Item;
use super::time::Profile;
use crate::method::HouseStyle;
use crate::seed::Seed;

/// What a class's items must suit.
#[derive(Debug, Clone)]
pub struct Setting {
    /// The class's seed: all pools and streams hang on it.
    pub seed: Seed,
    /// How the school writes.
    pub style: HouseStyle,
    /// Hundredths: 120 takes a fifth longer than typical.
    pub pace: u32,
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

/// Whether there is a maker of this name.
pub fn known(maker: &str) -> bool {
    let _ = maker;
    false
}

/// The names of all makers, in the order of our ladder.
pub fn names() -> Vec<&'static str> {
    Vec::new()
}

/// Makes a set of items, in rising difficulty, each checked by [`super::verify`].
///
/// # Errors
/// The maker is unknown, or an item failed its check (a fault of ours; the text says which).
pub fn make(maker: &str, request: &Request, setting: &Setting) -> Result<Vec<Item>, String> {
    let _ = (request, setting);
    Err(format!("no maker `{maker}`"))
}
