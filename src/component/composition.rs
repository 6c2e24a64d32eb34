//! A mixture as made: what is really in it, with water from everywhere and what nobody knows.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::entry::Component;
use crate::chemistry::water_molar_mass;
use crate::quantity::{Amount, Density, Mass, MassFraction, Molality, Molarity, MoleFraction, Volume};

/// One component in a mixture.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Constituent {
    /// The component.
    pub component: Arc<Component>,
    /// Its amount; `None` without a molar mass.
    pub amount: Option<Amount>,
    /// Its mass without crystal water.
    pub anhydrous: Mass,
    /// True for acceptor and donor, which molality is counted on.
    pub in_ratio: bool,
}

/// A mixture as made. Water itself is never a constituent: it stands in `water`.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct Composition {
    /// The components other than water, each once.
    pub constituents: Vec<Constituent>,
    /// Water from moisture, crystal water and addition.
    pub water: Mass,
    /// What came with the components and is neither the component nor water.
    pub unknown: Mass,
}

/// One component's share of a mixture in every usual way of stating it.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Shares {
    /// The component's id.
    pub component: String,
    /// Components counted one by one, water among them.
    pub mole_fraction: Option<MoleFraction>,
    /// The same without water.
    pub mole_fraction_dry: Option<MoleFraction>,
    /// Anhydrous mass over the mass of the batch.
    pub mass_fraction: MassFraction,
    /// Per kilogram of dry acceptor and donor.
    pub molality: Option<Molality>,
    /// Per litre, if a density of the mixture is given.
    pub molarity: Option<Molarity>,
}

impl Composition {
    /// Adds a component, or more of it. Give water's own mass to `water` instead.
    pub fn add(
        &mut self,
        component: &Arc<Component>,
        amount: Option<Amount>,
        anhydrous: Mass,
        in_ratio: bool,
    ) {
        let known = self.constituents.iter_mut().find(|c| c.component.id == component.id);
        if let Some(constituent) = known {
            constituent.anhydrous = constituent.anhydrous + anhydrous;
            constituent.amount = constituent.amount.zip(amount).map(|(sum, more)| sum + more);
            constituent.in_ratio |= in_ratio;
        } else {
            let component = Arc::clone(component);
            self.constituents.push(Constituent { component, amount, anhydrous, in_ratio });
        }
    }

    /// Adds all of another mixture: moles add up, and so do masses.
    pub fn add_all(&mut self, other: &Self) {
        for own in &other.constituents {
            self.add(&own.component, own.amount, own.anhydrous, own.in_ratio);
        }
        self.water = self.water + other.water;
        self.unknown = self.unknown + other.unknown;
    }

    /// The same mixture, `factor` times as much of it.
    pub fn scaled(&self, factor: f64) -> Self {
        let scaled = |own: &Constituent| Constituent {
            component: Arc::clone(&own.component),
            amount: own.amount.map(|amount| amount * factor),
            anhydrous: own.anhydrous * factor,
            in_ratio: own.in_ratio,
        };
        Self {
            constituents: self.constituents.iter().map(scaled).collect(),
            water: self.water * factor,
            unknown: self.unknown * factor,
        }
    }

    /// One component in it.
    pub fn constituent(&self, id: &str) -> Option<&Constituent> {
        self.constituents.iter().find(|own| own.component.id.as_str() == id)
    }

    /// Total mass.
    pub fn mass(&self) -> Mass {
        self.dry_pure() + self.water + self.unknown
    }

    /// Mass of the components without water and unknowns.
    pub fn dry_pure(&self) -> Mass {
        self.constituents.iter().map(|c| c.anhydrous).sum()
    }

    /// Mass of dry acceptor and donor.
    pub fn dry_solvent(&self) -> Mass {
        self.constituents.iter().filter(|c| c.in_ratio).map(|c| c.anhydrous).sum()
    }

    /// Water as a fraction of the whole; 0 for nothing.
    pub fn water_fraction(&self) -> MassFraction {
        fraction(self.water, self.mass())
    }

    /// What nobody knows, as a fraction of the whole; 0 for nothing.
    pub fn unknown_fraction(&self) -> MassFraction {
        fraction(self.unknown, self.mass())
    }

    /// Amount of water.
    pub fn water_amount(&self) -> Amount {
        self.water / water_molar_mass()
    }

    /// Amount of all components without water; `None` if one has no molar mass.
    pub fn dry_amount(&self) -> Option<Amount> {
        let amounts: Option<Vec<Amount>> = self.constituents.iter().map(|c| c.amount).collect();
        amounts.map(|amounts| amounts.into_iter().sum())
    }

    /// Each component's shares, water last if there is any. Unknowns have mass but no moles.
    pub fn shares(&self, density: Option<Density>) -> Vec<Shares> {
        let dry = self.dry_amount();
        let all = dry.map(|dry| dry + self.water_amount());
        let volume = density.map(|density| self.mass() / density);
        let mut shares: Vec<Shares> = self
            .constituents
            .iter()
            .map(|c| self.share(c.component.id.as_str(), c.amount, c.anhydrous, (all, dry), volume))
            .collect();
        if Mass::ZERO < self.water {
            let amount = Some(self.water_amount());
            shares.push(self.share(Component::WATER, amount, self.water, (all, None), volume));
        }
        shares
    }

    fn share(
        &self,
        id: &str,
        amount: Option<Amount>,
        mass: Mass,
        (all, dry): (Option<Amount>, Option<Amount>),
        volume: Option<Volume>,
    ) -> Shares {
        let over = |total: Option<Amount>| {
            amount
                .zip(total)
                .filter(|(_, total)| Amount::ZERO < *total)
                .map(|(n, total)| MoleFraction::new(n / total))
        };
        let solvent = self.dry_solvent();
        let per_kg = |n: Amount| Molality::new(n.get() / (solvent.get() / 1000.0));
        let per_litre = |n: Amount, v: Volume| Molarity::new(n.get() / (v.get() / 1000.0));
        Shares {
            component: id.to_owned(),
            mole_fraction: over(all),
            mole_fraction_dry: over(dry),
            mass_fraction: fraction(mass, self.mass()),
            molality: amount.filter(|_| Mass::ZERO < solvent).map(per_kg),
            molarity: amount.zip(volume).map(|(n, v)| per_litre(n, v)),
        }
    }
}

fn fraction(part: Mass, whole: Mass) -> MassFraction {
    if Mass::ZERO < whole { MassFraction::new(part / whole) } else { MassFraction::ZERO }
}
