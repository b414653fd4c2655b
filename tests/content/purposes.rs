//! What the numbers of a term show, taken together: every mental route, digits and sizes spread,
//! and a second version of each check that is as hard and tells as much as the first.

use crate::terms::{Term, items, second_versions, terms};
use rungwise::exercise::patterns::{Task, worth};
use rungwise::exercise::{Item, Kind, Working};
use rungwise::lesson::{Level, Pack, SectionName};
use rungwise::method::{Route, RouteKind, routes};
use rungwise::plan::LessonKind;

use std::collections::{BTreeMap, BTreeSet};

/// What a pupil of a level has in a term.
fn of_level(term: &Term, level: Level) -> impl Iterator<Item = (SectionName, &Item)> {
    let sections = term.packs.iter().flat_map(|p| &p.sections);
    let theirs = sections.filter(move |s| s.level.is_none_or(|l| l == level));
    theirs.flat_map(|s| s.items.iter().map(|item| (s.name, item)))
}

fn route(item: &Item) -> Option<RouteKind> {
    match &item.working {
        Working::Route(route) if item.kind == Kind::Mental => Some(route.name),
        _ => None,
    }
}

#[test]
fn a_term_takes_every_route_and_warm_ups_bring_all_of_them_back() {
    use RouteKind::{Adjusting, Doubling, DoublingHalving, Fact, Factors, Parts, Shift, Splitting};
    let all = [Fact, Shift, Splitting, Adjusting, DoublingHalving, Parts, Factors, Doubling];
    for term in terms() {
        for level in [Level::Support, Level::Core, Level::Stretch] {
            let mut met: BTreeMap<RouteKind, usize> = BTreeMap::new();
            let mut warm_ups = 0;
            for (section, kind) in of_level(term, level).filter_map(|(s, i)| Some((s, route(i)?))) {
                *met.entry(kind).or_default() += 1;
                warm_ups += usize::from(section == SectionName::WarmUp);
            }
            let missing: Vec<_> = all.iter().filter(|kind| !met.contains_key(kind)).collect();
            assert!(missing.is_empty(), "{level:?}: {missing:?} of {met:?}");
            // No other section but practice, which has many times the minutes, has more of them.
            assert!(warm_ups > 200, "{level:?}: {warm_ups}");
        }
        let again: BTreeSet<RouteKind> = term
            .packs
            .iter()
            .flat_map(|p| &p.sections)
            .filter(|s| s.name == SectionName::WarmUp)
            .flat_map(|s| &s.items)
            .filter_map(route)
            .collect();
        assert_eq!(again.len(), all.len(), "{again:?}");
    }
}

/// In its own lessons a way for the head is practised; afterwards it lives in the warm-ups.
#[test]
fn in_lessons_on_other_skills_no_section_has_as_many_sums_for_the_head_as_the_warm_up() {
    for term in terms() {
        for level in [Level::Support, Level::Core, Level::Stretch] {
            let mut met: BTreeMap<SectionName, usize> = BTreeMap::new();
            for pack in term.packs.iter().filter(|p| p.kind == LessonKind::Teach) {
                let theirs = pack.sections.iter().filter(|s| s.level.is_none_or(|l| l == level));
                for section in theirs {
                    let other =
                        |i: &&Item| route(i).is_some() && Some(&i.skill) != pack.skill.as_ref();
                    *met.entry(section.name).or_default() +=
                        section.items.iter().filter(other).count();
                }
            }
            let warm_ups = met[&SectionName::WarmUp];
            let most = met.iter().filter(|(name, _)| **name != SectionName::WarmUp);
            let most = most.map(|(_, count)| *count).max().unwrap_or(0);
            assert!(
                warm_ups > 180 && warm_ups * 2 >= most * 2 + warm_ups / 2,
                "{level:?}: {met:?}"
            );
        }
    }
}

