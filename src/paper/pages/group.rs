//! A group's sheet: a worked sum, then sums of the same sort; and its key for the teacher.

use super::Frame;
use super::arrange;
use super::pupil::heading;
use crate::exercise::{Item, Kind, Space, Working};
use crate::lesson::{GroupSheet, Level, Meaning, SectionName, group_code, meaning, sorted_by};
use crate::method::HouseStyle;
use crate::paper::block::example::bare_example;
use crate::paper::flow::{self, Room, Row};
use crate::paper::font::{Face, wrap_to_read};
use crate::paper::look::{BODY_TOP, Format, TEACHER, TEXT, TITLE};
use crate::paper::sheet::{Drawing, Page, Sheet};
use std::collections::BTreeMap;

/// Above the key of stories that are not worked out.
const ONLY_SUMS: &str =
    "Only the sums are written; what they come to, rightly and wrongly, tells which sum was meant.";
/// From one line of the teacher's words to the next.
const PITCH: f32 = 4.8;
/// Where the first heading stands under a title of one line.
const FIRST: f32 = 50.5;
/// The white below a heading.
const BELOW: f32 = 2.8;
/// The white before the practice.
const BEFORE: f32 = 8.0;
/// The white between paragraphs and between the answers of a key that else had a page more.
const CLOSE: (f32, f32) = (0.8, 2.0);
/// So many wrong answers at least stand beside each answer of a key.
const FEWER: usize = 3;
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
    let apart = apart(group);
    let [first, others] = arrange::rows_in_two(practice, apart, style);
    let mut rows = Vec::new();
    if !first.is_empty() {
        rows.push(title("First", &alone(&practice[..apart]), BEFORE));
        rows.extend(below(first));
    }
    for item in items(group, SectionName::Examples) {
        rows.push(title("Look", worked(item), BEFORE));
        // The numbers are those of the sums to do.
        rows.extend(below(flow::rows(vec![bare_example(item, style)])));
    }
    if !others.is_empty() {
        let words = if group.has_example() {
            the_same_way(&practice[apart..], apart)
        } else {
            one_after_another(practice)
        };
        rows.push(title("Do", &words, BEFORE));
    }
    rows.extend(below(others));
    let room = Room {
        left: frame.format.left,
        first: FIRST + down,
        later: BODY_TOP,
        foot: frame.format.body_foot,
        extra: EXTRA,
    };
    frame.sheet(&group.pack.heading.title, super::on_top(top, flow::pages(rows, room)))
}

/// What each sum takes of the page at least, by what it asks: to see at once which are too many.
pub struct Least(BTreeMap<String, f32>);

impl Least {
    /// For the sums of this sheet.
    pub fn of(group: &GroupSheet) -> Least {
        let heights = arrange::least_heights(group.practice(), &group.pack.heading.style);
        let asked = group.practice().iter().map(asked);
        Least(asked.zip(heights).collect())
    }
    /// Whether these sums of it cannot stand on one page.
    pub fn too_many(&self, group: &GroupSheet) -> bool {
        let style = &group.pack.heading.style;
        let taken = |item: &Item| self.0.get(&asked(item)).copied().unwrap_or_default();
        let worked: f32 =
            items(group, SectionName::Examples).iter().map(|i| bare_example(i, style).height).sum();
        let sums: f32 = group.practice().iter().map(taken).sum();
        sums + worked > Format::of(group.pack.heading.paper).body_foot - FIRST
    }
}

/// What a sum asks, and whether it is begun.
fn asked(item: &Item) -> String {
    format!("{} {}", item.prompt, item.is_begun())
}

/// How many sums stand before the worked one.
fn apart(group: &GroupSheet) -> usize {
    if group.has_example() { group.apart.min(group.practice().len()) } else { 0 }
}

/// "sum" where all of these are sums to work out, else nothing to call them by.
fn noun(items: &[Item]) -> &'static str {
    let sum = |item: &Item| matches!(item.kind, Kind::Written | Kind::Mental | Kind::Row);
    if items.iter().all(sum) { "sum" } else { "" }
}

/// Whether any of these is worked on squares.
fn has_working(items: &[Item]) -> bool {
    items.iter().any(|item| matches!(item.kind, Kind::Written | Kind::Story))
}

