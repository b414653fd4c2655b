//! How many digits a product can have when only the size of its factors is known.
//!
//! A number of m digits times one of n has m + n − 1 or m + n digits (with 10^(m−1) ≤ a < 10^m and
//! the same for b); the first digits may decide which. Every option comes from a rule that fits
//! some numbers only.

use super::words::{choice, option};
use super::{Bench, deal};
use crate::exercise::Item;
use crate::number::{digit_count, ten_to};
use crate::seed::Stream;

/// A range of numbers, both ends included.
type Range = (u64, u64);

/// The digits of both numbers.
const LENGTHS: [(u32, u32); 6] = [(2, 1), (2, 2), (3, 1), (3, 2), (3, 3), (4, 2)];

/// So many questions, no two alike: every third about all numbers of a length, the others about
/// numbers with known first digits, as many that one number of digits fits as either.
pub(super) fn of_sizes(bench: &Bench, count: usize) -> Vec<Item> {
    let mut stream = deal::stream(bench.request, &bench.setting.seed, "digits of sizes");
    let mut lengths = LENGTHS.to_vec();
    stream.shuffle(&mut lengths);
    let mut items: Vec<Item> = Vec::new();
    for turn in 0..count * 20 {
        let (m, n) = lengths[turn % lengths.len()];
        let item = if items.len() % 3 == 2 {
            any_of_length(bench, &mut stream, (m, n))
        } else {
            let decided = items.len().is_multiple_of(2);
            match with_first_digits(&mut stream, (m.min(3), n.min(2)), decided) {
                Some((a, b)) => first_digits_known(bench, &mut stream, a, b),
                None => continue,
            }
        };
        if items.len() < count && items.iter().all(|i| i.prompt != item.prompt) {
            items.push(item);
        }
    }
    items
}

/// "Multiply a number of 3 digits by a number of 2 digits. How many digits can the product have?"
fn any_of_length(bench: &Bench, stream: &mut Stream, (m, n): (u32, u32)) -> Item {
    let of = |count: u32| (ten_to(count as usize - 1), ten_to(count as usize) - 1);
    let name = |count: u32| {
        if count == 1 { "1\u{a0}digit".into() } else { format!("{count}\u{a0}digits") }
    };
    let prompt = format!("Multiply a number of {} by a number of {}", name(m), name(n));
    asked(bench, stream, &prompt, of(m), of(n))
}

/// Ranges whose first digits decide how many digits the product has, or do not.
fn with_first_digits(
    stream: &mut Stream,
    (m, n): (u32, u32),
    decided: bool,
) -> Option<(Range, Range)> {
    let mut range = |count: u32| {
        let first = stream.number(1..=9);
        let unit = ten_to(count as usize - 1);
        (first * unit, (first + 1) * unit - 1)
    };
    let (a, b) = (range(m), range(n));
    let fixed = digit_count(a.0 * b.0) == digit_count(a.1 * b.1);
    // Times 1 decides without a thought.
    (fixed == decided && b != (1, 1)).then_some((a, b))
}

/// "Multiply a number from 300 to 399 by one from 40 to 49. …"
fn first_digits_known(bench: &Bench, stream: &mut Stream, a: Range, b: Range) -> Item {
    let name = |(least, most): Range| {
        if least == most {
            bench.number(least)
        } else {
            format!("from {} to {}", bench.number(least), bench.number(most))
        }
    };
    let of = |range: Range, word: &str| {
        if range.0 == range.1 { name(range) } else { format!("{word} {}", name(range)) }
    };
    let prompt = format!("Multiply {} by {}", of(a, "a number"), of(b, "one"));
    asked(bench, stream, &prompt, a, b)
}

fn always(digits: u32) -> String {
    format!("always {digits}")
}

fn either(digits: u32) -> String {
    format!("{} or {digits}", digits - 1)
}

fn asked(bench: &Bench, stream: &mut Stream, which: &str, a: Range, b: Range) -> Item {
    let most = digit_count(a.1) + digit_count(b.1);
    let (low, high) = (a.0 * b.0, a.1 * b.1);
    let ends = (digit_count(low), digit_count(high));
    let right = if ends.0 == ends.1 { always(ends.0) } else { either(ends.1) };
    let rules = [
        (always(most), "digits-all-added"),
        (always(most - 1), "digits-always-one-fewer"),
        (either(most), "leading-digits-not-used"),
        (either(most + 1), "digits-one-too-many"),
    ];
    let options = rules.into_iter().map(|(text, rule)| {
        let correct = text == right;
        option(text, correct, (!correct).then_some(rule))
    });
    let why = if ends.0 == ends.1 {
        let digits = crate::words::count(ends.0 as usize, "digit");
        let (low, high) = (bench.number(low), bench.number(high));
        format!("The smallest is {low}, the largest {high}: all have {digits}.")
    } else {
        let (low, high) = (bench.number(low), bench.number(high));
        format!("The smallest is {low}, the largest {high}.")
    };
    let prompt = format!("{which}. How many digits can the product have?");
    choice(bench, stream, &prompt, options.collect(), why)
}
