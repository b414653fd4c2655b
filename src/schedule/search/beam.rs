//! Where a proof would take too long: the best few labels of every layer of periods, again and
//! again with more of them.

use super::{Effort, Engine, NONE, Search, wide};
use indexmap::IndexMap;

/// Looks for a good schedule; `floor` is proven already.
pub(super) fn widen(mut engine: Engine<'_>, first: u32, floor: i64, effort: Effort) -> Search {
    let opening = engine.labels[wide(first)];
    // What the search itself found stays the one to beat; its labels are kept for its sake.
    let mut found = (engine.best_label != NONE).then(|| engine.found(Some(floor)));
    for width in effort.beams {
        engine.labels.clear();
        engine.heads = IndexMap::default();
        let before = engine.best;
        if let Some(first) = engine.offer(opening) {
            sweep(&mut engine, first, width);
        }
        if engine.best < before {
            found = Some(engine.found(Some(floor)));
        }
        if engine.best <= floor {
            break;
        }
    }
    found.unwrap_or(Search::GaveUp)
}

/// One sweep over the periods.
fn sweep(engine: &mut Engine<'_>, first: u32, width: usize) {
    let mut layer = vec![first];
    while !layer.is_empty() {
        let mut next = Vec::new();
        for at in layer {
            if !engine.labels[wide(at)].dead {
                engine.expand(at, &mut next);
            }
        }
        next.retain(|at| !engine.labels[wide(*at)].dead);
        next.sort_by_key(|at| (engine.labels[wide(*at)].total, *at));
        next.truncate(width);
        layer = next;
    }
}
