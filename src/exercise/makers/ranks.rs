//! The pairs of a large class in a random order that can be walked from both ends: the pair at a
//! rank and the rank of a pair are each worked out at once, so that what a set owns of millions of
//! pairs is found without looking at any other.

use super::classes::Size;
use super::deal::{LINE, Stretch, mix};

/// An order of all pairs of a class: a Feistel network (Luby & Rackoff 1988) over the next even
/// power of two, walked on until it lands inside the class (Black & Rogaway 2002).
#[derive(Debug, Clone, Copy)]
pub(super) struct Order {
    key: u64,
    size: Size,
    count: u64,
    half: u32,
}

const ROUNDS: u64 = 4;

impl Order {
    /// The order of this class for a key. At most 2^40 pairs.
    pub(super) fn of(size: Size, key: u64) -> Order {
        let ((low, high), (least, most)) = (Size::range(size.a), Size::range(size.b));
        let across = high - low + 1;
        let count =
            if size.a == size.b { across * (across - 1) / 2 } else { across * (most - least + 1) };
        let half = (64 - (count.max(2) - 1).leading_zeros()).div_ceil(2);
        Order { key, size, count, half }
    }

    /// The pair at a rank below the number of pairs; in a square class the larger factor first.
    pub(super) fn pair(self, rank: u64) -> (u64, u64) {
        let mut index = self.forth(rank);
        while index >= self.count {
            index = self.forth(index);
        }
        let (low, (least, most)) = (Size::range(self.size.a).0, Size::range(self.size.b));
        if self.size.a == self.size.b {
            // The triangular number at or below the index, the square root mended by a step.
            let mut row = (8 * index + 1).isqrt().div_ceil(2);
            while row * (row + 1) / 2 > index {
                row -= 1;
            }
            let within = index - row * (row + 1) / 2;
            return (low + row + 1, low + within);
        }
        let width = most - least + 1;
        (low + index / width, least + index % width)
    }

    /// The rank of a pair of the class.
    pub(super) fn rank(self, a: u64, b: u64) -> u64 {
        let (low, (least, most)) = (Size::range(self.size.a).0, Size::range(self.size.b));
        let index = if self.size.a == self.size.b {
            let (more, less) = (a.max(b) - low, a.min(b) - low);
            more * (more - 1) / 2 + less
        } else {
            (a - low) * (most - least + 1) + (b - least)
        };
        let mut rank = self.back(index);
        while rank >= self.count {
            rank = self.back(rank);
        }
        rank
    }

    /// The ranks whose pairs lie on a stretch of the line.
    pub(super) fn ranks(self, stretch: Stretch) -> std::ops::Range<u64> {
        let at = |point: u64| {
            let scaled = u128::from(point) * u128::from(self.count);
            u64::try_from(scaled.div_ceil(u128::from(LINE))).unwrap_or(self.count)
        };
        at(stretch.from())..at(stretch.end())
    }

    /// The point of the line on which the pair at a rank lies.
    pub(super) fn point_at(self, rank: u64) -> u64 {
        let scaled = u128::from(rank) * u128::from(LINE) / u128::from(self.count);
        u64::try_from(scaled).unwrap_or(LINE)
    }

    /// The point of the line on which a pair of the class lies.
    pub(super) fn point(self, a: u64, b: u64) -> u64 {
        self.point_at(self.rank(a, b))
    }

    fn mask(self) -> u64 {
        (1 << self.half) - 1
    }

    fn round(self, round: u64, half: u64) -> u64 {
        mix(self.key ^ mix(round << 48 | half)) & self.mask()
    }

    fn forth(self, word: u64) -> u64 {
        let (mut left, mut right) = (word >> self.half, word & self.mask());
        for round in 0..ROUNDS {
            (left, right) = (right, left ^ self.round(round, right));
        }
        left << self.half | right
    }

    fn back(self, word: u64) -> u64 {
        let (mut left, mut right) = (word >> self.half, word & self.mask());
        for round in (0..ROUNDS).rev() {
            (left, right) = (right ^ self.round(round, left), left);
        }
        left << self.half | right
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn every_pair_of_a_class_has_one_rank_and_every_rank_one_pair() {
        for size in [Size::of(2, 1), Size::of(2, 2), Size::of(3, 1), Size::of(3, 2), Size::of(3, 3)]
        {
            let order = Order::of(size, 7);
            let mut met = BTreeSet::new();
            for rank in 0..order.count {
                let (a, b) = order.pair(rank);
                let ((low, high), (least, most)) = (Size::range(size.a), Size::range(size.b));
                assert!((low..=high).contains(&a) && (least..=most).contains(&b), "{a} × {b}");
                assert!(size.a != size.b || a > b, "{a} × {b}");
                assert_eq!(order.rank(a, b), rank);
                assert_eq!(order.rank(a.max(b), a.min(b)), rank);
                assert!(met.insert((a, b)));
            }
        }
    }

    #[test]
    fn the_order_is_another_for_another_key_and_has_no_pattern() {
        let (one, two) = (Order::of(Size::of(4, 3), 1), Order::of(Size::of(4, 3), 2));
        let first = |order: Order| (0..2_000).map(|rank| order.pair(rank)).collect::<Vec<_>>();
        assert_ne!(first(one), first(two));
        // The first pairs come from all over the class: each tenth of the multiplicands has its share.
        let mut tenths = [0; 10];
        for (a, _) in first(one) {
            tenths[usize::try_from((a - 1000) / 900).expect("a tenth")] += 1;
        }
        assert!(tenths.iter().all(|n| (150..250).contains(n)), "{tenths:?}");
    }

    #[test]
    fn neighbouring_stretches_share_the_ranks_out() {
        let order = Order::of(Size::of(3, 3), 5);
        let mut next = 0;
        for index in 0..7 {
            let ranks = order.ranks(Stretch::WHOLE.share(index, &[3, 1, 4, 1, 5, 9, 2]));
            assert_eq!(ranks.start, next);
            let stretch = Stretch::WHOLE.share(index, &[3, 1, 4, 1, 5, 9, 2]);
            let inside = |rank: u64| stretch.holds(order.point_at(rank));
            assert!(inside(ranks.start) && inside(ranks.end - 1) && !inside(ranks.end));
            next = ranks.end;
        }
        assert_eq!(next, order.count);
    }
}
