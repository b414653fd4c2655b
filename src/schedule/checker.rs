//! The judge of finished schedules: every rule, read off the lessons, and nothing of the search.

use super::methods;
use super::price::{Priced, price};
use super::{Lesson, Proof, Schedule, Standing};
use crate::calendar::{Calendar, Period};
use crate::curriculum::Lessons;
use crate::plan::{Fixed, LessonKind, Plan, TestWish};
use std::collections::{BTreeMap, BTreeSet};

/// What a schedule is held against.
struct Judge<'a> {
    plan: &'a Plan,
    standing: Option<&'a Standing>,
    schedule: &'a Schedule,
    /// The skills that may be taught, in the ladder's order.
    unit: Vec<String>,
    counts: BTreeMap<String, Lessons>,
    horizon: usize,
    faults: Vec<String>,
}

/// All that is wrong with a schedule; empty where nothing is.
pub fn faults(
    plan: &Plan,
    calendar: &Calendar,
    standing: Option<&Standing>,
    schedule: &Schedule,
) -> Vec<String> {
    let test = schedule.lessons.iter().position(|l| l.kind == LessonKind::UnitTest);
    let mut judge = Judge {
        plan,
        standing,
        schedule,
        unit: Vec::new(),
        counts: BTreeMap::new(),
        horizon: test.unwrap_or(schedule.lessons.len()),
        faults: Vec::new(),
    };
    judge.periods(calendar);
    if judge.faults.is_empty() {
        judge.unit();
        judge.counts();
        judge.blocks();
        judge.needs();
        judge.methods();
        judge.test();
        judge.revisions();
        judge.catch_ups();
        judge.fixed();
        judge.frozen();
        // A skill from nowhere has no price.
        let known = |l: &Lesson| l.skill.as_ref().is_none_or(|s| judge.unit.contains(s));
        if schedule.lessons.iter().all(known) {
            judge.cost(calendar);
        }
    }
    judge.faults
}

/// All skills reached along the needs from some, never entering a barred one.
fn reached(plan: &Plan, from: &[String], barred: &BTreeSet<String>) -> BTreeSet<String> {
    let mut found: BTreeSet<String> =
        from.iter().filter(|s| !barred.contains(*s)).cloned().collect();
    loop {
        let more: BTreeSet<String> = found
            .iter()
            .filter_map(|s| plan.ladder.skills.get(s))
            .flat_map(|s| &s.needs)
            .filter(|s| !barred.contains(*s) && !found.contains(*s))
            .cloned()
            .collect();
        if more.is_empty() {
            return found;
        }
        found.extend(more);
    }
}

