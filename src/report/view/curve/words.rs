//! Laws and remarks in words.

use super::{CurveView, FittedSeries};
use crate::compose::curve::{Beyond, CurveRefusal, Joining, PropertyCurve, Series, Silence};
use crate::quantity::{Property, Temperature, significant};
use crate::report::view::short;
use crate::statistics::curve_fit::{Doubt, Estimate, FitError, Form};

pub(super) fn capital(text: &str) -> String {
    let mut letters = text.chars();
    letters.next().map(|first| first.to_uppercase().chain(letters).collect()).unwrap_or_default()
}

/// The law as it is printed. Viscosity falls with temperature, so its E is printed with the other sign and comes out above 0.
pub fn curve_law(view: &CurveView) -> &'static str {
    match (view.form, view.property) {
        (Form::Vft, _) => "a exp(b/(T − T0)), by least squares on ln y",
        (Form::Arrhenius, Property::Viscosity) => "a exp(E/(R T)), by least squares on ln y",
        (Form::Arrhenius, _) => "a exp(−E/(R T)), by least squares on ln y",
        _ => "intercept + slope T",
    }
}

/// The parameters as [`curve_law`] names them.
pub fn curve_parameters(view: &CurveView, curve: &PropertyCurve) -> Vec<(&'static str, Estimate)> {
    let turned = view.form == Form::Arrhenius && view.property == Property::Viscosity;
    let own = curve.parameters.iter().map(|(name, own)| {
        let turned = turned && *name == "E";
        let interval = if turned { (-own.interval.1, -own.interval.0) } else { own.interval };
        (*name, Estimate { value: if turned { -own.value } else { own.value }, interval, ..*own })
    });
    own.collect()
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

/// Why nothing is said, in words.
pub fn curve_silence(view: &CurveView, silence: Silence) -> String {
    match silence {
        Silence::TooCold { lowest } => {
            // Upwards, so that what is printed can be asked for.
            let lowest = Temperature::from_kelvin(lowest).celsius().ceil();
            let near =
                if view.form == Form::Vft { "too near T0 or below it" } else { "too far below the points" };
            format!("{near}: this law speaks from {lowest} °C up")
        }
        Silence::TooFar => "too far beyond the points for this law".to_owned(),
        Silence::NotPositive => {
            let property = view.property.id();
            format!(
                "outside what this law can describe: it falls to 0 or below there, and a {property} does not"
            )
        }
    }
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

/// The water of a series; what its source says in words where it has no number.
pub(super) fn water_of(series: &Series) -> String {
    match (series.waters(), said_of_water(series)) {
        (None, Some(said)) => said.to_owned(),
        (None, None) => "not stated".to_owned(),
        (Some((low, high)), _) if low == high => short(100.0 * low, 3),
        (Some((low, high)), _) => format!("{} to {}", short(100.0 * low, 3), short(100.0 * high, 3)),
    }
}

/// "below 0.01" of a remark "water below 0.01 wt%".
pub(super) fn said_of_water(series: &Series) -> Option<&str> {
    series.remarks.iter().find_map(|remark| remark.strip_prefix("water ")?.strip_suffix(" wt%"))
}

pub(super) fn scatter(own: &FittedSeries, view: &CurveView) -> String {
    let size = |sd: f64| match view.form {
        Form::Line => format!("{} {}", significant(sd, 2), view.property.unit()),
        _ => format!("{} %", significant(100.0 * sd, 2)),
    };
    let curve = match &own.curve {
        Err(CurveRefusal::Fit(FitError::TooFew { needed, .. })) => {
            return format!("too few points for {needed} parameters");
        }
        Err(error) => return error.to_string(),
        Ok(curve) if !curve.identifiable => return "can't tell the parameters".to_owned(),
        Ok(curve) => curve,
    };
    let within = if curve.residual_sd.is_nan() {
        "nothing is left to tell it".to_owned()
    } else {
        size(curve.residual_sd)
    };
    match curve.joining {
        Some(Joining::Levels { sd, .. }) if sd.is_finite() => {
            format!("{within} within the series, {} between them", size(sd))
        }
        _ => within,
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
