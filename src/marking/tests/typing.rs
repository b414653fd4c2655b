//! Answers typed line by line.

use super::exit_check;
use crate::marking::{TICK, Typed};

/// A pupil and what is kept of the answers.
type Row = (String, Vec<Option<String>>);

fn typed(lines: &[&str]) -> (Vec<Row>, Vec<String>) {
    let pack = exit_check();
    let pupils = ["Ada".to_owned(), "Ben".to_owned(), "Cay".to_owned()];
    let mut typing = Typed::new(&pack, &pupils);
    let mut said = Vec::new();
    for line in lines {
        said.extend(typing.take(line));
    }
    let rows = typing.answers().pupils.into_iter();
    (rows.map(|(p, row)| (p, row.into_values().collect())).collect(), said)
}

fn row(answers: [&str; 3]) -> Vec<Option<String>> {
    answers.iter().map(|a| (!a.is_empty()).then(|| (*a).to_owned())).collect()
}

#[test]
fn answers_are_asked_for_pupil_by_pupil() {
    let pack = exit_check();
    let pupils = ["Ada".to_owned(), "Ben".to_owned()];
    let mut typing = Typed::new(&pack, &pupils);
    let mut asked = Vec::new();
    while let Some(question) = typing.asks() {
        asked.push(question.split("  ").take(2).collect::<Vec<_>>().join(" "));
        typing.take("5");
    }
    assert!(crate::marking::HOW_TO_TYPE.contains("<  or  back  one step back"));
    assert_eq!(asked, ["Ada X1", "Ada X2", "Ada X3", "Ben X1", "Ben X2", "Ben X3"]);
}

#[test]
fn ticks_blanks_and_absent_pupils_are_typed_in_one_key() {
    let (rows, said) = typed(&["2,091,832", ".", "", "-", "71188", "*"]);
    let expected = [
        ("Ada".to_owned(), row(["2091832", TICK, ""])),
        ("Ben".to_owned(), row(["", "", ""])),
        ("Cay".to_owned(), row(["71188", TICK, TICK])),
    ];
    assert_eq!(rows, expected);
    assert!(said.is_empty(), "{said:?}");
}

#[test]
fn a_step_back_takes_the_last_answer_back_also_over_a_pupil() {
    let (rows, said) = typed(&["<", "1", "2", "3", "9", "<", "<", "33", "4", "stop", "7"]);
    let expected =
        [("Ada".to_owned(), row(["1", "2", "33"])), ("Ben".to_owned(), row(["4", "", ""]))];
    assert_eq!(rows, expected, "who was not come to is left out");
    assert_eq!(said, ["this is the first answer"]);
}

#[test]
fn a_step_back_after_an_absent_pupil_returns_to_where_that_was_typed() {
    for all_at_once in ["-", "absent", ">", "*"] {
        let (rows, said) = typed(&[all_at_once, "back", ".", ".", "17", "stop"]);
        assert_eq!(rows, [("Ada".to_owned(), row([TICK, TICK, "17"]))], "{all_at_once}");
        assert!(said.is_empty(), "{said:?}");
        // What was typed before it stands.
        let (rows, _) = typed(&["5", all_at_once, "<", "6", "<", "<", "4", "3", "2", "stop"]);
        assert_eq!(rows, [("Ada".to_owned(), row(["4", "3", "2"]))], "{all_at_once}");
    }
}

#[test]
fn what_looks_mistyped_is_said_and_kept() {
    let (rows, said) = typed(&["42O", "336630336630336630"]);
    assert_eq!(rows[0].1, row(["42O", "336630336630336630", ""]));
    assert_eq!(said.len(), 2, "{said:?}");
    assert!(said[0].contains("is no number") && said[1].contains("18 digits"), "{said:?}");
}

#[test]
fn words_are_no_answers_and_back_goes_back() {
    let (rows, said) = typed(&["1", "bakc", "back", "5", "6", "7", "absent (ill)", "8"]);
    let expected = [
        ("Ada".to_owned(), row(["5", "6", "7"])),
        ("Ben".to_owned(), row(["", "", ""])),
        ("Cay".to_owned(), row(["8", "", ""])),
    ];
    assert_eq!(rows, expected, "nothing is recorded of a word");
    assert_eq!(said.len(), 1, "{said:?}");
    assert!(said[0].contains("`bakc` is no answer to L07-X2") && said[0].contains("`back`"));
}

#[test]
fn a_pupil_can_be_left_as_before() {
    let (rows, _) = typed(&["1", "2", "3", ">", "4", "<", "<", "5", "6", "7", ">"]);
    let expected =
        [("Ada".to_owned(), row(["1", "2", "3"])), ("Ben".to_owned(), row(["5", "6", "7"]))];
    assert_eq!(rows, expected, "Ben after all, Cay as before");
}

/// A blank is no word about anybody; a dash is, until a step back takes it away.
#[test]
fn who_is_typed_as_absent_is_known_to_be_so() {
    let pack = exit_check();
    let pupils = ["Ada".to_owned(), "Ben".to_owned(), "Cay".to_owned()];
    let mut typing = Typed::new(&pack, &pupils);
    for line in ["-", "<", "", "", "", "ill", "-"] {
        typing.take(line);
    }
    let answers = typing.answers();
    let absent: Vec<&String> = answers.absent.iter().collect();
    assert_eq!(absent, ["Ben", "Cay"]);
    assert!(answers.was_absent("Ben") && !answers.was_absent("Ada"));
    let kept = answers.to_csv(&pack);
    assert!(kept.contains("Ben,absent,,") && kept.contains("Ada,,,"), "{kept}");
}
