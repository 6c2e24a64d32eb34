//! Temperatures, fractions and verdicts in words.

use super::LiquidusView;
use crate::compose::liquidus::{Invariant, Prediction, Shape, Spread};
use crate::quantity::Temperature;

/// What every such prediction takes for granted.
pub(super) const CONVENTIONS: &str = "Conventions: mole fractions of the components as named, water counted only where \
    it is one of them; a salt counts as one formula unit that does not dissociate; solids are pure, without solid \
    solutions; ambient pressure. The relation says where solid and liquid are in equilibrium, not whether crystals \
    form: such liquids often stay liquid, or set as a glass, far below. A prediction is no measurement.";

/// "A and B", "A, B and C".
pub(super) fn listed(names: &[&str]) -> String {
    match names {
        [before @ .., last] if !before.is_empty() => format!("{} and {last}", before.join(", ")),
        names => names.concat(),
    }
}

/// Degrees Celsius to a tenth, with a true minus sign.
pub(super) fn celsius(kelvin: f64) -> String {
    let text = format!("{:.1}", Temperature::from_kelvin(kelvin).celsius());
    let text = if text == "-0.0" { "0.0".to_owned() } else { text };
    text.replace('-', "−")
}

pub(super) fn degrees(kelvin: f64) -> String {
    format!("{}\u{a0}°C", celsius(kelvin))
}

/// "1.3 below", "0.8 above": kelvins below an ideal liquid, without a sign that would have to be thought about.
pub(super) fn depth(kelvins: f64) -> String {
    let side = if kelvins < 0.0 { "above" } else { "below" };
    format!("{} {side}", celsius(273.15 + kelvins.abs()))
}

/// A number with a true minus sign.
pub(super) fn with_minus(text: String) -> String {
    text.replace('-', "−")
}

/// A mole fraction to three decimals.
pub(super) fn fraction(value: f64) -> String {
    format!("{value:.3}")
}

/// "−3.1 to 4.0"; empty where nothing varies.
pub(super) fn celsius_range(spread: &Spread) -> String {
    if spread.high - spread.low < 1e-6 {
        return String::new();
    }
    format!("{} to {}", celsius(spread.low), celsius(spread.high))
}

pub(super) fn fraction_range(spread: &Spread) -> String {
    if spread.high - spread.low < 1e-6 {
        return String::new();
    }
    format!("{} to {}", fraction(spread.low), fraction(spread.high))
}

/// A short name for each prediction: what its differing fusion data say.
pub fn set_names(view: &LiquidusView) -> Vec<String> {
    view.predictions.iter().map(|own| label_of(view, own)).collect()
}

/// "choline chloride 597 K, 4.3 kJ/mol"; empty where there is only one set.
pub(super) fn label_of(view: &LiquidusView, prediction: &Prediction) -> String {
    let differs = |at: usize| {
        view.predictions
            .iter()
            .any(|other| other.case.system.solids[at].fusion != prediction.case.system.solids[at].fusion)
    };
    let parts = (0..view.components.len()).filter(|at| differs(*at)).map(|at| {
        let fusion = &prediction.case.system.solids[at].fusion;
        let kilo = crate::report::view::short(fusion.enthalpy.get() / 1000.0, 3);
        format!("{} {:.0} K, {kilo} kJ/mol", view.components[at].name, fusion.melting.kelvin())
    });
    parts.collect::<Vec<_>>().join("; ")
}

/// The lowest eutectic that a liquid reaches.
pub(super) fn lowest(prediction: &Prediction) -> Option<&Invariant> {
    let by_kelvin = |one: &&Invariant, other: &&Invariant| {
        one.temperature.kelvin().total_cmp(&other.temperature.kelvin())
    };
    match &prediction.shape {
        Shape::Binary(binary) => binary.diagram.eutectics().min_by(by_kelvin),
        Shape::Ternary(ternary) => ternary.surface.eutectics.iter().find(|own| !own.splits),
    }
}

/// The lowest eutectic of an ideal liquid.
pub(super) fn ideal_lowest(prediction: &Prediction) -> Option<f64> {
    let kelvins: Vec<f64> = match &prediction.shape {
        Shape::Binary(binary) => binary.ideal.eutectics().map(|own| own.temperature.kelvin()).collect(),
        Shape::Ternary(ternary) => ternary.ideal.iter().map(|own| own.temperature.kelvin()).collect(),
    };
    kelvins.into_iter().reduce(f64::min)
}

/// The message of the whole, qualified where it lies below a glass transition.
pub(super) fn verdict(view: &LiquidusView) -> String {
    if view.predictions.iter().any(|own| own.fit.as_ref().is_some_and(|fit| !fit.identifiable)) {
        return format!("{} The fit behind it means nothing: see the notes.", by_the_data(view));
    }
    let below = |own: &Invariant| view.is_glass(own.temperature);
    let is_glass = view.predictions.iter().filter_map(lowest).any(below);
    match view.glass.filter(|_| is_glass) {
        Some(glass) => format!(
            "{} That lies below the glass transition at {}: it would not crystallise in practice and is not predicted.",
            by_the_data(view),
            degrees(glass.kelvin())
        ),
        None => by_the_data(view),
    }
}

/// What to say of a temperature asked for that lies below the glass transition.
pub(super) fn glass_line(view: &LiquidusView) -> Option<String> {
    let (at, glass) = (view.question.liquid_at?, view.glass?);
    view.is_glass(at).then(|| {
        format!(
            "{} lies below the glass transition at {}: it would not crystallise in practice, but it is a glass and no \
             liquid; no window is predicted there, whatever the curves say.",
            degrees(at.kelvin()),
            degrees(glass.kelvin())
        )
    })
}

fn by_the_data(view: &LiquidusView) -> String {
    let found: Vec<f64> =
        view.predictions.iter().filter_map(|own| Some(lowest(own)?.temperature.kelvin())).collect();
    let (low, high) = found.iter().fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), kelvin| {
        (low.min(*kelvin), high.max(*kelvin))
    });
    match (found.len(), view.predictions.len()) {
        (0, _) if view.predictions.iter().any(ended) => {
            "No eutectic is predicted: a curve ends before it meets another, where its heat-capacity term ends to mean \
             anything."
                .to_owned()
        }
        (0, _) => "No eutectic is predicted.".to_owned(),
        (_, 1) => {
            let at = view.predictions.first().and_then(lowest).map(|own| composition(view, &own.fractions));
            format!("Eutectic predicted at {}: {}.", degrees(low), at.unwrap_or_default())
        }
        _ => format!(
            "The published fusion data disagree: by one set the eutectic lies at {}, by another at {}. The {} K between \
             them are the message; only a measurement decides.",
            degrees(low),
            degrees(high),
            (high - low).round()
        ),
    }
}

/// True if the curve of some solid ends in the liquidus.
fn ended(prediction: &Prediction) -> bool {
    matches!(&prediction.shape, Shape::Binary(binary) if !binary.diagram.ends.is_empty())
}

/// "0.443 naphthalene, 0.557 biphenyl".
pub(super) fn composition(view: &LiquidusView, fractions: &[f64]) -> String {
    let parts = view
        .components
        .iter()
        .zip(fractions)
        .map(|(own, share)| format!("{} {}", fraction(*share), own.name));
    parts.collect::<Vec<_>>().join(", ")
}
