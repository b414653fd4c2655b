//! A sheet for a group: one page of sums that meet a pattern and mend it, or for who was absent.
//!
//! A worked sum on which the pattern would show stands first (correct examples help most: Barbieri
//! et al. 2023), then sums to finish, then sums to do; the pattern would show on every one of them,
//! so that each is a chance to do it rightly, and a wrong answer tells.

use super::bench::sameness;
use super::mixing::interleave;
use super::{Fault, Level, Pack, Section, SectionName, TeacherPage};
use crate::exercise::patterns::{Task, pattern};
use crate::exercise::{Item, verify};
use crate::plan::Plan;
use crate::words::join;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

mod fitting;
mod making;
mod rare;
mod stories;

use making::two;

/// A group's sheet with its key.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct GroupSheet {
    /// The group: its number, or `absent`.
    pub group: String,
    /// The pattern it is about; null for who was absent.
    pub pattern: Option<String>,
    /// A second one, where most of the group make both mistakes.
    #[serde(default)]
    pub also: Option<String>,
    /// Where it may be one of several: all of them. The sums then tell them apart.
    #[serde(default)]
    pub one_of: Vec<String>,
    /// Whether too little was shown to name the pattern: then the first sum of the practice stands
    /// before the worked one, and decides.
    #[serde(default)]
    pub perhaps: bool,
    /// How many sums stand before the worked one, to be done first: the first of them decides.
    #[serde(default)]
    pub apart: usize,
    /// The skill that it begins with.
    pub skill: String,
    /// How many pupils there are.
    pub pupils: usize,
    /// The answers that slips of this group have, by item, where slips were counted in piles: what
    /// to sort them by.
    #[serde(default)]
    pub sort_by: Vec<(String, Vec<String>)>,
    /// What is printed: a worked example and practice.
    pub pack: Pack,
}

/// What a group's sheet is wanted for.
#[derive(Debug, Clone, Copy)]
pub struct ForGroup<'a> {
    /// The class's plan.
    pub plan: &'a Plan,
    /// The pack whose check was marked.
    pub marked: &'a Pack,
    /// The group: its number, or `absent`.
    pub group: &'a str,
    /// The pattern; none for who was absent.
    pub pattern: Option<&'a str>,
    /// A second pattern that most of the group have beside it.
    pub also: Option<&'a str>,
    /// Where the check could not tell which of several patterns it is: all of them; else none.
    pub one_of: &'a [String],
    /// Whether too little was shown to name the pattern.
    pub perhaps: bool,
    /// The skills, which come in turn; the first is that of the worked example.
    pub skills: &'a [String],
    /// How many pupils.
    pub pupils: usize,
    /// See [`GroupSheet::sort_by`].
    pub sort_by: &'a [(String, Vec<String>)],
    /// What pupils meet elsewhere in the term, by [`met_in`].
    pub met: &'a BTreeSet<String>,
    /// How many of the sums are begun: [`BEGUN`], or fewer where a page holds few.
    pub begun: usize,
}

/// So many sums are begun for the pupils to finish, where there is room for more than these.
pub const BEGUN: usize = 2;

/// What makes the items of these packs the same to a pupil as others: a product either way round.
pub fn met_in<'a>(packs: impl IntoIterator<Item = &'a Pack>) -> BTreeSet<String> {
    packs.into_iter().flat_map(|pack| &pack.sections).flat_map(|s| &s.items).map(sameness).collect()
}

/// Sums in all of a written method; short sums.
const WRITTEN: usize = 8;
const SHORT: usize = 18;
/// Three sums on so many squares, across and down, stand abreast.
const SHORT_SQUARES: (usize, usize) = (6, 5);
/// Of so many sums the key says what each of several patterns answers.
const TOLD: usize = 3;

