//! Groups of a class that goes on, and of pupils who each show too little: what comes next for them.

use super::class::{BEFORE, Class, SHORT};
use super::marks::{of_class, printed_in, right};
use serde_json::Value;

/// What leaving the zeros out answers to an item; the right answer where it does not show.
fn without_zeros(item: &Value) -> String {
    by("placeholder-left-out", item)
}

/// What a pattern answers to an item; the right answer where it does not show.
fn by(pattern: &str, item: &Value) -> String {
    let likely = item["likely"].as_array().expect("likely");
    let shows = |l: &&Value| l["patterns"].to_string().contains(pattern);
    let found = likely.iter().find(shows).unwrap_or(item);
    found["answer"].as_str().expect("an answer").to_owned()
}

/// Both left out in one sum: the rows' zeros, and in each row the carries.
fn without_zeros_and_carries(item: &Value) -> String {
    let numbers = item["expression"].as_str().and_then(|e| e.split_once('*')).expect("a product");
    let digits =
        |n: &str| -> Vec<u64> { n.chars().map(|c| c.to_digit(10).map_or(0, u64::from)).collect() };
    let (top, side) = (digits(numbers.0), digits(numbers.1));
    let row = |by: &u64| {
        let front = top.iter().enumerate();
        front.fold(0, |row, (n, t)| {
            // What the first column gives is written in full.
            if n == 0 { t * by } else { row * 10 + t * by % 10 }
        })
    };
    side.iter().map(row).sum::<u64>().to_string()
}

/// A marked class of twelve: of its first pupils, so many, the first items, so many, are answered
/// by `wrong`, all else is right; what `mark` said, as text and as JSON.
fn marked(
    size: (usize, usize),
    wrong: impl Fn(usize, &Value) -> String,
) -> (Class, String, String, Value) {
    marked_of(12, size, wrong)
}

/// The same of a class of so many.
fn marked_of(
    pupils_in_class: usize,
    (pupils, first): (usize, usize),
    wrong: impl Fn(usize, &Value) -> String,
) -> (Class, String, String, Value) {
    let plan = SHORT.replace("pupils = 12", &format!("pupils = {pupils_in_class}"));
    let (class, number, items) = printed_in(&plan);
    let file = of_class(pupils_in_class, &class, &items, |n| {
        let mut answers = right(&items);
        if n <= pupils {
            let first = answers.iter_mut().zip(&items).take(first);
            first.for_each(|(answer, item)| *answer = wrong(n, item));
        }
        answers
    });
    let text = class.on(BEFORE, "mark", &["--lesson", &number, &file]).ends(0).out;
    let told = class.json(BEFORE, "mark", &["--lesson", &number, &file]);
    (class, number, text, told)
}

#[test]
fn a_group_of_a_class_that_goes_on_comes_back_in_the_next_warm_up() {
    let (class, number, text, told) = marked_of(16, (3, 9), |_, item| without_zeros(item));
    assert_eq!(told["class"]["decision"], "go-on");
    assert_eq!(told["groups"][0]["pattern"], "placeholder-left-out");
    let says = "its warm-up brings back the mistake of group 1";
    assert!(text.contains(says), "{text}");
    let next = told["next_step"]["warm_up"]["lesson"].to_string();
    let pack = class.json(BEFORE, "pack", &["--lesson", &next]);
    let said = pack[0]["teacher"]["say"].to_string();
    assert!(
        said.contains("The warm-up brings back") && said.contains("3 pupils, group 1"),
        "{said}"
    );
    let sections = pack[0]["sections"].as_array().expect("sections");
    let warm_up = sections.iter().find(|s| s["name"] == "warm-up").expect("a warm-up");
    let items = warm_up["items"].as_array().expect("items");
    let own = items.iter().filter(|i| i["skill"] == "long-two-by-two").count();
    assert!(own == 1 && items.len() > 1, "one of {}: {own}", items.len());
    assert_eq!(told["next_step"]["for_groups"], serde_json::json!([1]));
    assert!(items.iter().any(|item| item["likely"].to_string().contains("placeholder-left-out")));
    // Once it is printed the printed page is looked at.
    class.on(BEFORE, "pack", &["--lesson", &next]).ends(0);
    let file = class.dir().join("answers.csv").display().to_string();
    let text = class.on(BEFORE, "mark", &["--lesson", &number, &file]).ends(0).out;
    assert!(text.contains("is printed already, and its warm-up brings back"), "{text}");
}

