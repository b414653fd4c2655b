//! What marking leads to: answers typed or mended one by one, groups with sheets, progress, and a
//! schedule with one lesson more.

use super::class::{BEFORE, Class, SHORT, run_with};
use super::marks::{of_twelve, printed, printed_in, right};
use serde_json::Value;
use std::collections::BTreeSet;

/// What a pattern answers to each item; the right answer where it does not show.
fn by_pattern(items: &[Value], name: &str) -> Vec<String> {
    let answer = |item: &Value| {
        let likely = item["likely"].as_array().expect("likely");
        let shows = |l: &&Value| l["patterns"].as_array().expect("names").iter().any(|p| p == name);
        let found = likely.iter().find(shows).unwrap_or(item);
        found["answer"].as_str().expect("an answer").to_owned()
    };
    items.iter().map(answer).collect()
}

/// A class in which four pupils leave the zeros out, three are absent and five have all right.
fn marked() -> (Class, String, Vec<Value>) {
    marked_in(SHORT)
}

fn marked_in(plan: &str) -> (Class, String, Vec<Value>) {
    let (class, number, items) = printed_in(plan);
    let wrong = by_pattern(&items, "placeholder-left-out");
    let file = of_twelve(&class, &items, |n| match n {
        1..=4 => wrong.clone(),
        5..=7 => vec![String::new(); items.len()],
        _ => right(&items),
    });
    class.on(BEFORE, "mark", &["--lesson", &number, &file]).ends(0);
    (class, number, items)
}

fn marks(class: &Class, number: &str) -> String {
    class.read(&format!("marks/L{number:0>2}.csv"))
}

#[test]
fn answers_can_be_typed_with_ticks_and_a_step_back() {
    let (class, number, items) = printed();
    let wide = items.len();
    let dir = class.arg();
    let args = ["mark", &dir, "--lesson", &number, "--typed", "--today", BEFORE];
    // The first pupil: a wrong answer taken back, then all right; the second absent; the third
    // wrong at first, then right.
    let run = run_with(&args, "17\n<\n*\n-\n17\n*\nstop\n").ends(0);
    assert!(run.err.contains("one step back") && run.err.contains("1  X1"), "{}", run.err);
    let kept = marks(&class, &number);
    let lines: Vec<&str> = kept.lines().collect();
    assert_eq!(lines.len(), 4, "{kept}");
    assert_eq!(lines[1], format!("1{}", ",✓".repeat(wide)));
    assert_eq!(lines[2], format!("2,absent{}", ",".repeat(wide - 1)));
    assert_eq!(lines[3], format!("3,17{}", ",✓".repeat(wide - 1)));
    // Typing on another day: who is not come to keeps the marks.
    run_with(&args, ">\n17\nstop\n").ends(0);
    let kept = marks(&class, &number);
    let mut lines: Vec<&str> = kept.lines().collect();
    lines.sort_unstable();
    assert_eq!(lines[0], format!("1{}", ",✓".repeat(wide)));
    assert_eq!(lines[1], format!("2,17{}", ",".repeat(wide - 1)));
    assert_eq!(lines[2], format!("3,17{}", ",✓".repeat(wide - 1)));
}

#[test]
fn one_answer_of_one_pupil_is_mended_and_the_rest_stays() {
    let (class, number, items) = marked();
    let before = marks(&class, &number);
    let set = |pupil: &str, item: &str, answer: &str| {
        class.on(
            BEFORE,
            "mark",
            &["--lesson", &number, "--pupil", pupil, "--item", item, "--answer", answer],
        )
    };
    set("6", "X1", "1,234").ends(0);
    let after = marks(&class, &number);
    let changed: Vec<&str> = after.lines().filter(|l| !before.contains(l)).collect();
    assert_eq!(changed, [format!("6,1234{}", ",".repeat(items.len() - 1))]);
    class.on(BEFORE, "undo", &[]).ends(0).says("mark");
    assert_eq!(marks(&class, &number), before);
    let said = set("6", "X1", "-5").ends(0).err;
    assert!(said.contains("a sign stands before the number"), "{said}");
    class.on(BEFORE, "undo", &[]).ends(0).says("mark");
    set("66", "X1", "5").ends(1).says("there is no pupil `66`");
    set("6", "X99", "5").ends(1).says("no item `X99`");
    class.on(BEFORE, "mark", &["--lesson", &number, "--pupil", "6"]).ends(2);
    assert_eq!(marks(&class, &number), before);
}

