//! The teacher's page: what the lesson is for, its minutes, what to ask and to expect, notes.

use super::Frame;
use super::timebar;
use crate::exercise::{Accept, Item, Working};
use crate::lesson::{CheckTells, Copies, Pack, SectionName, SheetFor};
use crate::method::HouseStyle;
use crate::paper::HINT;
use crate::paper::font::{Face, glue, width, wrap, wrap_to_read};
use crate::paper::look::{BODY_TOP, COLUMN, COLUMN_STEP, FINE, PUPIL, SMALL, TEACHER, TEXT};
use crate::paper::sheet::{Drawing, Page, Point, Sheet};

/// From one line to the next under the title.
const PITCH: f32 = 5.0;
/// A heading's baseline and its rule, from a section's top, and the first line below them in lines
/// of [`PITCH`].
const HEADING: (f32, f32, f32) = (3.0, 4.8, 9.6);

/// How close a page is set: its parts give way where that keeps the notes on the page.
#[derive(Debug, Clone, Copy)]
struct Closeness {
    /// From one line to the next.
    pitch: f32,
    /// The white between sections, from a last baseline to the next section's top.
    between: f32,
    /// The least height of the notes box, with the decision in it.
    notes: f32,
}

impl Closeness {
    const fn of(pitch: f32, between: f32, notes: f32) -> Closeness {
        Closeness { pitch, between, notes }
    }
    /// From the widest on; lines of ten points keep at least thirteen points.
    const ALL: [Closeness; 8] = [
        Closeness::of(5.0, 7.0, 48.0),
        Closeness::of(5.0, 6.0, 48.0),
        Closeness::of(5.0, 5.0, 44.0),
        Closeness::of(5.0, 4.4, 40.0),
        Closeness::of(5.0, 3.8, 40.0),
        Closeness::of(4.8, 3.6, 40.0),
        Closeness::of(4.6, 3.6, 40.0),
        Closeness::of(4.6, 3.2, 40.0),
    ];
}

/// A headed part of the page; its origin is its top left corner.
struct Part {
    drawing: Drawing,
    /// The last baseline.
    height: f32,
    /// From one line to the next.
    pitch: f32,
}

impl Part {
    fn headed(title: &str, wide: f32, pitch: f32) -> Part {
        let mut drawing = Drawing::new();
        drawing.left(0.0, HEADING.0, TEACHER, Face::Bold, title);
        drawing.level(0.0, wide, HEADING.1, FINE);
        Part { drawing, height: HEADING.2 - PITCH, pitch }
    }
    /// The next line's baseline.
    fn next(&mut self) -> f32 {
        self.height += self.pitch;
        self.height
    }
    /// Lines of text, with a dash before the first.
    fn dashed(&mut self, text: &str, wide: f32) {
        const INDENT: f32 = 5.0;
        for (index, line) in
            wrap_to_read(text, Face::Regular, TEACHER, wide - INDENT).iter().enumerate()
        {
            let y = self.next();
            if index == 0 {
                self.drawing.left(0.0, y, TEACHER, Face::Regular, "–");
            }
            self.drawing.left(INDENT, y, TEACHER, Face::Regular, line.as_str());
        }
    }
    fn list(title: &str, lines: &[String], wide: f32, pitch: f32) -> Option<Part> {
        if lines.is_empty() {
            return None;
        }
        let mut part = Part::headed(title, wide, pitch);
        for line in lines {
            part.dashed(line, wide);
        }
        Some(part)
    }
}

/// The sheet; every pack has one: the widest setting of those with the fewest pages and lists parted.
pub fn sheet(pack: &Pack) -> Sheet {
    let frame = Frame::new(pack, "TP", "Teacher’s page");
    let set = |close: Closeness| [Say::Across, Say::InColumn].map(|say| body(&frame, close, say));
    // No setting takes fewer pages than the closest.
    let closest = Closeness::ALL.last().map(|close| set(*close));
    let fewest = closest.iter().flatten().map(|(pages, _)| pages.len()).min().unwrap_or(1);
    let mut best: Option<(Vec<Page>, usize)> = None;
    for (pages, parted) in Closeness::ALL.into_iter().flat_map(set) {
        let key = (pages.len(), parted);
        if best.as_ref().is_none_or(|(pages, parted)| key < (pages.len(), *parted)) {
            best = Some((pages, parted));
        }
        if key == (fewest, 0) {
            break;
        }
    }
    frame.sheet("Teacher’s page", best.unwrap_or_default().0)
}

