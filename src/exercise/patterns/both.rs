//! Two patterns in one sum: rows worked in one wrong way and put together in another.
//!
//! Only what is plausible is put together: what goes wrong inside a row (a carry, a zero, a fact)
//! with what goes wrong in placing or adding the rows, and rows put in wrong places with carries lost
//! in adding them. Other combinations show in different sums of one pupil, not in one sum (Brown and
//! VanLehn 1980 keep only combinations that pupils show).
//! Answer and page come from the same rows, as those of one pattern do.

use super::column::Pen;
use super::long::{added, added_without_carries, copied_row, parts, row};
use super::working::{Detail, WrongLong, WrongRow, WrongWorking, without_carries};
use super::{Family, LARGEST, Pattern, Procedure, Task, facts, house, rows};
use crate::method::{Grid, Lattice, Written, ordered};
use crate::number::{digits, ten_to};

/// What goes wrong in placing or adding rows, where it can stand beside what goes wrong inside them.
pub const PLACING: [&str; 9] = [
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

/// What goes wrong in adding the rows.
pub const ADDING: &str = "adding-carries-lost";

/// What puts several rows in wrong places, so that carries can be lost in adding them as well.
pub const MISPLACING: [&str; 6] = [
    "placeholder-left-out",
    "hundreds-row-shifted-once",
    "row-after-zero-closed-up",
    "later-rows-extra-zero",
    "rows-shifted-in-reverse",
    "zero-row-copied",
];

/// Whether these can be put together in one sum.
pub fn stand_together(one: &Pattern, other: &Pattern) -> bool {
    misplaced(one, other).is_some()
        || in_turn(one, other).is_some_and(|(_, placing)| PLACING.contains(&placing.name))
}

/// What a pupil answers who does both of these in what is asked, each answer once; empty where they
/// cannot be put together, or where the answer is the right one. The method is that of a whole sum.
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

/// The pattern inside a row and that of placing or adding the rows, where these are such.
fn in_turn<'p>(one: &'p Pattern, other: &'p Pattern) -> Option<(&'p Pattern, &'p Pattern)> {
    let inside = |p: &Pattern| matches!(p.family, Family::Row | Family::SingleFact);
    match (inside(one), inside(other)) {
        (true, false) if other.family == Family::Long => Some((one, other)),
        (false, true) if one.family == Family::Long => Some((other, one)),
        _ => None,
    }
}

/// The pattern that puts rows in wrong places, where the other one loses the carries in adding them.
fn misplaced<'p>(one: &'p Pattern, other: &'p Pattern) -> Option<&'p Pattern> {
    let placing = match (one.name, other.name) {
        (_, ADDING) => one,
        (ADDING, _) => other,
        _ => return None,
    };
    MISPLACING.contains(&placing.name).then_some(placing)
}

/// The wrong pages of both together.
fn pages(
    task: Task,
    method: Written,
    one: &Pattern,
    other: &Pattern,
    how: Detail,
) -> Vec<WrongWorking> {
    let mut pages = match (misplaced(one, other), in_turn(one, other)) {
        (Some(placing), _) => misplaced_pages(task, method, placing, how),
        (None, Some(turn)) => pages_in_turn(task, method, turn, how),
        (None, None) => Vec::new(),
    };
    pages.retain(|page| page.value() != task.right());
    pages
}

/// Rows that are right, put in wrong places and added without carries: in long multiplication only.
fn misplaced_pages(
    task: Task,
    method: Written,
    placing: &Pattern,
    how: Detail,
) -> Vec<WrongWorking> {
    let Task::Written(a, b) = task else { return Vec::new() };
    if method != Written::Long || a.min(b) < 10 || a.max(b) > LARGEST {
        return Vec::new();
    }
    let (a, b) = ordered(a, b);
    let worked = each_row(a, &parts(b), how, &rows::right);
    match placed(placing.name, worked, (a, b), how) {
        Some(WrongWorking::Long(long)) if long.value != a * b => {
            vec![WrongWorking::Long(added_without_carries(a, b, long.rows, how))]
        }
        _ => Vec::new(),
    }
}

