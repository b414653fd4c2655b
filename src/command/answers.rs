//! Answers as they come in to `mark`: from a file, typed at the terminal, or one by one.

use super::args::Mark as Request;
use super::class::Class;
use super::mark::kept_answers;
use super::output::{Failure, note};
use super::pack::read_pack;
use crate::folder::{lesson_code, pack_dir, read_bytes, read_text};
use crate::lesson::Pack;
use crate::marking::{
    Answers, Fits, Read, Typed, answer_counts, decode, fits_another, is_id, marked_items,
    mostly_wrong, not_in_class, read_answers, read_file, same_pupil,
};
use crate::report::{Message, Report, Source};
use indexmap::IndexMap;
use std::collections::{BTreeMap, BTreeSet};
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
        let names = &class.plan.class.pupil_names;
        let read = read_file(&Source::shared(name, decode(&bytes)), pack, names, report);
        if let Some(read) = &read {
            doubts_of_the_file(class, pack, read, report)?;
        }
        return Ok(read);
    }
    if let (Some(pupil), Some(item), Some(answer)) =
        (&request.pupil, &request.item, &request.answer)
    {
        let answers = one_answer(class, pack, (pupil, item, answer), report)?;
        return Ok(Some(Read::from_elsewhere(answers)));
    }
    if request.typed || std::io::stdin().is_terminal() {
        let mut answers = typed(pack, &class.plan.class.pupil_names);
        // Who was not come to keeps what was marked before.
        let kept = kept_answers(class, pack)?.unwrap_or_default();
        for (pupil, row) in kept.pupils {
            if !answers.pupils.contains_key(&pupil) && kept.absent.contains(&pupil) {
                answers.absent.insert(pupil.clone());
            }
            answers.pupils.entry(pupil).or_insert(row);
        }
        return Ok(Some(Read::from_elsewhere(answers)));
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
        return Err(not_in_class(pupil, &class.plan.class.pupil_names).into());
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
    if read.as_ref().is_some_and(|read| read.was_absent(pupil)) {
        kept.absent.insert(pupil.to_owned());
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

/// Whether these labels are of the class as the plan names it: most are its pupils'.
pub fn are_of_the_class<'a>(class: &Class, labels: impl Iterator<Item = &'a String>) -> bool {
    let names = &class.plan.class.pupil_names;
    let (known, others): (Vec<_>, Vec<_>) = labels.partition(|label| names.contains(label));
    known.len() > others.len()
}

/// Says what is odd about a file beside other lessons and versions; it is marked all the same.
fn doubts_of_the_file(
    class: &Class,
    pack: &Pack,
    read: &Read,
    report: &mut Report,
) -> Result<(), Failure> {
    lies_ahead(class, pack, read).into_iter().for_each(|doubt| report.say(doubt));
    let other = super::mark::other_version(&pack.version);
    if let Some(second) = read_pack(class, pack.lesson, other)? {
        let theirs = kept_answers(class, &second)?.unwrap_or_default();
        twice(pack, read, other, &theirs).into_iter().for_each(|doubt| report.say(doubt));
    }
    if !mostly_wrong(read, pack) {
        return Ok(());
    }
    // Reading all packs takes long: those are read whose answers could be most of the file's.
    let given = answer_counts(read);
    let mut packs = Vec::new();
    for lesson in class.state.lessons() {
        for version in
            ["A", "B"].iter().filter(|v| (lesson.number, **v) != (pack.lesson, &pack.version))
        {
            let file = format!("{}/pack.json", pack_dir(lesson.number, version));
            let Some(text) = class.folder.text(&file)? else { continue };
            if holds_most(&text, &given) {
                packs.extend(read_pack(class, lesson.number, version)?);
            }
        }
    }
    if let Some(Fits { pack: fits, item, answer, place }) = fits_another(read, pack, &packs) {
        let code = lesson_code(fits.lesson, &fits.version);
        let right = pack.heading.style.typeset(&answer);
        let text = format!(
            "most answers are wrong here and right in {code}: `{right}` is the right answer of \
             `{item}`"
        );
        let version = if fits.version == "B" { " --version B" } else { "" };
        let hint = format!(
            "is this file of lesson {}? then `rungwise undo DIR` takes the marking back, and \
             `rungwise mark DIR --lesson {}{version} FILE.csv` takes the file",
            fits.lesson, fits.lesson
        );
        let doubt = Message::warning(text).hint(hint);
        report.say(match place.as_ref().or(read.head.as_ref()) {
            Some(place) => doubt.at(place).label(format!("of lesson {}?", fits.lesson)),
            None => doubt,
        });
    }
    Ok(())
}

/// Whether more than half of these answers, so often given, answer some item of a pack, as its file
/// has them.
fn holds_most(text: &str, given: &BTreeMap<&str, u32>) -> bool {
    let key = "\"answer\":";
    let answers = text.match_indices(key).filter_map(|(at, _)| {
        let rest = text[at + key.len()..].trim_start().strip_prefix('"')?;
        Some(rest.split_once('"')?.0)
    });
    let held: BTreeSet<&str> = answers.filter(|answer| given.contains_key(answer)).collect();
    let count =
        |answers: &mut dyn Iterator<Item = &u32>| answers.map(|&n| u64::from(n)).sum::<u64>();
    count(&mut held.iter().map(|answer| &given[answer])) * 2 > count(&mut given.values())
}

/// So many days ahead a lesson's answers cannot be there yet, even if it was moved.
const AHEAD: i64 = 7;

/// Whether the lesson is still weeks away.
fn lies_ahead(class: &Class, pack: &Pack, read: &Read) -> Option<Message> {
    let days = pack.date.signed_duration_since(class.state.today).num_days();
    if days <= AHEAD {
        return None;
    }
    let (lesson, date) = (pack.lesson, pack.date.format("%-d %B %Y"));
    let doubt = Message::warning(format!(
        "lesson {lesson} is only on {date}, {days} days from today"
    ))
    .hint(format!(
        "is this file of lesson {lesson}? if not, `rungwise undo DIR` takes the marking back"
    ));
    Some(match &read.head {
        Some(place) => doubt.at(place).label("counted as its answers all the same"),
        None => doubt,
    })
}

/// Pupils who have answered the other version of the lesson too.
fn twice(pack: &Pack, read: &Read, other: &str, theirs: &Answers) -> Vec<Message> {
    let answered = |answers: &Answers, pupil: &str| {
        answers.pupils.get(pupil).is_some_and(|row| row.values().any(Option::is_some))
    };
    let both = read.answers.pupils.keys();
    let both = both.filter(|p| answered(&read.answers, p) && answered(theirs, p));
    both.map(|pupil| {
        let version = if other == "B" { " --version B" } else { "" };
        let text = format!("pupil `{pupil}` has answers to version {other} too");
        let hint = format!(
            "if the row belongs to another pupil, mend its label and mark again; if it is version \
             {other}'s, `rungwise mark DIR --lesson {}{version} FILE.csv` marks that anew",
            pack.lesson
        );
        let doubt = Message::warning(text).hint(hint);
        match read.place_of(pupil) {
            Some(place) => doubt.at(place).label("of the two, version B counts"),
            None => doubt,
        }
    })
    .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_pack_holds_most_answers_however_its_file_is_spaced() {
        let given = BTreeMap::from([("7031", 6), ("45", 3), ("1", 2)]);
        for (text, holds) in [
            (r#"{ "prompt": "79 × 89", "answer": "7031" }"#, true),
            (r#"{"answer":"45","likely":[]},{"answer":"1"}"#, false),
            (r#"{"answer":"45","likely":[]},{"answer": "45"}"#, false),
            (r#"{ "answer": "70311" }, { "prompt": "7031" }"#, false),
            ("", false),
        ] {
            assert_eq!(holds_most(text, &given), holds, "{text}");
        }
    }
}
