//! A component in JSON.

use serde_json::{Value, json};

use crate::component::{Component, HazardBasis};

/// Everything that the table knows of a component.
pub fn component_answer(component: &Component) -> Value {
    json!({
        "component": component.id.as_str(),
        "name": component.name,
        "aliases": component.aliases,
        "roles": component.roles.iter().map(|role| role.word()).collect::<Vec<_>>(),
        "cas": component.cas.as_ref().map(|cas| cas.as_str()),
        "formula": component.formula.as_ref().map(|formula| formula.text()),
        "molar_mass_g_per_mol": component.molar_mass().map(|mass| mass.get()),
        "crystal_water": component.crystal_water(),
        "hydrate_of": component.hydrate_of.as_ref().map(|id| id.as_str()),
        "identity_source": component.identity,
        "state": component.state.map(|state| state.word()),
        "hygroscopic": component.hygroscopic.as_ref().map(|h| json!({ "level": h.level.word(), "source": h.source })),
        "groups": component.groups.iter().map(|group| group.as_str()).collect::<Vec<_>>(),
        "density": densities(component),
        "melting": meltings(component),
        "fusion": fusions(component),
        "transition": transitions(component),
        "heat_limit": heat_limits(component),
        "hazard": hazard(component),
        "note": component.note,
    })
}

fn densities(component: &Component) -> Vec<Value> {
    let entry = |d: &crate::component::DensityAt| {
        json!({
            "density_g_per_ml": d.value.get(),
            "at_c": d.at.celsius(),
            "slope_g_per_ml_per_k": d.slope.map(|slope| slope.get()),
            "source": d.source,
        })
    };
    component.density.iter().map(entry).collect()
}

fn meltings(component: &Component) -> Vec<Value> {
    component.melting.iter().map(|m| json!({ "temperature_k": m.at.kelvin(), "source": m.source })).collect()
}

fn fusions(component: &Component) -> Vec<Value> {
    let entry = |f: &crate::component::Fusion| {
        json!({
            "enthalpy_j_per_mol": f.enthalpy.get(),
            "enthalpy_u_j_per_mol": f.enthalpy_u.map(|u| u.get()),
            "temperature_k": f.at.kelvin(),
            "temperature_u_k": f.at_u_k,
            "source": f.source,
        })
    };
    component.fusion.iter().map(entry).collect()
}

fn transitions(component: &Component) -> Vec<Value> {
    let entry = |t: &crate::component::Transition| {
        json!({
            "name": t.name,
            "temperature_k": t.at.kelvin(),
            "enthalpy_j_per_mol": t.enthalpy.map(|h| h.get()),
            "source": t.source,
        })
    };
    component.transition.iter().map(entry).collect()
}

fn heat_limits(component: &Component) -> Vec<Value> {
    let entry = |h: &crate::component::HeatLimit| json!({ "temperature_c": h.at.map(|at| at.celsius()), "what": h.what, "source": h.source });
    component.heat_limit.iter().map(entry).collect()
}

fn hazard(component: &Component) -> Value {
    let hazard = &component.hazard;
    // No data is null, which no script can take for a clean sheet; an empty list means that a source was
    // read and gives no code.
    let codes = (hazard.basis != HazardBasis::NoneFound).then_some(&hazard.codes);
    json!({
        "basis": hazard.basis.word(),
        "h_codes": codes,
        "euh_codes": hazard.euh,
        "classes": hazard.classes,
        "index_no": hazard.index_no,
        "limits": hazard.limits,
        "ate_oral_mg_per_kg": hazard.ate_oral_mg_per_kg,
        "confidence": hazard.confidence,
        "note": hazard.note,
        "source": hazard.source,
    })
}
