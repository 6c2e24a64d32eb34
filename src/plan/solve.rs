//! All statements of a recipe solved together.
//!
//! Per ratio unit, with k = gross and w = water per gram of anhydrous component out of its bottle:
//!
//! - ratio parts are known: gross G, water w₀, dry mass D;
//! - an addition j of x_j grams (anhydrous) is x_j = α_j M + β_j, where M is the final mass:
//!   wt% and mol/L give α, mol/kg gives β;
//! - added water is W; a target says w₀ + Σ w_j x_j + W = t M, or a number of moles if water is in the
//!   ratio;
//! - M = G + Σ k_j x_j + W.
//!
//! All of it is linear, so M follows in closed form, and everything else from M.

use std::sync::Arc;

use super::correction::Correction;
use super::error::PlanError;
use super::request::PlanRequest;
use super::supply::Supply;
use crate::component::{AdditionAmount, Component, Part, Proportions, RatioBasis};
use crate::quantity::{Density, Mass};

/// What the solved recipe says for one ratio unit.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct UnitBatch {
    /// Parts other than water, in the recipe's order.
    pub(super) parts: Vec<UnitLine>,
    /// Additions in the recipe's order.
    pub(super) additions: Vec<UnitLine>,
    /// Water to add; 0 without a target.
    pub(super) added_water: Mass,
    /// Water that must be dried off first for the statements to hold.
    pub(super) surplus_water: Mass,
}

/// One component for one ratio unit.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct UnitLine {
    pub(super) component: Arc<Component>,
    pub(super) supply: Supply,
    pub(super) correction: Correction,
}

/// How much water the batch shall hold.
#[derive(Debug, Clone, Copy, PartialEq)]
enum WaterWish {
    Anything,
    Fraction(f64),
    Exactly(Mass),
}

impl UnitBatch {
    /// Mass in the flask for one ratio unit.
    pub(super) fn mass(&self) -> Mass {
        self.lines().map(|line| line.correction.gross).sum::<Mass>() + self.added_water
    }

    /// Parts and additions.
    pub(super) fn lines(&self) -> impl Iterator<Item = &UnitLine> {
        self.parts.iter().chain(&self.additions)
    }

    /// Dry pure mass of the parts.
    pub(super) fn dry_parts(&self) -> Mass {
        self.parts.iter().map(|line| line.correction.anhydrous).sum()
    }

    /// Dry pure mass of parts and additions.
    pub(super) fn dry_pure(&self) -> Mass {
        self.lines().map(|line| line.correction.anhydrous).sum()
    }
}

/// Solves the recipe for one ratio unit.
pub(super) fn solve(request: &PlanRequest) -> Result<UnitBatch, PlanError> {
    let wish = water_wish(&request.recipe.proportions);
    let batch = solve_with(request, wish)?;
    if Mass::ZERO <= batch.added_water { Ok(batch) } else { without_water(request, wish) }
}

/// Components that bring more water than the recipe allows: nothing can be taken out, so no water is
/// added, the other statements hold for what there is, and the surplus is told: what to dry off this very
/// batch, w − R = t (M − R) or w − R = the water asked for.
fn without_water(request: &PlanRequest, wish: WaterWish) -> Result<UnitBatch, PlanError> {
    let batch = solve_with(request, WaterWish::Anything)?;
    let water: Mass = batch.lines().map(|line| line.correction.water()).sum();
    let surplus_water = match wish {
        WaterWish::Anything => Mass::ZERO,
        WaterWish::Fraction(target) => (water - batch.mass() * target) / (1.0 - target),
        WaterWish::Exactly(total) => water - total,
    };
    Ok(UnitBatch { surplus_water, ..batch })
}

fn water_wish(proportions: &Proportions) -> WaterWish {
    let in_ratio = proportions.parts.iter().find(|part| part.component.is_water());
    match (&proportions.water, in_ratio) {
        (Some(target), _) => WaterWish::Fraction(target.value.get()),
        (None, Some(part)) => WaterWish::Exactly(anhydrous_of(part, proportions.basis)),
        (None, None) => WaterWish::Anything,
    }
}

/// Anhydrous grams of a part for one ratio unit. A mass ratio counts the component as the recipe names it.
fn anhydrous_of(part: &Part, basis: RatioBasis) -> Mass {
    match (basis, &part.component.formula) {
        (RatioBasis::Mole, Some(formula)) => Mass::new(formula.anhydrous_molar_mass().get() * part.ratio),
        (RatioBasis::Mass, Some(formula)) => {
            Mass::new(part.ratio) * (formula.anhydrous_molar_mass() / formula.molar_mass())
        }
        (_, None) => Mass::new(part.ratio),
    }
}

