//! When each skill was taught and practised, and which come back in which lesson.
//!
//! The term is replayed lesson by lesson, each looking only at those before it, so that a lesson
//! comes out the same whatever is moved after it.

use crate::curriculum::{Ladder, Skill};
use crate::plan::{LessonKind, Plan};
use crate::schedule::Lesson;
use indexmap::IndexMap;

/// After how many lessons a skill comes back, counted from its last teaching lesson: next day, same
/// week, next week, three weeks, six weeks. Expanding gaps keep success in class high (Kang et al.
/// 2014) and cost nothing at the end (Latimier, Peyre & Ramus 2021).
pub const OFFSETS: [i64; 5] = [1, 3, 7, 15, 30];

/// The gap after the last offset, and that of skills known before the term (common practice, no
/// source).
const LONG_GAP: i64 = 15;

/// Days without a lesson that count as a break.
const BREAK_DAYS: i64 = 7;

/// A skill that comes back.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Return {
    /// The skill.
    pub skill: String,
    /// Its n-th return of this sort, from 1: names its stream of numbers.
    pub nth: u32,
    /// How many items it gets in a warm-up; 0 where practice decides.
    pub items: usize,
    /// Whether its time has come, rather than filling spare room.
    pub due: bool,
}

/// What a lesson brings back.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Brought {
    /// Skills of the warm-up, most urgent first.
    pub warm_up: Vec<Return>,
    /// Older skills for practice, best first.
    pub mixed: Vec<Return>,
    /// Skills taught before this lesson, longest without practice first; for a revision those
    /// that have come back less than twice before all others.
    pub oldest: Vec<String>,
}

/// What is known of one skill at some point of the term.
#[derive(Debug, Clone)]
struct Known {
    /// The lesson (from 1) that last taught it; 0 or less: known before the term.
    taught: i64,
    /// Parts taught.
    parts: u32,
    /// The lesson that last had it in any section.
    seen: i64,
    /// The lesson that last had it in practice.
    practised: i64,
    /// How many due returns it has had.
    stage: usize,
    /// Returns in warm-ups.
    returns: u32,
    /// Returns in practice.
    mixed: u32,
    /// Lessons since it was taught that had it.
    met: u32,
}

impl Known {
    fn offset(&self) -> i64 {
        let beyond = i64::try_from(self.stage).unwrap_or(0) - 4;
        OFFSETS.get(self.stage).copied().unwrap_or(OFFSETS[4] + LONG_GAP * beyond)
    }
    fn gap(&self) -> i64 {
        match self.stage {
            _ if self.taught <= 0 => LONG_GAP,
            0 => OFFSETS[0],
            1..=4 => OFFSETS[self.stage] - OFFSETS[self.stage - 1],
            _ => LONG_GAP,
        }
    }
    /// The lesson it is due in; a late return does not bring the next one at once.
    fn due(&self) -> i64 {
        if self.taught <= 0 {
            return self.seen + LONG_GAP;
        }
        (self.taught + self.offset()).max(self.seen + (self.gap() + 1) / 2)
    }
    fn meet(&mut self, now: i64) {
        self.met += u32::from(self.seen < now);
        self.seen = now;
    }
    /// The last lesson that is not too late: one and a half gaps after it was last met.
    fn deadline(&self) -> i64 {
        self.seen + self.gap() * 3 / 2
    }
}

/// The term up to a lesson.
pub struct Memory<'a> {
    plan: &'a Plan,
    known: IndexMap<String, Known>,
    can_make: &'a dyn Fn(&Skill) -> bool,
}

/// Replays the term up to the lesson at this place in `lessons` and says what it brings back.
/// Skills that `can_make` refuses never come back, as there is nothing to print for them.
pub fn bring_back(
    plan: &Plan,
    lessons: &[Lesson],
    place: usize,
    can_make: &dyn Fn(&Skill) -> bool,
) -> Brought {
    let mut memory = Memory { plan, known: IndexMap::new(), can_make };
    memory.learn_what_is_secure();
    for at in 0..=place.min(lessons.len().saturating_sub(1)) {
        let brought = memory.brought(lessons, at);
        if at == place {
            return brought;
        }
        memory.hold(lessons, at, &brought);
    }
    Brought::default()
}

