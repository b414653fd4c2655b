//! The problem in whole numbers: which skills, which periods, what each period may hold, what
//! everything costs. Made from a plan and a calendar, and solved by the search.

use super::methods;
use super::underway::{self, Named, Underway};
use super::{Error, Standing};
use crate::calendar::{Calendar, Period};
use crate::plan::{Costs, LessonKind, Plan, TestWish};
use chrono::NaiveDate;
use std::collections::{BTreeMap, BTreeSet};

/// Sets of skills are words of this many bits.
pub const MOST_SKILLS: usize = 64;

/// A skill of the unit that may be taught.
#[derive(Debug, Clone)]
pub struct Task {
    pub id: String,
    /// The skills it needs directly, as bits.
    pub needs: u64,
    /// These, and those that the plan's order of methods puts before it.
    pub waits: u64,
    pub least: usize,
    pub preferred: usize,
    pub most: usize,
    pub weight: i64,
    pub optional: bool,
}

/// A period as the search sees it.
#[derive(Debug, Clone)]
pub struct Slot {
    pub date: NaiveDate,
    pub break_before: bool,
    /// Less than four fifths of the unit length.
    pub short: bool,
    /// What a printed catch-up costs that this period no longer holds.
    pub not_catch_up: i64,
}

/// What a period holds; as a wish, `Teach(None)` is any skill.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Hold {
    Teach(Option<usize>),
    CatchUp,
    Revision,
    Test,
}

/// The old schedule as the replanning costs see it.
#[derive(Debug, Clone, Default)]
pub struct Old {
    /// For each skill its old lessons in order.
    pub teach: Vec<Vec<Named>>,
    /// The old revisions in order.
    pub revision: Vec<Named>,
    /// For each skill of the old schedule the place of its first lesson in the order of firsts.
    pub first: Vec<Option<usize>>,
    /// What is lost whatever is done: lessons that no longer exist, the test if it moves.
    pub sure: i64,
}

/// The problem.
#[derive(Debug, Clone)]
pub struct Problem {
    pub skills: Vec<Task>,
    /// The dated periods; `slots` has what the search wants to know of each.
    pub periods: Vec<Period>,
    pub slots: Vec<Slot>,
    /// H: the number of periods before the test, or all.
    pub horizon: usize,
    pub test: bool,
    pub revision: usize,
    pub catch_up: usize,
    /// What each period must hold.
    pub held: Vec<Option<Hold>>,
    /// So many periods at the beginning are as they are.
    pub frozen: usize,
    /// A skill that may start on one period only.
    pub starts_on: Option<(usize, usize)>,
    pub costs: Weights,
    pub old: Option<Old>,
}

/// The weights of the costs, signed.
#[derive(Debug, Clone, Default)]
pub struct Weights {
    pub left_out: i64,
    pub short: i64,
    pub extra: i64,
    pub starts_before_break: i64,
    pub split_by_break: i64,
    pub cold_return: i64,
    pub long_run: i64,
    pub thread_cut: i64,
    pub bunched: i64,
    pub short_start: i64,
    pub two_starts: i64,
    pub order: i64,
    pub long_run_limit: usize,
}

impl Weights {
    fn of(costs: &Costs) -> Weights {
        Weights {
            left_out: costs.left_out.into(),
            short: costs.short.into(),
            extra: costs.extra.into(),
            starts_before_break: costs.starts_before_break.into(),
            split_by_break: costs.split_by_break.into(),
            cold_return: costs.cold_return.into(),
            long_run: costs.long_run.into(),
            thread_cut: costs.thread_cut.into(),
            bunched: costs.bunched.into(),
            short_start: costs.short_start.into(),
            two_starts: costs.two_starts.into(),
            order: costs.order.into(),
            long_run_limit: usize::try_from(costs.long_run_limit).unwrap_or(usize::MAX),
        }
    }
}

/// Wishes taken away to see which of them clash.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Dropped {
    pub revision: bool,
    pub catch_up: bool,
    pub test: bool,
    /// By their place in the plan's list.
    pub fixed: BTreeSet<usize>,
    pub least: BTreeSet<String>,
    pub must: BTreeSet<String>,
    pub leave_out: BTreeSet<String>,
}