/// Where what to say stands: below the two columns, or in the left one where that keeps the page wider
/// set.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Say {
    Across,
    InColumn,
}

/// The pages, and how many lists are parted by a page's end.
fn body(frame: &Frame, close: Closeness, say: Say) -> (Vec<Page>, usize) {
    let pack = frame.pack;
    let pitch = close.pitch;
    let mut flow = Flow::new(frame, close);
    flow.y = top(frame, &mut flow.page);
    columns(&mut flow, pack, say);
    let teacher = &pack.teacher;
    let mut sheets: Vec<String> = teacher.sheets.iter().map(SheetFor::sentence).collect();
    if teacher.sheets.iter().any(|sheet| sheet.pattern.is_some()) {
        sheets.push(HINT.to_owned());
    }
    if say == Say::Across {
        flow.place_list("Say", &teacher.say);
    }
    flow.place_list("Who gets which sheet, and why", &sheets);
    together(pack, pitch).into_iter().for_each(|part| flow.place(part));
    flow.place_list("Could not be made", &pack.missing);
    copies(pack, pitch).into_iter().for_each(|part| flow.place(part));
    notes(&mut flow, pack);
    flow.finish()
}

/// Parts down the page, on to a next one where they do not fit.
struct Flow<'a> {
    frame: &'a Frame<'a>,
    pages: Vec<Page>,
    page: Page,
    y: f32,
    close: Closeness,
    /// How many lists are parted so far.
    parted: usize,
}

impl<'a> Flow<'a> {
    fn new(frame: &'a Frame<'a>, close: Closeness) -> Flow<'a> {
        Flow { frame, pages: Vec::new(), page: Page::new(), y: BODY_TOP, close, parted: 0 }
    }
    fn left(&self) -> f32 {
        self.frame.format.left
    }
    fn end(&self) -> f32 {
        self.frame.format.body_foot
    }
    fn turn(&mut self) {
        self.pages.push(std::mem::take(&mut self.page));
        self.y = BODY_TOP;
    }
    fn place(&mut self, part: Part) {
        if self.y + part.height > self.end() && self.y > BODY_TOP {
            self.turn();
        }
        self.page.place(part.drawing, (self.left(), self.y));
        self.y += part.height + self.close.between;
    }
    /// A list across the page: whole where it fits, else parted between its points under a heading on
    /// each page.
    fn place_list(&mut self, title: &str, points: &[String]) {
        let part = |title: &str, points: &[String]| {
            Part::list(title, points, TEXT, self.close.pitch).filter(|_| !points.is_empty())
        };
        let fits = |count: &usize| {
            part(title, &points[..*count]).is_none_or(|p| self.y + p.height <= self.end())
        };
        let here = (0..=points.len()).take_while(fits).last().unwrap_or(0);
        let (here, later) = points.split_at(here);
        self.parted += usize::from(!here.is_empty() && !later.is_empty());
        let again = if here.is_empty() { title.to_owned() } else { format!("{title}, continued") };
        let parts = [part(title, here), part(&again, later)];
        for part in parts.into_iter().flatten() {
            self.place(part);
        }
    }
    fn finish(mut self) -> (Vec<Page>, usize) {
        self.pages.push(self.page);
        (self.pages, self.parted)
    }
}

