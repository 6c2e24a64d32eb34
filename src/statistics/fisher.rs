//! Fisher's exact test on counts of two kinds in two or more groups (R. A. Fisher, J. R. Stat. Soc. 98 (1935) 39;
//! for more than two groups G. H. Freeman and J. H. Halton, Biometrika 38 (1951) 141).

use statrs::function::factorial::ln_binomial;

/// More tables than this are not counted.
const MOST_TABLES: f64 = 1e7;

/// The probability, where all groups are alike and the totals are what they are, of tables no more likely than this
/// one. Each group gives `(hits, misses)`. `None` for fewer than two groups, no hit or no miss at all, or so many
/// tables that they can't be counted.
pub fn fisher_exact(groups: &[(u64, u64)]) -> Option<f64> {
    let hits: u64 = groups.iter().map(|group| group.0).sum();
    let sizes: Vec<u64> = groups.iter().map(|group| group.0 + group.1).collect();
    let all: u64 = sizes.iter().sum();
    let tables: f64 = sizes.iter().skip(1).map(|size| (size.min(&hits) + 1) as f64).product();
    if groups.len() < 2 || hits == 0 || hits == all || MOST_TABLES < tables {
        return None;
    }
    let observed: f64 = groups.iter().zip(&sizes).map(|(group, size)| ln_binomial(*size, group.0)).sum();
    let mut count = Count { all: ln_binomial(all, hits), observed, p: 0.0 };
    count.tables(&sizes, hits, 0.0);
    Some(count.p.min(1.0))
}

struct Count {
    all: f64,
    observed: f64,
    p: f64,
}

impl Count {
    /// Every way to spread the hits over the groups left.
    fn tables(&mut self, sizes: &[u64], hits: u64, so_far: f64) {
        let Some((&size, rest)) = sizes.split_first() else {
            // Tables as likely as the one observed differ from it by rounding alone.
            if so_far <= self.observed + 1e-7 {
                self.p += (so_far - self.all).exp();
            }
            return;
        };
        let room: u64 = rest.iter().sum();
        for own in hits.saturating_sub(room)..=hits.min(size) {
            self.tables(rest, hits - own, so_far + ln_binomial(size, own));
        }
    }
}
