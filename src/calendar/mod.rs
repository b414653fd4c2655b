//! Days, closures, the timetable, and the dated periods that follow from them.

mod clock;
mod periods;
mod week;

pub use clock::Clock;
pub use periods::{LEAST_MINUTES, lay_out};
pub use week::IsoWeek;

use chrono::{Datelike, NaiveDate, Weekday};
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;

/// One entry of the timetable: a lesson time on a weekday.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct Slot {
    /// When it begins.
    pub from: Clock,
    /// When it ends, later on the same day.
    pub to: Clock,
}

impl Slot {
    /// How long it is.
    pub fn minutes(self) -> u16 {
        self.to.minutes().saturating_sub(self.from.minutes())
    }
}

/// The maths lessons of a week, by days from Monday (0 to 6).
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Timetable {
    /// The entries of each weekday, in order of time, none overlapping.
    pub slots: BTreeMap<u8, Vec<Slot>>,
}

impl Timetable {
    /// The entries of a weekday.
    pub fn on(&self, day: Weekday) -> &[Slot] {
        let day = u8::try_from(day.num_days_from_monday()).unwrap_or(0);
        self.slots.get(&day).map_or(&[], Vec::as_slice)
    }
    /// L, the unit length: the lower median of the lengths of all entries of the week, minutes.
    pub fn unit_length(&self) -> u16 {
        let mut lengths: Vec<u16> = self.slots.values().flatten().map(|s| s.minutes()).collect();
        lengths.sort_unstable();
        let middle = lengths.len().saturating_sub(1) / 2;
        lengths.get(middle).copied().unwrap_or(0)
    }
}

/// The term: its first and last day, and which weekdays are school days.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Term {
    /// The first day.
    pub starts: NaiveDate,
    /// The last day, not before the first.
    pub ends: NaiveDate,
    /// For each weekday from Monday whether school is held.
    pub school_days: [bool; 7],
}

impl Term {
    /// All days of the term, school or not.
    pub fn days(&self) -> impl Iterator<Item = NaiveDate> + use<> {
        let ends = self.ends;
        self.starts.iter_days().take_while(move |&day| day <= ends)
    }
    /// Whether the date's weekday is a school day.
    pub fn is_school_weekday(&self, date: NaiveDate) -> bool {
        usize::try_from(date.weekday().num_days_from_monday())
            .is_ok_and(|day| self.school_days.get(day).copied().unwrap_or(false))
    }
}

/// Days, or a part of each of these days, without lessons.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Closing {
    /// The first day.
    pub from: NaiveDate,
    /// The last day, included.
    pub to: NaiveDate,
    /// Closed from this time on each day; with `before` absent too, the whole days are closed.
    pub after: Option<Clock>,
    /// Closed up to this time on each day.
    pub before: Option<Clock>,
    /// Why, as the teacher or the calendar says; may be empty.
    pub because: String,
    /// Whether it came from a calendar file (an opening beats it) rather than from the plan.
    pub from_calendar: bool,
}

impl Closing {
    /// Whole days closed by the plan, both included.
    pub fn days(from: NaiveDate, to: NaiveDate, because: impl Into<String>) -> Closing {
        let because = because.into();
        Closing { from, to, after: None, before: None, because, from_calendar: false }
    }
    /// Whether whole days are closed.
    pub fn whole_days(&self) -> bool {
        self.after.is_none() && self.before.is_none()
    }
}

/// One dated teaching slot.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Period {
    /// The day.
    pub date: NaiveDate,
    /// When it begins.
    pub starts: Clock,
    /// How long it is, at least 20.
    pub minutes: u16,
    /// Whether at least 4 days strictly between the period before and this one are not school days.
    pub break_before: bool,
}

/// The periods of a term, and what they were worked out from.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Calendar {
    /// All periods in order of date and time.
    pub periods: Vec<Period>,
    /// L: the lower median of the lengths of all timetable entries, minutes.
    pub unit_length: u16,
    /// All school days of the term in order.
    pub school_days: Vec<NaiveDate>,
    /// The days of the term without school although the weekday is a school day, with why.
    pub closed: Vec<(NaiveDate, String)>,
}

/// A slot as the timetable writes it, for tests.
#[cfg(test)]
pub(crate) fn slot(text: &str) -> Slot {
    let (from, to) = text.split_once('-').expect("two times");
    Slot { from: from.parse().expect("a time"), to: to.parse().expect("a time") }
}
