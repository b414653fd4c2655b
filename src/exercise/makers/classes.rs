//! Classes of products by the length of their factors, and the skills that share each out.

use super::deal::{self, Line, Stretch};
use super::looks::{Looks, decent, varied};
use super::ranks::Order;
use super::written::RECIPES;
use super::{Bench, Spot};
use crate::number::{digits, ten_to};
use crate::seed::Stream;
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::rc::Rc;

/// The digits of the longer and of the shorter factor.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Size {
    /// Digits of the multiplicand.
    pub a: u32,
    /// Digits of the multiplier.
    pub b: u32,
}

impl Size {
    pub(super) const fn of(a: u32, b: u32) -> Size {
        Size { a, b }
    }

    /// The smallest and the largest number with so many digits, without the trivial one digits.
    pub(super) fn range(count: u32) -> (u64, u64) {
        let low = if count <= 1 { 2 } else { ten_to(count as usize - 1) };
        (low, ten_to(count as usize) - 1)
    }
}

/// What is dealt out: whole products, or rows (a multiplicand and one digit).
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Deck {
    /// Whole products.
    Products,
    /// Rows: their places do not matter, so that no multiplicand meets a digit twice.
    Rows,
}

/// The skills with sums of this size, and how much of them each needs; those with a zero inside
/// are shared out apart.
fn users(size: Size, zeros: bool) -> &'static [(&'static str, u64)] {
    match (size.a, size.b, zeros) {
        (2, 1, _) => &[("short-two-by-one", 14), ("story-one-step", 1)],
        (3, 1, true) => &[("zeros-in-multiplicand", 9), ("story-one-step", 1)],
        (3, 1, false) => &[("short-three-by-one", 8), ("story-one-step", 2), ("story-two-step", 1)],
        (4, 1, true) => &[("zeros-in-multiplicand", 3), ("short-four-by-one", 3)],
        (4, 1, false) => &[("short-four-by-one", 6), ("story-two-step", 1)],
        (2, 2, _) => &[
            ("long-two-by-two", 14),
            ("grid-two-by-two", 10),
            ("lattice", 5),
            ("story-one-step", 2),
            ("checking-a-product", 2),
            ("choosing-a-method", 1),
        ],
        (3, 2, _) => &[
            ("long-three-by-two", 8),
            ("lattice", 2),
            ("checking-a-product", 2),
            ("which-is-nearer", 1),
            ("estimating-by-leading-digits", 2),
            ("digits-of-a-product", 1),
            ("story-two-step", 3),
            ("choosing-a-method", 1),
        ],
        (4, 2, _) => &[("long-four-by-two", 4), ("story-two-step", 1), ("choosing-a-method", 1)],
        (3, 3, true) => &[("zeros-in-multiplier", 1)],
        (3, 3, false) => &[("long-three-by-three", 4), ("lattice", 1)],
        (4, 3, true) => &[("long-four-by-three", 1)],
        (4, 3, false) => &[("long-four-by-three", 4), ("story-two-step", 1)],
        _ => &[],
    }
}

/// The skills that ask for single rows of a multiplicand so long.
fn row_users(digits: u32) -> &'static [(&'static str, u64)] {
    match digits {
        2 => &[("long-two-by-two", 3), ("grid-two-by-two", 2)],
        3 => &[("long-three-by-two", 1), ("long-three-by-three", 1), ("zeros-in-multiplier", 1)],
        4 => &[("long-four-by-two", 1), ("long-four-by-three", 1)],
        _ => &[],
    }
}

/// Cells in the share of all who are not named.
const OTHERS: u64 = 32;

fn skill_stretch(bench: &Bench, users: &[(&str, u64)]) -> Stretch {
    let mut weights: Vec<u64> = users.iter().map(|(_, weight)| *weight).collect();
    weights.push(1 + weights.iter().sum::<u64>() / 16);
    let own = bench.request.skill == bench.maker;
    match users.iter().position(|(name, _)| own && *name == bench.maker) {
        Some(index) => Stretch::WHOLE.share(index, &weights),
        None => {
            // A maker used under another name, or a size its table does not name.
            let seed = bench.setting.seed.child("others").child(bench.maker);
            let cell = seed.child(bench.request.skill).below(OTHERS);
            let cells = vec![1; usize::try_from(OTHERS).unwrap_or(1)];
            let rest = Stretch::WHOLE.share(users.len(), &weights);
            rest.share(usize::try_from(cell).unwrap_or(0), &cells)
        }
    }
}

