//! Published curricula: their codes with our own short paraphrase.

use super::Ladder;
use crate::report::{Message, Report, Source, Spot, Table};
use indexmap::IndexMap;
use std::sync::Arc;

/// One statement of a published curriculum.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Outcome {
    /// Its code in the framework: `5.NBT.B.5`.
    pub code: String,
    /// Where in the framework it stands: "Grade 5", "Year 6".
    pub stage: String,
    /// A label of a few words for tables: "written method".
    pub short: String,
    /// What it asks, in our own words.
    pub asks: String,
}

/// A published curriculum, as a file of ours describes it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Framework {
    /// Its name in files: `ccssm`.
    pub name: String,
    /// Its short title on paper: "CCSSM".
    pub title: String,
    /// The publication it was taken from.
    pub source: String,
    /// Under what licence the original stands, and that the wording here is ours.
    pub licence: String,
    /// Its outcomes by code.
    pub outcomes: IndexMap<String, Outcome>,
}

impl Framework {
    /// The outcome of a code in either style of writing it: `4.NBT.B.5` is also `4.NBT.5`, and
    /// may be preceded by `CCSS.Math.Content.` (both styles are in use for the same standard).
    pub fn find(&self, code: &str) -> Option<&Outcome> {
        let plain = plain_code(code);
        self.outcomes
            .get(code)
            .or_else(|| self.outcomes.values().find(|o| plain_code(&o.code) == plain))
    }
    /// The outcome that a skill's `framework:code` means, if it is one of this framework.
    pub fn meant_by(&self, outcome: &str) -> Option<&Outcome> {
        let (framework, code) = outcome.split_once(':')?;
        if framework == self.name { self.find(code) } else { None }
    }
    /// The skills that serve an outcome, in the ladder's order.
    pub fn served_by<'a>(&self, code: &str, ladder: &'a Ladder) -> Vec<&'a str> {
        let Some(outcome) = self.find(code) else { return Vec::new() };
        let serves = |o: &String| self.meant_by(o).is_some_and(|m| m.code == outcome.code);
        let skills = ladder.skills.values().filter(|s| s.outcomes.iter().any(serves));
        skills.map(|s| s.id.as_str()).collect()
    }
    /// The outcomes that no skill of the ladder serves.
    pub fn unserved(&self, ladder: &Ladder) -> Vec<&Outcome> {
        self.outcomes.values().filter(|o| self.served_by(&o.code, ladder).is_empty()).collect()
    }
}

/// A code without what is written in one style only: a prefix, the cluster's letter (a single
/// capital before a number), and the dot before a part's letter.
fn plain_code(code: &str) -> String {
    let code = code.strip_prefix("CCSS.Math.Content.").unwrap_or(code);
    let parts: Vec<&str> = code.split('.').collect();
    let mut plain: Vec<String> = Vec::new();
    for (index, part) in parts.iter().enumerate() {
        let single = |of: fn(&char) -> bool| part.len() == 1 && part.chars().all(|c| of(&c));
        let number_follows = parts.get(index + 1).is_some_and(|p| p.starts_with(is_digit));
        let number_before = plain.last().is_some_and(|p| p.ends_with(is_digit));
        if index >= 2 && number_follows && single(char::is_ascii_uppercase) {
            continue;
        }
        match plain.last_mut() {
            Some(last) if number_before && single(char::is_ascii_lowercase) => last.push_str(part),
            _ => plain.push((*part).to_owned()),
        }
    }
    plain.join(".")
}

fn is_digit(c: char) -> bool {
    c.is_ascii_digit()
}

