//! Choosing a scene and drawing its numbers.

use super::course::{Structures, Want};
use super::plan::{Numbers, WrongTurn};
use super::scene::{Range, Scene, StorySize, Structure};
use super::{Met, Request, Setting, Spot};
use super::{names, scenes};
use crate::exercise::patterns::gives_any;
use crate::seed::Stream;
use std::collections::{BTreeMap, BTreeSet};

/// A scene with its numbers.
#[derive(Debug, Clone)]
pub(super) struct Drawn<'a> {
    pub scene: &'a Scene,
    pub numbers: Numbers,
    pub answer: u64,
    pub wrong: Vec<WrongTurn>,
    pub name: &'static str,
    pub other: &'static str,
}

/// What a set has told so far.
pub(super) struct Set<'a> {
    stream: Stream,
    /// All scenes in this lesson's order, each with whether it is this spot's own; the teacher's
    /// stand before ours.
    order: Vec<(&'a Scene, bool)>,
    names: Vec<&'static str>,
    told: BTreeSet<&'a str>,
    structures: BTreeMap<Structure, u32>,
    products: BTreeSet<(u64, u64)>,
    /// What the pupils of the spot have been told before.
    met: &'a Met,
    spot: Spot,
    /// Whether the set stands in for stories that another part of the lesson tells: then another
    /// size is better than the same scene.
    instead: bool,
}

/// Parts of a lesson that one pupil meets, and so tell different stories; practice gets the most.
const PARTS: [&[Spot]; 8] = [
    &[Spot::Example],
    &[Spot::Guided],
    &[Spot::Support, Spot::Core, Spot::Stretch],
    &[Spot::Support, Spot::Core, Spot::Stretch],
    &[Spot::ExitCheck],
    &[Spot::Support, Spot::Core, Spot::Stretch],
    &[Spot::Homework, Spot::WarmUp],
    &[Spot::Test],
];
/// Draws of numbers before a scene is given up.
const TRIES: u32 = 300;

