//! A marking as a teacher reads it.

use super::marks::{ItemMark, Marking, PupilMark, WrongPile};
use crate::exercise::patterns::pattern;
use crate::method::HouseStyle;
use crate::words::{count, join};
use std::fmt::Write;

/// What stands under every list of patterns.
pub const CAUTION: &str = "A pattern is a hint for teaching, not a diagnosis of a child. Ask to see \
     the working before you act on it.";

impl Marking {
    /// The marking in plain sentences, numbers written as the class writes them.
    pub fn to_text(&self, style: &HouseStyle) -> String {
        let mut out = format!("Lesson {}: {}\n", self.lesson, self.class.decision.in_words());
        writeln!(out, "{}", self.class.because).ok();
        if !self.groups.is_empty() {
            out.push_str("\nGroups\n");
            for group in &self.groups {
                writeln!(out, "  {}: {}", shows(&group.pattern), join(&group.pupils, "and")).ok();
                if let Some(known) = pattern(&group.pattern) {
                    writeln!(out, "    {}", known.teach).ok();
                }
            }
        }
        out.push_str("\nItems\n");
        for item in &self.items {
            out.push_str(&item_text(item, style));
        }
        let stuck: Vec<&PupilMark> = self.pupils.iter().filter(|p| p.right < p.of).collect();
        if !stuck.is_empty() {
            out.push_str("\nPupils with something wrong\n");
            for pupil in stuck {
                writeln!(out, "  {}", pupil_text(pupil)).ok();
            }
            writeln!(out, "\n{CAUTION}").ok();
        }
        out
    }
}

/// What a pattern shows; a story's wrong turn is known by its name only.
fn shows(name: &str) -> String {
    pattern(name).map_or_else(|| name.replace('-', " "), |p| p.shows.to_owned())
}

fn item_text(item: &ItemMark, style: &HouseStyle) -> String {
    let mut out = format!("  {}: {} right", item.id, item.right);
    for WrongPile { answer, count, patterns } in &item.wrong {
        let number = answer.parse().map_or_else(|_| answer.clone(), |n| style.number(n));
        let what = match patterns.as_slice() {
            [] => "fits no known pattern".to_owned(),
            many => {
                let shown: Vec<String> = many.iter().take(3).map(|name| shows(name)).collect();
                let more = many.len().saturating_sub(3);
                let rest = if more > 0 { format!(", or {more} others") } else { String::new() };
                format!("{}{rest}", shown.join(", or "))
            }
        };
        let times = if *count == 1 { "once".to_owned() } else { format!("{count} times") };
        write!(out, "\n    {number} ({times}): {what}").ok();
    }
    out + "\n"
}

fn pupil_text(pupil: &PupilMark) -> String {
    let mut out = format!("{}: {} of {} right.", pupil.pupil, pupil.right, pupil.of);
    let percent = |p: f64| format!("{:.0} %", p * 100.0);
    match (&pupil.named, pupil.patterns.as_slice()) {
        (Some(_), [first, ..]) => {
            let (likely, items) = (percent(first.probability), join(&first.items, "and"));
            write!(out, " Likely ({likely}): {} ({items}).", shows(&first.name)).ok();
            if !first.against.is_empty() {
                write!(out, " Not so on {}.", join(&first.against, "and")).ok();
            }
        }
        (None, []) => out.push_str(" No known pattern."),
        (_, some) => {
            let list: Vec<String> = some
                .iter()
                .map(|s| format!("{} ({})", shows(&s.name), percent(s.probability)))
                .collect();
            write!(out, " Perhaps: {}. Too little to name one.", list.join("; ")).ok();
            if let Some(next) = &pupil.ask_next {
                write!(out, " {next} would tell the first two apart.").ok();
            }
        }
    }
    if !pupil.stray.is_empty() {
        let strays = count(pupil.stray.len(), "answer");
        write!(out, " {strays} of no known pattern.").ok();
    }
    out
}
