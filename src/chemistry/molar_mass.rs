//! Molar mass, its uncertainty, and mass fractions, from atomic weights.

use super::atom_counts::AtomCounts;
use super::element::{AtomicWeight, Element};
use super::hill;
use crate::quantity::{MassFraction, MolarMass};

/// The atoms of water.
const WATER: [(&str, f64); 2] = [("H", 2.0), ("O", 1.0)];

/// The molar mass of water, H2O, from the atomic weights.
pub fn water_molar_mass() -> MolarMass {
    let weight = |(symbol, count): (&str, f64)| Some(Element::from_symbol(symbol)?.weight()?.value * count);
    WATER.into_iter().filter_map(weight).sum()
}

/// M = Σ n·A over the elements.
pub(super) fn of(atoms: &AtomCounts) -> MolarMass {
    weights(atoms).map(|(_, count, weight)| weight.value * count).sum()
}

/// u(M) = √Σ (n·u(A))² over the elements (JCGM 100:2008, 5.1.2; weights of different elements are not
/// correlated).
pub(super) fn uncertainty(atoms: &AtomCounts) -> MolarMass {
    let square = |count: f64, u: MolarMass| (count * u.get()).powi(2);
    let variance: f64 = weights(atoms).map(|(_, count, w)| square(count, w.standard_uncertainty)).sum();
    MolarMass::new(variance.sqrt())
}

/// w = n·A / M of each element, in Hill order.
pub(super) fn fractions(atoms: &AtomCounts) -> Vec<(Element, MassFraction)> {
    let whole = of(atoms);
    let fraction = |(element, count): (Element, f64)| {
        Some((element, MassFraction::new(element.weight()?.value * count / whole)))
    };
    hill::ordered(atoms).into_iter().filter_map(fraction).collect()
}

/// Every element of a formula has a weight, since the parser refuses those that have none.
fn weights(atoms: &AtomCounts) -> impl Iterator<Item = (Element, f64, AtomicWeight)> {
    atoms.iter().filter_map(|(element, count)| Some((element, count, element.weight()?)))
}
