//! `report`: which outcomes the lessons meet, how far each pupil has come, what checks can tell,
//! the term for the head.

use super::args::{Format, Report as Request, WhichReport};
use super::class::Class;
use super::output::{Failure, data, json, note};
use super::pack::refused;
use crate::curriculum::{Framework, Outcome};
use crate::folder::{Access, save};
use crate::paper::{self, CoveragePage, Covered, Row};
use crate::words::count;
use chrono::NaiveDate;
use serde::Serialize;
use std::fmt::Write;

/// One outcome and the lessons that serve it.
#[derive(Debug, Serialize)]
struct Met {
    code: String,
    asks: String,
    /// Lessons that count as taught.
    taught: Vec<u32>,
    /// Lessons to come.
    to_come: Vec<u32>,
}

/// One framework: outcomes the unit serves, and those it does not.
#[derive(Debug, Serialize)]
struct Coverage {
    framework: String,
    title: String,
    outcomes: Vec<Met>,
    not_in_this_unit: Vec<String>,
}

/// Runs the command.
pub fn run(request: &Request, format: Format, today: NaiveDate) -> Result<(), Failure> {
    if request.which == WhichReport::Progress {
        return super::progress::run(request, format, today);
    }
    if request.csv {
        return Err(Failure::Usage("`--csv` belongs to `report DIR progress`".to_owned()));
    }
    if request.which == WhichReport::Checks && request.pdf.is_some() {
        let text = "`--pdf` belongs to `report DIR coverage`, `progress` and `scheme`";
        return Err(Failure::Usage(text.to_owned()));
    }
    let class = Class::open(&request.dir, Access::Look, today)?;
    class.notice_a_changed_plan();
    class.schedule()?;
    if request.which == WhichReport::Checks {
        return super::checks::run(&class, format);
    }
    if request.which == WhichReport::Scheme {
        return super::scheme::run(&class, request, format);
    }
    let coverage: Vec<Coverage> = class.plan.frameworks.iter().map(|f| cover(&class, f)).collect();
    if let Some(file) = &request.pdf {
        save(file, &page(&class, coverage)?)?;
        note(&format!("written to {}", file.display()));
        return Ok(());
    }
    match format {
        Format::Json => json(&serde_json::json!({
            "class": class.plan.class.name, "today": today, "coverage": coverage,
        })),
        Format::Text => {
            data(&to_text(&class, &coverage));
            Ok(())
        }
    }
}

/// The coverage as a PDF.
fn page(class: &Class, coverage: Vec<Coverage>) -> Result<Vec<u8>, Failure> {
    let style = &class.plan.style;
    let row = |met: Met| {
        let asks = style.in_figures(&met.asks);
        Row { code: met.code, asks, taught: met.taught, to_come: met.to_come }
    };
    let covered = coverage.into_iter().map(|framework| Covered {
        title: framework.title,
        outcomes: framework.outcomes.into_iter().map(row).collect(),
        not_in_this_unit: framework.not_in_this_unit,
    });
    let page = CoveragePage {
        class: &class.plan.class.name,
        school: &class.plan.class.school,
        paper: class.plan.paper,
        today: &class.state.today.format("%-d\u{A0}%B\u{A0}%Y").to_string(),
        frameworks: &covered.collect::<Vec<_>>(),
    };
    paper::coverage(&page).map_err(|refusal| refused(&refusal))
}

fn cover(class: &Class, framework: &Framework) -> Coverage {
    let mut outcomes = Vec::new();
    let mut not_in_this_unit = Vec::new();
    for outcome in framework.outcomes.values() {
        let met = met(class, framework, outcome);
        if met.taught.is_empty() && met.to_come.is_empty() {
            not_in_this_unit.push(outcome.code.clone());
        } else {
            outcomes.push(met);
        }
    }
    Coverage {
        framework: framework.name.clone(),
        title: framework.title.clone(),
        outcomes,
        not_in_this_unit,
    }
}

fn met(class: &Class, framework: &Framework, outcome: &Outcome) -> Met {
    let means = |o: &String| framework.meant_by(o).is_some_and(|m| m.code == outcome.code);
    let serves = |skill: &String| {
        class.plan.ladder.skills.get(skill).is_some_and(|s| s.outcomes.iter().any(means))
    };
    let (mut taught, mut to_come) = (Vec::new(), Vec::new());
    for lesson in class.state.lessons() {
        if lesson.skill.as_ref().is_some_and(serves) {
            let list = if class.state.taught(&lesson) { &mut taught } else { &mut to_come };
            list.push(lesson.number);
        }
    }
    Met { code: outcome.code.clone(), asks: outcome.asks.clone(), taught, to_come }
}

fn to_text(class: &Class, coverage: &[Coverage]) -> String {
    let mut out = format!("{}: what the unit meets\n", class.plan.class.name);
    for framework in coverage {
        writeln!(out, "\n{}", framework.title).ok();
        for met in &framework.outcomes {
            let lessons = count(met.taught.len() + met.to_come.len(), "lesson");
            writeln!(out, "  {}  {}", met.code, met.asks).ok();
            writeln!(out, "      {lessons}, {} taught{}", met.taught.len(), listed(met)).ok();
        }
        if !framework.not_in_this_unit.is_empty() {
            writeln!(out, "  not in this unit: {}", framework.not_in_this_unit.join(", ")).ok();
        }
    }
    out.push_str("\nThe published curriculum and the school's own scheme are the authority.\n");
    out
}

fn listed(met: &Met) -> String {
    let numbers: Vec<String> =
        met.taught.iter().chain(&met.to_come).map(ToString::to_string).collect();
    format!(": {}", numbers.join(", "))
}
