//! Reading texts and writing files so that none is ever half there.

#![allow(clippy::disallowed_methods)] // this is the one place that touches files

use crate::report::{Message, Place, Report, Source};
use std::fs;
use std::io::{self, Write};
use std::path::{Path, PathBuf};
use tempfile::TempPath;

/// No text we read is larger; more is not a file of ours.
const MOST_BYTES: u64 = 32 * 1024 * 1024;

/// The text of a file; `name` is what a message calls it.
///
/// # Errors
/// It cannot be read, is huge, or is not UTF-8 text (the message names the byte).
pub fn read_text(path: &Path, name: &str) -> Result<String, Report> {
    let fail = |error: &io::Error| {
        Report::of(Message::mistake(format!("cannot read `{name}`: {}", plain(error))))
    };
    let size = fs::metadata(path).map_err(|e| fail(&e))?.len();
    if size > MOST_BYTES {
        let text = format!("`{name}` is too large: {} MiB", size / (1024 * 1024));
        return Err(Report::of(Message::mistake(text).hint("is it the right file?")));
    }
    let bytes = fs::read(path).map_err(|e| fail(&e))?;
    String::from_utf8(bytes).map_err(|error| {
        let good = error.utf8_error().valid_up_to();
        let text = String::from_utf8_lossy(&error.as_bytes()[..good]).into_owned();
        let source = Source::shared(name, text);
        let place = Place { span: good..good, source };
        let message =
            Message::mistake(format!("`{name}` is not UTF-8 text: byte {good} is foreign"));
        Report::of(message.at(&place).hint("save it as UTF-8 text"))
    })
}

/// Writes a file in one step: a temporary file beside it, flushed to the disk, then renamed.
///
/// # Errors
/// The folder cannot be written to or the disk is full; whatever was there is still there.
pub fn save(path: &Path, bytes: &[u8]) -> Result<(), Report> {
    save_all(&[(path.to_owned(), bytes)])
}

/// Writes several files: all beside their places first, flushed to the disk, and only when every
/// one is whole is the first renamed. They take their places in the order given.
///
/// # Errors
/// A folder cannot be written to or the disk is full; whatever was there is still there, and
/// nothing else.
pub fn save_all(files: &[(PathBuf, &[u8])]) -> Result<(), Report> {
    let mut made = Vec::new();
    let written = all_beside(files, &mut made).and_then(|all| {
        all.into_iter().zip(files).try_for_each(|(temporary, (path, _))| {
            temporary.persist(path).map_err(|e| failed(path, &e.error))
        })
    });
    if written.is_err() {
        // Folders made for nothing; one that holds anything stays.
        made.iter().rev().for_each(|dir| drop(fs::remove_dir(dir)));
    }
    written
}

fn failed(path: &Path, error: &io::Error) -> Report {
    let text = format!("cannot write `{}`: {}", path.display(), plain(error));
    Report::of(Message::mistake(text).hint(remedy(error)))
}

/// How many files are written at a time: waiting for the disk is most of the work, and it takes
/// several together at hardly more than the cost of one.
const AT_A_TIME: usize = 16;

/// Every file whole beside its place, under a passing name; notes the folders made.
fn all_beside(
    files: &[(PathBuf, &[u8])],
    made: &mut Vec<PathBuf>,
) -> Result<Vec<TempPath>, Report> {
    for (path, _) in files {
        make_room(path, made).map_err(|error| failed(path, &error))?;
    }
    let one = |(path, bytes): &(PathBuf, &[u8])| {
        beside(path, bytes).map_err(|error| failed(path, &error))
    };
    let hands = AT_A_TIME.min(files.len());
    if hands < 2 {
        return files.iter().map(one).collect();
    }
    let mut shares: Vec<_> = std::thread::scope(|scope| {
        let share = |first| files.iter().skip(first).step_by(hands);
        let started: Vec<_> = (0..hands)
            .map(|first| scope.spawn(move || share(first).map(one).collect::<Vec<_>>()))
            .collect();
        let lost = || vec![Err(Report::of(Message::mistake("writing stopped in the middle")))];
        started.into_iter().map(|h| h.join().unwrap_or_else(|_| lost()).into_iter()).collect()
    });
    (0..files.len()).map_while(|place| shares[place % hands].next()).collect()
}

