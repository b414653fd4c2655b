//! Files that other programs read and write: iCalendar and CSV.

pub mod icalendar;
