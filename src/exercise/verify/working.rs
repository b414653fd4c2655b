//! Workings, worked out again: rows and cells by the schoolbook, carries from remainders, routes
//! step by step.
//!
//! A carry out of a place is what the digits up to that place come to, without that many digits:
//! a formula that never carries, and so cannot make the mistakes of the loops that do.

use super::decimal::{add, multiply, proofs};
use super::expression::evaluate;
use super::text::{as_number, numbers, sums};
use super::{Checked, fault};
use crate::exercise::{Item, Story, Working};
use crate::method::{Estimate, Grid, Lattice, Long, Route};

/// Checks everything a working says.
pub(super) fn check(working: &Working) -> Checked {
    match working {
        Working::Long(working) => long(working),
        Working::Grid(working) => grid(working),
        Working::Lattice(working) => lattice(working),
        Working::Route(working) => route(working),
        Working::Estimate(working) => estimate(working),
        Working::Story { story: told, long: working } => {
            story(told)?;
            working.as_ref().map_or(Ok(()), long)
        }
        Working::Steps { steps } => steps.iter().try_for_each(|step| sentence(step)),
    }
}

/// Every number the working gives for the whole or a part of its product.
pub(super) fn results(working: &Working) -> Vec<u64> {
    let of_long = |long: &Long| {
        let mut results = vec![long.value];
        results.extend(long.rows.iter().map(|row| row.value));
        results
    };
    match working {
        Working::Long(long) | Working::Story { long: Some(long), .. } => of_long(long),
        Working::Grid(grid) => {
            let mut results = vec![grid.value];
            results.extend(grid.rows.iter().flat_map(|row| row.cells.iter().chain([&row.value])));
            results
        }
        Working::Lattice(lattice) => vec![lattice.value],
        Working::Route(route) => vec![route.value],
        Working::Estimate(estimate) => vec![estimate.value],
        Working::Story { long: None, .. } | Working::Steps { .. } => Vec::new(),
    }
}

/// The two numbers a written working multiplies.
pub(super) fn factors(working: &Working) -> Option<(u64, u64)> {
    match working {
        Working::Long(long) => Some((long.a, long.b)),
        Working::Grid(grid) => Some((grid.a, grid.b)),
        Working::Lattice(lattice) => Some((lattice.a, lattice.b)),
        _ => None,
    }
}

fn power(exponent: usize) -> u128 {
    10_u128.pow(u32::try_from(exponent).unwrap_or(u32::MAX))
}

/// The digits of a number, ones first, by division.
fn digits(n: u64) -> Vec<u64> {
    let mut digits = vec![n % 10];
    let mut rest = n / 10;
    while rest > 0 {
        digits.push(rest % 10);
        rest /= 10;
    }
    digits
}

fn product(a: u64, b: u64, claimed: u64) -> Checked {
    let [x, y, p] = [a, b, claimed].map(|n| n.to_string());
    if multiply(&x, &y).as_ref() != Some(&p) {
        return fault(format!("{a} * {b} is not {claimed}"));
    }
    proofs(&x, &y, &p)
}

fn total(parts: &[u64], claimed: u64) -> Checked {
    let sum = parts.iter().try_fold("0".to_owned(), |sum, part| add(&sum, &part.to_string()));
    if sum == Some(claimed.to_string()) {
        Ok(())
    } else {
        fault(format!("{parts:?} do not add up to {claimed}"))
    }
}

fn longer_on_top(a: u64, b: u64) -> Checked {
    if digits(a).len() < digits(b).len() {
        return fault(format!("the shorter number {a} stands above {b}"));
    }
    Ok(())
}

