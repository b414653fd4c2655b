//! Answers in; who is stuck on what, and whether the class goes on, out.

use super::answers::{Answers, is_test, marked_items};
use super::decide::{Class, Tally, decide};
use super::diagnose::{Model, Observation, Suspect, by_hand, decider};
use super::question::Question;
use crate::lesson::Pack;
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};

/// What one pupil's answers show.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PupilMark {
    /// The pupil's label.
    pub pupil: String,
    /// How many answers are right.
    pub right: usize,
    /// How many items were answered; what is not answered is not wrong.
    pub of: usize,
    /// Patterns that may lie behind the wrong answers, most probable first.
    pub patterns: Vec<Suspect>,
    /// The pattern sure enough to be named.
    pub named: Option<String>,
    /// The pattern that the rule of three fitting answers names, which can be checked by hand.
    pub by_hand: Option<String>,
    /// An item of the pack, not yet marked, on which the two most probable patterns differ.
    pub ask_next: Option<String>,
    /// The items answered wrongly.
    pub wrong: Vec<String>,
    /// The items not answered.
    pub unanswered: Vec<String>,
    /// Wrong answers that fit no pattern, by item.
    pub stray: IndexMap<String, String>,
}

/// A wrong answer to one item and how often it was given.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct WrongPile {
    /// The answer, digits without grouping.
    pub answer: String,
    /// How many pupils gave it.
    pub count: u32,
    /// The patterns that give it; none for a stray answer.
    pub patterns: Vec<String>,
}

/// What happened to one item.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ItemMark {
    /// The item's id.
    pub id: String,
    /// How many got it right.
    pub right: u32,
    /// The wrong answers, commonest first.
    pub wrong: Vec<WrongPile>,
}

/// Pupils who may be helped together.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Group {
    /// The pattern that is their most probable one, at least one half.
    pub pattern: String,
    /// The pupils' labels, in the order of the file.
    pub pupils: Vec<String>,
}

/// A lesson's answers, marked.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Marking {
    /// The lesson's number.
    pub lesson: u32,
    /// The pack's version, "A" or "B".
    pub version: String,
    /// Each pupil who answered anything, in the order of the file.
    pub pupils: Vec<PupilMark>,
    /// Each item that is marked, in the order of the pack.
    pub items: Vec<ItemMark>,
    /// Who may be helped together, largest group first.
    pub groups: Vec<Group>,
    /// Whether the class goes on.
    pub class: Class,
}

/// Marks answers against the pack they were given to.
pub fn mark(pack: &Pack, answers: &Answers) -> Marking {
    mark_by(pack, answers, &Model::default())
}

/// The same with other numbers in the model.
pub fn mark_by(pack: &Pack, answers: &Answers, model: &Model) -> Marking {
    let items = marked_items(pack);
    let questions: Vec<Question> = items.iter().map(|item| Question::of(item)).collect();
    let unmarked: Vec<Question> = (pack.sections.iter().flat_map(|s| &s.items))
        .filter(|item| items.iter().all(|marked| marked.id != item.id))
        .filter(|item| items.iter().any(|marked| marked.kind == item.kind))
        .map(Question::of)
        .collect();
    let marked: Vec<(PupilMark, Tally)> = answers
        .pupils
        .iter()
        .filter_map(|(pupil, given)| {
            let seen = observed(&questions, given);
            let tally = Tally {
                right: seen.iter().filter(|s| s.question.is_right(&s.given)).count(),
                answered: seen.len(),
                asked: questions.len(),
            };
            let mut mark = pupil_mark(pupil, &seen, tally, &unmarked, model);
            mark.unanswered = (questions.iter().map(|q| &q.item.id))
                .filter(|id| seen.iter().all(|s| s.question.item.id != **id))
                .cloned()
                .collect();
            (tally.answered > 0).then_some((mark, tally))
        })
        .collect();
    let items: Vec<ItemMark> = questions.iter().map(|q| item_mark(q, answers)).collect();
    let tallies: Vec<Tally> = marked.iter().map(|(_, tally)| *tally).collect();
    let class = decide(&tallies, &items, is_test(pack));
    let pupils: Vec<PupilMark> = marked.into_iter().map(|(mark, _)| mark).collect();
    let (lesson, version) = (pack.lesson, pack.version.clone());
    Marking { lesson, version, groups: groups(&pupils), pupils, items, class }
}

