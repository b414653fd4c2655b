//! What goes into a lesson, and the pack as a document.

pub mod blueprint;
mod findings;
pub mod house;
pub mod memory;
pub mod minutes;
pub mod mixing;
mod pack;

pub use findings::*;
pub use pack::*;
