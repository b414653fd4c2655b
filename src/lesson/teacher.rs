//! What the teacher's page says of a lesson.

use super::after_marks::{Shown, just_shown};
use super::compose::Composing;
use super::findings::PatternFinding;
use super::house::in_house_words;
use super::memory::CATCH_UP;
use super::mending::{self, Back};
use super::minutes::{Minutes, SETTLE};
use super::{CheckTells, Expected, Level, Meaning, Section, SectionName, Stretch, TeacherPage};
use super::{again, check_tells, consolidate, copies, meaning, questions, test};
use crate::curriculum::{Framework, Skill};
use crate::exercise::{Item, Kind, patterns};
use crate::method::HouseStyle;
use crate::plan::{LessonKind, Plan};
use crate::words;

/// At most so many errors to expect.
const ERRORS: usize = 4;
/// How many skills the objective of a revision names.
const REVISED: usize = 5;

/// The lesson's title, as pupils' sheets bear it.
pub fn title(composing: &Composing) -> String {
    match composing.lesson.kind {
        LessonKind::Teach => composing.skill().map_or_else(
            || composing.lesson.skill.clone().unwrap_or_default(),
            |skill| composing.occasion.plan.style.in_words(&skill.title),
        ),
        LessonKind::CatchUp if composing.follows_test => "After the test".to_owned(),
        LessonKind::CatchUp => catch_up_title(composing),
        LessonKind::Revision => "Mixed revision".to_owned(),
        LessonKind::UnitTest => "Unit test".to_owned(),
    }
}

/// The longest title of a catch-up that names its skills, in letters.
const TITLE: usize = 48;

/// "Catch-up: head: splitting; tens by tens", where that is short enough.
fn catch_up_title(composing: &Composing) -> String {
    let skills = consolidate::skills_of(composing);
    let ladder = &composing.occasion.plan.ladder;
    let named: Vec<String> = skills
        .iter()
        .filter_map(|id| ladder.skills.get(id))
        .map(|skill| in_house_words(short(skill), &composing.occasion.plan.style))
        .collect();
    let long = format!("Catch-up: {}", named.join("; "));
    if named.is_empty() || long.chars().count() > TITLE { "Catch-up".to_owned() } else { long }
}

fn short(skill: &Skill) -> &str {
    if skill.short.is_empty() { &skill.title } else { &skill.short }
}

/// The skill's short name and the lessons that taught it before: “Mental: splitting”
/// (lessons 7 and 8).
fn with_lessons(composing: &Composing, id: &str) -> Option<String> {
    let plan = composing.occasion.plan;
    let skill = plan.ladder.skills.get(id)?;
    let before = composing.occasion.lessons[..composing.place].iter();
    let taught: Vec<u32> =
        before.filter(|l| l.skill.as_deref() == Some(id)).map(|l| l.number).collect();
    let name = in_house_words(short(skill), &plan.style);
    Some(match taught.is_empty() {
        true => format!("“{name}”"),
        false => format!("“{name}” ({})", lesson_numbers(&taught)),
    })
}

fn named(composing: &Composing, skills: &[String], most: usize) -> String {
    let named: Vec<String> =
        skills.iter().take(most).filter_map(|id| with_lessons(composing, id)).collect();
    words::join(&named, "and")
}

/// The whole page.
pub fn page(composing: &Composing, sections: &[Section]) -> TeacherPage {
    let plan = composing.occasion.plan;
    let pupils = plan.class.pupils;
    let skills = skills_met(composing, sections);
    let example = error_item(sections, composing.skill());
    let checked = sections.iter().any(|s| s.name == SectionName::ExitCheck);
    let share = |percent: u32| (pupils * percent).div_ceil(100);
    TeacherPage {
        objective: objective(composing, &skills),
        meets: meets(plan, &skills),
        success: success(composing, &skills),
        vocabulary: vocabulary(composing, &skills),
        builds_on: builds_on(composing),
        say: said(composing, sections),
        resources: resources(plan, &skills),
        stretches: stretches(composing, sections),
        time_note: time_note(composing, sections),
        errors_in: example.as_ref().map(|t| t.named(&plan.style)).unwrap_or_default(),
        errors: errors(composing, example.map(|t| t.item)),
        questions: questions::questions(sections, &plan.style),
        sheets: again::sheets_for(composing),
        copies: {
            let (support, others) = sheets(composing, pupils);
            copies::copies(&composing.code(), sections, pupils, (&support, others))
        },
        go_on: if checked { share(80) } else { 0 },
        group: if checked { share(50) } else { 0 },
        check_tells: told_by_check(sections, &plan.style),
    }
}

