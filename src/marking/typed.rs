//! Answers typed at the terminal, pupil by pupil, a line an answer.
//!
//! The reader is a function over lines: it says what it asks next and takes what was typed; where
//! the lines come from is not its business.

use super::answers::{Answers, TICK, marked_items};
use super::looks::Odd;
use super::written::{answer, is_absent};
use crate::exercise::Item;
use crate::lesson::Pack;
use indexmap::IndexMap;
use std::collections::BTreeSet;

/// What to type, for the head of the questions.
pub const HOW_TO_TYPE: &str = "Type each answer and press Enter; Enter alone: not answered.\n  \
     .  right    *  all the rest right    -  absent    >  leave this pupil as before\n  \
     <  or  back  one step back    stop  the end";

/// Answers being typed.
pub struct Typed<'a> {
    items: Vec<&'a Item>,
    pupils: &'a [String],
    /// How many answers stand: pupils times items, row by row.
    given: Vec<Option<String>>,
    /// How many answers stood before each step: one back returns to there.
    steps: Vec<usize>,
    /// Pupils left as they were before.
    left: BTreeSet<usize>,
    /// Pupils who were not there.
    absent: BTreeSet<usize>,
    stopped: bool,
}

impl<'a> Typed<'a> {
    /// Nothing typed yet, for these pupils in this order.
    pub fn new(pack: &'a Pack, pupils: &'a [String]) -> Typed<'a> {
        Typed {
            items: marked_items(pack),
            pupils,
            given: Vec::new(),
            steps: Vec::new(),
            left: BTreeSet::new(),
            absent: BTreeSet::new(),
            stopped: false,
        }
    }

    fn at(&self) -> Option<(&'a str, &'a Item)> {
        let wide = self.items.len().max(1);
        let pupil = self.pupils.get(self.given.len() / wide).filter(|_| !self.stopped)?;
        Some((pupil, *self.items.get(self.given.len() % wide)?))
    }

    /// What is asked next: pupil, item and sum; `None` where all is typed.
    pub fn asks(&self) -> Option<String> {
        let (pupil, item) = self.at()?;
        let short = item.id.rsplit('-').next().unwrap_or(&item.id);
        Some(format!("{pupil}  {short}  {}: ", item.prompt))
    }

    /// Takes what was typed; says what looks odd about it.
    pub fn take(&mut self, line: &str) -> Option<String> {
        let (_, item) = self.at()?;
        let line = line.trim();
        if matches!(line, "<" | "back" | "Back" | "BACK") {
            return self.step_back();
        }
        let before = self.given.len();
        let said = self.take_step(item, line);
        if self.given.len() > before {
            self.steps.push(before);
        }
        said
    }

    /// Undoes the last step, whatever it filled in: the item where it was typed is asked again.
    fn step_back(&mut self) -> Option<String> {
        let Some(before) = self.steps.pop() else {
            return Some("this is the first answer".to_owned());
        };
        self.given.truncate(before);
        self.left.remove(&(before / self.items.len()));
        self.absent.remove(&(before / self.items.len()));
        None
    }

    fn take_step(&mut self, item: &Item, line: &str) -> Option<String> {
        let wide = self.items.len();
        let left = wide - self.given.len() % wide;
        match line {
            "stop" | "Stop" | "STOP" => self.stopped = true,
            "." => self.given.push(Some(TICK.to_owned())),
            "*" => self.given.extend(vec![Some(TICK.to_owned()); left]),
            absent if absent == "-" || is_absent(absent) => {
                self.absent.insert(self.given.len() / wide);
                self.given.extend(vec![None; left]);
            }
            ">" => {
                self.left.insert(self.given.len() / wide);
                self.given.extend(vec![None; left]);
            }
            _ => return self.take_answer(item, line),
        }
        None
    }

    fn take_answer(&mut self, item: &Item, line: &str) -> Option<String> {
        let read = answer(line);
        let odd = read.as_ref().and_then(|given| Odd::of(item, given));
        if matches!(odd, Some(Odd::NoAnswer | Odd::NoOption)) {
            return Some(format!(
                "`{line}` is no answer to {}, which is asked again; `<` or `back` goes one step back",
                item.id
            ));
        }
        let said = odd.zip(read.as_ref()).map(|(odd, given)| {
            let message = odd.message(&item.id, given);
            format!("{}; `<` or `back` goes back to it", message.text)
        });
        self.given.push(read.filter(|_| odd.is_none_or(Odd::counts)));
        said
    }

    /// What was typed; pupils not come to and those left as before are left out.
    pub fn answers(self) -> Answers {
        let wide = self.items.len().max(1);
        let row = |given: &[Option<String>]| -> IndexMap<String, Option<String>> {
            let ids = self.items.iter().map(|item| item.id.clone());
            ids.zip(given.iter().cloned().chain(std::iter::repeat(None))).collect()
        };
        let rows = self.pupils.iter().cloned().zip(self.given.chunks(wide).map(row)).enumerate();
        let typed = rows.filter(|(pupil, _)| !self.left.contains(pupil)).map(|(_, row)| row);
        let absent = self.absent.iter().filter_map(|&at| self.pupils.get(at).cloned()).collect();
        Answers { pupils: typed.collect(), piles: Vec::new(), absent }
    }
}