/// Whether no carry arises in any row: every digit times every digit is one digit.
pub(super) fn bare(a: u64, b: u64) -> bool {
    largest_digit(a) * largest_digit(b) <= 9
}

fn largest_digit(n: u64) -> u8 {
    digits(n).into_iter().max().unwrap_or(0)
}

/// What a set owns of a kind of pairs: its own, those of the first part without carries, and
/// the reserves.
struct Owned {
    own: Stretch,
    bare: Option<Stretch>,
    reserves: [Stretch; 3],
}

impl Owned {
    fn new(bench: &Bench, users: &[(&str, u64)], by_spot: bool) -> Owned {
        let skill = skill_stretch(bench, users);
        let request = bench.request;
        // Warm-ups bring back a skill from anywhere in its share.
        let warm_up = request.spot == Spot::WarmUp;
        let own = if warm_up { skill } else { deal::own_stretch(skill, request, by_spot) };
        Owned {
            own,
            bare: deal::bare_stretch(skill, request).filter(|_| by_spot),
            reserves: deal::reserves(skill, request, by_spot),
        }
    }
}

/// What a set owns of a class: of the pairs without and with a zero inside.
struct Hand {
    line: Line,
    kinds: [Owned; 2],
}

impl Hand {
    fn new(bench: &Bench, size: Size, deck: Deck) -> Hand {
        let (name, kinds) = match deck {
            Deck::Products => {
                let owned = |zeros| Owned::new(bench, users(size, zeros), true);
                (format!("{}x{}", size.a, size.b), [owned(false), owned(true)])
            }
            Deck::Rows => {
                let owned = || Owned::new(bench, row_users(size.a), false);
                (format!("rows {}", size.a), [owned(), owned()])
            }
        };
        Hand { line: Line::of(&bench.setting.seed, &name), kinds }
    }

    fn kind(&self, a: u64, b: u64) -> &Owned {
        &self.kinds[usize::from(zero_inside(a) || zero_inside(b))]
    }

    /// What the set has of a tier, without and with a zero inside: its own, then the reserves.
    fn tier(&self, tier: Option<usize>) -> [Stretch; 2] {
        [0, 1].map(|kind| match tier {
            None => self.kinds[kind].own,
            Some(tier) => self.kinds[kind].reserves[tier],
        })
    }

    /// Whether the pair is in this tier and in no closer one.
    fn holds(&self, tier: Option<usize>, dealt: &Dealt) -> bool {
        let owned = self.kind(dealt.a, dealt.b);
        match tier {
            None => owned.own.holds(dealt.point),
            Some(tier) => {
                owned.reserves[tier].holds(dealt.point)
                    && owned.reserves[..tier].iter().all(|closer| !closer.holds(dealt.point))
            }
        }
    }

    /// Whether the set owns this pair without carries.
    fn holds_bare(&self, dealt: &Dealt) -> bool {
        self.kind(dealt.a, dealt.b).bare.is_some_and(|s| s.holds(dealt.point))
    }
}

/// A pair and where it lies on the line.
pub(super) struct Dealt {
    pub(super) a: u64,
    pub(super) b: u64,
    pub(super) point: u64,
}

/// Pairs that can all be looked at, spread over the line at equal distances in the order of their
/// points: each stretch then gets its fair number of them, however few they are. Those with a
/// zero inside are spread by themselves.
pub(super) fn spread(line: Line, mut pairs: Vec<(u64, u64)>) -> Vec<Dealt> {
    pairs.sort_by_key(|&(a, b)| (zero_inside(a) || zero_inside(b), line.point(a, b)));
    let zeros = pairs.partition_point(|&(a, b)| !(zero_inside(a) || zero_inside(b)));
    let all = pairs.len();
    let place = |(index, (a, b)): (usize, (u64, u64))| {
        let (rank, of) = if index < zeros { (index, zeros) } else { (index - zeros, all - zeros) };
        Dealt { a, b, point: deal::at_rank(rank, of) }
    };
    pairs.into_iter().enumerate().map(place).collect()
}

/// So many spread lists are kept at most: those of one class's term, a dozen or two.
const MOST_KEPT: usize = 64;

thread_local! {
    /// Lists that were spread before, by their lines: every set of a term is dealt from the same.
    static KEPT: RefCell<BTreeMap<u64, Rc<[Dealt]>>> = const { RefCell::new(BTreeMap::new()) };
}