/// What the exit check can tell; none where there is none.
fn told_by_check(sections: &[Section], style: &HouseStyle) -> Option<CheckTells> {
    let checks = sections.iter().filter(|s| s.name == SectionName::ExitCheck);
    let items: Vec<&Item> = checks.flat_map(|s| &s.items).collect();
    (!items.is_empty()).then(|| check_tells(&items, sections, style))
}

/// The skills the lesson is about: the one it teaches, else those of its practice, guided part or
/// test, in the ladder's order.
fn skills_met<'a>(composing: &Composing<'a>, sections: &[Section]) -> Vec<&'a Skill> {
    if let Some(skill) = composing.skill() {
        return vec![skill];
    }
    let about = [SectionName::Guided, SectionName::Practice, SectionName::Test];
    let met = |id: &str| {
        let mut items = sections.iter().filter(|s| about.contains(&s.name)).flat_map(|s| &s.items);
        items.any(|item| item.skill == id)
    };
    composing.occasion.plan.ladder.skills.values().filter(|skill| met(&skill.id)).collect()
}

fn objective(composing: &Composing, skills: &[&Skill]) -> String {
    let style = &composing.occasion.plan.style;
    match composing.lesson.kind {
        LessonKind::Teach => match skills.first() {
            Some(skill) if !skill.objective.is_empty() => in_house_words(&skill.objective, style),
            Some(skill) => format!("Learn and practise: {}.", skill.title),
            None => String::new(),
        },
        LessonKind::CatchUp if composing.follows_test => {
            if composing.occasion.findings.missed.is_empty() {
                "The test is not marked yet: go through the items of it that are most often \
                 missed, and practise them."
                    .to_owned()
            } else {
                "Go through the items that were missed most, and practise them.".to_owned()
            }
        }
        LessonKind::CatchUp => {
            let skills = consolidate::skills_of(composing);
            match skills.is_empty() {
                true => "Make secure what is known before the unit.".to_owned(),
                false => format!("Make secure {}.", named(composing, &skills, CATCH_UP)),
            }
        }
        LessonKind::Revision => {
            let skills = named(composing, &composing.brought.oldest, REVISED);
            format!("Choose and use what the unit has taught, among it {skills}.")
        }
        LessonKind::UnitTest => "Show what the unit has taught.".to_owned(),
    }
}

/// The outcomes of the class's frameworks, a sentence for each framework; a skill that a framework
/// does not ask for, but that builds on what its last stage asks, goes beyond it.
fn meets(plan: &Plan, skills: &[&Skill]) -> Vec<String> {
    let codes = || skills.iter().flat_map(|skill| &skill.outcomes);
    let mut sentences = Vec::new();
    for framework in &plan.frameworks {
        if let Some(list) = listed(codes().filter_map(|code| code_in(framework, code))) {
            sentences.push(format!("{list} ({}).", framework.title));
        } else if let ([skill], Some((_, last))) = (skills, framework.outcomes.last())
            && builds_on_stage(plan, framework, skill, &last.stage)
        {
            sentences.push(format!("Goes beyond {} ({}).", last.stage, framework.title));
        }
    }
    // A bare code is the teacher's own.
    let bare = codes().map(String::as_str).filter(|code| !code.contains(':'));
    sentences.extend(listed(bare).map(|list| format!("{list}.")));
    sentences
}

/// Whether what a skill needs serves the framework at this stage; needs that do not serve it at all
/// are looked through.
fn builds_on_stage(plan: &Plan, framework: &Framework, skill: &Skill, stage: &str) -> bool {
    let needs = skill.needs.iter().filter_map(|id| plan.ladder.skills.get(id));
    needs.into_iter().any(|need| {
        let mut codes = need.outcomes.iter().filter_map(|code| code_in(framework, code)).peekable();
        if codes.peek().is_none() {
            return builds_on_stage(plan, framework, need, stage);
        }
        codes.any(|code| framework.outcomes.get(code).is_some_and(|o| o.stage == stage))
    })
}

/// The code in this framework of `framework:code`.
fn code_in<'a>(framework: &Framework, code: &'a str) -> Option<&'a str> {
    code.split_once(':').filter(|(name, _)| *name == framework.name).map(|(_, code)| code)
}

fn listed<'a>(codes: impl Iterator<Item = &'a str>) -> Option<String> {
    let mut once: Vec<&str> = Vec::new();
    for code in codes {
        if !once.contains(&code) {
            once.push(code);
        }
    }
    (!once.is_empty()).then(|| once.join(", "))
}

