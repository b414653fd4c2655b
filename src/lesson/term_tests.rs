//! A whole term composed, and what must hold of every pack of it.

use super::bench::{Makers, Ours, sameness};
use super::compose::compose_with;
use super::fixture::{self, Plain};
use super::measures::takes;
use super::*;
use crate::exercise::makers::{Request, Setting, Spot};
use crate::exercise::{Item, Kind, Working};
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
        compose_with(&occasion, makers, &Met::default())
            .unwrap_or_else(|f| panic!("lesson {}: {f}", lesson.number))
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
            let seconds: u32 = section.items.iter().map(takes).sum();
            let net = (u32::from(section.minutes) - 2) * 60;
            // Or as many quick items as a sheet may have.
            let full = seconds * 100 >= net * 80 || section.items.len() == 60;
            let within = full && seconds <= net;
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
        assert!(pack.missing[0].starts_with("No exercises can be made for “"));
        assert!(!pack.sections[0].items.is_empty(), "it still warms up");
        assert!(pack.named(SectionName::Examples).all(|s| s.items.is_empty()));
    }
    for pack in packs.iter().filter(|p| p.kind != LessonKind::Teach) {
        // A test that lacks two skills says so; other lessons simply use the skills there are.
        let lacks = if pack.kind == LessonKind::UnitTest { 2 } else { 0 };
        let said = pack.missing.iter().filter(|m| m.starts_with("No exercises")).count();
        assert_eq!(said, lacks, "lesson {}", pack.lesson);
    }
}

/// One lesson of the plain term, with other findings, swaps or version.
fn one(
    plan: &Plan,
    lessons: &[Lesson],
    number: u32,
    version: &str,
    findings: &Findings,
    swaps: &[(&str, u32)],
) -> Pack {
    let occasion = Occasion {
        plan,
        lessons,
        calendar: &fixture::calendar(plan),
        number,
        version,
        draft: false,
        findings,
        swaps: &swaps.iter().map(|(id, n)| ((*id).to_owned(), *n)).collect(),
    };
    compose_with(&occasion, &Plain { unknown: vec![] }, &Met::default()).expect("a pack")
}

fn items(pack: &Pack) -> impl Iterator<Item = &Item> {
    pack.sections.iter().flat_map(|s| &s.items)
}

#[test]
fn version_b_has_other_numbers_and_its_own_ids() {
    let plan = fixture::plan(40);
    let lessons = fixture::term(&plan, 40);
    let a = one(&plan, &lessons, 9, "A", &Findings::default(), &[]);
    let b = one(&plan, &lessons, 9, "B", &Findings::default(), &[]);
    assert_eq!(names(&a), names(&b));
    assert!(items(&b).all(|i| i.id.starts_with("L09B-")));
    let of_a: BTreeSet<String> = items(&a).map(sameness).collect();
    assert!(items(&b).all(|i| !of_a.contains(&sameness(i))));
    assert!(b.teacher.copies.iter().all(|c| c.code.starts_with("L09B-")));
}

#[test]
fn an_exchanged_item_is_the_only_one_that_changes() {
    let plan = fixture::plan(40);
    let lessons = fixture::term(&plan, 40);
    let before = one(&plan, &lessons, 9, "A", &Findings::default(), &[]);
    let once = one(&plan, &lessons, 9, "A", &Findings::default(), &[("L09-K2", 1)]);
    let twice = one(&plan, &lessons, 9, "A", &Findings::default(), &[("L09-K2", 2)]);
    for (first, second) in [(&before, &once), (&once, &twice), (&before, &twice)] {
        let pairs: Vec<_> = items(first).zip(items(second)).collect();
        assert_eq!(pairs.len(), items(first).count());
        let changed: Vec<&str> =
            pairs.iter().filter(|(a, b)| a != b).map(|(a, _)| a.id.as_str()).collect();
        assert_eq!(changed, ["L09-K2"]);
    }
}

#[test]
fn moving_a_lesson_moves_its_sums_with_it() {
    let plan = fixture::plan(40);
    let lessons = fixture::term(&plan, 40);
    // Everything from the twentieth lesson on slides by one period: a closed day.
    let mut moved = lessons.clone();
    for at in (19..lessons.len() - 1).rev() {
        moved[at].date = lessons[at + 1].date;
    }
    let both = |number| {
        let before = one(&plan, &lessons, number, "A", &Findings::default(), &[]);
        (before, one(&plan, &moved, number, "A", &Findings::default(), &[]))
    };
    for number in [5, 20, 24] {
        let (before, after) = both(number);
        assert!(before.sections == after.sections, "lesson {number}");
        assert_eq!(before.date == after.date, number < 20);
    }
    // Another lesson comes first after the holiday, so other skills come back from there on; what
    // the lesson itself teaches keeps its sums.
    let (before, after) = both(31);
    for name in [SectionName::Examples, SectionName::Guided, SectionName::ExitCheck] {
        let same = before.named(name).eq(after.named(name));
        assert!(same, "{name:?}");
    }
}

