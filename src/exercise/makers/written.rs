//! Skills done on paper: short and long multiplication, the grid, the lattice, zeros inside.
//!
//! A recipe says how large a skill's numbers are and what they show, part by part; the set takes
//! from its hand the first pair that shows what is asked for at each place.

use super::classes::{Deck, Size, bare_pair, hand, zero_inside};
use super::fading::faded;
use super::lists::for_the_head;
use super::looks::{Looks, NO_CARRIES, Show, Zeros, on_paper, sound};
use super::{Bench, Spot, head, mixed_in, rows, stretch};
use crate::exercise::patterns::{Task, choose_after, likely_written};
use crate::exercise::{Given, Item};
use crate::method::Written;
use indexmap::IndexSet;

/// What a written skill's numbers are.
pub(super) struct Recipe {
    pub(super) name: &'static str,
    /// The sizes in turn, the commonest first and most often.
    pub(super) sizes: &'static [Size],
    /// Zeros inside.
    pub(super) zeros: Zeros,
    /// The method.
    pub(super) method: Written,
    /// Whether its method is met here for the first time.
    new: bool,
    /// What the sums of the first part show, in order, again and again from the last two.
    first: &'static [Show],
    /// The same for later parts.
    later: &'static [Show],
}

use Show::{Adding, Carries, FewCarries, High, IntoZero, Shorter, ZeroInA, ZeroInB, ZeroInBoth};

/// The recipes of all written skills.
pub(super) const RECIPES: &[Recipe] = &[
    Recipe {
        name: "short-two-by-one",
        sizes: &[Size::of(2, 1)],
        zeros: Zeros::Never,
        method: Written::Long,
        new: true,
        first: &[FewCarries, Carries, Carries],
        later: &[Carries, High, Shorter, High],
    },
    Recipe {
        name: "short-three-by-one",
        sizes: &[Size::of(3, 1)],
        zeros: Zeros::Never,
        method: Written::Long,
        new: false,
        first: &[FewCarries, Carries, Carries, High],
        later: &[Carries, High, Shorter, High],
    },
    Recipe {
        name: "short-four-by-one",
        sizes: &[Size::of(4, 1)],
        zeros: Zeros::Some,
        method: Written::Long,
        new: false,
        first: &[Carries, High, IntoZero, Carries, High],
        later: &[High, IntoZero, Shorter, High],
    },
    Recipe {
        name: "zeros-in-multiplicand",
        sizes: &[Size::of(3, 1), Size::of(4, 1)],
        zeros: Zeros::InA,
        method: Written::Long,
        new: false,
        first: &[ZeroInA, IntoZero, IntoZero],
        later: &[IntoZero, IntoZero, ZeroInA],
    },
    Recipe {
        name: "zeros-at-the-ends",
        sizes: &[Size::of(2, 1)],
        zeros: Zeros::AtEnds,
        method: Written::Long,
        new: false,
        first: &[Carries],
        later: &[Carries],
    },
    Recipe {
        name: "grid-two-by-two",
        sizes: &[Size::of(2, 2)],
        zeros: Zeros::Never,
        method: Written::Grid,
        new: true,
        first: &[FewCarries, Adding, Carries],
        later: &[Carries, High, Adding],
    },
    Recipe {
        name: "lattice",
        sizes: &[Size::of(2, 2), Size::of(3, 2), Size::of(3, 2)],
        zeros: Zeros::Never,
        method: Written::Lattice,
        new: true,
        first: &[FewCarries, Adding, Carries],
        later: &[Carries, High, Adding],
    },
    Recipe {
        name: "long-two-by-two",
        sizes: &[Size::of(2, 2)],
        zeros: Zeros::Never,
        method: Written::Long,
        new: true,
        first: &[FewCarries, Carries, Carries],
        later: &[Carries, High, Adding, Shorter],
    },
    Recipe {
        name: "long-three-by-two",
        sizes: &[Size::of(3, 2)],
        zeros: Zeros::Never,
        method: Written::Long,
        new: false,
        first: &[FewCarries, Carries, Adding, Carries],
        later: &[Carries, High, Adding, Shorter],
    },
    Recipe {
        name: "long-four-by-two",
        sizes: &[Size::of(4, 2)],
        zeros: Zeros::Some,
        method: Written::Long,
        new: false,
        first: &[Carries, Adding, IntoZero, High],
        later: &[High, IntoZero, Adding, Shorter],
    },
    Recipe {
        name: "long-three-by-three",
        sizes: &[Size::of(3, 3)],
        zeros: Zeros::Never,
        method: Written::Long,
        new: false,
        first: &[FewCarries, Carries, Adding, High],
        later: &[High, Adding, Carries, Shorter],
    },
    Recipe {
        name: "zeros-in-multiplier",
        sizes: &[Size::of(3, 3)],
        zeros: Zeros::InB,
        method: Written::Long,
        new: false,
        first: &[ZeroInB, ZeroInB, ZeroInBoth],
        later: &[ZeroInB, ZeroInBoth, ZeroInB],
    },
    Recipe {
        name: "long-four-by-three",
        sizes: &[Size::of(4, 3)],
        zeros: Zeros::Some,
        method: Written::Long,
        new: false,
        first: &[Carries, Adding, IntoZero, High],
        later: &[High, IntoZero, Adding, Shorter],
    },
];

