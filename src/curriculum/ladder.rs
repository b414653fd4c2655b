//! A ladder: the graph of skills, and the questions asked of it.

use super::Skill;
use indexmap::IndexMap;
use petgraph::Direction;
use petgraph::graph::{DiGraph, NodeIndex};
use petgraph::visit::{Dfs, EdgeRef, Reversed, Walker};
use std::collections::BTreeSet;

/// A graph of skills without cycles, in the order of its file.
#[derive(Debug, Clone)]
pub struct Ladder {
    /// Its name in files.
    pub name: String,
    /// Its title on paper.
    pub title: String,
    /// Its skills by id, in the file's order.
    pub skills: IndexMap<String, Skill>,
}

impl Ladder {
    /// Where the skill stands in the file, from 0.
    pub fn position(&self, id: &str) -> Option<usize> {
        self.skills.get_index_of(id)
    }

    /// The skills as nodes numbered by their position, an edge from each skill to each it needs.
    pub fn graph(&self) -> DiGraph<usize, ()> {
        let needs = |skill: &Skill| {
            skill.needs.iter().filter_map(|n| self.position(n)).collect::<Vec<usize>>()
        };
        graph_of(&self.skills.values().map(needs).collect::<Vec<_>>())
    }

    /// All that a skill needs, directly or not, in the file's order; not the skill itself.
    pub fn all_needs(&self, id: &str) -> Vec<&str> {
        let Some(position) = self.position(id) else { return Vec::new() };
        let graph = self.graph();
        let reached = Dfs::new(&graph, NodeIndex::new(position)).iter(&graph);
        self.named(reached.map(NodeIndex::index).filter(|&n| n != position))
    }

    /// All that need a skill, directly or not, in the file's order; not the skill itself.
    pub fn dependants(&self, id: &str) -> Vec<&str> {
        let Some(position) = self.position(id) else { return Vec::new() };
        let graph = self.graph();
        let back = Reversed(&graph);
        let reached = Dfs::new(back, NodeIndex::new(position)).iter(back);
        self.named(reached.map(NodeIndex::index).filter(|&n| n != position))
    }

    /// Those that need a skill directly, in the file's order.
    pub fn needed_by(&self, id: &str) -> Vec<&str> {
        let direct = self.skills.values().filter(|s| s.needs.iter().any(|n| n == id));
        direct.map(|s| s.id.as_str()).collect()
    }

    /// All skills, each after those it needs; as near to the file's order as that allows.
    pub fn in_order(&self) -> Vec<&str> {
        let mut left: BTreeSet<usize> = (0..self.skills.len()).collect();
        let mut order = Vec::new();
        let waits = |n: usize, left: &BTreeSet<usize>| {
            let mut needs = self.skills[n].needs.iter().filter_map(|id| self.position(id));
            needs.any(|need| left.contains(&need))
        };
        while let Some(next) = left.iter().copied().find(|&n| !waits(n, &left)) {
            left.remove(&next);
            order.push(self.skills[next].id.as_str());
        }
        order
    }

    /// A longest chain in which each skill needs the one before it; the first found of equals.
    pub fn longest_path(&self) -> Vec<&str> {
        let mut best: IndexMap<&str, Vec<&str>> = IndexMap::new();
        for id in self.in_order() {
            let needs = self.skills[id].needs.iter().filter_map(|n| best.get(n.as_str()));
            let mut path = longest(needs).cloned().unwrap_or_default();
            path.push(id);
            best.insert(id, path);
        }
        longest(best.values()).cloned().unwrap_or_default()
    }

    /// The skills of a unit (D), in the file's order: from `teach` along `needs`, never entering
    /// one that is in `secure` or is needed, directly or not, by one that is.
    pub fn unit(&self, teach: &[String], secure: &[String]) -> Vec<&str> {
        let known: BTreeSet<&str> = secure
            .iter()
            .flat_map(|id| self.all_needs(id).into_iter().chain([id.as_str()]))
            .collect();
        let mut found = BTreeSet::new();
        let mut open: Vec<&str> = teach.iter().map(String::as_str).collect();
        while let Some(id) = open.pop() {
            let Some(position) = self.position(id).filter(|_| !known.contains(id)) else {
                continue;
            };
            if found.insert(position) {
                open.extend(self.skills[position].needs.iter().map(String::as_str));
            }
        }
        self.named(found.into_iter())
    }

