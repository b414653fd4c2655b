//! From what each period holds to a schedule: numbers for life, parts, reasons, the bill.

use super::price::{Priced, price};
use super::problem::{Hold, Problem, Wanted, scope};
use super::search::Found;
use super::underway::Underway;
use super::{LeftOut, Lesson, Proof, Schedule, Standing};
use crate::calendar::Period;
use crate::curriculum::Lessons;
use crate::plan::{LessonKind, Plan};
use std::collections::{BTreeMap, BTreeSet};

/// Makes the schedule of what was found.
pub fn assemble(wanted: Wanted<'_>, problem: &Problem, found: &Found) -> Schedule {
    let mut holds = found.holds.clone();
    if problem.test {
        holds.push(Hold::Test);
    }
    holds.resize(problem.periods.len(), Hold::CatchUp);
    let mut lessons = lessons(problem, &holds);
    match wanted.standing {
        None => {
            for (number, lesson) in (1..).zip(&mut lessons) {
                lesson.number = number;
            }
        }
        Some(standing) => number_again(&mut lessons, standing),
    }
    let held = lessons[..problem.horizon].iter().filter(|l| l.kind == LessonKind::CatchUp).count();
    let unit: Vec<String> = problem.skills.iter().map(|s| s.id.clone()).collect();
    let counts = problem.skills.iter().map(|s| {
        let narrow = |n: usize| u8::try_from(n).unwrap_or(u8::MAX);
        let counts = Lessons {
            least: narrow(s.least),
            preferred: narrow(s.preferred),
            most: narrow(s.most),
        };
        (s.id.clone(), counts)
    });
    let cost = price(Priced {
        plan: wanted.plan,
        calendar: wanted.calendar,
        standing: wanted.standing,
        periods: &problem.periods,
        lessons: &lessons,
        unit: &unit,
        counts: &counts.collect(),
    });
    Schedule {
        left_out: left_out(wanted, &lessons),
        proof: if found.floor >= found.cost { Proof::Optimal } else { Proof::Bound },
        bound: found.floor,
        spare_periods: narrow(held.saturating_sub(problem.catch_up)),
        periods: problem.periods.clone(),
        lessons,
        cost,
    }
}

fn narrow(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}

/// The lessons, without their numbers.
fn lessons(problem: &Problem, holds: &[Hold]) -> Vec<Lesson> {
    let mut lessons: Vec<Lesson> = problem
        .periods
        .iter()
        .zip(holds)
        .map(|(period, hold)| lesson(problem, period, *hold))
        .collect();
    let mut of: BTreeMap<(LessonKind, Option<String>), u32> = BTreeMap::new();
    for lesson in &mut lessons {
        if matches!(lesson.kind, LessonKind::Teach | LessonKind::Revision) {
            let part = of.entry((lesson.kind, lesson.skill.clone())).or_default();
            *part += 1;
            lesson.part = Some(*part);
        }
    }
    for lesson in lessons.iter_mut().filter(|l| l.part.is_some()) {
        lesson.of = of.get(&(lesson.kind, lesson.skill.clone())).copied();
    }
    lessons
}

fn lesson(problem: &Problem, period: &Period, hold: Hold) -> Lesson {
    let (kind, skill) = match hold {
        Hold::Teach(skill) => (LessonKind::Teach, skill.map(|s| problem.skills[s].id.clone())),
        Hold::CatchUp => (LessonKind::CatchUp, None),
        Hold::Revision => (LessonKind::Revision, None),
        Hold::Test => (LessonKind::UnitTest, None),
    };
    Lesson {
        number: 0,
        date: period.date,
        starts: period.starts,
        minutes: period.minutes,
        kind,
        skill,
        part: None,
        of: None,
    }
}

/// Lessons keep the numbers of the schedule in force. What is frozen, and every catch-up that is
/// again one, keeps the number of its period; then a skill's lessons, the revisions, the test and
/// the other catch-ups take the numbers their like had, in order; new lessons take new ones.
fn number_again(lessons: &mut [Lesson], standing: &Standing) {
    let mut free: BTreeMap<(LessonKind, Option<&str>), Vec<u32>> = BTreeMap::new();
    let mut used = BTreeSet::new();
    for lesson in lessons.iter_mut() {
        let old = standing.old.iter().find(|old| {
            old.date == lesson.date
                && old.starts == lesson.starts
                && old.kind == lesson.kind
                && old.skill == lesson.skill
        });
        let Some(old) = old else { continue };
        let settled = lesson.date < standing.today || standing.taught.contains(&old.number);
        if settled || lesson.kind == LessonKind::CatchUp {
            lesson.number = old.number;
            used.insert(old.number);
        }
    }
    for old in standing.old.iter().filter(|old| !used.contains(&old.number)) {
        free.entry((old.kind, old.skill.as_deref())).or_default().push(old.number);
    }
    for numbers in free.values_mut() {
        numbers.reverse();
    }
    let mut next = standing.next_number;
    for lesson in lessons.iter_mut().filter(|l| l.number == 0) {
        let like = free.get_mut(&(lesson.kind, lesson.skill.as_deref())).and_then(Vec::pop);
        lesson.number = like.unwrap_or_else(|| {
            next += 1;
            next - 1
        });
    }
}

/// The skills of the unit that are not taught, and why, in the ladder's order.
fn left_out(wanted: Wanted<'_>, lessons: &[Lesson]) -> Vec<LeftOut> {
    let plan = wanted.plan;
    let under = wanted.standing.and_then(|s| Underway::of(plan, wanted.calendar, s).ok());
    let frozen = under.map(|u| u.frozen_counts()).unwrap_or_default();
    let scope = scope(plan, &frozen, &super::problem::Dropped::default());
    let taught: BTreeSet<&str> = lessons.iter().filter_map(|l| l.skill.as_deref()).collect();
    let out = |id: &&String| {
        (scope.taught.contains(id) || scope.left_out.contains(id)) && !taught.contains(id.as_str())
    };
    let skills = plan.ladder.skills.keys().filter(out);
    skills
        .map(|id| LeftOut {
            skill: id.clone(),
            because: because(plan, id, &scope.left_out, &taught),
        })
        .collect()
}

/// Why a skill is not taught, in the teacher's words.
fn because(plan: &Plan, id: &str, left_out: &[String], taught: &BTreeSet<&str>) -> String {
    let needs = &plan.ladder.skills[id].needs;
    let title = |id: &String| plan.ladder.skills[id].title.clone();
    if plan.unit.leave_out.iter().any(|x| x == id) {
        return "The plan leaves it out.".to_owned();
    }
    if let Some(need) = needs.iter().find(|n| left_out.contains(n)) {
        return format!("It needs “{}”, which the plan leaves out.", title(need));
    }
    let in_unit =
        |n: &&String| !taught.contains(n.as_str()) && plan.unit.secure.iter().all(|s| s != *n);
    let optional = |n: &&String| plan.ladder.skills.get(*n).is_some_and(|s| s.optional);
    match needs.iter().filter(in_unit).find(optional) {
        Some(need) => format!("It needs “{}”, which there is no room for.", title(need)),
        None => "It is optional, and the periods before the test are needed for other lessons."
            .to_owned(),
    }
}
