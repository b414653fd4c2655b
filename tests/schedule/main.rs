//! Schedules: small terms by hand, terms of full size, and other methods to compare with.

#![allow(clippy::disallowed_methods)] // a test may read files

mod chains;
mod clashes;
mod compared;
mod from_files;
mod judged;
mod make;
mod oracle;
mod properties;
mod reasons;
mod small;
