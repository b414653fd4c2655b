//! Reading a file of answers: every mistake with its place, and all the rest of the file read.
//!
//! Files come out of spreadsheets of every country, so commas, semicolons and tabs part the
//! columns, numbers may be grouped or written in full-width digits, and a tick stands for "right".
//! What looks odd in an answer (letters, far too many digits) is said and kept as it is.

use super::answers::{Answers, Pile, marked_items, pupil_key};
use super::doubts::doubts;
use super::looks::{Odd, swapped};
use super::written::{answer, clean, is_absent, plain_number};
use crate::exercise::Item;
use crate::lesson::Pack;
use crate::report::{Message, Place, Report, Source, nearest};
use crate::words::{count, or};
use csv::StringRecord;
use indexmap::IndexMap;
use std::collections::{BTreeMap, BTreeSet};
use std::ops::Range;
use std::sync::Arc;

/// What was read of a file.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Read {
    /// The answers.
    pub answers: Answers,
    /// What could not be used, in the order of the file: "line 4", "column `L07-X9`".
    pub left_out: Vec<String>,
    /// The first line, which names the columns; none where nothing was read from a file.
    pub head: Option<Place>,
    /// Where each pupil's label stands, or what was answered, by item, where slips were counted.
    places: IndexMap<(String, String), Place>,
}

impl Read {
    /// Answers that came from no file.
    pub fn from_elsewhere(answers: Answers) -> Read {
        Read { answers, ..Read::default() }
    }
    /// Where a pupil's label stands in the file.
    pub fn place_of(&self, pupil: &str) -> Option<&Place> {
        self.places.get(&(pupil.to_owned(), String::new()))
    }
    /// Where a pile's answer to an item stands in the file.
    pub fn place_of_pile(&self, item: &str, answer: &str) -> Option<&Place> {
        self.places.get(&(item.to_owned(), answer.to_owned()))
    }
}

/// Reads a file of answers to a lesson's exit check or test: `pupil,<item id>,...`, one row a
/// pupil, or `item,answer,count`, one row a pile of slips.
///
/// What cannot be understood is reported with its place and left out; `None` where nothing in the
/// file could be used.
pub fn read_answers(source: &Arc<Source>, pack: &Pack, report: &mut Report) -> Option<Answers> {
    read_file(source, pack, &[], report).map(|read| read.answers)
}

/// The same, with a list of what was left out. `class` are the labels of the class: pupils are
/// called as there (03 is 3), and where most of the file are of the class, the row of one who is not
/// is left out. A file may name them all otherwise; each such pupil is a doubt.
pub fn read_file(
    source: &Arc<Source>,
    pack: &Pack,
    class: &[String],
    report: &mut Report,
) -> Option<Read> {
    let ids: Vec<&str> = marked_items(pack).iter().map(|item| item.id.as_str()).collect();
    if ids.is_empty() {
        let text = format!("lesson {} has no exit check and no test to mark", pack.lesson);
        report.say(Message::mistake(text));
        return None;
    }
    let mut file = File::open(source, pack, ids, report);
    let Some((header, at)) = file.header() else {
        let text = format!("`{}` is empty", source.name);
        report.say(Message::mistake(text).hint(writes_one(pack)));
        return None;
    };
    let names: Vec<String> = header.iter().map(|name| clean(name).to_lowercase()).collect();
    let column = |name: &str| names.iter().position(|n| n == name);
    let pupil = column("pupil").or_else(|| file.pupils_by_another_name(&names));
    let answers = match (pupil, column("item"), column("answer"), column("count")) {
        (Some(pupil), ..) => file.pupils(&header, &at, pupil),
        (None, Some(item), Some(answer), Some(count)) => file.piles([item, answer, count]),
        _ => {
            file.no_columns(&names, &at);
            None
        }
    };
    let (left_out, places) = (file.left_out, file.places);
    let mut read = Read { answers: answers?, left_out, head: Some(at), places };
    of_the_class(&mut read, class, report);
    doubts(&read.answers, pack).into_iter().for_each(|doubt| report.say(doubt));
    Some(read)
}

