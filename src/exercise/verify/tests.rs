//! Right items pass; every planted fault is caught.

use super::*;
use crate::exercise::samples::{bare, choice, mental, written};
use crate::exercise::{Choice, Likely, Story};
use crate::method::{
    Carries, FirstRow, HouseStyle, ZeroRow, estimate, grid, lattice, long, routes,
};
use crate::number::Grouping;

fn passes(item: &Item) {
    assert_eq!(verify(item), Ok(()));
}

/// The fault must be found, whatever it is called.
fn caught(item: &Item, what: &str) {
    assert!(verify(item).is_err(), "not caught: {what} in {item:?}");
}

fn styles() -> Vec<HouseStyle> {
    let mut styles = Vec::new();
    for zero_row in [ZeroRow::Skip, ZeroRow::Write] {
        for first_row in [FirstRow::Ones, FirstRow::Highest] {
            for carries in [Carries::InRow, Carries::Above] {
                styles.push(HouseStyle { zero_row, first_row, carries, ..Default::default() });
            }
        }
    }
    styles
}

fn likely_wrong(answer: &str) -> Likely {
    let name = "zeros left out".to_owned();
    Likely { answer: answer.to_owned(), patterns: vec![name.clone()], shows: name }
}

fn story(a: u64, b: u64) -> Item {
    let style = HouseStyle::default();
    let product = style.number(a * b);
    let told = Story {
        know: vec![format!("{} crates", style.number(b))],
        need: "the hooks in all".to_owned(),
        steps: vec![format!("{} = {product}", style.sum(a, b))],
        sentence: format!("It sends {product} hooks."),
        structure: "equal-groups".to_owned(),
        scene: String::new(),
    };
    let working = Working::Story { story: told, long: Some(long(a, b, &style)) };
    let mut item = bare(Kind::Story, a, b, working);
    item.prompt = format!("{} crates hold {} hooks each. How many hooks?", b, style.number(a));
    item
}

#[test]
fn a_chart_has_a_place_for_each_digit_of_the_product() {
    let mut item = mental(406, 100);
    item.space = Space::Chart { columns: 5 };
    passes(&item);
    item.space = Space::Chart { columns: 4 };
    caught(&item, "a place too few");
}

fn row(a: u64, b: u64, part: u64) -> Item {
    let style = HouseStyle::default();
    let mut item = bare(Kind::Row, a, part, Working::Long(long(a, b, &style)));
    item.prompt = format!("Write only the × {part} row of {}.", style.sum(a, b));
    item
}

fn estimated(a: u64, b: u64) -> Item {
    let about = estimate(a, b);
    let mut item = bare(Kind::Estimate, a, b, Working::Estimate(about.clone()));
    item.expression = Some(format!("{}*{}", about.factors[0], about.factors[1]));
    item.answer = about.value.to_string();
    let (least, most) = about.between;
    item.accept = Some(Accept::Between { least: least.to_string(), most: most.to_string() });
    item
}

#[test]
fn right_items_of_every_kind_pass() {
    passes(&written(6283, 347));
    passes(&written(347, 6283));
    passes(&mental(36, 199));
    passes(&choice(6283, 347, &[87_962, 483_791]));
    passes(&story(2365, 148));
    passes(&row(5476, 382, 300));
    passes(&estimated(6283, 347));
    passes(&bare(Kind::Written, 47, 36, Working::Grid(grid(47, 36))));
    passes(&bare(Kind::Written, 47, 36, Working::Lattice(lattice(47, 36))));
    let mut words = bare(Kind::Words, 1, 1, Working::Steps { steps: Vec::new() });
    words.expression = None;
    words.prompt = "Write in words: 12".to_owned();
    words.answer = "twelve".to_owned();
    passes(&words);
}

#[test]
fn all_two_digit_products_pass_under_every_style_and_method() {
    for (a, b) in (0..100).flat_map(|a| (0..100).step_by(7).map(move |b| (a, b))) {
        for style in styles() {
            passes(&bare(Kind::Written, a, b, Working::Long(long(a, b, &style))));
        }
        passes(&bare(Kind::Written, a, b, Working::Lattice(lattice(a, b))));
        passes(&bare(Kind::Written, a, b, Working::Grid(grid(a, b))));
        for route in routes(a, b) {
            passes(&bare(Kind::Mental, a, b, Working::Route(route)));
        }
    }
}

