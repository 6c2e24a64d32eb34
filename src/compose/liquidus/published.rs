//! Fusion data of the component table as the relation takes them.

use super::fusion::{Fusion, SolidTransition};
use crate::component::Component;

/// Every published set of a component with its source, and with those transitions below its melting point whose
/// enthalpy is known.
pub fn published_fusion(component: &Component) -> Vec<(Fusion, String)> {
    let transitions = component
        .transition
        .iter()
        .filter_map(|own| Some(SolidTransition { at: own.at, enthalpy: own.enthalpy? }));
    let transitions: Vec<SolidTransition> = transitions.collect();
    let set = |set: &crate::component::Fusion| {
        let fusion = Fusion {
            melting_u_k: set.at_u_k,
            enthalpy_u: set.enthalpy_u,
            transitions: transitions.iter().filter(|own| own.at < set.at).copied().collect(),
            ..Fusion::new(set.at, set.enthalpy)
        };
        (fusion, set.source.clone())
    };
    component.fusion.iter().map(set).collect()
}
