//! A strip plot: as SVG for paper and browser, in characters for a screen. Black, one blue and white; what a mark is can be told by its
//! shape, so that they can be read in grey. Values stand beside what they belong to; there is no legend.

mod axis;
mod characters;
mod svg;
mod swarm;

pub(in crate::report) use axis::Axis;

use crate::report::document::Figure;

/// Every value of some groups as a dot, with mean and interval.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::report) struct StripPlot {
    /// What it shows, in one line.
    pub(in crate::report) title: String,
    /// What stands at the axis, with the unit.
    pub(in crate::report) axis: String,
    /// The groups from top to bottom.
    pub(in crate::report) strips: Vec<Strip>,
}

/// One group.
#[derive(Debug, Clone, PartialEq)]
pub(in crate::report) struct Strip {
    /// What it is called.
    pub(in crate::report) name: String,
    /// Its values.
    pub(in crate::report) values: Vec<f64>,
    /// Values that are left out of the mean, drawn as crosses.
    pub(in crate::report) excluded: Vec<f64>,
    /// The mean.
    pub(in crate::report) mean: f64,
    /// Its interval.
    pub(in crate::report) interval: Option<[f64; 2]>,
    /// First and third quartile, drawn where there are too many values for dots.
    pub(in crate::report) quartiles: [f64; 2],
    /// Mean and interval in words, a line each, to stand beside it.
    pub(in crate::report) label: String,
}

/// With more values than this a group is drawn as a box.
pub(in crate::report) const MOST_DOTS: usize = 200;

impl StripPlot {
    /// As SVG, and in characters for a screen.
    pub(in crate::report) fn figure(&self) -> Figure {
        let Some(axis) = self.axis_over() else { return Figure::new("", self.title.as_str()) };
        Figure::new(svg::svg(self, &axis), self.title.as_str()).in_characters(characters::lines(self, &axis))
    }

    /// An axis that holds every value, and intervals and what is left out as far as they reach no further out than half of what
    /// the values spread: the interval of two cells, or a cell that died, would squeeze everything else.
    fn axis_over(&self) -> Option<Axis> {
        let values = || self.strips.iter().flat_map(|strip| strip.values.iter()).copied();
        let (least, greatest) = (values().reduce(f64::min)?, values().reduce(f64::max)?);
        let spread = greatest - least;
        let excluded = || self.strips.iter().flat_map(|strip| strip.excluded.iter()).copied();
        let limits = || self.strips.iter().filter_map(|strip| strip.interval).flatten().chain(excluded());
        let low = limits().fold(least, f64::min).max(least - spread / 2.0);
        let high = limits().fold(greatest, f64::max).min(greatest + spread / 2.0);
        Some(Axis::over(low, high, 5))
    }
}
