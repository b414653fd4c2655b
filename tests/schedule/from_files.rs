//! Two ladders of 26 skills and a plain term, read from their files as a teacher's would be.

use super::make::bill;
use indexmap::IndexMap;
use rungwise::calendar::{Calendar, Closing, lay_out};
use rungwise::curriculum::{frameworks, read_ladder};
use rungwise::plan::{Beside, Plan, PlanFile};
use rungwise::report::{Report, Source};
use rungwise::schedule::{Outcome, Proof, Schedule, Standing, compare, solve, solve_again};
use std::path::Path;
use std::sync::Arc;

pub fn read(letter: &str) -> Plan {
    let text = |name: String| {
        let path = Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/schedule/ladders").join(&name);
        Source::shared(name, std::fs::read_to_string(path).expect("a file beside this one"))
    };
    let mut report = Report::new();
    let ladder = read_ladder(&text(format!("width-nine-{letter}.toml")), &mut report);
    let frameworks: IndexMap<_, _> = frameworks();
    let beside =
        Beside { ladder: ladder.map(Arc::new), calendars: vec![], pupils: None, frameworks };
    let file = PlanFile::read(&text(format!("plain-term-{letter}.toml")), &mut report);
    let plan = file.and_then(|file| Plan::check(&file, &beside, &mut report));
    plan.unwrap_or_else(|| panic!("{}", report.to_text()))
}

pub fn calendar(plan: &Plan) -> Calendar {
    lay_out(&plan.term, &plan.timetable, &plan.closings, &plan.openings, &[])
}

pub fn solved(plan: &Plan) -> Schedule {
    match solve(plan, &calendar(plan)).expect("no fault") {
        Outcome::Fits(schedule) => *schedule,
        clash => panic!("{clash:?}"),
    }
}

/// So many skills, none of which needs another, directly or not.
fn unrelated(plan: &Plan, ids: &[&str]) -> usize {
    for id in ids {
        let needs = plan.ladder.all_needs(id);
        assert!(ids.iter().all(|other| !needs.contains(other)), "{id} needs one of {ids:?}");
    }
    ids.len()
}

/// 45 was found by another program before. For the second ladder: skills that follow each other
/// without a cut form a chain, and a set of skills cannot be parted into fewer chains than it has
/// skills unrelated to each other (Dilworth 1950), so that nine unrelated ones make eight cuts.
#[test]
fn the_plain_terms_of_two_ladders_cost_what_they_must() {
    let schedule = solved(&read("a"));
    assert_eq!((schedule.periods.len(), schedule.cost.total), (55, 45), "{}", bill(&schedule));
    assert_eq!(schedule.proof, Proof::Optimal);
    let plan = read("b");
    let schedule = solved(&plan);
    let apart = [
        "same-value-line",
        "simplest-form",
        "order-three",
        "mixed-to-improper",
        "take-same",
        "add-related",
        "whole-from-part",
        "hundredths",
        "times-whole",
    ];
    let cuts = i64::try_from(unrelated(&plan, &apart) - 1).expect("small");
    assert_eq!((schedule.periods.len(), schedule.proof), (55, Proof::Optimal));
    assert_eq!((cuts, schedule.cost.total), (8, 5 * cuts), "{}", bill(&schedule));
}

#[test]
fn the_same_plan_gives_the_same_schedule() {
    let plan = read("a");
    assert_eq!(solved(&plan), solved(&plan));
}

/// A day is closed in the middle of the term, and the next week is printed already.
#[test]
fn a_lost_day_moves_nothing_that_is_printed() {
    let plan = read("a");
    let old = solved(&plan);
    let today = "2027-02-24".parse().expect("a date");
    let soon: Vec<u32> = old
        .lessons
        .iter()
        .filter(|l| l.date >= today && l.date <= "2027-02-26".parse().expect("a date"))
        .map(|l| l.number)
        .collect();
    let standing = Standing {
        today,
        taught: old.lessons.iter().filter(|l| l.date < today).map(|l| l.number).collect(),
        printed: soon.clone(),
        old: old.lessons.clone(),
        lost: vec![],
        next_number: 56,
    };
    let mut again = plan.clone();
    let closed = "2027-03-02".parse().expect("a date");
    again.closings.push(Closing::days(closed, closed, "inspection"));
    let outcome = solve_again(&again, &calendar(&again), &standing).expect("no fault");
    let Outcome::Fits(new) = outcome else { panic!("{outcome:?}") };
    let changes = compare(&old.lessons, &new.lessons);
    assert_eq!(new.lessons.len(), 54);
    assert_eq!(new.cost.terms["printed-moved"], 0);
    assert!(changes.moves.iter().all(|m| !soon.contains(&m.lesson)), "{changes:?}");
    assert_eq!(changes.unchanged + changes.moves.len() + changes.dropped.len(), 55);
    assert!(changes.added.is_empty(), "{changes:?}");
    let frozen = old.lessons.iter().filter(|l| l.date < today).count();
    assert_eq!(old.lessons[..frozen], new.lessons[..frozen]);
}
