//! Every component of one list with every component of the others, at every ratio.

use std::collections::HashSet;
use std::sync::Arc;

use crate::component::{Component, Composition};
use crate::quantity::{Amount, Mass};

/// Components with their moles, in the order asked for.
#[derive(Debug, Clone, PartialEq)]
pub struct Combination {
    /// Each component with its part of the ratio, above 0.
    pub parts: Vec<(Arc<Component>, f64)>,
}

/// All combinations, and what was left out of them.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Combinations {
    /// Each composition once.
    pub list: Vec<Combination>,
    /// Left out: a component would meet itself.
    pub with_itself: usize,
    /// Left out: the composition is there already, the other way round.
    pub again: usize,
}

/// Compositions that differ by less are the same.
const SAME: f64 = 1e9;

/// Takes one component out of each list, at each ratio; a ratio has a number above 0 for each list.
pub fn combinations(lists: &[Vec<Arc<Component>>], ratios: &[Vec<f64>]) -> Combinations {
    let mut found = Combinations::default();
    let mut seen = HashSet::new();
    for components in product(lists) {
        let itself = (1..components.len())
            .any(|at| components[..at].iter().any(|other| other.id == components[at].id));
        if itself {
            found.with_itself += ratios.len();
            continue;
        }
        for ratio in ratios {
            let parts = components.iter().cloned().zip(ratio.iter().copied()).collect();
            let combination = Combination { parts };
            match seen.insert(combination.key()) {
                true => found.list.push(combination),
                false => found.again += 1,
            }
        }
    }
    found
}

fn product(lists: &[Vec<Arc<Component>>]) -> Vec<Vec<Arc<Component>>> {
    lists.iter().fold(vec![Vec::new()], |before, list| {
        let longer = |own: &Vec<Arc<Component>>| {
            let own = own.clone();
            list.iter().map(move |next| [&own[..], &[Arc::clone(next)]].concat()).collect::<Vec<_>>()
        };
        before.iter().flat_map(longer).collect()
    })
}

impl Combination {
    /// The ratio as text: "1:2".
    pub fn ratio(&self) -> String {
        self.parts.iter().map(|(_, moles)| moles.to_string()).collect::<Vec<_>>().join(":")
    }

    /// As a recipe in one line: "choline-chloride:urea 1:2".
    pub fn shorthand(&self) -> String {
        let ids: Vec<&str> = self.parts.iter().map(|(component, _)| component.id.as_str()).collect();
        format!("{} {}", ids.join(":"), self.ratio())
    }

    /// Mole fractions in the order of the parts.
    pub fn mole_fractions(&self) -> Vec<f64> {
        let total: f64 = self.parts.iter().map(|(_, moles)| moles).sum();
        self.parts.iter().map(|(_, moles)| moles / total).collect()
    }

    /// Grams of each component as named in a gram of the liquid; `None` where one has no molar mass.
    pub fn mass_fractions(&self) -> Option<Vec<f64>> {
        let mass = |(component, moles): &(Arc<Component>, f64)| Some(component.molar_mass()?.get() * moles);
        let masses: Vec<f64> = self.parts.iter().map(mass).collect::<Option<_>>()?;
        let total: f64 = masses.iter().sum();
        Some(masses.iter().map(|mass| mass / total).collect())
    }

    /// The mixture as made out of pure, dry components; crystal water counts as water. `None` where one has no molar
    /// mass.
    pub fn composition(&self) -> Option<Composition> {
        let mut made = Composition::default();
        for (component, moles) in &self.parts {
            let mass = component.molar_mass()?.get() * moles;
            if component.is_water() {
                made.water = made.water + Mass::new(mass);
                continue;
            }
            let anhydrous = mass / component.named_per_anhydrous();
            made.add(component, Some(Amount::new(*moles)), Mass::new(anhydrous), true);
            made.water = made.water + Mass::new(mass - anhydrous);
        }
        Some(made)
    }

    /// The same for the same composition, whatever the order of its parts and the size of its numbers.
    fn key(&self) -> Vec<(String, i64)> {
        let shares = self.mole_fractions();
        let part = |((component, _), share): (&(Arc<Component>, f64), f64)| {
            (component.id.to_string(), (share * SAME).round() as i64)
        };
        let mut key: Vec<(String, i64)> = self.parts.iter().zip(shares).map(part).collect();
        key.sort();
        key
    }

    /// True if it is this composition: ids with moles, in any order.
    pub fn is(&self, others: &[(&str, f64)]) -> bool {
        let known = |id: &str| self.parts.iter().any(|(component, _)| component.id.as_str() == id);
        if others.len() != self.parts.len() || !others.iter().all(|(id, _)| known(id)) {
            return false;
        }
        let total: f64 = others.iter().map(|(_, moles)| moles).sum();
        let mut key: Vec<(String, i64)> = others
            .iter()
            .map(|(id, moles)| ((*id).to_owned(), (moles / total * SAME).round() as i64))
            .collect();
        key.sort();
        let own = self.key();
        // Rounding may part two equal shares by one.
        own.iter().zip(&key).all(|(one, other)| one.0 == other.0 && (one.1 - other.1).abs() <= 1)
    }
}
