//! Graphs for the tests: invented books of three sizes, and any graph.

use meltbook::record::graph::{Edge, Mark, Node, NodeKind, TraceGraph};
use proptest::prelude::*;

/// One electrolyte of three bottles, and two cells with a cathode mix.
pub fn small() -> TraceGraph {
    let nodes = vec![
        Node::new("B1", NodeKind::Bottle, "choline chloride").left(141.2),
        Node::new("B4", NodeKind::Bottle, "choline chloride, dried portion of B1").mark(Mark::Spent),
        Node::new("B2", NodeKind::Bottle, "glycerol").left(402.0),
        Node::new("B3", NodeKind::Bottle, "manganese dioxide & carbon <battery grade>"),
        Node::new("E1", NodeKind::Electrolyte, "ChCl:glycerol 1:2").left(70.1),
        Node::new("M1", NodeKind::CathodeMix, "dry cell mix"),
        Node::new("C1", NodeKind::Cell, "zinc cell, open"),
        Node::new("C2", NodeKind::Cell, "zinc cell, open").mark(Mark::Retired),
        Node::new("R1", NodeKind::Reading, "open circuit 1.482 V"),
        Node::new("R2", NodeKind::Reading, "open circuit 1.475 V"),
    ];
    let edges = vec![
        Edge::new("B1", "B4", Some(33.1)),
        Edge::new("B4", "E1", Some(32.48)),
        Edge::new("B2", "E1", Some(40.0)),
        Edge::new("B2", "E1", Some(2.85)),
        Edge::new("B3", "M1", Some(8.0)),
        Edge::new("E1", "M1", Some(3.0)),
        Edge::new("E1", "C1", Some(1.21)),
        Edge::new("M1", "C1", Some(0.502)),
        Edge::new("E1", "C2", Some(1.2)),
        Edge::new("M1", "C2", None),
        Edge::new("C1", "R1", None),
        Edge::new("C1", "R2", None),
    ];
    TraceGraph::new("E1", nodes, edges).unwrap()
}

/// One batch with 36 cells in three designs, built in an order drawn by lot, each read six times.
pub fn many_cells() -> TraceGraph {
    let mut nodes = vec![
        Node::new("B1", NodeKind::Bottle, "choline chloride"),
        Node::new("B2", NodeKind::Bottle, "ethylene glycol"),
        Node::new("B5", NodeKind::Bottle, "zinc chloride"),
        Node::new("E7", NodeKind::Electrolyte, "ChCl:EG 1:2 + 0.5 mol/kg ZnCl2"),
        Node::new("M2", NodeKind::CathodeMix, "dry cell mix"),
    ];
    let mut edges = vec![
        Edge::new("B1", "E7", Some(32.48)),
        Edge::new("B2", "E7", Some(28.877)),
        Edge::new("B5", "E7", Some(4.181)),
    ];
    for cell in 1..=36u32 {
        let code = format!("C{cell}");
        let design = ["zinc cell, open", "zinc cell, thick separator"][usize::from(cell % 5 == 0)];
        let node = Node::new(&code, NodeKind::Cell, design);
        nodes.push(if [11, 12].contains(&cell) { node.mark(Mark::Retired) } else { node });
        edges.push(Edge::new("E7", &code, Some(1.2 + f64::from(cell * 7 % 11) / 1000.0)));
        edges.push(Edge::new("M2", &code, Some(0.5)));
        for reading in 0..6 {
            let name = format!("R{}", 6 * (cell - 1) + reading + 1);
            nodes.push(Node::new(&name, NodeKind::Reading, "open circuit"));
            edges.push(Edge::new(&code, &name, None));
        }
    }
    TraceGraph::new("E7", nodes, edges).unwrap()
}

