//! The commands: what they take, what they write, how they end.

use super::class::{BEFORE, Class, SHORT, run};

#[test]
fn wrong_usage_ends_with_two() {
    for args in [&["dance"][..], &["plan"], &["plan", "x", "--today", "tomorrow"], &["sum"], &[]] {
        assert_eq!(run(args).status, 2, "{args:?}");
    }
    run(&["--help"]).ends(0);
    run(&["--version"]).ends(0);
}

#[test]
fn data_goes_to_standard_output_and_everything_else_to_standard_error() {
    let class = Class::small();
    let run = class.on(BEFORE, "plan", &["--format", "json"]).ends(0);
    run.json();
    assert!(!run.err.contains('{'), "{}", run.err);
}

#[test]
fn plan_makes_the_schedule_once_and_shows_it_from_then_on() {
    let class = Class::small();
    let first = class.json(BEFORE, "plan", &[]);
    let file = class.read("schedule.toml");
    assert_eq!(class.json(BEFORE, "plan", &[])["lessons"], first["lessons"]);
    assert_eq!(class.read("schedule.toml"), file);
}

#[test]
fn a_first_plan_does_not_look_at_today() {
    let early = Class::small();
    let late = Class::small();
    let lessons = |class: &Class, today| class.json(today, "plan", &[])["lessons"].clone();
    let dates = |value: serde_json::Value| -> Vec<serde_json::Value> {
        value.as_array().expect("lessons").iter().map(|l| l["date"].clone()).collect()
    };
    assert_eq!(dates(lessons(&early, "2027-01-01")), dates(lessons(&late, "2027-06-01")));
}

#[test]
fn plan_says_when_the_plan_has_changed_since_and_ends_well() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    let plan = class.read("plan.toml");
    class.write("plan.toml", plan.replace("name = \"Class A\"", "name = \"Class Alder\""));
    let run = class.on(BEFORE, "plan", &[]).ends(0);
    assert!(!run.err.contains("changed"), "a corrected name changes no schedule: {}", run.err);
    class.write("plan.toml", plan.replace("revision = 1", "revision = 0"));
    class.on(BEFORE, "plan", &[]).ends(0).says("the plan has changed").says("reschedule");
}

#[test]
fn plan_afresh_starts_over_but_not_over_what_has_happened() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    let again = class.json(BEFORE, "plan", &["--afresh"]);
    // A dropped number is not used again.
    assert_eq!(again["lessons"][0]["number"], 10);
    class.on("2027-02-10", "plan", &["--afresh"]).ends(1).says("already printed or past");
    class.on("2027-02-10", "plan", &["--afresh", "--even-so"]).ends(0);
}

#[test]
fn demo_refuses_a_folder_that_holds_anything() {
    let class = Class::small();
    run(&["demo", &class.arg()]).ends(1).says("is not empty");
}

#[test]
fn new_takes_flags_where_nobody_can_be_asked() {
    let class = Class::small();
    let dir = class.beside("new-class").display().to_string();
    run(&["new", &dir]).ends(2).says("--name");
    let flags = ["--name", "Class 6", "--starts", "2027-01-11", "--ends", "2027-04-02"];
    let mut args = vec!["new", dir.as_str()];
    args.extend(flags);
    run(&args).ends(0);
    run(&["check", &dir]).ends(0);
    run(&["plan", &dir, "--today", BEFORE]).ends(0);
    run(&args).ends(1).says("is not empty");
}

#[test]
fn undo_gives_back_exactly_what_was_before() {
    let class = Class::small();
    class.on(BEFORE, "undo", &[]).ends(1).says("no change to take back");
    class.on(BEFORE, "plan", &[]).ends(0);
    let (plan, schedule) = (class.read("plan.toml"), class.read("schedule.toml"));
    class.on("2027-02-09", "reschedule", &["--close", "2027-02-23", "--accept"]).ends(0);
    assert_ne!(class.read("plan.toml"), plan);
    assert_ne!(class.read("schedule.toml"), schedule);
    class.on("2027-02-09", "undo", &[]).ends(0).says("reschedule");
    assert_eq!(class.read("plan.toml"), plan);
    assert_eq!(class.read("schedule.toml"), schedule);
    class.on("2027-02-09", "undo", &[]).ends(0).says("plan");
    assert!(!class.holds("schedule.toml"));
}

