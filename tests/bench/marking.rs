//! How long it takes to mark a class: `cargo bench --bench marking`.
//!
//! Forty pupils and eight written sums of four digits by three, with every single pattern, every
//! single fact and the likeliest patterns two at a time; with a check written before beside it.

#![allow(missing_docs)] // criterion's macros write functions of their own

#[path = "../pages/kingfisher.rs"]
#[allow(dead_code)] // the bench of packs uses the rest
mod kingfisher;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use indexmap::IndexMap;
use kingfisher::Term;
use rungwise::exercise::{Item, Kind};
use rungwise::lesson::{Pack, SectionName};
use rungwise::marking::{Answers, Model, mark, mark_after, marked_items, read_answers};
use rungwise::report::{Report, Source};
use std::hint::black_box;
use std::time::Duration;

/// A pack whose exit check is eight whole products of its lesson.
fn eight_sums() -> Pack {
    let mut pack = Term::planned().first_of("long-four-by-three");
    let written = |item: &&Item| item.kind == Kind::Written;
    let all = pack.sections.iter().flat_map(|s| &s.items).filter(written);
    let items: Vec<Item> = all.take(8).cloned().collect();
    assert_eq!(items.len(), 8, "a lesson has eight written sums");
    pack.sections.retain(|s| s.name != SectionName::ExitCheck);
    let practice = pack.sections.iter().find(|s| s.name == SectionName::Practice);
    let check = practice.cloned().expect("practice");
    pack.sections.push(rungwise::lesson::Section {
        name: SectionName::ExitCheck,
        level: None,
        items,
        ..check
    });
    pack
}

/// A third all right, a third with one mistake throughout, a third with two kinds and a slip.
fn forty(pack: &Pack) -> Answers {
    let mut answers = Answers::default();
    for pupil in 0..40_usize {
        let given = |(n, item): (usize, &&Item)| {
            let wrong = |k: usize| item.likely.get(k).map(|l| l.answer.clone());
            let answer = match (pupil % 3, n % 3) {
                (1, _) => wrong(pupil % 4),
                (2, 0) => wrong(0),
                (2, 1) => wrong(2),
                (2, _) if n == 2 => Some("7".to_owned()),
                _ => None,
            };
            (item.id.clone(), Some(answer.unwrap_or_else(|| item.answer.clone())))
        };
        let row: IndexMap<_, _> = marked_items(pack).iter().enumerate().map(given).collect();
        answers.pupils.insert((pupil + 1).to_string(), row);
    }
    answers
}

fn classes(criterion: &mut Criterion) {
    let pack = eight_sums();
    let answers = forty(&pack);
    let earlier = [(pack.clone(), answers.clone())];
    let model = Model::default();
    let mut group = criterion.benchmark_group("marking");
    group
        .sample_size(20)
        .measurement_time(Duration::from_secs(4))
        .throughput(Throughput::Elements(40));
    group.bench_function("40 pupils, 8 sums", |b| b.iter(|| mark(black_box(&pack), &answers)));
    group.bench_function("40 pupils, 8 sums, a check before", |b| {
        b.iter(|| mark_after(black_box(&pack), &answers, &earlier, &model));
    });
    group.finish();
}

fn files(criterion: &mut Criterion) {
    let pack = eight_sums();
    let ids: Vec<&str> = marked_items(&pack).iter().map(|i| i.id.as_str()).collect();
    let mut text = format!("pupil,{}\n", ids.join(","));
    for n in 0..5000 {
        text += &format!("P{n},{}\n", vec!["2091832"; ids.len()].join(","));
    }
    let source = Source::shared("answers.csv", text);
    let mut group = criterion.benchmark_group("reading");
    group.sample_size(10).throughput(Throughput::Elements(5000));
    group.bench_function("a file of 5,000 rows", |b| {
        b.iter(|| read_answers(black_box(&source), &pack, &mut Report::new()));
    });
    group.finish();
}

criterion_group!(benches, classes, files);
criterion_main!(benches);
