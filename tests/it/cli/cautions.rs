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

/// "Add it to the water" is said where there is water, and of what dissolves hot in it.
#[test]
fn portions_into_water_only_where_there_is_water() {
    let told =
        |subject: &str| answer(&["cautions", subject], 0).contains("small portions, stirred and cooled");
    assert!(told("ZnCl2:water 1:9 by mass"));
    assert!(told("ChCl:glycerol 1:2 + 0.5 mol/kg ZnCl2 to 5 wt% water"));
    assert!(!told("ZnCl2:EG 1:4"), "no water");
    assert!(!told("ChCl:glycerol 1:2 to 5 wt% water"), "choline chloride dissolves cold");
}

/// A table for programs: an alert, a statement and a gap, each in a row with its source.
#[test]
fn cautions_as_a_table() {
    let csv =
        answer(&["cautions", "ChCl:oxalic-acid 1:1", "--with", "MnO2", "--sealed", "--format", "csv"], 0);
    let mut reader = csv::Reader::from_reader(csv.as_bytes());
    assert_eq!(
        reader.headers().unwrap(),
        vec!["kind", "severity", "code", "about", "text", "way_past", "source"]
    );
    let rows: Vec<csv::StringRecord> = reader.records().map(Result::unwrap).collect();
    assert_eq!((&rows[0][0], &rows[0][1], &rows[0][2]), ("alert", "block", "MNO2-RED"));
    assert!(rows.iter().any(|row| &row[0] == "statement" && &row[2] == "H302" && &row[3] == "oxalic acid"));
    assert!(rows.iter().any(|row| &row[0] == "no data" && &row[3] == "choline chloride"));
    assert!(rows.iter().all(|row| !row[6].is_empty()), "{csv}");
}

/// How long without how hot is not passed over.
#[test]
fn a_time_without_a_temperature_is_told() {
    let text = answer(&["cautions", "ChCl:EG 1:2", "--for", "90 minutes"], 0);
    assert!(text.contains("nothing says how hot"), "{text}");
    assert!(!answer(&["cautions", "ChCl:EG 1:2", "--for", "1 hr", "--heat", "60 °C"], 0).contains("how hot"));
}
