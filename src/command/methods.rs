//! What `check` says of `style.method`: written methods that the unit teaches and the list does not
//! name, the other way round, and an order against the ladder's.

use super::class::Class;
use crate::method::Written;
use crate::report::Message;
use crate::schedule::{method_order, methods_taught};

fn word(method: Written) -> &'static str {
    match method {
        Written::Long => "long",
        Written::Grid => "grid",
        Written::Lattice => "lattice",
    }
}

/// Warnings about a list of methods that the plan names and the ladder does not follow.
pub fn remarks(class: &Class) -> Vec<Message> {
    let plan = &class.plan;
    if !plan.methods_named {
        return Vec::new();
    }
    let wanted = &plan.style.method;
    let taught = methods_taught(plan);
    let mut found = Vec::new();
    for (method, id) in taught.iter().filter(|(method, _)| !wanted.contains(method)) {
        let method = word(*method);
        let text =
            format!("the unit teaches the method `{method}`, which `style.method` does not name");
        let hint = format!(
            "it comes with `{id}`, which other skills need; add `\"{method}\"`, or put `{id}` under \
             `unit.secure`"
        );
        found.push(Message::warning(text).hint(hint));
    }
    for method in wanted.iter().filter(|method| taught.iter().all(|(known, _)| known != *method)) {
        let method = word(*method);
        let text = format!("`style.method` names `{method}`, and the unit does not teach it");
        let hint = "take it away, or add a skill that works with it to `unit.teach`";
        found.push(Message::warning(text).hint(hint));
    }
    let order = method_order(plan);
    let against = |pair: &&[String]| plan.ladder.all_needs(&pair[0]).contains(&pair[1].as_str());
    if let Some(pair) = order.windows(2).find(against) {
        let text = format!(
            "the ladder teaches `{}` before `{}`, the other way round than `style.method`",
            pair[1], pair[0]
        );
        let hint = "the ladder's order holds; turn the list round, or use a ladder of your own";
        found.push(Message::warning(text).hint(hint));
    }
    found
}
