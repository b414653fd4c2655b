//! Everything that upsets a term, each carried through by the real binary: what is past stays, what
//! is printed stays while it can, the answer says exactly what changes, and `undo` takes it back.

use super::class::{BEFORE, Class, SHORT};
use serde_json::Value;
use std::collections::BTreeSet;

/// Seven weeks of one lesson a day, half-term in the middle: 30 periods for 18 preferred lessons.
const PLAN: &str = r#"
[class]
name = "Class 4 Teal"

[term]
starts = 2027-01-18
ends = 2027-03-05

[timetable]
monday = ["09:00-09:40"]
tuesday = ["09:00-09:40"]
wednesday = ["09:00-09:40"]
thursday = ["09:00-09:40"]
friday = ["09:00-09:40"]

[[closure]]
from = 2027-02-15
to = 2027-02-19
because = "half-term"

[unit]
ladder = "six.toml"
teach = ["d", "f"]
"#;

const LADDER: &str = r#"
[ladder]
name = "six"

[[skill]]
id = "a"
lessons = { least = 2, preferred = 3, most = 4 }

[[skill]]
id = "b"
needs = ["a"]
lessons = { least = 2, preferred = 3, most = 4 }

[[skill]]
id = "c"
needs = ["b"]
lessons = { least = 1, preferred = 3, most = 4 }

[[skill]]
id = "d"
needs = ["c"]
lessons = { least = 2, preferred = 4, most = 5 }

[[skill]]
id = "e"
needs = ["b"]
lessons = { least = 1, preferred = 2, most = 3 }

[[skill]]
id = "f"
needs = ["e"]
lessons = { least = 1, preferred = 3, most = 4 }

[[skill]]
id = "g"
needs = ["a"]
lessons = { least = 1, preferred = 2, most = 3 }
"#;

fn planned() -> Class {
    let class = Class::with(PLAN);
    class.write("six.toml", LADDER);
    class.on(BEFORE, "plan", &[]).ends(0);
    class
}

fn lessons(class: &Class, today: &str) -> Vec<Value> {
    class.json(today, "plan", &[])["lessons"].as_array().expect("lessons").clone()
}

fn at(lesson: &Value) -> (String, String) {
    let text = |key: &str| lesson[key].as_str().expect("a text").to_owned();
    (text("date"), text("starts"))
}

fn numbers(value: &Value) -> Vec<u64> {
    value.as_array().expect("a list").iter().map(|n| n.as_u64().expect("a number")).collect()
}

fn numbered(lessons: &[Value], number: u64) -> Option<&Value> {
    lessons.iter().find(|l| l["number"] == number)
}

/// A change of the plan, which must hold what is replaced.
fn edit(class: &Class, from: &str, to: &str) {
    let plan = class.read("plan.toml");
    assert!(plan.contains(from), "no `{from}` in\n{plan}");
    class.write("plan.toml", plan.replacen(from, to, 1));
}

/// Shows a change, carries it through, and holds the answer against the schedules before and after.
fn change(class: &Class, today: &str, args: &[&str]) -> Value {
    let before = lessons(class, today);
    let shown = class.json(today, "reschedule", args);
    assert_eq!(lessons(class, today), before, "only shown");
    let mut accepting = args.to_vec();
    accepting.push("--accept");
    let answer = class.json(today, "reschedule", &accepting);
    assert_eq!(shown, answer, "what is carried through is what was shown");
    let after = lessons(class, today);
    let lost: Vec<&str> = args.iter().filter_map(|a| a.get(..10)).collect();
    past_stays(&before, &after, today, &lost);
    says_what_changes(&before, &after, &answer);
    answer
}

fn past_stays(before: &[Value], after: &[Value], today: &str, lost: &[&str]) {
    let past = |l: &&Value| {
        let date = l["date"].as_str().expect("a date");
        date < today && !lost.contains(&date)
    };
    for old in before.iter().filter(past) {
        let new = numbered(after, old["number"].as_u64().expect("a number")).expect("it stays");
        for key in ["date", "starts", "minutes", "kind", "skill", "part"] {
            assert_eq!(old[key], new[key], "{old}\n{new}");
        }
    }
    assert!(after.windows(2).all(|w| at(&w[0]) < at(&w[1])), "in order of date");
}

