//! Marking: answers in, error patterns and groups out.
//!
//! An exit check is short, so marking ranks patterns and names one only when it is sure; it sorts
//! pupils for tomorrow's lesson and says nothing final about anybody. What a pupil did not answer is
//! not wrong.

mod answers;
mod decide;
mod diagnose;
mod findings;
mod marks;
mod question;
mod read;
#[cfg(test)]
mod tests;
mod text;

pub use answers::{Answers, Pile, TICK, blank, marked_items};
pub use decide::{Class, Decision};
pub use diagnose::{Model, Suspect};
pub use findings::{Finding, class_findings, findings};
pub use marks::{Group, ItemMark, Marking, PupilMark, WrongPile, across, mark, mark_by};
pub use read::read_answers;
pub use text::CAUTION;
