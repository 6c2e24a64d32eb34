//! Coulometric or volumetric, and how much sample, for the water that is expected.

use serde::{Deserialize, Serialize};

use super::titration::titrant_water;
use crate::quantity::{Mass, MassFraction, Titre, Volume};

/// Water that a coulometric titration aims at: 1 mg (common practice).
pub const COULOMETRIC_AIM: Mass = Mass::new(1e-3);

/// At or below this, coulometric is preferred (ASTM E203-24, significance and use: 500 mg/kg).
const PREFER_COULOMETRIC: MassFraction = MassFraction::new(500e-6);
/// The upper end of the coulometric range (ASTM E1064-23, scope: 0 to 2.0 % by mass).
const COULOMETRIC_RANGE: MassFraction = MassFraction::new(0.02);

/// How the iodine comes to the water.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "lowercase")]
pub enum TitrationMethod {
    /// Made in the cell by a current.
    Coulometric,
    /// Added from a burette.
    Volumetric,
}

/// The method to take, and why.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize)]
pub struct MethodAdvice {
    /// The method.
    pub method: TitrationMethod,
    /// True if a coulometric titration is within its range, even where it is not the first choice.
    pub coulometric_in_range: bool,
    /// Why.
    pub reason: &'static str,
    /// Who says so.
    pub source: &'static str,
}

impl TitrationMethod {
    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Coulometric => "coulometric",
            Self::Volumetric => "volumetric",
        }
    }
}

/// The method for an expected water content.
pub fn method_for(expected: MassFraction) -> MethodAdvice {
    if expected <= PREFER_COULOMETRIC {
        MethodAdvice {
            method: TitrationMethod::Coulometric,
            coulometric_in_range: true,
            reason: "coulometric is preferred at 500 mg/kg of water and below",
            source: "ASTM E203-24, significance and use",
        }
    } else if expected <= COULOMETRIC_RANGE {
        MethodAdvice {
            method: TitrationMethod::Volumetric,
            coulometric_in_range: true,
            reason: "above 500 mg/kg volumetric does; coulometric still reaches to 2.0 wt%",
            source: "ASTM E203-24, significance and use; ASTM E1064-23, scope",
        }
    } else {
        MethodAdvice {
            method: TitrationMethod::Volumetric,
            coulometric_in_range: false,
            reason: "above 2.0 wt% a coulometric sample becomes too small to be precise",
            source: "ASTM E1064-23, scope and significance",
        }
    }
}

/// Sample that holds `aim` of water: aim / w. `None` if no water is expected.
pub fn coulometric_sample(expected: MassFraction, aim: Mass) -> Option<Mass> {
    (MassFraction::ZERO < expected).then(|| aim / expected.get())
}

/// Sample that takes `titrant` of a titre: V T / w. `None` if no water is expected.
pub fn volumetric_sample(expected: MassFraction, titrant: Volume, titre: Titre) -> Option<Mass> {
    coulometric_sample(expected, titrant_water(titrant, titre))
}
