//! Numbers and sums in printed text, grouped in any style.

/// A piece of a printed text.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Token {
    Number(i128),
    /// `+ - * /`
    Sign(char),
    Equals,
    /// Anything that ends a sum.
    Other,
}

/// What a run of numbers and signs says: "3 × 40 = 120" has two sides.
type Sides = Vec<i128>;

fn tokens(text: &str) -> Vec<Token> {
    let mut tokens = Vec::new();
    let mut rest = text;
    while let Some(c) = rest.chars().next() {
        if c.is_ascii_digit() {
            let (token, length) = number(rest);
            tokens.push(token);
            rest = &rest[length..];
            continue;
        }
        match c {
            ' ' | '\u{A0}' | '\u{202F}' => {}
            '×' | '*' => tokens.push(Token::Sign('*')),
            '÷' => tokens.push(Token::Sign('/')),
            '+' => tokens.push(Token::Sign('+')),
            '−' => tokens.push(Token::Sign('-')),
            '=' => tokens.push(Token::Equals),
            _ => tokens.push(Token::Other),
        }
        rest = &rest[c.len_utf8()..];
    }
    tokens
}

/// A number at the start of the text: groups of two or three digits after a comma or a narrow
/// space belong to it, the last group having three.
fn number(text: &str) -> (Token, usize) {
    let digits = |from: usize| {
        text[from..].find(|c: char| !c.is_ascii_digit()).map_or(text.len(), |n| from + n)
    };
    let mut end = digits(0);
    let mut plain = text[..end].to_owned();
    let mut last = 3;
    while let Some(separator) = text[end..].chars().next().filter(|c| [',', '\u{202F}'].contains(c))
    {
        let start = end + separator.len_utf8();
        let group = digits(start) - start;
        if group == 0 || plain.len() > 30 {
            break;
        }
        last = if (2..=3).contains(&group) { group } else { 0 };
        end = start + group;
        plain.push_str(&text[start..end]);
    }
    match plain.parse() {
        Ok(value) if last == 3 => (Token::Number(value), end),
        _ => (Token::Other, end),
    }
}

/// Every number in the text.
pub(super) fn numbers(text: &str) -> Vec<i128> {
    let number = |token| if let Token::Number(n) = token { Some(n) } else { None };
    tokens(text).into_iter().filter_map(number).collect()
}

/// The text as one number, however it is grouped.
pub(super) fn as_number(text: &str) -> Option<i128> {
    match tokens(text)[..] {
        [Token::Number(n)] => Some(n),
        _ => None,
    }
}

/// The factors of every bare product "a × b" in the text.
pub(super) fn products(text: &str) -> Vec<(i128, i128)> {
    let tokens = tokens(text);
    let product = |run: &[Token]| match run {
        [Token::Number(a), Token::Sign('*'), Token::Number(b)] => Some((*a, *b)),
        _ => None,
    };
    tokens.windows(3).filter_map(product).collect()
}

/// What each sum in the text comes to, side by side with what the text says it equals; runs that
/// begin or end with a sign (a gap to fill) or do not divide evenly are left out.
pub(super) fn sums(text: &str) -> Vec<Sides> {
    let tokens = tokens(text);
    tokens.split(|t| *t == Token::Other).filter(|run| run.len() > 2).filter_map(sides).collect()
}

fn sides(run: &[Token]) -> Option<Sides> {
    // "63 × 8 =" waits for its answer.
    let run = run.strip_suffix(&[Token::Equals]).unwrap_or(run);
    run.split(|t| *t == Token::Equals).map(value).collect()
}

/// The value of a side: products first, then sums.
fn value(side: &[Token]) -> Option<i128> {
    let (first, rest) = side.split_first()?;
    let Token::Number(first) = *first else { return None };
    let (mut sum, mut product, mut minus) = (0_i128, first, false);
    for pair in rest.chunks(2) {
        let &[Token::Sign(sign), Token::Number(n)] = pair else { return None };
        match sign {
            '*' => product = product.checked_mul(n)?,
            '/' if n != 0 && product % n == 0 => product /= n,
            '+' | '-' => {
                sum += if minus { -product } else { product };
                product = n;
                minus = sign == '-';
            }
            _ => return None,
        }
    }
    Some(sum + if minus { -product } else { product })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_are_read_in_every_grouping() {
        assert_eq!(numbers("21,80,201 and 2,180,201"), [2_180_201, 2_180_201]);
        assert_eq!(numbers("2\u{202F}180\u{202F}201; 7, 8 and 9"), [2_180_201, 7, 8, 9]);
        assert_eq!(as_number("99,89,001"), Some(9_989_001));
        assert_eq!(as_number("99,89,001 hooks"), None);
        assert_eq!(as_number("1,2345"), None);
    }

    #[test]
    fn sums_are_read_with_all_their_sides() {
        assert_eq!(sums("So 36 × 199 = 36 × 200 − 36 = 7,164."), [[7164, 7164, 7164]]);
        assert_eq!(sums("6,283 × 347 ="), [[2_180_201]]);
        assert_eq!(sums("2 + 3 × 4 − 1 and 4,800 ÷ 4"), [[13], [1200]]);
    }

    #[test]
    fn a_gap_is_not_a_sum() {
        assert!(sums("□ × 8 = 56").is_empty());
        assert!(sums("8 × □ = 56").is_empty());
        assert!(sums("6,283 → 19 → 10; 12 cm, L35-K1, 09:10").is_empty());
    }

    #[test]
    fn products_are_found_in_a_sentence() {
        assert_eq!(products("Write only the × 300 row of 5,476 × 382."), [(5476, 382)]);
    }
}
