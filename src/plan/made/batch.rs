//! Some of a batch put into another: everything of it in proportion, its bottles' deviations shared with
//! whatever else came out of the same bottles.

use super::content::{MassSource, add_mass};
use super::{ComponentEstimate, Estimate, Estimates, Made};
use crate::quantity::Mass;

impl Estimates {
    /// Puts `mass` of a batch in. A batch of no mass has nothing to give.
    pub(super) fn put_in_batch(&mut self, code: &str, made: &Made, mass: Mass, sources: &[MassSource]) {
        let from = &made.estimates;
        if from.mass.value <= 0.0 {
            return;
        }
        let taken = |part: &Estimate| {
            let mut taken = part.share_of(&from.mass).scaled(mass.get()).renamed(|source| {
                // What is unstated of a source stands behind a colon.
                let (name, said) = source
                    .split_once(": ")
                    .map_or((source, String::new()), |(name, said)| (name, format!(": {said}")));
                let own = from.weighings.iter().any(|own| own == name);
                if own { format!("{name}, for {code}{said}") } else { source.to_owned() }
            });
            let per_gram = taken.value / mass.get();
            add_mass(&mut taken, sources, per_gram);
            taken
        };
        self.water.add(taken(&from.water));
        self.unknown += from.unknown * (mass.get() / from.mass.value);
        for own in &from.components {
            self.add_component(ComponentEstimate {
                component: std::sync::Arc::clone(&own.component),
                in_ratio: own.in_ratio,
                anhydrous: own.anhydrous * (mass.get() / from.mass.value),
                amount: own.amount.as_ref().map(taken),
                named: taken(&own.named),
            });
        }
    }
}