/// Title, objective, outcomes and time bar; returns where the columns begin.
fn top(frame: &Frame, page: &mut Page) -> f32 {
    let pack = frame.pack;
    let (left, right) = (frame.format.left, frame.format.right());
    let mut down = frame.title(page, &pack.teacher_title());
    let teacher = &pack.teacher;
    let labelled = |page: &mut Page, name: &str, text: &str, y: f32, size: u8| {
        let x = left + width(name, Face::Bold, size) + 2.4;
        let lines = wrap(text, Face::Regular, size, right - x);
        page.left(left, y, size, Face::Bold, name);
        page.lines((x, y), PITCH + 0.5, size, Face::Regular, &lines);
        (PITCH + 0.5) * lines.len().saturating_sub(1) as f32
    };
    if !teacher.objective.is_empty() {
        down += labelled(page, "Objective", &teacher.objective, 38.0 + down, PUPIL);
    }
    if !teacher.meets.is_empty() {
        down += labelled(page, "Meets", &teacher.meets.join("\u{A0} "), 44.0 + down, TEACHER);
    }
    if teacher.stretches.is_empty() {
        return 52.0 + down;
    }
    timebar::draw(page, pack, left, 56.0 + down);
    let more = in_columns(page, &teacher.time_note, (left, 73.1 + down), (COLUMN, COLUMN_STEP));
    80.8 + down + more
}

/// From one line of a note to the next.
const NOTE: f32 = 4.0;

/// A note in small type: on one line, or in two columns so wide and so far apart with whole sentences
/// in each, where that takes less height than lines of a width to read. Returns how far it reaches down
/// below its first line.
fn in_columns(page: &mut Drawing, text: &str, (x, y): Point, (column, step): (f32, f32)) -> f32 {
    let lines = wrap_to_read(text, Face::Regular, SMALL, step + column);
    let sentences: Vec<&str> = text.split_inclusive(". ").map(str::trim).collect();
    let parted = (1..sentences.len()).map(|at| {
        let (left, right) = sentences.split_at(at);
        [left, right].map(|part| wrap(&part.join(" "), Face::Regular, SMALL, column))
    });
    let high = |columns: &[Vec<String>; 2]| columns[0].len().max(columns[1].len());
    let columns = match parted.min_by_key(high) {
        Some(columns) if high(&columns) < lines.len() => columns,
        _ => [lines, Vec::new()],
    };
    for (index, lines) in columns.iter().enumerate() {
        page.lines((x + step * index as f32, y), NOTE, SMALL, Face::Regular, lines);
    }
    NOTE * high(&columns).saturating_sub(1) as f32
}

/// Two columns; parts that are too many for the page go below each other on the next.
fn columns(flow: &mut Flow, pack: &Pack, say: Say) {
    let teacher = &pack.teacher;
    let pitch = flow.close.pitch;
    let words = (!teacher.vocabulary.is_empty()).then(|| {
        let mut part = Part::headed("Words", COLUMN, pitch);
        for line in wrap(&teacher.vocabulary.join(", "), Face::Regular, TEACHER, COLUMN) {
            let y = part.next();
            part.drawing.left(0.0, y, TEACHER, Face::Regular, line);
        }
        part
    });
    let left = [
        Part::list("Success: pupils can", &teacher.success, COLUMN, pitch),
        words,
        Part::list("Builds on", &teacher.builds_on, COLUMN, pitch),
        Part::list("At hand", &teacher.resources, COLUMN, pitch),
        Part::list("Say", &teacher.say, COLUMN, pitch).filter(|_| say == Say::InColumn),
    ];
    let right = [warm_up(pack, pitch), errors(pack, pitch)];
    let begin = flow.y;
    let mut foot = begin;
    let mut late = Vec::new();
    for (x, parts) in [
        (0.0, left.into_iter().flatten().collect::<Vec<_>>()),
        (COLUMN_STEP, right.into_iter().flatten().collect()),
    ] {
        let mut y = begin;
        for part in parts {
            if y + part.height > flow.end() {
                late.push(part);
                continue;
            }
            flow.page.place(part.drawing, (flow.left() + x, y));
            y += part.height + flow.close.between;
        }
        foot = foot.max(y);
    }
    flow.y = foot;
    for part in late {
        flow.place(part);
    }
}

