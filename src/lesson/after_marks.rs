//! What marks change in the next lesson's warm-up: what the class has just shown to need work comes
//! first there and gets half of the items, whatever was due, several skills by how many pupils need
//! them. Where the class goes on, each large group of a named pattern gets one item.

use super::again;
use super::blueprint::share_out;
use super::compose::Composing;
use super::findings::{Findings, MOST_GROUPS, PatternFinding};
use super::memory::{Brought, Return};
use crate::schedule::Lesson;

/// At most so many skills are brought back for their marks.
const MOST: usize = 2;

/// Returns for marks are numbered from here on, so that their sums are not those of a return that
/// was due: no skill comes back so often in a term.
const FIRST: u32 = 100;

/// Whether a check was written in the lesson before this one, or earlier on that day: slips are marked
/// after school.
fn just_written(lessons: &[Lesson], place: usize, lesson: Option<u32>) -> bool {
    let before = lessons.get(..place).unwrap_or_default();
    let day = before.last().map(|l| l.date);
    let of_day = before.iter().rev().take_while(|l| Some(l.date) == day);
    of_day.into_iter().any(|l| Some(l.number) == lesson)
}

/// Brings back what the checks [`just_written`] showed to need work, and what the lesson teaches
/// again.
pub fn after_marks(composing: &mut Composing) {
    let again = again::skills(composing);
    let occasion = composing.occasion;
    let (findings, lessons, place) = (occasion.findings, occasion.lessons, composing.place);
    bring(&mut composing.brought, findings, lessons, place, &again);
}

fn bring(
    brought: &mut Brought,
    findings: &Findings,
    lessons: &[Lesson],
    place: usize,
    again: &[String],
) {
    let Some(before) = place.checked_sub(1).and_then(|n| lessons.get(n)) else { return };
    let now = |lesson: Option<u32>| just_written(lessons, place, lesson);
    let shown = findings.skills.iter().filter(|(skill, found)| {
        now(found.checked_in) && found.needs_work() && !again.contains(skill)
    });
    let weak = shown.map(|(skill, _)| skill);
    let weak: Vec<&String> = again.iter().chain(weak).take(MOST).collect();
    let all: usize = brought.warm_up.iter().map(|r| r.items).sum();
    if all < 2 {
        return;
    }
    let half = all.div_ceil(2);
    let mut wanted = shared_out(findings, &weak, half);
    // With the rest of the class going on, a group gets one item, of half of them at most.
    let mut room = if weak.is_empty() { half } else { 0 };
    for (skill, found) in &findings.skills {
        let items = found.named_groups().count().min(room);
        if items > 0 && now(found.checked_in) && !again.contains(skill) {
            wanted.push((skill.clone(), items));
            room -= items;
        }
    }
    if wanted.is_empty() {
        return;
    }
    let mut first = Vec::new();
    for (skill, items) in &wanted {
        let items = *items;
        let due = brought.warm_up.iter().position(|r| r.skill == *skill);
        let back = due.map(|at| brought.warm_up.remove(at));
        let fresh =
            || Return { skill: skill.clone(), nth: FIRST + before.number, items, due: false };
        first.push(back.map_or_else(fresh, |back| Return { items: items.max(back.items), ..back }));
    }
    let mut left = all.saturating_sub(first.iter().map(|r| r.items).sum());
    for back in &mut brought.warm_up {
        back.items = back.items.min(left);
        left -= back.items;
    }
    brought.warm_up.retain(|r| r.items > 0);
    brought.warm_up.splice(0..0, first);
}

/// So many items among these skills, each at least one, by how many pupils need them.
fn shared_out(findings: &Findings, weak: &[&String], items: usize) -> Vec<(String, usize)> {
    let items = u32::try_from(items).unwrap_or(u32::MAX);
    let shares = share_out(items, &in_need(findings, weak), &vec![true; weak.len()]);
    let share = |(skill, items): (&&String, u32)| ((*skill).clone(), items as usize);
    weak.iter().zip(shares).map(share).filter(|(_, items)| *items > 0).collect()
}

/// How many pupils need each of these skills, at least one.
pub fn in_need(findings: &Findings, skills: &[&String]) -> Vec<u32> {
    let need = |skill: &&String| findings.skills.get(*skill).map_or(1, |f| f.in_need().max(1));
    skills.iter().map(need).collect()
}

/// A mistake that a warm-up brings back.
#[derive(Debug, Clone, Copy)]
pub struct Shown<'a> {
    /// What was found.
    pub finding: &'a PatternFinding,
    /// So many items at least are to bring it back, if there are such.
    pub items: usize,
}

/// So many items bring back the commonest mistake of a skill that needs work, where there is room.
const BACK: usize = 2;

