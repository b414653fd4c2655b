//! The ladders and frameworks that come with the tool.

use super::{Framework, Ladder, read_framework, read_ladder};
use crate::report::{Report, Source};
use indexmap::IndexMap;
use std::sync::Arc;

const LADDERS: [(&str, &str); 1] =
    [("multiplication", include_str!("../../curriculum/multiplication.toml"))];
const FRAMEWORKS: [(&str, &str); 3] = [
    ("ccssm", include_str!("../../curriculum/frameworks/ccssm.toml")),
    ("england-2013", include_str!("../../curriculum/frameworks/england-2013.toml")),
    ("ncert", include_str!("../../curriculum/frameworks/ncert.toml")),
];

/// The text of a ladder of ours, by its name.
pub fn ours(name: &str) -> Option<&'static str> {
    LADDERS.iter().find(|(ours, _)| *ours == name).map(|(_, text)| *text)
}

/// The names of our ladders.
pub fn our_ladders() -> Vec<&'static str> {
    LADDERS.iter().map(|(name, _)| *name).collect()
}

/// A ladder of ours, read; what can be said about it is for us to mend, not for a teacher.
pub fn our_ladder(name: &str) -> Option<Ladder> {
    let source = Source::shared(format!("{name}.toml"), ours(name)?);
    read_ladder(&source, &mut Report::new())
}

/// All frameworks that are known, by name.
pub fn frameworks() -> IndexMap<String, Arc<Framework>> {
    let read = |(name, text): &(&str, &str)| {
        let source = Source::shared(format!("{name}.toml"), *text);
        let framework = read_framework(&source, &mut Report::new())?;
        Some((framework.name.clone(), Arc::new(framework)))
    };
    FRAMEWORKS.iter().filter_map(read).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn our_own_files_are_read_without_a_word() {
        for name in our_ladders() {
            let mut report = Report::new();
            let source = Source::shared(format!("{name}.toml"), ours(name).expect("a ladder"));
            let ladder = read_ladder(&source, &mut report).expect("a ladder without mistakes");
            assert_eq!(ladder.name, name);
            super::super::check_outcomes(&source, &frameworks(), &mut report);
            assert_eq!(report.to_text(), "");
        }
        for (name, text) in FRAMEWORKS {
            let mut report = Report::new();
            let source = Source::shared(format!("{name}.toml"), text);
            let framework = read_framework(&source, &mut report);
            assert_eq!(report.to_text(), "");
            assert_eq!(framework.map(|f| f.name).as_deref(), Some(name));
        }
        assert!(our_ladder("no-such-ladder").is_none());
    }
}
