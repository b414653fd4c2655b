//! Whole workings to look at: which of four is right, and a mistake to find and mend.

use super::Bench;
use super::deal;
use super::words::option;
use crate::exercise::patterns::{WrongLong, WrongWorking, likely_written, pattern};
use crate::exercise::{Choice, Figure, Item, Kind, Space, WorkedRow, Working};
use crate::method::{Written, long, ordered};
use crate::number::{digits, ten_to};

type Pair = (u64, u64);

/// Workings beside the right one.
const WRONG: usize = 3;

/// The workings that likely mistakes lead to, likeliest first, each with its pattern's name and
/// its own answer.
fn likely_workings(bench: &Bench, (a, b): Pair) -> Vec<(&'static str, WrongLong)> {
    let mut found: Vec<(&'static str, WrongLong)> = Vec::new();
    for likely in likely_written(a, b, Written::Long, &bench.setting.style) {
        let Some(known) = likely.patterns.first().and_then(|name| pattern(name)) else { continue };
        for attempt in known.attempts(a, b) {
            let WrongWorking::Long(long) = attempt.working else { continue };
            let new = found.iter().all(|(_, other)| other.value != long.value);
            if !attempt.turned && new && long.value.to_string() == likely.answer {
                found.push((known.name, long));
            }
        }
    }
    found
}

/// "Which working of 47 × 36 is right?", each told by its rows and what they come to.
pub(super) fn which_is_right(bench: &Bench, pair: Pair) -> Option<Item> {
    let (a, b) = ordered(pair.0, pair.1);
    let right = long(a, b, &bench.setting.style);
    if right.rows.len() < 2 {
        return None;
    }
    let told = |rows: &[u64], value: u64| {
        let rows: Vec<String> = rows.iter().map(|&row| bench.number(row)).collect();
        format!("{}\u{a0}=\u{a0}{}", rows.join("\u{a0}+\u{a0}"), bench.number(value))
    };
    let rows: Vec<u64> = right.rows.iter().map(|row| row.value).collect();
    let mut choices: Vec<Choice> = vec![option(told(&rows, right.value), true, None)];
    for (name, wrong) in likely_workings(bench, (a, b)) {
        let written: Vec<u64> = wrong.rows.iter().map(|row| row.value).collect();
        let text = told(&written, wrong.value);
        let clear = written.len() == rows.len() && choices.iter().all(|c| c.text != text);
        if clear && choices.len() <= WRONG {
            choices.push(option(text, false, Some(name)));
        }
    }
    if choices.len() <= WRONG {
        return None;
    }
    let what = format!("which working {a} {b}");
    deal::stream(bench.request, &bench.setting.seed, &what).shuffle(&mut choices);
    let prompt =
        format!("Which working of {} is right? Each one adds up its rows.", bench.sum(a, b));
    let mut item = bench.choice(&prompt, choices, false);
    let each = right.rows.iter().map(|row| {
        let times = u64::from(row.digit) * row.place;
        format!("{}\u{a0}=\u{a0}{}", bench.sum(a, times), bench.number(row.value))
    });
    item.working = Working::Steps { steps: each.collect() };
    Some(item)
}

/// "One line of this working is wrong. Put a ring round it. What is the right answer?"
pub(super) fn mend(bench: &Bench, pair: Pair) -> Option<Item> {
    let (a, b) = ordered(pair.0, pair.1);
    let right = long(a, b, &bench.setting.style);
    if right.rows.len() < 2 {
        return None;
    }
    // A row that only repeats the number above hides nothing.
    if digits(b).contains(&1) {
        return None;
    }
    let one_line = |(_, wrong): &(&'static str, WrongLong)| wrong_lines(a, wrong).len() == 1;
    let mut fits = likely_workings(bench, (a, b));
    fits.retain(|found| one_line(found) && found.1.rows.len() == right.rows.len());
    let what = format!("mend {a} {b}");
    let mut stream = deal::stream(bench.request, &bench.setting.seed, &what);
    let (name, wrong) = stream.one_of(&fits)?;
    let line = *wrong_lines(a, wrong).first()?;
    let told = pattern(name)?;
    let prompt = "A pupil worked this out. One line is wrong: put a ring round it. What is the right answer?";
    let mut item = bench.plain(Kind::Reason, prompt.to_owned(), (a * b).to_string());
    item.expression = Some(format!("{a}*{b}"));
    item.figure = Some(Figure::Worked {
        a,
        b,
        rows: wrong
            .rows
            .iter()
            .map(|row| WorkedRow { times: times(row.digit, row.place), value: row.value })
            .collect(),
        value: wrong.value,
    });
    let which = match right.rows.get(line) {
        Some(row) => {
            let times = times(row.digit, row.place);
            format!(
                "The row ×\u{a0}{} is wrong: {}. {}\u{a0}=\u{a0}{}.",
                bench.number(times),
                bench.setting.style.in_words(told.shows),
                bench.sum(a, times),
                bench.number(row.value)
            )
        }
        None => {
            let shows = bench.setting.style.in_words(told.shows);
            format!("The rows are added wrongly: {shows}.")
        }
    };
    item.working = Working::Steps { steps: vec![which] };
    let wrong_answer = (wrong.value, *name);
    item.likely = super::build::mistakes(a * b, &[wrong_answer]);
    item.space = Space::Box;
    Some(item)
}

fn times(digit: u8, place: u64) -> u64 {
    u64::from(digit) * place
}

/// Which lines are wrong: rows by their place in the working, then the adding.
fn wrong_lines(a: u64, wrong: &WrongLong) -> Vec<usize> {
    let rows = wrong.rows.iter().enumerate();
    let off = rows.filter(|(_, row)| row.value != a * times(row.digit, row.place));
    let mut lines: Vec<usize> = off.map(|(index, _)| index).collect();
    let sum: u64 = wrong.rows.iter().map(|row| row.value).sum();
    if sum != wrong.value {
        lines.push(wrong.rows.len());
    }
    // What is written over or begun further left is no row of its own size.
    let sound = wrong.rows.iter().all(|row| row.value < a * 10 * row.place * ten_to(1));
    if sound { lines } else { Vec::new() }
}
