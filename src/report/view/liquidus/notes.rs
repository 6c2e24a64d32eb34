//! What speaks against taking a predicted curve at its word.

use super::LiquidusView;
use super::words::{degrees, fraction, listed, lowest};
use crate::compose::liquidus::{Binary, InvariantKind, LiquidusPoint, ModelForm, Prediction, Shape};
use crate::input::Warning;

/// Outside of these a non-randomness is unusual (H. Renon, J. M. Prausnitz, AIChE J. 14 (1968) 135).
const USUAL_ALPHA: std::ops::RangeInclusive<f64> = 0.2..=0.47;

/// All of them, each once.
pub(super) fn warnings(view: &LiquidusView) -> Vec<Warning> {
    let mut warnings = Vec::new();
    uncertainty(view, &mut warnings);
    transitions(view, &mut warnings);
    heat(view, &mut warnings);
    glass(view, &mut warnings);
    model(view, &mut warnings);
    for prediction in &view.predictions {
        fit(prediction, &mut warnings);
        super::fit_notes::push(view, prediction, &mut warnings);
        liquids(view, prediction, &mut warnings);
        gaps(view, prediction, &mut warnings);
        hidden(prediction, &mut warnings);
        incongruent(view, prediction, &mut warnings);
    }
    for note in view.components.iter().filter_map(|own| own.note.as_ref()) {
        warnings.push(Warning::new("data_disagree", lower(note)));
    }
    let mut once: Vec<Warning> = Vec::new();
    warnings.into_iter().for_each(|own| {
        if !once.contains(&own) {
            once.push(own)
        }
    });
    once
}

/// A remark of the table as a warning: lower case, no full stop.
fn lower(note: &str) -> String {
    let mut letters = note.trim_end_matches('.').chars();
    letters.next().map(|first| first.to_lowercase().chain(letters).collect()).unwrap_or_default()
}

fn uncertainty(view: &LiquidusView, warnings: &mut Vec<Warning>) {
    let Some(case) = view.first() else { return };
    // Without a band of the fit there is none at all, which its own note says.
    if view.predictions.iter().any(|own| own.fit.as_ref().is_some_and(|fit| !fit.is_judged())) {
        return;
    }
    let unstated = |case: &crate::compose::liquidus::Case| -> Vec<String> {
        let solids = case.system.solids.iter().filter(|solid| !solid.fusion.is_uncertain());
        solids.map(|solid| solid.name.clone()).collect()
    };
    if view.question.draws == 0 {
        warnings.push(Warning::new("no_bands", "no draws were asked for, so there are no bands"));
        return;
    }
    let mut names: Vec<String> = view.predictions.iter().flat_map(|own| unstated(&own.case)).collect();
    names.sort();
    names.dedup();
    let names: Vec<&str> = names.iter().map(String::as_str).collect();
    if view.predictions.iter().all(|own| !own.case.is_uncertain()) {
        let message = format!(
            "no uncertainty is stated for the fusion data of {}, so there is no band; that is no sign of exactness",
            listed(&names)
        );
        warnings.push(Warning::new("no_bands", message));
    } else if let whose = if names.len() == 1 { "its" } else { "their" }
        && !names.is_empty()
        && !case.system.solids.is_empty()
    {
        let message = format!(
            "the bands leave out {}: no uncertainty of {whose} fusion data is stated",
            listed(&names)
        );
        warnings.push(Warning::new("bands_in_part", message));
    }
}

fn transitions(view: &LiquidusView, warnings: &mut Vec<Warning>) {
    for own in view.components.iter().filter(|own| !own.without_enthalpy.is_empty()) {
        let at: Vec<String> = own.without_enthalpy.iter().map(|at| format!("{:.2} K", at.kelvin())).collect();
        let message = format!(
            "{} has a transition between solids at {} whose enthalpy no source of the table gives: the curve leaves it \
             out, and lies too low below it; give it with --pure \"{} transition={:.2}K:…J/mol\"",
            own.name,
            at.join(" or "),
            own.id,
            own.without_enthalpy[0].kelvin()
        );
        warnings.push(Warning::new("transition_left_out", message));
    }
}

/// Components whose saturation curve goes above what they bear, with that temperature in °C. A flash point is a matter of
/// vapour and air.
pub(super) fn decomposing(view: &LiquidusView) -> Vec<(usize, f64)> {
    let melting = |at: usize| {
        let kelvins = view.predictions.iter().map(|own| own.case.system.solids[at].fusion.melting.kelvin());
        kelvins.fold(0.0, f64::max)
    };
    let lowest = |at: usize| {
        let limits = view.components[at].heat.iter().filter(|limit| !limit.what.starts_with("flash point"));
        let limits = limits.map(|limit| limit.from.kelvin());
        limits.reduce(f64::min).filter(|limit| *limit < melting(at))
    };
    (0..view.components.len()).filter_map(|at| Some((at, lowest(at)? - 273.15))).collect()
}

