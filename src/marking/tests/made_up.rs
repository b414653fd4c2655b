//! Made-up pupils with habits, and the checks they write.
//!
//! What a habit answers comes from the catalogue's procedures and the makers' own lists, not from
//! what marking makes of them.

use super::super::pairs::together;
use super::super::question::Question;
use super::{item, pack_of, product, section};
use crate::exercise::makers::{self, Request, Setting, Spot};
use crate::exercise::patterns::{Family, Pattern, Task, catalogue, pattern};
use crate::exercise::{Accept, Item, Kind, Profile};
use crate::lesson::{Pack, SectionName};
use crate::method::{HouseStyle, estimate};
use crate::seed::{Seed, Stream};

/// What a pupil does wrongly again and again.
#[derive(Debug, Clone)]
pub struct Habit {
    /// The pattern, or two of them.
    pub names: Vec<&'static str>,
    /// How often it is met beside others.
    pub weight: u32,
    /// By pattern and item: the answers it may give, none where it does not show.
    answers: Vec<Vec<Vec<String>>>,
    /// By item: what both patterns give in one sum.
    both: Vec<Vec<String>>,
}

/// A check and the habits its pupils may have.
#[derive(Debug)]
pub struct Check {
    /// What it is of, for the table.
    pub name: &'static str,
    /// Its items.
    pub items: Vec<Item>,
    /// The habits.
    pub habits: Vec<Habit>,
}

/// How often a habit is used where it shows, and how often anybody slips, in percent.
pub type Noise = (u32, u32);

/// The three levels of noise: the pupils of each use a habit ever less and slip ever more.
pub const NOISES: [Noise; 3] = [(90, 5), (75, 10), (60, 15)];

/// What a pattern answers to an item the usual way round; only wrong answers. A wrong fact has
/// several values, any other habit one.
fn wrong_answers(item: &Item, known: &Pattern) -> Vec<String> {
    let question = Question::of(item);
    let mut answers: Vec<String> = match Task::of(item) {
        Some(task) => {
            let usual = task.answers(known).into_iter().filter(|&(_, turned)| !turned);
            usual.map(|(answer, _)| answer.to_string()).collect()
        }
        None => listed(item, known.name),
    };
    answers.retain(|answer| !question.is_right(answer));
    if known.family != Family::SingleFact {
        answers.truncate(1);
    }
    answers
}

/// What the item's maker says of a pattern.
fn listed(item: &Item, name: &str) -> Vec<String> {
    let fits = item.likely.iter().filter(|l| l.patterns.iter().any(|p| p == name));
    fits.map(|l| l.answer.clone()).take(1).collect()
}

impl Habit {
    fn of(known: &'static Pattern, items: &[Item]) -> Habit {
        let answers = items.iter().map(|item| wrong_answers(item, known)).collect();
        let (names, both) = (vec![known.name], vec![Vec::new(); items.len()]);
        Habit { names, weight: known.weight, answers: vec![answers], both }
    }
    fn told_by_makers(name: &'static str, items: &[Item]) -> Habit {
        let answers = items.iter().map(|item| listed(item, name)).collect();
        let both = vec![Vec::new(); items.len()];
        Habit { names: vec![name], weight: 3, answers: vec![answers], both }
    }
    fn pair(one: &Habit, other: &Habit, items: &[Item]) -> Habit {
        let (p, q) = (one.names[0], other.names[0]);
        let both = items
            .iter()
            .map(|item| together(item, p, q).iter().map(u64::to_string).take(1).collect());
        Habit {
            names: vec![p, q],
            weight: 1,
            answers: vec![one.answers[0].clone(), other.answers[0].clone()],
            both: both.collect(),
        }
    }
    /// On how many items it shows.
    pub fn shows(&self) -> usize {
        let shown = |of: &Vec<Vec<String>>| of.iter().filter(|a| !a.is_empty()).count();
        self.answers.iter().map(shown).min().unwrap_or(0)
    }
    /// The answer to this item of a pupil whose wrong fact is the k-th; none where the pupil does
    /// it rightly.
    fn answer(&self, at: usize, k: usize, often: u32, stream: &mut Stream) -> Option<String> {
        let mut used: Vec<&String> = Vec::new();
        for of in &self.answers {
            if stream.chance(often, 100) && !of[at].is_empty() {
                used.push(&of[at][k % of[at].len()]);
            }
        }
        match (used.as_slice(), self.both[at].first()) {
            ([_, _], Some(both)) => Some(both.clone()),
            _ => stream.one_of(&used).map(|answer| (*answer).clone()),
        }
    }
}