/// [`spread`], done once for each line.
pub(super) fn spread_once(line: Line, pairs: impl FnOnce() -> Vec<(u64, u64)>) -> Rc<[Dealt]> {
    KEPT.with_borrow_mut(|kept| {
        if kept.len() >= MOST_KEPT && !kept.contains_key(&line.key()) {
            kept.clear();
        }
        kept.entry(line.key()).or_insert_with(|| spread(line, pairs()).into()).clone()
    })
}

/// Whether a digit between the first and the last is 0.
pub(super) fn zero_inside(n: u64) -> bool {
    let mut rest = n / 10;
    while rest >= 10 {
        if rest.is_multiple_of(10) {
            return true;
        }
        rest /= 10;
    }
    false
}

/// Classes with at most so many pairs are looked through whole.
const SMALL: u64 = 20_000;
/// Pairs of each kind looked at in a larger class before giving up.
const TRIES: u64 = 1_000;
/// Pairs to choose from for each sum, and at most for a set.
const CHOICE: usize = 12;
const MOST: usize = 100;

/// Pairs of the class that belong to this set and are `sound`, in the set's order: many more than
/// `count` where there are so many. Those of the reserve, taken only where its own are too few,
/// come last; the whole reserve, and at last all that the skill has, is opened only where there are
/// fewer than `least`.
pub(super) fn hand(
    bench: &Bench,
    size: Size,
    deck: Deck,
    (least, count): (usize, usize),
    sound: &dyn Fn(u64, u64) -> bool,
) -> Vec<(u64, u64)> {
    let hand = Hand::new(bench, size, deck);
    // A sum in a warm-up is looked at, not worked out.
    let on_paper = deck == Deck::Products && bench.request.spot != Spot::WarmUp;
    let met = |a, b| on_paper && bench.met.on_paper(a, b, bench.request.spot);
    let new = |a, b| sound(a, b) && !met(a, b);
    let mut stream = deal::stream(bench.request, &bench.setting.seed, &format!("{deck:?}"));
    let want = (count * CHOICE).clamp(count, MOST.max(count));
    let whole = whole_class(hand.line, size, deck);
    let order = Order::of(size, hand.line.key());
    let mut take = |want: usize, tier: Option<usize>, sound: &dyn Fn(u64, u64) -> bool| match &whole
    {
        Some(all) => {
            let fits = |d: &&Dealt| hand.holds(tier, d) && sound(d.a, d.b);
            let mut found: Vec<(u64, u64)> = all.iter().filter(fits).map(|d| (d.a, d.b)).collect();
            if tier.is_some_and(|tier| tier > 0) {
                // Sets that must share begin at different places.
                let begin = deal::beginning(bench.request) % found.len().max(1);
                found.rotate_left(begin);
            } else {
                stream.shuffle(&mut found);
            }
            found.truncate(want);
            found
        }
        None => look(order, hand.tier(tier), want, &mut stream, &|d| {
            hand.holds(tier, d) && !bare(d.a, d.b) && sound(d.a, d.b)
        }),
    };
    let mut found = take(want, None, &new);
    let effort = |&(a, b): &(u64, u64)| {
        let looks = Looks::of(a, b);
        (looks.carries + looks.adding, looks.big_facts)
    };
    // Support takes the lightest first, core leaves them for last.
    if bench.request.spot == Spot::Support {
        found.sort_by_cached_key(effort);
    } else if bench.request.spot == Spot::Core && bench.request.part > 1 {
        found.sort_by_cached_key(effort);
        let quarter = found.len() / 4;
        found.rotate_left(quarter);
    }
    for (tier, enough) in [(0, count), (1, least), (2, least)] {
        if found.len() < enough {
            let more = enough * 2 - found.len();
            found.extend(take(more, Some(tier), &new));
        }
    }
    if found.len() < least {
        // Rather a product again than none.
        let again = take(least - found.len(), Some(2), &|a, b| sound(a, b) && met(a, b));
        found.extend(again);
    }
    turn_some(size, &mut found, &mut stream);
    found
}

/// Whether a class is looked through whole.
fn is_small(size: Size) -> bool {
    let ((low, high), (least, most)) = (Size::range(size.a), Size::range(size.b));
    (high - low + 1) * (most - least + 1) <= SMALL
}