fn says_what_changes(before: &[Value], after: &[Value], answer: &Value) {
    let number = |l: &Value| l["number"].as_u64().expect("a number");
    let all: BTreeSet<u64> = before.iter().map(number).collect();
    let (mut moved, mut dropped, mut same) = (Vec::new(), Vec::new(), 0);
    for old in before {
        match numbered(after, number(old)) {
            Some(new) if at(new) == at(old) => same += 1,
            Some(_) => moved.push(number(old)),
            None => dropped.push(number(old)),
        }
        if let Some(new) = numbered(after, number(old)) {
            assert_eq!(old["kind"], new["kind"], "a number is a name for life");
            assert_eq!(old["skill"], new["skill"], "a number is a name for life");
        }
    }
    let added: Vec<u64> = after.iter().map(number).filter(|n| !all.contains(n)).collect();
    assert!(added.iter().all(|n| all.iter().all(|old| old < n)), "new numbers only");
    let said: Vec<u64> = (answer["moves"].as_array().expect("a list").iter())
        .map(|m| m["lesson"].as_u64().expect("a number"))
        .collect();
    assert_eq!((said, numbers(&answer["dropped"])), (moved.clone(), dropped.clone()));
    assert_eq!((numbers(&answer["added"]), &answer["unchanged"]), (added, &Value::from(same)));
    let printed = |n: &u64| before.iter().any(|l| number(l) == *n && l["life"] == "printed");
    let again: Vec<u64> = moved.into_iter().filter(printed).collect();
    let unused: Vec<u64> = dropped.into_iter().filter(printed).collect();
    let upset = !again.is_empty() || !unused.is_empty();
    assert_eq!(upset, answer["cost"]["terms"]["printed-moved"] != 0, "{answer:#}");
    assert_eq!(numbers(&answer["print_again"]), again);
    assert_eq!(numbers(&answer["at_risk"]["paper_unused"]), unused);
}

/// Does a thing and takes it back: every file is as it was, but for the journal.
fn and_back(class: &Class, today: &str, args: &[&str]) -> Value {
    let files = |class: &Class| {
        let mut files = class.contents();
        files.retain(|(name, _)| name != "journal.toml" && !name.starts_with(".rungwise"));
        files
    };
    let (before, shown) = (files(class), class.json(today, "plan", &[]));
    let answer = change(class, today, args);
    class.on(today, "undo", &[]).ends(0).says("reschedule");
    assert_eq!(files(class), before);
    assert_eq!(class.json(today, "plan", &[]), shown);
    answer
}

#[test]
fn a_holiday_announced_is_closed_and_one_called_off_is_opened() {
    let class = planned();
    let closed = and_back(&class, "2027-01-27", &["--close", "2027-02-10..2027-02-12"]);
    let dates: Vec<(String, String)> =
        closed["schedule"]["lessons"].as_array().expect("lessons").iter().map(at).collect();
    assert!(dates.iter().all(|(d, _)| !("2027-02-10"..="2027-02-12").contains(&d.as_str())));
    let opened = and_back(&class, "2027-01-27", &["--open", "2027-02-15"]);
    let lessons = opened["schedule"]["lessons"].as_array().expect("lessons");
    assert!(lessons.iter().any(|l| l["date"] == "2027-02-15"));
    assert_eq!(lessons.len(), 31);
    // Both at once: a holiday that shifts by a day.
    change(&class, "2027-01-27", &["--open", "2027-02-15", "--close", "2027-02-22"]);
    assert_eq!(lessons_on(&class, "2027-02-22"), 0);
    assert_eq!(lessons_on(&class, "2027-02-15"), 1);
}

fn lessons_on(class: &Class, date: &str) -> usize {
    lessons(class, "2027-01-27").iter().filter(|l| l["date"] == date).count()
}

