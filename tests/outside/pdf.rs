//! Other programs judge what is printed: qpdf and mutool the files, pdftotext the text in them.
//!
//! Where a program is not installed the test says so and passes; with `CI` set it fails.

#[path = "../pages/fixture.rs"]
#[allow(dead_code)] // the pages' tests use more of it
mod fixture;

use indexmap::IndexMap;
use rungwise::method::HouseStyle;
use rungwise::number::Grouping;
use rungwise::paper;
use rungwise::paper::week::{batches, week};
use rungwise::plan::PaperSize;
use std::path::{Path, PathBuf};
use std::process::{Command, Output};
use tempfile::TempDir;

pub fn installed(program: &str) -> bool {
    let found = Command::new(program).arg("--version").output().is_ok()
        || Command::new(program).arg("-v").output().is_ok();
    assert!(found || std::env::var_os("CI").is_none(), "{program} is not installed");
    if !found {
        eprintln!("not checked: {program} is not installed");
    }
    found
}

fn printed() -> (TempDir, IndexMap<String, PathBuf>) {
    let folder = tempfile::tempdir().expect("a folder");
    let style = HouseStyle { grouping: Grouping::Spaced, ..HouseStyle::default() };
    let packs = [
        ("L35", fixture::pack(&fixture::indian(), PaperSize::A4)),
        ("L47", fixture::test_pack(&style, PaperSize::Letter)),
    ];
    let mut files = IndexMap::new();
    for (lesson, pack) in packs {
        let monday = pack.date;
        let week = week(&batches(std::slice::from_ref(&pack), monday)).expect("it prints");
        let week = week.into_iter().map(|(name, bytes)| (format!("week-{name}"), bytes));
        for (name, bytes) in paper::print(&pack).expect("it prints").into_iter().chain(week) {
            let name = format!("{lesson}-{name}");
            let path = folder.path().join(&name);
            std::fs::write(&path, bytes).expect("a file");
            files.insert(name, path);
        }
    }
    (folder, files)
}

fn run(program: &str, arguments: &[&str], file: &Path) -> Output {
    let output = Command::new(program).args(arguments).arg(file).output();
    output.unwrap_or_else(|error| panic!("{program}: {error}"))
}

fn text(file: &Path) -> String {
    let output = Command::new("pdftotext").args(["-layout"]).arg(file).arg("-").output();
    String::from_utf8(output.expect("pdftotext runs").stdout).expect("UTF-8")
}

#[test]
fn qpdf_finds_no_fault_in_any_file() {
    if !installed("qpdf") {
        return;
    }
    let (_folder, files) = printed();
    for (name, path) in &files {
        let output = run("qpdf", &["--check"], path);
        let said = String::from_utf8_lossy(&output.stderr);
        assert!(output.status.success() && said.is_empty(), "{name}: {said}");
    }
}

#[test]
fn mutool_draws_every_page_without_a_warning() {
    if !installed("mutool") {
        return;
    }
    let (folder, files) = printed();
    for (name, path) in &files {
        let output = folder.path().join("page-%d.pgm");
        let output = output.to_str().expect("a path in UTF-8");
        let drawn = run("mutool", &["draw", "-q", "-r", "30", "-o", output], path);
        let said = String::from_utf8_lossy(&drawn.stderr);
        // What a build of the program was made without is no fault of the file.
        let faults = said.lines().filter(|l| !l.contains("ICC support") && !l.trim().is_empty());
        assert!(drawn.status.success() && faults.count() == 0, "{name}: {said}");
    }
}

#[test]
fn the_text_can_be_copied_with_its_signs_and_accents() {
    if !installed("pdftotext") {
        return;
    }
    let (_folder, files) = printed();
    let of = |name: &str| text(&files[name]);
    let teacher = of("L35-teacher.pdf");
    for expected in ["Class 5 Kingfisher", "21,80,201", "36 × 199 = 36 × 200 − 36", "→", "3 × 3"]
    {
        assert!(teacher.contains(expected), "no {expected:?} in\n{teacher}");
    }
    assert!(of("L35-pupil-K.pdf").contains("4,739 × 286 ≈"));
    assert!(of("L35-key.pdf").contains("30,14,976"));
    // The narrow space between groups comes out as such or, from some programs, as a space.
    let test = of("L47-test.pdf");
    assert!(["5\u{202F}209 × 386", "5 209 × 386"].iter().any(|t| test.contains(t)), "{test}");
}