/// All pairs of a class with carries that are decent, spread over its line, where there are not
/// too many.
fn whole_class(line: Line, size: Size, deck: Deck) -> Option<Rc<[Dealt]>> {
    let pairs = || {
        let ((low, high), (least, most)) = (Size::range(size.a), Size::range(size.b));
        let fits = |&(a, b): &(u64, u64)| {
            once(size, a, b) && (deck == Deck::Rows || !bare(a, b)) && decent(a, b)
        };
        (low..=high).flat_map(|a| (least..=most).map(move |b| (a, b))).filter(fits).collect()
    };
    is_small(size).then(|| spread_once(line, pairs))
}

/// Where products lie on the line of their class; none for a product that is not dealt out.
fn points(line: Line, size: Size) -> impl Fn(u64, u64) -> Option<u64> {
    let (all, order) = (whole_class(line, size, Deck::Products), Order::of(size, line.key()));
    move |a, b| {
        let Some(all) = &all else { return Some(order.point(a, b)) };
        let place = |a, b| (zero_inside(a) || zero_inside(b), line.point(a, b));
        let at = all.binary_search_by_key(&place(a, b), |d| place(d.a, d.b)).ok()?;
        Some(all[at].point)
    }
}

/// In a square class each unordered pair stands once.
fn once(size: Size, a: u64, b: u64) -> bool {
    size.a != size.b || a > b
}

/// Turns about half of the pairs of a square class round.
fn turn_some(size: Size, pairs: &mut [(u64, u64)], stream: &mut Stream) {
    if size.a == size.b {
        for pair in pairs {
            if stream.chance(1, 2) {
                *pair = (pair.1, pair.0);
            }
        }
    }
}

/// Numbers of so many digits, none above 4, in order.
fn low_digits(count: u32) -> Vec<u64> {
    let longer = |numbers: Vec<u64>, _| {
        numbers.iter().flat_map(|n| (0..=4).map(move |d| n * 10 + d)).collect()
    };
    let all = (1..count).fold((1..=4).collect(), longer);
    all.into_iter().filter(|n| *n >= Size::range(count).0).collect()
}

/// Fewer pairs without carries than this are given out place by place.
const FEW: usize = 100;

/// A pair without carries, in its rows and in the adding, which the first part's sets alone own.
/// Where there are too few for every set of a lesson, sets begin at different places; other
/// occasions do without.
pub(super) fn bare_pair(
    bench: &Bench,
    size: Size,
    sound: &dyn Fn(u64, u64) -> bool,
) -> Option<(u64, u64)> {
    let hand = Hand::new(bench, size, Deck::Products);
    let (tops, sides) = (low_digits(size.a), low_digits(size.b));
    let with_largest = |n: &u64| (*n, largest_digit(*n));
    let sides: Vec<(u64, u8)> = sides.iter().map(with_largest).collect();
    let pairs = tops.iter().map(with_largest).flat_map(|(a, most)| {
        let bare = move |(_, other): &&(u64, u8)| most * other <= 9;
        sides.iter().filter(bare).map(move |(b, _)| (a, *b))
    });
    let fit = |&(a, b): &(u64, u64)| once(size, a, b) && sound(a, b);
    let mut all: Vec<(u64, u64)> = pairs.filter(fit).collect();
    let smooth = |&&(a, b): &&(u64, u64)| Looks::of(a, b).adding == 0;
    // Long numbers without a carry anywhere hardly exist.
    if all.iter().filter(smooth).count() >= 4 {
        all.retain(|pair| smooth(&pair));
    }
    let all = spread(hand.line, all);
    let new = |&(a, b): &(u64, u64)| !bench.met.on_paper(a, b, bench.request.spot);
    let mut own: Vec<&Dealt> = all.iter().filter(|d| hand.holds_bare(d)).collect();
    deal::stream(bench.request, &bench.setting.seed, "bare").shuffle(&mut own);
    let lesson = hand.kinds.iter().any(|kind| kind.bare.is_some());
    if own.is_empty() || all.len() < FEW {
        // Too few to be dealt out by weight: each set of a lesson has a place of its own.
        let makers: Vec<&str> =
            RECIPES.iter().filter(|r| r.size() == size).map(|r| r.name).collect();
        let at = makers.iter().position(|n| *n == bench.maker).unwrap_or(0);
        let slot = deal::bare_slot(bench.request, (at, makers.len().max(1)));
        let from_slot = all.iter().cycle().skip(slot % all.len().max(1)).take(all.len());
        return from_slot.filter(|_| lesson).map(|d| (d.a, d.b)).find(new);
    }
    own.iter().map(|d| (d.a, d.b)).find(new)
}

