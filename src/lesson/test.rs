//! The unit test, its mark scheme, and the lesson that goes through it.

use super::bench::{Bench, LESSON, Made, Want, seconds};
use super::blueprint::share_out;
use super::compose::{Composing, Draft};
use super::minutes::Minutes;
use super::practice::{self, Source};
use super::teach::{draft, is_long};
use super::{Fault, ItemMarks, Section, SectionName, again};
use crate::exercise::makers::Spot;
use crate::exercise::{Item, Kind, Profile, Space, Working};
use crate::plan::LessonKind;
use crate::words;

/// Minutes for handing the papers out, and again for collecting them (common practice, no source).
pub const HAND_OUT: u16 = 2;
/// Percent of the minutes that the items fill at the typical pace; the rest is for those who are
/// slower, and for looking over (common practice, no source).
const FULL: u32 = 75;
/// The most items of a test, and of one skill.
const MOST: u32 = 40;
const OF_ONE: usize = 4;

/// One paper for all: items in proportion to the minutes each skill was taught, at least one for
/// each skill that is not optional.
pub fn sections(composing: &Composing, bench: &mut Bench) -> Result<Vec<Draft>, Fault> {
    let minutes = composing.lesson.minutes.saturating_sub(2 * HAND_OUT).max(1);
    let made = paper(composing, bench, u32::from(minutes) * 60 * FULL / 100)?;
    Ok(vec![draft(SectionName::Test, minutes, made)])
}

/// A skill of the test.
struct Tested {
    minutes: u32,
    must: bool,
    items: Vec<Made>,
}

fn paper(composing: &Composing, bench: &mut Bench, total: u32) -> Result<Vec<Made>, Fault> {
    let mut tested = Vec::new();
    for skill in composing.occasion.plan.ladder.skills.values() {
        let before = &composing.occasion.lessons[..composing.place];
        let lessons = before.iter().filter(|l| l.skill.as_ref() == Some(&skill.id));
        let minutes: u32 = lessons.map(|l| u32::from(l.minutes)).sum();
        if minutes == 0 {
            continue;
        }
        let items = bench.make(&Want {
            skill: skill.id.clone(),
            part: composing.parts_before(&skill.id),
            spot: Spot::Test,
            occasion: LESSON.to_owned(),
            profile: Profile::Typical,
            seconds: total / 2,
            least: 1,
            most: OF_ONE,
        })?;
        if !items.is_empty() {
            tested.push(Tested { minutes, must: !skill.optional, items });
        }
    }
    Ok(fill(tested, total))
}

/// As many items as the time holds: the largest number whose shares fit, but never fewer than one
/// of each skill that must be there.
fn fill(tested: Vec<Tested>, total: u32) -> Vec<Made> {
    let minutes: Vec<u32> = tested.iter().map(|t| t.minutes).collect();
    let must: Vec<bool> = tested.iter().map(|t| t.must).collect();
    let needed = u32::try_from(must.iter().filter(|&&m| m).count()).unwrap_or(0).max(1);
    let taken = |items: u32| -> Vec<usize> {
        let shares = share_out(items, &minutes, &must);
        let most = |(share, t): (u32, &Tested)| (share as usize).min(t.items.len());
        shares.into_iter().zip(&tested).map(most).collect()
    };
    let time = |counts: &[usize]| -> u32 {
        counts.iter().zip(&tested).map(|(&n, t)| seconds(&t.items[..n])).sum()
    };
    let fits = (needed..=MOST).rev().map(taken).find(|counts| time(counts) <= total);
    let counts = fits.unwrap_or_else(|| taken(needed));
    tested.into_iter().zip(counts).flat_map(|(t, n)| t.items.into_iter().take(n)).collect()
}

