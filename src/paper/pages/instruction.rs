//! What a sheet says at its head: what to do, for each sort of item on it.

use super::arrange::in_a_box;
use crate::exercise::{Given, Item, Kind, Space, Working};
use crate::method::{Carries, HouseStyle, Row};

/// What is said above a warm-up.
pub fn answers_only(items: &[Item]) -> String {
    let about =
        if items.iter().any(|i| i.sign() == "≈") { format!(" {ABOUT}") } else { String::new() };
    format!("Write only the answer.{about}")
}

/// What the sign of an estimate means, wherever it stands first.
const ABOUT: &str = "≈ means “is about”.";

/// Where it is said what to do with letters. Slips and half sheets have little room at the head.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Letters {
    /// At the head, with everything else.
    Here,
    /// In the first choice itself.
    InTheItem,
}

/// What to do: for each sort of item what its space asks for, in the order in which they come, each
/// called by its name where there are several. Nothing where every item says it itself.
pub fn instruction(items: &[Item], style: &HouseStyle, say: Letters) -> String {
    let story = |i: &Item| matches!(i.space, Space::Story { .. });
    let letters = |i: &Item| say == Letters::Here && matches!(i.space, Space::Options { .. });
    let charts = |i: &Item| matches!(i.space, Space::Chart { .. });
    let boxes = |i: &Item| in_a_box(i) && (i.is_begun() || !i.sign().is_empty());
    // A row alone says itself what to do, and so does a sum that has to be looked at.
    let sums = |i: &Item| {
        i.kind == Kind::Written
            && matches!(i.space, Space::Squares { .. } | Space::Grid { .. } | Space::Lattice { .. })
    };
    let in_squares = |i: &Item| sums(i) && matches!(i.space, Space::Squares { .. });
    let on_grid = |i: &Item| sums(i) && matches!(i.space, Space::Grid { .. });
    let on_lattice = |i: &Item| sums(i) && matches!(i.space, Space::Lattice { .. });
    let stories = if say == Letters::Here { STORIES } else { SHORT_STORIES };
    let lines = |i: &Item| i.space == Space::Line && i.sign() == "≈";
    let whole: Vec<&Item> = items.iter().filter(|i| sums(i)).collect();
    let said = [
        (items.iter().position(story), "Stories", stories.to_owned()),
        (items.iter().position(in_squares), "Sums", of_sums(&whole, style)),
        (items.iter().position(on_grid), "Grids", grids(&whole, say).to_owned()),
        (items.iter().position(on_lattice), "Lattices", lattices(&whole, say).to_owned()),
        (items.iter().position(charts), "Charts", CHART.to_owned()),
        (items.iter().position(boxes), "Boxes", of_boxes(items).to_owned()),
        (items.iter().position(lines), "Lines", ESTIMATE.to_owned()),
        (items.iter().position(letters), "Letters", RING.to_owned()),
    ];
    let mut said: Vec<_> =
        said.into_iter().filter(|(at, _, what)| at.is_some() && !what.is_empty()).collect();
    said.sort_by_key(|(at, ..)| *at);
    if let (Letters::InTheItem, [(.., one), (.., other)]) = (say, said.as_slice())
        && [one, other].iter().all(|s| *s == IN_SQUARES || *s == IN_BOXES)
    {
        return "Work in the squares or write in the box.".to_owned();
    }
    let several = said.len() > 1;
    let each = said.iter().map(|(_, name, what)| {
        if several { format!("{name}: {}", lower_first(what)) } else { what.clone() }
    });
    let mut each: Vec<String> = each.collect();
    let about = say == Letters::Here && items.iter().any(|i| i.sign() == "≈");
    if about && !each.iter().any(|e| e.contains('≈')) {
        each.push(ABOUT.to_owned());
    }
    each.join(" ")
}

const STORIES: &str =
    "Write what you know and what you need. Work in the squares. Answer in a sentence.";
