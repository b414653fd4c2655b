//! Our own scenes and names, from `curriculum/stories`.

use super::read::{read_names, read_scenes};
use super::scene::Scene;
use crate::report::{Report, Source};
use std::sync::OnceLock;

/// Each file of scenes with its text.
pub(super) const FILES: [(&str, &str); 11] = [
    ("equal-groups", include_str!("../../../../curriculum/stories/equal-groups.toml")),
    ("equal-measures", include_str!("../../../../curriculum/stories/equal-measures.toml")),
    ("rates", include_str!("../../../../curriculum/stories/rates.toml")),
    ("rows-and-columns", include_str!("../../../../curriculum/stories/rows-and-columns.toml")),
    ("area", include_str!("../../../../curriculum/stories/area.toml")),
    ("comparison", include_str!("../../../../curriculum/stories/comparison.toml")),
    ("combinations", include_str!("../../../../curriculum/stories/combinations.toml")),
    ("not-a-product", include_str!("../../../../curriculum/stories/not-a-product.toml")),
    ("two-steps", include_str!("../../../../curriculum/stories/two-steps.toml")),
    ("three-factors", include_str!("../../../../curriculum/stories/three-factors.toml")),
    ("units", include_str!("../../../../curriculum/stories/units.toml")),
];
const NAMES: &str = include_str!("../../../../curriculum/stories/names.toml");

/// All our scenes, with what is wrong in their files.
pub(super) fn read_ours() -> (Vec<Scene>, Report) {
    let mut report = Report::new();
    let mut scenes = Vec::new();
    for (name, text) in FILES {
        let source = Source::shared(format!("curriculum/stories/{name}.toml"), text);
        scenes.extend(read_scenes(&source, &mut report));
    }
    (scenes, report)
}

/// All our scenes, in the order of the files.
pub fn scenes() -> &'static [Scene] {
    static SCENES: OnceLock<Vec<Scene>> = OnceLock::new();
    SCENES.get_or_init(|| read_ours().0)
}

/// The names of children.
pub fn names() -> &'static [String] {
    static NAMES_READ: OnceLock<Vec<String>> = OnceLock::new();
    NAMES_READ.get_or_init(|| {
        read_names(&Source::shared("curriculum/stories/names.toml", NAMES), &mut Report::new())
    })
}