/// Calls pupils as the class does, and leaves out who is not in it where most others are.
fn of_the_class(read: &mut Read, class: &[String], report: &mut Report) {
    let labels: BTreeSet<&str> = class.iter().map(String::as_str).collect();
    let by_key: BTreeMap<&str, &String> = class.iter().map(|l| (pupil_key(l), l)).collect();
    let own = |pupil: &str| match labels.get(pupil) {
        Some(label) => Some((*label).to_owned()),
        None => by_key.get(pupil_key(pupil)).map(|label| (*label).clone()),
    };
    let rows = std::mem::take(&mut read.answers.pupils);
    let known = rows.keys().filter(|pupil| own(pupil).is_some()).count();
    let most = known > 0 && known * 2 >= rows.len();
    for (pupil, row) in rows {
        let label = own(&pupil);
        if label.is_none() && most {
            let mut wrong = not_in_class(&pupil, class).label("row left out");
            if let Some(place) = read.place_of(&pupil) {
                wrong = wrong.at(place);
                read.left_out.push(format!("line {}", place.line()));
            }
            report.say(wrong);
            continue;
        }
        if label.is_none() && !class.is_empty() {
            let doubt = stranger(&pupil, class).label("counted all the same");
            report.say(match read.place_of(&pupil) {
                Some(place) => doubt.at(place),
                None => doubt,
            });
        }
        let label = label.unwrap_or_else(|| pupil.clone());
        if let Some(place) = read.place_of(&pupil).cloned().filter(|_| label != pupil) {
            read.places.insert((label.clone(), String::new()), place);
        }
        if read.answers.absent.remove(&pupil) {
            read.answers.absent.insert(label.clone());
        }
        read.answers.pupils.insert(label, row);
    }
    // In the file's order.
    let line = |what: &String| what.rsplit_once("line ").and_then(|(_, line)| line.parse().ok());
    read.left_out.sort_by_cached_key(|what| line(what).unwrap_or(0_u32));
}

/// That a pupil whose answers count is not called as anybody in the class is.
fn stranger(pupil: &str, class: &[String]) -> Message {
    let is_number = |label: &str| label.bytes().all(|b| b.is_ascii_digit());
    let text = match class {
        [first, .., last] if class.iter().all(|label| is_number(label)) => {
            let all = format!("pupils {first} to {last}");
            if is_number(pupil) {
                format!("`{pupil}` is not among {all}")
            } else {
                format!("`{pupil}` is not among {all}, who have numbers here")
            }
        }
        _ => format!("there is no pupil `{pupil}` in the class"),
    };
    Message::warning(text)
        .hint("if another pupil is meant, write the label that the class has, and mark again")
}

/// That a pupil is not in the class, and what to do; of a number no other one is meant.
pub fn not_in_class(pupil: &str, class: &[String]) -> Message {
    let wrong = Message::mistake(format!("there is no pupil `{pupil}` in the class"));
    let is_number = pupil.bytes().all(|b| b.is_ascii_digit());
    match nearest(pupil, class.iter().map(String::as_str)).filter(|_| !is_number) {
        Some(near) => wrong.hint(format!("did you mean `{near}`? mend it and mark again")),
        None => wrong.hint(
            "write the label that the class has; if the class has grown, change `class.pupils` in \
             plan.toml; then mark again",
        ),
    }
}

/// How to get a file to fill in.
fn writes_one(pack: &Pack) -> String {
    let version = if pack.version == "B" { " --version B" } else { "" };
    let lesson = pack.lesson;
    format!("`rungwise mark DIR --lesson {lesson}{version} --blank` writes a file to fill in")
}

/// A file being read.
struct File<'a> {
    source: &'a Arc<Source>,
    pack: &'a Pack,
    ids: Vec<&'a str>,
    delimiter: u8,
    /// Where in the text the records begin.
    base: usize,
    items: Vec<&'a Item>,
    records: csv::StringRecordsIntoIter<&'a [u8]>,
    left_out: Vec<String>,
    places: IndexMap<(String, String), Place>,
    report: &'a mut Report,
}

/// What the column of pupils may be called beside `pupil`.
const PUPILS: [&str; 6] = ["pupils", "name", "names", "student", "child", "no"];

