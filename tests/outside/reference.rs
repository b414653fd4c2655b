//! Every error pattern on whole ranges of sums, against a second writing of the catalogue.
//!
//! `patterns.py` holds each pattern written anew in another language from the catalogue's words;
//! `patterns.txt` is the digest it prints. A digest that differs names the pattern and the sums;
//! `python3 tests/outside/patterns.py NAME long` then lists every sum with its answers. `pairs.py` and
//! `pairs.txt` are the same for two patterns in one sum.

use rungwise::exercise::patterns::{
    Family, MISPLACING, PLACING, Task, both_answers, catalogue, pattern,
};
use rungwise::method::Written;
use std::collections::BTreeSet;
use std::fmt::Write;

const DIGESTS: &str = include_str!("patterns.txt");
const PAIRS: &str = include_str!("pairs.txt");

/// FNV-1a, 64 bits (Fowler, Noll and Vo), here to name a long text in a few letters.
fn fnv(text: &str) -> u64 {
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

/// The sums of `pairs.py`: two digits by two, three by two, four by three, and some with noughts.
fn sums_of_pairs() -> Vec<(u64, u64)> {
    let two = (0..89).map(|k| (11 + k * 37 % 89, 11 + k * 53 % 89));
    let three = (0..120).map(|k| (101 + k * 379 % 899, 11 + k * 71 % 89));
    let four = (0..150).map(|k| (1001 + k * 3779 % 8999, 101 + k * 397 % 899));
    let more = [(478, 60), (308, 506), (4008, 790), (90, 68), (36, 478), (700, 304)];
    two.chain(three).chain(four).chain(more).collect()
}

/// One line of that digest as this program makes it, and the lines it stands for.
fn digest_of_two(one: &str, other: &str) -> (String, String) {
    let [p, q] = [one, other].map(|n| pattern(n).unwrap_or_else(|| panic!("no pattern `{n}`")));
    let (mut shown, mut lines) = (0, String::new());
    for (a, b) in sums_of_pairs() {
        let answers = both_answers(Task::Written(a, b), Written::Long, p, q);
        assert_eq!(
            answers,
            both_answers(Task::Written(a, b), Written::Long, q, p),
            "{one}, {other}"
        );
        shown += usize::from(!answers.is_empty());
        let answers: Vec<String> = answers.iter().map(u64::to_string).collect();
        writeln!(lines, "{a}x{b}:{}", answers.join(",")).expect("a text");
    }
    (format!("{one} {other} {shown} {:016x}", fnv(&lines)), lines)
}

#[test]
fn every_two_patterns_in_one_sum_answer_as_their_second_writing_does() {
    let mut differ = Vec::new();
    let kept = || PAIRS.lines().filter(|line| !line.starts_with('#'));
    for line in kept() {
        let mut words = line.split(' ');
        let (one, other) = (words.next().expect("a name"), words.next().expect("a name"));
        let (ours, lines) = digest_of_two(one, other);
        if ours != line {
            let first: Vec<&str> = lines.lines().filter(|l| !l.ends_with(':')).take(4).collect();
            differ.push(format!("{line}\n  ours: {ours}\n  which begins {first:?}"));
        }
    }
    assert!(differ.is_empty(), "{} differ:\n{}", differ.len(), differ.join("\n"));
    let rows = catalogue().iter().filter(|p| p.family == Family::Row).count();
    assert_eq!(kept().count(), rows * PLACING.len() + MISPLACING.len(), "none is left out");
}
