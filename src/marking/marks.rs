//! Answers in; who is stuck on what, and whether the class goes on, out.

use super::absent::Absent;
use super::answers::{Answers, CROSS, is_test, marked_items};
use super::decide::{ByPiles, Class, Tally, decide, decide_apart};
use super::diagnose::{Observation, Suspect, Weighing, by_hand};
use super::findings::FOUND_FROM;
use super::groups::{Alike, Group, Groups, groups};
use super::item_mark::item_mark;
use super::model::Model;
use super::next::{Next, Source, next};
use super::pairs::{Together, give_both, on_paper};
use super::piles::Counted;
use super::question::Question;
use super::shares::learnt;
use super::tells::{Tells, tells};
use crate::exercise::Item;
use crate::lesson::Pack;
use crate::method::Written;
use crate::words::join;
use indexmap::{IndexMap, IndexSet};
use serde::{Deserialize, Serialize};

/// What one pupil's answers show.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct PupilMark {
    /// The pupil's label.
    pub pupil: String,
    /// How many answers are right.
    pub right: usize,
    /// How many items were answered; what is not answered is not wrong.
    pub of: usize,
    /// Patterns that may lie behind the wrong answers, most probable first.
    pub patterns: Vec<Suspect>,
    /// The pattern sure enough to be named.
    pub named: Option<String>,
    /// A second pattern, as sure, that stands beside it.
    #[serde(default)]
    pub named_also: Option<String>,
    /// Where two are named: what they look like on paper.
    #[serde(default)]
    pub together: Option<Together>,
    /// The patterns, likeliest first, of which it is one, where they give the same answers on all
    /// that was answered and are together as likely as not; empty where one is named.
    #[serde(default)]
    pub one_of: Vec<String>,
    /// The pattern that the rule of three fitting answers names, which can be checked by hand.
    pub by_hand: Option<String>,
    /// The item of the pack that [`PupilMark::next`] asks, if it is one.
    pub ask_next: Option<String>,
    /// The one next sum that decides between the two most probable patterns, where the second is a
    /// rival; or whether a single suspect is one. Pupils have not seen its answer in the lesson.
    #[serde(default)]
    pub next: Option<Next>,
    /// The items answered wrongly.
    pub wrong: Vec<String>,
    /// The items not answered.
    pub unanswered: Vec<String>,
    /// Wrong answers that fit no pattern, by item.
    pub stray: IndexMap<String, String>,
}

/// A wrong answer to one item and how often it was given.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct WrongPile {
    /// The answer, digits without grouping.
    pub answer: String,
    /// How many pupils gave it.
    pub count: u32,
    /// The patterns that give it; none for a stray answer.
    pub patterns: Vec<String>,
    /// Those of them that give it only with the numbers taken the other way round.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    pub turned: Vec<String>,
    /// Where none does, the patterns that give it if the sum was worked by another method than it
    /// asks for, and which method that is.
    #[serde(default)]
    pub otherwise: Option<Otherwise>,
    /// Where none does, two patterns that give it together, both named for a pupil who gave it.
    #[serde(default)]
    pub together: Option<[String; 2]>,
}

impl WrongPile {
    /// The patterns that give it, by the item's own method or by another one, and by which.
    pub(super) fn given_by(&self) -> (&[String], Option<Written>) {
        match &self.otherwise {
            Some(Otherwise { method, patterns }) if self.patterns.is_empty() => {
                (patterns, Some(*method))
            }
            _ => (&self.patterns, None),
        }
    }
}

/// A wrong answer as another method than the item's comes to it.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Otherwise {
    /// The method.
    pub method: Written,
    /// The patterns that give it by that method.
    pub patterns: Vec<String>,
}

/// What happened to one item.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct ItemMark {
    /// The item's id.
    pub id: String,
    /// How many got it right.
    pub right: u32,
    /// The wrong answers, commonest first.
    pub wrong: Vec<WrongPile>,
    /// Whether many were wrong in many ways: then the item itself deserves a look.
    #[serde(default)]
    pub suspicious: bool,
    /// Right numbers with another unit than is asked for, which count as right.
    #[serde(default)]
    pub other_units: Vec<OtherUnit>,
}

