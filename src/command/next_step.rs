//! What marking a check leads to: which lesson takes it up, and what one more lesson would cost.

use super::class::Class;
use super::one_more::{OneMore, one_more};
use super::output::{Failure, short_date};
use super::pack::{InTurn, read_pack};
use crate::calendar::Clock;
use crate::exercise::Item;
use crate::folder::marks_file;
use crate::lesson::{Back, Pack, SectionName, back, is_large, meaning};
use crate::marking::{Decision, Group, Marking, is_test, marked_items};
use crate::plan::LessonKind;
use crate::schedule::Lesson;
use crate::words::{count, join};
use chrono::NaiveDate;
use serde::Serialize;
use std::collections::BTreeMap;
use std::fmt::Write;

/// A lesson that can take something up.
#[derive(Debug, Serialize)]
pub struct Takes {
    lesson: u32,
    date: NaiveDate,
    starts: Clock,
    /// Whether it is printed already, so that its paper stays as it is.
    printed: bool,
    /// Whether it teaches the marked skill.
    same_skill: bool,
    /// Whether it is the unit test.
    test: bool,
}

/// A group most of which make two mistakes at once.
#[derive(Debug, Serialize)]
pub struct TwoMistakes {
    group: u32,
    pattern: String,
    also: String,
    /// Those of the two that the next warm-up brings back.
    in_warm_up: Vec<String>,
}

/// What comes next.
#[derive(Debug, Serialize)]
pub struct NextStep {
    dir: String,
    lesson: u32,
    version: String,
    groups: usize,
    absent: usize,
    /// Whether it is the test, for which no sheet is made for who was absent.
    test: bool,
    /// The lesson's other version, where it is printed and not marked.
    other_version: Option<String>,
    /// The next lesson, whose warm-up brings the skill back unless it is printed.
    warm_up: Option<Takes>,
    /// The groups whose mistake it brings back.
    for_groups: Vec<u32>,
    /// The large groups for which it holds no sum: there is no room, or none short enough shows it.
    not_in_warm_up: Vec<u32>,
    /// The groups most of which make two mistakes at once.
    two_mistakes: Vec<TwoMistakes>,
    /// Whether it has sums of the marked skill.
    same_again: bool,
    /// Whether a group should be taken and no mistake is shared.
    nothing_shared: bool,
    /// Then the pupils to see by themselves; nobody is known of slips counted in piles.
    see: Vec<String>,
    /// Whether there are such slips beside them.
    see_slips: bool,
    /// The lesson that was added to teach it once more and is still to come.
    again: Option<Takes>,
    /// The next catch-up, where the class needs it again and no lesson was added.
    catch_up: Option<Takes>,
    /// The lessons before that catch-up that build on the skill.
    build_on_it: Vec<u32>,
    /// One more lesson of the skill, where the class needs it again.
    one_more: Option<OneMore>,
}

/// The lessons after the marked one that are still to come.
struct Ahead<'a> {
    class: &'a Class,
    pack: &'a Pack,
    lessons: Vec<&'a Lesson>,
}

