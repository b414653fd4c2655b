//! Two checks of a product that fit on a line: its size, and its digits summed.

use crate::method::HouseStyle;
use crate::number::{digits, leading_digit, ten_to};

/// "6,000 × 300 = 18,00,000 and 7,000 × 400 = 28,00,000; 21,80,201 lies between."
///
/// A factor of one digit is not cut down: it stays as it is on both sides.
pub fn size(a: u64, b: u64, style: &HouseStyle) -> String {
    let ((a_low, a_high), (b_low, b_high)) = (bounds(a), bounds(b));
    let product = |a: u64, b: u64| format!("{} = {}", style.sum(a, b), style.number(a * b));
    let value = style.number(a * b);
    if a_low * b_low == a * b {
        return format!("{}: the number itself is round.", product(a, b));
    }
    let (low, high) = (product(a_low, b_low), product(a_high, b_high));
    format!("{low} and {high}; {value} lies between.")
}

/// The two products of round numbers between which a product lies: "6,000 × 300" and "7,000 × 400".
pub fn between(a: u64, b: u64, style: &HouseStyle) -> [String; 2] {
    let ((a_low, a_high), (b_low, b_high)) = (bounds(a), bounds(b));
    [style.sum(a_low, b_low), style.sum(a_high, b_high)]
}

/// The round numbers of one digit and noughts between which a number lies.
fn bounds(n: u64) -> (u64, u64) {
    let unit = ten_to(digits(n).len() - 1);
    let low = leading_digit(n) * unit;
    if low == n { (n, n) } else { (low, low + unit) }
}

/// "6,283 → 19 → 10 → 1; 347 → 14 → 5; 1 × 5 = 5. 21,80,201 → 14 → 5: they agree."
pub fn nines(a: u64, b: u64, style: &HouseStyle) -> String {
    let (of_a, root_a) = sums(a, style);
    let (of_b, root_b) = sums(b, style);
    let (of_product, root) = sums(a * b, style);
    let (mut small, checked) = sums(root_a * root_b, style);
    small = format!("{} = {small}", style.sum(root_a, root_b));
    let verdict = if checked == root { "they agree" } else { "they differ" };
    format!("{of_a}; {of_b}; {small}. {of_product}: {verdict}.")
}

/// Digit sums down to one digit, as printed, and that digit.
fn sums(n: u64, style: &HouseStyle) -> (String, u64) {
    let mut chain = style.number(n);
    let mut sum = n;
    while sum > 9 {
        sum = digits(sum).into_iter().map(u64::from).sum();
        chain.push_str(&format!("\u{A0}→\u{A0}{}", style.number(sum)));
    }
    (chain, sum)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::number::Grouping;

    fn plain(text: &str) -> String {
        text.replace('\u{A0}', " ")
    }

    #[test]
    fn the_round_products_are_those_around_it() {
        let style = HouseStyle::default();
        let between = |a, b| between(a, b, &style).map(|sum| plain(&sum));
        assert_eq!(between(2745, 28), ["2,000 × 20", "3,000 × 30"]);
        assert_eq!(between(47, 6), ["40 × 6", "50 × 6"]);
    }

    #[test]
    fn both_checks_read_as_on_the_pattern_page() {
        let style = HouseStyle { grouping: Grouping::Indian, ..HouseStyle::default() };
        assert_eq!(
            plain(&size(6283, 347, &style)),
            "6,000 × 300 = 18,00,000 and 7,000 × 400 = 28,00,000; 21,80,201 lies between."
        );
        assert_eq!(
            plain(&nines(6283, 347, &style)),
            "6,283 → 19 → 10 → 1; 347 → 14 → 5; 1 × 5 = 5. 21,80,201 → 14 → 5: they agree."
        );
        assert_eq!(
            plain(&size(638, 7, &style)),
            "600 × 7 = 4,200 and 700 × 7 = 4,900; 4,466 lies between."
        );
    }

    #[test]
    fn the_digit_sums_agree_and_the_size_holds_for_every_product() {
        let style = HouseStyle::default();
        for a in (11..9999).step_by(37) {
            for b in (2..999).step_by(13) {
                assert!(nines(a, b, &style).ends_with("they agree."), "{a} × {b}");
                let ((al, ah), (bl, bh)) = (bounds(a), bounds(b));
                assert!(al * bl <= a * b && a * b <= ah * bh);
            }
        }
    }
}