/// A made-up pupil's answers to a check.
pub fn answers(
    check: &Check,
    own: Option<&Habit>,
    noise: Noise,
    stream: &mut Stream,
) -> Vec<String> {
    let k = usize::try_from(stream.number(0..=9)).expect("small");
    let answer = |(at, item): (usize, &Item)| {
        if stream.chance(noise.1, 100) {
            return slip(check, at, stream);
        }
        let meant = own.and_then(|habit| habit.answer(at, k, noise.0, stream));
        meant.unwrap_or_else(|| item.answer.clone())
    };
    check.items.iter().enumerate().map(answer).collect()
}

/// Half of all slips look like some habit, half are one or two off in one digit.
fn slip(check: &Check, at: usize, stream: &mut Stream) -> String {
    let other = stream.one_of(&check.habits).and_then(|h| h.answers[0][at].first());
    match other {
        Some(answer) if stream.chance(1, 2) => answer.clone(),
        _ => {
            let right: u64 = check.items[at].answer.parse().expect("a number");
            let places = u64::from(crate::number::digit_count(right)) - 1;
            let place = 10_u64.pow(u32::try_from(stream.number(0..=places)).expect("small"));
            let step = stream.number(1..=2) * place;
            let off = if stream.chance(1, 2) { right + step } else { right.abs_diff(step) };
            off.to_string()
        }
    }
}

/// How probable a slip to this answer is, for who knows how slips are made.
fn slip_share(check: &Check, at: usize, given: &str) -> f64 {
    let right: u64 = check.items[at].answer.parse().expect("a number");
    let places = crate::number::digit_count(right);
    let ways = (0..places).flat_map(|place| {
        let step = |n: u64| [right + n * 10_u64.pow(place), right.abs_diff(n * 10_u64.pow(place))];
        [step(1), step(2)].concat()
    });
    let off = ways.filter(|way| way.to_string() == given).count() as f64 / f64::from(4 * places);
    let of_habit = |habit: &Habit| match habit.answers[0][at].first() {
        Some(answer) if answer == given => f64::midpoint(1.0, off),
        Some(_) => off / 2.0,
        None => off,
    };
    check.habits.iter().map(of_habit).sum::<f64>() / check.habits.len() as f64
}

/// The habit an observer names who knows how the pupils were made: how many have a habit, which
/// ones there are, how consistent they are and how they slip. Nobody can do better with the same
/// threshold; single habits only.
pub fn named_by_who_knows(check: &Check, given: &[String], noise: Noise) -> Option<usize> {
    let (often, slips) = (f64::from(noise.0) / 100.0, f64::from(noise.1) / 100.0);
    let likelihood = |own: Option<&Habit>| -> f64 {
        let each = check.items.iter().zip(given).enumerate().map(|(at, (item, given))| {
            let right = if *given == item.answer { 1.0 } else { 0.0 };
            let meant = match own.and_then(|h| h.answers[0][at].first()) {
                Some(wrong) if wrong == given => often,
                Some(_) => (1.0 - often) * right,
                None => right,
            };
            (1.0 - slips) * meant + slips * slip_share(check, at, given)
        });
        each.product()
    };
    let none = 0.6 * likelihood(None);
    let share = 0.4 / check.habits.len() as f64;
    let odds: Vec<f64> = check.habits.iter().map(|h| share * likelihood(Some(h))).collect();
    let total = none + odds.iter().sum::<f64>();
    odds.iter().position(|own| own / total >= 0.80)
}

