//! Sheets before they are PDFs: golden pages, and rules that hold on every page.

mod fixture;
mod heads_pages;
mod marked;
mod rules;
mod term;

use fixture::indian;
use rungwise::paper::{self, Refusal};
use rungwise::plan::PaperSize;

/// One page of a sheet as text.
fn page(file: &str, number: usize) -> String {
    let mut sheets = paper::sheets(&fixture::pack(&indian(), PaperSize::A4));
    let mut sheet = sheets.shift_remove(file).unwrap_or_else(|| panic!("no {file}"));
    sheet.pages = vec![sheet.pages.remove(number - 1)];
    sheet.dump()
}

#[test]
fn the_pages_are_those_that_were_looked_at() {
    for (name, file, number) in [
        ("teacher", "teacher.pdf", 1),
        ("worked", "teacher.pdf", 2),
        ("pupil-Q", "pupil-Q.pdf", 1),
        ("pupil-K", "pupil-K.pdf", 1),
        ("slips", "slips.pdf", 1),
        ("homework", "homework.pdf", 1),
        ("key", "key.pdf", 1),
    ] {
        insta::assert_snapshot!(name, page(file, number));
    }
    let test = paper::sheets(&fixture::test_pack(&indian(), PaperSize::A4));
    insta::assert_snapshot!("test", test["test.pdf"].dump());
}

#[test]
fn the_term_overview_shows_every_lesson_today_the_test_and_what_is_closed() {
    let dump = term::overview("grouping = \"indian\"").dump();
    for expected in ["8 bold today", "Unit test", "half-term: 15 to 19~February, no lessons", "1~✓"]
    {
        assert!(dump.contains(expected), "no {expected:?} in\n{dump}");
    }
    assert!(dump.contains("sports morning") && dump.contains("8 italic Catch-up"));
    assert!(dump.contains("an assembly"), "a part of a day that leaves no lesson");
    let cut: Vec<&str> = dump.lines().filter(|line| line.contains('…')).collect();
    assert!(cut.is_empty(), "{cut:?}");
}

#[test]
fn a_pack_prints_to_the_same_bytes_on_any_thread_and_stays_small() {
    let pack = fixture::pack(&indian(), PaperSize::A4);
    let once = paper::print(&pack).expect("it prints");
    let again = std::thread::scope(|scope| {
        let threads: Vec<_> = (0..2).map(|_| scope.spawn(|| paper::print(&pack))).collect();
        threads
            .into_iter()
            .map(|t| t.join().expect("no panic").expect("prints"))
            .collect::<Vec<_>>()
    });
    assert!(again.iter().all(|files| *files == once));
    for (name, bytes) in &once {
        assert!(bytes.len() <= 60 * 1024, "{name}: {} bytes", bytes.len());
    }
}

#[test]
fn what_the_font_lacks_is_refused_with_its_place_before_anything_is_printed() {
    let mut pack = fixture::pack(&indian(), PaperSize::A4);
    pack.heading.school = "Школа on the Hill".to_owned();
    pack.heading.class = "Zoë’s class ✓".to_owned();
    let Err(refusal @ Refusal::Glyphs(_)) = paper::print(&pack) else { panic!("it printed") };
    insta::assert_snapshot!(refusal, @"the font has no `Ш` (U+0428), `к` (U+043A), `о` (U+043E), `л` (U+043B) and `а` (U+0430), in the school's name `Школа on the Hill`");
}
