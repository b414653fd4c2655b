//! `skills`: the skills of a ladder and what they need.

use super::args::{Format, Skills as Request};
use super::output::{Failure, data, json, say};
use crate::curriculum::Ladder;
use crate::folder;
use crate::report::Report;
use serde_json::{Value, json};
use std::fmt::Write;

/// Runs the command.
pub fn run(request: &Request, format: Format) -> Result<(), Failure> {
    let mut report = Report::new();
    let ladder = folder::ladder_named(&request.ladder, &mut report);
    let Some(ladder) = ladder.filter(|_| !report.has_mistakes()) else { return Err(report.into()) };
    say(&report);
    if request.graph {
        data(&graph(&ladder));
        return Ok(());
    }
    match format {
        Format::Json => json(&to_json(&ladder)),
        Format::Text => {
            data(&to_text(&ladder));
            Ok(())
        }
    }
}

fn to_json(ladder: &Ladder) -> Value {
    let skills: Vec<Value> = ladder
        .skills
        .values()
        .map(|skill| {
            json!({
                "id": skill.id, "title": skill.title, "needs": skill.needs, "lessons": skill.lessons,
                "weight": skill.weight, "optional": skill.optional, "outcomes": skill.outcomes,
            })
        })
        .collect();
    json!({ "ladder": ladder.name, "skills": skills })
}

fn to_text(ladder: &Ladder) -> String {
    let mut out =
        format!("{}: {}\n", ladder.title, crate::words::count(ladder.skills.len(), "skill"));
    for skill in ladder.skills.values() {
        let lessons = skill.lessons;
        let optional = if skill.optional { ", may be left out" } else { "" };
        writeln!(out, "\n{}  {}", skill.id, skill.title).ok();
        let (least, preferred, most) = (lessons.least, lessons.preferred, lessons.most);
        writeln!(
            out,
            "  lessons {preferred} ({least} to {most}), weight {}{optional}",
            skill.weight
        )
        .ok();
        if !skill.needs.is_empty() {
            writeln!(out, "  needs {}", skill.needs.join(", ")).ok();
        }
        if !skill.outcomes.is_empty() {
            writeln!(out, "  outcomes {}", skill.outcomes.join(", ")).ok();
        }
    }
    out
}

/// The graph in the DOT language, an arrow from each skill to those that need it.
fn graph(ladder: &Ladder) -> String {
    let mut out = format!("digraph \"{}\" {{\n  rankdir = BT;\n", ladder.name);
    for skill in ladder.skills.values() {
        let title = skill.title.replace('"', "\\\"");
        let style = if skill.optional { ", style = dashed" } else { "" };
        writeln!(out, "  \"{}\" [label = \"{title}\", shape = box{style}];", skill.id).ok();
        for need in &skill.needs {
            writeln!(out, "  \"{need}\" -> \"{}\";", skill.id).ok();
        }
    }
    out + "}\n"
}
