//! `forget`: removes a pupil's marks everywhere, from what `undo` keeps and from teacher's pages that
//! say who gets which sheet as well.

use super::args::Forget as Request;
use super::output::{Failure, note};
use super::pack::print_one;
use super::week::monday_of;
use crate::folder::{Access, Folder, State, forget, names_in, remove, save_all, week_code};
use crate::lesson::Pack;
use crate::marking::same_pupil;
use crate::report::Message;
use crate::words::{count, join};
use chrono::NaiveDate;
use std::path::PathBuf;

/// Runs the command.
pub fn run(request: &Request, today: NaiveDate) -> Result<(), Failure> {
    let folder = Folder::open(&request.dir, Access::Change)?;
    let journal = State::journal(&folder)?;
    let pupil = &request.pupil;
    let pages = on_pages(&folder, pupil)?;
    let rows = forget(&folder, &journal, pupil, today)?;
    if rows + pages.len() == 0 {
        let text = format!("no marks of pupil `{pupil}` were found");
        return Err(Message::mistake(text)
            .hint("the pupil's name is the first column of marks/L07.csv")
            .into());
    }
    let rows = count(rows, "row");
    note(&format!("{rows} of pupil `{pupil}` removed, also from what `undo` keeps"));
    if !pages.is_empty() {
        note(&format!("made anew without the pupil: {}", join(&pages, "and")));
    }
    note("a file of names that you made yourself is still as you wrote it, and so is paper");
    Ok(())
}

/// Takes the pupil off every teacher's page that says who gets which sheet: the pack is printed
/// anew, and a week's file with that page is taken away. Says which files those are.
fn on_pages(folder: &Folder, pupil: &str) -> Result<Vec<String>, Failure> {
    let mut pages = Vec::new();
    for code in names_in(&folder.path("packs")) {
        let name = format!("packs/{code}/pack.json");
        let Some(text) = folder.text(&name)? else { continue };
        // What was edited into something else is the teacher's own by now.
        let Ok(mut pack) = serde_json::from_str::<Pack>(&text) else { continue };
        let mut found = false;
        for sheet in &mut pack.teacher.sheets {
            let before = sheet.pupils.len();
            sheet.pupils.retain(|label| !same_pupil(label, pupil));
            found |= sheet.pupils.len() < before;
        }
        if !found {
            continue;
        }
        let files = print_one(&pack)?;
        let files: Vec<(PathBuf, Vec<u8>)> = files
            .into_iter()
            .map(|(name, bytes)| (folder.path(&format!("packs/{code}/{name}")), bytes))
            .collect();
        let files: Vec<(PathBuf, &[u8])> =
            files.iter().map(|(path, bytes)| (path.clone(), bytes.as_slice())).collect();
        save_all(&files)?;
        pages.push(format!("packs/{code}/teacher.pdf"));
        let week = format!("packs/{}", week_code(monday_of(pack.date), &pack.version));
        let mut gone = names_in(&folder.path(&week));
        gone.retain(|file| file.starts_with("teacher"));
        for file in &gone {
            remove(&folder.path(&format!("{week}/{file}")))?;
        }
        if !gone.is_empty() {
            let (files, date) = (join(&gone, "and"), pack.date);
            note(&format!("taken away from {week}: {files}; `pack --week {date}` makes that anew"));
        }
    }
    Ok(pages)
}
