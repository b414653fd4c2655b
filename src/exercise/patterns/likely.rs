//! Wrong answers to expect, likeliest first, for keys and teachers' pages.
//!
//! The order is that of the lists below: what belongs to the method as the class writes it, zeros
//! before carries where there are zeros (common practice, no source; nobody has counted them for
//! single sums). Numbers of different length are taken with the longer one on top, as the class
//! writes them; of equal length both ways round, the usual one first.

use super::working::Detail;
use super::{Family, Pattern, Task, WrongAnswer, catalogue, house, pattern};
use crate::exercise::Likely;
use crate::method::{HouseStyle, RouteKind, Written};
use crate::number::digit_count;
use indexmap::IndexMap;
use std::collections::BTreeMap;
use std::sync::LazyLock;

const LONG_FIRST: &[&str] = &[
    "placeholder-left-out",
    "row-after-zero-closed-up",
    "hundreds-row-shifted-once",
    "zero-row-copied",
    "zero-swallows-carry",
    "inner-zero-skipped",
    "carry-not-added",
    "adding-carries-lost",
    "only-like-places",
    "one-zero-short",
    "one-zero-too-many",
    "ones-copied",
    "last-carry-lost",
    "carry-added-before-multiplying",
    "carry-and-digit-swapped",
    "products-written-in-full",
];

const GRID: &[&str] = &[
    "largest-part-zero-lost",
    "only-like-places",
    "ones-by-leading-left-out",
    "leading-by-ones-left-out",
    "tens-lost-their-zero",
    "adding-carries-lost",
    "one-zero-short",
    "one-zero-too-many",
    "ones-copied",
    "only-ones-multiplied",
    "facts-one-step-up",
    "facts-one-step-down",
    "added-instead",
];

const LATTICE: &[&str] = &[
    "adding-carries-lost",
    "facts-one-step-up",
    "facts-one-step-down",
    "one-zero-short",
    "one-zero-too-many",
    "added-instead",
];

/// The patterns a written method can show, likeliest first.
fn of_method(method: Written) -> Vec<&'static Pattern> {
    let named = |names: &[&str]| names.iter().filter_map(|n| pattern(n)).collect::<Vec<_>>();
    match method {
        Written::Grid => named(GRID),
        Written::Lattice => named(LATTICE),
        Written::Long => {
            let mut found = named(LONG_FIRST);
            let rest = catalogue().iter().filter(|p| {
                matches!(p.family, Family::Row | Family::Long | Family::Zeros)
                    && !LONG_FIRST.contains(&p.name)
                    && !p.name.ends_with("-left-out")
                    && p.name != "largest-part-zero-lost"
            });
            found.extend(rest);
            found.extend(pattern("added-instead"));
            found
        }
    }
}

/// Whether a pattern may show in a whole product written by this method. A class that writes rows
/// has mostly met the grid before, so nothing is left out there.
pub fn shows_in(pattern: &Pattern, method: Written) -> bool {
    let fact = matches!(pattern.family, Family::Fact | Family::SingleFact);
    match method {
        Written::Long => !matches!(pattern.family, Family::Mental | Family::Estimate),
        Written::Grid => fact || GRID.contains(&pattern.name),
        Written::Lattice => fact || LATTICE.contains(&pattern.name),
    }
}

/// Where each pattern stands in the catalogue.
static PLACES: LazyLock<BTreeMap<&str, usize>> =
    LazyLock::new(|| catalogue().iter().enumerate().map(|(at, p)| (p.name, at)).collect());

/// Wrong answers collected likeliest first: what each shows is its likeliest pattern's.
#[derive(Default)]
struct Collected(IndexMap<u64, (&'static str, Vec<&'static str>)>);

impl Collected {
    fn add(&mut self, pattern: &'static Pattern, short: &'static str, answer: u64) {
        let (_, names) = self.0.entry(answer).or_insert((short, Vec::new()));
        if !names.contains(&pattern.name) {
            names.push(pattern.name);
        }
    }
    fn likely(self) -> Vec<Likely> {
        let likely = self.0.into_iter().map(|(answer, (short, mut names))| {
            names.sort_by_key(|name| PLACES.get(name));
            Likely {
                answer: answer.to_string(),
                patterns: names.into_iter().map(str::to_owned).collect(),
                shows: short.to_owned(),
            }
        });
        likely.collect()
    }
}

/// The wrong answers a class that writes like this may give to the whole product a × b, likeliest
/// first, with what each shows; none equals the right answer.
pub fn likely_written(a: u64, b: u64, method: Written, style: &HouseStyle) -> Vec<Likely> {
    let mut found = Collected::default();
    let turns: &[bool] = if digit_count(a) == digit_count(b) { &[false, true] } else { &[false] };
    let attempts: Vec<_> = of_method(method)
        .into_iter()
        .map(|p| (p, p.tries_of(turns, a, b, Detail::Answer)))
        .collect();
    for &turned in turns {
        for (pattern, attempts) in &attempts {
            let here = attempts.iter().filter(|t| t.turned == turned);
            for t in here.filter(|t| house::fits(pattern, &t.working, method, style)) {
                found.add(pattern, pattern.short, t.working.value());
            }
        }
    }
    found.likely()
}

