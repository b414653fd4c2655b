//! `export`: the schedule for calendars and spreadsheets.

use super::args::{Export as Request, ExportFormat};
use super::class::Class;
use super::output::{Failure, data};
use crate::exchange;
use crate::folder::Access;
use crate::schedule::Lesson;
use chrono::{NaiveDate, NaiveTime};

/// Runs the command.
pub fn run(request: &Request, today: NaiveDate) -> Result<(), Failure> {
    let class = Class::open(&request.dir, Access::Look, today)?;
    class.notice_a_changed_plan();
    let made = class.schedule()?;
    let title = |lesson: &Lesson| class.lesson_title(lesson);
    let text = match request.what {
        ExportFormat::Ics => {
            // Today without the hour: the same day writes the same file.
            let stamp = today.and_time(NaiveTime::MIN);
            exchange::icalendar::write(made, &class.plan.class, title, stamp)
        }
        ExportFormat::Csv => exchange::csv::write_schedule(made, title),
    };
    data(&text);
    Ok(())
}