/// What is said above stories of which only the sums are written; `None` where others stand among
/// them.
fn sums_only(items: &[Item]) -> Option<String> {
    let only = |item: &Item| item.kind == Kind::Story && item.space == Space::Line;
    let long = |item: &Item| match &item.working {
        Working::Story { story, .. } => story.steps.len() > 1,
        _ => false,
    };
    let which = if items.len() == 1 { "this story" } else { "each story" };
    let (sums, them) = if items.iter().any(long) { ("sums", "them") } else { ("sum", "it") };
    let words = format!("Write the {sums} that {which} needs. Do not work {them} out.");
    items.iter().all(only).then_some(words)
}

/// What is said above the sums that decide.
fn alone(items: &[Item]) -> String {
    if let Some(words) = sums_only(items) {
        return format!("By yourself: {}", words.replacen('W', "w", 1));
    }
    let what = match (items.len(), noun(items)) {
        (1, "") => "this one".to_owned(),
        (1, noun) => format!("this {noun}"),
        (_, "") => "these".to_owned(),
        (_, noun) => format!("these {noun}s"),
    };
    let show = if has_working(items) { " Show your working." } else { "" };
    format!("Do {what} by yourself.{show}")
}

/// What is said above the worked sum.
fn worked(item: &Item) -> &'static str {
    match item.working {
        Working::Long(_) | Working::Grid(_) | Working::Lattice(_) => {
            "This sum is worked. Read each row and say what it is."
        }
        Working::Story { .. } => "This story is worked. Read each line and say what it tells.",
        Working::Route(_) => "This sum is worked. Read each line and say why it is so.",
        Working::Estimate(_) | Working::Steps { .. } => {
            "This one is worked. Read each line and say why it is so."
        }
    }
}

/// What is said above the sums that follow the worked one; whether some stood before it.
fn the_same_way(items: &[Item], apart: usize) -> String {
    if let Some(words) = sums_only(items) {
        return words;
    }
    let begun = items.iter().filter(|item| item.is_begun()).count();
    let finish = finish(begun);
    match (begun, items.len() - begun, apart) {
        (0, 1, 0) => "Do this one the same way.".to_owned(),
        (0, _, 0) => "Do these the same way.".to_owned(),
        (0, 1, _) => "Do the other one the same way.".to_owned(),
        (0, _, _) => "Do the others the same way.".to_owned(),
        (_, 0, _) => format!("{finish} the same way."),
        (_, 1, _) => format!("{finish}, then do the other one the same way."),
        _ => format!("{finish}, then do the others the same way."),
    }
}

/// What is said of so many begun sums.
fn finish(begun: usize) -> &'static str {
    if begun == 1 { "Finish the begun sum" } else { "Finish the begun sums" }
}

/// What is said above sums without a worked one.
fn one_after_another(items: &[Item]) -> String {
    if let Some(words) = sums_only(items) {
        return words;
    }
    let show = if has_working(items) { " Show your working." } else { "" };
    let begun = items.iter().filter(|item| item.is_begun()).count();
    let what = match (items.len(), noun(items)) {
        (many, _) if begun > 0 && begun == many => format!("{}.", finish(begun)),
        (many, _) if begun > 0 && begun + 1 == many => {
            format!("{}, then do the other one.", finish(begun))
        }
        _ if begun > 0 => format!("{}, then do the others.", finish(begun)),
        (1, "") => "Do this one.".to_owned(),
        (1, noun) => format!("Do this {noun}."),
        (_, "") => "Do the first one, then the others.".to_owned(),
        (_, noun) => format!("Do the first {noun}, then the others."),
    };
    format!("{what}{show}")
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
    Row { height: 4.0, before, grows: true, keep: true, drawing }
}

