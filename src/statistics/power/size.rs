//! The least whole number for which something holds from there on.

/// Nobody builds more cells than this.
pub const MOST: usize = 1_000_000;

/// The least number from `least` to [`MOST`] that is enough, if everything above an enough is enough too:
/// doubled until it is, then halved.
pub(super) fn least_enough(least: usize, enough: impl Fn(usize) -> bool) -> Option<usize> {
    let (mut low, mut high) = (least.saturating_sub(1), least);
    while !enough(high) {
        if high == MOST {
            return None;
        }
        low = high;
        high = (2 * high).min(MOST);
    }
    while 1 < high - low {
        let middle = low + (high - low) / 2;
        if enough(middle) { high = middle } else { low = middle }
    }
    Some(high)
}