/// The skills that are secure before the term, with all that they need, in the ladder's order.
pub fn secure_skills(plan: &Plan) -> Vec<&str> {
    let mut found: Vec<&str> = Vec::new();
    let mut open: Vec<&str> = plan.unit.secure.iter().map(String::as_str).collect();
    while let Some(id) = open.pop() {
        let Some(skill) = plan.ladder.skills.get(id) else { continue };
        if !found.contains(&id) {
            found.push(&skill.id);
            open.extend(skill.needs.iter().map(String::as_str));
        }
    }
    plan.ladder.skills.keys().map(String::as_str).filter(|id| found.contains(id)).collect()
}

/// How many items a warm-up of so many minutes holds: rows of three.
pub fn warm_up_items(minutes: u16) -> usize {
    match minutes {
        0..=4 => 3,
        5..=7 => 6,
        8..=9 => 9,
        _ => 12,
    }
}

impl Memory<'_> {
    fn learn_what_is_secure(&mut self) {
        let plan = self.plan;
        for (index, id) in secure_skills(plan).into_iter().enumerate() {
            if self.makeable(id) {
                // Spread out, so that they take turns.
                let seen = -LONG_GAP - i64::try_from(index).unwrap_or(0);
                self.known.insert(
                    id.to_owned(),
                    Known {
                        taught: 0,
                        parts: 9,
                        seen,
                        practised: seen,
                        stage: 5,
                        returns: 0,
                        mixed: 0,
                        met: 0,
                    },
                );
            }
        }
    }

    fn makeable(&self, id: &str) -> bool {
        self.plan.ladder.skills.get(id).is_some_and(self.can_make)
    }

    fn brought(&self, lessons: &[Lesson], at: usize) -> Brought {
        let lesson = &lessons[at];
        let now = number_in_order(at);
        let away = lessons_away(self.plan, lessons, at);
        let items = warm_up_items(super::minutes::Minutes::of(lesson.minutes).warm_up);
        let items = if away > 0 { (items + 3).min(12) } else { items };
        Brought {
            warm_up: self.warm_up(lesson, now, away, items),
            mixed: self.mixed(lesson, now),
            oldest: self.oldest(lesson.kind, now),
        }
    }

    /// Who is due comes by deadline, the earliest first; spare room goes to those who have waited
    /// longest for their gap.
    fn warm_up(&self, lesson: &Lesson, now: i64, away: i64, items: usize) -> Vec<Return> {
        let others = || self.known.iter().filter(|(id, _)| lesson.skill.as_ref() != Some(*id));
        let mut due: Vec<(&String, &Known)> =
            others().filter(|(_, k)| k.taught > 0 && k.due() <= now + away).collect();
        due.sort_by_key(|(_, k)| (k.deadline(), k.taught));
        let mut early: Vec<(&String, &Known)> =
            others().filter(|(id, _)| !due.iter().any(|(d, _)| d == id)).collect();
        early.sort_by_key(|(_, k)| -((now - k.seen) * 1000 / k.gap().max(1)));
        let room = items.div_ceil(2).saturating_sub(due.len());
        due.truncate(items);
        due.extend(early.into_iter().take(room));
        let share = |index: usize| items / due.len() + usize::from(index < items % due.len());
        let is_due = |k: &Known| k.taught > 0 && k.due() <= now + away;
        due.iter()
            .enumerate()
            .map(|(index, (id, k))| Return {
                skill: (*id).clone(),
                nth: k.returns + 1,
                items: share(index),
                due: is_due(k),
            })
            .collect()
    }

    /// Older skills for practice: first one that is easily confused with this lesson's, then those
    /// longest without practice.
    fn mixed(&self, lesson: &Lesson, now: i64) -> Vec<Return> {
        let mut older: Vec<(&String, &Known)> =
            self.known.iter().filter(|(id, _)| lesson.skill.as_ref() != Some(*id)).collect();
        // What was known before the term comes last.
        older.sort_by_key(|(_, k)| (k.taught <= 0, k.practised, k.taught));
        if let Some(skill) = lesson.skill.as_ref().and_then(|id| self.plan.ladder.skills.get(id)) {
            let close = |id: &str| confusable(&self.plan.ladder, skill, id);
            let fresh = |k: &Known| k.taught > 0 && now - k.practised > 1;
            let pick = older.iter().position(|(id, k)| close(id) && fresh(k));
            if let Some(place) = pick.or_else(|| older.iter().position(|(id, _)| close(id))) {
                let closest = older.remove(place);
                older.insert(0, closest);
            }
        }
        older
            .into_iter()
            .take(MIXED)
            .map(|(id, k)| Return { skill: id.clone(), nth: k.mixed + 1, items: 0, due: false })
            .collect()
    }

    fn oldest(&self, kind: LessonKind, now: i64) -> Vec<String> {
        let mut taught: Vec<(&String, &Known)> =
            self.known.iter().filter(|(_, k)| k.taught > 0).collect();
        let weight = |id: &str| self.plan.ladder.skills.get(id).map_or(0, |s| i64::from(s.weight));
        taught.sort_by_key(|(id, k)| (k.practised, std::cmp::Reverse(weight(id))));
        match kind {
            // What others build on and what has seldom come back; how long ago counts up to the
            // long gap.
            LessonKind::CatchUp => taught.sort_by_key(|(id, k)| {
                let away = (now - k.practised).min(LONG_GAP);
                let seldom = 1000 / (2 + i64::from(k.met));
                std::cmp::Reverse(away * (weight(id) + self.built_on(id)) * seldom)
            }),
            // Key content comes back at least twice (Pashler et al. 2007).
            LessonKind::Revision => taught.sort_by_key(|(_, k)| k.met.min(2)),
            LessonKind::Teach | LessonKind::UnitTest => {}
        }
        let oldest: Vec<String> = taught.into_iter().map(|(id, _)| id.clone()).collect();
        if kind == LessonKind::Revision { self.like_the_test(&oldest) } else { oldest }
    }

    /// How many skills need this one directly, at most 3.
    fn built_on(&self, id: &str) -> i64 {
        let needs = |s: &&Skill| s.needs.iter().any(|need| need == id);
        let count = self.plan.ladder.skills.values().filter(needs).count();
        i64::try_from(count).unwrap_or(3).min(3)
    }

    /// The skills of a revision, stories, written sums and quick ones by turns, before all others.
    fn like_the_test(&self, oldest: &[String]) -> Vec<String> {
        let maker = |id: &String| self.plan.ladder.skills.get(id).map_or("", |s| s.maker.as_str());
        let of = |nature: Nature, most: usize| -> Vec<String> {
            let of = oldest.iter().filter(|id| Nature::of(maker(id)) == nature);
            of.take(most).cloned().collect()
        };
        let each = REVISED.map(|(nature, most)| of(nature, most));
        let first = super::mixing::interleave(each.into());
        let rest = oldest.iter().filter(|id| !first.contains(id)).cloned();
        let rest: Vec<String> = rest.collect();
        first.into_iter().chain(rest).collect()
    }

    /// Records that a lesson was held with what it brought back.
    fn hold(&mut self, lessons: &[Lesson], at: usize, brought: &Brought) {
        let lesson = &lessons[at];
        let now = number_in_order(at);
        if has_warm_up(lessons, at) {
            self.record_warm_up(now, &brought.warm_up);
        }
        match lesson.kind {
            LessonKind::Teach => self.teach(lesson, now, &brought.mixed),
            LessonKind::CatchUp => self.practise(now, &brought.oldest, CATCH_UP),
            LessonKind::Revision => self.practise(now, &brought.oldest, REVISION),
            LessonKind::UnitTest => {}
        }
    }

    fn record_warm_up(&mut self, now: i64, returns: &[Return]) {
        for back in returns {
            if let Some(k) = self.known.get_mut(&back.skill) {
                k.stage += usize::from(back.due);
                k.returns += 1;
                k.meet(now);
            }
        }
    }

    fn teach(&mut self, lesson: &Lesson, now: i64, mixed: &[Return]) {
        let later_part = lesson.part.is_some_and(|part| part > 1);
        for (index, back) in mixed.iter().enumerate() {
            if let Some(k) = self.known.get_mut(&back.skill) {
                k.mixed += 1;
                if later_part && index < SURELY_MIXED {
                    k.meet(now);
                    k.practised = now;
                }
            }
        }
        let Some(id) = lesson.skill.clone().filter(|id| self.makeable(id)) else { return };
        let fresh = Known {
            taught: 0,
            parts: 0,
            seen: 0,
            practised: 0,
            stage: 0,
            returns: 0,
            mixed: 0,
            met: 0,
        };
        let k = self.known.entry(id).or_insert(fresh);
        k.parts += 1;
        (k.taught, k.seen, k.practised) = (now, now, now);
        (k.stage, k.met) = (0, 0);
    }

    fn practise(&mut self, now: i64, oldest: &[String], most: usize) {
        for id in oldest.iter().take(most) {
            if let Some(k) = self.known.get_mut(id) {
                k.meet(now);
                k.practised = now;
            }
        }
    }
}

