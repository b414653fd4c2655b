//! What there is to teach: skills and what they need, and the outcomes of published frameworks.

mod framework;
mod ladder;
mod ours;
mod read;

pub use framework::{Framework, Outcome, check_outcomes, read_framework};
pub use ladder::Ladder;
pub use ours::{frameworks, our_ladder, our_ladders, ours};
pub use read::{LESSONS, WEIGHT, read_ladder};

use serde::{Deserialize, Serialize};

/// How many lessons a skill takes, each 1 to 9: `least <= preferred <= most`.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct Lessons {
    /// With fewer it is not taught at all.
    pub least: u8,
    /// As many as it wants.
    pub preferred: u8,
    /// More are never given.
    pub most: u8,
}

impl Lessons {
    /// Whether `least <= preferred <= most`.
    pub fn in_order(self) -> bool {
        self.least <= self.preferred && self.preferred <= self.most
    }
}

/// One teachable step.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Skill {
    /// Its name in files, unique in its ladder.
    pub id: String,
    /// Its title on paper: "Long multiplication: four digits by three".
    pub title: String,
    /// A title of at most 16 letters or two short lines, for the term page: "Long: 4 × 3 digits".
    pub short: String,
    /// The skills it needs directly.
    pub needs: Vec<String>,
    /// How many lessons it takes.
    pub lessons: Lessons,
    /// How much it matters, 1 to 5.
    pub weight: u8,
    /// Whether it may be left out.
    pub optional: bool,
    /// Codes of outcomes it serves, each `framework:code` (or a bare code of the teacher's own).
    pub outcomes: Vec<String>,
    /// One sentence with a verb, for the teacher's page.
    pub objective: String,
    /// What a pupil who has it can do; printed after "Pupils can".
    pub success: Vec<String>,
    /// Words of the trade met here.
    pub vocabulary: Vec<String>,
    /// What to say when teaching it, a sentence each.
    pub say: Vec<String>,
    /// What goes wrong, a sentence each.
    pub goes_wrong: Vec<String>,
    /// The maker of its exercises; absent in the file: the maker of the skill's own id, if any.
    pub maker: String,
}

impl Skill {
    /// A skill of this id and these numbers of lessons, everything else as a file without it
    /// would have it.
    pub fn bare(id: &str, lessons: Lessons) -> Skill {
        Skill {
            id: id.to_owned(),
            title: read::title_from(id),
            short: read::title_from(id),
            needs: Vec::new(),
            lessons,
            weight: read::USUAL_WEIGHT,
            optional: false,
            outcomes: Vec::new(),
            objective: String::new(),
            success: Vec::new(),
            vocabulary: Vec::new(),
            say: Vec::new(),
            goes_wrong: Vec::new(),
            maker: id.to_owned(),
        }
    }
}
