//! Changes of `plan.toml` that keep everything else as it stands, to the byte: comments, order,
//! blank lines, line ends.
//!
//! A change is cut into the text where the parser says the key or the table stands. What comes
//! out is read again and must mean exactly what was asked for; forms of writing that cannot be
//! cut so (an inline table, a dotted key) are rewritten by the TOML library instead.

mod closures;
mod key;
mod text;

pub use closures::{add_closure, add_opening, open_day};
pub use key::set;

use std::fmt;

/// Why a change could not be made, in words for the teacher.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CannotEdit(String);

impl fmt::Display for CannotEdit {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl std::error::Error for CannotEdit {}

impl From<toml_edit::TomlError> for CannotEdit {
    fn from(fault: toml_edit::TomlError) -> CannotEdit {
        CannotEdit(format!("not valid TOML: {}", fault.message().trim()))
    }
}

#[cfg(test)]
mod tests;