fn heat(view: &LiquidusView, warnings: &mut Vec<Warning>) {
    for (at, _) in decomposing(view) {
        let own = &view.components[at];
        let by_kelvin = |limit: &&super::LiquidusHeat| limit.from.kelvin();
        let limits = own.heat.iter().filter(|limit| !limit.what.starts_with("flash point"));
        let limit = limits.min_by(|one, other| by_kelvin(one).total_cmp(&by_kelvin(other)));
        let Some(limit) = limit else { continue };
        let message = format!(
            "{} does not bear its own melting point: from {}: {} ({}); the curve above is not drawn and no instruction to heat",
            own.name,
            degrees(limit.from.kelvin()),
            limit.what,
            limit.source
        );
        warnings.push(Warning::new("decomposes", message));
    }
}

fn glass(view: &LiquidusView, warnings: &mut Vec<Warning>) {
    let Some(glass) = view.glass else { return };
    let below = view.predictions.iter().filter_map(lowest).any(|own| own.temperature < glass);
    let message = if below {
        format!(
            "the eutectic by these data lies below the glass transition at {}: such a liquid sets as a glass and would not \
             crystallise in practice, so nothing is predicted or drawn there",
            degrees(glass.kelvin())
        )
    } else {
        format!("below the glass transition at {} nothing is predicted", degrees(glass.kelvin()))
    };
    warnings.push(Warning::new("glass", message));
}

fn model(view: &LiquidusView, warnings: &mut Vec<Warning>) {
    let Some(case) = view.first() else { return };
    let pairs = &case.spread.pairs;
    for pair in pairs {
        if let ModelForm::Nrtl(alpha) = pair.form
            && !USUAL_ALPHA.contains(&alpha)
        {
            let message = format!("alpha {alpha} is unusual: 0.2 to 0.47 are common");
            warnings.push(Warning::new("unusual_alpha", message));
        }
    }
    if pairs.is_empty() || view.components.len() < 3 {
        if case.system.model.is_ideal() && view.question.fitted.is_none() {
            let message = "an ideal liquid is assumed; real ones of acceptor and donor mostly melt lower";
            warnings.push(Warning::new("ideal_assumed", message));
        }
        return;
    }
    let known = |one: usize, other: usize| {
        pairs.iter().any(|pair| {
            (pair.first, pair.second) == (one, other) || (pair.second, pair.first) == (one, other)
        })
    };
    for (one, other) in [(0, 1), (0, 2), (1, 2)].into_iter().filter(|(one, other)| !known(*one, *other)) {
        let message = format!(
            "no model is given for {} and {}: this pair is taken as ideal",
            view.components[one].name, view.components[other].name
        );
        warnings.push(Warning::new("pair_taken_as_ideal", message));
    }
}

fn fit(prediction: &Prediction, warnings: &mut Vec<Warning>) {
    let Some(fit) = &prediction.fit else { return };
    if !fit.converged {
        warnings.push(Warning::new(
            "not_converged",
            "the fit did not converge: these are no parameters of anything",
        ));
    } else if !fit.identifiable {
        warnings.push(Warning::new("not_identifiable", "these points can't tell the parameters apart"));
    } else if fit.residual_sd_k.is_nan() {
        let message = "as many parameters as mixtures: the curve goes through the points, nothing is left to judge the fit, and no band \
             is given";
        warnings.push(Warning::new("nothing_left", message));
    } else if let names @ [_, ..] = &spare(fit)[..] {
        let message = format!(
            "the interval of {} holds zero: these points do not show that it is needed, a simpler model may do",
            listed(names)
        );
        warnings.push(Warning::new("holds_zero", message));
    }
}

/// Parameters that the points do not show to be there.
fn spare(fit: &crate::compose::liquidus::FittedModel) -> Vec<&'static str> {
    let names = fit.model.form.parameters().iter().zip(&fit.estimates);
    names.filter(|(_, own)| own.interval.0 <= 0.0 && 0.0 <= own.interval.1).map(|(name, _)| *name).collect()
}

/// Where the model's own liquid is not one.
fn liquids(view: &LiquidusView, prediction: &Prediction, warnings: &mut Vec<Warning>) {
    let message = match &prediction.shape {
        Shape::Binary(Binary { diagram, .. }) => diagram.splits.iter().map(|split| {
            format!(
                "by this model the liquid comes apart into two between {} and {} {}: at {} both meet the solid, which is \
                 where the first solid comes out of all of them; no curve is drawn between them",
                fraction(split.from),
                fraction(split.to),
                view.components[0].name,
                degrees(split.temperature.kelvin())
            )
        }).collect::<Vec<_>>(),
        Shape::Ternary(ternary) => {
            let known = || ternary.surface.lattice.iter().flatten();
            let count = known().filter(|point| point.splits).count();
            let share = 100.0 * count as f64 / known().count().max(1) as f64;
            let message = format!("by this model the liquid comes apart into two in {share:.0} % of the triangle, left blank");
            (0 < count).then_some(message).into_iter().collect()
        }
    };
    warnings.extend(message.into_iter().map(|message| Warning::new("two_liquids", message)));
}

