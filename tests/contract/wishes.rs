//! Wishes that cannot hold: a number out of range is refused with its place, wishes that clash get
//! ways out, each of which does what it says when it is typed into plan.toml.

use super::class::{ABC, BEFORE, Class, SMALL};
use serde_json::Value;

/// A plan and a ladder changed by one replacement each: refused by `plan` and `check` with all
/// these words, and the folder unchanged.
fn refused(plan: (&str, &str), ladder: (&str, &str), words: &[&str]) {
    let class = Class::small();
    assert!(SMALL.contains(plan.0) && ABC.contains(ladder.0), "{plan:?} {ladder:?}");
    class.write("plan.toml", SMALL.replacen(plan.0, plan.1, 1));
    class.write("abc.toml", ABC.replacen(ladder.0, ladder.1, 1));
    let before = class.contents();
    for command in ["check", "plan"] {
        let run = class.on(BEFORE, command, &[]).ends(1);
        for word in words {
            assert!(run.err.contains(word), "`{word}` is not in\n{}", run.err);
        }
        assert!(run.out.is_empty(), "{}", run.out);
    }
    assert_eq!(class.contents(), before);
}

fn plan_refused(from: &str, to: &str, words: &[&str]) {
    refused((from, to), ("", ""), words);
}

fn ladder_refused(from: &str, to: &str, words: &[&str]) {
    refused(("", ""), (from, to), words);
}

#[test]
fn a_weight_or_a_cost_out_of_range() {
    let costs = |line: &str| format!("[costs]\n{line}\n\n[unit]");
    let range = "0 to 1000000";
    for line in ["moved = 1000001", "moved = -1", "left-out = 9223372036854775807"] {
        let key = line.split(' ').next().expect("a key");
        plan_refused("[unit]", &costs(line), &["plan.toml:21:", &format!("`costs.{key}`"), range]);
    }
    // More than 64 bits hold: the reader of TOML itself refuses it, with the place.
    plan_refused("[unit]", &costs("moved = 99999999999999999999"), &["plan.toml:21:", "moved"]);
    plan_refused("[unit]", &costs("moved = 1.5"), &["plan.toml:21:", "`costs.moved`", "whole"]);
    plan_refused("[unit]", &costs("moves = 5"), &["plan.toml:21:", "unknown key", "`moved`"]);
    for weight in ["0", "6", "-3"] {
        ladder_refused("weight = 4", &format!("weight = {weight}"), &["abc.toml:13:", "1 to 5"]);
    }
}

#[test]
fn the_dearest_weights_there_are_do_not_overflow() {
    let class = Class::small();
    let names = [
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
        "printed-moved",
        "soon-moved",
        "moved",
        "order",
    ];
    let costs: String = names.iter().map(|n| format!("{n} = 1000000\n")).collect();
    class.write("plan.toml", format!("{SMALL}\n[costs]\n{costs}long-run-limit = 0\n"));
    let plan = class.json(BEFORE, "plan", &[]);
    let sum = |v: &Value| -> i64 {
        let terms = v["terms"].as_object().expect("terms");
        terms.values().map(|t| t.as_i64().expect("whole")).sum()
    };
    assert_eq!(plan["cost"]["total"], sum(&plan["cost"]));
    assert!(plan["cost"]["terms"]["short"].as_i64() >= Some(2_000_000), "{:#}", plan["cost"]);
    class.on("2027-02-22", "pack", &["--lesson", "7"]).ends(0);
    let moved = class.json("2027-02-22", "reschedule", &["--close", "2027-02-23"]);
    assert_eq!(moved["cost"]["total"], sum(&moved["cost"]));
}

#[test]
fn least_above_most_in_the_plan_and_in_the_ladder() {
    let wish = "[unit.lessons]\nb = { least = 4, most = 3 }\n\n[unit]";
    plan_refused("[unit]", wish, &["plan.toml:21:", "`b`", "least <= preferred <= most"]);
    let wish = "[unit.lessons]\nb = { preferred = 5, most = 3 }\n\n[unit]";
    plan_refused("[unit]", wish, &["plan.toml:21:", "`b`", "out of order"]);
    for wish in ["least = 0", "most = 10", "preferred = 99"] {
        let wish = format!("[unit.lessons]\nb = {{ {wish} }}\n\n[unit]");
        plan_refused("[unit]", &wish, &["plan.toml:21:", "1 to 9"]);
    }
    let from = "least = 2, preferred = 2, most = 3";
    ladder_refused(from, "least = 4, preferred = 2, most = 3", &["abc.toml:7:", "least"]);
}

