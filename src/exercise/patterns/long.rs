//! Wrong ways to multiply by a number of several digits: rows, places, the final adding, the grid.
//!
//! Sources: rows without placeholder and carries used again come from practitioners' notes and
//! from Ashlock (from memory); the rest stand in the classic lists (Buswell and John 1926,
//! Brueckner 1930, Cox 1975, Engelhardt 1977, Graeber and Wallace 1977, Attisha and Yazdani 1984;
//! from memory). Weight 1 marks the one made in the spirit of Brown and VanLehn's repair theory.
//!
//! Every procedure is given the number on top, then the multiplier, and writes what the pupil
//! writes. Zero digits of the multiplier get no row unless the pattern is about them; a row of
//! noughts would change none of the answers.

use super::working::{WrongWorking, column_carries};
use super::{Family, Pattern, Procedure, rows};
use crate::method::{FirstRow, Grid, GridRow, Long, Row, grid};
use crate::number::{digits, ten_to};

/// The multiplier's digits that are not zero, each with the power of ten of its place.
fn parts(b: u64) -> Vec<(usize, u8)> {
    digits(b).into_iter().enumerate().filter(|&(_, digit)| digit != 0).collect()
}

/// Rows with right products, each moved by as many places as `shift` says (its place's power of
/// ten and how many rows stand above it are given).
fn shifted(a: u64, b: u64, shift: impl Fn(usize, usize) -> usize) -> Vec<Row> {
    let rows = parts(b).into_iter().enumerate().map(|(above, (power, digit))| {
        let line = rows::right(&digits(a), digit);
        let value = line.value * ten_to(shift(power, above));
        Row { digit, place: ten_to(power), value, carries: line.carries }
    });
    rows.collect()
}

/// The rows added up rightly.
pub(super) fn added(a: u64, b: u64, rows: Vec<Row>) -> WrongWorking {
    let values: Vec<u64> = rows.iter().map(|r| r.value).collect();
    let adding_carries = if rows.len() > 1 { column_carries(&values) } else { Vec::new() };
    WrongWorking::Long(Long { a, b, rows, adding_carries, value: values.iter().sum() })
}

/// The sum of numbers when every column's tens are lost.
fn without_carries(numbers: &[u64]) -> u64 {
    let columns: Vec<Vec<u8>> = numbers.iter().map(|&n| digits(n)).collect();
    let width = columns.iter().map(Vec::len).max().unwrap_or(0);
    let column = |i| columns.iter().filter_map(|c| c.get(i)).map(|&d| u64::from(d)).sum::<u64>();
    (0..width).map(|i| column(i) % 10 * ten_to(i)).sum()
}

fn several(b: u64) -> bool {
    b >= 10
}

fn placeholder_left_out(a: u64, b: u64) -> Vec<WrongWorking> {
    vec![added(a, b, shifted(a, b, |_, _| 0))]
}

fn hundreds_shifted_once(a: u64, b: u64) -> Vec<WrongWorking> {
    vec![added(a, b, shifted(a, b, |power, _| power.min(1)))]
}

fn column_by_column(a: u64, b: u64) -> Vec<WrongWorking> {
    let (top, side) = (digits(a), digits(b));
    let width = top.len().max(side.len());
    let digit = |of: &[u8], i: usize| u64::from(of.get(i).copied().unwrap_or(of[of.len() - 1]));
    let (mut value, mut carry, mut carries) = (0, 0, Vec::new());
    for i in 0..width {
        let whole = digit(&top, i) * digit(&side, i) + carry;
        value += if i + 1 == width { whole } else { whole % 10 } * ten_to(i);
        carry = whole / 10;
        carries.push(u8::try_from(carry).unwrap_or(u8::MAX));
    }
    vec![added(a, b, vec![Row { digit: side[0], place: 1, value, carries }])]
}

/// The grid of two numbers of several digits, with each cell as `cell` makes it: the powers of ten of its two parts and its right
/// value are given.
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
    digits(n).len() - 1
}

fn matching_places_only(a: u64, b: u64) -> Vec<WrongWorking> {
    cells(a, b, |i, j, cell| if i == j { cell } else { 0 })
}

fn zero_row_copied(a: u64, b: u64) -> Vec<WrongWorking> {
    let rows = digits(b).into_iter().enumerate().map(|(power, digit)| {
        let line = rows::right(&digits(a), digit.max(1));
        let place = ten_to(power);
        Row { digit, place, value: line.value * place, carries: line.carries }
    });
    vec![added(a, b, rows.collect())]
}