#[test]
fn without_a_file_and_without_a_terminal_marking_says_what_it_needs() {
    let (class, number, _) = printed();
    class.on(BEFORE, "mark", &["--lesson", &number]).ends(2).says("--typed");
}

#[test]
fn marking_says_who_can_be_helped_together_and_what_comes_next() {
    let (class, number, items) = marked();
    let file = class.dir().join("answers.csv").display().to_string();
    let marking = class.json(BEFORE, "mark", &["--lesson", &number, &file]);
    let group = &marking["groups"][0];
    assert_eq!(
        (group["number"].as_u64(), group["pattern"].as_str()),
        (Some(1), Some("placeholder-left-out"))
    );
    assert_eq!(group["pupils"].as_array().map(Vec::len), Some(4));
    assert_eq!(marking["absent"].as_array().map(Vec::len), Some(3));
    let first = &marking["pupils"][0];
    assert_eq!(first["named"], "placeholder-left-out");
    let suspect = &first["patterns"][0];
    assert!(suspect["against"].is_array() && suspect["working"]["working"]["method"].is_string());
    assert!(marking["tells"]["named"].as_array().is_some_and(|n| !n.is_empty()), "{marking:#}");
    assert_eq!(marking["items"][0]["suspicious"], false);
    assert_eq!(marking["next_step"]["groups"], 1);
    let text = class.on(BEFORE, "mark", &["--lesson", &number, &file]).ends(0).out;
    for part in ["Group 1, 4 pupils", "would then look like this", "What comes next", "--group all"]
    {
        assert!(text.contains(part), "`{part}` is not in\n{text}");
    }
    assert!(items.len() >= 3);
}

#[test]
fn every_group_and_who_was_absent_gets_a_page_and_a_key() {
    let (class, number, _) = marked();
    let run = class.on(BEFORE, "pack", &["--group", "all"]).ends(0);
    for part in ["S1", "4 ×  group-1.pdf", "SA", "3 ×  group-absent.pdf"] {
        assert!(run.out.contains(part), "`{part}` is not in\n{}", run.out);
    }
    let home = format!("packs/L{number:0>2}");
    for name in ["group-1", "group-absent"] {
        for end in [".pdf", "-key.pdf", ".json"] {
            assert!(class.holds(&format!("{home}/{name}{end}")), "{name}{end}");
        }
    }
    let sheets = class.json(BEFORE, "pack", &["--lesson", &number, "--group", "1"]);
    assert_eq!(sheets[0]["labels"].as_array().map(Vec::len), Some(4));
    assert_eq!(sheets[0]["pattern"], "placeholder-left-out");
    let sections = sheets[0]["pack"]["sections"].as_array().expect("sections");
    let items: Vec<&Value> =
        sections.iter().flat_map(|s| s["items"].as_array().expect("items")).collect();
    assert!(items.len() >= 4, "{}", items.len());
    for item in items {
        let likely = item["likely"].to_string();
        assert!(likely.contains("placeholder-left-out"), "{}", item["prompt"]);
    }
    let kept: Value =
        serde_json::from_str(&class.read(&format!("{home}/group-1.json"))).expect("json");
    assert!(kept.get("labels").is_none(), "no pupil stands in a file of a pack");
}

