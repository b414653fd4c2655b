//! How long the scheduler takes over the width of the ladder, the tightness of the term and its
//! breaks: `cargo bench --bench schedule`.

#![allow(clippy::disallowed_methods)] // a bench may read files
#![allow(missing_docs)] // criterion's macros write functions of their own

#[path = "../schedule/chains.rs"]
#[allow(dead_code, unused_imports)] // its tests are not built here
mod chains;
#[path = "../schedule/from_files.rs"]
#[allow(dead_code, unused_imports)] // its tests are not built here
mod from_files;
#[path = "../schedule/make.rs"]
#[allow(dead_code, unused_imports)] // its tests are not built here
mod make;

use criterion::{BenchmarkId, Criterion, criterion_group, criterion_main};
use make::Make;
use rungwise::calendar::Calendar;
use rungwise::plan::Plan;
use rungwise::schedule::{Outcome, Standing, solve, solve_again, why};
use std::hint::black_box;
use std::time::Duration;

/// A term's name and what makes it.
type Shape = (&'static str, fn(usize) -> Make);

fn solved(plan: &Plan, calendar: &Calendar) -> i64 {
    match solve(black_box(plan), black_box(calendar)) {
        Ok(Outcome::Fits(schedule)) => schedule.cost.total,
        other => panic!("{other:?}"),
    }
}

fn first_schedules(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("first schedule");
    group
        .sample_size(10)
        .measurement_time(Duration::from_secs(2))
        .warm_up_time(Duration::from_millis(300));
    let shapes: [Shape; 3] =
        [("plain", chains::plain), ("tight", chains::tight), ("breaks", chains::breaks)];
    for (name, made) in shapes {
        for k in [3, 5, 6, 7] {
            let made = made(k);
            let calendar = made.calendar();
            group.bench_function(BenchmarkId::new(format!("{name}, chains"), k), |b| {
                b.iter(|| solved(&made.plan, &calendar));
            });
        }
    }
    for letter in ["a", "b"] {
        for (name, plan) in ladder_terms(letter) {
            let calendar = from_files::calendar(&plan);
            group.bench_function(BenchmarkId::new(name, letter), |b| {
                b.iter(|| solved(&plan, &calendar));
            });
        }
    }
    group.finish();
}

/// Growth over the ladder's width, the number of periods and skills, breaks and tightness.
fn growth(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("growth");
    group
        .sample_size(10)
        .measurement_time(Duration::from_secs(2))
        .warm_up_time(Duration::from_millis(300));
    for k in [2, 3, 5, 9] {
        let shapes = [
            ("26 skills, a term, width", chains::plain(k)),
            ("26 skills, a tight term, width", chains::tight(k)),
            ("26 skills, a year, width", chains::year(26, k)),
            ("60 skills, a year, width", chains::year(60, k)),
            ("60 skills, a tight half-year, width", chains::half_year(60, k)),
        ];
        for (name, made) in shapes {
            let calendar = made.calendar();
            group.bench_function(BenchmarkId::new(name, k), |b| {
                b.iter(|| solved(&made.plan, &calendar));
            });
        }
    }
    let closed = [
        ("2027-01-22", "2027-01-25"),
        ("2027-03-05", "2027-03-08"),
        ("2027-02-03", "2027-02-06"),
        ("2027-03-18", "2027-03-21"),
    ];
    for breaks in 0..=closed.len() {
        let mut made = chains::plain(5);
        for (from, to) in &closed[..breaks] {
            made = made.close(from, to);
        }
        // Two weeks more at the end, so that it stays a question of breaks and not of room.
        made.plan.term.ends = make::day("2027-04-02") + chrono::Days::new(14);
        let calendar = made.calendar();
        group.bench_function(BenchmarkId::new("26 skills, breaks more", breaks), |b| {
            b.iter(|| solved(&made.plan, &calendar));
        });
    }
    group.finish();
}

/// The plain term of a ladder file, one with two weeks more, and one that is some lessons short.
fn ladder_terms(letter: &str) -> Vec<(&'static str, Plan)> {
    let plain = from_files::read(letter);
    let mut loose = plain.clone();
    loose.term.ends = make::day("2027-04-20");
    let closed = |days: [(&str, &str); 2]| {
        let mut plan = plain.clone();
        for (from, to) in days {
            let days = rungwise::calendar::Closing::days(make::day(from), make::day(to), "closed");
            plan.closings.push(days);
        }
        plan
    };
    let tight = closed([("2027-01-25", "2027-01-27"), ("2027-03-08", "2027-03-09")]);
    let mut breaks = closed([("2027-01-22", "2027-01-25"), ("2027-03-05", "2027-03-08")]);
    breaks.term.ends = make::day("2027-04-08");
    vec![
        ("plain, ladder", plain),
        ("loose, ladder", loose),
        ("tight, ladder", tight),
        ("breaks, ladder", breaks),
    ]
}

/// A day is lost in the middle of the term.
fn lost_day(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("a day lost");
    group
        .sample_size(10)
        .measurement_time(Duration::from_secs(2))
        .warm_up_time(Duration::from_millis(300));
    for (name, today, closed) in
        [("early", "2027-01-19", "2027-01-20"), ("middle", "2027-02-24", "2027-03-02")]
    {
        let plan = from_files::read("a");
        let old = from_files::solved(&plan);
        let today = make::day(today);
        let standing = Standing {
            today,
            taught: old.lessons.iter().filter(|l| l.date < today).map(|l| l.number).collect(),
            printed: vec![],
            lost: vec![],
            next_number: 56,
            old: old.lessons,
        };
        let mut again = plan.clone();
        let closed = make::day(closed);
        again.closings.push(rungwise::calendar::Closing::days(closed, closed, "closed"));
        let calendar = from_files::calendar(&again);
        group.bench_function(name, |b| {
            b.iter(|| solve_again(black_box(&again), &calendar, &standing).expect("no fault"));
        });
    }
    group.finish();
}

/// Why a lesson in the middle of the term is where it is.
fn reasons(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("why");
    group
        .sample_size(10)
        .measurement_time(Duration::from_secs(3))
        .warm_up_time(Duration::from_millis(300));
    for letter in ["a", "b"] {
        let plan = from_files::read(letter);
        let schedule = from_files::solved(&plan);
        let calendar = from_files::calendar(&plan);
        group.bench_function(letter, |b| {
            b.iter(|| why(&plan, &calendar, None, black_box(&schedule), 28).expect("no fault"));
        });
    }
    group.finish();
}

criterion_group!(benches, first_schedules, growth, lost_day, reasons);
criterion_main!(benches);
