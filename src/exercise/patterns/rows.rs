//! Wrong ways to multiply a number by one digit; in a longer sum they spoil every row.
//!
//! Sources: dropped, swapped and multiplied carries and "ones only" are the four error types of a
//! long-multiplication exercise for teachers in training; "adds the digit just written" comes from
//! practitioners' notes; the rest stand in the classic lists (Buswell and John 1926, Brueckner
//! 1930, Cox 1975, Engelhardt 1977, Graeber and Wallace 1977, Ashlock, Attisha and Yazdani 1984;
//! from memory). Weight 1 marks the two made in the spirit of Brown and VanLehn's repair theory.

use super::column::{Column, Done, Pen};
use super::working::Detail;
use super::{Family, Pattern, Procedure};
use crate::number::digits;

/// Works a row: the number on top, ones first, the digit it is multiplied by, and the pen.
pub(super) type WorkRow = fn(&[u8], u8, &mut Pen);

/// What a pupil sees at one digit of the multiplicand.
struct At {
    top: u64,
    digit: u64,
    carry: u64,
    index: usize,
}

impl At {
    /// The digit's product, taken to be `taken`, and the carry.
    fn taken(&self, taken: u64, carry: u64) -> Column {
        Column::of(self.top, self.digit, Done::Times, taken, carry)
    }
    /// As it should be.
    fn right(&self) -> Column {
        self.taken(self.top * self.digit, self.carry)
    }
    /// A digit of the other kind: added to, copied or passed over.
    fn other(&self, done: Done, taken: u64, carry: u64) -> Column {
        Column::of(self.top, self.digit, done, taken, carry)
    }
}

/// Works along the row from the ones; the last column is written in full.
fn along(a: &[u8], digit: u8, pen: &mut Pen, rule: impl Fn(&At) -> Column) {
    let mut carry = 0;
    for (index, &top) in a.iter().enumerate() {
        let at = At { top: u64::from(top), digit: u64::from(digit), carry, index };
        let mut column = rule(&at);
        carry = column.carry;
        if index + 1 == a.len() {
            column.write = column.whole();
        }
        pen.write(column);
    }
}

/// The row as it should be.
pub(super) fn right(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, At::right);
}

fn carry_not_added(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| at.taken(at.top * at.digit, 0));
}

fn carry_added_before_times(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| Column {
        before: at.carry,
        ..at.taken((at.top + at.carry) * at.digit, 0)
    });
}

fn nothing_carried(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| {
        let column = at.taken(at.top * at.digit, 0);
        Column { write: column.whole(), carry: 0, ..column }
    });
}

fn carry_and_digit_swapped(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| {
        let right = at.right();
        match right.whole() {
            0..=9 => right,
            whole => Column { write: whole / 10, carry: whole % 10, ..right },
        }
    });
}

fn multiplied_by_carry(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| {
        let by = if at.carry > 0 { at.carry } else { at.digit };
        Column::of(at.top, by, Done::Times, at.top * by, 0)
    });
}

fn only_ones_multiplied(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| match at.index {
        0 => at.right(),
        _ => at.other(Done::Copied, at.top, at.carry),
    });
}

fn ones_copied(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| match at.index {
        0 => at.other(Done::Copied, at.top, 0),
        _ => at.right(),
    });
}

fn last_carry_lost(a: &[u8], digit: u8, pen: &mut Pen) {
    let mut whole = Pen::new(true);
    right(a, digit, &mut whole);
    for column in whole.columns {
        pen.write(Column { write: column.whole() % 10, ..column });
    }
}

fn always_carries_one(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| Column { carry: at.right().carry.min(1), ..at.right() });
}

fn switched_to_adding(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| match at.index {
        0 => at.right(),
        _ => at.other(Done::Added, at.top + at.digit, at.carry),
    });
}

/// Written from the left: each carry goes to the next column on the right, the last column is
/// written in full.
fn worked_left_to_right(a: &[u8], digit: u8, pen: &mut Pen) {
    let mut carry = 0;
    let mut columns = Vec::with_capacity(a.len());
    for (index, &top) in a.iter().enumerate().rev() {
        let at = At { top: u64::from(top), digit: u64::from(digit), carry, index };
        let mut column = at.right();
        if index == 0 {
            column = Column { write: column.whole(), carry: 0, ..column };
        }
        carry = column.carry;
        columns.push(column);
    }
    pen.from_left = true;
    columns.into_iter().rev().for_each(|column| pen.write(column));
}

fn zero_swallows_carry(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| match at.top {
        0 => at.other(Done::Passed, 0, 0),
        _ => at.right(),
    });
}