/// What the teacher's page says of the time.
pub fn time_note(sections: &[Section]) -> String {
    let Some(test) = sections.iter().find(|s| s.name == SectionName::Test) else {
        return String::new();
    };
    let expected = test.items.iter().map(|i| i.seconds).sum::<u32>().div_ceil(60);
    let expected = words::count(usize::try_from(expected).unwrap_or(0), "minute");
    format!(
        "The items take about {expected} at the usual pace; {HAND_OUT} minutes go on handing out, and as many on collecting."
    )
}

/// What each item of a test is worth.
pub fn mark_scheme(kind: LessonKind, sections: &[Section]) -> Vec<ItemMarks> {
    if kind != LessonKind::UnitTest {
        return Vec::new();
    }
    let items = sections.iter().filter(|s| s.name == SectionName::Test).flat_map(|s| &s.items);
    items.map(marks_of).collect()
}

/// Whether an item has room for a reason.
fn asks_why(item: &Item) -> bool {
    let lines = matches!(item.space, Space::Lines { .. });
    matches!(item.space, Space::Options { because: true }) || (item.kind == Kind::Reason && lines)
}

/// What a pupil shows where: which items need the answer only, and which the way to it too.
pub fn instruction(kind: LessonKind, sections: &[Section]) -> String {
    let test = sections.iter().find(|s| s.name == SectionName::Test);
    let Some(test) = test.filter(|_| kind == LessonKind::UnitTest) else { return String::new() };
    let short = |item: &&Item| !is_long(&item.space) && !asks_why(item);
    let numbered = || test.items.iter().zip(1_usize..);
    let short: Vec<usize> = numbered().filter(|(i, _)| short(i)).map(|(_, n)| n).collect();
    let worked = numbered().any(|(i, _)| is_long(&i.space));
    let mut said = vec!["Work on your own.".to_owned()];
    if !short.is_empty() && short.len() < test.items.len() {
        said.push(format!("{}: only the answer.", runs(&short)));
    }
    if worked {
        said.push("Where there are squares, show your working.".to_owned());
    }
    if test.items.iter().any(|i| i.kind == Kind::Choice) {
        said.push("Where there are letters, put a ring round the right one.".to_owned());
    }
    if test.items.iter().any(asks_why) {
        said.push("Where there are lines, give your reason.".to_owned());
    }
    said.join(" ")
}

/// "1, 3 to 5 and 9".
fn runs(numbers: &[usize]) -> String {
    let mut runs: Vec<(usize, usize)> = Vec::new();
    for &n in numbers {
        match runs.last_mut() {
            Some(run) if run.1 + 1 == n => run.1 = n,
            _ => runs.push((n, n)),
        }
    }
    let mut texts: Vec<String> = Vec::new();
    for (first, last) in runs {
        match last - first {
            0 => texts.push(first.to_string()),
            1 => texts.extend([first.to_string(), last.to_string()]),
            _ => texts.push(format!("{first} to {last}")),
        }
    }
    words::join(&texts, "and")
}

fn marks_of(item: &Item) -> ItemMarks {
    let for_what = match (&item.kind, &item.working) {
        (Kind::Written, Working::Long(long)) if long.rows.len() > 1 => {
            let row = |digit: u8, place: u64| format!("row ×\u{a0}{}", u64::from(digit) * place);
            let rows = long.rows.iter().filter(|r| r.digit != 0);
            rows.map(|r| row(r.digit, r.place)).chain(["answer".to_owned()]).collect()
        }
        (Kind::Written, Working::Grid(_) | Working::Lattice(_)) => {
            vec!["all cells".to_owned(), "answer".to_owned()]
        }
        (Kind::Story, Working::Story { story, .. }) => {
            let steps = story.steps.len().max(1);
            let step = |n: usize| match steps {
                1 => "the right sum".to_owned(),
                _ => format!("step {n}"),
            };
            (1..=steps).map(step).chain(["answer with its unit".to_owned()]).collect()
        }
        _ if asks_why(item) => vec!["answer".to_owned(), "a reason that holds".to_owned()],
        _ => vec!["answer".to_owned()],
    };
    let marks = u32::try_from(for_what.len()).unwrap_or(1);
    ItemMarks { item: item.id.clone(), marks, for_what }
}

