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
    let (mut long, mut misplaced, mut cells, mut rows) = (0, 0, 0, 0);
    for (p, q) in all_that_stand_together() {
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
                    if p.family == Family::Long {
                        assert_eq!(method, Written::Long, "{what}: only rows can be misplaced");
                        misplaced += 1;
                    }
                    *(if method == Written::Long { &mut long } else { &mut cells }) += 1;
                }
            }
        }
        for &(a, digit, place) in ROWS {
            let task = Task::Row { a, digit, place };
            let what = format!("{} and {}, {a} × {digit} × {place}", p.name, q.name);
            for answer in both_answers(task, Written::Long, p, q) {
                assert_ne!(p.family, Family::Long, "{what}: one row is not added");
                let page = show_both(task, Written::Long, (p, q), answer).expect("a page");
                assert_eq!((page.value(), last_number(&page)), (answer, answer), "{what}");
                let WrongWorking::Long(page) = &page else { panic!("{what}") };
                check_long(page, &what);
                rows += 1;
            }
        }
    }
    assert!(long > 5_000 && cells > 300 && rows > 300, "{long} {cells} {rows}");
    assert!(misplaced > 60, "{misplaced}");
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

/// Every two stand together whichever is named first, and no other two do.
#[test]
fn those_that_stand_together_do_so_in_either_order() {
    let all: Vec<(&str, &str)> = all_that_stand_together().map(|(p, q)| (p.name, q.name)).collect();
    for p in catalogue() {
        for q in catalogue() {
            let listed = all.contains(&(p.name, q.name)) || all.contains(&(q.name, p.name));
            assert_eq!(stand_together(p, q), listed, "{} and {}", p.name, q.name);
        }
    }
    // 20 patterns inside rows and 36 facts with nine of placing or adding, and six with the adding.
    assert_eq!(all.len(), (20 + 36) * 9 + 6);
}

/// Worked by hand. 47 × 36: the rows are 282 and, without its zero, 141. Added they are 423; without
/// carries 2 + 1, 8 + 4 and 2 + 1 write 3, 2 and 3.
#[test]
fn the_page_shows_rows_without_zeros_added_without_carries() {
    let [zeros, adding] =
        ["placeholder-left-out", "adding-carries-lost"].map(|n| pattern(n).expect("known"));
    let task = Task::Written(47, 36);
    assert_eq!(both_answers(task, Written::Long, adding, zeros), [323]);
    assert_eq!(both_show(task, Written::Long, zeros, adding), [323]);
    let page = show_both(task, Written::Long, (zeros, adding), 323).expect("a page");
    assert_eq!(
        page.page(&HouseStyle::default()).join("\n"),
        "     4 7\n   × 3 6\n -------\n     4    carried\n   2 8 2  × 6\n     2    carried\n   1 4 1  × 30\n \
         -------\n   3 2 3\n -------"
    );
}

/// Worked by hand, one of each: where the rows are moved otherwise, what is written under them.
#[test]
fn rows_placed_wrongly_are_added_without_carries() {
    let adding = pattern("adding-carries-lost").expect("known");
    let both = |name: &str, a, b| {
        both_answers(Task::Written(a, b), Written::Long, pattern(name).expect("known"), adding)
    };
    // 423 × 206: 2538 and 8460, the 846 moved one place: 8, 9 = 3 + 6, 9 = 5 + 4 and 0 = 2 + 8.
    assert_eq!(both("row-after-zero-closed-up", 423, 206), [998]);
    assert_eq!(both("hundreds-row-shifted-once", 423, 206), [998]);
    // 2538, 4230 for the zero and 84600: 8, 6 = 3 + 3 + 0, 3 = 5 + 2 + 6, 0 = 2 + 4 + 4 and 8.
    assert_eq!(both("zero-row-copied", 423, 206), [80_368]);
    // 68 × 47: 476 and 27200: 6, 7, 6 = 4 + 2, 7, 2; nothing is carried, so one mistake is to be seen.
    assert_eq!(both("later-rows-extra-zero", 68, 47), [27_676]);
    // 4760 and 272: 2, 3 = 6 + 7, 9 = 7 + 2 and 4.
    assert_eq!(both("rows-shifted-in-reverse", 68, 47), [4932]);
    // No zero, no hundreds: all rows stand as they should.
    for name in ["row-after-zero-closed-up", "hundreds-row-shifted-once", "zero-row-copied"] {
        assert!(both(name, 68, 47).is_empty(), "{name}");
    }
}

/// Worked by hand. 423 × 206 with the digits added: × 6 is 9, 8 and 10, so 1089; × 0 is 423 if it has
/// a row; × 2 is 645. Without their zeros they come to 1734 or 2157.
#[test]
fn a_zero_of_the_multiplier_may_have_a_row_worked_as_wrongly() {
    let added = pattern("digits-added").expect("known");
    let both = |name: &str, method| {
        both_answers(Task::Written(423, 206), method, added, pattern(name).expect("known"))
    };
    assert_eq!(both("placeholder-left-out", Written::Long), [1734, 2157]);
    // 1089, 4230 and 64500, the carries lost: 9, 1 = 8 + 3, 7 = 0 + 2 + 5, 9 = 1 + 4 + 4 and 6.
    assert_eq!(both("adding-carries-lost", Written::Long), [65_589, 69_719]);
    // Where the zero is skipped, or the number copied for it, there is no such row.
    assert_eq!(both("row-after-zero-closed-up", Written::Long), [1089 + 6450]);
    assert_eq!(both("zero-row-copied", Written::Long), [1089 + 4230 + 64_500]);
    let zeros = pattern("placeholder-left-out").expect("known");
    let page = show_both(Task::Written(423, 206), Written::Long, (added, zeros), 2157);
    let lines = page.expect("a page").page(&HouseStyle::default());
    let rows: Vec<&str> = lines.iter().filter(|l| l.contains("×")).map(|l| l.trim()).collect();
    assert_eq!(rows, ["× 2 0 6", "1 0 8 9  × 6", "4 2 3  × 0", "6 4 5  × 200"]);
    // Right rows of noughts are no row: only the first row, × 30 without carries.
    let [carry, first] = ["carry-not-added", "only-first-row"].map(|n| pattern(n).expect("known"));
    assert_eq!(both_answers(Task::Written(47, 30), Written::Long, carry, first), [1210]);
}
