//! A term under way: which lessons stay as they are, which old periods are gone, and what it costs
//! to move each lesson of the schedule in force.

use super::problem::{Hold, Old, Problem, Unposed};
use super::{Lesson, Standing};
use crate::calendar::{Calendar, Clock, Period};
use crate::plan::{LessonKind, Plan};
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

/// A named lesson of the old schedule.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Named {
    /// The period it was on, if that still is one.
    pub at: Option<usize>,
    /// What it costs if it is not there any more.
    pub price: i64,
}

/// The term's periods with what is frozen on them.
#[derive(Debug, Clone)]
pub struct Underway<'a> {
    pub periods: Vec<Period>,
    /// For each period the old lesson that stays on it.
    pub frozen: Vec<Option<&'a Lesson>>,
    standing: &'a Standing,
    school_days: &'a [NaiveDate],
    /// How many of the old lessons came before the old test.
    old_horizon: usize,
}

impl<'a> Underway<'a> {
    /// Puts the old schedule's frozen part and the calendar's coming periods together.
    pub fn of(
        plan: &Plan,
        calendar: &'a Calendar,
        standing: &'a Standing,
    ) -> Result<Underway<'a>, Unposed> {
        let today = standing.today;
        let listed: BTreeSet<(NaiveDate, Clock)> =
            calendar.periods.iter().map(|p| (p.date, p.starts)).collect();
        let mut merged: BTreeMap<(NaiveDate, Clock), (u16, Option<&Lesson>)> = calendar
            .periods
            .iter()
            .filter(|p| p.date >= today)
            .map(|p| ((p.date, p.starts), (p.minutes, None)))
            .collect();
        for lesson in &standing.old {
            let place = (lesson.date, lesson.starts);
            let gone = !listed.contains(&place);
            let recorded = standing.taught.contains(&lesson.number);
            if (lesson.date >= today && !recorded)
                || (gone && standing.lost.contains(&lesson.number))
            {
                continue;
            }
            if gone && closed(plan, calendar, lesson) {
                if recorded {
                    return Err(Unposed::Clash);
                }
                continue;
            }
            merged.insert(place, (lesson.minutes, Some(lesson)));
        }
        let mut periods: Vec<Period> = Vec::new();
        let mut frozen = Vec::new();
        for ((date, starts), (minutes, lesson)) in merged {
            let break_before =
                periods.last().is_some_and(|p| is_break(&calendar.school_days, p.date, date));
            periods.push(Period { date, starts, minutes, break_before });
            frozen.push(lesson);
        }
        let old_horizon = standing
            .old
            .iter()
            .position(|l| l.kind == LessonKind::UnitTest)
            .unwrap_or(standing.old.len());
        let school_days = &calendar.school_days;
        Ok(Underway { periods, frozen, standing, school_days, old_horizon })
    }

    /// Lessons recorded as taught on what a closure now covers.
    pub fn recorded_but_closed<'b>(
        plan: &'b Plan,
        calendar: &'b Calendar,
        standing: &'b Standing,
    ) -> impl Iterator<Item = &'b Lesson> {
        standing.old.iter().filter(move |lesson| {
            let gone =
                calendar.periods.iter().all(|p| (p.date, p.starts) != (lesson.date, lesson.starts));
            gone && standing.taught.contains(&lesson.number)
                && !standing.lost.contains(&lesson.number)
                && closed(plan, calendar, lesson)
        })
    }

    /// How many lessons each skill has had.
    pub fn frozen_counts(&self) -> BTreeMap<String, usize> {
        let mut counts = BTreeMap::new();
        for id in self.frozen.iter().flatten().filter_map(|l| l.skill.as_ref()) {
            *counts.entry(id.clone()).or_insert(0) += 1;
        }
        counts
    }

    /// The old catch-ups less the old periods that are gone: a lost day may use up a catch-up.
    pub fn catch_ups_left(&self) -> usize {
        let old = &self.standing.old[..self.old_horizon];
        let held = old.iter().filter(|l| l.kind == LessonKind::CatchUp).count();
        held.saturating_sub(old.iter().filter(|l| self.at(l).is_none()).count())
    }

    fn at(&self, lesson: &Lesson) -> Option<usize> {
        let place = (lesson.date, lesson.starts);
        self.periods.binary_search_by_key(&place, |p| (p.date, p.starts)).ok()
    }

    /// The last day that counts as soon: the fifth school day from today on.
    fn soon_until(&self) -> NaiveDate {
        let mut coming = self.school_days.iter().filter(|d| **d >= self.standing.today);
        coming.nth(4).copied().unwrap_or(NaiveDate::MAX)
    }
}

