//! The data files of `curriculum/`, read as a proof-reader reads them.

#![allow(clippy::disallowed_methods)] // a test may read files

mod exchanges;
mod forms;
mod groups;
mod groups_of_two;
mod kinds;
mod ladder;
mod printed;
mod purposes;
mod readable;
mod scenes;
mod sheets;
mod stories;
mod sums;
mod tables;
mod taught;
mod terms;
mod words;

use std::fs;
use std::path::Path;

/// A file of `curriculum/` as text.
fn text_of(file: &str) -> String {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("curriculum").join(file);
    fs::read_to_string(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

/// The TOML files of a folder of `curriculum/`, by name.
fn files_of(folder: &str) -> Vec<String> {
    let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("curriculum").join(folder);
    let entries = fs::read_dir(&path).unwrap_or_else(|e| panic!("{}: {e}", path.display()));
    let mut names: Vec<String> = entries
        .map(|e| e.expect("an entry").file_name().into_string().expect("a name"))
        .filter(|name| name.ends_with(".toml"))
        .map(|name| format!("{folder}/{name}"))
        .collect();
    names.sort();
    names
}
