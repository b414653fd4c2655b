//! Rules that hold on every page, whatever the class, its house style and its paper.

use crate::fixture::{large_pack, pack, test_pack};
use rungwise::exercise::{Given, Kind, Space, Working};
use rungwise::lesson::{Pack, SectionName};
use rungwise::method::{Carries, FirstRow, HouseStyle, ZeroRow};
use rungwise::number::{Grouping, round_to_leading};
use rungwise::paper::look::HAIR;
use rungwise::paper::sheet::{Mark, Page, Sheet};
use rungwise::paper::week::{TEACHERS, batches};
use rungwise::paper::{print, sheets};
use rungwise::plan::PaperSize;
use std::sync::LazyLock;

/// House styles: every wish that changes paper together with every other.
fn styles() -> Vec<HouseStyle> {
    let mut styles = Vec::new();
    for grouping in [Grouping::Thousands, Grouping::Indian, Grouping::Spaced] {
        for carries in [Carries::InRow, Carries::Above] {
            for zero_row in [ZeroRow::Skip, ZeroRow::Write] {
                for first_row in [FirstRow::Ones, FirstRow::Highest] {
                    let rest = HouseStyle::default();
                    styles.push(HouseStyle { grouping, carries, zero_row, first_row, ..rest });
                }
            }
        }
    }
    styles
}

fn packs() -> Vec<Pack> {
    let mut packs = Vec::new();
    for style in styles() {
        for paper in [PaperSize::A4, PaperSize::Letter] {
            packs.push(pack(&style, paper));
            packs.push(test_pack(&style, paper));
            packs.push(large_pack(&style, paper));
        }
    }
    let mut long = pack(&HouseStyle::default(), PaperSize::A4);
    long.heading.class =
        "The class of the children who came up the hill in the second spring after the flood"
            .into();
    long.heading.school =
        "The School of the Seven Bridges and the Old Harbour, North Side, upper building".into();
    long.heading.title =
        "Long multiplication: four digits by three digits, with zeros inside both \
                          numbers and estimates first, part 1"
            .into();
    packs.push(long);
    packs
}

/// Packs as the other rooms make them, composed once for all rules.
fn term_packs() -> &'static [Pack] {
    static PACKS: LazyLock<Vec<Pack>> = LazyLock::new(|| {
        let spaced = crate::term::packs("grouping = \"spaced\"\npaper = \"letter\"");
        let grouped = "grouping = \"indian\"\nmethod = [\"long\", \"grid\", \"lattice\"]";
        let indian = crate::term::packs(&format!("{grouped}\ncarries = \"above\""));
        let last = "method = [\"lattice\", \"grid\", \"long\"]\nfirst-row = \"highest\"";
        let lattice = crate::term::packs(&format!("{last}\nzero-row = \"write\""));
        spaced.into_iter().chain(indian).chain(lattice).collect()
    });
    &PACKS
}

/// Every sheet that is looked at, with its place, laid out once for all rules.
fn all_sheets() -> &'static [(String, Sheet)] {
    static SHEETS: LazyLock<Vec<(String, Sheet)>> = LazyLock::new(|| {
        let mut all = Vec::new();
        for style in ["grouping = \"indian\"", "paper = \"letter\""] {
            all.push(("term".to_owned(), crate::term::overview(style)));
        }
        for sheet in crate::marked::all().into_iter().chain(crate::heads_pages::all()) {
            all.push((sheet.title.clone(), sheet));
        }
        for mut batch in batches(&term_packs()[..12], term_packs()[0].date) {
            // The list; what comes after it is looked at pack by pack.
            if batch.file == TEACHERS {
                batch.sheet.pages.truncate(1);
                all.push(("the week's list".to_owned(), batch.sheet));
            }
        }
        for pack in packs().iter().chain(term_packs()) {
            let style = &pack.heading.style;
            for (name, sheet) in sheets(pack) {
                all.push((format!("lesson {} {name} {style:?}", pack.lesson), sheet));
            }
        }
        all
    });
    &SHEETS
}

