//! How far each pupil has come with each skill: met, practised, checked, secure.
//!
//! One exit check certifies nobody: three of three right pass a pupil who is right 60 % of the time
//! in one case of five. A skill counts as secure after at least four of five right in each of the
//! last two showings, or eight of ten right some time after it was taught (the chances are worked
//! out by the binomial law; the cut scores are common practice, no source).

use chrono::NaiveDate;
use serde::Serialize;

/// How far a pupil has come with a skill.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Stage {
    /// No lesson has had it yet.
    NotMet,
    /// A lesson taught it.
    Met,
    /// It came back in a later lesson.
    Practised,
    /// The pupil has answered questions on it in an exit check or a test.
    Checked,
    /// The pupil has shown it on different days, or long after it was taught.
    Secure,
}

impl Stage {
    /// The stage's name, as JSON and CSV write it.
    pub fn name(self) -> &'static str {
        match self {
            Stage::NotMet => "not-met",
            Stage::Met => "met",
            Stage::Practised => "practised",
            Stage::Checked => "checked",
            Stage::Secure => "secure",
        }
    }
}

/// A pupil's answers to one skill's questions on one day.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct Checked {
    /// The day.
    pub day: NaiveDate,
    /// How many were right.
    pub right: u32,
    /// How many were answered.
    pub of: u32,
}

/// One pupil and one skill.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct PupilProgress {
    /// The pupil's label.
    pub pupil: String,
    /// How far.
    pub stage: Stage,
    /// What was answered, day by day.
    pub checks: Vec<Checked>,
}

/// One skill and all pupils.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SkillProgress {
    /// The skill.
    pub skill: String,
    /// Its title.
    pub title: String,
    /// How many lessons held so far taught it.
    pub met: u32,
    /// In how many later lessons held so far it came back.
    pub practised: u32,
    /// Every pupil, in the class's order.
    pub pupils: Vec<PupilProgress>,
}

/// A class's progress.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Progress {
    /// The pupils' labels, in the class's order.
    pub pupils: Vec<String>,
    /// The skills of the unit, in the ladder's order.
    pub skills: Vec<SkillProgress>,
}

/// A showing holds at least so many answers, of days taken together until there are so many; one
/// less will do where all are right (who is right six times in ten has four of four in 13 of 100
/// cases, and four of five or better in 34: worked out from the binomial distribution).
const SHOWING: u32 = 5;
/// A delayed check holds so many, at least so many of them right.
const DELAYED: (u32, u32) = (8, 10);
/// So many days after the last lesson that taught a skill a check is delayed: key content should
/// come back several weeks later (Pashler et al. 2007); two is the least that can be meant.
const DELAY_DAYS: i64 = 14;

/// Whether what a pupil answered on these days, in order, makes a skill secure. What was shown last
/// counts: an earlier pass is undone by a later failure.
pub fn is_secure(checks: &[Checked], last_taught: Option<NaiveDate>) -> bool {
    let enough = |(right, of): (u32, u32)| right * 5 >= of * 4;
    let mut showings: Vec<(u32, u32)> = Vec::new();
    let mut open = (0, 0);
    // From the last day back, so that the newest answers are never left over.
    for check in checks.iter().rev() {
        open = (open.0 + check.right, open.1 + check.of);
        if open.1 >= SHOWING || (open.1 + 1 == SHOWING && open.0 == open.1) {
            showings.push(std::mem::take(&mut open));
        }
    }
    let twice = matches!(showings[..], [last, before, ..] if enough(last) && enough(before));
    let long_after =
        |c: &&Checked| last_taught.is_some_and(|day| (c.day - day).num_days() >= DELAY_DAYS);
    let late =
        checks.iter().filter(long_after).fold((0, 0), |sum, c| (sum.0 + c.right, sum.1 + c.of));
    let (least, of) = DELAYED;
    twice || (late.1 >= of && late.0 * of >= late.1 * least)
}

/// How far a pupil has come with a skill that so many lessons taught and brought back.
pub fn stage(
    met: u32,
    practised: u32,
    checks: &[Checked],
    last_taught: Option<NaiveDate>,
) -> Stage {
    if is_secure(checks, last_taught) {
        Stage::Secure
    } else if checks.iter().any(|c| c.of > 0) {
        Stage::Checked
    } else if practised > 0 {
        Stage::Practised
    } else if met > 0 {
        Stage::Met
    } else {
        Stage::NotMet
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn day(n: u32) -> NaiveDate {
        NaiveDate::from_ymd_opt(2027, 3, n).expect("a day")
    }

    fn checks(all: &[(u32, u32, u32)]) -> Vec<Checked> {
        all.iter().map(|&(n, right, of)| Checked { day: day(n), right, of }).collect()
    }

    #[test]
    fn a_skill_is_not_secure_on_one_exit_check() {
        let secure = |all: &[(u32, u32, u32)]| is_secure(&checks(all), Some(day(1)));
        assert!(!secure(&[]) && !secure(&[(1, 5, 5)]) && !secure(&[(1, 9, 9)]));
        assert!(secure(&[(1, 4, 5), (2, 4, 5)]));
        assert!(!secure(&[(1, 4, 5), (2, 3, 5)]) && !secure(&[(1, 3, 5), (2, 5, 5)]));
        // Four of four say more than four of five.
        assert!(secure(&[(1, 4, 4), (2, 4, 5)]) && secure(&[(1, 4, 5), (2, 4, 4)]));
        assert!(!secure(&[(1, 3, 4), (2, 4, 4)]) && !secure(&[(1, 4, 4), (1, 4, 4)][..1]));
        // Checks of three are taken together until they hold five.
        assert!(!secure(&[(1, 3, 3), (2, 3, 3), (3, 3, 3)]));
        assert!(secure(&[(1, 3, 3), (2, 3, 3), (3, 3, 3), (4, 3, 3)]));
        assert!(!secure(&[(1, 5, 5), (2, 5, 5), (3, 0, 5)]), "what was shown last counts");
    }

    #[test]
    fn eight_of_ten_two_weeks_later_are_enough() {
        let late = |right, n| is_secure(&checks(&[(n, right, 10)]), Some(day(1)));
        assert!(late(8, 15) && !late(7, 15) && !late(10, 14));
        assert!(!is_secure(&checks(&[(20, 10, 10)]), None));
    }

    #[test]
    fn levels_rise_from_met_to_secure() {
        let none: Vec<Checked> = Vec::new();
        let all = checks(&[(1, 5, 5), (2, 5, 5)]);
        let levels = [
            stage(0, 0, &none, None),
            stage(1, 0, &none, Some(day(1))),
            stage(2, 1, &none, Some(day(1))),
            stage(2, 1, &all[..1], Some(day(1))),
            stage(2, 1, &all, Some(day(1))),
        ];
        assert!(levels.is_sorted() && levels[4] == Stage::Secure);
        assert_eq!(levels.map(Stage::name), ["not-met", "met", "practised", "checked", "secure"]);
    }
}
