//! Removing a pupil's marks from every file that holds any.

use super::change::{hash, scrub_history};
use super::journal::{Entry, Event, Journal};
use super::{Folder, disk, save};
use crate::marking::same_pupil;
use crate::report::{Message, Report};
use chrono::NaiveDate;

/// Removes every row of the pupil from the marks and from what `undo` keeps of them; says how many
/// rows of marks there were. The journal gets an entry that does not say who it was.
///
/// # Errors
/// A file cannot be read or written.
pub fn forget(
    folder: &Folder,
    journal: &Journal,
    pupil: &str,
    on: NaiveDate,
) -> Result<usize, Report> {
    let mut rows = 0;
    let mut changed = Vec::new();
    for name in disk::names_in(&folder.path("marks")) {
        let name = format!("marks/{name}");
        let Some(text) = folder.text(&name)? else { continue };
        let (kept, gone) = without(&text, pupil).map_err(|e| unreadable(&name, &e))?;
        if gone > 0 {
            save(&folder.path(&name), kept.as_bytes())?;
            changed.push((hash(text.as_bytes()), hash(kept.as_bytes())));
        }
        rows += gone;
    }
    rows += scrub_history(folder, &changed, |text| {
        without(text, pupil).map_err(|e| unreadable("what undo keeps", &e))
    })?;
    if rows > 0 {
        let entry = Entry { change: journal.last_change() + 1, on, event: Event::Forgotten };
        super::change::append(folder, &[entry])?;
    }
    Ok(rows)
}

fn unreadable(name: &str, error: &csv::Error) -> Report {
    Report::of(Message::mistake(format!("{name} cannot be read: {error}")))
}

/// A table of marks without the rows whose `pupil` is this one, and how many those were. Piles of
/// slips name no pupil and stay as they are.
fn without(text: &str, pupil: &str) -> Result<(String, usize), csv::Error> {
    let mut reader =
        csv::ReaderBuilder::new().has_headers(false).flexible(true).from_reader(text.as_bytes());
    let mut writer = csv::WriterBuilder::new().flexible(true).from_writer(Vec::new());
    let mut column = None;
    let mut gone = 0;
    for (index, record) in reader.records().enumerate() {
        let record = record?;
        if index == 0 {
            column = record.iter().position(|field| field.trim() == "pupil");
        }
        let of_pupil =
            column.and_then(|c| record.get(c)).is_some_and(|field| same_pupil(field, pupil));
        if of_pupil && index > 0 {
            gone += 1;
        } else {
            writer.write_record(&record)?;
        }
    }
    let bytes = writer.into_inner().map_err(|e| csv::Error::from(e.into_error()))?;
    let kept = String::from_utf8(bytes).unwrap_or_default();
    Ok(if gone == 0 { (text.to_owned(), 0) } else { (kept, gone) })
}

#[cfg(test)]
mod tests {
    use super::without;

    #[test]
    fn only_the_pupils_own_rows_go() {
        let text = "pupil,L07-X1\n7,423\n17,423\n7 ,12\n";
        for label in ["7", "07", " 7 "] {
            let kept = without(text, label).expect("it reads");
            assert_eq!(kept, ("pupil,L07-X1\n17,423\n".to_owned(), 2), "{label}");
        }
        let piles = "item,answer,count\nL07-X1,7,7\n";
        assert_eq!(without(piles, "7").expect("it reads"), (piles.to_owned(), 0));
    }
}