/// A unit beside right numbers that is not the one asked for.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct OtherUnit {
    /// What was written: "kg", or the sign of money before the number: "£".
    pub unit: String,
    /// What is asked for: "m", or a word such as "pages"; empty where no unit is asked for.
    pub instead_of: String,
    /// How often.
    pub count: u32,
    /// By whom; nobody is known where slips were counted in piles.
    pub pupils: Vec<String>,
}

impl ItemMark {
    /// How many were wrong.
    pub(super) fn missed(&self) -> u32 {
        self.wrong.iter().fold(0, |n, w| n.saturating_add(w.count))
    }
    /// How many answered it.
    pub(super) fn slips(&self) -> u64 {
        u64::from(self.right) + u64::from(self.missed())
    }
    /// Whether anybody answered it.
    pub(super) fn answered(&self) -> bool {
        self.slips() > 0
    }
}

/// A lesson's answers, marked.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Marking {
    /// The lesson's number.
    pub lesson: u32,
    /// The pack's version, "A" or "B".
    pub version: String,
    /// The versions that are marked together.
    #[serde(default)]
    pub versions: Vec<String>,
    /// Each pupil who answered anything, in the order of the file.
    pub pupils: Vec<PupilMark>,
    /// How many slips were counted in piles, of which no pupil is known.
    #[serde(default)]
    pub slips: u32,
    /// Each item that is marked, in the order of the pack.
    pub items: Vec<ItemMark>,
    /// Who may be helped together, largest group first; no more than a teacher can take.
    pub groups: Vec<Group>,
    /// Further groups, for which there is no time now; `pack --group` makes their sheets if asked.
    #[serde(default)]
    pub waiting: Vec<Group>,
    /// The pupils of further groups of one: each with a pattern of their own.
    #[serde(default)]
    pub alone: Vec<String>,
    /// Pupils of the file who answered nothing; where slips were counted in piles, which may be
    /// theirs, only those of whom it was said that they were not there.
    #[serde(default)]
    pub absent: Vec<String>,
    /// How many more of the class handed in nothing, where slips were counted in piles, so that
    /// nobody knows who.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub absent_unnamed: u32,
    /// How many rows of the file just marked could not be read; nobody knows what their pupils wrote.
    #[serde(default, skip_serializing_if = "is_zero")]
    pub unread: u32,
    /// What these items can and cannot tell.
    #[serde(default)]
    pub tells: Tells,
    /// Whether the class goes on.
    pub class: Class,
}

impl Marking {
    /// How many answered: the pupils who are known, and the slips counted in piles.
    pub fn answered(&self) -> usize {
        self.pupils.len().saturating_add(usize::try_from(self.slips).unwrap_or(usize::MAX))
    }
}

/// The answers to one version of a lesson's check or test.
pub type Part<'a> = (&'a Pack, &'a Answers);

/// Marks answers against the pack they were given to.
pub fn mark(pack: &Pack, answers: &Answers) -> Marking {
    mark_by(pack, answers, &Model::default())
}

/// The same with other numbers in the model.
pub fn mark_by(pack: &Pack, answers: &Answers, model: &Model) -> Marking {
    mark_after(pack, answers, &[], model)
}

/// The same with the checks that the class wrote before: what they show of the same skills counts
/// for each pupil's patterns, and nothing else.
pub fn mark_after(
    pack: &Pack,
    answers: &Answers,
    earlier: &[(Pack, Answers)],
    model: &Model,
) -> Marking {
    mark_together(&[(pack, answers)], earlier, model)
}

/// The same of a class of whom some have version A and the others version B: one decision, and
/// groups over both, though one may be marked by pupils and the other by piles of slips. Of who answered both, the version named last counts, and the other one is
/// evidence like an earlier check.
///
/// # Panics
/// Where there is no part.
pub fn mark_together(parts: &[Part], earlier: &[(Pack, Answers)], model: &Model) -> Marking {
    let mut marking = verdict(parts, earlier, model);
    if !marking.pupils.is_empty() {
        let items = marked_items(parts[0].0);
        let questions: Vec<Question> = items.iter().map(|item| Question::of(item)).collect();
        marking.tells = tells(parts[0].0, &questions, model);
    }
    marking
}

