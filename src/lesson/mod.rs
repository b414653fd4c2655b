//! What goes into a lesson, and the pack as a document.

mod pack;

pub use pack::*;
