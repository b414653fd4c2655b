//! Marking: answers in, error patterns and groups out.
//!
//! An exit check is short, so marking ranks patterns and names one only when it is sure; it sorts
//! pupils for tomorrow's lesson and says nothing final about anybody. What a pupil did not answer is
//! not wrong.

mod absent;
mod answers;
mod decide;
mod diagnose;
mod doubts;
mod findings;
mod groups;
mod item_mark;
mod looks;
mod marks;
mod model;
mod next;
mod pairs;
mod piles;
mod progress;
mod question;
mod read;
mod shares;
mod shown;
mod tells;
#[cfg(test)]
mod tests;
mod text;
mod typed;
mod units;
mod written;

pub use answers::{Answers, CROSS, Pile, TICK, blank, is_test, marked_items, same_pupil};
pub use decide::{Class, Decision};
pub use diagnose::Suspect;
pub use doubts::{Fits, answer_counts, fits_another, mostly_wrong};
pub use findings::{Found, before, class_findings};
pub use groups::{Group, MOST_GROUPS};
pub use marks::{
    ItemMark, Marking, Otherwise, Part, PupilMark, WrongPile, mark, mark_after, mark_by,
    mark_together,
};
pub use model::Model;
pub use next::{Next, NextAnswer};
pub use pairs::Together;
pub use progress::{SkillPast, progress};
pub use read::{Read, decode, is_id, not_in_class, read_answers, read_file};
pub use shown::Shown;
pub use tells::Tells;
pub use text::CAUTION;
pub use typed::{HOW_TO_TYPE, Typed};