/// Whether the lesson begins with a warm-up: all but the test and the lesson that goes through it.
fn has_warm_up(lessons: &[Lesson], at: usize) -> bool {
    lessons[at].kind != LessonKind::UnitTest && !follows_test(lessons, at)
}

/// Whether this is the first lesson after the unit test.
pub fn follows_test(lessons: &[Lesson], at: usize) -> bool {
    at.checked_sub(1).is_some_and(|before| lessons[before].kind == LessonKind::UnitTest)
}

/// How many older skills practice may choose from, and how many of them it surely takes.
pub const MIXED: usize = 4;
/// See [`MIXED`].
pub const SURELY_MIXED: usize = 2;
/// How many skills a catch-up without marks works on.
pub const CATCH_UP: usize = 3;
/// How many skills a revision works on at most.
pub const REVISION: usize = 12;
/// How many of each nature they are, where there are so many.
const REVISED: [(Nature, usize); 3] =
    [(Nature::Written, 6), (Nature::Story, 2), (Nature::Quick, 4)];

/// What the items of a skill are like.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Nature {
    /// Story sums.
    Story,
    /// Sums on squares, grids or lattices.
    Written,
    /// Everything that takes no room.
    Quick,
}

impl Nature {
    /// By the name of the maker.
    pub fn of(maker: &str) -> Nature {
        let begins = |names: &[&str]| names.iter().any(|name| maker.starts_with(name));
        if begins(&["story-"]) {
            Nature::Story
        } else if begins(&["short-", "long-", "zeros-in-", "grid-", "lattice"]) {
            Nature::Written
        } else {
            Nature::Quick
        }
    }
    /// About how long an item takes, seconds, to weigh minutes of teaching by.
    pub fn seconds(self) -> u32 {
        match self {
            Nature::Story => 145,
            Nature::Written => 50,
            Nature::Quick => 20,
        }
    }
}

