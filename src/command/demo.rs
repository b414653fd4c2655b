//! `demo`: two invented classes, planned and printed whole: the main job in one command.

use super::args::{Demo as Request, Format};
use super::class::Class;
use super::output::{Failure, data, note};
use super::{pack, plan, print};
use crate::folder::{Access, is_empty_dir, save};
use crate::report::Message;
use chrono::NaiveDate;
use std::path::Path;

/// The invented classes: a folder each, with its files.
const CLASSES: [(&str, &[(&str, &str)]); 2] = [
    ("kingfisher", &[("plan.toml", include_str!("../../plans/kingfisher/plan.toml"))]),
    (
        "marigold",
        &[
            ("plan.toml", include_str!("../../plans/marigold/plan.toml")),
            ("holidays.ics", include_str!("../../plans/marigold/holidays.ics")),
        ],
    ),
];

/// Runs the command.
pub fn run(request: &Request, today: NaiveDate) -> Result<(), Failure> {
    if !is_empty_dir(&request.dir)? {
        let text = format!("`{}` is not empty", request.dir.display());
        return Err(Message::mistake(text)
            .hint("name a folder that is empty or not there yet")
            .into());
    }
    for (name, files) in CLASSES {
        let dir = request.dir.join(name);
        for (file, text) in files {
            save(&dir.join(file), text.as_bytes())?;
        }
        one_class(&dir, today)?;
    }
    let dir = request.dir.display();
    data(&format!(
        "Look at {dir}/kingfisher/packs/L01/teacher.pdf, or try `rungwise plan {dir}/kingfisher`."
    ));
    Ok(())
}

fn one_class(dir: &Path, today: NaiveDate) -> Result<(), Failure> {
    let class = Class::open(dir, Access::Change, today)?;
    plan::make(&class, Format::Text)?;
    // The schedule just written is read back, as any later command would read it.
    drop(class);
    let class = Class::open(dir, Access::Change, today)?;
    let made = class.schedule()?.clone();
    note(&print::headline(&class.plan.class.name, &made));
    let mut term = pack::InTurn::of(&class)?;
    let mut packs = Vec::new();
    for lesson in &made.lessons {
        packs.push(term.made(lesson.number, "A", true)?);
    }
    let printed = pack::print_all(&packs)?;
    let files = pack::files_of(&packs, printed, None);
    let is_pdf = |name: &&String| Path::new(name).extension().is_some_and(|e| e == "pdf");
    let pages = files.keys().filter(is_pdf).count();
    pack::write_to(&class.folder.path("packs"), &files)?;
    let packs = crate::words::count(packs.len(), "pack");
    data(&format!("{}: {packs}, {pages} files to print, all as drafts", dir.display()));
    Ok(())
}
