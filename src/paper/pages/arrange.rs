//! Which items of a sheet stand side by side: the order stays, and the rows are those that take
//! the least height together.

use crate::exercise::{Item, Kind, Space};
use crate::method::HouseStyle;
use crate::paper::block::{Block, Span, answer, item, words};
use crate::paper::flow::{Row, THIRD_STEP, TIGHT};
use crate::paper::look::{BETWEEN, COLUMN_STEP};
use crate::paper::sheet::Drawing;

/// How many items one column of a row holds at most.
const STACK: usize = 4;
/// How much higher than the block beside it a stack may be.
pub const OVER: f32 = 6.0;
/// What reading down a column costs, in mm of height: rows of two are read more easily.
const DOWN: f32 = 1.0;
/// What leaving the columns of the boxes before costs.
const RAGGED: f32 = 2.0;
/// A box's baseline is so much lower than a block's.
const STEP: f32 = 1.6;

/// An item in the forms it may take.
struct Piece {
    /// In a column of three.
    third: Option<Block>,
    /// In a column of two.
    half: Option<Block>,
    /// On a row of its own.
    alone: Block,
}

/// What the row before was: boxes in rows of one kind stand close.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Before {
    Thirds,
    Boxes,
    Other,
}

impl Before {
    const ALL: [Before; 3] = [Before::Thirds, Before::Boxes, Before::Other];

    /// The white above a row of this kind after this one.
    fn gap(self, next: Before) -> f32 {
        if self == next && self != Before::Other { TIGHT } else { BETWEEN }
    }
}

/// A row that may be set: of how many items, `left` of them in the first of two columns.
#[derive(Debug, Clone, Copy)]
struct Choice {
    count: usize,
    left: usize,
    kind: Before,
    thirds: bool,
    height: f32,
    cost: f32,
}

/// Items as rows, numbered from 1.
pub fn rows(items: &[Item], style: &HouseStyle) -> Vec<Row> {
    set(&pieces(items, style), OVER)
}

/// The same where room is short, as [`rows_on_half`] has it, with the first so many items by
/// themselves, and then the others.
pub fn rows_in_two(items: &[Item], first: usize, style: &HouseStyle) -> [Vec<Row>; 2] {
    let pieces = narrow_pieces(items, style, item::Setting::sheet(style).answer);
    let (first, others) = pieces.split_at(first.min(pieces.len()));
    [set(first, OVER), set(others, OVER)]
}

/// The least height of a page's width that each of these items takes there, however they are set.
pub fn least_heights(items: &[Item], style: &HouseStyle) -> Vec<f32> {
    let least = |piece: &Piece| {
        let part = |block: &Option<Block>, of: f32| block.as_ref().map(|b| b.height / of);
        let alone = piece.alone.height;
        [part(&piece.third, 3.0), part(&piece.half, 2.0)]
            .into_iter()
            .flatten()
            .fold(alone, f32::min)
    };
    let pieces = narrow_pieces(items, style, item::Setting::sheet(style).answer);
    pieces.iter().map(least).collect()
}

/// The same where room is short, on half a sheet: narrow squares stand three abreast, and stories
/// have no place for notes.
pub fn rows_on_half(items: &[Item], style: &HouseStyle, answer: f32, over: f32) -> Vec<Row> {
    set(&narrow_pieces(items, style, answer), over)
}

fn narrow_pieces(items: &[Item], style: &HouseStyle, answer: f32) -> Vec<Piece> {
    let wide = item::Setting { answer, ..item::Setting::sheet(style) };
    let narrow = item::Setting::slip(style);
    let short = short_boxes(items);
    let mut pieces = Vec::new();
    for (index, one) in items.iter().enumerate() {
        if let Some(own) = short.get(index).cloned().flatten() {
            pieces.push(box_of_a_third(own));
            continue;
        }
        let story = one.kind == Kind::Story;
        let mut piece = piece(one, index + 1, if story { narrow } else { wide });
        piece.third = item::in_a_third(one, index + 1, style);
        pieces.push(piece);
    }
    pieces
}

fn set(pieces: &[Piece], over: f32) -> Vec<Row> {
    let mut rows = Vec::new();
    let mut from = 0;
    let mut before = Before::Other;
    for choice in best(pieces, over) {
        let gap = before.gap(choice.kind);
        rows.push(Row {
            height: choice.height,
            before: gap,
            grows: gap > TIGHT,
            keep: false,
            drawing: drawn(&pieces[from..from + choice.count], choice),
        });
        before = choice.kind;
        from += choice.count;
    }
    rows
}

/// Whether an item is its question and a box after it.
pub fn in_a_box(item: &Item) -> bool {
    item.space == Space::Box && item.figure.is_none()
}

