//! What an exit check can and cannot tell: in the pack, after marking and in `report checks`.

use super::class::BEFORE;
use super::marks::{printed, right, table};
use serde_json::Value;
use std::collections::{BTreeMap, BTreeSet};

/// By pattern: its answer to each item as the key has it.
fn answers(items: &[Value]) -> BTreeMap<String, BTreeMap<String, String>> {
    let mut found: BTreeMap<String, BTreeMap<String, String>> = BTreeMap::new();
    let text = |value: &Value| value.as_str().expect("text").to_owned();
    for item in items {
        for likely in item["likely"].as_array().expect("likely") {
            for name in likely["patterns"].as_array().expect("names") {
                let of_pattern = found.entry(text(name)).or_default();
                of_pattern.entry(text(&item["id"])).or_insert_with(|| text(&likely["answer"]));
            }
        }
    }
    found
}

#[test]
fn every_check_says_what_it_cannot_tell_on_paper_in_json_and_in_the_report() {
    let (class, number, items) = printed();
    let pack = class.json(BEFORE, "pack", &["--lesson", &number]);
    let tells = &pack[0]["teacher"]["check_tells"];
    let expected: BTreeSet<&str> =
        tells["expected"].as_array().expect("patterns").iter().filter_map(Value::as_str).collect();
    let shown = answers(&items);
    assert!(
        expected.len() >= 5 && shown.keys().all(|p| expected.contains(p.as_str())),
        "{tells:#}"
    );
    let hardly = tells["hardly_met"].as_object().expect("by pattern");
    for (name, met) in &shown {
        assert!(met.len() < 2 || !hardly.contains_key(name), "{name} shows on {met:?}");
    }
    for alike in tells["alike"].as_array().expect("groups") {
        let names: Vec<&str> =
            alike.as_array().expect("names").iter().filter_map(Value::as_str).collect();
        let given: BTreeSet<_> = names.iter().filter_map(|n| shown.get(*n)).collect();
        assert!(given.len() <= 1, "{names:?} differ in the key");
    }
    let report = class.json(BEFORE, "report", &["checks"]);
    let checks = report["checks"].as_array().expect("checks");
    let own = checks.iter().find(|c| c["lesson"].as_u64() == number.parse().ok()).expect("listed");
    assert_eq!((&own["expected"], &own["hardly_met"]), (&tells["expected"], &tells["hardly_met"]));
    let skills = report["skills"].as_array().expect("skills");
    let skill = skills.iter().find(|s| s["skill"] == "long-two-by-two").expect("taught");
    assert!(skill["lessons"].as_array().is_some_and(|l| l.len() > 1));
    // What one check meets twice all of them together do.
    for name in skill["hardly_met"].as_object().expect("by pattern").keys() {
        assert!(hardly.contains_key(name) || !expected.contains(name.as_str()), "{name}");
    }
    let text = class.on(BEFORE, "report", &["checks"]).ends(0).out;
    assert!(
        text.contains("All checks of a skill together") && text.contains("to expect"),
        "{text}"
    );
    class.write("answers.csv", table(&items, &[("1", right(&items))]));
    let file = class.dir().join("answers.csv").display().to_string();
    let marking = class.json(BEFORE, "mark", &["--lesson", &number, &file]);
    assert_eq!(&marking["tells"]["expected"], tells);
}
