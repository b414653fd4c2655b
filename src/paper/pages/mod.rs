//! The pages of a pack, kind by kind.

mod arrange;
pub mod coverage;
mod for_class;
mod frame;
pub mod group;
pub mod homework;
mod instruction;
pub mod key;
mod key_notes;
mod listing;
pub mod progress;
pub mod pupil;
pub mod scheme;
pub mod slips;
pub mod teacher;
pub mod test;
mod timebar;
pub mod worked;

pub use for_class::ForClass;
pub use frame::{Frame, author};

use super::sheet::Page;

/// The pages, the first with a top over what it holds.
fn on_top(mut top: Page, mut pages: Vec<Page>) -> Vec<Page> {
    if let Some(first) = pages.first_mut() {
        top.place(std::mem::take(first), (0.0, 0.0));
        *first = top;
    }
    pages
}
