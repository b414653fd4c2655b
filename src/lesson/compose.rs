//! From an occasion to a pack.

use super::after_marks::after_marks;
use super::bench::{Bench, Made, Makers, Ours};
use super::findings::Findings;
use super::given_away::OnPaper;
use super::house::in_house_item;
use super::memory::{self, Brought};
use super::minutes::Minutes;
use super::{Heading, Level, Pack, Section, SectionName, sheet_letter};
use super::{again, check, consolidate, examples, sheet_rules, teach, teacher, test};
use crate::calendar::Calendar;
use crate::curriculum::Skill;
use crate::exercise::Item;
use crate::exercise::makers::{Met, Spot};
use crate::method::HouseStyle;
use crate::plan::{LessonKind, Plan};
use crate::schedule::Lesson;
use indexmap::IndexMap;
use std::fmt;

/// All that decides what goes into a lesson.
pub struct Occasion<'a> {
    /// The checked plan.
    pub plan: &'a Plan,
    /// The lessons of the term, in order of date.
    pub lessons: &'a [Lesson],
    /// The periods of the term.
    pub calendar: &'a Calendar,
    /// The lesson's number.
    pub number: u32,
    /// "A", or "B" with other numbers.
    pub version: &'a str,
    /// Whether the pack is a draft.
    pub draft: bool,
    /// What marking has found so far.
    pub findings: &'a Findings,
    /// How often each item was exchanged, by id, in the order of the wishes.
    pub swaps: &'a IndexMap<String, u32>,
}

/// A fault of ours: something failed its check, so nothing is printed.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Fault {
    /// The item's id; empty where it had none yet.
    pub item: String,
    /// What is wrong.
    pub what: String,
}

impl fmt::Display for Fault {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        if self.item.is_empty() {
            write!(f, "{}", self.what)
        } else {
            write!(f, "{}: {}", self.item, self.what)
        }
    }
}

impl std::error::Error for Fault {}

/// A section whose items can still be exchanged.
#[derive(Debug)]
pub struct Draft {
    /// Which part.
    pub name: SectionName,
    /// The level, for practice only.
    pub level: Option<Level>,
    /// Its minutes.
    pub minutes: u16,
    /// Its items.
    pub made: Vec<Made>,
}

/// A lesson with what is known when it is composed.
pub struct Composing<'a> {
    /// What decides.
    pub occasion: &'a Occasion<'a>,
    /// The lesson.
    pub lesson: &'a Lesson,
    /// Its place among the term's lessons.
    pub place: usize,
    /// What it brings back.
    pub brought: Brought,
    /// Whether the lesson goes through the unit test.
    pub follows_test: bool,
}

impl<'a> Composing<'a> {
    /// The skill of a teach lesson.
    pub fn skill(&self) -> Option<&'a Skill> {
        self.occasion.plan.ladder.skills.get(self.lesson.skill.as_ref()?)
    }
    /// The parts of a skill that were taught before this lesson, at least 1.
    pub fn parts_before(&self, skill: &str) -> u32 {
        memory::parts_before(self.occasion.lessons, self.place, skill)
    }
    /// The how-manieth of its kind this lesson is, by numbers, which are for life.
    pub fn ordinal(&self) -> usize {
        let alike = |l: &&Lesson| l.kind == self.lesson.kind && l.number < self.lesson.number;
        self.occasion.lessons.iter().filter(alike).count() + 1
    }
    /// `L07`, or `L07B`.
    pub fn code(&self) -> String {
        code(self.lesson.number, self.occasion.version)
    }
}

/// A lesson's code on paper and in ids: `L07`, `L35`, `L07B`.
fn code(number: u32, version: &str) -> String {
    format!("L{number:02}{}", if version == "B" { "B" } else { "" })
}

/// Composes a lesson's pack with the makers of our ladder.
///
/// # Errors
/// The number is no lesson's, or something failed its check: a fault of ours.
pub fn compose(occasion: &Occasion) -> Result<Pack, Fault> {
    compose_with(occasion, &Ours, &Met::default())
}

/// The same for pupils who have met the products of the lessons before: see [`note_met`].
///
/// # Errors
/// As [`compose`].
pub fn compose_after(occasion: &Occasion, met: &Met) -> Result<Pack, Fault> {
    compose_with(occasion, &Ours, met)
}

/// Notes what a pack's pupils meet, for the lessons after it. A unit test is left out: the lesson
/// that goes through it shows its sums again.
pub fn note_met(met: &mut Met, pack: &Pack) {
    if pack.kind == LessonKind::UnitTest {
        return;
    }
    for section in &pack.sections {
        let spot = match section.level {
            Some(Level::Support) => Spot::Support,
            Some(Level::Core) => Spot::Core,
            Some(Level::Stretch) => Spot::Stretch,
            None if section.name == SectionName::ExitCheck => Spot::ExitCheck,
            None => Spot::Homework,
        };
        section.items.iter().for_each(|item| met.note(item, spot));
    }
}

