//! iCalendar (RFC 5545): closings from calendar files, lessons to calendars.

mod component;
mod event;
mod lines;
mod read;
mod recur;
mod time;

pub use lines::decode;
pub use read::read;

#[cfg(test)]
mod tests;
