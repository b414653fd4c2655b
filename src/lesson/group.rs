//! A sheet for a group: one page of sums that meet a pattern and mend it, or for who was absent.
//!
//! A worked sum on which the pattern would show stands first (correct examples help most: Barbieri
//! et al. 2023), then sums to finish, then sums to do; the pattern would show on every one of them,
//! so that each is a chance to do it rightly, and a wrong answer tells.

use super::bench::{sameness, setting};
use super::mending;
use super::{Fault, Level, Pack, Section, SectionName, TeacherPage};
use crate::exercise::makers::{self, Request, Setting, Spot};
use crate::exercise::patterns::{Pattern, Task, pattern};
use crate::exercise::{Item, Kind, Profile, verify};
use crate::number::{digit_count, digits};
use crate::plan::Plan;
use crate::words::join;
use serde::{Deserialize, Serialize};
use std::collections::BTreeSet;

/// A group's sheet with its key.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct GroupSheet {
    /// The group: its number, or `absent`.
    pub group: String,
    /// The pattern it is about; null for who was absent.
    pub pattern: Option<String>,
    /// Where it may be one of several: all of them. The sums then tell them apart.
    #[serde(default)]
    pub one_of: Vec<String>,
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
    /// Where the check could not tell which of several patterns it is: all of them; else none.
    pub one_of: &'a [String],
    /// The skill.
    pub skill: &'a str,
    /// How many pupils.
    pub pupils: usize,
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
/// Of so many sums the key says what each of several patterns answers.
const TOLD: usize = 3;

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
        one_of: wish.one_of.to_vec(),
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
    /// Patterns to be told apart; none where there is one, or none.
    one_of: Vec<&'static Pattern>,
    /// What pupils meet in the lesson and elsewhere.
    met: BTreeSet<String>,
}

impl<'a> Making<'a> {
    fn of(wish: &'a ForGroup<'a>) -> Making<'a> {
        let plan = wish.plan;
        let skill = plan.ladder.skills.get(wish.skill);
        Making {
            wish,
            setting: Setting { style: wish.marked.heading.style.clone(), ..setting(plan) },
            maker: skill.map_or(wish.skill, |s| s.maker.as_str()).to_owned(),
            pattern: wish.pattern.and_then(pattern),
            one_of: wish.one_of.iter().filter_map(|name| pattern(name)).collect(),
            met: wish.met.union(&met_in([wish.marked])).cloned().collect(),
        }
    }

    /// The worked example and the practice.
    fn items(&self) -> Result<(Vec<Item>, Vec<Item>), Fault> {
        if !makers::known(&self.maker) {
            return Ok((Vec::new(), Vec::new()));
        }
        let pairs = self.pairs();
        let begun = self.wish.begun;
        if pairs.len() > begun + 2 {
            let mut examples = self.ask(Spot::Example, 1, &pairs[..1])?;
            examples.truncate(1);
            let finish = self.ask(Spot::Support, begun, &pairs[1..=begun])?;
            let rest = &pairs[begun + 1..];
            let do_alone = self.ask(Spot::Core, rest.len(), rest)?;
            return Ok((examples, finish.into_iter().chain(do_alone).collect()));
        }
        let mut examples = self.met_first(self.ask(Spot::Example, 6, &[])?);
        examples.truncate(1);
        let mut practice = self.met_first(self.ask(Spot::Core, 3 * SHORT, &[])?);
        if self.pattern.is_none() {
            let mut first = self.met_first(self.ask(Spot::Support, 2 * WRITTEN, &[])?);
            first.truncate(begun);
            practice.retain(|item| first.iter().all(|b| sameness(b) != sameness(item)));
            first.append(&mut practice);
            practice = first;
        }
        practice.retain(|item| examples.iter().all(|e| sameness(e) != sameness(item)));
        practice.truncate(if practice.iter().any(is_long) { WRITTEN } else { SHORT });
        Ok((examples, practice))
    }

    /// Items on which the pattern shows first. Written products that pupils meet elsewhere are left
    /// out, and of short items those of the lesson and the term while there are others.
    fn met_first(&self, mut items: Vec<Item>) -> Vec<Item> {
        let new = |item: &Item| !self.met.contains(&sameness(item));
        items.retain(|item| new(item) || !matches!(item.kind, Kind::Written | Kind::Row));
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
        items.sort_by_key(|item| (std::cmp::Reverse(self.parts(Task::of(item))), !shows(item)));
        items
    }

    /// Of how many answers of the patterns to be told apart, the right one among them, this tells.
    fn parts(&self, task: Option<Task>) -> usize {
        let (Some(task), false) = (task, self.one_of.is_empty()) else { return 0 };
        let usual = |pattern: &Pattern| {
            let all = task.answers(pattern);
            let usual = all.iter().find(|(_, turned)| !turned).or(all.first());
            usual.map_or(task.right(), |&(answer, _)| answer)
        };
        let answers: BTreeSet<u64> = self.one_of.iter().map(|pattern| usual(pattern)).collect();
        answers.len()
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

    /// Pairs for a written sum on which the pattern shows, where there is one, easier ones first:
    /// the example's, then those of the practice. None where the skill is not written.
    fn pairs(&self) -> Vec<(u64, u64)> {
        let Some((top, side)) = self.size() else { return Vec::new() };
        let name = self.pattern.map_or("absent", |p| p.name);
        let name = format!("group {}/{name}", self.wish.marked.lesson);
        let mut stream = self.setting.seed.child(&name).stream();
        let shows = |a: u64, b: u64| match self.pattern {
            _ if !self.one_of.is_empty() => {
                self.parts(Some(Task::Written(a, b))) == self.one_of.len()
            }
            Some(pattern) => mending::shows(pattern, a, b),
            None => self.zeros_as_in_check(a, b),
        };
        let fits = |&(a, b): &(u64, u64)| {
            shows(a, b) && !self.met.contains(&format!("{}*{}", a.min(b), a.max(b)))
        };
        let mut drawn = mending::drawn(&mut stream, (top, side));
        drawn.retain(fits);
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
        pairs.sort_by_key(|&(a, b)| mending::carries(a, b));
        pairs
    }

    /// The digits of the skill's written sums in the lesson: the largest there.
    fn size(&self) -> Option<(u32, u32)> {
        let sizes = self.written().map(|(a, b)| (digit_count(a), digit_count(b)));
        sizes.max()
    }

    /// The skill's whole written products in the lesson, the longer number first.
    fn written(&self) -> impl Iterator<Item = (u64, u64)> {
        let items = self.wish.marked.sections.iter().flat_map(|s| &s.items);
        let of_skill = items.filter(|i| i.skill == self.wish.skill && i.kind == Kind::Written);
        of_skill.filter_map(|item| match Task::of(item)? {
            Task::Written(a, b) => Some(crate::method::ordered(a, b)),
            _ => None,
        })
    }

    /// Whether zeros stand inside these numbers where they do in all of the lesson's sums.
    fn zeros_as_in_check(&self, a: u64, b: u64) -> bool {
        let inside = |n: u64| digits(n).contains(&0);
        let all = |of: fn((u64, u64)) -> u64| self.written().all(|pair| inside(of(pair)));
        (inside(a) || !all(|(a, _)| a)) && (inside(b) || !all(|(_, b)| b))
    }
}

