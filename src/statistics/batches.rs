//! Cells within batches within electrolytes: a claim about an electrolyte stands on its batches, since cells of one
//! batch are repeats of that batch.

use super::anova::{Components, FTest};
use super::moments::{Moments, squares_about};
use super::sum::sum;
use super::t_test::satterthwaite;

/// The values of one electrolyte, batch by batch; no batch is empty.
pub type Batches = Vec<Vec<f64>>;

/// A nested analysis of variance (G. W. Snedecor and W. G. Cochran, Statistical Methods, 8th ed. 1989, chapter 13; the
/// coefficients of unbalanced sets by R. R. Sokal and F. J. Rohlf, Biometry, 3rd ed. 1995, box 10.6: both from memory).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct NestedAnova {
    /// Sum of squares between electrolytes.
    pub ss_groups: f64,
    /// Electrolytes less one.
    pub df_groups: f64,
    /// Sum of squares between batches of the same electrolyte.
    pub ss_batches: f64,
    /// Batches less electrolytes.
    pub df_batches: f64,
    /// Sum of squares between cells of the same batch.
    pub ss_cells: f64,
    /// Cells less batches.
    pub df_cells: f64,
    /// How often the variance between batches counts in the mean square between batches.
    pub cells_per_batch: f64,
    /// How often it counts in the mean square between electrolytes: the same in a balanced set.
    pub cells_per_batch_in_groups: f64,
}

/// The means of the batches: what a comparison of electrolytes is made with.
pub fn batch_means(batches: &Batches) -> Vec<f64> {
    batches.iter().map(|batch| Moments::of(batch).mean).collect()
}

/// What repeated cells of a batch are worth: so many times the variance of as many independent cells, for `cells` in each
/// batch and a share of variance between batches (ICC; L. Kish, Survey Sampling, 1965).
pub fn design_effect(cells: f64, share_between: f64) -> f64 {
    1.0 + (cells - 1.0) * share_between
}

impl NestedAnova {
    /// The analysis; `None` for fewer than two electrolytes, no electrolyte with two batches, or no batch with two cells.
    pub fn of(groups: &[Batches]) -> Option<Self> {
        let sizes: Vec<Vec<f64>> =
            groups.iter().map(|group| group.iter().map(|batch| batch.len() as f64).collect()).collect();
        let of_groups: Vec<f64> = sizes.iter().map(|group| group.iter().sum()).collect();
        let (all, batches) =
            (sum(of_groups.iter().copied()), sizes.iter().map(Vec::len).sum::<usize>() as f64);
        let df_groups = groups.len() as f64 - 1.0;
        let (df_batches, df_cells) = (batches - groups.len() as f64, all - batches);
        if df_groups < 1.0 || df_batches < 1.0 || df_cells < 1.0 || of_groups.contains(&0.0) {
            return None;
        }
        let squares = |group: &Vec<f64>| group.iter().map(|n| n * n).sum::<f64>();
        let within_groups = sum(sizes.iter().zip(&of_groups).map(|(group, n)| squares(group) / n));
        let overall = sum(sizes.iter().map(squares)) / all;
        let (ss_groups, ss_batches, ss_cells) = sums_of_squares(groups);
        Some(Self {
            ss_groups,
            df_groups,
            ss_batches,
            df_batches,
            ss_cells,
            df_cells,
            cells_per_batch: (all - within_groups) / df_batches,
            cells_per_batch_in_groups: (within_groups - overall) / df_groups,
        })
    }

    /// Mean square between electrolytes.
    pub fn ms_groups(&self) -> f64 {
        self.ss_groups / self.df_groups
    }

    /// Mean square between batches.
    pub fn ms_batches(&self) -> f64 {
        self.ss_batches / self.df_batches
    }

    /// Mean square between cells.
    pub fn ms_cells(&self) -> f64 {
        self.ss_cells / self.df_cells
    }

    /// Variance between and within batches, by mean squares.
    pub fn components(&self) -> Components {
        Components {
            within: self.ms_cells(),
            between_raw: (self.ms_batches() - self.ms_cells()) / self.cells_per_batch,
        }
    }

    /// True if batches count alike in both mean squares, so that the tests are exact.
    pub fn is_balanced(&self) -> bool {
        (self.cells_per_batch / self.cells_per_batch_in_groups - 1.0).abs() < 1e-12
    }

    /// The test that all electrolytes are equal, against the variance between batches. In an unbalanced set the mean square
    /// below the line is put together so that it expects the same as the one above, with Satterthwaite's degrees of freedom.
    /// `None` if that comes out as zero or less.
    pub fn between_groups(&self) -> Option<FTest> {
        let share = self.cells_per_batch_in_groups / self.cells_per_batch;
        let (batches, cells) = (share * self.ms_batches(), (1.0 - share) * self.ms_cells());
        let below = batches + cells;
        let df = if self.is_balanced() {
            self.df_batches
        } else {
            satterthwaite(&[(batches, self.df_batches), (cells, self.df_cells)])
        };
        (0.0 < below).then(|| FTest::new(self.ms_groups() / below, self.df_groups, df))
    }

    /// The test that batches of the same electrolyte are equal; `None` if cells of one batch have no spread.
    pub fn between_batches(&self) -> Option<FTest> {
        (0.0 < self.ss_cells)
            .then(|| FTest::new(self.ms_batches() / self.ms_cells(), self.df_batches, self.df_cells))
    }
}

/// Between electrolytes, between batches, between cells; relative to the middle, so that constant leading digits cost
/// nothing.
fn sums_of_squares(groups: &[Batches]) -> (f64, f64, f64) {
    let pivot = Moments::of(&groups.concat().concat()).mean;
    let centred = |batch: &Vec<f64>| -> Vec<f64> { batch.iter().map(|value| value - pivot).collect() };
    let groups: Vec<Batches> = groups.iter().map(|group| group.iter().map(centred).collect()).collect();
    let mean_of_all = Moments::of(&groups.concat().concat()).mean;
    let (mut of_groups, mut of_batches, mut of_cells) = (Vec::new(), Vec::new(), Vec::new());
    for group in &groups {
        let group_mean = Moments::of(&group.concat()).mean;
        of_groups.push(group.iter().map(Vec::len).sum::<usize>() as f64 * (group_mean - mean_of_all).powi(2));
        for batch in group {
            let mean = Moments::of(batch).mean;
            of_batches.push(batch.len() as f64 * (mean - group_mean).powi(2));
            of_cells.push(squares_about(batch, mean));
        }
    }
    (sum(of_groups), sum(of_batches), sum(of_cells))
}
