//! The makers of words, large numbers and the choice of a method, as a reader meets them.

use crate::sums;
use rungwise::exercise::makers::{Request, Setting, Spot, make};
use rungwise::exercise::{Accept, Item, Kind, Profile, Working};
use rungwise::method::{HouseStyle, routes};
use rungwise::number::{Grouping, in_words};
use rungwise::seed::Seed;
use std::collections::BTreeSet;

const SPOTS: [Spot; 7] = [
    Spot::Example,
    Spot::Support,
    Spot::Core,
    Spot::Stretch,
    Spot::ExitCheck,
    Spot::Homework,
    Spot::Test,
];

fn items(maker: &str, grouping: Grouping) -> Vec<Item> {
    let style = HouseStyle { grouping, ..HouseStyle::default() };
    let setting = Setting::new(Seed::of("words"), style, 100);
    let mut all = Vec::new();
    for (part, spot) in (1..=2).flat_map(|part| SPOTS.map(|spot| (part, spot))) {
        let request = Request {
            skill: maker,
            part,
            spot,
            name: "A",
            profile: Profile::Typical,
            seconds: 9000,
            least: 1,
            most: 8,
            own: &[],
        };
        let set = make(maker, &request, &setting).expect("a set");
        assert_eq!(set.len(), 8, "{maker} {part} {spot:?}");
        all.extend(set);
    }
    all
}

#[test]
fn options_differ_and_a_sum_among_them_is_right_only_where_it_multiplies() {
    let mut sums_seen = 0;
    for item in items("words-of-the-trade", Grouping::Thousands) {
        if item.figure.is_some() {
            continue;
        }
        assert_eq!(item.kind, Kind::Choice, "{}", item.prompt);
        let texts: BTreeSet<&str> = item.choices.iter().map(|c| c.text.as_str()).collect();
        assert_eq!(texts.len(), item.choices.len(), "{}: {texts:?}", item.prompt);
        let asked =
            item.prompt.strip_prefix("Which one is the same as ").and_then(|p| p.split('?').next());
        for choice in &item.choices {
            let value = sums::value(&choice.text).filter(|_| choice.text.contains('×'));
            if let Some(value) = value {
                // Of several products the one with the value of the sum in the question is right.
                let right = asked.is_none_or(|sum| sums::value(sum) == Some(value));
                assert_eq!(choice.correct, right, "{}", item.prompt);
                sums_seen += 1;
            }
        }
        check_multiples_and_factors(&item);
    }
    assert!(sums_seen > 5);
}

/// "Which number is a multiple of 8?": exactly the right option is one.
fn check_multiples_and_factors(item: &Item) {
    let ask = |words: &str| -> Option<u64> {
        let rest = item.prompt.strip_prefix(words)?;
        rest.split('?').next()?.parse().ok()
    };
    for choice in &item.choices {
        let Ok(number) = choice.text.parse::<u64>() else { continue };
        if let Some(of) = ask("Which number is a multiple of ") {
            assert_eq!(number % of == 0, choice.correct, "{}: {number}", item.prompt);
        }
        if let Some(of) = ask("Which number is a factor of ") {
            assert_eq!(of % number == 0, choice.correct, "{}: {number}", item.prompt);
        }
    }
}

#[test]
fn large_numbers_are_named_as_the_class_names_them() {
    for grouping in [Grouping::Thousands, Grouping::Indian, Grouping::Spaced] {
        let (mut figures, mut names) = (0, 0);
        for item in items("reading-large-numbers", grouping) {
            let Working::Steps { steps } = &item.working else { panic!("{}", item.prompt) };
            assert!(steps[0].contains("is read"), "{steps:?}");
            if let Some(name) = item.prompt.strip_prefix("Write in figures: ") {
                let number: u64 = item.answer.parse().expect("digits");
                assert_eq!(name, in_words(number, grouping));
                assert!(item.likely.iter().all(|l| l.answer != item.answer));
                assert!((1_000..10_000_000).contains(&number), "{number}");
                figures += 1;
            } else if let Some(number) = item.prompt.strip_prefix("Write in words: ") {
                let digits: String = number.chars().filter(char::is_ascii_digit).collect();
                let number: u64 = digits.parse().expect("digits");
                assert_eq!(item.answer, in_words(number, grouping));
                let Some(Accept::Any(others)) = &item.accept else { panic!("{}", item.prompt) };
                assert!(
                    others.iter().all(|o| o != &item.answer && !o.contains("  ")),
                    "{others:?}"
                );
                names += 1;
            }
        }
        assert!(figures > 20 && names > 10, "{figures} {names}");
    }
}

/// The factors of "46 × 25".
fn two(sum: &str) -> (u64, u64) {
    let parts: Vec<u64> = sum.split('×').filter_map(|n| n.trim().parse().ok()).collect();
    let [a, b] = parts[..] else { panic!("{sum}") };
    (a, b)
}

#[test]
fn a_method_is_chosen_both_ways() {
    let all = items("choosing-a-method", Grouping::Thousands);
    let paper = all.iter().filter(|i| i.answer == "on paper, in columns").count();
    assert!(paper * 5 > all.len() && paper * 2 < all.len(), "{paper} of {}", all.len());
    for item in &all {
        let texts: BTreeSet<&str> = item.choices.iter().map(|c| c.text.as_str()).collect();
        assert_eq!(texts.len(), 3, "{}", item.prompt);
        let sum =
            item.prompt.trim_start_matches("Which way to work out ").split(" is quick").next();
        let product = sum.and_then(sums::value).expect("a product");
        for way in texts.into_iter().filter(|text| text.contains(char::is_numeric)) {
            assert_eq!(sums::value(way), Some(product), "{}: {way}", item.prompt);
        }
        assert!(item.choices.iter().any(|c| c.text == "on paper, in columns"));
        let cost = |a: u64, b: u64| routes(a, b).first().map_or(0, |r| r.cost);
        let (a, b) = two(sum.expect("a product"));
        for wrong in item.choices.iter().filter(|c| !c.correct && c.text.contains('×')) {
            // A way that is called wrong begins with a product as hard as the whole sum.
            let (x, y) = two(wrong.text.split(['+', '−']).next().expect("a product"));
            assert!(cost(x, y) >= cost(a, b), "{}: {}", item.prompt, wrong.text);
        }
        if item.answer == "on paper, in columns" {
            let quick = |n: u64| [0, 1, 2, 5, 8, 9].contains(&(n % 10));
            assert!(!quick(a) && !quick(b), "{}", item.prompt);
        }
    }
}
