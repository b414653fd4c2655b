//! `mark`: reads the answers to an exit check or test and says which mistakes may lie behind them.

use super::args::{Format, Mark as Request};
use super::class::Class;
use super::output::{Failure, data, json, note, say};
use super::pack::read_pack;
use crate::folder::{Access, Change, Event, lesson_code, marks_file, pack_dir, read_text};
use crate::lesson::{Findings, Pack};
use crate::marking::{Model, blank, class_findings, mark, read_answers};
use crate::report::{Message, Report, Source};
use chrono::NaiveDate;
use std::path::Path;

/// Runs the command.
pub fn run(request: &Request, format: Format, today: NaiveDate) -> Result<(), Failure> {
    let access = if request.blank { Access::Look } else { Access::Change };
    let class = Class::open(&request.dir, access, today)?;
    let pack = printed_pack(&class, request)?;
    if request.blank {
        data(&blank(&pack, &class.plan.class.pupil_names));
        return Ok(());
    }
    let Some(file) = &request.file else {
        return Err(Failure::Usage(
            "name the file of answers, or ask for a `--blank` one".to_owned(),
        ));
    };
    let name = file
        .file_name()
        .map_or_else(|| file.display().to_string(), |n| n.to_string_lossy().into_owned());
    let source = Source::shared(name.clone(), read_text(file, &name)?);
    let mut report = Report::new();
    let answers = read_answers(&source, &pack, &mut report);
    let Some(answers) = answers else { return Err(report.into()) };
    // What could be read is marked; what could not be is said beside it.
    say(&report);
    let marking = mark(&pack, &answers);
    record(&class, &pack, &answers.to_csv(&pack))?;
    match format {
        Format::Json => json(&marking)?,
        Format::Text => data(&marking.to_text(&class.plan.style)),
    }
    if report.has_mistakes() { Err(Failure::Said) } else { Ok(()) }
}

/// The pack the answers were given to, as it was made.
fn printed_pack(class: &Class, request: &Request) -> Result<Pack, Failure> {
    match read_pack(class, request.lesson, &request.version)? {
        Some(pack) => Ok(pack),
        None => {
            class.lesson(request.lesson)?;
            let dir = request.dir.display();
            let text =
                format!("lesson {} has no pack yet, so there is nothing to mark", request.lesson);
            let hint = format!("`rungwise pack {dir} --lesson {}` makes it", request.lesson);
            Err(Message::mistake(text).hint(hint).into())
        }
    }
}

fn record(class: &Class, pack: &Pack, table: &str) -> Result<(), Failure> {
    let mut change = Change::by("mark");
    change.file(marks_file(pack.lesson, &pack.version), table);
    if !class.state.printed(pack.lesson, &pack.version) {
        let code = lesson_code(pack.lesson, &pack.version);
        note(&format!("the pack {code} was a draft; it has been marked, so it counts as printed"));
        change.events.push(Event::Printed {
            lesson: pack.lesson,
            version: pack.version.clone(),
            date: pack.date,
            starts: pack.heading.starts,
        });
    }
    change.events.push(Event::Marked { lesson: pack.lesson, version: pack.version.clone() });
    Ok(change.make(&class.folder, &class.state.journal, class.state.today)?)
}

/// What marking has found so far, for the lessons still to be made.
pub fn findings(class: &Class) -> Result<Findings, Failure> {
    let mut marked = Vec::new();
    for lesson in class.state.lessons() {
        for version in ["A", "B"] {
            let file = marks_file(lesson.number, version);
            let Some(table) = class.folder.text(&file)? else { continue };
            let Some(pack) = read_pack(class, lesson.number, version)? else {
                let place = class.folder.path(&pack_dir(lesson.number, version));
                return Err(lost_pack(&file, &place));
            };
            let mut report = Report::new();
            match read_answers(&Source::shared(file, table), &pack, &mut report) {
                Some(answers) => marked.push((pack, answers)),
                None => return Err(report.into()),
            }
        }
    }
    Ok(class_findings(&marked, &Model::default()))
}

fn lost_pack(file: &str, place: &Path) -> Failure {
    let text = format!("`{file}` belongs to a pack that is gone: {}", place.display());
    Message::mistake(text).hint("bring the pack back, or take the marks away").into()
}
