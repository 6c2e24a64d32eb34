//! Labels beside the right ends of what they name, moved apart where they would cover one another.

/// The places of labels of one height in a column from `top` to `bottom`, as near to where they belong as there is room, in
/// the same order. With too many for the column the last stand below it.
pub(super) fn spread(wanted: &[i32], height: i32, (top, bottom): (i32, i32)) -> Vec<i32> {
    let mut order: Vec<usize> = (0..wanted.len()).collect();
    order.sort_by_key(|at| wanted[*at]);
    let mut places = vec![0; wanted.len()];
    let mut free = top;
    for at in &order {
        places[*at] = wanted[*at].max(free);
        free = places[*at] + height;
    }
    // What was pushed below the column pushes the others up, as far as there is room above.
    let mut limit = bottom;
    for (rank, at) in order.iter().enumerate().rev() {
        places[*at] = places[*at].min(limit).max(top + height * rank as i32);
        limit = places[*at] - height;
    }
    places
}
