//! What is measured of a liquid beside its mass: viscosity, conductivity, and the rate of a thermal scan.

use super::define::quantity;

quantity!(
    /// A dynamic viscosity in millipascal seconds.
    Viscosity, "viscosity", base "mPa·s",
    units [("mPa·s", 1.0), ("mPa.s", 1.0), ("mPas", 1.0), ("mPa s", 1.0), ("cP", 1.0), ("Pa·s", 1e3), ("Pa s", 1e3)],
    from 0.0 to 1e12, example "37 mPa·s"
);
quantity!(
    /// An electrical conductivity in millisiemens per centimetre.
    Conductivity, "conductivity", base "mS/cm",
    units [("mS/cm", 1.0), ("µS/cm", 1e-3), ("uS/cm", 1e-3), ("S/m", 10.0), ("S/cm", 1e3), ("mS/m", 1e-2)],
    from 0.0 to 1e6, example "7.6 mS/cm"
);
quantity!(
    /// A heating or cooling rate in kelvin per minute.
    ScanRate, "scan rate", base "K/min",
    units [("K/min", 1.0), ("°C/min", 1.0), ("K/s", 60.0)],
    from -1e5 to 1e5, example "5 K/min"
);
