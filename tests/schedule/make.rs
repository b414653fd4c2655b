//! Plans and calendars by hand: a few words each, for tests.

use chrono::{Datelike, Days, NaiveDate};
use rungwise::calendar::{Calendar, Clock, Period, Slot, Term, Timetable};
use rungwise::curriculum::{Ladder, Lessons, Skill};
use rungwise::method::HouseStyle;
use rungwise::plan::{Class, Costs, Fixed, LessonKind, PaperSize, Plan, TestWish, Unit};
use rungwise::schedule::{Outcome, Schedule, solve};
use std::sync::Arc;

pub fn day(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}

pub fn at(text: &str) -> Clock {
    text.parse().expect("a time")
}

/// A skill: its id, the ids it needs, least/preferred/most, weight.
pub fn skill(id: &str, needs: &str, lessons: [u8; 3], weight: u8) -> Skill {
    let [least, preferred, most] = lessons;
    Skill {
        id: id.to_owned(),
        title: id.to_uppercase(),
        short: id.to_owned(),
        needs: needs.split_whitespace().map(str::to_owned).collect(),
        lessons: Lessons { least, preferred, most },
        weight,
        optional: false,
        outcomes: Vec::new(),
        objective: String::new(),
        success: Vec::new(),
        vocabulary: Vec::new(),
        say: Vec::new(),
        goes_wrong: Vec::new(),
        maker: String::new(),
    }
}

pub fn optional(skill: Skill) -> Skill {
    Skill { optional: true, ..skill }
}

/// A term under construction.
#[derive(Debug, Clone)]
pub struct Make {
    pub plan: Plan,
    pub closed: Vec<(NaiveDate, NaiveDate)>,
    pub lost: Vec<(NaiveDate, Clock)>,
}

impl Make {
    /// A term, its skills, and its week: "mon 09:00-09:40, wed 09:00-10:20".
    pub fn term(starts: &str, ends: &str, week: &str, skills: Vec<Skill>) -> Make {
        let mut timetable = Timetable::default();
        for entry in week.split(", ") {
            let (weekday, time) = entry.split_once(' ').expect("a weekday and a time");
            let (from, to) = time.split_once('-').expect("from and to");
            let weekday: chrono::Weekday = weekday.parse().expect("a weekday");
            let weekday = u8::try_from(weekday.num_days_from_monday()).expect("at most 6");
            timetable.slots.entry(weekday).or_default().push(Slot { from: at(from), to: at(to) });
        }
        let lessons = skills.iter().map(|s| (s.id.clone(), s.lessons)).collect();
        let teach = skills.iter().map(|s| s.id.clone()).collect();
        let plan = Plan {
            class: Class {
                name: "Class Teal".to_owned(),
                school: String::new(),
                key: "teal".to_owned(),
                pupils: 30,
                pupil_names: Vec::new(),
                pace: 100,
                zone: None,
            },
            term: Term {
                starts: day(starts),
                ends: day(ends),
                school_days: [true, true, true, true, true, false, false],
            },
            timetable,
            closings: Vec::new(),
            openings: Vec::new(),
            unit: Unit {
                teach,
                secure: Vec::new(),
                leave_out: Vec::new(),
                test: TestWish::Last,
                revision: 2,
                catch_up: None,
                fixed: Vec::new(),
                lessons,
            },
            costs: Costs::default(),
            style: HouseStyle::default(),
            methods_named: false,
            paper: PaperSize::A4,
            frameworks: Vec::new(),
            ladder: Arc::new(Ladder {
                name: "made".to_owned(),
                title: String::new(),
                skills: skills.into_iter().map(|s| (s.id.clone(), s)).collect(),
            }),
            own: Vec::new(),
            resources: Vec::new(),
            stories: Vec::new(),
        };
        Make { plan, closed: Vec::new(), lost: Vec::new() }
    }

    /// Closes whole days.
    pub fn close(mut self, from: &str, to: &str) -> Make {
        self.closed.push((day(from), day(to)));
        self
    }

