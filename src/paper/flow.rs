//! From blocks to pages: which stand side by side, where pages end, how white is spread.

use super::block::{Block, Span};
use super::look::{BETWEEN, COLUMN_STEP};
use super::sheet::{Drawing, Page};

/// From one column of three to the next.
pub const THIRD_STEP: f32 = 58.0;
/// The white between rows of small answer boxes.
pub const TIGHT: f32 = 3.5;
/// How much white a page may add between rows.
pub const MOST_EXTRA: f32 = 12.0;
/// Room for rounding.
const SLACK: f32 = 0.01;

/// What stands at one height; pages end between rows.
#[derive(Debug, Clone, PartialEq)]
pub struct Row {
    /// Its height.
    pub height: f32,
    /// The least white above it, unless it is the first on its page.
    pub before: f32,
    /// Whether that white may grow.
    pub grows: bool,
    /// Whether the next row must stand on the same page.
    pub keep: bool,
    /// What is drawn, from the text's left edge and the row's top.
    pub drawing: Drawing,
}

/// Sets blocks side by side where they are narrow enough.
pub fn rows(blocks: Vec<Block>) -> Vec<Row> {
    let mut rows: Vec<Row> = Vec::new();
    let mut taken = (Span::Full, 1);
    let mut tight = false;
    for block in blocks {
        let room = match block.span {
            Span::Full => 1,
            Span::Half => 2,
            Span::Third => 3,
        };
        let beside = taken.0 == block.span && taken.1 < room && tight == block.tight;
        if !beside {
            let follows = block.tight && tight && taken.0 == block.span;
            taken = (block.span, 0);
            tight = block.tight;
            rows.push(Row {
                height: 0.0,
                before: if follows { TIGHT } else { BETWEEN },
                grows: !follows,
                keep: false,
                drawing: Drawing::new(),
            });
        }
        let step = if block.span == Span::Third { THIRD_STEP } else { COLUMN_STEP };
        let x = step * taken.1 as f32;
        taken.1 += 1;
        if let Some(row) = rows.last_mut() {
            row.height = row.height.max(block.height);
            row.drawing.place(block.drawing, (x, 0.0));
        }
    }
    rows
}

/// Where a run of rows may stand: the first page from `first` on, later ones from `later` on, all
/// down to `foot`.
#[derive(Debug, Clone, Copy)]
pub struct Room {
    /// The text's left edge.
    pub left: f32,
    /// Where the first page begins.
    pub first: f32,
    /// Where the other pages begin.
    pub later: f32,
    /// Where every page ends.
    pub foot: f32,
    /// How much white may be added between rows.
    pub extra: f32,
}

impl Room {
    fn height(&self, page: usize) -> f32 {
        self.foot - if page == 0 { self.first } else { self.later }
    }
}

/// Rows that stay together.
type Chunk = Vec<Row>;

/// Puts rows on pages; the first page may have marks already.
pub fn pages(rows: Vec<Row>, room: Room) -> Vec<Page> {
    let chunks = chunks(rows);
    let ends = ends(&chunks, room);
    let mut pages = Vec::new();
    let mut chunks = chunks.into_iter();
    let mut begin = 0;
    for (index, end) in ends.into_iter().enumerate() {
        let on_page: Vec<Row> = chunks.by_ref().take(end - begin).flatten().collect();
        begin = end;
        pages.push(page(on_page, room, index));
    }
    if pages.is_empty() {
        pages.push(Page::new());
    }
    pages
}

fn chunks(rows: Vec<Row>) -> Vec<Chunk> {
    let mut chunks: Vec<Chunk> = Vec::new();
    let mut open = false;
    for row in rows {
        let keep = row.keep;
        match chunks.last_mut() {
            Some(chunk) if open => chunk.push(row),
            _ => chunks.push(vec![row]),
        }
        open = keep;
    }
    chunks
}

/// The height of these chunks on one page, gaps included.
fn height(chunks: &[Chunk]) -> f32 {
    let rows = || chunks.iter().flatten();
    let gaps: f32 = rows().skip(1).map(|r| r.before).sum();
    rows().map(|r| r.height).sum::<f32>() + gaps
}

/// Where each page ends: as many chunks as fit, but a last page that is a remnant takes over
/// chunks from the pages before.
fn ends(chunks: &[Chunk], room: Room) -> Vec<usize> {
    let mut ends = Vec::new();
    let mut begin = 0;
    while begin < chunks.len() {
        let page = ends.len();
        let fits = |end: &usize| height(&chunks[begin..*end]) <= room.height(page) + SLACK;
        let end = (begin + 1..=chunks.len()).take_while(fits).last().unwrap_or(begin + 1);
        ends.push(end);
        begin = end;
    }
    let [.., before, last] = ends[..] else { return ends };
    let count = ends.len();
    // A little more than a third: what is drawn ends above its block’s foot.
    let a_third = room.height(count - 1) * 0.36;
    let short = |begin: usize, end: usize| height(&chunks[begin..end]) < a_third;
    let hollow = hollow(chunks, &ends, room.height(count - 1));
    if !short(before, last) && last - before > 1 && !hollow {
        return ends;
    }
    let even = evened(chunks, room, count, false).unwrap_or(ends);
    match even[..] {
        // Where even pages are not to be had, a last page that is fuller is better than a remnant.
        [.., before, last] if short(before, last) => {
            evened(chunks, room, count, true).unwrap_or(even)
        }
        _ => even,
    }
}

