//! What to say beside each line of a long multiplication, in the house's words.
//!
//! A line says every step of a row, shorter the more there are; only where two lines do not hold
//! them its first and its last, or the one where a carry meets a nought; the noughts that shift it;
//! why a row is missing. A carry that is used was said before, or is pointed at on the paper.

use super::{CarryWord, FirstRow, HouseStyle, Long, Row, ZeroRow};
use crate::number::{OnesWord, digit_count, digits};
use crate::words::join;

/// The most letters in a line beside the squares: the longest step, "8 sevens are 56, and 4 is
/// 60: write 0, regroup 6.", fits.
const WIDTH: usize = 49;

const NAMES: [&str; 10] =
    ["nought", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine"];

/// What to say beside each line of the working: an entry of one or two lines for the
/// multiplicand, the multiplier, each row in order, and the sum of the rows. Where there is one
/// row only, it is the answer and the last entry.
pub fn long_words(long: &Long, style: &HouseStyle) -> Vec<Vec<String>> {
    let voice = Voice { long, style };
    let mut said = vec![voice.multiplicand(), voice.multiplier()];
    match long.rows.len() {
        0 => said.push("So the product is 0.".to_owned()),
        1 => said.push(voice.row(0)),
        rows => {
            said.extend((0..rows).map(|index| voice.row(index)));
            said.push(voice.adding());
        }
    }
    said.iter().map(|text| lines(text)).collect()
}

/// A text in lines of at most [`WIDTH`] letters; a line break in it stays.
fn lines(text: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for part in text.lines() {
        let mut line = String::new();
        for word in part.split(' ') {
            if !line.is_empty() && line.chars().count() + 1 + word.chars().count() > WIDTH {
                lines.push(std::mem::take(&mut line));
            }
            if !line.is_empty() {
                line.push(' ');
            }
            line.push_str(word);
        }
        lines.push(line);
    }
    lines
}

fn fits(text: &str) -> bool {
    text.chars().count() <= WIDTH
}

/// "3 tens", "1 ten".
fn counted(n: u8, plural: &str) -> String {
    let noun = if n == 1 { plural.trim_end_matches('s') } else { plural };
    format!("{n} {noun}")
}

pub(super) fn number_word(n: usize) -> &'static str {
    NAMES.get(n).copied().unwrap_or("many")
}

/// How much is said of one step.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Way {
    /// "7 threes are 21: write 1, carry 2 to the tens."
    Whole,
    /// "7 threes are 21: write 1, carry 2. 7 eights are 56, and 2 is 58, carry 5."
    Short,
    /// The same without what is written.
    Brief,
    /// "7 eights, 56, and 2 is 58, carry 5."
    Tight,
    /// "Last, 7 sixes are 42, and the small 5: 47.": the step before was not said, its carry
    /// stands small on the paper.
    FromSmall,
}

/// How much is said of each step where all are said in a row, the fullest way first.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Chain {
    /// "7 threes are 21, carry 2; 56 + 2 = 58."
    Named,
    /// "21, carry 2; 56 + 2 = 58."
    Sums,
    /// "21, carry 2; 56 + 2."
    Bare,
}

impl Chain {
    const ALL: [Chain; 3] = [Chain::Named, Chain::Sums, Chain::Bare];
}

struct Voice<'a> {
    long: &'a Long,
    style: &'a HouseStyle,
}

