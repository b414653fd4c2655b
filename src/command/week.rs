//! The files for the copier that `pack --week` leaves beside the lessons' folders.

use super::output::Failure;
use super::pack::refused;
use crate::folder::{names_in, remove, week_code};
use crate::lesson::Pack;
use crate::paper::week::{Batch, batches, week};
use crate::words::count;
use chrono::{Datelike, Days, NaiveDate};
use indexmap::IndexMap;
use std::fmt::Write;
use std::path::Path;

/// A week's files for the copier.
pub struct Week {
    /// The folder they stand in, beside the lessons' folders.
    pub dir: String,
    /// The files by name.
    pub files: IndexMap<String, Vec<u8>>,
    batches: Vec<Batch>,
}

/// The Monday of a day's week.
pub fn monday_of(day: NaiveDate) -> NaiveDate {
    day - Days::new(day.weekday().num_days_from_monday().into())
}

impl Week {
    /// The files of the week of this day, made of its lessons' packs.
    pub fn of(packs: &[Pack], day: NaiveDate, version: &str) -> Result<Week, Failure> {
        let monday = monday_of(day);
        let batches = batches(packs, monday);
        let files = week(&batches).map_err(|refusal| refused(&refusal))?;
        Ok(Week { dir: week_code(monday, version), files, batches })
    }

    /// Takes away what an earlier run left there and this one did not write: with another number
    /// of pupils the numbers of copies are others.
    pub fn clear_others(&self, place: &Path) -> Result<(), Failure> {
        let dir = place.join(&self.dir);
        let ours = |name: &str| {
            (name.starts_with("copies-") || name.starts_with("teacher"))
                && Path::new(name).extension().is_some_and(|e| e == "pdf")
        };
        for name in names_in(&dir) {
            if ours(&name) && !self.files.contains_key(&name) {
                remove(&dir.join(&name))?;
            }
        }
        Ok(())
    }

    /// What stands in the folder and how often each file is copied.
    pub fn list(&self) -> String {
        let mut out = "The same in one file for each number of copies:\n".to_owned();
        for Batch { file, count: copies, sheet, .. } in &self.batches {
            let file = format!("{}/{file}", self.dir);
            let pages = count(sheet.pages.len(), "page");
            writeln!(out, "  {copies:>4} ×  {file}  {pages}").ok();
        }
        out
    }
}
