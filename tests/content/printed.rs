//! Findings of a teacher who read both terms, each as a test.

use crate::terms::{Term, all_items, items, none_of, terms};
use rungwise::exercise::makers::story::STORY_PATTERNS;
use rungwise::exercise::{Item, Kind, Working, patterns, verify};
use rungwise::lesson::{Level, Pack, SectionName};
use rungwise::plan::LessonKind;
use std::collections::{BTreeMap, BTreeSet};

/// The factors of an expression `a*b`.
fn factors(item: &Item) -> Option<(u64, u64)> {
    let (a, b) = item.expression.as_deref()?.split_once('*')?;
    Some((a.parse().ok()?, b.parse().ok()?))
}

/// Digits, ones first.
fn digits(mut n: u64) -> Vec<u64> {
    let mut found = vec![n % 10];
    while n >= 10 {
        n /= 10;
        found.push(n % 10);
    }
    found
}

/// Carries in the rows that are added to something, and carries when the rows are added.
fn carries(a: u64, b: u64) -> (usize, usize) {
    // The longer number stands on top, of two alike the first.
    let (a, b) = if digits(b).len() > digits(a).len() { (b, a) } else { (a, b) };
    let mut in_rows = 0;
    let mut columns = vec![0_u64; 20];
    for (place, digit) in digits(b).into_iter().enumerate() {
        let mut carry = 0;
        let top = digits(a);
        for (index, t) in top.iter().enumerate() {
            carry = (t * digit + carry) / 10;
            in_rows += usize::from(carry > 0 && index + 1 < top.len());
        }
        for (index, d) in digits(a * digit).into_iter().enumerate() {
            columns[index + place] += d;
        }
    }
    let (mut adding, mut carry) = (0, 0);
    for column in columns {
        carry = (column + carry) / 10;
        adding += usize::from(carry > 0);
    }
    (in_rows, adding)
}

#[test]
fn sums_said_to_have_no_carries_have_none_in_the_adding_either() {
    let said: Vec<&Item> = all_items().filter(|i| i.purpose == "no carries").collect();
    let wrong = said.iter().filter(|i| factors(i).is_none_or(|(a, b)| carries(a, b) != (0, 0)));
    none_of(&wrong.map(|i| format!("{} {}", i.id, i.prompt)).collect::<Vec<_>>());
    assert!(said.len() > 10, "{}", said.len());
}

/// What is said of the numbers of a sum counts the carries of its rows and of the adding alike.
#[test]
fn what_is_said_of_a_sums_carries_is_true() {
    let (mut found, mut seen) = (Vec::new(), BTreeSet::new());
    for item in all_items().filter(|i| i.kind == Kind::Written) {
        let Some((a, b)) = factors(item) else { continue };
        let (in_rows, adding) = carries(a, b);
        let true_of = match item.purpose.as_str() {
            "no carries" => in_rows + adding == 0,
            "no carries in the rows" => in_rows == 0 && adding > 0,
            "a carry or two" => (1..=2).contains(&(in_rows + adding)),
            "few carries" => in_rows == 3 && adding == 0,
            "few carries in the rows, some in the adding" => in_rows <= 3 && adding > 0,
            "carries in every row" => in_rows > 1 && adding == 0,
            "carries in every row and in the adding" => in_rows > 1 && adding > 0,
            "carries when the rows are added" => adding > 1,
            "carries" => in_rows > 0 && adding == 0,
            other => {
                assert!(!other.contains("carries"), "{other}");
                continue;
            }
        };
        seen.insert(item.purpose.clone());
        if !true_of {
            found.push(format!("{} {a} × {b}: {} ({in_rows}, {adding})", item.id, item.purpose));
        }
    }
    none_of(&found);
    assert!(seen.len() >= 7, "{seen:?}");
}

/// The words for a pattern, in the key.
fn words(name: &str) -> Option<&'static str> {
    let story = STORY_PATTERNS.iter().find(|p| p.name == name).map(|p| p.short);
    patterns::pattern(name).map(|p| p.short).or(story)
}

#[test]
fn every_pattern_that_is_named_has_words() {
    let mut found = BTreeSet::new();
    for item in all_items() {
        let chosen = item.choices.iter().filter_map(|c| c.pattern.as_deref());
        let likely = item.likely.iter().flat_map(|l| l.patterns.iter().map(String::as_str));
        for name in chosen.chain(likely) {
            if words(name).is_none_or(|w| w.is_empty() || w == name) {
                found.insert(format!("{name} ({})", item.id));
            }
        }
    }
    none_of(&found.into_iter().collect::<Vec<_>>());
}

