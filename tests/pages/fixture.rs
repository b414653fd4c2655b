//! An invented pack, made of the same numbers as the pattern pages.

use chrono::NaiveDate;
use rungwise::calendar::Clock;
use rungwise::exercise::{Accept, Choice, Given, Item, Kind, Likely, Space, Story, Working};
use rungwise::lesson::{
    Copies, Expected, Heading, ItemMarks, Level, Pack, Question, Section, SectionName, Stretch,
    TeacherPage, check_tells,
};
use rungwise::method::{HouseStyle, estimate, grid, long, routes, squares};
use rungwise::number::Grouping;
use rungwise::plan::{LessonKind, PaperSize};

/// How the class of the pattern pages writes.
pub fn indian() -> HouseStyle {
    HouseStyle { grouping: Grouping::Indian, ..HouseStyle::default() }
}

fn item(kind: Kind, prompt: String, working: Working, space: Space) -> Item {
    Item {
        id: String::new(),
        skill: "long-four-by-three".to_owned(),
        kind,
        prompt,
        expression: None,
        answer: String::new(),
        accept: None,
        choices: Vec::new(),
        figure: None,
        working,
        seconds: 60,
        likely: Vec::new(),
        space,
        purpose: String::new(),
    }
}

fn small(n: usize) -> u8 {
    u8::try_from(n).expect("a small number")
}

pub fn product(a: u64, b: u64, style: &HouseStyle) -> String {
    format!("{} × {}", style.number(a), style.number(b))
}

/// A whole product on squares.
pub fn written(a: u64, b: u64, style: &HouseStyle, given: Given, estimate: bool) -> Item {
    let working = long(a, b, style);
    let (columns, rows) = squares(&working, given != Given::Nothing);
    let space = Space::Squares {
        columns: small(columns),
        rows: small(rows),
        given,
        estimate,
        compare: false,
    };
    let mut made = item(Kind::Written, product(a, b, style), Working::Long(working), space);
    made.expression = Some(format!("{a}*{b}"));
    made.answer = (a * b).to_string();
    let likely = |n: u64, shows: &str| Likely {
        answer: n.to_string(),
        patterns: vec!["no-zeros".to_owned()],
        shows: shows.to_owned(),
    };
    made.likely = vec![
        likely(a * (b % 10 + b / 10 % 10 + b / 100), "zeros left out"),
        likely(a * b / 7, "hundreds: one zero"),
        likely(a * b - 1000, "carries not added"),
        likely(a * b - 20_000, "adding carries lost"),
    ];
    made
}

/// A sum in the head, by its cheapest route.
pub fn mental(a: u64, b: u64, style: &HouseStyle) -> Item {
    let route = routes(a, b).into_iter().next().expect("a route");
    let mut made = item(Kind::Mental, product(a, b, style), Working::Route(route), Space::Box);
    made.expression = Some(format!("{a}*{b}"));
    made.answer = (a * b).to_string();
    made
}

/// One row of a product.
pub fn row(a: u64, b: u64, digit: u64, place: u64, style: &HouseStyle) -> Item {
    let prompt = format!("Write only the row × {} of {}.", digit * place, product(a, b, style));
    let working = Working::Long(long(a, digit * place, style));
    let columns = small(squares(&long(a, b, style), false).0);
    let mut made = item(Kind::Row, prompt, working, Space::Strip { columns });
    made.expression = Some(format!("{a}*{}", digit * place));
    made.answer = (a * digit * place).to_string();
    made.likely = vec![Likely {
        answer: (a * digit).to_string(),
        patterns: vec!["no-zeros".to_owned()],
        shows: "zeros left out".to_owned(),
    }];
    made
}

/// A choice with a reason.
pub fn choice(style: &HouseStyle) -> Item {
    let option = |n: u64, pattern: Option<&str>| Choice {
        text: style.number(n),
        correct: pattern.is_none(),
        pattern: pattern.map(str::to_owned),
    };
    let prompt = format!("Which answer can be right for {}?", product(6128, 492, style));
    let working = Working::Estimate(estimate(6128, 492));
    let mut made = item(Kind::Choice, prompt, working, Space::Options { because: true });
    made.choices = vec![
        option(91_920, Some("zeros left out")),
        option(808_896, Some("hundreds row with one zero")),
        option(3_014_976, None),
        option(30_149_760, Some("one zero too many")),
    ];
    made.answer = style.number(3_014_976);
    made
}

/// A story sum.
pub fn story(style: &HouseStyle) -> Item {
    let product_of = long(2365, 148, style);
    let (columns, rows) = squares(&product_of, false);
    let prompt = format!(
        "A boat yard packs {} hooks in a crate. It sends 148 crates to the harbour. How many hooks \
         does it send?",
        style.number(2365)
    );
    let story = Story {
        know: vec![format!("{} hooks in one crate", style.number(2365)), "148 crates".to_owned()],
        need: "the hooks in all".to_owned(),
        steps: vec![format!("{} = {}", product(2365, 148, style), style.number(350_020))],
        sentence: format!("It sends {} hooks.", style.number(350_020)),
        structure: "equal-groups".to_owned(),
        scene: String::new(),
    };
    let working = Working::Story { story, long: Some(product_of) };
    let space = Space::Story { columns: small(columns), rows: small(rows) };
    let mut made = item(Kind::Story, prompt, working, space);
    made.expression = Some("2365*148".to_owned());
    made.answer = "350020".to_owned();
    made
}

