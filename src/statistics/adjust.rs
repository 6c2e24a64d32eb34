//! Significance of several tests taken together.

/// Holm's adjustment (S. Holm, Scand. J. Stat. 6 (1979) 65): the chance of any false finding among all stays below the
/// level. In the order given.
pub fn holm(p: &[f64]) -> Vec<f64> {
    let order = ascending(p);
    let mut adjusted = vec![f64::NAN; p.len()];
    let mut reached = 0.0_f64;
    for (place, &at) in order.iter().enumerate() {
        reached = reached.max((p.len() - place) as f64 * p[at]).min(1.0);
        adjusted[at] = reached;
    }
    adjusted
}

/// Bonferroni's adjustment: each times their number.
pub fn bonferroni(p: &[f64]) -> Vec<f64> {
    p.iter().map(|own| (own * p.len() as f64).min(1.0)).collect()
}

/// The adjustment of Y. Benjamini and Y. Hochberg (J. R. Stat. Soc. B 57 (1995) 289): of the findings a share below the
/// level is false on average.
pub fn benjamini_hochberg(p: &[f64]) -> Vec<f64> {
    let order = ascending(p);
    let mut adjusted = vec![f64::NAN; p.len()];
    let mut reached = 1.0_f64;
    for (place, &at) in order.iter().enumerate().rev() {
        reached = reached.min(p.len() as f64 / (place + 1) as f64 * p[at]);
        adjusted[at] = reached;
    }
    adjusted
}

fn ascending(p: &[f64]) -> Vec<usize> {
    let mut order: Vec<usize> = (0..p.len()).collect();
    order.sort_by(|&a, &b| p[a].total_cmp(&p[b]));
    order
}
