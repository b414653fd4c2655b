//! What goes wrong on the way to paper: names, sizes, lessons with little in them, disks that fill
//! up, files that are held. A clear answer, no half-written file, nothing lost.

use super::class::{BEFORE, Class, SHORT};
use std::fs;
use std::process::Command;

/// The short plan with some of it replaced, planned.
fn planned(changes: &[(&str, &str)]) -> Class {
    let mut plan = SHORT.to_owned();
    for (from, to) in changes {
        assert!(plan.contains(from), "the plan holds no `{from}`");
        plan = plan.replace(from, to);
    }
    let class = Class::with(&plan);
    class.on(BEFORE, "plan", &[]).ends(0);
    class
}

/// The text of a PDF's properties.
fn author(class: &Class, name: &str) -> String {
    let document = lopdf::Document::load(class.dir().join(name)).expect("a PDF");
    let info = document.trailer.get(b"Info").and_then(lopdf::Object::as_reference);
    let info = document.get_dictionary(info.expect("properties")).expect("a dictionary");
    lopdf::decode_text_string(info.get(b"Author").expect("an author")).expect("text")
}

#[test]
fn a_name_with_accents_is_printed_and_one_in_another_script_is_refused() {
    let name = "Żółć Ñandú, 5ème B – Ștefan & Ķēniņš";
    let class = planned(&[("Class 5 Heron", name)]);
    class.on(BEFORE, "pack", &["--lesson", "1"]).ends(0);
    assert_eq!(author(&class, "packs/L01/key.pdf"), format!("{name}, Millbrook School"));
    for (foreign, code) in [("Класс 5", "U+041A"), ("५ अ", "U+096B"), ("صف", "U+0635")] {
        let class = planned(&[("Millbrook School", foreign)]);
        let before = class.contents();
        let run = class.on(BEFORE, "pack", &["--lesson", "1"]).ends(1);
        run.says("`class.school`").says(code).says("nothing was printed");
        assert!(class.contents() == before);
    }
}

#[test]
fn a_very_long_name_is_shortened_on_paper_only() {
    let name = "The class of the children who came up the hill ".repeat(8);
    let class = planned(&[("Class 5 Heron", name.trim())]);
    class.on(BEFORE, "pack", &["--lesson", "2"]).ends(0);
    let pack = class.read("packs/L02/pack.json");
    assert!(pack.contains(name.trim()));
}

#[test]
fn an_empty_name_or_one_with_a_line_break_is_refused_with_its_place() {
    for (name, words) in [("", "is empty"), ("  ", "is empty"), (r"Class 5\nHeron", "line break")] {
        let class = Class::with(&SHORT.replace("Class 5 Heron", name));
        let before = class.contents();
        for command in ["check", "plan", "pack"] {
            class.on(BEFORE, command, &[]).ends(1).says(words).says("plan.toml:3:8");
        }
        assert!(class.contents() == before);
    }
    let class = Class::with(&SHORT.replace("Millbrook", r"Mill\nbrook"));
    class.on(BEFORE, "check", &[]).ends(1).says("`class.school` has a line break");
}

#[test]
fn sixty_pupils_at_a_slow_pace_get_enough_copies_and_sixty_one_are_refused() {
    let slow = [("pupils = 12", "pupils = 60\npace = 1.5")];
    let class = planned(&slow);
    let run = class.on(BEFORE, "pack", &["--week", "2027-01-11"]).ends(0);
    let mut by_level = 0;
    for line in run.out.lines().filter(|l| l.contains("L02/")) {
        let count: u32 =
            line.split_whitespace().next().expect("a count").parse().expect("a number");
        by_level += if line.contains("pupil-") { count } else { 0 };
        if line.contains("slips") {
            assert!(count * 6 >= 60, "{line}");
        }
    }
    assert_eq!(by_level, 60, "{}", run.out);
    let class = Class::with(&SHORT.replace("pupils = 12", "pupils = 61"));
    class.on(BEFORE, "plan", &[]).ends(1).says("from 1 to 60").says("plan.toml:5:10");
}

#[test]
fn periods_of_twenty_and_of_a_hundred_minutes_have_packs_that_say_what_they_lack() {
    for (ends, minutes) in [("09:30", 20), ("10:50", 100)] {
        let class = planned(&[
            ("09:10-09:50", &format!("09:10-{ends}")),
            ("09:10-09:40", &format!("09:10-{ends}")),
            ("wednesday = [\"11:00-12:20\"]", ""),
            ("[\"long-two-by-two\", \"story-one-step\"]", "[\"short-two-by-one\"]"),
        ]);
        let packs = class.json(BEFORE, "pack", &["--all"]);
        for pack in packs.as_array().expect("packs") {
            assert_eq!(pack["minutes"], minutes);
            let sections = pack["sections"].as_array().expect("sections");
            // The three levels work at the same time.
            let counted = sections.iter().filter(|s| s["level"].is_null() || s["level"] == "core");
            let spent: u64 = counted
                .filter(|s| s["name"] != "homework")
                .map(|s| s["minutes"].as_u64().expect("minutes"))
                .sum();
            assert!(spent <= minutes, "lesson {}: {spent} of {minutes}", pack["lesson"]);
        }
        class.on(BEFORE, "pack", &["--day", "2027-01-12"]).ends(0);
        assert!(class.holds("packs/L02/key.pdf"));
    }
}

