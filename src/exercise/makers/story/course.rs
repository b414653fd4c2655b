//! Which stories a set holds: what each must be like, in order.

use super::StoryKind;
use super::plan::Plan;
use super::scene::{StorySize, Structure};
use crate::exercise::makers::{Request, Spot, deal};

/// What one story of a set must be like.
#[derive(Debug, Clone, PartialEq, Eq)]
pub(super) struct Want {
    /// How its numbers join: one of these.
    pub plans: &'static [Plan],
    /// Of which structure.
    pub structures: Structures,
    /// How large its product is: the first of these for which there is a scene.
    pub sizes: Vec<StorySize>,
    /// Whether it names a number that is not needed.
    pub aside: bool,
}

/// Which structures will do.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Structures {
    /// Those that come first: groups, measures, rates, rows.
    First,
    /// Those introduced last: comparison, area, combinations.
    Last,
    /// Comparison.
    Comparison,
    /// Any.
    Any,
}

impl Structures {
    /// Whether this structure will do.
    pub(super) fn hold(self, structure: Structure) -> bool {
        use Structure::{Area, Combinations, Comparison};
        let last = matches!(structure, Comparison | Area | Combinations);
        match self {
            Structures::First => !last,
            Structures::Last => last,
            Structures::Comparison => structure == Comparison,
            Structures::Any => true,
        }
    }
}

const PRODUCT: &[Plan] = &[Plan::Product];
const OTHER: &[Plan] = &[Plan::Sum, Plan::Difference, Plan::Quotient];
const QUOTIENT: &[Plan] = &[Plan::Quotient];
/// A product and then more or less: the first two-step stories.
const THEN: &[Plan] = &[Plan::ProductAnd, Plan::ProductLess, Plan::Rest];
/// What happens in every group comes first.
const INSIDE: &[Plan] = &[Plan::MoreFirst, Plan::LessFirst];
const THREE: &[Plan] = &[Plan::ThreeFactors, Plan::Converted];
const TWICE: &[Plan] = &[Plan::TwoProducts, Plan::ProductsApart];

/// One entry of a course before its size is known.
#[derive(Clone, Copy)]
struct Entry(&'static [Plan], Structures, bool);

const P: Entry = Entry(PRODUCT, Structures::First, false);
const L: Entry = Entry(PRODUCT, Structures::Last, false);
const C: Entry = Entry(PRODUCT, Structures::Comparison, false);
const N: Entry = Entry(OTHER, Structures::First, false);
const Q: Entry = Entry(QUOTIENT, Structures::Comparison, false);
const P_ASIDE: Entry = Entry(PRODUCT, Structures::First, true);
const L_ASIDE: Entry = Entry(PRODUCT, Structures::Last, true);
const Q_ASIDE: Entry = Entry(QUOTIENT, Structures::Comparison, true);
const T: Entry = Entry(THEN, Structures::Any, false);
const T_ASIDE: Entry = Entry(THEN, Structures::Any, true);
const I: Entry = Entry(INSIDE, Structures::Any, false);
const I_ASIDE: Entry = Entry(INSIDE, Structures::Any, true);
const F: Entry = Entry(THREE, Structures::Any, false);
const F_ASIDE: Entry = Entry(THREE, Structures::Any, true);
const W: Entry = Entry(TWICE, Structures::Any, false);

/// The course of a spot; it is gone through again where more stories are wanted. Support has one
/// idea and small numbers; core mixes in stories that are no product from the third on; stretch has
/// numbers that are not needed and comparisons the other way round.
fn course(kind: StoryKind, spot: Spot, part: u32) -> &'static [Entry] {
    match (kind, spot, part) {
        (StoryKind::OneStep, Spot::Support, 0 | 1) => &[P, P, P, P],
        (StoryKind::OneStep, Spot::Support, _) => &[P, P, N, P],
        (StoryKind::OneStep, Spot::Stretch, _) => &[P_ASIDE, Q, N, L_ASIDE, Q_ASIDE, C],
        (StoryKind::OneStep, Spot::Example, 0 | 1) => &[P, N],
        (StoryKind::OneStep, Spot::Example, _) => &[L, Q],
        (StoryKind::OneStep, Spot::ExitCheck, 0 | 1) => &[P, N, P],
        (StoryKind::OneStep, Spot::ExitCheck | Spot::Test, _) => &[P, Q, P_ASIDE, N],
        (StoryKind::OneStep, _, 0 | 1) => &[P, P, N, P, N, P],
        (StoryKind::OneStep, _, _) => &[P, C, N, L, Q, P, N, L],
        (StoryKind::TwoStep, Spot::Support, 0 | 1) => &[T, T, T, T],
        (StoryKind::TwoStep, Spot::Support, 2) => &[T, I, T, F],
        (StoryKind::TwoStep, Spot::Support, _) => &[I, T, F, T],
        (StoryKind::TwoStep, Spot::Stretch, _) => &[T_ASIDE, I, W, I_ASIDE, Q_ASIDE, F_ASIDE],
        (StoryKind::TwoStep, Spot::Example, 0 | 1) => &[T, T],
        (StoryKind::TwoStep, Spot::Example, 2) => &[I, F],
        (StoryKind::TwoStep, Spot::Example, _) => &[W, I],
        (StoryKind::TwoStep, Spot::ExitCheck, 0 | 1) => &[T, T, N],
        (StoryKind::TwoStep, Spot::ExitCheck | Spot::Test, _) => &[T, I, T_ASIDE, F],
        (StoryKind::TwoStep, _, 0 | 1) => &[T, T, P, N, T],
        (StoryKind::TwoStep, _, 2) => &[I, T, P, F, N, T],
        (StoryKind::TwoStep, _, _) => &[W, I, N, T, F, L],
    }
}

