//! What to add to a mixture so that it has another ratio, another water content, or both.
//!
//! Nothing is taken out, so a ratio r asks for Δnᵢ = λ rᵢ − nᵢ ≥ 0 of each of its components, and the smallest
//! addition is that of λ = max nᵢ/rᵢ: the component of which there is most stays as it is. With g grams out
//! of the bottle and w grams of water for each unit counted, the mixture is then m' = m + Σ gᵢ Δnᵢ with
//! W' = W + Σ wᵢ Δnᵢ of water, whatever else is in it, and a water content t asks for
//! (t m' − W')/(1 − t) more; for water as a part of the ratio, λ r M(H₂O) − W'. Where that is negative, as much
//! must be dried off first.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::error::BlendError;
use crate::component::{Component, Composition, Part, RatioBasis};
use crate::plan::{Correction, Supply};
use crate::quantity::{Amount, Mass, MassFraction};

/// What a mixture is to become. What it holds besides is carried along.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Wish {
    /// A ratio, each component once.
    pub ratio: Option<WishedRatio>,
    /// Water, of the whole.
    pub water: Option<MassFraction>,
}

/// A ratio that a mixture is to have.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct WishedRatio {
    /// What its numbers count.
    pub basis: RatioBasis,
    /// Its parts; water may be one.
    pub parts: Vec<Part>,
}

/// How a mixture becomes what is wished.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Adjustment {
    /// What to add: the components of the ratio in its order, then water. Nothing of zero mass.
    pub additions: Vec<Added>,
    /// The mixture with that added, not dried.
    pub composition: Composition,
    /// Water that must go first for the wish to be met by these additions; `None` if it is met.
    pub dry_first: Option<Mass>,
    /// For a wish that asks for drying: the same ratio and water without drying, by more of every
    /// component of the ratio. `None` where no amount of it is dry enough, or without a ratio.
    pub instead: Option<Vec<Added>>,
}

/// One thing to add.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Added {
    /// The component.
    pub component: Arc<Component>,
    /// What it is taken from.
    pub supply: Supply,
    /// Every step to the mass.
    pub correction: Correction,
}

impl Added {
    /// What to weigh.
    pub fn weigh(&self) -> Mass {
        self.correction.gross
    }
}

/// One component of the wished ratio, per unit that the ratio counts.
struct Counted<'w> {
    part: &'w Part,
    supply: Supply,
    per_unit: Correction,
    /// What the mixture holds of it, counted.
    held: f64,
}

/// What to add to `mixture`, all of it. `supplies` describe the bottles; a component without one is taken
/// as pure and dry, and water always is. `water` is water's entry in the component table.
pub fn adjust(
    mixture: &Composition,
    wish: &Wish,
    supplies: &[Supply],
    water: &Arc<Component>,
) -> Result<Adjustment, BlendError> {
    if let Some(asked) = wish.water.filter(|asked| 1.0 <= asked.get()) {
        return Err(BlendError::AllWater { percent: asked.percent().to_string() });
    }
    let problem = Problem::of(mixture, wish, supplies);
    let units = problem.least_units()?;
    let mut additions = problem.additions(units);
    let lacking = problem.water_lacking(units, &additions);
    let allowance = 1e-12 * mixture.mass().get();
    if allowance < lacking {
        additions.push(pure_water(water, Mass::new(lacking)));
    }
    let dry_first = (lacking < -allowance).then(|| Mass::new(-lacking));
    Ok(Adjustment {
        composition: with(mixture, &additions),
        instead: dry_first.and_then(|_| problem.without_drying(units)),
        additions,
        dry_first,
    })
}

struct Problem<'w> {
    mixture: &'w Composition,
    /// Components of the ratio other than water.
    counted: Vec<Counted<'w>>,
    /// Grams of water for each unit of the ratio, if it is a part.
    water_per_unit: Option<f64>,
    water: Option<MassFraction>,
}

impl<'w> Problem<'w> {
    fn of(mixture: &'w Composition, wish: &'w Wish, supplies: &[Supply]) -> Self {
        let parts = wish.ratio.iter().flat_map(|ratio| ratio.parts.iter().map(|part| (ratio.basis, part)));
        let (wet, dry): (Vec<_>, Vec<_>) = parts.partition(|(_, part)| part.component.is_water());
        let counted = dry.into_iter().map(|(basis, part)| Counted::of(mixture, basis, part, supplies));
        let per_unit =
            |(basis, part): &(RatioBasis, &Part)| part.ratio * grams_of_unit(&part.component, *basis);
        Self {
            mixture,
            counted: counted.collect(),
            water_per_unit: wet.first().map(per_unit),
            water: wish.water,
        }
    }