const CHART: &str = "Write each digit in its new place. Fill the empty places with zeros.";
/// Where there is no place for notes.
const SHORT_STORIES: &str = "Work in the squares. Answer in a sentence.";
/// After an answer that is held against its estimate.
const RING_ONE: &str = " Ring “more” or “less”.";
const IN_SQUARES: &str = "Work in the squares.";
const IN_BOXES: &str = "Write only the answer.";
const ESTIMATE: &str = "Write an estimate after ≈ (“is about”).";
const RING: &str = "Put a ring round the right letter.";

/// What to do with boxes: some sums are begun before theirs.
fn of_boxes(items: &[Item]) -> &'static str {
    if items.iter().any(|item| in_a_box(item) && item.is_begun()) {
        "Work on from what is begun. Write only the answer."
    } else {
        IN_BOXES
    }
}

fn lower_first(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |c| c.to_lowercase().chain(letters).collect())
}

/// What to do with sums, from what there is to write on.
fn of_sums(items: &[&Item], style: &HouseStyle) -> String {
    let squares = || {
        items.iter().filter_map(|i| match i.space {
            Space::Squares { given, estimate, .. } => Some((given, estimate)),
            _ => None,
        })
    };
    let begun = |given: Given| matches!(given, Given::AllButLast(_) | Given::But { .. });
    // Said only where something is left to carry.
    let carries =
        items.iter().any(|i| carries_left(i, style.carries)).then_some(match style.carries {
            Carries::InRow => " Carry into the corners.",
            Carries::Above => " Carry into the strips above.",
        });
    let carries = style.in_words(carries.unwrap_or_default());
    let compares = |i: &&&Item| matches!(i.space, Space::Squares { compare: true, .. });
    let ring = if items.iter().any(|i| compares(&i)) { RING_ONE } else { "" };
    if squares().any(|(given, estimate)| begun(given) && estimate) {
        format!("First find the size. Then finish the sum.{carries}")
    } else if squares().any(|(given, _)| begun(given)) {
        format!("Finish the sum.{carries}")
    } else if squares().any(|(given, estimate)| given == Given::Nothing && estimate) {
        format!("Write an estimate after ≈ (“is about”). Then work in the squares.{ring}")
    } else if squares().any(|(given, _)| given == Given::Nothing) {
        IN_SQUARES.to_owned()
    } else {
        String::new()
    }
}

/// Whether a sum that is begun has something to carry in what is left of it; the strips above are
/// for the carries of rows only.
fn carries_left(item: &Item, stand: Carries) -> bool {
    let (Space::Squares { given, .. }, Working::Long(long)) = (item.space, &item.working) else {
        return false;
    };
    let rows = long.rows.len();
    let steps = if rows > 1 { rows + 1 } else { rows };
    let left = |line: usize| match given {
        Given::AllButLast(left) => line + usize::from(left) >= steps,
        Given::But { line: but } => line == usize::from(but),
        _ => false,
    };
    let carries = |digits: &[u8]| digits.iter().any(|&c| c > 0);
    // The last carry of a row is written large, as its leading digit.
    let row = |row: &Row| carries(&row.carries[..row.carries.len().saturating_sub(1)]);
    long.rows.iter().enumerate().any(|(line, r)| left(line) && row(r))
        || stand == Carries::InRow && rows > 1 && left(rows) && carries(&long.adding_carries)
}

/// Whether something of it is printed.
fn is_begun(given: Given) -> bool {
    matches!(given, Given::AllButLast(_) | Given::But { .. })
}

/// What to do on grids.
fn grids(items: &[&Item], say: Letters) -> &'static str {
    let grids = || {
        items.iter().filter_map(|i| match i.space {
            Space::Grid { given, .. } => Some(given),
            _ => None,
        })
    };
    if grids().any(is_begun) {
        "Fill in what is missing. Then add the rows."
    } else if grids().any(|given| given == Given::Nothing) && say == Letters::InTheItem {
        "Fill in the grid, then add the rows."
    } else if grids().any(|given| given == Given::Nothing) {
        "Write the parts of both numbers first. Then fill in and add."
    } else {
        ""
    }
}

