//! What a command says, where it says it, and how it ends.

use crate::report::{Message, Report};
use chrono::NaiveDate;
use serde::Serialize;
use std::io::{self, Write};
use std::process::ExitCode;

/// Why a command did not do what was asked.
#[derive(Debug)]
pub enum Failure {
    /// The user's files or wishes need attention: status 1.
    Attention(Report),
    /// The same, and everything has been said already: status 1.
    Said,
    /// Wrong usage, or something that is not built: status 2.
    Usage(String),
    /// A fault of ours: status 3.
    Ours(String),
}

impl From<Report> for Failure {
    fn from(report: Report) -> Failure {
        Failure::Attention(report)
    }
}

impl From<Message> for Failure {
    fn from(message: Message) -> Failure {
        Failure::Attention(Report::of(message))
    }
}

impl Failure {
    /// Says it on standard error; gives the exit status.
    pub fn tell(self) -> ExitCode {
        match self {
            Failure::Attention(report) => {
                note(report.to_text().trim_end());
                ExitCode::from(1)
            }
            Failure::Said => ExitCode::from(1),
            Failure::Usage(text) => {
                note(&format!("usage: {text}"));
                ExitCode::from(2)
            }
            Failure::Ours(text) => {
                note(&format!("a fault of ours: {text}"));
                note("nothing was printed; please report it with your plan.toml");
                ExitCode::from(3)
            }
        }
    }
}

/// Prints data on standard output. A reader that has gone away (`| head`) is no fault.
pub fn data(text: &str) {
    let mut out = io::stdout().lock();
    let end = if text.ends_with('\n') || text.is_empty() { "" } else { "\n" };
    write!(out, "{text}{end}").and_then(|()| out.flush()).ok();
}

/// Prints a value as JSON on standard output.
pub fn json<T: Serialize>(value: &T) -> Result<(), Failure> {
    let text = serde_json::to_string_pretty(value)
        .map_err(|error| Failure::Ours(format!("the answer cannot be written as JSON: {error}")))?;
    data(&text);
    Ok(())
}

/// Says something beside the data, on standard error.
pub fn note(text: &str) {
    writeln!(io::stderr().lock(), "{text}").ok();
}

/// Says warnings and notices; mistakes end the command.
pub fn say(report: &Report) {
    if !report.is_empty() {
        note(report.to_text().trim_end());
    }
}

/// "Mon 8 Mar"
pub fn short_date(date: NaiveDate) -> String {
    date.format("%a %-d %b").to_string()
}

/// "Monday 8 March"
pub fn weekday_and_date(date: NaiveDate) -> String {
    date.format("%A %-d %B").to_string()
}

/// "8 March"
pub fn day_and_month(date: NaiveDate) -> String {
    date.format("%-d %B").to_string()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn each_failure_ends_with_its_status() {
        let status = |failure: Failure| format!("{:?}", failure.tell());
        let code = |n: u8| format!("{:?}", ExitCode::from(n));
        assert_eq!(status(Failure::Ours("L09-X2: the answer differs".to_owned())), code(3));
        assert_eq!(status(Failure::Usage("no such lesson".to_owned())), code(2));
        assert_eq!(status(Message::mistake("a mistake").into()), code(1));
        assert_eq!(status(Failure::Said), code(1));
    }
}
