//! Making the items of a group's sheet, one skill's at a time.

use super::fitting::FEWEST;
use super::rare::ENOUGH;
use super::{ForGroup, SHORT, SHORT_SQUARES, TOLD, WRITTEN, met_in};
use crate::exercise::makers::{self, Request, Setting, Spot};
use crate::exercise::patterns::{Pattern, Task, pattern};
use crate::exercise::{Accept, Item, Kind, Likely, Profile, Space, Working};
use crate::lesson::bench::{sameness, setting};
use crate::lesson::{Fault, mending};
use crate::method::Written;
use crate::number::{digit_count, digits};
use std::collections::BTreeSet;

pub(super) mod two;

/// So many single rows of a written sum stand after the whole ones at most.
const ROWS: usize = 6;
/// So many short sums are made for a page that holds few long ones.
const SHORTER: usize = 8;
/// The digits of sums that may be short, longest first.
const SHORT_SIZES: [(u32, u32); 4] = [(3, 3), (4, 2), (3, 2), (2, 2)];
/// Where whole sums to be done alone come from: those of practice have a line for an estimate and other
/// questions in between, which take room from what the sheet is for.
const ALONE: Spot = Spot::Homework;
/// Where more sums come from, where practice has few.
const FURTHER: [Spot; 4] = [Spot::Homework, Spot::ExitCheck, Spot::Test, Spot::WarmUp];
/// A rare pattern shows on few of the pairs drawn: so many times more are drawn.
const DRAWS: usize = 6;
/// At most so many wrong answers stand beside an answer in the key.
const LIKELY: usize = 5;

/// A worked example, if any, and the practice.
pub(super) type Dealt = (Vec<Item>, Vec<Item>);

