//! What the runs of a design count, and what they can tell, a sentence each.

use super::{DesignView, basis_words};
use crate::compose::mixture::{Crossing, Order};
use crate::report::view::short;

/// The sentences.
pub fn mixture_design_notes(view: &DesignView<'_>) -> Vec<String> {
    let mut notes = vec![format!("fractions are {} of the named components alone", basis_words(view.basis))];
    notes.extend(limits(view));
    notes.push(model(view));
    notes.push(order(view));
    notes.extend(blocks(view));
    notes.extend(plots(view));
    notes.extend(error(view));
    notes.extend(estimable(view));
    notes.extend(choice(view));
    notes.push(
        "a composition of a design is there to be tested: nothing here says that it is liquid, stable or fit to be \
         handled; ask for its cautions first"
            .to_owned(),
    );
    notes
}

fn limits(view: &DesignView<'_>) -> Vec<String> {
    let mut notes = Vec::new();
    let bounded: Vec<String> = view
        .names
        .iter()
        .zip(view.region.bounds())
        .filter(|(_, bound)| 0.0 < bound.low || bound.high < 1.0)
        .map(|(name, bound)| format!("{name} {} to {}", bound.low, bound.high))
        .collect();
    if !bounded.is_empty() {
        notes.push(format!("bounds: {}", bounded.join(", ")));
    }
    if !view.rules.is_empty() {
        notes.push(format!("rules: {}", view.rules.join("; ")));
    }
    notes
}

fn model(view: &DesignView<'_>) -> String {
    let order = match view.model.order {
        Order::Linear => "linear",
        Order::Quadratic => "quadratic",
        Order::SpecialCubic => "special cubic",
        Order::FullCubic => "full cubic",
    };
    let stated = if view.model_is_stated { "" } else { " (default)" };
    let crossed = match (view.variables().is_empty(), view.crossing) {
        (true, _) => "",
        (false, Crossing::Every) => ", each term crossed with each process variable",
        (false, Crossing::Linear) => ", its linear terms crossed with each process variable",
        (false, Crossing::Common) => ", process variables acting alike at all compositions",
    };
    format!("model to be told: Scheffé's {order}{stated}{crossed}, {} coefficients", view.model.terms.len())
}

fn order(view: &DesignView<'_>) -> String {
    format!(
        "the order is random, drawn from the seed {}: the same seed draws it again",
        view.arrangement.seed
    )
}

fn blocks(view: &DesignView<'_>) -> Option<String> {
    let balance = view.balance.as_ref()?;
    if balance.off.is_empty() {
        return Some(
            "blocks are orthogonal to the model: what differs between them shifts no coefficient".to_owned(),
        );
    }
    let terms = view.terms(&balance.off).join(", ");
    Some(format!(
        "blocks are not orthogonal to the model: the means of {terms} differ between blocks, so give them to mixture fit \
         with --block; whole replicates in each block, as with --replicates {}, would be orthogonal",
        view.arrangement.blocks
    ))
}

fn plots(view: &DesignView<'_>) -> Option<String> {
    let hard: Vec<&str> =
        view.variables().iter().filter(|own| own.is_hard).map(|own| own.name.as_str()).collect();
    let plots = view.runs.iter().filter_map(|run| run.plot).max()?;
    let repeated = match view.arrangement.replicates {
        1 => {
            "; each setting has one plot, so an effect of it can't be told from what differs between plots: repeat them with --replicates"
        }
        _ => "",
    };
    Some(format!(
        "{plots} whole plots, in which {} is set once: its effect is judged by what plots differ by, not runs{repeated}",
        hard.join(" and ")
    ))
}

fn error(view: &DesignView<'_>) -> Option<String> {
    let quality = &view.quality;
    Some(match quality.df_error {
        ..0 => format!("{} runs too few for this model", -quality.df_error),
        0 => "as many runs as coefficients: the fit will go through every result, and nothing is left to judge it by"
            .to_owned(),
        df => format!(
            "{df} degrees of freedom are left for error, {} of them from repeats{}",
            quality.df_pure,
            if quality.df_pure == 0 { ": lack of fit can't be tested without any" } else { "" }
        ),
    })
}

fn estimable(view: &DesignView<'_>) -> Option<String> {
    let unseen = &view.quality.not_estimable;
    (!unseen.is_empty()).then(|| format!("not estimable with these runs: {}", view.terms(unseen).join(", ")))
}

fn choice(view: &DesignView<'_>) -> Option<String> {
    let own = view.chosen.as_ref()?;
    Some(format!(
        "D-optimal among {} candidates by exchange: best of {} random starts, {} of which came to it; G-efficiency {} % \
         (100 % is the best that any number of runs on these candidates could reach); a search finds good designs and \
         proves none the best",
        own.candidates,
        own.starts,
        own.chosen.starts_alike,
        short(own.chosen.g_efficiency, 3)
    ))
}