/// Stated compounds that no liquid gives first.
fn hidden(prediction: &Prediction, warnings: &mut Vec<Warning>) {
    let first: Vec<usize> = match &prediction.shape {
        Shape::Binary(binary) => binary.diagram.points.iter().map(|point| point.solid).collect(),
        Shape::Ternary(ternary) => {
            ternary.surface.lattice.iter().flatten().map(|point| point.solid).collect()
        }
    };
    let solids = prediction.case.system.solids.iter().enumerate();
    for (_, solid) in solids.filter(|(at, solid)| solid.is_compound() && !first.contains(at)) {
        let message = format!(
            "the compound {} never comes out first: another solid does, at every composition",
            solid.name
        );
        warnings.push(Warning::new("compound_never_first", message));
    }
}

/// Compounds that come apart before they melt: another solid comes out first of a liquid of their own composition.
fn incongruent(view: &LiquidusView, prediction: &Prediction, warnings: &mut Vec<Warning>) {
    let Shape::Binary(binary) = &prediction.shape else { return };
    let solids = &prediction.case.system.solids;
    let peritectics =
        binary.diagram.invariants.iter().filter(|own| own.kind == InvariantKind::Peritectic && !own.splits);
    for own in peritectics {
        let comes_apart = |at: &&usize| {
            let solid = &solids[**at];
            let first = prediction.case.system.liquidus(solid.fractions()).map(|(first, _)| first);
            solid.is_compound() && first != Some(**at)
        };
        let Some(compound) = own.solids.iter().find(comes_apart) else { continue };
        let others = own.solids.iter().filter(|at| *at != compound).map(|at| solids[*at].name.as_str());
        let message = format!(
            "the compound {} melts incongruently: on heating it comes apart at {} into {} and a liquid of {} {}",
            solids[*compound].name,
            degrees(own.temperature.kelvin()),
            listed(&others.collect::<Vec<_>>()),
            fraction(own.fractions[0]),
            view.components[0].name
        );
        warnings.push(Warning::new("melts_incongruently", message));
    }
}

/// Below this in kelvin no liquid of such components is likely: what goes in is not what it seems.
const UNLIKELY: f64 = 100.0;

/// Where curves end or are missing, and where they lead too far down.
fn gaps(view: &LiquidusView, prediction: &Prediction, warnings: &mut Vec<Warning>) {
    let system = &prediction.case.system;
    let (missing, coldest) = match &prediction.shape {
        Shape::Binary(binary) => {
            ends(view, prediction, binary, warnings);
            (binary.diagram.points.len() < 101, coldest(binary.diagram.points.iter()))
        }
        Shape::Ternary(ternary) => {
            let lattice = &ternary.surface.lattice;
            if lattice.iter().flatten().any(|own| !own.untold.is_empty()) {
                warnings.push(Warning::new("branch_ends", "the surface of some solid ends where its heat-capacity term \
                    takes its enthalpy of fusion to 0; beyond, what is shown of other solids is a lower bound"));
            }
            (lattice.iter().any(Option::is_none), coldest(lattice.iter().flatten()))
        }
    };
    if missing && system.solids.iter().any(|own| own.fusion.ends_at().is_some()) {
        let message = "some compositions have no curve: with its heat-capacity term no solid has an enthalpy of fusion \
                       above 0 there";
        warnings.push(Warning::new("beyond_data", message));
    } else if missing {
        let message = "some compositions have no curve: by this model nothing comes out of them above 1 K, as of no \
                       liquid; check the size and the unit of its parameters";
        warnings.push(Warning::new("too_cold", message));
    } else if coldest < UNLIKELY {
        let message = format!(
            "by these data the liquidus falls to {}, as of no such liquid: check the size and the unit of what goes in",
            degrees(coldest)
        );
        warnings.push(Warning::new("too_cold", message));
    }
}

fn coldest<'p>(points: impl Iterator<Item = &'p LiquidusPoint>) -> f64 {
    points.map(|own| own.temperature.kelvin()).fold(f64::INFINITY, f64::min)
}

fn ends(view: &LiquidusView, prediction: &Prediction, binary: &Binary, warnings: &mut Vec<Warning>) {
    for end in &binary.diagram.ends {
        let message = format!(
            "the curve of {} ends at {}, {} {}: its heat-capacity term takes its enthalpy of fusion to 0 there, and below \
             nothing tells where it comes out; what stands for another solid beyond is a lower bound, not drawn, and no eutectic \
             can be told between them",
            prediction.case.system.solids[end.solid].name,
            degrees(end.temperature.kelvin()),
            fraction(end.fraction),
            view.components[0].name
        );
        warnings.push(Warning::new("branch_ends", message));
    }
}
