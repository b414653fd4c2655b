//! `sum`: one product worked out in every way, with every known wrong answer.

use super::args::{Format, Sum as Request};
use super::output::{Failure, data, json};
use crate::exercise::patterns::{self, Cause, Explanation, WrongWorking};
use crate::method::{self, HouseStyle, Long, Route, estimate};
use crate::number::{Grouping, in_words};
use crate::words::count;
use serde_json::{Value, json};
use std::fmt::Write;

/// Runs the command.
pub fn run(request: &Request, format: Format) -> Result<(), Failure> {
    let (a, b) = factors(&request.product)?;
    let answer = request.answer.as_deref().map(wrong_answer).transpose()?;
    let style = HouseStyle::default();
    let long = method::long(a, b, &style);
    let explained = answer.map(|answer| patterns::explain(long.a, long.b, answer));
    match format {
        Format::Json => json(&to_json(&long, answer, explained.as_ref())),
        Format::Text => {
            let mut text = worked(&long, &style);
            if let (Some(answer), Some(explained)) = (answer, &explained) {
                text.push_str(&explain(&long, answer, explained, &style));
            } else {
                text.push_str(&all_wrong(&long, &style));
            }
            data(&text);
            Ok(())
        }
    }
}

/// `47x36`, also with ×, X or * and grouped as people do.
fn factors(text: &str) -> Result<(u64, u64), Failure> {
    let wrong = || {
        let what =
            format!("`{text}`: expected two whole numbers of up to six digits, such as 4736x208");
        Failure::Usage(what)
    };
    let (a, b) = text.split_once(['x', 'X', '×', '*']).ok_or_else(wrong)?;
    let number = |part: &str| whole(part).filter(|n| *n <= 999_999);
    number(a).zip(number(b)).ok_or_else(wrong)
}

fn wrong_answer(text: &str) -> Result<u64, Failure> {
    whole(text).ok_or_else(|| {
        Failure::Usage(format!("`--answer {text}`: expected a whole number such as 1452"))
    })
}

fn whole(text: &str) -> Option<u64> {
    let digits: String =
        text.trim().chars().filter(|c| !matches!(c, ',' | '\u{202F}' | '\u{A0}' | ' ')).collect();
    let all =
        !digits.is_empty() && digits.len() <= 18 && digits.bytes().all(|b| b.is_ascii_digit());
    if all { digits.parse().ok() } else { None }
}

fn to_json(long: &Long, answer: Option<u64>, explained: Option<&Explanation>) -> Value {
    let (a, b) = (long.a, long.b);
    let (least, most) = method::digits_of_product(a, b);
    let about = estimate(a, b);
    let lattice = method::lattice(a, b);
    json!({
        "a": a, "b": b, "product": long.value,
        "digits": { "least": least, "most": most },
        "estimate": { "factors": about.factors, "value": about.value, "between": about.between },
        "workings": workings(long),
        "lattice": lattice,
        "routes": method::routes(a, b),
        "wrong": patterns::all_wrong(a, b),
        "diagnosis": diagnosis(long, answer, explained),
    })
}

fn workings(long: &Long) -> Value {
    let grid = method::grid(long.a, long.b);
    let lattice = method::lattice(long.a, long.b);
    let row = |((at, digit), cells): ((usize, &u8), &Vec<u8>)| {
        let place = crate::number::ten_to(at);
        let value = long.a * u64::from(*digit) * place;
        json!({ "digit": digit, "place": place, "cells": cells, "value": value })
    };
    let digits = crate::number::digits(long.b);
    let lattice_rows: Vec<Value> =
        digits.iter().enumerate().rev().zip(&lattice.cells).map(row).collect();
    json!([
        { "method": "long", "rows": long.rows, "adding_carries": long.adding_carries, "value": long.value },
        {
            "method": "grid", "parts": grid.parts, "rows": grid.rows,
            // The rows' sums are those of long multiplication, and added alike.
            "adding_carries": long.adding_carries, "value": grid.value,
        },
        {
            "method": "lattice", "rows": lattice_rows, "diagonals": lattice.diagonals,
            "adding_carries": lattice.carries, "value": lattice.value,
        },
    ])
}

fn diagnosis(long: &Long, answer: Option<u64>, explained: Option<&Explanation>) -> Value {
    let (Some(answer), Some(explained)) = (answer, explained) else { return Value::Null };
    let style = HouseStyle::default();
    let causes: Vec<Value> = explained
        .gives
        .iter()
        .map(|cause| {
            let right = patterns::right_page(cause.pattern, &cause.working, (long.a, long.b), &style);
            json!({
                "name": cause.pattern.name, "shows": cause.pattern.shows, "teach": cause.pattern.teach,
                "turned": cause.turned, "working": cause.working, "steps": cause.working.steps(),
                "page": cause.working.page(&style), "said": cause.working.said(&style),
                "right_page": right,
            })
        })
        .collect();
    let names = |of: &[&patterns::Pattern]| of.iter().map(|p| p.name).collect::<Vec<_>>();
    json!({
        "answer": answer.to_string(), "right": answer == long.value, "stray": explained.is_stray(),
        "patterns": causes,
        "near": near(long, answer),
        "gives_other": names(&explained.gives_other),
        "cannot_show": names(&explained.hidden),
    })
}

/// Wrong answers one digit away from this one: a pattern and a slip together.
fn near(long: &Long, answer: u64) -> Vec<patterns::WrongAnswer> {
    let mut all = patterns::all_wrong(long.a, long.b);
    all.retain(|wrong| one_digit_apart(&wrong.answer, &answer.to_string()));
    all
}