#[test]
fn piles_of_slips_lead_to_sheets_as_well() {
    let (class, number, items) = printed();
    let wrong = by_pattern(&items, "placeholder-left-out");
    let right = right(&items);
    let mut text = "item,answer,count\n".to_owned();
    for ((item, wrong), right) in items.iter().zip(&wrong).zip(&right) {
        let id = item["id"].as_str().expect("an id");
        text += &format!("{id},{right},7\n");
        if wrong != right {
            text += &format!("{id},{wrong},5\n");
        }
    }
    class.write("piles.csv", text);
    let file = class.dir().join("piles.csv").display().to_string();
    let told = class.on(BEFORE, "mark", &["--lesson", &number, &file]).ends(0).out;
    for part in [
        "take a group",
        "Groups by answer: sort the slips",
        "Group 1, up to 5 slips on an item",
        "not a diagnosis",
    ] {
        assert!(told.contains(part), "`{part}` is not in\n{told}");
    }
    let list = class.on(BEFORE, "pack", &["--group", "all"]).ends(0).out;
    let first =
        format!("the slips with {} on {}", wrong[0], items[0]["id"].as_str().expect("an id"));
    assert!(list.contains(&first) && list.contains("5 ×  group-1.pdf"), "{list}");
    assert!(!list.contains("absent"), "nobody is known to be absent: {list}");
}

/// The written products in these sections, either way round.
fn products(sections: &Value) -> BTreeSet<(u64, u64)> {
    let items = sections
        .as_array()
        .expect("sections")
        .iter()
        .flat_map(|s| s["items"].as_array().expect("items"));
    let written = items.filter(|i| ["written", "row"].iter().any(|kind| i["kind"] == *kind));
    let factors = written.map(|item| {
        let expression = item["expression"].as_str().expect("a product");
        let (a, b) = expression.split_once('*').expect("two factors");
        let (a, b): (u64, u64) = (a.parse().expect("a number"), b.parse().expect("a number"));
        (a.max(b), a.min(b))
    });
    factors.collect()
}

#[test]
fn no_written_product_of_a_sheet_stands_in_any_pack_of_the_term() {
    let (class, number, _) = marked();
    let sheets = class.json(BEFORE, "pack", &["--lesson", &number, "--group", "all"]);
    let packs = class.json(BEFORE, "pack", &["--all"]);
    let packs = packs.as_array().expect("packs");
    assert!(packs.len() > 20, "those to come as well");
    for sheet in sheets.as_array().expect("sheets") {
        let own = products(&sheet["pack"]["sections"]);
        assert!(own.len() >= 5, "{own:?}");
        for pack in packs {
            let theirs = products(&pack["sections"]);
            let both: Vec<_> = own.intersection(&theirs).collect();
            assert!(both.is_empty(), "lesson {}: {both:?}", pack["lesson"]);
        }
    }
    // Made again they are the same, whatever lies in the folder by then.
    class.on(BEFORE, "pack", &["--group", "all"]).ends(0);
    assert_eq!(class.json(BEFORE, "pack", &["--lesson", &number, "--group", "all"]), sheets);
}

#[test]
fn sheets_elsewhere_record_nothing_and_unknown_groups_are_told() {
    let (class, number, _) = marked();
    let before = class.contents();
    let out = class.beside("out").display().to_string();
    class.on(BEFORE, "pack", &["--lesson", &number, "--group", "1", "--out", &out]).ends(0);
    assert!(class.beside("out").join(format!("L{number:0>2}/group-1.pdf")).is_file());
    class.on(BEFORE, "pack", &["--group", "9"]).ends(1).says("no group `9`").says("`absent`");
    class
        .on(BEFORE, "pack", &["--lesson", "1", "--group", "1"])
        .ends(1)
        .says("has not been marked");
    assert_eq!(class.contents(), before);
}

