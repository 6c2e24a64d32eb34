//! A subset of candidates that tells the coefficients of a model best: D-optimal, by exchange.
//!
//! V. V. Fedorov, Theory of Optimal Experiments, 1972, chapter 3: exchanging the run i for the candidate j multiplies
//! det XᵀX by 1 + Δ with Δ = d(j) − d(i) − d(i) d(j) + d(i, j)², where d(i, j) = f(i)ᵀ(XᵀX)⁻¹f(j). Each run in turn is
//! exchanged for its best candidate (R. D. Cook and C. J. Nachtsheim, Technometrics 22 (1980) 315) until none gains.

use nalgebra::{DMatrix, DVector};

use crate::statistics::random::Chance;
use crate::statistics::regression::not_estimable;

/// Random starts that a search can have.
pub const MOST_STARTS: usize = 10_000;
/// An exchange that gains less is none, and of equal ones the first counts, so that rounding decides nothing.
const GAIN: f64 = 1e-9;
/// Passes over all runs; a search needs about ten.
const MOST_PASSES: usize = 200;
/// What makes a start invertible that is not, beside the information of all candidates.
const RIDGE: f64 = 1e-9;

/// A chosen subset.
#[derive(Debug, Clone, PartialEq)]
pub struct Chosen {
    /// The places of the candidates, rising; one may be there more than once.
    pub places: Vec<usize>,
    /// ln det XᵀX of the chosen rows, with fixed ones, in the columns as given.
    pub log_det: f64,
    /// 100 p/(N max d): 100 if no design of any number of runs on these candidates could do better (J. Kiefer and J.
    /// Wolfowitz, The equivalence of two extremum problems, Can. J. Math. 12 (1960) 363; volume and page from memory).
    pub g_efficiency: f64,
    /// How many random starts came to this value, but for rounding.
    pub starts_alike: usize,
}

/// Why there is no such subset.
#[derive(Debug, Clone, PartialEq, thiserror::Error)]
pub enum OptimalError {
    /// Fewer runs than coefficients.
    #[error("{runs} runs can't tell {terms} coefficients")]
    TooFewRuns {
        /// Runs, fixed ones with them.
        runs: usize,
        /// Coefficients.
        terms: usize,
    },
    /// Not even all candidates together tell these columns.
    #[error("the candidates can't tell all coefficients")]
    NotEstimable(Vec<usize>),
}

/// Chooses `count` of the candidates, each a row of the model, beside `fixed` rows that are there anyway.
///
/// `order` sorts the candidates: the search goes through them in this order and so does not depend on how they are
/// listed. Every start draws from `seed`. `seen` is told the place of the start and how many runs were looked at in it, after
/// each run.
///
/// # Errors
/// If the runs or the candidates can't tell the model.
pub fn d_optimal(
    candidates: &[Vec<f64>],
    fixed: &[Vec<f64>],
    count: usize,
    order: &[usize],
    (starts, seed): (usize, u64),
    mut seen: impl FnMut(usize, usize),
) -> Result<Chosen, OptimalError> {
    let terms = candidates.first().map_or(0, Vec::len);
    let all: Vec<Vec<f64>> = candidates.iter().chain(fixed).cloned().collect();
    if count + fixed.len() < terms || count == 0 {
        return Err(OptimalError::TooFewRuns { runs: count + fixed.len(), terms });
    }
    let unseen = not_estimable(&all);
    if !unseen.is_empty() {
        return Err(OptimalError::NotEstimable(unseen));
    }
    let search = Search::new(candidates, fixed, order);
    let mut chance = Chance::of_seed(seed);
    let mut best: Option<(f64, Vec<usize>, usize)> = None;
    for start in 0..starts.clamp(1, MOST_STARTS) {
        let (value, places) = search.exchanged(count, &mut chance, |looked| seen(start, looked));
        let alike = |best: f64| (value - best).abs() <= 1e-6 * (1.0 + best.abs());
        match &mut best {
            Some((known, _, times)) if alike(*known) => *times += 1,
            Some((known, _, _)) if value < *known => {}
            _ => best = Some((value, places, 1)),
        }
    }
    let (_, places, starts_alike) = best.unwrap_or_default();
    let mut places: Vec<usize> = places.into_iter().map(|at| order[at]).collect();
    places.sort_unstable();
    let (log_det, g_efficiency) = quality(candidates, fixed, &places);
    Ok(Chosen { places, log_det, g_efficiency, starts_alike })
}

