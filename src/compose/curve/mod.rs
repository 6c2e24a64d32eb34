//! Density, viscosity and conductivity of a liquid against temperature and water: curves through measured series, with
//! bands and with a word on where the points end.
//!
//! ```
//! use meltbook::compose::curve::{published_series, fit_series};
//! use meltbook::quantity::Property;
//! use meltbook::statistics::curve_fit::Form;
//!
//! let series = published_series(Property::Viscosity, ("choline-chloride", "glycerol"), "1:2");
//! let rodriguez = series.iter().find(|own| own.name.starts_with("Rodriguez")).expect("it is there");
//! let curve = fit_series(rodriguez, Form::Vft, 0.95).expect("seven points are enough");
//! let at_30 = curve.band(303.15, None);
//! assert!((150.0..350.0).contains(&at_30.y));
//! assert!(curve.beyond(303.15, None).is_none());
//! ```

mod fit;
mod level;
mod published;
mod series;
mod shape;
mod sources;
mod speech;
mod walden;

pub use fit::{Beyond, CurveRefusal, Joining, PropertyCurve, fit_series, fit_together};
pub use published::{Mixture, published_mixtures, published_series};
pub use series::{PropertyPoint, Series};
pub use speech::Silence;
pub use walden::{IDEAL_PRODUCT, MolarBasis, Walden, WaldenPoint, walden};
