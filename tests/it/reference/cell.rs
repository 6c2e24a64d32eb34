//! Cells against the worked cases of `tests/fixtures/practice` (W19, W20, W22, see its README), specific
//! capacities by CODATA 2022, and a common practice of bench meters.

use approx::{assert_abs_diff_eq, assert_relative_eq};
use jiff::SignedDuration;
use meltbook::cell::{
    CapacityRequest, Electrode, Found, Method, Part, Settling, Shot, ShotPairing, Shown, Side, capacity,
    contradictions, drift, predictions, resistances, retention,
};
use meltbook::quantity::{Mass, MolarMass};
use meltbook::record::reading::{Reading, ReadingTaken, ReadingValue};
use meltbook::statistics::line::line_through;

use super::worked_case::{Case, case};
use crate::setup::table;

const EVERY: ShotPairing = ShotPairing { within: jiff::SignedDuration::from_hours(1), voltmeter_ohms: None };

fn shot(shown: Shown) -> Shot {
    Shot { shown, after_s: None, at: None, entry: None, disturbed: false }
}

fn ohms(found: &[Found], method: Method, load: f64) -> f64 {
    let fits = |found: &&Found| found.method == method && found.heavy.shown.outside_ohms() == load;
    found.iter().find(fits).unwrap_or_else(|| panic!("{method:?} on {load} Ω")).ohms
}

fn electrode(name: &str, electrons: f64, gross: f64, parts: &[f64]) -> Electrode {
    let component = table().find(name).unwrap();
    Electrode {
        material: name.to_owned(),
        molar_mass: component.molar_mass().unwrap(),
        electrons,
        gross: Mass::new(gross),
        parts: parts.iter().map(|factor| Part { what: "of it".to_owned(), factor: *factor }).collect(),
        area: None,
    }
}

/// Values computed outside this project from the CODATA 2022 constants; MnO2 by a manganese weight of 54.938043,
/// which differs from the abridged one here by 1e-6.
#[test]
fn specific_capacities() {
    let text = include_str!("../../fixtures/practice/specific_capacity.csv");
    let mut seen = 0;
    for row in text.lines().skip(1) {
        let cells: Vec<&str> = row.split(',').collect();
        let number = |at: usize| cells[at].parse::<f64>().unwrap();
        let with = |molar_mass: f64| Electrode {
            molar_mass: MolarMass::new(molar_mass),
            ..electrode("Zn", number(2), 1.0, &[])
        };
        let exact = with(number(1));
        assert_relative_eq!(exact.specific_mah_per_g(), number(3), max_relative = 1e-9);
        assert_relative_eq!(
            exact.capacity().milliampere_hours() * number(1) / 1000.0,
            number(4),
            max_relative = 1e-9
        );
        if cells[0] != "Li" {
            let own = electrode(cells[0], number(2), 1.0, &[]);
            assert_relative_eq!(own.specific_mah_per_g(), number(3), max_relative = 2e-6);
        }
        seen += 1;
    }
    assert_eq!(seen, 4);
}