/// The folder a file is to stand in.
fn make_room(path: &Path, made: &mut Vec<PathBuf>) -> io::Result<()> {
    if path.is_dir() {
        return Err(io::ErrorKind::IsADirectory.into());
    }
    let parent = folder_of(path);
    let mut missing: Vec<PathBuf> =
        parent.ancestors().take_while(|p| !p.exists()).map(Path::to_owned).collect();
    missing.retain(|p| !p.as_os_str().is_empty());
    made.extend(missing.into_iter().rev());
    fs::create_dir_all(parent)
}

fn folder_of(path: &Path) -> &Path {
    path.parent().filter(|p| !p.as_os_str().is_empty()).unwrap_or(Path::new("."))
}

fn beside(path: &Path, bytes: &[u8]) -> io::Result<TempPath> {
    let mut temporary =
        tempfile::Builder::new().prefix(".rungwise-").tempfile_in(folder_of(path))?;
    temporary.write_all(bytes)?;
    temporary.as_file().sync_all()?;
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        temporary.as_file().set_permissions(fs::Permissions::from_mode(0o644))?;
    }
    // Closed: a term has more files than a process may hold open.
    Ok(temporary.into_temp_path())
}

/// Takes a file away; that it is not there is well too.
///
/// # Errors
/// It is there and cannot be taken away.
pub fn remove(path: &Path) -> Result<(), Report> {
    match fs::remove_file(path) {
        Err(error) if error.kind() != io::ErrorKind::NotFound => {
            let text = format!("cannot remove `{}`: {}", path.display(), plain(&error));
            Err(Report::of(Message::mistake(text).hint(remedy(&error))))
        }
        _ => Ok(()),
    }
}

/// The bytes of a file, `None` where there is none.
///
/// # Errors
/// It is there and cannot be read.
pub fn bytes(path: &Path) -> Result<Option<Vec<u8>>, Report> {
    match fs::read(path) {
        Ok(bytes) => Ok(Some(bytes)),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(None),
        Err(error) => {
            let text = format!("cannot read `{}`: {}", path.display(), plain(&error));
            Err(Report::of(Message::mistake(text)))
        }
    }
}

/// Whether a folder holds anything; one that is not there holds nothing.
///
/// # Errors
/// It is there and cannot be looked into, or it is a file.
pub fn is_empty_dir(dir: &Path) -> Result<bool, Report> {
    match fs::read_dir(dir) {
        Ok(mut entries) => Ok(entries.next().is_none()),
        Err(error) if error.kind() == io::ErrorKind::NotFound => Ok(true),
        Err(error) => {
            let text = format!("cannot look into `{}`: {}", dir.display(), plain(&error));
            Err(Report::of(Message::mistake(text)))
        }
    }
}

/// The names of the entries of a folder, in order; none where it is not there.
pub fn names_in(dir: &Path) -> Vec<String> {
    let Ok(entries) = fs::read_dir(dir) else { return Vec::new() };
    let mut names: Vec<String> =
        entries.filter_map(|e| e.ok()?.file_name().into_string().ok()).collect();
    names.sort();
    names
}

/// Takes a folder and all in it away, as far as it can be.
pub fn remove_dir(dir: &Path) {
    // What is left of a pruned undo step does no harm and is tried again at the next change.
    fs::remove_dir_all(dir).ok();
}

/// What the operating system said, in a few plain words.
pub fn plain(error: &io::Error) -> String {
    match error.kind() {
        io::ErrorKind::PermissionDenied => "no permission".to_owned(),
        io::ErrorKind::ReadOnlyFilesystem => "it can only be read".to_owned(),
        io::ErrorKind::StorageFull => "the disk is full".to_owned(),
        io::ErrorKind::QuotaExceeded => "your share of the disk is used up".to_owned(),
        io::ErrorKind::FileTooLarge => "it is larger than a file may be here".to_owned(),
        io::ErrorKind::ResourceBusy => "another program holds it".to_owned(),
        io::ErrorKind::NotFound => "it is not there".to_owned(),
        io::ErrorKind::IsADirectory => "it is a folder".to_owned(),
        io::ErrorKind::NotADirectory => "a file stands where a folder should".to_owned(),
        _ => error.to_string(),
    }
}

fn remedy(error: &io::Error) -> &'static str {
    match error.kind() {
        io::ErrorKind::StorageFull | io::ErrorKind::QuotaExceeded => {
            "make room on the disk; nothing was lost"
        }
        io::ErrorKind::ResourceBusy => "close the program that holds it; nothing was lost",
        _ => "allow writing in this folder, or work on a copy of it; nothing was lost",
    }
}