/// The items of a lesson's warm-up alone, as [`compose_after`] has them; none where it has none.
///
/// # Errors
/// As [`compose`].
pub fn warm_up_after(occasion: &Occasion, met: &Met) -> Result<Vec<Item>, Fault> {
    let composing = composing(occasion, &Ours)?;
    if composing.lesson.kind == LessonKind::UnitTest || composing.follows_test {
        return Ok(Vec::new());
    }
    let mut bench = Bench::new(occasion.plan, occasion.version, &Ours, met);
    bench.shows(occasion.findings);
    let minutes = Minutes::of(composing.lesson.minutes).warm_up;
    let draft = teach::warm_up(&composing, &mut bench, minutes)?;
    Ok(draft.made.into_iter().map(|made| made.item).collect())
}

/// What composing a lesson needs to know.
fn composing<'a>(occasion: &'a Occasion<'a>, makers: &dyn Makers) -> Result<Composing<'a>, Fault> {
    let place = occasion.lessons.iter().position(|l| l.number == occasion.number);
    let Some(place) = place else {
        let what = format!("there is no lesson {}", occasion.number);
        return Err(Fault { item: String::new(), what });
    };
    let can_make = |skill: &Skill| makers.known(&skill.maker);
    let brought = memory::bring_back(occasion.plan, occasion.lessons, place, &can_make);
    let mut composing = Composing {
        occasion,
        lesson: &occasion.lessons[place],
        place,
        brought,
        follows_test: memory::follows_test(occasion.lessons, place),
    };
    after_marks(&mut composing);
    Ok(composing)
}

pub(super) fn compose_with(
    occasion: &Occasion,
    makers: &dyn Makers,
    met: &Met,
) -> Result<Pack, Fault> {
    let composing = composing(occasion, makers)?;
    let mut bench = Bench::new(occasion.plan, occasion.version, makers, met);
    bench.shows(occasion.findings);
    let first = match occasion.version {
        "B" => checks_of_the_first(&composing, &mut bench, makers, met)?,
        _ => Vec::new(),
    };
    let mut drafts = sections(&composing, &mut bench)?;
    if occasion.version == "B" {
        let others = drafts.iter().filter(|d| !is_check(d)).flat_map(|d| &d.made);
        let taken: OnPaper = others.map(|made| &made.item).collect();
        for (draft, first) in drafts.iter_mut().filter(|d| is_check(d)).zip(first) {
            let own = std::mem::take(&mut draft.made);
            let slips = draft.name == SectionName::ExitCheck;
            draft.made = twins(&bench, first, own, taken.clone(), slips)?;
        }
    }
    number_items(&mut drafts, &composing.code());
    exchange(&mut drafts, occasion.swaps, &mut bench)?;
    let pack = finish(&composing, drafts, bench.missing);
    check(&pack)?;
    Ok(pack)
}

fn is_check(draft: &Draft) -> bool {
    matches!(draft.name, SectionName::ExitCheck | SectionName::Test)
}

/// What version A's check or test asks; version B asks nobody any of it.
fn checks_of_the_first(
    composing: &Composing,
    bench: &mut Bench,
    makers: &dyn Makers,
    met: &Met,
) -> Result<Vec<Vec<Made>>, Fault> {
    let mut first = Bench::new(composing.occasion.plan, "A", makers, met);
    first.shows(composing.occasion.findings);
    let checks: Vec<Vec<Made>> = sections(composing, &mut first)?
        .into_iter()
        .filter(is_check)
        .map(|draft| draft.made)
        .collect();
    checks.iter().flatten().for_each(|made| bench.note_for_all(&made.item));
    Ok(checks)
}

/// For each item of version A one of the same sort that takes as long and brings out the same
/// mistakes; where there is none, one that version B had anyway. On slips stories are answered without
/// notes.
fn twins(
    bench: &Bench,
    first: Vec<Made>,
    own: Vec<Made>,
    mut taken: OnPaper,
    on_slips: bool,
) -> Result<Vec<Made>, Fault> {
    first.iter().for_each(|made| taken.note(&made.item));
    let mut spare = own.into_iter();
    let mut made: Vec<Made> = Vec::new();
    // What version A's items so far take: the next twin makes up for what is more or less.
    let mut before = 0;
    for (index, original) in first.into_iter().enumerate() {
        let whole = before + original.item.seconds;
        let wanted = whole.saturating_sub(made.iter().map(|m| m.item.seconds).sum());
        before = whole;
        let twin = match bench.twin(&original, (index, wanted, on_slips), &taken)? {
            Some(item) => Some(Made { item, want: original.want }),
            None => spare.find(|made| taken.allows(&made.item)),
        };
        twin.iter().for_each(|made| taken.note(&made.item));
        made.extend(twin);
    }
    Ok(made)
}