/// The candidates in search order, a column each, in coordinates in which all of them together have the information 1.
struct Search {
    columns: DMatrix<f64>,
    fixed: DMatrix<f64>,
}

impl Search {
    fn new(candidates: &[Vec<f64>], fixed: &[Vec<f64>], order: &[usize]) -> Self {
        let terms = candidates.first().map_or(0, Vec::len);
        let all: Vec<&Vec<f64>> = order.iter().map(|at| &candidates[*at]).chain(fixed).collect();
        let q = DMatrix::from_fn(all.len(), terms, |row, term| all[row][term]).qr().q().transpose();
        let fixed = q.columns(candidates.len(), fixed.len());
        let fixed = fixed * fixed.transpose() + DMatrix::identity(terms, terms) * RIDGE;
        Self { columns: q.columns(0, candidates.len()).into_owned(), fixed }
    }

    /// Exchanges from random runs until nothing gains: the ln det and the places.
    fn exchanged(&self, count: usize, chance: &mut Chance, mut seen: impl FnMut(usize)) -> (f64, Vec<usize>) {
        let mut deck: Vec<usize> = (0..self.columns.ncols()).collect();
        chance.shuffle(&mut deck);
        let mut places: Vec<usize> = deck.iter().copied().cycle().take(count).collect();
        let mut looked = 0;
        for _ in 0..MOST_PASSES {
            let Some(mut inverse) = self.information(&places).try_inverse() else { break };
            let mut changed = false;
            for place in &mut places {
                looked += 1;
                seen(looked);
                if let Some(better) = self.best_exchange(*place, &inverse) {
                    inverse = plus(inverse, &self.columns.column(better).into_owned(), 1.0);
                    inverse = plus(inverse, &self.columns.column(*place).into_owned(), -1.0);
                    *place = better;
                    changed = true;
                }
            }
            if !changed {
                break;
            }
        }
        (log_det(self.information(&places)), places)
    }

    fn information(&self, places: &[usize]) -> DMatrix<f64> {
        let chosen = self.columns.select_columns(places);
        &self.fixed + &chosen * chosen.transpose()
    }

    /// The candidate for which exchanging a run gains most; `None` if none gains.
    fn best_exchange(&self, out: usize, inverse: &DMatrix<f64>) -> Option<usize> {
        let through = inverse * &self.columns;
        let shared = through.tr_mul(&self.columns.column(out));
        let own = shared[out];
        let mut best = (GAIN, None);
        for at in 0..self.columns.ncols() {
            let other = self.columns.column(at).dot(&through.column(at));
            let gain = other - own - own * other + shared[at] * shared[at];
            if best.0 * (1.0 + GAIN) + GAIN < gain {
                best = (gain, Some(at));
            }
        }
        best.1
    }
}

/// (M + sign · f fᵀ)⁻¹ out of M⁻¹ (J. Sherman and W. J. Morrison, Ann. Math. Stat. 21 (1950) 124).
fn plus(inverse: DMatrix<f64>, row: &DVector<f64>, sign: f64) -> DMatrix<f64> {
    let along = &inverse * row;
    let scale = sign / (1.0 + sign * row.dot(&along));
    inverse - &along * along.transpose() * scale
}

fn log_det(information: DMatrix<f64>) -> f64 {
    match information.cholesky() {
        Some(factor) => 2.0 * factor.l_dirty().diagonal().iter().map(|value| value.ln()).sum::<f64>(),
        None => f64::NEG_INFINITY,
    }
}

/// ln det XᵀX and the G-efficiency of chosen rows, from the factor R, which keeps more digits than XᵀX.
fn quality(candidates: &[Vec<f64>], fixed: &[Vec<f64>], places: &[usize]) -> (f64, f64) {
    let chosen: Vec<&Vec<f64>> = places.iter().map(|at| &candidates[*at]).chain(fixed).collect();
    let terms = chosen.first().map_or(0, |row| row.len());
    let r = DMatrix::from_fn(chosen.len(), terms, |row, term| chosen[row][term]).qr().r();
    let log_det = 2.0 * r.diagonal().iter().map(|value| value.abs().ln()).sum::<f64>();
    let variance = |row: &Vec<f64>| {
        let along = r.tr_solve_upper_triangular(&DVector::from_column_slice(row));
        along.map_or(f64::INFINITY, |along| along.norm_squared())
    };
    let most = candidates.iter().map(variance).fold(0.0, f64::max);
    (log_det, 100.0 * terms as f64 / (chosen.len() as f64 * most))
}