impl<'a> File<'a> {
    fn open(
        source: &'a Arc<Source>,
        pack: &'a Pack,
        ids: Vec<&'a str>,
        report: &'a mut Report,
    ) -> File<'a> {
        let mut base = if source.text.starts_with('\u{feff}') { '\u{feff}'.len_utf8() } else { 0 };
        let first = |base: usize| {
            source.text[base..].lines().find(|line| !line.trim().is_empty()).unwrap_or("")
        };
        // Some spreadsheets say first what parts the columns.
        if let Some(sign) = first(base).trim().to_lowercase().strip_prefix("sep=")
            && sign.len() <= 1
        {
            let end = source.text[base..].find(['\n', '\r']);
            base = end.map_or(source.text.len(), |length| base + length + 1);
        }
        let times = |c: u8| first(base).bytes().filter(|&b| b == c).count();
        // The commonest of the three; a comma where none is seen.
        let delimiter = [b'\t', b';', b','].into_iter().max_by_key(|&c| times(c)).unwrap_or(b',');
        let records = records(&source.text[base..], delimiter);
        let items = marked_items(pack);
        let (left_out, places) = (Vec::new(), IndexMap::new());
        File { source, pack, ids, delimiter, base, items, records, left_out, places, report }
    }

    /// The next row that holds anything, with its place.
    fn row(&mut self) -> Option<(StringRecord, Place)> {
        loop {
            let record = self.records.next()?.ok()?;
            let place = self.place(&record);
            if record.iter().any(|field| field.contains('\n')) {
                let text = "a quotation mark is opened and not closed on this line";
                let hint = "close the quotation mark or take it away, then mark again";
                let wrong = Message::mistake(text).at(&place).label("row left out");
                self.report.say(wrong.hint(hint));
                self.leave_out(&place);
                self.base = place.span.end;
                self.records = records(&self.source.text[self.base..], self.delimiter);
            } else if record.iter().any(|field| !clean(field).is_empty()) {
                return Some((record, place));
            }
        }
    }

    /// The column of pupils under another name, where the others are for items.
    fn pupils_by_another_name(&self, names: &[String]) -> Option<usize> {
        let is_item = |name: &String| self.ids.iter().any(|id| is_id(id, name));
        let other = || names.iter().position(|name| PUPILS.contains(&name.as_str()));
        names.iter().any(is_item).then(other).flatten()
    }

    /// Says that the first line names no columns.
    fn no_columns(&mut self, names: &[String], at: &Place) {
        let wrong = Message::mistake("the first line must name the columns").at(at);
        let wrong = wrong.label("expected `pupil` and item ids, or `item,answer,count`");
        let known = ["pupil", "item", "answer", "count"];
        let unknown = names.iter().filter(|n| !known.contains(&n.as_str()));
        let near = unknown.filter_map(|n| nearest(n, known)).next();
        self.report.say(match near {
            // A spreadsheet's own file is a zip archive.
            _ if self.source.text.starts_with("PK\u{3}\u{4}") => {
                wrong.hint("this is a spreadsheet's own file: save it as CSV and mark that")
            }
            Some(near) => wrong.hint(format!("did you mean `{near}`?")),
            None => wrong.hint(format!("for instance `pupil,{}`", self.ids.join(","))),
        });
    }

    /// Notes that a row is left out.
    fn leave_out(&mut self, row: &Place) {
        self.left_out.push(format!("line {}", row.line()));
    }

    fn header(&mut self) -> Option<(StringRecord, Place)> {
        self.row()
    }

    /// Where a row stands, from its first letter to the end of the line.
    fn place(&self, record: &StringRecord) -> Place {
        let text = &self.source.text;
        let byte = record.position().map_or(0, csv::Position::byte);
        let byte = usize::try_from(byte).unwrap_or(usize::MAX).saturating_add(self.base);
        let rest = text.get(byte.min(text.len())..).unwrap_or("");
        let start = text.len() - rest.trim_start_matches(['\n', '\r']).len();
        let end = text[start..].find(['\n', '\r']).map_or(text.len(), |length| start + length);
        Place { source: self.source.clone(), span: start..end }
    }

    /// The place of a field of a row, counted from 0, without spaces and quotation marks round it;
    /// of the row where it has none or nothing stands in it.
    fn field(&self, row: &Place, index: usize) -> Place {
        let line = &self.source.text[row.span_in_text()];
        match field_in(line, self.delimiter, index).filter(|span| !span.is_empty()) {
            Some(Range { start, end }) => {
                let span = row.span.start + start..row.span.start + end;
                Place { source: self.source.clone(), span }
            }
            None => row.clone(),
        }
    }

    /// The item this column or pile is for; says what is wrong where there is none.
    fn item(&mut self, name: &str, at: &Place, index: usize) -> Option<&'a str> {
        let name = clean(name);
        if let Some(id) = self.ids.iter().find(|id| is_id(id, &name)) {
            return Some(id);
        }
        let wanted = name.to_uppercase();
        let place = self.field(at, index);
        let elsewhere = self.pack.sections.iter().flat_map(|s| &s.items).any(|i| i.id == name);
        let own = self.ids.first().and_then(|id| lesson_of(id));
        let other = lesson_of(&wanted).filter(|lesson| Some(lesson) != own.as_ref());
        self.report.say(match other {
            _ if elsewhere => Message::warning(format!("`{name}` is not marked"))
                .at(&place)
                .label("only the exit check and the test are"),
            Some(other) => Message::mistake(format!("`{name}` belongs to lesson `{other}`"))
                .at(&place)
                .label(format!("expected lesson `{}`", own.unwrap_or_default()))
                .hint(marks_it(&other)),
            None => {
                let known = self.ids.iter().copied();
                let wrong = Message::mistake(format!("no item `{name}` in this lesson")).at(&place);
                match nearest(&name, known) {
                    Some(near) => wrong.hint(format!("did you mean `{near}`?")),
                    None => wrong.hint(format!("expected {}", or(&self.ids))),
                }
            }
        });
        None
    }

    /// The lesson all columns belong to, where it is another one.
    fn other_lesson(&self, header: &StringRecord, pupil: usize) -> Option<String> {
        let named = header.iter().enumerate().filter(|&(i, n)| i != pupil && !clean(n).is_empty());
        let mut lessons: Vec<Option<String>> = named.map(|(_, n)| lesson_of(&clean(n))).collect();
        lessons.dedup();
        let own = self.ids.first().and_then(|id| lesson_of(id));
        match lessons.as_slice() {
            [Some(only)] if Some(only) != own.as_ref() => Some(only.clone()),
            _ => None,
        }
    }

    fn pupils(&mut self, header: &StringRecord, at: &Place, pupil: usize) -> Option<Answers> {
        if let Some(other) = self.other_lesson(header, pupil) {
            let own = self.ids.first().and_then(|id| lesson_of(id)).unwrap_or_default();
            let text = format!("this file is for lesson `{other}`, not for `{own}`");
            self.report.say(Message::mistake(text).at(at).hint(marks_it(&other)));
            return None;
        }
        let mut columns: IndexMap<usize, &str> = IndexMap::new();
        for (index, name) in header.iter().enumerate() {
            if index == pupil || clean(name).is_empty() {
                continue;
            }
            let Some(id) = self.item(name, at, index) else {
                self.left_out.push(format!("column `{}`", clean(name)));
                continue;
            };
            if columns.values().any(|known| *known == id) {
                let place = self.field(at, index);
                let text = format!("`{id}` has two columns; the first one counts");
                let hint = "name the second one after its own item, or take it away; mark again";
                self.report.say(Message::mistake(text).at(&place).hint(hint));
                self.left_out.push(format!("the second column `{id}`"));
                continue;
            }
            columns.insert(index, id);
        }
        if columns.is_empty() {
            let missing = Message::mistake("no column is for an item of this lesson").at(at);
            self.report.say(missing.hint(format!("expected {}", or(&self.ids))));
            return None;
        }
        let missing: Vec<&str> =
            self.ids.iter().copied().filter(|id| columns.values().all(|c| c != id)).collect();
        if !missing.is_empty() {
            let text = format!("no column for {}", crate::words::and(&missing));
            let hint = "if pupils answered that, add the column and mark again";
            let lacks = Message::warning(text).at(at).label("counted as not answered");
            self.report.say(lacks.hint(hint));
        }
        let width = header.len();
        let mut answers = Answers::default();
        let mut lines: IndexMap<String, Place> = IndexMap::new();
        let rows: Vec<(StringRecord, Place)> = std::iter::from_fn(|| self.row()).collect();
        if let Some(id) = pupils_elsewhere(&rows, pupil, &columns) {
            let text = format!("the columns `pupil` and `{id}` look swapped");
            let label =
                format!("the same few again and again here, and all different under `{id}`");
            let hint = "exchange their names in the first line and mark again";
            let place = self.field(at, pupil);
            self.report.say(Message::mistake(text).at(&place).label(label).hint(hint));
            return None;
        }
        for (record, place) in rows {
            self.pupil(&record, &place, (pupil, width), &columns, &mut answers, &mut lines);
        }
        self.look_for_swapped(&answers, header, at);
        Some(answers)
    }

    /// One pupil's row.
    fn pupil(
        &mut self,
        record: &StringRecord,
        at: &Place,
        (pupil, width): (usize, usize),
        columns: &IndexMap<usize, &str>,
        answers: &mut Answers,
        lines: &mut IndexMap<String, Place>,
    ) {
        if record.iter().skip(width).any(|field| !clean(field).is_empty()) {
            let found = count(record.len(), "column");
            let text = format!("{found} where the first line has {width}");
            let hint = "put a number with commas in quotes: \"12,34,567\"";
            self.report.say(Message::mistake(text).at(at).label("row left out").hint(hint));
            self.leave_out(at);
            return;
        }
        let name = clean(record.get(pupil).unwrap_or(""));
        if name.is_empty() {
            let text = "answers without a pupil";
            let wrong = Message::mistake(text).at(at).label("row left out");
            self.report.say(wrong.hint("write whose they are, then mark again"));
            self.leave_out(at);
            return;
        }
        let key = pupil_key(&name).to_owned();
        if let Some(first) = lines.get(&key) {
            let line = first.line();
            let text = format!("pupil `{name}` is here twice; the row on line {line} counts");
            let place = self.field(at, pupil);
            let hint =
                "give this row its own pupil, or take the wrong one of the two away; mark again";
            self.report.say(Message::mistake(text).at(&place).hint(hint));
            self.leave_out(at);
            return;
        }
        lines.insert(key, at.clone());
        self.places.insert((name.clone(), String::new()), self.field(at, pupil));
        let column = |id: &str| columns.iter().find(|(_, known)| **known == id).map(|(&i, _)| i);
        let mut given = IndexMap::new();
        for id in self.ids.clone() {
            let index = column(id);
            let text = index.and_then(|index| record.get(index)).unwrap_or("");
            given.insert(id.to_owned(), self.answer(id, text, at, index.unwrap_or(0)));
        }
        let beside = record.iter().enumerate().filter(|(index, _)| *index != pupil);
        if beside.into_iter().any(|(_, field)| is_absent(&clean(field))) {
            answers.absent.insert(name.clone());
        }
        answers.pupils.insert(name, given);
    }

    /// One answer as it counts; says what looks odd about it.
    fn answer(&mut self, id: &str, text: &str, at: &Place, index: usize) -> Option<String> {
        let given = answer(text)?;
        let item = self.items.iter().find(|item| item.id == id)?;
        let Some(odd) = Odd::of(item, &given) else { return Some(given) };
        let place = self.field(at, index);
        self.report.say(odd.message(id, &given).at(&place));
        if !odd.counts() {
            self.left_out.push(format!("the answer to `{id}` on line {}", at.line()));
        }
        odd.counts().then_some(given)
    }

    /// Says where the answers under two columns are each other's.
    fn look_for_swapped(&mut self, answers: &Answers, header: &StringRecord, at: &Place) {
        for (one, other) in swapped(&self.items, answers) {
            let own = header.iter().position(|name| is_id(one, &clean(name)));
            let place = self.field(at, own.unwrap_or(usize::MAX));
            let text = format!("the columns `{one}` and `{other}` look swapped");
            let hint = "if they are, exchange their names in the first line and mark again";
            let label = "most right answers of each stand under the other";
            self.report.say(Message::warning(text).at(&place).label(label).hint(hint));
        }
    }

    fn piles(&mut self, [item, given, number]: [usize; 3]) -> Option<Answers> {
        let mut piles: IndexMap<(String, String), u32> = IndexMap::new();
        while let Some((record, at)) = self.row() {
            let field = |index: usize| record.get(index).unwrap_or("");
            let Some(id) = self.item(field(item), &at, item) else {
                self.leave_out(&at);
                continue;
            };
            let text = clean(field(number));
            let found: Option<u32> = plain_number(&text).and_then(|n| n.parse().ok());
            let Some(found) = found.filter(|n| *n <= MOST_SLIPS) else {
                let place = self.field(&at, number);
                let wrong = Message::mistake(format!("`{text}` is not a number of slips"));
                let label = format!("expected a whole number up to {MOST_SLIPS}");
                let hint = "count the pile again, then mark again";
                self.report.say(wrong.at(&place).label(label).hint(hint));
                self.leave_out(&at);
                continue;
            };
            if let Some(answer) = self.answer(id, field(given), &at, given) {
                let place = self.field(&at, given);
                self.places.entry((id.to_owned(), answer.clone())).or_insert(place);
                let sum = piles.entry((id.to_owned(), answer)).or_insert(0);
                *sum = sum.saturating_add(found);
            }
        }
        let pile = |((item, answer), count)| Pile { item, answer, count };
        Some(Answers { piles: piles.into_iter().map(pile).collect(), ..Answers::default() })
    }
}

