//! What all marks together say: the commonest patterns of each skill, the test's missed items.

use super::answers::{Answers, is_test, marked_items};
use super::decide::TEST_PASS;
use super::diagnose::{Observation, mended};
use super::groups::Group;
use super::marks::{ItemMark, Marking, Part, PupilMark, observed, verdict};
use super::model::Model;
use super::question::Question;
use crate::lesson::{Findings, Missed, Pack, PatternFinding, SkillFinding, Tested};
use indexmap::{IndexMap, IndexSet};
use std::cmp::Reverse;
use std::collections::BTreeMap;

/// From which probability on a pattern counts as found: more probable than all else together.
pub(super) const FOUND_FROM: f64 = 0.5;

/// What the class's answers show, for composing what comes next. The newest check of a skill decides
/// what is wrong in it and who is grouped for what, exactly as its marking says; evidence of all
/// earlier checks is in that. Who did rightly since, in whatever skill, what a group is about, is in
/// it no longer. `model` is asked for each lesson, by number, whose check is marked.
pub fn class_findings(lessons: &[(Pack, Answers)], model: impl Fn(u32) -> Model) -> Findings {
    let mut all = Findings::default();
    let all_parts = by_lesson(lessons);
    let (tests, checks): (Vec<_>, Vec<_>) =
        all_parts.iter().cloned().partition(|parts| is_test(parts[0].0));
    let has = |parts: &Vec<Part>, skill: &str| {
        parts.iter().any(|(pack, _)| marked_items(pack).iter().any(|item| item.skill == skill))
    };
    let skills: IndexSet<&str> = (checks.iter().flatten())
        .flat_map(|(pack, _)| marked_items(pack))
        .map(|item| item.skill.as_str())
        .collect();
    let mut verdicts: BTreeMap<usize, Marking> = BTreeMap::new();
    for skill in skills {
        let Some(last) = checks.iter().rposition(|parts| has(parts, skill)) else { continue };
        let parts = &checks[last];
        let marking = verdicts.entry(last).or_insert_with(|| {
            let earlier: Vec<(Pack, Answers)> =
                lessons.iter().filter(|(pack, _)| before(pack, parts[0].0)).cloned().collect();
            verdict(parts, &earlier, &model(parts[0].0.lesson))
        });
        let mut found = of_skill(parts, marking, skill);
        let later = all_parts.iter().flatten().filter(|(pack, _)| before(parts[0].0, pack));
        without_mended(&mut found, &later.copied().collect::<Vec<Part>>());
        all.skills.insert(skill.to_owned(), found);
    }
    if let Some(parts) = tests.last() {
        let earlier: Vec<(Pack, Answers)> =
            lessons.iter().filter(|(pack, _)| before(pack, parts[0].0)).cloned().collect();
        let marking = verdict(parts, &earlier, &model(parts[0].0.lesson));
        all.missed = missed(parts, &marking);
        all.tested = tested(&marking);
    }
    all
}

/// Who is helped after a unit test: its groups, as its marking has them.
fn tested(marking: &Marking) -> Tested {
    let asked = |p: &PupilMark| {
        let answered = |id: &&String| marking.items.iter().any(|i| i.id == **id && i.answered());
        p.of + p.unanswered.iter().filter(answered).count()
    };
    let (passed, others): (Vec<&PupilMark>, Vec<&PupilMark>) =
        marking.pupils.iter().partition(|p| p.right * 100 >= TEST_PASS * asked(p));
    let labels = |all: Vec<&PupilMark>| all.into_iter().map(|p| p.pupil.clone()).collect();
    Tested {
        groups: marking.groups.iter().map(|g| (g.skill.clone(), found(g))).collect(),
        passed: labels(passed),
        others: labels(others),
    }
}

/// A group of a marking, for composing.
fn found(group: &Group) -> PatternFinding {
    PatternFinding {
        name: group.pattern.clone(),
        one_of: group.one_of.clone(),
        also: group.also.clone(),
        pupils: group.pupils.clone(),
        perhaps: group.is_perhaps(),
        slips: group.slips,
        sort_by: group.sort_by.clone(),
        group: group.number,
    }
}

/// Whether a lesson is held before another one.
pub fn before(one: &Pack, other: &Pack) -> bool {
    (one.date, one.heading.starts) < (other.date, other.heading.starts)
}

/// The lessons in the order they are held, each with its versions; such as hold no answers are left
/// out.
fn by_lesson(lessons: &[(Pack, Answers)]) -> Vec<Vec<Part<'_>>> {
    let mut found: IndexMap<u32, Vec<Part>> = IndexMap::new();
    let mut in_order: Vec<&(Pack, Answers)> =
        lessons.iter().filter(|(_, answers)| *answers != Answers::default()).collect();
    in_order.sort_by_key(|(pack, _)| (pack.date, pack.heading.starts, pack.version.clone()));
    for (pack, answers) in in_order {
        found.entry(pack.lesson).or_default().push((pack, answers));
    }
    found.into_values().collect()
}

