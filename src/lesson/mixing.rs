//! Interleaving: no two alike in a row.
//!
//! "No two consecutive problems require the same strategy" is how Rohrer et al. (2020) define
//! interleaved practice, which their trial in 54 classes found better a month later; pupils there
//! were about 13.

/// Puts groups (each of one strategy, in its own order) into one row so that no two neighbours are
/// of one group wherever that can be, and each group is spread over the row as evenly as that
/// allows; of equals the earlier group goes first.
pub fn interleave<T>(groups: Vec<Vec<T>>) -> Vec<T> {
    let sizes: Vec<usize> = groups.iter().map(Vec::len).collect();
    let mut waiting: Vec<std::vec::IntoIter<T>> = groups.into_iter().map(Vec::into_iter).collect();
    let mut row = Vec::new();
    let mut last = None;
    loop {
        let left: Vec<usize> = waiting.iter().map(ExactSizeIterator::len).collect();
        let Some(next) = next_group(&left, &sizes, last) else { return row };
        row.extend(waiting[next].next());
        last = Some(next);
    }
}

/// The group that goes next: one that fills more than half of what is left must; else the one of
/// which the largest share is left.
fn next_group(left: &[usize], sizes: &[usize], last: Option<usize>) -> Option<usize> {
    let total: usize = left.iter().sum();
    let open = || (0..left.len()).rev().filter(|&g| left[g] > 0 && Some(g) != last);
    let must = open().find(|&g| 2 * left[g] > total);
    // Shares are compared in thousandths; a group not begun has all of it left.
    must.or_else(|| open().max_by_key(|&g| left[g] * 1000 / sizes[g]))
        .or_else(|| (0..left.len()).find(|&g| left[g] > 0))
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    proptest! {
        #[test]
        fn neighbours_differ_wherever_that_can_be(sizes in prop::collection::vec(0_usize..6, 0..6)) {
            let groups: Vec<Vec<(usize, usize)>> =
                sizes.iter().enumerate().map(|(g, &n)| (0..n).map(|i| (g, i)).collect()).collect();
            let row = interleave(groups);
            let total: usize = sizes.iter().sum();
            prop_assert_eq!(row.len(), total);
            for g in 0..sizes.len() {
                let own: Vec<usize> = row.iter().filter(|i| i.0 == g).map(|i| i.1).collect();
                prop_assert!(own.is_sorted(), "each group keeps its order");
            }
            let largest = sizes.iter().copied().max().unwrap_or(0);
            let alike = row.windows(2).filter(|w| w[0].0 == w[1].0).count();
            // The fullest group needs one of another between each two of its own.
            prop_assert_eq!(alike, largest.saturating_sub(total - largest + 1));
        }
    }
}