/// One version's questions, with the answers to them.
struct Asked<'a> {
    pack: &'a Pack,
    questions: Vec<Question<'a>>,
    source: Source<'a>,
    answers: &'a Answers,
}

impl<'a> Asked<'a> {
    fn of(&(pack, answers): &Part<'a>) -> Asked<'a> {
        let items = marked_items(pack);
        let source = Source::of(pack, &items);
        Asked { pack, questions: items.into_iter().map(Question::of).collect(), source, answers }
    }

    /// Whether it was marked by pupils, and not by piles of slips.
    fn by_pupils(&self) -> bool {
        !self.answers.pupils.is_empty()
    }

    /// What a pupil answered; nothing where they have no answer here.
    fn seen(&self, pupil: &str) -> Vec<Observation<'_>> {
        let given = self.answers.pupils.get(pupil);
        given.map_or_else(Vec::new, |given| observed(&self.questions, given))
    }
}

fn is_zero(count: &u32) -> bool {
    *count == 0
}

impl Marking {
    /// The same where so many rows of a file could not be read.
    pub fn without_rows(mut self, unread: u32) -> Marking {
        self.unread = unread;
        self.absent_unnamed = self.absent_unnamed.saturating_sub(unread);
        self.class = self.class.without_rows(unread, self.pupils.len());
        self
    }
}

/// All that a marking says but for what the check can tell: the one place that decides who has
/// which pattern and who is grouped for it.
pub(super) fn verdict(parts: &[Part], earlier: &[(Pack, Answers)], model: &Model) -> Marking {
    let asked: Vec<Asked> = parts.iter().map(Asked::of).collect();
    let before = asked_before(asked.iter().flat_map(|a| &a.questions), earlier);
    let mut marks: Vec<Vec<ItemMark>> = asked
        .iter()
        .map(|a| a.questions.iter().map(|q| item_mark(q, a.answers)).collect())
        .collect();
    let Everybody { pupils, tallies, absent } = everybody(parts, &asked, &before, &marks, model);
    for (a, marks) in asked.iter().zip(&mut marks) {
        give_both(marks, &a.questions, a.answers, &pupils);
    }
    let pack = asked[0].pack;
    let class = decided_with_doubt(&asked, &tallies, &marks);
    let items: Vec<&Item> = asked.iter().flat_map(|a| &a.questions).map(|q| q.item).collect();
    let alike = alike(&pupils, &asked);
    let piles = counted(&asked, &marks);
    let found = groups(&pupils, piles, &alike, &items).with_perhaps(&alike, &pupils);
    let alone = found.alone(&pupils);
    let Groups { now: groups, waiting } = found;
    let slips = slips(&asked, &marks);
    let absent = Absent::of(parts, &absent, pupils.len(), slips);
    let marks: Vec<ItemMark> = marks.into_iter().flatten().collect();
    Marking {
        lesson: pack.lesson,
        version: pack.version.clone(),
        versions: asked.iter().map(|a| a.pack.version.clone()).collect(),
        groups,
        waiting,
        alone,
        absent: absent.named,
        absent_unnamed: absent.others,
        unread: 0,
        pupils,
        slips,
        items: marks,
        tells: Tells::default(),
        class,
    }
}

/// The class's decision; where it hangs on items that many got wrong in many ways, what it would be
/// without them.
fn decided_with_doubt(asked: &[Asked], tallies: &[[Tally; 2]], marks: &[Vec<ItemMark>]) -> Class {
    let of = |which: usize| tallies.iter().map(|both| both[which]).collect::<Vec<Tally>>();
    let mut class = decided(asked, &of(0), marks);
    let sound = |item: &&ItemMark| !item.suspicious;
    let without: Vec<Vec<ItemMark>> =
        marks.iter().map(|items| items.iter().filter(sound).cloned().collect()).collect();
    let odd = marks.iter().flatten().filter(|item| item.suspicious);
    let odd: Vec<&str> = odd.map(|item| item.id.as_str()).collect();
    if odd.is_empty() || !without.iter().flatten().any(ItemMark::answered) {
        return class;
    }
    let other = decided(asked, &of(1), &without).decision;
    if other != class.decision {
        let them = if odd.len() == 1 { "it" } else { "them" };
        class.because += &format!(
            " Without {}, which many got wrong in many ways, it would be: {}. Look at {them} first.",
            join(&odd, "and"),
            other.in_words()
        );
    }
    class
}