proptest::proptest! {
    #[test]
    fn large_products_pass_in_every_grouping(a in 0..1_000_000_u64, b in 0..1_000_000_u64) {
        for grouping in [Grouping::Thousands, Grouping::Indian, Grouping::Spaced] {
            let style = HouseStyle { grouping, ..Default::default() };
            let mut item = bare(Kind::Written, a, b, Working::Long(long(a, b, &style)));
            item.prompt = style.sum(a, b);
            passes(&item);
        }
        passes(&estimated(a, b));
        for route in routes(a, b) {
            passes(&bare(Kind::Mental, a, b, Working::Route(route)));
        }
    }

    /// No digit of an answer or of a working can be wrong.
    #[test]
    fn a_wrong_digit_anywhere_is_caught(a in 10..10_000_u64, b in 10..1000_u64, by in 1..9_u64, place in 0..7_u32, at in 0..3_usize) {
        let change = |n: u64| n + by * 10_u64.pow(place);
        let right = written(a, b);
        let mut item = right.clone();
        item.answer = change(a * b).to_string();
        caught(&item, "the answer");
        let Working::Long(good) = right.working.clone() else { panic!("long") };
        let mut planted = |what: &str, plant: &dyn Fn(&mut crate::method::Long)| {
            let mut bad = good.clone();
            plant(&mut bad);
            item = right.clone();
            item.working = Working::Long(bad);
            caught(&item, what);
        };
        planted("the value", &|l| l.value = change(l.value));
        planted("the multiplicand", &|l| l.a = change(l.a));
        planted("the multiplier", &|l| l.b = change(l.b));
        let row = at % good.rows.len();
        planted("a row's value", &|l| l.rows[row].value = change(l.rows[row].value));
        planted("a row's place", &|l| l.rows[row].place *= 10);
        planted("a row's digit", &|l| l.rows[row].digit = (l.rows[row].digit + 1) % 10);
        planted("a row left out", &|l| { l.rows.remove(row); });
        planted("a row twice", &|l| { let twice = l.rows[row].clone(); l.rows.push(twice); });
        let carry = at % good.rows[row].carries.len();
        planted("a carry", &|l| l.rows[row].carries[carry] += 1);
        planted("a carry too few", &|l| { l.rows[row].carries.pop(); });
        if !good.adding_carries.is_empty() {
            let carry = at % good.adding_carries.len();
            planted("an adding carry", &|l| l.adding_carries[carry] += 1);
        }
    }
}

#[test]
fn faults_in_a_grid_or_a_lattice_are_caught() {
    let good = grid(6283, 347);
    let plants: [fn(&mut crate::method::Grid); 6] = [
        |g| g.value += 9,
        |g| g.parts[0] += 1000,
        |g| g.rows[1].cells[2] += 99,
        |g| g.rows[0].value += 1,
        |g| g.rows[0].place = 10,
        |g| {
            g.rows[0].cells.pop();
        },
    ];
    for plant in plants {
        let mut bad = good.clone();
        plant(&mut bad);
        caught(&bare(Kind::Written, 6283, 347, Working::Grid(bad)), "a grid");
    }
    let good = lattice(6283, 347);
    let plants: [fn(&mut crate::method::Lattice); 5] = [
        |l| l.value += 99,
        |l| l.cells[1][2] += 1,
        |l| l.diagonals[3] += 1,
        |l| l.carries[3] += 1,
        |l| {
            l.cells.pop();
        },
    ];
    for plant in plants {
        let mut bad = good.clone();
        plant(&mut bad);
        caught(&bare(Kind::Written, 6283, 347, Working::Lattice(bad)), "a lattice");
    }
}

#[test]
fn faults_in_a_route_are_caught() {
    let Working::Route(good) = mental(36, 199).working else { panic!("a route") };
    let plants: [fn(&mut crate::method::Route); 5] = [
        |r| r.steps[0].expression = "36*200 - 35".to_owned(),
        |r| r.steps[1].value += 1,
        |r| r.value += 1,
        |r| {
            r.steps.pop();
        },
        |r| r.sum = "36*198".to_owned(),
    ];
    for plant in plants {
        let mut bad = good.clone();
        plant(&mut bad);
        caught(&bare(Kind::Mental, 36, 199, Working::Route(bad)), "a route");
    }
    let other = routes(36, 198).remove(0);
    caught(&bare(Kind::Mental, 36, 199, Working::Route(other)), "another sum's route");
}

