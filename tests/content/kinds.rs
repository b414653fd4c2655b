//! Which kinds of question the demonstration terms hold, of which skill and how often.
//!
//! The table stands in DEVELOPERS.md between its markers; `WRITE_TABLES=1 cargo test --test content
//! kinds` writes it anew, and every run holds it against what the terms print.

use crate::tables;
use crate::terms::{Term, all_items, items, terms};
use rungwise::exercise::{Figure, Item, Kind, Space};
use std::collections::BTreeMap;

/// A sort of question, how often each term must hold it, and how it is told.
type Sort = (&'static str, usize, fn(&Item) -> bool);

fn says(item: &Item, words: &str) -> bool {
    item.prompt.contains(words)
}

fn chosen(item: &Item, words: &str) -> bool {
    item.kind == Kind::Choice && says(item, words)
}

fn begins(item: &Item, words: &str) -> bool {
    item.prompt.starts_with(words)
}

fn compares(item: &Item) -> bool {
    matches!(item.space, Space::Squares { compare: true, .. })
}

fn charted(item: &Item) -> bool {
    matches!(item.space, Space::Chart { .. })
}

fn drawn(item: &Item) -> bool {
    matches!(item.figure, Some(Figure::Array { .. } | Figure::Area { .. }))
}

fn worked_product(item: &Item) -> bool {
    item.kind == Kind::Words && says(item, "Write the product")
}

/// Every sort; an item is of exactly one.
const SORTS: &[Sort] = &[
    ("sum in the head", 100, |i| i.kind == Kind::Mental && !charted(i)),
    ("sum on a place-value chart", 20, charted),
    ("written product", 100, |i| i.kind == Kind::Written && !compares(i)),
    ("estimate", 50, |i| i.kind == Kind::Estimate),
    ("story sum", 50, |i| i.kind == Kind::Story),
    ("choose: digits a product of these sizes can have", 5, |i| {
        chosen(i, "How many digits can the product have?")
    }),
    ("choose: digits of a product", 5, |i| chosen(i, "How many digits are there in")),
    ("choose: n groups of", 5, |i| chosen(i, "groups of") && begins(i, "Which one says")),
    ("choose: n times as many", 5, |i| chosen(i, "times as many")),
    ("choose: the sum of n equal parts", 5, |i| {
        chosen(i, "each, all together") || chosen(i, "Which one is the same as")
    }),
    ("choose: how many more groups", 5, |i| chosen(i, "How many more groups make")),
    ("choose: a group too many", 1, |i| chosen(i, "What turns ")),
    ("choose: the word for the answer", 5, |i| chosen(i, " called?") && !begins(i, "In ")),
    ("choose: the word for the numbers multiplied", 5, |i| chosen(i, ", what is ")),
    ("choose: factor or multiple", 5, |i| {
        chosen(i, "Which word is missing?")
            || chosen(i, "is a multiple of")
            || chosen(i, "is a factor of")
    }),
    ("choose: which estimate is nearest", 5, |i| {
        chosen(i, " nearest to?") && begins(i, "Which number")
    }),
    ("choose: which of four workings is right", 5, |i| chosen(i, "Which working of")),
    ("choose: which product is nearest", 5, |i| chosen(i, "Which product is nearest")),
    ("choose: more or less, too high or too low", 5, |i| {
        chosen(i, "more or less than") || chosen(i, "too high or too low")
    }),
    ("choose: which way is the same", 5, |i| chosen(i, "Which is the same as")),
    ("choose: which way is quick", 0, |i| chosen(i, "is quick and safe?")),
    ("choose: which story fits", 5, |i| chosen(i, "Which story fits")),
    ("choose: which answer can be right", 5, |i| {
        chosen(i, "can be right") || chosen(i, "Check by nines")
    }),
    ("choose: a number from its name", 5, |i| {
        chosen(i, "Which number is ") && i.skill == "reading-large-numbers"
    }),
    ("choose: what went wrong", 1, |i| chosen(i, "What went wrong?")),
    ("choose: true or false, with reason", 5, |i| chosen(i, "True or false?")),
    ("choose: the largest or smallest product", 5, |i| {
        chosen(i, "Which product is the largest?") || chosen(i, "Which product is the smallest?")
    }),
    ("think: missing digit", 5, |i| {
        i.kind == Kind::Missing && matches!(i.space, Space::Squares { .. })
    }),
    ("think: missing factor", 5, |i| {
        i.kind == Kind::Missing && i.figure.is_none() && i.space == Space::Box && !equal(i)
    }),
    ("think: same product, different pair", 5, |i| i.kind == Kind::Missing && equal(i)),
    ("think: in order without working out", 5, |i| begins(i, "Write the letters in order")),
    ("think: one row only", 5, |i| i.kind == Kind::Row),
    ("think: spot and mend the mistake", 5, |i| matches!(i.figure, Some(Figure::Worked { .. }))),
    ("think: from a known product to another", 5, |i| says(i, "Use it to find")),
    ("think: how much more", 5, |i| begins(i, "How much more is")),
    ("think: last digit from one fact", 5, |i| says(i, " end in?")),
    ("think: how many digits, with reason", 5, |i| {
        i.kind == Kind::Reason && says(i, "How many digits are there in")
    }),
    ("think: estimate, work out, compare", 5, compares),
    ("think: a large product in words and figures", 5, worked_product),
    ("think: a large number in words and figures", 5, |i| {
        i.kind == Kind::Words && !worked_product(i)
    }),
    ("think: arrays and areas drawn", 5, drawn),
    ("think: digit sums and working back", 5, |i| {
        begins(i, "Add the digits of") || says(i, "Check by working back")
    }),
];

/// "48 × 25 = 24 ×" and a box.
fn equal(item: &Item) -> bool {
    item.prompt.matches('×').count() == 2
}

/// The sort of an item.
pub fn sort(item: &Item) -> &'static str {
    let fits: Vec<&str> = SORTS.iter().filter(|s| (s.2)(item)).map(|s| s.0).collect();
    let [one] = fits[..] else { panic!("{}: {} is {fits:?}", item.id, item.prompt) };
    one
}

