//! Labels beside the right ends of what they name, moved apart where they would cover one another.

/// A label that wants to stand at a place, and how high it is.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Wanted {
    /// The middle of where it belongs.
    pub(super) middle: i32,
    /// Its height with the room around it.
    pub(super) height: i32,
}

/// The middles of labels in a column from `top` to `bottom`, as near to where they belong as there is room, in the same
/// order. With too many for the column the last stand below it.
pub(super) fn spread(wanted: &[Wanted], (top, bottom): (i32, i32)) -> Vec<i32> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by_key(|at| wanted[*at].middle);
    let mut starts = vec![0; wanted.len()];
    let mut free = top;
    for at in &order {
        let own = wanted[*at];
        starts[*at] = (own.middle - own.height / 2).max(free);
        free = starts[*at] + own.height;
    }
    // What was pushed below the column pushes the others up, as far as there is room above.
    let mut limit = bottom;
    let mut above: i32 = order.iter().map(|at| wanted[*at].height).sum();
    for at in order.iter().rev() {
        let own = wanted[*at];
        above -= own.height;
        starts[*at] = starts[*at].min(limit - own.height).max(top + above);
        limit = starts[*at];
    }
    starts.iter().zip(wanted).map(|(start, own)| start + own.height / 2).collect()
}
