//! What becomes of the groups of a class that goes on.

use super::class_tests::{
    KINGFISHER, MARIGOLD, after_findings, brings_back, found, made_after, scheduled,
};
use super::{
    Back, Findings, Level, Met, Occasion, Pack, PatternFinding, SectionName, SkillFinding, Tested,
    back, compose_after, meaning, note_met, warm_up_after,
};
use crate::calendar::Calendar;
use crate::exercise::patterns::{Family, Task};
use crate::exercise::{Item, Kind};
use crate::plan::{LessonKind, Plan};
use crate::schedule::Lesson;
use indexmap::{IndexMap, IndexSet};

const SKILL: &str = "long-two-by-two";
const PATTERNS: [&str; 2] = ["placeholder-left-out", "carry-not-added"];

/// 25 of 31 have all right; three show the one pattern and three the other.
fn goes_on(lesson: u32) -> Findings {
    let mut findings = found(SKILL, lesson, PATTERNS);
    let finding = &mut findings.skills[SKILL];
    finding.right = 25;
    for (pattern, (number, pupils)) in finding.patterns.iter_mut().zip([(1, 3), (2, 3)]) {
        pattern.group = number;
        pattern.pupils.truncate(pupils);
    }
    findings
}

#[test]
fn the_next_warm_up_has_an_item_for_each_group_though_the_class_goes_on() {
    let (pack, found) = after_findings(SKILL, goes_on, |_| true);
    assert!(!found.skills[SKILL].needs_work());
    let warm_up = pack.named(SectionName::WarmUp).next().expect("a warm-up");
    let prompts: Vec<&str> = warm_up.items.iter().map(|i| i.prompt.as_str()).collect();
    let said = pack.teacher.say.join(" ");
    for (name, group) in PATTERNS.into_iter().zip(["3 pupils, group 1", "3 pupils, group 2"]) {
        assert!(warm_up.items.iter().any(|item| brings_back(item, name)), "{name}: {prompts:?}");
        assert!(said.contains(group), "{said}");
    }
    let own = warm_up.items.iter().filter(|item| item.skill == SKILL).count();
    assert!(own <= 2 && warm_up.items.len() > 2, "a small share: {prompts:?}");
    let only_perhaps = |lesson| {
        let mut findings = goes_on(lesson);
        findings.skills[SKILL].patterns.iter_mut().for_each(|p| p.perhaps = true);
        findings
    };
    let (pack, _) = after_findings(SKILL, only_perhaps, |_| true);
    assert!(!pack.teacher.say.join(" ").contains("brings back"), "nothing is named");
}

/// A lesson that was added for the groups of a class that goes on has a sheet for each of them.
#[test]
fn a_lesson_added_after_a_check_that_went_well_has_sheets_for_the_groups() {
    let (plan, calendar, lessons) = scheduled(KINGFISHER);
    let mut parts = lessons.iter().rev().filter(|l| l.skill.as_deref() == Some(SKILL));
    let number = parts.next().expect("a part").number;
    let before = parts.next().expect("a part").number;
    let made = |findings: &Findings| made_after((&plan, &calendar, &lessons), number, findings);
    let findings = Findings { again: [number].into(), ..goes_on(before) };
    let pack = made(&findings);
    let sheets: Vec<(&str, Option<&str>, u32)> = (pack.teacher.sheets.iter())
        .map(|s| (s.sheet.as_str(), s.pattern.as_deref(), s.copies))
        .collect();
    assert_eq!(
        sheets[..2],
        [("Q", Some(PATTERNS[0]), 3), ("R", Some(PATTERNS[1]), 3)],
        "{sheets:?}"
    );
    let examples = pack.named(SectionName::Examples).flat_map(|s| &s.items);
    assert!(examples.into_iter().any(|item| brings_back(item, PATTERNS[0])));
    let ordinary = made(&goes_on(before));
    assert!(ordinary.teacher.sheets.is_empty(), "only what was added is taught by group");
}

