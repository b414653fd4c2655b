//! The pages for the head: the term on a page, the scheme of work, the coverage.

use super::class::{BEFORE, Class, SHORT};

fn planned() -> Class {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    class
}

/// The pages of a PDF, and what it says it is.
fn printed(class: &Class, today: &str, command: &str, rest: &[&str]) -> (usize, String) {
    let file = class.beside("page.pdf");
    let name = file.display().to_string();
    let mut rest = rest.to_vec();
    rest.extend(["--pdf", &name]);
    let before = class.contents();
    class.on(today, command, &rest).ends(0).says("written to");
    assert!(class.contents() == before, "the class's folder is as it was");
    let document = lopdf::Document::load(&file).expect("a PDF");
    let info =
        document.trailer.get(b"Info").and_then(lopdf::Object::as_reference).expect("properties");
    let title = document.get_dictionary(info).and_then(|d| d.get(b"Title")).expect("a title");
    let title = lopdf::decode_text_string(title).expect("text");
    (document.get_pages().len(), title)
}

#[test]
fn the_term_the_scheme_and_the_coverage_are_written_as_pages() {
    let class = planned();
    let (pages, title) = printed(&class, "2027-01-20", "plan", &[]);
    assert!(pages <= 2 && title.contains("Class 5 Heron"), "{pages} {title}");
    let (pages, title) = printed(&class, "2027-01-20", "report", &["scheme"]);
    assert!(pages <= 2 && title == "Scheme of work Class 5 Heron", "{pages} {title}");
    let (pages, title) = printed(&class, "2027-01-20", "report", &["coverage"]);
    assert!(pages <= 2 && title == "Coverage Class 5 Heron", "{pages} {title}");
}

#[test]
fn the_scheme_has_every_lesson_once_in_its_week_with_its_outcomes() {
    let class = planned();
    let schedule = class.json(BEFORE, "plan", &[]);
    let lessons = schedule["lessons"].as_array().expect("lessons");
    let scheme = class.json(BEFORE, "report", &["scheme"]);
    let weeks = scheme["weeks"].as_array().expect("weeks");
    assert_eq!(weeks.len(), 6);
    let mut seen = Vec::new();
    for week in weeks {
        for taught in week["taught"].as_array().expect("a list") {
            let outcomes = taught["outcomes"].as_array().expect("a list");
            for number in taught["lessons"].as_array().expect("a list") {
                let lesson = lessons.iter().find(|l| l["number"] == *number).expect("a lesson");
                let served = lesson["outcomes"].as_array().expect("a list");
                assert_eq!(served.is_empty(), outcomes.is_empty(), "lesson {number}");
                for outcome in outcomes {
                    let code = outcome.as_str().expect("a code");
                    let named =
                        |o: &serde_json::Value| o.as_str().is_some_and(|o| o.ends_with(code));
                    assert!(served.iter().any(named), "lesson {number}: {code}");
                }
                seen.push(number.as_u64().expect("a number"));
            }
        }
    }
    seen.sort_unstable();
    let all: Vec<u64> = lessons.iter().filter_map(|l| l["number"].as_u64()).collect();
    assert_eq!(seen, all);
    let text = class.on(BEFORE, "report", &["scheme"]).ends(0).out;
    for expected in ["week 1, 11\u{a0}Jan", "Unit test: lesson", "are the authority"] {
        assert!(text.contains(expected), "no `{expected}` in\n{text}");
    }
}

#[test]
fn a_page_that_cannot_be_is_refused_with_the_way_out() {
    let class = planned();
    class.on(BEFORE, "report", &["checks", "--pdf", "x.pdf"]).ends(2).says("scheme");
    let name = class.beside("nowhere.pdf");
    std::fs::create_dir(&name).expect("a folder");
    let name = name.display().to_string();
    class.on(BEFORE, "report", &["scheme", "--pdf", &name]).ends(1).says("it is a folder");
    class.on(BEFORE, "plan", &["--pdf", &name]).ends(1).says("it is a folder");
}
