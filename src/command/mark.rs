//! `mark`: reads the answers to an exit check or test and says which mistakes may lie behind them.

use super::answers::{answers_in, are_of_the_class};
use super::args::{Format, Mark as Request};
use super::class::Class;
use super::next_step::{NextStep, next_step};
use super::output::{Failure, data, json, note, say};
use super::pack::read_pack;
use super::recorded::{self, Recorded};
use super::weights;
use crate::folder::{Access, Change, Event, lesson_code, marks_file, pack_dir};
use crate::lesson::{Findings, Pack};
use crate::marking::{
    Answers, Marking, Model, Part, Read, before, blank, class_findings, mark_together, read_answers,
};
use crate::report::{Message, Report, Source};
use chrono::NaiveDate;
use serde::Serialize;
use std::collections::BTreeSet;
use std::path::Path;

/// What is printed as JSON: the marking, what was recorded, and what comes next.
#[derive(Serialize)]
struct Told<'a> {
    #[serde(flatten)]
    marking: &'a Marking,
    recorded: &'a Recorded,
    next_step: &'a NextStep,
}

/// So many messages of a kind are said of one file.
pub const MOST_OF_A_KIND: usize = 20;

/// Runs the command.
pub fn run(request: &Request, format: Format, today: NaiveDate) -> Result<(), Failure> {
    let access = if request.blank { Access::Look } else { Access::Change };
    let class = Class::open(&request.dir, access, today)?;
    let Some(number) = request.lesson else { return weights::reset(&class) };
    let pack = printed_pack(&class, number, request)?;
    if request.blank {
        data(&blank(&pack, &class.plan.class.pupil_names));
        return Ok(());
    }
    let mut report = Report::new();
    let read = answers_in(&class, request, &pack, &mut report);
    let report = report.in_dir(&request.dir.display().to_string()).capped(MOST_OF_A_KIND);
    let earlier = kept_answers(&class, &pack)?;
    let Some(Read { answers, left_out, .. }) = read? else {
        say(&report);
        recorded::unreadable(&pack, earlier.as_ref());
        return Err(Failure::Said);
    };
    // What could be read is marked; what could not be is said beside it.
    say(&report);
    let rows = left_out.iter().filter(|what| what.starts_with("line ")).count();
    let recorded = Recorded::of(&pack, &answers, left_out, earlier.as_ref());
    recorded.refuse_nothing(&class, &pack, &answers, earlier.as_ref())?;
    record(&class, &pack, &answers.to_csv(&pack))?;
    recorded.tell(&class);
    let marking = marked(&class, &pack, &answers, request.afresh)?;
    let marking = marking.without_rows(u32::try_from(rows).unwrap_or(u32::MAX));
    let next_step = next_step(&class, &pack, &marking)?;
    match format {
        Format::Json => {
            json(&Told { marking: &marking, recorded: &recorded, next_step: &next_step })?;
        }
        Format::Text => {
            data(&format!("{}\n{}", marking.to_text(&class.plan.style), next_step.to_text()));
        }
    }
    if report.has_mistakes() { Err(Failure::Said) } else { Ok(()) }
}

/// Answers marked with all that the class showed in other lessons, and with those to the lesson's
/// other version, if it was marked.
pub fn marked(
    class: &Class,
    pack: &Pack,
    answers: &Answers,
    afresh: bool,
) -> Result<Marking, Failure> {
    let mut others = all_marked(class)?;
    others.retain(|(other, _)| (other.lesson, &other.version) != (pack.lesson, &pack.version));
    let model = match afresh {
        true => Model::default(),
        false => weights::model(class, &weights::learnt(class, &others), pack.lesson),
    };
    let earlier: Vec<(Pack, Answers)> =
        others.iter().filter(|(other, _)| before(other, pack) && !afresh).cloned().collect();
    let second = |(other, theirs): &&(Pack, Answers)| {
        other.lesson == pack.lesson && *theirs != Answers::default()
    };
    let second = others.iter().find(second).map(|(pack, answers)| (pack, answers));
    let mut parts: Vec<Part> = std::iter::once((pack, answers)).chain(second).collect();
    parts.sort_by_key(|(pack, _)| pack.version.clone());
    let mut marking = mark_together(&parts, &earlier, &model);
    marking.version.clone_from(&pack.version);
    if marking.slips > 0 {
        // Of slips nobody knows whose they are; who is missing may have written the other version.
        if class.state.printed(pack.lesson, other_version(&pack.version)) && parts.len() == 1 {
            marking.absent_unnamed = 0;
        }
        return Ok(marking);
    }
    // Who is in the class and in no file gave no answers either.
    let labels: BTreeSet<&String> = parts.iter().flat_map(|(_, a)| a.pupils.keys()).collect();
    if are_of_the_class(class, labels.iter().copied()) {
        let names = class.plan.class.pupil_names.iter();
        marking.absent.extend(names.filter(|name| !labels.contains(*name)).cloned());
        let place = |label: &String| class.plan.class.pupil_names.iter().position(|n| n == label);
        marking.absent.sort_by_key(|label| place(label).unwrap_or(usize::MAX));
    }
    Ok(marking)
}

/// The version beside this one.
pub fn other_version(version: &str) -> &'static str {
    if version == "B" { "A" } else { "B" }
}

/// The pack the answers were given to, as it was made.
fn printed_pack(class: &Class, number: u32, request: &Request) -> Result<Pack, Failure> {
    match read_pack(class, number, &request.version)? {
        Some(pack) => Ok(pack),
        None => {
            class.lesson(number)?;
            let dir = request.dir.display();
            let (what, version) = match request.version.as_str() {
                "B" => ("version B of the pack", " --version B"),
                _ => ("pack", ""),
            };
            let text = format!("lesson {number} has no {what} yet, so there is nothing to mark");
            let hint = format!("`rungwise pack {dir} --lesson {number}{version}` makes it");
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
    let again = class.state.added();
    let marked = all_marked(class)?;
    let learnt = weights::learnt(class, &marked);
    let model = |lesson: u32| weights::model(class, &learnt, lesson);
    Ok(Findings { again, ..class_findings(&marked, model) })
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
