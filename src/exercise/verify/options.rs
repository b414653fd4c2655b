//! Options of which exactly one is right, each worked out by itself: sizes, digits, nines, factors
//! and multiples, and the words for them.

use super::super::Item;
use super::text::{as_number, numbers, products, sums};
use super::{Checked, fault};

/// Says whether an option is right for a question.
type Rule = fn(&str, &str) -> Option<bool>;

/// How a question begins or what it holds, and the rule for its options.
const RULES: &[(&str, Rule)] = &[
    ("Which one says ", multiplies),
    ("Which word is missing?", factor_or_multiple),
    ("Which number is a multiple of ", |prompt, option| divides(prompt, option, true)),
    ("Which number is a factor of ", |prompt, option| divides(prompt, option, false)),
    (" called?", named),
    ("In ", named),
    ("Which story fits ", equal_groups),
    (" more or less than ", more_or_less),
    ("too high or too low for ", too_high),
    ("Which is the same as ", |prompt, option| Some(value(option) == value(prompt))),
    ("Which answer can be right for ", |prompt, option| Some(as_number(option) == value(prompt))),
    ("How many digits are there in ", digits),
    ("Can it be right?", may_be_right),
    ("Check by nines", |prompt, option| Some(nines(as_number(option)?) == nines(value(prompt)?))),
];

/// The right option is right by its rule, and every other is wrong by it.
pub(super) fn options(item: &Item) -> Checked {
    let prompt = item.prompt.as_str();
    if let Some((_, about)) = prompt.split_once("Which number is ")
        && about.contains(" nearest to?")
    {
        return closest(item, value(prompt), &|text| as_number(text));
    }
    if prompt.starts_with("Which product is nearest to ") {
        return closest(item, numbers(prompt).first().copied(), &value);
    }
    let holds = |start: &str| match start.strip_prefix(' ') {
        Some(_) => prompt.contains(start),
        None => prompt.starts_with(start) || (!start.starts_with('W') && prompt.contains(start)),
    };
    let Some((_, rule)) = RULES.iter().find(|(start, _)| holds(start)) else { return Ok(()) };
    for choice in &item.choices {
        match rule(prompt, &choice.text) {
            Some(right) if right == choice.correct => {}
            Some(_) => return fault(format!("{} is marked wrongly", choice.text)),
            None => return fault(format!("{} cannot be worked out", choice.text)),
        }
    }
    Ok(())
}

/// What the first sum or product in the text comes to.
fn value(text: &str) -> Option<i128> {
    sums(text).first().and_then(|sides| sides.first().copied())
}

/// "5 groups of 73" is a product of these two numbers.
fn multiplies(prompt: &str, option: &str) -> Option<bool> {
    let mut asked = numbers(prompt.split(['“', '”']).nth(1)?);
    asked.sort_unstable();
    let &[(a, b)] = &products(option)[..] else { return Some(false) };
    Some(asked == [a.min(b), a.max(b)])
}

/// "9 is a … of 45".
fn factor_or_multiple(prompt: &str, option: &str) -> Option<bool> {
    let [one, other] = numbers(prompt)[..] else { return None };
    if one == 0 || other == 0 || one == other {
        return None;
    }
    Some(match option {
        "factor" => other % one == 0,
        "multiple" => one % other == 0,
        _ => false,
    })
}

fn divides(prompt: &str, option: &str, multiple: bool) -> Option<bool> {
    let (asked, n) = (*numbers(prompt).first()?, as_number(option)?);
    let (large, small) = if multiple { (n, asked) } else { (asked, n) };
    (small > 0).then(|| large % small == 0)
}

/// What the number asked about is called beside its product.
fn named(prompt: &str, option: &str) -> Option<bool> {
    let asked = numbers(prompt.split("hat is ").nth(1)?);
    let ((a, b), asked) = (*products(prompt).first()?, *asked.first()?);
    let is_product = asked == a * b;
    if !is_product && asked != a && asked != b {
        return None;
    }
    Some(option == if is_product { "a product" } else { "a factor" })
}

/// So many things in each of so many groups.
fn equal_groups(prompt: &str, option: &str) -> Option<bool> {
    let (a, b) = *products(prompt).first()?;
    let mut told = numbers(option);
    told.sort_unstable();
    Some(option.ends_with(" each") && told == [a.min(b), a.max(b)])
}

fn more_or_less(prompt: &str, option: &str) -> Option<bool> {
    let (product, limit) = (value(prompt)?, *numbers(prompt).last()?);
    let same = numbers(option) == [limit];
    let right = if option.starts_with("more ") { product > limit } else { product < limit };
    Some(same && right)
}

/// "Is 800 × 3 too high or too low for 784 × 3?"
fn too_high(prompt: &str, option: &str) -> Option<bool> {
    let [(a, b), (x, y)] = products(prompt)[..] else { return None };
    match option {
        "too high" => Some(a * b > x * y),
        "too low" => Some(a * b < x * y),
        _ => None,
    }
}

fn digits(prompt: &str, option: &str) -> Option<bool> {
    let count = i128::try_from(value(prompt)?.to_string().len()).ok()?;
    Some(numbers(option) == [count])
}

fn nines(n: i128) -> i128 {
    n % 9
}

/// "A pupil writes 26 × 47 = 982. Check by nines."
fn may_be_right(prompt: &str, option: &str) -> Option<bool> {
    let (a, b) = *products(prompt).first()?;
    let written = *numbers(prompt).get(2)?;
    Some(option.starts_with("yes") == (nines(a * b) == nines(written)))
}

/// The right option is nearer than every other.
fn closest(item: &Item, wanted: Option<i128>, read: &dyn Fn(&str) -> Option<i128>) -> Checked {
    let Some(wanted) = wanted else { return fault("nothing to be near to".to_owned()) };
    let off = |text: &str| read(text).map(|n| (n - wanted).abs());
    let right = item.choices.iter().find(|c| c.correct).and_then(|c| off(&c.text));
    for choice in item.choices.iter().filter(|c| !c.correct) {
        if right.is_none() || off(&choice.text).is_none_or(|n| right.is_some_and(|r| n <= r)) {
            return fault(format!("{} is as near", choice.text));
        }
    }
    Ok(())
}
