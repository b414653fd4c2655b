//! Questions that ask for thought rather than for work: missing digits, sizes, reasons.

use super::build::mistakes;
use super::classes::loose;
use super::known::{KINDS, thought, to_mend};
use super::looks::sound;
use super::written::{Recipe, Sum, sums};
use super::{Bench, deal, missing};
use crate::exercise::patterns::{all_wrong, likely_written};
use crate::exercise::{Choice, Given, Item, Likely, Working};
use crate::method::{HouseStyle, Written, estimate, ordered};
use crate::number::{bracket, digit_count, digits, round_to_leading, ten_to};
use crate::words::count;

/// Pairs held ready for each item.
const READY: usize = 3;
/// The last of the kinds of [`thought`].
pub(super) const KINDS_LAST: u64 = KINDS as u64 - 1;

/// Stretch items of a written skill: a bare sum, then missing digits, sizes, reasons and what can
/// be had from a known product, in turn, each lesson from another beginning; one bare sum.
pub(super) fn written(bench: &Bench, recipe: &Recipe) -> Vec<Item> {
    let wanted = bench.request.most.max(bench.request.least);
    let own = bench.request.own.len().min(wanted);
    let mut dealt = sums(bench, recipe, wanted).into_iter();
    let sound = |a, b| sound(a, b, recipe.zeros);
    let mut loose = loose(bench, recipe.size(), wanted * READY, &sound);
    let from = deal::stream(bench.request, &bench.setting.seed, "kinds").number(0..=KINDS_LAST);
    let from = usize::try_from(from).unwrap_or(0);
    let bare = |sum: Sum| {
        let mut item = bench.written(sum.pair, recipe.method, Given::Nothing, true);
        sum.words.clone_into(&mut item.purpose);
        item
    };
    let mut items: Vec<Item> = dealt.by_ref().take(own).map(bare).collect();
    let missing = |sum: Sum, turn| missing::digit(bench, sum.pair, recipe.method, turn);
    for turn in 0..wanted * READY {
        let Some(pair) = loose.pop().filter(|_| items.len() < wanted) else { break };
        let item = match turn % 8 {
            0 if turn < 8 && own < 2 => dealt.next().map(bare),
            2 => dealt.next().and_then(|sum| missing(sum, turn)),
            4 => nearest(bench, pair, &loose),
            6 if turn % 16 < 8 => to_mend(bench, pair).or_else(|| reason(bench, pair, 0)),
            6 => reason(bench, pair, 2),
            _ => thought(bench, pair, from + turn / 2),
        };
        items.extend(item.or_else(|| thought(bench, pair, from + turn)));
    }
    bench.fit(items)
}

/// Which product is nearest a round number; the others are clearly further off.
pub(super) fn nearest(bench: &Bench, pair: (u64, u64), others: &[(u64, u64)]) -> Option<Item> {
    let product = |(a, b): (u64, u64)| a * b;
    let target = round_to_leading(product(pair));
    let off = |p: u64| p.abs_diff(target);
    let own = off(product(pair));
    // Rounding each number must show it too: that is how it is to be found.
    let rounded = |(a, b): (u64, u64)| off(estimate(a, b).value);
    let far = |p: &&(u64, u64)| {
        let off = off(product(**p));
        off >= own * 2 + target / 12 && off <= target * 2 && rounded(**p) > rounded(pair)
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
    let prompt = format!("Which product is nearest to {}?", bench.number(target));
    let mut item = bench.choice(&prompt, choices, true);
    let mut pairs = vec![pair];
    pairs.extend(others);
    let steps = pairs.into_iter().map(|(a, b)| {
        let about = estimate(a, b);
        let round = bench.sum(about.factors[0], about.factors[1]);
        let value = bench.number(about.value);
        format!("{}\u{a0}≈\u{a0}{round}\u{a0}=\u{a0}{value}", bench.sum(a, b))
    });
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
            let prompt = format!("Which digit does {sum} end in? Use just one times-table fact.");
            let mut item = bench.reason(prompt, format!("{x}*{y}-{x}*{y}//10*10"), x * y % 10);
            let fact = format!("{}\u{a0}=\u{a0}{}", bench.sum(x, y), x * y);
            item.working = Working::Steps {
                steps: vec![format!(
                    "Only the last digits decide: {fact}, so it ends in {}.",
                    x * y % 10
                )],
            };
            let mut wrong = vec![((x + y) % 10, "added-instead")];
            if x * y > 9 {
                wrong.push((x * y / 10, "fact-first-digit"));
            }
            wrong.push((x * (y + 1) % 10, "table-neighbour"));
            item.likely = mistakes(x * y % 10, &wrong);
            Some(item)
        }
        1 => {
            let more = bench.sum(a, b + 1);
            let prompt = format!("How much more is {more} than {sum}? Do not work out both.");
            let mut item = bench.reason(prompt, format!("{a}*{}-{a}*{b}", b + 1), a);
            item.working = Working::Steps {
                steps: vec![format!("It is one more group of {}.", bench.number(a))],
            };
            item.likely =
                mistakes(a, &[(1, "adjusted-by-the-difference"), (b, "other-factor-used")]);
            Some(item)
        }
        _ => {
            // Where the digits of both numbers together are those of the answer, counting would do:
            // such products are asked about less often.
            let digits = u64::from(digit_count(a * b));
            let counted = digits == u64::from(digit_count(a) + digit_count(b));
            let what = format!("digits {a} {b}");
            let mut stream = deal::stream(bench.request, &bench.setting.seed, &what);
            let asks = digits_are_clear(a, b) && (!counted || stream.chance(1, 3));
            asks.then(|| {
                let prompt = format!(
                    "How many digits are there in the answer to {sum}? Do not work it out."
                );
                let mut item = bench.reason(prompt, String::new(), digits);
                item.expression = None;
                item.working = Working::Steps { steps: vec![why_so_many(bench, a, b)] };
                item.likely = wrong_digit_counts(a, b);
                item
            })
        }
    }
}

/// What is answered by a rule that does not fit this product.
pub(super) fn wrong_digit_counts(a: u64, b: u64) -> Vec<Likely> {
    let most = u64::from(digit_count(a) + digit_count(b));
    let rules = [
        (most, "digits-all-added"),
        (most - 1, "digits-always-one-fewer"),
        (most + 1, "digits-one-too-many"),
    ];
    mistakes(u64::from(digit_count(a * b)), &rules)
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