/// Sorts by skill, each with its count.
fn counted(term: &Term) -> BTreeMap<&'static str, BTreeMap<&str, usize>> {
    let mut counts: BTreeMap<&str, BTreeMap<&str, usize>> = BTreeMap::new();
    for item in term.packs.iter().flat_map(items) {
        *counts.entry(sort(item)).or_default().entry(item.skill.as_str()).or_default() += 1;
    }
    counts
}

#[test]
fn each_term_holds_every_kind_at_least_as_often_as_it_should() {
    for (number, term) in terms().iter().enumerate() {
        let counts = counted(term);
        for (name, least, _) in SORTS {
            let found: usize = counts.get(name).map_or(0, |skills| skills.values().sum());
            assert!(found >= *least, "term {number}: {name} {found} times, not {least}");
        }
        // The sorts that are named for choosing an answer, together.
        let named = [
            "choose: digits a product of these sizes can have",
            "choose: n groups of",
            "choose: n times as many",
            "choose: the sum of n equal parts",
            "choose: how many more groups",
            "choose: the word for the answer",
            "choose: the word for the numbers multiplied",
            "choose: which estimate is nearest",
            "choose: which of four workings is right",
        ];
        let all: usize = named.iter().map(|name| counts[name].values().sum::<usize>()).sum();
        assert!(all >= 20, "{all}");
    }
}

/// Of the sorts that are named for choosing an answer every wrong option comes from a mistake.
#[test]
fn every_wrong_option_of_the_named_choices_comes_from_a_mistake() {
    let mut seen = 0;
    for item in all_items() {
        let named = [
            "digits a product of",
            "n groups of",
            "n times as many",
            "equal parts",
            "more groups",
            "the word for",
            "estimate is nearest",
            "four workings",
        ];
        if !named.iter().any(|words| sort(item).contains(words)) {
            continue;
        }
        seen += 1;
        for wrong in item.choices.iter().filter(|c| !c.correct) {
            assert!(wrong.pattern.is_some(), "{}: {}: {}", item.id, item.prompt, wrong.text);
        }
    }
    assert!(seen > 100, "{seen}");
}

