//! Terms of full size: 26 skills in k chains, each chain's skills needing the one before.

use super::make::{Make, skill};
use rungwise::curriculum::Skill;
use rungwise::schedule::Proof;

const WEEK: &str =
    "mon 09:10-09:50, tue 09:10-09:50, wed 09:10-09:50, thu 09:10-09:50, fri 09:10-09:40";

pub fn chains(k: usize) -> Vec<Skill> {
    chains_of(26, k)
}

/// So many skills in `k` chains.
pub fn chains_of(count: usize, k: usize) -> Vec<Skill> {
    let one = |i: usize| {
        let needs = if i >= k { format!("x{}", i - k) } else { String::new() };
        let lessons = match i % 5 {
            4 => [2, 3, 4],
            0 | 2 => [1, 1, 2],
            _ => [1, 2, 3],
        };
        let weight = u8::try_from(1 + 7 * i % 5).expect("at most 5");
        skill(&format!("x{i}"), &needs, lessons, weight)
    };
    (0..count).map(one).collect()
}

pub fn plain(k: usize) -> Make {
    Make::term("2027-01-11", "2027-04-02", WEEK, chains(k)).close("2027-02-15", "2027-02-19")
}

pub fn tight(k: usize) -> Make {
    plain(k).close("2027-01-25", "2027-01-27").close("2027-03-08", "2027-03-09")
}

pub fn breaks(k: usize) -> Make {
    let term = Make::term("2027-01-11", "2027-04-08", WEEK, chains(k));
    term.close("2027-02-15", "2027-02-19")
        .close("2027-01-22", "2027-01-25")
        .close("2027-03-05", "2027-03-08")
}

/// A school year of 181 periods, its holidays four long breaks and more.
pub fn year(count: usize, k: usize) -> Make {
    holidays(Make::term("2026-09-01", "2027-07-09", WEEK, chains_of(count, k)))
}

/// Half a year of 102 periods: 60 skills must do with their least or little more.
pub fn half_year(count: usize, k: usize) -> Make {
    holidays(Make::term("2026-09-01", "2027-02-26", WEEK, chains_of(count, k)))
}

fn holidays(made: Make) -> Make {
    made.close("2026-10-19", "2026-10-30")
        .close("2026-12-21", "2027-01-05")
        .close("2027-02-15", "2027-02-19")
        .close("2027-03-22", "2027-04-05")
        .close("2027-05-31", "2027-06-04")
}

/// The optima as they were first worked out by another program.
fn check(made: &Make, periods: usize, optimum: i64) {
    let schedule = made.solved();
    assert_eq!(schedule.periods.len(), periods);
    assert_eq!((schedule.cost.total, schedule.proof), (optimum, Proof::Optimal));
}

#[test]
fn a_plain_term_of_chains_costs_what_it_must() {
    for (k, optimum) in [(3, 10), (5, 20), (7, 30)] {
        check(&plain(k), 55, optimum);
    }
}

#[test]
fn a_tight_term_of_chains_costs_what_it_must() {
    for (k, optimum) in [(3, 3022), (5, 3039), (7, 3037)] {
        check(&tight(k), 50, optimum);
    }
}

#[test]
fn a_term_of_chains_with_breaks_costs_what_it_must() {
    for (k, optimum) in [(3, 19), (5, 28), (7, 30)] {
        check(&breaks(k), 55, optimum);
    }
}

/// Sixty skills: a schedule and a bound whatever the width, and the same each time.
#[test]
fn a_year_and_a_half_year_of_sixty_skills_get_a_schedule_and_a_bound() {
    let year = year(60, 9).solved();
    // Nine chains of which none needs another make eight cuts, and everything else fits.
    assert_eq!((year.periods.len(), year.cost.total), (181, 40), "{:?}", year.cost);
    assert_eq!(year.proof, Proof::Optimal);
    let tight = half_year(60, 5).solved();
    assert_eq!(tight.periods.len(), 102);
    let gap = tight.cost.total - tight.bound;
    assert!(tight.bound >= 19_500 && (0..=40).contains(&gap), "{} {gap}", tight.bound);
}
