//! Numbers in words, in both conventions of large numbers.

use super::Grouping;

const SMALL: [&str; 20] = [
    "zero",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
];
const TENS: [&str; 10] =
    ["", "", "twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];

/// Named powers of ten, highest first.
const LAKHS: [(u64, &str); 3] = [(10_000_000, "crore"), (100_000, "lakh"), (1_000, "thousand")];
const MILLIONS: [(u64, &str); 6] = [
    (1_000_000_000_000_000_000, "quintillion"),
    (1_000_000_000_000_000, "quadrillion"),
    (1_000_000_000_000, "trillion"),
    (1_000_000_000, "billion"),
    (1_000_000, "million"),
    (1_000, "thousand"),
];

/// The number in words: thousand, million with [`Grouping::Thousands`] and [`Grouping::Spaced`],
/// thousand, lakh, crore with [`Grouping::Indian`]. With "and" before the tens and ones, and
/// commas between the groups: "ninety-nine lakh, eighty-nine thousand and one".
pub fn in_words(n: u64, grouping: Grouping) -> String {
    let powers: &[(u64, &str)] = if grouping == Grouping::Indian { &LAKHS } else { &MILLIONS };
    words(n, powers)
}

fn words(n: u64, powers: &[(u64, &str)]) -> String {
    let mut groups = Vec::new();
    let mut rest = n;
    for &(power, name) in powers {
        if rest >= power {
            // Beyond 99 crore the crores are a number of their own: "one hundred crore".
            groups.push(format!("{} {name}", words(rest / power, powers)));
            rest %= power;
        }
    }
    if rest >= 100 || groups.is_empty() {
        groups.push(below_thousand(rest));
        groups.join(", ")
    } else if rest > 0 {
        format!("{} and {}", groups.join(", "), below_hundred(rest))
    } else {
        groups.join(", ")
    }
}

fn below_thousand(n: u64) -> String {
    match (n / 100, n % 100) {
        (0, rest) => below_hundred(rest),
        (hundreds, 0) => format!("{} hundred", small(hundreds)),
        (hundreds, rest) => format!("{} hundred and {}", small(hundreds), below_hundred(rest)),
    }
}

fn below_hundred(n: u64) -> String {
    let tens = usize::try_from(n / 10).map_or("", |t| TENS[t]);
    match n % 10 {
        _ if n < 20 => small(n).to_owned(),
        0 => tens.to_owned(),
        ones => format!("{tens}-{}", small(ones)),
    }
}

fn small(n: u64) -> &'static str {
    usize::try_from(n).map_or("", |n| SMALL[n])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_product_of_twelve_digits_has_a_name_in_both_conventions() {
        let n = 999_998_000_001;
        assert_eq!(
            in_words(n, Grouping::Indian),
            "ninety-nine thousand, nine hundred and ninety-nine crore, eighty lakh and one"
        );
        assert_eq!(
            in_words(n, Grouping::Spaced),
            "nine hundred and ninety-nine billion, nine hundred and ninety-eight million and one"
        );
        assert!(in_words(u64::MAX, Grouping::Thousands).starts_with("eighteen quintillion"));
    }

    /// Reads a name back by adding up its words, so that every name up to a lakh is a number.
    fn read_back(name: &str) -> u64 {
        let (mut total, mut group) = (0, 0);
        for word in name.split([' ', '-']).map(|w| w.trim_end_matches(',')) {
            match word {
                "and" => {}
                "hundred" => group *= 100,
                "thousand" => {
                    total += group * 1000;
                    group = 0;
                }
                word => {
                    let small = SMALL.iter().position(|w| *w == word);
                    let tens = TENS.iter().position(|w| *w == word).map(|t| t * 10);
                    let value = small.or(tens).unwrap_or_else(|| panic!("no word {word}"));
                    group += u64::try_from(value).expect("a small number");
                }
            }
        }
        total + group
    }

    #[test]
    fn every_name_below_a_lakh_says_its_number() {
        for n in 0..100_000 {
            let name = in_words(n, Grouping::Indian);
            assert_eq!(read_back(&name), n, "{name}");
            assert_eq!(name, in_words(n, Grouping::Thousands));
        }
    }
}
