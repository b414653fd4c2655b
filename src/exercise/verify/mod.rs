//! The second road to every answer: it shares no code with the first.
//!
//! An item is made by [`crate::method`] and the makers; here its printed question and its
//! expression are read and worked out anew, its working is multiplied by the schoolbook on decimal
//! strings, and its options, accepted and wrong answers are held against the answer. Only the
//! types are shared.

mod decimal;
mod expression;
mod figure;
mod judged;
mod options;
mod spoken;
mod text;
mod working;

use super::{Accept, Item, Kind, Space, Working};
use decimal::{multiply, proofs};
use text::{as_number, numbers, products, sums};

/// Nothing, or what is wrong.
type Checked = Result<(), String>;

fn fault(text: String) -> Checked {
    Err(text)
}

/// Checks an item; says what is wrong with it. A failure is a fault of ours.
///
/// # Errors
/// The first thing that is wrong, with the item's id.
pub fn verify(item: &Item) -> Result<(), String> {
    let checks =
        [expression, answer, working_of, choices, accepted, likely, prompt, space, figure::figure];
    checks
        .iter()
        .try_for_each(|check| check(item))
        .map_err(|wrong| format!("item `{}` ({}): {wrong}", item.id, item.prompt))
}

/// The answer as a number, where it is one.
fn number(item: &Item) -> Option<i128> {
    let plain = !item.answer.is_empty() && item.answer.bytes().all(|b| b.is_ascii_digit());
    if plain { item.answer.parse().ok() } else { None }
}

/// The factors of an expression `a*b`.
fn factors(item: &Item) -> Option<(u64, u64)> {
    let (a, b) = item.expression.as_deref()?.split_once('*')?;
    Some((a.parse().ok()?, b.parse().ok()?))
}

/// The expression evaluates to the answer; products have the bare form `a*b` and pass the proofs.
fn expression(item: &Item) -> Checked {
    let Some(text) = item.expression.as_deref() else {
        return match item.kind {
            Kind::Written | Kind::Row => fault("there is no expression".to_owned()),
            _ => Ok(()),
        };
    };
    if item.kind == Kind::Choice {
        return fault("a choice has an expression".to_owned());
    }
    let value = expression::evaluate(text)?;
    if number(item) != Some(value) {
        return fault(format!("`{text}` is {value}, not {}", item.answer));
    }
    let Some((a, b)) = factors(item) else {
        return match item.kind {
            Kind::Written | Kind::Row => fault(format!("`{text}` is not of the form a*b")),
            _ => Ok(()),
        };
    };
    let (a, b) = (a.to_string(), b.to_string());
    if multiply(&a, &b).as_ref() != Some(&item.answer) {
        return fault(format!("{a} * {b} is not {}", item.answer));
    }
    proofs(&a, &b, &item.answer)
}

fn answer(item: &Item) -> Checked {
    let leading_zero = item.answer.len() > 1 && item.answer.starts_with('0');
    match item.kind {
        _ if item.answer.trim().is_empty() => fault("there is no answer".to_owned()),
        Kind::Mental | Kind::Written | Kind::Row | Kind::Estimate
            if leading_zero || (item.expression.is_some() && number(item).is_none()) =>
        {
            fault(format!("the answer `{}` is not a number in digits", item.answer))
        }
        _ => Ok(()),
    }
}

/// The working is right in itself, and it is the working of this item.
fn working_of(item: &Item) -> Checked {
    working::check(&item.working)?;
    let results = working::results(&item.working);
    let has = |n: i128| results.iter().any(|r| i128::from(*r) == n);
    let wanted = match item.kind {
        Kind::Written | Kind::Mental => number(item).filter(|n| {
            // The whole is asked for, not a part of it.
            results.first().is_some_and(|whole| i128::from(*whole) != *n)
        }),
        Kind::Row | Kind::Story => number(item).filter(|n| !results.is_empty() && !has(*n)),
        Kind::Choice => as_number(&item.answer)
            .filter(|n| factors_stand(item) && !results.is_empty() && !has(*n)),
        _ => None,
    };
    if let Some(wanted) = wanted.filter(|n| !told(item, *n)) {
        return fault(format!("the working does not lead to {wanted}"));
    }
    match (&item.working, factors(item), working::factors(&item.working)) {
        (_, Some((a, b)), Some((x, y)))
            if item.kind == Kind::Written && (a, b) != (x, y) && (a, b) != (y, x) =>
        {
            fault(format!("the working is of {x} * {y}"))
        }
        (Working::Estimate(estimate), ..) => estimates(item, estimate),
        (Working::Story { story, .. }, ..) => match number(item) {
            Some(_) if !working::names(&story.sentence, &item.answer) => {
                fault(format!("the sentence “{}” does not give the answer", story.sentence))
            }
            Some(_) if !working::names_only(&story.sentence, item) => {
                fault(format!("the sentence “{}” tells another number", story.sentence))
            }
            _ => Ok(()),
        },
        _ => Ok(()),
    }
}

