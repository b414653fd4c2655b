//! An answer as it is written and as it counts: ticks and crosses, words for who was not there, and
//! numbers in any grouping, with what stands round them.

use super::answers::{CROSS, TICK};

/// A field without spaces round it, in half-width characters.
pub(super) fn clean(field: &str) -> String {
    let narrow = |c: char| match c {
        '\u{3000}' => ' ',
        // Full-width forms stand at a fixed distance from ASCII (Unicode, block FF00).
        '\u{ff01}'..='\u{ff5e}' => {
            char::from_u32(u32::from(c) - u32::from('\u{ff01}') + u32::from('!')).unwrap_or(c)
        }
        _ => c,
    };
    let text: String = field.chars().map(narrow).collect();
    text.trim_matches(|c: char| c.is_whitespace() || c == '\u{feff}').to_owned()
}

/// An answer as it is kept: a tick for "right", a cross for "wrong", a number without grouping, the sign of
/// money before it, else the words. `None` for a blank, a dash, a question mark and what is written of who was not there.
pub(super) fn answer(field: &str) -> Option<String> {
    // "= 420" and "+420" are 420.
    let text = clean(clean(field).trim_start_matches(['=', '+']));
    let (sign, text) = bare(&text);
    if is_absent(&text) {
        return None;
    }
    match text.to_lowercase().as_str() {
        "" | "-" | "–" | "—" | "?" | "…" => None,
        "." | "✓" | "✔" | "✔\u{fe0f}" | "☑" | "√" | "ok" | "okay" | "tick" | "right"
        | "correct" => Some(TICK.to_owned()),
        "✗" | "✘" | "x" | "cross" | "wrong" => Some(CROSS.to_owned()),
        _ => Some(match plain_number(&text) {
            Some(number) => format!("{}{number}", sign.unwrap_or("")),
            None => text,
        }),
    }
}

/// An answer with digits without the full stop or question mark behind it, and what money stands
/// before it: "£5133", "5133." and "2670?" are meant as the number.
fn bare(text: &str) -> (Option<&'static str>, String) {
    if !text.contains(|c: char| c.is_ascii_digit()) {
        return (None, text.to_owned());
    }
    let (mut sign, mut rest) = (None, clean(text));
    loop {
        let money = MONEY.iter().find(|(written, _)| {
            rest.get(..written.len()).is_some_and(|before| before.eq_ignore_ascii_case(written))
        });
        sign = sign.or(money.map(|(_, sign)| *sign));
        let end = rest.trim_end_matches(['.', '?', '!']);
        let end = end.strip_suffix("/-").unwrap_or(end);
        let shorter = clean(end.get(money.map_or(0, |(written, _)| written.len())..).unwrap_or(""));
        if shorter == rest {
            return (sign, rest);
        }
        rest = shorter;
    }
}

/// Money as it stands before a number, and as it is kept.
const MONEY: [(&str, &str); 9] = [
    ("£", "£"),
    ("$", "$"),
    ("€", "€"),
    ("₹", "₹"),
    ("¥", "¥"),
    ("Rs.", "Rs"),
    ("Rs", "Rs"),
    ("INR", "INR"),
    ("R", "R"),
];

/// An answer as kept, without money before a number, and that money.
pub(super) fn without_money(given: &str) -> (Option<&'static str>, &str) {
    let parted = MONEY.iter().find_map(|&(_, sign)| {
        let number = given.strip_prefix(sign)?;
        let only_digits = !number.is_empty() && number.bytes().all(|b| b.is_ascii_digit());
        only_digits.then_some((Some(sign), number))
    });
    parted.unwrap_or((None, given))
}

/// Words that begin what is written of who was not there, and what stands for it as a whole.
const ABSENT: [&str; 13] = [
    "absent",
    "absence",
    "abs",
    "away",
    "ill",
    "illness",
    "sick",
    "unwell",
    "poorly",
    "excused",
    "exempt",
    "exc",
    "isolating",
];
const NOT_THERE: [&str; 22] = [
    "ab",
    "na",
    "n a",
    "nr",
    "dns",
    "dnf",
    "not here",
    "not there",
    "not in",
    "not present",
    "not in school",
    "not done",
    "not answered",
    "no answer",
    "no slip",
    "missing",
    "blank",
    "left blank",
    "did not attempt",
    "at home",
    "in hospital",
    "no show",
];

/// Whether this says that somebody was not there or gave no answer: "abs.", "absent (ill)".
pub(super) fn is_absent(text: &str) -> bool {
    if text.contains(|c: char| c.is_ascii_digit()) {
        return false;
    }
    let lower = text.to_lowercase();
    let words: Vec<&str> =
        lower.split(|c: char| !c.is_alphabetic()).filter(|w| !w.is_empty()).collect();
    words.first().is_some_and(|first| ABSENT.contains(first))
        || NOT_THERE.contains(&words.join(" ").as_str())
}

/// The digits of a number that may be grouped in twos and threes by commas, points, spaces or
/// apostrophes; zeros in front are dropped, and so is a fraction of noughts that a spreadsheet put
/// behind it. All answers are whole numbers, so that 1.234 is 1234.
pub(super) fn plain_number(text: &str) -> Option<String> {
    let text = whole_part(text);
    let separator = |c: char| c.is_whitespace() || matches!(c, ',' | '.' | '\'' | '’');
    let groups: Vec<&str> = text.split(separator).collect();
    let digits = groups.concat();
    let grouped = match groups.as_slice() {
        [only] => !only.is_empty(),
        [first, middle @ .., last] => {
            let inner = middle.iter().all(|g| matches!(g.len(), 2 | 3));
            matches!(first.len(), 1..=3) && inner && last.len() == 3
        }
        [] => false,
    };
    if !grouped || !digits.bytes().all(|b| b.is_ascii_digit()) {
        return None;
    }
    let front = digits.trim_start_matches('0');
    Some(if front.is_empty() { "0".to_owned() } else { front.to_owned() })
}

/// What stands before a decimal sign with one or two noughts after it.
fn whole_part(text: &str) -> &str {
    match text.rsplit_once(['.', ',']) {
        Some((whole, "0" | "00")) if whole.ends_with(|c: char| c.is_ascii_digit()) => whole,
        _ => text,
    }
}
