//! A week for the copier: one file for each number of copies, in the order of the week, and one
//! for the teacher that begins with the list; each parted by days where it would be too large.

use super::font::{Face, glue, shorten, width};
use super::look::{BODY_TOP, COLUMN, COLUMN_STEP, FINE, Format, LARGE, TEACHER, TITLE};
use super::pages::ForClass;
use super::sheet::{Page, Sheet};
use super::{Refusal, pdf, refuse_missing, sheets, true_copies};
use crate::lesson::Pack;
use crate::plan::PaperSize;
use crate::words;
use chrono::NaiveDate;
use indexmap::IndexMap;

/// The teacher's file: the list, then teacher's pages and keys.
pub const TEACHERS: &str = "teacher.pdf";

/// One file for the copier.
#[derive(Debug, Clone, PartialEq)]
pub struct Batch {
    /// Its name: `copies-32.pdf`.
    pub file: String,
    /// How many copies of all its pages.
    pub count: u32,
    /// The sheets in it, in the order of the week.
    pub sheets: Vec<InBatch>,
    /// Its pages, as they are printed.
    pub sheet: Sheet,
}

/// One sheet of a batch, as the list names it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct InBatch {
    /// "L03-Q".
    pub code: String,
    /// "support".
    pub what: String,
    /// The lesson's day.
    pub date: NaiveDate,
    /// Its pages.
    pub pages: usize,
}

/// What a file may have, in bytes, before it is parted between two days: a class's mail takes
/// 60 KiB, and the first of the teacher's files gets the list besides.
const MOST: usize = 52 * 1024;

/// The batches of a week's packs, most copies first and the teacher's last; none without packs.
/// A batch that is too large for one file is parted where a day ends.
pub fn batches(packs: &[Pack], monday: NaiveDate) -> Vec<Batch> {
    let mut piles: Vec<Pile> = piles(packs).into_values().collect();
    let teachers = |p: &Pile| p.name.starts_with("teacher");
    piles.sort_by_key(|p| (teachers(p), std::cmp::Reverse(p.count), p.name.clone()));
    let mut batches: Vec<Batch> = piles.into_iter().flat_map(|p| p.parts(packs, monday)).collect();
    let list = list(packs, &batches, monday);
    if let Some(batch) = batches.iter_mut().find(|b| b.file == TEACHERS) {
        let (pages, outline) = (&mut batch.sheet.pages, &mut batch.sheet.outline);
        outline.iter_mut().for_each(|(_, page)| *page += list.len());
        outline.insert(0, ("What to copy".to_owned(), 0));
        pages.splice(0..0, list);
    }
    batches
}

/// A sheet and its line in the list.
type Listed = (Sheet, InBatch);

/// All that is copied the same number of times on one kind of paper.
struct Pile {
    /// "copies-32".
    name: String,
    count: u32,
    sheets: Vec<Listed>,
}

fn piles(packs: &[Pack]) -> IndexMap<String, Pile> {
    let mut piles: IndexMap<String, Pile> = IndexMap::new();
    let usual = packs.first().map(|pack| pack.heading.paper);
    for pack in packs {
        let copies = true_copies(pack);
        let other_paper = match pack.heading.paper {
            paper if Some(paper) == usual => "",
            PaperSize::A4 => "-a4",
            PaperSize::Letter => "-letter",
        };
        for (file, sheet) in sheets(pack) {
            let copied = copies.iter().find(|c| c.file == file);
            let code = sheet.title.split(' ').next().unwrap_or_default();
            let own = if file == "key.pdf" { "answer key" } else { "teacher’s pages" };
            let listed = InBatch {
                code: code.to_owned(),
                what: copied.map_or(own, |c| c.what.trim_end_matches(", pages")).to_owned(),
                date: pack.date,
                pages: sheet.pages.len(),
            };
            let (name, count) = match copied {
                None if file == "teacher.pdf" || file == "key.pdf" => ("teacher".to_owned(), 1),
                Some(c) if c.count > 0 => (format!("copies-{}", c.count), c.count),
                _ => continue,
            };
            let name = format!("{name}{other_paper}");
            let empty = || Pile { name: name.clone(), count, sheets: Vec::new() };
            piles.entry(name.clone()).or_insert_with(empty).sheets.push((sheet, listed));
        }
    }
    piles
}

impl Pile {
    /// The files of this pile, in the order of the week.
    fn parts(self, packs: &[Pack], monday: NaiveDate) -> Vec<Batch> {
        let Some(pack) = packs.first() else { return Vec::new() };
        let batch = |sheets: &[Listed]| {
            let mut sheet = Sheet {
                size: sheets.first().map_or(Format::of(pack.heading.paper).size, |s| s.0.size),
                title: String::new(),
                author: super::pages::author(pack),
                pages: Vec::new(),
                outline: Vec::new(),
            };
            for (one, _) in sheets {
                let mut one = one.clone();
                one.outline = vec![(one.title.clone(), 0)];
                sheet.append(one);
            }
            let listed = sheets.iter().map(|(_, listed)| listed.clone()).collect();
            Batch { file: String::new(), count: self.count, sheets: listed, sheet }
        };
        let mut parts = parted(&self.sheets, &batch);
        let one = parts.len() == 1;
        for (index, part) in parts.iter_mut().enumerate() {
            let number = index + 1;
            let which = if one { String::new() } else { format!(", part {number}") };
            let suffix = if index == 0 { String::new() } else { format!("-{number}") };
            part.file = format!("{}{suffix}.pdf", self.name);
            part.sheet.title = format!("{}{which}, {}", self.what(), week_of(monday));
        }
        parts
    }

