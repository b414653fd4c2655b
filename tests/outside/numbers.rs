//! Numbers as the Unicode CLDR writes them.

use rungwise::number::Grouping;

/// Source: Unicode CLDR, locales en and en_IN, `decimalFormat`; values worked out with a CLDR
/// library.
#[test]
fn grouping_is_that_of_the_locale_data() {
    assert_eq!(Grouping::Indian.write(12_345_678), "1,23,45,678");
    assert_eq!(Grouping::Thousands.write(12_345_678), "12,345,678");
}
