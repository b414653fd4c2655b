//! Workings as text in columns of equal letters: the pupil's page, and the right one beside it.
//!
//! One square is as wide as a digit and the space before it. Small digits stand on a line of their
//! own above the row they belong to, over the column in which they are added (or would have been).

use super::likely::route_of;
use super::working::{WrongLong, WrongRow, WrongWorking};
use super::{Family, Pattern, house};
use crate::method::{Carries, Grid, HouseStyle, Lattice, Route, estimate, grid, routes};
use crate::number::{digits, ten_to};

impl WrongWorking {
    /// The page, line by line, in letters of equal width; numbers as the class writes them.
    pub fn page(&self, style: &HouseStyle) -> Vec<String> {
        match self {
            WrongWorking::Long(long) => long_page(long, style),
            WrongWorking::Grid(square) => grid_page(square, style),
            WrongWorking::Lattice(lattice) => lattice_page(lattice, style),
            WrongWorking::Line { .. } | WrongWorking::Estimate { .. } => {
                let mut lines = chain(self.steps().iter(), style);
                if let Some(last) = lines.last_mut().filter(|_| self.ends_rounded()) {
                    *last = last.replacen('=', "≈", 1);
                }
                lines
            }
        }
    }
    /// What the pupil says in each column, one line a row, in the order worked; only of rows that
    /// are not as they should be. Empty where there are no rows.
    pub fn said(&self, style: &HouseStyle) -> Vec<String> {
        let WrongWorking::Long(long) = self else { return Vec::new() };
        let right = |row: &&WrongRow| {
            row.columnwise || row.value != long.a * u64::from(row.digit) * row.place
        };
        long.rows.iter().filter(right).map(|row| said(row, style)).collect()
    }
}

fn said(row: &WrongRow, style: &HouseStyle) -> String {
    let columns: Vec<String> = row.columns.iter().map(|c| style.typeset(&c.said())).collect();
    let said: Vec<String> =
        if row.from_left { columns.into_iter().rev().collect() } else { columns };
    let label = row.times().map(|n| format!("× {}: ", style.number(n))).unwrap_or_default();
    let covered = row.zeros.saturating_sub(row.shift);
    let under = row.columns.iter().flat_map(|column| digits(column.write)).take(covered);
    let over = under.map(|digit| format!("; 0 is written over the {digit}"));
    format!("{label}{}{}", said.join("; "), over.collect::<String>()).replace('\u{A0}', " ")
}

/// The right working to set beside a wrong one: rows beside rows, a grid beside a grid, the
/// cheapest route of the same kind beside a route, round numbers beside round numbers.
pub fn right_page(
    pattern: &Pattern,
    wrong: &WrongWorking,
    (a, b): (u64, u64),
    style: &HouseStyle,
) -> Vec<String> {
    match wrong {
        WrongWorking::Long(long) => {
            WrongWorking::Long(house::right_rows(long.a, long.b, style)).page(style)
        }
        WrongWorking::Grid(_) => grid_page(&grid(a, b), style),
        WrongWorking::Lattice(_) => lattice_page(&crate::method::lattice(a, b), style),
        _ if pattern.family == Family::Estimate => {
            let about = estimate(a, b);
            let [x, y] = about.factors;
            chain([format!("{x}*{y}"), about.value.to_string()].iter(), style)
        }
        _ => right_line(pattern, wrong, (a, b), style),
    }
}

/// The heading above a page of [`right_page`].
pub fn right_heading(pattern: &Pattern) -> &'static str {
    if pattern.family == Family::Estimate { "the estimate" } else { "right" }
}