/// Whether a page between the first and the last holds clearly less than the last.
fn hollow(chunks: &[Chunk], ends: &[usize], page: f32) -> bool {
    let used: Vec<f32> = ends.windows(2).map(|w| height(&chunks[w[0]..w[1]])).collect();
    used.split_last().is_some_and(|(last, middle)| middle.iter().any(|m| m + page * 0.15 < *last))
}

/// The most even way to fill so many pages, what stands above the rows counted too; the last may be
/// fuller than the others only where that is allowed.
fn evened(chunks: &[Chunk], room: Room, pages: usize, fuller: bool) -> Option<Vec<usize>> {
    // For each page: the cheapest ways to end it after so many chunks, by the sum of the squares.
    let mut best: Vec<Option<(f32, Vec<usize>, f32)>> = vec![None; chunks.len() + 1];
    best[0] = Some((0.0, Vec::new(), f32::MAX));
    for page in 0..pages {
        let mut next = vec![None; chunks.len() + 1];
        for begin in 0..chunks.len() {
            let Some((cost, ends, least)) = &best[begin] else { continue };
            for end in begin + 1..=chunks.len() {
                let rows = height(&chunks[begin..end]);
                let too_full = rows > room.height(page) + SLACK;
                let used = rows + if page == 0 { room.first - room.later } else { 0.0 };
                let last_is_fuller = !fuller && page + 1 == pages && used > least + SLACK;
                if too_full || last_is_fuller {
                    continue;
                }
                let cost = cost + used * used;
                let better = |old: &(f32, Vec<usize>, f32)| cost < old.0;
                if next[end].as_ref().is_none_or(better) {
                    let ends = ends.iter().copied().chain([end]).collect();
                    next[end] = Some((cost, ends, least.min(used)));
                }
            }
        }
        best = next;
    }
    best.pop().flatten().map(|(_, ends, _)| ends)
}

fn page(rows: Vec<Row>, room: Room, index: usize) -> Page {
    let used: f32 = rows.iter().map(|r| r.height).sum::<f32>()
        + rows.iter().skip(1).map(|r| r.before).sum::<f32>();
    let growing = rows.iter().skip(1).filter(|r| r.grows).count();
    let free = (room.height(index) - used).max(0.0);
    let extra = (free / (growing + 1) as f32).min(room.extra);
    let mut page = Page::new();
    let mut y = if index == 0 { room.first } else { room.later };
    for (index, row) in rows.into_iter().enumerate() {
        if index > 0 {
            y += row.before + if row.grows { extra } else { 0.0 };
        }
        page.place(row.drawing, (room.left, y));
        y += row.height;
    }
    page
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::paper::font::Face;

    fn row(height: f32) -> Row {
        let mut drawing = Drawing::new();
        drawing.left(0.0, 4.0, 12, Face::Regular, "x");
        Row { height, before: 8.0, grows: true, keep: false, drawing }
    }
    fn room(first: f32) -> Room {
        Room { left: 21.0, first, later: 24.0, foot: 280.0, extra: MOST_EXTRA }
    }
    fn filled(heights: &[f32]) -> Vec<usize> {
        let rows = heights.iter().map(|&h| row(h)).collect();
        pages(rows, room(93.0)).iter().map(|p| p.marks.len()).collect()
    }

    #[test]
    fn three_rows_of_sums_fill_a_first_page_and_four_a_later_one() {
        assert_eq!(filled(&[57.0; 3]), [3]);
        assert_eq!(filled(&[57.0; 7]), [3, 4]);
    }

    #[test]
    fn a_last_page_is_no_remnant_where_the_pages_before_can_spare_rows() {
        assert_eq!(filled(&[57.0; 4]), [2, 2]);
        assert_eq!(filled(&[57.0; 8]), [2, 3, 3], "the first page has its top besides");
        assert_eq!(filled(&[78.0; 3]), [1, 2], "rather a fuller last page than a remnant");
        assert_eq!(filled(&[150.0, 100.0]), [1, 1], "nothing can be spared");
    }

    #[test]
    fn no_page_in_the_middle_stays_hollow_where_a_row_can_be_spared() {
        assert_eq!(filled(&[57.0, 57.0, 40.0, 80.0, 160.0, 60.0]), [2, 2, 2]);
    }

    #[test]
    fn a_heading_stays_with_the_row_below_it() {
        let mut heading = row(5.0);
        heading.keep = true;
        let rows = vec![row(150.0), heading, row(60.0)];
        let marks: Vec<usize> = pages(rows, room(93.0)).iter().map(|p| p.marks.len()).collect();
        assert_eq!(marks, [1, 2]);
    }

    #[test]
    fn blocks_stand_side_by_side_as_far_as_they_are_alike() {
        let block = |span, tight| Block { span, height: 10.0, tight, drawing: row(1.0).drawing };
        let blocks = vec![
            block(Span::Third, true),
            block(Span::Third, true),
            block(Span::Third, true),
            block(Span::Third, true),
            block(Span::Half, false),
            block(Span::Full, false),
            block(Span::Half, false),
            block(Span::Half, false),
        ];
        let rows = rows(blocks);
        let side: Vec<usize> = rows.iter().map(|r| r.drawing.marks.len()).collect();
        assert_eq!(side, [3, 1, 1, 1, 2]);
        let before: Vec<f32> = rows.iter().map(|r| r.before).collect();
        assert_eq!(before, [8.0, 3.5, 8.0, 8.0, 8.0]);
    }
}
