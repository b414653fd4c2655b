//! The pairs of skills done in the head: short lists, each pair with the taught route the cheapest.

use super::classes::{Dealt, spread_once, zero_inside};
use super::deal::{self, Line};
use super::{Bench, Spot};
use crate::method::{self, Route, RouteKind, cheapest as cheapest_route, natural};
use crate::number::{digits, ten_to};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;
use std::sync::LazyLock;

/// Factors of a pair.
pub(super) type Pair = (u64, u64);

/// Every other kind of route must cost so many per cent more (default, no source); less for those
/// that have near relations, factors and doubling.
const MARGIN: u32 = 25;
const NEAR_MARGIN: u32 = 15;
/// No sum for the head costs more, in hundredths of a step; early ones cost less.
const DEAR: u32 = 900;
/// Factors may cost more: few numbers have them.
const DEAR_FACTORS: u32 = 1000;
const EARLY: u32 = 650;
/// Warm-ups are the same for all levels and written down without a working: they cost no more, or
/// are among so many that are the lightest of their list.
pub(super) const WARM: u32 = 550;
const LIGHTEST: usize = 20;
/// So many pairs a stretch set has at least, of its own or others'.
const THOUGHTS: usize = 12;

/// The pairs of a skill, all parts together.
pub(super) struct List {
    /// The skill.
    pub(super) name: &'static str,
    /// The route that is taught.
    pub(super) route: RouteKind,
    pairs: fn() -> &'static [Pair],
    /// What is taken in turn: × 10, × 100, × 1000, × 10, …
    turn: fn(Pair) -> u64,
}

/// The lists of all skills done in the head.
pub(super) const LISTS: &[List] = &[
    List { name: "facts-to-ten-by-ten", route: RouteKind::Fact, pairs: || &FACTS, turn: |_| 0 },
    List {
        name: "times-ten-hundred-thousand",
        route: RouteKind::Shift,
        pairs: || &TIMES_TEN,
        turn: |(_, b)| b,
    },
    List { name: "multiples-of-ten", route: RouteKind::Shift, pairs: || &MULTIPLES, turn: lengths },
    List { name: "tens-by-tens", route: RouteKind::Shift, pairs: || &TENS, turn: lengths },
    List { name: "splitting", route: RouteKind::Splitting, pairs: || &SPLITTING, turn: lengths },
    List {
        name: "doubling-and-halving",
        route: RouteKind::DoublingHalving,
        pairs: || &DOUBLING,
        turn: |(_, b)| if b < 10 { 2 } else { b / 10 % 2 },
    },
    List {
        name: "fives-and-twenty-fives",
        route: RouteKind::Parts,
        pairs: || &FIVES,
        turn: |(_, b)| b,
    },
    List {
        name: "splitting-into-factors",
        route: RouteKind::Factors,
        pairs: || &FACTORS,
        turn: |(a, b)| a.min(b),
    },
    List {
        name: "rounding-and-adjusting",
        route: RouteKind::Adjusting,
        pairs: || &ADJUSTING,
        turn: lengths,
    },
    List {
        name: "near-hundreds",
        route: RouteKind::Adjusting,
        pairs: || &HUNDREDS,
        turn: |(a, _)| [99, 102, 98, 101].iter().position(|n| *n == a).unwrap_or(4) as u64,
    },
    List { name: "zeros-at-the-ends", route: RouteKind::Shift, pairs: || &ENDS, turn: lengths },
];

/// How long both factors are.
fn lengths((a, b): Pair) -> u64 {
    u64::from(a.ilog10() * 20 + b.ilog10())
}

/// All products that a maker asks for in the head; `None` where it asks other things.
pub fn for_head(maker: &str) -> Option<&'static [(u64, u64)]> {
    LISTS.iter().find(|list| list.name == maker).map(|list| (list.pairs)())
}

/// The list of a skill.
pub(super) fn list(name: &str) -> &'static List {
    LISTS.iter().find(|l| l.name == name).unwrap_or(&LISTS[0])
}