/// A grid, as an example or to be filled in.
pub fn on_grid(a: u64, b: u64, style: &HouseStyle, given: Given) -> Item {
    let working = grid(a, b);
    let space =
        Space::Grid { columns: small(working.parts.len()), rows: small(working.rows.len()), given };
    let mut made = item(Kind::Written, product(a, b, style), Working::Grid(working), space);
    made.answer = (a * b).to_string();
    made
}

/// An estimate on a line.
pub fn about(a: u64, b: u64, style: &HouseStyle) -> Item {
    let working = Working::Estimate(estimate(a, b));
    let mut made = item(Kind::Estimate, product(a, b, style), working, Space::Line);
    let between = estimate(a, b).between;
    made.answer = estimate(a, b).value.to_string();
    made.accept =
        Some(Accept::Between { least: between.0.to_string(), most: between.1.to_string() });
    made
}

fn section(name: SectionName, level: Option<Level>, items: Vec<Item>) -> Section {
    Section { name, level, minutes: 10, items }
}

fn warm_up(style: &HouseStyle) -> Vec<Item> {
    vec![
        mental(40, 70, style),
        mental(600, 30, style),
        mental(63, 8, style),
        mental(450, 20, style),
        mental(199, 4, style),
        mental(48, 25, style),
    ]
}

fn sections(style: &HouseStyle) -> Vec<Section> {
    use SectionName::{Examples, ExitCheck, Guided, Homework, Practice, WarmUp};
    let faded = |a, b, n| written(a, b, style, Given::AllButLast(n), true);
    let blank = |a, b, estimate| written(a, b, style, Given::Nothing, estimate);
    vec![
        section(WarmUp, None, warm_up(style)),
        section(
            Examples,
            None,
            vec![
                written(6283, 347, style, Given::All, false),
                written(7046, 308, style, Given::All, false),
                on_grid(6283, 347, style, Given::All),
                mental(36, 199, style),
            ],
        ),
        section(Guided, None, vec![faded(2418, 356, 2)]),
        section(
            Practice,
            Some(Level::Support),
            vec![
                faded(3264, 213, 1),
                faded(4157, 326, 2),
                faded(5382, 143, 3),
                faded(2746, 235, 4),
                faded(1859, 264, 4),
                faded(6075, 128, 4),
            ],
        ),
        section(
            Practice,
            Some(Level::Core),
            vec![
                blank(4739, 286, true),
                blank(8365, 574, true),
                choice(style),
                story(style),
                blank(3908, 467, true),
                blank(7254, 639, true),
                mental(25, 48, style),
                mental(99, 34, style),
            ],
        ),
        section(
            Practice,
            Some(Level::Stretch),
            vec![blank(6947, 587, false), story(style), about(9286, 674, style), choice(style)],
        ),
        section(
            ExitCheck,
            None,
            vec![
                blank(5476, 382, false),
                row(7046, 385, 3, 100, style),
                row(4809, 673, 7, 10, style),
            ],
        ),
        section(Homework, None, warm_up(style)),
    ]
}

fn teacher() -> TeacherPage {
    let texts = |all: &[&str]| all.iter().map(|t| (*t).to_owned()).collect::<Vec<String>>();
    let stretch = |name: &str, short: &str, starts: &str, minutes| Stretch {
        name: name.to_owned(),
        short: short.to_owned(),
        starts: starts.parse().expect("a time"),
        minutes,
    };
    let expected =
        |answer: &str, shows: &str| Expected { answer: answer.to_owned(), shows: shows.to_owned() };
    let question =
        |ask: &str, answer: &str| Question { ask: ask.to_owned(), answer: answer.to_owned() };
    let copies = |code: &str, file: &str, what: &str, count| Copies {
        code: code.to_owned(),
        file: file.to_owned(),
        what: what.to_owned(),
        count,
    };
    TeacherPage {
        objective: "Multiply a four-digit by a three-digit number, with a row for each part."
            .to_owned(),
        meets: texts(&["5.NBT.B.5 (CCSSM).", "Goes beyond Year 6 (England 2013)."]),
        success: texts(&[
            "write a row for the ones, the tens and the hundreds of the lower number;",
            "carry inside each row and begin each row with the right zeros;",
            "say between which two round numbers the answer lies, and check by nines.",
        ]),
        vocabulary: texts(&["factor", "product", "partial product", "place", "carry", "estimate"]),
        builds_on: texts(&[
            "Long: 3 × 3 digits, lessons 32 to 34",
            "Round and estimate, lessons 9 and 11",
        ]),
        say: Vec::new(),
        sheets: Vec::new(),
        resources: texts(&["Number book, pages 48 and 49"]),
        stretches: vec![
            stretch("Warm-up", "Warm-up", "09:10", 6),
            stretch("Examples, together", "Examples", "09:16", 13),
            stretch("Practice", "Practice", "09:29", 14),
            stretch("Exit check", "Exit", "09:43", 7),
        ],
        time_note:
            "One tick is one minute. The 14 minutes of practice hold 12 minutes of sums and \
                    2 for handing out."
                .to_owned(),
        errors_in: "6,283 × 347".to_owned(),
        errors: vec![
            expected("87,962", "no zeros begin the second and third rows"),
            expected("4,83,791", "the row × 300 begins with one zero only"),
            expected("21,55,581", "carried digits are not added"),
            expected("10,78,101", "rows are right; carries are lost when the rows are added"),
        ],
        questions: vec![
            question(
                "How many rows will 2,418 × 356 have, with how many zeros first in each?",
                "three: none, one, two",
            ),
            question("Between which round numbers does it lie?", "6,00,000 and 12,00,000"),
            question("Finish the last two rows of example 1 on your own.", "18,84,900; 21,80,201"),
        ],
        copies: vec![
            copies("L35-Q", "pupil-Q.pdf", "support", 8),
            copies("L35-K", "pupil-K.pdf", "core", 18),
            copies("L35-V", "pupil-V.pdf", "stretch", 6),
            copies("L35-X", "slips.pdf", "exit slips, pages", 8),
        ],
        go_on: 26,
        group: 16,
        check_tells: None,
    }
}

