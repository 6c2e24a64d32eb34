//! What speaks against measured points, or against a fit to them: other units, other components, another model.

use super::LiquidusView;
use super::words::degrees;
use crate::compose::liquidus::{Binary, Prediction, Residual, Shape};
use crate::input::Warning;
use crate::quantity::significant;
use crate::statistics::moments::Moments;

/// Kelvins between a measured pure component and its fusion data that are taken as a contradiction.
const CONTRADICTS: f64 = 5.0;
/// Kelvins by which no liquidus lies above both melting points, but for compounds and bad thermometers.
const ABOVE: f64 = 20.0;
/// Points that all lie below this in kelvin are rather degrees Celsius.
const COLD: f64 = 200.0;
/// A fit that leaves more than this share of the spread of the points tells little of them.
const LITTLE: f64 = 0.3;
/// Deviations in kelvin that are never worth a word.
const SMALL: f64 = 1.0;
/// With the components swapped so many times nearer, the points are rather those of the other component.
const NEARER: f64 = 2.0;

/// All of them.
pub(super) fn push(view: &LiquidusView, prediction: &Prediction, warnings: &mut Vec<Warning>) {
    let Shape::Binary(binary) = &prediction.shape else { return };
    if binary.residuals.is_empty() {
        return;
    }
    units(prediction, binary, warnings);
    pure_ends(view, prediction, binary, warnings);
    swapped(view, prediction, binary, warnings);
    misses(prediction, binary, warnings);
}

/// Standard deviation of the measured temperatures in kelvin; `None` for fewer than two points.
pub(super) fn scatter(binary: &Binary) -> Option<f64> {
    let kelvins: Vec<f64> = binary.residuals.iter().map(|own| own.point.temperature.kelvin()).collect();
    (1 < kelvins.len()).then(|| Moments::of(&kelvins).sd())
}

/// Root mean square of curve less point in kelvin; `None` where there is no curve.
fn deviation(binary: &Binary) -> Option<f64> {
    let squares: Vec<f64> =
        binary.residuals.iter().map(|own| own.model_k.powi(2)).filter(|own| own.is_finite()).collect();
    (!squares.is_empty()).then(|| (squares.iter().sum::<f64>() / squares.len() as f64).sqrt())
}

fn units(prediction: &Prediction, binary: &Binary, warnings: &mut Vec<Warning>) {
    let kelvins = || binary.residuals.iter().map(|own| own.point.temperature.kelvin());
    let highest = kelvins().fold(0.0, f64::max);
    let melting = prediction.case.system.solids.iter().map(|solid| solid.fusion.melting.kelvin());
    let melting = melting.fold(0.0, f64::max);
    if highest < COLD {
        let message = format!(
            "all measured points lie below {COLD} K, the highest at {highest:.1} K: are these degrees Celsius under a head \
             that says K?"
        );
        warnings.push(Warning::new("unit_doubtful", message));
    } else if melting + ABOVE < highest {
        let message = format!(
            "the highest measured point, {}, lies {:.0} K above every melting point: are these kelvins under a head that \
             says °C, or another column?",
            degrees(highest),
            highest - melting
        );
        warnings.push(Warning::new("unit_doubtful", message));
    }
}

fn pure_ends(view: &LiquidusView, prediction: &Prediction, binary: &Binary, warnings: &mut Vec<Warning>) {
    for (at, share) in [(0, 1.0), (1, 0.0)] {
        let melting = prediction.case.system.solids[at].fusion.melting.kelvin();
        let apart = |own: &&Residual| (own.point.temperature.kelvin() - melting).abs();
        let here = binary.residuals.iter().filter(|own| own.point.fraction == share);
        let Some(worst) = here.max_by(|one, other| apart(one).total_cmp(&apart(other))) else { continue };
        if apart(&worst) <= CONTRADICTS {
            continue;
        }
        let message = format!(
            "the points have pure {} melt at {}, its fusion data at {}: more than {CONTRADICTS} K apart; check units, \
             fusion data, and of which component the fractions are",
            view.components[at].name,
            degrees(worst.point.temperature.kelvin()),
            degrees(melting)
        );
        warnings.push(Warning::new("points_contradict_fusion_data", message));
    }
}

fn swapped(view: &LiquidusView, prediction: &Prediction, binary: &Binary, warnings: &mut Vec<Warning>) {
    let (Some(fit), Some(swapped)) = (&prediction.fit, prediction.swapped_rss) else { return };
    let times = (fit.rss / swapped).sqrt();
    if times.is_nan() || times < NEARER || deviation(binary).is_none_or(|own| own < SMALL) {
        return;
    }
    let times = if times < 100.0 { format!("{} times", significant(times, 2)) } else { "far".to_owned() };
    let message = format!(
        "with the components swapped the same model comes {times} nearer to the points: are the fractions those of {}?",
        view.components[1].name
    );
    warnings.push(Warning::new("components_swapped", message));
}

fn misses(prediction: &Prediction, binary: &Binary, warnings: &mut Vec<Warning>) {
    let (Some(_), Some(deviation), Some(scatter)) = (&prediction.fit, deviation(binary), scatter(binary))
    else {
        return;
    };
    if deviation < SMALL || deviation < LITTLE * scatter {
        return;
    }
    let message = format!(
        "the fitted curve lies {} K from the points (root mean square), which themselves spread by {} K (standard \
         deviation): it tells little of them",
        significant(deviation, 2),
        significant(scatter, 2)
    );
    warnings.push(Warning::new("fit_misses_points", message));
}
