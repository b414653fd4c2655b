//! Whether one item of a lesson gives another one away: by the same product, told or asked for, or
//! by printing the number that another asks for.

use super::bench::sameness;
use crate::exercise::{Figure, Item, Kind, Working};
use std::collections::BTreeSet;

/// A product, the larger factor first.
type Product = (u64, u64);

/// What pupils have on paper so far.
#[derive(Debug, Clone, Default)]
pub struct OnPaper {
    same: BTreeSet<String>,
    products: BTreeSet<Product>,
    printed: BTreeSet<u64>,
    asked: BTreeSet<u64>,
    scenes: BTreeSet<String>,
}

impl OnPaper {
    /// Notes an item.
    pub fn note(&mut self, item: &Item) {
        self.note_read(item, Read::of(item));
    }

    /// Notes an item that was read.
    pub fn note_read(&mut self, item: &Item, read: Read) {
        self.same.insert(read.same);
        self.products.extend(read.products);
        self.printed.extend(read.printed);
        self.asked.extend(read.asked);
        self.scenes.extend(scene(item).map(str::to_owned));
    }

    /// Whether the same item stands there.
    pub fn holds(&self, item: &Item) -> bool {
        self.same.contains(&sameness(item))
    }

    /// Whether this product is asked for or told, either way round.
    pub fn has_product(&self, a: u64, b: u64) -> bool {
        self.products.contains(&(a.max(b), a.min(b)))
    }

    /// Whether the item tells a story that stands there with other numbers.
    pub fn tells_again(&self, item: &Item) -> bool {
        scene(item).is_some_and(|scene| self.scenes.contains(scene))
    }

    /// Whether the item neither gives any of them away nor is given away by one.
    pub fn allows(&self, item: &Item) -> bool {
        self.allows_read(&Read::of(item))
    }

    /// The same of an item that was read.
    pub fn allows_read(&self, read: &Read) -> bool {
        let tells = |number: &u64| telling(*number) && self.asked.contains(number);
        let told = |number: &u64| telling(*number) && self.printed.contains(number);
        !self.same.contains(&read.same)
            && read.products.iter().all(|product| !self.products.contains(product))
            && !read.printed.iter().any(tells)
            && !read.asked.iter().any(told)
    }
}

/// What an item tells and asks for, read once for all the sheets it is held against.
#[derive(Debug, Clone)]
pub struct Read {
    same: String,
    products: Vec<Product>,
    printed: Vec<u64>,
    asked: Option<u64>,
}

impl Read {
    /// Reads an item.
    pub fn of(item: &Item) -> Read {
        Read {
            same: sameness(item),
            products: products(item),
            printed: printed(item),
            asked: asked(item),
        }
    }
}

impl<'a> FromIterator<&'a Item> for OnPaper {
    fn from_iter<I: IntoIterator<Item = &'a Item>>(items: I) -> OnPaper {
        let mut paper = OnPaper::default();
        items.into_iter().for_each(|item| paper.note(item));
        paper
    }
}

/// The answer that is asked for, where it is a number and not one of printed options.
pub fn asked(item: &Item) -> Option<u64> {
    item.answer.parse().ok().filter(|_| item.kind != Kind::Choice)
}

/// The scene that a story tells.
fn scene(item: &Item) -> Option<&str> {
    match &item.working {
        Working::Story { story, .. } => {
            Some(story.scene.as_str()).filter(|scene| !scene.is_empty())
        }
        _ => None,
    }
}

/// Short and round numbers stand everywhere; one of three digits before its zeros is told by nobody
/// by chance.
fn telling(number: u64) -> bool {
    let mut core = number;
    while core > 0 && core.is_multiple_of(10) {
        core /= 10;
    }
    core >= 100
}

/// The products an item is about: what it asks for, the factors of what it lacks, and what it tells.
fn products(item: &Item) -> Vec<Product> {
    let mut found: Vec<Product> = item.factors().into_iter().collect();
    let expression = item.expression.as_deref().unwrap_or_default();
    if let Some((whole, by)) = expression.split_once("//") {
        // "1692//47", or "48*25//24" for the same product.
        let whole: Option<Vec<u64>> = whole.split('*').map(|n| n.parse().ok()).collect();
        if let (Some(whole), Ok(by)) = (whole, by.parse::<u64>()) {
            let value: u64 = whole.iter().product();
            found.extend(value.checked_div(by).map(|other| (by, other)));
            if let [a, b] = whole[..] {
                found.push((a, b));
            }
        }
    }
    let told = products_in(&item.prompt);
    // In "56 × 4 = 50 × 4 + 6 × 4 =" the first alone is asked about.
    let most = if item.prompt.contains(char::is_alphabetic) { told.len() } else { 1 };
    found.extend(told.into_iter().take(most));
    // A wrong option that is right elsewhere, or wrong again, tells which one is new.
    found.extend(item.choices.iter().flat_map(|choice| products_in(&choice.text)));
    match &item.working {
        Working::Long(long) => found.push((long.a, long.b)),
        Working::Story { story, .. } => {
            found.extend(story.steps.iter().flat_map(|step| products_in(step)));
        }
        _ => {}
    }
    match &item.figure {
        Some(Figure::Area { across, down, cells }) => {
            found.push((across.iter().sum(), down.iter().sum()));
            let parts = down.iter().zip(cells).flat_map(|(d, row)| {
                across
                    .iter()
                    .zip(row)
                    .filter(|(_, cell)| cell.is_some())
                    .map(move |(a, _)| (*a, *d))
            });
            found.extend(parts);
        }
        Some(Figure::Worked { a, b, .. }) => found.push((*a, *b)),
        Some(Figure::Array { rows, columns, .. }) => {
            found.push(((*columns).into(), (*rows).into()));
        }
        None => {}
    }
    found.into_iter().map(|(a, b)| (a.max(b), a.min(b))).collect()
}

