//! One question with its answer and working.

use crate::method::{Estimate, Grid, Lattice, Long, Route};
use serde::{Deserialize, Serialize};

/// What kind of question it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Kind {
    /// A sum done in the head.
    Mental,
    /// A whole product by a written method.
    Written,
    /// One partial product of a written method.
    Row,
    /// About how large a product is.
    Estimate,
    /// One of several answers.
    Choice,
    /// A story sum.
    Story,
    /// A number to read or write in words.
    Words,
    /// A missing number.
    Missing,
    /// A short answer with a reason.
    Reason,
}

/// Which answers are right beside the answer itself.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(untagged)]
pub enum Accept {
    /// Every whole number from least to most, for estimates.
    Between {
        /// The smallest right answer.
        least: String,
        /// The largest.
        most: String,
    },
    /// Each of these.
    Any(Vec<String>),
}

/// One option of a choice.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Choice {
    /// What it says, as printed.
    pub text: String,
    /// Whether it is right.
    pub correct: bool,
    /// The error pattern it comes from, by name.
    pub pattern: Option<String>,
}

/// A wrong answer to expect and what it shows.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Likely {
    /// The wrong answer, digits without grouping.
    pub answer: String,
    /// The names of the error patterns that give it; the first two together on the sheet of a group
    /// with two, where `shows` says "both at once".
    pub patterns: Vec<String>,
    /// What it shows, in at most 24 letters for the key: "zeros left out".
    pub shows: String,
}

/// How a story sum is laid out: what I know, what I need, working, answer in a sentence.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Story {
    /// What the story tells that is needed.
    pub know: Vec<String>,
    /// What it asks for.
    pub need: String,
    /// The steps, each "2,365 × 148 = 3,50,020" as printed.
    pub steps: Vec<String>,
    /// The answer in a sentence.
    pub sentence: String,
    /// The story's structure: `equal-groups`, `comparison`, …
    pub structure: String,
    /// The scene it tells, by its id; empty in packs of earlier versions.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub scene: String,
}

/// The full working of an item.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "method", rename_all = "kebab-case")]
pub enum Working {
    /// By long multiplication (a one-digit multiplier has one row).
    Long(Long),
    /// On a grid.
    Grid(Grid),
    /// On a lattice.
    Lattice(Lattice),
    /// In the head.
    Route(Route),
    /// By rounding.
    Estimate(Estimate),
    /// A story, with the long working of its product where there is one.
    Story {
        /// How it is laid out.
        story: Story,
        /// The product's working.
        long: Option<Long>,
    },
    /// In plain sentences.
    Steps {
        /// The sentences.
        steps: Vec<String>,
    },
}

/// What is drawn with a question.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Figure {
    /// Dots in rows.
    Array {
        /// How many rows.
        rows: u8,
        /// Dots in each row.
        columns: u8,
        /// An upright line stands after so many columns.
        cut: Option<u8>,
    },
    /// A rectangle cut into parts.
    Area {
        /// The lengths along its upper side.
        across: Vec<u64>,
        /// The lengths along its left side.
        down: Vec<u64>,
        /// What stands in each part, row by row; null where nothing does.
        cells: Vec<Vec<Option<u64>>>,
    },
    /// A sum as somebody worked it; not all of it need be right.
    Worked {
        /// The number on top.
        a: u64,
        /// The number under it.
        b: u64,
        /// The rows in the order written.
        rows: Vec<WorkedRow>,
        /// What they come to, as it is written.
        value: u64,
    },
}

/// A row of a sum that somebody worked.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct WorkedRow {
    /// What it is times: 30 in "× 30".
    pub times: u64,
    /// What is written.
    pub value: u64,
}

/// What is already printed in a squared space.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Given {
    /// Nothing: blank squares.
    Nothing,
    /// Everything, as a worked example.
    All,
    /// Headings, factors, labels; the last `n` of (rows…, answer) are left to do, zeros given.
    /// `n` = rows + 1: nothing of the rows is printed but placeholder zeros.
    AllButLast(u8),
    /// Headings, factors, labels and every line but one, placeholder zeros given there too.
    But {
        /// The line, of (rows…, answer), counted from 0.
        line: u8,
    },
    /// The rows alone, each with its label and no carries; their sum is left to do.
    Rows,
    /// Everything but one digit, whose square is a bold box; no carries are printed.
    Missing {
        /// The line: 0 the multiplicand, 1 the multiplier, then the rows in the order written,
        /// last the answer.
        line: u8,
        /// The digit's place in that line, 0 for the ones.
        place: u8,
    },
}