#[test]
fn a_skill_without_exercises_leaves_a_lesson_that_prints_and_says_so() {
    let class = Class::small();
    class.on(BEFORE, "plan", &[]).ends(0);
    let run = class.on(BEFORE, "pack", &["--lesson", "1"]).ends(0);
    assert!(run.err.contains("lesson 1: "), "it says what is missing\n{}", run.err);
    assert!(class.holds("packs/L01/teacher.pdf") && class.holds("packs/L01/pack.json"));
    // A section with nothing in it has no file, and no file is on the list that is not there.
    for line in run.out.lines().filter(|l| l.contains(" ×  L01/")) {
        let file = line.split_whitespace().nth(2).expect("a file");
        assert!(class.holds(&format!("packs/{file}")), "{line}");
    }
}

#[test]
fn a_paper_that_is_unknown_is_refused_with_those_that_are_known() {
    for paper in ["a5", "legal", ""] {
        let class = Class::with(&format!("{SHORT}\n[style]\npaper = \"{paper}\"\n"));
        class.on(BEFORE, "pack", &[]).ends(1).says("style.paper").says("`a4` or `letter`");
        assert!(!class.holds("packs"));
    }
}

/// Everything of a class but what a change keeps to take itself back.
fn kept(class: &Class) -> Vec<(String, Vec<u8>)> {
    let mut all = class.contents();
    all.retain(|(name, _)| !name.starts_with(".rungwise/"));
    all
}

/// A limit on the size of files fails writes in the middle of a run, as a full disk does.
#[cfg(unix)]
#[test]
fn a_disk_that_fills_up_in_the_middle_leaves_everything_as_it_was() {
    let class = planned(&[]);
    let limited = |rest: &str| {
        let program = env!("CARGO_BIN_EXE_rungwise");
        let dir = class.arg();
        let line = format!(
            "trap '' XFSZ; ulimit -f 24; exec '{program}' pack '{dir}' {rest} --today {BEFORE}"
        );
        let out = Command::new("sh").args(["-c", &line]).output().expect("sh runs");
        (out.status.code(), String::from_utf8_lossy(&out.stderr).into_owned())
    };
    let before = kept(&class);
    for rest in ["--week 2027-01-11", "--lesson 1", "--all", "--day 2027-01-12 --draft"] {
        let (status, said) = limited(rest);
        assert_eq!(status, Some(1), "{rest}: {said}");
        assert!(said.contains("cannot write") && said.contains("nothing was lost"), "{said}");
        assert!(kept(&class) == before, "{rest} left something behind");
    }
    // What was printed before stays whole when it cannot be printed anew.
    class.on(BEFORE, "pack", &["--lesson", "2"]).ends(0);
    let before = kept(&class);
    let (status, said) = limited("--lesson 2 --afresh");
    assert_eq!(status, Some(1), "{said}");
    assert!(kept(&class) == before);
    class.on(BEFORE, "pack", &["--week", "2027-01-11"]).ends(0);
}

/// Where this process may mount one: a disk of 700 KB.
#[cfg(target_os = "linux")]
#[test]
fn a_disk_that_is_truly_full_is_named() {
    let class = planned(&[]);
    let disk = class.beside("disk");
    fs::create_dir(&disk).expect("a folder");
    let mut mount = Command::new("mount");
    mount.args(["-t", "tmpfs", "-o", "size=700k", "tmpfs"]).arg(&disk);
    let mounted = mount.output().is_ok_and(|out| out.status.success());
    if !mounted {
        eprintln!("not checked: no disk can be mounted here");
        return;
    }
    let out = disk.join("packs").display().to_string();
    let run = class.on(BEFORE, "pack", &["--all", "--out", &out]);
    let left = fs::read_dir(&disk).map(Iterator::count);
    let done = Command::new("umount").arg(&disk).output().expect("umount runs");
    assert!(done.status.success());
    run.ends(1).says("the disk is full").says("make room on the disk; nothing was lost");
    assert_eq!(left.expect("a folder"), 0, "nothing stays behind");
}

#[test]
fn a_pdf_that_another_program_holds_open_keeps_its_old_pages_for_it() {
    use std::io::Read;
    let class = planned(&[]);
    class.on(BEFORE, "pack", &["--lesson", "1", "--draft"]).ends(0);
    let path = class.dir().join("packs/L01/key.pdf");
    let before = fs::read(&path).expect("a file");
    let mut held = fs::File::open(&path).expect("it is there");
    class.on(BEFORE, "pack", &["--swap", "L01-K1"]).ends(0);
    // Where a file that is held can be replaced, the reader goes on with the old one.
    let mut read = Vec::new();
    held.read_to_end(&mut read).expect("it reads");
    assert!(read == before);
    let now = fs::read(&path).expect("a file");
    assert!(now.ends_with(b"%%EOF") || now.ends_with(b"%%EOF\n"));
}

#[test]
fn a_folder_where_a_file_should_stand_is_named_and_nothing_else_is_written() {
    let class = planned(&[]);
    fs::create_dir_all(class.dir().join("packs/L02/key.pdf")).expect("a folder");
    let before = kept(&class);
    let run = class.on(BEFORE, "pack", &["--week", "2027-01-11"]).ends(1);
    run.says("L02/key.pdf").says("it is a folder").says("nothing was lost");
    assert!(kept(&class) == before && !class.holds("packs/L01"));
}
