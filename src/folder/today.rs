//! The clock on the wall: asked here and nowhere else.

#![allow(clippy::disallowed_methods)] // the one place that may ask

use chrono::NaiveDate;
use sha2::{Digest, Sha256};

/// Today's date on this machine.
pub fn today() -> NaiveDate {
    chrono::Local::now().date_naive()
}

/// A key for a new class: four hexadecimal digits nobody chose, and the class's name.
pub fn fresh_key(name: &str) -> String {
    let moment = chrono::Utc::now().timestamp_nanos_opt().unwrap_or_default();
    let hash = Sha256::digest(format!("{name}/{moment}/{}", std::process::id()).as_bytes());
    let simple: String = name
        .to_lowercase()
        .chars()
        .map(|c| if c.is_ascii_alphanumeric() { c } else { '-' })
        .collect();
    let tail: Vec<&str> = simple.split('-').filter(|part| !part.is_empty()).collect();
    format!("{:02x}{:02x}-{}", hash[0], hash[1], tail.last().copied().unwrap_or("class"))
}
