//! A class of whom one half was marked by pupils and the other by piles of slips: one set of groups.

use super::class::{answers, row, second_version, three_sums};
use crate::exercise::patterns::pattern;
use crate::lesson::{Pack, PatternFinding};
use crate::marking::{
    Answers, Decision, Marking, Model, class_findings, mark_together, read_answers,
};
use crate::method::HouseStyle;
use crate::report::{Report, Source};

const ZEROS: &str = "placeholder-left-out";
const CARRIES: &str = "carry-not-added";

/// What a pattern answers to the n-th of the three sums.
fn wrong(name: &str, n: usize) -> u64 {
    let (a, b) = [(5476, 382), (8365, 574), (3928, 467)][n - 1];
    pattern(name).expect("a pattern").answers(a, b)[0]
}

/// Version B in piles: so many right answers to each sum, and these wrong ones.
fn piles(pack: &Pack, right: u32, rows: &[(usize, u64, u32)]) -> Answers {
    let mut text = "item,answer,count\n".to_owned();
    for n in 1..=3 {
        text += &format!("L07B-X{n},ok,{right}\n");
    }
    for (n, answer, count) in rows {
        text += &format!("L07B-X{n},{answer},{count}\n");
    }
    read_answers(&Source::shared("b.csv", text), pack, &mut Report::new()).expect("answers")
}

/// Both versions marked, and what comes next knows of it.
fn both(rows: &str, of_b: &[(usize, u64, u32)]) -> (Marking, Vec<(Pack, Answers)>) {
    let (first, second) = (three_sums(), second_version());
    let (a, b) = (answers(&first, rows), piles(&second, 9, of_b));
    let marking = mark_together(&[(&first, &a), (&second, &b)], &[], &Model::default());
    let turned = mark_together(&[(&second, &b), (&first, &a)], &[], &Model::default());
    assert_eq!(turned.groups, marking.groups, "the same from either side");
    (marking, vec![(first, a), (second, b)])
}

#[test]
fn pupils_of_one_version_and_slips_of_the_other_are_one_group() {
    let rows = [row("3", ZEROS), row("5", ZEROS), row("8", ZEROS), row("9", CARRIES)].concat();
    let of_b = [
        (1, wrong(ZEROS, 1), 4),
        (2, wrong(ZEROS, 2), 3),
        (1, wrong(CARRIES, 1), 7),
        (3, wrong(CARRIES, 3), 2),
        (2, 17, 5),
    ];
    let (marking, lessons) = both(&rows, &of_b);
    let found: Vec<(&str, usize, usize, u32)> = (marking.groups.iter())
        .map(|g| (g.pattern.as_str(), g.size(), g.pupils.len(), g.slips))
        .collect();
    assert_eq!(found, [(CARRIES, 8, 1, 7), (ZEROS, 7, 3, 4)], "sizes add up and lead");
    let zeros = &marking.groups[1];
    assert!(!zeros.is_perhaps() && zeros.unsure.is_empty());
    assert_eq!(
        zeros.sort_by,
        [1, 2].map(|n| (format!("L07B-X{n}"), vec![wrong(ZEROS, n).to_string()]))
    );
    let style = HouseStyle::default();
    let who = format!(
        "3, 5 and 8; the slips with {} on L07B-X1, {} on L07B-X2",
        style.number(wrong(ZEROS, 1)),
        style.number(wrong(ZEROS, 2))
    );
    let text = marking.to_text(&style);
    let says = format!(
        "Group 2, 3 pupils and 4 slips: {}: {who}",
        "the second and later rows lack their zeros"
    );
    assert!(text.contains(&says), "{says} is not in\n{text}");
    assert_eq!((marking.answered(), marking.absent.len()), (4 + 20, 0));
    let finding = &class_findings(&lessons, |_| Model::default()).skills["long-four-by-three"];
    let shown: Vec<String> = finding.patterns.iter().map(PatternFinding::whom).collect();
    assert_eq!(shown, ["1 pupil and 7 slips, group 1", "3 pupils and 4 slips, group 2"]);
    assert_eq!((finding.answered, finding.right, finding.right_slips), (4 + 20, 9, 9));
    assert_eq!(finding.large_groups().count(), 2);
}