fn carry_hops_zero(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| match at.top {
        0 => Column { carry: at.carry, ..at.other(Done::Passed, 0, 0) },
        _ => at.right(),
    });
}

fn inner_zero_skipped(a: &[u8], digit: u8, pen: &mut Pen) {
    let first = a.iter().position(|&d| d != 0).unwrap_or(0);
    let kept: Vec<u8> =
        a.iter().enumerate().filter(|&(i, &d)| i < first || d != 0).map(|(_, &d)| d).collect();
    right(&kept, digit, pen);
}

fn zero_taken_as_one(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| match at.top {
        0 => at.taken(at.digit, at.carry),
        _ => at.right(),
    });
}

fn one_times_adds_one(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| match at.top {
        1 => at.taken(at.digit + 1, at.carry),
        _ => at.right(),
    });
}

fn is_hard(at: &At) -> bool {
    at.top >= 6 && at.digit >= 6
}

fn facts_one_step_up(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| match is_hard(at) {
        true => at.taken(at.top * at.digit + at.top, at.carry),
        false => at.right(),
    });
}

fn facts_one_step_down(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| match is_hard(at) {
        true => at.taken(at.top * at.digit - at.top, at.carry),
        false => at.right(),
    });
}

/// One fact is wrong wherever it is needed, and all else is right.
pub(super) fn fact_wrong(a: &[u8], digit: u8, fact: (u8, u8), taken: u64, pen: &mut Pen) {
    let (x, y) = (u64::from(fact.0), u64::from(fact.1));
    along(a, digit, pen, |at| match (at.top.min(at.digit), at.top.max(at.digit)) {
        pair if pair == (x, y) => at.taken(taken, at.carry),
        _ => at.right(),
    });
}

fn digits_added(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| at.other(Done::Added, at.top + at.digit, at.carry));
}

fn written_digit_carried(a: &[u8], digit: u8, pen: &mut Pen) {
    along(a, digit, pen, |at| {
        let right = at.right();
        Column { carry: if right.whole() >= 10 { right.write } else { 0 }, ..right }
    });
}

/// The row a procedure gives for a number and a digit; `None` for a number of one digit, which is
/// a fact and has no row to go wrong.
pub(super) fn apply(procedure: WorkRow, a: u64, digit: u8, how: Detail) -> Option<Pen> {
    (a >= 10).then(|| {
        let mut pen = Pen::new(how == Detail::Page);
        procedure(&digits(a), digit, &mut pen);
        pen
    })
}

const fn row(
    weight: u32,
    name: &'static str,
    procedure: WorkRow,
    short: &'static str,
    shows: &'static str,
    teach: &'static str,
) -> Pattern {
    Pattern {
        name,
        short,
        shows,
        teach,
        family: Family::Row,
        weight,
        procedure: Procedure::Row(procedure),
    }
}

