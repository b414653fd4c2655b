//! `why` for every kind of lesson and every wish, through the real binary.

use super::class::{ABC, BEFORE, Class, SMALL};
use serde_json::Value;

fn why(class: &Class, today: &str, number: u32) -> Value {
    class.json(today, "why", &["--lesson", &number.to_string()])
}

fn told<'a>(answer: &'a Value, key: &str) -> Vec<&'a Value> {
    answer["wishes"].as_array().expect("wishes").iter().filter(|w| w["key"] == key).collect()
}

/// a a b b – | c c R T: source of the schedule and its cost is the definition, worked by hand.
#[test]
fn every_kind_of_lesson_says_why_in_one_paragraph() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    for (number, says) in [
        (1, "Needs nothing else that is taught in this unit. “B” and “C” wait for it."),
        (3, "Waits for “A”, which ends with lesson 2."),
        (5, "is a catch-up. Room to catch up."),
        (7, "Goes on from lesson 6."),
        (8, "Comes when all is taught, after lesson 7."),
        (9, "is the unit test. On the last period of the term."),
    ] {
        let answer = why(&class, BEFORE, number);
        let text = answer["text"].as_str().expect("a text");
        assert!(text.contains(says) && !text.contains('\n'), "{text}");
        let elsewhere = answer["elsewhere"].as_array().expect("places");
        assert!(!elsewhere.is_empty(), "{answer:#}");
        for place in elsewhere.iter().filter(|p| p["fits"] == true) {
            let by: i64 = place["terms"]
                .as_object()
                .expect("terms")
                .values()
                .map(|t| t.as_i64().expect("whole"))
                .sum();
            assert_eq!(place["more"], by, "{place}");
            assert!(by >= 0, "nothing is better than the best: {place}");
        }
    }
    // In a teacher's words, not in the names of terms.
    let text = class.on(BEFORE, "why", &["--lesson", "6"]).ends(0).out;
    assert!(text.contains("skills split by a break +20"), "{text}");
    assert_eq!(text.lines().count(), 1, "{text}");
}

#[test]
fn a_lesson_the_plan_fixes_and_one_that_is_past_say_so() {
    let class = Class::small();
    let fixed = "revision = 1\nfixed = [{ date = 2027-02-12, kind = \"catch-up\" }]";
    class.write("plan.toml", SMALL.replace("revision = 1", fixed));
    class.on(BEFORE, "plan", &[]).ends(0);
    let text = why(&class, BEFORE, 5)["text"].to_string();
    assert!(text.contains("The plan fixes this lesson here"), "{text}");
    let past = why(&class, "2027-02-10", 2);
    assert!(past["text"].to_string().contains("what is past stays as it was"), "{past:#}");
    assert_eq!(past["elsewhere"], serde_json::json!([]));
}

/// What a change moved when it was made is paid for: another place is measured against the
/// schedule as it now stands.
#[test]
fn after_a_change_other_places_are_measured_against_the_schedule_in_force() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    class.on("2027-02-10", "reschedule", &["--close", "2027-02-11", "--accept"]).ends(0);
    let changed = class.json("2027-02-10", "plan", &[]);
    assert!(changed["cost"]["terms"]["moved"].as_i64() > Some(0), "{:#}", changed["cost"]);
    for lesson in changed["lessons"].as_array().expect("lessons") {
        let number = u32::try_from(lesson["number"].as_u64().expect("a number")).expect("small");
        let answer = why(&class, "2027-02-10", number);
        for place in answer["elsewhere"].as_array().expect("places") {
            let by = |term: &str| place["terms"][term].as_i64().unwrap_or(0);
            assert!(by("moved") >= 0 && by("soon-moved") >= 0, "{answer:#}");
        }
    }
}

#[test]
fn a_preferred_number_that_is_not_reached_says_what_it_would_cost() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    let answer = class.json(BEFORE, "why", &[]);
    let c = told(&answer, "unit.lessons.c");
    assert_eq!((c.len(), &c[0]["fate"]), (1, &Value::from("not-met")), "{answer:#}");
    // A third lesson of c (weight 2, saves 1000) takes one of b (weight 4, costs 2000); the rest
    // of the price is the best place for it. It is what a plan that insists on it costs.
    let insisting = SMALL.replace("[unit]", "[unit.lessons]\nc = { least = 3 }\n\n[unit]");
    let other = Class::small();
    other.write("plan.toml", insisting);
    let cost = other.json(BEFORE, "plan", &[])["cost"]["total"].as_i64().expect("whole");
    assert_eq!(c[0]["more"], cost - 1015, "{answer:#}");
    let text = class.on(BEFORE, "why", &[]).ends(0).out;
    assert!(text.contains("“C” has 2 lessons, 3 preferred."), "{text}");
    let skill = class.on(BEFORE, "why", &["--skill", "c"]).ends(0).out;
    assert!(skill.contains("Lesson 6") && skill.contains("3 preferred"), "{skill}");
}

