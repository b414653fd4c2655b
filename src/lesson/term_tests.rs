//! A whole term composed, and what must hold of every pack of it.

use super::bench::{Makers, sameness};
use super::compose::compose_with;
use super::fixture::{self, Plain};
use super::*;
use crate::exercise::Kind;
use crate::plan::{LessonKind, Plan};
use crate::schedule::Lesson;
use indexmap::IndexMap;
use std::collections::{BTreeMap, BTreeSet};

fn packs(plan: &Plan, lessons: &[Lesson], makers: &dyn Makers, findings: &Findings) -> Vec<Pack> {
    let calendar = fixture::calendar(plan);
    let compose = |lesson: &Lesson| {
        let occasion = Occasion {
            plan,
            lessons,
            calendar: &calendar,
            number: lesson.number,
            version: "A",
            draft: true,
            findings,
            swaps: &IndexMap::new(),
        };
        compose_with(&occasion, makers).unwrap_or_else(|f| panic!("lesson {}: {f}", lesson.number))
    };
    lessons.iter().map(compose).collect()
}

fn plain_term() -> (Plan, Vec<Lesson>, Vec<Pack>) {
    let plan = fixture::plan(40);
    let lessons = fixture::term(&plan, 40);
    let packs = packs(&plan, &lessons, &Plain { unknown: vec![] }, &Findings::default());
    (plan, lessons, packs)
}

fn names(pack: &Pack) -> Vec<(SectionName, Option<Level>)> {
    pack.sections.iter().map(|s| (s.name, s.level)).collect()
}

#[test]
fn every_lesson_holds_what_its_kind_must_hold() {
    use SectionName::*;
    let (_, _, packs) = plain_term();
    let sheets = [Level::Support, Level::Core, Level::Stretch].map(|l| (Practice, Some(l)));
    let with = |before: &[SectionName], after: &[SectionName]| {
        let one = |n: &SectionName| (*n, None);
        let names = before.iter().map(one).chain(sheets).chain(after.iter().map(one));
        names.collect::<Vec<_>>()
    };
    let mut after_test = false;
    for pack in &packs {
        let found = names(pack);
        let expected = match (pack.kind, pack.part) {
            (LessonKind::Teach, Some(1)) => with(&[WarmUp, Examples, Guided], &[ExitCheck]),
            (LessonKind::Teach, _) => with(&[WarmUp, Examples, Guided], &[ExitCheck, Homework]),
            (LessonKind::CatchUp, _) if after_test => with(&[Examples, Guided], &[]),
            (LessonKind::CatchUp, _) => with(&[WarmUp, Guided], &[ExitCheck]),
            (LessonKind::Revision, _) => with(&[WarmUp, Guided], &[ExitCheck, Homework]),
            (LessonKind::UnitTest, _) => vec![(Test, None)],
        };
        let optional = pack.kind == LessonKind::Teach && pack.part == Some(1);
        let without_homework: Vec<_> =
            found.iter().copied().filter(|n| n.0 != Homework || !optional).collect();
        assert_eq!(without_homework, expected, "lesson {}", pack.lesson);
        for section in &pack.sections {
            assert!(!section.items.is_empty(), "lesson {}: {:?}", pack.lesson, section.name);
        }
        assert_eq!(pack.missing, Vec::<String>::new(), "lesson {}", pack.lesson);
        after_test = pack.kind == LessonKind::UnitTest;
    }
}

#[test]
fn the_time_bar_fills_the_period_and_sections_keep_to_it() {
    let (_, _, packs) = plain_term();
    for pack in &packs {
        let bar: u16 = pack.teacher.stretches.iter().map(|s| s.minutes).sum();
        assert_eq!(bar, pack.minutes, "lesson {}", pack.lesson);
        for pair in pack.teacher.stretches.windows(2) {
            assert_eq!(pair[0].starts.plus(pair[0].minutes), pair[1].starts);
        }
        for section in &pack.sections {
            let seconds: u32 = section.items.iter().map(|i| i.seconds).sum();
            let room = u32::from(section.minutes) * 60;
            assert!(seconds <= room, "lesson {} {:?}: {seconds} s", pack.lesson, section.name);
        }
    }
}

/// The items' time fits the minutes of practice within 15 percent.
#[test]
fn practice_fills_its_minutes_on_every_level() {
    let (_, _, packs) = plain_term();
    for pack in &packs {
        for section in pack.named(SectionName::Practice) {
            let seconds: u32 = section.items.iter().map(|i| i.seconds).sum();
            let net = (u32::from(section.minutes) - 2) * 60;
            let within = seconds * 100 >= net * 80 && seconds <= net;
            assert!(within, "lesson {} {:?}: {seconds} of {net}", pack.lesson, section.level);
        }
    }
}

#[test]
fn ids_tell_lesson_section_and_place() {
    let (_, _, packs) = plain_term();
    let mut ids = BTreeSet::new();
    for pack in &packs {
        for section in &pack.sections {
            for (index, item) in section.items.iter().enumerate() {
                assert!(ids.insert(item.id.clone()), "{} twice", item.id);
                let start = format!("L{:02}-", pack.lesson);
                let end = (index + 1).to_string();
                assert!(item.id.starts_with(&start) && item.id.ends_with(&end), "{}", item.id);
            }
        }
    }
    assert!(ids.contains("L01-W1") && ids.contains("L03-X3"));
}