/// Makes a group's sheet; empty sections where nothing can be made for the skill.
///
/// # Errors
/// An item failed its check: a fault of ours.
pub fn group_sheet(wish: &ForGroup) -> Result<GroupSheet, Fault> {
    let (examples, practice) = dealt(wish)?;
    let skill = wish.skills.first().cloned().unwrap_or_default();
    let mut pack = Pack {
        sections: vec![
            Section { name: SectionName::Examples, level: None, minutes: 5, items: examples },
            Section {
                name: SectionName::Practice,
                level: Some(Level::Core),
                minutes: 15,
                items: practice,
            },
        ],
        teacher: TeacherPage::default(),
        missing: Vec::new(),
        marks: Vec::new(),
        draft: false,
        ..wish.marked.clone()
    };
    // What a test, a catch-up or a revision is called says nothing of the sheet.
    if wish.marked.skill.as_ref() != Some(&skill) {
        pack.heading.title = match (wish.skills, wish.plan.ladder.skills.get(&skill)) {
            ([_], Some(known)) => known.title.clone(),
            _ => "Some sums to practise".to_owned(),
        };
    }
    number(&mut pack, wish.group);
    for item in pack.sections.iter().flat_map(|s| &s.items) {
        verify(item).map_err(|what| Fault { item: item.id.clone(), what })?;
    }
    Ok(GroupSheet {
        group: wish.group.to_owned(),
        pattern: wish.pattern.map(str::to_owned),
        also: wish.also.map(str::to_owned),
        one_of: wish.one_of.to_vec(),
        perhaps: wish.perhaps,
        apart: usize::from(wish.perhaps),
        skill,
        pupils: wish.pupils,
        sort_by: wish.sort_by.to_vec(),
        pack,
    })
}

/// The worked example of the first skill that has one, and the practice of all skills in turn.
fn dealt(wish: &ForGroup) -> Result<(Vec<Item>, Vec<Item>), Fault> {
    let mut examples = Vec::new();
    let mut waiting = Vec::new();
    for skill in wish.skills {
        let (shown, practice) = two::items(wish, skill)?;
        if examples.is_empty() && !practice.is_empty() {
            examples = shown;
        }
        waiting.push(practice);
    }
    let mut met: BTreeSet<String> = examples.iter().map(sameness).collect();
    let mut practice = interleave(waiting);
    practice.retain(|item| met.insert(sameness(item)));
    if !practice.iter().any(making::is_long) {
        practice.truncate(SHORT);
    }
    Ok((examples, practice))
}

/// The letters of a group in codes and ids: `S1`, `SA` for who was absent.
pub fn group_code(group: &str) -> String {
    if group == "absent" { "SA".to_owned() } else { format!("S{group}") }
}

fn number(pack: &mut Pack, group: &str) {
    let version = if pack.version == "B" { "B" } else { "" };
    let code = format!("L{:02}{version}-{}", pack.lesson, group_code(group));
    for section in &mut pack.sections {
        let letter = if section.name == SectionName::Examples { 'E' } else { 'P' };
        for (index, item) in section.items.iter_mut().enumerate() {
            item.id = format!("{code}{letter}{}", index + 1);
        }
    }
}

impl GroupSheet {
    /// The sums to do, the worked one not counted.
    pub fn practice(&self) -> &[Item] {
        let practice = self.pack.sections.iter().find(|s| s.name == SectionName::Practice);
        practice.map_or(&[], |section| &section.items)
    }
    /// What each of several patterns answers to the first sums that it shows on: "8,480 to L11-S1P1
    /// and 340 to L11-S1P2".
    pub fn telling(&self) -> Vec<(String, String)> {
        let style = &self.pack.heading.style;
        let told = |name: &String| {
            let known = pattern(name)?;
            let answers = self.practice().iter().filter_map(|item| {
                let all = Task::of(item)?.answers(known);
                let (answer, _) = all.iter().find(|(_, turned)| !turned).or(all.first())?;
                Some(format!("{} to {}", style.number(*answer), item.id))
            });
            let answers: Vec<String> = answers.take(TOLD).collect();
            Some((name.clone(), join(&answers, "and")))
        };
        self.one_of.iter().filter_map(told).collect()
    }
    /// Where the pattern is not named: the first sum, what the pattern answers there, and the right
    /// answer.
    pub fn deciding(&self) -> Option<(&Item, String)> {
        let item = self.practice().first().filter(|_| self.perhaps)?;
        let name = self.pattern.as_deref()?;
        let usual = || {
            let all = Task::of(item)?.answers(pattern(name)?);
            let (answer, _) = all.iter().find(|(_, turned)| !turned).or(all.first())?;
            Some(answer.to_string())
        };
        let listed = || {
            let named = |l: &&crate::exercise::Likely| l.patterns.iter().any(|p| p == name);
            item.likely.iter().find(named).map(|l| l.answer.clone())
        };
        let option = || {
            let named = |c: &&crate::exercise::Choice| c.pattern.as_deref() == Some(name);
            item.choices.iter().find(named).map(|c| c.text.clone())
        };
        let wrong = usual().or_else(listed).or_else(option)?;
        Some((item, wrong))
    }
    /// The same sheet without its worked sum, for when that leaves no room.
    pub fn without_example(mut self) -> GroupSheet {
        self.pack.sections.retain(|section| section.name != SectionName::Examples);
        self
    }
    /// Whether a worked sum stands on it.
    pub fn has_example(&self) -> bool {
        let examples = self.pack.sections.iter().filter(|s| s.name == SectionName::Examples);
        examples.flat_map(|s| &s.items).next().is_some()
    }
    /// The same sheet with as many of its sums as a page holds: `fits` says whether a sheet does.
    pub fn fitted(&self, fits: impl Fn(&GroupSheet) -> bool) -> GroupSheet {
        fitting::fitted(self, &fits)
    }
    /// The same sheet without its last sum, for when the page is full.
    pub fn shorter(mut self) -> GroupSheet {
        for section in &mut self.pack.sections {
            if section.name == SectionName::Practice {
                section.items.pop();
            }
        }
        number(&mut self.pack, &self.group);
        self
    }
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::making::Making;
    use super::*;
    use crate::exercise::Kind;
    use crate::method::{HouseStyle, ordered};
    use crate::number::digits;

