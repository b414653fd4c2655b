//! Another exact method: every schedule of a small term is written out, judged and priced by the
//! definition alone.

use super::make::Make;
use rungwise::calendar::Calendar;
use rungwise::plan::{LessonKind, TestWish};
use rungwise::schedule::{Lesson, Standing};
use std::collections::{BTreeMap, BTreeSet};

/// What a period holds.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Cell {
    Teach(usize),
    CatchUp,
    Revision,
}

struct Skill {
    id: String,
    needs: Vec<usize>,
    least: usize,
    preferred: i64,
    most: usize,
    weight: i64,
    optional: bool,
}

struct Term<'a> {
    made: &'a Make,
    calendar: &'a Calendar,
    standing: Option<&'a Standing>,
    skills: Vec<Skill>,
    horizon: usize,
    test: Option<usize>,
    revision: usize,
    catch_up: usize,
    held: Vec<Option<Held>>,
    frozen: Vec<Option<Cell>>,
    best: Option<i64>,
    pub leaves: u64,
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Held {
    Any,
    Cell(Cell),
}

/// The least cost of all schedules; `None` where there is none.
pub fn least_cost(made: &Make, standing: Option<&Standing>) -> Option<i64> {
    let calendar = made.calendar();
    let mut term = Term::of(made, &calendar, standing)?;
    term.fill(&mut Vec::new());
    term.best
}

fn reach(made: &Make, from: &[String], barred: &BTreeSet<String>) -> BTreeSet<String> {
    let mut reached = BTreeSet::new();
    for id in from.iter().filter(|id| !barred.contains(*id)) {
        reached.insert(id.clone());
        reached.extend(reach(made, &made.plan.ladder.skills[id].needs, barred));
    }
    reached
}

