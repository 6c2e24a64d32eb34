//! `mixture`: designs through the program itself, their recipes through `plan`, their results through `mixture fit`.

use approx::assert_relative_eq;
use serde_json::Value;
use tempfile::TempDir;

use crate::golden;
use crate::run::{Run, answer, envelope, folder, json, run_in, write};

const VERTICES: &[&str] = &[
    "mixture",
    "vertices",
    "ChCl",
    "urea",
    "water",
    "--bound",
    "ChCl from=0.2 to=0.5",
    "--bound",
    "urea from=30mol% to=0.6",
    "--bound",
    "water from=0.1 to=0.3",
    "--seed",
    "7",
];

fn with(before: &[&'static str], more: &[&'static str]) -> Vec<&'static str> {
    [before, more].concat()
}

fn runs(answer: &Value) -> &Vec<Value> {
    answer["runs"].as_array().expect("a list")
}

#[test]
fn designs_look_as_kept() {
    for (name, arguments) in [
        (
            "mixture-lattice.txt",
            &["mixture", "lattice", "ChCl", "urea", "glycerol", "--degree", "2", "--axial", "--seed", "7"][..],
        ),
        (
            "mixture-blocks.txt",
            &[
                "mixture",
                "centroid",
                "ChCl",
                "EG",
                "--replicates",
                "3",
                "--blocks",
                "2",
                "--mass",
                "20 g",
                "--seed",
                "7",
            ],
        ),
        (
            "mixture-plots.txt",
            &[
                "mixture",
                "lattice",
                "ChCl",
                "EG",
                "--degree",
                "1",
                "--process",
                "heat levels=60 80 unit=°C",
                "--process",
                "water levels=1 3 unit=wt%",
                "--hard",
                "heat",
                "--model",
                "linear",
                "--seed",
                "7",
            ],
        ),
        (
            "mixture-optimal.txt",
            &[
                "mixture",
                "optimal",
                "ChCl",
                "urea",
                "water",
                "--bound",
                "ChCl from=0.2 to=0.5",
                "--where",
                "urea >= ChCl",
                "--runs",
                "9",
                "--seed",
                "7",
            ],
        ),
        ("mixture-vertices.csv", &with(VERTICES, &["--centre", "2", "--format", "csv"])),
        ("mixture-vertices.md", &with(VERTICES, &["--format", "markdown"])),
    ] {
        golden::check(&format!("cli/{name}"), &answer(arguments, 0));
    }
}

/// The keys that scripts rely on.
#[test]
fn a_design_has_its_keys() {
    let found = json(&with(VERTICES, &["--centre", "2"]), 0);
    assert_eq!(
        (&found["kind"], &found["seed"], &found["basis"]),
        (&"vertices".into(), &7.into(), &"mole".into())
    );
    assert_eq!(runs(&found).len(), 8);
    for (at, run) in runs(&found).iter().enumerate() {
        assert_eq!(run["run"], at + 1);
        let fractions = run["fractions"].as_object().expect("an object");
        assert_eq!(fractions.keys().collect::<Vec<_>>(), ["choline-chloride", "urea", "water"]);
        let sum: f64 = fractions.values().map(|x| x.as_f64().unwrap()).sum();
        assert_relative_eq!(sum, 1.0, max_relative = 1e-12);
    }
    assert_eq!(found, json(&with(VERTICES, &["--centre", "2"]), 0), "the seed draws it again");
}

/// The choice depends on the components and not on the order in which they are typed.
#[test]
fn the_order_of_components_chooses_nothing() {
    let choice = |components: [&'static str; 4]| {
        let mut arguments = vec!["mixture", "optimal"];
        arguments.extend(components);
        arguments.extend([
            "--bound",
            "ChCl from=0.2 to=0.5",
            "--bound",
            "water to=0.3",
            "--runs",
            "12",
            "--seed",
            "3",
        ]);
        let found = json(&arguments, 0);
        let mut chosen: Vec<String> = runs(&found)
            .iter()
            .map(|run| {
                let x = |name: &str| (run["fractions"][name].as_f64().unwrap() * 1e6).round();
                format!("{} {} {} {}", x("choline-chloride"), x("urea"), x("water"), x("glycerol"))
            })
            .collect();
        chosen.sort();
        chosen
    };
    let one = choice(["ChCl", "urea", "water", "glycerol"]);
    assert_eq!(one, choice(["glycerol", "water", "ChCl", "urea"]));
    assert_eq!(one, choice(["urea", "glycerol", "water", "ChCl"]));
}