pub(super) const ROWS: &[Pattern] = &[
    row(
        3,
        "carry-not-added",
        carry_not_added,
        "carries not added",
        "carried digits are not added",
        "Work the sum as partial products first (47 × 6 = 240 + 42), so that the tens of 42 are seen \
         to join the other tens. Then keep each carry in the square where it will be added, and \
         cross it out when it is used.",
    ),
    row(
        3,
        "carry-added-before-multiplying",
        carry_added_before_times,
        "carry added too early",
        "the carry is added to the digit before multiplying instead of after",
        "The carried tens have already been multiplied. Say each column aloud as “times, then \
         add”, and set 4 × 6 + 4 beside (4 + 4) × 6 with counters.",
    ),
    row(
        3,
        "products-written-in-full",
        nothing_carried,
        "no carrying at all",
        "each product is written in full, nothing is carried",
        "Estimate first: 47 × 6 lies between 240 and 300, so 2,442 cannot be. Lay the parts out on \
         a place-value chart and exchange ten ones for one ten.",
    ),
    row(
        3,
        "carry-and-digit-swapped",
        carry_and_digit_swapped,
        "wrong digit carried",
        "the tens digit is written and the ones digit carried",
        "Say what each digit is worth: 42 is 4 tens and 2 ones, and ones stay in the ones. Write the \
         product beside the sum first, draw a ring round the tens, and carry what is in the ring.",
    ),
    row(
        3,
        "multiplied-by-the-carry",
        multiplied_by_carry,
        "times the carry",
        "a digit with a carry is multiplied by the carry instead of the multiplier",
        "Cover everything but the multiplier and the digit: the carry waits until after the \
         multiplying. Let the pupil keep a finger on the multiplier through the whole row.",
    ),
    row(
        3,
        "only-ones-multiplied",
        only_ones_multiplied,
        "only last digit times",
        "only the last digit is multiplied, the others are kept",
        "Draw the area model: every part of the top number must be multiplied. Tick each digit of \
         the top number as it is used.",
    ),
    row(
        3,
        "ones-copied",
        ones_copied,
        "last digit only copied",
        "the other digits are multiplied, the last one is copied",
        "Split the number (47 is 40 and 7) and write both products, 40 × 6 and 7 × 6, before adding. \
         Ask which part has not been multiplied yet.",
    ),
    row(
        3,
        "last-carry-lost",
        last_carry_lost,
        "last carry not written",
        "the last carry is not written in front",
        "Estimate first: an answer smaller than the number itself cannot be. Rule a square for the \
         extra digit at the front before beginning.",
    ),
    row(
        3,
        "always-carries-one",
        always_carries_one,
        "always carried 1",
        "1 is carried whatever the tens are, as in adding",
        "Write the whole product beside each column and carry its tens digit. Compare 7 + 6 = 13 \
         with 7 × 6 = 42: how many tens are there to carry?",
    ),
    row(
        3,
        "switched-to-adding",
        switched_to_adding,
        "switched to adding",
        "the first column is multiplied, the others are added",
        "Draw an arrow from the multiplier to every digit of the top number. Say “times” at each \
         arrow before writing anything.",
    ),
    row(
        1,
        "worked-left-to-right",
        worked_left_to_right,
        "worked left to right",
        "the row is worked from the left, with carries going right",
        "Put a dot over the ones where the work begins. With base-ten blocks show that ten ones make \
         a ten, so that an exchange always goes to the left.",
    ),
    row(
        3,
        "zero-swallows-carry",
        zero_swallows_carry,
        "carry lost at a zero",
        "at a zero inside the number the waiting carry is lost",
        "Say the column aloud: “0 times 7 is 0, and 4 is 4”. Work 306 × 7 as 300 × 7 + 6 × 7 and \
         find the 4 tens of 42 in the answer.",
    ),
    row(
        1,
        "carry-hops-zero",
        carry_hops_zero,
        "carry jumped a zero",
        "at a zero inside the number the carry is kept for the next digit",
        "A carry always belongs to the very next place, even when the digit there is 0. Write place \
         headings over the sum and put the carry under its heading.",
    ),
    row(
        3,
        "inner-zero-skipped",
        inner_zero_skipped,
        "inside zero left out",
        "a zero inside the number is left out",
        "Write the number under place headings and read it aloud: 306 has no tens, but its tens \
         place must still be filled. Compare with 36 × 7.",
    ),
    row(
        3,
        "zero-taken-as-one",
        zero_taken_as_one,
        "0 taken as 1",
        "zero times a digit is given as that digit",
        "Ask for none of a thing: 0 bags of 7 apples. Put 0 × 7 beside 1 × 7 and practise a few \
         facts with zero by themselves.",
    ),
    row(
        3,
        "one-times-adds-one",
        one_times_adds_one,
        "1 times taken as 1 more",
        "one times a digit is given as one more",
        "Show one group of 8 and one more than 8 with counters. Practise a few facts with one by \
         themselves, then in a row.",
    ),
    row(
        3,
        "facts-one-step-up",
        facts_one_step_up,
        "hard facts too large",
        "facts of 6 to 9 are one table step too large; the method is right",
        "The method is secure, the facts are not: practise the facts of 6 to 9 by building from a \
         known one (7 × 6 is 7 × 5 and one 7 more). A table square beside the sum keeps the method \
         going meanwhile.",
    ),
    row(
        3,
        "facts-one-step-down",
        facts_one_step_down,
        "hard facts too small",
        "facts of 6 to 9 are one table step too small; the method is right",
        "The method is secure, the facts are not: practise the facts of 6 to 9 by building from a \
         known one (7 × 6 is 7 × 5 and one 7 more). A table square beside the sum keeps the method \
         going meanwhile.",
    ),
    row(
        3,
        "digits-added",
        digits_added,
        "digits added instead",
        "every fact is replaced by a sum",
        "Ask for a picture of the sum: 6 rows of 47, not 47 and 6. Have the sign read aloud before \
         each column.",
    ),
    row(
        3,
        "written-digit-carried",
        written_digit_carried,
        "written digit carried",
        "the digit just written is carried again instead of the tens",
        "Write the product small beside the column, strike out its ones when they are written, and \
         carry what is left.",
    ),
];
