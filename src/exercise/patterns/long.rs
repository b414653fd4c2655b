//! Wrong ways to multiply by a number of several digits: rows, places, the final adding, the grid.
//!
//! Sources: rows without placeholder and carries used again come from practitioners' notes and
//! from Ashlock (from memory); the rest stand in the classic lists (Buswell and John 1926,
//! Brueckner 1930, Cox 1975, Engelhardt 1977, Graeber and Wallace 1977, Attisha and Yazdani 1984;
//! from memory). Weight 1 marks the one made in the spirit of Brown and VanLehn's repair theory.
//!
//! Every procedure is given the number on top, then the multiplier, and writes what the pupil
//! writes. Zero digits of the multiplier get no row unless the pattern is about them or works rows
//! wrongly: a row of noughts would change no other answer.

use super::column::{Column, Done, Pen};
use super::rows::{self, WorkRow};
use super::working::{Detail, WrongLong, WrongRow, WrongWorking, without_carries};
use super::{Family, Pattern, Procedure};
use crate::method::{FirstRow, Grid, GridRow, grid};
use crate::number::{carries_of_adding, digits, ten_to};
use arrayvec::ArrayVec;

/// Writes the working of the first number times the second.
pub(super) type WorkLong = fn(u64, u64, Detail) -> Vec<WrongWorking>;

/// The multiplier's digits that are not zero, each with the power of ten of its place.
pub(super) fn parts(b: u64) -> Vec<(usize, u8)> {
    digits(b).into_iter().enumerate().filter(|&(_, digit)| digit != 0).collect()
}

/// A row from what the pen wrote, with `shift` placeholder noughts behind it.
pub(super) fn row(pen: Pen, digit: u8, power: usize, shift: usize) -> WrongRow {
    WrongRow {
        digit,
        place: ten_to(power),
        value: pen.value * ten_to(shift),
        carries: pen.carries(),
        zeros: shift,
        shift,
        from_left: pen.from_left,
        columnwise: false,
        columns: pen.columns,
    }
}

/// A row worked rightly.
pub(super) fn right_row(
    top: &[u8],
    digit: u8,
    power: usize,
    shift: usize,
    how: Detail,
) -> WrongRow {
    let mut pen = Pen::new(how == Detail::Page);
    rows::right(top, digit, &mut pen);
    row(pen, digit, power, shift)
}

/// Rows with right products, each moved by as many places as `shift` says (its place's power of
/// ten and how many rows stand above it are given).
fn shifted(a: u64, b: u64, how: Detail, shift: impl Fn(usize, usize) -> usize) -> Vec<WrongRow> {
    let top = digits(a);
    let rows = parts(b)
        .into_iter()
        .enumerate()
        .map(|(above, (power, digit))| right_row(&top, digit, power, shift(power, above), how));
    rows.collect()
}

/// The rows of a sum as they should be.
pub(super) fn right_rows(a: u64, b: u64) -> Vec<WrongRow> {
    shifted(a, b, Detail::Page, |power, _| power)
}

/// The rows added up rightly.
pub(super) fn added(a: u64, b: u64, rows: Vec<WrongRow>, how: Detail) -> WrongWorking {
    let value = rows.iter().map(|r| r.value).sum();
    let adding_carries = if how == Detail::Page && rows.len() > 1 {
        carries_of_adding(&rows.iter().map(|r| r.value).collect::<Vec<_>>())
    } else {
        Vec::new()
    };
    WrongWorking::Long(WrongLong { a, b, rows, adding_carries, value })
}

/// The rows added up, the carries between the columns lost.
pub(super) fn added_without_carries(a: u64, b: u64, rows: Vec<WrongRow>, how: Detail) -> WrongLong {
    let value = without_carries(&rows.iter().map(|r| r.value).collect::<Vec<_>>());
    let adding_carries = if how == Detail::Page && rows.len() > 1 {
        vec![0; digits(value).len()]
    } else {
        Vec::new()
    };
    WrongLong { a, b, rows, adding_carries, value }
}

fn several(b: u64) -> bool {
    b >= 10
}

