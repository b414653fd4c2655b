//! The pages of a pack, kind by kind.

mod frame;
pub mod pupil;

pub use frame::Frame;