#[test]
fn w19_capacity_of_both_electrodes() {
    let case = case("W19");
    let zinc_g =
        case.input("zinc_area_cm2") * case.input("zinc_thickness_cm") * case.input("zinc_density_g_cm3");
    let negative = electrode("Zn", 2.0, zinc_g, &[]);
    let parts = [case.input("fraction_oxide"), case.input("MnO2_in_oxide")];
    let positive = electrode("MnO2", 1.0, case.input("mix_g"), &parts);
    case.check("q_MnO2_1e_mAh_g", positive.specific_mah_per_g());
    case.check("q_Zn_mAh_g", negative.specific_mah_per_g());
    case.check("cathode_mAh", positive.capacity().milliampere_hours());
    case.check("zinc_g", negative.gross.get());
    case.check("zinc_mAh", negative.capacity().milliampere_hours());
    let cell = capacity(CapacityRequest {
        negative: Some(negative),
        positive: Some(positive),
        electrolyte: None,
        mix: None,
        load: None,
        wanted_ratio: Some(2.0),
        conventions: Vec::new(),
    });
    let pairing = cell.pairing().unwrap();
    assert_eq!(pairing.limiting, Side::Negative);
    case.check("N_over_P", pairing.ratio);
    case.check("zinc_g_for_NP_2", cell.negative_for_ratio().unwrap().get());
    case.check("both_actives_g_per_Ah", pairing.grams_per_ah);
    case.check("theoretical_Ah_per_kg_Zn_2MnO2", 1000.0 / pairing.grams_per_ah);
    // Linden's Handbook of Batteries, 4th ed., table 1.2, p. 1.12 (page excerpt): 4.46 g/Ah, 224 Ah/kg.
    assert_abs_diff_eq!(pairing.grams_per_ah, 4.46, epsilon = 0.005);
    assert_abs_diff_eq!(1000.0 / pairing.grams_per_ah, 224.0, epsilon = 0.5);
    case.finish();
}

fn w20_shots(case: &Case) -> Vec<Shot> {
    let loaded =
        |volts: &str, ohms: &str| Shown::Loaded { volts: case.input(volts), load_ohms: case.input(ohms) };
    [
        Shown::Open { volts: case.input("OCV_V") },
        loaded("V_light_V", "R_light_ohm"),
        loaded("V_heavy_V", "R_heavy_ohm"),
    ]
    .map(shot)
    .to_vec()
}

#[test]
fn w20_internal_resistance_three_ways() {
    let case = case("W20");
    let shots = w20_shots(&case);
    let found = resistances(&shots, &EVERY);
    assert_eq!(found.len(), 4, "each is told apart by its method");
    case.check("Ri_open_to_heavy_ohm", ohms(&found, Method::OpenToLoaded, 10.0));
    case.check("Ri_open_to_light_ohm", ohms(&found, Method::OpenToLoaded, 47.0));
    case.check("Ri_two_load_ohm", ohms(&found, Method::TwoLoads, 10.0));
    case.check("Ri_voltage_drop_form_ohm", ohms(&found, Method::VoltageDrop, 10.0));
    let heavy = found.iter().find(|found| found.method == Method::OpenToLoaded && found.ohms < 2.35).unwrap();
    case.check("Isc_predicted_from_open_to_heavy_A", heavy.source.amperes_into(0.0));
    case.check("P_heavy_mW", heavy.source.watts_into(10.0) * 1000.0);
    case.check("max_power_mW_matched", heavy.source.most_watts() * 1000.0);
    case.finish();
}

/// A voltmeter of 1 MΩ changes the answer as its current says: a real source of 1.5 V and 1000 Ω, on which every
/// reading is computed by Ohm's law, is found again only if the meter is accounted for.
#[test]
fn what_meters_draw_is_accounted_for() {
    let (emf, inner, meter) = (1.5, 1000.0, 1e6);
    let at = |outside: f64| emf * outside / (outside + inner);
    let beside = |load: f64| load * meter / (load + meter);
    let shots = [
        Shown::Open { volts: at(meter) },
        Shown::Loaded { volts: at(beside(20_000.0)), load_ohms: 20_000.0 },
        Shown::Loaded { volts: at(beside(5_000.0)), load_ohms: 5_000.0 },
        Shown::Current { amperes: emf / (inner + 50.0), meter_ohms: Some(50.0) },
    ]
    .map(shot);
    let pairing = ShotPairing { voltmeter_ohms: Some(meter), ..EVERY };
    let found = resistances(&shots, &pairing);
    for found in found.iter().filter(|found| found.method != Method::VoltageDrop) {
        assert_relative_eq!(found.ohms, inner, max_relative = 1e-9);
        assert_relative_eq!(found.source.emf_volts, emf, max_relative = 1e-9);
    }
    assert!(
        found.iter().any(|found| found.method == Method::ShortCircuit),
        "50 Ω is less than a tenth of the cell"
    );
    let naive = resistances(&shots, &EVERY);
    // Without it the cell seems to have the meter beside its own resistance.
    let seems = inner * meter / (inner + meter);
    assert_relative_eq!(ohms(&naive, Method::OpenToLoaded, 20_000.0), seems, max_relative = 1e-9);
}