/// Every recipe goes through `plan` and holds the composition of its run; a second time nothing is overwritten.
#[test]
fn every_recipe_can_be_planned() {
    let folder = folder();
    let arguments = [
        "mixture",
        "centroid",
        "ChCl",
        "urea",
        "glycerol",
        "--process",
        "water levels=1 4 unit=wt%",
        "--process",
        "ZnCl2 levels=0 0.5 unit=mol/kg",
        "--process",
        "heat levels=60 80 unit=°C",
        "--crossed",
        "common",
        "--seed",
        "7",
        "--recipes",
        "new/runs",
        "--format",
        "json",
    ];
    let run = run_in(folder.path(), &arguments);
    assert_eq!((run.code, run.stderr.as_str()), (0, ""));
    let found = envelope(&run.stdout)["answer"].clone();
    assert_eq!(runs(&found).len(), 56);
    for (run, path) in runs(&found).iter().zip(found["recipes"].as_array().expect("a list")) {
        let path = path.as_str().expect("a path");
        let planned = run_in(folder.path(), &["plan", path, "--mass", "20 g", "--format", "json"]);
        assert!(planned.code <= 1, "{path}: {}", planned.stderr);
        let plan = envelope(&planned.stdout)["answer"].clone();
        let lines = plan["lines"].as_array().expect("a list");
        let amount = |name: &str| {
            let line = lines.iter().find(|line| line["component"] == name && line["role"] != "water");
            line.map_or(0.0, |line| line["amount_mol"].as_f64().unwrap())
        };
        let parts = ["choline-chloride", "urea", "glycerol"];
        let sum: f64 = parts.iter().map(|name| amount(name)).sum();
        for name in parts {
            let asked = run["fractions"][name].as_f64().unwrap();
            assert!((amount(name) / sum - asked).abs() < 1e-9, "{path}: {name}");
        }
        let water = plan["totals"]["water_wt_pct"].as_f64().unwrap();
        assert_relative_eq!(water, run["process"]["water"].as_f64().unwrap(), max_relative = 1e-9);
        assert_eq!(0.0 < amount("zinc-chloride"), 0.0 < run["process"]["ZnCl2"].as_f64().unwrap());
    }
    let before = std::fs::read_to_string(folder.path().join("new/runs/run-01.toml")).expect("it is there");
    assert!(before.contains("heat = \""), "{before}");
    let again = run_in(folder.path(), &arguments);
    assert_eq!((again.code, again.stdout.as_str()), (2, ""));
    assert!(again.stderr.contains("file_exists"));
    assert_eq!(std::fs::read_to_string(folder.path().join("new/runs/run-01.toml")).unwrap(), before);
}

/// What all runs need is what `plan` says of each.
#[test]
fn needs_add_up() {
    let found =
        json(&["mixture", "lattice", "ChCl", "urea", "--degree", "2", "--mass", "30 g", "--seed", "1"], 0);
    let needed = |name: &str| {
        let lines = found["need"]["lines"].as_array().expect("a list");
        lines.iter().find(|line| line["component"] == name).expect("it is needed")["needed_g"]
            .as_f64()
            .unwrap()
    };
    let half = json(&["plan", "ChCl:urea 1:1", "--mass", "30 g"], 0);
    let weighed = |at: usize| half["lines"][at]["weigh_g"].as_f64().unwrap();
    assert_relative_eq!(needed("choline-chloride"), 30.0 + weighed(0), max_relative = 1e-9);
    assert_relative_eq!(needed("urea"), 30.0 + weighed(1), max_relative = 1e-9);
}