/// So many rows at least tell which column holds the pupils.
const ROWS: usize = 3;

/// The item under which the pupils stand, where the column of pupils holds the same few answers
/// again and again.
fn pupils_elsewhere<'a>(
    rows: &[(StringRecord, Place)],
    pupil: usize,
    columns: &IndexMap<usize, &'a str>,
) -> Option<&'a str> {
    let column = |index: usize| -> Vec<String> {
        rows.iter().map(|(record, _)| clean(record.get(index).unwrap_or(""))).collect()
    };
    let different = |all: &[String]| all.iter().collect::<BTreeSet<_>>().len();
    let pupils = column(pupil);
    if rows.len() < ROWS || different(&pupils) * 2 > rows.len() {
        return None;
    }
    let is_label = |index: usize| {
        let all = column(index);
        all.iter().all(|label| !label.is_empty()) && different(&all) == all.len()
    };
    columns.iter().find(|&(&index, _)| is_label(index)).map(|(_, id)| *id)
}

/// The largest pile of slips: more pupils than a year group of any school.
const MOST_SLIPS: u32 = 10_000;

fn records(text: &str, delimiter: u8) -> csv::StringRecordsIntoIter<&[u8]> {
    let mut reader = csv::ReaderBuilder::new();
    reader.has_headers(false).flexible(true).delimiter(delimiter);
    reader.from_reader(text.as_bytes()).into_records()
}

