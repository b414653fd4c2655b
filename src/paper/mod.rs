//! Paper: from a pack to PDF files.

pub mod font;
pub mod look;
pub mod sheet;

pub use font::glyphs_missing;
