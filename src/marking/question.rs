//! One marked item: what is right, and what each error pattern would answer.

use super::answers::TICK;
use super::marks::Otherwise;
use super::pairs::{Both, all_together};
use super::units::without_unit;
use super::written::{answer, plain_number, without_money};
use crate::exercise::patterns::{Family, Pattern, Task, pattern, shows_in};
use crate::exercise::{Accept, Item, Kind, Working};
use crate::method::Written;
use crate::number::digit_count;
use indexmap::IndexMap;
use std::cell::OnceCell;

/// A marked item, with everything that marking asks of it.
pub(super) struct Question<'a> {
    pub item: &'a Item,
    /// By pattern: the wrong answers it gives, each with its share. They add up to one, or to less
    /// where the pattern shows only when the numbers are taken the other way round.
    pub predicted: IndexMap<String, Vec<(String, f64)>>,
    /// By pattern: those of its answers that it gives only with the numbers the other way round.
    turned: IndexMap<String, Vec<String>>,
    /// Over how many answers a slip is spread that looks like nothing known.
    spread: f64,
    /// By wrong answer: the share of the slips that look like a pattern which it takes.
    alike: IndexMap<String, f64>,
    /// Whether its working has several rows.
    pub several_rows: bool,
    /// By answer: which two patterns in one sum give it; found when first asked for.
    together: OnceCell<IndexMap<String, Vec<Both>>>,
}

/// A slip that looks like nothing known lands on one of about sixty answers (a default without a source); on a choice's other
/// options it can land on no more than there are.
const SPREAD: f64 = 60.0;

/// How many slips come out as some pattern's answer though the pupil does not have it: where the
/// patterns give n answers, four in n, and at most every second (a default without a source). Where
/// few wrong answers lie near at hand, in a story or with zeros, a slip often lands on one of them;
/// with more such slips fewer pupils are named wrongly, and fewer rightly too: `DEVELOPERS.md` has
/// the figures.
const LIKE_ONE: f64 = 4.0;
const LIKE_ONE_MOST: f64 = 0.5;

/// How likely pupils take the numbers the usual way round, the longer one on top, against the
/// other way round: numbers of equal length are turned more easily (a default without a source).
fn usual(task: Option<&Task>) -> f64 {
    match task {
        Some(Task::Written(a, b) | Task::Mental(a, b)) if digit_count(*a) == digit_count(*b) => 3.0,
        _ => 9.0,
    }
}
const TURNED: f64 = 1.0;

