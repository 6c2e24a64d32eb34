//! Ways up and down the thread.

use super::{Edge, GraphError, Node, TraceGraph};

impl TraceGraph {
    /// The codes of everything that the given codes were made of, by however many steps, without
    /// themselves unless one was used in another; each behind what it was made of itself.
    ///
    /// # Errors
    /// If a code is no node's.
    pub fn upstream<'c>(&self, codes: impl IntoIterator<Item = &'c str>) -> Result<Vec<&str>, GraphError> {
        let mut reached = vec![false; self.nodes.len()];
        self.mark_upstream(self.positions(codes)?, &mut reached);
        Ok(self.codes_of(&reached))
    }

    /// The codes of everything that the given codes were used in, by however many steps, without
    /// themselves unless one was used in another; each behind what it was made of.
    ///
    /// # Errors
    /// If a code is no node's.
    pub fn downstream<'c>(&self, codes: impl IntoIterator<Item = &'c str>) -> Result<Vec<&str>, GraphError> {
        let mut reached = vec![false; self.nodes.len()];
        self.mark_downstream(self.positions(codes)?, &mut reached);
        Ok(self.codes_of(&reached))
    }

    /// The part of it that has to do with one code: itself, all upstream of it, all downstream, and what
    /// went between these.
    ///
    /// # Errors
    /// If the code is no node's.
    pub fn around(&self, code: &str) -> Result<Self, GraphError> {
        let start = self.position(code)?;
        let mut up = vec![false; self.nodes.len()];
        let mut down = up.clone();
        self.mark_upstream(vec![start], &mut up);
        self.mark_downstream(vec![start], &mut down);
        up[start] = true;
        down[start] = true;
        let kept = |position: usize| up[position] || down[position];
        // A bottle that went into a batch also may have gone straight into a cell of that batch: this edge
        // leads from upstream past the code to downstream, and it is no part of the code's own history.
        let on_one_side = |&(from, to): &(usize, usize)| (up[from] && up[to]) || (down[from] && down[to]);
        let nodes: Vec<Node> =
            (0..self.nodes.len()).filter(|&at| kept(at)).map(|at| self.nodes[at].clone()).collect();
        let edges: Vec<Edge> = self
            .ends
            .iter()
            .zip(&self.edges)
            .filter(|(ends, _)| on_one_side(ends))
            .map(|(_, edge)| edge.clone())
            .collect();
        Self::new(code, nodes, edges)
    }

    pub(super) fn positions<'c>(
        &self,
        codes: impl IntoIterator<Item = &'c str>,
    ) -> Result<Vec<usize>, GraphError> {
        codes.into_iter().map(|code| self.position(code)).collect()
    }

    fn mark_upstream(&self, mut todo: Vec<usize>, reached: &mut [bool]) {
        while let Some(node) = todo.pop() {
            for (from, _) in self.edges_into(node) {
                if !std::mem::replace(&mut reached[from], true) {
                    todo.push(from);
                }
            }
        }
    }

    fn mark_downstream(&self, mut todo: Vec<usize>, reached: &mut [bool]) {
        while let Some(node) = todo.pop() {
            for (to, _) in self.edges_out_of(node) {
                if !std::mem::replace(&mut reached[to], true) {
                    todo.push(to);
                }
            }
        }
    }

    fn codes_of(&self, reached: &[bool]) -> Vec<&str> {
        let nodes = self.nodes.iter().zip(reached).filter(|(_, reached)| **reached);
        nodes.map(|(node, _)| node.code.as_str()).collect()
    }
}
