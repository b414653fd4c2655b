//! Sums that stand in sentences: found and worked out by a small reader of their own.

use std::iter::Peekable;
use std::str::Chars;

/// What an expression of whole numbers with + − × ÷ and brackets comes to; `None` where it is not
/// one. Division must come out whole.
pub fn value(text: &str) -> Option<i64> {
    let clean: String = text.chars().filter(|c| !c.is_whitespace() && *c != ',').collect();
    let mut rest = clean.chars().peekable();
    let value = sum(&mut rest)?;
    rest.next().is_none().then_some(value)
}

fn sum(rest: &mut Peekable<Chars>) -> Option<i64> {
    let mut value = term(rest)?;
    loop {
        match rest.peek() {
            Some('+') => {
                rest.next();
                value = value.checked_add(term(rest)?)?;
            }
            Some('−' | '-') => {
                rest.next();
                value = value.checked_sub(term(rest)?)?;
            }
            _ => return Some(value),
        }
    }
}

fn term(rest: &mut Peekable<Chars>) -> Option<i64> {
    let mut value = factor(rest)?;
    loop {
        match rest.peek() {
            Some('×' | '*') => {
                rest.next();
                value = value.checked_mul(factor(rest)?)?;
            }
            Some('÷') => {
                rest.next();
                let by = factor(rest)?;
                value = (by != 0 && value % by == 0).then(|| value / by)?;
            }
            Some('/') => {
                rest.next();
                rest.next_if_eq(&'/')?;
                let by = factor(rest)?;
                value = (by != 0).then(|| value.div_euclid(by))?;
            }
            _ => return Some(value),
        }
    }
}

fn factor(rest: &mut Peekable<Chars>) -> Option<i64> {
    if rest.next_if_eq(&'(').is_some() {
        let value = sum(rest)?;
        rest.next_if_eq(&')')?;
        return Some(value);
    }
    let mut digits = String::new();
    while let Some(digit) = rest.next_if(char::is_ascii_digit) {
        digits.push(digit);
    }
    digits.parse().ok()
}

/// The chains "a = b = c" in a text, each as its parts.
pub fn equations(text: &str) -> Vec<Vec<String>> {
    let belongs = |c: char| c.is_ascii_digit() || " ,+−×÷()=\u{A0}".contains(c);
    let mut found = Vec::new();
    for run in text.split(|c: char| !belongs(c)) {
        for part in run.split(", ") {
            if part.contains('=') {
                found.push(
                    part.split('=').map(|p| p.trim().trim_end_matches(',').to_owned()).collect(),
                );
            }
        }
    }
    found
}

#[test]
fn the_reader_of_sums_can_tell_true_from_false() {
    assert_eq!(value("30 × 40 − (2 + 3) × 10"), Some(1150));
    assert_eq!(value("1,645 ÷ 35"), Some(47));
    assert_eq!(value("17 // 5"), Some(3));
    assert_eq!(value("7 ÷ 2"), None);
    assert_eq!(value("7 × × 2"), None);
    assert_eq!(equations("So 2 × 3 = 6, and 6 = 3 + 3."), [["2 × 3", "6"], ["6", "3 + 3"]]);
}