    fn sheet(skill: &str, name: Option<&str>) -> GroupSheet {
        let (plan, pack) = fixture::first_lesson_of(skill);
        let group = if name.is_some() { "1" } else { "absent" };
        let met = &BTreeSet::new();
        let wish = ForGroup {
            plan: &plan,
            marked: &pack,
            group,
            pattern: name,
            also: None,
            one_of: &[],
            perhaps: false,
            skills: &[skill.to_owned()],
            pupils: 4,
            sort_by: &[],
            met,
            begun: BEGUN,
        };
        group_sheet(&wish).expect("a sheet")
    }

    /// A first sheet's sums are met; the next one holds none of them and as many others.
    #[test]
    fn no_written_product_that_pupils_meet_elsewhere_stands_on_a_sheet() {
        for (skill, name) in [
            ("long-two-by-two", Some("placeholder-left-out")),
            ("short-two-by-one", Some("carry-not-added")),
            ("zeros-in-multiplier", Some("zero-row-copied")),
            ("grid-two-by-two", Some("only-like-places")),
            ("long-three-by-two", None),
            ("short-two-by-one", None),
        ] {
            let (plan, pack) = fixture::first_lesson_of(skill);
            let group = if name.is_some() { "1" } else { "absent" };
            let mut met = BTreeSet::new();
            for _ in 0..2 {
                let wish = ForGroup {
                    plan: &plan,
                    marked: &pack,
                    group,
                    pattern: name,
                    also: None,
                    one_of: &[],
                    perhaps: false,
                    skills: &[skill.to_owned()],
                    pupils: 4,
                    sort_by: &[],
                    met: &met,
                    begun: BEGUN,
                };
                let sheet = group_sheet(&wish).expect("a sheet").pack;
                let of_lesson = met_in([&pack]);
                let own = met_in([&sheet]);
                assert!(own.is_disjoint(&met) && own.is_disjoint(&of_lesson), "{skill}");
                assert!(own.len() >= 5, "{skill}: {} sums", own.len());
                met.extend(own);
            }
        }
    }

    #[test]
    fn every_sum_of_a_groups_sheet_meets_its_pattern() {
        for (skill, name) in [
            ("long-two-by-two", "placeholder-left-out"),
            ("short-three-by-one", "carry-not-added"),
            ("zeros-in-multiplicand", "zero-swallows-carry"),
            ("zeros-in-multiplier", "row-after-zero-closed-up"),
            ("long-three-by-two", "fact-7x8"),
        ] {
            let sheet = sheet(skill, Some(name));
            let items: Vec<&Item> = sheet.pack.sections.iter().flat_map(|s| &s.items).collect();
            assert!(items.len() >= 6, "{skill}: {} items", items.len());
            let known = pattern(name).expect("a pattern");
            for item in &items {
                let task = Task::of(item).unwrap_or_else(|| panic!("{}", item.prompt));
                assert!(!task.answers(known).is_empty(), "{name} does not show on {}", item.prompt);
            }
            let different: BTreeSet<String> = items.iter().map(|i| sameness(i)).collect();
            assert_eq!(different.len(), items.len(), "{skill}");
        }
    }

