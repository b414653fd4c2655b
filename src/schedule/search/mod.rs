//! The search for the best schedule: label setting over periods.
//!
//! A label says what has been taught after `p` periods and at what cost; it is dropped where
//! another that stands at the same place can do at least as well from there. Labels are taken up
//! by their cost plus a lower bound of the rest ([`bound`], [`sets::Orders`]), deepest first, so
//! that the first finished schedule that is no dearer than every open label is proven best. Where
//! that takes too many steps, a beam over the periods finds a good schedule ([`beam`]) and the
//! least open label is the proven bound.

mod beam;
mod bound;
mod grow;
mod opening;
mod sets;

use super::problem::{Hold, Problem};
use super::underway::Named;
use bound::{Finish, Rest, Shape, may};
use indexmap::IndexMap;
use opening::{Opening, replay};
use sets::{Mix, Orders, Sets, bits};
use std::cmp::Reverse;
use std::collections::BinaryHeap;
use std::hash::BuildHasherDefault;
use std::rc::Rc;

pub use bound::NEVER;
pub use sets::Kept;

/// How many steps a search may take before it settles for a bound.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Effort {
    /// How many labels it may make.
    pub labels: usize,
    /// How many down-sets it may meet: each takes a row of the bound's table.
    pub sets: usize,
    /// How many labels of each layer a beam keeps, one try after the other.
    pub beams: [usize; 3],
}

impl Default for Effort {
    fn default() -> Self {
        Effort { labels: 800_000, sets: 280_000, beams: [400, 1_200, 3_000] }
    }
}

/// What a search found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Found {
    /// What each period before the test holds.
    pub holds: Vec<Hold>,
    pub cost: i64,
    /// The proven least cost: `cost` itself if it is the optimum.
    pub floor: i64,
    /// How many labels were made.
    pub labels: usize,
}

/// How a search ended.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Search {
    Found(Found),
    /// There is no schedule.
    None,
    /// Neither a schedule nor the proof that there is none was found within the effort.
    GaveUp,
}

/// A partial schedule.
#[derive(Debug, Clone, Copy)]
struct Label {
    cost: i64,
    /// Its cost plus the lower bound of the rest.
    total: i64,
    parent: u32,
    /// The next label that stands at the same place.
    next: u32,
    set: u32,
    periods: u16,
    row: u16,
    catch_ups: u16,
    last: u8,
    lessons: u8,
    break_since: bool,
    started: bool,
    dead: bool,
}

const NONE: u32 = u32::MAX;
const NO_SKILL: u8 = u8::MAX;

/// A number that is small by the bounds of the problem (at most 64 skills, 9 lessons each, and
/// the periods of one term).
fn small<T: TryFrom<usize>>(n: usize) -> T {
    T::try_from(n).ok().expect("the bounds of a term keep it small")
}

/// A number back from its narrow form.
fn wide(n: u32) -> usize {
    usize::try_from(n).expect("an index fits")
}

impl Label {
    fn last(&self) -> Option<usize> {
        (self.last != NO_SKILL).then_some(usize::from(self.last))
    }
    fn after_catch_up(&self) -> bool {
        self.row == 0 && self.periods > 0
    }
}

/// Whatever is worked out once for a problem, and the labels.
struct Engine<'a> {
    problem: &'a Problem,
    sets: Sets,
    orders: Rc<Orders>,
    /// The order's bound where skills may be left out; made when first needed.
    partial_orders: Option<Orders>,
    finish: Finish,
    rest: Rest,
    partial_rest: Rest,
    shape: Shape,
    fixed: Vec<Fixed>,
    /// For each period the skills that are held on it or later.
    held_later: Vec<u64>,
    /// For each skill and number of periods what its old lessons up to there cost, unless taught.
    passed: Vec<Vec<i64>>,
    must: u64,
    labels: Vec<Label>,
    heads: IndexMap<u64, u32, BuildHasherDefault<Mix>>,
    best: i64,
    best_label: u32,
}

/// A skill held on a period: all it needs must be done before.
struct Fixed {
    at: usize,
    skill: usize,
    needs: u64,
}

/// Finds the best schedule.
pub fn search(problem: &Problem, effort: Effort) -> Search {
    search_below(problem, effort, NEVER, &mut Kept::default())
}

