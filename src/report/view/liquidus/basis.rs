//! What a prediction rests on: the model, and the data of the pure solids.

use super::LiquidusView;
use super::words::{degrees, depth, fraction, with_minus};
use crate::compose::liquidus::{Fusion, PairModel, Prediction, Shape, Solid};
use crate::quantity::{significant, to_digits_of};
use crate::report::document::{Block, Fact, Table, column, text};
use crate::report::view::short;

/// The model and how it meets measured points.
pub(super) fn model(view: &LiquidusView) -> Block {
    let mut lines: Vec<(String, String)> = Vec::new();
    let several = 1 < view.predictions.len();
    for (at, prediction) in view.predictions.iter().enumerate() {
        let set = if several { format!(", set {}", at + 1) } else { String::new() };
        if at == 0 || prediction.fit.is_some() {
            let label = if prediction.fit.is_some() {
                format!("Activity model{set}")
            } else {
                "Activity model".to_owned()
            };
            lines.push((label, model_words(view, prediction)));
        }
        lines.extend(fit_words(prediction).map(|words| (format!("Fitted{set}"), words)));
        lines.extend(points_words(prediction).map(|words| (format!("Measured points{set}"), words)));
        lines.extend(depression_words(prediction).map(|words| (format!("Depression{set}"), words)));
    }
    Block::Facts(
        lines.into_iter().map(|(label, value)| Fact { label: text(label), value: text(value) }).collect(),
    )
}

fn model_words(view: &LiquidusView, prediction: &Prediction) -> String {
    let pairs = &prediction.case.spread.pairs;
    if pairs.is_empty() {
        return "ideal: every activity coefficient is 1".to_owned();
    }
    let words = |(at, pair): (usize, &PairModel)| {
        let names = format!("{} and {}", view.components[pair.first].name, view.components[pair.second].name);
        let parameters = pair.form.parameters().iter().zip(&pair.parameters).enumerate();
        let sd = |place: usize| sd_of(prediction, at, place);
        let shown = parameters.map(|(place, (name, value))| match sd(place) {
            Some(sd) => {
                let value = with_minus(to_digits_of(*value, sd, 1));
                format!("{name} = {value} ± {} J/mol", significant(sd, 2))
            }
            None => format!("{name} = {} J/mol", with_minus(short(*value, 6))),
        });
        let sure = parameters_are_sure(prediction, at);
        let between = if view.components.len() == 2 { String::new() } else { format!("{names}: ") };
        let meaning = if sure { "" } else { " (± one standard uncertainty)" };
        format!("{between}{}, {}{meaning}", pair.form.words(), shown.collect::<Vec<_>>().join(", "))
    };
    pairs.iter().enumerate().map(words).collect::<Vec<_>>().join("; ")
}

/// True if no parameter of a pair has an uncertainty.
fn parameters_are_sure(prediction: &Prediction, pair: usize) -> bool {
    let count = prediction.case.spread.pairs[pair].parameters.len();
    (0..count).all(|place| sd_of(prediction, pair, place).is_none())
}

/// The standard uncertainty of a parameter: the length of its row in the root of the covariance.
fn sd_of(prediction: &Prediction, pair: usize, place: usize) -> Option<f64> {
    let spread = &prediction.case.spread;
    let (root, count) = (spread.roots.get(pair)?, spread.pairs.get(pair)?.parameters.len());
    let row = root.get(place * count..(place + 1) * count)?;
    Some(row.iter().map(|part| part * part).sum::<f64>().sqrt()).filter(|sd| 0.0 < *sd)
}

fn fit_words(prediction: &Prediction) -> Option<String> {
    let fit = prediction.fit.as_ref()?;
    let spread = if fit.residual_sd_k.is_finite() {
        format!("residual standard deviation {} K", significant(fit.residual_sd_k, 2))
    } else {
        "nothing left to judge it by".to_owned()
    };
    let mixtures = if fit.used == 1 { "mixture" } else { "mixtures" };
    Some(format!("to {} {mixtures}, {spread}; fusion data taken as they stand", fit.used))
}