/// The mistakes of the large groups of a skill that a check [`just_written`] showed to need work, or that the lesson teaches again, the commonest on two items; else, one item each,
/// those of that check's groups.
pub fn just_shown<'a>(composing: &Composing<'a>, back: &Return) -> Vec<Shown<'a>> {
    let (occasion, skill) = (composing.occasion, back.skill.as_str());
    let Some(found) = occasion.findings.skills.get(skill) else { return Vec::new() };
    let now = just_written(occasion.lessons, composing.place, found.checked_in);
    if (found.needs_work() && now) || again::skills(composing).iter().any(|own| own == skill) {
        let room = back.items.max(1);
        let all: Vec<&PatternFinding> = found.large_groups().take(room.min(MOST_GROUPS)).collect();
        let first = (room + 1).saturating_sub(all.len()).min(BACK);
        let items = |(nth, finding)| Shown { finding, items: if nth == 0 { first } else { 1 } };
        return all.into_iter().enumerate().map(items).collect();
    }
    let groups = found.named_groups().filter(|_| now);
    groups.take(back.items).map(|finding| Shown { finding, items: 1 }).collect()
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::*;
    use crate::lesson::SkillFinding;

    fn back(skill: &str, items: usize) -> Return {
        Return { skill: skill.to_owned(), nth: 1, items, due: true }
    }

    fn findings(skill: &str, lesson: u32, right: u32) -> Findings {
        let found = SkillFinding {
            answered: 10,
            right,
            checked_in: Some(lesson),
            ..SkillFinding::default()
        };
        Findings {
            skills: [(skill.to_owned(), found)].into_iter().collect(),
            ..Findings::default()
        }
    }

    fn changed(found: &Findings) -> Vec<(String, usize)> {
        let plan = fixture::plan(40);
        let lessons = fixture::term(&plan, 40);
        let mut brought = Brought {
            warm_up: vec![back("splitting", 3), back("tens-by-tens", 3)],
            ..Brought::default()
        };
        bring(&mut brought, found, &lessons, 5, &[]);
        brought.warm_up.into_iter().map(|r| (r.skill, r.items)).collect()
    }

    fn pairs(all: &[(&str, usize)]) -> Vec<(String, usize)> {
        all.iter().map(|&(skill, items)| (skill.to_owned(), items)).collect()
    }

    #[test]
    fn what_the_last_check_showed_to_need_work_comes_first_with_half_of_the_items() {
        // Lesson 5 stands at place 4.
        let weak = changed(&findings("tens-by-tens", 5, 4));
        assert_eq!(weak, pairs(&[("tens-by-tens", 3), ("splitting", 3)]));
        let new = changed(&findings("which-is-nearer", 5, 4));
        assert_eq!(new, pairs(&[("which-is-nearer", 3), ("splitting", 3)]));
    }

    #[test]
    fn a_group_of_a_class_that_goes_on_gets_one_item() {
        let group = |number: u32, perhaps: bool| PatternFinding {
            name: "carry-not-added".to_owned(),
            pupils: (0..3).map(|n| (n * 10 + number).to_string()).collect(),
            group: number,
            perhaps,
            ..PatternFinding::default()
        };
        let with = |groups: Vec<PatternFinding>| {
            let mut found = findings("which-is-nearer", 5, 28);
            found.skills[0].answered = 30;
            found.skills[0].patterns = groups;
            changed(&found)
        };
        let one = with(vec![group(1, false), group(2, true), group(4, false)]);
        let due = [("splitting", 3), ("tens-by-tens", 2)];
        assert_eq!(one, pairs(&[&[("which-is-nearer", 1)], &due[..]].concat()));
        let three = with((1..=3).map(|n| group(n, false)).collect());
        assert_eq!(three, pairs(&[("which-is-nearer", 3), ("splitting", 3)]));
        let as_it_was = pairs(&[("splitting", 3), ("tens-by-tens", 3)]);
        assert_eq!(with(vec![group(1, true)]), as_it_was);
        let mut single = group(1, false);
        single.pupils.truncate(2);
        assert_eq!(with(vec![single]), as_it_was, "two of thirty have their sheet");
    }

    /// Two lessons on one day: the next day's first warm-up has what the checks of both showed.
    #[test]
    fn a_check_of_the_same_day_before_counts_as_just_written() {
        let plan = fixture::plan(40);
        let mut lessons = fixture::term(&plan, 40);
        lessons[3].date = lessons[4].date;
        for (lesson, written) in [(3, false), (4, true), (5, true), (6, false)] {
            assert_eq!(just_written(&lessons, 5, Some(lesson)), written, "lesson {lesson}");
        }
        assert!(!just_written(&lessons, 0, Some(1)) && !just_written(&lessons, 5, None));
    }

    /// Of six items three, by how many pupils had something wrong.
    #[test]
    fn several_skills_share_the_items_by_how_many_need_them() {
        let with = |wrong: [u32; 2]| {
            let mut found = findings("multiples-of-ten", 5, 0);
            let other = findings("which-is-nearer", 5, 0).skills;
            found.skills.extend(other);
            for ((_, skill), wrong) in found.skills.iter_mut().zip(wrong) {
                (skill.answered, skill.right) = (30, 30 - wrong);
            }
            changed(&found)
        };
        let due = ("splitting", 3);
        assert_eq!(with([20, 7]), pairs(&[("multiples-of-ten", 2), ("which-is-nearer", 1), due]));
        assert_eq!(with([7, 20]), pairs(&[("multiples-of-ten", 1), ("which-is-nearer", 2), due]));
    }

    #[test]
    fn what_is_right_or_long_ago_changes_nothing() {
        let as_it_was = pairs(&[("splitting", 3), ("tens-by-tens", 3)]);
        assert_eq!(changed(&findings("tens-by-tens", 5, 8)), as_it_was);
        assert_eq!(changed(&findings("tens-by-tens", 3, 4)), as_it_was);
    }
}
