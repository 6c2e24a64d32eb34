//! One component: what the table knows of a substance.

use std::fmt;

use serde::{Deserialize, Serialize};

use super::cas::Cas;
use super::group::Group;
use super::hazard::Hazard;
use super::property::{DensityAt, Fusion, HeatLimit, Melting, Transition};
use super::role::Role;
use crate::chemistry::Formula;
use crate::quantity::{Density, MolarMass, Temperature};

/// The name by which the program knows a component: lower case, digits and hyphens.
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct ComponentId(String);

/// State of the pure substance at 25 °C and 1 bar.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum State {
    /// A solid.
    Solid,
    /// A liquid, which can be measured by volume.
    Liquid,
    /// A gas.
    Gas,
}

/// How readily a component takes up water from air; the later, the more.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(rename_all = "snake_case")]
pub enum Moistness {
    /// Not noticeably.
    None,
    /// Over hours or days.
    Moderate,
    /// Within minutes.
    Strong,
}

/// Water uptake with its source.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Hygroscopic {
    /// How readily.
    pub level: Moistness,
    /// The source.
    pub source: String,
}

/// A substance in the component table.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct Component {
    /// Its id.
    pub id: ComponentId,
    /// Its name as on a bottle.
    pub name: String,
    /// Other names, without spaces.
    pub aliases: Vec<String>,
    /// What it is used for, the main role first.
    pub roles: Vec<Role>,
    /// CAS Registry Number.
    pub cas: Option<Cas>,
    /// Formula; none for a polymer or a powder mix. The molar mass is always computed from it.
    pub formula: Option<Formula>,
    /// For a hydrate: the anhydrous substance in the table.
    pub hydrate_of: Option<ComponentId>,
    /// Source of name, number and formula.
    pub identity: String,
    /// State at 25 °C.
    pub state: Option<State>,
    /// Water uptake.
    pub hygroscopic: Option<Hygroscopic>,
    /// Reactive groups.
    pub groups: Vec<Group>,
    /// Densities; several where sources disagree, the preferred first.
    pub density: Vec<DensityAt>,
    /// Melting points, the preferred first.
    pub melting: Vec<Melting>,
    /// Fusion data, the preferred first.
    pub fusion: Vec<Fusion>,
    /// Transitions between solids.
    pub transition: Vec<Transition>,
    /// What happens on heating.
    pub heat_limit: Vec<HeatLimit>,
    /// Hazard data.
    pub hazard: Hazard,
    /// Anything else.
    pub note: Option<String>,
}

impl ComponentId {
    /// The id of this text, if it is lower case letters, digits and single hyphens.
    pub fn from_text(text: &str) -> Option<Self> {
        let allowed = |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || c == '-';
        let fits = text.starts_with(|c: char| c.is_ascii_alphanumeric())
            && !text.ends_with('-')
            && text.chars().all(allowed);
        fits.then(|| Self(text.to_owned()))
    }

    /// Its text.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

/// A table is searched by the text of an id, which has the same hash and order.
impl std::borrow::Borrow<str> for ComponentId {
    fn borrow(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for ComponentId {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl Component {
    /// The id of water, which the program must know by name.
    pub const WATER: &'static str = "water";

    /// True for water itself.
    pub fn is_water(&self) -> bool {
        self.id.as_str() == Self::WATER
    }

    /// Molar mass of the component as named, crystal water included.
    pub fn molar_mass(&self) -> Option<MolarMass> {
        self.formula.as_ref().map(Formula::molar_mass)
    }

    /// Grams of the component as named for each gram without crystal water: 1 unless its formula is a
    /// hydrate's.
    pub fn named_per_anhydrous(&self) -> f64 {
        self.formula.as_ref().map_or(1.0, |formula| formula.molar_mass() / formula.anhydrous_molar_mass())
    }

    /// Moles of crystal water per mole, by the formula; 0 for water itself and for no formula.
    pub fn crystal_water(&self) -> f64 {
        self.formula.as_ref().map_or(0.0, Formula::crystal_water)
    }

    /// The main role, which every component has.
    pub fn main_role(&self) -> Role {
        self.roles.first().copied().unwrap_or(Role::Additive)
    }

    /// True if it can be measured by volume.
    pub fn is_liquid(&self) -> bool {
        self.state == Some(State::Liquid)
    }

    /// True if the component belongs to the group of this name.
    pub fn in_group(&self, name: &str) -> bool {
        self.groups.iter().any(|group| group.as_str() == name)
    }

    /// Density at a temperature from the first source that reaches there.
    pub fn density_at(&self, temperature: Temperature) -> Option<(Density, &DensityAt)> {
        self.density.iter().find_map(|entry| Some((entry.at_temperature(temperature)?, entry)))
    }
}

impl State {
    /// From the word in a table file.
    pub fn from_word(word: &str) -> Option<Self> {
        match word {
            "solid" => Some(Self::Solid),
            "liquid" => Some(Self::Liquid),
            "gas" => Some(Self::Gas),
            _ => None,
        }
    }

    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::Solid => "solid",
            Self::Liquid => "liquid",
            Self::Gas => "gas",
        }
    }
}

impl Moistness {
    /// From the word in a table file.
    pub fn from_word(word: &str) -> Option<Self> {
        match word {
            "none" => Some(Self::None),
            "moderate" => Some(Self::Moderate),
            "strong" => Some(Self::Strong),
            _ => None,
        }
    }

    /// The word for it.
    pub const fn word(self) -> &'static str {
        match self {
            Self::None => "none",
            Self::Moderate => "moderate",
            Self::Strong => "strong",
        }
    }
}
