//! What holds for every plan: giving up a wish never makes the best schedule dearer.

use super::chains::{breaks, chains, plain, tight};
use super::make::{Make, skill};
use proptest::prelude::*;
use rungwise::plan::{LessonKind, TestWish};
use rungwise::schedule::{Error, Outcome, Proof, solve};

fn cost(made: &Make) -> Option<i64> {
    match solve(&made.plan, &made.calendar()).expect("no fault") {
        Outcome::Fits(schedule) => Some(schedule.cost.total),
        Outcome::Clash { .. } => None,
    }
}

/// A plain term of chains with something changed.
fn term() -> impl Strategy<Value = Make> {
    let shape = (3usize..8, 0usize..3, 0u32..4, 1u32..8, 0usize..26);
    shape.prop_map(|(k, shape, revision, catch_up, fixed)| {
        let made = [plain, tight, breaks][shape](k).revision(revision).catch_up(catch_up);
        match fixed % 3 {
            0 => made.fix("2027-02-10", LessonKind::CatchUp, None),
            1 => made.fix("2027-03-03", LessonKind::Teach, Some(&format!("x{fixed}"))),
            _ => made,
        }
    })
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 24, ..ProptestConfig::default() })]

    #[test]
    fn a_wish_less_is_never_dearer(made in term(), which in 0usize..5, at in 0usize..26) {
        let mut relaxed = made.clone();
        match which {
            0 => relaxed.plan.unit.catch_up = relaxed.plan.unit.catch_up.map(|c| c - 1),
            1 => relaxed.plan.unit.fixed.clear(),
            2 => relaxed.plan.unit.lessons[at].least = 1,
            3 => relaxed.plan.unit.lessons[at].most += 1,
            _ => {
                let mut ladder = (*relaxed.plan.ladder).clone();
                ladder.skills[at].optional = true;
                relaxed.plan.ladder = ladder.into();
            }
        }
        let (before, after) = (cost(&made), cost(&relaxed));
        prop_assert!(before.is_none() || after.is_some_and(|after| Some(after) <= before));
    }
}

#[test]
fn more_skills_than_a_set_holds_are_refused_by_number() {
    let skills = (0..65).map(|i| skill(&format!("x{i}"), "", [1, 1, 1], 3)).collect();
    let made = Make::term("2027-01-11", "2027-07-30", "mon 09:00-09:40, wed 09:00-09:40", skills);
    let refused = solve(&made.plan, &made.calendar());
    assert_eq!(refused, Err(Error::TooManySkills { found: 65 }));
}

/// Nothing needs anything: too many orders to prove much, but a schedule and a bound all the same.
#[test]
fn a_unit_too_wide_to_prove_gets_a_schedule_and_a_bound() {
    let mut skills = chains(26);
    for skill in &mut skills {
        skill.needs.clear();
    }
    let made = Make::term(
        "2027-01-11",
        "2027-04-02",
        "mon 09:10-09:50, tue 09:10-09:50, wed 09:10-09:50, thu 09:10-09:50, fri 09:10-09:40",
        skills,
    );
    let schedule = made.close("2027-02-15", "2027-02-19").solved();
    // Every skill but the first cuts the thread.
    assert!(schedule.bound <= schedule.cost.total && schedule.bound >= 125, "{:?}", schedule.cost);
    let proven = schedule.proof == Proof::Optimal;
    assert_eq!(proven, schedule.bound == schedule.cost.total);
}

#[test]
fn a_unit_that_is_all_known_is_revision_and_room() {
    let mut made = plain(3).test(TestWish::None);
    made.plan.unit.secure = made.plan.unit.teach.clone();
    let schedule = made.solved();
    let teach = schedule.lessons.iter().filter(|l| l.kind == LessonKind::Teach).count();
    let revision = schedule.lessons.iter().filter(|l| l.kind == LessonKind::Revision).count();
    assert_eq!((teach, revision), (0, 2));
}
