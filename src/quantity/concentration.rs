//! Molality and molarity: two different questions, two types.

use super::define::quantity;

quantity!(
    /// Moles per kilogram of the dry acceptor and donor, water and salts not counted.
    Molality, "molality", base "mol/kg",
    units [("mol/kg", 1.0), ("mmol/kg", 1e-3)],
    from 0.0 to 1e3, example "0.5 mol/kg"
);
quantity!(
    /// Moles per litre of the final solution.
    Molarity, "molarity", base "mol/L",
    units [("mol/L", 1.0), ("mol/l", 1.0), ("mmol/L", 1e-3), ("mmol/l", 1e-3), ("mol/dm3", 1.0), ("mol/dm³", 1.0)],
    from 0.0 to 1e3, example "0.3 mol/L"
);
