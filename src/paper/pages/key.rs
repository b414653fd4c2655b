//! The answer key: every answer with its partial products, and what each likely wrong answer shows.

use super::{Frame, key_notes};
use crate::exercise::{Accept, Given, Item, Kind, Space, Story, Working, patterns};
use crate::lesson::{ItemMarks, Level, Pack, Section, SectionName};
use crate::method::{GridRow, HouseStyle, Lattice, Long, Row as LongRow, estimate};
use crate::number::{digit_count, digits, in_words, ten_to};
use crate::paper::block::answer::{bare, question};
use crate::paper::block::{Block, Span};
use crate::paper::flow::{self, Room, Row};
use crate::paper::font::{Face, NBSP, glue, shorten, width, wrap, wrap_to_read};
use crate::paper::look::{BODY_TOP, COLUMN, FINE, SMALL, SUM, TEACHER, TEXT, TITLE};
use crate::paper::sheet::{Drawing, Page, Sheet};
use crate::words;
use indexmap::IndexMap;

/// From one line of an item to the next.
const PITCH: f32 = 4.8;
/// The first baseline below an item's top.
const FIRST: f32 = 3.0;
/// Where labels and questions begin.
const LABEL: f32 = 6.0;
/// Where numbers end.
const NUMBER: f32 = 33.0;
/// Where wrong answers end, where the widest of the key needs all the room; 2 mm later begins
/// what they show.
const WRONG: f32 = 52.0;

/// The sheet, where the pack has anything to answer.
pub fn sheet(pack: &Pack) -> Option<Sheet> {
    let frame = Frame::new(pack, "KEY", "Answer key");
    let (left, right) = (frame.format.left, frame.format.right());
    let mut top = Page::new();
    let down = frame.title(&mut top, "Answer key");
    let note = "Small figures at the right: likely wrong answers and what each shows";
    top.right(right, TITLE + down, SMALL, Face::Regular, note);
    let mut y = 36.0 + down;
    for note in key_notes::notes(pack) {
        top.left(left, y, SMALL, Face::Regular, note);
        y += 5.2;
    }
    for section in pack.sections.iter().filter(|s| s.name == SectionName::WarmUp) {
        y = warm_up(&mut top, section, &pack.heading.style, left, y) + 5.2;
    }
    let rows: Vec<Row> = pack.sections.iter().flat_map(|s| section(pack, s)).collect();
    if rows.is_empty() {
        return None;
    }
    let room = Room { left, first: y, later: BODY_TOP, foot: frame.format.body_foot, extra: 0.0 };
    Some(frame.sheet("Answer key", super::on_top(top, flow::pages(rows, room))))
}

/// The warm-up's answers in a line or two; returns the last baseline.
fn warm_up(page: &mut Page, section: &Section, style: &HouseStyle, left: f32, y: f32) -> f32 {
    let mut y = y;
    page.left(left, y, TEACHER, Face::Bold, "Warm-up");
    let begins = left + width("Warm-up", Face::Bold, TEACHER) + 4.0;
    let mut x = begins;
    for (index, item) in section.items.iter().enumerate() {
        let number = (index + 1).to_string();
        let room = TEXT - (begins - left) - width(&number, Face::Bold, TEACHER) - 1.5;
        let answer = shorten(&printed_answer(item, style), Face::Regular, TEACHER, room);
        let after = width(&number, Face::Bold, TEACHER) + 1.5;
        let wide = after + width(&answer, Face::Regular, TEACHER);
        if x > begins && x + wide > left + TEXT {
            x = begins;
            y += 5.0;
        }
        page.left(x, y, TEACHER, Face::Bold, number);
        page.left(x + after, y, TEACHER, Face::Regular, answer);
        x += wide + 6.0;
    }
    y
}