/// What the sheet is made with.
#[derive(Clone)]
pub(super) struct Making<'a> {
    pub(super) wish: &'a ForGroup<'a>,
    skill: &'a str,
    pub(super) setting: Setting,
    pub(super) maker: String,
    /// Whether the skill is about stories.
    of_stories: bool,
    pub(super) pattern: Option<&'static Pattern>,
    /// The second pattern, where most of the group have two.
    also: Option<&'static Pattern>,
    /// Whether only sums are wanted on which both show.
    both: bool,
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
        let mut setting = Setting { style: wish.marked.heading.style.clone(), ..setting(plan) };
        // The step at which the pattern begins is left to the pupil.
        let shown = wish.pattern.into_iter().chain(wish.also);
        setting.shown.extend(shown.map(|name| (skill.to_owned(), name.to_owned())));
        Making {
            wish,
            skill,
            setting,
            of_stories: maker.starts_with("story-"),
            maker,
            pattern: wish.pattern.and_then(pattern),
            also: wish.also.and_then(pattern),
            both: false,
            one_of: wish.one_of.iter().filter_map(|name| pattern(name)).collect(),
            met: wish.met.union(&met_in([wish.marked])).cloned().collect(),
        }
    }

    /// The same with another maker's sums.
    pub fn with(&self, maker: &str) -> Making<'a> {
        Making { maker: maker.to_owned(), ..self.clone() }
    }

    /// The worked example and the practice.
    pub fn items(&self) -> Result<Dealt, Fault> {
        if !makers::known(&self.maker) {
            return Ok((Vec::new(), Vec::new()));
        }
        let (mut examples, mut practice) = if self.of_stories && self.wish.pattern.is_some() {
            self.stories()?
        } else {
            match self.written_sums()? {
                Some(dealt) => dealt,
                None => self.others()?,
            }
        };
        examples.iter_mut().chain(&mut practice).for_each(|item| self.tell(item));
        Ok((examples, practice))
    }

    /// Where the skill's sums are written and there are enough: the worked one, sums to finish, whole
    /// sums, and single rows, of which a page holds more.
    pub(super) fn written_sums(&self) -> Result<Option<Dealt>, Fault> {
        let mut pairs = self.pairs();
        let begun = self.begun();
        if pairs.len() <= begun + 3 {
            return Ok(None);
        }
        let mut examples = self.ask(Spot::Example, 1, &pairs[..1])?;
        examples.truncate(1);
        pairs.remove(0);
        // What decides is done alone, before the worked sum.
        let first = if self.wish.perhaps { 1 } else { 0 };
        let mut practice = self.ask(ALONE, first, &pairs[..first])?;
        let mut to_finish = self.ask(Spot::Support, begun, &pairs[first..first + begun])?;
        to_finish.iter_mut().for_each(without_estimate);
        practice.extend(to_finish);
        let mut shorts = self.shorts(&pairs);
        if shorts.len() > 1 {
            // A shorter worked sum, for a page that the long one leaves too little room on.
            let at = shorts.len() - 1;
            examples.extend(self.ask(Spot::Example, 1, &shorts[at..])?.into_iter().take(1));
            shorts.truncate(at);
        }
        let rows = self.rows(&[&pairs[..], &shorts].concat())?;
        let mut rest = &pairs[first + begun..];
        if !rows.is_empty() && self.several() {
            rest = &rest[..rest.len().min((WRITTEN / self.wish.skills.len()).max(1))];
        }
        practice.extend(self.ask(ALONE, rest.len(), rest)?);
        practice.extend(self.ask(ALONE, shorts.len(), &shorts)?);
        practice.extend(rows);
        Ok(Some((examples, practice)))
    }

    /// How many sums are begun: none where it is the zeros that go wrong, for begun sums have them
    /// printed.
    fn begun(&self) -> usize {
        // Where several skills come in turn there is room for little, which is to be done whole.
        let zeros = self.all_patterns().any(|p| mending::in_printed_zeros(p.name));
        if self.several() || zeros || self.of_stories { 0 } else { self.wish.begun }
    }

    fn several(&self) -> bool {
        self.wish.skills.len() > 1
    }

    /// The pattern, or all it may be one of.
    pub(super) fn all_patterns(&self) -> impl Iterator<Item = &'static Pattern> {
        let one = self.pattern.filter(|_| self.one_of.is_empty());
        one.into_iter().chain(self.also).chain(self.one_of.iter().copied())
    }

    /// Single rows on which the pattern shows, of other sums than these; for who was absent any.
    fn rows(&self, pairs: &[(u64, u64)]) -> Result<Vec<Item>, Fault> {
        let absent = self.wish.pattern.is_none();
        let known = absent || self.pattern.is_some();
        if !known || self.size().is_none_or(|(_, side)| side < 2) {
            return Ok(Vec::new());
        }
        let mut met: BTreeSet<String> = self.met.clone();
        met.extend(pairs.iter().map(|(a, b)| format!("{}*{}", a.min(b), a.max(b))));
        let wanted = if self.several() { ROWS / 2 } else { ROWS };
        let mut rows = Vec::new();
        // A deal holds few on which a rare pattern shows.
        for deal in ["", "/2", "/3", "/4"] {
            if rows.len() < wanted {
                let mut more = self.dealt(deal, Spot::ExitCheck, SHORT, &[])?;
                more.retain(|row| row.kind == Kind::Row && (absent || self.meets(row)));
                rows.extend(more.into_iter().filter(|row| met.insert(sameness(row))));
            }
        }
        rows.truncate(wanted);
        Ok(rows)
    }

    /// What is not written, or has too few sums: items of practice on which the pattern shows, and
    /// where they are few, of the other parts of a lesson.
    fn others(&self) -> Result<Dealt, Fault> {
        let begun = self.begun();
        let mut examples = self.met_first(self.ask(Spot::Example, 6, &[])?);
        let other = examples.iter().skip(1).find(|item| !self.meets(item)).cloned();
        examples.truncate(1);
        let mut practice = self.met_first(self.ask(Spot::Core, 3 * SHORT, &[])?);
        if self.pattern.is_none() && self.wish.pattern.is_none() {
            let mut first = self.met_first(self.ask(Spot::Support, 2 * WRITTEN, &[])?);
            first.truncate(begun);
            practice.retain(|item| first.iter().all(|b| sameness(b) != sameness(item)));
            first.append(&mut practice);
            practice = self.with_more(first, &examples)?;
        } else {
            let all = practice;
            practice = self.showing(&all, &examples)?;
            // A fact that has six sums at most spares none of them to be worked.
            if let (true, Some(other)) = (practice.len() < FEWEST, other) {
                examples = vec![other];
                practice = self.showing(&all, &examples)?;
            }
        }
        practice.retain(|item| examples.iter().all(|e| sameness(e) != sameness(item)));
        practice.truncate(if practice.iter().any(is_long) { WRITTEN } else { SHORT });
        Ok((examples, practice))
    }

    /// These, with more from the other parts of a lesson where they are few.
    fn with_more(&self, mut found: Vec<Item>, examples: &[Item]) -> Result<Vec<Item>, Fault> {
        let mut have: BTreeSet<String> = found.iter().chain(examples).map(sameness).collect();
        for spot in FURTHER {
            if found.len() >= ENOUGH {
                break;
            }
            let more = self.met_first(self.ask(spot, 3 * SHORT, &[])?);
            let alone = more.into_iter().filter(|item| !item.is_begun());
            found.extend(alone.filter(|item| have.insert(sameness(item))));
        }
        Ok(found)
    }

    /// Those of these on which the pattern shows, with more from elsewhere where they are few; all
    /// where it shows on none.
    fn showing(&self, practice: &[Item], examples: &[Item]) -> Result<Vec<Item>, Fault> {
        let shows = |item: &Item| self.meets(item) && !item.is_begun();
        let mut have: BTreeSet<String> = examples.iter().map(sameness).collect();
        let mut found: Vec<Item> = practice.iter().filter(|item| shows(item)).cloned().collect();
        found.retain(|item| have.insert(sameness(item)));
        for spot in FURTHER {
            if found.len() >= FEWEST {
                break;
            }
            let more = self.met_first(self.ask(spot, 3 * SHORT, &[])?);
            let more = more.into_iter().filter(|item| shows(item) && have.insert(sameness(item)));
            found.extend(more);
        }
        if found.len() < FEWEST && self.pattern.is_some() && self.one_of.is_empty() {
            let pairs = self.rare();
            let more = self.ask(Spot::Homework, pairs.len(), &pairs)?;
            found.extend(more.into_iter().filter(|i| shows(i) && have.insert(sameness(i))));
            found.truncate(ENOUGH);
        }
        Ok(if found.is_empty() { practice.to_vec() } else { found })
    }

    /// Items on which the pattern shows first. Written products that pupils meet elsewhere are left
    /// out, and of short items those of the lesson and the term while there are others.
    pub(super) fn met_first(&self, mut items: Vec<Item>) -> Vec<Item> {
        let new = |item: &Item| !self.met.contains(&sameness(item));
        items.retain(|item| new(item) || !matches!(item.kind, Kind::Written | Kind::Row));
        let fits = |item: &Item| new(item) && (self.wish.pattern.is_none() || self.meets(item));
        if items.iter().filter(|i| fits(i)).count() >= SHORT.min(items.len() / 2) {
            items.retain(new);
        }
        items
            .sort_by_key(|item| (std::cmp::Reverse(self.parts(Task::of(item))), !self.meets(item)));
        items
    }

    /// Whether the pattern shows on the item as the class writes; of several, whether it tells at
    /// least two of them apart.
    pub(super) fn meets(&self, item: &Item) -> bool {
        if !self.one_of.is_empty() && item.kind != Kind::Story {
            return self.parts(Task::of(item)) > 1;
        }
        if self.both {
            return self.meets_both(item);
        }
        let name = self.wish.pattern.unwrap_or_default();
        self.pattern.is_some_and(|pattern| !self.wrong(item, pattern).is_empty())
            || item.likely.iter().any(|l| l.patterns.iter().any(|p| p == name))
            || item.choices.iter().any(|c| c.pattern.as_deref() == Some(name))
    }

    /// The wrong answers that a pupil of this class with this pattern gives to the item, the numbers
    /// taken the usual way round; none that counts as right.
    fn wrong(&self, item: &Item, pattern: &Pattern) -> Vec<u64> {
        let Some(task) = Task::of(item).or_else(|| product_of(item)) else { return Vec::new() };
        let mut answers: Vec<u64> = match task {
            Task::Written(a, b) => self.written_wrong(pattern, (a, b), method_of(item)),
            other => other.usual_answers(pattern),
        };
        if let Some(Accept::Between { least, most }) = &item.accept {
            let end = |text: &str| text.parse::<u64>().unwrap_or_default();
            let right = end(least)..=end(most);
            answers.retain(|answer| !right.contains(answer));
        }
        answers
    }

    fn written_wrong(&self, pattern: &Pattern, sum: (u64, u64), method: Written) -> Vec<u64> {
        let ways = pattern.attempts_in(sum, method, &self.setting.style).into_iter();
        ways.filter(|way| !way.turned).map(|way| way.working.value()).collect()
    }

    /// Puts what the sheet is about first among the wrong answers that the key names.
    fn tell(&self, item: &mut Item) {
        if self.also.is_some() {
            return self.tell_two(item);
        }
        let patterns: Vec<&Pattern> = self.all_patterns().collect();
        for pattern in patterns.into_iter().rev() {
            let answers = self.wrong(item, pattern);
            for answer in answers.into_iter().take(TOLD).rev() {
                tell_first(item, pattern, answer);
            }
        }
    }

    /// Of how many answers of the patterns to be told apart, the right one among them, this tells.
    pub fn parts(&self, task: Option<Task>) -> usize {
        let (Some(task), false) = (task, self.one_of.is_empty()) else { return 0 };
        let usual = |pattern: &Pattern| {
            let usual = || task.usual_answers(pattern).first().copied();
            let any = || task.answers(pattern).first().map(|&(answer, _)| answer);
            usual().or_else(any).unwrap_or(task.right())
        };
        let answers: BTreeSet<u64> = self.one_of.iter().map(|pattern| usual(pattern)).collect();
        answers.len()
    }

    pub(super) fn ask(
        &self,
        spot: Spot,
        count: usize,
        own: &[(u64, u64)],
    ) -> Result<Vec<Item>, Fault> {
        self.dealt("", spot, count, own)
    }

    pub(super) fn dealt(
        &self,
        deal: &str,
        spot: Spot,
        count: usize,
        own: &[(u64, u64)],
    ) -> Result<Vec<Item>, Fault> {
        // The name keeps these sets apart from those of lessons, catch-ups and revisions.
        let name = format!("group of {} {}{deal}", self.wish.marked.lesson, self.wish.group);
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
        let Some(size) = self.size() else { return Vec::new() };
        let mut pairs = self.pairs_of(size, WRITTEN + 1, "", &|_| true);
        self.carrying_first(&mut pairs);
        pairs
    }

    /// Pairs for sums of which three stand abreast, where the skill's own are longer, on which the
    /// pattern shows as well; those nearest to the skill's own size.
    fn shorts(&self, pairs: &[(u64, u64)]) -> Vec<(u64, u64)> {
        let method = makers::method_of(&self.maker).unwrap_or(Written::Long);
        let long = |pair: &(u64, u64)| !self.is_short(*pair);
        let Some(size) = self.size().filter(|_| method == Written::Long && self.pattern.is_some())
        else {
            return Vec::new();
        };
        if !pairs.iter().any(long) {
            return Vec::new();
        }
        let mut found: Vec<(u64, u64)> = Vec::new();
        for (top, side) in SHORT_SIZES.into_iter().filter(|s| s.0 <= size.0 && s.1 <= size.1) {
            let wanted = SHORTER - found.len();
            let new = |pair: (u64, u64)| self.is_short(pair) && !pairs.contains(&pair);
            found.extend(self.pairs_of((top, side), wanted, &format!("/{top}{side}"), &new));
        }
        found
    }

    /// Whether the sum's squares are so few that three such sums stand abreast.
    fn is_short(&self, (a, b): (u64, u64)) -> bool {
        let (columns, rows) =
            crate::method::squares(&crate::method::long(a, b, &self.setting.style), false);
        columns <= SHORT_SQUARES.0 && rows <= SHORT_SQUARES.1
    }

    /// At most so many pairs of this size on which the pattern shows, easier ones first.
    fn pairs_of(
        &self,
        (top, side): (u32, u32),
        count: usize,
        named: &str,
        other: &dyn Fn((u64, u64)) -> bool,
    ) -> Vec<(u64, u64)> {
        let name = self.pattern.map_or("absent", |p| p.name);
        let mut name = format!("group {}/{name}{named}", self.wish.marked.lesson);
        if self.several() {
            // Else the sums of two skills begin with the same digits.
            name = format!("{name}/{}", self.skill);
        }
        let mut stream = self.setting.seed.child(&name).stream();
        let shows = |a: u64, b: u64| match self.pattern {
            _ if !self.one_of.is_empty() => {
                self.parts(Some(Task::Written(a, b))) == self.one_of.len()
            }
            Some(_) if self.both => self.both_show_on((a, b)),
            Some(pattern) => mending::shows(pattern, a, b),
            None => self.zeros_as_in_check(a, b),
        };
        let fits = |&(a, b): &(u64, u64)| {
            other((a, b))
                && !self.met.contains(&format!("{}*{}", a.min(b), a.max(b)))
                && shows(a, b)
        };
        let mut drawn: Vec<(u64, u64)> = Vec::new();
        for _ in 0..DRAWS {
            drawn.extend(mending::drawn(&mut stream, (top, side)).into_iter().filter(fits));
            if drawn.len() > WRITTEN * 2 {
                break;
            }
        }
        if drawn.len() <= WRITTEN.min(count) {
            drawn.extend(mending::any_drawn(&mut stream, (top, side)).into_iter().filter(fits));
        }
        if drawn.is_empty() && side == 2 {
            drawn.extend(mending::tens_drawn(&mut stream, (top, side)).into_iter().filter(fits));
        }
        // Without zeros inside and without ones, unless the pattern is about them.
        let without = |least: u8| -> Vec<(u64, u64)> {
            let fits = |n: u64| digits(n).iter().all(|&digit| digit >= least);
            drawn.iter().copied().filter(|&(a, b)| fits(a) && fits(b)).collect()
        };
        let enough = |pool: &Vec<(u64, u64)>| pool.len() > WRITTEN * 2;
        let pool = [2, 1].map(without).into_iter().find(enough).unwrap_or(drawn.clone());
        let mut pairs: Vec<(u64, u64)> = Vec::new();
        let method = makers::method_of(&self.maker).unwrap_or(Written::Long);
        let one = self.pattern.filter(|_| self.one_of.is_empty());
        for (a, b) in pool {
            let here = |p: &Pattern| !self.written_wrong(p, (a, b), method).is_empty();
            let other = pairs.iter().all(|&(x, y)| x != a && (y != b || side == 1));
            if pairs.len() < count && other && one.is_none_or(here) {
                pairs.push((a, b));
            }
        }
        pairs.sort_by_key(|&(a, b)| mending::carries(a, b));
        pairs
    }

    /// Where the pattern is about carries, puts the easiest pair first, for the worked example, in
    /// which two are carried at least; one shows too little of what carrying is.
    fn carrying_first(&self, pairs: &mut [(u64, u64)]) {
        let mut own = self.pattern.into_iter().chain(self.also.filter(|_| self.both));
        let Some(pattern) = own.find(|p| p.name.contains("carr")) else { return };
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
        let wanted = if self.of_stories { Kind::Story } else { Kind::Written };
        let of_skill = items.filter(move |i| i.skill == self.skill && i.kind == wanted);
        of_skill.filter_map(|item| match Task::of(item).or_else(|| product_of(item))? {
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

/// By which method the item is to be done.
fn method_of(item: &Item) -> Written {
    match item.working {
        Working::Grid(_) => Written::Grid,
        Working::Lattice(_) => Written::Lattice,
        _ => Written::Long,
    }
}

/// The product that a story comes to, where that is all its working.
fn product_of(item: &Item) -> Option<Task> {
    match &item.working {
        Working::Story { long: Some(long), .. } if long.value.to_string() == item.answer => {
            Some(Task::Written(long.a, long.b))
        }
        _ => None,
    }
}

/// Puts this wrong answer of a pattern before the others.
fn tell_first(item: &mut Item, pattern: &Pattern, answer: u64) {
    let answer = answer.to_string();
    let mut patterns = vec![pattern.name.to_owned()];
    if let Some(at) = item.likely.iter().position(|l| l.answer == answer) {
        let known = item.likely.remove(at).patterns.into_iter();
        patterns.extend(known.filter(|name| name != pattern.name));
    }
    item.likely.insert(0, Likely { answer, patterns, shows: pattern.short.to_owned() });
    item.likely.truncate(LIKELY);
}

/// What a begun sum prints of the size: nothing on a group's sheet.
fn without_estimate(item: &mut Item) {
    if let Space::Squares { estimate, .. } = &mut item.space {
        *estimate = false;
    }
}

pub(super) fn is_long(item: &Item) -> bool {
    matches!(item.kind, Kind::Written | Kind::Story)
}