#[test]
fn a_need_that_is_no_skill_of_the_ladder() {
    ladder_refused("needs = [\"a\"]", "needs = [\"z\"]", &["abc.toml:11:", "`z`"]);
}

#[test]
fn a_kind_of_lesson_that_is_none() {
    let fixed = |what: &str| format!("fixed = [{{ date = 2027-02-10, {what} }}]\nrevision = 1");
    plan_refused(
        "revision = 1",
        &fixed("kind = \"catchup\""),
        &["plan.toml:23:", "catchup", "`catch-up`"],
    );
    plan_refused(
        "revision = 1",
        &fixed("kind = \"teach\", skill = \"z\""),
        &["plan.toml:23:", "`z`"],
    );
    plan_refused(
        "revision = 1",
        &fixed("kind = \"revision\", skill = \"a\""),
        &["plan.toml:23:", "skill"],
    );
}

#[test]
fn more_revisions_than_a_year_has_days() {
    plan_refused(
        "revision = 1",
        "revision = 401",
        &["plan.toml:23:", "`unit.revision`", "0 to 400"],
    );
    plan_refused(
        "revision = 1",
        "revision = -1",
        &["plan.toml:23:", "`unit.revision`", "0 to 400"],
    );
}

/// A plan whose wishes clash: what clashes and the ways out, and the folder unchanged.
fn clash(plan: &str) -> (Class, Value) {
    let class = Class::small();
    class.write("plan.toml", plan);
    let before = class.contents();
    let answer = class.on(BEFORE, "plan", &["--format", "json"]).ends(1).json();
    let text = class.on(BEFORE, "plan", &[]).ends(1).out;
    assert_eq!(class.contents(), before);
    assert_eq!(answer["proof"], "infeasible");
    for wish in answer["clash"].as_array().expect("a list") {
        let what = wish["what"].as_str().expect("words");
        assert!(text.contains(&format!("- {what}")), "{what}\n{text}");
    }
    (class, answer)
}

fn with(from: &str, to: &str) -> String {
    assert!(SMALL.contains(from), "{from}");
    SMALL.replacen(from, to, 1)
}

fn what(answer: &Value) -> Vec<String> {
    let clash = answer["clash"].as_array().expect("a list");
    clash.iter().map(|w| w["what"].as_str().expect("words").to_owned()).collect()
}

/// Sets a dotted key of a plan, with a TOML library alone.
fn set(plan: &mut toml::Table, key: &str, value: &Value) {
    let (parents, last) = key.rsplit_once('.').expect("a dotted key");
    let mut table = plan;
    for parent in parents.split('.') {
        let entry = table.entry(parent).or_insert_with(|| toml::Table::new().into());
        table = entry.as_table_mut().expect("a table");
    }
    if value.is_null() {
        table.remove(last);
    } else {
        table.insert(last.to_owned(), to_toml(value));
    }
}

fn to_toml(value: &Value) -> toml::Value {
    match value {
        Value::String(text) => match text.parse::<toml::value::Datetime>() {
            Ok(date) if text.len() == 10 => date.into(),
            _ => text.as_str().into(),
        },
        Value::Number(number) => number.as_i64().expect("whole").into(),
        Value::Array(list) => list.iter().map(to_toml).collect::<Vec<_>>().into(),
        Value::Object(map) => {
            let entries = map.iter().map(|(k, v)| (k.clone(), to_toml(v)));
            toml::Value::Table(entries.collect())
        }
        other => panic!("{other} in a plan"),
    }
}

