//! Kinds of lesson and the life of a lesson.

use super::class::{BEFORE, Class, SHORT};
use serde_json::Value;
use std::collections::BTreeSet;

fn packs(class: &Class) -> Vec<Value> {
    class.json(BEFORE, "pack", &["--all"]).as_array().expect("packs").clone()
}

fn names(pack: &Value) -> BTreeSet<&str> {
    sections(pack).iter().filter_map(|s| s["name"].as_str()).collect()
}

fn sections(pack: &Value) -> &Vec<Value> {
    pack["sections"].as_array().expect("sections")
}

fn items<'a>(pack: &'a Value, name: &str) -> Vec<&'a Value> {
    let of_name = sections(pack).iter().filter(|s| s["name"] == name);
    of_name.flat_map(|s| s["items"].as_array().expect("items")).collect()
}

/// What every lesson of a kind always holds, and what it never does.
#[test]
fn a_lesson_of_each_kind_holds_what_the_table_says() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    let packs = packs(&class);
    let mut seen = BTreeSet::new();
    for pack in &packs {
        let kind = pack["kind"].as_str().expect("a kind");
        seen.insert(kind.to_owned());
        let (always, never): (&[&str], &[&str]) = match kind {
            "teach" if pack["part"] == 1 => {
                (&["warm-up", "examples", "guided", "practice", "exit-check"], &["test"])
            }
            "teach" => (
                &["warm-up", "examples", "guided", "practice", "exit-check", "homework"],
                &["test"],
            ),
            "catch-up" => (&["warm-up", "guided", "practice"], &["test"]),
            "revision" => {
                (&["warm-up", "practice", "exit-check", "homework"], &["test", "examples"])
            }
            _ => (
                &["test"],
                &["warm-up", "examples", "guided", "practice", "exit-check", "homework"],
            ),
        };
        let names = names(pack);
        for name in always {
            assert!(
                names.contains(name),
                "lesson {} ({kind}) has no {name}: {names:?}",
                pack["lesson"]
            );
        }
        for name in never {
            assert!(!names.contains(name), "lesson {} ({kind}) has a {name}", pack["lesson"]);
        }
        for section in sections(pack) {
            assert!(
                !section["items"].as_array().expect("items").is_empty(),
                "{}: {}",
                pack["lesson"],
                section["name"]
            );
        }
    }
    assert_eq!(seen.len(), 4, "{seen:?}");
}

#[test]
fn practice_comes_in_three_levels() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    for pack in packs(&class).iter().filter(|p| p["kind"] == "teach") {
        let levels: Vec<&Value> = sections(pack)
            .iter()
            .filter(|s| s["name"] == "practice")
            .map(|s| &s["level"])
            .collect();
        assert_eq!(levels, ["support", "core", "stretch"], "lesson {}", pack["lesson"]);
    }
}

#[test]
fn item_ids_say_lesson_and_section_and_are_given_once() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    for pack in packs(&class) {
        let mut ids = BTreeSet::new();
        for section in sections(&pack) {
            let letter = match (section["name"].as_str(), section["level"].as_str()) {
                (_, Some("support")) => "Q",
                (_, Some("core")) => "K",
                (_, Some("stretch")) => "V",
                (Some("warm-up"), _) => "W",
                (Some("examples"), _) => "E",
                (Some("guided"), _) => "G",
                (Some("exit-check"), _) => "X",
                (Some("homework"), _) => "H",
                _ => "T",
            };
            let lesson = pack["lesson"].as_u64().expect("a number");
            for (n, item) in (1..).zip(section["items"].as_array().expect("items")) {
                let id = item["id"].as_str().expect("an id");
                assert_eq!(id, format!("L{lesson:02}-{letter}{n}"));
                assert!(ids.insert(id.to_owned()), "{id} twice");
            }
        }
    }
}

#[test]
fn version_b_has_other_numbers_its_own_ids_and_its_own_folder() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    let pack =
        |version| class.json(BEFORE, "pack", &["--lesson", "9", "--version", version])[0].clone();
    let (a, b) = (pack("A"), pack("B"));
    assert_eq!(b["version"], "B");
    let prompts = |pack: &Value| -> Vec<Value> {
        items(pack, "exit-check").iter().map(|i| i["prompt"].clone()).collect()
    };
    assert_ne!(prompts(&a), prompts(&b));
    assert!(
        items(&b, "exit-check").iter().all(|i| i["id"].as_str().expect("id").starts_with("L09B-X"))
    );
    class.on(BEFORE, "pack", &["--lesson", "9", "--version", "B"]).ends(0);
    assert!(class.holds("packs/L09B/pack.json") && !class.holds("packs/L09/pack.json"));
}