fn is_long(item: &Item) -> bool {
    matches!(item.kind, Kind::Written | Kind::Story)
}

#[cfg(test)]
mod tests {
    use super::super::fixture;
    use super::*;

    fn sheet(skill: &str, name: Option<&str>) -> GroupSheet {
        let (plan, pack) = fixture::first_lesson_of(skill);
        let group = if name.is_some() { "1" } else { "absent" };
        let met = &BTreeSet::new();
        let wish = ForGroup {
            plan: &plan,
            marked: &pack,
            group,
            pattern: name,
            one_of: &[],
            skill,
            pupils: 4,
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
                    one_of: &[],
                    skill,
                    pupils: 4,
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
            one_of: &names,
            skill,
            pupils: 4,
            met: &met,
            begun: BEGUN,
        };
        let sheet = group_sheet(&wish).expect("a sheet");
        let making = Making::of(&wish);
        let parts = |item: &Item| making.parts(Task::of(item)) == 2;
        let telling = sheet.practice().iter().filter(|item| parts(item)).count();
        assert!(telling >= 4, "{telling} of {}", sheet.practice().len());
        assert!(sheet.practice().iter().take(4).all(parts), "they come first");
        let told = sheet.telling();
        assert_eq!(told.iter().map(|(name, _)| name.as_str()).collect::<Vec<_>>(), names);
        assert_ne!(told[0].1, told[1].1);
    }

    #[test]
    fn sheets_of_skills_for_the_head_and_for_the_absent_hold_sums_too() {
        let head = sheet("rounding-and-adjusting", Some("adjusting-forgotten"));
        assert!(head.practice().len() >= 6, "{}", head.practice().len());
        let absent = sheet("long-two-by-two", None);
        assert!(absent.practice().len() >= 3 && absent.pattern.is_none());
        assert!(absent.practice().iter().all(|i| i.id.contains("-SAP")));
        let zeros = sheet("zeros-in-multiplier", None);
        for item in zeros.practice() {
            let Some(Task::Written(a, b)) = Task::of(item) else { panic!("{}", item.prompt) };
            assert!(digits(a.min(b)).contains(&0), "{}", item.prompt);
        }
        let shorter = absent.clone().shorter();
        assert_eq!(shorter.practice().len() + 1, absent.practice().len());
    }
}
