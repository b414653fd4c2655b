//! Every error pattern on whole ranges of sums, against a second writing of the catalogue.
//!
//! `patterns.py` holds each pattern written anew in another language from the catalogue's words;
//! `patterns.txt` is the digest it prints. A digest that differs names the pattern and the sums;
//! `python3 tests/outside/patterns.py NAME long` then lists every sum with its answers.

use rungwise::exercise::patterns::{catalogue, pattern};
use std::collections::BTreeSet;
use std::fmt::Write;

const DIGESTS: &str = include_str!("patterns.txt");

/// FNV-1a, 64 bits (Fowler, Noll and Vo), here to name a long text in a few letters.
pub fn fnv(text: &str) -> u64 {
    let mix = |value: u64, byte: u8| (value ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3);
    text.bytes().fold(0xcbf2_9ce4_8422_2325, mix)
}

fn sums(named: &str) -> Vec<(u64, u64)> {
    let (first, second) = match named {
        "facts" => (0..13, 0..13),
        "short" => (10..100, 1..10),
        _ => (10..100, 10..100),
    };
    first.flat_map(|a| second.clone().map(move |b| (a, b))).collect()
}

/// One line of the digest as this program makes it, and the lines it stands for.
fn digest(name: &str, named: &str) -> (String, String) {
    let pattern = pattern(name).unwrap_or_else(|| panic!("no pattern `{name}`"));
    let (mut active, mut total, mut lines) = (0, 0, String::new());
    for (a, b) in sums(named) {
        let answers: BTreeSet<u64> = pattern.answers(a, b).into_iter().collect();
        active += usize::from(!answers.is_empty());
        total += answers.len();
        let answers: Vec<String> = answers.iter().map(u64::to_string).collect();
        writeln!(lines, "{a}x{b}:{}", answers.join(",")).expect("a text");
    }
    (format!("{name} {named} {active} {total} {:016x}", fnv(&lines)), lines)
}

fn wanted() -> impl Iterator<Item = &'static str> {
    DIGESTS.lines().filter(|line| !line.starts_with('#'))
}

/// All sums of two digits by one and of two by two, both ways round (the facts of the tables to
/// 12 × 12 for patterns of facts).
#[test]
fn every_pattern_answers_as_the_second_writing_of_the_catalogue_does() {
    let mut differ = Vec::new();
    for line in wanted() {
        let mut words = line.split(' ');
        let (name, named) = (words.next().expect("a name"), words.next().expect("sums"));
        let (ours, lines) = digest(name, named);
        if ours != line {
            let first: Vec<&str> = lines.lines().filter(|l| !l.ends_with(':')).take(3).collect();
            differ.push(format!("{line}\n  ours: {ours}\n  which begins {first:?}"));
        }
    }
    assert!(differ.is_empty(), "{} differ:\n{}", differ.len(), differ.join("\n"));
}

#[test]
fn the_second_writing_leaves_out_no_pattern() {
    let named: BTreeSet<&str> = wanted().filter_map(|line| line.split(' ').next()).collect();
    let ours: BTreeSet<&str> = catalogue().iter().map(|p| p.name).collect();
    assert_eq!(named, ours);
    let two_by_two = wanted().filter(|line| line.contains(" long ")).count();
    assert_eq!(two_by_two, ours.len() - 9, "all but the patterns of facts");
}

/// Run where Python is: the digest that is kept is the one the script prints, for a few patterns.
#[test]
fn the_digest_that_is_kept_is_the_scripts() {
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/outside/patterns.py");
    for (name, named) in [("carry-not-added", "short"), ("same-tens-digit", "facts")] {
        let run = std::process::Command::new("python3").args([script, name, named]).output();
        let Ok(output) = run else {
            println!("NOT CHECKED: there is no python3 to print the digest anew");
            return;
        };
        assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
        let lines = String::from_utf8(output.stdout).expect("text");
        let kept = wanted().find(|line| line.starts_with(&format!("{name} {named} ")));
        assert!(
            kept.is_some_and(|line| line.ends_with(&format!("{:016x}", fnv(&lines)))),
            "{name}"
        );
    }
}