/// A route of the pattern's own kind, else one that begins with a product of the pupil's, else the
/// cheapest.
fn right_line(
    pattern: &Pattern,
    wrong: &WrongWorking,
    (a, b): (u64, u64),
    style: &HouseStyle,
) -> Vec<String> {
    let known = routes(a, b);
    let kind = route_of(pattern);
    let same = known.iter().find(|route| kind.is_some_and(|kind| route.is(kind)));
    let theirs: Vec<String> = wrong.steps().first().map_or(Vec::new(), |line| products_of(line));
    let shares = |route: &&Route| {
        let line = route.steps.first().filter(|_| route.steps.len() > 1);
        line.is_some_and(|step| {
            products_of(&step.expression).iter().any(|product| theirs.contains(product))
        })
    };
    let near = || known.iter().find(shares).or(known.first());
    let route = if pattern.family == Family::Fact { None } else { same.or_else(near) };
    match route.filter(|route| route.steps.len() > 1) {
        Some(route) => chain(route.steps.iter().map(|step| &step.expression), style),
        None => chain([format!("{a}*{b}"), (a * b).to_string()].iter(), style),
    }
}

/// The products of two numbers that are added or taken off in a line, the factors in order.
fn products_of(line: &str) -> Vec<String> {
    let terms = line.split(['+', '-']).map(str::trim);
    let sorted = |term: &str| {
        let mut factors: Vec<&str> = term.split('*').collect();
        factors.sort_unstable();
        (factors.len() == 2).then(|| factors.join("*"))
    };
    terms.filter_map(sorted).collect()
}

/// "= 1,410 + 47" under "47 × 30 + 47".
fn chain<'a>(steps: impl Iterator<Item = &'a String>, style: &HouseStyle) -> Vec<String> {
    let typeset = |step: &String| style.typeset(step).replace('\u{A0}', " ");
    let sign = |index: usize| if index == 0 { "  " } else { "= " };
    steps.enumerate().map(|(index, step)| format!("{}{}", sign(index), typeset(step))).collect()
}

/// Two pages beside each other under their headings; each line ends where its text does.
pub fn beside(left: (&str, &[String]), right: (&str, &[String])) -> Vec<String> {
    let wide = |lines: &[String]| lines.iter().map(|l| l.chars().count()).max().unwrap_or(0);
    let width = wide(left.1).max(left.0.chars().count()) + 4;
    let mut lines =
        vec![format!("{}{}{}", left.0, " ".repeat(width - left.0.chars().count()), right.0)];
    for index in 0..left.1.len().max(right.1.len()) {
        let one = left.1.get(index).map_or("", String::as_str);
        let other = right.1.get(index).map_or("", String::as_str);
        let gap = " ".repeat(width - one.chars().count());
        lines.push(format!("{one}{gap}{other}").trim_end().to_owned());
    }
    lines
}

/// A page of squares being written: `width` columns of `square` letters each.
struct Squares {
    width: usize,
    square: usize,
    lines: Vec<String>,
}

impl Squares {
    /// A line with these texts in the places, the ones first, and a label behind.
    fn line(&mut self, places: &[String], label: &str) {
        let mut out = String::new();
        for place in (0..self.width).rev() {
            let text = places.get(place).map_or("", String::as_str);
            out.push_str(&" ".repeat(self.square.saturating_sub(text.chars().count())));
            out.push_str(text);
        }
        let label = if label.is_empty() { String::new() } else { format!("  {label}") };
        self.lines.push(format!("{out}{label}").trim_end().to_owned());
    }
    fn number(&mut self, n: u64) {
        let places: Vec<String> = digits(n).iter().map(u8::to_string).collect();
        self.line(&places, "");
    }
    /// Small digits, if there are any.
    fn small(&mut self, small: &[u64], label: &str) {
        if small.iter().any(|&n| n > 0) {
            let text = |n: &u64| if *n > 0 { n.to_string() } else { String::new() };
            let places: Vec<String> = small.iter().map(text).collect();
            self.line(&places, label);
        }
    }
    fn rule(&mut self) {
        self.lines.push(format!(" {}", "-".repeat(self.width * self.square - 1)));
    }
}

