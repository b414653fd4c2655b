//! Items made by hand, for tests of this room.

use super::{Choice, Item, Kind, Space, Working};
use crate::method::{HouseStyle, long, routes};

/// An item with nothing in it but its kind and product.
pub(super) fn bare(kind: Kind, a: u64, b: u64, working: Working) -> Item {
    Item {
        id: "L07-K1".to_owned(),
        skill: "a-skill".to_owned(),
        kind,
        prompt: HouseStyle::default().sum(a, b),
        expression: Some(format!("{a}*{b}")),
        answer: (a * b).to_string(),
        accept: None,
        choices: Vec::new(),
        figure: None,
        working,
        seconds: 0,
        likely: Vec::new(),
        space: Space::Line,
        purpose: String::new(),
    }
}

pub(super) fn written(a: u64, b: u64) -> Item {
    bare(Kind::Written, a, b, Working::Long(long(a, b, &HouseStyle::default())))
}

pub(super) fn mental(a: u64, b: u64) -> Item {
    bare(Kind::Mental, a, b, Working::Route(routes(a, b).remove(0)))
}

pub(super) fn choice(a: u64, b: u64, wrong: &[u64]) -> Item {
    let style = HouseStyle::default();
    let mut item = bare(Kind::Choice, a, b, Working::Long(long(a, b, &style)));
    item.prompt = format!("Which is {}?", style.sum(a, b));
    item.expression = None;
    item.answer = style.number(a * b);
    let option = |n: u64| Choice {
        text: style.number(n),
        correct: n == a * b,
        pattern: (n != a * b).then(|| "zeros left out".to_owned()),
    };
    item.choices = wrong.iter().copied().chain([a * b]).map(option).collect();
    item
}