/// The written method by which a maker multiplies by several digits; none for other makers.
pub fn method_of(maker: &str) -> Option<Written> {
    let several = |r: &&Recipe| r.name == maker && r.sizes.iter().all(|size| size.b > 1);
    RECIPES.iter().find(several).map(|r| r.method)
}

/// The recipe of a skill.
pub(super) fn recipe(name: &str) -> &'static Recipe {
    RECIPES.iter().find(|r| r.name == name).unwrap_or(&RECIPES[0])
}

impl Recipe {
    /// The commonest size.
    pub(super) fn size(&self) -> Size {
        self.sizes[0]
    }
}

/// A pair of factors with what it shows.
pub(super) struct Sum {
    /// The factors, in the order printed.
    pub(super) pair: (u64, u64),
    /// What it shows, for the teacher.
    pub(super) words: &'static str,
}

/// So many sums for this set: the teacher's own first, then ours, in the order of the recipe.
pub(super) fn sums(bench: &Bench, recipe: &Recipe, count: usize) -> Vec<Sum> {
    let own = bench.request.own.iter().take(count).map(|&pair| Sum { pair, words: "" });
    let mut sums: Vec<Sum> = own.collect();
    let paper = recipe.method == Written::Long && recipe.zeros != Zeros::InA;
    let fit = |a, b| sound(a, b, recipe.zeros) && !for_the_head(a, b) && (!paper || on_paper(a, b));
    if sums.is_empty() && begins_bare(bench, recipe) {
        // A zero inside waits until it is the point.
        let early = |a, b| fit(a, b) && !(recipe.zeros == Zeros::Some && zero_inside(a));
        let first = bare_pair(bench, recipe.size(), &early);
        let bare =
            |pair: (u64, u64)| Sum { pair, words: Show::Bare.words(&Looks::of(pair.0, pair.1)) };
        sums.extend(first.map(bare));
    }
    let before = sums.len();
    let shows = shows(bench, recipe);
    let sizes = match (bench.request.spot, recipe.method) {
        // Support keeps to the size of the first lattices.
        (Spot::Support, Written::Lattice) => &recipe.sizes[..1],
        _ => recipe.sizes,
    };
    let mut hands: Vec<SeenHand> = Vec::new();
    for &size in sizes {
        if hands.iter().all(|h| h.size != size) {
            let least = bench.request.least.div_ceil(sizes.len());
            let pairs = hand(bench, size, Deck::Products, (least, count), &fit);
            let pairs = pairs.into_iter().map(|p| (p, Looks::of(p.0, p.1))).collect();
            hands.push(SeenHand { size, pairs });
        }
    }
    for index in sums.len()..count {
        let size = sizes[index % sizes.len()];
        let Some(sum) = take(&mut hands, size, nth_show(&shows, index - before)) else { break };
        // No number twice in a set, as long as there are others.
        for hand in &mut hands {
            let other = |((a, _), _): &((u64, u64), Looks)| *a != sum.pair.0 && *a != sum.pair.1;
            if hand.pairs.iter().filter(|p| other(p)).count() >= count - index {
                hand.pairs.retain(other);
            }
        }
        sums.push(sum);
    }
    if recipe.method != Written::Long {
        // Carries belong to the column method.
        sums.iter_mut().filter(|s| s.words != NO_CARRIES).for_each(|s| s.words = "");
    }
    sums
}

/// What the sums of the set show, in order. Support begins with a carry or two and leaves the high
/// facts to the others.
fn shows(bench: &Bench, recipe: &Recipe) -> Vec<Show> {
    let easy = bench.request.spot == Spot::Support && recipe.zeros == Zeros::Never;
    match bench.request.part {
        _ if easy => vec![FewCarries, FewCarries, Carries],
        ..=1 => recipe.first.to_vec(),
        _ => recipe.later.to_vec(),
    }
}

/// The first sums of a first part have no carries: in practice always, and in examples and
/// together where the method is new. Checks need the carries.
fn begins_bare(bench: &Bench, recipe: &Recipe) -> bool {
    bench.request.part <= 1
        && match bench.request.spot {
            Spot::Support | Spot::Core => true,
            Spot::Example | Spot::Guided => recipe.new,
            _ => false,
        }
}

/// The list in order, then its last two again and again.
fn nth_show(shows: &[Show], index: usize) -> Show {
    let last = shows.len() - 1;
    if index <= last { shows[index] } else { shows[last - (index - last) % 2] }
}

/// A hand of one size, with what each pair shows.
struct SeenHand {
    size: Size,
    pairs: Vec<((u64, u64), Looks)>,
}

