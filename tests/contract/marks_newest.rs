//! The newest check decides: what an earlier one showed and this one does not is nowhere left; and the
//! two versions of a check are marked as one class.

use super::class::{BEFORE, Class, SHORT};
use super::marks::{right, table};
use super::marks_demo::by_pattern;
use serde_json::Value;

const CARRIES: &str = "carry-not-added";

/// A class of twelve, with the numbers of its two lessons of two digits by one; a catch-up follows.
fn demo() -> (Class, Vec<String>) {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    let plan = class.json(BEFORE, "plan", &[]);
    let lessons = plan["lessons"].as_array().expect("lessons").iter();
    let own = lessons.filter(|l| l["skill"] == "short-two-by-one");
    let numbers = own.map(|l| l["number"].to_string()).collect();
    (class, numbers)
}

/// The items of a pack's exit check.
fn check(class: &Class, lesson: &str, version: &str) -> Vec<Value> {
    let args = ["--lesson", lesson, "--version", version];
    class.on(BEFORE, "pack", &args).ends(0);
    let pack = class.json(BEFORE, "pack", &args);
    let sections = pack[0]["sections"].as_array().expect("sections").clone();
    let check = sections.into_iter().find(|s| s["name"] == "exit-check").expect("a check");
    check["items"].as_array().expect("items").clone()
}

fn file(class: &Class, name: &str, items: &[Value], rows: &[(String, Vec<String>)]) -> String {
    let rows: Vec<(&str, Vec<String>)> =
        rows.iter().map(|(pupil, answers)| (pupil.as_str(), answers.clone())).collect();
    class.write(name, table(items, &rows));
    class.dir().join(name).display().to_string()
}

/// The first so many of twelve pupils do not add what they carry.
fn slips(items: &[Value], wrong: usize) -> Vec<(String, Vec<String>)> {
    let answers = |n: usize| if n <= wrong { by_pattern(items, CARRIES) } else { right(items) };
    (1..=12).map(|n| (n.to_string(), answers(n))).collect()
}

/// Of a pack: what its teacher's page says of marks, and its warm-up.
fn told(class: &Class, lesson: &str) -> String {
    let pack = class.json(BEFORE, "pack", &["--lesson", lesson, "--draft"]);
    let sections = pack[0]["sections"].as_array().expect("sections");
    format!("{:#}{:#}", pack[0]["teacher"], sections[0])
}

#[test]
fn nothing_is_left_of_a_mistake_that_the_newest_check_does_not_show() {
    let (class, numbers) = demo();
    let catch_up = (numbers[1].parse::<u32>().expect("a number") + 1).to_string();
    let [first, second] = [0, 1].map(|n| check(&class, &numbers[n], "A"));
    let before = told(&class, &catch_up);

    let wrong = file(&class, "a.csv", &first, &slips(&first, 9));
    class.on(BEFORE, "mark", &["--lesson", &numbers[0], &wrong]).ends(0);
    let marked = class.json(BEFORE, "pack", &["--lesson", &catch_up, "--draft"]);
    assert!(
        marked[0]["teacher"]["sheets"].to_string().contains(CARRIES),
        "{:#}",
        marked[0]["teacher"]
    );
    let with_mistake = told(&class, &catch_up);
    assert!(with_mistake != before);

    let all_right = file(&class, "b.csv", &second, &slips(&second, 0));
    let marking = class.json(BEFORE, "mark", &["--lesson", &numbers[1], &all_right]);
    assert_eq!(marking["class"]["decision"], "go-on");
    assert!(marking["groups"].as_array().is_some_and(Vec::is_empty), "{:#}", marking["groups"]);
    assert!(!marking["pupils"].to_string().contains(CARRIES));
    assert!(told(&class, &catch_up) == before, "its warm-up and its page");
    class
        .on(BEFORE, "pack", &["--lesson", &numbers[1], "--group", "all"])
        .ends(1)
        .says("no pattern is shared");

    class.on(BEFORE, "undo", &[]).ends(0).says("mark");
    assert!(told(&class, &catch_up) == with_mistake, "undo brings it back");
    // Whoever makes it once more in the second check is held to all of the evidence.
    let mut rows = slips(&second, 0);
    rows[4].1 = by_pattern(&second, CARRIES);
    let once = file(&class, "c.csv", &second, &rows);
    let marking = class.json(BEFORE, "mark", &["--lesson", &numbers[1], &once]);
    let five = marking["pupils"].as_array().expect("pupils").iter().find(|p| p["pupil"] == "5");
    let items = five.expect("marked")["patterns"][0]["items"].as_array().expect("items").len();
    assert!(items > second.len(), "{marking:#}");
    let alone: Vec<Vec<Value>> = ["groups", "waiting"]
        .iter()
        .flat_map(|key| marking[*key].as_array().expect("groups"))
        .map(|group| group["pupils"].as_array().expect("pupils").clone())
        .collect();
    assert_eq!(alone, [[Value::from("5")]]);
}

