//! The story sums as told, read by a proof-reader that knows nothing of how they are made.

use crate::sums;
use rungwise::exercise::makers::story::{
    Noun, Scene, StoryKind, StorySize, Structure, make_story_of_size, scenes,
};
use rungwise::exercise::makers::{Request, Setting, Spot};
use rungwise::exercise::{Item, Profile, Working};
use rungwise::method::HouseStyle;
use rungwise::seed::Seed;
use std::collections::BTreeSet;
use std::sync::OnceLock;

const SPOTS: [Spot; 5] = [Spot::Support, Spot::Core, Spot::Stretch, Spot::ExitCheck, Spot::Test];

/// Stories of every kind, part, spot and size for two classes.
pub fn stories() -> &'static [Item] {
    static STORIES: OnceLock<Vec<Item>> = OnceLock::new();
    STORIES.get_or_init(make_stories)
}

fn make_stories() -> Vec<Item> {
    let mut all = Vec::new();
    let sizes = StorySize::ALL.map(|(_, size)| Some(size));
    for key in ["a", "b"] {
        let setting = Setting::new(Seed::of(key), HouseStyle::default(), 100);
        for kind in [StoryKind::OneStep, StoryKind::TwoStep] {
            for (part, spot) in (1..=3).flat_map(|part| SPOTS.map(|spot| (part, spot))) {
                for size in [None].into_iter().chain(sizes) {
                    let request = Request {
                        skill: "stories",
                        part,
                        spot,
                        name: "A",
                        profile: Profile::Typical,
                        seconds: 9000,
                        least: 1,
                        most: 6,
                        own: &[],
                    };
                    all.extend(
                        make_story_of_size(kind, size, &request, &setting).expect("stories"),
                    );
                }
            }
        }
    }
    all
}

/// The sentences of a text, with their closing mark.
fn sentences(text: &str) -> Vec<&str> {
    text.split_inclusive(['.', '?']).map(str::trim).filter(|s| !s.is_empty()).collect()
}

fn words(sentence: &str) -> Vec<&str> {
    sentence.split([' ', '\u{A0}']).filter(|w| w.chars().any(char::is_alphanumeric)).collect()
}

#[test]
fn every_story_evaluates_to_its_answer() {
    let all = stories();
    assert!(all.len() > 2_000, "{}", all.len());
    for item in all {
        let expression = item.expression.as_deref().expect("an expression");
        assert_eq!(sums::value(expression), item.answer.parse().ok(), "{}", item.prompt);
        let Working::Story { story, .. } = &item.working else { panic!("{}", item.prompt) };
        for step in &story.steps {
            let (left, right) = step.split_once('=').expect("an equation");
            assert_eq!(sums::value(left), sums::value(right), "{step}");
        }
        let last = story.steps.last().and_then(|s| s.split('=').nth(1)).expect("a step");
        assert_eq!(sums::value(last), item.answer.parse().ok(), "{}", item.prompt);
        let said: String = story.sentence.chars().filter(|c| *c != ',').collect();
        assert!(said.contains(&item.answer), "{}: {}", item.prompt, story.sentence);
    }
}

#[test]
fn every_number_of_the_working_is_told_or_found_before() {
    for item in stories() {
        let Working::Story { story, .. } = &item.working else { panic!("{}", item.prompt) };
        let mut known = numbers(&story.know.join(" "));
        for step in &story.steps {
            let parts = numbers(step);
            let (found, used) = parts.split_last().expect("numbers");
            assert!(used.iter().all(|n| known.contains(n)), "{}: {step}", item.prompt);
            known.push(*found);
        }
        let told = numbers(&figures(&item.prompt));
        for number in numbers(&story.know.join(" ")) {
            // Days in a week, months in a year, hours in a day, minutes in an hour.
            let known =
                [7, 12, 24, 60].contains(&number) && item.purpose.contains("a unit to change");
            assert!(known || told.contains(&number), "{}: {number} is not told", item.prompt);
        }
        assert!(told.iter().all(|n| *n != item.answer.parse().unwrap_or(0)), "{}", item.prompt);
    }
}

