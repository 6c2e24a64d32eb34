//! Laws, verdicts and remarks in words.

use super::{CurveView, FittedSeries};
use crate::compose::curve::{Beyond, CurveRefusal, Series};
use crate::input::Warning;
use crate::quantity::{MassFraction, significant};
use crate::report::view::short;
use crate::statistics::curve_fit::{Doubt, FitError, Form};

pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

pub(super) fn law(form: Form) -> &'static str {
    match form {
        Form::Vft => "a exp(b/(T − T0)), by least squares on ln y",
        Form::Arrhenius => "a exp(−E/(R T)), by least squares on ln y",
        _ => "intercept + slope T",
    }
}

/// The unit of a parameter.
pub(super) fn unit_of(view: &CurveView, name: &str) -> String {
    match name {
        "b" | "T0" => "K".to_owned(),
        "E" => "J/mol".to_owned(),
        "slope" => format!("{}/K", view.property.unit()),
        "k" if view.form == Form::Line => format!("{} per (g/g) of water", view.property.unit()),
        "k" => "ln y per (g/g) of water".to_owned(),
        _ => view.property.unit().to_owned(),
    }
}

/// What the curves have at the first temperature, and how far sources lie apart.
pub(super) fn verdict(view: &CurveView) -> String {
    let curves: Vec<_> = view.curves().collect();
    let Some(at) = view.at.first() else {
        return match curves.len() {
            0 => "No series has enough points for this law.".to_owned(),
            1 => "One curve through the points below.".to_owned(),
            count => format!("{} curves, the last through all points together.", count),
        };
    };
    let Some((_, last)) = curves.last() else {
        return "No series has enough points for this law, so nothing is said of that temperature."
            .to_owned();
    };
    let own = |curve: &crate::compose::curve::PropertyCurve| curve.band(at.kelvin(), view.water());
    let band = own(last);
    let unit = view.property.unit();
    let mut words = format!(
        "At {at}: {} {unit}; one further value between {} and {}.",
        super::value(band.y, &band),
        super::value(band.further.0, &band),
        super::value(band.further.1, &band)
    );
    let inside =
        |curve: &&crate::compose::curve::PropertyCurve| curve.beyond(at.kelvin(), view.water()).is_none();
    let single = curves.iter().take(curves.len() - 1).map(|(_, curve)| *curve).filter(inside);
    let single: Vec<f64> = single.map(|curve| own(curve).y).collect();
    let (low, high) =
        single.iter().fold((f64::INFINITY, 0.0f64), |(low, high), y| (low.min(*y), high.max(*y)));
    if 1 < single.len() {
        words.push_str(&format!(
            " The sources that reach there say {} to {} {unit}.",
            significant(low, 4),
            significant(high, 4)
        ));
    }
    match last.beyond(at.kelvin(), view.water()) {
        None => {}
        Some(Beyond { kelvin: 0.0, water }) if water.is_nan() => {
            words.push_str(" What water does to it these points don't say.");
        }
        Some(_) => words.push_str(" That lies beyond the points: it holds only if the law goes on."),
    }
    words
}

/// How far a place lies outside of the points; empty inside.
pub(super) fn beyond_words(beyond: Option<Beyond>) -> String {
    let Some(Beyond { kelvin, water }) = beyond else { return String::new() };
    let mut words = Vec::new();
    if kelvin != 0.0 {
        let side = if kelvin < 0.0 { "below" } else { "above" };
        words.push(format!("{} K {side} the points", short(kelvin.abs(), 3)));
    }
    if water.is_nan() {
        words.push("the water of the points is not stated".to_owned());
    } else if water != 0.0 {
        let side = if water < 0.0 { "less" } else { "more" };
        words.push(format!("{} wt% {side} water than the points", short(100.0 * water.abs(), 2)));
    }
    words.join("; ")
}

pub(super) fn water_of(series: &Series) -> String {
    match series.waters() {
        None => "not stated".to_owned(),
        Some((low, high)) if low == high => short(100.0 * low, 3),
        Some((low, high)) => format!("{} to {}", short(100.0 * low, 3), short(100.0 * high, 3)),
    }
}

pub(super) fn scatter(own: &FittedSeries, view: &CurveView) -> String {
    match &own.curve {
        Err(CurveRefusal::Fit(FitError::TooFew { needed, .. })) => {
            format!("too few points for {needed} parameters")
        }
        Err(error) => error.to_string(),
        Ok(curve) if !curve.identifiable => "can't tell the parameters".to_owned(),
        Ok(curve) if curve.residual_sd.is_nan() => "not known".to_owned(),
        Ok(curve) if curve.form == Form::Line => {
            format!("{} {}", significant(curve.residual_sd, 2), view.property.unit())
        }
        Ok(curve) => format!("{} %", significant(100.0 * curve.residual_sd, 2)),
    }
}

pub(super) fn remarks(own: &FittedSeries) -> String {
    let mut remarks = own.series.remarks.clone();
    match own.series.left_out {
        0 => {}
        1 => remarks.push("1 value left out".to_owned()),
        more => remarks.push(format!("{more} values left out")),
    }
    remarks.join("; ")
}

/// What speaks against the parameters, in words.
pub(super) fn doubt_words(doubt: &Doubt) -> Option<String> {
    match doubt {
        Doubt::BelowZeroKelvin => Some(
            "T0 came out below absolute zero: the points bend less than the law; Arrhenius may do".to_owned(),
        ),
        Doubt::HoldsZero(name) => Some(format!("the interval of {name} holds zero")),
        Doubt::Indistinct(_) => Some("the parameters can't be told apart".to_owned()),
        Doubt::AllAlike => Some("all values are the same: nothing judges the curve".to_owned()),
        Doubt::NothingLeft => Some("as many parameters as points: nothing judges the curve".to_owned()),
        _ => None,
    }
}

pub(super) fn warnings(view: &CurveView) -> Vec<Warning> {
    let mut warnings = Vec::new();
    for own in &view.series {
        let doubts = own.curve.iter().flat_map(|curve| &curve.doubts).filter_map(doubt_words);
        let doubts: Vec<String> = doubts.collect();
        if !doubts.is_empty() {
            let message = format!("{}: {}", own.series.name, doubts.join("; "));
            warnings.push(Warning::new("doubtful_parameters", message));
        }
        if own.series.points.is_empty() {
            let message = format!("{}: no value with its temperature", own.series.name);
            warnings.push(Warning::new("nothing_measured", message));
        }
    }
    if let Some(water) = view.water
        && !view.curves().any(|(_, curve)| curve.knows_water())
    {
        let message = format!(
            "the points do not vary in water, so nothing is known of what {} wt% of it do: the values are those of the water \
             that the points had",
            short(100.0 * MassFraction::get(water), 3)
        );
        warnings.push(Warning::new("water_not_varied", message));
    }
    let beyond = view.at.iter().filter(|at| {
        view.curves().last().is_some_and(|(_, curve)| curve.beyond(at.kelvin(), None).is_some())
    });
    for at in beyond {
        warnings.push(Warning::new("beyond_data", format!("{at} lies beyond the points: an extrapolation")));
    }
    if view.series.iter().any(|own| own.series.waters().is_none()) {
        let message = "water is not stated for every series; a few tenths of a percent change viscosity and conductivity \
                       noticeably";
        warnings.push(Warning::new("water_not_stated", message));
    }
    warnings
}
