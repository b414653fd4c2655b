//! How hard our texts are to read: pupils' pages and story sums, with syllables from a dictionary.
//!
//! Flesch–Kincaid's grade is 0.39 words a sentence + 11.8 syllables a word − 15.59. Such formulas are
//! unstable on less than a hundred words, so that pages are pooled before they are scored. The target
//! is one grade below the class: 4 at most (from memory), sentences of 12 words on the average and
//! 18 at most. Syllables stand in `syllables.txt`, which `syllables.py` writes.

use crate::stories::stories;
use crate::tables;
use crate::terms::{all_items, terms};
use rungwise::exercise::{Item, Kind};
use rungwise::lesson::{Level, Pack, SectionName};
use rungwise::paper::font::Face;
use rungwise::paper::sheet::{Mark, Sheet};
use rungwise::paper::sheets;
use std::collections::{BTreeMap, BTreeSet};
use std::sync::OnceLock;

/// Syllables by word, in small letters.
fn dictionary() -> &'static BTreeMap<&'static str, u32> {
    static WORDS: OnceLock<BTreeMap<&'static str, u32>> = OnceLock::new();
    WORDS.get_or_init(|| {
        let lines = include_str!("syllables.txt").lines();
        lines
            .filter_map(|l| l.split_once(' '))
            .filter_map(|(w, n)| Some((w, n.parse().ok()?)))
            .collect()
    })
}

/// A text's words as they are read, numbers as figures.
fn words(sentence: &str) -> Vec<String> {
    let parts = sentence.split([' ', '\u{A0}', '\u{202F}']);
    let read = |word: &str| match word {
        "×" => "times".to_owned(),
        "=" => "is".to_owned(),
        "+" => "plus".to_owned(),
        "−" => "minus".to_owned(),
        "÷" => "by".to_owned(),
        _ => word.trim_matches(|c: char| !c.is_alphanumeric()).to_lowercase(),
    };
    parts.map(read).filter(|w| !w.is_empty()).collect()
}

fn sentences(text: &str) -> Vec<&str> {
    let ends = |c: char| matches!(c, '.' | '?');
    text.split_inclusive(ends)
        .map(str::trim)
        .filter(|s| s.chars().any(char::is_alphabetic))
        .collect()
}

fn is_number(word: &str) -> bool {
    word.starts_with(|c: char| c.is_ascii_digit())
}

/// What a text comes to.
#[derive(Debug, Clone, Default)]
struct Counts {
    words: Vec<u32>,
    syllables: u32,
    unknown: BTreeSet<String>,
}

impl Counts {
    /// Adds a text; a number is a word of one syllable, as in the published counts.
    fn add(&mut self, text: &str) {
        for sentence in sentences(text) {
            let words = words(sentence);
            for word in &words {
                let known = dictionary().get(word.as_str()).copied();
                if known.is_none() && !is_number(word) && word.chars().count() > 1 {
                    self.unknown.insert(word.clone());
                }
                self.syllables += known.unwrap_or(1);
            }
            self.words.push(u32::try_from(words.len()).expect("few words"));
        }
    }
    fn all_words(&self) -> u32 {
        self.words.iter().sum()
    }
    fn a_sentence(&self) -> f64 {
        f64::from(self.all_words()) / self.words.len().max(1) as f64
    }
    /// Flesch–Kincaid's grade.
    fn grade(&self) -> f64 {
        let a_word = f64::from(self.syllables) / f64::from(self.all_words().max(1));
        0.39 * self.a_sentence() + 11.8 * a_word - 15.59
    }
}

fn of(text: &str) -> Counts {
    let mut counts = Counts::default();
    counts.add(text);
    counts
}

