//! What is said of a class, a term, a timetable and closures that are wrong or odd.

use super::{LADDER, LEAST, beside, day, read, said, said_with};
use crate::calendar::Closing;
use crate::plan::PlanFile;
use crate::report::{Report, Source};
use insta::assert_snapshot;

#[test]
fn mistyped_keys_skills_and_weekdays_are_all_named_at_once() {
    let text = LEAST
        .replace("name =", "nmae =")
        .replace("monday =", "mnday =")
        .replace("long-two-by-two", "long-two-by-tow");
    assert_snapshot!(read(&text, &beside(LADDER)).1, @r#"
    mistake: `class.name` is missing
     --> plan.toml:2:1
      |
    2 | [class]
      | ^^^^^^^
      |
      = hint: add `name = "Class 5"`
    mistake: unknown key `class.nmae`
     --> plan.toml:3:1
      |
    3 | nmae = "Class 5"
      | ^^^^
      |
      = hint: did you mean `name`?
    mistake: unknown key `timetable.mnday`
      --> plan.toml:10:1
       |
    10 | mnday = ["09:10-09:50"]
       | ^^^^^
       |
       = hint: did you mean `monday`?
    mistake: the ladder `small` has no skill `long-two-by-tow`
      --> plan.toml:14:10
       |
    14 | teach = ["long-two-by-tow"]
       |          ^^^^^^^^^^^^^^^^^ expected the id of a skill
       |
       = hint: did you mean `long-two-by-two`?
    "#);
}

#[test]
fn a_day_that_does_not_exist_is_refused() {
    assert_snapshot!(said("2027-02-05", "2027-02-30"), @r#"
    mistake: not valid TOML: invalid date, expected day between 01 and 28
     --> plan.toml:7:8
      |
    7 | ends = 2027-02-30
      |        ^^^^^^^^^^
      |
      = hint: write a day that exists as year-month-day: 2027-01-11
    "#);
}

#[test]
fn a_date_in_quotes_is_shown_without_them() {
    assert_snapshot!(said("2027-02-05", "\"2027-02-05\""), @r#"
    mistake: `term.ends`: expected a date, found text
     --> plan.toml:7:8
      |
    7 | ends = "2027-02-05"
      |        ^^^^^^^^^^^^ expected a date such as 2027-01-11
      |
      = hint: write it without quotes: 2027-02-05
    "#);
    assert_snapshot!(said("2027-02-05", "\"5 February\""), @r#"
    mistake: `term.ends`: expected a date, found text
     --> plan.toml:7:8
      |
    7 | ends = "5 February"
      |        ^^^^^^^^^^^^ expected a date such as 2027-01-11
      |
      = hint: write year, month and day without quotes: 2027-01-11
    "#);
    assert_snapshot!(said("[unit]", "[unit]\ntest = \"2027-02-05\""), @r#"
    mistake: `unit.test`: expected a date, found text
      --> plan.toml:13:8
       |
    13 | test = "2027-02-05"
       |        ^^^^^^^^^^^^ expected a date such as 2027-01-11
       |
       = hint: write it without quotes: 2027-02-05
    "#);
    assert_snapshot!(said("[unit]", "[unit]\ntest = \"last\""), @r#"
    mistake: `unit.test` is no date
      --> plan.toml:13:8
       |
    13 | test = "last"
       |        ^^^^^^ expected a date such as 2027-03-24, or "none"
       |
       = hint: take the key away to have the test on the last lesson
    "#);
}

#[test]
fn a_term_must_end_after_it_starts_and_within_a_year_or_so() {
    assert_snapshot!(said("2027-02-05", "2027-01-05"), @r#"
    mistake: the term ends on 2027-01-05 before it starts on 2027-01-11
     --> plan.toml:7:8
      |
    7 | ends = 2027-01-05
      |        ^^^^^^^^^^ expected 2027-01-11 or later
      |
      = hint: change `term.ends` or `term.starts`; look at the years
    "#);
    assert_snapshot!(said("2027-02-05", "2028-02-15"), @r#"
    mistake: the term is 401 days long
     --> plan.toml:7:8
      |
    7 | ends = 2028-02-15
      |        ^^^^^^^^^^ expected at most 400 days
      |
      = hint: change `term.ends` or `term.starts`; look at the years
    "#);
}

#[test]
fn lesson_times_are_checked() {
    let times = r#"monday = ["09:10-09:50", "09:40-10:20", "11:00-10:20", "9:00-9:40", "noon", "13:00-13:10"]"#;
    assert_snapshot!(said("monday = [\"09:10-09:50\"]", times), @r#"
    mistake: two lessons of `timetable.monday` overlap: 09:40-10:20 and 09:10-09:50
      --> plan.toml:10:26
       |
    10 | monday = ["09:10-09:50", "09:40-10:20", "11:00-10:20", "9:00-9:40", "noon", "13:00-13:10"]
       |                          ^^^^^^^^^^^^^ expected a time after the other ends, or before it begins
       |
       = hint: change one of the two, or take it away
    mistake: `timetable.monday`: a lesson ends at 10:20, not after 11:00
      --> plan.toml:10:41
       |
    10 | monday = ["09:10-09:50", "09:40-10:20", "11:00-10:20", "9:00-9:40", "noon", "13:00-13:10"]
       |                                         ^^^^^^^^^^^^^ expected an end after 11:00
       |
       = hint: write when it begins, then when it ends; 1 o'clock is 13:00
    mistake: `timetable.monday`: expected a time such as `09:10`, found `9:00`
      --> plan.toml:10:56
       |
    10 | monday = ["09:10-09:50", "09:40-10:20", "11:00-10:20", "9:00-9:40", "noon", "13:00-13:10"]
       |                                                        ^^^^^^^^^^^ expected a time such as "09:10-09:50"
    mistake: `timetable.monday`: `noon` is no lesson time
      --> plan.toml:10:69
       |
    10 | monday = ["09:10-09:50", "09:40-10:20", "11:00-10:20", "9:00-9:40", "noon", "13:00-13:10"]
       |                                                                     ^^^^^^ expected a time such as "09:10-09:50"
    warning: `timetable.monday`: 10 minutes are too short for a lesson
      --> plan.toml:10:77
       |
    10 | monday = ["09:10-09:50", "09:40-10:20", "11:00-10:20", "9:00-9:40", "noon", "13:00-13:10"]
       |                                                                             ^^^^^^^^^^^^^
       |
       = hint: a lesson takes at least 20 minutes
    "#);
    assert_snapshot!(said("monday = [\"09:10-09:50\"]", "monday = \"09:10-09:50\""), @r#"
    mistake: `timetable.monday`: expected a list of texts, such as ["a", "b"], found text
      --> plan.toml:10:10
       |
    10 | monday = "09:10-09:50"
       |          ^^^^^^^^^^^^^ expected a list of texts, such as ["a", "b"]
    "#);
    assert_snapshot!(said("monday = [\"09:10-09:50\"]", ""), @r#"
    mistake: the timetable has no lessons
     --> plan.toml:9:1
      |
    9 | [timetable]
      | ^^^^^^^^^^^
      |
      = hint: add a line for each weekday: `monday = ["09:10-09:50"]`
    "#);
}

#[test]
fn lessons_on_a_day_without_school_are_pointed_out() {
    assert_snapshot!(said("[timetable]", "school-days = [\"tuesday\"]\n[timetable]"), @r#"
    warning: `monday` has lessons but is not in `term.school-days`
      --> plan.toml:11:10
       |
    11 | monday = ["09:10-09:50"]
       |          ^^^^^^^^^^^^^^^
       |
       = hint: add "monday" to `school-days` to have them
    "#);
    assert_snapshot!(said("[timetable]", "school-days = [\"tuseday\"]\n[timetable]"), @r#"
    mistake: `term.school-days`: unknown value `tuseday`
     --> plan.toml:9:16
      |
    9 | school-days = ["tuseday"]
      |                ^^^^^^^^^ expected `monday`, `tuesday`, `wednesday`, `thursday`, `friday`, `saturday` or `sunday`
      |
      = hint: did you mean `tuesday`?
    warning: `monday` has lessons but is not in `term.school-days`
      --> plan.toml:11:10
       |
    11 | monday = ["09:10-09:50"]
       |          ^^^^^^^^^^^^^^^
       |
       = hint: add "monday" to `school-days` to have them
    "#);
}

#[test]
fn closures_and_openings_say_which_days() {
    let lines = r#"
[[closure]]
from = 2027-01-20
to = 2027-01-18

[[closure]]
on = 2027-01-20
to = 2027-01-21

[[closure]]
from = 2027-01-20

[[closure]]
because = "snow"

[[closure]]
on = 2027-01-20
after = "10:30"
before = "9.00"

[[closure]]
on = 2027-01-20
after = "10:30"
before = "09:00"

[[closure]]
on = 2026-01-20

[[opening]]
onn = 2027-01-20
"#;
    assert_snapshot!(said_with(lines), @r#"
    mistake: `closure` ends on 2027-01-18 before it starts on 2027-01-20
      --> plan.toml:19:6
       |
    19 | to = 2027-01-18
       |      ^^^^^^^^^^ expected 2027-01-20 or later
       |
       = hint: change `to`, or swap the two dates
    mistake: `closure` has `on` and also `from` or `to`
      --> plan.toml:22:6
       |
    22 | on = 2027-01-20
       |      ^^^^^^^^^^
       |
       = hint: keep `on` for one day, or `from` and `to` for several
    mistake: `closure` has `from` but not `to`
      --> plan.toml:26:8
       |
    26 | from = 2027-01-20
       |        ^^^^^^^^^^
       |
       = hint: add `to`, or write `on` for a single day
    mistake: `closure` does not say which day
      --> plan.toml:28:1
       |
    28 | [[closure]]
       | ^^^^^^^^^^^
       |
       = hint: add `on = 2027-01-11`, or `from` and `to`
    mistake: `closure.before`: expected a time such as `09:10`, found `9.00`
      --> plan.toml:34:10
       |
    34 | before = "9.00"
       |          ^^^^^^ expected hours and minutes, 00:00 to 24:00
    mistake: a closure from 10:30 to 09:00 closes nothing
      --> plan.toml:39:10
       |
    39 | before = "09:00"
       |          ^^^^^^^ expected a time after 10:30
       |
       = hint: closed is what lies between `after` and `before`
    mistake: `opening` does not say which day
      --> plan.toml:44:1
       |
    44 | [[opening]]
       | ^^^^^^^^^^^
       |
       = hint: add `on = 2027-01-11`, or `from` and `to`
    mistake: unknown key `opening.onn`
      --> plan.toml:45:1
       |
    45 | onn = 2027-01-20
       | ^^^
       |
       = hint: did you mean `on`?
    warning: this closure lies outside the term
      --> plan.toml:42:6
       |
    42 | on = 2026-01-20
       |      ^^^^^^^^^^
       |
       = hint: the term runs from 2027-01-11 to 2027-02-05
    "#);
}

#[test]
fn a_class_is_checked() {
    let class = |lines: &str| said("name = \"Class 5\"", &format!("name = \"Class 5\"\n{lines}"));
    assert_eq!(class("pupils = 60\npace = 0.5"), "");
    assert_snapshot!(class("pupils = 61\npace = 3.01\nzone = \"London\""), @r#"
    mistake: `class.pupils` is out of range: expected a whole number from 1 to 60
     --> plan.toml:4:10
      |
    4 | pupils = 61
      |          ^^ a whole number from 1 to 60
    mistake: `class.pace`: expected a number from 0.50 to 3.00, found a decimal number
     --> plan.toml:5:8
      |
    5 | pace = 3.01
      |        ^^^^ expected a number from 0.50 to 3.00
    mistake: `class.zone`: no zone is named `London`
     --> plan.toml:6:8
      |
    6 | zone = "London"
      |        ^^^^^^^^ expected a name of the IANA time zone database
      |
      = hint: did you mean `Europe/London`?
    "#);
    assert_snapshot!(class("pupils = \"32\"\npace = \"slow\"\nzone = \"Europe/Lodnon\""), @r#"
    mistake: `class.pupils`: `32` is no CSV file
     --> plan.toml:4:10
      |
    4 | pupils = "32"
      |          ^^^^ expected a number from 1 to 60, or a file name ending in `.csv`
      |
      = hint: write the number without quotes: 32
    mistake: `class.pace`: expected a number from 0.50 to 3.00, found text
     --> plan.toml:5:8
      |
    5 | pace = "slow"
      |        ^^^^^^ expected a number from 0.50 to 3.00
    mistake: `class.zone`: no zone is named `Europe/Lodnon`
     --> plan.toml:6:8
      |
    6 | zone = "Europe/Lodnon"
      |        ^^^^^^^^^^^^^^^ expected a name of the IANA time zone database
      |
      = hint: did you mean `Europe/London`?
    "#);
    assert_snapshot!(class("pupils = \"../pupils.csv\""), @r#"
    mistake: `../pupils.csv` does not lie beside the plan
     --> plan.toml:4:10
      |
    4 | pupils = "../pupils.csv"
      |          ^^^^^^^^^^^^^^^ expected the name of a file in the class's folder
      |
      = hint: copy the file into the class's folder and write its name only
    "#);
    assert_snapshot!(said("name = \"Class 5\"", "name = \" \""), @r#"
    mistake: `class.name` is empty
     --> plan.toml:3:8
      |
    3 | name = " "
      |        ^^^
      |
      = hint: write the name that stands on the pupils' paper
    "#);
}

#[test]
fn an_empty_file_says_all_that_is_needed() {
    assert_snapshot!(read("", &beside(LADDER)).1, @r#"
    mistake: `class` is missing
     --> plan.toml:1:1
      |
    1 |
      | ^
      |
      = hint: add `[class]` with `name = "Class 5"`
    mistake: `term` is missing
     --> plan.toml:1:1
      |
    1 |
      | ^
      |
      = hint: add `[term]` with `starts` and `ends`
    mistake: `timetable` is missing
     --> plan.toml:1:1
      |
    1 |
      | ^
      |
      = hint: add `[timetable]` with `monday = ["09:10-09:50"]`
    mistake: `unit` is missing
     --> plan.toml:1:1
      |
    1 |
      | ^
      |
      = hint: add `[unit]` with `ladder` and `teach`
    "#);
}

#[test]
fn calendar_events_close_when_their_summary_matches() {
    let event = |date: &str, because: &str| Closing {
        from_calendar: true,
        ..Closing::days(day(date), day(date), because)
    };
    let mut beside = beside(LADDER);
    beside.calendars = vec![vec![event("2027-01-18", "Bank Holiday"), event("2027-01-25", "Fair")]];
    let closed = |lines: &str| {
        let (plan, said) =
            read(&format!("{LEAST}\n[[calendar]]\nfile = \"a.ics\"\n{lines}"), &beside);
        let closings = plan.map(|p| p.closings).unwrap_or_default();
        (closings.iter().map(|c| c.because.clone()).collect::<Vec<_>>().join(", "), said)
    };
    assert_eq!(closed(""), ("Bank Holiday, Fair".to_owned(), String::new()));
    assert_eq!(closed("matching = \"holiday\"").0, "Bank Holiday");
    assert_eq!(closed("matching = [\"sports\", \"FAIR\"]").0, "Fair");
    assert_snapshot!(closed("matching = \"inset\"").1, @r#"
    warning: no event of `a.ics` in this term matches
      --> plan.toml:18:12
       |
    18 | matching = "inset"
       |            ^^^^^^^
       |
       = hint: the text must stand in the event's summary
    "#);
}

#[test]
fn pupils_come_from_their_file() {
    let text = LEAST.replace("[term]", "pupils = \"pupils.csv\"\n[term]");
    let mut beside = beside(LADDER);
    beside.pupils = Some(vec!["K1".into(), "K2".into()]);
    let plan = read(&text, &beside).0.expect("a plan");
    assert_eq!((plan.class.pupils, plan.class.pupil_names.join(" ")), (2, "K1 K2".to_owned()));
    beside.pupils = Some(Vec::new());
    assert_snapshot!(read(&text, &beside).1, @r#"
    mistake: `pupils.csv` lists 0 pupils
     --> plan.toml:5:10
      |
    5 | pupils = "pupils.csv"
      |          ^^^^^^^^^^^^ expected 1 to 60 pupils
      |
      = hint: list one pupil a line, under a first line `pupil`
    "#);
}

#[test]
fn a_plan_tells_which_files_lie_beside_it() {
    let text = LEAST.replace("[term]", "pupils = \"pupils.csv\"\nzone = \"Asia/Kolkata\"\n[term]")
        + "[[calendar]]\nfile = \"a.ics\"\n[[calendar]]\nfile = \"b.ics\"\n";
    let mut report = Report::new();
    let file = PlanFile::read(&Source::shared("plan.toml", text), &mut report).expect("a file");
    assert_eq!(file.ladder_file().map(|f| f.value.as_str()), Some("small.toml"));
    assert_eq!(file.pupils_file().map(|f| f.value.as_str()), Some("pupils.csv"));
    let calendars: Vec<&str> = file.calendars.iter().map(|c| c.file.value.as_str()).collect();
    assert_eq!(calendars, ["a.ics", "b.ics"]);
    assert_eq!(file.zone(), Some(chrono_tz::Asia::Kolkata));
    assert_eq!(file.term_days(), Some((day("2027-01-11"), day("2027-02-05"))));
}
