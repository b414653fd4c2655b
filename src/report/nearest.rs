//! The known name that a mistyped one most likely meant.

/// The nearest of `known` to `word` by Damerau–Levenshtein distance, at most a third of the
/// letters apart (at least one, at most four); the first of equals. `None` where none is near.
pub fn nearest<'a>(word: &str, known: impl IntoIterator<Item = &'a str>) -> Option<&'a str> {
    let lower = word.to_lowercase();
    let reach = (word.chars().count() / 3).clamp(1, 4);
    known
        .into_iter()
        .map(|name| (strsim::damerau_levenshtein(&lower, &name.to_lowercase()), name))
        .filter(|&(distance, _)| distance <= reach)
        .min_by_key(|&(distance, _)| distance)
        .map(|(_, name)| name)
}

#[cfg(test)]
mod tests {
    use super::nearest;

    #[test]
    fn a_slip_of_the_finger_finds_its_word() {
        let days = ["monday", "tuesday", "wednesday"];
        assert_eq!(nearest("wendesday", days), Some("wednesday"));
        assert_eq!(nearest("Tueday", days), Some("tuesday"));
        assert_eq!(nearest("payday", days), None);
    }
}
