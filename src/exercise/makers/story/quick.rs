//! Warm-ups of the story skills: equal groups in five words, "5 bags of 36 nuts", worked in the head.

use crate::exercise::makers::{Request, Setting};
use crate::exercise::patterns::likely_wrong_mental;
use crate::exercise::{Item, Kind, Space, Working};
use crate::method::{cheapest, natural, routes};
use std::collections::BTreeSet;

/// What holds a number of things, and the things.
const GROUPS: [(&str, &str); 8] = [
    ("bags", "nuts"),
    ("boxes", "pins"),
    ("rows", "seats"),
    ("packs", "cards"),
    ("trays", "seeds"),
    ("bowls", "plums"),
    ("jars", "beads"),
    ("sheets", "stamps"),
];
/// No route may cost more, in hundredths of a mental step (default of ours for early warm-ups).
const MOST_COST: u32 = 500;

/// Every other way must cost so many per cent more (default, no source).
const MARGIN: u32 = 15;

/// Up to `request.most` warm-ups.
pub(super) fn quick(request: &Request, setting: &Setting) -> Vec<Item> {
    let name = format!("{}/{}/{}", request.skill, request.part, request.name);
    let mut stream = setting.seed.child("stories").child("quick").child(&name).stream();
    let mut groups = GROUPS;
    stream.shuffle(&mut groups);
    let mut pairs: Vec<(u64, u64)> = (12..=98)
        .filter(|s: &u64| !s.is_multiple_of(10))
        .flat_map(|s| (3..=9).map(move |g| (s, g)))
        .filter(|&(s, g)| {
            let quick = cheapest(s, g).filter(|(_, cost)| *cost <= MOST_COST);
            quick.is_some_and(|(way, _)| natural(s, g, way, MARGIN))
        })
        .collect();
    stream.shuffle(&mut pairs);
    let mut sizes = BTreeSet::new();
    pairs.retain(|(s, _)| sizes.insert(*s));
    let items = pairs.iter().zip(groups.iter().cycle());
    items.filter_map(|((s, g), group)| item(request, *s, *g, *group)).take(request.most).collect()
}

fn item(request: &Request, s: u64, g: u64, (group, things): (&str, &str)) -> Option<Item> {
    let route = routes(s, g).into_iter().next()?;
    Some(Item {
        id: String::new(),
        skill: request.skill.to_owned(),
        kind: Kind::Mental,
        prompt: format!("{g} {group} of {s} {things}"),
        expression: Some(format!("{s}*{g}")),
        answer: (s * g).to_string(),
        accept: None,
        choices: Vec::new(),
        figure: None,
        likely: likely_wrong_mental(s, g, route.name),
        working: Working::Route(route),
        seconds: 0,
        space: Space::Box,
        purpose: "equal groups in few words".to_owned(),
    })
}
