//! Go on, take a group, or re-teach.
//!
//! From 80 % of the pupils on the class goes on, from 50 % on it goes on and a group is taken,
//! below that the lesson is taught again (common practice, no source). A short check sorts pupils
//! for tomorrow; it certifies nobody.

use super::marks::ItemMark;
use crate::words::{and, count, join};
use serde::{Deserialize, Serialize};

/// What to do with tomorrow's lesson.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "kebab-case")]
pub enum Decision {
    /// The class goes on.
    GoOn,
    /// The class goes on, a group is taken.
    TakeAGroup,
    /// The lesson is taught again.
    ReTeach,
    /// Nobody has answered, or too few are counted.
    Undecided,
}

impl Decision {
    /// As a teacher says it.
    pub fn in_words(self) -> &'static str {
        match self {
            Decision::GoOn => "go on",
            Decision::TakeAGroup => "take a group",
            Decision::ReTeach => "re-teach",
            Decision::Undecided => "cannot be decided",
        }
    }
}

/// The class as a whole.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Class {
    /// The share of pupils who passed, 0 to 1, to four decimals; where only piles of slips were
    /// counted the most it can be: the smallest share right of any item (of a test the share of
    /// right answers). Null where nobody answered.
    pub pass_share: Option<f64>,
    /// What to do.
    pub decision: Decision,
    /// Why, in a sentence or two.
    pub because: String,
}

impl Class {
    /// The same where so many rows could not be read: beside a third and more of such rows nobody can
    /// say anything of the class.
    pub(super) fn without_rows(mut self, unread: u32, counted: usize) -> Class {
        let unread = usize::try_from(unread).unwrap_or(usize::MAX);
        let all = counted.saturating_add(unread);
        if unread > 0 && counted * MOST_OF.1 < all.saturating_mul(MOST_OF.0) {
            self.decision = Decision::Undecided;
            self.because = format!(
                "{unread} of {} could not be read: mend them and mark again. {}",
                count(all, "row"),
                self.because
            );
        }
        self
    }
}

/// How one pupil did.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Tally {
    pub right: usize,
    pub answered: usize,
    /// How many items there are that anybody answered.
    pub asked: usize,
}

/// Percent of pupils from which on the class goes on, and from which on only a group is taken.
const GO_ON: usize = 80;
const GROUP: usize = 50;
/// Percent of a unit test that is a pass (common practice, no source).
pub(super) const TEST_PASS: usize = 80;

impl Tally {
    /// Whether the pupil passed; `None` where what is not answered could still decide it. Of a check
    /// nobody is counted who did not finish: else those with a mistake would count and those without
    /// one would not.
    fn passed(self, test: bool) -> Option<bool> {
        let open = self.asked.saturating_sub(self.answered);
        let enough = |right: usize| right * 100 >= TEST_PASS * self.asked;
        match (test, open) {
            (false, 0) => Some(self.right == self.answered),
            (true, _) if enough(self.right) => Some(true),
            (true, _) if !enough(self.right + open) => Some(false),
            _ => None,
        }
    }
}

/// The items left out of a decision because nobody answered them.
fn left_out(items: &[ItemMark]) -> Vec<&str> {
    items.iter().filter(|i| !i.answered()).map(|i| i.id.as_str()).collect()
}

/// Of fewer pupils or answers than this, where the class has more, and of fewer than two thirds of
/// who was there or of the items, nobody can say that the class goes on (defaults without a source).
const FEWEST: usize = 5;
const MOST_OF: (usize, usize) = (2, 3);

/// Who stands behind a decision: so many of so many who were there, in a class of so many.
#[derive(Debug, Clone, Copy)]
struct Counted {
    counted: usize,
    present: usize,
    class: usize,
}