/// The habit that the plain model names with its published defaults: four of five pupils without a
/// habit, the others' habits as they weigh, used three times in four, one slip in ten, over sixty
/// answers; from 80 % on. It weighs these habits only: no facts, no two at once, no number turned.
pub fn named_by_the_plain_model(check: &Check, given: &[String]) -> Option<usize> {
    let likelihood = |own: Option<&Habit>| -> f64 {
        let each = check.items.iter().zip(given).enumerate().map(|(at, (item, given))| {
            let right = if *given == item.answer { 1.0 } else { 0.0 };
            let meant = match own.and_then(|h| h.answers[0][at].first()) {
                Some(wrong) => 0.75 * f64::from(u8::from(wrong == given)) + 0.25 * right,
                None => right,
            };
            0.9 * meant + 0.1 / 60.0
        });
        each.product()
    };
    let all: u32 = check.habits.iter().map(|h| h.weight).sum();
    let prior = |h: &Habit| 0.2 * f64::from(h.weight) / f64::from(all);
    let odds: Vec<f64> = check.habits.iter().map(|h| prior(h) * likelihood(Some(h))).collect();
    let total = 0.8 * likelihood(None) + odds.iter().sum::<f64>();
    odds.iter().position(|own| own / total >= 0.80)
}

/// The check as a pack.
pub fn pack(check: &Check) -> Pack {
    pack_of(vec![section(SectionName::ExitCheck, check.items.clone())])
}

fn sums(of: &[(u64, u64)], kind: Kind) -> Vec<Item> {
    let item = |(n, &(a, b)): (usize, &(u64, u64))| product(&format!("L07-X{}", n + 1), kind, a, b);
    of.iter().enumerate().map(item).collect()
}

