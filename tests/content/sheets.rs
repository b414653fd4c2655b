//! What stands together on one sheet of paper, read as a child who looks for help reads it.

use crate::terms::{none_of, terms};
use rungwise::exercise::{Figure, Given, Item, Kind, Space, Working};
use rungwise::lesson::{Level, Pack, SectionName};
use std::collections::{BTreeMap, BTreeSet};

/// The sheets of a pack, each with all that is printed on it: the levels' sheets begin with the
/// warm-up.
pub fn sheets(pack: &Pack) -> Vec<(String, Vec<&Item>)> {
    let of = |name: SectionName, level: Option<Level>| {
        let fits = move |s: &&_| {
            let s: &&rungwise::lesson::Section = s;
            s.name == name && s.level == level
        };
        pack.sections.iter().filter(fits).flat_map(|s| &s.items)
    };
    let mut all = Vec::new();
    for (level, letter) in [(Level::Support, 'Q'), (Level::Core, 'K'), (Level::Stretch, 'V')] {
        let practice = of(SectionName::Practice, Some(level));
        let items: Vec<&Item> = of(SectionName::WarmUp, None).chain(practice).collect();
        all.push((format!("L{:02}-{letter}", pack.lesson), items));
    }
    for (name, letter) in
        [(SectionName::ExitCheck, 'X'), (SectionName::Homework, 'H'), (SectionName::Test, 'T')]
    {
        all.push((format!("L{:02}-{letter}", pack.lesson), of(name, None).collect()));
    }
    all
}

/// All numbers of a text, commas and narrow spaces inside them left out.
fn numbers(text: &str) -> Vec<u64> {
    let inside = |c: char| c.is_ascii_digit() || c == ',' || c == '\u{202F}';
    let runs = text
        .split(|c: char| !inside(c))
        .map(|run| run.chars().filter(char::is_ascii_digit).collect::<String>());
    runs.filter_map(|run| run.parse().ok()).collect()
}

/// What a child sees of an item.
fn printed(item: &Item) -> Vec<u64> {
    let mut seen = numbers(&item.prompt);
    seen.extend(item.choices.iter().flat_map(|c| numbers(&c.text)));
    match &item.figure {
        Some(Figure::Area { cells, .. }) => seen.extend(cells.iter().flatten().flatten()),
        Some(Figure::Worked { rows, value, .. }) => {
            seen.extend(rows.iter().map(|row| row.value).chain([*value]));
        }
        _ => {}
    }
    if let (Space::Squares { given: Given::Missing { .. }, .. }, Working::Long(long)) =
        (item.space, &item.working)
    {
        seen.extend([long.a, long.b, long.value]);
    }
    seen
}

/// The product an item is about as a × b = p, where it is about one: asked for, or with a gap.
fn about(item: &Item) -> Option<[u64; 3]> {
    let plain = |text: &str| text.trim().parse::<u64>().ok();
    if let Working::Long(long) = &item.working
        && item.kind == Kind::Missing
    {
        return Some([long.a.max(long.b), long.a.min(long.b), long.value]);
    }
    let expression = item.expression.as_deref()?;
    let (a, b) = if let Some((p, a)) = expression.split_once("//") {
        let (p, a) = (plain(p)?, plain(a)?);
        (a, p / a)
    } else {
        let (a, b) = expression.split_once('*')?;
        (plain(a)?, plain(b)?)
    };
    Some([a.max(b), a.min(b), a * b])
}

/// Whether a child finds the answer of the second item printed in the first one: the same product,
/// a product with its value, or a number too long to stand there by chance.
fn gives_away(tells: &Item, asks: &Item) -> bool {
    let Ok(answer) = asks.answer.parse::<u64>() else { return false };
    let asks_for_itself = asks.kind == Kind::Choice;
    if asks_for_itself {
        return false;
    }
    let seen = printed(tells);
    let long = answer.to_string().trim_end_matches('0').len() >= 3;
    if long && seen.contains(&answer) {
        return true;
    }
    let Some(triple) = about(asks) else { return false };
    let times = |all: &[u64], n: u64| all.iter().filter(|other| **other == n).count();
    let all_told =
        seen.contains(&answer) && triple.iter().all(|n| times(&seen, *n) >= times(&triple, *n));
    let equation = tells.prompt.contains('=') || tells.choices.iter().any(|c| c.text.contains('='));
    about(tells) == Some(triple) || (equation && all_told)
}

#[test]
fn no_item_tells_what_another_on_its_sheet_asks_for() {
    let mut found = Vec::new();
    let mut seen = 0;
    for pack in terms().iter().flat_map(|t| &t.packs) {
        for (sheet, items) in sheets(pack) {
            for (at, tells) in items.iter().enumerate() {
                for (other, asks) in items.iter().enumerate() {
                    seen += 1;
                    if at != other && gives_away(tells, asks) {
                        found.push(format!(
                            "{sheet}: {} “{}” tells {} “{}” = {}",
                            tells.id, tells.prompt, asks.id, asks.prompt, asks.answer
                        ));
                    }
                }
            }
        }
    }
    none_of(&found);
    assert!(seen > 50_000, "{seen}");
}