/// A section's rule and heading, then its items in two columns.
fn section(pack: &Pack, section: &Section) -> Vec<Row> {
    let examples = pack.sections.iter().filter(|s| s.name == SectionName::Examples);
    let shown: usize = examples.map(|s| s.items.len()).sum();
    let own = pack.practice_sheets().find(|(.., sheet)| std::ptr::eq(*sheet, section));
    let own_letter = own.map_or(String::new(), |(letter, ..)| letter.to_string());
    let (code, name, first) = match (section.name, section.level) {
        (SectionName::WarmUp | SectionName::Examples, _) => return Vec::new(),
        (SectionName::Guided, _) => ("WE", "together", shown + 1),
        (SectionName::Practice, level) => {
            let level = level.unwrap_or(Level::Core);
            let name = match level {
                Level::Support => "support",
                Level::Core => "core",
                Level::Stretch => "stretch",
            };
            (own_letter.as_str(), name, 1)
        }
        (SectionName::ExitCheck, _) => ("X", "exit check", 1),
        (SectionName::Homework, _) => ("H", "homework", 1),
        (SectionName::Test, _) => ("T", "unit test", 1),
    };
    if section.items.is_empty() {
        return Vec::new();
    }
    let code = Frame::new(pack, code, "").full_code();
    let total: u32 = pack.marks.iter().map(|m| m.marks).sum();
    let mut rows = match (section.name, total) {
        (SectionName::Test, 1..) => vec![heading(&code, &format!("{name}, {}", marks(total)))],
        _ => vec![heading(&code, name)],
    };
    let making = Making { pack, style: &pack.heading.style, wrong: wrong_stop(pack) };
    let numbered = section.items.iter().enumerate();
    let blocks = numbered.map(|(index, item)| making.entry(item, first + index)).collect();
    for (index, mut row) in flow::rows(blocks).into_iter().enumerate() {
        row.before = if index == 0 { 3.4 } else { 4.0 };
        rows.push(row);
    }
    rows
}

/// The answers of a sheet that is no part of the lesson's key, without headings of their own.
pub(super) fn answers(pack: &Pack, code: &str) -> Vec<Row> {
    let making = Making { pack, style: &pack.heading.style, wrong: wrong_stop(pack) };
    let items = pack.sections.iter().flat_map(|s| &s.items).enumerate();
    let blocks = items.map(|(index, item)| making.entry(item, index + 1)).collect();
    let mut rows = vec![heading(&Frame::new(pack, code, "").full_code(), "answers")];
    for (index, mut row) in flow::rows(blocks).into_iter().enumerate() {
        row.before = if index == 0 { 3.4 } else { 4.0 };
        rows.push(row);
    }
    rows
}

fn heading(code: &str, name: &str) -> Row {
    let mut drawing = Drawing::new();
    drawing.level(0.0, TEXT, 0.0, SUM);
    drawing.left(0.0, 5.0, TEACHER, Face::Bold, code);
    let after = width(code, Face::Bold, TEACHER) + 2.0;
    drawing.left(after, 5.0, TEACHER, Face::Regular, name);
    Row { height: 5.0, before: 5.5, grows: false, keep: true, drawing }
}

/// The answer as paper prints it.
pub fn printed_answer(item: &Item, style: &HouseStyle) -> String {
    let number = |text: &str| grouped(text, style);
    match &item.accept {
        Some(Accept::Between { least, most }) => {
            format!("{} ({})", number(&item.answer), about(least, most, style))
        }
        Some(Accept::Any(also)) if !also.is_empty() => {
            let main = as_spoken(&item.answer);
            let other = |a: &&String| **a != item.answer && as_spoken(a) != main;
            let also: Vec<String> = also.iter().filter(other).map(|a| number(a)).collect();
            if also.is_empty() {
                number(&item.answer)
            } else {
                format!("{} (also {})", number(&item.answer), also.join(", "))
            }
        }
        _ => number(&item.answer),
    }
}

/// "about 410,000 to 760,000": the bounds of what is accepted, drawn in to two leading digits.
pub fn about(least: &str, most: &str, style: &HouseStyle) -> String {
    match (least.parse::<u64>(), most.parse::<u64>()) {
        (Ok(least), Ok(most)) if digit_count(least) > 2 => {
            let unit = |n: u64| ten_to(digits(n).len() - 2);
            let up = least.div_ceil(unit(least)) * unit(least);
            let down = most / unit(most) * unit(most);
            if up <= down {
                return format!("about {} to {}", style.number(up), style.number(down));
            }
            format!("{} to {}", style.number(least), style.number(most))
        }
        _ => format!("{} to {}", grouped(least, style), grouped(most, style)),
    }
}

/// A number's name without hyphens, commas and "and", which are written or not.
fn as_spoken(name: &str) -> String {
    let apart = name.to_lowercase().replace(['-', ','], " ");
    let words: Vec<&str> = apart.split_whitespace().filter(|w| *w != "and").collect();
    words.join(" ")
}

