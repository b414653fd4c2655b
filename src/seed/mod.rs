//! Named streams of random numbers: the same name gives the same numbers on every machine.
//!
//! `Seed::of(class.key).child("long-four-by-three/2").child("practice-core")` names one stream;
//! adding an item somewhere never changes what another stream gives.

use rand::seq::SliceRandom;
use rand::{RngExt, SeedableRng};
use rand_chacha::ChaCha8Rng;
use sha2::{Digest, Sha256};
use std::ops::RangeInclusive;

/// The root of a family of streams.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Seed([u8; 32]);

impl Seed {
    /// The seed a class's key gives.
    pub fn of(key: &str) -> Seed {
        Seed(Sha256::digest(key.as_bytes()).into())
    }
    /// A seed below this one, by name.
    pub fn child(&self, name: &str) -> Seed {
        let mut hash = Sha256::new();
        hash.update(self.0);
        hash.update(name.as_bytes());
        Seed(hash.finalize().into())
    }
    /// The stream of this name, from its beginning.
    pub fn stream(&self) -> Stream {
        Stream(ChaCha8Rng::from_seed(self.0))
    }
    /// A number below `n` (at least 1) that this name alone decides.
    pub fn below(&self, n: u64) -> u64 {
        let head: [u8; 8] = std::array::from_fn(|i| self.0[i]);
        u64::from_le_bytes(head) % n.max(1)
    }
}

/// A stream of random numbers; the only source of chance in the tool.
#[derive(Debug, Clone)]
pub struct Stream(ChaCha8Rng);

impl Stream {
    /// A number in the range, each equally likely.
    pub fn number(&mut self, range: RangeInclusive<u64>) -> u64 {
        self.0.random_range(range)
    }
    /// One of the values, each equally likely; `None` of nothing.
    pub fn one_of<'a, T>(&mut self, values: &'a [T]) -> Option<&'a T> {
        let last = u64::try_from(values.len()).ok()?.checked_sub(1)?;
        values.get(usize::try_from(self.number(0..=last)).ok()?)
    }
    /// Puts the values in a random order.
    pub fn shuffle<T>(&mut self, values: &mut [T]) {
        values.shuffle(&mut self.0);
    }
    /// Yes, `part` times of `of`.
    pub fn chance(&mut self, part: u32, of: u32) -> bool {
        self.0.random_range(0..of) < part
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_name_decides_its_stream_and_no_other() {
        let root = Seed::of("7f3a-kingfisher");
        let first = |name: &str| root.child(name).stream().number(0..=u64::MAX - 1);
        assert_eq!(first("practice"), first("practice"));
        assert_ne!(first("practice"), first("homework"));
        assert_ne!(root.child("a").child("b"), root.child("ab"));
    }

    #[test]
    fn the_numbers_are_the_same_on_every_machine() {
        let mut stream = Seed::of("key").child("warm-up").stream();
        let drawn: Vec<u64> = (0..4).map(|_| stream.number(1..=100)).collect();
        assert_eq!(drawn, [50, 17, 25, 90]);
    }
}
