//! Units beside a story's answer: taken off, and told of where another one is asked for.

use super::written::{plain_number, without_money};
use crate::exercise::{Item, Kind, Working};

/// Units that pupils of this age write, each with what else it is called.
const UNITS: [(&str, &[&str]); 24] = [
    ("mm", &["millimetre", "millimetres", "millimeter", "millimeters"]),
    ("cm", &["cms", "centimetre", "centimetres", "centimeter", "centimeters"]),
    ("m", &["metre", "metres", "meter", "meters"]),
    ("km", &["kms", "kilometre", "kilometres", "kilometer", "kilometers"]),
    ("mg", &["milligram", "milligrams"]),
    ("g", &["gm", "gms", "gram", "grams", "gramme", "grammes"]),
    ("kg", &["kgs", "kilo", "kilos", "kilogram", "kilograms"]),
    ("ml", &["millilitre", "millilitres", "milliliter", "milliliters"]),
    ("cl", &["centilitre", "centilitres"]),
    ("l", &["ltr", "ltrs", "litre", "litres", "liter", "liters"]),
    ("seconds", &["s", "sec", "secs", "second"]),
    ("minutes", &["min", "mins", "minute"]),
    ("hours", &["h", "hr", "hrs", "hour"]),
    ("days", &["day"]),
    ("weeks", &["week"]),
    ("months", &["month"]),
    ("years", &["yr", "yrs", "year"]),
    ("°C", &["°c", "°", "degree", "degrees"]),
    ("pence", &["p", "penny"]),
    ("pounds", &["pound"]),
    ("rupees", &["rupee", "rs"]),
    ("paise", &["paisa"]),
    ("dollars", &["dollar"]),
    ("cents", &["cent"]),
];

/// A known unit at the beginning of these words, as it is told; of an area with "square".
fn known(text: &str) -> Option<String> {
    let lower = text.trim().to_lowercase();
    let mut words = lower.split(|c: char| c.is_whitespace() || matches!(c, '.' | ',' | ';'));
    let first = words.find(|word| !word.is_empty())?;
    let (squared, name) = match first {
        "square" | "sq" => (true, words.find(|word| !word.is_empty())?),
        _ => {
            let bare = first.trim_end_matches(['²', '2', '^']);
            (bare.len() < first.len(), bare)
        }
    };
    let own = UNITS.iter().find(|(unit, others)| *unit == name || others.contains(&name));
    let (unit, _) = own?;
    Some(if squared { format!("square {unit}") } else { (*unit).to_owned() })
}

/// An answer parted into its number, digits without grouping, and what stands behind it.
fn parted(given: &str) -> Option<(String, &str)> {
    let end = given.find(|c: char| c.is_alphabetic() || c == '°')?;
    let (number, rest) = given.split_at(end);
    let others = rest.trim_end_matches(['2', '²', '^']);
    if others.contains(|c: char| c.is_ascii_digit()) {
        return None;
    }
    Some((plain_number(number.trim_end())?, rest))
}

/// "420 cm" is 420 where a story is answered.
pub(super) fn without_unit(given: &str) -> String {
    let bare = || plain_number(given.trim_end_matches([' ', '.']));
    let number = parted(given).map(|(number, _)| number).or_else(bare);
    number.unwrap_or_else(|| given.to_owned())
}

/// What money is called whose sign stands before a number: any of these.
const MONEY: [(&str, &[&str]); 8] = [
    ("£", &["pounds"]),
    ("$", &["dollars"]),
    ("€", &["euros"]),
    ("₹", &["rupees"]),
    ("¥", &["yen", "yuan"]),
    ("Rs", &["rupees"]),
    ("INR", &["rupees"]),
    ("R", &["rand", "rupees"]),
];

/// The unit written beside an answer, or the sign of money before it, and what is asked for instead,
/// where that is known to be something else: an empty text where no unit is asked for. `None` where
/// nothing is written, or no unit that is known.
pub(super) fn other_unit(item: &Item, given: &str) -> Option<(String, String)> {
    if let (Some(sign), _) = without_money(given) {
        let asked = asked_for(item).unwrap_or_default();
        let names = MONEY.iter().find(|(own, _)| *own == sign).map_or(&[][..], |(_, names)| names);
        return (!names.contains(&asked.as_str())).then(|| (sign.to_owned(), asked));
    }
    let (_, written) = parted(given)?;
    let unit = known(written)?;
    let what = asked_for(item)?;
    // A single letter may stand for the word that is asked for: 36 p for pages, 36 m for minutes.
    let letter = written.trim_end_matches(['.', ' ']);
    let short = letter.chars().count() == 1 && what.starts_with(&letter.to_lowercase());
    (unit != what && !short && !what.is_empty()).then_some((unit, what))
}