fn zero_row_closed_up(a: u64, b: u64) -> Vec<WrongWorking> {
    vec![added(a, b, shifted(a, b, |_, above| above))]
}

/// A row worked while the first row's carries still stand on the page.
fn with_old_carries(a: u64, digit: u8, old: &[u8], instead: bool) -> (u64, Vec<u8>) {
    let top = digits(a);
    let (mut value, mut carry, mut carries) = (0, 0, Vec::new());
    for (i, &t) in top.iter().enumerate() {
        let waiting = if i == 0 { 0 } else { u64::from(old[i - 1]) };
        let added = match (instead, waiting) {
            (true, 0) => carry,
            (true, waiting) => waiting,
            (false, waiting) => carry + waiting,
        };
        let whole = u64::from(t) * u64::from(digit) + added;
        value += if i + 1 == top.len() { whole } else { whole % 10 } * ten_to(i);
        carry = whole / 10;
        carries.push(u8::try_from(carry).unwrap_or(u8::MAX));
    }
    (value, carries)
}

/// Old carries used again; the first row written is the ones' or the highest digit's.
fn carries_used_again(a: u64, b: u64, instead: bool) -> Vec<WrongWorking> {
    let worked = |order: FirstRow| {
        let mut parts = parts(b);
        if order == FirstRow::Highest {
            parts.reverse();
        }
        let mut old: Option<Vec<u8>> = None;
        let mut rows = Vec::new();
        for (power, digit) in parts {
            let place = ten_to(power);
            let (value, carries) = match &old {
                None => {
                    let line = rows::right(&digits(a), digit);
                    old = Some(line.carries.clone());
                    (line.value, line.carries)
                }
                Some(old) => with_old_carries(a, digit, old, instead),
            };
            rows.push(Row { digit, place, value: value * place, carries });
        }
        added(a, b, rows)
    };
    vec![worked(FirstRow::Ones), worked(FirstRow::Highest)]
}

fn old_carries_added(a: u64, b: u64) -> Vec<WrongWorking> {
    carries_used_again(a, b, false)
}

fn old_carry_instead(a: u64, b: u64) -> Vec<WrongWorking> {
    carries_used_again(a, b, true)
}

/// Rows are added without carrying, or all cells of the grid at once; the diagonals of the lattice
/// hold the same digits as the columns of the cells.
fn adding_carries_lost(a: u64, b: u64) -> Vec<WrongWorking> {
    let rows = shifted(a, b, |power, _| power);
    let value = without_carries(&rows.iter().map(|r| r.value).collect::<Vec<_>>());
    let adding_carries = vec![0; digits(value).len()];
    let square = grid(a, b);
    let all: Vec<u64> = square.rows.iter().flat_map(|r| r.cells.iter().copied()).collect();
    vec![
        WrongWorking::Long(Long { a, b, rows, adding_carries, value }),
        WrongWorking::Grid(Grid { value: without_carries(&all), ..square }),
    ]
}

fn first_row_only(a: u64, b: u64) -> Vec<WrongWorking> {
    let mut rows = shifted(a, b, |power, _| power);
    rows.truncate(1);
    vec![added(a, b, rows)]
}

fn highest_row_only(a: u64, b: u64) -> Vec<WrongWorking> {
    let last = shifted(a, b, |power, _| power).pop();
    vec![added(a, b, last.into_iter().collect())]
}

fn ones_by_leading_left_out(a: u64, b: u64) -> Vec<WrongWorking> {
    let lead = top_power(b);
    cells(a, b, |i, j, cell| if (i, j) == (0, lead) { 0 } else { cell })
}

fn leading_by_ones_left_out(a: u64, b: u64) -> Vec<WrongWorking> {
    let lead = top_power(a);
    cells(a, b, |i, j, cell| if (i, j) == (lead, 0) { 0 } else { cell })
}

fn largest_cell_zero_lost(a: u64, b: u64) -> Vec<WrongWorking> {
    let lead = (top_power(a), top_power(b));
    cells(a, b, |i, j, cell| if (i, j) == lead { cell / 10 } else { cell })
}

fn later_rows_extra_zero(a: u64, b: u64) -> Vec<WrongWorking> {
    vec![added(a, b, shifted(a, b, |power, _| if power == 0 { 0 } else { power + 1 }))]
}

fn rows_shifted_in_reverse(a: u64, b: u64) -> Vec<WrongWorking> {
    let top = top_power(b);
    vec![added(a, b, shifted(a, b, |power, _| top - power))]
}

