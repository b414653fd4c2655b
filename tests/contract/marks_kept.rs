//! What marking keeps: nothing replaces marks unsaid, what was left out is listed, and what the
//! class has taught the model can be forgotten and brought back.

use super::class::{BEFORE, Class};
use super::marks::{printed, right, table};
use super::marks_demo::by_pattern;
use serde_json::Value;

/// Marks this file; the status, what was said and the JSON, if any.
fn marked(class: &Class, rest: &[&str], text: &str) -> (i32, String, Value) {
    class.write("answers.csv", text);
    let file = class.dir().join("answers.csv").display().to_string();
    let args: Vec<&str> = rest.iter().copied().chain([file.as_str(), "--format", "json"]).collect();
    let run = class.on(BEFORE, "mark", &args);
    let json = serde_json::from_str(&run.out).unwrap_or(Value::Null);
    (run.status, run.err, json)
}

fn names(json: &Value) -> Vec<&str> {
    json.as_array().expect("a list").iter().map(|p| p.as_str().expect("a label")).collect()
}

#[test]
fn a_file_without_answers_does_not_take_marks_away() {
    let (class, number, items) = printed();
    let lesson = ["--lesson", number.as_str()];
    let marks = format!("marks/L{number:0>2}.csv");
    let head = table(&items, &[]);
    // Before anything is marked nobody is recorded either.
    let (status, said, _) = marked(&class, &lesson, &head);
    assert_eq!(status, 1, "{said}");
    assert!(!class.holds(&marks) && said.contains("nothing was recorded"), "{said}");
    marked(&class, &lesson, &table(&items, &[("1", right(&items))]));
    let kept = (class.read(&marks), class.read("journal.toml"));
    let blank = table(&items, &[("1", vec![String::new(); items.len()])]);
    let wide = format!("{head}1,1,2,3,4,5,6,7,8,9,10,11\n");
    for text in [String::new(), head.clone(), blank, wide, "item,answer,count\n".to_owned()] {
        let (status, said, json) = marked(&class, &lesson, &text);
        assert_eq!((status, json), (1, Value::Null), "{text}\n{said}");
        for words in ["recorded", "the earlier marks", "stay as they are", "--blank", &class.arg()]
        {
            assert!(said.contains(words), "`{words}` is not in\n{said}");
        }
        assert!(!said.contains("DIR"), "a hint can be typed as it stands: {said}");
        assert_eq!((class.read(&marks), class.read("journal.toml")), kept, "{text}");
    }
}

#[test]
fn a_file_with_mistakes_is_recorded_in_part_and_the_parts_are_told() {
    let (class, number, items) = printed();
    let lesson = ["--lesson", number.as_str()];
    let answers = right(&items);
    marked(&class, &lesson, &table(&items, &[("1", answers.clone()), ("4", answers.clone())]));
    let before = class.read(&format!("marks/L{number:0>2}.csv"));
    let text = table(&items, &[("1", answers.clone()), ("1", answers.clone()), ("3", answers)]);
    let text = text.replacen("pupil,", "pupil,homework,", 1).replace("\n1,", "\n1,,");
    let text = text.replace("\n3,", "\n3,,") + ",,5\n";
    let (status, said, json) = marked(&class, &lesson, &text);
    assert_eq!(status, 1);
    let wide = items.len();
    for words in [
        format!("recorded in marks/L{number:0>2}.csv: {} answers of 2 pupils", 2 * wide),
        "not recorded: column `homework`, line 3 and line 5".to_owned(),
        "no answers any more: 4".to_owned(),
        format!("`rungwise undo {}` brings the earlier marks back", class.arg()),
    ] {
        assert!(said.contains(&words), "`{words}` is not in\n{said}");
    }
    let recorded = &json["recorded"];
    assert_eq!(names(&recorded["left_out"]), ["column `homework`", "line 3", "line 5"]);
    assert_eq!(
        (recorded["pupils"].as_u64(), recorded["replaced"].as_u64()),
        (Some(2), Some(2 * wide as u64))
    );
    class.on(BEFORE, "undo", &[]).ends(0);
    assert_eq!(class.read(&format!("marks/L{number:0>2}.csv")), before);
}

