//! `mark`: reads the answers to an exit check or test and says which mistakes may lie behind them.

use super::args::{Format, Mark as Request};
use super::class::Class;
use super::next_step::{NextStep, next_step};
use super::output::{Failure, data, json, note, say};
use super::pack::read_pack;
use crate::folder::{
    Access, Change, Event, lesson_code, marks_file, pack_dir, read_bytes, read_text,
};
use crate::lesson::{Findings, Pack};
use crate::marking::{
    Answers, Marking, Model, Typed, blank, class_findings, decode, found_with, mark_after,
    marked_items, read_answers,
};
use crate::report::{Message, Report, Source};
use chrono::NaiveDate;
use indexmap::IndexMap;
use serde::Serialize;
use std::io::{BufRead, IsTerminal, Write};
use std::path::Path;

/// What is printed as JSON: the marking, and what comes next.
#[derive(Serialize)]
struct Told<'a> {
    #[serde(flatten)]
    marking: &'a Marking,
    next_step: &'a NextStep,
}

/// Runs the command.
pub fn run(request: &Request, format: Format, today: NaiveDate) -> Result<(), Failure> {
    let access = if request.blank { Access::Look } else { Access::Change };
    let class = Class::open(&request.dir, access, today)?;
    let pack = printed_pack(&class, request)?;
    if request.blank {
        data(&blank(&pack, &class.plan.class.pupil_names));
        return Ok(());
    }
    let mut report = Report::new();
    let answers = answers_in(&class, request, &pack, &mut report)?;
    let Some(answers) = answers else { return Err(report.into()) };
    // What could be read is marked; what could not be is said beside it.
    say(&report);
    record(&class, &pack, &answers.to_csv(&pack))?;
    let marking = marked(&class, &pack, &answers, request.afresh)?;
    let next_step = next_step(&class, &pack, &marking)?;
    match format {
        Format::Json => json(&Told { marking: &marking, next_step: &next_step })?,
        Format::Text => {
            data(&format!("{}\n{}", marking.to_text(&class.plan.style), next_step.to_text()));
        }
    }
    if report.has_mistakes() { Err(Failure::Said) } else { Ok(()) }
}

/// Answers marked with all that the class showed in other lessons.
pub fn marked(
    class: &Class,
    pack: &Pack,
    answers: &Answers,
    afresh: bool,
) -> Result<Marking, Failure> {
    let mut others = all_marked(class)?;
    others.retain(|(other, _)| (other.lesson, &other.version) != (pack.lesson, &pack.version));
    let model = if afresh { Model::default() } else { Model::after(found_with(&others)) };
    let earlier: Vec<(Pack, Answers)> =
        others.into_iter().filter(|(other, _)| other.date <= pack.date && !afresh).collect();
    Ok(mark_after(pack, answers, &earlier, &model))
}

/// The answers from wherever they come.
fn answers_in(
    class: &Class,
    request: &Request,
    pack: &Pack,
    report: &mut Report,
) -> Result<Option<Answers>, Failure> {
    if let Some(file) = &request.file {
        let name = file
            .file_name()
            .map_or_else(|| file.display().to_string(), |n| n.to_string_lossy().into_owned());
        let Some(bytes) = read_bytes(file)? else {
            return Err(read_text(file, &name).map_or_else(Failure::from, |_| Failure::Said));
        };
        return Ok(read_answers(&Source::shared(name, decode(&bytes)), pack, report));
    }
    if let (Some(pupil), Some(item), Some(answer)) =
        (&request.pupil, &request.item, &request.answer)
    {
        return one_answer(class, pack, (pupil, item, answer), report).map(Some);
    }
    if request.typed || std::io::stdin().is_terminal() {
        let mut answers = typed(pack, &class.plan.class.pupil_names, report);
        // Who was not come to keeps what was marked before.
        for (pupil, row) in kept_answers(class, pack)?.unwrap_or_default().pupils {
            answers.pupils.entry(pupil).or_insert(row);
        }
        return Ok(Some(answers));
    }
    let text = "name the file of answers, ask for a `--blank` one, or type them with `--typed`";
    Err(Failure::Usage(text.to_owned()))
}

