//! Two patterns in one sum: rows worked in one wrong way and put together in another, or right rows
//! placed in one wrong way and added in another.
//!
//! Only what is plausible is put together: what goes wrong inside a row (a carry, a zero, a fact)
//! with what goes wrong in placing or adding the rows, and what goes wrong in placing rows with the
//! carries lost in adding them. Other combinations show in different sums of one pupil, not in one
//! sum (Brown and VanLehn 1980 keep only combinations that pupils show). Answer and page come from
//! the same rows, as those of one pattern do.

use super::column::Pen;
use super::long::{added, added_without_carries, copied_row, parts, row};
use super::working::{Detail, WrongLong, WrongRow, WrongWorking, without_carries};
use super::{Family, LARGEST, Pattern, Procedure, Task, catalogue, facts, house, pattern, rows};
use crate::method::{Grid, Lattice, Written, ordered};
use crate::number::{digits, ten_to};

/// What goes wrong in placing or adding rows, where it can stand beside what goes wrong inside them.
const PLACING: [&str; 9] = [
    "placeholder-left-out",
    "hundreds-row-shifted-once",
    "row-after-zero-closed-up",
    "later-rows-extra-zero",
    "rows-shifted-in-reverse",
    "only-first-row",
    "only-highest-row",
    "zero-row-copied",
    ADDING,
];

/// What goes wrong in adding rows, wherever they stand.
const ADDING: &str = "adding-carries-lost";

/// What goes wrong in placing rows, where there are still several of them to be added.
const MISPLACING: [&str; 6] = [
    "placeholder-left-out",
    "hundreds-row-shifted-once",
    "row-after-zero-closed-up",
    "later-rows-extra-zero",
    "rows-shifted-in-reverse",
    "zero-row-copied",
];

/// What leaves no row that a pupil could work for a zero of the multiplier.
const SKIPS: [&str; 2] = ["row-after-zero-closed-up", "zero-row-copied"];

/// Whether these can be put together in one sum.
pub fn stand_together(one: &Pattern, other: &Pattern) -> bool {
    in_turn(one, other).is_some()
}

/// Every two that can be put together, in the order in which they go wrong.
pub fn all_that_stand_together() -> impl Iterator<Item = (&'static Pattern, &'static Pattern)> {
    let known = |names: &'static [&'static str]| names.iter().filter_map(|name| pattern(name));
    let inside = catalogue().iter().filter(|p| is_inside(p));
    let of_rows = inside.flat_map(move |p| known(&PLACING).map(move |q| (p, q)));
    let adding = pattern(ADDING).into_iter();
    of_rows.chain(adding.flat_map(move |q| known(&MISPLACING).map(move |p| (p, q))))
}

/// What a pupil answers who does both of these in what is asked, each answer once; empty where they
/// cannot be put together, where the first to go wrong changes nothing, or where the answer is the
/// right one. The method is that of a whole sum, written the usual way round. A zero of the
/// multiplier has no row, or in long multiplication one worked as wrongly as the others.
pub fn both_answers(task: Task, method: Written, one: &Pattern, other: &Pattern) -> Vec<u64> {
    let mut answers: Vec<u64> = Vec::new();
    for page in pages(task, method, one, other, Detail::Answer) {
        if !answers.contains(&page.value()) {
            answers.push(page.value());
        }
    }
    answers
}

/// Of these answers those that neither pattern gives by itself: both show there.
pub fn both_show(task: Task, method: Written, one: &Pattern, other: &Pattern) -> Vec<u64> {
    let mut answers = both_answers(task, method, one, other);
    if !answers.is_empty() {
        let alone: Vec<u64> =
            [one, other].into_iter().flat_map(|p| task.answers(p)).map(|(a, _)| a).collect();
        answers.retain(|answer| !alone.contains(answer));
    }
    answers
}

/// The page of a pupil who does both and so comes to this answer; `None` where they do not.
pub fn show_both(
    task: Task,
    method: Written,
    (one, other): (&Pattern, &Pattern),
    answer: u64,
) -> Option<WrongWorking> {
    let pages = pages(task, method, one, other, Detail::Page);
    pages.into_iter().find(|page| page.value() == answer)
}

/// Whether this goes wrong inside a row.
fn is_inside(pattern: &Pattern) -> bool {
    matches!(pattern.family, Family::Row | Family::SingleFact)
}

