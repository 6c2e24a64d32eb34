//! `curve` over several series: what is one liquid, what they differ by, and where nothing is said.

use approx::assert_relative_eq;
use meltbook::compose::curve::{Joining, PropertyPoint, Series, fit_together};
use meltbook::quantity::{MassFraction, Temperature};
use meltbook::statistics::curve_fit::Form;
use serde_json::Value;

use crate::run::{answer, envelope, folder, json, run_in, write};

fn point(kelvin: f64, water: Option<f64>, value: f64) -> PropertyPoint {
    PropertyPoint {
        temperature: Temperature::from_kelvin(kelvin),
        water: water.map(MassFraction::new),
        value,
    }
}

fn series<'s>(answer: &'s Value, name: &str) -> &'s Value {
    let all = answer["series"].as_array().expect("a list");
    all.iter().find(|own| own["series"] == name).unwrap_or_else(|| panic!("no {name}: {all:?}"))
}

/// Two sources that fall by exactly 0.001 per K and lie 0.02 apart, the lower one at the higher temperatures. By hand: one
/// line through all six points has Σ(T−310)(y−1.17)/Σ(T−310)² = −1.6/1000 = −0.0016 per K. At 310 K the sources say 1.18
/// and 1.16: mean 1.17, standard deviation 0.02/√2; with t(0.975, 1) = 12.7062 the mean is known to 12.7062 · 0.0141421/√2
/// = 0.127062, one further source to 12.7062 · 0.0141421 · √1.5 = 0.220078.
#[test]
fn a_slope_comes_from_within_the_sources() {
    let of = |name: &str, first: f64, value: f64| {
        let points =
            (0..3).map(|step| point(first + 10.0 * f64::from(step), None, value - 0.01 * f64::from(step)));
        Series::new(name, points.collect())
    };
    let (one, other) = (of("one", 290.0, 1.20), of("other", 310.0, 1.16));
    let curve = fit_together(&[&one, &other], Form::Line, 0.95).expect("it fits");
    let slope = curve.parameters.iter().find(|(name, _)| *name == "slope").expect("it has one").1;
    assert_relative_eq!(slope.value, -0.001, max_relative = 1e-9);
    let band = curve.band(310.0, None);
    assert_relative_eq!(band.y, 1.17, max_relative = 1e-9);
    assert_relative_eq!(band.mean.1 - band.y, 0.127062, max_relative = 1e-4);
    assert_relative_eq!(band.further.1 - band.y, 0.220078, max_relative = 1e-4);
    assert_relative_eq!(curve.band(330.0, None).y, 1.15, max_relative = 1e-9);
    let Some(Joining::Levels { count: 2, sd }) = curve.joining else { panic!("{:?}", curve.joining) };
    assert_relative_eq!(sd, 0.02 / 2f64.sqrt(), max_relative = 1e-9);
}

/// Vogel, Fulcher and Tammann's law with levels that are 5 % apart and a slope of ln η of −20 per mass fraction of water,
/// which differs from source to source alone: shape, T₀ and the slope come back.
#[test]
fn a_law_of_three_sources_comes_back() {
    let eta = |kelvin: f64, water: f64| 0.13 * (850.0 / (kelvin - 155.0) - 20.0 * water).exp();
    let of = |name: &str, first: f64, water: f64| {
        let each = (0..5).map(|step| first + 8.0 * f64::from(step));
        let each = each.map(|kelvin| point(kelvin, Some(water), eta(kelvin, water)));
        Series::new(name, each.collect())
    };
    let all = [of("dry", 293.15, 0.0), of("moist", 303.15, 0.01), of("wet", 320.15, 0.03)];
    let curve = fit_together(&all.each_ref()[..], Form::Vft, 0.95).expect("it fits");
    assert!(curve.identifiable && curve.knows_water());
    for (name, truth) in [("a", 0.13), ("b", 850.0), ("T0", 155.0), ("k", -20.0)] {
        let own = curve.parameters.iter().find(|(own, _)| *own == name).expect("it has it").1;
        assert_relative_eq!(own.value, truth, max_relative = 1e-5);
    }
    assert_relative_eq!(curve.band(310.0, Some(0.02)).y, eta(310.0, 0.02), max_relative = 1e-6);
}

