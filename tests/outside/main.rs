//! Values and programs from outside this project that could prove it wrong, each with its source.

#![allow(clippy::disallowed_methods)] // a test may read files

mod calendar;
mod graph;
mod numbers;
mod pdf;
mod pictures;
mod products;
mod terms;