/// Several alike on the check come back in a sum that tells which it is, and the teacher reads which
/// answer is whose.
#[test]
fn one_of_several_mistakes_comes_back_in_a_sum_that_tells_them_apart() {
    let skill = "fives-and-twenty-fives";
    let names = ["both-doubled", "not-halved-or-quartered"];
    let findings = |lesson: u32| {
        let mut findings = found(skill, lesson, names);
        let finding = &mut findings.skills[skill];
        finding.patterns.truncate(1);
        finding.patterns[0].one_of = names.map(str::to_owned).to_vec();
        findings
    };
    let (pack, _) = after_findings(skill, findings, |_| true);
    let warm_up = pack.named(SectionName::WarmUp).next().expect("a warm-up");
    let telling = warm_up.items.iter().filter(|item| back(item, &names) > Back::Alike).count();
    assert!(telling >= 2, "{:?}", warm_up.items.iter().map(|i| &i.prompt).collect::<Vec<_>>());
    let said = &pack.teacher.say[0];
    for part in ["brings back one of these: ", "; or ", "tells which it is", "12 pupils, group 1"] {
        assert!(said.contains(part), "{part}: {said}");
    }
}

/// A group with two mistakes at once: both come back in the warm-up, the sheet's sums show both and
/// none is begun, and the teacher reads of both and how to teach each.
#[test]
fn a_group_with_two_mistakes_is_taught_both() {
    let skill = "long-two-by-two";
    let findings = |lesson: u32| {
        let mut findings = found(skill, lesson, PATTERNS);
        let patterns = &mut findings.skills[skill].patterns;
        patterns.truncate(1);
        patterns[0].also = Some(PATTERNS[1].to_owned());
        findings
    };
    let shows = |name: &str| meaning(name).expect("words").beside_another().shows;
    let both = format!("{}, and beside it {}", shows(PATTERNS[0]), shows(PATTERNS[1]));
    let (next, _) = after_findings(skill, findings, |_| true);
    let said = &next.teacher.say[0];
    assert!(said.contains(&format!("The warm-up brings back: {both} (12 pupils")), "{said}");
    let (pack, _) = after_findings(skill, findings, |l| l.kind == LessonKind::CatchUp);
    let told = pack.teacher.sheets[0].sentence();
    assert!(told.contains(&both) && told.matches("Model: ").count() == 2, "{told}");
    let (_, _, sheet) = pack.practice_sheets().next().expect("a support sheet");
    let written = || sheet.items.iter().filter(|item| item.kind == Kind::Written);
    let all = |item: &Item| PATTERNS.iter().all(|name| brings_back(item, name));
    let prompts: Vec<&str> = written().map(|item| item.prompt.as_str()).collect();
    assert!(written().filter(|item| all(item)).count() >= 4, "{prompts:?}");
    assert!(written().all(|item| item.skill != skill || !item.is_begun()), "{prompts:?}");
}

/// Begun sums have the zeros of their rows printed: who leaves those out gets none in a catch-up.
#[test]
fn who_leaves_out_the_zeros_of_rows_gets_no_begun_sums() {
    let skill = "long-two-by-two";
    let begun = |name: &str| {
        let findings = |lesson: u32| {
            let mut findings = found(skill, lesson, [name, PATTERNS[1]]);
            findings.skills[skill].patterns.truncate(1);
            findings
        };
        let (pack, _) = after_findings(skill, findings, |l| l.kind == LessonKind::CatchUp);
        let (_, _, sheet) = pack.practice_sheets().next().expect("a support sheet");
        let own = sheet.items.iter().filter(|i| i.skill == skill && i.kind == Kind::Written);
        let own: Vec<&Item> = own.collect();
        assert!(own.len() >= 4, "{name}: {} sums", own.len());
        own.iter().filter(|item| item.is_begun()).count()
    };
    assert_eq!(begun("placeholder-left-out"), 0);
    assert!(begun("carry-not-added") > 0);
}

