//! Skills done in the head: tables facts, round numbers, splitting, adjusting, doubling, factors.

use super::build::small_count;
use super::known::{from_known_product, thought};
use super::lists::{Pair, brings_a_zero, list, listed, route_of};
use super::{Bench, Spot, deal, drawn, equal_groups, missing};
use crate::exercise::patterns::{is_near_round, likely_wrong_mental, pattern};
use crate::exercise::{Choice, Item, Kind, Space, Working};
use crate::method::{Route, RouteKind};

/// The skill whose digits only move to other places.
const BY_TEN: &str = "times-ten-hundred-thousand";

/// A set of a skill done in the head.
pub(super) fn make(bench: &Bench) -> Vec<Item> {
    let count = bench.request.most.max(bench.request.least);
    let kind = list(bench.maker).route;
    let own = bench.request.own.iter().copied();
    let pairs: Vec<Pair> = own.chain(listed(bench)).collect();
    let mut pairs = pairs;
    pairs.truncate(match bench.request.spot {
        Spot::ExitCheck | Spot::Stretch => count * 3,
        _ => count,
    });
    let plain = |pair: Pair| in_head(bench, pair, kind);
    let items: Vec<Item> = match bench.request.spot {
        Spot::Guided => pairs.into_iter().map(|p| begun(bench, p, kind)).collect(),
        Spot::Support => support(bench, &pairs, kind, count),
        Spot::Core => core(bench, &pairs, kind),
        Spot::Stretch => thoughtful(bench, &pairs, kind, count),
        Spot::ExitCheck => apart(bench, pairs).into_iter().take(count).map(plain).collect(),
        _ => pairs.into_iter().map(plain).collect(),
    };
    bench.fit(rising(items, bench.request.own.len()))
}

/// In rising difficulty: bare sums by their cost, other questions where they stand.
fn rising(mut items: Vec<Item>, own: usize) -> Vec<Item> {
    let bare = |item: &Item| item.kind == Kind::Mental && !item.sign().is_empty();
    let cost = |item: &Item| match &item.working {
        Working::Route(route) => route.cost,
        _ => 0,
    };
    let places: Vec<usize> = (own..items.len()).filter(|&i| bare(&items[i])).collect();
    let mut sums: Vec<Item> = places.iter().map(|&i| items[i].clone()).collect();
    sums.sort_by_key(cost);
    for (place, sum) in places.into_iter().zip(sums) {
        items[place] = sum;
    }
    items
}

/// A product for the head by the route that is taught.
pub(super) fn in_head(bench: &Bench, (a, b): Pair, kind: RouteKind) -> Item {
    let mut item = bench.plain(Kind::Mental, bench.sum(a, b), (a * b).to_string());
    item.expression = Some(format!("{a}*{b}"));
    if let Some(route) = route_of(a, b, kind) {
        // 101 × 13 is 1,300 and 13 by splitting as well: in a lesson on adjusting that goes wrong as
        // adjusting does.
        let believed = |kind| super::build::believable(likely_wrong_mental(a, b, kind), (a, b));
        item.likely = match kind {
            RouteKind::Adjusting if is_near_round(a, b) => believed(kind),
            _ => believed(route.name),
        };
        item.purpose = if route.name == RouteKind::Shift && brings_a_zero(a, b) {
            "a zero of the fact’s own".to_owned()
        } else {
            route.short(&bench.setting.style)
        };
        item.working = Working::Route(route);
    }
    item
}

fn first_line(bench: &Bench, route: &Route) -> Option<String> {
    let step = route.steps.first().filter(|_| route.steps.len() > 1)?;
    Some(bench.setting.style.typeset(&step.expression))
}

/// The same with the first line of the route already there: "47 × 29 = 47 × 30 − 47 =".
fn begun(bench: &Bench, pair: Pair, kind: RouteKind) -> Item {
    let mut item = in_head(bench, pair, kind);
    let line = match &item.working {
        Working::Route(route) => first_line(bench, route),
        _ => None,
    };
    if let Some(line) = line {
        item.prompt = format!("{}\u{a0}=\u{a0}{line}\u{a0}=", item.prompt);
    }
    item
}

/// A product by ten, a hundred or a thousand on a place-value chart.
fn on_a_chart(bench: &Bench, (a, b): Pair) -> Item {
    let mut item = in_head(bench, (a, b), RouteKind::Shift);
    item.space = Space::Chart { columns: small_count(a * b) };
    "each digit in its new place".clone_into(&mut item.purpose);
    item
}

