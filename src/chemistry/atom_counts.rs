//! How many atoms of each element: what brackets multiply and adducts add.

use std::collections::BTreeMap;

use super::element::Element;

/// Atoms of each element; no element with none.
#[derive(Debug, Clone, PartialEq, Default)]
pub(super) struct AtomCounts(BTreeMap<Element, f64>);

impl AtomCounts {
    pub(super) fn add(&mut self, element: Element, count: f64) {
        *self.0.entry(element).or_insert(0.0) += count;
    }

    /// Adds the other's atoms, `times` over.
    pub(super) fn add_all(&mut self, other: &Self, times: f64) {
        other.iter().for_each(|(element, count)| self.add(element, count * times));
    }

    pub(super) fn iter(&self) -> impl Iterator<Item = (Element, f64)> {
        self.0.iter().map(|(&element, &count)| (element, count))
    }

    pub(super) fn into_iter(self) -> impl Iterator<Item = (Element, f64)> {
        self.0.into_iter()
    }

    pub(super) fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    pub(super) fn total(&self) -> f64 {
        self.0.values().sum()
    }

    pub(super) fn are_whole(&self) -> bool {
        self.0.values().all(|count| count.fract() == 0.0)
    }

    /// Number of water molecules if this is nothing but water, however written: `H2O`, `OH2`, `(H2O)6`.
    pub(super) fn as_water(&self) -> Option<f64> {
        let symbols = self.iter().map(|(element, _)| element.symbol());
        let counts: Vec<f64> = self.0.values().copied().collect();
        match counts[..] {
            [hydrogen, oxygen] if symbols.eq(["H", "O"]) && hydrogen == 2.0 * oxygen => Some(oxygen),
            _ => None,
        }
    }
}