fn bench() -> TempDir {
    let folder = folder();
    for (name, text) in [
        ("yarn.csv", include_str!("../../fixtures/statistics/mixture/yarn.csv")),
        ("cells.csv", include_str!("../../fixtures/statistics/mixture/invented-3.csv")),
    ] {
        write(folder.path(), name, text.as_bytes());
    }
    // The same yarn in grams of 250 with decimal commas, and a line without a result.
    let mut grams = "x1 (g);x2 (g);x3 (g);elongation (%)\n".to_owned();
    for line in include_str!("../../fixtures/statistics/mixture/yarn.csv").lines().skip(1) {
        let cells: Vec<f64> = line.split(',').map(|cell| cell.parse().unwrap()).collect();
        let row = format!("{};{};{};{}\n", cells[0] * 250.0, cells[1] * 250.0, cells[2] * 250.0, cells[3]);
        grams.push_str(&row.replace('.', ","));
    }
    grams.push_str("10;10;10;\n");
    write(folder.path(), "grams.csv", grams.as_bytes());
    write(folder.path(), "short.csv", b"a,b,c,y\n1,0,0,1\n0,1,0,2\n0,0,1,3\n0.5,0.5,0,2\n0.5,0,0.5,2.5\n");
    folder
}

fn fit(folder: &TempDir, line: &str) -> Run {
    let arguments: Vec<&str> = line.split(' ').collect();
    run_in(folder.path(), &arguments)
}

fn fit_json(folder: &TempDir, line: &str, code: i32) -> Value {
    let run = fit(folder, &format!("{line} --format json"));
    assert_eq!((run.code, run.stderr.as_str()), (code, ""), "{line}");
    envelope(&run.stdout)["answer"].clone()
}

#[test]
fn fits_look_as_kept() {
    let folder = bench();
    for (name, line, code) in [
        ("mixture-fit-yarn.txt", "mixture fit yarn.csv --part x1,x2,x3 --value y --goal max --seed 7", 0),
        ("mixture-fit-yarn.csv", "mixture fit yarn.csv --part x1,x2,x3 --value y --seed 7 --format csv", 0),
        (
            "mixture-fit-linear.md",
            "mixture fit yarn.csv --part x1,x2,x3 --value y --model linear --seed 7 --format markdown",
            0,
        ),
        ("mixture-fit-short.txt", "mixture fit short.csv --part a,b,c --value y --seed 7", 1),
    ] {
        let run = fit(&folder, line);
        assert_eq!((run.code, run.stderr.as_str()), (code, ""), "{line}");
        golden::check(&format!("cli/{name}"), &run.stdout);
    }
}

/// Cornell's yarn through the program: from fractions, and from grams.
#[test]
fn a_fit_has_its_keys() {
    let folder = bench();
    for line in [
        "mixture fit yarn.csv --part x1,x2,x3 --value y --goal max --seed 7",
        "mixture fit grams.csv --part x1,x2,x3 --value elongation --amounts --goal max --seed 7",
    ] {
        let found = fit_json(&folder, line, 0);
        assert_eq!((&found["n"], &found["estimable"]), (&15.into(), &true.into()));
        for (at, (term, value)) in
            [("x1", 11.7), ("x2", 9.4), ("x3", 16.4), ("x1*x2", 19.0), ("x1*x3", 11.4), ("x2*x3", -9.6)]
                .into_iter()
                .enumerate()
        {
            assert_eq!(found["parameters"][at]["term"], term);
            assert_relative_eq!(
                found["parameters"][at]["value"].as_f64().unwrap(),
                value,
                max_relative = 1e-9
            );
        }
        assert_relative_eq!(
            found["anova"]["r_squared_predicted"].as_f64().unwrap(),
            0.864336774040458,
            max_relative = 1e-9
        );
        assert_eq!(found["lack_of_fit"]["df_pure_error"], 9);
        let best = &found["optimum"][0];
        assert_relative_eq!(best["fractions"]["x1"].as_f64().unwrap(), 0.29385964912280704, epsilon = 1e-6);
        assert!(best["mean"][0].as_f64() < best["value"].as_f64());
        assert_eq!(found["next"].as_array().expect("a list").len(), 3);
    }
}