fn number_in_order(at: usize) -> i64 {
    i64::try_from(at).unwrap_or(i64::MAX - 1) + 1
}

/// One needs the other directly, or both need a third: those are taken for each other most easily.
fn confusable(ladder: &Ladder, skill: &Skill, other: &str) -> bool {
    let Some(other) = ladder.skills.get(other) else { return false };
    skill.needs.contains(&other.id)
        || other.needs.contains(&skill.id)
        || skill.needs.iter().any(|need| other.needs.contains(need))
}

/// After a break: how many lessons it swallowed, else 0. What fell due in it comes at once.
fn lessons_away(plan: &Plan, lessons: &[Lesson], at: usize) -> i64 {
    let Some(before) = at.checked_sub(1) else { return 0 };
    let days = (lessons[at].date - lessons[before].date).num_days() - 1;
    let a_week: usize = plan.timetable.slots.values().map(Vec::len).sum();
    if days < BREAK_DAYS { 0 } else { days * i64::try_from(a_week).unwrap_or(5) / 7 }
}

/// How many parts of a skill come before this place in the term; at least 1.
pub fn parts_before(lessons: &[Lesson], place: usize, skill: &str) -> u32 {
    let before = &lessons[..place.min(lessons.len())];
    let taught = before.iter().filter(|l| l.skill.as_deref() == Some(skill)).count();
    u32::try_from(taught.max(1)).unwrap_or(1)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::makers::{self, Request, Setting, Spot};
    use crate::exercise::{Kind, Profile};
    use crate::method::HouseStyle;
    use crate::seed::Seed;

    #[test]
    fn the_nature_of_each_skill_is_that_of_its_homework() {
        let setting = Setting::new(Seed::of("a class"), HouseStyle::default(), 100);
        for maker in makers::names() {
            let request = Request {
                skill: maker,
                part: 1,
                spot: Spot::Homework,
                name: "A",
                profile: Profile::Typical,
                seconds: 900,
                least: 1,
                most: 1,
                own: &[],
            };
            let made = makers::make(maker, &request, &setting).expect("an item");
            let nature = match made[0].kind {
                Kind::Story => Nature::Story,
                Kind::Written => Nature::Written,
                _ => Nature::Quick,
            };
            assert_eq!(Nature::of(maker), nature, "{maker}");
        }
    }
}