impl<'a> Question<'a> {
    pub fn of(item: &'a Item) -> Question<'a> {
        let mut weights: IndexMap<String, Vec<(String, f64)>> = IndexMap::new();
        let mut expect = |pattern: &str, answer: String, weight: f64| {
            let known = weights.entry(pattern.to_owned()).or_default();
            if known.iter().all(|(a, _)| *a != answer) {
                known.push((answer, weight));
            }
        };
        let task = Task::of(item);
        let usual = usual(task.as_ref());
        if let Some(task) = &task {
            let method = method_of(item);
            let fits = |pattern: &Pattern| method.is_none_or(|m| shows_in(pattern, m));
            for prediction in task.predictions().iter().filter(|p| fits(p.pattern)) {
                for &(answer, turned) in &prediction.answers {
                    let weight = if turned { TURNED } else { usual };
                    expect(prediction.pattern.name, answer.to_string(), weight);
                }
            }
        }
        for likely in &item.likely {
            let said = answer(&likely.answer).unwrap_or_default();
            likely.patterns.iter().for_each(|pattern| expect(pattern, said.clone(), usual));
        }
        for choice in item.choices.iter().filter(|c| !c.correct) {
            let said = answer(&choice.text).unwrap_or_default();
            choice.pattern.iter().for_each(|pattern| expect(pattern, said.clone(), usual));
        }
        let wrong_options = item.choices.iter().filter(|c| !c.correct).count();
        let spread = match u32::try_from(wrong_options) {
            Ok(options @ 1..) => f64::from(options),
            _ => SPREAD,
        };
        let several_rows = match task {
            Some(Task::Written(a, b)) => a.min(b) >= 10,
            Some(Task::Row { place, .. }) => place > 1,
            _ => false,
        };
        let mut question = Question {
            item,
            predicted: IndexMap::new(),
            turned: IndexMap::new(),
            spread,
            alike: IndexMap::new(),
            several_rows,
            together: OnceCell::new(),
        };
        for (pattern, mut answers) in weights {
            answers.retain(|(answer, _)| !question.is_right(answer));
            let mut all: f64 = answers.iter().map(|(_, weight)| weight).sum();
            if answers.iter().all(|&(_, weight)| weight < usual) {
                all *= usual + TURNED;
            }
            let turned = answers.iter().filter(|(_, weight)| *weight < usual);
            let turned: Vec<String> = turned.map(|(answer, _)| answer.clone()).collect();
            answers.iter_mut().for_each(|(_, weight)| *weight /= all);
            // In the head it is all the same which number is said first.
            let on_paper = matches!(task, Some(Task::Written(..)));
            if on_paper && !turned.is_empty() {
                question.turned.insert(pattern.clone(), turned);
            }
            if !answers.is_empty() {
                question.predicted.insert(pattern, answers);
            }
        }
        question.leave_out_zeros_told_by_rows();
        question.alike = slips_alike(&question.predicted);
        question
    }

    /// In a sum of several rows a zero left out at the end is a row that was put in a wrong place: what
    /// the zeros' own patterns give there, for sums in the head, and a pattern of long multiplication
    /// gives as well, is one mistake and has one name, or neither could ever be named.
    fn leave_out_zeros_told_by_rows(&mut self) {
        if !self.several_rows {
            return;
        }
        let is = |name: &str, family| pattern(name).is_some_and(|p| p.family == family);
        let mut by_rows: Vec<String> = Vec::new();
        for (name, answers) in self.predicted.iter().filter(|(name, _)| is(name, Family::Long)) {
            let turned = self.turned.get(name);
            let usual = answers.iter().filter(|(a, _)| turned.is_none_or(|t| !t.contains(a)));
            by_rows.extend(usual.map(|(answer, _)| answer.clone()));
        }
        let told = |answers: &[(String, f64)]| answers.iter().all(|(a, _)| by_rows.contains(a));
        self.predicted.retain(|name, answers| !is(name, Family::Zeros) || !told(answers));
    }

    /// How likely a slip comes out as this answer.
    pub fn slip(&self, given: &str) -> f64 {
        if self.alike.is_empty() {
            return 1.0 / self.spread;
        }
        let like_one = self.alike.get(given).copied().unwrap_or(0.0);
        let answers = f64::from(u32::try_from(self.alike.len()).unwrap_or(u32::MAX));
        let of_these = (LIKE_ONE / answers).min(LIKE_ONE_MOST);
        of_these * like_one + (1.0 - of_these) / self.spread
    }

    /// Which two patterns in one sum give this answer.
    pub fn together(&self, given: &str) -> &[Both] {
        let all = self.together.get_or_init(|| match self.several_rows {
            true => all_together(self.item),
            false => IndexMap::new(),
        });
        all.get(given).map_or(&[], Vec::as_slice)
    }

    /// The answer as it counts, without money before a number: for a choice the text of the option
    /// whose letter was given.
    pub fn meant(&self, given: &str) -> String {
        let (_, given) = without_money(given);
        let choices = &self.item.choices;
        let letter = given.trim_end_matches([')', '.']).to_uppercase();
        let texts = choices.iter().map(|c| answer(&c.text).unwrap_or_default());
        let named: Vec<String> = texts.collect();
        if named.iter().any(|text| text == given) {
            return given.to_owned();
        }
        let option = ('A'..='Z').zip(named).find(|(c, _)| c.to_string() == letter);
        match option {
            Some((_, text)) => text,
            None if self.item.kind == Kind::Story => without_unit(given),
            None => given.to_owned(),
        }
    }

    /// Whether an answer, already [`Question::meant`], is right.
    pub fn is_right(&self, given: &str) -> bool {
        if given == TICK || same(given, &self.item.answer) {
            return true;
        }
        match &self.item.accept {
            None => false,
            Some(Accept::Any(right)) => right.iter().any(|r| same(given, r)),
            Some(Accept::Between { least, most }) => {
                let number = |text: &str| text.parse::<u128>().ok();
                match (number(given), number(least), number(most)) {
                    (Some(given), Some(least), Some(most)) => (least..=most).contains(&given),
                    _ => false,
                }
            }
        }
    }

    /// A right answer as it counts: for a choice the right option's text.
    pub fn right(&self) -> String {
        self.meant(&answer(&self.item.answer).unwrap_or_default())
    }

    /// Whether two patterns give the same answers, or both none.
    pub fn alike(&self, one: &str, other: &str) -> bool {
        let answers = |name: &str| -> Vec<&str> {
            let all = self.predicted.get(name).into_iter().flatten();
            all.map(|(answer, _)| answer.as_str()).collect()
        };
        answers(one) == answers(other)
    }

    /// The patterns that give this wrong answer if the sum was worked by another method than it
    /// asks for: the long way first.
    pub fn otherwise(&self, given: &str) -> Option<Otherwise> {
        let (own, task) = (method_of(self.item)?, Task::of(self.item)?);
        let all = task.predictions();
        let by = |method: Written| -> Vec<String> {
            let gives =
                |answers: &[(u64, bool)]| answers.iter().any(|(a, _)| a.to_string() == given);
            let fits = all.iter().filter(|p| shows_in(p.pattern, method) && gives(&p.answers));
            fits.map(|p| p.pattern.name.to_owned()).collect()
        };
        let others = [Written::Long, Written::Grid, Written::Lattice];
        let mut others = others.into_iter().filter(|method| *method != own);
        others.find_map(|method| {
            let patterns = by(method);
            (!patterns.is_empty()).then_some(Otherwise { method, patterns })
        })
    }

    /// The patterns that give this wrong answer; where none does, those of another method, and which.
    pub fn given_by(&self, given: &str) -> (Vec<String>, Option<Written>) {
        let own = self.patterns_of(given);
        let other = if own.is_empty() { self.otherwise(given) } else { None };
        other.map_or((own, None), |other| (other.patterns, Some(other.method)))
    }

    /// Which of the patterns that give this wrong answer do so only with the numbers the other way
    /// round.
    pub fn turned(&self, given: &str) -> Vec<String> {
        let turned = self.turned.iter().filter(|(_, answers)| answers.iter().any(|a| a == given));
        turned.map(|(pattern, _)| pattern.clone()).collect()
    }

    /// The patterns that give this wrong answer.
    pub fn patterns_of(&self, given: &str) -> Vec<String> {
        let gives = |answers: &[(String, f64)]| answers.iter().any(|(a, _)| a == given);
        let found = self.predicted.iter().filter(|(_, answers)| gives(answers));
        found.map(|(pattern, _)| pattern.clone()).collect()
    }
}

/// How the slips that look like a pattern share out over the patterns' answers: as the patterns
/// weigh.
fn slips_alike(predicted: &IndexMap<String, Vec<(String, f64)>>) -> IndexMap<String, f64> {
    let mut alike: IndexMap<String, f64> = IndexMap::new();
    let mut all = 0.0;
    for (name, answers) in predicted {
        let weight = f64::from(pattern(name).map_or(3, |p| p.weight));
        for (answer, share) in answers {
            *alike.entry(answer.clone()).or_insert(0.0) += weight * share;
            all += weight * share;
        }
    }
    alike.values_mut().for_each(|share| *share /= all);
    alike
}

/// The written method an item is to be done by.
pub(super) fn method_of(item: &Item) -> Option<Written> {
    match (item.kind, &item.working) {
        (Kind::Written | Kind::Row, Working::Grid(_)) => Some(Written::Grid),
        (Kind::Written, Working::Lattice(_)) => Some(Written::Lattice),
        (Kind::Written, _) => Some(Written::Long),
        _ => None,
    }
}

/// Numbers are compared as numbers, words without regard to capitals, hyphens and "and". Where a
/// number is asked for, nothing else is right: −8,280 is not 8,280.
fn same(given: &str, right: &str) -> bool {
    if let Some(right) = plain_number(right) {
        return plain_number(given) == Some(right);
    }
    let words = |text: &str| -> Vec<String> {
        let lower = text.to_lowercase();
        let parts = lower.split(|c: char| !c.is_alphanumeric());
        parts.filter(|w| !w.is_empty() && *w != "and").map(str::to_owned).collect()
    };
    let given = words(given);
    !given.is_empty() && given == words(right)
}