/// The class's decision: by pupils, by piles, or by both where its versions were marked in two ways.
fn decided(asked: &[Asked], tallies: &[Tally], marks: &[Vec<ItemMark>]) -> Class {
    let pack = asked[0].pack;
    let (test, size) = (is_test(pack), usize::try_from(pack.heading.pupils).unwrap_or(usize::MAX));
    let ways = asked.iter().zip(marks);
    let (by_pupils, by_piles): (Vec<_>, Vec<_>) = ways.partition(|(a, _)| a.by_pupils());
    let ([(one, own)], [(other, theirs)]) = (by_pupils.as_slice(), by_piles.as_slice()) else {
        return decide(tallies, marks, test, size);
    };
    let class = decide(tallies, std::slice::from_ref(*own), test, size);
    let by_piles = ByPiles { version: &other.pack.version, items: theirs };
    decide_apart((&one.pack.version, tallies, class), &by_piles, test, size)
}

/// The piles of slips whose wrong answer a known pattern gives.
fn counted<'a>(asked: &'a [Asked], marks: &'a [Vec<ItemMark>]) -> Vec<Counted<'a>> {
    let of_version = |(version, (a, marks)): (usize, (&'a Asked, &'a Vec<ItemMark>))| {
        let items = a.questions.iter().zip(marks).filter(|_| !a.by_pupils());
        items.flat_map(move |(question, mark)| {
            let known = mark.wrong.iter().filter(|pile| !pile.given_by().0.is_empty());
            let (id, skill) = (mark.id.as_str(), question.item.skill.as_str());
            known.map(move |pile| Counted { version, id, skill, pile })
        })
    };
    asked.iter().zip(marks).enumerate().flat_map(of_version).collect()
}

/// How many slips were counted in piles: of each version as many as its most answered item has.
fn slips(asked: &[Asked], marks: &[Vec<ItemMark>]) -> u32 {
    let of_version = |(a, marks): (&Asked, &Vec<ItemMark>)| {
        let most = marks.iter().map(ItemMark::slips).max().unwrap_or(0);
        if a.by_pupils() { 0 } else { u32::try_from(most).unwrap_or(u32::MAX) }
    };
    asked.iter().zip(marks).map(of_version).fold(0, u32::saturating_add)
}

/// The wrong answers that a known pattern gives, with the pupils who gave them.
fn alike<'a>(pupils: &'a [PupilMark], asked: &'a [Asked]) -> Vec<Alike<'a>> {
    let mut found: IndexMap<(&str, String), Alike> = IndexMap::new();
    for pupil in pupils {
        for id in &pupil.wrong {
            let mut questions = asked.iter().flat_map(|a| a.questions.iter().map(move |q| (a, q)));
            let Some((a, question)) = questions.find(|(_, q)| q.item.id == *id) else { continue };
            let given = a.answers.pupils.get(&pupil.pupil).and_then(|row| row.get(id)?.as_deref());
            let Some(given) = given.map(|given| question.meant(given)) else { continue };
            let new = || {
                let (patterns, method) = question.given_by(&given);
                Alike { skill: &question.item.skill, patterns, method, pupils: Vec::new() }
            };
            let key = (id.as_str(), given.clone());
            found.entry(key).or_insert_with(new).pupils.push(pupil);
        }
    }
    found.into_values().filter(|pile| !pile.patterns.is_empty()).collect()
}

/// Everybody who stands in the answers.
#[derive(Default)]
struct Everybody {
    pupils: Vec<PupilMark>,
    /// Of each pupil by all items, and without those that look suspicious.
    tallies: Vec<[Tally; 2]>,
    absent: Vec<String>,
}

