//! The terms of the two classes of `plans/`, scheduled and composed with the makers of our ladder.

use super::bench::sameness;
use super::measures::{self, takes};
use super::*;
use crate::calendar::{Calendar, lay_out};
use crate::curriculum::{frameworks, our_ladder};
use crate::exercise::patterns::{Task, pattern};
use crate::exercise::{Given, Item, Kind, Space, makers, verify};
use crate::plan::{Beside, LessonKind, Plan, PlanFile};
use crate::report::{Report, Source};
use crate::schedule::{Lesson, Outcome, solve};
use indexmap::IndexMap;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

pub(crate) const KINGFISHER: &str = include_str!("../../plans/kingfisher/plan.toml");
pub(super) const MARIGOLD: &str = include_str!("../../plans/marigold/plan.toml");

/// The class's plan, the periods of its term and its lessons; holidays of calendar files are left
/// out.
pub(super) fn scheduled(text: &str) -> (Plan, Calendar, Vec<Lesson>) {
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
    (plan, calendar, schedule.lessons)
}

/// The class's plan, its lessons and all their packs.
pub(crate) fn term(text: &str) -> (Plan, Vec<Lesson>, Vec<Pack>) {
    let (plan, calendar, lessons) = scheduled(text);
    let mut met = Met::default();
    let mut compose = |lesson: &Lesson| {
        let occasion = Occasion {
            plan: &plan,
            lessons: &lessons,
            calendar: &calendar,
            number: lesson.number,
            version: "A",
            draft: true,
            findings: &Findings::default(),
            swaps: &IndexMap::new(),
        };
        let pack = compose_after(&occasion, &met);
        let pack = pack.unwrap_or_else(|f| panic!("lesson {}: {f}", lesson.number));
        note_met(&mut met, &pack);
        pack
    };
    let packs = lessons.iter().map(&mut compose).collect();
    (plan, lessons, packs)
}

/// After marks the first begun sum of the next lesson leaves out the row that goes wrong.
#[test]
fn begun_sums_leave_out_the_step_that_the_class_gets_wrong() {
    let (plan, calendar, lessons) = scheduled(KINGFISHER);
    let second = |l: &&Lesson| l.skill.as_deref() == Some("long-two-by-two") && l.part == Some(2);
    let number = lessons.iter().find(second).expect("a second lesson").number;
    let pattern = PatternFinding {
        name: "placeholder-left-out".to_owned(),
        pupils: vec!["3".to_owned(), "8".to_owned(), "21".to_owned()],
        group: 1,
        ..PatternFinding::default()
    };
    let patterns = vec![pattern];
    let finding = SkillFinding { answered: 30, right: 12, patterns, ..SkillFinding::default() };
    let marked = Findings {
        skills: [("long-two-by-two".to_owned(), finding)].into_iter().collect(),
        ..Findings::default()
    };
    let firsts = |findings: &Findings| -> Vec<Given> {
        let swaps = IndexMap::new();
        let (plan, lessons, calendar) = (&plan, &lessons, &calendar);
        let version = "A";
        let occasion = Occasion {
            plan,
            lessons,
            calendar,
            number,
            version,
            draft: true,
            findings,
            swaps: &swaps,
        };
        let pack = compose(&occasion).expect("a pack");
        let support =
            |s: &&Section| s.name == SectionName::Guided || s.level == Some(Level::Support);
        let first = |s: &Section| {
            let own = s.items.iter().filter(|i| i.skill == "long-two-by-two");
            own.filter_map(|i| {
                if let Space::Squares { given, .. } = i.space { Some(given) } else { None }
            })
            .next()
        };
        pack.sections.iter().filter(support).filter_map(first).collect()
    };
    assert_eq!(firsts(&Findings::default()), [Given::AllButLast(1); 2]);
    assert_eq!(firsts(&marked), [Given::But { line: 1 }; 2]);
}

