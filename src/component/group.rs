//! Reactive groups: what a component is to another when the two meet.

use std::fmt;

use serde::{Deserialize, Serialize};

/// A reactive group by its name, one of [`GROUPS`].
#[derive(Debug, Clone, PartialEq, Eq, Hash, PartialOrd, Ord, Serialize, Deserialize)]
#[serde(transparent)]
pub struct Group(String);

/// All groups. The first sixteen follow the reactivity groups of EPA-600/2-80-076, narrowed to what is
/// met at this bench; the others are the finer marks that single rules need.
pub const GROUPS: [&str; 44] = [
    "oxidiser-strong",
    "oxidiser-mild",
    "organic-fuel",
    "reducing-agent",
    "acid-mineral",
    "acid-organic",
    "base-strong",
    "active-metal",
    "ammonium-amine-urea",
    "hypochlorite",
    "cyanide-sulfide-azide-sulfite",
    "halide-quaternary",
    "water-reactive",
    "hygroscopic",
    "aldehyde",
    "water",
    "perchlorate-chlorate-nitrate",
    "peroxide",
    "ammonium-salt",
    "urea",
    "carbon-powder",
    "alcohol",
    "amide",
    "phenol",
    "nitrile",
    "sulfoxide",
    "chloride-acidic",
    "acid-sulfuric-nitric",
    "azide",
    "chromium-iii",
    "zinc-powder",
    "zinc-metal",
    "fluoride",
    "acid-reducing",
    "choline",
    "manganese-dioxide",
    "iron-copper-oxidant",
    "acid-chloride",
    "chloride-strongly-acidic",
    "extreme-ph",
    "halide-salt",
    "heavy-metal",
    "zinc-halide",
    "ketone",
];

impl Group {
    /// The group of this name, if there is one.
    pub fn from_name(name: &str) -> Option<Self> {
        GROUPS.contains(&name).then(|| Self(name.to_owned()))
    }

    /// Its name.
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl fmt::Display for Group {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}