impl<'a> Term<'a> {
    fn of(made: &'a Make, calendar: &'a Calendar, standing: Option<&'a Standing>) -> Option<Self> {
        let plan = &made.plan;
        let periods = &calendar.periods;
        let old_at = |at: usize| {
            let same = |l: &&Lesson| l.date == periods[at].date && l.starts == periods[at].starts;
            standing.and_then(|s| s.old.iter().find(same))
        };
        let frozen_lesson = |at: usize| {
            let standing = standing?;
            old_at(at).filter(|l| l.date < standing.today || standing.taught.contains(&l.number))
        };
        let mut had: BTreeMap<&str, usize> = BTreeMap::new();
        for skill in (0..periods.len()).filter_map(|at| frozen_lesson(at)?.skill.as_deref()) {
            *had.entry(skill).or_default() += 1;
        }
        let known = reach(made, &plan.unit.secure, &BTreeSet::new());
        let mut unit = reach(made, &plan.unit.teach, &known);
        unit.extend(had.keys().map(|s| (*s).to_owned()));
        let needs_left_out = |id: &String| {
            let all = reach(made, std::slice::from_ref(id), &known);
            plan.unit.leave_out.iter().any(|x| unit.contains(x) && all.contains(x))
        };
        let out: BTreeSet<String> = unit
            .iter()
            .filter(|id| needs_left_out(id) && !had.contains_key(id.as_str()))
            .cloned()
            .collect();
        if out.iter().any(|id| !plan.ladder.skills[id].optional) {
            return None;
        }
        let ids: Vec<&String> = plan
            .ladder
            .skills
            .keys()
            .filter(|id| unit.contains(*id) && !out.contains(*id))
            .collect();
        let number = |id: &str| ids.iter().position(|s| *s == id);
        let skills: Vec<Skill> = ids
            .iter()
            .map(|id| {
                let skill = &plan.ladder.skills[*id];
                let n = plan.unit.lessons[*id];
                let settled = (known.contains(*id) || plan.unit.leave_out.contains(id))
                    .then(|| had.get(id.as_str()).copied())
                    .flatten();
                Skill {
                    id: (*id).clone(),
                    needs: skill.needs.iter().filter_map(|n| number(n)).collect(),
                    least: settled.unwrap_or(n.least.into()),
                    preferred: settled
                        .map_or(n.preferred.into(), |n| i64::try_from(n).expect("small")),
                    most: settled.unwrap_or(n.most.into()),
                    weight: skill.weight.into(),
                    optional: skill.optional,
                }
            })
            .collect();
        let test = match plan.unit.test {
            TestWish::None => None,
            TestWish::Last => Some(periods.len().checked_sub(1)?),
            TestWish::On(date) => Some(periods.iter().position(|p| p.date == date)?),
        };
        let horizon = test.unwrap_or(periods.len());
        let mut catch_up = plan
            .unit
            .catch_up
            .map_or(((8 * horizon + 50) / 100).max(1), |c| c.try_into().expect("small"));
        if let Some(standing) = standing {
            let before: Vec<&Lesson> =
                standing.old.iter().take_while(|l| l.kind != LessonKind::UnitTest).collect();
            let rests = before.iter().filter(|l| l.kind == LessonKind::CatchUp).count();
            let gone = before
                .iter()
                .filter(|l| !periods.iter().any(|p| p.date == l.date && p.starts == l.starts))
                .count();
            catch_up = catch_up.min(rests.saturating_sub(gone));
        }
        let cell = |kind: LessonKind, skill: Option<&str>| match kind {
            LessonKind::Teach => match skill {
                Some(skill) => number(skill).map(|s| Held::Cell(Cell::Teach(s))),
                None => Some(Held::Any),
            },
            LessonKind::CatchUp => Some(Held::Cell(Cell::CatchUp)),
            LessonKind::Revision => Some(Held::Cell(Cell::Revision)),
            LessonKind::UnitTest => None,
        };
        let mut held = vec![None; periods.len()];
        for fixed in &plan.unit.fixed {
            let at = periods
                .iter()
                .position(|p| p.date == fixed.date && fixed.starts.is_none_or(|s| s == p.starts))?;
            if fixed.kind == LessonKind::UnitTest {
                if test != Some(at) {
                    return None;
                }
                continue;
            }
            let new = cell(fixed.kind, fixed.skill.as_deref())?;
            if at >= horizon && (new != Held::Cell(Cell::CatchUp) || test == Some(at)) {
                return None;
            }
            held[at] = Some(match (held[at], new) {
                (None, new) => new,
                (Some(Held::Any), Held::Cell(Cell::Teach(s)))
                | (Some(Held::Cell(Cell::Teach(s))), Held::Any) => Held::Cell(Cell::Teach(s)),
                (Some(old), new) if old == new => new,
                _ => return None,
            });
        }
        let mut frozen = vec![None; periods.len()];
        for at in 0..periods.len() {
            let Some(lesson) = frozen_lesson(at) else { continue };
            if lesson.kind == LessonKind::UnitTest || test == Some(at) {
                if test != Some(at) || lesson.kind != LessonKind::UnitTest {
                    return None;
                }
                continue;
            }
            let Some(Held::Cell(kept)) = cell(lesson.kind, lesson.skill.as_deref()) else {
                return None;
            };
            match held[at] {
                Some(Held::Cell(wish)) if wish != kept => return None,
                Some(Held::Any) if !matches!(kept, Cell::Teach(_)) => return None,
                _ => frozen[at] = Some(kept),
            }
            if at > horizon && kept != Cell::CatchUp {
                return None;
            }
        }
        let held_revisions = frozen.iter().filter(|c| **c == Some(Cell::Revision)).count();
        let revision = usize::try_from(plan.unit.revision).expect("small").max(held_revisions);
        Some(Term {
            made,
            calendar,
            standing,
            skills,
            horizon,
            test,
            revision,
            catch_up,
            held,
            frozen,
            best: None,
            leaves: 0,
        })
    }

    /// Every way to fill the periods from here on.
    fn fill(&mut self, cells: &mut Vec<Cell>) {
        let at = cells.len();
        if at == self.horizon {
            self.leaves += 1;
            if self.allowed(cells) {
                let cost = self.cost(cells);
                self.best = Some(self.best.map_or(cost, |best| best.min(cost)));
            }
            return;
        }
        if let Some(cell) = self.frozen[at] {
            cells.push(cell);
            self.fill(cells);
            cells.pop();
            return;
        }
        let all = (0..self.skills.len()).map(Cell::Teach).chain([Cell::CatchUp, Cell::Revision]);
        for cell in all.collect::<Vec<_>>() {
            if self.may_follow(cells, cell) {
                cells.push(cell);
                self.fill(cells);
                cells.pop();
            }
        }
    }

