//! A marked exit check of the demonstration class leads in three commands to groups, to sheets for
//! them, and to a moved schedule.

use super::class::Class;
use super::marks::{right, table};
use serde_json::Value;

const PLAN: &str = include_str!("../../plans/kingfisher/plan.toml");

/// What a pattern answers to each item, the right answer where the key does not say.
pub fn by_pattern(items: &[Value], name: &str) -> Vec<String> {
    let answer = |item: &Value| {
        let likely = item["likely"].as_array().expect("likely").iter();
        let mut shows = likely.filter(|l| l["patterns"].to_string().contains(name));
        shows.next().unwrap_or(item)["answer"].as_str().expect("an answer").to_owned()
    };
    items.iter().map(answer).collect()
}

/// The class's answers on the third lesson of two digits by two: nine leave the zeros out, seven do
/// not add what they carry, three are away.
fn slips(items: &[Value]) -> String {
    let zeros = by_pattern(items, "placeholder-left-out");
    let carries = by_pattern(items, "carry-not-added");
    let answers = |n: usize| match n {
        1..=9 => zeros.clone(),
        10..=16 => carries.clone(),
        17..=29 => right(items),
        _ => vec![String::new(); items.len()],
    };
    let rows: Vec<(String, Vec<String>)> = (1..=32).map(|n| (n.to_string(), answers(n))).collect();
    let rows: Vec<(&str, Vec<String>)> =
        rows.iter().map(|(p, a)| (p.as_str(), a.clone())).collect();
    table(items, &rows)
}

#[test]
fn three_commands_lead_from_the_slips_to_tomorrow() {
    let class = Class::with(PLAN);
    class.on("2026-11-26", "plan", &[]).ends(0);
    let plan = class.json("2026-11-26", "plan", &[]);
    let lessons = plan["lessons"].as_array().expect("lessons");
    let lesson = lessons.iter().find(|l| l["skill"] == "long-two-by-two" && l["part"] == 3);
    let lesson = lesson.expect("a third part");
    let (number, day) = (lesson["number"].to_string(), lesson["date"].as_str().expect("a date"));
    class.on(day, "pack", &["--lesson", &number]).ends(0);
    let pack = class.json(day, "pack", &["--lesson", &number]);
    let sections = pack[0]["sections"].as_array().expect("sections");
    let check = sections.iter().find(|s| s["name"] == "exit-check").expect("a check");
    class.write("answers.csv", slips(check["items"].as_array().expect("items")));
    let file = class.dir().join("answers.csv").display().to_string();
    let before = class.read("schedule.toml");

    // The first: groups, the decision with its numbers, and what it would cost.
    let told = class.on(day, "mark", &["--lesson", &number, &file]).ends(0).out;
    let dir = class.arg();
    for words in [
        &format!("Lesson {number}: re-teach"),
        "13 of 29 pupils have all of it right (44 %): below 50 %",
        "Group 1, 9 pupils: the second and later rows lack their zeros: 1, 2, 3",
        "Group 2, 7 pupils: carried digits are not added: 10, 11, 12",
        "Model: an area grid",
        "No answers: 30, 31 and 32",
        "1, 2, 3, 4, 5, 6, 7, 8 and 9: 0 of 5 right. Likely (99 %)",
        "would then look like this:",
        "takes it up again; rather one lesson more, for lessons",
        "moves 1 lesson and gives up lesson",
        &format!("`rungwise reschedule {dir} --more long-two-by-two --accept`"),
        &format!("`rungwise pack {dir} --lesson {number} --group all`"),
    ] {
        assert!(told.contains(words), "{words:?} is not in\n{told}");
    }
    let step = &class.json(day, "mark", &["--lesson", &number, &file])["next_step"];

    // The second: a page of sums and a key for each group and for who was away.
    let list = class.on(day, "pack", &["--group", "all"]).ends(0).out;
    for (group, copies) in [("1", 9), ("2", 7), ("absent", 3)] {
        assert!(list.contains(&format!("{copies} ×  group-{group}.pdf")), "{list}");
        for end in [".pdf", "-key.pdf"] {
            assert!(class.holds(&format!("packs/L{number:0>2}/group-{group}{end}")));
        }
    }

    // The third: the next period teaches it once more, at the cost the first has told.
    class.on(day, "reschedule", &["--more", "long-two-by-two", "--accept"]).ends(0);
    let after = class.json(day, "plan", &[]);
    let again = after["lessons"].as_array().expect("lessons");
    let at = again.iter().position(|l| l["number"] == lesson["number"]).expect("it stays");
    let next = &again[at + 1];
    assert_eq!((&next["skill"], &next["part"]), (&"long-two-by-two".into(), &4.into()));
    let more = &step["one_more"];
    assert_eq!((&more["date"], &more["cost"]), (&next["date"], &after["cost"]["total"]));
    let given_up = more["dropped"].as_array().expect("numbers");
    assert!(!given_up.is_empty() && again.iter().all(|l| !given_up.contains(&l["number"])));

    // Tomorrow's pack is made of the marks: a sheet for each group on which its mistake shows, the
    // stretch sheet for who had all of it right; the warm-up brings the mistake back, and the
    // teacher's page says who, what and with which model.
    let again = next["number"].to_string();
    let tomorrow = &class.json(day, "pack", &["--lesson", &again])[0];
    let sheets = tomorrow["teacher"]["sheets"].as_array().expect("sheets");
    let told = |n: usize| {
        let pupils = sheets[n]["pupils"].as_array().expect("pupils");
        (sheets[n]["sheet"].as_str().expect("a letter"), pupils.len(), &sheets[n]["copies"])
    };
    let copies: Vec<_> = (0..sheets.len()).map(told).collect();
    let [nine, seven, three, thirteen] = [9, 7, 3, 13].map(Value::from);
    assert_eq!(copies, [("Q", 9, &nine), ("R", 7, &seven), ("K", 3, &three), ("V", 0, &thirteen)]);
    assert!(sheets[0]["teach"].as_str().is_some_and(|t| t.contains("Model: an area grid")));
    let sections = tomorrow["sections"].as_array().expect("sections");
    let support = sections.iter().filter(|s| s["level"] == "support");
    for (section, name) in support.zip(["placeholder-left-out", "carry-not-added"]) {
        let items = section["items"].as_array().expect("items");
        let shows = items.iter().filter(|i| i["likely"].to_string().contains(name)).count();
        assert!(shows >= 4 && shows * 3 >= items.len() * 2, "{name}: {shows} of {}", items.len());
    }
    let warm_up = sections.iter().find(|s| s["name"] == "warm-up").expect("a warm-up");
    let items = warm_up["items"].as_array().expect("items");
    let asked: Vec<&Value> = items.iter().filter(|i| i["skill"] == "long-two-by-two").collect();
    assert!(asked.len() >= 2, "{items:#?}");
    let slips = check["items"].as_array().expect("items");
    assert!(
        asked.iter().all(|i| slips.iter().all(|s| s["prompt"] != i["prompt"])),
        "no slip again"
    );

    // Marked again, no other lesson is proposed: the one that was added will teach it.
    let told = class.on(day, "mark", &["--lesson", &number, &file]).ends(0).out;
    assert!(told.contains(&format!("The next lesson, lesson {again} on")), "{told}");
    assert!(told.contains("teaches this again, with a sheet for each group"), "{told}");
    assert!(!told.contains("--more") && !told.contains("takes it up again"), "{told}");
    let list = class.on(day, "pack", &["--lesson", &again]).ends(0);
    assert!(list.out.contains("9 ×  ") && list.out.contains("pupil-R.pdf"), "{}", list.out);
    assert!(list.err.contains("sheet R: carried digits are not added: 10, 11, 12"), "{}", list.err);
    class.on(day, "undo", &[]).ends(0).says("pack");
    class.on(day, "undo", &[]).ends(0).says("mark");
    class.on(day, "undo", &[]).ends(0).says("reschedule");
    assert_eq!(class.read("schedule.toml"), before);
    class.on(day, "undo", &[]).ends(0).says("mark");
}