/// What to do on lattices.
fn lattices(items: &[&Item], say: Letters) -> &'static str {
    let lattices = || {
        items.iter().filter_map(|i| match i.space {
            Space::Lattice { given, .. } => Some(given),
            _ => None,
        })
    };
    if lattices().any(is_begun) {
        "Fill in what is missing. Then add along the diagonals, from the right."
    } else if lattices().any(|given| given == Given::Nothing) && say == Letters::InTheItem {
        "Fill in, then add along the diagonals."
    } else if lattices().any(|given| given == Given::Nothing) {
        "Write both numbers at the edges. Fill in, then add along the diagonals."
    } else {
        ""
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::Profile;
    use crate::exercise::makers::{self, Request, Setting, Spot};
    use crate::seed::Seed;

    fn made(maker: &str, spot: Spot, own: &[(u64, u64)]) -> Vec<Item> {
        let (least, most) = (own.len(), own.len());
        let profile = Profile::Typical;
        let request = Request {
            skill: maker,
            part: 2,
            spot,
            name: "A",
            profile,
            seconds: 9_000,
            least,
            most,
            own,
        };
        let setting = Setting::new(Seed::of("k"), HouseStyle::default(), 100);
        makers::make(maker, &request, &setting).expect("items")
    }

    #[test]
    fn carrying_is_spoken_of_only_where_something_carries() {
        let style = HouseStyle::default();
        let above = HouseStyle { carries: Carries::Above, ..HouseStyle::default() };
        let said = |style: &HouseStyle, own: &[(u64, u64)]| {
            instruction(&made("long-two-by-two", Spot::Support, own), style, Letters::Here)
        };
        assert_eq!(said(&style, &[(12, 23)]), "First find the size. Then finish the sum.");
        let carries = "First find the size. Then finish the sum. Carry into the corners.";
        assert_eq!(said(&style, &[(96, 87)]), carries, "the rows are done, adding them carries");
        assert_eq!(said(&above, &[(96, 87)]), "First find the size. Then finish the sum.");
        let rows = "First find the size. Then finish the sum. Carry into the strips above.";
        assert_eq!(said(&above, &[(12, 13), (47, 36), (58, 67)]), rows);
    }

    #[test]
    fn what_does_not_say_itself_what_to_do_is_told_above() {
        let style = HouseStyle::default();
        let slip = |items: &[Item]| instruction(items, &style, Letters::InTheItem);
        let sums = made("long-two-by-two", Spot::ExitCheck, &[(47, 36), (58, 67)]);
        assert_eq!(slip(&sums[..1]), "Work in the squares.");
        let head = made("splitting", Spot::ExitCheck, &[(47, 6)]);
        assert_eq!(slip(&head), "Write only the answer.");
        let both: Vec<Item> = sums[..1].iter().chain(&head).cloned().collect();
        assert_eq!(slip(&both), "Work in the squares or write in the box.");
        let begun = made("splitting", Spot::Guided, &[(47, 6)]);
        assert_eq!(slip(&begun), "Work on from what is begun. Write only the answer.");
        let grid = made("grid-two-by-two", Spot::Homework, &[(47, 36)]);
        assert_eq!(slip(&grid), "Fill in the grid, then add the rows.");
        let choice = made("words-of-the-trade", Spot::Homework, &[]);
        assert_eq!(slip(&choice), "", "a choice says it itself");
        let lines = made("estimating-by-leading-digits", Spot::Homework, &[(58, 67)]);
        let lines: Vec<Item> =
            lines.into_iter().map(|item| Item { space: Space::Line, ..item }).collect();
        let sheet = instruction(&lines, &style, Letters::Here);
        assert_eq!(sheet, "Write an estimate after ≈ (“is about”).");
    }
}
