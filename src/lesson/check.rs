//! The last look at a whole pack before it is handed over.

use super::bench::sameness;
use super::{Fault, Pack, Section};
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
    let sheets: Vec<&Section> = pack.sections.iter().filter(|s| s.level.is_some()).collect();
    if sheets.is_empty() {
        one_pupil(pack, None)
    } else {
        sheets.into_iter().try_for_each(|sheet| one_pupil(pack, Some(sheet)))
    }
}

/// What a pupil with this sheet of practice is given holds no product twice.
fn one_pupil(pack: &Pack, sheet: Option<&Section>) -> Result<(), Fault> {
    let theirs = |s: &&Section| s.level.is_none() || sheet.is_some_and(|own| std::ptr::eq(*s, own));
    let mut seen: BTreeMap<String, &Item> = BTreeMap::new();
    for item in pack.sections.iter().filter(theirs).flat_map(|s| &s.items) {
        if let Some(first) = seen.insert(sameness(item), item) {
            let what = format!("the same question as {}", first.id);
            return Err(Fault { item: item.id.clone(), what });
        }
    }
    Ok(())
}
