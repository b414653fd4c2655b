//! What goes into a lesson, and the pack as a document.
//!
//! [`compose()`] looks at the term up to a lesson (`memory`), shares the period's minutes out
//! (`minutes`), has the items of each section made on a `bench`, and writes what the teacher's
//! page says of them.

mod after_marks;
mod again;
mod bench;
mod blueprint;
mod check;
mod compose;
mod consolidate;
mod copies;
mod examples;
mod findings;
mod forms;
mod given_away;
mod group;
mod half;
mod house;
mod meaning;
mod measures;
mod memory;
mod mending;
mod minutes;
mod mixing;
mod pack;
mod practice;
mod progress;
mod questions;
mod sheet_rules;
mod teach;
mod teacher;
mod tells;
mod test;

#[cfg(test)]
pub(crate) mod class_tests;
#[cfg(test)]
mod fixture;
#[cfg(test)]
mod group_tests;
#[cfg(test)]
mod term_tests;

pub use crate::exercise::makers::Met;
pub use bench::sameness;
pub use check::check;
pub use compose::{Fault, Occasion, compose, compose_after, note_met, warm_up_after};
pub use copies::slips_to_a_page;
pub use findings::{
    Findings, MOST_GROUPS, Missed, PatternFinding, SkillFinding, Tested, counted_slips, is_large,
    pupils_and_slips, sorted_by,
};
pub use group::{BEGUN, ForGroup, GroupSheet, group_code, group_sheet, met_in};
pub use meaning::{Meaning, meaning};
pub use mending::{Back, back};
pub use pack::*;
pub use progress::{Checked, Progress, PupilProgress, SkillProgress, Stage, is_secure, stage};
pub use tells::{CheckTells, check_tells};
