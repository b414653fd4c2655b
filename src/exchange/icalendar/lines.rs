//! The content lines of an iCalendar file (RFC 5545 section 3.1), each with its place.

use crate::report::{Message, Place, Report, Source};
use ::icalendar::parser::Property;
use std::sync::Arc;

/// A bigger file is no school calendar.
const LARGEST_FILE: usize = 10 * 1024 * 1024;

/// The text of a file: UTF-8 with or without a byte order mark, also where a line was folded
/// inside a letter. Anything else is a mistake.
pub fn decode(name: &str, bytes: &[u8], report: &mut Report) -> Option<Arc<Source>> {
    let refuse = |what: String| {
        let hint = "export the calendar again as an iCalendar file (.ics)";
        Message::mistake(format!("`{name}` {what}")).hint(hint)
    };
    if bytes.len() > LARGEST_FILE {
        let megabytes = bytes.len().div_ceil(1024 * 1024);
        let message = refuse(format!("is too big: {megabytes} MB, expected at most 10 MB"));
        report.say(message.hint("export only the dates of this school year"));
        return None;
    }
    let bytes = bytes.strip_prefix(b"\xEF\xBB\xBF").unwrap_or(bytes);
    let text = match std::str::from_utf8(bytes) {
        Ok(text) => Ok(text.to_owned()),
        Err(_) => String::from_utf8(unfold_bytes(bytes)),
    };
    match text {
        Ok(text) if !text.contains('\0') => Some(Source::shared(name, text)),
        _ => {
            report.say(refuse("is no text in UTF-8, as calendars are".to_owned()));
            None
        }
    }
}

/// Takes folds out before letters are made of the bytes.
fn unfold_bytes(bytes: &[u8]) -> Vec<u8> {
    let mut out = Vec::with_capacity(bytes.len());
    let mut rest = bytes;
    while let Some((&byte, after)) = rest.split_first() {
        let fold = [b"\r\n ".as_slice(), b"\r\n\t", b"\n ", b"\n\t"];
        if let Some(unfolded) = fold.iter().find_map(|f| rest.strip_prefix(*f)) {
            rest = unfolded;
        } else {
            out.push(byte);
            rest = after;
        }
    }
    out
}

/// A logical line, unfolded, with the place it begins at.
#[derive(Debug, Clone)]
pub struct Line {
    pub text: String,
    pub place: Place,
}

/// All lines that are not blank, unfolded; ended by CRLF, LF or CR.
pub fn unfold(source: &Arc<Source>) -> Vec<Line> {
    let mut lines: Vec<Line> = Vec::new();
    let mut at = 0;
    for physical in source.text.split_inclusive(['\n', '\r']) {
        let text = physical.trim_end_matches(['\n', '\r']);
        match (text.strip_prefix([' ', '\t']), lines.last_mut()) {
            (Some(folded), Some(line)) => line.text.push_str(folded),
            _ if text.trim().is_empty() => {}
            _ => {
                let place = Place { source: source.clone(), span: at..at + text.len() };
                lines.push(Line { text: text.to_owned(), place });
            }
        }
        at += physical.len();
    }
    lines
}

/// A property: its name in capitals, its parameters, its value.
#[derive(Debug, Clone)]
pub struct ContentLine {
    pub name: String,
    pub params: Vec<(String, String)>,
    pub value: String,
    pub place: Place,
}

impl ContentLine {
    /// The property of a line; what is none is a mistake.
    pub fn of(line: &Line, report: &mut Report) -> Option<ContentLine> {
        let end = line.text.find([':', ';']);
        let name = line.text[..end.unwrap_or(0)].to_ascii_uppercase();
        let valid = |c: char| c.is_ascii_alphanumeric() || matches!(c, '-' | '.' | '_');
        let well_named = !name.is_empty() && name.chars().all(valid);
        let whole = format!("{name}{}", &line.text[end.unwrap_or(0)..]);
        let parsed = Property::try_from(whole.as_str()).ok().filter(|_| well_named);
        let Some(property) = parsed else {
            report.say(
                Message::mistake("this line is no iCalendar property")
                    .at(&line.place)
                    .label("expected a name, a colon and a value")
                    .hint("export the calendar again; do not edit it by hand"),
            );
            return None;
        };
        let unquoted = |v: &str| v.trim_matches('"').to_owned();
        let param = |p: &::icalendar::parser::Parameter| {
            let value = p.val.as_ref().map(|v| unquoted(v.as_str())).unwrap_or_default();
            (p.key.as_str().to_ascii_uppercase(), value)
        };
        let params = property.params.iter().map(param).collect();
        let value = property.val.as_str().to_owned();
        Some(ContentLine { name, params, value, place: line.place.clone() })
    }
    /// The value of a parameter.
    pub fn param(&self, name: &str) -> Option<&str> {
        self.params.iter().find(|(key, _)| key == name).map(|(_, value)| value.as_str())
    }
    /// A mistake at this line.
    pub fn wrong(&self, text: impl Into<String>, expected: &str) -> Message {
        Message::mistake(text).at(&self.place).label(format!("expected {expected}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Source: RFC 5545 section 3.1, the example of folding.
    #[test]
    fn the_published_example_of_folding_is_unfolded() {
        for line_break in ["\r\n", "\n", "\r"] {
            let text =
                ["DESCRIPTION:This is a lo", " ng description", "  that exists on a long line."];
            let source = Source::shared("a.ics", text.join(line_break));
            let lines = unfold(&source);
            let found: Vec<&str> = lines.iter().map(|l| l.text.as_str()).collect();
            assert_eq!(
                found,
                ["DESCRIPTION:This is a long description that exists on a long line."]
            );
        }
    }

    #[test]
    fn a_fold_inside_a_letter_is_mended() {
        let bytes = b"\xEF\xBB\xBFSUMMARY:Fe\xC3\r\n \xAArias\r\n";
        let source = decode("a.ics", bytes, &mut Report::new()).expect("text");
        assert_eq!(unfold(&source)[0].text, "SUMMARY:Fe\u{EA}rias");
    }

    #[test]
    fn names_in_any_case_parameters_and_escapes_are_read() {
        let line = |text: &str| {
            let source = Source::shared("a.ics", text);
            ContentLine::of(&unfold(&source)[0], &mut Report::new())
        };
        let start =
            line("dtstart;tzid=\"Europe/London\";Value=date-time:20270111T090000").expect("one");
        assert_eq!((start.name.as_str(), start.param("TZID")), ("DTSTART", Some("Europe/London")));
        assert_eq!(start.value, "20270111T090000");
        let summary = line("summary:Fair\\, fête\\; a\\nb: c").expect("one");
        assert_eq!(summary.value, "Fair, fête; a\nb: c");
        for text in ["nonsense", "DTSTART 20270111", ":x", "DT START:20270111", "é:1"] {
            assert!(line(text).is_none(), "{text}");
        }
    }
}