    pub fn revision(mut self, revision: u32) -> Make {
        self.plan.unit.revision = revision;
        self
    }

    pub fn catch_up(mut self, least: u32) -> Make {
        self.plan.unit.catch_up = Some(least);
        self
    }

    pub fn teach(mut self, ids: &str) -> Make {
        self.plan.unit.teach = ids.split_whitespace().map(str::to_owned).collect();
        self
    }

    pub fn test(mut self, test: TestWish) -> Make {
        self.plan.unit.test = test;
        self
    }

    pub fn fix(mut self, date: &str, kind: LessonKind, skill: Option<&str>) -> Make {
        let skill = skill.map(str::to_owned);
        self.plan.unit.fixed.push(Fixed { date: day(date), starts: None, kind, skill });
        self
    }

    /// The periods, worked out here without the calendar room: whole days, doubles, breaks.
    pub fn calendar(&self) -> Calendar {
        let term = &self.plan.term;
        let mut lengths: Vec<u16> =
            self.plan.timetable.slots.values().flatten().map(length).collect();
        lengths.sort_unstable();
        let unit_length = lengths[(lengths.len() - 1) / 2];
        let days = || term.starts.iter_days().take_while(|d| *d <= term.ends);
        let open = |d: &NaiveDate| {
            let weekday = usize::try_from(d.weekday().num_days_from_monday()).expect("at most 6");
            term.school_days[weekday] && !self.closed.iter().any(|(a, b)| a <= d && d <= b)
        };
        let school_days: Vec<NaiveDate> = days().filter(open).collect();
        let mut periods: Vec<Period> = Vec::new();
        for date in &school_days {
            for slot in self.plan.timetable.on(date.weekday()) {
                let whole = length(slot);
                let parts = if 5 * whole >= 9 * unit_length { 2 } else { 1 };
                for part in 0..parts {
                    let minutes = whole / parts;
                    let starts = slot.from.plus(part * minutes);
                    if minutes >= 20 && !self.lost.contains(&(*date, starts)) {
                        let before = periods.last().map(|p| p.date);
                        let break_before = before.is_some_and(|b| is_break(&school_days, b, *date));
                        periods.push(Period { date: *date, starts, minutes, break_before });
                    }
                }
            }
        }
        let closed = days()
            .filter(|d| self.closed.iter().any(|(a, b)| a <= d && d <= b))
            .map(|d| (d, "closed".to_owned()))
            .collect();
        Calendar { periods, unit_length, school_days, closed }
    }

    /// The schedule, which must exist.
    pub fn solved(&self) -> Schedule {
        match solve(&self.plan, &self.calendar()).expect("no fault") {
            Outcome::Fits(schedule) => *schedule,
            clash => panic!("it does not fit: {clash:?}"),
        }
    }
}

fn length(slot: &Slot) -> u16 {
    slot.to.minutes() - slot.from.minutes()
}

fn is_break(school_days: &[NaiveDate], before: NaiveDate, after: NaiveDate) -> bool {
    let mut day = before + Days::new(1);
    let mut away = 0;
    while day < after {
        away += usize::from(!school_days.contains(&day));
        day = day + Days::new(1);
    }
    away >= 4
}

/// A schedule in a line: a skill's id for a lesson of it, `-` catch-up, `R` revision, `T` test.
pub fn line(schedule: &Schedule) -> String {
    let word = |l: &rungwise::schedule::Lesson| match l.kind {
        LessonKind::Teach => l.skill.clone().expect("a skill"),
        LessonKind::CatchUp => "-".to_owned(),
        LessonKind::Revision => "R".to_owned(),
        LessonKind::UnitTest => "T".to_owned(),
    };
    schedule.lessons.iter().map(word).collect::<Vec<_>>().join(" ")
}

/// The terms that are not zero: "short 1000, thread-cut 5".
pub fn bill(schedule: &Schedule) -> String {
    let terms = schedule.cost.terms.iter().filter(|(_, v)| **v != 0);
    terms.map(|(name, v)| format!("{name} {v}")).collect::<Vec<_>>().join(", ")
}
