//! Questions that ask for thought rather than for work: missing digits, sizes, reasons.

use super::Bench;
use super::build::{small, squared};
use super::classes::loose;
use super::deal;
use super::known::thought;
use super::looks::sound;
use super::written::{Recipe, Sum, sums};
use crate::exercise::patterns::{all_wrong, likely_written};
use crate::exercise::{Choice, Given, Item, Kind, Working};
use crate::method::{HouseStyle, Long, Written, long, ordered};
use crate::number::{bracket, digit_count, digits, round_to_leading, ten_to};
use crate::words::count;

/// Pairs held ready for each item.
const READY: usize = 3;

/// Stretch items of a written skill: a bare sum, then missing digits, sizes, reasons and what can
/// be had from a known product, in turn, each lesson from another beginning; one bare sum.
pub(super) fn written(bench: &Bench, recipe: &Recipe) -> Vec<Item> {
    let wanted = bench.request.most.max(bench.request.least);
    let own = bench.request.own.len().min(wanted);
    let mut dealt = sums(bench, recipe, wanted).into_iter();
    let sound = |a, b| sound(a, b, recipe.zeros);
    let mut loose = loose(bench, recipe.size(), wanted * READY, &sound);
    let from = deal::stream(bench.request, &bench.setting.seed, "kinds").number(0..=6);
    let from = usize::try_from(from).unwrap_or(0);
    let bare = |sum: Sum| {
        let mut item = bench.written(sum.pair, recipe.method, Given::Nothing, true);
        sum.words.clone_into(&mut item.purpose);
        item
    };
    let mut items: Vec<Item> = dealt.by_ref().take(own).map(bare).collect();
    let missing = |sum: Sum, turn| missing_digit(bench, sum.pair, recipe.method, turn);
    for turn in 0..wanted * READY {
        let Some(pair) = loose.pop().filter(|_| items.len() < wanted) else { break };
        let item = match turn % 8 {
            0 if turn < 8 && own < 2 => dealt.next().map(bare),
            2 => dealt.next().and_then(|sum| missing(sum, turn)),
            4 => nearest(bench, pair, &loose),
            6 => reason(bench, pair, if turn % 16 < 8 { 0 } else { 2 }),
            _ => thought(bench, pair, from + turn / 2),
        };
        items.extend(item.or_else(|| thought(bench, pair, from + turn)));
    }
    bench.fit(items)
}

/// A working with one digit missing: of the multiplicand, or of a row.
fn missing_digit(bench: &Bench, pair: (u64, u64), method: Written, turn: usize) -> Option<Item> {
    if method != Written::Long {
        return None;
    }
    let working = long(pair.0, pair.1, &bench.setting.style);
    let mut stream = deal::stream(bench.request, &bench.setting.seed, &format!("missing {turn}"));
    let holes: Vec<Hole> = holes(&working, turn.is_multiple_of(2));
    let hole = *stream.one_of(&holes)?;
    let (a, b) = (working.a, working.b);
    let given = Given::Missing { line: hole.line, place: hole.place };
    let prompt = "Which digit is missing?".to_owned();
    let mut item = bench.plain(Kind::Missing, prompt, hole.digit.to_string());
    item.expression = Some(hole.expression(a, b));
    item.space = squared(&working, given, false);
    item.working = Working::Long(working);
    "one digit only fits".clone_into(&mut item.purpose);
    Some(item)
}

/// A digit of a working that can be left out.
#[derive(Debug, Clone, Copy)]
struct Hole {
    line: u8,
    place: u8,
    digit: u8,
    /// What the line is: the product divided by the multiplier, or the multiplicand times this.
    times: Option<u64>,
}

impl Hole {
    /// The digit as an expression of numbers that are printed.
    fn expression(self, a: u64, b: u64) -> String {
        let whole = match self.times {
            None => format!("{}//{b}", a * b),
            Some(times) => format!("{a}*{times}"),
        };
        let place = ten_to(usize::from(self.place));
        format!("{whole}//{place}-{whole}//{}*10", place * 10)
    }
}

