//! A worked example: everything is written, with the words to say beside it.

use super::squares::{Squares, worked};
use super::{Block, Span, checks, grid, lattice};
use crate::exercise::{Given, Item, Story, Working};
use crate::method::{
    Estimate, Grid, HouseStyle, LineKind, Long, Route, estimate_words, grid_words, lattice_words,
    long_words,
};
use crate::paper::font::{Face, NBSP, glue, width, wrap, wrap_to_read};
use crate::paper::look::{BESIDE, NUMBER, PUPIL, SQUARE, TEACHER, TEXT};
use crate::paper::sheet::Drawing;

/// The baseline of an example's head below its top.
const HEAD: f32 = 3.2;
/// From the head to what stands below it.
const BELOW: f32 = 3.6;
/// From squares to the words beside them.
const TO_WORDS: f32 = 5.0;

/// What stands beside the working itself.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Beside {
    /// Its size and the check by nines, and the working of a story's product.
    All,
    /// Nothing: where room is for the sums to do.
    Nothing,
}

/// An example with its number, or without where it is 0. `seen` are the products shown before it: a second method says so.
pub fn example(item: &Item, number: usize, seen: &[(u64, u64)], style: &HouseStyle) -> Block {
    drawn(item, number, seen, style, Beside::All)
}

/// An example without a number, and without checks and a story's written working.
pub fn bare_example(item: &Item, style: &HouseStyle) -> Block {
    drawn(item, 0, &[], style, Beside::Nothing)
}

fn drawn(
    item: &Item,
    number: usize,
    seen: &[(u64, u64)],
    style: &HouseStyle,
    beside: Beside,
) -> Block {
    let mut drawing = Drawing::new();
    if number > 0 {
        drawing.left(0.0, HEAD, PUPIL, Face::Bold, number.to_string());
    }
    let foot = match &item.working {
        Working::Long(working) => {
            head(&mut drawing, &style.sum(working.a, working.b), &item.purpose);
            long(&mut drawing, working, style, beside)
        }
        Working::Grid(working) => {
            let again = seen.contains(&(working.a, working.b));
            head(
                &mut drawing,
                &again_as(again, "a grid", working.a, working.b, style),
                &item.purpose,
            );
            grid_with_words(&mut drawing, working, again, style)
        }
        Working::Lattice(working) => {
            let again = seen.contains(&(working.a, working.b));
            let title = again_as(again, "a lattice", working.a, working.b, style);
            head(&mut drawing, &title, &item.purpose);
            let (part, size) = lattice::lattice(working, Given::All);
            drawing.place(part, (NUMBER, HEAD + BELOW));
            let x = NUMBER + size.0 + TO_WORDS;
            let mut y = HEAD + BELOW + 5.2;
            drawing.left(x, y, BESIDE, Face::Bold, "Say");
            for said in lattice_words(working, style) {
                let lines = wrap_to_read(&said, Face::Regular, BESIDE, TEXT - x);
                drawing.lines((x, y + 4.6), 4.0, BESIDE, Face::Regular, &lines);
                y += 4.6 + 4.0 * lines.len().saturating_sub(1) as f32;
            }
            (HEAD + BELOW + size.1).max(y + 1.0)
        }
        Working::Route(working) => {
            head(&mut drawing, "In your head", &item.purpose);
            route(&mut drawing, working, style)
        }
        Working::Estimate(working) => {
            head(&mut drawing, &glue(item.prompt.trim()), &item.purpose);
            estimate(&mut drawing, item, working, style)
        }
        Working::Story { story, long: product } => {
            let product = product.as_ref().filter(|_| beside == Beside::All);
            story_example(&mut drawing, item, story, product, style)
        }
        Working::Steps { steps } => {
            let y = paragraph(&mut drawing, item.prompt.trim(), HEAD, Face::Bold, PUPIL);
            let mut y = y + 2.0;
            for step in steps {
                y = paragraph(&mut drawing, step, y + 5.0, Face::Regular, TEACHER);
            }
            y + 1.5
        }
    };
    Block { span: Span::Full, height: foot, tight: false, drawing }
}

/// The two factors of an example, to know a product again.
pub fn factors(item: &Item) -> Option<(u64, u64)> {
    match &item.working {
        Working::Long(w) => Some((w.a, w.b)),
        Working::Grid(w) => Some((w.a, w.b)),
        Working::Lattice(w) => Some((w.a, w.b)),
        _ => None,
    }
}

fn again_as(again: bool, what: &str, a: u64, b: u64, style: &HouseStyle) -> String {
    if again { format!("The same sum as {what}") } else { style.sum(a, b) }
}

