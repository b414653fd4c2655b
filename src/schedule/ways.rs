//! Ways out of a clash: each gives up a little, is solved, and says what it costs.

use super::clash::{date_words, fits, fixed_words, test_words, title};
use super::problem::{Dropped, Problem, Wanted, catch_ups_wished, scope};
use super::search::{Kept, NEVER};
use super::{Change, Error, Lesson, WayOut, best};
use crate::plan::{Fixed, LessonKind, Plan, TestWish};
use crate::words;
use chrono::NaiveDate;
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};

/// More ways than these are not shown.
const MOST_WAYS: usize = 6;
/// With fewer ways than these, more is given up at once.
const FEWEST_WAYS: usize = 3;
/// So many pairs of steps are tried at most.
const MOST_PAIRS_TRIED: usize = 40;
/// Of each kind of giving up a skill's lessons so many are tried, the least weighty first.
const MOST_SKILLS_TRIED: usize = 6;
/// How many other dates a fixed lesson is tried on.
const MOST_DATES_TRIED: usize = 40;

/// More skills than these are not named when they leave the unit together.
const MOST_NAMED: usize = 3;

/// One thing given up.
#[derive(Debug, Clone, PartialEq, Eq)]
enum Step {
    CatchUp(u32),
    Revision(u32),
    Test(TestWish),
    DropFixed(Fixed),
    MoveFixed(Fixed, NaiveDate),
    Withdraw(String),
    Least(Vec<String>),
    OffTeach(Vec<String>),
    /// Off the unit, each with nothing that needs it; what they needed stays.
    UpTo(Vec<String>),
    Secure(String),
}

impl Step {
    fn apply(&self, plan: &mut Plan) {
        let unit = &mut plan.unit;
        match self {
            Step::CatchUp(least) => unit.catch_up = Some(*least),
            Step::Revision(count) => unit.revision = *count,
            Step::Test(wish) => unit.test = *wish,
            Step::DropFixed(fixed) => unit.fixed.retain(|f| f != fixed),
            Step::MoveFixed(fixed, date) => {
                for f in unit.fixed.iter_mut().filter(|f| *f == fixed) {
                    *f = Fixed { date: *date, starts: None, ..f.clone() };
                }
            }
            Step::Withdraw(id) => unit.leave_out.retain(|x| x != id),
            Step::Least(ids) => {
                for id in ids {
                    if let Some(lessons) = unit.lessons.get_mut(id) {
                        lessons.least = 1;
                    }
                }
            }
            Step::OffTeach(ids) => unit.teach.retain(|x| !ids.contains(x)),
            Step::UpTo(off) => plan.unit.teach = last_skills(plan, off),
            Step::Secure(id) => unit.secure.push(id.clone()),
        }
    }

    /// The step when these skills have left the unit; none where it was about them alone.
    fn without(&self, off: &[String]) -> Option<Step> {
        let Step::Least(ids) = self else { return Some(self.clone()) };
        let rest: Vec<String> = ids.iter().filter(|id| !off.contains(id)).cloned().collect();
        (!rest.is_empty()).then_some(Step::Least(rest))
    }

    fn keys(&self) -> Vec<String> {
        let key = |key: &str| vec![format!("unit.{key}")];
        match self {
            Step::CatchUp(_) => key("catch-up"),
            Step::Revision(_) => key("revision"),
            Step::Test(_) => key("test"),
            Step::DropFixed(_) | Step::MoveFixed(..) => key("fixed"),
            Step::Withdraw(_) => key("leave-out"),
            Step::Least(ids) => ids.iter().map(|id| format!("unit.lessons.{id}.least")).collect(),
            Step::OffTeach(_) | Step::UpTo(_) => key("teach"),
            Step::Secure(_) => key("secure"),
        }
    }

