//! `plan.toml` as the teacher wrote it.

use crate::report::{Report, Source, Spot};
use std::sync::Arc;

/// The file as written: values with places, nothing compared with anything else yet.
#[derive(Debug, Clone)]
pub struct PlanFile {
    /// The text it was read from.
    pub source: Arc<Source>,
    /// `unit.ladder`.
    pub ladder: Spot<String>,
}

impl PlanFile {
    /// Reads the file; all its mistakes go into the report. `None` where a plan cannot be made of it.
    pub fn read(source: &Arc<Source>, report: &mut Report) -> Option<PlanFile> {
        let _ = (source, report);
        None
    }
}