/// Takes the first pair that shows it, else the first of all, from the hand of this size; when
/// that is empty, from another. A pair without carries is taken only where it is asked for.
fn take(hands: &mut [SeenHand], size: Size, show: Show) -> Option<Sum> {
    let full = |h: &SeenHand| h.pairs.iter().any(|(_, looks)| !looks.bare);
    let at = hands
        .iter()
        .position(|h| h.size == size && full(h))
        .or_else(|| hands.iter().position(full))?;
    let pairs = &mut hands[at].pairs;
    let fitting = pairs.iter().position(|(_, looks)| show.fits(looks));
    let index = fitting.or_else(|| pairs.iter().position(|(_, looks)| !looks.bare))?;
    let (pair, looks) = pairs.remove(index);
    Some(Sum { pair, words: if fitting.is_some() { show.words(&looks) } else { "" } })
}

/// A set of a written skill.
pub(super) fn make(bench: &Bench) -> Vec<Item> {
    let recipe = recipe(bench.maker);
    let request = bench.request;
    let count = request.most.max(request.least);
    match request.spot {
        Spot::WarmUp => rows::warm_up(bench, recipe),
        Spot::Example => bench.fit(each(bench, recipe, count, |_| Given::All, false)),
        Spot::Guided => bench.fit(faded(bench, recipe, count)),
        Spot::Support => bench.fit(faded(bench, recipe, count)),
        Spot::Core => bench.fit(core(bench, recipe, count)),
        Spot::Stretch => stretch::written(bench, recipe),
        Spot::ExitCheck => rows::exit_check(bench, recipe),
        Spot::Homework | Spot::Test => {
            bench.fit(each(bench, recipe, count, |_| Given::Nothing, false))
        }
    }
}

/// Zeros at the ends are covered, the smaller product worked out and the places given back: rows
/// of noughts would teach another way. Warm-ups are products of round parts.
pub(super) fn at_the_ends(bench: &Bench) -> Vec<Item> {
    match bench.request.spot {
        Spot::WarmUp => rows::warm_up(bench, recipe(bench.maker)),
        _ => head::make(bench),
    }
}

fn each(
    bench: &Bench,
    recipe: &Recipe,
    count: usize,
    given: impl Fn(usize) -> Given,
    estimate: bool,
) -> impl Iterator<Item = Item> {
    let item = move |(index, sum): (usize, Sum)| {
        let mut item = bench.written(sum.pair, recipe.method, given(index), estimate);
        sum.words.clone_into(&mut item.purpose);
        item
    };
    sums(bench, recipe, count).into_iter().enumerate().map(item)
}

/// Blank squares with a line for the estimate; other questions come in between.
fn core(bench: &Bench, recipe: &Recipe, count: usize) -> impl Iterator<Item = Item> {
    let sums = sums(bench, recipe, count);
    sums.into_iter().enumerate().map(move |(index, sum)| {
        if let Some(item) = mixed_in::in_core(bench, recipe, index, count, sum.pair) {
            return item;
        }
        let mut item = bench.written(sum.pair, recipe.method, Given::Nothing, true);
        sum.words.clone_into(&mut item.purpose);
        item
    })
}

/// The pairs of these on which mistakes tell best which they are, the teacher's own first.
pub(super) fn best_spread(bench: &Bench, sums: Vec<Sum>, wanted: usize) -> Vec<(u64, u64)> {
    let own = bench.request.own.len().min(wanted);
    let mut pairs: Vec<(u64, u64)> = sums.into_iter().map(|s| s.pair).collect();
    let mut ours = pairs.split_off(own.min(pairs.len()));
    // Facts of 6 and more bring out mistakes that small ones hide.
    let telling = |&(a, b): &(u64, u64)| Looks::of(a, b).big_facts > 0;
    if ours.iter().filter(|p| telling(p)).count() >= wanted {
        ours.retain(telling);
    }
    let method = recipe(bench.maker).method;
    let likely = ours
        .iter()
        .take(NAMED)
        .flat_map(|&(a, b)| likely_written(a, b, method, &bench.setting.style));
    let names: IndexSet<String> = likely.flat_map(|likely| likely.patterns).collect();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    let pool: Vec<Task> = ours.iter().map(|&(a, b)| Task::Written(a, b)).collect();
    let asked = bench.met.checked(bench.request.skill);
    let chosen = choose_after(asked, &pool, &names, wanted.saturating_sub(own));
    pairs.extend(chosen.into_iter().map(|index| ours[index]));
    pairs
}

/// Pairs whose likely mistakes are the ones to tell apart.
const NAMED: usize = 3;

/// The teacher's own pairs, then dealt ones of this size, so many in all.
pub(super) fn own_or(bench: &Bench, size: Size, zeros: Zeros, wanted: usize) -> Vec<(u64, u64)> {
    let own = bench.request.own.iter().copied();
    let fit = |a, b| sound(a, b, zeros) && !for_the_head(a, b);
    let least = bench.request.least.min(wanted);
    let dealt = hand(bench, size, Deck::Products, (least, wanted), &fit);
    own.chain(dealt).take(wanted).collect()
}
