//! Equal groups met in words: a sum of equal parts, groups still missing, a group too many.

use super::Bench;
use super::words::{choice, four_sums, option};
use crate::exercise::Item;
use crate::seed::Stream;

/// "Which one is the same as 47 + 47 + 47 + 47?"
pub(super) fn equal_parts(bench: &Bench, stream: &mut Stream) -> Item {
    let (a, n) = (stream.number(13..=98), stream.number(3..=6));
    let parts = usize::try_from(n).unwrap_or(3);
    let number = bench.number(a);
    let sum = vec![number.as_str(); parts].join("\u{a0}+\u{a0}");
    let options = vec![
        option(bench.sum(a, n), true, None),
        option(bench.sum(a, n - 1), false, Some("plus-signs-counted")),
        option(format!("{number}\u{a0}+\u{a0}{n}"), false, Some("added-instead")),
        option(bench.sum(a, a), false, Some("number-times-itself")),
    ];
    let why = format!("There are {n} of the number {number} to add.");
    choice(bench, stream, &format!("Which one is the same as {sum}?"), options, why)
}

/// "Which one says “6 parts of 48 each, all together”?" ("6 equal parts of 48" could mean 48 cut up.)
pub(super) fn parts_together(bench: &Bench, stream: &mut Stream) -> Item {
    let (a, n) = (stream.number(13..=98), stream.number(3..=9));
    let prompt = format!("Which one says “{n} parts of {a} each, all together”?");
    let why = format!("{n} parts of {a} each: {a} is taken {n} times.");
    choice(bench, stream, &prompt, four_sums(bench, a, n), why)
}

/// "You have 20 groups of 7. How many more groups make 23 groups of 7?"
pub(super) fn more_groups(bench: &Bench, stream: &mut Stream) -> Item {
    let (have, more) = (stream.number(10..=30), stream.number(2..=5));
    let size = more + 1 + stream.number(1..=4);
    groups_to_go(bench, stream, (have, have + more), size)
}

/// The same for a product that is split: 13 groups of 4 from 10 groups of 4.
pub(super) fn groups_of_a_split(bench: &Bench, (a, b): (u64, u64)) -> Option<Item> {
    let (groups, size) = (a.max(b), a.min(b));
    let have = groups / 10 * 10;
    let fits = size < 10 && (11..100).contains(&groups) && groups > have && groups - have != size;
    let what = format!("groups of a split {groups} {size}");
    let mut stream = super::deal::stream(bench.request, &bench.setting.seed, &what);
    fits.then(|| groups_to_go(bench, &mut stream, (have, groups), size))
}

fn groups_to_go(bench: &Bench, stream: &mut Stream, (have, want): (u64, u64), size: u64) -> Item {
    let more = want - have;
    let groups = |n: u64| format!("{n} more groups");
    let options = vec![
        option(groups(more), true, None),
        option(groups(want), false, Some("all-groups-counted")),
        option(groups(size), false, Some("group-size-given")),
        option(groups(have + want), false, Some("added-instead")),
    ];
    let why = format!(
        "{}\u{a0}+\u{a0}{}\u{a0}=\u{a0}{}.",
        bench.sum(have, size),
        bench.sum(more, size),
        bench.sum(want, size)
    );
    let prompt = format!(
        "You have {have} groups of {size}. How many more groups make {want} groups of {size}?"
    );
    choice(bench, stream, &prompt, options, why)
}

/// "47 × 30 = 1,410. What turns 1,410 into 47 × 29?": one group of 47 fewer.
pub(super) fn groups_too_many(bench: &Bench, (a, b): (u64, u64)) -> Option<Item> {
    let near = |n: u64| n > 10 && matches!(n % 10, 8 | 9);
    let (kept, moved) = [(a, b), (b, a)].into_iter().find(|&(_, n)| near(n))?;
    let round = moved.next_multiple_of(10);
    let off = round - moved;
    if kept < 4 || kept == round || kept == off {
        return None;
    }
    let group = bench.number(kept);
    let groups = |n: u64| if n == 1 { group.clone() } else { bench.sum(n, kept) };
    let mut options = vec![
        option(format!("take away {}", groups(off)), true, None),
        option(format!("take away {off}"), false, Some("adjusted-by-the-difference")),
        option(format!("add {}", groups(off)), false, Some("adjusted-the-wrong-way")),
    ];
    options.push(if off == 1 {
        option(format!("take away {}", bench.number(round)), false, Some("other-factor-used"))
    } else {
        option(format!("take away {group}"), false, Some("adjusted-once-only"))
    });
    let product = bench.number(kept * round);
    let prompt = format!(
        "{}\u{a0}=\u{a0}{product}. What turns {product} into {}?",
        bench.sum(kept, round),
        bench.sum(kept, moved)
    );
    let why = format!(
        "{}\u{a0}=\u{a0}{}\u{a0}−\u{a0}{}.",
        bench.sum(kept, moved),
        bench.sum(kept, round),
        groups(off)
    );
    let what = format!("groups too many {kept} {moved}");
    let mut stream = super::deal::stream(bench.request, &bench.setting.seed, &what);
    Some(choice(bench, &mut stream, &prompt, options, why))
}
