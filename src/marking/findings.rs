//! What all marks together say: the commonest patterns of each skill, the test's missed items.

use super::answers::{Answers, is_test, marked_items};
use super::diagnose::Observation;
use super::marks::{ItemMark, Marking, PupilMark, mark_by, observed, one_of};
use super::model::Model;
use super::question::Question;
use crate::exercise::Item;
use crate::lesson::{Findings, Missed, Pack, PatternFinding, SkillFinding};
use indexmap::{IndexMap, IndexSet};
use serde::{Deserialize, Serialize};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// From which probability on a pattern counts as found: more probable than all else together.
pub(super) const FOUND_FROM: f64 = 0.5;

/// How many checks of a skill, counted from the last, are taken together: what has been mended
/// since is not held against anybody (a default without a source).
const CHECKS_TOGETHER: usize = 2;

/// How many pupils a pattern was found with in one skill.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Finding {
    /// The skill.
    pub skill: String,
    /// The pattern's name.
    pub pattern: String,
    /// The pupils' labels, in the order they were found.
    pub pupils: Vec<String>,
}

/// The patterns held more probable than not in single lessons, by skill in the order met,
/// commonest first.
///
/// A pattern counts for each skill whose items it explains, and a pupil once for each.
pub fn findings(lessons: &[(Pack, Marking)]) -> Vec<Finding> {
    let mut found: IndexMap<&str, IndexMap<&str, IndexSet<&str>>> = IndexMap::new();
    for (pack, marking) in lessons {
        let items = || pack.sections.iter().flat_map(|s| &s.items);
        for pupil in &marking.pupils {
            let Some(first) = pupil.patterns.first().filter(|_| pupil.leading().is_some()) else {
                continue;
            };
            for item in items().filter(|item| first.items.contains(&item.id)) {
                let patterns = found.entry(&item.skill).or_default();
                patterns.entry(&first.name).or_default().insert(&pupil.pupil);
            }
        }
    }
    let mut listed = Vec::new();
    for (skill, patterns) in found {
        let mut patterns: Vec<_> = patterns.into_iter().collect();
        patterns.sort_by_key(|(_, pupils)| Reverse(pupils.len()));
        listed.extend(patterns.into_iter().map(|(pattern, pupils)| Finding {
            skill: skill.to_owned(),
            pattern: pattern.to_owned(),
            pupils: pupils.into_iter().map(str::to_owned).collect(),
        }));
    }
    listed
}

/// What the class's answers show, for composing what comes next; lessons in the order of their
/// dates. Evidence adds up over the last checks of a skill.
pub fn class_findings(lessons: &[(Pack, Answers)], model: &Model) -> Findings {
    let mut all = Findings::default();
    let (tests, checks): (Vec<_>, Vec<_>) = lessons.iter().partition(|(pack, _)| is_test(pack));
    let marked: Vec<Marking> =
        checks.iter().map(|(pack, answers)| mark_by(pack, answers, model)).collect();
    let skills: IndexSet<&str> = checks
        .iter()
        .filter(|(_, answers)| !answers.pupils.is_empty() || !answers.piles.is_empty())
        .flat_map(|(pack, _)| marked_items(pack))
        .map(|item| item.skill.as_str())
        .collect();
    for skill in skills {
        let of_skill = |item: &&Item| item.skill == skill;
        let here: Vec<usize> = (0..checks.len())
            .filter(|&n| marked_items(&checks[n].0).iter().any(of_skill))
            .collect();
        let Some(&last) = here.last() else { continue };
        let ids: Vec<&str> = (marked_items(&checks[last].0).into_iter().filter(of_skill))
            .map(|item| item.id.as_str())
            .collect();
        let (answered, right) = all_right(&marked[last], &ids);
        let (right_pupils, wrong_pupils) = right_and_wrong(&marked[last], &ids);
        let together = &here[here.len().saturating_sub(CHECKS_TOGETHER)..];
        let together: Vec<&(Pack, Answers)> = together.iter().map(|&n| checks[n]).collect();
        let finding = SkillFinding {
            answered,
            right,
            checked_in: Some(checks[last].0.lesson),
            all_right: right_pupils,
            wrong: wrong_pupils,
            patterns: patterns_of(&together, skill, model)
                .into_iter()
                .map(|found| PatternFinding { group: group_of(&marked[last], &found), ..found })
                .chain(patterns_of_slips(&marked[last], skill))
                .collect(),
        };
        all.skills.insert(skill.to_owned(), finding);
    }
    if let Some((pack, answers)) = tests.last() {
        all.missed = missed(pack, &mark_by(pack, answers, model));
    }
    all
}

/// With how many pupils each pattern was found in these checks, taken one by one: what a class's
/// own weights are learnt from ([`Model::after`]).
pub fn found_with(lessons: &[(Pack, Answers)]) -> BTreeMap<String, u32> {
    let plain = Model::default();
    let mut found: BTreeMap<String, IndexSet<String>> = BTreeMap::new();
    for (pack, answers) in lessons {
        let questions: Vec<Question> = marked_items(pack).into_iter().map(Question::of).collect();
        for (pupil, given) in &answers.pupils {
            let first = plain.weigh(&observed(&questions, given), 0).into_iter().next();
            if let Some(first) = first.filter(|s| s.probability >= FOUND_FROM) {
                found.entry(first.name).or_default().insert(pupil.clone());
            }
        }
    }
    let count = |pupils: IndexSet<String>| u32::try_from(pupils.len()).unwrap_or(u32::MAX);
    found.into_iter().map(|(name, pupils)| (name, count(pupils))).collect()
}