/// Every way out, typed into the plan, gives a schedule at the very cost it names.
fn ways_hold(plan: &str, answer: &Value, least: usize) {
    let ways = answer["options"].as_array().expect("a list");
    let fitting: Vec<&Value> = ways.iter().filter(|w| w["fits"] == true).collect();
    assert!((least..=6).contains(&fitting.len()), "{} ways: {answer:#}", fitting.len());
    let costs: Vec<i64> = fitting.iter().map(|w| w["cost"].as_i64().expect("a cost")).collect();
    assert!(costs.is_sorted(), "{costs:?}");
    for way in fitting {
        let mut changed: toml::Table = plan.parse().expect("a plan");
        for change in way["change"].as_array().expect("a list") {
            set(&mut changed, change["key"].as_str().expect("a key"), &change["value"]);
        }
        let class = Class::small();
        class.write("plan.toml", changed.to_string());
        let solved = class.json(BEFORE, "plan", &[]);
        assert_eq!(solved["cost"]["total"], way["cost"], "{way:#}");
    }
}

#[test]
fn more_catch_ups_than_there_is_room_for() {
    let plan = with("revision = 1", "revision = 1\ncatch-up = 7");
    let (_, answer) = clash(&plan);
    assert!(what(&answer).contains(&"at least 7 catch-up lessons".to_owned()), "{answer:#}");
    ways_hold(&plan, &answer, 3);
}

#[test]
fn more_revisions_than_there_are_periods() {
    let plan = with("revision = 1", "revision = 12");
    let (_, answer) = clash(&plan);
    assert!(
        what(&answer).contains(&"12 revision lessons after the last new skill".to_owned()),
        "{answer:#}"
    );
    ways_hold(&plan, &answer, 3);
}

#[test]
fn a_lesson_fixed_where_there_is_no_period() {
    // A Saturday, a holiday, and a time at which nothing begins.
    for (fixed, said) in [
        ("date = 2027-02-13", "Saturday 13 February"),
        ("date = 2027-02-17", "Wednesday 17 February"),
        ("date = 2027-02-10, starts = \"11:00\"", "Wednesday 10 February at 11:00"),
    ] {
        let plan = with(
            "revision = 1",
            &format!("revision = 1\nfixed = [{{ {fixed}, kind = \"catch-up\" }}]"),
        );
        let (_, answer) = clash(&plan);
        assert_eq!(what(&answer), [format!("a catch-up lesson on {said}")]);
        ways_hold(&plan, &answer, 2);
    }
}

#[test]
fn a_test_where_there_is_no_period() {
    let plan = with("revision = 1", "revision = 1\ntest = 2027-02-17");
    let (_, answer) = clash(&plan);
    assert_eq!(what(&answer), ["the unit test on Wednesday 17 February"]);
    ways_hold(&plan, &answer, 3);
}

#[test]
fn a_need_that_is_neither_taught_nor_known() {
    let plan = with("revision = 1", "revision = 1\nleave-out = [\"a\"]");
    let (_, answer) = clash(&plan);
    let said = what(&answer);
    assert!(said.contains(&"“A” is left out".to_owned()) && said.len() == 2, "{said:?}");
    ways_hold(&plan, &answer, 2);
}

#[test]
fn the_lines_to_type_do_what_they_say_when_they_are_typed() {
    let plan = with("revision = 1", "revision = 1\ncatch-up = 7");
    let (class, answer) = clash(&plan);
    let text = class.on(BEFORE, "plan", &[]).ends(1).out;
    let way = text.split("\n  1. ").nth(1).expect("a first way");
    let way = way.split("\n  2. ").next().expect("its end");
    let mut lines: Vec<String> = plan.lines().map(str::to_owned).collect();
    for typed in way.lines().skip(1).map(str::trim) {
        let line = typed.strip_prefix("under [unit]: ").expect("under its heading");
        let key = line.split(" = ").next().expect("a key");
        let at = lines.iter().position(|l| l.starts_with(&format!("{key} = "))).expect("its line");
        line.clone_into(&mut lines[at]);
    }
    class.write("plan.toml", lines.join("\n"));
    let solved = class.json(BEFORE, "plan", &[]);
    assert_eq!(solved["cost"]["total"], answer["options"][0]["cost"], "{way}");
}