fn success(composing: &Composing, skills: &[&Skill]) -> Vec<String> {
    let style = &composing.occasion.plan.style;
    if let (LessonKind::Teach, Some(skill)) = (composing.lesson.kind, skills.first()) {
        return skill.success.iter().map(|line| in_house_words(line, style)).collect();
    }
    // The last line of a skill's list explains or checks.
    let last = skills.iter().filter_map(|skill| skill.success.last());
    last.take(4).map(|line| in_house_words(line, style)).collect()
}

fn vocabulary(composing: &Composing, skills: &[&Skill]) -> Vec<String> {
    let style = &composing.occasion.plan.style;
    let mut met: Vec<String> = Vec::new();
    for word in skills.iter().flat_map(|skill| &skill.vocabulary) {
        let word = in_house_words(word, style);
        if !met.contains(&word) {
            met.push(word);
        }
    }
    met.truncate(10);
    met
}

/// What the skill needs directly, with the lessons that taught it.
fn builds_on(composing: &Composing) -> Vec<String> {
    let Some(skill) = composing.skill() else { return Vec::new() };
    let (lessons, plan) = (composing.occasion.lessons, composing.occasion.plan);
    let mut lines = Vec::new();
    for need in skill.needs.iter().filter_map(|id| plan.ladder.skills.get(id)) {
        let short = short(need);
        let before = lessons[..composing.place].iter();
        let taught = before.filter(|l| l.skill.as_ref() == Some(&need.id)).map(|l| l.number);
        let taught: Vec<u32> = taught.collect();
        lines.push(match taught.is_empty() {
            true => format!("{short}, known before the unit"),
            false => format!("{short}, {}", lesson_numbers(&taught)),
        });
    }
    lines
}

/// "lesson 5", "lessons 9 and 11", "lessons 32 to 34".
fn lesson_numbers(numbers: &[u32]) -> String {
    match numbers {
        [only] => format!("lesson {only}"),
        [first, .., last] if numbers.len() > 2 && numbers.windows(2).all(|w| w[1] == w[0] + 1) => {
            format!("lessons {first} to {last}")
        }
        _ => {
            let each: Vec<String> = numbers.iter().map(u32::to_string).collect();
            format!("lessons {}", words::join(&each, "and"))
        }
    }
}

/// What to say: which mistake the warm-up brings back, then the skill's sentences.
fn said(composing: &Composing, sections: &[Section]) -> Vec<String> {
    let style = &composing.occasion.plan.style;
    let skill = composing.skill();
    let warm_up = sections.iter().filter(|s| s.name == SectionName::WarmUp);
    let warm_up: Vec<&Item> = warm_up.flat_map(|s| &s.items).collect();
    let brought = composing.brought.warm_up.iter();
    let shown = brought.flat_map(|back| just_shown(composing, back));
    // Where sheets say whom they are for, they say how to teach it as well.
    let skills = again::skills(composing);
    let told = !skills.is_empty();
    // Where it stands among the sheets it is numbered as there.
    let groups = again::groups(composing.occasion.findings, &skills);
    let back = shown.map(|Shown { finding, .. }| {
        let same = |g: &&PatternFinding| {
            g.name == finding.name && g.pupils.iter().all(|p| finding.pupils.contains(p))
        };
        let finding = groups.iter().map(|helped| &helped.finding).find(same).unwrap_or(finding);
        in_house_words(&brought_back(finding, &warm_up, style, told), style)
    });
    let own = skill.iter().flat_map(|s| &s.say).map(|line| in_house_words(line, style));
    back.chain(own).collect()
}

