//! What was poured back: a batch that got some of what had been made of it.
//!
//! What stood in the vial before is another liquid than what stands there after, so that it is told apart as
//! "E1 until entry 12". With that, no way leads back to its own start.

use super::{Edge, GraphError, Node, TraceGraph};

/// Between a code and the entry up to which it was something else.
const UNTIL: &str = " until entry ";

/// An amount with the entry that records it.
#[derive(Debug, Clone, PartialEq)]
pub struct DatedEdge {
    /// Sequence of the entry.
    pub entry: u64,
    /// The amount.
    pub edge: Edge,
}

impl TraceGraph {
    /// A graph of amounts with their entries, seen from `code`. Where something was poured back, the node that
    /// got it is told apart by the entry.
    ///
    /// # Errors
    /// As [`TraceGraph::new`], except that a way back is no fault if the order of entries explains it.
    pub fn dated(
        code: impl Into<String>,
        nodes: Vec<Node>,
        edges: Vec<DatedEdge>,
    ) -> Result<Self, GraphError> {
        let code = code.into();
        let mut origin = code.clone();
        let (entries, edges): (Vec<u64>, Vec<Edge>) =
            edges.into_iter().map(|dated| (dated.entry, dated.edge)).unzip();
        let mut parts = Parts { nodes, edges, entries };
        // Each turn ends one way back at one entry, and each entry makes one of a code.
        loop {
            let (error, graph) = match Self::ordered(code.clone(), parts.nodes, parts.edges) {
                Ok(graph) => return Ok(Self { origin, ..graph }),
                Err(failed) => failed,
            };
            let GraphError::Cycle { way } = &error else { return Err(error) };
            parts = Parts { nodes: graph.nodes, edges: graph.edges, entries: parts.entries };
            let last = parts.last_step(way);
            let Some((poured_into, before)) = last.and_then(|(entry, code)| parts.split(entry, code)) else {
                return Err(error);
            };
            if origin == poured_into {
                origin = before;
            }
        }
    }
}

/// The code on the vial, whatever it held and until when.
pub(super) fn vial(code: &str) -> &str {
    code.split(UNTIL).next().unwrap_or(code)
}

/// What a graph is made of.
struct Parts {
    nodes: Vec<Node>,
    edges: Vec<Edge>,
    /// The entry of each edge.
    entries: Vec<u64>,
}

impl Parts {
    /// The latest entry along a way that leads back to its start, and what got something by it. Of several
    /// amounts between the same two, the first closes the way.
    fn last_step(&self, way: &[String]) -> Option<(u64, String)> {
        let step = |pair: &[String]| {
            let [from, to] = pair else { return None };
            let between = self.edges.iter().zip(&self.entries);
            let between = between.filter(|(edge, _)| edge.from == *from && edge.to == *to);
            between.map(|(_, entry)| *entry).min().map(|entry| (entry, to.clone()))
        };
        way.windows(2).filter_map(step).max_by_key(|(entry, _)| *entry)
    }

    /// Gives what a code was before an entry a node of its own, and says both names; `None` if it was nothing
    /// then.
    fn split(&mut self, entry: u64, code: String) -> Option<(String, String)> {
        let before = format!("{}{UNTIL}{entry}", vial(&code));
        let mut renamed = false;
        for (edge, _) in self.edges.iter_mut().zip(&self.entries).filter(|(_, of)| **of < entry) {
            for end in [&mut edge.from, &mut edge.to] {
                if *end == code {
                    end.clone_from(&before);
                    renamed = true;
                }
            }
        }
        let place = self.nodes.iter().position(|node| node.code == code).filter(|_| renamed)?;
        let now = &self.nodes[place];
        let earlier = Node { code: before.clone(), left_grams: None, marks: Vec::new(), ..now.clone() };
        self.nodes.insert(place, earlier);
        self.edges.push(Edge::new(before.clone(), code.clone(), None));
        self.entries.push(entry);
        Some((code, before))
    }
}
