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
    };
    let mut item = bare(Kind::Story, 2365, 148, Working::Story { story, long: Some(long) });
    item.prompt = text.to_owned();
    let seconds = item_seconds(&item, Profile::Typical, 100);
    // 16 words read twice at 120 a minute are 16 s, and 10 s to choose; a sum takes 1.5 s to read.
    let sum = item_seconds(&plain, Profile::Typical, 100);
    assert!(seconds.abs_diff(sum + 16 + 10 - 1) <= 1, "{seconds} beside {sum}");
}

#[test]
fn a_set_holds_as_many_items_as_its_minutes() {
    // 15 minutes at 45 s: 17 items; at 68 s: 11 items.
    assert_eq!(fitting(15, &[45; 40]), 17);
    assert_eq!(fitting(15, &[68; 40]), 11);
    assert_eq!(fitting(0, &[1]), 0);
}
