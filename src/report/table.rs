//! A table of a TOML file, read key by key so that every mistake is found at once.
//!
//! serde stops at the first mistake; here each `take` that fails says so in the [`Report`] with
//! its place and goes on. [`Table::finish`] names the keys nobody asked for.

use super::node::{Node, Spanned};
use super::{Message, Place, Report, Source, nearest};
use crate::words;
use chrono::NaiveDate;
use indexmap::{IndexMap, IndexSet};
use std::cell::RefCell;
use std::fmt::Display;
use std::ops::{Range, RangeInclusive};
use std::sync::Arc;
use toml::de::DeTable;

/// A value with the place it stands at.
#[derive(Debug, Clone)]
pub struct Spot<T> {
    /// What stands there.
    pub value: T,
    /// Where.
    pub place: Place,
}

impl<T> Spot<T> {
    /// The same place with another value.
    pub fn with<U>(&self, value: U) -> Spot<U> {
        Spot { value, place: self.place.clone() }
    }
}

/// The entries of a table in the file's order: the key's span and the value with its own.
pub(super) type Entries = IndexMap<String, (Range<usize>, Spanned<Node>)>;

/// One table of a TOML text, with its place and the keys asked for so far.
#[derive(Debug)]
pub struct Table {
    source: Arc<Source>,
    name: String,
    inner: Entries,
    place: Place,
    asked: RefCell<Vec<String>>,
}

impl Table {
    /// Reads a whole file; faults of syntax go into the report, what could be read is returned.
    pub fn read(source: &Arc<Source>, report: &mut Report) -> Table {
        let (root, faults) = DeTable::parse_recoverable(&source.text);
        for fault in faults {
            let span = fault.span().unwrap_or(0..0);
            let place = Place { source: source.clone(), span };
            let text = fault.message().trim().replace('\n', "; ");
            let message = Message::mistake(format!("not valid TOML: {text}")).at(&place);
            report.say(match remedy(&text) {
                Some(remedy) => message.hint(remedy),
                None => message,
            });
        }
        let place = Place { source: source.clone(), span: root.span() };
        Table::new(source, String::new(), Node::entries(root.get_ref()), place)
    }

    fn new(source: &Arc<Source>, name: String, inner: Entries, place: Place) -> Table {
        Table { source: source.clone(), name, inner, place, asked: RefCell::default() }
    }

    /// Where the table stands.
    pub fn place(&self) -> &Place {
        &self.place
    }
    /// The dotted name of the table, empty for the whole file.
    pub fn name(&self) -> &str {
        &self.name
    }
    /// The dotted name of a key in this table.
    pub fn path(&self, key: &str) -> String {
        if self.name.is_empty() { key.to_owned() } else { format!("{}.{key}", self.name) }
    }
    /// Whether the key stands here (without asking for it).
    pub fn has(&self, key: &str) -> bool {
        self.inner.get(key).is_some()
    }
    /// All keys in the file's order, with their places; none is thereby asked for.
    pub fn keys(&self) -> Vec<Spot<String>> {
        let at = |span: &Range<usize>| Place { source: self.source.clone(), span: span.clone() };
        self.inner
            .iter()
            .map(|(key, (span, _))| Spot { value: key.clone(), place: at(span) })
            .collect()
    }
    /// The place of a key's value, or of the table where the key is absent.
    pub fn place_of(&self, key: &str) -> Place {
        match self.inner.get(key) {
            Some((_, value)) => self.at(value),
            None => self.place.clone(),
        }
    }

    fn at(&self, value: &Spanned<Node>) -> Place {
        Place { source: self.source.clone(), span: value.span.clone() }
    }
    fn get(&self, key: &str) -> Option<&Spanned<Node>> {
        self.asked.borrow_mut().push(key.to_owned());
        self.inner.get(key).map(|(_, value)| value)
    }
    fn wrong(&self, key: &str, value: &Spanned<Node>, expected: &str, report: &mut Report) {
        let place = self.at(value);
        if report.messages().iter().any(|m| m.place.as_ref() == Some(&place)) {
            return; // what stands there is no TOML, which has been said
        }
        let found = value.node.kind();
        let text = format!("`{}`: expected {expected}, found {found}", self.path(key));
        report.say(Message::mistake(text).at(&place).label(format!("expected {expected}")));
    }

    fn take<T>(
        &self,
        key: &str,
        expected: &str,
        report: &mut Report,
        read: impl Fn(&Node) -> Option<T>,
    ) -> Option<Spot<T>> {
        let value = self.get(key)?;
        match read(&value.node) {
            Some(read) => Some(Spot { value: read, place: self.at(value) }),
            None => {
                self.wrong(key, value, expected, report);
                None
            }
        }
    }

