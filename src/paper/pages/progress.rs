//! The progress page: pupils down, skills across, how far each has come; then the skills by name.

use super::for_class::{ForClass, without_remnant};
use crate::lesson::{Progress, SkillProgress, Stage};
use crate::paper::font::{Face, shorten, width, wrap_to_read};
use crate::paper::look::{BODY_TOP, FINE, Format, HAIR, LARGE, SMALL, SUM, TEACHER, TEXT, TITLE};
use crate::paper::sheet::{Page, Sheet};
use crate::plan::PaperSize;
use chrono::NaiveDate;

/// Whose progress it is, and when.
#[derive(Debug, Clone, Copy)]
pub struct ProgressPage<'a> {
    /// The class's name.
    pub class: &'a str,
    /// The school's name; may be empty.
    pub school: &'a str,
    /// The paper.
    pub paper: PaperSize,
    /// Today.
    pub today: NaiveDate,
    /// The progress.
    pub progress: &'a Progress,
}

/// The room for a pupil's name, at most and at least.
const NAME: (f32, f32) = (44.0, 10.0);
/// The height of a pupil's row, and of a skill's line.
const ROW: f32 = 5.0;
/// The side of a cell's mark.
const CELL: f32 = 3.0;
/// Fewer pupils than these never stand on a further page by themselves.
const FEW: usize = 5;
/// From one skill's column to the next, at most.
const STEP: f32 = 7.0;

/// The page; more than one where there are many pupils.
pub fn sheet(page: &ProgressPage) -> Sheet {
    let when = page.today.format("%-d\u{A0}%B\u{A0}%Y").to_string();
    let class = ForClass {
        class: page.class,
        school: page.school,
        paper: page.paper,
        when: &when,
        kind: ("PROGRESS", "Progress"),
    };
    let format = class.format();
    let ends = |pages: &Pages| (pages.done.len() + 1, pages.y);
    let mut pages = without_remnant(format, |foot| filled(page, format, foot), ends);
    pages.done.push(pages.page);
    class.sheet(pages.done)
}

/// The pages, full at this height, without heads and feet.
fn filled(page: &ProgressPage, format: Format, foot: f32) -> Pages {
    let mut pages = Pages { format, done: Vec::new(), page: Page::new(), y: TITLE, foot };
    title(&mut pages);
    let skills: Vec<&SkillProgress> = page.progress.skills.iter().filter(|s| s.met > 0).collect();
    if skills.is_empty() {
        let (left, y) = (format.left, pages.y);
        pages.page.left(left, y, TEACHER, Face::Regular, "No lesson has been held yet.");
    } else {
        table(&mut pages, page.progress, &skills);
        legend(&mut pages, &skills);
    }
    pages
}

struct Pages {
    format: Format,
    done: Vec<Page>,
    page: Page,
    y: f32,
    /// Where a page is full.
    foot: f32,
}

impl Pages {
    fn turn(&mut self) {
        self.done.push(std::mem::take(&mut self.page));
        self.y = BODY_TOP + 4.0;
    }
    fn room_for(&self, high: f32) -> bool {
        self.y + high <= self.foot
    }
}

fn title(pages: &mut Pages) {
    let left = pages.format.left;
    pages.page.left(left, TITLE, LARGE, Face::Bold, "Progress");
    let mut x = left;
    let y = TITLE + 8.0;
    for (stage, words) in [
        (Stage::Met, "met"),
        (Stage::Practised, "practised"),
        (Stage::Checked, "checked"),
        (Stage::Secure, "secure"),
    ] {
        mark(&mut pages.page, (x, y), stage);
        pages.page.left(x + CELL + 1.6, y, SMALL, Face::Regular, words);
        x += CELL + 1.6 + width(words, Face::Regular, SMALL) + 7.0;
    }
    let rule = "Secure: at least 4 of 5 right in each of the last two showings, or 8 of 10 two weeks \
                after it was taught. A showing holds 5 answers, or 4 all right; days with fewer are \
                taken together.";
    let lines = wrap_to_read(rule, Face::Regular, SMALL, TEXT);
    pages.page.lines((left, y + 5.0), 4.0, SMALL, Face::Regular, &lines);
    pages.y = y + 10.0 + 4.0 * lines.len() as f32;
}

