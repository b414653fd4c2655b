//! The maker of `choosing-a-method`: in the head, and which way, or on paper?

use super::lists::{WARM, cost};
use super::{Bench, Spot, deal, head};
use crate::exercise::{Choice, Item, Working};
use crate::method::{HouseStyle, Route, cheapest, long, routes};
use crate::seed::Stream;
use std::collections::BTreeSet;

/// A way in the head must cost no more than this, in hundredths of a step, to be the quickest.
const HEAD: u32 = 700;
/// From this cost on paper is quicker and safer (default of ours).
const PAPER: u32 = 1300;
/// What a bad way begins with must cost so many per cent of the best way.
const CLEARLY: u32 = 150;
/// Pairs tried for each item.
const TRIES: usize = 400;
/// Factors that invite a way in the head.
const INVITING: [u64; 13] = [5, 25, 50, 99, 98, 101, 102, 19, 29, 39, 21, 199, 15];

/// A set of choices between ways; warm-ups are sums whose quick way is clear.
pub(super) fn make(bench: &Bench) -> Vec<Item> {
    let mut stream = deal::stream(bench.request, &bench.setting.seed, "choosing");
    let wanted = bench.request.most.max(bench.request.least);
    let mut seen = BTreeSet::new();
    let mut items = Vec::new();
    for turn in 0..wanted * TRIES {
        if items.len() >= wanted {
            break;
        }
        // Two in the head, then one on paper.
        let paper = items.len() % 3 == 2 && bench.request.spot != Spot::WarmUp;
        let pair = draw(&mut stream, paper);
        let made = if paper { on_paper(bench, pair) } else { in_head(bench, pair, turn) };
        if let Some(item) = made.filter(|_| seen.insert(pair)) {
            items.push(item);
        }
    }
    bench.fit(items)
}

fn draw(stream: &mut Stream, paper: bool) -> (u64, u64) {
    let a = stream.number(13..=98);
    if paper { (a, stream.number(23..=89)) } else { (a, *stream.one_of(&INVITING).unwrap_or(&5)) }
}

/// The ways to a product, each kind once, cheapest first.
fn ways(a: u64, b: u64) -> Vec<Route> {
    let mut kinds = BTreeSet::new();
    routes(a, b).into_iter().filter(|route| kinds.insert(route.name)).collect()
}

fn option(text: String, correct: bool) -> Choice {
    Choice { text, correct, pattern: None }
}

/// The route as a sum: "46 × 100 − 46".
fn first_line(route: &Route, style: &HouseStyle) -> String {
    route.steps.first().map_or_else(|| route.short(style), |step| style.typeset(&step.expression))
}

const ON_PAPER: &str = "on paper, in columns";

/// Ways that are right but plainly bad: the product they begin with costs at least `least`, with an
/// adding or a subtracting on top of it.
fn bad_ways(a: u64, b: u64, least: u32) -> Vec<String> {
    let ways = [
        ((a, b - 1), format!("{a}*{} + {a}", b - 1)),
        ((a, b + 1), format!("{a}*{} - {a}", b + 1)),
        ((a + 1, b), format!("{}*{b} - {b}", a + 1)),
        ((a - 1, b), format!("{}*{b} + {b}", a - 1)),
    ];
    let bad = |&((x, y), _): &((u64, u64), String)| cost(x, y) >= least;
    ways.into_iter().filter(bad).map(|(_, way)| way).collect()
}

/// A sum with a quick way in the head; the other ways offered lead nowhere.
fn in_head(bench: &Bench, (a, b): (u64, u64), turn: usize) -> Option<Item> {
    // Most pairs are settled by their cost, before a way is put into words.
    let (name, cost) = cheapest(a, b).filter(|(_, cost)| *cost <= HEAD)?;
    if a.is_multiple_of(10) {
        return None;
    }
    if bench.request.spot == Spot::WarmUp {
        return (cost <= WARM).then(|| head::in_head(bench, (a, b), name));
    }
    let all = ways(a, b);
    let best = all.first()?;
    let style = &bench.setting.style;
    let slower = bad_ways(a, b, best.cost * CLEARLY / 100);
    let slower = slower.get(turn % slower.len().max(1))?;
    let mut choices = vec![
        option(first_line(best, style), true),
        option(style.typeset(slower), false),
        option(ON_PAPER.to_owned(), false),
    ];
    if choices[0].text == choices[1].text {
        return None;
    }
    choices.rotate_left(turn % 3);
    let mut item = bench.choice(&prompt(bench, a, b), choices, because(bench));
    item.working = Working::Route(best.clone());
    item.purpose = "a quick way in your head".to_owned();
    Some(item)
}

/// A sum without a quick way in the head: no factor is near a round number, and none is a handy
/// part of one.
fn on_paper(bench: &Bench, (a, b): (u64, u64)) -> Option<Item> {
    let plain = |n: u64| matches!(n % 10, 3 | 4 | 6 | 7);
    let (_, best) = cheapest(a, b)?;
    if best < PAPER || !plain(a) || !plain(b) || a == b {
        return None;
    }
    let style = &bench.setting.style;
    let bad = bad_ways(a, b, best);
    let mut choices: Vec<Choice> =
        bad.iter().take(2).map(|way| option(style.typeset(way), false)).collect();
    if choices.len() < 2 {
        return None;
    }
    choices.push(option(ON_PAPER.to_owned(), true));
    choices.rotate_left(usize::try_from(a % 3).unwrap_or(0));
    let mut item = bench.choice(&prompt(bench, a, b), choices, because(bench));
    item.working = Working::Long(long(a, b, style));
    item.purpose = "no quick way in your head".to_owned();
    Some(item)
}

fn prompt(bench: &Bench, a: u64, b: u64) -> String {
    format!("Which way to work out {} is quick and safe?", bench.sum(a, b))
}

fn because(bench: &Bench) -> bool {
    matches!(bench.request.spot, Spot::Stretch | Spot::Test)
}