/// Words for small numbers as figures.
fn figures(text: &str) -> String {
    const SMALL: [&str; 8] = ["two", "three", "four", "five", "six", "seven", "eight", "nine"];
    let figure = |word: &str| {
        let bare = word.trim_end_matches(['.', '?', ',']);
        SMALL.iter().position(|s| *s == bare).map_or(word.to_owned(), |n| (n + 2).to_string())
    };
    text.split(' ').map(figure).collect::<Vec<_>>().join(" ")
}

fn numbers(text: &str) -> Vec<u64> {
    let text: String = text.chars().filter(|c| *c != ',').collect();
    let runs = text.split(|c: char| !c.is_ascii_digit());
    runs.filter_map(|run| run.parse().ok()).collect()
}

#[test]
fn sentences_are_short_and_in_the_present_and_nothing_is_done_by_nobody() {
    const PAST: [&str; 7] = ["was", "were", "had", "did", "will", "been", "has been"];
    const DONE: [&str; 12] = [
        "made", "sold", "cut", "taken", "eaten", "given", "sent", "bought", "kept", "put", "won",
        "left",
    ];
    for item in stories() {
        let parts = sentences(&item.prompt);
        let counts: Vec<usize> = parts.iter().map(|s| words(s).len()).collect();
        let all: usize = counts.iter().sum();
        assert!(counts.iter().all(|n| *n <= 18), "a long sentence: {}", item.prompt);
        assert!(all <= 12 * parts.len() && all <= 60, "long sentences: {}", item.prompt);
        assert!((2..=5).contains(&parts.len()), "{}", item.prompt);
        assert_eq!(item.prompt.matches('?').count(), 1, "{}", item.prompt);
        assert!(item.prompt.ends_with('?') && !item.prompt.contains("  "), "{}", item.prompt);
        for sentence in parts {
            assert!(sentence.starts_with(char::is_uppercase), "{sentence}");
            let words = words(sentence);
            assert!(!words.iter().any(|w| PAST.contains(w)), "not in the present: {sentence}");
            for pair in words.windows(2) {
                let bare = pair[1].trim_end_matches(['.', '?', ',']);
                let done = bare.ends_with("ed") && bare != "red" || DONE.contains(&bare);
                let passive = ["is", "are"].contains(&pair[0]) && done;
                assert!(!passive || bare == "left", "passive: {sentence}");
            }
        }
    }
}

#[test]
fn articles_suit_the_next_word() {
    for item in stories() {
        let Working::Story { story, .. } = &item.working else { panic!("{}", item.prompt) };
        let know = story.know.join(". ");
        let text = [&item.prompt, &story.sentence, &story.need, &know].map(String::as_str);
        for sentence in text.iter().flat_map(|t| sentences(t)) {
            for pair in words(sentence).windows(2) {
                let vowel =
                    pair[1].starts_with(['a', 'e', 'i', 'o', 'u', '8']) || pair[1] == "hour.";
                let vowel = vowel || pair[1].trim_end_matches(['.', ',', '?']) == "hour";
                let vowel = vowel && !["uniform", "unit", "used", "one"].contains(&pair[1]);
                match pair[0] {
                    "a" | "A" => assert!(!vowel, "{sentence}"),
                    "an" | "An" => assert!(vowel, "{sentence}"),
                    _ => {}
                }
            }
        }
    }
}

/// Words after which a number is not followed by what it counts.
fn counts_nothing(word: &str) -> bool {
    ["times", "more", "mm", "cm", "m", "km", "g", "kg", "ml"].contains(&word)
}

fn bare(word: &str) -> &str {
    word.trim_matches(['.', ',', '?', ':'])
}

/// Whether one of the next three words is one of these, before the sentence ends.
fn follows(rest: &[&str], known: &[&str]) -> bool {
    // Small money stands in the plural.
    rest.iter().take(3).any(|w| known.contains(&bare(w)) || bare(w) == "{money}")
}