#[test]
fn a_sign_before_a_number_is_not_part_of_a_right_answer() {
    let (class, number, items) = printed();
    let mut answers = right(&items);
    answers[0] = format!("-{}", answers[0]);
    answers[1] = format!("−{}", answers[1]);
    let (status, said, json) =
        marked(&class, &["--lesson", &number], &table(&items, &[("1", answers)]));
    assert_eq!(status, 0);
    assert_eq!(said.matches("a sign stands before the number").count(), 2, "{said}");
    assert!(said.contains("answers.csv:2:3") && said.contains("take it away"), "{said}");
    assert_eq!(json["pupils"][0]["right"], items.len() - 2);
}

#[test]
fn who_gave_no_answers_stands_in_the_json_and_a_stranger_is_told() {
    let (class, number, items) = printed();
    let mut rows: Vec<(String, Vec<String>)> =
        (1..=9).map(|n| (n.to_string(), right(&items))).collect();
    rows[3].1.fill(String::new());
    rows[4].1[0] = String::new();
    rows.push(("1O".to_owned(), right(&items)));
    let rows: Vec<(&str, Vec<String>)> =
        rows.iter().map(|(p, a)| (p.as_str(), a.clone())).collect();
    let (status, said, json) = marked(&class, &["--lesson", &number], &table(&items, &rows));
    assert_eq!(status, 1, "{said}");
    assert_eq!(json["recorded"]["left_out"], serde_json::json!(["line 11"]));
    // Pupil 4 left everything blank; 10 to 12 are in the class and not in the file.
    assert_eq!(names(&json["absent"]), ["4", "10", "11", "12"]);
    let fifth = json["pupils"].as_array().expect("pupils").iter().find(|p| p["pupil"] == "5");
    assert_eq!(
        names(&fifth.expect("it answered")["unanswered"]),
        [items[0]["id"].as_str().expect("id")]
    );
    assert!(said.contains("no pupil `1O`") && said.contains("did you mean `1`?"), "{said}");
}

#[test]
fn hints_of_version_b_carry_the_version() {
    let (class, number, items) = printed();
    let b = ["--lesson", number.as_str(), "--version", "B"];
    let said = class.on(BEFORE, "mark", &[&b[..], &["--blank"]].concat()).ends(1).err;
    let makes = format!("`rungwise pack {} --lesson {number} --version B` makes it", class.arg());
    assert!(said.contains("no version B") && said.contains(&makes), "{said}");
    class.on(BEFORE, "pack", &b).ends(0);
    let (_, said, _) = marked(&class, &b, "");
    let blank = format!("mark {} --lesson {number} --version B --blank`", class.arg());
    assert!(said.contains(&blank), "{said}");
    // The file of the other version says where it belongs, as it can be typed.
    let (status, said, _) = marked(&class, &b, &table(&items, &[("1", right(&items))]));
    let takes = format!("`rungwise mark {} --lesson {number}` takes it", class.arg());
    assert!(status == 1 && said.contains(&takes), "{said}");
}

#[test]
fn other_first_lines_are_read_or_told() {
    let (class, number, items) = printed();
    let lesson = ["--lesson", number.as_str()];
    let text = table(&items, &[("1", right(&items))]).replacen("pupil", "Name", 1);
    let (status, said, json) = marked(&class, &lesson, &text);
    assert_eq!(
        (status, json["pupils"][0]["right"].as_u64()),
        (0, Some(items.len() as u64)),
        "{said}"
    );
    let (status, said, _) = marked(&class, &lesson, "PK\u{3}\u{4}\u{0}xl/worksheets");
    assert!(status == 1 && said.contains("save it as CSV"), "{said}");
    let (status, said, _) = marked(&class, &lesson, "item,answer,cuont\nX1,5,2\n");
    assert!(status == 1 && said.contains("did you mean `count`"), "{said}");
}

/// The probability of the first pattern of pupil 1, one answer of whom fits it.
fn suspicion(class: &Class, number: &str, text: &str) -> f64 {
    let (status, said, json) = marked(class, &["--lesson", number], text);
    assert_eq!(status, 0, "{said}");
    json["pupils"][0]["patterns"][0]["probability"].as_f64().expect("a suspicion")
}