/// The route of this kind to a product, the cheapest such; another where there is none.
pub(super) fn route_of(a: u64, b: u64, kind: RouteKind) -> Option<Route> {
    // × 4 by doubling twice belongs to doubling and halving.
    let also = (kind == RouteKind::DoublingHalving).then_some(RouteKind::Doubling);
    let kinds: Vec<RouteKind> = [kind].into_iter().chain(also).collect();
    method::route_of(a, b, &kinds)
}

/// What a sum costs in the head.
pub(super) fn cost(a: u64, b: u64) -> u32 {
    cheapest_route(a, b).map_or(u32::MAX, |(_, cost)| cost)
}

/// The tables from 2 × 2 to 9 × 9, each fact once.
static FACTS: LazyLock<Vec<Pair>> =
    LazyLock::new(|| pairs(2..=9, 2..=9).filter(|(a, b)| a >= b).collect());

/// Numbers of two and three digits by 10, 100 and 1000.
static TIMES_TEN: LazyLock<Vec<Pair>> = LazyLock::new(|| {
    let plain = |a: &u64| !a.is_multiple_of(100) && varied(*a);
    let times = |a| [10, 100, 1000].map(|b| (a, b));
    (12..=999).filter(plain).flat_map(times).collect()
});

/// 40 × 7, 600 × 8, 3,000 × 6.
static MULTIPLES: LazyLock<Vec<Pair>> = LazyLock::new(|| {
    let round = |(x, y): Pair| [10, 100, 1000].map(|place| (x * place, y));
    pairs(2..=9, 2..=9).flat_map(round).filter(shifts).collect()
});

/// Whether moving the fact's digits is the quickest way, by the margin; or the fact ends in a zero,
/// which is then one of the answer's zeros (50 × 8, 400 × 5): such sums are met for that trap.
pub(super) fn shifts(&(a, b): &Pair) -> bool {
    brings_a_zero(a, b) || natural(a, b, RouteKind::Shift, MARGIN)
}

/// Whether the fact inside the product ends in a zero: 5 × 8 in 50 × 8.
pub(super) fn brings_a_zero(a: u64, b: u64) -> bool {
    let inside = |n: u64| n / ten_to(digits(n).iter().take_while(|d| **d == 0).count());
    (inside(a) * inside(b)).is_multiple_of(10)
}

/// 40 × 70, 600 × 30, 4,000 × 30, 400 × 300.
static TENS: LazyLock<Vec<Pair>> = LazyLock::new(|| {
    let round = |(x, y): Pair| {
        let both = [(10, 10), (100, 10), (1000, 10), (100, 100)];
        both.map(|(p, q)| (x * p, y * q))
    };
    // 70 × 40 is 40 × 70.
    let once = |&(a, b): &Pair| a.ilog10() != b.ilog10() || a >= b;
    pairs(2..=9, 2..=9).flat_map(round).filter(once).filter(shifts).collect()
});

/// 43 × 3, 213 × 4: the parts are easy to find and to add. What costs more is for paper.
static SPLITTING: LazyLock<Vec<Pair>> = LazyLock::new(|| {
    let fit = |&(a, b): &Pair| a % 10 != 0 && varied(a) && splits_easily(a, b);
    pairs(12..=999, 3..=9).filter(fit).collect()
});

/// Whether a product by one digit is split in the head rather than multiplied on paper.
pub(super) fn splits_easily(a: u64, b: u64) -> bool {
    let most = if a.max(b) < 100 { 380 } else { EARLY };
    // Most are too dear by any route, which their own splitting tells at once.
    !zero_inside(a.max(b))
        && method::split_cost(a.max(b), a.min(b)) <= most
        && cheapest(a, b, RouteKind::Splitting, MARGIN, most)
}

