//! Blocks: what an item looks like on paper. A block is never split.

pub mod answer;
pub mod checks;
pub mod example;
pub mod figure;
pub mod grid;
pub mod item;
pub mod lattice;
pub mod squares;
pub mod words;

use super::sheet::Drawing;

/// How much of the text's width a block takes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Span {
    /// All of it.
    Full,
    /// A column of two.
    Half,
    /// A column of three.
    Third,
}

/// Something that is placed as one; its drawing's origin is its top left corner.
#[derive(Debug, Clone, PartialEq)]
pub struct Block {
    /// How much of the width it takes.
    pub span: Span,
    /// Its height.
    pub height: f32,
    /// Whether rows of it stand close, as answer boxes do.
    pub tight: bool,
    /// What is drawn.
    pub drawing: Drawing,
}