/// Where wrong answers end in this key: as far left as its widest one lets them, so that there is
/// room for what they show.
fn wrong_stop(pack: &Pack) -> f32 {
    let style = &pack.heading.style;
    let likely = pack.sections.iter().flat_map(|s| &s.items).flat_map(|i| &i.likely);
    let widths = likely.map(|l| width(&grouped(&l.answer, style), Face::Regular, SMALL));
    (NUMBER + 4.0 + widths.fold(0.0, f32::max)).min(WRONG)
}

/// Digits as the class writes them; anything else as it is.
fn grouped(text: &str, style: &HouseStyle) -> String {
    text.parse().map_or_else(|_| text.to_owned(), |n| style.number(n))
}

/// What all items of a key share.
struct Making<'a> {
    pack: &'a Pack,
    style: &'a HouseStyle,
    wrong: f32,
}

impl Making<'_> {
    /// One item: as the pupil wrote it, with wrong answers beside.
    fn entry(&self, item: &Item, number: usize) -> Block {
        let scheme = self.pack.marks.iter().find(|m| m.item == item.id);
        if !item.choices.is_empty() {
            return with_marks(choice(item, number, self.style), scheme);
        }
        let style = self.style;
        let mut column = Column::new(number, self.wrong);
        match &item.working {
            Working::Long(long) if missing_digit(item) => {
                column.short(item, style);
                let (sum, value) = (style.sum(long.a, long.b), style.number(long.value));
                column.note(&format!("in {sum} = {value}"));
            }
            Working::Long(long) if item.kind != Kind::Row => {
                column.product(&bare(item), &labelled(&long.rows), item, style);
            }
            Working::Grid(grid) if item.kind == Kind::Row => {
                column.short(item, style);
                let cells = grid.rows.iter().flat_map(|r| &r.cells).map(|c| style.number(*c));
                column.note(&cells.collect::<Vec<_>>().join(&format!("{NBSP}+{NBSP}")));
            }
            Working::Grid(grid) => {
                let label = |r: &GridRow| (row_label(r.digit, r.place), r.value);
                let rows: Vec<_> = grid.rows.iter().map(label).collect();
                column.product(&bare(item), &rows, item, style);
            }
            Working::Story { story, long } => {
                let asked = match long {
                    Some(long) => style.sum(long.a, long.b),
                    None => story.steps.first().cloned().unwrap_or_default(),
                };
                let rows = long.as_ref().map_or(Vec::new(), |l| labelled(&l.rows));
                column.product(&asked, &rows, item, style);
            }
            Working::Lattice(lattice) => {
                column.short(item, style);
                column.note(&cells(lattice));
            }
            _ => column.short(item, style),
        }
        if lies_between(item) {
            column.beneath(&between(item, style));
        }
        for line in estimated(item, style) {
            column.beneath(&line);
        }
        column.marks(scheme);
        if column.beside {
            column.likely(item, style);
        } else {
            column.likely_in_a_line(item, style);
        }
        if key_notes::is_named(item) {
            column.name_in_words(item, style);
        }
        match &item.working {
            Working::Story { story, .. } => with_story(column, story, item.space == Space::Line),
            _ => column.block(),
        }
    }
}

fn labelled(rows: &[LongRow]) -> Vec<(String, u64)> {
    rows.iter().map(|r| (row_label(r.digit, r.place), r.value)).collect()
}

fn row_label(digit: u8, place: u64) -> String {
    format!("×{NBSP}{}", u64::from(digit) * place)
}

/// "1 mark", "3 marks".
fn marks(count: u32) -> String {
    glue(&words::count(usize::try_from(count).unwrap_or(0), "mark"))
}

/// "3 marks: row × 40, row × 7, answer".
fn worth(scheme: &ItemMarks) -> String {
    format!("{}: {}", marks(scheme.marks), scheme.for_what.join(", "))
}

/// What a choice of a test is worth, below it.
fn with_marks(mut block: Block, scheme: Option<&ItemMarks>) -> Block {
    if let Some(scheme) = scheme {
        let lines = wrap_to_read(&worth(scheme), Face::Regular, SMALL, TEXT - LABEL);
        let y = block.height + 3.2;
        block.drawing.lines((LABEL, y), 3.6, SMALL, Face::Regular, &lines);
        block.height = y + 3.6 * lines.len().saturating_sub(1) as f32 + 0.8;
    }
    block
}

