//! The pupil's page: what stands in it must come to the answer, for every pattern and pair.

use super::super::*;
use crate::method::{FirstRow, Grid, HouseStyle, Lattice, Written, ZeroRow};
use crate::number::{Digits, digits, ten_to};

/// A row's digits, read off its columns alone: each one's writing in front of the last, except
/// where noughts were written over them.
fn read_row(row: &WrongRow) -> u64 {
    let text: String = row.columns.iter().rev().map(|c| c.write.to_string()).collect();
    let written: u64 = text.parse().expect("digits");
    let over = row.zeros - row.shift;
    written / ten_to(over) * ten_to(over) * ten_to(row.shift)
}

/// Adds numbers column by column with these carries and nothing else.
fn add_with(numbers: &[u64], carries: &[u8]) -> u64 {
    let columns: Vec<_> = numbers.iter().map(|&n| digits(n)).collect();
    let width = columns.iter().map(Digits::len).max().unwrap_or(0).max(carries.len());
    let column = |i: usize| {
        let own: u64 = columns.iter().filter_map(|c| c.get(i)).map(|&d| u64::from(d)).sum();
        let carried = i.checked_sub(1).and_then(|i| carries.get(i)).copied().unwrap_or(0);
        (own + u64::from(carried)) % 10 * ten_to(i)
    };
    (0..width).map(column).sum()
}

/// What is drawn: the squares come to the row's value, every column's digits are among them in the
/// order said, and a small digit never stands where no square is.
fn check_squares(row: &WrongRow, what: &str) {
    let drawn: String = row.squares().iter().rev().map(u8::to_string).collect();
    assert_eq!(drawn.parse::<u64>().expect("digits"), row.value, "{what}: {drawn}");
    let said: String = row.columns.iter().rev().map(|c| c.write.to_string()).collect();
    let kept = said.len().saturating_sub(row.zeros - row.shift);
    assert!(drawn.starts_with(&said[..kept]), "{what}: {said} said, {drawn} drawn");
    assert!(drawn[kept..].bytes().all(|b| b == b'0') && drawn.len() >= row.zeros, "{what}");
    assert_eq!(row.small_digits().len(), said.len() + row.shift, "{what}");
}

pub(super) fn check_long(long: &WrongLong, what: &str) {
    for row in &long.rows {
        assert_eq!(read_row(row), row.value, "{what}: the row {row:?}");
        check_squares(row, what);
        let carried: Vec<u64> = row.columns.iter().map(|c| c.carry).collect();
        let noted: Vec<u64> = row.carries.iter().map(|c| u64::from(*c)).collect();
        assert_eq!(carried, noted, "{what}");
    }
    let values: Vec<u64> = long.rows.iter().map(|row| row.value).collect();
    match values.as_slice() {
        [only] => assert_eq!((*only, long.adding_carries.len()), (long.value, 0), "{what}"),
        several => assert_eq!(add_with(several, &long.adding_carries), long.value, "{what}"),
    }
}

pub(super) fn check_grid(grid: &Grid, lost: bool, what: &str) {
    let cells: Vec<u64> = grid.rows.iter().flat_map(|r| r.cells.iter().copied()).collect();
    let sum = if lost { add_with(&cells, &[]) } else { cells.iter().sum() };
    assert_eq!(sum, grid.value, "{what}: {grid:?}");
}

pub(super) fn check_lattice(lattice: &Lattice, what: &str) {
    let written = lattice.diagonals.iter().enumerate();
    let value: u64 = written.map(|(i, sum)| u64::from(sum % 10) * ten_to(i)).sum();
    assert_eq!(value, lattice.value, "{what}: {lattice:?}");
    let mut own = vec![0_u8; lattice.diagonals.len()];
    for (j, row) in lattice.cells.iter().rev().enumerate() {
        for (i, cell) in row.iter().rev().enumerate() {
            own[i + j] += cell % 10;
            own[i + j + 1] += cell / 10;
        }
    }
    for (i, sum) in lattice.diagonals.iter().enumerate() {
        let carried = i.checked_sub(1).map_or(0, |i| lattice.carries[i]);
        assert_eq!(own[i] + carried, *sum, "{what}: diagonal {i} of {lattice:?}");
    }
}