#[test]
fn wishes_that_change_nothing_say_so() {
    let class = Class::small();
    let plan = SMALL.replace(
        "revision = 1",
        "revision = 1\nsecure = [\"z\"]\nleave-out = [\"y\"]\n\
         fixed = [{ date = 2027-02-25, kind = \"unit-test\" }]\n\
         [unit.lessons]\na = { most = 4 }",
    );
    class.write("plan.toml", plan);
    let more = "\n[[skill]]\nid = \"y\"\nlessons = { least = 1, preferred = 1, most = 1 }\n\
                optional = true\n\n\
                [[skill]]\nid = \"z\"\nlessons = { least = 1, preferred = 1, most = 1 }\n";
    class.write("abc.toml", format!("{ABC}{more}"));
    class.on(BEFORE, "plan", &[]).ends(0);
    let answer = class.json(BEFORE, "why", &[]);
    for key in ["unit.secure", "unit.leave-out", "unit.fixed", "unit.lessons.a"] {
        let told = told(&answer, key);
        assert_eq!((told.len(), &told[0]["fate"]), (1, &"no-effect".into()), "{key}: {answer:#}");
    }
    let catch_up = told(&answer, "unit.catch-up")[0];
    assert_eq!((&catch_up["fate"], &catch_up["terms"]["short"]), (&"met".into(), &(-1000).into()));
}

#[test]
fn a_skill_that_is_not_taught_says_why() {
    let class = Class::small();
    let plan = SMALL.replace("teach = [\"b\", \"c\"]", "teach = [\"b\", \"c\"]\ncatch-up = 4");
    class.write("plan.toml", plan);
    class.write("abc.toml", format!("{ABC}optional = true\n\n[[skill]]\nid = \"z\"\nlessons = {{ least = 1, preferred = 1, most = 1 }}\n"));
    let made = class.json(BEFORE, "plan", &[]);
    assert_eq!(made["left_out"][0]["skill"], "c", "{made:#}");
    let text = class.on(BEFORE, "why", &["--skill", "c"]).ends(0).out;
    assert!(text.contains("“C” is not taught. It is optional"), "{text}");
    assert!(text.contains("There is no room for it"), "{text}");
    let text = class.on(BEFORE, "why", &["--skill", "z"]).ends(0).out;
    assert!(text.contains("“Z” is not in this unit"), "{text}");
    class.on(BEFORE, "why", &["--skill", "zz"]).ends(1).says("no skill `zz`").says("`z`");
}

/// Where the ladder leaves open which of two written methods comes first, the plan's list decides;
/// where it does not, and where a day is given to one of them, the list waits.
#[test]
fn methods_are_taught_in_the_plans_order_where_the_ladder_leaves_it_open() {
    let taught = |style: &str, fixed: &str| {
        let teach = "teach = [\"long-two-by-two\", \"lattice\"]";
        let plan = super::class::SHORT
            .replace("2027-02-19", "2027-03-12")
            .replace("teach = [\"long-two-by-two\", \"story-one-step\"]", teach);
        let class = Class::with(&format!("{plan}{fixed}\n[style]\nmethod = {style}\n"));
        let schedule = class.json(BEFORE, "plan", &[]);
        let lessons = schedule["lessons"].as_array().expect("lessons").clone();
        let skills = lessons.iter().filter_map(|l| l["skill"].as_str());
        let skills: Vec<String> = skills.map(str::to_owned).collect();
        let last = |skill: &str| skills.iter().rposition(|s| s == skill).expect("a lesson");
        let first = |skill: &str| skills.iter().position(|s| s == skill).expect("a lesson");
        assert!(last("grid-two-by-two") < first("long-two-by-two").min(first("lattice")));
        (first("lattice") > last("long-two-by-two"), class, lessons)
    };
    let (lattice_last, class, lessons) = taught("[\"grid\", \"long\", \"lattice\"]", "");
    assert!(lattice_last);
    let lattice = lessons.iter().find(|l| l["skill"] == "lattice").expect("the lattice");
    let number = u32::try_from(lattice["number"].as_u64().expect("a number")).expect("small");
    let answer = why(&class, BEFORE, number);
    assert!(answer.to_string().contains("long-two-by-two"), "{answer}");
    assert!(!taught("[\"grid\", \"lattice\", \"long\"]", "").0);
    // The ladder builds the lattice on the grid, whatever the list says.
    assert!(!taught("[\"lattice\", \"grid\", \"long\"]", "").0);
    // A day that is given to the last method comes before the list.
    let given = lessons.iter().find(|l| l["skill"] == "long-two-by-two").expect("long");
    let day = given["date"].as_str().expect("a date");
    let fixed = format!("fixed = [{{ date = {day}, kind = \"teach\", skill = \"lattice\" }}]");
    assert!(!taught("[\"grid\", \"long\", \"lattice\"]", &fixed).0);
}