/// The numbers that an item prints.
fn printed(item: &Item) -> Vec<u64> {
    let mut found: Vec<u64> = tokens(&item.prompt).filter_map(number).collect();
    for choice in &item.choices {
        found.extend(tokens(&choice.text).filter_map(number));
    }
    match &item.figure {
        Some(Figure::Area { cells, .. }) => found.extend(cells.iter().flatten().flatten()),
        Some(Figure::Worked { rows, value, .. }) => {
            found.extend(rows.iter().map(|row| row.value).chain([*value]));
        }
        _ => {}
    }
    // A working with a gap.
    if let (Kind::Missing, Working::Long(long)) = (item.kind, &item.working) {
        found.extend([long.a, long.b, long.value]);
    }
    found
}

#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Token {
    Number(u64),
    Times,
    Other,
}

fn number(token: Token) -> Option<u64> {
    if let Token::Number(n) = token { Some(n) } else { None }
}

/// Every bare "a × b" in a text.
fn products_in(text: &str) -> Vec<Product> {
    let product = |run: &[Token]| match run {
        [Token::Number(a), Token::Times, Token::Number(b)] => Some((*a, *b)),
        _ => None,
    };
    if !text.contains('×') {
        return Vec::new();
    }
    tokens(text).collect::<Vec<_>>().windows(3).filter_map(product).collect()
}

/// Numbers, however they are grouped, and the signs between them.
fn tokens(text: &str) -> impl Iterator<Item = Token> {
    let mut left = text.trim_start().chars();
    std::iter::from_fn(move || {
        let letter = left.by_ref().find(|letter| !letter.is_whitespace())?;
        let Some(digit) = letter.to_digit(10) else {
            return Some(if letter == '×' { Token::Times } else { Token::Other });
        };
        let mut number = Some(u64::from(digit));
        loop {
            let mut ahead = left.clone();
            let mut next = ahead.next();
            if matches!(next, Some(',' | '\u{202F}')) {
                next = ahead.next();
            }
            let Some(digit) = next.and_then(|next| next.to_digit(10)) else { break };
            number = number.and_then(|n| n.checked_mul(10)?.checked_add(digit.into()));
            left = ahead;
        }
        Some(number.map_or(Token::Other, Token::Number))
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::makers::{self, Request, Setting, Spot};
    use crate::exercise::{Profile, Space};
    use crate::method::HouseStyle;
    use crate::seed::Seed;

    fn item(kind: Kind, prompt: &str, expression: &str, answer: u64) -> Item {
        let setting = Setting::new(Seed::of("k"), HouseStyle::default(), 100);
        let request = Request {
            skill: "multiples-of-ten",
            part: 1,
            spot: Spot::Homework,
            name: "A",
            profile: Profile::Typical,
            seconds: 900,
            least: 1,
            most: 1,
            own: &[],
        };
        let made = makers::make("multiples-of-ten", &request, &setting).expect("items");
        Item {
            kind,
            prompt: prompt.to_owned(),
            expression: Some(expression.to_owned()),
            answer: answer.to_string(),
            working: Working::Steps { steps: Vec::new() },
            space: Space::Box,
            ..made[0].clone()
        }
    }

    #[test]
    fn a_product_and_its_missing_factor_give_each_other_away() {
        let sum = item(Kind::Mental, "217 × 3", "217*3", 651);
        let gap = item(Kind::Missing, "651 = 217 ×", "651//217", 3);
        let known = item(Kind::Reason, "217 × 3 = 651. Use it to find 434 × 3.", "2*651", 1_302);
        let other = item(Kind::Mental, "218 × 3", "218*3", 654);
        let all = [&sum, &gap, &known];
        for first in all {
            let paper: OnPaper = [first].into_iter().collect();
            assert!(all.iter().all(|second| !paper.allows(second)), "{}", first.prompt);
            assert!(paper.allows(&other), "{}", first.prompt);
        }
    }

    #[test]
    fn an_answer_that_stands_elsewhere_is_told_unless_it_is_short_or_round() {
        let sum = item(Kind::Mental, "3,50,020 less 20", "", 2_064);
        let tells = item(Kind::Choice, "Which is the same as 2,064?", "", 1);
        let paper: OnPaper = [&sum].into_iter().collect();
        assert!(!paper.allows(&tells));
        let round = item(Kind::Mental, "40 × 60", "40*60", 2_400);
        let target = item(Kind::Choice, "Which product is nearest to 2,400?", "", 1);
        let paper: OnPaper = [&round].into_iter().collect();
        assert!(paper.allows(&target));
    }

    #[test]
    fn numbers_are_read_in_every_grouping() {
        let numbers = |text: &str| tokens(text).filter_map(number).collect::<Vec<_>>();
        assert_eq!(numbers("3,50,020; 12, 2\u{202F}064."), [350_020, 12, 2_064]);
        assert_eq!(numbers("in 1,,2 and 3, 4,"), [1, 2, 3, 4]);
        assert_eq!(products_in("So 4,739 × 286 and 7 × 8 × 9"), [(4_739, 286), (7, 8), (8, 9)]);
    }
}
