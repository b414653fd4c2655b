//! A scene: a story whose numbers are still open, as the files of `curriculum/stories` hold it.

use super::plan::Plan;
use std::collections::BTreeMap;

/// What kind of situation a story tells of.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Structure {
    /// So many bags of so many.
    EqualGroups,
    /// So many pieces of such a length, weight or amount.
    EqualMeasures,
    /// So much a day, a minute or a ride.
    Rate,
    /// So many times as many, either way round.
    Comparison,
    /// Rows and columns.
    RowsAndColumns,
    /// Length times width.
    Area,
    /// Each of one kind with each of another.
    Combinations,
    /// Adding, subtracting or dividing.
    NotAProduct,
}

impl Structure {
    /// Every structure by its name in files.
    pub const ALL: [(&'static str, Structure); 8] = [
        ("equal-groups", Structure::EqualGroups),
        ("equal-measures", Structure::EqualMeasures),
        ("rate", Structure::Rate),
        ("comparison", Structure::Comparison),
        ("rows-and-columns", Structure::RowsAndColumns),
        ("area", Structure::Area),
        ("combinations", Structure::Combinations),
        ("not-a-product", Structure::NotAProduct),
    ];

    /// Its name in files and in JSON.
    pub fn name(self) -> &'static str {
        let found = Structure::ALL.iter().find(|(_, structure)| *structure == self);
        found.map_or("", |(name, _)| name)
    }

    /// As the teacher's page says it.
    pub fn in_words(self) -> &'static str {
        match self {
            Structure::EqualGroups => "equal groups",
            Structure::EqualMeasures => "equal measures",
            Structure::Rate => "so much each time",
            Structure::Comparison => "times as many",
            Structure::RowsAndColumns => "rows and columns",
            Structure::Area => "area",
            Structure::Combinations => "each with each",
            Structure::NotAProduct => "not a product",
        }
    }
}

/// The digits of the longer and the shorter factor of a story's product.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct StorySize {
    /// Digits of the longer factor.
    pub longer: u32,
    /// Digits of the shorter one.
    pub shorter: u32,
}

impl StorySize {
    /// Every size a scene may have, by its name in files, smallest first.
    pub const ALL: [(&'static str, StorySize); 7] = [
        ("2x1", StorySize { longer: 2, shorter: 1 }),
        ("3x1", StorySize { longer: 3, shorter: 1 }),
        ("2x2", StorySize { longer: 2, shorter: 2 }),
        ("3x2", StorySize { longer: 3, shorter: 2 }),
        ("4x1", StorySize { longer: 4, shorter: 1 }),
        ("4x2", StorySize { longer: 4, shorter: 2 }),
        ("4x3", StorySize { longer: 4, shorter: 3 }),
    ];
}

/// The least and the most a number of a story may be.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Range {
    /// The least.
    pub least: u64,
    /// The most.
    pub most: u64,
}

/// A sentence with a number that is not needed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Aside {
    /// The sentence, with `{e}`.
    pub text: String,
    /// What the number may be.
    pub range: Range,
}

/// A noun that is counted in a story.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Noun {
    /// One of it.
    pub one: String,
    /// More of it.
    pub many: String,
}

/// A story whose numbers are still open.
#[derive(Debug, Clone)]
pub struct Scene {
    /// Its name, unique among all scenes.
    pub id: String,
    /// What kind of situation it tells of.
    pub structure: Structure,
    /// How its numbers join.
    pub plan: Plan,
    /// The sentences before the question.
    pub text: Vec<String>,
    /// The question.
    pub question: String,
    /// What the story tells that is needed.
    pub know: Vec<String>,
    /// What is asked for.
    pub need: String,
    /// The answer in a sentence, with `{answer}`; it may tell numbers of the story too: "In {g} days
    /// {name} reads {answer} pages."
    pub answer: String,
    /// The nouns that are counted.
    pub nouns: Vec<Noun>,
    /// The sentence with a number that is not needed.
    pub aside: Option<Aside>,
    /// The number everybody knows that `c` stands for: 7 days in a week.
    pub constant: Option<u64>,
    /// For each size what each letter may be.
    pub sizes: BTreeMap<StorySize, BTreeMap<char, Range>>,
}