/// What one pupil has answered, at the place of the version written last.
struct Sitting<'a> {
    pupil: &'a str,
    at: usize,
    /// Earlier answers, then those of the newest check, which are so many.
    all: Vec<Observation<'a>>,
    newest: usize,
}

/// Marks each pupil by the version written last; what was answered before is evidence only.
fn everybody(
    parts: &[Part],
    asked: &[Asked],
    before: &[(Vec<Question>, &Answers)],
    marks: &[Vec<ItemMark>],
    model: &Model,
) -> Everybody {
    let mut all = Everybody::default();
    let mut sittings: Vec<Sitting> = Vec::new();
    for pupil in labels(parts) {
        let mut written: Vec<(usize, Vec<Observation>)> = (asked.iter().enumerate())
            .map(|(at, a)| (at, a.seen(pupil)))
            .filter(|(_, seen)| !seen.is_empty())
            .collect();
        let Some((at, seen)) = written.pop() else {
            all.absent.push(pupil.to_owned());
            continue;
        };
        let old = before.iter().filter_map(|(q, a)| Some(observed(q, a.pupils.get(pupil)?)));
        let old = old.flatten().chain(written.into_iter().flat_map(|(_, seen)| seen));
        let old = old.map(|seen| Observation { newest: false, ..seen });
        let newest = seen.len();
        sittings.push(Sitting { pupil, at, all: old.chain(seen).collect(), newest });
    }
    let weighings: Vec<Weighing> =
        sittings.iter().map(|sitting| model.weighing(&sitting.all, model.paired)).collect();
    let models = if model.learns { learnt(model, &weighings) } else { Vec::new() };
    for (nth, (sitting, weighing)) in sittings.iter().zip(&weighings).enumerate() {
        let Sitting { pupil, at, all: answered, newest } = sitting;
        let seen = &answered[answered.len() - newest..];
        all.tallies.push([false, true].map(|sound| tally(seen, &marks[*at], sound)));
        let own = models.get(nth).unwrap_or(model);
        let mut mark = pupil_mark(sitting, weighing, &asked[*at].source, own);
        let given = &asked[*at].answers.pupils[*pupil];
        mark.unanswered = (asked[*at].questions.iter().map(|q| &q.item.id))
            .filter(|id| given.get(*id).is_none_or(Option::is_none))
            .cloned()
            .collect();
        all.pupils.push(mark);
    }
    all
}

/// How one pupil did, on all items or on those that do not look suspicious.
fn tally(seen: &[Observation], marks: &[ItemMark], sound: bool) -> Tally {
    let counts = |item: &&ItemMark| !(sound && item.suspicious);
    let ids: Vec<&str> = marks.iter().filter(counts).map(|item| item.id.as_str()).collect();
    let seen = || seen.iter().filter(|s| ids.contains(&s.question.item.id.as_str()));
    let asked = marks.iter().filter(counts).filter(|item| item.answered()).count();
    Tally { right: seen().filter(|s| s.right()).count(), answered: seen().count(), asked }
}

/// The pupils of all parts; by number where all have numbers and there are several parts.
fn labels<'a>(parts: &[Part<'a>]) -> Vec<&'a str> {
    let all: IndexSet<&str> =
        parts.iter().flat_map(|(_, answers)| answers.pupils.keys()).map(String::as_str).collect();
    let mut all: Vec<&str> = all.into_iter().collect();
    let number = |label: &&str| label.parse::<u32>().ok();
    if parts.len() > 1 && all.iter().all(|label| number(label).is_some()) {
        all.sort_by_key(number);
    }
    all
}

/// The questions of earlier checks on the skills of these, with the answers to them.
fn asked_before<'a, 'q>(
    questions: impl Iterator<Item = &'q Question<'q>>,
    earlier: &'a [(Pack, Answers)],
) -> Vec<(Vec<Question<'a>>, &'a Answers)> {
    let skills: IndexSet<&str> = questions.map(|q| q.item.skill.as_str()).collect();
    let of_skills = |(pack, answers): &'a (Pack, Answers)| {
        let items = marked_items(pack).into_iter().filter(|i| skills.contains(i.skill.as_str()));
        (items.map(Question::of).collect::<Vec<_>>(), answers)
    };
    earlier.iter().map(of_skills).filter(|(questions, _)| !questions.is_empty()).collect()
}

