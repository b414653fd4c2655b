//! Mental routes to a product, each with its cost in hundredths of a mental step.

use serde::{Deserialize, Serialize};

/// What kind of route it is, by the trade's name.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum RouteKind {
    /// A fact of the tables.
    Fact,
    /// Place-value shift: × 10, × 100, × 1000 and a fact times tens.
    Shift,
    /// Splitting into tens and ones (the distributive law).
    Splitting,
    /// Rounding and adjusting: × 29 as × 30 less × 1.
    Adjusting,
    /// Doubling one factor and halving the other.
    DoublingHalving,
    /// × 5, 50, 25, 125 as a half, quarter or eighth of × 10, 100, 1000.
    Parts,
    /// Splitting into factors: × 12 as × 3 × 4.
    Factors,
    /// Doubling again and again: × 4, × 8, × 16.
    Doubling,
}

/// One line of a route: what is worked out and why.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct RouteStep {
    /// The expression after the = sign, integers with × + − ÷ in ASCII (`* + - //`).
    pub expression: String,
    /// What it comes to.
    pub value: u64,
    /// Why, in a pupil's words; may be empty.
    pub reason: String,
}

/// One mental route to a product.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Route {
    /// What kind of route.
    pub name: RouteKind,
    /// Its cost, hundredths of a mental step.
    pub cost: u32,
    /// Its lines, the first the route itself, the last the product.
    pub steps: Vec<RouteStep>,
    /// The product.
    pub value: u64,
}

/// All routes to a × b that the cost model knows, cheapest first.
pub fn routes(a: u64, b: u64) -> Vec<Route> {
    let _ = (a, b);
    Vec::new()
}
