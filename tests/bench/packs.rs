//! How long a term's packs take, from the plan to the files: `cargo bench --bench packs`.
//!
//! The class is the demo's first, with 32 pupils.

#![allow(missing_docs)] // criterion's macros write functions of their own

#[path = "../pages/kingfisher.rs"]
mod kingfisher;
#[path = "../outside/plain.rs"]
mod plain;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use indexmap::IndexMap;
use kingfisher::Term;
use rungwise::exercise::patterns::all_wrong;
use rungwise::exercise::{Item, verify};
use rungwise::lesson::Pack;
use rungwise::marking::{Answers, mark, marked_items};
use rungwise::method::routes;
use rungwise::paper;
use rungwise::seed::Seed;
use std::hint::black_box;
use std::time::Duration;

/// From the text of the plan to lessons on their days.
fn plans(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("plan");
    group.sample_size(10).measurement_time(Duration::from_secs(5));
    group.bench_function("read and check the plan", |b| b.iter(kingfisher::plan));
    let plan = kingfisher::plan();
    let calendar = kingfisher::calendar(&plan);
    group.bench_function("schedule the term", |b| {
        b.iter(|| kingfisher::scheduled(black_box(&plan), &calendar));
    });
    group.finish();
}

/// Every pack of the term, each item made and checked; and the checking on its own.
fn items(criterion: &mut Criterion) {
    let term = Term::planned();
    let packs = term.packs();
    let items: Vec<&Item> = packs.iter().flat_map(|p| &p.sections).flat_map(|s| &s.items).collect();
    let mut group = criterion.benchmark_group("items");
    group.sample_size(10).measurement_time(Duration::from_secs(10));
    group.throughput(Throughput::Elements(u64::try_from(items.len()).expect("a few thousand")));
    group.bench_function("make and check a term's", |b| b.iter(|| term.packs()));
    group.bench_function("check a term's again", |b| {
        b.iter(|| assert!(items.iter().all(|item| verify(black_box(item)).is_ok())));
    });
    group.finish();
}

/// Plain products of up to four by three digits, each worked, set out as an item and checked.
fn plain_products(criterion: &mut Criterion) {
    const MANY: u64 = 10_000;
    let mut group = criterion.benchmark_group("items");
    group.sample_size(10).throughput(Throughput::Elements(MANY));
    group.bench_function("make and check plain products", |b| {
        b.iter(|| {
            let mut stream = Seed::of("plain products").stream();
            assert!((0..MANY).all(|_| verify(&plain::products(&mut stream)).is_ok()));
        });
    });
    group.finish();
}

/// A class's exit check: half of the pupils right, the others with each item's likely errors.
fn marks(criterion: &mut Criterion) {
    let pack = Term::planned().first_of("long-four-by-three");
    let mut answers = Answers::default();
    for pupil in 0..32 {
        let given = |item: &&Item| {
            let wrong = item.likely.get(pupil / 2 % item.likely.len().max(1));
            let wrong = wrong.filter(|_| pupil % 2 == 1).map(|likely| likely.answer.clone());
            (item.id.clone(), Some(wrong.unwrap_or_else(|| item.answer.clone())))
        };
        let row: IndexMap<_, _> = marked_items(&pack).iter().map(given).collect();
        answers.pupils.insert((pupil + 1).to_string(), row);
    }
    let mut group = criterion.benchmark_group("marking");
    group.sample_size(10).throughput(Throughput::Elements(32));
    group.bench_function("a class of 32", |b| b.iter(|| mark(black_box(&pack), &answers)));
    group.finish();
}

/// Every pack of the term typeset, on one processor.
fn sheets(criterion: &mut Criterion) {
    let packs = Term::planned().packs();
    let print = |pack: &Pack| paper::print(black_box(pack)).expect("it prints").len();
    let pages = |pack: &Pack| paper::sheets(pack).values().map(|s| s.pages.len()).sum::<usize>();
    let files: usize = packs.iter().map(print).sum();
    let pages: usize = packs.iter().map(pages).sum();
    println!("a term: {} packs, {files} files, {pages} pages", packs.len());
    let mut group = criterion.benchmark_group("pages");
    group.sample_size(10).measurement_time(Duration::from_secs(15));
    group.throughput(Throughput::Elements(u64::try_from(pages).expect("a few hundred")));
    group.bench_function("a term laid out", |b| {
        b.iter(|| packs.iter().map(|pack| paper::sheets(black_box(pack)).len()).sum::<usize>());
    });
    group.bench_function("a term laid out and written as PDF", |b| {
        b.iter(|| packs.iter().map(print).sum::<usize>());
    });
    group.finish();
}

/// One product in every way: its wrong answers, and its routes in the head.
fn products(criterion: &mut Criterion) {
    let mut group = criterion.benchmark_group("one product");
    group.bench_function("every wrong answer, 4736 × 208", |b| {
        b.iter(|| all_wrong(black_box(4736), black_box(208)));
    });
    group.bench_function("every route, 48 × 25", |b| {
        b.iter(|| routes(black_box(48), black_box(25)));
    });
    group.finish();
}

criterion_group!(benches, plans, items, plain_products, marks, sheets, products);
criterion_main!(benches);
