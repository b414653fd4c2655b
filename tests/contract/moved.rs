//! Rescheduling: shown before it is accepted, what has happened stays, numbers are for life.

use super::class::{BEFORE, Class};
use serde_json::Value;

fn lessons(value: &Value) -> Vec<Value> {
    value["lessons"].as_array().expect("lessons").clone()
}

#[test]
fn a_look_writes_nothing_at_all() {
    let class = Class::small();
    class.on(BEFORE, "check", &[]).ends(0);
    assert!(!class.holds(".rungwise"));
}

#[test]
fn what_is_not_asked_for_is_not_written() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    let before = class.contents();
    class
        .on("2027-02-09", "reschedule", &["--close", "2027-02-23"])
        .ends(0)
        .says("nothing was changed");
    class.on("2027-02-09", "reschedule", &["--lost", "2027-02-08"]).ends(0);
    class.json("2027-02-09", "pack", &["--lesson", "3"]);
    assert_eq!(class.contents(), before);
}

/// Source of the optimum: worked out by hand from the definition of a schedule's cost.
#[test]
fn a_closed_day_is_a_wish_and_goes_into_the_plan() {
    let class = Class::small();
    let first = class.json(BEFORE, "plan", &[]);
    assert_eq!(first["cost"]["total"], 1015);
    assert_eq!(first["proof"], "optimal");
    let moved = class.json("2027-02-22", "reschedule", &["--close", "2027-02-23", "--accept"]);
    assert_eq!(moved["cost"]["total"], 3095);
    assert_eq!(moved["proof"], "optimal");
    let plan = class.read("plan.toml");
    let lines = |text: &str| -> Vec<String> {
        text.lines().filter(|l| !l.is_empty()).map(str::to_owned).collect()
    };
    let (before, after) = (lines(super::class::SMALL), lines(&plan));
    assert!(plan.contains("[[closure]]\non = 2027-02-23\n"), "{plan}");
    assert!(before.iter().all(|l| after.contains(l)) && after.len() == before.len() + 2);
    // The numbers of lessons that stay are the same.
    let numbers = |value: &Value| -> Vec<(Value, Value)> {
        lessons(value).iter().map(|l| (l["date"].clone(), l["number"].clone())).collect()
    };
    let (old, new) = (numbers(&first), numbers(&moved["schedule"]));
    assert!(new.iter().all(|pair| old.contains(pair)), "{old:?}\n{new:?}");
    assert_eq!(new.len(), 8);
}

#[test]
fn a_day_opened_again_takes_the_closure_away_or_adds_an_opening() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    class.on("2027-02-09", "reschedule", &["--close", "2027-02-23", "--accept"]).ends(0);
    class.on("2027-02-09", "reschedule", &["--open", "2027-02-23", "--accept"]).ends(0);
    assert!(!class.read("plan.toml").contains("2027-02-23"), "{}", class.read("plan.toml"));
    let shown = class.json("2027-02-09", "plan", &[]);
    assert_eq!(lessons(&shown).len(), 9);
    // In the middle of a range the range is split.
    let open = class.json("2027-02-09", "reschedule", &["--open", "2027-02-17"]);
    assert_eq!(lessons(&open["schedule"]).len(), 10);
}

#[test]
fn an_opening_beats_every_calendar() {
    let class = Class::small();
    let plan = class.read("plan.toml") + "\n[[calendar]]\nfile = \"days.ics\"\n";
    class.write("plan.toml", plan);
    class.write(
        "days.ics",
        "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//x//EN\r\nBEGIN:VEVENT\r\nUID:1\r\nDTSTAMP:20270101T000000Z\r\n\
         DTSTART;VALUE=DATE:20270210\r\nSUMMARY:Day off\r\nEND:VEVENT\r\nEND:VCALENDAR\r\n",
    );
    assert_eq!(lessons(&class.json(BEFORE, "plan", &[])).len(), 8);
    class.on(BEFORE, "reschedule", &["--open", "2027-02-10", "--accept"]).ends(0);
    assert!(class.read("plan.toml").contains("[[opening]]"));
    assert_eq!(lessons(&class.json(BEFORE, "plan", &[])).len(), 9);
}

