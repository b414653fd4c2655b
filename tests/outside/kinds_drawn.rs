//! One page of every kind that the README does not show, drawn again and held against its picture with
//! a small tolerance: sheets of the other levels, homework, the test, the head's pages, and those that
//! marking leads to. `tests/pictures/make` makes the pictures anew.

#[path = "../contract/class.rs"]
#[allow(dead_code)] // the contract uses more of it
mod class;

use super::pdf::installed;
use super::pictures::{Picture, agree, drawn_page, term};
use class::Class;
use rungwise::paper::print;
use rungwise::plan::LessonKind;
use serde_json::Value;

const PLAN: &str = include_str!("../../plans/kingfisher/plan.toml");
const TODAY: &str = "2026-11-26";

/// What a pack's files have: the first page of each.
fn of_packs() -> Vec<(&'static str, Picture)> {
    let lesson = term().first_of("long-four-by-three");
    let is_test = |l: &&rungwise::schedule::Lesson| l.kind == LessonKind::UnitTest;
    let test = term().schedule.lessons.iter().find(is_test).expect("a test").number;
    let test = term().pack(test);
    let mut pages = Vec::new();
    for (pack, files) in [
        (
            &lesson,
            &[("support", "pupil-Q.pdf"), ("stretch", "pupil-V.pdf"), ("homework", "homework.pdf")]
                [..],
        ),
        (&test, &[("test", "test.pdf"), ("mark-scheme", "key.pdf")][..]),
    ] {
        let printed = print(pack).expect("it prints");
        pages.extend(files.iter().map(|(name, file)| (*name, drawn_page(&printed[*file], 1))));
    }
    pages
}

/// The pages about a class: the term, what is for the head, and after a check in which a quarter of the
/// class puts one zero too few a group's sheet, its key and the progress.
fn of_the_class() -> Vec<(&'static str, Picture)> {
    let class = Class::with(PLAN);
    let pdf = |name: &str| class.dir().join(name).display().to_string();
    class.on(TODAY, "plan", &["--pdf", &pdf("term.pdf")]).ends(0);
    class.on(TODAY, "report", &["scheme", "--pdf", &pdf("scheme.pdf")]).ends(0);
    class.on(TODAY, "report", &["coverage", "--pdf", &pdf("coverage.pdf")]).ends(0);
    let lessons = class.json(TODAY, "plan", &[]);
    let lessons = lessons["lessons"].as_array().expect("lessons");
    let lesson = lessons.iter().find(|l| l["skill"] == "multiples-of-ten").expect("a lesson");
    let (number, day) = (lesson["number"].to_string(), lesson["date"].as_str().expect("a date"));
    class.on(day, "pack", &["--lesson", &number]).ends(0);
    let pack = class.json(day, "pack", &["--lesson", &number]);
    let sections = pack[0]["sections"].as_array().expect("sections");
    let check = sections.iter().find(|s| s["name"] == "exit-check").expect("a check");
    let items = check["items"].as_array().expect("items");
    class.write("answers.csv", answers(items));
    class.on(day, "mark", &["--lesson", &number, &pdf("answers.csv")]).ends(0);
    class.on(day, "pack", &["--lesson", &number, "--group", "1"]).ends(0);
    class.on(day, "report", &["progress", "--pdf", &pdf("progress.pdf")]).ends(0);
    let folder = format!("packs/L{number:0>2}");
    [
        ("term", "term.pdf".to_owned()),
        ("scheme", "scheme.pdf".to_owned()),
        ("coverage", "coverage.pdf".to_owned()),
        ("progress", "progress.pdf".to_owned()),
        ("group", format!("{folder}/group-1.pdf")),
        ("group-key", format!("{folder}/group-1-key.pdf")),
    ]
    .map(|(name, file)| (name, drawn_page(&read(&class, &file), 1)))
    .into()
}

fn read(class: &Class, file: &str) -> Vec<u8> {
    std::fs::read(class.dir().join(file)).unwrap_or_else(|e| panic!("{file}: {e}"))
}

/// Eight of 32 pupils lose a zero, the others are right.
fn answers(items: &[Value]) -> String {
    let text = |value: &Value| value.as_str().expect("a text").to_owned();
    let ids: Vec<String> = items.iter().map(|item| text(&item["id"])).collect();
    let mut table = format!("pupil,{}\n", ids.join(","));
    for pupil in 1..=32 {
        let given = items.iter().map(|item| {
            let right = text(&item["answer"]);
            match right.strip_suffix('0') {
                Some(short) if pupil <= 8 => short.to_owned(),
                _ => right,
            }
        });
        table.push_str(&format!("{pupil},{}\n", given.collect::<Vec<_>>().join(",")));
    }
    table
}

#[test]
fn a_page_of_every_other_kind_is_as_it_was_looked_at() {
    if !installed("pdftoppm") {
        return;
    }
    let pages: Vec<_> = of_packs().into_iter().chain(of_the_class()).collect();
    assert_eq!(pages.len(), 11);
    agree(&pages);
}