impl Counted {
    /// Of slips: whether a third and more of the class is not counted and could turn a lesson that is to
    /// be taught again round. Who counts only the wrong slips has not counted the class.
    fn could_turn(self, decided: &Class) -> bool {
        let Some(share) = decided.pass_share else { return false };
        let missing = self.class.saturating_sub(self.counted);
        let most = share * f64::from(small(self.counted)) + f64::from(small(missing));
        decided.decision == Decision::ReTeach
            && self.counted * MOST_OF.1 < self.class * MOST_OF.0
            && most * 100.0 >= f64::from(small(GROUP * self.class))
    }
    /// Whether these are too few to say that the class goes on.
    fn too_few(self) -> bool {
        self.counted < FEWEST.min(self.class) || self.counted * MOST_OF.1 < self.present * MOST_OF.0
    }
}

/// The decision for these pupils of a class of so many; for these items, version by version, where
/// only piles were counted.
pub(super) fn decide(
    pupils: &[Tally],
    versions: &[Vec<ItemMark>],
    test: bool,
    class: usize,
) -> Class {
    let (counted, mut decided) = by_rule(pupils, versions, test, class);
    let goes_on = decided.decision == Decision::GoOn;
    let piles = pupils.is_empty();
    let items: Vec<ItemMark> = versions.concat();
    let items = items.as_slice();
    let little = items.len() - left_out(items).len();
    if goes_on && counted.too_few() || piles && counted.could_turn(&decided) {
        decided.decision = Decision::Undecided;
        decided.because = format!("{} {}", too_few(counted, versions, piles), decided.because);
    } else if goes_on && little * MOST_OF.1 < items.len() * MOST_OF.0 {
        let all = count(items.len(), "item");
        decided.decision = Decision::Undecided;
        decided.because = format!(
            "Too little is counted, {little} of {all}, to say that the class goes on: count the \
             answers to the others, then mark again; or ask them once more tomorrow. {}",
            decided.because
        );
    } else if decided.pass_share.is_some() && counted.counted < FEWEST.min(counted.class) {
        let Counted { counted, class, .. } = counted;
        let are = if counted == 1 { "is" } else { "are" };
        let only =
            format!(" Only {counted} of a class of {class} {are} counted: mark the others first.");
        decided.because += &only;
    }
    decided
}

/// That too few are counted, and what to do.
fn too_few(counted: Counted, versions: &[Vec<ItemMark>], piles: bool) -> String {
    let Counted { counted, present, class } = counted;
    let sparse_of = |items: &'_ Vec<ItemMark>| -> Vec<String> {
        let few = |item: &&ItemMark| item.slips() * 3 < most_slips(items) * 2;
        items.iter().filter(few).map(|item| item.id.clone()).collect()
    };
    let sparse: Vec<String> = versions.iter().flat_map(sparse_of).collect();
    let of = if piles && present > counted {
        format!("{counted} of {present} slips")
    } else if present > counted {
        format!("{counted} of the {present} who were there")
    } else {
        format!("{counted} of a class of {class}")
    };
    let what = if piles { "the slips" } else { "the answers" };
    let remedy = match sparse.as_slice() {
        [] => format!("count {what} that are missing, then mark again"),
        some => format!(
            "count {what} to {} that are missing, then mark again; or ask that once more tomorrow",
            and(some)
        ),
    };
    format!("Too few are counted, {of}, to say what the class needs: {remedy}.")
}

/// A version whose slips were counted in piles.
pub(super) struct ByPiles<'a> {
    pub version: &'a str,
    pub items: &'a [ItemMark],
}

