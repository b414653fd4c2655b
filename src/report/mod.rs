//! What the tool has to say about a file: messages with places in it and a way out.
//!
//! Mistakes are data first: whoever reads a file collects every mistake of it in a [`Report`],
//! each with the smallest span at fault, and only [`Report::to_text`] makes sentences of them.

mod nearest;
mod node;
mod source;
mod table;

pub use nearest::nearest;
pub use source::{Place, Source};
pub use table::{Spot, Table};

use crate::words::grouped;
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use std::collections::BTreeMap;
use std::sync::Arc;

/// How much a message matters.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Severity {
    /// The file cannot be used until this is mended: exit status 1.
    Mistake,
    /// It can be used, but it may not mean what was wanted.
    Warning,
    /// Worth knowing; nothing need be done.
    Notice,
}

/// One thing to say, with where it is and what to do.
#[derive(Debug, Clone)]
pub struct Message {
    /// How much it matters.
    pub severity: Severity,
    /// Lower case, no full stop; values and keys in backticks.
    pub text: String,
    /// Where in a file, if in one.
    pub place: Option<Place>,
    /// What was expected there, printed beside the place.
    pub label: Option<String>,
    /// What to type or do.
    pub hint: Option<String>,
}

impl Message {
    /// A message of this severity without a place.
    pub fn new(severity: Severity, text: impl Into<String>) -> Self {
        Message { severity, text: text.into(), place: None, label: None, hint: None }
    }
    /// A mistake: the file cannot be used until it is mended.
    pub fn mistake(text: impl Into<String>) -> Self {
        Self::new(Severity::Mistake, text)
    }
    /// A warning: usable, but perhaps not what was wanted.
    pub fn warning(text: impl Into<String>) -> Self {
        Self::new(Severity::Warning, text)
    }
    /// A notice: nothing need be done.
    pub fn notice(text: impl Into<String>) -> Self {
        Self::new(Severity::Notice, text)
    }
    /// Puts the message at a place in a file.
    pub fn at(mut self, place: &Place) -> Self {
        self.place = Some(place.clone());
        self
    }
    /// Says beside the place what was expected there.
    pub fn label(mut self, label: impl Into<String>) -> Self {
        self.label = Some(label.into());
        self
    }
    /// Says what to type or do.
    pub fn hint(mut self, hint: impl Into<String>) -> Self {
        self.hint = Some(hint.into());
        self
    }
    /// Adds "did you mean `x`?" where one of `known` is near `word`.
    pub fn meant<'a>(self, word: &str, known: impl IntoIterator<Item = &'a str>) -> Self {
        match nearest(word, known) {
            Some(near) => self.hint(format!("did you mean `{near}`?")),
            None => self,
        }
    }
}

/// All messages about what was read, in the order they were found.
#[derive(Debug, Clone, Default)]
pub struct Report {
    messages: Vec<Message>,
}

impl Report {
    /// An empty report.
    pub fn new() -> Self {
        Self::default()
    }
    /// A report of this one message.
    pub fn of(message: Message) -> Self {
        Report { messages: vec![message] }
    }
    /// Adds a message.
    pub fn say(&mut self, message: Message) {
        self.messages.push(message);
    }
    /// Adds all messages of another report.
    pub fn append(&mut self, other: Report) {
        self.messages.extend(other.messages);
    }
    /// The messages, in the order they were found.
    pub fn messages(&self) -> &[Message] {
        &self.messages
    }
    /// Puts a name in the place of `DIR` in every hint, so that it can be typed as it stands.
    pub fn in_dir(mut self, dir: &str) -> Self {
        for hint in self.messages.iter_mut().filter_map(|m| m.hint.as_mut()) {
            *hint = hint.replace(" DIR", &format!(" {dir}"));
        }
        self
    }
    /// The same with at most so many messages of a kind, and after them how many more there were. Of
    /// one kind are those that differ only in numbers and in what stands in backticks.
    pub fn capped(self, most: usize) -> Self {
        let mut seen: BTreeMap<(Severity, String), usize> = BTreeMap::new();
        let kind = |m: &Message| (m.severity, kind_of(&m.text));
        for message in &self.messages {
            *seen.entry(kind(message)).or_insert(0) += 1;
        }
        let all = seen.clone();
        seen.clear();
        let mut messages = Vec::new();
        for message in self.messages {
            let own = kind(&message);
            let said = seen.entry(own.clone()).or_insert(0);
            *said += 1;
            if *said > most {
                continue;
            }
            let (last, more) = (*said == most, all[&own].saturating_sub(most));
            let severity = message.severity;
            messages.push(message);
            if last && more > 0 {
                messages.push(Message::new(
                    severity,
                    format!("and {} more of this kind", grouped(more)),
                ));
            }
        }
        Report { messages }
    }
    /// Whether nothing was said.
    pub fn is_empty(&self) -> bool {
        self.messages.is_empty()
    }
    /// Whether any message is a mistake.
    pub fn has_mistakes(&self) -> bool {
        self.messages.iter().any(|m| m.severity == Severity::Mistake)
    }
    /// The messages as a person reads them, with the lines of the files they speak of.
    pub fn to_text(&self) -> String {
        let renderer = Renderer::plain();
        self.messages.iter().map(|m| render(&renderer, m) + "\n").collect()
    }
}

/// A message's text without numbers and what stands in backticks.
fn kind_of(text: &str) -> String {
    let outside = text.split('`').step_by(2);
    outside.flat_map(str::chars).filter(|c| !c.is_ascii_digit()).collect()
}

fn render(renderer: &Renderer, message: &Message) -> String {
    let level = match message.severity {
        Severity::Mistake => Level::ERROR.with_name("mistake"),
        Severity::Warning => Level::WARNING,
        Severity::Notice => Level::NOTE.with_name("notice"),
    };
    let title = level.primary_title(message.text.as_str());
    let mut group = match &message.place {
        Some(place) => {
            let Source { name, text } = place.source.as_ref();
            let mut mark = AnnotationKind::Primary.span(place.span_in_text());
            if let Some(label) = &message.label {
                mark = mark.label(label.as_str());
            }
            title.element(
                Snippet::source(text.as_str()).path(name.as_str()).fold(true).annotation(mark),
            )
        }
        None => Group::with_title(title),
    };
    if let Some(hint) = &message.hint {
        group = group.element(Level::HELP.with_name("hint").message(hint.as_str()));
    }
    renderer.render(&[group])
}

/// A source kept alive by every place in it.
pub type SharedSource = Arc<Source>;