#[test]
fn the_exit_check_of_a_written_skill_has_three_written_or_row_items() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    let mut seen = 0;
    for pack in packs(&class).iter().filter(|p| p["skill"] == "long-two-by-two") {
        let written = items(pack, "exit-check")
            .iter()
            .filter(|i| i["kind"] == "written" || i["kind"] == "row")
            .count();
        assert!(written >= 3, "lesson {}: {written}", pack["lesson"]);
        seen += 1;
    }
    assert!(seen > 0);
}

#[test]
fn a_pack_is_files_with_the_document_written_last() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    class.on(BEFORE, "pack", &["--lesson", "2"]).ends(0);
    for file in [
        "teacher.pdf",
        "pupil-Q.pdf",
        "pupil-K.pdf",
        "pupil-V.pdf",
        "slips.pdf",
        "key.pdf",
        "pack.json",
    ] {
        assert!(class.holds(&format!("packs/L02/{file}")), "{file}");
    }
    assert!(!class.holds("packs/L02/test.pdf"));
}

#[test]
fn the_next_lesson_is_the_first_from_today_that_is_not_printed() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    let first = class.on("2027-01-11", "pack", &[]).ends(0);
    assert!(first.out.contains("L01"), "{}", first.out);
    let second = class.on("2027-01-11", "pack", &[]).ends(0);
    assert!(second.out.contains("L02") && second.out.contains("pupil-K.pdf"), "{}", second.out);
    assert!(second.out.contains("Copy"), "{}", second.out);
}

#[test]
fn a_day_and_a_week_are_packed_whole() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    let day = class.json(BEFORE, "pack", &["--day", "2027-01-13"]);
    assert_eq!(day.as_array().map(Vec::len), Some(2), "a double");
    let week = class.json(BEFORE, "pack", &["--week", "2027-01-17"]);
    assert_eq!(week.as_array().map(Vec::len), Some(6), "Sunday belongs to the week before");
    class.on(BEFORE, "pack", &["--day", "2027-01-16"]).ends(1).says("no lesson on");
    class.on(BEFORE, "pack", &["--day", "2027-01-13", "--all"]).ends(2);
}

#[test]
fn what_was_printed_stays_true() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    class.on(BEFORE, "pack", &["--lesson", "5"]).ends(0);
    let printed = class.contents();
    class.write("plan.toml", SHORT.replace("Class 5 Heron", "Class 5 Plover"));
    class.on(BEFORE, "pack", &["--lesson", "5"]).ends(0);
    let again = class.contents();
    let packs = |files: &[(String, Vec<u8>)]| -> Vec<(String, Vec<u8>)> {
        files.iter().filter(|(name, _)| name.starts_with("packs/")).cloned().collect()
    };
    assert_eq!(packs(&again), packs(&printed));
    class.on(BEFORE, "pack", &["--lesson", "5", "--afresh"]).ends(0);
    assert!(class.read("packs/L05/pack.json").contains("Class 5 Plover"));
}

#[test]
fn what_was_printed_can_be_printed_again_even_when_its_lesson_was_dropped() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    class.on(BEFORE, "pack", &["--lesson", "7"]).ends(0);
    class.on(BEFORE, "plan", &["--afresh", "--even-so"]).ends(0);
    class.on(BEFORE, "pack", &["--lesson", "7"]).ends(0);
    class.on(BEFORE, "pack", &["--lesson", "6"]).ends(1).says("there is no lesson 6");
}

#[test]
fn a_draft_is_not_printed_and_out_records_nothing() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    let journal = class.read("journal.toml");
    class.on(BEFORE, "pack", &["--lesson", "3", "--draft"]).ends(0);
    assert!(class.holds("packs/L03/key.pdf"));
    let out = class.beside("out").display().to_string();
    class.on(BEFORE, "pack", &["--lesson", "4", "--out", &out]).ends(0);
    assert!(class.beside("out/L04/key.pdf").exists() && !class.holds("packs/L04"));
    assert_eq!(class.read("journal.toml"), journal);
}

