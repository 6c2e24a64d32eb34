//! Label content against `label-rules.toml`: CLP Article 26 and Annex I 1.2.1 (read), 29 CFR 1910.1200(f) (read in
//! summaries), laboratory practice (from memory).

use std::collections::BTreeSet;

use meltbook::caution::{
    Context, LabelContent, Placed, Scheme, Statement, Subject, label_content, label_size, review,
    shown_pictograms, statement,
};
use meltbook::component::Hazard;
use toml::Value;

use super::mixture_worked::{composition, table};

fn rules() -> toml::Table {
    toml::from_str(include_str!("../../fixtures/hazards/label-rules.toml")).unwrap()
}

fn number(value: &Value) -> f64 {
    value.as_float().or(value.as_integer().map(|whole| whole as f64)).unwrap()
}

/// The row of Table 1.3 for a capacity in litres.
fn row(litres: f64) -> Value {
    let rows = rules()["label_size"].as_array().unwrap().clone();
    let fits = |row: &Value| row.get("capacity_litres_upto").is_none_or(|upto| litres <= number(upto));
    rows.into_iter().find(fits).unwrap()
}

#[test]
fn a_bottle_gets_the_row_of_its_capacity() {
    for litres in [0.05, 3.0, 5.0, 60.0, 500.0, 501.0] {
        let (size, row) = (label_size(1000.0 * litres).unwrap(), row(litres));
        let side = |key: &str, at: usize| number(&row[key][at]);
        assert_eq!(size.label_mm.map(f64::from), [side("label_mm", 0), side("label_mm", 1)], "{litres} L");
        assert_eq!(f64::from(size.pictogram_mm), side("pictogram_min_mm", 0), "{litres} L");
        let area = size.label_mm.map(f64::from);
        assert!(size.pictogram_area_mm2 >= 100.0 && size.pictogram_area_mm2 >= area[0] * area[1] / 15.0);
    }
    assert_eq!(label_size(50.0).unwrap().pictogram_if_possible_mm, Some(16));
}

fn statements(codes: &[&str]) -> Vec<Statement> {
    codes.iter().map(|code| statement(code, &Hazard::none_found("test"), Scheme::Clp)).collect()
}

#[test]
fn pictograms_give_way_by_article_26() {
    let shown = |codes: &[&str]| shown_pictograms(&statements(codes));
    assert_eq!(shown(&["H301", "H315"]), ["GHS06"]);
    assert_eq!(shown(&["H314", "H315"]), ["GHS05"]);
    assert_eq!(shown(&["H314", "H302"]), ["GHS05", "GHS07"]);
    assert_eq!(shown(&["H334", "H317", "H319"]), ["GHS08"]);
    assert_eq!(shown(&["H334", "H302"]), ["GHS07", "GHS08"]);
}

fn label(parts: &[(&str, f64)], capacity_ml: f64, scheme: Scheme) -> LabelContent {
    let composition = composition(&table(), parts);
    let subject = Subject { composition: Some(&composition), ..Subject::default() };
    label_content(&review(&subject, &Context { scheme, ..Context::default() }), capacity_ml)
}

const ZINC: &[(&str, f64)] =
    &[("zinc chloride", 10.0), ("choline chloride", 47.0), ("ethylene glycol", 43.0)];

fn on_package(label: &LabelContent) -> BTreeSet<&str> {
    let here = label.elements.iter().filter(|element| element.placed == Placed::OnPackage);
    here.map(|element| element.id.as_str()).collect()
}

#[test]
fn a_large_bottle_carries_everything() {
    for scheme in [Scheme::Clp, Scheme::Ghs, Scheme::Hcs] {
        let label = label(ZINC, 500.0, scheme);
        assert!(label.reduced.is_none() && label.pointer.is_none(), "{scheme:?}");
        let here = on_package(&label);
        for id in ["name", "pictograms", "signal_word", "hazard_statements", "precautions", "who"] {
            assert!(here.contains(id), "{scheme:?} {id}");
        }
    }
}

/// [hcs_f] small_container_f12: up to 100 mL and up to 3 mL, with the outer package carrying the rest.
#[test]
fn a_small_vial_carries_what_its_scheme_allows_and_points_to_the_rest() {
    let rows = rules()["hcs_f"]["small_container_f12"].as_array().unwrap().clone();
    let limits: Vec<f64> = rows.iter().map(|row| number(&row["up_to_ml"])).collect();
    assert_eq!(limits, [100.0, 3.0]);
    let hundred = label(ZINC, 100.0, Scheme::Hcs);
    assert_eq!(on_package(&hundred), BTreeSet::from(["name", "pictograms", "signal_word", "who"]));
    assert!(hundred.pointer.is_some() && hundred.reduced.as_ref().unwrap().contains("not feasible"));
    assert!(label(ZINC, 101.0, Scheme::Hcs).reduced.is_none());
    assert_eq!(on_package(&label(ZINC, 3.0, Scheme::Hcs)), BTreeSet::from(["name"]));
    // Nothing is lost: what is not on the package stands elsewhere.
    let elsewhere = hundred.elements.iter().filter(|element| element.placed == Placed::ElsewhereAllowed);
    assert!(elsewhere.flat_map(|element| &element.content).any(|line| line.code.as_deref() == Some("H314")));
}

