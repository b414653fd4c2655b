//! The size of a product: which number it is nearest, an estimate, how many digits it has.

use super::classes::{Size, loose};
use super::deal::{self, Line};
use super::digit_counts::of_sizes;
use super::lists::shifts;
use super::looks::{Zeros, decent, sound};
use super::rows::close_estimate;
use super::stretch::{digits_are_clear, nearest, reason, which_can_be_right, why_so_many};
use super::written::own_or;
use super::{Bench, Spot, stretch};
use crate::exercise::patterns::likely_wrong_estimate;
use crate::exercise::{Choice, Item, Kind, Space, Working};
use crate::method::{RouteKind, estimate};
use crate::number::{digit_count, round_to_leading};
use crate::words::count;

/// Factors of a product that is only looked at.
type Pair = (u64, u64);

/// The sizes asked about, in turn.
const SIZES: [Size; 4] = [Size::of(3, 1), Size::of(2, 2), Size::of(3, 2), Size::of(4, 2)];

/// So many pairs of the sizes in turn, no two with the same estimate; those of different spots
/// differ in their estimates too. Nobody multiplies them out, so that they are not dealt out.
fn pairs(
    bench: &Bench,
    sizes: &[Size],
    wanted: usize,
    fit: &dyn Fn(u64, u64) -> bool,
) -> Vec<Pair> {
    let line = Line::of(&bench.setting.seed, "estimates");
    let warm_up = bench.request.spot == Spot::WarmUp;
    let stretch = deal::lesson_stretch(bench.request, false);
    let mut taken: Vec<[u64; 2]> = Vec::new();
    let mut hands: Vec<std::vec::IntoIter<Pair>> = Vec::new();
    for &size in sizes {
        let here = |a, b| {
            let about = [round_to_leading(a), round_to_leading(b)];
            // A warm-up asks for the product of the rounded numbers.
            let new = if warm_up {
                !bench.met.often(about[0], about[1], Spot::WarmUp)
            } else {
                stretch.holds(line.point(about[0], about[1]))
            };
            new && b > 2 && sound(a, b, Zeros::Some) && close_estimate(a, b) && fit(a, b)
        };
        hands.push(loose(bench, size, wanted * 3, &here).into_iter());
    }
    let mut found: Vec<Pair> = bench.request.own.iter().copied().take(wanted).collect();
    for turn in 0..wanted * sizes.len() * 2 {
        if found.len() >= wanted {
            break;
        }
        let hand = &mut hands[turn % sizes.len()];
        let next = hand.find(|&(a, b)| !taken.contains(&estimate(a, b).factors));
        if let Some(pair) = next {
            taken.push(estimate(pair.0, pair.1).factors);
            found.push(pair);
        }
    }
    found
}

/// How far a product is rounded to its estimate: both numbers down, both up, or one each way.
fn both_down(a: u64, b: u64) -> bool {
    round_to_leading(a) < a && round_to_leading(b) < b
}

fn both_up(a: u64, b: u64) -> bool {
    round_to_leading(a) > a && (round_to_leading(b) > b || b < 10)
}

// ---------------------------------------------------------------------------------------------
// Which is nearer?

/// A set of "which is nearer?": first more or less than a round number, then nearest of several.
pub(super) fn which_is_nearer(bench: &Bench) -> Vec<Item> {
    let wanted = bench.request.most.max(bench.request.least);
    let clear = |a: u64, b: u64| near_choice_is_clear(a, b);
    let spot = bench.request.spot;
    let sizes = &SIZES[..3];
    if spot == Spot::WarmUp {
        return bench.fit(round_products(bench, sizes, wanted));
    }
    let one_way = |a, b| both_down(a, b) || both_up(a, b);
    let compare = pairs(bench, sizes, wanted, &|a, b| one_way(a, b) && clear(a, b));
    let near = pairs(bench, sizes, wanted + 4, &clear);
    let because = matches!(spot, Spot::Guided | Spot::Core | Spot::Stretch);
    // Comparing is easier than choosing a size, so that it comes first.
    let easy = match spot {
        Spot::Support => wanted.div_ceil(2),
        Spot::Example | Spot::Guided | Spot::ExitCheck if bench.request.part <= 1 => 1,
        Spot::Core => 1,
        _ => 0,
    };
    let mut items: Vec<Item> =
        compare.iter().take(easy).map(|&p| more_or_less(bench, p, because)).collect();
    let used: Vec<Pair> = compare.into_iter().take(easy).collect();
    let mut rest: Vec<Pair> = near.into_iter().filter(|p| !used.contains(p)).collect();
    if spot == Spot::Stretch {
        items.extend(thoughtful(bench, &mut rest, wanted));
    }
    items.extend(rest.into_iter().map(|p| nearest_of_three(bench, p, because)));
    bench.fit(items)
}