#[test]
fn a_holiday_that_a_calendar_file_moves_is_carried_through() {
    let class = planned();
    let day = |date: &str| {
        format!(
            "BEGIN:VCALENDAR\r\nVERSION:2.0\r\nPRODID:-//x//EN\r\nBEGIN:VEVENT\r\nUID:1\r\n\
             DTSTAMP:20270101T000000Z\r\nDTSTART;VALUE=DATE:{date}\r\nSUMMARY:Fair\r\nEND:VEVENT\r\n\
             END:VCALENDAR\r\n"
        )
    };
    class.write("days.ics", day("20270210"));
    class.write("plan.toml", format!("{PLAN}\n[[calendar]]\nfile = \"days.ics\"\n"));
    change(&class, BEFORE, &[]);
    assert_eq!((lessons_on(&class, "2027-02-10"), lessons_on(&class, "2027-02-11")), (0, 1));
    class.write("days.ics", day("20270211"));
    let answer = change(&class, "2027-01-27", &[]);
    assert_eq!((lessons_on(&class, "2027-02-10"), lessons_on(&class, "2027-02-11")), (1, 0));
    // One lesson can take the other's place: nothing else has to move.
    assert_eq!(answer["moves"].as_array().expect("a list").len(), 1, "{answer:#}");
}

#[test]
fn a_lost_day_uses_up_room_before_it_costs_a_lesson() {
    let class = planned();
    let answer = and_back(&class, "2027-01-27", &["--lost", "2027-01-26"]);
    assert_eq!(answer["at_risk"]["thinner"], serde_json::json!([]));
    let margin = |when: &str| answer["at_risk"][when]["catch_ups"].as_u64().expect("a number");
    assert_eq!(margin("margin_after") + 1, margin("margin_before"), "{:#}", answer["at_risk"]);
    assert_eq!(answer["cost"]["terms"]["short"], 0);
}

#[test]
fn a_class_that_is_behind_gets_more_lessons_and_one_ahead_fewer() {
    let class = planned();
    let had = |class: &Class, skill: &str| {
        lessons(class, "2027-01-27").iter().filter(|l| l["skill"] == skill).count()
    };
    let first = had(&class, "d");
    edit(&class, "[unit]", "[unit.lessons]\nd = { least = 5 }\n\n[unit]");
    change(&class, "2027-01-27", &[]);
    assert_eq!((first, had(&class, "d")), (4, 5));
    edit(&class, "d = { least = 5 }", "d = { least = 1, preferred = 2, most = 2 }");
    let answer = change(&class, "2027-01-28", &[]);
    assert_eq!(had(&class, "d"), 2);
    assert_eq!(answer["at_risk"]["thinner"][0]["skill"], "d");
    assert_eq!(answer["at_risk"]["thinner"][0]["before"], 5);
    assert_eq!(answer["at_risk"]["thinner"][0]["after"], 2);
    // The pace stretches what is printed and asks for more lessons, but moves none by itself.
    edit(&class, "[term]", "pace = 1.5\n\n[term]");
    class.on("2027-01-28", "check", &[]).ends(0).says("this pace calls for more lessons");
    let answer = change(&class, "2027-01-28", &[]);
    assert_eq!(answer["moves"], serde_json::json!([]));
}

#[test]
fn a_test_that_moves_takes_its_revision_along() {
    let class = planned();
    edit(&class, "teach =", "test = 2027-03-02\nteach =");
    let answer = change(&class, "2027-01-27", &[]);
    let after = lessons(&class, "2027-01-27");
    let test = after.iter().position(|l| l["kind"] == "unit-test").expect("a test");
    assert_eq!(after[test]["date"], "2027-03-02");
    assert_eq!(after[..test].iter().filter(|l| l["kind"] == "revision").count(), 2);
    assert!(after[test + 1..].iter().all(|l| l["kind"] == "catch-up"));
    assert_eq!(answer["proof"], "optimal");
    edit(&class, "test = 2027-03-02", "test = \"none\"");
    let answer = change(&class, "2027-01-27", &[]);
    assert!(lessons(&class, "2027-01-27").iter().all(|l| l["kind"] != "unit-test"));
    assert_eq!(answer["dropped"].as_array().expect("a list").len(), 1, "{answer:#}");
}