/// What is wanted: a plan on a calendar, perhaps under way, perhaps with wishes dropped.
#[derive(Debug, Clone, Copy)]
pub struct Wanted<'a> {
    pub plan: &'a Plan,
    pub calendar: &'a Calendar,
    pub standing: Option<&'a Standing>,
}

/// Why there is no problem to solve.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Unposed {
    /// The wishes contradict each other before any search.
    Clash,
    /// It cannot be written down here.
    Error(Error),
}

/// The skills of the unit: D and what of it is left out for certain.
#[derive(Debug, Clone, Default)]
pub struct Scope {
    /// D without X, in the ladder's order.
    pub taught: Vec<String>,
    /// X, in the ladder's order.
    pub left_out: Vec<String>,
    /// Skills whose number of lessons is settled by what was taught already.
    pub settled: BTreeMap<String, usize>,
}

/// Works out D and X. `frozen` counts the lessons each skill has had already.
pub fn scope(plan: &Plan, frozen: &BTreeMap<String, usize>, dropped: &Dropped) -> Scope {
    let skills = &plan.ladder.skills;
    let known: BTreeSet<&str> = (plan.unit.secure.iter())
        .flat_map(|id| plan.ladder.all_needs(id).into_iter().chain([id.as_str()]))
        .collect();
    let mut inside: BTreeSet<String> = plan
        .ladder
        .unit(&plan.unit.teach, &plan.unit.secure)
        .into_iter()
        .map(str::to_owned)
        .collect();
    inside.extend(frozen.keys().cloned());

    let wished_out =
        |id: &str| plan.unit.leave_out.iter().any(|x| x == id) && !dropped.leave_out.contains(id);
    let mut out: BTreeSet<&str> = BTreeSet::new();
    for id in plan.ladder.in_order().into_iter().filter(|id| inside.contains(*id)) {
        let needs_one = skills[id].needs.iter().any(|n| out.contains(n.as_str()));
        if wished_out(id) || needs_one {
            out.insert(id);
        }
    }
    let mut scope = Scope::default();
    let gone = frozen.keys().filter(|id| !skills.contains_key(*id));
    for id in skills.keys().filter(|id| inside.contains(*id)).chain(gone) {
        match frozen.get(id) {
            None if out.contains(id.as_str()) => scope.left_out.push(id.clone()),
            None => scope.taught.push(id.clone()),
            Some(count) => {
                scope.taught.push(id.clone());
                if known.contains(id.as_str()) || wished_out(id) || !skills.contains_key(id) {
                    scope.settled.insert(id.clone(), *count);
                }
            }
        }
    }
    scope
}

/// C before any replanning: the least number of catch-ups among `horizon` periods.
pub fn catch_ups_wished(plan: &Plan, horizon: usize) -> usize {
    match plan.unit.catch_up {
        Some(count) => usize::try_from(count).unwrap_or(usize::MAX),
        None => ((8 * horizon + 50) / 100).max(1),
    }
}

