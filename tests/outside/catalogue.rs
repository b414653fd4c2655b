//! The catalogue's own examples, each with the source that the catalogue names for the pattern.
//!
//! "from memory" stands where the source was not read again. The four types of error of a
//! long-multiplication exercise for teachers in training, and practitioners' notes, were read. "The
//! classic lists" are Buswell and John 1926, Brueckner 1930, Cox 1974/75, Engelhardt 1977, Graeber
//! and Wallace 1977, Ashlock, Attisha and Yazdani 1984, all from memory. "Derived" is made in the
//! spirit of Brown and VanLehn's repair theory (1980).

use rungwise::exercise::patterns::{catalogue, pattern};

const LISTS: &str = "the classic lists, from memory";
const EXERCISE: &str = "a teacher-education exercise with four types of error";
const NOTES: &str = "practitioners' notes";
const DERIVED: &str = "derived after Brown and VanLehn 1980";
const ZEROS: &str = "Downton, Russo and Hopkins 2019";
const ERRORS: &str = "the general literature on errors, from memory";
const CAMPBELL: &str = "Campbell and Graham 1985, from memory";
const DOMAHS: &str = "Domahs, Delazer and Nuerk 2006";
const GUIDANCE: &str = "strategies of QCA 1999 and DCSF 2010, content from memory";
const STEPS: &str = "the steps of the task itself, no source";