fn check(pattern: &Pattern, working: &WrongWorking, what: &str) {
    match working {
        WrongWorking::Long(long) => check_long(long, what),
        WrongWorking::Grid(grid) => check_grid(grid, pattern.name == "adding-carries-lost", what),
        WrongWorking::Lattice(lattice) => check_lattice(lattice, what),
        WrongWorking::Line { value, .. } | WrongWorking::Estimate { value, .. } => {
            let steps = working.steps();
            assert_eq!(steps.last(), Some(&value.to_string()), "{what}");
            if pattern.name != "worked-out-then-rounded" {
                assert_eq!(super::plain_value(&steps[0].replace(' ', "")), *value, "{what}");
            }
        }
    }
}

fn check_pair(a: u64, b: u64) {
    for pattern in catalogue() {
        let attempts = pattern.attempts(a, b);
        let shown: Vec<u64> = attempts.iter().map(|t| t.working.value()).collect();
        assert_eq!(shown, pattern.answers(a, b), "{} on {a} x {b}", pattern.name);
        for attempt in attempts {
            let what = format!("{} on {a} x {b}", pattern.name);
            check(pattern, &attempt.working, &what);
        }
    }
}

#[test]
fn every_page_of_two_digits_by_one_comes_to_its_answer() {
    for (a, b) in (10..100).flat_map(|a| (0..10).map(move |b| (a, b))) {
        check_pair(a, b);
    }
}

/// Half of the pairs: the others are the same sums with the numbers exchanged, which the
/// catalogue takes both ways round.
#[test]
fn every_page_of_two_digits_by_two_comes_to_its_answer() {
    for (a, b) in (10..100).flat_map(|a| (a..100).map(move |b| (a, b))) {
        check_pair(a, b);
    }
}

fn page(name: &str, a: u64, b: u64) -> Vec<String> {
    show(name, a, b, None).expect("a page").page(&HouseStyle::default())
}

#[test]
fn a_nought_that_is_said_is_drawn() {
    let carried_away = page("last-carry-lost", 25, 4);
    assert_eq!(carried_away[4], "   0 0  × 4", "{carried_away:#?}");
    let turned = show("zero-written-over-digit", 301, 12, Some(12)).expect("a page");
    let covered = turned.page(&HouseStyle::default());
    assert!(covered.iter().any(|line| line.ends_with("0 0  × 300")), "{covered:#?}");
}

#[test]
fn a_carry_to_the_right_stands_over_the_column_that_takes_it() {
    let WrongWorking::Long(long) = show("worked-left-to-right", 478, 6, None).expect("a page")
    else {
        panic!("rows")
    };
    // 24: write 4, carry 2; 42 + 2: write 4, carry 4; 48 + 4: 52 in full.
    assert_eq!((long.value, long.rows[0].squares()), (4452, vec![2, 5, 4, 4]));
    assert_eq!(long.rows[0].small_digits(), [4, 0, 2, 0]);
}

#[test]
fn every_row_but_a_sum_of_columns_says_what_it_is_times() {
    let labelled = |name| page(name, 63, 28).iter().any(|line| line.contains("× 20"));
    assert!(labelled("multiplied-by-the-carry"));
    assert!(!labelled("column-by-column"));
}

#[test]
fn a_zero_too_many_stands_in_every_row_and_a_rounded_answer_is_about() {
    let rows = page("one-zero-too-many", 47, 36);
    assert!(rows.iter().any(|line| line.ends_with("2 8 2 0  × 6")), "{rows:#?}");
    assert_eq!(show("one-zero-too-many", 545, 6, None).map(|w| w.value()), Some(32_700));
    assert_eq!(page("one-zero-too-many", 50, 40)[0], "  5 × 4 × 1,000");
    assert_eq!(page("worked-out-then-rounded", 347, 23)[2], "≈ 8,000");
}

proptest::proptest! {
    #[test]
    fn every_page_of_longer_numbers_comes_to_its_answer(
        a in 0..1_000_000_u64, b in 0..1_000_000_u64, cut in 0..6_u32,
    ) {
        check_pair(a, b / 10_u64.pow(cut));
        check_pair(a / 100 * 100 + a % 10, b / 10_u64.pow(cut));
    }
}