/// Doubling and halving is the cheapest, and beats all routes but splitting into factors by a
/// margin: that is for 45 × 18 nearly the same thing, 45 × 2 × 9, and never dearer by much.
static DOUBLING: LazyLock<Vec<Pair>> = LazyLock::new(|| {
    let fit = |&(a, b): &Pair| {
        let all = method::route_costs(a, b);
        let own = all.iter().find(|(name, _)| *name == RouteKind::DoublingHalving);
        let Some(&(_, own)) = own else { return false };
        let akin = |k: RouteKind| matches!(k, RouteKind::DoublingHalving | RouteKind::Factors);
        own <= DEAR
            && all.iter().all(|&(name, cost)| {
                let margin = if akin(name) { 0 } else { NEAR_MARGIN };
                cost * 100 >= own * (100 + margin)
            })
    };
    let fives = |b: &u64| b % 10 == 5;
    let evens = |a: &u64| a.is_multiple_of(2) && !a.is_multiple_of(10);
    let all = (12..=98).filter(evens).flat_map(|a| (15..=95).filter(fives).map(move |b| (a, b)));
    let large = (12..=48).filter(evens).flat_map(|a| [150, 250, 350, 450].map(|b| (a, b)));
    // × 4 and × 8 by doubling and doubling again.
    let again = pairs(13..=99, 4..=8).chain(pairs(102..=499, 4..=8));
    let doubled = again.filter(|&(a, b)| {
        ends_plain(a, b)
            && [4, 8].contains(&b)
            && cheapest(a, b, RouteKind::Doubling, NEAR_MARGIN, DEAR)
    });
    all.chain(large).filter(fit).chain(doubled).collect()
});

/// × 5, × 50 and × 25 as a half or a quarter.
static FIVES: LazyLock<Vec<Pair>> = LazyLock::new(|| {
    let two = (12..=99).filter(|a| a % 10 != 0).flat_map(|a| [5, 50, 25].map(|b| (a, b)));
    let three =
        (102..=488).filter(|a| a % 4 == 0 && a % 10 != 0).flat_map(|a| [5, 25].map(|b| (a, b)));
    let known = |&(a, b): &Pair| a != b && natural(a, b, RouteKind::Parts, MARGIN);
    two.chain(three).filter(known).collect()
});

/// × 12 as × 3 × 4, where that is the cheapest way.
static FACTORS: LazyLock<Vec<Pair>> = LazyLock::new(|| {
    let best = |a, b| cheapest(a, b, RouteKind::Factors, NEAR_MARGIN, DEAR_FACTORS);
    let fit = |&(a, b): &Pair| a >= b && ends_plain(a, b) && best(a, b);
    let one = pairs(12..=99, 4..=9).filter(|&(a, b)| best(a, b));
    pairs(12..=99, 12..=99).filter(fit).chain(one).collect()
});

/// 47 × 29, 39 × 6, 198 × 4: one number just under a round one.
static ADJUSTING: LazyLock<Vec<Pair>> = LazyLock::new(|| {
    let near = |n: u64| matches!(n % 10, 8 | 9);
    // Not 89 or 88: the pairs of two digits are few, and written methods need them too.
    let low = |n: u64| matches!(n, 19 | 29 | 39 | 49 | 59);
    let fit = |&(a, b): &Pair| ends_plain(a, b) && by_adjusting(a, b) && b < 98;
    let two = pairs(12..=97, 12..=97).filter(|&(a, b)| a > b && (low(a) || low(b)));
    let one = pairs(18..=99, 3..=8).filter(|(a, _)| near(*a));
    let three = pairs(198..=999, 3..=8).filter(|(a, _)| matches!(a % 100, 97..=99));
    two.chain(one).chain(three).filter(fit).collect()
});

fn by_adjusting(a: u64, b: u64) -> bool {
    let first = cheapest_route(a, b);
    first.is_some_and(|(name, cost)| name == RouteKind::Adjusting && cost <= DEAR)
        && natural(a, b, RouteKind::Adjusting, MARGIN)
}

