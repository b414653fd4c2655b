//! What the working of a product shows: carries, zeros, and how many digits it has.

use super::classes::bare;
use super::lists::splits_easily;
use crate::method::{RouteKind, cheapest, ordered};
use crate::number::{carries_of_adding, digit_count, digits, ten_to};
use arrayvec::ArrayVec;

/// What can be seen in the working of a × b.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Looks {
    /// Carries that are added inside a row.
    pub carries: usize,
    /// Rows with at least one such carry.
    pub rows_with_carries: usize,
    /// Rows written.
    pub rows: usize,
    /// Carries when the rows are added.
    pub adding: usize,
    /// A zero inside the multiplicand.
    pub zero_in_a: bool,
    /// A carry is added to a zero's product.
    pub into_zero: bool,
    /// A zero inside the multiplier.
    pub zero_in_b: bool,
    /// Facts with both digits 6 or more.
    pub big_facts: usize,
    /// The product has as many digits as both factors together.
    pub longer: bool,
    /// No carry arises at all.
    pub bare: bool,
}

impl Looks {
    pub(super) fn of(a: u64, b: u64) -> Looks {
        let (a, b) = ordered(a, b);
        let (top, side) = (digits(a), digits(b));
        let inner_zero = |d: &[u8]| d.iter().skip(1).any(|&x| x == 0);
        let big = |d: &[u8]| d.iter().filter(|&&x| x >= 6).count();
        let mut looks = Looks {
            carries: 0,
            rows_with_carries: 0,
            rows: 0,
            adding: 0,
            zero_in_a: inner_zero(&top),
            into_zero: false,
            zero_in_b: inner_zero(&side),
            big_facts: big(&top) * big(&side),
            longer: digit_count(a * b) == digit_count(a) + digit_count(b),
            bare: bare(a, b),
        };
        let mut rows = ArrayVec::<u64, 20>::new();
        for (place, &digit) in side.iter().enumerate().filter(|(_, digit)| **digit != 0) {
            let (mut carry, mut carries) = (0, 0);
            for (index, upper) in top.iter().enumerate() {
                // The last carry of a row is its leading digit: nothing is added to it.
                carry = (upper * digit + carry) / 10;
                let next = top.get(index + 1).filter(|_| carry > 0);
                carries += usize::from(next.is_some());
                looks.into_zero |= next == Some(&0);
            }
            rows.push(a * u64::from(digit) * ten_to(place));
            looks.rows += 1;
            looks.carries += carries;
            looks.rows_with_carries += usize::from(carries > 0);
        }
        if rows.len() > 1 {
            looks.adding = carries_of_adding(&rows).into_iter().filter(|&c| c > 0).count();
        }
        looks
    }
}

/// What is said of a sum in which nothing carries.
pub(super) const NO_CARRIES: &str = "no carries";

/// What a sum's numbers are to show.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Show {
    /// No carries in the rows.
    Bare,
    /// A carry or two.
    FewCarries,
    /// Carries in every row.
    Carries,
    /// A carry is added to a zero's product.
    IntoZero,
    /// A zero inside the multiplicand.
    ZeroInA,
    /// A zero inside the multiplier.
    ZeroInB,
    /// Zeros inside both.
    ZeroInBoth,
    /// Carries when the rows are added.
    Adding,
    /// One digit fewer than both factors together.
    Shorter,
    /// High facts and carries throughout.
    High,
}

impl Show {
    /// Whether the working shows it.
    pub(super) fn fits(self, looks: &Looks) -> bool {
        let zeros = looks.zero_in_a || looks.zero_in_b;
        match self {
            Show::Bare => looks.bare,
            Show::FewCarries => !zeros && (1..=looks.rows).contains(&looks.carries),
            Show::Carries => !zeros && looks.rows_with_carries == looks.rows && looks.longer,
            Show::IntoZero => looks.into_zero && !looks.zero_in_b,
            Show::ZeroInA => looks.zero_in_a && !looks.into_zero && !looks.zero_in_b,
            Show::ZeroInB => looks.zero_in_b && !looks.zero_in_a && looks.carries > 0,
            Show::ZeroInBoth => looks.zero_in_b && looks.zero_in_a,
            Show::Adding => !zeros && looks.adding >= 2,
            Show::Shorter => !zeros && !looks.longer && looks.carries > 0,
            Show::High => looks.big_facts >= 2 && looks.rows_with_carries == looks.rows,
        }
    }

    /// The same for the teacher, in a few words, true of these numbers: carries of the rows and of
    /// the adding count alike.
    pub(super) fn words(self, looks: &Looks) -> &'static str {
        let Looks { carries, adding, rows, .. } = *looks;
        match self {
            Show::Carries if rows == 1 => "carries",
            Show::Shorter if rows == 1 => "as many digits as the number above",
            Show::Bare if adding == 0 => NO_CARRIES,
            Show::Bare => "no carries in the rows",
            Show::FewCarries if carries + adding <= 2 => "a carry or two",
            Show::FewCarries if adding == 0 => "few carries",
            Show::FewCarries => "few carries in the rows, some in the adding",
            Show::Carries if adding == 0 => "carries in every row",
            Show::Carries => "carries in every row and in the adding",
            Show::IntoZero => "a carry into a zero",
            Show::ZeroInA => "a zero inside the upper number",
            Show::ZeroInB => "a zero inside the lower number",
            Show::ZeroInBoth => "zeros inside both numbers",
            Show::Adding => "carries when the rows are added",
            Show::Shorter => "one digit fewer than both numbers have",
            Show::High => "facts of 6, 7, 8 and 9",
        }
    }
}

