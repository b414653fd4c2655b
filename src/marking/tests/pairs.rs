//! Two patterns at once: in one sum, and in one pupil.

use super::super::pairs::together;
use super::{pack_of, product, section};
use crate::exercise::Kind;
use crate::exercise::patterns::{Task, pattern};
use crate::lesson::{Pack, SectionName};
use crate::marking::{Answers, Marking, Model, mark, mark_by};
use crate::method::HouseStyle;

const CARRY: &str = "carry-not-added";
const ZEROS: &str = "placeholder-left-out";

/// Worked by hand. 47 × 36: without carries 47 × 6 is 242 and 47 × 3 is 121.
#[test]
fn a_row_and_its_placing_go_wrong_in_one_sum() {
    let item = product("L07-X1", Kind::Written, 47, 36);
    assert_eq!(together(&item, CARRY, ZEROS), [242 + 121]);
    assert_eq!(together(&item, "only-highest-row", CARRY), [1210]);
    assert_eq!(together(&item, CARRY, "adding-carries-lost"), [1452]);
    assert_eq!(together(&item, CARRY, "ones-copied"), Vec::<u64>::new());
    let row = product("L07-X2", Kind::Row, 47, 30);
    assert_eq!(together(&row, CARRY, ZEROS), [121]);
}

#[test]
fn one_wrong_fact_comes_out_the_same_in_every_row() {
    // 7 × 6 as 48 in 47 × 66: 288 twice, added without zeros.
    let item = product("L07-X1", Kind::Written, 47, 66);
    let answers = together(&item, "fact-6x7", ZEROS);
    assert!(answers.contains(&576), "{answers:?}");
}

const SUMS: [(u64, u64); 6] = [(47, 36), (86, 57), (94, 68), (75, 49), (58, 73), (69, 84)];

fn check() -> Pack {
    let items = SUMS.iter().enumerate();
    let items = items.map(|(n, &(a, b))| product(&format!("L07-X{}", n + 1), Kind::Written, a, b));
    pack_of(vec![section(SectionName::ExitCheck, items.collect())])
}

fn given(answers: &[u64]) -> Answers {
    let row = answers.iter().enumerate();
    let row = row.map(|(n, a)| (format!("L07-X{}", n + 1), Some(a.to_string()))).collect();
    Answers { pupils: [("Ada".to_owned(), row)].into_iter().collect(), ..Answers::default() }
}

fn usual(name: &str, at: usize) -> u64 {
    let attempts = pattern(name).expect("a pattern").attempts(SUMS[at].0, SUMS[at].1);
    attempts[0].working.value()
}

#[test]
fn two_patterns_in_different_sums_are_both_named() {
    let answers: Vec<u64> =
        (0..6).map(|n| usual(if n % 2 == 0 { CARRY } else { ZEROS }, n)).collect();
    let ada = &mark(&check(), &given(&answers)).pupils[0];
    let mut named = [ada.named.clone().expect("one"), ada.named_also.clone().expect("two")];
    named.sort();
    assert_eq!(named, [CARRY, ZEROS], "{:#?}", ada.patterns);
    assert_eq!(ada.patterns[0].items.len(), 3);
    assert!(ada.patterns[0].beside.is_some());
}

#[test]
fn two_patterns_in_every_sum_are_both_named_though_neither_answer_is_its_own() {
    let answers: Vec<u64> = (0..6)
        .map(|n| together(&product("x", Kind::Written, SUMS[n].0, SUMS[n].1), CARRY, ZEROS)[0])
        .collect();
    // One of each by itself, as pupils do.
    let mut answers = answers;
    answers[4] = usual(CARRY, 4);
    answers[5] = usual(ZEROS, 5);
    let ada = &mark(&check(), &given(&answers)).pupils[0];
    let mut named = [ada.named.clone().expect("one"), ada.named_also.clone().expect("two")];
    named.sort();
    assert_eq!(named, [CARRY, ZEROS], "{:#?}", ada.patterns);
    assert!(ada.stray.is_empty(), "what both give together is no stray answer: {:?}", ada.stray);
}

