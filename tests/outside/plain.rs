//! Plain products with their working, as a pack holds them: to be held against other integers, and to
//! be timed.

use rungwise::exercise::{Accept, Item, Kind, Space, Working};
use rungwise::method::{FirstRow, HouseStyle, ZeroRow, long};
use rungwise::seed::Stream;

/// A whole product as a pack holds it, worked by the road that prints it.
fn product(a: u64, b: u64, style: &HouseStyle) -> Item {
    let working = long(a, b, style);
    Item {
        id: "L01-K1".to_owned(),
        skill: "long-four-by-three".to_owned(),
        kind: Kind::Written,
        prompt: style.sum(a, b),
        expression: Some(format!("{a}*{b}")),
        answer: working.value.to_string(),
        accept: None::<Accept>,
        choices: Vec::new(),
        figure: None,
        working: Working::Long(working),
        seconds: 0,
        likely: Vec::new(),
        space: Space::Line,
        purpose: String::new(),
    }
}

/// Products of one to four digits by one to three, in every style of rows, zeros among the digits.
pub fn products(stream: &mut Stream) -> Item {
    let mut number = |most: u32| {
        let digits = u32::try_from(stream.number(1..=u64::from(most))).expect("a few");
        let n = stream.number(10_u64.pow(digits - 1)..=10_u64.pow(digits) - 1);
        if n > 99 && stream.chance(1, 5) { n - n / 10 % 10 * 10 } else { n }
    };
    let (a, b) = (number(4), number(3));
    let mut style = HouseStyle::default();
    if stream.chance(1, 2) {
        style.zero_row = ZeroRow::Write;
    }
    if stream.chance(1, 2) {
        style.first_row = FirstRow::Highest;
    }
    product(a, b, &style)
}