fn head(drawing: &mut Drawing, title: &str, purpose: &str) {
    drawing.left(NUMBER, HEAD, PUPIL, Face::Bold, title);
    if !purpose.is_empty() {
        let x = NUMBER + width(title, Face::Bold, PUPIL) + 10.0;
        let short = crate::paper::font::shorten(purpose, Face::Regular, TEACHER, TEXT - x);
        drawing.left(x, HEAD, TEACHER, Face::Regular, short);
    }
}

/// Text lines at the example's left edge; returns the last baseline.
fn paragraph(drawing: &mut Drawing, text: &str, y: f32, face: Face, size: u8) -> f32 {
    let pitch = if size == PUPIL { 6.0 } else { 5.0 };
    let lines = wrap_to_read(text, face, size, TEXT - NUMBER);
    drawing.lines((NUMBER, y), pitch, size, face, &lines);
    y + pitch * lines.len().saturating_sub(1) as f32
}

/// A long multiplication with words and, unless it stands by itself, size and nines; returns the
/// foot.
fn long(drawing: &mut Drawing, working: &Long, style: &HouseStyle, beside: Beside) -> f32 {
    let top = HEAD + BELOW;
    let squares = worked(working, style, Given::All);
    let x = NUMBER + squares.width + TO_WORDS;
    let below = words_beside(drawing, &squares, &long_words(working, style), (x, top));
    drawing.place(squares.drawing, (NUMBER, top));
    let foot = top + squares.height;
    let after = NUMBER + width("Nines", Face::Bold, TEACHER) + 2.0;
    let checks = [
        ("Size", checks::size(working.a, working.b, style)),
        ("Nines", checks::nines(working.a, working.b, style)),
    ];
    let mut y = foot + 7.0;
    for (name, text) in checks.into_iter().filter(|_| beside == Beside::All) {
        drawing.left(NUMBER, y, TEACHER, Face::Bold, name);
        let lines = wrap_to_read(&text, Face::Regular, TEACHER, TEXT - after);
        drawing.lines((after, y), 5.0, TEACHER, Face::Regular, &lines);
        y += 5.0 * lines.len() as f32;
    }
    if beside == Beside::Nothing && below.is_empty() {
        return foot;
    }
    for said in below {
        y = paragraph(drawing, &format!("– {said}"), y, Face::Regular, TEACHER) + 5.0;
    }
    y - 5.0 + 1.0
}

/// What to say beside each line: one line on the row's middle, or two for its first and last
/// step. Returns what does not fit beside the squares, to stand below them.
fn words_beside(
    drawing: &mut Drawing,
    squares: &Squares,
    words: &[Vec<String>],
    at: (f32, f32),
) -> Vec<String> {
    let (x, top) = at;
    let said: Vec<Vec<String>> = words.iter().map(|entry| two_lines(entry, TEXT - x)).collect();
    if said.iter().any(|lines| lines.len() > 2) {
        return words.iter().map(|entry| entry.join(" ")).collect();
    }
    let first = squares.tops.iter().find(|(kind, _)| *kind == LineKind::Heading);
    if let (Some((_, y)), false) = (first, said.is_empty()) {
        drawing.left(x, top + y + 5.2, BESIDE, Face::Bold, "Say beside each row");
    }
    let rows = squares.tops.iter().filter(|(kind, _)| *kind != LineKind::Heading);
    for ((_, y), lines) in rows.zip(&said) {
        let first = if lines.len() == 1 { 5.2 } else { 3.55 };
        drawing.lines((x, top + y + first), 3.4, BESIDE, Face::Regular, lines);
    }
    Vec::new()
}

/// The lines as they are written or, where one is too wide, run together and broken anew.
fn two_lines(entry: &[String], room: f32) -> Vec<String> {
    let written = entry.iter().flat_map(|s| wrap(s, Face::Regular, BESIDE, room));
    let written: Vec<String> = written.collect();
    if written.len() <= 2 { written } else { wrap(&entry.join(" "), Face::Regular, BESIDE, room) }
}