    /// Rules that can be seen broken at once; all of them are looked at again in the end.
    fn may_follow(&self, cells: &[Cell], cell: Cell) -> bool {
        let fits = match self.held[cells.len()] {
            None => true,
            Some(Held::Any) => matches!(cell, Cell::Teach(_)),
            Some(Held::Cell(held)) => held == cell,
        };
        let revisions = cells.iter().filter(|c| **c == Cell::Revision).count();
        let count = |s: usize| cells.iter().filter(|c| **c == Cell::Teach(s)).count();
        fits && match cell {
            Cell::CatchUp => true,
            Cell::Revision => revisions < self.revision,
            Cell::Teach(s) => {
                let skill = &self.skills[s];
                let last = cells.iter().rev().find(|c| matches!(c, Cell::Teach(_)));
                revisions == 0
                    && count(s) < skill.most
                    && (count(s) == 0 || last == Some(&cell))
                    && skill.needs.iter().all(|n| count(*n) > 0)
            }
        }
    }

    fn places(&self, cells: &[Cell], skill: usize) -> Vec<usize> {
        (0..cells.len()).filter(|at| cells[*at] == Cell::Teach(skill)).collect()
    }

    fn is_frozen(&self, at: usize) -> bool {
        self.frozen[at].is_some()
    }

    fn allowed(&self, cells: &[Cell]) -> bool {
        let teach = |at: &usize| matches!(cells[*at], Cell::Teach(_));
        for (s, skill) in self.skills.iter().enumerate() {
            let places = self.places(cells, s);
            let (Some(&first), Some(&last)) = (places.first(), places.last()) else {
                if !skill.optional {
                    return false;
                }
                continue;
            };
            // A skill all of whose lessons are frozen must have enough only if more could follow.
            let begun = self.frozen.iter().take_while(|f| f.is_some()).count().min(cells.len());
            let over = (first..begun)
                .any(|at| !matches!(cells[at], Cell::CatchUp) && cells[at] != Cell::Teach(s));
            let all_frozen = places.iter().all(|at| self.is_frozen(*at));
            if places.len() < skill.least && !(all_frozen && over) {
                return false;
            }
            if places.len() > skill.most && !all_frozen {
                return false;
            }
            for (at, cell) in cells.iter().enumerate().take(last).skip(first) {
                let own = *cell == Cell::Teach(s) || *cell == Cell::CatchUp;
                let settled = self.is_frozen(at) && self.is_frozen(last);
                if !(own || settled) {
                    return false;
                }
            }
            for need in &skill.needs {
                match self.places(cells, *need).last() {
                    Some(end)
                        if *end < first || (self.is_frozen(*end) && self.is_frozen(first)) => {}
                    _ => return false,
                }
            }
        }
        let revisions: Vec<usize> =
            (0..cells.len()).filter(|at| cells[*at] == Cell::Revision).collect();
        let last_teach = (0..cells.len()).rev().find(teach);
        let late = revisions.iter().all(|r| {
            last_teach.is_none_or(|t| t < *r || (self.is_frozen(t) && self.is_frozen(*r)))
        });
        let rests = cells.iter().filter(|c| **c == Cell::CatchUp).count();
        revisions.len() == self.revision && late && rests >= self.catch_up
    }

