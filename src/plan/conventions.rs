//! What the numbers of a plan count, in words. No default is silent.

use super::balance::Weighing;
use super::flag::Flag;
use super::plan_type::{Line, Plan};
use crate::component::{AdditionAmount, RatioBasis};
use crate::quantity::{FractionInterval, significant};

/// One convention.
#[derive(Debug, Clone, PartialEq, serde::Serialize)]
pub struct Convention {
    /// A stable name.
    pub code: &'static str,
    /// What is counted and how.
    pub text: String,
}

fn convention(code: &'static str, text: impl Into<String>) -> Convention {
    Convention { code, text: text.into() }
}

/// Every convention that the plan uses, in the order of the calculation.
pub fn conventions(plan: &Plan) -> Vec<Convention> {
    let mut all = vec![ratio(plan), size(plan)];
    all.extend(unspecified(plan));
    all.extend(plan.lines.iter().filter_map(quality));
    all.push(water(plan));
    all.extend(additions(plan));
    all.extend(density(plan));
    all.push(tolerance(plan));
    all.push(weighing(plan));
    all.extend(volumes(plan));
    all.push(buoyancy(plan));
    all.extend(stock(plan));
    all.push(convention(
        "atomic_weights",
        "molar masses from the abridged standard atomic weights, CIAAW 2021 with the 2024 revisions",
    ));
    all
}

fn ratio(plan: &Plan) -> Convention {
    match plan.request.recipe.proportions.basis {
        RatioBasis::Mole => convention("ratio_basis", "the ratio counts moles of the pure components"),
        RatioBasis::Mass => {
            convention("ratio_basis", "the ratio counts grams of the pure components as named")
        }
    }
}

fn size(plan: &Plan) -> Convention {
    convention("batch_size", format!("batch size: {}", plan.request.size.text()))
}

fn unspecified(plan: &Plan) -> Option<Convention> {
    let plain = |line: &&Line| {
        let quality = &line.supply.quality;
        quality.assay.is_none() && quality.moisture.is_none() && quality.form.is_none()
    };
    let names: Vec<&str> = plan.lines.iter().filter(plain).map(|line| line.component.name.as_str()).collect();
    (!names.is_empty()).then(|| {
        convention(
            "taken_as_pure",
            format!("taken as pure and dry, since no bottle is stated: {}", names.join(", ")),
        )
    })
}

fn quality(line: &Line) -> Option<Convention> {
    let quality = &line.supply.quality;
    if quality.assay.is_none() && quality.moisture.is_none() && quality.form.is_none() {
        return None;
    }
    let mut parts = Vec::new();
    if let Some(form) = &quality.form {
        parts.push(format!("weighed as {} ({} H2O per mole)", form.name, form.crystal_water));
    }
    if let Some(assay) = &quality.assay {
        let origin = if quality.basis_stated { "" } else { " (default)" };
        parts.push(format!("assay {}, basis {}{origin}{}", assay.text, quality.basis.word(), spread(assay)));
    } else {
        parts.push("assay not stated, taken as pure but for water".to_owned());
    }
    match &quality.moisture {
        Some(moisture) => parts.push(format!("moisture {}{}", moisture.text, spread(moisture))),
        None => parts.push("moisture not stated, taken as none".to_owned()),
    }
    Some(convention("bottle", format!("{}: {}", line.component.name, parts.join("; "))))
}

/// What is known of a fraction's uncertainty.
fn spread(fraction: &FractionInterval) -> String {
    match fraction.standard_uncertainty {
        Some(u) => format!(
            " (taken as {} %, u = {} %)",
            significant(fraction.value.percent(), 5),
            significant(u.percent(), 2)
        ),
        None => " (uncertainty unstated, left out of the budget)".to_owned(),
    }
}

fn water(plan: &Plan) -> Convention {
    let text = match &plan.request.recipe.proportions.water {
        Some(target) => format!(
            "water: {} is the total in the final batch, from moisture, crystal water and what is added",
            target.text
        ),
        None => "water counts from everywhere: moisture, crystal water, added".to_owned(),
    };
    convention("water", text)
}

