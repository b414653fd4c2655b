//! Rungwise turns a ladder of multiplication skills into a dated term of lessons and prints each
//! day's lesson pack. DEVELOPERS.md describes the rooms; a room imports only from lower floors.

pub mod calendar;
pub mod command;
pub mod curriculum;
pub mod exchange;
pub mod exercise;
pub mod folder;
pub mod lesson;
pub mod marking;
pub mod method;
pub mod number;
pub mod paper;
pub mod plan;
pub mod report;
pub mod schedule;
pub mod seed;
pub mod words;