impl Judge<'_> {
    fn hold(&mut self, holds: bool, fault: impl FnOnce() -> String) {
        if !holds {
            self.faults.push(fault());
        }
    }

    fn old_at(&self, at: usize) -> Option<&Lesson> {
        let period = &self.schedule.periods[at];
        let old = &self.standing?.old;
        old.iter().find(|l| l.date == period.date && l.starts == period.starts)
    }

    /// Whether a period's lesson could not be changed any more.
    fn is_frozen(&self, at: usize) -> bool {
        let Some(standing) = self.standing else { return false };
        let taught = |l: &Lesson| standing.taught.contains(&l.number);
        self.schedule.periods[at].date < standing.today || self.old_at(at).is_some_and(taught)
    }

    /// One lesson a period, in order, none on a period that is not there, none missing.
    fn periods(&mut self, calendar: &Calendar) {
        let (periods, lessons) = (&self.schedule.periods, &self.schedule.lessons);
        let same = |p: &Period, l: &Lesson| {
            p.date == l.date && p.starts == l.starts && p.minutes == l.minutes
        };
        let paired =
            periods.len() == lessons.len() && periods.iter().zip(lessons).all(|(p, l)| same(p, l));
        let rising =
            periods.windows(2).all(|w| (w[0].date, w[0].starts) < (w[1].date, w[1].starts));
        let broken = |w: &[Period]| {
            let mut day = w[0].date.succ_opt();
            let mut away = 0;
            while let Some(d) = day.filter(|d| *d < w[1].date) {
                away += usize::from(!calendar.school_days.contains(&d));
                day = d.succ_opt();
            }
            away >= 4
        };
        let breaks = periods.windows(2).all(|w| w[1].break_before == broken(w))
            && periods.first().is_none_or(|p| !p.break_before);
        let listed =
            |p: &Period| calendar.periods.iter().any(|c| c.date == p.date && c.starts == p.starts);
        let today = self.standing.map(|s| s.today);
        let coming = |p: &&Period| today.is_none_or(|today| p.date >= today);
        let all_there = calendar
            .periods
            .iter()
            .filter(coming)
            .all(|c| periods.iter().any(|p| p.date == c.date && p.starts == c.starts));
        let real = (0..periods.len()).all(|at| listed(&periods[at]) || self.is_frozen(at));
        self.hold(paired, || "the lessons are not one for each period".to_owned());
        self.hold(rising, || "the periods are not in order".to_owned());
        self.hold(breaks, || "a break is not where it should be".to_owned());
        self.hold(all_there && real, || "the periods are not those of the calendar".to_owned());
    }

    /// D without X, and how many lessons each skill takes.
    fn unit(&mut self) {
        let plan = self.plan;
        let mut had: BTreeMap<String, u8> = BTreeMap::new();
        for at in (0..self.schedule.lessons.len()).filter(|at| self.is_frozen(*at)) {
            if let Some(skill) = &self.schedule.lessons[at].skill {
                *had.entry(skill.clone()).or_default() += 1;
            }
        }
        let known = reached(plan, &plan.unit.secure, &BTreeSet::new());
        let mut d = reached(plan, &plan.unit.teach, &known);
        d.extend(had.keys().cloned());
        let mut x: BTreeSet<String> =
            plan.unit.leave_out.iter().filter(|s| d.contains(*s)).cloned().collect();
        let left_out = x.clone();
        loop {
            let needs_one = |s: &&String| {
                plan.ladder.skills.get(*s).is_some_and(|s| s.needs.iter().any(|n| x.contains(n)))
            };
            let more: Vec<String> =
                d.iter().filter(|s| !x.contains(*s)).filter(needs_one).cloned().collect();
            if more.is_empty() {
                break;
            }
            x.extend(more);
        }
        x.retain(|s| !had.contains_key(s));
        for skill in x.iter().filter(|s| !plan.ladder.skills[*s].optional) {
            self.faults.push(format!("`{skill}` is left out but not optional"));
        }
        let in_ladder = plan.ladder.skills.keys().filter(|s| d.contains(*s) && !x.contains(*s));
        let unknown = had.keys().filter(|s| !plan.ladder.skills.contains_key(*s));
        self.unit = in_ladder.chain(unknown).cloned().collect();
        for skill in self.unit.clone() {
            let settled = known.contains(&skill)
                || left_out.contains(&skill)
                || !plan.ladder.skills.contains_key(&skill);
            let counts = match had.get(&skill) {
                Some(&n) if settled => Lessons { least: n, preferred: n, most: n },
                _ => plan
                    .unit
                    .lessons
                    .get(&skill)
                    .copied()
                    .unwrap_or_else(|| plan.ladder.skills[&skill].lessons),
            };
            self.counts.insert(skill, counts);
        }
        let taught: BTreeSet<&String> =
            self.schedule.lessons.iter().filter_map(|l| l.skill.as_ref()).collect();
        let not_taught =
            plan.ladder.skills.keys().filter(|s| d.contains(*s) && !taught.contains(s));
        let listed = self.schedule.left_out.iter().map(|l| &l.skill);
        let same = not_taught.eq(listed);
        self.hold(same, || "the list of skills left out is wrong".to_owned());
    }

    /// The periods of a skill's lessons.
    fn places(&self, skill: &str) -> Vec<usize> {
        let lessons = self.schedule.lessons.iter().enumerate();
        lessons.filter(|(_, l)| l.skill.as_deref() == Some(skill)).map(|(at, _)| at).collect()
    }

    /// Every skill that must be is taught, and with a number of lessons that is allowed.
    fn counts(&mut self) {
        for (at, lesson) in self.schedule.lessons.iter().enumerate() {
            let teach = lesson.kind == LessonKind::Teach;
            let known = lesson.skill.as_ref().is_none_or(|s| self.unit.contains(s));
            let right = teach == lesson.skill.is_some() && known;
            self.hold(right, || format!("period {} holds no skill of the unit", at + 1));
        }
        for skill in self.unit.clone() {
            let places = self.places(&skill);
            let optional = self.plan.ladder.skills.get(&skill).is_some_and(|s| s.optional);
            let counts = self.counts[&skill];
            let n = places.len();
            let fits = usize::from(counts.least) <= n && n <= usize::from(counts.most);
            let all_frozen = n > 0 && places.iter().all(|at| self.is_frozen(*at));
            self.hold((n == 0 && optional) || fits || all_frozen, || {
                format!("`{skill}` has {n} lessons")
            });
            for (k, at) in places.iter().enumerate() {
                let lesson = &self.schedule.lessons[*at];
                let part =
                    (lesson.part, lesson.of) == (u32::try_from(k + 1).ok(), u32::try_from(n).ok());
                self.hold(part, || format!("period {} has a wrong part", at + 1));
            }
        }
    }

    /// Between a skill's first and last lesson only its own lessons and catch-ups.
    fn blocks(&mut self) {
        for skill in self.unit.clone() {
            let places = self.places(&skill);
            let (Some(first), Some(last)) = (places.first(), places.last()) else { continue };
            for at in *first..*last {
                let lesson = &self.schedule.lessons[at];
                let own =
                    lesson.skill.as_deref() == Some(&skill) || lesson.kind == LessonKind::CatchUp;
                let next = places.iter().find(|p| **p > at).copied().unwrap_or(*last);
                let settled = self.is_frozen(at) && self.is_frozen(next) && self.is_frozen(*last);
                self.hold(own || settled, || {
                    format!("`{skill}` is interrupted in period {}", at + 1)
                });
            }
        }
    }

    fn needs(&mut self) {
        for skill in self.unit.clone() {
            let Some(first) = self.places(&skill).first().copied() else { continue };
            let Some(known) = self.plan.ladder.skills.get(&skill) else { continue };
            let needs = known.needs.iter().filter(|n| self.unit.contains(n));
            for need in needs.cloned().collect::<Vec<_>>() {
                let last = self.places(&need).last().copied();
                let settled =
                    last.is_some_and(|last| self.is_frozen(last) && self.is_frozen(first));
                self.hold(last.is_some_and(|last| last < first) || settled, || {
                    format!("`{skill}` comes before `{need}`")
                });
            }
        }
    }

    /// Methods in the plan's order, where the ladder leaves it open; what was begun before stays.
    fn methods(&mut self) {
        for (first, then) in methods::waits(self.plan) {
            let (first, then) = (self.places(&first), self.places(&then));
            if let (Some(last), Some(begins)) = (first.last(), then.first()) {
                let (last, begins) = (*last, *begins);
                let begun = self.is_frozen(begins);
                self.hold(last < begins || begun, || {
                    format!("the method of period {} comes too early", begins + 1)
                });
            }
        }
    }

    fn test(&mut self) {
        let lessons = &self.schedule.lessons;
        let tests: Vec<usize> =
            (0..lessons.len()).filter(|at| lessons[*at].kind == LessonKind::UnitTest).collect();
        let wished = match self.plan.unit.test {
            TestWish::None => None,
            TestWish::Last => lessons.len().checked_sub(1),
            TestWish::On(date) => lessons.iter().position(|l| l.date == date),
        };
        self.hold(tests == wished.into_iter().collect::<Vec<_>>(), || {
            "the test is not where it was wished".to_owned()
        });
        let quiet = lessons.iter().skip(self.horizon + 1).all(|l| l.kind == LessonKind::CatchUp);
        self.hold(quiet, || "something follows the test".to_owned());
    }

    fn revisions(&mut self) {
        let lessons = &self.schedule.lessons[..self.horizon];
        let places: Vec<usize> =
            (0..lessons.len()).filter(|at| lessons[*at].kind == LessonKind::Revision).collect();
        let frozen = places.iter().filter(|at| self.is_frozen(**at)).count();
        let wished = usize::try_from(self.plan.unit.revision).unwrap_or(usize::MAX);
        self.hold(places.len() == wished.max(frozen), || {
            "the number of revisions is wrong".to_owned()
        });
        let last = lessons.iter().rposition(|l| l.kind == LessonKind::Teach);
        for at in &places {
            let settled = self.is_frozen(*at) && last.is_some_and(|last| self.is_frozen(last));
            let after = last.is_none_or(|last| last < *at);
            self.hold(after || settled, || format!("a revision in period {} is too early", at + 1));
        }
    }

    fn catch_ups(&mut self) {
        let lessons = &self.schedule.lessons[..self.horizon];
        let held = lessons.iter().filter(|l| l.kind == LessonKind::CatchUp).count();
        let mut least = match self.plan.unit.catch_up {
            Some(least) => usize::try_from(least).unwrap_or(usize::MAX),
            None => usize::max(1, (8 * self.horizon + 50) / 100),
        };
        if let Some(standing) = self.standing {
            let before_test = || standing.old.iter().take_while(|l| l.kind != LessonKind::UnitTest);
            let old = before_test().filter(|l| l.kind == LessonKind::CatchUp).count();
            let there = |l: &&Lesson| {
                self.schedule.periods.iter().any(|p| p.date == l.date && p.starts == l.starts)
            };
            let gone = before_test().filter(|l| !there(l)).count();
            least = least.min(old.saturating_sub(gone));
        }
        self.hold(held >= least, || format!("{held} catch-ups, {least} wished"));
        let spare = u32::try_from(held.saturating_sub(least)).unwrap_or(u32::MAX);
        self.hold(self.schedule.spare_periods == spare, || {
            "the spare periods are wrong".to_owned()
        });
    }

    fn fixed(&mut self) {
        let on = |f: &Fixed, l: &Lesson| {
            l.date == f.date && f.starts.is_none_or(|starts| starts == l.starts)
        };
        for fixed in &self.plan.unit.fixed {
            let lesson = self.schedule.lessons.iter().find(|l| on(fixed, l));
            let right = lesson.is_some_and(|l| {
                l.kind == fixed.kind && (fixed.skill.is_none() || l.skill == fixed.skill)
            });
            self.hold(right, || format!("the lesson fixed on {} is not there", fixed.date));
        }
    }

    fn frozen(&mut self) {
        let frozen = (0..self.schedule.lessons.len()).filter(|at| self.is_frozen(*at));
        for at in frozen.collect::<Vec<_>>() {
            let new = &self.schedule.lessons[at];
            let kept = self.old_at(at).is_some_and(|old| {
                old.kind == new.kind && old.skill == new.skill && old.number == new.number
            });
            self.hold(kept, || format!("period {} was changed after the event", at + 1));
        }
        let mut numbers: Vec<u32> = self.schedule.lessons.iter().map(|l| l.number).collect();
        numbers.sort_unstable();
        self.hold(numbers.windows(2).all(|w| w[0] < w[1]), || {
            "two lessons have one number".to_owned()
        });
    }

    fn cost(&mut self, calendar: &Calendar) {
        let schedule = self.schedule;
        let cost = price(Priced {
            plan: self.plan,
            calendar,
            standing: self.standing,
            periods: &schedule.periods,
            lessons: &schedule.lessons,
            unit: &self.unit,
            counts: &self.counts,
        });
        self.hold(cost == schedule.cost, || {
            format!("it costs {}, the search says {}", cost.total, schedule.cost.total)
        });
        let bound = match schedule.proof {
            Proof::Optimal => schedule.bound == cost.total,
            Proof::Bound => schedule.bound < cost.total,
        };
        self.hold(bound, || "the proven bound does not fit the cost".to_owned());
    }
}