/// The lesson that goes through the unit test has a support sheet for each of its groups, whatever
/// was missed, and says who gets which.
#[test]
fn the_lesson_after_the_test_has_a_sheet_for_each_group_of_the_test() {
    let (plan, calendar, lessons) = scheduled(KINGFISHER);
    let test = lessons.iter().find(|l| l.kind == LessonKind::UnitTest).expect("a test").number;
    let group = |number: u32, name: &str, pupils: &[u32]| PatternFinding {
        name: name.to_owned(),
        pupils: pupils.iter().map(u32::to_string).collect(),
        group: number,
        ..PatternFinding::default()
    };
    let labels = |all: std::ops::RangeInclusive<u32>| all.map(|n| n.to_string()).collect();
    let own = |skill: &str, finding| (skill.to_owned(), finding);
    let tested = Tested {
        groups: vec![
            own("long-three-by-two", group(1, PATTERNS[0], &[1, 2, 3, 4])),
            own("short-two-by-one", group(2, PATTERNS[1], &[5, 6, 7])),
        ],
        passed: labels(7..=20),
        others: labels(21..=26),
    };
    let made = |findings: &Findings| made_after((&plan, &calendar, &lessons), test + 1, findings);
    let pack = made(&Findings { tested, ..Findings::default() });
    let sheets: Vec<(&str, usize, u32)> = (pack.teacher.sheets.iter())
        .map(|s| (s.sheet.as_str(), s.pupils.len(), s.copies))
        .collect();
    // Whoever stands in a group and has passed all the same is in the group; six were away.
    assert_eq!(sheets, [("Q", 4, 4), ("R", 3, 3), ("K", 12, 12), ("V", 0, 13)]);
    let support = pack.practice_sheets().filter(|(_, level, _)| *level == Level::Support);
    for ((letter, _, section), name) in support.zip(PATTERNS) {
        let shows = section.items.iter().filter(|i| brings_back(i, name)).count();
        assert!(shows >= 4, "{letter}: {shows} of {}", section.items.len());
    }
    let copies: Vec<u32> = pack.teacher.copies.iter().map(|c| c.count).take(4).collect();
    assert_eq!(copies, [4, 3, 12, 13]);
    assert!(pack.teacher.sheets[3].shows.starts_with("four fifths of the test"));
    let plain = made(&Findings::default());
    assert!(plain.teacher.sheets.is_empty() && plain.practice_sheets().count() == 3);
}

/// What a class may show in the check of a pack: by skill, the mistakes with an answer of their own.
fn mistakes(pack: &Pack) -> IndexSet<(String, String)> {
    let of = |item: &Item| -> Vec<String> {
        let task = Task::of(item);
        let of_task = task.iter().flat_map(Task::predictions).filter(|p| {
            p.answers.iter().any(|(_, turned)| !turned) && p.pattern.family != Family::SingleFact
        });
        let listed = item.likely.iter().flat_map(|l| l.patterns.iter().cloned());
        of_task.map(|p| p.pattern.name.to_owned()).chain(listed).collect()
    };
    let check = pack.named(SectionName::ExitCheck).flat_map(|s| &s.items);
    check.flat_map(|item| of(item).into_iter().map(|name| (item.skill.clone(), name))).collect()
}

/// A class's plan, calendar and lessons, and what was exchanged.
type Term = ((Plan, Calendar, Vec<Lesson>), IndexMap<String, u32>);

fn occasion<'a>(term: &'a Term, number: u32, findings: &'a Findings) -> Occasion<'a> {
    let ((plan, calendar, lessons), swaps) = term;
    let (version, draft) = ("A", true);
    Occasion { plan, lessons, calendar, number, version, draft, findings, swaps }
}