fn one_digit_apart(one: &str, other: &str) -> bool {
    let apart = one.bytes().zip(other.bytes()).filter(|(x, y)| x != y).count();
    one.len() == other.len() && apart == 1
}

fn worked(long: &Long, style: &HouseStyle) -> String {
    let (a, b) = (long.a, long.b);
    let number = |n| style.number(n);
    let mut out = format!("{} × {} = {}\n", number(a), number(b), number(long.value));
    writeln!(out, "in words: {}", in_words(long.value, Grouping::Thousands)).ok();
    let (least, most) = method::digits_of_product(a, b);
    let about = estimate(a, b);
    let sum = format!("{} × {}", number(about.factors[0]), number(about.factors[1]));
    writeln!(out, "about {sum} = {}; it has {least} or {most} digits", number(about.value)).ok();
    out.push_str("\nlong multiplication\n");
    out.push_str(&rows(long, style));
    let routes = method::routes(a, b);
    if !routes.is_empty() {
        out.push_str("\nin the head, the cheapest way first\n");
        for route in routes.iter().take(4) {
            writeln!(out, "  {}", route_line(route, style)).ok();
        }
    }
    out
}

fn rows(long: &Long, style: &HouseStyle) -> String {
    let mut out = String::new();
    for row in &long.rows {
        let times = u64::from(row.digit) * row.place;
        // The last carry is the row's own front: nothing is added to it.
        let added: Vec<u8> = row.carries.iter().rev().skip(1).copied().collect();
        let carries: String = added.iter().map(|carry| format!(" {carry}")).collect();
        let some = added.iter().any(|carry| *carry > 0);
        let carries = if some { format!("   carries{carries}") } else { String::new() };
        let value = style.number(row.value);
        writeln!(out, "  × {:<7} {value:>15}{carries}", style.number(times)).ok();
    }
    writeln!(out, "            {:>15}", style.number(long.value)).ok();
    out
}

fn route_line(route: &Route, style: &HouseStyle) -> String {
    let steps: Vec<String> = route.steps.iter().map(|s| style.typeset(&s.expression)).collect();
    let cost = format!("{}.{:02}", route.cost / 100, route.cost % 100);
    format!("{cost:>6}  {}", steps.join(" = "))
}

fn all_wrong(long: &Long, style: &HouseStyle) -> String {
    let mut out = "\nwrong answers and what each may show\n".to_owned();
    for wrong in patterns::all_wrong(long.a, long.b) {
        let answer = wrong.answer.parse().map_or(wrong.answer.clone(), |n| style.number(n));
        writeln!(out, "  {answer:>15}  {}", wrong.patterns.join(", ")).ok();
    }
    out
}

fn explain(long: &Long, answer: u64, explained: &Explanation, style: &HouseStyle) -> String {
    if answer == long.value {
        return "\nThat is the right answer.\n".to_owned();
    }
    let number = style.number(answer);
    if explained.is_stray() && estimate(long.a, long.b).value == answer {
        return format!("\n{number} is a good estimate, not the answer.\n");
    }
    let mut out = if explained.is_stray() {
        format!("\n{number} fits no known pattern: a stray answer, or a slip.\n")
    } else {
        let patterns = count(explained.gives.len(), "pattern");
        format!("\n{number} is what comes out of {patterns}\n")
    };
    for cause in &explained.gives {
        out.push_str(&cause_of(cause, long, style));
    }
    out.push_str(&others(long, answer, explained, style));
    out.push_str("\nA pattern is a hint for teaching, never a diagnosis of a child.\n");
    out
}

/// What a pattern is, the pupil's page beside the right one, and what the pupil says.
fn cause_of(cause: &Cause, long: &Long, style: &HouseStyle) -> String {
    let Cause { pattern, turned, working } = cause;
    let mut out = format!("\n  {}: {}\n  {}\n", pattern.name, pattern.shows, pattern.teach);
    if *turned {
        let sum = format!("{} × {}", style.number(long.b), style.number(long.a));
        writeln!(out, "  The numbers are taken the other way round: {sum}.").ok();
    }
    if matches!(working, WrongWorking::Long(long) if long.highest_first()) {
        out.push_str("  The row of the highest digit is written first.\n");
    }
    let wrong = working.page(style);
    let right = patterns::right_page(pattern, working, (long.a, long.b), style);
    for line in
        patterns::beside(("the pupil's", &wrong), (patterns::right_heading(pattern), &right))
    {
        writeln!(out, "    {line}").ok();
    }
    for line in working.said(style) {
        writeln!(out, "    {line}").ok();
    }
    out
}

/// How many patterns do not give the answer, and those that come near.
fn others(long: &Long, answer: u64, explained: &Explanation, style: &HouseStyle) -> String {
    let other = count(explained.gives_other.len(), "pattern");
    let hidden = explained.hidden.len();
    let mut out = format!(
        "\nof the others, {other} would give another wrong answer; {hidden} cannot show on this sum\n"
    );
    let near = near(long, answer);
    if !near.is_empty() {
        out.push_str("one digit away (a pattern and a slip together)\n");
    }
    for wrong in near.iter().take(4) {
        let answer = wrong.answer.parse().map_or(wrong.answer.clone(), |n| style.number(n));
        writeln!(out, "  {answer:>15}  {}", wrong.patterns.join(", ")).ok();
    }
    if near.len() > 4 {
        writeln!(out, "  and {} more", near.len() - 4).ok();
    }
    out
}
