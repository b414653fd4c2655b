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
    named(
        "divided-instead",
        Family::Fact,
        "divided instead",
        "the two numbers are divided",
        "Ask whether the answer must be larger or smaller than the number of one group, before \
         any sign is chosen.",
    ),
    named(
        "product-for-factor",
        Family::Fact,
        "product, not factor",
        "the words product and factor are taken for each other",
        "Factors go in, the product comes out. Have one fact labelled with both words on the \
         board.",
    ),
    named(
        "factor-for-product",
        Family::Fact,
        "factor, not product",
        "the words product and factor are taken for each other",
        "Factors go in, the product comes out. Have one fact labelled with both words on the \
         board.",
    ),
    named(
        "word-of-adding",
        Family::Fact,
        "a word of adding",
        "a word of adding is used for multiplying",
        "Put four cards side by side: sum, difference, product, quotient. Have a fact laid under \
         each.",
    ),
    named(
        "word-of-taking-away",
        Family::Fact,
        "a word of taking away",
        "a word of taking away is used for multiplying",
        "Put four cards side by side: sum, difference, product, quotient. Have a fact laid under \
         each.",
    ),
    named(
        "digit-for-number",
        Family::Fact,
        "digit for number",
        "the word digit is used for a whole number",
        "Have a number said digit by digit and then as a number: 45 has the digits 4 and 5.",
    ),
    named(
        "plus-signs-counted",
        Family::Fact,
        "plus signs counted",
        "the plus signs are counted instead of the parts",
        "Have the parts touched one by one while they are counted: four parts have three signs \
         between them.",
    ),
    named(
        "number-times-itself",
        Family::Fact,
        "number times itself",
        "the number is multiplied by itself",
        "Ask how often the number stands there, and how large it is: those are two different \
         questions.",
    ),
    named(
        "all-groups-counted",
        Family::Fact,
        "all groups, not the rest",
        "all groups are given instead of those that are still missing",
        "Draw the groups that are there, then go on in another colour until all are there. Count \
         the new colour.",
    ),
    named(
        "group-size-given",
        Family::Fact,
        "size of a group",
        "the size of a group is given instead of a number of groups",
        "Have each number said with its word: 7 what, 3 what?",
    ),
    named(
        "other-factor-used",
        Family::Mental,
        "the other number used",
        "the number of groups is used instead of the size of a group",
        "One group more of 47 is 47 more. Have the last group drawn and its size written on it.",
    ),
    named(
        "digits-all-added",
        Family::Estimate,
        "always all the digits",
        "every product is taken to have as many digits as both numbers together",
        "Have the smallest and the largest such numbers multiplied: 10 × 10 has three digits, 99 \
         × 99 has four.",
    ),
    named(
        "digits-always-one-fewer",
        Family::Estimate,
        "always one digit fewer",
        "every product is taken to have one digit fewer than both numbers together",
        "Have the smallest and the largest such numbers multiplied: 10 × 10 has three digits, 99 \
         × 99 has four.",
    ),
    named(
        "digits-one-too-many",
        Family::Estimate,
        "a digit too many",
        "more digits are given than the product can have",
        "Put the product between two round numbers and count their digits.",
    ),
    named(
        "largest-first",
        Family::Estimate,
        "largest first",
        "the order begins at the other end",
        "Have the words smallest first underlined, and the two ends named before the rest is put \
         in order.",
    ),
    named(
        "ordered-by-one-factor",
        Family::Estimate,
        "by one number only",
        "only one of the two numbers of each product is looked at",
        "Cover what two products share. What is left decides.",
    ),
    named(
        "fact-first-digit",
        Family::Fact,
        "first digit of the fact",
        "the first digit of the fact is given instead of its last",
        "Write the fact in the place-value chart: its ones stay, its tens are carried.",
    ),
    named(
        "one-factor-unchanged",
        Family::Mental,
        "other number unchanged",
        "one number is halved and the other left as it is",
        "Cut an array in half and set the halves side by side: what happens to each side?",
    ),
    named(
        "both-halved",
        Family::Mental,
        "both halved",
        "both numbers are halved",
        "Cut an array in half and set the halves side by side: what happens to each side?",
    ),
    named(
        "digits-added-once",
        Family::Estimate,
        "added once only",
        "the digits are added once, though two digits are left",
        "Ask whether one digit is left. If not, add again.",
    ),
    named(
        "whole-for-part",
        Family::Fact,
        "the whole, not the part",
        "the whole array is counted instead of the part that is asked for",
        "Have the part coloured in before anything is counted.",
    ),
    named(
        "leading-digits-not-used",
        Family::Estimate,
        "first digits not used",
        "the first digits of the numbers are not looked at",
        "Work out the smallest and the largest product with these first digits, and count their \
         digits.",
    ),
];