/// Both go wrong in putting rows together; the rows themselves are right.
#[test]
fn rows_misplaced_and_added_without_carries_are_both_named_and_shown() {
    let adding = "adding-carries-lost";
    let both =
        |n: usize| together(&product("x", Kind::Written, SUMS[n].0, SUMS[n].1), ZEROS, adding)[0];
    let mut answers: Vec<u64> = (0..6).map(both).collect();
    answers[4] = usual(ZEROS, 4);
    answers[5] = usual(adding, 5);
    let marking = mark(&check(), &given(&answers));
    let ada = &marking.pupils[0];
    let mut named = [ada.named.clone().expect("one"), ada.named_also.clone().expect("two")];
    named.sort();
    assert_eq!(named, [adding, ZEROS], "{:#?}", ada.patterns);
    assert!(ada.stray.is_empty(), "what both give together is no stray answer: {:?}", ada.stray);
    assert!(ada.together.as_ref().is_some_and(|shown| shown.given), "{:?}", ada.together);
    let pile = &marking.items[0].wrong[0];
    assert!(pile.patterns.is_empty() && pile.together.is_some(), "{pile:?}");
    let text = text(&answers);
    assert!(text.contains("323 (once): both at once, ") && !text.contains("no known pattern"));
    let page = page_under(&text, "L07-X1, both in one sum, would then look like this:");
    // 47 × 36, worked by hand.
    for line in ["2 8 2  × 6", "1 4 1  × 30", "3 2 3"] {
        assert!(page.contains(&format!("   {line}\n")), "{page}");
    }
}

/// Every answer is of both at once, none of either by itself.
#[test]
fn who_never_does_one_of_them_by_itself_is_still_named_both() {
    let adding = "adding-carries-lost";
    let sum = |n: usize| product("x", Kind::Written, SUMS[n].0, SUMS[n].1);
    for placing in [ZEROS, "rows-shifted-in-reverse"] {
        let answers: Vec<u64> = (0..6).map(|n| together(&sum(n), placing, adding)[0]).collect();
        let ada = &mark(&check(), &given(&answers)).pupils[0];
        let named = [ada.named.as_deref(), ada.named_also.as_deref()];
        let both = [Some(placing), Some(adding)].iter().all(|name| named.contains(name));
        assert!(both, "{placing}: {answers:?} {:#?}", ada.patterns);
    }
}

fn text(answers: &[u64]) -> String {
    mark(&check(), &given(answers)).to_text(&HouseStyle::default())
}

/// The page that stands under this heading in a text.
fn page_under(text: &str, heading: &str) -> String {
    let (_, rest) = text.split_once(heading).unwrap_or_else(|| panic!("{heading}:\n{text}"));
    let page = rest.lines().skip(1).take_while(|line| line.starts_with("      "));
    page.map(|line| format!("{}\n", line.trim_end())).collect()
}

#[test]
fn both_in_one_sum_are_shown_as_they_look_on_paper() {
    let both =
        |n: usize| together(&product("x", Kind::Written, SUMS[n].0, SUMS[n].1), CARRY, ZEROS)[0];
    let mut answers: Vec<u64> = (0..6).map(both).collect();
    answers[5] = usual(ZEROS, 5);
    let ada = &mark(&check(), &given(&answers)).pupils[0];
    let shown = ada.together.as_ref().expect("both");
    assert!(shown.given && shown.each.is_empty(), "{shown:?}");
    // 363 is given by neither, and by both together.
    let marking = mark(&check(), &given(&answers));
    let pile = &marking.items[0].wrong[0];
    let [one, other] = pile.together.clone().expect("two");
    assert!(
        pile.patterns.is_empty() && [&*one, &*other].iter().all(|n| [CARRY, ZEROS].contains(n))
    );
    let text = text(&answers);
    assert!(text.contains("363 (once): both at once, ") && !text.contains("no known pattern"));
    let page = page_under(&text, "L07-X1, both in one sum, would then look like this:");
    // 47 × 36, worked by hand.
    for line in ["2 4 2  × 6", "1 2 1  × 30", "3 6 3"] {
        assert!(page.contains(&format!("   {line}\n")), "{page}");
    }
    for said in ["× 6: 7 × 6 = 42: write 2, carry 4", "× 30: 7 × 3 = 21: write 1, carry 2"] {
        assert!(page.contains(said), "{page}");
    }
}

/// Who does each in sums of its own has the pages of both, and what both would look like in one.
#[test]
fn each_in_sums_of_their_own_is_shown_and_both_besides() {
    let answers: Vec<u64> =
        (0..6).map(|n| usual(if n % 2 == 0 { CARRY } else { ZEROS }, n)).collect();
    let ada = &mark(&check(), &given(&answers)).pupils[0];
    let shown = ada.together.as_ref().expect("both");
    let names = [ada.named.as_deref().expect("one"), ada.named_also.as_deref().expect("two")];
    assert_eq!(shown.each.keys().map(String::as_str).collect::<Vec<_>>(), names);
    for (name, page) in &shown.each {
        let at = if *name == CARRY { 0 } else { 1 };
        assert_eq!(page.item, format!("L07-X{}", at + 1));
        assert_eq!(page.working.value(), usual(name, at), "{name}");
    }
    assert!(!shown.given);
    let text = text(&answers);
    for heading in [
        "L07-X1, where carried digits are not added, would then look like this:",
        "L07-X2, where the second and later rows lack their zeros, would then look like this:",
        "Both in one sum, L07-X1 would look like this:",
    ] {
        assert!(!page_under(&text, heading).is_empty());
    }
}