/// Reads a framework file; says everything that is wrong with it at once.
pub fn read_framework(source: &Arc<Source>, report: &mut Report) -> Option<Framework> {
    let mut found = Report::new();
    let root = Table::read(source, &mut found);
    let head = needed_table(&root, "framework", &mut found);
    let mut text = |key: &str| {
        let head = head.as_ref()?;
        needed(head, key, &mut found).map(|s| s.value)
    };
    let (name, title) = (text("name"), text("title"));
    let (published, licence) = (text("source"), text("licence"));
    if let Some(head) = head {
        head.finish(&mut found);
    }
    let mut outcomes = IndexMap::new();
    for table in root.tables("outcome", &mut found) {
        let mut text = |key: &str| needed(&table, key, &mut found);
        let (code, stage, short, asks) = (text("code"), text("stage"), text("short"), text("asks"));
        if let (Some(code), Some(stage), Some(short), Some(asks)) = (code, stage, short, asks) {
            let (stage, short, asks) = (stage.value, short.value, asks.value);
            let outcome = Outcome { code: code.value.clone(), stage, short, asks };
            if outcomes.insert(code.value.clone(), outcome).is_some() {
                let text = format!("two outcomes have the code `{}`", code.value);
                found.say(Message::mistake(text).at(&code.place));
            }
        }
        table.finish(&mut found);
    }
    root.finish(&mut found);
    let usable = !found.has_mistakes();
    report.append(found);
    let framework =
        Framework { name: name?, title: title?, source: published?, licence: licence?, outcomes };
    usable.then_some(framework)
}

fn needed_table(root: &Table, key: &str, report: &mut Report) -> Option<Table> {
    if !root.has(key) {
        root.missing(key, &format!("[{key}]"), report);
    }
    root.table(key, report)
}

fn needed(table: &Table, key: &str, report: &mut Report) -> Option<Spot<String>> {
    if !table.has(key) {
        table.missing(key, &format!("{key} = \"…\""), report);
    }
    table.text(key, report)
}

/// Warns of outcomes in a ladder file that a framework does not have, with the nearest that it
/// has. A code without a framework's name before it is the teacher's own and left alone.
pub fn check_outcomes(
    source: &Arc<Source>,
    frameworks: &IndexMap<String, Arc<Framework>>,
    report: &mut Report,
) {
    let mut seen_before = Report::new();
    let root = Table::read(source, &mut seen_before);
    for skill in root.tables("skill", &mut seen_before) {
        for outcome in skill.texts("outcomes", &mut seen_before).unwrap_or_default() {
            if let Some(message) = unknown_outcome(&outcome, frameworks) {
                report.say(message.at(&outcome.place));
            }
        }
    }
}

