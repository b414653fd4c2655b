//! Rules that hold on every page, whatever the class, its house style and its paper.

use crate::fixture::{large_pack, pack, test_pack};
use rungwise::lesson::Pack;
use rungwise::method::{Carries, FirstRow, HouseStyle, ZeroRow};
use rungwise::number::Grouping;
use rungwise::paper::look::HAIR;
use rungwise::paper::sheet::{Mark, Page, Sheet};
use rungwise::paper::week::{TEACHERS, batches};
use rungwise::paper::{print, sheets};
use rungwise::plan::PaperSize;
use std::sync::LazyLock;

/// House styles in which every wish that changes paper occurs, every pair of the first two too.
fn styles() -> Vec<HouseStyle> {
    let mut styles = Vec::new();
    for (grouping, zero_row) in [
        (Grouping::Thousands, ZeroRow::Skip),
        (Grouping::Indian, ZeroRow::Write),
        (Grouping::Spaced, ZeroRow::Skip),
    ] {
        for (carries, first_row) in
            [(Carries::InRow, FirstRow::Highest), (Carries::Above, FirstRow::Ones)]
        {
            let rest = HouseStyle::default();
            styles.push(HouseStyle { grouping, carries, zero_row, first_row, ..rest });
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
        spaced.into_iter().chain(indian).collect()
    });
    &PACKS
}

fn every_page(check: impl Fn(&Sheet, &Page) -> Vec<String>) {
    let mut pages = 0;
    let mut wrong = Vec::new();
    for style in ["grouping = \"indian\"", "paper = \"letter\""] {
        let sheet = crate::term::overview(style);
        wrong.extend(sheet.pages.iter().flat_map(|page| check(&sheet, page)));
    }
    for sheet in crate::marked::all().into_iter().chain(crate::heads_pages::all()) {
        wrong.extend(sheet.pages.iter().flat_map(|page| check(&sheet, page)));
    }
    let monday = term_packs()[0].date;
    for batch in batches(&term_packs()[..12], monday) {
        let list = batch.sheet.pages.first().filter(|_| batch.file == TEACHERS);
        wrong.extend(list.into_iter().flat_map(|page| check(&batch.sheet, page)));
    }
    for pack in packs().iter().chain(term_packs()) {
        for (name, sheet) in sheets(pack) {
            for (index, page) in sheet.pages.iter().enumerate() {
                pages += 1;
                let found = check(&sheet, page);
                let place = format!("lesson {} {name} page {}", pack.lesson, index + 1);
                wrong.extend(found.into_iter().map(|w| format!("{place}: {w}")));
            }
        }
    }
    wrong.truncate(20);
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    assert!(pages > 1000, "only {pages} pages were looked at");
}

fn texts(page: &Page) -> impl Iterator<Item = (&Mark, &str)> {
    page.marks.iter().filter_map(|m| match m {
        Mark::Text { text, .. } => Some((m, text.as_str())),
        Mark::Line { .. } => None,
    })
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
        texts(page).filter(|(_, text)| broken(text.trim_end())).map(|(_, t)| t.into()).collect()
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
