//! `plan.toml` as the teacher wrote it: every value with its place, nothing yet compared with
//! what lies beside it.

mod class;
mod read;
mod style;
mod unit;
mod when;

pub(super) use class::{ClassPart, PACE, PUPILS, Pupils};
pub(super) use style::StylePart;
pub(super) use unit::{FixedPart, LessonsPart, OwnPart, UnitPart};
pub use when::CalendarFile;
pub(super) use when::{OpeningPart, TermPart};

use super::{Costs, Resource};
use crate::calendar::{Closing, Timetable};
use crate::curriculum::our_ladders;
use crate::report::{Message, Report, Source, Spot, Table};
use std::sync::Arc;

/// The file as written: values with places, nothing compared with anything else yet.
#[derive(Debug, Clone)]
pub struct PlanFile {
    /// The text it was read from.
    pub source: Arc<Source>,
    /// `unit.ladder`: the name of a ladder of ours, or of a file beside the plan.
    pub ladder: Spot<String>,
    /// Each `[[calendar]]`, in order.
    pub calendars: Vec<CalendarFile>,
    /// Whether reading found no mistake; with one there can be no plan.
    pub(super) sound: bool,
    pub(super) class: ClassPart,
    pub(super) term: Option<TermPart>,
    pub(super) timetable: Timetable,
    pub(super) closures: Vec<Spot<Closing>>,
    pub(super) openings: Vec<OpeningPart>,
    pub(super) unit: UnitPart,
    pub(super) costs: Costs,
    pub(super) style: StylePart,
    pub(super) own: Vec<OwnPart>,
    pub(super) resources: Vec<Spot<Resource>>,
}

impl PlanFile {
    /// Reads the file; all its mistakes go into the report. `None` where not even the ladder's
    /// name is known; a file with mistakes is still returned so that the skills it names can be
    /// checked too, but [`super::Plan::check`] makes no plan of it.
    pub fn read(source: &Arc<Source>, report: &mut Report) -> Option<PlanFile> {
        let mut found = Report::new();
        let root = Table::read(source, &mut found);
        let class = class::read(&root, &mut found);
        let (term, timetable) = when::read(&root, &mut found);
        let closures = when::closures(&root, &mut found);
        let openings = when::openings(&root, &mut found);
        let calendars = when::calendars(&root, &mut found);
        let (ladder, unit) = unit::read(&root, &mut found);
        let costs = unit::costs(&root, &mut found);
        let style = style::read(&root, &mut found);
        let own = unit::own_sums(&root, &mut found);
        let resources = unit::resources(&root, &mut found);
        root.finish(&mut found);
        if let Some(ladder) = &ladder {
            check_ladder_name(ladder, &mut found);
        }
        let sound = !found.has_mistakes();
        report.append(found);
        Some(PlanFile {
            source: source.clone(),
            ladder: ladder?,
            calendars,
            sound,
            class,
            term,
            timetable,
            closures,
            openings,
            unit,
            costs,
            style,
            own,
            resources,
        })
    }

    /// The ladder file beside the plan, where the plan names one; else the ladder is one of ours.
    pub fn ladder_file(&self) -> Option<&Spot<String>> {
        self.ladder.value.ends_with(".toml").then_some(&self.ladder)
    }

    /// The file of pupils beside the plan, where the plan names one.
    pub fn pupils_file(&self) -> Option<&Spot<String>> {
        match &self.class.pupils {
            Pupils::File(file) => Some(file),
            Pupils::Count(_) => None,
        }
    }

    /// The zone that calendar times of other zones are converted to, where the plan gives one.
    pub fn zone(&self) -> Option<chrono_tz::Tz> {
        self.class.zone
    }

    /// The first and the last day of the term, where both are known.
    pub fn term_days(&self) -> Option<(chrono::NaiveDate, chrono::NaiveDate)> {
        self.term.as_ref().map(|t| (t.starts, t.ends))
    }
}

fn check_ladder_name(ladder: &Spot<String>, report: &mut Report) {
    let name = ladder.value.as_str();
    if name.ends_with(".toml") {
        read::check_beside(ladder, report);
    } else if !our_ladders().contains(&name) {
        let message = Message::mistake(format!("no ladder of ours is named `{name}`"))
            .at(&ladder.place)
            .label(format!("expected {}, or a file name ending in `.toml`", ours_listed()));
        let near = crate::report::nearest(name, our_ladders());
        let hint = match near {
            Some(near) => format!("did you mean `{near}`?"),
            None => format!("for a ladder file beside the plan write `{name}.toml`"),
        };
        report.say(message.hint(hint));
    }
}

fn ours_listed() -> String {
    crate::words::or(&our_ladders())
}