fn long(long: &Long) -> Checked {
    longer_on_top(long.a, long.b)?;
    let wide = digits(long.a).len();
    for row in &long.rows {
        let multiplier = u64::from(row.digit)
            .checked_mul(row.place)
            .ok_or_else(|| format!("a place of {}", row.place))?;
        product(long.a, multiplier, row.value)?;
        let carried = |place: usize| {
            u128::from(long.a) % power(place + 1) * u128::from(row.digit) / power(place + 1)
        };
        let right = |(place, carry): (usize, &u8)| u128::from(*carry) == carried(place);
        if row.carries.len() != wide || !row.carries.iter().enumerate().all(right) {
            return fault(format!("the carries of {} * {multiplier} are wrong", long.a));
        }
    }
    places(long.b, &long.rows.iter().map(|r| (r.digit, r.place)).collect::<Vec<_>>())?;
    let values: Vec<u64> = long.rows.iter().map(|r| r.value).collect();
    total(&values, long.value)?;
    product(long.a, long.b, long.value)?;
    let columns = if long.rows.len() > 1 { digits(long.value).len() } else { 0 };
    let carried = |place: usize| {
        values.iter().map(|v| u128::from(*v) % power(place + 1)).sum::<u128>() / power(place + 1)
    };
    let right = |(place, carry): (usize, &u8)| u128::from(*carry) == carried(place);
    if long.adding_carries.len() != columns || !long.adding_carries.iter().enumerate().all(right) {
        return fault(format!("the carries of adding {values:?} are wrong"));
    }
    Ok(())
}

/// Whether rows of these digits and places stand for all of b, each digit that is not zero once,
/// in one direction.
fn places(b: u64, rows: &[(u8, u64)]) -> Checked {
    let rising = rows.is_sorted_by(|one, next| one.1 < next.1);
    let falling = rows.is_sorted_by(|one, next| one.1 > next.1);
    let parts: Vec<u64> = rows.iter().map(|(digit, place)| u64::from(*digit) * place).collect();
    let placed = rows.iter().all(|(digit, place)| *digit < 10 && power_of_ten(*place));
    if !placed || !(rising || falling) || total(&parts, b).is_err() {
        return fault(format!("the rows {parts:?} are not those of {b}"));
    }
    Ok(())
}

fn power_of_ten(n: u64) -> bool {
    digits(n).iter().sum::<u64>() == 1
}

fn grid(grid: &Grid) -> Checked {
    longer_on_top(grid.a, grid.b)?;
    total(&grid.parts, grid.a)?;
    let round = |part: &u64| digits(*part).iter().filter(|d| **d != 0).count() == 1;
    if !grid.parts.iter().all(round) {
        return fault(format!("the parts {:?} are not round", grid.parts));
    }
    places(grid.b, &grid.rows.iter().map(|r| (r.digit, r.place)).collect::<Vec<_>>())?;
    for row in &grid.rows {
        if row.cells.len() != grid.parts.len() {
            return fault(format!("a row of {} cells", row.cells.len()));
        }
        for (cell, part) in row.cells.iter().zip(&grid.parts) {
            product(*part, u64::from(row.digit) * row.place, *cell)?;
        }
        total(&row.cells, row.value)?;
    }
    total(&grid.rows.iter().map(|r| r.value).collect::<Vec<_>>(), grid.value)?;
    product(grid.a, grid.b, grid.value)
}

fn lattice(lattice: &Lattice) -> Checked {
    longer_on_top(lattice.a, lattice.b)?;
    product(lattice.a, lattice.b, lattice.value)?;
    let (top, side) = (digits(lattice.a), digits(lattice.b));
    let (m, n) = (top.len(), side.len());
    let wrong = || fault(format!("the lattice of {} * {} is wrong", lattice.a, lattice.b));
    if lattice.cells.len() != n || lattice.cells.iter().any(|row| row.len() != m) {
        return wrong();
    }
    let mut diagonals = vec![0_u64; m + n];
    for (i, t) in top.iter().enumerate() {
        for (j, s) in side.iter().enumerate() {
            let cell = u64::from(lattice.cells[n - 1 - j][m - 1 - i]);
            if cell != t * s {
                return wrong();
            }
            diagonals[i + j] += cell % 10;
            diagonals[i + j + 1] += cell / 10;
        }
    }
    if lattice.diagonals.len() != m + n || lattice.carries.len() != m + n {
        return wrong();
    }
    let (mut carry, mut written) = (0, 0_u128);
    for (place, own) in diagonals.iter().enumerate() {
        let sum = own + carry;
        carry = sum / 10;
        written += u128::from(sum % 10) * power(place);
        let noted = (lattice.diagonals[place], lattice.carries[place]);
        if (u64::from(noted.0), u64::from(noted.1)) != (sum, carry) {
            return wrong();
        }
    }
    if written == u128::from(lattice.value) { Ok(()) } else { wrong() }
}