/// The estimate is clearly nearer than both ends of the bracket that is printed beside it.
fn near_choice_is_clear(a: u64, b: u64) -> bool {
    let about = estimate(a, b);
    let (exact, own) = (a * b, (a * b).abs_diff(about.value));
    let ends = [about.between.0, about.between.1];
    ends.iter().filter(|&&e| e != about.value).all(|&e| exact.abs_diff(e) >= own * 2 + exact / 20)
        && ends.iter().filter(|&&e| e != about.value).count() >= 1
        && ends[0] != ends[1]
}

/// "Is 47 × 36 more or less than 2,000?"
fn more_or_less(bench: &Bench, (a, b): Pair, because: bool) -> Item {
    let about = estimate(a, b);
    let more = a * b > about.value;
    let number = bench.number(about.value);
    let option = |word: &str, correct| Choice {
        text: format!("{word} than {number}"),
        correct,
        pattern: None,
    };
    let choices = vec![option("more", more), option("less", !more)];
    let prompt = format!("Is {} more or less than {number}?", bench.sum(a, b));
    let mut item = bench.choice(&prompt, choices, because);
    let round = format!("{}\u{a0}=\u{a0}{number}", bench.sum(about.factors[0], about.factors[1]));
    let which = match (b < 10, more) {
        (true, true) => {
            format!("{} is more than {}", bench.number(a), bench.number(about.factors[0]))
        }
        (true, false) => {
            format!("{} is less than {}", bench.number(a), bench.number(about.factors[0]))
        }
        (false, true) => "both numbers are larger".to_owned(),
        (false, false) => "both numbers are smaller".to_owned(),
    };
    item.working = Working::Steps { steps: vec![format!("{round}, and {which}.")] };
    item
}

/// "Which number is 312 × 48 nearest to?", of the estimate and the ends of the bracket.
fn nearest_of_three(bench: &Bench, (a, b): Pair, because: bool) -> Item {
    let about = estimate(a, b);
    let mut values = vec![about.between.0, about.value, about.between.1];
    values.sort_unstable();
    values.dedup();
    let wrong = likely_wrong_estimate(a, b);
    let name = |value: u64| {
        let answer = value.to_string();
        let known = wrong.iter().find(|w| w.answer == answer);
        // The ends of the bracket are what both numbers rounded one way come to.
        let end = if value < about.value { "both-rounded-down" } else { "both-rounded-up" };
        known.and_then(|w| w.patterns.first().cloned()).or(Some(end.to_owned()))
    };
    let option = |&value: &u64| Choice {
        text: bench.number(value),
        correct: value == about.value,
        pattern: if value == about.value { None } else { name(value) },
    };
    let choices = values.iter().map(option).collect();
    let prompt = format!("Which number is {} nearest to?", bench.sum(a, b));
    let mut item = bench.choice(&prompt, choices, because);
    item.working = Working::Estimate(about);
    item
}

// ---------------------------------------------------------------------------------------------
// Estimating

