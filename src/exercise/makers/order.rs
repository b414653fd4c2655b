//! Products compared without working them out: in order, the largest, true or false.

use super::Bench;
use super::deal;
use super::words::option;
use crate::exercise::patterns::pattern;
use crate::exercise::{Accept, Choice, Item, Kind, Likely, Space, Working};

type Pair = (u64, u64);

/// How far a factor is moved so that the difference is seen.
fn step(a: u64) -> u64 {
    match a {
        1000.. => 100,
        30.. => 10,
        _ => 1,
    }
}

/// "Put these in order, the smallest first." Each product has one factor in common with the next.
pub(super) fn in_order(bench: &Bench, (a, b): Pair) -> Option<Item> {
    let by = step(a);
    if b < 4 || a <= by + 1 {
        return None;
    }
    // Rising: each line has one factor larger than the line before, and no other smaller.
    let rising = [(a - by, b - 1), (a, b - 1), (a, b), (a + by, b)];
    let what = format!("in order {a} {b}");
    let mut stream = deal::stream(bench.request, &bench.setting.seed, &what);
    let mut shuffled: Vec<(usize, Pair)> = rising.into_iter().enumerate().collect();
    stream.shuffle(&mut shuffled);
    if shuffled.windows(2).all(|pair| pair[0].0 < pair[1].0) {
        shuffled.reverse();
    }
    let letters = ["A", "B", "C", "D"];
    let listed = shuffled.iter().zip(letters);
    let list: Vec<String> = listed
        .clone()
        .map(|((_, (x, y)), letter)| format!("{letter}:\u{a0}{}", bench.sum(*x, *y)))
        .collect();
    let mut right: Vec<(usize, &str)> = listed.map(|((rank, _), letter)| (*rank, letter)).collect();
    right.sort_unstable();
    let right: Vec<&str> = right.into_iter().map(|(_, letter)| letter).collect();
    let prompt = format!(
        "Write the letters in order, the smallest product first. Do not work out the products. {}",
        list.join("; ")
    );
    let mut item = bench.plain(Kind::Reason, prompt, right.join(", "));
    item.accept = Some(Accept::Any(vec![right.join(" ")]));
    item.working = Working::Steps {
        steps: vec![
            "From each product to the next one factor grows and the other stays the same."
                .to_owned(),
        ],
    };
    let back: Vec<&str> = right.into_iter().rev().collect();
    let shows = pattern("largest-first").map(|p| p.short).unwrap_or_default();
    item.likely = vec![Likely {
        answer: back.join(", "),
        patterns: vec!["largest-first".to_owned()],
        shows: shows.to_owned(),
    }];
    item.space = Space::Line;
    Some(item)
}

/// "Which product is the largest? Do not work them out."
pub(super) fn most_or_least(bench: &Bench, (a, b): Pair) -> Item {
    let what = format!("most {a} {b}");
    let mut stream = deal::stream(bench.request, &bench.setting.seed, &what);
    let largest = stream.chance(1, 2);
    let by = step(a);
    let others = if largest { [(a - by, b), (a, b - 1)] } else { [(a + by, b), (a, b + 1)] };
    let mut choices = vec![option(bench.sum(a, b), true, None)];
    choices
        .extend(others.map(|(x, y)| option(bench.sum(x, y), false, Some("ordered-by-one-factor"))));
    stream.shuffle(&mut choices);
    let (word, other) = if largest { ("largest", "smaller") } else { ("smallest", "larger") };
    let prompt = format!("Which product is the {word}? Do not work them out.");
    let mut item = bench.choice(&prompt, choices, true);
    let why = format!("Each of the others has one {other} factor and one that is the same.");
    item.working = Working::Steps { steps: vec![why] };
    item
}

/// A statement about products, with why it holds or not and the mistake that makes it seem to.
struct Statement {
    text: String,
    holds: bool,
    why: String,
    seems: &'static str,
}

/// "True or false? …": twice as much, one group more, one group fewer, one factor halved.
pub(super) fn true_or_false(bench: &Bench, (a, b): Pair) -> Item {
    let what = format!("true {a} {b}");
    let mut stream = deal::stream(bench.request, &bench.setting.seed, &what);
    let (form, holds) = (stream.number(0..=3), stream.chance(1, 2));
    let statement = match form {
        1 if a != b + 1 && a != b => one_group_more(bench, (a, b), holds),
        2 if b > 2 && a > 1 => one_group_fewer(bench, (a, b), holds),
        3 => halved(bench, (a, b), holds).unwrap_or_else(|| twice(bench, (a, b), holds)),
        _ => twice(bench, (a, b), holds),
    };
    let seems = |correct: bool| (!correct).then_some(statement.seems);
    let choices: Vec<Choice> = vec![
        option("true", statement.holds, seems(statement.holds)),
        option("false", !statement.holds, None),
    ];
    let mut item = bench.choice(&format!("True or false? {}.", statement.text), choices, true);
    item.working = Working::Steps { steps: vec![statement.why] };
    item
}

/// Both factors doubled make four times as much.
fn twice(bench: &Bench, (a, b): Pair, holds: bool) -> Statement {
    let larger = if holds { (2 * a, b) } else { (2 * a, 2 * b) };
    let why = if holds {
        "One factor is doubled, the other is the same."
    } else {
        "Both factors are doubled: it is four times as much."
    };
    Statement {
        text: format!("{} is twice {}", bench.sum(larger.0, larger.1), bench.sum(a, b)),
        holds,
        why: why.to_owned(),
        seems: "both-doubled",
    }
}

/// "47 × 37 is 47 more than 47 × 36", or 36 more.
fn one_group_more(bench: &Bench, (a, b): Pair, holds: bool) -> Statement {
    let more = bench.number(if holds { a } else { b });
    Statement {
        text: format!("{} is {more} more than {}", bench.sum(a, b + 1), bench.sum(a, b)),
        holds,
        why: format!("There is one group of {} more.", bench.number(a)),
        seems: "other-factor-used",
    }
}

/// "47 × 35 = 47 × 36 − 47", or − 1.
fn one_group_fewer(bench: &Bench, (a, b): Pair, holds: bool) -> Statement {
    let less = bench.number(if holds { a } else { 1 });
    Statement {
        text: format!("{}\u{a0}=\u{a0}{}\u{a0}−\u{a0}{less}", bench.sum(a, b - 1), bench.sum(a, b)),
        holds,
        why: format!("There is one group of {} fewer.", bench.number(a)),
        seems: "adjusted-by-the-difference",
    }
}

/// "48 × 25 = 24 × 50", or = 24 × 25.
fn halved(bench: &Bench, (a, b): Pair, holds: bool) -> Option<Statement> {
    let (even, other) = [(a, b), (b, a)].into_iter().find(|(x, _)| x % 2 == 0 && *x > 4)?;
    let changed = if holds { 2 * other } else { other };
    let why = if holds {
        "One factor is halved and the other doubled."
    } else {
        "One factor is halved and the other is the same: it is half as much."
    };
    Some(Statement {
        text: format!("{}\u{a0}=\u{a0}{}", bench.sum(even, other), bench.sum(even / 2, changed)),
        holds,
        why: why.to_owned(),
        seems: "one-factor-unchanged",
    })
}
