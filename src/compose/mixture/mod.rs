//! Mixture designs and what their results say. Compositions are fractions that add up to 1, by mole or by mass: that
//! is the caller's; nothing here knows a component by name.
//!
//! [`Region`] is what may be tested, [`Model`] what is to be told, [`Process`] what else is set. Points come from
//! [`lattice`], [`centroids`], the vertices of a region or a list; [`d_optimal`] chooses among them, [`arrange`] puts
//! them into runs. [`Study`] fits a model to results and says where its best is and what to test next.

mod arrange;
mod blocks;
mod candidate;
mod cut;
mod face;
mod model;
mod optimal;
mod optimum;
mod plots;
mod process;
mod quality;
mod readings;
mod region;
mod repeats;
mod simplex;
mod study;
mod trace;

pub use arrange::{Arrangement, Point, PointKind, Run, arrange};
pub use blocks::{Balance, balance};
pub use candidate::{candidates, fill};
pub use model::{Crossing, Model, Order, Term};
pub use optimal::{Chosen, MOST_STARTS, OptimalError, d_optimal};
pub use optimum::{Goal, Optimum, optimum};
pub use plots::{Plots, by_composition, plots};
pub use process::{Process, Setting, settings};
pub use quality::{RunQuality, run_quality};
pub use readings::{BatchMeans, batch_means};
pub use region::{Bound, Constraint, Region, RegionError};
pub use repeats::settled;
pub use simplex::{axial, centroids, lattice, lattice_size};
pub use study::{NextRun, Observed, Study, next_runs};
pub use trace::{Direction, TracePoint, trace};
