//! One change to a folder: files written together, entries in the journal, and the way back.

use super::disk;
use super::journal::{Entry, Event, Journal};
use super::{Folder, save};
use crate::report::{Message, Report};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};
use sha2::{Digest, Sha256};

/// How many changes can be taken back.
const KEPT: u32 = 60;

/// What one run of a command does to the folder.
#[derive(Debug, Default)]
pub struct Change {
    /// The command, as `undo` names it.
    pub command: String,
    /// Files whose whole content `undo` brings back: plan, schedule, marks. `None` takes one away.
    pub files: Vec<(String, Option<Vec<u8>>)>,
    /// Files that stay when the change is taken back: what was printed. The last is written last.
    pub prints: Vec<(String, Vec<u8>)>,
    /// What the journal gets.
    pub events: Vec<Event>,
}

/// What `undo` needs of one change.
#[derive(Debug, Serialize, Deserialize)]
struct Record {
    command: String,
    #[serde(default, rename = "file")]
    files: Vec<FileRecord>,
}

/// One file of a change, before and after.
#[derive(Debug, Serialize, Deserialize)]
struct FileRecord {
    name: String,
    /// Whether it was there before; its content then lies beside the record.
    was_there: bool,
    /// The hash of what the change wrote; absent where it took the file away.
    after: Option<String>,
}

impl FileRecord {
    fn is_marks(&self) -> bool {
        self.name.starts_with("marks/")
    }
}

impl Change {
    /// A change made by this command.
    pub fn by(command: impl Into<String>) -> Change {
        Change { command: command.into(), ..Change::default() }
    }
    /// Writes a file that `undo` brings back.
    pub fn file(&mut self, name: impl Into<String>, text: impl Into<Vec<u8>>) {
        self.files.push((name.into(), Some(text.into())));
    }

    /// Makes the change: the way back first, then the files, then the journal. Where a file cannot
    /// be written, those already written are brought back as they were.
    ///
    /// # Errors
    /// A file cannot be written; the folder is as before.
    pub fn make(self, folder: &Folder, journal: &Journal, on: NaiveDate) -> Result<(), Report> {
        let number = journal.last_change() + 1;
        let before = self.keep_way_back(folder, number)?;
        let mut done = 0;
        let written = self.files.iter().try_for_each(|(name, content)| {
            put(folder, name, content.as_deref())?;
            done += 1;
            Ok(())
        });
        let written = written.and_then(|()| {
            let files = self.prints.iter().map(|(name, b)| (folder.path(name), b.as_slice()));
            disk::save_all(&files.collect::<Vec<_>>())
        });
        let entries: Vec<Entry> = self
            .events
            .iter()
            .map(|event| Entry { change: number, on, event: event.clone() })
            .collect();
        let written = written.and_then(|()| append(folder, &entries));
        if written.is_err() {
            for ((name, _), old) in self.files.iter().zip(&before).take(done) {
                // The first failure is what the teacher must hear of; this one has the same cause.
                put(folder, name, old.as_deref()).ok();
            }
            disk::remove_dir(&folder.path(&history(number)));
        } else if let Some(oldest) = number.checked_sub(KEPT) {
            disk::remove_dir(&folder.path(&history(oldest)));
        }
        written
    }

    fn keep_way_back(&self, folder: &Folder, number: u32) -> Result<Vec<Option<Vec<u8>>>, Report> {
        let mut before = Vec::new();
        let mut files = Vec::new();
        for (index, (name, content)) in self.files.iter().enumerate() {
            let old = disk::bytes(&folder.path(name))?;
            if let Some(old) = &old {
                save(&folder.path(&format!("{}/{index}", history(number))), old)?;
            }
            let after = content.as_deref().map(hash);
            files.push(FileRecord { name: name.clone(), was_there: old.is_some(), after });
            before.push(old);
        }
        let record = Record { command: self.command.clone(), files };
        let text = toml::to_string(&record).expect("a record is a plain table");
        save(&folder.path(&format!("{}/change.toml", history(number))), text.as_bytes())?;
        Ok(before)
    }
}

/// What was taken back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct TakenBack {
    /// The command whose change it was.
    pub command: String,
    /// Files of it that were gone, and whether they are there again as before the change.
    pub gone: Vec<(String, bool)>,
}

