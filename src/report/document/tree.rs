//! Things that stand under one another.

use super::Text;

/// A line with the lines that belong under it.
#[derive(Debug, Clone, PartialEq)]
pub struct Tree {
    pub(in crate::report) line: Text,
    pub(in crate::report) branches: Vec<Tree>,
}

/// A line with nothing under it yet.
pub fn tree(line: impl Into<Text>) -> Tree {
    Tree { line: line.into(), branches: Vec::new() }
}

impl Tree {
    /// The same with one more line, and what is under that, under it.
    pub fn branch(mut self, branch: Tree) -> Self {
        self.branches.push(branch);
        self
    }

    /// The same with more lines under it.
    pub fn with_branches(mut self, branches: impl IntoIterator<Item = Tree>) -> Self {
        self.branches.extend(branches);
        self
    }

    /// What it says itself.
    pub fn line(&self) -> &Text {
        &self.line
    }

    /// What stands under it, in order.
    pub fn branches(&self) -> &[Tree] {
        &self.branches
    }
}
