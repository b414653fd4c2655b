//! The school's own words in a sentence: "units" for "ones", "regroup" for "carry".

use super::{CarryWord, HouseStyle};
use crate::number::OnesWord;

/// Words after which "carry" names a thing: "a carry", "the last carry".
const BEFORE_A_THING: [&str; 10] =
    ["a", "A", "the", "The", "every", "each", "last", "old", "waiting", "adding"];

impl HouseStyle {
    /// A sentence with "ones" and "carry" in the school's words; nothing else is changed.
    pub fn in_words(&self, text: &str) -> String {
        let mut out = String::new();
        let mut word = String::new();
        let mut before = String::new();
        for c in text.chars().chain(std::iter::once('\0')) {
            if c.is_alphabetic() {
                word.push(c);
                continue;
            }
            out.push_str(self.word(&word, &before).unwrap_or(&word));
            if !word.is_empty() {
                before = std::mem::take(&mut word);
            } else if !c.is_whitespace() {
                before.clear();
            }
            if c != '\0' {
                out.push(c);
            }
        }
        out
    }

    /// A sentence with its large numbers grouped as the school writes them, whether they stand with
    /// spaces, as in "1 000 000", or without.
    pub fn in_figures(&self, text: &str) -> String {
        let mut out = String::new();
        let mut rest = text;
        while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
            out.push_str(&rest[..at]);
            rest = &rest[at..];
            let (figures, length) = number_at(rest);
            match figures.parse() {
                Ok(number) if figures.len() > 3 && !out.ends_with('.') => {
                    out.push_str(&self.number(number));
                }
                _ => out.push_str(&rest[..length]),
            }
            rest = &rest[length..];
        }
        out + rest
    }

    fn word(&self, word: &str, before: &str) -> Option<&'static str> {
        let regroup = self.carry == CarryWord::Regroup;
        let units = self.ones == OnesWord::Units;
        match word {
            "ones" if units => Some("units"),
            "Ones" if units => Some("Units"),
            "carry" if regroup && BEFORE_A_THING.contains(&before) => Some("regrouped digit"),
            "carry" if regroup => Some("regroup"),
            "carries" if regroup => Some("regrouped digits"),
            "Carries" if regroup => Some("Regrouped digits"),
            "carried" if regroup => Some("regrouped"),
            "carrying" if regroup => Some("regrouping"),
            "Carry" if regroup => Some("Regroup"),
            _ => None,
        }
    }
}

/// The figures of the number that a text begins with, and how far it reaches: one to three figures
/// and then threes after single spaces, or figures alone.
fn number_at(text: &str) -> (String, usize) {
    let figures = |text: &str| text.chars().take_while(char::is_ascii_digit).count();
    let mut length = figures(text);
    let mut number = text[..length].to_owned();
    while number.len() <= 3 || length > number.len() {
        let more = text[length..].strip_prefix([' ', ',']);
        let Some(more) = more.filter(|more| figures(more) == 3) else { break };
        number.push_str(&more[..3]);
        length += 4;
    }
    (number, length)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn large_numbers_are_grouped_as_the_school_writes_them() {
        use crate::number::Grouping;
        let text = "Up to 1 000 000: 10, 100, 1000 and 10,000; Y5-MD-7, 12 of 345.";
        let written = |grouping| HouseStyle { grouping, ..HouseStyle::default() }.in_figures(text);
        assert_eq!(
            written(Grouping::Thousands),
            "Up to 1,000,000: 10, 100, 1,000 and 10,000; Y5-MD-7, 12 of 345."
        );
        assert_eq!(
            written(Grouping::Indian),
            "Up to 10,00,000: 10, 100, 1,000 and 10,000; Y5-MD-7, 12 of 345."
        );
        let narrow = "Up to 1\u{202F}000\u{202F}000: 10, 100, 1\u{202F}000 and 10\u{202F}000; Y5-MD-7, 12 of 345.";
        assert_eq!(written(Grouping::Spaced), narrow);
    }

    #[test]
    fn a_carry_is_a_thing_or_something_done() {
        let style = HouseStyle {
            ones: OnesWord::Units,
            carry: CarryWord::Regroup,
            ..HouseStyle::default()
        };
        for (said, meant) in [
            ("The ones first, then carry.", "The units first, then regroup."),
            ("a carry over a zero", "a regrouped digit over a zero"),
            ("a carry or two", "a regrouped digit or two"),
            ("no carries", "no regrouped digits"),
            ("A last carry not written", "A last regrouped digit not written"),
            ("Carry into the corners.", "Regroup into the corners."),
            ("wrong digit carried", "wrong digit regrouped"),
            ("splitting into tens and ones", "splitting into tens and units"),
            ("tones and carriages", "tones and carriages"),
            ("the ones' row", "the units' row"),
        ] {
            assert_eq!(style.in_words(said), meant);
            assert_eq!(HouseStyle::default().in_words(said), said);
        }
    }
}
