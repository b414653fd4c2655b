//! A wrong answer as it would look on paper, for the teacher to hold beside the pupil's sheet.

use crate::exercise::Item;
use crate::exercise::patterns::{Task, WrongWorking, show, show_row};
use crate::method::HouseStyle;
use serde::{Deserialize, Serialize};
use std::fmt::Write;

/// What a pupil with a pattern would have on the page for one item.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Shown {
    /// The item's id.
    pub item: String,
    /// The sum, as printed.
    pub sum: String,
    /// The working, with the pupil's answer at its end.
    pub working: WrongWorking,
}

/// The working of a pattern that ends in this answer; `None` where the pattern cannot show one.
pub(super) fn shown(item: &Item, pattern: &str, given: &str) -> Option<Shown> {
    let answer: u64 = given.parse().ok()?;
    let working = match Task::of(item)? {
        Task::Written(a, b) | Task::Adding(a, b) | Task::Mental(a, b) => {
            show(pattern, a, b, Some(answer))?
        }
        Task::Row { a, digit, place } => show_row(pattern, a, (digit, place), Some(answer))?,
        _ => return None,
    };
    Some(Shown { item: item.id.clone(), sum: item.prompt.clone(), working })
}

impl Shown {
    /// The working of these patterns as on squared paper, in letters of equal width; below it what the
    /// pupil says in the columns of rows that are not as they should be.
    pub fn to_text(&self, patterns: &[&str], style: &HouseStyle, indent: &str) -> String {
        let mut out = String::new();
        let working = self.working.in_house(patterns, style);
        let lines = working.page(style).into_iter().chain(working.said(style));
        for line in lines {
            writeln!(out, "{}", format!("{indent}{line}").trim_end()).ok();
        }
        out
    }
}
