//! Short questions about a written method: its rows, its round parts, its size.

use super::Bench;
use super::classes::{Deck, Size, hand, row_bases};
use super::deal;
use super::head::in_head;
use super::lists::shifts;
use super::looks::{Zeros, sound};
use super::written::{Recipe, best_spread, sums};
use crate::exercise::patterns::{Task, choose_after, likely_wrong_adding};
use crate::exercise::{Given, Item, Kind, Space};
use crate::method::{RouteKind, Written, estimate};
use crate::number::{digits, ten_to};
use indexmap::IndexSet;

/// A warm-up for a written skill: a product of round parts as it occurs in a row, and for
/// multipliers of two digits and more an estimate of a whole product, in turn.
pub(super) fn warm_up(bench: &Bench, recipe: &Recipe) -> Vec<Item> {
    let count = bench.request.most.max(bench.request.least);
    let size = match recipe.zeros {
        // 40 × 30 for 47 × 30.
        Zeros::AtEnds => Size::of(2, 2),
        _ => recipe.size(),
    };
    let mut parts = round_parts(bench, size).into_iter();
    let mut whole = if size.b > 1 { sizes_to_guess(bench, size, count) } else { Vec::new() };
    let mut items = Vec::new();
    for index in 0..count {
        let guess = index % 2 == 1 && !whole.is_empty();
        if guess {
            items.push(bench.estimate(whole.remove(0), Space::Box));
        } else if let Some((a, b)) = parts.next() {
            items.push(in_head(bench, (a, b), RouteKind::Shift));
        }
    }
    bench.fit(items)
}

/// Products of a digit in the multiplicand's highest places and one in the multiplier's:
/// 4,000 × 300 for four digits by three, then 400 × 300, and so on.
fn round_parts(bench: &Bench, size: Size) -> Vec<(u64, u64)> {
    let mut stream = deal::stream(bench.request, &bench.setting.seed, "round parts");
    let mut parts = Vec::new();
    for down in 0..size.a {
        let (high, low) = (ten_to((size.a - 1 - down) as usize), ten_to(size.b as usize - 1));
        if high * low < 10 {
            continue;
        }
        let mut here = Vec::new();
        for x in 3..=9 {
            for y in 3..=9 {
                if (high != low || x >= y) && shifts(&(x * high, y * low)) {
                    here.push((x * high, y * low));
                }
            }
        }
        stream.shuffle(&mut here);
        // Taken from the end.
        here.sort_by_cached_key(|&(a, b)| !bench.met.often(a, b, bench.request.spot));
        parts.push(here);
    }
    // The highest places first, but not only these.
    let mut dealt = Vec::new();
    for index in 0..24 {
        let from = if parts.len() > 1 && index % 3 == 2 { 1 } else { 0 };
        if let Some(pair) = parts.get_mut(from).and_then(Vec::pop) {
            dealt.push(pair);
        }
    }
    dealt
}

/// Products whose estimate is not far off.
fn sizes_to_guess(bench: &Bench, size: Size, count: usize) -> Vec<(u64, u64)> {
    hand(bench, size, Deck::Products, (1, count), &|a, b| {
        sound(a, b, Zeros::Never) && close_estimate(a, b)
    })
}

/// Whether the estimate by leading digits is within three tenths of the product.
pub(super) fn close_estimate(a: u64, b: u64) -> bool {
    let (exact, about) = (a * b, estimate(a, b).value);
    exact.abs_diff(about) * 10 <= exact * 3
}