/// Three are alike though it takes both versions to see it; two are not.
#[test]
fn too_few_of_each_version_may_be_a_group_together() {
    let alone = format!("4,{},ok,ok\n7,ok,ok,ok\n", wrong(ZEROS, 1));
    let (marking, _) = both(&alone, &[(1, wrong(ZEROS, 1), 2)]);
    let group = marking.groups.first().unwrap_or_else(|| panic!("{marking:#?}"));
    assert_eq!((&group.pattern[..], group.size(), group.pupils.len()), (ZEROS, 3, 1));
    assert!(group.is_perhaps(), "neither names it");
    let (marking, _) = both(&alone, &[(1, wrong(ZEROS, 1), 1)]);
    assert!(marking.groups.is_empty(), "{:?}", marking.groups);
    // Where the slips are enough by themselves it is a group, and the pupil is perhaps of it.
    let (marking, _) = both(&alone, &[(1, wrong(ZEROS, 1), 4)]);
    assert!(!marking.groups[0].is_perhaps() && marking.groups[0].unsure == ["4"]);
    let text = marking.to_text(&HouseStyle::default());
    assert!(
        text.contains("1 pupil and 4 slips") && text.contains(": perhaps 4; the slips"),
        "{text}"
    );
}

/// A teacher takes three groups of both versions together: the largest, however they were marked.
#[test]
fn the_largest_groups_of_both_versions_are_taken_and_the_others_wait() {
    let names = [ZEROS, CARRIES, "adding-carries-lost", "rows-shifted-in-reverse"];
    let rows: String = (1..=2).map(|n| row(&n.to_string(), names[0])).collect();
    let rows = rows + &row("3", names[1]) + &row("4", names[2]);
    let of_b = [(1, wrong(names[3], 1), 6), (2, wrong(names[2], 2), 3), (1, wrong(names[1], 1), 2)];
    let (marking, _) = both(&rows, &of_b);
    let told = |groups: &[crate::marking::Group]| -> Vec<(u32, String, usize)> {
        groups.iter().map(|g| (g.number, g.pattern.clone(), g.size())).collect()
    };
    let expected = |all: &[(u32, usize, usize)]| -> Vec<(u32, String, usize)> {
        all.iter().map(|&(n, name, size)| (n, names[name].to_owned(), size)).collect()
    };
    assert_eq!(told(&marking.groups), expected(&[(1, 3, 6), (2, 2, 4), (3, 1, 3)]));
    assert_eq!(told(&marking.waiting), expected(&[(4, 0, 2)]));
}

#[test]
fn who_has_no_row_may_have_written_the_other_version() {
    let (marking, _) = both("1,ok,ok,ok\n2,,,\n3,ok,ok,ok\n", &[]);
    assert!(marking.absent.is_empty(), "2 may have written B: {:?}", marking.absent);
    let because = &marking.class.because;
    assert!(because.contains("Of 30 in the class 11 are counted"), "{because}");
    assert_eq!(marking.class.decision, Decision::GoOn, "{because}");
}

#[test]
fn too_few_of_both_versions_do_not_say_that_the_class_goes_on() {
    let (first, second) = (three_sums(), second_version());
    let (a, b) = (answers(&first, "1,ok,ok,ok\n"), piles(&second, 3, &[]));
    let class = mark_together(&[(&first, &a), (&second, &b)], &[], &Model::default()).class;
    assert_eq!(class.decision, Decision::Undecided, "{class:?}");
    assert!(class.because.contains("Too few are counted, 4 of a class of 30"), "{class:?}");
}
