//! The two demonstration terms, every lesson composed, checked against arithmetic on whole
//! numbers of any size from the crate num-bigint, which the tool itself does not use.

use super::composed::{none_of, terms};
use num_bigint::BigInt;
use rungwise::exercise::{Item, Kind, Working};
use rungwise::lesson::Pack;
use rungwise::method::{Grid, Lattice, Long};
use std::collections::BTreeMap;
use std::iter::Peekable;
use std::str::Chars;

/// The packs of both terms.
fn packs() -> impl Iterator<Item = &'static Pack> {
    terms().iter().flat_map(|t| &t.packs)
}

fn items() -> impl Iterator<Item = &'static Item> {
    packs().flat_map(|p| &p.sections).flat_map(|s| &s.items)
}

/// What an expression of whole numbers with `+ - * //` and brackets comes to.
fn value(text: &str) -> Option<BigInt> {
    let mut rest = text.chars().filter(|c| *c != ' ').collect::<String>();
    rest.push('\n');
    let mut rest = rest.chars().peekable();
    let value = sum(&mut rest)?;
    (rest.next() == Some('\n')).then_some(value)
}

fn sum(rest: &mut Peekable<Chars>) -> Option<BigInt> {
    let mut value = product(rest)?;
    loop {
        if rest.next_if_eq(&'+').is_some() {
            value += product(rest)?;
        } else if rest.next_if_eq(&'-').is_some() {
            value -= product(rest)?;
        } else {
            return Some(value);
        }
    }
}

fn product(rest: &mut Peekable<Chars>) -> Option<BigInt> {
    let mut value = factor(rest)?;
    loop {
        if rest.next_if_eq(&'*').is_some() {
            value *= factor(rest)?;
        } else if rest.next_if_eq(&'/').is_some() {
            rest.next_if_eq(&'/')?;
            let (value_of, by) = (value, factor(rest)?);
            // Of numbers that are not negative, cutting off and rounding down are the same.
            let fair = value_of >= BigInt::ZERO && by > BigInt::ZERO;
            value = fair.then(|| value_of / by)?;
        } else {
            return Some(value);
        }
    }
}

fn factor(rest: &mut Peekable<Chars>) -> Option<BigInt> {
    if rest.next_if_eq(&'(').is_some() {
        let value = sum(rest)?;
        rest.next_if_eq(&')')?;
        return Some(value);
    }
    let digits: String = std::iter::from_fn(|| rest.next_if(char::is_ascii_digit)).collect();
    digits.parse().ok()
}

/// The numbers in a text, grouping taken out; a comma before a space ends a number.
fn numbers(text: &str) -> Vec<BigInt> {
    let chars: Vec<char> = text.chars().collect();
    let groups = |i: usize| {
        let digit = |n: Option<&char>| n.is_some_and(char::is_ascii_digit);
        matches!(chars[i], ',' | '\u{202F}') && digit(chars.get(i + 1))
    };
    let plain: String = (0..chars.len()).filter(|&i| !groups(i)).map(|i| chars[i]).collect();
    let parts = plain.split(|c: char| !c.is_ascii_digit());
    parts.filter_map(|part| part.parse().ok()).collect()
}

fn big(n: u64) -> BigInt {
    BigInt::from(n)
}

#[test]
fn the_evaluator_knows_precedence_brackets_and_size() {
    let cases = [
        ("2+3*4", "14"),
        ("(2+3)*4", "20"),
        ("20-3-4", "13"),
        ("7*5//2", "17"),
        ("99999999999*99999999999", "9999999999800000000001"),
    ];
    for (text, expected) in cases {
        assert_eq!(value(text).map(|v| v.to_string()).as_deref(), Some(expected), "{text}");
    }
    for text in ["", "2+", "2/3", "(2", "2)", "2 × 3", "5//0"] {
        assert_eq!(value(text), None, "{text}");
    }
    assert_eq!(numbers("2,365 × 1,48,000, or 7"), [2365, 148_000, 7].map(big));
}

#[test]
fn two_terms_are_at_least_eighty_lessons() {
    assert!(packs().count() >= 80, "{} lessons", packs().count());
    assert!(items().count() > 80 * 20, "{} items", items().count());
}

#[test]
fn every_expression_comes_to_its_answer() {
    let mut checked: BTreeMap<Kind, usize> = BTreeMap::new();
    let mut wrong = Vec::new();
    for item in items() {
        let Some(expression) = &item.expression else { continue };
        *checked.entry(item.kind).or_default() += 1;
        // The answer of a choice is printed text, so its grouping is taken out.
        let answer = match item.kind {
            Kind::Choice => numbers(&item.answer).into_iter().next(),
            _ => item.answer.parse().ok(),
        };
        let found = value(expression);
        if found.is_none() || found != answer {
            wrong.push(format!("{} {}: {expression} = {found:?}", item.id, item.answer));
        }
    }
    none_of(&wrong);
    for kind in [Kind::Mental, Kind::Written, Kind::Row, Kind::Story] {
        assert!(checked.get(&kind).is_some_and(|&n| n >= 20), "{kind:?}: {checked:?}");
    }
}