fn size(longer: u32, shorter: u32) -> StorySize {
    StorySize { longer, shorter }
}

/// The sizes of a set's stories, the usual one first: numbers that suit the written methods which
/// the story skills need (up to three digits by one, then three by two).
fn sizes(kind: StoryKind, spot: Spot, part: u32) -> Vec<StorySize> {
    match (kind, spot, part) {
        (StoryKind::OneStep, Spot::Support | Spot::WarmUp, _) => vec![size(2, 1)],
        (StoryKind::OneStep, Spot::Core | Spot::Guided | Spot::Example, 0 | 1) => {
            vec![size(3, 1), size(2, 1)]
        }
        (StoryKind::OneStep, _, _) => vec![size(3, 1)],
        (StoryKind::TwoStep, Spot::Support | Spot::WarmUp, 0..=2) => vec![size(2, 1)],
        (StoryKind::TwoStep, Spot::Support, _) => vec![size(2, 1), size(3, 1)],
        (StoryKind::TwoStep, Spot::Stretch | Spot::Test, _) => vec![size(3, 2), size(2, 2)],
        (StoryKind::TwoStep, _, 0 | 1) => vec![size(2, 2), size(3, 1)],
        (StoryKind::TwoStep, _, _) => vec![size(3, 2), size(2, 2), size(3, 1)],
    }
}

/// What the stories of a set must be like, `count` of them. With `own_size` the products have that
/// size wherever there is a scene for it.
pub(super) fn wants(
    kind: StoryKind,
    own_size: Option<StorySize>,
    request: &Request,
    count: usize,
) -> Vec<Want> {
    let entries = course(kind, request.spot, request.part);
    let usual = sizes(kind, request.spot, request.part);
    // Where few stories stand among other sums, they are not always the first of the course.
    let begin = if deal::is_lesson(request) { 0 } else { deal::begins(request, entries.len()) };
    let nth = |index: usize| {
        let Entry(plans, structures, aside) = entries[(begin + index) % entries.len()];
        let mut sizes: Vec<StorySize> = own_size.into_iter().collect();
        sizes.extend((0..usual.len()).map(|n| usual[(index + n) % usual.len()]));
        sizes.extend([size(3, 1), size(2, 1)]);
        Want { plans, structures, sizes, aside }
    };
    (0..count).map(nth).collect()
}