impl Voice<'_> {
    fn place(&self, place: usize) -> &'static str {
        self.style.grouping.place_name(place, self.style.ones)
    }

    fn ones(&self) -> &'static str {
        match self.style.ones {
            OnesWord::Ones => "ones",
            OnesWord::Units => "units",
        }
    }

    /// The places where a number has a nought, highest first, as "hundreds".
    fn missing(&self, n: u64) -> Vec<&'static str> {
        let zeros = digits(n).into_iter().enumerate().rev().filter(|(_, d)| *d == 0);
        zeros.map(|(place, _)| self.place(place)).collect()
    }

    fn multiplicand(&self) -> String {
        let (a, b) = (self.long.a, self.long.b);
        let top = self.style.number(a);
        let ones = self.ones();
        match self.missing(a).as_slice() {
            _ if a == 0 => "Nothing times any number is nothing.".to_owned(),
            [] if digit_count(a) == digit_count(b) => {
                format!("One number under the other; {ones} under {ones}.")
            }
            [] => format!("The longer number on top; {ones} under {ones}."),
            [zero] => format!("{top} has no {zero}: its 0 keeps the place."),
            [one, two] => format!("{top} has no {one} and no {two}: its 0s keep their places."),
            _ => format!("The 0s of {top} keep their places."),
        }
    }

    fn multiplier(&self) -> String {
        let b = self.long.b;
        let below = self.style.number(b);
        let skipped = self.style.zero_row == ZeroRow::Skip;
        match self.missing(b).as_slice() {
            _ if b == 0 => "Any number times 0 is 0.".to_owned(),
            [] if b < 10 => {
                format!("Multiply each digit by {b}, {} first.", self.ones())
            }
            [] => {
                let parts = digits(b).into_iter().enumerate().rev();
                let part = |(place, d): (usize, u8)| {
                    self.style.number(u64::from(d) * crate::number::ten_to(place))
                };
                format!(
                    "Read the lower number as {}.",
                    join(&parts.map(part).collect::<Vec<_>>(), "and")
                )
            }
            [zero] if skipped => format!("No {zero} in {below}: no row for {zero}."),
            [zero] => format!("No {zero} in {below}: their row is all noughts."),
            _ if skipped => format!("The 0s of {below} get no rows."),
            _ => format!("The rows of the 0s of {below} are all noughts."),
        }
    }

    fn row(&self, index: usize) -> String {
        let row = &self.long.rows[index];
        if row.digit == 0 {
            return "Times 0: a row of noughts.".to_owned();
        }
        let last = digits(self.long.a).len() - 1;
        let shift = row.place.ilog10() as usize;
        if shift == 0 {
            let whole = match last {
                0 => Some(self.step(row, 0, Way::Whole)),
                1 => Some([0, 1].map(|i| self.step(row, i, Way::Whole)).join("\n")),
                _ => None,
            };
            return self.said(row, whole, "");
        }
        let noughts = self.noughts(row, shift);
        if index > 0 && index < shift && self.style.first_row == FirstRow::Ones {
            let ordinal = ["first", "second", "third", "fourth", "fifth"][index];
            let why = format!("{noughts}, although this is only the {ordinal} row.");
            let short = format!("{noughts}, in this {ordinal} row.");
            let all = Chain::ALL.map(|chain| format!("{short} {}", self.chain(row, chain)));
            return all.into_iter().find(|text| lines(text).len() <= 2).unwrap_or(why);
        }
        self.said(row, None, &format!("{noughts}."))
    }

    /// What is said of a row after its noughts: every step where they fit two lines, else the steps
    /// of which each begins with a carry that was said, or with the small digit on the paper.
    fn said(&self, row: &Row, whole: Option<String>, noughts: &str) -> String {
        let top = digits(self.long.a);
        let last = top.len() - 1;
        let all = |way| (0..=last).map(move |i| self.step(row, i, way));
        let after = |steps: Vec<String>| match noughts {
            "" => steps.join(" "),
            _ => format!("{noughts} {}", steps.join(" ")),
        };
        let meets_nought = (1..=last).find(|&i| top[i] == 0 && row.carries[i - 1] > 0);
        let at_nought = meets_nought.map(|i| {
            let first = if i == 1 { Way::Short } else { Way::FromSmall };
            after(vec![self.step(row, i - 1, first), self.step(row, i, Way::Short)])
        });
        let on = if noughts.is_empty() { "Go on this way." } else { "Then as above." }.to_owned();
        let ends =
            |way| vec![self.step(row, 0, way), on.clone(), self.step(row, last, Way::FromSmall)];
        let end = vec![on.clone(), self.step(row, last, Way::FromSmall)];
        let each = format!("{} times each digit, as before.", row.digit);
        let mut ways = whole
            .into_iter()
            .chain([after(all(Way::Short).collect()), after(all(Way::Tight).collect())])
            .chain(Chain::ALL.map(|chain| after(vec![self.chain(row, chain)])));
        let or = [at_nought, Some(after(ends(Way::Short))), Some(after(ends(Way::Brief)))];
        let or = or.into_iter().flatten().chain([after(end), after(vec![each])]);
        ways.by_ref().chain(or).find(|text| lines(text).len() <= 2).unwrap_or_default()
    }

    /// "5 threes are 15, carry 1; 45 + 1 = 46, carry 4; 30 + 4 = 34.": every step of a row, with the
    /// carry it makes and the one it takes up.
    fn chain(&self, row: &Row, chain: Chain) -> String {
        let top = digits(self.long.a);
        let each = top.iter().enumerate().map(|(index, &digit)| {
            let product = digit * row.digit;
            let before = index.checked_sub(1).map_or(0, |i| row.carries[i]);
            let sum = product + before;
            let found = match (chain, index) {
                (Chain::Named, 0) => fact(row.digit, digit),
                (Chain::Bare, _) if before > 0 => format!("{product}\u{a0}+\u{a0}{before}"),
                _ if before > 0 => {
                    format!("{product}\u{a0}+\u{a0}{before}\u{a0}=\u{a0}{sum}")
                }
                _ => product.to_string(),
            };
            let carries = sum > 9 && index + 1 < top.len();
            if carries { format!("{found}, {}\u{a0}{}", self.carry(), sum / 10) } else { found }
        });
        format!("{}.", each.collect::<Vec<_>>().join("; "))
    }

    fn carry(&self) -> &'static str {
        match self.style.carry {
            CarryWord::Carry => "carry",
            CarryWord::Regroup => "regroup",
        }
    }

    /// "300 is 3 hundreds, so two 0s first"
    fn noughts(&self, row: &Row, shift: usize) -> String {
        let value = self.style.number(u64::from(row.digit) * row.place);
        let zeros = match shift {
            1 => "a 0".to_owned(),
            more => format!("{} 0s", number_word(more)),
        };
        format!("{value} is {}, so {zeros} first", counted(row.digit, self.place(shift)))
    }

    /// One step of a row: "7 threes are 21: write 1, carry 2 to the tens."
    fn step(&self, row: &Row, index: usize, way: Way) -> String {
        let top = digits(self.long.a);
        let (product, before) =
            (top[index] * row.digit, index.checked_sub(1).map_or(0, |i| row.carries[i]));
        let sum = product + before;
        let mut said = match way {
            // A school says "units", but "6 ones are 6".
            Way::Tight if top[index] != 1 => {
                fact(row.digit, top[index]).replace(" are ", ", ").replace(" is ", ", ")
            }
            _ => fact(row.digit, top[index]),
        };
        if before > 0 {
            said = match way {
                Way::FromSmall => format!("{said}, and the small {before}: {sum}"),
                _ => format!("{said}, and {before} is {sum}"),
            };
        }
        let is_last = index + 1 == top.len();
        if is_last && index > 0 && way != Way::Tight {
            said = format!("Last, {said}");
        }
        let carry = self.carry();
        match way {
            Way::Whole if sum < 10 => format!("{said}: write {sum}."),
            Way::Whole if is_last => format!("{said}: write both."),
            Way::Whole => {
                let shift = row.place.ilog10() as usize;
                self.carried(&format!("{said}: write {}", sum % 10), sum / 10, index + shift + 1)
            }
            _ if sum < 10 || is_last => format!("{said}."),
            Way::Short if index == 0 => {
                format!("{said}: write {}, {carry} {}.", sum % 10, sum / 10)
            }
            _ => format!("{said}, {carry} {}.", sum / 10),
        }
    }

    /// "…, carry 2 to the tens." or "…, regroup 2 tens.", without the place where it is too long.
    fn carried(&self, said: &str, carry: u8, to: usize) -> String {
        let place = self.place(to);
        let (full, short) = match self.style.carry {
            CarryWord::Carry => (
                format!("{said}, carry {carry} to the {place}."),
                format!("{said}, carry {carry}."),
            ),
            CarryWord::Regroup => (
                format!("{said}, regroup {}.", counted(carry, place)),
                format!("{said}, regroup {carry}."),
            ),
        };
        if fits(&full) { full } else { short }
    }

    fn adding(&self) -> String {
        let rows = number_word(self.long.rows.len());
        let add = format!("Add the {rows} rows, {} first.", self.ones());
        if self.long.adding_carries.iter().all(|carry| *carry == 0) {
            return add;
        }
        format!("{add} A small digit is added once, in the square it stands in.")
    }
}

