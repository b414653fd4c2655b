//! What becomes of the groups of a class that goes on.

use super::class_tests::{KINGFISHER, after_findings, brings_back, found, made_after, scheduled};
use super::{Findings, SectionName};

const SKILL: &str = "long-two-by-two";
const PATTERNS: [&str; 2] = ["placeholder-left-out", "carry-not-added"];

/// 26 of 31 have all right; three show the one pattern and two the other.
fn goes_on(lesson: u32) -> Findings {
    let mut findings = found(SKILL, lesson, PATTERNS);
    let finding = &mut findings.skills[SKILL];
    finding.right = 26;
    for (pattern, (number, pupils)) in finding.patterns.iter_mut().zip([(1, 3), (2, 2)]) {
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
    for (name, group) in PATTERNS.into_iter().zip(["3 pupils, group 1", "2 pupils, group 2"]) {
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
        [("Q", Some(PATTERNS[0]), 3), ("R", Some(PATTERNS[1]), 2)],
        "{sheets:?}"
    );
    let examples = pack.named(SectionName::Examples).flat_map(|s| &s.items);
    assert!(examples.into_iter().any(|item| brings_back(item, PATTERNS[0])));
    let ordinary = made(&goes_on(before));
    assert!(ordinary.teacher.sheets.is_empty(), "only what was added is taught by group");
}