#[test]
fn progress_is_told_as_a_table_as_json_as_csv_and_on_a_page() {
    let (class, _, _) = marked();
    let later = "2027-02-26";
    let text = class.on(later, "report", &["progress"]).ends(0).out;
    assert!(text.contains("pupil") && text.contains("One exit check certifies nobody"), "{text}");
    let json = class.json(later, "report", &["progress"]);
    assert_eq!(json["pupils"].as_array().map(Vec::len), Some(12));
    let skills = json["skills"].as_array().expect("skills");
    let skill = skills.iter().find(|s| s["skill"] == "long-two-by-two").expect("taught");
    let stage = |n: usize| skill["pupils"][n]["stage"].as_str().expect("a stage").to_owned();
    assert_eq!((stage(0), stage(11)), ("checked".to_owned(), "checked".to_owned()));
    assert!(["met", "practised"].contains(&stage(4).as_str()), "absent: {}", stage(4));
    assert!(
        skills.iter().all(|s| s["pupils"][0]["stage"] != "secure"),
        "one check certifies nobody"
    );
    let csv = class.on(later, "report", &["progress", "--csv"]).ends(0).out;
    assert!(csv.starts_with("pupil,skill,stage,met,practised,days,right,answered\n"), "{csv}");
    assert_eq!(csv.lines().count(), 1 + 12 * skills.len());
    let page = class.beside("progress.pdf").display().to_string();
    class.on(later, "report", &["progress", "--pdf", &page]).ends(0).says("written to");
    let bytes = std::fs::read(&page).expect("it is there");
    assert!(bytes.starts_with(b"%PDF-"));
    class.on(later, "report", &["coverage", "--csv"]).ends(2);
}

#[test]
fn two_good_checks_on_different_days_make_a_skill_secure() {
    let (class, _, _) = marked();
    let plan = class.json(BEFORE, "plan", &[]);
    let lessons = plan["lessons"].as_array().expect("lessons").clone();
    let others = lessons.iter().filter(|l| l["skill"] == "long-two-by-two");
    let mut days = 1;
    for lesson in others.skip(1) {
        let other = lesson["number"].to_string();
        class.on(BEFORE, "pack", &["--lesson", &other]).ends(0);
        let blank = class.on(BEFORE, "mark", &["--lesson", &other, "--blank"]).ends(0).out;
        let ticks: String = blank
            .lines()
            .enumerate()
            .map(|(n, l)| if n == 0 { l.to_owned() } else { l.replace(',', ",ok") } + "\n")
            .collect();
        class.write("more.csv", ticks);
        let file = class.dir().join("more.csv").display().to_string();
        class.on(BEFORE, "mark", &["--lesson", &other, &file]).ends(0);
        days += 1;
    }
    let json = class.json("2027-02-26", "report", &["progress"]);
    let skills = json["skills"].as_array().expect("skills");
    let skill = skills.iter().find(|s| s["skill"] == "long-two-by-two").expect("taught");
    let last = &skill["pupils"][11];
    let answered: u64 = last["checks"]
        .as_array()
        .expect("days")
        .iter()
        .map(|c| c["of"].as_u64().unwrap_or(0))
        .sum();
    assert_eq!(last["checks"].as_array().map(Vec::len), Some(days));
    // Four of five on two days, all of them right here.
    assert!(days >= 2 && answered >= 10, "{last:#}");
    assert_eq!(last["stage"], "secure", "{last:#}");
}

