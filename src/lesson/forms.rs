//! How often a sheet asks alike: of one form of question few, but for what the lesson is about.

use super::Fault;
use super::bench::{Bench, Made, Want};
use super::measures::{form, takes};
use crate::exercise::makers::Spot;
use crate::exercise::{Figure, Item, Kind};
use std::collections::BTreeMap;

/// The most items of one form of question on a sheet (common practice, no source).
pub const MOST_OF_A_FORM: usize = 4;
/// Of the items of a sheet one form makes up at most one in so many.
const ONE_IN: usize = 4;

/// The skills that are about a form of question: their own lessons ask it as often as it takes.
const ABOUT_A_QUESTION: [&str; 6] = [
    "words-of-the-trade",
    "reading-large-numbers",
    "which-is-nearer",
    "digits-of-a-product",
    "checking-a-product",
    "choosing-a-method",
];

/// What a question asks for, whatever its numbers; none for sums, rows and stories, which ask for
/// work. Numbers in words are a form too.
pub fn question_form(item: &Item) -> Option<String> {
    let form = form(item);
    let says = |words: &str| item.prompt.contains(words);
    match item.kind {
        _ if matches!(item.figure, Some(Figure::Array { .. } | Figure::Area { .. })) => {
            Some("a drawing".to_owned())
        }
        _ if form.as_ref().is_some_and(|form| form.starts_with("a missing factor")) => {
            Some("a missing factor".to_owned())
        }
        Kind::Choice if says("word is missing") || says("a multiple of") || says("a factor of") => {
            Some("factor or multiple".to_owned())
        }
        Kind::Words if says("product") => Some("a product and its name".to_owned()),
        Kind::Words => Some("a number and its name".to_owned()),
        _ => form,
    }
}

/// Whether lessons of the skill are about a form of question.
pub fn is_about_a_question(skill: &str) -> bool {
    ABOUT_A_QUESTION.contains(&skill)
}

/// The forms of question on a sheet, each with its count.
#[derive(Debug, Clone, Default)]
pub struct Forms {
    /// The lesson's own skill, where it is about a form of question.
    own: Option<String>,
    /// By form and whether it is what the lesson is about.
    counts: BTreeMap<(String, bool), usize>,
    items: usize,
}

impl Forms {
    /// Those of a warm-up, above the practice of a lesson on this skill.
    pub fn of(warm_up: &Forms, own: Option<&str>) -> Forms {
        let own = own.filter(|skill| is_about_a_question(skill)).map(str::to_owned);
        Forms { own, ..warm_up.clone() }
    }
    /// Notes an item.
    pub fn note(&mut self, item: &Item) {
        self.items += 1;
        if let Some(form) = question_form(item) {
            *self.counts.entry((form, self.is_own(item))).or_default() += 1;
        }
    }
    fn is_own(&self, item: &Item) -> bool {
        self.own.as_ref() == Some(&item.skill)
    }
    /// How many of the item's form there are; none for what asks for work.
    fn alike(&self, item: &Item) -> usize {
        let count = |form| self.counts.get(&(form, self.is_own(item))).copied();
        question_form(item).and_then(count).unwrap_or_default()
    }
    /// Whether so many of the item's form may stand there beside it.
    pub fn fewer_than(&self, item: &Item, most: usize) -> bool {
        self.alike(item) < most
    }
    /// Whether the item may come next on a short sheet, whatever comes after it.
    pub fn suits_next(&self, item: &Item) -> bool {
        let most = Forms { items: self.items + 1, ..Forms::default() }.most();
        self.is_own(item) || self.fewer_than(item, most)
    }
    /// Whether one more of its form may stand on the sheet, however long that will be.
    pub fn allows(&self, item: &Item) -> bool {
        self.is_own(item) || self.fewer_than(item, MOST_OF_A_FORM)
    }
    /// The most of one form that a sheet of so many items has: one at least.
    fn most(&self) -> usize {
        (self.items / ONE_IN).clamp(1, MOST_OF_A_FORM)
    }
    fn with(&self, made: &[Made]) -> Forms {
        let mut forms = self.clone();
        made.iter().for_each(|m| forms.note(&m.item));
        forms
    }
}

impl<'m> FromIterator<&'m Made> for Forms {
    fn from_iter<I: IntoIterator<Item = &'m Made>>(made: I) -> Forms {
        let mut forms = Forms::default();
        made.into_iter().for_each(|m| forms.note(&m.item));
        forms
    }
}

/// Where one form makes up more of a sheet than it may, something else that takes about as long
/// stands in the place of its last items, or nothing where there is nothing else. `forms` holds what
/// stands above; the teacher's own sums stay.
pub fn mix(
    bench: &mut Bench,
    made: &mut Vec<Made>,
    forms: &Forms,
    (spot, total): (Spot, u32),
) -> Result<(), Fault> {
    loop {
        let all = forms.with(made);
        let most = all.most();
        let too_many = |m: &Made| !all.is_own(&m.item) && all.alike(&m.item) > most;
        let Some(at) = made.iter().rposition(too_many) else { return Ok(()) };
        let gone = made.remove(at);
        let left = total.saturating_sub(made.iter().map(|m| takes(&m.item)).sum());
        if let Some(other) = instead(bench, made, forms, (&gone, at, spot, left))? {
            bench.note(&other.item, spot);
            made.insert(at, other);
        }
    }
}

/// An item in the place of one that went: of the same skill, else of one that its neighbours are not
/// of, else of any on the sheet; of those in time the longest.
fn instead(
    bench: &Bench,
    made: &[Made],
    forms: &Forms,
    (gone, at, spot, left): (&Made, usize, Spot, u32),
) -> Result<Option<Made>, Fault> {
    let all = forms.with(made);
    let near = |skill: &str| {
        let before = at.checked_sub(1).and_then(|at| made.get(at));
        before.into_iter().chain(made.get(at)).any(|m| m.want.skill == skill)
    };
    let mut wants: Vec<&Want> = vec![&gone.want];
    for want in made.iter().map(|m| &m.want) {
        if wants.iter().all(|known| known.skill != want.skill) {
            wants.push(want);
        }
    }
    wants[1..].sort_by_key(|want| near(&want.skill));
    for want in wants {
        for spot in [spot, Spot::Core, Spot::Homework] {
            let want =
                Want { spot, seconds: left.max(60) * 12, least: 6, most: 12, ..want.clone() };
            let others = bench.look_again(&want, " mixed")?;
            let fits = |m: &Made| {
                takes(&m.item) <= left
                    && bench.is_new(&m.item)
                    && (all.is_own(&m.item) || all.fewer_than(&m.item, all.most()))
            };
            let found = others.into_iter().filter(fits).max_by_key(|m| takes(&m.item));
            if found.is_some() {
                return Ok(found);
            }
        }
    }
    Ok(None)
}
