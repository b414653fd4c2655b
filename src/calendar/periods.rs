//! The periods that follow from a term, a timetable and what is closed.

use super::{Calendar, Closing, Term, Timetable};
use crate::calendar::Clock;
use chrono::NaiveDate;

/// Lays the timetable out over the term. `openings` are days that stay open whatever a calendar
/// file says; `lost` are single periods that leave the calendar (a lesson that was not held).
pub fn lay_out(
    term: &Term,
    timetable: &Timetable,
    closings: &[Closing],
    openings: &[NaiveDate],
    lost: &[(NaiveDate, Clock)],
) -> Calendar {
    let _ = (term, timetable, closings, openings, lost);
    Calendar { periods: vec![], unit_length: 0, school_days: vec![], closed: vec![] }
}