#[test]
fn faults_in_what_is_printed_are_caught() {
    let mut item = written(6283, 347);
    item.prompt = HouseStyle::default().sum(6283, 374);
    caught(&item, "another product in the question");
    item.prompt = String::new();
    caught(&item, "no question");
    let mut item = written(6283, 347);
    item.expression = Some("6283*346 + 6283".to_owned());
    caught(&item, "an expression that is not a*b");
    item.expression = None;
    caught(&item, "no expression");
    item = mental(36, 199);
    item.prompt = "36 × 198 =".to_owned();
    caught(&item, "another sum in the question");
    item = row(5476, 382, 300);
    item.prompt = "Write only the × 300 row of 5,476 × 482.".to_owned();
    caught(&item, "a row of another product");
    item = story(2365, 148);
    item.prompt = "148 crates hold 2,356 hooks each. How many hooks?".to_owned();
    caught(&item, "a story that tells another number");
}

#[test]
fn faults_in_options_and_other_answers_are_caught() {
    let good = choice(6283, 347, &[87_962, 483_791]);
    let wrong = |text: &str, correct| Choice { text: text.to_owned(), correct, pattern: None };
    let plants: [&dyn Fn(&mut Item); 6] = [
        &|i| i.choices[0].correct = true,
        &|i| i.choices[2].correct = false,
        &|i| i.choices.truncate(2),
        &|i| i.choices.push(wrong("87,962", false)),
        &|i| i.choices.push(wrong("21,80,201", false)),
        &|i| i.answer = "87,962".to_owned(),
    ];
    for (index, plant) in plants.iter().enumerate() {
        let mut bad = good.clone();
        plant(&mut bad);
        caught(&bad, &format!("option fault {index}"));
    }
    let mut item = written(47, 36);
    item.choices = good.choices.clone();
    caught(&item, "options of a written sum");
    item = written(47, 36);
    item.likely = vec![likely_wrong("423"), likely_wrong("1692")];
    caught(&item, "a wrong answer that is right");
    item.likely = vec![likely_wrong("423"), likely_wrong("423")];
    caught(&item, "a wrong answer twice");
    item.likely = vec![Likely { patterns: Vec::new(), ..likely_wrong("423") }];
    caught(&item, "a wrong answer that shows nothing");
    item.likely = vec![likely_wrong("423")];
    passes(&item);
    item.accept = Some(Accept::Any(vec!["423".to_owned()]));
    caught(&item, "a wrong answer that is accepted");
}

#[test]
fn faults_in_an_estimate_are_caught() {
    let good = estimated(6283, 347);
    let Working::Estimate(about) = good.working.clone() else { panic!("an estimate") };
    let mut item = good.clone();
    item.accept = Some(Accept::Between { least: "1".to_owned(), most: "1000".to_owned() });
    caught(&item, "a range without the answer");
    item = good.clone();
    item.answer = "2100000".to_owned();
    caught(&item, "another answer");
    for (factors, between) in [([6000, 400], about.between), ([6000, 300], (1_800_000, 2_100_000))]
    {
        let mut item = good.clone();
        let value = factors[0] * factors[1];
        item.expression = Some(format!("{}*{}", factors[0], factors[1]));
        item.answer = value.to_string();
        item.accept = None;
        item.working = Working::Estimate(crate::method::Estimate { factors, value, between });
        caught(&item, "factors or bounds that are not those of the product");
    }
    passes(&estimated(27, 7));
    let mut item = estimated(27, 7);
    let wide = crate::method::Estimate { factors: [30, 7], value: 210, between: (140, 240) };
    item.working = Working::Estimate(wide);
    caught(&item, "an upper bound that rounds one digit up");
}

#[test]
fn faults_in_a_story_are_caught() {
    let mut timed = story(2365, 148);
    let Working::Story { story: told, .. } = &mut timed.working else { panic!("a story") };
    told.sentence = "In 148 crates it sends 350,020 hooks.".to_owned();
    passes(&timed);
    let plants: [fn(&mut Story); 4] = [
        |s| s.steps[0] = "2,365 × 148 = 350,120".to_owned(),
        |s| s.sentence = "It sends 350,120 hooks.".to_owned(),
        |s| s.sentence = "In 149 crates it sends 350,020 hooks.".to_owned(),
        |s| s.steps.clear(),
    ];
    for plant in plants {
        let mut item = story(2365, 148);
        let Working::Story { story: told, .. } = &mut item.working else { panic!("a story") };
        plant(told);
        caught(&item, "a story");
    }
}

#[test]
fn a_false_sentence_in_the_steps_is_caught() {
    let steps = vec!["3 × 40 = 120, and 120 + 8 = 129.".to_owned()];
    caught(&bare(Kind::Mental, 16, 8, Working::Steps { steps }), "a false sentence");
}