#[test]
fn forget_reaches_everything_that_marking_left() {
    let catch_up = "fixed = [{ date = 2027-02-17, kind = \"catch-up\" }]";
    let (class, number, _) = marked_in(&format!("{SHORT}{catch_up}\n"));
    // Every pupil with a name, so that what is found of one is not a number by chance.
    let named = |text: &str| -> String {
        let row = |(n, line): (usize, &str)| match line.split_once(',') {
            Some((label, rest)) if n > 0 => format!("Pupil {label}Q,{rest}\n"),
            _ => format!("{line}\n"),
        };
        text.lines().enumerate().map(row).collect()
    };
    let file = class.dir().join("answers.csv").display().to_string();
    let wrong = named(&marks(&class, &number));
    let most_wrong = (8..=10).fold(wrong.clone(), |text, n| {
        let first = text.lines().nth(1).expect("a row").replacen("1Q", &format!("{n}Q"), 1);
        let row = |line: &str| {
            if line.starts_with(&format!("Pupil {n}Q,")) { first.clone() } else { line.to_owned() }
        };
        text.lines().map(|line| row(line) + "\n").collect()
    });
    // Marked three times over, so that `undo` keeps some of it; then all that can follow.
    for text in [&wrong, &most_wrong, &wrong, &most_wrong] {
        class.write("answers.csv", text);
        class.on(BEFORE, "mark", &["--lesson", &number, &file]).ends(0);
    }
    class.on(BEFORE, "pack", &["--group", "all"]).ends(0);
    let plan = class.json(BEFORE, "plan", &[]);
    let after = plan["lessons"].as_array().expect("lessons").iter();
    let mut after = after.skip_while(|l| l["number"].as_u64() != number.parse().ok()).skip(1);
    let next = after.next().expect("a next lesson")["number"].to_string();
    class.on(BEFORE, "pack", &["--lesson", &next]).ends(0);
    let catch_up = after.find(|l| l["kind"] == "catch-up").expect("one to come");
    let catch_up = catch_up["number"].to_string();
    // Who gets which sheet is said on the screen and on the teacher's page.
    class.on(BEFORE, "pack", &["--lesson", &catch_up]).ends(0).says("Pupil 2Q");
    class.on(BEFORE, "pack", &["--week", "2027-02-17"]).ends(0);
    assert!(class.holds("packs/week-2027-02-15/teacher.pdf"));
    let page = format!("packs/L{catch_up:0>2}/teacher.pdf");
    let bytes_of = |page: &String| class.contents().into_iter().find(|(name, _)| name == page);
    let page_before = bytes_of(&page).expect("a page");
    class.on(BEFORE, "reschedule", &["--more", "long-two-by-two", "--accept"]).ends(0);
    class.on(BEFORE, "mark", &["--reset-weights"]).ends(0);
    class.on(BEFORE, "undo", &[]).ends(0);
    std::fs::remove_file(class.dir().join("answers.csv")).expect("it was there");
    let holding = |label: &str| -> Vec<String> {
        let holds = |bytes: &[u8]| bytes.windows(label.len()).any(|part| part == label.as_bytes());
        let files = class.contents().into_iter().filter(|(_, bytes)| holds(bytes));
        files.map(|(name, _)| name).collect()
    };
    let before = holding("Pupil 2Q");
    assert!(before.len() >= 4, "marks and what undo keeps: {before:?}");
    let pages = format!("packs/L{catch_up:0>2}/pack.json");
    let known = |name: &String| {
        name.starts_with("marks/") || name.starts_with(".rungwise/") || name.ends_with("pack.json")
    };
    assert!(before.iter().all(known) && before.contains(&pages), "{before:?}");
    class
        .on(BEFORE, "forget", &["--pupil", "Pupil 2Q"])
        .ends(0)
        .says("removed")
        .says("made anew without the pupil")
        .says("`pack --week");
    assert_ne!(bytes_of(&page), Some(page_before), "the page is printed anew");
    assert!(!class.holds("packs/week-2027-02-15/teacher.pdf"));
    assert_eq!(holding("Pupil 2Q"), [""; 0]);
    assert!(!holding("Pupil 3Q").is_empty(), "nobody else is forgotten");
    // What was written since can still be taken back, and does not bring the pupil back.
    class.on(BEFORE, "undo", &[]).ends(0);
    assert_eq!(holding("Pupil 2Q"), [""; 0]);
}

#[test]
fn a_class_that_needs_it_again_is_told_what_one_more_lesson_costs_and_gets_it() {
    let (class, number, items) = printed();
    let wrong = by_pattern(&items, "placeholder-left-out");
    let file = of_twelve(&class, &items, |_| wrong.clone());
    let told = class.json(BEFORE, "mark", &["--lesson", &number, &file]);
    assert_eq!(told["class"]["decision"], "re-teach");
    let more = &told["next_step"]["one_more"];
    assert_eq!(more["skill"], "long-two-by-two");
    assert_eq!(more["fits"], true, "{more:#}");
    let lessons = |plan: &Value| {
        let all = plan["lessons"].as_array().expect("lessons");
        all.iter().filter(|l| l["skill"] == "long-two-by-two").count()
    };
    let before = lessons(&class.json(BEFORE, "plan", &[]));
    class.on(BEFORE, "reschedule", &["--more", "long-two-by-two", "--accept"]).ends(0);
    let plan = class.json(BEFORE, "plan", &[]);
    assert_eq!(lessons(&plan), before + 1);
    assert_eq!(more["cost"], plan["cost"]["total"]);
    assert!(class.read("plan.toml").contains("long-two-by-two = { least ="), "the plan says so");
    class.on(BEFORE, "undo", &[]).ends(0);
    assert_eq!(lessons(&class.json(BEFORE, "plan", &[])), before);
    class.on(BEFORE, "reschedule", &["--more", "long-two-by-tow"]).ends(1).says("did you mean");
}

