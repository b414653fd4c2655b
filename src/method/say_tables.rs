//! What to say beside a grid, a lattice and an estimate, in the house's words.

use super::say::{fact, number_word};
use super::{Estimate, Grid, GridRow, HouseStyle, Lattice};
use crate::number::{digits, leading_digit};
use crate::words::join;

/// What to say beside each line of a grid: its head, each row, and the sum of the rows. In a row the
/// first cell is said with its fact and its noughts, the others with their products.
pub fn grid_words(grid: &Grid, style: &HouseStyle) -> Vec<Vec<String>> {
    let parts = |parts: Vec<u64>| {
        join(&parts.into_iter().map(|p| style.number(p)).collect::<Vec<_>>(), "and")
    };
    let split = |n: u64, of: Vec<u64>| match of.len() {
        0 | 1 => format!("{} stays whole", style.number(n)),
        _ => format!("{} is {}", style.number(n), parts(of)),
    };
    let down = grid.rows.iter().map(times).collect();
    let (top, side) = (split(grid.a, grid.parts.clone()), split(grid.b, down));
    let mut said = vec![vec![format!("Split both: {top}; {side}.")]];
    said.extend(grid.rows.iter().map(|row| of_row(grid, row, style)));
    if grid.rows.len() > 1 {
        let sums: Vec<String> = grid.rows.iter().map(|row| style.number(row.value)).collect();
        let sum = sums.join("\u{A0}+\u{A0}");
        said.push(vec![format!(
            "Add the row sums: {sum}\u{A0}=\u{A0}{}.",
            style.number(grid.value)
        )]);
    }
    said
}

fn times(row: &GridRow) -> u64 {
    u64::from(row.digit) * row.place
}

fn of_row(grid: &Grid, row: &GridRow, style: &HouseStyle) -> Vec<String> {
    let mut cells = grid.parts.iter().zip(&row.cells).map(|(&part, &cell)| {
        let sum = style.sum(times(row), part);
        (
            format!("{sum}: {}.", in_words(times(row), part, style)),
            format!("{sum}\u{A0}=\u{A0}{}", style.number(cell)),
        )
    });
    let first = cells.next().map(|(said, _)| said);
    let rest: Vec<String> = cells.map(|(_, plain)| plain).collect();
    let sum = format!("Row sum: {}.", style.number(row.value));
    let rest = if rest.is_empty() { sum } else { format!("{}. {sum}", rest.join(", ")) };
    first.into_iter().chain([rest]).collect()
}

/// "3 sevens are 21, two 0s: 2,100": a product of two round numbers.
fn in_words(a: u64, b: u64, style: &HouseStyle) -> String {
    let small = |n: u64| u8::try_from(leading_digit(n)).unwrap_or(9);
    let said = fact(small(a), small(b));
    let noughts = digits(a).len() + digits(b).len() - 2;
    let product = style.number(a * b);
    match noughts {
        0 => said,
        1 => format!("{said}, a 0: {product}"),
        more => format!("{said}, {} 0s: {product}", number_word(more)),
    }
}

/// What to say of a lattice: where the numbers stand, its first cell, its diagonals.
pub fn lattice_words(lattice: &Lattice, style: &HouseStyle) -> Vec<String> {
    let number = |n: u64| style.number(n);
    let mut said = vec![format!(
        "Write {} along the top, {} down the side.",
        number(lattice.a),
        number(lattice.b)
    )];
    let highest = |n: u64| digits(n).last().copied().unwrap_or(0);
    if let Some(first) = lattice.cells.first().and_then(|row| row.first()) {
        let fact = fact(highest(lattice.b), highest(lattice.a));
        let (over, under) = (first / 10, first % 10);
        said.push(format!("First cell: {fact}. {over} over the diagonal, {under} under it."));
    }
    let sums: Vec<String> = lattice.diagonals.iter().map(u8::to_string).collect();
    said.push(format!(
        "Add along the diagonals, from the lower right corner on: {}.",
        sums.join(", ")
    ));
    if lattice.carries.iter().any(|carry| *carry > 0) {
        said.push(style.in_words("Of 10 or more write the ones, and carry the tens to the next."));
    }
    said
}

/// What to say of an estimate: the round numbers, their fact, its noughts.
pub fn estimate_words(about: &Estimate, style: &HouseStyle) -> String {
    let [a, b] = about.factors;
    let (x, y) = (style.number(a), style.number(b));
    format!("Say: the round numbers are {x} and {y}. {}.", capital(&in_words(a, b, style)))
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or_else(String::new, |c| c.to_uppercase().chain(letters).collect())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::method::{estimate, grid, lattice};

    fn plain(text: &str) -> String {
        text.replace('\u{A0}', " ")
    }

    #[test]
    fn a_grid_is_said_row_by_row() {
        let style = HouseStyle::default();
        let said: Vec<String> = grid_words(&grid(75, 35), &style)
            .iter()
            .map(|lines| plain(&lines.join(" / ")))
            .collect();
        assert_eq!(
            said,
            [
                "Split both: 75 is 70 and 5; 35 is 30 and 5.",
                "30 × 70: 3 sevens are 21, two 0s: 2,100. / 30 × 5 = 150. Row sum: 2,250.",
                "5 × 70: 5 sevens are 35, a 0: 350. / 5 × 5 = 25. Row sum: 375.",
                "Add the row sums: 2,250 + 375 = 2,625.",
            ]
        );
        let one = grid_words(&grid(42, 6), &style);
        assert_eq!(one[0], ["Split both: 42 is 40 and 2; 6 stays whole."]);
        assert_eq!(one.len(), 2, "one row has nothing to be added to");
    }

    #[test]
    fn a_lattice_and_an_estimate_are_said_with_their_numbers() {
        let style = HouseStyle::default();
        assert_eq!(
            lattice_words(&lattice(47, 36), &style),
            [
                "Write 47 along the top, 36 down the side.",
                "First cell: 3\u{a0}fours are 12. 1 over the diagonal, 2 under it.",
                "Add along the diagonals, from the lower right corner on: 2, 9, 6, 1.",
            ]
        );
        let carried = lattice_words(&lattice(98, 79), &style);
        assert!(carried[3].ends_with("carry the tens to the next."), "{carried:?}");
        assert_eq!(
            estimate_words(&estimate(312, 48), &style),
            "Say: the round numbers are 300 and 50. 3\u{a0}fives are 15, three 0s: 15,000."
        );
        assert_eq!(
            estimate_words(&estimate(312, 7), &style),
            "Say: the round numbers are 300 and 7. 3\u{a0}sevens are 21, two 0s: 2,100."
        );
    }
}
