//! Questions that start from a product that is known, or that need none: for stretch.

use super::build::mistakes;
use super::lists::LISTS;
use super::order::{in_order, most_or_least, true_or_false};
use super::words::{misread, option, spellings};
use super::written::RECIPES;
use super::{Bench, Spot, deal, drawn, equal_groups, workings};
use crate::exercise::patterns::{likely_written, likely_wrong_mental, pattern};
use crate::exercise::{Accept, Item, Kind, Likely, Space, Working};
use crate::method::{Written, ordered};
use crate::number::in_words;

type Pair = (u64, u64);

/// What a question asks that offers mistakes in words.
pub const WHAT_WENT_WRONG: &str = "What went wrong?";

/// How many kinds [`thought`] knows.
pub(super) const KINDS: usize = 14;

/// Whether a set is of a skill that is no longer new: mistakes to find wait until then, for wrong
/// examples help least at the beginning (Barbieri et al. 2023).
fn is_secure(bench: &Bench) -> bool {
    bench.request.part > 1 || !deal::is_lesson(bench.request) || bench.request.spot == Spot::Test
}

/// Whether the skill works in rows.
fn writes_rows(bench: &Bench) -> bool {
    RECIPES.iter().any(|r| r.name == bench.maker && r.method == Written::Long)
}

/// A mistake to find and mend, where the skill works in rows and is no longer new.
pub(super) fn to_mend(bench: &Bench, pair: Pair) -> Option<Item> {
    (writes_rows(bench) && is_secure(bench)).then(|| workings::mend(bench, pair)).flatten()
}

/// The `turn`-th kind of question about this pair; none where it does not suit the pair.
pub(super) fn thought(bench: &Bench, pair: Pair, turn: usize) -> Option<Item> {
    let (a, b) = ordered(pair.0, pair.1);
    // Workings in rows are for skills that write them, and mistakes in them for later.
    let rows = writes_rows(bench) && !a.is_multiple_of(10) && !b.is_multiple_of(10);
    let secure = rows && is_secure(bench);
    match turn % KINDS {
        0 => Some(next_door(bench, (a, b))),
        1 if secure => {
            let likely = likely_written(a, b, Written::Long, &bench.setting.style);
            what_went_wrong(bench, (a, b), &TOLD, &likely)
        }
        1 if is_secure(bench) => {
            let route = LISTS.iter().find(|list| list.name == bench.maker)?.route;
            what_went_wrong(bench, (a, b), &TOLD_OF_ROUTES, &likely_wrong_mental(a, b, route))
        }
        2 => Some(true_or_false(bench, (a, b))),
        3 => same_product(bench, (a, b)),
        4 => in_order(bench, (a, b)),
        5 => product_in_words(bench, (a, b)),
        6 => drawn::area_part(bench, (a, b)).or_else(|| drawn::split_dots(bench, (a, b))),
        7 => Some(from_twice(bench, (a, b))),
        8 if secure => workings::mend(bench, (a, b)),
        9 if secure => workings::which_is_right(bench, (a, b)),
        9 => equal_groups::groups_too_many(bench, (a, b)),
        10 => super::stretch::reason(bench, pair, 1),
        11 => Some(most_or_least(bench, (a, b))),
        12 => product_in_figures(bench, (a, b)),
        13 => drawn::area_whole(bench, (a, b))
            .or_else(|| equal_groups::groups_of_a_split(bench, (a, b))),
        _ => None,
    }
}

/// What follows from a known product, without a reason to write: one group more, twice as much, the
/// same product of another pair. None for every fourth, and where it does not suit the pair.
pub(super) fn from_known_product(bench: &Bench, pair: Pair, turn: usize) -> Option<Item> {
    let (a, b) = ordered(pair.0, pair.1);
    match turn % 4 {
        0 => Some(next_door(bench, (a, b))),
        1 => same_product(bench, (a, b)),
        2 => Some(from_twice(bench, (a, b))),
        _ => None,
    }
}

/// "47 × 36 = 1,692."
fn known(bench: &Bench, (a, b): Pair) -> String {
    format!("{}\u{a0}=\u{a0}{}", bench.sum(a, b), bench.number(a * b))
}

fn from_known(
    bench: &Bench,
    given: Pair,
    asked: Pair,
    expression: String,
    why: String,
    wrong: &[(u64, &str)],
) -> Item {
    let prompt =
        format!("{}. Use it to find {}.", known(bench, given), bench.sum(asked.0, asked.1));
    let mut item = bench.plain(Kind::Reason, prompt, (asked.0 * asked.1).to_string());
    item.expression = Some(expression);
    item.working = Working::Steps { steps: vec![why] };
    item.likely = mistakes(asked.0 * asked.1, wrong);
    item.space = Space::Box;
    item
}

/// "47 × 36 = 1,692. Use it to find 47 × 37."
fn next_door(bench: &Bench, (a, b): Pair) -> Item {
    let more = format!("{}\u{a0}+\u{a0}{}", bench.number(a * b), bench.number(a));
    let why =
        format!("One {} more: {more}\u{a0}=\u{a0}{}.", bench.number(a), bench.number(a * (b + 1)));
    let wrong = [
        (a * b + 1, "adjusted-by-the-difference"),
        (a * b + b, "other-factor-used"),
        ((a * b).saturating_sub(a), "adjusted-the-wrong-way"),
    ];
    from_known(bench, (a, b), (a, b + 1), format!("{}+{a}", a * b), why, &wrong)
}

