//! The journal: what has happened, only ever appended to.

use crate::calendar::Clock;
use crate::report::{Message, Place, Report, Source};
use chrono::NaiveDate;
use serde::{Deserialize, Serialize};

/// Something that happened.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(tag = "what", rename_all = "kebab-case")]
pub enum Event {
    /// A first schedule was made.
    Planned,
    /// The schedule was changed.
    Rescheduled,
    /// A lesson was added to teach its skill once more.
    AddedToTeachAgain {
        /// The lesson.
        lesson: u32,
    },
    /// A lesson's pack was made, not as a draft.
    Printed {
        /// The lesson.
        lesson: u32,
        /// "A" or "B".
        version: String,
        /// The day it stood on.
        date: NaiveDate,
        /// When its period began.
        starts: Clock,
    },
    /// A lesson was not held.
    Lost {
        /// The lesson.
        lesson: u32,
        /// The day.
        date: NaiveDate,
        /// When its period began.
        starts: Clock,
    },
    /// A lesson's answers were read.
    Marked {
        /// The lesson.
        lesson: u32,
        /// "A" or "B".
        version: String,
    },
    /// Another item was asked for in place of one.
    Swapped {
        /// The lesson.
        lesson: u32,
        /// The item's id.
        item: String,
    },
    /// What the class showed so far changes no pattern's weight from here on.
    WeightsReset,
    /// A pupil's marks were removed everywhere; who it was is not kept.
    Forgotten,
    /// A change was taken back: all entries with its number count no more.
    Undone {
        /// The number of that change.
        undoes: u32,
    },
}

/// One entry.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
pub struct Entry {
    /// The number of the change (one run of a command) it belongs to.
    pub change: u32,
    /// The day it was made.
    pub on: NaiveDate,
    /// What happened.
    #[serde(flatten)]
    pub event: Event,
}

/// All entries, in order.
#[derive(Debug, Clone, Default, PartialEq, Eq, Serialize, Deserialize)]
pub struct Journal {
    /// The entries.
    #[serde(default, rename = "entry")]
    pub entries: Vec<Entry>,
}

const HEAD: &str = "# What has happened, written by rungwise and only ever appended to.\n";

impl Journal {
    /// Reads the journal's text; an empty one where there is none.
    ///
    /// # Errors
    /// It was edited into something that is no journal.
    pub fn read(text: Option<&str>) -> Result<Journal, Report> {
        let Some(text) = text else { return Ok(Journal::default()) };
        toml::from_str(text).map_err(|error| {
            let source = Source::shared("journal.toml", text);
            let place = Place { source, span: error.span().unwrap_or(0..0) };
            let what = error.message().trim().replace('\n', "; ");
            let message =
                Message::mistake(format!("journal.toml cannot be read: {what}")).at(&place);
            Report::of(message.hint("mend or remove this entry; the file is only ever appended to"))
        })
    }

    /// The text after these entries are appended to `text`.
    pub fn appended(text: Option<&str>, entries: &[Entry]) -> String {
        let mut out = text.map_or_else(|| HEAD.to_owned(), str::to_owned);
        for entry in entries {
            let body = toml::to_string(entry).expect("an entry is a plain table");
            out.push_str("\n[[entry]]\n");
            out.push_str(&body);
        }
        out
    }

    /// The number of the last change, 0 where there is none.
    pub fn last_change(&self) -> u32 {
        self.entries.iter().map(|e| e.change).max().unwrap_or(0)
    }

    /// The entries that count: those whose change was not taken back.
    pub fn standing(&self) -> impl Iterator<Item = &Entry> {
        let undone: Vec<u32> = self
            .entries
            .iter()
            .filter_map(|e| match e.event {
                Event::Undone { undoes } => Some(undoes),
                _ => None,
            })
            .collect();
        self.entries.iter().filter(move |e| {
            !undone.contains(&e.change) && !matches!(e.event, Event::Undone { .. })
        })
    }

    /// The last change that was not taken back and took none back itself.
    pub fn last_standing_change(&self) -> Option<u32> {
        let can_be_taken_back = |e: &&Entry| e.event != Event::Forgotten;
        self.standing().filter(can_be_taken_back).map(|e| e.change).max()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn entry(change: u32, event: Event) -> Entry {
        Entry { change, on: NaiveDate::from_ymd_opt(2027, 1, 11).expect("a day"), event }
    }

    #[test]
    fn what_is_appended_is_read_back_and_what_stood_stays() {
        let printed = Event::Printed {
            lesson: 7,
            version: "A".into(),
            date: NaiveDate::from_ymd_opt(2027, 1, 19).expect("a day"),
            starts: "09:10".parse().expect("a time"),
        };
        let first = Journal::appended(None, &[entry(1, Event::Planned)]);
        let both = Journal::appended(
            Some(&first),
            &[entry(2, printed), entry(3, Event::Undone { undoes: 2 })],
        );
        assert!(both.starts_with(&first));
        let journal = Journal::read(Some(&both)).expect("it reads");
        assert_eq!(journal.entries.len(), 3);
        assert_eq!(journal.last_change(), 3);
        assert_eq!(journal.last_standing_change(), Some(1));
    }

    #[test]
    fn a_broken_journal_is_named_with_its_place() {
        let broken = "[[entry]]\nchange = 1\non = \"2027-01-11\"\nwhat = \"danced\"\n";
        let text = Journal::read(Some(broken)).expect_err("refused").to_text();
        assert!(text.contains("journal.toml cannot be read") && text.contains("danced"), "{text}");
    }
}