#[test]
fn a_file_says_what_it_is_and_neither_when_nor_where_it_was_made() {
    if !installed("pdfinfo") {
        return;
    }
    let (_folder, files) = printed();
    let output = run("pdfinfo", &[], &files["L35-pupil-Q.pdf"]).stdout;
    let said = String::from_utf8(output).expect("UTF-8");
    for expected in [
        "L35-Q Long multiplication: four digits by three",
        "Class 5 Kingfisher, Harbour Lane School",
    ] {
        assert!(said.contains(expected), "{said}");
    }
    assert!(!said.contains("Date"), "{said}");
    let bytes = std::fs::read(&files["L35-pupil-Q.pdf"]).expect("a file");
    let contains = |wanted: &[u8]| bytes.windows(wanted.len()).any(|w| w == wanted);
    assert!(contains(b"/PrintScaling/None") && contains(b"/Lang"));
    assert!(!contains(b"/ID"));
}

#[test]
fn every_font_is_embedded_cut_down_and_mapped_to_unicode() {
    if !installed("pdffonts") {
        return;
    }
    let (_folder, files) = printed();
    for (name, path) in &files {
        let said = String::from_utf8(run("pdffonts", &[], path).stdout).expect("UTF-8");
        let fonts: Vec<&str> = said.lines().skip(2).collect();
        assert!(!fonts.is_empty(), "{name}: {said}");
        for font in fonts {
            // embedded, subset, with a map to Unicode
            assert!(font.contains("+RungwiseText-") && font.contains("yes yes yes"), "{font}");
        }
    }
}

/// What a page may be drawn with: texts, and lines that are stroked in black, none too thin for a
/// copier; no fill, no grey, no colour, no picture.
#[test]
fn pages_hold_black_text_and_black_lines_and_nothing_else() {
    let (_folder, files) = printed();
    let mut operations = 0;
    for (name, path) in &files {
        let document = lopdf::Document::load(path).expect("a PDF");
        for page in document.get_pages().into_values() {
            let contents = document.get_page_content(page);
            let contents = lopdf::content::Content::decode(&contents).expect("contents");
            for operation in contents.operations {
                operations += 1;
                let number = operation.operands.first().and_then(|o| o.as_float().ok());
                let allowed = match operation.operator.as_str() {
                    "q" | "Q" | "BT" | "ET" | "Td" | "Tf" | "Tj" | "m" | "l" | "S" => true,
                    "g" | "G" => number == Some(0.0),
                    "w" => number.is_some_and(|thick| thick >= 0.4499),
                    _ => false,
                };
                assert!(allowed, "{name}: {operation:?}");
            }
        }
    }
    assert!(operations > 10_000, "{operations}");
}

/// The ink of a page as a printer of 150 dots an inch would set it, without smoothing.
#[test]
fn no_ink_of_any_page_lies_near_its_edge_and_none_is_grey() {
    if !installed("pdftoppm") {
        return;
    }
    let (_folder, files) = printed();
    let mut pages = 0;
    for (name, path) in &files {
        let options = ["-r", "150", "-gray", "-aa", "no", "-aaVector", "no"];
        let mut bytes = run("pdftoppm", &options, path).stdout;
        while !bytes.is_empty() {
            let (width, dots, rest) = first_picture(&bytes);
            let height = dots.len() / width;
            // Cut lines go to 6 mm from the edge, everything else has wide margins.
            let cut = ["homework", "slips", "week"].iter().any(|part| name.contains(part));
            // 6 and 11 mm in dots, less one.
            let margin = if cut { 34 } else { 64 };
            for (place, shade) in dots.iter().enumerate().filter(|(_, shade)| **shade < 255) {
                assert_eq!(*shade, 0, "{name}: grey");
                let (x, y) = (place % width, place / width);
                // The foot stands 9 mm from the paper's edge.
                let foot = if cut { margin } else { margin * 3 / 4 };
                let inside = x >= margin && x < width - margin && y >= foot && y < height - foot;
                assert!(inside, "{name}: ink at {x}, {y}");
            }
            assert!(dots.contains(&0), "{name}: an empty page");
            pages += 1;
            bytes = rest.to_vec();
        }
    }
    assert!(pages > 20, "{pages}");
}

/// The first of the pictures that pdftoppm writes one after the other: width, dots, what follows.
fn first_picture(bytes: &[u8]) -> (usize, &[u8], &[u8]) {
    let mut at = 0;
    let mut header = Vec::new();
    while header.len() < 4 {
        let end = at + bytes[at..].iter().position(u8::is_ascii_whitespace).expect("a header");
        header.push(String::from_utf8_lossy(&bytes[at..end]).into_owned());
        at = end + 1;
    }
    let [width, height] = [1, 2].map(|n| header[n].parse::<usize>().expect("a number"));
    (width, &bytes[at..at + width * height], &bytes[at + width * height..])
}
