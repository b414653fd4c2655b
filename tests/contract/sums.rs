//! `sum`: a wrong answer, who gives it, and the pupil's page beside the right one.

use super::class::run;
use serde_json::{Value, json};

fn diagnosis(sum: &str, answer: &str) -> Value {
    run(&["sum", sum, "--answer", answer, "--format", "json"]).ends(0).json()["diagnosis"].clone()
}

fn cause<'a>(diagnosis: &'a Value, name: &str) -> &'a Value {
    let causes = diagnosis["patterns"].as_array().expect("a list");
    causes.iter().find(|c| c["name"] == name).unwrap_or_else(|| panic!("no {name}: {diagnosis:#}"))
}

/// Worked by hand: 47 × 6 without its carry is 24|2, 47 × 30 is 12|1 and a nought.
#[test]
fn the_json_of_a_wrong_answer_holds_the_pupils_rows() {
    let said = diagnosis("47x36", "1452");
    let forgotten = cause(&said, "carry-not-added");
    let working = &forgotten["working"];
    assert_eq!((&working["method"], &working["value"]), (&json!("long"), &json!(1452)));
    let rows = working["rows"].as_array().expect("rows");
    let shown: Vec<Value> = rows
        .iter()
        .map(|r| json!([r["digit"], r["place"], r["value"], r["carries"], r["zeros"]]))
        .collect();
    assert_eq!(shown, [json!([6, 1, 242, [4, 2], 0]), json!([3, 10, 1210, [2, 1], 1])]);
    assert_eq!(working["adding_carries"], json!([0, 0, 0, 0]));
    let cell = cause(&said, "leading-by-ones-left-out");
    assert_eq!(cell["working"]["rows"][1]["cells"], json!([0, 42]));
    for key in ["near", "gives_other", "cannot_show"] {
        assert!(said[key].is_array(), "{key}");
    }
    let all = |key: &str| said[key].as_array().expect("a list").len();
    assert_eq!(2 + all("gives_other") + all("cannot_show"), 113, "every pattern is told of once");
}

/// 36 × 98 as 3600 + 72: by hand.
#[test]
fn a_mental_slip_is_shown_step_by_step() {
    let said = diagnosis("36x98", "3672");
    let wrong_way = cause(&said, "adjusted-the-wrong-way");
    assert_eq!(wrong_way["steps"], json!(["36*100 + 36*2", "3600 + 72", "3672"]));
    let right = wrong_way["right_page"].as_array().expect("lines");
    assert_eq!(right.first(), Some(&json!("  36 × 100 − 36 × 2")));
    assert_eq!(right.last(), Some(&json!("= 3,528")));
}

#[test]
fn an_estimate_shows_the_rounded_numbers() {
    let said = diagnosis("312x48", "12000");
    let down = cause(&said, "both-rounded-down");
    assert_eq!(down["working"]["factors"], json!([300, 40]));
    let good = run(&["sum", "312x48", "--answer", "15000"]).ends(0).out;
    assert!(good.contains("15,000 is a good estimate, not the answer."), "{good}");
}

/// The text beside each other: every line of either page, and nobody's wall of text.
#[test]
fn the_text_sets_the_pupils_page_beside_the_right_one() {
    let text = run(&["sum", "47x36", "--answer", "1452"]).ends(0).out;
    assert!(text.contains("1,452 is what comes out of 2 patterns"), "{text}");
    for line in ["the pupil's", "right", "7 × 6 = 42: write 2, carry 4; 4 × 6 = 24: write 24"] {
        assert!(text.contains(line), "no `{line}` in\n{text}");
    }
    let squares = |line: &str| line.split_whitespace().map(str::to_owned).collect::<Vec<_>>();
    let lines: Vec<Vec<String>> = text.lines().map(squares).collect();
    let has = |line: &str| lines.contains(&squares(line));
    assert!(has("2 4 2 × 6 2 8 2 × 6"), "{text}");
    assert!(has("1 2 1 0 × 30 1 4 1 0 × 30"), "{text}");
    assert!(has("1 4 5 2 1 6 9 2"), "{text}");
    assert!(has("4 carried 4 carried"), "{text}");
    let after: Vec<&str> = text.lines().skip_while(|l| !l.starts_with("of the others")).collect();
    assert!((2..12).contains(&after.len()), "{after:?}");
}

#[test]
fn a_stray_answer_is_said_to_be_one_and_its_neighbours_are_named() {
    let text = run(&["sum", "47x36", "--answer", "1453"]).ends(0).out;
    assert!(text.contains("1,453 fits no known pattern"), "{text}");
    assert!(text.contains("one digit away"), "{text}");
    assert!(text.lines().any(|l| l.contains("1,452") && l.contains("carry-not-added")), "{text}");
    let right = run(&["sum", "47x36", "--answer", "1692"]).ends(0).out;
    assert!(right.contains("That is the right answer."), "{right}");
}
