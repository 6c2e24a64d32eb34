//! Fractions by mass and by amount, and relative sizes: three types that are never swapped silently.

use std::fmt;

use super::define::{quantity, unprinted};

quantity!(
    /// A mass fraction, 0 to 1 in a mixture. An assay of a hydrate may exceed 1 (see `Quality`).
    MassFraction, "mass fraction", base "g/g",
    units [
        ("%", 1e-2), ("wt%", 1e-2), ("wt %", 1e-2), ("% w/w", 1e-2), ("ppm", 1e-6), ("mg/kg", 1e-6),
        ("g/g", 1.0), ("mg/g", 1e-3), ("g/kg", 1e-3),
    ],
    from 0.0 to 3.0, example "2 wt%"
);
quantity!(
    /// A mole fraction, 0 to 1, of components counted one by one.
    MoleFraction, "mole fraction", base "mol/mol",
    units [("mol%", 1e-2), ("mol/mol", 1.0)],
    from 0.0 to 1.0, example "33.3 mol%"
);
unprinted!(
    /// A relative size such as a tolerance or a spare, as a plain ratio (0.01 is one percent).
    Relative, "relative size", base "(ratio)",
    units [("%", 1e-2), ("ppm", 1e-6)],
    from 0.0 to 100.0, example "1 %"
);

impl MassFraction {
    /// The value in percent by mass.
    pub fn percent(self) -> f64 {
        self.get() * 100.0
    }

    /// The value in milligrams per kilogram.
    pub fn ppm(self) -> f64 {
        self.get() * 1e6
    }
}

impl Relative {
    /// The value in percent.
    pub fn percent(self) -> f64 {
        self.get() * 100.0
    }
}

/// In percent, since a bare ratio is not read.
impl fmt::Display for Relative {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Display::fmt(&self.percent(), f)?;
        f.write_str(" %")
    }
}
