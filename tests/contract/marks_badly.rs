//! Answers as they should not come: each mistake with its place and a remedy, all the rest marked,
//! nothing lost.

use super::class::{BEFORE, Class};
use super::marks::{printed, right, table};
use serde_json::Value;

/// Marks this file; what was said, and the pupils that were marked.
fn marked(class: &Class, number: &str, text: &str, status: i32) -> (String, Vec<String>) {
    class.write("answers.csv", text);
    let file = class.dir().join("answers.csv").display().to_string();
    let run =
        class.on(BEFORE, "mark", &["--lesson", number, &file, "--format", "json"]).ends(status);
    let pupils = match serde_json::from_str::<Value>(&run.out) {
        Ok(marking) => marking["pupils"].as_array().expect("pupils").clone(),
        Err(_) => Vec::new(),
    };
    let names = pupils.iter().map(|p| p["pupil"].as_str().expect("a label").to_owned());
    (run.err, names.collect())
}

fn says(text: &str, words: &[&str]) {
    for word in words {
        assert!(text.contains(word), "`{word}` is not in\n{text}");
    }
}

#[test]
fn a_pupil_twice_counts_once_and_the_line_is_named() {
    let (class, number, items) = printed();
    let rows = [("1", right(&items)), ("2", right(&items)), ("1", vec!["5".into(); items.len()])];
    let (said, pupils) = marked(&class, &number, &table(&items, &rows), 1);
    says(&said, &["answers.csv:4", "pupil `1` is here twice", "line 2"]);
    assert_eq!(pupils, ["1", "2"]);
}

#[test]
fn an_unknown_item_is_named_with_the_nearest_and_the_rest_is_marked() {
    let (class, number, items) = printed();
    let text = table(&items, &[("1", right(&items))]);
    let first = items[0]["id"].as_str().expect("an id");
    let (said, pupils) = marked(&class, &number, &text.replace(first, &format!("{first}1")), 1);
    says(&said, &["answers.csv:1", "no item", "did you mean", "counted as not answered"]);
    assert_eq!(pupils, ["1"]);
}

#[test]
fn swapped_columns_are_noticed() {
    let (class, number, items) = printed();
    let mut swapped = right(&items);
    swapped.swap(0, 1);
    let rows = [("1", swapped.clone()), ("2", swapped)];
    let (said, pupils) = marked(&class, &number, &table(&items, &rows), 0);
    says(&said, &["answers.csv:1", "look swapped", "exchange their names"]);
    assert_eq!(pupils.len(), 2);
}

#[test]
fn letters_and_far_too_many_digits_are_said_and_kept() {
    let (class, number, items) = printed();
    let mut letters = right(&items);
    letters[0] = "14O2".to_owned();
    let mut long = right(&items);
    long[0] = "123456789012".to_owned();
    let (said, pupils) = marked(&class, &number, &table(&items, &[("1", letters), ("2", long)]), 0);
    says(&said, &["answers.csv:2:3", "`14O2` is no number", "mend it and mark again"]);
    says(&said, &["answers.csv:3:3", "12 digits", "two answers in one field"]);
    assert_eq!(pupils, ["1", "2"]);
    let kept = class.read(&format!("marks/L{number:0>2}.csv"));
    says(&kept, &["14O2", "123456789012"]);
}

#[test]
fn a_file_for_another_lesson_or_version_says_where_it_belongs() {
    let (class, number, items) = printed();
    let text = table(&items, &[("1", right(&items))]);
    class.write("answers.csv", &text);
    let before = class.contents();
    for (other, command) in [("L44", "--lesson 44"), ("L44B", "--lesson 44 --version B")] {
        let own = format!("L{number:0>2}");
        let (said, pupils) = marked(&class, &number, &text.replace(&own, other), 1);
        says(&said, &["answers.csv:1", "this file is for lesson", other, command]);
        assert!(pupils.is_empty());
    }
    class.write("answers.csv", &text);
    assert_eq!(class.contents(), before, "nothing was recorded");
}

#[test]
fn an_empty_file_says_how_to_get_one_to_fill_in() {
    let (class, number, _) = printed();
    for text in ["", "\u{feff}", "\n\n"] {
        let (said, _) = marked(&class, &number, text, 1);
        says(&said, &["is empty", "--blank"]);
    }
    let file = class.dir().join("nowhere.csv").display().to_string();
    class.on(BEFORE, "mark", &["--lesson", &number, &file]).ends(1).says("nowhere.csv");
}

#[test]
fn five_thousand_rows_are_marked() {
    let (class, number, items) = printed();
    let labels: Vec<String> = (0..5000).map(|n| format!("P{n}")).collect();
    let rows: Vec<(&str, Vec<String>)> =
        labels.iter().map(|l| (l.as_str(), right(&items))).collect();
    let (_, pupils) = marked(&class, &number, &table(&items, &rows), 0);
    assert_eq!(pupils.len(), 5000);
}

#[test]
fn files_of_any_spreadsheet_come_to_the_same() {
    let (class, number, items) = printed();
    let rows = [("1", right(&items)), ("2", vec!["17".into(); items.len()])];
    let plain = table(&items, &rows);
    let kept = |bytes: &[u8]| {
        class.write("answers.csv", bytes);
        let file = class.dir().join("answers.csv").display().to_string();
        class.on(BEFORE, "mark", &["--lesson", &number, &file]).ends(0);
        class.read(&format!("marks/L{number:0>2}.csv"))
    };
    let wanted = kept(plain.as_bytes());
    let wide: Vec<u8> = [0xff, 0xfe]
        .into_iter()
        .chain(plain.replace(',', "\t").encode_utf16().flat_map(u16::to_le_bytes))
        .collect();
    assert_eq!(kept(&wide), wanted);
    assert_eq!(kept(format!("\u{feff}sep=;\r\n{}", plain.replace(',', ";")).as_bytes()), wanted);
    assert_eq!(kept(plain.replace('\n', "  \r\n").as_bytes()), wanted);
    let full: String = plain
        .lines()
        .enumerate()
        .map(|(n, line)| if n == 0 { line.to_owned() } else { line.replace('7', "７") } + "\n")
        .collect();
    assert_eq!(kept(full.as_bytes()), wanted);
}
