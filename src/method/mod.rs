//! How a product is worked out: long multiplication, grid, lattice, mental routes, estimates.
//!
//! Every method gives its whole working, not just its answer, so that paper can print each step
//! and an error pattern can change one.

mod estimate;
mod grid;
mod lattice;
mod layout;
mod long;
mod routes;
mod say;
mod say_tables;
mod school_words;
mod typeset;

pub use estimate::{Estimate, digits_of_product, estimate};
pub use grid::{Grid, GridRow, grid};
pub use lattice::{Lattice, lattice};
pub use layout::{Cell, LineKind, LineOfCells, LongLayout, Under, layout, squares};
pub use long::{Long, Row, long, ordered};
pub use routes::{
    ChainLine, CostModel, Route, RouteKind, RouteStep, cheapest, natural, route_costs, route_of,
    routes, routes_by, split_cost,
};
pub use say::long_words;
pub use say_tables::{estimate_words, grid_words, lattice_words};

use crate::number::{Grouping, OnesWord};
use serde::{Deserialize, Serialize};

/// A written method.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Written {
    /// Long multiplication: a row for each digit of the multiplier.
    Long,
    /// The grid: a cell for each pair of parts.
    Grid,
    /// The lattice: a cell for each pair of digits, added along diagonals.
    Lattice,
}

/// Where carried digits stand.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Carries {
    /// In the row being written, in the square where they will be added.
    #[default]
    InRow,
    /// In strips above the multiplicand.
    Above,
}

/// What becomes of a zero digit of the multiplier.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum ZeroRow {
    /// It gets no row.
    #[default]
    Skip,
    /// It gets a row of noughts.
    Write,
}

/// Which row is written first.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum FirstRow {
    /// The ones' row.
    #[default]
    Ones,
    /// The row of the highest digit.
    Highest,
}

/// The word for what is carried.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum CarryWord {
    /// "carry"
    #[default]
    Carry,
    /// "regroup"
    Regroup,
}

/// A school's house style for written work and for numbers.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(default, rename_all = "kebab-case")]
pub struct HouseStyle {
    /// How numbers are grouped and large places named.
    pub grouping: Grouping,
    /// The written methods of the school, in the order they are taught; when each is taught stands in
    /// the ladder.
    pub method: Vec<Written>,
    /// Where carried digits stand.
    pub carries: Carries,
    /// Whether a zero digit of the multiplier gets a row.
    pub zero_row: ZeroRow,
    /// Which row is written first.
    pub first_row: FirstRow,
    /// The word for the last place.
    pub ones: OnesWord,
    /// The word for what is carried.
    pub carry: CarryWord,
    /// The small money of story sums, in the plural; empty: by how numbers are grouped.
    #[serde(skip_serializing_if = "String::is_empty")]
    pub money: String,
}

impl HouseStyle {
    /// The small money of story sums, in the plural: "rupees", "cents", or the school's own word.
    pub fn money(&self) -> &str {
        match (self.money.as_str(), self.grouping) {
            ("", Grouping::Indian) => "rupees",
            ("", _) => "cents",
            (own, _) => own,
        }
    }
}

impl Default for HouseStyle {
    fn default() -> Self {
        HouseStyle {
            grouping: Grouping::default(),
            method: vec![Written::Long],
            carries: Carries::default(),
            zero_row: ZeroRow::default(),
            first_row: FirstRow::default(),
            ones: OnesWord::default(),
            carry: CarryWord::default(),
            money: String::new(),
        }
    }
}
