//! What an item asks for on a sheet: its time, how hard it is, the form of its question; and sums put
//! in rising order by their time.

use super::bench::{Bench, Made};
use crate::exercise::{Figure, Given, Item, Kind, Space, Work, Working};
use std::collections::BTreeMap;

/// The seconds that a bare sum, and a question that has to be read, take at least of a sheet's time:
/// looking for the place, reading and writing take that long however quick the thinking (common
/// practice, no source).
const BARE_SECONDS: u32 = 10;
pub const READ_SECONDS: u32 = 25;
/// The seconds of a sheet that an item takes, however quick the thinking.
pub fn takes(item: &Item) -> u32 {
    let bare = matches!(item.kind, Kind::Mental | Kind::Estimate)
        && !item.sign().is_empty()
        && !matches!(item.space, Space::Chart { .. });
    item.seconds.max(if bare { BARE_SECONDS } else { READ_SECONDS })
}

/// What a question asks for, whatever its numbers: a missing factor, or its first three words; none for a bare sum, a
/// story or a number in words, which ask for work.
pub fn form(item: &Item) -> Option<String> {
    let asks = matches!(item.kind, Kind::Choice | Kind::Missing | Kind::Reason);
    if !asks || !item.sign().is_empty() {
        return None;
    }
    if matches!(item.figure, Some(Figure::Area { .. })) {
        return Some("an area".to_owned());
    }
    let gap = item.expression.as_deref().and_then(|e| e.split_once("//"));
    if gap.is_some_and(|(whole, by)| [whole, by].iter().all(|n| n.parse::<u64>().is_ok())) {
        let told = item.prompt.contains('=');
        return Some(
            if told { "a missing factor" } else { "a missing factor in words" }.to_owned(),
        );
    }
    if item.prompt.contains("Use it to find") {
        return Some("from a known product".to_owned());
    }
    if item.prompt.matches('×').count() == 2 && item.prompt.ends_with('×') {
        return Some("the same product".to_owned());
    }
    let number = |word: &str| word.contains(|c: char| c.is_ascii_digit());
    let words = item.prompt.split_whitespace().map(|w| if number(w) { "#" } else { w });
    Some(words.take(3).collect::<Vec<_>>().join(" "))
}

/// How much a sum asks for: a written one by its facts and carries, one in the head by the cost of
/// its route, both in hundredths; none for other questions.
pub fn hardness(item: &Item) -> Option<u32> {
    let work = match (&item.kind, &item.working) {
        (Kind::Mental, Working::Route(route)) => return Some(route.cost),
        (Kind::Written, Working::Long(long)) => Work::of_long(long),
        (Kind::Written, Working::Grid(grid)) => Work::of_grid(grid),
        (Kind::Written, Working::Lattice(lattice)) => Work::of_lattice(lattice),
        _ => return None,
    };
    Some((work.facts + work.carries + work.adding_carries) * 100)
}

/// How many lines of a begun working are left to do; all where nothing is begun.
pub fn left_to_do(item: &Item) -> u8 {
    match item.space {
        Space::Squares { given, .. } | Space::Grid { given, .. } | Space::Lattice { given, .. } => {
            match given {
                Given::All => 0,
                Given::Missing { .. } | Given::But { .. } | Given::Rows => 1,
                Given::AllButLast(left) => left,
                Given::Nothing => u8::MAX,
            }
        }
        _ => u8::MAX,
    }
}

/// What makes sums comparable: the skill, and what is printed of the working; none for questions,
/// which stand where they are.
fn sort_of(item: &Item) -> Option<(String, Kind, String)> {
    let begun = match (item.kind, item.space) {
        (Kind::Written, Space::Squares { given, estimate, compare, .. }) => {
            format!("{given:?} {estimate} {compare}")
        }
        (Kind::Written, Space::Grid { given, .. } | Space::Lattice { given, .. }) => {
            format!("{given:?}")
        }
        (Kind::Mental, space) if !item.sign().is_empty() && !item.is_begun() => match space {
            Space::Box => "bare".to_owned(),
            Space::Chart { .. } => "chart".to_owned(),
            _ => return None,
        },
        _ => return None,
    };
    Some((item.skill.clone(), item.kind, begun))
}

/// Puts the sums of each sort in rising order by their time, in the places that the sort has; the
/// teacher's own stay where they are.
pub fn rising(made: &mut [Made], bench: &Bench) {
    let mut places: BTreeMap<_, Vec<usize>> = BTreeMap::new();
    for (index, one) in made.iter().enumerate() {
        let own = bench.own_sums(&one.want);
        let is_own = one.item.factors().is_some_and(|(a, b)| own.contains(&(a, b)));
        if let Some(sort) = sort_of(&one.item).filter(|_| !is_own) {
            places.entry(sort).or_default().push(index);
        }
    }
    for places in places.into_values() {
        let mut sums: Vec<Made> = places.iter().map(|&index| made[index].clone()).collect();
        sums.sort_by_key(|one| one.item.seconds);
        for (place, sum) in places.into_iter().zip(sums) {
            made[place] = sum;
        }
    }
}
