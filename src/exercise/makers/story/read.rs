//! Reading scenes from TOML, with the place of every mistake.

use super::plan::{Numbers, Plan};
use super::scene::{Aside, Noun, Range, Scene, StorySize, Structure};
use super::tell::blanks;
use crate::report::{Message, Report, Source, Spot, Table};
use std::collections::{BTreeMap, BTreeSet};
use std::sync::Arc;

/// Letters that stand for names and for the answer, not for a number drawn.
const OTHER_BLANKS: [&str; 4] = ["name", "other", "money", "answer"];
/// No number of a story is larger.
const LARGEST: u32 = 99_999;

/// Reads the scenes of a file, and says everything that is wrong with it at once. What is wrong in
/// a scene leaves that scene out.
pub fn read_scenes(source: &Arc<Source>, report: &mut Report) -> Vec<Scene> {
    let file = Table::read(source, report);
    let mut seen = BTreeSet::new();
    let mut scenes = Vec::new();
    for table in file.tables("scene", report) {
        let Some((scene, id)) = read_scene(table, report) else { continue };
        if seen.insert(scene.id.clone()) {
            scenes.push(scene);
        } else {
            let text = format!("the scene `{}` stands twice", scene.id);
            report.say(Message::mistake(text).at(&id.place).hint("give one of them another id"));
        }
    }
    file.finish(report);
    scenes
}

fn read_scene(table: Table, report: &mut Report) -> Option<(Scene, Spot<String>)> {
    let id = needed(&table, "id", "id = \"seed-trays\"", report);
    let structure = table.choice("structure", &Structure::ALL, report);
    if structure.is_none() && !table.has("structure") {
        table.missing("structure", "structure = \"equal-groups\"", report);
    }
    let plan = table.choice("expression", &Plan::ALL, report);
    if plan.is_none() && !table.has("expression") {
        table.missing("expression", "expression = \"s*g\"", report);
    }
    let lines = |key: &str, report: &mut Report| {
        let texts = table.texts(key, report);
        texts.into_iter().flatten().map(|t| t.value).collect::<Vec<String>>()
    };
    let text = lines("text", report);
    let know = lines("know", report);
    let question = needed(&table, "question", "question = \"How many?\"", report);
    let need = needed(&table, "need", "need = \"how many there are\"", report);
    let answer = needed(&table, "answer", "answer = \"There are {answer}.\"", report);
    let nouns = read_nouns(&table, report);
    let aside = read_aside(&table, report);
    let constant = table.whole("c", 2..=u64::from(LARGEST), report).map(|c| c.value);
    if plan.as_ref().is_some_and(|plan| plan.value == Plan::Converted) && !table.has("c") {
        table.missing("c", "c = 7", report);
    }
    let sizes = plan.as_ref().map(|plan| read_sizes(&table, plan.value, report));
    let place = table.place().clone();
    table.finish(report);
    let id = id?;
    let scene = Scene {
        id: id.value.clone(),
        structure: structure?.value,
        plan: plan?.value,
        text,
        question: question?.value,
        know,
        need: need?.value,
        answer: answer?.value,
        nouns,
        aside,
        constant,
        sizes: sizes?,
    };
    let faults = faults_of(&scene);
    for fault in &faults {
        report.say(Message::mistake(format!("`{}`: {fault}", scene.id)).at(&place));
    }
    faults.is_empty().then_some((scene, id))
}

fn needed(table: &Table, key: &str, example: &str, report: &mut Report) -> Option<Spot<String>> {
    if !table.has(key) {
        table.missing(key, example, report);
    }
    table.text(key, report)
}

fn read_nouns(table: &Table, report: &mut Report) -> Vec<Noun> {
    let Some(inner) = table.table("nouns", report) else { return Vec::new() };
    let read = |one: &Spot<String>| {
        let many = inner.text(&one.value, report)?.value;
        Some(Noun { one: one.value.clone(), many })
    };
    let keys = inner.keys();
    let nouns = keys.iter().filter_map(read).collect();
    inner.finish(report);
    nouns
}

fn read_aside(table: &Table, report: &mut Report) -> Option<Aside> {
    let text = table.text("aside", report);
    let range = read_range(table, "e", report);
    if text.is_some() && !table.has("e") {
        table.missing("e", "e = [3, 8]", report);
    }
    Some(Aside { text: text?.value, range: range? })
}

/// Two whole numbers, the least and the most.
fn read_range(table: &Table, key: &str, report: &mut Report) -> Option<Range> {
    let numbers = table.wholes(key, 2..=LARGEST, report)?;
    match numbers.as_slice() {
        [least, most] if least.value <= most.value => {
            Some(Range { least: u64::from(least.value), most: u64::from(most.value) })
        }
        _ => {
            let text = format!("`{}`: expected the least and the most", table.path(key));
            let message = Message::mistake(text).at(&table.place_of(key));
            report.say(message.hint(format!("write `{key} = [12, 48]`")));
            None
        }
    }
}