/// The sign of a level, its foot on the line: shape and ink say the same, for copiers.
fn mark(page: &mut Page, (x, y): (f32, f32), stage: Stage) {
    let top = y - CELL + 0.4;
    match stage {
        Stage::NotMet => {}
        Stage::Met => page.level(x + 0.8, x + CELL - 0.8, y - CELL / 2.0 + 0.4, FINE),
        Stage::Practised => page.rectangle(x, top, CELL, CELL, HAIR),
        Stage::Checked => {
            page.rectangle(x, top, CELL, CELL, HAIR);
            page.line((x, top + CELL), (x + CELL, top), FINE);
        }
        Stage::Secure => {
            page.rectangle(x, top, CELL, CELL, HAIR);
            // Filled with one thick line, which every printer draws.
            page.level(x + 0.3, x + CELL - 0.3, top + CELL / 2.0, (CELL - 0.6) / 0.3528);
        }
    }
}

fn table(pages: &mut Pages, progress: &Progress, skills: &[&SkillProgress]) {
    let widest = progress.pupils.iter().map(|p| width(p, Face::Regular, SMALL)).fold(0.0, f32::max);
    let name = (widest + 3.0).clamp(NAME.1, NAME.0);
    let step = ((TEXT - name) / skills.len() as f32).min(STEP);
    let columns = |pages: &mut Pages| {
        let (left, y) = (pages.format.left, pages.y);
        for index in 0..skills.len() {
            let x = left + name + step * index as f32 + CELL / 2.0;
            pages.page.centre(x, y, SMALL, Face::Bold, (index + 1).to_string());
        }
        pages.page.level(left, left + name + step * skills.len() as f32, y + 1.2, SUM);
        pages.y += ROW + 0.8;
    };
    columns(pages);
    for (place, pupil) in progress.pupils.iter().enumerate() {
        let rest = progress.pupils.len() - place;
        let few = rest == FEW && !pages.room_for(1.0 + ROW * (rest - 1) as f32);
        if !pages.room_for(1.0) || few {
            pages.turn();
            columns(pages);
        }
        let (left, y) = (pages.format.left, pages.y);
        let label = shorten(pupil, Face::Regular, SMALL, name - 1.0);
        pages.page.left(left, y, SMALL, Face::Regular, label);
        for (index, skill) in skills.iter().enumerate() {
            let x = left + name + step * index as f32;
            mark(&mut pages.page, (x, y), skill.pupils[place].stage);
        }
        pages.y += ROW;
    }
}

/// The skills by number, with the lessons that had each and how many pupils are secure.
fn legend(pages: &mut Pages, skills: &[&SkillProgress]) {
    pages.y += 4.0;
    // Kept together, where a page can hold them all.
    let high = ROW * (skills.len().min(40) as f32 + 1.0);
    let on_a_last_page = pages.y + high <= pages.format.body_foot;
    if !pages.room_for(high) && !on_a_last_page {
        pages.turn();
    }
    let head = |pages: &mut Pages| {
        let (left, y) = (pages.format.left, pages.y);
        pages.page.left(left + 7.0, y, SMALL, Face::Bold, "Skill");
        for (at, text) in COLUMNS {
            pages.page.right(left + at, y, SMALL, Face::Bold, text);
        }
        pages.page.level(left, left + TEXT, y + 1.2, SUM);
        pages.y += ROW + 0.8;
    };
    head(pages);
    for (index, skill) in skills.iter().enumerate() {
        if !pages.room_for(1.0) {
            pages.turn();
            head(pages);
        }
        let (left, y) = (pages.format.left, pages.y);
        let page = &mut pages.page;
        page.left(left, y, SMALL, Face::Bold, (index + 1).to_string());
        let room = COLUMNS[0].0 - 7.0 - 26.0;
        page.left(
            left + 7.0,
            y,
            SMALL,
            Face::Regular,
            shorten(&skill.title, Face::Regular, SMALL, room),
        );
        let at = |stage: Stage| skill.pupils.iter().filter(|p| p.stage >= stage).count();
        let numbers =
            [skill.met as usize, skill.practised as usize, at(Stage::Checked), at(Stage::Secure)];
        for ((at, _), number) in COLUMNS.into_iter().zip(numbers) {
            page.right(left + at, y, SMALL, Face::Regular, number.to_string());
        }
        pages.y += ROW;
    }
}

/// Where the numbers of the skills end, and what each column holds.
const COLUMNS: [(f32, &str); 4] =
    [(108.0, "lessons"), (128.0, "came back"), (148.0, "checked"), (168.0, "secure")];
