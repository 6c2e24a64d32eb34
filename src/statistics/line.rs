//! The slope of one series of readings.

use super::moments::{Moments, squares_about};
use super::sum::sum;

/// A straight line by least squares.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Line {
    /// How much y grows where x grows by one.
    pub slope: f64,
    /// y where x is zero.
    pub intercept: f64,
}

/// The line through points (x, y); `None` for fewer than two different x.
pub fn line_through(points: &[(f64, f64)]) -> Option<Line> {
    let x: Vec<f64> = points.iter().map(|point| point.0).collect();
    let y: Vec<f64> = points.iter().map(|point| point.1).collect();
    let (mean_x, mean_y) = (Moments::of(&x).mean, Moments::of(&y).mean);
    let squares = squares_about(&x, mean_x);
    if x.len() < 2 || squares <= 0.0 {
        return None;
    }
    let products = sum(points.iter().map(|(x, y)| (x - mean_x) * (y - mean_y)));
    let slope = products / squares;
    Some(Line { slope, intercept: mean_y - slope * mean_x })
}