/// The value worked out elsewhere for this text, its numbers read aloud: 19 words, 3 sentences, 28
/// syllables, grade 4.3.
#[test]
fn the_grade_is_that_of_a_text_worked_out_elsewhere() {
    let text = "A school buys 36 boxes of pencils. Each box holds 24 pencils. How many pencils does \
                the school buy?";
    let mut counts = of(text);
    assert_eq!((counts.all_words(), counts.words.len()), (19, 3));
    counts.syllables += 2 + 2; // thirty-six, twenty-four
    assert_eq!(counts.syllables, 28);
    assert!((counts.grade() - 4.3).abs() < 0.05, "{}", counts.grade());
}

/// A question that is read; a number in words is the task itself, and a bare sum is no text.
fn is_text(item: &Item) -> bool {
    item.kind != Kind::Words && item.prompt.chars().any(char::is_alphabetic)
}

/// Fewer words than this are not scored by themselves.
const LEAST: u32 = 100;

/// The numbers of the practice items on each page of a sheet.
fn numbers_on(sheet: &Sheet) -> Vec<Vec<usize>> {
    let mut practice = false;
    let mut pages = Vec::new();
    for page in &sheet.pages {
        let bold = page.marks.iter().filter_map(|mark| match mark {
            Mark::Text { text, face: Face::Bold, .. } => Some(text.as_str()),
            _ => None,
        });
        let mut here = Vec::new();
        for text in bold {
            practice |= text == "Practice";
            here.extend(text.parse::<usize>().ok().filter(|_| practice));
        }
        pages.push(here);
    }
    pages
}

/// Every page of pupils' practice with what is read on it; a page with little to read goes together
/// with the next ones of its sheet.
fn pages() -> Vec<(String, Counts)> {
    let mut found = Vec::new();
    let packs: Vec<&Pack> = terms().iter().flat_map(|t| &t.packs).collect();
    for pack in packs {
        let sheets = sheets(pack);
        for (level, letter) in [(Level::Support, "Q"), (Level::Core, "K"), (Level::Stretch, "V")] {
            let Some(sheet) = sheets.get(format!("pupil-{letter}.pdf").as_str()) else { continue };
            let practice = pack.named(SectionName::Practice).find(|s| s.level == Some(level));
            let items = &practice.expect("a section").items;
            let mut counts = Counts::default();
            for (index, numbers) in numbers_on(sheet).into_iter().enumerate() {
                for item in numbers.iter().filter_map(|n| items.get(n - 1)).filter(|i| is_text(i)) {
                    counts.add(&item.prompt);
                }
                if counts.all_words() >= LEAST {
                    let page = format!("L{:02}-{letter} to page {}", pack.lesson, index + 1);
                    found.push((page, std::mem::take(&mut counts)));
                }
            }
            found.push((format!("L{:02}-{letter}, the rest", pack.lesson), counts));
        }
    }
    found
}

#[test]
fn every_page_reads_one_grade_below_the_class() {
    let mut unknown: BTreeSet<String> = BTreeSet::new();
    let (mut seen, mut found) = (0, Vec::new());
    let mut whole = Counts::default();
    let mut grades = Vec::new();
    for (page, counts) in pages() {
        unknown.extend(counts.unknown.iter().cloned());
        whole.words.extend(&counts.words);
        whole.syllables += counts.syllables;
        if counts.all_words() < LEAST {
            continue;
        }
        seen += 1;
        grades.push(counts.grade());
        if counts.grade() > 4.0 || counts.a_sentence() > 12.0 {
            found.push(format!(
                "{page}: grade {:.1}, {:.1} words a sentence",
                counts.grade(),
                counts.a_sentence()
            ));
        }
    }
    if std::env::var_os("WRITE_WORDS").is_some() {
        let stories = stories().iter().flat_map(|i| words(&i.prompt));
        let all = all_items().filter(|i| is_text(i)).flat_map(|i| words(&i.prompt));
        let words: BTreeSet<String> = stories.chain(all).filter(|w| !is_number(w)).collect();
        let text: Vec<String> = words.into_iter().collect();
        std::fs::write("words.txt", text.join("\n")).expect("it can be written");
    }
    println!("{} pages of {seen}; all pages: grade {:.2}", found.len(), whole.grade());
    assert!(unknown.is_empty(), "no syllables for {unknown:?}: see syllables.py");
    crate::terms::none_of(&found);
    assert!(seen > 60 && whole.grade() < 3.5, "{seen} pages, grade {:.2}", whole.grade());
}

