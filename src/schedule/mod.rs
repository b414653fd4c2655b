//! Lessons on periods: what a schedule must never break, what it costs, and the search for the best.

mod assemble;
mod checker;
mod clash;
mod compare;
mod methods;
mod price;
mod problem;
mod risk;
mod search;
mod spread;
mod underway;
mod ways;
mod why;
mod wishes;

pub use compare::{Comparison, Merge, Move, When, compare};
pub use methods::{method_order, methods_taught, waits};
pub use risk::{Margin, Risk, Thinner, risk};
pub use why::{Elsewhere, Link, Why, price_in_words, reasons, why, why_not};
pub use wishes::{Fate, Told, wishes};

use crate::calendar::{Calendar, Clock, Period};
use crate::plan::{LessonKind, Plan};
use assemble::assemble;
use chrono::NaiveDate;
use indexmap::IndexMap;
use problem::{Dropped, MOST_SKILLS, Problem, Unposed, Wanted};
use search::{Effort, Found, Kept, NEVER, Search, search_below};
use serde::{Deserialize, Serialize};
use std::fmt;

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
    /// Numbers of lessons whose pack was printed.
    pub printed: Vec<u32>,
    /// Numbers of lessons recorded as taught: their date is past, or today and printed or after a
    /// check of today that was marked, and they were not told lost.
    pub taught: Vec<u32>,
    /// Numbers of lessons told lost: free again.
    pub lost: Vec<u32>,
    /// The next free lesson number.
    pub next_number: u32,
}

/// Why a schedule could not be worked out at all.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Error {
    /// More skills than the search can hold in one unit.
    TooManySkills {
        /// How many there are.
        found: usize,
    },
    /// Neither a schedule nor the proof that there is none was found.
    GaveUp,
    /// A fault of ours: the search and the checker disagree.
    Fault(Vec<String>),
}

impl Error {
    /// Whether it is a fault of ours rather than something about the plan.
    pub fn is_fault(&self) -> bool {
        matches!(self, Error::Fault(_))
    }
}

impl fmt::Display for Error {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            Error::TooManySkills { found } => {
                write!(f, "the unit has {found} skills and at most {MOST_SKILLS} can be scheduled")
            }
            Error::GaveUp => write!(
                f,
                "no schedule was found, and the unit is too wide to prove that there is none"
            ),
            Error::Fault(faults) => {
                write!(f, "the schedule failed its own check: {}", faults.join("; "))
            }
        }
    }
}

impl std::error::Error for Error {}

/// Everything that is wrong with a schedule: what the independent checker says, which shares no code
/// with the search. Empty where nothing is.
pub fn faults(
    plan: &Plan,
    calendar: &Calendar,
    standing: Option<&Standing>,
    schedule: &Schedule,
) -> Vec<String> {
    checker::faults(plan, calendar, standing, schedule)
}

/// The first schedule of a term.
pub fn solve(plan: &Plan, calendar: &Calendar) -> Result<Outcome, Error> {
    outcome(Wanted { plan, calendar, standing: None })
}

/// The schedule of a term that is under way.
pub fn solve_again(
    plan: &Plan,
    calendar: &Calendar,
    standing: &Standing,
) -> Result<Outcome, Error> {
    outcome(Wanted { plan, calendar, standing: Some(standing) })
}

/// What giving up a little would save where a schedule exists: ways like those out of a clash, each
/// solved, those only that make the schedule cheaper.
pub fn alternatives(
    plan: &Plan,
    calendar: &Calendar,
    standing: Option<&Standing>,
    schedule: &Schedule,
) -> Result<Vec<WayOut>, Error> {
    ways::ways_to_save(Wanted { plan, calendar, standing }, schedule.cost.total)
}

fn outcome(wanted: Wanted<'_>) -> Result<Outcome, Error> {
    Ok(match best(wanted, NEVER, &mut Kept::default())? {
        Some(schedule) => Outcome::Fits(Box::new(schedule)),
        None => Outcome::Clash { clash: clash::clash(wanted), options: ways::ways_out(wanted)? },
    })
}

/// The best schedule that costs less than `below`, checked; `None` where there is none.
fn best(wanted: Wanted<'_>, below: i64, kept: &mut Kept) -> Result<Option<Schedule>, Error> {
    let problem = match Problem::pose(wanted, &Dropped::default()) {
        Ok(problem) => problem,
        Err(Unposed::Clash) => return Ok(None),
        Err(Unposed::Error(error)) => return Err(error),
    };
    let found = match search_below(&problem, Effort::default(), below, kept) {
        Search::Found(found) => found,
        Search::None => return Ok(None),
        Search::GaveUp => return Err(Error::GaveUp),
    };
    // Under way the least change comes first; a first schedule may choose among its equals.
    let found = match wanted.standing {
        None => spread::spread(wanted, &problem, found),
        Some(_) => found,
    };
    judged(wanted, &problem, &found).map(Some)
}

/// The only way from what was found to a schedule: every rule and every term of the cost is worked
/// out anew by the checker, which knows nothing of the search.
fn judged(wanted: Wanted<'_>, problem: &Problem, found: &Found) -> Result<Schedule, Error> {
    let schedule = assemble(wanted, problem, found);
    let mut faults = checker::faults(wanted.plan, wanted.calendar, wanted.standing, &schedule);
    if schedule.cost.total != found.cost {
        let Cost { total, .. } = schedule.cost;
        faults.push(format!("the lessons cost {total}, the search says {}", found.cost));
    }
    if faults.is_empty() { Ok(schedule) } else { Err(Error::Fault(faults)) }
}