pub(super) fn observed<'a>(
    questions: &'a [Question],
    given: &IndexMap<String, Option<String>>,
) -> Vec<Observation<'a>> {
    let seen = questions.iter().filter_map(|question| {
        let given = given.get(&question.item.id)?.as_deref()?;
        Some(Observation { question, given: question.meant(given) })
    });
    seen.collect()
}

fn pupil_mark(
    pupil: &str,
    seen: &[Observation],
    tally: Tally,
    unmarked: &[Question],
    model: &Model,
) -> PupilMark {
    let patterns = model.suspects(seen);
    let ask_next = match patterns.as_slice() {
        [first, second, ..] => decider(unmarked, &first.name, &second.name),
        _ => None,
    };
    let stray = seen
        .iter()
        .filter(|s| !s.question.is_right(&s.given) && s.question.patterns_of(&s.given).is_empty())
        .map(|s| (s.question.item.id.clone(), s.given.clone()))
        .collect();
    PupilMark {
        pupil: pupil.to_owned(),
        right: tally.right,
        of: tally.answered,
        named: model.named(&patterns).map(str::to_owned),
        by_hand: by_hand(seen),
        patterns,
        ask_next,
        wrong: (seen.iter().filter(|s| !s.question.is_right(&s.given)))
            .map(|s| s.question.item.id.clone())
            .collect(),
        unanswered: Vec::new(),
        stray,
    }
}

/// What one pupil's answers to several lessons show together: evidence adds up over the lessons of
/// a skill. Packs and answers in any order; `None` where the pupil answered nothing.
pub fn across(lessons: &[(&Pack, &Answers)], pupil: &str, model: &Model) -> Option<PupilMark> {
    let questions: Vec<(Vec<Question>, &Answers)> = lessons
        .iter()
        .map(|(pack, answers)| {
            (marked_items(pack).into_iter().map(Question::of).collect(), *answers)
        })
        .collect();
    let seen: Vec<Observation> = questions
        .iter()
        .filter_map(|(questions, answers)| Some(observed(questions, answers.pupils.get(pupil)?)))
        .flatten()
        .collect();
    let right = seen.iter().filter(|s| s.question.is_right(&s.given)).count();
    let tally = Tally { right, answered: seen.len(), asked: seen.len() };
    (!seen.is_empty()).then(|| pupil_mark(pupil, &seen, tally, &[], model))
}

fn item_mark(question: &Question, answers: &Answers) -> ItemMark {
    let id = &question.item.id;
    let single = answers.pupils.values().filter_map(|given| given.get(id)?.as_deref());
    let piles = answers.piles.iter().filter(|p| p.item == *id);
    let given = single.map(|answer| (answer, 1)).chain(piles.map(|p| (p.answer.as_str(), p.count)));
    let mut right: u32 = 0;
    let mut wrong: IndexMap<String, u32> = IndexMap::new();
    for (answer, count) in given {
        let meant = question.meant(answer);
        let sum =
            if question.is_right(&meant) { &mut right } else { wrong.entry(meant).or_insert(0) };
        *sum = sum.saturating_add(count);
    }
    let mut wrong: Vec<WrongPile> = wrong
        .into_iter()
        .map(|(answer, count)| WrongPile { patterns: question.patterns_of(&answer), answer, count })
        .collect();
    wrong.sort_by_key(|pile| std::cmp::Reverse(pile.count));
    ItemMark { id: id.clone(), right, wrong }
}

fn groups(pupils: &[PupilMark]) -> Vec<Group> {
    let mut found: IndexMap<&str, Vec<String>> = IndexMap::new();
    for pupil in pupils {
        if let Some(leading) = pupil.leading() {
            found.entry(leading).or_default().push(pupil.pupil.clone());
        }
    }
    let group = |(pattern, pupils): (&str, _)| Group { pattern: pattern.to_owned(), pupils };
    let mut groups: Vec<Group> = found.into_iter().map(group).collect();
    groups.sort_by_key(|group| std::cmp::Reverse(group.pupils.len()));
    groups
}
