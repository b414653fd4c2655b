//! A sheet for a group: one page of sums that meet a pattern and mend it, or for who was absent.
//!
//! A worked sum on which the pattern would show stands first (correct examples help most: Barbieri
//! et al. 2023), then sums to finish, then sums to do; the pattern would show on every one of them,
//! so that each is a chance to do it rightly, and a wrong answer tells.

use super::bench::sameness;
use super::{Fault, Level, Pack, Section, SectionName, TeacherPage};
use crate::exercise::makers::{self, Request, Setting, Spot};
use crate::exercise::patterns::{Pattern, Task, pattern};
use crate::exercise::{Item, Kind, Profile, verify};
use crate::number::{digit_count, digits, ten_to};
use crate::plan::Plan;
use crate::seed::{Seed, Stream};
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// A group's sheet with its key.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct GroupSheet {
    /// The group: its number, or `absent`.
    pub group: String,
    /// The pattern it is about; null for who was absent.
    pub pattern: Option<String>,
    /// The skill.
    pub skill: String,
    /// How many pupils there are.
    pub pupils: usize,
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
    /// The skill.
    pub skill: &'a str,
    /// How many pupils.
    pub pupils: usize,
}

/// Sums to finish, and sums to do in all, of a written method; short sums.
const FINISH: usize = 2;
const WRITTEN: usize = 8;
const SHORT: usize = 18;
/// So many pairs are drawn to choose from.
const DRAWN: usize = 4000;

/// Makes a group's sheet; empty sections where nothing can be made for the skill.
///
/// # Errors
/// An item failed its check: a fault of ours.
pub fn group_sheet(wish: &ForGroup) -> Result<GroupSheet, Fault> {
    let making = Making::of(wish);
    let (examples, practice) = making.items()?;
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
    number(&mut pack, wish.group);
    for item in pack.sections.iter().flat_map(|s| &s.items) {
        verify(item).map_err(|what| Fault { item: item.id.clone(), what })?;
    }
    Ok(GroupSheet {
        group: wish.group.to_owned(),
        pattern: wish.pattern.map(str::to_owned),
        skill: wish.skill.to_owned(),
        pupils: wish.pupils,
        pack,
    })
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
    /// The same sheet without its last sum, for when the page is full.
    pub fn shorter(mut self) -> GroupSheet {
        for section in &mut self.pack.sections {
            if section.name == SectionName::Practice {
                section.items.pop();
            }
        }
        self
    }
}

/// What the sheet is made with.
struct Making<'a> {
    wish: &'a ForGroup<'a>,
    setting: Setting,
    maker: String,
    pattern: Option<&'static Pattern>,
    /// What pupils have met in the lesson.
    met: BTreeSet<String>,
}

