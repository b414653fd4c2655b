//! The pages that marking leads to: a group's sheet, its key, and the progress page.

use crate::fixture::{indian, pack};
use crate::rules::last_page;
use chrono::NaiveDate;
use rungwise::exercise::{Given, Item, Kind, Likely, Space};
use rungwise::lesson::{
    Checked, GroupSheet, Level, Pack, Progress, PupilProgress, SectionName, SheetFor,
    SkillProgress, Stage,
};
use rungwise::paper::sheet::{Mark, Sheet};
use rungwise::paper::{ProgressPage, group_sheets, progress_sheet, sheets};
use rungwise::plan::PaperSize;

/// A group of five, of the fixture's own sums; for who was absent without a pattern.
fn group(paper: PaperSize, pattern: Option<&str>) -> GroupSheet {
    let mut pack = pack(&indian(), paper);
    pack.sections.retain(|s| match s.name {
        SectionName::Examples => true,
        SectionName::Practice => s.level == Some(Level::Support),
        _ => false,
    });
    pack.sections.iter_mut().for_each(|s| s.items.truncate(if s.level.is_some() { 2 } else { 1 }));
    GroupSheet {
        group: if pattern.is_some() { "1" } else { "absent" }.to_owned(),
        pattern: pattern.map(str::to_owned),
        also: None,
        one_of: Vec::new(),
        perhaps: false,
        apart: 0,
        sort_by: Vec::new(),
        skill: "long-four-by-three".to_owned(),
        pupils: 5,
        pack,
    }
}

fn progress(pupils: usize, skills: usize, named: bool) -> Progress {
    let label = |n: usize| {
        if named { format!("Maximiliana Featherstonehaugh-Okonkwo {n}") } else { n.to_string() }
    };
    let pupils: Vec<String> = (1..=pupils).map(label).collect();
    let stages = [Stage::Met, Stage::Practised, Stage::Checked, Stage::Secure];
    let day = NaiveDate::from_ymd_opt(2027, 3, 8).expect("a day");
    let skill = |n: usize| SkillProgress {
        skill: format!("skill-{n}"),
        title: format!("Long multiplication: a skill with a rather long title, number {n}"),
        met: 2,
        practised: 5,
        pupils: pupils
            .iter()
            .enumerate()
            .map(|(at, pupil)| PupilProgress {
                pupil: pupil.clone(),
                stage: stages[(at + n) % 4],
                checks: vec![Checked { day, right: 3, of: 4 }],
            })
            .collect(),
    };
    Progress { skills: (1..=skills).map(skill).collect(), pupils }
}

fn progress_page(paper: PaperSize, (pupils, skills): (usize, usize), named: bool) -> Sheet {
    let progress = progress(pupils, skills, named);
    progress_sheet(&ProgressPage {
        class: "Class 5 Kingfisher",
        school: "Harbour Lane School",
        paper,
        today: NaiveDate::from_ymd_opt(2027, 3, 8).expect("a day"),
        progress: &progress,
    })
}

/// Every kind of these pages on both papers, for the rules that hold on all.
pub fn all() -> Vec<Sheet> {
    let mut sheets = Vec::new();
    for paper in [PaperSize::A4, PaperSize::Letter] {
        for pattern in [Some("placeholder-left-out"), Some("fact-7x8"), None] {
            sheets.extend(group_sheets(&group(paper, pattern)));
        }
        sheets.push(progress_page(paper, (32, 18), false));
        sheets.push(progress_page(paper, (60, 18), true));
        sheets.push(progress_page(paper, (0, 18), false));
    }
    sheets
}

#[test]
fn the_pages_of_a_group_and_of_progress_are_those_that_were_looked_at() {
    let [sheet, key] = group_sheets(&group(PaperSize::A4, Some("placeholder-left-out")));
    insta::assert_snapshot!("group", sheet.dump());
    insta::assert_snapshot!("group-key", key.dump());
    insta::assert_snapshot!("progress", progress_page(PaperSize::A4, (8, 18), false).dump());
}

