//! The teacher's file: as written, with places ([`PlanFile`]), and as checked ([`Plan`]).
//!
//! Only [`Plan::check`] makes the second from the first.

mod check;
pub mod edit;
mod file;

pub use file::{CalendarFile, PlanFile};

use crate::calendar::{Clock, Closing, Term, Timetable};
use crate::curriculum::{Framework, Ladder, Lessons};
use crate::method::HouseStyle;
use crate::report::Source;
use chrono::NaiveDate;
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};
use std::sync::Arc;

/// What fills a period.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum LessonKind {
    /// Part k of a skill.
    Teach,
    /// Room to catch up.
    CatchUp,
    /// Mixed revision.
    Revision,
    /// The unit test.
    UnitTest,
}

/// The class.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Class {
    /// Its name on paper.
    pub name: String,
    /// The school's name; may be empty.
    pub school: String,
    /// What all random streams hang on.
    pub key: String,
    /// How many pupils, 1 to 60.
    pub pupils: u32,
    /// Their labels: from the pupils file, else "1", "2", …
    pub pupil_names: Vec<String>,
    /// Hundredths: 120 takes a fifth longer than typical; 50 to 300.
    pub pace: u32,
    /// Where calendar times of other zones are converted to.
    pub zone: Option<chrono_tz::Tz>,
}

/// When the unit test is wished.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum TestWish {
    /// On the last period.
    Last,
    /// On the first period of this day.
    On(NaiveDate),
    /// Not at all.
    None,
}

/// A lesson the teacher has put on a period.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fixed {
    /// The day.
    pub date: NaiveDate,
    /// The period that begins then; absent: the day's first.
    pub starts: Option<Clock>,
    /// What it holds.
    pub kind: LessonKind,
    /// Which skill, with `Teach` only; absent: any.
    pub skill: Option<String>,
}

/// What the unit holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Unit {
    /// Skills wished; what they need comes along.
    pub teach: Vec<String>,
    /// Already known, with all that they need.
    pub secure: Vec<String>,
    /// To be left out.
    pub leave_out: Vec<String>,
    /// The unit test.
    pub test: TestWish,
    /// How many revision lessons.
    pub revision: u32,
    /// The least number of catch-ups; absent: `max(1, (8H + 50) div 100)`.
    pub catch_up: Option<u32>,
    /// Lessons on given periods.
    pub fixed: Vec<Fixed>,
    /// Each skill's numbers of lessons, the plan's wishes worked in; every skill of the ladder.
    pub lessons: IndexMap<String, Lessons>,
}

/// The weights of what a schedule costs, each 0 to 1,000,000 (`long_run_limit` too).
#[derive(Debug, Clone, PartialEq, Eq)]
#[allow(missing_docs)] // the terms are defined where the schedule is priced
pub struct Costs {
    pub left_out: u32,
    pub short: u32,
    pub extra: u32,
    pub starts_before_break: u32,
    pub split_by_break: u32,
    pub cold_return: u32,
    pub long_run: u32,
    pub thread_cut: u32,
    pub bunched: u32,
    pub short_start: u32,
    pub two_starts: u32,
    pub printed_moved: u32,
    pub soon_moved: u32,
    pub moved: u32,
    pub order: u32,
    pub long_run_limit: u32,
}

impl Default for Costs {
    fn default() -> Self {
        Costs {
            left_out: 20_000,
            short: 500,
            extra: 3,
            starts_before_break: 12,
            split_by_break: 20,
            cold_return: 10,
            long_run: 3,
            thread_cut: 5,
            bunched: 6,
            short_start: 4,
            two_starts: 8,
            printed_moved: 100_000,
            soon_moved: 60,
            moved: 20,
            order: 40,
            long_run_limit: 10,
        }
    }
}

/// The paper packs are printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum PaperSize {
    /// 210 × 297 mm (ISO 216).
    #[default]
    A4,
    /// 215.9 × 279.4 mm.
    Letter,
}

/// The teacher's own sums for a part of a skill.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct OwnSums {
    /// The skill.
    pub skill: String,
    /// The part, 1 to 9; absent: every part.
    pub part: Option<u8>,
    /// Pairs for the worked examples, in order.
    pub example: Vec<(u64, u64)>,
    /// Pairs for the practice of every level, in order.
    pub practice: Vec<(u64, u64)>,
    /// Pairs for the exit check, in order.
    pub exit_check: Vec<(u64, u64)>,
}

/// A page, a film, a box of counters that goes with a skill.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Resource {
    /// The skill.
    pub skill: String,
    /// What it is.
    pub text: String,
}

/// A checked plan: everything in it fits together, and every default is filled in.
#[derive(Debug, Clone)]
pub struct Plan {
    /// The class.
    pub class: Class,
    /// The term.
    pub term: Term,
    /// The maths lessons of a week.
    pub timetable: Timetable,
    /// All that is closed, from the plan and from calendar files.
    pub closings: Vec<Closing>,
    /// Days that stay open whatever a calendar file says.
    pub openings: Vec<NaiveDate>,
    /// What the unit holds.
    pub unit: Unit,
    /// The weights of the schedule's costs.
    pub costs: Costs,
    /// How the school writes.
    pub style: HouseStyle,
    /// Whether the plan says which written methods the school teaches.
    pub methods_named: bool,
    /// The paper.
    pub paper: PaperSize,
    /// The frameworks the class reports to, in order.
    pub frameworks: Vec<Arc<Framework>>,
    /// The ladder.
    pub ladder: Arc<Ladder>,
    /// The teacher's own sums.
    pub own: Vec<OwnSums>,
    /// The teacher's pointers.
    pub resources: Vec<Resource>,
    /// The texts of the teacher's own files of story scenes, read without a mistake; whoever loads
    /// the plan puts them here.
    pub stories: Vec<Arc<Source>>,
}

/// What lies beside a plan file, already read: only `Plan::check` and its caller know it.
#[derive(Debug, Clone)]
pub struct Beside {
    /// The ladder the plan names; absent where it could not be read (its mistakes are reported).
    pub ladder: Option<Arc<Ladder>>,
    /// Closings of each `[[calendar]]`, in order, before the plan's filter by summary.
    pub calendars: Vec<Vec<Closing>>,
    /// The pupils' labels, where the plan names a file of them.
    pub pupils: Option<Vec<String>>,
    /// All frameworks that are known, by name.
    pub frameworks: IndexMap<String, Arc<Framework>>,
}

#[cfg(test)]
pub(crate) mod tests;
