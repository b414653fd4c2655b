//! A line of working, step by step: `47*30 + 47`, `1410 + 47`, `1457`.
//!
//! Brackets first; then in every product the first two numbers; sums when only numbers are left.

/// A sign, then numbers each with the sign before it: `*` or `/`, which rounds down.
type Term = (char, Vec<(char, u64)>);

/// The steps from an expression of integers with `+ - * //` and one pair of brackets at most, to
/// what it comes to. Only the expression itself where it cannot be read.
pub(super) fn of(expression: &str) -> Vec<String> {
    let Some((before, inner, after)) = bracket(expression) else { return plain(expression) };
    let Some(value) = plain(inner).pop() else { return vec![expression.to_owned()] };
    let mut steps = vec![spaced(expression)];
    steps.extend(plain(&format!("{before}{value}{after}")));
    steps
}

fn bracket(expression: &str) -> Option<(&str, &str, &str)> {
    let (before, rest) = expression.split_once('(')?;
    let (inner, after) = rest.split_once(')')?;
    Some((before, inner, after))
}

/// Plus and minus between spaces, as everywhere else.
fn spaced(expression: &str) -> String {
    let tight: String = expression.chars().filter(|c| *c != ' ').collect();
    tight.replace('+', " + ").replace('-', " - ").replace("//", " // ")
}

fn plain(expression: &str) -> Vec<String> {
    let Some(mut terms) = read(expression) else { return vec![expression.to_owned()] };
    let mut steps = vec![write(&terms)];
    while terms.iter().any(|(_, factors)| factors.len() > 1) {
        for (_, factors) in terms.iter_mut().filter(|(_, factors)| factors.len() > 1) {
            let (sign, second) = factors.remove(1);
            let first = factors[0].1;
            factors[0].1 = if sign == '*' { first * second } else { first / second.max(1) };
        }
        steps.push(write(&terms));
    }
    if terms.len() > 1 {
        let (more, less): (Vec<_>, Vec<_>) = terms.iter().partition(|(sign, _)| *sign == '+');
        let sum = |of: Vec<&Term>| of.iter().map(|(_, factors)| factors[0].1).sum::<u64>();
        steps.push(sum(more).saturating_sub(sum(less)).to_string());
    }
    steps
}

fn read(expression: &str) -> Option<Vec<Term>> {
    let text = expression.replace("//", "/").replace(' ', "");
    let mut terms: Vec<Term> = vec![('+', Vec::new())];
    let mut sign = '*';
    let mut number = String::new();
    for c in text.chars().chain(['+']) {
        if c.is_ascii_digit() {
            number.push(c);
            continue;
        }
        terms.last_mut()?.1.push((sign, number.parse().ok()?));
        number.clear();
        match c {
            '+' | '-' => {
                terms.push((c, Vec::new()));
                sign = '*';
            }
            '*' | '/' => sign = c,
            _ => return None,
        }
    }
    terms.pop();
    Some(terms)
}

fn write(terms: &[Term]) -> String {
    let mut out = String::new();
    for (index, (sign, factors)) in terms.iter().enumerate() {
        if index > 0 {
            out.extend([' ', *sign, ' ']);
        }
        for (index, (sign, number)) in factors.iter().enumerate() {
            match (index, sign) {
                (0, _) => {}
                (_, '*') => out.push('*'),
                _ => out.push_str(" // "),
            }
            out.push_str(&number.to_string());
        }
    }
    out
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn products_come_before_sums_and_brackets_before_both() {
        assert_eq!(of("47*30+47"), ["47*30 + 47", "1410 + 47", "1457"]);
        assert_eq!(of("36*100-36*2"), ["36*100 - 36*2", "3600 - 72", "3528"]);
        assert_eq!(of("14*10*2"), ["14*10*2", "140*2", "280"]);
        assert_eq!(of("36*100//2"), ["36*100 // 2", "3600 // 2", "1800"]);
        assert_eq!(of("47//2*10"), ["47 // 2*10", "23*10", "230"]);
        assert_eq!(of("(47-1)*30"), ["(47 - 1)*30", "46*30", "1380"]);
        assert_eq!(of("36"), ["36"]);
    }

    #[test]
    fn what_cannot_be_read_is_left_as_it_is() {
        assert_eq!(of("a*b"), ["a*b"]);
        assert_eq!(of("3**2"), ["3**2"]);
    }
}