/// All that a sheet says, its lines run together.
pub fn words(sheet: &Sheet) -> String {
    let marks = sheet.pages.iter().flat_map(|page| &page.marks);
    let texts = marks.filter_map(|mark| match mark {
        Mark::Text { text, .. } => Some(text.replace('\u{a0}', " ")),
        Mark::Line { .. } => None,
    });
    texts.collect::<Vec<_>>().join(" ")
}

/// The key of a group with two mistakes says both and how to teach each; the pupils' page neither.
#[test]
fn a_key_for_two_mistakes_at_once_says_both() {
    let mut group = group(PaperSize::A4, Some("placeholder-left-out"));
    group.also = Some("carry-not-added".to_owned());
    let [sheet, key] = group_sheets(&group).map(|sheet| words(&sheet));
    for said in ["and beside it", "rows lack their zeros", "Beside it, carried digits are not"] {
        assert!(key.contains(said), "{said}: {key}");
        assert!(!sheet.contains(said), "{said}");
    }
}

#[test]
fn a_groups_sheet_names_no_mistake_and_its_key_says_it_is_a_hint() {
    let [sheet, key] = group_sheets(&group(PaperSize::A4, Some("placeholder-left-out")));
    assert_eq!(sheet.pages.len(), 1, "one page");
    let (sheet, key) = (sheet.dump(), words(&key));
    assert!(!sheet.contains("lack their zeros") && !sheet.contains("pattern"), "{sheet}");
    assert!(
        key.contains("never a diagnosis of a child") && key.contains("Model: an area grid"),
        "{key}"
    );
}

/// Who was absent: the key says what stands on the sheet, worked, begun and to do.
#[test]
fn the_key_for_who_was_absent_says_what_is_there() {
    let mut group = group(PaperSize::A4, None);
    let practice = |group: &mut GroupSheet, to: &dyn Fn(&mut Item)| {
        let own = group.pack.sections.iter_mut().filter(|s| s.name == SectionName::Practice);
        own.flat_map(|s| &mut s.items).for_each(to);
    };
    let key = |group: &GroupSheet| words(&group_sheets(group)[1]);
    let begun = key(&group);
    assert!(begun.contains("A worked sum, then 2 begun ones to finish. Go"), "{begun}");
    practice(&mut group, &|item| {
        if let Space::Squares { given, .. } = &mut item.space {
            *given = Given::Nothing;
        }
    });
    let whole = key(&group);
    assert!(whole.contains("A worked sum, then 2 to do. Go through"), "{whole}");
    group.pack.sections.retain(|s| s.name != SectionName::Examples);
    let alone = key(&group);
    assert!(alone.contains("No worked sum stands on it, only 2 to do."), "{alone}");
}

/// A key that were a little longer than a page has less white, then fewer wrong answers, the first
/// three at least; only then a second page.
#[test]
fn a_key_a_little_longer_than_a_page_is_brought_onto_one() {
    let group = group(PaperSize::A4, Some("placeholder-left-out"));
    let fixture = pack(&indian(), PaperSize::A4);
    let mut items = fixture.sections.iter().flat_map(|s| &s.items);
    let short = items.find(|item| item.kind == Kind::Mental).expect("a short one");
    let wrong = |n: usize| format!("{n}{n}{n}{n}77");
    let with = |count: usize| {
        let mut group = group.clone();
        for section in group.pack.sections.iter_mut().filter(|s| s.name == SectionName::Practice) {
            let one = section.items[0].likely[0].clone();
            let mut item = short.clone();
            item.likely = (1..=5).map(|n| Likely { answer: wrong(n), ..one.clone() }).collect();
            section.items = vec![item; count];
        }
        let key = group_sheets(&group)[1].clone();
        (key.pages.len(), words(&key).replace([' ', ','], ""))
    };
    let counts = |text: &str| [1, 3, 4, 5].map(|n| text.matches(&wrong(n)).count());
    let few = with(2);
    assert_eq!((few.0, counts(&few.1)), (1, [2; 4]), "{}", few.1);
    let most = (2..60).map(with).take_while(|(pages, _)| *pages == 1).enumerate().last();
    let (more, (_, text)) = most.expect("one");
    let count = more + 2;
    assert_eq!(counts(&text), [count, count, 0, 0], "{text}");
    let next = with(count + 1);
    assert_eq!((next.0, counts(&next.1)), (2, [count + 1; 4]), "all where two pages are needed");
}

