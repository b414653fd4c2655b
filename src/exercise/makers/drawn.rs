//! Products that are drawn: dots in rows, rectangles cut into parts.

use super::Bench;
use super::build::{mistakes, small};
use super::deal;
use crate::exercise::{Figure, Item, Kind, Working};
use crate::number::{digits, ten_to};
use crate::seed::Stream;

type Pair = (u64, u64);

/// The most dots in a row and the most rows that can be told apart on paper.
const MOST: Pair = (18, 9);

/// "How many dots are there?" or, where a line cuts the rows, how many on one side of it.
pub(super) fn dots(bench: &Bench, stream: &mut Stream) -> Item {
    let (columns, rows) = (stream.number(11..=MOST.0), stream.number(4..=MOST.1));
    if stream.chance(1, 2) {
        all_dots(bench, columns, rows)
    } else {
        beside_the_line(bench, columns, rows)
    }
}

/// Dots for a pair of one and two digits, cut after ten: what splitting looks like.
pub(super) fn split_dots(bench: &Bench, (a, b): Pair) -> Option<Item> {
    let (columns, rows) = (a.max(b), a.min(b));
    let fits = (11..=MOST.0).contains(&columns) && (2..=MOST.1).contains(&rows);
    fits.then(|| beside_the_line(bench, columns, rows))
}

fn dotted(
    bench: &Bench,
    prompt: &str,
    columns: u64,
    rows: u64,
    cut: Option<u64>,
    answer: u64,
) -> Item {
    let mut item = bench.plain(Kind::Reason, prompt.to_owned(), answer.to_string());
    let small = |n: u64| u8::try_from(n).unwrap_or(u8::MAX);
    item.figure =
        Some(Figure::Array { rows: small(rows), columns: small(columns), cut: cut.map(small) });
    item
}

fn all_dots(bench: &Bench, columns: u64, rows: u64) -> Item {
    let prompt = "How many dots are there? Do not count them one by one.";
    let mut item = dotted(bench, prompt, columns, rows, None, columns * rows);
    item.expression = Some(format!("{columns}*{rows}"));
    let (ten, rest) = (10 * rows, (columns - 10) * rows);
    item.working = Working::Steps {
        steps: vec![format!(
            "{rows} rows of {columns}: {}\u{a0}+\u{a0}{}\u{a0}=\u{a0}{ten}\u{a0}+\u{a0}{rest}\u{a0}=\u{a0}{}.",
            bench.sum(rows, 10),
            bench.sum(rows, columns - 10),
            columns * rows
        )],
    };
    item.likely =
        mistakes(columns * rows, &[(columns + rows, "added-instead"), (columns, "one-group-only")]);
    item
}

fn beside_the_line(bench: &Bench, columns: u64, rows: u64) -> Item {
    let right = columns - 10;
    let prompt = format!(
        "There are {rows} rows of {columns} dots. A line is drawn after 10 dots in each row. How many dots are to the right of the line?"
    );
    let mut item = dotted(bench, &prompt, columns, rows, Some(10), rows * right);
    item.expression = Some(format!("{columns}*{rows}-10*{rows}"));
    item.working = Working::Steps {
        steps: vec![format!(
            "Right of the line: {}\u{a0}=\u{a0}{}.",
            bench.sum(rows, right),
            rows * right
        )],
    };
    item.likely = mistakes(
        rows * right,
        &[
            (rows * columns, "whole-for-part"),
            (right, "one-group-only"),
            (rows + right, "added-instead"),
        ],
    );
    item
}

/// The parts of a number, the largest first: 40 and 7.
fn parts(n: u64) -> Vec<u64> {
    let mut parts: Vec<u64> =
        digits(n).iter().enumerate().map(|(place, &d)| u64::from(d) * ten_to(place)).collect();
    parts.retain(|&p| p > 0);
    parts.reverse();
    parts
}

/// A rectangle cut into parts; one of them is left empty.
pub(super) fn area_part(bench: &Bench, (a, b): Pair) -> Option<Item> {
    let (across, down) = (parts(a.max(b)), parts(a.min(b)));
    let round = a.is_multiple_of(10) || b.is_multiple_of(10);
    if round || across.len() > 3 || down.len() > 2 || across.len() < 2 {
        return None;
    }
    let what = format!("area part {a} {b}");
    let mut stream = deal::stream(bench.request, &bench.setting.seed, &what);
    let (row, column) = (
        usize::try_from(stream.number(0..=down.len() as u64 - 1)).unwrap_or(0),
        usize::try_from(stream.number(0..=across.len() as u64 - 1)).unwrap_or(0),
    );
    let (x, y) = (across[column], down[row]);
    let hole = |r: usize, c: usize| r == row && c == column;
    let cell = |r: usize, c: usize| (!hole(r, c)).then(|| across[c] * down[r]);
    let cells = (0..down.len()).map(|r| (0..across.len()).map(|c| cell(r, c)).collect()).collect();
    let prompt = format!(
        "This rectangle shows {} in parts. What belongs in the empty part?",
        bench.sum(a.max(b), a.min(b))
    );
    let mut item = bench.plain(Kind::Missing, prompt, (x * y).to_string());
    item.expression = Some(format!("{x}*{y}"));
    item.working = Working::Steps {
        steps: vec![format!("{}\u{a0}=\u{a0}{}", bench.sum(x, y), bench.number(x * y))],
    };
    item.likely = mistakes(x * y, &wrong_areas(x, y));
    item.figure = Some(Figure::Area { across, down, cells });
    Some(item)
}

fn wrong_areas(x: u64, y: u64) -> Vec<(u64, &'static str)> {
    let mut wrong = vec![(x + y, "added-instead")];
    if (x * y).is_multiple_of(10) {
        wrong.insert(0, (x * y / 10, "one-zero-short"));
        wrong.insert(1, (x * y * 10, "one-zero-too-many"));
    }
    wrong
}

/// A rectangle cut into parts with its lengths only: how large is the whole?
pub(super) fn area_whole(bench: &Bench, (a, b): Pair) -> Option<Item> {
    let (long, short) = (a.max(b), a.min(b));
    let (across, down) = (parts(long), vec![short]);
    if across.len() != 2 || !(2..=9).contains(&short) || long > 999 {
        return None;
    }
    let cells = vec![vec![None; small(across.len()).into()]];
    let prompt = format!(
        "A rectangle is {long} squares long and {short} squares wide. One part is {} long, the other is {} long. How many squares are there in all?",
        across[0], across[1]
    );
    let mut item = bench.plain(Kind::Reason, prompt, (a * b).to_string());
    item.expression = Some(format!("{}*{short}+{}*{short}", across[0], across[1]));
    let (x, y) = (across[0] * short, across[1] * short);
    item.working = Working::Steps {
        steps: vec![format!(
            "{}\u{a0}+\u{a0}{}\u{a0}=\u{a0}{}\u{a0}+\u{a0}{}\u{a0}=\u{a0}{}.",
            bench.sum(across[0], short),
            if across[1] == 1 { bench.number(short) } else { bench.sum(across[1], short) },
            bench.number(x),
            bench.number(y),
            bench.number(a * b)
        )],
    };
    let lost = across[0] / 10 * short + y;
    item.likely =
        mistakes(a * b, &[(lost, "tens-lost-their-zero"), (x + across[1], "ones-copied")]);
    item.figure = Some(Figure::Area { across, down, cells });
    Some(item)
}
