//! How the items of a unit test are shared out over skills: in proportion to the minutes taught.

/// Shares `items` out in proportion to `minutes` by largest remainders (ties go to the earlier),
/// after each marked `must` has one. Gives all 0 where nothing was taught.
///
/// Weights follow teaching time: Notar 2004; Fives & DiDonato-Barnes 2013.
pub fn share_out(items: u32, minutes: &[u32], must: &[bool]) -> Vec<u32> {
    let total: u64 = minutes.iter().map(|&m| u64::from(m)).sum();
    if total == 0 {
        return vec![0; minutes.len()];
    }
    let exact = |m: u32| u64::from(items) * u64::from(m);
    let mut shares: Vec<u32> =
        minutes.iter().map(|&m| u32::try_from(exact(m) / total).unwrap_or(items)).collect();
    let mut order: Vec<usize> = (0..minutes.len()).collect();
    order.sort_by_key(|&i| std::cmp::Reverse(exact(minutes[i]) % total));
    let left = items.saturating_sub(shares.iter().sum());
    for &i in order.iter().take(usize::try_from(left).unwrap_or(usize::MAX)) {
        shares[i] += 1;
    }
    give_every_must_one(&mut shares, must);
    shares
}

/// Takes an item from the largest share for each `must` that has none.
fn give_every_must_one(shares: &mut [u32], must: &[bool]) {
    for lacking in 0..shares.len() {
        if !must.get(lacking).copied().unwrap_or(false) || shares[lacking] > 0 {
            continue;
        }
        let spare = |i: &usize| {
            let needed = u32::from(must.get(*i).copied().unwrap_or(false));
            shares[*i] > needed
        };
        let from = (0..shares.len()).rev().filter(spare).max_by_key(|&i| shares[i]);
        if let Some(from) = from {
            shares[from] -= 1;
        }
        shares[lacking] = 1;
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn twenty_items_follow_the_minutes_taught() {
        // Worked by hand: 6 + 4 + 3 + 2 + 5 of 300 minutes.
        assert_eq!(share_out(20, &[90, 60, 45, 30, 75], &[true; 5]), [6, 4, 3, 2, 5]);
        assert_eq!(share_out(3, &[], &[]), Vec::<u32>::new());
    }

    proptest! {
        #[test]
        fn every_must_has_one_and_the_sum_holds_where_it_can(
            minutes in prop::collection::vec(20_u32..200, 1..20), items in 1_u32..40
        ) {
            let must = vec![true; minutes.len()];
            let shares = share_out(items, &minutes, &must);
            prop_assert!(shares.iter().all(|&s| s >= 1));
            let least = u32::try_from(minutes.len()).expect("few");
            prop_assert_eq!(shares.iter().sum::<u32>(), items.max(least));
        }

        #[test]
        fn no_share_is_a_whole_item_from_its_quota_without_musts(
            minutes in prop::collection::vec(1_u32..200, 1..20), items in 1_u32..40
        ) {
            let total: u32 = minutes.iter().sum();
            let shares = share_out(items, &minutes, &vec![false; minutes.len()]);
            for (share, m) in shares.iter().zip(&minutes) {
                let quota = f64::from(items) * f64::from(*m) / f64::from(total);
                prop_assert!((f64::from(*share) - quota).abs() < 1.0);
            }
        }
    }
}
