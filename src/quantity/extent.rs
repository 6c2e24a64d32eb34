//! Length, area and pressure, as a cell design states them.

use super::define::quantity;

quantity!(
    /// A length in millimetres.
    Length, "length", base "mm",
    units [("mm", 1.0), ("cm", 10.0), ("µm", 1e-3), ("um", 1e-3), ("m", 1e3)],
    from 0.0 to 1e6, example "0.25 mm"
);
quantity!(
    /// An area in square centimetres.
    Area, "area", base "cm²",
    units [("cm²", 1.0), ("cm2", 1.0), ("mm²", 1e-2), ("mm2", 1e-2), ("m²", 1e4), ("m2", 1e4)],
    from 0.0 to 1e8, example "4.0 cm2"
);
quantity!(
    /// A pressure in kilopascals.
    Pressure, "pressure", base "kPa",
    units [("kPa", 1.0), ("Pa", 1e-3), ("MPa", 1e3), ("bar", 100.0), ("mbar", 0.1), ("N/cm2", 10.0), ("N/cm²", 10.0)],
    from 0.0 to 1e6, example "50 kPa"
);
