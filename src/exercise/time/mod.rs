//! How long an item takes, from counts of facts, carries and digits written.
//!
//! A child's time is the sum of what a working asks for: each fact of the tables, each carry that
//! is added, each column added, each digit written, and a little to read and to begin. The rates
//! in [`Rates`] are our own defaults, with no published source; what bounds them is published:
//! pupils of 9 to 11 who have mastered written sums write 49 digits a minute or more (Burns,
//! VanDerHeyden & Jiban 2006), so no written sum may be reckoned faster than that.

mod work;

pub use work::Work;

use super::{Given, Item, Kind, Space, Story, Working};
use crate::method::{Estimate, HouseStyle, Long, Route, cheapest, estimate, long};
use crate::number::digit_count;
use serde::{Deserialize, Serialize};

/// How practised the pupils are.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Profile {
    /// The first two parts of a skill.
    Learning,
    /// As most pupils of that age.
    Typical,
    /// Well practised.
    Fluent,
}

/// What each thing takes, in hundredths of a second. Defaults of ours, without a source, unless
/// said otherwise.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Rates {
    /// To begin a written sum: copy it, rule a line.
    pub setup: u32,
    /// To read a short prompt.
    pub read: u32,
    /// A fact of middling difficulty; also one step of a mental route.
    pub fact: u32,
    /// Adding a carry inside a row.
    pub carry: u32,
    /// Adding a column.
    pub column: u32,
    /// Carrying when adding columns.
    pub adding_carry: u32,
    /// Writing a digit.
    pub digit: u32,
    /// Words read in a minute. Oral reading, grade 4 in winter: the 25th, 50th and (from memory)
    /// 75th percentile (Hasbrouck & Tindal 2017).
    pub words_a_minute: u32,
    /// Seeing how a question can be answered for which no sum is printed: a gap, a known product.
    pub think: u32,
    /// Choosing what to do in a story, and naming the answer.
    pub choose: u32,
    /// Thinking of a reason and writing it on three lines: about a minute, common practice, no
    /// source.
    pub reason: u32,
    /// Writing a letter. Pupils of grades 4 and 5 copy about 65 to 75 letters a minute (Graham,
    /// Berninger, Weintraub & Schafer 1998, from memory).
    pub letter: u32,
    /// Weighing one option of a choice.
    pub option: u32,
}

impl Rates {
    /// The defaults of a profile.
    pub fn of(profile: Profile) -> Rates {
        match profile {
            Profile::Learning => Rates {
                setup: 600,
                read: 200,
                fact: 500,
                carry: 200,
                column: 250,
                adding_carry: 150,
                digit: 120,
                words_a_minute: 95,
                think: 1000,
                choose: 1000,
                reason: 7000,
                letter: 120,
                option: 500,
            },
            Profile::Typical => Rates {
                setup: 500,
                read: 150,
                fact: 300,
                carry: 120,
                column: 150,
                adding_carry: 100,
                digit: 90,
                words_a_minute: 120,
                think: 800,
                choose: 1000,
                reason: 6000,
                letter: 92,
                option: 300,
            },
            Profile::Fluent => Rates {
                setup: 300,
                read: 100,
                fact: 150,
                carry: 60,
                column: 80,
                adding_carry: 50,
                digit: 60,
                words_a_minute: 143,
                think: 600,
                choose: 1000,
                reason: 5500,
                letter: 75,
                option: 200,
            },
        }
    }
    /// The whole of a written working without reading and setting out; facts by their weight.
    fn working(&self, work: &Work) -> u32 {
        let model = self.fact * work.weighted_facts / 100
            + self.carry * work.carries
            + self.carry * work.large_carries / 2
            + self.column * work.columns
            + self.adding_carry * work.adding_carries
            + self.digit * work.digits;
        model.max(work.digits * AT_MASTERY)
    }
    fn words(&self, count: usize) -> u32 {
        u32::try_from(count).unwrap_or(u32::MAX).saturating_mul(6000) / self.words_a_minute
    }
    /// A route in the head and its answer written down.
    fn route(&self, route: &Route) -> u32 {
        self.in_head(route.cost, route.value)
    }
    /// A product by a route of this cost.
    fn in_head(&self, cost: u32, value: u64) -> u32 {
        self.fact * cost / 100 + self.digit * digit_count(value)
    }
    /// The cheapest way to a product.
    fn cheapest(&self, a: u64, b: u64) -> u32 {
        cheapest(a, b).map_or(0, |(_, cost)| self.in_head(cost, a * b))
    }
}

