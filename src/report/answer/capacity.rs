//! The capacity of a cell in JSON.

use serde_json::{Value, json};

use crate::cell::{CellCapacity, Electrode, Side};

/// Electrodes, which one limits, and what follows. Undefined values are null.
pub fn capacity_answer(of: &str, capacity: &CellCapacity) -> Value {
    let request = &capacity.request;
    let pairing = capacity.pairing();
    let at_load = capacity.at_load();
    let electrode = |side: Side, electrode: &Option<Electrode>| {
        electrode.as_ref().map(|electrode| of_electrode(side, electrode))
    };
    json!({
        "of": of,
        "negative": electrode(Side::Negative, &request.negative),
        "positive": electrode(Side::Positive, &request.positive),
        "limiting": pairing.map(|pairing| pairing.limiting.word()),
        "capacity_mah": pairing.map(|pairing| pairing.capacity.milliampere_hours()),
        "negative_to_positive": pairing.map(|pairing| pairing.ratio),
        "excess_mah": pairing.map(|pairing| pairing.excess.milliampere_hours()),
        "excess_g": pairing.map(|pairing| pairing.excess_mass.get()),
        "both_actives_g_per_ah": pairing.map(|pairing| pairing.grams_per_ah),
        "both_actives_ah_per_kg": pairing.map(|pairing| 1000.0 / pairing.grams_per_ah),
        "wanted_ratio": request.wanted_ratio,
        "negative_for_wanted_ratio_g": capacity.negative_for_ratio().map(|mass| mass.get()),
        "electrolyte_g": request.electrolyte.map(|(mass, _)| mass.get()),
        "electrolyte_water_g": request.electrolyte.and_then(|(_, water)| water).map(|water| water.get()),
        "electrolyte_g_per_g_mix": capacity.electrolyte_per_mix(),
        "electrolyte_water_mah": capacity.water_capacity().map(|charge| charge.milliampere_hours()),
        "load": request.load.zip(at_load).map(|(load, at_load)| json!({
            "open_v": load.open.get(),
            "load_ohm": load.resistance.get(),
            "internal_ohm": load.internal.map(|internal| internal.get()),
            "current_a": at_load.current.get(),
            "current_ma_per_cm2": at_load.density_ma_per_cm2,
            "hours": at_load.hours,
        })),
        "conventions": request.conventions,
    })
}

fn of_electrode(side: Side, electrode: &Electrode) -> Value {
    json!({
        "side": side.word(),
        "material": electrode.material,
        "molar_mass_g_per_mol": electrode.molar_mass.get(),
        "electrons": electrode.electrons,
        "gross_g": electrode.gross.get(),
        "active_g": electrode.active().get(),
        "specific_mah_per_g": electrode.specific_mah_per_g(),
        "capacity_mah": electrode.capacity().milliampere_hours(),
        "area_cm2": electrode.area.map(|area| area.get()),
        "areal_mah_per_cm2": electrode.areal_mah_per_cm2(),
    })
}