fn every_page(check: impl Fn(&Sheet, &Page) -> Vec<String>) {
    let mut pages = 0;
    let mut wrong = Vec::new();
    for (place, sheet) in all_sheets() {
        for (index, page) in sheet.pages.iter().enumerate() {
            pages += 1;
            let found = check(sheet, page);
            wrong.extend(found.into_iter().map(|w| format!("{place} page {}: {w}", index + 1)));
        }
    }
    wrong.truncate(20);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(pages > 3000, "only {pages} pages were looked at");
}

fn texts(page: &Page) -> impl Iterator<Item = (&Mark, &str)> {
    page.marks.iter().filter_map(|m| match m {
        Mark::Text { text, .. } => Some((m, text.as_str())),
        Mark::Line { .. } => None,
    })
}

/// Whoever wrote a text, it is set with curly quotation marks.
#[test]
fn no_quotation_mark_is_straight() {
    let (mut straight, mut curly) = (Vec::new(), 0);
    for pack in term_packs() {
        for (name, sheet) in sheets(pack) {
            for (_, text) in sheet.pages.iter().flat_map(texts) {
                curly += usize::from(text.contains(['’', '“']));
                if text.contains(['\'', '"']) {
                    straight.push(format!("lesson {} {name}: {text}", pack.lesson));
                }
            }
        }
    }
    assert!(straight.is_empty(), "{}", straight.join("\n"));
    assert!(curly > 100, "{curly}");
}

/// Sheets that are cut use the page to its edges; every other one has margins.
fn margin(sheet: &Sheet) -> f32 {
    if sheet.title.contains("-X ") || sheet.title.contains("-H ") {
        6.0
    } else {
        (sheet.size.0 - 168.0) / 2.0
    }
}

#[test]
fn no_sum_is_broken_over_two_lines() {
    every_page(|_, page| {
        // Signs alone stand in squares.
        let ends = |text: &str| text.chars().count() > 2 && text.ends_with(['×', '+', '−', '÷']);
        // "5,200 = 52 ×" has its box after it.
        let asks = |text: &str| {
            text.rsplit_once('=').is_some_and(|(_, after)| after.matches('×').count() == 1)
        };
        let broken = |text: &str| ends(text) && !asks(text);
        // Words beside rows never begin with what belongs to the line before.
        let begins = |mark: &Mark| match mark {
            Mark::Text { size: 9, text, .. } => text.starts_with(['=', '+', '−', '÷']),
            _ => false,
        };
        let found = texts(page).filter(|(mark, text)| broken(text.trim_end()) || begins(mark));
        found.map(|(_, t)| t.into()).collect()
    });
}

#[test]
fn everything_stands_inside_the_text_area() {
    every_page(|sheet, page| {
        let margin = margin(sheet);
        let outside = |m: &&Mark| {
            let (left, top, right, foot) = m.bounds();
            left < margin - 0.02
                || right > sheet.size.0 - margin + 0.02
                || top < 6.0
                || foot > sheet.size.1 - 5.5
        };
        page.marks.iter().filter(outside).map(|m| format!("outside: {m:?}")).collect()
    });
}

/// Where a sheet asks for an estimate first, the key has one.
#[test]
fn the_key_has_every_estimate_that_a_sheet_asks_for() {
    let mut asked = 0;
    for pack in term_packs() {
        let style = &pack.heading.style;
        let key = &sheets(pack)["key.pdf"];
        let lines: Vec<&str> = key.pages.iter().flat_map(texts).map(|(_, text)| text).collect();
        for item in pack.sections.iter().flat_map(|s| &s.items) {
            let Space::Squares { estimate: true, given: Given::Nothing, .. } = item.space else {
                continue;
            };
            let Some((a, b)) = item.factors().filter(|_| item.kind == Kind::Written) else {
                continue;
            };
            let about =
                format!("about {}", style.number(round_to_leading(a) * round_to_leading(b)));
            assert!(lines.contains(&about.as_str()), "{}: {about}", item.id);
            asked += 1;
        }
    }
    assert!(asked > 100, "{asked}");
}

