//! The lock that keeps two runs apart.

use super::Access;
use super::disk::plain;
use crate::report::{Message, Report};
use std::fs::{self, File, OpenOptions, TryLockError};
use std::io;
use std::path::{Path, PathBuf};

/// Held as long as it lives; the operating system gives it back even after a crash.
#[derive(Debug)]
pub(super) struct Lock {
    _file: File,
}

impl Lock {
    /// Takes the folder's lock: alone to change, with other lookers to look. A looker writes
    /// nothing, not even the lock: where there is none yet, nobody has changed anything either.
    pub(super) fn take(dir: &Path, access: Access) -> Result<Option<Lock>, Report> {
        let opened = match access {
            Access::Look => File::open(lock_file(dir)),
            Access::Change => make(dir),
        };
        let file = match opened {
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

fn lock_file(dir: &Path) -> PathBuf {
    dir.join(".rungwise").join("lock")
}

fn make(dir: &Path) -> io::Result<File> {
    fs::create_dir_all(dir.join(".rungwise"))?;
    OpenOptions::new().create(true).truncate(false).write(true).open(lock_file(dir))
}