#[test]
fn squares_that_do_not_hold_the_answer_are_caught() {
    let mut item = written(6283, 347);
    let given = crate::exercise::Given::Nothing;
    item.space = Space::Squares { columns: 7, rows: 6, given, estimate: true, compare: false };
    caught(&item, "too few squares");
    item.space = Space::Squares { columns: 8, rows: 6, given, estimate: true, compare: false };
    passes(&item);
}

/// A short answer to this question.
fn short(prompt: &str, answer: &str) -> Item {
    let mut item = mental(4, 3);
    item.kind = Kind::Reason;
    item.expression = None;
    item.working = Working::Steps { steps: Vec::new() };
    item.prompt = prompt.to_owned();
    item.answer = answer.to_owned();
    item
}

/// A choice between these, the first being called right.
fn chosen(prompt: &str, options: &[&str]) -> Item {
    let mut item = short(prompt, options[0]);
    item.kind = Kind::Choice;
    let option = |(index, text): (usize, &&str)| Choice {
        text: (*text).to_owned(),
        correct: index == 0,
        pattern: None,
    };
    item.choices = options.iter().enumerate().map(option).collect();
    item
}

#[test]
fn statements_orders_and_workings_are_worked_out_anew() {
    let order =
        "Write the letters in order, the smallest product first. A: 9 × 9; B: 9 × 8; C: 7 × 8";
    assert_eq!(verify(&short(order, "C, B, A")), Ok(()));
    for wrong in ["A, B, C", "C, B", "B, C, A"] {
        assert!(verify(&short(order, wrong)).is_err(), "{wrong}");
    }
    for (statement, right, wrong) in [
        ("True or false? 48 × 25 = 24 × 50.", "true", "false"),
        ("True or false? 47 × 35 = 47 × 36 − 1.", "false", "true"),
        ("True or false? 47 × 37 is 47 more than 47 × 36.", "true", "false"),
        ("True or false? 94 × 72 is twice 47 × 36.", "false", "true"),
    ] {
        assert_eq!(verify(&chosen(statement, &[right, wrong])), Ok(()), "{statement}");
        assert!(verify(&chosen(statement, &[wrong, right])).is_err(), "{statement}");
    }
    for (question, right, wrong) in [
        (
            "Multiply a number of 3 digits by a number of 2 digits. How many digits can the product have?",
            "4 or 5",
            "always 5",
        ),
        (
            "Multiply a number from 300 to 399 by a number from 40 to 49. How many digits can the product have?",
            "always 5",
            "4 or 5",
        ),
        (
            "Which working of 47 × 36 is right? Each one adds up its rows.",
            "282 + 1,410 = 1,692",
            "282 + 141 = 423",
        ),
        ("Which one is the same as 47 + 47 + 47?", "47 × 3", "47 × 2"),
        (
            "You have 13 groups of 7. How many more groups make 17 groups of 7?",
            "4 more groups",
            "7 more groups",
        ),
        ("47 × 30 = 1,410. What turns 1,410 into 47 × 29?", "take away 47", "take away 1"),
    ] {
        assert_eq!(verify(&chosen(question, &[right, wrong])), Ok(()), "{question}");
        assert!(verify(&chosen(question, &[wrong, right])).is_err(), "{question}");
    }
}

#[test]
fn a_drawing_that_does_not_lead_to_the_answer_is_found() {
    use crate::exercise::{Figure, WorkedRow};
    let dots = |answer: &str| {
        let mut item = short("How many dots stand right of the line?", answer);
        item.figure = Some(Figure::Array { rows: 6, columns: 14, cut: Some(10) });
        item
    };
    assert_eq!(verify(&dots("24")), Ok(()));
    assert!(verify(&dots("84")).is_err());
    let area = |cell: u64| {
        let mut item = short("This shows 47 × 6. What belongs in the empty part?", "42");
        let cells = vec![vec![Some(cell), None]];
        item.figure = Some(Figure::Area { across: vec![40, 7], down: vec![6], cells });
        item
    };
    assert_eq!(verify(&area(240)), Ok(()));
    assert!(verify(&area(24)).is_err());
    let worked = |second: u64, value: u64| {
        let mut item = short("One line is wrong.", "1692");
        let row = |times, value| WorkedRow { times, value };
        let rows = vec![row(6, 282), row(30, second)];
        item.figure = Some(Figure::Worked { a: 47, b: 36, rows, value });
        item
    };
    assert_eq!(verify(&worked(141, 423)), Ok(()));
    assert!(verify(&worked(1410, 1692)).is_err(), "nothing is wrong");
    assert!(verify(&worked(141, 1692)).is_err(), "two lines are wrong");
}
