//! Dots beside one another instead of on top of one another.

/// For each of some places along a line how far its dot stands off the line, in whole steps to either side, so that no two
/// dots are nearer than `size`. Steps alternate: 0, 1, −1, 2, … and stay within `most`.
pub(super) fn offsets(places: &[f64], size: f64, most: i32) -> Vec<i32> {
    let mut order: Vec<usize> = (0..places.len()).collect();
    order.sort_by(|&a, &b| places[a].total_cmp(&places[b]));
    let mut offsets = vec![0; places.len()];
    for (seen, &at) in order.iter().enumerate() {
        let near: Vec<(f64, i32)> = order[..seen]
            .iter()
            .rev()
            .map(|&other| (places[at] - places[other], offsets[other]))
            .take_while(|(distance, _)| *distance < size)
            .collect();
        let free = |step: i32| {
            near.iter().all(|(distance, other)| {
                let beside = f64::from(step - other) * size * 0.5;
                size * size * 0.98 <= distance * distance + beside * beside
            })
        };
        let steps = (0..=2 * most).map(|n| if n % 2 == 1 { (n + 1) / 2 } else { -n / 2 });
        // Where there is no room dots lie on top of one another after all.
        offsets[at] = steps.into_iter().find(|&step| free(step)).unwrap_or(0);
    }
    offsets
}