fn long_page(long: &WrongLong, style: &HouseStyle) -> Vec<String> {
    let rows = long.rows.iter().map(|row| row.value);
    let widest = rows.chain([long.a, long.b, long.value]).max().unwrap_or(0);
    let small: Vec<Vec<u64>> = long.rows.iter().map(WrongRow::small_digits).collect();
    let written: Vec<Vec<String>> = long.rows.iter().map(row_squares).collect();
    let two = small.iter().flatten().any(|n| *n > 9);
    let longest = written.iter().map(Vec::len).max().unwrap_or(0);
    let width = digits(widest).len().max(longest) + 1;
    let mut page = Squares { width, square: if two { 3 } else { 2 }, lines: Vec::new() };
    let above = style.carries == Carries::Above;
    if above {
        // What the first row carries stands next to the number, that of the others over it.
        for row in long.rows.iter().rev() {
            let label = row.times().filter(|_| long.rows.len() > 1);
            let label = label.map(|n| format!(" × {}", style.number(n))).unwrap_or_default();
            page.small(&row.carried_above(), &format!("carried{label}"));
        }
    }
    page.number(long.a);
    let mut multiplier: Vec<String> = digits(long.b).iter().map(u8::to_string).collect();
    multiplier.resize(digits(long.a.max(long.b)).len(), String::new());
    multiplier.push("×".to_owned());
    page.line(&multiplier, "");
    page.rule();
    for ((row, small), written) in long.rows.iter().zip(&small).zip(&written) {
        if !above {
            page.small(small, "carried");
        }
        let label = row.times().map(|n| format!("× {}", style.number(n))).unwrap_or_default();
        page.line(written, &label);
    }
    if long.rows.len() > 1 {
        page.rule();
        let mut carried = vec![0];
        carried.extend(long.adding_carries.iter().map(|c| u64::from(*c)));
        carried.truncate(digits(long.value).len());
        page.small(&carried, "carried");
        page.number(long.value);
    }
    page.rule();
    page.lines
}

fn row_squares(row: &WrongRow) -> Vec<String> {
    row.squares().iter().map(u8::to_string).collect()
}

fn grid_page(square: &Grid, style: &HouseStyle) -> Vec<String> {
    let cell = |n: &u64| if *n == 0 { "–".to_owned() } else { style.number(*n) };
    let mut table: Vec<Vec<String>> = Vec::new();
    let head = [String::from("×")].into_iter().chain(square.parts.iter().map(|p| style.number(*p)));
    table.push(head.collect());
    // Who adds all cells at once writes no sums beside the rows.
    let by_rows = square.rows.iter().map(|row| row.value).sum::<u64>() == square.value;
    for row in &square.rows {
        let label = style.number(u64::from(row.digit) * row.place);
        let cells = row.cells.iter().map(cell);
        let sum = by_rows.then(|| format!("= {}", style.number(row.value)));
        table.push([label].into_iter().chain(cells).chain(sum).collect());
    }
    let mut lines = aligned(&table);
    lines.push(format!("together {}", style.number(square.value)));
    lines
}

fn lattice_page(lattice: &Lattice, style: &HouseStyle) -> Vec<String> {
    let mut table: Vec<Vec<String>> =
        vec![digits(lattice.a).iter().rev().map(u8::to_string).collect()];
    for (cells, digit) in lattice.cells.iter().zip(digits(lattice.b).iter().rev()) {
        let halves = cells.iter().map(|cell| format!("{}/{}", cell / 10, cell % 10));
        table.push(halves.chain([format!("× {digit}")]).collect());
    }
    let mut lines = aligned(&table);
    for (index, sum) in lattice.diagonals.iter().enumerate() {
        let carry = lattice.carries[index];
        let carried = if carry > 0 { format!(", carry {carry}") } else { String::new() };
        let write = sum % 10;
        lines.push(format!("diagonal of {}: {sum}, write {write}{carried}", ten_to(index)));
    }
    lines.push(format!("together {}", style.number(lattice.value)));
    lines
}

/// Columns as wide as their widest text, texts at the right.
fn aligned(table: &[Vec<String>]) -> Vec<String> {
    let wide = |column: usize| {
        table.iter().filter_map(|row| row.get(column)).map(|t| t.chars().count()).max().unwrap_or(0)
    };
    let pad = |(column, text): (usize, &String)| {
        format!("{}{text}", " ".repeat(wide(column) - text.chars().count()))
    };
    table.iter().map(|row| row.iter().enumerate().map(pad).collect::<Vec<_>>().join("  ")).collect()
}