/// The two in the order in which they go wrong, where they can be put together: inside rows before
/// placing or adding them, placing before adding.
fn in_turn<'p>(one: &'p Pattern, other: &'p Pattern) -> Option<(&'p Pattern, &'p Pattern)> {
    let before = |first: &Pattern, second: &Pattern| {
        let misplaced = second.name == ADDING && MISPLACING.contains(&first.name);
        misplaced || (is_inside(first) && PLACING.contains(&second.name))
    };
    if before(one, other) {
        Some((one, other))
    } else if before(other, one) {
        Some((other, one))
    } else {
        None
    }
}

/// The wrong pages of both together.
fn pages(
    task: Task,
    method: Written,
    one: &Pattern,
    other: &Pattern,
    how: Detail,
) -> Vec<WrongWorking> {
    let Some((first, second)) = in_turn(one, other) else { return Vec::new() };
    let mut pages: Vec<WrongWorking> = match task {
        Task::Written(a, b) if a.min(b) >= 10 && a.max(b) <= LARGEST => {
            let (a, b) = ordered(a, b);
            if !is_inside(first) {
                let found = misplaced(first.name, (a, b), how);
                return found.filter(|_| method == Written::Long).into_iter().collect();
            }
            let how = if method == Written::Long { how } else { Detail::Page };
            let mut ways = ways(first, a, &parts(b), how);
            if method == Written::Long && !SKIPS.contains(&second.name) {
                ways.extend(with_zero_rows(first, a, b, how));
            }
            ways.into_iter()
                .filter_map(|rows| match method {
                    Written::Long => placed(second.name, rows, (a, b), how),
                    other => in_cells(second.name, rows, (a, b), other),
                })
                .collect()
        }
        Task::Row { a, digit, place } if a <= LARGEST => {
            let power = digits(place).len() - 1;
            let ways = ways(first, a, &[(power, digit)], how).into_iter().flatten();
            ways.filter_map(|worked| alone(second.name, worked, a)).collect()
        }
        _ => Vec::new(),
    };
    pages.retain(|page| page.value() != task.right());
    pages
}

/// A row worked and not yet put in its place: its place's power of ten, its digit, what was written.
type Worked = (usize, u8, Pen);

/// The rows of these digits in each way the pattern may come out; none where all rows are right. A
/// fact that is wrong comes out the same in every row.
fn ways(inside: &Pattern, a: u64, parts: &[(usize, u8)], how: Detail) -> Vec<Vec<Worked>> {
    let top = digits(a);
    let each = |work: &dyn Fn(&[u8], u8, &mut Pen)| -> Vec<Worked> {
        let rows = parts.iter().map(|&(power, digit)| {
            let mut pen = Pen::new(how == Detail::Page);
            work(&top, digit, &mut pen);
            (power, digit, pen)
        });
        rows.collect()
    };
    let mut ways: Vec<Vec<Worked>> = match inside.procedure {
        Procedure::Row(work) if a >= 10 => vec![each(&work)],
        Procedure::SingleFact(x, y) => {
            let taken = facts::taken_for(x, y).iter();
            taken
                .map(|&n| each(&|top, digit, pen| rows::fact_wrong(top, digit, (x, y), n, pen)))
                .collect()
        }
        _ => Vec::new(),
    };
    let wrong = |(_, digit, pen): &Worked| pen.value != a * u64::from(*digit);
    ways.retain(|rows| rows.iter().any(wrong));
    ways
}

/// The rows with one for each zero of the multiplier, worked as wrongly as the others; `None` where
/// there is no zero, or nothing but noughts in its row.
fn with_zero_rows(inside: &Pattern, a: u64, b: u64, how: Detail) -> Option<Vec<Worked>> {
    let all: Vec<(usize, u8)> = digits(b).into_iter().enumerate().collect();
    if !matches!(inside.procedure, Procedure::Row(_)) || all.iter().all(|(_, digit)| *digit != 0) {
        return None;
    }
    let rows = ways(inside, a, &all, how).pop()?;
    rows.iter().any(|(_, digit, pen)| *digit == 0 && pen.value != 0).then_some(rows)
}

/// The rows put together in a wrong way.
fn placed(
    placing: &str,
    mut worked: Vec<Worked>,
    (a, b): (u64, u64),
    how: Detail,
) -> Option<WrongWorking> {
    match placing {
        "only-first-row" => worked.truncate(1),
        "only-highest-row" => worked = worked.pop().into_iter().collect(),
        _ => {}
    }
    let rows = laid(placing, worked, (a, b), how)?;
    Some(match placing {
        ADDING => WrongWorking::Long(added_without_carries(a, b, rows, how)),
        _ => added(a, b, rows, how),
    })
}

