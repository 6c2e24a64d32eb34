//! Statements, pictograms and classifications against the tables in `tests/fixtures/hazards`, whose
//! README names the standards.

use std::collections::{BTreeSet, HashMap};
use std::sync::Arc;

use meltbook::caution::{
    ComponentHazard, Context, Scheme, Subject, hazard_codes, pictogram, precaution, precautions, review,
    statement, supplemental_codes,
};
use meltbook::component::{Component, ComponentTable, Hazard};

type Row = HashMap<String, String>;

fn rows(csv: &str) -> Vec<Row> {
    csv::Reader::from_reader(csv.as_bytes()).deserialize().collect::<Result<_, _>>().unwrap()
}

fn h_rows() -> Vec<Row> {
    rows(include_str!("../../fixtures/hazards/h-statements.csv"))
}

fn no_classes() -> Hazard {
    Hazard::none_found("test")
}

fn hazard_of(component: &Arc<Component>) -> ComponentHazard {
    let components = [Arc::clone(component)];
    let subject = Subject { components: &components, ..Subject::default() };
    review(&subject, &Context::default()).components.remove(0)
}

fn codes(text: &str) -> BTreeSet<&str> {
    text.split('+').filter(|code| !code.is_empty()).collect()
}

#[test]
fn no_row_of_the_embedded_tables_is_lost() {
    assert_eq!(hazard_codes().count(), 126);
    assert_eq!(hazard_codes().collect::<BTreeSet<_>>().len(), 113);
    assert_eq!(supplemental_codes().count(), 36);
    assert_eq!(precautions().len(), 169);
    let pictograms = rows(include_str!("../../fixtures/hazards/pictograms.csv"));
    assert_eq!(pictograms.len(), 9);
    for row in pictograms {
        let found = pictogram(&row["code"]).unwrap();
        assert_eq!((&found.symbol, &found.used_for), (&row["symbol"], &row["used_for"]));
    }
}

#[test]
fn h_statements_have_the_text_of_their_scheme() {
    let table = h_rows();
    for row in &table {
        let code = row["code"].as_str();
        let filled =
            |text: &str, other: &str| if text.is_empty() { other.to_owned() } else { text.to_owned() };
        let ghs = filled(&row["text_ghs_rev11"], &row["text_clp"]);
        let clp = filled(&row["text_clp"], &row["text_ghs_rev11"]);
        assert_eq!(statement(code, &no_classes(), Scheme::Ghs).text, ghs, "{code}");
        assert_eq!(statement(code, &no_classes(), Scheme::Hcs).text, ghs, "{code}");
        let in_clp = statement(code, &no_classes(), Scheme::Clp);
        assert_eq!(in_clp.text, clp, "{code}");
        assert_eq!(in_clp.in_scheme, row["in_clp"] == "yes", "{code}");
        let same_code: Vec<&Row> = table.iter().filter(|other| other["code"] == code).collect();
        let pictograms = in_clp.pictograms.join("+");
        let word = in_clp.signal_word.unwrap_or_default();
        let is_a_row = |r: &&Row| r["pictogram"] == pictograms && r["signal_word"] == word;
        assert!(same_code.iter().any(is_a_row), "{code}");
    }
}

#[test]
fn the_category_of_the_component_decides_between_rows() {
    // h-statements.csv: H228 is Danger in category 1 and Warning in category 2; H272 likewise in 2 and 3.
    for (code, class, word) in [
        ("H228", "Flam. Sol. 1", "Danger"),
        ("H228", "Flam. Sol. 2", "Warning"),
        ("H272", "Ox. Sol. 2", "Danger"),
        ("H272", "Ox. Sol. 3", "Warning"),
        ("H261", "Water-react. 3", "Warning"),
    ] {
        let hazard = Hazard { classes: vec![class.to_owned()], ..no_classes() };
        assert_eq!(statement(code, &hazard, Scheme::Ghs).signal_word.as_deref(), Some(word), "{class}");
    }
}

