//! How the minutes of a period are shared out.

/// What the parts of a lesson get; together they are the period.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Minutes {
    /// Warm-up.
    pub warm_up: u16,
    /// Examples and guided practice, with the teacher.
    pub together: u16,
    /// Practice, handing out included.
    pub practice: u16,
    /// Exit check.
    pub exit_check: u16,
}

/// Minutes of practice that go on handing out and settling (common practice, no source).
pub const SETTLE: u16 = 2;
/// Minutes of the exit check that go on handing slips out and collecting them (common practice, no
/// source).
pub const COLLECT: u16 = 1;
/// Homework takes at most so many minutes at home (Good & Grouws 1979 report about 15).
pub const HOMEWORK: u16 = 15;

/// Period, warm-up, together, exit check; practice is what is left. 35 to 60 minutes are the usual
/// splits of a lesson plan (common practice, no source; England's daily mathematics lesson of 1999
/// had 5 to 10 minutes of mental work and 10 to 15 of plenary in 50 to 60). Shorter ones keep 5
/// minutes for each end; in longer ones practice grows most.
const SPLITS: [[u16; 4]; 8] = [
    [20, 5, 5, 5],
    [30, 5, 10, 5],
    [35, 5, 12, 6],
    [40, 6, 13, 7],
    [45, 7, 15, 8],
    [60, 9, 20, 10],
    [80, 10, 25, 12],
    [100, 10, 30, 14],
];

impl Minutes {
    /// The split of a period of so many minutes: between two lines of the table in proportion,
    /// beyond its ends practice takes the difference.
    pub fn of(period: u16) -> Minutes {
        let part = |column: usize| {
            let upper = SPLITS.iter().position(|line| line[0] >= period);
            match upper {
                Some(0) => SPLITS[0][column] * period / SPLITS[0][0],
                None => SPLITS[SPLITS.len() - 1][column],
                Some(upper) => between(&SPLITS[upper - 1], &SPLITS[upper], column, period),
            }
        };
        let (warm_up, together, exit_check) = (part(1), part(2), part(3));
        Minutes {
            warm_up,
            together,
            exit_check,
            practice: period.saturating_sub(warm_up + together + exit_check),
        }
    }
}

/// The value of a column between two lines, each column rounded at another place so that not all
/// parts grow at the same minute.
fn between(low: &[u16; 4], high: &[u16; 4], column: usize, period: u16) -> u16 {
    let (span, step) = (high[0] - low[0], period - low[0]);
    let rise = high[column] - low[column];
    let rounding = [0, 0, span / 2, span * 3 / 4][column];
    low[column] + (rise * step + rounding) / span
}

/// The seconds of practice that sums may fill.
pub fn practice_seconds(practice: u16) -> u32 {
    u32::from(practice.saturating_sub(SETTLE).max(1)) * 60
}

/// The seconds of an exit check that its items may fill.
pub fn exit_seconds(exit_check: u16) -> u32 {
    u32::from(exit_check.saturating_sub(COLLECT).max(1)) * 60
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_usual_periods_are_split_as_lesson_plans_split_them() {
        let split = |period| {
            let m = Minutes::of(period);
            [m.warm_up, m.together, m.practice, m.exit_check]
        };
        assert_eq!(split(35), [5, 12, 12, 6]);
        assert_eq!(split(40), [6, 13, 14, 7]);
        assert_eq!(split(45), [7, 15, 15, 8]);
        assert_eq!(split(60), [9, 20, 21, 10]);
    }

    #[test]
    fn the_parts_of_every_period_sum_to_it_and_none_is_too_short() {
        for period in 20..=180 {
            let m = Minutes::of(period);
            assert_eq!(m.warm_up + m.together + m.practice + m.exit_check, period);
            assert!((5..=10).contains(&m.warm_up), "{period}: {m:?}");
            assert!(m.exit_check >= 5 && m.practice > SETTLE + 2, "{period}: {m:?}");
            // At most 23 of 40 minutes with the teacher (Rosenshine, from memory), pro rata.
            assert!(40 * m.together <= 23 * period, "{period}: {m:?}");
        }
    }

    #[test]
    fn a_longer_period_shortens_no_part() {
        for period in 20..180 {
            let (m, n) = (Minutes::of(period), Minutes::of(period + 1));
            assert!(n.warm_up >= m.warm_up && n.together >= m.together, "{period}");
            assert!(n.exit_check >= m.exit_check && n.practice + 1 >= m.practice, "{period}");
        }
    }
}
