//! Why a lesson is where it is: what it waits for, what waits for it, and what other places cost.

use super::clash::{date_words, title};
use super::compare::When;
use super::methods;
use super::problem::{Dropped, Hold, Problem, Unposed, Wanted};
use super::search::{Effort, Search, search};
use super::{Error, Lesson, Schedule, Standing, judged};
use crate::calendar::{Calendar, Period};
use crate::plan::{LessonKind, Plan, TestWish};
use chrono::{Days, NaiveDate};
use indexmap::IndexMap;
use serde::Serialize;

/// A skill and one lesson of it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Link {
    /// The skill.
    pub skill: String,
    /// The number of its lesson.
    pub lesson: u32,
    /// When that is.
    pub date: NaiveDate,
}

/// What another place would cost.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Elsewhere {
    /// Which place, in words: "one period earlier".
    pub what: String,
    /// The period; none where no one period is meant.
    pub at: Option<When>,
    /// Whether a schedule exists with it.
    pub fits: bool,
    /// How much dearer the best such schedule is.
    pub more: Option<i64>,
    /// The terms that differ, by how much.
    pub terms: IndexMap<String, i64>,
}

/// Why a lesson is where it is.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Why {
    /// Its number.
    pub lesson: u32,
    /// The need of its skill that ends last.
    pub waits_for: Option<Link>,
    /// The skills that wait for it, with their first lessons.
    pub needed_by: Vec<Link>,
    /// Other places and what they cost.
    pub elsewhere: Vec<Elsewhere>,
    /// All of it as a paragraph.
    pub text: String,
}

/// The terms that compare a schedule with the one before it.
const MOVES: [&str; 4] = ["printed-moved", "soon-moved", "moved", "order"];

/// One line for every lesson of a schedule: what it waits for.
pub fn reasons(plan: &Plan, schedule: &Schedule) -> Vec<String> {
    schedule.lessons.iter().map(|lesson| reason(plan, schedule, lesson)).collect()
}

fn reason(plan: &Plan, schedule: &Schedule, lesson: &Lesson) -> String {
    let last_new = || schedule.lessons.iter().rfind(|l| l.kind == LessonKind::Teach);
    match lesson.kind {
        LessonKind::Teach if lesson.part.is_some_and(|part| part > 1) => {
            let before = schedule.lessons.iter().rfind(|l| {
                l.skill == lesson.skill && (l.date, l.starts) < (lesson.date, lesson.starts)
            });
            before.map_or(String::new(), |b| format!("Goes on from lesson {}.", b.number))
        }
        LessonKind::Teach => match waits_for(plan, schedule, lesson) {
            Some(need) => {
                format!(
                    "Waits for {}, which ends with lesson {}.",
                    title(plan, &need.skill),
                    need.lesson
                )
            }
            None => "Needs nothing else that is taught in this unit.".to_owned(),
        },
        LessonKind::CatchUp if after_test(schedule, lesson) => "Comes after the test.".to_owned(),
        LessonKind::CatchUp => "Room to catch up.".to_owned(),
        LessonKind::Revision => last_new().map_or("Revision before the test.".to_owned(), |l| {
            format!("Comes when all is taught, after lesson {}.", l.number)
        }),
        LessonKind::UnitTest => match plan.unit.test {
            TestWish::On(_) => "On the day the plan names.".to_owned(),
            _ => "On the last period of the term.".to_owned(),
        },
    }
}

fn after_test(schedule: &Schedule, lesson: &Lesson) -> bool {
    let test = schedule.lessons.iter().find(|l| l.kind == LessonKind::UnitTest);
    test.is_some_and(|test| (test.date, test.starts) < (lesson.date, lesson.starts))
}

fn link(lesson: &Lesson) -> Link {
    let skill = lesson.skill.clone().unwrap_or_default();
    Link { skill, lesson: lesson.number, date: lesson.date }
}

