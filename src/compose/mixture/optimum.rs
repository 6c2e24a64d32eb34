//! Where a model has its best, and how far from there nothing can be told apart from it.

use super::candidate::{candidates, fill};
use super::process::Setting;
use super::region::{Bound, Region};
use super::study::Study;

/// Points of the grid over the region.
const GRID: usize = 1500;
/// Best points of the grid from which the search goes on.
const STARTS: usize = 6;
/// The first step and the last, as a share of the way between two vertices.
const STEPS: (f64, f64) = (0.1, 1e-9);

/// What is wanted.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Goal {
    /// As much as can be.
    Maximum,
    /// As little as can be.
    Minimum,
    /// This.
    Target(f64),
}

/// The best of a model within a region.
#[derive(Debug, Clone, PartialEq)]
pub struct Optimum {
    /// What was wanted.
    pub goal: Goal,
    /// The composition.
    pub fractions: Vec<f64>,
    /// The values of the process variables.
    pub setting: Setting,
    /// What the model says there.
    pub value: f64,
    /// How far its interval reaches to each side; NaN without an error estimate.
    pub reach: f64,
    /// The same for one further result.
    pub further_reach: f64,
    /// Between which fractions compositions lie that the results can't tell apart from it, at some setting: the
    /// interval of the difference holds zero. `None` without an error estimate.
    pub alike: Option<Vec<Bound>>,
}

impl Goal {
    /// The less the better.
    fn miss(self, value: f64) -> f64 {
        match self {
            Self::Maximum => -value,
            Self::Minimum => value,
            Self::Target(target) => (value - target).abs(),
        }
    }
}

/// The best of a fitted model in a region, process variables within their levels: a grid, then from its best points
/// steps along the edges of the region, of which every way that stays in it is a sum, each halved when none gains (T. G.
/// Kolda, R. M. Lewis and V. Torczon, SIAM Rev. 45 (2003) 385).
pub fn optimum(study: &Study, region: &Region, goal: Goal) -> Optimum {
    let grid = grid(study, region);
    let miss = |place: &Place| goal.miss(study.value(&place.x, &place.setting));
    let mut ranked: Vec<(f64, &Place)> = grid.iter().map(|place| (miss(place), place)).collect();
    ranked.sort_by(|one, other| one.0.total_cmp(&other.0));
    let search = Search::new(study, region, goal);
    let found = ranked.iter().take(STARTS).map(|(_, place)| search.refined((*place).clone()));
    let best = found.min_by(|one, other| one.0.total_cmp(&other.0));
    let (_, place) = best.unwrap_or_else(|| (f64::NAN, search.middle()));
    let row = study.model.row(&place.x, &place.setting);
    Optimum {
        goal,
        value: study.regression.value(&row),
        reach: study.regression.reach(&row),
        further_reach: study.regression.further_reach(&row),
        alike: alike(study, &grid, &place, goal),
        fractions: place.x,
        setting: place.setting,
    }
}

/// A composition at a setting.
#[derive(Debug, Clone)]
struct Place {
    x: Vec<f64>,
    setting: Setting,
}

/// Even points and those of the region's shape, at even settings.
fn grid(study: &Study, region: &Region) -> Vec<Place> {
    let steps = if study.model.variables().len() < 2 { 5 } else { 3 };
    let mut even = vec![Setting::new()];
    for variable in study.model.variables() {
        let (low, high) = variable.range();
        let level = |step: usize| low + (high - low) * step as f64 / (steps - 1) as f64;
        even = even
            .iter()
            .flat_map(|own| {
                (0..steps).map(|step| [own.as_slice(), &[level(step)]].concat()).collect::<Vec<_>>()
            })
            .collect();
    }
    let points = fill(region, GRID).into_iter().chain(candidates(region));
    let at = |x: &Vec<f64>| -> Vec<Place> {
        even.iter().map(|setting| Place { x: x.clone(), setting: setting.clone() }).collect()
    };
    points.flat_map(|point| at(&point.fractions)).collect()
}

/// Which compositions of the grid can't be told apart from the best.
fn alike(study: &Study, grid: &[Place], best: &Place, goal: Goal) -> Option<Vec<Bound>> {
    let top = study.model.row(&best.x, &best.setting);
    if study.regression.reach(&top).is_nan() {
        return None;
    }
    let is_alike = |place: &&Place| {
        let row = study.model.row(&place.x, &place.setting);
        match goal {
            Goal::Target(target) => {
                (study.regression.value(&row) - target).abs() <= study.regression.reach(&row)
            }
            Goal::Maximum | Goal::Minimum => {
                let difference: Vec<f64> = row.iter().zip(&top).map(|(row, top)| row - top).collect();
                study.regression.value(&difference).abs() <= study.regression.reach(&difference)
            }
        }
    };
    let mut bounds: Vec<Bound> = best.x.iter().map(|x| Bound { low: *x, high: *x }).collect();
    for place in grid.iter().filter(is_alike) {
        for (bound, x) in bounds.iter_mut().zip(&place.x) {
            *bound = Bound { low: bound.low.min(*x), high: bound.high.max(*x) };
        }
    }
    Some(bounds)
}

/// A search by steps.
struct Search<'s> {
    study: &'s Study,
    region: &'s Region,
    goal: Goal,
    /// Along each edge, both ways.
    directions: Vec<Vec<f64>>,
}

impl<'s> Search<'s> {
    fn new(study: &'s Study, region: &'s Region, goal: Goal) -> Self {
        let edges = region.edges();
        let back = edges.iter().map(|way| way.iter().map(|part| -part).collect());
        let directions = back.chain(edges.iter().cloned()).collect();
        Self { study, region, goal, directions }
    }

    fn middle(&self) -> Place {
        let middle = |(low, high): (f64, f64)| (low + high) / 2.0;
        let setting = self.study.model.variables().iter().map(|variable| middle(variable.range())).collect();
        Place { x: self.region.centroid(), setting }
    }

    fn miss(&self, place: &Place) -> f64 {
        self.goal.miss(self.study.value(&place.x, &place.setting))
    }

    /// The least miss that steps from here lead to.
    fn refined(&self, mut place: Place) -> (f64, Place) {
        let mut miss = self.miss(&place);
        let mut step = STEPS.0;
        while STEPS.1 < step {
            let better = self.around(&place, step).map(|next| (self.miss(&next), next));
            let best = better.min_by(|one, other| one.0.total_cmp(&other.0));
            match best.filter(|(next, _)| *next < miss) {
                Some((next, found)) => (miss, place) = (next, found),
                None => step /= 2.0,
            }
        }
        (miss, place)
    }

    /// The places a step away, those beyond a bound left out.
    fn around<'p>(&'p self, place: &'p Place, step: f64) -> impl Iterator<Item = Place> + 'p {
        let moved = move |way: &Vec<f64>| -> Option<Place> {
            let x: Vec<f64> = place.x.iter().zip(way).map(|(x, way)| x + step * way).collect();
            self.region.holds_exactly(&x).then(|| Place { x, setting: place.setting.clone() })
        };
        let set = move |(at, sign): (usize, f64)| {
            let (low, high) = self.study.model.variables()[at].range();
            let mut setting = place.setting.clone();
            setting[at] = (setting[at] + sign * step * (high - low)).clamp(low, high);
            Place { x: place.x.clone(), setting }
        };
        let variables = (0..place.setting.len()).flat_map(|at| [(at, 1.0), (at, -1.0)]);
        self.directions.iter().filter_map(moved).chain(variables.map(set))
    }
}