    /// Times 25 a doubled pair, a number times a hundred left so and parts multiplied one after the
    /// other all give a hundred times the other number; times 5 and times 50 tell them apart.
    #[test]
    fn a_sheet_for_one_of_several_patterns_holds_sums_that_tell_them_apart() {
        let skill = "fives-and-twenty-fives";
        let (plan, pack) = fixture::first_lesson_of(skill);
        let names = ["both-doubled", "not-halved-or-quartered"].map(str::to_owned);
        let met = BTreeSet::new();
        let wish = ForGroup {
            plan: &plan,
            marked: &pack,
            group: "1",
            pattern: Some(&names[0]),
            also: None,
            one_of: &names,
            perhaps: false,
            skills: &[skill.to_owned()],
            pupils: 4,
            sort_by: &[],
            met: &met,
            begun: BEGUN,
        };
        let sheet = group_sheet(&wish).expect("a sheet");
        let making = Making::of(&wish, skill);
        let parts = |item: &Item| making.parts(Task::of(item)) == 2;
        let telling = sheet.practice().iter().filter(|item| parts(item)).count();
        assert!(telling >= 4, "{telling} of {}", sheet.practice().len());
        assert!(sheet.practice().iter().take(4).all(parts), "they come first");
        let told = sheet.telling();
        assert_eq!(told.iter().map(|(name, _)| name.as_str()).collect::<Vec<_>>(), names);
        assert_ne!(told[0].1, told[1].1);
    }

    /// One carry shows too little of what carrying is; with one digit below, two digits carry once.
    #[test]
    fn a_worked_sum_about_carries_has_two_of_them() {
        for skill in ["long-two-by-two", "short-three-by-one", "long-three-by-two"] {
            for name in ["carry-not-added", "adding-carries-lost"] {
                if skill.starts_with("short") && name.starts_with("adding") {
                    continue;
                }
                let sheet = sheet(skill, Some(name));
                let Some(Task::Written(a, b)) = Task::of(&sheet.pack.sections[0].items[0]) else {
                    panic!("{skill}")
                };
                let long = crate::method::long(a, b, &HouseStyle::default());
                let all = |carries: &[u8]| carries.iter().filter(|&&carry| carry > 0).count();
                let rows = long.rows.iter().map(|row| all(&row.carries[..row.carries.len() - 1]));
                let carried =
                    if name.starts_with("adding") { all(&long.adding_carries) } else { rows.sum() };
                assert!(carried >= 2, "{skill}, {name}: {a} × {b}");
            }
        }
    }

    /// What is not named is decided by the first sum, which is not begun and on which it shows; the
    /// sheet of a pattern that lives in several skills deals from all of them.
    #[test]
    fn a_suspicion_begins_with_a_bare_sum_and_several_skills_come_in_turn() {
        let (plan, pack) = fixture::first_lesson_of("long-two-by-two");
        let met = BTreeSet::new();
        let wish = |skills, perhaps, name| ForGroup {
            plan: &plan,
            marked: &pack,
            group: "1",
            pattern: Some(name),
            also: None,
            one_of: &[],
            perhaps,
            skills,
            pupils: 4,
            sort_by: &[],
            met: &met,
            begun: BEGUN,
        };
        let skills = ["long-two-by-two".to_owned()];
        let sheet = group_sheet(&wish(&skills, true, "carry-not-added")).expect("a sheet");
        let (first, wrong) = sheet.deciding().expect("it decides");
        assert!(!first.is_begun() && wrong != first.answer, "{first:?}");
        assert!(sheet.practice()[1].is_begun(), "the next one is to be finished");
        let sure = group_sheet(&wish(&skills, false, "carry-not-added")).expect("a sheet");
        assert!(sure.deciding().is_none() && sure.practice()[0].is_begun());
        let skills = ["tens-by-tens", "zeros-at-the-ends", "multiples-of-ten"].map(str::to_owned);
        let sheet = group_sheet(&wish(&skills, false, "one-zero-short")).expect("a sheet");
        let dealt: BTreeSet<&str> = sheet.practice().iter().map(|i| i.skill.as_str()).collect();
        assert_eq!(dealt.len(), 3, "{dealt:?}");
        assert_eq!(sheet.pack.heading.title, "Some sums to practise");
    }

    #[test]
    fn sheets_of_skills_for_the_head_and_for_the_absent_hold_sums_too() {
        let head = sheet("rounding-and-adjusting", Some("adjusting-forgotten"));
        assert!(head.practice().len() >= 6, "{}", head.practice().len());
        let absent = sheet("long-two-by-two", None);
        assert!(absent.practice().len() >= 3 && absent.pattern.is_none());
        assert!(absent.practice().iter().all(|i| i.id.contains("-SAP")));
        let zeros = sheet("zeros-in-multiplier", None);
        // Single rows stand after the whole sums.
        for item in zeros.practice().iter().filter(|item| item.kind != Kind::Row) {
            let Some(Task::Written(a, b)) = Task::of(item) else { panic!("{}", item.prompt) };
            assert!(digits(ordered(a, b).1).contains(&0), "{}", item.prompt);
        }
        let shorter = absent.clone().shorter();
        assert_eq!(shorter.practice().len() + 1, absent.practice().len());
    }
}