fn pieces(items: &[Item], style: &HouseStyle) -> Vec<Piece> {
    let setting = item::Setting::sheet(style);
    let short = short_boxes(items);
    let mut pieces = Vec::new();
    while pieces.len() < items.len() {
        let at = pieces.len();
        if let Some(own) = short.get(at).cloned().flatten() {
            pieces.push(box_of_a_third(own));
            continue;
        }
        let run: Vec<&Item> = items[at..].iter().take_while(|i| in_a_box(i)).collect();
        // Boxes that follow each other share their columns.
        let boxes = answer::boxes(&run, at + 1);
        for (index, own) in boxes.into_iter().enumerate() {
            let block = item::block(run[index], at + 1 + index, setting);
            let alone = if own.span == Span::Third { block.clone() } else { own };
            let half = (block.span == Span::Half).then_some(block);
            pieces.push(Piece { third: None, half, alone });
        }
        if let Some(item) = items.get(pieces.len()) {
            pieces.push(piece(item, pieces.len() + 1, setting));
        }
    }
    pieces
}

/// The questions before a box as blocks of a third of the page, where all of the sheet are short enough:
/// their boxes then end at one place, counted from the number, wherever they stand. Else nothing,
/// and all of them end at the edge of their column.
fn short_boxes(items: &[Item]) -> Vec<Option<Block>> {
    let third = |(index, item): (usize, &Item)| {
        answer::boxes(&[item], index + 1).pop().filter(|b| in_a_box(item) && b.span == Span::Third)
    };
    let blocks: Vec<Option<Block>> = items.iter().enumerate().map(third).collect();
    let all = items.iter().zip(&blocks).all(|(item, block)| !in_a_box(item) || block.is_some());
    if all { blocks } else { Vec::new() }
}

fn box_of_a_third(own: Block) -> Piece {
    let half = Some(Block { span: Span::Half, ..own.clone() });
    Piece { third: Some(own.clone()), half, alone: own }
}

fn piece(item: &Item, number: usize, setting: item::Setting) -> Piece {
    let block = item::block(item, number, setting);
    let half = (block.span == Span::Half).then(|| block.clone());
    let across = words::across(item, number, setting).filter(|b| b.height < block.height);
    Piece { third: None, half, alone: across.unwrap_or(block) }
}

/// The rows that take the least height in all.
fn best(pieces: &[Piece], over: f32) -> Vec<Choice> {
    // For each number of items set and each kind of the last row: the cost, and how to get there.
    type Way = Option<(f32, usize, Before, Choice)>;
    let mut ways: Vec<[Way; 3]> = vec![[None; 3]; pieces.len() + 1];
    for from in 0..pieces.len() {
        let starts: Vec<(Before, f32)> = if from == 0 {
            vec![(Before::Other, 0.0)]
        } else {
            let reached = Before::ALL.iter().zip(&ways[from]);
            reached.filter_map(|(kind, way)| Some((*kind, way.as_ref()?.0))).collect()
        };
        for choice in choices(pieces, from, over) {
            for &(before, so_far) in &starts {
                let cost = so_far + before.gap(choice.kind) + choice.height + choice.cost;
                let way = &mut ways[from + choice.count][choice.kind as usize];
                // Of equals the one with the fuller rows first.
                let better = |(old, row, ..): &(f32, usize, Before, Choice)| {
                    cost < *old - 0.001 || cost <= *old + 0.001 && from > *row
                };
                if way.as_ref().is_none_or(better) {
                    *way = Some((cost, from, before, choice));
                }
            }
        }
    }
    let mut chosen = Vec::new();
    let mut at = pieces.len();
    let least = |way: &&Way| way.as_ref().map_or(f32::MAX, |(cost, ..)| *cost);
    let mut way = ways[at].iter().min_by(|a, b| least(a).total_cmp(&least(b))).copied().flatten();
    while let Some((_, from, before, choice)) = way {
        chosen.push(choice);
        at = from;
        way = ways[at][before as usize];
    }
    chosen.reverse();
    chosen
}

/// Every row that can begin with this item.
fn choices(pieces: &[Piece], from: usize, over: f32) -> Vec<Choice> {
    let rest = &pieces[from..];
    let mut choices = Vec::new();
    let thirds: Vec<&Block> = rest.iter().take(3).map_while(|p| p.third.as_ref()).collect();
    let boxes = thirds.iter().take_while(|b| b.tight).count();
    // Boxes by themselves, and whatever stands three abreast.
    for count in [boxes, thirds.len()].into_iter().filter(|n| *n > 0) {
        let tight = count <= boxes;
        let down = if tight || boxes == 0 { 0.0 } else { STEP };
        let height = thirds[..count].iter().map(|b| b.height).fold(0.0, f32::max) + down;
        let kind = if tight { Before::Thirds } else { Before::Other };
        choices.push(Choice { count, left: 0, kind, thirds: true, height, cost: 0.0 });
    }
    for right in 1..=STACK {
        choices.extend(side_by_side(rest, 1, right, over));
    }
    let alone = &rest[0].alone;
    if alone.span != Span::Third {
        let kind = if alone.tight { Before::Boxes } else { Before::Other };
        let height = alone.height;
        choices.push(Choice { count: 1, left: 0, kind, thirds: false, height, cost: 0.0 });
    }
    choices
}

