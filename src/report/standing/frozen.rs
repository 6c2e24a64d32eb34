//! A plan frozen into a record, and what re-targeting needs of it taken out again.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::component::ComponentId;
use crate::plan::{Balance, Line, LineKind, Plan, TargetLine, Targets, Tolerance, Weighing, conventions};
use crate::quantity::{Mass, Relative};
use crate::recipe::{Limit, Limited};
use crate::record::Code;
use crate::record::batch::{FrozenBalance, FrozenLine, FrozenPart, FrozenPlan};
use crate::record::limit::{FrozenLimit, LimitOf};
use crate::report::view::procedure_steps;

/// Density of the weights that a balance is adjusted with, in g/mL (OIML D 28, conventional mass).
const WEIGHTS_G_PER_ML: f64 = 8.0;

/// Everything of a plan that a batch made from it needs, complete in itself. `bottles` names the bottles of the
/// book that components are taken from.
pub fn freeze(plan: &Plan, bottles: &[(ComponentId, Code)]) -> FrozenPlan {
    let request = &plan.request;
    let recipe = &request.recipe;
    let targets = plan.targets();
    let lines = plan.lines.iter().zip(&targets.lines).map(|(line, target)| {
        let bottle = bottles.iter().find(|(component, _)| *component == line.component.id);
        frozen_line(plan, line, target, bottle.map(|(_, code)| code.clone()))
    });
    FrozenPlan {
        recipe: recipe.name.clone(),
        recipe_text: recipe.text.clone(),
        basis: recipe.proportions.basis,
        tolerance: request.tolerance.value.get(),
        size: request.size.text(),
        mass_g: plan.mass.get(),
        water: plan.composition.water_fraction().get(),
        water_target: recipe.proportions.water.as_ref().map(|water| water.value.get()),
        balance: request.balance.as_ref().map(|balance| FrozenBalance {
            text: balance.text.clone(),
            readability_g: balance.readability.get(),
            repeatability_g: balance.repeatability.map(Mass::get),
            linearity_g: balance.linearity.map(Mass::get),
        }),
        lines: lines.collect(),
        conventions: conventions(plan).into_iter().map(|convention| convention.text).collect(),
        procedure: procedure_steps(&recipe.procedure),
        limits: recipe.limits.iter().map(frozen_limit).collect(),
        cumulative: request.weighing == Weighing::Cumulative,
    }
}

fn frozen_line(plan: &Plan, line: &Line, target: &TargetLine, bottle: Option<Code>) -> FrozenLine {
    let air = plan.request.air.as_ref().map(|air| air.0.value.get());
    FrozenLine {
        component: Arc::clone(&line.component),
        part: match &line.kind {
            LineKind::Part { ratio } => FrozenPart::Ratio(*ratio),
            LineKind::Addition { asked } => FrozenPart::Addition(asked.clone()),
            LineKind::Water => FrozenPart::Water,
        },
        bottle,
        quality: line.supply.quality.clone(),
        target_g: target.target.get(),
        window_g: line.window.map(|window| (window.low.get(), window.high.get())),
        counted: target.counted,
        water_g: target.water.get(),
        mass_g: target.mass.get(),
        in_air_g_per_ml: air
            .zip(line.reading)
            .map(|(air, reading)| (air, sample_density(reading / line.weigh, air))),
    }
}

/// The density behind a buoyancy correction: reading/mass = (1 − a/ρ)/(1 − a/8) solved for ρ.
fn sample_density(reading_over_mass: f64, air: f64) -> f64 {
    air / (1.0 - reading_over_mass * (1.0 - air / WEIGHTS_G_PER_ML))
}

fn frozen_limit(limit: &Limit) -> FrozenLimit {
    FrozenLimit {
        of: match limit.of {
            Limited::Water => LimitOf::Water,
            Limited::Property(property) => LimitOf::Property(property),
            Limited::Appearance => LimitOf::Appearance,
            Limited::Age => LimitOf::Age,
        },
        low: limit.low,
        high: limit.high,
        word: limit.word.clone(),
        at: limit.at.as_ref().map(|at| at.value),
        text: limit.text.clone(),
    }
}

/// The targets of a frozen plan, with what is left in its bottles.
pub(crate) fn targets(plan: &FrozenPlan, left: &BTreeMap<Code, f64>) -> Targets {
    let line = |line: &FrozenLine| TargetLine {
        component: line.component.id.clone(),
        kind: match &line.part {
            FrozenPart::Ratio(ratio) => LineKind::Part { ratio: *ratio },
            FrozenPart::Addition(asked) => LineKind::Addition { asked: asked.clone() },
            FrozenPart::Water => LineKind::Water,
        },
        target: Mass::new(line.target_g),
        mass: Mass::new(line.mass_g),
        counted: line.counted,
        water: Mass::new(line.water_g),
        left: line.bottle.as_ref().and_then(|code| left.get(code)).map(|left| Mass::new(left.max(0.0))),
    };
    Targets {
        basis: plan.basis,
        tolerance: Tolerance { value: Relative::new(plan.tolerance), stated: true },
        step: plan.balance.as_ref().map(|balance| Mass::new(balance.readability_g)),
        lines: plan.lines.iter().map(line).collect(),
    }
}

/// The balance of a frozen plan.
pub(crate) fn balance(plan: &FrozenPlan) -> Option<Balance> {
    plan.balance.as_ref().map(|balance| Balance {
        readability: Mass::new(balance.readability_g),
        repeatability: balance.repeatability_g.map(Mass::new),
        linearity: balance.linearity_g.map(Mass::new),
        text: balance.text.clone(),
    })
}