/// The first half begun, the others bare; where digits only move to other places, every fourth
/// on a place-value chart.
fn support(bench: &Bench, pairs: &[Pair], kind: RouteKind, count: usize) -> Vec<Item> {
    let half = count.div_ceil(2);
    let own = bench.request.own.len();
    let item = |(index, &pair): (usize, &Pair)| {
        let drawn = (kind == RouteKind::Splitting && index == own + 2)
            .then(|| split_drawn(bench, pair))
            .flatten();
        let plain = || match bench.maker {
            BY_TEN if index >= own && (index - own).is_multiple_of(4) => on_a_chart(bench, pair),
            _ if index < half => begun(bench, pair, kind),
            _ => in_head(bench, pair, kind),
        };
        drawn.unwrap_or_else(plain)
    };
    pairs.iter().enumerate().map(item).collect()
}

/// A product that is split, as dots or as a rectangle in two parts.
fn split_drawn(bench: &Bench, pair: Pair) -> Option<Item> {
    drawn::split_dots(bench, pair).or_else(|| drawn::area_whole(bench, pair))
}

/// How often a sum of a core set stands on a place-value chart, where digits move by whole places.
const CHARTS: usize = 6;

/// Bare sums; the fourth asks for the way instead of the answer, and where round numbers only
/// shift the places, every third from there on for the missing factor or for what follows from a
/// known product, in turn.
fn core(bench: &Bench, pairs: &[Pair], kind: RouteKind) -> Vec<Item> {
    let own = bench.request.own.len();
    let item = |(index, &pair): (usize, &Pair)| {
        let turned = index.checked_sub(own.max(3)).filter(|n| n % 3 == 0).map(|n| n / 3);
        let chart = bench.maker == BY_TEN && index >= own && index % CHARTS == 1;
        let other = match kind {
            RouteKind::Shift if chart => Some(on_a_chart(bench, pair)),
            RouteKind::Shift if turned.is_some_and(|n| n % 3 == 0) => {
                Some(missing::factor(bench, pair))
            }
            RouteKind::Shift if turned.is_some() => {
                from_known_product(bench, pair, turned.unwrap_or(0) + index)
            }
            _ if index == 3 && own < 4 => which_way(bench, pair, kind),
            RouteKind::Adjusting if index == 5 => equal_groups::groups_too_many(bench, pair),
            RouteKind::Splitting if index == 5 => equal_groups::groups_of_a_split(bench, pair),
            RouteKind::Splitting if index == 8 => split_drawn(bench, pair),
            _ => None,
        };
        other.unwrap_or_else(|| in_head(bench, pair, kind))
    };
    pairs.iter().enumerate().map(item).collect()
}

/// At most two bare sums; missing factors, ways and reasons.
fn thoughtful(bench: &Bench, pairs: &[Pair], kind: RouteKind, count: usize) -> Vec<Item> {
    let own = bench.request.own.len();
    let from = deal::stream(bench.request, &bench.setting.seed, "kinds")
        .number(0..=super::stretch::KINDS_LAST);
    let from = usize::try_from(from).unwrap_or(0);
    let mut bare = own;
    let item = |(index, &pair): (usize, &Pair)| {
        if index < own {
            return in_head(bench, pair, kind);
        }
        if (index - own).is_multiple_of(4) && bare < 2 {
            bare += 1;
            return in_head(bench, pair, kind);
        }
        let other = match (index - own) % 4 {
            1 if index % 8 < 4 => Some(missing::factor(bench, pair)),
            1 => from_known_product(bench, pair, index / 4),
            2 => which_way(bench, pair, kind),
            3 => thought(bench, pair, from + index / 4),
            _ => thought(bench, pair, from + index / 4 + 5),
        };
        let other = other.or_else(|| thought(bench, pair, from + index / 4 + 9));
        other.unwrap_or_else(|| {
            bare += 1;
            if bare <= 2 { in_head(bench, pair, kind) } else { missing::factor(bench, pair) }
        })
    };
    pairs.iter().take(count * 2).enumerate().map(item).collect()
}

/// "Which is the same as 47 × 29?": the first line of the route and wrong ones.
fn which_way(bench: &Bench, (a, b): Pair, kind: RouteKind) -> Option<Item> {
    let route = route_of(a, b, kind).filter(|r| r.is(kind))?;
    let right = first_line(bench, &route)?;
    let mut choices = vec![Choice { text: right, correct: true, pattern: None }];
    for (ascii, name) in wrong_lines(&route, a, b, kind) {
        let text = bench.setting.style.typeset(&ascii);
        if choices.iter().all(|c| c.text != text) {
            let known = pattern(name).map(|p| p.name.to_owned());
            choices.push(Choice { text, correct: false, pattern: known });
        }
    }
    if choices.len() < 3 {
        return None;
    }
    choices.truncate(4);
    let what = format!("which way {a} {b}");
    deal::stream(bench.request, &bench.setting.seed, &what).shuffle(&mut choices);
    let prompt = format!("Which is the same as {}?", bench.sum(a, b));
    let mut item = bench.choice(&prompt, choices, false);
    item.working = Working::Route(route);
    Some(item)
}