fn placeholder_left_out(a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    vec![added(a, b, shifted(a, b, how, |_, _| 0), how)]
}

fn hundreds_shifted_once(a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    vec![added(a, b, shifted(a, b, how, |power, _| power.min(1)), how)]
}

fn column_by_column(a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    let (top, side) = (digits(a), digits(b));
    let width = top.len().max(side.len());
    let digit = |of: &[u8], i: usize| u64::from(of.get(i).copied().unwrap_or(of[of.len() - 1]));
    let (mut pen, mut carry) = (Pen::new(how == Detail::Page), 0);
    for i in 0..width {
        let (x, y) = (digit(&top, i), digit(&side, i));
        let mut column = Column::of(x, y, Done::Times, x * y, carry);
        carry = column.carry;
        if i + 1 == width {
            column.write = column.whole();
        }
        pen.write(column);
    }
    let only = WrongRow { columnwise: true, ..row(pen, side[0], 0, 0) };
    vec![added(a, b, vec![only], how)]
}

/// The grid of two numbers of several digits, with each cell as `cell` makes it: the powers of ten
/// of its two parts and its right value are given.
fn cells(a: u64, b: u64, cell: impl Fn(usize, usize, u64) -> u64) -> Vec<WrongWorking> {
    if a < 10 {
        return Vec::new();
    }
    let right = grid(a, b);
    let across: Vec<usize> = parts(right.a).into_iter().rev().map(|(power, _)| power).collect();
    let turned = right.a != a;
    let rows: Vec<_> = right
        .rows
        .iter()
        .map(|row| {
            let down = usize::try_from(row.place.ilog10()).unwrap_or(0);
            let cells: Vec<u64> = (across.iter().zip(&row.cells))
                .map(|(&i, &c)| if turned { cell(down, i, c) } else { cell(i, down, c) })
                .collect();
            GridRow { value: cells.iter().sum(), cells, ..row.clone() }
        })
        .collect();
    vec![WrongWorking::Grid(Grid { value: rows.iter().map(|r| r.value).sum(), rows, ..right })]
}

fn top_power(n: u64) -> usize {
    n.checked_ilog10().and_then(|power| usize::try_from(power).ok()).unwrap_or(0)
}

fn matching_places_only(a: u64, b: u64, _: Detail) -> Vec<WrongWorking> {
    cells(a, b, |i, j, cell| if i == j { cell } else { 0 })
}

/// A row for a zero that holds the number on top itself.
pub(super) fn copied_row(top: &[u8], power: usize, how: Detail) -> WrongRow {
    let mut pen = Pen::new(how == Detail::Page);
    for &t in top {
        let copied = u64::from(t);
        pen.write(Column::of(copied, 0, Done::Times, copied, 0));
    }
    row(pen, 0, power, power)
}

fn zero_row_copied(a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    let top = digits(a);
    let rows = digits(b).into_iter().enumerate().map(|(power, digit)| match digit {
        0 => copied_row(&top, power, how),
        _ => right_row(&top, digit, power, power, how),
    });
    vec![added(a, b, rows.collect(), how)]
}

fn zero_row_closed_up(a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    vec![added(a, b, shifted(a, b, how, |_, above| above), how)]
}

/// A row worked while the first row's carries still stand on the page.
fn with_old_carries(a: &[u8], digit: u8, old: &[u64], instead: bool, pen: &mut Pen) {
    let mut carry = 0;
    for (i, &t) in a.iter().enumerate() {
        let waiting = if i == 0 { 0 } else { old[i - 1] };
        let added = match (instead, waiting) {
            (true, 0) | (false, _) => [carry, if instead { 0 } else { waiting }],
            (true, waiting) => [waiting, 0],
        };
        let (top, by) = (u64::from(t), u64::from(digit));
        let mut column = Column { added, ..Column::of(top, by, Done::Times, top * by, 0) }.split();
        carry = column.carry;
        if i + 1 == a.len() {
            column.write = column.whole();
        }
        pen.write(column);
    }
}

