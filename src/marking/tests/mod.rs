//! Marking from the file a teacher fills in to what is said of the class.

pub(super) mod class;
mod made_up;
mod pairs;
mod piles;
mod reading;
mod shares;
mod simulation;
mod typing;
mod verdicts;

use crate::calendar::Clock;
use crate::exercise::{Accept, Choice, Item, Kind, Likely, Space, Working};
use crate::lesson::{Heading, Pack, Section, SectionName, TeacherPage};
use crate::method::HouseStyle;
use crate::plan::{LessonKind, PaperSize};

/// An item with nothing but what marking looks at.
pub(super) fn item(id: &str, kind: Kind, expression: Option<&str>, answer: &str) -> Item {
    Item {
        id: id.to_owned(),
        skill: "long-four-by-three".to_owned(),
        kind,
        prompt: String::new(),
        expression: expression.map(str::to_owned),
        answer: answer.to_owned(),
        accept: None,
        choices: Vec::new(),
        figure: None,
        working: Working::Steps { steps: Vec::new() },
        seconds: 60,
        likely: Vec::new(),
        space: Space::Box,
        purpose: String::new(),
    }
}

/// A whole product, or one row of it.
fn product(id: &str, kind: Kind, a: u64, b: u64) -> Item {
    item(id, kind, Some(&format!("{a}*{b}")), &(a * b).to_string())
}

fn section(name: SectionName, items: Vec<Item>) -> Section {
    Section { name, level: None, minutes: 7, items }
}

fn pack_of(sections: Vec<Section>) -> Pack {
    Pack {
        lesson: 7,
        date: chrono::NaiveDate::from_ymd_opt(2027, 3, 8).expect("a day"),
        kind: LessonKind::Teach,
        skill: Some("long-four-by-three".to_owned()),
        part: Some(1),
        minutes: 40,
        version: "A".to_owned(),
        sections,
        draft: false,
        heading: Heading {
            class: "Class 5 Kingfisher".to_owned(),
            school: String::new(),
            pupils: 30,
            starts: Clock::after_midnight(550).expect("a time of day"),
            title: String::new(),
            style: HouseStyle::default(),
            paper: PaperSize::default(),
        },
        teacher: TeacherPage::default(),
        missing: Vec::new(),
        marks: Vec::new(),
        instruction: String::new(),
    }
}

/// An exit check of one whole product and two rows, and a practice item of the same kind.
fn exit_check() -> Pack {
    pack_of(vec![
        section(SectionName::Practice, vec![product("L07-K1", Kind::Written, 8365, 574)]),
        section(
            SectionName::ExitCheck,
            vec![
                product("L07-X1", Kind::Written, 5476, 382),
                product("L07-X2", Kind::Row, 7046, 300),
                product("L07-X3", Kind::Row, 4809, 70),
            ],
        ),
    ])
}

/// An estimate, a choice, a story and a number in words.
fn mixed_check() -> Pack {
    let mut estimate = item("L07-X1", Kind::Estimate, Some("300*50"), "15000");
    estimate.prompt = "312\u{a0}×\u{a0}48".to_owned();
    estimate.accept = Some(Accept::Between { least: "10484".to_owned(), most: "19468".to_owned() });
    let mut choice = item("L07-X2", Kind::Choice, None, "30,14,976");
    let option = |text: &str, pattern: Option<&str>| Choice {
        text: text.to_owned(),
        correct: pattern.is_none(),
        pattern: pattern.map(str::to_owned),
    };
    choice.choices = vec![
        option("69,216", Some("placeholder-left-out")),
        option("4,72,560", Some("hundreds-row-shifted-once")),
        option("30,14,976", None),
        option("3,01,49,760", Some("one-zero-too-many")),
    ];
    let mut story = item("L07-X3", Kind::Story, Some("36*24"), "864");
    story.likely = vec![Likely {
        answer: "60".to_owned(),
        patterns: vec!["all-numbers-added".to_owned()],
        shows: "added everything".to_owned(),
    }];
    let words = item("L07-X4", Kind::Words, None, "three thousand and forty-two");
    pack_of(vec![section(SectionName::ExitCheck, vec![estimate, choice, story, words])])
}
