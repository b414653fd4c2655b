//! A number or a digit that is left out, where exactly one fits.

use super::Bench;
use super::build::{mistakes, small, squared};
use super::deal;
use crate::exercise::{Given, Item, Kind, Space, Working};
use crate::method::{Long, Written, long};
use crate::number::{digit_count, digits, ten_to};

type Pair = (u64, u64);

/// "1,363 = 47 ×" and a box, or the same asked in words.
pub(super) fn factor(bench: &Bench, (a, b): Pair) -> Item {
    let product = a * b;
    let what = format!("missing factor {a} {b}");
    let way = deal::stream(bench.request, &bench.setting.seed, &what).number(0..=3);
    let (whole, known) = (bench.number(product), bench.number(a));
    let prompt = match way {
        0 => format!("Which number times {known} makes {whole}?"),
        1 if b < 1000 => format!("How many groups of {known} make {whole}?"),
        _ => format!("{whole}\u{a0}=\u{a0}{known}\u{a0}×"),
    };
    let mut item = bench.plain(Kind::Missing, prompt, b.to_string());
    item.expression = Some(format!("{product}//{a}"));
    let step = format!("{}\u{a0}=\u{a0}{whole}", bench.sum(a, b));
    item.working = Working::Steps { steps: vec![step] };
    item.likely = mistakes(b, &wrong_factors(a, b));
    item.space = Space::Box;
    item
}

fn wrong_factors(a: u64, b: u64) -> Vec<(u64, &'static str)> {
    let mut wrong = Vec::new();
    if b.is_multiple_of(10) {
        wrong.push((b / 10, "one-zero-short"));
        wrong.push((b * 10, "one-zero-too-many"));
    } else if a.is_multiple_of(10) {
        wrong.push((b * 10, "one-zero-too-many"));
    }
    if b <= 12 {
        wrong.push((b - 1, "table-neighbour"));
        wrong.push((b + 1, "table-neighbour"));
    }
    wrong.push((a * b - a, "subtracted-instead"));
    wrong
}

/// What to do with the digit.
const IN_THE_BOX: &str = "Write it in the bold box.";

/// A working with one digit missing: of the multiplicand, or of a row.
pub(super) fn digit(bench: &Bench, pair: Pair, method: Written, turn: usize) -> Option<Item> {
    if method != Written::Long {
        return None;
    }
    let working = long(pair.0, pair.1, &bench.setting.style);
    let mut stream = deal::stream(bench.request, &bench.setting.seed, &format!("missing {turn}"));
    let holes: Vec<Hole> = holes(&working, turn.is_multiple_of(2));
    let hole = *stream.one_of(&holes)?;
    let given = Given::Missing { line: hole.line, place: hole.place };
    let plain = stream.chance(1, 3);
    let prompt = match hole.times {
        _ if plain => format!("One digit is missing. {IN_THE_BOX}"),
        None => format!("A digit of the upper number is missing. {IN_THE_BOX}"),
        Some(times) => {
            format!("A digit of the {} is missing. {IN_THE_BOX}", bench.row_name(times))
        }
    };
    let mut item = bench.plain(Kind::Missing, prompt, hole.digit.to_string());
    item.expression = Some(hole.expression(working.a, working.b));
    item.space = squared(&working, given, false);
    item.likely = mistakes(u64::from(hole.digit), &hole.wrong_digits(&working));
    item.working = Working::Long(working);
    "one digit only fits".clone_into(&mut item.purpose);
    Some(item)
}

/// A digit of a working that can be left out.
#[derive(Debug, Clone, Copy)]
struct Hole {
    line: u8,
    place: u8,
    digit: u8,
    /// What the line is: the product divided by the multiplier, or the multiplicand times this.
    times: Option<u64>,
}

impl Hole {
    /// The digit as an expression of numbers that are printed.
    fn expression(self, a: u64, b: u64) -> String {
        let whole = match self.times {
            None => format!("{}//{b}", a * b),
            Some(times) => format!("{a}*{times}"),
        };
        let place = ten_to(usize::from(self.place));
        format!("{whole}//{place}-{whole}//{}*10", place * 10)
    }