/// Where in a line its field with this number stands, from 0, without spaces and quotation marks.
fn field_in(line: &str, delimiter: u8, index: usize) -> Option<Range<usize>> {
    let (mut quoted, mut start, mut at) = (false, 0, 0);
    let mut ends = line.bytes().enumerate().filter_map(|(n, byte)| {
        quoted ^= byte == b'"';
        (byte == delimiter && !quoted).then_some(n)
    });
    let end = loop {
        let end = ends.next();
        if at == index || end.is_none() {
            break end.unwrap_or(line.len());
        }
        (start, at) = (end? + 1, at + 1);
    };
    let field = line.get(start..end).filter(|_| at == index)?;
    let shell = |c: char| c.is_whitespace() || matches!(c, '"' | '\u{feff}');
    let front = start + field.len() - field.trim_start_matches(shell).len();
    Some(front..front + field.trim_matches(shell).len())
}

/// Whether an item is meant by this name: `L07-X1` or `X1`, in capitals or not.
pub fn is_id(id: &str, name: &str) -> bool {
    let short = id.rsplit('-').next().unwrap_or(id);
    id.eq_ignore_ascii_case(name) || short.eq_ignore_ascii_case(name)
}

/// How to mark a file that is for another lesson or version.
fn marks_it(other: &str) -> String {
    let version = if other.ends_with('B') { " --version B" } else { "" };
    let number = other.trim_matches(|c: char| c.is_alphabetic()).trim_start_matches('0');
    format!("`rungwise mark DIR --lesson {number}{version}` takes it")
}