    fn words(&self, plan: &Plan) -> String {
        let titles = |ids: &[String]| {
            words::join(&ids.iter().map(|id| title(plan, id)).collect::<Vec<_>>(), "and")
        };
        let count = |n: u32, noun: &str| words::count(usize::try_from(n).unwrap_or(0), noun);
        match self {
            Step::CatchUp(0) => "no catch-up lesson is asked for".to_owned(),
            Step::CatchUp(n) => format!("only {} asked for", count(*n, "catch-up lesson")),
            Step::Revision(0) => "no revision lesson".to_owned(),
            Step::Revision(n) => format!("only {}", count(*n, "revision lesson")),
            Step::Test(wish) => test_words(*wish),
            Step::DropFixed(fixed) => format!("without {}", fixed_words(plan, fixed)),
            Step::MoveFixed(fixed, date) => {
                format!("{} instead of {}", date_words(*date), fixed_words(plan, fixed))
            }
            Step::Withdraw(id) => format!("{} is not left out", title(plan, id)),
            Step::Least(ids) => format!("a single lesson is enough for {}", titles(ids)),
            Step::UpTo(ids) if ids.len() > MOST_NAMED => {
                let fewer = words::count(ids.len(), "skill");
                format!(
                    "{fewer} fewer, so that the unit ends with {}",
                    titles(&last_skills(plan, ids))
                )
            }
            Step::OffTeach(ids) | Step::UpTo(ids) => format!("{} not in this unit", titles(ids)),
            Step::Secure(id) => format!("{} is known already", title(plan, id)),
        }
    }
}

/// The skills of the unit that nothing else in it needs.
fn last_skills(plan: &Plan, off: &[String]) -> Vec<String> {
    let mut taught = scope(plan, &BTreeMap::new(), &Dropped::default()).taught;
    taught.retain(|id| !off.contains(id));
    let needed = |id: &String| taught.iter().any(|s| plan.ladder.skills[s].needs.contains(id));
    taught.iter().filter(|id| !needed(id)).cloned().collect()
}

/// The value a key of plan.toml has in a plan.
fn value(plan: &Plan, key: &str) -> Value {
    let unit = &plan.unit;
    match key.strip_prefix("unit.").unwrap_or(key) {
        "catch-up" => json!(unit.catch_up),
        "revision" => json!(unit.revision),
        "test" => match unit.test {
            TestWish::Last => Value::Null,
            TestWish::On(date) => json!(date.to_string()),
            TestWish::None => json!("none"),
        },
        "fixed" => unit.fixed.iter().map(fixed_value).collect(),
        "leave-out" => json!(unit.leave_out),
        "teach" => json!(unit.teach),
        "secure" => json!(unit.secure),
        least => {
            let id = least.strip_prefix("lessons.").and_then(|id| id.strip_suffix(".least"));
            json!(id.and_then(|id| unit.lessons.get(id)).map(|n| n.least))
        }
    }
}

fn fixed_value(fixed: &Fixed) -> Value {
    let mut table = serde_json::Map::new();
    table.insert("date".to_owned(), json!(fixed.date.to_string()));
    if let Some(starts) = fixed.starts {
        table.insert("starts".to_owned(), json!(starts.to_string()));
    }
    table.insert("kind".to_owned(), json!(fixed.kind));
    if let Some(skill) = &fixed.skill {
        table.insert("skill".to_owned(), json!(skill));
    }
    Value::Object(table)
}

/// The search for ways out.
struct Seeker<'a> {
    wanted: Wanted<'a>,
    /// Only cheaper schedules are looked for.
    below: i64,
    ways: Vec<WayOut>,
    kept: Kept,
}

/// The ways out of a clash, cheapest first.
pub fn ways_out(wanted: Wanted<'_>) -> Result<Vec<WayOut>, Error> {
    seek(wanted, NEVER)
}

/// The ways to less than a schedule costs that there is already, cheapest first.
pub fn ways_to_save(wanted: Wanted<'_>, cost: i64) -> Result<Vec<WayOut>, Error> {
    seek(wanted, cost)
}