/// The direct need whose last lesson is last of all.
fn waits_for(plan: &Plan, schedule: &Schedule, lesson: &Lesson) -> Option<Link> {
    let skill = lesson.skill.as_deref()?;
    let needs = &plan.ladder.skills.get(skill)?.needs;
    let methods = methods::waits(plan).into_iter().filter(|(_, then)| then == skill);
    let methods: Vec<String> = methods.map(|(first, _)| first).collect();
    let waits = |s: &String| needs.contains(s) || methods.contains(s);
    let of_need = |l: &&Lesson| l.skill.as_ref().is_some_and(waits);
    schedule.lessons.iter().rfind(of_need).map(link)
}

/// The skills that directly need a lesson's skill, with their first lessons.
fn needed_by(plan: &Plan, schedule: &Schedule, lesson: &Lesson) -> Vec<Link> {
    let Some(skill) = &lesson.skill else { return Vec::new() };
    let follows = |l: &&Lesson| {
        let needs = l.skill.as_ref().and_then(|s| plan.ladder.skills.get(s)).map(|s| &s.needs);
        l.part == Some(1) && needs.is_some_and(|needs| needs.contains(skill))
    };
    schedule.lessons.iter().filter(follows).map(link).collect()
}

/// A schedule in force and everything needed to solve it again with something forced.
pub(super) struct Asked<'a> {
    pub wanted: Wanted<'a>,
    pub schedule: &'a Schedule,
}

/// Why a lesson is where it is; `None` where the schedule has no lesson of this number.
pub fn why(
    plan: &Plan,
    calendar: &Calendar,
    standing: Option<&Standing>,
    schedule: &Schedule,
    number: u32,
) -> Result<Option<Why>, Error> {
    let asked = Asked::of(plan, calendar, standing, schedule);
    let Some(at) = schedule.lessons.iter().position(|l| l.number == number) else {
        return Ok(None);
    };
    let lesson = &schedule.lessons[at];
    let elsewhere = asked.elsewhere(at)?;
    let waits_for = match lesson.kind {
        LessonKind::Teach => waits_for(plan, schedule, lesson),
        _ => None,
    };
    let needed_by = needed_by(plan, schedule, lesson);
    let mut sentences = vec![opening_words(plan, lesson), reason(plan, schedule, lesson)];
    if !needed_by.is_empty() {
        let titles: Vec<String> = needed_by.iter().map(|l| title(plan, &l.skill)).collect();
        let wait = if titles.len() == 1 { "waits" } else { "wait" };
        sentences.push(format!("{} {wait} for it.", crate::words::join(&titles, "and")));
    }
    sentences.extend(asked.settled_words(at));
    sentences.extend(places_in_words(&elsewhere));
    sentences.retain(|s| !s.is_empty());
    let text = sentences.join(" ");
    Ok(Some(Why { lesson: number, waits_for, needed_by, elsewhere, text }))
}

/// Why a skill of the unit is not taught: what it would cost to teach it all the same.
pub fn why_not(
    plan: &Plan,
    calendar: &Calendar,
    standing: Option<&Standing>,
    schedule: &Schedule,
    skill: &str,
) -> Result<Option<Elsewhere>, Error> {
    let asked = Asked::of(plan, calendar, standing, schedule);
    if schedule.left_out.iter().all(|l| l.skill != skill) {
        return Ok(None);
    }
    let problem = asked.pose()?.and_then(|mut problem| {
        let at = problem.skill(skill)?;
        problem.skills[at].optional = false;
        Some(problem)
    });
    let what = format!("with {}", title(plan, skill));
    Ok(Some(asked.solved(what, None, problem.as_ref())?))
}

