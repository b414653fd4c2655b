//! The values of a TOML file with their places, free of the text they were read from.

use super::table::Entries;
use chrono::NaiveDate;
use std::ops::Range;
use toml::de::{DeTable, DeValue};
use toml::value::Datetime;

/// A value with its span in the text.
#[derive(Debug, Clone)]
pub struct Spanned<T> {
    /// The value.
    pub node: T,
    /// Bytes from the text's beginning.
    pub span: Range<usize>,
}

/// One value of a TOML file.
#[derive(Debug, Clone)]
pub enum Node {
    Text(String),
    /// `None` where it does not fit in 64 bits.
    Whole(Option<i64>),
    /// As written, without underscores.
    Decimal(String),
    Flag(bool),
    Date(Datetime),
    List(Vec<Spanned<Node>>),
    Table(Entries),
}

impl Node {
    /// The entries of a table just parsed.
    pub fn entries(table: &DeTable) -> Entries {
        let entry =
            |(key, value): (&toml::Spanned<toml::de::DeString>, &toml::Spanned<DeValue>)| {
                (key.get_ref().to_string(), (key.span(), Node::of(value)))
            };
        table.iter().map(entry).collect()
    }

    fn of(value: &toml::Spanned<DeValue>) -> Spanned<Node> {
        let node = match value.get_ref() {
            DeValue::String(text) => Node::Text(text.to_string()),
            DeValue::Integer(whole) => {
                let digits = whole.as_str().replace('_', "");
                Node::Whole(i64::from_str_radix(&digits, whole.radix()).ok())
            }
            DeValue::Float(decimal) => Node::Decimal(decimal.as_str().replace('_', "")),
            DeValue::Boolean(flag) => Node::Flag(*flag),
            DeValue::Datetime(datetime) => Node::Date(*datetime),
            DeValue::Array(list) => Node::List(list.iter().map(Node::of).collect()),
            DeValue::Table(table) => Node::Table(Node::entries(table)),
        };
        Spanned { node, span: value.span() }
    }

    /// What kind of value it is, as a message says it.
    pub fn kind(&self) -> &'static str {
        match self {
            Node::Text(_) => "text",
            Node::Whole(_) => "a whole number",
            Node::Decimal(_) => "a decimal number",
            Node::Flag(_) => "true or false",
            Node::Date(_) => "a date or time",
            Node::List(_) => "a list",
            Node::Table(_) => "a table",
        }
    }
    pub fn text(&self) -> Option<&str> {
        if let Node::Text(text) = self { Some(text) } else { None }
    }
    pub fn flag(&self) -> Option<bool> {
        if let Node::Flag(flag) = self { Some(*flag) } else { None }
    }
    /// A whole number that is not negative and fits in 32 bits.
    pub fn whole(&self) -> Option<u32> {
        if let Node::Whole(Some(n)) = self { u32::try_from(*n).ok() } else { None }
    }
    pub fn list(&self) -> Option<&[Spanned<Node>]> {
        if let Node::List(list) = self { Some(list) } else { None }
    }
    pub fn table(&self) -> Option<&Entries> {
        if let Node::Table(entries) = self { Some(entries) } else { None }
    }
    /// A date without a time.
    pub fn date(&self) -> Option<NaiveDate> {
        let Node::Date(Datetime { date: Some(date), time: None, .. }) = self else { return None };
        NaiveDate::from_ymd_opt(date.year.into(), date.month.into(), date.day.into())
    }
}