/// The teacher's page: what the group is about, how to teach it, and every answer.
pub fn key(group: &GroupSheet) -> Sheet {
    let code = format!("{}-KEY", group_code(&group.group));
    let frame = Frame::new(&group.pack, &code, "Group key");
    let (name, words) = words(group);
    let mut answers = group.pack.clone();
    // The worked sum is answered on the sheet itself.
    answers.sections.retain(|s| s.name == SectionName::Practice);
    answers.sections.iter_mut().for_each(|s| s.level = Some(Level::Core));
    let pages = |close: bool, likely: usize| {
        let mut answers = answers.clone();
        let items = answers.sections.iter_mut().flat_map(|s| &mut s.items);
        items.for_each(|item| item.likely.truncate(likely));
        let mut rows = super::key::answers(&answers, &group_code(&group.group));
        let mut top = Page::new();
        let mut y = TITLE + 8.0 + frame.title(&mut top, &name);
        let after = if close { CLOSE.0 } else { 1.6 };
        for words in &words {
            let lines = wrap_to_read(words, Face::Regular, TEACHER, TEXT);
            top.lines((frame.format.left, y), PITCH, TEACHER, Face::Regular, &lines);
            y += PITCH * lines.len() as f32 + after;
        }
        if close {
            rows.iter_mut().for_each(|row| row.before = row.before.min(CLOSE.1));
        }
        let (left, foot) = (frame.format.left, frame.format.body_foot);
        let room = Room { left, first: y + 1.0, later: BODY_TOP, foot, extra: 0.0 };
        super::on_top(top, flow::pages(rows, room))
    };
    let all = pages(false, usize::MAX);
    // What a little less white, or fewer wrong answers, bring onto one page needs no second. Those
    // that the sheet is about stand first and stay.
    let mut closer = [usize::MAX, FEWER].into_iter().map(|likely| pages(true, likely));
    let one = if all.len() > 1 { closer.find(|pages| pages.len() == 1) } else { None };
    frame.sheet(&name, one.unwrap_or(all))
}

/// The key's title and what stands under it.
fn words(group: &GroupSheet) -> (String, Vec<String>) {
    let copies = crate::words::count(group.pupils, "copy");
    let copies = format!("{copies} of the sheet {}.", group_code(&group.group));
    let Some(known) = group.pattern.as_deref().and_then(meaning) else {
        return ("For who was absent".to_owned(), vec![for_absent(group), copies]);
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
    let also = group.also.as_deref().and_then(meaning).map(Meaning::beside_another);
    let known = if also.is_some() { known.beside_another() } else { known };
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
        let others = match apart(group) {
            0 | 1 => String::new(),
            2 => ", and so is the next one".to_owned(),
            many => format!(", and so are the next {}", many - 1),
        };
        format!(
            "Too little was shown to name it. {} decides, so it is done {before}{others}: {wrong} if \
             it is so, {right} if not. Who has it right needs the sheet no more.",
            item.id
        )
    });
    let words = std::iter::once(shown)
        .chain(decides)
        .chain([style.in_words(&style.in_figures(&known.sentences()))])
        .chain(also.map(|also| {
            let words = format!("Beside it, {}: {}", also.shows, also.sentences());
            style.in_words(&style.in_figures(&words))
        }))
        .chain(sums_only(group.practice()).map(|_| ONLY_SUMS.to_owned()));
    (name, words.chain(tail).collect())
}

/// "A worked sum, then 2 begun ones to finish and 12 to do. Go through the worked one together
/// first.": what stands on the sheet of who was absent.
fn for_absent(group: &GroupSheet) -> String {
    let (example, practice) =
        (items(group, SectionName::Examples).first(), items(group, SectionName::Practice));
    let begun_estimate = |item: &Item| item.kind == Kind::Estimate && item.prompt.contains('=');
    let is_begun = |item: &&Item| item.is_begun() || begun_estimate(item);
    let begun = practice.iter().filter(is_begun).count();
    let alone = practice.len() - begun;
    let noun = match example.or(practice.first()).map_or(Kind::Written, |item| item.kind) {
        Kind::Story => "story",
        Kind::Written | Kind::Row | Kind::Mental => "sum",
        Kind::Estimate => "estimate",
        _ => "one",
    };
    let finish = match begun {
        1 => "1 begun one to finish".to_owned(),
        many => format!("{many} begun ones to finish"),
    };
    let what = match (begun, alone) {
        (0, alone) => format!("{alone} to do"),
        (_, 0) => finish,
        (_, alone) => format!("{finish} and {alone} to do"),
    };
    match example {
        Some(_) => {
            format!("A worked {noun}, then {what}. Go through the worked one together first.")
        }
        None => format!("No worked {noun} stands on it, only {what}. Do the first one together."),
    }
}

/// A number as the class writes it; anything else as it is.
fn written(answer: &str, style: &HouseStyle) -> String {
    answer.parse().map_or_else(|_| answer.to_owned(), |n| style.number(n))
}