/// The same without what each shows.
pub fn likely_wrong(a: u64, b: u64, method: Written, style: &HouseStyle) -> Vec<WrongAnswer> {
    let likely = likely_written(a, b, method, style).into_iter();
    likely.map(|l| WrongAnswer { answer: l.answer, patterns: l.patterns }).collect()
}

/// The wrong answers to the sum of the rows of a × b, which are printed and right.
pub fn likely_wrong_adding(a: u64, b: u64) -> Vec<Likely> {
    let (a, b) = crate::method::ordered(a, b);
    let mut found = Collected::default();
    for prediction in Task::Adding(a, b).predictions() {
        for (answer, _) in prediction.answers {
            found.add(prediction.pattern, prediction.pattern.short, answer);
        }
    }
    found.likely()
}

/// The wrong answers to one row, multiplicand × digit × place in full value, likeliest first.
pub fn likely_wrong_row(a: u64, digit: u8, place: u64, style: &HouseStyle) -> Vec<Likely> {
    let _ = style; // rows go wrong alike in every house style
    let task = Task::Row { a, digit, place };
    let mut found = Collected::default();
    for pattern in of_method(Written::Long) {
        let short = match pattern.name {
            "hundreds-row-shifted-once" => "one zero only",
            "later-rows-extra-zero" => "one zero too many",
            _ => pattern.short,
        };
        for (answer, _) in task.answers(pattern) {
            found.add(pattern, short, answer);
        }
    }
    found.likely()
}

/// The mental patterns that belong to a route, likeliest first.
fn of_route(route: RouteKind) -> &'static [&'static str] {
    match route {
        RouteKind::Fact => &["table-neighbour", "same-tens-digit", "added-instead"],
        RouteKind::Shift => &[
            "zero-of-the-fact-counted",
            "one-zero-short",
            "one-zero-too-many",
            "zeros-of-one-number-only",
        ],
        RouteKind::Splitting => {
            &["ones-copied", "tens-lost-their-zero", "only-like-places", "parts-multiplied"]
        }
        RouteKind::Adjusting => &[
            "adjusted-by-the-difference",
            "adjusted-the-wrong-way",
            "adjusting-forgotten",
            "adjusted-once-only",
            "difference-the-wrong-way",
            "adjusted-as-in-adding",
        ],
        RouteKind::DoublingHalving => &["doubled-not-halved", "both-doubled"],
        RouteKind::Parts => &[
            "not-halved-or-quartered",
            "quarter-taken-as-half",
            "doubled-instead-of-halved",
            "odd-half-dropped",
        ],
        RouteKind::Factors => &["factors-added", "parts-multiplied"],
        RouteKind::Doubling => &["factors-added"],
    }
}

/// The kind of route a mental pattern spoils; `None` for patterns of other work.
pub(super) fn route_of(pattern: &Pattern) -> Option<RouteKind> {
    use RouteKind::{Adjusting, DoublingHalving, Factors, Parts, Shift, Splitting};
    let kinds = [Splitting, Adjusting, DoublingHalving, Parts, Factors, Shift];
    kinds.into_iter().find(|kind| of_route(*kind).contains(&pattern.name))
}

/// The wrong answers to a × b in the head by this route, likeliest first: the route's own, then
/// those about zeros.
pub fn likely_wrong_mental(a: u64, b: u64, route: RouteKind) -> Vec<Likely> {
    let task = Task::Mental(a, b);
    let names = of_route(route).iter().chain(of_route(RouteKind::Shift));
    let mut found = Collected::default();
    for pattern in names.filter_map(|name| pattern(name)) {
        let answers = match route {
            RouteKind::Adjusting if pattern.family == Family::Mental => task.usual_answers(pattern),
            _ => task.answers(pattern).into_iter().map(|(answer, _)| answer).collect(),
        };
        for answer in answers {
            found.add(pattern, pattern.short, answer);
        }
    }
    found.likely()
}

/// The wrong answers to "about how large is a × b", likeliest first. Some may lie close enough to
/// be accepted: an item's own band decides.
pub fn likely_wrong_estimate(a: u64, b: u64) -> Vec<Likely> {
    let task = Task::Estimate(a, b);
    let mut found = Collected::default();
    for pattern in catalogue().iter().filter(|p| p.family == Family::Estimate) {
        for (answer, _) in task.answers(pattern) {
            found.add(pattern, pattern.short, answer);
        }
    }
    found.likely()
}
