//! From the mass of the pure, anhydrous component to the mass on the balance, one file for each step.

mod assay;
mod buoyancy;
mod form;
mod moisture;
mod water;

pub use buoyancy::{AirDensity, balance_reading, true_mass};
pub(super) use water::{counts_dry, water_sensitivity};

use serde::{Deserialize, Serialize};

use crate::component::{Component, Quality};
use crate::quantity::Mass;

/// Every step between what the ratio asks for and what is weighed. All masses belong to one line.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize)]
pub struct Correction {
    /// The component without any water.
    pub anhydrous: Mass,
    /// The component as the recipe names it: more than `anhydrous` if that is a hydrate.
    pub as_asked: Mass,
    /// The component in the form that the bottle holds.
    pub in_form: Mass,
    /// With what the assay leaves out, before moisture.
    pub after_assay: Mass,
    /// What to weigh.
    pub gross: Mass,
    /// Crystal water in `gross`.
    pub crystal_water: Mass,
    /// Moisture in `gross`.
    pub moisture: Mass,
    /// Neither the component nor water.
    pub impurity: Mass,
}

impl Correction {
    /// The steps for `anhydrous` grams of a component out of a bottle of this quality.
    ///
    /// Every step is proportional to the mass, so that a plan for 1 g scales to any batch.
    pub fn of(anhydrous: Mass, component: &Component, quality: &Quality) -> Self {
        let as_asked = form::with_water(anhydrous, component, component.crystal_water());
        let in_form = form::with_water(anhydrous, component, quality.crystal_water(component));
        let after_assay = assay::gross_of_pure(in_form, quality);
        let gross = moisture::wet(after_assay, quality);
        let moisture = gross * quality.moisture_value();
        // A hydrate counted above 100 % has lost water: what is missing is crystal water.
        let lost = (in_form - gross).get().max(0.0);
        let crystal_water = Mass::new((in_form - anhydrous).get() - lost);
        let rest = (gross - anhydrous - crystal_water - moisture).get();
        // What a subtraction leaves behind its last digit is no impurity.
        let impurity = Mass::new(if rest <= 1e-12 * gross.get() { 0.0 } else { rest });
        Self { anhydrous, as_asked, in_form, after_assay, gross, crystal_water, moisture, impurity }
    }

    /// The steps for `gross` grams on the balance.
    pub fn of_gross(gross: Mass, component: &Component, quality: &Quality) -> Self {
        let of_one = Self::of(Mass::new(1.0), component, quality);
        of_one.scaled(gross / of_one.gross)
    }

    /// Crystal water and moisture.
    pub fn water(&self) -> Mass {
        self.crystal_water + self.moisture
    }

    /// All steps times `factor`.
    pub fn scaled(&self, factor: f64) -> Self {
        Self {
            anhydrous: self.anhydrous * factor,
            as_asked: self.as_asked * factor,
            in_form: self.in_form * factor,
            after_assay: self.after_assay * factor,
            gross: self.gross * factor,
            crystal_water: self.crystal_water * factor,
            moisture: self.moisture * factor,
            impurity: self.impurity * factor,
        }
    }
}
