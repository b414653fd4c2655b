//! How much of half a sheet an item takes: homework and exit checks hold no more than that.
//!
//! Heights are millimetres as on paper (squares of 8 mm), roughly: what stands side by side is
//! paper's business. Half a sheet holds two columns of 106 mm, or three of narrow squares.

use super::bench::Made;
use crate::exercise::{Item, Space};
use crate::method::Carries;
use crate::plan::Plan;

/// What half a sheet holds, in mm of one column as wide as the sheet; a seventh stays unused,
/// for blocks do not fit together without gaps.
const HALF: u32 = 106 * 17 / 20;
/// The least white between blocks where room is short.
const GAP: u32 = 6;
/// Squares of so many columns stand three abreast.
const NARROW: u8 = 6;
/// Homework's half sheet in parts: two rows of three.
pub const PARTS: usize = 6;

/// How high squares of so many rows stand, with what is above them, mm.
fn squares_high(item: &Item, plan: &Plan, rows: u8) -> u32 {
    let strips = match (plan.style.carries, item.expression.as_deref()) {
        (Carries::Above, Some(sum)) => {
            sum.rsplit('*').next().map_or(0, |factor| u32::try_from(factor.len()).unwrap_or(0))
        }
        _ => 0,
    };
    9 + 8 * u32::from(rows) + 4 * strips
}

/// How many of homework's six parts an item takes.
pub fn parts(item: &Item, plan: &Plan) -> usize {
    match item.space {
        Space::Story { rows, .. } => {
            if rows > 6 {
                5
            } else {
                4
            }
        }
        // A drawing is as high as three questions.
        _ if item.figure.is_some() => 3,
        // Two rows of these are too high, and three do not stand abreast.
        Space::Squares { columns, rows, .. }
            if columns > NARROW && squares_high(item, plan, rows) > 49 =>
        {
            3
        }
        Space::Squares { .. }
        | Space::Grid { .. }
        | Space::Lattice { .. }
        | Space::Chart { .. } => 2,
        _ => 1,
    }
}

/// The items that an exit check has whatever room they take.
const SURELY: usize = 3;

/// Whether a slip of half a sheet holds one item more.
pub fn on_a_slip(check: &[Made], more: &Made, plan: &Plan) -> bool {
    if check.len() < SURELY {
        return true;
    }
    let all = check.iter().chain([more]).map(|m| tenths(&m.item, plan)).sum::<u32>();
    all <= HALF * 10
}

/// Tenths of a millimetre of the whole width that an item takes on a slip.
fn tenths(item: &Item, plan: &Plan) -> u32 {
    let (high, columns) = match item.space {
        _ if item.figure.is_some() => (50, 2),
        Space::Box => (9, 3),
        Space::Strip { columns } => (17, if columns <= NARROW { 3 } else { 2 }),
        Space::Chart { columns } => (33, if columns <= NARROW { 3 } else { 2 }),
        Space::Squares { columns, rows, .. } => {
            (squares_high(item, plan, rows), if columns <= NARROW { 3 } else { 2 })
        }
        Space::Grid { rows: 1, .. } => (25, 2),
        Space::Grid { rows, .. } | Space::Lattice { rows, .. } => (12 + 8 * u32::from(rows), 2),
        Space::Options { because: true } => (33, 1),
        Space::Options { .. } => (16, 1),
        Space::Story { rows, .. } => (38 + squares_high(item, plan, rows) - 9, 2),
        Space::Line => (21, 2),
        Space::Lines { count } => (10 + 10 * u32::from(count), 1),
    };
    (high + GAP) * 10 / columns
}
