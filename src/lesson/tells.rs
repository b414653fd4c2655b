//! What an exit check can and cannot tell about the mistakes to expect.
//!
//! The mistakes to expect are those that stand in the key beside this lesson's own items, so they
//! follow the class's house style. Two of them that give the same answer on every item of the check
//! cannot be told apart by it; one that shows on a single item or on none is hardly met. Brown and
//! Burton (1978) let their program judge a test in the same way.

use super::{Level, Section, SectionName, meaning};
use crate::exercise::makers::story::story_pattern;
use crate::exercise::patterns::{
    Family, Pattern, Task, catalogue, likely_written, likely_wrong_estimate, likely_wrong_mental,
    likely_wrong_row, pattern, shows_in,
};
use crate::exercise::{Accept, Item, Kind, Likely, Working};
use crate::method::{HouseStyle, Written};
use crate::words::{count, join};
use indexmap::{IndexMap, IndexSet};
use serde::{Deserialize, Serialize};

/// What the items of a check can and cannot tell about the patterns to expect.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct CheckTells {
    /// The patterns to expect in the lesson, by name, those of the check first.
    pub expected: Vec<String>,
    /// Those that give the same answers on every item of the check, together.
    pub alike: Vec<Vec<String>>,
    /// Those that show on one item of the check or on none, with the items.
    pub hardly_met: IndexMap<String, Vec<String>>,
}

/// On so many items a pattern must show to be more than hardly met (one answer can be a slip).
const MET: usize = 2;

/// What a check of these items can tell; the sections are those of the lesson.
pub fn check_tells(items: &[&Item], sections: &[Section], style: &HouseStyle) -> CheckTells {
    let skills: IndexSet<&str> = items.iter().map(|item| item.skill.as_str()).collect();
    // What stands in the key of the check, then in that of what everybody works at.
    let for_all = |s: &&Section| {
        let about = [SectionName::Examples, SectionName::Guided, SectionName::Practice];
        about.contains(&s.name) && !matches!(s.level, Some(Level::Support | Level::Stretch))
    };
    let alike = |item: &&Item| {
        skills.contains(item.skill.as_str()) && items.iter().any(|own| own.kind == item.kind)
    };
    let worked_at = sections.iter().filter(for_all).flat_map(|s| &s.items).filter(alike);
    let expected: IndexSet<&str> =
        items.iter().copied().chain(worked_at).flat_map(patterns_in_key).collect();
    let answers: Vec<IndexMap<String, String>> =
        items.iter().map(|item| wrong_answers(item, style)).collect();
    let given = |name: &str| -> Vec<Option<&String>> {
        answers.iter().map(|answers| answers.get(name)).collect()
    };
    let mut tells = CheckTells::default();
    let mut same: Same = IndexMap::new();
    for name in expected {
        tells.expected.push(name.to_owned());
        let given = given(name);
        let met = items.iter().zip(&given).filter(|(_, answer)| answer.is_some());
        let met: Vec<String> = met.map(|(item, _)| item.id.clone()).collect();
        if !met.is_empty() {
            same.entry(given).or_default().push(name.to_owned());
        }
        if met.len() < MET {
            tells.hardly_met.insert(name.to_owned(), met);
        }
    }
    add_alike(&mut same, items, &tells);
    tells.alike = same.into_values().filter(|names| names.len() > 1).collect();
    tells
}

/// By what is answered on every item: the mistakes that answer so.
type Same<'a> = IndexMap<Vec<Option<&'a String>>, Vec<String>>;

/// Adds the mistakes of the catalogue that are not expected in this class but give the same answers
/// as one that is and that seemed to be told: what both answer points at neither.
fn add_alike(same: &mut Same, items: &[&Item], tells: &CheckTells) {
    let tasks: Vec<Option<Task>> = items.iter().map(|item| Task::of(item)).collect();
    let others = catalogue().iter().filter(|p| p.family != Family::SingleFact);
    for other in others.filter(|p| tells.expected.iter().all(|name| name != p.name)) {
        let given: Vec<Option<String>> = tasks
            .iter()
            .zip(items)
            .map(|(task, item)| {
                let task = task.as_ref().filter(|_| can_show(other, item))?;
                let answers = task.answers(other);
                let (answer, _) = answers.iter().find(|(_, turned)| !turned)?;
                Some(answer.to_string()).filter(|answer| !is_right(item, answer))
            })
            .collect();
        let told = |names: &[String]| names.iter().all(|n| !tells.hardly_met.contains_key(n));
        let found = same.iter_mut().find(|(answers, names)| {
            told(names) && answers.iter().zip(&given).all(|(a, b)| *a == b.as_ref())
        });
        if let Some((_, names)) = found {
            names.push(other.name.to_owned());
        }
    }
}