#[test]
fn a_skill_found_known_or_added_changes_no_more_than_it_must() {
    let class = planned();
    let before = lessons(&class, "2027-01-27");
    let skill = |lessons: &[Value], id: &str| lessons.iter().filter(|l| l["skill"] == id).count();
    assert!(before.iter().any(|l| l["skill"] == "a" && l["date"].as_str() < Some("2027-01-27")));
    edit(&class, "teach =", "secure = [\"e\"]\nteach =");
    let answer = change(&class, "2027-01-27", &[]);
    let after = lessons(&class, "2027-01-27");
    // What `e` needs is known with it, but its lessons that were held stay on record.
    let held = |id: &str| {
        before
            .iter()
            .filter(|l| l["skill"] == id && l["date"].as_str() < Some("2027-01-27"))
            .count()
    };
    assert_eq!((skill(&after, "e"), skill(&after, "a")), (held("e"), held("a")), "{answer:#}");
    edit(&class, "[\"d\", \"f\"]", "[\"d\", \"f\", \"g\"]");
    let answer = change(&class, "2027-01-27", &[]);
    assert!(skill(&lessons(&class, "2027-01-27"), "g") >= 2, "{answer:#}");
    let terms = &answer["cost"]["terms"];
    assert_eq!((&terms["printed-moved"], &terms["order"]), (&Value::from(0), &Value::from(0)));
}

#[test]
fn a_timetable_that_changes_in_mid_term_keeps_what_was_held_at_the_old_times() {
    let class = planned();
    edit(&class, "tuesday = [\"09:00-09:40\"]", "tuesday = [\"13:00-13:40\"]");
    let answer = change(&class, "2027-02-01", &[]);
    let after = lessons(&class, "2027-02-01");
    let times = |late: bool| -> BTreeSet<String> {
        let tuesday = |l: &&Value| {
            ["2027-01-19", "2027-01-26", "2027-02-02", "2027-02-09", "2027-02-23", "2027-03-02"]
                .contains(&l["date"].as_str().expect("a date"))
                && (l["date"].as_str() >= Some("2027-02-01")) == late
        };
        after.iter().filter(tuesday).map(|l| at(l).1).collect()
    };
    assert_eq!((times(false), times(true)), (["09:00".into()].into(), ["13:00".into()].into()));
    // A lesson that only changes its time of day moves, and no other does.
    let same_day = |m: &Value| m["from"]["date"] == m["to"]["date"];
    assert!(answer["moves"].as_array().expect("a list").iter().all(same_day), "{answer:#}");
    edit(&class, "thursday = [\"09:00-09:40\"]\n", "");
    change(&class, "2027-02-03", &[]);
    let thursdays = ["2027-02-04", "2027-02-11", "2027-02-25", "2027-03-04"];
    assert!(thursdays.iter().all(|d| lessons_on(&class, d) == 0));
    assert_eq!(lessons_on(&class, "2027-01-21"), 1);
}

#[test]
fn a_lesson_printed_and_then_lost_is_free_again_with_its_number() {
    let class = planned();
    // The first lesson of a skill: the next takes over its number, whatever becomes of the rest.
    let first = lessons(&class, BEFORE)
        .into_iter()
        .find(|l| l["part"] == 1 && l["skill"] == "c")
        .expect("a first lesson of c");
    let (number, (today, _)) = (first["number"].as_u64().expect("a number"), at(&first));
    class.on(&today, "pack", &["--lesson", &number.to_string()]).ends(0);
    let pack = class.read(&format!("packs/L{number:02}/pack.json"));
    let later = "2027-01-29";
    assert!(today.as_str() < later, "{today}");
    let answer = class.json(later, "reschedule", &["--lost", &today, "--accept"]);
    let after = lessons(&class, later);
    let again = numbered(&after, number).expect("its skill still needs it");
    assert!(again["date"].as_str() > Some(today.as_str()), "{again}");
    assert_eq!((&again["skill"], &again["part"]), (&"c".into(), &1.into()));
    assert_eq!(numbers(&answer["print_again"]), [number]);
    assert_eq!(class.read(&format!("packs/L{number:02}/pack.json")), pack, "printed files stay");
    assert!(class.read("journal.toml").contains("what = \"lost\""));
    // It is printed already: on the very day it counts as taught.
    let life = if again["date"] == later { "past" } else { "printed" };
    assert_eq!(again["life"], life, "{again}");
}

