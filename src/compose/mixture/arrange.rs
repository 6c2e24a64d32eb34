//! Points into runs: crossed with process variables, repeated, put into blocks or whole plots, and into a random
//! order.

use super::blocks::{Balance, balance};
use super::process::{Process, Setting, settings};
use crate::statistics::random::Chance;

/// What a point is in its design.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum PointKind {
    /// A corner of the region, a pure component where there are no bounds.
    Vertex,
    /// The middle of an edge.
    Edge,
    /// The middle of a side or larger face.
    Face,
    /// A point of a lattice.
    Lattice,
    /// Half-way from the centre to a corner.
    Axial,
    /// The middle of all.
    Centre,
    /// One of a list.
    Listed,
}

/// A point to be tested.
#[derive(Debug, Clone, PartialEq)]
pub struct Point {
    /// What it is.
    pub kind: PointKind,
    /// Its composition.
    pub fractions: Vec<f64>,
    /// The values of the process variables, where they belong to the point; else it is crossed with all.
    pub setting: Option<Setting>,
}

/// How points become runs.
#[derive(Debug, Clone, PartialEq)]
pub struct Arrangement {
    /// How often each point is run; 1 or more.
    pub replicates: usize,
    /// How many blocks; 0 and 1 are none.
    pub blocks: usize,
    /// The seed of the order.
    pub seed: u64,
}

/// One run.
#[derive(Debug, Clone, PartialEq)]
pub struct Run {
    /// Its place in the order of making, from 1.
    pub run: usize,
    /// Its place in the order of the design, from 1.
    pub standard: usize,
    /// What its point is.
    pub kind: PointKind,
    /// Its composition.
    pub fractions: Vec<f64>,
    /// The values of the process variables.
    pub setting: Setting,
    /// Which block, from 1.
    pub block: Option<usize>,
    /// Which whole plot, from 1.
    pub plot: Option<usize>,
}

impl PointKind {
    /// Its name.
    pub const fn name(self) -> &'static str {
        match self {
            Self::Vertex => "vertex",
            Self::Edge => "edge",
            Self::Face => "face",
            Self::Lattice => "lattice",
            Self::Axial => "axial",
            Self::Centre => "centre",
            Self::Listed => "listed",
        }
    }
}

impl Point {
    /// A point that is crossed with all settings of the process variables.
    pub fn new(kind: PointKind, fractions: Vec<f64>) -> Self {
        Self { kind, fractions, setting: None }
    }
}

/// The runs in the order of making, and how the blocks came out if there are any.
///
/// Each point is crossed with every setting of the process variables unless it has its own. Where a variable is hard
/// to change, the runs of one value of it stand together as a whole plot; plots are in random order, and so are the
/// runs in each; each replicate has whole plots of its own. Else the order is random within blocks. `row` gives the
/// row of the model that blocks are to be orthogonal to.
pub fn arrange(
    points: &[Point],
    variables: &[Process],
    arrangement: &Arrangement,
    row: impl Fn(&[f64], &[f64]) -> Vec<f64>,
) -> (Vec<Run>, Option<Balance>) {
    let mut chance = Chance::of_seed(arrangement.seed);
    let mut runs = repeated(points, variables, arrangement.replicates.max(1));
    if variables.iter().any(|variable| variable.is_hard) {
        return (in_plots(runs, variables, &mut chance), None);
    }
    let balanced = (1 < arrangement.blocks).then(|| {
        let rows: Vec<Vec<f64>> = runs.iter().map(|(run, _)| row(&run.fractions, &run.setting)).collect();
        balance(&rows, arrangement.blocks, &mut chance)
    });
    chance.shuffle(&mut runs);
    if let Some(Balance { block, .. }) = &balanced {
        runs.iter_mut().for_each(|(run, _)| run.block = Some(block[run.standard - 1] + 1));
        runs.sort_by_key(|(run, _)| run.block);
    }
    (numbered(runs.into_iter().map(|(run, _)| run)), balanced)
}

/// Every run in the order of the design, with its replicate.
fn repeated(points: &[Point], variables: &[Process], replicates: usize) -> Vec<(Run, usize)> {
    let crossed = settings(variables);
    let mut runs = Vec::new();
    for replicate in 0..replicates {
        for point in points {
            let own = point.setting.clone().map_or_else(|| crossed.clone(), |setting| vec![setting]);
            for setting in own {
                let (kind, fractions) = (point.kind, point.fractions.clone());
                let standard = runs.len() + 1;
                let run = Run { run: 0, standard, kind, fractions, setting, block: None, plot: None };
                runs.push((run, replicate));
            }
        }
    }
    runs
}

/// Which whole plot a run belongs to: its replicate, and the bits of the values that are hard to change.
type PlotKey = (usize, Vec<u64>);

/// Whole plots in random order, the runs of each in random order.
fn in_plots(runs: Vec<(Run, usize)>, variables: &[Process], chance: &mut Chance) -> Vec<Run> {
    let key = |run: &Run, replicate: usize| -> PlotKey {
        let hard = run.setting.iter().zip(variables).filter(|(_, variable)| variable.is_hard);
        (replicate, hard.map(|(value, _)| value.to_bits()).collect())
    };
    let mut plots: Vec<(PlotKey, Vec<Run>)> = Vec::new();
    for (run, replicate) in runs {
        let key = key(&run, replicate);
        match plots.iter_mut().find(|(known, _)| *known == key) {
            Some((_, plot)) => plot.push(run),
            None => plots.push((key, vec![run])),
        }
    }
    chance.shuffle(&mut plots);
    let mut ordered = Vec::new();
    for (at, (_, mut plot)) in plots.into_iter().enumerate() {
        chance.shuffle(&mut plot);
        ordered.extend(plot.into_iter().map(|run| Run { plot: Some(at + 1), ..run }));
    }
    numbered(ordered.into_iter())
}

fn numbered(runs: impl Iterator<Item = Run>) -> Vec<Run> {
    runs.enumerate().map(|(at, run)| Run { run: at + 1, ..run }).collect()
}