/// What marking found with one skill's two commonest patterns.
pub(super) fn found(skill: &str, lesson: u32, patterns: [&str; 2]) -> Findings {
    let of = |(name, most): (&str, usize)| PatternFinding {
        name: name.to_owned(),
        pupils: (1..=most).map(|n| (n + if most == 8 { 12 } else { 0 }).to_string()).collect(),
        group: 1,
        ..PatternFinding::default()
    };
    let patterns = patterns.into_iter().zip([12, 8]).map(of).collect();
    let checked_in = Some(lesson);
    let finding =
        SkillFinding { answered: 31, right: 11, checked_in, patterns, ..SkillFinding::default() };
    Findings { skills: [(skill.to_owned(), finding)].into_iter().collect(), ..Findings::default() }
}

/// The pack of the first lesson after the skill's last one for which `is` holds, composed after all
/// before it and after these marks.
fn after_marks(skill: &str, patterns: [&str; 2], is: impl Fn(&Lesson) -> bool) -> (Pack, Findings) {
    after_findings(skill, |lesson| found(skill, lesson, patterns), is)
}

/// The same after other marks of the skill's last lesson, whose number they are made with.
pub(super) fn after_findings(
    skill: &str,
    found: impl Fn(u32) -> Findings,
    is: impl Fn(&Lesson) -> bool,
) -> (Pack, Findings) {
    let (plan, calendar, lessons) = scheduled(KINGFISHER);
    let last = lessons.iter().rposition(|l| l.skill.as_deref() == Some(skill)).expect("taught");
    let at = last + 1 + lessons[last + 1..].iter().position(is).expect("one");
    let findings = found(lessons[last].number);
    let mut met = Met::default();
    let (none, swaps) = (Findings::default(), IndexMap::new());
    let mut pack = None;
    for (place, lesson) in lessons.iter().enumerate().take(at + 1) {
        let occasion = Occasion {
            plan: &plan,
            lessons: &lessons,
            calendar: &calendar,
            number: lesson.number,
            version: "A",
            draft: true,
            findings: if place == at { &findings } else { &none },
            swaps: &swaps,
        };
        let made = compose_after(&occasion, &met).expect("a pack");
        note_met(&mut met, &made);
        pack = Some(made);
    }
    (pack.expect("a pack"), findings)
}

/// Whether the mistake would show on the item.
pub(super) fn brings_back(item: &Item, name: &str) -> bool {
    let known = pattern(name).expect("a pattern");
    Task::of(item).is_some_and(|task| !task.answers(known).is_empty())
}

/// Those who need it get sums that meet what went wrong, as many as fill their minutes.
#[test]
fn a_catch_up_used_for_teaching_again_fills_its_support_sheet_with_what_went_wrong() {
    for (skill, patterns, least) in [
        ("long-two-by-two", ["placeholder-left-out", "carry-not-added"], 7),
        ("short-two-by-one", ["carry-not-added", "ones-copied"], 10),
    ] {
        let (pack, _) = after_marks(skill, patterns, |l| l.kind == LessonKind::CatchUp);
        assert!(pack.missing.is_empty(), "{skill}: {:?}", pack.missing);
        let support = pack.sections.iter().find(|s| s.level == Some(Level::Support));
        let support = support.expect("a support sheet");
        for name in patterns {
            let shows = support.items.iter().filter(|i| brings_back(i, name)).count();
            assert!(shows >= least, "{skill}, {name}: {shows} of {}", support.items.len());
        }
        let full = minutes::practice_seconds(support.minutes);
        assert!(seconds(support) * 100 >= full * 80, "{skill}: {} of {full}", seconds(support));
        for name in [SectionName::Examples, SectionName::Guided] {
            let section = pack.named(name).next().expect("a section");
            assert!(section.items.len() == 2, "{skill}, {name:?}: {}", section.items.len());
        }
        // Asked as often as in a lesson of its own: one answer tells nothing.
        let check = pack.named(SectionName::ExitCheck).next().expect("a check");
        assert!(check.items.len() >= 3, "{skill}: {} to check", check.items.len());
        assert!(check.items.iter().all(|i| i.skill == skill), "{skill}");
    }
}

