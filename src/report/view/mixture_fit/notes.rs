//! What to think of a fit, and what its numbers count.

use super::{MixtureFitView, WholePlots, batches, digits, probability, signed};
use crate::compose::mixture::{Bound, Crossing, Goal, Optimum, Process, Study};
use crate::quantity::significant;
use crate::report::view::short;

/// A lack of fit that is rarer than this by chance is remarked on.
const SELDOM: f64 = 0.05;
/// A result whose leverage is above this rests on itself.
const ALONE: f64 = 0.9;
/// Columns that are told apart this badly make coefficients that mean little each by itself.
const ENTANGLED: f64 = 100.0;
/// A share that misses 1 by less is 1, calculated in floating point.
const EXACT: f64 = 1e-12;
/// A fraction this near to a bound is on it.
const NEAR: f64 = 1e-6;

/// The first sentence.
pub(super) fn verdict(view: &MixtureFitView<'_>) -> String {
    let study = match &view.study {
        Ok(study) => study,
        Err(places) => {
            return untold(view, places);
        }
    };
    let variance = &study.regression.variance;
    if variance.is_constant() {
        return constant(view);
    }
    if variance.df_error() == 0 {
        return "As many coefficients as results: the model goes through every one of them, and there is no error to \
                judge it by."
            .to_owned();
    }
    let sd = variance.residual_sd();
    let unit = view.unit.map_or(String::new(), |unit| format!(" {unit}"));
    let r = variance.predicted_r_squared();
    let foretells = match r {
        r if r.is_nan() => "what it foretells of results that it has not seen can't be told".to_owned(),
        r if r <= 0.0 => "of results that it has not seen the mean would foretell more".to_owned(),
        r => format!("of results that it has not seen it foretells {} % of the variation", foretold(r)),
    };
    format!(
        "The model leaves a standard deviation of {}{unit} and explains {} % of the variation about the mean; {foretells}.",
        significant(sd, 3),
        explained(variance.r_squared()),
    )
}

/// Percent to a whole number, and to a tenth where that would say 100 of less.
fn foretold(share: f64) -> String {
    let whole = format!("{:.0}", 100.0 * share);
    if whole == "100" { explained(share) } else { whole }
}

/// Percent to a tenth; what is less than 100 is not called so, but for rounding of the arithmetic.
fn explained(share: f64) -> String {
    let tenths = format!("{:.1}", 100.0 * share);
    let is_less = tenths == "100.0" && EXACT < 1.0 - share;
    if is_less { "more than 99.9".to_owned() } else { tenths }
}

/// Too few different settings, or settings that leave a term alone.
fn untold(view: &MixtureFitView<'_>, places: &[usize]) -> String {
    let (distinct, n) = (view.distinct, view.observed.len());
    let terms = view.model.terms.len() + view.model.blocks().len().saturating_sub(1);
    let names = view.terms(places).join(", ");
    if terms <= distinct {
        return format!("Not estimable with these runs: {names}.");
    }
    let repeats = if distinct < n {
        format!(" ({n} results; what differs by no more than {} counts as one, see --alike)", view.alike)
    } else {
        String::new()
    };
    let settings = if distinct == 1 { "one setting" } else { "different settings" };
    let count = if distinct == 1 { String::new() } else { format!("{distinct} ") };
    format!(
        "Not estimable with these runs: {names}. {count}{settings}{repeats} can't tell {terms} coefficients: test others, or \
         take a smaller --model."
    )
}

fn constant(view: &MixtureFitView<'_>) -> String {
    let unit = view.unit.map_or(String::new(), |unit| format!(" {unit}"));
    let value = view.observed.first().map_or(f64::NAN, |own| own.response);
    format!(
        "All {} results are the same, {}{unit}: there is no variation to explain, and neither an error nor a best to be told.",
        view.observed.len(),
        significant(value, 4)
    )
}

/// What speaks against it.
pub(super) fn doubts(view: &MixtureFitView<'_>, study: &Study) -> Vec<String> {
    let mut doubts = Vec::new();
    if study.regression.variance.is_constant() {
        return doubts;
    }
    doubts.extend(shared(view));
    doubts.extend(negative(view, study));
    doubts.extend(lack(study));
    doubts.extend(alone(view, study));
    doubts.extend(entangled(study));
    doubts.extend(beyond(view));
    doubts
}

