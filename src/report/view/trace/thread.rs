//! The thread as a tree, upward or downward from its code.

use super::fold::{Bundle, Folded, Thread, fold};
use super::words::{amount, remark};
use crate::record::graph::TraceGraph;
use crate::report::document::{Text, Tree, muted, strong, text, tree};

/// Which way a tree grows.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Direction {
    /// What it was made of.
    Upstream,
    /// What it was used in.
    Downstream,
}

/// The tree from the graph's own code. What was met before is named again but not opened again, so that
/// the tree is no larger than the graph.
pub(super) fn thread_tree(graph: &TraceGraph, direction: Direction) -> Tree {
    let folded = fold(graph);
    let root = folded.bundles.iter().position(|bundle| bundle.is_root);
    let mut grower = Grower::new(&folded, direction);
    match root {
        Some(root) => grower.grow(root, None),
        None => tree(graph.code()),
    }
}

struct Grower<'f, 'g> {
    folded: &'f Folded<'g>,
    direction: Direction,
    /// The threads that go on from each bundle.
    onward: Vec<Vec<usize>>,
    met: Vec<bool>,
}

impl<'f, 'g> Grower<'f, 'g> {
    fn new(folded: &'f Folded<'g>, direction: Direction) -> Self {
        let mut onward = vec![Vec::new(); folded.bundles.len()];
        for (index, thread) in folded.threads.iter().enumerate() {
            let from = match direction {
                Direction::Upstream => thread.to,
                Direction::Downstream => thread.from,
            };
            onward[from].push(index);
        }
        Self { folded, direction, onward, met: vec![false; folded.bundles.len()] }
    }

    fn grow(&mut self, at: usize, by: Option<&Thread>) -> Tree {
        let bundle = &self.folded.bundles[at];
        let again = std::mem::replace(&mut self.met[at], true);
        if again {
            return tree(code(bundle).then(amount_behind(by)).then(muted(", see above")));
        }
        let onward = std::mem::take(&mut self.onward[at]);
        let mut branches = Vec::with_capacity(onward.len());
        for index in onward {
            let thread = &self.folded.threads[index];
            let next = match self.direction {
                Direction::Upstream => thread.from,
                Direction::Downstream => thread.to,
            };
            branches.push(self.grow(next, Some(thread)));
        }
        tree(line(bundle, by)).with_branches(branches)
    }
}

/// Code, label, how much of it went or how much it took, and remarks.
fn line(bundle: &Bundle<'_>, by: Option<&Thread>) -> Text {
    let mut line = code(bundle);
    if let Some(label) = bundle.label() {
        line = line.then(" ").then(text(label));
    }
    let remarks: Vec<String> = bundle.readings_in_words().into_iter().chain(bundle.marks()).collect();
    line.then(amount_behind(by)).then(remark(&remarks))
}

fn code(bundle: &Bundle<'_>) -> Text {
    let code = strong(bundle.ranges().join(", "));
    match bundle.count() {
        Some(count) => code.then(format!(" ({count})")),
        None => code,
    }
}

fn amount_behind(by: Option<&Thread>) -> Text {
    let amount = by.map(amount).filter(|amount| !amount.is_empty());
    amount.map_or(Text::default(), |amount| text(format!(": {amount}")))
}