/// How far the curves lie from what was measured.
fn points_words(prediction: &Prediction) -> Option<String> {
    let Shape::Binary(binary) = &prediction.shape else { return None };
    let known = || binary.residuals.iter().filter(|own| own.model_k.is_finite());
    let count = known().count();
    if count == 0 {
        return None;
    }
    let greatest = known().max_by(|one, other| one.model_k.abs().total_cmp(&other.model_k.abs()))?;
    let squares: f64 = known().map(|own| own.model_k.powi(2)).sum();
    let scatter = super::fit_notes::scatter(binary).map_or(String::new(), |sd| {
        format!("; they themselves spread by {} K (standard deviation)", significant(sd, 2))
    });
    Some(format!(
        "{count}; the curve lies {} K from them (root mean square), at most {} K, at {}{scatter}",
        significant((squares / count as f64).sqrt(), 2),
        significant(greatest.model_k.abs(), 2),
        fraction(greatest.point.fraction)
    ))
}

/// How deep the lowest measured point lies below an ideal liquid.
fn depression_words(prediction: &Prediction) -> Option<String> {
    let Shape::Binary(binary) = &prediction.shape else { return None };
    let by_kelvin = |own: &&crate::compose::liquidus::Residual| own.point.temperature.kelvin();
    let lowest = binary
        .residuals
        .iter()
        .filter(|own| own.ideal_k.is_finite())
        .min_by(|one, other| by_kelvin(one).total_cmp(&by_kelvin(other)))?;
    let ideal = binary.ideal.eutectics().map(|own| own.temperature.kelvin()).reduce(f64::min)?;
    let (at, measured) = (lowest.point.fraction, lowest.point.temperature.kelvin());
    Some(format!(
        "the lowest measured point, {} at {}, lies {} an ideal liquid of its composition and {} the ideal eutectic ({})",
        degrees(measured),
        fraction(at),
        depth_in_words(lowest.ideal_k),
        depth_in_words(ideal - measured),
        degrees(ideal)
    ))
}

/// "1.3 K below", "0.8 K above".
fn depth_in_words(kelvins: f64) -> String {
    depth(kelvins).replacen(' ', " K ", 1)
}

/// The data of each solid, those that differ one below the other.
pub(super) fn pure(view: &LiquidusView) -> Table {
    let mut table = Table::new([
        column("Solid").key("solid"),
        column("Melts").unit("K").key("melting_k"),
        column("Enthalpy of fusion").unit("kJ/mol").key("fusion_kj_per_mol"),
        column("Further").key("further"),
        column("Source").key("source"),
    ]);
    let mut seen: Vec<&Solid> = Vec::new();
    for prediction in &view.predictions {
        for (at, solid) in prediction.case.system.solids.iter().enumerate() {
            if seen.contains(&solid) {
                continue;
            }
            seen.push(solid);
            let source = prediction.case.sources.get(at).map_or("given with --compound", String::as_str);
            table.push([
                solid.name.clone(),
                with_sd(solid.fusion.melting.kelvin(), solid.fusion.melting_u_k, 6),
                with_sd(
                    solid.fusion.enthalpy.get() / 1e3,
                    solid.fusion.enthalpy_u.map(|own| own.get() / 1e3),
                    5,
                ),
                further(&solid.fusion),
                source.to_owned(),
            ]);
        }
    }
    table
}

fn with_sd(value: f64, sd: Option<f64>, digits: usize) -> String {
    match sd {
        Some(sd) => format!("{} ± {}", short(value, digits), short(sd, 3)),
        None => short(value, digits),
    }
}

fn further(fusion: &Fusion) -> String {
    let mut parts = Vec::new();
    if fusion.heat_capacity.get() != 0.0 {
        parts.push(format!("ΔCp {} J/mol/K", short(fusion.heat_capacity.get(), 4)));
    }
    for transition in &fusion.transitions {
        parts.push(format!(
            "solid transition at {} K, {} kJ/mol",
            short(transition.at.kelvin(), 5),
            short(transition.enthalpy.get() / 1e3, 4)
        ));
    }
    parts.join("; ")
}