#[test]
fn a_lesson_is_planned_then_printed_then_past() {
    let class = Class::with(SHORT);
    let life = |today: &str, number: usize| {
        class.json(today, "plan", &[])["lessons"][number - 1]["life"]
            .as_str()
            .expect("a word")
            .to_owned()
    };
    assert_eq!(life(BEFORE, 1), "planned");
    class.on(BEFORE, "pack", &["--lesson", "1"]).ends(0);
    assert_eq!(life(BEFORE, 1), "printed");
    // Today and printed counts as taught; today and not printed does not.
    assert_eq!(life("2027-01-11", 1), "past");
    assert_eq!(
        (life("2027-01-12", 1), life("2027-01-12", 2)),
        ("past".to_owned(), "planned".to_owned())
    );
    class.on(BEFORE, "undo", &[]).ends(0);
    assert_eq!(life(BEFORE, 1), "planned");
    assert!(class.holds("packs/L01/key.pdf"), "printed files stay");
}

#[test]
fn a_skill_without_a_maker_is_planned_and_pack_says_what_is_missing() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    let run = class.on(BEFORE, "pack", &["--lesson", "1"]).ends(0);
    assert!(run.err.contains("“A”"), "{}", run.err);
    assert!(class.holds("packs/L01/teacher.pdf"));
}

#[test]
fn the_same_pack_is_the_same_bytes() {
    let (one, two) = (Class::with(SHORT), Class::with(SHORT));
    for class in [&one, &two] {
        class.on(BEFORE, "plan", &[]).ends(0);
        class.on(BEFORE, "pack", &["--week", "2027-01-18"]).ends(0);
    }
    let packs = |class: &Class| -> Vec<(String, Vec<u8>)> {
        class.contents().into_iter().filter(|(name, _)| name.starts_with("packs/")).collect()
    };
    assert_eq!(packs(&one), packs(&two));
}

#[test]
fn a_swap_is_remembered_taken_back_and_refused_once_printed() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    let plan = class.json(BEFORE, "plan", &[]);
    let lessons = plan["lessons"].as_array().expect("lessons").clone();
    let number =
        lessons.iter().find(|l| l["skill"] == "long-two-by-two").expect("it")["number"].clone();
    let id = format!("L{:02}-K2", number.as_u64().expect("a number"));
    let number = number.to_string();
    let pack = || class.json(BEFORE, "pack", &["--lesson", &number])[0].clone();
    let prompt = |pack: &Value| {
        items(pack, "practice").iter().find(|i| i["id"] == id.as_str()).expect("it")["prompt"]
            .clone()
    };
    let first = pack();
    // As JSON it is shown and nothing is written.
    let before = class.contents();
    let shown = class.json(BEFORE, "pack", &["--swap", &id.to_lowercase()])[0].clone();
    assert_ne!(prompt(&first), prompt(&shown));
    assert_eq!(class.contents(), before);
    class.on(BEFORE, "pack", &["--swap", &id]).ends(0);
    let swapped = pack();
    assert_ne!(prompt(&first), prompt(&swapped));
    class.on(BEFORE, "undo", &[]).ends(0);
    assert_eq!(pack(), first);
    class.on(BEFORE, "pack", &["--lesson", &number]).ends(0);
    class.on(BEFORE, "pack", &["--swap", &id]).ends(1).says("is printed");
    class.on(BEFORE, "pack", &["--swap", "K1"]).ends(2);
}

#[test]
fn a_pack_file_with_a_wrong_answer_in_it_is_neither_printed_nor_marked_against() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    class.on(BEFORE, "pack", &["--lesson", "9"]).ends(0);
    let pack = class.json(BEFORE, "pack", &["--lesson", "9"])[0].clone();
    let answer = items(&pack, "exit-check")[0]["answer"].as_str().expect("an answer").to_owned();
    let text = class.read("packs/L09/pack.json");
    let quoted = |answer: &str| format!("\"answer\": \"{answer}\"");
    assert!(text.contains(&quoted(&answer)));
    class.write("packs/L09/pack.json", text.replace(&quoted(&answer), &quoted("1234567891")));
    let before = class.contents();
    class.on(BEFORE, "pack", &["--lesson", "9"]).ends(1).says("no longer sound").says("--afresh");
    class.on(BEFORE, "mark", &["--lesson", "9", "--blank"]).ends(1).says("no longer sound");
    assert_eq!(class.contents(), before);
}
