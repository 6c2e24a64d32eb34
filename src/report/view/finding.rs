//! What a plan has to say beside its numbers, as warnings.

use super::amount::{mass, percent, short};
use crate::input::Warning;
use crate::plan::{Flag, Line, Plan};
use crate::quantity::Mass;

/// Everything that the person should know about this plan.
pub fn plan_warnings(plan: &Plan) -> Vec<Warning> {
    let mut warnings = Vec::new();
    warnings.extend(plan.dry_first.map(|surplus| dry_first(plan, surplus)));
    warnings.extend(tolerance_used_up(plan));
    for line in &plan.lines {
        warnings.extend(line.flags.iter().filter_map(|flag| of_flag(plan, line, flag)));
    }
    warnings.extend(plan.lines.iter().filter_map(assumed_basis));
    warnings.extend(density_without_temperature(plan));
    warnings
}

fn dry_first(plan: &Plan, surplus: Mass) -> Warning {
    let asked = plan.request.recipe.proportions.water.as_ref();
    let asked = asked.map_or("the water of the ratio".to_owned(), |water| format!("{} water", water.text));
    let message = format!(
        "dry first: the components bring {} g of water ({} wt%), and the recipe asks for {asked}; {} g must be \
         dried off, and nothing can be added to make that good",
        mass(plan.composition.water, None),
        short(plan.composition.water_fraction().percent(), 4),
        mass(surplus, None)
    );
    Warning::new("dry_first", message)
}

/// One warning for all lines: it is the same for each of them.
fn tolerance_used_up(plan: &Plan) -> Option<Warning> {
    let tolerance = plan.request.tolerance.value.get();
    (tolerance <= plan.guard).then(|| {
        let message = format!(
            "the uncertainty of the ratio ({}, k = 2) takes up the whole tolerance of {}, so there is no window: \
             state narrower assays and moistures, use a better balance or a larger batch, or widen the tolerance",
            percent(plan.guard, 2),
            percent(tolerance, 3)
        );
        Warning::new("tolerance_used_up", message)
    })
}

fn of_flag(plan: &Plan, line: &Line, flag: &Flag) -> Option<Warning> {
    let name = &line.component.name;
    let message = match flag {
        Flag::ToleranceUsedUp { .. } => return None,
        Flag::BalanceTooCoarse { mass_that_would_do, batch_that_would_do, balance_that_would_do } => format!(
            "{name}: {} g is too little for this balance, whose uncertainty takes more than half of the window; \
             {} g of it would do (a batch of {} g), or a balance with a standard uncertainty of {} g",
            mass(line.target(), plan.request.balance.as_ref()),
            short(mass_that_would_do.get(), 3),
            short(batch_that_would_do.get(), 3),
            short(balance_that_would_do.get(), 2)
        ),
        Flag::BelowMinimumWeight { minimum } => format!(
            "{name}: {} g is below this balance's minimum weight of {} g (USP general chapter 41)",
            mass(line.target(), plan.request.balance.as_ref()),
            short(minimum.get(), 4)
        ),
        Flag::RoundsToZero => {
            format!("{name}: {} g rounds to nothing on this balance", mass(line.target(), None))
        }
        Flag::BuoyancyNotCorrected => {
            format!("{name}: no density is known, so its target is not corrected for air buoyancy")
        }
        Flag::NotEnough { missing } => {
            format!("{name}: the stock is short of {} g", mass(*missing, plan.request.balance.as_ref()))
        }
    };
    Some(Warning::new(flag.code(), message))
}

/// A default that changes the grams is named where it does so.
fn assumed_basis(line: &Line) -> Option<Warning> {
    let quality = &line.supply.quality;
    let matters = quality.assay.is_some() && quality.moisture.is_some() && !quality.basis_stated;
    matters.then(|| {
        let message = format!(
            "{}: no assay basis is stated, so the assay is taken as of the dried substance; if the certificate \
             means the content as it is, give basis=as-is",
            line.component.name
        );
        Warning::new("basis_assumed", message)
    })
}

fn density_without_temperature(plan: &Plan) -> Option<Warning> {
    let density = plan.request.solution_density()?;
    density.at.is_none().then(|| {
        let message = format!("the density {} is given without its temperature", density.value.text);
        Warning::new("density_without_temperature", message)
    })
}
