//! What stands between the bare sums of a written skill's core sheet.

use super::written::Recipe;
use super::{Bench, drawn, stretch, workings};
use crate::exercise::{Given, Item, Space};
use crate::method::Written;

/// The other question at this place of a core set of `count` sums, about the pair that is dealt to
/// it; none where a bare sum stands: the third is a choice by size, from the second lesson of a long
/// method on by whole workings, the fifth an estimate to hold against the answer, the seventh looks
/// at whole workings again or at the parts of an area.
pub(super) fn in_core(
    bench: &Bench,
    recipe: &Recipe,
    index: usize,
    count: usize,
    pair: (u64, u64),
) -> Option<Item> {
    let own = bench.request.own.len();
    if count < 3 || own >= 3 || index < own {
        return None;
    }
    // Wrong workings help only where the method is not new (Barbieri et al. 2023).
    let is_known = recipe.method == Written::Long && bench.request.part > 1;
    match index {
        2 if is_known => workings::which_is_right(bench, pair)
            .or_else(|| Some(stretch::which_can_be_right(bench, pair))),
        6 if is_known => workings::which_is_right(bench, pair),
        2 => Some(stretch::which_can_be_right(bench, pair)),
        4 if recipe.method == Written::Long => Some(compared(bench, recipe, pair)),
        4 | 6 if recipe.method == Written::Grid => drawn::area_part(bench, pair),
        _ => None,
    }
}

/// A sum whose answer is held against its estimate.
fn compared(bench: &Bench, recipe: &Recipe, pair: (u64, u64)) -> Item {
    let mut item = bench.written(pair, recipe.method, Given::Nothing, true);
    if let Space::Squares { compare, .. } = &mut item.space {
        *compare = true;
    }
    "estimate, work out, compare".clone_into(&mut item.purpose);
    item
}
