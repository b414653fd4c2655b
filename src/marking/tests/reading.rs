//! Files of answers as they come, and as they should not.

use super::{exit_check, mixed_check, pack_of};
use crate::lesson::Pack;
use crate::marking::{Answers, Read, TICK, blank, decode, fits_another, read_answers, read_file};
use crate::report::{Report, Severity, Source};

fn read_of(pack: &Pack, text: &str) -> (Option<Answers>, Report) {
    let mut report = Report::new();
    let source = Source::shared("answers.csv", text);
    let answers = read_answers(&source, pack, &mut report);
    (answers, report)
}

fn read(text: &str) -> (Option<Answers>, Report) {
    read_of(&exit_check(), text)
}

/// The messages as `line: text`.
fn said(report: &Report) -> Vec<String> {
    let line = |m: &crate::report::Message| m.place.as_ref().map_or(0, crate::report::Place::line);
    report.messages().iter().map(|m| format!("{}: {}", line(m), m.text)).collect()
}

fn given(answers: &Option<Answers>, pupil: &str) -> Vec<Option<String>> {
    let answers = answers.as_ref().expect("answers");
    answers.pupils[pupil].values().cloned().collect()
}

#[test]
fn a_plain_file_is_read_and_blanks_are_not_answers() {
    let (answers, report) =
        read("pupil,L07-X1,L07-X2,L07-X3\nP1,2091832,2113800,336630\nP2,71188,,-\n,,,\nP3,,,\n");
    assert!(report.is_empty(), "{}", report.to_text());
    assert_eq!(given(&answers, "P1")[0].as_deref(), Some("2091832"));
    assert_eq!(given(&answers, "P2"), [Some("71188".to_owned()), None, None]);
    assert_eq!(given(&answers, "P3"), [None, None, None]);
}

#[test]
fn spreadsheets_of_every_country_are_read() {
    let wanted = [Some("2091832".to_owned()), Some("2113800".to_owned()), Some(TICK.to_owned())];
    for text in [
        "\u{feff}Pupil;L07-X1;L07-X2;L07-X3\r\nP1;20,91,832; 2 113 800 ;✓\r\n",
        "pupil\tl07-x1\tX2\tL07-X3\nP1\t2,091,832\t２１１３８００\tok\n",
        "sep=;\r\nPupil;L07-X1;L07-X2;L07-X3\r\nP1;2.091.832;2113800.0;✓\r\n",
        "pupil;L07-X1;L07-X2;L07-X3\nP1;20.91.832;2113800,00;√\n",
        "pupil,L07-X1,L07-X2,L07-X3,,\n\n\nP1,\"20,91,832\",2\u{202f}113\u{202f}800,Right,,\n",
        "L07-X3,pupil,L07-X1,L07-X2\nTick,\"P1\",2'091'832,02113800\n",
    ] {
        let (answers, report) = read(text);
        assert!(report.is_empty(), "{}", report.to_text());
        let answers = answers.expect("answers");
        let row = &answers.pupils["P1"];
        let found: Vec<_> = ["L07-X1", "L07-X2", "L07-X3"].map(|id| row[id].clone()).to_vec();
        assert_eq!(found, wanted, "{text:?}");
    }
}

#[test]
fn every_mistake_is_told_with_its_line_and_the_rest_is_read() {
    let (answers, report) = read(concat!(
        "pupil,L07-X1,L07-X22,L07-X3,homework\n",
        "P1,2091832,1,336630,\n",
        "P2,71188\n",
        "P1,5,5,5,5\n",
        ",7,7,7,\n",
        "P3,20,91,832,2113800,336630\n",
        "P4,12a4,1,999999999999999999999999,\n",
    ));
    assert_eq!(
        said(&report),
        [
            "1: no item `L07-X22` in this lesson",
            "1: no item `homework` in this lesson",
            "1: no column for `L07-X2`",
            "4: pupil `P1` is here twice; the row on line 2 counts",
            "5: answers without a pupil",
            "6: 6 columns where the first line has 5",
            "7: `12a4` is no number",
            "7: `999999999999999999999999` has 24 digits",
        ]
    );
    assert_eq!(report.messages()[0].hint.as_deref(), Some("did you mean `L07-X2`?"));
    assert_eq!(report.messages()[2].severity, Severity::Warning);
    assert_eq!(
        given(&answers, "P1"),
        [Some("2091832".to_owned()), None, Some("336630".to_owned())]
    );
    assert_eq!(given(&answers, "P2"), [Some("71188".to_owned()), None, None]);
    let strays = [Some("12a4".to_owned()), None, Some("999999999999999999999999".to_owned())];
    assert_eq!(given(&answers, "P4"), strays);
}