/// The best schedule that costs less than `below`, after a search for a problem that may be much
/// like this one.
pub fn search_below(problem: &Problem, effort: Effort, below: i64, kept: &mut Kept) -> Search {
    let Some((mut engine, first)) = Engine::begin(problem, kept) else { return Search::None };
    let Some(first) = first else { return engine.opened_only() };
    engine.best = engine.best.min(below);
    let mut queue = BinaryHeap::new();
    let mut floor = None;
    queue.push(engine.queued(first));
    let mut children = Vec::new();
    while let Some(Reverse((total, _, at))) = queue.pop() {
        if total >= engine.best {
            break;
        }
        if engine.labels.len() > effort.labels || engine.sets.len() > effort.sets {
            floor = Some(total);
            break;
        }
        if engine.labels[wide(at)].dead {
            continue;
        }
        children.clear();
        engine.expand(at, &mut children);
        queue.extend(children.iter().map(|c| engine.queued(*c)));
    }
    match floor {
        Some(floor) => beam::widen(engine, first, floor, effort),
        None if engine.best_label != NONE => engine.found(None),
        None => Search::None,
    }
}

type Queued = Reverse<(i64, u16, u32)>;

impl<'a> Engine<'a> {
    /// The tables and the first label; `None` where the frozen part alone rules out any schedule.
    fn begin(problem: &'a Problem, kept: &mut Kept) -> Option<(Engine<'a>, Option<u32>)> {
        let mut had = vec![0usize; problem.skills.len()];
        for hold in &problem.held[..problem.frozen] {
            if let Some(Hold::Teach(Some(skill))) = hold {
                had[*skill] += 1;
            }
        }
        let finish = Finish::of(problem, had.iter().copied().max().unwrap_or(0));
        let opening = replay(problem, &finish);
        let needs: Vec<u64> = problem.skills.iter().map(|s| s.waits).collect();
        if bits(opening.set).any(|s| needs[s] & !opening.set != 0) {
            return None;
        }
        let ordered = problem.costs.thread_cut + problem.costs.order > 0;
        let (sets, orders) = kept.sets_and_orders(problem, opening.set, ordered);
        let most = problem.skills.iter().map(|s| s.most).sum();
        let skills = 0..problem.skills.len();
        let must = skills.filter(|s| !problem.skills[*s].optional).fold(0, |a, s| a | 1 << s);
        let mut engine = Engine {
            orders,
            partial_orders: None,
            rest: Rest::new(false),
            partial_rest: Rest::new(true),
            shape: Shape::of(problem, most),
            fixed: fixed(problem),
            held_later: held_later(problem),
            passed: passed(problem),
            must,
            labels: Vec::new(),
            heads: IndexMap::default(),
            best: NEVER,
            best_label: NONE,
            sets,
            finish,
            problem,
        };
        let begun = problem.frozen.min(problem.horizon);
        if bits(opening.set).any(|s| {
            engine.held_later[begun] >> s & 1 == 1
                && !(opening.last == Some(s) && opening.lessons > 0)
        }) {
            return None;
        }
        if opening.revisions > 0 {
            engine.end_after_revisions(&opening);
            return Some((engine, None));
        }
        let sure = problem.old.as_ref().map_or(0, |old| old.sure);
        let label = Label {
            cost: opening.cost + sure,
            total: 0,
            parent: NONE,
            next: NONE,
            set: 0,
            periods: small(begun),
            row: small(opening.row),
            catch_ups: small(opening.catch_ups.min(problem.catch_up)),
            last: opening.last.map_or(NO_SKILL, small),
            lessons: small(opening.lessons),
            break_since: opening.break_since,
            started: opening.started_today,
            dead: false,
        };
        let started = label.started && !engine.new_date(begun);
        let first = engine.offer(Label { started, ..label });
        first.map(|first| (engine, Some(first)))
    }

    fn queued(&self, at: u32) -> Queued {
        let label = &self.labels[wide(at)];
        Reverse((label.total, u16::MAX - label.periods, at))
    }

