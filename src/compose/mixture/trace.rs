//! What happens along a line on which one component changes.

use super::region::Region;
use super::study::Study;

/// Steps of a trace.
const STEPS: usize = 40;
/// Halvings that find where a line leaves the region.
const HALVINGS: usize = 60;

/// Along which line.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Direction {
    /// All others keep their proportions to each other (D. R. Cox, Biometrika 58 (1971) 155).
    Cox,
    /// What the others have above their lower bounds keeps its proportions (G. F. Piepel, J. Qual. Technol. 14 (1982)
    /// 155).
    Piepel,
}

/// A place on the line.
#[derive(Debug, Clone, PartialEq)]
pub struct TracePoint {
    /// The fraction of the component less that of the reference.
    pub change: f64,
    /// The composition.
    pub fractions: Vec<f64>,
    /// What the model says.
    pub value: f64,
    /// How far its interval reaches to each side; NaN without an error estimate.
    pub reach: f64,
}

/// The trace of a component through a reference composition, as far as the region goes. The reference is among the
/// points.
pub fn trace(
    study: &Study,
    region: &Region,
    (reference, setting): (&[f64], &[f64]),
    component: usize,
    direction: Direction,
) -> Vec<TracePoint> {
    let way = way(region, reference, component, direction);
    let place =
        |change: f64| -> Vec<f64> { reference.iter().zip(&way).map(|(x, way)| x + change * way).collect() };
    let (low, high) = (-reach(region, &place, -1.0), reach(region, &place, 1.0));
    let mut changes: Vec<f64> =
        (0..=STEPS).map(|step| low + (high - low) * step as f64 / STEPS as f64).collect();
    changes.push(0.0);
    changes.sort_by(f64::total_cmp);
    changes.dedup();
    let point = |change: f64| {
        let fractions = place(change);
        let row = study.model.row(&fractions, setting);
        let (value, reach) = (study.regression.value(&row), study.regression.reach(&row));
        TracePoint { change, fractions, value, reach }
    };
    changes.into_iter().map(point).collect()
}

/// How each fraction changes while that of the component rises by 1.
fn way(region: &Region, reference: &[f64], component: usize, direction: Direction) -> Vec<f64> {
    let least = |at: usize| match direction {
        Direction::Cox => 0.0,
        Direction::Piepel => region.bounds()[at].low,
    };
    let above: Vec<f64> = reference.iter().enumerate().map(|(at, x)| (x - least(at)).max(0.0)).collect();
    let others: f64 = above.iter().enumerate().filter(|(at, _)| *at != component).map(|(_, own)| own).sum();
    let share = |at: usize| {
        // Where nothing of the others is left to keep its proportions they share alike.
        if 0.0 < others { above[at] / others } else { 1.0 / (reference.len().max(2) - 1) as f64 }
    };
    (0..reference.len()).map(|at| if at == component { 1.0 } else { -share(at) }).collect()
}

/// How far the line stays in the region on one side.
fn reach(region: &Region, place: &impl Fn(f64) -> Vec<f64>, sign: f64) -> f64 {
    let (mut inside, mut beyond) = (0.0, 1.0);
    for _ in 0..HALVINGS {
        let middle = (inside + beyond) / 2.0;
        if region.holds(&place(sign * middle)) { inside = middle } else { beyond = middle }
    }
    inside
}
