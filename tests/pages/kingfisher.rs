//! The demo's first class, planned as the demo plans it.

use rungwise::calendar::{Calendar, lay_out};
use rungwise::curriculum::{frameworks, our_ladder};
use rungwise::lesson::{Findings, Met, Occasion, Pack, compose_after, note_met};
use rungwise::plan::{Beside, Plan, PlanFile};
use rungwise::report::{Report, Source};
use rungwise::schedule::{Outcome, Schedule, solve};
use std::sync::{Arc, OnceLock};

const PLAN: &str = include_str!("../../plans/kingfisher/plan.toml");

/// A class's plan, the periods of its term and the lessons on them.
pub struct Term {
    pub plan: Plan,
    pub calendar: Calendar,
    pub schedule: Schedule,
}

/// The plan, as the teacher's file has it.
pub fn plan() -> Plan {
    let mut report = Report::new();
    let file = PlanFile::read(&Source::shared("plan.toml", PLAN), &mut report);
    let beside = Beside {
        ladder: our_ladder("multiplication").map(Arc::new),
        calendars: Vec::new(),
        pupils: None,
        frameworks: frameworks(),
    };
    let plan = file.and_then(|file| Plan::check(&file, &beside, &mut report));
    plan.unwrap_or_else(|| panic!("{}", report.to_text()))
}

/// The periods of the plan's term.
pub fn calendar(plan: &Plan) -> Calendar {
    lay_out(&plan.term, &plan.timetable, &plan.closings, &plan.openings, &[])
}

/// The schedule, which is there.
pub fn scheduled(plan: &Plan, calendar: &Calendar) -> Schedule {
    match solve(plan, calendar).expect("no fault") {
        Outcome::Fits(schedule) => *schedule,
        clash => panic!("{clash:?}"),
    }
}

impl Term {
    /// The class with its lessons on their days.
    pub fn planned() -> Term {
        let plan = plan();
        let calendar = calendar(&plan);
        let schedule = scheduled(&plan, &calendar);
        Term { plan, calendar, schedule }
    }

    /// A lesson's pack, as the demo has it: a draft.
    pub fn pack(&self, number: u32) -> Pack {
        self.pack_with(number, "A", &[])
    }

    /// A lesson's pack in this version, each of these items exchanged once.
    pub fn pack_with(&self, number: u32, version: &str, exchanged: &[&str]) -> Pack {
        let place = self.schedule.lessons.iter().position(|l| l.number == number);
        let met = &self.met_before()[place.unwrap_or_else(|| panic!("no lesson {number}"))];
        self.pack_after(met, number, version, exchanged)
    }

    /// What the class has met before each lesson of the term.
    fn met_before(&self) -> &'static [Met] {
        static MET: OnceLock<Vec<Met>> = OnceLock::new();
        MET.get_or_init(|| {
            let mut met = vec![Met::default()];
            for lesson in &self.schedule.lessons {
                let mut after = met[met.len() - 1].clone();
                let pack = self.pack_after(&after, lesson.number, "A", &[]);
                note_met(&mut after, &pack);
                met.push(after);
            }
            met
        })
    }

    fn pack_after(&self, met: &Met, number: u32, version: &str, exchanged: &[&str]) -> Pack {
        let occasion = Occasion {
            plan: &self.plan,
            lessons: &self.schedule.lessons,
            calendar: &self.calendar,
            number,
            version,
            draft: true,
            findings: &Findings::default(),
            swaps: &exchanged.iter().map(|id| ((*id).to_owned(), 1)).collect(),
        };
        compose_after(&occasion, met).unwrap_or_else(|fault| panic!("lesson {number}: {fault}"))
    }

    /// Every pack of the term.
    pub fn packs(&self) -> Vec<Pack> {
        self.schedule.lessons.iter().map(|lesson| self.pack(lesson.number)).collect()
    }

    /// The pack of the lesson that begins a skill.
    pub fn first_of(&self, skill: &str) -> Pack {
        let begins = |l: &&rungwise::schedule::Lesson| {
            l.skill.as_deref() == Some(skill) && l.part == Some(1)
        };
        let lesson = self.schedule.lessons.iter().find(begins);
        self.pack(lesson.unwrap_or_else(|| panic!("no lesson on {skill}")).number)
    }
}