fn texts(pack: &Pack) -> Vec<(String, String)> {
    let page = &pack.teacher;
    let mut all: Vec<(String, String)> = Vec::new();
    let mut add = |place: String, text: &str| all.push((place, text.to_owned()));
    for line in page.say.iter().chain(&page.success).chain([&page.objective, &page.errors_in]) {
        add(format!("L{:02}-TP", pack.lesson), line);
    }
    for question in &page.questions {
        add(format!("L{:02}-TP", pack.lesson), &question.ask);
        add(format!("L{:02}-TP", pack.lesson), &question.answer);
    }
    for error in &page.errors {
        add(format!("L{:02}-TP", pack.lesson), &error.shows);
    }
    for item in items(pack) {
        add(item.id.clone(), &item.prompt);
        if let Working::Steps { steps } = &item.working {
            steps.iter().for_each(|step| add(item.id.clone(), step));
        }
        item.choices.iter().for_each(|choice| add(item.id.clone(), &choice.text));
    }
    all
}

#[test]
fn no_sign_of_a_program_and_no_number_without_its_commas_is_printed() {
    let mut found = Vec::new();
    for Term { packs, .. } in terms() {
        for (place, text) in packs.iter().flat_map(texts) {
            let long = text.split(|c: char| !c.is_ascii_digit()).any(|run| run.len() > 3);
            if text.contains(['*', '`']) || text.contains("//") || long {
                found.push(format!("{place}: {text}"));
            }
        }
    }
    none_of(&found);
}

#[test]
fn a_question_to_the_class_is_one_sentence_that_names_its_sum() {
    let mut found = Vec::new();
    for pack in terms().iter().flat_map(|t| &t.packs) {
        let mut before = "";
        for question in &pack.teacher.questions {
            let ask = question.ask.as_str();
            let two = ask.matches('?').count() > 1
                || ask.contains("ring round")
                || ask.contains("=?")
                || ask.contains(" it lie");
            let answer = question.answer.as_str();
            let again = answer.len() > 40 && answer.split(';').next() == before.split(';').next();
            if two || again {
                found.push(format!("L{:02}: {ask} / {answer}", pack.lesson));
            }
            before = answer;
        }
    }
    none_of(&found);
}

/// The packs that teach this skill.
fn teaching(skill: &str) -> Vec<&'static Pack> {
    let all = terms().iter().flat_map(|t| &t.packs);
    let found: Vec<&Pack> =
        all.filter(|p| p.kind == LessonKind::Teach && p.skill.as_deref() == Some(skill)).collect();
    assert!(!found.is_empty(), "nobody teaches {skill}");
    found
}

fn examples(pack: &Pack) -> Vec<&Item> {
    pack.named(SectionName::Examples).flat_map(|s| &s.items).collect()
}

#[test]
fn lessons_on_checking_show_a_product_that_fails_and_one_worked_back() {
    for pack in teaching("checking-a-product") {
        let shown = examples(pack);
        assert!(shown.iter().any(|i| i.answer == "no, it is wrong"), "L{:02}", pack.lesson);
        assert!(shown.iter().any(|i| i.prompt.contains("working back")), "L{:02}", pack.lesson);
        for item in items(pack).filter(|i| i.skill == "checking-a-product") {
            let divisor = item.expression.as_deref().and_then(|e| e.split_once("//"));
            let long = divisor.is_some_and(|(_, by)| by.parse::<u64>().is_ok_and(|by| by > 9));
            assert!(!(item.kind == Kind::Missing && long), "{}: {}", item.id, item.prompt);
        }
    }
}

#[test]
fn zeros_at_the_ends_are_covered_and_not_multiplied_in_rows() {
    for pack in teaching("zeros-at-the-ends") {
        for item in items(pack).filter(|i| i.skill == "zeros-at-the-ends") {
            let long = matches!(item.working, Working::Long(_));
            assert!(!long, "{}: {}", item.id, item.prompt);
        }
        let route = |i: &&Item| matches!(i.working, Working::Route(_));
        assert!(examples(pack).iter().all(route), "L{:02}", pack.lesson);
    }
}

#[test]
fn neighbours_of_a_hundred_go_by_way_of_the_hundred() {
    for pack in teaching("near-hundreds") {
        let shown = examples(pack);
        let mut near = BTreeSet::new();
        for item in &shown {
            let (a, _) = factors(item).expect("a product");
            near.insert(a);
            let Working::Route(route) = &item.working else { panic!("{}", item.id) };
            assert!(route.steps[0].expression.contains("00"), "{}: {}", item.id, item.prompt);
        }
        assert_eq!(near.len(), shown.len(), "L{:02}: the same idea twice", pack.lesson);
        assert!(near.contains(&99) || near.contains(&98), "L{:02}: {near:?}", pack.lesson);
        assert!(near.contains(&101) || near.contains(&102), "L{:02}: {near:?}", pack.lesson);
    }
}

