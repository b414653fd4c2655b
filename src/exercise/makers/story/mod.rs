//! Story sums: a scene is chosen, its numbers are drawn, its story told, its wrong turns worked out.
//!
//! The scenes stand in `curriculum/stories`, where a teacher can read them and add to them. A set
//! follows a course (`course`): which plan, which structure, how large the numbers. Within it the
//! scenes are dealt so that the parts of one lesson tell different stories, and within a set the
//! structures take turns.

mod course;
mod draw;
mod ours;
mod plan;
mod quick;
mod read;
mod scene;
mod tell;
#[cfg(test)]
mod tests;
mod wrong;

pub use ours::{names, scenes};
pub use plan::{Line, Numbers, Plan, WrongTurn};
pub use read::{read_names, read_scenes};
pub use scene::{Aside, Noun, Range, Scene, StorySize, Structure};
pub use wrong::{STORY_PATTERNS, StoryPattern, story_pattern};

use super::{Bench, Met, Request, Setting, Spot};
use crate::exercise::item::Story;
use crate::exercise::patterns::{likely_written, pattern};
use crate::exercise::{Item, Kind, Likely, Space, Working};
use crate::method::{HouseStyle, Written, long};
use crate::number::digit_count;
use course::wants;
use draw::{Drawn, Set};
use std::collections::BTreeSet;
use tell::{Children, Small, tell};

/// Which skill the stories are for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StoryKind {
    /// One step answers the question.
    OneStep,
    /// Two steps do; one-step stories are mixed in.
    TwoStep,
}

/// Makes `request.most` story sums, not yet timed; for a warm-up equal groups in few words.
///
/// # Errors
/// No scene suits what is wanted (a fault of ours; the text says what was wanted).
pub fn make_story(
    kind: StoryKind,
    request: &Request,
    setting: &Setting,
) -> Result<Vec<Item>, String> {
    make_story_of_size(kind, None, request, setting)
}

/// Makes a set of story sums whose products all have this size, so that they suit the written method
/// that was taught last; `None`: the sizes that the skill needs.
///
/// # Errors
/// No scene suits what is wanted (a fault of ours; the text says what was wanted).
pub fn make_story_of_size(
    kind: StoryKind,
    size: Option<StorySize>,
    request: &Request,
    setting: &Setting,
) -> Result<Vec<Item>, String> {
    if request.spot == Spot::WarmUp {
        return Ok(quick::quick(request, setting));
    }
    told(kind, size, request, setting, &Met::default()).collect()
}

/// Story by story, each drawn when it is asked for: what pupils were told often or lately comes last.
fn told<'a>(
    kind: StoryKind,
    size: Option<StorySize>,
    request: &'a Request,
    setting: &'a Setting,
    met: &'a Met,
) -> impl Iterator<Item = Result<Item, String>> {
    let mut set = Set::new(request, setting, met);
    let wants = wants(kind, size, request, request.most);
    let item = move |want| Ok(item_of(&set.draw(&want)?, request, &setting.style));
    wants.into_iter().map(item)
}

/// The set a bench wants. Every course has its scenes (a test makes every set), so that the set can
/// only be short where a scene was taken away.
fn on_bench(kind: StoryKind, bench: &Bench) -> Vec<Item> {
    let (request, setting) = (bench.request, bench.setting);
    if request.spot == Spot::WarmUp {
        return bench.fit(quick::quick(request, setting));
    }
    bench.fit(told(kind, None, request, setting, bench.met).map_while(Result::ok))
}

/// The maker of `story-one-step`.
pub(super) fn one_step(bench: &Bench) -> Vec<Item> {
    on_bench(StoryKind::OneStep, bench)
}

/// The maker of `story-two-step`.
pub(super) fn two_step(bench: &Bench) -> Vec<Item> {
    on_bench(StoryKind::TwoStep, bench)
}

