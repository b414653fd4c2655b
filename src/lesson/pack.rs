//! The pack: everything that is printed for one lesson, as a document before paper.

use super::CheckTells;
use crate::calendar::Clock;
use crate::exercise::Item;
use crate::method::HouseStyle;
use crate::plan::{LessonKind, PaperSize};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// A part of a pack.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum SectionName {
    /// Mental sums that bring back older skills.
    WarmUp,
    /// Worked examples.
    Examples,
    /// Guided practice, partly worked.
    Guided,
    /// Practice, by level.
    Practice,
    /// The exit check.
    ExitCheck,
    /// Homework.
    Homework,
    /// The unit test.
    Test,
}

/// A level of practice; paper shows only its letter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Level {
    /// Q
    Support,
    /// K
    Core,
    /// V
    Stretch,
}

/// The letter that alone tells a sheet of practice: Q, K or V; further support sheets, for further
/// groups, have letters of their own.
pub fn sheet_letter(level: Level, nth: usize) -> char {
    match (level, nth) {
        (Level::Support, 0) => 'Q',
        (Level::Support, 1) => 'R',
        (Level::Support, _) => 'Z',
        (Level::Core, _) => 'K',
        (Level::Stretch, _) => 'V',
    }
}

/// Items that stand together on paper.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Section {
    /// Which part.
    pub name: SectionName,
    /// The level, for practice only.
    pub level: Option<Level>,
    /// The minutes it is given.
    pub minutes: u16,
    /// Its items, in order.
    pub items: Vec<Item>,
}

/// A stretch of the lesson on the time bar.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Stretch {
    /// "Warm-up", "Examples, together".
    pub name: String,
    /// The name where the bar is narrow: "Examples".
    pub short: String,
    /// When it begins.
    pub starts: Clock,
    /// How long it takes; the stretches fill the period.
    pub minutes: u16,
}

/// A question to ask the class, with its answer.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Question {
    /// What to ask.
    pub ask: String,
    /// What to hear.
    pub answer: String,
}

/// An error to expect.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Expected {
    /// The wrong answer, as the class writes numbers.
    pub answer: String,
    /// What it shows.
    pub shows: String,
}

/// A file to copy.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Copies {
    /// The sheet's code: `L35-Q`.
    pub code: String,
    /// The file: `pupil-Q.pdf`.
    pub file: String,
    /// What it is: "support", "exit slips, pages".
    pub what: String,
    /// How many times.
    pub count: u32,
}

/// Whom a sheet of practice is for, in a lesson that teaches again what marks showed.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct SheetFor {
    /// The sheet's letter: "Q".
    pub sheet: String,
    /// The skill; empty for who has no pattern.
    pub skill: String,
    /// The pattern that the sheet mends.
    pub pattern: Option<String>,
    /// What went wrong, in words.
    pub shows: String,
    /// How to teach it, with the model to use; empty for who has no pattern.
    pub teach: String,
    /// The pupils' labels as far as they are told; `forget` takes them away.
    pub pupils: Vec<String>,
    /// Where slips were counted in piles: the answers to sort them by.
    #[serde(default)]
    pub sort_by: String,
    /// How many copies.
    pub copies: u32,
}

/// What only the teacher's page says.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, Default)]
pub struct TeacherPage {
    /// One sentence with a verb.
    pub objective: String,
    /// "5.NBT.B.5 (CCSSM)." and so on, a sentence each.
    pub meets: Vec<String>,
    /// What pupils can do.
    pub success: Vec<String>,
    /// Words of the trade.
    pub vocabulary: Vec<String>,
    /// "Long: 3 × 3 digits, lessons 32 to 34".
    pub builds_on: Vec<String>,
    /// What to say, a sentence each.
    pub say: Vec<String>,
    /// Which sheet of practice is for whom, where marks say so; else empty.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub sheets: Vec<SheetFor>,
    /// The teacher's own pointers.
    pub resources: Vec<String>,
    /// The time bar.
    pub stretches: Vec<Stretch>,
    /// A note under the time bar.
    pub time_note: String,
    /// The sum the expected errors are of, as printed: "6,283 × 347"; may be empty.
    pub errors_in: String,
    /// Errors to expect.
    pub errors: Vec<Expected>,
    /// Guided questions with answers.
    pub questions: Vec<Question>,
    /// The copying list.
    pub copies: Vec<Copies>,
    /// All right in the exit check: so many or more go on. 0 where there is no exit check.
    pub go_on: u32,
    /// So many or more, and fewer than `go_on`: take a group. Fewer: re-teach.
    pub group: u32,
    /// What the exit check can and cannot tell; null where there is none.
    #[serde(default)]
    pub check_tells: Option<CheckTells>,
}

/// What a pack must know of the class to be printed again, whatever has changed since.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Heading {
    /// The class's name.
    pub class: String,
    /// The school's name; may be empty.
    pub school: String,
    /// How many pupils.
    pub pupils: u32,
    /// When the lesson begins.
    pub starts: Clock,
    /// The title: "Long multiplication: four digits by three".
    pub title: String,
    /// How the school writes.
    pub style: HouseStyle,
    /// The paper.
    pub paper: PaperSize,
}

/// Everything that is printed for one lesson.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Pack {
    /// The lesson's number.
    pub lesson: u32,
    /// The day.
    pub date: NaiveDate,
    /// What kind of lesson.
    pub kind: LessonKind,
    /// The skill, for a teach lesson.
    pub skill: Option<String>,
    /// The part of the skill.
    pub part: Option<u32>,
    /// The period's minutes.
    pub minutes: u16,
    /// "A" or "B".
    pub version: String,
    /// The parts, in order.
    pub sections: Vec<Section>,
    /// Whether it was made as a draft.
    pub draft: bool,
    /// What the class is called and how it writes.
    pub heading: Heading,
    /// What the teacher's page says.
    pub teacher: TeacherPage,
    /// What could not be made, a sentence each (a skill without a maker).
    pub missing: Vec<String>,
    /// The mark scheme of a unit test, an entry for each of its items; else empty.
    #[serde(default)]
    pub marks: Vec<ItemMarks>,
    /// What pupils are told above a unit test: which items need the answer only, and which the
    /// way to it too; else empty.
    #[serde(default)]
    pub instruction: String,
}

/// What an item of a test is worth, and for what.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ItemMarks {
    /// The item's id.
    pub item: String,
    /// How many marks in all.
    pub marks: u32,
    /// What each mark is given for, one entry a mark: "row × 40 right".
    pub for_what: Vec<String>,
}

impl Pack {
    /// The title of the teacher's page: with the part, which pupils' sheets leave out.
    pub fn teacher_title(&self) -> String {
        match self.part {
            Some(part) if self.kind == LessonKind::Teach => {
                format!("{}, part {part}", self.heading.title)
            }
            _ => self.heading.title.clone(),
        }
    }
    /// The sheets of practice with their letters, in order.
    pub fn practice_sheets(&self) -> impl Iterator<Item = (char, Level, &Section)> {
        let mut support = 0;
        self.named(SectionName::Practice).filter_map(move |section| {
            let level = section.level?;
            let letter = sheet_letter(level, support);
            support += usize::from(level == Level::Support);
            Some((letter, level, section))
        })
    }
    /// The sections of this name, in order.
    pub fn named(&self, name: SectionName) -> impl Iterator<Item = &Section> {
        self.sections.iter().filter(move |section| section.name == name)
    }
}