fn zero_written_over_digit(a: u64, b: u64) -> Vec<WrongWorking> {
    let mut rows = shifted(a, b, |_, _| 0);
    for row in &mut rows {
        row.value = row.value / row.place * row.place;
    }
    vec![added(a, b, rows)]
}

const fn long(
    weight: u32,
    name: &'static str,
    procedure: fn(u64, u64) -> Vec<WrongWorking>,
    short: &'static str,
    shows: &'static str,
    teach: &'static str,
) -> Pattern {
    let procedure = Procedure::Written(procedure);
    Pattern { name, short, shows, teach, family: Family::Long, weight, procedure }
}

/// A long sum whose every row is worked in one wrong way, and whose rows are added rightly.
pub(super) fn with_rows(
    procedure: fn(&[u8], u8) -> rows::Line,
    a: u64,
    b: u64,
) -> Vec<WrongWorking> {
    let wrong: Option<Vec<Row>> = parts(b)
        .into_iter()
        .map(|(power, digit)| {
            let place = ten_to(power);
            let line = rows::apply(procedure, a, digit)?;
            Some(Row { digit, place, value: line.value * place, carries: line.carries })
        })
        .collect();
    match wrong {
        Some(rows) if !rows.is_empty() => vec![added(a, b, rows)],
        _ => Vec::new(),
    }
}

/// What these procedures give for a sum; nothing where the multiplier has one digit.
pub(super) fn apply(
    procedure: fn(u64, u64) -> Vec<WrongWorking>,
    a: u64,
    b: u64,
) -> Vec<WrongWorking> {
    if several(b) && a > 0 { procedure(a, b) } else { Vec::new() }
}

pub(super) const LONG: &[Pattern] = &[
    long(
        3,
        "placeholder-left-out",
        placeholder_left_out,
        "zeros left out",
        "no zeros begin the second and later rows",
        "Write beside each row what it is times: × 6, × 30. Estimate the row first (50 × 30 is \
         1,500), then write its zero before anything else.",
    ),
    long(
        3,
        "hundreds-row-shifted-once",
        hundreds_shifted_once,
        "hundreds: one zero",
        "the hundreds row begins with one zero only",
        "Label the rows × 6, × 30, × 200 and let the label say how many zeros begin the row. Work \
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
        "only ones times ones and tens times tens are worked out",
        "Draw the grid and colour the cells that were worked out: the others are missing. Check by \
         size: the answer must be more than 40 × 30.",
    ),
    long(
        3,
        "zero-row-copied",
        zero_row_copied,
        "zero row copied",
        "for a zero in the multiplier the number itself is written as a row",
        "Read the row aloud: 0 tens times 423 is nothing. Practise × 0 as \"no groups of\", then \
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
        "carries of the first row are used in place of the new ones",
        "Cross out every carry as soon as it is used, or keep the carries of each row in that row. \
         Say each column aloud: times, then add the carry just made.",
    ),
    long(
        3,
        "adding-carries-lost",
        adding_carries_lost,
        "adding carries lost",
        "rows are right; carries are lost when the rows are added",
        "The multiplying is secure: practise adding two or three long numbers alone. Keep a line of \
         squares under the sum for its carries.",
    ),
    long(
        3,
        "only-first-row",
        first_row_only,
        "only the ones' row",
        "only the row of the ones is worked out",
        "Before beginning, write a label for every row: × 6 and × 30. Tick each digit of the lower \
         number when its row stands; compare with the estimate.",
    ),
    long(
        3,
        "only-highest-row",
        highest_row_only,
        "only the highest row",
        "only the row of the highest digit is worked out",
        "Before beginning, write a label for every row: × 6 and × 30. Tick each digit of the lower \
         number when its row stands.",
    ),
    long(
        3,
        "ones-by-leading-left-out",
        ones_by_leading_left_out,
        "one part left out",
        "the top number's ones times the multiplier's largest part is missing",
        "Count the parts before multiplying: two by two makes four products. Lay the sum out as a \
         grid and look for the empty cell.",
    ),
    long(
        3,
        "leading-by-ones-left-out",
        leading_by_ones_left_out,
        "one part left out",
        "the top number's largest part times the multiplier's ones is missing",
        "Count the parts before multiplying: two by two makes four products. Lay the sum out as a \
         grid and look for the empty cell.",
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
        "the second and later rows begin with one zero too many",
        "Label the rows × 6, × 30, × 200 and let the label say how many zeros begin the row. \
         Estimate the row first (400 × 200).",
    ),
    long(
        3,
        "rows-shifted-in-reverse",
        rows_shifted_in_reverse,
        "rows' zeros exchanged",
        "the first row begins with zeros and the last with none",
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
