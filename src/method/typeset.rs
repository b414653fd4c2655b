//! Sums in ASCII (`36*199 - 36`) and sums as paper prints them ("36 × 199 − 36").

use super::HouseStyle;

/// The space that does not break, on both sides of every sign.
const NBSP: char = '\u{A0}';

impl HouseStyle {
    /// The number as the class writes it.
    pub fn number(&self, n: u64) -> String {
        self.grouping.write(n)
    }
    /// A product as printed: "6,283 × 347", which never breaks.
    pub fn sum(&self, a: u64, b: u64) -> String {
        format!("{}{NBSP}×{NBSP}{}", self.number(a), self.number(b))
    }
    /// A text with numbers and signs in ASCII as paper prints it: digits grouped as the class
    /// writes them, `*`, `//`, ` - `, ` + ` and ` = ` as × ÷ − + = between spaces that do not
    /// break. A hyphen inside a word stays.
    pub fn typeset(&self, ascii: &str) -> String {
        let mut out = String::new();
        let mut rest = ascii;
        while let Some(c) = rest.chars().next() {
            if c.is_ascii_digit() {
                let end = rest.find(|c: char| !c.is_ascii_digit()).unwrap_or(rest.len());
                let digits = &rest[..end];
                out.push_str(&digits.parse().map_or(digits.to_owned(), |n| self.number(n)));
                rest = &rest[end..];
            } else if let Some((sign, length)) = sign(rest) {
                out.truncate(out.trim_end_matches(' ').len());
                if !out.is_empty() {
                    out.push(NBSP);
                }
                out.extend([sign, NBSP]);
                rest = rest[length..].trim_start_matches(' ');
            } else {
                out.push(c);
                rest = &rest[c.len_utf8()..];
            }
        }
        out
    }
}

/// The sign a text begins with, once its leading space is passed, and its length with that space.
fn sign(text: &str) -> Option<(char, usize)> {
    const SIGNS: [(&str, char); 7] = [
        (" - ", '−'),
        (" + ", '+'),
        (" = ", '='),
        (" // ", '÷'),
        (" * ", '×'),
        ("//", '÷'),
        ("*", '×'),
    ];
    SIGNS.iter().find(|(ascii, _)| text.starts_with(ascii)).map(|&(ascii, c)| (c, ascii.len()))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::number::Grouping;

    #[test]
    fn signs_stand_between_spaces_that_do_not_break() {
        let style = HouseStyle { grouping: Grouping::Indian, ..Default::default() };
        assert_eq!(style.sum(123_456, 347), "1,23,456\u{A0}×\u{A0}347");
        assert_eq!(
            style.typeset("36*200 - 36 = 7164"),
            "36\u{A0}×\u{A0}200\u{A0}−\u{A0}36\u{A0}=\u{A0}7,164"
        );
        assert_eq!(style.typeset("4800 // 4"), "4,800\u{A0}÷\u{A0}4");
        assert_eq!(style.typeset("* 3, then * 8"), "×\u{A0}3, then\u{A0}×\u{A0}8");
        assert_eq!(style.typeset("twenty-five 36s too many"), "twenty-five 36s too many");
    }
}