fn solve_with(request: &PlanRequest, wish: WaterWish) -> Result<UnitBatch, PlanError> {
    let proportions = &request.recipe.proportions;
    let parts: Vec<UnitLine> = proportions
        .parts
        .iter()
        .filter(|part| !part.component.is_water())
        .map(|part| line(request, &part.component, anhydrous_of(part, proportions.basis)))
        .collect();
    let gross: Mass = parts.iter().map(|line| line.correction.gross).sum();
    let water: Mass = parts.iter().map(|line| line.correction.water()).sum();
    let dry: Mass = parts.iter().map(|line| line.correction.anhydrous).sum();
    let solvent = match wish {
        // A ratio of water alone is an aqueous solution: its solvent is the water.
        WaterWish::Exactly(mass) if parts.is_empty() => mass,
        _ => dry,
    };
    let laws = laws(request, solvent)?;
    let per_gram: Vec<Correction> = proportions
        .additions
        .iter()
        .map(|a| line(request, &a.component, Mass::new(1.0)).correction)
        .collect();
    let counted = |c: &Correction| match wish {
        WaterWish::Anything => c.gross.get(),
        // Where total water is fixed, an addition's own water only replaces added water.
        WaterWish::Fraction(_) | WaterWish::Exactly(_) => (c.gross - c.water()).get(),
    };
    let alpha: f64 = laws.iter().zip(&per_gram).map(|(law, c)| law.alpha * counted(c)).sum();
    let beta: f64 = laws.iter().zip(&per_gram).map(|(law, c)| law.beta * counted(c)).sum();
    let (fixed, share) = match wish {
        WaterWish::Anything => (gross.get(), 0.0),
        WaterWish::Fraction(target) => ((gross - water).get(), target),
        WaterWish::Exactly(mass) => ((gross - water).get() + mass.get(), 0.0),
    };
    let room = 1.0 - alpha - share;
    if room <= 1e-9 {
        return Err(PlanError::NoRoom);
    }
    let mass = (fixed + beta) / room;
    let additions: Vec<UnitLine> = proportions
        .additions
        .iter()
        .zip(&laws)
        .map(|(addition, law)| line(request, &addition.component, Mass::new(law.alpha * mass + law.beta)))
        .collect();
    let carried = water + additions.iter().map(|line| line.correction.water()).sum();
    let added_water = match wish {
        WaterWish::Anything => Mass::ZERO,
        WaterWish::Fraction(target) => lacking(Mass::new(target * mass), carried),
        WaterWish::Exactly(total) => lacking(total, carried),
    };
    Ok(UnitBatch { parts, additions, added_water, surplus_water: Mass::ZERO })
}

/// Water that is still to come; negative where there is too much. What remains of two equal amounts after the
/// rounding of the arithmetic is nothing, and neither a line of the plan nor a reason to dry.
fn lacking(wanted: Mass, carried: Mass) -> Mass {
    let lacking = wanted - carried;
    if lacking.get().abs() <= ROUNDING * carried.get() { Mass::ZERO } else { lacking }
}

/// Far above the rounding of a dozen operations in double precision, far below what any balance shows.
const ROUNDING: f64 = 1e-12;

fn line(request: &PlanRequest, component: &Arc<Component>, anhydrous: Mass) -> UnitLine {
    let supply = request.supply(&component.id);
    let correction = Correction::of(anhydrous, component, &supply.quality);
    UnitLine { component: Arc::clone(component), supply, correction }
}

/// Anhydrous grams of an addition: `alpha` per gram of final batch, and `beta` beside it.
struct Law {
    alpha: f64,
    beta: f64,
}

fn laws(request: &PlanRequest, solvent: Mass) -> Result<Vec<Law>, PlanError> {
    let density = request.solution_density().map(|density| density.value.value);
    let law = |addition: &crate::component::Addition| {
        let component = &addition.component;
        let anhydrous =
            component.formula.as_ref().map_or(0.0, |formula| formula.anhydrous_molar_mass().get());
        match &addition.amount {
            AdditionAmount::MassFraction(typed) => {
                let as_asked = Correction::of(Mass::new(1.0), component, &Default::default()).as_asked;
                Ok(Law { alpha: typed.value.get() / as_asked.get(), beta: 0.0 })
            }
            AdditionAmount::Molality(_) if solvent <= Mass::ZERO => Err(PlanError::NoSolvent),
            AdditionAmount::Molality(typed) => {
                Ok(Law { alpha: 0.0, beta: typed.value.get() * solvent.get() / 1000.0 * anhydrous })
            }
            AdditionAmount::Molarity(typed) => {
                let litres_per_gram = per_litre(density, component, &typed.text)?;
                Ok(Law { alpha: typed.value.get() * litres_per_gram * anhydrous, beta: 0.0 })
            }
        }
    };
    request.recipe.proportions.additions.iter().map(law).collect()
}

fn per_litre(density: Option<Density>, component: &Component, text: &str) -> Result<f64, PlanError> {
    match density {
        Some(density) if Density::ZERO < density => Ok(1.0 / (1000.0 * density.get())),
        _ => Err(PlanError::DensityNeeded { what: format!("{text} of {}", component.name), by_size: false }),
    }
}
