//! `mixture`: no recipe without a part that was asked for, and no figure that the results can't tell.

use approx::assert_relative_eq;
use serde_json::Value;
use tempfile::TempDir;

use crate::run::{Run, envelope, folder, run_in, write};

fn run(folder: &TempDir, arguments: &[&str], code: i32) -> Run {
    let run = run_in(folder.path(), arguments);
    assert_eq!(run.code, code, "{arguments:?}: {} {}", run.stdout, run.stderr);
    assert!(!run.stdout.contains("NaN"), "{}", run.stdout);
    run
}

fn found(folder: &TempDir, arguments: &[&str], code: i32) -> Value {
    envelope(&run(folder, &[arguments, &["--format", "json"]].concat(), code).stdout)["answer"].clone()
}

/// A component in a unit that no recipe takes, or in none, is refused; in one that it takes it is in every recipe.
#[test]
fn no_recipe_lacks_what_was_asked_for() {
    let folder = folder();
    let design = ["mixture", "centroid", "ChCl", "EG", "--seed", "7"];
    for process in ["ZnCl2 levels=60 80 unit=g", "water levels=1 4", "zinc-chloride levels=1 2 unit=mol%"] {
        for more in [&["--recipes", "D"][..], &["--mass", "10 g"]] {
            let refused = run(&folder, &[&design[..], &["--process", process], more].concat(), 2);
            assert!(refused.stderr.contains("variable_not_in_recipe"), "{process}: {}", refused.stderr);
            assert!(!folder.path().join("D").exists());
        }
    }
    // Without a recipe a design may count what it likes.
    run(&folder, &[&design[..], &["--process", "ZnCl2 levels=60 80 unit=g"]].concat(), 0);
    let whole = [&design[..], &["--process", "ZnCl2 levels=0.1 0.2 unit=mol/kg", "--recipes", "D"]].concat();
    let shown = run(&folder, &whole, 0).stdout;
    assert!(shown.contains("each ready for plan and batch start"), "{shown}");
    for entry in std::fs::read_dir(folder.path().join("D")).expect("it is there") {
        let text = std::fs::read_to_string(entry.expect("a file").path()).expect("text");
        assert!(text.contains("[[addition]]\ncomponent = \"zinc-chloride\""), "{text}");
    }
    let noted = [&design[..], &["--process", "stirring levels=200 400 unit=rpm", "--recipes", "N"]].concat();
    let shown = run(&folder, &noted, 0).stdout.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(!shown.contains("ready for plan"), "{shown}");
    assert!(shown.contains("stirring (rpm) stands in the note of │ each recipe alone"), "{shown}");
}

/// Eight results of three liquids, alike within 0.005. With four linear coefficients there is nothing to fit; with
/// --alike small enough to tell them apart the old question is asked again. By hand for two parts and a straight line: at
/// 0.2 the results 1.0 and 1.2 (mean fraction 0.201), at 0.8 the results 3.0 and 3.2 (mean 0.799): each pair differs from
/// its mean by ±0.1, so pure error is 4 · 0.01 = 0.04 on 2 degrees of freedom, and so is the error of the line through both
/// means.
#[test]
fn repeats_decide_what_can_be_told() {
    let folder = folder();
    let mut rows = "a,b,c,d,y\n".to_owned();
    for (at, own) in [
        "0.4,0.3,0.2,0.1",
        "0.401,0.299,0.2,0.1",
        "0.4,0.299,0.201,0.1",
        "0.2,0.3,0.4,0.1",
        "0.201,0.3,0.4,0.099",
        "0.1,0.2,0.3,0.4",
        "0.101,0.199,0.3,0.4",
        "0.1,0.201,0.299,0.4",
    ]
    .iter()
    .enumerate()
    {
        rows.push_str(&format!("{own},{}\n", 1.0 + 0.1 * (at % 3) as f64));
    }
    write(folder.path(), "three.csv", rows.as_bytes());
    write(folder.path(), "two.csv", b"a,b,y\n0.2,0.8,1.0\n0.202,0.798,1.2\n0.8,0.2,3.0\n0.798,0.202,3.2\n");
    let fit = |file: &'static str, parts: &'static str| {
        vec!["mixture", "fit", file, "--part", parts, "--value", "y", "--model", "linear", "--seed", "1"]
    };
    let refused = [&fit("three.csv", "a,b,c,d")[..], &["--alike", "0.005"]].concat();
    let answer = found(&folder, &refused, 1);
    assert_eq!((&answer["estimable"], &answer["distinct"]), (&false.into(), &3.into()));
    let shown = run(&folder, &refused, 1).stdout;
    assert!(shown.contains("3 different settings (8 results;"), "{shown}");
    let told = found(&folder, &[&fit("two.csv", "a,b")[..], &["--alike", "0.005"]].concat(), 0);
    let number = |part: &str, key: &str| told[part][key].as_f64().expect("a number");
    assert_relative_eq!(number("lack_of_fit", "ss_pure_error"), 0.04, max_relative = 1e-9);
    assert_relative_eq!(number("anova", "ss_error"), 0.04, max_relative = 1e-9);
    assert_eq!(told["lack_of_fit"]["df_pure_error"], 2);
}

