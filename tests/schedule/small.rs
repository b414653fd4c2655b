//! Small terms whose best schedule was worked out by hand.

use super::make::{Make, bill, day, line, optional, skill};
use rungwise::calendar::Clock;
use rungwise::plan::{LessonKind, TestWish};
use rungwise::schedule::{Outcome, Proof, Standing, solve_again};

/// Nine periods with half-term after the fifth; one lesson too few.
pub fn short_by_one() -> Make {
    let skills = vec![
        skill("a", "", [2, 2, 3], 3),
        skill("b", "a", [1, 2, 3], 4),
        skill("c", "a", [1, 3, 3], 2),
    ];
    let week =
        "mon 09:00-09:40, tue 09:00-09:40, wed 09:00-09:40, thu 09:00-09:40, fri 09:00-09:30";
    Make::term("2027-02-08", "2027-02-25", week, skills)
        .close("2027-02-15", "2027-02-19")
        .teach("b c")
        .revision(1)
}

#[test]
fn a_term_one_lesson_short_takes_it_from_the_skill_that_matters_least() {
    let schedule = short_by_one().solved();
    assert_eq!(schedule.periods.len(), 9);
    assert_eq!(bill(&schedule), "short 1000, cold-return 10, thread-cut 5");
    assert_eq!(schedule.cost.total, 1015);
    assert_eq!((schedule.proof, schedule.bound, schedule.spare_periods), (Proof::Optimal, 1015, 0));
    assert_eq!(line(&schedule), "a a b b - c c R T");
}

#[test]
fn a_lost_day_drops_one_lesson_and_moves_none() {
    let made = short_by_one();
    let old = made.solved();
    let again = made.close("2027-02-23", "2027-02-23");
    let standing = Standing {
        today: day("2027-02-22"),
        old: old.lessons.clone(),
        printed: vec![],
        taught: vec![],
        lost: vec![],
        next_number: 10,
    };
    let Outcome::Fits(new) =
        solve_again(&again.plan, &again.calendar(), &standing).expect("no fault")
    else {
        panic!("it fits")
    };
    assert_eq!(line(&new), "a a b b - c R T");
    assert_eq!(bill(&new), "short 3000, cold-return 10, thread-cut 5, soon-moved 60, moved 20");
    assert_eq!(new.cost.total, 3095);
    let numbers: Vec<u32> = new.lessons.iter().map(|l| l.number).collect();
    assert_eq!(numbers, [1, 2, 3, 4, 5, 6, 8, 9]);
}

#[test]
fn what_there_is_no_room_for_is_left_out_from_the_end_of_its_thread() {
    let skills = vec![
        skill("a", "", [1, 1, 1], 3),
        skill("b", "a", [1, 1, 1], 3),
        skill("c", "a", [2, 2, 3], 5),
        optional(skill("d", "b", [3, 3, 3], 1)),
        optional(skill("e", "d", [1, 1, 1], 2)),
    ];
    let mut made =
        Make::term("2027-01-11", "2027-01-27", "mon 09:00-09:40, wed 09:00-10:20", skills)
            .teach("c e")
            .revision(0)
            .catch_up(2)
            .test(TestWish::None)
            .fix("2027-01-18", LessonKind::CatchUp, None)
            .fix("2027-01-20", LessonKind::CatchUp, None);
    made.plan.costs.long_run_limit = 2;
    let schedule = made.solved();
    assert_eq!(schedule.periods[2].starts, "09:40".parse::<Clock>().expect("a time"));
    assert_eq!(line(&schedule), "a c c - - b d d d");
    assert_eq!(bill(&schedule), "left-out 40000, long-run 12, thread-cut 5, bunched 6");
    assert_eq!(schedule.cost.total, 40023);
    assert_eq!(schedule.left_out.len(), 1);
    assert_eq!(schedule.left_out[0].skill, "e");
}