/// Both sources of the published density lie inside of the interval, and the slope lies between theirs.
#[test]
fn published_sources_share_a_slope() {
    for (liquid, steep, flat) in
        [("ChCl:glycerol 1:2", -0.00055, -0.00052), ("ChCl:EG 1:2", -0.00061, -0.00055)]
    {
        let found = json(&["curve", liquid, "--property", "density", "--at", "40 °C"], 0);
        let all = series(&found, "all together");
        let slope = all["parameters"][1]["value"].as_f64().expect("a number");
        assert!((steep..flat).contains(&slope), "{liquid}: {slope}");
        assert_eq!((&all["joined"], &all["joined_series"]), (&"levels".into(), &2.into()));
        let (low, high) =
            (all["at"][0]["mean"][0].as_f64().unwrap(), all["at"][0]["mean"][1].as_f64().unwrap());
        for own in found["series"].as_array().expect("a list") {
            assert!((low..high).contains(&own["at"][0]["value"].as_f64().unwrap()), "{liquid}: {own}");
        }
    }
}

/// Computed apart from this program, by a plain search over T₀ in steps of 0.1 K with centred least squares on ln η for
/// each, over the 27 published points of 7 sources: T₀ 150.3 K, b 892.9 K, scatter within 0.005194, standard deviation of the
/// levels 0.09527, and 26.348 mPa·s at 40 °C at the mean level.
#[test]
fn seven_sources_of_a_viscosity() {
    let found = json(&["curve", "ChCl:EG 1:2", "--property", "viscosity", "--at", "40 °C"], 0);
    let all = series(&found, "all together");
    let number = |value: &Value| value.as_f64().expect("a number");
    assert_relative_eq!(number(&all["parameters"][1]["value"]), 892.9, max_relative = 2e-3);
    assert_relative_eq!(number(&all["parameters"][2]["value"]), 150.3, epsilon = 0.2);
    assert_relative_eq!(number(&all["residual_sd"]), 0.005194, max_relative = 1e-3);
    assert_relative_eq!(number(&all["between_series_sd"]), 0.09527, max_relative = 1e-3);
    assert_relative_eq!(number(&all["at"][0]["value"]), 26.348, max_relative = 1e-4);
    // t(0.975, 6) = 2.4469 · 0.09527 · √(1 + 1/7) = 0.24922: a further source from 26.348/1.2830 to 26.348 · 1.2830.
    assert_relative_eq!(number(&all["at"][0]["further"][1]), 26.348 * 1.2830, max_relative = 2e-3);
}

/// Towards T₀ a viscosity rises beyond all bounds, and below it the formula gives numbers that mean nothing.
#[test]
fn nothing_is_said_near_t0_and_below() {
    let asked = |at: &str, code: i32| {
        let found = json(&["curve", "ChCl:EG 1:2", "--property", "viscosity", "--at", at], code);
        series(&found, "all together")["at"][0].clone()
    };
    for at in ["-120 °C", "-100 °C", "-200 °C"] {
        let found = asked(at, 1);
        assert!(found["value"].is_null() && found["further"][0].is_null(), "{found}");
        let lowest = found["lowest_k"].as_f64().expect("it says from where");
        assert!((160.0..293.0).contains(&lowest), "{lowest}");
        let again = asked(&format!("{} °C", (lowest - 273.15).ceil()), 0);
        assert!(again["value"].as_f64().is_some_and(|value| value < 1e9), "{again}");
    }
    let shown = answer(&["curve", "ChCl:EG 1:2", "--property", "viscosity", "--at", "-120 °C"], 1);
    assert!(shown.contains("Nothing is said of -120 °C"), "{shown}");
    // A straight line through viscosities falls below 0 at 90 °C, where no viscosity does.
    let line = ["curve", "ChCl:EG 1:2", "--property", "viscosity", "--form", "line", "--at", "150 °C"];
    let found = json(&line, 1);
    assert!(series(&found, "all together")["at"][0]["value"].is_null());
    assert!(answer(&line, 1).contains("outside what this law can describe"));
}

