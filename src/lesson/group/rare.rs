//! Sums for the head and to estimate on which a mistake shows that few of a skill's sums show: a
//! single fact with its numbers turned round, with its zeros, beside other digits.

use super::fitting::FEWEST;
use super::making::Making;
use crate::exercise::makers;
use crate::exercise::patterns::Task;
use crate::lesson::mending;
use crate::method::estimate;
use std::collections::BTreeSet;

/// So many are enough.
pub(super) const ENOUGH: usize = 9;
/// The sizes of products to estimate.
const TO_ESTIMATE: [(u32, u32); 4] = [(3, 1), (2, 2), (3, 2), (4, 2)];

type Pair = (u64, u64);

impl Making<'_> {
    /// Pairs on which the pattern shows; first what the skill asks itself, then what its way leads
    /// to.
    pub(super) fn rare(&self) -> Vec<Pair> {
        let Some(pattern) = self.pattern else { return Vec::new() };
        let name = format!("rare {}/{}", self.wish.marked.lesson, pattern.name);
        let mut stream = self.setting.seed.child(&name).stream();
        let on = |task: Task| task.answers(pattern).iter().any(|&(_, turned)| !turned);
        let mut found: Vec<Pair> = Vec::new();
        let Some(listed) = makers::for_head(&self.maker) else {
            for size in TO_ESTIMATE {
                let mut more = mending::any_drawn(&mut stream, size);
                more.retain(|&(a, b)| on(Task::Estimate(a, b)) && is_close(a, b));
                more.truncate(ENOUGH);
                add(&mut found, &more);
            }
            return found;
        };
        let shows = |&(a, b): &Pair| on(Task::Mental(a, b));
        let mut own: Vec<Pair> = listed.iter().copied().filter(shows).collect();
        stream.shuffle(&mut own);
        add(&mut found, &own);
        // One more than a sheet has at least: the worked one.
        if found.len() <= FEWEST {
            let tops: BTreeSet<u64> = listed.iter().map(|pair| pair.0).collect();
            // 70 × 7 for 70 × 70.
            let shorter = |side: u64| [side, side / 10].into_iter().filter(|&n| n > 1);
            let sides: BTreeSet<u64> = listed.iter().flat_map(|pair| shorter(pair.1)).collect();
            let all = tops.iter().flat_map(|&a| sides.iter().map(move |&b| (a, b)));
            let leads = |&(a, b): &Pair| makers::unlike_own(&self.maker, a, b).is_none();
            let mut more: Vec<Pair> = all.filter(shows).filter(leads).collect();
            stream.shuffle(&mut more);
            add(&mut found, &more);
        }
        found
    }
}

/// Whoever estimates as is taught has it right.
fn is_close(a: u64, b: u64) -> bool {
    let (exact, about) = (a * b, estimate(a, b).value);
    exact.abs_diff(about) * 10 <= exact * 3
}

/// Adds these, no product twice, twice as many as are enough in all.
fn add(found: &mut Vec<Pair>, pairs: &[Pair]) {
    for &(a, b) in pairs {
        if found.len() < 2 * ENOUGH && !found.contains(&(a, b)) && !found.contains(&(b, a)) {
            found.push((a, b));
        }
    }
}
