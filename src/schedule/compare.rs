//! What a new schedule changes: which lessons move, stay, go and come.

use super::Lesson;
use crate::calendar::Clock;
use chrono::NaiveDate;
use serde::Serialize;

/// A period by its date and time.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct When {
    /// The day.
    pub date: NaiveDate,
    /// When it begins.
    pub starts: Clock,
}

/// A lesson that is on another period now.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Move {
    /// Its number.
    pub lesson: u32,
    /// Where it was.
    pub from: When,
    /// Where it is now.
    pub to: When,
}

/// A lesson that is no more, and the lesson of its skill that takes over what it held.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Merge {
    /// Its number.
    pub lesson: u32,
    /// The last lesson of the same skill now.
    pub into: u32,
}

/// The difference between two schedules.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize)]
pub struct Comparison {
    /// Lessons on another period, in the order of their old periods.
    pub moves: Vec<Move>,
    /// How many lessons are where they were.
    pub unchanged: usize,
    /// The numbers of all lessons that are no more.
    pub dropped: Vec<u32>,
    /// Those of them whose skill is still taught.
    pub merged: Vec<Merge>,
    /// The numbers of new lessons.
    pub added: Vec<u32>,
}

fn when(lesson: &Lesson) -> When {
    When { date: lesson.date, starts: lesson.starts }
}

/// Compares the lessons in force with those of a new schedule, by their numbers.
pub fn compare(old: &[Lesson], new: &[Lesson]) -> Comparison {
    let mut comparison = Comparison::default();
    for lesson in old {
        match new.iter().find(|l| l.number == lesson.number) {
            Some(same) if when(same) == when(lesson) => comparison.unchanged += 1,
            Some(same) => comparison.moves.push(Move {
                lesson: lesson.number,
                from: when(lesson),
                to: when(same),
            }),
            None => {
                comparison.dropped.push(lesson.number);
                let like = |l: &&Lesson| l.skill.is_some() && l.skill == lesson.skill;
                let into = new.iter().rfind(like).map(|l| l.number);
                let merge = into.map(|into| Merge { lesson: lesson.number, into });
                comparison.merged.extend(merge);
            }
        }
    }
    let known = |l: &&Lesson| old.iter().all(|o| o.number != l.number);
    comparison.added = new.iter().filter(known).map(|l| l.number).collect();
    comparison
}
