//! A tree drawn with lines that show what belongs under what.

use super::style::Style;
use super::wrap::wrap;
use crate::report::document::{Text, Tree};

/// The lines of a tree.
pub(super) fn lines(tree: &Tree, width: usize, style: Style) -> Vec<String> {
    let mut lines = Vec::new();
    draw(tree, Stem::default(), width, style, &mut lines);
    lines
}

/// What stands before the first line of a branch, and before all further ones.
#[derive(Clone, Default)]
struct Stem {
    first: String,
    further: String,
}

impl Stem {
    /// The stem of a branch under this one.
    fn under(&self, is_last: bool) -> Self {
        let (first, further) = if is_last { ("└─ ", "   ") } else { ("├─ ", "│  ") };
        Self { first: format!("{}{first}", self.further), further: format!("{}{further}", self.further) }
    }
}

fn draw(tree: &Tree, stem: Stem, width: usize, style: Style, lines: &mut Vec<String>) {
    lines.extend(own_lines(&tree.line, &stem, width, style, !tree.branches.is_empty()));
    for (index, branch) in tree.branches.iter().enumerate() {
        let is_last = index + 1 == tree.branches.len();
        draw(branch, stem.under(is_last), width, style, lines);
    }
}

/// A line too long for the width goes on under itself, beside the bar that leads to what is under it.
fn own_lines(line: &Text, stem: &Stem, width: usize, style: Style, has_branches: bool) -> Vec<String> {
    let bar = if has_branches { "│    " } else { "     " };
    let room = width.saturating_sub(stem.further.chars().count() + bar.chars().count());
    let wrapped = wrap(line, room, style);
    if wrapped.is_empty() {
        return vec![stem.first.trim_end().to_owned()];
    }
    let before = |index: usize| match index {
        0 => stem.first.clone(),
        _ => format!("{}{bar}", stem.further),
    };
    wrapped.iter().enumerate().map(|(index, line)| format!("{}{line}", before(index))).collect()
}
