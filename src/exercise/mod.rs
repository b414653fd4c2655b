//! Questions: their kinds, how each is made, worked, timed and checked, and the wrong ways to them.

mod item;
pub mod makers;
pub mod patterns;
#[cfg(test)]
mod samples;
mod time;
mod verify;

pub use item::{
    Accept, Choice, Figure, Given, Item, Kind, Likely, Space, Story, WorkedRow, Working,
};
pub use time::{BUSY_PERCENT, Profile, Rates, Work, fitting, item_seconds, notes_seconds};
pub use verify::verify;