/// Two glycols are two liquids, whatever was asked of both.
#[test]
fn batches_of_different_liquids_stay_apart() {
    let folder = folder();
    let run = |arguments: &[&str]| {
        let run = run_in(folder.path(), &[arguments, &["--book", "lab"]].concat());
        assert_eq!(run.code, 0, "{arguments:?}: {}", run.stderr);
        run.stdout
    };
    assert_eq!(run_in(folder.path(), &["init", "lab", "--laboratory", "Room 12", "--by", "AB"]).code, 0);
    for recipe in ["ChCl:EG 1:2", "ChCl:glycerol 1:2", "ChCl:EG 1:2 to 1 wt% water"] {
        run(&["batch", "start", recipe, "--mass", "60 g"]);
    }
    // VFT with T0 = 160 K: 0.15 exp(800/(T − 160)) and 0.09 exp(1100/(T − 160)) mPa·s; the third 4 % above the first.
    for kelvin in [293.15, 303.15, 313.15, 323.15, 333.15] {
        for (code, a, b) in [("E1", 0.15, 800.0), ("E2", 0.09, 1100.0), ("E3", 0.156, 800.0)] {
            let value = format!("{:.5} mPa·s", a * f64::exp(b / (kelvin - 160.0)));
            let at = format!("{:.0} °C", kelvin - 273.15);
            run(&["batch", "measure", code, "viscosity", &value, "--at", &at]);
        }
    }
    let asked = ["curve", "--property", "viscosity", "--at", "40 °C"];
    let two = [&asked[..], &["--batch", "E1", "--batch", "E2"]].concat();
    let found = envelope(&run(&[&two[..], &["--format", "json"]].concat()))["answer"].clone();
    assert_eq!(found["series"].as_array().expect("a list").len(), 2, "{found}");
    // 0.15 exp(800/153.15) = 27.85; 0.09 exp(1100/153.15) = 118.5.
    for (code, value) in [("E1", 27.85), ("E2", 118.5)] {
        let own = series(&found, code)["at"][0]["value"].as_f64().unwrap();
        assert_relative_eq!(own, value, max_relative = 2e-3);
    }
    let shown = run(&two);
    assert!(shown.contains("choline-chloride:ethylene-glycol 1:2: At 40 °C"), "{shown}");
    assert!(shown.contains("choline-chloride:glycerol 1:2: At 40 °C"), "{shown}");
    // With the third the first has company, and the second still has none.
    let three = [&asked[..], &["--batch", "E1..E3", "--format", "json"]].concat();
    let found = envelope(&run(&three))["answer"].clone();
    let names: Vec<&str> =
        found["series"].as_array().unwrap().iter().filter_map(|own| own["series"].as_str()).collect();
    assert_eq!(names, ["E1", "E3", "all of choline-chloride:ethylene-glycol 1:2", "E2"]);
}

/// The water of a name counts as that of --water.
#[test]
fn water_in_the_name_is_heard() {
    let named = json(&["curve", "ChCl:EG 1:2 to 2 wt% water", "--property", "viscosity", "--at", "25 °C"], 0);
    let at = &series(&named, "all together")["at"][0];
    assert_relative_eq!(at["water_wt_pct"].as_f64().expect("it is heard"), 2.0, max_relative = 1e-12);
    let shown =
        answer(&["curve", "ChCl:EG 1:2 to 2 wt% water", "--property", "viscosity", "--at", "25 °C"], 0);
    assert!(shown.contains("nothing is known of what 2 wt% of it do"), "{shown}");
}

