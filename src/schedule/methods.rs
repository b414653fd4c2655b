//! The order in which a school teaches its written methods, where the ladder leaves it open.

use crate::exercise::makers::method_of;
use crate::method::Written;
use crate::plan::{LessonKind, Plan};

/// Each written method that the unit teaches, with the skill that teaches it first, in the ladder's
/// order.
pub fn methods_taught(plan: &Plan) -> Vec<(Written, String)> {
    let mut taught: Vec<(Written, String)> = Vec::new();
    for id in plan.ladder.unit(&plan.unit.teach, &plan.unit.secure) {
        let maker = plan.ladder.skills.get(id).map(|skill| skill.maker.as_str());
        let left_out = plan.unit.leave_out.iter().any(|out| out == id);
        if let Some(method) = maker.and_then(method_of).filter(|_| !left_out)
            && taught.iter().all(|(known, _)| *known != method)
        {
            taught.push((method, id.to_owned()));
        }
    }
    taught
}

/// The skills that first teach the methods which the plan names, in the plan's order; none where it
/// names none.
pub fn method_order(plan: &Plan) -> Vec<String> {
    if !plan.methods_named {
        return Vec::new();
    }
    let taught = methods_taught(plan);
    let first = |method: &Written| taught.iter().find(|(known, _)| known == method);
    plan.style.method.iter().filter_map(first).map(|(_, id)| id.clone()).collect()
}

/// Pairs of skills of which the second waits for the first because the plan names their methods in
/// this order. The ladder comes before the plan's list, and so does a day that is given to one of
/// the two, to what the first needs or to what needs the second. What may be left out is not
/// waited for.
pub fn waits(plan: &Plan) -> Vec<(String, String)> {
    let order = method_order(plan);
    let pairs = order.windows(2).map(|pair| (pair[0].clone(), pair[1].clone()));
    pairs.filter(|(first, then)| may_wait(plan, first, then)).collect()
}

fn may_wait(plan: &Plan, first: &str, then: &str) -> bool {
    let ladder = &plan.ladder;
    let (before, after) = (ladder.all_needs(first), ladder.dependants(then));
    if before.contains(&then) || after.contains(&first) {
        return false;
    }
    let given = plan.unit.fixed.iter().filter(|fixed| fixed.kind == LessonKind::Teach);
    let given = given.filter_map(|fixed| fixed.skill.as_deref());
    let is_bound =
        |id: &str| id == first || id == then || before.contains(&id) || after.contains(&id);
    let optional = ladder.skills.get(first).is_none_or(|skill| skill.optional);
    !optional && !ladder.all_needs(then).contains(&first) && !given.into_iter().any(is_bound)
}