    /// λ: the least number of ratio units that holds what is there already.
    fn least_units(&self) -> Result<f64, BlendError> {
        let most = self.counted.iter().map(|own| own.held / own.part.ratio).fold(0.0, f64::max);
        let asks = !self.counted.is_empty() || self.water_per_unit.is_some();
        if asks && most <= 0.0 { Err(BlendError::NothingOfRatio) } else { Ok(most) }
    }

    fn additions(&self, units: f64) -> Vec<Added> {
        self.counted.iter().filter_map(|own| own.up_to(units)).collect()
    }

    /// Water to add on top of `additions`; negative if there is too much.
    fn water_lacking(&self, units: f64, additions: &[Added]) -> f64 {
        let water = self.mixture.water + additions.iter().map(|added| added.correction.water()).sum();
        let mass = self.mixture.mass() + additions.iter().map(Added::weigh).sum();
        match (self.water, self.water_per_unit) {
            (Some(asked), _) => (asked.get() * mass.get() - water.get()) / (1.0 - asked.get()),
            (None, Some(per_unit)) => units * per_unit - water.get(),
            (None, None) => 0.0,
        }
    }

    /// More of everything in the ratio dilutes the water. What lacks is linear in the ratio units beyond
    /// `least`, where every component is added to: one division finds where it is nothing.
    fn without_drying(&self, least: f64) -> Option<Vec<Added>> {
        let lacking = |units: f64| self.water_lacking(units, &self.additions(units));
        let at_least = lacking(least);
        let slope = (lacking(2.0 * least) - at_least) / least;
        let units = least - at_least / slope;
        (0.0 < slope && units.is_finite() && !self.counted.is_empty()).then(|| self.additions(units))
    }
}

impl<'w> Counted<'w> {
    fn of(mixture: &Composition, basis: RatioBasis, part: &'w Part, supplies: &[Supply]) -> Self {
        let component = &part.component;
        let known = supplies.iter().find(|supply| supply.component == component.id).cloned();
        let supply = known.unwrap_or_else(|| Supply::unspecified(component.id.clone()));
        let unit = grams_of_unit(component, basis);
        let held = mixture.constituent(component.id.as_str()).map_or(0.0, |own| own.anhydrous.get() / unit);
        Self { part, per_unit: Correction::of(Mass::new(unit), component, &supply.quality), supply, held }
    }

    /// What brings it up to so many ratio units; `None` if there is enough.
    fn up_to(&self, units: f64) -> Option<Added> {
        let wanted = units * self.part.ratio;
        let lacking = wanted - self.held;
        // The component that sets the number of units may come out a rounding error away from nothing.
        (1e-12 * wanted < lacking).then(|| Added {
            component: Arc::clone(&self.part.component),
            supply: self.supply.clone(),
            correction: self.per_unit.scaled(lacking),
        })
    }
}

/// Anhydrous grams of what a ratio counts as one.
fn grams_of_unit(component: &Component, basis: RatioBasis) -> f64 {
    match (basis, &component.formula) {
        (RatioBasis::Mole, Some(formula)) => formula.anhydrous_molar_mass().get(),
        (RatioBasis::Mass, _) | (_, None) => 1.0 / component.named_per_anhydrous(),
    }
}

fn pure_water(water: &Arc<Component>, mass: Mass) -> Added {
    Added {
        component: Arc::clone(water),
        supply: Supply::unspecified(water.id.clone()),
        correction: Correction::of(mass, water, &Default::default()),
    }
}

/// The mixture with the additions in it. What is added to a ratio belongs to it.
fn with(mixture: &Composition, additions: &[Added]) -> Composition {
    let mut after = mixture.clone();
    for added in additions {
        let correction = &added.correction;
        if added.component.is_water() {
            after.water = after.water + correction.gross;
            continue;
        }
        let amount =
            added.component.molar_mass().map(|molar_mass| -> Amount { correction.as_asked / molar_mass });
        after.add(&added.component, amount, correction.anhydrous, true);
        after.water = after.water + correction.water();
        after.unknown = after.unknown + correction.impurity;
    }
    after
}