/// The digits that can be left out of the multiplicand, or of the rows, where exactly one digit
/// fits: all ten are tried against every other line.
fn holes(working: &Long, in_rows: bool) -> Vec<Hole> {
    let mut holes = Vec::new();
    let digit_at = |n: u64, place: u8| n / ten_to(usize::from(place)) % 10;
    let mut add = |line: usize, value: u64, places: std::ops::Range<usize>, times: Option<u64>| {
        for place in places.map(small) {
            let digit = digit_at(value, place);
            let other = |x: u64| {
                value - digit * ten_to(usize::from(place)) + x * ten_to(usize::from(place))
            };
            let fits = |x: &u64| match times {
                None => other(*x) * working.b == working.value,
                Some(times) => other(*x) == working.a * times,
            };
            if (0..=9).filter(fits).count() == 1 {
                let digit = u8::try_from(digit).unwrap_or(0);
                holes.push(Hole { line: small(line), place, digit, times });
            }
        }
    };
    if in_rows && working.rows.len() > 1 {
        for (index, row) in working.rows.iter().enumerate().filter(|(_, r)| r.digit != 0) {
            // Not the placeholder zeros and the ones beside them: those give no carry away.
            let first = digit_count(row.place) as usize;
            let last = digits(row.value).len();
            add(index + 2, row.value, first..last, Some(u64::from(row.digit) * row.place));
        }
    } else {
        add(0, working.a, 1..digits(working.a).len(), None);
    }
    holes
}

/// Which product is nearest a round number; the others are clearly further off.
pub(super) fn nearest(bench: &Bench, pair: (u64, u64), others: &[(u64, u64)]) -> Option<Item> {
    let product = |(a, b): (u64, u64)| a * b;
    let target = round_to_leading(product(pair));
    let off = |p: u64| p.abs_diff(target);
    let own = off(product(pair));
    let far = |p: &&(u64, u64)| {
        let off = off(product(**p));
        off >= own * 2 + target / 12 && off <= target * 2
    };
    let mut apart: Vec<(u64, u64)> = Vec::new();
    for &other in others.iter().filter(far) {
        if apart.len() < 2 && apart.iter().all(|&a| product(a) != product(other)) {
            apart.push(other);
        }
    }
    let others = apart;
    if own * 6 > target || others.len() < 2 {
        return None;
    }
    let choice = |pair: (u64, u64), correct| {
        let text = bench.sum(pair.0, pair.1);
        Choice { text, correct, pattern: None }
    };
    let mut choices = vec![choice(pair, true)];
    choices.extend(others.iter().map(|&p| choice(p, false)));
    let what = format!("nearest {}", product(pair));
    deal::stream(bench.request, &bench.setting.seed, &what).shuffle(&mut choices);
    let prompt = format!("Which product is nearest {}?", bench.number(target));
    let mut item = bench.choice(&prompt, choices, true);
    let mut pairs = vec![pair];
    pairs.extend(others);
    let steps = pairs
        .into_iter()
        .map(|(a, b)| format!("{}\u{a0}=\u{a0}{}", bench.sum(a, b), bench.number(a * b)));
    item.working = Working::Steps { steps: steps.collect() };
    Some(item)
}

/// A question whose answer needs one look and one sentence.
pub(super) fn reason(bench: &Bench, pair: (u64, u64), turn: usize) -> Option<Item> {
    let (a, b) = ordered(pair.0, pair.1);
    let sum = bench.sum(a, b);
    match turn % 3 {
        0 => {
            let (x, y) = (a % 10, b % 10);
            let prompt = format!("Which digit does {sum} end in? Find it from one fact only.");
            let mut item = bench.reason(prompt, format!("{x}*{y}-{x}*{y}//10*10"), x * y % 10);
            let fact = format!("{}\u{a0}=\u{a0}{}", bench.sum(x, y), x * y);
            item.working = Working::Steps {
                steps: vec![format!(
                    "Only the last digits decide: {fact}, so it ends in {}.",
                    x * y % 10
                )],
            };
            Some(item)
        }
        1 => {
            let more = bench.sum(a, b + 1);
            let prompt = format!("How much more is {more} than {sum}? Do not work out both.");
            let mut item = bench.reason(prompt, format!("{a}*{}-{a}*{b}", b + 1), a);
            item.working =
                Working::Steps { steps: vec![format!("It is one {} more.", bench.number(a))] };
            Some(item)
        }
        _ => {
            let long = digits_are_clear(a, b);
            let digits = u64::from(digit_count(a * b));
            long.then(|| {
                let prompt = format!("How many digits has {sum}? Do not work it out.");
                let mut item = bench.reason(prompt, String::new(), digits);
                item.expression = None;
                item.working = Working::Steps { steps: vec![why_so_many(bench, a, b)] };
                item
            })
        }
    }
}