fn route(route: &Route) -> Checked {
    let value = i128::from(route.value);
    if !route.sum.is_empty() && evaluate(&route.sum)? != value {
        return fault(format!("{} is not {value}", route.sum));
    }
    for step in &route.steps {
        if evaluate(&step.expression)? != value || step.value != route.value {
            return fault(format!("the step {} is not {value}", step.expression));
        }
    }
    match route.steps.last() {
        Some(last) if last.expression == route.value.to_string() => Ok(()),
        _ => fault(format!("the route does not end in {value}")),
    }
}

fn estimate(estimate: &Estimate) -> Checked {
    let [x, y] = estimate.factors;
    product(x, y, estimate.value)?;
    let round = |n: &u64| digits(*n).iter().filter(|d| **d != 0).count() <= 1;
    let (least, most) = estimate.between;
    if !estimate.factors.iter().all(round) || least > most {
        return fault(format!("{x} and {y} are no round factors, or {least} is above {most}"));
    }
    Ok(())
}

/// Whether the numbers are what a × b is estimated by: each the nearest with the same leading
/// place, a half going up, and the product between the two bounds.
pub(super) fn estimates(estimate: &Estimate, a: u64, b: u64) -> Checked {
    for (round, n) in [(estimate.factors[0], a), (estimate.factors[1], b)] {
        let unit = power(digits(n).len() - 1);
        let (round, n) = (u128::from(round), u128::from(n));
        let near = round % unit == 0 && 2 * round <= 2 * n + unit && 2 * n < 2 * round + unit;
        if !(near || round == n) {
            return fault(format!("{n} does not round to {round}"));
        }
    }
    let exact = u128::from(a) * u128::from(b);
    let (least, most) = estimate.between;
    if exact < u128::from(least) || u128::from(most) < exact {
        return fault(format!("{a} * {b} does not lie between {least} and {most}"));
    }
    // Nobody rounds one digit: the bounds are so many times it, one leading digit apart at most.
    for (one, n) in [(a, b), (b, a)].into_iter().filter(|(one, _)| (1..10).contains(one)) {
        let apart = u128::from(most.saturating_sub(least));
        if least % one != 0 || apart > u128::from(one) * power(digits(n).len() - 1) {
            return fault(format!("{a} * {b} lies between closer numbers than {least} and {most}"));
        }
    }
    Ok(())
}

fn story(story: &Story) -> Checked {
    if story.steps.is_empty() {
        return fault("a story without a step".to_owned());
    }
    story.steps.iter().try_for_each(|step| sentence(step))
}

/// What a sentence says two sides are equal, is.
pub(super) fn sentence(text: &str) -> Checked {
    for sides in sums(text) {
        if sides.windows(2).any(|pair| pair[0] != pair[1]) {
            return fault(format!("“{text}” is not true"));
        }
    }
    Ok(())
}

/// Whether a text names the number.
pub(super) fn names(text: &str, number: &str) -> bool {
    as_number(number).is_some_and(|n| numbers(text).contains(&n))
}

/// Whether every number of a text is the item's answer or one of its expression.
pub(super) fn names_only(text: &str, item: &Item) -> bool {
    let told = numbers(item.expression.as_deref().unwrap_or_default());
    let answer = as_number(&item.answer);
    numbers(text).iter().all(|n| told.contains(n) || Some(*n) == answer)
}