    /// A text.
    pub fn text(&self, key: &str, report: &mut Report) -> Option<Spot<String>> {
        self.take(key, "text in quotes", report, |v| v.text().map(str::to_owned))
    }
    /// A yes or no.
    pub fn flag(&self, key: &str, report: &mut Report) -> Option<Spot<bool>> {
        self.take(key, "true or false", report, Node::flag)
    }
    /// A date without time.
    pub fn date(&self, key: &str, report: &mut Report) -> Option<Spot<NaiveDate>> {
        self.take(key, "a date such as 2027-01-11", report, Node::date)
    }
    /// Whether the key holds a date (rather than, say, a text).
    pub fn holds_date(&self, key: &str) -> bool {
        self.inner.get(key).is_some_and(|(_, v)| matches!(v.node, Node::Date(_)))
    }
    /// A whole number within a range; outside it is a mistake that names both ends.
    pub fn whole<N>(
        &self,
        key: &str,
        range: RangeInclusive<N>,
        report: &mut Report,
    ) -> Option<Spot<N>>
    where
        N: TryFrom<i64> + PartialOrd + Display + Copy,
    {
        let expected = format!("a whole number from {} to {}", range.start(), range.end());
        let value = self.get(key)?;
        match &value.node {
            Node::Whole(read) => match read.and_then(|n| N::try_from(n).ok()) {
                Some(n) if range.contains(&n) => Some(Spot { value: n, place: self.at(value) }),
                _ => {
                    let text = format!("`{}` is out of range: expected {expected}", self.path(key));
                    let place = self.at(value);
                    report.say(Message::mistake(text).at(&place).label(expected));
                    None
                }
            },
            _ => {
                self.wrong(key, value, &expected, report);
                None
            }
        }
    }
    /// A number of at most two decimals in hundredths (`1.2` is 120), within a range of hundredths.
    pub fn hundredths(
        &self,
        key: &str,
        range: RangeInclusive<u32>,
        report: &mut Report,
    ) -> Option<Spot<u32>> {
        let show = |n: u32| format!("{}.{:02}", n / 100, n % 100);
        let expected = format!("a number from {} to {}", show(*range.start()), show(*range.end()));
        self.take(key, &expected, report, |v| {
            let text = match v {
                Node::Decimal(text) => text.clone(),
                Node::Whole(Some(whole)) => whole.to_string(),
                _ => return None,
            };
            let (whole, part) = text.split_once('.').unwrap_or((&text, ""));
            let part = format!("{part:0<2}");
            let (part, rest) = part.split_at_checked(2)?;
            let rest_is_zero = rest.chars().all(|c| c == '0');
            let n = whole.parse::<u32>().ok()?.checked_mul(100)?.checked_add(part.parse().ok()?)?;
            (rest_is_zero && range.contains(&n)).then_some(n)
        })
    }
    /// A list of texts; an entry of another kind is a mistake, the others are kept.
    pub fn texts(&self, key: &str, report: &mut Report) -> Option<Vec<Spot<String>>> {
        let value = self.get(key)?;
        let Some(array) = value.node.list() else {
            self.wrong(key, value, "a list of texts, such as [\"a\", \"b\"]", report);
            return None;
        };
        let mut texts = Vec::new();
        for entry in array.iter() {
            match entry.node.text() {
                Some(text) => texts.push(Spot { value: text.to_owned(), place: self.at(entry) }),
                None => self.wrong(key, entry, "text in quotes", report),
            }
        }
        Some(texts)
    }
    /// A list of whole numbers within a range.
    pub fn wholes(
        &self,
        key: &str,
        range: RangeInclusive<u32>,
        report: &mut Report,
    ) -> Option<Vec<Spot<u32>>> {
        let expected = format!("whole numbers from {} to {}", range.start(), range.end());
        let value = self.get(key)?;
        let Some(array) = value.node.list() else {
            self.wrong(key, value, &format!("a list of {expected}"), report);
            return None;
        };
        let mut numbers = Vec::new();
        for entry in array.iter() {
            let number = entry.node.whole();
            match number.filter(|n| range.contains(n)) {
                Some(n) => numbers.push(Spot { value: n, place: self.at(entry) }),
                None => self.wrong(key, entry, &expected, report),
            }
        }
        Some(numbers)
    }
    /// One of a list of words; another is a mistake with the nearest word as its hint.
    pub fn choice<T: Copy>(
        &self,
        key: &str,
        choices: &[(&str, T)],
        report: &mut Report,
    ) -> Option<Spot<T>> {
        let text = self.text(key, report)?;
        let chosen = pick(&self.path(key), &text, choices, report)?;
        Some(text.with(chosen))
    }
    /// A list of such words.
    pub fn choices<T: Copy>(
        &self,
        key: &str,
        choices: &[(&str, T)],
        report: &mut Report,
    ) -> Option<Vec<Spot<T>>> {
        let texts = self.texts(key, report)?;
        let path = self.path(key);
        let picked = texts.iter().filter_map(|t| Some(t.with(pick(&path, t, choices, report)?)));
        Some(picked.collect())
    }
    /// A table in this table.
    pub fn table(&self, key: &str, report: &mut Report) -> Option<Table> {
        let value = self.get(key)?;
        match value.node.table() {
            Some(inner) => Some(self.inner_table(self.path(key), inner, self.at(value))),
            None => {
                self.wrong(key, value, &format!("a table, `[{}]`", self.path(key)), report);
                None
            }
        }
    }
    /// The tables of `[[key]]` or of a list of inline tables; empty where there is none.
    pub fn tables(&self, key: &str, report: &mut Report) -> Vec<Table> {
        let Some(value) = self.get(key) else { return Vec::new() };
        let path = self.path(key);
        let Some(array) = value.node.list() else {
            self.wrong(key, value, &format!("tables, each `[[{path}]]`"), report);
            return Vec::new();
        };
        let mut tables = Vec::new();
        for entry in array.iter() {
            match entry.node.table() {
                Some(inner) => tables.push(self.inner_table(path.clone(), inner, self.at(entry))),
                None => self.wrong(key, entry, &format!("a table, `[[{path}]]`"), report),
            }
        }
        tables
    }

