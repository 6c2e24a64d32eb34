//! Where a combination is predicted to be liquid, by every published set of fusion data.

use std::sync::Arc;

use serde::{Deserialize, Serialize};

use super::combination::Combination;
use crate::component::Component;
use crate::compose::liquidus::{ActivityModel, Fusion, Solid, System, published_fusion};
use crate::quantity::Temperature;

/// The ideal liquidus of one composition.
#[derive(Debug, Clone, PartialEq, Default, Serialize, Deserialize)]
pub struct IdealLiquidus {
    /// One for each choice among published fusion data; empty where anything is missing.
    pub sets: Vec<SetLiquidus>,
    /// What is missing, in words.
    pub missing: Vec<String>,
}

/// The ideal liquidus by one choice of fusion data.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize)]
pub struct SetLiquidus {
    /// Above it all is liquid.
    pub temperature: Temperature,
    /// Id of the component that comes out first on cooling.
    pub solid: String,
    /// The fusion data of each component in its order, with their sources.
    pub fusion: Vec<(Fusion, String)>,
}

/// Schröder and van Laar's relation for an ideal liquid, by every published set of each component.
pub fn ideal_liquidus(combination: &Combination) -> IdealLiquidus {
    let published: Vec<_> =
        combination.parts.iter().map(|(component, _)| published_fusion(component)).collect();
    let without = combination.parts.iter().zip(&published).filter(|(_, sets)| sets.is_empty());
    let missing: Vec<String> = without.map(|((component, _), _)| missing(component)).collect();
    if !missing.is_empty() {
        return IdealLiquidus { sets: Vec::new(), missing };
    }
    let choices = published.iter().fold(vec![Vec::new()], |before, sets| {
        let longer = |own: &Vec<(Fusion, String)>| {
            let own = own.clone();
            sets.iter().map(move |set| [&own[..], std::slice::from_ref(set)].concat()).collect::<Vec<_>>()
        };
        before.iter().flat_map(longer).collect()
    });
    let found: Option<Vec<SetLiquidus>> =
        choices.into_iter().map(|fusion| of_set(combination, fusion)).collect();
    match found {
        Some(sets) => IdealLiquidus { sets, missing: Vec::new() },
        None => {
            let missing = vec!["a liquidus: by one set of data no solid comes out".to_owned()];
            IdealLiquidus { sets: Vec::new(), missing }
        }
    }
}

fn of_set(combination: &Combination, fusion: Vec<(Fusion, String)>) -> Option<SetLiquidus> {
    let ids: Vec<String> = combination.parts.iter().map(|(component, _)| component.id.to_string()).collect();
    let solids = ids
        .iter()
        .zip(&fusion)
        .enumerate()
        .map(|(at, (id, (fusion, _)))| Solid::pure(id.as_str(), at, ids.len(), fusion.clone()));
    let system = System { solids: solids.collect(), components: ids, model: ActivityModel::Ideal };
    let (solid, kelvin) = system.liquidus(&combination.mole_fractions())?;
    let solid = system.solids[solid].name.clone();
    Some(SetLiquidus { temperature: Temperature::from_kelvin(kelvin), solid, fusion })
}

fn missing(component: &Arc<Component>) -> String {
    match component.melting.first() {
        Some(_) => format!("the enthalpy of fusion of {}", component.name),
        None => format!("melting point and enthalpy of fusion of {}", component.name),
    }
}
