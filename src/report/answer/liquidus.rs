//! A predicted liquidus in JSON.

use serde_json::{Map, Value, json};

use crate::compose::liquidus::{
    Binary, Fusion, Invariant, InvariantKind, LiquidusPoint, Prediction, RegionSpread, Residual, Shape,
    Spread, Window, WindowSpread,
};
use crate::report::view::{LiquidusOrigin, LiquidusView, liquidus_set_names};

/// `{model, eutectics: [{composition, temperature_k}], curve: [{composition, temperature_k, solid}], …}` by the first
/// set of published data, and `sets` with every one of them.
pub fn liquidus_answer(view: &LiquidusView) -> Value {
    let mut sets: Vec<Map<String, Value>> = view.predictions.iter().map(|own| set(view, own)).collect();
    for (own, name) in sets.iter_mut().zip(liquidus_set_names(view)) {
        own.insert("fusion_data".to_owned(), json!(name));
    }
    let mut answer = sets.first().cloned().unwrap_or_default();
    answer.remove("fusion_data");
    answer.insert(
        "components".to_owned(),
        view.components.iter().map(|own| json!({"component": own.id, "name": own.name})).collect(),
    );
    answer.insert("draws".to_owned(), json!(view.question.draws));
    answer.insert("seed".to_owned(), json!(view.question.seed));
    answer.insert("coverage".to_owned(), json!(view.question.coverage));
    answer.insert("liquid_at_k".to_owned(), json!(view.question.liquid_at.map(|at| at.kelvin())));
    let below = view.question.liquid_at.map(|at| view.is_glass(at));
    answer.insert("liquid_at_below_glass".to_owned(), json!(below));
    answer.insert("glass_k".to_owned(), json!(view.glass.map(|at| at.kelvin())));
    answer.insert("salts_counted_as".to_owned(), json!("one formula unit, undissociated"));
    answer.insert("sets".to_owned(), sets.into_iter().map(Value::Object).collect());
    Value::Object(answer)
}

fn set(view: &LiquidusView, prediction: &Prediction) -> Map<String, Value> {
    let pairs = &prediction.case.spread.pairs;
    let mut set = Map::new();
    let mut put = |key: &str, value: Value| {
        set.insert(key.to_owned(), value);
    };
    put("model", json!(pairs.first().map_or("ideal", |pair| pair.form.name())));
    put("parameters", parameters(view, prediction));
    put("solids", solids(prediction));
    match &prediction.shape {
        Shape::Binary(binary) => {
            let bands = binary.bands.as_ref();
            let met = |kind: InvariantKind| {
                let own = binary.diagram.invariants.iter().filter(move |own| own.kind == kind && !own.splits);
                own.map(|own| invariant(view, prediction, own)).collect::<Value>()
            };
            put("eutectics", met(InvariantKind::Eutectic));
            put("peritectics", met(InvariantKind::Peritectic));
            let ideal = binary.ideal.eutectics().map(|own| bare(view, own));
            put("ideal_eutectics", ideal.collect());
            put("depression_k", json!(depression(prediction)));
            put("curve", binary.diagram.points.iter().map(|own| point(view, prediction, own)).collect());
            put("eutectic_band_k", json!(bands.and_then(|own| own.eutectic).map(ends)));
            put("eutectic_fraction_band", json!(bands.and_then(|own| own.eutectic_fraction).map(ends)));
            let band = bands.iter().flat_map(|own| &own.curve);
            let band = band.map(|(x, own)| {
                json!({"composition": composition(view, &[*x, 1.0 - x]), "low_k": own.low, "median_k": own.middle, "high_k": own.high})
            });
            put("band", band.collect());
            put("two_liquids", binary.diagram.splits.iter().map(|own| json!({"from": own.from, "to": own.to, "temperature_k": own.temperature.kelvin(), "solid": prediction.case.system.solids[own.solid].name})).collect());
            put("two_liquids_at", binary.two_liquids.iter().map(|own| json!({"from": composition(view, &[own.from, 1.0 - own.from]), "to": composition(view, &[own.to, 1.0 - own.to])})).collect());
            put("branch_ends", binary.diagram.ends.iter().map(|own| json!({"solid": prediction.case.system.solids[own.solid].name, "composition": composition(view, &[own.fraction, 1.0 - own.fraction]), "temperature_k": own.temperature.kelvin()})).collect());
            put("liquid_windows", liquid_windows(view, binary));
            put("liquid_window_band", json!(lowest_window(binary).and_then(|own| own.ends).map(window_ends)));
            put("draws_with_window", json!(view.question.liquid_at.and(bands).map(|own| own.with_window)));
            let points = binary.residuals.iter().zip(&view.origins);
            let points = points.map(|(own, origin)| measured(view, prediction, own, origin));
            put("points", points.collect());
        }
        Shape::Ternary(ternary) => {
            let met = ternary.surface.eutectics.iter().filter(|own| !own.splits);
            put("eutectics", met.map(|own| invariant(view, prediction, own)).collect());
            put("ideal_eutectics", ternary.ideal.iter().map(|own| bare(view, own)).collect());
            put("depression_k", json!(depression(prediction)));
            put(
                "curve",
                ternary.surface.lattice.iter().flatten().map(|own| point(view, prediction, own)).collect(),
            );
            let spread = ternary.spread.as_ref();
            put("eutectic_band_k", json!(spread.map(|own| ends(own.temperature))));
            let edges = ternary.edges.iter().map(|((one, other), diagram)| {
                let ids = [&view.components[*one].id, &view.components[*other].id];
                let met = diagram.eutectics().map(|own| {
                    let composition: Map<String, Value> = ids
                        .iter()
                        .zip(&own.fractions)
                        .map(|(id, share)| ((*id).clone(), json!(share)))
                        .collect();
                    json!({"composition": composition, "temperature_k": own.temperature.kelvin()})
                });
                json!({"components": ids, "eutectics": met.collect::<Value>()})
            });
            put("edges", edges.collect());
            put("liquid_share", json!(ternary.liquid_share));
            let ranges = ternary.region.iter().flat_map(|own| view.components.iter().zip(&own.ranges));
            let ranges =
                ranges.map(|(own, range)| json!({"component": own.id, "from": range.from, "to": range.to}));
            put("liquid_ranges", ranges.collect());
            let region = ternary.region_spread.as_ref();
            put("draws_with_window", json!(region.map(|own| own.with_region)));
            put("draws_with_eutectic_so_low", json!(spread.and_then(|own| own.at_or_below)));
            let bands = region.iter().flat_map(|own| view.components.iter().zip(&own.ranges));
            let bands = bands
                .map(|(own, (from, to))| json!({"component": own.id, "from": ends(*from), "to": ends(*to)}));
            put("liquid_range_bands", bands.collect());
            put("draws_liquid", region.map_or(Value::Null, |own| draws_liquid(view, own)));
        }
    }
    put("fit", fit(prediction));
    set
}