/// What the marking of its newest check says of a skill.
fn of_skill(parts: &[Part], marking: &Marking, skill: &str) -> SkillFinding {
    let ids_of = |(pack, _): &Part| -> Vec<String> {
        let items = marked_items(pack).into_iter().filter(|item| item.skill == skill);
        items.map(|item| item.id.clone()).collect()
    };
    let versions: Vec<Vec<String>> = parts.iter().map(ids_of).collect();
    let by_pupils: Vec<bool> = parts.iter().map(|(_, a)| !a.pupils.is_empty()).collect();
    let of_way = |way: bool| -> Vec<Vec<String>> {
        let own = versions.iter().zip(&by_pupils).filter(|(_, by_pupils)| **by_pupils == way);
        own.map(|(ids, _)| ids.clone()).collect()
    };
    let (known, counted) = (all_right(marking, &of_way(true)), hardest(marking, &of_way(false)));
    let ids: Vec<&str> = versions.iter().flatten().map(String::as_str).collect();
    let (right_pupils, wrong_pupils) = right_and_wrong(marking, &ids);
    let groups = marking.groups.iter().chain(&marking.waiting).filter(|g| g.skill == skill);
    SkillFinding {
        answered: known.0.saturating_add(counted.0),
        right: known.1.saturating_add(counted.1),
        right_slips: counted.1,
        checked_in: Some(parts[0].0.lesson),
        all_right: right_pupils,
        wrong: wrong_pupils,
        patterns: groups.map(found).collect(),
    }
}

/// Takes pupils out of a skill's groups who met in later checks what their group is about, and did it
/// rightly each time; and groups that are then empty.
fn without_mended(found: &mut SkillFinding, later: &[Part]) {
    let asked: Vec<(Vec<Question>, &Answers)> = (later.iter())
        .map(|(pack, answers)| {
            (marked_items(pack).into_iter().map(Question::of).collect(), *answers)
        })
        .collect();
    let seen = |pupil: &String| -> Vec<Observation> {
        let own = asked.iter().filter_map(|(q, a)| Some(observed(q, a.pupils.get(pupil)?)));
        own.flatten().collect()
    };
    for group in &mut found.patterns {
        let names =
            if group.one_of.is_empty() { vec![&group.name] } else { group.one_of.iter().collect() };
        // Of two mistakes both are to be gone.
        let names: Vec<&String> = names.into_iter().chain(&group.also).collect();
        group.pupils.retain(|pupil| {
            let seen = seen(pupil);
            !names.iter().all(|name| mended(name, &seen))
        });
    }
    found.patterns.retain(|group| group.size() > 0);
}

/// In which lessons' checks each pattern was found with which pupils, each check taken by itself:
/// what a class's own weights are learnt from ([`Model::after`]).
#[derive(Debug, Clone, Default)]
pub struct Found(Vec<(u32, BTreeMap<String, Vec<String>>)>);

impl Found {
    /// Of these answers.
    pub fn of(lessons: &[(Pack, Answers)]) -> Found {
        let plain = Model::default();
        let one = |(pack, answers): &(Pack, Answers)| {
            let questions: Vec<Question> =
                marked_items(pack).into_iter().map(Question::of).collect();
            let mut found: BTreeMap<String, Vec<String>> = BTreeMap::new();
            for (pupil, given) in &answers.pupils {
                let first = plain.weigh(&observed(&questions, given), 0).into_iter().next();
                if let Some(first) = first.filter(|s| s.probability >= FOUND_FROM) {
                    found.entry(first.name).or_default().push(pupil.clone());
                }
            }
            (pack.lesson, found)
        };
        Found(lessons.iter().map(one).collect())
    }

    /// With how many pupils each pattern was found, this lesson left out.
    pub fn without(&self, lesson: Option<u32>) -> BTreeMap<String, u32> {
        let mut found: BTreeMap<&String, IndexSet<&String>> = BTreeMap::new();
        let others = self.0.iter().filter(|(number, _)| Some(*number) != lesson);
        for (name, pupils) in others.flat_map(|(_, found)| found) {
            found.entry(name).or_default().extend(pupils);
        }
        let count = |pupils: IndexSet<&String>| u32::try_from(pupils.len()).unwrap_or(u32::MAX);
        found.into_iter().map(|(name, pupils)| (name.clone(), count(pupils))).collect()
    }
}

/// How many pupils answered all of these items, and how many have all of them right; items that
/// nobody answered are left out, and who did not finish the others counts for neither. Where fewer
/// than half finished: what can be said without knowing the pupils, version by version.
fn all_right(marking: &Marking, versions: &[Vec<String>]) -> (u32, u32) {
    let items: Vec<&ItemMark> = versions.iter().flat_map(|ids| answered_of(marking, ids)).collect();
    let among = |list: &[String]| items.iter().filter(|item| list.contains(&item.id)).count();
    let (mut counts, mut unfinished) = ((0, 0), 0);
    for pupil in &marking.pupils {
        match (among(&pupil.wrong), among(&pupil.unanswered)) {
            (0, 0) => counts = (counts.0 + 1, counts.1 + 1),
            (_, 0) => counts.0 += 1,
            _ => unfinished += 1,
        }
    }
    if counts.0 > 0 && unfinished <= counts.0 { counts } else { hardest(marking, versions) }
}

/// The items of a version that anybody answered.
fn answered_of<'m>(marking: &'m Marking, ids: &[String]) -> Vec<&'m ItemMark> {
    marking.items.iter().filter(|i| ids.contains(&i.id) && i.answered()).collect()
}

/// How many answered each version's hardest item, and how many have it right: at most so many have
/// all right.
fn hardest(marking: &Marking, versions: &[Vec<String>]) -> (u32, u32) {
    let share = |item: &&ItemMark| u64::from(item.right) * u64::from(u32::MAX) / item.slips();
    let hardest =
        versions.iter().filter_map(|ids| answered_of(marking, ids).into_iter().min_by_key(share));
    hardest.fold((0, 0), |(all, right): (u32, u32), item| {
        let slips = item.right.saturating_add(item.missed());
        (all.saturating_add(slips), right.saturating_add(item.right))
    })
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

/// The items of a test that were missed, most missed first.
fn missed(parts: &[Part], marking: &Marking) -> Vec<Missed> {
    let items = parts.iter().flat_map(|(pack, _)| marked_items(pack));
    let counted = items.zip(&marking.items);
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
