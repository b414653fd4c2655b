//! What cannot fit: the wishes that clash, and the ways out.

use super::make::{Make, day, skill};
use rungwise::plan::{LessonKind, TestWish};
use rungwise::schedule::{Outcome, WayOut, solve};

const WEEK: &str = "mon 09:00-09:40, tue 09:00-09:40, wed 09:00-09:40, thu 09:00-09:40";

/// Three skills of two lessons each in a line, and a term of so many weeks of four periods.
fn line_of_three(ends: &str) -> Make {
    let skills = vec![
        skill("a", "", [2, 2, 3], 3),
        skill("b", "a", [2, 2, 3], 4),
        skill("c", "b", [2, 2, 3], 2),
    ];
    Make::term("2027-02-08", ends, WEEK, skills)
}

fn clash(made: &Make) -> (Vec<String>, Vec<WayOut>) {
    match solve(&made.plan, &made.calendar()).expect("no fault") {
        Outcome::Clash { clash, options } => (clash.into_iter().map(|w| w.what).collect(), options),
        Outcome::Fits(schedule) => panic!("it fits: {schedule:?}"),
    }
}

/// Every way that is said to fit does, at the cost that is said, when its change is made.
fn hold_what_they_promise(made: &Make, ways: &[WayOut]) {
    assert!(ways.iter().filter(|w| w.fits).count() >= 2, "{ways:?}");
    assert!(ways.len() <= 6 && ways.is_sorted_by_key(|w| w.cost), "{ways:?}");
    for way in ways {
        let mut changed = made.clone();
        for change in &way.change {
            let unit = &mut changed.plan.unit;
            let list = || -> Vec<String> {
                serde_json::from_value(change.value.clone()).expect("a list of ids")
            };
            let number = || u32::try_from(change.value.as_u64().expect("a number")).expect("small");
            match change.key.as_str() {
                "unit.catch-up" => unit.catch_up = Some(number()),
                "unit.revision" => unit.revision = number(),
                "unit.teach" => unit.teach = list(),
                "unit.secure" => unit.secure = list(),
                "unit.leave-out" => unit.leave_out = list(),
                "unit.test" => {
                    unit.test = match change.value.as_str() {
                        None => TestWish::Last,
                        Some("none") => TestWish::None,
                        Some(date) => TestWish::On(day(date)),
                    }
                }
                "unit.fixed" => {
                    unit.fixed.clear();
                    for fixed in change.value.as_array().expect("a list") {
                        let kind = serde_json::from_value(fixed["kind"].clone()).expect("a kind");
                        changed = changed.fix(
                            fixed["date"].as_str().expect("a date"),
                            kind,
                            fixed.get("skill").and_then(|s| s.as_str()),
                        );
                    }
                }
                least => {
                    let id = least.trim_start_matches("unit.lessons.").trim_end_matches(".least");
                    unit.lessons[id].least = u8::try_from(number()).expect("small");
                }
            }
        }
        assert_eq!(Some(changed.solved().cost.total), way.cost, "{}", way.what);
    }
}

#[test]
fn a_term_with_one_period_too_few_asks_for_one_thing_less() {
    // 9 periods: 6 lessons, 2 revisions and the test leave none for the catch-up.
    let made = line_of_three("2027-02-22");
    let (clash, ways) = clash(&made);
    assert_eq!(made.calendar().periods.len(), 9);
    assert!(clash.contains(&"2 revision lessons after the last new skill".to_owned()), "{clash:?}");
    assert!(clash.contains(&"at least 1 catch-up lesson".to_owned()), "{clash:?}");
    hold_what_they_promise(&made, &ways);
    let words: Vec<&str> = ways.iter().map(|w| w.what.as_str()).collect();
    assert!(words.contains(&"no catch-up lesson is asked for"), "{words:?}");
    assert!(words.contains(&"only 1 revision lesson"), "{words:?}");
}