#[test]
fn what_the_class_taught_can_be_forgotten_for_good_and_brought_back() {
    let (class, number, items) = printed();
    class.on(BEFORE, "mark", &["--reset-weights"]).ends(1).says("nothing to reset");
    let plan = class.json(BEFORE, "plan", &[]);
    let lessons = plan["lessons"].as_array().expect("lessons").iter();
    let mut others = lessons.filter(|l| l["skill"] == "long-two-by-two").skip(1);
    let other = others.next().expect("a second part")["number"].to_string();
    class.on(BEFORE, "pack", &["--lesson", &other]).ends(0);
    // One pupil with a telling answer and little else in the first lesson; in the later one eight
    // others do it all the time.
    let mut once = vec![String::new(); items.len()];
    once[0] = items[0]["likely"][0]["answer"].as_str().expect("a likely answer").to_owned();
    once[1] = right(&items)[1].clone();
    let once = table(&items, &[("1", once)]);
    let plain = suspicion(&class, &number, &once);
    let pack: Value =
        serde_json::from_str(&class.read(&format!("packs/L{other:0>2}/pack.json"))).expect("json");
    let sections = pack["sections"].as_array().expect("sections");
    let check = sections.iter().find(|s| s["name"] == "exit-check").expect("a check");
    let theirs = check["items"].as_array().expect("items").clone();
    let pattern = &items[0]["likely"][0]["patterns"][0];
    let wrong: Vec<String> = theirs
        .iter()
        .map(|item| {
            let likely = item["likely"].as_array().expect("likely").iter();
            let mut fits =
                likely.filter(|l| l["patterns"].as_array().expect("names").contains(pattern));
            fits.next().unwrap_or(item)["answer"].as_str().expect("an answer").to_owned()
        })
        .collect();
    let rows: Vec<String> = (2..=9).map(|n| n.to_string()).collect();
    let rows: Vec<(&str, Vec<String>)> = rows.iter().map(|p| (p.as_str(), wrong.clone())).collect();
    let (status, said, _) = marked(&class, &["--lesson", &other], &table(&theirs, &rows));
    assert_eq!(status, 0, "{said}");
    let learnt = suspicion(&class, &number, &once);
    assert!(learnt > plain, "{learnt} {plain}");

    class
        .on(BEFORE, "mark", &["--reset-weights"])
        .ends(0)
        .says("1 pattern weighs as in a new class");
    for _ in 0..2 {
        assert_eq!(suspicion(&class, &number, &once), plain, "the reset lasts");
    }
    // Marking the later lesson again does not bring it back: it was marked before the reset.
    marked(&class, &["--lesson", &other], &table(&theirs, &rows));
    assert_eq!(suspicion(&class, &number, &once), plain);
    // Back to before the reset, a change at a time: four markings and the reset.
    for _ in 0..5 {
        class.on(BEFORE, "undo", &[]).ends(0);
    }
    assert_eq!(suspicion(&class, &number, &once), learnt);
    // Used with a lesson it says what it is for.
    class.on(BEFORE, "mark", &["--reset-weights", "--lesson", &number]).ends(2);
}

/// Where many of a class make some mistake, one that a single answer points at is more probable; so it
/// is not with `--afresh`, after a reset, and once those others are forgotten.
#[test]
fn how_many_of_the_class_make_mistakes_counts_and_can_be_left_out_and_forgotten() {
    let (class, number, items) = printed();
    let right = right(&items);
    let by = |name: &str| by_pattern(&items, name);
    let mut once = right.clone();
    once[0] = by("carry-not-added")[0].clone();
    let others: Vec<String> = (2..=9).map(|n| n.to_string()).collect();
    let mut rows = vec![("1", once)];
    rows.extend(others.iter().map(|pupil| (pupil.as_str(), by("placeholder-left-out"))));
    let text = table(&items, &rows);
    let file = class.dir().join("answers.csv").display().to_string();
    let afresh = || {
        class.write("answers.csv", &text);
        let told = class.json(BEFORE, "mark", &["--lesson", &number, &file, "--afresh"]);
        told["pupils"][0]["patterns"][0]["probability"].as_f64().expect("a suspicion")
    };
    let plain = afresh();
    let learnt = suspicion(&class, &number, &text);
    assert!(learnt > plain, "{learnt} {plain}");
    class.on(BEFORE, "mark", &["--reset-weights"]).ends(0).says("1 pattern weighs");
    assert_eq!(suspicion(&class, &number, &text), plain, "reset");
    for _ in 0..2 {
        class.on(BEFORE, "undo", &[]).ends(0);
    }
    assert_eq!(suspicion(&class, &number, &text), learnt, "the reset taken back");
    for pupil in &others {
        class.on(BEFORE, "forget", &["--pupil", pupil]).ends(0);
    }
    let one = ["--lesson", &number, "--pupil", "1", "--item", "X1", "--answer"];
    let answer = by("carry-not-added")[0].clone();
    let told = class.json(BEFORE, "mark", &[&one[..], &[answer.as_str()]].concat());
    let left = told["pupils"][0]["patterns"][0]["probability"].as_f64().expect("a suspicion");
    assert_eq!((left, told["pupils"].as_array().map(Vec::len)), (plain, Some(1)), "forgotten");
}

