//! What marking has found so far, as far as it changes what comes next.

use crate::exercise::Item;
use crate::method::HouseStyle;
use crate::words::{count, join};
use indexmap::IndexMap;
use std::collections::BTreeSet;

/// So many groups a teacher can take beside the class (common practice, no source).
pub const MOST_GROUPS: usize = 3;

/// From so many pupils on a group is large, or from one in so many of the class.
const LARGE: usize = 3;
const FIFTH: usize = 5;

/// Whether a group of this size is one that the whole class warms up for, of so many who answered.
pub fn is_large(size: usize, answered: usize) -> bool {
    size >= LARGE || (size > 0 && size.saturating_mul(FIFTH) >= answered)
}

/// What the class's answers showed; empty where nothing has been marked.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Findings {
    /// By skill, in the order they were marked.
    pub skills: IndexMap<String, SkillFinding>,
    /// Items of the unit test that pupils missed, most missed first.
    pub missed: Vec<Missed>,
    /// Who is helped in the lesson that goes through the unit test.
    pub tested: Tested,
    /// The lessons that were added to teach their skill once more.
    pub again: BTreeSet<u32>,
}

/// What the unit test showed of pupils.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Tested {
    /// Its groups, as many as a teacher can take, each with the skill that its items are of.
    pub groups: Vec<(String, PatternFinding)>,
    /// Who has at least four fifths of it right, and who has less; nobody is known where slips were
    /// counted in piles.
    pub passed: Vec<String>,
    /// See [`Tested::passed`].
    pub others: Vec<String>,
}

/// What one skill's exit checks showed.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct SkillFinding {
    /// How many pupils answered the last one.
    pub answered: u32,
    /// How many had all of it right.
    pub right: u32,
    /// How many of those are known by their slips only, counted in piles: at most so many.
    pub right_slips: u32,
    /// The lesson whose check that was.
    pub checked_in: Option<u32>,
    /// The pupils who had all of it right, and those who had something wrong; nobody is known where
    /// slips were counted in piles.
    pub all_right: Vec<String>,
    /// See [`SkillFinding::all_right`].
    pub wrong: Vec<String>,
    /// The error patterns named, commonest first.
    pub patterns: Vec<PatternFinding>,
}

/// An error pattern and who shows it.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct PatternFinding {
    /// The pattern's name in the catalogue.
    pub name: String,
    /// Where the checks cannot tell which of several patterns it is: all of them, that one first.
    pub one_of: Vec<String>,
    /// A second pattern, where most of them have two at once.
    pub also: Option<String>,
    /// The pupils' labels; nobody is known of slips counted in piles.
    pub pupils: Vec<String>,
    /// Whether too little was shown to name it for any of them.
    pub perhaps: bool,
    /// How many slips show it, where slips were counted in piles.
    pub slips: u32,
    /// The answers on those slips, by item.
    pub sort_by: Vec<(String, Vec<String>)>,
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

/// "1,452 on L07-X1, 2,961 or 2,970 on L07-X2": what slips are sorted by.
pub fn sorted_by(answers: &[(String, Vec<String>)], style: &HouseStyle) -> String {
    let number = |answer: &String| answer.parse().map_or(answer.clone(), |n| style.number(n));
    let of_item = |(item, all): &(String, Vec<String>)| {
        let all: Vec<String> = all.iter().map(number).collect();
        format!("{} on {item}", join(&all, "or"))
    };
    answers.iter().map(of_item).collect::<Vec<_>>().join(", ")
}

/// "6 slips on one item", "up to 6 slips on an item": of several versions no item has them all.
pub fn counted_slips(slips: u32, sort_by: &[(String, Vec<String>)]) -> String {
    let version =
        |id: &String| id.split_once('-').map_or(String::new(), |(code, _)| code.to_owned());
    let versions: BTreeSet<String> = sort_by.iter().map(|(id, _)| version(id)).collect();
    let counted = count(usize::try_from(slips).unwrap_or(usize::MAX), "slip");
    match (versions.len(), sort_by.len()) {
        (2.., _) => counted,
        (_, 2..) => format!("up to {counted} on an item"),
        _ => format!("{counted} on one item"),
    }
}

/// "3 pupils", "3 pupils and 4 slips".
pub fn pupils_and_slips(pupils: usize, slips: u32) -> String {
    let pupils = count(pupils, "pupil");
    match usize::try_from(slips).unwrap_or(usize::MAX) {
        0 => pupils,
        slips => format!("{pupils} and {}", count(slips, "slip")),
    }
}

impl PatternFinding {
    /// How many pupils show it, as far as is known.
    pub fn size(&self) -> usize {
        self.pupils.len().saturating_add(self.slips_counted())
    }
    fn slips_counted(&self) -> usize {
        usize::try_from(self.slips).unwrap_or(usize::MAX)
    }
    /// All patterns it may be: the one, or those of which it is one.
    pub fn names(&self) -> Vec<&str> {
        match self.one_of.as_slice() {
            [] => vec![&self.name],
            many => many.iter().map(String::as_str).collect(),
        }
    }
    /// The one and the second, where most have two at once.
    pub fn two(&self) -> Option<[&str; 2]> {
        self.also.as_deref().filter(|_| self.one_of.is_empty()).map(|also| [&*self.name, also])
    }
    fn nth_group(&self) -> usize {
        usize::try_from(self.group).unwrap_or(usize::MAX)
    }
    /// "12 pupils, group 1": how many, never who; "perhaps 2 pupils" where it is a suspicion, "3 pupils
    /// and 4 slips" where one version was counted in piles.
    pub fn whom(&self) -> String {
        let pupils = match self.pupils.len() {
            0 if self.slips > 0 => counted_slips(self.slips, &self.sort_by),
            pupils => pupils_and_slips(pupils, self.slips),
        };
        let pupils = if self.perhaps { format!("perhaps {pupils}") } else { pupils };
        if self.group == 0 { pupils } else { format!("{pupils}, group {}", self.group) }
    }
}

impl SkillFinding {
    /// Fewer than 80 % had all of it right: the skill needs another look. (The share at which a
    /// class goes on is common practice, no source.)
    pub fn needs_work(&self) -> bool {
        self.answered > 0 && 5 * self.right < 4 * self.answered
    }
    /// The groups for which the whole class warms up: three pupils or more, or a fifth of those who
    /// answered (defaults without a source). Fewer have their sheet only.
    pub fn large_groups(&self) -> impl Iterator<Item = &PatternFinding> {
        let answered = usize::try_from(self.answered).unwrap_or(usize::MAX);
        self.patterns.iter().filter(move |p| is_large(p.size(), answered))
    }
    /// The large groups of the last check in which a pattern is named, though the class as a whole
    /// may not need the skill again.
    pub fn named_groups(&self) -> impl Iterator<Item = &PatternFinding> {
        let now = |p: &&PatternFinding| !p.perhaps && (1..=MOST_GROUPS).contains(&p.nth_group());
        self.large_groups().filter(now)
    }
    /// How many pupils had something wrong.
    pub fn in_need(&self) -> u32 {
        self.answered.saturating_sub(self.right)
    }
    /// Whether a lesson that is added for it has something to teach again: the class needs the skill,
    /// or there are groups.
    pub fn can_be_taught_again(&self) -> bool {
        self.needs_work() || self.patterns.iter().any(|p| p.size() > 0)
    }
}