/// Keys say of missing numbers and short answers what likely wrong answers show.
#[test]
fn missing_numbers_and_short_answers_have_wrong_answers_to_expect() {
    let mut bare = Vec::new();
    for item in all_items().filter(|i| matches!(i.kind, Kind::Missing | Kind::Reason)) {
        if item.likely.is_empty() {
            bare.push(format!("{}: {} = {}", item.id, item.prompt, item.answer));
        }
    }
    crate::terms::none_of(&bare);
}

/// Every digit is tried in the box against the other lines that are printed: one fits.
#[test]
fn exactly_one_digit_and_one_factor_fits() {
    use rungwise::exercise::{Given, Working};
    let (mut digits, mut factors) = (0, 0);
    for item in all_items().filter(|i| i.kind == Kind::Missing) {
        let answer: u64 = item.answer.parse().expect("a number");
        if let (Space::Squares { given: Given::Missing { line, place }, .. }, Working::Long(long)) =
            (item.space, &item.working)
        {
            let mut lines = vec![long.a, long.b];
            if long.rows.len() > 1 {
                lines.extend(long.rows.iter().map(|row| row.value));
            }
            lines.push(long.value);
            let unit = 10_u64.pow(u32::from(place));
            let fits = |digit: &u64| {
                let mut tried = lines.clone();
                let at = &mut tried[usize::from(line)];
                *at = *at - *at / unit % 10 * unit + digit * unit;
                let rows: Vec<u64> = if long.rows.len() > 1 {
                    long.rows.iter().map(|r| tried[0] * u64::from(r.digit) * r.place).collect()
                } else {
                    Vec::new()
                };
                let rows_stand = rows.iter().zip(&tried[2..]).all(|(made, told)| made == told);
                let all = rows_stand && tried[0] * tried[1] == tried[tried.len() - 1];
                // Nobody writes a number with a nought in front.
                all && tried
                    .iter()
                    .zip(&lines)
                    .all(|(t, l)| t.checked_ilog10() == l.checked_ilog10())
            };
            let found: Vec<u64> = (0..=9).filter(fits).collect();
            assert_eq!(found, [answer], "{}: {}", item.id, item.prompt);
            digits += 1;
        } else if let Some((whole, by)) =
            item.expression.as_deref().and_then(|e| e.split_once("//"))
            && let (Ok(whole), Ok(by)) = (whole.parse::<u64>(), by.parse::<u64>())
        {
            let found: Vec<u64> = (1..=whole.min(100_000)).filter(|n| n * by == whole).collect();
            assert_eq!(found, [answer], "{}: {}", item.id, item.prompt);
            factors += 1;
        }
    }
    assert!(digits > 60 && factors > 100, "{digits} {factors}");
}

#[test]
fn the_table_of_kinds_is_that_of_the_terms() {
    let counts: Vec<_> = terms().iter().map(counted).collect();
    let mut lines = vec![
        "| kind of question | Kingfisher | Marigold | skills, both terms |".to_owned(),
        "|---|---|---|---|".to_owned(),
    ];
    for (name, ..) in SORTS {
        let mut skills: BTreeMap<&str, usize> = BTreeMap::new();
        let all = counts.iter().map(|term| term.get(name).map_or(0, |s| s.values().sum::<usize>()));
        let all: Vec<String> = all.map(|n| n.to_string()).collect();
        for (skill, n) in counts.iter().filter_map(|term| term.get(name)).flatten() {
            *skills.entry(skill).or_default() += n;
        }
        let mut skills: Vec<(&str, usize)> = skills.into_iter().collect();
        skills.sort_by_key(|(skill, n)| (std::cmp::Reverse(*n), *skill));
        let skills: Vec<String> = skills.iter().map(|(skill, n)| format!("{skill} {n}")).collect();
        lines.push(format!("| {name} | {} | {} |", all.join(" | "), skills.join(", ")));
    }
    tables::stands("kinds", &lines.join("\n"));
}
