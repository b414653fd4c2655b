//! `[term]`, `[timetable]`, `[[closure]]`, `[[opening]]` and `[[calendar]]`.

use super::read::{check_beside, clock, date, days};
use crate::calendar::{Clock, Closing, LEAST_MINUTES, Slot, Timetable};
use crate::report::{Message, Report, Spot, Table};
use crate::words;
use chrono::NaiveDate;
use std::collections::BTreeMap;

/// The weekdays as keys of the timetable, from Monday.
const WEEKDAYS: [(&str, u8); 7] = [
    ("monday", 0),
    ("tuesday", 1),
    ("wednesday", 2),
    ("thursday", 3),
    ("friday", 4),
    ("saturday", 5),
    ("sunday", 6),
];
/// A longer term is a slip in a year.
const LONGEST_TERM: i64 = 400;

/// `[term]` as written, the school days worked out.
#[derive(Debug, Clone)]
pub struct TermPart {
    pub starts: NaiveDate,
    pub ends: NaiveDate,
    pub school_days: [bool; 7],
}

/// One `[[opening]]`.
#[derive(Debug, Clone)]
pub struct OpeningPart {
    pub days: Spot<(NaiveDate, NaiveDate)>,
}

/// One `[[calendar]]`: a file whose events close days.
#[derive(Debug, Clone)]
pub struct CalendarFile {
    /// The file beside the plan.
    pub file: Spot<String>,
    /// Only events whose summary holds one of these count; empty: all.
    pub matching: Vec<Spot<String>>,
}

impl CalendarFile {
    /// Whether an event of this summary counts, capitals or not.
    pub fn takes(&self, summary: &str) -> bool {
        let summary = summary.to_lowercase();
        self.matching.is_empty()
            || self.matching.iter().any(|m| summary.contains(&m.value.to_lowercase()))
    }
}

/// The term and the timetable, each telling the other which days are school days.
pub fn read(root: &Table, report: &mut Report) -> (Option<TermPart>, Timetable) {
    let (ends, given) = read_term(root, report);
    let timetable = read_timetable(root, given.as_deref(), report);
    let mut school_days = [false; 7];
    let usual = given.unwrap_or_else(|| (0..5).chain(timetable.slots.keys().copied()).collect());
    for day in usual {
        school_days[usize::from(day)] = true;
    }
    (ends.map(|(starts, ends)| TermPart { starts, ends, school_days }), timetable)
}

type FirstAndLast = (NaiveDate, NaiveDate);

fn read_term(root: &Table, report: &mut Report) -> (Option<FirstAndLast>, Option<Vec<u8>>) {
    if !root.has("term") {
        root.missing("term", "[term]` with `starts` and `ends", report);
    }
    let Some(table) = root.table("term", report) else { return (None, None) };
    for (key, example) in [("starts", "starts = 2027-01-11"), ("ends", "ends = 2027-04-02")] {
        if !table.has(key) {
            table.missing(key, example, report);
        }
    }
    let (starts, ends) = (date(&table, "starts", report), date(&table, "ends", report));
    let school_days = table.choices("school-days", &WEEKDAYS, report);
    let raw = table.texts("school-days", &mut Report::new());
    if raw.is_some_and(|days| days.is_empty()) {
        let message = Message::mistake("`term.school-days` names no day");
        let message = message.at(&table.place_of("school-days"));
        report.say(message.hint("take the key away for Monday to Friday"));
    }
    table.finish(report);
    let ends = starts.zip(ends).and_then(|(starts, ends)| check_ends(&starts, &ends, report));
    (ends, school_days.map(|days| days.iter().map(|d| d.value).collect()))
}

fn check_ends(
    starts: &Spot<NaiveDate>,
    ends: &Spot<NaiveDate>,
    report: &mut Report,
) -> Option<FirstAndLast> {
    let days = (ends.value - starts.value).num_days() + 1;
    let (text, label) = if days < 1 {
        let text = format!("the term ends on {} before it starts on {}", ends.value, starts.value);
        (text, format!("expected {} or later", starts.value))
    } else if days > LONGEST_TERM {
        let text = format!("the term is {days} days long");
        (text, format!("expected at most {LONGEST_TERM} days"))
    } else {
        return Some((starts.value, ends.value));
    };
    let message = Message::mistake(text).at(&ends.place).label(label);
    report.say(message.hint("change `term.ends` or `term.starts`; look at the years"));
    None
}

fn read_timetable(root: &Table, school_days: Option<&[u8]>, report: &mut Report) -> Timetable {
    const EXAMPLE: &str = "monday = [\"09:10-09:50\"]";
    let mut slots = BTreeMap::new();
    if !root.has("timetable") {
        root.missing("timetable", &format!("[timetable]` with `{EXAMPLE}"), report);
    }
    let Some(table) = root.table("timetable", report) else { return Timetable { slots } };
    for (name, weekday) in WEEKDAYS {
        let texts = table.texts(name, report).unwrap_or_default();
        let of_day = read_day(name, &texts, report);
        let off = school_days.is_some_and(|days| !days.contains(&weekday));
        if off && !of_day.is_empty() {
            let text = format!("`{name}` has lessons but is not in `term.school-days`");
            let message = Message::warning(text).at(&table.place_of(name));
            report.say(message.hint(format!("add \"{name}\" to `school-days` to have them")));
        }
        if !of_day.is_empty() {
            slots.insert(weekday, of_day);
        }
    }
    let empty = |day: &Spot<String>| {
        // asking for a key that is no weekday would hide that it is unknown
        let weekday = WEEKDAYS.iter().any(|(name, _)| *name == day.value);
        let entries = || table.texts(&day.value, &mut Report::new());
        weekday && entries().is_some_and(|e| e.is_empty())
    };
    if table.keys().iter().all(empty) {
        let message = Message::mistake("the timetable has no lessons").at(table.place());
        report.say(message.hint(format!("add a line for each weekday: `{EXAMPLE}`")));
    }
    table.finish(report);
    Timetable { slots }
}

