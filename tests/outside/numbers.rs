//! Numbers as the Unicode CLDR writes them and as an open library says them.

use rungwise::number::{Grouping, in_words};

/// Source: Unicode CLDR, locales en (`#,##0.###`) and en_IN (`#,##,##0.###`); values worked out
/// with a CLDR library.
#[test]
fn grouping_is_that_of_the_locale_data() {
    let cases = [
        (999, "999", "999"),
        (99_999, "99,999", "99,999"),
        (100_000, "100,000", "1,00,000"),
        (1_234_567, "1,234,567", "12,34,567"),
        (9_989_001, "9,989,001", "99,89,001"),
        (12_345_678, "12,345,678", "1,23,45,678"),
    ];
    for (n, thousands, indian) in cases {
        assert_eq!(Grouping::Thousands.write(n), thousands);
        assert_eq!(Grouping::Indian.write(n), indian);
    }
}

/// Source: NCERT, Class VI, "Knowing Our Numbers", "Use of commas".
#[test]
fn commas_stand_as_in_the_schoolbook() {
    for n in ["5,08,01,592", "7,27,05,062", "6,85,37,954", "7,00,02,509"] {
        let plain: u64 = n.replace(',', "").parse().expect("digits");
        assert_eq!(Grouping::Indian.write(plain), n);
    }
    assert_eq!(Grouping::Thousands.write(50_801_592), "50,801,592");
}

/// Source: ISO/IEC Directives, Part 2 (2011), 6.6.8: groups of three separated by a small space,
/// numbers of four digits included.
#[test]
fn spaced_groups_have_narrow_spaces_that_do_not_break() {
    assert_eq!(Grouping::Spaced.write(2345), "2\u{202F}345");
    assert_eq!(Grouping::Spaced.write(1_234_567), "1\u{202F}234\u{202F}567");
}

/// Source: Unicode CLDR, locale en_IN, spelled-out numbers.
#[test]
fn names_are_those_of_the_locale_data() {
    assert_eq!(
        in_words(9_989_001, Grouping::Indian),
        "ninety-nine lakh, eighty-nine thousand and one"
    );
    assert_eq!(
        in_words(12_345_678, Grouping::Indian),
        "one crore, twenty-three lakh, forty-five thousand, six hundred and seventy-eight"
    );
}

/// Source: the open library num2words 0.5.14, locales en_GB and en_IN.
#[test]
fn names_are_those_of_another_library() {
    let mut checked = 0;
    for line in include_str!("number-words.txt").lines().filter(|l| !l.starts_with('#')) {
        let parts: Vec<&str> = line.split(" | ").collect();
        let [n, million, lakh] = parts[..] else { panic!("three columns: {line}") };
        let n: u64 = n.parse().expect("a number");
        assert_eq!(in_words(n, Grouping::Thousands), million);
        if lakh != "-" {
            assert_eq!(in_words(n, Grouping::Indian), lakh);
        }
        checked += 1;
    }
    assert!(checked > 60, "the file is hardly there: {checked} names");
}
