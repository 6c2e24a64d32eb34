//! What a multimeter shows: voltage, current, resistance.

use super::define::quantity;

quantity!(
    /// A voltage in volts.
    Voltage, "voltage", base "V",
    units [("V", 1.0), ("mV", 1e-3), ("µV", 1e-6), ("uV", 1e-6), ("kV", 1e3)],
    from -1e6 to 1e6, example "1.482 V"
);
quantity!(
    /// A current in amperes.
    Current, "current", base "A",
    units [("A", 1.0), ("mA", 1e-3), ("µA", 1e-6), ("uA", 1e-6), ("nA", 1e-9)],
    from -1e6 to 1e6, example "0.64 A"
);
quantity!(
    /// A resistance in ohms. The sign of the unit is read as the Greek letter and as the ohm sign.
    Resistance, "resistance", base "Ω",
    units [
        ("Ω", 1.0), ("\u{2126}", 1.0), ("ohm", 1.0), ("ohms", 1.0), ("mΩ", 1e-3), ("m\u{2126}", 1e-3),
        ("mohm", 1e-3), ("kΩ", 1e3), ("k\u{2126}", 1e3), ("kohm", 1e3), ("MΩ", 1e6), ("Mohm", 1e6),
    ],
    from 0.0 to 1e12, example "10 ohm"
);
