//! The JSON: keys may be added, never renamed.

use super::class::{BEFORE, Class, SHORT, run};
use serde_json::Value;

fn has(value: &Value, keys: &[&str]) {
    for key in keys {
        assert!(value.get(key).is_some(), "no `{key}` in {value:#}");
    }
}

fn list<'a>(value: &'a Value, key: &str) -> &'a Vec<Value> {
    value[key].as_array().unwrap_or_else(|| panic!("`{key}` is no list in {value:#}"))
}

#[test]
fn skills() {
    let answer = run(&["skills", "--format", "json"]).ends(0).json();
    has(&answer, &["ladder", "skills"]);
    for skill in list(&answer, "skills") {
        has(skill, &["id", "title", "needs", "lessons", "weight", "optional", "outcomes"]);
        has(&skill["lessons"], &["least", "preferred", "most"]);
    }
}

#[test]
fn plan() {
    let class = Class::with(SHORT);
    let answer = class.json(BEFORE, "plan", &[]);
    has(
        &answer,
        &["class", "periods", "lessons", "left_out", "cost", "proof", "bound", "spare_periods"],
    );
    let (periods, lessons) = (list(&answer, "periods"), list(&answer, "lessons"));
    assert_eq!(periods.len(), lessons.len());
    for (number, (period, lesson)) in (1..).zip(periods.iter().zip(lessons)) {
        has(period, &["date", "starts", "minutes", "break_before"]);
        has(
            lesson,
            &[
                "number", "date", "starts", "minutes", "kind", "skill", "part", "of", "outcomes",
                "why",
            ],
        );
        assert_eq!(lesson["number"], number);
        assert_eq!((&lesson["date"], &lesson["starts"]), (&period["date"], &period["starts"]));
        let kind = lesson["kind"].as_str().expect("a word");
        assert!(["teach", "catch-up", "revision", "unit-test"].contains(&kind), "{kind}");
        assert_eq!(lesson["skill"].is_null(), kind != "teach");
    }
    let terms: Vec<&str> =
        answer["cost"]["terms"].as_object().expect("terms").keys().map(String::as_str).collect();
    let expected = [
        "left-out",
        "short",
        "extra",
        "starts-before-break",
        "split-by-break",
        "cold-return",
        "long-run",
        "thread-cut",
        "bunched",
        "short-start",
        "two-starts",
    ];
    assert_eq!(terms, expected);
    let sum: i64 = answer["cost"]["terms"]
        .as_object()
        .expect("terms")
        .values()
        .filter_map(Value::as_i64)
        .sum();
    assert_eq!(answer["cost"]["total"], sum);
}

#[test]
fn reschedule() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    let answer = class.json("2027-02-09", "reschedule", &["--close", "2027-02-23"]);
    has(
        &answer,
        &["moves", "unchanged", "dropped", "merged", "options", "cost", "proof", "schedule"],
    );
    for moved in list(&answer, "moves") {
        has(moved, &["lesson", "from", "to"]);
    }
    let terms = answer["cost"]["terms"].as_object().expect("terms");
    for term in ["printed-moved", "soon-moved", "moved", "order"] {
        assert!(terms.contains_key(term), "{terms:?}");
    }
    has(&answer["schedule"], &["periods", "lessons", "cost"]);
}

#[test]
fn pack() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    let answer = class.json(BEFORE, "pack", &["--all"]);
    let packs = answer.as_array().expect("a list of packs");
    assert!(packs.len() > 20);
    for pack in packs {
        has(pack, &["lesson", "date", "kind", "skill", "part", "minutes", "version", "sections"]);
        for section in list(pack, "sections") {
            has(section, &["name", "level", "minutes", "items"]);
            let name = section["name"].as_str().expect("a word");
            let names =
                ["warm-up", "examples", "guided", "practice", "exit-check", "homework", "test"];
            assert!(names.contains(&name), "{name}");
            assert_eq!(section["level"].is_null(), name != "practice");
            list(section, "items").iter().for_each(item);
        }
    }
}

