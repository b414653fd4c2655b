//! Error patterns: wrong procedures that compute definite wrong answers.

use crate::method::{HouseStyle, Written};
use serde::{Deserialize, Serialize};

/// A wrong answer and the names of the patterns that give it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct WrongAnswer {
    /// The answer, digits without grouping.
    pub answer: String,
    /// The patterns' names, in the order of the catalogue.
    pub patterns: Vec<String>,
}

/// A pattern as the catalogue holds it.
#[derive(Debug, Clone, Copy)]
pub struct Pattern {
    /// Its name: what the pupil did.
    pub name: &'static str,
    /// What it shows, in at most 24 letters, for the key.
    pub short: &'static str,
    /// What it shows, for the teacher's page.
    pub shows: &'static str,
    /// How to teach it, a sentence or two.
    pub teach: &'static str,
}

/// All patterns, in the order of the catalogue.
pub fn catalogue() -> &'static [Pattern] {
    &[]
}

/// Every wrong answer any pattern gives for a × b, both ways round, under every layout and method.
pub fn all_wrong(a: u64, b: u64) -> Vec<WrongAnswer> {
    let _ = (a, b);
    Vec::new()
}

/// The wrong answers a class that writes like this may give to the whole product a × b, likeliest
/// first; none equals the right answer.
pub fn likely_wrong(a: u64, b: u64, method: Written, style: &HouseStyle) -> Vec<WrongAnswer> {
    let _ = (a, b, method, style);
    Vec::new()
}