/// A day that shifts all results shifts no coefficient, and without a repeat inside a block there is no pure error.
#[test]
fn a_block_is_taken_out() {
    let folder = folder();
    let mut text = "day,a,b,y\n".to_owned();
    for (at, a) in [0.0, 0.25, 0.5, 0.75, 1.0, 0.5, 0.0].into_iter().enumerate() {
        let (day, shift) = if at % 2 == 0 { ("Mon", 0.4) } else { ("Tue", -0.4) };
        text.push_str(&format!(
            "{day},{a},{},{}\n",
            1.0 - a,
            2.0 * a + 3.0 * (1.0 - a) + a * (1.0 - a) + shift
        ));
    }
    write(folder.path(), "days.csv", text.as_bytes());
    let found = fit_json(&folder, "mixture fit days.csv --part a,b --value y --block day --seed 1", 0);
    for (at, expected) in [2.0, 3.0, 1.0].into_iter().enumerate() {
        assert!((found["parameters"][at]["value"].as_f64().unwrap() - expected).abs() < 1e-9);
    }
    assert!((found["blocks"]["Mon"].as_f64().unwrap() - 0.4).abs() < 1e-9, "{}", found["blocks"]);
    assert!((found["blocks"]["Tue"].as_f64().unwrap() + 0.4).abs() < 1e-9);
}

/// Mass fractions of a liquid become the mole ratio that they are; those of a powder stay by mass.
#[test]
fn mass_fractions_are_kept() {
    let folder = folder();
    for (components, basis) in [(["ChCl", "urea"], "mole"), (["manganese-dioxide", "graphite"], "mass")] {
        let mut arguments = vec!["mixture", "lattice", components[0], components[1], "--degree", "2"];
        arguments.extend(["--basis", "mass", "--seed", "1", "--recipes", basis]);
        assert_eq!(run_in(folder.path(), &arguments).code, 0);
        let half = (1..=3)
            .map(|run| format!("{basis}/run-0{run}.toml"))
            .find(|path| {
                let text = std::fs::read_to_string(folder.path().join(path)).unwrap();
                assert!(text.contains(&format!("basis = \"{basis}\"")), "{text}");
                text.matches("[[part]]").count() == 2
            })
            .expect("a run of halves");
        let planned = run_in(folder.path(), &["plan", &half, "--mass", "20 g", "--format", "json"]);
        let lines = envelope(&planned.stdout)["answer"]["lines"].clone();
        for at in 0..2 {
            assert_relative_eq!(lines[at]["weigh_g"].as_f64().unwrap(), 10.0, max_relative = 1e-9);
        }
    }
}

/// What the results can't tell is named, the answer is no, and what would help is proposed.
#[test]
fn what_can_not_be_told_is_said() {
    let found = fit_json(&bench(), "mixture fit short.csv --part a,b,c --value y --seed 7", 1);
    assert_eq!(found["not_estimable"], serde_json::json!(["b*c"]));
    assert!(found["parameters"].is_null());
    let next = found["next"].as_array().expect("a list");
    let helps = |run: &Value| {
        let x = |name: &str| run["fractions"][name].as_f64().unwrap();
        0.0 < x("b") * x("c")
    };
    assert!(next.iter().any(helps), "{next:?}");
}

/// The CSV of a design with a column of results is what a fit reads.
#[test]
fn a_design_comes_back_with_results() {
    let folder = folder();
    let table =
        run_in(folder.path(), &with(VERTICES, &["--edges", "--centre", "3", "--format", "csv"])).stdout;
    let mut lines = table.lines();
    let mut filled = format!("{},y\n", lines.next().expect("a head"));
    for line in lines {
        let cells: Vec<&str> = line.split(',').collect();
        let x: Vec<f64> = cells[2..].iter().map(|cell| cell.parse().unwrap()).collect();
        filled.push_str(&format!("{line},{}\n", 3.0 * x[0] + 5.0 * x[1] - 2.0 * x[2] + 4.0 * x[0] * x[1]));
    }
    write(folder.path(), "filled.csv", filled.as_bytes());
    let line = "mixture fit filled.csv --part choline-chloride,urea,water --value y --seed 7";
    let found = fit_json(&folder, line, 0);
    for (at, expected) in [3.0, 5.0, -2.0, 4.0, 0.0, 0.0].into_iter().enumerate() {
        let value = found["parameters"][at]["value"].as_f64().unwrap();
        assert!((value - expected).abs() < 1e-9, "{value} {expected}");
    }
}
