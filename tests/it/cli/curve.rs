//! `curve`: published values, a file, batches of the book; what it shows and the keys that scripts rely on.

use approx::assert_relative_eq;
use serde_json::Value;

use crate::golden;
use crate::run::{answer, envelope, folder, json, run_in, write};

#[test]
fn it_shows_values_curve_and_sources() {
    let viscosity = ["curve", "ChCl:EG 1:2", "--property", "viscosity", "--at", "40 °C", "--at", "-10 °C"];
    golden::check("cli/curve-viscosity.txt", &answer(&viscosity, 0));
    let density =
        ["curve", "ChCl:glycerol 1:2", "--property", "density", "--at", "25 °C", "--format", "markdown"];
    golden::check("cli/curve-density.md", &answer(&density, 0));
    // One published conductivity is no curve, and one temperature no pair: the answer is no.
    golden::check(
        "cli/curve-conductivity.txt",
        &answer(&["curve", "ChCl:EG 1:2", "--property", "conductivity"], 1),
    );
    golden::check("cli/curve-walden.txt", &answer(&["curve", "ChCl:EG 1:2", "--property", "walden"], 1));
}

#[test]
fn an_extrapolation_is_called_one() {
    let arguments = ["curve", "ChCl:EG 1:2", "--property", "viscosity", "--at", "40 °C", "--at", "-10 °C"];
    let answer = json(&arguments, 0);
    let series = answer["series"].as_array().expect("a list");
    let last = series.last().expect("there are series");
    assert_eq!(last["series"], "all together");
    let beyond: Vec<&Value> =
        last["at"].as_array().expect("a list").iter().map(|at| &at["beyond_data"]).collect();
    assert_eq!(beyond, [&Value::from(false), &Value::from(true)]);
    for own in series {
        assert!(own["points"].is_array() && own["n"].is_number(), "{own}");
    }
}

/// The other way round, the liquid is the same one.
#[test]
fn the_order_of_the_parts_changes_nothing() {
    let of = |liquid: &str| json(&["curve", liquid, "--property", "density"], 0)["series"].clone();
    assert_eq!(of("ChCl:glycerol 1:2"), of("glycerol:ChCl 2:1"));
    assert_eq!(of("ChCl:glycerol 1:2"), of("ChCl:glycerol 0.5:1"));
}

/// What was measured of a batch is a series by its code; in a file it is the same.
#[test]
fn a_batch_and_a_file_give_one_curve() {
    let folder = folder();
    let run = |arguments: &[&str]| {
        let run = run_in(folder.path(), arguments);
        assert_eq!(run.code, 0, "{arguments:?}: {}", run.stderr);
        run.stdout
    };
    run(&["init", "lab", "--laboratory", "Room 12", "--by", "AB"]);
    run(&["bottle", "receive", "ChCl", "--net", "100 g", "--book", "lab"]);
    run(&["batch", "start", "ChCl:EG 1:2", "--mass", "60 g", "--bottle", "B1", "--book", "lab"]);
    let mut file = "T (°C),eta (mPa·s)\n".to_owned();
    for (celsius, value) in [("20", "48.2"), ("30", "33.1"), ("40", "24.0"), ("50", "18.1")] {
        let (value_unit, at) = (format!("{value} mPa·s"), format!("{celsius} °C"));
        run(&["batch", "measure", "E1", "viscosity", &value_unit, "--at", &at, "--book", "lab"]);
        file.push_str(&format!("{celsius},{value}\n"));
    }
    write(folder.path(), "mine.csv", file.as_bytes());
    let asked = ["--property", "viscosity", "--at", "25 °C", "--book", "lab", "--format", "json"];
    let value = |from: &[&str]| {
        let answer = envelope(&run(&[&["curve"], from, &asked[..]].concat()))["answer"].clone();
        answer["series"][0]["at"][0]["value"].as_f64().expect("a number")
    };
    let (batch, points) =
        (value(&["--batch", "E1"]), value(&["--points", "mine.csv", "--x", "T", "--y", "eta"]));
    assert_relative_eq!(batch, points, max_relative = 1e-12);
    assert!((33.1..48.2).contains(&batch));
}

