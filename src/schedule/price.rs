//! What a finished schedule costs, term by term, read off its lessons.
//!
//! This is the second road: it knows nothing of the search, and the two must agree.

use super::{Cost, Lesson, Standing};
use crate::calendar::{Calendar, Period};
use crate::curriculum::Lessons;
use crate::plan::{LessonKind, Plan};
use chrono::NaiveDate;
use indexmap::IndexMap;
use std::collections::BTreeMap;

/// What is priced.
#[derive(Debug, Clone, Copy)]
pub struct Priced<'a> {
    pub plan: &'a Plan,
    pub calendar: &'a Calendar,
    pub standing: Option<&'a Standing>,
    pub periods: &'a [Period],
    pub lessons: &'a [Lesson],
    /// The skills that may be taught, in the ladder's order.
    pub unit: &'a [String],
    /// How many lessons each of them takes.
    pub counts: &'a BTreeMap<String, Lessons>,
}

/// All terms and their sum.
pub fn price(of: Priced<'_>) -> Cost {
    let test = of.lessons.iter().position(|l| l.kind == LessonKind::UnitTest);
    let horizon = test.unwrap_or(of.lessons.len());
    let mut terms: IndexMap<String, i64> = IndexMap::new();
    let costs = &of.plan.costs;
    let mut term = |name: &str, weight: u32, times: i64| {
        terms.insert(name.to_owned(), i64::from(weight) * times);
    };
    let taught = taught(&of, horizon);
    term("left-out", costs.left_out, left_out(&of, &taught));
    term("short", costs.short, short(&of, &taught));
    term("extra", costs.extra, extra(&of, &taught));
    let firsts: Vec<usize> = taught.values().map(|places| places[0]).collect();
    let break_before = |p: usize| of.periods.get(p).is_some_and(|p| p.break_before);
    let starts =
        |wanted: &dyn Fn(usize) -> bool| count(firsts.iter().filter(|p| wanted(**p)).count());
    term("starts-before-break", costs.starts_before_break, starts(&|p| break_before(p + 1)));
    term("split-by-break", costs.split_by_break, splits(&of, &taught));
    term("cold-return", costs.cold_return, starts(&break_before));
    term("long-run", costs.long_run, long_runs(&of, horizon));
    term("thread-cut", costs.thread_cut, thread_cuts(&of, &taught));
    term("bunched", costs.bunched, bunched(&of, horizon));
    let unit_length = u32::from(of.calendar.unit_length);
    let short = |p: usize| 5 * u32::from(of.periods[p].minutes) < 4 * unit_length;
    term("short-start", costs.short_start, starts(&short));
    term("two-starts", costs.two_starts, two_starts(&of, &firsts));
    if let Some(standing) = of.standing {
        let moved = moved(&of, standing);
        let printed = |l: &Lesson| standing.printed.contains(&l.number);
        let catch_ups = printed_catch_ups_gone(&of, standing);
        let printed_moved = moved.iter().filter(|l| printed(l)).count() + catch_ups;
        term("printed-moved", costs.printed_moved, count(printed_moved));
        let until = soon_until(of.calendar, standing.today);
        let soon = moved.iter().filter(|l| standing.today <= l.date && l.date <= until).count();
        term("soon-moved", costs.soon_moved, count(soon));
        term("moved", costs.moved, count(moved.len()));
        term("order", costs.order, swapped_pairs(standing, &taught));
    }
    Cost { total: terms.values().sum(), terms }
}

fn count(n: usize) -> i64 {
    i64::try_from(n).unwrap_or(i64::MAX)
}

/// The periods of each skill's lessons, skills in the order of their firsts.
type Taught = IndexMap<String, Vec<usize>>;

fn taught(of: &Priced<'_>, horizon: usize) -> Taught {
    let mut taught = Taught::new();
    for (at, lesson) in of.lessons[..horizon].iter().enumerate() {
        if let Some(skill) = &lesson.skill {
            taught.entry(skill.clone()).or_default().push(at);
        }
    }
    taught
}

fn weight(of: &Priced<'_>, skill: &str) -> i64 {
    of.plan.ladder.skills.get(skill).map_or(3, |s| s.weight.into())
}

fn left_out(of: &Priced<'_>, taught: &Taught) -> i64 {
    of.unit.iter().filter(|s| !taught.contains_key(*s)).map(|s| weight(of, s)).sum()
}

fn short(of: &Priced<'_>, taught: &Taught) -> i64 {
    let missing = |skill: &str, had: usize| {
        let d = (i64::from(of.counts[skill].preferred) - count(had)).max(0);
        weight(of, skill) * d * (d + 1) / 2
    };
    taught.iter().map(|(skill, places)| missing(skill, places.len())).sum()
}