#[test]
fn a_lost_lesson_is_an_event_and_goes_into_the_journal() {
    let class = Class::small();
    let first = class.json(BEFORE, "plan", &[]);
    let plan = class.read("plan.toml");
    let lost = class.json("2027-02-10", "reschedule", &["--lost", "2027-02-09", "--accept"]);
    assert_eq!(class.read("plan.toml"), plan);
    assert!(class.read("journal.toml").contains("what = \"lost\""));
    // Its period leaves the calendar, and the lesson is free again with its number.
    assert!(lessons(&lost["schedule"]).iter().all(|l| l["date"] != "2027-02-09"));
    let number =
        lessons(&first).iter().find(|l| l["date"] == "2027-02-09").expect("a lesson")["number"]
            .clone();
    let again = lessons(&lost["schedule"]).into_iter().find(|l| l["number"] == number);
    assert!(again.is_none_or(|l| l["date"].as_str() >= Some("2027-02-10")));
    class.on("2027-02-10", "reschedule", &["--lost", "2027-02-13"]).ends(1).says("no lesson on");
    class.on("2027-02-10", "reschedule", &["--lost", "2027-02-10@10:00"]).ends(1).says("10:00");
}

#[test]
fn past_lessons_stay() {
    let class = Class::small();
    let first = lessons(&class.json(BEFORE, "plan", &[]));
    let moved = class.json("2027-02-11", "reschedule", &["--close", "2027-02-22..2027-02-23"]);
    let new = lessons(&moved["schedule"]);
    for (old, new) in first.iter().zip(&new).take(3) {
        for key in ["number", "date", "starts", "kind", "skill", "part"] {
            assert_eq!(old[key], new[key]);
        }
    }
}

#[test]
fn what_is_printed_stays_while_any_other_way_exists() {
    let class = Class::small();
    let first = lessons(&class.json(BEFORE, "plan", &[]));
    class.on("2027-02-09", "pack", &["--lesson", "7"]).ends(0);
    let moved = class.json("2027-02-09", "reschedule", &["--close", "2027-02-12"]);
    let new = lessons(&moved["schedule"]);
    let at = |list: &[Value]| list.iter().find(|l| l["number"] == 7).map(|l| l["date"].clone());
    assert_eq!(at(&new), at(&first));
}

#[test]
fn when_it_cannot_fit_it_says_which_wishes_clash_and_the_ways_out() {
    let class = Class::small();
    let plan = class.read("plan.toml").replace("revision = 1", "revision = 1\ncatch-up = 7");
    class.write("plan.toml", plan);
    let before = class.contents();
    let run = class.on(BEFORE, "plan", &["--format", "json"]).ends(1);
    let answer = run.json();
    assert_eq!(answer["proof"], "infeasible");
    assert!(!answer["clash"].as_array().expect("a list").is_empty());
    let options = answer["options"].as_array().expect("a list");
    assert!(options.iter().filter(|o| o["fits"] == true).count() >= 2, "{answer}");
    for option in options {
        for change in option["change"].as_array().expect("a list") {
            assert!(change["key"].is_string() && change.get("value").is_some(), "{option}");
        }
    }
    let text = class.on(BEFORE, "plan", &[]).ends(1).out;
    assert!(text.contains("clash") && text.contains("catch-up"), "{text}");
    assert_eq!(class.contents(), before);
}

#[test]
fn a_changed_plan_is_carried_through_by_reschedule() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    let plan = class.read("plan.toml").replace("revision = 1", "revision = 0");
    class.write("plan.toml", plan);
    class.on(BEFORE, "plan", &[]).ends(0).says("the plan has changed");
    class.on(BEFORE, "reschedule", &["--accept"]).ends(0);
    let run = class.on(BEFORE, "plan", &[]).ends(0);
    assert!(!run.err.contains("changed"), "{}", run.err);
    assert!(!run.out.contains("revision"), "{}", run.out);
}
