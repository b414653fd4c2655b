//! Makers for words: those of the trade, and large numbers read and written.

use super::{Bench, Spot, deal, drawn, equal_groups};
use crate::exercise::{Accept, Choice, Item, Kind, Likely, Space, Working};
use crate::number::{digit_count, in_words, ten_to};
use crate::seed::Stream;
use std::collections::BTreeSet;

pub(super) fn option(text: impl Into<String>, correct: bool, pattern: Option<&str>) -> Choice {
    Choice { text: text.into(), correct, pattern: pattern.map(str::to_owned) }
}

/// Items of these kinds in turn, none twice, as many as are wanted.
fn in_turn(bench: &Bench, what: &str, makes: &[fn(&Bench, &mut Stream) -> Item]) -> Vec<Item> {
    let mut stream = deal::stream(bench.request, &bench.setting.seed, what);
    let mut makes = makes.to_vec();
    if bench.request.spot != Spot::Example {
        stream.shuffle(&mut makes);
    }
    let wanted = bench.request.most.max(bench.request.least);
    let mut seen = BTreeSet::new();
    let mut items = Vec::new();
    for make in makes.iter().cycle().take(20 * wanted) {
        let item = make(bench, &mut stream);
        if seen.insert((item.prompt.clone(), item.answer.clone())) {
            items.push(item);
        }
        if items.len() == wanted {
            break;
        }
    }
    bench.fit(items)
}

/// A choice with its options in an order of chance and the reason in a sentence.
pub(super) fn choice(
    bench: &Bench,
    stream: &mut Stream,
    prompt: &str,
    mut options: Vec<Choice>,
    why: String,
) -> Item {
    stream.shuffle(&mut options);
    let because = bench.request.spot == Spot::Stretch;
    let mut item = bench.choice(prompt, options, because);
    item.working = Working::Steps { steps: vec![why] };
    item
}

// ---------------------------------------------------------------------------------------------
// The words of the trade

/// A set on factor, product, multiple, "groups of" and "times as many".
pub(super) fn of_the_trade(bench: &Bench) -> Vec<Item> {
    if bench.request.spot == Spot::WarmUp {
        return in_turn(bench, "spoken", &[product_of, so_many_of, times_spoken]);
    }
    let makes: &[fn(&Bench, &mut Stream) -> Item] = &[
        groups_of,
        role,
        multiple_or_factor,
        a_multiple,
        equal_groups::equal_parts,
        a_factor,
        times_as_many,
        equal_groups::more_groups,
        story_for,
        result,
        equal_groups::parts_together,
    ];
    let mut all = makes.to_vec();
    if !matches!(bench.request.spot, Spot::Example | Spot::ExitCheck) {
        all.push(drawn::dots);
    }
    in_turn(bench, "words", &all)
}

fn fact(stream: &mut Stream) -> (u64, u64) {
    (stream.number(3..=9), stream.number(6..=9))
}

fn spoken(bench: &Bench, (a, b): (u64, u64), prompt: String) -> Item {
    let mut item = bench.plain(Kind::Mental, prompt, (a * b).to_string());
    item.expression = Some(format!("{a}*{b}"));
    let steps = vec![format!("{}\u{a0}=\u{a0}{}", bench.sum(a, b), bench.number(a * b))];
    item.working = Working::Steps { steps };
    item.likely = vec![Likely {
        answer: (a + b).to_string(),
        patterns: vec!["added-instead".to_owned()],
        shows: "added, not multiplied".to_owned(),
    }];
    item
}

fn product_of(bench: &Bench, stream: &mut Stream) -> Item {
    let (a, b) = fact(stream);
    spoken(bench, (a, b), format!("product of {a} and {b}"))
}

fn so_many_of(bench: &Bench, stream: &mut Stream) -> Item {
    let (a, b) = fact(stream);
    spoken(bench, (a, b), format!("{a} groups of {b}"))
}

fn times_spoken(bench: &Bench, stream: &mut Stream) -> Item {
    let (a, b) = fact(stream);
    spoken(bench, (a, b), format!("{a} times {b}"))
}

