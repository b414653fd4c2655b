//! Setting a dotted key, or taking it away.

use super::CannotEdit;
use super::text::{Cut, at_end, body_end, cut, line_end, line_start, lines_at, value_span};
use chrono::NaiveDate;
use serde_json::Value as Json;
use toml_edit::{Array, Document, DocumentMut, InlineTable, Item, Key, Table, TableLike, Value};

/// Sets a dotted key of the plan to a whole new value; null takes the key away. Texts that are
/// dates (`"2027-03-24"`) become dates. All else stays as it is.
pub fn set(text: &str, key: &str, value: &Json) -> Result<String, CannotEdit> {
    let path = Key::parse(key).map_err(|_| CannotEdit(format!("`{key}` is no key")))?;
    let value = if value.is_null() { None } else { Some(to_toml(key, value)?) };
    let rewritten = rewrite(text, &path, value.as_ref())?;
    let wanted = meaning(&rewritten)?;
    let cut = cut_in(text, &path, value.as_ref());
    let same = |new: &String| meaning(new).is_ok_and(|m| m == wanted);
    Ok(cut.filter(same).unwrap_or(rewritten))
}

fn meaning(text: &str) -> Result<toml::Table, CannotEdit> {
    text.parse().map_err(|e: toml::de::Error| CannotEdit(e.message().to_owned()))
}

fn to_toml(key: &str, value: &Json) -> Result<Value, CannotEdit> {
    let unfit = || CannotEdit(format!("`{key}`: {value} cannot stand in a plan"));
    Ok(match value {
        Json::Null => return Err(unfit()),
        Json::Bool(flag) => Value::from(*flag),
        Json::Number(number) => match number.as_i64() {
            Some(whole) => Value::from(whole),
            None => Value::from(number.as_f64().filter(|_| number.is_f64()).ok_or_else(unfit)?),
        },
        Json::String(text) => match text.parse::<NaiveDate>() {
            Ok(_) => text.parse::<Value>().map_err(|_| unfit())?,
            Err(_) => Value::from(text.as_str()),
        },
        Json::Array(list) => {
            let values: Result<Array, CannotEdit> = list.iter().map(|v| to_toml(key, v)).collect();
            Value::Array(values?)
        }
        Json::Object(entries) => {
            let mut table = InlineTable::new();
            for (name, value) in entries {
                table.insert(name, to_toml(key, value)?);
            }
            Value::InlineTable(table)
        }
    })
}

/// The change by the library: right in meaning whatever the form, but not always to the byte.
fn rewrite(text: &str, path: &[Key], value: Option<&Value>) -> Result<String, CannotEdit> {
    let mut document: DocumentMut = text.parse()?;
    let Some((last, parents)) = path.split_last() else { return Ok(text.to_owned()) };
    let mut table: &mut dyn TableLike = document.as_table_mut();
    let mut inline = false;
    for parent in parents {
        if value.is_none() && !table.contains_key(parent) {
            return Ok(text.to_owned());
        }
        let item = table.entry(parent).or_insert_with(toml_edit::table);
        inline = item.is_inline_table();
        table = item
            .as_table_like_mut()
            .ok_or_else(|| CannotEdit(format!("`{}` is no table", parent.get())))?;
    }
    match value {
        None => drop(table.remove(last)),
        Some(value) => {
            let mut value = value.clone();
            if let Some(Item::Value(old)) = table.get(last) {
                *value.decor_mut() = old.decor().clone();
            }
            if let (true, Some((_, Item::Value(end)))) = (inline, table.iter_mut().last()) {
                end.decor_mut().set_suffix(""); // no blank before the comma of an inline table
            }
            table.insert(last, Item::Value(value));
        }
    }
    Ok(document.to_string())
}

/// The change cut into the text, for the usual forms: a value of a table with a header.
fn cut_in(text: &str, path: &[Key], value: Option<&Value>) -> Option<String> {
    let document = Document::parse(text).ok()?;
    let (last, parents) = path.split_last()?;
    let shown = value.map(|v| v.to_string().trim().to_owned());
    let line = shown.as_ref().map(|value| format!("{} = {value}", last.display_repr()));
    let Some(table) = table_at(document.as_table(), parents)? else {
        let Some(line) = line else { return Some(text.to_owned()) };
        let names: Vec<_> = parents.iter().map(Key::display_repr).collect();
        let header = format!("[{}]", names.join("."));
        return Some(cut(text, vec![at_end(text, &[header, line])]));
    };
    let change = match (table.get(last), shown) {
        (None, None) => return Some(text.to_owned()),
        (None, Some(_)) => lines_at(text, body_end(text, table)?, &[line?]),
        (Some(_), Some(new)) => Cut::new(value_span(table, last)?, new),
        (Some(_), None) => {
            let from = line_start(text, table.key(last)?.span()?.start);
            Cut::new(from..line_end(text, value_span(table, last)?.end.saturating_sub(1)), "")
        }
    };
    Some(cut(text, vec![change]))
}

/// The table of these names: `Some(None)` where there is none yet, `None` where it is not
/// written with a header.
fn table_at<'a>(root: &'a Table, parents: &[Key]) -> Option<Option<&'a Table>> {
    let mut table = root;
    for parent in parents {
        match table.get(parent) {
            None => return Some(None),
            Some(Item::Table(inner)) if !inner.is_dotted() => table = inner,
            Some(_) => return None,
        }
    }
    if table.is_implicit() && !parents.is_empty() { Some(None) } else { Some(Some(table)) }
}