/// Whether a pattern can show in the written method that an item is done by.
fn can_show(pattern: &Pattern, item: &Item) -> bool {
    match (item.kind, &item.working) {
        (Kind::Written, Working::Grid(_)) => shows_in(pattern, Written::Grid),
        (Kind::Written, Working::Lattice(_)) => shows_in(pattern, Written::Lattice),
        (Kind::Written, _) => shows_in(pattern, Written::Long),
        _ => true,
    }
}

fn patterns_in_key(item: &Item) -> Vec<&str> {
    let likely = item.likely.iter().flat_map(|l| &l.patterns);
    let options = item.choices.iter().filter_map(|c| c.pattern.as_ref());
    likely.chain(options).map(String::as_str).collect()
}

/// What each pattern answers to an item in a class that writes like this; only wrong answers.
fn wrong_answers(item: &Item, style: &HouseStyle) -> IndexMap<String, String> {
    let mut found: IndexMap<String, String> = IndexMap::new();
    let more = match (Task::of(item), &item.working) {
        (Some(Task::Written(a, b)), Working::Grid(_)) => likely_written(a, b, Written::Grid, style),
        (Some(Task::Written(a, b)), Working::Lattice(_)) => {
            likely_written(a, b, Written::Lattice, style)
        }
        (Some(Task::Written(a, b)), _) => likely_written(a, b, Written::Long, style),
        (Some(Task::Row { a, digit, place }), _) => likely_wrong_row(a, digit, place, style),
        (Some(Task::Mental(a, b)), Working::Route(route)) => likely_wrong_mental(a, b, route.name),
        (Some(Task::Estimate(a, b)), _) => likely_wrong_estimate(a, b),
        _ => Vec::new(),
    };
    for Likely { answer, patterns, .. } in item.likely.iter().chain(&more) {
        if is_right(item, answer) {
            continue;
        }
        for name in patterns {
            found.entry(name.clone()).or_insert_with(|| answer.clone());
        }
    }
    for option in item.choices.iter().filter(|c| !c.correct) {
        if let Some(name) = &option.pattern {
            found.entry(name.clone()).or_insert_with(|| option.text.clone());
        }
    }
    found
}

fn is_right(item: &Item, answer: &str) -> bool {
    let number = |text: &str| text.parse::<u128>().ok();
    let accepted = match (&item.accept, number(answer)) {
        (Some(Accept::Between { least, most }), Some(given)) => {
            number(least).is_some_and(|n| n <= given) && number(most).is_some_and(|n| given <= n)
        }
        (Some(Accept::Any(right)), _) => right.iter().any(|r| r == answer),
        _ => false,
    };
    accepted || (item.kind != Kind::Estimate && item.answer == answer)
}

/// A pattern in at most 24 letters, as the key has it.
fn short(name: &str) -> String {
    let known = pattern(name).map(|p| p.short).or(story_pattern(name).map(|p| p.short));
    match known {
        Some(short) => short.to_owned(),
        None => meaning(name).map_or_else(|| name.replace('-', " "), |m| m.shows),
    }
}

impl CheckTells {
    /// How many of the patterns to expect give answers of their own and are met more than once.
    pub fn told(&self) -> usize {
        let alike = |name: &String| self.alike.iter().flatten().any(|n| n == name);
        let clear = |name: &&String| !alike(name) && !self.hardly_met.contains_key(*name);
        self.expected.iter().filter(clear).count()
    }

    /// Two or three plain sentences for the teacher's page.
    pub fn sentences(&self) -> Vec<String> {
        let all = count(self.expected.len(), "mistake");
        let first = match (self.told(), self.expected.len()) {
            (_, 0) => "These answers say right or wrong and point at no single mistake.".to_owned(),
            (1, 1) => "The one mistake to expect shows here more than once.".to_owned(),
            (told, every) if told == every => format!(
                "Each of the {all} to expect shows here more than once, by answers of its own."
            ),
            (0, 1) => "The one mistake to expect does not show here twice by answers of its own."
                .to_owned(),
            (0, _) => {
                format!("Of {all} to expect, none shows here more than once by answers of its own.")
            }
            (1, _) => {
                format!("Of {all} to expect, one shows here more than once by answers of its own.")
            }
            (told, _) => format!(
                "This check can show {told} of the {all} to expect, each at least twice and by answers of its own."
            ),
        };
        let quoted = |name: &String| format!("“{}”", short(name));
        let together =
            |names: &Vec<String>| join(&names.iter().map(quoted).collect::<Vec<_>>(), "and");
        let alike = most(self.alike.iter().map(together));
        let seldom = most(self.hardly_met.keys().map(quoted));
        let mut sentences = vec![first];
        if !alike.is_empty() {
            let pairs = alike.join("; ");
            sentences.push(format!(
                "These give the same answers here, so ask to see the working: {pairs}."
            ));
        }
        if !seldom.is_empty() {
            let names = join(&seldom, "and");
            sentences.push(format!("Seen at most once, so only a hint: {names}."));
        }
        sentences
    }
}

/// So many things are named on the page.
const NAMED: usize = 3;