/// Results that are all the same explain nothing and judge nothing.
#[test]
fn a_constant_is_called_one() {
    let folder = folder();
    write(folder.path(), "same.csv", b"a,b,y\n1,0,0.7\n0.5,0.5,0.7\n0,1,0.7\n0.3,0.7,0.7\n0.6,0.4,0.7\n");
    let fit = ["mixture", "fit", "same.csv", "--part", "a,b", "--value", "y", "--seed", "1"];
    let shown = run(&folder, &fit, 0).stdout;
    assert!(shown.contains("All 5 results are the same, 0.7000"), "{shown}");
    let answer = found(&folder, &fit, 0);
    assert!(answer["parameters"].as_array().unwrap().iter().all(|own| own["t"].is_null()), "{answer}");
    assert!(answer["anova"]["r_squared"].is_null());
}

/// A part that was always 0 asks for runs with it, though the results span none.
#[test]
fn runs_beyond_the_results_are_proposed() {
    let folder = folder();
    write(folder.path(), "flat.csv", b"x1,x2,x3,y\n1,0,0,1\n0.5,0.5,0,2\n0,1,0,3\n0.2,0.8,0,2.5\n");
    let fit = [
        "mixture", "fit", "flat.csv", "--part", "x1,x2,x3", "--value", "y", "--model", "linear", "--seed",
        "1",
    ];
    let answer = found(&folder, &fit, 1);
    assert_eq!(answer["next_is_beyond"], true);
    let with = |own: &Value| 0.0 < own["fractions"]["x3"].as_f64().unwrap();
    assert!(answer["next"].as_array().expect("there are some").iter().any(with), "{answer}");
    assert!(run(&folder, &fit, 1).stdout.contains("They lie beyond what the results span"));
}

/// J. A. Cornell's yarn data (tests/fixtures/statistics/mixture) stand at corners and edge middles. There each term
/// x1 x2 (x1 − x2) of the full cubic model is 0, and so is x1 x2 x3: four further runs off these places tell them.
#[test]
fn runs_that_tell_a_cubic_together_are_proposed() {
    let folder = folder();
    write(folder.path(), "yarn.csv", include_bytes!("../../fixtures/statistics/mixture/yarn.csv"));
    let fit = [
        "mixture",
        "fit",
        "yarn.csv",
        "--part",
        "x1,x2,x3",
        "--value",
        "y",
        "--model",
        "full-cubic",
        "--seed",
        "1",
    ];
    let answer = found(&folder, &fit, 1);
    assert_eq!((&answer["estimable"], &answer["next_is_beyond"]), (&false.into(), &false.into()));
    let next = answer["next"].as_array().expect("there are some");
    assert_eq!(next.len(), 4, "{answer}");
    let mut told = include_str!("../../fixtures/statistics/mixture/yarn.csv").to_owned();
    for own in next {
        let x = |name: &str| own["fractions"][name].as_f64().expect("a number").to_string();
        told.push_str(&format!("{},{},{},12\n", x("x1"), x("x2"), x("x3")));
    }
    write(folder.path(), "yarn.csv", told.as_bytes());
    assert_eq!(found(&folder, &fit, 0)["estimable"], true);
}