#[test]
fn half_of_a_class_with_version_a_and_half_with_b_are_one_class() {
    let (class, numbers) = demo();
    let [a, b] = ["A", "B"].map(|version| check(&class, &numbers[0], version));
    let half = |items: &[Value], even: bool| -> Vec<(String, Vec<String>)> {
        let all = slips(items, 4).into_iter().enumerate();
        // The last two of the class were away.
        let own = all.filter(|(n, _)| (n % 2 == 1) == even && *n < 10).map(|(_, row)| row);
        own.collect()
    };
    let of_a = file(&class, "a.csv", &a, &half(&a, false));
    let of_b = file(&class, "b.csv", &b, &half(&b, true));
    let mark = |version: &str, file: &str| {
        let args = ["--lesson", numbers[0].as_str(), "--version", version, file];
        class.json(BEFORE, "mark", &args)
    };
    let alone = mark("A", &of_a);
    assert_eq!(alone["absent"].as_array().map(Vec::len), Some(7));
    let said = class.on(BEFORE, "mark", &["--lesson", &numbers[0], &of_a]).ends(0).out;
    assert!(said.contains("if they wrote version B"), "{said}");
    let marking = mark("B", &of_b);
    assert_eq!(marking["versions"], serde_json::json!(["A", "B"]));
    assert_eq!(marking["absent"], serde_json::json!(["11", "12"]));
    assert_eq!(marking["class"]["pass_share"], 0.6);
    assert_eq!(marking["groups"][0]["pupils"].as_array().map(Vec::len), Some(4));
    assert_eq!(mark("A", &of_a)["groups"], marking["groups"], "the same from either side");
    let list = class.on(BEFORE, "pack", &["--lesson", &numbers[0], "--group", "all"]).ends(0).out;
    assert!(list.contains("4 ×  group-1.pdf") && list.contains("2 ×  group-absent.pdf"), "{list}");
    // A pupil in both files is a doubt with its place; the rest is read.
    let mut rows = half(&b, true);
    rows.push(("7".to_owned(), right(&b)));
    let both = file(&class, "both.csv", &b, &rows);
    let args = ["--lesson", numbers[0].as_str(), "--version", "B", both.as_str()];
    let run = class.on(BEFORE, "mark", &args).ends(0);
    for part in ["pupil `7` has answers to version A too", "both.csv:7", "version B counts"] {
        assert!(run.err.contains(part), "{part} is not in\n{}", run.err);
    }
}

/// Version A by pupils and B by piles: one decision with the numbers of both, in what is printed, and
/// nobody of the other half is called absent.
#[test]
fn a_half_marked_by_piles_counts_in_the_decision() {
    let (class, numbers) = demo();
    let [a, b] = [0, 1].map(|n| check(&class, &numbers[0], ["A", "B"][n]));
    let of_a = file(&class, "a.csv", &a, &slips(&a, 2)[..6]);
    let first = &b[0]["id"].as_str().expect("an id");
    let rows: String = (b.iter().skip(1))
        .map(|item| format!("{},ok,6\n", item["id"].as_str().expect("an id")))
        .collect();
    class.write("b.csv", format!("item,answer,count\n{first},ok,2\n{first},1,4\n{rows}"));
    let of_b = class.dir().join("b.csv").display().to_string();
    let mark = |version: &str, file: &str| {
        let args = ["--lesson", numbers[0].as_str(), "--version", version, file];
        class.json(BEFORE, "mark", &args)
    };
    let alone = mark("A", &of_a);
    assert_eq!(
        (&alone["class"]["pass_share"], alone["absent"].as_array().map(Vec::len)),
        (&0.6667.into(), Some(6))
    );
    for (version, file) in [("B", &of_b), ("A", &of_a)] {
        let marking = mark(version, file);
        assert_eq!(marking["class"]["pass_share"], 0.5, "{version}: {:#}", marking["class"]);
        let because = marking["class"]["because"].as_str().expect("a sentence");
        for part in ["version B by piles of slips", "4 of 6", "2 of 6", "together at most 6 of 12"]
        {
            assert!(because.contains(part), "{part} is not in {because}");
        }
        assert_eq!(marking["absent"], serde_json::json!([]));
    }
}

