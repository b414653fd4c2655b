//! Questions that start from a product that is known, or that need none: for stretch.

use super::Bench;
use super::deal;
use crate::exercise::patterns::{likely_written, pattern};
use crate::exercise::{Choice, Item, Kind, Space, Working};
use crate::method::{Written, ordered};

type Pair = (u64, u64);

/// How many kinds [`thought`] knows.
pub(super) const KINDS: usize = 7;

/// The `turn`-th kind of question about this pair; none where it does not suit the pair.
pub(super) fn thought(bench: &Bench, pair: Pair, turn: usize) -> Option<Item> {
    let (a, b) = ordered(pair.0, pair.1);
    match turn % KINDS {
        0 => Some(next_door(bench, (a, b))),
        1 => what_went_wrong(bench, (a, b)),
        2 => Some(true_or_false(bench, (a, b))),
        3 => same_product(bench, (a, b)),
        4 => Some(most_or_least(bench, (a, b))),
        5 => Some(from_twice(bench, (a, b))),
        _ => super::stretch::reason(bench, pair, 1),
    }
}

/// "47 × 36 = 1,692."
fn known(bench: &Bench, (a, b): Pair) -> String {
    format!("{}\u{a0}=\u{a0}{}", bench.sum(a, b), bench.number(a * b))
}

fn from_known(bench: &Bench, given: Pair, asked: Pair, expression: String, why: String) -> Item {
    let prompt =
        format!("{}. Use it to find {}.", known(bench, given), bench.sum(asked.0, asked.1));
    let mut item = bench.plain(Kind::Reason, prompt, (asked.0 * asked.1).to_string());
    item.expression = Some(expression);
    item.working = Working::Steps { steps: vec![why] };
    item.space = Space::Box;
    item
}

/// "47 × 36 = 1,692. Use it to find 47 × 37."
fn next_door(bench: &Bench, (a, b): Pair) -> Item {
    let more = format!("{}\u{a0}+\u{a0}{}", bench.number(a * b), bench.number(a));
    let why =
        format!("One {} more: {more}\u{a0}=\u{a0}{}.", bench.number(a), bench.number(a * (b + 1)));
    from_known(bench, (a, b), (a, b + 1), format!("{}+{a}", a * b), why)
}

/// "47 × 36 = 1,692. Use it to find 94 × 36."
fn from_twice(bench: &Bench, (a, b): Pair) -> Item {
    let why = format!("Twice as much: {}.", known(bench, (2, a * b)));
    from_known(bench, (a, b), (2 * a, b), format!("2*{}", a * b), why)
}

/// "48 × 25 = 24 ×" and a box: one factor halved, the other doubled.
fn same_product(bench: &Bench, (a, b): Pair) -> Option<Item> {
    let (even, other) = [(a, b), (b, a)].into_iter().find(|(x, _)| x % 2 == 0 && *x > 4)?;
    let half = even / 2;
    let prompt = format!("{}\u{a0}=\u{a0}{}\u{a0}×", bench.sum(even, other), bench.number(half));
    let mut item = bench.plain(Kind::Missing, prompt, (2 * other).to_string());
    item.expression = Some(format!("{even}*{other}//{half}"));
    let why = format!(
        "{} is half of {}, so the other factor is twice {}.",
        bench.number(half),
        bench.number(even),
        bench.number(other)
    );
    item.working = Working::Steps { steps: vec![why] };
    item.space = Space::Box;
    Some(item)
}

fn option(text: &str, correct: bool) -> Choice {
    Choice { text: text.to_owned(), correct, pattern: None }
}

/// "True or false? 94 × 72 is twice 47 × 36.": both factors doubled make four times as much.
fn true_or_false(bench: &Bench, (a, b): Pair) -> Item {
    let what = format!("true {a} {b}");
    let mut stream = deal::stream(bench.request, &bench.setting.seed, &what);
    let right = stream.chance(1, 2);
    let larger = if right { (2 * a, b) } else { (2 * a, 2 * b) };
    let prompt =
        format!("True or false? {} is twice {}.", bench.sum(larger.0, larger.1), bench.sum(a, b));
    let choices = vec![option("true", right), option("false", !right)];
    let mut item = bench.choice(&prompt, choices, true);
    let why = if right {
        "One factor is doubled, the other is the same."
    } else {
        "Both factors are doubled: it is four times as much."
    };
    item.working = Working::Steps { steps: vec![why.to_owned()] };
    item
}

/// "Which product is the largest? Do not work them out."
fn most_or_least(bench: &Bench, (a, b): Pair) -> Item {
    let what = format!("most {a} {b}");
    let mut stream = deal::stream(bench.request, &bench.setting.seed, &what);
    let largest = stream.chance(1, 2);
    let by = match a {
        1000.. => 100,
        30.. => 10,
        _ => 1,
    };
    let others = if largest { [(a - by, b), (a, b - 1)] } else { [(a + by, b), (a, b + 1)] };
    let mut choices = vec![option(&bench.sum(a, b), true)];
    choices.extend(others.map(|(x, y)| option(&bench.sum(x, y), false)));
    stream.shuffle(&mut choices);
    let (word, other) = if largest { ("largest", "smaller") } else { ("smallest", "larger") };
    let prompt = format!("Which product is the {word}? Do not work them out.");
    let mut item = bench.choice(&prompt, choices, true);
    let why = format!("Each of the others has one {other} factor and one that is the same.");
    item.working = Working::Steps { steps: vec![why] };
    item
}

/// Mistakes that can be told in words without the class's own terms.
const TOLD: [&str; 7] = [
    "placeholder-left-out",
    "hundreds-row-shifted-once",
    "column-by-column",
    "zero-row-copied",
    "row-after-zero-closed-up",
    "only-highest-row",
    "later-rows-extra-zero",
];

/// "A pupil writes 47 × 36 = 423. What went wrong?": one of the mistakes gives this answer.
fn what_went_wrong(bench: &Bench, (a, b): Pair) -> Option<Item> {
    let told: Vec<_> = TOLD.iter().filter_map(|name| pattern(name)).collect();
    let likely = likely_written(a, b, Written::Long, &bench.setting.style);
    let what = format!("wrong {a} {b}");
    let mut stream = deal::stream(bench.request, &bench.setting.seed, &what);
    let mut fits: Vec<(u64, &str)> = Vec::new();
    for one in &likely {
        if let ([name], Ok(value)) = (&one.patterns[..], one.answer.parse()) {
            fits.extend(told.iter().filter(|p| p.name == name).map(|p| (value, p.name)));
        }
    }
    let &(value, name) = stream.one_of(&fits)?;
    // Mistakes that can be made in this sum, but lead elsewhere.
    let other = |p: &&&_| -> bool {
        let p: &crate::exercise::patterns::Pattern = p;
        let answers = p.answers(a, b);
        p.name != name && !answers.is_empty() && !answers.contains(&value)
    };
    let mut others: Vec<_> = told.iter().filter(other).collect();
    stream.shuffle(&mut others);
    let right = pattern(name)?;
    let mut choices = vec![option(right.shows, true)];
    choices.extend(others.into_iter().take(2).map(|p| option(p.shows, false)));
    if choices.len() < 3 {
        return None;
    }
    stream.shuffle(&mut choices);
    let prompt = format!(
        "A pupil writes {}\u{a0}=\u{a0}{}. What went wrong?",
        bench.sum(a, b),
        bench.number(value)
    );
    let mut item = bench.choice(&prompt, choices, false);
    item.working =
        Working::Steps { steps: vec![format!("It should be {}.", known(bench, (a, b)))] };
    Some(item)
}
