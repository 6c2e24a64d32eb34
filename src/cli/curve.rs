//! `curve`: density, viscosity and conductivity against temperature and water.

use clap::Args;

use super::args::Common;
use super::outcome::{Failure, Outcome};
use super::request::{CurveOptions, CurveRequest, PUBLISHED, WaldenRequest, curve_request, walden_request};
use crate::compose::curve::{Series, fit_series, fit_together, walden};
use crate::report::answer::{curve_answer, walden_answer};
use crate::report::view::{
    CurveView, FittedSeries, WaldenOfSet, WaldenView, curve_document, walden_document,
};
use crate::statistics::curve_fit::Form;

/// Density, viscosity or conductivity of a liquid against temperature and water: curves through published values, a
/// file or measured batches, and what they have at a temperature
///
/// Each source is a curve of its own, and all of one liquid together another: its slope from within the sources, its level
/// their mean, its band by how far they lie apart. Batches of different liquids stay apart. A line for density; Vogel,
/// Fulcher and Tammann's law or Arrhenius' on logarithms for the others; a term for water where the points vary in it.
/// Beyond the points nothing is said without saying so, and nothing at all too near T0. Exit code 1 if a temperature that
/// is asked for gets no value.
#[derive(Debug, Args)]
#[command(after_help = "\
Examples:
  meltbook curve \"ChCl:EG 1:2\" --property viscosity --at \"40 °C\"
  meltbook curve \"ChCl:glycerol 1:2\" --property density --at \"25 °C\" --at \"60 °C\"
  meltbook curve \"ChCl:urea 1:2\" --property viscosity --form arrhenius --out viscosity.txt
  meltbook curve \"ChCl:EG 1:2\" --property walden --points transport.csv --x temperature \\
    --y conductivity --viscosity viscosity --density density")]
pub(super) struct CurveArgs {
    #[command(flatten)]
    options: CurveOptions,
}

pub(super) fn run(common: &Common, args: &CurveArgs) -> Result<Outcome, Failure> {
    match curve_request(common, &args.options)? {
        Some(request) => Ok(of_property(request)),
        None => walden_request(common, &args.options).map(of_walden),
    }
}

fn of_property(request: CurveRequest) -> Outcome {
    let CurveRequest { property, liquid, by, series, form, at, water, confidence, warnings } = request;
    let series = fitted(series, form, confidence);
    let view = CurveView { property, liquid, form, series, by, at, water, confidence, warnings };
    let mut outcome = Outcome::new("curve", curve_answer(&view), curve_document(&view));
    outcome.no = view.is_silent();
    outcome.warnings = view.all_warnings();
    outcome
}

/// Each series by itself, liquid by liquid; behind those of a liquid, where there are several, all of them together.
fn fitted(series: Vec<Series>, form: Form, confidence: f64) -> Vec<FittedSeries> {
    let mut liquids: Vec<Option<String>> = Vec::new();
    for own in &series {
        if !liquids.contains(&own.liquid) {
            liquids.push(own.liquid.clone());
        }
    }
    let mut found = Vec::new();
    for liquid in &liquids {
        let own: Vec<&Series> = series.iter().filter(|own| own.liquid == *liquid).collect();
        found.extend(own.iter().map(|own| {
            let curve = fit_series(own, form, confidence);
            FittedSeries { series: (*own).clone(), curve, is_together: false }
        }));
        if 1 < own.iter().filter(|own| !own.points.is_empty()).count() {
            let name = match liquid {
                Some(liquid) if 1 < liquids.len() => format!("all of {liquid}"),
                _ => "all together".to_owned(),
            };
            let together = Series::together(name, own.iter().copied()).of_liquid(liquid.clone());
            let curve = fit_together(&own, form, confidence);
            found.push(FittedSeries { series: together, curve, is_together: true });
        }
    }
    found
}

fn of_walden(request: WaldenRequest) -> Outcome {
    let WaldenRequest { liquid, sets, warnings } = request;
    let sets = sets.into_iter().map(|own| {
        let basis = own.basis.as_ref().ok().map(|(basis, _)| basis);
        let walden = walden(&own.conductivity, &own.viscosity, basis);
        let salt = own.basis.map(|(basis, salt)| (salt, basis.grams_per_mole));
        WaldenOfSet { name: own.name, walden, salt }
    });
    let mut sets: Vec<WaldenOfSet> = sets.collect();
    // A liquid that is named for its ratio alone need not have published pairs.
    if sets.iter().any(|own| !own.walden.points.is_empty()) {
        sets.retain(|own| own.name != PUBLISHED || !own.walden.points.is_empty());
    }
    let view = WaldenView { liquid, sets, warnings };
    let mut outcome = Outcome::new("curve", walden_answer(&view), walden_document(&view));
    outcome.no = view.sets.iter().all(|own| own.walden.points.is_empty());
    outcome.warnings = view.all_warnings();
    outcome
}
