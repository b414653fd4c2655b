//! Reading a ladder file: everything that is wrong with it, at once, each with its place.

use super::ladder::{circles, graph_of, implied};
use super::{Ladder, Lessons, Skill};
use crate::report::{Message, Report, Source, Spot, Table, nearest};
use crate::words;
use indexmap::IndexMap;
use std::ops::RangeInclusive;
use std::sync::Arc;

/// How many lessons a skill may take.
pub const LESSONS: RangeInclusive<u8> = 1..=9;
/// How much a skill may matter.
pub const WEIGHT: RangeInclusive<u8> = 1..=5;
pub(super) const USUAL_WEIGHT: u8 = 3;

const FILE_KEYS: [&str; 2] = ["ladder", "skill"];
const LADDER_KEYS: [&str; 2] = ["name", "title"];
const SKILL_KEYS: [&str; 14] = [
    "id",
    "title",
    "short",
    "needs",
    "lessons",
    "weight",
    "optional",
    "outcomes",
    "objective",
    "success",
    "vocabulary",
    "say",
    "goes-wrong",
    "maker",
];

/// A skill as the file gives it, with the places that later checks speak of.
struct Written {
    skill: Skill,
    id: Spot<String>,
    needs: Vec<Spot<String>>,
}

/// Reads a ladder file; says everything that is wrong with it at once.
pub fn read_ladder(source: &Arc<Source>, report: &mut Report) -> Option<Ladder> {
    let mut found = Report::new();
    let root = Table::read(source, &mut found);
    let (name, title) = name_and_title(source, &root, &mut found);
    let tables = root.tables("skill", &mut found);
    note_misspelt(&root, &FILE_KEYS, &mut found);
    if tables.is_empty() && !found.has_mistakes() {
        let message = Message::mistake("the ladder has no skills").at(root.place());
        found.say(message.hint("add a skill: `[[skill]]` with `id` and `lessons`"));
    }
    let skills: Vec<Written> = tables.iter().filter_map(|t| read_skill(t, &mut found)).collect();
    check_ids(&skills, &mut found);
    check_graph(&skills, skills.len() == tables.len(), &mut found);
    check_outcomes_given(&skills, &mut found);
    let usable = !found.has_mistakes();
    report.append(found);
    let skills: IndexMap<String, Skill> =
        skills.into_iter().map(|w| (w.id.value, w.skill)).collect();
    usable.then_some(Ladder { name, title, skills })
}

fn name_and_title(source: &Source, root: &Table, report: &mut Report) -> (String, String) {
    let stem = source.name.rsplit('/').next().unwrap_or_default().trim_end_matches(".toml");
    let table = root.has("ladder").then(|| root.table("ladder", report)).flatten();
    if let Some(table) = &table {
        note_misspelt(table, &LADDER_KEYS, report);
    }
    let mut text = |key| table.as_ref().and_then(|t| t.text(key, report)).map(|s| s.value);
    let name = text("name").unwrap_or_else(|| stem.to_owned());
    let title = text("title").unwrap_or_else(|| title_from(&name));
    (name, title)
}

/// "unit-parts" as a title: "Unit parts".
pub(super) fn title_from(id: &str) -> String {
    let spaced = id.replace(['-', '_'], " ");
    let mut letters = spaced.chars();
    letters.next().map_or_else(String::new, |first| first.to_uppercase().chain(letters).collect())
}

/// Keys nobody knows are left alone, but one that is nearly a known key is pointed out.
fn note_misspelt(table: &Table, known: &[&str], report: &mut Report) {
    for key in table.keys().iter().filter(|k| !known.contains(&k.value.as_str())) {
        if nearest(&key.value, known.iter().copied()).is_some() {
            let text = format!("key `{}` means nothing here", table.path(&key.value));
            let message = Message::warning(text).at(&key.place);
            report.say(message.meant(&key.value, known.iter().copied()));
        }
    }
}