/// Whether the working is one that must give the answer of a choice among numbers.
fn factors_stand(item: &Item) -> bool {
    matches!(item.working, Working::Long(_) | Working::Grid(_) | Working::Lattice(_))
}

/// Whether a story's steps come to this number.
fn told(item: &Item, wanted: i128) -> bool {
    let Working::Story { story, .. } = &item.working else { return false };
    story.steps.iter().any(|step| sums(step).iter().any(|sides| sides.contains(&wanted)))
}

/// An estimate that is asked of one printed product is that product's.
fn estimates(item: &Item, estimate: &crate::method::Estimate) -> Checked {
    let [(a, b)] = products(&item.prompt)[..] else { return Ok(()) };
    let (Ok(a), Ok(b)) = (u64::try_from(a), u64::try_from(b)) else { return Ok(()) };
    working::estimates(estimate, a, b)
}

/// Of the options one is right, it is the answer, and no two say the same.
fn choices(item: &Item) -> Checked {
    if item.kind != Kind::Choice {
        return if item.choices.is_empty() {
            Ok(())
        } else {
            fault("options where nothing is to choose".to_owned())
        };
    }
    let right: Vec<&str> =
        item.choices.iter().filter(|c| c.correct).map(|c| c.text.as_str()).collect();
    if right != [item.answer.as_str()] {
        return fault(format!("the right options are {right:?}, the answer is {}", item.answer));
    }
    if item.choices.len() < 2 {
        return fault("a choice of one".to_owned());
    }
    for (index, choice) in item.choices.iter().enumerate() {
        let same = |other: &super::Choice| {
            let value = as_number(&choice.text);
            other.text == choice.text || (value.is_some() && as_number(&other.text) == value)
        };
        if item.choices[..index].iter().any(same) {
            return fault(format!("two options say {}", choice.text));
        }
    }
    Ok(())
}

/// What else is accepted holds the answer.
fn accepted(item: &Item) -> Checked {
    match &item.accept {
        None => Ok(()),
        Some(Accept::Any(others)) if others.is_empty() || others.iter().any(String::is_empty) => {
            fault("an empty list of accepted answers".to_owned())
        }
        Some(Accept::Any(_)) => Ok(()),
        Some(Accept::Between { least, most }) => {
            let ends = (least.parse::<i128>(), most.parse::<i128>());
            match (number(item), ends) {
                (Some(n), (Ok(least), Ok(most))) if least <= n && n <= most => Ok(()),
                _ => fault(format!("{} does not lie in {least} to {most}", item.answer)),
            }
        }
    }
}

/// Whether an answer counts as right.
fn counts(item: &Item, text: &str) -> bool {
    let same = |right: &str| {
        right == text || (as_number(right).is_some() && as_number(right) == as_number(text))
    };
    same(&item.answer)
        || match &item.accept {
            None => false,
            Some(Accept::Any(others)) => others.iter().any(|right| same(right)),
            Some(Accept::Between { least, most }) => {
                let ends = (least.parse::<i128>(), most.parse::<i128>());
                matches!((as_number(text), ends), (Some(n), (Ok(l), Ok(m))) if l <= n && n <= m)
            }
        }
}

/// No wrong answer to expect is right, none stands twice, and each shows something.
fn likely(item: &Item) -> Checked {
    for (index, wrong) in item.likely.iter().enumerate() {
        if counts(item, &wrong.answer) {
            return fault(format!("the wrong answer {} is right", wrong.answer));
        }
        if item.likely[..index].iter().any(|other| other.answer == wrong.answer) {
            return fault(format!("the wrong answer {} stands twice", wrong.answer));
        }
        if wrong.patterns.is_empty() || wrong.shows.is_empty() {
            return fault(format!("the wrong answer {} shows nothing", wrong.answer));
        }
    }
    for choice in item.choices.iter().filter(|c| !c.correct) {
        if counts(item, &choice.text) {
            return fault(format!("the wrong option {} is right", choice.text));
        }
    }
    Ok(())
}

/// What is printed asks for what was worked out.
fn prompt(item: &Item) -> Checked {
    if item.prompt.trim().is_empty() {
        return fault("there is no question".to_owned());
    }
    match item.kind {
        Kind::Mental | Kind::Written => asked(item),
        Kind::Row => row(item),
        Kind::Story => told_numbers(item),
        Kind::Reason => from_known(item)
            .and_then(|()| judged::in_order(item))
            .and_then(|()| spoken::reading(item)),
        Kind::Missing => balanced(item),
        Kind::Words => working::sentence(&item.prompt).and_then(|()| spoken::reading(item)),
        Kind::Choice => judged::judged(item)
            .and_then(|()| spoken::reading(item))
            .and_then(|()| options::options(item)),
        _ => Ok(()),
    }
}

