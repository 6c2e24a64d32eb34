//! `plan`: every worked recipe at 50 g, and what else a plan can be asked.

use meltbook::recipe::WORKED_RECIPES;

use crate::golden;
use crate::run::{answer, line, run};

/// The size of every worked recipe here.
const SIZE: [&str; 2] = ["--mass", "50 g"];

#[test]
fn every_worked_recipe_is_planned() {
    let mut plans = Vec::new();
    for (name, _) in WORKED_RECIPES {
        for (format, ending) in [("table", "txt"), ("json", "json")] {
            let arguments = ["plan", name, SIZE[0], SIZE[1], "--format", format];
            let run = run(&arguments);
            assert_eq!((run.code, run.stderr.as_str()), (0, ""), "{}", line(&arguments));
            plans.push((format!("recipes/{name}.{ending}"), run.stdout));
        }
    }
    golden::check_all(&plans);
    let names: Vec<String> = plans.into_iter().map(|(name, _)| name).collect();
    golden::nothing_else_in("recipes", &names);
}

/// A bottle with assay and moisture, a hydrate, an addition, water and a balance, in every format.
const FULL: [&str; 12] = [
    "plan",
    "ChCl:urea 1:2 + 0.3 mol/kg ZnSO4 to 10 wt% water",
    "--mass",
    "50 g",
    "--bottle",
    "ChCl assay=98..100% basis=dried moisture=1.5%",
    "--bottle",
    "ZnSO4 form=heptahydrate assay=99% basis=as-hydrate",
    "--balance",
    "d=0.001g repeatability=0.001g linearity=0.002g",
    "--why",
    "--minimum-weight",
];

#[test]
fn a_full_plan_in_every_format() {
    let formats = [("table", "txt"), ("json", "json"), ("csv", "csv"), ("markdown", "md"), ("html", "html")];
    let plans: Vec<(String, String)> = formats
        .iter()
        .map(|(format, ending)| {
            let mut arguments = FULL.to_vec();
            arguments.extend(["--format", *format]);
            (format!("cli/plan-full.{ending}"), answer(&arguments, 0))
        })
        .collect();
    golden::check_all(&plans);
}

#[test]
fn real_masses_re_target_the_rest() {
    let arguments = ["plan", "ChCl:EG 1:2", "--mass", "60 g", "--weighed", "ChCl 32.48g"];
    golden::check("cli/plan-weighed.txt", &answer(&arguments, 0));
    let accepting = ["plan", "ChCl:EG 1:2", "--mass", "60 g", "--weighed", "ChCl 32.48g", "--accept-ratio"];
    golden::check("cli/plan-accepted.txt", &answer(&accepting, 1));
}

#[test]
fn stock_gives_the_largest_batch() {
    let arguments = ["plan", "ChCl:urea 1:2", "--have", "ChCl 12,4g", "--have", "urea 100 g"];
    golden::check("cli/plan-stock.txt", &answer(&arguments, 0));
}

/// The answer is no where a recipe can't be met, and the whole plan is there all the same.
#[test]
fn a_no_is_an_answer() {
    let too_wet = ["plan", "ChCl:urea 1:2 to 1 wt% water", "--mass", "50 g", "--bottle", "ChCl moisture=6%"];
    let too_little = ["plan", "ChCl:urea 1:2", "--mass", "50 g", "--have", "ChCl 12.4g"];
    let plans = [("cli/plan-too-wet.txt", &too_wet[..]), ("cli/plan-too-little.txt", &too_little[..])];
    for (name, arguments) in plans {
        golden::check(name, &answer(arguments, 1));
    }
}