/// What is not named is not stated flatly: the sheet begins with the sum that decides, and the key says
/// what it decides.
#[test]
fn a_sheet_for_what_is_only_perhaps_so_begins_with_the_sum_that_decides() {
    let mut group = group(PaperSize::A4, Some("placeholder-left-out")).shorter();
    let sure = group_sheets(&group)[0].dump();
    assert!(!sure.contains("by yourself"), "{sure}");
    (group.perhaps, group.apart) = (true, 1);
    let [sheet, key] = group_sheets(&group);
    assert_eq!(sheet.pages.len(), 1, "one page");
    let place =
        |page: &str, words: &str| page.find(words).unwrap_or_else(|| panic!("{words}\n{page}"));
    let sheet = sheet.dump();
    assert!(
        place(&sheet, "Do this sum by yourself") < place(&sheet, "This sum is worked"),
        "{sheet}"
    );
    let key = key.dump();
    for part in ["perhaps the second and later rows lack", "decides, so it is done before"] {
        place(&key, part);
    }
}

/// Slips counted in piles are sorted by the answers that stand on the key.
#[test]
fn the_key_of_a_group_of_slips_says_which_answers_to_sort_by() {
    let mut group = group(PaperSize::A4, Some("placeholder-left-out"));
    group.sort_by = vec![
        ("L44-X1".to_owned(), vec!["71188".to_owned()]),
        ("L44-X2".to_owned(), vec!["452".to_owned(), "1452".to_owned()]),
    ];
    let key = group_sheets(&group)[1].dump();
    assert!(key.contains("For the slips with 71,188 on L44-X1, 452 or 1,452 on L44-X2."), "{key}");
}

/// The fixture's lesson for two groups, each with a support sheet of its own.
fn by_group() -> Pack {
    let mut pack = pack(&indian(), PaperSize::A4);
    let at = pack.sections.iter().position(|s| s.level == Some(Level::Support)).expect("one");
    let second = pack.sections[at].clone();
    pack.sections.insert(at + 1, second);
    let sheet = |sheet: &str, shows: &str, pupils: &[&str]| SheetFor {
        sheet: sheet.to_owned(),
        skill: "long-four-by-three".to_owned(),
        pattern: Some("placeholder-left-out".to_owned()),
        shows: shows.to_owned(),
        teach: "Write its zero first. Model: an area grid.".to_owned(),
        pupils: pupils.iter().map(|p| (*p).to_owned()).collect(),
        sort_by: String::new(),
        copies: 4,
    };
    pack.teacher.sheets = vec![
        sheet("Q", "no zeros begin the later rows", &["1", "2", "3", "9"]),
        sheet("R", "carried digits are not added", &["Ada", "Ben"]),
    ];
    pack
}

#[test]
fn the_teachers_page_says_who_gets_which_sheet_and_each_group_has_one() {
    let sheets = sheets(&by_group());
    let names: Vec<&str> = sheets.keys().map(String::as_str).collect();
    for name in ["pupil-Q.pdf", "pupil-R.pdf", "pupil-K.pdf", "pupil-V.pdf", "key.pdf"] {
        assert!(names.contains(&name), "{name} is not among {names:?}");
    }
    let page = words(&sheets["teacher.pdf"]);
    for part in [
        "Who gets which sheet, and why",
        "Sheet Q, 4 copies: no zeros begin the later rows: pupils 1 to 3 and 9.",
        "Sheet R, 4 copies: carried digits are not added: pupils Ada and Ben.",
        "Write its zero first.",
    ] {
        assert!(page.contains(part), "{part} is not on\n{page}");
    }
    let child = sheets["pupil-R.pdf"].dump();
    assert!(child.contains("-R") && !child.contains("carried digits"), "{child}");
    let key = sheets["key.pdf"].dump();
    assert!(key.contains("-Q") && key.contains("-R"), "{key}");
}