fn opening_words(plan: &Plan, lesson: &Lesson) -> String {
    let date = date_words(lesson.date);
    let part = match (lesson.part, lesson.of) {
        (Some(part), Some(of)) => format!("part {part} of {of}"),
        _ => String::new(),
    };
    let what = match (lesson.kind, &lesson.skill) {
        (LessonKind::Teach, Some(skill)) => format!("{part} of {}", title(plan, skill)),
        (LessonKind::Revision, _) => format!("revision, {part}"),
        (LessonKind::UnitTest, _) => "the unit test".to_owned(),
        _ => "a catch-up".to_owned(),
    };
    format!("Lesson {} on {date} is {what}.", lesson.number)
}

impl Elsewhere {
    fn place(&self) -> String {
        match &self.at {
            Some(at) => format!("{} ({} {})", self.what, date_words(at.date), at.starts),
            None => self.what.clone(),
        }
    }

    /// "12 more (skills split by a break +20, …)": how the price differs, and in which terms.
    pub(super) fn price(&self) -> String {
        price_in_words(self.more.unwrap_or(0), &self.terms)
    }
}

/// "12 more (skills split by a break +20, …)": how a price differs, and by how much each term of the
/// cost does.
pub fn price_in_words(more: i64, terms: &IndexMap<String, i64>) -> String {
    let dearer = match more {
        0 => "the same".to_owned(),
        more if more > 0 => format!("{more} more"),
        less => format!("{} less", -less),
    };
    let mut terms: Vec<(&String, &i64)> = terms.iter().collect();
    terms.sort_by_key(|(_, by)| std::cmp::Reverse(by.abs()));
    let mut said: Vec<String> = terms
        .iter()
        .take(MOST_TERMS_SAID)
        .map(|(name, by)| format!("{} {by:+}", term_words(name)))
        .collect();
    if terms.len() > MOST_TERMS_SAID {
        said.push("and smaller differences".to_owned());
    }
    if said.is_empty() { dearer } else { format!("{dearer} ({})", said.join(", ")) }
}

/// More terms of a difference than these are not said in words.
const MOST_TERMS_SAID: usize = 4;

/// A term of the cost as a teacher would say it.
fn term_words(term: &str) -> &str {
    match term {
        "left-out" => "skills left out",
        "short" => "lessons below the preferred number",
        "extra" => "lessons above the preferred number",
        "starts-before-break" => "skills begun just before a break",
        "split-by-break" => "skills split by a break",
        "cold-return" => "skills begun right after a break",
        "long-run" => "too many new lessons in a row",
        "thread-cut" => "skills that do not build on the one before",
        "bunched" => "catch-ups side by side",
        "short-start" => "skills begun in a short lesson",
        "two-starts" => "two skills begun on one day",
        "printed-moved" => "printed lessons moved",
        "soon-moved" => "lessons of the next days moved",
        "moved" => "lessons moved",
        "order" => "skills in another order",
        other => other,
    }
}

/// A sentence for each other place; those that are not possible are said together.
fn places_in_words(elsewhere: &[Elsewhere]) -> Vec<String> {
    let capital = |text: String| text[..1].to_uppercase() + &text[1..];
    let impossible: Vec<String> =
        elsewhere.iter().filter(|e| !e.fits).map(Elsewhere::place).collect();
    let mut sentences = Vec::new();
    if !impossible.is_empty() {
        let places = crate::words::join(&impossible, "or");
        sentences.push(capital(format!("{places} is not possible.")));
    }
    for other in elsewhere.iter().filter(|e| e.fits) {
        sentences.push(capital(format!("{} would cost {}.", other.place(), other.price())));
    }
    sentences
}