    fn cost(&self, cells: &[Cell]) -> i64 {
        let costs = &self.made.plan.costs;
        let periods = &self.calendar.periods;
        let small = |n: usize| i64::try_from(n).expect("small");
        let mut sum = 0;
        let mut pay = |weight: u32, times: i64| sum += i64::from(weight) * times;
        let mut order: Vec<(usize, usize)> = Vec::new();
        for (s, skill) in self.skills.iter().enumerate() {
            let places = self.places(cells, s);
            let Some(&first) = places.first() else {
                pay(costs.left_out, skill.weight);
                continue;
            };
            order.push((first, s));
            let d = (skill.preferred - small(places.len())).max(0);
            pay(costs.short, skill.weight * d * (d + 1) / 2);
            pay(costs.extra, (small(places.len()) - skill.preferred).max(0));
            let next_after_break = first + 1 < periods.len() && periods[first + 1].break_before;
            pay(costs.starts_before_break, next_after_break.into());
            pay(costs.cold_return, periods[first].break_before.into());
            let short =
                5 * u32::from(periods[first].minutes) < 4 * u32::from(self.calendar.unit_length);
            pay(costs.short_start, short.into());
            for pair in places.windows(2) {
                let split = periods[pair[0] + 1..=pair[1]].iter().any(|p| p.break_before);
                pay(costs.split_by_break, split.into());
            }
        }
        order.sort_unstable();
        for pair in order.windows(2) {
            pay(costs.thread_cut, (!self.skills[pair[1].1].needs.contains(&pair[0].1)).into());
        }
        let dates: BTreeSet<_> = order.iter().map(|(first, _)| periods[*first].date).collect();
        pay(costs.two_starts, small(order.len() - dates.len()));
        let mut row = 0;
        for (at, cell) in cells.iter().enumerate() {
            row = if matches!(cell, Cell::Teach(_)) { row + 1 } else { 0 };
            pay(costs.long_run, (row - i64::from(costs.long_run_limit)).max(0));
            let bunched = at > 0 && *cell == Cell::CatchUp && cells[at - 1] == Cell::CatchUp;
            pay(costs.bunched, bunched.into());
        }
        sum + self.standing.map_or(0, |standing| self.moves(cells, standing, &order))
    }

    /// The period a named lesson of the old schedule is on now.
    fn now_at(&self, cells: &[Cell], old: &Lesson, nth: usize) -> Option<usize> {
        let like = |cell: Cell| (0..cells.len()).filter(|at| cells[*at] == cell).nth(nth);
        match (old.kind, &old.skill) {
            (LessonKind::Teach, Some(id)) => {
                like(Cell::Teach(self.skills.iter().position(|s| s.id == *id)?))
            }
            (LessonKind::Revision, _) => like(Cell::Revision),
            _ => self.test,
        }
    }

    fn moves(&self, cells: &[Cell], standing: &Standing, order: &[(usize, usize)]) -> i64 {
        let costs = &self.made.plan.costs;
        let periods = &self.calendar.periods;
        let soon: Vec<_> =
            self.calendar.school_days.iter().filter(|d| **d >= standing.today).take(5).collect();
        let mut sum = 0;
        let mut seen: BTreeMap<(LessonKind, Option<&str>), usize> = BTreeMap::new();
        let mut old_order: Vec<&str> = Vec::new();
        for old in &standing.old {
            let printed = i64::from(standing.printed.contains(&old.number));
            let here = periods.iter().position(|p| p.date == old.date && p.starts == old.starts);
            if old.kind == LessonKind::CatchUp {
                let rests = here.is_some_and(|at| match self.test {
                    Some(test) if at >= test => at > test,
                    _ => cells[at] == Cell::CatchUp,
                });
                if !rests {
                    sum += i64::from(costs.printed_moved) * printed;
                }
                continue;
            }
            let nth = seen.entry((old.kind, old.skill.as_deref())).or_default();
            let now = self.now_at(cells, old, *nth);
            *nth += 1;
            if now.is_none() || now != here {
                let soon_enough = old.date >= standing.today
                    && (soon.len() < 5 || soon.last().is_some_and(|l| old.date <= **l));
                sum += i64::from(costs.printed_moved) * printed + i64::from(costs.moved);
                sum += i64::from(costs.soon_moved) * i64::from(soon_enough);
            }
            if let Some(id) = old.skill.as_deref()
                && !old_order.contains(&id)
            {
                old_order.push(id);
            }
        }
        let new_order: Vec<&str> = order.iter().map(|(_, s)| self.skills[*s].id.as_str()).collect();
        let place = |list: &[&str], id: &str| list.iter().position(|x| *x == id);
        for a in &new_order {
            for b in &new_order {
                let old = place(&old_order, a).zip(place(&old_order, b));
                let swapped =
                    old.is_some_and(|(x, y)| x > y) && place(&new_order, a) < place(&new_order, b);
                sum += i64::from(costs.order) * i64::from(swapped);
            }
        }
        sum
    }
}