/// A list with spaces behind its commas is told how to be written, and what is told works; a comma too many is none.
#[test]
fn commas_with_spaces_and_at_the_end() {
    let folder = folder();
    write(folder.path(), "y.csv", b"PE,PS,PP,y\n1,0,0,1\n0,1,0,2\n0,0,1,3\n0.5,0.5,0,1.4\n");
    let more = ["--value", "y", "--model", "linear", "--seed", "1"];
    let fit = ["mixture", "fit", "y.csv", "--part"];
    for spaced in [&["PE,", "PS,", "PP"][..], &["PE", "PS,", "PP,"]] {
        let refused = run(&folder, &[&fit[..], spaced, &more].concat(), 2);
        assert!(refused.stderr.contains("write --part PE,PS,PP"), "{}", refused.stderr);
    }
    let refused = run(&folder, &["mixture", "fit", "--part", "PE,", "PS,", "--value", "y"], 2);
    assert!(refused.stderr.contains("Write --part PE,PS, without"), "{}", refused.stderr);
    for typed in ["PE,PS,PP", "PE,PS,PP,", "PE,,PS,PP"] {
        let answer = found(&folder, &[&fit[..], &[typed], &more].concat(), 0);
        assert_eq!(answer["components"], serde_json::json!(["PE", "PS", "PP"]));
    }
}

/// Nearly everything is not 100 %, two compositions are no two results without a repeat, and a best at the end of what was
/// set is said to lie there: y = 1 + a + T/10 with ±0.01 rises to the hottest.
#[test]
fn words_say_no_more_than_the_numbers() {
    let folder = folder();
    let mut rows = "a,b,T (°C),y\n".to_owned();
    for (a, t) in [(0.0, 20.0), (0.0, 40.0), (1.0, 20.0), (1.0, 40.0)] {
        for off in [-0.01, 0.01] {
            rows.push_str(&format!("{a},{},{t},{}\n", 1.0 - a, 1.0 + a + t / 10.0 + off));
        }
    }
    write(folder.path(), "hot.csv", rows.as_bytes());
    let fit =
        ["mixture", "fit", "hot.csv", "--part", "a,b", "--value", "y", "--model", "linear", "--seed", "1"];
    let squeezed = |more: &[&str]| {
        let shown = run(&folder, &[&fit[..], more].concat(), 0).stdout;
        shown.split_whitespace().collect::<Vec<_>>().join(" ")
    };
    let hot = squeezed(&["--process", "T", "--goal", "max"]);
    assert!(!hot.contains(" 100 %") && !hot.contains("100.0 %"), "{hot}");
    assert!(hot.contains("the maximum lies on a bound, at T 40 °C, the most that was tested"), "{hot}");
    assert!(hot.contains("8 results at 4 times a composition and setting of its own"), "{hot}");
    assert!(!hot.contains("no repeats"), "{hot}");
    assert!(squeezed(&[]).contains("8 results at 2 different compositions"));
    assert!(!squeezed(&["--process", "T", "--goal", "5"]).contains("lies on a bound"));
}

/// The table of a design with a column of results goes back in by the names that were typed; percentages say so in the
/// head.
#[test]
fn an_alias_finds_its_column() {
    let folder = folder();
    let design = ["mixture", "lattice", "ChCl", "urea", "--degree", "2", "--seed", "1", "--format", "csv"];
    let table = run(&folder, &design, 0).stdout;
    let mut filled = String::new();
    for (at, line) in table.lines().enumerate() {
        filled.push_str(&format!("{line},{}\n", if at == 0 { "y".to_owned() } else { at.to_string() }));
    }
    write(folder.path(), "filled.csv", filled.as_bytes());
    write(folder.path(), "percent.csv", b"a (mol%),b (mol%),y\n100,0,1\n50,50,2\n0,100,3\n20,80,2.5\n");
    let fit = |file: &'static str, parts: &'static str| {
        ["mixture", "fit", file, "--part", parts, "--value", "y", "--model", "linear", "--seed", "1"]
    };
    let answer = found(&folder, &fit("filled.csv", "ChCl,urea"), 0);
    assert_eq!(answer["components"], serde_json::json!(["choline-chloride", "urea"]));
    let answer = found(&folder, &fit("percent.csv", "a,b"), 0);
    assert_eq!(answer["results"][0]["fractions"]["a"], 1.0);
}