/// Whoever reads a large product aloud can look its name up.
#[test]
fn the_key_names_every_product_of_seven_digits() {
    let mut named = 0;
    for pack in term_packs() {
        let Some(key) = sheets(pack).swap_remove("key.pdf") else { continue };
        let key = crate::marked::words(&key);
        let practised = pack.sections.iter().filter(|s| s.name == SectionName::Practice);
        for item in practised.flat_map(|s| &s.items).filter(|i| i.kind == Kind::Written) {
            let (Some((a, b)), true) = (item.factors(), item.answer.len() > 6) else { continue };
            let name = rungwise::number::in_words(a * b, pack.heading.style.grouping);
            assert!(key.contains(&name), "lesson {}: {a} × {b}, {name}", pack.lesson);
            named += 1;
        }
    }
    assert!(named > 40, "{named}");
}

/// In a class that regroups and has units, nobody carries ones: stories apart, where vans do.
#[test]
fn a_schools_words_stand_on_every_page() {
    let packs = crate::term::packs("ones = \"units\"\ncarry = \"regroup\"\ncarries = \"above\"");
    let (mut wrong, mut own) = (Vec::new(), 0);
    for pack in &packs {
        for (name, sheet) in sheets(pack) {
            for (_, text) in sheet.pages.iter().flat_map(texts) {
                let words = || text.split(|c: char| !c.is_alphabetic());
                let story = words().any(|w| {
                    ["van", "train", "truck", "ferry", "it", "people", "newspapers"].contains(&w)
                });
                let ours =
                    |w: &str| w.to_lowercase() == "ones" || w.to_lowercase().starts_with("carr");
                // "9 ones are 9" is said of a fact.
                let fact = text.replace('\u{a0}', " ").contains(" ones are ");
                if !story && !fact && words().any(ours) {
                    wrong.push(format!("lesson {} {name}: {text}", pack.lesson));
                }
                own += usize::from(words().any(|w| w == "units" || w.starts_with("regroup")));
            }
        }
    }
    wrong.sort();
    wrong.dedup_by_key(|w| w.split(": ").last().map(str::to_owned));
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(own > 500, "{own} lines in the school's words");
}

#[test]
fn no_two_texts_overlap() {
    every_page(|_, page| {
        let all: Vec<_> = texts(page).map(|(m, text)| (m.bounds(), text)).collect();
        let mut wrong = Vec::new();
        for (index, (a, one)) in all.iter().enumerate() {
            for (b, other) in &all[index + 1..] {
                let clear = |end: f32, begin: f32| end <= begin + 0.01;
                let apart =
                    clear(a.2, b.0) || clear(b.2, a.0) || clear(a.3, b.1) || clear(b.3, a.1);
                if !apart {
                    wrong.push(format!("`{one}` and `{other}` overlap at {:.1},{:.1}", a.0, a.1));
                }
            }
        }
        wrong
    });
}

#[test]
fn no_line_is_thinner_than_a_copier_keeps() {
    every_page(|_, page| {
        let thin = |m: &&Mark| matches!(m, Mark::Line { thick, .. } if *thick < HAIR);
        page.marks.iter().filter(thin).map(|m| format!("{m:?}")).collect()
    });
}

