//! Questions to ask the class in the guided part, with their answers.

use super::{Question, Section, SectionName};
use crate::exercise::{Given, Item, Kind, Space, Working};
use crate::method::{HouseStyle, Long, estimate};

/// At most so many stand on the teacher's page.
const MOST: usize = 4;

/// Questions on the items of guided practice: first how to begin and how large, then what is left
/// to finish.
pub fn questions(sections: &[Section], style: &HouseStyle) -> Vec<Question> {
    let guided: Vec<&Item> =
        sections.iter().filter(|s| s.name == SectionName::Guided).flat_map(|s| &s.items).collect();
    let mut asked = Vec::new();
    if let Some(Working::Long(long)) = guided.first().map(|item| &item.working) {
        asked.extend(before_writing(guided[0], long, style));
    }
    let mut reason = "";
    for item in guided {
        // A long reason is not told twice in a row.
        let own = reason_of(item);
        asked.push(of_item(item, if own == reason { "" } else { own }, style));
        reason = own;
    }
    asked.truncate(MOST);
    asked
}

/// Why the first step of a route may be done.
fn reason_of(item: &Item) -> &str {
    match &item.working {
        Working::Route(route) => route.steps.first().map_or("", |step| step.reason.as_str()),
        _ => "",
    }
}

/// What an item asks, without what to do on paper.
fn question_of(item: &Item) -> &str {
    item.prompt.trim_end()
}

/// The sum an item is about, where it prints one or works one out; its rounding may have begun.
fn about(item: &Item, style: &HouseStyle) -> Option<String> {
    if matches!(item.kind, Kind::Choice | Kind::Reason | Kind::Words) {
        return None;
    }
    let begun = item.prompt.split('≈').next().map(|sum| sum.trim_end().to_owned());
    bare_sum(item, style).or(begun.filter(|sum| sum.contains('×') && !sum.contains('=')))
}

/// The product an item asks for as the class writes it: "6,283 × 347".
pub fn bare_sum(item: &Item, style: &HouseStyle) -> Option<String> {
    if item.kind == Kind::Estimate {
        // Its expression is the estimate; the sum is what is printed.
        return (item.sign() == "≈").then(|| item.prompt.clone());
    }
    let (a, b) = item.expression.as_deref()?.split_once('*')?;
    let (a, b) = (a.trim().parse().ok()?, b.trim().parse().ok()?);
    Some(format!("{}\u{a0}×\u{a0}{}", style.number(a), style.number(b)))
}

fn ask(ask: String, answer: String) -> Question {
    Question { ask, answer }
}

/// How many rows with how many zeros, and between which numbers.
fn before_writing(item: &Item, long: &Long, style: &HouseStyle) -> Vec<Question> {
    let mut asked = Vec::new();
    if long.rows.len() > 1 {
        let zeros = |place: u64| in_letters(usize::try_from(place.ilog10()).unwrap_or(0));
        let each: Vec<String> = long.rows.iter().map(|row| zeros(row.place)).collect();
        asked.push(ask(
            format!("How many rows will {} have, with how many zeros first in each?", item.prompt),
            format!("{}: {}", in_letters(long.rows.len()), each.join(", ")),
        ));
    }
    let (least, most) = estimate(long.a, long.b).between;
    asked.push(ask(
        format!("Between which round numbers does {} lie?", item.prompt),
        format!("{} and {}", style.number(least), style.number(most)),
    ));
    asked
}

fn in_letters(n: usize) -> String {
    ["none", "one", "two", "three", "four", "five", "six"]
        .get(n)
        .map_or_else(|| n.to_string(), |word| (*word).to_owned())
}

/// What is left to do in an item.
fn of_item(item: &Item, reason: &str, style: &HouseStyle) -> Question {
    let grouped = |answer: &str| answer.parse().map_or(answer.to_owned(), |n| style.number(n));
    let answer = grouped(&item.answer);
    let sum = about(item, style);
    match (&item.working, &item.space) {
        (Working::Long(long), Space::Squares { given: Given::AllButLast(left), .. }) => {
            finish(item, long, usize::from(*left), &grouped)
        }
        (Working::Long(long), Space::Squares { given: Given::But { line }, .. }) => {
            one_line(item, long, usize::from(*line), style)
        }
        (Working::Route(_), _) if sum.is_some() => {
            let how = if reason.is_empty() {
                String::new()
            } else {
                format!("{}; ", style.typeset(reason))
            };
            ask(
                format!("How would you do {} in your head?", sum.unwrap_or_default()),
                format!("{how}{answer}"),
            )
        }
        (Working::Estimate(about), _) if sum.is_some() => ask(
            format!("About how much is {}?", sum.unwrap_or_default()),
            format!("{}\u{a0}=\u{a0}{answer}", style.sum(about.factors[0], about.factors[1])),
        ),
        _ if item.sign() == "=" => ask(format!("What is {}?", item.prompt), answer),
        _ => ask(question_of(item).to_owned(), answer),
    }
}

/// "Which row × 30 is missing in 47 × 36, and how does it begin?"
fn one_line(item: &Item, long: &Long, line: usize, style: &HouseStyle) -> Question {
    match long.rows.get(line) {
        Some(row) => ask(
            format!(
                "What belongs in the row ×\u{a0}{} of {}?",
                style.number(u64::from(row.digit) * row.place),
                item.prompt
            ),
            style.number(row.value),
        ),
        None => ask(format!("Add the rows of {}.", item.prompt), style.number(long.value)),
    }
}

/// "Finish the last two rows of 2,418 × 356 on your own."
fn finish(item: &Item, long: &Long, left: usize, grouped: &dyn Fn(&str) -> String) -> Question {
    let mut lines: Vec<u64> = long.rows.iter().map(|row| row.value).collect();
    if long.rows.len() > 1 {
        lines.push(long.value);
    }
    let what = match left {
        1 => "Finish the last line".to_owned(),
        n if n >= lines.len() => "Work out all lines".to_owned(),
        n => format!("Finish the last {} lines", in_letters(n)),
    };
    let last = &lines[lines.len().saturating_sub(left.max(1))..];
    let values: Vec<String> = last.iter().map(|n| grouped(&n.to_string())).collect();
    ask(format!("{what} of {}.", item.prompt), values.join("; "))
}