/// The first lesson after the test: the items most missed as examples, or without marks those
/// with most ways to go wrong; then the same skills with other numbers, each group's mistake on a
/// support sheet of its own.
pub fn go_through(composing: &Composing, bench: &mut Bench) -> Result<Vec<Draft>, Fault> {
    let minutes = Minutes::of(composing.lesson.minutes);
    let with_class = minutes.warm_up + minutes.together;
    let examples = with_class * 5 / 8;
    let shown = usize::from(examples / 4).clamp(1, 4);
    let missed = missed(composing, bench, shown)?;
    for made in &missed {
        bench.note(&made.item, Spot::Example);
    }
    let sources = sources(composing, &missed);
    let guided = with_class - examples;
    let mut tries = Vec::new();
    for source in sources.iter().take(usize::from(guided / 3).clamp(1, 3)) {
        tries.extend(bench.make(&Want {
            skill: source.skill.clone(),
            part: source.part,
            spot: Spot::Guided,
            occasion: source.occasion.clone(),
            profile: Profile::Typical,
            seconds: u32::from(guided) * 60,
            least: 1,
            most: 1,
        })?);
    }
    let rest = minutes.practice + minutes.exit_check;
    let groups = again::sheets(composing, bench, &sources)?;
    let sheets = practice::mixed(bench, rest, &sources, shown.min(3), None, &groups)?;
    let mut drafts = vec![
        draft(SectionName::Examples, examples, missed),
        draft(SectionName::Guided, guided, tries),
    ];
    drafts.extend(sheets);
    Ok(drafts)
}

/// The items to go through, of different skills.
fn missed(composing: &Composing, bench: &mut Bench, most: usize) -> Result<Vec<Made>, Fault> {
    let findings = composing.occasion.findings;
    let mut items: Vec<Made> = Vec::new();
    if findings.missed.is_empty() {
        let test = Composing {
            occasion: composing.occasion,
            lesson: &composing.occasion.lessons[composing.place - 1],
            place: composing.place - 1,
            brought: super::memory::Brought::default(),
            follows_test: false,
        };
        let said = bench.missing.len();
        items = sections(&test, bench)?.into_iter().flat_map(|d| d.made).collect();
        // What the test lacked was said on the test's own page.
        bench.missing.truncate(said);
        items.sort_by_key(|m| std::cmp::Reverse((m.item.likely.len(), m.item.seconds)));
    } else {
        items.extend(findings.missed.iter().map(|missed| as_example(&missed.item)));
    }
    let mut chosen: Vec<Made> = Vec::new();
    for made in items {
        if chosen.len() < most && chosen.iter().all(|c| c.item.skill != made.item.skill) {
            chosen.push(made);
        }
    }
    Ok(chosen)
}

fn as_example(item: &Item) -> Made {
    let want = Want {
        skill: item.skill.clone(),
        part: 1,
        spot: Spot::Example,
        occasion: LESSON.to_owned(),
        profile: Profile::Learning,
        seconds: item.seconds,
        least: 1,
        most: 1,
    };
    Made { item: item.clone(), want }
}

/// The skills of the missed items, then those longest without practice.
fn sources(composing: &Composing, missed: &[Made]) -> Vec<Source> {
    let occasion = format!("C{}", composing.ordinal());
    let mut skills: Vec<String> = missed.iter().map(|m| m.item.skill.clone()).collect();
    skills.extend(composing.brought.oldest.iter().cloned());
    let mut sources: Vec<Source> = Vec::new();
    for skill in skills {
        if sources.len() < 6 && sources.iter().all(|s| s.skill != skill) {
            let part = composing.parts_before(&skill);
            sources.push(Source { skill, part, occasion: occasion.clone(), fresh: false });
        }
    }
    sources
}