#[test]
fn the_teachers_own_sums_and_pointers_are_printed() {
    use crate::plan::{OwnSums, Resource};
    let mut plan = fixture::plan(40);
    let skill = "long-four-by-three".to_owned();
    plan.own.push(OwnSums {
        skill: skill.clone(),
        part: Some(1),
        example: vec![(3406, 207)],
        practice: vec![(6283, 347)],
        exit_check: vec![(5476, 382)],
    });
    plan.resources.push(Resource { skill: skill.clone(), text: "Number book, page 48".to_owned() });
    let lessons = fixture::term(&plan, 40);
    let of = |part| {
        let theirs = |l: &&Lesson| l.skill.as_ref() == Some(&skill) && l.part == Some(part);
        let number = lessons.iter().find(theirs).expect("taught").number;
        one(&plan, &lessons, number, "A", &Findings::default(), &[])
    };
    let (first, second) = (of(1), of(2));
    let has = |pack: &Pack, name: SectionName, sum: &str| {
        pack.named(name).all(|s| s.items.iter().any(|i| i.expression.as_deref() == Some(sum)))
    };
    assert!(has(&first, SectionName::Examples, "3406*207"));
    assert!(has(&first, SectionName::Practice, "6283*347"), "on every level");
    assert!(has(&first, SectionName::ExitCheck, "5476*382"));
    assert!(!has(&second, SectionName::Examples, "3406*207"));
    assert_eq!(second.teacher.resources, ["Number book, page 48"]);
}

/// What marking found in two skills, one of which needs work.
fn findings() -> Findings {
    let named = |name: &str, pupils: &[&str]| PatternFinding {
        name: name.to_owned(),
        pupils: pupils.iter().map(|p| (*p).to_owned()).collect(),
        ..PatternFinding::default()
    };
    let weak = SkillFinding {
        answered: 30,
        right: 12,
        patterns: vec![named("a stand-in pattern", &["3", "8", "21"])],
        ..SkillFinding::default()
    };
    let strong = SkillFinding { answered: 30, right: 28, ..SkillFinding::default() };
    let skills = [("splitting".to_owned(), weak), ("multiples-of-ten".to_owned(), strong)];
    Findings { skills: skills.into_iter().collect(), ..Findings::default() }
}

#[test]
fn a_catch_up_with_marks_goes_for_what_went_wrong() {
    let plan = fixture::plan(40);
    let lessons = fixture::term(&plan, 40);
    let number = lessons.iter().find(|l| l.kind == LessonKind::CatchUp).expect("one").number;
    let pack = one(&plan, &lessons, number, "A", &findings(), &[]);
    let examples = pack.named(SectionName::Examples).next().expect("examples");
    assert!(examples.items.iter().all(|i| i.skill == "splitting"));
    let check = pack.named(SectionName::ExitCheck).next().expect("an exit check");
    assert!(check.items.len() >= 3 && check.items.iter().all(|i| i.skill == "splitting"));
    let said = pack.teacher.sheets[0].sentence();
    assert!(
        said.starts_with("Sheet Q, 3 copies: a stand in pattern: pupils 3, 8 and 21."),
        "{said}"
    );
    let count =
        |code: &str| pack.teacher.copies.iter().find(|c| c.code.ends_with(code)).map(|c| c.count);
    assert_eq!(count("-Q"), Some(3), "a pattern sheet for those who need it");
    assert_eq!(count("-K").unwrap_or(0) + count("-V").unwrap_or(0), 29);
}

#[test]
fn after_the_test_come_the_items_most_missed() {
    let plan = fixture::plan(40);
    let lessons = fixture::term(&plan, 40);
    let test = lessons.iter().find(|l| l.kind == LessonKind::UnitTest).expect("one").number;
    let paper = one(&plan, &lessons, test, "A", &Findings::default(), &[]);
    let missed: Vec<Missed> = [7, 3]
        .into_iter()
        .map(|at| Missed { item: paper.sections[0].items[at].clone(), pupils: 20 })
        .collect();
    let found = Findings { missed: missed.clone(), ..Findings::default() };
    let pack = one(&plan, &lessons, test + 1, "A", &found, &[]);
    let examples = pack.named(SectionName::Examples).next().expect("examples");
    let prompts: Vec<&String> = examples.items.iter().map(|i| &i.prompt).collect();
    assert_eq!(prompts, missed.iter().map(|m| &m.item.prompt).collect::<Vec<_>>());
    assert_eq!(examples.items[0].id, format!("L{}-E1", test + 1));
}