#[test]
fn no_written_product_comes_twice_in_the_term() {
    let (_, _, packs) = plain_term();
    let mut seen: BTreeMap<String, String> = BTreeMap::new();
    for pack in packs.iter().take_while(|p| p.kind != LessonKind::UnitTest) {
        for item in pack.sections.iter().flat_map(|s| &s.items) {
            if item.kind == Kind::Written {
                let before = seen.insert(sameness(item), item.id.clone());
                assert_eq!(before, None, "{} again in {}", item.prompt, item.id);
            }
        }
    }
}

#[test]
fn skills_come_back_when_they_are_due() {
    let (plan, lessons, packs) = plain_term();
    let test = lessons.iter().position(|l| l.kind == LessonKind::UnitTest).expect("a test");
    for skill in plan.ladder.skills.keys() {
        let taught = lessons.iter().rposition(|l| l.skill.as_ref() == Some(skill));
        let Some(taught) = taught else { continue };
        let met = |p: &Pack| p.sections.iter().flat_map(|s| &s.items).any(|i| i.skill == *skill);
        let again: Vec<usize> = (taught + 1..test).filter(|&at| met(&packs[at])).collect();
        assert!(again.len() >= 2, "{skill} comes back only {} times", again.len());
        assert!(again[0] <= taught + 2, "{skill} is first met again {} later", again[0] - taught);
        let gaps: Vec<usize> = again.windows(2).map(|w| w[1] - w[0]).collect();
        // One and a half times the gaps of 1, 2, 4, 8 and 15 lessons, and one lesson of grace
        // where several are due at once.
        for (gap, target) in gaps.iter().zip([2, 4, 8, 15, 15, 15, 15, 15]) {
            assert!(*gap <= target * 3 / 2 + 1, "{skill}: a gap of {gap} for {target}");
        }
    }
}

#[test]
fn later_parts_mix_in_older_skills() {
    let (_, _, packs) = plain_term();
    for pack in packs.iter().filter(|p| p.part.is_some_and(|part| part > 1)) {
        for section in pack.named(SectionName::Practice) {
            let older = section.items.iter().filter(|i| Some(&i.skill) != pack.skill.as_ref());
            assert!(3 * older.count() >= section.items.len(), "lesson {}", pack.lesson);
        }
    }
}

#[test]
fn revision_has_no_two_alike_in_a_row() {
    let (_, _, packs) = plain_term();
    for pack in packs.iter().filter(|p| p.kind == LessonKind::Revision) {
        for section in pack.named(SectionName::Practice) {
            let alike = section.items.windows(2).any(|w| w[0].skill == w[1].skill);
            assert!(!alike, "lesson {} {:?}", pack.lesson, section.level);
        }
        let check = pack.named(SectionName::ExitCheck).next().expect("an exit check");
        let skills: BTreeSet<&String> = check.items.iter().map(|i| &i.skill).collect();
        assert!(skills.len() >= 3);
    }
}

#[test]
fn the_test_has_every_skill_that_must_be_there_and_a_mark_scheme() {
    let (plan, lessons, packs) = plain_term();
    let pack = packs.iter().find(|p| p.kind == LessonKind::UnitTest).expect("a test");
    let items = &pack.sections[0].items;
    for skill in plan.ladder.skills.values().filter(|s| !s.optional) {
        let taught = lessons.iter().any(|l| l.skill.as_ref() == Some(&skill.id));
        assert_eq!(items.iter().any(|i| i.skill == skill.id), taught, "{}", skill.id);
    }
    let marked: Vec<&String> = pack.marks.iter().map(|m| &m.item).collect();
    assert_eq!(marked, items.iter().map(|i| &i.id).collect::<Vec<_>>());
    assert!(pack.marks.iter().all(|m| m.marks as usize == m.for_what.len() && m.marks > 0));
}

#[test]
fn a_pack_comes_back_from_its_file_as_it_was() {
    let (_, _, packs) = plain_term();
    for pack in &packs {
        let text = serde_json::to_string(pack).expect("a pack can be written");
        let back: Pack = serde_json::from_str(&text).expect("and read");
        assert_eq!(&back, pack);
    }
}

#[test]
fn the_same_occasion_gives_the_same_pack() {
    let (_, _, first) = plain_term();
    let (_, _, second) = plain_term();
    assert_eq!(first, second);
}

#[test]
fn a_skill_without_a_maker_leaves_the_rest_of_its_lesson() {
    let plan = fixture::plan(40);
    let lessons = fixture::term(&plan, 40);
    let makers = Plain { unknown: vec!["lattice", "short-two-by-one"] };
    let packs = packs(&plan, &lessons, &makers, &Findings::default());
    let of = |id: &str| packs.iter().find(|p| p.skill.as_deref() == Some(id)).expect("taught");
    for id in ["lattice", "short-two-by-one"] {
        let pack = of(id);
        assert_eq!(pack.missing.len(), 1, "{:?}", pack.missing);
        assert!(!pack.sections[0].items.is_empty(), "it still warms up");
        assert!(pack.named(SectionName::Examples).all(|s| s.items.is_empty()));
    }
    for pack in packs.iter().filter(|p| p.kind != LessonKind::Teach) {
        // A test that lacks two skills says so; other lessons simply use the skills there are.
        let lacks = if pack.kind == LessonKind::UnitTest { 2 } else { 0 };
        assert_eq!(pack.missing.len(), lacks, "lesson {}", pack.lesson);
    }
}
