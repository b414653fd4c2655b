//! `pack --week`: beside the lessons' folders one file for each number of copies.

use super::class::{BEFORE, Class, SHORT};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

const WEEK: &str = "week-2027-01-11";

/// The PDF files of a folder with their pages.
fn pages_in(dir: &Path) -> BTreeMap<String, usize> {
    let mut found = BTreeMap::new();
    for entry in fs::read_dir(dir).expect("a folder") {
        let path = entry.expect("an entry").path();
        if path.extension().is_some_and(|e| e == "pdf") {
            let document = lopdf::Document::load(&path).expect("a PDF");
            let name = path.file_name().expect("a name").to_string_lossy().into_owned();
            found.insert(name, document.get_pages().len());
        }
    }
    found
}

/// The file a later part belongs to: `teacher-2.pdf` to `teacher.pdf`.
fn first_part(file: &str) -> String {
    ["-2", "-3"].iter().fold(file.to_owned(), |file, part| match file.strip_prefix("teacher") {
        Some(rest) => format!("teacher{}", rest.trim_start_matches(part)),
        None => file,
    })
}

/// The lines of the copying list that name a file of a lesson: copies and file.
fn copied(out: &str) -> Vec<(u32, String)> {
    let lines = out.lines().filter_map(|line| line.trim().split_once(" ×  "));
    let file = |rest: &str| rest.split_whitespace().next().unwrap_or_default().to_owned();
    lines.map(|(n, rest)| (n.parse().expect("a number"), file(rest))).collect()
}

#[test]
fn a_week_leaves_a_file_for_each_number_of_copies() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    let run = class.on(BEFORE, "pack", &["--week", "2027-01-13"]).ends(0);
    let packs = class.dir().join("packs");
    let batches = pages_in(&packs.join(WEEK));
    let listed = copied(&run.out);
    let mut expected: BTreeMap<String, usize> = BTreeMap::new();
    let mut teachers = 0;
    for lesson in 1..=6 {
        let pages = pages_in(&packs.join(format!("L{lesson:02}")));
        for (file, pages) in pages {
            if file == "teacher.pdf" || file == "key.pdf" {
                teachers += pages;
                continue;
            }
            let name = format!("L{lesson:02}/{file}");
            let (copies, _) = listed.iter().find(|(_, f)| *f == name).expect("it is listed");
            *expected.entry(format!("copies-{copies}.pdf")).or_default() += pages;
        }
    }
    // The teacher's file has the list before them.
    expected.insert("teacher.pdf".to_owned(), teachers + 1);
    let mut whole: BTreeMap<String, usize> = BTreeMap::new();
    for (file, pages) in &batches {
        *whole.entry(first_part(file)).or_default() += pages;
        let bytes = fs::metadata(packs.join(WEEK).join(file)).expect("a file").len();
        assert!(bytes <= 60 * 1024, "{file}: {bytes} bytes");
    }
    assert_eq!(whole, expected);
    // The teacher's pages and keys of six lessons are too much for one file; the others are not.
    let parts: Vec<&String> = batches.keys().filter(|file| **file != first_part(file)).collect();
    assert_eq!(parts, ["teacher-2.pdf", "teacher-3.pdf"]);
    assert!(batches.len() > 3, "{batches:?}");
    for (file, pages) in &batches {
        let copies = file.trim_start_matches("copies-").trim_end_matches(".pdf");
        let copies = if file.starts_with("teacher") { "1" } else { copies };
        let words = if *pages == 1 { "page" } else { "pages" };
        let line = format!("{copies:>4} ×  {WEEK}/{file}  {pages} {words}");
        assert!(run.out.contains(&line), "no `{line}` in\n{}", run.out);
    }
}

#[test]
fn the_weeks_files_are_the_same_again_and_elsewhere_and_old_ones_go() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    let out = class.beside("out");
    let to = out.display().to_string();
    class.on(BEFORE, "pack", &["--week", "2027-01-11", "--out", &to]).ends(0);
    assert!(!class.holds("packs"), "elsewhere is elsewhere");
    class.on(BEFORE, "pack", &["--week", "2027-01-15"]).ends(0);
    let first = class.contents();
    let of_week = |name: &str| name.starts_with(&format!("packs/{WEEK}/"));
    let mut files = 0;
    for (name, bytes) in first.iter().filter(|(name, _)| of_week(name)) {
        let elsewhere = fs::read(out.join(name.trim_start_matches("packs/"))).expect("a file");
        assert!(elsewhere == *bytes, "{name} differs");
        files += 1;
    }
    assert!(files > 3, "{files}");
    class.on(BEFORE, "pack", &["--week", "2027-01-11"]).ends(0);
    assert!(class.contents() == first, "printed again it is the same");
    // A file of an earlier number of copies goes, one of the teacher's own stays.
    class.write(&format!("packs/{WEEK}/copies-77.pdf"), "old");
    class.write(&format!("packs/{WEEK}/notes.txt"), "mine");
    class.on(BEFORE, "pack", &["--week", "2027-01-11"]).ends(0);
    assert!(!class.holds(&format!("packs/{WEEK}/copies-77.pdf")));
    assert_eq!(class.read(&format!("packs/{WEEK}/notes.txt")), "mine");
}

#[test]
fn only_a_week_has_them_and_version_b_has_its_own() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    class.on(BEFORE, "pack", &["--day", "2027-01-11"]).ends(0);
    assert!(!class.holds(&format!("packs/{WEEK}")));
    class.on(BEFORE, "pack", &["--week", "2027-01-11", "--version", "B"]).ends(0);
    assert!(class.holds(&format!("packs/{WEEK}B/teacher.pdf")));
    assert!(!class.holds(&format!("packs/{WEEK}")));
}

#[test]
fn the_weeks_files_keep_the_order_of_the_week() {
    let class = Class::with(SHORT);
    class.on(BEFORE, "plan", &[]).ends(0);
    class.on(BEFORE, "pack", &["--week", "2027-01-11", "--draft"]).ends(0);
    let dir = class.dir().join("packs").join(WEEK);
    for file in pages_in(&dir).keys() {
        let document = lopdf::Document::load(dir.join(file)).expect("a PDF");
        let toc = document.get_toc().expect("an outline").toc;
        let codes: Vec<&str> =
            toc.iter().filter_map(|entry| entry.title.split(' ').next()).collect();
        let lessons: Vec<&str> = codes.iter().filter(|c| **c != "What").map(|c| &c[..3]).collect();
        assert!(lessons.is_sorted() && !lessons.is_empty(), "{file}: {codes:?}");
        let pages: Vec<usize> = toc.iter().map(|entry| entry.page).collect();
        assert!(pages.is_sorted_by(|a, b| a < b), "{file}: {pages:?}");
    }
}