#[test]
fn the_wrong_file_is_known_for_what_it_is() {
    let told = |text: &str| {
        let (answers, report) = read(text);
        assert!(answers.is_none(), "{text:?}");
        assert!(report.has_mistakes());
        said(&report)
    };
    assert_eq!(told(""), ["0: `answers.csv` is empty"]);
    assert_eq!(told("\u{feff}\n \n"), ["0: `answers.csv` is empty"]);
    let other = told("pupil,L08-X1,L08-X2\nP1,5,6\n");
    assert_eq!(other, ["1: this file is for lesson `L08`, not for `L07`"]);
    let version = told("pupil,L07B-X1\nP1,5\n");
    assert_eq!(version, ["1: this file is for lesson `L07B`, not for `L07`"]);
    assert_eq!(told("name,score\nP1,5\n"), ["1: the first line must name the columns"]);
    let nothing = told("pupil,left,right\nP1,5,6\n");
    assert_eq!(
        nothing.last().map(String::as_str),
        Some("1: no column is for an item of this lesson")
    );
    let none = read_of(&pack_of(Vec::new()), "pupil,L07-X1\n");
    assert_eq!(said(&none.1), ["0: lesson 7 has no exit check and no test to mark"]);
}

#[test]
fn practice_is_not_marked_and_says_so() {
    let (answers, report) = read("pupil,L07-X1,L07-X2,L07-X3,L07-K1\nP1,1,2,3,4\n");
    assert_eq!(said(&report), ["1: `L07-K1` is not marked"]);
    assert!(!report.has_mistakes());
    assert_eq!(given(&answers, "P1").len(), 3);
}

#[test]
fn piles_of_slips_are_counted_together() {
    let (answers, report) = read(concat!(
        "item,answer,count\n",
        "L07-X1,2091832,20\nL07-X1,\"20,91,832\",3\nX1,71188,many\n",
        "L07-X4,5,1\nL08-X1,5,1\nL07-X1,71188,4\nL07-X1,,2\nL07-X1,5,-1\n",
    ));
    assert_eq!(
        said(&report),
        [
            "4: `many` is not a number of slips",
            "5: no item `L07-X4` in this lesson",
            "6: `L08-X1` belongs to lesson `L08`",
            "9: `-1` is not a number of slips",
        ]
    );
    let piles = answers.expect("answers").piles;
    let found: Vec<_> = piles.iter().map(|p| (p.answer.as_str(), p.count)).collect();
    assert_eq!(found, [("2091832", 23), ("71188", 4)]);
}

#[test]
fn an_open_quotation_mark_costs_its_own_row_only() {
    let (answers, report) = read("pupil,L07-X1,L07-X2,L07-X3\nP1,\"5,6,7\nP2,1,2,3\nP3,4,5,6\n");
    assert_eq!(said(&report), ["2: a quotation mark is opened and not closed on this line"]);
    assert_eq!(answers.expect("answers").pupils.len(), 2);
}

#[test]
fn a_blank_file_reads_back_as_nobody_having_answered() {
    let pupils = ["Ada, the first".to_owned(), "Ben".to_owned()];
    let text = blank(&mixed_check(), &pupils);
    assert_eq!(text, "pupil,L07-X1,L07-X2,L07-X3,L07-X4\n\"Ada, the first\",,,,\nBen,,,,\n");
    let (answers, report) = read_of(&mixed_check(), &text);
    assert!(report.is_empty(), "{}", report.to_text());
    assert_eq!(answers.expect("answers").pupils.len(), 2);
}

#[test]
fn what_is_kept_reads_back_the_same() {
    for text in [
        "pupil,L07-X1,L07-X2,L07-X3\n\"A, B\",1,,ok\nD,✗,wrong,X\nC,\"12,34,567\",x,-\n",
        "item,answer,count\nL07-X1,71188,3\nL07-X2,✓,9\n",
    ] {
        let (answers, _) = read(text);
        let answers = answers.expect("answers");
        let (again, report) = read(&answers.to_csv(&exit_check()));
        assert!(report.is_empty(), "{}", report.to_text());
        assert_eq!(again, Some(answers));
    }
}