#[test]
fn undo_does_not_lose_what_was_edited_since() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    class.on("2027-02-09", "reschedule", &["--close", "2027-02-23", "--accept"]).ends(0);
    let edited = class.read("plan.toml") + "\n# a note of mine\n";
    class.write("plan.toml", &edited);
    class.on("2027-02-09", "undo", &[]).ends(1).says("was edited since");
    assert_eq!(class.read("plan.toml"), edited);
}

#[test]
fn why_names_what_a_lesson_waits_for() {
    let class = Class::small();
    let lessons = class.json(BEFORE, "plan", &[])["lessons"].clone();
    let first_c =
        lessons.as_array().expect("lessons").iter().find(|l| l["skill"] == "c").expect("a c");
    let number = first_c["number"].to_string();
    let run = class.on(BEFORE, "why", &["--lesson", &number]).ends(0);
    assert!(run.out.contains("Waits for “A”"), "{}", run.out);
    class.on(BEFORE, "why", &["--lesson", "99"]).ends(1).says("there is no lesson 99");
}

#[test]
fn skills_lists_our_ladder_and_a_ladder_file() {
    let ours = run(&["skills", "--format", "json"]).ends(0).json();
    assert_eq!(ours["ladder"], "multiplication");
    assert!(ours["skills"].as_array().expect("skills").len() >= 26);
    let class = Class::small();
    let file = class.dir().join("abc.toml").display().to_string();
    let abc = run(&["skills", &file, "--format", "json"]).ends(0).json();
    assert_eq!(abc["skills"][1]["needs"][0], "a");
    run(&["skills", "--graph"]).ends(0);
    run(&["skills", "multiplicaton"]).ends(1).says("did you mean `multiplication`?");
}

#[test]
fn coverage_names_outcomes_and_the_lessons_that_serve_them() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    let report = class.json("2027-01-18", "report", &["coverage"]);
    let outcomes = report["coverage"][0]["outcomes"].as_array().expect("outcomes");
    assert!(
        outcomes.iter().any(|o| !o["taught"].as_array().expect("a list").is_empty()),
        "{report}"
    );
    assert!(
        outcomes.iter().any(|o| !o["to_come"].as_array().expect("a list").is_empty()),
        "{report}"
    );
}

#[test]
fn check_warns_of_skills_without_exercises_and_outcomes_without_skills() {
    let class = Class::small();
    class.on(BEFORE, "check", &[]).ends(0).says("no exercises can be made for `a`, `b` and `c`");
    let ladder = super::class::ABC.replacen(
        "id = \"b\"",
        "id = \"b\"\nmaker = \"long-two-by-two\"\noutcomes = [\"ccssm:4.NBT.B.5\"]",
        1,
    );
    class.write("abc.toml", ladder);
    let plan = class.read("plan.toml") + "\n[style]\nframework = [\"ccssm\"]\n";
    class.write("plan.toml", plan);
    let run = class.on(BEFORE, "check", &[]).ends(0);
    run.says("no exercises can be made for `a` and `c`").says("no skill of the ladder serves");
}

#[test]
fn export_writes_a_calendar_and_a_table() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    let ics = class.on(BEFORE, "export", &["ics"]).ends(0).out;
    assert!(
        ics.starts_with("BEGIN:VCALENDAR\r\n") && ics.matches("BEGIN:VEVENT").count() == 9,
        "{ics}"
    );
    let csv = class.on(BEFORE, "export", &["csv"]).ends(0).out;
    assert_eq!(csv.lines().count(), 10, "{csv}");
}