/// Pairs that are not dealt out: nobody multiplies them, they are only looked at.
pub(super) fn loose(
    bench: &Bench,
    size: Size,
    count: usize,
    sound: &dyn Fn(u64, u64) -> bool,
) -> Vec<(u64, u64)> {
    let mut stream = deal::stream(bench.request, &bench.setting.seed, "loose");
    let ((low, high), (least, most)) = (Size::range(size.a), Size::range(size.b));
    let mut found = Vec::new();
    for _ in 0..count * 200 {
        let (a, b) = (stream.number(low..=high), stream.number(least..=most));
        if sound(a, b) && !bare(a, b) {
            found.push((a, b));
        }
        if found.len() >= count {
            break;
        }
    }
    found
}

/// Pairs of a large class from what a set has of it without and with a zero inside, one for each
/// multiplicand, from a random place on.
fn look(
    order: Order,
    stretches: [Stretch; 2],
    want: usize,
    stream: &mut Stream,
    wanted: &dyn Fn(&Dealt) -> bool,
) -> Vec<(u64, u64)> {
    let ranks = stretches.map(|stretch| order.ranks(stretch));
    let starts = ranks.clone().map(|r| stream.number(0..=(r.end - r.start).max(1) - 1));
    let mut met = BTreeSet::new();
    let mut found = Vec::new();
    for step in 0..TRIES {
        for (kind, (ranks, start)) in ranks.iter().zip(starts).enumerate() {
            let length = ranks.end - ranks.start;
            if step >= length || found.len() >= want {
                continue;
            }
            let rank = ranks.start + (start + step) % length;
            let (a, b) = order.pair(rank);
            let zero = zero_inside(a) || zero_inside(b);
            let new = usize::from(zero) == kind && !met.contains(&a);
            if new && wanted(&Dealt { a, b, point: order.point_at(rank) }) {
                met.insert(a);
                found.push((a, b));
            }
        }
    }
    found
}

/// Multipliers of this size with the digit in its place, for a row of a × it.
pub(super) struct RowBases {
    row: (u64, u64),
    place: u64,
    /// All of them.
    all: Vec<u64>,
    /// Those that nobody is asked to multiply out, worked out where they are wanted.
    apart: Box<dyn Fn(u64) -> bool>,
}

impl RowBases {
    /// Whether there is one that nobody is asked to multiply out.
    pub(super) fn are_apart(&self) -> bool {
        self.all.iter().any(|b| (self.apart)(*b))
    }

    /// One of them, if there is one that nobody is asked to multiply out.
    pub(super) fn one(&self, bench: &Bench) -> u64 {
        let (a, digit) = self.row;
        let apart: Vec<u64> = self.all.iter().copied().filter(|b| (self.apart)(*b)).collect();
        let what = format!("row base {a} {digit}");
        let mut stream = deal::stream(bench.request, &bench.setting.seed, &what);
        let any = (stream.one_of(&apart), stream.one_of(&self.all));
        any.0.or(any.1).copied().unwrap_or(digit * self.place)
    }
}

/// The multipliers for a row of a × the digit in its place.
pub(super) fn row_bases(
    bench: &Bench,
    (a, digit): (u64, u64),
    place: u64,
    size: Size,
    inner_zero: bool,
) -> RowBases {
    let users = users(size, inner_zero || zero_inside(a));
    let rows = deal::rows_share(skill_stretch(bench, users));
    let line = Line::of(&bench.setting.seed, &format!("{}x{}", size.a, size.b));
    let (least, most) = Size::range(size.b);
    let fits = |b: &u64| {
        let d = digits(*b);
        let others = d.iter().enumerate().filter(|&(i, _)| ten_to(i) != place);
        let fine = |(i, &x): (usize, &u8)| match (i, inner_zero) {
            (1, true) => x == 0,
            _ => x >= 2 && u64::from(x) != digit,
        };
        others.clone().all(fine) && varied(&d) && *b != a
    };
    // The digits above it and below it run on, the digit stays.
    let with_digit = |above: u64| (0..place).map(move |below| (above * 10 + digit) * place + below);
    let all = (0..=most / (place * 10)).flat_map(with_digit);
    let all: Vec<u64> = all.filter(|b| (least..=most).contains(b)).filter(fits).collect();
    let points = points(line, size);
    let apart = move |b: u64| points(a, b).is_some_and(|point| rows.holds(point));
    RowBases { row: (a, digit), place, all, apart: Box::new(apart) }
}