/// Products on a list for the head: written skills leave them.
static TAKEN: LazyLock<BTreeSet<Pair>> = LazyLock::new(|| {
    let all = DOUBLING.iter().chain(&*FIVES).chain(&*FACTORS).chain(&*ADJUSTING).chain(&*HUNDREDS);
    all.map(|&(a, b)| (a.max(b), a.min(b))).collect()
});

/// Whether a skill done in the head asks for this product.
pub(super) fn for_the_head(a: u64, b: u64) -> bool {
    TAKEN.contains(&(a.max(b), a.min(b)))
}

/// 36 × 99, 24 × 101, 45 × 199.
static HUNDREDS: LazyLock<Vec<Pair>> = LazyLock::new(|| {
    let near = [99, 98, 101, 102, 199, 201, 299];
    let all = (12..=97).filter(|a| a % 10 != 0 && varied(*a)).flat_map(|a| near.map(|b| (b, a)));
    // 201 × 41 is 201 × 40 and 201: the other number is the round one there.
    let cheap = |&(a, b): &Pair| cheapest(a, b, RouteKind::Adjusting, MARGIN, DEAR);
    all.filter(cheap).filter(by_the_hundred).collect()
});

/// Whether the route to a product goes by way of the hundred next to its first factor: 102 × 79 is
/// rather 102 × 80 less 102.
pub(super) fn by_the_hundred(&(near, other): &Pair) -> bool {
    let hundred = crate::number::round_half_up(near, 100).to_string();
    let route = route_of(near, other, RouteKind::Adjusting);
    let first = route.as_ref().and_then(|r| r.steps.first());
    first.is_some_and(|step| step.expression.split(['*', ' ']).any(|word| word == hundred))
}

/// 470 × 6, 470 × 30, 4,700 × 600.
static ENDS: LazyLock<Vec<Pair>> = LazyLock::new(|| {
    // Not 47 × 30: that is a row of long multiplication, and dealt out there.
    let ends = [(1, 0), (2, 0), (1, 1), (2, 1), (1, 2), (2, 2)];
    let fit = |&(a, b): &Pair| {
        let carries = digits(a)[0] * digits(b)[0] >= 10;
        a % 10 != 0 && varied(a) && carries
    };
    let margin = |a, b| if brings_a_zero(a, b) { 0 } else { MARGIN };
    let quickest = |&(a, b): &Pair| natural(a, b, RouteKind::Shift, margin(a, b));
    let all = pairs(12..=98, 3..=9).filter(fit);
    all.flat_map(|(a, b)| ends.map(|(p, q)| (a * ten_to(p), b * ten_to(q))))
        .filter(quickest)
        .collect()
});

fn pairs(
    a: std::ops::RangeInclusive<u64>,
    b: std::ops::RangeInclusive<u64>,
) -> impl Iterator<Item = Pair> {
    a.flat_map(move |x| b.clone().map(move |y| (x, y)))
}

fn cheapest(a: u64, b: u64, kind: RouteKind, margin: u32, most: u32) -> bool {
    cost(a, b) <= most && natural(a, b, kind, margin)
}

fn ends_plain(a: u64, b: u64) -> bool {
    !a.is_multiple_of(10) && !b.is_multiple_of(10) && a != b
}

fn varied(n: u64) -> bool {
    let digits = digits(n);
    digits.iter().any(|d| *d != digits[0])
}

