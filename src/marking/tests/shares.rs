//! What a class's answers together say of each pupil: how many have a pattern at all.

use super::class::{answers, row, three_sums};
use crate::exercise::patterns::pattern;
use crate::marking::{Model, mark_by};

/// The probability of the likeliest pattern of a pupil who left the zeros out once, in a class with
/// these rows.
fn suspicion(rows: &str, model: &Model) -> f64 {
    let once = pattern("placeholder-left-out").expect("a pattern").answers(5476, 382)[0];
    let pack = three_sums();
    let rows = format!("me,{once},ok,ok\n{rows}");
    let marking = mark_by(&pack, &answers(&pack, &rows), model);
    marking.pupils[0].patterns[0].probability
}

/// So many pupils, one for each of these names in turn; an empty name is all right.
fn class(count: usize, names: &[&str]) -> String {
    let each = names.iter().cycle().take(count).enumerate();
    each.map(|(n, name)| match *name {
        "" => format!("{n},ok,ok,ok\n"),
        name => row(&n.to_string(), name),
    })
    .collect()
}

const SOME: [&str; 5] =
    ["carry-not-added", "", "adding-carries-lost", "rows-shifted-in-reverse", ""];

#[test]
fn in_a_class_with_many_patterns_a_suspicion_weighs_more_up_to_a_bound() {
    let (plain, learning) = (Model::default(), Model::default().learning());
    let alone = suspicion("", &plain);
    assert_eq!(suspicion("", &learning), alone, "a pupil alone teaches nothing");
    let among = |count| suspicion(&class(count, &SOME), &learning);
    assert!(alone < among(3) && among(3) < among(29), "{alone} {} {}", among(3), among(29));
    // The odds twice at most, and of these all go to patterns where they are no single facts.
    let odds = |p: f64| p / (1.0 - p);
    let most = suspicion(&class(400, &SOME[2..4]), &learning);
    assert!(odds(most) / odds(alone) < 4.0, "{most} {alone}");
    assert_eq!(suspicion(&class(29, &SOME), &plain), alone, "without learning it is as it was");
}

#[test]
fn that_others_have_all_right_makes_a_suspicion_hardly_less() {
    let (plain, learning) = (Model::default(), Model::default().learning());
    let alone = suspicion("", &plain);
    let among = suspicion(&class(29, &[""]), &learning);
    assert!((0.9..1.5).contains(&(among / alone)), "{among} {alone}");
}

#[test]
fn where_pupils_have_single_wrong_facts_facts_weigh_more_than_other_patterns() {
    let names = ["fact-7x8", "fact-6x8", ""];
    let learning = Model::default().learning();
    let facts = suspicion(&class(29, &names), &learning);
    let patterns = suspicion(&class(29, &SOME), &learning);
    assert!(facts < patterns, "{facts} {patterns}");
}

/// Alike answers have alike numbers, whoever gave them and in what order.
#[test]
fn pupils_with_the_same_answers_are_judged_the_same() {
    let pack = three_sums();
    let rows = class(20, &["carry-not-added", "", "placeholder-left-out", "carry-not-added"]);
    let marking = mark_by(&pack, &answers(&pack, &rows), &Model::default().learning());
    let of = |n: usize| &marking.pupils[n].patterns;
    assert!(of(0) == of(3) && of(0) == of(4) && of(2) == of(6) && of(0) != of(2));
}