/// Two batches with dried portions, blended, a stock solution added, in cells; a batch that was rejected.
pub fn blend() -> TraceGraph {
    let bottle = |code: &str, label: &str| Node::new(code, NodeKind::Bottle, label);
    let batch = |code: &str, label: &str| Node::new(code, NodeKind::Electrolyte, label);
    let mut nodes = vec![
        bottle("B1", "choline chloride"),
        bottle("B2", "glycerol"),
        bottle("B3", "urea").mark(Mark::PastExpiry),
        bottle("B6", "choline chloride, dried portion of B1"),
        bottle("B7", "urea, dried portion of B3").mark(Mark::Disposed),
        bottle("B8", "thymol"),
        bottle("B9", "water"),
        batch("E3", "ChCl:glycerol 1:2"),
        batch("E4", "ChCl:urea 1:2"),
        batch("E5", "ChCl:urea 1:2").mark(Mark::Rejected),
        Node::new("S1", NodeKind::StockSolution, "thymol in ChCl:glycerol 1:2, 1 wt%"),
        batch(
            "E6",
            "ChCl:glycerol:urea 2:2:2 with a name so long that it can't stand in one box without losing its end, as names go",
        ),
    ];
    let mut edges = vec![
        Edge::new("B1", "B6", Some(80.0)),
        Edge::new("B3", "B7", Some(60.0)),
        Edge::new("B6", "E3", Some(32.48)),
        Edge::new("B2", "E3", Some(42.85)),
        Edge::new("B6", "E4", Some(25.001)),
        Edge::new("B7", "E4", Some(21.51)),
        Edge::new("B6", "E5", Some(12.5)),
        Edge::new("B7", "E5", Some(10.75)),
        Edge::new("E3", "S1", Some(9.9)),
        Edge::new("B8", "S1", Some(0.1)),
        Edge::new("E3", "E6", Some(30.0)),
        Edge::new("E4", "E6", Some(30.0)),
        Edge::new("S1", "E6", Some(0.605)),
        Edge::new("B9", "E6", Some(1.21)),
    ];
    for (batch, cells) in [("E6", 1..=12), ("E3", 13..=24), ("E4", 25..=27)] {
        for cell in cells {
            let code = format!("C{cell}");
            nodes.push(Node::new(&code, NodeKind::Cell, "zinc cell, open"));
            edges.push(Edge::new(batch, &code, Some(1.2)));
        }
    }
    TraceGraph::new("B6", nodes, edges).unwrap()
}

/// A bottle that went into 150 batches, each with five cells: too much to be drawn one by one.
pub fn large() -> TraceGraph {
    let mut nodes = vec![Node::new("B1", NodeKind::Bottle, "choline chloride")];
    let mut edges = Vec::new();
    for batch in 1..=150u32 {
        let code = format!("E{batch}");
        nodes.push(Node::new(&code, NodeKind::Electrolyte, format!("recipe {}", batch % 7)));
        edges.push(Edge::new("B1", &code, Some(10.0)));
        for cell in 5 * batch - 4..=5 * batch {
            let cell = format!("C{cell}");
            nodes.push(Node::new(&cell, NodeKind::Cell, "zinc cell"));
            edges.push(Edge::new(&code, &cell, Some(1.2)));
        }
    }
    TraceGraph::new("B1", nodes, edges).unwrap()
}

/// Nodes and edges of any graph without a way back to its start, in no order; from the last node on.
pub fn any_parts() -> impl Strategy<Value = (Vec<Node>, Vec<Edge>)> {
    (2usize..24).prop_flat_map(|count| {
        let edge = (0..count, 0..count, proptest::option::of(0.0..100.0));
        let edges = proptest::collection::vec(edge, 0..60);
        let kinds = proptest::collection::vec(0..NodeKind::ALL.len(), count);
        (kinds, edges, Just((0..count).collect::<Vec<_>>()).prop_shuffle()).prop_map(
            |(kinds, edges, order)| {
                let code = |at: usize| format!("{}{at}", ["B", "S", "E", "M", "C", "R"][kinds[at]]);
                let node =
                    |&at: &usize| Node::new(code(at), NodeKind::ALL[kinds[at]], format!("thing {}", at % 3));
                let forward = edges.into_iter().filter(|(from, to, _)| from != to);
                let edge = |(from, to, grams): (usize, usize, Option<f64>)| {
                    Edge::new(code(from.min(to)), code(from.max(to)), grams)
                };
                (order.iter().map(node).collect(), forward.map(edge).collect())
            },
        )
    })
}

/// Any graph, seen from any of its nodes.
pub fn any_graph() -> impl Strategy<Value = TraceGraph> {
    (any_parts(), any::<prop::sample::Index>()).prop_map(|((nodes, edges), root)| {
        let code = root.get(&nodes).code.clone();
        TraceGraph::new(code, nodes, edges).unwrap()
    })
}
