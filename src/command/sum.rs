//! `sum`: one product worked out in every way, with every known wrong answer.

use super::args::{Format, Sum as Request};
use super::output::{Failure, data, json};
use crate::exercise::patterns::{self, Explanation, WrongWorking};
use crate::method::{self, HouseStyle, Long, Route, estimate};
use crate::number::{Grouping, in_words};
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
    let lattice_rows: Vec<Value> = crate::number::digits(long.b)
        .iter()
        .rev()
        .zip(&lattice.cells)
        .map(|(digit, cells)| json!({ "digit": digit, "cells": cells }))
        .collect();
    json!([
        { "method": "long", "rows": long.rows, "adding_carries": long.adding_carries, "value": long.value },
        { "method": "grid", "parts": grid.parts, "rows": grid.rows, "value": grid.value },
        {
            "method": "lattice", "rows": lattice_rows, "diagonals": lattice.diagonals,
            "adding_carries": lattice.carries, "value": lattice.value,
        },
    ])
}

fn diagnosis(long: &Long, answer: Option<u64>, explained: Option<&Explanation>) -> Value {
    let (Some(answer), Some(explained)) = (answer, explained) else { return Value::Null };
    let causes: Vec<Value> = explained
        .gives
        .iter()
        .map(|cause| {
            json!({
                "name": cause.pattern.name, "shows": cause.pattern.shows, "teach": cause.pattern.teach,
                "working": cause.working,
            })
        })
        .collect();
    json!({
        "answer": answer.to_string(), "right": answer == long.value, "stray": explained.is_stray(),
        "patterns": causes,
    })
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
        let carries: Vec<String> = row.carries.iter().rev().map(ToString::to_string).collect();
        let value = style.number(row.value);
        writeln!(out, "  × {:<7} {value:>15}   carries {}", style.number(times), carries.join(" "))
            .ok();
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
    if explained.is_stray() {
        return format!(
            "\n{} fits no known pattern: a stray answer, or a slip.\n",
            style.number(answer)
        );
    }
    let mut out = format!("\n{} is what comes out of\n", style.number(answer));
    for cause in &explained.gives {
        writeln!(out, "\n  {}: {}", cause.pattern.name, cause.pattern.shows).ok();
        writeln!(out, "  {}", cause.pattern.teach).ok();
        out.push_str(&side_by_side(long, &cause.working, style));
    }
    out.push_str("\nA pattern is a hint for teaching, never a diagnosis of a child.\n");
    out
}

/// The wrong working beside the right one.
fn side_by_side(long: &Long, wrong: &WrongWorking, style: &HouseStyle) -> String {
    let numbers =
        |values: Vec<u64>| -> Vec<String> { values.into_iter().map(|n| style.number(n)).collect() };
    let right = numbers(long.rows.iter().map(|r| r.value).chain([long.value]).collect());
    let wrong = match wrong {
        WrongWorking::Long(wrong) => {
            numbers(wrong.rows.iter().map(|r| r.value).chain([wrong.value]).collect())
        }
        WrongWorking::Grid(wrong) => {
            numbers(wrong.rows.iter().map(|r| r.value).chain([wrong.value]).collect())
        }
        WrongWorking::Line { expression, value } => {
            vec![style.typeset(expression), style.number(*value)]
        }
    };
    let mut out = format!("  {:>24} {:>18}\n", "the pupil's", "right");
    for index in 0..right.len().max(wrong.len()) {
        let line = |list: &[String]| list.get(index).cloned().unwrap_or_default();
        writeln!(out, "  {:>24} {:>18}", line(&wrong), line(&right)).ok();
    }
    out
}