/// The carry out of each digit of a row worked rightly.
fn right_carries(top: &[u8], digit: u8) -> Vec<u64> {
    let mut carry = 0;
    let carries = top.iter().map(|&t| {
        carry = (u64::from(t) * u64::from(digit) + carry) / 10;
        carry
    });
    carries.collect()
}

/// Old carries used again; the first row written is the ones' or the highest digit's. Where the
/// multiplier has a zero, once without a row for it and once with one.
fn carries_used_again(a: u64, b: u64, instead: bool, how: Detail) -> Vec<WrongWorking> {
    let top = digits(a);
    let worked = |mut parts: Vec<(usize, u8)>, order: FirstRow| {
        if order == FirstRow::Highest {
            parts.reverse();
        }
        let mut old: Option<Vec<u64>> = None;
        let mut rows = Vec::new();
        for (power, digit) in parts {
            let mut pen = Pen::new(how == Detail::Page);
            match &old {
                None => {
                    rows::right(&top, digit, &mut pen);
                    old = Some(right_carries(&top, digit));
                }
                Some(old) => with_old_carries(&top, digit, old, instead, &mut pen),
            }
            rows.push(row(pen, digit, power, power));
        }
        added(a, b, rows, how)
    };
    let all: Vec<(usize, u8)> = digits(b).into_iter().enumerate().collect();
    let with_zeros = (all.len() > parts(b).len()).then_some(all);
    let rows = [Some(parts(b)), with_zeros].into_iter().flatten();
    let both = |rows: Vec<(usize, u8)>| {
        [worked(rows.clone(), FirstRow::Ones), worked(rows, FirstRow::Highest)]
    };
    rows.flat_map(both).collect()
}

fn old_carries_added(a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    carries_used_again(a, b, false, how)
}

fn old_carry_instead(a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    carries_used_again(a, b, true, how)
}

/// Rows are added without carrying, or all cells of the grid at once; the diagonals of the lattice
/// hold the same digits as the columns of the cells.
fn adding_carries_lost(a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    let rows = shifted(a, b, how, |power, _| power);
    let square = grid(a, b);
    let all: Vec<u64> = square.rows.iter().flat_map(|r| r.cells.iter().copied()).collect();
    vec![
        WrongWorking::Long(added_without_carries(a, b, rows, how)),
        WrongWorking::Grid(Grid { value: without_carries(&all), ..square }),
    ]
}

fn first_row_only(a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    let mut rows = shifted(a, b, how, |power, _| power);
    rows.truncate(1);
    vec![added(a, b, rows, how)]
}

fn highest_row_only(a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    let last = shifted(a, b, how, |power, _| power).pop();
    vec![added(a, b, last.into_iter().collect(), how)]
}

fn ones_by_leading_left_out(a: u64, b: u64, _: Detail) -> Vec<WrongWorking> {
    let lead = top_power(b);
    cells(a, b, |i, j, cell| if (i, j) == (0, lead) { 0 } else { cell })
}

fn leading_by_ones_left_out(a: u64, b: u64, _: Detail) -> Vec<WrongWorking> {
    let lead = top_power(a);
    cells(a, b, |i, j, cell| if (i, j) == (lead, 0) { 0 } else { cell })
}

fn largest_cell_zero_lost(a: u64, b: u64, _: Detail) -> Vec<WrongWorking> {
    let lead = (top_power(a), top_power(b));
    cells(a, b, |i, j, cell| if (i, j) == lead { cell / 10 } else { cell })
}

fn later_rows_extra_zero(a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    let shift = |power: usize, _| if power == 0 { 0 } else { power + 1 };
    vec![added(a, b, shifted(a, b, how, shift), how)]
}

/// Every row begins with a nought too many, that of the ones as well.
pub(super) fn every_row_extra_zero(a: u64, b: u64, how: Detail) -> WrongWorking {
    added(a, b, shifted(a, b, how, |power, _| power + 1), how)
}

fn rows_shifted_in_reverse(a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    let top = top_power(b);
    vec![added(a, b, shifted(a, b, how, |power, _| top - power), how)]
}

/// Writes a row's noughts over the digits that stand in their squares.
pub(super) fn zeros_over(row: &mut WrongRow) {
    row.value = row.value / row.place * row.place;
    row.zeros = top_power(row.place);
}