fn item(item: &Value) {
    has(
        item,
        &[
            "id",
            "skill",
            "kind",
            "prompt",
            "expression",
            "answer",
            "accept",
            "choices",
            "working",
            "seconds",
        ],
    );
    let answer = item["answer"].as_str().expect("an answer is text");
    match item["expression"].as_str() {
        Some(expression) => {
            assert!(
                expression.chars().all(|c| c.is_ascii_digit() || "+-*/() ".contains(c)),
                "{expression}"
            );
            assert!(answer.chars().all(|c| c.is_ascii_digit()), "{answer}");
        }
        None => assert!(item["kind"] != "written" && item["kind"] != "row", "{item:#}"),
    }
    let choices = list(item, "choices");
    if item["kind"] == "choice" {
        assert!(item["expression"].is_null() && choices.len() >= 2, "{item:#}");
        let right: Vec<&Value> = choices.iter().filter(|c| c["correct"] == true).collect();
        assert_eq!(right.len(), 1, "{item:#}");
        assert_eq!(right[0]["text"], item["answer"]);
    }
    for choice in choices {
        has(choice, &["text", "correct", "pattern"]);
    }
}

/// Source of the rows: the arithmetic of the contract's own example, 12620 for 631 × 20.
#[test]
fn sum() {
    let answer = run(&["sum", "631x20", "--format", "json"]).ends(0).json();
    has(
        &answer,
        &["a", "b", "product", "digits", "estimate", "workings", "routes", "wrong", "diagnosis"],
    );
    assert_eq!(answer["product"], 12620);
    assert_eq!(
        (answer["digits"]["least"].clone(), answer["digits"]["most"].clone()),
        (4.into(), 5.into())
    );
    let long =
        &list(&answer, "workings").iter().find(|w| w["method"] == "long").expect("long")["rows"];
    assert_eq!(long.as_array().map(Vec::len), Some(1));
    assert_eq!(
        (&long[0]["digit"], &long[0]["place"], &long[0]["value"]),
        (&2.into(), &10.into(), &12620.into())
    );
    for working in list(&answer, "workings") {
        has(working, &["method", "rows", "adding_carries", "value"]);
        let rows = list(working, "rows");
        assert!(rows.iter().all(|r| !r["digit"].is_null() && !r["place"].is_null()), "{working}");
        let sum: u64 = rows.iter().map(|r| r["value"].as_u64().expect("a value")).sum();
        assert_eq!(working["value"], sum);
    }
    for route in list(&answer, "routes") {
        has(route, &["name", "cost", "steps", "value"]);
    }
    for wrong in list(&answer, "wrong") {
        has(wrong, &["answer", "patterns"]);
    }
}

#[test]
fn the_longer_number_is_the_multiplicand_and_carries_are_listed_from_the_ones() {
    let answer = run(&["sum", "36x478", "--format", "json"]).ends(0).json();
    assert_eq!((&answer["a"], &answer["b"]), (&478.into(), &36.into()));
    let long =
        list(&answer, "workings").iter().find(|w| w["method"] == "long").expect("long").clone();
    let six = list(&long, "rows").iter().find(|r| r["digit"] == 6).expect("a row").clone();
    // 6 × 8 = 48, 6 × 7 + 4 = 46, 6 × 4 + 4 = 28: by hand.
    assert_eq!(six["carries"], serde_json::json!([4, 4, 2]));
    assert_eq!(six["value"], 2868);
}

#[test]
fn a_wrong_answer_is_diagnosed() {
    let answer = run(&["sum", "47x36", "--answer", "423", "--format", "json"]).ends(0).json();
    assert!(!answer["diagnosis"].is_null(), "{answer:#}");
    let given: Vec<&str> =
        list(&answer, "wrong").iter().filter_map(|w| w["answer"].as_str()).collect();
    // The answers the catalogue of error patterns prints for 47 × 36.
    for wrong in [
        "423", "162", "1242", "2092", "1892", "282", "1410", "1482", "1452", "612", "14382",
        "16920", "2961", "422", "83",
    ] {
        assert!(given.contains(&wrong), "{wrong} is not among {given:?}");
    }
}