/// Name, source, and examples: a sum and the wrong answer.
type Entry = (&'static str, &'static str, &'static [(u64, u64, u64)]);

const FACTS: &[Entry] = &[
    (
        "table-neighbour",
        CAMPBELL,
        &[(7, 8, 49), (7, 8, 63), (7, 8, 48), (7, 8, 64), (5, 4, 24), (6, 8, 40), (6, 8, 56)],
    ),
    ("other-fact-of-the-table", "the same, second-hand", &[(8, 8, 40)]),
    ("table-two-steps-off", "the same, second-hand", &[(6, 8, 36)]),
    (
        "same-tens-digit",
        DOMAHS,
        &[(6, 7, 48), (6, 7, 49), (6, 8, 42), (4, 8, 36), (3, 8, 21), (3, 8, 27)],
    ),
    ("fact-of-another-table", "table errors, from memory", &[(7, 8, 54)]),
    ("added-instead", "operation errors, from memory", &[(4, 3, 7), (8, 8, 16)]),
    ("zero-times-keeps-number", "Cox; Engelhardt, from memory", &[(7, 0, 7), (0, 7, 7)]),
    ("one-times-one-more", "from memory", &[(7, 1, 8)]),
    ("one-times-gives-one", "from memory", &[(7, 1, 1)]),
    ("fact-digits-exchanged", LISTS, &[(7, 9, 36)]),
];

const ROWS: &[Entry] = &[
    ("carry-not-added", EXERCISE, &[(47, 6, 242), (478, 6, 2428)]),
    ("carry-added-before-multiplying", "Ashlock, from memory", &[(47, 6, 482), (478, 6, 6068)]),
    ("products-written-in-full", "Engelhardt, from memory", &[(47, 6, 2442), (306, 7, 21_042)]),
    ("carry-and-digit-swapped", EXERCISE, &[(47, 6, 264), (478, 6, 2454)]),
    ("multiplied-by-the-carry", EXERCISE, &[(47, 6, 162), (63, 8, 124)]),
    ("only-ones-multiplied", EXERCISE, &[(47, 6, 82), (478, 6, 518)]),
    ("ones-copied", LISTS, &[(47, 6, 247), (34, 2, 64)]),
    ("last-carry-lost", LISTS, &[(47, 6, 82), (253, 7, 771)]),
    ("always-carries-one", LISTS, &[(47, 6, 252), (478, 6, 2538)]),
    ("switched-to-adding", "as in Ashlock, from memory", &[(47, 6, 142), (417, 8, 1346)]),
    ("worked-left-to-right", DERIVED, &[(47, 6, 444), (86, 7, 647)]),
    ("zero-swallows-carry", LISTS, &[(306, 7, 2102)]),
    ("carry-hops-zero", DERIVED, &[(306, 7, 2502)]),
    ("inner-zero-skipped", LISTS, &[(306, 7, 252)]),
    ("zero-taken-as-one", LISTS, &[(306, 7, 2212)]),
    ("one-times-adds-one", LISTS, &[(417, 8, 3346)]),
    ("facts-one-step-up", CAMPBELL, &[(47, 6, 289), (86, 7, 688)]),
    ("facts-one-step-down", CAMPBELL, &[(47, 6, 275), (86, 7, 516)]),
    ("digits-added", LISTS, &[(47, 6, 113), (86, 7, 163)]),
    ("written-digit-carried", NOTES, &[(47, 6, 262), (68, 4, 262)]),
];

const LONG: &[Entry] = &[
    ("placeholder-left-out", NOTES, &[(47, 36, 423), (423, 206, 3384)]),
    ("hundreds-row-shifted-once", LISTS, &[(423, 206, 10_998)]),
    (
        "column-by-column",
        "Ashlock, from memory",
        &[(47, 36, 162), (423, 206, 818), (524, 34, 1576)],
    ),
    ("only-like-places", LISTS, &[(47, 36, 1242), (423, 206, 80_018), (23, 14, 212)]),
    ("zero-row-copied", LISTS, &[(47, 30, 1457), (423, 206, 91_368)]),
    ("row-after-zero-closed-up", LISTS, &[(47, 30, 141), (423, 206, 10_998)]),
    ("old-carries-added-again", NOTES, &[(47, 36, 2092), (423, 206, 98_138)]),
    ("old-carry-used-instead", "Ashlock, from memory", &[(47, 36, 1892), (423, 206, 98_138)]),
    ("adding-carries-lost", LISTS, &[(68, 47, 2196), (423, 206, 86_138)]),
    ("only-first-row", LISTS, &[(47, 36, 282), (423, 206, 2538)]),
    ("only-highest-row", LISTS, &[(47, 36, 1410), (423, 206, 84_600)]),
    ("ones-by-leading-left-out", LISTS, &[(47, 36, 1482), (423, 206, 86_538)]),
    ("leading-by-ones-left-out", LISTS, &[(47, 36, 1452), (423, 206, 84_738)]),
    ("largest-part-zero-lost", LISTS, &[(47, 36, 612), (423, 206, 15_138)]),
    ("later-rows-extra-zero", LISTS, &[(47, 36, 14_382), (423, 206, 848_538)]),
    ("one-zero-too-many", LISTS, &[(47, 36, 16_920), (423, 206, 871_380)]),
    ("rows-shifted-in-reverse", LISTS, &[(47, 36, 2961), (423, 206, 254_646)]),
    ("zero-written-over-digit", DERIVED, &[(47, 36, 422), (423, 206, 3338)]),
    ("added-instead", LISTS, &[(47, 36, 83), (423, 206, 629)]),
];

const ENDS: &[Entry] = &[
    ("one-zero-short", ZEROS, &[(50, 40, 200), (300, 70, 2100)]),
    ("one-zero-too-many", ZEROS, &[(50, 40, 20_000), (300, 70, 210_000)]),
    ("zeros-of-one-number-only", "from memory", &[(50, 40, 200), (300, 70, 2100)]),
    ("zero-of-the-fact-counted", "from memory", &[(50, 40, 200)]),
];

const MENTAL: &[Entry] = &[
    (
        "adjusted-the-wrong-way",
        ERRORS,
        &[(47, 29, 1457), (36, 98, 3672), (36, 101, 3564), (15, 28, 480)],
    ),
    (
        "adjusted-by-the-difference",
        ERRORS,
        &[(47, 29, 1409), (36, 98, 3598), (36, 101, 3601), (15, 28, 448)],
    ),
    (
        "adjusting-forgotten",
        ERRORS,
        &[(47, 29, 1410), (36, 98, 3600), (36, 101, 3600), (15, 28, 450)],
    ),
    (
        "difference-the-wrong-way",
        ERRORS,
        &[(47, 29, 1411), (36, 98, 3602), (36, 101, 3599), (15, 28, 452)],
    ),
    ("adjusted-once-only", ERRORS, &[(36, 98, 3564), (15, 28, 435)]),
    (
        "adjusted-as-in-adding",
        ERRORS,
        &[(47, 29, 1380), (36, 98, 3400), (36, 101, 3700), (15, 28, 390)],
    ),
    ("doubled-not-halved", GUIDANCE, &[(16, 25, 800)]),
    ("both-doubled", GUIDANCE, &[(16, 25, 1600)]),
    ("not-halved-or-quartered", GUIDANCE, &[(46, 5, 460), (24, 50, 2400), (36, 25, 3600)]),
    ("quarter-taken-as-half", GUIDANCE, &[(36, 25, 1800)]),
    ("doubled-instead-of-halved", GUIDANCE, &[(46, 5, 920)]),
    ("factors-added", GUIDANCE, &[(14, 12, 98)]),
    ("parts-multiplied", GUIDANCE, &[(14, 12, 280)]),
    ("ones-copied", GUIDANCE, &[(47, 6, 247)]),
    ("tens-lost-their-zero", GUIDANCE, &[(47, 6, 66)]),
    ("only-like-places", GUIDANCE, &[(23, 14, 212)]),
    ("odd-half-dropped", GUIDANCE, &[(47, 5, 230)]),
];

const ESTIMATES: &[Entry] = &[
    ("both-rounded-down", "Lemaire and Lecacheur", &[(312, 48, 12_000)]),
    ("both-rounded-up", STEPS, &[(312, 48, 20_000)]),
    ("rounded-to-the-farther", STEPS, &[(312, 48, 16_000)]),
    ("five-rounded-down", STEPS, &[(35, 41, 1200)]),
    ("estimate-one-zero-short", ZEROS, &[(312, 48, 1500)]),
    ("estimate-one-zero-too-many", ZEROS, &[(312, 48, 150_000)]),
    ("only-leading-digits", STEPS, &[(312, 48, 15)]),
    ("estimate-zero-of-the-fact-counted", STEPS, &[(400, 50, 2000), (396, 52, 2000)]),
    ("rounded-then-added", STEPS, &[(312, 48, 350)]),
    ("rounded-to-tens-only", STEPS, &[(312, 48, 15_500)]),
    ("worked-out-then-rounded", STEPS, &[(347, 23, 8000)]),
];

#[test]
fn every_example_of_the_catalogue_comes_out_with_its_page() {
    for (name, source, examples) in [FACTS, ROWS, LONG, ENDS, MENTAL, ESTIMATES].concat() {
        let pattern = pattern(name).unwrap_or_else(|| panic!("no pattern `{name}`"));
        for &(a, b, answer) in examples {
            let attempts = pattern.attempts(a, b);
            let found: Vec<u64> = attempts.iter().map(|t| t.working.value()).collect();
            assert!(found.contains(&answer), "{name} ({source}): {a} x {b} is {found:?}");
        }
    }
}

#[test]
fn every_pattern_has_an_example() {
    let all: Vec<Entry> = [FACTS, ROWS, LONG, ENDS, MENTAL, ESTIMATES].concat();
    for pattern in catalogue().iter().filter(|p| !p.name.starts_with("fact-")) {
        assert!(all.iter().any(|e| e.0 == pattern.name), "{} has no example", pattern.name);
    }
    assert!(all.iter().any(|e| e.0.starts_with("fact-")));
}

/// The sums that the catalogue marks with an equals sign: the pattern gives the right answer.
#[test]
fn a_pattern_says_nothing_where_the_catalogue_says_it_shows_nothing() {
    let silent: &[(&str, u64, u64)] = &[
        ("zero-swallows-carry", 47, 6),
        ("carry-hops-zero", 47, 6),
        ("inner-zero-skipped", 47, 6),
        ("zero-taken-as-one", 47, 6),
        ("one-times-adds-one", 47, 6),
        ("hundreds-row-shifted-once", 47, 36),
        ("zero-row-copied", 47, 36),
        ("row-after-zero-closed-up", 47, 36),
        ("adding-carries-lost", 47, 36),
        ("zero-of-the-fact-counted", 300, 70),
        ("adjusted-once-only", 47, 29),
        ("worked-out-then-rounded", 312, 48),
    ];
    for &(name, a, b) in silent {
        let attempts = pattern(name).expect("known").attempts(a, b);
        assert!(attempts.iter().all(|t| t.turned), "{name} on {a} x {b}: {attempts:?}");
    }
}

/// Two pairs of the tables from 2 to 9 come to these products, so that an answer does not say
/// which fact was meant; counted by program for the catalogue.
#[test]
fn five_products_of_the_tables_come_from_two_pairs() {
    let products: Vec<u64> = (2..10).flat_map(|x| (x..10).map(move |y| x * y)).collect();
    let pairs = |n: u64| products.iter().filter(move |p| **p == n);
    let twice: Vec<u64> = (4..=81).filter(|&n| pairs(n).count() == 2).collect();
    assert_eq!(twice, [12, 16, 18, 24, 36]);
}

#[test]
fn the_reference_sums_meet_where_the_catalogue_says() {
    let meet: &[(u64, u64, u64, &[&str])] = &[
        (47, 6, 82, &["only-ones-multiplied", "last-carry-lost"]),
        (306, 7, 2102, &["carry-not-added", "multiplied-by-the-carry", "zero-swallows-carry"]),
        (423, 206, 10_998, &["hundreds-row-shifted-once", "row-after-zero-closed-up"]),
        (47, 36, 1452, &["carry-not-added", "leading-by-ones-left-out"]),
        (68, 47, 1036, &["only-ones-multiplied", "largest-part-zero-lost"]),
        (3047, 206, 617_682, &["last-carry-lost", "adding-carries-lost"]),
    ];
    for &(a, b, answer, names) in meet {
        for name in names {
            let answers = pattern(name).expect("known").answers(a, b);
            assert!(answers.contains(&answer), "{name} on {a} x {b}: {answers:?}");
        }
    }
}
