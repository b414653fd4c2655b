//! The checker: it shares no code with the search, passes what the search finds, and catches every
//! kind of damage.

use super::chains::{breaks, plain, tight};
use super::make::{Make, day};
use super::small::short_by_one;
use rungwise::plan::LessonKind;
use rungwise::schedule::{Proof, Schedule, faults};

type Damage = fn(&mut Schedule);

/// Two lessons change places; numbers stay with the periods, so that only the content is wrong.
fn swap(schedule: &mut Schedule, a: usize, b: usize) {
    let (one, other) = (schedule.lessons[a].clone(), schedule.lessons[b].clone());
    for (at, from) in [(a, other), (b, one)] {
        let lesson = &mut schedule.lessons[at];
        (lesson.kind, lesson.skill) = (from.kind, from.skill);
        (lesson.part, lesson.of) = (from.part, from.of);
    }
}

/// Each damage of a a b b – c c R T, and what the checker must say of it.
#[test]
fn every_kind_of_damage_is_caught_and_named() {
    let made = short_by_one();
    let good = made.solved();
    let calendar = made.calendar();
    assert_eq!(faults(&made.plan, &calendar, None, &good), [""; 0]);
    let damages: [(&str, Damage); 15] = [
        ("comes before", |s| swap(s, 0, 3)),
        ("is interrupted", |s| swap(s, 1, 2)),
        ("has a wrong part", |s| swap(s, 5, 6)),
        ("is too early", |s| swap(s, 6, 7)),
        ("the test is not where", |s| swap(s, 7, 8)),
        ("catch-ups, 1 wished", |s| {
            let c = s.lessons[5].clone();
            (s.lessons[4].kind, s.lessons[4].skill) = (c.kind, c.skill);
        }),
        ("the number of revisions", |s| s.lessons[7].kind = LessonKind::CatchUp),
        ("has 0 lessons", |s| {
            for at in [5, 6] {
                (s.lessons[at].kind, s.lessons[at].skill) = (LessonKind::CatchUp, None);
            }
        }),
        ("holds no skill of the unit", |s| s.lessons[2].skill = Some("z".to_owned())),
        ("not one for each period", |s| drop(s.lessons.pop())),
        ("the periods are not those", |s| {
            s.lessons.remove(4);
            s.periods.remove(4);
        }),
        ("a break is not where", |s| s.periods[3].break_before = true),
        ("it costs", |s| s.cost.total += 1),
        ("the proven bound", |s| s.bound -= 1),
        ("two lessons have one number", |s| s.lessons[3].number = 3),
    ];
    for (fault, damage) in damages {
        let mut bad = good.clone();
        damage(&mut bad);
        let found = faults(&made.plan, &calendar, None, &bad).join("; ");
        assert!(found.contains(fault), "`{fault}` is not in `{found}`");
    }
    let mut spare = good.clone();
    spare.spare_periods += 1;
    spare.proof = Proof::Bound;
    let found = faults(&made.plan, &calendar, None, &spare).join("; ");
    assert!(found.contains("spare periods") && found.contains("bound"), "{found}");
}

/// Whatever two lessons of a full term change places, the checker finds a fault, unless the
/// schedule is another good one of the very same cost.
#[test]
fn two_lessons_that_change_places_are_never_taken_for_another_schedule_of_that_cost() {
    for made in [plain(3), tight(5), breaks(7)] {
        let (good, calendar) = (made.solved(), made.calendar());
        let mut caught = 0;
        for a in 0..good.lessons.len() {
            for b in a + 1..good.lessons.len() {
                let (one, other) = (&good.lessons[a], &good.lessons[b]);
                if (one.kind, &one.skill) == (other.kind, &other.skill) {
                    continue;
                }
                let mut bad = good.clone();
                swap(&mut bad, a, b);
                let fine = faults(&made.plan, &calendar, None, &bad).is_empty();
                // A swap that is no fault moves a catch-up or a whole skill of one lesson.
                let may = [one, other].iter().all(|l| l.of.is_none_or(|of| of == 1))
                    || one.kind == LessonKind::CatchUp
                    || other.kind == LessonKind::CatchUp;
                assert!(!fine || may, "{a} and {b}: {one:?} {other:?}");
                caught += usize::from(!fine);
            }
        }
        assert!(caught > 1_000, "{caught}");
    }
}

/// The source itself: schedules are put together in one place, and that place asks the checker.
#[test]
fn no_schedule_leaves_the_room_unjudged_and_the_checker_knows_no_search() {
    let room = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("src/schedule");
    let mut puts_together = Vec::new();
    for entry in std::fs::read_dir(&room).expect("the room") {
        let path = entry.expect("an entry").path();
        let Ok(text) = std::fs::read_to_string(&path) else { continue };
        let name = path.file_name().expect("a name").to_string_lossy().into_owned();
        let calls = text.matches("assemble(").count() - text.matches("fn assemble(").count();
        puts_together.extend((calls > 0).then_some((name, calls)));
    }
    assert_eq!(puts_together, [("mod.rs".to_owned(), 1)]);
    let text = |name: &str| std::fs::read_to_string(room.join(name)).expect("a file");
    let judged = text("mod.rs");
    let body = judged.split("fn judged(").nth(1).expect("where schedules are judged");
    assert!(
        body.find("assemble(").expect("puts together")
            < body.find("checker::faults(").expect("judges")
    );
    for name in ["checker.rs", "price.rs"] {
        let imports = text(name);
        for other in ["search", "problem", "assemble", "underway", "spread"] {
            let said = imports
                .lines()
                .filter(|l| l.trim_start().starts_with("use "))
                .any(|l| l.contains(other));
            assert!(!said, "{name} knows {other}");
        }
    }
}

/// A schedule that was edited by hand is still judged against the plan it was made from.
#[test]
fn a_schedule_for_another_plan_is_at_fault() {
    let made = short_by_one();
    let good = made.solved();
    let other: Make = made.clone().revision(2);
    assert!(!faults(&other.plan, &other.calendar(), None, &good).is_empty());
    let closed = made.close("2027-02-10", "2027-02-10");
    assert!(!closed.calendar().periods.iter().any(|p| p.date == day("2027-02-10")));
    assert!(!faults(&closed.plan, &closed.calendar(), None, &good).is_empty());
}