#[test]
fn a_printed_lesson_whose_skill_goes_is_dropped_and_its_paper_is_named() {
    let class = planned();
    let today = "2027-02-08";
    let first_f = lessons(&class, today)
        .iter()
        .find(|l| l["skill"] == "f" && l["date"].as_str() > Some(today))
        .and_then(|l| l["number"].as_u64())
        .expect("a lesson of f to come");
    class.on(today, "pack", &["--lesson", &first_f.to_string()]).ends(0);
    edit(&class, "[\"d\", \"f\"]", "[\"d\"]");
    let text = class.on(today, "reschedule", &[]).ends(0).out;
    let said = format!("lesson {first_f}: it is dropped, its paper is not used");
    assert!(text.contains(&said), "{text}");
    let answer = change(&class, today, &[]);
    assert_eq!(numbers(&answer["at_risk"]["paper_unused"]), [first_f]);
    assert_eq!(answer["cost"]["terms"]["printed-moved"], 100_000);
    // Its number is not used again, and its pack stays.
    assert!(numbered(&lessons(&class, today), first_f).is_none());
    assert!(class.holds(&format!("packs/L{first_f:02}/pack.json")));
}

#[test]
fn what_is_printed_stays_while_the_rest_makes_way() {
    let class = planned();
    let today = "2027-02-01";
    for number in ["12", "13", "14", "16"] {
        class.on(today, "pack", &["--lesson", number]).ends(0);
    }
    for args in [["--close", "2027-02-05"], ["--close", "2027-02-10"], ["--lost", "2027-01-29"]] {
        let answer = and_back(&class, today, &args);
        let gone = answer["cost"]["terms"]["printed-moved"].as_i64().expect("a number") / 100_000;
        // Only a printed lesson on the very day that is closed has to go.
        let before = lessons(&class, today);
        let on_it = |l: &&Value| l["life"] == "printed" && l["date"] == args[1];
        let must = before.iter().filter(on_it).count();
        assert_eq!(usize::try_from(gone), Ok(must), "{args:?} {answer:#}");
    }
}

#[test]
fn a_marked_lesson_stays_and_cannot_be_told_lost() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    let first = lessons(&class, BEFORE)[0].clone();
    assert_eq!(first["date"], "2027-01-11");
    class.on("2027-01-11", "pack", &["--lesson", "1"]).ends(0);
    let blank = class.on("2027-01-11", "mark", &["--lesson", "1", "--blank"]).ends(0).out;
    class.write("answers.csv", blank);
    let file = class.dir().join("answers.csv").display().to_string();
    class.on("2027-01-11", "mark", &["--lesson", "1", &file]).ends(0);
    let marks = class.read("marks/L01.csv");
    class.on("2027-01-12", "reschedule", &["--lost", "2027-01-11"]).ends(1).says("has marks");
    and_back(&class, "2027-01-12", &["--close", "2027-01-13"]);
    change(&class, "2027-01-12", &["--close", "2027-01-13"]);
    let after = lessons(&class, "2027-01-12");
    assert_eq!((&after[0]["number"], &after[0]["life"]), (&first["number"], &"marked".into()));
    assert_eq!(class.read("marks/L01.csv"), marks);
}