/// One decision for a class of whom one version of a check was marked by pupils and the other by
/// piles of slips: who has all of it right of the one, and of the other the hardest item, which no
/// more pupils can have right. Of a test, where answers say nothing of pupils, the first's decision.
pub(super) fn decide_apart(
    (version, pupils, mut class): (&str, &[Tally], Class),
    piles: &ByPiles,
    test: bool,
    size: usize,
) -> Class {
    let &ByPiles { version: other, items } = piles;
    let why = format!(
        "Version {version} was marked by pupils and version {other} by piles of slips, which do not \
         tell whose answers belong together"
    );
    let verdicts: Vec<bool> = pupils.iter().filter_map(|p| p.passed(test)).collect();
    let (passed, of) = (verdicts.iter().filter(|&&passed| passed).count(), verdicts.len());
    let hardest = items.iter().filter(|item| item.answered());
    let share = |item: &&ItemMark| u64::from(item.right) * u64::from(u32::MAX) / item.slips();
    let Some(hardest) = hardest.min_by_key(share).filter(|_| !test && of > 0) else {
        class.because = format!("{why}: this is of version {version} alone. {}", class.because);
        return class;
    };
    let (right, slips) = sums(std::slice::from_ref(hardest));
    let what = format!(
        "{why}. Of version {version} {passed} of {of} have all of it right, and of version {other} at \
         most {right} of {slips}, for so many have {} right: together at most {} of {}",
        hardest.id,
        passed + right,
        of + slips
    );
    let mut decided = by_share(passed + right, of + slips, &what);
    let few = |of: fn(&[ItemMark]) -> u64| usize::try_from(of(items)).unwrap_or(usize::MAX);
    let present = pupils.len().saturating_add(few(most_slips));
    let counted = of.saturating_add(few(fewest_slips));
    let counted = Counted { counted, present, class: size.max(present) };
    if size > present {
        decided.because += &format!(
            " Of {size} in the class {present} are counted; who the others are slips do not tell."
        );
    }
    if decided.decision == Decision::GoOn && counted.too_few() {
        decided.decision = Decision::Undecided;
        let too_few = too_few(counted, &[items.to_vec()], false);
        decided.because = format!("{too_few} {}", decided.because);
    }
    decided
}

/// What the shares alone say, and how many stand behind it.
fn by_rule(
    pupils: &[Tally],
    versions: &[Vec<ItemMark>],
    test: bool,
    size: usize,
) -> (Counted, Class) {
    let items: Vec<ItemMark> = versions.concat();
    let present = if pupils.is_empty() { sum_of(versions, most_slips) } else { pupils.len() };
    let by = |counted: usize| Counted { counted, present, class: size.max(present) };
    let verdicts: Vec<Option<bool>> = pupils.iter().map(|p| p.passed(test)).collect();
    let passed = verdicts.iter().filter(|v| **v == Some(true)).count();
    let of = verdicts.iter().flatten().count();
    let unfinished = verdicts.len() - of;
    let have = if of == 1 || passed == 1 { "has" } else { "have" };
    let what = if test { "at least 80 % of the test right" } else { "all of it right" };
    // Where fewer than half finished, those who did are not the class.
    if of > 0 && (test || unfinished <= of) {
        let mut class =
            by_share(passed, of, &format!("{passed} of {} {have} {what}", count(of, "pupil")));
        class.because += &not_counted(unfinished, &items);
        return (by(of), class);
    }
    let why = match (unfinished, of) {
        (0, _) => "slips were counted",
        (_, 0) => "nobody answered every item",
        _ => "fewer than half answered every item",
    };
    if present == 0 || !items.iter().any(ItemMark::answered) {
        let because = "Nobody has answered.".to_owned();
        return (by(0), Class { pass_share: None, decision: Decision::Undecided, because });
    }
    // Of slips no more are known to be whole than the item has that fewest answered.
    let counted = by(if pupils.is_empty() { sum_of(versions, fewest_slips) } else { of });
    let mut class = if test { by_answers(&items, why) } else { by_hardest(versions, why) };
    class.because += &not_counted(unfinished, &items);
    class.because += &uneven(versions, pupils.is_empty());
    (counted, class)
}

fn sum_of(versions: &[Vec<ItemMark>], of: fn(&[ItemMark]) -> u64) -> usize {
    let all = versions.iter().map(|items| of(items)).fold(0, u64::saturating_add);
    usize::try_from(all).unwrap_or(usize::MAX)
}

/// The slips of the item that most answered.
fn most_slips(items: &[ItemMark]) -> u64 {
    items.iter().map(ItemMark::slips).max().unwrap_or(0)
}

/// The slips of the item that fewest answered, of those that were answered at all.
fn fewest_slips(items: &[ItemMark]) -> u64 {
    items.iter().filter(|item| item.answered()).map(ItemMark::slips).min().unwrap_or(0)
}

