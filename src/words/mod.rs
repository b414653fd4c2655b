//! Counts and lists in English sentences: "1 lesson", "2 lessons", "`a`, `b` or `c`".

/// A count with its noun: `count(1, "lesson")` is "1 lesson", `count(3, "lesson")` "3 lessons".
/// Nouns in -s, -x, -z, -ch and -sh take -es, a consonant before -y makes -ies.
pub fn count(n: usize, noun: &str) -> String {
    if n == 1 { format!("1 {noun}") } else { format!("{n} {}", plural(noun)) }
}

/// A large count as messages write it: "4,980".
pub fn grouped(n: usize) -> String {
    let digits = n.to_string();
    let mut out = String::new();
    for (at, digit) in digits.chars().enumerate() {
        if at > 0 && (digits.len() - at).is_multiple_of(3) {
            out.push(',');
        }
        out.push(digit);
    }
    out
}

/// The regular plural of a noun.
pub fn plural(noun: &str) -> String {
    let vowel_before_y = ["ay", "ey", "oy", "uy"].iter().any(|end| noun.ends_with(end));
    if noun.ends_with('y') && !vowel_before_y {
        format!("{}ies", &noun[..noun.len() - 1])
    } else if ["s", "x", "z", "ch", "sh"].iter().any(|end| noun.ends_with(end)) {
        format!("{noun}es")
    } else {
        format!("{noun}s")
    }
}

/// "`a`", "`a` and `b`", "`a`, `b` and `c`".
pub fn and<T: AsRef<str>>(names: &[T]) -> String {
    list(names, "and")
}

/// "`a`", "`a` or `b`", "`a`, `b` or `c`".
pub fn or<T: AsRef<str>>(names: &[T]) -> String {
    list(names, "or")
}

fn list<T: AsRef<str>>(names: &[T], word: &str) -> String {
    let quoted: Vec<String> = names.iter().map(|n| format!("`{}`", n.as_ref())).collect();
    join(&quoted, word)
}

/// The same without backticks, for paper: "factor, product and carry".
pub fn join<T: AsRef<str>>(names: &[T], word: &str) -> String {
    match names {
        [] => String::new(),
        [only] => only.as_ref().to_owned(),
        [first @ .., last] => {
            let first: Vec<&str> = first.iter().map(AsRef::as_ref).collect();
            format!("{} {word} {}", first.join(", "), last.as_ref())
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn counts_and_lists_read_as_english() {
        assert_eq!([4, 980, 4980, 1_234_567].map(grouped), ["4", "980", "4,980", "1,234,567"]);
        assert_eq!(count(1, "lesson"), "1 lesson");
        assert_eq!(count(0, "box"), "0 boxes");
        assert_eq!([plural("story"), plural("day")], ["stories", "days"]);
        assert_eq!(or(&["a", "b", "c"]), "`a`, `b` or `c`");
        assert_eq!(and(&["a"]), "`a`");
        assert_eq!(join(&["factor", "product"], "and"), "factor and product");
    }
}
