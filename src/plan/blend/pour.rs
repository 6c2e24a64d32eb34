//! Several liquids into one, by moles: amounts add up, ratios never average.

use serde::{Deserialize, Serialize};

use super::error::BlendError;
use crate::component::{Component, ComponentId, Composition, RatioBasis};
use crate::quantity::Mass;

/// Some of a liquid.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Liquid {
    /// Where its composition comes from.
    pub source: LiquidSource,
    /// What it is, at any mass.
    pub composition: Composition,
    /// How much of it goes in: all or a part; above 0.
    pub mass: Mass,
}

/// Where a liquid's composition comes from.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum LiquidSource {
    /// A recipe, by its text: made of pure, dry components, with the water that the recipe states.
    Recipe(String),
    /// A batch that was made, by its code.
    Batch(String),
}

impl LiquidSource {
    /// The recipe's text or the batch's code.
    pub fn text(&self) -> &str {
        match self {
            Self::Recipe(text) | Self::Batch(text) => text,
        }
    }
}

/// All the liquids in one flask.
pub fn blend(liquids: &[Liquid]) -> Result<Composition, BlendError> {
    let mut blend = Composition::default();
    for liquid in liquids {
        let whole = liquid.composition.mass();
        if whole <= Mass::ZERO || liquid.mass <= Mass::ZERO {
            return Err(BlendError::EmptyLiquid { text: liquid.source.text().to_owned() });
        }
        blend.add_all(&liquid.composition.scaled(liquid.mass / whole));
    }
    if liquids.is_empty() {
        return Err(BlendError::NoLiquid);
    }
    Ok(blend)
}

/// The ratio in a mixture, its components in their order and water last if it is counted: moles, or grams of
/// the components as named. It is scaled so that `one` has `number`, or the first that can be counted has 1
/// where the mixture holds nothing of `one`. `None` stands for a component without moles.
pub fn ratio_in(
    composition: &Composition,
    basis: RatioBasis,
    with_water: bool,
    (one, number): (&ComponentId, f64),
) -> Vec<(ComponentId, Option<f64>)> {
    let counted = counted(composition, basis, with_water);
    let of = |id: &ComponentId| counted.iter().find(|(own, _)| own == id).and_then(|(_, n)| *n);
    let present = |n: &f64| 0.0 < *n;
    let scale = match of(one).filter(present) {
        Some(own) => number / own,
        None => counted.iter().filter_map(|(_, n)| *n).find(present).map_or(1.0, |first| 1.0 / first),
    };
    counted.into_iter().map(|(id, n)| (id, n.map(|n| n * scale))).collect()
}

fn counted(
    composition: &Composition,
    basis: RatioBasis,
    with_water: bool,
) -> Vec<(ComponentId, Option<f64>)> {
    let own = composition.constituents.iter().map(|own| {
        let counted = match basis {
            RatioBasis::Mole => own.amount.map(|amount| amount.get()),
            RatioBasis::Mass => Some(own.anhydrous.get() * own.component.named_per_anhydrous()),
        };
        (own.component.id.clone(), counted)
    });
    let water = ComponentId::from_text(Component::WATER).filter(|_| with_water).map(|id| {
        let counted = match basis {
            RatioBasis::Mole => composition.water_amount().get(),
            RatioBasis::Mass => composition.water.get(),
        };
        (id, Some(counted))
    });
    own.chain(water).collect()
}