    fn named(&self, positions: impl Iterator<Item = usize>) -> Vec<&str> {
        let sorted: BTreeSet<usize> = positions.collect();
        sorted.into_iter().map(|n| self.skills[n].id.as_str()).collect()
    }
}

/// The first of the longest.
fn longest<'a, 'b>(paths: impl Iterator<Item = &'a Vec<&'b str>>) -> Option<&'a Vec<&'b str>>
where
    'b: 'a,
{
    paths.fold(None, |best, path| match best {
        Some(best) if best.len() >= path.len() => Some(best),
        _ => Some(path),
    })
}

/// Nodes numbered from 0, an edge from each to each of its needs.
pub(super) fn graph_of(needs: &[Vec<usize>]) -> DiGraph<usize, ()> {
    let mut graph = DiGraph::new();
    for node in 0..needs.len() {
        graph.add_node(node);
    }
    for (node, needs) in needs.iter().enumerate() {
        for &need in needs {
            graph.update_edge(NodeIndex::new(node), NodeIndex::new(need), ());
        }
    }
    graph
}

/// One circle of each knot of needs: positions, each needing the next, the last the first; begins
/// with the skill that stands first in the file, and is the shortest through it.
pub(super) fn circles(graph: &DiGraph<usize, ()>) -> Vec<Vec<usize>> {
    let mut found: Vec<Vec<usize>> =
        petgraph::algo::tarjan_scc(graph).iter().filter_map(|knot| circle(graph, knot)).collect();
    found.sort();
    found
}

fn circle(graph: &DiGraph<usize, ()>, knot: &[NodeIndex]) -> Option<Vec<usize>> {
    let first = *knot.iter().min()?;
    let ways = graph.neighbors_directed(first, Direction::Outgoing).filter_map(|next| {
        let (_, way) = petgraph::algo::astar(graph, next, |n| n == first, |_| 1, |_| 0)?;
        Some(way)
    });
    let shortest = ways.min_by_key(|way| (way.len(), way.clone()))?;
    let back_to_front = shortest[..shortest.len() - 1].iter();
    Some(std::iter::once(&first).chain(back_to_front).map(|n| n.index()).collect())
}

