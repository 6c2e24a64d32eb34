//! What is not known, component by component, and what that leaves open. Nothing here is ever taken for absence
//! of hazard.

use serde::Serialize;

use super::acute::percent;
use super::aquatic::lacks_m_factor;
use super::class::Kind;
use super::ingredient::Ingredient;
use crate::caution::scheme::Scheme;
use crate::component::Composition;

/// Something that is not known.
#[derive(Debug, Clone, PartialEq, Serialize)]
pub struct Gap {
    /// Id of the component; `None` for what nobody knows.
    pub component: Option<String>,
    /// Its name.
    pub name: String,
    /// Its concentration in % by mass.
    pub percent: f64,
    /// What is missing, in words.
    pub missing: String,
    /// What that leaves open.
    pub leaves_open: Vec<String>,
}

/// What the classes of a family are about, in words.
const FAMILIES: [(&str, &[Kind]); 8] = [
    ("acute toxicity, swallowed", &[Kind::AcuteOral]),
    ("acute toxicity, through skin", &[Kind::AcuteDermal]),
    ("acute toxicity, breathed in", &[Kind::AcuteInhalation]),
    ("skin and eyes", &[Kind::SkinCorrosion, Kind::SkinIrritation, Kind::EyeDamage, Kind::EyeIrritation]),
    ("sensitisation", &[Kind::RespiratorySensitiser, Kind::SkinSensitiser]),
    (
        "germ cells, cancer, reproduction",
        &[Kind::Mutagen, Kind::Carcinogen, Kind::Reproduction, Kind::Lactation],
    ),
    (
        "organs",
        &[Kind::OrgansOnce, Kind::AirwayIrritation, Kind::Narcosis, Kind::OrgansRepeated, Kind::Aspiration],
    ),
    ("water", &[Kind::AquaticAcute, Kind::AquaticChronic]),
];

/// All gaps, the graver first: no data at all, what nobody knows, then what the sources do not speak of.
pub(super) fn gaps(ingredients: &[Ingredient], unknown: f64, scheme: Scheme) -> Vec<Gap> {
    let without = ingredients.iter().filter(|ingredient| ingredient.is_unknown());
    let mut gaps: Vec<Gap> = without.map(|ingredient| no_data(ingredient, scheme)).collect();
    if 0.0 < unknown {
        gaps.push(Gap {
            component: None,
            name: "what came with the components".to_owned(),
            percent: unknown,
            missing: "it is neither a component nor water, and nobody says what it is".to_owned(),
            leaves_open: all(scheme),
        });
    }
    gaps.extend(ingredients.iter().flat_map(|ingredient| details(ingredient, scheme)));
    gaps
}

fn no_data(ingredient: &Ingredient, scheme: Scheme) -> Gap {
    let missing = "no hazard data was found; it counts as unknown, and that says nothing about it";
    Gap::new(ingredient, missing.to_owned(), all(scheme))
}

/// What is missing of a component whose hazards have a source.
fn details(ingredient: &Ingredient, scheme: Scheme) -> Vec<Gap> {
    let mut gaps = Vec::new();
    if !ingredient.is_unknown() {
        gaps.extend(silent(ingredient, scheme));
    }
    if scheme != Scheme::Hcs && lacks_m_factor(ingredient) {
        let missing = "no M factor is given; 1 was taken, and a supplier may set a higher one".to_owned();
        gaps.push(Gap::new(ingredient, missing, vec!["water".to_owned()]));
    }
    if !ingredient.limits.unread.is_empty() {
        let missing = format!("not understood of its own limits: {}", ingredient.limits.unread.join("; "));
        gaps.push(Gap::new(ingredient, missing, vec!["what these limits are about".to_owned()]));
    }
    gaps.extend(physical(ingredient));
    gaps
}

/// The families of which the source says nothing, in one line.
fn silent(ingredient: &Ingredient, scheme: Scheme) -> Option<Gap> {
    let says = |kinds: &[Kind]| kinds.iter().any(|kind| ingredient.class(*kind).is_some());
    let open: Vec<String> = FAMILIES
        .iter()
        .filter(|(name, kinds)| !says(kinds) && has(scheme, name))
        .map(|(name, _)| (*name).to_owned())
        .collect();
    if open.is_empty() {
        return None;
    }
    let doubt = match ingredient.confidence.as_deref() {
        Some("low") => "; its source is weak",
        _ => "",
    };
    let missing = if ingredient.classes.is_empty() {
        format!("its source gives it no class and it was counted as none, which proves nothing{doubt}")
    } else {
        format!("its source names no such class and it was counted as none, which proves nothing{doubt}")
    };
    Some(Gap::new(ingredient, missing, open))
}

/// Classes for fire, reaction and corrosion of metals are not added up: a test of the mixture decides.
fn physical(ingredient: &Ingredient) -> Option<Gap> {
    let codes: Vec<&str> =
        ingredient.codes.iter().filter(|code| code.starts_with("H2")).map(String::as_str).collect();
    if codes.is_empty() {
        return None;
    }
    let flammable = codes.iter().any(|code| ["H224", "H225", "H226", "H227"].contains(code));
    let flash =
        if flammable { "; measure its flash point, and until then treat it as flammable" } else { "" };
    let missing =
        format!("it carries {}, and such classes rest on tests of the mixture{flash}", codes.join(", "));
    Some(Gap::new(ingredient, missing, vec!["fire, reactions, attack on metals".to_owned()]))
}

fn has(scheme: Scheme, family: &str) -> bool {
    scheme != Scheme::Hcs || family != "water"
}

fn all(scheme: Scheme) -> Vec<String> {
    let families = FAMILIES.iter().map(|(name, _)| (*name).to_owned());
    families.filter(|name| has(scheme, name)).collect()
}

/// The sentence on what is of unknown hazard to water (GHS 4.1.3.6, CLP Annex I 4.1.3.6.1).
pub(super) fn unknown_to_water(ingredients: &[Ingredient], unknown: f64, scheme: Scheme) -> Option<String> {
    let nothing: f64 = ingredients.iter().filter(|i| i.is_unknown()).map(|i| i.percent).sum();
    let share = percent(nothing + unknown);
    let sentence =
        format!("Contains {share} % of components with unknown hazards to the aquatic environment.");
    (scheme != Scheme::Hcs && 0.0 < nothing + unknown && share != "0").then_some(sentence)
}

/// True if there is a mixture to speak of: more than one thing in it.
pub(super) fn is_mixture(composition: &Composition) -> bool {
    let parts = composition.constituents.len();
    let water = 0.0 < composition.water.get();
    let unknown = 0.0 < composition.unknown.get();
    1 < parts + usize::from(water) + usize::from(unknown)
}

impl Gap {
    fn new(ingredient: &Ingredient, missing: String, leaves_open: Vec<String>) -> Self {
        Self {
            component: Some(ingredient.key.clone()),
            name: ingredient.name.clone(),
            percent: ingredient.percent,
            missing,
            leaves_open,
        }
    }
}