/// A long row by itself can show both as well.
#[test]
fn both_are_shown_in_a_row_by_itself() {
    const ROWS: [(u64, u64); 6] = [(47, 30), (86, 50), (94, 60), (75, 40), (58, 70), (69, 80)];
    let items = ROWS.iter().enumerate();
    let items = items.map(|(n, &(a, b))| product(&format!("L07-X{}", n + 1), Kind::Row, a, b));
    let pack = pack_of(vec![section(SectionName::ExitCheck, items.collect())]);
    let both = |n: usize| together(&product("x", Kind::Row, ROWS[n].0, ROWS[n].1), CARRY, ZEROS)[0];
    let mut answers: Vec<u64> = (0..6).map(both).collect();
    let row = |name: &str, n: usize| {
        let task = Task::of(&product("x", Kind::Row, ROWS[n].0, ROWS[n].1)).expect("a row");
        task.answers(pattern(name).expect("a pattern"))[0].0
    };
    (answers[4], answers[5]) = (row(CARRY, 4), row(ZEROS, 5));
    let ada = &mark(&pack, &given(&answers)).pupils[0];
    let shown = ada.together.as_ref().unwrap_or_else(|| panic!("{:#?}", ada.patterns));
    let page = shown.in_one.as_ref().expect("a page");
    assert!(shown.given);
    assert_eq!((page.item.as_str(), page.working.value()), ("L07-X1", 121));
    let apart: Vec<u64> = (0..6).map(|n| row(if n % 2 == 0 { CARRY } else { ZEROS }, n)).collect();
    let ada = &mark(&pack, &given(&apart)).pupils[0];
    let shown = ada.together.as_ref().expect("both");
    let values: Vec<u64> = shown.each.values().map(|s| s.working.value()).collect();
    assert!(values.contains(&row(CARRY, 0)) && values.contains(&row(ZEROS, 1)), "{values:?}");
}

/// Where carries go wrong inside the rows too, nobody is told that the rows are right.
#[test]
fn of_two_patterns_neither_is_said_to_leave_all_else_right() {
    let adding = "adding-carries-lost";
    let sum = |n: usize| product("x", Kind::Written, SUMS[n].0, SUMS[n].1);
    let mut answers: Vec<u64> = (0..6).map(|n| together(&sum(n), CARRY, adding)[0]).collect();
    (answers[4], answers[5]) = (usual(CARRY, 4), usual(adding, 5));
    let ada = &mark(&check(), &given(&answers)).pupils[0];
    assert!(ada.named.is_some() && ada.named_also.is_some(), "{:#?}", ada.patterns);
    let text = text(&answers);
    let (before, _) = text.split_once("What this check can tell").expect("the check");
    assert!(before.contains("carries are lost when rows or parts are added"), "{before}");
    let mut right = before.lines().filter(|l| l.contains("are right") || l.contains("is secure"));
    // What one sum shows by itself is said as it is.
    assert!(right.all(|l| l.trim_start().starts_with(char::is_numeric)), "{before}");
}

#[test]
fn one_pattern_with_a_slip_is_not_taken_for_two() {
    let mut answers: Vec<u64> = (0..6).map(|n| usual(CARRY, n)).collect();
    answers[5] = SUMS[5].0 * SUMS[5].1 + 10;
    let ada = &mark(&check(), &given(&answers)).pupils[0];
    assert_eq!((ada.named.as_deref(), ada.named_also.as_deref()), (Some(CARRY), None));
    assert_eq!(ada.by_hand.as_deref(), Some(CARRY));
}

/// A pattern that the class showed before is held likelier, fourfold at most.
#[test]
fn what_the_class_showed_tips_the_scale_and_no_more() {
    let mut answers: Vec<u64> = SUMS.iter().map(|(a, b)| a * b).collect();
    answers[0] = usual(CARRY, 0);
    let all = Model { list_from: 0.0, ..Model::default() };
    let plain = mark_by(&check(), &given(&answers), &all);
    let many = Model { found_before: [(CARRY.to_owned(), 1000)].into(), ..all };
    let learnt = mark_by(&check(), &given(&answers), &many);
    assert_eq!(learnt.pupils[0].named, None, "one answer in six names nothing");
    let p = |m: &Marking| m.pupils[0].patterns.first().map_or(0.0, |s| s.probability);
    assert!(p(&learnt) > p(&plain) && p(&plain) > 0.0, "{} {}", p(&plain), p(&learnt));
    assert!(p(&learnt) < 5.0 * p(&plain), "{} {}", p(&plain), p(&learnt));
}
