//! A formula that has been read, and what it says.

use std::str::FromStr;

use serde::{Deserialize, Deserializer, Serialize, Serializer};

use super::atom_counts::AtomCounts;
use super::element::Element;
use super::formula_error::FormulaError;
use super::{hill, molar_mass, parse};
use crate::quantity::{MassFraction, MolarMass};

/// A chemical formula whose every element has a standard atomic weight.
///
/// It is read from text by [`FromStr`]:
///
/// - elements with whole counts, `H2O` or `H₂O`; brackets `()`, `[]`, `{}` to 64 deep
/// - adducts joined by `·`, `•`, `⋅`, `*` or a full stop, each part with an optional whole or fractional
///   count: `ZnCl2.2H2O`, `CaSO4·0.5H2O`, `CaSO4·1/2H2O`, `CaSO4·½H2O`. A full stop between two digits is
///   read as joining only where it can't be a decimal point: before a count of water, or before a count
///   with a decimal point of its own, and never behind a count of 0 or 1
/// - a leading count, `2H2O`
/// - one charge at the end of a formula without adducts, `Zn^2+`, `Zn^+2`, `Zn²⁺`. A sign without `^` is
///   refused, since `Zn2+` may be two zincs
///
/// The mass of electrons is not taken off or added for a charge: at most 0.00055 g/mol for each.
///
/// ```
/// use meltbook::chemistry::Formula;
/// let formula: Formula = "ZnCl2·2H2O".parse()?;
/// assert_eq!(formula.hill(), "Cl2H4O2Zn");
/// assert_eq!(format!("{:.2}", formula.molar_mass().get()), "172.31");
/// assert_eq!(formula.crystal_water(), 2.0);
/// # Ok::<(), meltbook::chemistry::FormulaError>(())
/// ```
#[derive(Debug, Clone, PartialEq)]
pub struct Formula {
    pub(super) text: String,
    pub(super) parts: Vec<Part>,
    pub(super) charge: i32,
}

/// One part of an adduct, or all of a formula that is none.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Part {
    pub(super) count: f64,
    pub(super) atoms: AtomCounts,
}

impl Formula {
    /// The text as typed, without the space around it.
    pub fn text(&self) -> &str {
        &self.text
    }

    /// The empirical order of elements: carbon, hydrogen, then the others by symbol; all by symbol if there
    /// is no carbon (Hill 1900). A charge follows, as `^2+`.
    ///
    /// Where a total is not whole, as in a hemihydrate, the parts stay apart, `CaO4S·0.5H2O`: a fraction
    /// behind an element would read as an adduct.
    pub fn hill(&self) -> String {
        hill::formula(self)
    }

    /// Each element once, with its number of atoms in the whole formula, by atomic number.
    pub fn atoms(&self) -> impl Iterator<Item = (Element, f64)> {
        self.all_atoms().into_iter()
    }

    /// Charge in elementary charges.
    pub fn charge(&self) -> i32 {
        self.charge
    }

    /// Moles of crystal water per mole of formula: the adduct parts that are exactly water. Zero if the
    /// whole formula is water.
    pub fn crystal_water(&self) -> f64 {
        if self.is_water() {
            return 0.0;
        }
        // Not `sum`, which gives -0 for nothing.
        self.parts.iter().filter_map(Part::water).fold(0.0, |moles, part| moles + part)
    }

    /// The molar mass without the crystal water; of a formula that is all water, its molar mass.
    pub fn anhydrous_molar_mass(&self) -> MolarMass {
        let all_water = self.is_water();
        molar_mass::of(&self.atom_counts(|part| all_water || part.water().is_none()))
    }

    /// The molar mass, all parts of an adduct together.
    pub fn molar_mass(&self) -> MolarMass {
        molar_mass::of(&self.all_atoms())
    }

    /// Standard uncertainty of the molar mass: the root of the sum of squares, over elements, of number of
    /// atoms times standard uncertainty of the weight. Atoms of one element move together.
    pub fn molar_mass_uncertainty(&self) -> MolarMass {
        molar_mass::uncertainty(&self.all_atoms())
    }

    /// The mass fraction of each element, in Hill order. They add up to one.
    pub fn mass_fractions(&self) -> Vec<(Element, MassFraction)> {
        molar_mass::fractions(&self.all_atoms())
    }

    pub(super) fn all_atoms(&self) -> AtomCounts {
        self.atom_counts(|_| true)
    }

    fn atom_counts(&self, counts: impl Fn(&Part) -> bool) -> AtomCounts {
        let mut atoms = AtomCounts::default();
        self.parts.iter().filter(|part| counts(part)).for_each(|part| atoms.add_all(&part.atoms, part.count));
        atoms
    }

    fn is_water(&self) -> bool {
        self.parts.iter().all(|part| part.water().is_some())
    }
}

impl Part {
    /// Moles of water, if the part is nothing else.
    pub(super) fn water(&self) -> Option<f64> {
        self.atoms.as_water().map(|molecules| molecules * self.count)
    }
}

impl FromStr for Formula {
    type Err = FormulaError;

    fn from_str(text: &str) -> Result<Self, FormulaError> {
        parse::formula(text)
    }
}

impl std::fmt::Display for Formula {
    fn fmt(&self, f: &mut std::fmt::Formatter<'_>) -> std::fmt::Result {
        f.pad(&self.text)
    }
}

impl Serialize for Formula {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        serializer.serialize_str(&self.text)
    }
}

impl<'de> Deserialize<'de> for Formula {
    fn deserialize<D: Deserializer<'de>>(deserializer: D) -> Result<Self, D::Error> {
        let text = String::deserialize(deserializer)?;
        text.parse().map_err(|error| serde::de::Error::custom(format!("formula {text:?}: {error}")))
    }
}
