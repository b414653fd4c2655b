//! What a pupil is asked to do, as far as error patterns can tell, and what each would answer.

use super::likely::route_of;
use super::working::Detail;
use super::{Family, Pattern, Procedure, WrongWorking, catalogue, facts, mental, rows};
use crate::exercise::{Given, Item, Kind, Space, Working};
use crate::method::RouteKind;

/// A question that error patterns know.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Task {
    /// A whole product by a written method.
    Written(u64, u64),
    /// One row of a long multiplication: multiplicand × digit × place, answered in full value.
    Row {
        /// The multiplicand.
        a: u64,
        /// The digit of the multiplier, 1 to 9.
        digit: u8,
        /// Its place: 1, 10, 100, …
        place: u64,
    },
    /// The sum of the rows of a product, which are printed and right.
    Adding(u64, u64),
    /// A product in the head.
    Mental(u64, u64),
    /// About how large a product is.
    Estimate(u64, u64),
}

/// What one pattern would answer.
#[derive(Debug, Clone)]
pub struct Prediction {
    /// The pattern.
    pub pattern: &'static Pattern,
    /// Its answers, and whether each comes from taking the numbers the other way round.
    pub answers: Vec<(u64, bool)>,
}

/// The two numbers of a bare sum as printed: "312 × 48", grouped or not.
fn printed_factors(prompt: &str) -> Option<(u64, u64)> {
    let (left, right) = prompt.split_once('×')?;
    let part = |c: &char| c.is_ascii_digit() || c.is_whitespace() || *c == ',';
    let digits = |text: &mut dyn Iterator<Item = char>| -> Vec<char> {
        text.take_while(part).filter(char::is_ascii_digit).collect()
    };
    let mut before = digits(&mut left.chars().rev());
    before.reverse();
    let after = digits(&mut right.chars());
    let number = |digits: Vec<char>| digits.into_iter().collect::<String>().parse().ok();
    Some((number(before)?, number(after)?))
}

/// The two numbers of an expression `a*b`.
fn factors(expression: &str) -> Option<(u64, u64)> {
    let (a, b) = expression.split_once('*')?;
    Some((a.trim().parse().ok()?, b.trim().parse().ok()?))
}

impl Task {
    /// What an item asks for; `None` for kinds whose wrong answers only their makers know.
    pub fn of(item: &Item) -> Option<Task> {
        // An estimate's expression holds the rounded numbers, its prompt those to be rounded.
        let (a, b) = match item.kind {
            Kind::Estimate => printed_factors(&item.prompt)?,
            _ => factors(item.expression.as_deref()?)?,
        };
        match item.kind {
            Kind::Written if matches!(item.space, Space::Squares { given: Given::Rows, .. }) => {
                Some(Task::Adding(a, b))
            }
            Kind::Written => Some(Task::Written(a, b)),
            // A row of a grid goes wrong as a grid of one row does.
            Kind::Row if matches!(item.working, Working::Grid(_)) => Some(Task::Written(a, b)),
            Kind::Mental => Some(Task::Mental(a, b)),
            Kind::Estimate => Some(Task::Estimate(a, b)),
            Kind::Row => {
                let place = crate::number::ten_to(b.checked_ilog10()? as usize);
                let digit = u8::try_from(b / place).ok()?;
                b.is_multiple_of(place * u64::from(digit)).then_some(())?;
                Some(Task::Row { a, digit, place })
            }
            _ => None,
        }
    }
    /// The right answer; for an estimate that of rounding to leading digits.
    pub fn right(&self) -> u64 {
        match *self {
            Task::Written(a, b) | Task::Adding(a, b) | Task::Mental(a, b) => a * b,
            Task::Row { a, digit, place } => a * u64::from(digit) * place,
            Task::Estimate(a, b) => crate::method::estimate(a, b).value,
        }
    }
    /// What each pattern would answer, where that is wrong, in the order of the catalogue.
    pub fn predictions(&self) -> Vec<Prediction> {
        let found = catalogue()
            .iter()
            .map(|pattern| Prediction { pattern, answers: self.answers(pattern) });
        found.filter(|p| !p.answers.is_empty()).collect()
    }
    /// What this pattern would answer, where that is wrong.
    pub fn answers(&self, pattern: &Pattern) -> Vec<(u64, bool)> {
        let mut answers = match *self {
            Task::Written(a, b) if of_written(pattern) => plain(pattern, a, b),
            Task::Adding(a, b) if pattern.name == "adding-carries-lost" => {
                // On paper there are the rows of long multiplication, no grid.
                let worked = pattern.worked(a, b, Detail::Answer).into_iter();
                let rows = worked.filter(|w| matches!(w, WrongWorking::Long(_)));
                rows.map(|w| (w.value(), false)).collect()
            }
            Task::Mental(a, b) if of_mental(pattern) => plain(pattern, a, b),
            Task::Estimate(a, b) if pattern.family == Family::Estimate => estimated(pattern, a, b),
            Task::Row { a, digit, place } => row_answers(pattern, a, digit, place),
            _ => Vec::new(),
        };
        answers.retain(|&(answer, _)| answer != self.right());
        answers
    }
    /// The same as the class would come to it: the longer number on top; where a product is found by
    /// adjusting, the number nearer to a round one adjusted and the other kept.
    pub fn usual_answers(&self, pattern: &Pattern) -> Vec<u64> {
        if let (Task::Mental(a, b), Some(RouteKind::Adjusting)) = (*self, route_of(pattern)) {
            return mental::adjusting(pattern, a, b);
        }
        self.answers(pattern).into_iter().filter(|(_, turned)| !turned).map(|(n, _)| n).collect()
    }
}

fn of_written(pattern: &Pattern) -> bool {
    !matches!(pattern.family, Family::Mental | Family::Estimate)
}

/// Patterns of mental work; two of the written ones are the same habit there.
fn of_mental(pattern: &Pattern) -> bool {
    let family = pattern.family;
    matches!(family, Family::Fact | Family::Zeros | Family::Mental | Family::SingleFact)
        || matches!(pattern.name, "ones-copied" | "only-like-places")
}

fn plain(pattern: &Pattern, a: u64, b: u64) -> Vec<(u64, bool)> {
    pattern.turned_answers(a, b)
}

/// Estimates are symmetric, and the exact product is as wrong as any other number.
fn estimated(pattern: &Pattern, a: u64, b: u64) -> Vec<(u64, bool)> {
    pattern.worked(a, b, Detail::Answer).iter().map(|w| (w.value(), false)).collect()
}

fn row_answers(pattern: &Pattern, a: u64, digit: u8, place: u64) -> Vec<(u64, bool)> {
    let row = a * u64::from(digit);
    let value = match (pattern.procedure, pattern.name) {
        (Procedure::Row(procedure), _) => {
            rows::apply(procedure, a, digit, Detail::Answer).map(|pen| pen.value * place)
        }
        (Procedure::SingleFact(x, y), _) => {
            let wrong = facts::one_fact_wrong(x, y, a, u64::from(digit), Detail::Answer);
            return wrong.iter().map(|w| (w.value() * place, false)).collect();
        }
        (_, "placeholder-left-out") => Some(row),
        (_, "hundreds-row-shifted-once") if place > 10 => Some(row * 10),
        (_, "later-rows-extra-zero") if place > 1 => Some(row * place * 10),
        (_, "zero-written-over-digit") => Some(row / place * place),
        (_, "added-instead") => Some(a + u64::from(digit) * place),
        _ => None,
    };
    value.into_iter().map(|value| (value, false)).collect()
}