/// The warm-up with answers, and a route to each or what else is right.
fn warm_up(pack: &Pack, pitch: f32) -> Option<Part> {
    let items: Vec<&Item> = pack.named(SectionName::WarmUp).flat_map(|s| &s.items).collect();
    if items.is_empty() {
        return None;
    }
    let lines: Vec<Asked> = items.iter().map(|i| Asked::of(i, &pack.heading.style)).collect();
    let stops = Stops::of(&lines);
    let mut part = Part::headed("Warm-up, with answers", COLUMN, pitch);
    for (index, asked) in lines.iter().enumerate() {
        let y = part.next();
        part.drawing.left(0.0, y, TEACHER, Face::Bold, (index + 1).to_string());
        if stops.fit(asked) {
            part.drawing.right(stops.question, y, TEACHER, Face::Regular, asked.question.as_str());
            part.drawing.right(stops.answer, y, TEACHER, Face::Figures, asked.answer.as_str());
            let hint = wrap(&asked.hint, Face::Regular, SMALL, COLUMN - stops.hint);
            part.drawing.lines((stops.hint, y), 3.4, SMALL, Face::Regular, &hint);
            part.height += 3.4 * hint.len().saturating_sub(1) as f32;
        } else {
            wordy(&mut part, y, asked, &stops);
        }
    }
    Some(part)
}

/// A question of the warm-up, its answer and what is said beside them.
struct Asked {
    question: String,
    answer: String,
    hint: String,
}

impl Asked {
    fn of(item: &Item, style: &HouseStyle) -> Asked {
        let number = |text: &str| text.parse().map_or(text.to_owned(), |n| style.number(n));
        let hint = match (&item.accept, &item.working) {
            (Some(Accept::Between { least, most }), _) => super::key::about(least, most, style),
            (_, Working::Route(route)) => route.short(style),
            _ => String::new(),
        };
        let question = crate::paper::block::answer::question(item);
        Asked { question, answer: number(&item.answer), hint }
    }
}

/// Where the columns of the warm-up stand: as the pattern page has them, or further apart where
/// its numbers are long.
struct Stops {
    question: f32,
    answer: f32,
    hint: f32,
}

impl Stops {
    /// Where the questions begin.
    const BEGIN: f32 = 5.0;
    /// The most a question and an answer may take before they stand as words.
    const MOST: (f32, f32) = (32.0, 24.0);

    fn of(lines: &[Asked]) -> Stops {
        let widest = |widths: &mut dyn Iterator<Item = f32>, most: f32| {
            widths.filter(|w| *w <= most).fold(0.0, f32::max)
        };
        let mut questions = lines.iter().map(|l| width(&l.question, Face::Regular, TEACHER));
        let mut answers = lines.iter().map(|l| width(&l.answer, Face::Figures, TEACHER));
        let question = (Stops::BEGIN + widest(&mut questions, Stops::MOST.0)).max(30.0);
        let answer = (question + 2.5 + widest(&mut answers, Stops::MOST.1)).max(46.0);
        Stops { question, answer, hint: (answer + 3.0).max(52.0) }
    }
    fn fit(&self, asked: &Asked) -> bool {
        width(&asked.question, Face::Regular, TEACHER) <= self.question - Stops::BEGIN + 0.01
            && width(&asked.answer, Face::Figures, TEACHER) <= self.answer - self.question - 2.0
    }
}

/// A question in words: its answer stands in its column or at the right, on the question's last line or
/// the next one.
fn wordy(part: &mut Part, y: f32, asked: &Asked, stops: &Stops) {
    let room = COLUMN - Stops::BEGIN;
    let lines = wrap(&asked.question, Face::Regular, TEACHER, room);
    part.drawing.lines((Stops::BEGIN, y), part.pitch, TEACHER, Face::Regular, &lines);
    part.height += part.pitch * lines.len().saturating_sub(1) as f32;
    let used = lines.last().map_or(0.0, |l| width(l, Face::Regular, TEACHER));
    let wide = width(&asked.answer, Face::Bold, TEACHER);
    let fits = |stop: f32| wide <= stop - Stops::BEGIN - used - 3.0;
    let beside = fits(COLUMN);
    let in_column = fits(stops.answer) || !beside && wide <= stops.answer - Stops::BEGIN;
    let stop = if in_column { stops.answer } else { COLUMN };
    let answers = wrap(&asked.answer, Face::Bold, TEACHER, room);
    for answer in answers {
        let y = if beside { part.height } else { part.next() };
        part.drawing.right(stop, y, TEACHER, Face::Bold, answer);
    }
}

