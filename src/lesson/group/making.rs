//! Making the items of a group's sheet, one skill's at a time.

use super::{ForGroup, SHORT, WRITTEN, met_in};
use crate::exercise::makers::{self, Request, Setting, Spot};
use crate::exercise::patterns::{Pattern, Task, pattern};
use crate::exercise::{Item, Kind, Profile};
use crate::lesson::bench::{sameness, setting};
use crate::lesson::{Fault, mending};
use crate::number::{digit_count, digits};
use std::collections::BTreeSet;

/// What the sheet is made with.
pub(super) struct Making<'a> {
    wish: &'a ForGroup<'a>,
    skill: &'a str,
    setting: Setting,
    maker: String,
    pattern: Option<&'static Pattern>,
    /// Patterns to be told apart; none where there is one, or none.
    one_of: Vec<&'static Pattern>,
    /// What pupils meet in the lesson and elsewhere.
    met: BTreeSet<String>,
}

impl<'a> Making<'a> {
    /// For this skill of the group's.
    pub fn of(wish: &'a ForGroup<'a>, skill: &'a str) -> Making<'a> {
        let plan = wish.plan;
        let maker = plan.ladder.skills.get(skill).map_or(skill, |s| s.maker.as_str()).to_owned();
        Making {
            wish,
            skill,
            setting: Setting { style: wish.marked.heading.style.clone(), ..setting(plan) },
            maker,
            pattern: wish.pattern.and_then(pattern),
            one_of: wish.one_of.iter().filter_map(|name| pattern(name)).collect(),
            met: wish.met.union(&met_in([wish.marked])).cloned().collect(),
        }
    }

    /// The worked example and the practice.
    pub fn items(&self) -> Result<(Vec<Item>, Vec<Item>), Fault> {
        if !makers::known(&self.maker) {
            return Ok((Vec::new(), Vec::new()));
        }
        let mut pairs = self.pairs();
        // Where several skills come in turn there is room for little, which is to be done whole.
        let begun = if self.wish.skills.len() > 1 { 0 } else { self.wish.begun };
        if pairs.len() > begun + 3 {
            let mut examples = self.ask(Spot::Example, 1, &pairs[..1])?;
            examples.truncate(1);
            pairs.remove(0);
            // What decides is done alone, before the worked sum.
            let first = if self.wish.perhaps { 1 } else { 0 };
            let mut practice = self.ask(Spot::Core, first, &pairs[..first])?;
            practice.extend(self.ask(Spot::Support, begun, &pairs[first..first + begun])?);
            let rest = &pairs[first + begun..];
            practice.extend(self.ask(Spot::Core, rest.len(), rest)?);
            return Ok((examples, practice));
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
    pub fn parts(&self, task: Option<Task>) -> usize {
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
            skill: self.skill,
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
        self.carrying_first(&mut pairs);
        pairs
    }

    /// Where the pattern is about carries, puts the easiest pair first, for the worked example, in
    /// which two are carried at least; one shows too little of what carrying is.
    fn carrying_first(&self, pairs: &mut [(u64, u64)]) {
        let Some(pattern) = self.pattern.filter(|p| p.name.contains("carr")) else { return };
        let style = &self.setting.style;
        let carried = |&(a, b): &(u64, u64)| -> usize {
            let long = crate::method::long(a, b, style);
            let all = |carries: &[u8]| carries.iter().filter(|&&carry| carry > 0).count();
            // What comes out of a row's last digit is written and not carried.
            let of_row = |carries: &[u8]| carries.split_last().map_or(0, |(_, rest)| all(rest));
            match pattern.name.starts_with("adding-") {
                true => all(&long.adding_carries),
                false => long.rows.iter().map(|row| of_row(&row.carries)).sum(),
            }
        };
        let two = pairs.iter().position(|pair| carried(pair) >= 2);
        let most = || (0..pairs.len()).rev().max_by_key(|&at| carried(&pairs[at]));
        if let Some(at) = two.or_else(most) {
            pairs[..=at].rotate_right(1);
        }
    }

    /// The digits of the skill's written sums in the lesson: the largest there.
    fn size(&self) -> Option<(u32, u32)> {
        let sizes = self.written().map(|(a, b)| (digit_count(a), digit_count(b)));
        sizes.max()
    }

    /// The skill's whole written products in the lesson, the longer number first.
    fn written(&self) -> impl Iterator<Item = (u64, u64)> {
        let items = self.wish.marked.sections.iter().flat_map(|s| &s.items);
        let of_skill = items.filter(|i| i.skill == self.skill && i.kind == Kind::Written);
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
