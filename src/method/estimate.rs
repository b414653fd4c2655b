//! The size of a product before it is worked out.

use crate::number::{bracket, digit_count, round_to_leading};
use serde::{Deserialize, Serialize};

/// An estimate of a × b: each factor rounded to its leading digit, then multiplied.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Estimate {
    /// The rounded factors, in the order given.
    pub factors: [u64; 2],
    /// Their product.
    pub value: u64,
    /// The product lies from the first to the second (both factors cut down, both one higher;
    /// one digit and round numbers as they are).
    pub between: (u64, u64),
}

/// The estimate of a × b.
pub fn estimate(a: u64, b: u64) -> Estimate {
    let factors = [round_to_leading(a), round_to_leading(b)];
    Estimate { factors, value: factors[0] * factors[1], between: bracket(a, b) }
}

/// The fewest and the most digits that a product of numbers as long as these can have:
/// m + n − 1 and m + n (1 and 1 where one of them is zero).
pub fn digits_of_product(a: u64, b: u64) -> (u32, u32) {
    if a == 0 || b == 0 {
        return (1, 1);
    }
    let most = digit_count(a) + digit_count(b);
    (most - 1, most)
}
