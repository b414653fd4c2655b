//! What is drawn with a question agrees with it.

use super::super::{Figure, Item, WorkedRow};
use super::text::products;
use super::{Checked, fault, number};

/// The drawing has what the question is about, and the answer comes from it.
pub(super) fn figure(item: &Item) -> Checked {
    let answer = number(item).and_then(|n| u64::try_from(n).ok());
    match (&item.figure, answer) {
        (None, _) => Ok(()),
        (Some(_), None) => fault("a drawing without a number to find".to_owned()),
        (Some(Figure::Array { rows, columns, cut }), Some(n)) => {
            array(item, (*rows, *columns, *cut), n)
        }
        (Some(Figure::Area { across, down, cells }), Some(n)) => area(item, across, down, cells, n),
        (Some(Figure::Worked { a, b, rows, value }), Some(n)) => worked((*a, *b), rows, *value, n),
    }
}

fn array(item: &Item, (rows, columns, cut): (u8, u8, Option<u8>), answer: u64) -> Checked {
    let (rows, columns) = (u64::from(rows), u64::from(columns));
    let asked = match cut {
        Some(cut) if item.prompt.contains("right of the line") => {
            columns.checked_sub(u64::from(cut)).map(|right| rows * right)
        }
        _ => Some(rows * columns),
    };
    if asked == Some(answer) { Ok(()) } else { fault(format!("the dots are not {answer}")) }
}

fn area(
    item: &Item,
    across: &[u64],
    down: &[u64],
    cells: &[Vec<Option<u64>>],
    answer: u64,
) -> Checked {
    let whole: u64 = across.iter().sum::<u64>() * down.iter().sum::<u64>();
    if cells.len() != down.len() || cells.iter().any(|row| row.len() != across.len()) {
        return fault("the rectangle's parts do not fit its sides".to_owned());
    }
    let mut empty = Vec::new();
    for (row, high) in cells.iter().zip(down) {
        for (cell, wide) in row.iter().zip(across) {
            match cell {
                Some(area) if *area != wide * high => {
                    return fault(format!("{wide} by {high} is not {area}"));
                }
                Some(_) => {}
                None => empty.push(wide * high),
            }
        }
    }
    let told: Vec<i128> = products(&item.prompt).into_iter().map(|(a, b)| a * b).collect();
    if told.iter().any(|product| *product != i128::from(whole)) {
        return fault("the rectangle is not that of the question".to_owned());
    }
    let right = match empty[..] {
        [part] if item.prompt.contains("empty part") => part == answer,
        _ => item.prompt.contains("in all") && whole == answer,
    };
    if right { Ok(()) } else { fault(format!("the drawing does not lead to {answer}")) }
}

/// Exactly one line is wrong, and the answer is the product.
fn worked((a, b): (u64, u64), rows: &[WorkedRow], value: u64, answer: u64) -> Checked {
    let wrong_rows = rows.iter().filter(|row| row.value != a * row.times).count();
    let added = rows.iter().map(|row| row.value).sum::<u64>() == value;
    let whole = rows.iter().map(|row| row.times).sum::<u64>() == b;
    if wrong_rows + usize::from(!added) == 1 && whole && a * b == answer && value != answer {
        Ok(())
    } else {
        fault("not exactly one line of the working is wrong".to_owned())
    }
}