/// Over both terms: after each lesson, for each mistake its check can show, whether the next warm-up
/// brings it back for a group of a class that goes on. The figures of `DEVELOPERS.md`.
#[test]
#[ignore = "the figures of DEVELOPERS.md; some thousand warm-ups"]
fn how_many_mistakes_come_back_in_the_next_warm_up() {
    for text in [KINGFISHER, MARIGOLD] {
        let term = (scheduled(text), IndexMap::new());
        let (plan, _, lessons) = &term.0;
        let mut met = Met::default();
        let mut counts = [0, 0];
        let mut lacking: IndexMap<String, IndexSet<String>> = IndexMap::new();
        for (place, lesson) in lessons.iter().enumerate() {
            let none = Findings::default();
            let pack = compose_after(&occasion(&term, lesson.number, &none), &met).expect("a pack");
            note_met(&mut met, &pack);
            let Some(next) = lessons.get(place + 1) else { continue };
            for (skill, name) in mistakes(&pack) {
                let finding = PatternFinding {
                    name: name.clone(),
                    pupils: (1..=4).map(|n| n.to_string()).collect(),
                    group: 1,
                    ..PatternFinding::default()
                };
                let finding = SkillFinding {
                    answered: 30,
                    right: 26,
                    checked_in: Some(lesson.number),
                    patterns: vec![finding],
                    ..SkillFinding::default()
                };
                let skills = [(skill.clone(), finding)].into_iter().collect();
                let findings = Findings { skills, ..Findings::default() };
                let items = warm_up_after(&occasion(&term, next.number, &findings), &met);
                let items = items.expect("a warm-up");
                if items.is_empty() {
                    continue;
                }
                let there = items.iter().any(|item| back(item, &[&name]) > Back::No);
                counts[usize::from(there)] += 1;
                if !there {
                    lacking.entry(skill).or_default().insert(name);
                }
            }
        }
        println!(
            "{}: {} come back, {} do not: {lacking:#?}",
            plan.class.name, counts[1], counts[0]
        );
    }
}

/// What is shown and tried in the first catch-up after two skills of which so many of 31 had all right.
fn mixed(skills: [&str; 2], right: [u32; 2]) -> [Vec<String>; 2] {
    let findings = |lesson| {
        let mut all = found(skills[0], lesson, PATTERNS);
        let names = ["carry-not-added", "carry-and-digit-swapped"];
        all.skills.extend(found(skills[1], lesson, names).skills);
        for (finding, right) in all.skills.values_mut().zip(right) {
            finding.right = right;
        }
        all
    };
    let (pack, _) = after_findings(skills[0], findings, |l| l.kind == LessonKind::CatchUp);
    [SectionName::Examples, SectionName::Guided].map(|name| -> Vec<String> {
        pack.named(name).flat_map(|s| &s.items).map(|item| item.skill.clone()).collect()
    })
}

/// Two skills need work: the one that most need is shown first, and shown alone where fewer than half
/// as many need the other; both are tried together.
#[test]
fn examples_and_guided_sums_of_a_mixed_catch_up_go_by_how_many_need_each() {
    let skills = [SKILL, "short-three-by-one"];
    let [long, short] = skills.map(str::to_owned);
    let one_each = [long.clone(), short.clone()];
    let [shown, tried] = mixed(skills, [11, 24]);
    assert_eq!((&shown[..], &tried[..]), (&[long.clone(), long.clone()][..], &one_each[..]));
    let [shown, tried] = mixed(skills, [24, 11]);
    let turned = [short.clone(), long.clone()];
    assert_eq!((&shown[..], &tried[..]), (&[short.clone(), short][..], &turned[..]));
    let [shown, tried] = mixed(skills, [14, 16]);
    assert_eq!((&shown[..], &tried[..]), (&one_each[..], &one_each[..]));
    let quick = ["rounding-and-adjusting", "splitting"];
    let [shown, tried] = mixed(quick, [11, 24]);
    assert_eq!(
        (&shown[..], &tried[..]),
        (&[quick[0]; 2].map(str::to_owned)[..], &quick.map(str::to_owned)[..])
    );
}