/// Results of one batch share what batches differ by, which the error of single results does not hold.
fn shared(view: &MixtureFitView<'_>) -> Option<String> {
    let WholePlots { column, plots } = view.plots.as_ref()?;
    let terms = view.terms(&plots.between).join(", ");
    let count = view.observed.len();
    Some(match column {
        Some(column) => format!(
            "{count} results come from {} whole plots ({column}), and {} of these hold several settings: standard errors, \
             intervals and p of {terms}, which differ between plots alone, are taken from all results and are too small, since \
             what plots differ by shows only from plot to plot. Judge these terms by the mean of each plot, or repeat whole \
             plots.",
            plots.count, plots.split
        ),
        None => format!(
            "{} of {} compositions stand at several settings. If those of one composition were poured from one batch (a whole \
             plot), the standard errors, intervals and p of {terms} are too small, since they leave out what batches differ \
             by: name the column of batches with --plot, and make batches anew to tell it.",
            plots.split, plots.count
        ),
    })
}

/// What can't be below 0 is foretold so: the model goes beyond what it can describe.
fn negative(view: &MixtureFitView<'_>, study: &Study) -> Option<String> {
    let is_positive = ["density", "viscosity", "conductivity"].contains(&view.response);
    let traced = view.traces.iter().flatten().map(|point| point.value);
    let best = view.optima.iter().map(|own| own.value);
    let least =
        traced.chain(best).chain(study.regression.fitted.iter().copied()).fold(f64::INFINITY, f64::min);
    (is_positive && least < 0.0).then(|| {
        format!(
            "The model falls to {} in the region, and a {} is not below 0: there it is outside what this form can describe.",
            signed(significant(least, 3)),
            view.response
        )
    })
}

fn lack(study: &Study) -> Option<String> {
    let lack = &study.lack_of_fit;
    if lack.df_pure == 0 && 0 < study.regression.variance.df_error() {
        return Some(
            "No setting was repeated, so lack of fit can't be told from error: repeat some runs.".to_owned(),
        );
    }
    let test = lack.test.filter(|test| test.p < SELDOM)?;
    Some(format!(
        "Lack of fit: the model misses more than repeats differ by (F {}, p {}): a further term may be needed, or results \
         under one setting are too much alike to be real repeats.",
        significant(test.f, 3),
        probability(test.p)
    ))
}

fn alone(view: &MixtureFitView<'_>, study: &Study) -> Option<String> {
    if study.regression.variance.df_error() == 0 {
        return None;
    }
    let lone: Vec<&str> = view
        .labels
        .iter()
        .zip(&study.regression.leverage)
        .filter(|(_, leverage)| ALONE < **leverage)
        .map(|(label, _)| label.as_str())
        .collect();
    (!lone.is_empty()).then(|| {
        format!("The model goes through {} nearly whatever was found there: repeat it.", lone.join(", "))
    })
}

fn entangled(study: &Study) -> Option<String> {
    let condition = study.regression.condition;
    (ENTANGLED < condition).then(|| {
        format!(
            "The fractions span little, so terms look alike (condition number {}): trust what the model says within the \
             region, not single coefficients.",
            significant(condition, 2)
        )
    })
}

/// Bounds that go beyond what was tested.
fn beyond(view: &MixtureFitView<'_>) -> Option<String> {
    let spanned = |at: usize| {
        let values = view.observed.iter().map(|own| own.fractions[at]);
        Bound { low: values.clone().fold(1.0, f64::min), high: values.fold(0.0, f64::max) }
    };
    let out = |at: &usize| {
        let (spanned, reach) = (spanned(*at), view.region.reach(*at));
        reach.low < spanned.low - NEAR || spanned.high + NEAR < reach.high
    };
    let names: Vec<&str> = (0..view.names.len()).filter(out).map(|at| view.names[at]).collect();
    (view.region_is_stated && !names.is_empty()).then(|| {
        format!("The bounds go beyond the results in {}: there the model is a guess.", names.join(", "))
    })
}

/// What the numbers count, a sentence each.
pub fn mixture_fit_notes(view: &MixtureFitView<'_>) -> Vec<String> {
    let mut notes = vec![
        format!("{}, adding up to 1; {} results", view.counts, view.observed.len()),
        model(view),
        "Scheffé's models have no intercept, since the fractions add up to 1; they hold a constant all the same, so R² and \
         sums of squares are about the mean, and R² about zero is given beside them"
            .to_owned(),
        format!(
            "results whose fractions differ by at most {} are repeats and count at their mean composition; pure error is what \
             these differ by; {}",
            view.alike,
            distinct(view)
        ),
    ];
    notes.extend(batches::notes(view));
    if let Ok(study) = &view.study {
        notes.push(region(view, study));
        notes.extend(edge(view));
        notes.extend(ends(view));
    }
    notes.extend(blocks(view));
    notes.push(format!("the search for further runs draws from the seed {}", view.seed));
    notes
}