impl<'a> Set<'a> {
    pub(super) fn new(request: &Request, setting: &'a Setting, met: &'a Met) -> Set<'a> {
        let lesson = setting
            .seed
            .child("stories")
            .child(&format!("{}/{}", request.skill, request.part))
            .child(request.name);
        let mut ours: Vec<&Scene> = scenes().iter().collect();
        lesson.child("scenes").stream().shuffle(&mut ours);
        let mut theirs: Vec<&Scene> = setting.scenes.iter().collect();
        lesson.child("own scenes").stream().shuffle(&mut theirs);
        let own = |index: usize| PARTS[index % PARTS.len()].contains(&request.spot);
        let dealt = |(index, scene)| (scene, own(index));
        let order = theirs.into_iter().enumerate().map(dealt);
        let order = order.chain(ours.into_iter().enumerate().map(dealt)).collect();
        let mut stream = lesson.child(&format!("{:?}", request.spot)).stream();
        let mut names: Vec<&'static str> = names().iter().map(String::as_str).collect();
        stream.shuffle(&mut names);
        Set {
            stream,
            order,
            names,
            told: BTreeSet::new(),
            structures: BTreeMap::new(),
            products: BTreeSet::new(),
            met,
            spot: request.spot,
            instead: ["instead", "otherwise", "at last"].iter().any(|w| request.name.contains(w)),
        }
    }

    /// A story that is what is wanted, with numbers whose wrong turns all differ.
    ///
    /// # Errors
    /// No scene suits.
    pub(super) fn draw(&mut self, want: &Want) -> Result<Drawn<'a>, String> {
        for (scene, size) in self.suitable(want) {
            if let Some(drawn) = self.draw_numbers(scene, size, want.aside) {
                self.told.insert(scene.id.as_str());
                *self.structures.entry(scene.structure).or_default() += 1;
                self.products.extend(scene.plan.product(&drawn.numbers));
                return Ok(drawn);
            }
        }
        Err(format!("no story suits {want:?}"))
    }

    /// The scenes that suit, each with the size to tell it in. What pupils have been told often comes
    /// last. Of the others first come those of the size wanted most; among these those not told in
    /// this set, those not told lately, of this spot's own, of a structure told least. Of the
    /// structures introduced last there are few in each size: there the size comes last.
    fn suitable(&self, want: &Want) -> Vec<(&'a Scene, StorySize)> {
        let mut found = Vec::new();
        for (scene, own) in &self.order {
            let suits = want.plans.contains(&scene.plan)
                && want.structures.hold(scene.structure)
                && (!want.aside || scene.aside.is_some());
            let told = self.told.contains(scene.id.as_str());
            let structure = self.structures.get(&scene.structure).copied().unwrap_or(0);
            let before = self.met.told(&scene.id, self.spot);
            for (nth, size) in want.sizes.iter().enumerate() {
                if suits && scene.sizes.contains_key(size) {
                    let last = want.structures == Structures::Last || self.instead;
                    let (first, second) = if last { (0, nth) } else { (nth, 0) };
                    let worn = (before.often, first, told, before.lately);
                    found.push(((worn, !own, structure, before.times, second), *scene, *size));
                }
            }
        }
        found.sort_by_key(|(rank, _, _)| *rank);
        found.into_iter().map(|(_, scene, size)| (scene, size)).collect()
    }

    fn draw_numbers(
        &mut self,
        scene: &'a Scene,
        size: StorySize,
        with_aside: bool,
    ) -> Option<Drawn<'a>> {
        let ranges = scene.sizes.get(&size)?;
        let aside = scene.aside.as_ref().filter(|_| with_aside);
        for _ in 0..TRIES {
            let mut numbers = Numbers::default();
            for (letter, range) in ranges {
                numbers.set(*letter, self.number(*range));
            }
            if scene.plan.told().contains(&'p') {
                numbers.set('p', numbers.of('s') * numbers.of('g'));
            }
            if let Some(constant) = scene.constant {
                numbers.set('c', constant);
            }
            if let Some(aside) = aside {
                numbers.set('e', self.number(aside.range));
            }
            let product = scene.plan.product(&numbers);
            if product.is_some_and(|p| self.products.contains(&p)) {
                continue;
            }
            let Some((answer, wrong)) = judge(scene, &numbers) else { continue };
            let name = self.names.pop()?;
            let other = self.names.pop()?;
            self.names.insert(0, other);
            self.names.insert(0, name);
            return Some(Drawn { scene, numbers, answer, wrong, name, other });
        }
        None
    }

    /// A number of the range that does not end in 0: noughts at the end are a skill of their own.
    fn number(&mut self, range: Range) -> u64 {
        let number = self.stream.number(range.least..=range.most);
        if number.is_multiple_of(10) && number < range.most { number + 1 } else { number }
    }
}

/// The answer and the wrong turns, where all of them differ from each other, from the answer, from
/// what a slip in the written product would give, and where no two numbers of the story are equal.
fn judge(scene: &Scene, numbers: &Numbers) -> Option<(u64, Vec<WrongTurn>)> {
    let answer = scene.plan.lines(numbers)?.last()?.value;
    let letters = scene.plan.told().iter().copied().chain(numbers.has('e').then_some('e'));
    let told: Vec<u64> = letters.map(|letter| numbers.of(letter)).collect();
    if told.iter().collect::<BTreeSet<_>>().len() < told.len() || told.contains(&answer) {
        return None;
    }
    let wrong = scene.plan.wrong_turns(numbers);
    let answers: BTreeSet<u64> = wrong.iter().map(|turn| turn.answer).collect();
    if answers.len() < wrong.len() || answers.contains(&answer) {
        return None;
    }
    if let Some((a, b)) = scene.plan.product(numbers) {
        // Adding the two factors is a slip of both kinds.
        let turns = wrong.iter().map(|turn| turn.answer).filter(|answer| *answer != a + b);
        if gives_any(a, b, &turns.collect::<Vec<_>>()) {
            return None;
        }
    }
    Some((answer, wrong))
}