/// Every other way costs at least 15 per cent more. Three things are known beforehand: facts are
/// facts; doubling and halving is a splitting into factors, which it need only not exceed; and where
/// the fact inside ends in a zero, as in 50 × 8, the sum is set for that trap and says so.
#[test]
fn a_sum_for_the_head_is_set_for_its_quickest_way() {
    let inside = |n: u64| n.to_string().trim_end_matches('0').parse::<u64>().unwrap_or(0);
    let (mut slower, mut traps, mut seen) = (Vec::new(), 0, 0);
    for item in terms().iter().flat_map(|t| t.packs.iter().flat_map(items)) {
        let (Some(kind), Some((a, b))) = (route(item), item.factors()) else { continue };
        seen += 1;
        if kind == RouteKind::Fact {
            continue;
        }
        if kind == RouteKind::Shift && (inside(a) * inside(b)).is_multiple_of(10) {
            assert_eq!(item.purpose, "a zero of the fact’s own", "{}", item.id);
            traps += 1;
            continue;
        }
        let akin = |other: RouteKind| {
            use RouteKind::{DoublingHalving, Factors};
            kind == DoublingHalving && other == Factors
        };
        let margin = |other: RouteKind| if akin(other) { 100 } else { 115 };
        let all = routes(a, b);
        let own = all.iter().filter(|r| r.is(kind)).map(|r| r.cost).min().unwrap_or(u32::MAX);
        let beats = |r: &Route| r.is(kind) || r.cost * 100 >= own.saturating_mul(margin(r.name));
        if !all.iter().all(beats) {
            slower.push(format!("{}: {} by {kind:?}: {:?}", item.id, item.prompt, all[0].name));
        }
    }
    assert!(slower.is_empty(), "{} of {seen}: {slower:#?}", slower.len());
    assert!(seen > 1000 && traps * 12 <= seen, "{traps} traps of {seen}");
}

/// Of the digits of written products 2, 3, 4, 6, 7, 8 and 9 each have between 7 and 18 in a
/// hundred, above and below; 0 and 1, which make work easy, and 5, which the head likes, have less.
#[test]
fn the_digits_of_written_products_are_spread() {
    for term in terms() {
        for level in [Level::Support, Level::Core, Level::Stretch] {
            let mut counts = [[0_usize; 10]; 2];
            let mut sizes: BTreeMap<(usize, usize), usize> = BTreeMap::new();
            for (_, item) in of_level(term, level).filter(|(_, i)| i.kind == Kind::Written) {
                let (a, b) = item.factors().expect("a product");
                let numbers = [a.max(b).to_string(), a.min(b).to_string()];
                for (count, number) in counts.iter_mut().zip(&numbers) {
                    number.bytes().for_each(|d| count[usize::from(d - b'0')] += 1);
                }
                *sizes.entry((numbers[0].len(), numbers[1].len())).or_default() += 1;
            }
            for count in counts {
                let all: usize = count.iter().sum();
                let share = |digit: usize| count[digit] * 100 / all;
                for digit in [2, 3, 4, 6, 7, 8, 9] {
                    let percent = share(digit);
                    assert!((7..=18).contains(&percent), "{level:?}: {digit} has {percent} %");
                }
                assert!(share(0) <= 10 && share(1) <= 13 && (5..=12).contains(&share(5)));
            }
            let most = sizes.values().max().expect("sizes");
            let all: usize = sizes.values().sum();
            assert!(sizes.len() >= 8 && most * 3 < all, "{sizes:?}");
        }
    }
}

/// Of a pupil's sums for the head outside the lessons that teach their way, warm-ups have more than
/// all other sections together but practice, and seven for every ten of practice, which has many times
/// the minutes.
#[test]
fn ways_in_the_head_come_back_most_in_warm_ups() {
    for term in terms() {
        for level in [Level::Support, Level::Core, Level::Stretch] {
            let mut met: BTreeMap<String, usize> = BTreeMap::new();
            for pack in &term.packs {
                let theirs = pack.sections.iter().filter(|s| s.level.is_none_or(|l| l == level));
                for section in theirs {
                    let back = |i: &&Item| Some(&i.skill) != pack.skill.as_ref();
                    let count = section.items.iter().filter(back).filter_map(route).count();
                    *met.entry(format!("{:?}", section.name)).or_default() += count;
                }
            }
            let (warm_up, practice) = (met["WarmUp"], met["Practice"]);
            let rest = met.values().sum::<usize>() - warm_up - practice;
            assert!(warm_up > rest && warm_up * 10 >= practice * 7, "{level:?}: {met:?}");
        }
    }
}

