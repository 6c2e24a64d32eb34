//! Labels for the tests. Hazards are those of the component table; the rest is invented.

use std::sync::Arc;

use meltbook::caution::{Context, Scheme, Severity, Subject, WayPast, materials, review};
use meltbook::component::Component;
use meltbook::report::label::{
    Against, AgainstUse, LabelAlert, LabelContent, LabelHazards, LabelStatement, Package, SignalWord,
};
use proptest::prelude::*;

use crate::render::sample::any_text;
use crate::setup::table;

/// Hazards of components by their names.
pub fn hazards(names: &[&str]) -> LabelHazards {
    hazards_in(names, Scheme::Ghs, 20.0)
}

/// All names of the table.
pub fn component_names() -> Vec<String> {
    table().iter().map(|component| component.id.to_string()).collect()
}

/// The same by a scheme, for a package of this capacity.
pub fn hazards_in(names: &[&str], scheme: Scheme, capacity_ml: f64) -> LabelHazards {
    let components: Vec<Arc<Component>> =
        names.iter().map(|name| table().find(name).unwrap().clone()).collect();
    let subject = Subject { components: &components, ..Subject::default() };
    let package = Package { capacity_ml, from: format!("{capacity_ml} mL, as stated") };
    LabelHazards::of(&review(&subject, &Context { scheme, ..Context::default() }), package)
}

/// A vial, as someone states it.
fn vial() -> Package {
    Package { capacity_ml: 20.0, from: "20 mL, as stated".to_owned() }
}

/// An electrolyte with a corrosive salt.
pub fn corrosive() -> LabelContent {
    LabelContent::new("E7", "ChCl:EG 1:2 + 0.5 mol/kg ZnCl2")
        .composition(
            "choline chloride 44.7 wt%, ethylene glycol 49.5 wt%, zinc chloride 5.8 wt%; water 1.9 wt%",
        )
        .made("made", "2025-11-02")
        .use_by("2026-05-02")
        .hazards(hazards(&["ChCl", "ethylene-glycol", "zinc-chloride"]))
        .who("kl")
        .storage("closed, dry, below 25 °C")
        .note("turbid at first, clear after 2 h")
}

/// A bottle of which no statement is known.
pub fn quiet() -> LabelContent {
    LabelContent::new("B12", "glycerol")
        .made("received", "2025-10-20")
        .use_by("2027-10")
        .hazards(hazards(&["glycerol"]))
        .who("kl")
        .storage("dry")
}

/// A cell.
pub fn cell() -> LabelContent {
    LabelContent::new("C145", "zinc cell, open; E7")
        .made("built", "2025-11-09")
        .hazards(hazards(&["zinc-chloride", "manganese-dioxide", "graphite"]))
        .who("kl")
}

/// With the words of everything that the labels can say.
pub fn gallery() -> Vec<LabelContent> {
    vec![
        corrosive(),
        quiet(),
        cell(),
        LabelContent::new("S1", "thymol in ChCl:glycerol 1:2, 1 wt%")
            .made("made", "2025-11-03")
            .hazards(hazards(&["thymol", "ChCl", "glycerol"])),
        LabelContent::new(
            "C12345",
            "a name as long as no label can hold it, of an electrolyte with seven components and an opinion",
        )
        .hazards(everything()),
        LabelContent::new("M3", "dry cell mix"),
    ]
}

/// All components of the table and all other materials at once: more than any label holds.
pub fn everything() -> LabelHazards {
    let components: Vec<Arc<Component>> = table().iter().cloned().collect();
    let others: Vec<_> = materials().to_vec();
    let subject = Subject { components: &components, materials: &others, composition: None };
    LabelHazards::of(&review(&subject, &Context::default()), vial())
}

fn any_hazards() -> impl Strategy<Value = LabelHazards> {
    let signal_word =
        prop_oneof![Just(None), Just(Some(SignalWord::Warning)), Just(Some(SignalWord::Danger))];
    let statement = || {
        (any_text(), any_text(), any::<bool>()).prop_map(|(code, text, spared)| LabelStatement {
            code,
            text,
            spared,
        })
    };
    let statements = move || proptest::collection::vec(statement(), 0..8);
    let texts = || proptest::collection::vec(any_text(), 0..6);
    let alert = (any_text(), any_text()).prop_map(|(title, message)| LabelAlert {
        severity: Severity::Block,
        way_past: WayPast::ProcedureAndPerson,
        title,
        message,
    });
    let alerts = proptest::collection::vec(alert, 0..3);
    let stated = (signal_word, texts(), statements(), statements(), alerts);
    (stated, texts(), texts(), any::<bool>()).prop_map(
        |(
            (signal_word, pictograms, statements, precautions, alerts),
            supplements,
            not_known,
            of_components,
        )| {
            // The rule of a real label, since it decides on the fold-out.
            let rule = hazards(&["zinc-chloride"]).rule;
            LabelHazards {
                signal_word,
                pictograms,
                statements,
                precautions,
                supplements,
                contains: Vec::new(),
                alerts,
                not_known,
                of_components,
                rule,
            }
        },
    )
}

/// A label of any texts under a code of letters and digits.
pub fn any_label() -> impl Strategy<Value = LabelContent> {
    let text = || proptest::option::of(any_text());
    let long = "[a-zA-Z0-9 ]{0,200}";
    let name = prop_oneof![any_text(), long.prop_map(String::from)];
    let dated = proptest::option::of((any_text(), any_text()));
    let code = "[BESMC][1-9][0-9]{0,5}";
    let against = proptest::option::of((0..AgainstUse::ALL.len(), text()))
        .prop_map(|chosen| chosen.map(|(what, why)| Against { what: AgainstUse::ALL[what], why }));
    let what = (code, name, text(), text(), dated, against);
    (what, (text(), any_hazards(), text(), text(), text())).prop_map(
        |(
            (code, name, composition, composition_in_short, dated, against),
            (use_by, hazards, who, storage, note),
        )| LabelContent {
            code,
            name,
            composition,
            composition_in_short,
            against,
            dated,
            use_by,
            hazards,
            who,
            storage,
            note,
            ..LabelContent::default()
        },
    )
}