/// Each group has a sheet of its own, and what is not on it is not held against another group's.
#[test]
fn each_group_has_a_support_sheet_on_which_its_own_mistake_shows() {
    let patterns = ["placeholder-left-out", "carry-not-added"];
    let (pack, _) = after_marks("long-two-by-two", patterns, |l| l.kind == LessonKind::CatchUp);
    let support: Vec<(char, &Section)> = pack
        .practice_sheets()
        .filter(|(_, level, _)| *level == Level::Support)
        .map(|(letter, _, section)| (letter, section))
        .collect();
    assert_eq!(support.iter().map(|(letter, _)| *letter).collect::<Vec<_>>(), ['Q', 'R']);
    for ((letter, section), name) in support.into_iter().zip(patterns) {
        let shows = section.items.iter().filter(|i| brings_back(i, name)).count();
        assert!(shows >= 6, "{letter}: {shows} of {}", section.items.len());
        let full = minutes::practice_seconds(section.minutes);
        assert!(seconds(section) * 100 >= full * 80, "{letter}: {} of {full}", seconds(section));
    }
    let told: Vec<String> = pack.teacher.sheets.iter().map(SheetFor::sentence).collect();
    assert!(
        told[0].contains("Sheet Q, 12 copies") && told[0].contains("pupils 1 to 12"),
        "{told:?}"
    );
    assert!(told[0].contains("Model: an area grid"), "{told:?}");
}

/// A draft of a lesson's pack, made after these findings.
pub(super) fn made_after(
    (plan, calendar, lessons): (&Plan, &Calendar, &[Lesson]),
    number: u32,
    findings: &Findings,
) -> Pack {
    let (version, draft, swaps) = ("A", true, &IndexMap::new());
    let occasion = Occasion { plan, lessons, calendar, number, version, draft, findings, swaps };
    compose(&occasion).expect("a pack")
}

/// A lesson that was added is made of the marks, and where no catch-up follows it does that one's
/// work too; without marks, or once the check went well, it is an ordinary part.
#[test]
fn a_lesson_that_was_added_teaches_again_what_marks_showed() {
    let (plan, calendar, lessons) = scheduled(KINGFISHER);
    let of = |skill: &str, nth: usize| {
        let mut parts = lessons.iter().rev().filter(|l| l.skill.as_deref() == Some(skill));
        parts.nth(nth).expect("a part").number
    };
    let [number, before] = [0, 1].map(|nth| of("long-four-by-three", nth));
    let other = of("zeros-in-multiplier", 0);
    let made = |findings: &Findings| made_after((&plan, &calendar, &lessons), number, findings);
    let patterns = ["placeholder-left-out", "carry-not-added"];
    let mut findings = found("long-four-by-three", before, patterns);
    findings.skills.extend(found("zeros-in-multiplier", other, ["zero-row-copied", "none"]).skills);
    findings.again.insert(number);
    let pack = made(&findings);
    let sheets: Vec<(&str, &str)> = pack
        .teacher
        .sheets
        .iter()
        .take(3)
        .map(|s| (s.skill.as_str(), s.pattern.as_deref().unwrap_or_default()))
        .collect();
    assert_eq!(sheets[0], ("long-four-by-three", patterns[0]), "{sheets:?}");
    assert!(sheets.contains(&("long-four-by-three", patterns[1])), "{sheets:?}");
    let skills: BTreeSet<&str> = (pack.named(SectionName::Practice).flat_map(|s| &s.items))
        .map(|i| i.skill.as_str())
        .collect();
    assert!(skills.contains("zeros-in-multiplier"), "{skills:?}");
    assert!(!pack.named(SectionName::ExitCheck).next().expect("a check").items.is_empty());
    let ordinary = made(&Findings { again: [number].into(), ..Findings::default() });
    assert!(ordinary.teacher.sheets.is_empty());
    assert_eq!(ordinary, made(&Findings::default()), "without marks nothing is changed");
}

