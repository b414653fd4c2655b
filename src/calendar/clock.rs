//! A time of day to the minute.

use serde::{Deserialize, Serialize};
use std::fmt;
use std::str::FromStr;

/// Minutes since midnight, 0 (00:00) to 1440 (24:00); written `09:10`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Clock(u16);

impl Clock {
    /// Midnight at the day's beginning.
    pub const MIDNIGHT: Clock = Clock(0);
    /// Midnight at the day's end.
    pub const DAY_END: Clock = Clock(1440);

    /// So many minutes after midnight, at most 1440.
    pub fn after_midnight(minutes: u16) -> Option<Clock> {
        (minutes <= 1440).then_some(Clock(minutes))
    }
    /// Minutes since midnight.
    pub fn minutes(self) -> u16 {
        self.0
    }
    /// So many minutes later, at most the day's end.
    pub fn plus(self, minutes: u16) -> Clock {
        Clock(self.0.saturating_add(minutes).min(1440))
    }
}

impl fmt::Display for Clock {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        write!(f, "{:02}:{:02}", self.0 / 60, self.0 % 60)
    }
}

impl FromStr for Clock {
    type Err = String;
    fn from_str(text: &str) -> Result<Clock, String> {
        let wrong = || format!("expected a time such as `09:10`, found `{text}`");
        let (hour, minute) = text.split_once(':').ok_or_else(wrong)?;
        let digits = |s: &str| s.len() == 2 && s.bytes().all(|b| b.is_ascii_digit());
        let two = |s: &str| s.parse::<u16>().ok().filter(|_| digits(s));
        let (hour, minute) = two(hour).zip(two(minute)).ok_or_else(wrong)?;
        let fits = minute < 60 && (hour < 24 || (hour == 24 && minute == 0));
        if fits { Ok(Clock(hour * 60 + minute)) } else { Err(wrong()) }
    }
}

impl TryFrom<String> for Clock {
    type Error = String;
    fn try_from(text: String) -> Result<Clock, String> {
        text.parse()
    }
}

impl From<Clock> for String {
    fn from(clock: Clock) -> String {
        clock.to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_minute_of_the_day_is_read_as_it_is_written() {
        for minutes in 0..=1440 {
            let clock = Clock::after_midnight(minutes).expect("within the day");
            assert_eq!(clock.to_string().parse(), Ok(clock));
        }
        assert_eq!(Clock::after_midnight(1441), None);
    }

    #[test]
    fn what_is_no_time_of_day_is_refused() {
        for text in ["9:10", "09.10", "24:01", "12:60", "0910", "09:1", "09:10:00", "+9:10", ""] {
            assert!(text.parse::<Clock>().is_err(), "{text}");
        }
    }
}