fn styles() -> Vec<HouseStyle> {
    let zero = [ZeroRow::Skip, ZeroRow::Write];
    let first = [FirstRow::Ones, FirstRow::Highest];
    let pair = |zero_row| first.map(|first_row| (zero_row, first_row));
    let style = |(zero_row, first_row)| HouseStyle { zero_row, first_row, ..HouseStyle::default() };
    zero.into_iter().flat_map(pair).map(style).collect()
}

/// A class's pages are pages of the catalogue, written as the class writes.
#[test]
fn a_class_gets_only_pages_of_its_own_layout() {
    for (a, b) in [(47, 36), (423, 206), (68, 47), (7046, 308), (47, 30), (86, 7), (905, 640)] {
        for style in styles() {
            for method in [Written::Long, Written::Grid, Written::Lattice] {
                for pattern in catalogue() {
                    let all = pattern.answers(a, b);
                    for attempt in pattern.attempts_in((a, b), method, &style) {
                        let what = format!("{} on {a} x {b}, {method:?}, {style:?}", pattern.name);
                        let working = attempt.working;
                        assert!(all.contains(&working.value()), "{what}");
                        check(pattern, &working, &what);
                        in_house(&working, method, &style, &what);
                    }
                }
            }
        }
    }
}

fn in_house(working: &WrongWorking, method: Written, style: &HouseStyle, what: &str) {
    match (working, method) {
        (WrongWorking::Long(long), Written::Long) => {
            let places: Vec<u64> = long.rows.iter().map(|row| row.place).collect();
            match style.first_row {
                FirstRow::Ones => assert!(places.is_sorted(), "{what}: {places:?}"),
                FirstRow::Highest => assert!(places.iter().rev().is_sorted(), "{what}"),
            }
            let nought = |row: &WrongRow| row.digit == 0 && row.value == 0;
            assert!(style.zero_row == ZeroRow::Write || !long.rows.iter().any(nought), "{what}");
        }
        (WrongWorking::Lattice(_), method) => assert_eq!(method, Written::Lattice, "{what}"),
        _ => {}
    }
}

/// By hand. 423 × 206: rows 2538 and 84600, 87138 in all. Where no row is written for the zero the
/// 846 may be moved one place only (10998); where noughts are written it keeps its place.
#[test]
fn the_house_decides_what_a_zero_in_the_multiplier_can_do() {
    let answers = |name: &str, a, b, style: &HouseStyle| -> Vec<u64> {
        let found = pattern(name).expect("known").attempts_in((a, b), Written::Long, style);
        found.iter().filter(|t| !t.turned).map(|t| t.working.value()).collect()
    };
    let skip = HouseStyle::default();
    let write = HouseStyle { zero_row: ZeroRow::Write, ..HouseStyle::default() };
    assert_eq!(answers("row-after-zero-closed-up", 423, 206, &skip), [10_998]);
    assert_eq!(answers("row-after-zero-closed-up", 423, 206, &write), [0_u64; 0]);
    // 423 × 6 with the ones copied: 42 × 6 = 252, so 2523; 423 × 2: 843; a row for the zero, if
    // it is not just noughts: 3.
    assert_eq!(answers("ones-copied", 423, 206, &skip), [2523 + 84_300]);
    assert_eq!(answers("ones-copied", 423, 206, &write), [2523 + 84_300, 2523 + 30 + 84_300]);
    let highest = HouseStyle { first_row: FirstRow::Highest, ..HouseStyle::default() };
    assert_eq!(answers("old-carries-added-again", 47, 36, &skip), [2092]);
    assert_eq!(answers("old-carries-added-again", 47, 36, &highest), [1712]);
}