/// Where the skill's next part follows the check, its warm-up brings the mistake back as well.
#[test]
fn the_next_part_of_the_skill_brings_the_mistake_back() {
    let (plan, calendar, lessons) = scheduled(KINGFISHER);
    let part = |wanted: u8| {
        let is = |l: &&Lesson| {
            l.skill.as_deref() == Some("long-two-by-two") && l.part == Some(wanted.into())
        };
        lessons.iter().find(is).expect("a part").number
    };
    let patterns = ["placeholder-left-out", "carry-not-added"];
    let findings = found("long-two-by-two", part(2), patterns);
    let occasion = Occasion {
        plan: &plan,
        lessons: &lessons,
        calendar: &calendar,
        number: part(3),
        version: "A",
        draft: true,
        findings: &findings,
        swaps: &IndexMap::new(),
    };
    let pack = compose(&occasion).expect("a pack");
    let warm_up = pack.named(SectionName::WarmUp).next().expect("a warm-up");
    let back = warm_up.items.iter().filter(|item| brings_back(item, patterns[0])).count();
    assert!(back >= 2, "{back}");
    assert!(
        pack.teacher.say[0].starts_with("The warm-up brings back: the second and later rows lack")
    );
    assert!(pack.teacher.sheets.is_empty(), "it teaches the next part");
}

/// Tomorrow's six sums bring the mistake back at least twice, and the teacher reads which it is.
#[test]
fn the_next_warm_up_brings_back_what_went_wrong() {
    for (skill, patterns) in [
        ("long-two-by-two", ["placeholder-left-out", "carry-not-added"]),
        ("short-two-by-one", ["carry-not-added", "ones-copied"]),
        ("fives-and-twenty-fives", ["not-halved-or-quartered", "both-doubled"]),
    ] {
        let (pack, found) = after_marks(skill, patterns, |_| true);
        let warm_up = pack.named(SectionName::WarmUp).next().expect("a warm-up");
        let back = warm_up.items.iter().filter(|item| brings_back(item, patterns[0])).count();
        let prompts: Vec<&str> = warm_up.items.iter().map(|i| i.prompt.as_str()).collect();
        assert!(back >= 2, "{skill}: {prompts:?}");
        assert!(warm_up.items.iter().all(|i| i.space == Space::Box), "{skill}: {prompts:?}");
        assert!(seconds(warm_up) <= u32::from(warm_up.minutes) * 60, "{skill}: {prompts:?}");
        let said = pack.teacher.say.join(" ");
        let shows = pattern(patterns[0]).expect("a pattern").shows;
        let named = format!("The warm-up brings back: {shows} (12 pupils, group 1).");
        assert!(said.contains(&named), "{skill}: {said}");
        assert!(found.skills[skill].needs_work());
    }
}