/// A set of estimates.
pub(super) fn estimating(bench: &Bench) -> Vec<Item> {
    let wanted = bench.request.most.max(bench.request.least);
    let spot = bench.request.spot;
    let sizes = if bench.request.part <= 1 { &SIZES[..3] } else { &SIZES[1..] };
    let mut all = pairs(bench, sizes, wanted + 6, &|_, _| true);
    let own = bench.request.own.len().min(all.len());
    let space =
        if spot == Spot::WarmUp || spot == Spot::ExitCheck { Space::Box } else { Space::Line };
    let items = match spot {
        Spot::Guided | Spot::Support => {
            let half = if spot == Spot::Guided { wanted } else { wanted.div_ceil(2) };
            let item = |(index, &p): (usize, &Pair)| {
                if index < half { rounded_first(bench, p) } else { bench.estimate(p, space) }
            };
            all.iter().enumerate().map(item).collect()
        }
        Spot::Stretch => {
            let mut items: Vec<Item> = all.drain(..own).map(|p| bench.estimate(p, space)).collect();
            items.extend(thoughtful(bench, &mut all, wanted));
            items
        }
        Spot::Core if wanted >= 4 && own == 0 => {
            let mut items: Vec<Item> = all.iter().map(|&p| bench.estimate(p, space)).collect();
            let sure = all.iter().find(|&&(a, b)| near_choice_is_clear(a, b));
            if let Some(&pair) = sure {
                items.retain(|i| i.prompt != bench.sum(pair.0, pair.1));
                items.insert(3.min(items.len()), nearest_of_three(bench, pair, true));
            }
            items
        }
        _ => all.iter().map(|&p| bench.estimate(p, space)).collect(),
    };
    bench.fit(items)
}

/// "312 × 48 ≈ 300 × 50 =": the rounding is done.
fn rounded_first(bench: &Bench, pair: Pair) -> Item {
    let about = estimate(pair.0, pair.1);
    let mut item = bench.estimate(pair, Space::Box);
    let round = bench.sum(about.factors[0], about.factors[1]);
    item.prompt = format!("{}\u{a0}≈\u{a0}{round}\u{a0}=", item.prompt);
    item
}

/// Products of round numbers for the head, as they occur in an estimate.
fn round_products(bench: &Bench, sizes: &[Size], wanted: usize) -> Vec<Item> {
    let quickest = |a, b| {
        let round = estimate(a, b).factors;
        shifts(&(round[0], round[1]))
    };
    let all = pairs(bench, sizes, wanted, &quickest);
    all.into_iter()
        .map(|(a, b)| {
            let round = estimate(a, b).factors;
            super::head::in_head(bench, (round[0], round[1]), RouteKind::Shift)
        })
        .collect()
}

/// Which product is nearest, too high or too low, how many digits: in turn.
fn thoughtful(bench: &Bench, all: &mut Vec<Pair>, wanted: usize) -> Vec<Item> {
    let mut items = Vec::new();
    for turn in 0..wanted * 2 {
        if items.len() >= wanted || all.is_empty() {
            break;
        }
        let pair = all.remove(0);
        let item = match turn % 3 {
            0 => nearest(bench, pair, all),
            1 => too_high_or_low(bench, pair),
            _ => reason(bench, pair, 2),
        };
        items.extend(item.or_else(|| too_high_or_low(bench, pair)));
    }
    items
}

/// "Is 300 × 50 too high or too low for 312 × 52?"
fn too_high_or_low(bench: &Bench, (a, b): Pair) -> Option<Item> {
    let about = estimate(a, b);
    (both_up(a, b) || both_down(a, b)).then(|| {
        let high = both_up(a, b);
        let round = bench.sum(about.factors[0], about.factors[1]);
        let option = |text: &str, correct| Choice { text: text.to_owned(), correct, pattern: None };
        let choices = vec![option("too high", high), option("too low", !high)];
        let prompt = format!("Is {round} too high or too low for {}?", bench.sum(a, b));
        let mut item = bench.choice(&prompt, choices, true);
        let way = if high { "up" } else { "down" };
        let what = if b < 10 {
            format!("{} was", bench.number(a))
        } else {
            "Both numbers were".to_owned()
        };
        item.working = Working::Steps { steps: vec![format!("{what} rounded {way}.")] };
        item
    })
}

// ---------------------------------------------------------------------------------------------
// How many digits?

