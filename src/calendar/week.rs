//! Weeks: the numbered weeks of ISO 8601, and a school's own week, which may begin on any day.

use super::Term;
use chrono::{Datelike, Days, NaiveDate, Weekday};
use std::fmt;

/// A week of ISO 8601: Monday to Sunday, numbered in the year that holds its Thursday.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub struct IsoWeek {
    /// The year, not always that of the date.
    pub year: i32,
    /// 1 to 53.
    pub week: u32,
}

impl IsoWeek {
    /// The week a date lies in.
    pub fn of(date: NaiveDate) -> IsoWeek {
        let week = date.iso_week();
        IsoWeek { year: week.year(), week: week.week() }
    }
    /// Its Monday; `None` for a week 53 in a year that has 52.
    pub fn monday(self) -> Option<NaiveDate> {
        NaiveDate::from_isoywd_opt(self.year, self.week, Weekday::Mon)
    }
}

impl fmt::Display for IsoWeek {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:04}-W{:02}", self.year, self.week)
    }
}

impl Term {
    /// The weekday a school week begins on, days from Monday: the school day after the longest
    /// run of days off, the first of equals from Monday on; Monday where all or none are off.
    pub fn week_begins(&self) -> u64 {
        let is_off = |day: usize| !self.school_days[day % 7];
        let off_before = |day: usize| (1..7).take_while(|back| is_off(day + 7 - back)).count();
        let starts = (0..7).filter(|&day| self.school_days[day]);
        let longest = starts.max_by_key(|&day| (off_before(day), 7 - day));
        longest.map_or(0, |day| u64::try_from(day).unwrap_or(0))
    }
    /// The seven days of the school's week that a date lies in, in order.
    pub fn week_of(&self, date: NaiveDate) -> Vec<NaiveDate> {
        let into = (u64::from(date.weekday().num_days_from_monday()) + 7 - self.week_begins()) % 7;
        let first = date.checked_sub_days(Days::new(into)).unwrap_or(date);
        first.iter_days().take(7).collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn week_of(days: &[usize], date: &str) -> String {
        let date: NaiveDate = date.parse().expect("a date");
        let school_days = std::array::from_fn(|d| days.contains(&d));
        let week = Term { starts: date, ends: date, school_days }.week_of(date);
        format!("{} to {}", week[0], week[6])
    }

    #[test]
    fn a_school_week_begins_after_the_weekend_wherever_that_lies() {
        assert_eq!(week_of(&[0, 1, 2, 3, 4], "2027-01-17"), "2027-01-11 to 2027-01-17");
        assert_eq!(week_of(&[6, 0, 1, 2, 3], "2027-01-17"), "2027-01-17 to 2027-01-23");
        assert_eq!(week_of(&[6, 0, 1, 2, 3], "2027-01-14"), "2027-01-10 to 2027-01-16");
        assert_eq!(week_of(&[5, 6, 0, 1, 2], "2027-01-14"), "2027-01-09 to 2027-01-15");
        assert_eq!(week_of(&[0, 1, 2, 3, 4, 5], "2027-01-17"), "2027-01-11 to 2027-01-17");
        assert_eq!(week_of(&[], "2027-01-17"), "2027-01-11 to 2027-01-17");
        assert_eq!(week_of(&[0, 1, 2, 3, 4, 5, 6], "2027-01-17"), "2027-01-11 to 2027-01-17");
    }

    #[test]
    fn every_date_lies_in_its_own_week_and_iso_weeks_run_through() {
        let first: NaiveDate = "2024-01-01".parse().expect("a date");
        for date in first.iter_days().take(1500) {
            let week = IsoWeek::of(date);
            let monday = week.monday().expect("a week that exists");
            assert!(monday <= date && date < monday + Days::new(7), "{date}");
        }
        assert_eq!(IsoWeek { year: 2027, week: 53 }.monday(), None);
    }
}