/// Common practice: a meter's 1.5 V battery range loads the cell with about 375 Ω (4 mA at 1.5 V). A cell at 1.33 V
/// open that gives 8.25 mA in short circuit has 161 Ω by that method and should show 2.48 mA on that range; 2.4 mA
/// read is within 4 % and 179 Ω by the loaded method.
#[test]
fn a_battery_tester_and_a_short_circuit_are_compared() {
    let shots = [
        Shown::Open { volts: 1.33 },
        Shown::Current { amperes: 8.25e-3, meter_ohms: None },
        Shown::Current { amperes: 2.4e-3, meter_ohms: Some(375.0) },
    ]
    .map(shot);
    let found = resistances(&shots, &EVERY);
    let methods: Vec<Method> = found.iter().map(|found| found.method).collect();
    assert_eq!(methods, [Method::ShortCircuit, Method::OpenToLoaded]);
    assert_abs_diff_eq!(found[0].ohms, 161.0, epsilon = 0.5);
    assert_abs_diff_eq!(found[1].ohms, 179.0, epsilon = 0.5);
    let told = predictions(&found, &shots, None, |_, _| true);
    let on_the_range = told.iter().find(|told| told.source.method == Method::ShortCircuit).unwrap();
    assert_abs_diff_eq!(on_the_range.predicted_amperes, 2.48e-3, epsilon = 0.005e-3);
    assert!(on_the_range.off().abs() < 0.04, "{}", on_the_range.off());
    assert_eq!(told.len(), 2, "the other way round too");
}

#[test]
fn readings_that_contradict_each_other_give_no_resistance() {
    let shots = [Shown::Open { volts: 1.2 }, Shown::Loaded { volts: 1.3, load_ohms: 10.0 }].map(shot);
    assert_eq!(resistances(&shots, &EVERY), Vec::new());
    assert_eq!(contradictions(&shots, &EVERY).len(), 1);
}

#[test]
fn w22_charge_retention_and_voltage_apart() {
    let case = case("W22");
    let (weeks, volts) = (case.inputs("weeks"), case.inputs("ocv_V"));
    let points: Vec<(f64, f64)> = weeks.into_iter().zip(volts).collect();
    case.check("ocv_slope_mV_per_week_all", line_through(&points).unwrap().slope * 1000.0);
    case.check("ocv_slope_mV_per_week_without_week0", line_through(&points[1..]).unwrap().slope * 1000.0);
    case.check("ocv_loss_percent_week0_to_4", (1.0 - points[4].1 / points[0].1) * 100.0);
    let stored_s = case.input("storage_weeks") * 604_800.0;
    let (fresh, stored) = (case.input("capacity_fresh_mAh"), case.input("capacity_stored_mAh"));
    let kept = retention(&[fresh], &[stored], stored_s).unwrap();
    case.check("retention_percent", kept.retention * 100.0);
    case.check("loss_percent", (1.0 - kept.retention) * 100.0);
    case.check("loss_percent_per_week_linear", kept.loss_per_week() * 100.0);
    case.check("loss_percent_per_30_days_compound", kept.loss_per_30_days().unwrap() * 100.0);
    case.check("charge_loss_mAh_per_cell_per_week", kept.lost_mah() / kept.weeks());
    case.check("equivalent_parasitic_current_uA", kept.parasitic_amperes() * 1e6);
    assert_eq!(kept.uncertainty, None, "one value of each set has no spread");
    case.finish();
}

