//! The lock that keeps two runs apart.

use super::Access;
use super::disk::plain;
use crate::report::{Message, Report};
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io;
use std::path::Path;

/// Held as long as it lives; the operating system gives it back even after a crash.
#[derive(Debug)]
pub(super) struct Lock {
    _file: File,
}

impl Lock {
    /// Takes the folder's lock: alone to change, with other lookers to look. A looker goes without
    /// where nothing can be written, for then nobody can change anything either.
    pub(super) fn take(dir: &Path, access: Access) -> Result<Option<Lock>, Report> {
        let file = match open(dir) {
            Ok(file) => file,
            Err(_) if access == Access::Look => return Ok(None),
            Err(error) => {
                let text = format!("cannot write in `{}`: {}", dir.display(), plain(&error));
                let hint =
                    "allow writing in this folder, or work on a copy of it; nothing was changed";
                return Err(Report::of(Message::mistake(text).hint(hint)));
            }
        };
        let taken = match access {
            Access::Look => file.try_lock_shared(),
            Access::Change => file.try_lock(),
        };
        match taken {
            Ok(()) => Ok(Some(Lock { _file: file })),
            Err(TryLockError::WouldBlock) => {
                let text = format!("another run is at work in `{}`", dir.display());
                let hint = "wait until it has ended, then try again; nothing was changed";
                Err(Report::of(Message::mistake(text).hint(hint)))
            }
            // A file system without locks: one teacher, one machine; better to work than to refuse.
            Err(TryLockError::Error(_)) => Ok(None),
        }
    }
}

fn open(dir: &Path) -> io::Result<File> {
    let inner = dir.join(".rungwise");
    fs::create_dir_all(&inner)?;
    OpenOptions::new().create(true).truncate(false).write(true).open(inner.join("lock"))
}