/// First lines that do not give the product, each of a known mistake; those which give it by
/// luck are left out.
fn wrong_lines(route: &Route, a: u64, b: u64, kind: RouteKind) -> Vec<(String, &'static str)> {
    let near = |n: u64| {
        let unit = if n < 97 { 10 } else { 100 };
        (n + unit / 2) / unit * unit
    };
    let (x, y) = (a.max(b), a.min(b));
    let mut lines: Vec<(String, u64, &'static str)> = Vec::new();
    match kind {
        RouteKind::Adjusting => {
            // The number nearer to a round one is the one that was rounded.
            let (kept, moved) =
                if near(a).abs_diff(a) < near(b).abs_diff(b) || b < 10 { (b, a) } else { (a, b) };
            let (round, off) = (near(moved), near(moved).abs_diff(moved));
            let turned = if round > moved { '+' } else { '-' };
            let signed =
                |sign: char, n: u64| if sign == '+' { kept * round + n } else { kept * round - n };
            let back = if turned == '+' { '-' } else { '+' };
            let more = if off == 1 { kept.to_string() } else { format!("{kept}*{off}") };
            lines.push((
                format!("{kept}*{round} {turned} {more}"),
                signed(turned, kept * off),
                "adjusted-the-wrong-way",
            ));
            lines.push((
                format!("{kept}*{round} {back} {off}"),
                signed(back, off),
                "adjusted-by-the-difference",
            ));
            lines.push((
                format!("{kept}*{round} {turned} {off}"),
                signed(turned, off),
                "difference-the-wrong-way",
            ));
        }
        RouteKind::Splitting => {
            let (tens, ones) = (x / 10 * 10, x % 10);
            lines.push((format!("{tens}*{y} + {ones}"), tens * y + ones, "ones-copied"));
            lines.push((
                format!("{} + {}", times(tens / 10, y), times(ones, y)),
                tens / 10 * y + ones * y,
                "tens-lost-their-zero",
            ));
            lines.push((format!("{tens}*{ones}*{y}"), tens * ones * y, "parts-multiplied"));
        }
        RouteKind::DoublingHalving => {
            let (even, other) = if b.is_multiple_of(2) { (b, a) } else { (a, b) };
            // The factors keep their order, as in the right line.
            let turned = even == a;
            let mut add = |of_other: u64, of_even: u64, name| {
                let (x, y) = if turned { (of_even, of_other) } else { (of_other, of_even) };
                lines.push((format!("{x}*{y}"), x * y, name));
            };
            add(other * 2, even, "doubled-not-halved");
            add(other * 2, even * 2, "both-doubled");
            add(other + 2, even - 2, "");
        }
        RouteKind::Parts => {
            let (part, other) = if [5, 25, 50].contains(&b) { (b, a) } else { (a, b) };
            let whole = if part == 5 { 10 } else { 100 };
            let twice = if part == 25 { 2 } else { 1 };
            lines.push((
                format!("{other}*{whole}*2"),
                other * whole * 2,
                "doubled-instead-of-halved",
            ));
            lines.push((format!("{other}*{whole}"), other * whole, "not-halved-or-quartered"));
            if twice == 2 {
                lines.push((format!("{other}*100//2"), other * 50, "quarter-taken-as-half"));
            } else {
                lines.push((format!("{other}*{whole} - {part}"), other * whole - part, ""));
            }
        }
        RouteKind::Factors => {
            for d in 2..=9 {
                if y.is_multiple_of(d) && d < y / d && y / d <= 9 {
                    let e = y / d;
                    lines.push((format!("{x}*{d} + {x}*{e}"), x * (d + e), "factors-added"));
                    lines.push((format!("{x}*{d} + {e}"), x * d + e, ""));
                }
            }
            lines.push((format!("{x}*10*{}", y % 10), x * 10 * (y % 10), "parts-multiplied"));
        }
        _ => {}
    }
    lines.retain(|(_, value, _)| *value != route.value);
    lines.into_iter().map(|(line, _, name)| (line, name)).collect()
}

/// "7*3", and "3" for once 3, as the steps of a route are written.
fn times(n: u64, of: u64) -> String {
    if n == 1 { of.to_string() } else { format!("{n}*{of}") }
}

/// The pairs on which the mistakes of the route give the most different answers come first.
fn apart(bench: &Bench, pairs: Vec<Pair>) -> Vec<Pair> {
    let own = bench.request.own.len();
    let kind = list(bench.maker).route;
    let mut pairs = pairs;
    let mut ours = pairs.split_off(own.min(pairs.len()));
    ours.truncate(16);
    ours.sort_by_key(|&(a, b)| {
        let wrong = likely_wrong_mental(a, b, kind);
        let shared = wrong.iter().filter(|w| w.patterns.len() > 1).count();
        (shared, usize::MAX - wrong.len())
    });
    pairs.extend(ours);
    pairs
}
