//! Mental routes to a product, each with its cost in hundredths of a mental step.
//!
//! A route is found by trying every rule of the trade both ways round; which one is natural for a
//! pair of numbers follows from the costs in [`CostModel`].

mod cost;
mod search;

pub use cost::CostModel;

use super::HouseStyle;
use arrayvec::ArrayVec;
use serde::{Deserialize, Serialize};
use std::cell::RefCell;
use std::collections::BTreeMap;

/// What kind of route it is, by the trade's name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum RouteKind {
    /// A fact of the tables.
    Fact,
    /// Place-value shift: × 10, × 100, × 1000 and a fact times tens.
    Shift,
    /// Splitting into tens and ones (the distributive law).
    Splitting,
    /// Rounding and adjusting: × 29 as × 30 less × 1.
    Adjusting,
    /// Doubling one factor and halving the other.
    DoublingHalving,
    /// × 5, 50, 25, 125 as a half, quarter or eighth of × 10, 100, 1000.
    Parts,
    /// Splitting into factors: × 12 as × 3 × 4.
    Factors,
    /// Doubling, and doubling again: × 2, × 4, × 8, × 16.
    Doubling,
}

/// One line of a route: what is worked out and why.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RouteStep {
    /// The expression after the = sign, integers with × + − ÷ in ASCII (`* + - //`).
    pub expression: String,
    /// What it comes to.
    pub value: u64,
    /// Why, in a pupil's words, numbers and signs in ASCII; may be empty.
    pub reason: String,
}

/// One mental route to a product.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Route {
    /// What kind of route.
    pub name: RouteKind,
    /// Its cost, hundredths of a mental step.
    pub cost: u32,
    /// Its lines, the first the route itself, the last the product.
    pub steps: Vec<RouteStep>,
    /// The product.
    pub value: u64,
    /// The sum it is a route to, in ASCII: `36*199`.
    #[serde(default)]
    pub sum: String,
    /// The route in a few letters, ASCII: `4*200 less 4`.
    #[serde(default)]
    pub label: String,
    /// Rounding down and adding on is the same sum as splitting (24 × 101 is 24 × 100 + 24):
    /// where this holds, the route goes by the second name as well.
    #[serde(default)]
    pub adjusts: bool,
}

/// A line of a route as printed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ChainLine {
    /// The sum on the first line ("36 × 199"), empty on the others.
    pub left: String,
    /// "= 36 × 200 − 36": the equals signs stand under each other.
    pub right: String,
    /// Why; may be empty.
    pub reason: String,
}

impl Route {
    /// Whether the route goes by this name.
    pub fn is(&self, kind: RouteKind) -> bool {
        self.name == kind || (kind == RouteKind::Adjusting && self.adjusts)
    }
    /// The route in a few letters for the teacher's page: "4 × 200 less 4".
    pub fn short(&self, style: &HouseStyle) -> String {
        style.typeset(&self.label)
    }
    /// The route line by line, for a worked example.
    pub fn chain(&self, style: &HouseStyle) -> Vec<ChainLine> {
        let line = |(index, step): (usize, &RouteStep)| ChainLine {
            left: if index == 0 { style.typeset(&self.sum) } else { String::new() },
            right: format!("=\u{A0}{}", style.typeset(&step.expression)),
            reason: style.typeset(&step.reason),
        };
        self.steps.iter().enumerate().map(line).collect()
    }
}

/// All routes to a × b that the cost model knows, cheapest first.
pub fn routes(a: u64, b: u64) -> Vec<Route> {
    routes_by(&CostModel::default(), a, b)
}

/// The same with other weights.
pub fn routes_by(model: &CostModel, a: u64, b: u64) -> Vec<Route> {
    search::search(model, a, b)
}

/// The cheapest route to a × b of one of these kinds, else the cheapest of all; none where no rule
/// applies.
pub fn route_of(a: u64, b: u64, kinds: &[RouteKind]) -> Option<Route> {
    search::first(&CostModel::default(), a, b, |priced| kinds.iter().any(|kind| priced.is(*kind)))
}

/// The kind and the cost of the cheapest route to a × b, in hundredths of a step; none where no
/// rule applies.
pub fn cheapest(a: u64, b: u64) -> Option<(RouteKind, u32)> {
    Costs::known(a, b).map(|costs| (costs.first, costs.cost))
}

/// Whether the cheapest route to a × b is of this kind, and every route of another kind costs at
/// least `margin` per cent more.
pub fn natural(a: u64, b: u64, kind: RouteKind, margin: u32) -> bool {
    Costs::known(a, b).is_some_and(|costs| costs.is_natural(kind, margin))
}