/// The same answer from two layouts must not hide it from the class that has the second.
#[test]
fn a_grid_class_loses_its_adding_carries_too() {
    let lost = pattern("adding-carries-lost").expect("known");
    let style = HouseStyle::default();
    let page = |method| lost.attempts_in((68, 47), method, &style).remove(0).working;
    // By hand: rows 476 and 2720 give 2196, and so do the cells 2400, 420, 320 and 56.
    assert_eq!(page(Written::Long).value(), 2196);
    assert_eq!(page(Written::Grid).value(), 2196);
    assert!(matches!(page(Written::Lattice), WrongWorking::Lattice(l) if l.value == 2196));
    for (a, b) in (11..100).flat_map(|a| (11..100).map(move |b| (a, b))) {
        let right = a * b;
        let cells = [
            (a / 10) * (b / 10) * 100,
            (a / 10) * (b % 10) * 10,
            (a % 10) * (b / 10) * 10,
            (a % 10) * (b % 10),
        ];
        let found = lost.attempts_in((a, b), Written::Grid, &style);
        let wanted = add_with(&cells, &[]);
        let shown: Vec<u64> = found.iter().map(|t| t.working.value()).collect();
        assert_eq!(shown, if wanted == right { vec![] } else { vec![wanted] }, "{a} x {b}");
    }
}

/// Merged into one verdict, because no sum could ever part them: exhaustively on two digits.
#[test]
fn merged_patterns_are_equal_on_every_sum() {
    let usual = |name: &str, a: u64, b: u64| -> Option<u64> {
        let attempts = pattern(name).expect("known").attempts(a, b);
        attempts.iter().find(|t| !t.turned).map(|t| t.working.value())
    };
    let unless = |n: u64, right: u64| (n != right).then_some(n);
    for (a, b) in (10..100_u64).flat_map(|a| (1..100_u64).map(move |b| (a, b))) {
        let (t, u, d) = (a / 10 * 10, a % 10, b);
        if b < 10 {
            // Only the ones multiplied, said as digits and carry in a cascade, or as a sum.
            let cascade = (t / 10 + u * d / 10) * 10 + u * d % 10;
            assert_eq!(usual("only-ones-multiplied", a, b), unless(cascade, a * b));
            // The tens times the digit and the ones added as they are: the ones copied.
            assert_eq!(usual("ones-copied", a, b), unless(t * d + u, a * b));
            continue;
        }
        let (t2, u2) = (b / 10 * 10, b % 10);
        let sum_of_digits = a * (b / 10 + u2);
        assert_eq!(usual("placeholder-left-out", a, b), unless(sum_of_digits, a * b));
        let reverse = a * (u2 * 10 + b / 10);
        assert_eq!(usual("rows-shifted-in-reverse", a, b), unless(reverse, a * b));
        assert_eq!(usual("only-like-places", a, b), unless(t * t2 + u * u2, a * b));
        // The ones' row given a placeholder too is one zero too many in the answer.
        assert_eq!(usual("one-zero-too-many", a, b), Some(10 * (a * u2 + a * t2)));
        // The offset moved to the other number as in adding, in either wording.
        let (m, o) = ((b + 5) / 10 * 10, b.abs_diff((b + 5) / 10 * 10));
        if (1..=4).contains(&o) {
            let moved = if m > b { a * m - o * m } else { a * m + o * m };
            assert_eq!(usual("adjusted-as-in-adding", a, b), unless(moved, a * b), "{a} x {b}");
        }
    }
}

/// The page for 47 × 36 with the carries forgotten, beside the right one; by hand.
#[test]
fn a_page_of_rows_shows_placeholders_and_carries() {
    let style = HouseStyle::default();
    let forgotten = pattern("carry-not-added").expect("known");
    let attempt = forgotten.attempts(47, 36).remove(0);
    let page = attempt.working.page(&style);
    let wanted = [
        "       4 7",
        "     × 3 6",
        " ---------",
        "       4    carried",
        "     2 4 2  × 6",
        "     2      carried",
        "   1 2 1 0  × 30",
        " ---------",
        "   1 4 5 2",
        " ---------",
    ];
    assert_eq!(page, wanted);
    let said = attempt.working.said(&style);
    assert_eq!(said[0], "× 6: 7 × 6 = 42: write 2, carry 4; 4 × 6 = 24: write 24");
}