#[test]
fn five_thousand_rows_and_as_many_mistakes_are_read() {
    let mut text = "pupil,L07-X1,L07-X2,L07-X3\n".to_owned();
    for n in 0..5000 {
        text += &format!("P{n},{n},5,5\nP{n},1,1,1\n");
    }
    let (answers, report) = read(&text);
    assert_eq!(answers.expect("answers").pupils.len(), 5000);
    // And that the class is smaller.
    assert_eq!(report.messages().len(), 5001);
    assert_eq!(said(&report)[4999].split(':').next(), Some("10001"));
}

proptest::proptest! {
    /// Whatever is handed in, every message has its place in the file and nothing stops the tool.
    #[test]
    fn no_text_stops_the_reading(body in "[\"',;\t 0-9a-zX✓０\u{feff}\r\n-]{0,80}") {
        reads(&body);
    }
}

fn reads(body: &str) {
    for head in ["", "pupil,L07-X1\n", "item;answer;count\n", "\u{feff}pupil\tX1\tX2\r\n"] {
        let (answers, report) = read(&format!("{head}{body}"));
        report.to_text();
        if let Some(answers) = answers {
            crate::marking::mark(&exit_check(), &answers);
            let (again, _) = read(&answers.to_csv(&exit_check()));
            assert_eq!(again, Some(answers), "{body:?}");
        }
    }
}

/// Found by the property above.
#[test]
fn a_mark_in_the_middle_of_a_file_stops_nothing() {
    reads("'\tr\u{feff}0");
}

#[test]
fn a_file_in_the_letters_of_any_spreadsheet_is_text() {
    let text = "pupil;L07-X1\nZoë;5\n";
    let wide = |mark: [u8; 2], unit: fn(u16) -> [u8; 2]| {
        let units = text.encode_utf16().flat_map(unit);
        mark.into_iter().chain(units).collect::<Vec<u8>>()
    };
    let western: Vec<u8> = text.chars().map(|c| u8::try_from(u32::from(c)).expect("one")).collect();
    for bytes in [
        text.as_bytes().to_vec(),
        wide([0xff, 0xfe], u16::to_le_bytes),
        wide([0xfe, 0xff], u16::to_be_bytes),
        western,
    ] {
        assert_eq!(decode(&bytes), text);
    }
}

#[test]
fn what_a_spreadsheet_spoilt_is_said_and_not_counted() {
    let (answers, report) = read("pupil,L07-X1,L07-X2,L07-X3\nP1,2.09E+06,5,336630\n");
    assert_eq!(said(&report), ["2: `2.09E+06` lost its digits in the spreadsheet"]);
    let told = report.messages()[0].hint.clone().unwrap_or_default();
    assert!(told.contains("type the answer again"), "{told}");
    assert_eq!(given(&answers, "P1")[0], None);
}

#[test]
fn signs_before_a_number_are_read_or_told() {
    let (answers, report) =
        read("pupil,L07-X1,L07-X2,L07-X3\nP1,=2091832,+ 2113800,-336630\nP2,−5,– 6,-\n");
    let told = said(&report);
    assert_eq!(told.len(), 3, "{told:?}");
    assert!(told.iter().all(|t| t.contains("a sign stands before the number")), "{told:?}");
    let marking = crate::marking::mark(&exit_check(), &answers.expect("answers"));
    let counts: Vec<_> = marking.pupils.iter().map(|p| (p.right, p.of)).collect();
    assert_eq!(counts, [(2, 3), (0, 2)]);
}

#[test]
fn who_was_not_there_answered_nothing() {
    for word in [
        "away",
        "ill",
        "Sick",
        "n/a",
        "N/A",
        "?",
        "absent",
        "-",
        "unwell",
        "abs.",
        "Abs",
        "excused",
        "not here",
        "absent (ill)",
        "ABSENT - dentist",
        "no answer",
        "not in school",
        "left blank",
    ] {
        let (answers, report) = read(&format!("pupil,L07-X1,L07-X2,L07-X3\nA,{word},{word},1\n"));
        assert!(report.is_empty(), "{word}: {}", report.to_text());
        assert_eq!(given(&answers, "A")[..2], [None, None], "{word}");
    }
}