    fn inner_table(&self, name: String, inner: &Entries, place: Place) -> Table {
        Table::new(&self.source, name, inner.clone(), place)
    }

    /// Says that a key is needed and absent.
    pub fn missing(&self, key: &str, example: &str, report: &mut Report) {
        let text = format!("`{}` is missing", self.path(key));
        report.say(Message::mistake(text).at(&self.place).hint(format!("add `{example}`")));
    }

    /// Names every key that was not asked for, with the nearest one that was.
    pub fn finish(self, report: &mut Report) {
        let asked = self.asked.borrow();
        for key in self.keys() {
            if !asked.contains(&key.value) {
                let text = format!("unknown key `{}`", self.path(&key.value));
                let message = Message::mistake(text).at(&key.place);
                let near = nearest(&key.value, asked.iter().map(String::as_str));
                report.say(message.hint(match near {
                    Some(near) => format!("did you mean `{near}`?"),
                    None => format!("keys known here: {}", words::and(&once(&asked))),
                }));
            }
        }
    }
}

/// What to do about a fault of syntax, where the parser's words leave that open.
fn remedy(fault: &str) -> Option<&'static str> {
    let begins = |what: &str| fault.starts_with(what);
    if begins("invalid date") {
        Some("write a day that exists as year-month-day: 2027-01-11")
    } else if begins("string values must be quoted") {
        Some("put text in quotes; dates and numbers stand without: 2027-01-11")
    } else if begins("duplicate key") {
        Some("keep one of the two; a table that may stand several times is written `[[name]]`")
    } else if begins("invalid basic string") {
        Some("close the quotes on the same line")
    } else {
        None
    }
}

/// Each name once, in order.
fn once(names: &[String]) -> Vec<&str> {
    let names: IndexSet<&str> = names.iter().map(String::as_str).collect();
    names.into_iter().collect()
}

fn pick<T: Copy>(
    path: &str,
    text: &Spot<String>,
    choices: &[(&str, T)],
    report: &mut Report,
) -> Option<T> {
    let found = choices.iter().find(|(name, _)| *name == text.value).map(|(_, value)| *value);
    if found.is_none() {
        let names: Vec<&str> = choices.iter().map(|(name, _)| *name).collect();
        let expected = words::or(&names);
        let message = Message::mistake(format!("`{path}`: unknown value `{}`", text.value))
            .at(&text.place)
            .label(format!("expected {expected}"));
        report.say(message.meant(&text.value, names.iter().copied()));
    }
    found
}

#[cfg(test)]
mod tests {
    use super::*;

    fn read(text: &str) -> (Table, Report) {
        let mut report = Report::new();
        let table = Table::read(&Source::shared("plan.toml", text), &mut report);
        (table, report)
    }

    #[test]
    fn every_mistake_of_a_file_is_found_at_once() {
        let (table, mut report) = read("pace = \"fast\"\nstarst = 2027-01-11\npupils = 900\n");
        assert!(table.hundredths("pace", 50..=300, &mut report).is_none());
        assert!(table.date("starts", &mut report).is_none());
        assert!(table.whole("pupils", 1..=60, &mut report).is_none());
        table.finish(&mut report);
        let text = report.to_text();
        assert!(text.contains("`pace`: expected a number from 0.50 to 3.00, found text"), "{text}");
        assert!(text.contains("`pupils` is out of range"), "{text}");
        assert!(text.contains("unknown key `starst`") && text.contains("did you mean `starts`?"));
        assert_eq!(report.messages().len(), 3);
    }

    #[test]
    fn a_day_that_does_not_exist_has_its_place() {
        let (_, report) = read("starts = 2027-02-30\n");
        let text = report.to_text();
        assert!(report.has_mistakes() && text.contains("plan.toml:1"), "{text}");
    }

    #[test]
    fn decimals_are_read_exactly() {
        let (table, mut report) = read("a = 1.2\nb = 1\nc = 0.85\nd = 1.234\n");
        let mut value = |k| table.hundredths(k, 0..=1000, &mut report).map(|s| s.value);
        assert_eq!(
            [value("a"), value("b"), value("c"), value("d")],
            [Some(120), Some(100), Some(85), None]
        );
    }
}
