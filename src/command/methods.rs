//! What `check` says of `style.method`: written methods that the unit teaches and the list does not
//! name, the other way round, and an order that the ladder does not teach in.

use super::class::Class;
use crate::exercise::makers::method_of;
use crate::method::Written;
use crate::report::Message;

fn word(method: Written) -> &'static str {
    match method {
        Written::Long => "long",
        Written::Grid => "grid",
        Written::Lattice => "lattice",
    }
}

/// Warnings about a list of methods that the plan names; the ladder decides all the same.
pub fn remarks(class: &Class) -> Vec<Message> {
    let plan = &class.plan;
    if !plan.methods_named {
        return Vec::new();
    }
    let wanted = &plan.style.method;
    // Each method with the skill that teaches it first.
    let mut taught: Vec<(Written, &str)> = Vec::new();
    for id in plan.ladder.unit(&plan.unit.teach, &plan.unit.secure) {
        let maker = plan.ladder.skills.get(id).map(|skill| skill.maker.as_str());
        let left_out = plan.unit.leave_out.iter().any(|out| out == id);
        if let Some(method) = maker.and_then(method_of).filter(|_| !left_out)
            && taught.iter().all(|(known, _)| *known != method)
        {
            taught.push((method, id));
        }
    }
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
    let place = |method: Written| wanted.iter().position(|w| *w == method);
    let order: Vec<(usize, &str)> =
        taught.iter().filter_map(|(method, id)| Some((place(*method)?, *id))).collect();
    if let Some((before, after)) = order.iter().zip(order.iter().skip(1)).find(|(a, b)| a.0 > b.0) {
        let text = format!(
            "the ladder teaches `{}` before `{}`, the other way round than `style.method`",
            before.1, after.1
        );
        let hint = "the ladder's order holds; turn the list round, or use a ladder of your own";
        found.push(Message::warning(text).hint(hint));
    }
    found
}
