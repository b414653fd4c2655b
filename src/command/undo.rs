//! `undo`: takes back the last change a command made.

use super::args::ClassDir;
use super::output::{Failure, note};
use crate::folder::{Access, Folder, State, TakenBack, undo};
use chrono::NaiveDate;

/// Runs the command.
pub fn run(request: &ClassDir, today: NaiveDate) -> Result<(), Failure> {
    let folder = Folder::open(&request.dir, Access::Change)?;
    let journal = State::journal(&folder)?;
    let TakenBack { command, gone } = undo(&folder, &journal, today)?;
    note(&format!("taken back: `{command}`; what was printed stays in packs/"));
    for (name, back) in gone {
        note(&match back {
            true => format!("`{name}` was gone; it is there again, as before `{command}`"),
            false => format!("`{name}` was gone already: before `{command}` there was none"),
        });
    }
    Ok(())
}