#[test]
fn a_test_on_a_day_without_maths_clashes_alone() {
    let made = line_of_three("2027-02-26").test(TestWish::On(day("2027-02-19")));
    let (clash, ways) = clash(&made);
    assert_eq!(clash, ["the unit test on Friday 19 February"]);
    hold_what_they_promise(&made, &ways);
    assert!(ways.iter().any(|w| w.change[0].value == serde_json::json!("2027-02-23")));
}

#[test]
fn a_skill_that_must_be_taught_cannot_be_left_out() {
    let mut made = line_of_three("2027-03-04");
    made.plan.unit.leave_out = vec!["b".to_owned()];
    let (clash, ways) = clash(&made);
    assert_eq!(clash, ["“C” is taught, with all that it needs", "“B” is left out"]);
    hold_what_they_promise(&made, &ways);
}

#[test]
fn two_lessons_fixed_on_one_period_clash() {
    let made = line_of_three("2027-03-04").fix("2027-02-16", LessonKind::CatchUp, None).fix(
        "2027-02-16",
        LessonKind::Teach,
        Some("a"),
    );
    let (clash, ways) = clash(&made);
    assert_eq!(
        clash,
        ["a catch-up lesson on Tuesday 16 February", "a lesson of “A” on Tuesday 16 February"]
    );
    hold_what_they_promise(&made, &ways);
}

#[test]
fn a_lesson_fixed_before_what_it_needs_clashes_with_what_it_needs() {
    let made = line_of_three("2027-03-04").fix("2027-02-10", LessonKind::Teach, Some("b"));
    let made = made.fix("2027-02-08", LessonKind::CatchUp, None);
    let (clash, ways) = clash(&made);
    assert!(clash.iter().any(|w| w.contains("lesson of “B”")), "{clash:?}");
    assert!(clash.iter().any(|w| w.contains("at least 2 lessons of “A”")), "{clash:?}");
    hold_what_they_promise(&made, &ways);
}

#[test]
fn far_too_much_still_has_two_ways_out() {
    let skills = (0..12).map(|i| skill(&format!("x{i}"), "", [2, 2, 3], 3)).collect();
    let made = Make::term("2027-02-08", "2027-02-18", WEEK, skills);
    let (clash, ways) = clash(&made);
    assert!(clash.len() >= 2, "{clash:?}");
    hold_what_they_promise(&made, &ways);
}

#[test]
fn a_term_without_a_single_period_says_so() {
    let made = line_of_three("2027-02-18").close("2027-02-01", "2027-02-28");
    let (clash, ways) = clash(&made);
    assert!(!clash.is_empty());
    assert!(ways.iter().all(|w| !w.fits && w.cost.is_none()), "{ways:?}");
}

#[test]
fn a_first_skill_left_out_that_all_others_need_still_has_ways_out() {
    let mut made = line_of_three("2027-02-18");
    made.plan.unit.leave_out = vec!["a".to_owned()];
    let (_, ways) = clash(&made);
    hold_what_they_promise(&made, &ways);
    let keys: Vec<&str> = ways.iter().flat_map(|w| &w.change).map(|c| c.key.as_str()).collect();
    assert!(keys.contains(&"unit.secure"), "{keys:?}");
}

#[test]
fn a_term_nearly_all_closed_beside_a_fixed_lesson_still_has_two_ways_out() {
    let skills = (0..8).map(|i| {
        let needs = if i == 0 { String::new() } else { format!("x{}", i - 1) };
        skill(&format!("x{i}"), &needs, [2, 2, 3], 3)
    });
    let mut made = Make::term("2027-02-08", "2027-04-01", WEEK, skills.collect())
        .test(TestWish::On(day("2027-03-31")))
        .fix("2027-03-01", LessonKind::CatchUp, None)
        .close("2027-02-10", "2027-03-28");
    made.plan.unit.leave_out = vec!["x3".to_owned()];
    let (_, ways) = clash(&made);
    hold_what_they_promise(&made, &ways);
}