/// The kind and the cost of every route to a × b, cheapest first, in hundredths of a step.
pub fn route_costs(a: u64, b: u64) -> Vec<(RouteKind, u32)> {
    let prices = search::prices(&CostModel::default(), a, b);
    prices.iter().map(|priced| (priced.name, priced.hundredths())).collect()
}

/// What splitting a number by its digits and multiplying part by part costs, in hundredths of a step.
pub fn split_cost(n: u64, digit: u64) -> u32 {
    CostModel::hundredths(CostModel::default().by_digit(n, digit))
}

/// What the routes to a product cost, in hundredths of a step.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Costs {
    /// The kind and the cost of the cheapest.
    first: RouteKind,
    cost: u32,
    /// Whether it goes by the name of adjusting too.
    adjusts: bool,
    /// The least cost of each kind, in the order of the kinds; [`u32::MAX`] where there is none.
    least: [u32; KINDS],
    /// The same for splitting that does not go by the name of adjusting.
    only_splits: u32,
}

/// How many kinds of route there are.
const KINDS: usize = RouteKind::Doubling as usize + 1;

impl Costs {
    fn of(a: u64, b: u64) -> Option<Costs> {
        let prices = search::prices(&CostModel::default(), a, b);
        let first = prices.first()?;
        let (cost, adjusts) = (first.hundredths(), first.adjusts);
        let mut costs = Costs {
            first: first.name,
            cost,
            adjusts,
            least: [u32::MAX; KINDS],
            only_splits: u32::MAX,
        };
        for priced in &prices {
            let least = |known: &mut u32| *known = priced.hundredths().min(*known);
            least(&mut costs.least[priced.name as usize]);
            if priced.name == RouteKind::Splitting && !priced.adjusts {
                least(&mut costs.only_splits);
            }
        }
        Some(costs)
    }

    /// The same, worked out once: a term's lists and lessons ask for the same products many times.
    fn known(a: u64, b: u64) -> Option<Costs> {
        KNOWN.with_borrow_mut(|known| {
            if known.len() >= MOST_KNOWN {
                known.clear();
            }
            *known.entry((a, b)).or_insert_with(|| Costs::of(a, b))
        })
    }

    fn is_natural(&self, kind: RouteKind, margin: u32) -> bool {
        let adjusting = kind == RouteKind::Adjusting;
        let dear =
            |cost: u32| u64::from(cost) * 100 >= u64::from(self.cost) * (100 + u64::from(margin));
        let others = self.least.iter().enumerate().all(|(nth, &cost)| match nth {
            _ if nth == kind as usize => true,
            _ if nth == RouteKind::Splitting as usize && adjusting => dear(self.only_splits),
            _ => dear(cost),
        });
        (self.first == kind || adjusting && self.adjusts) && others
    }
}

thread_local! {
    static KNOWN: RefCell<BTreeMap<(u64, u64), Option<Costs>>> = const { RefCell::new(BTreeMap::new()) };
}
/// So many products are kept at most.
const MOST_KNOWN: usize = 50_000;

/// A round number: one digit and its zeros.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
struct Part {
    digit: u64,
    zeros: u32,
}

impl Part {
    fn value(self) -> u64 {
        self.digit * 10_u64.pow(self.zeros)
    }
    /// The number as a part, when it has one digit that is not zero.
    fn of(n: u64) -> Option<Part> {
        let (digit, zeros) = stripped(n);
        (1..10).contains(&digit).then_some(Part { digit, zeros })
    }
}

/// The parts of a number that are not zero, highest first: 306 is 300 and 6.
fn parts_of(n: u64) -> ArrayVec<Part, 20> {
    let digits = crate::number::digits(n);
    let part = |(zeros, &digit): (usize, &u8)| Part {
        digit: u64::from(digit),
        zeros: u32::try_from(zeros).unwrap_or(0),
    };
    digits.iter().enumerate().rev().filter(|(_, d)| **d != 0).map(part).collect()
}

