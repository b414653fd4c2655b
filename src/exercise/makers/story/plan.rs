//! How the numbers of a story join: its expression, its steps, and the wrong turns pupils take.

use crate::number::digit_count;
use std::collections::BTreeMap;

/// The numbers of one story by their letters.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Numbers(BTreeMap<char, u64>);

impl Numbers {
    /// The number a letter stands for; nothing stands for 0.
    pub fn of(&self, letter: char) -> u64 {
        self.0.get(&letter).copied().unwrap_or(0)
    }
    /// Says what a letter stands for.
    pub fn set(&mut self, letter: char, number: u64) {
        self.0.insert(letter, number);
    }
    /// Whether the letter stands for a number.
    pub fn has(&self, letter: char) -> bool {
        self.0.contains_key(&letter)
    }
}

/// How the numbers of a story join. `s` is the size of a group, `g` the number of groups.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Plan {
    /// s × g
    Product,
    /// p ÷ g, where p is s × g
    Quotient,
    /// s + k
    Sum,
    /// s − k
    Difference,
    /// s × g + k
    ProductAnd,
    /// s × g − k
    ProductLess,
    /// k − s × g
    Rest,
    /// (s + k) × g
    MoreFirst,
    /// (s − k) × g
    LessFirst,
    /// s × g × d
    ThreeFactors,
    /// s × c × g, where c is a number that everybody knows: 7 days in a week
    Converted,
    /// s × g + t × h
    TwoProducts,
    /// s × g − t × h
    ProductsApart,
}

/// One line of working.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// The first number.
    pub left: u64,
    /// `×`, `÷`, `+` or `−`.
    pub sign: char,
    /// The second number.
    pub right: u64,
    /// What it comes to.
    pub value: u64,
}

/// A wrong turn and the answer it leads to.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct WrongTurn {
    /// The error pattern's name.
    pub pattern: &'static str,
    /// The answer.
    pub answer: u64,
}

impl Plan {
    /// Every plan by its expression in files.
    pub const ALL: [(&'static str, Plan); 13] = [
        ("s*g", Plan::Product),
        ("p//g", Plan::Quotient),
        ("s+k", Plan::Sum),
        ("s-k", Plan::Difference),
        ("s*g+k", Plan::ProductAnd),
        ("s*g-k", Plan::ProductLess),
        ("k-s*g", Plan::Rest),
        ("(s+k)*g", Plan::MoreFirst),
        ("(s-k)*g", Plan::LessFirst),
        ("s*g*d", Plan::ThreeFactors),
        ("s*c*g", Plan::Converted),
        ("s*g+t*h", Plan::TwoProducts),
        ("s*g-t*h", Plan::ProductsApart),
    ];

    /// The letters whose numbers are drawn, in order.
    pub fn letters(self) -> &'static [char] {
        match self {
            Plan::Product | Plan::Quotient | Plan::Converted => &['s', 'g'],
            Plan::Sum | Plan::Difference => &['s', 'k'],
            Plan::ThreeFactors => &['s', 'g', 'd'],
            Plan::TwoProducts | Plan::ProductsApart => &['s', 'g', 't', 'h'],
            _ => &['s', 'g', 'k'],
        }
    }

