//! What the curves have at the first temperature that is asked for, liquid by liquid, in a sentence or two.

use super::measured::{is_measured, named_values};
use super::{CurveView, Liquid, value, words};
use crate::compose::curve::{Beyond, Joining, PropertyCurve};
use crate::quantity::{Temperature, significant};
use crate::report::view::short;

/// A paragraph for each liquid.
pub(super) fn verdicts(view: &CurveView) -> Vec<String> {
    let liquids = view.liquids();
    let several = 1 < liquids.len();
    let one = |liquid: &Liquid<'_>| {
        let words = format!("{}{}", verdict(view, liquid), if_one_liquid(view, liquid));
        match liquid.name {
            Some(name) if several => format!("{name}: {words}"),
            None if several => format!("The file: {words}"),
            _ => words,
        }
    };
    liquids.iter().map(one).collect()
}

/// Series of a file by a column of names are joined, and nobody said that they are one liquid.
fn if_one_liquid(view: &CurveView, liquid: &Liquid<'_>) -> String {
    let is_joined = liquid.series.iter().any(|own| own.is_together && own.told().is_some());
    match &view.by {
        Some((file, column)) if liquid.name.is_none() && is_joined => format!(
            " All together means something only if the series of {file} by {column} are one liquid: nothing here says that \
             they are."
        ),
        _ => String::new(),
    }
}

fn verdict(view: &CurveView, liquid: &Liquid<'_>) -> String {
    let Some(at) = view.at.first() else { return count(liquid) };
    let Some(curve) = liquid.head(view, *at) else {
        if is_measured(liquid, *at) {
            return format!(
                "At {at} as measured: {} {}. {} So nothing is said of their scatter, or of other temperatures.",
                named_values(liquid, *at),
                view.property.unit(),
                no_curve(liquid)
            );
        }
        return format!("{} Nothing is said of {at}.", no_curve(liquid));
    };
    match curve.at(at.kelvin(), view.water()) {
        Ok(_) => told(view, liquid, curve, *at),
        Err(silence) => {
            format!("Nothing is said of {at}: {}.", words::curve_silence(view, silence))
        }
    }
}

fn count(liquid: &Liquid<'_>) -> String {
    match liquid.curves().count() {
        0 => no_curve(liquid),
        1 => "One curve through the points below.".to_owned(),
        count => format!("{count} curves, the last that of all together."),
    }
}

/// Too few points, or points that can't tell: two things that need different work.
fn no_curve(liquid: &Liquid<'_>) -> String {
    let untold: Vec<&PropertyCurve> =
        liquid.series.iter().filter_map(|own| own.curve.as_ref().ok()).collect();
    match untold.iter().max_by_key(|curve| curve.count) {
        None => "No series has enough points for this law.".to_owned(),
        Some(curve) => {
            let doubts: Vec<String> = curve.doubts.iter().filter_map(words::doubt_words).collect();
            let why = if doubts.is_empty() { String::new() } else { format!(" ({})", doubts.join("; ")) };
            format!(
                "{} points can't tell the parameters of this law{why}: measure over a wider range, or take --form arrhenius \
                 or line.",
                curve.count
            )
        }
    }
}

fn told(view: &CurveView, liquid: &Liquid<'_>, curve: &PropertyCurve, at: Temperature) -> String {
    let band = curve.band(at.kelvin(), view.water());
    let unit = view.property.unit();
    let mut words = format!("At {at}{}: {} {unit}", water_words(view, curve), value(band.y, &band));
    let series = match curve.joining {
        Some(Joining::Levels { count, .. }) => {
            words.push_str(&format!(", the mean of {count} series on one law"));
            "value of a further series"
        }
        _ => "further value",
    };
    if band.further.0.is_finite() && band.further.1.is_finite() {
        words.push_str(&format!(
            "; one {series} between {} and {}.",
            value(band.further.0, &band),
            value(band.further.1, &band)
        ));
    } else {
        words.push_str(&format!(". {}", nothing_left(curve)));
    }
    words.push_str(&singles(view, liquid, at));
    words.push_str(two(curve));
    match curve.beyond(at.kelvin(), view.water()) {
        None => {}
        Some(Beyond { kelvin: 0.0, water }) if water.is_nan() => {
            words.push_str(" What water does to it these points don't say.");
        }
        Some(_) => words.push_str(" That lies beyond the points: it holds only if the law goes on."),
    }
    words
}

fn nothing_left(curve: &PropertyCurve) -> &'static str {
    match curve.joining {
        Some(Joining::Levels { count: 2, .. }) if curve.knows_water() => {
            "All that the two series differ by passes for an effect of water, so nothing is left to judge it by."
        }
        _ => "As many parameters as points: nothing is left to judge it by.",
    }
}

/// The water that a curve with a term for it stands at.
fn water_words(view: &CurveView, curve: &PropertyCurve) -> String {
    match (view.water(), curve.middle_water()) {
        (Some(water), Some(_)) => format!(" and {} wt% water", short(100.0 * water, 3)),
        (None, Some(middle)) => format!(
            " and {} wt% water, the middle of what the points have (--water asks for another)",
            short(100.0 * middle, 3)
        ),
        _ => String::new(),
    }
}

/// What the series that reach there say, each by itself.
fn singles(view: &CurveView, liquid: &Liquid<'_>, at: Temperature) -> String {
    let single = liquid.series.iter().filter(|own| !own.is_together).filter_map(|own| own.told());
    let inside = single.filter(|curve| curve.beyond(at.kelvin(), view.water()).is_none());
    let values: Vec<f64> = inside.map(|curve| curve.band(at.kelvin(), view.water()).y).collect();
    let (low, high) =
        values.iter().fold((f64::INFINITY, 0.0f64), |(low, high), y| (low.min(*y), high.max(*y)));
    if values.len() < 2 {
        return String::new();
    }
    let unit = view.property.unit();
    format!(" The series that reach there say {} to {} {unit}.", significant(low, 4), significant(high, 4))
}

fn two(curve: &PropertyCurve) -> &'static str {
    match curve.joining {
        Some(Joining::Levels { count: 2, sd }) if sd.is_finite() => {
            " Two series tell little of how far a third may lie, hence the width."
        }
        _ => "",
    }
}
