//! A class, a term and stand-in makers to test composing with.

use super::bench::Makers;
use super::{Findings, Occasion, Pack, compose};
use crate::calendar::{Calendar, Clock, Slot, Term, Timetable, lay_out};
use crate::curriculum::our_ladder;
use crate::exercise::makers::{Met, Request, Setting, Spot};
use crate::exercise::{Given, Item, Kind, Likely, Profile, Space, Working};
use crate::method::{HouseStyle, long};
use crate::plan::{Class, Costs, LessonKind, PaperSize, Plan, TestWish, Unit};
use crate::schedule::Lesson;
use chrono::NaiveDate;
use indexmap::IndexMap;
use std::collections::BTreeMap;
use std::sync::Arc;

pub fn day(year: i32, month: u32, day: u32) -> NaiveDate {
    NaiveDate::from_ymd_opt(year, month, day).expect("a day")
}

/// A class of 32 with maths every weekday, lessons as long as given.
pub fn plan(minutes: u16) -> Plan {
    let starts: Clock = "09:10".parse().expect("a time");
    let slot = Slot { from: starts, to: starts.plus(minutes) };
    let ladder = our_ladder("multiplication").expect("our ladder");
    let lessons = ladder.skills.values().map(|s| (s.id.clone(), s.lessons)).collect();
    Plan {
        class: Class {
            name: "Class 5 Kingfisher".to_owned(),
            school: "Harbour Lane School".to_owned(),
            key: "7f3a-kingfisher".to_owned(),
            pupils: 32,
            pupil_names: (1..=32).map(|n| n.to_string()).collect(),
            pace: 100,
            zone: None,
        },
        term: Term {
            starts: day(2027, 1, 11),
            ends: day(2027, 4, 2),
            school_days: [true, true, true, true, true, false, false],
        },
        timetable: Timetable { slots: (0..5).map(|d| (d, vec![slot])).collect::<BTreeMap<_, _>>() },
        closings: Vec::new(),
        openings: Vec::new(),
        unit: Unit {
            teach: ladder.skills.keys().cloned().collect(),
            secure: vec!["facts-to-ten-by-ten".to_owned()],
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
        paper: PaperSize::default(),
        frameworks: Vec::new(),
        ladder: Arc::new(ladder),
        own: Vec::new(),
        resources: Vec::new(),
        stories: Vec::new(),
    }
}

/// The plan's calendar.
pub fn calendar(plan: &Plan) -> Calendar {
    lay_out(&plan.term, &plan.timetable, &plan.closings, &plan.openings, &[])
}

/// The pack of the plain term's first lesson of a skill, as our makers make it.
pub fn first_lesson_of(skill: &str) -> (Plan, Pack) {
    let plan = plan(40);
    let lessons = term(&plan, 40);
    let calendar = calendar(&plan);
    let number = lessons.iter().find(|l| l.skill.as_deref() == Some(skill)).expect("taught");
    let occasion = Occasion {
        plan: &plan,
        lessons: &lessons,
        calendar: &calendar,
        number: number.number,
        version: "A",
        draft: false,
        findings: &Findings::default(),
        swaps: &IndexMap::new(),
    };
    let pack = compose(&occasion).expect("a pack");
    (plan, pack)
}

/// What fills a period, before it has one.
type Content = (LessonKind, Option<String>, Option<u32>, Option<u32>);

/// A term laid out by hand: skills in the ladder's order, a catch-up after every eleven lessons, two
/// revisions, the test, and two catch-ups after it; on every weekday from January on but for a
/// week in February.
pub fn term(plan: &Plan, minutes: u16) -> Vec<Lesson> {
    let mut contents: Vec<Content> = Vec::new();
    for id in plan.ladder.in_order() {
        if plan.unit.secure.iter().any(|s| s == id) {
            continue;
        }
        let of = u32::from(plan.ladder.skills[id].lessons.preferred);
        for part in 1..=of {
            contents.push((LessonKind::Teach, Some(id.to_owned()), Some(part), Some(of)));
            if contents.len().is_multiple_of(12) {
                contents.push((LessonKind::CatchUp, None, None, None));
            }
        }
    }
    contents.push((LessonKind::Revision, None, Some(1), Some(2)));
    contents.push((LessonKind::Revision, None, Some(2), Some(2)));
    contents.push((LessonKind::UnitTest, None, None, None));
    contents.push((LessonKind::CatchUp, None, None, None));
    contents.push((LessonKind::CatchUp, None, None, None));
    let holiday = day(2027, 2, 15)..=day(2027, 2, 19);
    let weekday = |d: &NaiveDate| plan.timetable.slots.contains_key(&weekday_index(*d));
    let days = plan.term.starts.iter_days().filter(weekday).filter(|d| !holiday.contains(d));
    days.zip(contents)
        .zip(1..)
        .map(|((date, (kind, skill, part, of)), number)| Lesson {
            number,
            date,
            starts: "09:10".parse().expect("a time"),
            minutes,
            kind,
            skill,
            part,
            of,
        })
        .collect()
}

fn weekday_index(date: NaiveDate) -> u8 {
    use chrono::Datelike;
    u8::try_from(date.weekday().num_days_from_monday()).expect("below 7")
}

/// Makers that know all skills but those named, with items of the plainest sort: products whose
/// factors follow from the request's name, none twice in a term.
pub struct Plain {
    /// Skills that cannot be made.
    pub unknown: Vec<&'static str>,
}

impl Makers for Plain {
    fn known(&self, maker: &str) -> bool {
        !self.unknown.contains(&maker)
    }
    fn make(
        &self,
        maker: &str,
        request: &Request,
        setting: &Setting,
        _: &Met,
    ) -> Result<Vec<Item>, String> {
        let name = format!(
            "{maker} {} {} {:?} {}",
            request.skill, request.part, request.spot, request.name
        );
        let mut stream = setting.seed.child(&name).stream();
        let each = seconds(maker, request.spot, request.profile) * setting.pace / 100;
        let fit = usize::try_from(request.seconds / each).expect("small");
        let count = fit.clamp(request.least.min(request.most), request.most);
        let mut pairs = request.own.to_vec();
        while pairs.len() < count {
            pairs.push((stream.number(1000..=999_999), stream.number(11..=999)));
        }
        pairs.truncate(count);
        Ok(pairs.into_iter().map(|(a, b)| item(request, setting, a, b, each)).collect())
    }
}

fn seconds(maker: &str, spot: Spot, profile: Profile) -> u32 {
    let base = match maker {
        _ if spot == Spot::WarmUp => 12,
        m if m.starts_with("long-four-by-three") => 150,
        m if m.starts_with("long") || m.starts_with("zeros-in-multiplier") => 80,
        m if m.starts_with("short") || m.starts_with("grid") || m.starts_with("story") => 40,
        _ => 18,
    };
    let base = if spot == Spot::ExitCheck { base.min(90) } else { base };
    match profile {
        Profile::Learning => base * 3 / 2,
        Profile::Typical => base,
        Profile::Fluent => base * 3 / 5,
    }
}

fn item(request: &Request, setting: &Setting, a: u64, b: u64, seconds: u32) -> Item {
    let style = &setting.style;
    let working = long(a, b, style);
    let guided = matches!(request.spot, Spot::Guided | Spot::Support);
    let given = if guided { Given::AllButLast(1) } else { Given::Nothing };
    Item {
        id: String::new(),
        skill: request.skill.to_owned(),
        kind: if request.spot == Spot::WarmUp { Kind::Mental } else { Kind::Written },
        prompt: format!("{}\u{a0}×\u{a0}{}", style.number(a), style.number(b)),
        expression: Some(format!("{a}*{b}")),
        answer: (a * b).to_string(),
        accept: None,
        choices: Vec::new(),
        figure: None,
        working: Working::Long(working),
        seconds,
        likely: vec![Likely {
            answer: (a + b).to_string(),
            patterns: vec!["a stand-in pattern".to_owned()],
            shows: "added".to_owned(),
        }],
        space: Space::Squares { columns: 10, rows: 6, given, estimate: false, compare: false },
        purpose: String::new(),
    }
}
