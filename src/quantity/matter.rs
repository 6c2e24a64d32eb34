//! Mass, amount of substance, molar mass, volume, density, and how they make one another.

use super::define::quantity;

quantity!(
    /// A mass in grams.
    Mass, "mass", base "g",
    units [("g", 1.0), ("mg", 1e-3), ("µg", 1e-6), ("ug", 1e-6), ("kg", 1e3)],
    from 0.0 to 1e9, example "50 g"
);
quantity!(
    /// An amount of substance in moles.
    Amount, "amount of substance", base "mol",
    units [("mol", 1.0), ("mmol", 1e-3), ("µmol", 1e-6), ("umol", 1e-6)],
    from 0.0 to 1e9, example "0.25 mol"
);
quantity!(
    /// A molar mass in grams per mole.
    MolarMass, "molar mass", base "g/mol",
    units [("g/mol", 1.0), ("kg/mol", 1e3)],
    from 0.0 to 1e9, example "139.62 g/mol"
);
quantity!(
    /// A volume in millilitres.
    Volume, "volume", base "mL",
    units [("mL", 1.0), ("ml", 1.0), ("µL", 1e-3), ("uL", 1e-3), ("L", 1e3), ("l", 1e3), ("cm3", 1.0), ("cm³", 1.0)],
    from 0.0 to 1e9, example "25 mL"
);
quantity!(
    /// A density in grams per millilitre.
    Density, "density", base "g/mL",
    units [
        ("g/mL", 1.0), ("g/ml", 1.0), ("g/cm3", 1.0), ("g/cm³", 1.0), ("kg/L", 1.0), ("kg/l", 1.0),
        ("kg/m3", 1e-3), ("kg/m³", 1e-3), ("mg/mL", 1e-3), ("g/L", 1e-3),
    ],
    from 0.0 to 100.0, example "1.205 g/mL"
);

impl std::ops::Mul<MolarMass> for Amount {
    type Output = Mass;
    fn mul(self, molar_mass: MolarMass) -> Mass {
        Mass::new(self.get() * molar_mass.get())
    }
}

impl std::ops::Div<MolarMass> for Mass {
    type Output = Amount;
    fn div(self, molar_mass: MolarMass) -> Amount {
        Amount::new(self.get() / molar_mass.get())
    }
}

impl std::ops::Div<Density> for Mass {
    type Output = Volume;
    fn div(self, density: Density) -> Volume {
        Volume::new(self.get() / density.get())
    }
}

impl std::ops::Mul<Density> for Volume {
    type Output = Mass;
    fn mul(self, density: Density) -> Mass {
        Mass::new(self.get() * density.get())
    }
}