/// A digit at 49 a minute, hundredths of a second.
const AT_MASTERY: u32 = 6000 / 49;

/// Of the minutes a set is given, the share that goes into sums: the rest is settling and looking
/// up. A default of ours, without a source.
pub const BUSY_PERCENT: u32 = 85;

/// How many items of these seconds each fit into so many minutes, one after the other.
pub fn fitting(minutes: u32, seconds: &[u32]) -> usize {
    let mut left = minutes * 60 * BUSY_PERCENT;
    seconds
        .iter()
        .take_while(|&&s| {
            let fits = s * 100 <= left;
            left = left.saturating_sub(s * 100);
            fits
        })
        .count()
}

/// The seconds an item takes at this profile and pace (hundredths; 120 takes a fifth longer).
pub fn item_seconds(item: &Item, profile: Profile, pace: u32) -> u32 {
    let rates = Rates::of(profile);
    let time = match item.kind {
        Kind::Written if adds_rows(item) => prompt(item, &rates) + adding(item, &rates),
        Kind::Written => rates.setup + rates.read + size(item, &rates) + working(item, &rates),
        Kind::Row => rates.setup + rates.read + row(item, &rates),
        Kind::Mental | Kind::Estimate => {
            let places = matches!(item.space, Space::Chart { .. });
            rates.read + if places { rates.setup } else { 0 } + working(item, &rates)
        }
        Kind::Choice => choice(item, &rates),
        Kind::Story => story(item, &rates),
        Kind::Words => words(item, &rates),
        Kind::Missing => prompt(item, &rates) + rates.think + gap(item, &rates),
        Kind::Reason => {
            let reason = reason(item, &rates);
            let think = if reason == 0 { rates.think } else { 0 };
            prompt(item, &rates) + think + working(item, &rates) / 2 + reason
        }
    };
    (time * pace / 100).div_ceil(100).max(1)
}

/// What a story takes less on a slip, which has no room for what is known and what is needed;
/// 0 for other items.
pub fn notes_seconds(item: &Item, profile: Profile, pace: u32) -> u32 {
    let Working::Story { story, .. } = &item.working else { return 0 };
    notes(story, &Rates::of(profile)) * pace / 10_000
}

/// The reason that is asked for, by the lines there are for it.
fn reason(item: &Item, rates: &Rates) -> u32 {
    match item.space {
        Space::Lines { count } => rates.reason * u32::from(count) / REASON_LINES,
        Space::Options { because: true } => rates.reason,
        _ => 0,
    }
}

/// A missing factor is tried as a product; of a printed working with a gap half is done over.
fn gap(item: &Item, rates: &Rates) -> u32 {
    let parts = item.expression.as_deref().and_then(|e| e.split_once("//"));
    match parts.map(|(whole, by)| (whole.parse::<u64>(), by.parse::<u64>())) {
        Some((Ok(whole), Ok(by))) if by > 0 => rates.cheapest(by, whole / by),
        _ => rates.setup + working(item, rates) / 2,
    }
}

/// The lines of a reason that takes [`Rates::reason`].
const REASON_LINES: u32 = 3;

/// Whether the rows of a product are printed and only their sum is asked for.
fn adds_rows(item: &Item) -> bool {
    matches!(item.space, Space::Squares { given: Given::Rows, .. })
}

/// Columns added with their carries, and the sum written.
fn adding(item: &Item, rates: &Rates) -> u32 {
    let Working::Long(long) = &item.working else { return working(item, rates) };
    rates.working(&Work::of_adding(long))
}

/// The estimate, or the two numbers it lies between, that are written above a sum.
fn size(item: &Item, rates: &Rates) -> u32 {
    let (Space::Squares { given, estimate: true, .. }, Some((a, b))) = (item.space, product(item))
    else {
        return 0;
    };
    let numbers = if given == Given::Nothing { 1 } else { 2 };
    numbers * estimated(&estimate(a, b), rates)
}

/// Two numbers rounded, their leading digits multiplied, the zeros put back.
fn estimated(estimate: &Estimate, rates: &Rates) -> u32 {
    let [a, b] = estimate.factors;
    2 * rates.column + rates.cheapest(a, b)
}