/// Who is said to be absent has a sheet beside counted slips too, and so has whoever else handed in
/// nothing, though nobody knows who that is; the word is kept with the marks.
#[test]
fn who_was_absent_has_a_sheet_beside_counted_slips() {
    let (class, numbers) = demo();
    let [a, b] = [0, 1].map(|n| check(&class, &numbers[0], ["A", "B"][n]));
    let mut rows = slips(&a, 3)[..6].to_vec();
    let nothing = |word: &str| [vec![word.to_owned()], vec![String::new(); a.len() - 1]].concat();
    rows.push(("7".to_owned(), nothing("")));
    rows.push(("11".to_owned(), nothing("absent (ill)")));
    let of_a = file(&class, "a.csv", &a, &rows);
    let piles: String =
        b.iter().map(|item| format!("{},ok,4\n", item["id"].as_str().expect("an id"))).collect();
    class.write("b.csv", format!("item,answer,count\n{piles}"));
    let of_b = class.dir().join("b.csv").display().to_string();
    let mark = |version: &str, file: &str| {
        class.json(BEFORE, "mark", &["--lesson", numbers[0].as_str(), "--version", version, file])
    };
    mark("A", &of_a);
    let marking = mark("B", &of_b);
    assert_eq!(marking["absent"], serde_json::json!(["11"]));
    assert_eq!(marking["absent_unnamed"], 1, "of twelve six and four handed in something");
    let list = class.on(BEFORE, "pack", &["--lesson", &numbers[0], "--group", "all"]).ends(0).out;
    for part in ["for who was absent: 11; and 1 more", "2 ×  group-absent.pdf"] {
        assert!(list.contains(part), "{part} is not in\n{list}");
    }
    class.on(BEFORE, "forget", &["--pupil", "11"]).ends(0);
    let marks = std::fs::read_to_string(class.dir().join(format!("marks/L{}.csv", numbers[0])));
    assert!(!marks.expect("marks").contains("absent"));
}

/// The same of the groups: pupils of A and slips of B get one sheet, from either side, and the lesson
/// that teaches it again has copies for both.
#[test]
fn a_half_marked_by_piles_is_in_the_same_groups() {
    let (class, numbers) = demo();
    let [a, b] = [0, 1].map(|n| check(&class, &numbers[0], ["A", "B"][n]));
    let of_a = file(&class, "a.csv", &a, &slips(&a, 3)[..6]);
    let wrong = by_pattern(&b, CARRIES);
    let piles = b.iter().zip(right(&b)).zip(&wrong).map(|((item, right), wrong)| {
        let id = item["id"].as_str().expect("an id");
        let all = format!("{id},{right},2\n");
        if *wrong == right { all } else { all + &format!("{id},{wrong},4\n") }
    });
    class.write("b.csv", format!("item,answer,count\n{}", piles.collect::<String>()));
    let of_b = class.dir().join("b.csv").display().to_string();
    let mark = |version: &str, file: &str| {
        let args = ["--lesson", numbers[0].as_str(), "--version", version, file];
        class.on(BEFORE, "mark", &args).ends(0).out
    };
    mark("A", &of_a);
    let text = mark("B", &of_b);
    let first = wrong.iter().zip(right(&b)).position(|(wrong, right)| *wrong != right);
    let first = first.expect("carries show");
    let slips =
        format!("the slips with {} on {}", wrong[first], b[first]["id"].as_str().expect("id"));
    for part in ["Group 1, 3 pupils and 4 slips", &format!("1, 2 and 3; {slips}"), "re-teach"] {
        assert!(text.contains(part), "{part} is not in\n{text}");
    }
    for version in ["A", "B"] {
        let args = ["--lesson", &numbers[0], "--version", version, "--group", "all"];
        let list = class.on(BEFORE, "pack", &args).ends(0).out;
        assert!(list.contains("7 ×  group-1.pdf") && list.contains(&slips), "{list}");
        assert!(!list.contains("group-2") && !list.contains("absent"), "{list}");
    }
    let more = ["--more", "short-two-by-one", "--accept"];
    let said = class.on(BEFORE, "reschedule", &more).ends(0).err;
    let lesson =
        said.lines().find_map(|line| line.split_once("lesson ")?.1.split_whitespace().next());
    let pack = class.json(BEFORE, "pack", &["--lesson", lesson.expect("a lesson"), "--draft"]);
    let sheets = &pack[0]["teacher"]["sheets"];
    assert_eq!(sheets[0]["copies"], 7, "{sheets:#}");
    assert_eq!(sheets[0]["pupils"], serde_json::json!(["1", "2", "3"]));
    let sorted = sheets[0]["sort_by"].as_str().expect("answers to sort by");
    assert!(format!("the slips with {sorted}").starts_with(&slips), "{sorted}");
    let list =
        class.on(BEFORE, "pack", &["--lesson", lesson.expect("a lesson"), "--draft"]).ends(0);
    assert!(list.err.contains(&format!(": 1, 2 and 3; {slips}")), "{}", list.err);
    // Of the others only as many have all right as the hardest item; nobody is called absent.
    let copies: u64 =
        sheets.as_array().expect("sheets").iter().filter_map(|s| s["copies"].as_u64()).sum();
    assert_eq!(copies, 12, "{sheets:#}");
    assert_eq!(sheets[1]["pupils"], serde_json::json!([]), "{sheets:#}");
}