/// The exit check of a written skill. Long multiplication: a whole product, then another one for the
/// smaller sizes and the rows of one to add for the larger, then single rows; one row of work or a
/// lattice: whole products.
pub(super) fn exit_check(bench: &Bench, recipe: &Recipe) -> Vec<Item> {
    let request = bench.request;
    let count = request.most.max(request.least);
    let size = recipe.size();
    let whole = |pair| bench.written(pair, recipe.method, Given::Nothing, false);
    if size.b == 1 || recipe.method == Written::Lattice {
        let wholes = best_spread(bench, sums(bench, recipe, count * 2), count);
        return bench.fit(wholes.into_iter().map(whole));
    }
    let large = size.a + size.b > 5;
    let (pool, of_it) = if large { (10, 3) } else { (5, 2) };
    let mut pairs = best_spread(bench, sums(bench, recipe, pool), of_it).into_iter();
    let first: Vec<Item> = pairs.next().map(|pair| bench.timed(whole(pair))).into_iter().collect();
    let mut others: Vec<(u64, u64)> = pairs.collect();
    let rows = single_rows(bench, recipe, size, count.max(3) * 2);
    let rows: Vec<Item> = rows.into_iter().map(|i| bench.timed(i)).collect();
    let rows = telling_first(bench, &first, rows, count.max(3));
    let needed: u32 = first.iter().chain(rows.iter().take(2)).map(|i| i.seconds).sum();
    if needed > request.seconds && request.own.is_empty() {
        return bench.fit(rows);
    }
    // Beside one large product the rows of another to be added: else what goes wrong in adding shows
    // once only.
    let carries = |&(a, b): &(u64, u64)| !likely_wrong_adding(a, b).is_empty();
    let to_add = others.iter().position(carries).filter(|_| large && request.own.is_empty());
    let to_add = to_add.map(|at| bench.timed(bench.rows_to_add(others.remove(at))));
    let second = others.first().filter(|_| !large).map(|&pair| whole(pair));
    let mut rows = rows.into_iter();
    let two: Vec<Item> = rows.by_ref().take(2).collect();
    let mut kept = bench.fit(first.into_iter().chain(two).chain(to_add).chain(second).chain(rows));
    // What is alike stands together: on paper sums are higher than rows.
    let adds = |item: &Item| matches!(Task::of(item), Some(Task::Adding(..)));
    kept.sort_by_key(|item| (item.kind == Kind::Row, adds(item)));
    kept
}

/// So many rows, those first that tell most after the checks before and the whole product of this
/// one.
fn telling_first(bench: &Bench, first: &[Item], rows: Vec<Item>, wanted: usize) -> Vec<Item> {
    let mut asked = bench.met.checked(bench.request.skill).to_vec();
    asked.extend(first.iter().filter_map(Task::of));
    let names: IndexSet<&str> = rows
        .iter()
        .flat_map(|row| &row.likely)
        .flat_map(|l| &l.patterns)
        .map(String::as_str)
        .collect();
    let names: Vec<&str> = names.into_iter().collect();
    let pool: Vec<Task> = rows.iter().filter_map(Task::of).collect();
    if pool.len() < rows.len() {
        return rows;
    }
    let chosen = choose_after(&asked, &pool, &names, wanted);
    chosen.into_iter().map(|index| rows[index].clone()).collect()
}

/// Single rows of products of this size, each with a multiplicand of its own.
fn single_rows(bench: &Bench, recipe: &Recipe, size: Size, count: usize) -> Vec<Item> {
    let zeros = recipe.zeros;
    let heavy = |a: u64, d: u64| {
        let top = digits(a);
        let carries = top.iter().filter(|&&x| u64::from(x) * d >= 10).count();
        let zero = top.contains(&0);
        d >= 3
            && carries >= 2.min(top.len() - 1)
            && top[0] != 0
            && !(u64::from(top[0]) * d).is_multiple_of(10)
            && top.iter().filter(|&&x| x == 0).count() < 2
            && top.iter().any(|x| *x != top[0])
            && (!zero || matches!(zeros, Zeros::Some | Zeros::InA | Zeros::InB))
    };
    let hand = hand(bench, Size::of(size.a, 1), Deck::Rows, (3, count), &heavy);
    let mut left: Vec<(u64, u64)> = hand;
    let mut rows = Vec::new();
    while rows.len() < count && !left.is_empty() {
        // The highest row first, then the one below it: × 300, × 70, × 300, …
        let down = if size.b == 3 && zeros != Zeros::InB { rows.len() % 2 } else { 0 };
        let place = ten_to(size.b as usize - 1 - down);
        let bases = |row| row_bases(bench, row, place, size, zeros == Zeros::InB);
        let at = left.iter().position(|row| bases(*row).are_apart()).unwrap_or(0);
        let (a, d) = left.remove(at);
        left.retain(|(other, _)| *other != a);
        // Not × 90 again and again, as long as there are other digits.
        if left.iter().any(|(_, other)| *other != d) {
            left.sort_by_key(|(_, other)| *other == d);
        }
        let digit = u8::try_from(d).unwrap_or(9);
        rows.push(bench.row((a, bases((a, d)).one(bench)), digit, place, recipe.method));
    }
    rows
}