/// A product that is told is right, and what is to be found with its help is the answer.
fn from_known(item: &Item) -> Checked {
    working::sentence(&item.prompt)?;
    let Some((_, asked)) = item.prompt.split_once("Use it to find ") else { return Ok(()) };
    match products(asked)[..] {
        [(a, b)] if Some(a * b) == number(item) => Ok(()),
        _ => fault(format!("the answer is not that of {asked}")),
    }
}

/// "a × b = c ×" and a box: both sides come to the same with the answer in it.
fn balanced(item: &Item) -> Checked {
    let parts = item.prompt.split_once('=').and_then(|(left, right)| {
        let whole = as_number(left).or_else(|| sums(left).first()?.first().copied())?;
        let factor = as_number(right.trim_end().strip_suffix('×')?)?;
        Some((whole, factor))
    });
    let told = numbers(&item.prompt);
    let asked = ["Which number times ", "How many groups of "];
    let parts = match told[..] {
        [factor, whole] if asked.iter().any(|words| item.prompt.starts_with(words)) => {
            Some((whole, factor))
        }
        _ => parts,
    };
    match (parts, number(item)) {
        (Some((whole, factor)), Some(n)) if factor * n != whole => {
            fault(format!("{factor} * {n} is not {whole}"))
        }
        _ => Ok(()),
    }
}

/// A sum in the question comes to the answer; a bare product is of the same two numbers.
fn asked(item: &Item) -> Checked {
    let sums = sums(&item.prompt);
    let comes = sums.iter().any(|sides| sides.iter().any(|n| Some(*n) == number(item)));
    if !sums.is_empty() && !comes {
        return fault("no sum in the question comes to the answer".to_owned());
    }
    let (Some((a, b)), printed) = (factors(item), products(&item.prompt)) else { return Ok(()) };
    let (a, b) = (i128::from(a), i128::from(b));
    if printed.is_empty() || printed.contains(&(a, b)) || printed.contains(&(b, a)) {
        Ok(())
    } else {
        fault(format!("the question does not ask for {a} * {b}"))
    }
}

/// A row is of a product in the question: one number whole, of the other one digit in its place.
fn row(item: &Item) -> Checked {
    let Some((a, b)) = factors(item).map(|(a, b)| (i128::from(a), i128::from(b))) else {
        return Ok(());
    };
    let part = |whole: i128| {
        let length = b.to_string().len();
        let digits = whole.to_string();
        digits.len() >= length && digits[digits.len() - length..].starts_with(&b.to_string()[..1])
    };
    let bare = b.to_string().trim_end_matches('0').len() <= 1;
    let of = |(x, y): &(i128, i128)| (*x == a && part(*y)) || (*y == a && part(*x));
    let printed = products(&item.prompt);
    if bare && (printed.is_empty() || printed.iter().any(of)) {
        Ok(())
    } else {
        fault(format!("{a} * {b} is no row of the product in the question"))
    }
}

/// The numbers a story is worked out from are told in it; numbers below ten, and those everybody
/// knows, may stand in words.
fn told_numbers(item: &Item) -> Checked {
    const KNOWN: [i128; 9] = [12, 24, 30, 52, 60, 100, 144, 365, 1000];
    let printed = numbers(&item.prompt);
    let used = numbers(item.expression.as_deref().unwrap_or_default());
    let hidden = |n: &&i128| **n >= 10 && !KNOWN.contains(n) && !printed.contains(n);
    match used.iter().find(hidden) {
        Some(n) => fault(format!("the story does not tell {n}")),
        None => Ok(()),
    }
}

/// The squares hold the answer and a column for "+".
fn space(item: &Item) -> Checked {
    let digits = item.answer.len();
    match (item.kind, item.space) {
        (Kind::Written, Space::Squares { columns, .. }) if usize::from(columns) < digits + 1 => {
            fault(format!("{columns} squares do not hold {digits} digits and a sign"))
        }
        (Kind::Row, Space::Strip { columns }) | (_, Space::Chart { columns })
            if usize::from(columns) < digits =>
        {
            fault(format!("{columns} squares do not hold {digits} digits"))
        }
        (Kind::Row, Space::Grid { rows, .. }) if rows != 1 => {
            fault(format!("{rows} rows where one is asked for"))
        }
        _ => Ok(()),
    }
}

#[cfg(test)]
mod tests;
