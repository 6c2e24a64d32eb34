//! The graph's answers against those of a search that follows every edge again and again.

use std::collections::BTreeSet;

use meltbook::record::graph::{DatedEdge, Edge, GraphError, Node, NodeKind, Presence, Total, TraceGraph};
use proptest::prelude::*;

use super::sample::{any_graph, any_parts, blend, small};

/// Everything reached from a code against or along the edges, step by step until nothing new comes.
fn reached(graph: &TraceGraph, code: &str, upstream: bool) -> BTreeSet<String> {
    let mut found = BTreeSet::new();
    loop {
        let known = |name: &String| name == code || found.contains(name);
        let step = |edge: &Edge| match upstream {
            true => known(&edge.to).then(|| edge.from.clone()),
            false => known(&edge.from).then(|| edge.to.clone()),
        };
        let new: BTreeSet<String> =
            graph.edges().iter().filter_map(step).filter(|name| !found.contains(name)).collect();
        if new.is_empty() {
            return found;
        }
        found.extend(new);
    }
}

fn owned(codes: Vec<&str>) -> BTreeSet<String> {
    codes.into_iter().map(str::to_owned).collect()
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(128))]

    #[test]
    fn both_ways_are_found(graph in any_graph()) {
        for node in graph.nodes() {
            let code = node.code.as_str();
            prop_assert_eq!(owned(graph.upstream([code]).unwrap()), reached(&graph, code, true));
            prop_assert_eq!(owned(graph.downstream([code]).unwrap()), reached(&graph, code, false));
        }
    }

    #[test]
    fn everything_stands_behind_what_it_was_made_of(graph in any_graph()) {
        for edge in graph.edges() {
            prop_assert!(graph.position(&edge.from).unwrap() < graph.position(&edge.to).unwrap());
        }
        let last = graph.nodes().last().unwrap().code.as_str();
        let upstream = graph.upstream([last]).unwrap();
        let places: Vec<usize> = upstream.iter().map(|code| graph.position(code).unwrap()).collect();
        prop_assert!(places.is_sorted());
    }

    #[test]
    fn a_way_back_is_refused((nodes, edges) in any_parts(), pick in any::<prop::sample::Index>()) {
        prop_assume!(!edges.is_empty());
        let one = pick.get(&edges);
        let back = Edge::new(&one.to, &one.from, None);
        let all: Vec<Edge> = edges.iter().cloned().chain([back]).collect();
        let error = TraceGraph::new(nodes[0].code.clone(), nodes.clone(), all.clone()).unwrap_err();
        let GraphError::Cycle { way } = error else { return Err(TestCaseError::fail("no cycle")) };
        prop_assert_eq!(way.first(), way.last());
        for pair in way.windows(2) {
            prop_assert!(all.iter().any(|edge| edge.from == pair[0] && edge.to == pair[1]), "{:?}", pair);
        }
    }

    #[test]
    fn around_keeps_a_codes_own_history(graph in any_graph()) {
        let code = graph.code();
        let part = graph.around(code).unwrap();
        prop_assert_eq!(owned(part.upstream([code]).unwrap()), reached(&graph, code, true));
        prop_assert_eq!(owned(part.downstream([code]).unwrap()), reached(&graph, code, false));
        prop_assert_eq!(part.nodes().len(), 1 + reached(&graph, code, true).len() + reached(&graph, code, false).len());
    }

    #[test]
    fn sets_are_compared(graph in any_graph(), split in proptest::collection::vec(0..3, 24)) {
        let set = |which: i32| -> Vec<&str> {
            let nodes = graph.nodes().iter().zip(&split).filter(|(_, set)| **set == which);
            nodes.map(|(node, _)| node.code.as_str()).collect()
        };
        let (first, second) = (set(0), set(1));
        prop_assume!(!first.is_empty() && !second.is_empty());
        let difference = graph.between(first.iter().copied(), second.iter().copied()).unwrap();
        let mut rows = 0;
        for node in graph.nodes() {
            let count = |codes: &[&str]| codes.iter().filter(|code| reached(&graph, code, true).contains(&node.code)).count();
            let direct = |codes: &[&str]| -> Total {
                graph.edges().iter().filter(|e| e.from == node.code && codes.contains(&e.to.as_str())).collect()
            };
            let (one, other) = (count(&first), count(&second));
            let row = difference.rows.iter().find(|row| row.node.code == node.code);
            prop_assert_eq!(row.is_some(), 0 < one + other);
            let Some(row) = row else { continue };
            rows += 1;
            prop_assert_eq!((row.first.codes, row.second.codes), (one, other));
            prop_assert!((row.first.direct.grams - direct(&first).grams).abs() < 1e-9);
            prop_assert_eq!(row.second.direct.unweighed, direct(&second).unweighed);
            let expected = match (one == first.len(), other == second.len(), one, other) {
                (true, true, ..) => Presence::All,
                (true, _, _, 0) => Presence::AllOfFirstOnly,
                (_, true, 0, _) => Presence::AllOfSecondOnly,
                _ => Presence::Some,
            };
            prop_assert_eq!(row.presence, expected);
        }
        prop_assert_eq!(difference.rows.len(), rows);
        prop_assert!(difference.rows.is_sorted_by_key(|row| row.presence));
    }
}

