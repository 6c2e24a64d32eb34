//! How wide each column of a table is.

/// What a column needs, in screen columns.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) struct Need {
    /// The widest thing that must not be broken.
    pub(super) least: usize,
    /// The width without any line break.
    pub(super) natural: usize,
}

/// Widths that add up to at most `available`, or `None` if something would have to be broken.
///
/// Every column starts at its natural width; the widest that can shrink gives way, one by one.
pub(super) fn fit(needs: &[Need], available: usize) -> Option<Vec<usize>> {
    let least: usize = needs.iter().map(|need| need.least).sum();
    if available < least {
        return None;
    }
    let mut widths: Vec<usize> = needs.iter().map(|need| need.natural).collect();
    while available < widths.iter().sum() {
        let can_shrink = |index: &usize| needs[*index].least < widths[*index];
        let widest = (0..widths.len()).filter(can_shrink).max_by_key(|&index| widths[index])?;
        widths[widest] -= 1;
    }
    Some(widths)
}
