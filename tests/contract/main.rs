//! The contracts, each sentence a test through the real binary.

#![allow(clippy::disallowed_methods)] // a test may read and write files

mod bad_input;
mod bad_paper;
mod calendars;
mod checks;
mod class;
mod commands;
mod folder;
mod heads_pages;
mod json;
mod lessons;
mod marks;
mod marks_badly;
mod marks_demo;
mod marks_groups;
mod marks_kept;
mod marks_lead;
mod marks_newest;
mod moved;
mod rescheduled;
mod stories;
mod sums;
mod week;
mod whys;
mod wishes;
