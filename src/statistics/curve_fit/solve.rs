//! Nonlinear least squares: Levenberg and Marquardt's method by the library, its answer checked and finished
//! here.

use levenberg_marquardt::{LeastSquaresProblem, LevenbergMarquardt};
use nalgebra::storage::Owned;
use nalgebra::{DMatrix, DVector, Dyn};

use super::dual::Dual;
use super::linear::{Factor, Solver};
use super::points::Points;

/// A curve: y at x for the parameters, with its slopes.
pub type Curve<'c> = dyn Fn(f64, &[Dual]) -> Dual + 'c;

/// Where the residuals' part along the tangent plane is so small against the rest, the sum of squares can't
/// be made less in a way that matters (D. M. Bates and D. G. Watts, Technometrics 23 (1981) 179, who ask
/// for 0.001).
const MOST_OFFSET: f64 = 1e-6;
/// Steps of the finish.
const FINISHING_STEPS: usize = 60;
/// What stands for an infinite residual: its square is still finite, and worse than any other.
const HOPELESS: f64 = 1e130;
/// Residuals below this share of y are rounding.
const ROUNDING: f64 = 1e-14;

/// Where the search ended.
#[derive(Debug, Clone, PartialEq)]
pub struct Minimum {
    /// The parameters.
    pub parameters: Vec<f64>,
    /// Weighted residual sum of squares.
    pub rss: f64,
    /// True if this is a minimum by Bates and Watts' criterion, whatever the search said of itself.
    pub converged: bool,
    /// That criterion: 0 at a minimum.
    pub offset: f64,
    /// For the variances; `None` where the parameters can't be told apart.
    pub factor: Option<Factor>,
}

/// The nearest minimum of the weighted sum of squares from a start.
///
/// The method of Levenberg and Marquardt (J. J. Moré, Lecture Notes in Mathematics 630 (1978) 105) by the
/// library of that name. Since it can stop where it is not at a minimum and say it is, the end is judged by
/// the relative offset of Bates and Watts, after Gauss–Newton steps with a scaled QR factorisation that are
/// halved until they help.
pub fn minimum(curve: &Curve<'_>, points: &Points, start: &[f64]) -> Minimum {
    let problem = Problem::new(curve, points, DVector::from_column_slice(start));
    let solver = LevenbergMarquardt::new().with_patience(2000);
    let (ended, _) = solver.minimize(problem);
    finished(ended)
}

/// Gauss–Newton steps from where the search ended.
fn finished(mut problem: Problem<'_>) -> Minimum {
    let mut rss = problem.rss();
    for _ in 0..FINISHING_STEPS {
        let Some(solver) = Solver::of(problem.slopes()) else { break };
        let residuals = problem.rest();
        let step = solver.solve(&residuals);
        let (along, across) = solver.parts(&residuals);
        if along <= 1e-11 * across || !step.iter().all(|part| part.is_finite()) {
            break;
        }
        let Some(better) = shortened(&problem, &step, rss) else { break };
        problem = better;
        rss = problem.rss();
    }
    problem.judged()
}

/// The end of the step, or of its half, quarter and so on, where the sum of squares is less.
fn shortened<'p>(problem: &Problem<'p>, step: &DVector<f64>, rss: f64) -> Option<Problem<'p>> {
    let mut share = 1.0;
    while 1e-9 < share {
        let trial = Problem::new(problem.curve, problem.points, &problem.parameters + step * share);
        if trial.rss() < rss {
            return Some(trial);
        }
        share /= 2.0;
    }
    None
}

struct Problem<'p> {
    curve: &'p Curve<'p>,
    points: &'p Points,
    parameters: DVector<f64>,
    /// The curve at each point with these parameters: values and slopes are asked for several times.
    seen: Vec<Dual>,
}

impl<'p> Problem<'p> {
    fn new(curve: &'p Curve<'p>, points: &'p Points, parameters: DVector<f64>) -> Self {
        let mut own = Self { curve, points, parameters, seen: Vec::with_capacity(points.len()) };
        own.look();
        own
    }

    fn look(&mut self) {
        let parameters: Vec<Dual> =
            self.parameters.iter().enumerate().map(|(place, value)| Dual::parameter(*value, place)).collect();
        self.seen.clear();
        self.seen.extend(self.points.x.iter().map(|x| (self.curve)(*x, &parameters)));
    }

    /// √w (y − f), hopeless where the curve is infinite or undefined.
    fn rest(&self) -> DVector<f64> {
        DVector::from_fn(self.points.len(), |row, _| {
            let rest = self.points.weights[row].sqrt() * (self.points.y[row] - self.seen[row].value);
            if rest.abs() < HOPELESS { rest } else { HOPELESS }
        })
    }

    fn rss(&self) -> f64 {
        self.rest().norm_squared()
    }

    /// √w times the slopes of the curve.
    fn slopes(&self) -> DMatrix<f64> {
        let mut slopes = DMatrix::zeros(self.points.len(), self.parameters.len());
        for row in 0..self.points.len() {
            let (root, at) = (self.points.weights[row].sqrt(), &self.seen[row]);
            for column in 0..self.parameters.len() {
                let slope = root * at.slopes[column];
                slopes[(row, column)] = if slope.abs() < HOPELESS { slope } else { 0.0 };
            }
        }
        slopes
    }

    fn judged(self) -> Minimum {
        let solver = Solver::of(self.slopes());
        let rest = self.rest();
        let (count, parameters) = (rest.len() as f64, self.parameters.len() as f64);
        let offset = solver.as_ref().map_or(f64::NAN, |solver| {
            let (along, across) = solver.parts(&rest);
            let df = (count - parameters).max(1.0);
            (along / parameters.sqrt()) / (across / df.sqrt())
        });
        let scale =
            self.points.y.iter().zip(&self.points.weights).map(|(y, w)| w * y * y).sum::<f64>().sqrt();
        let exact = rest.norm() <= ROUNDING * count.sqrt() * scale;
        let finite = self.parameters.iter().all(|value| value.is_finite());
        Minimum {
            parameters: self.parameters.iter().copied().collect(),
            rss: rest.norm_squared(),
            converged: finite && solver.is_some() && (exact || offset < MOST_OFFSET),
            offset,
            factor: solver.map(|solver| solver.factor),
        }
    }
}

impl LeastSquaresProblem<f64, Dyn, Dyn> for Problem<'_> {
    type ResidualStorage = Owned<f64, Dyn>;
    type JacobianStorage = Owned<f64, Dyn, Dyn>;
    type ParameterStorage = Owned<f64, Dyn>;

    fn set_params(&mut self, parameters: &DVector<f64>) {
        self.parameters.copy_from(parameters);
        self.look();
    }

    fn params(&self) -> DVector<f64> {
        self.parameters.clone()
    }

    fn residuals(&self) -> Option<DVector<f64>> {
        Some(-self.rest())
    }

    fn jacobian(&self) -> Option<DMatrix<f64>> {
        Some(self.slopes())
    }
}
