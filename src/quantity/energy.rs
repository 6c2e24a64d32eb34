//! Molar enthalpy, of fusion and of transitions.

use super::define::quantity;

quantity!(
    /// A molar enthalpy in joules per mole.
    MolarEnthalpy, "molar enthalpy", base "J/mol",
    units [("J/mol", 1.0), ("kJ/mol", 1e3)],
    from -1e7 to 1e7, example "13.9 kJ/mol"
);
