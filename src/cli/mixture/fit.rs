//! `mixture fit`: a model through results, its best, and what to test next.

use clap::Args;

use crate::cli::args::Common;
use crate::cli::outcome::{Failure, Outcome};
use crate::cli::progress::Steps;
use crate::cli::request::{PlotsOf, ResultArgs, ResultRequest, result_request};
use crate::compose::mixture::{
    Bound, NextRun, Point, Region, Study, by_composition, candidates, fill, lattice_size, next_runs, optimum,
    plots, settled, trace,
};
use crate::report::answer::mixture_fit_answer;
use crate::report::view::{MixtureFitView, WholePlots, mixture_fit_document};

/// Random starts of the search for further runs.
const STARTS: usize = 10;
/// Even points to choose further runs from where corners, edges and middles can't tell the model: terms such as
/// x1 x2 (x1 − x2) are 0 at all of those of a simplex.
const EVEN: usize = 300;

/// What results say: Scheffé's model with its errors, lack of fit, where it has its best, what to test next
///
/// Results come from a CSV file with a column for each component, or from a property of the batches in the book and
/// what these batches really hold. Exit code 1 if the results can't tell the model.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook mixture fit results.csv --part ChCl,urea,glycerol --value conductivity --goal max
  meltbook mixture fit results.csv --part ChCl,urea,glycerol --value conductivity --model linear --next 5 --seed 7")]
pub(super) struct FitArgs {
    #[command(flatten)]
    study: ResultArgs,
}

pub(super) fn run(common: &Common, args: &FitArgs) -> Result<Outcome, Failure> {
    let request = result_request(common, &args.study)?;
    let results = &request.results;
    let study = Study::of(request.model.clone(), &results.observed, results.alike, request.confidence);
    let told = study.as_ref().ok().filter(|study| !study.regression.variance.is_constant());
    let group = settled(&request.model, &results.observed, results.alike).1;
    let distinct = (0..group.len()).filter(|at| group[*at] == *at).count();
    let (next, next_is_beyond) = next_or_beyond(&request);
    let optima =
        request.goals.iter().filter_map(|goal| Some(optimum(told?, &request.region, *goal))).collect();
    let reference = reference(&request);
    let place = (reference.0.as_slice(), reference.1.as_slice());
    let traces = (0..results.names.len())
        .filter_map(|at| Some(trace(told?, &request.region, place, at, request.direction)))
        .collect();
    let view = MixtureFitView {
        names: results.names.iter().map(String::as_str).collect(),
        counts: results.counts,
        response: &results.response,
        unit: results.unit.as_deref(),
        observed: &results.observed,
        labels: &results.labels,
        alike: results.alike,
        plots: whole_plots(&request),
        batches: match &results.plots {
            PlotsOf::Column(column, of) => {
                let count = of.iter().collect::<std::collections::BTreeSet<_>>().len();
                Some((column.as_str(), results.readings.as_slice(), count))
            }
            PlotsOf::Single | PlotsOf::Unsaid => None,
        },
        model: &request.model,
        model_is_stated: request.model_is_stated,
        crossing: request.crossing,
        region: &request.region,
        region_is_stated: request.region_is_stated,
        next,
        next_is_beyond,
        distinct,
        optima,
        traces,
        direction: request.direction,
        seed: request.seed,
        warnings: results.warnings.clone(),
        reference,
        study,
    };
    let mut outcome = Outcome::new("mixture fit", mixture_fit_answer(&view), mixture_fit_document(&view));
    outcome.no = view.study.is_err();
    outcome.warnings = view.warnings;
    Ok(outcome)
}

/// Results that share a batch, or may: by a column, or where nobody said by their compositions.
fn whole_plots(request: &ResultRequest) -> Option<WholePlots<'_>> {
    let results = &request.results;
    let found = |of: &[usize]| plots(&request.model, &results.observed, of, results.alike);
    match &results.plots {
        PlotsOf::Single => None,
        PlotsOf::Column(column, of) => {
            found(of).map(|plots| WholePlots { column: Some(column.as_str()), plots })
        }
        PlotsOf::Unsaid => {
            let of = by_composition(&results.observed, results.alike);
            let found = found(&of).filter(|own| 1 < own.split && !request.model.variables().is_empty());
            found.map(|plots| WholePlots { column: None, plots })
        }
    }
}

/// Where traces start: the middle of the region and of the process variables.
fn reference(request: &ResultRequest) -> (Vec<f64>, Vec<f64>) {
    let middle = |(low, high): (f64, f64)| (low + high) / 2.0;
    let setting = request.model.variables().iter().map(|variable| middle(variable.range())).collect();
    (request.region.centroid(), setting)
}

/// Further runs; where none within what the results span would tell the model and nobody gave bounds, those of the whole
/// simplex, and true.
fn next_or_beyond(request: &ResultRequest) -> (Option<Vec<NextRun>>, bool) {
    let within = next(request, &request.region);
    if within.is_some() || request.region_is_stated {
        return (within, false);
    }
    let whole = Region::new(vec![Bound::FREE; request.results.names.len()], Vec::new());
    let beyond = whole.ok().and_then(|whole| next(request, &whole));
    let is_beyond = beyond.is_some();
    (beyond, is_beyond)
}

fn next(request: &ResultRequest, region: &Region) -> Option<Vec<NextRun>> {
    if request.next == 0 {
        return Some(Vec::new());
    }
    let shape = candidates(region);
    among(request, &shape).or_else(|| {
        // Thirds of a simplex are the plainest points for terms of the third degree.
        let thirds = [shape.clone(), even(region, 3)].concat();
        among(request, &thirds).or_else(|| among(request, &[shape, fill(region, EVEN)].concat()))
    })
}

/// The points of the lattice of this degree that lie in the region.
fn even(region: &Region, degree: usize) -> Vec<Point> {
    let most = lattice_size(region.q(), degree).filter(|size| *size <= EVEN);
    most.map_or_else(Vec::new, |most| fill(region, most))
}

/// The best further runs among these points; `None` if not even all of them tell the model.
fn among(request: &ResultRequest, points: &[Point]) -> Option<Vec<NextRun>> {
    let (observed, _) = settled(&request.model, &request.results.observed, request.results.alike);
    let search = (STARTS, request.seed);
    let (mut steps, place) = Steps::of_search(STARTS, request.next.max(1), "searching");
    let seen = |start: usize, looked: usize| steps.reach(place(start, looked));
    next_runs(&request.model, &observed, points, request.next, search, seen).ok()
}
