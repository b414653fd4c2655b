//! What goes into a lesson, and the pack as a document.

pub mod blueprint;
pub mod house;
pub mod minutes;
pub mod mixing;
mod pack;

pub use pack::*;