/// "The warm-up brings back: carried digits are not added (7 pupils, group 2). Work the sum…", or
/// that no sum of it does.
fn brought_back(
    finding: &PatternFinding,
    warm_up: &[&Item],
    style: &HouseStyle,
    told: bool,
) -> String {
    let names = finding.names();
    let shows = |name: &str| meaning(name).map_or(name.replace('-', " "), |m| m.shows);
    let teach = meaning(&finding.name).map_or_else(String::new, |m| m.teach);
    let best = warm_up.iter().max_by_key(|item| mending::back(item, &names));
    let best = best.filter(|item| mending::back(item, &names) > Back::No);
    let begins = match best {
        Some(_) => "The warm-up brings back",
        None => "Too long for a warm-up, so not in it",
    };
    let whom = finding.whom();
    if let Some(two) = finding.two() {
        return two_brought_back(finding, two, warm_up, told);
    }
    if names.len() == 1 {
        let teach = if told { "" } else { teach.as_str() };
        return format!("{begins}: {} ({whom}). {teach}", shows(names[0])).trim_end().to_owned();
    }
    // Which answer points at which.
    let answer = |name: &str| -> Option<String> {
        let item = best.filter(|item| mending::back(item, &names) > Back::Alike)?;
        let answer = mending::usual(item, name).unwrap_or_else(|| item.answer.clone());
        Some(answer.parse().map_or(answer, |n| style.number(n)))
    };
    let each = |&name: &&str| match answer(name) {
        Some(answer) => format!("{} ({answer})", shows(name)),
        None => shows(name),
    };
    let each: Vec<String> = names.iter().map(each).collect();
    let tells = match best.filter(|item| mending::back(item, &names) > Back::Alike) {
        Some(item) => format!("“{}” tells which it is.", item.prompt),
        None => "Ask to see the working: it tells which it is.".to_owned(),
    };
    format!("{begins} one of these: {} ({whom}). {tells}", each.join("; or "))
}

/// "The warm-up brings back: carried digits are not added, and beside it the later rows lack their
/// zeros (7 pupils, group 2)." Where its sums show one of the two only, that is said.
fn two_brought_back(
    finding: &PatternFinding,
    two: [&str; 2],
    warm_up: &[&Item],
    told: bool,
) -> String {
    let known = two.map(|name| meaning(name).map(Meaning::beside_another));
    let shows =
        |at: usize| known[at].as_ref().map_or(two[at].replace('-', " "), |m| m.shows.clone());
    let (one, also, whom) = (shows(0), shows(1), finding.whom());
    let here = two.map(|name| warm_up.iter().any(|item| mending::brings_back(item, name)));
    let long = "too long for a warm-up";
    let what = match here {
        [true, true] => format!("The warm-up brings back: {one}, and beside it {also} ({whom})."),
        [true, false] => {
            format!("The warm-up brings back: {one} ({whom}); beside it, {long}: {also}.")
        }
        [false, true] => {
            format!("The warm-up brings back: {also} ({whom}); beside it, {long}: {one}.")
        }
        [false, false] => {
            format!("Too long for a warm-up, so not in it: {one}, and beside it {also} ({whom}).")
        }
    };
    let teach = known.iter().flatten().filter(|_| !told).map(|m| m.teach.as_str());
    std::iter::once(what.as_str()).chain(teach).collect::<Vec<_>>().join(" ")
}

fn resources(plan: &Plan, skills: &[&Skill]) -> Vec<String> {
    let theirs = |id: &str| skills.iter().any(|skill| skill.id == id);
    plan.resources.iter().filter(|r| theirs(&r.skill)).map(|r| r.text.clone()).collect()
}

/// The time bar: stretches that fill the period, examples and guided practice as one.
fn stretches(composing: &Composing, sections: &[Section]) -> Vec<Stretch> {
    let lesson = composing.lesson;
    let minutes_of = |name: SectionName| {
        sections.iter().find(|s| s.name == name).map_or(0, |section| section.minutes)
    };
    let together = minutes_of(SectionName::Examples) + minutes_of(SectionName::Guided);
    let with_class = if minutes_of(SectionName::Examples) > 0 {
        ("Examples, together", "Examples")
    } else {
        ("Guided, together", "Guided")
    };
    let test = minutes_of(SectionName::Test);
    let before = if test > 0 { test::HAND_OUT } else { 0 };
    let after = if test > 0 { lesson.minutes - test - before } else { 0 };
    let parts = [
        ("Warm-up", "Warm-up", minutes_of(SectionName::WarmUp)),
        (with_class.0, with_class.1, together),
        ("Practice", "Practice", minutes_of(SectionName::Practice)),
        ("Exit check", "Exit", minutes_of(SectionName::ExitCheck)),
        ("Hand out", "Out", before),
        ("Unit test", "Test", test),
        ("Collect", "In", after),
    ];
    let mut starts = lesson.starts;
    let mut bar = Vec::new();
    for (name, short, minutes) in parts.into_iter().filter(|p| p.2 > 0) {
        bar.push(Stretch { name: name.to_owned(), short: short.to_owned(), starts, minutes });
        starts = starts.plus(minutes);
    }
    bar
}

