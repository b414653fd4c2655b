//! Two patterns in one sum: rows worked in one wrong way and put together in another.
//!
//! Only what is plausible is put together: what goes wrong inside a row (a carry, a zero, a fact)
//! with what goes wrong in placing or adding the rows. Other combinations show in different sums of
//! one pupil, not in one sum (Brown and VanLehn 1980 keep only combinations that pupils show).

use crate::exercise::Item;
use crate::exercise::patterns::{Family, Pattern, Task, catalogue, pattern};
use crate::number::{Digits, digits, ten_to};
use indexmap::IndexMap;

/// A row of a long multiplication: its place's power of ten and what was written without zeros.
type Row = (usize, u64);

/// What a pupil writes who does both in this item; empty where they cannot be put together, or
/// where the answer is the right one.
pub(super) fn together(item: &Item, first: &str, second: &str) -> Vec<u64> {
    let (Some(first), Some(second)) = (pattern(first), pattern(second)) else { return Vec::new() };
    let inside = |p: &Pattern| matches!(p.family, Family::Row | Family::SingleFact);
    let (row, placing) = match (inside(first), inside(second)) {
        (true, false) if second.family == Family::Long => (first, second),
        (false, true) if first.family == Family::Long => (second, first),
        _ => return Vec::new(),
    };
    let Some(task) = Task::of(item) else { return Vec::new() };
    let mut answers: Vec<u64> = match task {
        Task::Written(a, b) if b >= 10 => {
            let (a, b) = crate::method::ordered(a, b);
            ways(row, a, b)
                .into_iter()
                .filter_map(|rows| placed(placing.name, &rows, a, b))
                .collect()
        }
        Task::Row { a, digit, place } => {
            let values = row_values(row, a, digit);
            values.into_iter().filter_map(|v| one_row(placing.name, v, place)).collect()
        }
        _ => return Vec::new(),
    };
    answers.retain(|&answer| answer != task.right());
    answers.dedup();
    answers
}

/// What goes wrong in placing or adding rows, where it can stand beside what goes wrong inside them.
const PLACING: [&str; 9] = [
    "placeholder-left-out",
    "hundreds-row-shifted-once",
    "row-after-zero-closed-up",
    "later-rows-extra-zero",
    "rows-shifted-in-reverse",
    "only-first-row",
    "only-highest-row",
    "zero-row-copied",
    "adding-carries-lost",
];

/// The two patterns behind an answer.
pub(super) type Both = (&'static str, &'static str);

/// By answer: which two patterns in one sum give it, neither being a single fact.
pub(super) fn all_together(item: &Item) -> IndexMap<String, Vec<Both>> {
    let mut found: IndexMap<String, Vec<Both>> = IndexMap::new();
    for row in catalogue().iter().filter(|p| p.family == Family::Row) {
        for placing in PLACING {
            for answer in together(item, row.name, placing) {
                found.entry(answer.to_string()).or_default().push((row.name, placing));
            }
        }
    }
    found
}

/// What a row pattern writes for a × digit, once for each way it may come out.
fn row_values(row: &Pattern, a: u64, digit: u8) -> Vec<u64> {
    let task = Task::Row { a, digit, place: 1 };
    task.answers(row).into_iter().map(|(value, _)| value).collect()
}

/// All rows of a × b in each way the row pattern may come out; rows it does not touch are right.
fn ways(row: &Pattern, a: u64, b: u64) -> Vec<Vec<Row>> {
    let parts: Vec<(usize, u8)> =
        digits(b).into_iter().enumerate().filter(|&(_, digit)| digit != 0).collect();
    let values: Vec<Vec<u64>> = parts.iter().map(|&(_, d)| row_values(row, a, d)).collect();
    let most = values.iter().map(Vec::len).max().unwrap_or(0);
    let way = |n: usize| {
        let rows = parts.iter().zip(&values);
        rows.map(|(&(power, digit), v)| (power, v.get(n).copied().unwrap_or(a * u64::from(digit))))
            .collect()
    };
    (0..most).map(way).collect()
}

/// The rows put together in a wrong way.
fn placed(placing: &str, rows: &[Row], a: u64, b: u64) -> Option<u64> {
    let top = digits(b).len() - 1;
    let shifted = |shift: &dyn Fn(usize, usize) -> usize| -> u64 {
        rows.iter().enumerate().map(|(above, &(power, v))| v * ten_to(shift(power, above))).sum()
    };
    Some(match placing {
        "placeholder-left-out" => shifted(&|_, _| 0),
        "hundreds-row-shifted-once" => shifted(&|power, _| power.min(1)),
        "row-after-zero-closed-up" => shifted(&|_, above| above),
        "later-rows-extra-zero" => shifted(&|power, _| if power == 0 { 0 } else { power + 1 }),
        "rows-shifted-in-reverse" => shifted(&|power, _| top - power),
        "only-first-row" => rows.first().map(|&(power, v)| v * ten_to(power))?,
        "only-highest-row" => rows.last().map(|&(power, v)| v * ten_to(power))?,
        "zero-row-copied" => {
            let zeros = digits(b).into_iter().enumerate().filter(|&(_, digit)| digit == 0);
            shifted(&|power, _| power) + zeros.map(|(power, _)| a * ten_to(power)).sum::<u64>()
        }
        "adding-carries-lost" => {
            let values: Vec<u64> = rows.iter().map(|&(power, v)| v * ten_to(power)).collect();
            without_carries(&values)
        }
        _ => return None,
    })
}

/// One row by itself, its zeros written wrongly.
fn one_row(placing: &str, value: u64, place: u64) -> Option<u64> {
    match placing {
        "placeholder-left-out" => Some(value),
        "hundreds-row-shifted-once" if place > 10 => Some(value * 10),
        "later-rows-extra-zero" if place > 1 => Some(value * place * 10),
        _ => None,
    }
}

/// The sum of numbers when every column's tens are lost.
fn without_carries(numbers: &[u64]) -> u64 {
    let columns: Vec<_> = numbers.iter().map(|&n| digits(n)).collect();
    let width = columns.iter().map(Digits::len).max().unwrap_or(0);
    let column = |i| columns.iter().filter_map(|c| c.get(i)).map(|&d| u64::from(d)).sum::<u64>();
    (0..width).map(|i| column(i) % 10 * ten_to(i)).sum()
}
