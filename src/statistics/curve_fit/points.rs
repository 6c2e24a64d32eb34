//! The points that a curve shall go through.

/// Points with their weights: as many of each.
#[derive(Debug, Clone, PartialEq)]
pub struct Points {
    /// The abscissas.
    pub x: Vec<f64>,
    /// The ordinates.
    pub y: Vec<f64>,
    /// Weights above 0: 1/variance, up to a common factor. All 1 where none were given.
    pub weights: Vec<f64>,
    /// True if weights were given.
    pub weighted: bool,
}

/// What makes points useless, with the place of the first bad one, from 0.
#[derive(Debug, Clone, Copy, PartialEq, Eq, thiserror::Error)]
pub enum PointsError {
    /// Not as many of one as of the other.
    #[error("the columns are not of one length")]
    Lengths,
    /// Infinite or no number.
    #[error("point {} is not a finite number", .0 + 1)]
    NotFinite(usize),
    /// Zero or below.
    #[error("the weight of point {} is not above 0", .0 + 1)]
    Weight(usize),
}

impl Points {
    /// Points of equal weight.
    ///
    /// # Errors
    /// If there are not as many y as x, or one of them is not finite.
    pub fn new(x: Vec<f64>, y: Vec<f64>) -> Result<Self, PointsError> {
        let weights = vec![1.0; x.len()];
        Self { x, y, weights, weighted: false }.checked()
    }

    /// Points with weights.
    ///
    /// # Errors
    /// As for [`Points::new`], and if a weight is not above 0.
    pub fn weighted(x: Vec<f64>, y: Vec<f64>, weights: Vec<f64>) -> Result<Self, PointsError> {
        Self { x, y, weights, weighted: true }.checked()
    }

    fn checked(self) -> Result<Self, PointsError> {
        if self.x.len() != self.y.len() || self.x.len() != self.weights.len() {
            return Err(PointsError::Lengths);
        }
        let bad = |at: &usize| !(self.x[*at].is_finite() && self.y[*at].is_finite());
        if let Some(at) = (0..self.x.len()).find(bad) {
            return Err(PointsError::NotFinite(at));
        }
        let useless = |weight: &f64| !(0.0 < *weight && weight.is_finite());
        match self.weights.iter().position(useless) {
            Some(at) => Err(PointsError::Weight(at)),
            None => Ok(self),
        }
    }

    /// How many there are.
    pub fn len(&self) -> usize {
        self.x.len()
    }

    /// True if there is none.
    pub fn is_empty(&self) -> bool {
        self.x.is_empty()
    }

    /// How many different abscissas there are.
    pub fn different(&self) -> usize {
        self.places().len()
    }

    /// The least and the greatest abscissa.
    pub fn range(&self) -> (f64, f64) {
        self.x.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), x| (low.min(*x), high.max(*x)))
    }

    /// From the least to the greatest abscissa.
    pub fn span(&self) -> f64 {
        let (low, high) = self.range();
        high - low
    }

    /// The different abscissas in order.
    pub(super) fn places(&self) -> Vec<f64> {
        let mut places = self.x.clone();
        places.sort_by(f64::total_cmp);
        places.dedup();
        places
    }

    /// The same with about so many of them, evenly taken in the order of x.
    pub(super) fn thinned(&self, most: usize) -> Self {
        let mut order: Vec<usize> = (0..self.len()).collect();
        order.sort_by(|one, other| self.x[*one].total_cmp(&self.x[*other]));
        let kept: Vec<usize> = order.into_iter().step_by(self.len().div_ceil(most).max(1)).collect();
        let take = |column: &[f64]| kept.iter().map(|at| column[*at]).collect();
        Self { x: take(&self.x), y: take(&self.y), weights: take(&self.weights), weighted: self.weighted }
    }

    /// The same with ln y and with the weights that ln y then has by first order, if y is above 0.
    pub(super) fn logarithmic(&self) -> Self {
        let y = self.y.iter().map(|y| y.ln()).collect();
        let weights = self.weights.iter().zip(&self.y).map(|(weight, y)| weight * y * y).collect();
        Self { x: self.x.clone(), y, weights, weighted: true }
    }
}