pub(super) fn observed<'a>(
    questions: &'a [Question],
    given: &IndexMap<String, Option<String>>,
) -> Vec<Observation<'a>> {
    let seen = questions.iter().filter_map(|question| {
        let given = given.get(&question.item.id)?.as_deref()?;
        Some(Observation { question, given: question.meant(given), newest: true })
    });
    seen.collect()
}

/// What a pupil's answers show: right and wrong of this check, patterns of all that is known.
fn pupil_mark(sitting: &Sitting, weighing: &Weighing, source: &Source, model: &Model) -> PupilMark {
    let Sitting { pupil, all, newest, .. } = sitting;
    let pupil = *pupil;
    let seen = &all[all.len() - newest..];
    let id = |s: &Observation| s.question.item.id.clone();
    let wrong = || seen.iter().filter(|s| !s.right());
    let (right, of) = (seen.len() - wrong().count(), seen.len());
    let all_right = wrong().next().is_none();
    // Whoever has all of this check right is not asked what went wrong before.
    let patterns = if all_right { Vec::new() } else { model.suspects(weighing) };
    let (named, named_also) = model.named(&patterns);
    let next = names_to_part(&patterns, named, named_also, model).and_then(|names| {
        let asked: Vec<&Question> = all.iter().map(|s| s.question).collect();
        next(source, &asked, names)
    });
    // What two patterns give that were named together is no stray answer.
    let of_both = |s: &Observation| {
        let both = s.question.together(&s.given).iter();
        named.zip(named_also).is_some_and(|(one, other)| {
            both.into_iter().any(|pair| *pair == (one, other) || *pair == (other, one))
        })
    };
    let fits_none = |s: &&Observation| {
        s.given != CROSS && s.question.patterns_of(&s.given).is_empty() && !of_both(s)
    };
    let stray = wrong().filter(fits_none).map(|s| (id(s), s.given.clone())).collect();
    let wrong: Vec<String> = wrong().map(id).collect();
    PupilMark {
        pupil: pupil.to_owned(),
        right,
        of,
        named: named.map(str::to_owned),
        named_also: named_also.map(str::to_owned),
        together: named.zip(named_also).map(|(one, other)| on_paper([one, other], all)),
        one_of: if named.is_some() { Vec::new() } else { one_of(&patterns, all) },
        by_hand: if all_right { None } else { by_hand(all) },
        ask_next: next.as_ref().and_then(|n| n.item.clone()),
        next,
        patterns,
        wrong,
        unanswered: Vec::new(),
        stray,
    }
}

/// The likeliest suspect with all that give the same answers as it to whatever was answered, if
/// there are such and they are found together.
pub(super) fn one_of(patterns: &[Suspect], all: &[Observation]) -> Vec<String> {
    let Some(first) = patterns.first() else { return Vec::new() };
    let alike = |s: &&Suspect| all.iter().all(|o| o.question.alike(&first.name, &s.name));
    let alike: Vec<&Suspect> = patterns.iter().filter(alike).collect();
    let together: f64 = alike.iter().map(|s| s.probability).sum();
    if alike.len() < 2 || together < FOUND_FROM {
        return Vec::new();
    }
    alike.into_iter().map(|s| s.name.clone()).collect()
}

/// Which two a next sum should part: the two likeliest, where the second is likely enough to be a
/// rival; where one alone is suspected, it and no pattern, which an empty name stands for.
fn names_to_part<'s>(
    patterns: &'s [Suspect],
    named: Option<&str>,
    named_also: Option<&str>,
    model: &Model,
) -> Option<[&'s str; 2]> {
    let (first, rest) = patterns.split_first()?;
    let rival = rest.iter().find(|s| Some(s.name.as_str()) != named_also);
    let rival = rival.filter(|s| s.probability >= model.list_from).map(|s| s.name.as_str());
    let alone = (named.is_none() && first.probability >= model.list_from).then_some("");
    Some([&first.name, rival.or(alone)?])
}
