//! What a class's own marks have taught the model, and forgetting that.
//!
//! Nothing is stored but the day it was forgotten: the weights are read anew from `marks/` each
//! time, so that `forget`, `undo` and marking again reach them. A reset is an entry in the journal;
//! from then on only lessons first marked after it count, and `undo` takes it back.

use super::class::Class;
use super::output::{Failure, note};
use crate::folder::{Change, Event};
use crate::lesson::Pack;
use crate::marking::{Answers, Found};
use crate::report::Message;

/// With which pupils each pattern was found in the marks that count.
pub fn learnt(class: &Class, marked: &[(Pack, Answers)]) -> Found {
    let counts = |(pack, _): &&(Pack, Answers)| class.state.teaches(pack.lesson, &pack.version);
    let counting: Vec<(Pack, Answers)> = marked.iter().filter(counts).cloned().collect();
    Found::of(&counting)
}

/// `mark DIR --reset-weights`: what the class has shown so far weighs no more.
pub fn reset(class: &Class) -> Result<(), Failure> {
    let marked = super::mark::all_marked(class)?;
    let patterns = learnt(class, &marked).without(None).len();
    if patterns == 0 {
        let text = "the class's marks have not changed any weight, so there is nothing to reset";
        return Err(Message::mistake(text).into());
    }
    let mut change = Change::by("mark --reset-weights");
    change.events.push(Event::WeightsReset);
    change.make(&class.folder, &class.state.journal, class.state.today)?;
    let dir = class.folder.dir().display();
    let weigh = if patterns == 1 { "weighs" } else { "weigh" };
    let patterns = crate::words::count(patterns, "pattern");
    note(&format!(
        "{patterns} {weigh} as in a new class again; marks stay, and checks marked for the first time \
         from now on count; `rungwise undo {dir}` takes this back"
    ));
    Ok(())
}