/// The marks as they are kept, with one answer set.
fn one_answer(
    class: &Class,
    pack: &Pack,
    (pupil, item, answer): (&str, &str, &str),
    report: &mut Report,
) -> Result<Answers, Failure> {
    let ids: Vec<&str> = marked_items(pack).iter().map(|i| i.id.as_str()).collect();
    let mut kept = kept_answers(class, pack)?.unwrap_or_default();
    if !kept.piles.is_empty() {
        let text = format!("lesson {} was marked by piles of slips, without pupils", pack.lesson);
        return Err(Message::mistake(text).hint("mark a file with a row a pupil first").into());
    }
    let pupil = pupil.trim();
    if !class.plan.class.pupil_names.iter().any(|p| p == pupil) && !kept.pupils.contains_key(pupil)
    {
        let message = Message::mistake(format!("there is no pupil `{pupil}` in the class"));
        return Err(message
            .meant(pupil, class.plan.class.pupil_names.iter().map(String::as_str))
            .into());
    }
    // The reader of files knows what an item and an answer may look like.
    let mut writer = csv::Writer::from_writer(Vec::new());
    for row in [["pupil", item], [pupil, answer]] {
        writer.write_record(row).map_err(|e| Failure::Ours(e.to_string()))?;
    }
    let bytes = writer.into_inner().map_err(|e| Failure::Ours(e.to_string()))?;
    let source = Source::shared("--item and --answer", decode(&bytes));
    let mut told = Report::new();
    let read = read_answers(&source, pack, &mut told);
    let known = |id: &&str| {
        id.eq_ignore_ascii_case(item)
            || id.rsplit('-').next().is_some_and(|s| s.eq_ignore_ascii_case(item))
    };
    let Some(id) = ids.iter().find(|id| known(id)) else { return Err(told.into()) };
    for message in told.messages() {
        // That the other items have no column is meant.
        if !message.text.starts_with("no column for") {
            report.say(message.clone());
        }
    }
    let given = read.and_then(|r| r.pupils.get(pupil)?.get(*id).cloned()).flatten();
    let row = kept.pupils.entry(pupil.to_owned()).or_insert_with(|| {
        ids.iter().map(|id| ((*id).to_owned(), None)).collect::<IndexMap<_, _>>()
    });
    row.insert((*id).to_owned(), given);
    Ok(kept)
}

/// Answers typed line by line; what is asked goes to standard error, so that the data stays clean.
fn typed(pack: &Pack, pupils: &[String], report: &mut Report) -> Answers {
    let mut typed = Typed::new(pack, pupils);
    let mut lines = std::io::stdin().lock().lines();
    note(crate::marking::HOW_TO_TYPE);
    while let Some(asked) = typed.asks() {
        write!(std::io::stderr().lock(), "{asked}").ok();
        let Some(Ok(line)) = lines.next() else { break };
        if let Some(odd) = typed.take(&line) {
            note(&format!("  {odd}"));
        }
    }
    let answers = typed.answers();
    if answers.pupils.is_empty() {
        report.say(Message::warning("nothing was typed, so nobody has an answer"));
    }
    answers
}

/// The pack the answers were given to, as it was made.
fn printed_pack(class: &Class, request: &Request) -> Result<Pack, Failure> {
    match read_pack(class, request.lesson, &request.version)? {
        Some(pack) => Ok(pack),
        None => {
            class.lesson(request.lesson)?;
            let dir = request.dir.display();
            let version = if request.version == "B" { " --version B" } else { "" };
            let text =
                format!("lesson {} has no pack yet, so there is nothing to mark", request.lesson);
            let hint =
                format!("`rungwise pack {dir} --lesson {}{version}` makes it", request.lesson);
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
    Ok(class_findings(&all_marked(class)?, &Model::default()))
}

/// The answers kept of a pack, if it was marked.
pub fn kept_answers(class: &Class, pack: &Pack) -> Result<Option<Answers>, Failure> {
    let file = marks_file(pack.lesson, &pack.version);
    let Some(table) = class.folder.text(&file)? else { return Ok(None) };
    let mut report = Report::new();
    match read_answers(&Source::shared(file, table), pack, &mut report) {
        Some(answers) => Ok(Some(answers)),
        None => Err(report.into()),
    }
}

/// Every marked pack with its answers, in the order of the lessons' dates.
pub fn all_marked(class: &Class) -> Result<Vec<(Pack, Answers)>, Failure> {
    let mut marked = Vec::new();
    for lesson in class.state.lessons() {
        for version in ["A", "B"] {
            let file = marks_file(lesson.number, version);
            if !class.folder.path(&file).is_file() {
                continue;
            }
            let Some(pack) = read_pack(class, lesson.number, version)? else {
                let place = class.folder.path(&pack_dir(lesson.number, version));
                return Err(lost_pack(&file, &place));
            };
            if let Some(answers) = kept_answers(class, &pack)? {
                marked.push((pack, answers));
            }
        }
    }
    Ok(marked)
}

fn lost_pack(file: &str, place: &Path) -> Failure {
    let text = format!("`{file}` belongs to a pack that is gone: {}", place.display());
    Message::mistake(text).hint("bring the pack back, or take the marks away").into()
}