/// What a pupil writes the answer on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "kind", rename_all = "kebab-case")]
pub enum Space {
    /// A small box after the equals sign.
    Box,
    /// A line to write on.
    Line,
    /// Squares for a written method, one digit each.
    Squares {
        /// Squares across: digits of the product and one for "+", at least 5.
        columns: u8,
        /// Squares down.
        rows: u8,
        /// What is already there.
        given: Given,
        /// Whether a line for an estimate stands above (core) or "lies between" (with headings).
        estimate: bool,
        /// Whether the answer is held against the estimate on a line below.
        #[serde(default, skip_serializing_if = "std::ops::Not::not")]
        compare: bool,
    },
    /// One strip of squares.
    Strip {
        /// Squares across.
        columns: u8,
    },
    /// A place-value chart: places named above, the first factor in its squares, and squares under it
    /// for the product.
    Chart {
        /// Places across, as many as the product has.
        columns: u8,
    },
    /// A grid of this many parts across and rows down (headings not counted).
    Grid {
        /// Parts of the multiplicand.
        columns: u8,
        /// Parts of the multiplier.
        rows: u8,
        /// What is already there.
        given: Given,
    },
    /// A lattice of this many digits across and down.
    Lattice {
        /// Digits of the multiplicand.
        columns: u8,
        /// Digits of the multiplier.
        rows: u8,
        /// What is already there.
        given: Given,
    },
    /// Letters to ring, with room for "I know because" or without.
    Options {
        /// Whether a reason is asked for.
        because: bool,
    },
    /// I know, I need, squares, answer sentence.
    Story {
        /// Squares across.
        columns: u8,
        /// Squares down.
        rows: u8,
    },
    /// Lines to write on.
    Lines {
        /// How many.
        count: u8,
    },
}

/// One question with answer and working.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Item {
    /// `L07-W1`; empty until the pack numbers it.
    pub id: String,
    /// The skill it practises.
    pub skill: String,
    /// What kind of question it is.
    pub kind: Kind,
    /// The question as printed, numbers grouped as the class writes them. A bare sum stands
    /// without a sign after it; [`Item::sign`] says which one follows.
    pub prompt: String,
    /// Integers, `+ - * //` and brackets, evaluating to `answer`; null where there is nothing to
    /// compute. `a*b` for written, row and plain mental products.
    pub expression: Option<String>,
    /// Digits without grouping; for a choice the right choice's text.
    pub answer: String,
    /// What else is right.
    pub accept: Option<Accept>,
    /// The options of a choice, else empty.
    pub choices: Vec<Choice>,
    /// The full working.
    pub working: Working,
    /// How long it takes at the class's pace, seconds.
    pub seconds: u32,
    /// Wrong answers to expect, likeliest first.
    pub likely: Vec<Likely>,
    /// What it is written on.
    pub space: Space,
    /// What is drawn with the question.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub figure: Option<Figure>,
    /// What its numbers show ("a carry over a zero"), for the teacher; may be empty.
    pub purpose: String,
}

impl Item {
    /// The two factors, where the item is one product of two whole numbers.
    pub fn factors(&self) -> Option<(u64, u64)> {
        let (a, b) = self.expression.as_ref()?.split_once('*')?;
        Some((a.trim().parse().ok()?, b.trim().parse().ok()?))
    }

    /// Whether a part of its working is printed already, so that a wrong answer need not be the
    /// pupil's own: rows that are filled in, or "47 × 29 = 47 × 30 − 47 =".
    pub fn is_begun(&self) -> bool {
        match self.space {
            Space::Squares { given, .. }
            | Space::Grid { given, .. }
            // The parts of one row are printed so that it is clear which row: nothing is worked yet.
            | Space::Lattice { given, .. } => given != Given::Nothing && self.kind != Kind::Row,
            _ => self.kind == Kind::Mental && self.prompt.contains('='),
        }
    }

    /// What stands between the prompt and the space for the answer: "=" after a bare sum, "≈"
    /// after one to estimate, nothing after a question or a sentence.
    pub fn sign(&self) -> &'static str {
        let bare = self.prompt.contains('×')
            && self.prompt.chars().all(|c| !c.is_alphabetic() && !"=?".contains(c))
            && self.prompt.ends_with(|c: char| c.is_ascii_digit() || c == ')');
        match self.kind {
            _ if !bare => "",
            Kind::Estimate => "≈",
            _ => "=",
        }
    }
}