impl Problem {
    /// Writes the problem down.
    pub fn pose(wanted: Wanted<'_>, dropped: &Dropped) -> Result<Problem, Unposed> {
        let Wanted { plan, calendar, standing } = wanted;
        let under = standing.map(|s| Underway::of(plan, calendar, s)).transpose()?;
        let periods = match &under {
            Some(under) => under.periods.clone(),
            None => calendar.periods.clone(),
        };
        let frozen_counts = under.as_ref().map(Underway::frozen_counts).unwrap_or_default();
        let scope = scope(plan, &frozen_counts, dropped);
        let mut skills = tasks(plan, &scope, dropped)?;
        wait_for_methods(plan, &mut skills, &frozen_counts);
        let place = test_place(plan, &periods, dropped)?;
        let horizon = place.unwrap_or(periods.len());
        let mut catch_up = if dropped.catch_up { 0 } else { catch_ups_wished(plan, horizon) };
        if let (Some(under), false) = (&under, dropped.catch_up) {
            catch_up = catch_up.min(under.catch_ups_left());
        }
        let revision =
            if dropped.revision { 0 } else { usize::try_from(plan.unit.revision).unwrap_or(0) };
        let limit = 4 * u32::from(calendar.unit_length);
        let slots = periods.iter().map(|p| Slot {
            date: p.date,
            break_before: p.break_before,
            short: 5 * u32::from(p.minutes) < limit,
            not_catch_up: 0,
        });
        let mut problem = Problem {
            slots: slots.collect(),
            held: vec![None; periods.len()],
            periods,
            skills,
            horizon,
            test: place.is_some(),
            revision,
            catch_up,
            frozen: 0,
            starts_on: None,
            costs: Weights::of(&plan.costs),
            old: None,
        };
        problem.hold_wishes(plan, dropped)?;
        if let Some(under) = &under {
            problem.hold_frozen(under)?;
            underway::price_moves(&mut problem, under, plan);
        }
        Ok(problem)
    }

    /// The number of the skill of this name.
    pub fn skill(&self, id: &str) -> Option<usize> {
        self.skills.iter().position(|s| s.id == id)
    }

    /// The same with something held on a period; `None` where something else is held there.
    pub fn holding(&self, at: usize, hold: Hold) -> Option<Problem> {
        let mut problem = self.clone();
        problem.hold(at, hold).ok()?;
        Some(problem)
    }

    /// The same with a skill's first lesson on a period.
    pub fn starting(&self, skill: usize, at: usize) -> Option<Problem> {
        let mut problem = self.holding(at, Hold::Teach(Some(skill)))?;
        problem.starts_on = Some((skill, at));
        Some(problem)
    }

    fn hold_wishes(&mut self, plan: &Plan, dropped: &Dropped) -> Result<(), Unposed> {
        for at in self.horizon..self.slots.len() {
            let test = self.test && at == self.horizon;
            self.held[at] = Some(if test { Hold::Test } else { Hold::CatchUp });
        }
        for (_, fixed) in
            plan.unit.fixed.iter().enumerate().filter(|(n, _)| !dropped.fixed.contains(n))
        {
            let at = self
                .periods
                .iter()
                .position(|p| p.date == fixed.date && fixed.starts.is_none_or(|s| s == p.starts))
                .ok_or(Unposed::Clash)?;
            let hold = match (fixed.kind, &fixed.skill) {
                (LessonKind::Teach, Some(id)) => {
                    Hold::Teach(Some(self.skill(id).ok_or(Unposed::Clash)?))
                }
                (LessonKind::Teach, None) => Hold::Teach(None),
                (LessonKind::CatchUp, _) => Hold::CatchUp,
                (LessonKind::Revision, _) => Hold::Revision,
                (LessonKind::UnitTest, _) => Hold::Test,
            };
            self.hold(at, hold)?;
        }
        // A test that was fixed where no test can be.
        let stray = |(at, hold): (usize, &Option<Hold>)| {
            *hold == Some(Hold::Test) && !(self.test && at == self.horizon)
        };
        if self.held.iter().enumerate().any(stray) { Err(Unposed::Clash) } else { Ok(()) }
    }

    /// Adds a wish for one period; two that differ clash, "any skill" agrees with every skill.
    fn hold(&mut self, at: usize, hold: Hold) -> Result<(), Unposed> {
        let both = match (self.held[at], hold) {
            (None, hold) => hold,
            (Some(Hold::Teach(None)), Hold::Teach(skill)) => Hold::Teach(skill),
            (Some(Hold::Teach(skill)), Hold::Teach(None)) => Hold::Teach(skill),
            (Some(old), hold) if old == hold => hold,
            _ => return Err(Unposed::Clash),
        };
        self.held[at] = Some(both);
        Ok(())
    }