/// A word where a number or an option should be is told with its place and is not wrong.
#[test]
fn words_that_are_no_answers_are_told_and_count_for_nothing() {
    let (answers, report) = read("pupil,L07-X1,L07-X2,L07-X3\nA,dentist,2113800,lost it\n");
    assert_eq!(said(&report), ["2: `dentist` is no number", "2: `lost it` is no number"]);
    let told = report.to_text();
    assert!(
        told.contains("counted as no answer to `L07-X1`") && told.contains("mark again"),
        "{told}"
    );
    assert_eq!(given(&answers, "A"), [None, Some("2113800".to_owned()), None]);
    let pack = mixed_check();
    let mut report = Report::new();
    let text = "pupil,L07-X1,L07-X2,L07-X3,L07-X4\nA,soon,dentist,lots,some words\nB,1,d,2 cm,x\n";
    let source = Source::shared("answers.csv", text);
    let answers = read_answers(&source, &pack, &mut report).expect("answers");
    assert_eq!(
        said(&report),
        ["2: `soon` is no number", "2: `dentist` is none of the options", "2: `lots` is no number"]
    );
    let of = |pupil: &str| answers.pupils[pupil].values().flatten().count();
    assert_eq!((of("A"), of("B")), (1, 4), "words are right where words are asked for");
}

/// A spreadsheet that writes 03 for 3 means the same pupil.
#[test]
fn a_pupil_with_noughts_in_front_is_the_same_pupil() {
    let (answers, report) = read("pupil,L07-X1\n3,5\n03,6\n");
    assert_eq!(said(&report)[1], "3: pupil `03` is here twice; the row on line 2 counts");
    assert_eq!(answers.expect("kept").pupils.len(), 1);
}

/// Whoever exchanged the names of two columns is told which, once, and not that a pupil called
/// 71188 is there four times.
#[test]
fn pupils_under_an_item_are_noticed() {
    let head = "L07-X1,pupil,L07-X2,L07-X3\n";
    let rows =
        "A,2091832,ok,ok\nB,71188,21138,1\nC,71188,21138,ok\nD,71188,ok,ok\nE,2091832,ok,2\n";
    let (answers, report) = read(&format!("{head}{rows}"));
    assert_eq!(said(&report), ["1: the columns `pupil` and `L07-X1` look swapped"]);
    assert!(report.to_text().contains("exchange their names in the first line"));
    assert!(answers.is_none(), "nothing can be kept of it");
    let mended = rows.replace("ok,2", "ok,3");
    let (answers, report) = read(&format!("pupil,L07-X1,L07-X2,L07-X3\n{mended}"));
    assert!(report.is_empty(), "{}", report.to_text());
    assert_eq!(answers.expect("kept").pupils.len(), 5);
}

#[test]
fn swapped_columns_are_noticed() {
    let head = "pupil,L07-X1,L07-X2,L07-X3\n";
    let rows = "A,2113800,2091832,336630\nB,2113800,2091832,1\nC,7,2091832,336630\n";
    let (answers, report) = read(&format!("{head}{rows}"));
    assert_eq!(said(&report), ["1: the columns `L07-X1` and `L07-X2` look swapped"]);
    assert_eq!(answers.expect("kept").pupils.len(), 3);
    let (_, report) = read(&format!("{head}A,2091832,2113800,336630\nB,1,2,3\n"));
    assert!(report.is_empty(), "{}", report.to_text());
}

#[test]
fn a_point_is_right_as_at_the_terminal_and_a_stroke_is_asked_about() {
    let (answers, report) = read("pupil,L07-X1,L07-X2,L07-X3\nP1,.,/,.\n");
    let tick = || Some(TICK.to_owned());
    let given = given(&answers, "P1");
    assert_eq!([&given[0], &given[2]], [&tick(), &tick()]);
    assert!(said(&report).iter().any(|s| s.contains('/')), "{}", report.to_text());
}

