//! A class's folder: every default of plan.toml, and what the tool writes.

use super::class::{BEFORE, Class, SHORT};

/// The least a plan can be.
const LEAST: &str = r#"
[class]
name = "Class 5"

[term]
starts = 2027-01-11
ends = 2027-02-19

[timetable]
monday = ["09:10-09:50"]
wednesday = ["09:10-09:50"]
sunday = ["09:10-09:50"]

[unit]
ladder = "multiplication"
teach = ["splitting"]
"#;

/// The same with every default written out.
const WRITTEN_OUT: &str = r#"
[class]
name = "Class 5"
school = ""
key = "Class 5"
pupils = 30
pace = 1.0

[term]
starts = 2027-01-11
ends = 2027-02-19
school-days = ["monday", "tuesday", "wednesday", "thursday", "friday", "sunday"]

[timetable]
monday = ["09:10-09:50"]
wednesday = ["09:10-09:50"]
sunday = ["09:10-09:50"]

[unit]
ladder = "multiplication"
teach = ["splitting"]
secure = []
leave-out = []
revision = 2
fixed = []

[unit.lessons]

[style]
grouping = "thousands"
paper = "a4"
method = ["long"]
carries = "in-row"
zero-row = "skip"
first-row = "ones"
ones = "ones"
carry = "carry"

[costs]
left-out = 20000
short = 500
extra = 3
starts-before-break = 12
split-by-break = 20
cold-return = 10
long-run = 3
thread-cut = 5
bunched = 6
short-start = 4
two-starts = 8
printed-moved = 100000
soon-moved = 60
moved = 20
order = 40
long-run-limit = 10
"#;

#[test]
fn every_key_has_its_default() {
    let (least, written_out) = (Class::with(LEAST), Class::with(WRITTEN_OUT));
    let plan = |class: &Class| class.json(BEFORE, "plan", &[]);
    assert_eq!(plan(&least), plan(&written_out));
    let packs = |class: &Class| class.json(BEFORE, "pack", &["--week", "2027-01-18"]);
    assert_eq!(packs(&least), packs(&written_out));
}

#[test]
fn every_key_but_those_six_can_be_left_out_and_those_cannot() {
    for key in ["name =", "starts =", "ends =", "ladder =", "teach ="] {
        let without: String =
            LEAST.lines().filter(|l| !l.starts_with(key)).map(|l| format!("{l}\n")).collect();
        let class = Class::with(&without);
        let word = key.trim_end_matches(" =");
        class.on(BEFORE, "check", &[]).ends(1).says(word).says("missing");
    }
    let start = LEAST.find("[timetable]").expect("it is there");
    let end = LEAST.find("[unit]").expect("it is there");
    let class = Class::with(&format!("{}{}", &LEAST[..start], &LEAST[end..]));
    class.on(BEFORE, "check", &[]).ends(1).says("timetable");
}

#[test]
fn the_plan_is_the_teachers_and_stays_as_written() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    class.on(BEFORE, "pack", &[]).ends(0);
    assert_eq!(class.read("plan.toml"), SHORT);
}

#[test]
fn the_journal_is_only_ever_appended_to() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    let first = class.read("journal.toml");
    class.on(BEFORE, "pack", &[]).ends(0);
    let second = class.read("journal.toml");
    assert!(second.starts_with(&first) && second.len() > first.len());
    class.on(BEFORE, "undo", &[]).ends(0);
    assert!(class.read("journal.toml").starts_with(&second));
}

#[test]
fn house_styles_reach_the_paper() {
    let class =
        Class::with(&format!("{SHORT}\n[style]\ngrouping = \"indian\"\npaper = \"letter\"\n"));
    class.on(BEFORE, "plan", &[]).ends(0);
    let pack = class.json(BEFORE, "pack", &["--lesson", "1"]);
    assert_eq!(pack[0]["heading"]["style"]["grouping"], "indian");
    assert_eq!(pack[0]["heading"]["paper"], "letter");
}

/// The plan of the contract itself, with a ladder of ours.
#[test]
fn the_whole_plan_of_the_contract_is_read() {
    let class = Class::with(
        r#"
[class]
name = "Class 5 Kingfisher"
school = "Harbour Lane School"
key = "7f3a-kingfisher"
pupils = 32
pace = 1.0
zone = "Europe/London"

[term]
starts = 2027-01-11
ends = 2027-04-02
school-days = ["monday", "tuesday", "wednesday", "thursday", "friday"]

[timetable]
monday = ["09:10-09:50"]
tuesday = ["09:10-09:50"]
wednesday = ["11:00-12:20"]
thursday = ["11:00-11:40"]
friday = ["09:10-09:40"]

[[closure]]
from = 2027-02-15
to = 2027-02-19
because = "half-term"

[[closure]]
on = 2027-03-04
before = "10:30"
because = "assembly"

[[calendar]]
file = "england.ics"

[unit]
ladder = "multiplication"
secure = ["facts-to-ten-by-ten"]
teach = ["long-four-by-three", "story-two-step"]
leave-out = []
test = 2027-03-24
fixed = [{ date = 2027-02-26, kind = "catch-up" }]

[unit.lessons]
long-four-by-three = { preferred = 4 }

[style]
grouping = "indian"
paper = "a4"
method = ["long", "grid"]
carries = "in-row"
zero-row = "skip"
first-row = "ones"
ones = "ones"
carry = "carry"
framework = ["ccssm", "england-2013"]

[[own]]
skill = "long-four-by-three"
part = 1
example = ["3406 x 207"]

[[resource]]
skill = "long-four-by-three"
text = "Number book, pages 48 and 49"
"#,
    );
    class.write("england.ics", include_str!("../data/calendars/england.ics"));
    class.on(BEFORE, "check", &[]).ends(0);
    let plan = class.json(BEFORE, "plan", &[]);
    let lessons = plan["lessons"].as_array().expect("lessons");
    let first = lessons
        .iter()
        .find(|l| l["skill"] == "long-four-by-three" && l["part"] == 1)
        .expect("it is taught");
    let pack = class.json(BEFORE, "pack", &["--lesson", &first["number"].to_string()]);
    let text = pack.to_string();
    assert!(text.contains("3406*207"), "the teacher's own sum comes first");
    assert!(text.contains("Number book, pages 48 and 49"));
    let test = lessons.iter().find(|l| l["kind"] == "unit-test").expect("a test");
    assert_eq!(test["date"], "2027-03-24");
    let fixed = lessons.iter().find(|l| l["date"] == "2027-02-26").expect("a lesson");
    assert_eq!(fixed["kind"], "catch-up");
}

#[test]
fn a_pupils_file_gives_the_number_of_pupils() {
    let class = Class::with(&SHORT.replace("pupils = 12", "pupils = \"pupils.csv\""));
    class.write("pupils.csv", "\u{feff}pupil\nA\nB\nC\n");
    class.on(BEFORE, "plan", &[]).ends(0);
    let pack = class.json(BEFORE, "pack", &["--lesson", "1"]);
    assert_eq!(pack[0]["heading"]["pupils"], 3);
}