/// However many groups there are: who gets which sheet is parted by a page's end only between two
/// sheets, and no page stops where the next sheet would still have had room.
#[test]
fn who_gets_which_sheet_is_parted_between_sheets_and_leaves_no_hole() {
    let mut parted = 0;
    for count in 1..=14 {
        let mut pack = by_group();
        let one = pack.teacher.sheets[0].clone();
        pack.teacher.sheets = (0..count)
            .map(|n| SheetFor { sheet: format!("Q{n}"), teach: LONG.to_owned(), ..one.clone() })
            .collect();
        let page = &sheets(&pack)["teacher.pdf"];
        let all = words(page);
        let told = (0..count).filter(|n| all.contains(&format!("Sheet Q{n}, 4 copies"))).count();
        assert_eq!(told, count, "every sheet is told once");
        assert_eq!(all.matches(LONG.split_once(". ").expect("two").1).count(), count);
        let continued = all.matches("Who gets which sheet, and why, continued").count();
        assert!(continued < page.pages.len());
        parted += continued;
        for (first, next) in page.pages.iter().zip(page.pages.iter().skip(1)) {
            let texts = |page: &rungwise::paper::sheet::Page| -> Vec<(String, f32)> {
                let text = |mark: &Mark| match mark {
                    Mark::Text { text, y, .. } => Some((text.clone(), *y)),
                    Mark::Line { .. } => None,
                };
                page.marks.iter().filter_map(text).collect()
            };
            let goes_on = texts(next).iter().any(|(text, _)| text.contains("continued"));
            let foot = |at: &f32| *at < 270.0;
            let last = texts(first).into_iter().map(|(_, y)| y).filter(foot).fold(0.0, f32::max);
            assert!(!goes_on || last > 235.0, "{count} sheets: a page ends at {last}");
        }
    }
    assert!(parted > 2, "{parted}");
}

const LONG: &str = "Say the column aloud: “0 times 7 is 0, and 4 is 4”. Work 306 × 7 as 300 × 7 + 6 × 7 \
                    and find the 4 tens of 42 in the answer. Model: a place-value chart with an empty \
                    column that the exchanged counters fill.";

#[test]
fn the_last_page_of_the_progress_is_no_remnant() {
    let mut sheets = 0;
    for paper in [PaperSize::A4, PaperSize::Letter] {
        let pupils = (10..=60).step_by(5);
        for (pupils, skills) in pupils.flat_map(|p| (1..=26).step_by(3).map(move |s| (p, s))) {
            let sheet = progress_page(paper, (pupils, skills), false);
            let Some(filled) = last_page(&sheet) else { continue };
            sheets += 1;
            let short = format!("{pupils} pupils, {skills} skills, {paper:?}: {filled:.2}");
            // The last pupil never stands at the head of a page.
            let of_pupil = |page: &rungwise::paper::sheet::Page| {
                let label = |n: usize| {
                    let is = |mark: &Mark| match mark {
                        Mark::Text { text, x, .. } => *x < 25.0 && *text == n.to_string(),
                        Mark::Line { .. } => false,
                    };
                    page.marks.iter().any(is)
                };
                label(pupils) && !label(pupils - 4)
            };
            assert!(!sheet.pages.iter().any(of_pupil), "{short}");
            assert!(filled >= 1.0 / 3.0, "{short}");
        }
    }
    assert!(sheets > 80, "{sheets}");
}
