//! Sums of amounts that say what they leave out.

use super::{Edge, GraphError, TraceGraph};

/// A sum of amounts.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Total {
    /// The sum of those that were weighed, in grams.
    pub grams: f64,
    /// How many were weighed.
    pub weighed: usize,
    /// How many nobody weighed: the true sum is larger by these.
    pub unweighed: usize,
}

impl Total {
    /// True if there was nothing to sum.
    pub fn is_empty(&self) -> bool {
        self.weighed == 0 && self.unweighed == 0
    }

    /// The same with one more amount.
    pub fn plus(mut self, grams: Option<f64>) -> Self {
        match grams {
            Some(grams) => {
                self.grams += grams;
                self.weighed += 1;
            }
            None => self.unweighed += 1,
        }
        self
    }
}

impl<'e> FromIterator<&'e Edge> for Total {
    fn from_iter<I: IntoIterator<Item = &'e Edge>>(edges: I) -> Self {
        edges.into_iter().fold(Self::default(), |total, edge| total.plus(edge.grams))
    }
}

impl TraceGraph {
    /// How much of a code went into others, as far as this graph knows.
    ///
    /// # Errors
    /// If the code is no node's.
    pub fn used_from(&self, code: &str) -> Result<Total, GraphError> {
        Ok(self.edges_out_of(self.position(code)?).map(|(_, edge)| edge).collect())
    }

    /// How much of others went into a code, as far as this graph knows.
    ///
    /// # Errors
    /// If the code is no node's.
    pub fn put_into(&self, code: &str) -> Result<Total, GraphError> {
        Ok(self.edges_into(self.position(code)?).map(|(_, edge)| edge).collect())
    }
}