/// Hints that work: a file of candidates has no --amounts, and a fraction below 0 is said to be one.
#[test]
fn hints_name_what_is_there() {
    let folder = folder();
    write(folder.path(), "list.csv", b"ChCl,urea,water\n5,4,1\n-0.1,0.6,0.5\n");
    let refused = run(
        &folder,
        &["mixture", "optimal", "ChCl", "urea", "water", "--candidates", "list.csv", "--runs", "6"],
        2,
    );
    assert!(!refused.stderr.contains("--amounts"), "{}", refused.stderr);
    assert!(refused.stderr.contains("one of -0.1, 0.6, 0.5 is below 0"), "{}", refused.stderr);
    write(folder.path(), "y.csv", b"a,b,y\n1,0,1\n0,1,2\n");
    let refused =
        run(&folder, &["mixture", "fit", "y.csv", "--part", "a,b", "--value", "y", "--alike", "0.9"], 2);
    assert!(refused.stderr.contains("--alike 0.01"), "{}", refused.stderr);
}

/// Three points, each met by the quadratic model: 10 at no a, 0.2 in the middle, 4 at pure a. By hand y = 10 − 33.2 a +
/// 27.2 a², which is least at a = 33.2/54.4 = 0.610 with 10 − 33.2²/108.8 = −0.131: below what a conductivity can be.
#[test]
fn what_can_not_be_negative_is_remarked_on() {
    let folder = folder();
    let rows = "0,1,10\n0.5,0.5,0.2\n1,0,4\n";
    for head in ["conductivity (mS/cm)", "score"] {
        write(folder.path(), "dips.csv", format!("a,b,{head}\n{rows}").as_bytes());
        let value = head.split(' ').next().expect("a word");
        let fit = ["mixture", "fit", "dips.csv", "--part", "a,b", "--value", value, "--seed", "1"];
        let shown = run(&folder, &fit, 0).stdout.split_whitespace().collect::<Vec<_>>().join(" ");
        let remarked = shown.contains("in the region, and a conductivity is not below 0");
        assert_eq!(remarked, value == "conductivity", "{shown}");
        assert!(!remarked || shown.contains("falls to −0.13"), "{shown}");
    }
    write(folder.path(), "dips.csv", b"a,b,conductivity\n0,1,10\n0.5,0.5,6\n1,0,4\n");
    let fit = ["mixture", "fit", "dips.csv", "--part", "a,b", "--value", "conductivity", "--seed", "1"];
    assert!(!run(&folder, &fit, 0).stdout.contains("not below 0"));
}

/// Six compositions at two temperatures each, as a design that pours two cells of each batch: what batches differ by is the
/// same for both, so no error of single results holds it.
#[test]
fn results_of_one_batch_are_told_from_batches() {
    let folder = folder();
    let mut rows = "batch,vial,a,b,T,y\n".to_owned();
    for (at, (a, off)) in
        [(0.0, 0.3), (0.0, -0.2), (0.5, 0.1), (0.5, -0.3), (1.0, 0.2), (1.0, -0.1)].iter().enumerate()
    {
        for (t, small) in [(20.0, 0.01), (40.0, -0.02)] {
            let y = 1.0 + 2.0 * a + 0.01 * t + off + small * (1.0 + at as f64);
            rows.push_str(&format!("E{0},{0} at {t},{a},{1},{t},{y}\n", at + 1, 1.0 - a));
        }
    }
    write(folder.path(), "split.csv", rows.as_bytes());
    let fit =
        ["mixture", "fit", "split.csv", "--part", "a,b", "--value", "y", "--process", "T", "--seed", "1"];
    let guessed = found(&folder, &fit, 0)["whole_plots"].clone();
    let between = serde_json::json!(["a", "b", "a*b"]);
    assert_eq!((&guessed["column"], &guessed["plots"]), (&serde_json::Value::Null, &3.into()));
    assert_eq!(guessed["terms_between_plots"], between);
    let named = [&fit[..], &["--plot", "batch"]].concat();
    let told = found(&folder, &named, 0)["whole_plots"].clone();
    assert_eq!((&told["column"], &told["plots"], &told["split"]), (&"batch".into(), &6.into(), &6.into()));
    assert_eq!(told["terms_between_plots"], between);
    let shown = run(&folder, &named, 0).stdout.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(
        shown.contains("12 results come from 6 whole plots (batch)") && shown.contains("are too small"),
        "{shown}"
    );
    // Each result with a batch of its own: there is nothing to say.
    let each = [&fit[..], &["--plot", "vial"]].concat();
    assert_eq!(found(&folder, &each, 0)["whole_plots"], serde_json::Value::Null);
}
