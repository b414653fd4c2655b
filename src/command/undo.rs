//! `undo`: takes back the last change a command made.

use super::args::ClassDir;
use super::output::{Failure, note};
use crate::folder::{Access, Folder, State, undo};
use chrono::NaiveDate;

/// Runs the command.
pub fn run(request: &ClassDir, today: NaiveDate) -> Result<(), Failure> {
    let folder = Folder::open(&request.dir, Access::Change)?;
    let journal = State::journal(&folder)?;
    let command = undo(&folder, &journal, today)?;
    note(&format!("taken back: `{command}`; what was printed stays in packs/"));
    Ok(())
}
