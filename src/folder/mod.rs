//! A class's folder on disk: the only room that touches files, and the only one that knows today.
//!
//! `plan.toml` is the teacher's; `schedule.toml`, `journal.toml`, `marks/` and `packs/` are ours.
//! Writes are atomic, an operating-system lock keeps two runs apart, and every change keeps in
//! `.rungwise/` what `undo` needs.

mod change;
mod disk;
mod forget;
mod journal;
mod load;
mod lock;
mod schedule_file;
mod state;
mod today;

pub use change::{Change, TakenBack, undo};
pub use disk::{bytes as read_bytes, is_empty_dir, names_in, read_text, remove, save, save_all};
pub use forget::forget;
pub use journal::{Entry, Event, Journal};
pub use load::{Loaded, ladder_named, load, load_from_text};
pub use schedule_file::{ScheduleFile, kind_name};
pub use state::{Life, State};
pub use today::{fresh_key, today};

use crate::report::{Message, Report};
use lock::Lock;
use std::path::{Path, PathBuf};

/// A class's folder, held by this run.
#[derive(Debug)]
pub struct Folder {
    dir: PathBuf,
    _lock: Option<Lock>,
}

/// Whether a command only looks or also writes.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Access {
    /// It writes nothing.
    Look,
    /// It may write.
    Change,
}

impl Folder {
    /// Takes hold of a class's folder.
    ///
    /// # Errors
    /// There is no such folder, it holds no `plan.toml`, another run holds it, or it cannot be
    /// written to although it must be.
    pub fn open(dir: &Path, access: Access) -> Result<Folder, Report> {
        if !dir.is_dir() {
            let text = format!("there is no folder `{}`", dir.display());
            let hint = format!("`rungwise new {}` makes one", dir.display());
            return Err(Report::of(Message::mistake(text).hint(hint)));
        }
        if !dir.join("plan.toml").is_file() {
            let text = format!("`{}` holds no plan.toml", dir.display());
            let hint = "name a class's folder, or make one with `rungwise new DIR`";
            return Err(Report::of(Message::mistake(text).hint(hint)));
        }
        let lock = Lock::take(dir, access)?;
        Ok(Folder { dir: dir.to_owned(), _lock: lock })
    }

    /// A file or folder inside it.
    pub fn path(&self, name: &str) -> PathBuf {
        self.dir.join(name)
    }

    /// The folder itself.
    pub fn dir(&self) -> &Path {
        &self.dir
    }

    /// The text of one of its files; `None` where there is no such file.
    ///
    /// # Errors
    /// The file is there and cannot be read as text.
    pub fn text(&self, name: &str) -> Result<Option<String>, Report> {
        let path = self.path(name);
        if path.exists() { read_text(&path, name).map(Some) } else { Ok(None) }
    }
}

/// The folder of a lesson's pack: `packs/L07`, for version B `packs/L07B`.
pub fn pack_dir(lesson: u32, version: &str) -> String {
    format!("packs/{}", lesson_code(lesson, version))
}

/// The file of a lesson's marks: `marks/L07.csv`, for version B `marks/L07B.csv`.
pub fn marks_file(lesson: u32, version: &str) -> String {
    format!("marks/{}.csv", lesson_code(lesson, version))
}

/// The folder of a week's files for the copier: `week-2027-01-11`, for version B
/// `week-2027-01-11B`; it stands beside the lessons' folders.
pub fn week_code(monday: chrono::NaiveDate, version: &str) -> String {
    let version = if version == "A" { "" } else { version };
    format!("week-{}{version}", monday.format("%Y-%m-%d"))
}

/// `L07`, for version B `L07B`.
pub fn lesson_code(lesson: u32, version: &str) -> String {
    let version = if version == "A" { "" } else { version };
    format!("L{lesson:02}{version}")
}