    /// What fits where the carry is left out or added before multiplying, and where a fact is one
    /// step off.
    fn wrong_digits(self, working: &Long) -> Vec<(u64, &'static str)> {
        let digit = u64::from(self.digit);
        let mut wrong = match self.times {
            None => self.wrong_in_multiplicand(working),
            Some(times) => self.wrong_in_row(working, times).unwrap_or_default(),
        };
        if self.times.is_none() {
            wrong.extend([
                (digit + 1, "table-neighbour"),
                (digit.wrapping_sub(1), "table-neighbour"),
            ]);
        }
        wrong.retain(|(digit, _)| *digit < 10);
        wrong
    }

    /// Another digit whose product with the ones of the multiplier ends as the row does here.
    fn wrong_in_multiplicand(self, working: &Long) -> Vec<(u64, &'static str)> {
        let row = working.rows.iter().find(|r| r.digit != 0 && r.place == 1);
        let Some(row) = row else { return Vec::new() };
        let written = row.value / ten_to(usize::from(self.place)) % 10;
        let fits = |x: &u64| x * u64::from(row.digit) % 10 == written;
        let other = (0..=9).filter(fits).find(|x| *x != u64::from(self.digit));
        other.map(|x| (x, "carry-not-added")).into_iter().collect()
    }

    fn wrong_in_row(self, working: &Long, times: u64) -> Option<Vec<(u64, &'static str)>> {
        let row = working.rows.iter().find(|r| u64::from(r.digit) * r.place == times)?;
        let shift = digits(row.place).len() - 1;
        let index = usize::from(self.place).checked_sub(shift)?;
        let by = u64::from(row.digit);
        let top = digits(working.a);
        let before = index.checked_sub(1).and_then(|i| row.carries.get(i));
        let carried = u64::from(before.copied().unwrap_or(0));
        // The digit in front of the row is the last carry alone.
        let Some(top) = top.get(index).map(|t| u64::from(*t)) else {
            return Some(vec![
                (carried + 1, "table-neighbour"),
                (carried.wrapping_sub(1), "table-neighbour"),
            ]);
        };
        let mut wrong = Vec::new();
        if carried > 0 {
            wrong.push((top * by % 10, "carry-not-added"));
            wrong.push(((top + carried) * by % 10, "carry-added-before-multiplying"));
        }
        wrong.push((((top + 1) * by + carried) % 10, "table-neighbour"));
        Some(wrong)
    }
}

/// The digits that can be left out of the multiplicand, or of the rows, where exactly one digit
/// fits: all ten are tried against every other line.
fn holes(working: &Long, in_rows: bool) -> Vec<Hole> {
    let mut holes = Vec::new();
    let digit_at = |n: u64, place: u8| n / ten_to(usize::from(place)) % 10;
    let mut add = |line: usize, value: u64, places: std::ops::Range<usize>, times: Option<u64>| {
        for place in places.map(small) {
            let digit = digit_at(value, place);
            let other = |x: u64| {
                value - digit * ten_to(usize::from(place)) + x * ten_to(usize::from(place))
            };
            let fits = |x: &u64| match times {
                None => other(*x) * working.b == working.value,
                Some(times) => other(*x) == working.a * times,
            };
            if (0..=9).filter(fits).count() == 1 {
                let digit = u8::try_from(digit).unwrap_or(0);
                holes.push(Hole { line: small(line), place, digit, times });
            }
        }
    };
    if in_rows && working.rows.len() > 1 {
        for (index, row) in working.rows.iter().enumerate().filter(|(_, r)| r.digit != 0) {
            // Not the placeholder zeros and the ones beside them: those give no carry away.
            let first = digit_count(row.place) as usize;
            let last = digits(row.value).len();
            add(index + 2, row.value, first..last, Some(u64::from(row.digit) * row.place));
        }
    } else {
        add(0, working.a, 1..digits(working.a).len(), None);
    }
    holes
}
