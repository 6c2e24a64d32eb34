//! Molar enthalpies, of fusion and of transitions, and molar heat capacities.

use super::define::quantity;

quantity!(
    /// A molar enthalpy in joules per mole.
    MolarEnthalpy, "molar enthalpy", base "J/mol",
    units [("J/mol", 1.0), ("kJ/mol", 1e3)],
    from -1e7 to 1e7, example "13.9 kJ/mol"
);
quantity!(
    /// A molar heat capacity, or the difference of two, in joules per mole and kelvin.
    MolarHeatCapacity, "molar heat capacity", base "J/mol/K",
    units [("J/mol/K", 1.0), ("J/(mol K)", 1.0), ("J/K/mol", 1.0)],
    from -1e4 to 1e4, example "60 J/mol/K"
);