/// Takes back the last change that stands.
///
/// # Errors
/// There is none, a file of it was edited since, or something cannot be written.
pub fn undo(folder: &Folder, journal: &Journal, on: NaiveDate) -> Result<TakenBack, Report> {
    let nothing = || Report::of(Message::mistake("there is no change to take back"));
    let number = journal.last_standing_change().ok_or_else(nothing)?;
    let dir = history(number);
    let Some(text) = folder.text(&format!("{dir}/change.toml"))? else {
        let text = "the last change is too long ago to be taken back";
        return Err(Report::of(Message::mistake(text)));
    };
    let record: Record = toml::from_str(&text).map_err(|error| {
        let text = format!("what undo needs cannot be read: {}", error.message());
        Report::of(Message::mistake(text).hint("the folder is as it was"))
    })?;
    refuse_if_edited(folder, &record)?;
    let mut gone = Vec::new();
    for (index, file) in record.files.iter().enumerate() {
        let old = if file.was_there {
            disk::bytes(&folder.path(&format!("{dir}/{index}")))?
        } else {
            None
        };
        if file.after.is_some() && !folder.path(&file.name).exists() {
            gone.push((file.name.clone(), old.is_some()));
        }
        put(folder, &file.name, old.as_deref())?;
    }
    let undone = Event::Undone { undoes: number };
    append(folder, &[Entry { change: journal.last_change() + 1, on, event: undone }])?;
    Ok(TakenBack { command: record.command, gone })
}

fn refuse_if_edited(folder: &Folder, record: &Record) -> Result<(), Report> {
    let mut report = Report::new();
    for file in &record.files {
        let now = disk::bytes(&folder.path(&file.name))?.as_deref().map(hash);
        // What is gone cannot be lost.
        let gone = now.is_none() && file.after.is_some();
        if !gone && now != file.after {
            let text = format!("`{}` was edited since `{}`", file.name, record.command);
            let hint = "undo would lose that; change it back by hand, nothing was undone";
            report.say(Message::mistake(text).hint(hint));
        }
    }
    if report.has_mistakes() { Err(report) } else { Ok(()) }
}

fn put(folder: &Folder, name: &str, content: Option<&[u8]>) -> Result<(), Report> {
    match content {
        Some(bytes) => save(&folder.path(name), bytes),
        None => disk::remove(&folder.path(name)),
    }
}

/// Adds entries to the journal.
pub(super) fn append(folder: &Folder, entries: &[Entry]) -> Result<(), Report> {
    if entries.is_empty() {
        return Ok(());
    }
    let old = folder.text("journal.toml")?;
    let new = Journal::appended(old.as_deref(), entries);
    save(&folder.path("journal.toml"), new.as_bytes())
}

fn history(number: u32) -> String {
    format!(".rungwise/undo/{number:04}")
}

/// The hash a file is known by.
pub(super) fn hash(bytes: &[u8]) -> String {
    Sha256::digest(bytes).iter().map(|byte| format!("{byte:02x}")).collect()
}

/// Passes every kept table of marks through `clean` (which gives the new text and how many rows it
/// took out), and renews the hashes by which `undo` knows what each change wrote: what one change
/// wrote is the next one's way back, so that both are known by the new text. `changed` has the
/// hashes, old and new, of the marks in force. Says how many rows went.
pub(super) fn scrub_history(
    folder: &Folder,
    changed: &[(String, String)],
    clean: impl Fn(&str) -> Result<(String, usize), Report>,
) -> Result<usize, Report> {
    let mut rows = 0;
    let mut renewed = changed.to_vec();
    let mut records = Vec::new();
    for step in disk::names_in(&folder.path(".rungwise/undo")) {
        let dir = format!(".rungwise/undo/{step}");
        let Some(text) = folder.text(&format!("{dir}/change.toml"))? else { continue };
        let Ok(record) = toml::from_str::<Record>(&text) else { continue };
        for (index, _) in record.files.iter().enumerate().filter(|(_, file)| file.is_marks()) {
            let kept = format!("{dir}/{index}");
            let Some(old) = folder.text(&kept)? else { continue };
            let (new, gone) = clean(&old)?;
            if gone > 0 {
                save(&folder.path(&kept), new.as_bytes())?;
                renewed.push((hash(old.as_bytes()), hash(new.as_bytes())));
            }
            rows += gone;
        }
        records.push((dir, record));
    }
    for (dir, mut record) in records {
        let mut renews = false;
        for file in record.files.iter_mut().filter(|file| file.is_marks()) {
            let after = file.after.as_ref();
            if let Some((_, new)) = renewed.iter().find(|(old, _)| Some(old) == after) {
                file.after = Some(new.clone());
                renews = true;
            }
        }
        if renews {
            let new = toml::to_string(&record).expect("a record is a plain table");
            save(&folder.path(&format!("{dir}/change.toml")), new.as_bytes())?;
        }
    }
    Ok(rows)
}