#[test]
fn three_breaks_split_no_skill_that_can_stay_whole() {
    let class = planned();
    let args = ["--close", "2027-01-28..2027-02-02", "--close", "2027-02-25..2027-03-02"];
    let answer = change(&class, "2027-01-20", &args);
    let periods = answer["schedule"]["periods"].as_array().expect("periods");
    assert_eq!(periods.iter().filter(|p| p["break_before"] == true).count(), 3);
    assert_eq!(answer["proof"], "optimal");
    // The plan's closures are three now, and the terms speak of the new breaks.
    assert_eq!(class.read("plan.toml").matches("[[closure]]").count(), 3);
}

#[test]
fn twice_in_a_row_the_second_change_knows_only_the_schedule_in_force() {
    let class = planned();
    let first = change(&class, "2027-01-27", &["--close", "2027-02-03"]);
    let nothing = change(&class, "2027-01-27", &[]);
    assert_eq!(nothing["moves"], serde_json::json!([]));
    for term in ["moved", "soon-moved", "printed-moved", "order"] {
        assert_eq!(nothing["cost"]["terms"][term], 0, "{nothing:#}");
    }
    let kept = |answer: &Value| {
        let terms = answer["cost"]["terms"].as_object().expect("terms").clone();
        let moves = ["moved", "soon-moved", "printed-moved", "order"];
        terms.into_iter().filter(|(k, _)| !moves.contains(&k.as_str())).collect::<Vec<_>>()
    };
    assert_eq!(kept(&first), kept(&nothing));
    change(&class, "2027-01-28", &["--lost", "2027-01-27"]);
    change(&class, "2027-02-09", &["--close", "2027-02-10"]);
    for said in ["reschedule", "reschedule", "reschedule", "reschedule", "plan"] {
        class.on("2027-02-09", "undo", &[]).ends(0).says(said);
    }
    assert_eq!(class.read("plan.toml"), PLAN);
    assert!(!class.holds("schedule.toml"));
}

