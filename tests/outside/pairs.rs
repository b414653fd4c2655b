//! Two error patterns in one sum of long multiplication, against a second writing of the catalogue.
//!
//! `pairs.py` works the rows and puts them together anew, in another language and from the catalogue's
//! words; `pairs.txt` is the digest it prints, one line for every two patterns, with the answers to
//! the first two sums in full. `python3 tests/outside/pairs.py ONE OTHER` lists every sum.

use crate::reference::fnv;
use rungwise::exercise::patterns::{
    Task, all_that_stand_together, both_answers, pattern, show_both,
};
use rungwise::method::Written;
use std::collections::BTreeSet;
use std::fmt::Write;

const DIGESTS: &str = include_str!("pairs.txt");

fn sums() -> Vec<(u64, u64)> {
    let line = DIGESTS.lines().find_map(|line| line.strip_prefix("# sums: ")).expect("sums");
    let number = |text: &str| text.parse().expect("a number");
    let sum = |text: &str| text.split_once('x').map(|(a, b)| (number(a), number(b)));
    line.split(' ').map(|text| sum(text).expect("a sum")).collect()
}

fn wanted() -> impl Iterator<Item = &'static str> {
    DIGESTS.lines().filter(|line| !line.starts_with('#'))
}

/// One line of the digest as this program makes it, and the lines it stands for.
fn digest(one: &str, other: &str, sums: &[(u64, u64)]) -> (String, String) {
    let [p, q] = [one, other].map(|name| pattern(name).unwrap_or_else(|| panic!("no `{name}`")));
    let (mut active, mut total, mut lines) = (0, 0, String::new());
    for &(a, b) in sums {
        let task = Task::Written(a, b);
        let answers: BTreeSet<u64> = both_answers(task, Written::Long, p, q).into_iter().collect();
        let turned: BTreeSet<u64> = both_answers(task, Written::Long, q, p).into_iter().collect();
        assert_eq!(answers, turned, "{one} and {other}, whichever is named first: {a} × {b}");
        for &answer in &answers {
            let page = show_both(task, Written::Long, (p, q), answer).expect("a page");
            assert_eq!(page.value(), answer, "{one} and {other}: {a} × {b}");
        }
        active += usize::from(!answers.is_empty());
        total += answers.len();
        let answers: Vec<String> = answers.iter().map(u64::to_string).collect();
        writeln!(lines, "{a}x{b}:{}", answers.join(",")).expect("a text");
    }
    let first: Vec<&str> = lines.lines().take(2).collect();
    let line = format!("{one} {other} {active} {total} {:016x} {}", fnv(&lines), first.join(" "));
    (line, lines)
}

#[test]
fn every_two_patterns_answer_as_the_second_writing_of_the_catalogue_does() {
    let sums = sums();
    let mut differ = Vec::new();
    for line in wanted() {
        let mut words = line.split(' ');
        let (one, other) = (words.next().expect("one"), words.next().expect("two"));
        let (ours, lines) = digest(one, other, &sums);
        if ours != line {
            let first: Vec<&str> = lines.lines().filter(|l| !l.ends_with(':')).take(3).collect();
            differ.push(format!("{line}\n  ours: {ours}\n  which begins {first:?}"));
        }
    }
    assert!(differ.is_empty(), "{} differ:\n{}", differ.len(), differ.join("\n"));
}

#[test]
fn the_second_writing_leaves_out_no_two_patterns_and_has_sums_of_every_sort() {
    let two = |line: &'static str| {
        line.split_once(' ')
            .and_then(|(one, rest)| rest.split_once(' ').map(|(other, _)| (one, other)))
    };
    let named: BTreeSet<(&str, &str)> = wanted().filter_map(two).collect();
    let ours: BTreeSet<(&str, &str)> =
        all_that_stand_together().map(|(p, q)| (p.name, q.name)).collect();
    assert_eq!(named, ours);
    assert_eq!(wanted().count(), ours.len(), "each once");
    let sums = sums();
    let count = |sort: &dyn Fn(u64, u64) -> bool| sums.iter().filter(|&&(a, b)| sort(a, b)).count();
    assert!(sums.len() >= 60);
    let inner = |n: u64| n.to_string().trim_end_matches('0').contains('0');
    assert!(count(&|a, b| inner(a) || inner(b)) >= 10, "zeros inside");
    assert!(count(&|a, b| a % 10 == 0 || b % 10 == 0) >= 10, "zeros at the end");
    assert!(count(&|a, b| format!("{a}{b}").contains('1')) >= 10, "ones");
    assert!(count(&|a, b| a < b) >= 5, "the shorter number first");
}

/// Run where Python is: the digest that is kept is the one the script prints.
#[test]
fn the_digest_of_two_patterns_that_is_kept_is_the_scripts() {
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/tests/outside/pairs.py");
    let Ok(output) = std::process::Command::new("python3").arg(script).output() else {
        println!("NOT CHECKED: there is no python3 to print the digest anew");
        return;
    };
    assert!(output.status.success(), "{}", String::from_utf8_lossy(&output.stderr));
    let printed = String::from_utf8(output.stdout).expect("text");
    for (printed, kept) in printed.lines().zip(DIGESTS.lines()) {
        assert_eq!(printed, kept);
    }
    assert_eq!(printed.lines().count(), DIGESTS.lines().count());
}