/// Zeros left out in one sum, carries in the next: both are named, the group is about both, and so
/// is what comes next.
#[test]
fn a_group_with_two_mistakes_at_once_is_said_to_have_both() {
    let names = ["placeholder-left-out", "carry-not-added"];
    let nth = |item: &Value| {
        let id = item["id"].as_str().expect("an id");
        id.chars().last().and_then(|c| c.to_digit(10)).expect("a number")
    };
    let (class, number, text, told) = marked_of(16, (3, 9), |_, item| match nth(item) {
        1 => without_zeros_and_carries(item),
        n => by(names[if n % 2 == 0 { 0 } else { 1 }], item),
    });
    let group = &told["groups"][0];
    let found = [&group["pattern"], &group["also"]].map(|name| name.as_str().unwrap_or_default());
    assert!(names.iter().all(|name| found.contains(name)), "{group}\n{text}");
    let next = &told["next_step"]["two_mistakes"][0];
    assert_eq!([&next["group"], &next["also"]], [&group["number"], &group["also"]]);
    assert!(text.contains("  Group 1 makes two mistakes at once: "), "{text}");
    assert!(text.contains("Its sheet is about both"), "{text}");
    let sheet = class.json(BEFORE, "pack", &["--lesson", &number, "--group", "1"]);
    assert_eq!(sheet[0]["also"], group["also"]);
    let items = sheet[0]["pack"]["sections"][1]["items"].as_array().expect("items");
    let told_of_both = |item: &&Value| item["likely"].to_string().contains("both at once");
    assert!(items.len() >= 4 && items.iter().all(|item| told_of_both(&item)), "{items:#?}");
    let list = class.on(BEFORE, "pack", &["--lesson", &number, "--group", "1"]).ends(0).out;
    assert!(list.contains(", and beside it "), "{list}");
    let pupil = &told["pupils"][0]["together"];
    assert_eq!(pupil["given"], true, "{pupil}");
    assert_eq!(pupil["in_one"]["working"]["method"], "long", "{pupil}");
    assert!(text.contains("-X1, both in one sum, would then look like this:"), "{text}");
}

/// What `mark` says of the next warm-up is held against the pack: a whole product is too long for
/// one, and so is a mistake that shows in nothing shorter; and two of sixteen have their sheet only.
#[test]
fn what_no_short_sum_shows_is_not_said_to_come_back() {
    // Of a whole product the first row only; a single row is right.
    let whole = |_: usize, item: &Value| {
        let numbers = item["expression"].as_str().and_then(|e| e.split_once('*'));
        match numbers.filter(|_| item["kind"] == "written") {
            Some((a, b)) => {
                let [a, b]: [u64; 2] = [a, b].map(|n| n.parse().expect("a number"));
                (a * (b % 10)).to_string()
            }
            None => item["answer"].as_str().expect("an answer").to_owned(),
        }
    };
    let (class, _, text, told) = marked_of(16, (3, 9), whole);
    assert_eq!(told["groups"][0]["pattern"], "only-first-row", "{text}");
    assert_eq!(told["next_step"]["not_in_warm_up"], serde_json::json!([1]));
    assert!(text.contains("the mistake of group 1 is not in it, so take its sheet"), "{text}");
    let next = told["next_step"]["warm_up"]["lesson"].to_string();
    let said = class.json(BEFORE, "pack", &["--lesson", &next])[0]["teacher"]["say"].to_string();
    assert!(said.contains("Too long for a warm-up") && !said.contains("brings back"), "{said}");
    let (.., text, told) = marked_of(16, (2, 9), |_, item| without_zeros(item));
    assert_eq!(told["groups"][0]["pattern"], "placeholder-left-out");
    assert!(told["next_step"]["warm_up"].is_null() && !text.contains("warm-up brings"), "{text}");
}

#[test]
fn a_lesson_added_for_the_groups_of_a_class_that_goes_on_has_their_sheets() {
    let (class, ..) = marked((2, 9), |_, item| without_zeros(item));
    let more = ["--more", "long-two-by-two", "--accept"];
    let run = class.on(BEFORE, "reschedule", &more).ends(0);
    let said = run.err.lines().find(|l| l.contains("teaches again what marks show"));
    let said = said.unwrap_or_else(|| panic!("{}", run.err));
    let lesson = said.split_whitespace().nth(1).expect("a number").to_owned();
    let run = class.on(BEFORE, "pack", &["--lesson", &lesson]).ends(0);
    assert!(run.out.contains("2 ×") && run.out.contains("pupil-Q.pdf"), "{}", run.out);
    let who =
        format!("lesson {lesson}, sheet Q: the second and later rows lack their zeros: 1 and 2");
    assert!(run.err.contains(&who), "{}", run.err);
}

#[test]
fn a_lesson_added_without_marks_does_not_say_that_marks_show_anything() {
    let (class, ..) = printed_in(SHORT);
    let run = class.on(BEFORE, "reschedule", &["--more", "long-two-by-two", "--accept"]).ends(0);
    assert!(run.err.contains("no marks show what to teach again"), "{}", run.err);
}

#[test]
fn the_same_answer_of_several_is_perhaps_a_group_and_different_ones_are_pupils_to_see() {
    let (class, number, text, told) = marked((4, 1), |_, item| without_zeros(item));
    assert_eq!(told["class"]["decision"], "take-a-group");
    assert!(text.contains("Group 1, 4 pupils: perhaps"), "{text}");
    let list = class.on(BEFORE, "pack", &["--lesson", &number, "--group", "1"]).ends(0).out;
    assert!(list.contains("the first sum decides") && list.contains("4 ×"), "{list}");
    let (.., text, told) = marked((4, 1), |n, _| (4001 + 7 * n).to_string());
    assert_eq!(told["groups"].as_array().map(Vec::len), Some(0));
    assert!(text.contains("there is no group: see pupils 1, 2, 3 and 4 one by one"), "{text}");
    assert!(!text.contains("bring the mistake back") && !text.contains("warm-up brings"), "{text}");
    assert!(told["next_step"]["warm_up"].is_null());
}