/// Whether at least four days strictly between two dates are not school days.
fn is_break(school_days: &[NaiveDate], before: NaiveDate, after: NaiveDate) -> bool {
    let between = (after - before).num_days() - 1;
    let school = school_days.iter().filter(|d| **d > before && **d < after).count();
    between - i64::try_from(school).unwrap_or(i64::MAX) >= 4
}

/// Whether a closure covers the lesson's period (a period that is gone but not closed fell to a
/// change of the timetable).
fn closed(plan: &Plan, calendar: &Calendar, lesson: &Lesson) -> bool {
    if calendar.closed.iter().any(|(day, _)| *day == lesson.date) {
        return true;
    }
    let (from, to) = (lesson.starts, lesson.starts.plus(lesson.minutes));
    plan.closings.iter().any(|c| {
        let covers = c.from <= lesson.date && lesson.date <= c.to;
        let opened = c.from_calendar && plan.openings.contains(&lesson.date);
        let first = c.after.unwrap_or(Clock::MIDNIGHT);
        let last = c.before.unwrap_or(Clock::DAY_END);
        covers && !opened && from < last && first < to
    })
}

/// Writes into the problem what moving each old lesson costs.
pub fn price_moves(problem: &mut Problem, under: &Underway<'_>, plan: &Plan) {
    let costs = &plan.costs;
    let standing = under.standing;
    let (today, until) = (standing.today, under.soon_until());
    let mut old = Old {
        teach: vec![Vec::new(); problem.skills.len()],
        first: vec![None; problem.skills.len()],
        ..Old::default()
    };
    let mut firsts = 0;
    for lesson in &standing.old {
        let at = under.at(lesson);
        let soon = lesson.date >= today && lesson.date <= until;
        let printed = standing.printed.contains(&lesson.number);
        let printed_price = if printed { i64::from(costs.printed_moved) } else { 0 };
        let soon_price = if soon { i64::from(costs.soon_moved) } else { 0 };
        let price = i64::from(costs.moved) + soon_price + printed_price;
        let named = Named { at, price };
        match lesson.kind {
            LessonKind::Teach => match lesson.skill.as_deref().and_then(|id| problem.skill(id)) {
                Some(skill) => {
                    old.teach[skill].push(named);
                    old.first[skill].get_or_insert_with(|| {
                        firsts += 1;
                        firsts
                    });
                }
                None => old.sure += price,
            },
            LessonKind::Revision => old.revision.push(named),
            LessonKind::UnitTest => {
                if !(problem.test && at == Some(problem.horizon)) {
                    old.sure += price;
                }
            }
            LessonKind::CatchUp => match at {
                Some(at) => problem.slots[at].not_catch_up += printed_price,
                None => old.sure += printed_price,
            },
        }
    }
    if let Some(slot) = problem.slots.get(problem.horizon).filter(|_| problem.test) {
        old.sure += slot.not_catch_up;
    }
    let frozen_revisions =
        problem.held[..problem.frozen].iter().filter(|h| **h == Some(Hold::Revision)).count();
    problem.revision = problem.revision.max(frozen_revisions);
    old.sure += old.revision.iter().skip(problem.revision).map(|n| n.price).sum::<i64>();
    problem.old = Some(old);
}