#[test]
fn noughts_and_ones_and_more_pupils_than_the_class_has_are_asked_about() {
    let mut pack = exit_check();
    pack.heading.pupils = 2;
    let text = "pupil,L07-X1,L07-X2,L07-X3\nP1,1,0,1\nP2,0,1,1\nP3,1,1,1\n";
    let (answers, report) = read_of(&pack, text);
    assert_eq!(answers.expect("answers").pupils.len(), 3);
    let said = said(&report);
    assert!(said.iter().any(|s| s.contains("every answer is 0 or 1")), "{said:?}");
    assert!(said.iter().any(|s| s.contains("3 pupils, and the class has 2")), "{said:?}");
    let (_, report) = read_of(&pack, "item,answer,count\nX1,5133,1\nX1,.,40\n");
    let text = report.to_text();
    assert!(text.contains("41 slips for `L07-X1`, and the class has 2 pupils"), "{text}");
}

/// What teachers and pupils write round a number is taken off it; money before it is kept, so that the
/// teacher can be told, and read again as it is kept.
#[test]
fn full_stops_question_marks_and_grouping_are_taken_off_and_money_is_kept() {
    for (written, kept) in [
        ("£5133", "£5133"),
        ("5133.", "5133"),
        ("2670?", "2670"),
        ("\"₹ 1,23,456/-\"", "₹123456"),
        ("Rs. 450", "Rs450"),
        ("rs 450", "Rs450"),
        ("Rs450", "Rs450"),
        ("\"$1,250.\"", "$1250"),
    ] {
        let (answers, report) = read(&format!("pupil,L07-X1,L07-X2,L07-X3\nA,{written},1,1\n"));
        assert!(report.is_empty(), "{written}: {}", report.to_text());
        assert_eq!(given(&answers, "A")[0].as_deref(), Some(kept), "{written}");
    }
    let (answers, _) = read("pupil,L07-X1,L07-X2,L07-X3\nA,?,.,1\n");
    assert_eq!(given(&answers, "A")[..2], [None, Some(TICK.to_owned())], "these stand alone");
}

/// Of equal fields in a row the very one is pointed at, in quotes or not.
#[test]
fn the_place_of_an_answer_is_its_own_field() {
    for row in ["A,12a,5,12a", "A,\"12a\",\"1,5\",\"12a\"", "A;12a; 5 ;12a"] {
        let sign = if row.contains(';') { ";" } else { "," };
        let head = ["pupil", "L07-X1", "L07-X2", "L07-X3"].join(sign);
        let (_, report) = read(&format!("{head}\n{row}\n"));
        let odd = report.messages().iter().filter(|m| m.text.contains("`12a`"));
        let starts: Vec<usize> =
            odd.map(|m| m.place.as_ref().expect("a place").span.start - head.len() - 1).collect();
        assert_eq!(
            starts,
            [row.find("12a"), row.rfind("12a")].map(Option::unwrap_or_default),
            "{row}"
        );
    }
}

fn of_class(pack: &Pack, text: &str, class: &[&str]) -> (Read, Report) {
    let mut report = Report::new();
    let class: Vec<String> = class.iter().map(|&label| label.to_owned()).collect();
    let read = read_file(&Source::shared("answers.csv", text), pack, &class, &mut report);
    (read.expect("read"), report)
}

#[test]
fn who_is_not_in_the_class_is_left_out_and_a_file_of_names_is_read() {
    let head = "pupil,L07-X1,L07-X2,L07-X3\n";
    let class = ["1", "2", "3"];
    let text = format!("{head}01,1,5,1\n2,1,5,1\n33,1,5,1\n");
    let (read, report) = of_class(&exit_check(), &text, &class);
    assert_eq!(said(&report), ["4: there is no pupil `33` in the class"]);
    assert_eq!(read.answers.pupils.keys().collect::<Vec<_>>(), ["1", "2"]);
    assert_eq!(read.left_out, ["line 4"]);
    let text = format!("{head}1,1,5,1\n33,1,5,1\n2,1,5,1\n2,1,5,1\n3,1,5,1\n");
    let (read, _) = of_class(&exit_check(), &text, &class);
    assert_eq!(read.left_out, ["line 3", "line 5"], "in the file's order");
    assert_eq!(read.place_of("1").map(crate::report::Place::line), Some(2), "01 is 1");
    let (read, report) = of_class(&exit_check(), &format!("{head}Ada,1,5,1\nBen,1,5,1\n"), &class);
    assert!(!report.has_mistakes(), "{}", report.to_text());
    assert_eq!(read.answers.pupils.len(), 2);
}