/// Why a product has its digits: it lies between two numbers with as many.
pub(super) fn why_so_many(bench: &Bench, a: u64, b: u64) -> String {
    let (low, high) = bracket(a, b);
    let digits = usize::try_from(digit_count(a * b)).unwrap_or(0);
    let (low, high) = (bench.number(low), bench.number(high));
    format!("It lies between {low} and {high}, so it has {}.", count(digits, "digit"))
}

/// Whether the leading digits alone tell how many digits the product has.
pub(super) fn digits_are_clear(a: u64, b: u64) -> bool {
    let (low, high) = bracket(a, b);
    // A number below the upper end, unless both are round and the product is that end itself.
    digit_count(low) == digit_count((high - 1).max(a * b))
}

/// "Which answer can be right?": one option lies where the leading digits put the product, the
/// others, wrong answers of known mistakes where there are such, lie outside.
pub(super) fn which_can_be_right(bench: &Bench, pair: (u64, u64)) -> Item {
    let (a, b) = pair;
    let product = a * b;
    let mut choices = vec![Choice { text: bench.number(product), correct: true, pattern: None }];
    for (value, pattern) in wrong_sizes(a, b).into_iter().take(3) {
        choices.push(Choice { text: bench.number(value), correct: false, pattern });
    }
    choices.sort_by_key(|c| (c.text.chars().filter(char::is_ascii_digit).count(), c.text.clone()));
    let prompt = format!("Which answer can be right for {}?", bench.sum(a, b));
    let mut item = bench.choice(&prompt, choices, true);
    let (low, high) = bracket(a, b);
    item.working = Working::Steps {
        steps: vec![format!("It lies between {} and {}.", bench.number(low), bench.number(high))],
    };
    item
}

/// Wrong answers outside the bracket: of mistakes by name, and the product with a zero too many
/// or one digit too few where there are not enough of them.
fn wrong_sizes(a: u64, b: u64) -> Vec<(u64, Option<String>)> {
    let (low, high) = bracket(a, b);
    let outside = |n: u64| n > 0 && (n < low || n > high) && n < a * b * 100;
    let mut found: Vec<(u64, Option<String>)> = Vec::new();
    let mut add = |value: u64, pattern: Option<String>| {
        if outside(value) && found.iter().all(|(v, _)| *v != value) {
            found.push((value, pattern));
        }
    };
    let wrong = all_wrong(a, b);
    let name = |value: u64| {
        let answer = value.to_string();
        wrong.iter().find(|w| w.answer == answer).and_then(|w| w.patterns.first().cloned())
    };
    let (top, side) = ordered(a, b);
    let digit_sum: u64 = digits(side).iter().map(|&d| u64::from(d)).sum();
    // Zeros left out, a zero too many, the third row begun with one zero only.
    let shifted_once: u64 =
        digits(side).iter().enumerate().map(|(i, &d)| top * u64::from(d) * ten_to(i.min(1))).sum();
    for value in [top * digit_sum, a * b * 10, shifted_once] {
        if value != a * b {
            add(value, name(value));
        }
    }
    let likely = likely_written(a, b, Written::Long, &HouseStyle::default());
    let likely = likely.into_iter().map(|l| (l.answer, l.patterns));
    for (answer, patterns) in
        likely.chain(wrong.iter().map(|w| (w.answer.clone(), w.patterns.clone())))
    {
        if let Ok(value) = answer.parse::<u64>() {
            // Far too small tempts nobody.
            if value > a.max(b) * 2 {
                add(value, patterns.first().cloned());
            }
        }
    }
    add(a * b / 10, None);
    add(a + b, None);
    add(low / 10, None);
    found
}