/// Lesson 35, the first on four digits by three.
pub fn pack(style: &HouseStyle, paper: PaperSize) -> Pack {
    let starts: Clock = "09:10".parse().expect("a time");
    let mut pack = Pack {
        lesson: 35,
        date: NaiveDate::from_ymd_opt(2027, 3, 8).expect("a date"),
        kind: LessonKind::Teach,
        skill: Some("long-four-by-three".to_owned()),
        part: Some(1),
        minutes: 40,
        version: "A".to_owned(),
        sections: sections(style),
        draft: false,
        heading: Heading {
            class: "Class 5 Kingfisher".to_owned(),
            school: "Harbour Lane School".to_owned(),
            pupils: 32,
            starts,
            title: "Long multiplication: four digits by three".to_owned(),
            style: style.clone(),
            paper,
        },
        teacher: teacher(),
        missing: Vec::new(),
        marks: Vec::new(),
        instruction: String::new(),
    };
    number(&mut pack);
    let check = pack.named(SectionName::ExitCheck).flat_map(|s| &s.items);
    let tells = check_tells(&check.collect::<Vec<_>>(), &pack.sections, style);
    pack.teacher.check_tells = Some(tells);
    pack
}

fn number(pack: &mut Pack) {
    for section in &mut pack.sections {
        let letter = match (section.name, section.level) {
            (SectionName::WarmUp, _) => "W",
            (SectionName::Examples, _) => "E",
            (SectionName::Guided, _) => "G",
            (SectionName::Practice, Some(Level::Support)) => "Q",
            (SectionName::Practice, Some(Level::Core)) => "K",
            (SectionName::Practice, _) => "V",
            (SectionName::ExitCheck, _) => "X",
            (SectionName::Homework, _) => "H",
            (SectionName::Test, _) => "T",
        };
        for (index, item) in section.items.iter_mut().enumerate() {
            item.id = format!("L35-{letter}{}", index + 1);
        }
    }
}

/// The unit test: sums of several kinds on one paper.
pub fn test_pack(style: &HouseStyle, paper: PaperSize) -> Pack {
    let mut pack = pack(style, paper);
    pack.lesson = 47;
    pack.kind = LessonKind::UnitTest;
    pack.heading.title = "Unit test: multiplication".to_owned();
    pack.teacher = TeacherPage { stretches: Vec::new(), check_tells: None, ..pack.teacher };
    let mut items = warm_up(style);
    items.push(written(638, 47, style, Given::Nothing, false));
    items.push(written(5209, 386, style, Given::Nothing, false));
    items.push(about(4812, 296, style));
    items.push(choice(style));
    items.push(story(style));
    pack.sections = vec![section(SectionName::Test, None, items)];
    number(&mut pack);
    pack.marks = pack.sections[0]
        .items
        .iter()
        .map(|item| ItemMarks {
            item: item.id.clone(),
            marks: 2,
            for_what: vec!["row × 40 right".to_owned(), "answer".to_owned()],
        })
        .collect();
    pack
}

/// Numbers as large as any sum may have, wherever a written sum stands.
pub fn large_pack(style: &HouseStyle, paper: PaperSize) -> Pack {
    let mut pack = pack(style, paper);
    for section in &mut pack.sections {
        for item in &mut section.items {
            match item.space {
                Space::Squares { given, estimate, .. } => {
                    *item = written(987_654, 876_549, style, given, estimate);
                }
                Space::Strip { .. } => *item = row(987_654, 876_549, 8, 100_000, style),
                Space::Grid { given, .. } => *item = on_grid(98_765, 9876, style, given),
                _ => {}
            }
        }
    }
    number(&mut pack);
    pack
}
