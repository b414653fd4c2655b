//! Two patterns in one sum: the page comes to the answer, for every pair and many sums.

use super::super::*;
use super::pages::{check_grid, check_lattice, check_long};
use crate::method::{HouseStyle, Written};

const SUMS: &[(u64, u64)] = &[
    (47, 36),
    (86, 57),
    (58, 94),
    (66, 99),
    (12, 34),
    (90, 68),
    (308, 46),
    (478, 60),
    (994, 17),
    (265, 34),
    (312, 213),
    (423, 206),
    (524, 367),
    (608, 509),
    (4008, 79),
    (5476, 38),
    (9507, 740),
    (7092, 209),
    (8365, 574),
    (36, 478),
];

const ROWS: &[(u64, u8, u64)] =
    &[(47, 3, 10), (478, 6, 100), (806, 7, 10), (5476, 4, 100), (99, 9, 1), (312, 8, 1000)];

/// Every pattern inside rows with every one of placing or adding them, and every one that puts rows in
/// wrong places with that of adding.
fn every() -> Vec<(&'static Pattern, &'static Pattern)> {
    let inside =
        catalogue().iter().filter(|p| matches!(p.family, Family::Row | Family::SingleFact));
    let placing = || PLACING.iter().filter_map(|name| pattern(name));
    let adding = pattern(ADDING).expect("known");
    let misplacing = MISPLACING.iter().filter_map(|name| pattern(name)).map(|p| (p, adding));
    inside.flat_map(|p| placing().map(move |q| (p, q))).chain(misplacing).collect()
}

/// What the last line of digits on a page says.
fn last_number(page: &WrongWorking) -> u64 {
    let lines = page.page(&HouseStyle::default());
    let digits = |line: &String| -> String { line.chars().filter(char::is_ascii_digit).collect() };
    let numbers = lines.iter().rev().filter(|line| !line.contains("carried"));
    // A row that stands alone has its label behind it.
    let own = |line: &String| line.split("  ×").next().unwrap_or_default().to_owned();
    numbers.map(own).map(|line| digits(&line)).find_map(|text| text.parse().ok()).expect("a number")
}

#[test]
fn a_page_of_two_patterns_ends_in_their_answer() {
    let (mut long, mut cells, mut rows) = (0, 0, 0);
    for (p, q) in every() {
        for &(a, b) in SUMS {
            for method in [Written::Long, Written::Grid, Written::Lattice] {
                let task = Task::Written(a, b);
                let what = format!("{} and {}, {a} × {b}, {method:?}", p.name, q.name);
                for answer in both_answers(task, method, p, q) {
                    assert_ne!(answer, a * b, "{what}");
                    let page = show_both(task, method, (q, p), answer).expect("a page");
                    assert_eq!((page.value(), last_number(&page)), (answer, answer), "{what}");
                    match &page {
                        WrongWorking::Long(page) => check_long(page, &what),
                        WrongWorking::Grid(page) => check_grid(page, true, &what),
                        WrongWorking::Lattice(page) => check_lattice(page, &what),
                        other => panic!("{what}: {other:?}"),
                    }
                    *(if method == Written::Long { &mut long } else { &mut cells }) += 1;
                }
            }
        }
        for &(a, digit, place) in ROWS {
            let task = Task::Row { a, digit, place };
            let what = format!("{} and {}, {a} × {digit} × {place}", p.name, q.name);
            for answer in both_answers(task, Written::Long, p, q) {
                let page = show_both(task, Written::Long, (p, q), answer).expect("a page");
                assert_eq!((page.value(), last_number(&page)), (answer, answer), "{what}");
                let WrongWorking::Long(page) = &page else { panic!("{what}") };
                check_long(page, &what);
                rows += 1;
            }
        }
    }
    assert!(long > 5_000 && cells > 300 && rows > 300, "{long} {cells} {rows}");
}

/// A row by itself is shown with the zeros that the pupil writes, whatever goes wrong in it.
#[test]
fn a_row_that_stands_alone_ends_in_its_answer() {
    let mut shown = 0;
    for &(a, digit, place) in ROWS {
        for prediction in (Task::Row { a, digit, place }).predictions() {
            let name = prediction.pattern.name;
            for (answer, _) in prediction.answers {
                let what = format!("{name}, {a} × {digit} × {place}: {answer}");
                let page = show_row(name, a, (digit, place), Some(answer));
                let page = page.unwrap_or_else(|| panic!("{what}"));
                assert_eq!(page.value(), answer, "{what}");
                if let WrongWorking::Long(long) = &page {
                    assert_eq!(last_number(&page), answer, "{what}");
                    check_long(long, &what);
                }
                shown += 1;
            }
        }
    }
    assert!(shown > 100, "{shown}");
}

/// Worked by hand. 47 × 36 without carries is 242 and 1210 in its rows; without its zero the second
/// is 121, and the columns of 242 and 121 add up without a carry.
#[test]
fn the_page_shows_both_mistakes() {
    let names = ["carry-not-added", "placeholder-left-out"].map(|n| pattern(n).expect("known"));
    let task = Task::Written(47, 36);
    let page = show_both(task, Written::Long, (names[0], names[1]), 363).expect("a page");
    let lines = page.page(&HouseStyle::default()).join("\n");
    assert_eq!(
        lines,
        "     4 7\n   × 3 6\n -------\n     4    carried\n   2 4 2  × 6\n     2    carried\n   1 2 1  × 30\n \
         -------\n   3 6 3\n -------"
    );
    let row = Task::Row { a: 47, digit: 3, place: 10 };
    let page = show_both(row, Written::Long, (names[0], names[1]), 121).expect("a page");
    let lines = page.page(&HouseStyle::default()).join("\n");
    assert_eq!(lines, "     4 7\n   × 3 0\n -------\n     2    carried\n   1 2 1  × 30\n -------");
    // Nothing can be put together with itself.
    assert!(both_show(Task::Written(47, 36), Written::Long, names[0], names[0]).is_empty());
}

/// Worked by hand. 86 × 57 with no zero behind the second row is 602 and 430; 0 and 3, 6 and 4 with the
/// ten lost, leave 32. In a grid, and in one row by itself, no row stands in a wrong place.
#[test]
fn rows_in_wrong_places_are_added_without_carries() {
    let names = ["placeholder-left-out", ADDING].map(|n| pattern(n).expect("known"));
    let task = Task::Written(86, 57);
    assert!(stand_together(names[1], names[0]));
    assert_eq!(both_show(task, Written::Long, names[0], names[1]), [32]);
    let page = show_both(task, Written::Long, (names[1], names[0]), 32).expect("a page");
    let lines = page.page(&HouseStyle::default()).join("\n");
    assert!(lines.contains("   6 0 2  × 7\n") && lines.contains("   4 3 0  × 50\n"), "{lines}");
    assert!(both_answers(task, Written::Grid, names[0], names[1]).is_empty());
    let row = Task::Row { a: 86, digit: 5, place: 10 };
    assert!(both_answers(row, Written::Long, names[0], names[1]).is_empty());
}

/// What one of them gives by itself says nothing of the other.
#[test]
fn where_one_hides_the_other_they_do_not_both_show() {
    let [carry, first] =
        ["carry-not-added", "only-highest-row"].map(|n| pattern(n).expect("known"));
    // 47 × 1 carries nothing: only the row × 6, which is not written, would show the carry.
    let task = Task::Written(47, 16);
    assert_eq!(both_answers(task, Written::Long, carry, first), [470]);
    assert!(both_show(task, Written::Long, carry, first).is_empty());
}
