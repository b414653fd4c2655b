//! Lessons on periods: what a schedule must never break, what it costs, and the search for the best.

use crate::calendar::{Calendar, Clock, Period};
use crate::plan::{LessonKind, Plan};
use chrono::NaiveDate;
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

/// What fills one period.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Lesson {
    /// Its name for life.
    pub number: u32,
    /// The day.
    pub date: NaiveDate,
    /// When its period begins.
    pub starts: Clock,
    /// How long its period is.
    pub minutes: u16,
    /// What kind of lesson.
    pub kind: LessonKind,
    /// The skill, with `Teach` only.
    pub skill: Option<String>,
    /// Which part of the skill (or which of the revisions), from 1.
    pub part: Option<u32>,
    /// Of how many.
    pub of: Option<u32>,
}

/// A skill the schedule does not hold.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct LeftOut {
    /// The skill.
    pub skill: String,
    /// Why, in the teacher's words.
    pub because: String,
}

/// What a schedule costs: every term by its name, zeros too, and their sum.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Cost {
    /// The sum.
    pub total: i64,
    /// The terms in the order of their definition.
    pub terms: IndexMap<String, i64>,
}

/// How much is known about a schedule's cost.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Proof {
    /// None is cheaper.
    Optimal,
    /// The best found; `bound` is proven.
    Bound,
}

/// Lessons on periods.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Schedule {
    /// The periods, in order.
    pub periods: Vec<Period>,
    /// One lesson for each period, in order.
    pub lessons: Vec<Lesson>,
    /// Skills of the unit that are not taught, in the ladder's order.
    pub left_out: Vec<LeftOut>,
    /// What it costs.
    pub cost: Cost,
    /// How much is known about that.
    pub proof: Proof,
    /// The proven least cost.
    pub bound: i64,
    /// Catch-ups before the test beyond those asked for.
    pub spare_periods: u32,
}

/// A wish that clashes with others.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Wish {
    /// The wish in the teacher's words.
    pub what: String,
}

/// A change of one key of plan.toml.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Change {
    /// The dotted key.
    pub key: String,
    /// Its whole new value; null takes the key away.
    pub value: serde_json::Value,
}

/// A way out of a clash, solved and costed.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WayOut {
    /// What it gives up, in the teacher's words.
    pub what: String,
    /// The lines of the plan that would do it.
    pub change: Vec<Change>,
    /// Whether a schedule exists after it.
    pub fits: bool,
    /// The best cost after it; null where none fits.
    pub cost: Option<i64>,
}

/// What came of the search.
#[derive(Debug, Clone, PartialEq)]
pub enum Outcome {
    /// A schedule.
    Fits(Box<Schedule>),
    /// No schedule exists.
    Clash {
        /// The smallest set of wishes found that cannot all hold.
        clash: Vec<Wish>,
        /// Ways out, cheapest first.
        options: Vec<WayOut>,
    },
}

/// Where things stand when a term is scheduled again.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Standing {
    /// Today.
    pub today: NaiveDate,
    /// The lessons in force, in order of date, as the schedule file holds them.
    pub old: Vec<Lesson>,
    /// The least number of catch-ups the old schedule was made with, and H then, where known.
    pub old_catch_up: Option<u32>,
    /// Numbers of lessons whose pack was printed.
    pub printed: Vec<u32>,
    /// Numbers of lessons recorded as taught: their date is past, or today and printed, and they
    /// were not told lost.
    pub taught: Vec<u32>,
    /// Numbers of lessons told lost: free again.
    pub lost: Vec<u32>,
    /// The next free lesson number.
    pub next_number: u32,
}

/// The first schedule of a term.
pub fn solve(plan: &Plan, calendar: &Calendar) -> Outcome {
    let _ = (plan, calendar);
    Outcome::Clash { clash: Vec::new(), options: Vec::new() }
}

/// The schedule of a term that is under way.
pub fn solve_again(plan: &Plan, calendar: &Calendar, standing: &Standing) -> Outcome {
    let _ = standing;
    solve(plan, calendar)
}