fn sections(composing: &Composing, bench: &mut Bench) -> Result<Vec<Draft>, Fault> {
    match composing.lesson.kind {
        LessonKind::Teach if !again::skills(composing).is_empty() => {
            consolidate::teach_again(composing, bench)
        }
        LessonKind::Teach => teach::sections(composing, bench),
        LessonKind::CatchUp if composing.follows_test => test::go_through(composing, bench),
        LessonKind::CatchUp => consolidate::catch_up(composing, bench),
        LessonKind::Revision => consolidate::revision(composing, bench),
        LessonKind::UnitTest => test::sections(composing, bench),
    }
}

/// The letter of a section in item ids; so many support sheets come before it.
fn letter(name: SectionName, level: Option<Level>, support: usize) -> char {
    match (name, level) {
        (SectionName::WarmUp, _) => 'W',
        (SectionName::Examples, _) => 'E',
        (SectionName::Guided, _) => 'G',
        (SectionName::Practice, level) => sheet_letter(level.unwrap_or(Level::Core), support),
        (SectionName::ExitCheck, _) => 'X',
        (SectionName::Homework, _) => 'H',
        (SectionName::Test, _) => 'T',
    }
}

fn number_items(drafts: &mut [Draft], code: &str) {
    let mut support = 0;
    for draft in drafts {
        let letter = letter(draft.name, draft.level, support);
        support += usize::from(draft.level == Some(Level::Support));
        for (index, made) in draft.made.iter_mut().enumerate() {
            made.item.id = format!("{code}-{letter}{}", index + 1);
        }
    }
}

/// Puts other items in the place of those the teacher did not want.
fn exchange(
    drafts: &mut [Draft],
    swaps: &IndexMap<String, u32>,
    bench: &mut Bench,
) -> Result<(), Fault> {
    for (id, &times) in swaps {
        let holds = |d: &Draft| d.made.iter().position(|m| m.item.id == *id);
        let place = drafts.iter().enumerate().find_map(|(at, d)| Some((at, holds(d)?)));
        let Some((at, index)) = place else { continue };
        let level = drafts[at].level;
        // A pupil has one level's sheet and all that is for everybody.
        let meets = |(n, d): &(usize, &Draft)| level.is_none() || d.level.is_none() || *n == at;
        let numbered = drafts.iter().enumerate();
        let theirs: Vec<&Made> = numbered.filter(meets).flat_map(|(_, d)| &d.made).collect();
        match bench.exchange(&drafts[at].made[index], id, times, &theirs)? {
            Some(other) => drafts[at].made[index].item = Item { id: id.clone(), ..other },
            None => bench.miss(format!("There was no other item for {id}.")),
        }
    }
    Ok(())
}

/// The items of a section as they stand on its sheet; worked examples of choices say which is right
/// and why.
fn items_of(name: SectionName, made: Vec<Made>, style: &HouseStyle) -> Vec<Item> {
    let shown = |item| if name == SectionName::Examples { examples::told(item) } else { item };
    let mut items: Vec<Item> =
        made.into_iter().map(|made| in_house_item(shown(made.item), style)).collect();
    sheet_rules::same_squares(&mut items, style);
    if matches!(name, SectionName::ExitCheck | SectionName::Homework) {
        sheet_rules::ring_once(&mut items);
    }
    items
}

fn finish(composing: &Composing, drafts: Vec<Draft>, missing: Vec<String>) -> Pack {
    let (occasion, lesson) = (composing.occasion, composing.lesson);
    let plan = occasion.plan;
    let sections: Vec<Section> = drafts
        .into_iter()
        .map(|draft| Section {
            name: draft.name,
            level: draft.level,
            minutes: draft.minutes,
            items: items_of(draft.name, draft.made, &plan.style),
        })
        .collect();
    let heading = Heading {
        class: plan.class.name.clone(),
        school: plan.class.school.clone(),
        pupils: plan.class.pupils,
        starts: lesson.starts,
        title: teacher::title(composing),
        style: plan.style.clone(),
        paper: plan.paper,
    };
    Pack {
        lesson: lesson.number,
        date: lesson.date,
        kind: lesson.kind,
        skill: lesson.skill.clone(),
        part: lesson.part.filter(|_| lesson.kind == LessonKind::Teach),
        minutes: lesson.minutes,
        version: occasion.version.to_owned(),
        draft: occasion.draft,
        teacher: teacher::page(composing, &sections),
        marks: test::mark_scheme(lesson.kind, &sections),
        instruction: test::instruction(lesson.kind, &sections),
        heading,
        sections,
        missing,
    }
}
