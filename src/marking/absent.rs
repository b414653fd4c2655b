//! Who handed in nothing: by name where answers are by pupils, by number where slips were counted.

use super::marks::{Marking, Part};
use crate::words::{count, join};

/// Who handed in nothing.
pub(super) struct Absent {
    pub named: Vec<String>,
    /// How many more, of slips counted in piles.
    pub others: u32,
}

impl Absent {
    /// `silent` have no answers in a file, so many `answered`, and of so many there are slips. Who has
    /// no answers in a file may have written the version that was counted in piles, unless it was said
    /// that they were not there; where that cannot be of all, for fewer are missing, it is of nobody.
    pub fn of(parts: &[Part], silent: &[String], answered: usize, slips: u32) -> Absent {
        if slips == 0 {
            return Absent { named: silent.to_vec(), others: 0 };
        }
        let class = parts[0].0.heading.pupils;
        let answered = u32::try_from(answered).unwrap_or(u32::MAX).saturating_add(slips);
        let missing = class.saturating_sub(answered);
        let said = |label: &&String| parts.iter().any(|(_, a)| a.absent.contains(*label));
        let named: Vec<String> = silent.iter().filter(said).cloned().collect();
        match missing.checked_sub(u32::try_from(named.len()).unwrap_or(u32::MAX)) {
            // Where most of the class is missing the slips were not all counted.
            Some(others) if missing <= class / 2 => Absent { named, others },
            Some(_) => Absent { named, others: 0 },
            None if missing <= class / 2 => Absent { named: Vec::new(), others: missing },
            None => Absent { named: Vec::new(), others: 0 },
        }
    }
}

impl Marking {
    /// How many of the class handed in nothing, named or not.
    pub fn absent_count(&self) -> usize {
        self.absent.len() + usize::try_from(self.absent_unnamed).unwrap_or(usize::MAX)
    }

    /// "5 and 7", "5 and 7; and 2 more, whom counted slips do not name"; empty where everybody handed
    /// in something.
    pub fn absent_in_words(&self) -> String {
        let others = usize::try_from(self.absent_unnamed).unwrap_or(usize::MAX);
        match (self.absent.as_slice(), others) {
            (named, 0) => join(named, "and"),
            ([], others) => format!("{}, whom counted slips do not name", count(others, "pupil")),
            (named, others) => {
                format!("{}; and {others} more, whom counted slips do not name", join(named, "and"))
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::super::answers::Answers;
    use super::super::tests::class::three_sums;
    use super::*;

    /// A class of 32 of whom so many answered and so many slips were counted.
    fn absent(silent: &[&str], said: &[&str], answered: usize, slips: u32) -> (Vec<String>, u32) {
        let mut pack = three_sums();
        pack.heading.pupils = 32;
        let labels = |all: &[&str]| -> Vec<String> { all.iter().map(|&l| l.to_owned()).collect() };
        let answers = Answers { absent: labels(said).into_iter().collect(), ..Answers::default() };
        let Absent { named, others } =
            Absent::of(&[(&pack, &answers)], &labels(silent), answered, slips);
        (named, others)
    }

    #[test]
    fn who_has_no_answers_may_have_written_the_counted_version() {
        // Nothing counted: whoever has no answers was absent.
        assert_eq!(absent(&["5", "7"], &[], 30, 0), (vec!["5".to_owned(), "7".to_owned()], 0));
        // Fourteen rows without answers, twelve slips: two were absent, of whom nobody knows.
        let silent: Vec<String> = (19..=32).map(|n: u32| n.to_string()).collect();
        let silent: Vec<&str> = silent.iter().map(String::as_str).collect();
        assert_eq!(absent(&silent, &[], 18, 12), (vec![], 2));
        // One of them is known, or both are.
        assert_eq!(absent(&silent, &["20"], 18, 12), (vec!["20".to_owned()], 1));
        assert_eq!(absent(&silent, &["20", "21"], 18, 12).1, 0);
        // Three cannot be absent of two.
        assert_eq!(absent(&silent, &["20", "21", "22"], 18, 12), (vec![], 2));
        // Where most are missing not all slips were counted.
        assert_eq!(absent(&[], &[], 0, 12), (vec![], 0));
        assert_eq!(absent(&[], &[], 0, 40), (vec![], 0));
    }
}
