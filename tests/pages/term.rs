//! Every pack of a term, as the makers and the lesson room make them.

use chrono::NaiveDate;
use indexmap::IndexMap;
use rungwise::calendar::{Calendar, lay_out};
use rungwise::curriculum::{frameworks, our_ladder};
use rungwise::lesson::{Findings, Met, Occasion, Pack, compose_after, note_met};
use rungwise::paper::sheet::Sheet;
use rungwise::paper::{self, Overview};
use rungwise::plan::{Beside, Plan, PlanFile};
use rungwise::report::{Report, Source};
use rungwise::schedule::{Lesson, Outcome, solve};
use std::sync::Arc;

const PLAN: &str = r#"
[class]
name = "Class 5 Kingfisher"
school = "Harbour Lane School"
pupils = 32

[term]
starts = 2027-01-11
ends = 2027-04-02

[timetable]
monday = ["09:10-09:50"]
tuesday = ["09:10-09:50"]
wednesday = ["11:00-12:20"]
thursday = ["11:00-11:40"]
friday = ["09:10-09:40"]

[unit]
ladder = "multiplication"
secure = ["facts-to-ten-by-ten"]
teach = ["long-four-by-three", "story-two-step"]
"#;

/// A class's term: its plan, its days and its lessons.
pub struct Scheduled {
    pub plan: Plan,
    pub calendar: Calendar,
    pub lessons: Vec<Lesson>,
}

/// The term of a class that writes in this house style (lines of the plan's `[style]`), with
/// more lines of the plan.
pub fn scheduled(style: &str, more: &str) -> Scheduled {
    let text = format!("{PLAN}\n[style]\n{style}\n{more}\n");
    let mut report = Report::new();
    let source = Source::shared("plan.toml", text);
    let file = PlanFile::read(&source, &mut report).expect("a plan");
    let beside = Beside {
        ladder: our_ladder("multiplication").map(Arc::new),
        calendars: Vec::new(),
        pupils: None,
        frameworks: frameworks(),
    };
    let plan = Plan::check(&file, &beside, &mut report);
    let plan = plan.unwrap_or_else(|| panic!("{}", report.to_text()));
    let calendar = lay_out(&plan.term, &plan.timetable, &plan.closings, &plan.openings, &[]);
    let Ok(Outcome::Fits(schedule)) = solve(&plan, &calendar) else { panic!("it does not fit") };
    Scheduled { plan, calendar, lessons: schedule.lessons }
}

/// The packs of a term.
pub fn packs(style: &str) -> Vec<Pack> {
    let Scheduled { plan, calendar, lessons } = scheduled(style, "");
    let findings = Findings::default();
    let mut met = Met::default();
    let mut pack = |number: u32| {
        let occasion = Occasion {
            plan: &plan,
            lessons: &lessons,
            calendar: &calendar,
            number,
            version: "A",
            draft: false,
            findings: &findings,
            swaps: &IndexMap::new(),
        };
        let pack = compose_after(&occasion, &met);
        let pack = pack.unwrap_or_else(|fault| panic!("lesson {number}: {fault}"));
        note_met(&mut met, &pack);
        pack
    };
    lessons.iter().map(|lesson| pack(lesson.number)).collect()
}

/// The term overview in the middle of a term with a week off and a day lost.
pub fn overview(style: &str) -> Sheet {
    let closed = "[[closure]]\nfrom = 2027-02-15\nto = 2027-02-19\nbecause = \"half-term\"\n\
                  [[closure]]\non = 2027-03-04\nbecause = \"sports morning\"\n\
                  [[closure]]\non = 2027-03-11\nafter = \"09:00\"\nbecause = \"an assembly\"";
    let Scheduled { plan, calendar, lessons } = scheduled(style, closed);
    let today = NaiveDate::from_ymd_opt(2027, 3, 8).expect("a date");
    let taught: Vec<u32> = lessons.iter().filter(|l| l.date < today).map(|l| l.number).collect();
    let taught = taught.as_slice();
    let overview = Overview { plan: &plan, calendar: &calendar, lessons: &lessons, taught, today };
    let bytes = paper::term(&overview).unwrap_or_else(|refusal| panic!("{refusal}"));
    assert!(bytes.starts_with(b"%PDF"));
    if let Ok(folder) = std::env::var("RUNGWISE_LOOK") {
        #[allow(clippy::disallowed_methods)] // a test may write files
        std::fs::write(format!("{folder}/term.pdf"), bytes).expect("a file");
    }
    paper::term_sheet(&overview)
}
