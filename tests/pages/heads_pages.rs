//! The head's pages with more on them than any class has.

use crate::rules::last_page;
use rungwise::paper::sheet::{Mark, Sheet};
use rungwise::paper::{
    CoveragePage, Covered, Outcomes, Row, Scheme, Taught, Week, coverage_sheet, scheme_sheet,
};
use rungwise::plan::PaperSize;

const LONG: &str = "Multiply numbers of up to four digits by a number of one or two digits with a \
                    formal written method, and say between which round numbers the product lies";

fn scheme(paper: PaperSize, weeks: usize, outcomes: usize) -> Sheet {
    let taught = |first: u32, skill: bool| Taught {
        what: if skill { LONG.to_owned() } else { "Catch-up".to_owned() },
        skill,
        lessons: (first..first + 9).collect(),
        outcomes: if skill { vec!["Y6-MD-10".to_owned(); 14] } else { Vec::new() },
    };
    let week = |n: usize| Week {
        begins: "30\u{A0}Nov".to_owned(),
        number: (n % 7 != 5).then_some(n),
        taught: if n % 7 == 5 {
            Vec::new()
        } else {
            (0..5).map(|i| taught(100 + i * 9, i != 3)).collect()
        },
        note: if n % 7 == 5 { "half-term: no lessons".to_owned() } else { String::new() },
    };
    scheme_sheet(&Scheme {
        class: "Class 5 Kingfisher".to_owned(),
        school: "Harbour Lane School".to_owned(),
        paper,
        unit: "multiplication".to_owned(),
        term: "11\u{A0}January to 2\u{A0}April\u{A0}2027".to_owned(),
        lessons: 200,
        weeks: (1..=weeks).map(week).collect(),
        frameworks: vec![Outcomes {
            title: "CCSSM".to_owned(),
            outcomes: vec![("CCSS.4.NBT.B.5".to_owned(), LONG.to_owned()); outcomes],
        }],
    })
}

fn coverage(paper: PaperSize, outcomes: usize) -> Sheet {
    let row = Row {
        code: "CCSS.4.NBT.B.5".to_owned(),
        asks: LONG.to_owned(),
        taught: (1..40).collect(),
        to_come: (40..49).collect(),
    };
    let covered = Covered {
        title: "CCSSM".to_owned(),
        outcomes: vec![row; outcomes],
        not_in_this_unit: vec!["CCSS.4.NBT.B.6".to_owned(); 20],
    };
    coverage_sheet(&CoveragePage {
        class: "Class 5 Kingfisher",
        school: "Harbour Lane School",
        paper,
        today: "24\u{A0}February\u{A0}2027",
        frameworks: &[covered.clone(), Covered { outcomes: Vec::new(), ..covered }],
    })
}

/// All of them, on both papers.
pub fn all() -> Vec<Sheet> {
    let papers = [PaperSize::A4, PaperSize::Letter].into_iter();
    papers.flat_map(|p| [scheme(p, 26, 70), coverage(p, 30)]).collect()
}

#[test]
fn the_headings_of_outcomes_stand_over_at_least_one() {
    let mut heads = 0;
    for weeks in 1..=26 {
        for sheet in [scheme(PaperSize::A4, weeks, 14), scheme(PaperSize::Letter, weeks, 14)] {
            for page in &sheet.pages {
                let texts = || {
                    page.marks.iter().filter_map(|m| match m {
                        Mark::Text { text, y, .. } => Some((text.as_str(), *y)),
                        Mark::Line { .. } => None,
                    })
                };
                let Some((_, head)) = texts().find(|(text, _)| *text == "What it asks") else {
                    continue;
                };
                heads += 1;
                let row = texts().any(|(text, y)| text.starts_with("CCSS.") && y > head);
                assert!(row, "{weeks} weeks: a heading without a row");
            }
        }
    }
    assert!(heads >= 52, "{heads}");
}

#[test]
fn the_last_page_of_scheme_and_coverage_is_no_remnant_but_seldom() {
    let (mut sheets, mut short) = (0, 0);
    for paper in [PaperSize::A4, PaperSize::Letter] {
        let schemes = (1..=26).step_by(2).flat_map(|w| [3, 14, 40].map(|o| scheme(paper, w, o)));
        for sheet in schemes.chain((1..=60).step_by(2).map(|outcomes| coverage(paper, outcomes))) {
            let Some(filled) = last_page(&sheet) else { continue };
            sheets += 1;
            short += usize::from(filled < 1.0 / 3.0);
        }
    }
    assert!(sheets > 100 && short * 50 <= sheets, "{short} of {sheets}");
}