/// Which zeros a skill's numbers have.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Zeros {
    /// None at all.
    Never,
    /// Inside the multiplicand now and then.
    Some,
    /// Inside the multiplicand always.
    InA,
    /// Inside the multiplier always.
    InB,
    /// At the ends of either or both: such pairs come from a list of their own.
    AtEnds,
}

/// Whether a pair is fit for a written method: nothing trivial, nothing that comes out right by
/// luck, zeros only where they belong.
pub(super) fn sound(a: u64, b: u64, zeros: Zeros) -> bool {
    // A product that ends in 0 hides a zero too many or too few.
    if a.min(b) > 9 && (a * b).is_multiple_of(10) {
        return false;
    }
    let (top, side) = (digits(a.max(b)), digits(a.min(b)));
    let zero_a = top.contains(&0);
    let zero_b = side.contains(&0);
    let zeros_fit = match zeros {
        Zeros::Never => !zero_a && !zero_b,
        Zeros::Some => !zero_b,
        Zeros::InA => zero_a && !zero_b,
        Zeros::InB => zero_b,
        Zeros::AtEnds => !zero_a && !zero_b,
    };
    // 37 × 3 is 111: an answer that looks like a trick.
    let plain_answer = || varied_at_all(&digits(a * b));
    zeros_fit
        && decent_digits(&top, &side)
        && a != b
        && different(&side)
        && heavy(&top, &side)
        && plain_answer()
}

/// Whether anybody would set the pair at all: nothing ends in 0, no digit over and over, no
/// square.
pub(super) fn decent(a: u64, b: u64) -> bool {
    a != b && decent_digits(&digits(a), &digits(b))
}

fn decent_digits(top: &[u8], side: &[u8]) -> bool {
    top[0] != 0 && side[0] != 0 && varied(top) && varied(side)
}

/// No two digits alike: two rows alike would hide which one went wrong.
fn different(digits: &[u8]) -> bool {
    digits.iter().enumerate().all(|(i, d)| !digits[..i].contains(d))
}

/// Whether nobody would rather do it in the head: no cheap route beats the written method (the
/// limits are defaults without a source). Sums without carries introduce a layout and
/// are let through.
pub fn on_paper(a: u64, b: u64) -> bool {
    if bare(a, b) {
        return true;
    }
    let Some((name, cost)) = cheapest(a, b) else { return true };
    if a.min(b) < 10 {
        let near_hundred = name == RouteKind::Adjusting && a.min(b) != 9;
        return name != RouteKind::Parts && !near_hundred && !splits_easily(a, b);
    }
    let least = if name == RouteKind::Splitting { 750 } else { 900 };
    cost >= least
}

/// Not the same digit throughout.
fn varied_at_all(digits: &[u8]) -> bool {
    digits.iter().any(|d| *d != digits[0])
}

/// Not one digit over and over, no digit three times, no pair of zeros, at most one 1.
pub(super) fn varied(digits: &[u8]) -> bool {
    let mut counts = [0_usize; 10];
    digits.iter().for_each(|&d| counts[usize::from(d)] += 1);
    let most = counts.into_iter().max().unwrap_or(0);
    let all_alike = digits.len() > 1 && most == digits.len();
    !all_alike && most < 3 && counts[0] < 2 && counts[1] < 2
}

/// Real multiplying: no multiplier digit 1 but in the very first sums without carries, and at
/// least one fact of 20 or more (of 12 where there is one digit only).
fn heavy(top: &[u8], side: &[u8]) -> bool {
    let most = |d: &[u8]| d.iter().copied().max().unwrap_or(0);
    if most(top) * most(side) <= 9 {
        return most(side) > 1 && most(top) > 1;
    }
    let enough = if side.len() == 1 { 12 } else { 20 };
    let times_two = side.len() == 1 && side[0] == 2;
    !side.contains(&1) && !times_two && most(top) * most(side) >= enough
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::method::{HouseStyle, long};

    /// The same counted in the rows of the printed working.
    fn seen(a: u64, b: u64) -> Looks {
        let long = long(a, b, &HouseStyle::default());
        let (top, side) = (digits(long.a), digits(long.b));
        let added = |carries: &[u8]| carries.iter().rev().skip(1).filter(|&&c| c > 0).count();
        let into_zero =
            |carries: &[u8]| carries.iter().zip(top.iter().skip(1)).any(|(&c, &t)| c > 0 && t == 0);
        let carries = || long.rows.iter().map(|row| added(&row.carries));
        Looks {
            carries: carries().sum(),
            rows_with_carries: carries().filter(|count| *count > 0).count(),
            rows: long.rows.len(),
            adding: long.adding_carries.iter().filter(|&&c| c > 0).count(),
            into_zero: long.rows.iter().any(|row| into_zero(&row.carries)),
            longer: long.value.to_string().len() == top.len() + side.len(),
            ..Looks::of(a, b)
        }
    }

    #[test]
    fn what_a_working_shows_is_what_is_counted_in_its_rows() {
        let small = (2..1_000).flat_map(|a| (2..100).map(move |b| (a, b)));
        let large =
            (1_003..9_999).step_by(89).flat_map(|a| (101..999).step_by(7).map(move |b| (b, a)));
        for (a, b) in small.chain(large) {
            assert_eq!(Looks::of(a, b), seen(a, b), "{a} x {b}");
        }
    }
}