/// The pairs of this set, in its order: early parts take the cheaper half first.
pub(super) fn listed(bench: &Bench) -> Vec<Pair> {
    let list = list(bench.maker);
    let found = dealt(bench, (list.pairs)());
    // Examples of neighbours of a hundred show below it, above it, and two away, in this order.
    let ordered = list.name == "near-hundreds" && bench.request.spot == Spot::Example;
    let mut found = found;
    if ordered {
        // What is kept apart for single rows is nobody else's here.
        let kept = deal::rows_share(deal::Stretch::WHOLE);
        let line = Line::of(&bench.setting.seed, bench.maker);
        let all = spread_once(line, || (list.pairs)().to_vec());
        for near in [99, 102, 98] {
            if found.iter().all(|p| p.0 != near) {
                let part = usize::try_from(bench.request.part).unwrap_or(1).saturating_sub(1);
                let own = |d: &&Dealt| d.a == near && kept.holds(d.point);
                found.extend(all.iter().filter(own).nth(part).map(|d| (d.a, d.b)));
            }
        }
    }
    let mut found = in_turn(found, list.turn, ordered);
    // The first example of splitting has tens and ones only.
    let shown = matches!(bench.request.spot, Spot::Example | Spot::Guided);
    if list.route == RouteKind::Splitting && bench.request.part <= 1 && shown {
        let short: Vec<Pair> = (list.pairs)().iter().filter(|(a, _)| *a < 100).copied().collect();
        let first = deal::stream(bench.request, &bench.setting.seed, "tens and ones");
        let mut first = first;
        found.extend(first.one_of(&short).filter(|_| found.iter().all(|(a, _)| *a >= 100)));
    }
    // A sum that comes back need not be one of the easiest again.
    let first = bench.request.part <= 1 && deal::is_lesson(bench.request);
    match list.route {
        // The tables of 6 to 9 are met more often than those of 2 and 5.
        RouteKind::Fact => found.sort_by_key(|&(a, b)| [2, 5].iter().any(|n| [a, b].contains(n))),
        // Two digits are split first; three digits follow where there is room.
        RouteKind::Splitting if bench.request.part <= 1 => {
            found.sort_by_cached_key(|&(a, b)| (a.max(b) >= 100, cost(a, b) > EARLY));
        }
        _ if first && !ordered => found.sort_by_cached_key(|&(a, b)| cost(a, b) > EARLY),
        _ => {}
    }
    // What is shown and begun is a sum for which the way taught is the quickest: 8,000 × 5 is a half
    // of 80,000, and only practised as 8 × 5 with its zeros.
    if list.route == RouteKind::Shift && matches!(bench.request.spot, Spot::Example | Spot::Guided)
    {
        found.sort_by_cached_key(|&(a, b)| !natural(a, b, RouteKind::Shift, 0));
    }
    if list.route != RouteKind::Fact {
        let spot = bench.request.spot;
        let often = |&(a, b): &Pair| bench.met.often(a, b, spot);
        found.sort_by_cached_key(often);
        // A test takes the easiest of its set: none of these then.
        let new = found.iter().take_while(|pair| !often(pair)).count();
        if spot == Spot::Test && new > 0 {
            found.truncate(new);
        }
    }
    found
}

/// One of each kind in turn, each kind in its own order; the kinds in theirs where `ordered`.
fn in_turn(pairs: Vec<Pair>, turn: fn(Pair) -> u64, ordered: bool) -> Vec<Pair> {
    let mut met: BTreeMap<u64, usize> = BTreeMap::new();
    let mut placed: Vec<(usize, Pair)> = Vec::new();
    for pair in pairs {
        let nth = met.entry(turn(pair)).or_insert(0);
        placed.push((*nth, pair));
        *nth += 1;
    }
    placed.sort_by_key(|&(nth, pair)| (nth, if ordered { turn(pair) } else { 0 }));
    placed.into_iter().map(|(_, pair)| pair).collect()
}

/// Lists with at least so many pairs are dealt out for the term; shorter ones for a lesson, the
/// levels apart; the shortest, like the tables, for a lesson with one share for all levels.
const FOR_A_TERM: usize = 300;
const LEVELS_APART: usize = 120;

thread_local! {
    /// What warm-ups may ask of each list, worked out once.
    static LIGHT: RefCell<BTreeMap<&'static str, Rc<BTreeSet<Pair>>>> = const { RefCell::new(BTreeMap::new()) };
}

