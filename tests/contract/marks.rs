//! Marking: right, wrong, and which patterns fit; marks can be taken back and forgotten.

use super::class::{BEFORE, Class, SHORT};
use serde_json::Value;

/// A class with a first lesson of `long-two-by-two` printed; its number and exit-check items.
pub fn printed() -> (Class, String, Vec<Value>) {
    printed_in(SHORT)
}

/// The same with another plan.
pub fn printed_in(plan: &str) -> (Class, String, Vec<Value>) {
    let class = Class::with(plan);
    let plan = class.json(BEFORE, "plan", &[]);
    let lessons = plan["lessons"].as_array().expect("lessons").clone();
    let lesson = lessons.iter().find(|l| l["skill"] == "long-two-by-two").expect("it is taught");
    let number = lesson["number"].to_string();
    class.on(BEFORE, "pack", &["--lesson", &number]).ends(0);
    let pack = class.json(BEFORE, "pack", &["--lesson", &number]);
    let sections = pack[0]["sections"].as_array().expect("sections").clone();
    let check = sections.iter().find(|s| s["name"] == "exit-check").expect("a check");
    (class, number, check["items"].as_array().expect("items").clone())
}

pub fn table(items: &[Value], rows: &[(&str, Vec<String>)]) -> String {
    let ids: Vec<&str> = items.iter().map(|i| i["id"].as_str().expect("an id")).collect();
    let mut text = format!("pupil,{}\n", ids.join(","));
    for (pupil, answers) in rows {
        text.push_str(&format!("{pupil},{}\n", answers.join(",")));
    }
    text
}

/// The file of what a class of twelve answers, by each pupil's number; its path.
pub fn of_twelve(class: &Class, items: &[Value], answers: impl Fn(usize) -> Vec<String>) -> String {
    of_class(12, class, items, answers)
}

/// The same of a class of so many.
pub fn of_class(
    pupils: usize,
    class: &Class,
    items: &[Value],
    answers: impl Fn(usize) -> Vec<String>,
) -> String {
    let names: Vec<String> = (1..=pupils).map(|n| n.to_string()).collect();
    let rows: Vec<(&str, Vec<String>)> =
        names.iter().zip(1..).map(|(name, n)| (name.as_str(), answers(n))).collect();
    class.write("answers.csv", table(items, &rows));
    class.dir().join("answers.csv").display().to_string()
}

pub fn right(items: &[Value]) -> Vec<String> {
    items.iter().map(|i| i["answer"].as_str().expect("an answer").to_owned()).collect()
}

#[test]
fn marking_says_right_wrong_and_which_patterns_fit() {
    let (class, number, items) = printed();
    let wrong: Vec<String> =
        items.iter().map(|i| i["likely"][0]["answer"].as_str().unwrap_or("1").to_owned()).collect();
    class.write(
        "answers.csv",
        table(
            &items,
            &[("1", right(&items)), ("2", wrong), ("3", vec![String::new(); items.len()])],
        ),
    );
    let file = class.dir().join("answers.csv").display().to_string();
    let marking = class.json(BEFORE, "mark", &["--lesson", &number, &file]);
    for key in ["lesson", "pupils", "items", "class"] {
        assert!(marking.get(key).is_some(), "{marking:#}");
    }
    let pupils = marking["pupils"].as_array().expect("pupils");
    assert_eq!(pupils[0]["right"], items.len());
    assert_eq!(pupils[1]["right"], 0);
    assert!(!pupils[1]["patterns"].as_array().expect("patterns").is_empty(), "{marking:#}");
    assert!(
        marking["class"].get("pass_share").is_some() && marking["class"].get("decision").is_some()
    );
    let first = &marking["items"][0];
    assert_eq!(first["right"], 1);
    assert!(first["wrong"].as_array().is_some_and(|w| !w.is_empty()), "{first:#}");
    let code = format!("marks/L{number:0>2}.csv");
    assert!(class.holds(&code));
    let text = class.on(BEFORE, "mark", &["--lesson", &number, &file]).ends(0).out;
    assert!(text.contains("never a diagnosis") || text.contains("not a diagnosis"), "{text}");
}

#[test]
fn a_blank_table_has_a_row_a_pupil_and_a_column_an_item() {
    let (class, number, items) = printed();
    let blank = class.on(BEFORE, "mark", &["--lesson", &number, "--blank"]).ends(0).out;
    assert_eq!(blank.lines().count(), 13);
    assert_eq!(blank.lines().next().expect("a header").split(',').count(), items.len() + 1);
}

