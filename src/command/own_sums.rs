//! What `check` says of the teacher's own sums: those that are not for their skill, and products
//! that a pupil would work out twice.

use super::class::Class;
use crate::exercise::makers::{known, unlike_own};
use crate::report::Message;
use std::collections::BTreeMap;

/// Warnings about `[[own]]`; the sums are printed all the same where their skill takes them.
pub fn remarks(class: &Class) -> Vec<Message> {
    let style = &class.plan.style;
    let mut found = Vec::new();
    let mut worked: BTreeMap<(u64, u64), u32> = BTreeMap::new();
    for own in &class.plan.own {
        let skill = class.plan.ladder.skills.get(&own.skill);
        let maker = skill.map_or(own.skill.as_str(), |skill| &skill.maker);
        let all = own.example.iter().chain(&own.practice).chain(&own.exit_check);
        for &(a, b) in all {
            let sum = format!("{} × {}", style.number(a), style.number(b));
            if let Some(why) = unlike_own(maker, a, b).filter(|_| known(maker)) {
                let text = format!("own sum {sum} for `{}`: {why}", own.skill);
                found.push(Message::warning(text).hint("change it, or leave it if you mean it"));
            }
        }
        for &(a, b) in own.practice.iter().chain(&own.exit_check) {
            *worked.entry((a.max(b), a.min(b))).or_default() += 1;
        }
    }
    for ((a, b), _) in worked.into_iter().filter(|(_, times)| *times > 1) {
        let sum = format!("{} × {}", style.number(a), style.number(b));
        let text = format!("own sum {sum} stands more than once in practice and exit checks");
        found.push(Message::warning(text).hint("take another, or leave it if you mean it"));
    }
    found
}