/// Whether the sheet asks between which round numbers the product lies.
fn lies_between(item: &Item) -> bool {
    matches!(item.space, Space::Squares { estimate: true, given, .. } if given != Given::Nothing)
}

fn between(item: &Item, style: &HouseStyle) -> String {
    let (Working::Long(Long { a, b, .. }) | Working::Story { long: Some(Long { a, b, .. }), .. }) =
        &item.working
    else {
        return String::new();
    };
    let (low, high) = estimate(*a, *b).between;
    format!("lies between {} and {}", style.number(low), style.number(high))
}

/// The estimate that the sheet asks for before the squares, and how far the answer is from it where
/// the pupil is to say so.
fn estimated(item: &Item, style: &HouseStyle) -> Vec<String> {
    let Space::Squares { estimate: true, given: Given::Nothing, compare, .. } = item.space else {
        return Vec::new();
    };
    let Working::Long(Long { a, b, value, .. }) = item.working else { return Vec::new() };
    let about = estimate(a, b).value;
    let mut lines = vec![format!("about {}", style.number(about))];
    if compare && value != about {
        let word = if value > about { "more" } else { "less" };
        lines.push(format!("answer {} {word}", style.number(value.abs_diff(about))));
    }
    lines
}

/// The cells row by row, as they stand on paper, and the sums along the diagonals from the right.
fn cells(lattice: &Lattice) -> String {
    let row = |cells: &Vec<u8>| {
        let cells: Vec<String> = cells.iter().map(|c| format!("{}/{}", c / 10, c % 10)).collect();
        cells.join(&format!("{NBSP} "))
    };
    let rows: Vec<String> = lattice.cells.iter().map(row).collect();
    let sums: Vec<String> = lattice.diagonals.iter().map(u8::to_string).collect();
    format!("cells {}; diagonals from the right {}", rows.join("; "), sums.join(", "))
}

fn missing_digit(item: &Item) -> bool {
    matches!(item.space, Space::Squares { given: Given::Missing { .. }, .. })
}

/// An item's lines: what was worked at the left, wrong answers at the right.
struct Column {
    drawing: Drawing,
    /// The last baseline at the left.
    left: f32,
    /// The baseline of the next wrong answer.
    wrong: f32,
    /// The last baseline at the right.
    right: f32,
    /// Where wrong answers end.
    stop: f32,
    /// Whether wrong answers stand beside a working, one below the other.
    beside: bool,
}

