//! iCalendar (RFC 5545): closings from calendar files, lessons to calendars.

mod component;
mod event;
mod lines;
mod read;
mod recur;
mod time;
mod write;

pub use lines::decode;
pub use read::read;
pub use write::write;

#[cfg(test)]
mod tests;