/// Of a check: whoever has all of it right has each item right, so that the hardest item of each
/// version bounds them.
fn by_hardest(versions: &[Vec<ItemMark>], why: &str) -> Class {
    let share = |item: &&&ItemMark| u64::from(item.right) * u64::from(u32::MAX) / item.slips();
    let hardest = |items: &'_ Vec<ItemMark>| -> Option<ItemMark> {
        let answered: Vec<&ItemMark> = items.iter().filter(|item| item.answered()).collect();
        answered.iter().min_by_key(share).map(|item| (**item).clone())
    };
    let hardest: Vec<ItemMark> = versions.iter().filter_map(hardest).collect();
    let ids: Vec<&str> = hardest.iter().map(|item| item.id.as_str()).collect();
    let (right, of) = sums(&hardest);
    let what = format!(
        "{why}; on {} {right} of {} {} right, and at most so many pupils have all of it right",
        join(&ids, "and"),
        count(of, "answer"),
        are(of)
    );
    by_share(right, of, &what)
}

/// Of a test: the share of right answers.
fn by_answers(items: &[ItemMark], why: &str) -> Class {
    let (right, of) = sums(items);
    by_share(right, of, &format!("{why}, and {right} of {} {} right", count(of, "answer"), are(of)))
}

/// How many answers to these items are right, and how many there are.
fn sums(items: &[ItemMark]) -> (usize, usize) {
    let right = items.iter().map(|item| u64::from(item.right)).sum::<u64>();
    let of = items.iter().map(ItemMark::slips).sum::<u64>();
    (usize::try_from(right).unwrap_or(1), usize::try_from(of).unwrap_or(1).max(1))
}

/// Where slips were counted, how many of them an item lacks.
fn uneven(versions: &[Vec<ItemMark>], piles: bool) -> String {
    let mut lacking = Vec::new();
    for items in versions {
        let most = most_slips(items);
        let less = items.iter().filter(|item| item.answered() && item.slips() < most);
        lacking.extend(less.map(|item| format!("{} on {}", most - item.slips(), item.id)));
    }
    if lacking.is_empty() || !piles {
        return String::new();
    }
    format!(" Not counted, for no slip tells: {}.", join(&lacking, "and"))
}

fn are(of: usize) -> &'static str {
    if of == 1 { "is" } else { "are" }
}

/// Who and what is left out of the decision, and why.
fn not_counted(unfinished: usize, items: &[ItemMark]) -> String {
    let mut out = String::new();
    if unfinished > 0 {
        let who = count(unfinished, "pupil");
        out += &format!(
            " Not counted, neither as right nor as wrong: {who} who did not answer every item."
        );
    }
    match left_out(items).as_slice() {
        [] => {}
        [one] => out += &format!(" {one} is left out: nobody answered it."),
        some => out += &format!(" {} are left out: nobody answered them.", and(some)),
    }
    out
}

fn by_share(passed: usize, of: usize, what: &str) -> Class {
    let percent = passed * 100 / of;
    let (decision, rule) = if passed * 100 >= GO_ON * of {
        (Decision::GoOn, format!("at {GO_ON} % or more the class goes on"))
    } else if passed * 100 >= GROUP * of {
        let rule = "the class goes on, and a group is taken in the next warm-up";
        (Decision::TakeAGroup, format!("from {GROUP} % to {} % {rule}", GO_ON - 1))
    } else {
        let rule = "a catch-up lesson is used to teach it again";
        (Decision::ReTeach, format!("below {GROUP} % {rule}"))
    };
    let mut because = format!("{what} ({percent} %): {rule}.");
    if let Some(first) = because.get(..1).map(str::to_uppercase) {
        because.replace_range(..1, &first);
    }
    let share = f64::from(small(passed)) / f64::from(small(of));
    let pass_share = Some((share * 10_000.0).round() / 10_000.0);
    Class { pass_share, decision, because }
}

fn small(n: usize) -> u32 {
    u32::try_from(n).unwrap_or(u32::MAX)
}
