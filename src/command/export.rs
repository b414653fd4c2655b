//! `export`: the schedule for calendars and spreadsheets.

use super::args::Export as Request;
use super::class::Class;
use super::output::Failure;
use crate::folder::Access;
use chrono::NaiveDate;

/// Runs the command.
pub fn run(request: &Request, today: NaiveDate) -> Result<(), Failure> {
    let class = Class::open(&request.dir, Access::Look, today)?;
    class.notice_a_changed_plan();
    let made = class.schedule()?;
    let _ = (made, request.what);
    Err(Failure::Usage("`export` is not built yet".to_owned()))
}