#[test]
fn euh_statements_have_their_text() {
    for row in rows(include_str!("../../fixtures/hazards/euh-statements.csv")) {
        let shown = statement(&row["code"], &no_classes(), Scheme::Clp);
        assert_eq!(shown.text, row["text_clp"], "{}", row["code"]);
        assert_eq!(shown.signal_word.unwrap_or_default(), row["signal_word"], "{}", row["code"]);
    }
}

#[test]
fn p_statements_have_their_text_and_combinations_are_made_of_listed_parts() {
    let fixture = rows(include_str!("../../fixtures/hazards/p-statements.csv"));
    for row in &fixture {
        let found = precaution(&row["code"]).unwrap();
        assert_eq!(found.text, row["text"]);
        assert_eq!(found.is_current(), row["status"] == "current", "{}", row["code"]);
        assert_eq!(found.replaced_by.clone().unwrap_or_default(), row["replaced_by"], "{}", row["code"]);
    }
    for combined in precautions().iter().filter(|p| p.is_current() && p.code.contains('+')) {
        for part in combined.parts() {
            assert!(precaution(part).is_some(), "{}: {part}", combined.code);
        }
    }
}

#[test]
fn every_code_in_the_component_table_has_its_text() {
    let fixture = h_rows();
    let euh: BTreeSet<&str> = supplemental_codes().collect();
    for component in ComponentTable::builtin().iter() {
        for code in &component.hazard.codes {
            let shown = statement(code, &component.hazard, Scheme::Ghs).text;
            let same = |row: &&Row| {
                row["code"] == *code && [&row["text_ghs_rev11"], &row["text_clp"]].contains(&&shown)
            };
            assert!(fixture.iter().any(|row| same(&row)), "{}: {code}", component.id);
        }
        assert!(component.hazard.euh.iter().all(|code| euh.contains(code.as_str())), "{}", component.id);
    }
}

/// The component of a row; where one CAS number has several forms, the form decides.
fn component_of<'t>(table: &'t ComponentTable, row: &Row) -> &'t Arc<Component> {
    let name = match row["id"].as_str() {
        "zinc_powder_stabilised" => "zinc-powder",
        "zinc_powder_pyrophoric" => "zinc-powder-pyrophoric",
        "zinc_sheet" => "zinc",
        "copper_sulfate_5h2o" => "copper-ii-sulfate-pentahydrate",
        "zinc_acetate" => "zinc-acetate-dihydrate",
        "chromium_chloride" => "chromium-iii-chloride-hexahydrate",
        _ => row["cas"].as_str(),
    };
    table.find(name).unwrap_or_else(|error| panic!("{}: {error}", row["id"]))
}

#[test]
fn classifications_hold_what_the_sources_give() {
    let table = ComponentTable::builtin();
    let fixture = rows(include_str!("../../fixtures/hazards/components.csv"));
    assert_eq!(fixture.len(), 48);
    for row in &fixture {
        let component = component_of(&table, row);
        let shown = hazard_of(component);
        let own: BTreeSet<&str> = shown.h_codes.iter().map(String::as_str).collect();
        let harmonised = row["basis"] == "harmonised";
        if harmonised || matches!(row["confidence"].as_str(), "high" | "medium") {
            let wanted = codes(&row["h_codes"]);
            assert!(wanted.is_subset(&own), "{}: {wanted:?} {own:?}", row["id"]);
            // The label elements follow from the codes, so they must agree where the codes do.
            if wanted == own {
                let pictograms: BTreeSet<&str> = shown.pictograms.iter().map(String::as_str).collect();
                assert_eq!(pictograms, codes(&row["pictograms"]), "{}", row["id"]);
                assert_eq!(shown.signal_word.unwrap_or_default(), row["signal_word"], "{}", row["id"]);
            }
        }
        if harmonised {
            assert_eq!(shown.basis, "harmonised", "{}", row["id"]);
            assert_eq!(shown.index_no.as_deref(), Some(row["index_no"].as_str()), "{}", row["id"]);
        }
    }
}
