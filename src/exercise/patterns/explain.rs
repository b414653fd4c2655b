//! From one wrong answer to the patterns that may lie behind it.

use super::both::one_row;
use super::column::Pen;
use super::long::{right_row, row, zeros_over};
use super::working::Detail;
use super::{LARGEST, Pattern, Procedure, WrongWorking, catalogue, facts, pattern, rows};
use crate::number::digits;

/// One pattern that gives an answer, and how.
#[derive(Debug, Clone)]
pub struct Cause {
    /// The pattern.
    pub pattern: &'static Pattern,
    /// Whether the numbers were taken the other way round.
    pub turned: bool,
    /// What the pupil would have on the page.
    pub working: WrongWorking,
}

/// What the catalogue says of one answer to a × b.
#[derive(Debug, Clone)]
pub struct Explanation {
    /// The patterns that give this answer, in the order of the catalogue; several are a tie that
    /// only another sum can break. None for the product itself and for a stray answer.
    pub gives: Vec<Cause>,
    /// Patterns that give other wrong answers to this sum.
    pub gives_other: Vec<&'static Pattern>,
    /// Patterns that this sum cannot show: they give the product, or do not apply.
    pub hidden: Vec<&'static Pattern>,
}

impl Explanation {
    /// Whether the answer fits no pattern.
    pub fn is_stray(&self) -> bool {
        self.gives.is_empty()
    }
}

/// Which patterns give this answer to a × b, which give another, and which this sum cannot show.
pub fn explain(a: u64, b: u64, answer: u64) -> Explanation {
    let mut said = Explanation { gives: Vec::new(), gives_other: Vec::new(), hidden: Vec::new() };
    for pattern in catalogue() {
        let attempts = pattern.attempts(a, b);
        if attempts.is_empty() {
            said.hidden.push(pattern);
            continue;
        }
        match attempts.into_iter().find(|t| t.working.value() == answer) {
            Some(t) => said.gives.push(Cause { pattern, turned: t.turned, working: t.working }),
            None => said.gives_other.push(pattern),
        }
    }
    said
}

/// The wrong working of a × b by the pattern of this name that ends in `answer`; without an answer
/// the usual one. `None` where the pattern is unknown, does not apply or gives no such answer.
pub fn show(name: &str, a: u64, b: u64, answer: Option<u64>) -> Option<WrongWorking> {
    let attempts = pattern(name)?.attempts(a, b);
    let wanted = |w: &WrongWorking| answer.is_none_or(|answer| w.value() == answer);
    attempts.into_iter().map(|t| t.working).find(wanted)
}

/// The same for one row of a long multiplication that stands by itself, a × digit × place: the
/// answer in full value, with the zeros as the pupil writes them.
pub fn show_row(
    name: &str,
    a: u64,
    (digit, place): (u8, u64),
    answer: Option<u64>,
) -> Option<WrongWorking> {
    if a > LARGEST {
        return None;
    }
    let (top, power) = (digits(a), digits(place).len() - 1);
    let written = |pen: Pen| one_row(a, row(pen, digit, power, power));
    let right = |shift: usize| right_row(&top, digit, power, shift, Detail::Page);
    let put = |shift: usize| one_row(a, right(shift));
    let pattern = pattern(name)?;
    let pages: Vec<WrongWorking> = match (pattern.procedure, pattern.name) {
        (Procedure::Row(work), _) => {
            rows::apply(work, a, digit, Detail::Page).map(written).into_iter().collect()
        }
        (Procedure::SingleFact(x, y), _) => {
            let taken = facts::taken_for(x, y).iter();
            taken
                .map(|&n| {
                    let mut pen = Pen::new(true);
                    rows::fact_wrong(&top, digit, (x, y), n, &mut pen);
                    written(pen)
                })
                .collect()
        }
        (_, "placeholder-left-out") => vec![put(0)],
        (_, "hundreds-row-shifted-once") if power > 1 => vec![put(1)],
        (_, "later-rows-extra-zero") if power > 0 => vec![put(power + 1)],
        (_, "zero-written-over-digit") => {
            let mut row = right(0);
            zeros_over(&mut row);
            vec![one_row(a, row)]
        }
        _ => show(name, a, u64::from(digit) * place, None).into_iter().collect(),
    };
    let product = a * u64::from(digit) * place;
    let wanted = |w: &WrongWorking| answer.is_none_or(|answer| w.value() == answer);
    pages.into_iter().find(|page| page.value() != product && wanted(page))
}
