//! Atomic weights, formulas, molar masses.
//!
//! A [`Formula`] is text such as `(CH3)3N(CH2CH2OH)Cl` or `ZnSO4·7H2O` that has been read once; from then
//! on it has a molar mass with its uncertainty, mass fractions and its crystal water. What can't be read
//! with certainty is refused with the place in the text and a way out: a formula that is read as something
//! else gives a wrong mass on the balance.
//!
//! Sources:
//! - atomic weights: abridged to five figures, IUPAC 2021 (doi 10.1515/pac-2019-0603) with the revisions of
//!   2024; the table with its uncertainties is `data/elements.csv`
//! - standard uncertainty from a tabulated half-width: JCGM 100:2008, 4.3.7
//! - order of elements in a Hill formula: Hill, J. Am. Chem. Soc. 22 (1900) 478, doi 10.1021/ja02046a005
//! - notation of formulas, adducts and charges: IUPAC, Nomenclature of Inorganic Chemistry,
//!   Recommendations 2005, IR-4

mod atom_counts;
mod charge;
mod count;
mod cursor;
mod element;
mod faraday;
mod formula;
mod formula_error;
mod hill;
mod hint;
mod molar_mass;
mod parse;

pub use element::{AtomicWeight, Element};
pub use faraday::FARADAY;
pub use formula::Formula;
pub use formula_error::{FormulaError, FormulaProblem};
pub use molar_mass::water_molar_mass;
