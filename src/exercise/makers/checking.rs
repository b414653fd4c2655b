//! Checking a product: by its size, by nines, by working back.

use super::classes::{Size, loose};
use super::head::missing_factor;
use super::looks::{Zeros, sound};
use super::stretch::{reason, which_can_be_right};
use super::written::own_or;
use super::{Bench, Spot, deal};
use crate::exercise::patterns::likely_written;
use crate::exercise::{Choice, Given, Item, Kind, Space, Working};
use crate::method::Written;
use crate::number::{bracket, digits};

type Pair = (u64, u64);

/// A set about checks.
pub(super) fn make(bench: &Bench) -> Vec<Item> {
    let wanted = bench.request.most.max(bench.request.least);
    let spot = bench.request.spot;
    if spot == Spot::WarmUp {
        return bench.fit(nines_of_numbers(bench, wanted));
    }
    let dealt = dealt(bench, wanted + 4);
    let own = bench.request.own.len();
    if spot == Spot::Example {
        // The worked sum shows both checks below it.
        let item = |&p: &Pair| bench.written(p, Written::Long, Given::All, false);
        return bench.fit(dealt.iter().map(item));
    }
    let because = matches!(spot, Spot::Guided | Spot::Core | Spot::Stretch);
    let mut numbers = nines_of_numbers(bench, wanted).into_iter();
    let mut items = Vec::new();
    for (index, &pair) in dealt.iter().enumerate() {
        let item = match (spot, index % 3) {
            _ if index < own => by_nines(bench, pair, because),
            (Spot::Support, 1) | (Spot::ExitCheck | Spot::Homework, 0) => numbers.next(),
            (Spot::Stretch, 1) => reason(bench, pair, 0),
            (Spot::Stretch, 2) => Some(missing_factor(bench, pair)),
            (_, 0) => by_nines(bench, pair, because),
            (_, 1) => Some(which_can_be_right(bench, pair)),
            _ => right_or_wrong(bench, pair, because),
        };
        items.extend(item.or_else(|| Some(which_can_be_right(bench, pair))));
    }
    bench.fit(items)
}

/// Worked sums of two digits by two; sums to check, which nobody works out, of three by two.
fn dealt(bench: &Bench, wanted: usize) -> Vec<Pair> {
    let worked = bench.request.spot == Spot::Example;
    let size = if worked && bench.request.part <= 1 { Size::of(2, 2) } else { Size::of(3, 2) };
    own_or(bench, size, Zeros::Never, wanted)
}

/// What is left of a number when its digits are added until one is left.
fn nines(n: u64) -> u64 {
    (n - 1) % 9 + 1
}

/// "6,283 → 19 → 10 → 1".
fn chain(bench: &Bench, n: u64) -> String {
    let mut text = bench.number(n);
    let mut rest = n;
    while rest > 9 {
        rest = digits(rest).iter().map(|&d| u64::from(d)).sum();
        text.push_str(&format!("\u{a0}→\u{a0}{}", bench.number(rest)));
    }
    text
}

/// "Nines of 6,283": add the digits until one is left.
fn nines_of_numbers(bench: &Bench, wanted: usize) -> Vec<Item> {
    let plain = |a: u64, b: u64| sound(a, b, Zeros::Never) && !a.is_multiple_of(9);
    let size = if bench.request.part <= 1 { Size::of(3, 2) } else { Size::of(4, 2) };
    let numbers = loose(bench, size, wanted, &plain);
    let item = |(n, _): Pair| {
        let prompt = format!("Nines of {}:", bench.number(n));
        let mut item = bench.plain(Kind::Reason, prompt, nines(n).to_string());
        item.expression = Some(format!("{n}-{n}//9*9"));
        item.working = Working::Steps { steps: vec![chain(bench, n)] };
        item.space = Space::Box;
        item
    };
    numbers.into_iter().map(item).collect()
}

/// Wrong answers of known mistakes with the product's size, whose nines differ from its own.
fn wrong_of_size(bench: &Bench, (a, b): Pair, nines_differ: bool) -> Vec<(u64, String)> {
    let (low, high) = bracket(a, b);
    let wrong = likely_written(a, b, Written::Long, &bench.setting.style);
    let read = |l: &crate::exercise::Likely| {
        let value: u64 = l.answer.parse().ok()?;
        Some((value, l.patterns.first()?.clone()))
    };
    wrong
        .iter()
        .filter_map(read)
        .filter(|(n, _)| (low..=high).contains(n) && (nines(*n) != nines(a * b)) == nines_differ)
        .collect()
}

/// "Which can be 47 × 36? Check by nines."
fn by_nines(bench: &Bench, pair: Pair, because: bool) -> Option<Item> {
    let (a, b) = pair;
    let product = a * b;
    let mut choices = vec![Choice { text: bench.number(product), correct: true, pattern: None }];
    for (value, name) in wrong_of_size(bench, pair, true).into_iter().take(2) {
        let text = bench.number(value);
        if choices.iter().all(|c| c.text != text) {
            choices.push(Choice { text, correct: false, pattern: Some(name) });
        }
    }
    // A slip of one in the tens always changes the nines.
    if choices.len() < 3 {
        let text = bench.number(product + 10);
        choices.push(Choice { text, correct: false, pattern: None });
    }
    choices.sort_by_key(|c| c.text.clone());
    let what = format!("nines {a} {b}");
    deal::stream(bench.request, &bench.setting.seed, &what).shuffle(&mut choices);
    let prompt = format!("Which can be {}? Check by nines.", bench.sum(a, b));
    let mut item = bench.choice(&prompt, choices, because);
    item.working = Working::Steps { steps: nines_steps(bench, pair, product) };
    Some(item)
}

fn nines_steps(bench: &Bench, (a, b): Pair, answer: u64) -> Vec<String> {
    let (x, y) = (nines(a), nines(b));
    vec![
        format!("{};  {}", chain(bench, a), chain(bench, b)),
        format!(
            "{};  {}",
            format_args!("{x}\u{a0}×\u{a0}{y}\u{a0}=\u{a0}{}", chain(bench, x * y)),
            chain(bench, answer)
        ),
    ]
}

/// "A pupil writes 47 × 36 = 1,592. Can it be right?"
fn right_or_wrong(bench: &Bench, pair: Pair, because: bool) -> Option<Item> {
    let (a, b) = pair;
    let wrong = wrong_of_size(bench, pair, true).into_iter().next();
    let what = format!("right or wrong {a} {b}");
    let mut stream = deal::stream(bench.request, &bench.setting.seed, &what);
    let (answer, pattern) = match wrong {
        Some((value, name)) if stream.chance(2, 3) => (value, Some(name)),
        _ => (a * b, None),
    };
    let right = answer == a * b;
    let option = |text: &str, correct: bool, pattern: &Option<String>| Choice {
        text: text.to_owned(),
        correct,
        pattern: if correct { None } else { pattern.clone() },
    };
    let choices = vec![
        option("yes, it can be right", right, &pattern),
        option("no, it is wrong", !right, &None),
    ];
    let prompt = format!(
        "A pupil writes {}\u{a0}=\u{a0}{}. Check by nines. Can it be right?",
        bench.sum(a, b),
        bench.number(answer)
    );
    let mut item = bench.choice(&prompt, choices, because);
    item.working = Working::Steps { steps: nines_steps(bench, pair, answer) };
    Some(item)
}