/// What goes wrong inside the rows, then in placing or adding them.
fn pages_in_turn(
    task: Task,
    method: Written,
    (inside, placing): (&Pattern, &Pattern),
    how: Detail,
) -> Vec<WrongWorking> {
    match task {
        Task::Written(a, b) if a.min(b) >= 10 && a.max(b) <= LARGEST => {
            let (a, b) = ordered(a, b);
            let how = if method == Written::Long { how } else { Detail::Page };
            let ways = ways(inside, a, &parts(b), how).into_iter();
            ways.filter_map(|rows| match method {
                Written::Long => placed(placing.name, rows, (a, b), how),
                other => in_cells(placing.name, rows, (a, b), other),
            })
            .collect()
        }
        Task::Row { a, digit, place } if a <= LARGEST => {
            let power = digits(place).len() - 1;
            let ways = ways(inside, a, &[(power, digit)], how).into_iter().flatten();
            ways.filter_map(|worked| alone(placing.name, worked, a)).collect()
        }
        _ => Vec::new(),
    }
}

/// A row worked and not yet put in its place: its place's power of ten, its digit, what was written.
type Worked = (usize, u8, Pen);

/// The rows of these digits, each worked in this way.
fn each_row(
    a: u64,
    parts: &[(usize, u8)],
    how: Detail,
    work: &dyn Fn(&[u8], u8, &mut Pen),
) -> Vec<Worked> {
    let top = digits(a);
    let rows = parts.iter().map(|&(power, digit)| {
        let mut pen = Pen::new(how == Detail::Page);
        work(&top, digit, &mut pen);
        (power, digit, pen)
    });
    rows.collect()
}

/// The rows of these digits in each way the pattern may come out; none where all rows are right. A
/// fact that is wrong comes out the same in every row.
fn ways(inside: &Pattern, a: u64, parts: &[(usize, u8)], how: Detail) -> Vec<Vec<Worked>> {
    let each = |work: &dyn Fn(&[u8], u8, &mut Pen)| each_row(a, parts, how, work);
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

/// The rows put together in a wrong way.
fn placed(
    placing: &str,
    mut worked: Vec<Worked>,
    (a, b): (u64, u64),
    how: Detail,
) -> Option<WrongWorking> {
    let top = digits(b).len() - 1;
    let shift: &dyn Fn(usize, usize) -> usize = match placing {
        "placeholder-left-out" => &|_, _| 0,
        "hundreds-row-shifted-once" => &|power, _| power.min(1),
        "row-after-zero-closed-up" => &|_, above| above,
        "later-rows-extra-zero" => &|power, _| if power == 0 { 0 } else { power + 1 },
        "rows-shifted-in-reverse" => &|power, _| top - power,
        "only-first-row" | "only-highest-row" | "zero-row-copied" | "adding-carries-lost" => {
            &|power, _| power
        }
        _ => return None,
    };
    match placing {
        "only-first-row" => worked.truncate(1),
        "only-highest-row" => worked = worked.pop().into_iter().collect(),
        _ => {}
    }
    let rows = worked.into_iter().enumerate();
    let mut rows: Vec<WrongRow> = rows
        .map(|(above, (power, digit, pen))| row(pen, digit, power, shift(power, above)))
        .collect();
    if placing == "zero-row-copied" {
        let zeros = digits(b).into_iter().enumerate().filter(|&(_, digit)| digit == 0);
        rows.extend(zeros.map(|(power, _)| copied_row(&digits(a), power, how)));
        rows.sort_by_key(|row| row.place);
    }
    Some(match placing {
        "adding-carries-lost" => WrongWorking::Long(added_without_carries(a, b, rows, how)),
        _ => added(a, b, rows, how),
    })
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
    if placing != "adding-carries-lost" {
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
