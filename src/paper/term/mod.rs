//! The term on a page: every week's lessons, what is closed, and which outcomes are met when.

mod coverage;
mod weeks;

use super::font::{Face, glue, glyphs_missing, wrap};
use super::look::{BODY_TOP, Format, LARGE, PUPIL, TITLE};
use super::pages::{foot, head};
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
    let bodies = pages.finish();
    let count = bodies.len();
    let day = |d: NaiveDate| d.format("%-d\u{A0}%B").to_string();
    let (starts, ends) = (plan.term.starts, plan.term.ends);
    let when = format!("Term from {} to {}\u{A0}{}", day(starts), day(ends), ends.format("%Y"));
    let code = code(&plan.class.name);
    let framed = |(index, body): (usize, Page)| {
        let mut page = Page::new();
        head(&mut page, format, (&plan.class.name, &plan.class.school), &when);
        page.place(body, (0.0, 0.0));
        foot(&mut page, format, (&code, "Term overview"), (index + 1, count));
        page
    };
    Sheet {
        size: format.size,
        title: format!("{code} {}", plan.class.name),
        author: plan.class.name.clone(),
        pages: bodies.into_iter().enumerate().map(framed).collect(),
        outline: vec![("Term overview".to_owned(), 0)],
    }
}

/// `TERM-5K` for Class 5 Kingfisher: numbers and initials of what follows the word for a class.
fn code(class: &str) -> String {
    let said = class.split_whitespace().filter(|w| !["Class", "Year", "Grade"].contains(w));
    let short = |word: &str| -> String {
        let digits: String = word.chars().take_while(char::is_ascii_digit).collect();
        if digits.is_empty() { word.chars().take(1).collect() } else { digits }
    };
    let initials: String = said.take(3).map(short).collect::<String>().to_uppercase();
    if initials.is_empty() { "TERM".to_owned() } else { format!("TERM-{initials}") }
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

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_class_has_a_short_code() {
        assert_eq!(code("Class 5 Kingfisher"), "TERM-5K");
        assert_eq!(code("5b"), "TERM-5");
        assert_eq!(code("Class"), "TERM");
        assert_eq!(code("Otters"), "TERM-O");
    }
}
