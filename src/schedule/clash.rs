//! Why nothing fits: the smallest set of wishes that cannot all hold.

use super::problem::{Dropped, Problem, Unposed, Wanted, Weights, catch_ups_wished};
use super::search::{Effort, Search, search};
use super::underway::Underway;
use super::{Lesson, Wish};
use crate::plan::{Fixed, LessonKind, Plan, TestWish};
use crate::words;
use chrono::NaiveDate;

/// Enough to find any schedule or to see that there is none; costs do not matter here.
const EFFORT: Effort = Effort { labels: 60_000, sets: 200_000, beams: [500, 500, 500] };

/// Whether some schedule exists; `None` where that could not be settled.
pub fn fits(wanted: Wanted<'_>, dropped: &Dropped) -> Option<bool> {
    match Problem::pose(wanted, dropped) {
        Err(Unposed::Clash) => Some(false),
        Err(Unposed::Error(_)) => None,
        Ok(mut problem) => {
            problem.costs = Weights::default();
            match search(&problem, EFFORT) {
                Search::Found(_) => Some(true),
                Search::None => Some(false),
                Search::GaveUp => None,
            }
        }
    }
}

/// A wish that can be dropped.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Droppable {
    Revision,
    CatchUp,
    Test,
    Fixed(usize),
    Least(String),
    Must(String),
    LeaveOut(String),
}

impl Droppable {
    fn drop_from(&self, dropped: &mut Dropped) {
        match self {
            Droppable::Revision => dropped.revision = true,
            Droppable::CatchUp => dropped.catch_up = true,
            Droppable::Test => dropped.test = true,
            Droppable::Fixed(at) => drop(dropped.fixed.insert(*at)),
            Droppable::Least(id) => drop(dropped.least.insert(id.clone())),
            Droppable::Must(id) => drop(dropped.must.insert(id.clone())),
            Droppable::LeaveOut(id) => drop(dropped.leave_out.insert(id.clone())),
        }
    }

    fn words(&self, wanted: Wanted<'_>) -> String {
        let plan = wanted.plan;
        match self {
            Droppable::Revision => {
                let count = usize::try_from(plan.unit.revision).unwrap_or(0);
                format!("{} after the last new skill", words::count(count, "revision lesson"))
            }
            Droppable::CatchUp => {
                let place = horizon(wanted);
                let least = catch_ups_wished(plan, place);
                format!("at least {}", words::count(least, "catch-up lesson"))
            }
            Droppable::Test => test_words(plan.unit.test),
            Droppable::Fixed(at) => fixed_words(plan, &plan.unit.fixed[*at]),
            Droppable::Least(id) => {
                let least = plan.unit.lessons.get(id).map_or(1, |n| usize::from(n.least));
                format!("at least {} of {}", words::count(least, "lesson"), title(plan, id))
            }
            Droppable::Must(id) => {
                let needs = plan.ladder.skills.get(id).is_some_and(|s| !s.needs.is_empty());
                let with = if needs { ", with all that it needs" } else { "" };
                format!("{} is taught{with}", title(plan, id))
            }
            Droppable::LeaveOut(id) => format!("{} is left out", title(plan, id)),
        }
    }
}

/// The number of periods before the wished test.
fn horizon(wanted: Wanted<'_>) -> usize {
    let periods = &wanted.calendar.periods;
    match wanted.plan.unit.test {
        TestWish::None => periods.len(),
        TestWish::Last => periods.len().saturating_sub(1),
        TestWish::On(date) => periods.iter().position(|p| p.date == date).unwrap_or(periods.len()),
    }
}