fn read_skill(table: &Table, report: &mut Report) -> Option<Written> {
    note_misspelt(table, &SKILL_KEYS, report);
    let id = table.text("id", report);
    if !table.has("id") {
        table.missing("id", "id = \"times-ten\"", report);
    }
    if id.as_ref().is_some_and(|id| id.value.trim().is_empty()) {
        let message = Message::mistake("a skill's `id` is empty").at(&table.place_of("id"));
        report.say(message.hint("give it a short name of its own, such as `times-ten`"));
    }
    let lessons = read_lessons(table, report);
    let needs = table.texts("needs", report).unwrap_or_default();
    let mut all = |key: &str| -> Vec<String> {
        let texts = table.texts(key, report).unwrap_or_default();
        texts.into_iter().map(|s| s.value).collect()
    };
    let (outcomes, success, vocabulary) = (all("outcomes"), all("success"), all("vocabulary"));
    let (say, goes_wrong) = (all("say"), all("goes-wrong"));
    let weight = table.whole("weight", WEIGHT, report).map_or(USUAL_WEIGHT, |s| s.value);
    let optional = table.flag("optional", report).is_some_and(|s| s.value);
    let mut text = |key: &str| table.text(key, report).map(|s| s.value);
    let (title, short) = (text("title"), text("short"));
    let (objective, maker) = (text("objective").unwrap_or_default(), text("maker"));
    let id = id?;
    let title = title.unwrap_or_else(|| title_from(&id.value));
    let skill = Skill {
        id: id.value.clone(),
        short: short.unwrap_or_else(|| title.clone()),
        title,
        needs: words_once(&needs),
        lessons: lessons.unwrap_or(Lessons { least: 1, preferred: 1, most: 1 }), // and a mistake
        weight,
        optional,
        outcomes,
        objective,
        success,
        vocabulary,
        say,
        goes_wrong,
        maker: maker.unwrap_or_else(|| id.value.clone()),
    };
    Some(Written { skill, id, needs })
}

fn words_once(spots: &[Spot<String>]) -> Vec<String> {
    let mut once: Vec<String> = Vec::new();
    for spot in spots {
        if !once.contains(&spot.value) {
            once.push(spot.value.clone());
        }
    }
    once
}

fn read_lessons(table: &Table, report: &mut Report) -> Option<Lessons> {
    const EXAMPLE: &str = "lessons = { least = 1, preferred = 2, most = 3 }";
    if !table.has("lessons") {
        table.missing("lessons", EXAMPLE, report);
        return None;
    }
    let inner = table.table("lessons", report)?;
    let mut number = |key: &str| {
        if !inner.has(key) {
            let text = format!("`{}` is missing", inner.path(key));
            report.say(Message::mistake(text).at(inner.place()).hint(format!("write `{EXAMPLE}`")));
        }
        inner.whole(key, LESSONS, report).map(|s| s.value)
    };
    let (least, preferred, most) = (number("least"), number("preferred"), number("most"));
    let lessons = Lessons { least: least?, preferred: preferred?, most: most? };
    inner.finish(report);
    if !lessons.in_order() {
        let text = format!(
            "lessons out of order: least {}, preferred {}, most {}",
            lessons.least, lessons.preferred, lessons.most
        );
        report.say(
            Message::mistake(text)
                .at(&table.place_of("lessons"))
                .label("expected least <= preferred <= most"),
        );
    }
    Some(lessons)
}

fn check_ids(skills: &[Written], report: &mut Report) {
    for (index, written) in skills.iter().enumerate() {
        let first = skills[..index].iter().find(|w| w.id.value == written.id.value);
        if let Some(first) = first {
            let text = format!("two skills have the id `{}`", written.id.value);
            let label = format!("the first stands on line {}", first.id.place.line());
            let message = Message::mistake(text).at(&written.id.place).label(label);
            report.say(message.hint("give one of them another id"));
        }
    }
}

/// Unknown names, circles and needs that follow from others. With `complete` false some skills
/// could not be read, and a name that is not known may be one of theirs.
fn check_graph(skills: &[Written], complete: bool, report: &mut Report) {
    let position = |id: &str| skills.iter().position(|w| w.id.value == id);
    let mut needs = Vec::new();
    for written in skills {
        let mut known = Vec::new();
        for need in &written.needs {
            match position(&need.value) {
                Some(position) => known.push(position),
                None if complete => {
                    let text =
                        format!("`{}` needs `{}`, which no skill is", written.id.value, need.value);
                    let ids = skills.iter().map(|w| w.id.value.as_str());
                    report.say(
                        Message::mistake(text)
                            .at(&need.place)
                            .label("expected the id of a skill")
                            .meant(&need.value, ids),
                    );
                }
                None => {}
            }
        }
        needs.push(known);
    }
    let graph = graph_of(&needs);
    let circles = circles(&graph);
    for circle in &circles {
        report.say(circle_message(skills, circle));
    }
    if circles.is_empty() {
        for (skill, need) in implied(&graph) {
            report.say(implied_message(skills, &needs, skill, need));
        }
    }
}