/// Where too few are of the class for the others to be left out, each stranger is told of.
#[test]
fn a_stranger_among_a_few_pupils_is_told_of_and_counts() {
    let head = "pupil,L07-X1,L07-X2,L07-X3\n";
    let text = format!("{head}99,1,5,1\nAnna,1,5,1\n1,1,5,1\n");
    let (read, report) = of_class(&exit_check(), &text, &["1", "2", "3"]);
    assert_eq!(
        said(&report),
        [
            "2: `99` is not among pupils 1 to 3",
            "3: `Anna` is not among pupils 1 to 3, who have numbers here"
        ]
    );
    assert!(!report.has_mistakes() && read.left_out.is_empty(), "they count all the same");
    assert_eq!(read.answers.pupils.len(), 3);
    let (_, report) = of_class(&exit_check(), &text, &["1", "Ben", "Cay"]);
    assert_eq!(said(&report)[0], "2: there is no pupil `99` in the class");
}

/// A file that names nobody of the class may be another class's: each row is a doubt with its place
/// and what to do, of a long file the first ones.
#[test]
fn a_file_that_matches_nobody_of_the_class_is_doubted_row_by_row() {
    let rows: String = (1..=30).map(|n| format!("P{n},1,5,1\n")).collect();
    let text = format!("pupil,L07-X1,L07-X2,L07-X3\n{rows}");
    let (read, report) = of_class(&exit_check(), &text, &["1", "2", "3"]);
    assert_eq!(read.answers.pupils.len(), 30, "they count all the same");
    let report = report.capped(20);
    let of_kind: Vec<String> =
        said(&report).into_iter().filter(|text| !text.contains("the file has")).collect();
    assert_eq!(of_kind[0], "2: `P1` is not among pupils 1 to 3, who have numbers here");
    assert_eq!((of_kind.len(), of_kind[20].as_str()), (21, "0: and 10 more of this kind"));
    assert!(
        report.to_text().contains("write the label that the class has"),
        "{}",
        report.to_text()
    );
}

/// Lesson 8 asks 7 × 9 first and lesson 7 something else: three right answers of lesson 8 give the
/// file away; of lesson 7's own no such thing is said.
#[test]
fn a_file_with_another_lessons_answers_is_known() {
    let pack = exit_check();
    let mut other = pack_of(pack.sections.clone());
    other.lesson = 8;
    let checked = other.sections.iter_mut().flat_map(|s| &mut s.items);
    for (n, item) in checked.filter(|i| i.id.contains("-X")).enumerate() {
        item.id = item.id.replace("L07", "L08");
        item.answer = (4000 + n).to_string();
    }
    let text = "pupil,X1,X2,X3\n1,4000,4001,4002\n2,4000,9,4002\n";
    let (read, _) = of_class(&pack, text, &["1", "2"]);
    let others = [other];
    let fits = fits_another(&read, &pack, &others).expect("it is lesson 8's");
    assert_eq!((fits.pack.lesson, fits.item.as_str(), fits.answer.as_str()), (8, "L08-X1", "4000"));
    assert_eq!(fits.place.as_ref().map(crate::report::Place::line), Some(2));
    let checked = pack.sections.iter().flat_map(|s| &s.items).filter(|i| i.id.contains("-X"));
    let own: Vec<String> = checked.map(|i| i.answer.clone()).collect();
    let (read, _) =
        of_class(&pack, &format!("pupil,X1,X2,X3\n1,{}\n2,4000,1,1\n", own.join(",")), &["1", "2"]);
    assert!(fits_another(&read, &pack, &others).is_none());
    let (read, _) = of_class(&pack, "item,answer,count\nX1,4000,9\nX2,17,4\n", &[]);
    assert_eq!(fits_another(&read, &pack, &others).map(|fits| fits.pack.lesson), Some(8));
}

#[test]
fn of_very_many_messages_of_a_kind_the_first_are_said_and_the_rest_counted() {
    let rows: String = (0..500).map(|n| format!("p{n},{n}a,1,1\n")).collect();
    let (_, report) = read(&format!("pupil,L07-X1,L07-X2,L07-X3\n{rows}q,1,dentist,1\n"));
    let all = report.messages().len();
    let capped = report.capped(20);
    let said = said(&capped);
    assert!(all > 500 && capped.messages().len() < 30, "{}", capped.messages().len());
    assert!(said.iter().any(|m| m.ends_with("and 480 more of this kind")), "{said:?}");
    assert!(said.iter().any(|m| m.contains("`dentist`")), "{said:?}");
}
