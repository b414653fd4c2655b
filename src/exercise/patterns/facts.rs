//! Wrong answers to a single fact of the tables, and single facts that are not known.
//!
//! Sources: operand errors, close ones (within two steps) and operation errors as defined by
//! Campbell and Graham 1985 (from memory); errors that share the tens digit, Domahs, Delazer and
//! Nuerk 2006; zero and one from Cox and from Engelhardt (from memory). Counting by one factor one
//! group short or too many is the neighbour in one direction: both ways round it can never be told
//! from it, so the two are one pattern here. Adding instead of multiplying is the same in a fact
//! and in a long sum.

use super::working::{Detail, WrongWorking};
use super::{Family, Pattern, Procedure};
use crate::number::{digits, from_digits};
use std::collections::BTreeMap;
use std::sync::LazyLock;

/// The largest number that still belongs to the tables.
const TABLES: u64 = 12;

/// Operand errors: the product of one factor and another multiplier, `step` tells which.
fn operand_errors(x: u64, y: u64, step: impl Fn(u64) -> bool) -> Vec<WrongWorking> {
    let others = |fixed: u64, right: u64| {
        let step = &step;
        let near = move |z: u64| z.abs_diff(right) <= 2;
        (1..=right.max(9) + 2)
            .filter(move |&z| step(z.abs_diff(right)) && (near(z) || (2..=9).contains(&z)))
            .map(move |z| WrongWorking::line(format!("{fixed}*{z}"), fixed * z))
    };
    if x == 0 || y == 0 {
        return Vec::new();
    }
    others(x, y).chain(others(y, x)).collect()
}

fn neighbour(x: u64, y: u64) -> Vec<WrongWorking> {
    operand_errors(x, y, |step| step == 1)
}

fn two_steps_off(x: u64, y: u64) -> Vec<WrongWorking> {
    operand_errors(x, y, |step| step == 2)
}

fn other_fact_of_the_table(x: u64, y: u64) -> Vec<WrongWorking> {
    operand_errors(x, y, |step| step > 2)
}

fn same_tens(x: u64, y: u64) -> Vec<WrongWorking> {
    let mut found = operand_errors(x, y, |step| step > 0);
    found.retain(|w| w.value() / 10 == x * y / 10);
    found
}

fn fact_of_other_table(x: u64, y: u64) -> Vec<WrongWorking> {
    if x < 2 || y < 2 {
        return Vec::new();
    }
    let pairs = (2..=9).flat_map(|p| (p..=9).map(move |q| (p, q)));
    let shares = |p| p == x || p == y;
    let of_these: Vec<u64> =
        operand_errors(x, y, |step| step > 0).iter().map(WrongWorking::value).collect();
    pairs
        .filter(|&(p, q)| !shares(p) && !shares(q) && !of_these.contains(&(p * q)))
        .map(|(p, q)| WrongWorking::line(format!("{p}*{q}"), p * q))
        .collect()
}

fn added_instead(x: u64, y: u64) -> Vec<WrongWorking> {
    vec![WrongWorking::line(format!("{x}+{y}"), x + y)]
}

fn zero_times_keeps_number(x: u64, y: u64) -> Vec<WrongWorking> {
    match (x, y) {
        (0, n) | (n, 0) => vec![WrongWorking::line(n.to_string(), n)],
        _ => Vec::new(),
    }
}

/// The other factor, where one of them is 1.
fn beside_one(x: u64, y: u64) -> Option<u64> {
    match (x, y) {
        (1, n) | (n, 1) => Some(n),
        _ => None,
    }
}

fn one_times_adds_one(x: u64, y: u64) -> Vec<WrongWorking> {
    let more = beside_one(x, y).map(|n| WrongWorking::line(format!("{n}+1"), n + 1));
    more.into_iter().collect()
}

fn one_times_gives_one(x: u64, y: u64) -> Vec<WrongWorking> {
    let one = beside_one(x, y).map(|_| WrongWorking::line("1".to_owned(), 1));
    one.into_iter().collect()
}

fn digits_exchanged(x: u64, y: u64) -> Vec<WrongWorking> {
    let mut written = digits(x * y);
    if written.len() < 2 || written[0] == 0 {
        return Vec::new();
    }
    written.reverse();
    let value = from_digits(&written);
    vec![WrongWorking::line(value.to_string(), value)]
}

/// Wrong values of a fact to expect: one step along either table, or a fact of other tables at
/// most five away (the spread is common practice, no source).
fn wrong_values(x: u64, y: u64) -> Vec<u64> {
    let right = x * y;
    let mut values = vec![right - x, right - y, right + x, right + y];
    let others = fact_of_other_table(x, y);
    values.extend(others.iter().map(WrongWorking::value).filter(|v| v.abs_diff(right) <= 5));
    values
}

/// The wrong values of every fact that may be wrong by itself.
static WRONG_VALUES: LazyLock<BTreeMap<(u8, u8), Vec<u64>>> = LazyLock::new(|| {
    let facts = (2..=9_u8).flat_map(|x| (x..=9).map(move |y| (x, y)));
    facts.map(|(x, y)| ((x, y), wrong_values(u64::from(x), u64::from(y)))).collect()
});

/// What a fact may be taken to be; nothing for numbers beyond the tables.
pub(super) fn taken_for(x: u8, y: u8) -> &'static [u64] {
    WRONG_VALUES.get(&(x, y)).map_or(&[], Vec::as_slice)
}

