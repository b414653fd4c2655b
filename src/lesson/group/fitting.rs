//! Which of the sums that were made for a group stand on its one page: at least six, whole ones as
//! far as there is room, and short ones and single rows, of which a page holds more, for the rest.

use super::{GroupSheet, SHORT_SQUARES, number};
use crate::exercise::{Item, Kind, Space};
use crate::lesson::SectionName;
use std::collections::BTreeMap;

/// A sheet has so many sums at least, as far as a page and the skill allow.
pub const FEWEST: usize = 6;
/// A page with fewer sums than this does without its worked one, where that makes room for more.
const TOO_FEW: usize = 3;
/// At most so many whole sums, and so many in all where they are written.
const MOST_WHOLE: usize = 8;
const MOST: usize = 12;
/// How many begun and how many whole sums, best first.
const BASES: [(usize, usize); 11] =
    [(2, 3), (2, 2), (1, 2), (0, 3), (2, 1), (1, 1), (0, 2), (0, 1), (2, 0), (1, 0), (0, 0)];

/// What a sum takes of the page.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Size {
    /// Begun, with places and labels.
    Begun,
    /// As long as the skill's own sums are, or a story.
    Whole,
    /// Shorter than those.
    Short,
    /// A single row or a short question.
    Row,
}

/// So many sums of each size.
type Counts = BTreeMap<Size, usize>;

/// The sums that were made, by size.
#[derive(Clone)]
struct Made {
    sheet: GroupSheet,
    sizes: Vec<Size>,
}

/// The sheet with as many of its sums as it can have: `fits` says whether these fill no more than a
/// page.
pub(super) fn fitted(sheet: &GroupSheet, fits: &dyn Fn(&GroupSheet) -> bool) -> GroupSheet {
    let made = Made { sheet: sheet.clone(), sizes: sizes(sheet.practice()) };
    let all = made.sizes.len();
    let most = |sheet: &GroupSheet| sheet.practice().len();
    let high = |item: &Item| matches!(item.kind, Kind::Story | Kind::Row);
    if !sheet.practice().iter().any(high) && made.sizes.iter().all(|size| *size == Size::Row) {
        return shortened(made.with_example(0).sheet, fits);
    }
    let shown = made.best(FEWEST.min(all), fits);
    if most(&shown) >= TOO_FEW.min(all) {
        return shown;
    }
    let bare = Made { sheet: sheet.clone().without_example(), ..made };
    let bare = bare.best(FEWEST.min(all), fits);
    if most(&bare) > most(&shown) { bare } else { shown }
}

/// Short questions only: the last ones go.
fn shortened(mut sheet: GroupSheet, fits: &dyn Fn(&GroupSheet) -> bool) -> GroupSheet {
    while sheet.practice().len() > 1 && !fits(&sheet) {
        sheet = sheet.shorter();
    }
    sheet
}

fn sizes(items: &[Item]) -> Vec<Size> {
    let stories = items.iter().any(|item| item.kind == Kind::Story);
    let written = |item: &&Item| item.kind == Kind::Written;
    let long = |skill: &str| {
        items.iter().filter(written).any(|item| item.skill == skill && !is_short(item))
    };
    let size = |item: &Item| match item.kind {
        Kind::Written if item.is_begun() => Size::Begun,
        Kind::Written if stories || (is_short(item) && long(&item.skill)) => Size::Short,
        Kind::Written => Size::Whole,
        Kind::Story if matches!(item.space, Space::Story { .. }) => Size::Whole,
        _ => Size::Row,
    };
    items.iter().map(size).collect()
}

/// Whether three such sums stand abreast.
fn is_short(item: &Item) -> bool {
    match item.space {
        Space::Squares { columns, rows, .. } => {
            usize::from(columns) <= SHORT_SQUARES.0 && usize::from(rows) <= SHORT_SQUARES.1
        }
        _ => false,
    }
}

impl Made {
    /// So many sums at least, with the whole ones and the begun ones that the page holds beside; where
    /// it holds fewer, as many as it does.
    fn best(&self, least: usize, fits: &dyn Fn(&GroupSheet) -> bool) -> GroupSheet {
        let apart = self.apart();
        let ways = || BASES.iter().flat_map(|base| apart.iter().map(move |apart| (base, apart)));
        for least in (1..=least).rev() {
            for example in 0..self.examples().max(1) {
                let made = self.with_example(example);
                for (base, apart) in ways() {
                    if let Some(counts) = made.based(apart, *base, least, fits) {
                        return made.sheet_of(apart, &made.grown(apart, counts, fits));
                    }
                }
            }
        }
        self.sheet_of(&[], &Counts::from([(Size::Whole, 1)]))
    }

