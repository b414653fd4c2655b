//! Plans as teachers might write them, right and wrong.

mod mistakes;
mod wishes;

use super::{Beside, LessonKind, PaperSize, Plan, PlanFile, TestWish};
use crate::calendar::{Clock, Closing};
use crate::curriculum::{Framework, Ladder, Lessons, read_ladder};
use crate::method::Written;
use crate::number::Grouping;
use crate::report::{Report, Source};
use indexmap::IndexMap;
use std::sync::Arc;

pub const LADDER: &str = r#"
[[skill]]
id = "times-ten"
lessons = { least = 1, preferred = 1, most = 2 }

[[skill]]
id = "rounding"
needs = ["times-ten"]
lessons = { least = 1, preferred = 2, most = 3 }

[[skill]]
id = "long-two-by-two"
needs = ["rounding"]
lessons = { least = 2, preferred = 3, most = 4 }
"#;

/// The least a plan must say.
const LEAST: &str = r#"
[class]
name = "Class 5"

[term]
starts = 2027-01-11
ends = 2027-02-05

[timetable]
monday = ["09:10-09:50"]

[unit]
ladder = "small.toml"
teach = ["long-two-by-two"]
"#;

pub fn ladder(text: &str) -> Arc<Ladder> {
    let mut report = Report::new();
    let read = read_ladder(&Source::shared("small.toml", text), &mut report);
    Arc::new(read.unwrap_or_else(|| panic!("{}", report.to_text())))
}

pub fn beside(ladder_text: &str) -> Beside {
    let framework = |name: &str| {
        let (name, title) = (name.to_owned(), name.to_uppercase());
        let outcomes = IndexMap::new();
        let framework =
            Framework { name, title, source: String::new(), licence: String::new(), outcomes };
        (framework.name.clone(), Arc::new(framework))
    };
    Beside {
        ladder: Some(ladder(ladder_text)),
        calendars: Vec::new(),
        pupils: None,
        frameworks: ["ccssm", "england-2013"].into_iter().map(framework).collect(),
    }
}

/// Reads and checks; what was said about it beside.
pub fn read(text: &str, beside: &Beside) -> (Option<Plan>, String) {
    let mut report = Report::new();
    let file = PlanFile::read(&Source::shared("plan.toml", text), &mut report);
    let plan = file.and_then(|file| Plan::check(&file, beside, &mut report));
    (plan, report.to_text())
}

/// The plan of a text that has no mistakes, with this ladder.
pub fn plan(text: &str, ladder_text: &str) -> Plan {
    let (plan, said) = read(text, &beside(ladder_text));
    plan.unwrap_or_else(|| panic!("{said}"))
}

/// What is said about the least plan with a change.
pub fn said(from: &str, to: &str) -> String {
    assert!(LEAST.contains(from), "{from}");
    read(&LEAST.replacen(from, to, 1), &beside(LADDER)).1
}
/// What is said about the least plan with lines added.
pub fn said_with(lines: &str) -> String {
    read(&format!("{LEAST}\n{lines}"), &beside(LADDER)).1
}
fn plan_with(lines: &str) -> Plan {
    plan(&format!("{LEAST}\n{lines}"), LADDER)
}
fn clock(text: &str) -> Clock {
    text.parse().expect("a time")
}

#[test]
fn the_least_plan_gets_every_default() {
    let (plan, said) = read(LEAST, &beside(LADDER));
    let plan = plan.expect("a plan");
    assert_eq!(said, "");
    let class = &plan.class;
    assert_eq!((class.key.as_str(), class.school.as_str(), class.pace), ("Class 5", "", 100));
    assert_eq!((class.pupils, class.pupil_names.len(), class.zone), (30, 30, None));
    assert_eq!(class.pupil_names[29], "30");
    assert_eq!(plan.term.school_days, [true, true, true, true, true, false, false]);
    assert_eq!((plan.unit.test, plan.unit.revision), (TestWish::Last, 2));
    assert_eq!((plan.unit.catch_up, plan.unit.fixed.len()), (None, 0));
    assert_eq!(plan.unit.lessons.len(), 3);
    assert_eq!((plan.costs.clone(), plan.paper), (super::Costs::default(), PaperSize::A4));
    assert_eq!(plan.style, crate::method::HouseStyle::default());
    let frameworks: Vec<&str> = plan.frameworks.iter().map(|f| f.name.as_str()).collect();
    assert_eq!(frameworks, ["ccssm"]);
}

