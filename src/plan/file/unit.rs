//! `[unit]`, `[costs]`, `[[own]]` and `[[resource]]`.

use super::read::{clock, date, product, say_unquoted};
use crate::calendar::Clock;
use crate::curriculum::LESSONS;
use crate::plan::{Costs, LessonKind, Resource, TestWish};
use crate::report::{Message, Report, Spot, Table};
use chrono::NaiveDate;
use std::ops::RangeInclusive;

/// A weight of the costs.
const COST: RangeInclusive<u32> = 0..=1_000_000;
/// How many lessons of a kind may be asked for; more than a year has school days is a slip.
const ASKED: RangeInclusive<u32> = 0..=400;
const USUAL_REVISION: u32 = 2;

const KINDS: [(&str, LessonKind); 4] = [
    ("teach", LessonKind::Teach),
    ("catch-up", LessonKind::CatchUp),
    ("revision", LessonKind::Revision),
    ("unit-test", LessonKind::UnitTest),
];

/// `[unit]` as written.
#[derive(Debug, Clone)]
pub struct UnitPart {
    pub teach: Vec<Spot<String>>,
    pub secure: Vec<Spot<String>>,
    pub leave_out: Vec<Spot<String>>,
    pub test: TestWish,
    pub revision: u32,
    pub catch_up: Option<u32>,
    pub fixed: Vec<FixedPart>,
    pub lessons: Vec<LessonsPart>,
}

/// One entry of `unit.fixed`.
#[derive(Debug, Clone)]
pub struct FixedPart {
    pub date: NaiveDate,
    pub starts: Option<Clock>,
    pub kind: LessonKind,
    pub skill: Option<Spot<String>>,
}

/// One line of `[unit.lessons]`.
#[derive(Debug, Clone)]
pub struct LessonsPart {
    pub skill: Spot<String>,
    pub place: crate::report::Place,
    pub least: Option<u8>,
    pub preferred: Option<u8>,
    pub most: Option<u8>,
}

/// One `[[own]]`.
#[derive(Debug, Clone)]
pub struct OwnPart {
    pub skill: Spot<String>,
    pub part: Option<Spot<u8>>,
    pub example: Vec<(u64, u64)>,
    pub practice: Vec<(u64, u64)>,
    pub exit_check: Vec<(u64, u64)>,
}

/// The ladder's name and what the unit holds.
pub fn read(root: &Table, report: &mut Report) -> (Option<Spot<String>>, UnitPart) {
    let mut unit = UnitPart {
        teach: Vec::new(),
        secure: Vec::new(),
        leave_out: Vec::new(),
        test: TestWish::Last,
        revision: USUAL_REVISION,
        catch_up: None,
        fixed: Vec::new(),
        lessons: Vec::new(),
    };
    if !root.has("unit") {
        root.missing("unit", "[unit]` with `ladder` and `teach", report);
    }
    let Some(table) = root.table("unit", report) else { return (None, unit) };
    let needed = [("ladder", "ladder = \"multiplication\""), ("teach", "teach = [\"a-skill\"]")];
    for (key, example) in needed {
        if !table.has(key) {
            table.missing(key, example, report);
        }
    }
    let ladder = table.text("ladder", report);
    let teach = table.texts("teach", report);
    if teach.as_ref().is_some_and(Vec::is_empty) {
        let message = Message::mistake("`unit.teach` names no skill").at(&table.place_of("teach"));
        report.say(message.hint("name the skills the unit leads to; what they need comes along"));
    }
    unit.teach = teach.unwrap_or_default();
    unit.secure = table.texts("secure", report).unwrap_or_default();
    unit.leave_out = table.texts("leave-out", report).unwrap_or_default();
    unit.test = read_test(&table, report);
    unit.revision = table.whole("revision", ASKED, report).map_or(USUAL_REVISION, |s| s.value);
    unit.catch_up = table.whole("catch-up", ASKED, report).map(|s| s.value);
    let fixed = table.tables("fixed", report);
    unit.fixed = fixed.into_iter().filter_map(|t| read_fixed(t, report)).collect();
    unit.lessons = read_lessons(&table, report);
    table.finish(report);
    (ladder, unit)
}

fn read_test(table: &Table, report: &mut Report) -> TestWish {
    if table.holds_date("test") {
        return date(table, "test", report).map_or(TestWish::Last, |d| TestWish::On(d.value));
    }
    match table.text("test", &mut Report::new()) {
        Some(text) if text.value == "none" => return TestWish::None,
        Some(text) if text.value.starts_with(|c: char| c.is_ascii_digit()) => {
            say_unquoted("unit.test", &text, report);
        }
        None if !table.has("test") => {}
        _ => {
            let message = Message::mistake("`unit.test` is no date")
                .at(&table.place_of("test"))
                .label("expected a date such as 2027-03-24, or \"none\"");
            report.say(message.hint("take the key away to have the test on the last lesson"));
        }
    }
    TestWish::Last
}