/// A window too narrow, a density of the recipe's own, a temperature without density, a hydrate that is not in
/// the table, what a bottle does not state: each is said.
#[test]
fn nothing_is_taken_silently() {
    let says = |arguments: &[&str], told: &[&str]| {
        let mut all = vec!["plan"];
        all.extend(arguments);
        let flat = answer(&all, 0).split_whitespace().collect::<Vec<_>>().join(" ").replace(" │ ", " ");
        told.iter().for_each(|told| assert!(flat.contains(told), "{told:?} is missing in {flat}"));
    };
    says(
        &["choline-chloride-urea-zinc-sulfate", "--mass", "50 g"],
        &["mol/L is reckoned with the recipe's own density of the solution, 1.25 g/mL"],
    );
    says(
        &["ChCl:EG 1:2", "--mass", "60 g", "--at", "80 °C"],
        &["no volume is given of ethylene glycol: no density is known at 80 °C"],
    );
    says(
        &["ZnCl2:EG 1:4", "--mass", "60 g", "--bottle", "ZnCl2 form=7H2O"],
        &[
            "form=7H2O; check the bottle",
            "assay not stated, taken as pure",
            "moisture not stated, taken as none",
        ],
    );
    says(&["ChCl:urea 1:2", "--mass", "60 g", "--bottle", "ChCl moisture=1%"], &["assay not stated"]);
}

#[test]
fn weight_is_read_as_mass() {
    let by = |words: &str| {
        answer(&["plan", &format!("MnO2:graphite 97:3 {words}"), "--mass", "40 g", "--format", "csv"], 0)
    };
    assert_eq!(by("by weight"), by("by mass"));
    assert!(by("by weight").contains("38.800"));
}

/// The shares of a budget add up, the covariance of neighbours being one of them.
#[test]
fn a_covariance_is_a_line_of_the_budget() {
    let arguments = ["plan", "ChCl:EG 1:2", "--mass", "60 g", "--balance", "d=0.01g", "--cumulative"];
    let mut all = arguments.to_vec();
    all.push("--why");
    let text = answer(&all, 0);
    assert!(text.contains("covariance"), "{text}");
    let ratio = &crate::run::json(&arguments, 0)["ratio_uncertainty"][0];
    let percent = |key: &str| -> f64 {
        ratio[key].as_array().unwrap().iter().map(|each| each["percent_of_variance"].as_f64().unwrap()).sum()
    };
    // Two readings of a display of d, of which one is shared, correlate by −d²/12.
    let covariance = ratio["covariances"][0]["covariance_g2"].as_f64().unwrap();
    assert!((covariance + 0.01f64.powi(2) / 12.0).abs() < 1e-15, "{covariance}");
    assert!(0.0 < percent("covariances"), "opposite sensitivities make it a gain");
    assert!((percent("contributions") + percent("covariances") - 100.0).abs() < 1e-9);
}

/// All faults of a call come at once.
#[test]
fn faults_of_several_flags_come_together() {
    let told = |arguments: &[&str]| {
        let run = run(arguments);
        assert_eq!(run.code, 2, "{}", line(arguments));
        run.stderr
    };
    let told_of_bottle = told(&[
        "plan",
        "ChCl:urea 1:2",
        "--mass",
        "50 g",
        "--bottle",
        "Chxl basis=wet moisture=120% asay=3%",
    ]);
    for code in ["unknown_component", "bad_basis", "bad_quality", "unknown_key"] {
        assert!(told_of_bottle.contains(code), "{code} in {told_of_bottle}");
    }
    let flags =
        ["plan", "ChCl:urea 1:2", "--mass", "50 g", "--weighed", "glycerol 20 g", "--have", "thymol 3 g"];
    assert_eq!(told(&flags).matches("not_in_recipe").count(), 2);
    let volume = told(&["plan", "ChCl:urea 1:2", "--volume", "25 mL"]);
    assert!(volume.contains("--volume \"25 mL\""), "{volume}");
}

/// 5.5 % of moisture are 5.5 wt% of water: what the arithmetic rounds off is neither water to add nor to dry off.
#[test]
fn water_that_is_there_already_is_no_line() {
    for moisture in ["5.5%", "2%", "0.7%"] {
        let recipe = format!("erythritol 1 by mass to {} wt% water", moisture.trim_end_matches('%'));
        let bottle = format!("erythritol assay=86.039% basis=dried moisture={moisture}");
        let arguments = ["plan", &recipe, "--mass", "37.3 g", "--bottle", &bottle];
        let plan = crate::run::json(&arguments, 0);
        let lines = plan["lines"].as_array().unwrap();
        assert_eq!(lines.len(), 1, "{moisture}: {plan}");
        approx::assert_relative_eq!(lines[0]["weigh_g"].as_f64().unwrap(), 37.3, max_relative = 1e-12);
    }
}
