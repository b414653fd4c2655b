//! Every pack of a term, as the makers and the lesson room make them.

use indexmap::IndexMap;
use rungwise::calendar::lay_out;
use rungwise::curriculum::{frameworks, our_ladder};
use rungwise::lesson::{Findings, Occasion, Pack, compose};
use rungwise::plan::{Beside, Plan, PlanFile};
use rungwise::report::{Report, Source};
use rungwise::schedule::{Outcome, solve};
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

/// The packs of a term in this house style: lines of the plan's `[style]`.
pub fn packs(style: &str) -> Vec<Pack> {
    let text = format!("{PLAN}\n[style]\n{style}\n");
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
    let findings = Findings::default();
    let pack = |number: u32| {
        let occasion = Occasion {
            plan: &plan,
            lessons: &schedule.lessons,
            calendar: &calendar,
            number,
            version: "A",
            draft: false,
            findings: &findings,
            swaps: &IndexMap::new(),
        };
        compose(&occasion).unwrap_or_else(|fault| panic!("lesson {number}: {fault}"))
    };
    schedule.lessons.iter().map(|lesson| pack(lesson.number)).collect()
}
