//! What differs between two sets of codes, such as good cells and bad ones: what one set was made of and
//! the other was not.

use super::{GraphError, Node, Total, TraceGraph};

/// What is upstream of two sets of codes, and of how many in each.
#[derive(Debug, Clone, PartialEq)]
pub struct Difference {
    /// How many codes the first set has, each counted once.
    pub first: usize,
    /// How many codes the second set has.
    pub second: usize,
    /// Everything upstream of any of them, what tells the sets apart best first.
    pub rows: Vec<DifferenceRow>,
}

/// One thing upstream.
#[derive(Debug, Clone, PartialEq)]
pub struct DifferenceRow {
    /// What it is.
    pub node: Node,
    /// What it has to do with the first set.
    pub first: Share,
    /// What it has to do with the second set.
    pub second: Share,
    /// Both together.
    pub presence: Presence,
}

/// How many of a set something is in.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub struct Share {
    /// So many codes of the set.
    pub codes: usize,
    /// What went straight into codes of the set; what came by way of others is not counted here.
    pub direct: Total,
}

/// In which of two sets something is. They are in the order in which they tell sets apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Presence {
    /// In all of the first and none of the second.
    AllOfFirstOnly,
    /// In all of the second and none of the first.
    AllOfSecondOnly,
    /// In some but not all, of one set or of both.
    Some,
    /// In all of both: it tells nothing.
    All,
}

impl Presence {
    /// Its name for scripts.
    pub const fn key(self) -> &'static str {
        match self {
            Self::AllOfFirstOnly => "all_of_first_only",
            Self::AllOfSecondOnly => "all_of_second_only",
            Self::Some => "some",
            Self::All => "all",
        }
    }
}

impl Difference {
    /// What is in all codes of both sets or otherwise alike is left out.
    pub fn telling(&self) -> impl Iterator<Item = &DifferenceRow> {
        self.rows.iter().filter(|row| row.presence != Presence::All)
    }
}

impl TraceGraph {
    /// What is upstream of two sets of codes. A code given twice counts once; one given in both sets
    /// counts in each.
    ///
    /// Each node carries one bit for each code of both sets, so that the work is the number of edges times
    /// a 64th of the number of codes.
    ///
    /// # Errors
    /// If a code is no node's.
    pub fn between<'c>(
        &self,
        first: impl IntoIterator<Item = &'c str>,
        second: impl IntoIterator<Item = &'c str>,
    ) -> Result<Difference, GraphError> {
        let first = Members::new(self, first)?;
        let second = Members::new(self, second)?;
        let mut rows = Vec::new();
        for (at, node) in self.nodes.iter().enumerate() {
            let (one, other) = (first.share(self, at), second.share(self, at));
            if 0 < one.codes + other.codes {
                let presence = presence(one.codes, first.count, other.codes, second.count);
                rows.push(DifferenceRow { node: node.clone(), first: one, second: other, presence });
            }
        }
        let distance = |row: &DifferenceRow| {
            let part = |codes: usize, of: usize| if of == 0 { 0.0 } else { codes as f64 / of as f64 };
            (part(row.first.codes, first.count) - part(row.second.codes, second.count)).abs()
        };
        rows.sort_by(|a, b| a.presence.cmp(&b.presence).then(distance(b).total_cmp(&distance(a))));
        Ok(Difference { first: first.count, second: second.count, rows })
    }
}

pub(super) fn presence(first: usize, of_first: usize, second: usize, of_second: usize) -> Presence {
    match (first == of_first, second == of_second) {
        (true, true) => Presence::All,
        (true, false) if second == 0 => Presence::AllOfFirstOnly,
        (false, true) if first == 0 => Presence::AllOfSecondOnly,
        _ => Presence::Some,
    }
}

/// Codes whose way up is followed at once: 64 for each word that every node carries meanwhile.
const AT_ONCE: usize = 1024;

/// One set, and how many of its codes each node is upstream of.
struct Members {
    count: usize,
    is_member: Vec<bool>,
    below: Vec<usize>,
}

impl Members {
    fn new<'c>(graph: &TraceGraph, codes: impl IntoIterator<Item = &'c str>) -> Result<Self, GraphError> {
        let mut positions = graph.positions(codes)?;
        positions.sort_unstable();
        positions.dedup();
        let mut is_member = vec![false; graph.nodes.len()];
        positions.iter().for_each(|&position| is_member[position] = true);
        let mut below = vec![0; graph.nodes.len()];
        for some in positions.chunks(AT_ONCE) {
            let reaches = Reaches::of(graph, some);
            below.iter_mut().enumerate().for_each(|(at, count)| *count += reaches.count(at));
        }
        Ok(Self { count: positions.len(), is_member, below })
    }

    fn share(&self, graph: &TraceGraph, at: usize) -> Share {
        let straight = graph.edges_out_of(at).filter(|(to, _)| self.is_member[*to]).map(|(_, edge)| edge);
        Share { codes: self.below[at], direct: straight.collect() }
    }
}

/// Which of some codes each node is upstream of: `words` of 64 bits for each node.
struct Reaches {
    words: usize,
    bits: Vec<u64>,
}

impl Reaches {
    fn of(graph: &TraceGraph, positions: &[usize]) -> Self {
        let words = positions.len().div_ceil(64);
        let mut reaches = Self { words, bits: vec![0; words * graph.nodes.len()] };
        let mut own_bit = vec![None; graph.nodes.len()];
        positions.iter().enumerate().for_each(|(bit, &position)| own_bit[position] = Some(bit));
        // Nodes stand behind what they were made of, so that from the last to the first each is complete
        // before it is passed on.
        for at in (0..graph.nodes.len()).rev() {
            for (to, _) in graph.edges_out_of(at) {
                reaches.pass_on(to, at);
                if let Some(bit) = own_bit[to] {
                    reaches.bits[at * words + bit / 64] |= 1 << (bit % 64);
                }
            }
        }
        reaches
    }

    fn pass_on(&mut self, from: usize, to: usize) {
        for word in 0..self.words {
            self.bits[to * self.words + word] |= self.bits[from * self.words + word];
        }
    }

    fn count(&self, at: usize) -> usize {
        let words = &self.bits[at * self.words..(at + 1) * self.words];
        words.iter().map(|word| word.count_ones() as usize).sum()
    }
}
