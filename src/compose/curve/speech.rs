//! Where a curve says something: a law can be computed far beyond where it means anything.

use super::fit::PropertyCurve;
use crate::statistics::curve_fit::{Band, Form};

/// A band of the curve below the points that is wider than at the coldest of them by this factor says nothing.
const MOST_WIDENING: f64 = 10.0;
/// Steps of the search for the lowest temperature.
const HALVINGS: usize = 60;

/// Why a curve says nothing at a place.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Silence {
    /// Below T₀, or so near above that the band is wider than the curve at the coldest point by the factor that is allowed.
    TooCold {
        /// The lowest temperature that it speaks for, in kelvin.
        lowest: f64,
    },
    /// Too far above the points: what it has there is no number, or its band holds everything.
    TooFar,
    /// The form falls to 0 or below, where the property can't be.
    NotPositive,
}

impl PropertyCurve {
    /// The curve with its bands, where it says something. Below [`Silence::TooCold::lowest`] a law of Vogel, Fulcher and
    /// Tammann rises beyond all bounds towards T₀ and means nothing below it.
    ///
    /// # Errors
    /// Why it says nothing there.
    pub fn at(&self, kelvin: f64, water: Option<f64>) -> Result<Band, Silence> {
        let band = self.band(kelvin, water);
        if self.form == Form::Line {
            return if 0.0 < band.y { Ok(band) } else { Err(Silence::NotPositive) };
        }
        if self.speaks(kelvin, water) {
            return Ok(band);
        }
        Err(if kelvin < self.kelvins.0 { self.too_cold(water) } else { Silence::TooFar })
    }

    /// True inside of the points; beyond them while the band has not widened past all use.
    fn speaks(&self, kelvin: f64, water: Option<f64>) -> bool {
        let band = self.band(kelvin, water);
        if !(band.y.is_finite() && 0.0 < band.y) {
            return false;
        }
        let (coldest, warmest) = self.kelvins;
        if (coldest..=warmest).contains(&kelvin) {
            return true;
        }
        let t0 = self.parameters.iter().find(|(name, _)| *name == "T0").map(|(_, own)| *own);
        if let Some(t0) = t0 {
            let highest = if t0.interval.1.is_finite() { t0.interval.1 } else { t0.value };
            if kelvin <= highest {
                return false;
            }
        }
        let width = |band: Band| band.mean.1 / band.mean.0;
        let (here, there) = (width(band), width(self.band(kelvin.clamp(coldest, warmest), water)));
        if there.is_nan() {
            // Without a band half of the way to T₀ is as far as anybody should go.
            return t0.is_none_or(|t0| (coldest + t0.value) / 2.0 <= kelvin);
        }
        here <= MOST_WIDENING * there
    }

    fn too_cold(&self, water: Option<f64>) -> Silence {
        let (mut silent, mut speaking) = (0.0, self.kelvins.0);
        for _ in 0..HALVINGS {
            let middle = (silent + speaking) / 2.0;
            if self.speaks(middle, water) { speaking = middle } else { silent = middle }
        }
        Silence::TooCold { lowest: speaking }
    }
}
