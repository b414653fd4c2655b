//! Values that plans hold in several places: dates, times of day, days from–to, files, products.

use crate::calendar::Clock;
use crate::report::{Message, Report, Spot, Table};
use chrono::NaiveDate;

/// A date; one in quotes is a mistake that says how to write it.
pub fn date(table: &Table, key: &str, report: &mut Report) -> Option<Spot<NaiveDate>> {
    match quoted(table, key) {
        Some(text) => {
            say_unquoted(&table.path(key), &text, report);
            None
        }
        None => table.date(key, report),
    }
}

/// The text of a key, if it is a text.
fn quoted(table: &Table, key: &str) -> Option<Spot<String>> {
    table.has(key).then(|| table.text(key, &mut Report::new())).flatten()
}

pub fn say_unquoted(path: &str, text: &Spot<String>, report: &mut Report) {
    let message = Message::mistake(format!("`{path}`: expected a date, found text"))
        .at(&text.place)
        .label("expected a date such as 2027-01-11");
    report.say(match text.value.parse::<NaiveDate>() {
        Ok(date) => message.hint(format!("write it without quotes: {date}")),
        Err(_) => message.hint("write year, month and day without quotes: 2027-01-11"),
    });
}

/// A time of day in quotes.
pub fn clock(table: &Table, key: &str, report: &mut Report) -> Option<Spot<Clock>> {
    let text = table.text(key, report)?;
    match text.value.parse::<Clock>() {
        Ok(clock) => Some(text.with(clock)),
        Err(expected) => {
            let message = Message::mistake(format!("`{}`: {expected}", table.path(key)));
            report.say(message.at(&text.place).label("expected hours and minutes, 00:00 to 24:00"));
            None
        }
    }
}

/// `on`, or `from` and `to`: the first and the last day, with the place to speak of.
pub fn days(table: &Table, report: &mut Report) -> Option<Spot<(NaiveDate, NaiveDate)>> {
    let on = date(table, "on", report);
    let from = date(table, "from", report);
    let to = date(table, "to", report);
    let name = table.name().to_owned();
    if table.has("on") && (table.has("from") || table.has("to")) {
        let message = Message::mistake(format!("`{name}` has `on` and also `from` or `to`"));
        let message = message.at(&table.place_of("on"));
        report.say(message.hint("keep `on` for one day, or `from` and `to` for several"));
        return None;
    }
    for (given, absent) in [("from", "to"), ("to", "from")] {
        if table.has(given) && !table.has(absent) {
            let message = Message::mistake(format!("`{name}` has `{given}` but not `{absent}`"));
            let message = message.at(&table.place_of(given));
            report.say(message.hint(format!("add `{absent}`, or write `on` for a single day")));
        }
    }
    if !["on", "from", "to"].iter().any(|key| table.has(key)) {
        let message =
            Message::mistake(format!("`{name}` does not say which day")).at(table.place());
        report.say(message.hint("add `on = 2027-01-11`, or `from` and `to`"));
    }
    if let Some(on) = on {
        return Some(on.with((on.value, on.value)));
    }
    let (from, to) = (from?, to?);
    if to.value < from.value {
        let text = format!("`{name}` ends on {} before it starts on {}", to.value, from.value);
        let message = Message::mistake(text).at(&to.place);
        let label = format!("expected {} or later", from.value);
        report.say(message.label(label).hint("change `to`, or swap the two dates"));
        return None;
    }
    Some(from.with((from.value, to.value)))
}

/// A file must lie beside the plan, or in a folder there.
pub fn check_beside(file: &Spot<String>, report: &mut Report) {
    let name = file.value.as_str();
    let outside = name.is_empty()
        || name.starts_with(['/', '\\', '~'])
        || name.split(['/', '\\']).any(|part| part == "..")
        || name.chars().nth(1) == Some(':');
    if outside {
        let message = Message::mistake(format!("`{name}` does not lie beside the plan"))
            .at(&file.place)
            .label("expected the name of a file in the class's folder");
        report.say(message.hint("copy the file into the class's folder and write its name only"));
    }
}

/// A product of two whole numbers of at most six digits: `3406 x 207`, also with `×` or `*`.
pub fn product(text: &str) -> Option<(u64, u64)> {
    let factor = |text: &str| -> Option<u64> {
        let digits: String =
            text.trim().chars().filter(|c| !matches!(c, ',' | ' ' | '\u{202F}')).collect();
        let fits = (1..=6).contains(&digits.len()) && digits.bytes().all(|b| b.is_ascii_digit());
        digits.parse().ok().filter(|_| fits)
    };
    let (a, b) = text.split_once(['x', 'X', '×', '*', '·'])?;
    Some((factor(a)?, factor(b)?))
}

#[cfg(test)]
mod tests {
    use super::product;

    #[test]
    fn a_product_is_read_however_it_is_written() {
        for text in ["3406 x 207", "3406x207", "3406 × 207", "3,406 * 207", " 3406 X 0207 "] {
            assert_eq!(product(text), Some((3406, 207)), "{text}");
        }
        for text in ["3406", "3406 x", "x 207", "-3 x 4", "3.5 x 2", "1234567 x 2", "2 x 3 x 4"] {
            assert_eq!(product(text), None, "{text}");
        }
    }
}