#[test]
fn no_two_sums_of_a_slip_have_the_same_answer() {
    let mut found = Vec::new();
    for pack in terms().iter().flat_map(|t| &t.packs) {
        let slip = pack.named(SectionName::ExitCheck).flat_map(|s| &s.items);
        let mut answers = BTreeSet::new();
        for item in slip.filter(|i| i.kind != Kind::Choice && i.answer.len() > 1) {
            if !answers.insert(&item.answer) {
                found.push(format!("{} {} = {}", item.id, item.prompt, item.answer));
            }
        }
    }
    none_of(&found);
}

#[test]
fn all_stories_of_a_sheet_stand_on_the_same_squares() {
    let mut seen = 0;
    for pack in terms().iter().flat_map(|t| &t.packs) {
        for (sheet, items) in sheets(pack) {
            let squares = |i: &&&Item| matches!(i.space, Space::Story { .. });
            let sizes: Vec<Space> = items.iter().filter(squares).map(|i| i.space).collect();
            assert!(sizes.windows(2).all(|pair| pair[0] == pair[1]), "{sheet}: {sizes:?}");
            seen += sizes.len();
        }
    }
    assert!(seen > 100, "{seen}");
}

/// What an item asks to be done: its kind, and for stories and bare sums whether they multiply.
fn does(item: &Item) -> (Kind, bool) {
    let multiplies = item.expression.as_deref().is_some_and(|e| e.contains('*'));
    (item.kind, multiplies)
}

/// Of what practice asks most in the lesson's own skill a worked example shows one.
#[test]
fn a_worked_example_shows_what_practice_asks_most() {
    let mut found = Vec::new();
    let mut seen = 0;
    for pack in terms().iter().flat_map(|t| &t.packs) {
        let Some(skill) = pack.skill.as_deref() else { continue };
        let own = |i: &&Item| i.skill == skill;
        let shown: Vec<(Kind, bool)> = pack
            .named(SectionName::Examples)
            .flat_map(|s| &s.items)
            .filter(own)
            .map(does)
            .collect();
        let practice =
            pack.named(SectionName::Practice).filter(|s| s.level != Some(Level::Stretch));
        let asked: Vec<(Kind, bool)> =
            practice.flat_map(|s| &s.items).filter(own).map(does).collect();
        let times = |what: &(Kind, bool)| asked.iter().filter(|other| *other == what).count();
        if let Some(most) = asked.iter().max_by_key(|what| times(what)) {
            seen += 1;
            if !shown.contains(most) {
                found.push(format!("L{:02} {skill}: {most:?}, shown {shown:?}", pack.lesson));
            }
        }
    }
    none_of(&found);
    assert!(seen > 80, "{seen}");
}

/// Bare sums of one skill stand on a sheet in rising order by the time they take; the teacher's own
/// come first whatever they take.
#[test]
fn the_bare_sums_of_a_skill_rise_by_their_time() {
    let (mut runs, mut falling) = (0, Vec::new());
    let sheets = terms().iter().flat_map(|t| &t.packs).flat_map(|pack| {
        pack.named(SectionName::Practice).map(move |section| (pack.lesson, section))
    });
    for (lesson, sheet) in sheets {
        let mut sums: BTreeMap<(&str, bool), Vec<u32>> = BTreeMap::new();
        for item in &sheet.items {
            let bare = match (item.kind, item.space) {
                (Kind::Written, Space::Squares { given: Given::Nothing, compare: false, .. }) => {
                    true
                }
                (Kind::Mental, Space::Box) => !item.sign().is_empty() && !item.is_begun(),
                _ => false,
            };
            if bare {
                let written = item.kind == Kind::Written;
                sums.entry((item.skill.as_str(), written)).or_default().push(item.seconds);
            }
        }
        for ((skill, _), seconds) in sums.into_iter().filter(|(_, s)| s.len() > 1) {
            runs += 1;
            if !seconds.is_sorted() {
                falling.push(format!("L{lesson:02} {:?} {skill}: {seconds:?}", sheet.level));
            }
        }
    }
    assert!(falling.is_empty(), "{falling:#?}");
    assert!(runs > 300, "{runs}");
}

/// The class does not wait for the clock in a catch-up either: one skill alone gives several sums.
#[test]
fn a_guided_part_of_a_catch_up_has_three_items_or_fills_half_its_time() {
    let mut found = Vec::new();
    let mut parts = 0;
    let all = terms().iter().flat_map(|t| &t.packs);
    for pack in all.filter(|pack| pack.skill.is_none()) {
        for section in pack.named(SectionName::Guided) {
            parts += 1;
            let (items, minutes) = (&section.items, u32::from(section.minutes));
            let seconds: u32 = items.iter().map(|item| item.seconds).sum();
            if items.len() < 3 && seconds < minutes * 30 {
                found.push(format!("lesson {}: {} items", pack.lesson, items.len()));
            }
        }
    }
    none_of(&found);
    assert!(parts > 15, "{parts}");
}
