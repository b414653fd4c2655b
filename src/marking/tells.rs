//! What a check can and cannot tell, found by letting made-up pupils do it.

use super::diagnose::Observation;
use super::model::Model;
use super::question::Question;
use crate::exercise::Item;
use crate::exercise::patterns::{Family, pattern};
use crate::lesson::{CheckTells, Pack, check_tells};
use indexmap::IndexSet;
use serde::{Deserialize, Serialize};

/// What the items of one check can tell about patterns in the catalogue. Single facts are left
/// out: each shows only where its two digits meet.
#[derive(Debug, Clone, PartialEq, Eq, Default, Serialize, Deserialize)]
pub struct Tells {
    /// Patterns that would be named from this check alone, if a pupil used them wherever they show.
    pub named: Vec<String>,
    /// Patterns that show, but on too few items to be named from this check alone.
    pub hinted: Vec<String>,
    /// Patterns that give the same answers as another on every item: the check cannot part them.
    pub alike: Vec<[String; 2]>,
    /// The same of the mistakes that a class writing like this is to be expected to make, as the
    /// teacher's page says it.
    #[serde(default)]
    pub expected: CheckTells,
}

/// What these questions of a pack can tell.
pub(super) fn tells(pack: &Pack, questions: &[Question], model: &Model) -> Tells {
    let items: Vec<&Item> = questions.iter().map(|q| q.item).collect();
    let expected = check_tells(&items, &pack.sections, &pack.heading.style);
    let shown: IndexSet<&str> = questions
        .iter()
        .flat_map(|q| q.predicted.keys())
        .map(String::as_str)
        .filter(|name| pattern(name).is_none_or(|p| p.family != Family::SingleFact))
        .collect();
    let answers = |name: &str| -> Vec<&str> {
        let first = |q| usual(q, name).unwrap_or("");
        questions.iter().map(first).collect()
    };
    let mut tells = Tells { expected, ..Tells::default() };
    for (place, &name) in shown.iter().enumerate() {
        let given = answers(name);
        let others = shown.iter().skip(place + 1).filter(|other| answers(other) == given);
        tells.alike.extend(others.map(|other| [name.to_owned(), (*other).to_owned()]));
        let seen: Vec<Observation> = questions
            .iter()
            .map(|question| {
                let given = usual(question, name).map_or_else(|| question.right(), str::to_owned);
                Observation { question, given, newest: true }
            })
            .collect();
        let suspects = model.weigh(&seen, 0);
        let named = model.named(&suspects).0 == Some(name);
        if named { &mut tells.named } else { &mut tells.hinted }.push(name.to_owned());
    }
    tells
}

/// What a pattern answers the usual way round, where it shows.
fn usual<'q>(question: &'q Question, name: &str) -> Option<&'q str> {
    let answers = question.predicted.get(name)?;
    answers.first().map(|(answer, _)| answer.as_str())
}
