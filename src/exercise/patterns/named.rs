//! Wrong turns that have a name but no procedure here: the makers of words and large numbers
//! compute their wrong answers themselves, and keys must say in plain words what they show.

use super::{Family, Pattern, Procedure};

const fn named(
    name: &'static str,
    family: Family,
    short: &'static str,
    shows: &'static str,
    teach: &'static str,
) -> Pattern {
    let procedure = Procedure::Mental(|_, _| Vec::new());
    Pattern { name, short, shows, teach, family, weight: 1, procedure }
}

pub(super) const NAMED: &[Pattern] = &[
    named(
        "subtracted-instead",
        Family::Fact,
        "subtracted instead",
        "the two numbers are subtracted",
        "Ask for a story or a picture of the sum before it is worked out: groups, or taking away?",
    ),
    named(
        "factor-for-multiple",
        Family::Fact,
        "a factor, not a multiple",
        "factor and multiple are mixed up",
        "Factors go into a number, multiples come out of it. Have both said of one fact: 6 is a \
         factor of 18, and 18 is a multiple of 6.",
    ),
    named(
        "multiple-for-factor",
        Family::Fact,
        "a multiple, not a factor",
        "factor and multiple are mixed up",
        "Factors go into a number, multiples come out of it. Have both said of one fact: 6 is a \
         factor of 18, and 18 is a multiple of 6.",
    ),
    named(
        "zero-inside-left-out",
        Family::Zeros,
        "zero inside left out",
        "a zero inside the number is left out",
        "Write the number into a place-value chart: an empty place needs its zero. Read it back.",
    ),
    named(
        "zero-too-many",
        Family::Zeros,
        "a zero too many",
        "a zero is written where no place is empty",
        "Write the number into a place-value chart, one digit to a place. Read it back.",
    ),
    named(
        "written-as-heard",
        Family::Zeros,
        "written as it is heard",
        "the parts are written one after the other, as they are heard",
        "Three hundred and six is 300 and 6 laid on top of each other, with cards: the 6 covers a \
         zero. Read it back.",
    ),
];
