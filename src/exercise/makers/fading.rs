//! Partly worked sums: which step is left to the pupil.
//!
//! Backward from the last step (Renkl, Atkinson, Maier & Staley 2002), but where the class's marks
//! show an error pattern the step at which that pattern begins is left out first: pupils learn most
//! about the steps that are faded (Renkl, Atkinson & Große 2004; both read).

use super::Bench;
use super::build::small;
use super::written::{Recipe, Sum, sums};
use crate::exercise::patterns::{Pattern, WrongWorking, pattern};
use crate::exercise::{Given, Item};
use crate::method::{HouseStyle, Written, ZeroRow, grid, long, ordered};
use crate::number::digits;

/// A set of partly worked sums, more left to do in each; from the last rung on everything but the
/// headings, the labels and the placeholder zeros.
pub(super) fn faded(bench: &Bench, recipe: &Recipe, count: usize) -> impl Iterator<Item = Item> {
    let shown = bench.setting.shown.get(bench.request.skill).and_then(|name| pattern(name));
    let item = move |(index, sum): (usize, Sum)| {
        let style = &bench.setting.style;
        let rungs = rungs(style, sum.pair, recipe.method);
        let from = shown.and_then(|shown| begins(shown, sum.pair, recipe.method, style));
        let given = rung(index, rungs, from.filter(|line| line + 1 < rungs));
        let mut item = bench.written(sum.pair, recipe.method, given, true);
        sum.words.clone_into(&mut item.purpose);
        if let (Given::But { .. }, Some(shown)) = (given, shown) {
            item.purpose = format!("the step left to do is where “{}” begins", shown.short);
        }
        item
    };
    sums(bench, recipe, count).into_iter().enumerate().map(item)
}

/// What is printed of the `index`-th sum of a set: with a step to begin at that step alone is left
/// out, then everything from it on, then all; else one step more from the last one backward.
fn rung(index: usize, rungs: u8, from: Option<u8>) -> Given {
    match (from, index) {
        (Some(line), 0) => Given::But { line },
        (Some(line), 1) => Given::AllButLast(rungs - line),
        (Some(_), _) => Given::AllButLast(rungs),
        (None, _) => Given::AllButLast(small(index + 1).min(rungs)),
    }
}

/// Steps a working can be faded by: its rows and the answer.
fn rungs(style: &HouseStyle, (a, b): (u64, u64), method: Written) -> u8 {
    let all = digits(ordered(a, b).1);
    let rows = match (method, style.zero_row) {
        (Written::Long, ZeroRow::Write) | (Written::Lattice, _) => all.len(),
        _ => all.iter().filter(|&&d| d != 0).count(),
    };
    match method {
        Written::Long if rows == 1 => 1,
        _ => small(rows + 1),
    }
}

/// The first step, in the order written, that a pupil with this pattern has wrong in a × b.
fn begins(
    pattern: &Pattern,
    (a, b): (u64, u64),
    method: Written,
    style: &HouseStyle,
) -> Option<u8> {
    let (a, b) = ordered(a, b);
    // The place of each step that is right, and what stands there.
    let right: Vec<(u64, u64)> = match method {
        Written::Long => long(a, b, style).rows.iter().map(|r| (r.place, r.value)).collect(),
        Written::Grid => grid(a, b).rows.iter().map(|r| (r.place, r.value)).collect(),
        Written::Lattice => return None,
    };
    let wrong = pattern.attempts(a, b).into_iter().filter(|attempt| !attempt.turned);
    let written =
        wrong.map(|attempt| attempt.working).find_map(|working| match (working, method) {
            (WrongWorking::Long(long), Written::Long) => {
                Some(long.rows.iter().map(|r| (r.place, r.value)).collect::<Vec<_>>())
            }
            (WrongWorking::Grid(grid), Written::Grid) => {
                Some(grid.rows.iter().map(|r| (r.place, r.value)).collect())
            }
            _ => None,
        })?;
    let off = right.iter().position(|step| !written.contains(step));
    // All rows are right: it is the adding that goes wrong.
    Some(small(off.unwrap_or(right.len())))
}

#[cfg(test)]
mod tests {
    use super::super::{Request, Setting, Spot, make};
    use super::*;
    use crate::exercise::{Profile, Space};
    use crate::method::FirstRow;
    use crate::seed::Seed;

    fn given(skill: &str, shown: Option<&str>, spot: Spot) -> Vec<Given> {
        let mut setting = Setting::new(Seed::of("faded"), HouseStyle::default(), 100);
        setting.shown.extend(shown.map(|name| (skill.to_owned(), name.to_owned())));
        let request = Request {
            skill,
            part: 2,
            spot,
            name: "A",
            profile: Profile::Learning,
            seconds: 3000,
            least: 3,
            most: 4,
            own: &[(47, 36), (58, 64), (73, 46), (67, 84)],
        };
        let items = make(skill, &request, &setting).expect("a set");
        let given = |item: &Item| match item.space {
            Space::Squares { given, .. } | Space::Grid { given, .. } => given,
            ref other => panic!("{other:?}"),
        };
        items.iter().map(given).collect()
    }

    #[test]
    fn the_step_that_goes_wrong_is_left_out_first() {
        use Given::{AllButLast, But};
        for spot in [Spot::Guided, Spot::Support] {
            let plain = given("long-two-by-two", None, spot);
            assert_eq!(plain[..3], [AllButLast(1), AllButLast(2), AllButLast(3)]);
            // No zero in the second row: that row is left out, the answer given.
            let zeros = given("long-two-by-two", Some("placeholder-left-out"), spot);
            assert_eq!(zeros[..3], [But { line: 1 }, AllButLast(2), AllButLast(3)]);
            // Carries in the rows: the first row.
            let carries = given("long-two-by-two", Some("carry-not-added"), spot);
            assert_eq!(carries[..3], [But { line: 0 }, AllButLast(3), AllButLast(3)]);
            // Carries lost in the adding: the last step, as in backward fading.
            let adding = given("long-two-by-two", Some("adding-carries-lost"), spot);
            assert_eq!(adding[..3], [AllButLast(1), AllButLast(2), AllButLast(3)]);
        }
        let grid = given("grid-two-by-two", Some("largest-part-zero-lost"), Spot::Support);
        assert!(matches!(grid[0], But { .. }), "{grid:?}");
    }

    #[test]
    fn the_step_is_found_in_the_order_written() {
        let known = pattern("placeholder-left-out").expect("a pattern");
        let style = HouseStyle { first_row: FirstRow::Highest, ..HouseStyle::default() };
        assert_eq!(begins(known, (47, 36), Written::Long, &style), Some(0));
        assert_eq!(begins(known, (47, 36), Written::Long, &HouseStyle::default()), Some(1));
        assert_eq!(begins(known, (47, 6), Written::Long, &style), None, "it does not show there");
    }
}