#[test]
fn no_text_crosses_a_line_that_is_not_meant_to_strike_it() {
    every_page(|_, page| {
        let mut wrong = Vec::new();
        for (mark, text) in texts(page) {
            let (left, top, right, _) = mark.bounds();
            let Mark::Text { y, .. } = mark else { continue };
            for line in &page.marks {
                let Mark::Line { points, .. } = line else { continue };
                for pair in points.windows(2) {
                    let ((x1, y1), (x2, y2)) = (pair[0], pair[1]);
                    let upright = (x1 - x2).abs() < 0.001
                        && x1 > left + 0.1
                        && x1 < right - 0.1
                        && y1.min(y2) < y - 0.1
                        && y1.max(y2) > top + 0.1;
                    let level = (y1 - y2).abs() < 0.001
                        && y1 > top + 0.1
                        && y1 < y - 0.1
                        && x1.min(x2) < right - 0.1
                        && x1.max(x2) > left + 0.1;
                    // A used carry strip is struck through on purpose.
                    let small_digit = text.chars().count() == 1 && text.parse::<u8>().is_ok();
                    if upright || (level && !small_digit) {
                        wrong.push(format!("`{text}` is crossed at {x1:.1},{y1:.1}"));
                    }
                }
            }
        }
        wrong
    });
}

/// The rows of figures in squares, from the top, each from its left end on.
fn rows_in_squares(page: &Page) -> Vec<String> {
    let mut figures: Vec<(f32, f32, char)> = Vec::new();
    for (mark, text) in texts(page) {
        let Mark::Text { x, y, size: 16, .. } = mark else { continue };
        let mut letters = text.chars();
        if let (Some(figure @ '0'..='9'), None) = (letters.next(), letters.next()) {
            figures.push((*y, *x, figure));
        }
    }
    figures.sort_by(|a, b| a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1)));
    let mut rows: Vec<(f32, f32, String)> = Vec::new();
    for (y, x, figure) in figures {
        match rows.last_mut() {
            // The next square of the same row: 8 mm on.
            Some((row, last, digits))
                if (*row - y).abs() < 0.001 && (x - *last - 8.0).abs() < 0.05 =>
            {
                *last = x;
                digits.push(figure);
            }
            _ => rows.push((y, x, figure.to_string())),
        }
    }
    rows.into_iter().map(|(.., digits)| digits).collect()
}

#[test]
fn no_square_of_a_worked_example_lacks_its_digit() {
    let mut examples = 0;
    let mut wrong = Vec::new();
    for pack in packs().iter().chain(term_packs()) {
        let shown = pack.named(SectionName::Examples).flat_map(|s| &s.items);
        let all = sheets(pack);
        let rows: Vec<String> = all["teacher.pdf"].pages.iter().flat_map(rows_in_squares).collect();
        for item in shown {
            let Working::Long(long) = &item.working else { continue };
            examples += 1;
            let partial = long.rows.iter().map(|row| row.value).filter(|value| *value > 0);
            let numbers = [long.a, long.b, long.a * long.b].into_iter().chain(partial);
            for number in numbers {
                if !rows.contains(&number.to_string()) {
                    wrong.push(format!("{} × {}: no row reads {number}", long.a, long.b));
                }
            }
        }
    }
    wrong.truncate(10);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(examples > 150, "only {examples} examples");
}

/// Of several pages the last one's share of its body down to its last mark.
pub fn last_page(sheet: &Sheet) -> Option<f32> {
    let [_, .., last] = sheet.pages.as_slice() else { return None };
    // What stands above the rule over the foot.
    let marks = last.marks.iter().map(|m| m.bounds().3).filter(|y| *y < sheet.size.1 - 14.0);
    Some((marks.fold(24.0, f32::max) - 24.0) / (sheet.size.1 - 17.0 - 24.0))
}

#[test]
fn a_last_page_is_no_remnant_but_by_rare_chance() {
    let (mut sheets, mut short) = (0, Vec::new());
    for (place, sheet) in all_sheets().iter().filter(|(place, _)| place.contains("pupil-")) {
        let Some(filled) = last_page(sheet) else { continue };
        sheets += 1;
        if filled < 1.0 / 3.0 {
            short.push(format!("{place}: {:.0} %", filled * 100.0));
        }
    }
    assert!(short.len() * 20 <= sheets, "{} of {sheets}:\n{}", short.len(), short.join("\n"));
    assert!(sheets > 200, "{sheets}");
}

