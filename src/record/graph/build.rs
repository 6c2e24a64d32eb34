//! A graph is checked once, when it is made.

use std::cmp::Reverse;
use std::collections::BinaryHeap;

use super::{Edge, GraphError, Node, TraceGraph};

impl TraceGraph {
    /// A graph seen from `code`.
    ///
    /// # Errors
    /// If `code` or an edge's end is no node's code, a code stands for two nodes, an amount is negative
    /// or no number, or a way leads back to its start.
    pub fn new(code: impl Into<String>, nodes: Vec<Node>, edges: Vec<Edge>) -> Result<Self, GraphError> {
        Self::ordered(code.into(), nodes, edges).map_err(|(error, _)| error)
    }

    /// The same; what can't be put in order comes back with the reason, its nodes and edges as given.
    pub(super) fn ordered(
        code: String,
        nodes: Vec<Node>,
        edges: Vec<Edge>,
    ) -> Result<Self, (GraphError, Box<Self>)> {
        let mut graph = Self {
            origin: code.clone(),
            code,
            nodes,
            edges,
            ends: Vec::new(),
            by_code: Vec::new(),
            into: Vec::new(),
            out_of: Vec::new(),
        };
        match graph.checked_order() {
            Ok(order) => graph.rearrange(&order).map_err(|error| (error, Box::default())),
            Err(error) => Err((error, Box::new(graph))),
        }
    }

    fn checked_order(&mut self) -> Result<Vec<usize>, GraphError> {
        self.index_codes()?;
        self.position(&self.code)?;
        self.link()?;
        self.order()
    }

    fn index_codes(&mut self) -> Result<(), GraphError> {
        let nodes = &self.nodes;
        let mut by_code: Vec<usize> = (0..nodes.len()).collect();
        by_code.sort_by(|&a, &b| nodes[a].code.cmp(&nodes[b].code));
        if let Some(pair) = by_code.windows(2).find(|pair| nodes[pair[0]].code == nodes[pair[1]].code) {
            return Err(GraphError::DoubledCode { code: nodes[pair[0]].code.clone() });
        }
        self.by_code = by_code;
        Ok(())
    }

    fn link(&mut self) -> Result<(), GraphError> {
        let ends = |edge: &Edge| {
            check_amount(edge)?;
            Ok((self.position(&edge.from)?, self.position(&edge.to)?))
        };
        let ends: Vec<(usize, usize)> = self.edges.iter().map(ends).collect::<Result<_, GraphError>>()?;
        self.into = vec![Vec::new(); self.nodes.len()];
        self.out_of = vec![Vec::new(); self.nodes.len()];
        for (edge, &(from, to)) in ends.iter().enumerate() {
            self.out_of[from].push(edge);
            self.into[to].push(edge);
        }
        self.ends = ends;
        Ok(())
    }

    /// An order in which everything stands behind what it was made of (Kahn's algorithm, Commun. ACM 5
    /// (1962) 558; from memory), the earliest given first.
    fn order(&self) -> Result<Vec<usize>, GraphError> {
        let mut waits_for: Vec<usize> = self.into.iter().map(Vec::len).collect();
        let free = waits_for.iter().enumerate().filter(|(_, count)| **count == 0);
        let mut ready: BinaryHeap<Reverse<usize>> = free.map(|(node, _)| Reverse(node)).collect();
        let mut order = Vec::with_capacity(self.nodes.len());
        while let Some(Reverse(node)) = ready.pop() {
            order.push(node);
            for &edge in &self.out_of[node] {
                let next = self.ends[edge].1;
                waits_for[next] -= 1;
                if waits_for[next] == 0 {
                    ready.push(Reverse(next));
                }
            }
        }
        if order.len() == self.nodes.len() { Ok(order) } else { Err(self.cycle(&waits_for)) }
    }

    /// A way that leads back to its start: whatever still waits, waits for something that waits too, so
    /// that going back from one to the next must come to one a second time.
    fn cycle(&self, waits_for: &[usize]) -> GraphError {
        let waiting = |node: &usize| 0 < waits_for[*node];
        let mut way: Vec<usize> = (0..self.nodes.len()).find(waiting).into_iter().collect();
        let mut seen_at = vec![None; self.nodes.len()];
        while let Some(&last) = way.last() {
            if let Some(first) = seen_at[last] {
                way.drain(..first);
                break;
            }
            seen_at[last] = Some(way.len() - 1);
            let before = self.into[last].iter().map(|&edge| self.ends[edge].0).find(waiting);
            match before {
                Some(node) => way.push(node),
                None => break,
            }
        }
        way.reverse();
        GraphError::Cycle { way: way.iter().map(|&node| self.nodes[node].code.clone()).collect() }
    }

    /// The same with its nodes in another order.
    fn rearrange(mut self, order: &[usize]) -> Result<Self, GraphError> {
        let mut nodes: Vec<Option<Node>> = self.nodes.drain(..).map(Some).collect();
        self.nodes = order.iter().filter_map(|&node| nodes[node].take()).collect();
        self.index_codes()?;
        self.link()?;
        Ok(self)
    }
}

fn check_amount(edge: &Edge) -> Result<(), GraphError> {
    match edge.grams {
        Some(grams) if !grams.is_finite() || grams < 0.0 => Err(GraphError::BadAmount {
            from: edge.from.clone(),
            to: edge.to.clone(),
            grams: grams.to_string(),
        }),
        _ => Ok(()),
    }
}