/// "47 × 36 = 1,692. Use it to find 94 × 36."
fn from_twice(bench: &Bench, (a, b): Pair) -> Item {
    let why = format!("Twice as much: {}.", known(bench, (2, a * b)));
    let wrong = [
        (a * b + 2, "added-instead"),
        (4 * a * b, "both-doubled"),
        (a * b + a, "adjusted-once-only"),
    ];
    from_known(bench, (a, b), (2 * a, b), format!("2*{}", a * b), why, &wrong)
}

/// "48 × 25 = 24 ×" and a box: one factor halved, the other doubled.
fn same_product(bench: &Bench, (a, b): Pair) -> Option<Item> {
    let (even, other) = [(a, b), (b, a)].into_iter().find(|(x, _)| x % 2 == 0 && *x > 4)?;
    let half = even / 2;
    let prompt = format!("{}\u{a0}=\u{a0}{}\u{a0}×", bench.sum(even, other), bench.number(half));
    let mut item = bench.plain(Kind::Missing, prompt, (2 * other).to_string());
    item.expression = Some(format!("{even}*{other}//{half}"));
    let why = format!(
        "{} is half of {}, so the other factor is twice {}.",
        bench.number(half),
        bench.number(even),
        bench.number(other)
    );
    item.working = Working::Steps { steps: vec![why] };
    let mut wrong = vec![(other, "one-factor-unchanged")];
    if other.is_multiple_of(2) {
        wrong.push((other / 2, "both-halved"));
    }
    item.likely = mistakes(2 * other, &wrong);
    item.space = Space::Box;
    Some(item)
}

/// Products shorter than this have names that nobody stumbles over.
const LONG: u64 = 10_000;

/// "2,365 × 148 = 350,020. Write the product in words."
fn product_in_words(bench: &Bench, (a, b): Pair) -> Option<Item> {
    if a * b < LONG || (a * b).is_multiple_of(100) {
        return None;
    }
    let name = in_words(a * b, bench.setting.style.grouping);
    let prompt = format!("{}. Write the product in words.", known(bench, (a, b)));
    let mut item = bench.plain(Kind::Words, prompt, name.clone());
    item.accept = Some(Accept::Any(spellings(&name)));
    item.working = Working::Steps { steps: vec![format!("It is read “{name}”.")] };
    item.space = Space::Lines { count: 2 };
    Some(item)
}

/// "2,365 × 148 is three hundred and fifty thousand and twenty. Write it in figures."
fn product_in_figures(bench: &Bench, (a, b): Pair) -> Option<Item> {
    if a * b < LONG || (a * b).is_multiple_of(100) {
        return None;
    }
    let name = in_words(a * b, bench.setting.style.grouping);
    let prompt = format!("{} is {name}. Write the product in figures.", bench.sum(a, b));
    let mut item = bench.plain(Kind::Words, prompt, (a * b).to_string());
    item.working =
        Working::Steps { steps: vec![format!("{} is read “{name}”.", bench.number(a * b))] };
    item.likely = misread(a * b);
    item.space = Space::Line;
    Some(item)
}

/// Mistakes that can be told in words without the class's own terms.
const TOLD: [&str; 7] = [
    "placeholder-left-out",
    "hundreds-row-shifted-once",
    "column-by-column",
    "zero-row-copied",
    "row-after-zero-closed-up",
    "only-highest-row",
    "later-rows-extra-zero",
];

/// The same for ways in the head.
const TOLD_OF_ROUTES: [&str; 11] = [
    "adjusted-the-wrong-way",
    "adjusted-by-the-difference",
    "adjusting-forgotten",
    "doubled-not-halved",
    "both-doubled",
    "not-halved-or-quartered",
    "quarter-taken-as-half",
    "factors-added",
    "parts-multiplied",
    "tens-lost-their-zero",
    "ones-copied",
];

/// "A pupil writes 47 × 36 = 423. What went wrong?": one of the mistakes gives this answer.
fn what_went_wrong(bench: &Bench, (a, b): Pair, told: &[&str], likely: &[Likely]) -> Option<Item> {
    let told: Vec<_> = told.iter().filter_map(|name| pattern(name)).collect();
    let what = format!("wrong {a} {b}");
    let mut stream = deal::stream(bench.request, &bench.setting.seed, &what);
    let mut fits: Vec<(u64, &str)> = Vec::new();
    for one in likely {
        if let ([name], Ok(value)) = (&one.patterns[..], one.answer.parse()) {
            fits.extend(told.iter().filter(|p| p.name == name).map(|p| (value, p.name)));
        }
    }
    let &(value, name) = stream.one_of(&fits)?;
    // Mistakes that can be made in this sum, but lead elsewhere.
    let other = |p: &&&_| -> bool {
        let p: &crate::exercise::patterns::Pattern = p;
        let answers = p.answers(a, b);
        p.name != name && !answers.is_empty() && !answers.contains(&value)
    };
    let mut others: Vec<_> = told.iter().filter(other).collect();
    stream.shuffle(&mut others);
    let right = pattern(name)?;
    let mut choices = vec![option(right.shows, true, None)];
    choices.extend(others.into_iter().take(2).map(|p| option(p.shows, false, Some(p.name))));
    if choices.len() < 3 {
        return None;
    }
    stream.shuffle(&mut choices);
    let prompt = format!(
        "A pupil writes {}\u{a0}=\u{a0}{}. {WHAT_WENT_WRONG}",
        bench.sum(a, b),
        bench.number(value)
    );
    let mut item = bench.choice(&prompt, choices, false);
    item.working =
        Working::Steps { steps: vec![format!("It should be {}.", known(bench, (a, b)))] };
    Some(item)
}