    /// How many worked sums there are to choose from: the skill's own, then a shorter one.
    fn examples(&self) -> usize {
        let sections = self.sheet.pack.sections.iter();
        sections.filter(|s| s.name == SectionName::Examples).map(|s| s.items.len()).sum()
    }

    /// The same with this worked sum only.
    fn with_example(&self, which: usize) -> Made {
        let mut made = self.clone();
        for section in &mut made.sheet.pack.sections {
            if section.name == SectionName::Examples {
                section.items = section.items.get(which).cloned().into_iter().collect();
            }
        }
        made
    }

    /// Which sums may stand before the worked one, best first: nothing unless they are to decide; one
    /// sum, or a row of the page full of them.
    fn apart(&self) -> Vec<Vec<usize>> {
        if !(self.sheet.perhaps && self.sheet.has_example()) {
            return vec![Vec::new()];
        }
        let of = |size: Size, count: usize| -> Option<Vec<usize>> {
            let places = (0..self.sizes.len()).filter(|&at| self.sizes[at] == size);
            let found: Vec<usize> = places.take(count).collect();
            (found.len() == count).then_some(found)
        };
        let wanted = [
            (Size::Whole, 1),
            (Size::Short, 1),
            (Size::Row, 1),
            (Size::Short, 3),
            (Size::Whole, 3),
            (Size::Whole, 2),
            (Size::Row, 2),
        ];
        wanted.into_iter().filter_map(|(size, count)| of(size, count)).collect()
    }

    /// How many sums of a size there are beside those that stand apart.
    fn left(&self, apart: &[usize], size: Size) -> usize {
        let all = (0..self.sizes.len()).filter(|at| self.sizes[*at] == size);
        all.filter(|at| !apart.contains(at)).count()
    }

    /// So many begun and whole sums, with so many short ones and rows that there are as many as are
    /// wanted; short ones rather than rows.
    fn based(
        &self,
        apart: &[usize],
        (begun, whole): (usize, usize),
        least: usize,
        fits: &dyn Fn(&GroupSheet) -> bool,
    ) -> Option<Counts> {
        let (shorts, rows) = (self.left(apart, Size::Short), self.left(apart, Size::Row));
        if begun > self.left(apart, Size::Begun) || whole > self.left(apart, Size::Whole) {
            return None;
        }
        let more = least.saturating_sub(begun + whole + apart.len());
        let ways = (0..=more.min(shorts)).rev().filter(|short| more - short <= rows);
        let counts = ways.map(|short| {
            let all = [begun, whole, short, more - short];
            [Size::Begun, Size::Whole, Size::Short, Size::Row].into_iter().zip(all).collect()
        });
        counts.into_iter().find(|counts| fits(&self.sheet_of(apart, counts)))
    }

    /// The same with as many more as the page holds.
    fn grown(
        &self,
        apart: &[usize],
        mut counts: Counts,
        fits: &dyn Fn(&GroupSheet) -> bool,
    ) -> Counts {
        for size in [Size::Whole, Size::Short, Size::Row] {
            let most = if size == Size::Whole { MOST_WHOLE } else { MOST };
            let most = most.min(self.left(apart, size));
            loop {
                let mut more = counts.clone();
                *more.entry(size).or_default() += 1;
                let all = more.values().sum::<usize>() + apart.len();
                if more[&size] > most || all > MOST || !fits(&self.sheet_of(apart, &more)) {
                    break;
                }
                counts = more;
            }
        }
        counts
    }

    /// The sheet with these sums before the worked one and so many of each size after it.
    fn sheet_of(&self, apart: &[usize], counts: &Counts) -> GroupSheet {
        let mut sheet = self.sheet.clone();
        let practice = self.sheet.practice();
        let mut left = counts.clone();
        let mut chosen: Vec<Item> = apart.iter().map(|&at| practice[at].clone()).collect();
        for (at, item) in practice.iter().enumerate().filter(|(at, _)| !apart.contains(at)) {
            if let Some(count) = left.get_mut(&self.sizes[at]).filter(|count| **count > 0) {
                *count -= 1;
                chosen.push(item.clone());
            }
        }
        sheet.apart = apart.len();
        for section in &mut sheet.pack.sections {
            if section.name == SectionName::Practice {
                section.items.clone_from(&chosen);
            }
        }
        number(&mut sheet.pack, &sheet.group);
        sheet
    }
}