#[test]
fn the_text_shows_before_and_after_what_is_at_risk_and_what_to_print_again() {
    let class = planned();
    let today = "2027-02-01";
    class.on(today, "pack", &["--lesson", "14"]).ends(0);
    let run = class.on(today, "reschedule", &["--close", "2027-02-04..2027-02-08"]).ends(0);
    let text = run.says("`--accept` carries it through").out.replace(&class.arg(), "DIR");
    let shown: Vec<&str> = text.lines().skip(2).take_while(|l| !l.starts_with("Cheaper")).collect();
    insta::assert_snapshot!(shown.join("\n"), @r#"
          before             after              (* changes)
    * 12  Tue 2 Feb 09:00    dropped            Catch-up
    * 13  Wed 3 Feb 09:00    Tue 2 Feb 09:00    D, part 1
    * 14  Thu 4 Feb 09:00    Wed 3 Feb 09:00    D, part 2
    * 15  Fri 5 Feb 09:00    dropped            Catch-up
    * 16  Mon 8 Feb 09:00    Tue 9 Feb 09:00    D, part 3
    * 17  Tue 9 Feb 09:00    Wed 10 Feb 09:00   D, part 4
    * 18  Wed 10 Feb 09:00   dropped            Catch-up
    23 lessons stay where they are.

    At risk
      No skill loses a lesson.
      Room before the test: 4 catch-ups to come (before: 7), 4 lessons after the last new one.

    Printed already
      lesson 14: its paper says Thu 4 Feb; `rungwise pack DIR --lesson 14 --afresh` prints it again
    "#);
}

/// The ladder's outcomes are named when a lesson that serves them goes.
#[test]
fn the_text_names_the_outcomes_that_lose_lessons() {
    let class = planned();
    let ladder = LADDER.replace("id = \"e\"", "id = \"e\"\noutcomes = [\"ccssm:4.NBT.B.5\"]");
    class.write("six.toml", ladder);
    edit(&class, "teach = [\"d\", \"f\"]", "teach = [\"d\"]");
    let text = class.on("2027-02-01", "reschedule", &[]).ends(0).out;
    let row = "“E”: not taught any more (before: 2); serves 4.NBT.B.5 (ccssm)";
    assert!(text.contains(row), "{text}");
    assert!(text.contains("No lesson serves 4.NBT.B.5 (ccssm) any more."), "{text}");
    let answer = class.json("2027-02-01", "reschedule", &[]);
    assert_eq!(answer["at_risk"]["outcomes_lost"], serde_json::json!(["ccssm:4.NBT.B.5"]));
}

#[test]
fn nearly_all_of_a_term_closed_beside_a_fixed_lesson_still_leaves_two_ways() {
    let class = planned();
    edit(
        &class,
        "teach = [\"d\", \"f\"]",
        "teach = [\"d\", \"f\"]\ntest = 2027-03-04\nfixed = [{ date = 2027-02-25, kind = \"catch-up\" }]",
    );
    class.on(BEFORE, "reschedule", &["--accept"]).ends(0);
    // Two days left, and one day left that is not the test's.
    for days in ["2027-01-25..2027-03-03", "2027-01-22..2027-03-04"] {
        let args = ["--close", days, "--format", "json"];
        let answer = class.on("2027-01-21", "reschedule", &args).ends(1).json();
        let ways = answer["options"].as_array().expect("a list");
        assert!(ways.iter().filter(|w| w["fits"] == true).count() >= 2, "{answer:#}");
    }
}

#[test]
fn days_that_change_nothing_or_are_meant_otherwise_are_named() {
    let class = planned();
    let on = |args: &[&str]| class.on("2027-01-21", "reschedule", args).ends(0);
    on(&["--close", "2027-02-16"]).says("there is no lesson on Tuesday 16 February");
    on(&["--close", "2027-04-01..2027-04-09"]).says("from Thursday 1 April to Friday 9 April");
    on(&["--open", "2027-02-20"]).says("Saturday 20 February has no lesson even when open");
    on(&["--lost", "2027-01-25"]).says("Monday 25 January is still to come");
    let quiet = on(&["--close", "2027-01-26", "--open", "2027-02-16", "--lost", "2027-01-20"]);
    assert!(!quiet.err.contains("warning"), "{}", quiet.err);
}

#[test]
fn check_names_fixed_lessons_and_tests_on_days_without_lessons() {
    let class = planned();
    class.on(BEFORE, "check", &[]).ends(0);
    edit(
        &class,
        "teach = [\"d\", \"f\"]",
        "teach = [\"d\", \"f\"]\ntest = 2027-02-17\nfixed = [\n\
         { date = 2027-02-06, kind = \"catch-up\" },\n\
         { date = 2027-02-09, starts = \"10:00\", kind = \"catch-up\" },\n\
         { date = 2027-02-10, kind = \"catch-up\" },\n]",
    );
    let run = class.on(BEFORE, "check", &[]).ends(0);
    let run = run.says("`unit.test`: there is no lesson on Wednesday 17 February");
    let run = run.says("the nearest days with one: Friday 12 February and Monday 22 February");
    let run = run.says("a lesson in `unit.fixed`: there is no lesson on Saturday 6 February");
    let run = run.says("no period of Tuesday 9 February begins at 10:00");
    assert!(!run.err.contains("10 February"), "{}", run.err);
}

#[test]
fn a_skill_in_the_schedule_that_the_ladder_lacks_is_named() {
    let class = planned();
    class.on(BEFORE, "reschedule", &["--close", "2027-01-26", "--accept"]).ends(0);
    let text = class.read("schedule.toml");
    class.write("schedule.toml", text.replacen("skill = \"b\"", "skill = \"zz\"", 1));
    class.on(BEFORE, "plan", &[]).ends(0).says("teaches `zz`, which the ladder lacks");
    class.on(BEFORE, "reschedule", &["--accept"]).ends(0);
    let run = class.on(BEFORE, "plan", &[]).ends(0);
    assert!(!run.err.contains("zz") && !run.out.contains("zz"), "{}{}", run.err, run.out);
}
