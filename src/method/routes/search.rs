//! The search: every rule of the trade, tried both ways round.

use super::{CostModel, Part, Route, RouteKind, RouteStep, parts_of, stripped};
use crate::number::ten_to;
use crate::words::join;
use arrayvec::ArrayVec;

/// A route without its words.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Priced {
    /// Its cost, in sixtieths of a step.
    cost: u32,
    /// What kind of route.
    pub(super) name: RouteKind,
    /// Which route of the search it is.
    nth: usize,
    /// As [`Route::adjusts`].
    pub(super) adjusts: bool,
}

impl Priced {
    /// Its cost, hundredths of a step.
    pub(super) fn hundredths(self) -> u32 {
        CostModel::hundredths(self.cost)
    }
    /// As [`Route::is`].
    pub(super) fn is(self, kind: RouteKind) -> bool {
        self.name == kind || (kind == RouteKind::Adjusting && self.adjusts)
    }
}

/// More routes than there are rules, each both ways round.
type Prices = ArrayVec<Priced, 32>;

/// Every route to a × b, cheapest first; equal costs stand in the order of the kinds.
pub(super) fn search(model: &CostModel, a: u64, b: u64) -> Vec<Route> {
    let mut found = Found::new(model, a, b, Telling::All);
    found.look();
    let mut all: Vec<(Priced, Words)> = found.prices.into_iter().zip(found.words).collect();
    all.sort_by_key(|(priced, _)| *priced);
    // 97 is rounded to the next ten and to the next hundred: the same sum, told once.
    let mut told: Vec<Vec<String>> = Vec::new();
    all.retain(|(_, words)| {
        let sum = words.lines.first().map_or(Vec::new(), |(expression, _)| terms(expression));
        let new = !told.contains(&sum);
        told.push(sum);
        new
    });
    all.into_iter().map(|(priced, words)| route(a, b, priced, words)).collect()
}

/// The same without words, which take most of the time; the same sum may stand there twice.
pub(super) fn prices(model: &CostModel, a: u64, b: u64) -> Prices {
    let mut found = Found::new(model, a, b, Telling::None);
    found.look();
    found.prices.sort_unstable();
    found.prices
}

/// The cheapest route of which this holds, else the cheapest; none where no rule applies.
pub(super) fn first(
    model: &CostModel,
    a: u64,
    b: u64,
    wanted: impl Fn(Priced) -> bool,
) -> Option<Route> {
    let prices = prices(model, a, b);
    let priced = *prices.iter().find(|priced| wanted(**priced)).or(prices.first())?;
    let mut found = Found::new(model, a, b, Telling::One(priced.nth));
    found.look();
    found.words.pop().map(|words| route(a, b, priced, words))
}

fn route(a: u64, b: u64, priced: Priced, words: Words) -> Route {
    let value = a * b;
    let step = |(expression, reason)| RouteStep { expression, value, reason };
    Route {
        name: priced.name,
        cost: priced.hundredths(),
        steps: words.lines.into_iter().map(step).collect(),
        value,
        sum: format!("{a}*{b}"),
        label: words.label,
        adjusts: priced.adjusts,
    }
}

/// The terms that are added in an expression, each with its factors in one order.
fn terms(expression: &str) -> Vec<String> {
    let sorted = |term: &str| {
        let mut factors: Vec<&str> = term.split('*').collect();
        factors.sort_unstable();
        factors.join("*")
    };
    let mut terms: Vec<String> = expression.split(" + ").map(sorted).collect();
    terms.sort_unstable();
    terms
}

/// Which routes get their words.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Telling {
    None,
    One(usize),
    All,
}

struct Found<'a> {
    model: &'a CostModel,
    a: u64,
    b: u64,
    telling: Telling,
    prices: Prices,
    words: Vec<Words>,
}

/// A route in words: in a few letters, and its expressions with their reasons, the product last.
struct Words {
    label: String,
    lines: Vec<(String, String)>,
}