/// How many pupils answered all of these items, and how many have all of them right; items that
/// nobody answered are left out, and who did not finish the others counts for neither. Of piles and
/// where fewer than half finished: what can be said without knowing the pupils.
fn all_right(marking: &Marking, ids: &[&str]) -> (u32, u32) {
    let items = marking.items.iter().filter(|i| ids.contains(&i.id.as_str()) && i.answered());
    let items: Vec<&ItemMark> = items.collect();
    let among = |list: &[String]| items.iter().filter(|item| list.contains(&item.id)).count();
    let (mut counts, mut unfinished) = ((0, 0), 0);
    for pupil in &marking.pupils {
        match (among(&pupil.wrong), among(&pupil.unanswered)) {
            (0, 0) => counts = (counts.0 + 1, counts.1 + 1),
            (_, 0) => counts.0 += 1,
            _ => unfinished += 1,
        }
    }
    if counts.0 > 0 && unfinished <= counts.0 {
        return counts;
    }
    // At most so many as have the hardest item right.
    let share = |item: &&&ItemMark| u64::from(item.right) * u64::from(u32::MAX) / item.slips();
    let hardest = items.iter().min_by_key(share);
    hardest.map_or((0, 0), |item| (item.right.saturating_add(item.missed()), item.right))
}

/// The pupils who have all of these items right, and those who have one wrong.
fn right_and_wrong(marking: &Marking, ids: &[&str]) -> (Vec<String>, Vec<String>) {
    let among = |list: &[String]| list.iter().any(|id| ids.contains(&id.as_str()));
    let (wrong, others): (Vec<_>, Vec<_>) = marking.pupils.iter().partition(|p| among(&p.wrong));
    let unanswered = |p: &&PupilMark| {
        let open = p.unanswered.iter().filter(|id| ids.contains(&id.as_str()));
        open.filter(|id| marking.items.iter().any(|i| i.id == **id && i.answered())).count() > 0
    };
    let label = |p: &PupilMark| p.pupil.clone();
    let right = others.into_iter().filter(|p| !unanswered(p)).map(label).collect();
    (right, wrong.into_iter().map(label).collect())
}

/// The number of a finding's group; 0 where it has none.
fn group_of(marking: &Marking, found: &PatternFinding) -> u32 {
    let groups = marking.groups.iter().chain(&marking.waiting);
    let mut own =
        groups.filter(|group| group.pattern == found.name && group.one_of == found.one_of);
    own.next().map_or(0, |group| group.number)
}

/// The patterns of a skill by answer, where slips were counted in piles.
fn patterns_of_slips(marking: &Marking, skill: &str) -> Vec<PatternFinding> {
    let groups = marking.groups.iter().filter(|g| g.pupils.is_empty() && g.skill == skill);
    let found = groups.map(|group| PatternFinding {
        name: group.pattern.clone(),
        slips: group.slips,
        group: group.number,
        ..PatternFinding::default()
    });
    found.collect()
}

/// The patterns found with one skill, commonest first.
fn patterns_of(checks: &[&(Pack, Answers)], skill: &str, model: &Model) -> Vec<PatternFinding> {
    let asked: Vec<(Vec<Question>, &Answers)> = checks
        .iter()
        .map(|(pack, answers)| {
            let items = marked_items(pack).into_iter().filter(|item| item.skill == skill);
            (items.map(Question::of).collect(), answers)
        })
        .collect();
    let pupils: IndexSet<&String> = asked.iter().flat_map(|(_, a)| a.pupils.keys()).collect();
    let mut found: IndexMap<Vec<String>, Vec<String>> = IndexMap::new();
    for pupil in pupils {
        let seen: Vec<Observation> = asked
            .iter()
            .filter_map(|(questions, a)| Some(observed(questions, a.pupils.get(pupil)?)))
            .flatten()
            .collect();
        let suspects = model.suspects(&seen);
        let alike = match model.named(&suspects).0 {
            Some(_) => Vec::new(),
            None => one_of(&suspects, &seen),
        };
        let first = suspects.into_iter().next().filter(|s| s.probability >= FOUND_FROM);
        let names = match (alike.is_empty(), first) {
            (false, _) => alike,
            (true, Some(first)) => vec![first.name],
            (true, None) => continue,
        };
        found.entry(names).or_default().push(pupil.clone());
    }
    let finding = |(names, pupils): (Vec<String>, Vec<String>)| PatternFinding {
        name: names[0].clone(),
        one_of: if names.len() > 1 { names } else { Vec::new() },
        pupils,
        ..PatternFinding::default()
    };
    let mut patterns: Vec<PatternFinding> = found.into_iter().map(finding).collect();
    patterns.sort_by_key(|pattern| Reverse(pattern.pupils.len()));
    patterns
}

/// The items of a test that were missed, most missed first.
fn missed(pack: &Pack, marking: &Marking) -> Vec<Missed> {
    let counted = marked_items(pack).into_iter().zip(&marking.items);
    let mut missed: Vec<Missed> = counted
        .map(|(item, mark)| Missed {
            item: item.clone(),
            pupils: mark.wrong.iter().fold(0, |n, w| n.saturating_add(w.count)),
        })
        .filter(|missed| missed.pupils > 0)
        .collect();
    missed.sort_by_key(|missed| Reverse(missed.pupils));
    missed
}

impl PupilMark {
    /// The pattern held more probable than not, named or not.
    pub fn leading(&self) -> Option<&str> {
        let first = self.patterns.first().filter(|s| s.probability >= FOUND_FROM)?;
        Some(&first.name)
    }
}
