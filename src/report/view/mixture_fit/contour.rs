//! The model over three components as a triangle.

use super::StudyView;
use crate::compose::mixture::Study;
use crate::report::document::Block;

/// Isolines over the three components that matter most; nothing for two components.
pub(super) fn contours(view: &StudyView<'_>, study: &Study) -> Vec<Block> {
    let _ = (view, study);
    Vec::new()
}