    /// The frozen part has revisions: nothing more can be taught, only the tail is left.
    fn end_after_revisions(&mut self, opening: &Opening) {
        let problem = self.problem;
        let begun = problem.frozen.min(problem.horizon);
        let left = problem.revision - opening.revisions;
        let catch_ups = opening.catch_ups + problem.horizon.saturating_sub(begun + left);
        if self.must & !opening.set == 0 && catch_ups >= problem.catch_up {
            let sure = problem.old.as_ref().map_or(0, |old| old.sure);
            let tail = self.shape.tail(begun, left, opening.after_catch_up);
            let open = match opening.last {
                Some(last) if opening.lessons > 0 => self.finish.with(last, opening.lessons),
                _ => 0,
            };
            let left_out = self.left_out(opening.set);
            self.best = opening.cost + sure + tail.min(NEVER) + open + left_out;
        }
    }

    /// What leaving out all skills outside a set costs, with their old lessons.
    fn left_out(&self, set: u64) -> i64 {
        let all = 0..self.problem.skills.len();
        let out = all.filter(|s| set >> s & 1 == 0).map(|s| {
            let names = self.problem.old.as_ref().map_or(&[][..], |old| &old.teach[s]);
            let moved: i64 = names.iter().map(|n| n.price).sum();
            self.problem.costs.left_out * self.problem.skills[s].weight + moved
        });
        out.sum()
    }

    fn opened_only(self) -> Search {
        if self.best >= NEVER { Search::None } else { self.found(None) }
    }

    /// The best schedule found, as what each period holds.
    fn found(&self, floor: Option<i64>) -> Search {
        let problem = self.problem;
        let mut holds: Vec<Hold> = problem.held[..problem.frozen.min(problem.horizon)]
            .iter()
            .map(|h| h.unwrap_or(Hold::CatchUp))
            .collect();
        let mut taught = Vec::new();
        let mut at = self.best_label;
        while at != NONE && self.labels[wide(at)].parent != NONE {
            let label = &self.labels[wide(at)];
            let skill = Hold::Teach(label.last());
            taught.push(if label.row == 0 { Hold::CatchUp } else { skill });
            at = label.parent;
        }
        holds.extend(taught.iter().rev());
        let mut left = problem.revision - holds.iter().filter(|h| **h == Hold::Revision).count();
        while holds.len() < problem.horizon {
            let after = holds.last() == Some(&Hold::CatchUp);
            if self.shape.tail_rests(problem, holds.len(), left, after) {
                holds.push(Hold::CatchUp);
            } else {
                left -= 1;
                holds.push(Hold::Revision);
            }
        }
        let floor = floor.unwrap_or(self.best).min(self.best);
        Search::Found(Found { holds, cost: self.best, floor, labels: self.labels.len() })
    }
}

/// The skills held on periods to come, with all that must be done before.
fn fixed(problem: &Problem) -> Vec<Fixed> {
    let held = problem.held.iter().enumerate().skip(problem.frozen);
    held.filter_map(|(at, hold)| match hold {
        Some(Hold::Teach(Some(skill))) => {
            let mut needs = problem.skills[*skill].waits;
            loop {
                let deeper = bits(needs).fold(needs, |a, s| a | problem.skills[s].waits);
                if deeper == needs {
                    break;
                }
                needs = deeper;
            }
            Some(Fixed { at, skill: *skill, needs })
        }
        _ => None,
    })
    .collect()
}

fn held_later(problem: &Problem) -> Vec<u64> {
    let mut later = vec![0; problem.held.len() + 1];
    for at in (problem.frozen..problem.held.len()).rev() {
        let own = match problem.held[at] {
            Some(Hold::Teach(Some(skill))) => 1 << skill,
            _ => 0,
        };
        later[at] = later[at + 1] | own;
    }
    later
}

/// What a skill's old lessons cost that were on the first `p` periods or are gone: if the skill
/// has not started by then, they are moved for certain.
fn passed(problem: &Problem) -> Vec<Vec<i64>> {
    let Some(old) = &problem.old else { return Vec::new() };
    let until = |names: &[Named], p: usize| {
        names.iter().filter(|n| n.at.is_none_or(|at| at < p)).map(|n| n.price).sum()
    };
    old.teach
        .iter()
        .map(|names| (0..=problem.slots.len()).map(|p| until(names, p)).collect())
        .collect()
}

/// Whether a period may hold a lesson of this skill.
fn may_teach(problem: &Problem, at: usize, skill: usize) -> bool {
    may(problem, at, Hold::Teach(Some(skill))) || problem.held[at] == Some(Hold::Teach(None))
}