/// A check over several skills has no skill of its own: one more lesson of what went worst is proposed.
#[test]
fn a_catch_up_that_went_wrong_offers_no_lesson_that_cannot_be_had() {
    let class = Class::with(PLAN);
    class.on("2026-11-26", "plan", &[]).ends(0);
    let plan = class.json("2026-11-26", "plan", &[]);
    let lessons = plan["lessons"].as_array().expect("lessons");
    let first = lessons.iter().find(|l| l["kind"] == "catch-up").expect("a catch-up");
    let (number, day) = (first["number"].to_string(), first["date"].as_str().expect("a date"));
    class.on(day, "pack", &["--lesson", &number]).ends(0);
    let pack = class.json(day, "pack", &["--lesson", &number]);
    let sections = pack[0]["sections"].as_array().expect("sections");
    let check = sections.iter().find(|s| s["name"] == "exit-check").expect("a check");
    let items = check["items"].as_array().expect("items");
    let worst = items[0]["skill"].as_str().expect("a skill");
    // All wrong in one skill, in ways of their own; all right in the others.
    let answers = |n: usize| {
        let each = items.iter().zip(right(items));
        each.map(|(i, right)| if i["skill"] == worst { format!("{}", 7 + 4 * n) } else { right })
            .collect::<Vec<String>>()
    };
    let rows: Vec<(String, Vec<String>)> = (1..=32).map(|n| (n.to_string(), answers(n))).collect();
    let rows: Vec<(&str, Vec<String>)> =
        rows.iter().map(|(p, a)| (p.as_str(), a.clone())).collect();
    class.write("answers.csv", table(items, &rows));
    let file = class.dir().join("answers.csv").display().to_string();
    let told = class.on(day, "mark", &["--lesson", &number, &file]).ends(0).out;
    let step = &class.json(day, "mark", &["--lesson", &number, &file])["next_step"];
    assert!(told.contains(&format!("Lesson {number}: re-teach")), "{told}");
    assert_eq!(step["one_more"]["skill"], worst, "{told}");
    let title = step["one_more"]["title"].as_str().expect("its title");
    assert!(told.contains(&format!("One more lesson of “{title}”, which went worst")), "{told}");
    // Other skills are begun since, and a skill's lessons stand together: nothing is offered that
    // cannot be had, and asking for it all the same changes nothing.
    assert_eq!(step["one_more"]["fits"], false, "{told}");
    assert!(told.contains("cannot be had") && !told.contains("--accept"), "{told}");
    assert!(told.contains("The next catch-up"), "{told}");
    let plan = std::fs::read_to_string(class.dir().join("plan.toml")).expect("a plan");
    class
        .on(day, "reschedule", &["--more", worst, "--accept"])
        .ends(1)
        .says("no lesson more of")
        .says("a catch-up takes up what marks show");
    assert_eq!(std::fs::read_to_string(class.dir().join("plan.toml")).expect("a plan"), plan);
}