impl<'a> Asked<'a> {
    pub fn of(
        plan: &'a Plan,
        calendar: &'a Calendar,
        standing: Option<&'a Standing>,
        schedule: &'a Schedule,
    ) -> Asked<'a> {
        Asked { wanted: Wanted { plan, calendar, standing }, schedule }
    }

    /// The same under another plan.
    pub fn with_plan<'b>(&self, plan: &'b Plan) -> Asked<'b>
    where
        'a: 'b,
    {
        Asked { wanted: Wanted { plan, ..self.wanted }, schedule: self.schedule }
    }

    /// That nothing about a lesson can be changed any more, or that a wish keeps it where it is.
    fn settled_words(&self, at: usize) -> Option<String> {
        let lesson = &self.schedule.lessons[at];
        if let Some(standing) = self.wanted.standing
            && (lesson.date < standing.today || standing.taught.contains(&lesson.number))
        {
            return Some("It is past, and what is past stays as it was.".to_owned());
        }
        let first = |date| self.schedule.lessons.iter().find(|l| l.date == date);
        let held = self.wanted.plan.unit.fixed.iter().any(|f| {
            let starts = f.starts.or_else(|| first(f.date).map(|l| l.starts));
            f.date == lesson.date && starts == Some(lesson.starts)
        });
        held.then(|| "The plan fixes this lesson here (`unit.fixed`).".to_owned())
    }

    pub fn pose(&self) -> Result<Option<Problem>, Error> {
        match Problem::pose(self.wanted, &Dropped::default()) {
            Ok(problem) => Ok(Some(problem)),
            Err(Unposed::Clash) => Ok(None),
            Err(Unposed::Error(error)) => Err(error),
        }
    }

    /// The best schedule of a changed problem, compared with the one in force.
    pub fn solved(
        &self,
        what: String,
        at: Option<When>,
        problem: Option<&Problem>,
    ) -> Result<Elsewhere, Error> {
        let none = Elsewhere { what, at, fits: false, more: None, terms: IndexMap::new() };
        let Some(problem) = problem else { return Ok(none) };
        let found = match search(problem, Effort::default()) {
            Search::Found(found) => found,
            Search::None => return Ok(none),
            Search::GaveUp => return Err(Error::GaveUp),
        };
        let other = judged(self.wanted, problem, &found)?;
        let here = &self.schedule.cost.terms;
        // What the schedule in force moved when it was made is past: it moves nothing now.
        let paid = |name: &str| MOVES.contains(&name);
        let by = |(name, value): (&String, &i64)| {
            let now = here.get(name).filter(|_| !paid(name)).copied().unwrap_or(0);
            (*value != now).then(|| (name.clone(), value - now))
        };
        let terms: IndexMap<String, i64> = other.cost.terms.iter().filter_map(by).collect();
        Ok(Elsewhere { fits: true, more: Some(terms.values().sum()), terms, ..none })
    }

    fn elsewhere(&self, at: usize) -> Result<Vec<Elsewhere>, Error> {
        let lesson = &self.schedule.lessons[at];
        match lesson.kind {
            LessonKind::UnitTest => self.test_elsewhere(lesson.date),
            LessonKind::CatchUp => self.not_a_catch_up(at),
            _ => self.forced_elsewhere(at),
        }
    }

    /// A skill's first lesson, or a revision, forced onto other periods.
    fn forced_elsewhere(&self, at: usize) -> Result<Vec<Elsewhere>, Error> {
        let lesson = &self.schedule.lessons[at];
        let Some(problem) = self.pose()? else { return Ok(Vec::new()) };
        let first = match &lesson.skill {
            Some(skill) => {
                let same = |l: &Lesson| l.skill.as_ref() == Some(skill);
                self.schedule.lessons.iter().position(same).unwrap_or(at)
            }
            None => at,
        };
        let mut elsewhere = Vec::new();
        for (what, place) in other_places(&problem.periods, first) {
            if place < problem.frozen || first < problem.frozen || place >= problem.horizon {
                continue;
            }
            let when =
                When { date: problem.periods[place].date, starts: problem.periods[place].starts };
            let forced = match lesson.skill.as_deref().and_then(|id| problem.skill(id)) {
                Some(skill) => problem.starting(skill, place),
                None => problem.holding(place, Hold::Revision),
            };
            let what = match lesson.kind {
                LessonKind::Teach if first == at => format!("starting it {what}"),
                LessonKind::Teach => format!("starting the skill {what}"),
                _ => format!("this revision {what}"),
            };
            elsewhere.push(self.solved(what, Some(when), forced.as_ref())?);
        }
        Ok(elsewhere)
    }

    /// A catch-up given up for a new lesson, or moved to the nearest other places.
    fn not_a_catch_up(&self, at: usize) -> Result<Vec<Elsewhere>, Error> {
        let Some(problem) = self.pose()? else { return Ok(Vec::new()) };
        if at < problem.frozen || at >= problem.horizon {
            return Ok(Vec::new());
        }
        let forced = problem.holding(at, Hold::Teach(None));
        let what = "a new lesson here instead".to_owned();
        let mut elsewhere = vec![self.solved(what, None, forced.as_ref())?];
        for (what, place) in other_places(&problem.periods, at) {
            let there = |p: &Problem| p.holding(place, Hold::CatchUp);
            let taken = self.schedule.lessons[place].kind == LessonKind::CatchUp;
            if place < problem.frozen || place >= problem.horizon || taken {
                continue;
            }
            let Period { date, starts, .. } = problem.periods[place];
            let moved = forced.as_ref().and_then(there);
            let what = format!("the catch-up {what}");
            elsewhere.push(self.solved(what, Some(When { date, starts }), moved.as_ref())?);
        }
        Ok(elsewhere)
    }

    fn test_elsewhere(&self, date: NaiveDate) -> Result<Vec<Elsewhere>, Error> {
        let dates = self.wanted.calendar.periods.iter().map(|p| p.date);
        let today = self.wanted.standing.map(|s| s.today);
        if today.is_some_and(|today| date < today) {
            return Ok(Vec::new());
        }
        let before = dates.clone().rfind(|d| *d < date && today.is_none_or(|today| *d >= today));
        let after = dates.clone().find(|d| *d > date);
        let mut elsewhere = Vec::new();
        for (what, other) in
            [("the test one lesson day earlier", before), ("the test one lesson day later", after)]
        {
            let Some(other) = other else { continue };
            let mut plan = self.wanted.plan.clone();
            plan.unit.test = TestWish::On(other);
            let asked = self.with_plan(&plan);
            let starts = self.wanted.calendar.periods.iter().find(|p| p.date == other);
            let at = starts.map(|p| When { date: other, starts: p.starts });
            elsewhere.push(asked.solved(what.to_owned(), at, asked.pose()?.as_ref())?);
        }
        Ok(elsewhere)
    }
}