/// The windows of the data as they stand, each with what the draws say of it.
fn liquid_windows(view: &LiquidusView, binary: &Binary) -> Value {
    let spreads = binary.bands.as_ref().map(|own| own.windows.as_slice()).unwrap_or_default();
    let window = |(at, own): (usize, &Window)| {
        let spread = spreads.get(at);
        json!({
            "from": composition(view, &[own.from, 1.0 - own.from]),
            "to": composition(view, &[own.to, 1.0 - own.to]),
            "band": spread.and_then(|own| own.ends).map(window_ends),
            "draws_with_it": spread.map(|own| own.share),
            "draws_joined": spread.map(|own| own.joined),
            "draws_parted_by_liquids": spread.map(|own| own.parted_by_liquids),
            "draws_parted_by_solid": spread.map(|own| own.parted_by_solid),
            "parted_near": spread.and_then(|own| own.parted_near).map(|x| composition(view, &[x, 1.0 - x])),
        })
    };
    binary.windows.iter().enumerate().map(window).collect()
}

/// What the draws say of the window that holds the lowest eutectic, else of the first.
fn lowest_window(binary: &Binary) -> Option<&WindowSpread> {
    let by_kelvin = |own: &&Invariant, other: &&Invariant| {
        own.temperature.kelvin().total_cmp(&other.temperature.kelvin())
    };
    let lowest = binary.diagram.eutectics().min_by(by_kelvin).map(|own| own.fractions[0]);
    let holds = |own: &Window| lowest.is_some_and(|x| own.from <= x && x <= own.to);
    let at = binary.windows.iter().position(holds).unwrap_or(0);
    binary.bands.as_ref()?.windows.get(at)
}

fn window_ends((from, to): (Spread, Spread)) -> Value {
    json!({"from": ends(from), "to": ends(to)})
}

/// In which share of the draws each composition of a coarse lattice stays liquid.
fn draws_liquid(view: &LiquidusView, region: &RegionSpread) -> Value {
    let part = |steps: usize| steps as f64 / region.steps as f64;
    let places = (0..=region.steps).flat_map(|one| (0..=region.steps - one).map(move |two| (one, two)));
    let each = places.zip(&region.shares).map(|((one, two), share)| {
        let x = [part(one), part(two), part(region.steps - one - two)];
        json!({"composition": composition(view, &x), "share": share})
    });
    each.collect()
}

/// A measured point beside the curves; `below_ideal_by_water_k` is what its water alone takes off an ideal liquid.
fn measured(view: &LiquidusView, prediction: &Prediction, own: &Residual, origin: &LiquidusOrigin) -> Value {
    let x = [own.point.fraction, 1.0 - own.point.fraction];
    let lowered =
        origin.water.and_then(|water| prediction.case.system.lowered_by_dilution(&x, water.mole_fraction));
    json!({
        "from": origin.name,
        "composition": composition(view, &x),
        "temperature_k": own.point.temperature.kelvin(),
        "uncertainty_k": origin.uncertainty_k,
        "weight": own.point.weight,
        "model_less_measured_k": own.model_k,
        "ideal_less_measured_k": own.ideal_k,
        "water_wt_pct": origin.water.map(|water| water.fraction.percent()),
        "water_titrated": origin.water.map(|water| water.titrated),
        "below_ideal_by_water_k": lowered,
        "method": origin.method,
    })
}

