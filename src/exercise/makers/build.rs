//! Items put together from numbers: one function for each kind of question.

use super::story::story_pattern;
use super::{Bench, Setting};
use crate::exercise::patterns;
use crate::exercise::{Accept, Choice, Given, Item, Kind, Likely, Space, Working};
use crate::method::{Long, Written, estimate, grid, lattice, long, ordered, squares};
use crate::number::digit_count;

/// At most so many wrong answers stand beside an answer in the key.
pub(super) const LIKELY: usize = 5;

/// What shows in a whole grid as this shows in one row of it as that.
const ONE_CELL_LEFT_OUT: (&str, &str) = ("only like places", "a part left out");

impl Bench<'_> {
    /// "4,739 × 286" as the class writes it.
    pub(super) fn sum(&self, a: u64, b: u64) -> String {
        self.setting.style.sum(a, b)
    }

    /// A number as the class writes it.
    pub(super) fn number(&self, n: u64) -> String {
        self.setting.style.number(n)
    }

    /// An item with nothing but its question and answer, to be filled in.
    pub(super) fn plain(&self, kind: Kind, prompt: String, answer: String) -> Item {
        Item {
            id: String::new(),
            skill: self.request.skill.to_owned(),
            kind,
            prompt,
            expression: None,
            answer,
            accept: None,
            choices: Vec::new(),
            figure: None,
            working: Working::Steps { steps: Vec::new() },
            seconds: 0,
            likely: Vec::new(),
            space: Space::Box,
            purpose: String::new(),
        }
    }

    /// A whole product by a written method. `estimate` puts a line for an estimate above it.
    pub(super) fn written(
        &self,
        (a, b): (u64, u64),
        method: Written,
        given: Given,
        estimate: bool,
    ) -> Item {
        let style = &self.setting.style;
        let mut item = self.plain(Kind::Written, self.sum(a, b), (a * b).to_string());
        item.expression = Some(format!("{a}*{b}"));
        (item.working, item.space) = match method {
            Written::Long => {
                let long = long(a, b, style);
                let space = squared(&long, given, estimate);
                (Working::Long(long), space)
            }
            Written::Grid => {
                let grid = grid(a, b);
                let (columns, rows) = (small(grid.parts.len()), small(grid.rows.len()));
                (Working::Grid(grid), Space::Grid { columns, rows, given })
            }
            Written::Lattice => {
                let (top, side) = ordered(a, b);
                let (columns, rows) = (small_count(top), small_count(side));
                (Working::Lattice(lattice(a, b)), Space::Lattice { columns, rows, given })
            }
        };
        item.likely = believable(patterns::likely_written(a, b, method, style), (a, b));
        item
    }

    /// A row as it is spoken of: "hundreds row (× 300)".
    pub(super) fn row_name(&self, times: u64) -> String {
        let style = &self.setting.style;
        let place = style.grouping.place_name(crate::number::digits(times).len() - 1, style.ones);
        format!("{place} row (×\u{a0}{})", self.number(times))
    }

    /// One row of a × b: the multiplicand times this digit of the multiplier in its place.
    pub(super) fn row(&self, (a, b): (u64, u64), digit: u8, place: u64, method: Written) -> Item {
        let (a, b) = ordered(a, b);
        let times = u64::from(digit) * place;
        let value = a * times;
        let style = &self.setting.style;
        let what = if method == Written::Grid { "Fill in" } else { "Write only" };
        let prompt = format!("{what} the {} of {}.", self.row_name(times), self.sum(a, b));
        let mut item = self.plain(Kind::Row, prompt, value.to_string());
        item.expression = Some(format!("{a}*{times}"));
        let likely;
        (item.working, item.space, likely) = if method == Written::Grid {
            let row = grid(a, times);
            let columns = small(row.parts.len());
            // Its parts are printed, so that it is clear which row; its cells and its sum are not.
            let space = Space::Grid { columns, rows: 1, given: Given::AllButLast(2) };
            let mut likely = patterns::likely_written(a, times, method, style);
            for left_out in likely.iter_mut().filter(|l| l.shows == ONE_CELL_LEFT_OUT.0) {
                ONE_CELL_LEFT_OUT.1.clone_into(&mut left_out.shows);
            }
            (Working::Grid(row), space, likely)
        } else {
            let columns = small(squares(&long(a, b, style), false).0);
            let working = Working::Long(single_row(self.setting, a, times));
            let likely = patterns::likely_wrong_row(a, digit, place, style);
            (working, Space::Strip { columns }, likely)
        };
        item.likely = believable(likely, (a, times));
        item
    }

    /// The rows of a × b, printed and right, to be added.
    pub(super) fn rows_to_add(&self, (a, b): (u64, u64)) -> Item {
        let (a, b) = ordered(a, b);
        let long = long(a, b, &self.setting.style);
        let prompt = format!("Add the rows of {}.", self.sum(a, b));
        let mut item = self.plain(Kind::Written, prompt, (a * b).to_string());
        item.expression = Some(format!("{a}*{b}"));
        item.space = Space::Squares {
            columns: small(squares(&long, false).0),
            rows: small(long.rows.len() + 1),
            given: Given::Rows,
            estimate: false,
            compare: false,
        };
        item.working = Working::Long(long);
        item.likely = believable(patterns::likely_wrong_adding(a, b), (a, b));
        item
    }

    /// About how large a product is; any answer within three tenths of the product is right.
    pub(super) fn estimate(&self, (a, b): (u64, u64), space: Space) -> Item {
        let about = estimate(a, b);
        let mut item = self.plain(Kind::Estimate, self.sum(a, b), about.value.to_string());
        item.expression = Some(format!("{}*{}", about.factors[0], about.factors[1]));
        let exact = a * b;
        item.accept = Some(Accept::Between {
            least: (exact * 7).div_ceil(10).to_string(),
            most: (exact * 13 / 10).to_string(),
        });
        let band = (exact * 7).div_ceil(10)..=exact * 13 / 10;
        let outside = |l: &Likely| l.answer.parse().is_ok_and(|n: u64| n > 1 && !band.contains(&n));
        let likely = patterns::likely_wrong_estimate(a, b);
        item.likely = likely.into_iter().filter(outside).take(LIKELY).collect();
        item.working = Working::Estimate(about);
        item.space = space;
        item
    }

    /// One of several answers; the first is the right one before they are put in order.
    pub(super) fn choice(&self, prompt: &str, choices: Vec<Choice>, because: bool) -> Item {
        let right = choices.iter().find(|c| c.correct).map(|c| c.text.clone()).unwrap_or_default();
        let mut item = self.plain(Kind::Choice, prompt.to_owned(), right);
        item.choices = choices;
        item.space = Space::Options { because };
        item
    }

    /// A short answer with the reason in a sentence.
    pub(super) fn reason(&self, prompt: String, expression: String, answer: u64) -> Item {
        let mut item = self.plain(Kind::Reason, prompt, answer.to_string());
        item.expression = Some(expression);
        item.space = Space::Lines { count: 3 };
        item
    }
}

