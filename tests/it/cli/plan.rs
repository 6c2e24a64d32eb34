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