fn extra(of: &Priced<'_>, taught: &Taught) -> i64 {
    let more =
        |skill: &str, had: usize| (count(had) - i64::from(of.counts[skill].preferred)).max(0);
    taught.iter().map(|(skill, places)| more(skill, places.len())).sum()
}

fn splits(of: &Priced<'_>, taught: &Taught) -> i64 {
    let split = |pair: &[usize]| (pair[0] + 1..=pair[1]).any(|p| of.periods[p].break_before);
    count(taught.values().flat_map(|places| places.windows(2)).filter(|w| split(w)).count())
}

fn long_runs(of: &Priced<'_>, horizon: usize) -> i64 {
    let limit = i64::from(of.plan.costs.long_run_limit);
    let (mut row, mut sum) = (0, 0);
    for lesson in &of.lessons[..horizon] {
        row = if lesson.kind == LessonKind::Teach { row + 1 } else { 0 };
        sum += (row - limit).max(0);
    }
    sum
}

fn thread_cuts(of: &Priced<'_>, taught: &Taught) -> i64 {
    let order: Vec<&String> = taught.keys().collect();
    let cut = |pair: &[&String]| {
        let skill = of.plan.ladder.skills.get(pair[1]);
        !skill.is_some_and(|s| s.needs.contains(pair[0]))
    };
    count(order.windows(2).filter(|pair| cut(pair)).count())
}

fn bunched(of: &Priced<'_>, horizon: usize) -> i64 {
    let rest = |l: &Lesson| l.kind == LessonKind::CatchUp;
    count(of.lessons[..horizon].windows(2).filter(|w| rest(&w[0]) && rest(&w[1])).count())
}

fn two_starts(of: &Priced<'_>, firsts: &[usize]) -> i64 {
    let mut dates: BTreeMap<NaiveDate, i64> = BTreeMap::new();
    for first in firsts {
        *dates.entry(of.periods[*first].date).or_default() += 1;
    }
    dates.values().map(|starts| starts - 1).sum()
}

/// The name of every lesson that has one: a skill's k-th, the j-th revision, the test.
fn names(lessons: &[Lesson]) -> Vec<(Option<(String, usize)>, &Lesson)> {
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    let name = |lesson: &Lesson| match lesson.kind {
        LessonKind::Teach => Some(format!("teach {}", lesson.skill.as_deref().unwrap_or(""))),
        LessonKind::Revision => Some("revision".to_owned()),
        LessonKind::UnitTest => Some("test".to_owned()),
        LessonKind::CatchUp => None,
    };
    let mut nth = |name: String| {
        let n = seen.entry(name.clone()).or_default();
        *n += 1;
        (name, *n)
    };
    lessons.iter().map(|l| (name(l).map(&mut nth), l)).collect()
}

/// The named old lessons that are not where they were.
fn moved<'a>(of: &Priced<'_>, standing: &'a Standing) -> Vec<&'a Lesson> {
    let now: BTreeMap<(String, usize), &Lesson> =
        names(of.lessons).into_iter().filter_map(|(name, l)| Some((name?, l))).collect();
    let same = |a: &Lesson, b: &Lesson| a.date == b.date && a.starts == b.starts;
    let stays =
        |name: &(String, usize), old: &Lesson| now.get(name).is_some_and(|new| same(new, old));
    names(&standing.old)
        .into_iter()
        .filter_map(|(name, old)| (!stays(&name?, old)).then_some(old))
        .collect()
}

fn printed_catch_ups_gone(of: &Priced<'_>, standing: &Standing) -> usize {
    let kept = |old: &Lesson| {
        of.lessons
            .iter()
            .any(|l| l.kind == LessonKind::CatchUp && l.date == old.date && l.starts == old.starts)
    };
    let printed = |l: &&Lesson| {
        l.kind == LessonKind::CatchUp && standing.printed.contains(&l.number) && !kept(l)
    };
    standing.old.iter().filter(printed).count()
}

/// The fifth school day from today on, or the end of all days.
fn soon_until(calendar: &Calendar, today: NaiveDate) -> NaiveDate {
    let coming: Vec<&NaiveDate> = calendar.school_days.iter().filter(|d| **d >= today).collect();
    coming.get(4).map_or(NaiveDate::MAX, |d| **d)
}

fn swapped_pairs(standing: &Standing, taught: &Taught) -> i64 {
    let mut old_order: Vec<&String> = Vec::new();
    for skill in standing.old.iter().filter_map(|l| l.skill.as_ref()) {
        if taught.contains_key(skill) && !old_order.contains(&skill) {
            old_order.push(skill);
        }
    }
    let mut swapped = 0;
    for (at, first) in old_order.iter().enumerate() {
        for second in &old_order[at + 1..] {
            if taught[*first][0] > taught[*second][0] {
                swapped += 1;
            }
        }
    }
    swapped
}
