//! Telling a story: its blanks filled as the class writes numbers.

use super::plan::{Line, Numbers};
use crate::method::HouseStyle;
use crate::number::in_words;

/// The children of a story.
#[derive(Debug, Clone, Copy)]
pub struct Children<'a> {
    /// For `{name}`.
    pub name: &'a str,
    /// For `{other}`.
    pub other: &'a str,
}

/// Signs of units, which stand after figures.
const UNITS: [&str; 8] = ["mm", "cm", "m", "km", "g", "kg", "ml", "°C"];
/// A space that does not break.
const TIE: char = '\u{A0}';

/// The words in curly brackets.
pub fn blanks(text: &str) -> Vec<&str> {
    let parts = text.split('{').skip(1);
    parts.filter_map(|part| part.split_once('}').map(|(blank, _)| blank)).collect()
}

/// Whether a number in front of this text stands before the sign of a unit.
fn unit_follows(rest: &str) -> bool {
    let word: String =
        rest.trim_start().chars().take_while(|c| c.is_alphabetic() || *c == '°').collect();
    rest.starts_with(' ') && UNITS.contains(&word.as_str())
}

/// How numbers below ten are written.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Small {
    /// As words, but before the sign of a unit: in the story.
    Words,
    /// As figures: in what is known and in the answer.
    Figures,
}

/// The text with every blank filled.
pub fn tell(
    text: &str,
    numbers: &Numbers,
    children: Children,
    style: &HouseStyle,
    small: Small,
) -> String {
    let mut out = String::new();
    let mut rest = text;
    while let Some((before, after)) = rest.split_once('{') {
        out.push_str(before);
        let (blank, following) = after.split_once('}').unwrap_or((after, ""));
        rest = following;
        match blank {
            "name" => out.push_str(children.name),
            "other" => out.push_str(children.other),
            "money" => out.push_str(style.money()),
            _ => {
                let number = blank.chars().next().map_or(0, |letter| numbers.of(letter));
                let before_unit = unit_follows(following);
                if small == Small::Words && number < 10 && !before_unit {
                    out.push_str(&in_words(number, style.grouping));
                } else {
                    out.push_str(&style.number(number));
                }
                if before_unit {
                    out.push(TIE);
                    rest = following.trim_start();
                }
            }
        }
    }
    out.push_str(rest);
    out
}

/// A line of working as printed: "2,365 × 148 = 350,020", which never breaks.
pub fn line(line: &Line, style: &HouseStyle) -> String {
    let [left, right, value] = [line.left, line.right, line.value].map(|n| style.number(n));
    format!("{left}{TIE}{}{TIE}{right}{TIE}={TIE}{value}", line.sign)
}
