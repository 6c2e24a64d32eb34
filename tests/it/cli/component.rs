//! `component` and `recipe`: what the program knows.

use crate::golden;
use crate::run::{answer, folder, run_in, write};

#[test]
fn components_are_listed_and_shown() {
    let goldens = [
        ("cli/component-list.txt", &["component", "list"][..]),
        ("cli/component-list-binder.csv", &["component", "list", "--role", "binder", "--format", "csv"]),
        ("cli/component-list-zinc.txt", &["component", "list", "zinc"]),
        ("cli/component-show.txt", &["component", "show", "ChCl", "ZnSO4"]),
        ("cli/component-show.json", &["component", "show", "oxalic-acid", "--format", "json"]),
        ("cli/recipe-list.txt", &["recipe", "list"]),
        ("cli/recipe-show.txt", &["recipe", "show", "zinc-chloride-urea"]),
    ];
    let answers: Vec<(String, String)> =
        goldens.iter().map(|(name, arguments)| ((*name).to_owned(), answer(arguments, 0))).collect();
    golden::check_all(&answers);
}

const OWN: &str = "\
[[component]]
id = \"own-salt\"
name = \"own salt\"
aliases = [\"OS\"]
roles = [\"salt\"]
formula = \"NaBr\"
identity = \"the bottle's label\"
";

#[test]
fn a_table_of_ones_own_is_checked_and_used() {
    let folder = folder();
    write(folder.path(), "own.toml", OWN.as_bytes());
    let check = run_in(folder.path(), &["component", "check", "own.toml"]);
    assert_eq!((check.code, check.stderr.as_str()), (0, ""));
    golden::check("cli/component-check.txt", &check.stdout);
    let plan = ["plan", "OS:glycerol 1:6", "--mass", "20 g", "--components", "own.toml"];
    let planned = run_in(folder.path(), &plan);
    assert_eq!((planned.code, planned.stderr.as_str()), (0, ""));
    assert!(planned.stdout.contains("own-salt"), "{}", planned.stdout);
}

/// A recipe's text is given out as it is, so that it can be started from.
#[test]
fn a_recipe_is_given_out_as_it_is() {
    let text = answer(&["recipe", "show", "zinc-chloride-urea", "--text"], 0);
    let (_, kept) = meltbook::recipe::WORKED_RECIPES
        .iter()
        .find(|(name, _)| *name == "zinc-chloride-urea")
        .expect("it is there");
    assert_eq!(text, *kept);
}
