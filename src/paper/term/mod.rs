//! The term on a page: every week's lessons, what is closed, and which outcomes are met when.

mod coverage;
mod weeks;

use super::font::{Face, glue, glyphs_missing, wrap};
use super::look::{BODY_TOP, Format, LARGE, PUPIL, TITLE};
use super::pages::ForClass;
use super::sheet::{Page, Sheet};
use super::{Missing, Refusal, pdf};
use crate::calendar::Calendar;
use crate::plan::{LessonKind, Plan};
use crate::schedule::Lesson;
use crate::words;
use chrono::NaiveDate;

/// What the term page shows.
#[derive(Debug, Clone, Copy)]
pub struct Overview<'a> {
    /// The class's plan.
    pub plan: &'a Plan,
    /// The term's days.
    pub calendar: &'a Calendar,
    /// The lessons in force, in order of date.
    pub lessons: &'a [Lesson],
    /// Numbers of the lessons that were taught.
    pub taught: &'a [u32],
    /// Today.
    pub today: NaiveDate,
}

impl Overview<'_> {
    fn is_taught(&self, lesson: &Lesson) -> bool {
        self.taught.contains(&lesson.number)
    }
}

/// Prints the term overview.
///
/// # Errors
/// The font lacks characters, named with the texts they stand in; or a fault of ours.
pub fn term(overview: &Overview) -> Result<Vec<u8>, Refusal> {
    let missing = missing_in(overview);
    if !missing.is_empty() {
        return Err(Refusal::Glyphs(missing));
    }
    pdf(&term_sheet(overview)).map_err(Refusal::Fault)
}

/// The term overview before it is a PDF.
pub fn term_sheet(overview: &Overview) -> Sheet {
    let plan = overview.plan;
    let format = Format::of(plan.paper);
    let mut pages = Pages { format, done: Vec::new(), page: Page::new(), y: 46.0 };
    title(&mut pages, overview);
    weeks::draw(&mut pages, overview);
    coverage::draw(&mut pages, overview);
    let day = |d: NaiveDate| d.format("%-d\u{A0}%B").to_string();
    let (starts, ends) = (plan.term.starts, plan.term.ends);
    let when = format!("Term from {} to {}\u{A0}{}", day(starts), day(ends), ends.format("%Y"));
    let class = ForClass {
        class: &plan.class.name,
        school: &plan.class.school,
        paper: plan.paper,
        when: &when,
        kind: ("TERM", "Term overview"),
    };
    class.sheet(pages.finish())
}

/// The pages so far, and where the next part begins.
struct Pages {
    format: Format,
    done: Vec<Page>,
    page: Page,
    y: f32,
}

impl Pages {
    fn turn(&mut self) {
        self.done.push(std::mem::take(&mut self.page));
        self.y = BODY_TOP;
    }
    fn finish(mut self) -> Vec<Page> {
        self.done.push(self.page);
        self.done
    }
}

fn title(pages: &mut Pages, overview: &Overview) {
    let left = pages.format.left;
    let room = pages.format.right() - left;
    let name = capital(&overview.plan.ladder.name.replace('-', " "));
    let lines = wrap(&format!("{name}: the term"), Face::Bold, LARGE, room);
    pages.page.lines((left, TITLE), 7.5, LARGE, Face::Bold, &lines);
    let lessons = overview.lessons;
    let taught = lessons.iter().filter(|l| overview.is_taught(l)).count();
    let test = lessons.iter().find(|l| l.kind == LessonKind::UnitTest);
    let test =
        test.map_or("no test".to_owned(), |l| format!("test on {}", l.date.format("%-d %B")));
    let today = overview.today.format("%-d %B %Y");
    let all = words::count(lessons.len(), "lesson");
    let sum = glue(&format!("{all}, {taught} taught, {test}. Printed on {today}."));
    let down = 7.5 * lines.len().saturating_sub(1) as f32;
    pages.page.left(left, 36.0 + down, PUPIL, Face::Regular, sum);
    pages.y = 46.0 + down;
}

fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map_or(String::new(), |c| c.to_uppercase().chain(letters).collect())
}

fn missing_in(overview: &Overview) -> Vec<Missing> {
    let plan = overview.plan;
    let mut texts = vec![
        ("the class's name".to_owned(), plan.class.name.clone()),
        ("the school's name".to_owned(), plan.class.school.clone()),
    ];
    let closed = overview.calendar.closed.iter();
    texts.extend(closed.map(|(day, why)| (format!("the closure of {day}"), why.clone())));
    let skills = plan.ladder.skills.values();
    texts.extend(skills.map(|s| (format!("the skill `{}`", s.id), s.short.clone())));
    let mut found: Vec<Missing> = Vec::new();
    for (place, text) in texts {
        let characters = glyphs_missing(&text);
        if !characters.is_empty() && !found.iter().any(|m| m.text == text) {
            found.push(Missing { place, text, characters });
        }
    }
    found
}