fn circle_message(skills: &[Written], circle: &[usize]) -> Message {
    let id = |n: usize| skills[n].id.value.as_str();
    let first = circle[0];
    let next = circle.get(1).copied().unwrap_or(first);
    let way: String =
        circle[1..].iter().chain([&first]).map(|&n| format!(" needs `{}`", id(n))).collect();
    let text = format!("skills need each other in a circle: `{}`{way}", id(first));
    let need = skills[first].needs.iter().find(|n| n.value == id(next));
    let place = need.map_or(&skills[first].id.place, |n| &n.place);
    Message::mistake(text).at(place).hint("take one of these needs away")
}

fn implied_message(skills: &[Written], needs: &[Vec<usize>], skill: usize, need: usize) -> Message {
    let id = |n: usize| skills[n].id.value.as_str();
    let reaches = |from: usize| {
        let mut open = vec![from];
        let mut seen = vec![false; needs.len()];
        while let Some(n) = open.pop() {
            if !std::mem::replace(&mut seen[n], true) {
                open.extend(&needs[n]);
            }
        }
        seen[need]
    };
    let through = needs[skill].iter().copied().find(|&other| other != need && reaches(other));
    let text = format!(
        "`{}` needs `{}` already through `{}`",
        id(skill),
        id(need),
        through.map_or("another", id)
    );
    let place = skills[skill].needs.iter().find(|n| n.value == id(need)).map(|n| &n.place);
    let message = Message::warning(text).at(place.unwrap_or(&skills[skill].id.place));
    message.hint(format!("`{}` can be taken out of `needs`", id(need)))
}

/// Where a ladder names outcomes at all, a skill without any is pointed out.
fn check_outcomes_given(skills: &[Written], report: &mut Report) {
    let (with, without): (Vec<&Written>, Vec<&Written>) =
        skills.iter().partition(|w| !w.skill.outcomes.is_empty());
    let (false, Some(first)) = (with.is_empty(), without.first()) else { return };
    let ids: Vec<&str> = without.iter().map(|w| w.id.value.as_str()).collect();
    let (count, names) = (words::count(ids.len(), "skill"), words::and(&ids));
    let verb = if ids.len() == 1 { "names" } else { "name" };
    let message = Message::warning(format!("{count} {verb} no outcome: {names}"));
    report.say(message.at(&first.id.place).hint("add `outcomes = [\"framework:code\"]`"));
}

#[cfg(test)]
mod tests {
    use super::*;
    use insta::assert_snapshot;

    fn read(text: &str) -> (Option<Ladder>, String) {
        let mut report = Report::new();
        let ladder = read_ladder(&Source::shared("mine.toml", text), &mut report);
        (ladder, report.to_text())
    }

    #[test]
    fn a_ladder_of_ids_and_lessons_gets_its_defaults() {
        let (ladder, said) = read(
            "[[skill]]\nid = \"unit-parts\"\nlessons = { least = 1, preferred = 2, most = 3 }\nnote = \"mine\"\n",
        );
        let ladder = ladder.expect("a ladder");
        assert_eq!(said, "");
        assert_eq!((ladder.name.as_str(), ladder.title.as_str()), ("mine", "Mine"));
        let lessons = Lessons { least: 1, preferred: 2, most: 3 };
        assert_eq!(ladder.skills["unit-parts"], Skill::bare("unit-parts", lessons));
        let skill = &ladder.skills["unit-parts"];
        assert_eq!((skill.title.as_str(), skill.short.as_str()), ("Unit parts", "Unit parts"));
        assert_eq!((skill.weight, skill.optional, skill.maker.as_str()), (3, false, "unit-parts"));
    }