/// `L07` of `L07-X1`, `L07B` of `L07B-X1`.
fn lesson_of(id: &str) -> Option<String> {
    let (lesson, _) = id.split_once('-')?;
    let digits = lesson.strip_prefix(['L', 'l'])?.trim_end_matches(|c: char| c.is_alphabetic());
    (!digits.is_empty() && digits.bytes().all(|b| b.is_ascii_digit()))
        .then(|| lesson.to_uppercase())
}

/// The text of a file as spreadsheets save it: UTF-8, UTF-16 with its mark, else one byte a letter
/// as in western Europe (Windows-1252 but for its few signs between 80 and 9F).
pub fn decode(bytes: &[u8]) -> String {
    let wide = |bytes: &[u8], unit: fn([u8; 2]) -> u16| {
        let units = bytes.chunks_exact(2).map(|pair| unit([pair[0], pair[1]]));
        char::decode_utf16(units).map(|c| c.unwrap_or(char::REPLACEMENT_CHARACTER)).collect()
    };
    match bytes {
        [0xff, 0xfe, rest @ ..] => wide(rest, u16::from_le_bytes),
        [0xfe, 0xff, rest @ ..] => wide(rest, u16::from_be_bytes),
        _ => match std::str::from_utf8(bytes) {
            Ok(text) => text.to_owned(),
            Err(_) => bytes.iter().map(|&b| char::from(b)).collect(),
        },
    }
}