/// The four sums of two numbers; the product is right.
pub(super) fn four_sums(bench: &Bench, a: u64, b: u64) -> Vec<Choice> {
    let signed = |sign: char| format!("{}\u{a0}{sign}\u{a0}{b}", bench.number(a));
    vec![
        option(bench.sum(a, b), true, None),
        option(signed('+'), false, Some("added-instead")),
        option(signed('−'), false, Some("subtracted-instead")),
        option(signed('÷'), false, Some("divided-instead")),
    ]
}

fn groups_of(bench: &Bench, stream: &mut Stream) -> Item {
    let (a, b) = (stream.number(13..=98), stream.number(3..=9));
    let why = format!("{b} groups of {a}: {a} is taken {b} times.");
    let prompt = format!("Which one says “{b} groups of {a}”?");
    choice(bench, stream, &prompt, four_sums(bench, a, b), why)
}

fn times_as_many(bench: &Bench, stream: &mut Stream) -> Item {
    let (a, b) = (stream.number(13..=98), stream.number(3..=9));
    let why =
        format!("{b} times as many as {a}: {a} is taken {b} times; “{b} more” would be added.");
    let prompt = format!("Which one says “{b} times as many as {a}”?");
    choice(bench, stream, &prompt, four_sums(bench, a, b), why)
}

fn story_for(bench: &Bench, stream: &mut Stream) -> Item {
    let (a, b) = (stream.number(12..=48), stream.number(3..=9));
    // What holds them, what they are, what happens to some, who shares them.
    const THINGS: [[&str; 4]; 6] = [
        ["boxes", "pens", "get lost", "children"],
        ["trays", "eggs", "break", "cooks"],
        ["bags", "oranges", "go bad", "friends"],
        ["rows", "chairs", "stand outside", "rooms"],
        ["shelves", "books", "are out", "classes"],
        ["jars", "marbles", "roll away", "friends"],
    ];
    let [holds, thing, lost, sharing] = *stream.one_of(&THINGS).unwrap_or(&THINGS[0]);
    let options = vec![
        option(format!("{b} {holds} with {a} {thing} each"), true, None),
        option(format!("{a} {thing} and {b} more"), false, Some("added-instead")),
        option(format!("{a} {thing}, but {b} {lost}"), false, Some("subtracted-instead")),
        option(format!("{a} {thing}, shared among {b} {sharing}"), false, Some("divided-instead")),
    ];
    let why = format!("{b} equal groups of {a} are multiplied.");
    choice(bench, stream, &format!("Which story fits {}?", bench.sum(a, b)), options, why)
}

fn result(bench: &Bench, stream: &mut Stream) -> Item {
    let (a, b) = fact(stream);
    let options = vec![
        option("a product", true, None),
        option("a factor", false, Some("factor-for-product")),
        option("a sum", false, Some("word-of-adding")),
        option("a difference", false, Some("word-of-taking-away")),
    ];
    let product = bench.number(a * b);
    let prompt = format!("{}\u{a0}=\u{a0}{product}. What is {product} called?", bench.sum(a, b));
    let why = "What comes out of multiplying is the product.".to_owned();
    choice(bench, stream, &prompt, options, why)
}

fn role(bench: &Bench, stream: &mut Stream) -> Item {
    let (a, b) = (stream.number(13..=98), stream.number(12..=49));
    let options = vec![
        option("a factor", true, None),
        option("a product", false, Some("product-for-factor")),
        option("a sum", false, Some("word-of-adding")),
        option("a difference", false, Some("word-of-taking-away")),
    ];
    let why = format!("{a} and {b} are multiplied: they are the factors.");
    choice(bench, stream, &format!("In {}, what is {b} called?", bench.sum(a, b)), options, why)
}