/// Conductivity, viscosity and density of one batch: the molar product by what was weighed in. Of another without a
/// density it is missing, and that is said; so it is of the first with a second salt in it.
#[test]
fn waldens_product_is_molar_where_a_density_is_known() {
    let folder = folder();
    let run = |arguments: &[&str], code: i32| {
        let run = run_in(folder.path(), &[arguments, &["--book", "lab"]].concat());
        assert_eq!(run.code, code, "{arguments:?}: {}", run.stderr);
        run.stdout
    };
    assert_eq!(run_in(folder.path(), &["init", "lab", "--laboratory", "Room 12", "--by", "AB"]).code, 0);
    for (code, chloride, glycol) in [("E1", "27.925 g", "24.827 g"), ("E2", "20 g", "20 g")] {
        run(&["batch", "start", "ChCl:EG 1:2", "--mass", "60 g"], 0);
        run(&["batch", "weigh", code, "ChCl", chloride, "--because", "off the recipe on purpose"], 0);
        run(&["batch", "weigh", code, "EG", glycol, "--because", "off the recipe on purpose"], 0);
    }
    for (celsius, kappa, eta) in
        [("20", "6.4", "48.2"), ("30", "9.1", "33.1"), ("40", "12.2", "24.0"), ("50", "15.6", "18.1")]
    {
        let at = format!("{celsius} °C");
        for code in ["E1", "E2"] {
            let (kappa, eta) = (format!("{kappa} mS/cm"), format!("{eta} mPa·s"));
            run(&["batch", "measure", code, "conductivity", &kappa, "--at", &at], 0);
            run(&["batch", "measure", code, "viscosity", &eta, "--at", &at], 0);
        }
    }
    run(&["batch", "measure", "E1", "density", "1.118 g/mL", "--at", "20 °C"], 0);
    run(&["batch", "measure", "E1", "density", "1.101 g/mL", "--at", "50 °C"], 0);
    let asked = ["curve", "--property", "walden", "--batch", "E1..E2"];
    golden::check("cli/curve-walden-molar.txt", &run(&asked, 0));
    let whole = envelope(&run(&[&asked[..], &["--format", "json"]].concat(), 0));
    let [one, other] = &whole["answer"]["sets"].as_array().expect("a list")[..] else { panic!("two sets") };
    // 27.925 g / 139.623 g/mol = 0.2000029 mol in 52.752 g: 263.756 g hold a mole of choline chloride.
    assert_eq!(one["salt"], "choline-chloride");
    assert_relative_eq!(one["grams_per_mole_of_salt"].as_f64().unwrap(), 263.756, max_relative = 1e-5);
    // At 20 °C: 6.4e-3 S/cm · 263.756 g/mol / 1.118 g/cm³ = 1.50988 S cm²/mol, · 48.2 mPa·s = 72.776.
    let pair = &one["pairs"][0];
    assert_relative_eq!(
        pair["molar_conductivity_s_cm2_per_mol"].as_f64().unwrap(),
        1.50988,
        max_relative = 1e-5
    );
    assert_relative_eq!(
        pair["molar_product_s_cm2_per_mol_mpa_s"].as_f64().unwrap(),
        72.776,
        max_relative = 1e-4
    );
    assert_relative_eq!(pair["of_ideal"].as_f64().unwrap(), 72.776 / (141.3 * 0.890), max_relative = 1e-4);
    // At 30 °C by the line between both densities: 1.118 − 0.017/3.
    assert_relative_eq!(
        one["pairs"][1]["density_g_per_ml"].as_f64().unwrap(),
        1.118 - 0.017 / 3.0,
        max_relative = 1e-9
    );
    assert!(one["molar_exponent"].is_number() && one["molar_exponent_sd"].is_number());
    assert!(other["molar_exponent"].is_null() && other["exponent"].is_number());
    assert_eq!(other["not_molar_because"], "no density with its temperature is known of it");
    // With zinc chloride in it somebody has to say whose moles are counted.
    run(&["batch", "add", "E1", "--component", "ZnCl2", "5 g", "--because", "off the recipe on purpose"], 0);
    let json = |more: &[&str]| {
        envelope(&run(&[&asked[..], more, &["--format", "json"]].concat(), 0))["answer"].clone()
    };
    let missing = json(&[])["not_molar_because"].as_str().expect("it says why").to_owned();
    assert!(missing.contains("more than one salt (choline-chloride, zinc-chloride)"), "{missing}");
    // 5 g / 136.28 g/mol = 0.036689 mol in 57.752 g.
    let zinc = json(&["--carrier", "ZnCl2"])["grams_per_mole_of_salt"].as_f64().expect("a number");
    assert_relative_eq!(zinc, 57.752 / (5.0 / 136.28), max_relative = 1e-4);
}

/// A file with all three columns is what the batch is; what holds a mole is said by a liquid or by a number.
#[test]
fn a_file_may_have_densities_too() {
    let folder = folder();
    let file = "T (°C),kappa (mS/cm),eta (mPa·s),rho (g/mL)\n20,6.4,48.2,1.118\n30,9.1,33.1,1.112\n40,12.2,24,1.107\n";
    write(folder.path(), "mine.csv", file.as_bytes());
    let columns =
        ["--points", "mine.csv", "--x", "T", "--y", "kappa", "--viscosity", "eta", "--density", "rho"];
    let asked = |before: &[&str], more: &[&str]| {
        let property = ["--property", "walden", "--format", "json"];
        let run = run_in(folder.path(), &[&["curve"], before, &property[..], &columns, more].concat());
        assert_eq!(run.code, 0, "{}", run.stderr);
        envelope(&run.stdout)["answer"]["sets"][0].clone()
    };
    // 139.623 + 2 · 60.056 g/mol: nothing is published of the conductivity of this liquid, and it may be named all the same.
    let liquid = asked(&["ChCl:urea 1:2"], &[]);
    assert_relative_eq!(liquid["grams_per_mole_of_salt"].as_f64().unwrap(), 259.735, max_relative = 1e-5);
    let stated = asked(&[], &["--mass-per-mole", "259.735 g/mol"]);
    assert_relative_eq!(
        liquid["pairs"][2]["molar_conductivity_s_cm2_per_mol"].as_f64().unwrap(),
        stated["pairs"][2]["molar_conductivity_s_cm2_per_mol"].as_f64().unwrap(),
        max_relative = 1e-5
    );
    let neither = asked(&[], &[]);
    assert!(neither["molar_exponent"].is_null() && neither["exponent"].is_number());
    assert!(neither["not_molar_because"].as_str().expect("it says why").contains("--mass-per-mole"));
}