/// A grid with what to say beside each of its lines, or below it where it is as wide as the page and
/// not a second way for a sum that was said before; returns the foot.
fn grid_with_words(drawing: &mut Drawing, working: &Grid, again: bool, style: &HouseStyle) -> f32 {
    let (part, size) = grid::grid(working, style, Given::All, TEACHER);
    let top = HEAD + BELOW;
    drawing.place(part, (NUMBER, top));
    let x = NUMBER + size.0 + TO_WORDS;
    let words = grid_words(working, style);
    let beside: Vec<Vec<String>> = words.iter().map(|entry| two_lines(entry, TEXT - x)).collect();
    if beside.iter().all(|lines| lines.len() <= 2) {
        drawing.left(x, HEAD, BESIDE, Face::Bold, "Say beside each row");
        for (index, lines) in beside.iter().enumerate() {
            let first = if lines.len() == 1 { 5.2 } else { 3.55 };
            let at = (x, top + SQUARE * index as f32 + first);
            drawing.lines(at, 3.4, BESIDE, Face::Regular, lines);
        }
        return top + size.1;
    }
    if again {
        return top + size.1;
    }
    let mut y = top + size.1 + 5.0;
    for said in words.iter().map(|entry| entry.join(" ")) {
        y = paragraph(drawing, &format!("– {said}"), y, Face::Regular, TEACHER) + 5.0;
    }
    y - 4.0
}

/// One = to a line, the signs under each other, the reason at the words' x.
fn route(drawing: &mut Drawing, working: &Route, style: &HouseStyle) -> f32 {
    const PITCH: f32 = 6.0;
    let chain = working.chain(style);
    let first = HEAD + 9.4;
    let left = chain.first().map_or("", |line| line.left.as_str());
    let signs = NUMBER + width(left, Face::Regular, PUPIL) + width(" ", Face::Regular, PUPIL);
    let widest = chain.iter().map(|l| width(&l.right, Face::Regular, PUPIL)).fold(0.0, f32::max);
    let reasons = (NUMBER + 64.0 + TO_WORDS).max(signs + widest + 6.0);
    drawing.left(NUMBER, first, PUPIL, Face::Regular, left);
    let mut y = first;
    for line in &chain {
        drawing.left(signs, y, PUPIL, Face::Regular, line.right.as_str());
        let lines = wrap_to_read(&line.reason, Face::Regular, TEACHER, TEXT - reasons);
        drawing.lines((reasons, y), 5.0, TEACHER, Face::Regular, &lines);
        y += PITCH.max(5.0 * lines.len() as f32 + 1.0);
    }
    y - PITCH + 1.5
}

fn estimate(drawing: &mut Drawing, item: &Item, working: &Estimate, style: &HouseStyle) -> f32 {
    let [a, b] = working.factors;
    let question = item.prompt.trim().trim_end_matches(['≈', NBSP, ' ']);
    let sum = style.sum(a, b);
    let bare = !question.contains(char::is_alphabetic);
    let line = if bare {
        format!("{question} ≈ {sum} = {}", style.number(working.value))
    } else {
        format!("{sum} = {}", style.number(working.value))
    };
    let y = paragraph(drawing, &line, HEAD + 8.0, Face::Regular, PUPIL);
    let (low, high) = working.between;
    let between = format!("It lies between {} and {}.", style.number(low), style.number(high));
    let y = paragraph(drawing, &between, y + 6.0, Face::Regular, TEACHER);
    let said = estimate_words(working, style);
    paragraph(drawing, &said, y + 5.0, Face::Regular, TEACHER) + 1.5
}

fn story_example(
    drawing: &mut Drawing,
    item: &Item,
    story: &Story,
    product: Option<&Long>,
    style: &HouseStyle,
) -> f32 {
    let mut y = paragraph(drawing, item.prompt.trim(), HEAD, Face::Regular, PUPIL);
    let parts = [
        ("I know", story.know.join("; ")),
        ("I need", story.need.clone()),
        ("Steps", story.steps.join("; ")),
    ];
    let after = NUMBER + width("Sentence", Face::Bold, TEACHER) + 3.0;
    y += 1.5;
    let labelled = |drawing: &mut Drawing, name: &str, text: &str, y: f32| {
        let lines = wrap_to_read(text, Face::Regular, TEACHER, TEXT - after);
        drawing.left(NUMBER, y, TEACHER, Face::Bold, name);
        drawing.lines((after, y), 5.0, TEACHER, Face::Regular, &lines);
        y + 5.0 * lines.len().saturating_sub(1) as f32
    };
    for (name, text) in parts {
        if !text.is_empty() {
            y = labelled(drawing, name, &text, y + 5.0);
        }
    }
    if let Some(product) = product {
        let mut part = Drawing::new();
        let foot = long(&mut part, product, style, Beside::All);
        drawing.place(part, (0.0, y - 1.0));
        y += foot - 1.0;
    }
    labelled(drawing, "Sentence", &story.sentence, y + 5.0) + 1.5
}
