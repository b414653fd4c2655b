//! The class totals the model was made for, and its bounds.

use super::*;
use crate::exercise::samples::{bare, choice, mental, written};
use crate::method::{estimate, grid, lattice};
use crate::number::ten_to;

/// The mean seconds of all products of m by n digits, with every fact weighing the same.
fn mean_seconds(m: usize, n: usize, profile: Profile) -> f64 {
    let rates = Rates::of(profile);
    let (mut total, mut count) = (0_u64, 0_u32);
    // One-digit multipliers from 2; a thinned walk with steps prime to ten.
    let steps = (if m > 2 { 37 } else { 1 }, if n > 2 { 7 } else { 1 });
    let first = |digits: usize| if digits == 1 { 2 } else { ten_to(digits - 1) };
    for a in (first(m)..ten_to(m)).step_by(steps.0) {
        for b in (first(n)..ten_to(n)).step_by(steps.1) {
            let work = Work::of_long(&long(a, b, &HouseStyle::default()));
            let plain = rates.fact * work.facts
                + rates.carry * work.carries
                + rates.column * work.columns
                + rates.adding_carry * work.adding_carries
                + rates.digit * work.digits;
            let setup = if m == 1 { 0 } else { rates.setup };
            total += u64::from(plain + rates.read + setup);
            count += 1;
        }
    }
    f64::from(u32::try_from(total / 100).expect("a small total")) / f64::from(count)
}

/// The totals were computed by a program apart from this one, from random products; ours are the
/// means of all products (thinned for the larger classes).
#[test]
fn class_totals_are_those_the_model_was_made_for() {
    let classes = [(1, 1), (2, 1), (3, 1), (2, 2), (3, 2), (4, 2), (4, 3)];
    let table = [
        (Profile::Learning, [9.0, 23.0, 31.0, 50.0, 68.0, 87.0, 122.0]),
        (Profile::Typical, [6.0, 16.0, 21.0, 33.0, 45.0, 57.0, 80.0]),
        (Profile::Fluent, [4.0, 9.0, 12.0, 19.0, 25.0, 32.0, 44.0]),
    ];
    for (profile, totals) in table {
        for ((m, n), total) in classes.into_iter().zip(totals) {
            let mean = mean_seconds(m, n, profile);
            let off = (mean - total).abs();
            assert!(off <= 0.5 + total * 0.025, "{profile:?} {m} x {n}: {mean:.1} for {total}");
        }
    }
}

const PROFILES: [Profile; 3] = [Profile::Learning, Profile::Typical, Profile::Fluent];

/// Source: Burns, VanDerHeyden & Jiban 2006: mastery from 49 digits correct a minute.
#[test]
fn no_written_sum_is_faster_than_49_digits_a_minute() {
    let style = HouseStyle { zero_row: crate::method::ZeroRow::Write, ..Default::default() };
    for (a, b) in [(1111, 1001), (12, 11), (1000, 100), (9876, 987), (111_111, 100_001), (47, 0)] {
        let long = long(a, b, &style);
        let digits = Work::of_long(&long).digits;
        let item = bare(Kind::Written, a, b, Working::Long(long));
        for profile in PROFILES {
            let seconds = item_seconds(&item, profile, 100);
            assert!(seconds * 49 >= digits * 60, "{a} x {b}, {profile:?}: {seconds} s");
        }
    }
}

#[test]
fn a_practised_class_is_quicker_and_the_pace_stretches_every_kind() {
    let estimate = bare(Kind::Estimate, 6283, 347, Working::Estimate(estimate(6283, 347)));
    let grid = bare(Kind::Written, 47, 36, Working::Grid(grid(47, 36)));
    let lattice = bare(Kind::Written, 47, 36, Working::Lattice(lattice(47, 36)));
    let row = bare(Kind::Row, 7046, 300, Working::Steps { steps: Vec::new() });
    let items = [
        written(6283, 347),
        mental(63, 8),
        choice(6283, 347, &[87_962, 483_791]),
        estimate,
        grid,
        lattice,
        row,
    ];
    for item in items {
        let [learning, typical, fluent] = PROFILES.map(|p| item_seconds(&item, p, 100));
        assert!(learning > typical && typical > fluent && fluent > 0, "{:?}", item.kind);
        let slow = item_seconds(&item, Profile::Typical, 200);
        assert!(slow.abs_diff(2 * typical) <= 1, "{:?}", item.kind);
    }
}

#[test]
fn a_fact_takes_seconds_and_a_long_sum_minutes() {
    // Source of the six seconds: England's multiplication tables check (Standards and Testing
    // Agency), 25 facts with six seconds each, for pupils of about nine.
    let within: Vec<u32> = [(7, 8), (6, 4), (9, 9)]
        .map(|(a, b)| item_seconds(&mental(a, b), Profile::Fluent, 100))
        .into();
    assert!(within.iter().all(|&s| s <= 6), "{within:?}");
    let learning = item_seconds(&written(6283, 347), Profile::Learning, 100);
    assert!((110..=240).contains(&learning), "{learning} s");
    let row = bare(Kind::Row, 6283, 300, Working::Steps { steps: Vec::new() });
    assert!(
        item_seconds(&row, Profile::Typical, 100) * 2
            < item_seconds(&written(6283, 347), Profile::Typical, 100)
    );
}

