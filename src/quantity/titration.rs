//! What a titration is reckoned in.

use super::define::quantity;

quantity!(
    /// An electric charge in coulombs, as a coulometer counts it; of a cell, mostly in milliampere hours.
    ElectricCharge, "electric charge", base "C",
    units [
        ("C", 1.0), ("mC", 1e-3), ("µC", 1e-6), ("uC", 1e-6), ("mAh", 3.6), ("Ah", 3600.0), ("µAh", 3.6e-3),
        ("uAh", 3.6e-3),
    ],
    from 0.0 to 1e9, example "8.57 C"
);
quantity!(
    /// The titre of a titrant: milligrams of what is titrated per millilitre.
    Titre, "titre", base "mg/mL",
    units [("mg/mL", 1.0), ("mg/ml", 1.0), ("g/L", 1.0), ("g/l", 1.0)],
    from 0.0 to 1e4, example "5 mg/mL"
);
quantity!(
    /// What a titration cell takes up by itself, in micrograms of water per minute.
    Drift, "drift", base "µg/min",
    units [("µg/min", 1.0), ("ug/min", 1.0), ("mg/min", 1e3)],
    from 0.0 to 1e6, example "10 µg/min"
);

impl ElectricCharge {
    /// The value in milliampere hours.
    pub fn milliampere_hours(self) -> f64 {
        self.get() / 3.6
    }
}