/// A set about the number of digits of a product.
pub(super) fn digits_of_a_product(bench: &Bench) -> Vec<Item> {
    let wanted = bench.request.most.max(bench.request.least);
    let sizes = if bench.request.part <= 1 { &SIZES[..3] } else { &SIZES[1..] };
    let mut all = long_and_short(bench, sizes, wanted + 6);
    let spot = bench.request.spot;
    if spot == Spot::WarmUp {
        return bench.fit(all.into_iter().map(|p| digits_in_a_box(bench, p)));
    }
    let because = matches!(spot, Spot::Guided | Spot::Core | Spot::Stretch);
    let mut items = Vec::new();
    if spot == Spot::Core && bench.request.own.is_empty() {
        let dealt = own_or(bench, Size::of(3, 2), Zeros::Never, 1);
        items.extend(dealt.into_iter().map(|pair| which_can_be_right(bench, pair)));
    }
    if spot == Spot::Stretch {
        items.extend(thoughtful(bench, &mut all, wanted.div_ceil(2)));
    }
    items.extend(all.into_iter().map(|p| how_many_digits(bench, p, because)));
    if spot == Spot::Core && items.len() > 2 {
        items.swap(0, 2);
    }
    if matches!(spot, Spot::Support | Spot::Core | Spot::Stretch | Spot::Homework) {
        // Every second asks about all numbers of a size.
        let own = bench.request.own.len();
        for (index, item) in of_sizes(bench, wanted.div_ceil(2)).into_iter().enumerate() {
            items.insert((own + 1 + 2 * index).min(items.len()), item);
        }
    }
    bench.fit(items)
}

/// Products with as many digits as both numbers have, which counting the printed digits tells, and
/// twice as many with one fewer; the teacher's own first.
fn long_and_short(bench: &Bench, sizes: &[Size], wanted: usize) -> Vec<Pair> {
    let long = |a, b| digit_count(a * b) == digit_count(a) + digit_count(b);
    let mut all: Vec<Pair> = bench.request.own.to_vec();
    let mut hands: Vec<[std::vec::IntoIter<Pair>; 2]> = Vec::new();
    for &size in sizes {
        let of = |wish: bool| {
            let fit = |a, b| b > 2 && decent(a, b) && digits_are_clear(a, b) && long(a, b) == wish;
            loose(bench, size, wanted * 2, &fit).into_iter()
        };
        hands.push([of(true), of(false)]);
    }
    let mut stream = deal::stream(bench.request, &bench.setting.seed, "long and short");
    while all.len() < wanted {
        let mut round: Vec<Pair> = Vec::new();
        for [long, short] in &mut hands {
            round.extend(long.next());
            round.extend(short.by_ref().take(2));
        }
        if round.is_empty() {
            break;
        }
        stream.shuffle(&mut round);
        all.extend(round);
    }
    all
}

/// "How many digits are there in the answer to 312 × 48?" with four numbers to choose from.
fn how_many_digits(bench: &Bench, (a, b): Pair, because: bool) -> Item {
    let right = digit_count(a * b);
    // The two that are possible at all, and one on either side.
    let most = digit_count(a) + digit_count(b);
    let rules = stretch::wrong_digit_counts(a, b);
    let rule = |n: u32| rules.iter().find(|l| l.answer == n.to_string());
    let option = |n: u32| Choice {
        text: count(usize::try_from(n).unwrap_or(0), "digit").replace(' ', "\u{a0}"),
        correct: n == right,
        pattern: rule(n).and_then(|l| l.patterns.first().cloned()),
    };
    let choices = (most - 2..=most + 1).map(option).collect();
    let prompt = format!("How many digits are there in the answer to {}?", bench.sum(a, b));
    let mut item = bench.choice(&prompt, choices, because);
    item.working = Working::Steps { steps: vec![why_so_many(bench, a, b)] };
    item
}

/// The same with a box, for a warm-up.
fn digits_in_a_box(bench: &Bench, (a, b): Pair) -> Item {
    let prompt = format!("How many digits are there in the answer to {}?", bench.sum(a, b));
    let mut item = bench.plain(Kind::Reason, prompt, digit_count(a * b).to_string());
    item.working = Working::Steps { steps: vec![why_so_many(bench, a, b)] };
    item.likely = stretch::wrong_digit_counts(a, b);
    item
}