#[test]
fn version_b_and_the_unit_test_are_marked_alike() {
    let (class, number, _) = printed();
    class.on(BEFORE, "pack", &["--lesson", &number, "--version", "B"]).ends(0);
    let plan = class.json(BEFORE, "plan", &[]);
    let test =
        plan["lessons"].as_array().expect("lessons").iter().find(|l| l["kind"] == "unit-test");
    let test = test.expect("a test")["number"].to_string();
    class.on(BEFORE, "pack", &["--lesson", &test]).ends(0);
    for (lesson, version, marks) in [
        (&number, "B", format!("marks/L{number:0>2}B.csv")),
        (&test, "A", format!("marks/L{test:0>2}.csv")),
    ] {
        let args = ["--lesson", lesson.as_str(), "--version", version];
        let blank = class.on(BEFORE, "mark", &[&args[..], &["--blank"]].concat()).ends(0).out;
        class.write("answers.csv", blank.replacen("\n1,", "\n1,17", 1));
        let file = class.dir().join("answers.csv").display().to_string();
        let marking = class.json(BEFORE, "mark", &[&args[..], &[file.as_str()]].concat());
        assert_eq!(
            (marking["version"].as_str(), marking["pupils"][0]["right"].as_u64()),
            (Some(version), Some(0))
        );
        assert!(class.holds(&marks));
        if lesson == &test {
            // Who was not there writes the other version, and no sheet of sums in its place.
            let run = class.on(BEFORE, "pack", &["--lesson", lesson, "--group", "all"]).ends(0);
            assert!(run.err.contains("writes version B of the test"), "{}", run.err);
            assert!(!class.holds(&format!("packs/L{lesson:0>2}/group-absent.pdf")));
        }
        class.on(BEFORE, "undo", &[]).ends(0);
        assert!(!class.holds(&marks));
    }
}

/// Slips are marked after school: what else was on that day is held then, and no lesson is offered there.
#[test]
fn a_marked_check_of_today_ends_the_day() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    let plan = class.json(BEFORE, "plan", &[]);
    let lessons = plan["lessons"].as_array().expect("lessons");
    let on = |day: &str| lessons.iter().filter(|l| l["date"] == *day).collect::<Vec<_>>();
    let days = lessons.iter().map(|l| l["date"].as_str().expect("a date"));
    let day = days.into_iter().find(|day| on(day).len() > 1 && on(day)[0]["kind"] == "teach");
    let day = day.expect("a day with two lessons");
    let number = on(day)[0]["number"].to_string();
    let life = |class: &Class| -> Vec<Value> {
        let plan = class.json(day, "plan", &[]);
        let lessons = plan["lessons"].as_array().expect("lessons").clone();
        lessons.into_iter().filter(|l| l["date"] == *day).map(|l| l["life"].clone()).collect()
    };
    class.on(day, "pack", &["--lesson", &number]).ends(0);
    assert_eq!(life(&class)[1], "planned");
    let blank = class.on(day, "mark", &["--lesson", &number, "--blank"]).ends(0).out;
    let rows: Vec<String> = blank.lines().map(|l| l.replacen(',', ",1", 1)).collect();
    class.write(
        "all.csv",
        format!("{}\n{}\n", blank.lines().next().unwrap_or(""), rows[1..].join("\n")),
    );
    let file = class.dir().join("all.csv").display().to_string();
    class.on(day, "mark", &["--lesson", &number, &file]).ends(0);
    assert_eq!(life(&class), ["marked", "past"]);
}
