//! The measures of every sheet: page, lines, sizes. Millimetres; lines and type in points.

use super::sheet::Point;
use crate::plan::PaperSize;

/// Squares, carry corners, table rows, ticks.
pub const HAIR: f32 = 0.45;
/// Answer boxes, writing lines, rules under headings, foot, cut lines.
pub const FINE: f32 = 0.65;
/// Lines inside a sum, head rule, sections of the key, time bar.
pub const SUM: f32 = 0.9;
/// Under an answer.
pub const ANSWER: f32 = 1.3;
/// Today and the test, on the term page.
pub const FRAME: f32 = 1.8;

/// Head, foot, notes, carries.
pub const SMALL: u8 = 8;
/// Words beside rows, place headings.
pub const BESIDE: u8 = 9;
/// What the teacher reads.
pub const TEACHER: u8 = 10;
/// What pupils read.
pub const PUPIL: u8 = 12;
/// Titles, and digits in squares.
pub const LARGE: u8 = 16;

/// The side of a square.
pub const SQUARE: f32 = 8.0;
/// The text's width, on both papers.
pub const TEXT: f32 = 168.0;
/// A column of two.
pub const COLUMN: f32 = 80.0;
/// From one column's left edge to the next one's.
pub const COLUMN_STEP: f32 = 88.0;
/// What an item's number takes at its left.
pub const NUMBER: f32 = 16.0;
/// The least white between blocks.
pub const BETWEEN: f32 = 8.0;
/// From one line of pupils' text to the next.
pub const PITCH: f32 = 6.0;

/// The baseline of the head, and its rule.
pub const HEAD: (f32, f32) = (15.0, 17.5);
/// The top of the body.
pub const BODY_TOP: f32 = 24.0;
/// The baseline of a title.
pub const TITLE: f32 = 29.0;

/// Where things stand on one kind of paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Format {
    /// Width and height.
    pub size: Point,
    /// The left margin, as wide as the right one.
    pub left: f32,
    /// Where the body ends.
    pub body_foot: f32,
    /// The rule over the foot.
    pub foot_rule: f32,
    /// The foot's baseline.
    pub foot: f32,
}

impl Format {
    /// The format of a paper.
    pub fn of(paper: PaperSize) -> Format {
        match paper {
            PaperSize::A4 => Format {
                size: (210.0, 297.0),
                left: 21.0,
                body_foot: 280.0,
                foot_rule: 283.5,
                foot: 288.0,
            },
            PaperSize::Letter => Format {
                size: (215.9, 279.4),
                left: 23.95,
                body_foot: 262.0,
                foot_rule: 265.9,
                foot: 270.4,
            },
        }
    }
    /// The right edge of the text.
    pub fn right(&self) -> f32 {
        self.left + TEXT
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_text_is_as_wide_on_both_papers_and_in_the_middle() {
        for paper in [PaperSize::A4, PaperSize::Letter] {
            let format = Format::of(paper);
            assert!((format.size.0 - 2.0 * format.left - TEXT).abs() < 0.001);
            assert!(format.body_foot < format.foot_rule && format.foot < format.size.1 - 5.0);
        }
    }
}