impl<'a> Making<'a> {
    fn of(wish: &'a ForGroup<'a>) -> Making<'a> {
        let plan = wish.plan;
        let skill = plan.ladder.skills.get(wish.skill);
        Making {
            wish,
            setting: Setting {
                seed: Seed::of(&plan.class.key),
                style: wish.marked.heading.style.clone(),
                pace: plan.class.pace,
            },
            maker: skill.map_or(wish.skill, |s| s.maker.as_str()).to_owned(),
            pattern: wish.pattern.and_then(pattern),
            met: wish.marked.sections.iter().flat_map(|s| &s.items).map(sameness).collect(),
        }
    }

    /// The worked example and the practice.
    fn items(&self) -> Result<(Vec<Item>, Vec<Item>), Fault> {
        if !makers::known(&self.maker) {
            return Ok((Vec::new(), Vec::new()));
        }
        let pairs = self.pairs();
        if pairs.len() > FINISH + 2 {
            let mut examples = self.ask(Spot::Example, 1, &pairs[..1])?;
            examples.truncate(1);
            let finish = self.ask(Spot::Support, FINISH, &pairs[1..=FINISH])?;
            let rest = &pairs[FINISH + 1..];
            let do_alone = self.ask(Spot::Core, rest.len(), rest)?;
            return Ok((examples, finish.into_iter().chain(do_alone).collect()));
        }
        let mut examples = self.met_first(self.ask(Spot::Example, 6, &[])?);
        examples.truncate(1);
        let mut practice = self.met_first(self.ask(Spot::Core, 3 * SHORT, &[])?);
        if self.pattern.is_none() {
            let mut begun = self.ask(Spot::Support, FINISH, &[])?;
            begun.append(&mut practice);
            practice = begun;
        }
        practice.retain(|item| examples.iter().all(|e| sameness(e) != sameness(item)));
        practice.truncate(if practice.iter().any(is_long) { WRITTEN } else { SHORT });
        Ok((examples, practice))
    }

    /// Items on which the pattern shows first; those of the lesson left out while there are others.
    fn met_first(&self, mut items: Vec<Item>) -> Vec<Item> {
        let new = |item: &Item| !self.met.contains(&sameness(item));
        if items.iter().filter(|i| new(i)).count() >= SHORT.min(items.len() / 2) {
            items.retain(new);
        }
        let shows = |item: &Item| {
            let name = self.wish.pattern.unwrap_or_default();
            let task = Task::of(item).zip(self.pattern);
            task.is_some_and(|(task, pattern)| !task.answers(pattern).is_empty())
                || item.likely.iter().any(|l| l.patterns.iter().any(|p| p == name))
                || item.choices.iter().any(|c| c.pattern.as_deref() == Some(name))
        };
        items.sort_by_key(|item| !shows(item));
        items
    }

    fn ask(&self, spot: Spot, count: usize, own: &[(u64, u64)]) -> Result<Vec<Item>, Fault> {
        // The name keeps these sets apart from those of lessons, catch-ups and revisions.
        let name = format!("group of {} {}", self.wish.marked.lesson, self.wish.group);
        let request = Request {
            skill: self.wish.skill,
            part: 2,
            spot,
            name: &name,
            profile: Profile::Learning,
            seconds: if own.is_empty() { 3600 } else { u32::MAX / 2 },
            least: count.min(1).max(own.len()),
            most: count,
            own,
        };
        makers::make(&self.maker, &request, &self.setting)
            .map_err(|what| Fault { item: String::new(), what })
    }

    /// Pairs for a written sum on which the pattern shows, easier ones first: the example's, then
    /// those of the practice. None where the skill is not written.
    fn pairs(&self) -> Vec<(u64, u64)> {
        let (Some(pattern), Some((top, side))) = (self.pattern, self.size()) else {
            return Vec::new();
        };
        let name = format!("group {}/{}", self.wish.marked.lesson, pattern.name);
        let mut stream = self.setting.seed.child(&name).stream();
        let fits = |&(a, b): &(u64, u64)| {
            let task = Task::Written(a, b);
            task.answers(pattern).iter().any(|&(_, turned)| !turned)
                && !self.met.contains(&format!("{}*{}", a.min(b), a.max(b)))
        };
        let drawn: Vec<(u64, u64)> = (0..DRAWN)
            .map(|_| (draw(&mut stream, top), draw(&mut stream, side)))
            .filter(|&(a, b)| !a.is_multiple_of(10) && (b < 10 || !b.is_multiple_of(10)))
            .filter(fits)
            .collect();
        // Without zeros inside and without ones, unless the pattern is about them.
        let without = |least: u8| -> Vec<(u64, u64)> {
            let fits = |n: u64| digits(n).iter().all(|&digit| digit >= least);
            drawn.iter().copied().filter(|&(a, b)| fits(a) && fits(b)).collect()
        };
        let enough = |pool: &Vec<(u64, u64)>| pool.len() > WRITTEN * 2;
        let pool = [2, 1].map(without).into_iter().find(enough).unwrap_or(drawn.clone());
        let mut pairs: Vec<(u64, u64)> = Vec::new();
        for (a, b) in pool {
            if pairs.iter().all(|&(x, y)| x != a && (y != b || side == 1)) {
                pairs.push((a, b));
            }
            if pairs.len() == WRITTEN + 1 {
                break;
            }
        }
        pairs.sort_by_key(|&(a, b)| carries(a, b));
        pairs
    }

    /// The digits of the skill's written sums in the check: the largest there.
    fn size(&self) -> Option<(u32, u32)> {
        let items = self.wish.marked.sections.iter().flat_map(|s| &s.items);
        let of_skill = items.filter(|i| i.skill == self.wish.skill);
        let sizes = of_skill.filter_map(|item| match (item.kind, Task::of(item)?) {
            (Kind::Written, Task::Written(a, b)) => {
                let (a, b) = crate::method::ordered(a, b);
                Some((digit_count(a), digit_count(b)))
            }
            _ => None,
        });
        sizes.max()
    }
}

fn is_long(item: &Item) -> bool {
    matches!(item.kind, Kind::Written | Kind::Story)
}

/// A number of so many digits, a multiplier of one digit at least 3.
fn draw(stream: &mut Stream, digits: u32) -> u64 {
    let low = if digits == 1 { 3 } else { ten_to(digits as usize - 1) };
    stream.number(low..=ten_to(digits as usize) - 1)
}

/// How many products of two digits carry.
fn carries(a: u64, b: u64) -> usize {
    let side = digits(b);
    let pairs = digits(a).into_iter().flat_map(|x| side.iter().map(move |y| (x, *y)));
    pairs.filter(|(x, y)| x * y >= 10).count()
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::*;
    use crate::lesson::{Findings, Occasion, compose};
    use indexmap::IndexMap;

    fn marked(skill: &str) -> (Plan, Pack) {
        let plan = fixture::plan(40);
        let lessons = fixture::term(&plan, 40);
        let calendar = fixture::calendar(&plan);
        let number = lessons.iter().find(|l| l.skill.as_deref() == Some(skill)).expect("taught");
        let occasion = Occasion {
            plan: &plan,
            lessons: &lessons,
            calendar: &calendar,
            number: number.number,
            version: "A",
            draft: false,
            findings: &Findings::default(),
            swaps: &IndexMap::new(),
        };
        let pack = compose(&occasion).expect("a pack");
        (plan, pack)
    }

    fn sheet(skill: &str, name: Option<&str>) -> GroupSheet {
        let (plan, pack) = marked(skill);
        let group = if name.is_some() { "1" } else { "absent" };
        let wish = ForGroup { plan: &plan, marked: &pack, group, pattern: name, skill, pupils: 4 };
        group_sheet(&wish).expect("a sheet")
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

    #[test]
    fn sheets_of_skills_for_the_head_and_for_the_absent_hold_sums_too() {
        let head = sheet("rounding-and-adjusting", Some("adjusting-forgotten"));
        assert!(head.practice().len() >= 6, "{}", head.practice().len());
        let absent = sheet("long-two-by-two", None);
        assert!(absent.practice().len() >= 3 && absent.pattern.is_none());
        assert!(absent.practice().iter().all(|i| i.id.contains("-SAP")));
        let shorter = absent.clone().shorter();
        assert_eq!(shorter.practice().len() + 1, absent.practice().len());
    }
}
