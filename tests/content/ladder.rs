//! The ladder of multiplication and the frameworks it serves.

use crate::{files_of, sums, text_of};
use petgraph::algo::toposort;
use petgraph::algo::tred::{dag_to_toposorted_adjacency_list, dag_transitive_reduction_closure};
use petgraph::graph::DiGraph;
use std::collections::{BTreeMap, BTreeSet};
use toml::{Table, Value};

fn skills() -> Vec<Table> {
    let file: Table = text_of("multiplication.toml").parse().expect("the ladder is TOML");
    let skills = file["skill"].as_array().expect("[[skill]]").iter();
    skills.map(|s| s.as_table().expect("a table").clone()).collect()
}

fn text<'a>(table: &'a Table, key: &str) -> &'a str {
    let value = table.get(key).and_then(Value::as_str);
    value.unwrap_or_else(|| panic!("`{key}` is not a text in {table:?}"))
}

fn texts<'a>(table: &'a Table, key: &str) -> Vec<&'a str> {
    let list = table.get(key).and_then(Value::as_array).into_iter().flatten();
    list.map(|v| v.as_str().expect("a text")).collect()
}

/// The outcomes of all framework files as "framework:code".
fn outcomes() -> BTreeMap<String, Table> {
    let mut all = BTreeMap::new();
    for file in files_of("frameworks") {
        let table: Table = text_of(&file).parse().expect("a framework is TOML");
        let framework = table["framework"].as_table().expect("[framework]");
        let name = text(framework, "name");
        assert_eq!(file, format!("frameworks/{name}.toml"));
        assert!(text(framework, "licence").contains("our own paraphrase"), "{file}");
        assert!(!text(framework, "title").is_empty() && !text(framework, "source").is_empty());
        for outcome in table["outcome"].as_array().expect("[[outcome]]") {
            let outcome = outcome.as_table().expect("a table").clone();
            let code = format!("{name}:{}", text(&outcome, "code"));
            assert!(all.insert(code.clone(), outcome).is_none(), "{code} stands twice");
        }
    }
    all
}

/// The graph of needs, an edge from each need to what needs it.
fn graph(skills: &[Table]) -> DiGraph<String, ()> {
    let mut graph = DiGraph::new();
    let ids: BTreeMap<&str, _> =
        skills.iter().map(|s| (text(s, "id"), graph.add_node(text(s, "id").to_owned()))).collect();
    for skill in skills {
        for need in texts(skill, "needs") {
            let from = ids.get(need).unwrap_or_else(|| panic!("no skill `{need}`"));
            graph.add_edge(*from, ids[text(skill, "id")], ());
        }
    }
    graph
}

#[test]
fn every_id_stands_once_and_after_what_it_needs() {
    let mut seen = BTreeSet::new();
    for skill in skills() {
        let id = text(&skill, "id").to_owned();
        for need in texts(&skill, "needs") {
            assert!(seen.contains(need), "{id} stands before `{need}`");
        }
        assert!(seen.insert(id.clone()), "{id} stands twice");
    }
    for id in ["facts-to-ten-by-ten", "long-four-by-three", "story-two-step"] {
        assert!(seen.contains(id), "{id} is relied upon");
    }
    assert!((28..=32).contains(&seen.len()), "{} skills", seen.len());
}

#[test]
fn the_ladder_has_no_cycle_and_no_implied_need() {
    let graph = graph(&skills());
    let order = toposort(&graph, None).expect("no cycle");
    let (list, _) = dag_to_toposorted_adjacency_list::<_, u32>(&graph, &order);
    let (reduction, _) = dag_transitive_reduction_closure(&list);
    assert_eq!(reduction.edge_count(), graph.edge_count(), "a need is implied by another");
}

#[test]
fn a_skill_that_needs_an_optional_one_is_optional_itself() {
    let skills = skills();
    let optional = |s: &Table| s.get("optional").is_some_and(|v| v.as_bool() == Some(true));
    let may_go: Vec<&str> = skills.iter().filter(|s| optional(s)).map(|s| text(s, "id")).collect();
    for skill in &skills {
        let needs_one = texts(skill, "needs").iter().any(|n| may_go.contains(n));
        assert!(!needs_one || optional(skill), "{}", text(skill, "id"));
    }
}

#[test]
fn everything_but_the_known_facts_fits_a_term_of_55_periods() {
    let count = |key: &str| -> i64 {
        let skills = skills();
        let taught = skills.iter().filter(|s| text(s, "id") != "facts-to-ten-by-ten");
        taught.map(|s| s["lessons"][key].as_integer().expect("a number")).sum()
    };
    // 55 periods: a test, two revisions, four catch-ups.
    assert!((45..=48).contains(&count("preferred")), "{}", count("preferred"));
    assert!(count("least") <= 38 && count("most") > 60);
    for skill in skills() {
        let lesson = |key: &str| skill["lessons"][key].as_integer().expect("a number");
        let (least, preferred, most) = (lesson("least"), lesson("preferred"), lesson("most"));
        assert!(1 <= least && least <= preferred && preferred <= most && most <= 9, "{skill:?}");
        let weight = skill.get("weight").and_then(Value::as_integer).unwrap_or(3);
        assert!((1..=5).contains(&weight));
    }
}

#[test]
fn every_short_title_fits_two_lines_of_sixteen_letters() {
    for skill in skills() {
        let short = text(&skill, "short");
        let mut lines = vec![String::new()];
        for word in short.split(' ') {
            let last = lines.last_mut().expect("a line");
            let joined = if last.is_empty() { word.to_owned() } else { format!("{last} {word}") };
            if joined.chars().count() <= 16 {
                *last = joined;
            } else {
                lines.push(word.to_owned());
            }
        }
        assert!(lines.len() <= 2 && lines.iter().all(|l| l.chars().count() <= 16), "{short}");
    }
}

