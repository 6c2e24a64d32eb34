//! `cautions`.

use crate::golden;
use crate::run::answer;

#[test]
fn cautions_of_components_and_of_a_recipe() {
    let goldens = [
        ("cli/cautions-components.txt", &["cautions", "ChCl", "oxalic-acid"][..]),
        ("cli/cautions-recipe.txt", &["cautions", "ChCl:urea 1:2", "--heat", "90 °C", "--for", "2 h"]),
        ("cli/cautions-mixture.txt", &["cautions", "ChCl:EG 1:2 + 0.5 mol/kg ZnCl2", "--scheme", "clp"]),
        (
            "cli/cautions-mixture.html",
            &["cautions", "ChCl:phenol 1:3", "--scheme", "clp", "--format", "html"],
        ),
        ("cli/cautions-mixture.md", &["cautions", "ChCl:oxalic-acid 1:1", "--format", "markdown"]),
        (
            "cli/cautions-mixture.json",
            &["cautions", "ChCl:EG 1:2 + 0.5 mol/kg ZnCl2", "--scheme", "clp", "--format", "json"],
        ),
        (
            "cli/cautions-cell.json",
            &["cautions", "ChCl:EG 1:2", "--with", "zinc", "--cell", "--sealed", "--format", "json"],
        ),
    ];
    let answers: Vec<(String, String)> =
        goldens.iter().map(|(name, arguments)| ((*name).to_owned(), answer(arguments, 0))).collect();
    golden::check_all(&answers);
}

/// No output blesses anything, and each defers.
#[test]
fn no_answer_blesses() {
    for subject in
        ["urea", "water", "glycerol", "ChCl:urea 1:2", "menthol-thymol-1-1", "ChCl:EG 1:2 + 0.5 mol/kg ZnCl2"]
    {
        let text = answer(&["cautions", subject], 0);
        assert!(text.contains("safety data sheet"), "{subject}");
        for blessing in ["is safe", "are safe", "harmless", "no hazard\n", "approved"] {
            assert!(!text.contains(blessing), "{subject}: {blessing}");
        }
    }
}
