//! What to know beside the curves.

use super::{CurveView, FittedSeries, words};
use crate::compose::curve::{Joining, Silence};
use crate::input::Warning;
use crate::report::view::short;

pub(super) fn warnings(view: &CurveView) -> Vec<Warning> {
    let mut warnings = Vec::new();
    warnings.extend(view.series.iter().filter_map(doubts));
    let empty = view.series.iter().filter(|own| own.series.points.is_empty());
    warnings.extend(empty.map(|own| {
        Warning::new("nothing_measured", format!("{}: no value with its temperature", own.series.name))
    }));
    warnings.extend(heap(view));
    warnings.extend(water_asked(view));
    places(view, &mut warnings);
    let unsaid = |own: &&FittedSeries| {
        !own.is_together && own.series.waters().is_none() && words::said_of_water(&own.series).is_none()
    };
    if view.series.iter().any(|own| unsaid(&own)) {
        let message = "water is not stated for every series; a few tenths of a percent change viscosity and conductivity \
                       noticeably";
        warnings.push(Warning::new("water_not_stated", message));
    }
    warnings
}

fn doubts(own: &FittedSeries) -> Option<Warning> {
    let doubts = own.curve.iter().flat_map(|curve| &curve.doubts).filter_map(words::doubt_words);
    let doubts: Vec<String> = doubts.collect();
    let message = format!("{}: {}", own.series.name, doubts.join("; "));
    (!doubts.is_empty()).then(|| Warning::new("doubtful_parameters", message))
}

fn heap(view: &CurveView) -> Vec<Warning> {
    let is_heap = |own: &&FittedSeries| own.told().is_some_and(|curve| curve.joining == Some(Joining::Heap));
    let warning = |own: &FittedSeries| {
        let message = format!(
            "{}: no series tells the law by itself, so its points count as if they were of one hand: what series differ by \
             passes for an effect of temperature",
            own.series.name
        );
        Warning::new("series_heaped", message)
    };
    view.series.iter().filter(is_heap).map(warning).collect()
}

fn water_asked(view: &CurveView) -> Option<Warning> {
    let water = view.water().filter(|_| !view.curves().any(|(_, curve)| curve.knows_water()))?;
    let message = format!(
        "the points do not vary in water, so nothing is known of what {} wt% of it do: the values are those of the water \
         that the points had",
        short(100.0 * water, 3)
    );
    Some(Warning::new("water_not_varied", message))
}

/// Temperatures beyond the points, and those of which nothing is said.
fn places(view: &CurveView, warnings: &mut Vec<Warning>) {
    for at in &view.at {
        for liquid in view.liquids() {
            let Some(curve) = liquid.head(view, *at) else { continue };
            let of = liquid.name.filter(|_| 1 < view.liquids().len());
            let of = of.map_or(String::new(), |name| format!("{name}: "));
            match curve.at(at.kelvin(), view.water()) {
                Err(silence) => {
                    let code = match silence {
                        Silence::NotPositive => "not_positive_there",
                        _ => "nothing_said",
                    };
                    let message =
                        format!("{of}nothing is said of {at}, {}", words::curve_silence(view, silence));
                    warnings.push(Warning::new(code, message));
                }
                Ok(_) if curve.beyond(at.kelvin(), None).is_some() => {
                    let message = format!("{of}{at} lies beyond the points: an extrapolation");
                    warnings.push(Warning::new("beyond_data", message));
                }
                Ok(_) => {}
            }
        }
    }
}