/// The line against statsmodels 0.15.0 (OLS) on an invented series; see the fixture's README.
#[test]
fn a_line_with_what_it_is_worth() {
    let rows = include_str!("../../fixtures/statistics/fits/line-self-discharge.csv").lines().skip(1);
    let points: Vec<(f64, f64)> = rows
        .map(|row| row.split(',').map(|cell| cell.parse::<f64>().unwrap()).collect::<Vec<_>>())
        .map(|cells| (cells[0], cells[1]))
        .collect();
    let fitted = line_through(&points).unwrap();
    let errors = fitted.errors.unwrap();
    let (slope, intercept) = (fitted.slope_interval(0.95).unwrap(), fitted.intercept_interval(0.95).unwrap());
    let expected = include_str!("../../fixtures/statistics/fits/line-expected.csv");
    let value = |name: &str| {
        let fits = |row: &&str| row.starts_with(&format!("line-self-discharge,ols,{name},"));
        let row = expected.lines().find(fits).unwrap_or_else(|| panic!("{name}"));
        row.rsplit(',').next().unwrap().parse::<f64>().unwrap()
    };
    for (name, found) in [
        ("slope", fitted.slope),
        ("slope_se", errors.slope),
        ("slope_ci95_low", slope.0),
        ("slope_ci95_high", slope.1),
        ("intercept", fitted.intercept),
        ("intercept_se", errors.intercept),
        ("intercept_ci95_low", intercept.0),
        ("intercept_ci95_high", intercept.1),
        ("residual_sd", errors.residual_sd),
    ] {
        assert_relative_eq!(found, value(name), max_relative = 1e-9);
    }
    // At zero the line is its intercept, whose interval stands above.
    let (low, high) = fitted.interval_at(0.0, 0.95).unwrap();
    assert_relative_eq!(low, intercept.0, max_relative = 1e-9);
    assert_relative_eq!(high, intercept.1, max_relative = 1e-9);
    assert_eq!(line_through(&points[..1]), None);
    assert_eq!(line_through(&[(1.0, 2.0), (1.0, 3.0)]), None);
    assert_eq!(line_through(&points[..2]).unwrap().errors, None);
}

/// Readings of a cell that settles come to the parameters of the fit that was refined in 50-digit arithmetic; see the
/// README of the fixture. Days become weeks.
#[test]
fn a_cell_that_settles() {
    let rows = include_str!("../../fixtures/statistics/fits/decay-offset.csv").lines().skip(1);
    let built: jiff::Timestamp = "2026-01-05T08:00:00Z".parse().unwrap();
    let reading = |(at, row): (usize, &str)| {
        let (day, volts) = row.split_once(',').unwrap();
        let (day, volts): (f64, f64) = (day.parse().unwrap(), volts.parse().unwrap());
        let taken = ReadingTaken {
            cell: "C1".parse().unwrap(),
            value: ReadingValue::OpenCircuit { volts, text: format!("{volts} V") },
            temperature: None,
            humidity: None,
            instrument: None,
            note: None,
            because: None,
            at: built + SignedDuration::from_secs_f64(day * 86_400.0),
        };
        Reading { entry: at as u64 + 1, taken }
    };
    let readings: Vec<Reading> = rows.enumerate().map(reading).collect();
    let settling = Settling { until: SignedDuration::from_hours(72) };
    let drift = drift(&readings, &vec![None; readings.len()], built, None, settling);
    let fit = drift.decay().unwrap();
    assert!(fit.is_identifiable());
    let expected = include_str!("../../fixtures/statistics/fits/parameters-expected.csv");
    for (at, (name, weeks)) in [("v_inf", 1.0), ("a", 1.0), ("tau", 7.0)].into_iter().enumerate() {
        let row = expected.lines().find(|row| row.starts_with(&format!("decay-offset,{name},"))).unwrap();
        let cells: Vec<f64> = row.split(',').skip(4).map(|cell| cell.parse().unwrap()).collect();
        assert_relative_eq!(fit.inference.estimates[at].value * weeks, cells[0], max_relative = 1e-6);
        assert_relative_eq!(fit.inference.estimates[at].sd * weeks, cells[1], max_relative = 1e-5);
    }
}