#[test]
fn the_notes_box_has_room_to_write_and_seldom_a_page_of_its_own() {
    // Of each paper: teacher's pages, and those whose notes had to turn the page.
    let mut counted = [(0, 0); 2];
    for (place, sheet) in all_sheets().iter().filter(|(place, _)| place.contains("teacher.pdf")) {
        for page in &sheet.pages {
            let Some((notes, _)) = texts(page).find(|(_, text)| *text == "Notes") else { continue };
            let (x, y, ..) = notes.bounds();
            let around = page.marks.iter().filter_map(|mark| match mark {
                Mark::Line { points, .. } if points.len() > 4 => Some(mark.bounds()),
                _ => None,
            });
            let mut boxed = around.filter(|b| b.0 < x && b.1 < y && b.2 > x && b.3 > y);
            let (_, top, _, foot) = boxed.next_back().expect("a box round the notes");
            assert!(foot - top >= 39.9, "{place}: {:.0} mm", foot - top);
            let paper = usize::from(sheet.size.1 < 290.0);
            counted[paper].0 += 1;
            counted[paper].1 += usize::from(foot - top > 200.0);
        }
    }
    let [(a4, turned), (letter, turned_on_letter)] = counted;
    assert!(a4 > 100 && turned * 20 <= a4, "{turned} of {a4}");
    assert!(letter > 50 && turned_on_letter * 3 <= letter, "{turned_on_letter} of {letter}");
}

#[test]
fn every_sheet_can_be_printed() {
    for pack in [
        pack(&HouseStyle::default(), PaperSize::Letter),
        large_pack(&HouseStyle::default(), PaperSize::A4),
        test_pack(
            &HouseStyle { grouping: Grouping::Spaced, ..HouseStyle::default() },
            PaperSize::A4,
        ),
    ] {
        let files = print(&pack).unwrap_or_else(|refusal| panic!("{refusal}"));
        assert!(files.values().all(|bytes| bytes.starts_with(b"%PDF-1.7")));
    }
}

#[test]
fn no_line_before_another_is_too_long_for_the_eye() {
    // About 75 letters of this size; sums, whose signs are wide, may be wider.
    const LETTERS: usize = 84;
    let most = |mark: &Mark| match mark {
        Mark::Text { size, .. } => f32::from(*size) * 12.6 + 0.5,
        Mark::Line { .. } => 0.0,
    };
    // A code such as `4.NBT.B.5` is looked up, not read.
    let read = |text: &str| text.split(' ').filter(|w| w.contains('.')).count() < 4;
    every_page(|_, page| {
        let lines: Vec<_> = texts(page).map(|(mark, text)| (mark.bounds(), text)).collect();
        let dash = |foot: f32| {
            let here = |text: &str, at: f32| text.starts_with('–') && (at - foot).abs() < 1.5;
            lines.iter().any(|((_, _, _, at), text)| here(text, *at))
        };
        let goes_on = |(x, _, _, y): (f32, f32, f32, f32)| {
            let next = |at: f32| at - y > 2.0 && at - y < 5.6;
            let mut below = lines.iter().filter(|(b, _)| (b.0 - x).abs() < 0.1 && next(b.3));
            // A new point of a list has its dash before it.
            below.next().is_some_and(|(b, _)| !dash(b.3))
        };
        let long = texts(page).filter(|(mark, text)| {
            let (left, _, right, _) = mark.bounds();
            right - left > most(mark)
                && text.chars().count() > LETTERS
                && read(text)
                && !text.ends_with('.')
                && goes_on(mark.bounds())
        });
        long.map(|(_, text)| text.to_owned()).collect()
    });
}
