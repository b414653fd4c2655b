//! Where a class's term stands: its schedule, what was printed, taught, lost and marked.

use super::journal::{Entry, Event, Journal};
use super::{Folder, ScheduleFile, marks_file};
use crate::calendar::Clock;
use crate::report::{Report, Source};
use crate::schedule::{Lesson, Standing};
use chrono::NaiveDate;
use indexmap::IndexMap;
use serde::Serialize;
use std::collections::BTreeSet;

/// Everything in a folder but the plan and the packs.
#[derive(Debug, Clone)]
pub struct State {
    /// The schedule in force, if there is one.
    pub schedule: Option<ScheduleFile>,
    /// What has happened.
    pub journal: Journal,
    /// Today.
    pub today: NaiveDate,
    /// Lessons with marks, by number and version.
    marked: BTreeSet<(u32, String)>,
}

/// Where in its life a lesson is.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Life {
    /// On the schedule.
    Planned,
    /// Its pack was made, not as a draft.
    Printed,
    /// Its date is before today, or today and printed: it counts as taught.
    Past,
    /// Its exit check was marked.
    Marked,
}

impl State {
    /// Reads it.
    ///
    /// # Errors
    /// The schedule or the journal was edited into nonsense.
    pub fn read(folder: &Folder, today: NaiveDate) -> Result<State, Report> {
        let journal = State::journal(folder)?;
        let schedule = match folder.text("schedule.toml")? {
            Some(text) => Some(ScheduleFile::read(&Source::shared("schedule.toml", text))?),
            None => None,
        };
        let mut state = State { schedule, journal, today, marked: BTreeSet::new() };
        for lesson in state.lessons() {
            for version in ["A", "B"] {
                if folder.path(&marks_file(lesson.number, version)).is_file() {
                    state.marked.insert((lesson.number, version.to_owned()));
                }
            }
        }
        Ok(state)
    }

    /// Reads the journal alone.
    ///
    /// # Errors
    /// It was edited into nonsense.
    pub fn journal(folder: &Folder) -> Result<Journal, Report> {
        Journal::read(folder.text("journal.toml")?.as_deref())
    }

    /// Reckons with events that the journal does not hold yet.
    pub fn suppose(&mut self, events: &[Event]) {
        let change = self.journal.last_change() + 1;
        let on = self.today;
        let entry = |event: &Event| Entry { change, on, event: event.clone() };
        self.journal.entries.extend(events.iter().map(entry));
    }

    /// The lessons in force, in order of date; none where there is no schedule.
    pub fn lessons(&self) -> Vec<Lesson> {
        self.schedule.as_ref().map(|file| file.schedule.lessons.clone()).unwrap_or_default()
    }
    /// The lessons that were added to teach their skill once more.
    pub fn added(&self) -> BTreeSet<u32> {
        let added = |event: &Event| match event {
            Event::AddedToTeachAgain { lesson } => Some(*lesson),
            _ => None,
        };
        self.journal.standing().filter_map(|entry| added(&entry.event)).collect()
    }
    /// The lesson of this number.
    pub fn lesson(&self, number: u32) -> Option<Lesson> {
        self.lessons().into_iter().find(|l| l.number == number)
    }
    /// Whether a pack of this lesson was printed, not as a draft.
    pub fn printed(&self, number: u32, of: &str) -> bool {
        self.journal.standing().any(|entry| match &entry.event {
            Event::Printed { lesson, version, .. } => *lesson == number && version == of,
            _ => false,
        })
    }
    /// How often each item was exchanged, by id, in the order of the wishes.
    pub fn swaps(&self) -> IndexMap<String, u32> {
        let mut swaps = IndexMap::new();
        for entry in self.journal.standing() {
            if let Event::Swapped { item, .. } = &entry.event {
                *swaps.entry(item.clone()).or_insert(0) += 1;
            }
        }
        swaps
    }
    /// The periods whose lesson was not held.
    pub fn lost_periods(&self) -> Vec<(NaiveDate, Clock)> {
        let lost = |event: &Event| match event {
            Event::Lost { date, starts, .. } => Some((*date, *starts)),
            _ => None,
        };
        self.journal.standing().filter_map(|entry| lost(&entry.event)).collect()
    }
    /// The lessons told lost that stand on no later period yet.
    pub fn lost_lessons(&self) -> Vec<u32> {
        let periods = self.lost_periods();
        let on_lost = |l: &&Lesson| periods.contains(&(l.date, l.starts));
        self.lessons().iter().filter(on_lost).map(|l| l.number).collect()
    }
    /// Whether a lesson counts as taught: its day is past, or it is today's and printed, or a check of
    /// today is marked, which is done after school.
    pub fn taught(&self, lesson: &Lesson) -> bool {
        let lost = self.lost_periods().contains(&(lesson.date, lesson.starts));
        let is_today = lesson.date == self.today;
        let over = || self.lessons().iter().any(|l| l.date == self.today && self.marked(l.number));
        let held = is_today && (self.printed(lesson.number, "A") || over());
        !lost && (lesson.date < self.today || held)
    }
    /// Whether a lesson was marked.
    pub fn marked(&self, number: u32) -> bool {
        self.marked.iter().any(|(lesson, _)| *lesson == number)
    }
    /// Whether a lesson's marks teach the class's own weights: those first marked after the last
    /// reset do.
    pub fn teaches(&self, number: u32, of: &str) -> bool {
        let reset = self.journal.standing().filter(|e| e.event == Event::WeightsReset);
        let Some(reset) = reset.map(|e| e.change).max() else { return true };
        let first = self.journal.standing().find(|entry| match &entry.event {
            Event::Marked { lesson, version } => *lesson == number && version == of,
            _ => false,
        });
        first.is_some_and(|entry| entry.change > reset)
    }
    /// Whether a lesson's marks are judged with what its own class shows: unless all of them were
    /// first made before the last reset.
    pub fn learns(&self, number: u32) -> bool {
        let of = |version: &str| {
            let marked = self.marked.iter().any(|(n, v)| *n == number && v == version);
            (marked, self.teaches(number, version))
        };
        let versions = ["A", "B"].map(of);
        let fresh = versions.iter().all(|(marked, _)| !marked);
        fresh || versions.iter().any(|(marked, teaches)| *marked && *teaches)
    }
    /// Where in its life a lesson is.
    pub fn life(&self, lesson: &Lesson) -> Life {
        if self.marked(lesson.number) {
            Life::Marked
        } else if self.taught(lesson) {
            Life::Past
        } else if self.printed(lesson.number, "A") {
            Life::Printed
        } else {
            Life::Planned
        }
    }
    /// What a new schedule must respect.
    pub fn standing(&self) -> Standing {
        let old = self.lessons();
        let numbers = |keep: &dyn Fn(&Lesson) -> bool| -> Vec<u32> {
            old.iter().filter(|l| keep(l)).map(|l| l.number).collect()
        };
        Standing {
            today: self.today,
            printed: numbers(&|l| self.printed(l.number, "A")),
            taught: numbers(&|l| self.taught(l)),
            lost: self.lost_lessons(),
            next_number: self.schedule.as_ref().map_or(1, |file| file.next_number),
            old,
        }
    }
}