/// The names of patterns, each of which a pupil of its own can show on every item.
const PATTERNS: [&str; 5] = [
    "placeholder-left-out",
    "carry-not-added",
    "ones-copied",
    "last-carry-lost",
    "carry-added-before-multiplying",
];

#[test]
fn groups_that_wait_are_told_with_the_command_for_their_sheet() {
    let (class, number, items) = printed();
    let labels: Vec<String> = (1..=PATTERNS.len()).map(|n| n.to_string()).collect();
    let rows = labels.iter().zip(PATTERNS).map(|(p, name)| (p.as_str(), by_pattern(&items, name)));
    let (status, said, json) =
        marked(&class, &["--lesson", &number], &table(&items, &rows.collect::<Vec<_>>()));
    assert_eq!(status, 0, "{said}");
    let waiting = json["waiting"].as_array().expect("a list");
    assert!(!waiting.is_empty(), "{json:#}");
    let said = class.on(BEFORE, "pack", &["--lesson", &number, "--group", "all"]).ends(0).err;
    let dir = class.arg();
    let command = format!("`rungwise pack {dir} --lesson {number} --group 4` makes");
    assert!(said.contains("wait") && said.contains(&command), "{said}");
    class.on(BEFORE, "pack", &["--lesson", &number, "--group", "4"]).ends(0);
}

#[test]
fn marks_that_are_gone_are_said_to_be_gone_and_undo_goes_on() {
    let (class, number, items) = printed();
    let lesson = ["--lesson", number.as_str()];
    let marks = format!("marks/L{number:0>2}.csv");
    marked(&class, &lesson, &table(&items, &[("1", right(&items))]));
    let first = class.read(&marks);
    marked(&class, &lesson, &table(&items, &[("2", right(&items))]));
    std::fs::remove_file(class.dir().join(&marks)).expect("it was there");
    let said = class.on(BEFORE, "undo", &[]).ends(0).err;
    assert!(said.contains("was gone; it is there again, as before"), "{said}");
    assert_eq!(class.read(&marks), first);
    std::fs::remove_file(class.dir().join(&marks)).expect("it was there");
    let said = class.on(BEFORE, "undo", &[]).ends(0).err;
    assert!(said.contains("was gone already") && !said.contains("edited"), "{said}");
}

#[test]
fn a_pupil_with_a_nought_in_front_is_the_same_one_also_to_forget() {
    let (class, number, items) = printed();
    let lesson = ["--lesson", number.as_str()];
    let marks = format!("marks/L{number:0>2}.csv");
    marked(&class, &lesson, &table(&items, &[("03", right(&items))]));
    assert!(class.read(&marks).contains("\n3,"), "{}", class.read(&marks));
    let one = ["--pupil", "003", "--item", "X1", "--answer", "5"];
    class.on(BEFORE, "mark", &[&lesson[..], &one[..]].concat()).ends(0);
    assert_eq!(class.read(&marks).lines().count(), 2, "still one pupil");
    class.on(BEFORE, "forget", &["--pupil", "03"]).ends(0).says("removed");
    assert_eq!(class.read(&marks).lines().count(), 1);
    // Nobody is left, which says nothing of who was absent.
    let said = class.on(BEFORE, "pack", &["--lesson", &number, "--group", "all"]).ends(1).err;
    assert!(said.contains("hold no answers any more") && !said.contains("nobody was absent"));
}

#[test]
fn a_word_in_an_answers_place_is_told_and_not_wrong() {
    let (class, number, items) = printed();
    let mut answers = right(&items);
    answers[0] = "dentist".to_owned();
    let away = vec!["absent (ill)".to_owned(); items.len()];
    let (status, said, json) =
        marked(&class, &["--lesson", &number], &table(&items, &[("1", answers), ("2", away)]));
    assert_eq!(status, 1, "{said}");
    for words in ["answers.csv:2:3", "`dentist` is no number", "counted as no answer to"] {
        assert!(said.contains(words), "{words}: {said}");
    }
    assert_eq!(json["pupils"][0]["right"], items.len() - 1, "{json:#}");
    assert_eq!(json["pupils"][0]["of"], items.len() - 1);
    assert!(names(&json["absent"]).contains(&"2") && !said.contains("ill"));
}
