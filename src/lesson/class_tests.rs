//! The terms of the two classes of `plans/`, scheduled and composed with the makers of our ladder.

use super::bench::sameness;
use super::*;
use crate::calendar::lay_out;
use crate::curriculum::{frameworks, our_ladder};
use crate::exercise::{Item, Kind, makers, verify};
use crate::plan::{Beside, LessonKind, Plan, PlanFile};
use crate::report::{Report, Source};
use crate::schedule::{Lesson, Outcome, solve};
use indexmap::IndexMap;
use std::collections::BTreeMap;
use std::sync::Arc;

const KINGFISHER: &str = include_str!("../../plans/kingfisher/plan.toml");
const MARIGOLD: &str = include_str!("../../plans/marigold/plan.toml");

/// The class's plan, its lessons and all their packs; holidays of calendar files are left out.
fn term(text: &str) -> (Plan, Vec<Lesson>, Vec<Pack>) {
    let mut report = Report::new();
    let source = Source::shared("plan.toml", text);
    let file = PlanFile::read(&source, &mut report).expect("a plan file");
    let beside = Beside {
        ladder: our_ladder("multiplication").map(Arc::new),
        calendars: vec![Vec::new()],
        pupils: None,
        frameworks: frameworks(),
    };
    let plan = Plan::check(&file, &beside, &mut report);
    let plan = plan.unwrap_or_else(|| panic!("{}", report.to_text()));
    let calendar = lay_out(&plan.term, &plan.timetable, &plan.closings, &plan.openings, &[]);
    let Ok(Outcome::Fits(schedule)) = solve(&plan, &calendar) else { panic!("no schedule") };
    let compose = |lesson: &Lesson| {
        let occasion = Occasion {
            plan: &plan,
            lessons: &schedule.lessons,
            calendar: &calendar,
            number: lesson.number,
            version: "A",
            draft: true,
            findings: &Findings::default(),
            swaps: &IndexMap::new(),
        };
        compose(&occasion).unwrap_or_else(|f| panic!("lesson {}: {f}", lesson.number))
    };
    let packs = schedule.lessons.iter().map(compose).collect();
    (plan, schedule.lessons, packs)
}

fn seconds(section: &Section) -> u32 {
    section.items.iter().map(|i| i.seconds).sum()
}

/// Whether the lesson teaches a skill that has no maker yet: it lacks sections, and says so.
fn lacks(plan: &Plan, pack: &Pack) -> bool {
    let skill = pack.skill.as_ref().and_then(|id| plan.ladder.skills.get(id));
    skill.is_some_and(|skill| !makers::known(&skill.maker))
}

/// Whether the shorter factor has two digits or more, and the longer three.
fn is_long(item: &Item) -> bool {
    let Some((a, b)) = item.expression.as_deref().and_then(|e| e.split_once('*')) else {
        return false;
    };
    let (a, b) = (a.trim_end_matches('0'), b.trim_end_matches('0'));
    a.len().min(b.len()) >= 2 && a.len().max(b.len()) >= 3
}

/// What must hold of every pack of a term.
fn check(text: &str) {
    let (plan, lessons, packs) = term(text);
    let (mut written, mut again, mut long_again) = (0, 0, 0);
    let mut seen: BTreeMap<String, String> = BTreeMap::new();
    let (mut sheets, mut full) = (0, 0);
    for pack in &packs {
        let bar: u16 = pack.teacher.stretches.iter().map(|s| s.minutes).sum();
        assert_eq!(bar, pack.minutes, "lesson {}", pack.lesson);
        let checked = pack.named(SectionName::ExitCheck).next().is_some();
        assert_eq!(pack.teacher.go_on > 0, checked, "lesson {}", pack.lesson);
        let in_words = pack.teacher.errors_in.contains(char::is_alphabetic);
        assert!(!in_words, "lesson {}: {}", pack.lesson, pack.teacher.errors_in);
        let silent = lacks(&plan, pack) && pack.missing.is_empty();
        assert!(!silent, "lesson {} lacks something without a word", pack.lesson);
        for section in &pack.sections {
            let place = format!("lesson {}, {:?} {:?}", pack.lesson, section.name, section.level);
            let empty = section.items.is_empty();
            assert!(!empty || lacks(&plan, pack), "{place} is empty");
            let spent = seconds(section);
            assert!(spent <= u32::from(section.minutes) * 60, "{place}: {spent} s");
            assert!(section.items.iter().all(|i| verify(i).is_ok()), "{place}");
            if section.name == SectionName::Practice && !lacks(&plan, pack) {
                sheets += 1;
                let net = minutes::practice_seconds(section.minutes);
                full += u32::from(spent * 100 >= net * 80);
            }
        }
        if pack.kind == LessonKind::UnitTest {
            continue;
        }
        for item in pack.sections.iter().flat_map(|s| &s.items) {
            if item.kind == Kind::Written {
                written += 1;
                let known = seen.insert(sameness(item), item.id.clone()).is_some();
                again += u32::from(known);
                long_again += u32::from(known && is_long(item));
            }
        }
        let text = serde_json::to_string(pack).expect("a pack can be written");
        let back: Pack = serde_json::from_str(&text).expect("and read");
        assert!(&back == pack, "lesson {} changes in its file", pack.lesson);
    }
    assert_eq!(packs.len(), lessons.len());
    assert!(written > 400, "only {written} written products");
    // Three digits by two and more come again by rare chance only. The pairs of two digits by one,
    // and by two, are too few for all the returns of a term.
    assert!(long_again <= 2, "{long_again} long products come again");
    assert!(again * 5 <= written, "{again} of {written} written products come again");
    assert!(full * 10 >= sheets * 8, "only {full} of {sheets} sheets fill their minutes");
}

#[test]
fn the_kingfishers_term_is_sound() {
    check(KINGFISHER);
}

#[test]
fn the_marigolds_term_is_sound() {
    check(MARIGOLD);
}
