//! The last look at a whole pack before it is handed over.

use super::bench::sameness;
use super::{Fault, Level, Pack, Section};
use crate::exercise::{Item, verify};
use std::collections::{BTreeMap, BTreeSet};

/// Checks every item anew by the second road, that ids are unique, and that no pupil meets a
/// product twice.
///
/// # Errors
/// The first item that fails, and what is wrong with it.
pub fn check(pack: &Pack) -> Result<(), Fault> {
    let mut ids = BTreeSet::new();
    for item in pack.sections.iter().flat_map(|s| &s.items) {
        verify(item).map_err(|what| Fault { item: item.id.clone(), what })?;
        if !ids.insert(&item.id) {
            let what = "two items have this id".to_owned();
            return Err(Fault { item: item.id.clone(), what });
        }
    }
    [Level::Support, Level::Core, Level::Stretch].into_iter().try_for_each(|l| level(pack, l))
}

/// What a pupil of this level is given holds no product twice.
fn level(pack: &Pack, level: Level) -> Result<(), Fault> {
    let theirs = |s: &&Section| s.level.is_none_or(|l| l == level);
    let mut seen: BTreeMap<String, &Item> = BTreeMap::new();
    for item in pack.sections.iter().filter(theirs).flat_map(|s| &s.items) {
        if let Some(first) = seen.insert(sameness(item), item) {
            let what = format!("the same question as {}", first.id);
            return Err(Fault { item: item.id.clone(), what });
        }
    }
    Ok(())
}