/// The pairs of a list that are light enough for a warm-up by the route that is taught.
fn light_enough(list: &List) -> Rc<BTreeSet<Pair>> {
    let work_out = || {
        let taught = |&(a, b): &Pair| match list.route {
            RouteKind::Fact => 0,
            // Mostly the quickest, and its cost is all that is asked.
            kind => match cheapest_route(a, b) {
                Some((name, cost)) if name == kind => cost,
                _ => route_of(a, b, kind).map_or(u32::MAX, |route| route.cost),
            },
        };
        let mut costs: Vec<(u32, Pair)> = (list.pairs)().iter().map(|p| (taught(p), *p)).collect();
        costs.sort_unstable();
        let most = costs.get(LIGHTEST - 1).map_or(u32::MAX, |(cost, _)| (*cost).max(WARM));
        Rc::new(costs.into_iter().filter(|(cost, _)| *cost <= most).map(|(_, p)| p).collect())
    };
    LIGHT.with_borrow_mut(|kept| kept.entry(list.name).or_insert_with(work_out).clone())
}

fn dealt(bench: &Bench, pairs: &[Pair]) -> Vec<Pair> {
    let request = bench.request;
    let seed = &bench.setting.seed;
    let line = Line::of(seed, bench.maker);
    let all = spread_once(line, || pairs.to_vec());
    let mut stream = deal::stream(request, seed, "listed");
    let for_a_term = request.spot != Spot::WarmUp && pairs.len() >= FOR_A_TERM;
    let mut tiers = if request.spot == Spot::WarmUp {
        vec![deal::Stretch::WHOLE]
    } else if for_a_term {
        let own = deal::own_stretch(deal::Stretch::WHOLE, request, true);
        let [near, whole, _] = deal::reserves(deal::Stretch::WHOLE, request, true);
        vec![own, near, whole, deal::Stretch::WHOLE]
    } else {
        vec![deal::lesson_stretch(request, pairs.len() >= LEVELS_APART), deal::Stretch::WHOLE]
    };
    let warm = (request.spot == Spot::WarmUp).then(|| light_enough(list(bench.maker)));
    let light = |d: &&Dealt| warm.as_ref().is_none_or(|warm| warm.contains(&(d.a, d.b)));
    let mut found: Vec<Pair> = Vec::new();
    for (index, stretch) in tiers.drain(..).enumerate() {
        // Of a short list what belongs to others is taken only where all else has come often.
        let enough = match index {
            0 => 0,
            1 if for_a_term => request.most,
            // Questions to think about use any pair: nobody works it out again.
            2 if request.spot == Spot::Stretch => request.most.min(THOUGHTS),
            _ => request.least,
        };
        let new = |&&(a, b): &&Pair| !bench.met.often(a, b, request.spot);
        if index > 0 && found.iter().filter(new).count() >= enough {
            continue;
        }
        let point = |d: &Dealt| if for_a_term { d.point } else { deal::moved(d.point, request) };
        let fresh = |d: &&Dealt| stretch.holds(point(d)) && !found.contains(&(d.a, d.b));
        let mut here: Vec<Pair> =
            all.iter().filter(fresh).filter(light).map(|d| (d.a, d.b)).collect();
        if for_a_term {
            stream.shuffle(&mut here);
        } else {
            let begin = deal::begins(request, here.len());
            here.rotate_left(begin);
        }
        // Of what comes first, support takes the lightest, and core not these.
        let near = (request.most.max(request.least) * 2).min(here.len());
        if matches!(request.spot, Spot::Support | Spot::Core) {
            here[..near].sort_by_cached_key(|&(a, b)| cost(a, b));
        }
        if request.spot == Spot::Core {
            here[..near].rotate_left(near / 3);
        }
        found.extend(here);
    }
    for pair in &mut found {
        // Tables are asked both ways round.
        if pair.0 < 10 && pair.1 < 10 && stream.chance(1, 2) {
            *pair = (pair.1, pair.0);
        }
    }
    found
}
