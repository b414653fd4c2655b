//! Loading a plan with all that lies beside it: ladder, calendar files, pupils.

use super::disk::read_text;
use super::{Folder, disk};
use crate::calendar::Closing;
use crate::curriculum::{
    self, Ladder, check_outcomes, frameworks, our_ladder, our_ladders, read_ladder,
};
use crate::exchange;
use crate::exercise::makers::story::{read_scenes, scenes};
use crate::plan::{Beside, Plan, PlanFile};
use crate::report::{Message, Report, Source, Spot};
use std::collections::BTreeSet;
use std::path::Path;
use std::sync::Arc;

/// A checked plan, its text, and what is worth saying about it.
#[derive(Debug, Clone)]
pub struct Loaded {
    /// The plan.
    pub plan: Plan,
    /// The text of plan.toml it was made from.
    pub text: String,
    /// Warnings and notices; no mistakes.
    pub report: Report,
}

/// Loads the folder's plan.
///
/// # Errors
/// Every mistake in plan.toml and in what lies beside it.
pub fn load(folder: &Folder) -> Result<Loaded, Report> {
    let text = read_text(&folder.path("plan.toml"), "plan.toml")?;
    load_from_text(folder, &text)
}

/// Loads a plan from this text as though it stood in the folder.
///
/// # Errors
/// Every mistake in the text and in what lies beside it.
pub fn load_from_text(folder: &Folder, text: &str) -> Result<Loaded, Report> {
    let source = Source::shared("plan.toml", text);
    let mut report = Report::new();
    let Some(file) = PlanFile::read(&source, &mut report) else { return Err(report) };
    let beside = Beside {
        ladder: ladder(folder, &file, &mut report),
        calendars: file
            .calendars
            .iter()
            .map(|c| calendar(folder, &c.file, &file, &mut report))
            .collect(),
        pupils: file.pupils_file().and_then(|f| pupils(folder, f, &mut report)),
        frameworks: frameworks(),
    };
    let plan = Plan::check(&file, &beside, &mut report);
    let stories = stories(folder, &mut report);
    match plan.map(|plan| Plan { stories, ..plan }) {
        Some(plan) if !report.has_mistakes() => Ok(Loaded { plan, text: text.to_owned(), report }),
        _ => Err(report),
    }
}

fn ladder(folder: &Folder, file: &PlanFile, report: &mut Report) -> Option<Arc<Ladder>> {
    match file.ladder_file() {
        None => our_ladder(&file.ladder.value).map(Arc::new),
        Some(name) => {
            let text = text_beside(folder, name, "the ladder", report)?;
            read_and_check(&Source::shared(&name.value, text), report).map(Arc::new)
        }
    }
}

fn read_and_check(source: &Arc<Source>, report: &mut Report) -> Option<Ladder> {
    let ladder = read_ladder(source, report);
    if ladder.is_some() {
        check_outcomes(source, &frameworks(), report);
    }
    ladder
}

fn calendar(
    folder: &Folder,
    name: &Spot<String>,
    file: &PlanFile,
    report: &mut Report,
) -> Vec<Closing> {
    let Some(days) = file.term_days() else { return Vec::new() };
    if !is_beside(folder, name, "the calendar", report) {
        return Vec::new();
    }
    let source = match disk::bytes(&folder.path(&name.value)) {
        Ok(bytes) => exchange::icalendar::decode(&name.value, &bytes.unwrap_or_default(), report),
        Err(told) => {
            report.append(told);
            None
        }
    };
    let read = |source| exchange::icalendar::read(&source, file.zone(), days, report);
    source.map(read).unwrap_or_default()
}

fn pupils(folder: &Folder, name: &Spot<String>, report: &mut Report) -> Option<Vec<String>> {
    let text = text_beside(folder, name, "the pupils' file", report)?;
    exchange::csv::read_pupils(&Source::shared(&name.value, text), report)
}

/// The teacher's own scenes: every file of TOML in the folder `stories`, in the order of their
/// names. An id of ours, or of another file, is said.
fn stories(folder: &Folder, report: &mut Report) -> Vec<Arc<Source>> {
    let mut files: Vec<String> = disk::names_in(&folder.path("stories"));
    files.retain(|name| name.ends_with(".toml"));
    files.sort();
    let mut seen: BTreeSet<String> = scenes().iter().map(|scene| scene.id.clone()).collect();
    let mut sources = Vec::new();
    for file in files {
        let name = format!("stories/{file}");
        match read_text(&folder.path(&name), &name) {
            Ok(text) => sources.push(Source::shared(name, text)),
            Err(told) => report.append(told),
        }
    }
    for source in &sources {
        for scene in read_scenes(source, report) {
            if !seen.insert(scene.id.clone()) {
                let text = format!("`{}`: another scene is named `{}`", source.name, scene.id);
                report.say(Message::mistake(text).hint("give this one another id"));
            }
        }
    }
    sources
}

/// The text of a file the plan names; that it cannot be read is said at the place that names it.
fn text_beside(
    folder: &Folder,
    name: &Spot<String>,
    what: &str,
    report: &mut Report,
) -> Option<String> {
    if !is_beside(folder, name, what, report) {
        return None;
    }
    match read_text(&folder.path(&name.value), &name.value) {
        Ok(text) => Some(text),
        Err(told) => {
            report.append(told);
            None
        }
    }
}

fn is_beside(folder: &Folder, name: &Spot<String>, what: &str, report: &mut Report) -> bool {
    let there = folder.path(&name.value).is_file();
    if !there {
        let text = format!("{what} `{}` is not there", name.value);
        let hint = match nearest_file(folder.dir(), &name.value) {
            Some(near) => format!("did you mean `{near}`?"),
            None => "put the file beside plan.toml, or mend its name here".to_owned(),
        };
        report.say(Message::mistake(text).at(&name.place).hint(hint));
    }
    there
}

fn nearest_file(dir: &Path, name: &str) -> Option<String> {
    let names = disk::names_in(dir);
    crate::report::nearest(name, names.iter().map(String::as_str)).map(str::to_owned)
}

/// A ladder by the name of one of ours, or by the path of a file.
pub fn ladder_named(name: &str, report: &mut Report) -> Option<Ladder> {
    if !name.ends_with(".toml") {
        if curriculum::ours(name).is_none() {
            let message = Message::mistake(format!("no ladder of ours is named `{name}`"));
            report.say(message.meant(name, our_ladders()));
        }
        return our_ladder(name);
    }
    match read_text(Path::new(name), name) {
        Ok(text) => read_and_check(&Source::shared(name, text), report),
        Err(told) => {
            report.append(told);
            None
        }
    }
}
