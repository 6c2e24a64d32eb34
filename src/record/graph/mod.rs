//! The thread between bottles, batches and cells: what was used in what, and how much of it.
//!
//! A [`TraceGraph`] is a plain value: who reads records makes one from nodes and edges, and everything that
//! is asked of it is answered without storage.
//!
//! ```
//! use meltbook::record::graph::{Edge, Node, NodeKind, TraceGraph};
//!
//! let graph = TraceGraph::new(
//!     "E1",
//!     vec![
//!         Node::new("B1", NodeKind::Bottle, "choline chloride"),
//!         Node::new("E1", NodeKind::Electrolyte, "ChCl:glycerol 1:2"),
//!         Node::new("C1", NodeKind::Cell, "zinc cell"),
//!     ],
//!     vec![Edge::new("B1", "E1", Some(32.48)), Edge::new("E1", "C1", None)],
//! )?;
//! assert_eq!(graph.upstream(["C1"])?, ["B1", "E1"]);
//! assert_eq!(graph.downstream(["B1"])?, ["E1", "C1"]);
//! assert_eq!(graph.used_from("B1")?.grams, 32.48);
//! # Ok::<(), meltbook::record::graph::GraphError>(())
//! ```

mod build;
mod difference;
mod feature;
mod node;
mod suspicion;
mod total;
mod versions;
mod walk;

pub use difference::{Difference, DifferenceRow, Presence, Share};
pub use feature::{Contrast, DoseRow, Doses, Feature, FeatureKind, FeatureRow, Profile};
pub use node::{Edge, Mark, Node, NodeKind};
pub use suspicion::{Handled, NodeCode, Suspect, Suspicion};
pub use total::Total;
pub use versions::DatedEdge;

/// What was used in what, seen from one code. There is no way in it that leads back to its own start.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct TraceGraph {
    code: String,
    /// The code where its way down begins: another one only if something was poured back into it.
    origin: String,
    /// In an order in which everything stands behind what it was made of.
    nodes: Vec<Node>,
    edges: Vec<Edge>,
    /// The positions of each edge's two ends among the nodes.
    ends: Vec<(usize, usize)>,
    /// The positions of the nodes, by their codes.
    by_code: Vec<usize>,
    /// Edges that lead to each node.
    into: Vec<Vec<usize>>,
    /// Edges that lead away from each node.
    out_of: Vec<Vec<usize>>,
}

/// Why there is no such graph, or no such code in it.
#[derive(Debug, Clone, PartialEq, Eq, thiserror::Error)]
pub enum GraphError {
    /// A code that no node has.
    #[error("no record has the code {code:?}")]
    UnknownCode {
        /// The code.
        code: String,
    },
    /// Two nodes with one code.
    #[error("two records have the code {code:?}")]
    DoubledCode {
        /// The code.
        code: String,
    },
    /// Something was used, by way of others, in itself.
    #[error("what was used in what leads back to its start: {}", way.join(" → "))]
    Cycle {
        /// The codes along the way; the first is also the last.
        way: Vec<String>,
    },
    /// An amount that is no amount.
    #[error("the amount of {from:?} in {to:?} is {grams} g, which is no amount")]
    BadAmount {
        /// What was used.
        from: String,
        /// What used it.
        to: String,
        /// As given.
        grams: String,
    },
}

impl TraceGraph {
    /// The code that it is seen from.
    pub fn code(&self) -> &str {
        &self.code
    }

    /// Where its way down begins: what the code was before anything was poured back into it, else the code.
    pub fn origin(&self) -> &str {
        &self.origin
    }

    /// All nodes, each behind everything that was used in it. Among those that could stand in either
    /// order, the one given first stands first.
    pub fn nodes(&self) -> &[Node] {
        &self.nodes
    }

    /// All edges, as given. Two weighings of one thing into another are two edges.
    pub fn edges(&self) -> &[Edge] {
        &self.edges
    }

    /// The node of a code.
    ///
    /// # Errors
    /// If there is none.
    pub fn node(&self, code: &str) -> Result<&Node, GraphError> {
        self.position(code).map(|position| &self.nodes[position])
    }

    /// The node that it is seen from.
    pub fn root(&self) -> Option<&Node> {
        self.node(&self.code).ok()
    }

    /// The place of a code among the nodes.
    ///
    /// # Errors
    /// If there is none.
    pub fn position(&self, code: &str) -> Result<usize, GraphError> {
        let found = self.by_code.binary_search_by(|&at| self.nodes[at].code.as_str().cmp(code));
        let unknown = |_| GraphError::UnknownCode { code: code.to_owned() };
        found.map(|at| self.by_code[at]).map_err(unknown)
    }

    /// The edges that lead to a node, by its place, each with the place of what was used.
    pub fn edges_into(&self, position: usize) -> impl Iterator<Item = (usize, &Edge)> {
        let edges = self.into.get(position).into_iter().flatten();
        edges.map(|&edge| (self.ends[edge].0, &self.edges[edge]))
    }

    /// The edges that lead away from a node, by its place, each with the place of what used it.
    pub fn edges_out_of(&self, position: usize) -> impl Iterator<Item = (usize, &Edge)> {
        let edges = self.out_of.get(position).into_iter().flatten();
        edges.map(|&edge| (self.ends[edge].1, &self.edges[edge]))
    }
}