impl Column {
    fn new(number: usize, stop: f32) -> Column {
        let mut drawing = Drawing::new();
        drawing.left(0.0, FIRST, TEACHER, Face::Bold, number.to_string());
        Column { drawing, left: FIRST, wrong: FIRST + PITCH, right: FIRST, stop, beside: true }
    }
    fn height(&self) -> f32 {
        self.left.max(self.right) + 0.8
    }
    /// A sum with its rows and the answer under a line.
    fn product(&mut self, asked: &str, rows: &[(String, u64)], item: &Item, style: &HouseStyle) {
        self.lines(asked, Face::Regular, TEACHER, COLUMN - LABEL);
        self.wrong = self.left + PITCH;
        let numbers =
            rows.iter().map(|(_, value)| style.number(*value)).chain([item.answer.clone()]);
        let widest = numbers.map(|n| width(&n, Face::Regular, TEACHER)).fold(0.0, f32::max);
        let labels = rows.iter().map(|(label, _)| width(label, Face::Regular, SMALL));
        let needed = LABEL + labels.fold(0.0, f32::max) + 2.0 + widest;
        let stop = needed.max(NUMBER);
        if rows.len() > 1 {
            for (label, value) in rows {
                self.left += PITCH;
                let (y, number) = (self.left, style.number(*value));
                self.drawing.left(LABEL, y, SMALL, Face::Regular, label.as_str());
                self.drawing.right(stop, y, TEACHER, Face::Regular, number);
            }
            let y = self.left + 0.9;
            self.drawing.level(stop - widest.max(17.0), stop, y, FINE);
        }
        self.left += PITCH;
        let answer = printed_answer(item, style);
        if width(&answer, Face::Figures, TEACHER) <= stop - LABEL {
            self.drawing.right(stop, self.left, TEACHER, Face::Figures, answer);
        } else {
            self.lines(&answer, Face::Bold, TEACHER, COLUMN - LABEL);
        }
        // Long numbers leave no room beside them.
        if stop > NUMBER {
            self.wrong = self.left + PITCH;
        }
    }
    /// A short question and its answer.
    fn short(&mut self, item: &Item, style: &HouseStyle) {
        self.beside = false;
        let answer = printed_answer(item, style);
        let asked = question(item);
        let room = COLUMN - LABEL;
        let (asked_wide, answer_wide) =
            (width(&asked, Face::Regular, TEACHER), width(&answer, Face::Bold, TEACHER));
        if asked_wide + 2.0 + answer_wide <= room {
            self.drawing.left(LABEL, FIRST, TEACHER, Face::Regular, asked);
            let x = LABEL + asked_wide + 2.0;
            self.drawing.left(x, FIRST, TEACHER, Face::Bold, answer);
        } else if let Some((number, also)) = answer.split_once(" (")
            && asked_wide + 2.0 + width(number, Face::Bold, TEACHER) <= room
        {
            // No sum is torn after its sign: only what else is right goes to the next line.
            self.drawing.left(LABEL, FIRST, TEACHER, Face::Regular, asked);
            let x = LABEL + asked_wide + 2.0;
            self.drawing.left(x, FIRST, TEACHER, Face::Bold, number);
            self.left += PITCH;
            self.lines(&format!("({also}"), Face::Bold, TEACHER, room);
        } else {
            self.lines(&asked, Face::Regular, TEACHER, room);
            self.left += PITCH;
            if answer_wide <= NUMBER - LABEL {
                self.drawing.right(NUMBER, self.left, TEACHER, Face::Bold, answer);
            } else {
                self.lines(&answer, Face::Bold, TEACHER, room);
            }
        }
        if let Working::Steps { steps } = &item.working {
            for step in steps {
                self.note(step);
            }
        }
    }
    /// A small line of its own.
    fn note(&mut self, text: &str) {
        self.left += PITCH;
        self.lines(text, Face::Regular, SMALL, COLUMN - LABEL);
    }
    /// Lines from the last baseline on.
    fn lines(&mut self, text: &str, face: Face, size: u8, room: f32) {
        let lines = wrap(text, face, size, room);
        self.drawing.lines((LABEL, self.left), PITCH, size, face, &lines);
        self.left += PITCH * lines.len().saturating_sub(1) as f32;
    }
    /// What the item is worth, and for what.
    fn marks(&mut self, scheme: Option<&ItemMarks>) {
        if let Some(scheme) = scheme {
            self.beneath(&worth(scheme));
        }
    }
    /// Small lines under the answer and beside the wrong ones.
    fn beneath(&mut self, text: &str) {
        let below = self.wrong > self.left;
        self.left += 0.6;
        for line in wrap(text, Face::Regular, SMALL, NUMBER - LABEL + 1.5) {
            self.left += 3.6;
            self.drawing.left(LABEL, self.left, SMALL, Face::Regular, line);
        }
        if below {
            self.wrong = self.left + PITCH;
        }
    }
    /// The name of a large product: it stands below everything else.
    fn name_in_words(&mut self, item: &Item, style: &HouseStyle) {
        let name = item.answer.parse().map_or(String::new(), |n| in_words(n, style.grouping));
        self.left = self.left.max(self.right) + PITCH - 0.4;
        let lines = wrap(&name, Face::Regular, SMALL, COLUMN - LABEL);
        self.drawing.lines((LABEL, self.left), 3.6, SMALL, Face::Regular, &lines);
        self.left += 3.6 * lines.len().saturating_sub(1) as f32;
    }
    /// Likely wrong answers and what each shows.
    fn likely(&mut self, item: &Item, style: &HouseStyle) {
        let mut y = self.wrong;
        let words = self.stop + 2.0;
        for likely in &item.likely {
            let answer = grouped(&likely.answer, style);
            self.drawing.right(self.stop, y, SMALL, Face::Regular, answer);
            for line in wrap(&likely.shows, Face::Regular, SMALL, COLUMN - words) {
                self.drawing.left(words, y, SMALL, Face::Regular, line);
                self.right = y;
                y += PITCH;
            }
        }
    }
    /// The same one after the other, those that show the same together: there is no working that
    /// they could stand beside.
    fn likely_in_a_line(&mut self, item: &Item, style: &HouseStyle) {
        let mut shown: IndexMap<&str, Vec<String>> = IndexMap::new();
        for likely in &item.likely {
            shown.entry(&likely.shows).or_default().push(grouped(&likely.answer, style));
        }
        let said: Vec<String> = shown
            .iter()
            .map(|(shows, answers)| format!("{}:\u{A0}{shows}", words::join(answers, "or")))
            .collect();
        for line in wrap(&said.join("; "), Face::Regular, SMALL, COLUMN - LABEL) {
            self.left += if self.left > FIRST { 3.8 } else { PITCH - 0.4 };
            self.drawing.left(LABEL, self.left, SMALL, Face::Regular, line);
        }
    }
    fn block(self) -> Block {
        let height = self.height();
        Block { span: Span::Half, height, tight: false, drawing: self.drawing }
    }
}