fn zero_written_over_digit(a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    let mut rows = shifted(a, b, how, |_, _| 0);
    rows.iter_mut().for_each(zeros_over);
    vec![added(a, b, rows, how)]
}

const fn long(
    weight: u32,
    name: &'static str,
    procedure: WorkLong,
    short: &'static str,
    shows: &'static str,
    teach: &'static str,
) -> Pattern {
    let procedure = Procedure::Written(procedure);
    Pattern { name, short, shows, teach, family: Family::Long, weight, procedure }
}

/// A long sum whose every row is worked in one wrong way, and whose rows are added rightly. Where
/// the multiplier has a zero, once without a row for it and once with one, worked as wrongly.
pub(super) fn with_rows(work: WorkRow, a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    let worked = |(power, digit): (usize, u8)| {
        let pen = rows::apply(work, a, digit, how)?;
        Some(row(pen, digit, power, power))
    };
    let without: Option<Vec<WrongRow>> = parts(b).into_iter().map(worked).collect();
    let Some(without) = without.filter(|rows| !rows.is_empty()) else { return Vec::new() };
    let mut pages = vec![added(a, b, without, how)];
    let all = digits(b);
    if all.contains(&0) {
        let rows: Option<Vec<WrongRow>> = all.into_iter().enumerate().map(worked).collect();
        pages.extend(rows.map(|rows| added(a, b, rows, how)));
    }
    pages
}

/// What the pages of [`with_rows`] come to.
pub(super) fn answers_with_rows(work: WorkRow, a: u64, b: u64) -> ArrayVec<u64, 2> {
    let mut answers = ArrayVec::new();
    if a < 10 || b == 0 {
        return answers;
    }
    let (top, side) = (digits(a), digits(b));
    let value = |(power, &digit): (usize, &u8)| {
        let mut pen = Pen::new(false);
        work(&top, digit, &mut pen);
        pen.value * ten_to(power)
    };
    let rows = || side.iter().enumerate();
    answers.push(rows().filter(|(_, digit)| **digit != 0).map(value).sum());
    if side.contains(&0) {
        answers.push(rows().map(value).sum());
    }
    answers
}

/// The rows of a sum in which one fact is taken to be another number wherever it is needed.
pub(super) fn with_fact(a: u64, b: u64, fact: (u8, u8), taken: u64, how: Detail) -> WrongWorking {
    let top = digits(a);
    let rows = parts(b).into_iter().map(|(power, digit)| {
        let mut pen = Pen::new(how == Detail::Page);
        rows::fact_wrong(&top, digit, fact, taken, &mut pen);
        row(pen, digit, power, power)
    });
    added(a, b, rows.collect(), how)
}

/// What these procedures give for a sum; nothing where the multiplier has one digit.
pub(super) fn apply(procedure: WorkLong, a: u64, b: u64, how: Detail) -> Vec<WrongWorking> {
    if several(b) && a > 0 { procedure(a, b, how) } else { Vec::new() }
}

