//! What the diagnosis takes for granted, in one table, and how a class's own marks bend it.
//!
//! | what | value | source |
//! |---|---|---|
//! | pupils without any pattern | 80 % | default; 5 to 13 % made systematic errors in Cox 1974 |
//! | pupils with two patterns at once | 2 % | default; compounds are searched up to small sizes |
//! | weight of a pattern seen in classrooms, of a derived one or a single fact | 3, 1 | default |
//! | how often a pupil with a pattern uses it where it shows | 60, 75 or 90 % | default; less than always: Hatano, Amaiwa and Inagaki 1996 |
//! | slips | 10 % of answers | default |
//! | slips that come out as one of n answers of patterns | 4 in n, at most half; as the patterns weigh | default |
//! | answers any other slip is spread over | 60, on a choice its other options | default |
//! | the usual way round against the other | 9 to 1, of equally long numbers 3 to 1 | default |
//! | named from | 80 % | default |
//! | counted as found from | 50 % | more probable than all else together |
//! | an earlier check counts | until the pupil has met the pattern in a newer one, of any skill, and done it rightly | default |
//! | held against a pupil | what explains a wrong answer of the newest check | default |
//! | most that a class's marks can do to a pattern's weight | four times | default |
//! | the class that is marked teaches how many have any pattern, and how many of these a single fact or two | counting the above like 10 pupils more, the pupil's own answers left out | default |
//! | most that it can do to the odds of any pattern, of single facts against others, of two against one | once to twice, a quarter to four times each | default; measured in `DEVELOPERS.md` |
//!
//! "Default" means that no source gives the number for multiplication: each is a field of
//! [`Model`], so that it can be changed in one place.

use std::collections::BTreeMap;

/// What the diagnosis takes for granted: see the table at the head of this file.
#[derive(Debug, Clone, PartialEq)]
pub struct Model {
    /// How likely a pupil has no pattern, before anything is known.
    pub none: f64,
    /// How likely a pupil has two patterns at once.
    pub two: f64,
    /// How often a single wrong fact is met beside other patterns, against what it weighs.
    pub facts: f64,
    /// Whether the class that is marked teaches those three by its answers: see `shares`.
    pub learns: bool,
    /// How much of the rest a pattern gets that is not in the catalogue (a story's wrong turn);
    /// catalogue patterns bring their own weight, 3 or 1.
    pub other_weight: u32,
    /// How often a pupil with a pattern uses it where it shows; each is held equally likely.
    pub consistency: [f64; 3],
    /// How often any pupil slips.
    pub slip: f64,
    /// From which probability on a pattern is named.
    pub name_from: f64,
    /// Below which probability a pattern is said to be hardly there, and is no rival to another.
    pub list_from: f64,
    /// At most so many patterns are listed beside those that explain what no other does.
    pub list_most: usize,
    /// So many of the likeliest patterns are tried in pairs.
    pub paired: usize,
    /// With how many pupils of the class each pattern was found before: it weighs more.
    pub found_before: BTreeMap<String, u32>,
}

/// The most that a class's marks can multiply a pattern's weight by, or the odds that a pupil has any.
pub(super) const MOST_TIMES: f64 = 4.0;

/// So many pupils with a pattern double its weight (a default without a source).
const DOUBLES: f64 = 4.0;

impl Default for Model {
    fn default() -> Self {
        Model {
            none: 0.80,
            two: 0.02,
            facts: 1.0,
            learns: false,
            other_weight: 3,
            consistency: [0.60, 0.75, 0.90],
            slip: 0.10,
            name_from: 0.80,
            list_from: 0.05,
            list_most: 6,
            paired: 12,
            found_before: BTreeMap::new(),
        }
    }
}

impl Model {
    /// The model for a class in which these patterns were found with so many pupils before.
    /// Whatever was found, no weight grows more than fourfold, and "no pattern" stays as likely.
    pub fn after(found: BTreeMap<String, u32>) -> Model {
        Model { found_before: found, ..Model::default() }
    }

    /// The same, learning from the class that is marked how many pupils have a pattern, a single
    /// wrong fact or two patterns.
    pub fn learning(self) -> Model {
        Model { learns: true, ..self }
    }

    /// What a pattern weighs beside others, its own weight being this.
    pub(super) fn weight(&self, name: &str, own: u32) -> f64 {
        let found = self.found_before.get(name).copied().unwrap_or(0);
        let times = (1.0 + f64::from(found) / DOUBLES).min(MOST_TIMES);
        f64::from(own) * times
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_a_class_showed_counts_up_to_a_bound() {
        let found = |n| Model::after([("only-like-places".to_owned(), n)].into());
        let weights = [0, 4, 12, 1000].map(|n| found(n).weight("only-like-places", 3));
        assert_eq!(weights, [3.0, 6.0, 12.0, 12.0]);
        assert_eq!(found(1000).weight("carry-not-added", 3), 3.0);
        assert_eq!(found(1000).none, Model::default().none);
    }
}
