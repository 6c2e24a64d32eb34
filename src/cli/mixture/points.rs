//! The kinds of designs.

use clap::Args;

use super::design::{Found, designed};
use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::progress::Steps;
use crate::cli::request::{DesignRequest, RunArgs, SpaceArgs, design_request, listed_candidates};
use crate::compose::mixture::{
    OptimalError, Point, PointKind, axial, candidates, centroids, d_optimal, fill, lattice, lattice_size,
    settings,
};
use crate::input::{Fault, Place, Warning};
use crate::report::view::ChosenView;

/// Candidates of a filling beside those of the region's shape.
const FILLING: usize = 500;
/// Compositions that a search goes through; more take minutes.
const MOST_CANDIDATES: usize = 20_000;
/// Centroids of more components than this are more runs than anybody makes.
const MOST_CENTROIDS: usize = 12;

/// A simplex lattice: all compositions in steps of 1/m
///
/// With lower bounds the lattice is laid over what they leave. Upper bounds and rules cut it: take vertices or
/// optimal then.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook mixture lattice ChCl urea glycerol --degree 2 --seed 7
  meltbook mixture lattice ChCl urea water --degree 3 --bound \"ChCl from=0.2\" --axial \\
      --replicates 2 --blocks 2 --mass \"20 g\" --format csv")]
pub(super) struct LatticeArgs {
    #[command(flatten)]
    space: SpaceArgs,
    /// m: the steps of the lattice are 1/m
    #[arg(long, value_name = "NUMBER", value_parser = clap::value_parser!(u16).range(1..=100))]
    degree: u16,
    /// Add the points half-way from the centre to each corner
    #[arg(long)]
    axial: bool,
    #[command(flatten)]
    runs: RunArgs,
}

/// A simplex centroid design: pure components, halves, thirds and so on
///
/// With lower bounds it is laid over what they leave. Upper bounds and rules cut it: take vertices or optimal then.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook mixture centroid ChCl urea glycerol --axial --centre 2 --seed 7
  meltbook mixture centroid ChCl EG urea --process \"water levels=1 4 unit=wt%\" --seed 7")]
pub(super) struct CentroidArgs {
    #[command(flatten)]
    space: SpaceArgs,
    /// Add the points half-way from the centre to each corner
    #[arg(long)]
    axial: bool,
    #[command(flatten)]
    runs: RunArgs,
}

/// The extreme vertices of what bounds and rules allow
///
/// Every corner of the region is found, whatever its shape. Middles of edges and faces, and points half-way from
/// the centre to each corner can be added.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook mixture vertices ChCl urea water --bound \"ChCl from=0.2 to=0.5\" --bound \"urea from=0.3 to=0.6\" \\
      --bound \"water from=0.1 to=0.3\" --centre 3 --seed 7
  meltbook mixture vertices ChCl glycerol EG --where \"glycerol + EG <= 4 ChCl\" --where \"ChCl <= 0.5\" --edges --seed 7")]
pub(super) struct VerticesArgs {
    #[command(flatten)]
    space: SpaceArgs,
    /// Add the middle of each edge
    #[arg(long)]
    edges: bool,
    /// Add the middle of each side or larger face, short of the region itself
    #[arg(long)]
    faces: bool,
    /// Add the points half-way from the centre to each corner
    #[arg(long)]
    axial: bool,
    #[command(flatten)]
    runs: RunArgs,
}

/// The runs out of many candidates that tell a model best: D-optimal
///
/// Candidates are the corners of the region, the middles of edges and faces, points inside, or those of a file. The
/// search exchanges runs from random starts that follow from the seed, so it can be repeated.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook mixture optimal ChCl urea water --bound \"ChCl from=0.2 to=0.5\" --where \"urea >= ChCl\" \\
      --runs 9 --model quadratic --seed 7
  meltbook mixture optimal ChCl urea glycerol --candidates candidates.csv --runs 8 --seed 7")]
pub(super) struct OptimalArgs {
    #[command(flatten)]
    space: SpaceArgs,
    /// How many runs to choose, before replicates and centre points
    #[arg(long = "runs", value_name = "NUMBER", value_parser = clap::value_parser!(u16).range(1..=1000))]
    count: u16,
    /// A CSV file of compositions to choose from, with a column for each component
    #[arg(long, value_name = "FILE")]
    candidates: Option<String>,
    /// Random starts of the search
    #[arg(long, value_name = "NUMBER", default_value_t = 20, value_parser = clap::value_parser!(u16).range(1..=10_000))]
    starts: u16,
    #[command(flatten)]
    runs: RunArgs,
}