    #[test]
    fn every_key_of_a_skill_is_read() {
        let (ladder, said) = read(
            r#"
[ladder]
name = "fractions"
title = "Fractions, first part"

[[skill]]
id = "a"
lessons = { least = 1, preferred = 1, most = 1 }
outcomes = ["x:1"]

[[skill]]
id = "b"
title = "B, whole"
short = "B"
needs = ["a"]
lessons = { least = 1, preferred = 2, most = 9 }
weight = 5
optional = true
outcomes = ["x:2"]
objective = "Do b."
success = ["do b"]
vocabulary = ["bee"]
say = ["Say b."]
goes-wrong = ["B goes wrong."]
maker = "bs"
"#,
        );
        let ladder = ladder.expect("a ladder");
        assert_eq!(said, "");
        assert_eq!(ladder.title, "Fractions, first part");
        let all = |s: &str| vec![s.to_owned()];
        let expected = Skill {
            id: "b".into(),
            title: "B, whole".into(),
            short: "B".into(),
            needs: all("a"),
            lessons: Lessons { least: 1, preferred: 2, most: 9 },
            weight: 5,
            optional: true,
            outcomes: all("x:2"),
            objective: "Do b.".into(),
            success: all("do b"),
            vocabulary: all("bee"),
            say: all("Say b."),
            goes_wrong: all("B goes wrong."),
            maker: "bs".into(),
        };
        assert_eq!(ladder.skills["b"], expected);
    }

