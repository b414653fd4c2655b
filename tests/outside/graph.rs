//! Graphs of skills against values of the open graph library networkx 3.6.1, worked out once: an
//! edge from each skill to each it needs, then `descendants`, `ancestors`, `transitive_closure`,
//! `transitive_reduction`, `dag_longest_path_length`, `simple_cycles`, and
//! `lexicographical_topological_sort` of the graph turned round, by place in the file.

use rungwise::curriculum::{Ladder, our_ladder, read_ladder};
use rungwise::report::{Report, Source};

/// Each skill of our ladder, how many it needs in all (`descendants`), how many need it
/// (`ancestors`). To be worked out again when a need of the ladder is changed.
const OURS: [(&str, usize, usize); 32] = [
    ("facts-to-ten-by-ten", 0, 31),
    ("words-of-the-trade", 1, 28),
    ("times-ten-hundred-thousand", 1, 29),
    ("multiples-of-ten", 3, 27),
    ("tens-by-tens", 4, 15),
    ("reading-large-numbers", 2, 11),
    ("splitting", 4, 22),
    ("doubling-and-halving", 5, 2),
    ("fives-and-twenty-fives", 6, 0),
    ("splitting-into-factors", 6, 0),
    ("rounding-and-adjusting", 5, 2),
    ("near-hundreds", 6, 0),
    ("which-is-nearer", 5, 11),
    ("estimating-by-leading-digits", 7, 10),
    ("digits-of-a-product", 8, 1),
    ("short-two-by-one", 5, 14),
    ("short-three-by-one", 6, 9),
    ("short-four-by-one", 7, 2),
    ("zeros-in-multiplicand", 7, 2),
    ("zeros-at-the-ends", 7, 9),
    ("story-one-step", 7, 1),
    ("grid-two-by-two", 6, 10),
    ("lattice", 7, 0),
    ("long-two-by-two", 12, 8),
    ("long-three-by-two", 14, 5),
    ("long-four-by-two", 16, 1),
    ("long-three-by-three", 15, 2),
    ("zeros-in-multiplier", 17, 1),
    ("long-four-by-three", 20, 0),
    ("checking-a-product", 14, 0),
    ("story-two-step", 16, 0),
    ("choosing-a-method", 14, 0),
];

fn ours() -> Ladder {
    our_ladder("multiplication").expect("our ladder")
}

/// A ladder file of skills `a`, `b`, … with these needs, such as `b:a c:a d:bc`; the ladder and
/// what is said about it.
fn small(needs: &str) -> (Option<Ladder>, Report) {
    let mut text = "[ladder]\nname = \"small\"\n".to_owned();
    for skill in needs.split(' ') {
        let (id, needs) = skill.split_once(':').unwrap_or((skill, ""));
        let needs: Vec<String> = needs.chars().map(|need| format!("\"{need}\"")).collect();
        let lessons = "{ least = 1, preferred = 1, most = 1 }";
        let needs = needs.join(", ");
        text += &format!("\n[[skill]]\nid = \"{id}\"\nneeds = [{needs}]\nlessons = {lessons}\n");
    }
    let mut report = Report::new();
    let ladder = read_ladder(&Source::shared("small.toml", text), &mut report);
    (ladder, report)
}

/// What stands between backticks in a line.
fn quoted(line: &str) -> Vec<&str> {
    line.split('`').skip(1).step_by(2).collect()
}

/// Fails unless a path is a chain of needs, without one skill twice.
fn is_chain(ladder: &Ladder, path: &[&str]) {
    for pair in path.windows(2) {
        assert!(ladder.skills[pair[1]].needs.iter().any(|n| n == pair[0]), "{pair:?}");
    }
}

#[test]
fn our_ladder_reaches_what_the_library_reaches() {
    let ladder = ours();
    assert_eq!(ladder.skills.len(), OURS.len());
    assert_eq!(ladder.graph().edge_count(), 44);
    for (id, needs, dependants) in OURS {
        assert_eq!(ladder.all_needs(id).len(), needs, "{id}");
        assert_eq!(ladder.dependants(id).len(), dependants, "{id}");
    }
    let closure: usize = ladder.skills.keys().map(|id| ladder.all_needs(id).len()).sum();
    assert_eq!(closure, 253, "the edges of the transitive closure");
}

/// The longest chain of the library has eleven skills; there is more than one such chain.
#[test]
fn our_ladder_has_the_order_and_the_longest_chain_of_the_library() {
    let ladder = ours();
    let by_file: Vec<&str> = OURS.iter().map(|row| row.0).collect();
    assert_eq!(ladder.in_order(), by_file, "the file's order already is the library's");
    let longest = ladder.longest_path();
    assert_eq!(longest.len(), 11);
    is_chain(&ladder, &longest);
}

/// Needs, implied needs (edges the library's reduction lacks), skills on a longest chain, order.
#[test]
fn small_ladders_have_the_reduction_chain_and_order_of_the_library() {
    let cases = [
        ("a b:a c:a d:bca", "da", 3, "abcd"),
        // The numbers 1, 2, 3, 4, 6, 12, each needing all it is divisible by.
        ("a b:a c:a d:ab e:abc f:abcde", "da ea fa fb fc", 4, "abcdef"),
        ("a b:a c:ab d:abc e:abcd f:abcde", "ca da db ea eb ec fa fb fc fd", 6, "abcdef"),
        // Twelve skills with needs at random, in a mixed order.
        (
            "a b:dehjl c:agk d:hl e:hil f:bi g:ak h i:dl j:d k:h l",
            "bd bh bl ca ck eh el fi il",
            6,
            "ahkgcldiejbf",
        ),
    ];
    for (needs, implied, longest, order) in cases {
        let (ladder, report) = small(needs);
        let ladder = ladder.unwrap_or_else(|| panic!("{needs}: {}", report.to_text()));
        assert_eq!(ladder.in_order().concat(), order, "{needs}");
        let path = ladder.longest_path();
        assert_eq!(path.len(), longest, "{needs}: {path:?}");
        is_chain(&ladder, &path);
        let said = report.to_text();
        let lines = said.lines().filter(|line| line.contains("already through"));
        let mut found: Vec<String> = lines.map(|line| quoted(line)[..2].concat()).collect();
        found.sort();
        assert_eq!(found.join(" "), implied, "{needs}");
    }
}

/// The shortest of the library's simple cycles through the first skill of each strongly
/// connected component.
#[test]
fn every_knot_shows_the_shortest_circle_of_the_library() {
    let (ladder, report) = small("a:b b:c c:da d:a e:f f:e g:g h:a");
    assert!(ladder.is_none());
    let said = report.to_text();
    let lines = said.lines().filter(|line| line.contains("in a circle"));
    let found: Vec<String> = lines.map(|line| quoted(line).concat()).collect();
    assert_eq!(found, ["abca", "efe", "gg"]);
}