#[test]
fn piles_of_slips_are_counted() {
    let (class, number, items) = printed();
    let (id, answer) =
        (items[0]["id"].as_str().expect("id"), items[0]["answer"].as_str().expect("answer"));
    class.write("piles.csv", format!("item,answer,count\n{id},{answer},9\n{id},17,3\n"));
    let file = class.dir().join("piles.csv").display().to_string();
    let marking = class.json(BEFORE, "mark", &["--lesson", &number, &file]);
    let item = marking["items"]
        .as_array()
        .expect("items")
        .iter()
        .find(|i| i["id"] == id)
        .expect("it")
        .clone();
    assert_eq!(item["right"], 9);
    assert_eq!(item["wrong"][0]["count"], 3);
}

#[test]
fn marking_again_replaces_and_undo_brings_back() {
    let (class, number, items) = printed();
    let file = class.dir().join("answers.csv").display().to_string();
    let marks = format!("marks/L{number:0>2}.csv");
    class.write("answers.csv", table(&items, &[("1", right(&items))]));
    class.on(BEFORE, "mark", &["--lesson", &number, &file]).ends(0);
    let first = class.read(&marks);
    class.write("answers.csv", table(&items, &[("1", vec!["5".to_owned(); items.len()])]));
    class.on(BEFORE, "mark", &["--lesson", &number, &file]).ends(0);
    assert_ne!(class.read(&marks), first);
    class.on(BEFORE, "undo", &[]).ends(0).says("mark");
    assert_eq!(class.read(&marks), first);
}

#[test]
fn marking_a_draft_makes_it_printed_and_says_so() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    class.on(BEFORE, "pack", &["--lesson", "2", "--draft"]).ends(0);
    let blank = class.on(BEFORE, "mark", &["--lesson", "2", "--blank"]).ends(0).out;
    class.write("answers.csv", blank);
    let file = class.dir().join("answers.csv").display().to_string();
    class.on(BEFORE, "mark", &["--lesson", "2", &file]).ends(0).says("draft");
    assert_eq!(class.json(BEFORE, "plan", &[])["lessons"][1]["life"], "marked");
    assert!(class.read("journal.toml").contains("what = \"printed\""));
}

#[test]
fn a_lesson_that_was_never_made_has_nothing_to_mark() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    class.on(BEFORE, "mark", &["--lesson", "2", "--blank"]).ends(1).says("pack");
}

#[test]
fn forget_removes_a_pupils_marks_everywhere() {
    let (class, number, items) = printed();
    let file = class.dir().join("answers.csv").display().to_string();
    for answer in ["5", "6"] {
        let wrong = vec![answer.to_owned(); items.len()];
        class.write("answers.csv", table(&items, &[("Zoe Q", wrong), ("Yan P", right(&items))]));
        class.on(BEFORE, "mark", &["--lesson", &number, &file]).ends(0);
    }
    std::fs::remove_file(class.dir().join("answers.csv")).expect("it was there");
    class.on(BEFORE, "forget", &["--pupil", "Zoe Q"]).ends(0).says("removed");
    for (name, bytes) in class.contents() {
        assert!(!String::from_utf8_lossy(&bytes).contains("Zoe Q"), "{name}");
    }
    assert!(class.read(&format!("marks/L{number:0>2}.csv")).contains("Yan P"));
    class.on(BEFORE, "forget", &["--pupil", "Zoe Q"]).ends(1).says("no marks");
}

/// What `undo` brings back is known by what `forget` left of it, however many steps back.
#[test]
fn after_forget_every_step_can_be_taken_back() {
    let (class, number, items) = printed();
    let file = class.dir().join("answers.csv").display().to_string();
    let marks = format!("marks/L{number:0>2}.csv");
    for answer in ["5", "6", "7"] {
        let wrong = || vec![answer.to_owned(); items.len()];
        class.write("answers.csv", table(&items, &[("Zoe Q", wrong()), ("Yan P", wrong())]));
        class.on(BEFORE, "mark", &["--lesson", &number, &file]).ends(0);
    }
    class.on(BEFORE, "forget", &["--pupil", "Zoe Q"]).ends(0);
    for answer in ["6", "5"] {
        class.on(BEFORE, "undo", &[]).ends(0).says("taken back: `mark`");
        let text = class.read(&marks);
        assert!(text.contains(&format!("Yan P,{answer}")) && !text.contains("Zoe Q"), "{text}");
    }
    class.on(BEFORE, "undo", &[]).ends(0);
    assert!(!class.holds(&marks));
}