/// The unit that a story asks for, or the word behind the number in its sentence; empty where none
/// follows. `None` of what is no story.
fn asked_for(item: &Item) -> Option<String> {
    let (Kind::Story, Working::Story { story, .. }) = (item.kind, &item.working) else {
        return None;
    };
    let asked = after_number(&story.sentence, &plain_number(&item.answer)?)?;
    Some(known(asked).unwrap_or_else(|| first_word(asked)))
}

fn first_word(text: &str) -> String {
    text.chars().skip_while(|c| !c.is_alphabetic()).take_while(|c| c.is_alphabetic()).collect()
}

/// What follows this number in a sentence, however it is grouped there.
fn after_number<'a>(sentence: &'a str, number: &str) -> Option<&'a str> {
    let inside = |c: char| c.is_ascii_digit() || c.is_whitespace() || ",.'’".contains(c);
    let mut rest = sentence;
    while let Some(start) = rest.find(|c: char| c.is_ascii_digit()) {
        let from = &rest[start..];
        let end = from.find(|c| !inside(c)).unwrap_or(from.len());
        let run = from[..end].trim_end_matches(|c: char| !c.is_ascii_digit());
        if plain_number(run).as_deref() == Some(number) {
            return Some(&from[run.len()..]);
        }
        rest = &from[end..];
    }
    None
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::Story;
    use crate::marking::question::Question;
    use crate::marking::tests::item;

    fn nothing() -> Story {
        Story {
            know: Vec::new(),
            need: String::new(),
            steps: Vec::new(),
            sentence: String::new(),
            structure: String::new(),
            scene: String::new(),
        }
    }

    fn story(sentence: &str, answer: &str) -> Item {
        let working = Working::Story {
            story: Story { sentence: sentence.to_owned(), ..nothing() },
            long: None,
        };
        Item { working, ..item("L07-X1", Kind::Story, None, answer) }
    }

    #[test]
    fn a_unit_is_taken_off_and_another_one_than_asked_for_is_told() {
        for (sentence, given, other) in [
            ("The rope is 36 m long.", "36 kg", Some(("kg", "m"))),
            ("The rope is 36 m long.", "36 metres.", None),
            ("The rope is 36 m long.", "36", None),
            ("The rope is 36 m long.", "36 long", None),
            ("The yard has 36 square metres.", "36 m", Some(("m", "square m"))),
            ("The yard has 36 square metres.", "36 sq m", None),
            ("The yard has 36 square metres.", "36 m2", None),
            ("The yard has 36 square metres.", "36 m²", None),
            ("In 3 weeks Ada plays 36 minutes.", "36 m", None),
            ("In 3 weeks Ada plays 36 minutes.", "36 hours", Some(("hours", "minutes"))),
            ("The book has 36 pages.", "36 p", None),
            ("The book has 36 pages.", "36 cm", Some(("cm", "pages"))),
            ("It costs 36 pence.", "36p", None),
            ("The rope is 36 m long.", "£36", Some(("£", "m"))),
            ("It costs 36 pence.", "£36", Some(("£", "pence"))),
            ("It costs 36 pounds.", "£36", None),
            ("It costs 36 rupees in all.", "Rs36", None),
            ("It costs 36 rupees in all.", "$36", Some(("$", "rupees"))),
            ("The book has 36 pages.", "₹36", Some(("₹", "pages"))),
        ] {
            let item = story(sentence, "36");
            assert_eq!(Question::of(&item).meant(given), "36", "{given}");
            let expected = other.map(|(unit, what)| (unit.to_owned(), what.to_owned()));
            assert_eq!(other_unit(&item, given), expected, "{given}: {sentence}");
        }
        let large = story("The lorry carries 12,36,000 kg in all.", "1236000");
        assert_eq!(other_unit(&large, "1236000 g"), Some(("g".to_owned(), "kg".to_owned())));
        assert_eq!(without_unit("3 m 6 cm"), "3 m 6 cm", "two numbers are no answer");
        let sum = item("L07-X1", Kind::Written, Some("9*4"), "36");
        assert_eq!(other_unit(&sum, "£36"), Some(("£".to_owned(), String::new())));
        assert_eq!(other_unit(&sum, "36"), None);
    }
}