/// A row of two columns with so many items each, where one of them holds one item and the other
/// no more than stands beside it.
fn side_by_side(rest: &[Piece], left: usize, right: usize, over: f32) -> Option<Choice> {
    let count = left + right;
    if left > 1 && right > 1 || count > rest.len() {
        return None;
    }
    let columns = [&rest[..left], &rest[left..count]];
    if columns.iter().any(|column| column.iter().any(|p| p.half.is_none())) {
        return None;
    }
    let [a, b] = columns.map(|column| stacked(column).1);
    let too_high = left > 1 && a > b + over || right > 1 && b > a + over;
    if too_high {
        return None;
    }
    let begins = columns.map(|column| column[0].half.as_ref().is_some_and(|h| h.tight));
    let down = if begins[0] == begins[1] { 0.0 } else { STEP };
    let boxes = rest[..count].iter().all(|p| p.half.as_ref().is_some_and(|h| h.tight));
    let of_three = |p: &&Piece| p.third.as_ref().is_some_and(|t| t.tight);
    let ragged = rest[..count].iter().filter(of_three).count() as f32;
    Some(Choice {
        count,
        left,
        kind: if boxes { Before::Boxes } else { Before::Other },
        thirds: false,
        height: a.max(b) + down,
        cost: DOWN * (count - 2) as f32 + RAGGED * ragged,
    })
}

/// A column's blocks below each other, and its height.
fn stacked(column: &[Piece]) -> (Drawing, f32) {
    let mut drawing = Drawing::new();
    let mut y = 0.0;
    let mut tight = false;
    for (index, block) in column.iter().filter_map(|p| p.half.as_ref()).enumerate() {
        if index > 0 {
            y += if tight && block.tight { TIGHT } else { BETWEEN };
        }
        drawing.place(block.drawing.clone(), (0.0, y));
        y += block.height;
        tight = block.tight;
    }
    (drawing, y)
}

fn drawn(pieces: &[Piece], choice: Choice) -> Drawing {
    let mut drawing = Drawing::new();
    if choice.left > 0 {
        let (left, right) = pieces.split_at(choice.left);
        let boxed = |column: &[Piece]| column[0].half.as_ref().is_some_and(|h| h.tight);
        // Their numbers stand on one line.
        let down = |this: bool, other: bool| if !this && other { STEP } else { 0.0 };
        let (a, b) = (boxed(left), boxed(right));
        drawing.place(stacked(left).0, (0.0, down(a, b)));
        drawing.place(stacked(right).0, (COLUMN_STEP, down(b, a)));
    } else {
        let form = |piece: &'_ Piece| match (&piece.third, choice.thirds) {
            (Some(third), true) => third.clone(),
            _ => piece.alone.clone(),
        };
        let blocks: Vec<Block> = pieces.iter().map(form).collect();
        let boxed = blocks.iter().any(|b| b.tight);
        for (index, block) in blocks.into_iter().enumerate() {
            let down = if boxed && !block.tight { STEP } else { 0.0 };
            drawing.place(block.drawing, (THIRD_STEP * index as f32, down));
        }
    }
    drawing
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::Profile;
    use crate::exercise::makers::{self, Request, Setting, Spot};
    use crate::seed::Seed;

    #[test]
    fn the_boxes_of_a_sheet_stand_at_one_place_counted_from_their_numbers() {
        let made = |maker: &str, spot: Spot, own: &[(u64, u64)]| -> Vec<Item> {
            let (least, most) = (own.len(), own.len());
            let profile = Profile::Typical;
            #[rustfmt::skip]
            let request =
                Request { skill: maker, part: 2, spot, name: "A", profile, seconds: 9_000, least, most, own };
            let setting = Setting::new(Seed::of("k"), HouseStyle::default(), 100);
            makers::make(maker, &request, &setting).expect("items")
        };
        let mut items = made("multiples-of-ten", Spot::Homework, &[(20, 8), (30, 7), (400, 6)]);
        assert!(short_boxes(&items).iter().all(Option::is_some));
        items.extend(made("splitting", Spot::Guided, &[(47, 6)]));
        assert!(short_boxes(&items).is_empty(), "one is too long, so that all are wider");
        let grid = made("grid-two-by-two", Spot::Homework, &[(47, 36)]);
        items.splice(3.., grid);
        let short = short_boxes(&items);
        assert_eq!(
            short.iter().map(Option::is_some).collect::<Vec<_>>(),
            [true, true, true, false]
        );
        // A question in words takes the whole column, and its box would stand elsewhere.
        let mut asked = items[0].clone();
        asked.prompt = "Which number times 500 makes 2,000?".to_owned();
        items.push(asked);
        assert!(short_boxes(&items).is_empty(), "then all boxes end at the column’s edge");
    }
}