fn composition(view: &LiquidusView, fractions: &[f64]) -> Map<String, Value> {
    view.components.iter().zip(fractions).map(|(own, share)| (own.id.clone(), json!(share))).collect()
}

fn bare(view: &LiquidusView, own: &Invariant) -> Value {
    json!({"composition": composition(view, &own.fractions), "temperature_k": own.temperature.kelvin()})
}

fn invariant(view: &LiquidusView, prediction: &Prediction, own: &Invariant) -> Value {
    let system = &prediction.case.system;
    let ideal = system.ideal().liquidus(&own.fractions).map(|(_, kelvin)| kelvin);
    let mut met = bare(view, own);
    met["below_glass"] = json!(view.is_glass(own.temperature));
    met["solids"] = own.solids.iter().map(|solid| json!(system.solids[*solid].name)).collect();
    met["below_ideal_of_this_composition_k"] = json!(ideal.map(|ideal| ideal - own.temperature.kelvin()));
    met["ln_gamma"] =
        json!(composition(view, &system.model.ln_gammas(&own.fractions, own.temperature.kelvin())));
    met
}

/// The ideal eutectic less the predicted one.
fn depression(prediction: &Prediction) -> Option<f64> {
    let least = |kelvins: Vec<f64>| kelvins.into_iter().reduce(f64::min);
    let (own, ideal) = match &prediction.shape {
        Shape::Binary(binary) => (
            least(binary.diagram.eutectics().map(|own| own.temperature.kelvin()).collect()),
            least(binary.ideal.eutectics().map(|own| own.temperature.kelvin()).collect()),
        ),
        Shape::Ternary(ternary) => (
            least(ternary.surface.eutectics.iter().map(|own| own.temperature.kelvin()).collect()),
            least(ternary.ideal.iter().map(|own| own.temperature.kelvin()).collect()),
        ),
    };
    Some(ideal? - own?)
}

/// `temperature_k` is null where three components are two liquids: what one would do is no equilibrium.
fn point(view: &LiquidusView, prediction: &Prediction, own: &LiquidusPoint) -> Value {
    let solids = &prediction.case.system.solids;
    let is_told = !own.splits || own.fractions.len() == 2;
    let decomposes = view.decomposing(&own.fractions, own.temperature).map(|at| &view.components[at].id);
    json!({
        "composition": composition(view, &own.fractions),
        "temperature_k": is_told.then(|| own.temperature.kelvin()),
        "solid": prediction.case.system.solids[own.solid].name,
        "two_liquids": own.splits,
        "below_glass": view.is_glass(own.temperature),
        "decomposes": decomposes,
        "not_known_of": own.untold.iter().map(|at| solids[*at].name.as_str()).collect::<Vec<_>>(),
    })
}

fn ends(own: Spread) -> [f64; 2] {
    [own.low, own.high]
}

fn parameters(view: &LiquidusView, prediction: &Prediction) -> Value {
    let pairs = prediction.case.spread.pairs.iter().map(|pair| {
        let mut own = Map::new();
        own.insert(
            "components".to_owned(),
            json!([view.components[pair.first].id, view.components[pair.second].id]),
        );
        own.insert("form".to_owned(), json!(pair.form.words()));
        for (name, value) in pair.form.parameters().iter().zip(&pair.parameters) {
            own.insert(format!("{name}_j_per_mol"), json!(value));
        }
        Value::Object(own)
    });
    pairs.collect()
}

fn solids(prediction: &Prediction) -> Value {
    let solids = prediction.case.system.solids.iter().enumerate().map(|(at, solid)| {
        let Fusion { melting, melting_u_k, enthalpy, enthalpy_u, heat_capacity, transitions } = &solid.fusion;
        json!({
            "solid": solid.name,
            "formula": solid.formula,
            "melting_k": melting.kelvin(),
            "melting_u_k": melting_u_k,
            "fusion_j_per_mol": enthalpy.get(),
            "fusion_u_j_per_mol": enthalpy_u.map(|own| own.get()),
            "cp_j_per_mol_k": heat_capacity.get(),
            "transitions": transitions.iter().map(|own| json!({"at_k": own.at.kelvin(), "j_per_mol": own.enthalpy.get()})).collect::<Value>(),
            "source": prediction.case.sources.get(at).map_or("given with --compound", String::as_str),
        })
    });
    solids.collect()
}

fn fit(prediction: &Prediction) -> Value {
    let Some(fit) = &prediction.fit else { return Value::Null };
    let parameters = fit.model.form.parameters().iter().zip(&fit.estimates).map(|(name, own)| {
        json!({"name": name, "value": own.value, "sd": own.sd, "low": own.interval.0, "high": own.interval.1, "unit": "J/mol"})
    });
    json!({
        "form": fit.model.form.words(),
        "parameters": parameters.collect::<Value>(),
        "residual_sd_k": fit.residual_sd_k,
        "rss": fit.rss,
        "n": fit.used,
        "converged": fit.converged,
        "identifiable": fit.identifiable,
        "judged": fit.is_judged(),
        "rss_with_components_swapped": prediction.swapped_rss,
    })
}
