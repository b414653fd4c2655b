//! What the items of one sheet have in common, whatever each of them is: the same squares under
//! every story, and the ring round a letter asked for once.

use crate::exercise::{Item, Kind, Space};
use crate::method::{Carries, HouseStyle};

/// What a choice says where no line at the head of its sheet says it.
pub const RING: &str = "Put a ring round the right letter.";

/// Every story of a sheet is worked on the same squares: their size would tell which of them
/// multiply. Where carries stand above, there is one row more for them.
pub fn same_squares(items: &mut [Item], style: &HouseStyle) {
    let size = |item: &Item| match item.space {
        Space::Story { columns, rows } => Some((columns, rows)),
        _ => None,
    };
    let columns = items.iter().filter_map(size).map(|s| s.0).max().unwrap_or(0);
    let rows = items.iter().filter_map(size).map(|s| s.1).max().unwrap_or(0);
    let rows = rows + u8::from(style.carries == Carries::Above);
    for item in items {
        if matches!(item.space, Space::Story { .. }) {
            item.space = Space::Story { columns, rows };
        }
    }
}

/// The first choice of a slip or a half sheet says what to do with its letters; the heads of the
/// other sheets say it for all.
pub fn ring_once(items: &mut [Item]) {
    let choice = items.iter_mut().find(|item| item.kind == Kind::Choice);
    if let Some(item) = choice.filter(|item| !item.prompt.ends_with(RING)) {
        item.prompt = format!("{} {RING}", item.prompt.trim_end());
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::Profile;
    use crate::exercise::makers::{self, Request, Setting, Spot};
    use crate::seed::Seed;

    fn made(maker: &str, kind: Kind) -> Vec<Item> {
        let request = Request {
            skill: maker,
            part: 2,
            spot: Spot::Core,
            name: "A",
            profile: Profile::Typical,
            seconds: 9_000,
            least: 6,
            most: 12,
            own: &[],
        };
        let setting = Setting::new(Seed::of("k"), HouseStyle::default(), 100);
        let mut items = makers::make(maker, &request, &setting).expect("items");
        items.retain(|item| item.kind == kind);
        items
    }

    #[test]
    fn all_stories_get_the_largest_squares() {
        let style = HouseStyle::default();
        let mut items = made("story-two-step", Kind::Story);
        let sizes = |items: &[Item]| -> Vec<(u8, u8)> {
            let size = |item: &Item| match item.space {
                Space::Story { columns, rows } => (columns, rows),
                other => panic!("{other:?}"),
            };
            items.iter().map(size).collect()
        };
        let before = sizes(&items);
        let more = u8::from(style.carries == Carries::Above);
        let largest = (
            before.iter().map(|s| s.0).max().expect("stories"),
            before.iter().map(|s| s.1).max().expect("stories") + more,
        );
        assert!(before.iter().any(|s| *s != before[0]), "they differ: {before:?}");
        same_squares(&mut items, &style);
        assert!(sizes(&items).iter().all(|s| *s == largest));
    }

    #[test]
    fn the_ring_is_asked_for_once() {
        let mut items = made("words-of-the-trade", Kind::Choice);
        let before = items[0].prompt.clone();
        ring_once(&mut items);
        ring_once(&mut items);
        assert_eq!(items[0].prompt, format!("{before} {RING}"));
        assert!(items.len() > 2 && items[1..].iter().all(|i| !i.prompt.contains("ring")));
    }
}
