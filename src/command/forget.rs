//! `forget`: removes a pupil's marks everywhere, from what `undo` keeps as well.

use super::args::Forget as Request;
use super::output::{Failure, note};
use crate::folder::{Access, Folder, State, forget};
use crate::report::Message;
use crate::words::count;
use chrono::NaiveDate;

/// Runs the command.
pub fn run(request: &Request, today: NaiveDate) -> Result<(), Failure> {
    let folder = Folder::open(&request.dir, Access::Change)?;
    let journal = State::journal(&folder)?;
    let rows = forget(&folder, &journal, &request.pupil, today)?;
    if rows == 0 {
        let text = format!("no marks of pupil `{}` were found", request.pupil);
        return Err(Message::mistake(text)
            .hint("the pupil's name is the first column of marks/L07.csv")
            .into());
    }
    let rows = count(rows, "row");
    note(&format!("{rows} of pupil `{}` removed, also from what `undo` keeps", request.pupil));
    note("a file of names that you made yourself is still as you wrote it");
    Ok(())
}
