//! A ladder's sentences in the school's own words and grouping.

use crate::exercise::Item;
use crate::exercise::makers::WHAT_WENT_WRONG;
use crate::method::HouseStyle;

/// A sentence of the ladder as this school would say it: numbers grouped its way, "ones" and
/// "carry" replaced by its words, no break between a number and a sign.
pub fn in_house_words(text: &str, style: &HouseStyle) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some(at) = rest.find(|c: char| c.is_ascii_digit()) {
        out.push_str(&rest[..at]);
        let length = number_length(&rest[at..]);
        let digits: String = rest[at..at + length].chars().filter(|c| *c != ',').collect();
        match digits.parse::<u64>() {
            Ok(n) if digits == n.to_string() => out.push_str(&style.number(n)),
            _ => out.push_str(&rest[at..at + length]),
        }
        rest = &rest[at + length..];
    }
    out.push_str(rest);
    tied(&style.in_words(&out))
}

/// An item with what its numbers and wrong answers show in the school's words. Mistakes to choose
/// from are said so, too; stories, where a van may carry something, stay as they are.
pub fn in_house_item(item: Item, style: &HouseStyle) -> Item {
    let say = |text: &mut String| *text = style.in_words(text);
    let mut item = item;
    say(&mut item.purpose);
    item.likely.iter_mut().for_each(|likely| say(&mut likely.shows));
    if item.prompt.contains(WHAT_WENT_WRONG) {
        item.choices.iter_mut().for_each(|choice| say(&mut choice.text));
        item.likely.iter_mut().for_each(|likely| say(&mut likely.answer));
        say(&mut item.answer);
    }
    item
}

/// How many bytes from the first belong to one number: digits, and commas before three of them.
fn number_length(text: &str) -> usize {
    let bytes = text.as_bytes();
    let digit = |i: usize| bytes.get(i).is_some_and(u8::is_ascii_digit);
    let mut end = 0;
    while digit(end) {
        end += 1;
    }
    while bytes.get(end) == Some(&b',') && (1..=3).all(|i| digit(end + i)) && !digit(end + 4) {
        end += 4;
    }
    end
}

/// No sum breaks at the end of a line: spaces round × + − = ≈ do not part.
fn tied(text: &str) -> String {
    let mut text = text.to_owned();
    for sign in ["×", "+", "−", "=", "≈"] {
        text = text.replace(&format!(" {sign} "), &format!("\u{a0}{sign}\u{a0}"));
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::method::CarryWord;
    use crate::number::{Grouping, OnesWord};

    #[test]
    fn sentences_take_the_schools_words_and_grouping() {
        let style = HouseStyle {
            grouping: Grouping::Indian,
            ones: OnesWord::Units,
            carry: CarryWord::Regroup,
            ..HouseStyle::default()
        };
        let said = |text| in_house_words(text, &style);
        assert_eq!(
            said("about 4,000 × 30 = 120,000."),
            "about 4,000\u{a0}×\u{a0}30\u{a0}=\u{a0}1,20,000."
        );
        assert_eq!(said("The ones first, then carry."), "The units first, then regroup.");
        assert_eq!(said("6, 9, 11 and 2; 1,234,567"), "6, 9, 11 and 2; 12,34,567");
        assert_eq!(said("tones and carriages"), "tones and carriages");
    }

    #[test]
    fn the_default_style_changes_no_number() {
        let style = HouseStyle::default();
        let text = "306×7 is given as 2,102, never 21,020 or 007";
        assert_eq!(in_house_words(text, &style), text);
    }
}