    /// The letters that the text must name.
    pub fn told(self) -> &'static [char] {
        if self == Plan::Quotient { &['p', 'g'] } else { self.letters() }
    }

    /// Whether one step answers it.
    pub fn is_one_step(self) -> bool {
        matches!(self, Plan::Product | Plan::Quotient | Plan::Sum | Plan::Difference)
    }

    /// The factors of its main product; `None` where nothing is multiplied.
    pub fn product(self, n: &Numbers) -> Option<(u64, u64)> {
        let (s, g, k) = (n.of('s'), n.of('g'), n.of('k'));
        match self {
            Plan::Quotient | Plan::Sum | Plan::Difference => None,
            Plan::MoreFirst => Some((s + k, g)),
            Plan::LessFirst => Some((s.checked_sub(k)?, g)),
            Plan::ThreeFactors => Some((s * g, n.of('d'))),
            Plan::Converted => Some((s * n.of('c'), g)),
            _ => Some((s, g)),
        }
        .map(|(a, b)| longer_first(a, b))
    }

    /// The expression, with integers, `+ - * //` and brackets.
    pub fn expression(self, n: &Numbers) -> String {
        let (s, g, k) = (n.of('s'), n.of('g'), n.of('k'));
        let (a, b) = longer_first(s, g);
        match self {
            Plan::Product => format!("{a}*{b}"),
            Plan::Quotient => format!("{}//{g}", n.of('p')),
            Plan::Sum => format!("{s}+{k}"),
            Plan::Difference => format!("{s}-{k}"),
            Plan::ProductAnd => format!("{a}*{b}+{k}"),
            Plan::ProductLess => format!("{a}*{b}-{k}"),
            Plan::Rest => format!("{k}-{a}*{b}"),
            Plan::MoreFirst => format!("({s}+{k})*{g}"),
            Plan::LessFirst => format!("({s}-{k})*{g}"),
            Plan::ThreeFactors => format!("{a}*{b}*{}", n.of('d')),
            Plan::Converted => format!("{s}*{}*{g}", n.of('c')),
            Plan::TwoProducts | Plan::ProductsApart => {
                let (c, d) = longer_first(n.of('t'), n.of('h'));
                let sign = if self == Plan::TwoProducts { '+' } else { '-' };
                format!("{a}*{b}{sign}{c}*{d}")
            }
        }
    }

    /// The lines of working; the last one's value is the answer. `None` where a line would go below
    /// zero or does not come out whole: such numbers do not suit the story.
    pub fn lines(self, n: &Numbers) -> Option<Vec<Line>> {
        let (s, g, k) = (n.of('s'), n.of('g'), n.of('k'));
        let first = match self {
            Plan::Quotient => return Some(vec![over(n.of('p'), g)?]),
            Plan::Sum | Plan::MoreFirst => plus(s, k)?,
            Plan::Difference | Plan::LessFirst => minus(s, k)?,
            Plan::Converted => times(s, n.of('c'))?,
            _ => times(s, g)?,
        };
        let so_far = first.value;
        let rest = match self {
            Plan::Product | Plan::Quotient | Plan::Sum | Plan::Difference => vec![],
            Plan::ProductAnd => vec![plus(so_far, k)?],
            Plan::ProductLess => vec![minus(so_far, k)?],
            Plan::Rest => vec![minus(k, so_far)?],
            Plan::MoreFirst | Plan::LessFirst | Plan::Converted => vec![times(so_far, g)?],
            Plan::ThreeFactors => vec![times(so_far, n.of('d'))?],
            Plan::TwoProducts | Plan::ProductsApart => {
                let second = times(n.of('t'), n.of('h'))?;
                let value = second.value;
                let join = if self == Plan::TwoProducts { plus } else { minus };
                vec![second, join(so_far, value)?]
            }
        };
        Some([vec![first], rest].concat())
    }

    /// The answer; `None` where the numbers do not suit the story.
    pub fn answer(self, n: &Numbers) -> Option<u64> {
        self.lines(n)?.last().map(|line| line.value)
    }

    /// The wrong turns, likeliest first; those that come to nothing are left out. With `e` among
    /// the numbers also those that use it.
    pub fn wrong_turns(self, n: &Numbers) -> Vec<WrongTurn> {
        let mut turns = Turns::default();
        if n.has('e') {
            self.turns_with_unneeded(n, &mut turns);
        }
        if self.is_one_step() {
            self.turns_of_one(n, &mut turns);
        } else {
            self.turns_of_two(n, &mut turns);
        }
        self.turns_of_groups(n, &mut turns);
        let told: u64 = self.told().iter().map(|letter| n.of(*letter)).sum();
        if self != Plan::Sum {
            turns.add("added-all-numbers", Some(told + n.of('e')));
        }
        turns.0
    }

    fn turns_with_unneeded(self, n: &Numbers, turns: &mut Turns) {
        turns.add("unneeded-number-added", self.answer(n).and_then(|a| a.checked_add(n.of('e'))));
        if self.letters().contains(&'g') {
            let mut instead = n.clone();
            instead.set('g', n.of('e'));
            turns.add("unneeded-number-instead", self.answer(&instead));
        }
    }

    fn turns_of_one(self, n: &Numbers, turns: &mut Turns) {
        let (s, g, k, p) = (n.of('s'), n.of('g'), n.of('k'), n.of('p'));
        match self {
            Plan::Product => {
                turns.add("one-group-only", Some(s.max(g)));
                turns.add(
                    "divided-instead",
                    s.max(g)
                        .checked_rem(s.min(g))
                        .and_then(|rest| (rest == 0).then(|| s.max(g) / s.min(g))),
                );
            }
            Plan::Quotient => {
                turns.add("multiplied-instead", p.checked_mul(g));
                turns.add("subtracted-instead", p.checked_sub(g));
            }
            Plan::Sum => {
                turns.add("multiplied-instead", s.checked_mul(k));
                turns.add("subtracted-instead", s.checked_sub(k));
            }
            _ => turns.add("multiplied-instead", s.checked_mul(k)),
        }
    }

    /// One group too many or too few.
    fn turns_of_groups(self, n: &Numbers, turns: &mut Turns) {
        let counts = matches!(
            self,
            Plan::Product | Plan::ProductAnd | Plan::ProductLess | Plan::Rest | Plan::Converted
        );
        if !counts || n.of('g') < 2 {
            return;
        }
        for g in [n.of('g') - 1, n.of('g') + 1] {
            let mut off = n.clone();
            off.set('g', g);
            turns.add("one-group-off", self.answer(&off));
        }
    }

    fn turns_of_two(self, n: &Numbers, turns: &mut Turns) {
        let (s, g, k) = (n.of('s'), n.of('g'), n.of('k'));
        let product = s.checked_mul(g);
        let first = self.lines(n).and_then(|l| l.first().map(|line| line.value));
        turns.add("stopped-after-first-step", first);
        match self {
            Plan::ProductAnd => {
                turns.add("second-step-reversed", product.and_then(|p| p.checked_sub(k)));
                turns.add("steps-swapped", (s + k).checked_mul(g));
                turns.add("first-step-left-out", Some(s + k));
            }
            Plan::ProductLess => {
                turns.add("second-step-reversed", product.and_then(|p| p.checked_add(k)));
                turns.add("steps-swapped", s.checked_sub(k).and_then(|r| r.checked_mul(g)));
            }
            Plan::Rest => {
                turns.add("second-step-reversed", product.and_then(|p| p.checked_add(k)));
                turns.add("first-step-left-out", k.checked_sub(s));
            }
            Plan::MoreFirst => {
                turns.add("steps-swapped", product.and_then(|p| p.checked_add(k)));
                turns.add("first-step-left-out", product);
            }
            Plan::LessFirst => {
                turns.add("steps-swapped", product.and_then(|p| p.checked_sub(k)));
                turns.add("first-step-left-out", product);
                turns.add("first-step-reversed", (s + k).checked_mul(g));
            }
            Plan::Converted => turns.add("unit-not-converted", product),
            Plan::ThreeFactors => {
                turns.add("second-step-added", product.and_then(|p| p.checked_add(n.of('d'))));
            }
            Plan::TwoProducts | Plan::ProductsApart => self.turns_of_products(n, turns),
            _ => {}
        }
    }

    fn turns_of_products(self, n: &Numbers, turns: &mut Turns) {
        let (s, g, t, h) = (n.of('s'), n.of('g'), n.of('t'), n.of('h'));
        let second = t.checked_mul(h);
        let both = |join: fn(u64, u64) -> Option<u64>| {
            s.checked_mul(g).zip(second).and_then(|(a, b)| join(a, b))
        };
        if self == Plan::TwoProducts {
            turns.add("groups-run-together", (s + t).checked_mul(g + h));
        } else {
            turns.add("second-step-reversed", both(u64::checked_add));
        }
        turns.add("second-product-only", second);
    }
}

