//! Arithmetic on strings of decimal digits, by the schoolbook, with its old proofs: casting out
//! nines and elevens, and the size from the leading digits.

/// The digits, ones first, without leading zeros.
fn digits(number: &str) -> Option<Vec<u8>> {
    if number.is_empty() || !number.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let significant = number.trim_start_matches('0');
    Some(significant.bytes().rev().map(|b| b - b'0').collect())
}

fn text(digits: &[u8]) -> String {
    let significant = digits.iter().rposition(|d| *d != 0).map_or(&[][..], |last| &digits[..=last]);
    if significant.is_empty() {
        return "0".to_owned();
    }
    significant.iter().rev().map(|d| char::from(b'0' + d)).collect()
}

/// a × b, each pair of digits multiplied and carried at once.
pub(super) fn multiply(a: &str, b: &str) -> Option<String> {
    let (a, b) = (digits(a)?, digits(b)?);
    let mut product = vec![0_u8; a.len() + b.len() + 1];
    for (i, x) in a.iter().enumerate() {
        for (j, y) in b.iter().enumerate() {
            let mut carried = x * y;
            let mut place = i + j;
            while carried > 0 {
                carried += product[place];
                product[place] = carried % 10;
                carried /= 10;
                place += 1;
            }
        }
    }
    Some(text(&product))
}

/// a + b.
pub(super) fn add(a: &str, b: &str) -> Option<String> {
    let (a, b) = (digits(a)?, digits(b)?);
    let mut sum = Vec::new();
    let mut carried = 0;
    for place in 0..=a.len().max(b.len()) {
        let digit = |n: &[u8]| n.get(place).copied().unwrap_or(0);
        let column = digit(&a) + digit(&b) + carried;
        sum.push(column % 10);
        carried = column / 10;
    }
    Some(text(&sum))
}

/// The remainder by 9, from the sum of the digits.
fn nines(number: &[u8]) -> u32 {
    number.iter().map(|d| u32::from(*d)).sum::<u32>() % 9
}

/// The remainder by 11, from the digits added and taken away in turn.
fn elevens(number: &[u8]) -> u32 {
    let turn = |(place, digit): (usize, &u8)| {
        if place % 2 == 0 { u32::from(*digit) } else { 11 - u32::from(*digit) }
    };
    number.iter().enumerate().map(turn).sum::<u32>() % 11
}

/// Whether a claimed product passes the proofs: by nines, by elevens, and by the size that the
/// leading digits allow. Says which it fails.
pub(super) fn proofs(a: &str, b: &str, product: &str) -> Result<(), String> {
    let unreadable = || format!("`{a}`, `{b}` and `{product}` are not all numbers");
    let (x, y, p) = (
        digits(a).ok_or_else(unreadable)?,
        digits(b).ok_or_else(unreadable)?,
        digits(product).ok_or_else(unreadable)?,
    );
    let claim = format!("{a} * {b} = {product}");
    if nines(&x) * nines(&y) % 9 != nines(&p) {
        return Err(format!("{claim} fails casting out nines"));
    }
    if elevens(&x) * elevens(&y) % 11 != elevens(&p) {
        return Err(format!("{claim} fails casting out elevens"));
    }
    let (Some(lead_x), Some(lead_y)) = (x.last(), y.last()) else {
        return if p.is_empty() { Ok(()) } else { Err(format!("{claim} is not nothing")) };
    };
    // Leading digits d and e with m and n digits: d·e·10^(m+n-2) <= product < (d+1)(e+1)·10^(m+n-2).
    let shift = x.len() + y.len() - 2;
    let head: u32 = (shift..p.len()).rev().fold(0, |head, place| head * 10 + u32::from(p[place]));
    let (least, most) = (u32::from(lead_x * lead_y), u32::from((lead_x + 1) * (lead_y + 1)));
    if p.len() > shift + 2 || head < least || head >= most {
        return Err(format!("{claim} is not of the size that its leading digits allow"));
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: Menezes, van Oorschot & Vanstone, Handbook of Applied Cryptography, table 14.3.
    #[test]
    fn the_schoolbook_gives_a_published_product() {
        assert_eq!(multiply("9274", "847").as_deref(), Some("7855078"));
        assert_eq!(add("64918", "370960").as_deref(), Some("435878"));
        assert_eq!(multiply("0", "847").as_deref(), Some("0"));
        assert_eq!(multiply("12a", "3"), None);
    }

    #[test]
    fn every_product_of_two_digits_passes_the_proofs_and_its_neighbours_fail() {
        for (a, b) in (0..100_u32).flat_map(|a| (0..100_u32).map(move |b| (a, b))) {
            let [x, y, p, more] = [a, b, a * b, a * b + 1].map(|n| n.to_string());
            assert_eq!(multiply(&x, &y), Some(p.clone()));
            assert_eq!(proofs(&x, &y, &p), Ok(()));
            assert!(proofs(&x, &y, &more).is_err());
        }
    }

    /// Casting out nines is blind to a left-out zero (10k - k is 9k): 124 × 26 with 248 for 2480.
    #[test]
    fn elevens_catch_what_nines_are_blind_to() {
        let fault = proofs("124", "26", "992").expect_err("a wrong product");
        assert!(fault.contains("elevens"), "{fault}");
        let fault = proofs("6283", "347", "1188201").expect_err("too small by 99 times 10020");
        assert!(fault.contains("nines") || fault.contains("size"), "{fault}");
    }

    /// Source: a lesson text on casting out nines: 9974 × 2348 is 23,418,952, and with two digits
    /// changed round it still agrees by nines.
    #[test]
    fn digits_changed_round_are_caught_though_nines_agree() {
        assert_eq!(proofs("9974", "2348", "23418952"), Ok(()));
        let fault = proofs("9974", "2348", "23419852").expect_err("digits changed round");
        assert!(fault.contains("elevens"), "{fault}");
    }

    #[test]
    fn the_size_catches_a_multiple_of_ninety_nine() {
        let fault = proofs("20", "30", "50100").expect_err("600 and 99 * 500");
        assert!(fault.contains("size"), "{fault}");
    }
}
