//! What a class's own marks have taught the model, and forgetting that: how often each pattern is
//! found in it, and how many of the pupils of a check have any.
//!
//! Nothing is stored but the day it was forgotten: the weights are read anew from `marks/` each
//! time, so that `forget`, `undo` and marking again reach them. A reset is an entry in the journal;
//! from then on only lessons first marked after it count, and `undo` takes it back.

use super::class::Class;
use super::output::{Failure, note};
use crate::folder::{Change, Event};
use crate::lesson::Pack;
use crate::marking::{Answers, Found, Model};
use crate::report::Message;

/// With which pupils each pattern was found in the marks that count.
pub fn learnt(class: &Class, marked: &[(Pack, Answers)]) -> Found {
    let counts = |(pack, _): &&(Pack, Answers)| class.state.teaches(pack.lesson, &pack.version);
    let counting: Vec<(Pack, Answers)> = marked.iter().filter(counts).cloned().collect();
    Found::of(&counting)
}

/// The model for a lesson: after what other lessons' checks have taught, and learning from its own.
pub fn model(class: &Class, learnt: &Found, lesson: u32) -> Model {
    let model = Model::after(learnt.without(Some(lesson)));
    if class.state.learns(lesson) { model.learning() } else { model }
}

/// `mark DIR --reset-weights`: what the class has shown so far weighs no more.
pub fn reset(class: &Class) -> Result<(), Failure> {
    let marked = super::mark::all_marked(class)?;
    let patterns = learnt(class, &marked).without(None).len();
    let own = marked.iter().any(|(pack, _)| class.state.learns(pack.lesson));
    if patterns == 0 && !own {
        let text = "the class's marks have not changed any weight, so there is nothing to reset";
        return Err(Message::mistake(text).into());
    }
    let mut change = Change::by("mark --reset-weights");
    change.events.push(Event::WeightsReset);
    change.make(&class.folder, &class.state.journal, class.state.today)?;
    let dir = class.folder.dir().display();
    let weigh = if patterns == 1 { "weighs" } else { "weigh" };
    let what = match patterns {
        0 => "checks marked so far are judged".to_owned(),
        some => format!("{} {weigh}", crate::words::count(some, "pattern")),
    };
    note(&format!(
        "{what} as in a new class again; marks stay, and checks marked for the first time \
         from now on count; `rungwise undo {dir}` takes this back"
    ));
    Ok(())
}