#[test]
fn every_period_and_pace_has_its_packs() {
    for minutes in [20, 25, 30, 35, 45, 60, 80, 100] {
        let mut plan = fixture::plan(minutes);
        let lessons = fixture::term(&plan, minutes);
        let mut before = usize::MAX;
        for pace in [50, 100, 160, 300] {
            plan.class.pace = pace;
            let mut sheet = 0;
            for number in [1, 8, 30, 44, 54, 55] {
                let pack = one(&plan, &lessons, number, "A", &Findings::default(), &[]);
                let bar: u16 = pack.teacher.stretches.iter().map(|s| s.minutes).sum();
                assert_eq!(bar, minutes);
                sheet += pack.named(SectionName::Practice).map(|s| s.items.len()).sum::<usize>();
            }
            assert!(sheet <= before, "{minutes} minutes: sets shrink as pace grows");
            before = sheet;
        }
    }
}

#[test]
fn the_teachers_page_says_what_the_lesson_is_about() {
    let mut plan = fixture::plan(40);
    plan.frameworks = crate::curriculum::frameworks().into_values().collect();
    let lessons = fixture::term(&plan, 40);
    let theirs = |l: &&Lesson| l.skill.as_deref() == Some("long-four-by-three");
    let number = lessons.iter().find(theirs).expect("taught").number;
    let pack = one(&plan, &lessons, number, "A", &Findings::default(), &[]);
    let page = &pack.teacher;
    assert_eq!(pack.teacher_title(), "Long multiplication: four digits by three, part 1");
    assert_eq!(page.go_on, 26);
    assert_eq!(page.group, 16);
    assert_eq!(page.builds_on.len(), 2);
    assert!(page.builds_on[0].starts_with("Long: 4 × 2 digits, lessons "), "{page:?}");
    assert_eq!(
        page.time_note,
        "One tick is one minute. The 14 minutes of practice hold 12 minutes of sums and 2 for \
         handing out."
    );
    let copies: Vec<(&str, u32)> =
        page.copies.iter().map(|c| (c.what.as_str(), c.count)).take(4).collect();
    assert_eq!(copies, [("support", 8), ("core", 18), ("stretch", 6), ("exit slips, pages", 8)]);
    assert!(page.questions.iter().any(|q| q.ask.starts_with("Between which round numbers does ")));
}

/// Our makers with one road broken on purpose: what they say of every exit check's second item is
/// off by one, in its answer or in a row of its working.
struct Broken {
    in_row: bool,
}

impl Makers for Broken {
    fn known(&self, maker: &str) -> bool {
        Ours.known(maker)
    }
    fn make(
        &self,
        maker: &str,
        request: &Request,
        setting: &Setting,
        met: &Met,
    ) -> Result<Vec<Item>, String> {
        let mut items = Ours.make(maker, request, setting, met)?;
        let second = items.iter_mut().filter(|_| request.spot == Spot::ExitCheck).nth(1);
        if let Some(item) = second {
            match &mut item.working {
                Working::Long(long) if self.in_row => long.rows[0].value += 1,
                _ => item.answer = format!("{}9", item.answer),
            }
        }
        Ok(items)
    }
}

#[test]
fn a_pack_whose_two_roads_differ_stops_with_the_item_named() {
    let plan = fixture::plan(40);
    let lessons = fixture::term(&plan, 40);
    let swaps = IndexMap::new();
    let mut stopped = 0;
    for (number, in_row) in (1..=20).flat_map(|number| [(number, false), (number, true)]) {
        let occasion = Occasion {
            plan: &plan,
            lessons: &lessons,
            calendar: &fixture::calendar(&plan),
            number,
            version: "A",
            draft: true,
            findings: &Findings::default(),
            swaps: &swaps,
        };
        let sound = compose_with(&occasion, &Ours, &Met::default()).expect("a sound pack");
        let checks = sound.sections.iter().find(|s| s.name == SectionName::ExitCheck);
        if checks.is_none_or(|s| s.items.len() < 2) {
            continue;
        }
        let fault = compose_with(&occasion, &Broken { in_row }, &Met::default());
        let fault = fault.expect_err("a broken road");
        // A check over several skills has a second item of each.
        assert!(fault.item.starts_with(&format!("L{number:02}-X")), "{fault}");
        assert!(fault.to_string().starts_with(&fault.item), "{fault}");
        stopped += 1;
    }
    assert!(stopped >= 30, "{stopped}");
}
