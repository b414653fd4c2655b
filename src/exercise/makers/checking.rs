//! Checking a product: by its size, by nines, by working back.

use super::build::mistakes;
use super::classes::{Size, loose};
use super::looks::{Zeros, sound};
use super::stretch::{reason, which_can_be_right};
use super::written::own_or;
use super::{Bench, Spot, deal};
use crate::exercise::patterns::likely_written;
use crate::exercise::{Choice, Item, Kind, Space, Working};
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
        return bench.fit(shown(bench, &dealt));
    }
    let because = matches!(spot, Spot::Guided | Spot::Core | Spot::Stretch);
    let mut numbers = nines_of_numbers(bench, wanted).into_iter();
    let mut back = to_divide(bench, wanted).into_iter();
    let mut items = Vec::new();
    for (index, &pair) in dealt.iter().enumerate() {
        let item = match (spot, index % 3) {
            _ if index < own => by_nines(bench, pair, because),
            (Spot::Support, 1) | (Spot::ExitCheck | Spot::Homework, 0) => numbers.next(),
            (Spot::Stretch, 1) => reason(bench, pair, 0),
            (Spot::Stretch, 2) => back.next().map(|pair| worked_back(bench, pair)),
            (_, 0) => by_nines(bench, pair, because),
            (_, 1) => Some(which_can_be_right(bench, pair)),
            _ => right_or_wrong(bench, pair, because),
        };
        items.extend(item.or_else(|| Some(which_can_be_right(bench, pair))));
    }
    bench.fit(items)
}

/// The examples show a wrong product that the nines find, one that passes, and one checked by
/// working back.
fn shown(bench: &Bench, dealt: &[Pair]) -> Vec<Item> {
    let mut pairs = dealt.iter().copied();
    let wrong = pairs.by_ref().find(|&p| !wrong_of_size(bench, p, true).is_empty());
    let mut items: Vec<Item> = Vec::new();
    items.extend(wrong.map(|pair| judged(bench, pair, true, false)));
    items.extend(pairs.next().map(|pair| judged(bench, pair, false, false)));
    items.extend(to_divide(bench, 1).into_iter().map(|pair| worked_back(bench, pair)));
    items
}

/// Products by one digit: nobody multiplies them, and dividing by one digit is known.
fn to_divide(bench: &Bench, wanted: usize) -> Vec<Pair> {
    loose(bench, Size::of(3, 1), wanted, &|a, b| b > 3 && sound(a, b, Zeros::Never))
}

/// "478 × 6 = 2,868. Check by working back: what is 2,868 ÷ 6?"
fn worked_back(bench: &Bench, (a, b): Pair) -> Item {
    let product = bench.number(a * b);
    let prompt = format!(
        "{}\u{a0}=\u{a0}{product}. Check by working back: what must {product}\u{a0}÷\u{a0}{b} be?",
        bench.sum(a, b)
    );
    let mut item = bench.plain(Kind::Reason, prompt, a.to_string());
    item.expression = Some(format!("{}//{b}", a * b));
    let step = format!(
        "{product}\u{a0}÷\u{a0}{b}\u{a0}=\u{a0}{}: the other factor comes back.",
        bench.number(a)
    );
    item.working = Working::Steps { steps: vec![step] };
    item.likely =
        mistakes(a, &[(a * b - b, "subtracted-instead"), (a * b * b, "multiplied-instead")]);
    item.space = Space::Box;
    item
}

/// Worked sums of two digits by two; sums to check, which nobody works out, of three by two.
fn dealt(bench: &Bench, wanted: usize) -> Vec<Pair> {
    let worked = bench.request.spot == Spot::Example;
    let size = if worked && bench.request.part <= 1 { Size::of(2, 2) } else { Size::of(3, 2) };
    own_or(bench, size, Zeros::Never, wanted)
}

/// What is left of a number when its digits are added until one digit is left.
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

/// "Add the digits of 6,283 until one digit is left": what the nines leave.
fn nines_of_numbers(bench: &Bench, wanted: usize) -> Vec<Item> {
    let once = |n: u64| -> u64 { digits(n).iter().map(|&d| u64::from(d)).sum() };
    // Where the first sum has one digit nothing is left to add again.
    let plain = |a: u64, b: u64| sound(a, b, Zeros::Never) && !a.is_multiple_of(9) && once(a) > 9;
    let size = if bench.request.part <= 1 { Size::of(3, 2) } else { Size::of(4, 2) };
    let numbers = loose(bench, size, wanted, &plain);
    let item = |(n, _): Pair| {
        let prompt = format!("Add the digits of {} until one digit is left:", bench.number(n));
        let mut item = bench.plain(Kind::Reason, prompt, nines(n).to_string());
        item.expression = Some(format!("{n}-{n}//9*9"));
        item.working = Working::Steps { steps: vec![chain(bench, n)] };
        item.likely = mistakes(nines(n), &[(once(n), "digits-added-once")]);
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
    let prompt = format!("Which can be the answer to {}? {BY_NINES}", bench.sum(a, b));
    let mut item = bench.choice(&prompt, choices, because);
    item.working = Working::Steps { steps: nines_steps(bench, pair, product) };
    Some(item)
}

/// How a product is checked by nines, in a few words.
const BY_NINES: &str = "Check by nines: add up the digits of each number until one is left.";

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

/// "A pupil writes 47 × 36 = 1,592. Can it be right?", wrong two times out of three.
fn right_or_wrong(bench: &Bench, pair: Pair, because: bool) -> Option<Item> {
    let what = format!("right or wrong {} {}", pair.0, pair.1);
    let mut stream = deal::stream(bench.request, &bench.setting.seed, &what);
    Some(judged(bench, pair, stream.chance(2, 3), because))
}

/// A product to judge: a wrong one that the nines find, where there is one of the right size.
fn judged(bench: &Bench, (a, b): Pair, wrong: bool, because: bool) -> Item {
    let found = wrong_of_size(bench, (a, b), true).into_iter().next().filter(|_| wrong);
    let (answer, pattern) = match found {
        Some((value, name)) => (value, Some(name)),
        None => (a * b, None),
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
        "A pupil writes {}\u{a0}=\u{a0}{}. {BY_NINES} Can it be right?",
        bench.sum(a, b),
        bench.number(answer)
    );
    let mut item = bench.choice(&prompt, choices, because);
    let (low, high) = bracket(a, b);
    let size =
        format!("The size fits: it lies between {} and {}.", bench.number(low), bench.number(high));
    let verdict = if right { "They agree: it can be right." } else { "They differ: it is wrong." };
    let mut steps = vec![size];
    steps.extend(nines_steps(bench, (a, b), answer));
    steps.push(verdict.to_owned());
    item.working = Working::Steps { steps };
    item
}
