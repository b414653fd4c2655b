//! Answers that look as though they had been typed or saved wrongly.

use super::answers::{Answers, CROSS, TICK};
use super::question::Question;
use super::written::{answer, plain_number, without_money};
use crate::exercise::{Item, Kind};
use crate::report::Message;

/// What is odd about an answer to a sum.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Odd {
    /// It is no number, though there are digits in it.
    NoNumber,
    /// There is no digit in it, and no number is asked for in words.
    NoAnswer,
    /// It is none of the options.
    NoOption,
    /// A sign stands before a number.
    Signed,
    /// It has far more digits than any mistake gives.
    TooLong,
    /// A spreadsheet shortened it, so that its digits are lost.
    Shortened,
}

/// So many digits more than the right answer no known mistake gives; the longest, products written
/// in full in every row, gives four more.
const MORE_DIGITS: usize = 4;

impl Odd {
    /// What is odd about this answer, as read; where words are asked for they may be any.
    pub(super) fn of(item: &Item, given: &str) -> Option<Odd> {
        if given == TICK || given == CROSS {
            return None;
        }
        let (_, given) = without_money(given);
        let digits = given.contains(|c: char| c.is_ascii_digit());
        if !item.choices.is_empty() {
            return (!digits && !is_option(item, given)).then_some(Odd::NoOption);
        }
        let right = plain_number(&item.answer)?;
        if matches!(item.kind, Kind::Story | Kind::Words | Kind::Reason | Kind::Choice) {
            return (!digits).then_some(Odd::NoAnswer);
        }
        match plain_number(given) {
            Some(number) => (number.len() > right.len() + MORE_DIGITS).then_some(Odd::TooLong),
            None if !digits => Some(Odd::NoAnswer),
            None if is_scientific(given) => Some(Odd::Shortened),
            None if is_signed(given) => Some(Odd::Signed),
            None => Some(Odd::NoNumber),
        }
    }

    /// Whether the answer counts all the same.
    pub(super) fn counts(self) -> bool {
        !matches!(self, Odd::Shortened | Odd::NoAnswer | Odd::NoOption)
    }

    /// What the teacher is told, without a place.
    pub(super) fn message(self, id: &str, given: &str) -> Message {
        match self {
            Odd::NoNumber => Message::warning(format!("`{given}` is no number"))
                .label(format!("counted as a wrong answer to `{id}`"))
                .hint(
                    "if it was mistyped, mend it and mark again; leave empty what was not answered",
                ),
            Odd::NoAnswer => Message::mistake(format!("`{given}` is no number"))
                .label(format!("counted as no answer to `{id}`"))
                .hint(NOT_THERE),
            Odd::NoOption => Message::mistake(format!("`{given}` is none of the options"))
                .label(format!("counted as no answer to `{id}`"))
                .hint(NOT_THERE),
            Odd::Signed => {
                Message::warning(format!("a sign stands before the number in `{given}`"))
                    .label(format!("counted as a wrong answer to `{id}`"))
                    .hint("if the sign was not the pupil's, take it away and mark again")
            }
            Odd::TooLong => Message::warning(format!("`{given}` has {} digits", given.len()))
                .label(format!("counted as a wrong answer to `{id}`"))
                .hint("are two answers in one field? mend it and mark again"),
            Odd::Shortened => Message::mistake(format!(
                "`{given}` lost its digits in the spreadsheet"
            ))
            .label(format!("counted as no answer to `{id}`"))
            .hint(
                "set the column to plain numbers or text, type the answer again, save, mark again",
            ),
        }
    }
}

/// What to do about a word where an answer should be.
const NOT_THERE: &str =
    "`absent`, or nothing, is for who was not there, `x` for wrong; mend it and mark again";

/// Whether an answer names an option, by its letter or its words.
fn is_option(item: &Item, given: &str) -> bool {
    let letter = given.trim_end_matches([')', '.']).to_uppercase();
    let lettered = ('A'..='Z').take(item.choices.len()).any(|c| c.to_string() == letter);
    lettered || item.choices.iter().any(|c| answer(&c.text).is_some_and(|text| text == given))
}

/// "-8280": no product of whole numbers is below nought, so the sign is the pupil's mistake or the
/// typist's.
fn is_signed(text: &str) -> bool {
    let rest = text.trim_start_matches(['-', '−', '–', '—']);
    rest.len() < text.len() && plain_number(rest.trim_start()).is_some()
}

/// "2.09E+06", as spreadsheets show long numbers in narrow columns.
fn is_scientific(text: &str) -> bool {
    let upper = text.to_uppercase();
    let Some((number, power)) = upper.split_once('E') else { return false };
    let power = power.trim_start_matches('+');
    let digit = |c: char| c.is_ascii_digit();
    let part = |c: char| digit(c) || c == '.' || c == ',';
    !number.is_empty() && number.chars().all(part) && !power.is_empty() && power.chars().all(digit)
}

/// So many right answers under each other's column look like more than chance.
const SWAPPED: usize = 2;

/// Pairs of items under which pupils gave the right answers of the other one.
pub(super) fn swapped<'a>(items: &[&'a Item], answers: &Answers) -> Vec<(&'a str, &'a str)> {
    if answers.pupils.len() < SWAPPED {
        return Vec::new();
    }
    let questions: Vec<Question> = items.iter().map(|item| Question::of(item)).collect();
    let given = |id: &str| -> Vec<&str> {
        answers.pupils.values().filter_map(|row| row.get(id)?.as_deref()).collect()
    };
    let mut found = Vec::new();
    for (place, one) in questions.iter().enumerate() {
        for other in &questions[place + 1..] {
            let crossed = |own: &Question, theirs: &Question| {
                let all = given(&own.item.id);
                let right = |q: &Question, a: &str| a != TICK && q.is_right(&q.meant(a));
                let over = all.iter().filter(|a| right(theirs, a) && !right(own, a)).count();
                let here = all.iter().filter(|a| right(own, a)).count();
                over >= SWAPPED && over > here
            };
            if crossed(one, other) && crossed(other, one) {
                found.push((one.item.id.as_str(), other.item.id.as_str()));
            }
        }
    }
    found
}
