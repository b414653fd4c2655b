//! `report progress`: skill by skill, pupil by pupil, how far each has come.

use super::args::{Format, Report as Request};
use super::class::Class;
use super::mark::all_marked;
use super::output::{Failure, data, json, note};
use super::pack::{read_pack, refused};
use crate::folder::{Access, save};
use crate::lesson::{Pack, Progress, SectionName, Stage};
use crate::marking::{SkillPast, progress};
use crate::paper::{self, ProgressPage};
use crate::schedule::Lesson;
use crate::words::count;
use chrono::NaiveDate;
use std::fmt::Write;

/// Runs the command.
pub fn run(request: &Request, format: Format, today: NaiveDate) -> Result<(), Failure> {
    let class = Class::open(&request.dir, Access::Look, today)?;
    class.schedule()?;
    let progress = progress(&past(&class)?, &all_marked(&class)?, &class.plan.class.pupil_names);
    if let Some(file) = &request.pdf {
        let plan = &class.plan;
        let page = ProgressPage {
            class: &plan.class.name,
            school: &plan.class.school,
            paper: plan.paper,
            today,
            progress: &progress,
        };
        save(file, &paper::progress(&page).map_err(|refusal| refused(&refusal))?)?;
        note(&format!("written to {}; `forget` does not reach it", file.display()));
        return Ok(());
    }
    if request.csv {
        data(&to_csv(&progress)?);
        return Ok(());
    }
    match format {
        Format::Json => json(&serde_json::json!({
            "class": class.plan.class.name, "today": today,
            "pupils": progress.pupils, "skills": progress.skills,
        })),
        Format::Text => {
            data(&to_text(&class.plan.class.name, &progress));
            Ok(())
        }
    }
}

/// What the lessons held so far have done with each skill of the unit, in the ladder's order.
fn past(class: &Class) -> Result<Vec<SkillPast>, Failure> {
    let lessons = class.state.lessons();
    let held: Vec<&Lesson> = lessons.iter().filter(|l| class.state.taught(l)).collect();
    let mut packs: Vec<Option<Pack>> = Vec::new();
    for lesson in &held {
        packs.push(read_pack(class, lesson.number, "A")?);
    }
    let in_order = class.plan.ladder.in_order();
    let of_unit =
        in_order.into_iter().filter(|id| lessons.iter().any(|l| l.skill.as_deref() == Some(*id)));
    let past = of_unit.map(|id| {
        let teaches = |l: &Lesson| l.skill.as_deref() == Some(id);
        let taught: Vec<usize> = (0..held.len()).filter(|&n| teaches(held[n])).collect();
        let again = |n: usize| teaches(held[n]) || packs[n].as_ref().is_some_and(|p| has(p, id));
        let practised = match taught.first() {
            Some(&first) => (first + 1..held.len()).filter(|&n| again(n)).count(),
            None => 0,
        };
        let number = |n: usize| u32::try_from(n).unwrap_or(u32::MAX);
        SkillPast {
            skill: id.to_owned(),
            title: class.title(id).to_owned(),
            met: number(taught.len()),
            practised: number(practised),
            last_taught: taught.last().map(|&n| held[n].date),
        }
    });
    Ok(past.collect())
}

/// Whether a pack gives pupils anything of a skill to do.
fn has(pack: &Pack, skill: &str) -> bool {
    let done = |name| !matches!(name, SectionName::Examples | SectionName::Guided);
    let sections = pack.sections.iter().filter(|s| done(s.name));
    sections.flat_map(|s| &s.items).any(|item| item.skill == skill)
}

/// One row a pupil and skill.
fn to_csv(progress: &Progress) -> Result<String, Failure> {
    let fault = |error: String| Failure::Ours(format!("the table cannot be written: {error}"));
    let mut writer = csv::Writer::from_writer(Vec::new());
    let head = ["pupil", "skill", "stage", "met", "practised", "days", "right", "answered"];
    writer.write_record(head).map_err(|e| fault(e.to_string()))?;
    for skill in &progress.skills {
        for pupil in &skill.pupils {
            let sum = pupil.checks.iter().fold((0, 0), |s, c| (s.0 + c.right, s.1 + c.of));
            let row = [
                pupil.pupil.clone(),
                skill.skill.clone(),
                pupil.stage.name().to_owned(),
                skill.met.to_string(),
                skill.practised.to_string(),
                pupil.checks.len().to_string(),
                sum.0.to_string(),
                sum.1.to_string(),
            ];
            writer.write_record(row).map_err(|e| fault(e.to_string()))?;
        }
    }
    let bytes = writer.into_inner().map_err(|e| fault(e.to_string()))?;
    String::from_utf8(bytes).map_err(|e| fault(e.to_string()))
}

fn sign(stage: Stage) -> char {
    match stage {
        Stage::NotMet => ' ',
        Stage::Met => '·',
        Stage::Practised => 'o',
        Stage::Checked => '/',
        Stage::Secure => '#',
    }
}

/// A table with a row a pupil and a column a skill that was met, then the skills by number.
fn to_text(class: &str, progress: &Progress) -> String {
    let mut out = format!("{class}: progress\n");
    let met: Vec<_> = progress.skills.iter().filter(|s| s.met > 0).collect();
    if met.is_empty() {
        out.push_str("\nNo lesson has been held yet.\n");
        return out;
    }
    out.push_str(
        "· met   o practised   / checked   # secure: 4 of 5 right in each of the last two showings\n\
         (5 answers, or 4 all right; days with fewer are taken together), or 8 of 10 two weeks \
         on\n\n",
    );
    let wide = progress.pupils.iter().map(|p| p.chars().count()).max().unwrap_or(0).max(5);
    let numbers: String = (1..=met.len()).map(|n| format!("{n:>3}")).collect();
    writeln!(out, "{:<wide$} {numbers}", "pupil").ok();
    for (at, pupil) in progress.pupils.iter().enumerate() {
        let signs: String = met.iter().map(|s| format!("  {}", sign(s.pupils[at].stage))).collect();
        writeln!(out, "{pupil:<wide$} {}", signs.trim_end()).ok();
    }
    out.push('\n');
    for (index, skill) in met.iter().enumerate() {
        let at = |stage: Stage| skill.pupils.iter().filter(|p| p.stage >= stage).count();
        let lessons = count(usize::try_from(skill.met).unwrap_or(0), "lesson");
        writeln!(
            out,
            "{:>3}  {}: {lessons}, came back in {}; {} checked, {} secure",
            index + 1,
            skill.title,
            skill.practised,
            at(Stage::Checked),
            at(Stage::Secure)
        )
        .ok();
    }
    out.push_str("\nOne exit check certifies nobody; what was shown last counts.\n");
    out
}
