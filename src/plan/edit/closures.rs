//! Closing days and opening them again.

use super::CannotEdit;
use super::text::{Cut, at_end, body_end, cut, line_end, line_start, lines_at, value_span};
use chrono::{Days, NaiveDate};
use std::ops::Range;
use toml_edit::{Document, DocumentMut, InlineTable, Item, Table, TableLike, Value};

/// Adds a `[[closure]]` after those that are there.
pub fn add_closure(
    text: &str,
    from: NaiveDate,
    to: NaiveDate,
    because: &str,
) -> Result<String, CannotEdit> {
    add(text, "closure", from, to, because)
}

/// Adds an `[[opening]]` after those that are there.
pub fn add_opening(
    text: &str,
    from: NaiveDate,
    to: NaiveDate,
    because: &str,
) -> Result<String, CannotEdit> {
    add(text, "opening", from, to, because)
}

fn add(
    text: &str,
    name: &str,
    from: NaiveDate,
    to: NaiveDate,
    because: &str,
) -> Result<String, CannotEdit> {
    let document = Document::parse(text)?;
    let mut entries = if from == to {
        vec![("on", date(from))]
    } else {
        vec![("from", date(from)), ("to", date(to))]
    };
    if !because.is_empty() {
        entries.push(("because", Value::from(because)));
    }
    if document.get(name).is_some_and(Item::is_value) {
        let mut document: DocumentMut = text.parse()?;
        let list = document.get_mut(name).and_then(Item::as_array_mut);
        let list = list.ok_or_else(|| CannotEdit(format!("`{name}` is no list of tables")))?;
        list.push(entries.into_iter().collect::<InlineTable>());
        return Ok(document.to_string());
    }
    let mut lines = vec![format!("[[{name}]]")];
    lines.extend(entries.iter().map(|(key, value)| format!("{key} = {value}")));
    let last = document.get(name).and_then(Item::as_array_of_tables).and_then(|a| a.iter().last());
    let change = match last.and_then(|table| body_end(text, table)) {
        Some(end) => {
            lines.insert(0, String::new());
            lines_at(text, end, &lines)
        }
        None => at_end(text, &lines),
    };
    Ok(cut(text, vec![change]))
}

fn date(date: NaiveDate) -> Value {
    let text = date.to_string();
    text.parse().unwrap_or_else(|_| Value::from(text))
}

/// Takes a date out of every `[[closure]]` that covers it, whole days or a part: a closure of
/// that day alone goes, a longer one is shortened or parted in two. `None` where the plan does
/// not close the date.
pub fn open_day(text: &str, day: NaiveDate) -> Result<Option<String>, CannotEdit> {
    let document = Document::parse(text)?;
    match document.get("closure") {
        Some(Item::ArrayOfTables(closures)) => {
            let mut cuts = Vec::new();
            for table in closures {
                cuts.extend(open_in(text, table, day).unwrap_or_default());
            }
            Ok(if cuts.is_empty() { None } else { Some(cut(text, cuts)) })
        }
        Some(Item::Value(Value::Array(_))) => open_in_list(text, day),
        _ => Ok(None),
    }
}

/// What is left of some days when one of them opens: the days before and those after.
struct Left {
    before: Option<(NaiveDate, NaiveDate)>,
    after: Option<(NaiveDate, NaiveDate)>,
}

fn left_of(table: &dyn TableLike, day: NaiveDate) -> Option<Left> {
    let read = |key: &str| -> Option<NaiveDate> {
        let written = table.get(key)?.as_datetime()?.date?;
        NaiveDate::from_ymd_opt(written.year.into(), written.month.into(), written.day.into())
    };
    let (from, to) = match read("on") {
        Some(on) => (on, on),
        None => (read("from")?, read("to")?),
    };
    if day < from || to < day {
        return None;
    }
    let (eve, morrow) = (day.checked_sub_days(Days::new(1))?, day.checked_add_days(Days::new(1))?);
    let some = |from, to| (from <= to).then_some((from, to));
    Some(Left { before: some(from, eve), after: some(morrow, to) })
}

/// The cuts that open a day in one closure; `None` where it does not cover the day.
fn open_in(text: &str, table: &Table, day: NaiveDate) -> Option<Vec<Cut>> {
    let left = left_of(table, day)?;
    let whole = line_start(text, table.span()?.start)..body_end(text, table)?;
    let redate = |key: &str, date: NaiveDate| {
        value_span(table, key).map(|span| Cut::new(span, date.to_string()))
    };
    Some(match (left.before, left.after) {
        (None, None) => vec![Cut::new(with_blank_line(text, whole), "")],
        (Some((_, to)), None) => vec![redate("to", to)?],
        (None, Some((from, _))) => vec![redate("from", from)?],
        (Some((_, to)), Some((from, _))) => {
            let mut second = moved(redate("from", from)?, whole.start);
            second.span.end = second.span.end.min(whole.len());
            let copy = cut(&text[whole.clone()], vec![second]);
            let lines: Vec<String> =
                std::iter::once("").chain(copy.lines()).map(str::to_owned).collect();
            vec![redate("to", to)?, lines_at(text, whole.end, &lines)]
        }
    })
}

/// The same cut in a text that begins later.
fn moved(cut: Cut, start: usize) -> Cut {
    Cut { span: cut.span.start - start..cut.span.end - start, new: cut.new }
}

/// The lines to take out, with the blank line after them where one stands before them too.
fn with_blank_line(text: &str, lines: Range<usize>) -> Range<usize> {
    let blank = |line: &str| line.trim().is_empty();
    let before = text[..lines.start].lines().next_back().is_none_or(blank);
    let next = line_end(text, lines.end);
    let after = lines.end < text.len() && blank(&text[lines.end..next]);
    let at_end = lines.end == text.len() && before && lines.start > 0;
    if before && after {
        lines.start..next
    } else if at_end {
        line_start(text, lines.start - 1)..lines.end
    } else {
        lines
    }
}

/// The same for closures in a list of inline tables, rewritten by the library.
fn open_in_list(text: &str, day: NaiveDate) -> Result<Option<String>, CannotEdit> {
    let mut document: DocumentMut = text.parse()?;
    let Some(list) = document.get_mut("closure").and_then(Item::as_array_mut) else {
        return Ok(None);
    };
    let mut touched = false;
    for index in (0..list.len()).rev() {
        let Some(table) = list.get(index).and_then(Value::as_inline_table) else { continue };
        let Some(left) = left_of(table, day) else { continue };
        touched = true;
        let pieces: Vec<InlineTable> = [left.after, left.before]
            .into_iter()
            .flatten()
            .map(|(from, to)| {
                let mut piece = table.clone();
                piece.insert("from", date(from));
                piece.insert("to", date(to));
                piece
            })
            .collect();
        let removed = list.remove(index);
        if let (true, Some(next)) = (pieces.is_empty() && index == 0, list.get_mut(0)) {
            *next.decor_mut() = removed.decor().clone();
        }
        for piece in pieces {
            list.insert(index, piece);
        }
    }
    Ok(touched.then(|| document.to_string()))
}