fn read_sizes(
    table: &Table,
    plan: Plan,
    report: &mut Report,
) -> BTreeMap<StorySize, BTreeMap<char, Range>> {
    let mut sizes = BTreeMap::new();
    let Some(inner) = table.table("sizes", report) else {
        if !table.has("sizes") {
            table.missing("sizes", "sizes.2x1 = { s = [12, 48], g = [3, 9] }", report);
        }
        return sizes;
    };
    for (name, size) in StorySize::ALL {
        let Some(letters) = inner.table(name, report) else { continue };
        let mut ranges = BTreeMap::new();
        for letter in plan.letters() {
            let key = letter.to_string();
            if !letters.has(&key) {
                letters.missing(&key, &format!("{key} = [12, 48]"), report);
            }
            if let Some(range) = read_range(&letters, &key, report) {
                ranges.insert(*letter, range);
            }
        }
        if ranges.len() == plan.letters().len() {
            sizes.insert(size, ranges);
        }
        letters.finish(report);
    }
    inner.finish(report);
    sizes
}

/// What is wrong with a scene that could be read: a number that is not told, an unknown blank,
/// ranges that do not give the size they stand under or an answer below one.
fn faults_of(scene: &Scene) -> Vec<String> {
    let mut faults = Vec::new();
    let story = format!("{} {}", scene.text.join(" "), scene.question);
    let letters: Vec<String> = scene.plan.told().iter().map(char::to_string).collect();
    let told: Vec<&str> = letters.iter().map(String::as_str).collect();
    let aside = scene.aside.as_ref().map_or("", |a| a.text.as_str());
    let known = scene.know.join(" ");
    for (what, text, own) in [
        ("the story", story.as_str(), told.as_slice()),
        ("`know`", known.as_str(), told.as_slice()),
        ("`aside`", aside, &["e"]),
        ("`answer`", scene.answer.as_str(), &["answer"]),
        ("`need`", scene.need.as_str(), &[]),
    ] {
        // The answer may tell how long or how many it is for: "In {g} days …".
        let may: &[&str] = if what == "`answer`" { &told } else { &[] };
        for blank in blanks(text) {
            let known = [own, may, &OTHER_BLANKS[..3]].concat();
            if !known.contains(&blank) {
                faults.push(format!("{what} has a blank `{{{blank}}}` that nothing fills"));
            }
        }
        if text.is_empty() {
            continue;
        }
        for letter in own.iter().filter(|l| !blanks(text).contains(l)) {
            faults.push(format!("{what} does not tell `{{{letter}}}`"));
        }
    }
    if scene.text.is_empty() || scene.text.len() > 3 {
        faults.push("`text` needs one to three sentences".to_owned());
    }
    if scene.sizes.is_empty() {
        faults.push("it has no size".to_owned());
    }
    for (size, ranges) in &scene.sizes {
        faults.extend(faults_of_size(scene, *size, ranges));
    }
    faults
}

/// Looks at every corner of the ranges: what holds there holds in between.
fn faults_of_size(scene: &Scene, size: StorySize, ranges: &BTreeMap<char, Range>) -> Vec<String> {
    let plan = scene.plan;
    let name = StorySize::ALL.iter().find(|(_, s)| *s == size).map_or("", |(name, _)| name);
    let mut faults = BTreeSet::new();
    for corner in 0..1_u32 << ranges.len() {
        let mut numbers = Numbers::default();
        for (index, (letter, range)) in ranges.iter().enumerate() {
            numbers.set(*letter, if corner >> index & 1 == 0 { range.least } else { range.most });
        }
        numbers.set('c', scene.constant.unwrap_or(1));
        numbers.set('p', numbers.of('s').saturating_mul(numbers.of('g')));
        if plan.lines(&numbers).is_none() {
            faults.insert(format!("in size {name} an answer can be below one"));
        }
        let Some((a, b)) = plan.product(&numbers) else { continue };
        let digits = [a, b].map(crate::number::digit_count);
        if digits.iter().max() != Some(&size.longer) || digits.iter().min() != Some(&size.shorter) {
            faults.insert(format!("in size {name} it can be {a} × {b}"));
        }
    }
    faults.into_iter().collect()
}

/// The names of children, girls and boys in turn as far as they go.
pub fn read_names(source: &Arc<Source>, report: &mut Report) -> Vec<String> {
    let file = Table::read(source, report);
    let mut list = |key: &str| -> Vec<String> {
        if !file.has(key) {
            file.missing(key, &format!("{key} = [\"Zuri\"]"), report);
        }
        file.texts(key, report).into_iter().flatten().map(|t| t.value).collect()
    };
    let (girls, boys) = (list("girls"), list("boys"));
    file.finish(report);
    let pairs = girls.into_iter().zip(boys);
    pairs.flat_map(|(girl, boy)| [girl, boy]).collect()
}