impl Found<'_> {
    fn new(model: &CostModel, a: u64, b: u64, telling: Telling) -> Found<'_> {
        Found { model, a, b, telling, prices: Prices::new(), words: Vec::new() }
    }

    /// Tries every rule.
    fn look(&mut self) {
        let (a, b) = (self.a, self.b);
        let trivial = |n| n < 2;
        let power = |n| n > 1 && stripped(n).0 == 1;
        if trivial(a) || trivial(b) || (a < 10 && b < 10) {
            self.fact();
        }
        if trivial(a) || trivial(b) {
            // Nothing else is worth a thought.
        } else if power(a) || power(b) {
            self.power_of_ten(if power(b) { b } else { a });
        } else {
            self.shift();
            self.one_way(a, b);
            if a != b {
                self.one_way(b, a);
            }
        }
    }

    /// Notes a route; `words` are its label and its lines but for the product.
    fn note(
        &mut self,
        name: RouteKind,
        cost: u32,
        words: impl FnOnce() -> (String, Vec<(String, String)>),
    ) {
        let nth = self.prices.len();
        if self.telling == Telling::All || self.telling == Telling::One(nth) {
            let (label, mut lines) = words();
            lines.push(((self.a * self.b).to_string(), String::new()));
            self.words.push(Words { label, lines });
        }
        self.prices.push(Priced { cost, name, nth, adjusts: false });
    }

    /// All rules that keep x and take `by` to pieces.
    fn one_way(&mut self, x: u64, by: u64) {
        self.splitting(x, by);
        self.adjusting(x, by);
        self.doubling_halving(x, by);
        self.parts(x, by);
        self.factors(x, by);
        self.doubling(x, by);
    }

    fn fact(&mut self) {
        let cost = self.model.fact(self.a, self.b);
        self.note(RouteKind::Fact, cost, || ("a known fact".to_owned(), Vec::new()));
    }

    fn power_of_ten(&mut self, by: u64) {
        let zeros = stripped(by).1;
        let places = || crate::words::count(zeros as usize, "place");
        let cost = self.model.shifts(zeros);
        self.note(RouteKind::Shift, cost, || (format!("up {}", places()), Vec::new()));
        // The product itself is the only line.
        if let Some((_, reason)) = self.words.last_mut().and_then(|words| words.lines.last_mut()) {
            *reason = format!("each digit moves {}", places());
        }
    }

    /// Zeros are put aside first: a fact and its zeros, or a number by one digit and its zeros.
    fn shift(&mut self) {
        let (a, b) = (self.a, self.b);
        let ((core_a, zeros_a), (core_b, zeros_b)) = (stripped(a), stripped(b));
        if core_a < 10 && core_b < 10 {
            let cost = self.model.fact(core_a, core_b) + self.model.shifts(zeros_a + zeros_b);
            if zeros_a + zeros_b > 0 {
                let power = 10_u64.pow(zeros_a + zeros_b);
                self.note_shift((a, core_a), (b, core_b), cost, power);
            }
            return;
        }
        for ((x, core_x), (by, digit)) in [((a, core_a), (b, core_b)), ((b, core_b), (a, core_a))] {
            // Where the one-digit number has no zeros, those of the other are put aside.
            let core_x = if by == digit { core_x } else { x };
            let power = (x / core_x) * (by / digit);
            if digit < 10 && power > 1 {
                let parts = self.model.by_digit(core_x, digit);
                let product = if digit == 2 { parts.min(self.model.double(core_x)) } else { parts };
                let cost = product + self.model.shifts(power.ilog10());
                self.note_shift((x, core_x), (by, digit), cost, power);
            }
        }
    }

    /// x × by from what is left of them without their zeros.
    fn note_shift(&mut self, x: (u64, u64), by: (u64, u64), cost: u32, power: u64) {
        self.note(RouteKind::Shift, cost, || {
            let zeros = |(n, core): &(u64, u64)| format!("{n} is {core} * {}", n / core);
            let reasons: Vec<String> =
                [x, by].iter().filter(|(n, core)| n != core).map(zeros).collect();
            let lines = vec![
                (format!("{}*{}*{power}", x.1, by.1), join(&reasons, "and")),
                (format!("{}*{power}", x.1 * by.1), String::new()),
            ];
            (format!("{}*{} = {}, then * {power}", x.1, by.1, x.1 * by.1), lines)
        });
    }

    /// x times each part of `by`: 47 × 6 as 40 × 6 + 7 × 6, 43 × 37 as 43 × 30 + 43 × 7.
    fn splitting(&mut self, x: u64, by: u64) {
        let parts = parts_of(by);
        let several_digits = x >= 10;
        if parts.len() < 2 || (several_digits && stripped(x).0 < 10) {
            return; // nothing to split, or zeros are put aside first
        }
        let cost = if several_digits {
            let mut cost = self.model.hold * (u32::try_from(parts.len()).unwrap_or(1) - 1);
            let mut total = 0;
            for &part in &parts {
                cost += self.model.by_round(x, part);
                cost += if total == 0 { 0 } else { self.model.add(total, x * part.value()) };
                total += x * part.value();
            }
            cost
        } else {
            self.model.by_digit(by, x)
        };
        self.note(RouteKind::Splitting, cost, || {
            let term = |part: &Part| match part.value() {
                1 => x.to_string(),
                value if several_digits => format!("{x}*{value}"),
                value => format!("{value}*{x}"),
            };
            let plain: Vec<String> = parts.iter().map(|p| p.value().to_string()).collect();
            let products: Vec<String> = parts.iter().map(|p| (x * p.value()).to_string()).collect();
            let split = join(&plain, "and");
            let terms: Vec<String> = parts.iter().map(term).collect();
            let lines = vec![
                (terms.join(" + "), format!("{by} is {split}")),
                (products.join(" + "), "add the parts".to_owned()),
            ];
            (split, lines)
        });
        if let Some(priced) = self.prices.last_mut() {
            priced.adjusts = just_above(&parts);
        }
    }

    /// × 29 as × 30 less × 1: every round number just above `by`.
    fn adjusting(&mut self, x: u64, by: u64) {
        for k in 1..=crate::number::digit_count(by) {
            let unit = 10_u64.pow(k);
            let round = by.div_ceil(unit) * unit;
            let Some(over) = Part::of(round - by) else { continue };
            let most = if by < 10 { 2 } else { 3 };
            let (true, Some(much)) = (over.digit <= most, self.by_simple(x, round)) else {
                continue;
            };
            let (large, small) = (x * round, x * over.value());
            let model = self.model;
            let cost = much + model.by_round(x, over) + model.hold + model.subtract(large, small);
            let over = over.value();
            self.note(RouteKind::Adjusting, cost, || {
                let times = if over == 1 { x.to_string() } else { format!("{x}*{over}") };
                let (many, again) = match over {
                    1 => (format!("one {x} too many"), "take it off again"),
                    2 => (format!("two {x}s too many"), "take them off again"),
                    3 => (format!("three {x}s too many"), "take them off again"),
                    _ => (format!("{over} times {x} too much"), "take it off again"),
                };
                let lines = vec![
                    (
                        format!("{x}*{round} - {times}"),
                        format!("{by} is {over} less than {round}: {many}"),
                    ),
                    (format!("{large} - {small}"), again.to_owned()),
                ];
                (format!("{x}*{round} less {small}"), lines)
            });
        }
    }

    /// x times a number in one go: one of them must have a single digit beside its zeros.
    fn by_simple(&self, x: u64, by: u64) -> Option<u32> {
        let (core, zeros) = stripped(by);
        match Part::of(by) {
            Some(round) => Some(self.model.by_round(x, round)),
            None if x < 10 => Some(self.model.by_digit(core, x) + self.model.shifts(zeros)),
            None => None,
        }
    }

    /// 35 × 18 as 70 × 9, where x ends in 5 and the result is one digit's work.
    fn doubling_halving(&mut self, x: u64, by: u64) {
        let (double, half) = (2 * x, by / 2);
        if stripped(x).0 % 10 != 5 || !by.is_multiple_of(2) || half == 1 {
            return;
        }
        let (model, self_a) = (self.model, self.a);
        let ways = [
            Part::of(half).map(|round| model.by_round(double, round)),
            Part::of(double).map(|round| model.by_round(half, round)),
        ];
        let Some(product) = ways.into_iter().flatten().min() else { return };
        let cost = model.double(x) + model.halve(by) + model.hold_part + product;
        self.note(RouteKind::DoublingHalving, cost, || {
            // The factors keep their order: 18 × 15 is 9 × 30.
            let (line, reason) = if x == self_a {
                (format!("{double}*{half}"), format!("double {x}, halve {by}"))
            } else {
                (format!("{half}*{double}"), format!("halve {by}, double {x}"))
            };
            (line.clone(), vec![(line, reason)])
        });
    }

    /// × 5, 50, 25, 125 by way of a power of ten.
    fn parts(&mut self, x: u64, by: u64) {
        let (core, zeros) = stripped(by);
        let (halvings, part, reason) = match core {
            5 => (1, "half", "half of"),
            25 => (2, "a quarter", "a quarter of"),
            125 => (3, "an eighth", "an eighth of"),
            _ => return,
        };
        let round = ten_to(zeros as usize + halvings);
        let large = x * round;
        let mut cost = self.model.shifts(round.ilog10());
        for halving in 0..halvings {
            cost += self.model.halve(large >> halving);
        }
        self.note(RouteKind::Parts, cost, || {
            let halves: Vec<String> = (1..=halvings).map(|n| (large >> n).to_string()).collect();
            let how = match halves.as_slice() {
                [_] => String::new(),
                [half, _] => format!("half is {half}, then half again"),
                halves => format!("halve three times: {}", join(halves, "then")),
            };
            let lines = vec![
                (format!("{x}*{round} // {}", 1 << halvings), format!("{by} is {reason} {round}")),
                (format!("{large} // {}", 1 << halvings), how),
            ];
            (format!("{x}*{round}, then {part}"), lines)
        });
    }

    /// × 24 as × 3 × 8: two factors of one digit, in the cheaper order.
    fn factors(&mut self, x: u64, by: u64) {
        let (core, zeros) = stripped(by);
        let model = self.model;
        let cost = |c: u64| {
            model.by_digit(x, c)
                + model.hold_part
                + model.by_digit(x * c, core / c)
                + model.shifts(zeros)
        };
        let pairs = (2..10).filter(|c| core.is_multiple_of(*c) && (2..10).contains(&(core / c)));
        let Some(c) = pairs.min_by_key(|&c| cost(c)).filter(|_| core > 9) else { return };
        let d = by / c;
        let cost = cost(c);
        self.note(RouteKind::Factors, cost, || {
            let lines = vec![
                (format!("{x}*{c}*{d}"), format!("{by} is {c} * {d}")),
                (format!("{}*{d}", x * c), String::new()),
            ];
            (format!("{x}*{c} = {m}, then {m}*{d}", m = x * c), lines)
        });
    }

    /// × 2, × 4, × 8, × 16 by doubling and doubling again.
    fn doubling(&mut self, x: u64, by: u64) {
        if ![2, 4, 8, 16].contains(&by) {
            return;
        }
        let times = by.ilog2();
        let double = |n: u32| self.model.double(x << n);
        let cost = (0..times).map(double).sum::<u32>() + self.model.hold * (times - 1);
        self.note(RouteKind::Doubling, cost, || {
            let twos = |n: u32| "*2".repeat(n as usize);
            let label = match times {
                1 => "double",
                2 => "double twice",
                3 => "double three times",
                _ => "double four times",
            };
            let line = |n: u32| {
                let why = if n == 0 && times > 1 {
                    format!("{by} is 2{}", twos(times - 1))
                } else {
                    String::new()
                };
                (format!("{}{}", x << n, twos(times - n)), why)
            };
            (label.to_owned(), (0..times).map(line).collect())
        });
    }
}

/// Whether a number is a round one and at most three more: 11, 21, 101, 102.
fn just_above(parts: &[Part]) -> bool {
    match parts {
        [round, rest] if round.zeros > 1 => rest.zeros == 0 && rest.digit <= 3,
        [_, rest] => rest.zeros == 0 && rest.digit == 1,
        _ => false,
    }
}