    #[test]
    fn everything_wrong_with_a_ladder_is_said_at_once() {
        let (ladder, said) = read(
            r#"
[[skill]]
id = "times-ten"
lessons = { least = 2, preferred = 1, most = 3 }

[[skill]]
id = "times-ten"
lessons = { least = 0, preferred = 1, most = 10 }
weight = 6

[[skill]]
id = "rounding"
neds = ["times-ten"]
lessons = { least = 1, preferred = 1 }

[[skill]]
title = "No name"
needs = "rounding"
"#,
        );
        assert!(ladder.is_none());
        assert_snapshot!(said, @r#"
        mistake: lessons out of order: least 2, preferred 1, most 3
         --> mine.toml:4:11
          |
        4 | lessons = { least = 2, preferred = 1, most = 3 }
          |           ^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^^ expected least <= preferred <= most
        mistake: `skill.lessons.least` is out of range: expected a whole number from 1 to 9
         --> mine.toml:8:21
          |
        8 | lessons = { least = 0, preferred = 1, most = 10 }
          |                     ^ a whole number from 1 to 9
        mistake: `skill.lessons.most` is out of range: expected a whole number from 1 to 9
         --> mine.toml:8:46
          |
        8 | lessons = { least = 0, preferred = 1, most = 10 }
          |                                              ^^ a whole number from 1 to 9
        mistake: `skill.weight` is out of range: expected a whole number from 1 to 5
         --> mine.toml:9:10
          |
        9 | weight = 6
          |          ^ a whole number from 1 to 5
        warning: key `skill.neds` means nothing here
          --> mine.toml:13:1
           |
        13 | neds = ["times-ten"]
           | ^^^^
           |
           = hint: did you mean `needs`?
        mistake: `skill.lessons.most` is missing
          --> mine.toml:14:11
           |
        14 | lessons = { least = 1, preferred = 1 }
           |           ^^^^^^^^^^^^^^^^^^^^^^^^^^^^
           |
           = hint: write `lessons = { least = 1, preferred = 2, most = 3 }`
        mistake: `skill.id` is missing
          --> mine.toml:16:1
           |
        16 | [[skill]]
           | ^^^^^^^^^
           |
           = hint: add `id = "times-ten"`
        mistake: `skill.lessons` is missing
          --> mine.toml:16:1
           |
        16 | [[skill]]
           | ^^^^^^^^^
           |
           = hint: add `lessons = { least = 1, preferred = 2, most = 3 }`
        mistake: `skill.needs`: expected a list of texts, such as ["a", "b"], found text
          --> mine.toml:18:9
           |
        18 | needs = "rounding"
           |         ^^^^^^^^^^ expected a list of texts, such as ["a", "b"]
        mistake: two skills have the id `times-ten`
         --> mine.toml:7:6
          |
        7 | id = "times-ten"
          |      ^^^^^^^^^^^ the first stands on line 3
          |
          = hint: give one of them another id
        "#);
    }

    #[test]
    fn an_unknown_need_and_each_circle_with_its_whole_path_are_refused() {
        let (ladder, said) = read(
            r#"
[[skill]]
id = "times-ten"
needs = ["long-two-by-two", "roundin"]
lessons = { least = 1, preferred = 1, most = 3 }

[[skill]]
id = "rounding"
needs = ["rounding"]
lessons = { least = 1, preferred = 1, most = 3 }

[[skill]]
id = "tens-by-tens"
needs = ["times-ten"]
lessons = { least = 1, preferred = 1, most = 3 }

[[skill]]
id = "long-two-by-two"
needs = ["tens-by-tens"]
lessons = { least = 1, preferred = 1, most = 3 }
"#,
        );
        assert!(ladder.is_none());
        assert_snapshot!(said, @r#"
        mistake: `times-ten` needs `roundin`, which no skill is
         --> mine.toml:4:29
          |
        4 | needs = ["long-two-by-two", "roundin"]
          |                             ^^^^^^^^^ expected the id of a skill
          |
          = hint: did you mean `rounding`?
        mistake: skills need each other in a circle: `times-ten` needs `long-two-by-two` needs `tens-by-tens` needs `times-ten`
         --> mine.toml:4:10
          |
        4 | needs = ["long-two-by-two", "roundin"]
          |          ^^^^^^^^^^^^^^^^^
          |
          = hint: take one of these needs away
        mistake: skills need each other in a circle: `rounding` needs `rounding`
         --> mine.toml:9:10
          |
        9 | needs = ["rounding"]
          |          ^^^^^^^^^^
          |
          = hint: take one of these needs away
        "#);
    }

    #[test]
    fn implied_needs_and_missing_outcomes_are_pointed_out_but_not_refused() {
        let (ladder, said) = read(
            r#"
[[skill]]
id = "a"
lessons = { least = 1, preferred = 1, most = 1 }
outcomes = ["ccssm:4.NBT.B.5"]

[[skill]]
id = "b"
needs = ["a"]
lessons = { least = 1, preferred = 1, most = 1 }

[[skill]]
id = "c"
needs = ["a", "b"]
lessons = { least = 1, preferred = 1, most = 1 }
"#,
        );
        assert_eq!(ladder.expect("a ladder").skills["c"].needs, ["a", "b"]);
        assert_snapshot!(said, @r#"
        warning: `c` needs `a` already through `b`
          --> mine.toml:14:10
           |
        14 | needs = ["a", "b"]
           |          ^^^
           |
           = hint: `a` can be taken out of `needs`
        warning: 2 skills name no outcome: `b` and `c`
         --> mine.toml:8:6
          |
        8 | id = "b"
          |      ^^^
          |
          = hint: add `outcomes = ["framework:code"]`
        "#);
    }

    #[test]
    fn a_file_without_skills_is_refused() {
        assert_snapshot!(read("").1, @r#"
        mistake: the ladder has no skills
         --> mine.toml:1:1
          |
        1 |
          | ^
          |
          = hint: add a skill: `[[skill]]` with `id` and `lessons`
        "#);
        assert_snapshot!(read("[[skill]]\nid = \"a\n").1, @r#"
        mistake: not valid TOML: invalid basic string, expected `"`
         --> mine.toml:2:8
          |
        2 | id = "a
          |        ^
          |
          = hint: close the quotes on the same line
        mistake: `skill.lessons` is missing
         --> mine.toml:1:1
          |
        1 | [[skill]]
          | ^^^^^^^^^
          |
          = hint: add `lessons = { least = 1, preferred = 2, most = 3 }`
        "#);
    }

    #[test]
    fn lessons_and_weight_are_taken_within_their_ranges_only() {
        for (least, preferred, most) in
            (0..=10).flat_map(|a| (0..=10).flat_map(move |b| (0..=10).map(move |c| (a, b, c))))
        {
            let text = format!(
                "[[skill]]\nid = \"a\"\nlessons = {{ least = {least}, preferred = {preferred}, most = {most} }}\n"
            );
            let right = 1 <= least && least <= preferred && preferred <= most && most <= 9;
            assert_eq!(read(&text).0.is_some(), right, "{text}");
        }
        for weight in 0..=7 {
            let text = format!(
                "[[skill]]\nid = \"a\"\nweight = {weight}\nlessons = {{ least = 1, preferred = 1, most = 1 }}\n"
            );
            assert_eq!(read(&text).0.is_some(), (1..=5).contains(&weight));
        }
    }
}
