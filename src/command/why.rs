//! `why`: why a lesson is where it is.

use super::args::{Format, Why as Request};
use super::class::{Class, solved};
use super::output::{Failure, data, json};
use crate::folder::Access;
use crate::schedule;
use chrono::NaiveDate;

/// Runs the command.
pub fn run(request: &Request, format: Format, today: NaiveDate) -> Result<(), Failure> {
    let class = Class::open(&request.dir, Access::Look, today)?;
    class.notice_a_changed_plan();
    let lesson = class.lesson(request.lesson)?;
    let standing = class.state.standing();
    // A term that has not begun is free to be solved afresh.
    let begun = !(standing.taught.is_empty() && standing.printed.is_empty());
    let standing = begun.then_some(&standing);
    let made = class.schedule()?;
    let why = solved(schedule::why(&class.plan, &class.calendar, standing, made, lesson.number))?;
    match format {
        Format::Json => json(&why),
        Format::Text => {
            data(&why.map(|why| why.text).unwrap_or_default());
            Ok(())
        }
    }
}
