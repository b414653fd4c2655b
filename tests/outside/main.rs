//! Values and programs from outside this project that could prove it wrong, each with its source.

#![allow(clippy::disallowed_methods)] // a test may read files

mod calendar;
mod catalogue;
#[allow(dead_code)] // not all that the other room asks of the terms is asked here
#[path = "../content/terms.rs"]
mod composed;
mod graph;
mod kinds_drawn;
mod million;
mod numbers;
mod pairs;
mod pdf;
mod pictures;
mod plain;
mod products;
mod reference;
mod terms;
