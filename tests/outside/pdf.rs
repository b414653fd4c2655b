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
        for (name, bytes) in paper::print(&pack).expect("it prints") {
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