pub(super) const LONG: &[Pattern] = &[
    long(
        3,
        "placeholder-left-out",
        placeholder_left_out,
        "zeros left out",
        "the second and later rows lack their zeros",
        "Write beside each row what it is times: × 6, × 30. Estimate the row first (50 × 30 is \
         1,500), then write its zero before anything else.",
    ),
    long(
        3,
        "hundreds-row-shifted-once",
        hundreds_shifted_once,
        "hundreds: one zero",
        "the rows from the hundreds on end in one zero only",
        "Label the rows × 6, × 30, × 200 and let the label say how many zeros end the row. Work \
         4 × 200 with place-value counters beside 4 × 20.",
    ),
    long(
        3,
        "column-by-column",
        column_by_column,
        "column times column",
        "each column is multiplied once, as in adding",
        "Draw the area model: every part of one number meets every part of the other. Count the \
         products that 47 × 36 needs (four) and find those that are missing.",
    ),
    long(
        3,
        "only-like-places",
        matching_places_only,
        "only like places",
        "only like places are multiplied: ones by ones, tens by tens",
        "Draw the grid and colour the cells that were worked out: the others are missing. Check by \
         size: 47 × 36 must come to more than 40 × 30.",
    ),
    long(
        3,
        "zero-row-copied",
        zero_row_copied,
        "zero row copied",
        "for a zero in the multiplier the number itself is written as a row",
        "Read the row aloud: 0 tens times 423 is nothing. Practise × 0 as “no groups of”, then \
         leave the row out or write noughts, as the class does.",
    ),
    long(
        3,
        "row-after-zero-closed-up",
        zero_row_closed_up,
        "row after 0 misplaced",
        "the row after a zero in the multiplier is not moved far enough",
        "Label each row with what it is times (× 6, × 200): the label, not the row above, says how \
         many zeros to write. Compare 423 × 26 with 423 × 206.",
    ),
    long(
        3,
        "old-carries-added-again",
        old_carries_added,
        "old carries added again",
        "carries of the first row are added again in later rows",
        "Cross out every carry as soon as it is used, or keep the carries of each row in that row. \
         Cover the first row's carries before the second row begins.",
    ),
    long(
        3,
        "old-carry-used-instead",
        old_carry_instead,
        "old carry used instead",
        "carries of the first row are used in place of the new carries",
        "Cross out every carry as soon as it is used, or keep the carries of each row in that row. \
         Say each column aloud: times, then add the carry just made.",
    ),
    long(
        3,
        "adding-carries-lost",
        adding_carries_lost,
        "adding carries lost",
        "rows or parts are right; carries are lost when they are added",
        "The multiplying is secure: practise adding two or three long numbers alone. Keep a line of \
         squares under the sum for its carries.",
    ),
    long(
        3,
        "only-first-row",
        first_row_only,
        "only the ones' row",
        "only the first row, that of the lowest place, is worked out",
        "Before beginning, write a label for every row: × 6 and × 30. Tick each digit of the lower \
         number when its row is written; compare with the estimate.",
    ),
    long(
        3,
        "only-highest-row",
        highest_row_only,
        "only the highest row",
        "only the row of the highest place is worked out",
        "Before beginning, write a label for every row: × 6 and × 30. Tick each digit of the lower \
         number when its row is written.",
    ),
    long(
        3,
        "ones-by-leading-left-out",
        ones_by_leading_left_out,
        "ones × largest left out",
        "the top number's ones times the multiplier's largest part is missing",
        "Count the parts before multiplying: two digits by two make four products, three by two \
         six. Lay the sum out as a grid and look for the empty cell.",
    ),
    long(
        3,
        "leading-by-ones-left-out",
        leading_by_ones_left_out,
        "largest × ones left out",
        "the top number's largest part times the multiplier's ones is missing",
        "Count the parts before multiplying: two digits by two make four products, three by two \
         six. Lay the sum out as a grid and look for the empty cell.",
    ),
    long(
        3,
        "largest-part-zero-lost",
        largest_cell_zero_lost,
        "largest part: zero lost",
        "the product of the two largest parts is one zero short",
        "Say it in units: 4 tens times 3 tens is 12 hundreds. Estimate the whole product first and \
         compare the largest part with it.",
    ),
    long(
        3,
        "later-rows-extra-zero",
        later_rows_extra_zero,
        "a zero too many in rows",
        "the second and later rows end in one zero too many",
        "Label the rows × 6, × 30, × 200 and let the label say how many zeros end the row. \
         Estimate the row first (400 × 200).",
    ),
    long(
        3,
        "rows-shifted-in-reverse",
        rows_shifted_in_reverse,
        "rows' zeros exchanged",
        "the first row ends in zeros and the last in none",
        "Label each row with what it is times before writing it: × 6 needs no zero, × 30 needs one. \
         Ask which digit is being used, and what it is worth.",
    ),
    long(
        1,
        "zero-written-over-digit",
        zero_written_over_digit,
        "zero in a digit's place",
        "the zero takes the place of the row's last digit",
        "Write the zero first, then work the row to its left. Compare 47 × 3 = 141 with 47 × 30: ten \
         times as much has one digit more.",
    ),
];