/// How many results are left when repeats count as one.
fn distinct(view: &MixtureFitView<'_>) -> String {
    let what = match (view.variables().is_empty(), view.model.blocks().len() < 2) {
        (true, true) => "composition",
        (false, true) => "composition and setting",
        (true, false) => "composition and block",
        (false, false) => "composition, setting and block",
    };
    let (distinct, all) = (view.distinct, view.observed.len());
    if distinct == all {
        return format!("none of the {all} results has the {what} of another");
    }
    let plural = if distinct == 1 { "" } else { "s" };
    let each = match what {
        "composition" => format!("{distinct} different composition{plural}"),
        what => format!("{distinct} time{plural} a {what} of its own"),
    };
    format!("{all} results at {each}")
}

fn model(view: &MixtureFitView<'_>) -> String {
    let stated = if view.model_is_stated { "" } else { " (default)" };
    let crossed = match (view.variables().is_empty(), view.crossing) {
        (true, _) => String::new(),
        (false, crossing) => {
            let ranges: Vec<String> = view
                .variables()
                .iter()
                .map(|own| {
                    let (low, high) = own.range();
                    format!(
                        "{} from −1 at {} to 1 at {}",
                        own.name,
                        significant(low, 4),
                        significant(high, 4)
                    )
                })
                .collect();
            let how = match crossing {
                Crossing::Every => "crossed with every term",
                Crossing::Linear => "crossed with the linear terms",
                Crossing::Common => "acting alike at all compositions",
            };
            format!("; process variables coded, {}, {how}", ranges.join(", "))
        }
    };
    format!(
        "Scheffé's {} model{stated}, {} coefficients{crossed}",
        view.model.order.name(),
        view.model.terms.len()
    )
}

/// What the blocks shift.
fn blocks(view: &MixtureFitView<'_>) -> Option<String> {
    let shifts = view.study.as_ref().ok().map(Study::shifts).filter(|shifts| !shifts.is_empty())?;
    let shift = |(name, shift): (&String, &f64)| format!("{name} {}", signed(significant(*shift, 3)));
    let shifts: Vec<String> = view.model.blocks().iter().zip(&shifts).map(shift).collect();
    Some(format!(
        "blocks shift all results against their mean by {}; the model counts them, and what it says is for their mean",
        shifts.join(", ")
    ))
}

fn region(view: &MixtureFitView<'_>, study: &Study) -> String {
    let what = if view.region_is_stated {
        "the bounds that were given"
    } else {
        "what the results span, component by component"
    };
    let confidence = digits(100.0 * study.regression.confidence, 5.0);
    format!(
        "the best is looked for within {what}; intervals hold one at a time at {confidence} %, if the model is right"
    )
}

fn edge(view: &MixtureFitView<'_>) -> Option<String> {
    let is_bound = |x: f64, bound: Bound| {
        let free = NEAR < bound.high - bound.low;
        let inner_low = bound.low + NEAR < x || bound.low <= 0.0;
        let inner_high = x < bound.high - NEAR || 1.0 <= bound.high;
        free && !(inner_low && inner_high)
    };
    let edges: Vec<&str> = extremes(view)
        .filter(|own| own.fractions.iter().enumerate().any(|(at, x)| is_bound(*x, view.region.reach(at))))
        .map(extreme)
        .collect();
    (!edges.is_empty()).then(|| {
        format!(
            "the {} lies on a bound of the region: beyond it may be better, and nothing was tested there",
            edges.join(" and the ")
        )
    })
}

/// A best at the end of what a process variable was set to.
fn ends(view: &MixtureFitView<'_>) -> Vec<String> {
    let end = |variable: &Process, value: f64| {
        let ((low, high), unit) = (variable.range(), variable.unit.as_deref());
        let near = NEAR * (high - low);
        let side = match (value <= low + near, high - near <= value) {
            (true, _) => "least",
            (_, true) => "most",
            _ => return None,
        };
        let unit = unit.map_or(String::new(), |unit| format!(" {unit}"));
        Some(format!("{} {}{unit}, the {side} that was tested", variable.name, short(value, 4)))
    };
    let note = |own: &Optimum| {
        let set = view.variables().iter().zip(&own.setting);
        let ends: Vec<String> = set.filter_map(|(variable, value)| end(variable, *value)).collect();
        (!ends.is_empty()).then(|| {
            format!(
                "the {} lies on a bound, at {}: beyond it may be better, and nothing was tested there",
                extreme(own),
                ends.join(" and ")
            )
        })
    };
    extremes(view).filter_map(note).collect()
}

/// The best that are as much or as little as can be: a value to come near to has no beyond.
fn extremes<'v>(view: &'v MixtureFitView<'_>) -> impl Iterator<Item = &'v Optimum> {
    view.optima.iter().filter(|own| !matches!(own.goal, Goal::Target(_)))
}

fn extreme(own: &Optimum) -> &'static str {
    if own.goal == Goal::Maximum { "maximum" } else { "minimum" }
}
