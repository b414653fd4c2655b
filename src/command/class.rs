//! A class ready to work on: its folder, checked plan, calendar and where its term stands.

use super::output::{Failure, say};
use crate::calendar::{Calendar, lay_out};
use crate::folder::{self, Access, Folder, State};
use crate::plan::Plan;
use crate::report::{Message, Report};
use crate::schedule::{self, Lesson, Schedule};
use chrono::NaiveDate;
use sha2::{Digest, Sha256};
use std::fmt::Write;
use std::path::Path;

/// A class ready to work on.
#[derive(Debug)]
pub struct Class {
    /// Its folder.
    pub folder: Folder,
    /// The text of its plan.
    pub plan_text: String,
    /// Its plan.
    pub plan: Plan,
    /// The periods of its term, lost ones taken out.
    pub calendar: Calendar,
    /// Where its term stands.
    pub state: State,
}

impl Class {
    /// Opens a class's folder; warnings about the plan are said.
    pub fn open(dir: &Path, access: Access, today: NaiveDate) -> Result<Class, Failure> {
        let folder = Folder::open(dir, access)?;
        let state = State::read(&folder, today)?;
        let loaded = folder::load(&folder)?;
        say(&loaded.report);
        let calendar = calendar(&loaded.plan, &state);
        Ok(Class { folder, plan_text: loaded.text, plan: loaded.plan, calendar, state })
    }

    /// The schedule in force.
    pub fn schedule(&self) -> Result<&Schedule, Failure> {
        match &self.state.schedule {
            Some(file) => Ok(&file.schedule),
            None => {
                let dir = self.folder.dir().display();
                let message = Message::mistake("there is no schedule yet")
                    .hint(format!("`rungwise plan {dir}` makes it"));
                Err(message.into())
            }
        }
    }

    /// The lesson of this number in the schedule in force.
    pub fn lesson(&self, number: u32) -> Result<Lesson, Failure> {
        let lessons = &self.schedule()?.lessons;
        match lessons.iter().find(|l| l.number == number) {
            Some(lesson) => Ok(lesson.clone()),
            None => {
                let least = lessons.iter().map(|l| l.number).min().unwrap_or(0);
                let most = lessons.iter().map(|l| l.number).max().unwrap_or(0);
                let message = Message::mistake(format!("there is no lesson {number}"))
                    .hint(format!("the schedule holds lessons {least} to {most}"));
                Err(message.into())
            }
        }
    }

    /// Whether the plan has changed since the schedule was made.
    pub fn plan_has_changed(&self) -> bool {
        self.state.schedule.as_ref().is_some_and(|f| f.made_from != made_from(&self.plan))
    }

    /// Says when the plan has changed since the schedule was made.
    pub fn notice_a_changed_plan(&self) {
        if self.plan_has_changed() {
            let dir = self.folder.dir().display();
            let hint = format!(
                "`rungwise reschedule {dir}` shows what that does; `--accept` carries it through"
            );
            let text = "the plan has changed since the schedule was made";
            say(&Report::of(Message::notice(text).hint(hint)));
        }
    }

    /// The title of a skill as paper has it; the id of one the ladder no longer holds.
    pub fn title<'a>(&'a self, skill: &'a str) -> &'a str {
        self.plan.ladder.skills.get(skill).map_or(skill, |s| s.title.as_str())
    }

    /// What a lesson is, in a few words: "Long multiplication, part 2".
    pub fn lesson_title(&self, lesson: &Lesson) -> String {
        super::print::lesson_title(lesson, |skill| self.title(skill).to_owned())
    }
}

/// The periods of a plan's term, those of lost lessons taken out.
pub fn calendar(plan: &Plan, state: &State) -> Calendar {
    lay_out(&plan.term, &plan.timetable, &plan.closings, &plan.openings, &state.lost_periods())
}

/// A hash of everything in a plan that a schedule follows from: a corrected name or a new house
/// style does not change it.
pub fn made_from(plan: &Plan) -> String {
    let Plan { term, timetable, closings, openings, unit, costs, ladder, .. } = plan;
    let days: Vec<_> = closings.iter().map(|c| (c.from, c.to, c.after, c.before)).collect();
    let skills: Vec<_> = ladder
        .skills
        .values()
        .map(|s| (&s.id, &s.needs, s.lessons, s.weight, s.optional))
        .collect();
    let mut text = format!("{:?}", (term, timetable, days, openings, unit, costs, skills));
    let methods = schedule::waits(plan);
    if !methods.is_empty() {
        write!(text, "{methods:?}").ok();
    }
    Sha256::digest(text.as_bytes()).iter().take(8).map(|byte| format!("{byte:02x}")).collect()
}

/// What came of a search; that the wishes cannot be put into numbers is the teacher's to mend, a
/// schedule that fails its check a fault of ours.
pub fn solved<T>(result: Result<T, schedule::Error>) -> Result<T, Failure> {
    result.map_err(|error| {
        if error.is_fault() {
            Failure::Ours(error.to_string())
        } else {
            Message::mistake(error.to_string()).into()
        }
    })
}