/// A weekday's entries in order of time; those that are wrong or overlap are reported.
fn read_day(name: &str, texts: &[Spot<String>], report: &mut Report) -> Vec<Slot> {
    let mut slots: Vec<Spot<Slot>> = Vec::new();
    for text in texts {
        let Some(slot) = read_slot(name, text, report) else { continue };
        let other =
            slots.iter().find(|s| s.value.from < slot.value.to && slot.value.from < s.value.to);
        if let Some(other) = other {
            let (a, b) = (show(slot.value), show(other.value));
            let text = format!("two lessons of `timetable.{name}` overlap: {a} and {b}");
            let label = "expected a time after the other ends, or before it begins";
            let message = Message::mistake(text).at(&slot.place).label(label);
            report.say(message.hint("change one of the two, or take it away"));
        }
        slots.push(slot);
    }
    let mut slots: Vec<Slot> = slots.iter().map(|s| s.value).collect();
    slots.sort();
    slots
}

fn show(slot: Slot) -> String {
    format!("{}-{}", slot.from, slot.to)
}

fn read_slot(name: &str, text: &Spot<String>, report: &mut Report) -> Option<Spot<Slot>> {
    let wrong =
        |text: String| Message::mistake(text).label("expected a time such as \"09:10-09:50\"");
    let ends = text.value.split_once(['-', '–']);
    let read = |s: &str| s.trim().parse::<Clock>();
    let slot = match ends.map(|(from, to)| (read(from), read(to))) {
        None => Err(wrong(format!("`timetable.{name}`: `{}` is no lesson time", text.value))),
        Some((Err(e), _) | (_, Err(e))) => Err(wrong(format!("`timetable.{name}`: {e}"))),
        Some((Ok(from), Ok(to))) if to <= from => {
            let text = format!("`timetable.{name}`: a lesson ends at {to}, not after {from}");
            let hint = "write when it begins, then when it ends; 1 o'clock is 13:00";
            Err(Message::mistake(text).label(format!("expected an end after {from}")).hint(hint))
        }
        Some((Ok(from), Ok(to))) => Ok(Slot { from, to }),
    };
    match slot {
        Ok(slot) => {
            if slot.minutes() < LEAST_MINUTES {
                let minutes = words::count(usize::from(slot.minutes()), "minute");
                let short = format!("`timetable.{name}`: {minutes} are too short for a lesson");
                let hint = format!("a lesson takes at least {LEAST_MINUTES} minutes");
                report.say(Message::warning(short).at(&text.place).hint(hint));
            }
            Some(text.with(slot))
        }
        Err(message) => {
            report.say(message.at(&text.place));
            None
        }
    }
}

pub fn closures(root: &Table, report: &mut Report) -> Vec<Spot<Closing>> {
    let tables = root.tables("closure", report);
    tables.into_iter().filter_map(|table| read_closure(table, report)).collect()
}

fn read_closure(table: Table, report: &mut Report) -> Option<Spot<Closing>> {
    let days = days(&table, report);
    let after = clock(&table, "after", report);
    let before = clock(&table, "before", report);
    let because = table.text("because", report).map(|s| s.value).unwrap_or_default();
    if let (Some(after), Some(before)) = (&after, &before)
        && before.value <= after.value
    {
        let text = format!("a closure from {} to {} closes nothing", after.value, before.value);
        let label = format!("expected a time after {}", after.value);
        let message = Message::mistake(text).at(&before.place).label(label);
        report.say(message.hint("closed is what lies between `after` and `before`"));
    }
    table.finish(report);
    let days = days?;
    let (from, to) = days.value;
    let (after, before) = (after.map(|s| s.value), before.map(|s| s.value));
    Some(days.with(Closing { from, to, after, before, because, from_calendar: false }))
}

pub fn openings(root: &Table, report: &mut Report) -> Vec<OpeningPart> {
    let tables = root.tables("opening", report);
    tables.into_iter().filter_map(|table| read_opening(table, report)).collect()
}

fn read_opening(table: Table, report: &mut Report) -> Option<OpeningPart> {
    let days = days(&table, report);
    let _why = table.text("because", report);
    table.finish(report);
    Some(OpeningPart { days: days? })
}

pub fn calendars(root: &Table, report: &mut Report) -> Vec<CalendarFile> {
    let tables = root.tables("calendar", report);
    tables.into_iter().filter_map(|table| read_calendar(table, report)).collect()
}

fn read_calendar(table: Table, report: &mut Report) -> Option<CalendarFile> {
    if !table.has("file") {
        table.missing("file", "file = \"holidays.ics\"", report);
    }
    let file = table.text("file", report);
    if let Some(file) = &file {
        check_beside(file, report);
    }
    let one = table.has("matching").then(|| table.text("matching", &mut Report::new()));
    let matching = match one.flatten() {
        Some(one) => vec![one],
        None => table.texts("matching", report).unwrap_or_default(),
    };
    table.finish(report);
    Some(CalendarFile { file: file?, matching })
}