/// CLP Annex I 1.5.2.1 (from memory): statements of lesser classes may go, those of corrosives stay.
#[test]
fn a_small_package_under_clp_keeps_the_graver_statements() {
    let small = label(ZINC, 50.0, Scheme::Clp);
    let codes = |placed: Placed| -> BTreeSet<String> {
        let there = small.elements.iter().filter(|e| e.placed == placed && e.id == "hazard_statements");
        there.flat_map(|element| &element.content).filter_map(|line| line.code.clone()).collect()
    };
    assert_eq!(codes(Placed::OnPackage), BTreeSet::from(["H314".to_owned()]));
    let gone: BTreeSet<String> = ["H302", "H335", "H411"].map(str::to_owned).into();
    assert_eq!(codes(Placed::ElsewhereAllowed), gone);
}

#[test]
fn covered_statements_are_left_out_and_named() {
    let rules = rules();
    for rule in rules["statement_omission"].as_array().unwrap() {
        let (keep, omit) = (rule["keep"].as_str().unwrap(), rule["omit"].as_str().unwrap());
        if !keep.starts_with('H') {
            continue;
        }
        for omit in
            omit.split(['(', ',']).map(str::trim).filter(|word| word.starts_with('H') && word.len() == 4)
        {
            let component = meltbook::component::Component {
                hazard: Hazard {
                    basis: meltbook::component::HazardBasis::Supplier,
                    codes: vec![keep.to_owned(), omit.to_owned()],
                    ..Hazard::none_found("test")
                },
                ..(**table().find("urea").unwrap()).clone()
            };
            let components = [std::sync::Arc::new(component)];
            let subject = Subject { components: &components, ..Subject::default() };
            let label = label_content(&review(&subject, &Context::default()), 500.0);
            let covered: Vec<(&str, &str)> =
                label.omitted.iter().map(|o| (o.code.as_str(), o.covered_by.as_str())).collect();
            assert_eq!(covered, [(omit, keep)]);
        }
    }
}

#[test]
fn precautions_are_six_at_most_and_current() {
    let most = rules()["clp_article_17"]["ordinary_max_precautionary_statements"].as_integer().unwrap();
    let label = label(ZINC, 500.0, Scheme::Clp);
    let shown = label.elements.iter().find(|element| element.id == "precautions").unwrap();
    assert_eq!(shown.content.len() as i64, most);
    assert!(!label.further_precautions.is_empty());
    for line in shown.content.iter().chain(&label.further_precautions) {
        let code = line.code.as_deref().unwrap();
        assert!(meltbook::caution::precaution(code).unwrap().is_current(), "{code}");
        assert!(code != "P261", "P260 covers it");
    }
    // The corrosive class comes first: eyes, skin and swallowing are among the six.
    let codes: Vec<&str> = shown.content.iter().filter_map(|line| line.code.as_deref()).collect();
    assert!(codes.contains(&"P280") && codes.contains(&"P305+P354+P338"), "{codes:?}");
}

#[test]
fn a_bench_bottle_carries_what_practice_asks_for() {
    let label = label(ZINC, 500.0, Scheme::Ghs);
    let practice = &rules()["secondary_bottle_practice"];
    assert_eq!(label.bench_must.len(), practice["required"].as_array().unwrap().len());
    assert_eq!(label.bench_advised.len(), practice["recommended"].as_array().unwrap().len());
    assert_eq!(label.never.len(), practice["never"].as_array().unwrap().len());
}

/// GHS chapters 2.13 and 2.14: oxidising mixtures are classed by a test, so that no sum rules H271 out (from memory).
#[test]
fn what_only_a_test_could_rule_out_stays_on_the_label() {
    let parts = [("ChCl", 49.9), ("ethylene glycol", 44.3), ("sodium perchlorate", 5.8)];
    let label = label(&parts, 500.0, Scheme::Clp);
    let said: Vec<String> = label.lines("hazard_statements").map(ToString::to_string).collect();
    assert!(said[0].starts_with("H271") && said[0].contains("the mixture is not tested"), "{said:?}");
    assert!(label.lines("signal_word").any(|line| line.text == "Danger"));
    assert!(label.lines("pictograms").any(|line| line.text == "GHS03"));
    assert!(label.lines("precautions").any(|line| line.code.as_deref() == Some("P210")));
}

/// A code of the component table without a precautionary statement would leave a label without advice.
#[test]
fn every_statement_of_the_table_has_a_precaution() {
    for component in table().iter() {
        let components = [std::sync::Arc::clone(component)];
        let subject = Subject { components: &components, ..Subject::default() };
        let label = label_content(&review(&subject, &Context::default()), 500.0);
        let stated = label.lines("hazard_statements").count();
        assert_eq!(0 < stated, 0 < label.lines("precautions").count(), "{}", component.id);
    }
}