/// The points of a lattice over the lower bounds.
fn lattice_points(request: &DesignRequest, degree: usize) -> Result<Vec<Point>, Fault> {
    let q = request.space.names.len();
    request.check_size(lattice_size(q, degree).unwrap_or(usize::MAX), 1)?;
    simplex_only(request)?;
    Ok(lattice(q, degree).iter().map(|z| Point::new(kind_of(z), request.space.region.of_share(z))).collect())
}

/// `mixture lattice`.
pub(super) fn lattice_command(common: &Common, args: &LatticeArgs) -> Result<Outcome, Failure> {
    let request = design_request(common, &args.space, &args.runs)?;
    let degree = usize::from(args.degree);
    let mut points = lattice_points(&request, degree)?;
    points.extend(axial_of_simplex(&request, args.axial));
    let words =
        format!("simplex lattice {{{}, {degree}}}{}", request.space.names.len(), with_axial(args.axial));
    designed(common, &request, &args.runs, found("lattice", words, points))
}

/// `mixture centroid`.
pub(super) fn centroid(common: &Common, args: &CentroidArgs) -> Result<Outcome, Failure> {
    let request = design_request(common, &args.space, &args.runs)?;
    let q = request.space.names.len();
    if MOST_CENTROIDS < q {
        let message = format!("a centroid design of {q} components has {} points", (1u64 << q) - 1);
        let fault = Fault::new("too_large", message, Place::named("COMPONENT"));
        return Err(fault.with_hint("Choose a subset with mixture optimal, or mix fewer components.").into());
    }
    simplex_only(&request)?;
    let point = |z: &Vec<f64>| Point::new(kind_of(z), request.space.region.of_share(z));
    let mut points: Vec<Point> = centroids(q).iter().map(point).collect();
    points.extend(axial_of_simplex(&request, args.axial));
    let words = format!("simplex centroid of {q}{}", with_axial(args.axial));
    designed(common, &request, &args.runs, found("centroid", words, points))
}

/// `mixture vertices`.
pub(super) fn vertices(common: &Common, args: &VerticesArgs) -> Result<Outcome, Failure> {
    let request = design_request(common, &args.space, &args.runs)?;
    let region = &request.space.region;
    if region.faces().is_none() && (args.edges || args.faces) {
        let message =
            format!("a region of {} corners has too many edges and faces to list", region.vertices().count());
        let fault = Fault::new("too_large", message, Place::named("--edges --faces"));
        return Err(fault.with_hint("Choose a subset with mixture optimal.").into());
    }
    let wanted = |kind: PointKind| match kind {
        PointKind::Edge => args.edges,
        PointKind::Face => args.faces,
        PointKind::Axial => args.axial,
        kind => kind == PointKind::Vertex,
    };
    let points: Vec<Point> = candidates(region).into_iter().filter(|point| wanted(point.kind)).collect();
    let mut found = found("vertices", "extreme vertices".to_owned(), points);
    found.warnings.extend(one_point(&request));
    designed(common, &request, &args.runs, found)
}

/// `mixture optimal`.
pub(super) fn optimal(common: &Common, args: &OptimalArgs) -> Result<Outcome, Failure> {
    let request = design_request(common, &args.space, &args.runs)?;
    let (points, mut warnings) = match &args.candidates {
        Some(path) => listed_candidates(path, &request)?,
        None => (shaped(&request), Vec::new()),
    };
    let crossed = crossed(&request, points);
    if MOST_CANDIDATES < crossed.len() {
        let message = format!("{} candidates are more than {MOST_CANDIDATES}", crossed.len());
        let fault = Fault::new("too_large", message, Place::named("the candidates"));
        return Err(fault.with_hint("Leave out those that you would not test anyway.").into());
    }
    let rows: Vec<Vec<f64>> = crossed
        .iter()
        .map(|point| request.model.row(&point.fractions, point.setting.as_deref().unwrap_or_default()))
        .collect();
    let (count, starts) = (usize::from(args.count), usize::from(args.starts));
    let (mut steps, place) = Steps::of_search(starts, count, "searching");
    let order = by_name(&request, &crossed);
    let search = (starts, request.arrangement.seed);
    let chosen =
        d_optimal(&rows, &[], count, &order, search, |start, looked| steps.reach(place(start, looked)));
    drop(steps);
    let chosen = chosen.map_err(|error| not_chosen(&request, &error))?;
    let points = chosen.places.iter().map(|at| crossed[*at].clone()).collect();
    let view = ChosenView { chosen, candidates: crossed.len(), starts };
    warnings.extend(one_point(&request));
    let words = format!("D-optimal, {count} of {} candidates", crossed.len());
    designed(
        common,
        &request,
        &args.runs,
        Found { kind: "optimal", words, points, chosen: Some(view), warnings },
    )
}

