//! Choosing sums that tell patterns apart: few are enough, greedy is near the best, and a second
//! check knows the first.

use super::super::*;

#[test]
fn the_chooser_needs_few_sums_to_tell_all_patterns_apart() {
    let names: Vec<&str> = catalogue()
        .iter()
        .filter(|p| matches!(p.family, Family::Row | Family::Long))
        .map(|p| p.name)
        .collect();
    let mut stream = crate::seed::Seed::of("pool").stream();
    let mut number = |digits: u32| {
        let with_zero = stream.chance(35, 100);
        let n = stream.number(10_u64.pow(digits - 1)..=10_u64.pow(digits) - 1);
        if with_zero { n - n / 10 % 10 * 10 } else { n }
    };
    let pool: Vec<Task> = (0..60).map(|_| Task::Written(number(4), number(3))).collect();
    let chosen = choose(&pool, &names, 7);
    assert_eq!(chosen.len(), 7);
    let tasks: Vec<Task> = chosen.iter().map(|&i| pool[i]).collect();
    assert_eq!(tells_apart(&tasks, &names), Apart { alike: Vec::new(), hidden: Vec::new() });
    assert_eq!(choose(&pool, &names, 7), chosen);
    assert!(choose(&[], &names, 3).is_empty());
}

/// Every way to choose four of ten sums, pool after pool: the greedy choice is never worth less
/// than 1 − 1/e of the best, and hardly ever less than all but a few of a hundred.
#[test]
fn the_greedy_choice_is_near_the_best_of_all_choices() {
    let names: Vec<&str> =
        catalogue().iter().filter(|p| p.family == Family::Row).map(|p| p.name).collect();
    let mut stream = crate::seed::Seed::of("small pools").stream();
    let mut least = 100;
    for _ in 0..12 {
        let mut number =
            |digits: u32| stream.number(10_u64.pow(digits - 1)..=10_u64.pow(digits) - 1);
        let pool: Vec<Task> = (0..10).map(|_| Task::Written(number(3), number(1))).collect();
        let of = |chosen: &[usize]| {
            let tasks: Vec<Task> = chosen.iter().map(|&i| pool[i]).collect();
            worth(&tasks, &names)
        };
        let mut best = 0;
        for mask in (0_u32..1 << 10).filter(|mask| mask.count_ones() == 4) {
            let chosen: Vec<usize> = (0..10).filter(|i| mask >> i & 1 == 1).collect();
            best = best.max(of(&chosen));
        }
        let greedy = of(&choose(&pool, &names, 4));
        assert!(greedy <= best && greedy * 1000 >= best * 632, "{greedy} of {best}");
        least = least.min(greedy * 100 / best);
    }
    assert!(least >= 95, "{least} % of the best");
}

/// A second check of a skill is chosen for what the first left untold.
#[test]
fn two_checks_tell_more_together_when_the_second_knows_the_first() {
    let names: Vec<&str> = catalogue()
        .iter()
        .filter(|p| matches!(p.family, Family::Row | Family::Long))
        .map(|p| p.name)
        .collect();
    let mut stream = crate::seed::Seed::of("two checks").stream();
    let mut number = |digits: u32| stream.number(10_u64.pow(digits - 1)..=10_u64.pow(digits) - 1);
    let mut draw = || (0..20).map(|_| Task::Written(number(3), number(2))).collect::<Vec<Task>>();
    let (mut alone, mut knowing) = (0, 0);
    for _ in 0..20 {
        let (one, two) = (draw(), draw());
        let take = |pool: &[Task], chosen: Vec<usize>| -> Vec<Task> {
            chosen.into_iter().map(|i| pool[i]).collect()
        };
        let first = take(&one, choose(&one, &names, 3));
        let worth = |second: Vec<Task>| worth(&[&first[..], &second].concat(), &names);
        alone += worth(take(&two, choose(&two, &names, 3)));
        knowing += worth(take(&two, choose_after(&first, &two, &names, 3)));
    }
    assert!(knowing > alone, "{knowing} against {alone}");
}