/// What a × b comes to when one fact is wrong wherever it is needed and all else is right.
pub(super) fn one_fact_wrong(x: u8, y: u8, a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    let (top, side) = (digits(a), digits(b));
    let needs = |t: &u8| side.iter().any(|s| (*t.min(s), *t.max(s)) == (x, y));
    if !top.iter().any(needs) {
        return Vec::new();
    }
    let wrong = taken_for(x, y).iter();
    wrong.map(|&taken| super::long::with_fact(a, b, (x, y), taken, how)).collect()
}

/// What these procedures give for a sum; nothing beyond the tables.
pub(super) fn apply(
    procedure: fn(u64, u64) -> Vec<WrongWorking>,
    x: u64,
    y: u64,
) -> Vec<WrongWorking> {
    if x <= TABLES && y <= TABLES { procedure(x, y) } else { Vec::new() }
}

const fn fact(
    name: &'static str,
    procedure: fn(u64, u64) -> Vec<WrongWorking>,
    short: &'static str,
    shows: &'static str,
    teach: &'static str,
) -> Pattern {
    let procedure = Procedure::Fact(procedure);
    Pattern { name, short, shows, teach, family: Family::Fact, weight: 3, procedure }
}

pub(super) const FACTS: &[Pattern] = &[
    fact(
        "table-neighbour",
        neighbour,
        "one step off in a table",
        "the fact is one step along in a table: one group too many or too few",
        "Build the fact from a known one and say how many groups there are: 7 × 8 is 7 × 7 and one \
         7 more. An array with the last row covered and uncovered shows the step.",
    ),
    fact(
        "table-two-steps-off",
        two_steps_off,
        "two steps off in a table",
        "the fact is two steps along in a table",
        "Anchor the table at 5 and 10 groups and count on or back from there. Practise the few facts \
         round the one that was missed.",
    ),
    fact(
        "other-fact-of-the-table",
        other_fact_of_the_table,
        "other fact of its table",
        "another fact of one of the two tables is given",
        "Ask for the fact and its turn-round (8 × 8, 5 × 8) side by side. Short, spaced practice of \
         the mixed-up facts helps more than the whole table.",
    ),
    fact(
        "same-tens-digit",
        same_tens,
        "right tens, wrong fact",
        "a fact of the same tables with the same tens digit is given",
        "Put the facts that are mixed up on one card (6 × 7 = 42, 6 × 8 = 48) and tell them apart by \
         the step between them.",
    ),
    fact(
        "fact-of-another-table",
        fact_of_other_table,
        "fact of another table",
        "a fact of quite another table is given",
        "Ask how it could be checked: is 54 in the sevens? Practise the fact with its neighbours.",
    ),
    fact(
        "zero-times-keeps-number",
        zero_times_keeps_number,
        "times 0 left as it was",
        "a number times 0 is given as the number",
        "Act it out: no bags with 7 apples each, 7 bags with none. Compare 7 + 0 with 7 × 0.",
    ),
    fact(
        "one-times-one-more",
        one_times_adds_one,
        "times 1 made one more",
        "a number times 1 is given as one more",
        "Act it out: one bag of 7 apples. Compare 7 + 1 with 7 × 1.",
    ),
    fact(
        "one-times-gives-one",
        one_times_gives_one,
        "times 1 made 1",
        "a number times 1 is given as 1",
        "Act it out: one bag of 7 apples, and 7 bags with one each. Read the sum aloud as groups.",
    ),
    fact(
        "fact-digits-exchanged",
        digits_exchanged,
        "digits exchanged",
        "the right digits are written in the wrong order",
        "Have the number said before it is written, and read back after: sixty-three, 6 tens and 3 \
         ones. This is a matter of writing numbers, not of tables.",
    ),
];

pub(super) const ADDED: Pattern = Pattern {
    name: "added-instead",
    short: "added, not multiplied",
    shows: "the two numbers are added",
    teach: "Ask for a story or a picture of the sum before it is worked out. Have the sign read aloud.",
    family: Family::Fact,
    weight: 3,
    procedure: Procedure::Mental(added_instead),
};

/// One pattern for each fact that may be wrong by itself.
macro_rules! single_facts {
    ($(($x:literal, $y:literal)),* $(,)?) => {
        pub(super) const SINGLE_FACTS: &[Pattern] = &[$(Pattern {
            name: concat!("fact-", $x, "x", $y),
            short: concat!("fact ", $x, " × ", $y),
            shows: concat!("the fact ", $x, " × ", $y, " is not known; the method is right"),
            teach: concat!(
                "The method is secure. Practise ", $x, " × ", $y, " by itself, from a fact that is \
                 known, a little every day."
            ),
            family: Family::SingleFact,
            weight: 1,
            procedure: Procedure::SingleFact($x, $y),
        }),*];
    };
}

single_facts! {
    (2, 2), (2, 3), (2, 4), (2, 5), (2, 6), (2, 7), (2, 8), (2, 9), (3, 3), (3, 4), (3, 5), (3, 6),
    (3, 7), (3, 8), (3, 9), (4, 4), (4, 5), (4, 6), (4, 7), (4, 8), (4, 9), (5, 5), (5, 6), (5, 7),
    (5, 8), (5, 9), (6, 6), (6, 7), (6, 8), (6, 9), (7, 7), (7, 8), (7, 9), (8, 8), (8, 9), (9, 9),
}