#[test]
fn a_story_takes_its_reading_beside_its_sum() {
    let text =
        "A depot sends 148 crates. Each crate holds 2,365 hooks. How many hooks does it send?";
    let plain = written(2365, 148);
    let Working::Long(long) = plain.working.clone() else { panic!("long") };
    let story = Story {
        know: Vec::new(),
        need: String::new(),
        steps: vec!["2,365 × 148 = 350,020".to_owned()],
        sentence: String::new(),
        structure: "equal-groups".to_owned(),
        scene: String::new(),
    };
    let mut item = bare(Kind::Story, 2365, 148, Working::Story { story, long: Some(long) });
    item.prompt = text.to_owned();
    let seconds = item_seconds(&item, Profile::Typical, 100);
    // 16 words read twice at 120 a minute are 16 s, and 10 s to choose; a sum takes 1.5 s to read.
    let sum = item_seconds(&plain, Profile::Typical, 100);
    assert!(seconds.abs_diff(sum + 16 + 10 - 1) <= 1, "{seconds} beside {sum}");
}

/// Common practice, no source: a child of ten writes out four or five stories in 12 minutes.
#[test]
fn a_story_takes_the_writing_of_what_is_known_and_of_the_answer_too() {
    let plain = written(348, 7);
    let Working::Long(long) = plain.working.clone() else { panic!("long") };
    let story = Story {
        know: vec!["348 crates".to_owned(), "7 hooks in each crate".to_owned()],
        need: "how many hooks there are".to_owned(),
        steps: vec!["348 × 7 = 2,436".to_owned()],
        sentence: "There are 2,436 hooks in all.".to_owned(),
        structure: "equal-groups".to_owned(),
        scene: String::new(),
    };
    let mut item = bare(Kind::Story, 348, 7, Working::Story { story, long: Some(long) });
    item.prompt = "A depot has 348 crates. Each crate holds 7 hooks. How many hooks are there in \
                   all the crates of the depot?"
        .to_owned();
    let seconds = item_seconds(&item, Profile::Typical, 100);
    assert!((720 / 6..=720 / 4).contains(&seconds), "{seconds} s");
    // On a slip nothing is noted: 55 letters at 65 a minute.
    assert_eq!(notes_seconds(&item, Profile::Typical, 100), 50);
    assert_eq!(notes_seconds(&plain, Profile::Typical, 100), 0);
}

/// Common practice, no source: a reason on three lines takes a minute or a little more.
#[test]
fn a_reason_takes_the_minute_that_writing_it_takes() {
    let mut item =
        bare(Kind::Reason, 500, 501, Working::Steps { steps: vec!["It is.".to_owned()] });
    item.prompt = "How much more is 500 × 501 than 500 × 500? Do not work out both.".to_owned();
    item.expression = Some("500*501-500*500".to_owned());
    item.space = Space::Lines { count: 3 };
    for (profile, within) in PROFILES.into_iter().zip([75..=95, 60..=75, 55..=70]) {
        let seconds = item_seconds(&item, profile, 100);
        assert!(within.contains(&seconds), "{profile:?}: {seconds} s");
    }
    // Without lines to write on nothing is written.
    item.space = Space::Box;
    assert!(item_seconds(&item, Profile::Typical, 100) <= 25);
}

/// Common practice, no source: a large number in words takes 20 seconds or more.
#[test]
fn a_number_in_words_is_read_twice_or_spelt_out() {
    let mut item = bare(Kind::Words, 1, 1, Working::Steps { steps: vec!["It is.".to_owned()] });
    item.prompt = "Write in words: 40,730".to_owned();
    item.answer = "forty thousand, seven hundred and thirty".to_owned();
    let spelt = item_seconds(&item, Profile::Typical, 100);
    assert!((30..=50).contains(&spelt), "{spelt} s");
    item.prompt = "Write in figures: forty thousand, seven hundred and thirty".to_owned();
    item.answer = "40730".to_owned();
    let figures = item_seconds(&item, Profile::Typical, 100);
    assert!((15..=25).contains(&figures), "{figures} s");
}

#[test]
fn an_estimate_above_a_sum_takes_its_own_time() {
    let plain = item_seconds(&written(6283, 347), Profile::Typical, 100);
    let with = |given| {
        let mut item = written(6283, 347);
        item.space = Space::Squares { columns: 8, rows: 6, given, estimate: true, compare: false };
        item_seconds(&item, Profile::Typical, 100) - plain
    };
    let (one, two) = (with(Given::Nothing), with(Given::AllButLast(1)));
    assert!((5..=20).contains(&one) && two.abs_diff(2 * one) <= 1, "{one} s, {two} s");
}

#[test]
fn a_set_holds_as_many_items_as_its_minutes() {
    // 15 minutes at 45 s: 17 items; at 68 s: 11 items.
    assert_eq!(fitting(15, &[45; 40]), 17);
    assert_eq!(fitting(15, &[68; 40]), 11);
    assert_eq!(fitting(0, &[1]), 0);
}
