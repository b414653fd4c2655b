//! The wrong turns pupils take in story sums, by name: what each shows and how to teach it.
//!
//! Sources: that numbers which are not needed lower accuracy, Muth 1982; that single words pull
//! towards an operation, Powell, Namkung and Lin 2022; the others are widespread, no source.

/// A wrong turn in a story sum, as the catalogue of error patterns describes its own.
#[derive(Debug, Clone, Copy)]
pub struct StoryPattern {
    /// Its name: what the pupil did.
    pub name: &'static str,
    /// What it shows, in at most 24 letters, for the key.
    pub short: &'static str,
    /// What it shows, for the teacher's page.
    pub shows: &'static str,
    /// How to teach it, a sentence or two.
    pub teach: &'static str,
}

const fn pattern(
    name: &'static str,
    short: &'static str,
    shows: &'static str,
    teach: &'static str,
) -> StoryPattern {
    StoryPattern { name, short, shows, teach }
}

/// Every wrong turn in a story sum.
pub const STORY_PATTERNS: [StoryPattern; 16] = [
    pattern(
        "added-all-numbers",
        "all numbers added",
        "every number in the story is added",
        "Have the story drawn before anything is worked out: groups, rows or a bar. Ask what one of \
         the numbers counts.",
    ),
    pattern(
        "one-group-only",
        "one group only",
        "the number in one group is given for all groups",
        "Ask how many groups there are and what happens with the second one.",
    ),
    pattern(
        "multiplied-instead",
        "multiplied instead",
        "the numbers are multiplied where the story does not ask for it",
        "Ask which is larger, what is known or what is asked. Put two stories with the same words and \
         different questions side by side.",
    ),
    pattern(
        "subtracted-instead",
        "subtracted instead",
        "the numbers are subtracted where the story does not ask for it",
        "Have the story acted out with small numbers: what is there at the end, and what was there at \
         the beginning?",
    ),
    pattern(
        "one-group-off",
        "one group off",
        "one group too many or too few is counted",
        "Have the groups drawn and numbered: which is the first, which the last?",
    ),
    pattern(
        "unit-not-converted",
        "unit not changed",
        "a unit is left as it is: days are taken for weeks, hours for days",
        "Have each number written with its unit, and ask how many of the small unit make a large one.",
    ),
    pattern(
        "unneeded-number-added",
        "unneeded number added",
        "the right answer is spoilt by a number that is not needed",
        "Have the numbers that are needed underlined, and ask of each other one what it counts.",
    ),
    pattern(
        "unneeded-number-instead",
        "unneeded number used",
        "a number that is not needed stands in the place of one that is",
        "Have “what I know” written in words beside each number before anything is worked out.",
    ),
    pattern(
        "stopped-after-first-step",
        "first step only",
        "the answer of the first step is given",
        "Have the question read again after the first step: does this number answer it?",
    ),
    pattern(
        "first-step-left-out",
        "one step left out",
        "a step is left out",
        "Ask what each line of working finds, and have it written beside the line.",
    ),
    pattern(
        "first-step-reversed",
        "first step reversed",
        "the first step goes the wrong way",
        "Ask what happens in one group: does it get more or less?",
    ),
    pattern(
        "second-step-reversed",
        "second step reversed",
        "the second step goes the wrong way: added for taken away, or the other way round",
        "Ask whether there is more or less at the end of the story, before the second step.",
    ),
    pattern(
        "second-step-added",
        "second step added",
        "the second step is added where it multiplies",
        "Draw one day, floor or crate, and ask how the next one looks.",
    ),
    pattern(
        "steps-swapped",
        "steps in wrong order",
        "the steps are taken in the wrong order: what comes once is done to every group, or the other \
         way round",
        "Ask of the smaller number: does this happen once, or in every group? Draw two of the groups.",
    ),
    pattern(
        "groups-run-together",
        "groups run together",
        "groups of different sizes are taken as one kind",
        "Draw the two kinds of group in two colours and give each its own line of working.",
    ),
    pattern(
        "second-product-only",
        "second part only",
        "only the second product is given",
        "Have the question read again: whom or what does it ask about?",
    ),
];

/// The wrong turn of this name.
pub fn story_pattern(name: &str) -> Option<&'static StoryPattern> {
    STORY_PATTERNS.iter().find(|p| p.name == name)
}