fn time_note(composing: &Composing, sections: &[Section]) -> String {
    let tick = "One tick is one minute.";
    if composing.lesson.kind == LessonKind::UnitTest {
        return format!("{tick} {}", test::time_note(sections));
    }
    let practice = sections.iter().find(|s| s.name == SectionName::Practice);
    let practice = practice.map_or(Minutes::of(composing.lesson.minutes).practice, |s| s.minutes);
    let sums = words::count(usize::from(practice.saturating_sub(SETTLE)), "minute");
    format!(
        "{tick} The {} of practice hold {sums} of sums and {SETTLE} for handing out.",
        words::count(usize::from(practice), "minute"),
    )
}

/// An item whose wrong answers the page shows, and where it stands.
struct Telling<'a> {
    item: &'a Item,
    section: &'a Section,
    number: usize,
}

impl Telling<'_> {
    /// The bare sum; else where the item stands: "example 2", "sheet K, 3".
    fn named(&self, style: &HouseStyle) -> String {
        if self.item.kind != Kind::Story
            && let Some(sum) = questions::bare_sum(self.item, style)
        {
            return sum;
        }
        let sheet = match (self.section.name, self.section.level) {
            (SectionName::Examples, _) => "example",
            (SectionName::Practice, Some(Level::Support)) => "sheet Q,",
            (SectionName::Practice, Some(Level::Stretch)) => "sheet V,",
            (SectionName::Practice, _) => "sheet K,",
            (SectionName::ExitCheck, _) => "the exit check,",
            (SectionName::WarmUp, _) => "the warm-up,",
            (SectionName::Homework, _) => "the homework,",
            (SectionName::Test, _) => "the test,",
            (SectionName::Guided, _) => return String::new(),
        };
        format!("{sheet} {}", self.number)
    }
}

/// The item whose wrong answers the page shows: of the lesson's own skill the example with most of
/// them, else the first of practice, guided part or exit check that has some; where the skill has
/// none, of any skill.
fn error_item<'a>(sections: &'a [Section], skill: Option<&Skill>) -> Option<Telling<'a>> {
    let own = |item: &Item| skill.is_none_or(|s| s.id == item.skill);
    let of = |name: SectionName, own: &dyn Fn(&Item) -> bool| {
        let sections =
            sections.iter().filter(|s| s.name == name && s.level != Some(Level::Support));
        let items = sections.flat_map(|section| {
            let numbered = section.items.iter().zip(1..);
            numbered.map(move |(item, number)| Telling { item, section, number })
        });
        let telling: Vec<Telling> =
            items.filter(|t| !t.item.likely.is_empty() && own(t.item)).collect();
        telling.into_iter()
    };
    let after = [SectionName::Practice, SectionName::ExitCheck];
    let found = |own: &dyn Fn(&Item) -> bool| {
        let examples = of(SectionName::Examples, own).rev();
        let best = examples.max_by_key(|t| t.item.likely.len());
        best.or_else(|| of(SectionName::Guided, own).find(|t| t.item.kind != Kind::Story))
            .or_else(|| after.into_iter().find_map(|name| of(name, own).next()))
    };
    found(&own).or_else(|| found(&|_| true))
}

fn errors(composing: &Composing, example: Option<&Item>) -> Vec<Expected> {
    let style = &composing.occasion.plan.style;
    let Some(item) = example else {
        // Without a sum to show them in, what goes wrong in general.
        let skill = composing.skill();
        return skill
            .iter()
            .flat_map(|s| &s.goes_wrong)
            .take(ERRORS)
            .map(|line| Expected { answer: String::new(), shows: in_house_words(line, style) })
            .collect();
    };
    let shows = |likely: &crate::exercise::Likely| {
        let name = likely.patterns.first();
        let known = name.and_then(|name| patterns::catalogue().iter().find(|p| p.name == name));
        known.map_or(likely.shows.clone(), |p| in_house_words(p.shows, style))
    };
    let mut expected: Vec<Expected> = Vec::new();
    for likely in &item.likely {
        let shows = shows(likely);
        // What two answers show is said once.
        if expected.len() < ERRORS && expected.iter().all(|e| e.shows != shows) {
            let answer = likely.answer.parse().map_or(likely.answer.clone(), |n| style.number(n));
            expected.push(Expected { answer, shows });
        }
    }
    expected
}

/// How many of each sheet to copy: where marks say who needs which, so many; else the usual shares.
fn sheets(composing: &Composing, pupils: u32) -> (Vec<u32>, [u32; 2]) {
    let [support, core, stretch] = copies::by_level(pupils);
    again::copies(composing, pupils).unwrap_or((vec![support], [core, stretch]))
}
