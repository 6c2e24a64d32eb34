//! The thread as a tree, upward or downward from its code.

use super::fold::{Bundle, Coarse, Folded, Thread, fold_to};
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

/// More lines than these are no longer looked through on a screen.
const MOST_LINES: usize = 50;

/// The tree from the graph's own code, and whether batches share lines because there are too many. What was met
/// before is named again but not opened again, so that the tree is no larger than the graph.
pub(super) fn thread_tree(graph: &TraceGraph, direction: Direction) -> (Tree, bool) {
    let (folded, coarse) = fold_to(graph, &[Coarse::ByLabel, Coarse::ByKind], |folded| {
        root(folded, direction).is_none_or(|root| Grower::new(folded, direction).lines(root) <= MOST_LINES)
    });
    let tree = match root(&folded, direction) {
        Some(root) => Grower::new(&folded, direction).grow(root, None),
        None => tree(graph.code()),
    };
    (tree, coarse)
}

fn root(folded: &Folded<'_>, direction: Direction) -> Option<usize> {
    folded.bundles.iter().position(|bundle| match direction {
        Direction::Upstream => bundle.is_root,
        Direction::Downstream => bundle.is_origin,
    })
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

    fn end(&self, thread: &Thread) -> usize {
        match self.direction {
            Direction::Upstream => thread.from,
            Direction::Downstream => thread.to,
        }
    }

    /// How many lines the tree from here has.
    fn lines(mut self, root: usize) -> usize {
        let (mut lines, mut todo) = (1, vec![root]);
        while let Some(at) = todo.pop() {
            if std::mem::replace(&mut self.met[at], true) {
                continue;
            }
            lines += self.onward[at].len();
            todo.extend(self.onward[at].iter().map(|&index| self.end(&self.folded.threads[index])));
        }
        lines
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
            branches.push(self.grow(self.end(thread), Some(thread)));
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
    let code = strong(bundle.few_ranges());
    match bundle.count() {
        Some(count) => code.then(format!(" ({count})")),
        None => code,
    }
}

fn amount_behind(by: Option<&Thread>) -> Text {
    let amount = by.map(amount).filter(|amount| !amount.is_empty());
    amount.map_or(Text::default(), |amount| text(format!(": {amount}")))
}
