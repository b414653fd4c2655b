//! Files that other programs read and write: iCalendar and CSV.

pub mod csv;
pub mod icalendar;

/// A schedule of three lessons and its class, for tests.
#[cfg(test)]
fn test_schedule() -> (crate::schedule::Schedule, crate::plan::Class) {
    use crate::plan::LessonKind::{CatchUp, Teach, UnitTest};
    let lesson = |number: u32, date: &str, kind| crate::schedule::Lesson {
        number,
        date: date.parse().expect("a date"),
        starts: "09:10".parse().expect("a time"),
        minutes: 40,
        kind,
        skill: (kind == Teach).then(|| "long-two-by-two".to_owned()),
        part: (kind == Teach).then_some(1),
        of: (kind == Teach).then_some(2),
    };
    let lessons = vec![
        lesson(1, "2027-01-11", Teach),
        lesson(7, "2027-01-12", CatchUp),
        lesson(2, "2027-01-13", UnitTest),
    ];
    let schedule = crate::schedule::Schedule {
        periods: Vec::new(),
        lessons,
        left_out: Vec::new(),
        cost: crate::schedule::Cost::default(),
        proof: crate::schedule::Proof::Optimal,
        bound: 0,
        spare_periods: 0,
    };
    let class = crate::plan::Class {
        name: "Class 5, \"Kingfisher\"".into(),
        school: String::new(),
        key: "7f3a-kingfisher".into(),
        pupils: 30,
        pupil_names: Vec::new(),
        pace: 100,
        zone: None,
    };
    (schedule, class)
}