fn found(kind: &'static str, words: String, points: Vec<Point>) -> Found {
    Found { kind, words, points, chosen: None, warnings: Vec::new() }
}

/// What a point of a simplex is.
fn kind_of(z: &[f64]) -> PointKind {
    let there: Vec<f64> = z.iter().copied().filter(|z| 0.0 < *z).collect();
    match there.as_slice() {
        [_] => PointKind::Vertex,
        [one, other] if one == other && 2 < z.len() => PointKind::Edge,
        all if all.len() == z.len() && all.iter().all(|z| *z == all[0]) => PointKind::Centre,
        _ => PointKind::Lattice,
    }
}

fn with_axial(axial: bool) -> &'static str {
    if axial { " with axial points" } else { "" }
}

fn axial_of_simplex(request: &DesignRequest, wanted: bool) -> Vec<Point> {
    let q = if wanted { request.space.names.len() } else { 0 };
    axial(q).iter().map(|z| Point::new(PointKind::Axial, request.space.region.of_share(z))).collect()
}

/// Lattices and centroids need a simplex.
fn simplex_only(request: &DesignRequest) -> Result<(), Fault> {
    if request.space.region.is_simplex() {
        return Ok(());
    }
    let message =
        "the bounds and rules leave a region that is no simplex, and this design is one of a simplex";
    let fault = Fault::new("no_simplex", message, Place::named("--bound --where"));
    Err(fault.with_hint("Take mixture vertices or mixture optimal, or keep lower bounds alone."))
}

/// A region of one composition leaves nothing to choose.
fn one_point(request: &DesignRequest) -> Option<Warning> {
    (request.space.region.vertices().count() == 1).then(|| {
        Warning::new(
            "one_composition",
            "the bounds leave one composition: there is nothing to vary".to_owned(),
        )
    })
}

/// Points that the region's shape suggests, and some inside.
fn shaped(request: &DesignRequest) -> Vec<Point> {
    let region = &request.space.region;
    let mut points = candidates(region);
    for point in fill(region, FILLING) {
        let same = |known: &Point| {
            known.fractions.iter().zip(&point.fractions).all(|(one, other)| (one - other).abs() < 1e-9)
        };
        if !points.iter().any(same) {
            points.push(point);
        }
    }
    points
}

/// Each point with each setting of the process variables, unless it has its own.
fn crossed(request: &DesignRequest, points: Vec<Point>) -> Vec<Point> {
    let all = settings(request.variables());
    let with = |point: Point| -> Vec<Point> {
        let own = point.setting.clone().map_or_else(|| all.clone(), |setting| vec![setting]);
        own.into_iter().map(|setting| Point { setting: Some(setting), ..point.clone() }).collect()
    };
    points.into_iter().flat_map(with).collect()
}

/// The order of candidates by the names of the components, so that the choice does not depend on the order in which
/// these were typed.
fn by_name(request: &DesignRequest, points: &[Point]) -> Vec<usize> {
    let names = &request.space.names;
    let mut sorted: Vec<usize> = (0..names.len()).collect();
    sorted.sort_by(|one, other| names[*one].id.cmp(&names[*other].id));
    let whole = |value: f64| (value * 1e9).round() as i64;
    let key = |point: &Point| -> Vec<i64> {
        let fractions = sorted.iter().map(|at| whole(point.fractions[*at]));
        fractions.chain(point.setting.iter().flatten().map(|value| whole(*value))).collect()
    };
    let mut order: Vec<usize> = (0..points.len()).collect();
    order.sort_by_cached_key(|at| key(&points[*at]));
    order
}

fn not_chosen(request: &DesignRequest, error: &OptimalError) -> Fault {
    let names: Vec<&str> = request.space.names.iter().map(|name| name.given.as_str()).collect();
    match error {
        OptimalError::TooFewRuns { runs, terms } => {
            let message = format!("{runs} runs can't tell the {terms} coefficients of this model");
            Fault::new("too_few_runs", message, Place::named("--runs"))
                .with_hint(format!("Choose {terms} or more, or a smaller --model."))
        }
        OptimalError::NotEstimable(places) => {
            let terms: Vec<String> =
                places.iter().map(|at| request.model.name(&request.model.terms[*at], &names)).collect();
            let message = format!("not estimable with these candidates: {}", terms.join(", "));
            Fault::new("not_estimable", message, Place::named("--model"))
                .with_hint("Widen the bounds, add candidates, or choose a smaller --model.")
        }
    }
}
