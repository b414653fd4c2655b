//! Items by the hundred thousand, made on one road and held against other people's integers.
//!
//! Every run makes three classes' items with every maker at every spot, and 200,000 plain products,
//! and checks them with the crate num-bigint. On request as many as `RUNGWISE_ITEMS` says (ten
//! million where it says nothing) go to Python, whose own integers check each row and carry:
//!
//!     cargo test --release --test outside million -- --ignored --nocapture

use crate::plain::products;
use num_bigint::BigUint;
use rungwise::exercise::makers::{self, Request, Setting, Spot};
use rungwise::exercise::{Item, Kind, Profile, Working, verify};
use rungwise::method::{Carries, FirstRow, HouseStyle, Long, ZeroRow};
use rungwise::number::Grouping;
use rungwise::seed::Seed;
use serde_json::{Value, json};
use std::io::{BufWriter, Write};
use std::process::{Command, Stdio};

const SPOTS: [Spot; 9] = [
    Spot::WarmUp,
    Spot::Example,
    Spot::Guided,
    Spot::Support,
    Spot::Core,
    Spot::Stretch,
    Spot::ExitCheck,
    Spot::Homework,
    Spot::Test,
];

/// How the n-th class writes, how practised it is and how long its sets are: all house styles, number
/// styles and profiles come round.
fn like(n: u64) -> (HouseStyle, Profile, u32) {
    let turn = |every: u64, of: u64| usize::try_from(n / every % of).expect("a few");
    let style = HouseStyle {
        grouping: [Grouping::Thousands, Grouping::Indian, Grouping::Spaced][turn(1, 3)],
        carries: [Carries::InRow, Carries::Above][turn(3, 2)],
        zero_row: [ZeroRow::Skip, ZeroRow::Write][turn(6, 2)],
        first_row: [FirstRow::Ones, FirstRow::Highest][turn(12, 2)],
        ..HouseStyle::default()
    };
    let profile = [Profile::Learning, Profile::Typical, Profile::Fluent][turn(1, 3)];
    (style, profile, [600, 120, 300, 60][turn(1, 4)])
}

/// What every maker makes for the n-th class of this key: three parts of each skill, every spot.
fn class(key: &str, n: u64) -> impl Iterator<Item = Item> {
    let (style, profile, seconds) = like(n);
    let setting = Setting::new(Seed::of(key), style, 100);
    let parts = |name| [1, 2, 3].into_iter().map(move |part| (name, part));
    let spots = |(name, part)| SPOTS.into_iter().map(move |spot| (name, part, spot));
    makers::names().into_iter().flat_map(parts).flat_map(spots).flat_map(
        move |(skill, part, spot)| {
            let request = Request {
                skill,
                part,
                spot,
                name: "A",
                profile,
                seconds,
                least: 3,
                most: 6,
                own: &[],
            };
            makers::make(skill, &request, &setting).unwrap_or_else(|fault| panic!("{key}: {fault}"))
        },
    )
}

/// The rows of a long working add up to the product, each what it is times the number on top.
fn rows_are_right(working: &Long) -> bool {
    let big = |n: u64| BigUint::from(n);
    let exact = |row: &rungwise::method::Row| big(working.a) * row.digit * row.place;
    let sum: BigUint = working.rows.iter().map(exact).sum();
    working.rows.iter().all(|row| exact(row) == big(row.value))
        && sum == big(working.a) * big(working.b)
        && sum == big(working.value)
}

/// Checked where there is a bare product: what it comes to, and its rows.
fn is_right(item: &Item) -> bool {
    let factors = item.expression.as_deref().and_then(|e| e.split_once('*'));
    let bare = factors.and_then(|(a, b)| Some((a.parse::<BigUint>().ok()?, b.parse().ok()?)));
    let answer = item.answer.parse::<BigUint>().ok();
    let product = bare.is_none_or(|(a, b): (BigUint, BigUint)| Some(a * b) == answer);
    let rows = match &item.working {
        Working::Long(working) => rows_are_right(working),
        _ => true,
    };
    product && rows
}

#[test]
fn two_hundred_thousand_products_are_right() {
    let mut stream = Seed::of("two hundred thousand").stream();
    for _ in 0..200_000 {
        let item = products(&mut stream);
        verify(&item).unwrap_or_else(|fault| panic!("{fault}"));
        assert!(is_right(&item), "{item:?}");
    }
}

#[test]
fn what_every_maker_makes_for_three_classes_is_right() {
    let mut made = 0;
    for (n, key) in (0..).zip(["7f3a-kingfisher", "b210-marigold", "another class"]) {
        for item in class(key, n) {
            assert!(is_right(&item), "{item:?}");
            made += 1;
        }
    }
    assert!(made > 3000, "{made}");
}

/// The second road finds a fault in every product whose answer, row or carry is off by one.
#[test]
fn an_item_that_is_off_by_one_is_found_by_both_checks() {
    let mut stream = Seed::of("off by one").stream();
    for _ in 0..2000 {
        let right = products(&mut stream);
        let mut wrong = right.clone();
        let Working::Long(working) = &mut wrong.working else { panic!("rows") };
        let Some(row) = working.rows.first_mut() else { continue };
        row.value += 1;
        assert!(verify(&wrong).is_err() && !is_right(&wrong), "{wrong:?}");
        let mut wrong = right;
        wrong.answer = (wrong.answer.parse::<u64>().expect("digits") + 9).to_string();
        assert!(verify(&wrong).is_err() && !is_right(&wrong), "{wrong:?}");
    }
}

/// An item as Python reads it; `None` where nothing is computed.
fn line(item: &Item) -> Option<Value> {
    let mut line = json!({ "expression": item.expression.as_deref()?, "answer": item.answer });
    if let (Kind::Written, Working::Long(working)) = (item.kind, &item.working) {
        let rows = working.rows.iter().map(|r| json!([r.digit, r.place, r.value, r.carries]));
        line["a"] = json!(working.a);
        line["b"] = json!(working.b);
        line["rows"] = rows.collect();
        line["adding"] = json!(working.adding_carries);
    }
    Some(line)
}

/// After so many plain products comes a class of what all makers make, some thousand items.
const A_CLASS: u64 = 10_000;

#[test]
#[ignore = "ten million items take some minutes in a release build"]
fn ten_million_items_are_right_by_pythons_integers() {
    let wanted = std::env::var("RUNGWISE_ITEMS").ok().and_then(|n| n.parse().ok());
    let wanted: u64 = wanted.unwrap_or(10_000_000);
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/outside/items.py");
    let mut python = Command::new("python3")
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("python3 is needed for this test");
    let mut to = BufWriter::new(python.stdin.take().expect("a pipe"));
    let mut stream = Seed::of("ten million").stream();
    let (mut sent, mut of_makers) = (0_u64, 0_u64);
    while sent + of_makers < wanted {
        if sent.is_multiple_of(A_CLASS) {
            for item in class(&format!("class {sent}"), sent / A_CLASS) {
                let Some(line) = line(&item) else { continue };
                writeln!(to, "{line}").expect("python reads");
                of_makers += 1;
            }
        }
        let item = products(&mut stream);
        verify(&item).unwrap_or_else(|fault| panic!("{fault}"));
        writeln!(to, "{}", line(&item).expect("an expression")).expect("python reads");
        sent += 1;
    }
    drop(to);
    let output = python.wait_with_output().expect("python ends");
    let said = String::from_utf8_lossy(&output.stdout).into_owned();
    println!("{said}of these {of_makers} by the makers");
    assert!(output.status.success(), "{said}");
    assert_eq!(said.trim(), format!("{} items, every one right", sent + of_makers));
}
