//! Many small terms made by chance, each solved twice: by the search and by writing out every
//! schedule.

use super::make::{Make, at, day, optional, skill};
use super::oracle::least_cost;
use chrono::{Days, NaiveDate};
use rungwise::plan::{Fixed, LessonKind, TestWish};
use rungwise::schedule::{Outcome, Proof, Schedule, Standing, solve, solve_again};

/// A stream of whole numbers (splitmix64).
struct Chance(u64);

impl Chance {
    fn below(&mut self, n: u64) -> u64 {
        self.0 = self.0.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut z = self.0;
        z = (z ^ (z >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        z = (z ^ (z >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        (z ^ (z >> 31)) % n
    }
    fn one_in(&mut self, n: u64) -> bool {
        self.below(n) == 0
    }
    fn small(&mut self, n: u64) -> u8 {
        u8::try_from(self.below(n)).expect("small")
    }
    fn day(&mut self, days: u64) -> NaiveDate {
        day("2027-02-01") + Days::new(self.below(days))
    }
}

/// A term of at most eleven periods with up to five skills.
fn term(chance: &mut Chance) -> Make {
    let count = 2 + chance.below(4);
    let skills = (0..count).map(|i| {
        let mut needs = Vec::new();
        for j in 0..i {
            if chance.one_in(3) {
                needs.push(format!("s{j}"));
            }
        }
        let least = 1 + chance.small(2);
        let preferred = least + chance.small(2);
        let most = preferred + chance.small(2);
        let weight = 1 + chance.small(5);
        let made = skill(&format!("s{i}"), &needs.join(" "), [least, preferred, most], weight);
        if chance.one_in(3) { optional(made) } else { made }
    });
    let skills: Vec<_> = skills.collect();
    let weeks = [
        "mon 09:00-09:40, thu 09:00-09:40",
        "mon 09:00-09:40, wed 09:00-10:20",
        "tue 09:00-09:40, wed 09:00-09:30, fri 09:00-09:40",
        "mon 09:00-09:30, mon 11:00-11:40, thu 09:00-09:40",
        "wed 09:00-09:40, fri 09:00-09:30",
    ];
    let week = weeks[usize::try_from(chance.below(5)).expect("small")];
    let ends = (day("2027-02-01") + Days::new(18 + chance.below(12))).to_string();
    let mut made = Make::term("2027-02-01", &ends, week, skills.clone());
    for _ in 0..chance.below(3) {
        let from = chance.day(30);
        made.closed.push((from, from + Days::new(chance.below(5))));
    }
    let unit = &mut made.plan.unit;
    unit.revision = u32::from(chance.small(3));
    unit.catch_up = (!chance.one_in(3)).then(|| u32::from(chance.small(3)));
    let id = |chance: &mut Chance| format!("s{}", chance.below(count));
    if chance.one_in(5) {
        unit.secure = vec![id(chance)];
    }
    if chance.one_in(5) {
        unit.leave_out = vec![id(chance)];
    }
    if chance.one_in(3) {
        unit.teach = vec![id(chance), id(chance)];
    }
    unit.test = match chance.below(5) {
        0 => TestWish::None,
        1 => TestWish::On(chance.day(25)),
        _ => TestWish::Last,
    };
    for _ in 0..chance.below(3) {
        let (kind, skill) = match chance.below(4) {
            0 => (LessonKind::CatchUp, None),
            1 => (LessonKind::Teach, None),
            2 => (LessonKind::Revision, None),
            _ => (LessonKind::Teach, Some(id(chance))),
        };
        let starts = chance.one_in(4).then(|| at("11:00"));
        let date = chance.day(25);
        if chance.one_in(2) {
            unit.fixed.push(Fixed { date, starts, kind, skill });
        }
    }
    let costs = &mut made.plan.costs;
    costs.long_run_limit = u32::from(chance.small(5));
    costs.left_out = [20_000, 200, 0][usize::from(chance.small(3))];
    costs.short = [500, 20, 4][usize::from(chance.small(3))];
    costs.split_by_break = [20, 2][usize::from(chance.small(2))];
    costs.two_starts = [8, 30][usize::from(chance.small(2))];
    costs.bunched = [6, 0, 25][usize::from(chance.small(3))];
    made
}

fn solved(made: &Make, standing: Option<&Standing>) -> Option<Schedule> {
    let calendar = made.calendar();
    let outcome = match standing {
        None => solve(&made.plan, &calendar),
        Some(standing) => solve_again(&made.plan, &calendar, standing),
    };
    match outcome.expect("no fault") {
        Outcome::Fits(schedule) => Some(*schedule),
        Outcome::Clash { clash, options } => {
            assert!(!clash.is_empty());
            assert!(options.iter().all(|way| way.fits == way.cost.is_some()));
            None
        }
    }
}

/// The same answer on both roads; the schedule, if there is one.
fn agree(made: &Make, standing: Option<&Standing>, name: &str) -> Option<Schedule> {
    let found = solved(made, standing);
    let least = least_cost(made, standing);
    assert_eq!(found.as_ref().map(|s| s.cost.total), least, "{name}: {made:?} {standing:?}");
    assert!(found.as_ref().is_none_or(|s| s.proof == Proof::Optimal));
    found
}

/// A day of the term has come: some lessons are printed, days are closed, lessons are lost.
fn under_way(chance: &mut Chance, made: &Make, old: &Schedule) -> (Make, Standing) {
    let mut again = made.clone();
    let pick = usize::try_from(chance.below(64)).expect("small") % old.lessons.len();
    let today = old.lessons[pick].date;
    for _ in 0..chance.below(3) {
        let from = today + Days::new(chance.below(8));
        again.closed.push((from, from + Days::new(chance.below(2))));
    }
    let closed = |d: NaiveDate| again.closed.iter().any(|(a, b)| *a <= d && d <= *b);
    let mut standing = Standing {
        today,
        old: old.lessons.clone(),
        printed: Vec::new(),
        taught: Vec::new(),
        lost: Vec::new(),
        next_number: u32::try_from(old.lessons.len() + 1).expect("small"),
    };
    for lesson in &old.lessons {
        let past = lesson.date < today;
        let printed = past || chance.one_in(4);
        if printed {
            standing.printed.push(lesson.number);
        }
        if lesson.date <= today && chance.one_in(5) {
            standing.lost.push(lesson.number);
            again.lost.push((lesson.date, lesson.starts));
        } else if past || (lesson.date == today && printed && !closed(today)) {
            standing.taught.push(lesson.number);
        }
    }
    let unit = &mut again.plan.unit;
    match chance.below(12) {
        0 => unit.revision = u32::from(chance.small(3)),
        1 => unit.secure = vec!["s0".to_owned()],
        2 => unit.leave_out = vec!["s1".to_owned()],
        3 => unit.teach = vec!["s0".to_owned(), "s1".to_owned()],
        4 => unit.test = TestWish::On(today + Days::new(chance.below(9))),
        _ => {}
    }
    (again, standing)
}

/// What a term that fits has to be reckoned with.
fn features(made: &Make, schedule: &Schedule) -> [(&'static str, bool); 9] {
    let periods = &schedule.periods;
    let unit = &made.plan.unit;
    let taught = |id: &String| schedule.lessons.iter().any(|l| l.skill.as_ref() == Some(id));
    let optional = made.plan.ladder.skills.values().filter(|s| s.optional);
    let weekday = |name: &str| periods.iter().any(|p| p.date.format("%a").to_string() == name);
    let doubled =
        weekday("Wed") && weekday("Mon") && periods.windows(2).any(|w| w[0].date == w[1].date);
    [
        ("doubles", doubled),
        ("short periods", periods.iter().any(|p| p.minutes == 30)),
        ("breaks", periods.iter().any(|p| p.break_before)),
        ("two breaks", periods.iter().filter(|p| p.break_before).count() > 1),
        ("fixed lessons", !unit.fixed.is_empty()),
        ("optional skills taught", optional.into_iter().any(|s| taught(&s.id))),
        ("skills left out", !schedule.left_out.is_empty()),
        ("a test date", matches!(unit.test, TestWish::On(_))),
        ("lessons short", schedule.cost.terms["short"] > 0),
    ]
}

/// Counts features over terms.
#[derive(Default)]
struct Seen(std::collections::BTreeMap<&'static str, u32>);

impl Seen {
    fn count(&mut self, features: &[(&'static str, bool)]) {
        for (name, there) in features {
            *self.0.entry(name).or_default() += u32::from(*there);
        }
    }
    fn each_at_least(&self, least: u32) {
        assert!(self.0.values().all(|n| *n >= least), "{:?}", self.0);
    }
}

#[test]
fn four_hundred_small_terms_cost_what_writing_out_every_schedule_finds() {
    let (mut fitting, mut seen) = (0, Seen::default());
    for seed in 0..400 {
        let made = term(&mut Chance(seed));
        if let Some(schedule) = agree(&made, None, &format!("term {seed}")) {
            fitting += 1;
            seen.count(&features(&made, &schedule));
        }
    }
    assert!((150..=350).contains(&fitting), "{fitting} of 400 fit");
    seen.each_at_least(3);
}

#[test]
fn three_hundred_terms_under_way_cost_what_writing_out_every_schedule_finds() {
    let (mut fitting, mut seen) = (0, Seen::default());
    for seed in 0..600 {
        let mut chance = Chance(1_000_000 + seed);
        let made = term(&mut chance);
        let Some(old) = solved(&made, None) else { continue };
        if old.lessons.is_empty() {
            continue;
        }
        let (again, standing) = under_way(&mut chance, &made, &old);
        if let Some(new) = agree(&again, Some(&standing), &format!("under way {seed}")) {
            fitting += 1;
            seen.count(&features(&again, &new));
            let terms = &new.cost.terms;
            let past = |l: &rungwise::schedule::Lesson| l.date < standing.today;
            seen.count(&[
                ("lessons moved", terms["moved"] > 0),
                ("printed lessons moved", terms["printed-moved"] > 0),
                ("skills in another order", terms["order"] > 0),
                (
                    "printed lessons that stay",
                    !standing.printed.is_empty() && terms["printed-moved"] == 0,
                ),
                ("lost lessons", !standing.lost.is_empty()),
                ("closed days", again.closed.len() > made.closed.len()),
                ("a past", new.lessons.iter().any(past)),
            ]);
        }
    }
    assert!(fitting >= 150, "{fitting} fit");
    seen.each_at_least(3);
    assert!(seen.0["lessons moved"] >= 50, "{:?}", seen.0);
}