fn seek(wanted: Wanted<'_>, below: i64) -> Result<Vec<WayOut>, Error> {
    let mut seeker = Seeker { wanted, below, ways: Vec::new(), kept: Kept::default() };
    let steps = seeker.single_steps();
    for step in &steps {
        seeker.take(std::slice::from_ref(step))?;
    }
    if seeker.ways.len() < FEWEST_WAYS {
        seeker.strongest()?;
    }
    // Nobody needs to give up two things who has a schedule.
    let clash = below == NEVER;
    if clash && seeker.ways.len() < FEWEST_WAYS {
        seeker.pairs(&steps)?;
    }
    if clash && seeker.ways.len() < FEWEST_WAYS {
        seeker.less_and_less()?;
    }
    let mut ways = seeker.ways;
    ways.sort_by_key(|way| way.cost);
    ways.truncate(MOST_WAYS);
    if clash && ways.is_empty() {
        let refused = |step: &Step| seeker_refusal(wanted, step);
        ways = steps.iter().take(MOST_WAYS).map(refused).collect();
    }
    Ok(ways)
}

/// A way that does not fit, said all the same where none does.
fn seeker_refusal(wanted: Wanted<'_>, step: &Step) -> WayOut {
    let mut plan = wanted.plan.clone();
    step.apply(&mut plan);
    let change = step.keys().into_iter().map(|key| Change { value: value(&plan, &key), key });
    WayOut { what: step.words(wanted.plan), change: change.collect(), fits: false, cost: None }
}

