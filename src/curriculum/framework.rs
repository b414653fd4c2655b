//! Published curricula: their codes with our own short paraphrase.

use indexmap::IndexMap;

/// One statement of a published curriculum.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outcome {
    /// Its code in the framework: `5.NBT.B.5`.
    pub code: String,
    /// Where in the framework it stands: "Grade 5", "Year 6".
    pub stage: String,
    /// A label of a few words for tables: "written method".
    pub short: String,
    /// What it asks, in our own words.
    pub asks: String,
}

/// A published curriculum, as a file of ours describes it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Framework {
    /// Its name in files: `ccssm`.
    pub name: String,
    /// Its short title on paper: "CCSSM".
    pub title: String,
    /// The publication it was taken from.
    pub source: String,
    /// Under what licence the original stands, and that the wording here is ours.
    pub licence: String,
    /// Its outcomes by code.
    pub outcomes: IndexMap<String, Outcome>,
}
