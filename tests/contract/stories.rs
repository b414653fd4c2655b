//! Story scenes of the teacher's own, in the folder `stories` beside the plan.

use super::class::{BEFORE, Class, SHORT};

/// A scene as a teacher may write it.
const POND: &str = r#"
[[scene]]
id = "our-pond"
structure = "equal-groups"
expression = "s*g"
text = ["Our pond has {g} nets.", "Each net holds {s} frogs."]
question = "How many frogs are there?"
know = ["{g} nets", "{s} frogs in each net"]
need = "how many frogs there are"
answer = "There are {answer} frogs."
sizes.2x1 = { s = [12, 24], g = [3, 6] }
sizes.3x1 = { s = [112, 124], g = [3, 6] }
"#;

#[test]
fn scenes_beside_the_plan_are_told_in_packs() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    let before = class.json(BEFORE, "pack", &["--all"]).to_string();
    assert!(!before.contains("Our pond"));
    class.write("stories/ours.toml", POND);
    class.on(BEFORE, "check", &[]).ends(0);
    let after = class.json(BEFORE, "pack", &["--all"]).to_string();
    assert!(after.contains("Our pond has "), "the scene is not told");
}

#[test]
fn a_mistake_in_a_scene_is_said_with_its_place() {
    let class = Class::with(SHORT);
    class.write("stories/ours.toml", POND.replace("equal-groups", "equal-grups"));
    class
        .on(BEFORE, "check", &[])
        .ends(1)
        .says("stories/ours.toml:4")
        .says("did you mean `equal-groups`?");
    class.write("stories/ours.toml", POND.replace("our-pond", "seed-trays"));
    class.on(BEFORE, "check", &[]).ends(1).says("another scene is named `seed-trays`");
}

#[test]
fn prices_are_in_the_class_s_own_money() {
    let class = Class::with(&format!("{SHORT}\n[style]\nmoney = \"pence\"\n"));
    class.write(
        "stories/ours.toml",
        POND.replace("frogs in", "{money} in").replace("holds {s} frogs", "holds {s} {money}"),
    );
    class.on(BEFORE, "plan", &[]).ends(0);
    let packs = class.json(BEFORE, "pack", &["--all"]).to_string();
    assert!(packs.contains(" pence.") && !packs.contains("{money}"));
}