fn multiple_or_factor(bench: &Bench, stream: &mut Stream) -> Item {
    let (a, b) = fact(stream);
    let multiple = stream.chance(1, 2);
    let (left, right) = if multiple { (a * b, b) } else { (b, a * b) };
    let named = |name, right, wrong| option(name, right, (!right).then_some(wrong));
    let options = vec![
        named("multiple", multiple, "multiple-for-factor"),
        named("factor", !multiple, "factor-for-multiple"),
        named("digit", false, "digit-for-number"),
    ];
    let why = format!(
        "{} is {}\u{a0}×\u{a0}{}: {b} is a factor of it, and it is a multiple of {b}.",
        a * b,
        a,
        b
    );
    let prompt = format!("Which word is missing? {left} is a ______ of {right}.");
    choice(bench, stream, &prompt, options, why)
}

/// Numbers that are not what is asked for, none twice.
fn others(
    stream: &mut Stream,
    taken: u64,
    from: [u64; 2],
    wrong: &dyn Fn(u64) -> bool,
) -> Vec<Choice> {
    let mut found = BTreeSet::from([taken]);
    let mut options = Vec::new();
    while options.len() < 2 {
        let number = stream.number(from[0]..=from[1]);
        if wrong(number) && found.insert(number) {
            options.push(option(number.to_string(), false, None));
        }
    }
    options
}

fn a_multiple(bench: &Bench, stream: &mut Stream) -> Item {
    let of = *stream.one_of(&[6, 8, 9]).unwrap_or(&6);
    let times = stream.number(4..=9);
    let mut options = others(stream, of / 2, [20, 90], &|n| !n.is_multiple_of(of));
    options.push(option((of * times).to_string(), true, None));
    // A factor of the number, for those who mix up the words.
    let factor = if of == 9 { 3 } else { of / 2 };
    options.push(option(factor.to_string(), false, Some("factor-for-multiple")));
    let why = format!("{times}\u{a0}×\u{a0}{of}\u{a0}=\u{a0}{}.", of * times);
    choice(bench, stream, &format!("Which number is a multiple of {of}?"), options, why)
}

fn a_factor(bench: &Bench, stream: &mut Stream) -> Item {
    let (a, b) = (stream.number(3..=7), stream.number(7..=9));
    let of = a * b;
    let mut options = others(stream, b, [4, 16], &|n| !of.is_multiple_of(n));
    options.push(option(b.to_string(), true, None));
    options.push(option((2 * of).to_string(), false, Some("multiple-for-factor")));
    let why = format!("{a}\u{a0}×\u{a0}{b}\u{a0}=\u{a0}{of}.");
    choice(bench, stream, &format!("Which number is a factor of {of}?"), options, why)
}

// ---------------------------------------------------------------------------------------------
// Large numbers

/// A set on reading and writing large numbers.
pub(super) fn reading(bench: &Bench) -> Vec<Item> {
    match bench.request.spot {
        Spot::WarmUp => in_turn(bench, "numbers", &[thousands_and]),
        Spot::ExitCheck => in_turn(bench, "numbers", &[in_figures, in_figures, in_name]),
        Spot::Support => in_turn(bench, "numbers", &[in_figures, in_name, which_number]),
        _ => in_turn(bench, "numbers", &[in_figures, in_name, in_figures, which_number]),
    }
}

/// "6 thousand and 42": a place that is easily left out.
fn thousands_and(bench: &Bench, stream: &mut Stream) -> Item {
    let (thousands, rest) = (stream.number(2..=48), stream.number(4..=96));
    let number = thousands * 1000 + rest;
    let prompt = format!("Write in figures: {thousands} thousand and {rest}");
    let mut item = bench.plain(Kind::Words, prompt, number.to_string());
    item.working = Working::Steps { steps: vec![format!("{}.", bench.number(number))] };
    item.likely = misread(number);
    item
}