/// Carries inside the rows of a product, the leading digit of each row not counted.
fn carries(item: &Item) -> usize {
    let (a, b) = item.factors().expect("a product");
    let (a, b) = if a.to_string().len() < b.to_string().len() { (b, a) } else { (a, b) };
    let row = |digit: u32| {
        let (mut carry, mut found) = (0, Vec::new());
        for top in a.to_string().chars().rev().filter_map(|c| c.to_digit(10)) {
            carry = (top * digit + carry) / 10;
            found.push(carry > 0);
        }
        found.iter().rev().skip(1).filter(|c| **c).count()
    };
    b.to_string().chars().filter_map(|c| c.to_digit(10)).map(row).sum()
}

/// From three digits by one on, no number of carries has more than three in five of a size's
/// products, and sums without any carry in a row stay below one in five. (Two digits by two have
/// room for two carries, and mostly have both.)
#[test]
fn the_carries_of_written_products_are_spread() {
    for term in terms() {
        let mut sizes: BTreeMap<(usize, usize), BTreeMap<usize, usize>> = BTreeMap::new();
        let items = term.packs.iter().flat_map(items).filter(|i| i.kind == Kind::Written);
        for item in items.filter(|i| i.factors().is_some()) {
            let (a, b) = item.factors().expect("a product");
            let long = (a.max(b).to_string().len(), a.min(b).to_string().len());
            if long.0 > 2 {
                *sizes.entry(long).or_default().entry(carries(item)).or_default() += 1;
            }
        }
        assert!(sizes.len() >= 6, "{sizes:?}");
        for (size, spread) in sizes {
            let all: usize = spread.values().sum();
            let most = spread.values().max().expect("products");
            let none = spread.get(&0).copied().unwrap_or(0);
            assert!(most * 5 <= all * 3 && none * 5 <= all, "{size:?}: {spread:?}");
        }
    }
}

fn check(pack: &Pack) -> Vec<&Item> {
    let checks = [SectionName::ExitCheck, SectionName::Test];
    let section = pack.sections.iter().find(|s| checks.contains(&s.name));
    section.map_or(Vec::new(), |s| s.items.iter().collect())
}

#[test]
fn the_second_version_of_a_check_is_as_hard_and_tells_as_much() {
    let (mut checks, mut unlike) = (0_usize, Vec::new());
    let (mut time, mut tells) = ([0_u32; 2], [0_usize; 2]);
    for (first, second) in second_versions() {
        let (a, b) = (check(first), check(second));
        if a.is_empty() {
            continue;
        }
        checks += 1;
        let kinds = |items: &[&Item]| items.iter().map(|i| i.kind).collect::<Vec<_>>();
        assert_eq!(kinds(&a), kinds(&b), "L{:02}", first.lesson);
        let seconds = [&a, &b].map(|items| items.iter().map(|i| i.seconds).sum::<u32>());
        if seconds[0].abs_diff(seconds[1]) * 100 > seconds[0] * 15 {
            unlike.push(format!("L{:02}: {seconds:?}", first.lesson));
        }
        let names: BTreeSet<&str> = a
            .iter()
            .flat_map(|i| &i.likely)
            .flat_map(|l| &l.patterns)
            .map(String::as_str)
            .collect();
        let names: Vec<&str> = names.into_iter().collect();
        let told = [&a, &b].map(|items| {
            let tasks: Vec<Task> = items.iter().filter_map(|i| Task::of(i)).collect();
            worth(&tasks, &names)
        });
        for version in 0..2 {
            time[version] += seconds[version];
            tells[version] += told[version];
        }
    }
    println!(
        "{checks} checks; seconds {time:?}, worth {tells:?}; more than 15 % apart: {unlike:?}"
    );
    assert!(checks > 50, "{checks}");
    assert!(unlike.is_empty(), "{unlike:?}");
    assert!(time[0].abs_diff(time[1]) * 100 <= time[0], "{time:?}");
    assert!(tells[0].abs_diff(tells[1]) * 100 <= tells[0] * 8, "{tells:?}");
}

#[test]
fn no_two_items_of_a_second_version_are_alike() {
    for (_, second) in second_versions() {
        let ids: BTreeSet<&str> = items(second).map(|i| i.id.as_str()).collect();
        assert_eq!(ids.len(), items(second).count());
    }
}