#[test]
fn a_plan_with_every_key_is_read_whole() {
    let text = r#"
[class]
name = "Class 5 Kingfisher"
school = "Harbour Lane School"
key = "7f3a-kingfisher"
pupils = 32
pace = 1.2
zone = "Europe/London"

[term]
starts = 2027-01-11
ends = 2027-04-02
school-days = ["sunday", "monday", "wednesday"]

[timetable]
monday = ["13:00-13:40", "09:10-09:50"]
wednesday = ["11:00-12:20"]

[[closure]]
from = 2027-02-15
to = 2027-02-19
because = "half-term"

[[closure]]
on = 2027-03-03
after = "09:30"
before = "10:30"

[[opening]]
from = 2027-02-28
to = 2027-03-01

[[opening]]
on = 2027-03-15
because = "we make up a day"

[unit]
ladder = "small.toml"
secure = ["times-ten"]
teach = ["long-two-by-two"]
leave-out = ["rounding"]
test = 2027-03-24
revision = 3
catch-up = 4
fixed = [
    { date = 2027-02-24, kind = "catch-up" },
    { date = 2027-03-01, starts = "13:00", kind = "teach", skill = "rounding" },
]

[unit.lessons]
long-two-by-two = { preferred = 5 }
rounding = { least = 1, preferred = 1, most = 1 }

[costs]
left-out = 0
long-run-limit = 2
order = 1000000

[style]
grouping = "indian"
paper = "letter"
method = ["grid", "long"]
carries = "above"
zero-row = "write"
first-row = "highest"
ones = "units"
carry = "regroup"
framework = ["england-2013", "ccssm"]

[[own]]
skill = "long-two-by-two"
part = 5
example = ["34 x 27", "40×56"]
exit-check = ["12 * 34"]

[[resource]]
skill = "rounding"
text = "Number book, page 48"
"#;
    let (plan, said) = read(text, &beside(LADDER));
    assert_eq!(said, "");
    let plan = plan.expect("a plan");
    assert_eq!((plan.class.pace, plan.class.zone), (120, Some(chrono_tz::Europe::London)));
    assert_eq!(plan.term.school_days, [true, false, true, false, false, false, true]);
    assert_eq!(plan.timetable.slots[&0][0].from, clock("09:10"), "in order of time");
    let half_term = Closing::days(day("2027-02-15"), day("2027-02-19"), "half-term");
    let assembly = Closing {
        after: Some(clock("09:30")),
        before: Some(clock("10:30")),
        ..Closing::days(day("2027-03-03"), day("2027-03-03"), "")
    };
    assert_eq!(plan.closings, [half_term, assembly]);
    assert_eq!(plan.openings, [day("2027-02-28"), day("2027-03-01"), day("2027-03-15")]);
    assert_eq!(plan.unit.test, TestWish::On(day("2027-03-24")));
    assert_eq!((plan.unit.revision, plan.unit.catch_up), (3, Some(4)));
    assert_eq!(plan.unit.fixed[0].kind, LessonKind::CatchUp);
    assert_eq!(plan.unit.fixed[1].skill.as_deref(), Some("rounding"));
    assert_eq!(plan.unit.fixed[1].starts, Some(clock("13:00")));
    let lessons = |least, preferred, most| Lessons { least, preferred, most };
    assert_eq!(plan.unit.lessons["long-two-by-two"], lessons(2, 5, 5));
    assert_eq!(plan.unit.lessons["rounding"], lessons(1, 1, 1));
    assert_eq!(plan.unit.lessons["times-ten"], lessons(1, 1, 2));
    let costs = &plan.costs;
    assert_eq!(
        [costs.left_out, costs.long_run_limit, costs.order, costs.short],
        [0, 2, 1_000_000, 500]
    );
    assert_eq!(plan.style.method, [Written::Grid, Written::Long]);
    assert_eq!((plan.style.grouping, plan.paper), (Grouping::Indian, PaperSize::Letter));
    assert_eq!(plan.own[0].example, [(34, 27), (40, 56)]);
    assert_eq!((plan.own[0].part, plan.own[0].exit_check.as_slice()), (Some(5), &[(12, 34)][..]));
    assert_eq!(plan.resources[0].text, "Number book, page 48");
    let frameworks: Vec<&str> = plan.frameworks.iter().map(|f| f.name.as_str()).collect();
    assert_eq!(frameworks, ["england-2013", "ccssm"]);
}

fn day(text: &str) -> chrono::NaiveDate {
    text.parse().expect("a date")
}

#[test]
fn a_plan_cut_off_anywhere_or_with_a_letter_changed_never_stops_the_reader() {
    for end in 0..LEAST.len() {
        read(&LEAST[..end], &beside(LADDER));
        let changed = format!("{}\u{0}{}", &LEAST[..end], &LEAST[end + 1..]);
        read(&changed, &beside(LADDER));
        let doubled = format!("{}[[{}", &LEAST[..end], &LEAST[end..]);
        read(&doubled, &beside(LADDER));
    }
}
