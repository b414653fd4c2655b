//! Answers as they come in to `mark`: from a file, typed at the terminal, or one by one.

use super::args::Mark as Request;
use super::class::Class;
use super::mark::kept_answers;
use super::output::{Failure, note};
use crate::folder::{read_bytes, read_text};
use crate::lesson::Pack;
use crate::marking::{
    Answers, Read, Typed, decode, is_id, marked_items, read_answers, read_file, same_pupil,
};
use crate::report::{Message, Report, Source};
use indexmap::IndexMap;
use std::io::{BufRead, IsTerminal, Write};

/// The answers from wherever they come, with what was left out; `None` where nothing in the file
/// could be used.
pub fn answers_in(
    class: &Class,
    request: &Request,
    pack: &Pack,
    report: &mut Report,
) -> Result<Option<Read>, Failure> {
    if let Some(file) = &request.file {
        let name = file
            .file_name()
            .map_or_else(|| file.display().to_string(), |n| n.to_string_lossy().into_owned());
        let Some(bytes) = read_bytes(file)? else {
            return Err(read_text(file, &name).map_or_else(Failure::from, |_| Failure::Said));
        };
        let mut read = read_file(&Source::shared(name, decode(&bytes)), pack, report);
        if let Some(read) = &mut read {
            as_the_class_says(class, &mut read.answers);
            look_for_strangers(class, &read.answers, report);
        }
        return Ok(read);
    }
    if let (Some(pupil), Some(item), Some(answer)) =
        (&request.pupil, &request.item, &request.answer)
    {
        let answers = one_answer(class, pack, (pupil, item, answer), report)?;
        return Ok(Some(Read { answers, left_out: Vec::new() }));
    }
    if request.typed || std::io::stdin().is_terminal() {
        let mut answers = typed(pack, &class.plan.class.pupil_names);
        // Who was not come to keeps what was marked before.
        for (pupil, row) in kept_answers(class, pack)?.unwrap_or_default().pupils {
            answers.pupils.entry(pupil).or_insert(row);
        }
        return Ok(Some(Read { answers, left_out: Vec::new() }));
    }
    let text = "name the file of answers, ask for a `--blank` one, or type them with `--typed`";
    Err(Failure::Usage(text.to_owned()))
}

/// The marks as they are kept, with one answer set.
fn one_answer(
    class: &Class,
    pack: &Pack,
    (given_pupil, item, answer): (&str, &str, &str),
    report: &mut Report,
) -> Result<Answers, Failure> {
    let ids: Vec<&str> = marked_items(pack).iter().map(|i| i.id.as_str()).collect();
    let mut kept = kept_answers(class, pack)?.unwrap_or_default();
    if !kept.piles.is_empty() {
        let text = format!("lesson {} was marked by piles of slips, without pupils", pack.lesson);
        return Err(Message::mistake(text).hint("mark a file with a row a pupil first").into());
    }
    let known = class.plan.class.pupil_names.iter().chain(kept.pupils.keys());
    let pupil = known.filter(|p| same_pupil(p, given_pupil)).map(String::as_str).next();
    let pupil = pupil.unwrap_or(given_pupil.trim()).to_owned();
    let pupil = pupil.as_str();
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
    let Some(id) = ids.iter().find(|id| is_id(id, item)) else {
        // The first message names the item; what follows from it need not be said.
        let first = told.messages().first().cloned();
        return Err(first.map_or_else(|| Failure::from(told), Failure::from));
    };
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
fn typed(pack: &Pack, pupils: &[String]) -> Answers {
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
    typed.answers()
}

/// Writes pupils as the plan does: 03 is 3.
fn as_the_class_says(class: &Class, answers: &mut Answers) {
    let names = &class.plan.class.pupil_names;
    let label = |pupil: String| {
        let own = || names.iter().find(|name| same_pupil(name, &pupil)).cloned();
        if names.contains(&pupil) { pupil } else { own().unwrap_or(pupil) }
    };
    let rows = std::mem::take(&mut answers.pupils);
    answers.pupils = rows.into_iter().map(|(pupil, row)| (label(pupil), row)).collect();
}

/// Whether these labels are of the class as the plan names it: most are its pupils'.
pub fn are_of_the_class<'a>(class: &Class, labels: impl Iterator<Item = &'a String>) -> bool {
    let names = &class.plan.class.pupil_names;
    let (known, others): (Vec<_>, Vec<_>) = labels.partition(|label| names.contains(label));
    known.len() > others.len()
}

/// Warns of pupils whom the class does not have, where it has most of the others.
fn look_for_strangers(class: &Class, answers: &Answers, report: &mut Report) {
    let names = &class.plan.class.pupil_names;
    if !are_of_the_class(class, answers.pupils.keys()) {
        return;
    }
    for pupil in answers.pupils.keys().filter(|p| !names.contains(p)) {
        let text = format!("there is no pupil `{pupil}` in the class; marked all the same");
        report.say(Message::warning(text).meant(pupil, names.iter().map(String::as_str)));
    }
}