/// What the working itself takes.
fn working(item: &Item, rates: &Rates) -> u32 {
    match &item.working {
        Working::Long(long) => rates.working(&Work::of_long(long)),
        Working::Grid(grid) => rates.working(&Work::of_grid(grid)),
        Working::Lattice(lattice) => rates.working(&Work::of_lattice(lattice)),
        Working::Route(route) => rates.route(route),
        Working::Estimate(estimate) => estimated(estimate, rates),
        Working::Story { story, long } => story_working(story, long.as_ref(), rates),
        Working::Steps { steps } => match product(item) {
            Some((a, b)) if item.kind == Kind::Written => {
                rates.working(&Work::of_long(&long(a, b, &HouseStyle::default())))
            }
            Some((a, b)) => rates.cheapest(a, b),
            None => {
                let steps = u32::try_from(steps.len()).unwrap_or(u32::MAX).max(1);
                steps.saturating_mul(rates.fact) + rates.digit * answer_digits(item)
            }
        },
    }
}

/// One partial product: its digits and their carries, whatever the item's working shows.
fn row(item: &Item, rates: &Rates) -> u32 {
    let Some((a, b)) = product(item) else { return working(item, rates) };
    rates.working(&Work::of_long(&long(a, b, &HouseStyle::default())))
}

/// A choice is weighed, not worked out: a third of its working, a look at each option, a letter.
fn choice(item: &Item, rates: &Rates) -> u32 {
    let options = u32::try_from(item.choices.len()).unwrap_or(0);
    let in_words = |text: &str| text.split(' ').filter(|w| w.contains(char::is_alphabetic)).count();
    let words: usize = item.choices.iter().map(|c| in_words(&c.text)).sum();
    prompt(item, rates)
        + rates.words(words)
        + working(item, rates) / 3
        + options * rates.option
        + rates.digit
        + reason(item, rates)
}

/// A story is read twice; then note what is known and needed, choose, work it out, and answer in a
/// sentence.
fn story(item: &Item, rates: &Rates) -> u32 {
    let setup = matches!(item.working, Working::Story { long: Some(_), .. });
    let written = match &item.working {
        Working::Story { story, .. } => notes(story, rates) + letters(&story.sentence, rates),
        _ => 0,
    };
    written
        + 2 * rates.words(item.prompt.split_whitespace().count())
        + rates.choose
        + u32::from(setup) * rates.setup
        + working(item, rates)
}

/// "I know" and "I need".
fn notes(story: &Story, rates: &Rates) -> u32 {
    let known: u32 = story.know.iter().map(|known| letters(known, rates)).sum();
    known + letters(&story.need, rates)
}

/// A text written by hand.
fn letters(text: &str, rates: &Rates) -> u32 {
    rates.letter * u32::try_from(text.chars().count()).unwrap_or(u32::MAX)
}

/// The long working where there is one, and each other step as a short sum.
fn story_working(story: &Story, long: Option<&Long>, rates: &Rates) -> u32 {
    let short_steps = story.steps.len().saturating_sub(usize::from(long.is_some()));
    let short = u32::try_from(short_steps).unwrap_or(0) * (3 * rates.fact + 3 * rates.digit);
    short + long.map_or(0, |long| rates.working(&Work::of_long(long)))
}

/// A number in words is read twice and written digit by digit, each found first; one in figures is
/// read and spelt out.
fn words(item: &Item, rates: &Rates) -> u32 {
    let reading = prompt(item, rates);
    if answer_is_number(item) {
        return 2 * reading + 2 * rates.digit * answer_digits(item);
    }
    reading + letters(&item.answer, rates)
}

fn prompt(item: &Item, rates: &Rates) -> u32 {
    rates.words(item.prompt.split_whitespace().count()).max(rates.read)
}

fn answer_is_number(item: &Item) -> bool {
    !item.answer.is_empty() && item.answer.bytes().all(|b| b.is_ascii_digit())
}

fn answer_digits(item: &Item) -> u32 {
    let digits = item.answer.bytes().filter(u8::is_ascii_digit).count();
    u32::try_from(digits).unwrap_or(u32::MAX)
}

/// The factors of an expression `a*b`.
fn product(item: &Item) -> Option<(u64, u64)> {
    let (a, b) = item.expression.as_deref()?.split_once('*')?;
    Some((a.trim().parse().ok()?, b.trim().parse().ok()?))
}

#[cfg(test)]
mod tests;
