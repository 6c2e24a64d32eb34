//! `curve`: density, viscosity and conductivity against temperature and water.

use clap::Args;

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{CurveOptions, CurveRequest, curve_request};
use crate::compose::curve::{Series, fit_series, walden};
use crate::report::answer::{curve_answer, walden_answer};
use crate::report::view::{CurveView, FittedSeries, WaldenView, curve_document, walden_document};

/// Density, viscosity or conductivity of a liquid against temperature and water: curves through published values, a
/// file or measured batches, and what they have at a temperature
///
/// Each source is a curve of its own, and all of them together another: how far they lie apart is part of the answer. A
/// line for density; Vogel, Fulcher and Tammann's law or Arrhenius' on logarithms for the others; a term for water where
/// the points vary in it. Beyond the points nothing is said without saying so.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook curve \"ChCl:EG 1:2\" --property viscosity --at \"40 °C\"
  meltbook curve \"ChCl:glycerol 1:2\" --property density --at \"25 °C\" --at \"60 °C\"
  meltbook curve \"ChCl:urea 1:2\" --property viscosity --form arrhenius --out viscosity.txt")]
pub(super) struct CurveArgs {
    #[command(flatten)]
    options: CurveOptions,
}

pub(super) fn run(common: &Common, args: &CurveArgs) -> Result<Outcome, Failure> {
    let request = curve_request(common, &args.options)?;
    match request.property {
        Some(property) => Ok(of_property(request, property)),
        None => Ok(of_walden(request)),
    }
}

fn of_property(request: CurveRequest, property: crate::quantity::Property) -> Outcome {
    let CurveRequest { liquid, mut series, form, at, water, confidence, warnings, .. } = request;
    let filled = series.iter().filter(|own| !own.points.is_empty()).count();
    if 1 < filled {
        series.push(Series::together("all together", &series));
    }
    let fitted = series.into_iter().map(|series| {
        let curve = fit_series(&series, form, confidence);
        FittedSeries { series, curve }
    });
    let series: Vec<FittedSeries> = fitted.collect();
    let view = CurveView { property, liquid, form, series, at, water, confidence, warnings };
    let mut outcome = Outcome::new("curve", curve_answer(&view), curve_document(&view));
    outcome.no = view.series.iter().all(|own| own.curve.as_ref().map_or(true, |curve| !curve.identifiable));
    outcome.warnings = view.all_warnings();
    outcome
}

fn of_walden(request: CurveRequest) -> Outcome {
    let CurveRequest { liquid, series, viscosities, warnings, .. } = request;
    let walden = walden(&Series::together("", &series), &Series::together("", &viscosities));
    let view = WaldenView { liquid, walden, conductivities: series, viscosities, warnings };
    let mut outcome = Outcome::new("curve", walden_answer(&view), walden_document(&view));
    outcome.no = view.walden.points.is_empty();
    outcome.warnings = view.warnings;
    outcome
}
