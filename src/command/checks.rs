//! `report checks`: what each exit check can and cannot tell, and all checks of a skill together.

use super::args::Format;
use super::class::Class;
use super::output::{Failure, data, json, short_date};
use super::pack::{InTurn, read_pack};
use crate::exercise::Item;
use crate::lesson::{CheckTells, Pack, Section, SectionName, check_tells};
use crate::words::{count, join};
use chrono::NaiveDate;
use indexmap::IndexMap;
use serde::Serialize;
use std::fmt::Write;

/// One check.
#[derive(Debug, Serialize)]
struct Check {
    lesson: u32,
    date: NaiveDate,
    title: String,
    skill: Option<String>,
    items: Vec<String>,
    #[serde(flatten)]
    tells: CheckTells,
}

/// All checks of the lessons that teach a skill, taken together.
#[derive(Debug, Serialize)]
struct Together {
    skill: String,
    title: String,
    lessons: Vec<u32>,
    items: usize,
    #[serde(flatten)]
    tells: CheckTells,
}

/// Runs the report.
pub fn run(class: &Class, format: Format) -> Result<(), Failure> {
    let mut checks = Vec::new();
    let mut of_skill: IndexMap<String, Vec<Pack>> = IndexMap::new();
    let mut term = InTurn::of(class)?;
    for lesson in &class.schedule()?.lessons {
        let pack = match read_pack(class, lesson.number, "A")? {
            Some(pack) => pack,
            None => term.made(lesson.number, "A", true)?,
        };
        let items: Vec<&Item> = check_of(&pack).collect();
        if items.is_empty() {
            continue;
        }
        checks.push(Check {
            lesson: pack.lesson,
            date: lesson.date,
            title: pack.teacher_title(),
            skill: pack.skill.clone(),
            items: items.iter().map(|i| i.id.clone()).collect(),
            tells: check_tells(&items, &pack.sections, &pack.heading.style),
        });
        if let Some(skill) = &pack.skill {
            of_skill.entry(skill.clone()).or_default().push(pack);
        }
    }
    let skills: Vec<Together> =
        of_skill.iter().map(|(skill, packs)| together(class, skill, packs)).collect();
    match format {
        Format::Json => json(&serde_json::json!({
            "class": class.plan.class.name, "checks": checks, "skills": skills,
        })),
        Format::Text => {
            data(&to_text(class, &checks, &skills));
            Ok(())
        }
    }
}

fn check_of(pack: &Pack) -> impl Iterator<Item = &Item> {
    pack.named(SectionName::ExitCheck).flat_map(|section| &section.items)
}

fn together(class: &Class, skill: &str, packs: &[Pack]) -> Together {
    let items: Vec<&Item> = packs.iter().flat_map(check_of).collect();
    let sections: Vec<Section> = packs.iter().flat_map(|p| p.sections.clone()).collect();
    Together {
        skill: skill.to_owned(),
        title: class.title(skill).to_owned(),
        lessons: packs.iter().map(|p| p.lesson).collect(),
        items: items.len(),
        tells: check_tells(&items, &sections, &class.plan.style),
    }
}

fn to_text(class: &Class, checks: &[Check], skills: &[Together]) -> String {
    let mut out = format!("{}: what the exit checks can and cannot tell\n", class.plan.class.name);
    for check in checks {
        let items = count(check.items.len(), "item");
        let date = short_date(check.date);
        writeln!(out, "\nLesson {}, {date}, {}: {items}", check.lesson, check.title).ok();
        out.push_str(&sentences(&check.tells));
    }
    out.push_str("\nAll checks of a skill together\n");
    for skill in skills.iter().filter(|s| s.lessons.len() > 1) {
        let numbers: Vec<String> = skill.lessons.iter().map(u32::to_string).collect();
        let (lessons, items) = (join(&numbers, "and"), count(skill.items, "item"));
        writeln!(out, "\n{}, lessons {lessons}: {items}", skill.title).ok();
        out.push_str(&sentences(&skill.tells));
    }
    out
}

fn sentences(tells: &CheckTells) -> String {
    tells.sentences().iter().map(|sentence| format!("  {sentence}\n")).collect()
}
