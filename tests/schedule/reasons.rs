//! Why a lesson is where it is.

use super::chains::plain;
use super::make::Make;
use super::small::short_by_one;
use rungwise::plan::LessonKind;
use rungwise::schedule::{Schedule, Why, reasons, why, why_not};

fn asked(made: &Make, schedule: &Schedule, number: u32) -> Why {
    let why = why(&made.plan, &made.calendar(), None, schedule, number).expect("no fault");
    why.expect("a lesson of this number")
}

#[test]
fn a_lesson_names_what_it_waits_for_and_what_waits_for_it() {
    let made = short_by_one();
    let schedule = made.solved(); // a a b b - c c R T
    let b = asked(&made, &schedule, 3);
    let waits_for = b.waits_for.expect("b needs a");
    assert_eq!((waits_for.skill.as_str(), waits_for.lesson), ("a", 2));
    assert!(b.needed_by.is_empty());
    let a = asked(&made, &schedule, 1);
    assert!(a.waits_for.is_none());
    let followers: Vec<u32> = a.needed_by.iter().map(|l| l.lesson).collect();
    assert_eq!(followers, [3, 6]);
    assert!(
        a.text.starts_with("Lesson 1 on Monday 8 February is part 1 of 2 of “A”."),
        "{}",
        a.text
    );
}

#[test]
fn other_places_say_what_they_cost_and_in_which_terms() {
    let made = short_by_one();
    let schedule = made.solved();
    let c = asked(&made, &schedule, 6);
    let words: Vec<String> =
        c.elsewhere.iter().map(|e| format!("{}: {:?} {:?}", e.what, e.more, e.terms)).collect();
    let earlier = &c.elsewhere[0];
    assert_eq!(earlier.what, "starting it one period earlier", "{words:?}");
    // On the short Friday before half-term: short-start 4, starts-before-break 12, and its two
    // lessons are split (20) or the catch-up stands after the break; cold-return 10 is saved.
    assert!(earlier.fits && earlier.more.is_some_and(|more| more > 0), "{words:?}");
    assert!(earlier.terms.contains_key("short-start"), "{words:?}");
    assert_eq!(earlier.more, Some(earlier.terms.values().sum()));
    let b = asked(&made, &schedule, 3);
    assert!(!b.elsewhere[0].fits, "both lessons of a come first: {:?}", b.elsewhere);
    assert!(b.text.contains("is not possible."), "{}", b.text);
}

#[test]
fn no_other_place_is_cheaper_than_the_best_schedule() {
    let made = plain(5);
    let schedule = made.solved();
    for number in [8, 31, 54, 55] {
        let why = asked(&made, &schedule, number);
        assert!(why.elsewhere.iter().all(|e| e.more.is_none_or(|more| more >= 0)), "{why:?}");
        assert!(!why.text.is_empty());
    }
}

#[test]
fn every_lesson_has_a_reason_in_a_line() {
    let made = plain(3);
    let schedule = made.solved();
    let lines = reasons(&made.plan, &schedule);
    assert_eq!(lines.len(), schedule.lessons.len());
    for (lesson, line) in schedule.lessons.iter().zip(&lines) {
        assert!(line.ends_with('.') && !line.contains("  "), "{line}");
        let waits = lesson.part == Some(1)
            && lesson.skill.as_ref().is_some_and(|s| !made.plan.ladder.skills[s].needs.is_empty());
        assert_eq!(
            lesson.kind == LessonKind::Teach && waits,
            line.starts_with("Waits for"),
            "{line}"
        );
    }
}

#[test]
fn a_skill_left_out_says_what_it_would_cost_to_teach_it() {
    let mut made = short_by_one();
    let mut ladder = (*made.plan.ladder).clone();
    ladder.skills["c"].optional = true;
    made.plan.ladder = ladder.into();
    made.plan.unit.catch_up = Some(4);
    let schedule = made.solved();
    assert_eq!(schedule.left_out[0].skill, "c");
    let calendar = made.calendar();
    let asked = why_not(&made.plan, &calendar, None, &schedule, "c").expect("no fault");
    let with = asked.expect("c is left out");
    assert!(!with.fits, "four catch-ups leave no room for it: {with:?}");
    assert_eq!(why_not(&made.plan, &calendar, None, &schedule, "a"), Ok(None));
}
