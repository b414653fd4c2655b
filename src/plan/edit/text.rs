//! Cutting into a text: lines, line ends, and several changes at once.

use std::ops::Range;
use toml_edit::{Item, Table};

/// What takes the place of a span.
pub struct Cut {
    pub span: Range<usize>,
    pub new: String,
}

impl Cut {
    pub fn new(span: Range<usize>, new: impl Into<String>) -> Cut {
        Cut { span, new: new.into() }
    }
}

/// The text after all cuts, none of which overlap.
pub fn cut(text: &str, mut cuts: Vec<Cut>) -> String {
    cuts.sort_by_key(|cut| (cut.span.start, cut.span.end));
    let mut out = String::with_capacity(text.len());
    let mut at = 0;
    for Cut { span, new } in cuts {
        out.push_str(&text[at..span.start]);
        out.push_str(&new);
        at = span.end;
    }
    out + &text[at..]
}

/// Where the line that holds a byte begins.
pub fn line_start(text: &str, at: usize) -> usize {
    text[..at].rfind('\n').map_or(0, |n| n + 1)
}

/// Where the line after the one that holds a byte begins, or the text ends.
pub fn line_end(text: &str, at: usize) -> usize {
    text[at..].find('\n').map_or(text.len(), |n| at + n + 1)
}

/// The line end this file uses.
pub fn line_break(text: &str) -> &'static str {
    if text.contains("\r\n") { "\r\n" } else { "\n" }
}

/// Lines to put where a line begins (or at the text's end, closing its last line first).
pub fn lines_at(text: &str, at: usize, lines: &[String]) -> Cut {
    let line_break = line_break(text);
    let open = at > 0 && !text[..at].ends_with('\n');
    let mut new = if open { line_break.to_owned() } else { String::new() };
    for line in lines {
        new.push_str(line);
        new.push_str(line_break);
    }
    Cut::new(at..at, new)
}

/// A new table at the text's end, after a blank line.
pub fn at_end(text: &str, lines: &[String]) -> Cut {
    let blank_before = text.is_empty() || text.ends_with("\n\n") || text.ends_with("\n\r\n");
    let mut all = if blank_before { vec![] } else { vec![String::new()] };
    all.extend_from_slice(lines);
    lines_at(text, text.len(), &all)
}

/// Where the line after the last of a table's header and own keys begins; `None` for a table
/// without a header of its own.
pub fn body_end(text: &str, table: &Table) -> Option<usize> {
    let header = table.span().filter(|_| !table.is_implicit() && !table.is_dotted())?.end;
    let values = table.iter().filter(|(_, item)| item.is_value()).filter_map(|(_, i)| i.span());
    let last = values.map(|span| span.end).chain([header]).max()?;
    Some(line_end(text, last.saturating_sub(1)))
}

/// The value of a key in a table, where it is a plain value.
pub fn value_span(table: &Table, key: &str) -> Option<Range<usize>> {
    table.get(key).filter(|item| item.is_value()).and_then(Item::span)
}