/// These many items of the pool: first whatever shows a habit that shows on fewer than `shown` items so
/// far (three points each) or parts two habits parted by fewer than two (one point each).
fn designed(pool: &[Item], names: &[&'static Pattern], count: usize, shown: usize) -> Vec<Item> {
    designed_by(pool, names, count, (shown, 2))
}

/// The same with another number of items that part two habits.
fn designed_by(
    pool: &[Item],
    names: &[&'static Pattern],
    count: usize,
    needs: (usize, usize),
) -> Vec<Item> {
    Choice::of(pool, names, needs).greedy(count).items(pool)
}

/// The same, and then single items exchanged for better ones as long as there are any.
fn exchanged(
    pool: &[Item],
    names: &[&'static Pattern],
    count: usize,
    needs: (usize, usize),
) -> Vec<Item> {
    let mut choice = Choice::of(pool, names, needs).greedy(count);
    while (0..count).any(|at| choice.exchange(at)) {}
    choice.items(pool)
}

/// A set of sums being chosen from a pool.
struct Choice {
    /// By candidate: on which habits it shows, and which two it parts.
    shows: Vec<Vec<bool>>,
    parts: Vec<Vec<bool>>,
    /// On so many items each habit is to show, and by so many any two are to be parted.
    needs: (usize, usize),
    chosen: Vec<usize>,
}

impl Choice {
    fn of(pool: &[Item], names: &[&'static Pattern], needs: (usize, usize)) -> Choice {
        let (mut shows, mut parts) = (Vec::new(), Vec::new());
        for item in pool {
            let row: Vec<Vec<String>> = names.iter().map(|p| wrong_answers(item, p)).collect();
            shows.push(row.iter().map(|answers| !answers.is_empty()).collect());
            let pairs = row
                .iter()
                .enumerate()
                .flat_map(|(i, one)| row[i + 1..].iter().map(move |other| one != other));
            parts.push(pairs.collect());
        }
        Choice { shows, parts, needs, chosen: Vec::new() }
    }
    /// How many points a candidate brings beside those chosen.
    fn gain(&self, at: usize) -> usize {
        let new = |table: &[Vec<bool>], need: usize| {
            let so_far = |k: usize| self.chosen.iter().filter(|&&item| table[item][k]).count();
            let own = table[at].iter().enumerate().filter(|&(_, yes)| *yes);
            own.filter(|&(k, _)| so_far(k) < need).count()
        };
        3 * new(&self.shows, self.needs.0) + new(&self.parts, self.needs.1)
    }
    /// The best candidate that is not chosen, of two as good the first, and its points.
    fn best(&self) -> (usize, usize) {
        let left = (0..self.shows.len()).filter(|at| !self.chosen.contains(at));
        let gains = left.map(|at| (self.gain(at), std::cmp::Reverse(at)));
        let (gain, at) = gains.max().expect("the pool is large");
        (gain, at.0)
    }
    fn greedy(mut self, count: usize) -> Choice {
        while self.chosen.len() < count {
            let (_, best) = self.best();
            self.chosen.push(best);
        }
        self
    }
    /// Puts a better one in place of this one; whether there is one.
    fn exchange(&mut self, at: usize) -> bool {
        let own = self.chosen.remove(at);
        let (gain, best) = self.best();
        let better = gain > self.gain(own);
        self.chosen.insert(at, if better { best } else { own });
        better
    }
    fn items(&self, pool: &[Item]) -> Vec<Item> {
        let number = |(n, at): (usize, &usize)| {
            let mut item = pool[*at].clone();
            item.id = format!("L07-X{}", n + 1);
            item
        };
        self.chosen.iter().enumerate().map(number).collect()
    }
}

fn with_habits(
    name: &'static str,
    items: Vec<Item>,
    known: &[&'static Pattern],
    least: usize,
) -> Check {
    let habits = known.iter().map(|p| Habit::of(p, &items)).filter(|h| h.shows() >= least);
    let habits = habits.collect();
    Check { name, items, habits }
}

/// The exit checks of a written skill in a term, one after the other, so many of them, with the row and
/// long patterns that show on so many items at least.
pub fn own_checks(name: &'static str, packs: &[Pack], many: usize, least: usize) -> Option<Check> {
    let own = packs.iter().filter(|pack| pack.skill.as_deref() == Some(name)).take(many);
    let checks = own.flat_map(|pack| pack.named(SectionName::ExitCheck)).flat_map(|s| &s.items);
    let items: Vec<Item> = checks.filter(|item| item.skill == name).cloned().collect();
    let check = with_habits(name, items, &family(&[Family::Row, Family::Long]), least);
    (!check.habits.is_empty()).then_some(check)
}

fn family(of: &[Family]) -> Vec<&'static Pattern> {
    catalogue().iter().filter(|p| of.contains(&p.family)).collect()
}

fn named(names: &[&str]) -> Vec<&'static Pattern> {
    names.iter().map(|name| pattern(name).expect("a pattern")).collect()
}

const FOUR_BY_THREE: &[(u64, u64)] = &[
    (7092, 209),
    (8305, 308),
    (8705, 408),
    (3081, 407),
    (6204, 107),
    (1019, 216),
    (1044, 249),
    (1010, 600),
];

const THREE_BY_ONE: &[(u64, u64)] = &[
    (206, 7),
    (207, 9),
    (307, 7),
    (306, 6),
    (307, 8),
    (122, 7),
    (125, 3),
    (130, 6),
    (101, 6),
    (103, 3),
];

/// The eight sums whose figures are known from elsewhere.
pub fn four_by_three() -> Check {
    let items = sums(FOUR_BY_THREE, Kind::Written);
    with_habits("8 of 4 × 3 digits", items, &family(&[Family::Row, Family::Long]), 5)
}

/// The ten sums whose figures are known from elsewhere.
pub fn three_by_one() -> Check {
    let items = sums(THREE_BY_ONE, Kind::Written);
    with_habits("10 of 3 × 1 digits", items, &family(&[Family::Row, Family::Long]), 5)
}

/// Ten sums chosen so that each of the same habits shows on six of them and any two are parted by
/// five, as far as can be.
pub fn three_by_one_chosen() -> Check {
    let known: Vec<&Pattern> = three_by_one().habits.iter().flat_map(|h| named(&h.names)).collect();
    let draw = |s: &mut Stream| {
        let inner = if s.chance(35, 100) { 0 } else { s.number(1..=9) };
        let ones = if s.chance(15, 100) { 0 } else { s.number(1..=9) };
        product("", Kind::Written, s.number(1..=9) * 100 + inner * 10 + ones, s.number(3..=9))
    };
    let items = designed_by(&pool("three by one", draw), &known, 10, (6, 5));
    with_habits("10 of 3 × 1 digits, chosen by us", items, &known, 1)
}

/// The eight sums with every pattern and single fact that shows on any of them, as often as the
/// model takes them to be.
pub fn as_the_model_believes() -> Check {
    let items = sums(FOUR_BY_THREE, Kind::Written);
    let all: Vec<&Pattern> = catalogue().iter().collect();
    with_habits("8 of 4 × 3 digits, every pattern", items, &all, 1)
}

fn pool(seed: &str, draw: impl Fn(&mut Stream) -> Item) -> Vec<Item> {
    large_pool(seed, 300, draw)
}

fn large_pool(seed: &str, size: usize, draw: impl Fn(&mut Stream) -> Item) -> Vec<Item> {
    let mut stream = Seed::of("pool of sums").child(seed).stream();
    (0..size).map(|_| draw(&mut stream)).collect()
}

/// One wrong fact, everything else right: the ten facts of 6 to 9.
pub fn single_facts() -> Check {
    let of_six_to_nine = |p: &&'static Pattern| {
        p.family == Family::SingleFact && !p.name.contains(['2', '3', '4', '5'])
    };
    let facts: Vec<_> = catalogue().iter().filter(of_six_to_nine).collect();
    let digit = |s: &mut Stream| s.number(6..=9);
    let draw = |s: &mut Stream| {
        let a = digit(s) * 1000 + digit(s) * 100 + digit(s) * 10 + digit(s);
        product("", Kind::Written, a, digit(s))
    };
    let items = designed(&pool("facts", draw), &facts, 10, 4);
    with_habits("10 of 4 × 1 digits, one wrong fact", items, &facts, 3)
}

/// Rounding and adjusting in the head.
pub fn mental() -> Check {
    let known = named(&[
        "adjusted-by-the-difference",
        "adjusted-the-wrong-way",
        "adjusting-forgotten",
        "adjusted-once-only",
        "difference-the-wrong-way",
        "adjusted-as-in-adding",
    ]);
    let draw = |s: &mut Stream| {
        let near = [19, 29, 39, 28, 38, 48, 49, 59, 98, 99, 101, 102];
        let b = *s.one_of(&near).expect("some");
        product("", Kind::Mental, s.number(12..=89), b)
    };
    let items = designed(&pool("mental", draw), &known, 8, 5);
    with_habits("8 to round and adjust", items, &known, 5)
}

/// Zeros at the ends of both numbers.
pub fn zeros() -> Check {
    let known = family(&[Family::Zeros]);
    let draw = |s: &mut Stream| {
        let part = |s: &mut Stream| s.number(2..=12) * *s.one_of(&[10, 100]).expect("some");
        product("", Kind::Mental, part(s), part(s))
    };
    let items = designed(&pool("zeros", draw), &known, 8, 4);
    with_habits("8 with zeros at the ends", items, &known, 3)
}

/// Estimates with the band that the makers accept.
pub fn estimates() -> Check {
    let known = family(&[Family::Estimate]);
    let draw = |s: &mut Stream| {
        let (a, b) = (s.number(102..=989), s.number(12..=98));
        let right = estimate(a, b);
        let sum = right.factors.map(|n| n.to_string()).join("*");
        let mut item = item("", Kind::Estimate, Some(&sum), &right.value.to_string());
        item.prompt = format!("{a}\u{a0}×\u{a0}{b}");
        let (least, most) = ((a * b * 7).div_ceil(10), a * b * 13 / 10);
        item.accept = Some(Accept::Between { least: least.to_string(), most: most.to_string() });
        item
    };
    let mut pool = pool("estimates", draw);
    pool.retain(|item| Question::of(item).is_right(&item.answer));
    let items = designed(&pool, &known, 8, 4);
    with_habits("8 estimates of 3 × 2 digits", items, &known, 3)
}

/// Stories in two steps as their maker makes them.
pub fn stories() -> Check {
    let mut pool: Vec<Item> = Vec::new();
    for class in ["a", "b", "c", "d", "e", "f"] {
        let setting = Setting::new(Seed::of(class), HouseStyle::default(), 100);
        let request = Request {
            skill: "story-two-step",
            part: 2,
            spot: Spot::Core,
            name: "A",
            profile: Profile::Typical,
            seconds: 7200,
            least: 1,
            most: 12,
            own: &[],
        };
        let made = makers::make("story-two-step", &request, &setting).expect("stories");
        pool.extend(made.into_iter().filter(|i| i.kind == Kind::Story && !i.likely.is_empty()));
    }
    pool.retain(|item| item.answer.parse::<u64>().is_ok());
    let turns: Vec<&'static str> = makers::story::STORY_PATTERNS.iter().map(|p| p.name).collect();
    // The stories on which most turns show.
    pool.sort_by_key(|item| {
        std::cmp::Reverse(turns.iter().filter(|t| !listed(item, t).is_empty()).count())
    });
    pool.truncate(8);
    for (n, item) in pool.iter_mut().enumerate() {
        item.id = format!("L07-X{}", n + 1);
    }
    let habits = turns.iter().map(|t| Habit::told_by_makers(t, &pool));
    let habits = habits.filter(|h| h.shows() >= 3).collect();
    Check { name: "8 stories in two steps", items: pool, habits }
}

/// Two habits at once: one inside the rows, one in placing or adding them.
pub fn pairs() -> Check {
    let inside = named(&["carry-not-added", "carry-and-digit-swapped", "facts-one-step-up"]);
    let placing = named(&["placeholder-left-out", "adding-carries-lost", "later-rows-extra-zero"]);
    let draw = |s: &mut Stream| product("", Kind::Written, s.number(26..=98), s.number(26..=98));
    let all: Vec<&'static Pattern> = inside.iter().chain(&placing).copied().collect();
    let items = designed(&pool("pairs", draw), &all, 8, 8);
    let single = |known: &[&'static Pattern]| -> Vec<Habit> {
        known.iter().map(|p| Habit::of(p, &items)).collect()
    };
    let mut habits = Vec::new();
    for one in single(&inside) {
        for other in single(&placing) {
            habits.push(Habit::pair(&one, &other, &items));
        }
    }
    Check { name: "8 of 2 × 2 digits, two patterns", items, habits }
}

/// The same sums with every two row and long patterns that show on them, whether they can stand
/// together in one sum or not.
pub fn every_pair() -> Check {
    let items = pairs().items;
    let known = family(&[Family::Row, Family::Long]);
    let single: Vec<Habit> = known.iter().map(|p| Habit::of(p, &items)).collect();
    let single: Vec<&Habit> = single.iter().filter(|habit| habit.shows() > 0).collect();
    let mut habits = Vec::new();
    for (at, one) in single.iter().enumerate() {
        habits.extend(single[at + 1..].iter().map(|other| Habit::pair(one, other, &items)));
    }
    Check { name: "8 of 2 × 2 digits, every pair", items, habits }
}

/// Sets of other sizes, chosen greedily and then by exchange: each habit on four of them, any two parted by
/// three, of twelve items on six and by five, as far as can be. The habits are those that show on three.
pub fn small_sets() -> Vec<Check> {
    let digit = |s: &mut Stream, zeros: u32| {
        if s.chance(zeros, 100) { 0 } else { s.number(1..=9) }
    };
    let by_one = |s: &mut Stream| {
        let top = s.number(1..=9) * 100 + digit(s, 35) * 10 + digit(s, 15);
        product("", Kind::Written, top, s.number(3..=9))
    };
    let by_two = |s: &mut Stream| {
        let top = s.number(12..=99);
        product("", Kind::Written, top, s.number(1..=9) * 10 + digit(s, 15))
    };
    let by_three = |s: &mut Stream| {
        let top = s.number(1..=9) * 1000 + digit(s, 35) * 100 + digit(s, 35) * 10 + s.number(1..=9);
        let side = s.number(1..=9) * 100 + digit(s, 35) * 10 + s.number(1..=9);
        product("", Kind::Written, top, side)
    };
    let chosen = |name: &'static str, pool: &[Item], count: usize, needs: (usize, usize)| {
        let often = |known: &&'static Pattern| {
            let shows = pool.iter().filter(|item| !wrong_answers(item, known).is_empty());
            shows.count() * 20 >= pool.len()
        };
        let known: Vec<&Pattern> =
            family(&[Family::Row, Family::Long]).into_iter().filter(often).collect();
        with_habits(name, exchanged(pool, &known, count, needs), &known, 3)
    };
    let two = large_pool("two by two", 1000, by_two);
    vec![
        chosen("6 of 3 × 1 digits", &large_pool("three by one, few", 1000, by_one), 6, (4, 3)),
        chosen("7 of 2 × 2 digits", &two, 7, (4, 3)),
        chosen("12 of 2 × 2 digits", &two, 12, (6, 5)),
        chosen("5 of 4 × 3 digits", &large_pool("four by three, few", 1000, by_three), 5, (4, 3)),
    ]
}
