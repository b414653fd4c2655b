//! What is changed changes, and not a byte besides.

use super::{add_closure, add_opening, open_day, set};
use chrono::{Days, NaiveDate};
use insta::assert_snapshot;
use proptest::prelude::*;
use serde_json::{Value as Json, json};

const PLAN: &str = r#"# our plan
[class]
name = "Class 5"   # as on the door

[term]   # the short one
starts = 2027-01-11
ends = 2027-04-02

# days off
[[closure]]
from = 2027-02-15
to = 2027-02-19      # both included
because = "half-term"

[[closure]]
on = 2027-03-04
before = "10:30"

[unit]
ladder = "multiplication"
teach = [
    "a", # first
    "b",
]
catch-up = 4  # from memory
fixed = [{ date = 2027-02-26, kind = "catch-up" }]

# the long ones
[unit.lessons]
a = { preferred = 4 }
"#;

fn day(text: &str) -> NaiveDate {
    text.parse().expect("a date")
}
/// The lines that were taken out and put in.
fn difference(before: &str, after: &str) -> String {
    let (old, new): (Vec<&str>, Vec<&str>) = (before.lines().collect(), after.lines().collect());
    let same = old.iter().zip(&new).take_while(|(a, b)| a == b).count();
    let same_end = old.iter().rev().zip(new.iter().rev()).take_while(|(a, b)| a == b).count();
    let same_end = same_end.min(old.len() - same).min(new.len() - same);
    let lines = |sign: &str, all: &[&str]| {
        let inner = &all[same..all.len() - same_end];
        let show = |line: &&str| format!("{sign} {line}").trim_end().to_owned() + "\n";
        inner.iter().map(show).collect::<String>()
    };
    lines("-", &old) + &lines("+", &new)
}
fn changed(key: &str, value: &Json) -> String {
    difference(PLAN, &set(PLAN, key, value).expect("a change"))
}

