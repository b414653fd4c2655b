//! `schedule.toml`: the schedule in force, one lesson a line, readable and diffable.

use crate::calendar::{Clock, Period};
use crate::plan::LessonKind;
use crate::report::{Message, Report, Source, Table};
use crate::schedule::{Cost, LeftOut, Lesson, Proof, Schedule};
use indexmap::IndexMap;
use std::fmt::Write;
use std::sync::Arc;

/// What the file holds.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct ScheduleFile {
    /// What the plan said when the schedule was made, as a hash: tells when it has changed since.
    pub made_from: String,
    /// The next free lesson number.
    pub next_number: u32,
    /// The schedule.
    pub schedule: Schedule,
}

const KINDS: [(&str, LessonKind); 4] = [
    ("teach", LessonKind::Teach),
    ("catch-up", LessonKind::CatchUp),
    ("revision", LessonKind::Revision),
    ("unit-test", LessonKind::UnitTest),
];
const PROOFS: [(&str, Proof); 2] = [("optimal", Proof::Optimal), ("bound", Proof::Bound)];
const MOST: u32 = 9999;

/// The name of a kind of lesson in files.
pub fn kind_name(kind: LessonKind) -> &'static str {
    KINDS.iter().find(|(_, k)| *k == kind).map_or("", |(name, _)| name)
}

impl ScheduleFile {
    /// The file's text.
    pub fn to_text(&self) -> String {
        let Schedule { periods, lessons, left_out, cost, proof, bound, spare_periods } =
            &self.schedule;
        let proof = PROOFS.iter().find(|(_, p)| p == proof).map_or("", |(name, _)| name);
        let mut out = format!(
            "# The schedule in force, written by rungwise. Lesson numbers are names for life.\n\
             # To change it edit plan.toml and run `rungwise reschedule`; edits here are overwritten.\n\
             made-from = \"{}\"\nnext-number = {}\nproof = \"{proof}\"\nbound = {bound}\n\
             spare-periods = {spare_periods}\n\nlessons = [\n",
            self.made_from, self.next_number
        );
        for (lesson, period) in lessons.iter().zip(periods) {
            out.push_str(&line(lesson, period.break_before));
        }
        out.push_str("]\n\nleft-out = [\n");
        for LeftOut { skill, because } in left_out {
            let because = toml::Value::String(because.clone());
            writeln!(out, "  {{ skill = \"{skill}\", because = {because} }},").ok();
        }
        writeln!(out, "]\n\n[cost]\ntotal = {}", cost.total).ok();
        for (term, value) in &cost.terms {
            writeln!(out, "{term} = {value}").ok();
        }
        out
    }

    /// Reads the file; everything that makes it no schedule is said with its place.
    ///
    /// # Errors
    /// It was edited into nonsense.
    pub fn read(source: &Arc<Source>) -> Result<ScheduleFile, Report> {
        let mut report = Report::new();
        let file = read(source, &mut report);
        match file {
            Some(file) if !report.has_mistakes() => Ok(file),
            _ => {
                let hint = "`rungwise undo` brings back the schedule before the last change; \
                            `rungwise plan --afresh` makes a new one";
                report
                    .say(Message::notice("schedule.toml is written by rungwise alone").hint(hint));
                Err(report)
            }
        }
    }
}

fn line(lesson: &Lesson, break_before: bool) -> String {
    let mut out = format!(
        "  {{ number = {}, date = {}, starts = \"{}\", minutes = {}, kind = \"{}\"",
        lesson.number,
        lesson.date,
        lesson.starts,
        lesson.minutes,
        kind_name(lesson.kind)
    );
    if let Some(skill) = &lesson.skill {
        write!(out, ", skill = \"{skill}\"").ok();
    }
    if let (Some(part), Some(of)) = (lesson.part, lesson.of) {
        write!(out, ", part = {part}, of = {of}").ok();
    }
    if break_before {
        out.push_str(", after-break = true");
    }
    out + " },\n"
}