fn read_fixed(table: Table, report: &mut Report) -> Option<FixedPart> {
    for (key, example) in [("date", "date = 2027-02-26"), ("kind", "kind = \"catch-up\"")] {
        if !table.has(key) {
            table.missing(key, example, report);
        }
    }
    let date = date(&table, "date", report);
    let starts = clock(&table, "starts", report).map(|s| s.value);
    let kind = table.choice("kind", &KINDS, report);
    let skill = table.text("skill", report);
    if let (Some(kind), Some(skill)) = (&kind, &skill)
        && kind.value != LessonKind::Teach
    {
        let message = Message::mistake("a fixed lesson names a skill but does not teach")
            .at(&skill.place)
            .label("expected with kind = \"teach\" only");
        report.say(message.hint("take `skill` away, or write `kind = \"teach\"`"));
    }
    table.finish(report);
    Some(FixedPart { date: date?.value, starts, kind: kind?.value, skill })
}

fn read_lessons(unit: &Table, report: &mut Report) -> Vec<LessonsPart> {
    let Some(table) = unit.table("lessons", report) else { return Vec::new() };
    let mut lessons = Vec::new();
    for skill in table.keys() {
        let Some(numbers) = table.table(&skill.value, report) else { continue };
        let mut number = |key| numbers.whole(key, LESSONS, report).map(|s| s.value);
        let (least, preferred, most) = (number("least"), number("preferred"), number("most"));
        let place = table.place_of(&skill.value);
        numbers.finish(report);
        lessons.push(LessonsPart { skill, place, least, preferred, most });
    }
    lessons
}

pub fn costs(root: &Table, report: &mut Report) -> Costs {
    let mut costs = Costs::default();
    let Some(table) = root.table("costs", report) else { return costs };
    let mut weight = |key: &str, cost: &mut u32| {
        if let Some(given) = table.whole(key, COST, report) {
            *cost = given.value;
        }
    };
    weight("left-out", &mut costs.left_out);
    weight("short", &mut costs.short);
    weight("extra", &mut costs.extra);
    weight("starts-before-break", &mut costs.starts_before_break);
    weight("split-by-break", &mut costs.split_by_break);
    weight("cold-return", &mut costs.cold_return);
    weight("long-run", &mut costs.long_run);
    weight("thread-cut", &mut costs.thread_cut);
    weight("bunched", &mut costs.bunched);
    weight("short-start", &mut costs.short_start);
    weight("two-starts", &mut costs.two_starts);
    weight("printed-moved", &mut costs.printed_moved);
    weight("soon-moved", &mut costs.soon_moved);
    weight("moved", &mut costs.moved);
    weight("order", &mut costs.order);
    weight("long-run-limit", &mut costs.long_run_limit);
    table.finish(report);
    costs
}

pub fn own_sums(root: &Table, report: &mut Report) -> Vec<OwnPart> {
    let tables = root.tables("own", report);
    tables.into_iter().filter_map(|table| read_own(table, report)).collect()
}

fn read_own(table: Table, report: &mut Report) -> Option<OwnPart> {
    if !table.has("skill") {
        table.missing("skill", "skill = \"long-four-by-three\"", report);
    }
    let skill = table.text("skill", report);
    let part = table.whole("part", LESSONS, report);
    let example = products(&table, "example", report);
    let practice = products(&table, "practice", report);
    let exit_check = products(&table, "exit-check", report);
    if !["example", "practice", "exit-check"].iter().any(|key| table.has(key)) {
        let message = Message::mistake("`own` holds no sums").at(table.place());
        report.say(message.hint("add `example = [\"3406 x 207\"]`, `practice` or `exit-check`"));
    }
    table.finish(report);
    Some(OwnPart { skill: skill?, part, example, practice, exit_check })
}

fn products(table: &Table, key: &str, report: &mut Report) -> Vec<(u64, u64)> {
    let texts = table.texts(key, report).unwrap_or_default();
    let mut products = Vec::new();
    for text in &texts {
        match product(&text.value) {
            Some(product) => products.push(product),
            None => {
                let path = table.path(key);
                let message = Message::mistake(format!("`{path}`: `{}` is no product", text.value))
                    .at(&text.place)
                    .label("expected two whole numbers of at most six digits");
                report.say(message.hint("write it as \"3406 x 207\""));
            }
        }
    }
    products
}

pub fn resources(root: &Table, report: &mut Report) -> Vec<Spot<Resource>> {
    let tables = root.tables("resource", report);
    tables.into_iter().filter_map(|table| read_resource(table, report)).collect()
}

fn read_resource(table: Table, report: &mut Report) -> Option<Spot<Resource>> {
    let needed =
        [("skill", "skill = \"long-four-by-three\""), ("text", "text = \"Number book, page 48\"")];
    for (key, example) in needed {
        if !table.has(key) {
            table.missing(key, example, report);
        }
    }
    let (skill, text) = (table.text("skill", report), table.text("text", report));
    table.finish(report);
    let (skill, text) = (skill?, text?);
    Some(skill.with(Resource { skill: skill.value.clone(), text: text.value }))
}
