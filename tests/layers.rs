//! The house's arrows: a room imports only rooms on lower floors.
//!
//! The floors stand in DEVELOPERS.md, in the block headed "The house"; this test reads them there.

#![allow(clippy::disallowed_methods)] // a test may read files

use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};

/// The floor of each room, as DEVELOPERS.md draws the house: lines "  9  folder   a class's …",
/// a floor's rooms separated from what is said of them by two spaces or more.
fn floors() -> BTreeMap<String, u32> {
    let page = read(Path::new("DEVELOPERS.md"));
    let house = page.split("```house\n").nth(1).expect("DEVELOPERS.md draws the house");
    let house = house.split("```").next().expect("the drawing ends");
    let mut floors = BTreeMap::new();
    for line in house.lines() {
        let mut words = line.split_whitespace();
        let (Some(floor), Some(room)) = (words.next(), words.next()) else { continue };
        floors.insert(room.to_owned(), floor.parse().expect("a floor is a number"));
    }
    floors
}

fn read(path: &Path) -> String {
    let root = Path::new(env!("CARGO_MANIFEST_DIR"));
    fs::read_to_string(root.join(path)).unwrap_or_else(|e| panic!("{}: {e}", path.display()))
}

fn sources(dir: &Path, found: &mut Vec<PathBuf>) {
    let mut entries: Vec<PathBuf> =
        fs::read_dir(dir).expect("a folder").map(|e| e.expect("an entry").path()).collect();
    entries.sort();
    for path in entries {
        if path.is_dir() {
            sources(&path, found);
        } else if path.extension().is_some_and(|e| e == "rs") {
            found.push(path);
        }
    }
}

/// The rooms a file names after `crate::`, with those in braces, comments left out.
fn rooms_named(text: &str) -> Vec<String> {
    let code: String =
        text.lines().map(|l| l.split("//").next().unwrap_or("")).collect::<Vec<_>>().join("\n");
    let mut rooms = Vec::new();
    for rest in code.split("crate::").skip(1) {
        let name = |s: &str| {
            s.trim_start().chars().take_while(|c| c.is_alphanumeric() || *c == '_').collect()
        };
        match rest.strip_prefix('{') {
            None => rooms.push(name(rest)),
            Some(list) => {
                let mut depth = 1;
                let mut start = true;
                for (at, c) in list.char_indices() {
                    match c {
                        '{' => depth += 1,
                        '}' => depth -= 1,
                        ',' if depth == 1 => start = true,
                        c if start && c.is_alphabetic() => {
                            rooms.push(name(&list[at..]));
                            start = false;
                        }
                        _ => {}
                    }
                    if depth == 0 {
                        break;
                    }
                }
            }
        }
    }
    rooms
}

#[test]
fn every_arrow_of_the_house_points_down() {
    let floors = floors();
    let mut arrows = 0;
    let mut wrong = Vec::new();
    for (room, floor) in &floors {
        let dir = Path::new(env!("CARGO_MANIFEST_DIR")).join("src").join(room);
        let mut files = Vec::new();
        sources(&dir, &mut files);
        for file in files {
            for other in rooms_named(&read(&file)) {
                if other == *room {
                    continue;
                }
                arrows += 1;
                match floors.get(&other) {
                    Some(below) if below < floor => {}
                    Some(_) => {
                        wrong.push(format!("{}: {room} may not import {other}", file.display()));
                    }
                    None => {
                        wrong.push(format!("{}: no room `{other}` in the house", file.display()));
                    }
                }
            }
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(arrows > 10, "the test found hardly any arrow: {arrows}");
}

#[test]
fn every_room_is_in_the_house_and_nothing_else_is() {
    let mut rooms: Vec<String> = floors().into_keys().collect();
    rooms.sort();
    let src = Path::new(env!("CARGO_MANIFEST_DIR")).join("src");
    let mut folders: Vec<String> = fs::read_dir(src)
        .expect("src")
        .map(|e| e.expect("an entry"))
        .filter(|e| e.path().is_dir())
        .map(|e| e.file_name().into_string().expect("a name"))
        .collect();
    folders.sort();
    assert_eq!(rooms, folders);
}

#[test]
fn an_import_in_braces_is_seen() {
    let text = "use crate::{paper::Page, lesson::{Pack, Level}, seed};\nlet x = crate::words::count(1, \"a\");";
    assert_eq!(rooms_named(text), ["paper", "lesson", "seed", "words"]);
}

/// genpdf is named in `paper/` only, clap in `command/` only.
#[test]
fn a_library_stays_in_its_room() {
    for (library, room) in [("genpdf", "paper"), ("clap", "command")] {
        let mut files = Vec::new();
        sources(&Path::new(env!("CARGO_MANIFEST_DIR")).join("src"), &mut files);
        for file in files {
            let inside = file.components().any(|c| c.as_os_str() == room);
            let names_it = read(&file).lines().any(|l| {
                let code = l.split("//").next().unwrap_or("");
                code.contains(&format!("{library}::")) || code.contains(&format!("use {library};"))
            });
            assert!(inside || !names_it, "{} names {library}", file.display());
        }
    }
}