#[test]
fn no_prompt_is_telegraphic() {
    let short = |i: &&Item| {
        let p = i.prompt.as_str();
        p.starts_with("Digits of")
            || p.starts_with("Nines of")
            || p.contains("In the sum")
            || (p.contains(" thousand and ") && !p.contains("Write") && !p.starts_with("Which"))
    };
    none_of(
        &all_items().filter(short).map(|i| format!("{} {}", i.id, i.prompt)).collect::<Vec<_>>(),
    );
}

#[test]
fn no_wrong_answer_to_expect_is_absurd() {
    let mut found = Vec::new();
    for item in all_items() {
        let small = |l: &&rungwise::exercise::Likely| {
            let n: u64 = l.answer.parse().unwrap_or(u64::MAX);
            let least = factors(item).map_or(2, |(a, b)| a.max(b).min(a * b / 10));
            matches!(item.kind, Kind::Written | Kind::Mental | Kind::Estimate)
                && (n <= 1 || (n < least && item.kind != Kind::Estimate))
        };
        found.extend(
            item.likely
                .iter()
                .filter(small)
                .map(|l| format!("{} {}: {}", item.id, item.prompt, l.answer)),
        );
    }
    none_of(&found);
}

/// Items of a level of practice in the skill that is taught.
fn taught(pack: &Pack, level: Level) -> Vec<&Item> {
    let sheets = pack.named(SectionName::Practice).filter(|s| s.level == Some(level));
    let own = |i: &&Item| Some(i.skill.as_str()) == pack.skill.as_deref();
    sheets.flat_map(|s| &s.items).filter(own).collect()
}

/// What the sums of this kind cost on the average, in hundredths.
fn effort(items: &[&Item], kind: Kind) -> Option<usize> {
    let each = items.iter().filter(|i| i.kind == kind).filter_map(|i| {
        let (a, b) = factors(i)?;
        Some(match &i.working {
            Working::Route(route) => route.cost as usize,
            _ => {
                let (rows, adding) = carries(a, b);
                100 * (rows + adding)
            }
        })
    });
    let each: Vec<usize> = each.collect();
    (each.len() > 1).then(|| each.iter().sum::<usize>() / each.len())
}

/// Clearly: by more than a quarter, and by a whole carry or step in each sum.
#[test]
fn support_is_not_clearly_dearer_than_core() {
    let mut found = Vec::new();
    let mut seen = 0;
    for pack in terms().iter().flat_map(|t| &t.packs).filter(|p| p.kind == LessonKind::Teach) {
        for kind in [Kind::Written, Kind::Mental] {
            let level = |l| effort(&taught(pack, l), kind);
            if let (Some(support), Some(core)) = (level(Level::Support), level(Level::Core)) {
                seen += 1;
                if support * 4 > core * 5 && support >= core + 100 {
                    let skill = pack.skill.as_deref().unwrap_or_default();
                    found.push(format!("L{:02} {skill}: {support} against {core}", pack.lesson));
                }
            }
        }
    }
    none_of(&found);
    assert!(seen > 30, "{seen}");
}

#[test]
fn stretch_does_not_ask_the_same_question_again_and_again() {
    let mut shapes: BTreeMap<String, usize> = BTreeMap::new();
    let mut all = 0;
    for pack in terms().iter().flat_map(|t| &t.packs) {
        let sheets = pack.named(SectionName::Practice).filter(|s| s.level == Some(Level::Stretch));
        for item in sheets.flat_map(|s| &s.items) {
            let words = item.prompt.split(|c: char| !c.is_alphabetic()).filter(|w| w.len() > 1);
            *shapes.entry(words.take(4).collect::<Vec<_>>().join(" ")).or_default() += 1;
            all += 1;
        }
    }
    shapes.remove(""); // bare sums and missing factors
    let often: Vec<String> = shapes
        .iter()
        .filter(|(_, n)| **n * 9 > all)
        .map(|(shape, n)| format!("{shape}: {n} of {all}"))
        .collect();
    none_of(&often);
    let kinds = ["Use it", "True or false", "Which product is the", "What went wrong"];
    for kind in kinds {
        let count = all_items().filter(|i| i.prompt.contains(kind)).count();
        assert!(count > 10, "{kind}: {count}");
    }
}