/// No sentence of a question is longer than eighteen words.
#[test]
fn no_sentence_is_long() {
    let mut found = BTreeSet::new();
    for item in all_items().filter(|i| is_text(i)) {
        for sentence in sentences(&item.prompt) {
            if words(sentence).len() > 18 {
                found.insert(format!("{}: {sentence}", item.id));
            }
        }
    }
    crate::terms::none_of(&found.into_iter().collect::<Vec<_>>());
}

/// Percentiles of a list, by nearest rank.
fn spread(values: &mut [f64]) -> [f64; 4] {
    values.sort_by(f64::total_cmp);
    let at = |percent: usize| values[(values.len() * percent / 100).min(values.len() - 1)];
    let mean = values.iter().sum::<f64>() / values.len() as f64;
    [mean, at(50), at(5), at(95)]
}

/// Our stories beside those of open corpora, counted in the same way (numbers are words of one
/// syllable, sentences end at . ! ?). The corpora: ASDiv (Miao, Liang & Su 2020; CC BY-NC, statistics
/// only), SVAMP (Patel et al. 2021; MIT); their figures were computed beforehand.
#[test]
fn our_stories_stand_beside_the_open_corpora() {
    let ours: Vec<Counts> =
        all_items().filter(|i| i.kind == Kind::Story).map(|i| of(&i.prompt)).collect();
    let column = |f: &dyn Fn(&Counts) -> f64| -> [f64; 4] {
        spread(&mut ours.iter().map(f).collect::<Vec<f64>>())
    };
    let all = column(&|c| f64::from(c.all_words()));
    let sentences = column(&|c| c.words.len() as f64);
    let each = column(&Counts::a_sentence);
    let grade = column(&Counts::grade);
    let lines = [
        "| stories | n | words: mean, median, 5–95 % | sentences | words a sentence: mean, median, 5–95 % | grade: mean, 5–95 % |".to_owned(),
        "|---|---|---|---|---|---|".to_owned(),
        format!(
            "| ours, both demonstration terms | {} | {:.1}, {:.0}, {:.0}–{:.0} | {:.1} | {:.1}, {:.1}, {:.1}–{:.1} | {:.1}, {:.1}–{:.1} |",
            ours.len(), all[0], all[1], all[2], all[3], sentences[0],
            each[0], each[1], each[2], each[3], grade[0], grade[2], grade[3],
        ),
        "| ASDiv, multiplication | 260 | 30.6, 29, 15–56 | 2.6 | 12.4, 12.3, 6–19 | 4.6, 0.7–8.5 |".to_owned(),
        "| ASDiv, multiplication, grade 4 | 20 | 26.7, 25.5, 19–32 | 2.7 | 10.4, 9.8, 8–15.5 | 4.4, 2.3–7.8 |".to_owned(),
        "| SVAMP, multiplication | 108 | 31.9, 31, 20–44 | 2.7 | 12.2, 12.5, 8–18 | 4.7, 2.1–7.2 |".to_owned(),
        "| ASDiv, all | 2305 | 31.0, 29, 17–54 | 2.8 | 11.6, 11.0, 5.8–19.7 | 4.6, 1.1–8.9 |".to_owned(),
    ];
    tables::stands("stories", &lines.join("\n"));
    assert!(grade[0] < 4.0 && each[0] < 10.0, "{grade:?} {each:?}");
    assert!(all[0] > 15.0 && all[3] < 50.0, "as long as stories are: {all:?}");
}
