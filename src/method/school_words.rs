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

#[cfg(test)]
mod tests {
    use super::*;

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