/// A number without its final zeros, and how many there were.
fn stripped(n: u64) -> (u64, u32) {
    let (mut core, mut zeros) = (n, 0);
    while core != 0 && core.is_multiple_of(10) {
        core /= 10;
        zeros += 1;
    }
    (core, zeros)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::method::HouseStyle;

    fn first_of(a: u64, b: u64, kind: RouteKind) -> Option<(String, u32)> {
        let route = routes(a, b).into_iter().find(|r| r.name == kind)?;
        Some((route.steps[0].expression.clone(), route.cost))
    }

    /// The cost model is our own, so this table is too: it was worked out by a program apart from
    /// this one. Cheapest route, its cost, and the next that the table names.
    #[test]
    fn the_golden_table_of_routes_holds() {
        use RouteKind::{Adjusting, DoublingHalving, Factors, Parts, Splitting};
        let table: [(u64, u64, RouteKind, &str, u32, RouteKind, u32); 13] = [
            (47, 6, Splitting, "40*6 + 7*6", 470, Adjusting, 635),
            (47, 29, Adjusting, "47*30 - 47", 840, Splitting, 1375),
            (36, 99, Adjusting, "36*100 - 36", 475, Factors, 1123),
            (36, 98, Adjusting, "36*100 - 36*2", 875, Factors, 1267),
            (199, 4, Adjusting, "4*200 - 4", 475, Splitting, 730),
            (46, 5, Parts, "46*10 // 2", 200, Splitting, 350),
            (48, 25, Parts, "48*100 // 4", 400, Factors, 750),
            (24, 50, Parts, "24*100 // 2", 250, Factors, 350),
            (16, 125, Parts, "16*1000 // 8", 500, Factors, 950),
            (35, 18, Factors, "18*5*7", 635, DoublingHalving, 685),
            (16, 35, Factors, "16*5*7", 623, DoublingHalving, 673),
            (14, 12, Splitting, "14*10 + 14*2", 550, Factors, 750),
            (27, 24, Factors, "27*3*8", 765, Splitting, 1127),
        ];
        for (a, b, kind, expression, cost, next, next_cost) in table {
            let all = routes(a, b);
            assert_eq!((all[0].name, all[0].cost), (kind, cost), "{a} x {b}");
            let same = all.iter().any(|r| r.cost == cost && r.steps[0].expression == expression);
            assert!(same, "{a} x {b} as {expression}: {all:?}");
            let other = all.iter().find(|r| r.name != kind).expect("another kind");
            assert_eq!((other.name, other.cost), (next, next_cost), "after the best of {a} x {b}");
        }
    }

    #[test]
    fn the_table_holds_where_both_routes_are_of_one_kind() {
        let costs = |a, b| {
            let split = |r: &Route| r.name == RouteKind::Splitting;
            let found: Vec<Route> = routes(a, b).into_iter().filter(split).collect();
            found.iter().map(|r| (r.steps[0].expression.clone(), r.cost)).collect::<Vec<_>>()
        };
        let named = |(e, c): (&str, u32)| (e.to_owned(), c);
        assert_eq!(costs(37, 43), [("43*30 + 43*7", 1192), ("37*40 + 37*3", 1242)].map(named));
        assert_eq!(costs(64, 11)[0], named(("64*10 + 64", 400)));
        assert_eq!(costs(24, 101)[0], named(("24*100 + 24", 250)));
        for (a, b) in [(37, 43), (64, 11), (24, 101)] {
            assert_eq!(routes(a, b)[0].name, RouteKind::Splitting);
        }
    }

    #[test]
    fn adding_on_is_the_same_sum_as_splitting_and_stands_once() {
        let all = routes(24, 101);
        assert!(all[0].is(RouteKind::Adjusting) && all[0].is(RouteKind::Splitting));
        assert!(natural(24, 101, RouteKind::Adjusting, 25));
        assert!(natural(24, 101, RouteKind::Splitting, 25));
        let same = all.iter().filter(|r| r.steps[0].expression.starts_with("24*100")).count();
        assert_eq!(same, 1);
    }

    /// Terms and factors in order: two routes with the same text are the same sum.
    fn normal(expression: &str) -> String {
        let mut terms: Vec<String> = expression
            .split(" + ")
            .map(|term| {
                let mut factors: Vec<&str> = term.split('*').collect();
                factors.sort_unstable();
                factors.join("*")
            })
            .collect();
        terms.sort_unstable();
        terms.join(" + ")
    }

    #[test]
    fn no_two_routes_to_a_product_are_the_same_sum() {
        assert_eq!(normal("24*100 + 24"), normal("24 + 100*24"));
        for (a, b) in (2..210).flat_map(|a| (a..130).map(move |b| (a, b))) {
            let mut sums: Vec<String> =
                routes(a, b).iter().map(|r| normal(&r.steps[0].expression)).collect();
            let all = sums.len();
            sums.sort_unstable();
            sums.dedup();
            assert_eq!(sums.len(), all, "{a} x {b}: {sums:?}");
        }
    }

    #[test]
    fn what_is_found_without_words_is_what_all_routes_in_words_say() {
        use RouteKind::{
            Adjusting, Doubling, DoublingHalving, Fact, Factors, Parts, Shift, Splitting,
        };
        let kinds = [Fact, Shift, Splitting, Adjusting, DoublingHalving, Parts, Factors, Doubling];
        let more = [(470, 600), (4_000, 125), (1_997, 4), (998, 6), (350, 18), (2_400, 101)];
        let small = (0..130).flat_map(|a| (0..130).map(move |b| (a, b)));
        for (a, b) in
            small.chain((990..1_010).flat_map(|a| (2..60).map(move |b| (b, a)))).chain(more)
        {
            let all = routes(a, b);
            let first = all.first();
            let costs = route_costs(a, b);
            assert!(all.iter().all(|r| costs.contains(&(r.name, r.cost))), "{a} x {b}");
            assert!(costs.iter().all(|c| all.iter().any(|r| (r.name, r.cost) == *c)));
            assert_eq!(cheapest(a, b), first.map(|r| (r.name, r.cost)), "{a} x {b}");
            for kind in kinds {
                for margin in [0, 15, 25] {
                    let by_words = first.is_some_and(|first| {
                        let dear = |r: &Route| r.cost * 100 >= first.cost * (100 + margin);
                        first.is(kind) && all.iter().all(|r| r.is(kind) || dear(r))
                    });
                    assert_eq!(natural(a, b, kind, margin), by_words, "{a} x {b} {kind:?}");
                }
                let of_kind = all.iter().find(|r| r.is(kind)).or(first);
                assert_eq!(route_of(a, b, &[kind]).as_ref(), of_kind, "{a} x {b} {kind:?}");
            }
        }
    }

    #[test]
    fn a_kind_is_natural_only_by_its_margin() {
        assert!(natural(47, 29, RouteKind::Adjusting, 25));
        assert!(!natural(47, 29, RouteKind::Splitting, 0));
        assert!(natural(35, 18, RouteKind::Factors, 5));
        assert!(!natural(35, 18, RouteKind::Factors, 15));
        assert!(natural(48, 25, RouteKind::Parts, 50));
        assert!(natural(40, 70, RouteKind::Shift, 25));
        assert!(natural(7, 8, RouteKind::Fact, 15));
        assert!(natural(47, 100, RouteKind::Shift, 100));
    }

    #[test]
    fn the_teachers_page_names_a_route_in_a_few_letters() {
        let style = HouseStyle::default();
        let short = |a, b| routes(a, b)[0].short(&style).replace('\u{A0}', " ");
        assert_eq!(short(40, 70), "4 × 7 = 28, then × 100");
        assert_eq!(short(600, 30), "6 × 3 = 18, then × 1,000");
        assert_eq!(short(63, 8), "60 and 3");
        assert_eq!(short(450, 20), "450 × 2 = 900, then × 10");
        assert_eq!(short(199, 4), "4 × 200 less 4");
        assert_eq!(short(48, 25), "48 × 100, then a quarter");
        assert_eq!(short(27, 24), "27 × 3 = 81, then 81 × 8");
    }

    #[test]
    fn a_route_is_printed_as_a_chain_of_equals() {
        let style = HouseStyle::default();
        let chain: Vec<[String; 3]> = routes(36, 199)[0]
            .chain(&style)
            .into_iter()
            .map(|l| [l.left, l.right, l.reason].map(|s| s.replace('\u{A0}', " ")))
            .collect();
        assert_eq!(
            chain,
            [
                ["36 × 199", "= 36 × 200 − 36", "199 is 1 less than 200: one 36 too many"],
                ["", "= 7,200 − 36", "take it off again"],
                ["", "= 7,164", ""],
            ]
        );
    }

    #[test]
    fn every_route_of_two_digit_pairs_ends_in_the_product() {
        for (a, b) in (0..130).flat_map(|a| (0..130).map(move |b| (a, b))) {
            let all = routes(a, b);
            assert!(!all.is_empty() || (a > 9 && b > 9), "no route to {a} x {b}");
            for route in &all {
                let last = route.steps.last().expect("a last step");
                assert_eq!(last.expression, (a * b).to_string());
                assert!(route.cost > 0 && route.value == a * b);
                let label = route.short(&HouseStyle::default());
                assert!(label.chars().count() <= 31, "{label}");
            }
            assert!(all.is_sorted_by_key(|r| r.cost));
        }
    }

    #[test]
    fn other_weights_give_other_routes() {
        let slow = CostModel { exchange: 600, ..CostModel::default() };
        assert_eq!(routes_by(&slow, 199, 4)[0].name, RouteKind::Splitting);
        assert_eq!(first_of(199, 4, RouteKind::Adjusting), Some(("4*200 - 4".to_owned(), 475)));
    }
}