fn long_holds(long: &Long) -> bool {
    let rows = long
        .rows
        .iter()
        .all(|row| big(row.value) == big(long.a) * big(u64::from(row.digit)) * big(row.place));
    let multiplier: BigInt =
        long.rows.iter().map(|row| big(u64::from(row.digit)) * big(row.place)).sum();
    let total: BigInt = long.rows.iter().map(|row| big(row.value)).sum();
    let product = big(long.a) * big(long.b);
    rows && multiplier == big(long.b) && total == product && big(long.value) == product
}

fn grid_holds(grid: &Grid) -> bool {
    let parts: BigInt = grid.parts.iter().copied().map(big).sum();
    let rows = grid.rows.iter().all(|row| {
        let by = big(u64::from(row.digit)) * big(row.place);
        let cells = row.cells.iter().zip(&grid.parts).all(|(&c, &p)| big(c) == big(p) * &by);
        cells && row.cells.len() == grid.parts.len() && big(row.value) == big(grid.a) * by
    });
    let total: BigInt = grid.rows.iter().map(|row| big(row.value)).sum();
    let product = big(grid.a) * big(grid.b);
    rows && parts == big(grid.a) && total == product && big(grid.value) == product
}

fn lattice_holds(lattice: &Lattice) -> bool {
    let digits = |n: u64| n.to_string().bytes().map(|b| b - b'0').collect::<Vec<u8>>();
    let (top, side) = (digits(lattice.a), digits(lattice.b));
    let expected: Vec<Vec<u8>> = side.iter().map(|s| top.iter().map(|t| s * t).collect()).collect();
    let read: String = lattice.diagonals.iter().rev().map(|d| (d % 10).to_string()).collect();
    let product = big(lattice.a) * big(lattice.b);
    lattice.cells == expected
        && read.parse() == Ok(product.clone())
        && big(lattice.value) == product
}

#[test]
fn every_working_is_that_of_its_product() {
    let (mut longs, mut grids, mut wrong) = (0, 0, Vec::new());
    for item in items() {
        let holds = match &item.working {
            Working::Long(long) | Working::Story { long: Some(long), .. } => {
                longs += 1;
                long_holds(long)
            }
            Working::Grid(grid) => {
                grids += 1;
                grid_holds(grid)
            }
            Working::Lattice(lattice) => lattice_holds(lattice),
            _ => continue,
        };
        if !holds {
            wrong.push(format!("{} {}", item.id, item.prompt));
        }
    }
    none_of(&wrong);
    assert!(longs > 200 && grids > 0, "{longs} longs, {grids} grids");
}

#[test]
fn every_choice_has_one_right_option_and_it_is_the_answer() {
    let mut wrong = Vec::new();
    let mut seen = 0;
    for item in items().filter(|i| i.kind == Kind::Choice || !i.choices.is_empty()) {
        seen += 1;
        let right: Vec<&str> =
            item.choices.iter().filter(|c| c.correct).map(|c| c.text.as_str()).collect();
        let same = item.choices.iter().filter(|c| c.text == item.answer).count();
        if right != [item.answer.as_str()] || same != 1 || item.choices.len() < 2 {
            wrong.push(format!("{}: {} of {:?}", item.id, item.answer, item.choices));
        }
    }
    none_of(&wrong);
    assert!(seen > 5, "{seen} choices");
}

#[test]
fn no_likely_wrong_answer_is_right() {
    let mut wrong = Vec::new();
    let mut seen = 0;
    for item in items() {
        for likely in &item.likely {
            seen += 1;
            let expected = item.expression.as_deref().and_then(value);
            let found: Option<BigInt> = likely.answer.parse().ok();
            if likely.answer == item.answer || (found.is_some() && found == expected) {
                wrong.push(format!("{} {}: {likely:?}", item.id, item.answer));
            }
        }
    }
    none_of(&wrong);
    assert!(seen > 500, "{seen} likely answers");
}

/// A printed side of a sum in the signs of an expression.
fn in_ascii(side: &str) -> String {
    let signs = |c: char| match c {
        '×' => Some('*'),
        '−' => Some('-'),
        ',' | '\u{A0}' | '\u{202F}' => None,
        c => Some(c),
    };
    side.trim().chars().filter_map(signs).collect::<String>().replace('÷', "//")
}

#[test]
fn what_is_printed_is_what_is_worked_out() {
    let mut wrong = Vec::new();
    let mut seen = 0;
    for item in items().filter(|i| matches!(i.kind, Kind::Mental | Kind::Written | Kind::Row)) {
        let Some(expression) = &item.expression else { continue };
        // "3,000 × 8 = 3 × 8 × 1,000 =" prints the sum and then a way to it.
        let mut sides = item.prompt.split('=').map(str::trim).filter(|s| !s.is_empty());
        let (mut printed, mut meant) =
            (numbers(sides.next().unwrap_or_default()), numbers(expression));
        printed.sort();
        meant.sort();
        let holds = if item.kind == Kind::Row {
            meant.iter().all(|n| printed.contains(n))
        } else {
            printed == meant && sides.all(|side| value(&in_ascii(side)) == value(expression))
        };
        seen += 1;
        if !holds {
            wrong.push(format!("{} {:?}: {} / {expression}", item.id, item.kind, item.prompt));
        }
    }
    none_of(&wrong);
    assert!(seen > 2000, "{seen} sums");
}