    fn hold_frozen(&mut self, under: &Underway) -> Result<(), Unposed> {
        for (at, frozen) in under.frozen.iter().enumerate() {
            let Some(lesson) = frozen else { continue };
            let hold = match lesson.kind {
                LessonKind::Teach => {
                    let id = lesson.skill.as_deref().unwrap_or("");
                    Hold::Teach(Some(self.skill(id).ok_or(Unposed::Clash)?))
                }
                LessonKind::CatchUp => Hold::CatchUp,
                LessonKind::Revision => Hold::Revision,
                LessonKind::UnitTest => Hold::Test,
            };
            if hold == Hold::Test && !(self.test && at == self.horizon) {
                return Err(Unposed::Clash);
            }
            self.hold(at, hold)?;
        }
        self.frozen = under.frozen.iter().take_while(|f| f.is_some()).count();
        Ok(())
    }
}

/// The skills to schedule, with their numbers of lessons.
fn tasks(plan: &Plan, scope: &Scope, dropped: &Dropped) -> Result<Vec<Task>, Unposed> {
    if scope.taught.len() > MOST_SKILLS {
        return Err(Unposed::Error(Error::TooManySkills { found: scope.taught.len() }));
    }
    let optional = |id: &str| plan.ladder.skills[id].optional || dropped.must.contains(id);
    if scope.left_out.iter().any(|id| !optional(id)) {
        return Err(Unposed::Clash);
    }
    let bit = |id: &String| scope.taught.iter().position(|t| t == id).map_or(0, |at| 1u64 << at);
    let task = |id: &String| {
        let skill = plan.ladder.skills.get(id);
        let wished = plan.unit.lessons.get(id).copied().or(skill.map(|s| s.lessons));
        let (least, preferred, most) = match (scope.settled.get(id), wished) {
            (None, Some(n)) => (n.least.into(), n.preferred.into(), n.most.into()),
            (Some(&count), _) => (count, count, count),
            (None, None) => (1, 1, 1),
        };
        let needs = skill.map_or(0, |s| s.needs.iter().map(bit).fold(0, |a, b| a | b));
        Task {
            id: id.clone(),
            needs,
            waits: needs,
            least: if dropped.least.contains(id) { 1.min(least) } else { least },
            preferred,
            most,
            weight: skill.map_or(3, |s| i64::from(s.weight)),
            optional: skill.is_some_and(|s| s.optional) || dropped.must.contains(id),
        }
    };
    let mut tasks: Vec<Task> = scope.taught.iter().map(task).collect();
    must_as_their_followers_must(&mut tasks);
    Ok(tasks)
}

/// Lets skills wait for others as the plan's order of methods wishes; what was begun before it did
/// does not.
fn wait_for_methods(plan: &Plan, tasks: &mut [Task], frozen: &BTreeMap<String, usize>) {
    for (first, then) in methods::waits(plan) {
        let place = |id: &str| tasks.iter().position(|task| task.id == id);
        let (Some(first), Some(place)) = (place(&first), place(&then)) else { continue };
        if !tasks[first].optional && !frozen.contains_key(&then) {
            tasks[place].waits |= 1 << first;
        }
    }
}

/// What a skill needs that must be taught must be taught too.
fn must_as_their_followers_must(tasks: &mut [Task]) {
    loop {
        let needed = tasks.iter().filter(|t| !t.optional).fold(0, |all, t| all | t.needs);
        let mut settled = true;
        for (at, task) in tasks.iter_mut().enumerate() {
            if task.optional && needed >> at & 1 == 1 {
                task.optional = false;
                settled = false;
            }
        }
        if settled {
            return;
        }
    }
}

/// The number of periods before the test; none where there is to be no test.
fn test_place(
    plan: &Plan,
    periods: &[Period],
    dropped: &Dropped,
) -> Result<Option<usize>, Unposed> {
    match plan.unit.test {
        _ if dropped.test => Ok(None),
        TestWish::None => Ok(None),
        TestWish::Last => periods.len().checked_sub(1).map(Some).ok_or(Unposed::Clash),
        TestWish::On(date) => {
            periods.iter().position(|p| p.date == date).map(Some).ok_or(Unposed::Clash)
        }
    }
}