/// Errors to expect: the wrong answer, and what it shows.
fn errors(pack: &Pack, pitch: f32) -> Option<Part> {
    let teacher = &pack.teacher;
    if teacher.errors.is_empty() {
        return None;
    }
    let full = glue(&format!("Errors to expect in {}", teacher.errors_in));
    let fits = width(&full, Face::Bold, TEACHER) <= COLUMN;
    let title = if teacher.errors_in.is_empty() || !fits { "Errors to expect" } else { &full };
    let widest = teacher.errors.iter().map(|e| width(&e.answer, Face::Figures, TEACHER));
    let stop = widest.fold(0.0, f32::max).clamp(20.0, 40.0);
    let mut part = Part::headed(title, COLUMN, pitch);
    for error in &teacher.errors {
        let words = stop + 4.0;
        let lines = wrap(&error.shows, Face::Regular, TEACHER, COLUMN - words);
        for (index, line) in lines.iter().enumerate() {
            let y = part.next();
            if index == 0 {
                part.drawing.right(stop, y, TEACHER, Face::Figures, error.answer.as_str());
            }
            part.drawing.left(words, y, TEACHER, Face::Regular, line.as_str());
        }
    }
    Some(part)
}

/// Guided questions, their answers right.
fn together(pack: &Pack, pitch: f32) -> Option<Part> {
    const INDENT: f32 = 5.0;
    const MOST: f32 = 64.0;
    let questions = &pack.teacher.questions;
    if questions.is_empty() {
        return None;
    }
    let mut part = Part::headed("Together, before practice", TEXT, pitch);
    for question in questions {
        let answers = wrap(&question.answer, Face::Bold, TEACHER, MOST);
        let used = answers.iter().map(|a| width(a, Face::Bold, TEACHER)).fold(0.0, f32::max);
        let asks = wrap_to_read(&question.ask, Face::Regular, TEACHER, TEXT - INDENT - used - 5.0);
        let begin = part.height;
        for (index, ask) in asks.iter().enumerate() {
            let y = part.next();
            if index == 0 {
                part.drawing.left(0.0, y, TEACHER, Face::Regular, "–");
            }
            part.drawing.left(INDENT, y, TEACHER, Face::Regular, ask.as_str());
        }
        for (index, answer) in answers.iter().enumerate() {
            let y = begin + pitch * (index + 1) as f32;
            part.drawing.right(TEXT, y, TEACHER, Face::Bold, answer.as_str());
            part.height = part.height.max(y);
        }
    }
    Some(part)
}

/// The copying list, with the pages as they come out on this paper.
pub fn true_copies(pack: &Pack) -> Vec<Copies> {
    let mut copies = pack.teacher.copies.clone();
    for entry in &mut copies {
        let to_a_page = match entry.file.as_str() {
            "slips.pdf" => super::slips::to_a_page(pack),
            "homework.pdf" => super::homework::to_a_page(pack),
            _ => None,
        };
        if let Some(each) = to_a_page.and_then(|n| u32::try_from(n).ok()) {
            entry.count = pack.heading.pupils.div_ceil(each);
        }
    }
    copies
}