/// What is taken where nobody says it stands in the headline; what nothing is left to judge by is said, and so is why a
/// law can't be told. No answer holds a number that is none.
#[test]
fn what_is_taken_and_what_is_missing_is_said() {
    let folder = folder();
    let mut wet = "T (°C),eta (mPa·s),water (wt%)\n".to_owned();
    for (step, water) in [(0, 1.0), (1, 1.2), (2, 3.0), (3, 2.5), (4, 3.4), (5, 1.1), (6, 2.0)] {
        let celsius = 20.0 + 6.0 * f64::from(step);
        let eta = 0.13 * f64::exp(850.0 / (celsius + 118.15) - 20.0 * water / 100.0);
        wet.push_str(&format!("{celsius},{eta},{water}\n"));
    }
    write(folder.path(), "wet.csv", wet.as_bytes());
    write(folder.path(), "two.csv", "T (°C),rho (g/mL)\n20,1.12\n40,1.11\n".as_bytes());
    let straight = "T (°C),eta (mPa·s)\n20,40\n20.1,41\n20.2,39.5\n20.3,40.2\n";
    write(folder.path(), "narrow.csv", straight.as_bytes());
    let ask = |file: &str, y: &str, more: &[&str], code: i32| {
        let property = if y == "rho" { "density" } else { "viscosity" };
        let fixed =
            ["curve", "--points", file, "--x", "T", "--y", y, "--property", property, "--at", "30 °C"];
        let run = run_in(folder.path(), &[&fixed[..], more].concat());
        assert_eq!(run.code, code, "{file}: {}", run.stderr);
        assert!(!run.stdout.contains("NaN"), "{}", run.stdout);
        run.stdout
    };
    // Least 1.0, most 3.4: their middle is 2.2.
    let shown = ask("wet.csv", "eta", &["--water-column", "water"], 0);
    assert!(shown.contains("2.2 wt% water, the middle"), "{shown}");
    let shown = ask("two.csv", "rho", &[], 0);
    assert!(shown.contains("nothing is left to judge it by"), "{shown}");
    let shown = ask("narrow.csv", "eta", &[], 1);
    assert!(shown.contains("4 points can't tell the parameters"), "{shown}");
    let shown = ask("wet.csv", "eta", &["--form", "arrhenius"], 0);
    assert!(shown.contains("a exp(E/(R T))") && !shown.contains("-4") && !shown.contains("-5"), "{shown}");
}

/// Series of a file by names are one liquid only if somebody says so; of Walden's product no curve is asked; what was measured
/// at the temperature is told without one.
#[test]
fn what_has_no_curve_and_what_no_liquid() {
    let folder = folder();
    let run = |arguments: &[&str], code: i32| {
        let run = run_in(folder.path(), arguments);
        assert_eq!(run.code, code, "{arguments:?}: {} {}", run.stdout, run.stderr);
        (run.stdout.split_whitespace().collect::<Vec<_>>().join(" "), run.stderr)
    };
    let rows = "name,T (°C),rho (g/mL)\nA,20,1.20\nA,40,1.18\nA,60,1.161\nB,20,1.10\nB,40,1.08\nB,60,1.059\n";
    write(folder.path(), "two.csv", rows.as_bytes());
    let file =
        ["curve", "--property", "density", "--points", "two.csv", "--x", "T", "--y", "rho", "--by", "name"];
    for more in [&["--at", "25 °C"][..], &[]] {
        let (shown, _) = run(&[&file[..], more].concat(), 0);
        assert!(shown.contains("only if the series of two.csv by name are one liquid"), "{shown}");
    }
    for flag in [["--at", "25 °C"], ["--form", "line"]] {
        let (_, refused) = run(&[&["curve", "ChCl:EG 1:2", "--property", "walden"], &flag[..]].concat(), 2);
        assert!(refused.contains("stray_flag") && refused.contains(flag[0]), "{refused}");
    }
    run(&["init", "lab", "--laboratory", "Room 12", "--by", "AB"], 0);
    for (code, density) in [("E1", "1.118 g/mL"), ("E2", "1.121 g/mL")] {
        run(&["batch", "start", "ChCl:EG 1:2", "--mass", "60 g", "--book", "lab"], 0);
        run(&["batch", "measure", code, "density", density, "--at", "25 °C", "--book", "lab"], 0);
    }
    let asked = ["curve", "--batch", "E1..E2", "--property", "density", "--book", "lab", "--at"];
    let (shown, _) = run(&[&asked[..], &["25 °C"]].concat(), 0);
    assert!(shown.contains("as measured: E1 1.1180, E2 1.1210 g/mL"), "{shown}");
    assert!(shown.contains("as measured; no curve through 1 point"), "{shown}");
    assert!(run(&[&asked[..], &["30 °C"]].concat(), 1).0.contains("Nothing is said of 30 °C"));
}