/// Exactly one of the mistakes that are offered leads to what the pupil wrote.
#[test]
fn of_the_mistakes_offered_one_leads_to_what_the_pupil_wrote() {
    let mut seen = 0;
    for item in all_items().filter(|i| i.prompt.contains("What went wrong?")) {
        let numbers: Vec<u64> = item
            .prompt
            .replace([',', '\u{202F}'], "")
            .split(|c: char| !c.is_ascii_digit())
            .filter_map(|n| n.parse().ok())
            .collect();
        let [a, b, wrong] = numbers[..] else { panic!("{}", item.prompt) };
        for choice in &item.choices {
            let known = patterns::catalogue().iter().find(|p| p.shows == choice.text);
            let gives = known.expect("a pattern").answers(a, b).contains(&wrong);
            assert_eq!(gives, choice.correct, "{}: {}", item.id, choice.text);
        }
        seen += 1;
    }
    assert!(seen > 10, "{seen}");
}

/// The product of an item, whichever way round.
fn product(item: &Item) -> Option<(u64, u64)> {
    factors(item).map(|(a, b)| (a.min(b), a.max(b)))
}

/// The items that the pupils of a level have in a term, in order.
fn of_level(packs: &[Pack], level: Level) -> impl Iterator<Item = (SectionName, &Item)> {
    let sections = packs.iter().flat_map(|p| &p.sections);
    let theirs = sections.filter(move |s| s.level.is_none_or(|l| l == level));
    theirs.flat_map(|s| s.items.iter().map(|item| (s.name, item)))
}

const LEVELS: [Level; 3] = [Level::Support, Level::Core, Level::Stretch];

#[test]
fn no_pupil_meets_a_written_product_twice_in_practice_checks_homework_and_test() {
    use SectionName::{ExitCheck, Homework, Practice, Test};
    let mut found = Vec::new();
    let mut all = 0;
    for (term, level) in terms().iter().flat_map(|t| LEVELS.map(|level| (t, level))) {
        let mut seen: BTreeMap<(u64, u64), &str> = BTreeMap::new();
        let items = of_level(&term.packs, level).filter(|(_, i)| i.kind == Kind::Written);
        for (_, item) in items.filter(|(s, _)| [Practice, ExitCheck, Homework, Test].contains(s)) {
            all += 1;
            if let Some(before) = seen.insert(product(item).expect("a product"), &item.id) {
                found.push(format!("{} {} was {before}", item.id, item.prompt));
            }
        }
    }
    assert!(all > 1_000, "{all}");
    none_of(&found);
}

#[test]
fn no_sum_for_the_head_comes_again_and_again() {
    let mut found = Vec::new();
    for (term, level) in terms().iter().flat_map(|t| LEVELS.map(|level| (t, level))) {
        let mut times: BTreeMap<(u64, u64), Vec<&str>> = BTreeMap::new();
        for (_, item) in of_level(&term.packs, level).filter(|(_, i)| i.kind == Kind::Mental) {
            // Tables facts are few and come often.
            if let Some(key) = product(item).filter(|(_, b)| *b > 10) {
                times.entry(key).or_default().push(&item.id);
            }
        }
        let often = times.iter().filter(|(_, ids)| ids.len() > 3);
        found.extend(often.map(|((a, b), ids)| format!("{a} × {b}: {}", ids.join(" "))));
    }
    none_of(&found);
}

#[test]
fn a_key_altered_on_purpose_is_found() {
    let mut found = Vec::new();
    for item in all_items() {
        let mut wrong = item.clone();
        wrong.answer = match item.answer.chars().last() {
            Some(c) if c.is_ascii_digit() => format!("{}9", item.answer),
            _ => format!("{} nine", item.answer),
        };
        if verify(&wrong).is_ok() {
            found.push(format!("{} {:?} {} | {}", item.id, item.kind, item.prompt, wrong.answer));
        }
    }
    none_of(&found);
}

#[test]
fn an_option_marked_right_on_purpose_is_found() {
    let mut found = Vec::new();
    // Which mistake it was is for the catalogue of patterns to say, and which way is quick for the
    // costs of the routes: both have tests of their own.
    let judged = |i: &&Item| {
        !i.prompt.contains("What went wrong?") && !i.prompt.contains("is quick and safe?")
    };
    for item in all_items().filter(|i| i.kind == Kind::Choice).filter(judged) {
        for other in item.choices.iter().filter(|c| !c.correct) {
            let mut wrong = item.clone();
            wrong.answer.clone_from(&other.text);
            wrong.choices.iter_mut().for_each(|c| c.correct = c.text == other.text);
            if verify(&wrong).is_ok() {
                found.push(format!("{} {} | {}", item.id, item.prompt, other.text));
            }
        }
    }
    none_of(&found);
}