/// All wishes in their fixed order.
fn wishes(plan: &Plan) -> Vec<Droppable> {
    let mut all = Vec::new();
    if plan.unit.revision > 0 {
        all.push(Droppable::Revision);
    }
    if plan.unit.catch_up != Some(0) {
        all.push(Droppable::CatchUp);
    }
    if plan.unit.test != TestWish::None {
        all.push(Droppable::Test);
    }
    all.extend((0..plan.unit.fixed.len()).map(Droppable::Fixed));
    let unit = super::problem::scope(plan, &std::collections::BTreeMap::new(), &Dropped::default());
    let inside = |id: &&String| unit.taught.contains(id) || unit.left_out.contains(id);
    let skills: Vec<&String> = plan.ladder.skills.keys().filter(inside).collect();
    let more = |id: &&&String| plan.unit.lessons.get(**id).is_some_and(|n| n.least > 1);
    all.extend(skills.iter().filter(more).map(|id| Droppable::Least((*id).clone())));
    let must = |id: &&&String| !plan.ladder.skills[**id].optional;
    all.extend(skills.iter().filter(must).map(|id| Droppable::Must((*id).clone())));
    let out = |id: &&&String| plan.unit.leave_out.contains(id);
    all.extend(skills.iter().filter(out).map(|id| Droppable::LeaveOut((*id).clone())));
    all
}

/// The smallest set of wishes that clash: each is dropped in turn, and stays dropped where there is
/// still no schedule, so that none of what is left can be spared.
pub fn clash(wanted: Wanted<'_>) -> Vec<Wish> {
    let recorded = recorded_but_closed(wanted);
    if !recorded.is_empty() {
        return recorded;
    }
    let mut dropped = Dropped::default();
    let mut kept = Vec::new();
    for wish in wishes(wanted.plan) {
        let mut trial = dropped.clone();
        wish.drop_from(&mut trial);
        if fits(wanted, &trial) == Some(false) {
            dropped = trial;
        } else {
            kept.push(wish);
        }
    }
    let mut clash: Vec<Wish> = kept.iter().map(|wish| Wish { what: wish.words(wanted) }).collect();
    if clash.len() < 2 && wanted.standing.is_some_and(|s| !s.old.is_empty()) {
        clash.push(Wish { what: "what has been taught stays as it was".to_owned() });
    }
    if clash.is_empty() {
        clash.push(Wish { what: "a lesson time in the term".to_owned() });
    }
    clash
}

/// Lessons recorded as taught on what is now closed.
fn recorded_but_closed(wanted: Wanted<'_>) -> Vec<Wish> {
    let Some(standing) = wanted.standing else { return Vec::new() };
    let say = |lesson: &Lesson| {
        let what = format!(
            "lesson {} on {} was taught, and the day is now closed (if it was not held, it is lost)",
            lesson.number,
            date_words(lesson.date)
        );
        Wish { what }
    };
    Underway::recorded_but_closed(wanted.plan, wanted.calendar, standing).map(say).collect()
}

/// A skill by its title.
pub fn title(plan: &Plan, id: &str) -> String {
    match plan.ladder.skills.get(id) {
        Some(skill) => format!("“{}”", skill.title),
        None => format!("`{id}`"),
    }
}

/// A date as teachers write it.
pub fn date_words(date: NaiveDate) -> String {
    date.format("%A %-d %B").to_string()
}

/// The test's place in words.
pub fn test_words(test: TestWish) -> String {
    match test {
        TestWish::Last => "the unit test on the last period".to_owned(),
        TestWish::On(date) => format!("the unit test on {}", date_words(date)),
        TestWish::None => "no unit test".to_owned(),
    }
}

/// A fixed lesson in words.
pub fn fixed_words(plan: &Plan, fixed: &Fixed) -> String {
    let what = match (fixed.kind, &fixed.skill) {
        (LessonKind::Teach, Some(id)) => format!("a lesson of {}", title(plan, id)),
        (LessonKind::Teach, None) => "a teaching lesson".to_owned(),
        (LessonKind::CatchUp, _) => "a catch-up lesson".to_owned(),
        (LessonKind::Revision, _) => "a revision lesson".to_owned(),
        (LessonKind::UnitTest, _) => "the unit test".to_owned(),
    };
    let time = fixed.starts.map_or(String::new(), |starts| format!(" at {starts}"));
    format!("{what} on {}{time}", date_words(fixed.date))
}