/// "7 threes are 21", "1 six is 6".
pub(super) fn fact(digit: u8, top: u8) -> String {
    let name = number_word(usize::from(top));
    let product = digit * top;
    match digit {
        1 => format!("1\u{a0}{name} is {product}"),
        _ if top == 6 => format!("{digit}\u{a0}sixes are {product}"),
        _ => format!("{digit}\u{a0}{name}s are {product}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::method::long;
    use crate::number::Grouping;

    fn said(a: u64, b: u64, style: &HouseStyle) -> Vec<String> {
        let said = long_words(&long(a, b, style), style);
        said.iter().map(|lines| lines.join(" / ").replace('\u{a0}', " ")).collect()
    }

    #[test]
    fn a_long_row_is_said_step_by_step() {
        let style = HouseStyle { grouping: Grouping::Indian, ..Default::default() };
        assert_eq!(
            said(6283, 347, &style),
            [
                "The longer number on top; ones under ones.",
                "Read the lower number as 300, 40 and 7.",
                "7 threes are 21, carry 2; 56 + 2 = 58, carry 5; \
                 / 14 + 5 = 19, carry 1; 42 + 1 = 43.",
                // No sum is broken: so the sums stand without what they come to.
                "40 is 4 tens, so a 0 first. 12, carry 1; 32 + 1, \
                 / carry 3; 8 + 3, carry 1; 24 + 1.",
                "300 is 3 hundreds, so two 0s first. 3 threes are \
                 / 9; 24, carry 2; 6 + 2 = 8; 18.",
                "Add the three rows, ones first. A small digit is \
                 / added once, in the square it stands in.",
            ]
        );
    }

    #[test]
    fn noughts_inside_both_numbers_are_spoken_of() {
        assert_eq!(
            said(7046, 308, &HouseStyle::default()),
            [
                "7,046 has no hundreds: its 0 keeps the place.",
                "No tens in 308: no row for tens.",
                "8 sixes, 48, carry 4. 8 fours, 32, and 4 is 36, \
                 / carry 3. 8 noughts, 0, and 3 is 3. 8 sevens, 56.",
                "300 is 3 hundreds, so two 0s first, although this / is only the second row.",
                "Add the two rows, ones first. A small digit is / added once, in the square it stands in.",
            ]
        );
    }

    #[test]
    fn the_house_may_say_units_and_regroup_and_write_noughts() {
        let style = HouseStyle {
            ones: OnesWord::Units,
            carry: CarryWord::Regroup,
            zero_row: ZeroRow::Write,
            ..Default::default()
        };
        assert_eq!(
            said(47, 30, &style),
            [
                "One number under the other; units under units.",
                "No units in 30: their row is all noughts.",
                "Times 0: a row of noughts.",
                "30 is 3 tens, so a 0 first. 3 sevens, 21, regroup / 2. 3 fours, 12, and 2 is 14.",
                "Add the two rows, units first.",
            ]
        );
        assert_eq!(
            said(47, 6, &style)[2],
            "6 sevens are 42: write 2, regroup 4 tens. / Last, 6 fours are 24, and 4 is 28: write both."
        );
    }

    #[test]
    fn short_sums_and_nothing_have_three_lines() {
        let style = HouseStyle::default();
        assert_eq!(said(6, 7, &style)[2], "7 sixes are 42: write both.");
        assert_eq!(said(31, 1, &style)[2], "1 one is 1: write 1. / Last, 1 three is 3: write 3.");
        assert_eq!(said(347, 0, &style)[2], "So the product is 0.");
        assert_eq!(
            said(40, 30, &style)[2],
            "30 is 3 tens, so a 0 first. 3 noughts are 0. / Last, 3 fours are 12."
        );
    }

    /// Of up to four digits by three, none of them a nought below, each carry is said.
    #[test]
    fn every_carry_of_rows_of_four_digits_is_said() {
        let style = HouseStyle::default();
        for a in (1000..10_000).step_by(37) {
            for b in [12, 99, 347, 789, 999] {
                let working = long(a, b, &style);
                for (row, said) in working.rows.iter().zip(&long_words(&working, &style)[2..]) {
                    let mut said = said.join(" ").replace('\u{a0}', " ");
                    for carry in row.carries[..row.carries.len() - 1].iter().filter(|c| **c > 0) {
                        let carried = format!("carry {carry}");
                        let found = said.find(&carried).map(|at| at + carried.len());
                        said = said.split_off(found.unwrap_or_else(|| panic!("{a} × {b}: {said}")));
                    }
                }
            }
        }
    }

    /// The digit that is named, whatever its number.
    fn digit_named(word: &str) -> u32 {
        let is = |n: &&str| word.strip_prefix(*n).is_some_and(|end| ["", "s", "es"].contains(&end));
        let at = NAMES.iter().position(is).unwrap_or_else(|| panic!("{word}"));
        u32::try_from(at).expect("a digit")
    }

    /// One step: its numbers are true, and a carry it adds is the one said last or is the small one
    /// on the paper. Returns what it carries; none where that is not said.
    fn check_step(step: &str, said: Option<u32>) -> Option<u32> {
        let step = step.trim_start_matches("Last, ").trim_end_matches('.');
        let words: Vec<&str> =
            step.split(' ').map(|w| w.trim_end_matches([',', ':', '.'])).collect();
        let number = |index: usize| words[index].parse::<u32>().expect(step);
        let mut at = 2;
        if ["is", "are"].contains(&words[at]) {
            assert_eq!(words[at], if number(0) == 1 { "is" } else { "are" }, "{step}");
            at += 1;
        }
        let mut sum = number(at);
        assert_eq!(number(0) * digit_named(words[1]), sum, "{step}");
        at += 1;
        if words.get(at..at + 3).is_some_and(|w| w[..3] == ["and", "the", "small"]) {
            sum += number(at + 3);
            assert_eq!(number(at + 4), sum, "{step}");
            at += 5;
        } else if words.get(at) == Some(&"and") {
            assert_eq!(said, Some(number(at + 1)), "a carry nobody made: {step}");
            sum += number(at + 1);
            assert_eq!(number(at + 3), sum, "{step}");
            at += 4;
        }
        if words.get(at) == Some(&"write") {
            match words[at + 1] {
                "both" => assert!(sum > 9, "{step}"),
                _ => assert_eq!(number(at + 1), sum % 10, "{step}"),
            }
            at += 2;
        }
        if ["carry", "regroup"].iter().any(|w| words.get(at) == Some(w)) {
            assert_eq!(number(at + 1), sum / 10, "{step}");
            return Some(sum / 10);
        }
        None
    }

    /// Steps in a row: each adds the carry that the one before said, and says its own.
    fn check_chain(sentence: &str) {
        let mut carried = None;
        let sentence = sentence.replace('\u{a0}', " ");
        for step in sentence.trim_end_matches('.').split("; ") {
            let (found, carry) = match step.split_once(", ") {
                Some((found, carry)) => {
                    (found, carry.split(' ').nth(1).and_then(|n| n.parse().ok()))
                }
                None => (step, None),
            };
            if found.contains("s are ") || found.contains(" is ") {
                check_step(found, None);
            }
            let (sum, told) = found.split_once(" = ").map_or((found, None), |(a, b)| (a, Some(b)));
            let last = |text: &str| text.split(' ').next_back().and_then(|n| n.parse::<u32>().ok());
            let (product, before) = match sum.split_once(" + ") {
                Some((product, before)) => (last(product), last(before)),
                None => (last(sum), None),
            };
            let sum = product.expect(step) + before.unwrap_or(0);
            assert_eq!(before, carried, "a carry nobody made: {sentence}");
            assert!(told.is_none_or(|told| last(told) == Some(sum)), "{sentence}");
            assert!(carry.is_none_or(|carry| carry == sum / 10), "{sentence}");
            carried = carry;
        }
    }

    /// Whether each carry that is added in what is said of a row was said in the step before.
    fn check_row(entry: &[String], style: &HouseStyle) {
        let mut said = None;
        let said_here = entry.join(" ").replace('\u{a0}', " ");
        for sentence in said_here.replace(". ", ".\n").lines() {
            if sentence.contains(" 0 first") || sentence.contains(" 0s first") {
                check_noughts(sentence, style);
            } else if sentence.contains("; ") {
                check_chain(sentence);
            } else if sentence.contains("s are ")
                || sentence.contains("s, ")
                || sentence.starts_with("1 ")
                || sentence.starts_with("Last")
            {
                said = check_step(sentence, said);
            } else {
                said = None;
            }
        }
    }

    /// "300 is 3 hundreds, so two 0s first"
    fn check_noughts(text: &str, style: &HouseStyle) {
        let (value, rest) = text.split_once(" is ").expect("a value");
        let (counted, zeros) = rest.split_once(", so ").expect("noughts");
        let (digit, name) = counted.split_once(' ').expect("a count");
        let shift = (1..12)
            .find(|&p| {
                style.grouping.place_name(p, style.ones).trim_end_matches('s')
                    == name.trim_end_matches('s')
            })
            .expect("a place");
        let digit: u64 = digit.parse().expect("a digit");
        assert_eq!(value, style.number(digit * crate::number::ten_to(shift)), "{text}");
        assert_eq!(digit > 1, name.ends_with('s'), "{text}");
        let count =
            if zeros.starts_with("a 0") { "one" } else { zeros.split(' ').next().unwrap_or("") };
        assert_eq!(count, NAMES[shift], "{text}");
    }

    proptest::proptest! {
        #[test]
        fn every_number_said_is_true_and_every_line_fits(
            (a, b) in ((1..=6_u32), (1..=6_u32)).prop_flat_map(|(m, n)| {
                (10_u64.pow(m - 1)..10_u64.pow(m), 10_u64.pow(n - 1)..10_u64.pow(n))
            }),
            zeros in 0..64_u64,
            choices in 0..64_u8,
        ) {
            let b = punched(b, zeros);
            let a = punched(a, zeros / 2);
            let on = |bit: u8| choices >> bit & 1 == 1;
            let style = HouseStyle {
                grouping: if on(0) { Grouping::Indian } else { Grouping::Thousands },
                zero_row: if on(1) { ZeroRow::Write } else { ZeroRow::Skip },
                first_row: if on(2) { FirstRow::Highest } else { FirstRow::Ones },
                ones: if on(3) { OnesWord::Units } else { OnesWord::Ones },
                carry: if on(4) { CarryWord::Regroup } else { CarryWord::Carry },
                ..Default::default()
            };
            let working = long(a, b, &style);
            let entries = long_words(&working, &style);
            let rows = if working.rows.len() > 1 { working.rows.len() + 1 } else { 1 };
            assert_eq!(entries.len(), 2 + rows);
            for entry in &entries {
                assert!(matches!(entry.len(), 1 | 2), "{entry:?}");
                assert!(entry.iter().all(|line| fits(line) && !line.is_empty()), "{entry:?}");
            }
            for entry in entries[2..].iter().take(working.rows.len()) {
                check_row(entry, &style);
            }
        }
    }

    use proptest::strategy::Strategy;

    /// Digits of a number turned into noughts, the leading one kept.
    fn punched(n: u64, zeros: u64) -> u64 {
        let mut digits = digits(n);
        let leading = digits.len() - 1;
        for (place, digit) in digits.iter_mut().enumerate().take(leading) {
            if zeros >> place & 1 == 1 && zeros > 31 {
                *digit = 0;
            }
        }
        crate::number::from_digits(&digits)
    }
}
