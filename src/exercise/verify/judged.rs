//! Statements, orders and choices: what can be worked out of the question decides.

use super::super::Item;
use super::text::{numbers, products, sums};
use super::{Checked, fault, working};
use crate::exercise::makers::WHAT_WENT_WRONG;

/// What can be worked out of the question decides between the options.
pub(super) fn judged(item: &Item) -> Checked {
    let prompt = item.prompt.as_str();
    if prompt.starts_with("True or false?") {
        return statement(item);
    }
    if prompt.starts_with("Which product is the largest?")
        || prompt.starts_with("Which product is the smallest?")
    {
        return outermost(item, prompt.contains("largest"));
    }
    if prompt.contains("How many digits can the product have?") {
        return digits_of_sizes(item);
    }
    if prompt.starts_with("Which working of ") {
        return right_working(item);
    }
    if prompt.starts_with("Which one is the same as ") {
        return same_value(item, prompt);
    }
    if prompt.starts_with("You have ") {
        let [have, size, want, again] = numbers(prompt)[..] else {
            return fault("no groups to compare".to_owned());
        };
        let said = numbers(&item.answer);
        let right = size == again && said.first().is_some_and(|more| have + more == want);
        return if right { Ok(()) } else { fault(format!("{} is not missing", item.answer)) };
    }
    if prompt.contains("What turns ") {
        return turned(item);
    }
    // A pupil's product in which something went wrong is wrong.
    if prompt.contains(WHAT_WENT_WRONG) && working::sentence(prompt).is_ok() {
        return fault("the pupil's product is right".to_owned());
    }
    Ok(())
}

/// A statement holds where the answer says that it does.
fn statement(item: &Item) -> Checked {
    let printed = products(&item.prompt);
    let equations = sums(&item.prompt);
    let equation = equations.iter().find(|sides| sides.len() > 1);
    let holds = match (equation, &printed[..]) {
        (Some(sides), _) => sides.iter().all(|side| *side == sides[0]),
        (None, [(a, b), (x, y)]) if item.prompt.contains(" is twice ") => a * b == 2 * x * y,
        (None, [(a, b), (x, y)]) if item.prompt.contains(" more than ") => {
            let told = numbers(&item.prompt);
            let [_, _, more, ..] = told[..] else { return fault("no difference told".to_owned()) };
            a * b == x * y + more
        }
        _ => return fault("no statement that can be worked out".to_owned()),
    };
    if item.answer == if holds { "true" } else { "false" } {
        Ok(())
    } else {
        fault(format!("it is not {}", item.answer))
    }
}

fn value(text: &str) -> Option<i128> {
    products(text).first().map(|(a, b)| a * b)
}

fn outermost(item: &Item, largest: bool) -> Checked {
    let values: Vec<Option<i128>> = item.choices.iter().map(|c| value(&c.text)).collect();
    let best = if largest { values.iter().max() } else { values.iter().min() };
    let own = value(&item.answer);
    let once = values.iter().filter(|v| **v == own).count() == 1;
    if best == Some(&own) && own.is_some() && once {
        Ok(())
    } else {
        fault(format!("{} is not the one that is asked for", item.answer))
    }
}

/// The smallest and the largest product of such numbers have the digits that the answer names, and
/// no other option names them.
fn digits_of_sizes(item: &Item) -> Checked {
    let told = numbers(&item.prompt);
    let of_length = |n: i128| {
        let least = 10_i128.pow(u32::try_from(n - 1).unwrap_or(0));
        (least, least * 10 - 1)
    };
    let (a, b) = match (item.prompt.contains(" from "), &told[..]) {
        (true, &[a, b, c, d]) => ((a, b), (c, d)),
        (true, &[a, b, c]) => ((a, b), (c, c)),
        (true, &[a, b]) => ((a, a), (b, b)),
        (false, &[m, n]) => (of_length(m), of_length(n)),
        (false, &[]) | (_, _) => return fault("no sizes".to_owned()),
    };
    let count = |n: i128| i128::try_from(n.to_string().len()).unwrap_or(0);
    let (least, most) = (count(a.0 * b.0), count(a.1 * b.1));
    let right = if least == most { vec![least] } else { (least..=most).collect() };
    for choice in &item.choices {
        if (numbers(&choice.text) == right) != choice.correct {
            return fault(format!("{} is marked wrongly", choice.text));
        }
    }
    Ok(())
}

/// Only the right option comes to the product.
fn right_working(item: &Item) -> Checked {
    let Some(product) = value(&item.prompt) else { return fault("no product".to_owned()) };
    for choice in &item.choices {
        let comes = choice.text.rsplit('=').next().and_then(super::as_number);
        let adds = working::sentence(&choice.text).is_ok();
        if (comes == Some(product) && adds) != choice.correct {
            return fault(format!("{} is marked wrongly", choice.text));
        }
    }
    Ok(())
}

/// Only the right option has the value of the sum in the question.
fn same_value(item: &Item, prompt: &str) -> Checked {
    let whole = |text: &str| sums(text).first().and_then(|sides| sides.first().copied());
    let asked = whole(prompt);
    for choice in &item.choices {
        if (asked.is_some() && whole(&choice.text) == asked) != choice.correct {
            return fault(format!("{} is marked wrongly", choice.text));
        }
    }
    Ok(())
}

/// "47 × 30 = 1,410. What turns 1,410 into 47 × 29?": what is taken away or added leads there.
fn turned(item: &Item) -> Checked {
    working::sentence(&item.prompt)?;
    let printed = products(&item.prompt);
    let (Some((a, b)), Some((x, y))) = (printed.first(), printed.last()) else {
        return fault("no two products".to_owned());
    };
    for choice in &item.choices {
        let by = value(&choice.text).or_else(|| numbers(&choice.text).first().copied());
        let by = by.unwrap_or(0);
        let comes = if choice.text.starts_with("add") { a * b + by } else { a * b - by };
        if (comes == x * y) != choice.correct {
            return fault(format!("{} is marked wrongly", choice.text));
        }
    }
    Ok(())
}

/// Letters in order: the products beside them rise.
pub(super) fn in_order(item: &Item) -> Checked {
    if !item.prompt.starts_with("Write the letters in order, the smallest") {
        return Ok(());
    }
    let values: Vec<i128> = products(&item.prompt).into_iter().map(|(a, b)| a * b).collect();
    let places = |c: char| u32::from(c).checked_sub(u32::from('A'));
    let letters: Vec<char> = item.answer.chars().filter(char::is_ascii_uppercase).collect();
    let ordered: Vec<i128> = letters
        .iter()
        .filter_map(|c| values.get(usize::try_from(places(*c)?).ok()?).copied())
        .collect();
    let written: Vec<String> = letters.iter().map(char::to_string).collect();
    let rising = ordered.windows(2).all(|pair| pair[0] < pair[1]);
    if item.answer == written.join(", ")
        && rising
        && ordered.len() == values.len()
        && values.len() > 2
    {
        Ok(())
    } else {
        fault(format!("{} is not in order", item.answer))
    }
}