/// Needs that follow from other needs of the same skill: (skill, need), in order. The graph has
/// no circle.
pub(super) fn implied(graph: &DiGraph<usize, ()>) -> Vec<(usize, usize)> {
    use petgraph::algo::tred;
    let Ok(order) = petgraph::algo::toposort(graph, None) else { return Vec::new() };
    let (list, place) = tred::dag_to_toposorted_adjacency_list::<_, u32>(graph, &order);
    let (reduced, _) = tred::dag_transitive_reduction_closure(&list);
    let kept = |skill: NodeIndex, need: NodeIndex| {
        reduced.contains_edge(place[skill.index()], place[need.index()])
    };
    let mut found: Vec<(usize, usize)> = graph
        .edge_references()
        .filter(|edge| !kept(edge.source(), edge.target()))
        .map(|edge| (edge.source().index(), edge.target().index()))
        .collect();
    found.sort_unstable();
    found
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::curriculum::Lessons;
    use proptest::prelude::*;

    /// A ladder of skills `s0`, `s1`, … each with the positions it needs.
    pub fn ladder(needs: &[Vec<usize>]) -> Ladder {
        let skill = |(n, needs): (usize, &Vec<usize>)| {
            let id = format!("s{n}");
            let lessons = Lessons { least: 1, preferred: 1, most: 1 };
            let needs = needs.iter().map(|n| format!("s{n}")).collect();
            let skill = Skill { needs, ..Skill::bare(&id, lessons) };
            (id, skill)
        };
        let skills = needs.iter().enumerate().map(skill).collect();
        Ladder { name: "test".into(), title: "Test".into(), skills }
    }

    #[test]
    fn a_diamond_knows_its_needs_dependants_order_and_longest_path() {
        let diamond = ladder(&[vec![1, 2], vec![3], vec![4], vec![], vec![3]]);
        assert_eq!(diamond.all_needs("s0"), ["s1", "s2", "s3", "s4"]);
        assert_eq!(diamond.dependants("s3"), ["s0", "s1", "s2", "s4"]);
        assert_eq!(diamond.needed_by("s3"), ["s1", "s4"]);
        assert_eq!(diamond.in_order(), ["s3", "s1", "s4", "s2", "s0"]);
        assert_eq!(diamond.longest_path(), ["s3", "s4", "s2", "s0"]);
        assert!(diamond.all_needs("nobody").is_empty());
    }

    #[test]
    fn a_unit_takes_needs_along_but_stops_at_what_is_known() {
        let ladder = ladder(&[vec![], vec![0], vec![1], vec![2, 0], vec![]]);
        let unit = |teach: &[&str], secure: &[&str]| {
            let own = |ids: &[&str]| ids.iter().map(|&s| s.to_owned()).collect::<Vec<_>>();
            ladder.unit(&own(teach), &own(secure)).join(" ")
        };
        assert_eq!(unit(&["s3"], &[]), "s0 s1 s2 s3");
        assert_eq!(unit(&["s3"], &["s1"]), "s2 s3", "s0 is known with s1");
        assert_eq!(unit(&["s4", "s1"], &["s2"]), "s4", "s1 is known with s2");
    }

    #[test]
    fn every_knot_shows_one_whole_circle() {
        let knots = graph_of(&[vec![1], vec![2, 3], vec![0], vec![1], vec![4], vec![0]]);
        assert_eq!(circles(&knots), [vec![0, 1, 2], vec![4]]);
    }

    prop_compose! {
        /// Needs that point backwards only, so that there is no circle.
        fn any_needs()(rows in proptest::collection::vec(proptest::collection::vec(any::<prop::sample::Index>(), 0..4), 1..12))
            -> Vec<Vec<usize>> {
            let row = |(n, picks): (usize, &Vec<prop::sample::Index>)| {
                let all: BTreeSet<usize> = picks.iter().filter(|_| n > 0).map(|p| p.index(n)).collect();
                all.into_iter().collect()
            };
            rows.iter().enumerate().map(row).collect()
        }
    }

    proptest! {
        #[test]
        fn needs_and_dependants_mirror_each_other_and_the_order_holds(needs in any_needs()) {
            let ladder = ladder(&needs);
            let order = ladder.in_order();
            prop_assert_eq!(order.len(), needs.len());
            let place = |id: &str| order.iter().position(|&o| o == id);
            for id in ladder.skills.keys() {
                for need in ladder.all_needs(id) {
                    prop_assert!(ladder.dependants(need).contains(&id.as_str()));
                    prop_assert!(place(need) < place(id));
                }
            }
            for pair in ladder.longest_path().windows(2) {
                prop_assert!(ladder.skills[pair[1]].needs.iter().any(|n| n == pair[0]));
            }
        }

        #[test]
        fn taking_implied_needs_away_changes_nothing_that_is_needed(needs in any_needs()) {
            let before = ladder(&needs);
            prop_assert!(circles(&before.graph()).is_empty());
            let implied = implied(&before.graph());
            let mut fewer = needs.clone();
            for &(skill, need) in &implied {
                fewer[skill].retain(|&n| n != need);
            }
            let after = ladder(&fewer);
            for id in before.skills.keys() {
                prop_assert_eq!(before.all_needs(id), after.all_needs(id));
            }
            for (skill, of) in fewer.iter().enumerate() {
                for &need in of {
                    let mut without = fewer.clone();
                    without[skill].retain(|&n| n != need);
                    let id = format!("s{skill}");
                    let without = ladder(&without);
                    prop_assert_ne!(before.all_needs(&id), without.all_needs(&id));
                }
            }
        }
    }
}