fn copies(pack: &Pack, pitch: f32) -> Option<Part> {
    const WORD: f32 = 2.0;
    const APART: f32 = 6.0;
    const LEAST_APART: f32 = 2.0;
    let copies = true_copies(pack);
    if copies.is_empty() {
        return None;
    }
    let title = format!(
        "Copies for {}",
        crate::words::count(usize::try_from(pack.heading.pupils).unwrap_or(0), "pupil")
    );
    let entries: Vec<[(String, Face); 3]> = copies.into_iter().map(entry).collect();
    let wide = |texts: &[(String, Face); 3]| -> f32 {
        texts.iter().map(|(t, f)| width(t, *f, TEACHER) + WORD).sum()
    };
    // Closer where that saves a line.
    let taken: f32 = entries.iter().map(wide).sum();
    let gaps = entries.len().saturating_sub(1).max(1) as f32;
    let apart = ((TEXT - taken) / gaps).clamp(LEAST_APART, APART);
    let mut part = Part::headed(&glue(&title), TEXT, pitch);
    let mut y = part.next();
    let mut x = 0.0;
    for texts in entries {
        if x > 0.0 && x + wide(&texts) - WORD > TEXT {
            y = part.next();
            x = 0.0;
        }
        for (text, face) in texts {
            let step = width(&text, face, TEACHER) + WORD;
            part.drawing.left(x, y, TEACHER, face, text);
            x += step;
        }
        x += apart;
    }
    Some(part)
}

/// A sheet's code, its name, and how many copies of it.
fn entry(copies: Copies) -> [(String, Face); 3] {
    [
        (copies.code, Face::Bold),
        (copies.what, Face::Regular),
        (copies.count.to_string(), Face::Bold),
    ]
}

/// The notes box, down to the body's end; above it the decision after the exit check, with what
/// the check can and cannot tell.
fn notes(flow: &mut Flow, pack: &Pack) {
    const DECISION: f32 = 10.0;
    /// What stays to write on below it.
    const TO_WRITE: f32 = 18.0;
    let tells = pack.teacher.check_tells.as_ref().map(CheckTells::sentences).unwrap_or_default();
    let tells = pack.heading.style.in_words(&tells.join(" "));
    // What is decided, and what the check tells, from the box's corner.
    let mut decided = Drawing::new();
    let mut high = 0.0;
    if pack.named(SectionName::ExitCheck).any(|s| !s.items.is_empty()) {
        decision(&mut decided, pack, 0.0, 6.4);
        high = DECISION;
        if !tells.is_empty() {
            let columns = (TEXT / 2.0 - 4.0, TEXT / 2.0);
            high += NOTE + in_columns(&mut decided, &tells, (2.0, DECISION + 1.2), columns);
        }
        decided.level(0.0, TEXT, high, FINE);
    }
    if flow.end() - flow.y < flow.close.notes.max(high + TO_WRITE) {
        flow.turn();
    }
    let (left, top, foot) = (flow.left(), flow.y, flow.end());
    let page = &mut flow.page;
    page.rectangle(left, top, TEXT, foot - top, FINE);
    page.place(decided, (left, top));
    let y = top + high;
    let middle = left + TEXT / 2.0;
    page.upright(middle, y, foot, FINE);
    page.left(left + 2.0, y + 5.0, TEACHER, Face::Bold, "Who to see tomorrow");
    page.left(middle + 2.0, y + 5.0, TEACHER, Face::Bold, "Notes");
}

fn decision(page: &mut Drawing, pack: &Pack, left: f32, y: f32) {
    const BLANK: f32 = 14.0;
    let label = "Exit check: all right";
    page.left(left + 2.0, y, TEACHER, Face::Bold, label);
    let begins = left + 2.0 + width(label, Face::Bold, TEACHER) + 1.0;
    page.level(begins, begins + BLANK, y + 1.0, FINE);
    let (go_on, group) = (pack.teacher.go_on, pack.teacher.group);
    let mut texts =
        vec![format!("of {}.", pack.heading.pupils), format!("{go_on} or more: go on.")];
    if group < go_on {
        let range = if group + 1 == go_on {
            group.to_string()
        } else {
            format!("{group} to {}", go_on - 1)
        };
        texts.push(format!("{range}: take a group."));
    }
    texts.push("Fewer: re-teach.".to_owned());
    let mut x = begins + BLANK + 2.0;
    for text in texts {
        let step = width(&text, Face::Regular, TEACHER) + 3.2;
        page.left(x, y, TEACHER, Face::Regular, text);
        x += step;
    }
}