impl<'a> Ahead<'a> {
    fn of(class: &'a Class, pack: &'a Pack, all: &'a [Lesson]) -> Ahead<'a> {
        let from = pack.date.max(class.state.today);
        // Slips are marked after school: the day of the check is over.
        let to_come = |l: &&Lesson| l.number != pack.lesson && l.date > pack.date && l.date >= from;
        Ahead { class, pack, lessons: all.iter().filter(to_come).collect() }
    }

    fn takes(&self, lesson: &Lesson) -> Takes {
        Takes {
            lesson: lesson.number,
            date: lesson.date,
            starts: lesson.starts,
            printed: self.class.state.printed(lesson.number, "A"),
            same_skill: lesson.skill.is_some() && lesson.skill == self.pack.skill,
            test: lesson.kind == LessonKind::UnitTest,
        }
    }

    /// The lesson that was added to teach the skill once more.
    fn added(&self) -> Option<Takes> {
        let added = self.class.state.added();
        let is_added = |l: &&Lesson| added.contains(&l.number) && l.skill == self.pack.skill;
        self.lessons.iter().copied().find(is_added).map(|lesson| self.takes(lesson))
    }

    /// The next catch-up, and the lessons before it that build on the skill.
    fn catch_up(&self, skill: Option<&str>) -> (Option<Takes>, Vec<u32>) {
        // What follows the test goes through the test.
        let mut before_test = self.lessons.iter().take_while(|l| l.kind != LessonKind::UnitTest);
        let found = before_test.find(|l| l.kind == LessonKind::CatchUp);
        let Some(catch_up) = found else { return (None, Vec::new()) };
        let ladder = &self.class.plan.ladder;
        let builds = |l: &&Lesson| {
            let needs = l.skill.as_ref().map(|skill| ladder.all_needs(skill)).unwrap_or_default();
            skill.is_some_and(|skill| needs.contains(&skill))
        };
        let before = self
            .lessons
            .iter()
            .copied()
            .filter(|l| (l.date, l.starts) < (catch_up.date, catch_up.starts));
        (Some(self.takes(catch_up)), before.filter(builds).map(|l| l.number).collect())
    }
}

/// What comes after this marking.
pub fn next_step(class: &Class, pack: &Pack, marking: &Marking) -> Result<NextStep, Failure> {
    let lessons = class.state.lessons();
    let ahead = Ahead::of(class, pack, &lessons);
    let (decision, test) = (marking.class.decision, is_test(pack));
    let wanted = matches!(decision, Decision::ReTeach | Decision::TakeAGroup);
    // Where no mistake is shared, there is none that a warm-up could bring back.
    let nobody = decision == Decision::TakeAGroup && marking.groups.is_empty() && !test;
    // Though the class goes on, the warm-up has a sum for each large group of a named pattern.
    let goes_on = decision == Decision::GoOn && !test;
    let for_some = goes_on && marking.groups.iter().any(|group| !group.is_perhaps());
    let next = ahead.lessons.first().filter(|_| (wanted && !nobody) || for_some);
    let next = next.map(|lesson| ahead.takes(lesson));
    let in_warm_up = InWarmUp::of(class, pack, marking, next.as_ref())?;
    // A class that goes on has nothing to come back where no group is large.
    let next = next.filter(|_| wanted || in_warm_up.concerns_any());
    let InWarmUp { for_groups, not_in_warm_up, two_mistakes, same_again } = in_warm_up;
    let taught_again = ahead.added().filter(|_| wanted);
    let again = decision == Decision::ReTeach && taught_again.is_none();
    let skill = pack.skill.clone().or_else(|| worst_skill(class, pack, marking));
    let (catch_up, build_on_it) =
        if again { ahead.catch_up(skill.as_deref()) } else { (None, Vec::new()) };
    let one_more = match &skill {
        Some(skill) if again && !test => one_more(class, skill, pack)?,
        _ => None,
    };
    let wrong = marking.pupils.iter().filter(|p| !p.wrong.is_empty());
    Ok(NextStep {
        dir: class.folder.dir().display().to_string(),
        lesson: pack.lesson,
        version: pack.version.clone(),
        groups: marking.groups.len(),
        absent: marking.absent_count(),
        test,
        other_version: other_version(class, pack),
        warm_up: next,
        for_groups,
        not_in_warm_up,
        two_mistakes,
        same_again,
        nothing_shared: nobody,
        see: wrong.filter(|_| nobody).map(|p| p.pupil.clone()).collect(),
        see_slips: nobody && marking.slips > 0,
        again: taught_again,
        catch_up,
        build_on_it,
        one_more,
    })
}

/// What the next lesson's warm-up brings back.
#[derive(Debug, Default)]
struct InWarmUp {
    for_groups: Vec<u32>,
    not_in_warm_up: Vec<u32>,
    two_mistakes: Vec<TwoMistakes>,
    same_again: bool,
}

impl InWarmUp {
    /// Of the warm-up as it is printed, or as it would be made now; nothing of a test.
    fn of(
        class: &Class,
        pack: &Pack,
        marking: &Marking,
        next: Option<&Takes>,
    ) -> Result<InWarmUp, Failure> {
        let two = |group: &Group| {
            let (group, pattern, also) = (group.number, group.pattern.clone(), group.also.clone()?);
            Some(TwoMistakes { group, pattern, also, in_warm_up: Vec::new() })
        };
        let two_mistakes = marking.groups.iter().filter_map(two).collect();
        let mut found = InWarmUp { two_mistakes, ..InWarmUp::default() };
        let Some(next) = next.filter(|next| !next.test && !is_test(pack)) else {
            return Ok(found);
        };
        let items: Vec<Item> = match read_pack(class, next.lesson, "A")?.filter(|_| next.printed) {
            Some(printed) => {
                printed.named(SectionName::WarmUp).flat_map(|s| s.items.clone()).collect()
            }
            None => InTurn::of(class)?.warm_up(next.lesson)?,
        };
        let own = |skill: &str| marked_items(pack).iter().any(|item| item.skill == skill);
        found.same_again = items.iter().any(|item| own(&item.skill));
        for two in &mut found.two_mistakes {
            let shows = |name: &&String| items.iter().any(|i| back(i, &[name.as_str()]) > Back::No);
            two.in_warm_up = [&two.pattern, &two.also].into_iter().filter(shows).cloned().collect();
        }
        for group in &marking.groups {
            let names: Vec<&str> = match group.one_of.as_slice() {
                [] => vec![&group.pattern],
                many => many.iter().map(String::as_str).collect(),
            };
            let shows = items.iter().any(|item| back(item, &names) > Back::No);
            if !is_large(group.size(), marking.answered()) {
                continue;
            }
            let list = if shows { &mut found.for_groups } else { &mut found.not_in_warm_up };
            list.push(group.number);
        }
        Ok(found)
    }
    fn concerns_any(&self) -> bool {
        !self.for_groups.is_empty() || !self.not_in_warm_up.is_empty()
    }
}

/// The lesson's other version, where it is printed and not marked.
fn other_version(class: &Class, pack: &Pack) -> Option<String> {
    let other = super::mark::other_version(&pack.version);
    let marked = class.folder.path(&marks_file(pack.lesson, other)).is_file();
    (class.state.printed(pack.lesson, other) && !marked).then(|| other.to_owned())
}

/// Of a check over several skills the one that went wrong most often, among those the unit teaches.
fn worst_skill(class: &Class, pack: &Pack, marking: &Marking) -> Option<String> {
    let mut wrong: BTreeMap<&str, u32> = BTreeMap::new();
    for item in marked_items(pack) {
        let marked = marking.items.iter().find(|mark| mark.id == item.id);
        let piles = marked.into_iter().flat_map(|mark| &mark.wrong);
        *wrong.entry(&item.skill).or_default() += piles.map(|pile| pile.count).sum::<u32>();
    }
    wrong.retain(|skill, count| *count > 0 && class.plan.unit.lessons.contains_key(*skill));
    wrong.into_iter().max_by_key(|(_, count)| *count).map(|(skill, _)| skill.to_owned())
}

fn at(takes: &Takes) -> String {
    format!("lesson {} on {} at {}", takes.lesson, short_date(takes.date), takes.starts)
}

impl NextStep {
    /// What to type next, in plain sentences.
    pub fn to_text(&self) -> String {
        let mut out = "What comes next\n".to_owned();
        let dir = &self.dir;
        let taken_up = self.catch_up.as_ref().map(|takes| takes.lesson);
        if let Some(next) = self.warm_up.as_ref().filter(|next| Some(next.lesson) != taken_up) {
            writeln!(out, "  The next lesson{}.", self.next_text(next)).ok();
        }
        self.two_mistakes.iter().for_each(|two| out.push_str(&two.to_text()));
        out.push_str(&self.see_text());
        let next = self.warm_up.as_ref().map(|next| next.lesson);
        if let Some(again) = self.again.as_ref().filter(|again| Some(again.lesson) != next) {
            let text = self.again_text(again);
            writeln!(out, "  The lesson that was added for it, {}, {text}.", at(again)).ok();
        }
        self.catch_up_text(&mut out);
        if let Some(more) = self.one_more.as_ref().filter(|_| !self.catch_up_will_do()) {
            out.push_str(&more.to_text(dir));
        }
        self.absent_text(&mut out);
        let absent = if self.test { 0 } else { self.absent };
        if self.groups + absent > 0 {
            let version = if self.version == "B" { " --version B" } else { "" };
            let groups = count(self.groups, "group");
            let whom = match (self.groups, absent) {
                (_, 0) => groups,
                (0, _) => "who was absent".to_owned(),
                _ => format!("{groups} and for who was absent"),
            };
            writeln!(
                out,
                "  `rungwise pack {dir} --lesson {}{version} --group all` makes a sheet for {whom}.",
                self.lesson
            )
            .ok();
        }
        writeln!(out, "  `rungwise report {dir} progress` shows what is secure.").ok();
        out
    }
}

impl NextStep {
    /// Which the next lesson is, and what it does about the mistakes.
    fn next_text(&self, next: &Takes) -> String {
        let lesson = at(next);
        let groups = || self.for_groups_text();
        if self.again.as_ref().is_some_and(|again| again.lesson == next.lesson) {
            format!(", {lesson}, {}", self.again_text(next))
        } else if next.test {
            format!(
                ", {lesson}, is the unit test, without a warm-up: bring this back before it by hand"
            )
        } else if next.printed && (self.for_groups.is_empty() || !self.not_in_warm_up.is_empty()) {
            format!(", {lesson}, is printed already; bring this back there by hand")
        } else if next.printed {
            format!(", {lesson}, is printed already, and {}", groups())
        } else if self.test {
            format!(", {lesson}, {}", self.through_text(next))
        } else if next.same_skill {
            format!(", {lesson}, teaches the same skill, and {}", groups())
        } else {
            format!(" is {lesson}; {}", groups())
        }
    }
    /// What the lesson after the test does.
    fn through_text(&self, next: &Takes) -> String {
        let (dir, lesson) = (&self.dir, next.lesson);
        let with = match self.groups {
            0 => String::new(),
            1 => ", with a sheet for the group".to_owned(),
            _ => ", with a sheet for each group".to_owned(),
        };
        format!(
            "goes through what was missed most{with}: `rungwise pack {dir} --lesson {lesson}` \
             prints it"
        )
    }
    /// What the next warm-up does for the groups.
    fn for_groups_text(&self) -> String {
        let each =
            |numbers: &[u32]| join(&numbers.iter().map(u32::to_string).collect::<Vec<_>>(), "and");
        let back = match (self.for_groups.as_slice(), self.same_again) {
            ([], true) => "its warm-up has sums of this skill".to_owned(),
            ([], false) => "its warm-up has no sum of this skill: all are too long".to_owned(),
            ([one], _) => format!("its warm-up brings back the mistake of group {one}"),
            (some, _) => {
                format!("its warm-up brings back the mistakes of groups {}", each(some))
            }
        };
        match self.not_in_warm_up.as_slice() {
            [] => back,
            [one] => {
                format!("{back}; the mistake of group {one} is not in it, so take its sheet")
            }
            some => {
                format!(
                    "{back}; the mistakes of groups {} are not in it, so take their sheets",
                    each(some)
                )
            }
        }
    }
    /// Whom to see where no mistake is shared.
    fn see_text(&self) -> String {
        let others = if self.see_slips { " and whoever else has something wrong" } else { "" };
        let whom = match self.see.as_slice() {
            _ if !self.nothing_shared => return String::new(),
            [] => "whoever has something wrong, slip in hand".to_owned(),
            [one] => format!("pupil {one}{others}, slip in hand"),
            some => format!("pupils {}{others} one by one, slips in hand", join(some, "and")),
        };
        format!("  No mistake is shared, so there is no group: see {whom}.\n")
    }
    /// What becomes of who gave no answers.
    fn absent_text(&self, out: &mut String) {
        let (dir, lesson) = (&self.dir, self.lesson);
        if self.absent == 0 {
            return;
        }
        let version = if self.other_version.as_deref() == Some("B") { " --version B" } else { "" };
        if let Some(other) = &self.other_version {
            writeln!(
                out,
                "  {} gave no answers; if they wrote version {other}, `rungwise mark {dir} --lesson \
                 {lesson}{version} FILE.csv` marks it, and both versions count as one class.",
                count(self.absent, "pupil")
            )
            .ok();
        } else if self.test {
            writeln!(
                out,
                "  Who was absent writes version B: `rungwise pack {dir} --lesson {lesson} --version \
                 B` prints it; marked, both versions count as one class."
            )
            .ok();
        }
    }
    /// What the lesson does that was added to teach it again.
    fn again_text(&self, again: &Takes) -> String {
        let (dir, lesson) = (&self.dir, again.lesson);
        let made = format!("`rungwise pack {dir} --lesson {lesson}");
        if again.printed {
            let afresh = format!("{made} --afresh` makes its sheets of these marks");
            return format!("teaches this again and is printed; if marks are new, {afresh}");
        }
        let with = if self.groups > 0 { ", with a sheet for each group" } else { "" };
        format!("teaches this again{with}: {made}` prints it")
    }
    /// Whether the next catch-up takes it up soon enough, so that no lesson need be given up.
    fn catch_up_will_do(&self) -> bool {
        self.catch_up.as_ref().is_some_and(|takes| !takes.printed) && self.build_on_it.is_empty()
    }
    /// Which catch-up takes it up again, and whether that is soon enough.
    fn catch_up_text(&self, out: &mut String) {
        let fits = self.one_more.as_ref().is_some_and(|more| more.fits);
        let Some(takes) = &self.catch_up else {
            if self.one_more.as_ref().is_some_and(|more| !more.fits) {
                out.push_str(
                    "  No catch-up comes before the test: go over it in a revision, with the groups’ \
                     sheets.\n",
                );
            }
            return;
        };
        let what = if takes.printed { "is printed already" } else { "takes it up again" };
        let builds = lesson_numbers(&self.build_on_it);
        let rather = match (self.build_on_it.is_empty(), takes.printed) {
            (true, false) => {
                let (dir, lesson) = (&self.dir, takes.lesson);
                let by_group = self.groups > 0 && !self.test;
                let with = if by_group { " with a sheet for each group" } else { "" };
                format!(
                    "; nothing builds on this before, so it will do: `rungwise pack {dir} --lesson \
                     {lesson}` prints it{with}"
                )
            }
            (false, _) if fits => format!("; rather one lesson more, for {builds} on this before"),
            (false, _) => format!("; {builds} on this before"),
            (true, true) => String::new(),
        };
        writeln!(out, "  The next catch-up, {}, {what}{rather}.", at(takes)).ok();
    }
}

/// "lesson 27 builds", "lessons 29 and 30 build".
fn lesson_numbers(numbers: &[u32]) -> String {
    let each: Vec<String> = numbers.iter().map(u32::to_string).collect();
    match each.as_slice() {
        [only] => format!("lesson {only} builds"),
        many => format!("lessons {} build", join(many, "and")),
    }
}

impl TwoMistakes {
    fn to_text(&self) -> String {
        let shows = |name: &str| {
            meaning(name).map_or_else(|| name.replace('-', " "), |m| m.beside_another().shows)
        };
        let (one, also) = (shows(&self.pattern), shows(&self.also));
        let which = match self.in_warm_up.as_slice() {
            [only] if *only == self.pattern => "; the next warm-up has the first only",
            [_] => "; the next warm-up has the second only",
            _ => "",
        };
        format!(
            "  Group {} makes two mistakes at once: {one}, and beside it {also}. Its sheet is about \
             both{which}.\n",
            self.group
        )
    }
}