#[test]
fn amounts_are_summed_and_what_is_missing_is_counted() {
    let graph = small();
    let glycerol = graph.used_from("B2").unwrap();
    assert_eq!((glycerol.grams, glycerol.weighed, glycerol.unweighed), (42.85, 2, 0));
    let mix = graph.used_from("M1").unwrap();
    assert_eq!((mix.grams, mix.weighed, mix.unweighed), (0.502, 1, 1));
    // 32.48 + 40.00 + 2.85, by hand.
    assert!((graph.put_into("E1").unwrap().grams - 75.33).abs() < 1e-9);
    assert!(graph.put_into("B1").unwrap().is_empty());
}

#[test]
fn what_tells_cells_apart_comes_first() {
    let graph = blend();
    let difference = graph.between(["C1", "C2"], ["C13", "C14"]).unwrap();
    let telling: Vec<&str> = difference.telling().map(|row| row.node.code.as_str()).collect();
    // The blend's cells hold urea, thymol and water beside what the plain batch's cells hold too.
    assert_eq!(telling, ["B3", "B7", "B8", "B9", "E4", "S1", "E6"]);
    assert!(difference.telling().all(|row| row.presence == Presence::AllOfFirstOnly));
}

#[test]
fn a_faulty_graph_is_refused_with_its_reason() {
    let node = |code: &str| Node::new(code, NodeKind::Bottle, "");
    let error =
        |nodes: Vec<Node>, edges: Vec<Edge>| TraceGraph::new("B1", nodes, edges).unwrap_err().to_string();
    let edge = |from: &str, to: &str, grams: f64| Edge::new(from, to, Some(grams));
    assert_eq!(error(vec![node("B2")], vec![]), "no record has the code \"B1\"");
    assert_eq!(error(vec![node("B1"), node("B1")], vec![]), "two records have the code \"B1\"");
    assert_eq!(error(vec![node("B1")], vec![edge("B1", "E1", 1.0)]), "no record has the code \"E1\"");
    let two = || vec![node("B1"), node("B2")];
    assert_eq!(
        error(two(), vec![edge("B1", "B2", -1.0)]),
        "the amount of \"B1\" in \"B2\" is -1 g, which is no amount"
    );
    assert_eq!(
        error(two(), vec![edge("B1", "B2", f64::NAN)]),
        "the amount of \"B1\" in \"B2\" is NaN g, which is no amount"
    );
    assert_eq!(
        error(two(), vec![edge("B1", "B2", 1.0), edge("B2", "B1", 1.0)]),
        "what was used in what leads back to its start: B1 → B2 → B1"
    );
    assert_eq!(
        error(two(), vec![edge("B1", "B1", 1.0)]),
        "what was used in what leads back to its start: B1 → B1"
    );
}

/// E2 was made of E1, and some of it was poured back: what stood in E1 before is told apart by the entry.
#[test]
fn what_was_poured_back_is_told_apart() {
    let node = |code: &str, kind| Node::new(code, kind, "");
    let nodes = vec![
        node("B1", NodeKind::Bottle),
        node("B2", NodeKind::Bottle),
        node("E1", NodeKind::Electrolyte),
        node("E2", NodeKind::Electrolyte),
        node("C1", NodeKind::Cell),
        node("C2", NodeKind::Cell),
    ];
    let dated = |entry, from: &str, to: &str| DatedEdge { entry, edge: Edge::new(from, to, Some(1.0)) };
    let edges = vec![
        dated(1, "B1", "E1"),
        dated(2, "B2", "E2"),
        dated(3, "E1", "E2"),
        dated(4, "E1", "C1"),
        dated(5, "E2", "E1"),
        dated(6, "E1", "C2"),
    ];
    let graph = TraceGraph::dated("E1", nodes.clone(), edges.clone()).unwrap();
    assert_eq!((graph.code(), graph.origin()), ("E1", "E1 until entry 5"));
    let before = "E1 until entry 5";
    // C1 was filled before anything of B2 came into E1.
    assert_eq!(owned(graph.upstream(["C1"]).unwrap()), owned(vec!["B1", before]));
    assert_eq!(owned(graph.upstream(["C2"]).unwrap()), owned(vec!["B1", "B2", before, "E1", "E2"]));
    assert_eq!(owned(graph.downstream([graph.origin()]).unwrap()), owned(vec!["E1", "E2", "C1", "C2"]));
    // Poured to and fro: each way back ends at an entry of its own.
    let mut more = edges;
    more.extend([dated(7, "E1", "E2"), dated(8, "E2", "E1")]);
    let graph = TraceGraph::dated("E2", nodes.clone(), more).unwrap();
    assert_eq!(graph.code(), "E2");
    assert!(owned(graph.upstream(["E1"]).unwrap()).contains("B2"));
    // The order of entries is no way out where there is none.
    let at_once = vec![dated(1, "E1", "E2"), dated(1, "E2", "E1")];
    assert!(matches!(TraceGraph::dated("E1", nodes, at_once), Err(GraphError::Cycle { .. })));
}