fn unknown_outcome(
    outcome: &Spot<String>,
    frameworks: &IndexMap<String, Arc<Framework>>,
) -> Option<Message> {
    let (name, code) = outcome.value.split_once(':')?;
    let Some(framework) = frameworks.get(name) else {
        let near = crate::report::nearest(name, frameworks.keys().map(String::as_str))?;
        let message = Message::warning(format!("no framework is named `{name}`"));
        return Some(message.hint(format!("did you mean `{near}:{code}`?")));
    };
    if framework.find(code).is_some() {
        return None;
    }
    let message = Message::warning(format!("{} has no outcome `{code}`", framework.title));
    Some(message.meant(code, framework.outcomes.keys().map(String::as_str)))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::curriculum::read_ladder;
    use insta::assert_snapshot;

    const FILE: &str = r#"
[framework]
name = "ccssm"
title = "CCSSM"
source = "A publication, 2010"
licence = "wording ours"

[[outcome]]
code = "4.NBT.B.5"
stage = "Grade 4"
short = "written"
asks = "Multiplies."

[[outcome]]
code = "3.MD.C.7.c"
stage = "Grade 3"
short = "area"
asks = "Splits an area."
"#;

    fn framework() -> Framework {
        let mut report = Report::new();
        let read = read_framework(&Source::shared("ccssm.toml", FILE), &mut report);
        read.unwrap_or_else(|| panic!("{}", report.to_text()))
    }

    /// Source: both code styles as CCSSM (NGA & CCSSO, 2010) and its state editions write them.
    #[test]
    fn a_code_is_found_in_both_styles() {
        let framework = framework();
        let found = |code: &str| framework.find(code).map(|o| o.code.as_str());
        for code in ["4.NBT.B.5", "4.NBT.5", "CCSS.Math.Content.4.NBT.B.5"] {
            assert_eq!(found(code), Some("4.NBT.B.5"), "{code}");
        }
        for code in ["3.MD.C.7.c", "3.MD.7c", "3.MD.C.7c", "3.MD.7.c"] {
            assert_eq!(found(code), Some("3.MD.C.7.c"), "{code}");
        }
        assert_eq!([found("4.NBT.6"), found("4.NBT"), found("3.MD.7")], [None; 3]);
    }

    #[test]
    fn outcomes_find_their_skills_and_strange_codes_are_pointed_out() {
        let ladder = Source::shared(
            "mine.toml",
            r#"
[[skill]]
id = "a"
lessons = { least = 1, preferred = 1, most = 1 }
outcomes = ["ccssm:4.NBT.5", "ccssm:4.NTB.B.5", "ccsm:4.NBT.B.5", "our-own:7", "K.12"]
"#,
        );
        let framework = framework();
        let all: IndexMap<String, Arc<Framework>> =
            [("ccssm".to_owned(), Arc::new(framework.clone()))].into();
        let mut report = Report::new();
        let read = read_ladder(&ladder, &mut report).expect("a ladder");
        assert_eq!(framework.served_by("4.NBT.B.5", &read), ["a"]);
        let unserved: Vec<&str> =
            framework.unserved(&read).iter().map(|o| o.code.as_str()).collect();
        assert_eq!(unserved, ["3.MD.C.7.c"]);
        check_outcomes(&ladder, &all, &mut report);
        assert_snapshot!(report.to_text(), @r#"
        warning: CCSSM has no outcome `4.NTB.B.5`
         --> mine.toml:5:30
          |
        5 | outcomes = ["ccssm:4.NBT.5", "ccssm:4.NTB.B.5", "ccsm:4.NBT.B.5", "our-own:7", "K.12"]
          |                              ^^^^^^^^^^^^^^^^^
          |
          = hint: did you mean `4.NBT.B.5`?
        warning: no framework is named `ccsm`
         --> mine.toml:5:49
          |
        5 | outcomes = ["ccssm:4.NBT.5", "ccssm:4.NTB.B.5", "ccsm:4.NBT.B.5", "our-own:7", "K.12"]
          |                                                 ^^^^^^^^^^^^^^^^
          |
          = hint: did you mean `ccssm:4.NBT.B.5`?
        "#);
    }

    #[test]
    fn a_framework_file_is_checked_whole() {
        let file = "[framework]\nname = 7\n\n[[outcome]]\ncode = \"a\"\nstage = \"\"\nshrt = \"\"\nasks = \"\"\n";
        let mut report = Report::new();
        assert!(read_framework(&Source::shared("f.toml", file), &mut report).is_none());
        assert_snapshot!(report.to_text(), @r#"
        mistake: `framework.name`: expected text in quotes, found a whole number
         --> f.toml:2:8
          |
        2 | name = 7
          |        ^ expected text in quotes
        mistake: `framework.title` is missing
         --> f.toml:1:1
          |
        1 | [framework]
          | ^^^^^^^^^^^
          |
          = hint: add `title = "…"`
        mistake: `framework.source` is missing
         --> f.toml:1:1
          |
        1 | [framework]
          | ^^^^^^^^^^^
          |
          = hint: add `source = "…"`
        mistake: `framework.licence` is missing
         --> f.toml:1:1
          |
        1 | [framework]
          | ^^^^^^^^^^^
          |
          = hint: add `licence = "…"`
        mistake: `outcome.short` is missing
         --> f.toml:4:1
          |
        4 | [[outcome]]
          | ^^^^^^^^^^^
          |
          = hint: add `short = "…"`
        mistake: unknown key `outcome.shrt`
         --> f.toml:7:1
          |
        7 | shrt = ""
          | ^^^^
          |
          = hint: did you mean `short`?
        "#);
    }
}
