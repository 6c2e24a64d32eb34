//! A blend with what was asked of it: complete in itself, so that a record can freeze it.

use serde::{Deserialize, Serialize};

use super::adjust::{Adjustment, Wish};
use super::pour::{Liquid, LiquidSource, ratio_in};
use crate::component::{ComponentId, Composition, RatioBasis};
use crate::plan::Convention;
use crate::quantity::Mass;

/// Liquids in one flask, and what brings them to a wish.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Blend {
    /// What went in.
    pub liquids: Vec<Liquid>,
    /// What they make.
    pub composition: Composition,
    /// What they are to become, and how; `None` without a wish.
    pub wish: Option<(Wish, Adjustment)>,
    /// How ratios are written.
    pub ratio_as: RatioAs,
}

/// How the ratio of a blend is written.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct RatioAs {
    /// What it counts.
    pub basis: RatioBasis,
    /// True if water is a part of any ratio in question.
    pub with_water: bool,
    /// The component that the others are held against.
    pub one: ComponentId,
    /// Its number.
    pub number: f64,
}

impl RatioAs {
    /// The ratio in a mixture; `None` stands for a component without moles.
    pub fn of(&self, composition: &Composition) -> Vec<(ComponentId, Option<f64>)> {
        ratio_in(composition, self.basis, self.with_water, (&self.one, self.number))
    }
}

impl Blend {
    /// What is in the flask in the end: with what is to be added, not dried.
    pub fn result(&self) -> &Composition {
        self.wish.as_ref().map_or(&self.composition, |(_, adjustment)| &adjustment.composition)
    }

    /// Water that must go first for the wish to be met.
    pub fn dry_first(&self) -> Option<Mass> {
        self.wish.as_ref().and_then(|(_, adjustment)| adjustment.dry_first)
    }

    /// Acceptors and donors of the liquids that a wished ratio does not name: they stay, and no number of
    /// the ratio is about them.
    pub fn not_in_wish(&self) -> Vec<&ComponentId> {
        let Some(ratio) = self.wish.as_ref().and_then(|(wish, _)| wish.ratio.as_ref()) else {
            return Vec::new();
        };
        let named = |id: &ComponentId| ratio.parts.iter().any(|part| part.component.id == *id);
        let parts = self.composition.constituents.iter().filter(|own| own.in_ratio);
        parts.map(|own| &own.component.id).filter(|id| !named(id)).collect()
    }

    /// Every convention that the numbers follow.
    pub fn conventions(&self) -> Vec<Convention> {
        let mut all = vec![("ratio_basis", self.basis_text().to_owned())];
        if self.liquids.iter().any(|liquid| matches!(liquid.source, LiquidSource::Recipe(_))) {
            let text = "a liquid given as a recipe is made of pure, dry components, with the water that the \
                        recipe states";
            all.push(("liquids", text.to_owned()));
        }
        all.push(("water", "water counts from everywhere, as a fraction of the whole".to_owned()));
        all.extend(self.taken_as_pure());
        if self.wish.is_some() {
            let text = "nothing is taken out: the component of which there is most stays as it is, and the \
                        others are added to";
            all.push(("smallest_addition", text.to_owned()));
        }
        let weights =
            "molar masses from the abridged standard atomic weights, CIAAW 2021 with the 2024 revisions";
        all.push(("atomic_weights", weights.to_owned()));
        all.into_iter().map(|(code, text)| Convention { code, text }).collect()
    }

    fn basis_text(&self) -> &'static str {
        match self.ratio_as.basis {
            RatioBasis::Mole => {
                "the ratio counts moles of the pure components, which add up; ratios are never averaged"
            }
            RatioBasis::Mass => "the ratio counts grams of the pure components as named, which add up",
        }
    }

    fn taken_as_pure(&self) -> Option<(&'static str, String)> {
        let additions = self.wish.iter().flat_map(|(_, adjustment)| &adjustment.additions);
        let plain = additions.filter(|added| added.supply.quality == Default::default());
        let names: Vec<&str> = plain.map(|added| added.component.name.as_str()).collect();
        (!names.is_empty()).then(|| {
            let text = format!("taken as pure and dry, since no bottle is stated: {}", names.join(", "));
            ("taken_as_pure", text)
        })
    }
}
