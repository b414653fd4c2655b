//! Questions: their kinds, how each is made, worked, timed and checked, and the wrong ways to them.

mod item;
pub mod makers;
pub mod patterns;
mod time;
mod verify;

pub use item::{Accept, Choice, Given, Item, Kind, Likely, Space, Story, Working};
pub use time::{Profile, item_seconds};
pub use verify::verify;