#[test]
fn a_value_is_exchanged_and_its_comment_stays() {
    assert_snapshot!(changed("unit.catch-up", &json!(0)), @r#"
    - catch-up = 4  # from memory
    + catch-up = 0  # from memory
    "#);
    assert_snapshot!(changed("unit.fixed", &json!([])), @r#"
    - fixed = [{ date = 2027-02-26, kind = "catch-up" }]
    + fixed = []
    "#);
    assert_snapshot!(changed("term.ends", &json!("2027-04-09")), @r#"
    - ends = 2027-04-02
    + ends = 2027-04-09
    "#);
    assert_snapshot!(changed("unit.teach", &json!(["a"])), @r#"
    - teach = [
    -     "a", # first
    -     "b",
    - ]
    + teach = ["a"]
    "#);
    assert_snapshot!(changed("unit.lessons.a", &json!({"least": 1, "preferred": 2})), @r#"
    - a = { preferred = 4 }
    + a = { least = 1, preferred = 2 }
    "#);
    let fixed = json!([{"date": "2027-03-01", "starts": "09:10", "kind": "teach", "skill": "a"}]);
    assert_snapshot!(changed("unit.fixed", &fixed), @r#"
    - fixed = [{ date = 2027-02-26, kind = "catch-up" }]
    + fixed = [{ date = 2027-03-01, starts = "09:10", kind = "teach", skill = "a" }]
    "#);
}

#[test]
fn a_new_key_goes_to_the_end_of_its_table() {
    assert_snapshot!(changed("unit.test", &json!("2027-03-24")), @"+ test = 2027-03-24");
    assert_snapshot!(changed("unit.test", &json!("none")), @r#"+ test = "none""#);
    assert_snapshot!(changed("unit.lessons.b", &json!({"least": 1})), @"+ b = { least = 1 }");
    assert_snapshot!(changed("unit.lessons.a.least", &json!(1)), @r#"
    - a = { preferred = 4 }
    + a = { preferred = 4, least = 1 }
    "#);
    assert_snapshot!(changed("costs.short", &json!(0)), @r#"
    +
    + [costs]
    + short = 0
    "#);
    assert_snapshot!(changed("class.pace", &json!(1.2)), @"+ pace = 1.2");
}

#[test]
fn null_takes_a_key_away_with_its_line() {
    assert_snapshot!(changed("unit.catch-up", &Json::Null), @"- catch-up = 4  # from memory");
    assert_snapshot!(changed("unit.teach", &Json::Null), @r#"
    - teach = [
    -     "a", # first
    -     "b",
    - ]
    "#);
    assert_snapshot!(changed("unit.lessons.a.preferred", &Json::Null), @r#"
    - a = { preferred = 4 }
    + a = {}
    "#);
    assert_eq!(changed("unit.test", &Json::Null), "");
    assert_eq!(changed("costs.short", &Json::Null), "");
}

#[test]
fn unusual_forms_are_changed_too() {
    let after = |text: &str, key: &str, value: Json| set(text, key, &value).expect("a change");
    assert_eq!(after("unit.test = 1\n", "unit.test", json!(2)), "unit.test = 2\n");
    assert_eq!(after("unit = { test = 1 }\n", "unit.test", json!(2)), "unit = { test = 2 }\n");
    assert_eq!(
        after("[unit.lessons]\n", "unit.test", json!(2)),
        "[unit.lessons]\n\n[unit]\ntest = 2\n"
    );
    assert_eq!(after("[unit]", "unit.test", json!(2)), "[unit]\ntest = 2\n");
    assert_eq!(after("", "unit.test", json!(2)), "[unit]\ntest = 2\n");
    let tables = "[unit]\na = 1\n\n[[unit.fixed]]\nkind = \"teach\"\n";
    assert_eq!(after(tables, "unit.fixed", json!([])), "[unit]\na = 1\nfixed = []\n");
    assert_eq!(after("[unit]\r\na = 1\r\n", "unit.b", json!(2)), "[unit]\r\na = 1\r\nb = 2\r\n");
    assert!(set("[unit\n", "unit.b", &json!(1)).is_err());
    assert!(set("unit = 1\n", "unit.b", &json!(1)).is_err());
    assert!(set("", "unit.b", &json!([null])).is_err());
}

#[test]
fn closures_and_openings_are_added_after_their_like() {
    let closed = add_closure(PLAN, day("2027-03-10"), day("2027-03-10"), "snow \"drift\"");
    assert_snapshot!(difference(PLAN, &closed.expect("a change")), @r#"
    + [[closure]]
    + on = 2027-03-10
    + because = 'snow "drift"'
    +
    "#);
    let closed = add_closure(PLAN, day("2027-03-10"), day("2027-03-12"), "");
    assert_snapshot!(difference(PLAN, &closed.expect("a change")), @r#"
    + [[closure]]
    + from = 2027-03-10
    + to = 2027-03-12
    +
    "#);
    let opened = add_opening(PLAN, day("2027-03-10"), day("2027-03-10"), "").expect("a change");
    assert_snapshot!(difference(PLAN, &opened), @r#"
    +
    + [[opening]]
    + on = 2027-03-10
    "#);
    let list = "closure = [{ on = 2027-01-11 }]\n";
    let longer = add_closure(list, day("2027-03-10"), day("2027-03-10"), "").expect("a change");
    assert_eq!(longer, "closure = [{ on = 2027-01-11 }, { on = 2027-03-10 }]\n");
}

#[test]
fn a_day_is_opened_at_either_end_in_the_middle_and_alone() {
    let open = |date: &str| {
        let opened = open_day(PLAN, day(date)).expect("TOML");
        opened.map_or("nothing".to_owned(), |new| difference(PLAN, &new))
    };
    assert_snapshot!(open("2027-02-15"), @r#"
    - from = 2027-02-15
    + from = 2027-02-16
    "#);
    assert_snapshot!(open("2027-02-19"), @r#"
    - to = 2027-02-19      # both included
    + to = 2027-02-18      # both included
    "#);
    assert_snapshot!(open("2027-02-17"), @r#"
    + to = 2027-02-16      # both included
    + because = "half-term"
    +
    + [[closure]]
    + from = 2027-02-18
    "#);
    assert_snapshot!(open("2027-03-04"), @r#"
    - [[closure]]
    - on = 2027-03-04
    - before = "10:30"
    -
    "#);
    assert_eq!(open("2027-02-20"), "nothing");
}

#[test]
fn a_day_is_opened_in_a_list_too() {
    let list = "closure = [{ on = 2027-01-11 }, { from = 2027-01-12, to = 2027-01-14 }]\n";
    let open = |date: &str| open_day(list, day(date)).expect("TOML").expect("a change");
    assert_eq!(open("2027-01-11"), "closure = [{ from = 2027-01-12, to = 2027-01-14 }]\n");
    assert!(open("2027-01-13").contains("to = 2027-01-12"));
    assert!(open("2027-01-13").contains("from = 2027-01-14"));
}

#[test]
fn closing_a_day_and_opening_it_again_gives_the_same_text() {
    for text in [PLAN.to_owned(), PLAN.replace('\n', "\r\n"), "[a]\nb = 1\n".to_owned()] {
        let date = day("2027-03-10");
        let closed = add_closure(&text, date, date, "snow").expect("a change");
        assert_ne!(closed, text);
        assert_eq!(open_day(&closed, date).expect("TOML").as_deref(), Some(text.as_str()));
    }
}

/// The days of a plan's closures, each as often as it is closed.
fn closed_days(text: &str) -> Vec<NaiveDate> {
    let plan: toml::Table = text.parse().expect("TOML");
    let closures = plan.get("closure").and_then(|c| c.as_array()).cloned().unwrap_or_default();
    let mut days: Vec<NaiveDate> = Vec::new();
    for closure in closures {
        let date = |key: &str| closure.get(key).map(|d| day(&d.to_string()));
        let from = date("on").or(date("from")).expect("a first day");
        let to = date("on").or(date("to")).expect("a last day");
        days.extend(from.iter_days().take_while(|&d| d <= to));
    }
    days.sort();
    days
}

proptest! {
    #[test]
    fn opening_a_day_opens_that_day_alone_and_keeps_every_comment(
        closures in proptest::collection::vec((0_u64..20, 0_u64..5, any::<bool>()), 1..5),
        opened in 0_u64..24,
    ) {
        let first = day("2027-01-11");
        let mut text = "[a]\nb = 1 # b\n".to_owned();
        for (n, (from, length, comment)) in closures.iter().enumerate() {
            let (from, to) = (first + Days::new(*from), first + Days::new(from + length));
            if *comment {
                text += &format!("\n# comment {n}\n");
            }
            text += &format!("[[closure]]\nfrom = {from}\nto = {to}\nbecause = \"{n}\"\n");
        }
        text += "\n[unit]\nx = 1\n";
        let date = first + Days::new(opened);
        let before = closed_days(&text);
        match open_day(&text, date).expect("TOML") {
            None => prop_assert!(!before.contains(&date)),
            Some(new) => {
                prop_assert!(before.contains(&date));
                let wanted: Vec<NaiveDate> = before.into_iter().filter(|&d| d != date).collect();
                prop_assert_eq!(closed_days(&new), wanted);
                for line in text.lines().filter(|l| l.contains('#')) {
                    prop_assert!(new.contains(line), "{}", line);
                }
            }
        }
    }

    #[test]
    fn setting_a_key_and_setting_it_back_gives_the_same_text(
        key in proptest::sample::select(vec!["unit.catch-up", "term.ends", "class.name"]),
        number in 0_i64..100,
    ) {
        let old = match key {
            "unit.catch-up" => json!(4),
            "term.ends" => json!("2027-04-02"),
            _ => json!("Class 5"),
        };
        let there = set(PLAN, key, &json!(number)).expect("a change");
        prop_assert_eq!(set(&there, key, &old).expect("a change"), PLAN);
    }
}