/// Each row where this pattern puts it.
fn laid(
    placing: &str,
    worked: Vec<Worked>,
    (a, b): (u64, u64),
    how: Detail,
) -> Option<Vec<WrongRow>> {
    let shift = shift(placing, b)?;
    let rows = worked.into_iter().enumerate();
    let mut rows: Vec<WrongRow> = rows
        .map(|(above, (power, digit, pen))| row(pen, digit, power, shift(power, above)))
        .collect();
    if placing == "zero-row-copied" {
        let zeros = digits(b).into_iter().enumerate().filter(|&(_, digit)| digit == 0);
        rows.extend(zeros.map(|(power, _)| copied_row(&digits(a), power, how)));
        rows.sort_by_key(|row| row.place);
    }
    Some(rows)
}

/// By how many columns a row is moved, from its place's power of ten and how many rows stand above.
type Shift = Box<dyn Fn(usize, usize) -> usize>;

fn shift(placing: &str, b: u64) -> Option<Shift> {
    let top = digits(b).len() - 1;
    Some(match placing {
        "placeholder-left-out" => Box::new(|_, _| 0),
        "hundreds-row-shifted-once" => Box::new(|power, _| power.min(1)),
        "row-after-zero-closed-up" => Box::new(|_, above| above),
        "later-rows-extra-zero" => Box::new(|power, _| if power == 0 { 0 } else { power + 1 }),
        "rows-shifted-in-reverse" => Box::new(move |power, _| top - power),
        "only-first-row" | "only-highest-row" | "zero-row-copied" | ADDING => {
            Box::new(|power, _| power)
        }
        _ => return None,
    })
}

/// Right rows placed in a wrong way and then added without carries; `None` where the answer is right
/// in the end, or where these rows come to it.
fn misplaced(placing: &str, (a, b): (u64, u64), how: Detail) -> Option<WrongWorking> {
    let top = digits(a);
    let right = |(power, digit): (usize, u8)| {
        let mut pen = Pen::new(how == Detail::Page);
        rows::right(&top, digit, &mut pen);
        (power, digit, pen)
    };
    let rows = laid(placing, parts(b).into_iter().map(right).collect(), (a, b), how)?;
    let shows = rows.iter().map(|row| row.value).sum::<u64>() != a * b;
    let long = added_without_carries(a, b, rows, how);
    (shows && long.value != a * b).then_some(WrongWorking::Long(long))
}

/// One row by itself, its zeros written wrongly.
fn alone(placing: &str, (power, digit, pen): Worked, a: u64) -> Option<WrongWorking> {
    let shift = match placing {
        "placeholder-left-out" => 0,
        "hundreds-row-shifted-once" if power > 1 => 1,
        "later-rows-extra-zero" if power > 0 => power + 1,
        _ => return None,
    };
    Some(one_row(a, row(pen, digit, power, shift)))
}

/// The page of a row that stands by itself.
pub(super) fn one_row(a: u64, row: WrongRow) -> WrongWorking {
    let (b, value) = (u64::from(row.digit) * row.place, row.value);
    WrongWorking::Long(WrongLong { a, b, rows: vec![row], adding_carries: Vec::new(), value })
}

/// The cells of a grid or lattice added all at once without carrying: the one mistake of adding that
/// is made there.
fn in_cells(
    placing: &str,
    worked: Vec<Worked>,
    (a, b): (u64, u64),
    method: Written,
) -> Option<WrongWorking> {
    if placing != ADDING {
        return None;
    }
    let rows = worked.into_iter().map(|(power, digit, pen)| row(pen, digit, power, power));
    let WrongWorking::Long(long) = added(a, b, rows.collect(), Detail::Page) else { return None };
    if method == Written::Lattice {
        let lattice = house::in_lattice(&long)?;
        let diagonals = house::diagonals(&lattice.cells);
        let written = diagonals.iter().enumerate();
        let value = written.map(|(i, sum)| u64::from(sum % 10) * ten_to(i)).sum();
        let carries = vec![0; diagonals.len()];
        return Some(WrongWorking::Lattice(Lattice { diagonals, carries, value, ..lattice }));
    }
    let square = house::in_grid(&long)?;
    let cells: Vec<u64> = square.rows.iter().flat_map(|row| row.cells.iter().copied()).collect();
    Some(WrongWorking::Grid(Grid { value: without_carries(&cells), ..square }))
}
