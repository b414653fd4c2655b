//! Numbers in words, read back word by word.

use super::super::{Accept, Item, Kind};
use super::text::{as_number, numbers, products};
use super::{Checked, fault};

const BELOW_TWENTY: [&str; 20] = [
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
const TENS: [&str; 8] =
    ["twenty", "thirty", "forty", "fifty", "sixty", "seventy", "eighty", "ninety"];
const GROUPS: [(&str, i128); 4] =
    [("thousand", 1_000), ("lakh", 100_000), ("million", 1_000_000), ("crore", 10_000_000)];

/// The number that English words say, in thousands and millions or in lakhs and crores; nothing for
/// a text with any other word, or with groups that do not fall.
pub(super) fn spoken(text: &str) -> Option<i128> {
    let (mut whole, mut group, mut words) = (0_i128, None, 0);
    let mut last = i128::MAX;
    for word in text.split([' ', '-', ',', '\u{A0}']).filter(|w| !w.is_empty() && *w != "and") {
        words += 1;
        let place = |names: &[&str]| names.iter().position(|name| *name == word);
        let so_far = group.unwrap_or(0);
        if let Some(n) = place(&BELOW_TWENTY) {
            // "Twenty three", "hundred and three", or the first word of its group.
            let free = if n < 10 { 10 } else { 100 };
            if group.is_some() && (so_far % free != 0 || so_far == 0 || n == 0) {
                return None;
            }
            group = Some(so_far + i128::try_from(n).ok()?);
        } else if let Some(n) = place(&TENS) {
            if group.is_some() && (so_far % 100 != 0 || so_far == 0) {
                return None;
            }
            group = Some(so_far + 10 * (i128::try_from(n).ok()? + 2));
        } else if let Some(n) = word.parse().ok().filter(|n| (0..1000).contains(n)) {
            // "2 thousand and 66"
            if group.is_some() {
                return None;
            }
            group = Some(n);
        } else if word == "hundred" {
            group = Some(group.filter(|n| (1..=9).contains(n))? * 100);
        } else {
            let (_, size) = GROUPS.iter().find(|(name, _)| *name == word)?;
            if *size >= last {
                return None;
            }
            last = *size;
            whole += group.take().filter(|n| *n > 0)? * size;
        }
    }
    (words > 0).then_some(whole + group.unwrap_or(0))
}

/// A number asked for in words or in figures is the one that is printed.
pub(super) fn reading(item: &Item) -> Checked {
    let prompt = item.prompt.as_str();
    let after = |start: &str| prompt.split_once(start).map(|(_, rest)| rest);
    let product = products(prompt).first().map(|(a, b)| a * b);
    if let Some(words) = after("Write in figures: ") {
        return agree(item, spoken(words));
    }
    if let Some(number) = after("Write in words: ") {
        return says(item, as_number(number));
    }
    if prompt.ends_with("Write the product in words.") {
        return says(item, product);
    }
    if let Some(words) = prompt.strip_suffix(". Write the product in figures.") {
        let words = words.split_once(" is ").and_then(|(_, words)| spoken(words));
        return agree(item, words.filter(|n| Some(*n) == product));
    }
    if let Some(words) = after("Which number is ").and_then(|rest| rest.split_once('?'))
        && let Some(wanted) = spoken(words.0)
    {
        let right = |text: &str| as_number(text) == Some(wanted);
        let wrong = item.choices.iter().find(|c| right(&c.text) != c.correct);
        return wrong.map_or(Ok(()), |c| fault(format!("{} is marked wrongly", c.text)));
    }
    if let Some(rest) = after("How many digits are there in ")
        && item.kind == Kind::Reason
    {
        let digits = products(rest).first().map(|(a, b)| (a * b).to_string().len());
        return agree(item, digits.and_then(|n| i128::try_from(n).ok()));
    }
    match item.kind {
        Kind::Words => fault("no number to read or to write".to_owned()),
        _ => Ok(()),
    }
}

fn agree(item: &Item, wanted: Option<i128>) -> Checked {
    let said = numbers(&item.answer);
    match wanted {
        Some(n) if said == [n] && as_number(&item.answer) == Some(n) => Ok(()),
        Some(n) => fault(format!("it is {n}, not {}", item.answer)),
        None => fault("the question cannot be read".to_owned()),
    }
}

fn says(item: &Item, wanted: Option<i128>) -> Checked {
    let others = match &item.accept {
        Some(Accept::Any(others)) => others.as_slice(),
        _ => &[],
    };
    let all = std::iter::once(&item.answer).chain(others);
    let wrong = all.into_iter().find(|text| wanted.is_none() || spoken(text) != wanted);
    wrong.map_or(Ok(()), |text| fault(format!("“{text}” is not {wanted:?}")))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_in_words_are_read_as_they_are_meant() {
        for (words, number) in [
            ("zero", 0),
            ("seventeen", 17),
            ("forty-two", 42),
            ("ninety nine", 99),
            ("three hundred and seven", 307),
            ("three hundred seventy", 370),
            ("two million, one hundred and eighty thousand, two hundred and one", 2_180_201),
            ("twenty-one lakh, eighty thousand, two hundred and one", 2_180_201),
            ("one crore, two lakh and three", 10_200_003),
            ("nine hundred and sixty thousand and fourteen", 960_014),
            ("2 thousand and 66", 2_066),
        ] {
            assert_eq!(spoken(words), Some(number), "{words}");
        }
    }

    #[test]
    fn what_is_no_number_in_words_is_not_read() {
        for words in [
            "",
            "and",
            "two three",
            "twenty eleven",
            "hundred",
            "ten hundred",
            "thousand",
            "one thousand two million",
            "two thousand one thousand",
            "five nines",
            "five hundred hundred",
            "2 3",
            "2,066",
        ] {
            assert_eq!(spoken(words), None, "{words}");
        }
    }

    /// The names of numbers are made by other code: every number below 20,000 and every tenth part
    /// of the way to a hundred million is read back as itself, both ways of naming.
    #[test]
    fn every_name_is_read_back() {
        use crate::number::{Grouping, in_words};
        for n in (0..20_000).chain((20_000..100_000_000).step_by(7_919)) {
            for grouping in [Grouping::Thousands, Grouping::Indian] {
                let words = in_words(n, grouping);
                assert_eq!(spoken(&words), Some(i128::from(n)), "{words}");
            }
        }
    }
}