fn item_of(drawn: &Drawn, request: &Request, style: &HouseStyle) -> Item {
    let Drawn { scene, numbers, .. } = drawn;
    let children = Children { name: drawn.name, other: drawn.other };
    let figures = |text: &str| tell(text, numbers, children, style, Small::Figures);
    let lines = scene.plan.lines(numbers).unwrap_or_default();
    let story = Story {
        know: scene.know.iter().map(|text| figures(text)).collect(),
        need: figures(&scene.need),
        steps: lines.iter().map(|line| tell::line(line, style)).collect(),
        sentence: figures(&scene.answer.replace("{answer}", &style.number(drawn.answer))),
        structure: scene.structure.name().to_owned(),
        scene: scene.id.clone(),
    };
    let product = scene.plan.product(numbers);
    Item {
        id: String::new(),
        skill: request.skill.to_owned(),
        kind: Kind::Story,
        prompt: prompt_of(drawn, children, style),
        expression: Some(scene.plan.expression(numbers)),
        answer: drawn.answer.to_string(),
        accept: None,
        choices: Vec::new(),
        figure: None,
        space: space_of(&lines),
        working: Working::Story { story, long: product.map(|(a, b)| long(a, b, style)) },
        seconds: 0,
        likely: likely(drawn, product, style),
        purpose: purpose(drawn),
    }
}

/// The story and its question; a number that is not needed comes after the first sentence.
fn prompt_of(drawn: &Drawn, children: Children, style: &HouseStyle) -> String {
    let Drawn { scene, numbers, .. } = drawn;
    let mut sentences: Vec<&str> = scene.text.iter().map(String::as_str).collect();
    if let Some(aside) = scene.aside.as_ref().filter(|_| numbers.has('e')) {
        sentences.insert(1.min(sentences.len()), &aside.text);
    }
    sentences.push(&scene.question);
    tell(&sentences.join(" "), numbers, children, style, Small::Words)
}

/// At most this many wrong answers are told for a story.
const MOST_LIKELY: usize = 7;

/// What a wrong turn shows, in few words.
fn short(name: &str) -> &'static str {
    story_pattern(name).map(|p| p.short).or(pattern(name).map(|p| p.short)).unwrap_or_default()
}

/// The wrong turns, then slips in the written product where that is the answer.
fn likely(drawn: &Drawn, product: Option<(u64, u64)>, style: &HouseStyle) -> Vec<Likely> {
    let turn = |turn: &WrongTurn| Likely {
        answer: turn.answer.to_string(),
        patterns: vec![turn.pattern.to_owned()],
        shows: short(turn.pattern).to_owned(),
    };
    let mut all: Vec<Likely> = drawn.wrong.iter().map(turn).collect();
    let mut seen: BTreeSet<String> = all.iter().map(|l| l.answer.clone()).collect();
    seen.insert(drawn.answer.to_string());
    if let (Plan::Product, Some((a, b))) = (drawn.scene.plan, product) {
        for slip in likely_written(a, b, Written::Long, style) {
            if all.len() < MOST_LIKELY && seen.insert(slip.answer.clone()) {
                all.push(slip);
            }
        }
    }
    all.truncate(MOST_LIKELY);
    all
}

/// Squares for the longest line of working, and for every line one under the other.
fn space_of(lines: &[Line]) -> Space {
    let mut rows = 0;
    let mut columns = 5;
    for line in lines {
        let partial = if line.sign == '×' { digit_count(line.right) } else { 0 };
        // The two numbers, partial products where there are several, the answer.
        rows += 3 + if partial > 1 { partial } else { 0 };
        let longest = [line.left, line.right, line.value].map(digit_count).into_iter().max();
        columns = columns.max(longest.unwrap_or(0) + 1);
    }
    let small = |n: u32| u8::try_from(n.min(10)).unwrap_or(10);
    Space::Story { columns: small(columns), rows: small(rows) }
}

fn purpose(drawn: &Drawn) -> String {
    let mut parts = vec![drawn.scene.structure.in_words()];
    let inverse = drawn.scene.structure == Structure::Comparison;
    match drawn.scene.plan {
        Plan::Quotient if inverse => parts.push("the other way round"),
        Plan::MoreFirst | Plan::LessFirst => parts.push("first inside each group"),
        Plan::ThreeFactors => parts.push("three factors"),
        Plan::Converted => parts.push("a unit to change"),
        Plan::TwoProducts | Plan::ProductsApart => parts.push("two products"),
        _ => {}
    }
    if drawn.numbers.has('e') {
        parts.push("a number that is not needed");
    }
    parts.join("; ")
}