impl Seeker<'_> {
    fn after(&self, steps: &[Step]) -> Plan {
        let mut plan = self.wanted.plan.clone();
        for step in steps {
            step.apply(&mut plan);
        }
        plan
    }

    fn fits(&self, steps: &[Step]) -> bool {
        let plan = self.after(steps);
        fits(Wanted { plan: &plan, ..self.wanted }, &Dropped::default()) == Some(true)
    }

    /// Solves the plan after some steps, and keeps it where it fits.
    fn take(&mut self, steps: &[Step]) -> Result<bool, Error> {
        if self.below == NEVER && !self.fits(steps) {
            return Ok(false);
        }
        let plan = self.after(steps);
        let cost = match best(Wanted { plan: &plan, ..self.wanted }, self.below, &mut self.kept) {
            Ok(schedule) => schedule.map(|s| s.cost.total),
            Err(Error::GaveUp) => None,
            Err(error) => return Err(error),
        };
        let Some(cost) = cost else { return Ok(false) };
        let what: Vec<String> = steps.iter().map(|s| s.words(self.wanted.plan)).collect();
        let keys: BTreeSet<String> = steps.iter().flat_map(Step::keys).collect();
        let change: Vec<Change> =
            keys.into_iter().map(|key| Change { value: value(&plan, &key), key }).collect();
        if self.ways.iter().all(|way| way.change != change) {
            let what = match &what[..] {
                [first, second] => format!("{first}, and {second}"),
                more => words::join(more, "and"),
            };
            self.ways.push(WayOut { what, change, fits: true, cost: Some(cost) });
        }
        Ok(true)
    }

    /// Every single step, in the fixed order; where a step has degrees, the mildest that fits or
    /// else the strongest.
    fn single_steps(&self) -> Vec<Step> {
        let mut steps = Vec::new();
        self.fewer(&mut steps);
        self.test_elsewhere(&mut steps);
        self.fixed_elsewhere(&mut steps);
        let unit = &self.wanted.plan.unit;
        steps.extend(unit.leave_out.iter().cloned().map(Step::Withdraw));
        self.lighter_skills(&mut steps);
        steps
    }

    fn mildest(&self, steps: &[Step]) -> Option<Step> {
        let fit = steps.iter().find(|step| self.fits(std::slice::from_ref(*step)));
        fit.or(steps.last()).cloned()
    }

    fn fewer(&self, steps: &mut Vec<Step>) {
        let unit = &self.wanted.plan.unit;
        let horizon = self.wanted.calendar.periods.len();
        let wished = u32::try_from(catch_ups_wished(self.wanted.plan, horizon)).unwrap_or(0);
        let most = Problem::pose(self.wanted, &Dropped::default())
            .map_or(wished, |problem| u32::try_from(problem.catch_up).unwrap_or(0));
        let most = most.min(u32::try_from(horizon + 1).unwrap_or(u32::MAX));
        steps.extend(self.mildest(&(0..most).rev().map(Step::CatchUp).collect::<Vec<_>>()));
        let most = unit.revision.min(u32::try_from(horizon + 1).unwrap_or(u32::MAX));
        steps.extend(self.mildest(&(0..most).rev().map(Step::Revision).collect::<Vec<_>>()));
    }

    fn test_elsewhere(&self, steps: &mut Vec<Step>) {
        let wish = self.wanted.plan.unit.test;
        if let TestWish::On(date) = wish {
            let mut later: Vec<NaiveDate> =
                self.wanted.calendar.periods.iter().map(|p| p.date).filter(|d| *d > date).collect();
            later.dedup();
            let later: Vec<Step> = later.into_iter().map(|d| Step::Test(TestWish::On(d))).collect();
            steps.extend(self.mildest(&later));
            steps.push(Step::Test(TestWish::Last));
        }
        if wish != TestWish::None {
            steps.push(Step::Test(TestWish::None));
        }
    }

    fn fixed_elsewhere(&self, steps: &mut Vec<Step>) {
        for fixed in &self.wanted.plan.unit.fixed {
            steps.push(Step::DropFixed(fixed.clone()));
            if fixed.kind == LessonKind::UnitTest {
                continue;
            }
            let today = self.wanted.standing.map(|s| s.today);
            let mut dates: Vec<NaiveDate> =
                self.wanted.calendar.periods.iter().map(|p| p.date).collect();
            dates.retain(|d| *d != fixed.date && today.is_none_or(|today| *d >= today));
            dates.dedup();
            dates.sort_by_key(|d| ((*d - fixed.date).num_days().abs(), *d));
            dates.truncate(MOST_DATES_TRIED);
            let moved = dates.into_iter().map(|d| Step::MoveFixed(fixed.clone(), d));
            let fit = moved.into_iter().find(|step| self.fits(std::slice::from_ref(step)));
            steps.extend(fit);
        }
    }

    /// Fewer lessons than a skill's least, a skill that nothing else needs taken out, a skill that
    /// needs nothing else here said to be known.
    fn lighter_skills(&self, steps: &mut Vec<Step>) {
        let plan = self.wanted.plan;
        let mut unit = scope(plan, &BTreeMap::new(), &Dropped::default()).taught;
        let mut open = plan.clone();
        open.unit.leave_out.clear();
        let all = scope(&open, &BTreeMap::new(), &Dropped::default()).taught;
        let must = |id: &String| !unit.contains(id) && !plan.ladder.skills[id].optional;
        if all.iter().any(must) {
            // What must be taught hangs on a skill that is to be left out: without that wish.
            unit = all;
        }
        let mut by_weight: Vec<&String> = unit.iter().collect();
        by_weight.sort_by_key(|id| plan.ladder.skills[*id].weight);
        let several = |id: &&&String| plan.unit.lessons.get(**id).is_some_and(|n| n.least > 1);
        let several: Vec<String> =
            by_weight.iter().filter(several).map(|id| (**id).clone()).collect();
        let single = several.iter().take(MOST_SKILLS_TRIED);
        steps.extend(single.map(|id| Step::Least(vec![id.clone()])));
        if several.len() > 1 {
            steps.push(Step::Least(several));
        }
        let needed = |id: &String| unit.iter().any(|s| plan.ladder.skills[s].needs.contains(id));
        let leaf = |id: &&&String| plan.unit.teach.contains(id) && !needed(id);
        let leaves = by_weight.iter().filter(leaf).take(MOST_SKILLS_TRIED);
        let alone = plan.unit.teach.len() == 1;
        steps.extend(leaves.filter(|_| !alone).map(|id| Step::OffTeach(vec![(**id).clone()])));
        let root = |id: &&&String| plan.ladder.skills[**id].needs.iter().all(|n| !unit.contains(n));
        let roots = by_weight.iter().filter(root).take(MOST_SKILLS_TRIED);
        steps.extend(roots.map(|id| Step::Secure((**id).clone())));
    }

    /// The strongest degree of what has degrees: where the mildest costs lessons, a wish given up
    /// whole may cost less.
    fn strongest(&mut self) -> Result<(), Error> {
        let unit = &self.wanted.plan.unit;
        let wishes =
            [(unit.catch_up != Some(0), Step::CatchUp(0)), (unit.revision > 0, Step::Revision(0))];
        for (_, step) in wishes.iter().filter(|(wished, _)| *wished) {
            self.take(std::slice::from_ref(step))?;
        }
        Ok(())
    }

    /// Two steps at once, until enough ways fit.
    fn pairs(&mut self, steps: &[Step]) -> Result<(), Error> {
        let after = |at: usize| steps[at + 1..].iter();
        let pairs = steps.iter().enumerate().flat_map(|(at, a)| after(at).map(move |b| (a, b)));
        for (first, second) in pairs.filter(|(a, b)| a.keys() != b.keys()).take(MOST_PAIRS_TRIED) {
            if self.ways.len() >= FEWEST_WAYS {
                return Ok(());
            }
            self.take(&[first.clone(), second.clone()])?;
        }
        Ok(())
    }

    /// Far too much for the term: one skill after the other leaves the unit, the least weighty that
    /// nothing else needs first, until the rest fits; once as wished, and then with more and more
    /// of the other wishes given up.
    fn less_and_less(&mut self) -> Result<(), Error> {
        for others in self.rounds() {
            let mut off: Vec<String> = Vec::new();
            loop {
                let mut steps: Vec<Step> = others.iter().filter_map(|s| s.without(&off)).collect();
                steps.extend((!off.is_empty()).then(|| Step::UpTo(off.clone())));
                if !steps.is_empty() && self.take(&steps)? {
                    break;
                }
                let plan = self.after(&steps);
                let last = last_skills(&plan, &[]);
                let lightest =
                    last.iter().min_by_key(|id| (self.begun(id), plan.ladder.skills[*id].weight));
                match lightest {
                    Some(id) if last_skills(&plan, std::slice::from_ref(id)).is_empty() => break,
                    Some(id) => off.push(id.clone()),
                    None => break,
                }
            }
            if self.ways.len() >= FEWEST_WAYS {
                break;
            }
        }
        Ok(())
    }

    /// Whether a lesson of the skill has been held.
    fn begun(&self, id: &str) -> bool {
        self.wanted.standing.is_some_and(|standing| {
            let taught = |l: &&Lesson| standing.taught.contains(&l.number);
            standing.old.iter().filter(taught).any(|l| l.skill.as_deref() == Some(id))
        })
    }

    /// What else is given up while skills leave the unit, round by round: in the end everything.
    fn rounds(&self) -> Vec<Vec<Step>> {
        let unit = &self.wanted.plan.unit;
        let mut rounds = vec![vec![]];
        let mut given_up = Vec::new();
        let mut also = |steps: Vec<Step>| {
            if !steps.is_empty() {
                given_up.extend(steps);
                rounds.push(given_up.clone());
            }
        };
        also((unit.catch_up != Some(0)).then_some(Step::CatchUp(0)).into_iter().collect());
        also((unit.revision > 0).then_some(Step::Revision(0)).into_iter().collect());
        also(unit.leave_out.iter().cloned().map(Step::Withdraw).collect());
        also(unit.fixed.iter().cloned().map(Step::DropFixed).collect());
        let several = unit.lessons.iter().filter(|(_, n)| n.least > 1);
        let several: Vec<String> = several.map(|(id, _)| id.clone()).collect();
        also((!several.is_empty()).then_some(Step::Least(several)).into_iter().collect());
        // One test wish takes the place of the other.
        let dated = matches!(unit.test, TestWish::On(_)).then_some(TestWish::Last);
        let none = (unit.test != TestWish::None).then_some(TestWish::None);
        let tests = dated.into_iter().chain(none).map(Step::Test);
        let last: Vec<_> = tests.map(|test| [&given_up[..], &[test]].concat()).collect();
        rounds.extend(last);
        rounds
    }
}
