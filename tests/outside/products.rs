//! Products against published workings, and against another library's integers.

use num_bigint::BigUint;
use proptest::prelude::*;
use rungwise::method::{
    Carries, FirstRow, HouseStyle, ZeroRow, digits_of_product, estimate, grid, lattice, long,
    routes,
};

/// Source: Menezes, van Oorschot & Vanstone, Handbook of Applied Cryptography (1996), chapter 14,
/// algorithm 14.12, example 14.13 and table 14.3: 9274 × 847, digit by digit. Its first row adds
/// to nothing, so that its carries are a row's own.
#[test]
fn a_published_product_of_four_digits_by_three_is_ours_digit_by_digit() {
    let working = long(9274, 847, &HouseStyle::default());
    let rows: Vec<u64> = working.rows.iter().map(|r| r.value).collect();
    assert_eq!(rows, [64_918, 370_960, 7_419_200]);
    let accumulated: Vec<u64> = (1..=3).map(|n| rows[..n].iter().sum()).collect();
    assert_eq!(accumulated, [64_918, 435_878, 7_855_078]);
    assert_eq!(working.rows[0].carries, [2, 5, 1, 6]);
    assert_eq!(working.value, 7_855_078);
    let cells: Vec<u64> = grid(9274, 847).rows.into_iter().flat_map(|r| r.cells).collect();
    let published =
        [7_200_000, 160_000, 56_000, 3200, 360_000, 8000, 2800, 160, 63_000, 1400, 490, 28];
    assert_eq!(cells, published);
}

/// The same product on a lattice: cells and the sums along its diagonals, worked out by a program
/// apart from this one, without what is carried from one diagonal to the next.
#[test]
fn the_lattice_of_the_published_product_has_its_cells_and_diagonals() {
    let lattice = lattice(9274, 847);
    assert_eq!(lattice.cells, [[72, 16, 56, 32], [36, 8, 28, 16], [63, 14, 49, 28]]);
    let carried = [0].iter().chain(&lattice.carries);
    let own: Vec<u8> = lattice.diagonals.iter().zip(carried).map(|(sum, c)| sum - c).collect();
    assert_eq!(own, [8, 17, 19, 23, 23, 6, 7]);
    assert_eq!(lattice.value, 7_855_078);
}

/// Source: a lesson text with its workings: 706 × 25 and 1258 × 2569; the Treviso arithmetic's
/// lattice 934 × 314 (attribution from memory).
#[test]
fn other_published_workings_have_our_rows() {
    let rows = |a, b| {
        let working = long(a, b, &HouseStyle::default());
        (working.rows.iter().map(|r| r.value).collect::<Vec<_>>(), working.value)
    };
    assert_eq!(rows(706, 25), (vec![3530, 14_120], 17_650));
    assert_eq!(rows(1258, 2569), (vec![11_322, 75_480, 629_000, 2_516_000], 3_231_802));
    assert_eq!(lattice(934, 314).value, 293_276);
}

/// Source of the items: Booth, "Some errors children make in multiplying", Teaching and Learning
/// 6(2), 1985/86; the products are Python's.
#[test]
fn a_published_set_of_items_has_its_products() {
    let items = [
        (7, 0, 0),
        (9, 6, 54),
        (35, 4, 140),
        (304, 2, 608),
        (143, 5, 715),
        (13, 12, 156),
        (39, 30, 1170),
        (45, 34, 1530),
        (28, 13, 364),
        (372, 6, 2232),
    ];
    for (a, b, product) in items {
        assert_eq!(long(a, b, &HouseStyle::default()).value, product);
        assert!(routes(a, b).iter().all(|route| route.value == product));
    }
}

fn styles() -> Vec<HouseStyle> {
    let mut styles = Vec::new();
    for zero_row in [ZeroRow::Skip, ZeroRow::Write] {
        for first_row in [FirstRow::Ones, FirstRow::Highest] {
            for carries in [Carries::InRow, Carries::Above] {
                styles.push(HouseStyle { zero_row, first_row, carries, ..HouseStyle::default() });
            }
        }
    }
    styles
}

fn check(a: u64, b: u64, styles: &[HouseStyle]) {
    let product = (BigUint::from(a) * BigUint::from(b)).to_string();
    for style in styles {
        let working = long(a, b, style);
        assert_eq!(working.value.to_string(), product);
        for row in &working.rows {
            let exact = BigUint::from(working.a) * row.digit * row.place;
            assert_eq!(row.value.to_string(), exact.to_string(), "{a} x {b}");
            assert_eq!(row.carries.len(), working.a.to_string().len());
        }
    }
    let (grid, lattice) = (grid(a, b), lattice(a, b));
    assert_eq!((grid.value.to_string(), lattice.value.to_string()), (product.clone(), product));
}

#[test]
fn all_products_of_two_digits_agree_with_another_library_under_every_style() {
    let styles = styles();
    for (a, b) in (10..100).flat_map(|a| (10..100).map(move |b| (a, b))) {
        check(a, b, &styles);
    }
}

proptest! {
    #[test]
    fn large_products_agree_with_another_library(a in 0..1_000_000_u64, b in 0..1_000_000_u64, cut in 0..6_u32) {
        check(a / 10_u64.pow(cut), b, &styles());
        check(a, b / 10_u64.pow(cut), &styles());
    }
}

/// A product of m by n digits has m + n − 1 or m + n digits (Knuth, The Art of Computer
/// Programming 2, 4.3.1, algorithm M; from memory). How many have which was counted by a program
/// apart from this one, over all pairs.
#[test]
fn as_many_products_have_either_length_as_were_counted() {
    let counted = [
        (1, 1, 23, 81),
        (2, 1, 196, 810),
        (2, 2, 1490, 8100),
        (3, 2, 14_529, 81_000),
        (3, 3, 141_157, 810_000),
        (4, 1, 19_292, 81_000),
        (4, 2, 144_879, 810_000),
        (4, 3, 1_407_567, 8_100_000),
    ];
    for (m, n, short, pairs) in counted {
        let range = |digits: u32| (10_u64.pow(digits - 1), 10_u64.pow(digits));
        let ((from, to), (low, high)) = (range(m), range(n));
        // For each a, the multipliers below 10^(m+n-1) / a give the shorter product.
        let shorter = |a: u64| 10_u64.pow(m + n - 1).div_ceil(a).clamp(low, high) - low;
        assert_eq!((from..to).map(shorter).sum::<u64>(), short, "{m} by {n}");
        assert_eq!((to - from) * (high - low), pairs);
        assert_eq!(digits_of_product(from, high - 1), (m + n - 1, m + n));
    }
    assert_eq!((digits_of_product(10, 90), (10_u64 * 90).to_string().len()), ((3, 4), 3));
    assert_eq!((digits_of_product(19, 59), (19_u64 * 59).to_string().len()), ((3, 4), 4));
}

/// Rounding both factors to the leading digit gives more than 4/9 and at most 16/9 of the product
/// (worked out, then checked over all pairs of two digits); 15 × 15 reaches the upper end.
#[test]
fn an_estimate_by_leading_digits_can_be_nearly_double_but_not_more() {
    let mut most = (0, 1);
    for (a, b) in (10..100_u64).flat_map(|a| (10..100_u64).map(move |b| (a, b))) {
        let (about, exact) = (estimate(a, b).value, a * b);
        assert!(9 * about > 4 * exact && 9 * about <= 16 * exact, "{a} x {b}");
        if about * most.1 > most.0 * exact {
            most = (about, exact);
        }
    }
    assert_eq!(most, (400, 225));
}
