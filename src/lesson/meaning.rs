//! What an error pattern may mean to a child, and how and with which model to teach it.
//!
//! What it shows and how to teach it stand with the pattern itself; what it may mean and the model
//! stand in `curriculum/patterns.toml`, for every pattern that any item can point at.

use crate::exercise::makers::story::story_pattern;
use crate::exercise::patterns::{Family, pattern};
use indexmap::IndexMap;
use serde::{Deserialize, Serialize};
use std::sync::LazyLock;

/// A pattern in words.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct Meaning {
    /// What the pupil did: "the second and later rows lack their zeros".
    pub shows: String,
    /// What it may mean to the child, a sentence.
    pub means: String,
    /// How to teach it, a sentence or two.
    pub teach: String,
    /// The model to teach it with: "an area grid with 30 and 6 at its side".
    pub model: String,
}

/// Words that say that all else is right, and what stands for them beside another mistake.
const ELSE_RIGHT: [(&str, &str); 6] = [
    (
        "rows or parts are right; carries are lost when they are added",
        "carries are lost when rows or parts are added",
    ),
    ("; the multiplying itself is right", ""),
    ("The multiplying is secure: practise", "Practise"),
    ("; the method is right", ""),
    ("The method is secure, the facts are not: practise", "Practise"),
    ("The method is secure. ", ""),
];

impl Meaning {
    /// The same where another mistake is made beside it, so that not all else is right.
    pub fn beside_another(self) -> Meaning {
        let without = |text: String| {
            ELSE_RIGHT.iter().fold(text, |text, (right, instead)| text.replace(right, instead))
        };
        let Meaning { shows, means, teach, model } = self;
        Meaning { shows: without(shows), means: without(means), teach: without(teach), model }
    }
    /// Three or four sentences for the teacher, the model last.
    pub fn sentences(&self) -> String {
        let Meaning { means, teach, model, .. } = self;
        format!("{means} {teach} Model: {model}.")
    }
}

/// An entry of the file.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Words {
    means: String,
    model: String,
    shows: Option<String>,
    teach: Option<String>,
}

static WORDS: LazyLock<IndexMap<String, Words>> = LazyLock::new(|| {
    toml::from_str(include_str!("../../curriculum/patterns.toml"))
        .expect("our file of patterns reads; a test reads it")
});

/// The entry that all single facts share.
const SINGLE_FACT: &str = "single-fact";

/// What a pattern means; `None` for a name that is no pattern.
pub fn meaning(name: &str) -> Option<Meaning> {
    let known = pattern(name);
    let story = story_pattern(name);
    let single = known.is_some_and(|p| p.family == Family::SingleFact);
    let words = WORDS.get(if single { SINGLE_FACT } else { name })?;
    let own = |field: &Option<String>| field.clone();
    let shows = known.map(|p| p.shows.to_owned()).or(story.map(|p| p.shows.to_owned()));
    let teach = known.map(|p| p.teach.to_owned()).or(story.map(|p| p.teach.to_owned()));
    Some(Meaning {
        shows: shows.or(own(&words.shows))?,
        means: words.means.clone(),
        teach: teach.or(own(&words.teach))?,
        model: words.model.clone(),
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::exercise::makers::story::STORY_PATTERNS;
    use crate::exercise::patterns::catalogue;

    #[test]
    fn every_pattern_has_its_words_and_every_entry_its_pattern() {
        for name in catalogue().iter().map(|p| p.name).chain(STORY_PATTERNS.map(|p| p.name)) {
            let words = meaning(name).unwrap_or_else(|| panic!("no words for `{name}`"));
            let sentences = words.sentences();
            let ends = sentences.matches(['.', '?']).count();
            assert!((3..=9).contains(&ends), "{name}: {sentences}");
            assert!(words.means.ends_with('.') && !words.model.ends_with('.'), "{name}");
        }
        for (name, words) in WORDS.iter() {
            let elsewhere = pattern(name).is_some() || story_pattern(name).is_some();
            let own = words.shows.is_some() && words.teach.is_some();
            assert!(elsewhere != own || name == SINGLE_FACT, "{name}: said twice, or not at all");
        }
    }

    /// Beside another mistake nothing says that all else is right.
    #[test]
    fn beside_another_mistake_not_all_else_is_right() {
        let names = catalogue().iter().filter(|p| {
            matches!(p.family, Family::Row | Family::Long | Family::SingleFact | Family::Zeros)
        });
        for name in names.map(|p| p.name) {
            let words = meaning(name).expect("words").beside_another();
            let text = format!("{}. {}", words.shows, words.sentences());
            for right in ["is right", "are right", "secure"] {
                assert!(!text.contains(right), "{name}: {text}");
            }
            assert!(!words.shows.starts_with(char::is_uppercase), "{name}: {text}");
            assert!(words.teach.starts_with(char::is_uppercase), "{name}: {text}");
        }
        let adding = meaning("adding-carries-lost").expect("words").beside_another();
        assert_eq!(adding.shows, "carries are lost when rows or parts are added");
    }

    /// A hint for teaching: nothing is said about what a child is, has or lacks.
    #[test]
    fn the_words_are_kind() {
        for (name, words) in WORDS.iter() {
            let text = format!("{} {}", words.means, words.model).to_lowercase();
            for unkind in
                ["careless", "lazy", "weak", "poor", "fails", "stupid", "deficit", "disorder"]
            {
                assert!(!text.contains(unkind), "{name}: {unkind}");
            }
        }
    }
}