/// Wrong answers that somebody could believe: a product is not smaller than its factors, nor a
/// small part of what it should be.
pub(super) fn believable(mut likely: Vec<Likely>, (a, b): (u64, u64)) -> Vec<Likely> {
    let fair = |n: u64| n > 1 && (n >= a.max(b) || n * 10 >= a * b);
    likely.retain(|l| l.answer.parse().is_ok_and(fair));
    likely.truncate(LIKELY);
    likely
}

/// Wrong answers by their patterns, likeliest first; those that are right or told before are left
/// out.
pub(super) fn mistakes(answer: u64, wrong: &[(u64, &str)]) -> Vec<Likely> {
    let mut likely: Vec<Likely> = Vec::new();
    for &(value, name) in wrong {
        let new = likely.iter().all(|l| l.answer != value.to_string());
        let short =
            patterns::pattern(name).map(|p| p.short).or(story_pattern(name).map(|p| p.short));
        if let (true, Some(short)) = (new && value != answer, short) {
            let (answer, patterns) = (value.to_string(), vec![name.to_owned()]);
            likely.push(Likely { answer, patterns, shows: short.to_owned() });
        }
    }
    likely.truncate(LIKELY);
    likely
}

/// The squares of a long working; the lines with headings have one row more.
pub(super) fn squared(long: &Long, given: Given, estimate: bool) -> Space {
    let (columns, rows) = squares(long, given != Given::Nothing);
    Space::Squares { columns: small(columns), rows: small(rows), given, estimate, compare: false }
}

/// The working of one row alone: no row of noughts stands before it in any house style.
pub(super) fn single_row(setting: &Setting, a: u64, times: u64) -> Long {
    let mut working = long(a, times, &setting.style);
    working.rows.retain(|r| r.digit != 0);
    working.adding_carries.clear();
    working
}

/// A count that fits on paper.
pub(super) fn small(n: usize) -> u8 {
    u8::try_from(n).unwrap_or(u8::MAX)
}

/// How many digits a number has, where they fit on paper.
pub(super) fn small_count(n: u64) -> u8 {
    u8::try_from(digit_count(n)).unwrap_or(u8::MAX)
}