fn additions(plan: &Plan) -> Vec<Convention> {
    let of = |find: fn(&AdditionAmount) -> bool| {
        plan.request.recipe.proportions.additions.iter().any(|addition| find(&addition.amount))
    };
    let mut all = Vec::new();
    if of(|amount| matches!(amount, AdditionAmount::MassFraction(_))) {
        all.push(convention(
            "wt_percent",
            "wt% of an addition is of the final batch, the component as named",
        ));
    }
    if of(|amount| matches!(amount, AdditionAmount::Molality(_))) {
        let aqueous = plan.request.recipe.proportions.parts.iter().all(|part| part.component.is_water());
        let text = if aqueous {
            "mol/kg is per kilogram of water, the only part"
        } else {
            "mol/kg is per kilogram of dry acceptor and donor, water and salts not counted"
        };
        all.push(convention("molality", text));
    }
    if of(|amount| matches!(amount, AdditionAmount::Molarity(_))) {
        all.push(convention("molarity", "mol/L is per litre of final solution"));
    }
    all
}

fn density(plan: &Plan) -> Option<Convention> {
    let density = plan.request.solution_density()?;
    let at =
        density.at.as_ref().map_or(" (no temperature stated)".to_owned(), |at| format!(" at {}", at.text));
    let source = density.source.as_ref().map_or(String::new(), |source| format!(", {source}"));
    Some(convention(
        "density",
        format!("density of the final solution: {}{at}, as given{source}", density.value.text),
    ))
}

fn tolerance(plan: &Plan) -> Convention {
    let tolerance = plan.request.tolerance;
    let origin = if tolerance.stated { "" } else { " (default)" };
    convention(
        "tolerance",
        format!(
            "ratio tolerance {} %{origin}, less {} % for uncertainty (k = 2), shared equally over the components",
            significant(tolerance.value.percent(), 3),
            significant(plan.guard * 100.0, 2)
        ),
    )
}

fn weighing(plan: &Plan) -> Convention {
    let Some(balance) = &plan.request.balance else {
        return convention(
            "balance",
            "no balance is stated: nothing is rounded, and weighing has no uncertainty here",
        );
    };
    let order = match plan.request.weighing {
        Weighing::Each => "each component tared and weighed by itself",
        Weighing::Cumulative => {
            "weighed one after another into one flask; neighbours share a reading and are correlated"
        }
    };
    convention(
        "balance",
        format!("balance {}; {order}; uncertainties are standard (k = 1) unless k = 2 is said", balance.text),
    )
}

fn volumes(plan: &Plan) -> Option<Convention> {
    plan.lines.iter().any(|line| line.volume.is_some()).then(|| {
        let at = &plan.request.liquids_at;
        let origin = if at.typed.is_some() { "" } else { " (default)" };
        convention("liquids_at", format!("volumes of liquids at {} °C{origin}", at.value.celsius()))
    })
}

fn stock(plan: &Plan) -> Option<Convention> {
    (plan.limiting.is_some() && !plan.request.weighed.is_empty())
        .then(|| convention("stock", "a stock is what is left now, beside what is weighed already"))
}

fn buoyancy(plan: &Plan) -> Convention {
    let text = match &plan.request.air {
        Some(air) if plan.is_corrected_for_buoyancy() => format!(
            "targets are balance readings in air of {}, weights of 8000 kg/m3 (OIML D 28)",
            air.0.text
        ),
        Some(_) => format!(
            "air buoyancy is not corrected for, since no density is known of {}: to correct the others alone \
             would bias the ratio more",
            names_without_density(plan)
        ),
        None => "air buoyancy is not corrected for".to_owned(),
    };
    convention("buoyancy", text)
}

fn names_without_density(plan: &Plan) -> String {
    let lacks = |line: &&Line| line.flags.contains(&Flag::BuoyancyNotCorrected);
    let names = plan.lines.iter().filter(lacks).map(|line| line.component.name.as_str());
    names.collect::<Vec<_>>().join(", ")
}
