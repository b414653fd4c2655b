//! What marking has found so far, as far as it changes what comes next.

use crate::exercise::Item;
use crate::words::count;
use indexmap::IndexMap;

/// What the class's answers showed; empty where nothing has been marked.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Findings {
    /// By skill, in the order they were marked.
    pub skills: IndexMap<String, SkillFinding>,
    /// Items of the unit test that pupils missed, most missed first.
    pub missed: Vec<Missed>,
}

/// What one skill's exit checks showed.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SkillFinding {
    /// How many pupils answered the last one.
    pub answered: u32,
    /// How many had all of it right.
    pub right: u32,
    /// The lesson whose check that was.
    pub checked_in: Option<u32>,
    /// The error patterns named, commonest first.
    pub patterns: Vec<PatternFinding>,
}

/// An error pattern and who shows it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct PatternFinding {
    /// The pattern's name in the catalogue.
    pub name: String,
    /// The pupils' labels.
    pub pupils: Vec<String>,
    /// The number of its group in the marks of the last check; 0 where it has none.
    pub group: u32,
}

/// An item of the unit test and how many missed it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Missed {
    /// The item as printed.
    pub item: Item,
    /// How many pupils had it wrong.
    pub pupils: u32,
}

impl PatternFinding {
    /// "12 pupils, group 1": how many, never who.
    pub fn whom(&self) -> String {
        let pupils = count(self.pupils.len(), "pupil");
        if self.group == 0 { pupils } else { format!("{pupils}, group {}", self.group) }
    }
}

impl SkillFinding {
    /// Fewer than 80 % had all of it right: the skill needs another look. (The share at which a
    /// class goes on is common practice, no source.)
    pub fn needs_work(&self) -> bool {
        self.answered > 0 && 5 * self.right < 4 * self.answered
    }
}
