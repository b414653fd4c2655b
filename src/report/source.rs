//! A text that was read, and places in it.

use std::ops::Range;
use std::sync::Arc;

/// A text with the name a person knows it by (`plan.toml`, `half-term.ics`).
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Source {
    /// The file's name as the user would say it.
    pub name: String,
    /// Its text.
    pub text: String,
}

impl Source {
    /// A source ready to be shared by the places in it.
    pub fn shared(name: impl Into<String>, text: impl Into<String>) -> Arc<Source> {
        Arc::new(Source { name: name.into(), text: text.into() })
    }
}

/// A span of bytes in a source: the smallest part a message is about.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Place {
    /// The text it lies in.
    pub source: Arc<Source>,
    /// Bytes from the text's beginning.
    pub span: Range<usize>,
}

impl Place {
    /// The span, kept inside the text and on character boundaries.
    pub fn span_in_text(&self) -> Range<usize> {
        let text = &self.source.text;
        let mut start = self.span.start.min(text.len());
        let mut end = self.span.end.clamp(start, text.len());
        while !text.is_char_boundary(start) {
            start -= 1;
        }
        while !text.is_char_boundary(end) {
            end += 1;
        }
        start..end
    }
    /// The place of one line, counted from 1; the last line if there are fewer.
    pub fn of_line(source: &Arc<Source>, line: usize) -> Place {
        let mut start = 0;
        for (index, text) in source.text.split_inclusive('\n').enumerate() {
            if index + 1 >= line {
                let end = start + text.trim_end().len();
                return Place { source: source.clone(), span: start..end };
            }
            start += text.len();
        }
        Place { source: source.clone(), span: start..start }
    }
    /// The line the place begins on, counted from 1.
    pub fn line(&self) -> usize {
        self.source.text[..self.span_in_text().start].matches('\n').count() + 1
    }
}