/// A sheet of practice takes what reading and writing take, however quick the thinking.
fn seconds(section: &Section) -> u32 {
    let practice = section.name == SectionName::Practice;
    section.items.iter().map(|i| if practice { takes(i) } else { i.seconds }).sum()
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

/// Wrong answers stand under the sum they belong to, or the place it has; what two show is said
/// once.
fn errors_name_their_sum(pack: &Pack) {
    let page = &pack.teacher;
    let answers = page.errors.iter().any(|e| !e.answer.is_empty());
    let guided = pack.named(SectionName::Guided).flat_map(|s| &s.items);
    let told = !page.errors_in.is_empty() || guided.into_iter().any(|i| !i.likely.is_empty());
    assert!(!answers || told, "lesson {}", pack.lesson);
    let place = ["example ", "sheet ", "the "].iter().any(|p| page.errors_in.starts_with(p));
    let words = page.errors_in.contains(char::is_alphabetic);
    assert!(place || !words, "lesson {}: {}", pack.lesson, page.errors_in);
    for (at, error) in page.errors.iter().enumerate() {
        let again = page.errors[..at].iter().any(|e| e.shows == error.shows);
        assert!(!again, "lesson {}: {} twice", pack.lesson, error.shows);
    }
    let story = pack.skill.as_deref().is_some_and(|id| id.starts_with("story"));
    assert!(!story || place, "lesson {}: {}", pack.lesson, page.errors_in);
}

/// A catch-up and a revision say which skills, and of which lessons; the lesson after an unmarked
/// test does not say that anything was missed.
fn what_the_lesson_is_about(pack: &Pack) {
    let objective = &pack.teacher.objective;
    let after = pack.named(SectionName::Examples).any(|s| !s.items.is_empty());
    match pack.kind {
        LessonKind::CatchUp if after => {
            assert!(objective.contains("not marked yet"), "{objective}");
            assert!(objective.contains("most often missed"), "{objective}");
        }
        LessonKind::CatchUp | LessonKind::Revision if pack.lesson > 12 => {
            assert!(objective.contains("(lesson"), "lesson {}: {objective}", pack.lesson);
        }
        _ => {}
    }
}

/// What must hold of every pack of a term.
fn check(text: &str) {
    let (plan, lessons, packs) = term(text);
    let (mut written, mut again, mut long_again) = (0, 0, 0);
    let mut seen: BTreeMap<String, String> = BTreeMap::new();
    let (mut sheets, mut full) = (0, 0);
    let (mut short, mut sparse) = (Short::default(), Vec::new());
    for pack in &packs {
        let bar: u16 = pack.teacher.stretches.iter().map(|s| s.minutes).sum();
        assert_eq!(bar, pack.minutes, "lesson {}", pack.lesson);
        let checked = pack.named(SectionName::ExitCheck).next().is_some();
        assert_eq!(pack.teacher.go_on > 0, checked, "lesson {}", pack.lesson);
        errors_name_their_sum(pack);
        what_the_lesson_is_about(pack);
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
                if spent * 100 < net * 70 {
                    sparse.push(format!("{place}: {spent} of {net} s"));
                }
            }
        }
        if pack.kind == LessonKind::UnitTest {
            the_test_fits_and_says_what_to_show(pack);
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
        short.look(pack);
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
    revision_is_like_the_test(&packs);
    for (what, most) in
        [(&short.uneven, 1), (&short.monotonous, 1), (&short.harder, 1), (&short.thin, 1)]
    {
        assert!(what.len() <= most, "{what:#?}");
    }
    assert!(sparse.is_empty(), "{sparse:#?}");
    assert!(full * 10 >= sheets * 8, "only {full} of {sheets} sheets fill their minutes");
}

/// What the sheets and exit checks of a term fell short of, a line each.
#[derive(Default)]
struct Short {
    /// Sheets of one lesson whose minutes differ by more than 15 percent of them.
    uneven: Vec<String>,
    /// Stretch sheets with more than three questions of one form.
    monotonous: Vec<String>,
    /// Support sheets whose own sums are harder on average than those of core, by more than a
    /// tenth.
    harder: Vec<String>,
    /// Exit checks of lessons that teach nothing new with few items or little to do.
    thin: Vec<String>,
}

impl Short {
    fn look(&mut self, pack: &Pack) {
        let of = |level| pack.named(SectionName::Practice).find(|s| s.level == Some(level));
        let (Some(q), Some(k), Some(v)) = (of(Level::Support), of(Level::Core), of(Level::Stretch))
        else {
            return;
        };
        let lesson = pack.lesson;
        let most = (k.items.len() * 4 / 3).max(4);
        assert!(q.items.len() <= most, "lesson {lesson}: {} of {most}", q.items.len());
        let spent = [q, k, v].map(seconds);
        let apart = spent.iter().max().unwrap_or(&0) - spent.iter().min().unwrap_or(&0);
        let net = minutes::practice_seconds(k.minutes);
        // With one or two skills there are not items enough for all.
        let skills: BTreeSet<&String> = k.items.iter().map(|i| &i.skill).collect();
        if skills.len() > 2 && apart * 100 > net * 15 {
            self.uneven.push(format!("lesson {lesson}: {spent:?} of {net}"));
        }
        let mut forms: BTreeMap<String, usize> = BTreeMap::new();
        for form in v.items.iter().filter_map(measures::form) {
            *forms.entry(form).or_default() += 1;
        }
        let most = forms.into_iter().max_by_key(|(_, n)| *n);
        if let Some((form, n)) = most.filter(|(_, n)| skills.len() > 2 && *n > 3) {
            self.monotonous.push(format!("lesson {lesson}: {n} times {form}"));
        }
        let mean = |section: &Section| {
            let own = section.items.iter().filter(|i| Some(&i.skill) == pack.skill.as_ref());
            let each: Vec<u32> = own.filter_map(measures::hardness).collect();
            each.iter().sum::<u32>().checked_div(u32::try_from(each.len()).expect("few"))
        };
        if let (Some(q), Some(k)) = (mean(q), mean(k))
            && q * 10 > k * 11
        {
            self.harder.push(format!("lesson {lesson}: {q} beside {k}"));
        }
        let check = pack.named(SectionName::ExitCheck).next();
        if let Some(check) = check.filter(|_| pack.kind != LessonKind::Teach) {
            let (n, spent) = (check.items.len(), seconds(check));
            let net = minutes::exit_seconds(check.minutes);
            let long = spent > 40 * u32::try_from(n).expect("few");
            // Before anything is taught there are a few facts only, and after one skill a few sums.
            let asked: BTreeSet<&String> = check.items.iter().map(|i| &i.skill).collect();
            let known = pack.teacher.objective.contains("known before");
            if !known && asked.len() > 1 && (spent * 100 < net * 60 || n < 5 && !long) {
                self.thin.push(format!("lesson {lesson}: {n} items, {spent} s of {net}"));
            }
        }
    }
}

/// A revision holds what the test holds: stories, written sums and others, in about its shares of
/// the time.
fn revision_is_like_the_test(packs: &[Pack]) {
    let kinds = |items: &[Item]| {
        let time = |of: &dyn Fn(&Item) -> bool| -> u32 {
            items.iter().filter(|i| of(i)).map(|i| i.seconds).sum()
        };
        let share = |of: &dyn Fn(&Item) -> bool| time(of) * 100 / time(&|_| true).max(1);
        let story = share(&|i| i.kind == Kind::Story);
        [story, share(&|i| teach::is_long(&i.space)) - story]
    };
    let test = packs.iter().find(|p| p.kind == LessonKind::UnitTest).expect("a test");
    let [stories, written] = kinds(&test.sections[0].items);
    assert!(stories > 0 && written > 0);
    for pack in packs.iter().filter(|p| p.kind == LessonKind::Revision) {
        for section in pack.named(SectionName::Practice) {
            let [s, w] = kinds(&section.items);
            let place = format!("lesson {}, {:?}: {s}, {w}", pack.lesson, section.level);
            assert!(s > 0 && s <= stories * 3, "{place} beside {stories}, {written}");
            // Stretch asks for thought about written sums rather than for many of them.
            let least = if section.level == Some(Level::Stretch) { 10 } else { written / 2 };
            assert!(w >= least && w <= written * 2, "{place} beside {stories}, {written}");
            let alike = section.items.windows(2).any(|w| w[0].skill == w[1].skill);
            assert!(!alike, "{place}: two alike in a row");
        }
    }
}

/// The items fill at most 75 percent of the test's minutes for pupils of the typical pace, writing
/// included; a reason has a mark of its own.
fn the_test_fits_and_says_what_to_show(pack: &Pack) {
    let section = &pack.sections[0];
    let spent = seconds(section);
    assert!(spent * 100 <= u32::from(section.minutes) * 60 * 75, "{spent} s");
    for (item, marks) in section.items.iter().zip(&pack.marks) {
        let why = matches!(item.space, Space::Options { because: true } | Space::Lines { .. });
        let why = why && matches!(item.kind, Kind::Choice | Kind::Reason);
        let reason = marks.for_what.iter().any(|m| m == "a reason that holds");
        assert_eq!(why, reason, "{}", item.id);
        assert!(!why || marks.marks == 2, "{}", item.id);
    }
    assert!(pack.instruction.contains("only the answer"), "{}", pack.instruction);
    assert!(pack.instruction.contains("show your working"), "{}", pack.instruction);
}

#[test]
fn the_kingfishers_term_is_sound() {
    check(KINGFISHER);
}

#[test]
fn the_marigolds_term_is_sound() {
    check(MARIGOLD);
}