/// One singular or plural that stands where the other should.
fn wrong_number(scene: &Scene, sentence: &str) -> Option<String> {
    let many: Vec<&str> = scene.nouns.iter().map(|Noun { many, .. }| many.as_str()).collect();
    let one: Vec<&str> = scene.nouns.iter().map(|Noun { one, .. }| one.as_str()).collect();
    let words = words(sentence);
    for (at, word) in words.iter().enumerate() {
        let rest = &words[at + 1..];
        let number = word.starts_with('{')
            && !["{name}", "{other}", "{money}", "{answer}"].contains(&bare(word));
        let counted = rest.first().is_some_and(|w| counts_nothing(bare(w)));
        if number && word.ends_with('}') && !counted && !follows(rest, &many) {
            return Some(format!("no plural after {word}: {sentence}"));
        }
        let single =
            ["a", "A", "an", "An", "each", "Each", "every", "Every", "one", "One"].contains(word);
        if single && !rest.is_empty() && !follows(rest, &one) {
            return Some(format!("no singular after {word}: {sentence}"));
        }
    }
    None
}

#[test]
fn what_is_counted_stands_in_the_plural_and_one_of_it_in_the_singular() {
    let mut found = Vec::new();
    for scene in scenes() {
        let aside = scene.aside.iter().map(|a| a.text.as_str());
        let text =
            scene.text.iter().map(String::as_str).chain([scene.question.as_str()]).chain(aside);
        found.extend(
            text.filter_map(|s| wrong_number(scene, s)).map(|f| format!("{}: {f}", scene.id)),
        );
        for Noun { one, many } in &scene.nouns {
            assert!(one != many && !one.is_empty() && !many.is_empty(), "{}", scene.id);
        }
    }
    assert!(found.is_empty(), "{}", found.join("\n"));
}

/// Syllables of an English word by its groups of vowels; a silent e at the end does not count.
fn syllables(word: &str) -> u32 {
    let word = bare(word).to_lowercase();
    if word.starts_with(|c: char| c.is_ascii_digit()) {
        return 3; // a number read aloud, on the low side: "twenty-four"
    }
    let vowel = |c: char| "aeiouyéáúí".contains(c);
    let chars: Vec<char> = word.chars().collect();
    let mut groups = 0;
    for (at, c) in chars.iter().enumerate() {
        if vowel(*c) && (at == 0 || !vowel(chars[at - 1])) {
            groups += 1;
        }
    }
    let silent = word.ends_with('e') && !word.ends_with("le")
        || word.ends_with("es") && !word.ends_with("ses");
    (groups - u32::from(silent && groups > 1)).max(1)
}

/// Flesch–Kincaid grade in hundredths: 0.39 words a sentence + 11.8 syllables a word − 15.59.
fn grade(words: u32, sentences: u32, syllables: u32) -> i64 {
    let (words, sentences) = (i64::from(words), i64::from(sentences));
    39 * words / sentences + 1180 * i64::from(syllables) / words - 1559
}

/// Source: Flesch–Kincaid formula; the value worked out for three sentences of 19 words in all with
/// 28 syllables is 4.3.
#[test]
fn stories_read_one_grade_below_the_class() {
    assert_eq!(grade(19, 3, 28) / 10, 42); // 4.26
    let (mut w, mut s, mut y) = (0, 0, 0);
    for item in stories() {
        for sentence in sentences(&item.prompt) {
            s += 1;
            w += u32::try_from(words(sentence).len()).expect("few words");
            y += words(sentence).iter().map(|word| syllables(word)).sum::<u32>();
        }
    }
    assert!(
        grade(w, s, y) <= 400,
        "grade {} of {w} words, {s} sentences, {y} syllables",
        grade(w, s, y)
    );
    assert!(w / s < 10, "{w} words in {s} sentences");
}

#[test]
fn numbers_stay_in_their_ranges_and_area_has_its_longer_side_first() {
    for scene in scenes() {
        for ranges in scene.sizes.values() {
            if scene.structure == Structure::Area {
                assert!(ranges[&'s'].least > ranges[&'g'].most, "{}", scene.id);
            }
        }
    }
    let known: BTreeSet<&str> = scenes().iter().map(|s| s.structure.name()).collect();
    for item in stories() {
        let Working::Story { story, .. } = &item.working else { panic!("{}", item.prompt) };
        assert!(known.contains(story.structure.as_str()));
        assert!(item.answer.parse::<u64>().is_ok_and(|n| n > 1), "{}", item.prompt);
    }
}
