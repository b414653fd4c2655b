//! A group's sheet: a worked sum, then sums of the same sort; and its key for the teacher.

use super::Frame;
use super::arrange;
use super::pupil::heading;
use crate::exercise::Item;
use crate::lesson::{GroupSheet, Level, SectionName, group_code, meaning, sorted_by};
use crate::method::HouseStyle;
use crate::paper::block::example::example;
use crate::paper::flow::{self, Room, Row};
use crate::paper::font::{Face, wrap_to_read};
use crate::paper::look::{BODY_TOP, TEACHER, TEXT, TITLE};
use crate::paper::sheet::{Drawing, Page, Sheet};

/// From one line of the teacher's words to the next.
const PITCH: f32 = 4.8;
/// The white below a heading.
const BELOW: f32 = 4.0;
/// The white before the practice.
const BEFORE: f32 = 9.0;
/// How much white a page may add between rows.
const EXTRA: f32 = 10.0;

fn items(sheet: &GroupSheet, name: SectionName) -> &[Item] {
    let section = sheet.pack.sections.iter().find(|s| s.name == name);
    section.map_or(&[], |section| &section.items)
}

/// The pupils' page. It names no mistake and nobody: a child sees a lesson's sheet.
pub fn sheet(group: &GroupSheet) -> Sheet {
    let code = group_code(&group.group);
    let frame = Frame::new(&group.pack, &code, "Practice");
    let style = &group.pack.heading.style;
    let mut top = Page::new();
    let down = frame.title(&mut top, &group.pack.heading.title);
    frame.name_and_date(&mut top, 40.0 + down);
    let practice = items(group, SectionName::Practice);
    let apart = usize::from(first_is_apart(group));
    let [first, others] = arrange::rows_in_two(practice, apart, style);
    let mut rows = Vec::new();
    if !first.is_empty() {
        rows.push(title("First", "Do this sum by yourself. Show your working.", BEFORE));
        rows.extend(below(first));
    }
    let examples = items(group, SectionName::Examples);
    if !examples.is_empty() {
        rows.push(title("Look", "This sum is worked. Read each row and say what it is.", BEFORE));
        for item in examples {
            // The numbers are those of the sums to do.
            rows.extend(below(flow::rows(vec![example(item, 0, &[], style)])));
        }
        let begun = practice.iter().any(Item::is_begun);
        let what = match (begun, first_is_apart(group)) {
            (true, _) => "Finish the begun sums, then do the others the same way.",
            (false, false) => "Do these the same way.",
            (false, true) => "Do the others the same way.",
        };
        if !others.is_empty() {
            rows.push(title("Do", what, BEFORE));
        }
    }
    if examples.is_empty() && !others.is_empty() {
        rows.push(title("Do", "Do the first sum, then the others. Show your working.", BEFORE));
    }
    rows.extend(below(others));
    let room = Room {
        left: frame.format.left,
        first: 50.5 + down,
        later: BODY_TOP,
        foot: frame.format.body_foot,
        extra: EXTRA,
    };
    frame.sheet(&group.pack.heading.title, super::on_top(top, flow::pages(rows, room)))
}

/// Whether the first sum stands before the worked one.
fn first_is_apart(group: &GroupSheet) -> bool {
    group.perhaps && group.has_example() && !group.practice().is_empty()
}

/// Rows under a heading.
fn below(mut rows: Vec<Row>) -> Vec<Row> {
    // A heading stands nearer to what is under it than to what is above.
    if let Some(first) = rows.first_mut() {
        (first.before, first.grows) = (BELOW, false);
    }
    rows
}

fn title(name: &str, words: &str, before: f32) -> Row {
    let mut drawing = Drawing::new();
    heading(&mut drawing, 0.0, 3.2, name, words);
    Row { height: 4.0, before, grows: false, keep: true, drawing }
}

/// The teacher's page: what the group is about, how to teach it, and every answer.
pub fn key(group: &GroupSheet) -> Sheet {
    let code = format!("{}-KEY", group_code(&group.group));
    let frame = Frame::new(&group.pack, &code, "Group key");
    let left = frame.format.left;
    let mut top = Page::new();
    let (name, words) = words(group);
    let down = frame.title(&mut top, &name);
    let mut y = TITLE + 8.0 + down;
    for words in words {
        let lines = wrap_to_read(&words, Face::Regular, TEACHER, TEXT);
        top.lines((left, y), PITCH, TEACHER, Face::Regular, &lines);
        y += PITCH * lines.len() as f32 + 1.6;
    }
    let mut answers = group.pack.clone();
    // The worked sum is answered on the sheet itself.
    answers.sections.retain(|s| s.name == SectionName::Practice);
    answers.sections.iter_mut().for_each(|s| s.level = Some(Level::Core));
    let rows = super::key::answers(&answers, &group_code(&group.group));
    let room =
        Room { left, first: y + 1.0, later: BODY_TOP, foot: frame.format.body_foot, extra: 0.0 };
    frame.sheet(&name, super::on_top(top, flow::pages(rows, room)))
}

/// The key's title and what stands under it.
fn words(group: &GroupSheet) -> (String, Vec<String>) {
    let copies = crate::words::count(group.pupils, "copy");
    let copies = format!("{copies} of the sheet {}.", group_code(&group.group));
    let Some(known) = group.pattern.as_deref().and_then(meaning) else {
        let what = "For who was absent: the lesson's worked sum, then sums to finish and to do. Go through \
                    the worked sum together first.";
        return ("For who was absent".to_owned(), vec![what.to_owned(), copies]);
    };
    let style = &group.pack.heading.style;
    let caution = crate::paper::HINT.to_owned();
    let name = format!("Group {}", group.group);
    let sort = match group.sort_by.as_slice() {
        [] => None,
        some => Some(format!("For the slips with {}.", sorted_by(some, style))),
    };
    let tail = sort.into_iter().chain([caution, copies]);
    if !group.one_of.is_empty() {
        let what =
            "The check cannot tell which of these it is; the sums of this sheet can.".to_owned();
        let each = group.telling().into_iter().map(|(pattern, answers)| {
            let shows = meaning(&pattern).map_or(pattern, |known| known.shows);
            style.in_words(&format!("{shows}: {answers}."))
        });
        return (name, std::iter::once(what).chain(each).chain(tail).collect());
    }
    let perhaps = if group.perhaps { "perhaps " } else { "" };
    let also = group.also.as_deref().and_then(meaning);
    let beside = also.as_ref().map(|also| format!(", and beside it {}", also.shows));
    let beside = beside.unwrap_or_default();
    let shown =
        style.in_words(&format!("What the answers show: {perhaps}{}{beside}.", known.shows));
    let decides = group.deciding().map(|(item, wrong)| {
        let right = written(&item.answer, style);
        let wrong = written(&wrong, style);
        let before = match group.has_example() {
            true => "before the worked sum is looked at",
            false => "before the others",
        };
        format!(
            "Too little was shown to name it. {} decides, so it is done {before}: {wrong} if it is \
             so, {right} if not. Who has it right needs the sheet no more.",
            item.id
        )
    });
    let words = std::iter::once(shown)
        .chain(decides)
        .chain([style.in_words(&style.in_figures(&known.sentences()))])
        .chain(also.map(|also| {
            let words = format!("Beside it, {}: {}", also.shows, also.sentences());
            style.in_words(&style.in_figures(&words))
        }));
    (name, words.chain(tail).collect())
}

/// A number as the class writes it; anything else as it is.
fn written(answer: &str, style: &HouseStyle) -> String {
    answer.parse().map_or_else(|_| answer.to_owned(), |n| style.number(n))
}