/// The nearest other places for a lesson, each once: a period, a day and a week earlier and later,
/// and the first after the next break.
fn other_places(periods: &[Period], at: usize) -> Vec<(&'static str, usize)> {
    let date = periods[at].date;
    let week_on = date.checked_add_days(Days::new(7)).unwrap_or(date);
    let week_back = date.checked_sub_days(Days::new(7)).unwrap_or(date);
    let on = |wanted: NaiveDate| periods.iter().position(|p| p.date == wanted);
    let day_back = periods[..at].iter().rfind(|p| p.date < date).and_then(|p| on(p.date));
    let places = [
        ("one period earlier", at.checked_sub(1)),
        ("one day earlier", day_back),
        (
            "one week earlier",
            periods.iter().rposition(|p| p.date <= week_back).and_then(|q| on(periods[q].date)),
        ),
        ("one period later", Some(at + 1)),
        ("one day later", periods.iter().position(|p| p.date > date)),
        ("one week later", periods.iter().position(|p| p.date >= week_on)),
        ("after the next break", (at + 1..periods.len()).find(|q| periods[*q].break_before)),
    ];
    let mut others: Vec<(&str, usize)> = Vec::new();
    for (what, place) in places {
        if let Some(place) = place.filter(|p| *p != at && *p < periods.len())
            && others.iter().all(|(_, other)| *other != place)
        {
            others.push((what, place));
        }
    }
    others
}