/// What I know, what I need and the answer sentence, in the column beside the working; where only the
/// sums are written, these.
fn with_story(mut column: Column, story: &Story, sums_only: bool) -> Block {
    let x = super::super::look::COLUMN_STEP + LABEL;
    let room = TEXT - x;
    let mut text = format!("I know: {}. I need: {}.", story.know.join(", "), story.need);
    if story.steps.len() > 1 {
        text.push_str(&format!(" Steps: {}.", story.steps.join("; ")));
    }
    text.push_str(&format!(" Sentence: “{}”", story.sentence));
    if sums_only {
        text = format!("Sums: {}.", story.steps.join("; "));
    }
    let lines = wrap(&glue(&text), Face::Regular, SMALL, room);
    let y = FIRST + PITCH;
    column.drawing.lines((x, y), PITCH, SMALL, Face::Regular, &lines);
    let foot = y + PITCH * lines.len().saturating_sub(1) as f32 + 0.8;
    Block {
        span: Span::Full,
        height: column.height().max(foot),
        tight: false,
        drawing: column.drawing,
    }
}

/// The right letter, and what each other one shows.
fn choice(item: &Item, number: usize, style: &HouseStyle) -> Block {
    let mut drawing = Drawing::new();
    drawing.left(0.0, FIRST, TEACHER, Face::Bold, number.to_string());
    let lettered = || item.choices.iter().zip('A'..);
    let right: Vec<String> = lettered()
        .filter(|(choice, _)| choice.correct)
        .map(|(choice, letter)| format!("{letter}{NBSP} {}", choice.text))
        .collect();
    let mut x = LABEL;
    let mut y = FIRST;
    for line in wrap(&right.join(", "), Face::Bold, TEACHER, TEXT - LABEL) {
        y = if x > LABEL { y + PITCH } else { y };
        x = LABEL + width(&line, Face::Bold, TEACHER) + 6.0;
        drawing.left(LABEL, y, TEACHER, Face::Bold, line);
    }
    for (choice, letter) in lettered().filter(|(choice, _)| !choice.correct) {
        let Some(pattern) = &choice.pattern else { continue };
        let shows = patterns::pattern(pattern).map_or(pattern.as_str(), |p| p.short);
        let shows = style.in_words(shows);
        let text = shorten(&format!("{letter}{NBSP} {shows}"), Face::Regular, SMALL, TEXT - LABEL);
        let wide = width(&text, Face::Regular, SMALL);
        if x + wide > TEXT {
            x = LABEL;
            y += PITCH;
        }
        drawing.left(x, y, SMALL, Face::Regular, text);
        x += wide + 5.0;
    }
    let reason = reason(item, style);
    if !reason.is_empty() {
        y += PITCH - 0.6;
        let lines = wrap_to_read(&reason, Face::Regular, SMALL, TEXT - LABEL);
        drawing.lines((LABEL, y), 3.6, SMALL, Face::Regular, &lines);
        y += 3.6 * lines.len().saturating_sub(1) as f32;
    }
    Block { span: Span::Full, height: y + 0.8, tight: false, drawing }
}

/// A reason that holds, where the sheet asks for one after "I know because".
fn reason(item: &Item, style: &HouseStyle) -> String {
    if !matches!(item.space, Space::Options { because: true }) {
        return String::new();
    }
    let why = match &item.working {
        Working::Steps { steps } => steps.join("; "),
        Working::Estimate(about) => format!(
            "{} = {}, and it lies between {} and {}.",
            style.sum(about.factors[0], about.factors[1]),
            style.number(about.value),
            style.number(about.between.0),
            style.number(about.between.1)
        ),
        Working::Route(route) => route.short(style),
        _ => return String::new(),
    };
    glue(&format!("A reason: {why}"))
}