    fn what(&self) -> String {
        if self.name.starts_with("teacher") {
            "For the teacher".to_owned()
        } else {
            words::count(usize::try_from(self.count).unwrap_or(0), "copy")
        }
    }
}

/// The sheets as one batch, or as two halves between two days as long as it is too large.
fn parted(sheets: &[Listed], batch: &dyn Fn(&[Listed]) -> Batch) -> Vec<Batch> {
    let whole = batch(sheets);
    // A sheet that cannot be drawn is refused where the files are written.
    if pdf(&whole.sheet).map_or(0, |bytes| bytes.len()) <= MOST {
        return vec![whole];
    }
    let pages = |part: &[Listed]| part.iter().map(|(_, l)| l.pages).sum::<usize>();
    let ends_a_day = |&at: &usize| sheets[at - 1].1.date != sheets[at].1.date;
    let apart = |&at: &usize| pages(&sheets[..at]).abs_diff(pages(&sheets[at..]));
    match (1..sheets.len()).filter(ends_a_day).min_by_key(apart) {
        Some(at) => [parted(&sheets[..at], batch), parted(&sheets[at..], batch)].concat(),
        None => vec![whole],
    }
}

/// The batches as PDF files by name.
///
/// # Errors
/// The font lacks characters, named with the texts they stand in; or a fault of ours.
pub fn week(batches: &[Batch]) -> Result<IndexMap<String, Vec<u8>>, Refusal> {
    let mut files = IndexMap::new();
    for batch in batches {
        refuse_missing(&batch.file, &batch.sheet)?;
        files.insert(batch.file.clone(), pdf(&batch.sheet).map_err(Refusal::Fault)?);
    }
    Ok(files)
}

fn week_of(monday: NaiveDate) -> String {
    monday.format("week of %-d\u{A0}%B\u{A0}%Y").to_string()
}

/// From one line of the list to the next, and from a batch to the next one's heading.
const PITCH: f32 = 5.0;
const BETWEEN: f32 = 4.0;
/// Where the columns of a line stand: the code, the day and what it is; pages end at the right.
const STOPS: [f32; 2] = [19.0, 42.5];

/// A page of the list being written: two columns.
struct List {
    format: Format,
    done: Vec<Page>,
    page: Page,
    column: usize,
    y: f32,
    /// Where columns begin on this page.
    top: f32,
}

impl List {
    fn left(&self) -> f32 {
        self.format.left + COLUMN_STEP * self.column as f32
    }
    /// Goes on in the next column where so many lines do not fit.
    fn need(&mut self, lines: f32) {
        if self.y + PITCH * (lines - 1.0) <= self.format.body_foot {
            return;
        }
        self.column += 1;
        if self.column > 1 {
            self.done.push(std::mem::take(&mut self.page));
            self.column = 0;
            self.top = BODY_TOP + 4.0;
        }
        self.y = self.top;
    }
    fn heading(&mut self, batch: &Batch) {
        // A heading stands above two lines at least.
        self.need(3.0);
        let (left, y) = (self.left(), self.y);
        let pages: usize = batch.sheets.iter().map(|s| s.pages).sum();
        let pages = words::count(pages, "page");
        let says = if batch.file.starts_with("teacher") {
            format!("once, {pages}")
        } else {
            format!("{} × {pages}", batch.count)
        };
        self.page.left(left, y, TEACHER, Face::Bold, batch.file.as_str());
        self.page.right(left + COLUMN, y, TEACHER, Face::Bold, glue(&says));
        self.page.level(left, left + COLUMN, y + 1.5, FINE);
        self.y += PITCH + 0.8;
    }
    fn line(&mut self, sheet: &InBatch) {
        self.need(1.0);
        let (left, y) = (self.left(), self.y);
        let pages = sheet.pages.to_string();
        let room = COLUMN - STOPS[1] - width(&pages, Face::Regular, TEACHER) - 3.0;
        let what = shorten(&sheet.what, Face::Regular, TEACHER, room);
        self.page.left(left, y, TEACHER, Face::Bold, sheet.code.as_str());
        let day = sheet.date.format("%a\u{A0}%-d\u{A0}%b").to_string();
        self.page.left(left + STOPS[0], y, TEACHER, Face::Regular, day);
        self.page.left(left + STOPS[1], y, TEACHER, Face::Regular, what);
        self.page.right(left + COLUMN, y, TEACHER, Face::Regular, pages);
        self.y += PITCH;
    }
}

/// The list: every file, how often it is copied, and what is in it.
fn list(packs: &[Pack], batches: &[Batch], monday: NaiveDate) -> Vec<Page> {
    let Some(pack) = packs.first() else { return Vec::new() };
    let heading = &pack.heading;
    let format = Format::of(heading.paper);
    let top = TITLE + 19.0;
    let mut list = List { format, done: Vec::new(), page: Page::new(), column: 0, y: top, top };
    list.page.left(format.left, TITLE, LARGE, Face::Bold, "What to copy this week");
    let pupils = words::count(usize::try_from(heading.pupils).unwrap_or(0), "pupil");
    let says = glue(&format!(
        "{pupils}. Each file holds all that is copied the same number of times, in the order of the week."
    ));
    list.page.left(format.left, TITLE + 8.0, TEACHER, Face::Regular, says);
    for batch in batches {
        list.heading(batch);
        batch.sheets.iter().for_each(|sheet| list.line(sheet));
        list.y += BETWEEN;
    }
    list.done.push(list.page);
    let when = monday.format("Week of %-d\u{A0}%B\u{A0}%Y").to_string();
    let code = monday.format("WEEK-%m%d").to_string();
    let class = ForClass {
        class: &heading.class,
        school: &heading.school,
        paper: heading.paper,
        when: &when,
        kind: ("WEEK", "What to copy"),
    };
    class.framed(&code, list.done)
}