/// Wrong turns in the order they were added.
#[derive(Default)]
struct Turns(Vec<WrongTurn>);

impl Turns {
    /// Adds a turn where it comes to a number above zero.
    fn add(&mut self, pattern: &'static str, answer: Option<u64>) {
        if let Some(answer) = answer.filter(|a| *a > 0) {
            self.0.push(WrongTurn { pattern, answer });
        }
    }
}

/// The two numbers, the one with more digits first.
pub fn longer_first(a: u64, b: u64) -> (u64, u64) {
    if digit_count(b) > digit_count(a) { (b, a) } else { (a, b) }
}

fn times(a: u64, b: u64) -> Option<Line> {
    let (left, right) = longer_first(a, b);
    Some(Line { left, sign: '×', right, value: left.checked_mul(right)? })
}

fn plus(left: u64, right: u64) -> Option<Line> {
    Some(Line { left, sign: '+', right, value: left.checked_add(right)? })
}

fn minus(left: u64, right: u64) -> Option<Line> {
    let value = left.checked_sub(right).filter(|v| *v > 0)?;
    Some(Line { left, sign: '−', right, value })
}

fn over(left: u64, right: u64) -> Option<Line> {
    let whole = left.checked_rem(right)? == 0;
    whole.then(|| Line { left, sign: '÷', right, value: left / right })
}