/// A number with so many digits as the part asks for, nearly always with a zero inside.
fn large(bench: &Bench, stream: &mut Stream) -> u64 {
    let longest = if bench.request.part <= 1 { [5, 6] } else { [6, 7] };
    let length = match bench.request.spot {
        Spot::Support => longest[0] - 1 + usize::from(stream.chance(1, 2)),
        _ => longest[usize::from(stream.chance(1, 2))],
    };
    let mut digits: Vec<u64> = (0..length).map(|_| stream.number(1..=9)).collect();
    for _ in 0..1 + usize::from(bench.request.spot != Spot::Support) {
        let at = usize::try_from(stream.number(1..=5)).unwrap_or(1).min(length - 2);
        digits[at] = 0;
    }
    digits.iter().fold(0, |number, digit| number * 10 + digit)
}

/// What is written when a zero inside is left out, and when a number is written as it is heard.
pub(super) fn misread(number: u64) -> Vec<Likely> {
    let text = number.to_string();
    let without: String = text.chars().filter(|c| *c != '0').collect();
    let heard = format!("{}{}", number / 1000 * 1000, number % 1000);
    let of = |answer: String, pattern: &str, shows: &str| Likely {
        answer,
        patterns: vec![pattern.to_owned()],
        shows: shows.to_owned(),
    };
    let mut likely = Vec::new();
    if without != text {
        likely.push(of(without, "zero-inside-left-out", "zero inside left out"));
    }
    if number >= 1000 && heard != text && likely.iter().all(|l| l.answer != heard) {
        likely.push(of(heard, "written-as-heard", "written as it is heard"));
    }
    likely
}

fn name(bench: &Bench, number: u64) -> String {
    in_words(number, bench.setting.style.grouping)
}

/// How the groups of a number are read.
fn read_by_groups(bench: &Bench, number: u64) -> Working {
    let steps = vec![format!("{} is read “{}”.", bench.number(number), name(bench, number))];
    Working::Steps { steps }
}

fn in_figures(bench: &Bench, stream: &mut Stream) -> Item {
    let number = large(bench, stream);
    let prompt = format!("Write in figures: {}", name(bench, number));
    let mut item = bench.plain(Kind::Words, prompt, number.to_string());
    item.working = read_by_groups(bench, number);
    item.likely = misread(number);
    item.space = Space::Line;
    item
}

fn in_name(bench: &Bench, stream: &mut Stream) -> Item {
    let number = large(bench, stream);
    let answer = name(bench, number);
    let prompt = format!("Write in words: {}", bench.number(number));
    let mut item = bench.plain(Kind::Words, prompt, answer.clone());
    item.accept = Some(Accept::Any(spellings(&answer)));
    item.working = read_by_groups(bench, number);
    item.space = Space::Lines { count: 2 };
    item
}

/// The same name without commas, without "and", without hyphens.
pub(super) fn spellings(name: &str) -> Vec<String> {
    let mut all = vec![name.to_owned()];
    for [from, to] in [[",", ""], [" and ", " "], ["-", " "]] {
        let more: Vec<String> = all.iter().map(|n| n.replace(from, to)).collect();
        all.extend(more);
    }
    let mut seen = BTreeSet::from([name.to_owned()]);
    all.into_iter().filter(|spelling| seen.insert(spelling.clone())).collect()
}

fn which_number(bench: &Bench, stream: &mut Stream) -> Item {
    let number = large(bench, stream);
    let mut options = vec![option(bench.number(number), true, None)];
    let mut seen = BTreeSet::from([number]);
    let mut add = |wrong: u64, pattern: Option<&str>| {
        if seen.insert(wrong) {
            options.push(option(bench.number(wrong), false, pattern));
        }
    };
    for wrong in misread(number) {
        let pattern = wrong.patterns.first().map(String::as_str);
        let value = wrong.answer.parse::<u64>().ok();
        if let Some(value) = value.filter(|value| digit_count(*value) <= 8) {
            add(value, pattern);
        }
    }
    let half = ten_to(digit_count(number) as usize / 2);
    add(number / half * half * 10 + number % half, Some("zero-too-many"));
    let prompt = format!("Which number is {}?", name(bench, number));
    let why = format!("{} is read “{}”.", bench.number(number), name(bench, number));
    choice(bench, stream, &prompt, options, why)
}