/// The sums beside the rows of a wrong grid add up to its answer, or there are none.
#[test]
fn a_wrong_grid_adds_up_to_its_answer_or_shows_no_sums() {
    let style = HouseStyle::default();
    let number = |text: &str| text.replace(',', "").trim().parse::<u64>().expect("a number");
    let (mut with, mut without) = (0, 0);
    for (a, b) in [(8481, 806), (1034, 916), (47, 36), (902, 13), (99, 87), (6011, 18)] {
        for attempt in catalogue().iter().flat_map(|pattern| pattern.attempts(a, b)) {
            let WrongWorking::Grid(_) = &attempt.working else { continue };
            let page = attempt.working.page(&style);
            let sums = page.iter().filter_map(|l| l.split_once("= ")).map(|(_, n)| number(n));
            let sums: Vec<u64> = sums.collect();
            let all = page.iter().find_map(|l| l.strip_prefix("together ")).map(number);
            assert_eq!(all, Some(attempt.working.value()), "{page:?}");
            if sums.is_empty() {
                without += 1;
            } else {
                assert_eq!(Some(sums.iter().sum()), all, "{a} × {b}: {page:?}");
                with += 1;
            }
        }
    }
    assert!(with > 10 && without >= 2, "{with} and {without}");
}

/// By hand: what a reader missed beside the pages of these answers.
#[test]
fn what_is_not_seen_in_the_squares_is_said() {
    let style = HouseStyle::default();
    let said = |name: &str, a: u64, b: u64, answer: u64| {
        let attempts = pattern(name).expect("known").attempts(a, b);
        let attempt = attempts.iter().find(|t| t.working.value() == answer).expect("an answer");
        attempt.working.said(&style)
    };
    let over = "× 10: 4 × 1 = 4: write 4; 3 × 1 = 3: write 3; 0 is written over the 4";
    assert_eq!(said("zero-written-over-digit", 34, 12, 98), [over]);
    // Each column is right beside the row × 4, and yet it is not that row.
    let columns = "7 × 4 = 28: write 8, carry 2; 3 × 4 = 12, + 2 = 14: write 14";
    assert_eq!(said("column-by-column", 37, 44, 148), [columns]);
    assert!(said("only-first-row", 37, 44, 148).is_empty());
    // The nought has a row, in which what was carried before is added.
    let again = said("old-carries-added-again", 301, 904, 272_214);
    assert_eq!(
        again[0],
        "× 0: 4 × 0 = 0: write 0; 0 × 0 = 0, + 1 = 1: write 1; 9 × 0 = 0: write 0"
    );
}

#[test]
fn beside_a_line_stands_the_right_way_that_is_most_like_it() {
    let style = HouseStyle::default();
    let right = |name: &str, a: u64, b: u64, answer: u64| {
        let pattern = pattern(name).expect("known");
        let attempts = pattern.attempts(a, b);
        let attempt = attempts.iter().find(|t| t.working.value() == answer).expect("an answer");
        right_page(pattern, &attempt.working, (a, b), &style)
    };
    assert_eq!(right("adjusted-once-only", 351, 82, 28_431)[0], "  351 × 80 + 351 × 2");
    assert_eq!(right("adjusted-once-only", 44, 2, 82)[0], "  40 × 2 + 4 × 2");
    assert_eq!(right("adjusted-once-only", 36, 98, 3_564)[0], "  36 × 100 − 36 × 2");
    assert_eq!(right("one-zero-short", 10, 20, 20), ["  10 × 20", "= 200"]);
    // An estimate is held against the estimate, whether the pupil rounded or not.
    assert_eq!(right("worked-out-then-rounded", 34, 7, 240), ["  30 × 7", "= 210"]);
    assert_eq!(right("both-rounded-up", 44, 2, 100), ["  40 × 2", "= 80"]);
}

#[test]
fn a_zero_lost_or_gained_is_written_as_pupils_write_it() {
    let style = HouseStyle::default();
    let page = |name: &str, a, b| {
        pattern(name).expect("known").attempts(a, b).remove(0).working.page(&style)
    };
    assert_eq!(page("one-zero-short", 94, 80), ["  94 × 8", "= 752"]);
    assert_eq!(page("estimate-one-zero-short", 94, 80), ["  9 × 8 × 10", "= 72 × 10", "= 720"]);
    assert_eq!(
        page("estimate-one-zero-too-many", 94, 8),
        ["  9 × 8 × 100", "= 72 × 100", "= 7,200"]
    );
    assert_eq!(page("doubled-not-halved", 16, 25)[0], "  25 × 2 × 16");
}