/// The first few, and how many more there are.
fn most(all: impl Iterator<Item = String>) -> Vec<String> {
    let mut list: Vec<String> = all.collect();
    if list.len() > NAMED + 1 {
        let rest = list.split_off(NAMED).len();
        list.push(format!("{rest} more"));
    }
    list
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::*;

    fn written(id: &str, (a, b): (u64, u64)) -> Item {
        let style = HouseStyle::default();
        let mut item = fixture::first_lesson_of("long-two-by-two").1.sections[0].items[0].clone();
        item.id = id.to_owned();
        item.kind = Kind::Written;
        item.accept = None;
        item.expression = Some(format!("{a}*{b}"));
        item.answer = (a * b).to_string();
        item.working = Working::Long(crate::method::long(a, b, &style));
        item.likely = likely_written(a, b, Written::Long, &style);
        item
    }

    /// 423 × 206: a row closed up behind the zero and a hundreds row shifted once only both give
    /// 2,538 + 8,460 = 10,998. In 423 × 216 no row is skipped, so that only the second is left.
    #[test]
    fn what_gives_the_same_answers_is_alike_until_an_item_parts_it() {
        let both = ["row-after-zero-closed-up", "hundreds-row-shifted-once"];
        let alike = |tells: &CheckTells| {
            tells.alike.iter().any(|names| both.iter().all(|b| names.iter().any(|n| n == b)))
        };
        let style = HouseStyle::default();
        let (one, two) = (written("X1", (423, 206)), written("X2", (423, 216)));
        let single = check_tells(&[&one], &[], &style);
        assert!(alike(&single), "{single:?}");
        assert_eq!(single.hardly_met.len(), single.expected.len(), "one item meets nothing twice");
        assert_eq!(single.told(), 0);
        let parted = check_tells(&[&one, &two], &[], &style);
        assert!(!alike(&parted), "{parted:?}");
        assert_eq!(parted.hardly_met[both[0]], ["X1"]);
        assert!(!parted.hardly_met.contains_key("placeholder-left-out"));
        let said = single.sentences().join(" ");
        for part in ["none shows here more than once", "ask to see the working", "more."] {
            assert!(said.contains(part), "{part:?} in {said}");
        }
        let none = CheckTells::default().sentences();
        assert_eq!(none, ["These answers say right or wrong and point at no single mistake."]);
    }

    /// 408 × 25 and 484 × 25 left at times 100, with both numbers doubled, or with the parts
    /// multiplied one after the other (20 × 5) come to the same: none of them is told by answers of
    /// its own, though a class that works in parts expects only the first.
    #[test]
    fn a_mistake_that_is_not_expected_but_answers_the_same_is_alike() {
        let (_, pack) = fixture::first_lesson_of("fives-and-twenty-fives");
        let mut any = pack.named(SectionName::ExitCheck).flat_map(|s| &s.items);
        let mental = any.find(|item| item.kind == Kind::Mental).expect("a sum");
        let sum = |(id, a): (&str, u64)| {
            let mut item = mental.clone();
            item.id = id.to_owned();
            item.expression = Some(format!("{a}*25"));
            item.answer = (a * 25).to_string();
            item.likely = vec![Likely {
                answer: (a * 100).to_string(),
                patterns: vec!["not-halved-or-quartered".to_owned()],
                shows: "not halved or quartered".to_owned(),
            }];
            item
        };
        let items = [("X1", 408), ("X2", 484)].map(sum);
        let tells = check_tells(&[&items[0], &items[1]], &[], &HouseStyle::default());
        assert_eq!((tells.expected.len(), tells.told()), (1, 0));
        assert!(tells.alike[0].iter().any(|name| name == "both-doubled"), "{tells:?}");
        assert!(!tells.sentences().join(" ").contains("more than once, "), "{tells:?}");
    }

    /// Every sentence is checked against the items: what is said to be met once or never is, and
    /// what is said to be told apart has an answer on two items that no other mistake gives there.
    #[test]
    fn every_lesson_with_a_check_says_truly_what_it_cannot_tell() {
        for skill in ["long-two-by-two", "rounding-and-adjusting", "story-one-step", "lattice"] {
            let (_, pack) = fixture::first_lesson_of(skill);
            let tells = pack.teacher.check_tells.clone();
            let check = pack.named(SectionName::ExitCheck).flat_map(|s| &s.items);
            let items: Vec<&Item> = check.collect();
            assert_eq!(tells.is_some(), !items.is_empty(), "{skill}");
            let Some(tells) = tells else { continue };
            let answers: Vec<_> =
                items.iter().map(|item| wrong_answers(item, &pack.heading.style)).collect();
            for name in &tells.expected {
                let met = answers.iter().filter(|a| a.contains_key(name)).count();
                assert_eq!(tells.hardly_met.contains_key(name), met < 2, "{skill}: {name}");
            }
            for (item, answers) in items.iter().zip(&answers) {
                assert!(answers.values().all(|a| *a != item.answer), "{}", item.id);
            }
            assert!((1..=3).contains(&tells.sentences().len()), "{skill}");
        }
    }
}