#[test]
fn every_skill_has_all_its_texts_and_they_read_as_sentences() {
    for skill in skills() {
        let id = text(&skill, "id");
        assert!(!text(&skill, "title").ends_with('.') && !texts(&skill, "vocabulary").is_empty());
        let sentence = |t: &str| {
            let starts =
                t.starts_with(|c: char| c.is_uppercase() || c.is_ascii_digit() || c == '“');
            assert!(starts && t.ends_with(['.', '?']) && !t.contains("  "), "{id}: {t}");
            assert!(t.split_whitespace().count() <= 26, "{id}: long: {t}");
        };
        sentence(text(&skill, "objective"));
        let success = texts(&skill, "success");
        assert!((2..=3).contains(&success.len()), "{id}: success");
        for line in &success {
            assert!(line.starts_with(char::is_lowercase) && !line.ends_with('.'), "{id}: {line}");
        }
        let last = success.last().expect("a line");
        assert!(
            ["explain", "check", "read the product"].iter().any(|w| last.contains(w)),
            "{id}: {last}"
        );
        for (key, range) in [("say", 2..=4), ("goes-wrong", 2..=4)] {
            let lines = texts(&skill, key);
            assert!(range.contains(&lines.len()), "{id}: {key}");
            lines.into_iter().for_each(sentence);
        }
    }
}

#[test]
fn every_sum_in_the_ladder_is_true() {
    let mut seen = 0;
    for skill in skills() {
        for line in texts(&skill, "say").into_iter().chain(texts(&skill, "goes-wrong")) {
            for chain in sums::equations(line) {
                let values: Vec<_> = chain.iter().map(|part| sums::value(part)).collect();
                assert!(values[0].is_some() && values.windows(2).all(|v| v[0] == v[1]), "{line}");
                seen += 1;
            }
        }
    }
    assert!(seen > 4, "only {seen} sums were found");
}

/// A sum in "say" that is worked nowhere in the pack sends the class looking for it: facts of the
/// tables are all that may stand there.
#[test]
fn no_line_to_say_quotes_a_sum_of_its_own() {
    for skill in skills() {
        for line in texts(&skill, "say") {
            let mut before = "";
            for (index, part) in line.split('×').enumerate() {
                let number = |text: &str, last: bool| {
                    let words = text.split_whitespace();
                    let word = if last { words.last() } else { words.into_iter().next() };
                    // 10 and 100 are nobody's own.
                    let plain = |w: &str| {
                        w.trim_end_matches(|c: char| !c.is_ascii_digit()).replace(',', "")
                    };
                    word.map_or(0, |w| plain(w).trim_end_matches('0').len())
                };
                let short = number(before, true) <= 1 && number(part, false) <= 1;
                assert!(index == 0 || short, "{}: {line}", text(&skill, "id"));
                before = part;
            }
            let long = line
                .split(|c: char| !c.is_ascii_digit() && c != ',')
                .any(|n| n.trim_matches(['1', '0', ',']).len() > 3);
            assert!(!long, "{}: {line}", text(&skill, "id"));
        }
    }
}

/// "a × b is given as n" must be wrong, or it would mislead.
#[test]
fn every_wrong_answer_in_the_ladder_is_wrong() {
    let mut seen = 0;
    for skill in skills() {
        for line in texts(&skill, "goes-wrong") {
            let Some((before, after)) = line.split_once(" is given as ") else { continue };
            let expression = before.rsplit([':', ';']).next().expect("a part");
            let right = sums::value(expression).unwrap_or_else(|| panic!("{line}"));
            for wrong in after.trim_end_matches('.').split(" or ") {
                let wrong = sums::value(wrong).unwrap_or_else(|| panic!("{line}"));
                assert_ne!(right, wrong, "{line}");
                seen += 1;
            }
        }
    }
    assert!(seen > 50, "only {seen} wrong answers were found");
}

#[test]
fn the_outcomes_of_skills_exist_and_every_outcome_is_served() {
    let outcomes = outcomes();
    let skills = skills();
    let mut served = BTreeSet::new();
    for skill in &skills {
        let codes = texts(skill, "outcomes");
        assert!(!codes.is_empty(), "{} serves nothing", text(skill, "id"));
        for code in codes {
            assert!(outcomes.contains_key(code), "{}: no outcome `{code}`", text(skill, "id"));
            served.insert(code.to_owned());
        }
    }
    let all: BTreeSet<String> = outcomes.keys().cloned().collect();
    assert_eq!(all, served, "an outcome that no skill serves can never be met");
    for (code, outcome) in &outcomes {
        assert!(text(outcome, "short").chars().count() <= 28, "{code}");
        assert!(
            text(outcome, "asks").ends_with('.') && !text(outcome, "stage").is_empty(),
            "{code}"
        );
    }
}

#[test]
fn what_is_quoted_stands_in_curly_quotes() {
    let skills = skills();
    let all = skills.iter().flat_map(|skill| skill.values()).flat_map(|value| match value {
        Value::String(text) => vec![text.clone()],
        Value::Array(list) => {
            list.iter().filter_map(Value::as_str).map(str::to_owned).collect::<Vec<_>>()
        }
        _ => Vec::new(),
    });
    let patterns = rungwise::exercise::patterns::catalogue().iter();
    let said = patterns.flat_map(|p| [p.short, p.shows, p.teach]).map(str::to_owned);
    let all: Vec<String> = all.chain(said).collect();
    let quoted = all.iter().filter(|text| text.contains('“')).count();
    let straight: Vec<&String> = all.iter().filter(|text| text.contains('"')).collect();
    assert!(straight.is_empty() && quoted >= 8, "{straight:#?}, {quoted} quoted");
}
