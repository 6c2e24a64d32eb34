//! Points of the whole simplex.

/// All points whose fractions are multiples of 1/m: the {q, m} simplex lattice (H. Scheffé, J. R. Stat. Soc. B 20
/// (1958) 344). The first component falls first. Empty for q = 0 or m = 0.
pub fn lattice(q: usize, m: usize) -> Vec<Vec<f64>> {
    let mut points = Vec::new();
    if 0 < q && 0 < m {
        extend(&mut Vec::with_capacity(q), q, m, m, &mut points);
    }
    points
}

/// Every way to share `left` of `m` parts over the components that are missing in `counts`.
fn extend(counts: &mut Vec<usize>, q: usize, left: usize, m: usize, points: &mut Vec<Vec<f64>>) {
    if counts.len() + 1 == q {
        let last = std::iter::once(left);
        points.push(counts.iter().copied().chain(last).map(|count| count as f64 / m as f64).collect());
        return;
    }
    for count in (0..=left).rev() {
        counts.push(count);
        extend(counts, q, left - count, m, points);
        counts.pop();
    }
}

/// How many points a {q, m} lattice has: C(q + m − 1, m). `None` if too many to count.
pub fn lattice_size(q: usize, m: usize) -> Option<usize> {
    if q == 0 || m == 0 {
        return Some(0);
    }
    let mut size: usize = 1;
    // Each step is a binomial coefficient, so that the division is exact.
    for step in 1..=m {
        size = size.checked_mul(q - 1 + step)? / step;
    }
    Some(size)
}

/// The 2^q − 1 centroids of all sets of components in equal parts: pure components, halves, thirds and so on (H.
/// Scheffé, J. R. Stat. Soc. B 25 (1963) 235). `q` is at most 20 here; more gives none.
pub fn centroids(q: usize) -> Vec<Vec<f64>> {
    if 20 < q {
        return Vec::new();
    }
    let mut sets: Vec<u32> = (1..1u32 << q).collect();
    // Smaller sets first, and those of the first components first among them.
    sets.sort_by_key(|set| (set.count_ones(), set.reverse_bits().wrapping_neg()));
    let point = |set: u32| {
        let share = 1.0 / f64::from(set.count_ones());
        (0..q).map(|at| if set >> at & 1 == 1 { share } else { 0.0 }).collect()
    };
    sets.into_iter().map(point).collect()
}

/// The points half-way between the centroid and each pure component: (q + 1)/(2q) of one, 1/(2q) of each other (J. A.
/// Cornell, Experiments with Mixtures, 3rd ed. 2002, 2.11).
pub fn axial(q: usize) -> Vec<Vec<f64>> {
    let (much, little) = ((q + 1) as f64 / (2 * q) as f64, 1.0 / (2 * q) as f64);
    (0..q).map(|own| (0..q).map(|at| if at == own { much } else { little }).collect()).collect()
}