fn read(source: &Arc<Source>, report: &mut Report) -> Option<ScheduleFile> {
    let file = Table::read(source, report);
    let made_from = file.text("made-from", report).map(|s| s.value);
    let next_number = file.whole("next-number", 1..=MOST, report).map(|s| s.value);
    let proof = file.choice("proof", &PROOFS, report).map(|s| s.value);
    let bound = file.whole("bound", 0..=i64::MAX, report).map(|s| s.value);
    let spare = file.whole("spare-periods", 0..=MOST, report).map(|s| s.value);
    let rows: Vec<(Lesson, bool)> =
        file.tables("lessons", report).into_iter().filter_map(|t| lesson(t, report)).collect();
    let left_out: Vec<LeftOut> =
        file.tables("left-out", report).into_iter().filter_map(|t| left(t, report)).collect();
    let cost = file.table("cost", report).and_then(|t| cost(t, report));
    for (key, present) in [
        ("made-from", made_from.is_some()),
        ("next-number", next_number.is_some()),
        ("proof", proof.is_some()),
        ("bound", bound.is_some()),
        ("spare-periods", spare.is_some()),
        ("cost", cost.is_some()),
        ("lessons", !rows.is_empty()),
    ] {
        if !present && !report.has_mistakes() {
            report.say(
                Message::mistake(format!("schedule.toml: `{key}` is missing")).at(file.place()),
            );
        }
    }
    let next_number = next_number?;
    consistent(&rows, next_number, &file, report);
    file.finish(report);
    let periods = rows
        .iter()
        .map(|(l, break_before)| Period {
            date: l.date,
            starts: l.starts,
            minutes: l.minutes,
            break_before: *break_before,
        })
        .collect();
    let lessons = rows.into_iter().map(|(l, _)| l).collect();
    let schedule = Schedule {
        periods,
        lessons,
        left_out,
        cost: cost?,
        proof: proof?,
        bound: bound?,
        spare_periods: spare?,
    };
    Some(ScheduleFile { made_from: made_from?, next_number, schedule })
}

fn lesson(table: Table, report: &mut Report) -> Option<(Lesson, bool)> {
    let number = table.whole("number", 1..=MOST, report);
    let date = table.date("date", report);
    let starts = table.text("starts", report).and_then(|text| match text.value.parse::<Clock>() {
        Ok(clock) => Some(clock),
        Err(what) => {
            report.say(Message::mistake(what).at(&text.place));
            None
        }
    });
    let minutes = table.whole("minutes", 20_u16..=1440, report);
    let kind = table.choice("kind", &KINDS, report);
    let skill = table.text("skill", report).map(|s| s.value);
    let part = table.whole("part", 1..=MOST, report).map(|s| s.value);
    let of = table.whole("of", 1..=MOST, report).map(|s| s.value);
    let break_before = table.flag("after-break", report).is_some_and(|s| s.value);
    let place = table.place().clone();
    let complete = number.is_some() && date.is_some() && starts.is_some() && kind.is_some();
    table.finish(report);
    if !complete {
        let text = "a lesson needs `number`, `date`, `starts`, `minutes` and `kind`";
        report.say(Message::mistake(text).at(&place));
    }
    let kind = kind?.value;
    if (kind == LessonKind::Teach) != skill.is_some() {
        let text = "a lesson has a `skill` exactly when its kind is `teach`";
        report.say(Message::mistake(text).at(&place));
    }
    let lesson = Lesson {
        number: number?.value,
        date: date?.value,
        starts: starts?,
        minutes: minutes?.value,
        kind,
        skill,
        part,
        of,
    };
    Some((lesson, break_before))
}

fn left(table: Table, report: &mut Report) -> Option<LeftOut> {
    let skill = table.text("skill", report);
    let because = table.text("because", report);
    table.finish(report);
    Some(LeftOut { skill: skill?.value, because: because?.value })
}

fn cost(table: Table, report: &mut Report) -> Option<Cost> {
    let total = table.whole("total", 0..=i64::MAX, report)?.value;
    let keys: Vec<String> =
        table.keys().into_iter().map(|k| k.value).filter(|k| k != "total").collect();
    let mut terms = IndexMap::new();
    for key in keys {
        let value = table.whole(&key, 0..=i64::MAX, report)?.value;
        terms.insert(key, value);
    }
    table.finish(report);
    Some(Cost { total, terms })
}

/// Dates in order, numbers given once and below the next free one.
fn consistent(rows: &[(Lesson, bool)], next_number: u32, file: &Table, report: &mut Report) {
    let place = file.place_of("lessons");
    let mut say = |text: String| report.say(Message::mistake(text).at(&place));
    for pair in rows.windows(2) {
        let (a, b) = (&pair[0].0, &pair[1].0);
        if (a.date, a.starts) >= (b.date, b.starts) {
            say(format!(
                "lesson {} on {} does not come after lesson {} on {}",
                b.number, b.date, a.number, a.date
            ));
        }
    }
    let mut numbers: Vec<u32> = rows.iter().map(|(l, _)| l.number).collect();
    numbers.sort_unstable();
    for pair in numbers.windows(2).filter(|p| p[0] == p[1]) {
        say(format!("two lessons have the number {}", pair[0]));
    }
    if let Some(high) = numbers.last().filter(|n| **n >= next_number) {
        say(format!(
            "`next-number` must be above every lesson's number, and there is lesson {high}"
        ));
    }
}
